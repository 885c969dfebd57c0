"""The body of a stream as it comes: read beside the work on it, a few parts ahead, each in its time."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncGenerator, AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

from litestar.types import Receive

from jambset.http.calls import check_body, too_slow

WAITING = 2
"""Parts of a body that are read ahead."""


class Body:
    """The parts of a body as they come, a few of them read ahead, and whether both sides are still there.

    seconds: how long each part may take to come [s].
    """

    def __init__(self, scope: Any, receive: Receive, seconds: float) -> None:
        self._scope, self._receive, self._seconds = scope, receive, seconds
        self._parts: asyncio.Queue[bytes | None] = asyncio.Queue(WAITING)
        self._begun = asyncio.Event()
        self.gone = self._late = False

    @property
    def waits(self) -> bool:
        """Whether nothing more has come yet."""
        return self._parts.empty()

    async def begun(self) -> None:
        """Waits for the first part, or for what stands in its place: that it doesn't come, or that nobody is there.

        The server says 100 once a part is asked for, but never after an answer has begun.
        """
        await self._begun.wait()

    def check(self) -> None:
        """Raises UnreadableBody where the body broke off, Busy where the service has to leave."""
        check_body(self._scope)

    async def follow(self) -> None:
        """Reads parts until the caller goes away; runs beside the work."""
        more = True
        while True:
            try:
                async with asyncio.timeout(self._seconds if more else None):
                    message: Any = await self._receive()
            except TimeoutError:
                self._late = True
                break
            finally:
                self._begun.set()
            if message["type"] == "http.disconnect":
                self.gone = True
                break
            await self._parts.put(message.get("body", b""))
            if more and not message.get("more_body", False):
                more = False
                await self._parts.put(None)
        if more:
            await self._parts.put(None)

    async def parts(self) -> AsyncGenerator[bytes, None]:
        """The parts, to the end of the body or until the caller goes away. Raises SlowBody where one doesn't come."""
        while (part := await self._parts.get()) is not None:
            self.check()
            yield part
        if self._late:
            raise too_slow(self._seconds)


@asynccontextmanager
async def reading(scope: Any, receive: Receive, seconds: float) -> AsyncIterator[Body]:
    """A body that is read beside the work on it. seconds: how long each part may take to come [s]."""
    body = Body(scope, receive, seconds)
    task = asyncio.create_task(body.follow())
    try:
        yield body
    finally:
        task.cancel()
