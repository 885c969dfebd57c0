"""What connections cost on which nothing is asked, and what becomes of too many of them.

    python tests/bench/bench_idle.py [connections]

One served process on the first core, callers on the last, from several addresses of the loopback. Each connection is
answered once and then rests. Measured beside them: memory, the latencies of another caller, the work of the server.
Then all are left alone until the server drops them, and the same is done again, twice: memory that isn't given back has
to be used again. Last, connections beyond JAMBSET_MAX_CONNECTIONS, and beyond the files that the process may open.
"""

from __future__ import annotations

import os
import resource
import socket
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.bench_bulk import busy, resident
from tests.faults.served import Served, served

from jambset.main import KEEP_ALIVE_SECONDS, connections_for

ASK = b"GET /health/live HTTP/1.1\r\nHost: a\r\n\r\n"
EACH_ADDRESS = 2_000
"""Connections from one address: fewer than it has ports."""
CORES = sorted(os.sched_getaffinity(0))
CALLS = 2_000
WATCHED_SECONDS = 5
FEW, MANY = 1_000, 3_000
"""A limit of connections, and how many come."""
FILES, COMERS = 200, 400
"""Files that a process may open, and how many callers come."""


def asked(service: Served, number: int) -> tuple[socket.socket, str]:
    """A connection that was answered once, and how: a status or the name of a fault."""
    caller = socket.socket()
    caller.settimeout(60)
    try:
        caller.bind((f"127.0.1.{1 + number // EACH_ADDRESS}", 0))
        caller.connect(("127.0.0.1", service.port))
        caller.sendall(ASK)
        got = caller.recv(65_536)
    except OSError as fault:
        return caller, type(fault).__name__
    return caller, got[9:12].decode() or "closed"


@contextmanager
def resting(service: Served, count: int) -> Iterator[Counter[str]]:
    """So many connections at rest, and how they were answered."""
    held = [asked(service, number) for number in range(count)]
    try:
        yield Counter(how for _, how in held)
    finally:
        for caller, _ in held:
            caller.close()


def beside(service: Served) -> str:
    """Latencies of calls one after the other on one connection."""
    caller, found = HTTPConnection("127.0.0.1", service.port, timeout=60), []
    for _ in range(CALLS):
        start = time.perf_counter()
        caller.request("GET", "/v1/limits")
        caller.getresponse().read()
        found.append(1e3 * (time.perf_counter() - start))
    caller.close()
    p50, p99 = (sorted(found)[int(share * CALLS)] for share in (0.5, 0.99))
    return f"p50 {p50:.2f} ms, p99 {p99:.2f} ms, most {max(found):.1f} ms"


def work(service: Served, seconds: float = WATCHED_SECONDS) -> str:
    """How long the server works while nobody asks anything."""
    used = busy(service.process.pid)
    time.sleep(seconds)
    return f"{busy(service.process.pid) - used:.2f} s of work in {seconds:.0f} s"


def files(service: Served) -> int:
    """Files that the process has open."""
    return sum(1 for _ in Path(f"/proc/{service.process.pid}/fd").iterdir())


def until_left(service: Served, own: int) -> int:
    """Waits until the process has no more files open than its own, or for long: how many are left."""
    end = time.perf_counter() + 3 * KEEP_ALIVE_SECONDS
    while (left := files(service) - own) > 0 and time.perf_counter() < end:
        time.sleep(0.5)
    return left


def at_rest(count: int) -> None:
    """Many connections that rest until they are dropped, three times."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as service:
        pinned(service)
        print(f"{'alone':16}{beside(service)}")
        own, before = files(service), resident(service.process.pid)
        for wave in ("first", "second", "third"):
            start = time.perf_counter()
            with resting(service, count) as how:
                took, grown = time.perf_counter() - start, resident(service.process.pid) - before
                print(f"{wave:16}{dict(how)} in {took:.1f} s, {files(service) - own} held")
                print(f"{'':16}memory {grown:+.1f} MB, {1e3 * grown / count:.1f} kB each; {work(service)}")
                print(f"{'':16}beside them {beside(service)}")
                left = until_left(service, own)
                rested, grown = time.perf_counter() - start - took, resident(service.process.pid) - before
                print(f"{'':16}{rested:.0f} s later {left} held, memory {grown:+.1f} MB")
        print(f"{'told':16}{service.errors.stat().st_size} bytes on standard error")


def above_the_limit() -> None:
    """More callers than the service holds connections: each is answered, those that rest longest have to go."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder), max_connections=str(FEW)) as service:
        pinned(service)
        own = files(service)
        with resting(service, MANY) as how:
            print(f"{'limit ' + str(FEW):16}{dict(how)}, {files(service) - own} held; beside them {beside(service)}")


def out_of_files() -> None:
    """More callers than the process may open files: what isn't answered is closed, and nothing else suffers."""
    with tempfile.TemporaryDirectory() as folder, served(Path(folder)) as service:
        pinned(service)
        own = files(service)
        resource.prlimit(service.process.pid, resource.RLIMIT_NOFILE, (FILES, FILES))
        with resting(service, COMERS) as how:
            print(f"{f'{FILES} files':16}{dict(how)}; {work(service)}")
        until_left(service, own)
        print(f"{'  after them':16}{beside(service)}; {service.errors.stat().st_size} bytes on standard error")


def pinned(service: Served) -> None:
    """The server on the first core, this process on the last."""
    os.sched_setaffinity(service.process.pid, {CORES[0]})
    os.sched_setaffinity(0, {CORES[-1]})


def main() -> None:
    """Runs all of it."""
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    if (count := connections_for(wanted)) < wanted:
        sys.exit(f"This process may open no more than {count} connections; raise ulimit -n.")
    at_rest(count)
    above_the_limit()
    out_of_files()


if __name__ == "__main__":
    main()
