"""The path every POST takes: raw body in, encoded bytes out, nothing of the framework between.

Size, media types, query and method are checked before a byte of the body is decoded.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from litestar import asgi
from litestar.exceptions import MethodNotAllowedException
from litestar.handlers import ASGIRouteHandler
from litestar.types import Receive, Scope, Send

from jambset.engine.steps import Steps
from jambset.errors import BodyTooLarge, SlowBody, UnreadableBody
from jambset.http.connection import ARRIVED, REFUSED
from jambset.http.fields import fields, text
from jambset.http.languages import choose_language
from jambset.http.negotiate import choose, require_json
from jambset.http.pages import read_query
from jambset.http.pool import Pool
from jambset.http.room import Room, Take
from jambset.http.turns import Turns
from jambset.render.language import LANGUAGES, Language


class Negotiated(NamedTuple):
    """What a request and this service agreed on: media type and language of the answer, and the query parameters."""

    media_type: str
    language: Language
    query: Mapping[str, str]


class Limit(NamedTuple):
    """How long a body may be [bytes], how long it may take to arrive [s], and where there is room for it."""

    length: int
    seconds: float
    room: Room


class Content(NamedTuple):
    """An answer ready to send. headers: beside those every answer has."""

    data: bytes
    media_type: str
    headers: tuple[tuple[bytes, bytes], ...] = ()


Work = Callable[[bytes, Negotiated], Steps[Content]]
"""From a body and what was negotiated to the answer. Raises RequestError."""

DRAWN = ((b"content-security-policy", b"default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"),)
"""Headers of what a browser may show: it runs nothing and loads nothing."""
NOT_STORED = (b"cache-control", b"no-store")
ADVICE_HEADERS: tuple[tuple[bytes, bytes], ...] = (NOT_STORED, (b"vary", b"Accept, Accept-Language"))
"""Headers of every advice."""
ALLOW = "OPTIONS, POST"
_NO_QUERY: Mapping[str, tuple[str, ...]] = {}


def saved(data: bytes, media_type: str, name: str) -> Content:
    """An answer to be saved as a file. name: its name, of letters, dots and underscores alone."""
    return Content(data, media_type, ((b"content-disposition", f'attachment; filename="{name}"'.encode()),))


def json_call(
    path: str,
    work: Work,
    *,
    offers: Sequence[str],
    limit: Limit,
    query: Mapping[str, tuple[str, ...]] = _NO_QUERY,
    pool: Pool[Content] | None = None,
    at_once: frozenset[str] = frozenset(),
) -> ASGIRouteHandler:
    """A POST that reads JSON and answers one of the offered media types.

    query: parameters it takes, each with its allowed values. pool: threads for the work; without one it runs on the
    event loop, which answers little else meanwhile. at_once: media types made too fast for a pool to be of use.
    """
    offered = tuple(offers)
    turns: Turns[Content] = Turns()

    async def call(scope: Scope, receive: Receive, send: Send) -> None:
        if not await is_post(scope, send):
            return
        headers = fields(scope["headers"])
        require_json(text(headers, b"content-type"), text(headers, b"content-encoding"))
        chosen = choose(text(headers, b"accept"), offered)
        language = LANGUAGES[choose_language(text(headers, b"accept-language"))]
        parameters = read_query(scope["query_string"], query) if scope["query_string"] else {}
        asked = Negotiated(chosen, language, parameters)
        with limit.room.share() as take:
            body = await read_body(scope, receive, take, length=headers.get(b"content-length"), limit=limit)
            if pool is None or chosen in at_once:
                content = await turns.work(work(body, asked))
            else:
                content = await pool.work(work(body, asked), scope, receive)
        own = ((b"content-type", content.media_type.encode()), (b"content-language", language.code.encode()))
        await reply(send, 200, content.data, (*own, *ADVICE_HEADERS, *content.headers))

    return asgi(path, copy_scope=False)(call)


async def is_post(scope: Any, send: Send) -> bool:
    """Whether the method is POST; OPTIONS is answered here. Raises MethodNotAllowedException for others."""
    if scope["method"] == "POST":
        return True
    if scope["method"] != "OPTIONS":
        raise MethodNotAllowedException(headers={"Allow": ALLOW})
    await reply(send, 204, b"", ((b"allow", ALLOW.encode()),))
    return False


async def read_body(scope: Scope, receive: Receive, take: Take, *, length: bytes | None, limit: Limit) -> bytes:
    """The whole body, chunked or not. length: the Content-Length, where there is one.

    Raises BodyTooLarge as soon as it is known to be longer than its limit, SlowBody when it isn't there in time,
    UnreadableBody when it breaks off or the caller goes away, and Busy when there is no room for it or the service
    is stopping.
    """
    if length is not None and length.isdigit() and int(length[:19]) > limit.length:
        raise _too_large(limit.length)
    if ARRIVED in scope["state"]:  # as most have: then a timer takes longer than reading
        return await _gathered(scope, receive, take, limit.length)
    try:
        async with asyncio.timeout(limit.seconds):
            return await _gathered(scope, receive, take, limit.length)
    except TimeoutError:
        raise too_slow(limit.seconds) from None


async def _gathered(scope: Scope, receive: Receive, take: Take, most: int) -> bytes:
    parts: list[bytes] = []
    left = most
    while True:
        message: Any = await receive()
        if message["type"] == "http.disconnect":
            raise UnreadableBody("The connection ended before the body did.")
        check_body(scope)
        parts.append(part := message.get("body", b""))
        if (left := left - len(part)) < 0:
            raise _too_large(most)
        take(len(part))
        if not message.get("more_body", False):
            return b"".join(parts)


def check_body(scope: Any) -> None:
    """Raises UnreadableBody or Busy where the connection has told why no more of the body is read."""
    if (fault := scope["state"].get(REFUSED)) is not None:
        raise fault


def _too_large(most: int) -> BodyTooLarge:
    return BodyTooLarge(f"The body may have {most} bytes; this one has more. GET /v1/limits lists all limits.")


def too_slow(seconds: float) -> SlowBody:
    """The refusal of a body that wasn't there in time."""
    most = f"{seconds:g} s"
    return SlowBody(f"A body, or the next part of a stream, may take {most} to arrive; this one took longer.")


async def reply(send: Send, status: int, content: bytes, headers: Iterable[tuple[bytes, bytes]]) -> None:
    """Send a whole answer."""
    length = () if status == 204 else ((b"content-length", str(len(content)).encode()),)
    await send({"type": "http.response.start", "status": status, "headers": [*headers, *length]})
    await send({"type": "http.response.body", "body": content, "more_body": False})
