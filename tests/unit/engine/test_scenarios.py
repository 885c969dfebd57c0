"""Settings priced over floors that may come, by hand; what is told of them is in test_outlook."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from tests.openings import Wire, assessed, catalogue, door, floor, read, ticks

from jambset.engine.assess import prepare, settle_opening
from jambset.engine.bounds import HEAD_LINE
from jambset.engine.demand import Demand, Mended, Pricing, set_anew
from jambset.engine.outlook import outlook
from jambset.engine.scenarios import MINUTE, Table, cuts_later, usable
from jambset.engine.stakes import _Line, stakes, tips, worth_of_asking

VINYL, PLANK, WOOD = floor("sheet_vinyl 1/8 in"), floor("vinyl_plank 1/4 in"), floor("solid_wood 3/4 in")
CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
SOLID = {"frame": {"undercut": "1 in"}, "leaf": {"core": "solid"}}


def may(first: Wire, *others: tuple[Wire, float]) -> Wire:
    return {**first, "could_become": [{**up, "weight": weight} for up, weight in others]}


def table(pull: Wire, push: Wire, **changes: Any) -> Table:
    found = prepare(read(door(pull_side=pull, push_side=push, **changes)), catalogue(), price=True).table
    assert found is not None
    return found


def wood_or_vinyl(weight: float) -> Table:
    """Blocks of 3/8 in take 6, and 87 more under vinyl, where they show; a cut on the bench takes 28 at once."""
    return table(WOOD, may(WOOD, (VINYL, weight)), **SOLID)


@pytest.mark.parametrize(
    ("weight", "setting", "trim", "expected"),
    [
        (0.1, "3/8 in", "0 in", 6 + Fraction(87, 10)),
        (0.25, "3/8 in", "0 in", 6 + Fraction(87, 4)),
        (0.26, "0 in", "3/8 in", Fraction(28)),
        (0.9, "0 in", "3/8 in", Fraction(28)),
    ],
)
def test_the_likelihood_of_vinyl_decides_between_blocks_and_bench(
    weight: float, setting: str, trim: str, expected: Fraction
) -> None:
    best = wood_or_vinyl(weight).best()
    assert (best.setting, best.trim, Fraction(best.expected, MINUTE)) == (ticks(setting), ticks(trim), expected)


def test_a_choice_is_told_by_what_all_its_pairs_come_to() -> None:
    """Of the pairs of wood, carpet and vinyl some give up a wish at one setting, some at another."""
    at = table(may(WOOD, (CARPET, 0.25)), may(VINYL, (CARPET, 0.5), (WOOD, 0.25)), frame={"undercut": "1/2 in"})
    every = at.every()
    assert {choice.cuts for choice in every} == {True, False}
    assert len({choice.wishes for choice in every}) > 2
    for choice in every:
        made = [(pair.weight, at.mended(n, choice.setting, choice.trim)) for n, pair in enumerate(at.plan.pairs)]
        assert choice.wishes == sum(weight * one.wishes for weight, one in made)
        assert choice.cuts is (choice.trim > 0)


def test_a_tape_finer_than_a_unit_is_set_by_is_priced_at_every_fourth_mark() -> None:
    """Of 0.1 mm each fourth and no less than a sixty-fourth; what a pair of floors would have stays as it is."""
    at = table(
        floor("solid_wood 19 mm"),
        may(floor("solid_wood 19 mm"), (floor("sheet_vinyl 3.1 mm"), 0.25)),
        jurisdiction="GB-ENG",
        grid="0.1 mm",
        **SOLID,
    )
    own = {pair.demand.own for pair in at.plan.pairs}
    assert all(n in own or n % ticks("0.4 mm") == 0 for n in at.plan.candidates)
    assert ticks("0.4 mm") >= ticks("1/64 in")
    assert own <= set(at.plan.candidates)
    off = {n for n in own if n % ticks("0.4 mm")}
    assert off, "so it is seen that they aren't moved"
    assert set(at.plan.pricing.off_tape) == off


def test_legs_are_lifted_for_no_floor_while_the_other_side_is_unknown() -> None:
    """Over a subfloor 3/8 in low, vinyl leaves the legs a quarter lower than wood would, which hides them as well."""
    uneven = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-3/8 in"}
    at = table(may(VINYL, (WOOD, 0.3)), {"room": "hall"}, subfloor=uneven)
    assert [pair.demand.own for pair in at.plan.pairs] == [-ticks("1/4 in"), 0]
    lower = at.mended(1, -ticks("1/4 in"), 0)
    assert (lower.work, lower.again) == (0, None)


@pytest.mark.parametrize(("weight", "above", "setting"), [(0.1, True, "0 in"), (0.4, False, "3/8 in")])
def test_it_tips_where_both_come_to_the_same(weight: float, above: bool, setting: str) -> None:
    at = wood_or_vinyl(weight)
    (tip,) = tips(at, at.best())
    assert (tip.side, tip.floor, tip.above, tip.setting) == (1, 1, above, ticks(setting))
    assert tip.weight == Fraction(22, 87)


def test_a_crew_whose_saw_takes_nothing_regrets_no_cut_in_place() -> None:
    """Blocks take 50 and the bench 60; 3/8 in off the hung leaf nothing, 5/8 in above 3/4 in of wood."""
    fast = {"block_legs": 50, "trim_on_bench": 60, "trim_in_place": 0, "seal_edge": 0, "reset_unit": 200}
    at = table(WOOD, may(WOOD, (VINYL, 0.1)), labour=fast, **SOLID)
    best = at.best()
    assert (best.setting, best.expected) == (0, 0)
    assert [at.alone(place) for place in (0, 1)] == [0, 0]
    assert [one.regret for one in outlook(at, best)[1]] == [0, 0]
    assert worth_of_asking(at, 1) == 0


def test_nothing_tips_a_setting_that_is_not_the_best() -> None:
    at = wood_or_vinyl(0.1)
    assert [tips(at, at.at(ticks(setting))) for setting in ("0 in", "1/4 in")] == [[], []]


@pytest.mark.parametrize(("weight", "saved"), [(0.1, 65), (0.4, 22)])
def test_knowing_saves_what_the_other_setting_would_have_taken_less(weight: float, saved: int) -> None:
    # vinyl certain, the bench (28) instead of blocks (93); wood certain, blocks (6) instead of the bench (28)
    at = wood_or_vinyl(weight)
    chance = Fraction(1, 10) if saved == 65 else Fraction(6, 10)
    assert Fraction(worth_of_asking(at, 1), MINUTE) == chance * saved
    assert stakes(at) == {"pull_side": 0, "push_side": chance * saved * MINUTE}


@pytest.mark.parametrize("side", [0, 1])
def test_knowing_one_side_leaves_the_other_as_it_is(side: int) -> None:
    """Two floors on either side: with each floor of the one known, the best over both of the other is set."""
    at = table(may(WOOD, (VINYL, 0.4)), may(WOOD, (PLANK, 0.3)), **SOLID)
    known = [[n for n, pair in enumerate(at.plan.pairs) if (pair.pull, pair.push)[side] == floor] for floor in (0, 1)]
    assert [len(places) for places in known] == [2, 2]
    saved = at.best().expected - sum(at.best(places).expected for places in known)
    assert worth_of_asking(at, side) == saved > 0


def test_of_three_floors_each_is_known_by_itself() -> None:
    """Known to come, each of them is set for alone, beside plank on the other side or vinyl."""
    at = table(may(WOOD, (VINYL, 0.3), (CARPET, 0.3)), may(PLANK, (VINYL, 0.2)), **SOLID)
    known = [[n for n, pair in enumerate(at.plan.pairs) if pair.pull == floor] for floor in range(3)]
    saved = at.best().expected - sum(at.best(places).expected for places in known)
    assert worth_of_asking(at, 0) == saved > 0


def test_one_answer_is_worth_nothing_where_every_floor_is_met_alike() -> None:
    at = table(CARPET, may(VINYL, (PLANK, 0.5)), frame={"undercut": "1 in"})
    assert at.best().setting == 0
    assert stakes(at) == {"pull_side": 0, "push_side": 0}
    assert tips(at, at.best()) == []


def test_a_floor_merely_assumed_holds_the_cut_and_to_know_it_is_worth_the_difference() -> None:
    # hung in place 38, on the bench 28
    at = table({**CARPET, "certainty": "assumed"}, PLANK, frame={"undercut": "1 in"})
    best = at.best()
    assert (best.setting, best.trim, best.worst) == (0, 0, 38)
    assert stakes(at) == {"pull_side": 10 * MINUTE, "push_side": 0}
    assert cuts_later(at, best)


def test_of_two_sides_assumed_one_answer_still_leaves_the_cut_waiting() -> None:
    assumed = {"certainty": "assumed"}
    at = table({**CARPET, **assumed}, {**PLANK, **assumed}, frame={"undercut": "1 in"})
    assert stakes(at) == {"pull_side": 0, "push_side": 0}


def test_a_side_of_which_nothing_is_known_keeps_the_legs_down_and_the_leaf_long() -> None:
    at = table({}, may(WOOD, (VINYL, 0.5)))
    assert not at.plan.may_cut
    best = at.best()
    assert (best.setting, best.trim, best.expected) == (0, 0, 0)
    assert not cuts_later(at, best)
    # the legs are wished 1/8 in below the top of either floor, of the leaf nothing is asked yet
    asked = [pair.demand for pair in at.plan.pairs]
    assert [one.wish_cover for one in asked] == [(ticks("5/8 in"),), (0,)]
    assert [(one.wish_bottom_low, one.wish_bottom_high) for one in asked] == [((), ())] * 2


def test_nothing_is_priced_while_undercut_or_foot_is_unknown() -> None:
    for frame in ({"undercut": None}, {"state": "set"}):
        unmeasured = read(door(pull_side=WOOD, push_side=WOOD, frame=frame))
        assert prepare(unmeasured, catalogue(), price=True).table is None
    to_order = door(pull_side={}, push_side=WOOD, frame={"undercut": None, "state": "to_order"})
    assert prepare(read(to_order), catalogue(), price=True).table is None


def test_a_unit_that_is_set_has_one_setting_and_its_leaf_waits() -> None:
    at = table(
        WOOD,
        may(WOOD, (VINYL, 0.9)),
        leaf={"core": "solid"},
        frame={"undercut": "1 in", "state": "set", "foot": "1/16 in"},
    )
    assert at.plan.candidates == (ticks("1/16 in"),)
    assert at.best().trim == 0


def test_a_setting_above_the_header_is_of_no_use_nor_one_that_no_floor_leaves() -> None:
    # the unit is 81 13/16 in high: a header at 82 1/4 in lets it up by 7/16 in, less what a shim takes
    low = table(WOOD, WOOD, rough_opening={"height": "82 1/4 in"}, **SOLID)
    assert low.plan.highest == ticks("7/16 in")
    assert not usable(low.plan, ticks("1/2 in"))
    assert usable(low.plan, ticks("5/16 in"))
    steel = table(WOOD, WOOD, leaf={"core": "steel"}, frame={"undercut": "1 in"})
    assert not usable(steel.plan, 0)  # 1/4 in over wood, 3/8 in is accepted, and steel isn't cut
    assert usable(steel.plan, ticks("1/8 in"))


# --- what is advised of it


# carpet takes 1/2 in off, 1/2 in of wood 1/8 in: 1/8 in now (28) and carpet's rest two times in ten (38) is 35.6,
# less than 38 for either one hung. Sheet vinyl in the hall keeps the legs down
NOW_AND_LATER = door(
    pull_side=may(CARPET, (floor("engineered_wood 1/2 in"), 0.8)), push_side=VINYL, frame={"undercut": "1 in"}
)


def test_what_every_floor_asks_for_is_cut_now_and_the_rest_once_they_lie() -> None:
    found = assessed(NOW_AND_LATER)
    assert found.outlook
    assert found.outlook.expected_minutes == Fraction(356, 10) * MINUTE
    assert (found.outlook.trim_now, found.leaf.trim_now, found.leaf.trim) == tuple(
        map(ticks, ("1/8 in", "1/8 in", "1/2 in"))
    )
    assert (found.leaf.when, found.leaf.where) == ("after_floor", "in_place")
    steps = {task.key: task for task in found.tasks}
    assert (steps["D01.trim-leaf-first"].minutes, steps["D01.trim-leaf"].minutes) == (28, 38)
    assert steps["D01.trim-leaf-first"].waits_for == ("external:unit-delivered",)
    assert steps["D01.set-frame"].waits_for == ("external:opening-framed", "D01.trim-leaf-first")
    assert steps["D01.trim-leaf"].waits_for == ("external:floor-laid.pull_side", "external:floor-laid.push_side")


def test_only_what_is_left_to_cut_waits_for_the_answer() -> None:
    holds = {task.key: task.hold for task in assessed(NOW_AND_LATER).tasks}
    assert holds["D01.trim-leaf"]
    assert not holds["D01.trim-leaf-first"]
    assert not holds["D01.set-frame"]


def test_certain_floors_decide_alike_whether_or_not_their_settings_are_priced() -> None:
    opening = read(door(pull_side=WOOD, push_side=WOOD, **SOLID))
    bare, priced = prepare(opening, catalogue()), prepare(opening, catalogue(), price=True)
    assert bare.table is None
    assert settle_opening(priced, catalogue()).decision == settle_opening(bare, catalogue()).decision


def test_certain_floors_are_held_to_a_setting_chosen_for_more_than_them() -> None:
    # with 1/4 in below the legs, 1/8 in has to come off for 5/8 in over wood; where the bench is left to choose
    prepared = prepare(read(door(pull_side=WOOD, push_side=WOOD, **SOLID)), catalogue(), price=True)
    assert prepared.table is not None
    choice = prepared.table.at(ticks("1/4 in"))
    assert (choice.trim, choice.worst) == (ticks("1/8 in"), 6 + 28)
    decision = settle_opening(prepared, catalogue(), choice=choice, why=HEAD_LINE).decision
    assert (decision.foot, decision.trim, decision.cut_now) == (ticks("1/4 in"), ticks("1/8 in"), 0)
    assert decision.foot_held_by == (HEAD_LINE,)


# --- a unit still to be ordered


def test_of_equally_likely_floors_the_legs_of_a_unit_to_order_stand_nearest_to_the_subfloor() -> None:
    # 3/8 in out of level: thin vinyl would have the higher leg cut, wood lets it stand and the lower one be blocked
    legs = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-3/8 in"}
    changes: Wire = {"frame": {"state": "to_order", "undercut": None}, "subfloor": legs, "push_side": WOOD}
    told = []
    for floors in ([WOOD, VINYL], [VINYL, WOOD]):
        pull = {"could_become": [{**up, "weight": 0.5} for up in floors]}
        found = assessed(door(pull_side=pull, **changes)).outlook
        told.append((found.undercut, found.expected_minutes, found.worst_minutes))  # type: ignore[union-attr]
    assert told[0] == told[1] == (ticks("1 3/8 in"), 6 * MINUTE, 6)


def test_a_leaf_that_the_likelier_floor_cuts_again_may_be_left_long() -> None:
    # at 0 the floor of 1/2 in asks for 1/8 in, that of 3/4 in for 3/8: cut now, nine leaves of ten are cut twice
    thin = floor("engineered_wood 1/2 in")
    found = table(thin, may(thin, (WOOD, 0.9)), **SOLID)
    long, now = found.choices(0, range(len(found.plan.pairs)), may_cut=True)
    assert (long.trim, now.trim) == (0, ticks("1/8 in"))
    assert long.expected < now.expected


def test_a_pair_alone_is_set_again_from_its_own_setting_at_most(monkeypatch: pytest.MonkeyPatch) -> None:
    # a unit that is set again for less than a wish; from each of its settings the best of all others would be sought
    found = table(PLANK, may(VINYL, (WOOD, 0.5)), labour={"reset_unit": 1}, grid="1/64 in")
    places, pricing = range(len(found.plan.pairs)), found.plan.pricing
    assert pricing.work.set_again < pricing.work.wish
    asked: list[int] = []

    def counted(d: Demand, p: Pricing, trimmed: int) -> Mended:
        asked.append(trimmed)
        return set_anew(d, p, trimmed)

    monkeypatch.setattr("jambset.engine.scenarios.set_anew", counted)
    for place in places:
        found.alone(place)
    assert len(asked) <= 2 * len(places) < len(pricing.settings)


@pytest.mark.parametrize(
    ("others", "ahead"),
    [
        ([(0, 8)], (Fraction(0), Fraction(3, 8))),
        ([(8, 0)], (Fraction(5, 8), Fraction(1))),
        ([(0, 10), (10, 0)], None),
        ([(0, 8), (8, 0)], None),
        ([(0, 20), (10, 0)], (Fraction(1, 2), Fraction(3, 4))),
        ([(5, 5)], None),
        # from 1/4 on ahead of one and from 1/2 on of the other, up to 3/4 and up to 1/2; whichever is looked at first
        ([(8, 4), (8, 2)], (Fraction(1, 2), Fraction(1))),
        ([(8, 2), (8, 4)], (Fraction(1, 2), Fraction(1))),
        ([(4, 8), (2, 8)], (Fraction(0), Fraction(1, 2))),
        ([(2, 8), (4, 8)], (Fraction(0), Fraction(1, 2))),
        ([(8, 4), (8, 2), (2, 10), (4, 12)], (Fraction(1, 2), Fraction(5, 8))),
    ],
)
def test_a_choice_is_ahead_between_the_likelihoods_at_which_it_costs_least(
    others: list[tuple[int, int]], ahead: tuple[Fraction, Fraction] | None
) -> None:
    """One that costs 5 whatever comes, against some that cost so much where a floor comes, and where it doesn't."""
    assert _Line(5, 5, 0).ahead_of([_Line(*other, 1) for other in others]) == ahead


def test_a_unit_can_be_set_right_up_to_its_header_and_ordered_without_an_undercut() -> None:
    """80 13/16 in above the leaf's bottom and 1 in of undercut leave 3/16 in below 82 in."""
    table = prepare(
        read(door(**SOLID, pull_side=may(CARPET, (VINYL, 0.2)), push_side=VINYL, rough_opening={"height": "82 in"})),
        catalogue(),
        price=True,
    ).table
    assert table
    assert [usable(table.plan, ticks(foot)) for foot in ("3/16 in", "1/4 in")] == [True, False]
    free = {"undercut": None, "state": "to_order"}
    table = prepare(
        read(door(pull_side=may(WOOD, (VINYL, 0.2)), push_side=VINYL, frame=free)), catalogue(), price=True
    ).table
    assert table
    assert [usable(table.plan, undercut) for undercut in (0, -ticks("1/16 in"))] == [True, False]
