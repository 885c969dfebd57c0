"""What one pair of floors asks for and the ways to mend a setting, each worked by hand."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace
from tests.openings import Wire, catalogue, door, floor, read, ticks
from tests.pricing import NOTHING, PRICING, WORK
from tests.rechecks import rechecked

from jambset.engine import demand as demands
from jambset.engine.assess import prepare
from jambset.engine.bounds import HEADER
from jambset.engine.decide import Own
from jambset.engine.demand import (
    Demand,
    Mended,
    Pricing,
    cut_step,
    demand,
    fits,
    full_trim,
    heights,
    is_wish,
    mend,
    set_anew,
)
from jambset.engine.scenarios import Table
from jambset.engine.settle import BOTTOM, CUT, FAR, FOOT, TOP, Bound
from jambset.quantity.grid import GRIDS

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


# --- the tape of a cut


@pytest.mark.parametrize(
    ("target", "most", "step"),
    [
        ("41 mm", [], "5 mm"),  # 45 mm would do
        ("41 mm", ["45 mm"], "5 mm"),
        ("41 mm", ["44 mm"], "1 mm"),
        ("41 mm", ["41 mm", "45 mm"], "1 mm"),  # a limit that the target itself just keeps
        ("41 mm", ["39 mm", "50 mm"], "5 mm"),  # one that it misses anyway says nothing
        ("41.3 mm", ["44 mm", "41.4 mm"], "0.1 mm"),
    ],
)
def test_a_cut_is_made_on_the_coarsest_tape_on_which_nothing_is_lost(target: str, most: list[str], step: str) -> None:
    assert cut_step(GRIDS["5 mm"], ticks(target), [*map(ticks, most)]) == ticks(step)


def test_a_label_keeps_a_cut_on_the_finer_tape() -> None:
    """NFPA 80 allows 19.05 mm over vinyl of 2 mm, 3/8 in is accepted over tile of 11: 20.5 to 21.05 mm, not 25."""
    tile = floor("ceramic_tile 11 mm")
    asked = table(floor("sheet_vinyl 2 mm"), tile, grid="5 mm", duties=["fire_label"], leaf={"core": "solid"})
    (pair,) = asked.plan.pairs
    assert ticks("20 mm") < pair.demand.target <= pair.demand.bottom_high == ticks("21.05 mm")
    assert pair.demand.step == ticks("1 mm")


def test_it_does_also_where_the_own_setting_needs_neither_cut_nor_finer_tape() -> None:
    """Made with 21 mm the leaf ends between 20.5 and 21.05 mm by itself; cut for another foot it is cut to 21 mm."""
    asked = table(
        floor("sheet_vinyl 2 mm"),
        floor("ceramic_tile 11 mm"),
        grid="5 mm",
        duties=["fire_label"],
        leaf={"core": "solid"},
        frame={"undercut": "21 mm"},
    )
    (pair,) = asked.plan.pairs
    assert (asked.plan.step, pair.demand.step) == (ticks("5 mm"), ticks("1 mm"))


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


def test_a_unit_to_order_on_a_low_leg_is_priced_where_its_legs_end() -> None:
    """Strike leg 1/2 in low: plank of 1/4 in hides it at -1/4 in; the leaf ends 5/8 in above the plank."""
    legs = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/2 in"}
    at = table(PLANK, PLANK, frame={"state": "to_order", "undercut": None}, subfloor=legs).plan
    own = at.askings[0].own
    assert (own.foot, own.undercut, own.bottom) == (ticks("-1/4 in"), ticks("1 1/8 in"), ticks("7/8 in"))
    assert (at.pricing.foot, at.pairs[0].demand.own) == (ticks("-1/4 in"), ticks("1 1/8 in"))


def test_while_a_floor_is_undecided_nothing_is_asked_of_the_leaf() -> None:
    at = table(WOOD, {"room": "hall"}, **WOODEN)
    assert at.plan.pairs[0].demand.target == -FAR
    assert mended(at, "0 in").trim == 0


# --- what covers the legs


def test_a_piece_that_stands_high_enough_covers_the_legs() -> None:
    # carpet of 15/16 in against plank of 1/4 in: a carpet bar of 3/16 in
    at = table(CARPET, PLANK, frame={"undercut": "1 1/8 in"}, labour=NEVER_AGAIN)
    assert at.plan.pairs[0].demand.piece == ticks("3/16 in")
    covered, filled = mended(at, "7/16 in"), mended(at, "1/2 in")
    assert (covered.work, covered.legs, covered.piece) == (15, True, True)
    assert (filled.work, filled.legs, filled.piece) == (40, True, False)


def test_a_piece_hides_nothing_where_a_carpet_is_to_reach_under_the_legs() -> None:
    # a loop of 1/2 in asks for legs 1/4 in below its top: 5/16 in is too high for it, and hidden by 3/8 in of plank
    loop, thick = floor("cushion_rubber_flat 1/4 in", "carpet_loop 1/4 in"), floor("vinyl_plank 3/8 in")
    at = table(loop, thick, frame={"undercut": "1 1/4 in"}, labour=NEVER_AGAIN)
    assert (at.plan.pairs[0].demand.piece, at.plan.pairs[0].demand.tuck) == (ticks("3/16 in"), ticks("1/4 in"))
    found = mended(at, "5/16 in")
    assert (found.work, found.legs, found.piece) == (40, True, False)
    setting = {"foot": "5/16 in", "leaf_bottom": "1 9/16 in"}
    request = door(pull_side=loop, push_side=thick, frame={"undercut": "1 1/4 in"}, as_set=setting)
    assert {"fill_legs"} == {remedy.kind for remedy in rechecked(request).remedies} & {"fill_legs", "cover_legs"}


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


# --- to the tick: a floor that asks for nothing but what is named, settings 100 below the uncut leaf's bottom


def never(trimmed: int) -> Mended:
    raise AssertionError(f"nobody takes this unit out, with {trimmed} off")


def stays(setting: int, trimmed: int = 0, **asked: Any) -> Mended:
    """What mends a setting that nothing is dearer than."""
    asked_for = replace(NOTHING, **asked)
    return mend(asked_for, replace(PRICING, work=replace(WORK, set_again=FAR)), setting, trimmed, anew=never)


@pytest.mark.parametrize(("setting", "does"), [(4, False), (5, True), (9, True), (10, False)])
def test_a_setting_at_a_limit_is_within_it(setting: int, does: bool) -> None:
    assert fits(replace(NOTHING, low=5, high=9), PRICING, setting, 0) is does


def test_what_meets_a_target_off_the_tape_isnt_cut_to_the_tape() -> None:
    assert full_trim(replace(NOTHING, target=103, step=4), 3, rise=100) == 0
    assert full_trim(replace(NOTHING, target=103, step=4), 2, rise=100) == 2
    assert stays(0, 103, target=203, wish_bottom_low=(203,), step=4).trim == 0


def test_a_leaf_that_may_give_less_than_nothing_keeps_what_it_has() -> None:
    assert full_trim(replace(NOTHING, target=200, bottom_high=50), 0, rise=100) == 0


@pytest.mark.parametrize(("setting", "does"), [(8, True), (9, False)])
def test_a_piece_covers_legs_as_high_as_the_carpet_reaches_under_them(setting: int, *, does: bool) -> None:
    found = stays(setting, cover=7, piece=3, tuck=8)
    assert (found.piece, found.work) == (does, 15 if does else 40)


def test_legs_a_tick_above_the_floor_show() -> None:
    assert (stays(7, cover=7).legs, stays(8, cover=7).legs) == (False, True)
    trimmed = stays(8, cover=7, bottom_low=120, target=120)
    assert (trimmed.trim, trimmed.legs, trimmed.piece, trimmed.work) == (12, True, False, 40 + 30)
    assert stays(8, cover=8, piece=3).piece is False


def test_a_piece_that_takes_as_long_as_filling_is_used() -> None:
    asked = replace(NOTHING, cover=0, piece=2)
    alike = replace(PRICING, work=replace(WORK, cover_legs=40, set_again=FAR))
    found = mend(asked, alike, 1, 0, anew=never)
    assert (found.piece, found.work) == (True, 40)
    both = mend(replace(asked, bottom_low=120, target=120), alike, 1, 0, anew=never)
    assert (both.piece, both.work, both.trim) == (True, 40 + 30, 19)


def test_what_came_off_already_counts() -> None:
    more = stays(0, 5, bottom_low=120, target=120)
    assert (more.trim, more.bottom) == (15, 120)


def test_a_wish_that_no_further_cut_meets_is_lived_with() -> None:
    """It may be cut by 5 and is: 10 were wished. Sawing once more would give nothing."""
    found = stays(0, 5, target=110, trim_most=5, wish_bottom_low=(110,))
    assert (found.trim, found.work, found.wishes) == (0, 0, 1)


@pytest.mark.parametrize(("wish", "trim"), [(29, 0), (30, 0), (31, 10)])
def test_a_leaf_is_cut_for_a_wish_that_counts_more_than_the_cut(wish: int, trim: int) -> None:
    priced = replace(PRICING, work=replace(WORK, wish=wish))
    assert mend(replace(NOTHING, target=110, wish_bottom_low=(110,)), priced, 0, 0, anew=never).trim == trim


def test_a_cut_that_loses_another_wish_counts_that_too() -> None:
    """One wish of 31 met by a cut of 30 that loses another: 61 against 31."""
    priced = replace(PRICING, work=replace(WORK, wish=31))
    asked = replace(NOTHING, target=110, wish_bottom_low=(110,), wish_bottom_high=(109,))
    assert mend(asked, priced, 0, 0, anew=never).trim == 0


@pytest.mark.parametrize(("again", "taken_out"), [(125, True), (126, False)])
def test_a_unit_is_taken_out_only_where_that_takes_less(again: int, taken_out: bool) -> None:
    """Legs filled take 40, the wish for less of them counts 36, and a leaf cut off its hinges takes 50."""
    anew = Mended(again, again, 0, 0, 100, legs=False, piece=False, again=0)
    low = replace(PRICING, saw_line=FAR)
    found = mend(replace(NOTHING, cover=0, bottom_low=120, target=120), low, 1, 0, anew=lambda _: anew)
    assert (found is anew) is taken_out


@pytest.mark.parametrize(("ordered", "off"), [(True, 0), (False, 7)])
def test_a_unit_exchanged_for_another_has_a_whole_leaf(ordered: bool, off: int) -> None:
    asked: list[int] = []

    def anew(trimmed: int) -> Mended:
        asked.append(trimmed)
        return Mended(80, 80, 0, 0, 100, legs=False, piece=False, again=0)

    mend(replace(NOTHING, high=-1), replace(PRICING, ordered=ordered), 0, 7, anew=anew)
    assert asked == [off]


def test_a_whole_leaf_is_set_anew_as_its_floors_would_have_it_and_a_cut_one_wherever_is_best() -> None:
    """At 5 blocks of 5 are set, at 0 none. What is off, 20, is too much for 5: its bottom may lie at 120 at most."""
    asked = replace(NOTHING, own=5, bottom_high=120)
    whole, cut = set_anew(asked, PRICING, 0), set_anew(asked, PRICING, 20)
    assert (whole.again, whole.work) == (5, 85)
    assert (cut.again, cut.work, cut.piece) == (0, 80, False)


def test_of_settings_alike_the_one_nearest_the_subfloor_is_taken() -> None:
    spaced = replace(PRICING, settings=(-7, -4, 9), work=replace(WORK, trim_legs=5))
    assert set_anew(replace(NOTHING, own=20), spaced, 1).again == -4


def test_a_leaf_that_takes_little_more_is_set_anew_no_higher_than_that_asks_for() -> None:
    """107 is wished for; 6 may come off in all, so legs at 1 are enough, and 36 for the wish is more than blocks."""
    asked = replace(NOTHING, target=107, wish_bottom_low=(107,), trim_most=6)
    found = set_anew(asked, replace(PRICING, settings=tuple(range(5))), 1)
    assert (found.again, found.bottom, found.work) == (1, 107, 80 + 5 + 20)


def test_however_many_settings_there_are_few_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []
    price = demands._anew

    def counted(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended | None:
        tried.append(setting)
        return price(d, p, setting, trimmed)

    monkeypatch.setattr(demands, "_anew", counted)
    asked = replace(NOTHING, low=0, target=200, wish_bottom_low=(150, 200), trim_most=60, wish_cover=(40,))
    set_anew(asked, replace(PRICING, settings=tuple(range(-5000, 5000))), 7)
    assert 1 < len(tried) < 40


def test_a_unit_is_set_anew_just_as_high_as_a_wish_asks_for() -> None:
    """A bottom at 150 is wished and 7 are off: 43 up, with blocks for 5, in place of a wish of 36."""
    asked = replace(NOTHING, target=150, wish_bottom_low=(150,), trim_most=5)
    found = set_anew(asked, replace(PRICING, settings=tuple(range(-99, 99))), 7)
    assert (found.again, found.work, found.wishes) == (43, 80 + 5, 0)


def test_a_unit_under_a_low_header_is_set_anew_on_the_mark_below_it() -> None:
    below = replace(PRICING, settings=tuple(range(-20, 20, 4)))
    assert set_anew(replace(NOTHING, own=-20, high=-3), below, 3).again == -4


def test_a_unit_set_anew_off_the_tape_may_need_no_saw() -> None:
    """6 may come off, and cuts end on every fourth tick: 4 come off at a mark, at 1 no more than the 3 that are off."""
    asked = replace(NOTHING, own=8, target=200, wish_bottom_low=(200,), trim_most=6, step=4)
    p = replace(PRICING, rise=0, settings=(0, 1, 4, 8), off_tape=(1,))
    assert (set_anew(asked, p, 3).again, set_anew(asked, p, 3).work) == (1, 80 + 5)


def test_a_unit_set_anew_loses_what_its_legs_cant_meet() -> None:
    assert set_anew(replace(NOTHING, own=0, wish_low=(3,)), PRICING, 0).wishes == 1


# --- what bounds come to

OWN = Own(foot=10, undercut=50, bottom=70, tape=GRIDS["1/16 in"], gave_way=())
FIRM = "firm"
"""A rule that isn't among the wishes."""


@pytest.mark.parametrize(
    ("undercut", "bottom", "found"), [(0, 12, (12, 2, 10)), (None, None, (10, 0, 10)), (50, None, (60, 0, 60))]
)
def test_a_unit_nobody_measured_and_one_without_undercut_end_at_the_foot(
    undercut: int | None, bottom: int | None, found: tuple[int, int, int]
) -> None:
    at = heights(replace(OWN, undercut=undercut, bottom=bottom))
    assert (at[BOTTOM], at[CUT], at[TOP], at[FOOT]) == (*found, 10)


@pytest.mark.parametrize(
    ("rule", "on", "lower", "wished"),
    [
        (HEADER, TOP, False, False),
        (FIRM, TOP, True, False),
        (FIRM, TOP, False, True),
        (FIRM, FOOT, False, False),
        ("", BOTTOM, True, True),
    ],
)
def test_room_to_shim_is_a_wish_and_the_header_is_none(rule: str, on: int, lower: bool, wished: bool) -> None:
    at = table(WOOD, WOOD).plan.askings[0].at
    bound = Bound(rule or min(at.regime.wishes), on, lower, 60)
    assert is_wish(bound, at) is wished
    asked = demand(at, OWN, [bound], rise=40, ordered=False)
    wishes = (*asked.wish_low, *asked.wish_high, *asked.wish_bottom_low)
    assert len(wishes) == wished
    if not wished:
        assert (asked.low, asked.high, asked.cover).count(20 if on == TOP else 60) == 1


def test_of_a_unit_to_order_nothing_is_asked_by_its_foot() -> None:
    at = table(WOOD, WOOD).plan.askings[0].at
    bounds = [Bound(rule, FOOT, lower, 10) for rule in (FIRM, min(at.regime.wishes)) for lower in (True, False)]
    own, ordered = (demand(at, OWN, bounds, rise=40, ordered=ordered) for ordered in (False, True))
    assert (own.low, own.cover, own.wish_low, own.wish_cover) == (10, 10, (10,), (10,))
    assert (ordered.low, ordered.cover, ordered.wish_low, ordered.wish_cover) == (-FAR, FAR, (), ())
