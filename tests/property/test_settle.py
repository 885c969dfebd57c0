"""The settlement against brute force: every foot and leaf bottom of a small window is tried.

Independent of the engine's intervals: all points of the window are listed, bounds are taken strongest
first, and of the points only those are kept that miss each bound by the fewest whole steps of the tape; a
bound that is of no use in part and can't hold whole is passed over.
What is left is ordered by the foot's distance from the subfloor, then by the leaf bottom.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from typing import NamedTuple

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from jambset.engine.settle import (
    BOTTOM,
    CUT,
    FOOT,
    TOP,
    Bound,
    Settlement,
    on_tape,
    settle_cut,
    settle_order,
    settle_uncut,
)
from jambset.quantity.grid import GRIDS, Grid, finer
from jambset.quantity.ticks import INCH, MM

pytestmark = pytest.mark.covers

STEP = 4
REACH = 3
WINDOW = range(-6 * REACH * STEP, 6 * REACH * STEP + 1, STEP)
"""Wider than any sum of limits that can press on foot or leaf bottom: two limits, the undercut, and room."""

Point = tuple[int, int]
"""Foot and leaf bottom."""


class Kind(NamedTuple):
    """One way to settle, what may be tried for it at all, and the bounds that say something there."""

    settle: Callable[..., Settlement]
    points: Callable[[int], list[Point]]
    bound: frozenset[int]


def _cut(undercut: int) -> list[Point]:
    return [(foot, bottom) for foot, bottom in product(WINDOW, WINDOW) if bottom - foot >= undercut]


def _uncut(undercut: int) -> list[Point]:
    return [(foot, foot + undercut) for foot in WINDOW]


def _order(undercut: int) -> list[Point]:
    return [(foot, bottom) for foot, bottom in product(WINDOW, WINDOW) if bottom >= undercut]


KINDS = {
    "cut": Kind(settle_cut, _cut, frozenset({FOOT, BOTTOM, CUT, TOP})),
    "uncut": Kind(settle_uncut, _uncut, frozenset({FOOT, BOTTOM, TOP})),
    "order": Kind(settle_order, _order, frozenset({FOOT, BOTTOM, TOP})),
}
kinds = pytest.mark.parametrize("name", KINDS)


def value(bound: Bound, point: Point, undercut: int) -> int:
    foot, bottom = point
    return {FOOT: foot, BOTTOM: bottom, CUT: bottom - foot - undercut, TOP: foot + undercut}[bound.on]


def missed(bound: Bound, point: Point, undercut: int) -> int:
    """Fewest whole steps [ticks] by which the bounded height would have to change for the bound to hold."""
    short = bound.limit - value(bound, point, undercut)
    return STEP * max(0, -(-(short if bound.lower else -short) // STEP))


def searched(kind: Kind, bounds: Sequence[Bound], undercut: int) -> tuple[Point, dict[str, int]]:
    """The best point of the window and what it misses of each bound, strongest first."""
    left, amounts = kind.points(undercut), {}
    for bound in (b for b in bounds if b.on in kind.bound):
        misses = [missed(_as_ordered(kind, bound), point, undercut) for point in left]
        fewest = min(misses)
        if not (bound.whole and fewest):
            left = [point for point, miss in zip(left, misses, strict=True) if miss == fewest]
        if fewest:
            amounts[bound.rule] = fewest
    return min(left, key=lambda point: (abs(point[0]), point[1])), amounts


def _as_ordered(kind: Kind, bound: Bound) -> Bound:
    """The undercut of a unit still to be ordered is what lies between foot and bottom: its top is the leaf bottom."""
    return replace(bound, on=BOTTOM) if kind.settle is settle_order and bound.on == TOP else bound


def holds_all(kind: Kind, bounds: Sequence[Bound], undercut: int) -> list[Point]:
    return [
        point
        for point in kind.points(undercut)
        if all(missed(_as_ordered(kind, b), point, undercut) == 0 for b in bounds if b.on in kind.bound)
    ]


def _bounds(limits: st.SearchStrategy[int]) -> st.SearchStrategy[list[Bound]]:
    parts = st.tuples(st.sampled_from([FOOT, BOTTOM, CUT, TOP]), st.booleans(), limits, st.booleans())
    return st.lists(parts, max_size=8).map(lambda rows: [_bound(f"r{place}", *row) for place, row in enumerate(rows)])


def _bound(name: str, on: int, lower: bool, limit: int, whole: bool) -> Bound:
    """Only a least leaf bottom, asked for air's sake, may be one that is met whole or not at all."""
    return Bound(name, on, lower, limit, whole and lower and on == BOTTOM)


on_grid = _bounds(st.integers(-REACH, REACH).map(lambda n: n * STEP))
off_grid = _bounds(st.integers(-REACH * STEP, REACH * STEP))
undercuts = st.integers(0, REACH * STEP)


def _plausible(name: str, bounds: Sequence[Bound]) -> list[Bound]:
    """A leaf that isn't cut keeps any limit on trim of 0 and more; nothing asks for a least trim there."""
    return [b for b in bounds if name != "uncut" or b.on != CUT or (not b.lower and b.limit >= 0)]


def settled(kind: Kind, bounds: Sequence[Bound], undercut: int) -> Settlement:
    return kind.settle(bounds, undercut=undercut, step=STEP)


def _undercut(name: str, undercut: int) -> int:
    return 0 if name == "order" else undercut


def agree(name: str, bounds: Sequence[Bound], undercut: int) -> None:
    kind = KINDS[name]
    found = settled(kind, bounds, undercut)
    point, amounts = searched(kind, bounds, undercut)
    assert ((found.foot, found.bottom), {g.bound.rule: g.amount for g in found.gave_way}) == (point, amounts)


@kinds
@given(bounds=on_grid, undercut=st.integers(0, REACH).map(lambda n: n * STEP))
@settings(max_examples=250)
def test_the_settlement_is_what_a_search_finds(name: str, bounds: list[Bound], undercut: int) -> None:
    agree(name, _plausible(name, bounds), _undercut(name, undercut))


@kinds
@given(bounds=off_grid, undercut=undercuts)
@settings(max_examples=250)
def test_limits_off_the_tape_settle_on_it_to_the_safe_side(name: str, bounds: list[Bound], undercut: int) -> None:
    agree(name, _plausible(name, bounds), _undercut(name, undercut))


@kinds
@given(bounds=off_grid, undercut=undercuts)
@settings(max_examples=150)
def test_a_bound_that_gives_way_can_not_hold_with_the_rules_named_against_it(
    name: str, bounds: list[Bound], undercut: int
) -> None:
    bounds = _plausible(name, bounds)
    undercut = _undercut(name, undercut)
    kind = KINDS[name]
    by_rule = {bound.rule: bound for bound in bounds}
    for given_way in settled(kind, bounds, undercut).gave_way:
        assert given_way.bound.rule not in given_way.against
        assert len(set(given_way.against)) == len(given_way.against)
        assert holds_all(kind, [given_way.bound, *(by_rule[rule] for rule in given_way.against)], undercut) == []


@kinds
@given(bounds=off_grid, undercut=undercuts)
@settings(max_examples=100)
def test_rules_that_stand_against_a_bound_are_stronger(name: str, bounds: list[Bound], undercut: int) -> None:
    found = settled(KINDS[name], bounds, _undercut(name, undercut))
    place = {bound.rule: at for at, bound in enumerate(bounds)}
    for given_way in found.gave_way:
        assert all(place[rule] < place[given_way.bound.rule] for rule in given_way.against)


@kinds
@given(bounds=off_grid, undercut=undercuts)
@settings(max_examples=100)
def test_the_rules_that_hold_a_height_are_why_it_is_no_better(name: str, bounds: list[Bound], undercut: int) -> None:
    # with them alone, and with what gave way held to as nearly as was found, no foot is nearer and no bottom lower
    bounds = _plausible(name, bounds)
    undercut = _undercut(name, undercut)
    kind = KINDS[name]
    found = settled(kind, bounds, undercut)
    for held_by, height in ((found.foot_held_by, "foot"), (found.bottom_held_by, "bottom")):
        possible = _as_near(kind, held_by, found, bounds, undercut)
        if height == "foot":
            assert min(abs(foot) for foot, _ in possible) == abs(found.foot)
        else:
            assert min(bottom for foot, bottom in possible if foot == found.foot) == found.bottom


def _as_near(
    kind: Kind, held_by: Sequence[str], found: Settlement, bounds: Sequence[Bound], undercut: int
) -> list[Point]:
    """Points that keep the rules named and miss those that gave way by no more than was found."""
    gave = {given_way.bound.rule: given_way.amount for given_way in found.gave_way if not given_way.bound.whole}
    taken = [b for b in bounds if b.on in kind.bound and (b.rule in held_by or b.rule in gave)]
    return [
        point
        for point in kind.points(undercut)
        if all(missed(_as_ordered(kind, b), point, undercut) <= gave.get(b.rule, 0) for b in taken)
    ]


@kinds
@given(bounds=off_grid, undercut=undercuts)
@settings(max_examples=100)
def test_a_bound_that_everything_keeps_changes_nothing(name: str, bounds: list[Bound], undercut: int) -> None:
    undercut = _undercut(name, undercut)
    found = settled(KINDS[name], bounds, undercut)
    far = [
        Bound("far", on, lower, 100 * STEP * (-1 if lower else 1))
        for on in (FOOT, BOTTOM, CUT)
        for lower in (True, False)
    ]
    assert settled(KINDS[name], [*bounds, *far], undercut) == found
    assert settled(KINDS[name], [*far, *bounds], undercut) == found


def test_a_unit_to_order_is_not_lifted() -> None:
    lifted = [Bound("cover", FOOT, False, 2 * STEP), Bound("leaf", BOTTOM, True, 3 * STEP)]
    found = settle_order(lifted, undercut=0, step=STEP)
    assert (found.foot, found.bottom, found.gave_way) == (0, 3 * STEP, ())


@pytest.mark.parametrize("lower", [True, False])
def test_what_stands_on_the_subfloor_anyway_is_held_there_by_no_rule(lower: bool) -> None:
    found = settle_uncut([Bound("edge", FOOT, lower, 0)], undercut=0, step=STEP)
    assert (found.foot, found.foot_held_by) == (0, ())


# --- the tape

TAPES = [GRIDS["1/16 in"], GRIDS["1/8 in"], GRIDS["1 mm"], GRIDS["5 mm"]]
near_limits = st.one_of(
    st.integers(-INCH, INCH),
    st.integers(-64, 64).map(lambda n: n * INCH // 64),
    st.integers(-25, 25).map(lambda n: n * MM),
)
tapes = st.sampled_from(TAPES)


def lost(found: Settlement) -> set[Bound]:
    return {given_way.bound for given_way in found.gave_way}


def _close(grid: Grid) -> st.SearchStrategy[list[Bound]]:
    """Limits a few steps apart, where rounding decides."""
    return _bounds(st.integers(-3 * grid.step, 3 * grid.step))


@kinds
@given(bounds=_bounds(near_limits) | _close(TAPES[0]), undercut=st.integers(0, INCH), grid=tapes)
@settings(max_examples=250)
@example(bounds=[Bound("a", BOTTOM, True, 10), Bound("b", BOTTOM, False, 20)], undercut=5, grid=TAPES[0])
def test_no_tape_loses_a_bound_that_can_hold(name: str, bounds: list[Bound], undercut: int, grid: Grid) -> None:
    kind, undercut = KINDS[name], _undercut(name, undercut)
    found, tape = on_tape(kind.settle, bounds, undercut=undercut, grid=grid)
    assert lost(found) <= lost(kind.settle(bounds, undercut=undercut, step=1))
    assert found == kind.settle(bounds, undercut=undercut, step=tape.step)


@kinds
@given(bounds=_close(TAPES[0]), undercut=st.integers(0, INCH), grid=tapes)
@settings(max_examples=200)
def test_no_finer_tape_than_needed(name: str, bounds: list[Bound], undercut: int, grid: Grid) -> None:
    kind, undercut = KINDS[name], _undercut(name, undercut)
    _, tape = on_tape(kind.settle, bounds, undercut=undercut, grid=grid)
    exact = lost(kind.settle(bounds, undercut=undercut, step=1))
    for coarser in finer(grid):
        if coarser == tape:
            break
        assert not lost(kind.settle(bounds, undercut=undercut, step=coarser.step)) <= exact


@given(bounds=on_grid, undercut=st.integers(0, REACH).map(lambda n: n * STEP))
@settings(max_examples=100)
def test_a_leaf_that_may_be_cut_never_keeps_a_bound_worse(bounds: list[Bound], undercut: int) -> None:
    # every uncut door is one that could have been cut, by nothing
    bounds = _plausible("uncut", bounds)
    uncut, cut = (
        {given_way.bound: given_way.amount for given_way in settle(bounds, undercut=undercut, step=STEP).gave_way}
        for settle in (settle_uncut, settle_cut)
    )
    differ = (cut.get(bound, 0) - uncut.get(bound, 0) for bound in bounds)
    assert next((more for more in differ if more), 0) <= 0  # of the strongest bound that they keep differently
