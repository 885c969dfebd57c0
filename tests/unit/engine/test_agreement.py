"""Sections of one answer that have to say the same: the cut, the order, the label, what is held, what is missed."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from msgspec import UNSET
from tests.openings import Wire, advised, assessed, catalogue, door, floor, read, ticks

from jambset.engine.house import advise_house
from jambset.errors import InvalidRequest
from jambset.model.request import House
from jambset.quantity.grid import GRIDS
from jambset.render.encode import writer

CUSHION = {"material": "carpet_cushion", "thickness": "7/16 in"}
CARPET: Wire = {"build_up": [CUSHION, {"material": "carpet", "thickness": "1/2 in"}]}
THICK: Wire = {"build_up": [CUSHION, {"material": "carpet", "thickness": "3/4 in"}]}
PLANK: Wire = {"build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]}
VINYL: Wire = {"build_up": [{"material": "sheet_vinyl", "thickness": "1/8 in"}]}
WOOD: Wire = floor("solid_wood 3/4 in")
RATED: Wire = {
    "leaf": {"core": "solid", "width": "32 in", "thickness": "1 3/4 in", "fire_minutes": 20},
    "frame": {"undercut": "1 in"},
}
ONLY_IF = "Only if the listing of a labelled leaf allows it"


def may(now: Wire, *others: tuple[Wire, float], **more: Any) -> Wire:
    return {**now, "could_become": [{**other, "weight": weight} for other, weight in others], **more}


def advice(pull: Wire, push: Wire = PLANK, **changes: Any) -> Any:
    return advised(door(pull_side=pull, push_side=push, **changes))


def tasks(told: Any) -> dict[str, Any]:
    return {task["key"].partition(".")[2]: task for task in told["tasks"]}


# --- a leaf cut for wishes alone could be left whole


def test_a_leaf_cut_for_a_wish_is_told_with_what_leaving_it_whole_gives_up() -> None:
    """By hand: 5/8 in blocks, 5/8 in of undercut and 3/4 in of wood leave 1/2 in, of the 5/8 in that are wanted."""
    told = advice(WOOD, WOOD, leaf={"core": "solid"}, frame={"undercut": "5/8 in"})
    whole = told["leaf"]["uncut"]
    assert (told["verdict"], told["leaf"]["trim"]["in"]) == ("go_with_trim", 0.75)
    assert (whole["foot"]["in"], whole["bottom"]["in"]) == (0.625, 1.25)
    assert [(one["rule"], one["amount"]["in"]) for one in whole["given_up"]] == [("leaf.hard.wanted", 0.125)]
    assert whole["text"] in told["summary"]


@pytest.mark.parametrize(
    ("pull", "push", "changes"),
    [
        (CARPET, PLANK, {"frame": {"undercut": "1 in"}}),  # 1 1/4 in under the carpet are more than a wish
        (may(WOOD, (PLANK, 0.5)), WOOD, {"frame": {"undercut": "5/8 in"}}),  # what is given up isn't known yet
        (WOOD, WOOD, {"frame": {"undercut": "3/4 in"}}),  # not cut at all
    ],
)
def test_nothing_is_said_of_a_leaf_left_whole_where_it_may_not_be(pull: Wire, push: Wire, changes: Wire) -> None:
    assert "uncut" not in advice(pull, push, leaf={"core": "solid"}, **changes)["leaf"]


# --- a labelled leaf is never cut on this service's word


@pytest.mark.parametrize(("now", "other", "weight"), [(THICK, CARPET, 0.8), (CARPET, THICK, 0.4)])
def test_a_labelled_leaf_is_cut_only_as_its_listing_allows(now: Wire, other: Wire, weight: float) -> None:
    # 1 1/4 in is accepted over either carpet, and legs under 1/4 in of plank lift 7/8 in of undercut to 1 1/8 in
    told = advice(may(now, (other, weight)), **{**RATED, "frame": {"undercut": "7/8 in"}})
    assert told["leaf"]["trim_now"]["in"] > 0
    assert "isting" in told["summary"]
    assert "isting" in told["leaf"]["why"]
    assert ONLY_IF in told["outlook"]["why"]
    assert all(ONLY_IF in one["outcome"] for one in told["scenarios"] if one["trim"]["in"])
    assert all(task["hold"] for name, task in tasks(told).items() if name.startswith("trim-leaf"))


def test_a_plain_leaf_needs_no_listing() -> None:
    told = advice(may(THICK, (CARPET, 0.8)), leaf={"core": "solid"}, frame={"undercut": "1 in"})
    assert ONLY_IF not in msgspec.json.encode(told).decode()


# --- what every floor asks for doesn't wait, and isn't said to be all


def test_a_cut_that_is_enough_for_the_floor_named_is_not_told_to_be_enough_for_all() -> None:
    quick = {"trim_off_hinges": 30, "rehang_leaf": 0, "second_person": 0}
    told = advice(may(CARPET, (THICK, 0.1)), leaf={"core": "solid"}, frame={"undercut": "1 in"}, labour=quick)
    assert told["leaf"]["when"] == "before_hanging"
    assert told["leaf"]["why"].endswith("and some need more.")
    assert [bool(one["trim"]["in"]) for one in told["scenarios"]] == [False, True]
    trim = tasks(told)["trim-leaf"]
    assert (trim.get("hold", False), trim.get("questions", [])) == (False, [])


def test_what_is_left_to_cut_waits_once_for_each_question() -> None:
    told = advice(
        may(THICK, (CARPET, 0.5)), may(PLANK, (WOOD, 0.5)), leaf={"core": "solid"}, frame={"undercut": "1 in"}
    )
    held = [task["questions"] for task in told["tasks"] if task.get("questions")]
    assert held
    assert all(len(set(codes)) == len(codes) for codes in held)


# --- certainty


@pytest.mark.parametrize("certainty", ["assumed", "undecided"])
def test_a_floor_that_surely_comes_is_not_merely_assumed(certainty: str) -> None:
    with pytest.raises(InvalidRequest) as refused:
        advice(may(CARPET, (THICK, 1.0), certainty=certainty))
    assert [(e.pointer, e.code) for e in refused.value.errors] == [("#/pull_side/certainty", "contradiction")]


def test_the_least_likely_floor_is_still_one_that_may_come() -> None:
    told = advice(may(CARPET, (PLANK, 1e-9)))
    assert len(told["scenarios"]) == 2
    assert told["scenarios"][1]["weight"] > 0


# --- what shows, and what no setting meets


def test_legs_that_show_at_best_are_told_as_high_as_they_show() -> None:
    # carpet asks the leaf up and the legs with it: 5/16 in of foot stands 1/16 in over a plank of 1/4 in
    told = advice({**CARPET, "certainty": "assumed"}, frame={"undercut": "1/2 in"})
    cover = next(c for c in told["checks"] if c["rule"] == "leg.hard.accepted" and c["status"] == "relaxed")
    (one,) = told["scenarios"]
    assert one["legs_show"]["in"] == -cover["actual"]["in"] == 1 / 16
    assert "1/16 in too high for the floor to hide them, even at best" in one["outcome"]


def test_a_pair_that_no_setting_suits_is_told_so() -> None:
    told = advice(may(CARPET, (THICK, 0.4)), **RATED)
    missed = [one["outcome"] for one in told["scenarios"] if "Not met by any setting" in one["outcome"]]
    assert told["verdict"] == "conflict"
    assert missed
    assert all("Nothing more to do" not in outcome for outcome in missed)


def test_a_conflict_of_the_floors_named_names_what_stands_against_it_there_too() -> None:
    certain = {tuple(c["rules"]) for c in advice(CARPET, **RATED)["conflicts"]}
    changing = {tuple(c["rules"]) for c in advice(may(CARPET, (THICK, 0.4)), **RATED)["conflicts"]}
    assert certain
    assert certain & changing
    assert not any("floors_may_change" in rules for rules in certain & changing)


# --- minutes


def test_legs_out_of_level_cost_their_block_at_any_foot_above() -> None:
    level: Wire = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/4 in"}
    told = advice(may(WOOD, (PLANK, 0.3)), WOOD, subfloor=level)
    prices = {one["foot"]["in"]: one["expected_minutes"] for one in told["outlook"]["settings"]}
    assert told["setting"]["foot"]["in"] in prices
    assert tasks(told)["set-frame"]["minutes"] == 66
    assert all(price >= 6 for price in prices.values())


def test_work_and_wishes_given_up_are_told_apart() -> None:
    told = advice(may(WOOD, (PLANK, 0.3)), WOOD, frame={"state": "set", "foot": "1/2 in", "undercut": "7/8 in"})
    work = sum(one["weight"] * one["work_minutes"] for one in told["scenarios"])
    assert told["outlook"]["expected_work_minutes"] == round(work, 2)
    assert f"{told['outlook']['expected_work_minutes']:g} min of expected work" in told["outlook"]["why"]


# --- words


def test_floors_of_one_title_are_told_apart_by_their_thickness() -> None:
    told = advice(may(CARPET, (THICK, 0.4)))
    (question,) = [q for q in told["questions"] if q["code"] == "floor_may_change"]
    assert "15/16 in in all" in question["text"]
    assert "1 3/16 in in all" in question["text"]
    assert len({one["pull_side"] for one in told["scenarios"]}) == 2


def test_a_tip_names_its_side() -> None:
    told = advice(
        may({**CARPET, "room": "den"}, (PLANK, 0.3)),
        may({**CARPET, "room": "hall"}, (PLANK, 0.3)),
        frame={"undercut": "1 in"},
    )
    assert told["outlook"]["tips"]
    rooms = {"pull_side": "den", "push_side": "hall"}
    assert all(rooms[tip["side"]] in tip["text"] for tip in told["outlook"]["tips"])


# --- a unit to order


@pytest.mark.parametrize(
    "pull", [may(CARPET, (PLANK, 0.5)), may({"certainty": "undecided"}, (CARPET, 0.5), (PLANK, 0.5))]
)
def test_a_unit_to_order_is_ordered_as_it_was_weighed(pull: Wire) -> None:
    told = advice(pull, frame={"state": "to_order", "undercut": None})
    undercut = told["outlook"]["undercut"]
    assert told["order"]["undercut_to_order"] == undercut
    assert told["order"]["why"].endswith("takes the least work over all possible floors.")
    assert f"Order the unit with {undercut['text']} undercut." in told["summary"]


def test_a_unit_to_order_on_a_line_is_ordered_for_the_line() -> None:
    """D05 stands 1/4 in up, its leaf at 1 1/4 in and its head at 81 3/8 in: from 1 1/2 in both leaves lack 1/4 in."""
    plain = door(pull_side=CARPET, push_side=PLANK, frame={"undercut": "1 in"})
    fixed = {**plain, "mark": "D05", "frame": {**plain["frame"], "state": "set", "foot": "1/4 in"}}
    order = {**plain, "mark": "D04", "frame": {"state": "to_order", "head_gap": "1/8 in", "head_thickness": "11/16 in"}}
    asked = msgspec.convert(
        {"house": "L", "openings": [{}, {}], "head_lines": [{"name": "b", "marks": ["D05", "D04"]}]}, House
    )
    answer = advise_house(asked, [read(order), read(fixed)], catalogue())
    told: Any = msgspec.json.decode(writer(GRIDS[answer.grid]).encode(answer))
    (line,) = told["head_lines"]
    advices = {one["mark"]: one["advice"] for one in told["openings"]}
    assert line["held"]
    assert {one["setting"]["head_height"]["in"] for one in advices.values()} == {line["head_height"]["in"]}
    assert advices["D04"]["order"]["undercut_to_order"]["in"] == 1.25
    assert advices["D04"]["order"]["why"].endswith("keeps the head line.")
    assert advices["D04"]["leaf"]["trim"]["in"] == 0.25
    assert [(one["mark"], one["trim"]["in"]) for one in told["trim_list"]] == [("D04", 0.25), ("D05", 0.25)]


# --- a unit still to be ordered, and the header


def test_a_unit_that_the_header_keeps_out_is_ordered_once_it_is_raised() -> None:
    # 1 1/2 in under carpet: 1 1/2 + 80 13/16 = 82 5/16 in, and the hole is 82 in high, so 1 3/16 goes in
    told = advice(CARPET, frame={"state": "to_order", "undercut": None}, rough_opening={"height": "82 in"})
    assert told["order"]["undercut_to_order"]["text"] == "1 1/2 in"
    assert told["leaf"]["bottom"]["text"] == "1 3/16 in"
    both = "order the unit with 1 1/2 in undercut. The present header allows 1 3/16 in at most"
    assert both in told["summary"]
    assert "the present header allows 1 3/16 in at most" in told["order"]["why"]
    kinds = {way["kind"] for conflict in told["conflicts"] for way in conflict["ways_out"]}
    assert "raise_header" in kinds
    assert "other_unit" not in kinds  # none is bought, and a higher one wouldn't go in


def test_a_unit_to_order_may_have_its_leaf_cut_in_place_of_a_higher_header() -> None:
    """Legs down and the leaf trimmed under a low header: common practice, no source.

    Under 82 in, with 1/4 in to shim, 82 - 1/4 - 80 13/16 leave 15/16 in, and carpet wants the leaf at 1 1/2 in.
    """
    low: Wire = {"frame": {"state": "to_order", "undercut": None}, "rough_opening": {"height": "82 in"}}
    told = advice(CARPET, leaf={"core": "solid"}, **low)
    missed = {conflict["rules"][0] for conflict in told["conflicts"]}
    assert missed > {"leaf.carpet.height.accepted", "head.shim.accepted"}
    for conflict in told["conflicts"]:
        assert conflict["ways_out"][-1] == {
            "kind": "cut_leaf",
            "text": "Leave the header as it is, order 15/16 in undercut, and cut 9/16 in off the leaf on the bench, "
            "before hanging; the bottom ends 1 1/2 in above the subfloor.",
        }
    bought = advice(CARPET, leaf={"core": "solid"}, **low | {"frame": {"undercut": "15/16 in"}})
    assert (bought["verdict"], bought["conflicts"]) == ("go_with_trim", [])
    assert (bought["leaf"]["trim"]["text"], bought["leaf"]["bottom"]["text"]) == ("9/16 in", "1 1/2 in")


def test_a_leaf_is_cut_under_a_header_that_leaves_no_more_room_than_a_shim_takes() -> None:
    """Under 81 1/2 in, 81 1/2 - 1/8 - 80 13/16 leave 9/16 in; 3/4 in off a solid leaf: 1 5/16 in, 3/8 in over carpet.

    With the 1/4 in that is wanted over the head it would end an eighth lower, 1/4 in over the carpet.
    """
    low: Wire = {"frame": {"state": "to_order", "undercut": None}, "rough_opening": {"height": "81 1/2 in"}}
    told = advice(CARPET, CARPET, leaf={"core": "solid"}, **low)
    for conflict in told["conflicts"]:
        assert conflict["ways_out"][-1]["text"] == (
            "Leave the header as it is, order 9/16 in undercut, and cut 3/4 in off the leaf on the bench, before "
            "hanging; the bottom ends 1 5/16 in above the subfloor."
        )
    bought = advice(CARPET, CARPET, leaf={"core": "solid"}, **low | {"frame": {"undercut": "9/16 in"}})
    assert (bought["verdict"], bought["conflicts"]) == ("go_with_trim", [])


@pytest.mark.parametrize(
    ("changes", "offered"),
    [
        ({"leaf": {"core": "solid"}}, True),
        (
            {"leaf": {"core": "solid"}, "project_rules": {"trim_limit": "1/8 in"}},
            False,
        ),  # 1 1/16 in with 1/8 in to shim: 1 3/16 in, and 1 1/4 is least
        ({"leaf": {"core": "solid"}, "rough_opening": {"height": "80 7/8 in"}}, False),  # 1/16 in over the frame
        ({"leaf": {"core": "solid"}, "push_side": {**PLANK, "certainty": "assumed"}}, False),  # nobody saws for that
        # nobody saws before vinyl has come or not, likelier by far, for which a unit is exchanged in 5 min
        (
            {
                "leaf": {"core": "solid"},
                "pull_side": {**WOOD, "could_become": [{**VINYL, "weight": 0.9}]},
                "push_side": VINYL,
                "rough_opening": {"height": "81 1/2 in"},
                "labour": {"reset_unit": 5, "trim_on_bench": 200, "trim_in_place": 200, "trim_off_hinges": 200},
            },
            False,
        ),
        ({"leaf": {"core": "solid"}, "frame": {"undercut": "1 1/2 in"}}, False),  # ordered already, with its undercut
        # vinyl of 1/8 in: 81 1/16 - 1/4 - 80 13/16 leave no undercut, and 3/4 in off the leaf is what is wanted
        (
            {
                "leaf": {"core": "solid"},
                "pull_side": VINYL,
                "push_side": VINYL,
                "rough_opening": {"height": "81 1/16 in"},
            },
            True,
        ),
        (
            {
                "leaf": {"core": "solid"},
                "pull_side": VINYL,
                "push_side": VINYL,
                "rough_opening": {"height": "80 7/8 in"},
            },
            False,
        ),
    ],
)
def test_a_leaf_is_cut_for_a_low_header_only_where_that_serves(changes: Wire, *, offered: bool) -> None:
    low: Wire = {"frame": {"state": "to_order", "undercut": None}, "rough_opening": {"height": "82 in"}}
    told = advised(door(door(pull_side=CARPET, push_side=PLANK, **low), **changes))
    assert told["conflicts"] or not offered
    kinds = {way["kind"] for conflict in told["conflicts"] for way in conflict["ways_out"]}
    assert ("cut_leaf" in kinds) is offered


def test_a_header_is_short_of_nothing_where_it_leaves_just_the_room_to_shim() -> None:
    """Under 82 in, 15/16 in of undercut: 80 13/16 and 15/16 leave 1/4 in, which is wanted (common practice)."""
    may = {**WOOD, "could_become": [{**VINYL, "weight": 0.8}]}
    told = advised(
        door(
            pull_side=VINYL,
            push_side=may,
            leaf={"core": "solid"},
            frame={"state": "to_order", "undercut": None},
            rough_opening={"height": "82 in"},
        )
    )
    assert told["order"]["undercut_to_order"]["text"] == "15/16 in"
    framing = told["framing"]
    assert (framing["spare"]["text"], framing["rough_opening_needed"]["text"]) == ("1/4 in", "82 in")
    assert framing["short_by"]["in"] == 0


def test_the_opening_needed_is_the_settings_own_where_no_header_hinders_it() -> None:
    """3/4 in of blocks, 1/8 in of undercut and 80 13/16 are 81 11/16 in, and 1/4 in is wanted to shim.

    That suits the vinyl of 1/8 in that is likelier: 7/8 in is where NFPA 80 has a labelled leaf end over it, and a
    reducer level with the wood leaves as much as is accepted. Wood, which is named, would have the legs 1 in up.
    """
    may = {**WOOD, "could_become": [{**VINYL, "weight": 0.6}]}
    steel: Wire = {"leaf": {"core": "steel", "fire_minutes": 20}, "frame": {"undercut": "1/8 in"}}
    for height in ("84 in", "82 3/16 in", None):
        header = None if height is None else {"height": height}
        told = advised(door(pull_side=WOOD, push_side=may, rough_opening=header, **steel))
        assert (told["setting"]["foot"]["text"], told["setting"]["governed_by"]) == ("3/4 in", ["floors_may_change"])
        needed = told["framing"]["rough_opening_needed"]["text"]
        assert (needed, told["framing"]["short_by"]["in"]) == ("81 15/16 in", 0)


def test_legs_are_told_how_high_they_may_end_below_a_header_that_leaves_no_room_to_shim() -> None:
    """80 13/16 and 3/4 in are 81 9/16 in, 5/16 in more than the hole; carpet takes the room over the head as well."""
    told = advised(door(pull_side=CARPET, push_side=CARPET, rough_opening={"height": "81 1/4 in"}))
    assert "head.shim.accepted" in {conflict["rules"][0] for conflict in told["conflicts"]}
    assert (told["setting"]["foot_limit"]["text"], told["framing"]["spare"]["in"]) == ("-5/16 in", 0)


def test_what_is_wanted_over_a_piece_takes_no_other_rule_away_where_none_is_fitted() -> None:
    """One vinyl runs through: a leaf is wanted 5/8 in over its 1/8 in (common practice), whatever a piece would ask."""
    sheet = {"build_up": [{"material": "sheet_vinyl", "thickness": "1/8 in", "fixing": "glued"}]}
    wanted: Wire = {"project_rules": {"piece_clearance": "1/8 in"}, "frame": {"undercut": "1/2 in"}}
    told = advised(door(pull_side=sheet, push_side=sheet, leaf={"core": "solid"}, **wanted))
    assert (told["leaf"]["trim"]["text"], told["leaf"]["bottom"]["text"]) == ("1/4 in", "3/4 in")


# --- a leaf left whole


@pytest.mark.parametrize("sides", [(PLANK, VINYL), (VINYL, PLANK)])
def test_of_two_floors_a_wish_given_up_is_told_by_the_one_that_misses_it_most(sides: tuple[Wire, Wire]) -> None:
    """5/8 in up: over vinyl of 1/8 in that is 1/8 in less than the 5/8 in wanted, over plank of 1/4 in 1/4 in."""
    pull, push = sides
    leaf = advised(door(pull_side=pull, push_side=push, leaf={"core": "solid"}, frame={"undercut": "5/8 in"}))["leaf"]
    given_up = {one["rule"]: one["amount"]["text"] for one in leaf["uncut"]["given_up"]}
    assert given_up["leaf.hard.wanted"] == "1/4 in"


def test_no_whole_leaf_is_spoken_of_where_legs_are_cut_all_the_same() -> None:
    """80 13/16 and 1 1/8 in are 3/8 in more than the hole, and 1/8 in is left over the head."""
    low: Wire = {"frame": {"undercut": "1 1/8 in"}, "rough_opening": {"height": "81 9/16 in"}}
    told = advised(door(pull_side=VINYL, push_side=VINYL, leaf={"core": "solid"}, **low))
    assert told["setting"]["hinge_leg"]["trim"]["text"] == "1/2 in"
    assert told["leaf"]["trim"]["text"] == "1/8 in"
    assert "uncut" not in told["leaf"]


def test_no_whole_leaf_is_spoken_of_where_none_is_cut() -> None:
    tile = {"build_up": [{"material": "self_levelling", "thickness": "1 in"}, {"material": "ceramic_tile"}]}
    steel: Wire = {"leaf": {"core": "steel"}, "frame": {"undercut": "1 7/8 in"}}
    legs = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-7/16 in"}
    leaf = advised(door(pull_side=tile, push_side=tile, jurisdiction="GB-ENG", subfloor=legs, **steel))["leaf"]
    assert leaf["trim"]["mm"] == 0
    assert "uncut" not in leaf


GARAGE: Wire = {"duties": ["garage_to_house", "transfer_air"], "leaf": {"core": "solid", "thickness": "1 3/4 in"}}
"""No air may pass from a garage, whatever the unit (IRC R302.5)."""


@pytest.mark.parametrize("hole", [{"height": "82 in"}, None])
def test_no_leaf_is_cut_for_what_no_header_stands_against(hole: Wire | None) -> None:
    order: Wire = {"frame": {"state": "to_order", "undercut": None}, "rough_opening": hole}
    told = advised(door(door(pull_side=CARPET, push_side=PLANK, **order), **GARAGE))
    ways = {conflict["rules"][0]: [way["kind"] for way in conflict["ways_out"]] for conflict in told["conflicts"]}
    assert ways["us-garage-air"] == ["instead"]
    assert {rule for rule, kinds in ways.items() if "cut_leaf" in kinds} == ways.keys() - {"us-garage-air"}


def test_the_hole_for_another_unit_is_told_as_that_unit_would_stand() -> None:
    # floors of 1/4 in over legs 3/4 in apart: the order's legs are cut by what hides the higher one's foot
    level = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-3/4 in"}
    told = advice(
        PLANK,
        frame={"state": "to_order", "undercut": None},
        subfloor=level,
        rough_opening={"height": "81 1/2 in"},
    )
    assert told["order"]["why"].count(told["framing"]["rough_opening_needed"]["text"]) == 1
    # and of one that is there: 1 3/8 in of undercut, its higher leg 3/4 in shorter for it, 80 13/16, 1/4 to shim
    there = advice(PLANK, frame={"undercut": "1/2 in"}, subfloor=level, rough_opening={"height": "81 1/2 in"})
    assert there["order"]["undercut_to_order"]["text"] == "1 3/8 in"
    assert "needs a rough opening of 81 15/16 in" in there["order"]["why"]


@pytest.mark.parametrize(
    ("height", "told"),
    [
        # carpet of 15/16 in: 1 1/2 in of undercut, 80 in, 1/8 in and 11/16 in make 82 5/16 in; 1/8 in takes a shim,
        # 1/4 in is wished for: common practice, no source
        ("82 7/16 in", "with 1/8 in to shim; a rough opening of 82 9/16 in would give the room that is wanted"),
        ("82 1/2 in", "with 3/16 in to shim; a rough opening of 82 9/16 in would give the room that is wanted"),
    ],
)
def test_no_unit_that_goes_in_is_said_to_need_a_higher_opening(height: str, told: str) -> None:
    for frame in ({}, {"state": "to_order", "undercut": None}):
        assert told in advice(CARPET, rough_opening={"height": height}, frame=frame)["order"]["why"]


def test_what_is_ordered_goes_in_where_that_misses_no_more_than_wishes() -> None:
    """1 7/16 in and 80 13/16 in leave 1/8 in under 82 3/8 in, and 1/2 in over carpet of 15/16 in: both are accepted.

    9/16 in was wished for there, 1/4 in over the head. Nobody is asked to raise a header for that.
    """
    low = {"rough_opening": {"height": "82 3/8 in"}}
    told = advice(CARPET, frame={"state": "to_order", "undercut": None}, **low)
    assert (told["verdict"], told["conflicts"]) == ("go", [])
    assert told["order"]["undercut_to_order"]["text"] == "1 7/16 in" == told["leaf"]["bottom"]["text"]
    assert told["summary"].startswith("Order the unit with 1 7/16 in undercut. Stand both legs on the subfloor.")
    assert "with 1/8 in to shim; a rough opening of 82 1/2 in would give the room that" in told["order"]["why"]
    there = advice(CARPET, **low)["order"]["why"]  # of one that is there, 1 1/2 in would need no saw
    assert "and needs a rough opening of 82 9/16 in" in there


def test_a_unit_whose_legs_show_is_not_told_to_do() -> None:
    # steel isn't cut: over 3/4 in of wood a 1/2 in undercut lifts the legs above the plank on the other side
    engineered = floor("engineered_wood 3/4 in")
    told = advice(engineered, leaf={"core": "steel"}, frame={"undercut": "1/2 in"})
    assert told["verdict"] == "hold"
    assert "will do" not in told["order"]["why"]
    assert "misses rules; see the conflicts" in told["order"]["why"]
    fine = advice(PLANK, leaf={"core": "steel"}, frame={"undercut": "3/4 in"})
    assert not fine["conflicts"]
    assert "misses rules" not in fine["order"]["why"]


@pytest.mark.parametrize("height", ["81 3/4 in", "82 in", "82 5/16 in", "83 in"])
def test_a_header_that_is_raised_as_told_is_high_enough(height: str) -> None:
    # fibreglass isn't cut: 1 1/4 in under carpet less 7/16 of undercut are blocks of 13/16; 81 1/4 of unit, 1/4 to shim
    bare = floor("sealed_concrete 0 in")
    told = advice(
        CARPET, bare, leaf={"core": "fibreglass"}, frame={"undercut": "7/16 in"}, rough_opening={"height": height}
    )
    assert told["framing"]["rough_opening_needed"]["text"] == "82 5/16 in"


def test_a_header_that_cuts_legs_for_its_shims_is_told_what_whole_legs_take() -> None:
    # 82 1/8 in take the unit of 81 15/16 and 3/16 to shim; the legs stay whole once there is 1/4
    pair: Wire = {"leaf": {"core": "fibreglass", "count": 2}, "frame": {"undercut": "1 1/8 in"}}
    uneven = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "3/16 in"}
    wood = floor("engineered_wood 1/2 in")
    for height in ("82 in", "82 1/8 in", "83 in"):
        told = advice(wood, subfloor=uneven, duties=["smoke_control"], rough_opening={"height": height}, **pair)
        assert told["framing"]["rough_opening_needed"]["text"] == "82 3/16 in"


def test_a_unit_whose_legs_are_cut_is_not_told_to_do() -> None:
    # 1 in of undercut over bare concrete, 3/4 in allowed below a label: 1/4 in comes off the legs, the leaf stays whole
    bare = floor("sealed_concrete 0 in")
    told = advice(bare, bare, **RATED)
    assert told["setting"]["hinge_leg"]["trim"]["text"] == "1/4 in"
    ordered = told["order"]["undercut_to_order"]["text"]
    assert told["order"]["why"] == (
        f"This unit has 1 in undercut; one with {ordered} would leave its legs and the leaf uncut."
    )
    assert (
        told["leaf"]["why"] == "With the legs at this height, the undercut puts the bottom 3/4 in above the subfloor."
    )
    assert not advice(bare, bare, **{**RATED, "frame": {"undercut": ordered}})["setting"]["hinge_leg"]["trim"]["mm"]
    # over an uneven slab any unit's higher leg is cut, so that the lower doesn't show
    uneven = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/8 in"}
    assert "legs and the leaf uncut" not in advice(bare, bare, subfloor=uneven, **RATED)["order"]["why"]


@pytest.mark.parametrize(("undercut", "wide"), [("1 1/4 in", False), ("1 5/16 in", True), ("2 in", True)])
def test_a_unit_with_more_undercut_than_is_wanted_is_not_told_to_be_the_best(undercut: str, wide: bool) -> None:
    # over plank of 1/4 in on both sides 1 in is the widest gap that is wanted; 7/8 in of undercut leaves 5/8
    told = advice(PLANK, frame={"undercut": undercut})
    assert (told["verdict"], told["order"]["undercut_to_order"]["text"]) == ("go", "7/8 in")
    assert ("leaves a wider gap than wanted" in told["order"]["why"]) is wide
    assert ("don't order another" in told["order"]["why"]) is not wide


def test_how_a_frame_that_is_set_stands_is_told_and_not_what_to_do() -> None:
    # the strike leg's subfloor is 1/4 in lower, and nobody sets the frame again for that
    level = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/4 in"}
    told = advice(PLANK, frame={"undercut": "1 in", "state": "set", "foot": "0 in"}, subfloor=level)
    assert told["summary"].startswith(
        "The subfloor is out of level; as set, the hinge leg stands on the subfloor, the strike leg stands 1/4 in "
        "above the subfloor under it."
    )


def test_no_limit_of_the_legs_is_told_where_none_holds() -> None:
    # steel isn't cut: the leaf over plank wants legs higher than the plank hides, and no header is known
    told = advice(PLANK, leaf={"core": "steel"}, frame={"undercut": "1/8 in"}, rough_opening=None)
    assert [conflict["rules"] for conflict in told["conflicts"]] == [["leg.hard.accepted", "leaf.hard.accepted"]]
    assert "foot_limit" not in told["setting"]
    # nor where the header would let them stand higher: they show over the plank as it is
    assert "foot_limit" not in advice(PLANK, leaf={"core": "steel"}, frame={"undercut": "1/8 in"})["setting"]


def test_what_is_cut_off_legs_is_checked_at_the_higher_subfloor() -> None:
    # 1 in of undercut and 80 13/16: 81 13/16 under 81 3/4, and 1/8 in to shim: 3/16 in, where a wish is for nothing
    low = assessed(
        door(pull_side=PLANK, push_side=PLANK, frame={"undercut": "1 in"}, rough_opening={"height": "81 3/4 in"})
    )
    (whole,) = (check for check in low.checks if check.rule == "leg.whole")
    assert (whole.status, whole.actual, whole.margin) == ("relaxed", ticks("3/16 in"), -ticks("3/16 in"))


def test_legs_that_the_header_has_cut_are_not_blamed_on_the_floors() -> None:
    # 3/4 + 80 13/16 = 81 9/16 in under 81 1/2, and 1/8 in of shims; a labelled frame is cut as its listing allows
    rated = advice(PLANK, **RATED | {"frame": {"undercut": "3/4 in"}}, rough_opening={"height": "81 1/2 in"})
    assert "Only if the listing of the labelled frame allows it: Cut 3/16 in off both legs" in rated["summary"]
    assert "the header is too low" in rated["summary"]
    plain = advice(PLANK, rough_opening={"height": "81 1/2 in"})
    assert "listing" not in plain["summary"]
    assert "the header is too low" in plain["summary"]


def test_a_leaf_that_can_not_hang_is_said_to() -> None:
    told = advice(CARPET, rough_opening={"height": "80 1/4 in"}, leaf={"core": "hollow"}, frame={"undercut": "1 in"})
    assert told["leaf"]["bottom"]["in"] < 0
    assert "would end 1/16 in below the subfloor" in told["summary"]
    assert "would end 1/16 in below the subfloor" in told["leaf"]["why"]
    assert "-1/16" not in told["summary"]


# --- the ways out


def test_a_gap_too_wide_for_fire_is_not_told_to_be_widened() -> None:
    told = advice(CARPET, duties=["fire_label", "transfer_air"], **RATED | {"frame": {"undercut": "1/2 in"}})
    (wide,) = (c for c in told["conflicts"] if c["rules"][0] == "us-fire-bottom-gap")
    texts = [way["text"] for way in wide["ways_out"]]
    assert any("Fix too wide a gap with" in text for text in texts)
    # a sill of 1/2 in under 1 in passes since 2007, where the gap is counted to it (NFPA 80 4.8.4 as quoted)
    assert any("with a sill under the closed leaf if the authority counts the gap to it" in text for text in texts)
    assert not any("more undercut" in text or "trimmed more" in text for text in texts)


def test_no_gap_is_opened_for_air_below_a_leaf_that_holds_back_smoke() -> None:
    airy: Wire = {"leaf": {"core": "stile_and_rail"}, "air": {"supply_flow": "40 cfm", "pressure_limit": "3 Pa"}}
    plain = advice(PLANK, duties=["transfer_air"], **airy)
    assert "project.pressure_limit" in plain["leaf"]["governed_by"]
    smoke = advice(PLANK, duties=["transfer_air", "smoke_control"], **airy)
    assert smoke["leaf"]["bottom"]["in"] < plain["leaf"]["bottom"]["in"]
    assert smoke["order"]["undercut_to_order"]["in"] < plain["order"]["undercut_to_order"]["in"]
    assert "transfer_grille" in {way["kind"] for c in smoke["conflicts"] for way in c["ways_out"]}


def test_a_leg_too_high_is_not_told_to_be_set_higher() -> None:
    rules = {"carpet_leaf_height": "1 5/8 in", "trim_limit": "1/4 in", "leg_under_carpet": "1/4 in"}
    told = advice(CARPET, project_rules=rules)
    (high,) = (c for c in told["conflicts"] if c["rules"][0] == "project.leg_under_carpet")
    assert not any("Set the frame higher" in way["text"] for way in high["ways_out"])


def test_a_frame_set_too_high_may_be_set_again() -> None:
    told = advice(CARPET, frame={"state": "set", "foot": "1 in", "undercut": "1 in"})
    kinds = {c["rules"][0]: {way["kind"] for way in c["ways_out"]} for c in told["conflicts"]}
    assert "set_again" in kinds["leg.carpet.foot"]
    loose = advice(CARPET, leaf={"core": "steel"}, frame={"undercut": "1/2 in"})
    assert "set_again" not in {way["kind"] for c in loose["conflicts"] for way in c["ways_out"]}


def test_nobody_sets_a_unit_again_whose_rule_would_be_missed_by_more() -> None:
    """A hollow leaf that ends 3/8 in below the tile: stood so that it clears, its legs show all the more over plank."""
    sides: Wire = {"pull_side": floor("mud_bed 1 1/4 in", "ceramic_tile 3/8 in"), "push_side": PLANK}
    told = advised(door(**sides, frame={"state": "set", "foot": "1/2 in", "undercut": "3/4 in"}, rough_opening=None))
    shown = next(c for c in told["conflicts"] if c["rules"] == ["leg.hard.accepted", "as_set"])
    assert shown["amount"]["text"] == "1/4 in"
    assert "set_again" not in {way["kind"] for way in shown["ways_out"]}
    short = next(c for c in told["conflicts"] if c["rules"][0] == "leaf.hard.accepted")
    assert "set_again" in {way["kind"] for way in short["ways_out"]}


def test_a_rule_missed_on_both_sides_is_told_of_the_worse() -> None:
    """Legs at 1/2 in: 1/4 in above plank of 1/4 in, 3/8 in above vinyl of 1/8 in, whichever side it lies on."""
    for sides in ((PLANK, floor("vinyl_tile 1/8 in")), (floor("vinyl_tile 1/8 in"), PLANK)):
        told = advice(*sides, frame={"state": "set", "foot": "1/2 in", "undercut": "3/4 in"}, rough_opening=None)
        shown = next(c for c in told["conflicts"] if c["rules"][0] == "leg.hard.accepted")
        assert shown["amount"]["text"] == "3/8 in"


def ways(told: Any, rule: str) -> list[tuple[str, str]]:
    """Kinds of the ways out of a rule's conflict, and whose words they are."""
    (found,) = (c for c in told["conflicts"] if c["rules"][0] == rule)
    return [(way["kind"], way.get("rule", "")) for way in found.get("ways_out", ())]


def missed_of(told: Any) -> set[str]:
    return {conflict["rules"][0] for conflict in told["conflicts"]}


def test_what_a_limit_on_trim_says_helps_a_leaf_that_may_still_be_set_higher() -> None:
    # 1/8 in and 1/4 in of blocks, and 1/2 in comes off a hollow leaf at most: 7/8 in, 3/8 in short of what is accepted
    low: Wire = {"frame": {"undercut": "1/8 in"}, "project_rules": {"leg_under_carpet": "1/4 in"}}
    height = "leaf.carpet.height.accepted"
    told = advice(CARPET, CARPET, **low)
    assert ways(told, height) == [("instead", height), ("instead", "trim.hollow"), ("other_unit", "")]
    # of a leg that had to stay lower, for the sake of the same leaf, the limit on trim says nothing of use
    assert ways(told, "project.leg_under_carpet") == [("instead", "project.leg_under_carpet"), ("other_unit", "")]
    # nor where the frame is set, or the header keeps it down
    fixed = advice(CARPET, CARPET, frame={"undercut": "1/8 in", "state": "set", "foot": "1/4 in"})
    assert ways(fixed, height) == [("instead", height), ("other_unit", ""), ("set_again", "")]
    under = advice(CARPET, frame={"undercut": "1/8 in"}, rough_opening={"height": "81 in"})
    assert ways(under, height) == [("instead", height), ("raise_header", "")]


@pytest.mark.parametrize(("hole", "helps"), [("82 7/16 in", True), ("82 3/8 in", False)])
def test_another_unit_helps_where_it_just_goes_in(hole: str, helps: bool) -> None:
    # carpet asks for 1 1/2 in: 1 1/2 + 80 + 1/8 + 11/16 = 82 5/16 in, and 1/8 in takes a shim
    told = advice(CARPET, CARPET, leaf={"core": "steel"}, frame={"undercut": "1/8 in"}, rough_opening={"height": hole})
    offered = {way["kind"] for c in told["conflicts"] for way in c["ways_out"]}
    assert ("other_unit" in offered) is helps


def test_a_flatter_piece_is_named_where_room_over_the_one_that_lies_there_costs_a_rule() -> None:
    """NFPA 80 lets a labelled leaf end 3/4 in above hard floor: 1 in, on plank of 1/4 in.

    An overlap reducer on wood of 3/4 in stands as high at most, so nothing is left of the 1/8 in that is accepted over
    it (common practice, no source); a ramped one, level with the wood, leaves 1/4 in.
    """
    opening: Wire = {**RATED, "duties": ["fire_label"]}
    told, over = advice(WOOD, transition={"piece": "reducer_overlap"}, **opening), "leaf.piece.accepted"
    (way,) = (way for c in told["conflicts"] for way in c["ways_out"] if way["kind"] == "change_piece")
    assert way["text"] == "Fit another piece: Ramped reducer, level with the higher finish."
    assert ways(told, over) == [("instead", over), ("change_piece", "")]
    flat = advice(WOOD, **opening)
    assert flat["transition"]["piece"] == way["piece"]
    assert (over in missed_of(told), over in missed_of(flat)) == (True, False)
    # over wood of 15/16 in 1/16 in is left, and no piece is flatter than one level with it
    assert ways(advice(floor("solid_wood 15/16 in"), **opening), over) == []
    assert "change_piece" not in {way["kind"] for c in flat["conflicts"] for way in c["ways_out"]}  # none is flatter


def test_a_piece_that_ends_a_conflict_is_named_with_how_high_it_stands() -> None:
    """A steel leaf isn't cut: 11/16 in up, it passes a T-moulding of 1/4 in on plank of 3/8 in by 1/16 in.

    1/8 in is accepted (common practice, no source); over the low one of 1/8 in 3/16 in are left.
    """
    planks = [
        {"build_up": [{"material": "vinyl_plank", "thickness": t, "fixing": "floating"}]} for t in ("3/8 in", "1/4 in")
    ]
    told = advice(*planks, leaf={"core": "steel"}, frame={"undercut": "11/16 in", "state": "set", "foot": "0 in"})
    (way,) = (way for c in told["conflicts"] for way in c["ways_out"] if way["kind"] == "change_piece")
    assert way["piece"] == "t_moulding_low"
    assert (
        way["text"]
        == "Fit another piece: Low T-moulding with eased edges, which stands 1/8 in above the higher finish."
    )


def test_a_law_that_a_piece_stands_against_is_met_over_a_flatter_one() -> None:
    """A higher subfloor under one leg lifts the leaf over the piece past the 3/4 in that NFPA 80 allows above plank."""
    low: Wire = {"subfloor": {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/8 in"}, "duties": ["fire_label"]}
    told = advice(WOOD, transition={"piece": "reducer_overlap"}, **RATED, **low)
    (gap,) = (c for c in told["conflicts"] if c["rules"][0] == "us-fire-bottom-gap")
    assert "fit.leaf.piece" in gap["rules"]
    (piece,) = [way["piece"] for way in gap["ways_out"] if way["kind"] == "change_piece"]
    flat = advice(WOOD, **RATED, **low)
    assert flat["transition"]["piece"] == piece
    assert (told["verdict"], flat["verdict"]) == ("conflict", "hold")


def test_a_header_is_named_once_among_the_ways_out() -> None:
    told = advice(CARPET, rough_opening={"height": "81 1/4 in"})
    named = [sum("header" in way["text"] for way in conflict["ways_out"]) for conflict in told["conflicts"]]
    assert set(named) == {1}


def test_a_unit_to_order_whose_undercut_is_stated_is_told_of_as_that_unit() -> None:
    # 1 in and blocks of 3/8 are what 1 3/8 is: 1 3/8 + 80 + 1/8 + 11/16 + 1/4 to shim = 82 7/16, below the header
    frame = {"state": "to_order", "undercut": "1 in"}
    told = advice(WOOD, WOOD, leaf={"core": "solid"}, frame=frame, rough_opening={"height": "82 1/2 in"})
    assert told["setting"]["foot"]["text"] == "3/8 in"
    assert told["framing"]["rough_opening_needed"]["text"] == "82 7/16 in"
    assert told["framing"]["short_by"]["text"] == "0 in"
    assert "header" not in told["summary"]
    assert told["order"]["why"].startswith("This unit's 1 in undercut will do; one with 1 3/8 in")


def test_a_unit_whose_labelled_legs_would_be_cut_isnt_said_to_do() -> None:
    """1 in over a bare slab: 1/4 in comes off the legs for the gap under a fire door, and none with 5/8 in."""
    told = advice(floor("sealed_concrete 0 in"), **RATED)
    assert "Cut 1/4 in off both legs" in told["summary"]
    assert told["order"]["undercut_to_order"]["in"] == 0.625
    assert told["order"]["why"] == (
        "This unit has 1 in undercut; one with 5/8 in would leave its legs and the leaf uncut."
    )


def test_a_header_is_no_limit_on_a_leaf_that_is_there_and_whose_undercut_nobody_measured() -> None:
    # 80 13/16 from leaf to head leave 15/16 under 81 3/4: a unit of 3/4 in goes in and is cut 3/4 in to end at 1 1/2
    low = {"rough_opening": {"height": "81 3/4 in"}, "leaf": {"core": "solid"}}
    told = advice(CARPET, **low, frame={"undercut": None})
    assert told["leaf"]["bottom"]["text"] == "1 1/2 in"
    assert (told["verdict"], told["conflicts"]) == ("hold", [])
    assert advice(CARPET, **low, frame={"undercut": "3/4 in"})["leaf"]["bottom"]["text"] == "1 1/2 in"


def test_room_to_shim_over_a_frame_that_is_fixed_holds_nothing() -> None:
    # 3/8 + 1 + 80 13/16 = 82 3/16 below 82 1/4: 1/16 is left, where 1/8 is accepted while the frame may still move
    fixed = {"state": "set", "foot": "3/8 in", "undercut": "1 in"}
    tight = advice(WOOD, WOOD, leaf={"core": "solid"}, frame=fixed, rough_opening={"height": "82 1/4 in"})
    assert tight["setting"]["head_spare"]["text"] == "1/16 in"
    assert (tight["framing"]["rough_opening_needed"]["text"], tight["framing"]["short_by"]["in"]) == ("82 3/16 in", 0)
    assert (tight["verdict"], tight["conflicts"]) == ("go", [])
    assert "head.shim.accepted" in {check["rule"] for check in tight["checks"] if check["status"] == "relaxed"}


# --- a rough opening too narrow


@pytest.mark.parametrize(
    ("width", "short", "holds"),
    [("31 11/16 in", "1/8 in", []), ("31 9/16 in", "1/4 in", []), ("30 in", "1 13/16 in", ["setting"])],
)
def test_a_frame_that_does_not_go_in_holds_and_one_without_room_for_shims_is_asked_about(
    width: str, short: str, holds: list[str]
) -> None:
    # 30 in leaf, 3/16 in side gaps, two 11/16 in legs: 31 9/16 in, and 1/4 in of shims
    told = advice(PLANK, frame={"undercut": "1 in"}, rough_opening={"height": "84 in", "width": width})
    (asked,) = told["questions"]
    assert (asked["code"], asked["ask"], asked["pointer"]) == (
        "rough_opening_narrow",
        "framer",
        "#/rough_opening/width",
    )
    assert asked.get("holds", []) == holds
    assert f"{short} narrower than the 31 13/16 in" in asked["text"]
    assert told["verdict"] == ("hold" if holds else "go")
    assert told["framing"]["width_short_by"]["text"] == short


def test_a_frame_that_is_set_went_in() -> None:
    hole = {"height": "84 in", "width": "30 in"}
    set_ = advice(PLANK, frame={"undercut": "1 in", "state": "set", "foot": "0 in"}, rough_opening=hole)
    assert "rough_opening_narrow" not in {q["code"] for q in set_["questions"]}


# --- names of answers


def _of_house(*openings: Wire, lines: tuple[str, ...] = (), **more: Any) -> Any:
    body = {
        **more,
        "house": "H",
        "openings": list(openings),
        "head_lines": [{"name": "l", "marks": list(lines)}] if lines else [],
    }
    house = msgspec.convert(body, House)
    return advise_house(house, [read(one) for one in openings], catalogue())


def test_units_to_order_share_no_block_for_having_one_undercut() -> None:
    # carpet asks for 1 1/2 in, wood for 3/4 + 5/8; on a level subfloor neither stands on a block, however dear one is
    frame = {"state": "to_order", "undercut": None}
    carpet = door(mark="D1", pull_side=CARPET, push_side=CARPET, frame=frame)
    wood = door(mark="D2", pull_side=WOOD, push_side=WOOD, frame=frame)
    found = _of_house(carpet, wood, labour={"block_size": 60})
    ordered = [one.advice.order.undercut_to_order for one in found.openings]
    assert ordered == [ticks("1 1/2 in"), ticks("1 3/8 in")]


def test_a_mark_that_stands_twice_is_refused_in_its_place() -> None:
    plank = door(mark="D1", pull_side=PLANK, push_side=PLANK)
    first, second = _of_house(plank, plank).openings
    assert first.problem is UNSET
    (fault,) = second.problem.errors
    assert (fault.pointer, fault.code) == ("#/openings/1/mark", "repeated")
    assert fault.detail == "Another opening has this mark already; each mark stands once in a house."


def test_what_a_house_decides_gives_an_answer_another_name() -> None:
    low = door(mark="D07", pull_side=PLANK, push_side=PLANK, frame={"undercut": "3/4 in"})
    high = door(low, mark="D08", pull_side=WOOD, push_side=WOOD, datum="1/2 in")
    alone, lined = (
        {one.mark: one.advice for one in _of_house(low, high, lines=lines).openings} for lines in ((), ("D07", "D08"))
    )
    for mark in ("D07", "D08"):
        same = (alone[mark].setting, alone[mark].leaf) == (lined[mark].setting, lined[mark].leaf)
        assert (alone[mark].advice_id == lined[mark].advice_id) == same
    assert alone["D07"].advice_id != lined["D07"].advice_id


def test_an_opening_set_as_it_would_be_alone_has_the_name_it_has_alone() -> None:
    low = door(mark="D07", pull_side=PLANK, push_side=PLANK, frame={"undercut": "3/4 in"})
    (one,) = _of_house(low).openings
    assert one.advice.advice_id == advised(low)["advice_id"]


def test_a_grille_for_the_pressure_is_no_way_out_where_an_area_is_asked_for() -> None:
    # 100 in2 for the closet; what 120 cfm at 3 Pa take beside the gap is a part of that
    told = advised(
        door(
            pull_side=floor("vinyl_plank 1/4 in"),
            push_side=floor("vinyl_plank 1/4 in"),
            duties=["dryer_closet"],
            air={"supply_flow": "120 cfm", "pressure_limit": "3 Pa"},
        )
    )
    offered = {c["rules"][0]: [way["kind"] for way in c["ways_out"]] for c in told["conflicts"]}
    assert offered["us-dryer-closet"] == ["instead"]
    assert "transfer_grille" in offered["project.pressure_limit"]


@pytest.mark.parametrize(
    ("pull", "push", "fits", "checks"),
    [
        ("vinyl_plank 1/4 in", "sealed_concrete 0 in", ["external:floor-laid.pull_side"], ["D01.fit-piece"]),
        ("sealed_concrete 0 in", "sealed_concrete 0 in", None, ["D01.set-frame"]),
        # whether a coating comes isn't said, so it may have to be waited for
        (
            "vinyl_plank 1/4 in",
            "sealed_concrete",
            ["external:floor-laid.pull_side", "external:floor-laid.push_side"],
            ["D01.fit-piece"],
        ),
    ],
)
def test_nobody_waits_for_a_floor_that_will_not_be_laid(
    pull: str, push: str, fits: list[str] | None, checks: list[str]
) -> None:
    told = tasks(advice(floor(pull), floor(push)))
    assert (told["fit-piece"]["waits_for"] if "fit-piece" in told else None) == fits
    assert told["check-clearances"]["waits_for"] == checks


def test_a_step_names_the_floors_that_wait_for_it() -> None:
    """By hand: plank passes under undercut jambs; carpet waits for the frame and the bar it is clamped in."""
    pull, push = "external:floor-laid.pull_side", "external:floor-laid.push_side"
    opening = door(pull_side=floor("carpet_cushion 7/16 in", "carpet 1/2 in"), push_side=floor("vinyl_plank 1/4 in"))
    steps = advised(door(opening, transition={"piece": "carpet_bar"}))["tasks"]
    told = {task["key"]: task.get("before") for task in steps}
    assert {key.removeprefix("D01."): before for key, before in told.items() if before} == {
        "set-frame": [pull],
        "undercut-jambs": [push],
        "fit-piece": [pull],
    }


def test_a_slab_that_may_be_covered_is_waited_for() -> None:
    slab = may(floor("sealed_concrete 0 in"), (PLANK, 0.5))
    told = tasks(advice(floor("vinyl_plank 1/4 in"), slab))
    assert "external:floor-laid.push_side" in told["fit-piece"]["waits_for"]


def test_a_hump_under_the_closed_leaf_counts_for_the_piece_that_lies_on_it() -> None:
    """1/4 in high in the middle of the doorway: piece and leaf stand as much higher, in section and check alike."""
    points = [{"angle": 0, "radius": "15 in", "height": "1/4 in"}]
    hump: Wire = {"kind": "survey", "hinge_leg": "0 in", "strike_leg": "0 in", "points": points}
    sides: Wire = {"pull_side": PLANK, "push_side": floor("carpet_cushion 7/16 in", "carpet 1/2 in")}
    for ground, bottom in ((hump, 1.75), ({"kind": "level"}, 1.5)):
        told = advised(door(**sides, subfloor=ground, frame={"undercut": "1 1/2 in"}))
        (over,) = (check["actual"] for check in told["checks"] if check["rule"] == "fit.leaf.piece")
        assert told["clearance"]["piece"]["least"] == over
        assert (told["leaf"]["bottom"]["in"], over["in"]) == (bottom, 0.375)


@pytest.mark.parametrize(("width", "short"), [("32 in", "0 in"), ("31 in", "13/16 in"), (None, None)])
def test_a_width_is_short_by_nothing_only_where_it_was_measured(width: str | None, short: str | None) -> None:
    hole = {"height": "83 in"} | ({"width": width} if width else {})
    framing = advised(door(pull_side=PLANK, push_side=PLANK, rough_opening=hole))["framing"]
    assert framing.get("width_short_by", {}).get("text") == short


@pytest.mark.parametrize(("hinges", "minutes"), [("butt", 53), ("spring", 61), ("lift_off", 47)])
def test_a_leaf_that_hangs_is_cut_as_its_hinges_let_it_and_its_frame_set_no_more(hinges: str, minutes: int) -> None:
    """Too low for a saw on a rail: 35 off its hinges, 8 to seal, and 10 to hang it, 8 more with springs, or 4."""
    low = {"frame": {"state": "set", "foot": "0 in", "undercut": "1/8 in"}, "rough_opening": None}
    wanted = {"hard_floor_clearance": "1/8 in", "piece_clearance": "1/8 in"}
    vinyl = floor("vinyl_tile 1/8 in")
    told = advice(vinyl, vinyl, **low, project_rules=wanted, leaf={"hinges": hinges, "width": "24 in"})
    assert (told["leaf"]["trim"]["text"], told["leaf"]["where"]) == ("1/8 in", "off_hinges")
    assert {name: task["minutes"] for name, task in tasks(told).items() if task["phase"] in ("setting", "leaf")} == {
        "trim-leaf": minutes
    }


@pytest.mark.parametrize(
    ("legs", "says", "blocks"),
    [
        (("-1/4 in", "0 in"), "block the hinge leg up 1/8 in, cut 1/8 in off the strike leg.", ("1/8 in", "0 in")),
        (("0 in", "-1/4 in"), "cut 1/8 in off the hinge leg, block the strike leg up 1/8 in.", ("0 in", "1/8 in")),
    ],
)
def test_legs_on_a_subfloor_out_of_level_are_told_each(
    legs: tuple[str, str], says: str, blocks: tuple[str, str]
) -> None:
    """Vinyl 1/8 in hides no more below the lower leg, so the frame stands 1/8 in below the higher subfloor."""
    vinyl, (hinge, strike) = floor("vinyl_tile 1/8 in"), legs
    told = advice(vinyl, vinyl, subfloor={"kind": "legs", "hinge_leg": hinge, "strike_leg": strike})
    assert told["summary"].startswith(f"Out of level: {says}")
    assert tuple(told["setting"][leg]["block"]["text"] for leg in ("hinge_leg", "strike_leg")) == blocks


def test_a_tape_finer_than_was_asked_for_is_told() -> None:
    """14 mm of wood beside 12.7 mm of tile under a smoke door; the leaf clears a piece 20.35 mm up, 12.35 mm above 8.

    So legs end between 12.35 and 12.7 mm, where the tile still hides them, and nothing is cut.
    """
    sides = {"pull_side": floor("engineered_wood 14 mm"), "push_side": floor("ceramic_tile 12.7 mm")}
    sides["transition"] = {"piece": "t_moulding"}
    smoke = door(**sides, jurisdiction="GB-ENG", duties=["smoke_control"], frame={"undercut": "8 mm"}, grid="1 mm")
    told = advised(smoke)
    (assumed,) = (one["text"] for one in told["assumptions"] if one["pointer"] == "#/grid")
    assert told["setting"]["grid"] == "0.5 mm"
    assert assumed == "The 1 mm grid is too coarse between two limits here: heights are on 0.5 mm."
    roomy = advised(door(smoke, frame={"undercut": "11 mm"}))
    assert not [one for one in roomy["assumptions"] if one["pointer"] == "#/grid"]
