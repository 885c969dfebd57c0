"""How near the service comes to what its server and its codec alone can do.

    python tests/bench/bench_server.py [seconds]        measures, and writes the table into DEVELOPERS.md
    python tests/bench/bench_server.py serve NAME PORT [SERVER]

Server processes on the first core, wrk on the last, 32 connections, medians of five rounds in which each is measured in
turn; a ratio is the median of the rounds' ratios, so that a machine whose speed drifts moves none. `fixed` is a bare
ASGI function that answers bytes of the advice's size; `codec` one that reads the body with msgspec into our structs and
writes an advice that is there already, with no engine; `prepared` the real call with everything on, its engine replaced
by such advices; `whole` the real call. All are asked about the openings of one house in turn. Ratios to `codec` are
what to compare; figures drift with machine and interpreter. granian is measured where it is installed.
"""

from __future__ import annotations

import importlib
import importlib.util
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from itertools import cycle, islice
from pathlib import Path
from typing import Any, NamedTuple

import msgspec
import uvloop

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.bench_bulk import resident
from tests.bench.report import written
from tests.houses import house, merged

from jambset import main
from jambset.engine.assess import assess
from jambset.engine.facts import grid_of
from jambset.engine.steps import one_step
from jambset.http import advise
from jambset.http.addresses import ADVICE
from jambset.http.settings import Settings
from jambset.model.request import Opening
from jambset.quantity.parse import dec_hook
from jambset.render.encode import writer
from jambset.rules.load import load_catalogue

OPENINGS = 64
"""How many openings are asked about in turn, so that no cache holds only what is asked next."""
CONNECTIONS, ROUNDS = 32, 5
LUA = """
local asked, next_one = {}, 0
init = function()
  for body in io.lines("{bodies}") do
    asked[#asked + 1] = wrk.format("POST", nil, {["Content-Type"] = "application/json"}, body)
  end
end
request = function()
  next_one = next_one % #asked + 1
  return asked[next_one]
end
done = function(summary, latency, requests)
  local e = summary.errors
  io.write(string.format("RESULT %f %f %f %f %d\\n", summary.requests / summary.duration * 1e6,
    latency:percentile(50) / 1e3, latency:percentile(99) / 1e3, latency:percentile(99.9) / 1e3,
    e.connect + e.read + e.write + e.status + e.timeout))
end
"""


# --- what is served


def bodies() -> list[bytes]:
    """The openings of a house with certain floors, each as it would be asked about by itself."""
    return [msgspec.json.encode(opening) for opening in merged(house(OPENINGS, seed=1, lines=0, share=0.0))]


READ = msgspec.json.Decoder(Opening, strict=True, dec_hook=dec_hook).decode


def openings() -> list[Opening]:
    """The same, read."""
    return [READ(body) for body in bodies()]


def application(name: str) -> Any:
    """One of the applications by its name."""
    if name in ("prepared", "whole"):
        return real(prepared=name == "prepared")
    catalogue = load_catalogue()
    asked = openings()
    write = writer(grid_of(asked[0], catalogue)).encode
    advices = cycle([assess(opening, catalogue) for opening in asked])
    answer = sorted(map(write, islice(advices, OPENINGS)), key=len)[OPENINGS // 2]

    async def bare(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            return
        body, more = b"", True
        while more:
            message = await receive()
            body, more = body + message.get("body", b""), message.get("more_body", False)
        if name == "codec" and body:
            READ(body)
            found = write(next(advices))
        else:
            found = answer
        headers = [(b"content-type", b"application/json"), (b"content-length", str(len(found)).encode())]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": found})

    main.calm_collector()
    return bare


def real(*, prepared: bool) -> Any:
    """The service. prepared: with its engine replaced by an advice that is there already."""
    if prepared:
        catalogue = load_catalogue()
        found = cycle([assess(opening, catalogue) for opening in openings()])
        advise.assessing = one_step(lambda *_: next(found))  # type: ignore[attr-defined]
    return main.create()


def serve(name: str, port: int, server: str) -> None:
    """Serves one of the applications."""
    if server == "granian":
        embedded: Any = importlib.import_module("granian.server.embed")
        uvloop.run(embedded.Server(application(name), port=port, interface="asgi").serve())
        return
    import uvicorn

    options = main.server_options(Settings(port=port))
    uvicorn.run(application(name), **{**options, "factory": False, "workers": 1})


# --- how it is measured


class Figures(NamedTuple):
    """Of one round: requests a second, latencies [ms], errors."""

    rate: float
    p50: float
    p99: float
    p999: float
    errors: float


@contextmanager
def served(name: str, server: str, core: int) -> Iterator[tuple[int, int]]:
    """A server process on one core: its port and its id."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = ["taskset", "-c", str(core), sys.executable, __file__, "serve", name, str(port), server]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env={**os.environ})
    try:
        for _ in range(200):
            try:
                request = urllib.request.Request(f"http://127.0.0.1:{port}{ADVICE}", bodies()[0])
                request.add_header("Content-Type", "application/json")
                urllib.request.urlopen(request, timeout=5).read()
                break
            except OSError:
                time.sleep(0.05)
        yield port, process.pid
    finally:
        process.terminate()
        process.wait()


def measured(port: int, seconds: int, script: str) -> Figures:
    """The figures of one round of whatever answers at a port."""
    core = max(os.sched_getaffinity(0))
    load = ["taskset", "-c", str(core), "wrk", "-t1", f"-c{CONNECTIONS}", "-s", script, f"-d{seconds}s"]
    url = f"http://127.0.0.1:{port}{ADVICE}"
    told = subprocess.run([*load, url], capture_output=True, text=True, check=True).stdout
    found = re.search(r"RESULT (\S+) (\S+) (\S+) (\S+) (\d+)", told)
    assert found is not None, told
    return Figures(*[float(part) for part in found.groups()])


def row(title: str, found: list[Figures], codec: list[Figures], memory: float) -> str:
    """One line of the table. found, codec: by round."""
    rate, *times, _ = (statistics.median(column) for column in zip(*found, strict=True))
    ratio = statistics.median(one.rate / other.rate for one, other in zip(found, codec, strict=True))
    told = " | ".join([f"{time:.1f}" for time in times])
    return f"| {title} | {rate:,.0f} | {ratio:.2f} | {told} | {sum(one.errors for one in found):.0f} | {memory:.0f} |"


def table(seconds: int) -> str:
    """The whole table."""
    names = [(name, "uvicorn") for name in ("fixed", "codec", "prepared", "whole")]
    if importlib.util.find_spec("granian"):
        names += [(name, "granian") for name in ("fixed", "codec")]
    core = min(os.sched_getaffinity(0))
    with tempfile.TemporaryDirectory() as folder, ExitStack() as there:
        asked, script = Path(folder) / "bodies.ndjson", Path(folder) / "post.lua"
        asked.write_bytes(b"".join(body + b"\n" for body in bodies()))
        script.write_text(LUA.replace("{bodies}", str(asked)), "utf-8")
        servers = {one: there.enter_context(served(*one, core)) for one in names}
        for port, _ in servers.values():
            measured(port, 1, str(script))
        rounds = [
            {one: measured(port, seconds, str(script)) for one, (port, _) in servers.items()} for _ in range(ROUNDS)
        ]
        memory = {one: resident(process) for one, (_, process) in servers.items()}
    found = {one: [figures[one] for figures in rounds] for one in names}
    head = (
        "| served | requests/s | of codec | p50 ms | p99 ms | p99.9 ms | errors | MB |",
        "|---|---:|---:|---:|---:|---:|---:|---:|",
    )
    codec = found["codec", "uvicorn"]
    return "\n".join((*head, *(row(", ".join(one), found[one], codec, memory[one]) for one in names)))


if __name__ == "__main__":
    if sys.argv[1:2] == ["serve"]:
        serve(sys.argv[2], int(sys.argv[3]), sys.argv[4] if len(sys.argv) > 4 else "uvicorn")
    else:
        made = table(int(sys.argv[1]) if len(sys.argv) > 1 else 8)
        print(made)
        written("bench_server.py", made)
