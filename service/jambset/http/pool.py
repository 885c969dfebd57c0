"""Threads for what takes long, and the callers who wait for one.

First come, first served; but a caller may have gone. One who broke the connection has, and his work isn't begun. One
who ended his side of it has most likely, as whoever closes a connection does, yet he may still want what he asked for
whole; so his turn comes when nobody else waits. Otherwise callers who give up and ask again would keep all others
waiting for work that nobody wants.
"""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import Any, Generic, NamedTuple, TypeVar

from litestar.types import Receive, Scope

from jambset.engine.steps import Steps, whole
from jambset.errors import RequestError
from jambset.http.connection import SAYS_NO_MORE
from jambset.http.observe import TOLD
from jambset.http.tally import GONE

T = TypeVar("T")


class Waiting(NamedTuple, Generic[T]):
    """Work that waits. state: of its caller's request."""

    state: Mapping[str, Any]
    steps: Steps[T]
    found: asyncio.Future[T]


class Pool(Generic[T]):
    """So many threads and who waits for them, in one event loop."""

    def __init__(self, threads: int, name: str) -> None:
        self._threads = ThreadPoolExecutor(threads, thread_name_prefix=name)
        self._free = threads
        self._waiting: list[Waiting[T]] = []

    async def work(self, steps: Steps[T], scope: Scope, receive: Receive) -> T:
        """What the work of a request comes to, once it was its turn. Raises what it raises.

        Raises RequestError, which nobody hears but the log, where the caller went away before.
        """
        found: asyncio.Future[T] = asyncio.get_running_loop().create_future()
        self._waiting.append(Waiting(scope["state"], steps, found))
        self._go_on()
        gone = asyncio.create_task(_gone(receive))
        try:
            await asyncio.wait((found, gone), return_when=asyncio.FIRST_COMPLETED)
            if found.done():
                return found.result()
            scope["state"][TOLD] = {"end": GONE}
            raise RequestError("The caller went away before the answer was there.")
        finally:
            gone.cancel()
            found.cancel()

    def _go_on(self) -> None:
        """Begin what may be begun, and forget what was given up."""
        self._waiting = [one for one in self._waiting if not one.found.done()]
        while self._free and self._waiting:
            one = min(self._waiting, key=lambda one: bool(one.state.get(SAYS_NO_MORE)))
            self._waiting.remove(one)
            self._free -= 1
            done = asyncio.get_running_loop().run_in_executor(self._threads, whole, one.steps)
            done.add_done_callback(partial(self._tell, one.found))

    def _tell(self, found: asyncio.Future[T], done: asyncio.Future[T]) -> None:
        self._free += 1
        fault = done.exception()
        if not found.done():
            if fault is None:
                found.set_result(done.result())
            else:
                found.set_exception(fault)
        self._go_on()


async def _gone(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass
