"""What the sections of an advice say: legs, order, framing, leaf, and what is left to the flooring installer."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import UNSET
from tests.openings import Wire, advised, assessed, catalogue, door, floor, judged, layer, read, ticks

from jambset.engine.assess import prepare, settle_opening
from jambset.engine.bounds import HEAD_LINE, Stand
from jambset.engine.checks import Result
from jambset.engine.decide import decide
from jambset.engine.report import order

CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
"""15/16 in high."""
PLANK = floor(layer("vinyl_plank 1/4 in", fixing="glued"))
VINYL = floor("sheet_vinyl 1/8 in")
LABELLED: Wire = {"leaf": {"core": "solid", "fire_minutes": 20}, "duties": ["fire_label"]}
TO_ORDER: Wire = {"undercut": None, "state": "to_order"}


def over(both: Wire, **changes: Any) -> Wire:
    """A door with one floor on both sides."""
    return door(pull_side=both, push_side=both, **changes)


def uneven(strike: str) -> Wire:
    """A subfloor that lies otherwise under the strike leg."""
    return {"kind": "legs", "hinge_leg": "0 in", "strike_leg": strike}


# --- legs


def test_legs_cut_on_a_subfloor_out_of_level_are_told_each_as_it_ends() -> None:
    """By hand: 3/4 in undercut and 80 13/16 in above it under 81 1/2 in: 1/16 in comes off, more under a lower header.

    The strike leg's subfloor is 1/8 in lower, so that leg is blocked 1/16 in, stands, or has 1/8 in less cut off it.
    """
    for header, strike in (
        ("81 1/2 in", "block the strike leg up 1/16 in"),
        ("81 7/16 in", "stand the strike leg on the subfloor"),
        ("81 3/8 in", "cut 1/16 in off the strike leg"),
    ):
        low = over(CARPET, subfloor=uneven("-1/8 in"), rough_opening={"height": header})
        advice = advised(low)
        assert strike in advice["summary"]
        assert "off the hinge leg" in advice["summary"]
        assert advice["setting"]["method"] == "legs_trimmed", "one leg that is cut makes it a job with a saw"


@pytest.mark.parametrize(("header", "said"), [("82 1/4 in", "header"), ("82 5/16 in", "stands too high")])
def test_legs_are_cut_for_the_header_where_the_unit_wouldnt_go_in_with_whole_ones(header: str, said: str) -> None:
    """1 1/2 in undercut and 80 13/16 in above it: 82 5/16 in. Over vinyl a label's 3/4 in takes 5/8 in off anyhow."""
    advice = advised(over(VINYL, **LABELLED, frame={"undercut": "1 1/2 in"}, rough_opening={"height": header}))
    assert f"{said}" in advice["summary"]
    assert ("header" in advice["summary"]) == (said == "header")
    assert "Cut 5/8 in off both legs" in advice["summary"]


# --- unit to order, rough opening


@pytest.mark.parametrize("may_come", [None, "3/16 in"])
@pytest.mark.parametrize(("header", "goes_in"), [("81 15/16 in", True), ("81 7/8 in", False)])
def test_a_unit_to_order_goes_in_where_the_space_wanted_is_left(
    may_come: str | None, header: str, goes_in: bool
) -> None:
    """5/8 in over 1/4 in of plank, 80 13/16 in above it and 1/4 in over the head are 81 15/16 in."""
    request = over(PLANK, frame={"undercut": None}, rough_opening={"height": header})
    if may_come:
        request["pull_side"] = {**PLANK, "could_become": [{**floor(f"vinyl_plank {may_come}"), "weight": 0.3}]}
    told = assessed(request).order
    assert told.undercut_to_order == ticks("7/8 in")
    assert told.why.code == ("order.wanted" if goes_in else "order.tight")


@pytest.mark.parametrize(("hole", "code"), [(None, "order.weighed"), ({"height": "81 1/2 in"}, "order.lower.weighed")])
def test_a_unit_to_order_for_floors_that_may_change_is_said_to_be_for_all_of_them(hole: Wire | None, code: str) -> None:
    """Carpet as likely as plank. A unit that is there isn't ordered: of it the undercut for the floor named is told."""
    either = {**PLANK, "could_become": [{**CARPET, "weight": 0.5}]}
    sides = {"pull_side": either, "push_side": PLANK}
    assert assessed(door(frame=TO_ORDER, rough_opening=hole, **sides)).order.why.code == code
    there = assessed(door(frame={"undercut": "7/8 in"}, **sides))
    assert there.setting.governed_by == ("floors_may_change",)
    assert there.order.why.code == "order.wanted"


def test_a_unit_that_is_what_would_be_ordered_is_told_no_other() -> None:
    assert assessed(over(PLANK, frame={"undercut": "7/8 in"})).order.why.code == "order.wanted"


def test_a_greater_undercut_than_to_order_is_said_to_gape_only_where_a_gap_is_wider_than_wanted() -> None:
    """An inch is wanted at most. Over plank 7/8 in is to order: 1/16 in more takes that off the room over the head."""
    thin = floor("sheet_vinyl 1/16 in")
    assert assessed(over(thin, frame={"undercut": "3/4 in"})).order.why.code == "order.will_do"
    wide = assessed(over(thin, frame={"undercut": "1 1/8 in", "state": "set", "foot": "0 in"}))
    assert wide.order.why.code == "order.open"
    head = assessed(over(PLANK, frame={"undercut": "15/16 in"}, rough_opening={"height": "81 15/16 in"}))
    assert [check.rule for check in head.checks if check.status == "relaxed"] == ["head.shim.wanted"]
    assert head.order.why.code == "order.will_do"
    # steel over carpet 1 1/4 in up, as accepted: the gap over vinyl is wide, and a unit to order would have it wider
    steel = door(leaf={"core": "steel"}, frame={"undercut": "1 1/4 in"}, pull_side=CARPET, push_side=VINYL)
    assert assessed(steel).order.undercut_to_order == ticks("1 1/2 in")
    assert assessed(steel).order.why.code == "order.will_do"


def test_legs_cut_for_a_head_line_are_told_before_the_saw_for_the_leaf() -> None:
    """Set 1/4 in lower for a line of heads, a leaf with 3/4 in of undercut is cut for carpet; one to order is neither.

    An order that doesn't tell the legs would have somebody buy an undercut and cut them all the same.
    """
    prepared = prepare(read(over(CARPET)), catalogue())
    at = settle_opening(prepared, catalogue()).at
    lowered = decide(at, prepared.work, Stand(-ticks("1/4 in"), HEAD_LINE))
    assert lowered.trim == ticks("1/2 in")
    assert order(Result(at, lowered)).why.code == "order.shortened"
    level = decide(at, prepared.work, Stand(0, HEAD_LINE))
    assert order(Result(at, level)).why.code == "order.sawn"


def test_a_rough_opening_as_high_as_is_needed_is_short_by_nothing() -> None:
    """7/8 + 80 + 1/8 + 23/32 + 1/4 = 81 31/32 in, told as the next line of the tape, 82 in."""
    frame = {"undercut": "7/8 in", "head_thickness": "23/32 in"}
    framing = assessed(over(PLANK, frame=frame, rough_opening={"height": "81 31/32 in"})).framing
    assert framing is not UNSET
    assert (framing.rough_opening_needed, framing.short_by) == (ticks("82 in"), 0)


# --- leaf


def test_a_leaf_that_ends_level_with_the_subfloor_isnt_said_to_end_below_it() -> None:
    """Steel isn't cut, and its frame is set with no undercut: it stands in the plank, and nothing below that."""
    request = over(PLANK, leaf={"core": "steel"}, frame={"state": "set", "foot": "0 in", "undercut": "0 in"})
    advice = advised(request)
    assert advice["leaf"]["bottom"]["in"] == 0
    assert "below the subfloor" not in advice["summary"] + advice["leaf"]["why"]


def test_a_leaf_cut_in_two_goes_is_told_both() -> None:
    """By hand: of 1/2 in over carpet, 1/8 in comes off for 1/2 in of wood too; the other 3/8 in waits."""
    wood = {**floor("engineered_wood 1/2 in"), "weight": 0.8}
    request = door(pull_side={**CARPET, "could_become": [wood]}, push_side=VINYL, frame={"undercut": "1 in"})
    leaf = assessed(request).leaf
    assert leaf.why.code == "leaf.now_and_later"
    assert (leaf.trim_now, leaf.trim_rest) == (ticks("1/8 in"), ticks("3/8 in"))
    assert "1/8 in" in advised(request)["leaf"]["why"]


def test_a_labelled_leaf_that_is_cut_is_told_how_much_and_on_whose_word() -> None:
    """Carpet 15/16 in under a leaf 3/4 in up: legs go 1/2 in up at most, and what is missing comes off the leaf."""
    advice = advised(over(CARPET, **LABELLED, rough_opening={"height": "81 13/16 in"}))
    assert advice["leaf"]["trim"]["in"] > 0
    assert all(words in advice["leaf"]["why"] for words in ("listing", advice["leaf"]["trim"]["text"]))


def test_heights_on_no_tape_are_said_to_be_on_none() -> None:
    """3/4 in over the tile by the project and by the label: 6.3 + 19.05 - 25 mm of block, between any two marks."""
    project = {"hard_floor_clearance": "3/4 in"}
    leaf = {"core": "steel", "fire_minutes": 20}
    request = over(floor("ceramic_tile 6.3 mm"), duties=["fire_label"], leaf=leaf, project_rules=project)
    advice = advised(door(request, frame={"undercut": "25 mm"}))
    assert advice["setting"]["foot"]["mm"] == pytest.approx(0.35)
    (said,) = [one["text"] for one in advice["assumptions"] if one["pointer"] == "#/grid"]
    assert said.endswith("on no grid.")


# --- what is left to the flooring installer


def test_the_base_over_a_thin_carpet_goes_as_far_below_its_top_as_legs_do() -> None:
    """3/8 in of carpet on 1/2 in of topping: legs end 1/4 in below its top (common practice, no source), 5/8 in up."""
    advice = assessed(over(floor("gypsum_topping 1/2 in", "carpet 3/8 in")))
    assert advice.flooring.pull_side.base_height == ticks("5/8 in")


@pytest.mark.parametrize(
    ("foot", "code"), [("15/16 in", "flooring.carpet"), ("1 in", "flooring.shows"), ("1/4 in", "flooring.carpet_low")]
)
def test_legs_level_with_a_carpet_show_nothing(foot: str, code: str) -> None:
    assert judged(over(CARPET), foot=foot).flooring.pull_side.note.code == code


def test_the_room_that_is_left_for_a_carpet_is_told() -> None:
    advice = advised(over(CARPET, frame={"state": "set", "foot": "1/4 in", "undercut": "1 1/4 in"}))
    assert "1/4 in" in advice["flooring"]["pull_side"]["note"]


def test_of_two_legs_the_one_that_stands_in_the_floor_is_undercut_and_what_the_other_shows_is_told() -> None:
    """Vinyl 1/8 in, the strike leg 1/4 in above its subfloor."""
    side = judged(over(VINYL, subfloor=uneven("-1/4 in"))).flooring.pull_side
    assert side.note.code == "flooring.undercut_one.shows"
    assert side.note.values["shows"] == ticks("1/8 in")
    assert side.jamb_undercut == side.casing_undercut == ticks("3/16 in"), "and 1/16 in for the saw"


# --- what is assumed


@pytest.mark.parametrize("year", [None, 1950, 2010])
def test_a_year_that_is_stated_isnt_said_to_be_assumed(year: int | None) -> None:
    """Old paint may contain lead: a leaf that is cut is told from which year on the building was taken to be."""
    building = {"building": {"year_built": year, "use": "detached_house"}} if year else {}
    advice = assessed(over(CARPET, **building))
    assert advice.leaf.trim
    assert ("#/building/year_built" in {one.pointer for one in advice.assumptions}) == (year is None)
