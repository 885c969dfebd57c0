"""Which rules hold a height, and which of two settlements leads."""

from __future__ import annotations

from typing import Any

import pytest

from jambset.engine.settle import (
    BOTTOM,
    CUT,
    FOOT,
    Bound,
    Given,
    Settlement,
    lead,
    settle_cut,
    settle_order,
    settle_uncut,
    surely_ahead,
)

PIN = [Bound("low", FOOT, lower=True, limit=5), Bound("high", FOOT, lower=False, limit=5)]


@pytest.mark.parametrize(("lower", "limit"), [(True, 7), (False, 3)])
def test_a_height_that_two_rules_pin_is_held_by_both_whatever_gives_way(lower: bool, limit: int) -> None:
    found = settle_uncut([*PIN, Bound("lost", FOOT, lower=lower, limit=limit)], undercut=10, step=1)
    assert (found.foot, found.bottom, found.foot_held_by) == (5, 15, ("low", "high"))
    assert [(given.bound.rule, given.amount, given.against) for given in found.gave_way] == [
        ("lost", 2, ("high",) if lower else ("low",))
    ]


def test_one_rule_that_all_else_gives_way_to_holds_alone() -> None:
    found = settle_uncut(
        [Bound("most", FOOT, lower=False, limit=2), Bound("least", FOOT, lower=True, limit=8)], undercut=0, step=1
    )
    assert (found.foot, found.foot_held_by) == (2, ("most",))


def test_legs_and_leaf_of_a_unit_to_order_are_held_each_by_its_own() -> None:
    bounds = [*PIN, Bound("gap", BOTTOM, lower=True, limit=21), Bound("cap", BOTTOM, lower=False, limit=21)]
    found = settle_order(bounds, undercut=0, step=1)
    assert (found.foot, found.bottom) == (5, 21)
    assert (found.foot_held_by, found.bottom_held_by) == (("low", "high"), ("gap", "cap"))


def test_what_legs_to_order_gave_way_to_holds_them() -> None:
    bounds = [Bound("most", FOOT, lower=False, limit=-3), Bound("least", FOOT, lower=True, limit=0)]
    found = settle_order(bounds, undercut=0, step=1)
    assert (found.foot, found.foot_held_by) == (-3, ("most",))


def test_of_two_rules_alike_the_stronger_holds() -> None:
    caps = [Bound(name, BOTTOM, lower=False, limit=20) for name in ("stronger", "weaker")]
    found = settle_cut([*caps, Bound("gap", BOTTOM, lower=True, limit=20)], undercut=10, step=1)
    assert (found.bottom, set(found.bottom_held_by)) == (20, {"stronger", "gap"})


SAW, GAP = Bound("saw", CUT, lower=False, limit=4), Bound("gap", BOTTOM, lower=True, limit=20)


@pytest.mark.parametrize("bounds", [[SAW, GAP], [GAP, SAW]])
def test_a_leaf_is_cut_no_further_than_it_may_be(bounds: list[Bound]) -> None:
    found = settle_cut(bounds, undercut=10, step=1)
    assert (found.foot, found.bottom) == (6, 20)
    assert found.gave_way == ()


def test_a_gap_over_legs_that_may_not_be_lifted_is_cut_beyond_what_the_leaf_takes() -> None:
    """15 from foot to bottom, of which the undercut is 10: 5 come off, where 4 may."""
    found = settle_cut([Bound("cover", FOOT, lower=False, limit=5), GAP, SAW], undercut=10, step=1)
    assert (found.foot, found.bottom) == (5, 20)
    assert found.gave_way == (Given(SAW, 1, ("gap", "cover")),)


def test_no_more_comes_off_than_lies_between_legs_and_cap() -> None:
    """The same 15, at most: 5 can come off, where 6 were to."""
    cap, legs = Bound("cap", BOTTOM, lower=False, limit=20), Bound("legs", FOOT, lower=True, limit=5)
    found = settle_cut([cap, legs, Bound("saw", CUT, lower=True, limit=6)], undercut=10, step=1)
    assert (found.foot, found.bottom) == (5, 20)
    assert [(given.bound.rule, given.amount, given.against) for given in found.gave_way] == [
        ("saw", 1, ("legs", "cap"))
    ]


def test_a_leg_is_held_by_what_was_there_first_and_not_by_what_leaves_it_there() -> None:
    """A foot of 5 is asked for; a gap of 29 under a leaf that gives 14 asks for no other."""
    bounds = [
        Bound("legs", FOOT, lower=True, limit=5),
        Bound("saw", CUT, lower=False, limit=14),
        Bound("gap", BOTTOM, lower=True, limit=29),
    ]
    found = settle_cut(bounds, undercut=10, step=1)
    assert (found.foot, found.bottom, found.foot_held_by) == (5, 29, ("legs",))


STRONG, WISH, WEAK = (Bound(name, BOTTOM, lower=True, limit=0) for name in ("strong", "wish", "weak"))
AIR = Bound("air", BOTTOM, lower=True, limit=0, whole=True)


def settled(*missed: tuple[Bound, int]) -> Settlement:
    """A settlement in which bounds give way by so much."""
    return Settlement(0, 0, tuple(Given(bound, amount, ()) for bound, amount in missed), (), ())


@pytest.mark.parametrize(
    ("one", "other", "ahead", "lead_by"),
    [
        ((), ((STRONG, 12),), True, 12),
        ((), ((STRONG, 11),), False, 11),
        ((), ((STRONG, 3),), False, 3),
        ((), ((WISH, 3),), False, 0),
        ((), ((STRONG, 3), (WISH, 90)), True, 3),
        (((STRONG, 1),), ((STRONG, 4),), False, 0),
        (((STRONG, 1),), ((WEAK, 90),), False, -1),
        (((STRONG, 5),), ((WEAK, 90),), False, -5),
        (((WISH, 1),), ((WEAK, 90),), False, 90),
        (((AIR, 1),), ((WEAK, 90),), False, 90),
        (((STRONG, 2),), ((STRONG, 2), (WEAK, 12)), True, 12),
        (((WEAK, 40),), ((STRONG, 12),), True, 12),
        ((), (), False, 0),
    ],
)
def test_what_keeps_the_strongest_better_leads_and_surely_so_by_three_steps(
    one: tuple[tuple[Bound, int], ...], other: tuple[tuple[Bound, int], ...], ahead: bool, lead_by: int
) -> None:
    """On a tape of 4, where less than three steps may be the tape's doing.

    Less than a step counts of a rule that one of the two keeps, unless it is a wish or of no use in part.
    """
    pair: dict[str, Any] = {"one": settled(*one), "other": settled(*other), "step": 4}
    bounds = [STRONG, AIR, WISH, WEAK]
    assert surely_ahead(bounds, **pair) is ahead
    assert lead(bounds, **pair, wishes=frozenset({"wish"})) == lead_by
