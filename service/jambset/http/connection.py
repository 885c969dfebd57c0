"""A connection whose caller can neither keep it for ever nor hold what others need.

uvicorn's own has no limit on the head of a request, on an answer that nobody takes, on the number of connections, nor
on what is under way when the service is told to stop. The application sees a request only once its head is complete,
so heads and trailers without end, requests without number that wait for earlier answers, connections on which nothing
comes, and bodies that dribble on after a refusal have to be ended here. uvicorn also closes at once after a last
answer, and bytes that still arrive then reset the connection, often before the answer was read. The exact length of a
head is the guard's business, the time of a body its reader's. Whatever is refused here is handed to the application to
refuse, so that it is answered, counted and logged like any other refusal.
"""

from __future__ import annotations

import asyncio
import re
import socket
from collections.abc import Callable
from typing import Any, NamedTuple

import httptools
from uvicorn.config import Config
from uvicorn.protocols.http.flow_control import FlowControl
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol, RequestResponseCycle
from uvicorn.server import ServerState

from jambset.errors import Busy, HeadersTooLarge, RequestError, TargetTooLong, UnreadableBody
from jambset.http.crowd import Crowd
from jambset.http.old_version import is_old, without_chunks

ROOM = 2
"""A head is cut off, unfinished, at this many times the longest header section."""
REFUSED = "refused"
"""Key, in the state of a request's scope, of why it can't be handled, or why no more of its body is read."""
ARRIVED = "arrived"
"""Key, in the state of a request's scope, of whether all of its body is there, so that no reader has to wait."""
SAYS_NO_MORE = "says_no_more"
"""Key, in the state of a request's scope, of whether its caller closed his side of the connection, and may be gone."""
LONGEST_TARGET = 65_535
"""Longest target that the parser takes [bytes], however long a head is allowed."""
NO_REQUEST = "This isn't a request in HTTP/1.1."
NO_METHOD = "The request doesn't begin with a method that is known here; methods are written in capital letters."
NO_TARGET = "The target of the request can't be read."
CHUNKED = b"chunked"
NO_CODING = "Transfer-Encoding may be chunked, once and alone; name gzip or zstd of a stream as Content-Encoding."
NO_BODY = "The body broke off: what came isn't the next of its chunks, or fields after them have no end."
FULL = "As many connections are open as there may be, and all of them have work."
LEAVING = "The service is stopping and read nothing more: send again what has no answer."
NAMED = (b"GET", b"HEAD", b"POST")
"""Methods under which refused requests are counted; any other is counted as OTHER."""
MOST_WAITING = 32
"""Parsed requests of a connection that wait for earlier answers; each takes some kilobytes."""
PIECE = 8_192
"""How much is parsed at once [bytes]; a few requests more than MOST_WAITING may begin in it."""
TOLD_AFTER = 0.8
"""The part of the time to stop after which calls still under way are told to end."""


class Bounds(NamedTuple):
    """Limits of a connection."""

    head_bytes: int
    """Longest header section [bytes]."""
    head_fields: int
    """Most fields of one."""
    seconds: float
    """How long a head may take, a body that nobody reads, or an answer that isn't being taken [s]."""
    drain_seconds: float
    """How long an answer may take once the service was told to stop [s]."""


class Flow(FlowControl):
    """As uvicorn has it, but while received bytes are held unparsed no more is read, whoever asks for it."""

    def __init__(self, transport: asyncio.Transport, held: bytearray) -> None:
        super().__init__(transport)
        self._held = held

    def resume_reading(self) -> None:
        """Read on."""
        if not self._held:
            super().resume_reading()


class Line(asyncio.Transport):
    """What answers are written to. Closing it calls leave: the connection decides when it ends.

    A head that says how long its body is waits for the body, which follows at once, so that both go in one write.
    """

    def __init__(self, transport: asyncio.Transport, leave: Callable[[], None]) -> None:
        super().__init__()
        self._write, self._leave = transport.write, leave
        self.is_closing = transport.is_closing  # type: ignore[method-assign]
        self._head, self._begins = b"", False

    def begin(self) -> None:
        """What is written next is a head."""
        self._begins = True

    def write(self, data: bytes) -> None:  # type: ignore[override]
        """Send a head or a part of a body, or have the head wait."""
        if self._head:
            self._head, data = b"", self._head + data
        elif self._begins:
            self._begins = False
            if _LENGTH in data:
                self._head = data
                return
        self._write(data)

    def flush(self) -> None:
        """Send a head that waits for no body: a HEAD request has none."""
        if self._head:
            self.write(b"")

    def close(self) -> None:
        """Send what waits, and leave."""
        self.flush()
        self._leave()


_LENGTH = b"\r\ncontent-length:"
_ABSOLUTE = re.compile(rb"[A-Za-z][A-Za-z0-9+.-]*://([^/?#]*)")
"""A target in absolute form, with its authority, for which a Host header isn't looked at (RFC 9112, 3.2.2)."""


class Connection(HttpToolsProtocol):
    """One connection among a crowd."""

    def __init__(
        self,
        config: Config,
        server_state: ServerState,
        app_state: dict[str, Any],
        _loop: asyncio.AbstractEventLoop | None = None,
        *,
        bounds: Bounds,
        crowd: Crowd[Connection],
    ) -> None:
        super().__init__(config, server_state, app_state, _loop)
        self._bounds, self._crowd = bounds, crowd
        self._in_head = self._in_fields = True
        self._heads = self._answers = self._progress = 0
        self._fault: RequestError | None = None
        self._taken = 0
        self._held = bytearray()
        self._timer: asyncio.TimerHandle | None = None
        self._running: RequestResponseCycle | None = None
        self._line: Line
        self._leaves = False

    # --- its beginning and its end

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Start the time of the first request, if there is room for one more connection."""
        super().connection_made(transport)
        self.flow = Flow(transport, self._held)
        self._line = Line(transport, self._leave)
        _give_up_after(self._bounds.seconds, transport)
        if len(self.connections) > self._crowd.most and not self._makes_room():
            self._refuse(Busy(FULL))
            return
        self._crowd.rest(self)
        self._start_timer()

    def _makes_room(self) -> bool:
        """End the connection that has been idle longest, so that idle callers keep nobody out."""
        if (other := self._crowd.longest()) is None:
            return False
        self._crowd.leave(other)
        other.transport.abort()
        return True

    def eof_received(self) -> bool:  # type: ignore[override]
        """The caller closed his side. Complete requests are still answered; there is nothing else to answer."""
        if self._is_idle or self._leaves or not self._in_head:
            return False
        self.cycle.keep_alive = False
        for cycle in (self._running, *(waiting for waiting, _ in self.pipeline)):
            if cycle is not None:
                cycle.scope["state"][SAYS_NO_MORE] = True
        return True

    def shutdown(self) -> None:
        """The service was told to stop: close once what was asked for is answered, or the time is up."""
        if not self._leaves:
            super().shutdown()
        self.loop.call_later(TOLD_AFTER * self._bounds.drain_seconds, self._tell_to_leave)

    def _tell_to_leave(self) -> None:
        if self._running is not None:
            _tell_reader(self._running, Busy(LEAVING))
        self.loop.call_later((1 - TOLD_AFTER) * self._bounds.drain_seconds, self.transport.abort)

    def _leave(self) -> None:
        """Close; where the rest of a body may still come, read and drop that first (RFC 9112, 9.6)."""
        if self.transport.is_closing() or self._leaves:
            return
        if self._fault is not None or (self._in_head and not self._held):
            self.transport.close()
            return
        self._leaves = True
        self._held.clear()
        self.transport.write_eof()
        self.flow.resume_reading()
        self._start_timer()
        self._crowd.rest(self)

    def connection_lost(self, exc: Exception | None) -> None:
        """Stop the timers, of which uvicorn leaves one where the caller broke off, and tell the call under way."""
        self._stop_timer()
        self._unset_keepalive_if_required()
        self._crowd.leave(self)
        if self._running is not None and not self._running.response_complete:
            self._running.disconnected = True
            self._running.message_event.set()
        super().connection_lost(exc)

    # --- what comes

    def data_received(self, data: bytes) -> None:
        """Parse what came; count it as long as it is all of one head, or one trailer, that hasn't ended."""
        if self._fault is not None or self._leaves:
            return
        progress, in_fields = self._progress, self._in_fields
        self._unset_keepalive_if_required()
        self._held += data
        self._parse_held()
        if self.transport.is_closing():
            return
        self._taken = self._taken + len(data) if in_fields and progress == self._progress and not self._held else 0
        if self._in_head and self._is_idle:
            self._start_timer()
        if self._taken > self._bounds.head_bytes * ROOM:
            self._refuse_endless()

    def _refuse_endless(self) -> None:
        """Refuse a head that has no end, or a body whose trailer has none."""
        if not self._in_head:
            return self._break_off()
        most = self._bounds.head_bytes
        return self._refuse(HeadersTooLarge(f"Target and header section together may have {most} bytes."))

    def _parse_held(self) -> None:
        """Parse what came, until MOST_WAITING requests wait; the rest is held as it came, and no more is read."""
        while self._held and len(self.pipeline) < MOST_WAITING and not self.transport.is_closing():
            piece = bytes(self._held[:PIECE])
            del self._held[:PIECE]
            self._parse(piece)
        if self._held and not self.transport.is_closing():
            self.flow.pause_reading()

    def _parse(self, data: bytes) -> None:
        while True:
            try:
                return self.parser.feed_data(data)
            except httptools.HttpParserUpgrade as offer:
                data = self._without_offer() + data[offer.args[0] :]
            except httptools.HttpParserError as error:
                if not self._in_head:
                    return self._break_off()
                known = not isinstance(error, httptools.HttpParserInvalidMethodError)
                return self._refuse(_fault_of(error), self.parser.get_method() if known else b"")

    def _refuse(self, fault: RequestError, method: bytes = b"") -> None:
        """Let the application refuse what can't be parsed, in its turn, and take nothing more.

        It is given a request of nothing but the method, for no resource, in HTTP/1.0: its answer ends the connection.
        """
        self._fault = fault
        self._held.clear()
        self._read_anew()
        self.parser.feed_data(b"%b * HTTP/1.0\r\n\r\n" % (method if method in NAMED else b"TRACE"))

    def _break_off(self) -> None:
        """Tell the reader of the body that it broke off, and take nothing more; close where nobody reads it."""
        self._fault = UnreadableBody(NO_BODY)
        self._held.clear()
        if self._is_idle:
            self.transport.close()
        self.cycle.keep_alive = False
        _tell_reader(self.cycle, self._fault)

    def _read_anew(self) -> None:
        self.parser = httptools.HttpRequestParser(self)
        self.parser.set_dangerous_leniencies(lenient_data_after_close=True)

    def _without_offer(self) -> bytes:
        """The head that just ended without its Upgrade field, for another parser (RFC 9110, 7.8).

        The first takes the offer as accepted, and what follows, even a body, as the other protocol's.
        """
        said = (self.parser.get_method(), self.url, self.parser.get_http_version().encode())
        headers = b"".join(b"%b: %b\r\n" % header for header in self.headers if header[0] != b"upgrade")
        self._read_anew()
        return b"%b %b HTTP/%b\r\n%b\r\n" % (*said, headers)

    @property
    def _is_offer(self) -> bool:
        """Whether the parser is about to stop at an offer of another protocol. A tunnel is none: it is refused."""
        return self.parser.should_upgrade() and self.parser.get_method() != b"CONNECT"

    def on_header(self, name: bytes, value: bytes) -> None:
        """A field; one of a trailer is ignored (RFC 9110, 6.5.1). Raises HeadersTooLarge for one too many."""
        if not self._in_head:
            return
        if len(self.headers) == (most := self._bounds.head_fields):
            raise HeadersTooLarge(f"A header section may have {most} fields; this one has more.")
        super().on_header(name, value)

    def on_headers_complete(self) -> None:
        """A head has ended. Raises RequestError for one that can't be handled."""
        if self._is_offer:
            return
        if self._fault is not None:
            self.scope["state"][REFUSED] = self._fault
        self._check_head()
        super().on_headers_complete()
        self._in_head = self._in_fields = False
        self._heads += 1
        self._progress += 1
        self._stop_timer()
        self._crowd.leave(self)

    def _check_head(self) -> None:
        """Refuse what can't be handled. Of a target that names its host, that stands in place of the Host header."""
        if len(self.url) > LONGEST_TARGET:
            most = min(self._bounds.head_bytes, LONGEST_TARGET)
            raise TargetTooLong(f"A target may have {most} bytes; this one has {len(self.url)}.")
        hosts = sum(name == b"host" for name, _ in self.headers)
        if hosts > 1 or (self.parser.get_http_version() == "1.1" and not hosts):
            raise RequestError(
                f"A request in HTTP/1.1 has one Host header (RFC 9112, 3.2); this one has {hosts or 'none'}."
            )
        if (authority := _ABSOLUTE.match(self.url)) is not None:
            self.headers[:] = [header for header in self.headers if header[0] != b"host"]
            self.headers.append((b"host", authority[1]))
        codings = [value.strip().lower() for name, value in self.headers if name == b"transfer-encoding"]
        if codings not in ([], [CHUNKED]):
            raise RequestError(NO_CODING)

    def on_chunk_header(self) -> None:
        """A chunk begins, or the trailer."""
        self._in_fields = True

    def on_body(self, body: bytes) -> None:
        """A part of a body."""
        self._in_fields = False
        self._progress += 1
        super().on_body(body)

    def on_message_complete(self) -> None:
        """A request has ended; what comes now is the head of another."""
        if self._is_offer:
            return
        self._in_head = self._in_fields = True
        self._stop_timer()
        self.scope["state"][ARRIVED] = True
        super().on_message_complete()

    # --- what goes

    def _start_asgi_task(self, cycle: RequestResponseCycle, app: Any) -> None:
        self._running = cycle
        self._line.begin()
        cycle.transport = self._line
        super()._start_asgi_task(cycle, without_chunks(cycle, app) if is_old(cycle.scope) else app)

    def on_response_complete(self) -> None:
        """An answer has ended; if the body of its request has not, nobody reads the rest."""
        self._answers += 1
        self._line.flush()
        if self._leaves:
            return
        super().on_response_complete()
        self._parse_held()
        if not self._is_idle:
            return
        if self in self.connections:
            self._crowd.rest(self)
        if not self._in_head:
            self._start_timer()

    @property
    def _is_idle(self) -> bool:
        return self._heads == self._answers

    def _start_timer(self) -> None:
        if self._timer is None:
            self._timer = self.loop.call_later(self._bounds.seconds, self.transport.close)

    def _stop_timer(self) -> None:
        if self._timer is not None:
            self._timer.cancel()
            self._timer = None


def _tell_reader(cycle: RequestResponseCycle, fault: RequestError) -> None:
    """Say why no more comes, and wake whoever waits for a part of the body."""
    cycle.scope["state"][REFUSED] = fault
    cycle.message_event.set()


def _fault_of(error: httptools.HttpParserError) -> RequestError:
    """The refusal for an error of the parser, or of a check of ours that it called."""
    reason = error.__context__ or error
    if isinstance(reason, RequestError):
        return reason
    if isinstance(reason, httptools.HttpParserInvalidURLError):
        return RequestError(NO_TARGET)
    return RequestError(NO_METHOD if isinstance(reason, httptools.HttpParserInvalidMethodError) else NO_REQUEST)


def _give_up_after(seconds: float, transport: asyncio.Transport) -> None:
    """Let the system end a connection whose caller takes nothing of what is sent for that long; only Linux does."""
    if hasattr(socket, "TCP_USER_TIMEOUT"):
        sock = transport.get_extra_info("socket")
        sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_USER_TIMEOUT, round(1e3 * seconds))
