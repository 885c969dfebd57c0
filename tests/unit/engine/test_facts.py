"""What can be wrong with a readable opening is said by field, all at once."""

from __future__ import annotations

import msgspec
import pytest
from tests.openings import Wire, advised, assessed, catalogue, door, floor, layer, read

from jambset.engine.facts import gather, grid_of
from jambset.errors import InvalidRequest
from jambset.http.decode import opening_reader

PLANKS = door(pull_side=floor("vinyl_plank 1/4 in"), push_side=floor("vinyl_plank 1/4 in"))


def refused(request: dict[str, object]) -> dict[str, str]:
    """Codes by pointer."""
    with pytest.raises(InvalidRequest) as caught:
        gather(read(request), catalogue())
    return {error.pointer: error.code for error in caught.value.errors}


@pytest.mark.parametrize(("field", "name"), [("jurisdiction", "FR"), ("grid", "1/10 in"), ("rule_set", "1999-01")])
def test_an_unknown_name_is_refused_with_the_known_ones(field: str, name: str) -> None:
    with pytest.raises(InvalidRequest) as caught:
        gather(read(door(PLANKS, **{field: name})), catalogue())
    (error,) = caught.value.errors
    assert (error.pointer, error.code) == (f"#/{field}", "unknown_name")
    assert f'"{name}" is not known here. ' in error.detail
    assert "Use one of: " in error.detail


def test_all_faults_come_at_once() -> None:
    request = door(
        PLANKS,
        jurisdiction="XX",
        duties=["transfer_air", "transfer_air"],
        transition={"piece": "magic_carpet"},
        rough_opening={"height": "70 in"},
        leaf={"opening_angle": 80, "cut_angle": 90},
        pull_side={"build_up": [{"material": "marshmallow"}, {"material": "carpet_cushion"}]},
        push_side=floor({"material": "laminate", "thickness": "8 mm", "least": "9 mm"})
        | {"could_become": [{"build_up": [{"material": "backer_board"}]}]},
    )
    assert refused(request) == {
        "#/jurisdiction": "unknown_name",
        "#/duties": "repeated",
        "#/transition/piece": "unknown_name",
        "#/rough_opening/height": "implausible",
        "#/leaf/cut_angle": "out_of_range",
        "#/pull_side/build_up/0/material": "unknown_name",
        "#/pull_side/build_up/1/material": "not_a_finish",
        "#/push_side/build_up/0/thickness": "out_of_order",
        "#/push_side/could_become/0/build_up/0/material": "not_a_finish",
    }


@pytest.mark.parametrize(
    ("stated", "field"),
    [
        ({"least": "3 in"}, "least"),
        ({"greatest": "1/64 in"}, "greatest"),
        ({"least": "3 in", "greatest": "1/64 in"}, "least"),
        ({"thickness": "1/2 in", "greatest": "3/8 in"}, "thickness"),
        ({"thickness": "1/2 in", "least": "5/8 in", "greatest": "3/4 in"}, "thickness"),
    ],
)
def test_a_thickness_out_of_order_is_told_of_a_field_that_was_sent(stated: dict[str, str], field: str) -> None:
    request = door(PLANKS, push_side=floor({"material": "carpet", **stated}))
    assert refused(request) == {f"#/push_side/build_up/0/{field}": "out_of_order"}


def details(request: Wire) -> dict[str, str]:
    with pytest.raises(InvalidRequest) as caught:
        gather(read(request), catalogue())
    return {error.pointer: error.detail for error in caught.value.errors}


def test_a_thickness_out_of_order_names_what_is_left_to_state() -> None:
    # the material's own count for what isn't stated; who states all three is told no such thing
    stated = {"thickness": "1/2 in", "least": "5/8 in"}
    all_three = {**stated, "greatest": "3/4 in"}
    for layer_, hint in ((stated, True), (all_three, False)):
        (told,) = details(door(PLANKS, push_side=floor({"material": "carpet", **layer_}))).values()
        assert told.startswith("least, thickness and greatest must stand in that order.")
        assert told.endswith("state them as well.") is hint


@pytest.mark.parametrize(("thickness", "is_a_slab"), [("4 in", True), ("1 1/16 in", True), ("1 in", False)])
def test_a_slab_is_no_layer_of_its_own_thickness(thickness: str, *, is_a_slab: bool) -> None:
    # whoever is asked how thick the concrete is says 4 in; no slab of a house is as thin as an inch
    request = door(PLANKS, push_side=floor({"material": "sealed_concrete", "thickness": thickness, "least": "0 in"}))
    request["push_side"]["build_up"][0]["greatest"] = thickness
    if not is_a_slab:
        assert gather(read(request), catalogue()).push.floor is not None
        return
    (told,) = details(request).items()
    assert told[0] == "#/push_side/build_up/0/thickness"
    assert told[1].startswith('"sealed_concrete" is the slab itself, which is the subfloor: heights are counted from')
    assert told[1].endswith(" Give what a coating on it adds, or 0 in.")
    opening = read(request)
    with pytest.raises(InvalidRequest) as refused:
        gather(opening, catalogue())
    assert [fault.code for fault in refused.value.errors] == ["implausible"]


def test_a_leaf_held_farther_open_than_it_opens_is_told_so() -> None:
    told = details(door(PLANKS, leaf={"opening_angle": 80, "cut_angle": 90}))
    assert told == {"#/leaf/cut_angle": "The leaf can't be held farther open than opening_angle."}


@pytest.mark.parametrize(("free", "fits"), [("144 in2", True), ("144.1 in2", False), ("144 cm2", True)])
def test_no_more_of_a_grille_is_free_than_its_face(free: str, *, fits: bool) -> None:
    # 12 in by 12 in are 144 in2 or 929 cm2; who writes in2 for cm2 counts six and a half times the air that passes
    grille = {"kind": "grille", "width": "12 in", "height": "12 in", "free_area": free}
    crack = {"kind": "crack", "leakage_area": "2 in2"}
    request = door(PLANKS, air={"other_paths": [crack, grille]})
    if fits:
        assert gather(read(request), catalogue()).opening.air.other_paths[1:]
    else:
        assert refused(request) == {"#/air/other_paths/1/free_area": "contradiction"}


def test_it_may_be_held_as_far_open_as_it_opens_and_fill_its_opening() -> None:
    # a leaf as high as the hole isn't refused: what that means for the frame is an answer, and no slip of the pen
    whole = door(PLANKS, leaf={"opening_angle": 90, "cut_angle": 90}, rough_opening={"height": "80 in"})
    assert assessed(whole).verdict == "conflict"
    assert details(door(PLANKS, rough_opening={"height": "79 15/16 in"})) == {
        "#/rough_opening/height": "The rough opening is lower than the leaf; no setting of the frame can fix that. "
        "Check both heights."
    }


def test_what_contradicts_itself_is_told_how_to_mend_it() -> None:
    assert details(door(PLANKS, frame={"foot": "1/2 in"})) == {
        "#/frame/foot": 'A foot is stated only for a frame that is fixed already: with "state": "set", or leave it out.'
    }
    assert details(door(PLANKS, duties=["fire_label", "fire_label"])) == {"#/duties": "Name each item once."}


@pytest.mark.parametrize(("away", "known"), [("6 in", True), ("6 1/16 in", False)])
def test_a_point_tells_the_floor_under_a_cut_as_far_as_it_reaches(away: str, known: bool) -> None:
    # common practice, no source: 6 in. The leaf is 30 in wide and cut where it stands open
    from_end = {"6 in": "24 in", "6 1/16 in": "23 15/16 in"}[away]
    points = [{"radius": from_end, "angle": 90, "height": "1/8 in"}]
    level = {"kind": "survey", "hinge_leg": "0 in", "strike_leg": "0 in", "points": points}
    request = door(PLANKS, leaf={"opening_angle": 90, "cut_angle": 90}, subfloor=level)
    assert gather(read(request), catalogue()).gauge_known is known


def test_a_piece_of_the_catalogue_is_taken() -> None:
    advice = assessed(door(PLANKS, transition={"piece": "saddle", "rise": "1/2 in"}))
    assert advice.transition
    assert (advice.transition.piece, advice.transition.rise) == ("saddle", 101_600)


def test_the_grid_is_the_custom_of_the_place_unless_stated() -> None:
    grids = [
        grid_of(read(door(PLANKS, **more)), catalogue()).name
        for more in ({}, {"jurisdiction": "GB-ENG"}, {"grid": "2 mm"})
    ]
    assert grids == ["1/16 in", "1 mm", "2 mm"]


def test_a_pile_alone_stands_on_its_backing() -> None:
    # common practice, no source: backings add 1/16 to 1/8 in to the pile that a label prints; 3/32 is taken
    whole = floor(layer("carpet_cushion 7/16 in"), layer("carpet 1/2 in", thickness_of="total"))
    pile = floor(layer("carpet_cushion 7/16 in"), layer("carpet 1/2 in", thickness_of="pile"))
    tops = [gather(read(door(PLANKS, pull_side=side)), catalogue()).pull.floor for side in (whole, pile)]
    assert tops[0]
    assert tops[1]
    backing = 203_200 * 3 // 32
    assert tops[1].nominal - tops[0].nominal == backing
    assert (tops[1].least - tops[0].least, tops[1].greatest - tops[0].greatest) == (backing, backing)
    assert (tops[0].pile, tops[1].pile) == (203_200 * 13 // 32, 203_200 // 2)


def test_what_was_assumed_is_said() -> None:
    request = door(
        PLANKS, frame={"state": "set", "head_gap": None}, subfloor=None, pull_side=floor(layer("vinyl_plank"))
    )
    found = assessed(request).assumptions
    pointers = [assumption.pointer for assumption in found]
    assert pointers == [
        "#/frame/head_gap",
        "#/frame/leg_thickness",
        "#/frame/foot",
        "#/subfloor",
        "#/pull_side/build_up/0/thickness",
        "#/building/year_built",  # typical plank is up to 9 mm thick, and the leaf is cut for it
    ]
    told = {one["pointer"]: one for one in advised(request)["assumptions"]}
    assert told["#/frame/foot"]["text"] == "The frame was assumed to stand as advised here."
    assert told["#/subfloor"]["text"] == "Subfloor assumed to be level."
    plank = told["#/pull_side/build_up/0/thickness"]
    assert plank["text"].startswith(f"Rigid-core vinyl plank, floating, with its pad: assumed {plank['value']['text']}")


def test_a_name_that_isnt_known_is_told_with_those_that_are() -> None:
    assert details(door(PLANKS, grid="1/3 in")) == {
        "#/grid": '"1/3 in" is not known here. Did you mean "1/32 in"? Use one of: 0.1 mm, 0.5 mm, 1 mm, 1/16 in, '
        "1/32 in, 1/64 in, 1/8 in, 2 mm, 5 mm."
    }


def test_a_layer_that_is_no_finish_is_told_to_lie_lower() -> None:
    assert details(door(PLANKS, push_side=floor("vinyl_plank 1/4 in", "carpet_cushion 7/16 in"))) == {
        "#/push_side/build_up/1/material": "Layers are listed from the subfloor up and the last must be a finish, "
        'which "carpet_cushion" is not; list it earlier, or add the layer that lies on top of it.'
    }


def test_before_the_oldest_rule_everything_would_be_in_order_so_such_a_day_is_refused() -> None:
    # common practice holds from 1900 on in the catalogue; a year with a digit too few or turned lies before it
    assert refused(door(PLANKS, as_of="1899-12-31")) == {"#/as_of": "implausible"}
    assert refused(door(PLANKS, as_of="0026-05-01")) == {"#/as_of": "implausible"}
    assert assessed(door(PLANKS, as_of="1900-01-01")).checks


def test_such_a_day_is_told_beside_what_cant_be_read() -> None:
    body = msgspec.json.encode(door(PLANKS, as_of="0026-05-01", grid=1))
    with pytest.raises(InvalidRequest) as caught:
        opening_reader(catalogue()).read(body)
    assert {(error.pointer, error.code) for error in caught.value.errors} == {
        ("#/as_of", "implausible"),
        ("#/grid", "wrong_type"),
    }


def test_of_floors_that_nobody_named_nothing_is_checked() -> None:
    over_floors = {"floor_clearance", "leaf_bottom", "foot", "leg_cover"}
    checks = assessed(door(PLANKS, pull_side={"build_up": None}, push_side={"build_up": None})).checks
    assert [check.rule for check in checks if check.quantity in over_floors] == []
    assert "head.shim.wanted" in {check.rule for check in checks}
