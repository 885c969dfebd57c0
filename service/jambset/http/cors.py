"""Pages of other origins that may read answers (the CORS protocol of the Fetch standard); none unless named."""

from __future__ import annotations

from collections.abc import Mapping

Header = tuple[bytes, bytes]

ORIGIN, ASKED_METHOD = b"origin", b"access-control-request-method"
ALLOW_METHODS = b"GET, HEAD, POST"
ALLOW_HEADERS = b"Authorization, Content-Type, Content-Encoding, If-None-Match, X-Request-ID, traceparent, tracestate"
EXPOSED = (
    b"ETag, Link, X-Request-ID, WWW-Authenticate, Retry-After, RateLimit, RateLimit-Policy, Content-Disposition, "
    b"Content-Encoding"
)
MAX_AGE = b"600"
"""How long a browser may remember a preflight [s]."""


class Origins:
    """The origins whose pages may read answers. Browsers never send credentials of their own: a key is in a header."""

    def __init__(self, origins: tuple[str, ...]) -> None:
        self._origins = frozenset(origin.encode() for origin in origins)

    def headers(self, headers: Mapping[bytes, bytes]) -> list[Header]:
        """What goes with the answer to a request, so that its page may read it."""
        origin = headers.get(ORIGIN, b"")
        if origin not in self._origins:
            return []
        return [(b"access-control-allow-origin", origin), (b"access-control-expose-headers", EXPOSED)]

    def preflight(self, method: str, headers: Mapping[bytes, bytes]) -> list[Header] | None:
        """The answer to a browser that asks whether it may send a request; None when this is no such question."""
        if method != "OPTIONS" or ORIGIN not in headers or ASKED_METHOD not in headers:
            return None
        if headers[ORIGIN] not in self._origins:
            return []
        return [
            (b"access-control-allow-origin", headers[ORIGIN]),
            (b"access-control-allow-methods", ALLOW_METHODS),
            (b"access-control-allow-headers", ALLOW_HEADERS),
            (b"access-control-max-age", MAX_AGE),
        ]
