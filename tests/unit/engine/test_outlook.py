"""What is told of floors that may change: settings, tips, and each pair of floors in words."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
from msgspec import UNSET
from tests.openings import Wire, advised, assessed, door, floor, ticks

from jambset.engine.outlook import written

VINYL, PLANK, WOOD = floor("sheet_vinyl 1/8 in"), floor("vinyl_plank 1/4 in"), floor("solid_wood 3/4 in")
CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")


def may(first: Wire, *others: tuple[Wire, float]) -> Wire:
    return {**first, "could_become": [{**up, "weight": weight} for up, weight in others]}


def advice(pull: Wire, push: Wire, **changes: Any) -> Any:
    return advised(door(pull_side=pull, push_side=push, **changes))


def outcomes(told: Any) -> list[str]:
    return [one["outcome"] for one in told["scenarios"]]


SOLID = {"frame": {"undercut": "1 in"}, "leaf": {"core": "solid"}}


def test_settings_pairs_and_tips_of_wood_that_may_become_vinyl() -> None:
    told = advice(WOOD, may(WOOD, (VINYL, 0.2)), **SOLID)
    found = told["outlook"]
    prices = {one["foot"]["text"]: (one["trim_now"]["text"], one["expected_minutes"]) for one in found["settings"]}
    # down: bench; 3/8 in: 6 and a fifth of 87. Between them some of both: blocks and bench, and what vinyl takes
    assert prices["0 in"] == ("3/8 in", 28)
    assert prices["3/8 in"] == ("0 in", 23.4)
    assert next(iter(prices)) == "0 in"
    (tip,) = found["tips"]
    assert (tip["side"], tip["weight_now"], tip["weight"], tip["foot"]["in"]) == ("push_side", 0.2, 0.252874, 0)
    assert tip["text"] == (
        "If “Sheet vinyl” on the push side is more than 25.29% likely, legs on the subfloor are best."
    )
    assert [(one["weight"], one["minutes"], one["work_minutes"], one["regret"]) for one in told["scenarios"]] == [
        (0.8, 0, 0, 0),
        (0.2, 87, 40, 65),
    ]
    assert outcomes(told) == [
        "Nothing more to do.",
        "The legs end 1/4 in too high for the floor to hide them: scribe fillers under them.",
    ]
    assert [one["legs_show"]["text"] for one in told["scenarios"]] == ["0 in", "1/4 in"]


def test_legs_that_a_piece_covers() -> None:
    told = advice(CARPET, may(PLANK, (floor("engineered_wood 1/2 in"), 0.9)), frame={"undercut": "1 1/8 in"})
    # blocks of 3/8 in: 6 and a tenth of 62; carpet over plank is joined by a bar that hides 1/8 in
    assert told["outlook"]["expected_minutes"] == 12.2
    assert outcomes(told)[1] == (
        "The legs end 1/8 in too high for the floor to hide them: return the piece around them."
    )


def test_wishes_given_up_are_told() -> None:
    # set 7/16 in up: over 1/2 in that is within the finish but not 1/8 in below its top, as wished on that side
    half = floor("engineered_wood 1/2 in")
    frame = {"undercut": "1 in", "state": "set", "foot": "7/16 in"}
    told = advice(may(half, (WOOD, 0.25)), WOOD, frame=frame)
    assert told["outlook"]["why"].startswith(
        "The unit is set, its legs 7/16 in above the highest subfloor under them: 0 min of expected work"
    )
    assert outcomes(told) == ["Given up: “Leg under a hard floor, wanted”.", "Nothing more to do."]
    assert told["scenarios"][0]["minutes"] == 47
    # on both sides: two wishes
    both = advice(may(half, (WOOD, 0.25)), half, frame={**frame, "undercut": "3/4 in"})
    assert (outcomes(both)[0], both["scenarios"][0]["minutes"]) == ("Given up: “Leg under a hard floor, wanted”.", 94)


@pytest.mark.parametrize(("flow", "short"), [("70 cfm", True), ("25 cfm", False)])
def test_air_that_no_leaf_is_lifted_for_is_told_of_each_pair(flow: str, short: bool) -> None:
    """70 cfm at 3 Pa want 1 3/16 in, more than any gap is to be: a grille has to carry it, over wood and over plank."""
    air = {"supply_flow": flow, "pressure_limit": "3 Pa"}
    told = advice(may(WOOD, (PLANK, 0.5)), WOOD, frame={"undercut": "1 in"}, duties=["transfer_air"], air=air)
    little = "Too little air passes the closed door: “Pressure limit of the project”."
    assert [little in outcome for outcome in outcomes(told)] == [short, short]


def test_room_over_the_head_that_is_given_up_is_told() -> None:
    # 80 in, 1/8 in, 11/16 in and 1 1/4 in: 82 1/16 in, with 5/16 in off its legs as high as the opening. Steel isn't
    # cut, and carpet wants the leaf so high
    low = {"frame": {"undercut": "1 1/4 in"}, "leaf": {"core": "steel"}, "rough_opening": {"height": "81 3/4 in"}}
    told = advice(may(PLANK, (CARPET, 0.5)), floor("engineered_wood 1/2 in"), **low)
    assert told["outlook"]["foot"]["text"] == "-5/16 in"
    assert outcomes(told)[0] == "Given up: “Shim space over the head, accepted”; “Shim space over the head, wanted”."


def test_a_leaf_is_cut_on_the_bench_where_its_unit_is_out_and_no_leg_shows_then() -> None:
    # blocks of 3/8 in for wood, 6; for vinyl fillers would take 300, taking it out 30 and cutting it on the bench 28
    told = advice(WOOD, may(WOOD, (VINYL, 0.2)), labour={"fill_legs": 300, "reset_unit": 30}, **SOLID)
    assert (told["outlook"]["foot"]["text"], told["outlook"]["expected_minutes"]) == ("3/8 in", 17.6)
    assert outcomes(told)[1] == (
        "Take the unit out and set it again with its legs on the subfloor. "
        "Cut 3/8 in off the leaf while the unit is out."
    )
    assert told["scenarios"][1]["legs_show"]["text"] == "0 in"


def test_the_listing_is_asked_for_a_cut_alone() -> None:
    leaf = {"core": "solid", "fire_minutes": 45}
    uncut = advice(WOOD, may(WOOD, (PLANK, 0.2)), frame={"undercut": "7/8 in"}, leaf=leaf)["outlook"]
    cut = advice(PLANK, may(PLANK, (WOOD, 0.2)), frame={"undercut": "1/4 in"}, leaf=leaf)["outlook"]
    assert (uncut["trim_now"]["in"], "listing" in uncut["why"]) == (0, False)
    assert (cut["trim_now"]["in"] > 0, "Only if the listing of a labelled leaf allows it: Cut" in cut["why"]) == (
        True,
        True,
    )


def test_a_unit_set_again_and_one_cut_while_it_is_out() -> None:
    # steel, 1/2 in of undercut: over plank it is 1/8 in too low, and nothing can be cut
    told = advice(
        may(VINYL, (PLANK, 0.3)), VINYL, frame={"undercut": "1/2 in"}, leaf={"core": "steel"}, labour={"fill_legs": 300}
    )
    assert any(
        "Take the unit out and set it again with its legs 1/8 in above the highest subfloor under them." in text
        for text in outcomes(told)
    )


def test_a_unit_to_order_is_told_by_its_undercut() -> None:
    frame = {"state": "to_order", "undercut": None}
    told = advice(may(CARPET, (PLANK, 0.2)), PLANK, frame=frame)
    # 1 1/2 in for carpet; plank then loses a wish on both sides (94) or the unit is exchanged (90): 18
    # against 38 in eight of ten, 30.4, with 1 in
    found = told["outlook"]
    assert (found["undercut"]["text"], found["expected_minutes"], found["worst_minutes"]) == ("1 1/2 in", 18, 90)
    assert "foot" not in found
    assert outcomes(told) == ["Nothing more to do.", "Exchange the unit for one with 7/8 in undercut."]
    (tip,) = found["tips"]
    # 90 p and 38 (1 - p) are the same at 38/128
    assert (tip["undercut"]["text"], tip["weight"]) == ("1 in", 0.296875)
    assert tip["text"].endswith("1 in undercut is best.")
    assert "foot" not in tip


def test_what_a_unit_to_order_gives_up_is_told() -> None:
    # wood wants 3/4 + 5/8 = 1 3/8 in, carpet 1 1/2 in: with the first the wish for the carpet is lost in 3 of 10, 47
    told = advice(
        may(VINYL, (CARPET, 0.3)), WOOD, frame={"state": "to_order", "undercut": None}, leaf={"core": "steel"}
    )
    found = told["outlook"]
    assert outcomes(told) == ["Nothing more to do.", "Given up: “Leaf above the subfloor under carpet, wanted”."]
    assert [one["undercut"]["text"] for one in found["settings"]] == ["1 3/8 in", "1 7/16 in", "1 1/2 in"]
    assert not any("foot" in one for one in found["settings"])
    assert found["why"].startswith(
        "Order 1 3/8 in undercut: 0 min of expected work, 14.1 min counting each wish given up, the least"
    )


def test_the_opening_for_a_unit_to_order_is_as_high_as_that_unit_stands() -> None:
    # bare on one side a leg 1/8 in down would have to be cut; for the plank that is likelier it stands on a block
    level = {"kind": "legs", "hinge_leg": "-1/8 in", "strike_leg": "0 in"}
    frame = {"state": "to_order", "undercut": None}
    told = advice(may(floor("sealed_concrete 0 in"), (PLANK, 0.8)), PLANK, frame=frame, subfloor=level)
    assert (told["setting"]["method"], told["order"]["undercut_to_order"]["text"]) == ("on_blocks", "7/8 in")
    # 7/8 + 80 + 1/8 + 11/16 + 1/4 to shim
    assert told["framing"]["rough_opening_needed"]["text"] == "81 15/16 in"


@pytest.mark.parametrize(
    ("apart", "shows", "outcome"),
    [
        ("0 in", "0 in", "Nothing more to do."),
        ("-1/8 in", "0 in", "Nothing more to do."),
        ("-1/4 in", "1/8 in", "The legs would end 1/8 in too high for the floor to hide them: set them lower if"),
    ],
)
def test_legs_of_a_unit_to_order_that_a_floor_would_not_hide_are_told(apart: str, shows: str, outcome: str) -> None:
    # set level with the higher subfloor for wood of 1/2 in, the other leg hangs 1/4 in, and vinyl hides 1/8 in of it
    level = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": apart}
    wood = floor("engineered_wood 1/2 in")
    told = advice(may(wood, (VINYL, 0.2)), wood, frame={"state": "to_order", "undercut": None}, subfloor=level)
    assert [one["legs_show"]["text"] for one in told["scenarios"]] == ["0 in", shows]
    assert told["scenarios"][1]["outcome"].startswith(outcome)


def test_a_unit_to_order_under_a_low_header_is_told_with_the_undercut_for_a_header_high_enough() -> None:
    # 1 1/2 in is best of all, as above: 1 1/2 + 80 + 1/8 + 11/16 and 1/4 to shim are 82 9/16 in
    frame = {"state": "to_order", "undercut": None}
    told = advice(may(CARPET, (PLANK, 0.2)), PLANK, frame=frame, rough_opening={"height": "81 3/4 in"})
    assert told["outlook"]["undercut"]["in"] < 1
    assert told["order"]["undercut_to_order"]["text"] == "1 1/2 in"
    assert told["order"]["why"].startswith(
        "A unit with 1 1/2 in undercut takes the least work over all possible floors, and needs a rough "
        "opening of 82 9/16 in; the present header allows "
    )
    framing = told["framing"]
    assert (framing["rough_opening_needed"]["text"], framing["short_by"]["text"]) == ("82 9/16 in", "13/16 in")


def test_what_no_unit_to_order_meets_under_a_low_header_is_told() -> None:
    # 80 13/16 in above the leaf's bottom leave 15/16 in under 81 3/4 in: carpet's height, and nothing over its pile
    frame = {"state": "to_order", "undercut": None}
    told = advice(may(PLANK, (CARPET, 0.5)), CARPET, frame=frame, rough_opening={"height": "81 3/4 in"})
    assert outcomes(told)[1] == (
        "Not met by any setting: “Leaf above the subfloor under carpet, accepted”; “Leaf over the pile, accepted”; "
        "“Closed leaf over the transition piece, accepted”."
    )


@pytest.mark.parametrize(
    ("jurisdiction", "other", "told"),
    [
        # ADA Standards 302.2: a pile of at most 1/2 in; 5/8 in of carpet less 3/32 in of backing are 17/32 in
        ("US", floor("carpet 5/8 in"), "Not met by any setting: “Pile height on an accessible route”."),
        # 303.4: wood 5/8 in above vinyl, its reducer level with it, is more than the 1/2 in that may go without a ramp,
        # and 405.2 has it rise 1 in 12
        ("US", VINYL, "The change in level is then 5/8 in and needs a ramp at least 7 1/2 in long"),
        # Approved Document M: a threshold of at most 15 mm, and 5/8 in are 15.9 mm
        ("GB-ENG", VINYL, "Not met by any setting: “Accessible threshold”."),
    ],
)
def test_what_a_floor_that_may_come_breaks_whatever_the_setting_is_told(
    jurisdiction: str, other: Wire, told: str
) -> None:
    route = {"duties": ["accessible_route"], "jurisdiction": jurisdiction, "grid": "1/16 in"}
    both = advice(may(WOOD, (other, 0.3)), WOOD, **route, **SOLID)
    assert outcomes(both)[0] == "Nothing more to do."
    assert told in outcomes(both)[1]


def test_a_floor_that_may_come_too_far_above_the_other_is_told_where_no_rule_wants_a_ramp() -> None:
    """By hand: 1 3/4 in of stone on its bed beside 3/4 in of wood."""
    stone = floor("medium_bed_mortar 1 1/4 in", "stone_tile 1/2 in")
    assert "The two finishes are then 1 in apart" in outcomes(advice(may(WOOD, (stone, 0.3)), WOOD, **SOLID))[1]


def test_legs_cut_under_a_low_header() -> None:
    # the unit is 81 13/16 in high, the header at 81 3/4 in: for a shim of 1/8 in the legs lose 3/16 in, and nothing
    # for the wish of more. 13/16 in is 1/16 in short of 5/8 in over plank: 12 for the legs, 28 for the leaf
    low = {"frame": {"undercut": "1 in"}, "rough_opening": {"height": "81 3/4 in"}}
    told = advice(may(PLANK, (VINYL, 0.5)), PLANK, **low)
    assert told["outlook"]["why"].startswith(
        "Legs cut 3/16 in shorter in all: 40 min of expected work, the least of all settings."
    )
    assert told["setting"]["method"] == "legs_trimmed"


def test_what_a_low_header_lets_in_is_no_order() -> None:
    """Carpet wants 1 1/2 in and takes 1 1/4 in; a header at 82 1/4 in lets in 1 5/16 in with 1/8 in to shim."""
    low = {"frame": {"state": "to_order", "undercut": None}, "rough_opening": {"height": "82 1/4 in"}}
    told = advice(CARPET, may(VINYL, (PLANK, 0.3)), **low)
    assert told["order"]["undercut_to_order"]["text"] == "1 1/2 in"
    assert told["outlook"]["undercut"]["text"] == "1 5/16 in"
    assert told["outlook"]["why"].startswith("Under the present header, 1 5/16 in undercut: ")
    high = advice(CARPET, may(VINYL, (PLANK, 0.3)), **{**low, "rough_opening": {"height": "84 in"}})
    assert high["outlook"]["why"].startswith("Order 1 1/2 in undercut: ")


@pytest.mark.parametrize(
    ("weight", "code"), [(0.2, "is more than 25.29% likely"), (0.33, "is less than 25.29% likely")]
)
def test_a_tip_says_to_which_side_it_lies(weight: float, code: str) -> None:
    told = advice(WOOD, may(WOOD, (VINYL, weight)), **SOLID)
    assert code in told["outlook"]["tips"][0]["text"]


@pytest.mark.parametrize(
    ("likelihood", "told"),
    [(Fraction(22, 87), "25.29%"), (Fraction(1, 4), "25%"), (Fraction(1, 50_001), "0.002%"), (Fraction(1), "100%")],
)
def test_a_likelihood_is_written_as_people_write_it(likelihood: Fraction, told: str) -> None:
    assert written(likelihood) == told


def test_the_end_of_a_leaf_is_told_before_a_floor_is_named_only_where_none_has_it_cut_again() -> None:
    """Plank takes 5/8 in over it; tile and its beds, 13/16 in high, take another cut."""
    plank, tile = (
        floor("vinyl_plank 1/4 in"),
        floor("backer_board 1/4 in", "thin_bed_mortar 3/16 in", "ceramic_tile 3/8 in"),
    )
    short = {"push_side": plank, "frame": {"undercut": "1/2 in"}, "leaf": {"core": "solid"}}
    either = assessed(door(pull_side={"could_become": [plank, plank]}, **short)).leaf
    assert (either.trim, either.bottom, either.when) == (ticks("3/8 in"), ticks("7/8 in"), "before_hanging")
    apart = assessed(door(pull_side={"could_become": [plank, tile]}, **short)).leaf
    assert (apart.trim, apart.bottom, apart.when) == (UNSET, UNSET, "after_floor")


def test_nothing_is_told_of_floors_that_are_certain() -> None:
    told = advice(WOOD, WOOD, **SOLID)
    assert "outlook" not in told
    assert not told.get("scenarios")


def test_what_no_floor_has_a_part_in_is_missed_by_no_pair_of_floors() -> None:
    """A hollow leaf to a garage is missed whatever is laid (IRC R302.5.1): its conflict says so, no outcome does."""
    told = advice(WOOD, may(WOOD, (PLANK, 0.2)), duties=["garage_to_house"], frame={"undercut": "1 1/4 in"})
    assert [one["rules"] for one in told["conflicts"]] == [["us-garage-leaf"]]
    assert set(outcomes(told)) == {"Nothing more to do."}


def question_of(told: Any, side: str) -> str:
    (found,) = [one["text"] for one in told["questions"] if one["pointer"] == f"#/{side}/build_up"]
    assert isinstance(found, str)
    return found


def test_a_floor_listed_twice_is_asked_about_once_and_weighs_as_much() -> None:
    once = advice(WOOD, may(WOOD, (VINYL, 0.2)), **SOLID)
    twice = advice(WOOD, may(WOOD, (VINYL, 0.1), (VINYL, 0.1)), **SOLID)
    for part in ("outlook", "scenarios", "questions", "verdict", "summary"):
        assert twice[part] == once[part]
    assert question_of(twice, "push_side").startswith(
        "Which floor goes on the push side: Solid wood strip or plank; Sheet vinyl? "
    )


def test_where_all_that_is_listed_is_one_floor_it_is_asked_which_comes_and_cut_for() -> None:
    """What every floor listed asks for comes off on the bench, as if two that ask for the same were listed."""
    told = advice(WOOD, {**WOOD, "could_become": [WOOD]}, frame={"undercut": "1 in"}, leaf={"core": "solid"})
    assert question_of(told, "push_side").startswith(
        "Which floor goes on the push side? What is listed is one and the same: Solid wood strip or plank. "
    )
    (one,) = told["scenarios"]
    assert (one["weight"], one["outcome"]) == (1, "Nothing more to do.")


def wood(**more: str) -> Wire:
    return floor({"material": "engineered_wood", "thickness": "1/2 in", **more})


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        (wood(fixing="floating"), wood(fixing="glued"), (", floating", ", glued down")),
        (wood(fixing="nailed"), wood(fixing="glued"), ("", ", glued down")),
        (wood(), wood(least="7/16 in", greatest="9/16 in"), ("", ", 7/16 in to 9/16 in")),
        (
            floor("plywood_underlay 1/4 in", "engineered_wood 3/8 in"),
            floor("plywood_underlay 3/8 in", "engineered_wood 1/4 in"),
            (", its top layer 3/8 in", ", its top layer 1/4 in"),
        ),
        (
            floor("plywood_underlay 1/4 in", "engineered_wood 3/8 in"),
            floor("hydronic_panel 1/4 in", "engineered_wood 3/8 in"),
            ("", ", heated"),
        ),
        (
            floor("carpet_cushion 3/8 in", "carpet_loop 1/2 in"),
            floor("plywood_underlay 3/8 in", "carpet_loop 1/2 in"),
            ("", ", on 3/8 in of topping or panel"),
        ),
    ],
)
def test_floors_of_one_title_and_thickness_are_told_apart(one: Wire, other: Wire, told: tuple[str, str]) -> None:
    found = advice(VINYL, may(one, (other, 0.3)))
    label = found["scenarios"][0]["push_side"].partition(" in all")[0] + " in all"
    assert [scenario["push_side"] for scenario in found["scenarios"]] == [label + mark for mark in told]
    assert f": {label}{told[0]}; {label}{told[1]}?" in question_of(found, "push_side")


def test_of_air_below_a_leaf_that_reaches_the_floor_only_the_rule_on_the_floors_there_is_missed() -> None:
    """Approved Document F: 7,600 mm2 below an internal door. No leaf passes tile on 1 in of topping here uncut."""
    tile = floor("self_levelling 1 in", "ceramic_tile 3/8 in")
    unit: Wire = {"leaf": {"core": "steel"}, "frame": {"undercut": "1/4 in"}, "rough_opening": {"height": "81 3/8 in"}}
    told = advice(WOOD, may(WOOD, (tile, 0.5)), jurisdiction="GB-ENG", building={"use": "detached_house"}, **unit)
    said = outcomes(told)[1]
    assert ("door, hard finish”" in said, "door, carpet”" in said) == (True, False)


def test_settings_are_priced_from_the_lower_legs_subfloor_to_the_header() -> None:
    """By hand: 80 13/16 in above the leaf's bottom and 3/4 in of undercut leave 7/16 in for blocks under 82 in.

    Plank's legs go to the subfloor; below that of the lower leg more is cut and nothing gained.
    """
    uneven = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/4 in"}
    told = advice(may(PLANK, (CARPET, 0.3)), PLANK, subfloor=uneven, rough_opening={"height": "82 in"})
    feet = [one["foot"]["text"] for one in told["outlook"]["settings"]]
    assert (feet[0], feet[-1]) == ("-1/4 in", "7/16 in")


@pytest.mark.parametrize("duties", [[], ["smoke_control"]])
@pytest.mark.parametrize("header", ["81 3/8 in", "81 1/4 in"])
def test_no_undercut_is_priced_that_the_header_doesnt_let_in(header: str, duties: list[str]) -> None:
    """As many mm as the header is above 80 13/16 in, what is above the leaf's bottom; the best of them is as large."""
    low = {"duties": duties, "frame": {"state": "to_order", "undercut": None}, "rough_opening": {"height": header}}
    for place in ("US", "GB-ENG"):
        told = advice(
            may(floor("carpet 5/16 in"), (floor("laminate"), 0.1)),
            floor("solid_wood 3/4 in"),
            jurisdiction=place,
            **low,
        )["outlook"]
        room = (ticks(header) - ticks("80 13/16 in")) / ticks("1 mm")
        assert max(one["undercut"]["mm"] for one in told["settings"]) == pytest.approx(room, abs=0.2)
        assert max(one["undercut"]["mm"] for one in told["settings"]) <= room + 0.001


def test_a_leaf_to_order_ends_as_far_up_as_its_undercut_and_its_legs_say() -> None:
    """1 1/8 in, as the header lets it: not where the vinyl that is named would have its bottom."""
    topping = floor("gypsum_topping 1/2 in", "carpet 3/8 in")
    told = advice(
        may(floor("sheet_vinyl 1/16 in"), (topping, 0.4), (floor("ceramic_tile 1/2 in"), 0.4)),
        topping,
        leaf={"core": "solid"},
        frame={"state": "to_order", "undercut": None},
        rough_opening={"height": "81 15/16 in"},
    )
    assert told["setting"]["foot"]["in"] == 0
    assert told["leaf"]["bottom"] == told["outlook"]["undercut"] == {"mm": 28.575, "in": 1.125, "text": "1 1/8 in"}
    assert told["leaf"]["governed_by"] == ["floors_may_change", "rough_opening"], "the header holds it there"
    # a slab alone would leave a trifle to shim; with floors that may come the undercut takes all of 7/16 in
    slab = floor("sealed_concrete 0 in")
    told = advice(
        may(slab, (PLANK, 0.4), (floor("engineered_wood 14 mm"), 0.1)),
        may(slab, (floor("thin_bed_mortar", "ceramic_tile"), 0.3)),
        leaf={"core": "solid"},
        frame={"state": "to_order", "undercut": None},
        rough_opening={"height": "81 1/4 in"},
    )
    assert told["leaf"]["bottom"]["text"] == told["outlook"]["undercut"]["text"] == "7/16 in"


@pytest.mark.parametrize("grid", ["1/16 in", "1 mm"])
def test_the_rough_opening_for_a_unit_to_order_is_told_alike_wherever_it_is_told(grid: str) -> None:
    """Legs scribed to a subfloor 1/2 in lower under the strike leg, on either tape."""
    told = advice(
        PLANK,
        may(CARPET, (floor("sheet_vinyl 1/16 in"), 0.1)),
        frame={"state": "to_order", "undercut": None},
        leaf={"core": "stile_and_rail", "fire_minutes": 20},
        subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/2 in"},
        rough_opening={"height": "81 3/4 in"},
        grid=grid,
    )
    assert f"needs a rough opening of {told['framing']['rough_opening_needed']['text']}" in told["order"]["why"]


def test_a_leaf_is_cut_no_further_than_it_bears_where_a_floor_would_have_its_unit_set_again() -> None:
    """Solid, with no undercut and 1/4 in up: carpet on topping wants more off it than the 3/4 in that may come off."""
    topping = floor("gypsum_topping 1/2 in", "carpet 3/8 in")
    stands = {"state": "set", "foot": "1/4 in", "undercut": "0 in"}
    told = advice({**topping, "certainty": "assumed"}, topping, leaf={"core": "solid"}, frame=stands)
    assert (told["leaf"]["trim"]["text"], told["leaf"]["bottom"]["text"]) == ("3/4 in", "1 in")


def test_a_unit_that_is_exchanged_shows_no_leg_that_its_own_floors_hide() -> None:
    """Legs scribed for vinyl and wood to a subfloor 1/16 in higher there; those for a slab are cut to it."""
    told = advice(
        floor("sheet_vinyl 1/16 in"),
        may(floor("solid_wood 3/4 in"), (floor("sealed_concrete 0 in"), 0.1)),
        frame={"state": "to_order", "undercut": None},
        subfloor={"kind": "legs", "hinge_leg": "-1/4 in", "strike_leg": "1/16 in"},
        rough_opening={"height": "82 3/8 in"},
    )
    slab = told["scenarios"][1]
    assert slab["outcome"] == "Exchange the unit for one with 15/16 in undercut."
    assert slab["legs_show"]["in"] == 0


def test_legs_of_a_unit_that_is_there_are_set_no_lower_than_they_are_set() -> None:
    """Vinyl of 1/16 in beside a leg 5/16 in over its subfloor: that shows at best, whatever carpet comes."""
    told = advice(
        may(floor("gypsum_topping 1/2 in", "carpet 3/8 in"), (floor("carpet_cushion", "carpet"), 0.4)),
        floor("sheet_vinyl 1/16 in"),
        frame={"undercut": "1 in"},
        subfloor={"kind": "legs", "hinge_leg": "-1/4 in", "strike_leg": "1/16 in"},
        rough_opening={"height": "81 15/16 in"},
    )
    shown = [one["outcome"] for one in told["scenarios"] if one["legs_show"]["in"] > 0]
    assert shown
    assert all("even at best" in outcome and "set them lower" not in outcome for outcome in shown)


@pytest.mark.parametrize(
    ("other", "told"),
    [
        ({"least": "1/4 in", "greatest": "1/4 in"}, ["1/4 in in all, 3/16 in to 5/16 in", "1/4 in in all"]),
        (
            {"least": "3/16 in", "greatest": "5/16 in", "fixing": "glued"},
            ["1/4 in in all, floating", "1/4 in in all, glued down"],
        ),
    ],
)
def test_floors_of_one_thickness_are_told_apart_by_what_they_differ_in(other: Wire, told: list[str]) -> None:
    """By how far they may be off where that differs, and not where it is alike."""
    plank = {"material": "vinyl_plank", "thickness": "1/4 in"}
    first = {"build_up": [{**plank, "least": "3/16 in", "greatest": "5/16 in"}]}
    answer = advice(PLANK, may(first, ({"build_up": [{**plank, **other}]}, 0.3)))
    names = [one["push_side"] for one in answer["scenarios"]]
    assert all(name.endswith(end) for name, end in zip(names, told, strict=True))
