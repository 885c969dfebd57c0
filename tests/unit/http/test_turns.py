from __future__ import annotations

import asyncio
from itertools import groupby

from jambset.http.turns import AT_A_TIME, Turns

LOOK = "look"


def order(count: int, *, given_up: frozenset[int] = frozenset()) -> list[int | str]:
    """In which order so many requests that come together work, and when the loop turned in between."""

    async def everything() -> list[int | str]:
        turns, seen = Turns(), list[int | str]()
        loop = asyncio.get_running_loop()

        async def request(number: int) -> None:
            await turns.one()
            seen.append(number)

        def look() -> None:
            seen.append(LOOK)
            loop.call_soon(look)

        requests = [asyncio.create_task(request(number)) for number in range(count)]
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


def test_a_request_alone_works_at_once() -> None:
    assert order(1)[0] == 0


def test_one_that_was_given_up_takes_nobodys_place() -> None:
    found = batches(order(2 * AT_A_TIME + 1, given_up=frozenset({AT_A_TIME, AT_A_TIME + 1})))
    rest = list(range(AT_A_TIME + 2, 2 * AT_A_TIME + 1))
    assert found == [list(range(AT_A_TIME)), rest]


def test_after_a_rush_the_next_one_works_at_once() -> None:
    async def everything() -> bool:
        turns = Turns()
        for _ in range(3):
            await asyncio.gather(*[turns.one() for _ in range(2 * AT_A_TIME)])
        await asyncio.sleep(0)
        later = asyncio.create_task(turns.one())
        await asyncio.sleep(0)
        return later.done()

    assert asyncio.run(everything())
