"""Who waits for a thread: in which order, and what becomes of work that nobody waits for any more."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Coroutine, Iterator
from typing import Any, NamedTuple

import pytest

from jambset.engine.steps import one_step
from jambset.errors import RequestError
from jambset.http.connection import SAYS_NO_MORE
from jambset.http.observe import TOLD
from jambset.http.pool import Pool


class Caller(NamedTuple):
    """One who has asked, and goes away when told."""

    state: dict[str, Any]
    goes: asyncio.Event

    async def receive(self) -> Any:
        """The caller says nothing more but that it goes."""
        await self.goes.wait()
        return {"type": "http.disconnect"}


class Room:
    """A pool of one thread that waits for a gate before anything else. begun: what was begun, in order."""

    def __init__(self) -> None:
        self.gate, self.begun = threading.Event(), list[str]()
        self.pool: Pool[str] = Pool(1, "test")

    def ask(self, name: str, caller: Caller) -> asyncio.Task[str]:
        """What a caller is answered; of the one called gate once it is open."""

        @one_step
        def work() -> str:
            if name == "gate":
                self.gate.wait()
            self.begun.append(name)
            if name == "fault":
                raise ZeroDivisionError
            return name

        scope: Any = {"state": caller.state}
        return asyncio.create_task(self.pool.work(work(), scope, caller.receive))


@pytest.fixture
def room() -> Iterator[Room]:
    made = Room()
    yield made
    made.gate.set()


def _run(talk: Coroutine[Any, Any, None]) -> None:
    asyncio.run(asyncio.wait_for(talk, 60))


def _caller() -> Caller:
    return Caller({}, asyncio.Event())


def test_work_is_done_in_the_order_in_which_it_came(room: Room) -> None:
    async def talk() -> None:
        asked = [room.ask(name, _caller()) for name in ("gate", "fault", "1", "2")]
        await asyncio.sleep(0)
        room.gate.set()
        found = await asyncio.gather(*asked, return_exceptions=True)
        assert [found[0], type(found[1]), *found[2:]] == ["gate", ZeroDivisionError, "1", "2"]
        assert room.begun == ["gate", "fault", "1", "2"]

    _run(talk())


def test_for_one_who_is_gone_nothing_is_begun(room: Room) -> None:
    async def talk() -> None:
        first, gone, stays = _caller(), _caller(), _caller()
        asked = [room.ask(name, caller) for name, caller in (("gate", first), ("gone", gone), ("stays", stays))]
        await asyncio.sleep(0)
        gone.goes.set()
        first.goes.set()
        for one in asked[:2]:
            with pytest.raises(RequestError, match="went away"):
                await one
        room.gate.set()
        assert await asked[2] == "stays"
        assert room.begun == ["gate", "stays"]
        assert [caller.state.get(TOLD) for caller in (first, gone, stays)] == [{"end": "gone"}, {"end": "gone"}, None]

    _run(talk())


def test_nor_for_a_call_that_was_ended(room: Room) -> None:
    async def talk() -> None:
        asked = [room.ask(name, _caller()) for name in ("gate", "ended", "stays")]
        await asyncio.sleep(0)
        asked[1].cancel()
        with pytest.raises(asyncio.CancelledError):
            await asked[1]
        room.gate.set()
        assert [await one for one in (asked[0], asked[2])] == ["gate", "stays"]
        assert room.begun == ["gate", "stays"]

    _run(talk())


def test_one_who_may_be_gone_is_answered_when_nobody_else_waits(room: Room) -> None:
    async def talk() -> None:
        halves = [_caller() for _ in range(2)]
        asked = [room.ask("gate", _caller())]
        asked += [room.ask(f"half {place}", caller) for place, caller in enumerate(halves)]
        asked += [room.ask(name, _caller()) for name in ("1", "2")]
        await asyncio.sleep(0)
        for caller in halves:
            caller.state[SAYS_NO_MORE] = True
        room.gate.set()
        assert await asyncio.gather(*asked) == ["gate", "half 0", "half 1", "1", "2"]
        assert room.begun == ["gate", "1", "2", "half 0", "half 1"]

    _run(talk())
