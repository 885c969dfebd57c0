"""Loads the service for a long time at a part of what it can do, with all kinds of calls, and watches its memory.

    python tests/bench/soak.py [minutes] [share]        20 minutes at 0.7 of the capacity

The served process on the first core, callers on the last. Capacity is what it answers when each caller asks again at
once. Then requests come at a steady rate, whether or not those before them are answered; a latency counts from when a
request was due. Memory is read once a second, the first quarter of the time is for warming up, and a line is fitted to
the rest. Exits 1 where memory of its own grows by 1 MB in 10 minutes or more (pages of files come and go with what else
the machine does), or an answer isn't what it has to be.
"""

from __future__ import annotations

import asyncio
import os
import random
import statistics
import sys
import tempfile
import time
from collections import Counter, defaultdict
from pathlib import Path
from typing import NamedTuple

import uvloop

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.mix import KEY, Call, Mix
from tests.faults.served import Served, served

from jambset.http.keys import entry_of

CALLERS = 32
CAPACITY_SECONDS = 15
WARM = 0.25
"""Of the time, how much is left out of the fit."""
MOST_GROWTH = 1.0
"""MB in 10 minutes."""
TEN_MINUTES = 600
CORES = sorted(os.sched_getaffinity(0))


class Sample(NamedTuple):
    """What the process holds: resident memory, and of it what is no file's [MB]; open files."""

    seconds: float
    resident: float
    own: float
    files: int


class Load:
    """Callers with a connection each, and how they were answered."""

    def __init__(self, service: Served, mix: Mix) -> None:
        self._port, self._mix = service.port, mix
        self.seconds: dict[str, list[float]] = defaultdict(list)
        self.faults: Counter[str] = Counter()

    async def at_once(self, seconds: float) -> float:
        """Each caller asks again as soon as it is answered: calls a second."""
        end, before = time.perf_counter() + seconds, self.count
        start = time.perf_counter()

        async def caller() -> None:
            connection = Connection(self._port)
            while (now := time.perf_counter()) < end:
                await self._ask(connection, self._mix.call(), now)
            connection.close()

        async with asyncio.TaskGroup() as group:
            for _ in range(CALLERS):
                group.create_task(caller())
        return (self.count - before) / (time.perf_counter() - start)

    async def steadily(self, seconds: float, rate: float) -> None:
        """Calls come at a rate [1/s] and wait for a caller who is free."""
        due: asyncio.Queue[tuple[Call, float] | None] = asyncio.Queue()

        async def caller() -> None:
            connection = Connection(self._port)
            while (each := await due.get()) is not None:
                await self._ask(connection, *each)
            connection.close()

        async with asyncio.TaskGroup() as group:
            for _ in range(CALLERS):
                group.create_task(caller())
            start = time.perf_counter()
            for number in range(round(seconds * rate)):
                if (wait := start + number / rate - time.perf_counter()) > 0:
                    await asyncio.sleep(wait)
                due.put_nowait((self._mix.call(), start + number / rate))
            for _ in range(CALLERS):
                due.put_nowait(None)

    async def _ask(self, connection: Connection, call: Call, due: float) -> None:
        try:
            fault = call.fault(await connection.ask(call))
        except (OSError, asyncio.IncompleteReadError, ValueError) as raised:
            fault = type(raised).__name__
            connection.close()
        if fault:
            self.faults[f"{call.kind}: {fault}"] += 1
        self.seconds[call.kind].append(time.perf_counter() - due)

    @property
    def count(self) -> int:
        """Calls so far."""
        return sum(map(len, self.seconds.values()))


class Connection:
    """One caller's connection, opened anew where it was ended."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._open: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None

    async def ask(self, call: Call) -> tuple[int, bytes]:
        """The status and the body; 0 where nothing is to come."""
        reader, writer = self._open or await asyncio.open_connection("127.0.0.1", self._port, limit=1_048_576)
        self._open = (reader, writer)
        writer.write(call.request)
        if not call.status:  # a caller that goes away
            self.close()
            return 0, b""
        head = (await reader.readuntil(b"\r\n\r\n")).lower()
        length = head.partition(b"\r\ncontent-length: ")[2].partition(b"\r\n")[0]
        body = await reader.readexactly(int(length)) if length else await _chunks(reader)
        if b"\r\nconnection: close\r\n" in head:
            self.close()
        return int(head[9:12]), body

    def close(self) -> None:
        """End it."""
        if self._open:
            self._open[1].close()
        self._open = None


async def _chunks(reader: asyncio.StreamReader) -> bytes:
    got = []
    while size := int(await reader.readuntil(b"\r\n"), 16):
        got.append((await reader.readexactly(size + 2))[:-2])
    await reader.readexactly(2)
    return b"".join(got)


# --- what is watched


def sample(process: int, start: float) -> Sample:
    """The process now."""
    folder = Path(f"/proc/{process}")
    rows = (line.split() for line in (folder / "smaps_rollup").read_text("ascii").splitlines()[1:])
    held = {name: int(size) * 1_024 / 1e6 for name, size, *_ in rows}
    files = sum(1 for _ in (folder / "fd").iterdir())
    return Sample(time.perf_counter() - start, held["Rss:"], held["Anonymous:"], files)


async def watch(process: int, found: list[Sample]) -> None:
    """Samples once a second, until it is cancelled."""
    start = time.perf_counter()
    while True:
        found.append(sample(process, start))
        await asyncio.sleep(1)


def growth(samples: list[Sample], column: str) -> float:
    """How fast memory grows once warm [MB in 10 minutes]."""
    warm = [each for each in samples if each.seconds >= WARM * samples[-1].seconds]
    fit = statistics.linear_regression([each.seconds for each in warm], [getattr(each, column) for each in warm])
    return fit.slope * TEN_MINUTES


# --- what is told


def told(load: Load, samples: list[Sample], rate: float, capacity: float) -> None:
    """Prints what was found."""
    every = sorted(second for seconds in load.seconds.values() for second in seconds)
    print(f"{len(every):,} calls at {rate:.0f}/s, {rate / capacity:.2f} of {capacity:.0f}/s; {quantiles(every)}")
    for kind, seconds in sorted(load.seconds.items()):
        print(f"  {kind:20}{len(seconds):>9,}  {quantiles(sorted(seconds))}")
    first, last = samples[0], samples[-1]
    warm = [each.resident for each in samples if each.seconds >= WARM * last.seconds]
    print(
        f"memory {first.resident:.1f} MB at first, {min(warm):.1f} to {max(warm):.1f} MB warm, {last.resident:.1f} last"
    )
    print(f"growth {growth(samples, 'resident'):+.2f} MB in 10 minutes, {growth(samples, 'own'):+.2f} of its own")
    print(f"files {first.files} at first, {max(each.files for each in samples)} at most")
    print(f"errors {load.faults.total()} {dict(load.faults) or ''}")


def quantiles(ordered: list[float]) -> str:
    """Latencies in order, in ms."""
    found = (1e3 * ordered[int(share * (len(ordered) - 1))] for share in (0.5, 0.99, 0.999))
    return ", ".join(f"{name} {each:.1f} ms" for name, each in zip(("p50", "p99", "p99.9"), found, strict=True))


async def soaked(service: Served, seconds: float, share: float) -> bool:
    """Loads and tells; whether all was as it has to be."""
    mix = Mix(random.Random(1))
    eager, steady, samples = Load(service, mix), Load(service, mix), list[Sample]()
    capacity = await eager.at_once(CAPACITY_SECONDS)
    watching = asyncio.create_task(watch(service.process.pid, samples))
    await steady.steadily(seconds, share * capacity)
    watching.cancel()
    steady.faults.update(eager.faults)
    told(steady, samples, share * capacity, capacity)
    return not steady.faults and growth(samples, "own") < MOST_GROWTH


def main() -> None:
    """Runs it."""
    minutes, share = map(float, (sys.argv[1:] + ["20", "0.7"][len(sys.argv) - 1 :])[:2])
    with (
        tempfile.TemporaryDirectory() as folder,
        served(Path(folder), auth="on", keys=entry_of("soak", KEY), rate="9999999/60", bulk_streams="100") as service,
    ):
        os.sched_setaffinity(service.process.pid, {CORES[0]})
        os.sched_setaffinity(0, {CORES[-1]})
        good = uvloop.run(soaked(service, 60 * minutes, share))
        code, said = service.left()
    print(f"ended with {code}; {said or 'nothing'} on standard error")
    sys.exit(0 if good and (code, said) == (0, "") else 1)


if __name__ == "__main__":
    main()
