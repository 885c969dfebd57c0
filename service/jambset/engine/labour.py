"""What the work on one opening costs in minutes: the catalogue's stated assumptions, or the caller's own."""

from __future__ import annotations

from functools import lru_cache

import msgspec
from msgspec import UNSET, Struct

from jambset.engine.facts import Facts
from jambset.engine.handling import lift_for, mass_range, people_needed
from jambset.model.request import Hinges, Labour
from jambset.rules.schema import Catalogue

IN_PLACE, OFF_HINGES, BENCH = "in_place", "off_hinges", "bench"


class Work(Struct, frozen=True, eq=False):
    """Minutes of each step on one opening, both leaves of a pair counted.

    rows: the labour table with the caller's own. people: who lift a leaf. saw: a trim by where it is done.
    set_again: taking the unit out and setting it once more, or another. other_leaf: fitting another leaf as made in its
    frame and hanging it. wish: what a wish given up counts as.
    """

    rows: dict[str, int]
    people: int
    saw: dict[str, int]
    block_legs: int
    trim_legs: int
    set_again: int
    other_leaf: int
    fill_legs: int
    cover_legs: int
    wish: int
    bench_is_least: bool
    """Whether a trim takes no longer on the bench than anywhere else, nor than setting a unit again."""


def work_of(facts: Facts, catalogue: Catalogue) -> Work:
    """The minutes of an opening's steps."""
    leaf = facts.opening.leaf
    return _work(facts.opening.labour, leaf.count, leaf.hinges, hands(facts, catalogue), catalogue)


def hands(facts: Facts, catalogue: Catalogue) -> int:
    """How many people it takes to lift one leaf of this opening."""
    opening = facts.opening
    lift = lift_for(opening.jurisdiction, catalogue)
    return people_needed(mass_range(opening.leaf, catalogue).greatest, lift, opening.leaf.height)


@lru_cache(maxsize=256)
def minutes_of(labour: Labour, catalogue: Catalogue) -> dict[str, int]:
    """The labour table, with the caller's own minutes where given."""
    own = {name: value for name, value in msgspec.structs.asdict(labour).items() if value is not UNSET}
    return {name: row.minutes for name, row in catalogue.labour.items()} | own


@lru_cache(maxsize=256)
def saw_steps(where: str, hinges: Hinges, people: int) -> tuple[str, ...]:
    """Rows of the labour table that a trim of one leaf takes, by where it is done and what the leaf hangs on."""
    if where == BENCH:
        return ("trim_on_bench", "seal_edge")
    if where == IN_PLACE:
        return ("trim_in_place", "seal_edge")
    return ("trim_off_hinges", "seal_edge", *_rehang(hinges, people))


def _rehang(hinges: Hinges, people: int) -> tuple[str, ...]:
    second = ("second_person",) if people > 1 else ()
    if hinges is Hinges.LIFT_OFF:
        return ("rehang_lift_off", *second)
    return ("rehang_leaf", *(("tension_spring",) if hinges is Hinges.SPRING else ()), *second)


@lru_cache(maxsize=256)
def _work(labour: Labour, leaves: int, hinges: Hinges, people: int, catalogue: Catalogue) -> Work:
    rows = minutes_of(labour, catalogue)
    saw = {
        where: leaves * sum([rows[step] for step in saw_steps(where, hinges, people)])
        for where in (BENCH, IN_PLACE, OFF_HINGES)
    }
    return Work(
        rows=rows,
        people=people,
        saw=saw,
        block_legs=rows["block_legs"],
        trim_legs=rows["trim_legs"],
        set_again=rows["reset_unit"],
        other_leaf=leaves * sum([rows[step] for step in ("fit_leaf", *_rehang(hinges, people))]),
        fill_legs=rows["fill_legs"],
        cover_legs=rows["cover_legs"],
        wish=_wish(rows, saw[BENCH]),
        bench_is_least=saw[BENCH] <= min(saw[IN_PLACE], saw[OFF_HINGES], rows["reset_unit"]),
    )


def _wish(rows: dict[str, int], bench: int) -> int:
    """A wish given up counts as all the bench work that could have kept it, and a minute more.

    So a wish is never given up where the bench can keep it, as when each floor is certain, and is given up
    where keeping it would take longer than that once the leaf hangs.
    """
    return rows["block_legs"] + rows["trim_legs"] + bench + 1
