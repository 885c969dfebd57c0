"""Takes requests a few at a time, in the order in which they came, and looks at the network in between.

Without it all requests that came while one was answered are answered before the loop looks at the network again: the
first answer leaves with the last, and new connections, of which the loop accepts one at a time, wait for many rounds.
"""

from __future__ import annotations

import asyncio
from collections import deque

AT_A_TIME = 4
"""Requests between two looks at the network; fewer make the latencies no more even, and looking takes time too."""


class Turns:
    """The order of the requests at one address, in one event loop."""

    def __init__(self) -> None:
        self._waiting: deque[asyncio.Future[None]] = deque()
        self._left = AT_A_TIME

    async def one(self) -> None:
        """Comes back when it is this request's turn, which lasts until it next waits for anything."""
        loop = asyncio.get_running_loop()
        if self._left == AT_A_TIME:
            loop.call_soon(self._go_on, loop)
        if self._left:
            self._left -= 1
            return
        turn: asyncio.Future[None] = loop.create_future()
        self._waiting.append(turn)
        await turn

    def _go_on(self, loop: asyncio.AbstractEventLoop) -> None:
        """Let the next few work that weren't given up meanwhile; runs once the loop has looked at the network."""
        self._left = AT_A_TIME
        while self._waiting and self._left:
            turn = self._waiting.popleft()
            if not turn.done():
                turn.set_result(None)
                self._left -= 1
        if self._left < AT_A_TIME:
            loop.call_soon(self._go_on, loop)
