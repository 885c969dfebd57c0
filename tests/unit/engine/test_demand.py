"""What one pair of floors asks for and the ways to mend a setting, each worked by hand."""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import Wire, catalogue, door, floor, read, ticks

from jambset.engine.assess import prepare
from jambset.engine.demand import Mended
from jambset.engine.scenarios import Table

VINYL, PLANK, WOOD = floor("sheet_vinyl 1/8 in"), floor("vinyl_plank 1/4 in"), floor("solid_wood 3/4 in")
CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
NEVER_AGAIN = {"reset_unit": 1440}
"""Minutes at which nobody takes a unit out again."""


def table(pull: Wire, push: Wire, **changes: Any) -> Table:
    found = prepare(read(door(pull_side=pull, push_side=push, **changes)), catalogue(), price=True).table
    assert found is not None
    return found


def mended(at: Table, foot: str, trimmed: str = "0 in") -> Mended:
    return at.mended(0, ticks(foot), ticks(trimmed))


def cut_now(at: Table, foot: str) -> int:
    return max(choice.trim for choice in at.choices(ticks(foot), [0], may_cut=True))


# --- wood on both sides, 1 in of undercut: 1 3/8 in is wanted, 1 1/8 in accepted; a solid leaf gives 3/4 in

WOODEN = {"frame": {"undercut": "1 in"}, "leaf": {"core": "solid"}, "labour": NEVER_AGAIN}


def test_a_setting_that_meets_all_takes_nothing_more() -> None:
    asked = table(WOOD, WOOD, **WOODEN).plan.pairs[0].demand
    assert (asked.own, asked.target, asked.trim_most) == (ticks("3/8 in"), ticks("1 3/8 in"), ticks("3/4 in"))
    assert asked.cover == ticks("3/4 in")
    assert asked.wish_cover == (ticks("5/8 in"), ticks("5/8 in"))
    done = mended(table(WOOD, WOOD, **WOODEN), "3/8 in")
    assert (done.minutes, done.trim, done.legs, done.again) == (0, 0, False, None)


def test_a_leaf_too_low_by_a_wish_is_cut_hung_where_that_takes_less_than_the_wish() -> None:
    # 1 1/4 in: 5/8 in above the finish after the cut leaves room for the saw, 38 against 47
    done = mended(table(WOOD, WOOD, **WOODEN), "1/4 in")
    assert (done.minutes, done.work, done.wishes, done.trim) == (38, 38, 0, ticks("1/8 in"))


def test_it_is_lived_with_where_the_wish_counts_less() -> None:
    # both sides' wish is one limit each: two of 47 against 38; with a saw of 100 and 8 they are lived with
    slow = {**WOODEN, "labour": {**NEVER_AGAIN, "trim_in_place": 100}}
    done = mended(table(WOOD, WOOD, **slow), "1/4 in")
    assert (done.minutes, done.work, done.wishes, done.trim) == (94, 0, 2, 0)


def test_a_leaf_below_what_is_accepted_has_to_be_cut() -> None:
    slow = {**WOODEN, "labour": {**NEVER_AGAIN, "trim_in_place": 1000}}
    done = mended(table(WOOD, WOOD, **slow), "0 in")
    assert (done.work, done.trim) == (1008, ticks("3/8 in"))


def test_legs_above_what_was_wished_lose_the_wish_and_above_the_floor_are_filled() -> None:
    # at 3/4 in both sides' wish for 1/8 in more of leg is lost; 1/16 in higher the legs show: filled, one wish less
    at = table(WOOD, WOOD, **WOODEN)
    assert (mended(at, "3/4 in").work, mended(at, "3/4 in").wishes) == (0, 2)
    shown = mended(at, "13/16 in")
    assert (shown.work, shown.wishes, shown.legs, shown.piece) == (40, 3, True, False)


def test_the_space_over_the_head_is_missed_whether_or_not_the_legs_are_filled() -> None:
    # unit 81 9/16 in high; under a header at 82 1/8 in a foot of 5/16 in keeps 1/4 in for shims and 3/8 in 3/16 in
    low = {"rough_opening": {"height": "82 1/8 in"}, "labour": NEVER_AGAIN}
    at = table(VINYL, VINYL, **low)
    assert [(mended(at, foot).work, mended(at, foot).wishes) for foot in ("5/16 in", "3/8 in")] == [(40, 1), (40, 2)]


# --- what covers the legs


def test_a_piece_that_stands_high_enough_covers_the_legs() -> None:
    # carpet of 15/16 in against plank of 1/4 in: a carpet bar of 3/16 in
    at = table(CARPET, PLANK, frame={"undercut": "1 1/8 in"}, labour=NEVER_AGAIN)
    assert at.plan.pairs[0].demand.piece == ticks("3/16 in")
    covered, filled = mended(at, "7/16 in"), mended(at, "1/2 in")
    assert (covered.work, covered.legs, covered.piece) == (15, True, True)
    assert (filled.work, filled.legs, filled.piece) == (40, True, False)


def test_legs_are_filled_where_that_takes_less_than_to_cover_them() -> None:
    at = table(CARPET, PLANK, frame={"undercut": "1 1/8 in"}, labour={**NEVER_AGAIN, "fill_legs": 10})
    assert (mended(at, "7/16 in").work, mended(at, "7/16 in").piece) == (10, False)


# --- set again


def test_a_unit_is_set_again_where_nothing_else_will_do() -> None:
    # a steel leaf isn't cut: 5/8 in over 1/4 in of plank is 7/8 in; 3/8 in is accepted, 5/8 in above the subfloor
    steel = {"leaf": {"core": "steel"}, "frame": {"undercut": "1/2 in"}}
    done = mended(table(PLANK, PLANK, **steel), "0 in")
    # legs 1/8 in up: accepted; a wish short on both sides: 90, 6 and twice 47
    assert (done.again, done.work, done.minutes) == (ticks("1/8 in"), 96, 96 + 47 * done.wishes)


def test_what_is_off_a_leaf_stays_off_when_the_unit_is_set_again() -> None:
    steel = {"leaf": {"core": "solid"}, "frame": {"undercut": "3/4 in"}, "labour": {"fill_legs": 1000}}
    at = table(VINYL, VINYL, **steel)
    again = mended(at, "1/2 in", "1/8 in")
    assert (again.again, again.trim, again.bottom) == (0, 0, ticks("7/8 in"))
    assert again.work == 90


def test_a_leaf_cut_too_short_for_every_setting_is_a_new_one() -> None:
    # the project's own greatest gap, 1 in over 1/8 in: 1 1/8 in. With 1 in off, 3/4 in of undercut ends 1 3/4 in up
    own = {"greatest_gap": "1 in"}
    at = table(VINYL, VINYL, leaf={"core": "solid"}, frame={"undercut": "3/4 in"}, project_rules=own)
    assert at.plan.pairs[0].demand.bottom_high == ticks("1 1/8 in")
    again = mended(at, "0 in", "1 in")
    assert (again.again, again.trim, again.bottom) == (0, 0, ticks("3/4 in"))


# --- cuts lie on the tape


def test_a_cut_ends_on_the_tape_below_what_may_come_off() -> None:
    # 15.875 mm over 19 mm, 35 mm on the tape; 20 mm and the 12.7 mm a hollow leaf gives end at 32 mm: 12 mm come off
    wood = floor("solid_wood 19 mm")
    at = table(wood, wood, jurisdiction="GB-ENG", frame={"undercut": "20 mm"}, grid="1 mm")
    assert cut_now(at, "0 mm") == ticks("12 mm")
    assert cut_now(at, "3 mm") == ticks("12 mm")
    assert cut_now(at, "10 mm") == ticks("5 mm")
    assert cut_now(at, "15 mm") == 0


@pytest.mark.parametrize("lift", ["0 mm", "1 mm"])
def test_a_setting_from_which_no_cut_on_the_tape_reaches_what_is_accepted_is_set_again(lift: str) -> None:
    # 9.525 mm over 24 mm is accepted: 33.525 mm. Of 20 mm and 12.7 mm the tape has 32, of 21 and 12.7 it has 33
    wood = floor("solid_wood 24 mm")
    at = table(wood, wood, jurisdiction="GB-ENG", frame={"undercut": "20 mm"}, grid="1 mm", labour=NEVER_AGAIN)
    assert mended(at, lift).again is not None
    assert (mended(at, "2 mm").again, mended(at, "2 mm").trim) == (None, ticks("12 mm"))
