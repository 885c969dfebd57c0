"""Works on requests in small batches, in order of arrival, and lets the event loop poll the network in between.

Otherwise all requests that arrive during one answer are answered before the network is polled again: the first answer
leaves with the last, and new connections, which the loop accepts one at a time, wait for many rounds. A batch takes
each step together, which is faster than one request after another; long requests pause between steps.
"""

from __future__ import annotations

import asyncio
from collections import deque
from typing import Generic, TypeVar

from jambset.engine.steps import Few, Steps

AT_A_TIME = 16
"""Requests in a batch; with fewer each takes longer, with more the first wait for the last."""
SECONDS = 0.005
"""How long a batch may keep the loop from the network [s]; sixteen openings take less."""
T = TypeVar("T")


class Turns(Generic[T]):
    """The order of the requests at one address, in one event loop."""

    def __init__(self) -> None:
        self._waiting: deque[tuple[Steps[T], asyncio.Future[T]]] = deque()
        self._now: list[asyncio.Future[T]] = []
        """Futures of the batch under way."""
        self._few: Few[T] = Few(())
        self._called = False

    async def work(self, steps: Steps[T]) -> T:
        """The result of a request's work, once its turn has come. Raises what the work raises."""
        loop = asyncio.get_running_loop()
        done: asyncio.Future[T] = loop.create_future()
        self._waiting.append((steps, done))
        self._call(loop)
        try:
            return await done
        finally:
            del done  # its exception holds this frame, and so the body: only the collector frees a cycle

    def _call(self, loop: asyncio.AbstractEventLoop) -> None:
        if not self._called and (self._now or self._waiting):
            self._called = True
            loop.call_soon(self._go_on, loop)

    def _go_on(self, loop: asyncio.AbstractEventLoop) -> None:
        """Work on the batch until it is done or its time is up."""
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
        """Form the next batch of requests that weren't cancelled meanwhile."""
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
                continue  # cancelled meanwhile
            if isinstance(found, Exception):
                done.set_exception(found)
            else:
                done.set_result(found)
        self._now, self._few = [], Few(())
