"""A log that can't be written: calls are answered as ever, what is lost is counted, and it goes on when it can."""

from __future__ import annotations

import json
import os
import resource
import subprocess
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest
from tests.faults.served import PATIENCE, Served, served

CALLS = 1_000
"""More than a pipe holds lines of."""


def _answers(service: Served, count: int) -> set[int]:
    """Statuses of calls that follow each other on one connection, which stays."""
    connection = HTTPConnection("127.0.0.1", service.port, timeout=PATIENCE)
    connection.connect()
    ours, found = connection.sock, set()
    for _ in range(count):
        connection.request("GET", "/health/live")
        with connection.getresponse() as answer:
            answer.read()
            found.add(answer.status)
        assert connection.sock is ours, "the connection ended"
    connection.close()
    return found


@pytest.fixture
def pipe() -> Iterator[tuple[int, int]]:
    """Where the log is read, and where it is written; the reader may be closed."""
    ends = os.pipe()
    yield ends
    os.close(ends[0])


def test_a_pipe_that_nobody_reads_holds_nothing_up_and_its_lines_come_later(
    pipe: tuple[int, int], tmp_path: Path
) -> None:
    reads, writes = pipe
    with served(tmp_path, writes) as service:
        os.close(writes)
        assert _answers(service, CALLS) == {200}
        lines = b""
        while lines.count(b"\n") < CALLS:
            lines += os.read(reads, 65_536)
            assert _answers(service, 1) == {200}  # and what is held goes out with its line
        assert {json.loads(line)["status"] for line in lines.splitlines()[:CALLS]} == {200}
        assert service.left() == (0, "")


def test_a_pipe_that_is_gone_fails_no_call(tmp_path: Path) -> None:
    with subprocess.Popen([os.devnull], executable="/bin/true", stdin=subprocess.PIPE) as gone:
        assert gone.stdin is not None
        gone.wait(PATIENCE)
        with served(tmp_path, gone.stdin) as service:
            assert _answers(service, 20) == {200}
            assert service.left() == (0, "")


@pytest.mark.parametrize("workers", ["1", "2"])
def test_no_output_at_all_fails_neither_start_nor_call(workers: str, tmp_path: Path) -> None:
    with served(tmp_path, before=("sh", "-c", 'exec "$0" "$@" <&- >&-'), workers=workers) as service:
        assert _answers(service, 20) == {200}
        assert service.left() == (0, "")


@pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="the limit of another process can't be set here")
def test_a_full_disk_fails_no_call_and_the_log_goes_on_where_it_was_when_there_is_room(tmp_path: Path) -> None:
    """A limit of the file's size stands in for the disk: the line on which it is reached is written in part."""
    log = tmp_path / "log"
    with log.open("wb") as out, served(tmp_path, out) as service:
        full, unlimited = log.stat().st_size + 300, resource.RLIM_INFINITY
        resource.prlimit(service.process.pid, resource.RLIMIT_FSIZE, (full, unlimited))
        assert _answers(service, 20) == {200}
        assert log.stat().st_size == full
        resource.prlimit(service.process.pid, resource.RLIMIT_FSIZE, (unlimited, unlimited))
        assert _answers(service, 1) == {200}
        assert service.left() == (0, "")
    lines = [json.loads(line) for line in log.read_bytes().splitlines()]
    assert [line["status"] for line in lines if line["route"] == "/health/live"] == [200] * 21
