"""A caller that waits for a word before it sends the body: told to go on, or refused without it (RFC 9110, 10.1.1)."""

from __future__ import annotations

import pytest
from tests.faults.served import Served, begin, chunk, rest, statuses, until

from jambset.http.addresses import ADVICE, BULK
from jambset.http.bulk import NDJSON
from jambset.http.negotiate import JSON

EXPECT = "Expect: 100-continue\r\n"
CLOSE = "Connection: close\r\n"


@pytest.mark.parametrize(("path", "media"), [(BULK, NDJSON), (ADVICE, JSON)])
def test_is_told_to_go_on_before_any_answer(path: str, media: str, opening: bytes, service: Served) -> None:
    with service.call() as caller:
        caller.sendall(begin(path, media=media, more=EXPECT + CLOSE))
        assert until(caller, b"\r\n\r\n") == b"HTTP/1.1 100 Continue\r\n\r\n"
        caller.sendall(chunk(opening) + chunk(b""))
        said = rest(caller)
    assert (statuses(said), said.count(b'"mark":')) == ([200], 1)


def test_a_stream_then_flows_as_any_other(opening: bytes, service: Served) -> None:
    with service.call() as caller:
        caller.sendall(begin(BULK, media=NDJSON, more=EXPECT + CLOSE))
        until(caller, b" 100 Continue\r\n\r\n")
        for _ in range(3):
            caller.sendall(chunk(opening + b"\n"))
            assert until(caller, b"}\n\r\n").count(b'"mark":') == 1
        caller.sendall(chunk(b""))
        assert rest(caller) == b"0\r\n\r\n"


@pytest.mark.parametrize("path", [BULK, ADVICE])
def test_a_refusal_asks_for_no_body(path: str, service: Served) -> None:
    with service.call() as caller:
        caller.sendall(begin(path, media="text/csv", more=EXPECT))
        assert statuses(until(caller, b"}")) == [415]


def test_one_who_does_not_wait_is_told_nothing_in_between(opening: bytes, service: Served) -> None:
    said = service.said(begin(BULK, media=NDJSON, more=CLOSE) + chunk(opening) + chunk(b""))
    assert statuses(said) == [200]
