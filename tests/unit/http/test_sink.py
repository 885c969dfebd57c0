"""A file that raises nothing and waits for nobody."""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from tests.contract.asgi import ask

from jambset.http import app
from jambset.http.settings import Settings
from jambset.http.sink import TOGETHER, Sink, never_wait
from jambset.rules.load import load_catalogue

FULL = Path("/dev/full")


class Pipe:
    """A pipe with a sink at one end."""

    def __init__(self, most: int) -> None:
        self.lost = 0
        self.reads, self.writes = os.pipe()
        never_wait(self.reads)
        self.sink = Sink(self.writes, lost=self._count, most=most)

    def _count(self) -> None:
        self.lost += 1

    def fill(self) -> int:
        """Fills the pipe itself: with how much [bytes]."""
        count = 0
        try:
            while True:
                count += os.write(self.writes, b"-" * 4_096)
        except BlockingIOError:
            return count

    def read(self) -> bytes:
        got = b""
        try:
            while part := os.read(self.reads, 65_536):
                got += part
        except BlockingIOError:
            pass
        return got


@pytest.fixture
def pipe() -> Iterator[Pipe]:
    found = Pipe(10)
    yield found
    found.sink.close()
    os.close(found.reads)
    os.close(found.writes)


def test_lines_are_written_at_once_and_the_descriptor_stays_open(pipe: Pipe) -> None:
    assert pipe.sink.write(b"one\n") == 4
    assert pipe.read() == b"one\n"
    pipe.sink.close()
    assert os.write(pipe.writes, b"two\n") == 4


def test_what_fits_is_held_in_its_order_and_what_doesnt_is_lost_whole(
    pipe: Pipe, caplog: pytest.LogCaptureFixture
) -> None:
    filled = pipe.fill()
    for line in (b"one\n", b"three\n", b"lost\n", b"\n", b"four\n"):
        assert pipe.sink.write(line) == len(line)
    assert pipe.lost == 3
    assert pipe.read() == b"-" * filled
    pipe.sink.write(b"five\n")
    assert (pipe.read(), pipe.lost) == (b"one\nthree\nfive\n", 3)
    assert [(each.levelno, "nobody reads it" in each.message) for each in caplog.records] == [(logging.ERROR, True)]


def test_each_time_that_lines_begin_to_be_lost_it_is_told_once(pipe: Pipe, caplog: pytest.LogCaptureFixture) -> None:
    for times in (1, 2):
        pipe.fill()
        for _ in range(5):
            pipe.sink.write(b"a line\n")
        assert len(caplog.records) == times
        pipe.read()
        pipe.sink.write(b"\n")


def test_a_line_written_in_part_is_ended_before_the_next(pipe: Pipe) -> None:
    longer = b"-" * pipe.fill()  # than the pipe holds
    pipe.read()
    roomy = Sink(pipe.writes, lost=pytest.fail)
    roomy.write(longer + b"one\n")
    assert pipe.read() == longer
    roomy.write(b"two\n")
    assert pipe.read() == b"one\ntwo\n"


def test_lines_of_several_processes_on_one_pipe_stay_whole_however_it_is_read(pipe: Pipe) -> None:
    """What is written at once to a pipe that has less room goes out in part, and the others' lines after it."""
    lines = [b"%c-%d-%b\n" % (name, number, b"." * (97 * number % 400)) for number in range(400) for name in b"ab"]
    sinks = [Sink(pipe.writes, lost=pytest.fail) for _ in b"ab"]
    filled = pipe.fill()
    for line in lines:
        sinks[line[0] - ord("a")].write(line)
    got = b""
    while len(got) < filled + sum(map(len, lines)):
        got += os.read(pipe.reads, 7_000)
        for sink in sinks:
            sink.flush()
        sinks.reverse()
    assert sorted(got[filled:].splitlines(keepends=True)) == sorted(lines)


@pytest.mark.parametrize("length", [TOGETHER - 1, TOGETHER, TOGETHER + 1, 3 * TOGETHER])
def test_lines_as_long_as_are_kept_together_and_longer_ones_are_written_too(length: int, pipe: Pipe) -> None:
    sink = Sink(pipe.writes, lost=pytest.fail)
    filled = pipe.fill()
    lines = [b"a\n", b"-" * (length - 1) + b"\n", b"b\n"]
    for line in lines:
        sink.write(line)
    assert pipe.read() == b"-" * filled
    sink.flush()
    assert pipe.read() == b"".join(lines)


@pytest.mark.skipif(not FULL.exists(), reason="there is no file that is always full here")
def test_a_full_disk_is_told_by_its_name_and_a_file_is_never_made_not_to_wait(
    caplog: pytest.LogCaptureFixture,
) -> None:
    lost: list[None] = []
    with FULL.open("wb") as file, Sink(file.fileno(), lost=lambda: lost.append(None), most=10) as sink:
        for _ in range(4):
            sink.write(b"a line\n")
        assert os.get_blocking(file.fileno())
    assert len(lost) == 3
    assert "No space left on device" in caplog.text


def test_lost_lines_are_counted_among_the_metrics(pipe: Pipe, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(app, "STDOUT", pipe.writes)
    monkeypatch.setattr(app, "Sink", partial(Sink, most=10))
    pipe.fill()
    service = app.create_app(catalogue=load_catalogue(), settings=Settings(), sandbox=())
    for lost in range(3):
        assert f"\njambset_log_lines_lost_total {lost}.0\n" in ask(service, "GET", "/metrics").body.decode()
