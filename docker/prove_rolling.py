"""Loads the proxy with its committed configuration while the processes behind it are killed and rolled.

    PYTHONPATH=service python -m docker.prove_rolling

from the root of the repository, with nginx installed; all on the loopback. Callers, each from an address of its own,
ask for advice on openings and houses at a steady rate. Meanwhile one process after the other is killed without notice
and, as the container's restart rule does, started again; then one after the other is rolled: ended in order, started,
awaited. An answer counts only when it is 200 and byte for byte the one expected. The same is then done without the
retry rule, which has to fail: else the load would prove nothing. Exits 1 where either is otherwise.
"""

from __future__ import annotations

import asyncio
import json
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from contextlib import ExitStack
from pathlib import Path
from typing import NamedTuple

import httpx
from docker.processes import Running, configure, free_port, proxy, service, wait_until_ready
from tests.houses import house

from jambset.http.addresses import ADVICE, HOUSE

SCENARIOS = Path(__file__).parents[1] / "examples" / "sandbox"
CALLERS = 16
PAUSE = 0.05
"""Between a caller's answer and its next call [s]: below the proxy's share of one caller."""
KILLS, ROLLS = 10, 4
"""How often a process is killed, and how often all are rolled."""
RULE = "proxy_next_upstream error timeout non_idempotent;"


class Call(NamedTuple):
    """A request and the answer it must get."""

    path: str
    body: bytes
    answer: bytes


class Outcome(NamedTuple):
    """What a run showed. faults: how many calls went wrong in each way. retried: those that took a second process."""

    seconds: list[float]
    faults: Counter[str]
    retried: int
    took: float

    def __str__(self) -> str:
        ordered = sorted(self.seconds)
        quantiles = ", ".join(f"{name} {1e3 * ordered[int(len(ordered) * at)]:.0f} ms" for name, at in QUANTILES)
        told = ", ".join(f"{count} x {fault}" for fault, count in self.faults.most_common()) or "none"
        calls = len(self.seconds)
        return (
            f"{calls} calls in {self.took:.0f} s, {KILLS} kills, {ROLLS} rolls of both processes; "
            f"retried: {self.retried}; failed: {self.faults.total()} ({told}); {quantiles}, "
            f"longest {max(ordered):.2f} s"
        )


QUANTILES = (("p50", 0.5), ("p99", 0.99))


def calls(port: int) -> list[Call]:
    """Worked examples of openings and a small house, each with the answer of an undisturbed service."""
    kept = [json.loads(path.read_bytes()) for path in sorted(SCENARIOS.glob("*.json"))]
    openings = [(ADVICE, each["request"]) for each in kept if each.get("call", ADVICE) == ADVICE]
    asked = [(path, json.dumps(request).encode()) for path, request in (*openings, (HOUSE, house(4)))]
    with httpx.Client(base_url=f"http://127.0.0.1:{port}", headers=JSON) as client:
        return [Call(path, body, client.post(path, content=body).raise_for_status().content) for path, body in asked]


JSON = {"Content-Type": "application/json", "Accept": "application/json", "Accept-Encoding": "identity"}


class Load:
    """Callers who ask until they are told to stop."""

    def __init__(self, port: int, asked: list[Call]) -> None:
        self._base, self._asked = f"http://127.0.0.1:{port}", asked
        self.seconds: list[float] = []
        self.faults: Counter[str] = Counter()
        self.stop = asyncio.Event()

    async def caller(self, number: int) -> None:
        """One caller, from its own address of the loopback."""
        chance = random.Random(number)  # noqa: S311
        transport = httpx.AsyncHTTPTransport(local_address=f"127.0.1.{number + 1}")
        async with httpx.AsyncClient(base_url=self._base, transport=transport, headers=JSON, timeout=30) as client:
            while not self.stop.is_set():
                await self._ask(client, chance.choice(self._asked))
                await asyncio.sleep(PAUSE * chance.uniform(0.5, 1.5))

    async def _ask(self, client: httpx.AsyncClient, call: Call) -> None:
        started = time.perf_counter()
        try:
            response = await client.post(call.path, content=call.body)
        except httpx.HTTPError as fault:
            self.faults[type(fault).__name__] += 1
        else:
            if response.status_code != 200:
                self.faults[f"status {response.status_code}"] += 1
            elif response.content != call.answer:
                self.faults["another answer"] += 1
        self.seconds.append(time.perf_counter() - started)


def disturb(processes: list[Running], ports: list[int]) -> None:
    """Kills processes in turn without notice, then rolls them all, always waiting for one before the next."""
    for number in range(KILLS):
        restart(processes[number % 2], ports[number % 2], signal.SIGKILL)
    for _ in range(ROLLS):
        for process, port in zip(processes, ports, strict=True):
            restart(process, port, signal.SIGTERM)


def restart(process: Running, port: int, order: signal.Signals) -> None:
    """Ends a process, starts it again as its container would be, and lets it serve a while."""
    process.end(order)
    process.start()
    wait_until_ready(port)
    time.sleep(0.5)


async def under_load(port: int, asked: list[Call], processes: list[Running], ports: list[int]) -> Load:
    """All the disturbance with callers at it."""
    load = Load(port, asked)
    async with asyncio.TaskGroup() as group:
        for number in range(CALLERS):
            group.create_task(load.caller(number))
        await asyncio.sleep(1)
        await asyncio.to_thread(disturb, processes, ports)
        load.stop.set()
    return load


def prove(rule: str) -> Outcome:
    """One run with a rule for what is tried again."""
    port, ports = free_port(), [free_port(), free_port()]
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        folder.chmod(0o755)
        access, log = folder / "access.log", stack.enter_context((folder / "log").open("wb"))
        changes = [(RULE, rule), ("/dev/stdout", str(access))]
        processes = [stack.enter_context(service(each, log)) for each in ports]
        stack.enter_context(proxy(configure(folder, port, ports, changes), log))
        for each in (*ports, port):
            wait_until_ready(each)
        started = time.perf_counter()
        load = asyncio.run(under_load(port, calls(ports[0]), processes, ports))
        took = time.perf_counter() - started
        retried = sum("," in json.loads(line)["upstream"] for line in access.read_text("utf-8").splitlines())
    return Outcome(load.seconds, load.faults, retried, took)


def main() -> None:
    """Both runs."""
    held = prove(RULE)
    sys.stdout.write(f"with the retry rule: {held}\n")
    sys.stdout.flush()
    control = prove("proxy_next_upstream off;")
    sys.stdout.write(f"without it: {control}\n")
    if held.faults or not held.retried or not control.faults:
        sys.exit("The rule doesn't hold, or the load didn't need it.")


if __name__ == "__main__":
    main()
