from __future__ import annotations

import asyncio
import time
from itertools import groupby

import pytest

from jambset.engine.steps import Steps, one_step
from jambset.http.turns import AT_A_TIME, SECONDS, Turns

LOOK = "look"


def order(count: int, *, given_up: frozenset[int] = frozenset()) -> list[int | str]:
    """In which order so many requests that come together work, and when the loop turned in between."""

    async def everything() -> list[int | str]:
        turns, seen = Turns[None](), list[int | str]()
        loop = asyncio.get_running_loop()

        def look() -> None:
            seen.append(LOOK)
            loop.call_soon(look)

        work = one_step(seen.append)
        requests = [asyncio.create_task(turns.work(work(number))) for number in range(count)]
        loop.call_soon(look)
        await asyncio.sleep(0)
        for number in given_up:
            requests[number].cancel()
        await asyncio.gather(*requests, return_exceptions=True)
        return seen

    return asyncio.run(everything())


def batches(seen: list[int | str]) -> list[list[int | str]]:
    return [list(group) for looked, group in groupby(seen, key=lambda one: one == LOOK) if not looked]


def test_what_comes_together_works_a_few_at_a_time_in_order() -> None:
    found = batches(order(3 * AT_A_TIME + 1))
    assert [one for batch in found for one in batch] == list(range(3 * AT_A_TIME + 1))
    assert [len(batch) for batch in found] == [AT_A_TIME, AT_A_TIME, AT_A_TIME, 1]


def test_one_that_was_given_up_takes_nobodys_place() -> None:
    found = batches(order(2 * AT_A_TIME + 1, given_up=frozenset({0, AT_A_TIME})))
    assert found == [[*range(1, AT_A_TIME), AT_A_TIME + 1], list(range(AT_A_TIME + 2, 2 * AT_A_TIME + 1))]


def test_those_of_one_turn_take_each_step_together() -> None:
    seen: list[str] = []

    def work(name: str) -> Steps[str]:
        for step in "123":
            seen.append(f"{name}{step}")
            yield
        return name

    async def both() -> list[str]:
        turns = Turns[str]()
        return [*await asyncio.gather(turns.work(work("a")), turns.work(work("b")))]

    assert asyncio.run(both()) == ["a", "b"]
    assert seen == ["a1", "b1", "a2", "b2", "a3", "b3"]


def test_a_fault_in_one_is_told_to_who_asked_and_to_nobody_else() -> None:
    async def three() -> list[float | BaseException]:
        turns = Turns[float]()
        work = one_step(lambda number: 1 / number)
        return await asyncio.gather(*[turns.work(work(number)) for number in (1, 0, 2)], return_exceptions=True)

    first, fault, third = asyncio.run(three())
    assert (first, third) == (1, 0.5)
    with pytest.raises(ZeroDivisionError):
        raise fault  # type: ignore[misc]


def test_after_a_rush_the_next_one_works_as_soon_as_the_loop_has_turned() -> None:
    async def everything() -> bool:
        turns, work = Turns[None](), one_step(lambda: None)
        for _ in range(3):
            await asyncio.gather(*[turns.work(work()) for _ in range(2 * AT_A_TIME)])
        later = asyncio.create_task(turns.work(work()))
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        await asyncio.sleep(0)
        return later.done()

    assert asyncio.run(everything())


def test_long_works_rest_between_their_steps_while_the_loop_looks_at_the_network() -> None:
    looks: list[float] = []

    def long() -> Steps[int]:
        for _ in range(20):
            spin(SECONDS / 2)
            yield
        return len(looks)

    async def everything() -> list[int]:
        turns, loop = Turns[int](), asyncio.get_running_loop()

        def look() -> None:
            looks.append(loop.time())
            loop.call_soon(look)

        loop.call_soon(look)
        return [*await asyncio.gather(*[turns.work(long()) for _ in range(3)])]

    assert min(asyncio.run(everything())) >= 10


def spin(seconds: float) -> None:
    end = time.perf_counter() + seconds
    while time.perf_counter() < end:
        pass


def test_who_gives_up_while_his_work_is_under_way_is_told_nothing_and_others_are() -> None:
    async def everything() -> tuple[bool, str]:
        turns = Turns[str]()

        def work() -> Steps[str]:
            for _ in range(20):
                spin(SECONDS / 2)
                yield
            return "done"

        first, second = (asyncio.create_task(turns.work(work())) for _ in range(2))
        for _ in range(4):
            await asyncio.sleep(0)
        first.cancel()
        await asyncio.wait({first})
        return first.cancelled(), await second

    assert asyncio.run(everything()) == (True, "done")
