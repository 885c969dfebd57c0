"""What each target is fed: mutants of its inputs that stay mostly right, by a seed.

A mutator takes an input, another one, the longest that the mutant may be, a source of chance, and the engine's own
change of raw bytes, which knows what the code compares with.
"""

from __future__ import annotations

import gzip
import json
import zlib
from collections.abc import Callable
from functools import cache
from random import Random
from typing import Any

import zstandard
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK
from tests.fuzz.messages import Message, read, write
from tests.fuzz.mutate import Mutator, encoded
from tests.fuzz.service import catalogue, contract, sandbox

from jambset.http.addresses import BULK
from jambset.http.bulk import FORMS
from jambset.http.houses import RENDITIONS
from jambset.http.openings import DRAWINGS
from jambset.render.lists import LISTS
from jambset.render.lists_recheck import RECHECK_LISTS

Raw = Callable[[bytes], bytes]
"""Changes bytes blindly."""


def _words(text: str) -> list[str]:
    return text.split(" ")


ROOTS = {ADVICE: "Opening", RECHECK: "Recheck", HOUSE: "House", HOUSE_RECHECK: "HouseRecheck", BULK: "Opening"}
TOKENS = (
    *_words("0 1 2 3 7 8 9 10 11 12 13 16 31 32 33 63 64 99 100 999 1000 99999 0.5 .5 1. 0.0001 25.4 00 01"),
    *_words("1/2 3/4 5/8 15/16 31/32 63/64 1/1 2/2 1/3 8/8 ½ ¾ ⅞ ⅓ - -- + / . , e E _ ٣ １ × x"),
    *_words('in " ″ ft \' ′ mm cm m mm2 cm2 m2 in2 ft2 cfm m3/h L/s Pa inH2O C F km inch IN'),
    " ", " ", "\u00a0", "\t", "\n", "\0",
)  # fmt: skip
HEADERS: dict[str, tuple[str, ...]] = {
    "Accept": (
        *("application/json", *DRAWINGS, *RENDITIONS, *FORMS),
        *("*/*", "text/*;q=0.1, */*;q=0", "a/b", "", "text/html;q=1.5"),
    ),
    "Accept-Language": ("es", "en", "es-MX, en;q=0.1", "*", "de", "es;q=0", "\xff", "en;q=2"),
    "Accept-Encoding": ("gzip", "zstd", "gzip;q=0, *", "br", "identity;q=0", "zstd;q=0.001"),
    "Content-Type": ("application/json", *FORMS, "application/json; charset=utf-8", "application/json; charset=x"),
    "Content-Encoding": ("identity", "gzip", "zstd", "br", "gzip, gzip", " GZIP "),
    "Content-Length": ("0", "1", "-1", "99999999999999999999", "\xb2", "x"),
    "If-None-Match": ("*", '"x"', "W/", ",,,"),
    "X-Request-ID": ("a", "a b", "x" * 129, "urn:x@1.2-3_4", "\xe9"),
    "traceparent": (f"00-{'a' * 32}-{'b' * 16}-01", f"00-{'0' * 32}-{'b' * 16}-01", "ff-1"),
    "tracestate": ("a=1", "x" * 513),
    "Host": ("test", "[::1]:80", "", "a.example:x"),
    "Authorization": ("Bearer x", "Basic eDp5", "Bearer"),
    "Origin": ("https://a.example", "null"),
    "X-Forwarded-For": ("1.2.3.4", "\xff"),
    "Expect": ("100-continue",),
    "X-Long": ("x" * 700,),
}  # fmt: skip
METHODS = ("GET", "HEAD", "POST", "OPTIONS", "PUT", "PATCH", "DELETE", "TRACE", "BREW")


def length(data: bytes, other: bytes, most: int, chance: Random, raw: Raw) -> bytes:
    """A text of a quantity."""
    if chance.random() < 0.2:
        return raw(data)[:most]
    text = data.decode("utf-8", "replace")
    where, end = sorted(chance.randint(0, len(text)) for _ in range(2))
    match chance.choice(("put", "put", "replace", "cross", "new")):
        case "put":
            text = text[:where] + chance.choice(TOKENS) + text[where:]
        case "replace":
            text = text[:where] + chance.choice(TOKENS) + text[end:]
        case "cross":
            text = text[:where] + other.decode("utf-8", "replace")[where:]
        case "new":
            text = "".join(chance.choice(TOKENS) for _ in range(chance.randint(1, 5)))
    return text.encode("utf-8", "replace")[:most]


def body(data: bytes, other: bytes, most: int, chance: Random, raw: Raw) -> bytes:
    """A body of a call, of the kind that it looks like."""
    root = "House" if b'"openings"' in data else "Recheck" if b'"as_set"' in data else "Opening"
    return _document(data, other, root, chance, raw)[:most]


def _document(data: bytes, other: bytes, root: str, chance: Random, raw: Raw) -> bytes:
    document = _parsed(data)
    if document is None or chance.random() < 0.05:
        return raw(data)
    mutator = Mutator(contract(), chance)
    if chance.random() < 0.02:
        return encoded(mutator.fresh(root), chance)
    return encoded(mutator.changed(document, root, _parsed(other)), chance)


def _parsed(data: bytes) -> Any:
    try:
        return json.loads(data)
    except (ValueError, RecursionError):
        return None


def route(data: bytes, other: bytes, most: int, chance: Random, raw: Raw) -> bytes:
    """A request."""
    if chance.random() < 0.02:
        return raw(data)[:most]
    message, second = read(data), read(other)
    for _ in range(chance.choice((1, 1, 2))):
        part = chance.choice(
            (_body, _body, _body, _body, _headers, _target) if message.body else (_headers, _target, _target)
        )
        message = part(message, second, chance, raw)
    return write(message)[:most]


def _body(message: Message, second: Message, chance: Random, raw: Raw) -> Message:
    root = ROOTS.get(message.path, "Opening")
    if message.path != BULK:
        return message._replace(body=_document(message.body, second.body, root, chance, raw))
    lines = _unpacked(message).split(b"\n")
    where = chance.randrange(len(lines))
    match chance.choice(("change", "change", "change", "put", "drop", "double", "blank")):
        case "change":
            lines[where] = _document(lines[where], second.body, root, chance, raw)
        case "put":
            lines.insert(where, chance.choice(second.body.split(b"\n")))
        case "drop":
            del lines[where]
        case "double":
            lines[where:where] = lines[:20]
        case "blank":
            lines.insert(where, chance.choice((b"", b"\r", b" ", b"1", b"{}", b"{" * 300, b"\xff", b" " * 13_000)))
    return _packed(message, b"\n".join(lines), chance, raw)


def _unpacked(message: Message) -> bytes:
    """A body without its coding, or as it is where it can't be opened; no more than a little of it."""
    openers: dict[str, Callable[[bytes], bytes]] = {
        "gzip": lambda data: zlib.decompressobj(31).decompress(data, 65_536),
        "zstd": lambda data: zstandard.ZstdDecompressor().stream_reader(data).read(65_536),
    }
    try:
        return openers.get(message.header("content-encoding"), bytes)(message.body)
    except (zlib.error, zstandard.ZstdError):
        return message.body


def _packed(message: Message, data: bytes, chance: Random, raw: Raw) -> Message:
    """The message with a body in its coding, now and then in another one or damaged."""
    coding = chance.choice(("gzip", "zstd", "")) if chance.random() < 0.1 else message.header("content-encoding")
    if coding == "gzip":
        data = gzip.compress(data, mtime=0)
    elif coding == "zstd":
        data = zstandard.compress(data)
    if coding and chance.random() < 0.2:
        data = chance.choice((raw(data), data[: len(data) // 2], data + data, data + b"x"))
    return message.with_header("Content-Encoding", coding)._replace(body=data)


def _headers(message: Message, _: Message, chance: Random, raw: Raw) -> Message:
    headers = [*message.headers]
    name = chance.choice([*HEADERS])
    value = chance.choice(HEADERS[name])
    match chance.choice(("set", "set", "add", "drop", "spoil")):
        case "set":
            return message.with_header(name, value)
        case "add":
            headers.insert(chance.randint(0, len(headers)), (name, value))
        case "drop" if headers:
            headers.pop(chance.randrange(len(headers)))
        case "spoil" if headers:
            where = chance.randrange(len(headers))
            headers[where] = (headers[where][0], raw(headers[where][1].encode("latin-1"))[:80].decode("latin-1"))
    return message._replace(headers=tuple(headers[:10]))


def _target(message: Message, second: Message, chance: Random, raw: Raw) -> Message:
    path, _, query = message.target.partition("?")
    match chance.choice(("known", "known", "query", "query", "other", "odd", "method")):
        case "known":
            path = chance.choice(addresses())
        case "query":
            query = chance.choice(
                (*queries(), "", f"{query}&{query}", f"{query}&{chance.choice(queries())}", "%ff=%00")
            )
        case "other":
            return second
        case "odd":
            text = raw(path.encode("latin-1")).decode("latin-1")
            path = chance.choice((f"{path}/", f"/{path}", f"{path}/..", path.upper(), path.replace("/v", "/%76"), text))
        case "method":
            return message._replace(method=chance.choice(METHODS))
    return message._replace(target=f"{path}?{query}" if query else path)


@cache
def addresses() -> tuple[str, ...]:
    """Addresses of the contract, and some of each kind that has a name in it."""
    named = (
        *(f"/v1/rules/{rules[0].id}" for rules in catalogue().rules.values()),
        *(f"/v1/sandbox/{one.scenario}" for one in sandbox()[:3]),
        *(f"/problems/{slug}" for slug in ("invalid-request", "busy", "none")),
        *("/v1/rules/%00", "/v1/rules/%ff%fe", "/v1/rules/" + "x" * 300, "/v1/sandbox/%2e%2e", "/v1/rules/us%2Fx"),
        *("/page/assets/page.js", "/docs/assets/docs.js", "/page/assets/..%2fx", "/page", "/v1"),
    )
    return (*(path for path in contract()["paths"] if "{" not in path), *named)


@cache
def queries() -> tuple[str, ...]:
    """Queries that some address takes."""
    calls = [call for path in contract()["paths"].values() for call in path.values()]
    given = [p for call in calls for p in call.get("parameters", ()) if p.get("in") == "query"]
    known = {f"{one['name']}={value}" for one in given for value in one["schema"]["enum"]}
    return (
        *sorted(known),
        *(f"list={name}" for name in {**LISTS, **RECHECK_LISTS}),
        "lang=xx",
        "topic=air%00",
        "a=1&b=2&a=1",
        "topic",
        "=",
        ";",
        "+=%",
    )
