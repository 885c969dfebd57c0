"""Who may call, how often, by which name, from which pages: all that is checked before an address is looked up.

Stands between the observer, which counts and logs refusals like any other answer, and the application.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache
from ipaddress import AddressValueError, IPv6Address, IPv6Network
from typing import Any

from litestar.enums import ScopeType
from litestar.types import ASGIApp, Message, Receive, Scope, Send

from jambset.errors import (
    HeadersTooLarge,
    MissingKey,
    RequestError,
    TargetTooLong,
    TooManyRequests,
    UnknownResource,
    WrongHost,
)
from jambset.http.calls import reply
from jambset.http.connection import REFUSED
from jambset.http.cors import Header, Origins
from jambset.http.fields import fields
from jambset.http.keys import Keys
from jambset.http.negotiate import PROBLEM_JSON
from jambset.http.observe import CALLER, REQUEST_ID, Log
from jambset.http.problems import encode, headers_of, instance_of, problem_of
from jambset.http.rate import Buckets, Clock, Quota, Standing
from jambset.http.settings import Settings, items

METRICS = "/metrics"
PUBLIC = ("/page/", "/docs", "/problems/", "/health/", "/openapi.json")
"""What anybody may read besides the index: how to call and how the service is, nothing about callers."""
POLICY = "default"
"""Name of the one quota."""
LONGEST_QUERY = 4_096
"""Longest query of a target [bytes]."""
LONGEST_ADDRESS = 64
"""Characters kept of a caller's address, which is whatever X-Forwarded-For says where that is trusted."""
FIELD_BYTES = 4
"""Colon, space and line end of a header field [bytes]."""

_HOST = re.compile(rb"([A-Za-z0-9._~%-]*|\[[0-9A-Fa-f:.]+\])(?::[0-9]*)?")
"""Of the signs that a name may have by RFC 3986 those of a list are left out: a comma parts two hosts here."""

Headers = Mapping[bytes, bytes]


def is_public(path: str) -> bool:
    """Whether a path needs no key and counts for no rate; one that is written oddly does.

    >>> is_public("/docs/assets/docs.js"), is_public("/v1/limits"), is_public("//v1/limits")
    (True, False, False)
    """
    return path == "/" or path.startswith(PUBLIC)


class Guard:
    """ASGI application around the application. Raises SettingsError where callers need a key and there is none."""

    def __init__(self, app: ASGIApp, *, settings: Settings, log: Log, clock: Clock) -> None:
        self._app, self._settings = app, settings
        self._hosts, self._origins = items(settings.allowed_hosts), items(settings.cors_origins)
        self._cors = Origins(self._origins)
        self._keys = Keys(settings, log=log, clock=clock) if settings.needs_key else None
        quota = Quota.of(settings.rate)
        self._buckets = Buckets(quota, clock=clock) if quota else None
        self._dresses = bool(self._origins or self._keys or self._buckets)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a refusal or a preflight, or let the application answer; only HTTP is guarded."""
        if scope["type"] != ScopeType.HTTP:
            await self._app(scope, receive, send)
            return
        headers = fields(scope["headers"])
        dress = Dress(varies=bool(self._origins))
        answering = dress.sending(send) if self._dresses else send
        try:
            self._check(scope, headers)
            if self._origins:
                if (preflight := self._cors.preflight(scope["method"], headers)) is not None:
                    await reply(answering, 204, b"", preflight)
                    return
                dress.added += self._cors.headers(headers)
            if not is_public(scope["path"]):
                self._admit(scope, headers, dress)
        except RequestError as refusal:
            await self._refuse(scope, refusal, answering)
            return
        await self._app(scope, receive, answering)

    def _check(self, scope: Any, headers: Headers) -> None:
        """Raises the connection's refusal, TargetTooLong, HeadersTooLarge, UnknownResource (wrong port), WrongHost.

        Raises RequestError where no Host header looks like that.
        """
        if (fault := scope["state"].get(REFUSED)) is not None:
            raise fault
        refuse_long_head(scope, self._settings.max_header_bytes)
        name = name_of_host(headers.get(b"host", b""))
        if self._hosts and not is_among(name, self._hosts):
            raise WrongHost("The Host header is missing, or names a host that this service doesn't answer for.")
        if (port := self._settings.metrics_port) and (scope["server"][1] == port) != _is_metrics(scope["path"]):
            raise UnknownResource(f"There is nothing at this address here; {METRICS} has a port of its own.")

    def _admit(self, scope: Any, headers: Headers, dress: Dress) -> None:
        """Let a caller pass that has a key and keeps to its rate. Raises MissingKey and TooManyRequests."""
        if self._keys is None:
            caller = line_of(str((scope["client"] or ("",))[0])[:LONGEST_ADDRESS])
        else:
            caller = scope["state"][CALLER] = name_of_caller(headers.get(b"authorization", b""), self._keys.name_of)
            dress.private = True
        if self._buckets is None:
            return
        quota, standing = self._buckets.quota, self._buckets.take(caller)
        dress.added += _rate_headers(quota, standing)
        if not standing.allowed:
            most = f"{quota.requests} requests in {quota.seconds} s"
            detail = f"A caller may send {most}; one more is allowed in {standing.retry} s."
            raise TooManyRequests(detail, retry_seconds=standing.retry)

    async def _refuse(self, scope: Any, refusal: RequestError, send: Send) -> None:
        instance = instance_of(scope["state"][REQUEST_ID])
        problem = problem_of(refusal, instance=instance, base=self._settings.problem_base)
        own = {"Content-Type": PROBLEM_JSON, **headers_of(refusal)}
        headers = [(name.lower().encode(), value.encode()) for name, value in own.items()]
        await reply(send, problem.status, encode(problem), headers)


class Dress:
    """What is added to the headers of an answer. varies: whether it depends on the Origin that asks."""

    def __init__(self, *, varies: bool) -> None:
        self.added: list[Header] = []
        self.varies, self.private = varies, False

    def sending(self, send: Send) -> Send:
        """A send that adds them."""

        async def dressed(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = self._of(list(message["headers"]))
            await send(message)

        return dressed

    def _of(self, headers: list[Header]) -> list[Header]:
        """An answer to a key may be stored by that caller alone: a shared cache would give it to anybody."""
        if self.private:
            headers = [(name, _private(value) if name == b"cache-control" else value) for name, value in headers]
        return [*(_with_origin(headers) if self.varies else headers), *self.added]


def _private(value: bytes) -> bytes:
    return value.replace(b"public", b"private")


def _with_origin(headers: list[Header]) -> list[Header]:
    """The headers with Origin among what the answer varies by, in one field."""
    named = [value for name, value in headers if name == b"vary"]
    others = [header for header in headers if header[0] != b"vary"]
    return [*others, (b"vary", b", ".join([*named, b"Origin"]))]


def refuse_long_head(scope: Any, most: int) -> None:
    """Let a head pass that is short enough. most: target and header section together [bytes].

    Raises TargetTooLong for a query beyond its own limit or a target that is too long by itself, else HeadersTooLarge.
    """
    query = len(scope["query_string"])
    target = len(scope.get("raw_path") or scope["path"]) + query + (query > 0)
    if query > LONGEST_QUERY:
        raise TargetTooLong(f"The query of a target may have {LONGEST_QUERY} bytes; this one has {query}.")
    if target > most:
        raise TargetTooLong(f"A target may have {most} bytes; this one has {target}.")
    if (size := target + size_of(scope["headers"])) > most:
        raise HeadersTooLarge(f"Target and header section together may have {most} bytes; these have {size}.")


def size_of(headers: Iterable[Header]) -> int:
    """Length of a header section as it is sent [bytes].

    >>> size_of([(b"host", b"a.example")])
    17
    """
    return sum([len(name) + len(value) + FIELD_BYTES for name, value in headers])


@lru_cache(maxsize=1_024)
def name_of_host(host: bytes) -> str:
    """What a Host header names, in small letters, without its port and a last dot; nothing where it is empty.

    Raises RequestError for a value that isn't a host with a port or without (RFC 9112, 3.2).
    >>> name_of_host(b"A.Example.:8080"), name_of_host(b"[::1]:"), name_of_host(b"")
    ('a.example', '[::1]', '')
    """
    if (found := _HOST.fullmatch(host)) is None:
        raise RequestError("The Host header, or the target in its place, names no host; write a name, then its port.")
    return found[1].decode("ascii").lower().removesuffix(".")


def is_among(name: str, allowed: tuple[str, ...]) -> bool:
    """Whether a name is one of the hosts.

    >>> is_among("a.example", ("*.example",)), is_among("example", ("*.example",))
    (True, False)
    """
    return any(name == one or (one[0] == "*" and name.endswith(one[1:]) and name != one[1:]) for one in allowed)


def name_of_caller(authorization: bytes, name_of: Callable[[bytes], str | None]) -> str:
    """What the key in an Authorization header is called. Raises MissingKey."""
    scheme, _, key = authorization.partition(b" ")
    if scheme.lower() != b"bearer" or not (key := key.strip()):
        raise MissingKey("Send the header Authorization: Bearer with your key; none came with this request.")
    if (name := name_of(key)) is None:
        raise MissingKey("The key that came with this request isn't one of those this service knows.", unknown=True)
    return name


@lru_cache(maxsize=4_096)
def line_of(address: str) -> str:
    """What stands for an address in rates: of IPv6 its network of 64 bits, which one caller has to himself (RFC 7421).

    >>> line_of("192.0.2.7"), line_of("2001:db8::7"), line_of("::ffff:192.0.2.7"), line_of("no address")
    ('192.0.2.7', '2001:db8::/64', '192.0.2.7', 'no address')
    """
    try:
        found = IPv6Address(address.partition("%")[0])  # what follows names the interface
    except AddressValueError:
        return address
    return str(found.ipv4_mapped or IPv6Network((found, 64), strict=False))


def _is_metrics(path: str) -> bool:
    """The router ignores slashes at both ends, so they don't count here either."""
    return path.strip("/") == METRICS.strip("/")


def _rate_headers(quota: Quota, standing: Standing) -> tuple[Header, Header]:
    """As in draft-ietf-httpapi-ratelimit-headers-10: t is the time until one more is allowed, not until all are."""
    policy = f'"{POLICY}";q={quota.requests};w={quota.seconds}'
    left = f'"{POLICY}";r={standing.remaining};t={standing.more}'
    return (b"ratelimit-policy", policy.encode()), (b"ratelimit", left.encode())
