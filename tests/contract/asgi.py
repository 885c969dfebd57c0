"""Asks an ASGI application as a server would: exact bytes in, exact bytes out."""

from __future__ import annotations

import asyncio
from collections.abc import Coroutine, Mapping, Sequence
from selectors import SelectorKey, SelectSelector
from typing import Any, NamedTuple, TypeVar
from urllib.parse import unquote

import msgspec

from jambset.http import addresses

ADVICE, RECHECK, HOUSE, HOUSE_RECHECK = (
    addresses.ADVICE,
    addresses.RECHECK,
    addresses.HOUSE,
    addresses.HOUSE_RECHECK,
)
POSTS = (ADVICE, RECHECK, HOUSE, HOUSE_RECHECK)
JSON_BODY = {"Content-Type": "application/json"}
T = TypeVar("T")


LONG, GRACE = 1.0, 0.05
"""What would be waited for longer may be a thread at work, which is given this much of real time [s]."""


class _Leap(SelectSelector):
    """Where nothing is there to be read, what would be waited for has passed."""

    passed = 0.0

    def select(self, timeout: float | None = None) -> list[tuple[SelectorKey, int]]:
        if timeout is None:
            return super().select()
        found = super().select(GRACE if timeout > LONG else 0)
        self.passed += 0.0 if found else timeout
        return found


class _Leaping(asyncio.SelectorEventLoop):
    """Its clock leaps to what comes next: a wait takes no time, and no machine is too slow to be in time."""

    def __init__(self) -> None:
        self._leap = _Leap()
        super().__init__(self._leap)

    def time(self) -> float:
        return self._leap.passed


def run(work: Coroutine[Any, Any, T]) -> T:
    """What comes of it, on a loop of its own whose clock stands while something is done and leaps where nothing is.

    Raises TimeoutError where an hour of that clock brings nothing.
    """
    with asyncio.Runner(loop_factory=_Leaping) as runner:
        return runner.run(asyncio.wait_for(work, 3_600))


class Reply(NamedTuple):
    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
        return msgspec.json.decode(self.body)

    @property
    def media_type(self) -> str:
        return self.headers.get("content-type", "").partition(";")[0]


def ask(
    app: Any,
    method: str,
    target: str,
    *,
    headers: Mapping[str, str] | Sequence[tuple[str, str]] | None = None,
    body: bytes = b"",
    chunks: Sequence[bytes] | None = None,
    with_length: bool = True,
    leaves: bool = False,
) -> Reply:
    """One exchange.

    headers: as pairs where a name is sent more than once. chunks: the body in parts, sent without a length; of a caller
    who sends none it is not waited for that he does. leaves: whether the caller is gone after them.
    """
    parts = list(chunks) if chunks is not None else [body]
    lines = headers.items() if isinstance(headers, Mapping) else headers or ()
    raw = [(name.lower().encode(), value.encode("latin-1")) for name, value in lines]
    if chunks is None and with_length:
        raw.append((b"content-length", str(len(body)).encode()))
    goes = run if not parts else asyncio.run
    return goes(exchange(app, method, target, raw, parts, leaves=leaves))


async def exchange(
    app: Any,
    method: str,
    target: str,
    headers: Sequence[tuple[bytes, bytes]],
    parts: Sequence[bytes],
    *,
    leaves: bool = False,
) -> Reply:
    """One exchange on the loop that runs. headers: as they are sent, one of a name after the other."""
    path, _, query = target.partition("?")
    host = [] if any(name == b"host" for name, _ in headers) else [(b"host", b"test")]
    scope = {
        "type": "http",
        "asgi": {"version": "3.0", "spec_version": "2.4"},
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": unquote(path),
        "raw_path": path.encode(),
        "root_path": "",
        "query_string": query.encode(),
        "headers": [*host, *headers],
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 80),
    }
    waiting = [
        {"type": "http.request", "body": part, "more_body": place < len(parts) - 1} for place, part in enumerate(parts)
    ]
    sent: list[Any] = []

    async def receive() -> Any:
        if not waiting and leaves:
            return {"type": "http.disconnect"}
        if not waiting:
            await asyncio.Event().wait()  # the caller stays until it has its answer
        return waiting.pop(0)

    async def send(message: Any) -> None:
        sent.append(message)

    await app(scope, receive, send)
    start, *rest = sent
    found = {name.decode(): value.decode("latin-1") for name, value in start["headers"]}
    assert len(found) == len(start["headers"]), "a header was sent twice"
    return Reply(start["status"], found, b"".join(part.get("body", b"") for part in rest))
