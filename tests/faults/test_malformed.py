"""What isn't HTTP/1.1, or only nearly: refused with 400 and the connection closed, or read as the standard reads it.

One reading of where a request ends is what keeps a request from being hidden inside another (RFC 9112, 11.2).
"""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path

import pytest
from tests.faults.served import Served, begin, chunk, post, rest, served, statuses, until

from jambset.http.addresses import ADVICE, BULK

HOST = b"Host: a\r\n"
GET = b"GET /health/live HTTP/1.1\r\n" + HOST
POST = f"POST {ADVICE} HTTP/1.1\r\n".encode() + HOST + b"Content-Type: application/json\r\n"
CHUNKED = POST + b"Transfer-Encoding: chunked\r\n"
HIDDEN = GET + b"\r\n"
LAST = GET + b"Connection: close\r\n\r\n"
"""Closes the connection once it is answered."""

REFUSED = {
    "a TLS handshake": b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\x00" * 32,
    "the preface of HTTP/2": b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    "no method": b" /health/live HTTP/1.1\r\n" + HOST + b"\r\n",
    "a method that none is": b"BREW /health/live HTTP/1.1\r\n" + HOST + b"\r\n",
    "a version that none is": b"GET /health/live HTTP/9.9\r\n" + HOST + b"\r\n",
    "a tunnel": b"CONNECT a:443 HTTP/1.1\r\n" + HOST + b"\r\n",
    "a NUL in the address": b"GET /health/live\x00 HTTP/1.1\r\n" + HOST + b"\r\n",
    "bytes beyond ASCII in the address": "GET /é HTTP/1.1\r\n".encode() + HOST + b"\r\n",
    "a NUL in a header": GET + b"X: a\x00b\r\n\r\n",
    "a NUL in a header's name": GET + b"X\x00: a\r\n\r\n",
    "no colon": GET + b"X a\r\n\r\n",
    "a space before the colon": GET + b"X : a\r\n\r\n",
    "a folded header": GET + b"X: a\r\n b\r\n\r\n",
    "line feeds alone": GET.replace(b"\r\n", b"\n") + b"\n",
    "carriage returns alone": GET.replace(b"\r\n", b"\r") + b"\r",
    "no host": GET.replace(HOST, b"") + b"\r\n",
    "two hosts": GET + b"Host: b\r\n\r\n",
    "two hosts in HTTP/1.0": GET.replace(b"HTTP/1.1", b"HTTP/1.0") + b"Host: b\r\n\r\n",
    "a length and chunks": POST
    + b"Content-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n"
    + chunk(b"{}")
    + chunk(b""),
    "chunks and a length": CHUNKED + b"Content-Length: 4\r\n\r\n" + chunk(b"{}") + chunk(b""),
    "chunks twice": CHUNKED + b"Transfer-Encoding: chunked\r\n\r\n" + chunk(b"{}") + chunk(b""),
    "chunks by another name": POST + b"Transfer-Encoding: xchunked\r\n\r\n" + chunk(b"{}") + chunk(b""),
    "chunks inside a coding": POST + b"Transfer-Encoding: chunked, gzip\r\n\r\n" + chunk(b"{}") + chunk(b""),
    "a coding before the chunks": POST + b"Transfer-Encoding: gzip, chunked\r\n\r\n" + chunk(b"{}") + chunk(b""),
    "a coding on a line before": POST
    + b"Transfer-Encoding: gzip\r\nTransfer-Encoding: chunked\r\n\r\n"
    + chunk(b"{}")
    + chunk(b""),
    "no coding by name": POST + b"Transfer-Encoding: identity\r\nContent-Length: 2\r\n\r\n{}",
    "two lengths": POST + b"Content-Length: 2\r\nContent-Length: %d\r\n\r\n{}" % (2 + len(HIDDEN)) + HIDDEN,
    "one length twice": POST + b"Content-Length: 2\r\nContent-Length: 2\r\n\r\n{}",
    "a list of lengths": POST + b"Content-Length: 2, 2\r\n\r\n{}",
    "a length below zero": POST + b"Content-Length: -2\r\n\r\n{}",
    "a length with a sign": POST + b"Content-Length: +2\r\n\r\n{}",
    "a length in hexadecimal": POST + b"Content-Length: 0x2\r\n\r\n{}",
    "an empty length": POST + b"Content-Length: \r\n\r\n{}",
    "a length beyond all": POST + b"Content-Length: 99999999999999999999999\r\n\r\n{}",
    "a chunk of no size": CHUNKED + b"\r\nzz\r\n{}\r\n0\r\n\r\n",
    "a chunk below zero": CHUNKED + b"\r\n-2\r\n{}\r\n0\r\n\r\n",
    "a chunk with a prefix": CHUNKED + b"\r\n0x2\r\n{}\r\n0\r\n\r\n",
    "a chunk beyond all": CHUNKED + b"\r\n" + b"f" * 17 + b"\r\n{}\r\n0\r\n\r\n",
    "a chunk longer than it says": CHUNKED + b"\r\n2\r\n{}" + HIDDEN,
    "a length behind the chunks": CHUNKED + b"\r\n2\r\n{}\r\n0\r\nContent-Length: 9\r\n\r\n",
    "chunks with line feeds alone": CHUNKED + b"\r\n2\n{}\n0\n\n",
}
ANSWERED = {
    "one after the other": (post(ADVICE, b"{}") * 3, [422, 422, 422]),
    "no host that one can be": (GET.replace(HOST, b"Host: a@b\r\n") + b"\r\n", [400]),
    "a name and a password in the target": (b"GET http://u:p@a/health/live HTTP/1.1\r\n" + HOST + b"\r\n", [400]),
    "a host in the target and none in its field": (b"GET http://a/health/live HTTP/1.1\r\nHost: a@b\r\n\r\n", [200]),
    "empty lines before it": (b"\r\n\r\n" + GET + b"\r\n", [200]),
    "an address in full": (b"GET http://a/health/live HTTP/1.1\r\n" + HOST + b"\r\n", [200]),
    "all of the service": (b"OPTIONS * HTTP/1.1\r\n" + HOST + b"\r\n", [404]),
    "line ends in the address": (b"GET /v1/rules/a%0d%0aX-Ours:%20b HTTP/1.1\r\n" + HOST + b"\r\n", [404]),
    "no UTF-8 in the address": (b"GET /v1/rules/%ff%fe%00 HTTP/1.1\r\n" + HOST + b"\r\n", [404]),
    "a body nobody asked for": (GET + b"Content-Length: %d\r\n\r\n" % len(HIDDEN) + HIDDEN, [200]),
    "a long body that is refused": (POST + b"Content-Length: 100000\r\n\r\n" + b" " * 100_000, [413]),
    "a word of the chunk's own": (CHUNKED + b"\r\n2;a=b\r\n{}\r\n0\r\n\r\n", [422]),
    "headers behind the chunks": (CHUNKED + b"\r\n2\r\n{}\r\n0\r\nX: y\r\n\r\n", [422]),
    "a question before the body": (POST + b"Expect: 100-continue\r\nContent-Length: 2\r\n\r\n{}", [100, 422]),
    "an expectation nobody knows": (POST + b"Expect: wonders\r\nContent-Length: 2\r\n\r\n{}", [422]),
}
OFFER = b"Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAMAAABkAAQAAP__\r\n"
"""What some clients send with the first request of a connection."""


@pytest.mark.parametrize("how", REFUSED)
def test_what_isnt_a_request_gets_400_and_nothing_after_it_an_answer(how: str, service: Served) -> None:
    said = service.said(REFUSED[how] + LAST)
    assert statuses(said) == [400]
    assert b"\r\nconnection: close\r\n" in said


METHOD = "doesn't begin with a method that is known here"
TOLD = {
    "a method that none is": (b"FOO /v1/limits HTTP/1.1\r\n" + HOST + b"\r\n", 400, "OTHER", METHOD),
    "a method in small letters": (GET.lower() + b"\r\n", 400, "OTHER", METHOD),
    "no host": (GET.replace(HOST, b"") + b"\r\n", 400, "GET", "this one has none"),
    "two hosts": (POST + HOST + b"Content-Length: 2\r\n\r\n{}", 400, "POST", "this one has 2"),
    "a long target": (GET.replace(b"live", b"x" * 66_000) + b"\r\n", 414, "GET", "16384 bytes; this one has 66008."),
    "a tunnel": (b"CONNECT a:443 HTTP/1.1\r\n" + HOST + b"\r\n", 400, "OTHER", "target of the request can't be read"),
    "a NUL in the address": (b"GET /\0 HTTP/1.1\r\n" + HOST + b"\r\n", 400, "GET", "target of the request can't"),
    "a space before the colon": (GET + b"X : a\r\n\r\n", 400, "GET", "isn't a request in HTTP/1.1"),
    "a coding on the way": (POST + b"Transfer-Encoding: gzip, chunked\r\n\r\n", 400, "POST", "may be chunked, once"),
}
"""What is sent, the status and method that it is counted by, and some of what is said of it."""


def test_what_is_wrong_with_it_is_told_logged_and_counted_like_any_refusal(tmp_path: Path) -> None:
    with (tmp_path / "log").open("wb") as log, served(tmp_path, log) as service:
        problems = []
        for sent, status, _, words in TOLD.values():
            head, _, body = service.said(sent + LAST).partition(b"\r\n\r\n")
            problem = json.loads(body)
            assert b"\r\ncontent-type: application/problem+json\r\n" in head
            assert (statuses(head), problem["status"]) == ([status], status)
            assert words in problem["detail"]
            problems.append(problem)
        counts = service.said(LAST.replace(b"/health/live", b"/metrics"))
        service.left()
    lines = [json.loads(line) for line in (tmp_path / "log").read_bytes().splitlines()]
    told = [line for line in lines if line["status"] >= 400]
    assert [(line["status"], line["method"]) for line in told] == [(one[1], one[2]) for one in TOLD.values()]
    assert {line["route"] for line in told} == {"unmatched"}
    assert [f"urn:request-id:{line['request_id']}" for line in told] == [problem["instance"] for problem in problems]
    assert b'jambset_requests_total{method="OTHER",route="unmatched",status="400"} 3.0\n' in counts


def test_so_are_a_head_without_end_a_body_that_breaks_off_and_one_connection_too_many(tmp_path: Path) -> None:
    waits = POST + b"Expect: 100-continue\r\nTransfer-Encoding: chunked\r\n\r\n"
    with (tmp_path / "log").open("wb") as log, served(tmp_path, log, max_connections="1") as service:
        endless = service.said(GET + b"X: " + b"x" * 40_000)
        with service.call() as working:
            working.sendall(waits)
            until(working, b"HTTP/1.1 100 Continue\r\n\r\n")
            beyond = service.said()
            working.sendall(b"zz\r\n")
            broken = rest(working)
        service.left()
    told = [(statuses(said), json.loads(said.partition(b"\r\n\r\n")[2])["code"]) for said in (endless, beyond, broken)]
    assert told == [([431], "headers_too_large"), ([503], "busy"), ([400], "unreadable_body")]
    assert b"\r\nretry-after: 1\r\n" in beyond
    assert all(b"\r\nconnection: close\r\n" in said for said in (endless, beyond, broken))
    lines = [json.loads(line) for line in (tmp_path / "log").read_bytes().splitlines()]
    counted = [(line["route"], line["status"]) for line in lines if line["status"] >= 400]
    assert counted == [("unmatched", 431), ("unmatched", 503), (ADVICE, 400)]


def test_a_stream_that_breaks_off_ends_with_a_line_that_says_so(service: Served, opening: bytes) -> None:
    """And no answer to anything else is put among its lines."""
    with service.call() as caller:
        caller.sendall(begin(BULK, media="application/x-ndjson") + chunk(opening + b"\n"))
        first = until(caller, b"}\n\r\n")
        caller.sendall(b"zz\r\n")
        last = rest(caller)
    assert (statuses(first), statuses(last)) == ([200], [])
    assert last.endswith(b"\r\n0\r\n\r\n")
    end = json.loads(last.splitlines()[1])
    assert (end["code"], end["line"], end["ends"]) == ("unreadable_body", 2, True)


def test_a_head_is_told_no_more_than_that_something_is_wrong(service: Served) -> None:
    said = service.said(b"HEAD /health/live HTTP/1.1\r\n\r\n" + LAST)
    assert (statuses(said), said.endswith(b"\r\n\r\n")) == ([400], True)


def test_what_was_asked_before_it_is_answered_first_and_nothing_after(service: Served) -> None:
    said = service.said(GET + b"\r\n" + post(ADVICE, b"{}") + b"FOO / HTTP/1.1\r\n\r\n", LAST)
    assert statuses(said) == [200, 422, 400]


@pytest.mark.parametrize("how", ANSWERED)
def test_what_is_only_odd_is_answered_and_so_is_what_follows(how: str, service: Served) -> None:
    sent, answers = ANSWERED[how]
    said = service.said(sent + LAST)
    assert statuses(said) == [*answers, 200]
    assert b"\nx-ours" not in said.lower()


def test_nothing_is_answered_after_a_close_and_an_old_version_ends_by_itself(service: Served) -> None:
    assert statuses(service.said(LAST + GET + b"\r\n")) == [200]
    assert statuses(service.said(LAST.replace(b"1.1", b"1.0").replace(b"close", b"keep-alive"))) == [200]


def test_a_word_of_a_chunks_own_may_not_go_on_for_ever(service: Served) -> None:
    """It is in no body, so no limit of bodies holds; its time is that of the body."""
    stretched = CHUNKED + b"\r\n" + b"1;" + b"a" * 65_536 + b"\r\n{\r\n"
    assert statuses(service.said(stretched + b"1\r\n}\r\n0\r\n\r\n" + LAST)) == [422, 200]


FIELD = b"Host: b\r\nContent-Type: text/plain\r\n"


def test_fields_after_a_body_are_passed_over(service: Served, opening: bytes) -> None:
    """Together with its head too, when nobody has looked at that yet."""
    whole = begin(ADVICE, media="application/json") + chunk(opening) + b"0\r\n" + FIELD + b"\r\n"
    assert statuses(service.said(whole + LAST)) == [200, 200]


@pytest.mark.parametrize("more", [b"X: y\r\n" * 30_000, b"X: " + b"y" * 200_000])
def test_nor_may_they_go_on_for_ever(more: bytes, service: Served, opening: bytes) -> None:
    with service.call() as caller:
        caller.sendall(begin(ADVICE, media="application/json") + chunk(opening) + b"0\r\n")
        with suppress(ConnectionError):
            for _ in range(500):
                caller.sendall(more)
            pytest.fail("they were taken")


@pytest.mark.parametrize("together", [True, False])
@pytest.mark.parametrize("offer", [OFFER, b"Connection: upgrade\r\nUpgrade: websocket\r\n"])
def test_an_offer_of_another_protocol_is_passed_over_and_the_body_read(
    offer: bytes, together: bool, service: Served, opening: bytes
) -> None:
    """No part of the body is taken for a request either, though it looks like one."""
    head, _, body = post(ADVICE, opening + b"\r\n" * 9).partition(b"\r\n\r\n")
    head += b"\r\n" + offer + b"\r\n"
    parts = [head + body + LAST] if together else [head, body, LAST]
    assert statuses(service.said(*parts)) == [200, 200]
    lure = POST + offer + b"Content-Length: %d\r\n\r\n" % len(HIDDEN)
    assert statuses(service.said(lure, HIDDEN + LAST)) == [400, 200]


def test_a_stream_in_an_old_version_is_answered_without_chunks(opening: bytes, service: Served) -> None:
    """Not even the end of the answer is marked but by the connection's, so its lines are all there is of it."""
    sent = post(BULK, (opening + b"\n") * 3, media="application/x-ndjson")
    new = service.said(sent.replace(b"Accept", b"Connection: close\r\nAccept"))
    head, _, body = service.said(sent.replace(b"HTTP/1.1", b"HTTP/1.0")).partition(b"\r\n\r\n")
    assert statuses(head + b"\r\n") == [200]
    assert (b"transfer-encoding" in head, b"\r\nconnection: close" in head) == (False, True)
    answers = body.splitlines()
    assert len(answers) == 3
    assert set(answers) == {line for line in new.splitlines() if line.startswith(b"{")}


def test_so_is_one_with_chunks_one_in_an_old_version_and_many_after_each_other(service: Served, opening: bytes) -> None:
    stream = CHUNKED.replace(ADVICE.encode(), BULK.encode()).replace(b"application/json", b"application/x-ndjson")
    said = service.said(stream + OFFER + b"\r\n" + chunk(opening + b"\n") + chunk(b"") + LAST)
    assert (statuses(said), said.count(b'"mark":')) == ([200, 200], 1)
    assert statuses(service.said((GET + OFFER + b"\r\n") * 1_500 + LAST)) == [200] * 1_501
    assert statuses(service.said(LAST.replace(b"1.1", b"1.0").replace(b"\r\n\r\n", b"\r\n" + OFFER + b"\r\n"))) == [200]
