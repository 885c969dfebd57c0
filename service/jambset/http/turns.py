"""Takes requests a few at a time, in the order in which they came, and looks at the network in between.

Without it all requests that came while one was answered are answered before the loop looks at the network again: the
first answer leaves with the last, and new connections, of which the loop accepts one at a time, wait for many rounds.
The few take each step together, which takes less than one after the other; long ones rest between two steps.
"""

from __future__ import annotations

import asyncio
from collections import deque
from typing import Generic, TypeVar

from jambset.engine.steps import Few, Steps

AT_A_TIME = 16
"""Requests worked on together; with fewer each takes longer, with more the first wait for the last."""
SECONDS = 0.005
"""How long the loop works before it looks at the network; sixteen openings take less."""
T = TypeVar("T")


class Turns(Generic[T]):
    """The order of the requests at one address, in one event loop."""

    def __init__(self) -> None:
        self._waiting: deque[tuple[Steps[T], asyncio.Future[T]]] = deque()
        self._now: list[asyncio.Future[T]] = []
        """Who waits for the few."""
        self._few: Few[T] = Few(())
        self._called = False

    async def work(self, steps: Steps[T]) -> T:
        """What the work of a request comes to, once it was its turn. Raises what it raises."""
        loop = asyncio.get_running_loop()
        done: asyncio.Future[T] = loop.create_future()
        self._waiting.append((steps, done))
        self._call(loop)
        return await done

    def _call(self, loop: asyncio.AbstractEventLoop) -> None:
        if not self._called and (self._now or self._waiting):
            self._called = True
            loop.call_soon(self._go_on, loop)

    def _go_on(self, loop: asyncio.AbstractEventLoop) -> None:
        """Work on the few until they are done or it is time to look at the network."""
        self._called = False
        if not self._now:
            self._begin()
        end = loop.time() + SECONDS
        while more := self._few.step():
            if loop.time() > end:
                break
        if not more:
            self._tell()
        self._call(loop)

    def _begin(self) -> None:
        """Take the next few, of those that weren't given up meanwhile."""
        few: list[Steps[T]] = []
        while self._waiting and len(few) < AT_A_TIME:
            steps, done = self._waiting.popleft()
            if not done.done():
                few.append(steps)
                self._now.append(done)
        self._few = Few(few)

    def _tell(self) -> None:
        for done, found in zip(self._now, self._few.found, strict=True):
            if done.done():
                continue  # given up while it was under way
            if isinstance(found, Exception):
                done.set_exception(found)
            else:
                done.set_result(found)
        self._now, self._few = [], Few(())
