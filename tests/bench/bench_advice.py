"""How long one advice takes, and how long the service takes to be ready.

    python tests/bench/bench_advice.py [repeats]

One opening of medium size, warm: every step is timed alone, call by call, and its median is printed
with its ratio to the codec floor. The floor is msgspec alone on the same bytes: the request decoded
to plain dicts and the finished answer, held as plain dicts, encoded again; no structs, no quantities,
no check. "all scenarios" goes through every sandbox request in turn instead of the one opening, so
that no cache holds only what is asked next. "certain" is the one opening with nothing that may change. Start and
memory are those of one served process.
"""

from __future__ import annotations

import json
import os
import re
import socket
import statistics
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import msgspec

from jambset import main
from jambset.engine.assess import assess
from jambset.engine.facts import grid_of
from jambset.http.addresses import ADVICE
from jambset.http.decode import opening_reader
from jambset.model.request import Opening
from jambset.render.encode import writer
from jambset.rules.load import load_catalogue

OPENING = {
    "mark": "D07",
    "jurisdiction": "US",
    "duties": ["transfer_air"],
    "grid": "1/16 in",
    "rough_opening": {"width": "32 in", "height": "83 in"},
    "frame": {"undercut": "1 in", "head_gap": "1/8 in", "head_thickness": "11/16 in", "state": "on_site"},
    "leaf": {
        "count": 1,
        "width": "30 in",
        "height": "80 in",
        "thickness": "1 3/8 in",
        "core": "hollow",
        "opening_angle": 110,
    },
    "pull_side": {
        "room": "bedroom 2",
        "build_up": [
            {"material": "carpet_cushion", "thickness": "7/16 in"},
            {"material": "carpet", "thickness": "1/2 in"},
        ],
    },
    "push_side": {
        "room": "hall",
        "build_up": [{"material": "vinyl_plank", "thickness": "1/4 in", "fixing": "floating"}],
        "could_become": [{"build_up": [{"material": "engineered_wood", "thickness": "1/2 in"}], "weight": 0.2}],
    },
    "air": {"supply_flow": "60 cfm", "pressure_limit": "3 Pa", "altitude": "0 m"},
    "project_rules": {"hard_floor_clearance": "5/8 in"},
}


def median_us(call: Callable[[Any], object], arguments: list[Any], repeats: int) -> float:
    """Median time of one call [µs], over the arguments in turn."""
    turns = [arguments[place % len(arguments)] for place in range(repeats)]
    for argument in turns[: max(200, len(arguments))]:
        call(argument)
    times = []
    for argument in turns:
        start = time.perf_counter_ns()
        call(argument)
        times.append(time.perf_counter_ns() - start)
    return statistics.median(times) / 1e3


def steps(bodies: list[bytes], repeats: int) -> dict[str, float]:
    """Median of each step [µs]."""
    catalogue = load_catalogue()
    read = opening_reader(catalogue).read

    def encode(pair: tuple[Opening, Any]) -> bytes:
        return writer(grid_of(pair[0], catalogue)).encode(pair[1])

    def floor(pair: tuple[bytes, Any]) -> bytes:
        msgspec.json.decode(pair[0])
        return msgspec.json.encode(pair[1])

    openings = [read(body) for body in bodies]
    advices = [assess(opening, catalogue) for opening in openings]
    answers = [encode(pair) for pair in zip(openings, advices, strict=True)]
    plain = [msgspec.json.decode(answer) for answer in answers]
    return {
        "decode": median_us(read, bodies, repeats),
        "assess": median_us(lambda opening: assess(opening, catalogue), openings, repeats),
        "encode": median_us(encode, list(zip(openings, advices, strict=True)), repeats),
        "assess + encode": median_us(lambda o: encode((o, assess(o, catalogue))), openings, repeats),
        "decode + assess + encode": median_us(lambda b: encode((o := read(b), assess(o, catalogue))), bodies, repeats),
        "floor: msgspec alone": median_us(floor, list(zip(bodies, plain, strict=True)), repeats),
        "request [bytes]": statistics.median(map(len, bodies)),
        "answer [bytes]": statistics.median(map(len, answers)),
    }


def print_steps(title: str, measured: dict[str, float]) -> None:
    floor = measured["floor: msgspec alone"]
    print(f"\n{title:<28}{'median':>12}{'of the floor':>14}")
    for name, value in measured.items():
        timed = "bytes" not in name
        print(f"{name:<28}{value:>9.1f} µs{value / floor:>13.1f}x" if timed else f"{name:<28}{value:>12.0f}")


@contextmanager
def served() -> Iterator[tuple[int, str, float]]:
    """A server process: its pid, its address, and seconds from start to ready."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    start = time.perf_counter()
    server = subprocess.Popen(
        [sys.executable, "-m", "jambset.main", "serve", "--port", str(port)], stdout=subprocess.DEVNULL
    )
    try:
        while not _ready(address):
            if server.poll() is not None:
                sys.exit("the server ended before it was ready")
            time.sleep(0.005)
        yield server.pid, address, time.perf_counter() - start
    finally:
        server.terminate()
        server.wait(timeout=10)


def _ready(address: str) -> bool:
    try:
        return bool(urllib.request.urlopen(f"{address}/health/ready", timeout=1).status == 200)
    except OSError:
        return False


def resident_mb(pid: int) -> float:
    """Resident memory of a process [MB]."""
    status = Path(f"/proc/{pid}/status")
    if status.exists():
        return int(re.findall(r"VmRSS:\s+(\d+) kB", status.read_text("utf-8"))[0]) * 1024 / 1e6
    listed = subprocess.run(["ps", "-o", "rss=", "-p", str(pid)], capture_output=True, text=True, check=True)
    return int(listed.stdout) * 1024 / 1e6


def print_server(bodies: list[bytes], requests: int) -> None:
    with served() as (pid, address, seconds):
        at_start = resident_mb(pid)
        for place in range(requests):
            call = urllib.request.Request(
                f"{address}/v1/openings/advice", bodies[place % len(bodies)], {"Content-Type": "application/json"}
            )
            urllib.request.urlopen(call, timeout=5).read()
        print(f"\nstart to ready             {seconds:>9.2f} s")
        print(f"resident when ready        {at_start:>9.0f} MB")
        print(f"resident after {requests} calls  {resident_mb(pid):>9.0f} MB")


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    scenarios = [json.loads(path.read_bytes()) for path in sorted(main.sandbox_folder().glob("*.json"))]
    requests_ = [json.dumps(s["request"]).encode() for s in scenarios if s.get("call", ADVICE) == ADVICE]
    print(
        f"Python {sys.version.split()[0]}, msgspec {msgspec.__version__}, {os.cpu_count()} CPUs, {count} calls a step"
    )
    print_steps("one opening", steps([json.dumps(OPENING).encode()], count))
    certain = json.loads(json.dumps(OPENING))
    del certain["push_side"]["could_become"]
    print_steps("certain", steps([json.dumps(certain).encode()], count))
    print_steps("all scenarios", steps(requests_, count))
    print_server(requests_, 1000)
