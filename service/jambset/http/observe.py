"""One log line, one count and one duration for every request, and the headers every response has.

Wraps the whole application, so that what the router itself refuses is seen as well. Payloads, query
strings and raw paths never reach the log: a path appears as its route's template.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Mapping
from functools import lru_cache
from secrets import token_hex
from typing import Any, BinaryIO

import msgspec
import structlog
from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send
from prometheus_client import CollectorRegistry, Counter, Histogram
from structlog.processors import TimeStamper, format_exc_info
from structlog.typing import EventDict

from jambset.http.fields import fields

Log = Any
"""A structlog logger."""

REQUEST_ID = "request_id"
"""Key of the request's id in the scope's state."""
CALLER = "caller"
"""Key of the name of the caller's key in the scope's state, where it has one."""
TOLD = "told"
"""Key of what else the log says of the request, in the scope's state: a mapping without any text of the caller's."""
ID_BYTES = 16
"""Randomness in an id of ours [bytes]."""
UNMATCHED = "unmatched"
"""Route under which requests without one are counted."""

_SANE_ID = re.compile(rb"[A-Za-z0-9._:@-]{1,128}")
_TRACE = re.compile(rb"(?!ff)[0-9a-f]{2}-(?!0{32})[0-9a-f]{32}-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}")
_TRACE_STATE = re.compile(rb"[\x20-\x7e]{1,512}")
_CORRELATION = ((b"x-request-id", _SANE_ID), (b"traceparent", _TRACE), (b"tracestate", _TRACE_STATE))
"""What a caller may send for correlation, each with the form it must have."""
_stamp = TimeStamper(fmt="iso", utc=True)
_METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})
_BUCKETS = (0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1.0, 2.5, 5.0, 10.0, 30.0, 60.0)
"""Upper bounds [s], as far as anybody waits for a house; beyond them quantiles stay at the last."""
_LINK = (
    b'</openapi.json>; rel="service-desc"; type="application/json", '
    b'</docs>; rel="service-doc"; type="text/html", </health/ready>; rel="status"'
)
_HEADERS: tuple[tuple[bytes, bytes], ...] = (
    (b"link", _LINK),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
)
_POLICY = (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'")


def json_log(stream: BinaryIO) -> Log:
    """A logger that writes one JSON object per line to a binary stream, at once."""
    return structlog.wrap_logger(
        structlog.BytesLogger(stream),
        processors=[_line],
        wrapper_class=structlog.BoundLogger,
    ).bind()


def _line(logger: Any, level: str, event: EventDict) -> bytes:
    """An event as a line. One step in place of the library's four, since every request takes it."""
    event["level"] = level
    stamped = _stamp(logger, level, event)
    return msgspec.json.encode(format_exc_info(logger, level, stamped) if "exc_info" in event else stamped)


class Metrics:
    """Counters of one application, in a registry of its own."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        self._requests = Counter(
            "jambset_requests", "Requests answered.", ("method", "route", "status"), registry=self.registry
        )
        self._seconds = Histogram(
            "jambset_request_seconds",
            "Time from request to end of response.",
            ("method", "route"),
            buckets=_BUCKETS,
            registry=self.registry,
        )

        self._of = lru_cache(maxsize=1024)(self._counters)

    def observe(self, method: str, route: str, status: int, seconds: float) -> None:
        """Count one answered request."""
        requests, durations = self._of(method, route, status)
        requests.inc()
        durations.observe(seconds)

    def _counters(self, method: str, route: str, status: int) -> tuple[Counter, Histogram]:
        """Counter and histogram of a route; looking them up by their labels takes longer than counting."""
        return self._requests.labels(method, route, str(status)), self._seconds.labels(method, route)


RouteOf = Callable[[Scope], str | None]


def nowhere(_: Scope) -> None:
    """The route of any request to an application without a router."""


class Observer:
    """ASGI application around the application.

    route_of: the template of the route of a request that was answered before the router saw it.
    """

    def __init__(self, app: ASGIApp, *, metrics: Metrics, log: Log, route_of: RouteOf = nowhere) -> None:
        self._app, self._route_of = app, route_of
        self._metrics = metrics
        self._log = log

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one connection; only HTTP is observed."""
        if scope["type"] != ScopeType.HTTP:
            await self._app(scope, receive, send)
            return
        exchange = Exchange(scope, send)
        try:
            await self._app(scope, receive, exchange.send)
        finally:
            self._report(exchange)

    def _report(self, exchange: Exchange) -> None:
        seconds = time.perf_counter() - exchange.started
        method, route = exchange.method, exchange.route or self._route_of(exchange.scope) or UNMATCHED
        self._metrics.observe(method, route, exchange.status, seconds)
        self._log.info(
            "request",
            method=method,
            route=route,
            status=exchange.status,
            duration_ms=round(seconds * 1e3, 3),
            bytes=exchange.sent,
            request_id=exchange.request_id,
            **({"caller": exchange.caller} if exchange.caller else {}),
            **({"trace_id": exchange.trace_id} if exchange.trace_id else {}),
            **exchange.told,
        )


class Exchange:
    """One request and its response as they pass."""

    __slots__ = ("_send", "request_id", "scope", "sent", "started", "status", "trace", "trace_state")

    def __init__(self, scope: Any, send: Send) -> None:
        self.started = time.perf_counter()
        self.scope = scope
        self._send = send
        self.status = 500
        """What a response that never started is counted as."""
        self.sent = 0
        given, self.trace, self.trace_state = _correlation(scope["headers"])
        self.request_id = given.decode() if given else token_hex(ID_BYTES)
        scope["state"][REQUEST_ID] = self.request_id

    @property
    def method(self) -> str:
        """The method, or OTHER: a caller can't invent labels."""
        method = str(self.scope["method"])
        return method if method in _METHODS else "OTHER"

    @property
    def route(self) -> str | None:
        """The template of the route that was matched."""
        template: str | None = self.scope.get("path_template")
        return template

    @property
    def caller(self) -> str | None:
        """What the caller's key is called."""
        name: str | None = self.scope["state"].get(CALLER)
        return name

    @property
    def told(self) -> Mapping[str, Any]:
        """What else the log says of the call."""
        told: Mapping[str, Any] = self.scope["state"].get(TOLD, {})
        return told

    @property
    def trace_id(self) -> str | None:
        """The caller's trace id (W3C Trace Context), when there is a valid one."""
        return self.trace.split(b"-")[1].decode() if self.trace else None

    async def send(self, message: Message) -> None:
        """Pass a part of the response on, with the common headers; a HEAD's body is left out here."""
        if message["type"] == "http.response.start":
            self.status = message["status"]
            message["headers"] = self._dressed(list(message["headers"]))
        elif message["type"] == "http.response.body":
            message["body"] = b"" if self.scope["method"] == "HEAD" else message.get("body", b"")
            self.sent += len(message["body"])
        await self._send(message)

    def _dressed(self, headers: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
        """The headers of an answer and those that every answer has; ASGI has their names in lower case."""
        own = () if _POLICY[0] in dict(headers) else (_POLICY,)
        headers += (*_HEADERS, *own, (b"x-request-id", self.request_id.encode()))
        if self.trace:
            headers.append((b"traceparent", self.trace))
            headers += [(b"tracestate", self.trace_state)] if self.trace_state else ()
        return headers


def _correlation(headers: Any) -> tuple[bytes | None, bytes | None, bytes | None]:
    """The caller's request id, traceparent and tracestate, each only where it is well formed."""
    found = fields(headers)
    request_id, trace, state = [
        value if (value := found.get(name)) and form.fullmatch(value) else None for name, form in _CORRELATION
    ]
    return request_id, trace, state
