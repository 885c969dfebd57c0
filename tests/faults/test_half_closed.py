"""A caller that says that nothing more comes: what it asked for whole is answered, anything else is at an end."""

from __future__ import annotations

import json
import socket

import pytest
from tests.faults.served import Served, begin, chunk, post, rest, statuses, until
from tests.houses import house

from jambset.http.addresses import ADVICE, BULK, HOUSE
from jambset.http.bulk import NDJSON
from jambset.http.negotiate import PDF

LINES = 40


def _body(said: bytes) -> bytes:
    return said.partition(b"\r\n\r\n")[2]


@pytest.fixture(scope="module")
def asked(opening: bytes) -> dict[str, bytes]:
    """Requests, one of them answered at once, others by a thread or bit by bit."""
    rooms = json.dumps(house(6)).encode()
    return {
        "opening": post(ADVICE, opening),
        "house": post(HOUSE, rooms),
        "PDF of a house": post(HOUSE, rooms, accept=PDF),
        "stream": post(BULK, (opening + b"\n") * LINES, media=NDJSON),
        "stream in chunks": begin(BULK, media=NDJSON) + chunk((opening + b"\n") * LINES) + chunk(b""),
    }


@pytest.mark.parametrize("what", ["opening", "house", "PDF of a house", "stream", "stream in chunks"])
def test_what_was_asked_for_whole_is_answered_whole(what: str, asked: dict[str, bytes], service: Served) -> None:
    kept_open = asked[what].replace(b"Host: a\r\n", b"Host: a\r\nConnection: close\r\n")
    halved = service.said(asked[what], ends=True)
    assert statuses(halved) == [200]
    assert len(_body(halved)) > 4_000
    assert _body(halved) == _body(service.said(kept_open))


def test_so_is_all_that_was_asked_for_together(asked: dict[str, bytes], service: Served) -> None:
    said = service.said(asked["house"] + asked["opening"] + asked["stream"] + asked["opening"], ends=True)
    assert statuses(said) == [200] * 4
    assert said.endswith(_body(service.said(asked["opening"], ends=True)))


def test_where_one_more_was_begun_those_before_it_are_answered(asked: dict[str, bytes], service: Served) -> None:
    assert statuses(service.said(asked["house"] + asked["opening"][:30], ends=True)) == [200]


@pytest.mark.parametrize("what", ["opening", "house"])
@pytest.mark.parametrize("whole", [-1, 60, 5, 0])
def test_what_breaks_off_is_not_answered(whole: int, what: str, asked: dict[str, bytes], service: Served) -> None:
    """In its body, in its head, or before it began. whole: where it does."""
    assert service.said(asked[what][:whole], ends=True) == b""


def test_a_stream_that_breaks_off_ends_after_the_lines_that_were_whole(opening: bytes, service: Served) -> None:
    """And without the mark of its end, so that nobody takes it for whole."""
    with service.call() as caller:
        caller.sendall(begin(BULK, media=NDJSON) + chunk(opening + b"\n" + opening[:50]))
        said = until(caller, b"}\n\r\n")
        caller.shutdown(socket.SHUT_WR)
        said += rest(caller)
    assert statuses(said) == [200]
    assert said.count(b'"mark":') == 1
    assert not said.endswith(b"0\r\n\r\n")
