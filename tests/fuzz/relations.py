"""What has to hold between the answer to a request and those to others that are like it.

Each relation is a function of the service, a request and its answer that asks the other question and compares; it
passes over requests that it says nothing about.
"""

from __future__ import annotations

import csv
import gzip
import io
import json
from collections.abc import Callable
from typing import Any
from xml.etree import ElementTree as ET

import zstandard
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, POSTS, RECHECK, Reply
from tests.fuzz.messages import Message
from tests.fuzz.rewrite import in_millimetres, rewritten, turned
from tests.fuzz.sense import makes_sense
from tests.fuzz.service import LIMITS, Service, conforms, counted

from jambset.http.addresses import BULK
from jambset.http.bulk import NDJSON

Relation = Callable[[Service, Message, Reply], None]

SCHEMAS = {ADVICE: "Advice", RECHECK: "RecheckAdvice", HOUSE: "HouseAdvice", HOUSE_RECHECK: "HouseRecheckAdvice"}
CHANGING = "/metrics"
HEAD_TOO_LARGE = 431
CALLS, CALLS_A_BYTE = 400_000, 30
"""Most calls of functions that a request may take: a sheet takes most of the first, floors that may change some 12 for
each of their bytes."""


def said(reply: Reply) -> tuple[int, bytes]:
    """What is the same for the same: status and body, but for the id of the request, where it is told as such."""
    return reply.status, reply.body.replace(f"urn:request-id:{reply.headers['x-request-id']}".encode(), b"")


def same_again(service: Service, message: Message, reply: Reply) -> None:
    """Equal requests have equal answers."""
    if CHANGING not in message.path:
        assert said(service.ask(message)) == said(reply)


def same_in_parts(service: Service, message: Message, reply: Reply) -> None:
    """In which parts a body comes makes no difference, but for how much of a damaged coding is read before its end."""
    if message.method != "POST" or message.header("content-length") or reply.status == HEAD_TOO_LARGE:
        return  # a length is part of the head
    for size in (7, 61) if len(message.body) < 2_000 else (509,):
        parts = [message.body[place : place + size] for place in range(0, len(message.body), size)]
        other, first = _opened(service.ask(message, parts or [b""])), _opened(reply)
        damaged = message.header("content-encoding") and b'"unreadable_body"' in first[1]
        assert other == first or (damaged and _begin_alike(other[1], first[1]))


def _begin_alike(one: bytes, other: bytes) -> bool:
    """Whether two answers say the same line by line, as far as both go but for the last of each."""
    return all(a == b for a, b in zip(one.splitlines()[:-1], other.splitlines()[:-1], strict=False))


def same_turned(service: Service, message: Message, reply: Reply) -> None:
    """The order of the members of a body makes no difference."""
    _same_rewritten(service, message, reply, turned)


def same_in_millimetres(service: Service, message: Message, reply: Reply) -> None:
    """The unit in which a length is sent makes no difference."""
    _same_rewritten(service, message, reply, in_millimetres)


def _same_rewritten(service: Service, message: Message, reply: Reply, change: Callable[[Any], Any]) -> None:
    if reply.status != 200 or message.path not in POSTS or message.header("content-length"):
        return
    if message.path in (HOUSE, HOUSE_RECHECK) and _refuses_some(service, message):
        return  # what is wrong with an opening is told in the words and the order it was sent in
    body = rewritten(message.body, change)
    assert body is not None, "what isn't JSON was answered"
    if len(body) <= 12_000:
        assert said(service.ask(message._replace(body=body))) == said(reply)


def _refuses_some(service: Service, house: Message) -> bool:
    """Whether any of its openings can't be advised on, whatever form the answer has."""
    plain = service.ask(house._replace(target=house.path).with_header("Accept", "application/json"))
    return plain.status != 200 or bool(plain.json()["totals"]["refused"])


def same_in_a_stream(service: Service, message: Message, reply: Reply) -> None:
    """A line of a stream is answered as it would be alone."""
    if message.path != ADVICE or reply.media_type != "application/json" or b"\n" in message.body:
        return
    headers = (("Content-Type", NDJSON), ("Accept-Language", message.header("accept-language")))
    line = service.ask(Message("POST", BULK, headers, message.body))
    assert (line.status, line.body) == (200, reply.body + b"\n")


def same_coded(service: Service, message: Message, reply: Reply) -> None:
    """A stream that comes packed is answered as it would be unpacked."""
    if message.path != BULK or reply.status != 200 or message.header("content-encoding"):
        return
    plain = Message(*message[:2], tuple(h for h in message.headers if h[0].lower() != "content-length"), message.body)
    for coding, pack in (("gzip", gzip.compress), ("zstd", zstandard.compress)):
        packed = plain._replace(body=pack(message.body)).with_header("Content-Encoding", coding)
        assert _opened(service.ask(packed)) == _opened(reply)


def _opened(reply: Reply) -> tuple[int, bytes]:
    coding = reply.headers.get("content-encoding")
    if coding == "gzip":
        return reply.status, gzip.decompress(reply.body)
    if coding == "zstd":
        return reply.status, zstandard.ZstdDecompressor().decompressobj().decompress(reply.body)
    return said(reply)


def same_without_body(service: Service, message: Message, reply: Reply) -> None:
    """HEAD answers as GET does, without the body; and whoever has the answer is told so."""
    if message.method != "GET" or CHANGING in message.path:
        return
    head = service.ask(message._replace(method="HEAD"))
    assert (head.status, head.body) == (reply.status, b"")
    assert head.headers.get("etag") == reply.headers.get("etag")
    if reply.status == 200 and "etag" in reply.headers:
        assert service.ask(message.with_header("If-None-Match", reply.headers["etag"])).status == 304


def as_the_schema_says(_: Service, message: Message, reply: Reply) -> None:
    """JSON is as the contract says."""
    if reply.media_type == "application/problem+json" and reply.body:
        assert conforms("Problem", reply.json()) == []
    elif reply.media_type == "application/json" and message.path in SCHEMAS:
        assert conforms(SCHEMAS[message.path], reply.json()) == []


def in_good_form(_: Service, message: Message, reply: Reply) -> None:
    """Every other form is one that its readers read."""
    if reply.status == 200 and message.method == "POST" and reply.media_type in _FORMS:
        _FORMS[reply.media_type](reply.body)


def _svg(body: bytes) -> None:
    assert ET.fromstring(body).tag.endswith("svg")


def _csv(body: bytes) -> None:
    rows = [*csv.reader(io.StringIO(body.decode("utf-8-sig"), newline=""))]
    assert {len(row) for row in rows} == {len(rows[0])}


def _calendar(body: bytes) -> None:
    lines = body.split(b"\r\n")
    assert (lines[0], lines[-2:]) == (b"BEGIN:VCALENDAR", [b"END:VCALENDAR", b""])
    assert max(map(len, lines)) <= 75


def _html(body: bytes) -> None:
    text = body.decode("utf-8").lower()
    assert text.startswith("<!doctype html>")
    assert text.rstrip().endswith("</html>")
    assert "<script" not in text


def _pdf(body: bytes) -> None:
    assert body.startswith(b"%PDF-")
    assert body.rstrip().endswith(b"%%EOF")


_FORMS: dict[str, Callable[[bytes], None]] = {
    "image/svg+xml": _svg,
    "text/html": _html,
    "text/csv": _csv,
    "text/calendar": _calendar,
    "application/pdf": _pdf,
    "application/json": json.loads,
}


def within_bounds(service: Service, message: Message, _: Reply) -> None:
    """The work on a request is bounded by its length; of a house, by its length for each opening."""
    with counted() as calls:
        service.ask(message)
    size = LIMITS.max_bulk_bytes if message.header("content-encoding") else len(message.body)
    openings = message.body.count(b'"mark"') if message.path in (HOUSE, HOUSE_RECHECK) else 1
    assert calls() <= CALLS + CALLS_A_BYTE * size * max(1, openings), f"{calls()} calls for {size} bytes"


RELATIONS: tuple[Relation, ...] = (
    same_again,
    same_in_parts,
    same_turned,
    same_in_millimetres,
    same_in_a_stream,
    same_coded,
    same_without_body,
    makes_sense,
    as_the_schema_says,
    in_good_form,
    within_bounds,
)
SLOW = frozenset({as_the_schema_says, within_bounds})
"""Those that take many times as long as an answer does."""
