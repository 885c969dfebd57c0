"""Sections of one answer that have to say the same: the cut, the order, the label, what is held, what is missed."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from tests.openings import Wire, advised, catalogue, door, floor, read

from jambset.engine.house import advise_house
from jambset.errors import InvalidRequest
from jambset.model.request import House
from jambset.quantity.grid import GRIDS
from jambset.render.encode import writer

CUSHION = {"material": "carpet_cushion", "thickness": "7/16 in"}
CARPET: Wire = {"build_up": [CUSHION, {"material": "carpet", "thickness": "1/2 in"}]}
THICK: Wire = {"build_up": [CUSHION, {"material": "carpet", "thickness": "3/4 in"}]}
PLANK: Wire = {"build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]}
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


# --- a labelled leaf is never cut on this service's word


@pytest.mark.parametrize(("now", "other", "weight"), [(THICK, CARPET, 0.8), (CARPET, THICK, 0.4)])
def test_a_labelled_leaf_is_cut_only_as_its_listing_allows(now: Wire, other: Wire, weight: float) -> None:
    told = advice(may(now, (other, weight)), **RATED)
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
    assert told["leaf"]["why"].endswith("and some for more.")
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
    assert "1/16 in too high for the floor to hide them, as they would at best" in one["outcome"]


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
    assert f"{told['outlook']['expected_work_minutes']:g} min of work" in told["outlook"]["why"]


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
    assert told["order"]["why"].endswith("comes to the least work over all floors that may come.")
    assert f"Order it with {undercut['text']} undercut." in told["summary"]


def test_a_unit_to_order_on_a_line_is_ordered_for_the_line() -> None:
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
    assert advices["D04"]["order"]["why"].endswith("keeps the line of the heads.")
    assert advices["D04"]["leaf"]["trim"]["in"] == 0.25
    assert [one["mark"] for one in told["trim_list"]] == ["D04", "D05"] or "D04" in [
        one["mark"] for one in told["trim_list"]
    ]
