"""Answers in HTTP/1.0, which has neither chunks nor interim responses; uvicorn would send both."""

from __future__ import annotations

from typing import Any

from uvicorn.protocols.http.httptools_impl import RequestResponseCycle


def is_old(scope: Any) -> bool:
    """Whether a request came in a version before HTTP/1.1."""
    return str(scope["http_version"]) < "1.1"


def without_chunks(cycle: RequestResponseCycle, app: Any) -> Any:
    """The application without chunks or interim responses (RFC 9112, 6.1; RFC 9110, 15.2).

    An answer without a length ends with the connection. uvicorn holds whatever it sends unchunked to a length, so each
    part's own is given as the expected one.
    """
    cycle.waiting_for_100_continue = cycle.keep_alive = False

    async def answering(scope: Any, receive: Any, send: Any) -> None:
        async def sending(message: Any) -> None:
            if message["type"] == "http.response.start" and b"content-length" not in dict(message["headers"]):
                cycle.chunked_encoding = False
            elif message["type"] == "http.response.body":
                cycle.expected_content_length = len(message.get("body", b""))
            await send(message)

        await app(scope, receive, sending)

    return answering
