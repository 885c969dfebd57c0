"""Steps of several works taken together, and what each comes to."""

from __future__ import annotations

import weakref
from typing import Any

import pytest
from tests.houses import house, merged
from tests.openings import catalogue, door, floor, read

from jambset.engine import scenarios
from jambset.engine.assess import assess, assessing, prepare
from jambset.engine.steps import Few, Steps, all_of, one_step, whole

SEEN = list[tuple[str, int]]


def work(name: str, steps: int, seen: SEEN) -> Steps[str]:
    for step in range(steps):
        seen.append((name, step))
        yield
    return name


def together(works: list[Steps[Any]]) -> list[Any]:
    few = Few(works)
    while few.step():
        pass
    return few.found


def test_a_whole_takes_all_steps_of_one() -> None:
    seen: SEEN = []
    assert whole(work("a", 3, seen)) == "a"
    assert seen == [("a", 0), ("a", 1), ("a", 2)]


def test_works_of_different_length_come_to_theirs_in_the_order_asked() -> None:
    seen: SEEN = []
    assert together([work("a", 1, seen), work("b", 3, seen), work("c", 0, seen)]) == ["a", "b", "c"]
    assert seen == [("a", 0), ("b", 0), ("b", 1), ("b", 2)]
    assert together([]) == []


def test_a_fault_ends_its_own_work_only() -> None:
    def faulty() -> Steps[str]:
        yield
        raise LookupError("mine")

    first, fault, third = together([work("a", 3, []), faulty(), work("c", 2, [])])
    assert (first, third) == ("a", "c")
    assert isinstance(fault, LookupError)
    with pytest.raises(LookupError, match="mine"):
        whole(faulty())


def test_a_fault_that_is_told_holds_none_of_the_others() -> None:
    """Nor so itself: what it holds, such as a long body, is freed when whoever is told lets it go."""
    few = Few([one_step(lambda: 1 / 0)()])
    while few.step():
        pass
    (fault,), held = few.found, weakref.ref(few)
    del few
    assert held() is None
    with pytest.raises(ZeroDivisionError):
        raise fault  # type: ignore[misc]


def test_of_many_so_many_take_their_steps_together_and_the_next_come_after_them() -> None:
    seen: SEEN = []
    works = [work("a", 1, seen), work("b", 2, seen), work("c", 1, seen)]
    assert list(all_of(works, together=2)) == ["a", "b", "c"]
    assert seen == [("a", 0), ("b", 0), ("b", 1), ("c", 0)]


def test_of_many_what_the_first_that_fails_raises_ends_them() -> None:
    def faulty(name: str) -> Steps[str]:
        yield
        raise LookupError(name)

    found = all_of([work("a", 1, []), faulty("b"), faulty("c")], together=3)
    assert next(found) == "a"
    with pytest.raises(LookupError, match="b"):
        next(found)


def test_work_of_one_step_begins_with_it() -> None:
    seen: list[int] = []
    steps = one_step(seen.append)(1)
    next(steps)
    assert seen == []
    assert whole(steps) is None
    assert seen == [1]


def test_work_of_one_step_gets_all_that_it_is_called_with() -> None:
    assert whole(one_step(sorted)([1, 3, 2], reverse=True)) == [3, 2, 1]


def test_openings_taken_through_their_steps_together_are_advised_as_each_alone() -> None:
    openings = [read(opening) for opening in merged(house(16, seed=2))]
    assert together([assessing(one, catalogue()) for one in openings]) == [assess(one, catalogue()) for one in openings]


def test_an_opening_whose_floors_may_change_rests_after_each_setting_that_is_priced(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """On a fine tape they are thousands, and each may take as many others into account."""
    priced: list[int] = []
    at = scenarios.Table.at

    def counted(table: scenarios.Table, setting: int) -> scenarios.Choice:
        if setting not in table._known.at:
            priced.append(setting)
        return at(table, setting)

    monkeypatch.setattr(scenarios.Table, "at", counted)
    carpet, plank = floor("carpet_cushion 7/16 in", "carpet 1/2 in"), floor("vinyl_plank 1/4 in")
    opening = read(door(grid="1/64 in", pull_side={**plank, "could_become": [carpet]}, push_side=plank))
    table = prepare(opening, catalogue()).table
    assert table is not None
    assert len(table.plan.candidates) > 20
    between = []
    for _ in assessing(opening, catalogue()):
        between.append(len(priced))
        priced.clear()
    assert max(between) == 1
    assert sum(between) == len(table.plan.candidates)
