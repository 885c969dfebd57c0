"""Carpet on a topping, a panel or an underlayment: legs, leaf and base are held to the top of that."""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import Wire, advised, assessed, catalogue, door, floor, judged, ticks, told

CARPET = ("carpet_cushion 7/16 in", "carpet 1/2 in")
GYPSUM = "gypsum_topping 1 1/4 in"
POURED = floor(GYPSUM, *CARPET)


def poured(**changes: Any) -> Wire:
    """1 1/4 in of gypsum in both rooms and 15/16 in of carpet on it: 2 3/16 in."""
    return door(pull_side=POURED, push_side=POURED, **{"frame": {"undercut": "1 1/2 in"}, **changes})


def test_a_leg_stands_on_blocks_as_high_as_the_topping_and_the_leaf_needs_no_saw() -> None:
    # 1 1/4 in of topping and the 1 1/2 in that are wanted above it: 2 3/4 in, less 1 1/2 in of undercut
    advice = assessed(poured())
    assert (told(advice.setting.foot), advice.leaf.trim) == (ticks("1 1/4 in"), 0)
    assert told(advice.clearance.pull_side.nominal) == ticks("9/16 in")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("foot", "code", "status"),
    [
        ("0 in", "carpet_in", "pass"),
        ("1/2 in", "carpet_in", "pass"),
        ("1 1/4 in", "carpet_level", "pass"),
        ("1 1/2 in", "carpet_low.bed", "pass"),
        ("1 3/4 in", "carpet", "pass"),
        ("1 13/16 in", "carpet", "relaxed"),  # more than 1/2 in above the topping
        ("2 1/4 in", "shows", "relaxed"),  # 1/16 in above the pile
    ],
)
def test_what_becomes_of_the_carpet_goes_by_how_legs_end_above_the_topping(foot: str, code: str, status: str) -> None:
    found = judged(poured(), foot=foot)
    assert found.flooring.pull_side.note.code == f"flooring.{code}"
    assert found.status("leg.carpet.foot", "pull_side") == status


def test_the_leg_on_the_higher_subfloor_says_whether_the_topping_is_undercut_for() -> None:
    """Legs at 1 1/8 in: 1 3/8 in over the lower subfloor, but 1/8 in below the top of 1 1/4 in over the other."""
    out_of_level = poured(subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/4 in"})
    note = judged(out_of_level, foot="1 1/8 in").flooring.pull_side.note
    assert (note.code, note.values["below"]) == ("flooring.carpet_in", ticks("1/8 in"))


def test_the_base_is_held_up_above_the_topping() -> None:
    # 3/8 in above 1 1/4 in
    assert judged(poured(), foot="0 in").flooring.pull_side.base_height == ticks("1 5/8 in")


def test_the_base_is_held_up_by_what_a_tape_in_millimetres_has() -> None:
    # 3/8 in is 9.525 mm; of 18 mm of carpet and cushion less 1/4 in more would be covered
    side = floor("carpet_cushion 8 mm", "carpet 10 mm")
    advice = advised(door(pull_side=side, push_side=side, jurisdiction="GB-ENG", grid="1 mm"))
    assert advice["flooring"]["pull_side"]["base_height"]["text"] == "9 mm"


def test_legs_that_end_in_the_topping_are_told_by_how_much() -> None:
    assert advised(poured(frame={"undercut": "3 in"}))["flooring"]["pull_side"]["note"] == (
        "Carpet and cushion lie on layers 1 1/4 in thick, and the legs end 1 1/4 in below their top: lay those "
        "layers around the legs, or undercut legs and casing for them first. Trim the carpet and tuck it against the "
        "legs."
    )


def test_a_leaf_is_held_above_the_topping_at_its_thickest() -> None:
    # 1/8 in more at most: 1 1/2 in wanted above 1 3/8 in
    thick = {"material": "gypsum_topping", "thickness": "1 1/4 in", "least": "1 1/8 in", "greatest": "1 3/8 in"}
    side = floor(thick, *CARPET)
    found = judged(door(pull_side=side, push_side=side, frame={"undercut": "1 1/2 in"}), foot="1 3/8 in")
    for name in ("pull_side", "push_side"):
        check = found.check("leaf.carpet.height.wanted", name)
        assert (check.actual, check.status) == (ticks("1 1/2 in"), "pass")
    assert found.check("leg.carpet.foot", "pull_side").actual == ticks("1/4 in")  # above it at its thinnest


@pytest.mark.parametrize(
    ("layers", "bed"),
    [
        (CARPET, "0 in"),
        (("plywood_underlay 3/8 in", *CARPET), "3/8 in"),
        (("plywood_underlay 1/4 in", "self_levelling 1/8 in", *CARPET), "3/8 in"),
        (("self_levelling 3/8 in", "carpet_loop 1/4 in"), "3/8 in"),  # glued down, no cushion
    ],
)
def test_only_cushion_and_carpet_close_against_a_leg(layers: tuple[str, ...], bed: str) -> None:
    side = floor(*layers)
    check = judged(door(pull_side=side, push_side=side), foot="1/2 in").check("leg.carpet.foot", "pull_side")
    assert check.actual == ticks("1/2 in") - ticks(bed)


def test_a_labelled_frame_is_asked_about_where_its_legs_may_be_undercut_for_what_carpet_lies_on() -> None:
    label: Wire = {"duties": ["fire_label"], "leaf": {"core": "solid", "fire_minutes": 20}}
    frame = {"undercut": "2 7/8 in"}
    advice = advised(poured(frame=frame, **label))
    asked = [question["code"] for question in advice["questions"]]
    plain = floor(*CARPET)
    unasked = advised(door(pull_side=plain, push_side=plain, frame={"undercut": "1 1/2 in"}, **label))["questions"]
    assert "frame_label" in asked
    assert advice["flooring"]["pull_side"]["note"].startswith("Cut the legs of this labelled frame only if its listing")
    assert "frame_label" not in [question["code"] for question in unasked]


@pytest.mark.parametrize(
    ("foot", "code", "values"),
    [
        ("0 in", "carpet_apart", {"room": "0 in", "most": "3/8 in"}),
        ("1/8 in", "carpet_apart", {"room": "1/8 in", "most": "1/2 in"}),
        ("3/8 in", "carpet", {"room": "3/8 in"}),
        ("5/8 in", "shows", {"shows": "1/16 in"}),  # 1 in above the lower subfloor
    ],
)
def test_out_of_level_the_carpet_goes_by_the_leg_with_less_below_it(foot: str, code: str, values: Wire) -> None:
    """By hand: of two legs that end level, 3/8 in less is left below the one whose subfloor is 3/8 in higher."""
    tilted = {"kind": "legs", "hinge_leg": "3/8 in", "strike_leg": "0 in"}
    carpet = floor(*CARPET)
    note = judged(door(pull_side=carpet, push_side=carpet, subfloor=tilted), foot=foot).flooring.pull_side.note
    assert (note.code, note.values) == (f"flooring.{code}", {name: ticks(text) for name, text in values.items()})


def test_out_of_level_on_a_topping_the_higher_leg_is_told_against_the_top_of_that() -> None:
    tilted = {"kind": "legs", "hinge_leg": "3/8 in", "strike_leg": "0 in"}
    low, apart = (judged(poured(subfloor=tilted), foot=foot).flooring.pull_side.note for foot in ("1 in", "1 3/8 in"))
    assert (low.code, low.values) == ("flooring.carpet_in", {"below": ticks("1/4 in"), "bed": ticks("1 1/4 in")})
    assert (apart.code, apart.values) == (
        "flooring.carpet_apart.bed",
        {"room": ticks("1/8 in"), "most": ticks("1/2 in")},
    )


def test_a_pile_counts_as_thick_as_its_carpet_is_and_not_as_it_may_be() -> None:
    """1/2 in is the most on an accessible route (2010 ADA Standards 302.2), counted from its backing."""
    may: Wire = {"material": "carpet", "thickness": "1/2 in", "least": "3/8 in", "greatest": "3/4 in"}
    side = {"build_up": [may]}
    found = judged(door(pull_side=side, push_side=side, duties=["accessible_route"]))
    assert found.check("us-ada-pile", "pull_side").actual == ticks("1/2 in") - catalogue().defaults.carpet_backing
