"""Told to stop with work under way: what was asked for is answered, nobody else is let in, and it ends in time."""

from __future__ import annotations

import json
import os
import signal
import socket
import time
from contextlib import suppress
from pathlib import Path

import pytest
from tests.faults.served import PATIENCE, Served, begin, chunk, post, rest, served, statuses, until
from tests.houses import house

from jambset.http.addresses import BULK, HOUSE
from jambset.http.bulk import NDJSON
from jambset.http.negotiate import PDF

SHORT = "4"
"""Less time to stop than the largest house takes [s]; the last fifth of it is there to say so to who waits."""


def _wait_until_refused(service: Served) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            service.call().close()
        except ConnectionRefusedError:
            return
        time.sleep(0.05)
    pytest.fail("new connections are still taken")


def _stream(service: Served, opening: bytes) -> socket.socket:
    """A stream with one line answered."""
    caller = service.call()
    caller.sendall(begin(BULK, media=NDJSON) + chunk(opening + b"\n"))
    assert until(caller, b"}\n\r\n").startswith(b"HTTP/1.1 200 ")
    return caller


@pytest.mark.parametrize("workers", ["1", "2"])
def test_what_is_under_way_is_answered_whole_and_nobody_else_is_let_in(
    workers: str, tmp_path: Path, opening: bytes
) -> None:
    with served(tmp_path, workers=workers) as service:
        stream, slow, fast = _stream(service, opening), service.call(), service.call()
        idle = [service.call() for _ in range(5)]
        slow.sendall(post(HOUSE, json.dumps(house(12)).encode(), accept=PDF))
        fast.sendall(b"GET /health/ready HTTP/1.1\r\nHost: a\r\n\r\n")
        until(fast, b"}")
        service.process.terminate()
        _wait_until_refused(service)
        assert [rest(one) for one in (fast, *idle)] == [b""] * 6
        assert rest(slow).endswith(b"%%EOF\n")
        stream.sendall(chunk(opening) + chunk(b""))
        said = rest(stream)
        assert (said.count(b'"mark":'), said[-5:]) == (1, b"0\r\n\r\n")
        for one in (stream, slow, fast, *idle):
            one.close()
        assert service.left() == (0, "")


CHILDREN = Path("/proc/thread-self/children")


@pytest.mark.skipif(not CHILDREN.exists(), reason="nothing says here which processes one has started")
def test_workers_whose_supervisor_was_killed_answer_what_is_under_way_and_let_the_port_go(
    tmp_path: Path, opening: bytes
) -> None:
    with served(tmp_path, workers="2") as service, _stream(service, opening) as stream:
        supervisor = service.process.pid
        workers = [int(one) for one in Path(f"/proc/{supervisor}/task/{supervisor}/children").read_text().split()]
        service.process.kill()
        try:
            _wait_until_refused(service)
            stream.sendall(chunk(opening) + chunk(b""))
            said = rest(stream)
        finally:
            for one in workers:
                with suppress(ProcessLookupError):
                    os.kill(one, signal.SIGKILL)
        assert (said.count(b'"mark":'), said[-5:]) == (1, b"0\r\n\r\n")
        assert service.errors.read_text("utf-8") == ""


def test_a_stream_without_end_is_told_in_time_and_ends_in_order(tmp_path: Path, opening: bytes) -> None:
    with served(tmp_path, drain_seconds=SHORT) as service, _stream(service, opening) as stream:
        service.process.terminate()
        size, line, last = rest(stream).split(b"\n", 2)
        told = json.loads(line)
        assert (told["status"], told["code"], told["line"], told["ends"]) == (503, "busy", 2, True)
        assert (int(size, 16), last) == (len(line) + 1, b"\r\n0\r\n\r\n")
        assert service.left() == (0, "")


def test_what_takes_longer_is_cut_off_and_keeps_nothing(tmp_path: Path) -> None:
    """A house that is worked on in a thread, an answer that nobody takes, and a body that never comes whole."""
    with served(tmp_path, drain_seconds=SHORT) as service, service.call() as late, service.call() as body:
        head, _, whole = post(HOUSE, json.dumps(house(500)).encode(), accept=PDF).partition(b"\r\n\r\n")
        late.sendall(head + b"\r\n\r\n" + whole)
        body.sendall(head + b"\r\n\r\n")
        with service.call() as deaf:
            deaf.sendall(b"GET /openapi.json HTTP/1.1\r\nHost: a\r\n\r\n" * 50)
            assert statuses(deaf.recv(1_000)) == [200]
            assert service.left() == (0, "")
        assert (rest(late), statuses(rest(body))) == (b"", [503])
