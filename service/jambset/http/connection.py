"""A connection whose caller may not take for ever: uvicorn's own sets no end to the head of a request.

The application only sees a request once its head is there, so a head that grows without end or dribbles in, a
connection on which nothing comes at all, and a body that dribbles on after it was refused have to be ended here. How
long a head may be to the byte is the guard's business, and so is the time of a body the body's reader's.
"""

from __future__ import annotations

import asyncio
from typing import Any

from uvicorn.config import Config
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol
from uvicorn.server import ServerState

TOO_LONG = b"HTTP/1.1 431 Request Header Fields Too Large\r\nconnection: close\r\ncontent-length: 0\r\n\r\n"
ROOM = 2
"""A head this many times as long as a header section may be is cut off before its end."""


class Connection(HttpToolsProtocol):
    """head_bytes: longest header section [bytes]. seconds: how long a head may take, or what nobody reads [s]."""

    def __init__(
        self,
        config: Config,
        server_state: ServerState,
        app_state: dict[str, Any],
        _loop: asyncio.AbstractEventLoop | None = None,
        *,
        head_bytes: int,
        seconds: float,
    ) -> None:
        super().__init__(config, server_state, app_state, _loop)
        self._most, self._seconds = head_bytes * ROOM, seconds
        self._in_head = True
        self._heads = self._answers = 0
        self._taken = 0
        self._patience: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Give the first request its time."""
        super().connection_made(transport)
        self._begin_to_wait()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait for nothing more."""
        self._wait_no_more()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Take what came; count it where it is all of one head that hasn't ended."""
        heads, in_head = self._heads, self._in_head
        super().data_received(data)
        if not self._in_head or self.transport.is_closing():
            return
        self._taken += len(data) if in_head and heads == self._heads else 0
        if self._is_idle:
            self._begin_to_wait()
        if self._taken > self._most:
            if self._is_idle:
                self.transport.write(TOO_LONG)
            self.transport.close()

    def on_headers_complete(self) -> None:
        """A head has ended."""
        self._in_head, self._taken = False, 0
        self._heads += 1
        self._wait_no_more()
        super().on_headers_complete()

    def on_message_complete(self) -> None:
        """A request has ended; what comes now is the head of another."""
        self._in_head = True
        self._wait_no_more()
        super().on_message_complete()

    def on_response_complete(self) -> None:
        """An answer has ended; where its body has not, nobody reads it any more."""
        self._answers += 1
        super().on_response_complete()
        if self._is_idle and not self._in_head:
            self._begin_to_wait()

    @property
    def _is_idle(self) -> bool:
        return self._heads == self._answers

    def _begin_to_wait(self) -> None:
        if self._patience is None:
            self._patience = self.loop.call_later(self._seconds, self.transport.close)

    def _wait_no_more(self) -> None:
        if self._patience is not None:
            self._patience.cancel()
            self._patience = None
