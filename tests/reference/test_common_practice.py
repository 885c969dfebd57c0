"""What carpenters do as a matter of course: common practice, no source, for every value here.

Check values, worked by hand with the trade's own numbers. Where the published spread differs, the
catalogue's rows say so and a project may send its own.
"""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import Wire, advised, door, floor, judged, layer, ticks

from jambset.quantity.ticks import INCH

CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
PLANK = floor("vinyl_plank 1/4 in")
WOOD = floor("solid_wood 3/4 in")
GLUED = floor(layer("carpet_loop 1/4 in", fixing="glued"))


def between(pull: Wire, push: Wire, undercut: str = "1 in", **changes: Any) -> Wire:
    return door(door(pull_side=pull, push_side=push, frame={"undercut": undercut}), **changes)


LOW = between(CARPET, CARPET, rough_opening={"height": "81 15/16 in"}, project_rules={"head_shim": "1/8 in"})


def set_and_cut(advice: Any) -> tuple[str, str, str]:
    return advice["setting"]["foot"]["text"], advice["leaf"]["trim"]["text"], advice["leaf"]["bottom"]["text"]


def test_the_leaf_ends_five_eighths_above_a_hard_finish() -> None:
    # 3/4 + 5/8; the unit's 1 in gives 1 1/4, so it stands on 3/8 blocks
    advice = advised(between(WOOD, WOOD, leaf={"core": "solid"}))
    assert set_and_cut(advice) == ("3/8 in", "0 in", "1 3/8 in")
    assert advice["clearance"]["pull_side"]["nominal"]["text"] == "5/8 in"
    assert advice["verdict"] == "go"


def test_a_unit_for_hard_floors_is_ordered_with_five_eighths_over_them() -> None:
    advice = advised(door(between(WOOD, WOOD), frame={"undercut": None, "state": "to_order"}))
    assert advice["order"]["undercut_to_order"]["text"] == "1 3/8 in"


def test_over_carpet_the_leaf_ends_an_inch_and_a_half_above_the_subfloor() -> None:
    advice = advised(door(between(CARPET, CARPET), frame={"undercut": None, "state": "to_order"}))
    assert advice["order"]["undercut_to_order"]["text"] == "1 1/2 in"


@pytest.mark.parametrize("duties", [(), ("fire_label",)])
def test_over_carpet_glued_down_its_pile_alone_counts(duties: tuple[str, ...]) -> None:
    # no cushion: 1/4 of loop under 3/4 leaves 1/2, more than the 3/8 wanted; 1 1/2 up would be 1 1/4 open
    leaf = {"core": "solid", "fire_minutes": 20 if duties else None}
    by_word = [{"code": "frame_label", "by": "door supplier"}] if duties else []  # that it may be undercut for plank
    advice = advised(between(GLUED, PLANK, "3/4 in", leaf=leaf, duties=list(duties), answered=by_word))
    assert set_and_cut(advice) == ("0 in", "0 in" if duties else "1/8 in", "3/4 in" if duties else "7/8 in")
    assert (advice["conflicts"], advice["verdict"]) == ([], "go" if duties else "go_with_trim")


def test_a_unit_for_carpet_glued_down_is_ordered_for_its_pile() -> None:
    advice = advised(door(between(GLUED, GLUED), frame={"undercut": None, "state": "to_order"}))
    assert advice["order"]["undercut_to_order"]["text"] == "5/8 in"  # 1/4 + 3/8


def test_a_height_that_the_project_asks_for_holds_over_glued_carpet_too() -> None:
    own = {"carpet_leaf_height": "1 1/2 in"}
    assert set_and_cut(advised(between(GLUED, GLUED, project_rules=own))) == ("0 in", "1/2 in", "1 1/2 in")


@pytest.mark.parametrize(
    ("undercut", "wanted", "accepted"),
    [("1 1/2 in", "pass", "pass"), ("1 1/4 in", "relaxed", "pass"), ("1 3/16 in", "relaxed", "relaxed")],
)
def test_an_inch_and_a_quarter_is_tight_over_carpet(undercut: str, wanted: str, accepted: str) -> None:
    found = judged(between(CARPET, CARPET, undercut))
    assert found.status("leaf.carpet.height.wanted", "pull_side") == wanted
    assert found.status("leaf.carpet.height.accepted", "pull_side") == accepted


def test_at_an_inch_and_a_quarter_next_to_no_air_passes() -> None:
    # 5/16 over the pile, 30 in wide: less than half of what the flow of a bedroom, 60 cfm, asks at 3 Pa
    air = {"supply_flow": "60 cfm", "pressure_limit": "3 Pa"}
    low = between(CARPET, CARPET, "1 1/4 in", leaf={"core": "steel"}, rough_opening={"height": "82 1/8 in"})
    advice = advised(door(low, duties=["transfer_air"], air=air))
    assert set_and_cut(advice) == ("0 in", "0 in", "1 1/4 in")
    assert advice["air"]["flow_at_limit"]["cfm"] < 30


def test_a_leg_on_a_half_inch_block_is_covered_by_carpet() -> None:
    found = judged(between(CARPET, CARPET), foot="1/2 in")
    assert found.status("leg.carpet.foot", "pull_side") == "pass"
    assert found.status("leg.carpet.pile", "pull_side") == "pass"
    assert found.flooring.pull_side.note.code == "flooring.carpet"


def test_the_same_leg_over_a_quarter_inch_floor_shows_a_gap() -> None:
    found = judged(between(CARPET, PLANK), foot="1/2 in")
    assert found.check("leg.hard.accepted", "push_side").margin == -ticks("1/4 in")
    note = found.flooring.push_side.note
    assert (note.code, note.values["shows"]) == ("flooring.shows", ticks("1/4 in"))


@pytest.mark.parametrize("core", ["hollow", "solid", "stile_and_rail", "mdf", "steel", "fibreglass"])
def test_an_inch_of_undercut_on_half_inch_blocks_is_an_inch_and_a_half(core: str) -> None:
    advice = advised(between(CARPET, CARPET, leaf={"core": core}))
    assert set_and_cut(advice) == ("1/2 in", "0 in", "1 1/2 in")
    assert (advice["setting"]["method"], advice["verdict"]) == ("on_blocks", "go")


@pytest.mark.parametrize("carpet_on", ["pull_side", "push_side"])
def test_carpet_against_quarter_inch_plank_keeps_the_legs_down_and_cuts_the_leaf(carpet_on: str) -> None:
    sides = {"pull_side": PLANK, "push_side": PLANK, carpet_on: CARPET}
    advice = advised(between(sides["pull_side"], sides["push_side"]))
    assert advice["setting"]["foot"]["in"] <= 1 / 8  # near the subfloor: no higher than the plank and a saw's bite
    assert advice["leaf"]["bottom"]["text"] == "1 1/2 in"
    assert advice["leaf"]["trim"]["in"] == 1.5 - 1 - advice["setting"]["foot"]["in"]
    assert advice["verdict"] == "go_with_trim"


@pytest.mark.parametrize("floating", ["vinyl_plank", "laminate", "multilayer_panel", "cork_floating"])
def test_a_floor_that_commonly_floats_gets_no_flush_reducer(floating: str) -> None:
    # 1/4 below tile 9/16, edge held by nothing: the piece laps over the gap it needs. Glued down it is met flush
    tile = floor("thin_bed_mortar 3/16 in", "ceramic_tile 3/8 in")
    laid = between(tile, floor(f"{floating} 1/4 in"))
    glued = between(tile, floor(layer(f"{floating} 1/4 in", fixing="glued")))
    assert [advised(one)["transition"]["piece"] for one in (laid, glued)] == ["reducer_overlap", "reducer"]


def test_base_over_carpet_is_set_three_eighths_above_the_subfloor() -> None:
    advice = advised(between(CARPET, WOOD))
    assert advice["flooring"]["pull_side"]["base_height"]["text"] == "3/8 in"
    assert advice["flooring"]["push_side"]["base_height"]["text"] == "3/4 in"  # hard floor first, base on top


@pytest.mark.parametrize(
    ("layers", "base"),
    [
        (("carpet_loop 1/4 in",), "0 in"),  # 3/8 up it would show 1/8 of wall
        (("cushion_rubber_flat 1/4 in", "carpet_loop 1/4 in"), "1/4 in"),
        (("cushion_rubber_flat 3/8 in", "carpet_loop 1/4 in"), "3/8 in"),  # 5/8 is the least that 3/8 is meant for
    ],
)
def test_base_over_a_low_carpet_ends_a_quarter_inch_below_its_top(layers: tuple[str, ...], base: str) -> None:
    advice = advised(between(floor(*layers), WOOD))
    assert advice["flooring"]["pull_side"]["base_height"]["text"] == base


def test_under_a_low_header_the_legs_go_down_and_the_leaf_is_cut() -> None:
    # the unit is 1 + 80 + 1/8 + 11/16 = 81 13/16 high; 81 15/16 leaves 1/8 for shims and nothing for blocks
    advice = advised(LOW)
    assert set_and_cut(advice) == ("0 in", "1/2 in", "1 1/2 in")
    assert (advice["setting"]["method"], advice["verdict"]) == ("on_subfloor", "go_with_trim")


@pytest.mark.parametrize(
    ("header", "short"),
    [("81 3/4 in", "11/16 in"), ("81 15/16 in", "1/2 in"), ("82 3/8 in", "1/16 in"), ("83 in", "0 in")],
)
def test_the_header_is_short_of_the_blocks_this_door_would_have_stood_on(header: str, short: str) -> None:
    # 81 13/16 high, 1/2 blocks and 1/8 to shim: 82 7/16
    advice = advised(door(LOW, rough_opening={"height": header}))
    assert advice["framing"]["rough_opening_needed"]["text"] == "82 7/16 in"
    assert advice["framing"]["short_by"]["text"] == short


@pytest.mark.parametrize(("hinge", "strike"), [("0 in", "0 in"), ("0 in", "-3/8 in"), ("-3/16 in", "0 in")])
def test_both_leaves_of_a_pair_end_at_one_height(hinge: str, strike: str) -> None:
    subfloor = {"kind": "legs", "hinge_leg": hinge, "strike_leg": strike}
    advice = advised(between(CARPET, CARPET, leaf={"count": 2, "width": "24 in"}, subfloor=subfloor))
    legs = [advice["setting"][leg] for leg in ("hinge_leg", "second_hinge_leg")]
    feet = [
        ticks(at) + (leg["block"]["in"] - leg["trim"]["in"]) * INCH
        for at, leg in zip((hinge, strike), legs, strict=True)
    ]
    assert feet[0] == feet[1]  # one foot, one leaf bottom, above one datum
    assert "strike_leg" not in advice["setting"]
    assert advice["leaf"]["bottom"]["text"] == "1 1/2 in"


def test_a_cut_pair_is_marked_to_one_line_at_both_hinges() -> None:
    # the hall's plank keeps the legs down: 1/2 in comes off both leaves, marked from unequal blocks
    subfloor = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/8 in"}
    leaf = {"count": 2, "width": "24 in"}
    pair = between(CARPET, PLANK, leaf=leaf, subfloor=subfloor, project_rules={"leg_below_hard_floor": "1/8 in"})
    part = advised(pair)["leaf"]
    assert part["bottom"]["text"] == "1 1/2 in"
    assert part["gauge_block"]["hinge_end"]["text"] == "1 1/2 in"
    assert part["second_gauge_block"]["hinge_end"]["text"] == "1 5/8 in"
