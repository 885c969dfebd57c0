"""Takes requests a few at a time, in the order in which they came, and looks at the network in between.

Without it all requests that came while one was answered are answered before the loop looks at the network again: the
first answer leaves with the last, and new connections, of which the loop accepts one at a time, wait for many rounds.
The few are worked on together, which takes less than one after the other.
"""

from __future__ import annotations

import asyncio
from collections import deque
from typing import Generic, TypeVar

from jambset.engine.steps import Steps, together

AT_A_TIME = 16
"""Requests between two looks at the network; with fewer each takes longer, with more the first wait for the last."""
T = TypeVar("T")


class Turns(Generic[T]):
    """The order of the requests at one address, in one event loop."""

    def __init__(self) -> None:
        self._waiting: deque[tuple[Steps[T], asyncio.Future[T]]] = deque()
        self._called = False

    async def work(self, steps: Steps[T]) -> T:
        """What the work of a request comes to, once it was its turn. Raises what it raises."""
        loop = asyncio.get_running_loop()
        done: asyncio.Future[T] = loop.create_future()
        self._waiting.append((steps, done))
        self._call(loop)
        return await done

    def _call(self, loop: asyncio.AbstractEventLoop) -> None:
        if self._waiting and not self._called:
            self._called = True
            loop.call_soon(self._go_on, loop)

    def _go_on(self, loop: asyncio.AbstractEventLoop) -> None:
        """Work on the next few that weren't given up meanwhile, then let the loop look at the network."""
        self._called = False
        now: list[tuple[Steps[T], asyncio.Future[T]]] = []
        while self._waiting and len(now) < AT_A_TIME:
            steps, done = self._waiting.popleft()
            if not done.done():
                now.append((steps, done))
        for (_, done), found in zip(now, together([steps for steps, _ in now]), strict=True):
            if isinstance(found, Exception):
                done.set_exception(found)
            else:
                done.set_result(found)
        self._call(loop)
