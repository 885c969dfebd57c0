"""How fast a stream of openings is answered, in how much memory, and what it costs other callers.

    python tests/bench/bench_bulk.py [openings]

First the loop: reading, assessing and encoding the same lines one after the other in this process, on the first core.
Then a served process on the first core and the caller on the last: the same lines as one stream, whose rate is told as
a ratio to the loop's, with how far the server's resident memory rose above what it was at most while the stream went
on, and the latencies of advice on one opening asked for beside it. Then the same with a caller that reads slowly, and
one that goes away in the middle: how long the server works on for it. Lines are the openings of a house of
tests/houses.py over and over, with marks of their own.
"""

from __future__ import annotations

import asyncio
import http.client
import os
import re
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from itertools import cycle, islice
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import httpx
import msgspec

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.houses import house, merged

from jambset.http.addresses import ADVICE, BULK
from jambset.http.advise import adviser
from jambset.main import calm_collector
from jambset.rules.load import load_catalogue

KINDS, LOOP = 400, 4_000
HEADERS = {"Content-Type": "application/x-ndjson", "Transfer-Encoding": "chunked"}
SLOW_SECONDS = 0.02
PART = 65_536


def lines(count: int) -> Iterator[bytes]:
    """So many openings, each a line."""
    kinds = merged(house(KINDS, seed=1, lines=0, share=0.0))
    for place, opening in enumerate(islice(cycle(kinds), count)):
        yield msgspec.json.encode({**opening, "mark": f"D{place}"}) + b"\n"


def parts(count: int) -> Iterator[bytes]:
    """The same in parts of the size in which they are read from a file."""
    held = bytearray()
    for line in lines(count):
        held += line
        if len(held) >= PART:
            yield bytes(held)
            held.clear()
    yield bytes(held)


def loop_rate() -> float:
    """Openings a second, one after the other in this process."""
    give, bodies = adviser(load_catalogue()), list(lines(LOOP))
    calm_collector()
    for body in bodies[:KINDS]:
        give(body)
    start = time.perf_counter()
    for body in bodies:
        give(body)
    return LOOP / (time.perf_counter() - start)


@contextmanager
def served(core: int) -> Iterator[tuple[str, int]]:
    """A served process on one core: its address and its id."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = {**os.environ, "JAMBSET_PORT": str(port)}
    command = ["taskset", "-c", str(core), sys.executable, "-m", "jambset.main", "serve"]
    server = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    url = f"http://127.0.0.1:{port}"
    try:
        for _ in range(200):
            try:
                httpx.get(f"{url}/health/ready").raise_for_status()
                break
            except httpx.TransportError:
                time.sleep(0.05)
        yield url, server.pid
    finally:
        server.terminate()
        server.wait()


def resident(process: int) -> float:
    """Resident memory [MB]."""
    pages = int(Path(f"/proc/{process}/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


@contextmanager
def rise(process: int) -> Iterator[Callable[[], float]]:
    """Tells how far resident memory rose at most since this began, above what it was then [MB]."""
    before, held = resident(process), Path(f"/proc/{process}")
    (held / "clear_refs").write_text("5", "ascii")  # the most that it ever was counts from here on
    yield lambda: int(re.findall(r"VmHWM:\s+(\d+) kB", (held / "status").read_text("ascii"))[0]) * 1_024 / 1e6 - before


def busy(process: int) -> float:
    """Processor time taken so far [s]."""
    fields = Path(f"/proc/{process}/stat").read_text("ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def stream(url: str, count: int, *, pause: float = 0.0, most: int = 0) -> int:
    """Sends openings as one stream and reads the answers beside: how many came. most: leave after so many; 0: never."""
    address = urlsplit(url)
    connection = http.client.HTTPConnection(str(address.hostname), address.port, timeout=600)
    connection.putrequest("POST", BULK)
    for name, value in HEADERS.items():
        connection.putheader(name, value)
    connection.endheaders()

    def send() -> None:
        with suppress(OSError):  # the caller that goes away closes under our hands
            for part in parts(count):
                connection.send(b"%x\r\n%s\r\n" % (len(part), part))
            connection.send(b"0\r\n\r\n")

    threading.Thread(target=send, daemon=True).start()
    reply, found = connection.getresponse(), 0
    while (part := reply.read1(PART)) and not (most and found >= most):
        found += part.count(b"\n")
        time.sleep(pause)
    connection.close()
    return found


async def beside(url: str, body: bytes, until: asyncio.Task[Any]) -> list[float]:
    """Latencies of advice on one opening [ms], asked for one after the other until something else is done."""
    found: list[float] = []
    async with httpx.AsyncClient(timeout=60) as client:
        while not until.done():
            start = time.perf_counter()
            reply = await client.post(url + ADVICE, content=body, headers={"Content-Type": "application/json"})
            reply.raise_for_status()
            found.append(1e3 * (time.perf_counter() - start))
            await asyncio.sleep(0.02)
    return sorted(found)


async def measured(url: str, process: int, count: int, floor: float) -> None:
    """Prints the figures of each kind of caller."""
    await asyncio.to_thread(stream, url, 2_000)
    body = next(lines(1))
    with rise(process) as most:
        start = time.perf_counter()
        task = asyncio.create_task(asyncio.to_thread(stream, url, count))
        latencies = await beside(url, body, task)
        rate = (await task) / (time.perf_counter() - start)
        grown = most()
    p50, p99 = (latencies[int(share * (len(latencies) - 1))] for share in (0.5, 0.99))
    print(f"{'stream':14}{rate:>9.0f} /s{rate / floor:>8.2f} of the loop   memory {grown:+.1f} MB")
    print(f"{'  beside it':14}{len(latencies)} calls, p50 {p50:.1f} ms, p99 {p99:.1f} ms, most {latencies[-1]:.1f} ms")
    with rise(process) as most:
        found = await asyncio.to_thread(stream, url, count // 10, pause=SLOW_SECONDS)
        print(f"{'slow reader':14}{found} answers, memory {most():+.1f} MB")
    await asyncio.to_thread(stream, url, count, most=1_000)
    used = busy(process)
    await asyncio.sleep(1)
    print(f"{'gone':14}{busy(process) - used:.2f} s of work in the second after the caller left")


def main() -> None:
    """Runs all of it."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    cores = sorted(os.sched_getaffinity(0))
    os.sched_setaffinity(0, {cores[0]})
    floor = loop_rate()
    print(f"{'loop':14}{floor:>9.0f} /s")
    os.sched_setaffinity(0, {cores[-1]})
    with served(cores[0]) as (url, process):
        asyncio.run(measured(url, process, count, floor))


if __name__ == "__main__":
    main()
