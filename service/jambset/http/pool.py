"""Threads for slow work, and the queue of callers who wait for one.

First come, first served, but a caller may have gone. Where the connection broke, the work is dropped. A caller who only
closed his side of it has probably gone too, yet may still read; his turn comes when nobody else waits. Otherwise
callers who give up and ask again would keep all others waiting for work that nobody wants.
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
    """Queued work. state: of its request's scope."""

    state: Mapping[str, Any]
    steps: Steps[T]
    found: asyncio.Future[T]


class Pool(Generic[T]):
    """A number of threads and their queue, in one event loop."""

    def __init__(self, threads: int, name: str) -> None:
        self._threads = ThreadPoolExecutor(threads, thread_name_prefix=name)
        self._free = threads
        self._waiting: list[Waiting[T]] = []

    async def work(self, steps: Steps[T], scope: Scope, receive: Receive) -> T:
        """The result of a request's work, once its turn has come. Raises what the work raises.

        Raises RequestError, which only the log sees, where the caller went away first.
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
            del found  # its exception holds this frame, and so the body: only the collector frees a cycle

    def _go_on(self) -> None:
        """Start what there is a thread for, and drop what was cancelled."""
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
