"""What isn't known is asked of somebody, and holds what it must hold."""

from __future__ import annotations

import pytest
from msgspec import UNSET, UnsetType
from msgspec.structs import replace
from tests.openings import Wire, advised, assessed, catalogue, door, floor, read, ticks

from jambset.engine.assess import assess
from jambset.model.advice import Phrase

CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
PLANK = floor("vinyl_plank 1/4 in")


def asked(request: dict[str, object]) -> dict[str, tuple[str, ...]]:
    return {question.code: question.holds for question in assessed(request).questions}


LABELLED: Wire = {"duties": ["fire_label"], "leaf": {"core": "solid", "fire_minutes": 20}}
SET: Wire = {"frame": {"state": "set"}}
AIR: Wire = {"duties": ["transfer_air"]}
LOW_HEADER = {"rough_opening": {"height": "81 1/2 in"}}
"""The unit is 81 9/16 in high: its legs are cut."""


@pytest.mark.parametrize(
    ("changes", "code", "who", "pointer", "holds"),
    [
        ({"subfloor": None}, "subfloor_unmeasured", "finish_carpenter", "#/subfloor", ()),
        (SET, "foot_unknown", "finish_carpenter", "#/frame/foot", ("leaf",)),
        (
            {"frame": {"undercut": None}},
            "undercut_unknown",
            "finish_carpenter",
            "#/frame/undercut",
            ("setting", "leaf"),
        ),
        ({"rough_opening": None}, "rough_opening_unknown", "framer", "#/rough_opening", ()),
        (LABELLED | {"leaf": {"core": "solid"}}, "fire_minutes_unknown", "door_supplier", "#/leaf/fire_minutes", ()),
        (AIR, "supply_flow_unknown", "hvac_contractor", "#/air/supply_flow", ("air",)),
        (LABELLED | LOW_HEADER, "frame_label", "door_supplier", UNSET, ("setting", "leaf", "flooring")),
        (LABELLED, "frame_label", "door_supplier", UNSET, ("setting", "leaf", "flooring")),
    ],
)
def test_what_is_not_known_is_asked_of_who_knows_it_where_it_can_be_filled_in_and_holds_what_it_must(
    changes: Wire, code: str, who: str, pointer: str | UnsetType, holds: tuple[str, ...]
) -> None:
    known = door(pull_side=PLANK, push_side=PLANK)
    assert asked(known) == {}
    questions = assessed(door(known, **changes)).questions
    assert [(q.ask, q.pointer, q.holds) for q in questions if q.code == code] == [(who, pointer, holds)]


LOOP: Wire = {"material": "carpet_loop", "thickness": "1/4 in"}


def test_a_carpet_of_which_nobody_says_how_it_is_held_is_asked_about_before_a_leaf_is_cut_for_it() -> None:
    """Carpet without a cushion is glued down as a rule; common practice, no source."""
    request = door(pull_side=floor(LOOP), push_side=floor(LOOP), leaf={"core": "solid"})
    told = advised(request)
    fixing = [q for q in told["questions"] if q["code"] == "carpet_fixing"]
    assert [q["pointer"] for q in fixing] == ["#/pull_side/build_up/0/fixing", "#/push_side/build_up/0/fixing"]
    assert [q["holds"] for q in fixing] == [["leaf"]] * 2
    assert ["on the pull side" in fixing[0]["text"], "on the push side" in fixing[1]["text"]] == [True, True]
    assert (told["verdict"], told["leaf"]["trim"]["in"]) == ("hold", 0.75)
    glued = advised(
        door(request, pull_side=floor(LOOP | {"fixing": "glued"}), push_side=floor(LOOP | {"fixing": "glued"}))
    )
    assert (glued["verdict"], glued["leaf"]["trim"]["in"], glued["questions"]) == ("go", 0, [])
    whole = advised(door(request, frame={"undercut": "1 1/2 in"}))
    assert (whole["verdict"], {q["code"] for q in whole["questions"]}) == ("go", {"carpet_fixing"})


@pytest.mark.parametrize(
    "carpet",
    [floor("carpet_cushion 7/16 in", LOOP), floor(LOOP | {"fixing": "stretched"}), floor("vinyl_plank 1/4 in")],
)
def test_nothing_is_asked_of_one_on_a_cushion_or_whose_fixing_is_stated(carpet: Wire) -> None:
    assert "carpet_fixing" not in asked(door(pull_side=carpet, push_side=PLANK))


def test_one_carpet_runs_through_though_of_one_side_alone_it_is_said_how_it_is_held() -> None:
    """That it isn't stated is nothing of the floor itself: stretched on one side, unsaid on the other, it is one."""
    loop, held = floor(LOOP), floor(LOOP | {"fixing": "stretched"})
    pieces = [advised(door(pull_side=pull, push_side=loop))["transition"]["piece"] for pull in (loop, held)]
    assert pieces == ["run_through_carpet"] * 2
    listed = advised(door(pull_side=loop | {"could_become": [held]}, push_side=PLANK))
    assert len(listed["scenarios"]) == 1


SHORT: Wire = {"duties": ["transfer_air"], "air": {"supply_flow": "120 cfm"}}
"""Over plank, 5/8 in under 30 in of leaf: 34.7 cfm at 3 Pa by RR-0005, 1.07 cfm per in2 and the root of a pascal."""


def test_air_that_is_far_short_of_a_wish_is_asked_about_though_the_door_may_go_in() -> None:
    request = door(pull_side=PLANK, push_side=PLANK, **SHORT)
    advice = advised(request)
    (question,) = (q for q in advice["questions"] if q["code"] == "air_short")
    assert (question["ask"], question["pointer"], question["holds"]) == (
        "hvac_contractor",
        "#/air/other_paths",
        ["air"],
    )
    assert question["text"] == (
        "Of 120.0 cfm, this closed door and what is stated beside it carry 34.7 cfm at 3.0 Pa: which way do the other "
        "85.3 cfm go?"
    )
    assert advice["verdict"] == "go"
    assert advice["summary"].endswith(f"Still to ask, apart from the door: {question['text']}")
    assert not any(task.get("hold") for task in advice["tasks"])
    grille = {"kind": "grille", "free_area": "60 in2", "width": "14 in", "height": "8 in"}
    assert "air_short" not in asked(door(request, air={"other_paths": [grille]}))
    assert "air_short" not in asked(door(request, duties=["egress_door"]))


@pytest.mark.parametrize(
    ("changes", "verdict", "code"),
    [({"air": {"pressure_limit": "3 Pa"}}, "hold", "summary.hold.beside"), ({"jurisdiction": "US-FL"}, "conflict", "")],
)
def test_what_only_a_way_beside_the_door_mends_keeps_nobody_from_setting_it(
    changes: Wire, verdict: str, code: str
) -> None:
    advice = assessed(door(door(pull_side=PLANK, push_side=PLANK, **SHORT), **changes))
    assert (advice.verdict, advice.summary.code) == (verdict, code or f"summary.{verdict}.beside")
    assert {conflict.holds for conflict in advice.conflicts} == {("air",)}
    assert not any(task.hold for task in advice.tasks)


def test_where_a_higher_header_would_let_the_air_pass_the_door_waits_for_that() -> None:
    """50 cfm want 15/16 in. Over 3/4 in of wood 5/8 in blocks and 5/16 in off the leaf give that."""
    wood = floor("solid_wood 3/4 in")
    air = {"supply_flow": "50 cfm", "pressure_limit": "3 Pa"}
    free = door(pull_side=wood, push_side=wood, duties=["transfer_air"], air=air)
    assert assessed(free).conflicts == ()
    low = assessed(door(free, rough_opening={"height": "81 5/8 in"}))
    (holds,) = [conflict.holds for conflict in low.conflicts if conflict.rules[0] == "project.pressure_limit"]
    assert holds == ("setting", "leaf")


def test_where_a_unit_set_higher_would_let_the_air_pass_the_door_waits_for_that() -> None:
    """The same over a frame that stands on the subfloor: a solid leaf gives 3/4 in, and no cut leaves 15/16 in."""
    wood = floor("solid_wood 3/4 in")
    air = {"supply_flow": "50 cfm", "pressure_limit": "3 Pa"}
    low = door(pull_side=wood, push_side=wood, duties=["transfer_air"], air=air, frame={"state": "set", "foot": "0 in"})
    (conflict,) = assessed(low).conflicts
    assert conflict.rules == ("project.pressure_limit",)
    assert "set_again" in [way.kind for way in conflict.ways_out]
    assert conflict.holds == ("setting", "leaf")


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"pull_side": {"room": "den", "build_up": None}}, "hold.leaf"),
        ({"frame": {"undercut": None}}, "hold.leaf.setting"),
        ({"duties": ["garage_to_house", "transfer_air"], "leaf": {"core": "solid"}}, "conflict.leaf.setting"),
    ],
)
def test_a_summary_says_what_waits_and_for_what(changes: Wire, code: str) -> None:
    request = door(door(pull_side=PLANK, push_side=PLANK), **changes)
    advice, told = assessed(request), advised(request)
    assert advice.summary.code == f"summary.{code}"
    texts = [one["text"] for one in (*told["conflicts"], *told["questions"])]
    assert any(text in told["summary"] for text in texts)


def test_what_holds_the_work_is_asked_first() -> None:
    open_ = door(pull_side=PLANK, push_side=PLANK, subfloor=None, rough_opening=None, frame={"undercut": None})
    assert list(asked(open_)) == ["undercut_unknown", "subfloor_unmeasured", "rough_opening_unknown"]


def test_a_frame_that_is_set_or_ordered_is_asked_neither_its_header_nor_an_undercut_it_has_yet_to_get() -> None:
    plank = door(pull_side=PLANK, push_side=PLANK, rough_opening=None)
    assert "rough_opening_unknown" not in asked(door(plank, frame={"state": "set", "foot": "0 in"}))
    assert "undercut_unknown" not in asked(door(plank, frame={"state": "to_order", "undercut": None}))


STATED: Wire = door(
    pull_side=CARPET, push_side=CARPET, frame={"state": "to_order", "undercut": "1/2 in"}, leaf={"core": "solid"}
)
"""Carpet wants a leaf 1 1/2 in up: with no more than 3/4 in off it, it stands on 1/4 in blocks."""


def test_of_a_unit_to_order_whose_leaf_would_be_cut_it_is_asked_whether_it_comes_with_another_undercut() -> None:
    """Nothing is bought yet; carpet wants a leaf 1 1/2 in above the subfloor (common practice, no source)."""
    advice = assessed(STATED)
    (question,) = [one for one in advice.questions if one.code == "undercut_to_order"]
    assert (question.ask, question.pointer, question.holds) == ("superintendent", UNSET, ())
    assert question.text.values == {
        "present": ticks("1/2 in"),
        "undercut": ticks("1 1/2 in"),
        "leaves": Phrase("leaves.one"),
    }
    assert (advice.verdict, advice.leaf.trim) == ("go_with_trim", ticks("3/4 in"))


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"frame": {"state": "on_site"}}, id="bought"),
        pytest.param({"frame": {"undercut": "1 in"}}, id="on blocks nothing is cut"),
        pytest.param({"frame": {"undercut": None}}, id="its undercut is chosen here"),
        pytest.param({"rough_opening": {"height": "82 in"}}, id="the header is too low for another"),
        pytest.param({"answered": [{"code": "undercut_to_order", "by": "what the shop has"}]}, id="answered"),
    ],
)
def test_another_undercut_is_not_asked_for_where(changes: Wire) -> None:
    assert "undercut_to_order" not in asked(door(STATED, **changes))


def test_a_question_about_a_floor_promises_no_more_than_that_nothing_is_cut_for_it() -> None:
    """A unit is ordered, and legs are cut for a low header, whoever still has to confirm the floor."""
    assumed = {**floor("vinyl_plank 1/4 in"), "certainty": "assumed"}
    request = door(pull_side=assumed, push_side=assumed)
    ordered = advised(door(request, frame={"state": "to_order", "undercut": None}))
    low = advised(door(request, frame={"undercut": "1 in"}, rough_opening={"height": "81 1/2 in"}))
    assert (ordered["verdict"], low["setting"]["method"]) == ("go", "legs_trimmed")
    for answer in (ordered, low):
        asked_ = {q["text"] for q in answer["questions"] if q["code"] == "floor_unconfirmed"}
        assert all(text.endswith("? Nothing is cut for it until then.") for text in asked_)
        assert len(asked_) == 2


def test_a_typical_thickness_is_asked_after_but_holds_only_a_leaf_that_is_cut_by_it() -> None:
    floors: Wire = {"build_up": [{"material": "vinyl_plank"}]}
    whole = door(pull_side=floors, push_side=floors, frame={"undercut": "1 in"})
    assert (assessed(whole).leaf.trim, asked(whole)) == (0, {"layer_thickness_unknown": ()})
    carpet: Wire = {"build_up": [{"material": "carpet_cushion"}, {"material": "carpet"}]}
    holds = {q.holds for q in assessed(door(pull_side=carpet, push_side=PLANK)).questions}
    assert holds == {("leaf",)}


@pytest.mark.parametrize(
    ("layer", "unusual"),
    [
        # commonly 4 to 9 mm as laid: twice as thick and half as thin are still asked nothing
        ({"material": "vinyl_plank", "thickness": "18 mm"}, False),
        ({"material": "vinyl_plank", "thickness": "18.1 mm"}, True),
        ({"material": "vinyl_plank", "thickness": "2 mm"}, False),
        ({"material": "vinyl_plank", "thickness": "1.9 mm"}, True),
        ({"material": "vinyl_plank", "thickness": "5 in"}, True),
        ({"material": "vinyl_plank", "thickness": "5 in", "least": "4 in"}, True),
        ({"material": "vinyl_plank", "thickness": "5 in", "least": "4 in", "greatest": "5 in"}, False),
        ({"material": "vinyl_plank", "least": "1 mm", "greatest": "40 mm"}, False),
        # commonly at most 5/8 in as laid, its backing of 1/8 in among them
        ({"material": "carpet", "thickness": "1 1/4 in", "thickness_of": "total"}, False),
        ({"material": "carpet", "thickness": "1 1/8 in", "thickness_of": "pile"}, False),
        ({"material": "carpet", "thickness": "1 3/16 in", "thickness_of": "pile"}, True),
    ],
)
def test_a_thickness_that_is_hardly_meant_is_asked_after_and_holds_all(layer: Wire, *, unusual: bool) -> None:
    """Ranges: common practice, no source. Who states the layer's range as well has meant it."""
    found = asked(door(pull_side=PLANK, push_side={"build_up": [layer]}, rough_opening=None))
    assert found.get("thickness_unusual") == (("setting", "leaf") if unusual else None)


def test_a_thickness_that_is_hardly_meant_is_told_where_it_stands_and_what_is_common() -> None:
    may = PLANK | {
        "could_become": [PLANK, floor("thin_bed_mortar 3/16 in", {"material": "ceramic_tile", "thickness": "3 in"})]
    }
    plank: Wire = {"material": "vinyl_plank", "thickness": "5 in"}
    advice = advised(door(pull_side=may, push_side=floor(plank), rough_opening=None))
    told = {q["pointer"]: q["text"] for q in advice["questions"] if q["code"] == "thickness_unusual"}
    assert told == {
        "#/pull_side/could_become/1/build_up/1/thickness": (
            "Is the ceramic tile really 3 in thick? Such a layer is commonly 1/4 in to 1/2 in. If yes, state its least "
            "and greatest too."
        ),
        "#/push_side/build_up/0/thickness": (
            "Is the vinyl plank really 5 in thick? Such a layer is commonly about 5/32 in to about 23/64 in. If yes, "
            "state its least and greatest too."
        ),
    }
    assert advice["verdict"] == "hold"


def test_a_labelled_frame_is_asked_of_what_is_cut_off_it() -> None:
    """Its legs under a low header, or for a hard floor, or both; for carpet on the subfloor nobody undercuts them."""
    rated = door(**LABELLED, **LOW_HEADER, pull_side=CARPET, push_side=CARPET)
    high = {"rough_opening": {"height": "84 in"}}
    plank = {"pull_side": PLANK, "push_side": PLANK}
    told = []
    for changes in ({}, plank, plank | high, high):
        found = [q for q in assessed(door(rated, **changes)).questions if q.code == "frame_label"]
        told.append([(q.text.code, q.holds) for q in found])
    assert told == [
        [("ask.frame_label", ("setting", "leaf"))],
        [("ask.frame_label", ("setting", "leaf", "flooring"))],
        [("ask.frame_label.floor", ("setting", "leaf", "flooring"))],
        [],
    ]


def test_one_that_is_set_is_not_asked_about_before_it_is_set() -> None:
    stands = door(**LABELLED, pull_side=PLANK, push_side=PLANK, frame={"state": "set", "foot": "0 in"})
    (asked,) = [q for q in assessed(stands).questions if q.code == "frame_label"]
    assert (asked.text.code, asked.holds) == ("ask.frame_label.set", ("flooring",))


@pytest.mark.parametrize(
    ("duties", "codes"),
    [
        (["fire_label"], ["wall.fire", "caution.wall_opening"]),
        (["smoke_control"], ["wall.smoke", "caution.wall_opening"]),
        (["fire_label", "smoke_control"], ["wall.smoke", "wall.fire", "caution.wall_opening"]),
        (["transfer_air"], []),
    ],
)
def test_of_a_grille_in_the_wall_it_is_said_what_the_doors_own_duties_call_for(
    duties: list[str], codes: list[str]
) -> None:
    grille = {"kind": "grille", "free_area": "60 in2", "width": "14 in", "height": "8 in"}
    request = door(pull_side=PLANK, push_side=PLANK, duties=duties, air={"other_paths": [grille]})
    told: list[str] = []
    text: object = next((c.text for c in assessed(request).cautions if c.code == "wall_opening"), None)
    while isinstance(text, Phrase):
        told.append(text.code)
        text = text.values.get("text")
    assert told == codes


def test_only_a_slab_is_asked_for_a_coating() -> None:
    sides = {"pull_side": floor("sealed_concrete"), "push_side": floor("backer_board 1/4 in", "ceramic_tile")}
    asked_ = [q["text"] for q in advised(door(**sides))["questions"] if q["code"] == "layer_thickness_unknown"]
    assert [text.partition(",")[0].partition(" be?")[0] for text in asked_] == [
        "Will the concrete be coated",
        "How thick will the ceramic tile",
    ]


def test_an_unmeasured_floor_and_header_are_asked_for_and_hold_nothing() -> None:
    assert asked(door(pull_side=PLANK, push_side=PLANK, subfloor=None, rough_opening=None)) == {
        "subfloor_unmeasured": (),
        "rough_opening_unknown": (),
    }


def test_a_floor_that_may_change_holds_the_leaf() -> None:
    may = CARPET | {"could_become": [PLANK]}
    advice = assessed(door(pull_side=may, push_side=PLANK))
    assert asked(door(pull_side=may, push_side=PLANK)) == {"floor_may_change": ("leaf", "transition", "flooring")}
    assert (advice.verdict, advice.leaf.when) == ("hold", "after_floor")


def test_an_unmeasured_undercut_holds_setting_and_leaf() -> None:
    unknown = door(pull_side=CARPET, push_side=CARPET, frame={"undercut": None})
    advice = advised(unknown)
    assert asked(unknown) == {"undercut_unknown": ("setting", "leaf")}
    assert (advice["verdict"], advice["leaf"]["when"], "trim" in advice["leaf"]) == ("hold", "unknown", False)
    assert advice["leaf"]["bottom"]["text"] == "1 1/2 in"


def test_a_unit_to_order_for_a_floor_nobody_chose_waits() -> None:
    advice = advised(door(pull_side={}, push_side=PLANK, frame={"undercut": None, "state": "to_order"}))
    assert "undercut_to_order" not in advice["order"]
    assert "framing" not in advice
    assert advice["clearance"] == {}


def test_questions_name_the_layer_and_quote_the_rule_they_come_from() -> None:
    tall: Wire = {"build_up": [{"material": "carpet_cushion"}, {"material": "carpet", "thickness": "1/2 in"}]}
    rated: Wire = {
        "leaf": {"core": "solid", "fire_minutes": 20},
        "duties": ["fire_label"],
        "frame": {"undercut": "1/2 in"},
    }
    told = {q["code"]: q["text"] for q in advised(door(pull_side=PLANK, push_side=tall, **rated))["questions"]}
    assert told["layer_thickness_unknown"].startswith("How thick will the carpet cushion be?")
    slab = {
        q["code"]: q["text"] for q in advised(door(pull_side=PLANK, push_side=floor("sealed_concrete")))["questions"]
    }
    assert slab["layer_thickness_unknown"].startswith("Will the concrete be coated")
    # NFPA 80 5.1.5.2 as quoted: by the listing of the door
    assert told["us-fire-trim-listing"].startswith(
        "Does the listing of this labelled leaf allow its bottom to be trimmed"
    )


def test_a_rated_leaf_of_unknown_minutes_is_asked_for() -> None:
    rated = door(pull_side=PLANK, push_side=PLANK, duties=["fire_label"], leaf={"core": "solid"})
    assert "fire_minutes_unknown" in asked(rated)
    assert "fire_minutes_unknown" not in asked(door(rated, leaf={"fire_minutes": 20}))


def test_a_gauge_block_far_from_any_survey_point_is_asked_for() -> None:
    point = {"radius": "30 in", "angle": 0, "height": "0 in"}
    survey = {"kind": "survey", "hinge_leg": "0 in", "strike_leg": "0 in", "points": [point]}
    far = door(pull_side=CARPET, push_side=PLANK, subfloor=survey)
    near = door(far, subfloor=survey | {"points": [point, point | {"angle": 90}]})
    assert [q.pointer for q in assessed(far).questions if q.code == "survey_far"] == ["#/subfloor/points"]
    assert "survey_far" not in asked(near)
    blocks = ["gauge_block" in advised(request)["leaf"] for request in (far, near)]
    assert blocks == [False, True]


def test_a_supply_below_the_threshold_is_held_to_the_stricter_limit() -> None:
    # ENERGY STAR field checklist: 3 Pa, or 5 Pa where the room's design flow is at least 150 cfm
    rooms = door(pull_side=PLANK, push_side=PLANK, duties=["transfer_air", "rated_home_programme"])
    limits = {}
    for flow in ("149 cfm", "150 cfm"):
        checks = assessed(door(rooms, air={"supply_flow": flow})).checks
        limits[flow] = [c.limit for c in checks if c.quantity == "room_pressure" and c.force == "programme"]
    assert limits == {"149 cfm": [3.0], "150 cfm": [5.0]}


def test_a_door_is_wide_enough_or_short_of_it() -> None:
    # 30 in leaf, 3/16 in side gaps, two 11/16 in legs, 1/4 in of shims: 31 13/16 in
    request = door(pull_side=PLANK, push_side=PLANK, rough_opening={"height": "84 in", "width": "31 1/2 in"})
    framing = advised(request)["framing"]
    assert (framing["width_needed"]["text"], framing["width_short_by"]["text"]) == ("31 13/16 in", "5/16 in")
    # a pair has a second leaf and 1/8 in between the two (NFPA 80 as quoted for meeting edges: at most 1/8 in)
    assert advised(door(request, leaf={"count": 2}))["framing"]["width_needed"]["text"] == "61 15/16 in"


# --- a change in level that needs a ramp

RAMPED = door(
    leaf={"width": "36 in", "thickness": "1 3/4 in", "core": "solid"},
    frame={"undercut": "1 1/4 in"},
    duties=["accessible_route"],
    building={"use": "commercial"},
    pull_side=floor("solid_wood 3/4 in"),
    push_side=PLANK,
    transition={"piece": "saddle", "rise": "1/2 in"},
)
"""Wood 1/2 in above plank, and a saddle of 1/2 in on it: 1 in above the plank."""


def test_who_builds_a_ramp_is_asked_before_anything_is_set_or_cut() -> None:
    # ADA 303.4: above 1/2 in it is ramped; 405: 1 in 12, so 12 in long for 1 in
    advice = advised(RAMPED)
    (question,) = [q for q in advice["questions"] if q["code"] == "ramp_needed"]
    assert (question["ask"], question["pointer"]) == ("superintendent", "#/transition/piece")
    assert question["holds"] == ["setting", "leaf", "transition", "flooring"]
    assert question["text"].startswith(
        "A change in level of 1 in is too high for a bevel here: who builds a ramp at least 12 in long"
    )
    assert advice["verdict"] == "hold"
    held = {task["key"] for task in advice["tasks"] if "ramp_needed" in task.get("questions", ())}
    assert held == {"D01.trim-leaf", "D01.set-frame", "D01.undercut-jambs", "D01.fit-piece"}


@pytest.mark.parametrize(
    ("piece", "asked_for"),
    [
        pytest.param("ramped_reducer", False, id="a ramp that takes the whole change"),
        pytest.param("reducer", True, id="made for 1/2 in at most"),
        pytest.param("carpet_ramp", True, id="not made for two hard floors"),
        pytest.param("saddle", True, id="stands up and is no ramp"),
        pytest.param(None, True, id="nobody named a piece"),
    ],
)
def test_a_ramp_is_agreed_by_naming_the_piece_that_is_built_as_one(piece: str | None, asked_for: bool) -> None:
    """Wood 3/4 in beside plank 3/16 in: 9/16 in is ramped."""
    named = None if piece is None else {"piece": piece, "rise": "0 in"}
    request = door(RAMPED, push_side=floor("vinyl_plank 3/16 in"), transition=named)
    assert ("ramp_needed" in asked(request)) is asked_for


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"transition": {"rise": "0 in"}}, id="1/2 in is bevelled, 303.3"),
        pytest.param({"duties": [], "building": None}, id="no rule asks for a ramp"),
        pytest.param({"push_side": {}, "transition": None}, id="a floor is undecided"),
    ],
)
def test_no_ramp_is_asked_where_none_is_needed(changes: Wire) -> None:
    assert "ramp_needed" not in asked(door(RAMPED, **changes))


@pytest.mark.parametrize(
    ("bed", "named", "apart"),
    [
        ("1/2 in", None, ""),
        ("9/16 in", None, "13/16 in"),
        ("1 1/2 in", None, "1 3/4 in"),
        ("1 1/2 in", "ramped_reducer", ""),
    ],
)
def test_a_step_that_no_piece_is_bought_for_is_asked_about_where_no_rule_wants_a_ramp(
    bed: str, named: str | None, apart: str
) -> None:
    """Common practice, no source: above 3/4 in it is built on site. Stone 1/2 in on its bed, beside plank 1/4 in."""
    stone = floor(f"medium_bed_mortar {bed}", "stone_tile 1/2 in")
    there = door(pull_side=stone, push_side=PLANK, frame={"undercut": "3 in"})
    told = advised(door(there, transition={"piece": named}) if named else there)
    found = [q for q in told["questions"] if q["code"] == "ramp_needed"]
    assert [q["holds"] for q in found] == bool(apart) * [["setting", "leaf", "transition", "flooring"]]
    assert all(f"are {apart} apart, more than ready-made pieces take" in q["text"] for q in found)


@pytest.mark.parametrize(("bed", "asked_for"), [("1/2 in", False), ("9/16 in", True)])
def test_just_as_high_a_step_as_ready_made_pieces_take_is_built_by_nobody(bed: str, *, asked_for: bool) -> None:
    """Common practice, no source: above 3/4 in. A ramped reducer named 1/2 in high is likelier another piece."""
    stone = floor(f"medium_bed_mortar {bed}", "stone_tile 1/2 in")
    named = {"piece": "ramped_reducer", "rise": "1/2 in"}
    codes = asked(door(pull_side=stone, push_side=PLANK, frame={"undercut": "3 in"}, transition=named))
    assert "piece_unsuited" in codes
    assert ("ramp_needed" in codes) is asked_for


@pytest.mark.parametrize(("bed", "asked_for"), [("2 3/4 in", False), ("2 13/16 in", True)])
def test_a_ramp_takes_no_more_than_its_piece_is_made_for(bed: str, asked_for: bool) -> None:
    """Half an inch of stone on it, beside plank 1/4 in: 3 in is the most of a ramped reducer."""
    stone = floor(f"medium_bed_mortar {bed}", "stone_tile 1/2 in")
    request = door(RAMPED, pull_side=stone, transition={"piece": "ramped_reducer", "rise": "0 in"})
    assert ("ramp_needed" in asked(request)) is asked_for


# --- what is in conflict


def test_a_header_that_stands_against_a_rule_is_named_and_raising_it_is_a_way_out() -> None:
    # a unit of 81 9/16 in under 81 1/4 in: legs cut by 5/16 in, and no more than 1/2 in may come off a hollow leaf
    advice = advised(door(pull_side=CARPET, push_side=CARPET, rough_opening={"height": "81 1/4 in"}))
    against = {c["rules"][0]: c for c in advice["conflicts"] if "rough_opening" in c["rules"]}
    conflict = against["leaf.carpet.height.accepted"]
    assert conflict["text"].endswith("it conflicts with: “Trim limit, hollow-core leaf”; the present rough opening.")
    # a unit with another undercut would have to stand as high
    assert {way["kind"] for way in conflict["ways_out"]} == {"instead", "raise_header"}
    (shims,) = (c for c in advice["conflicts"] if c["rules"][0] == "head.shim.accepted")
    assert "raise_header" in {way["kind"] for way in shims["ways_out"]}


def test_nobody_is_sent_for_more_undercut_or_a_flatter_piece_where_neither_helps() -> None:
    # under 81 in a leaf of 80 ends 3/16 in above the subfloor with its unit whole; 1/2 in off it, 11/16, under carpet
    # of 15/16; so it does with 2 in of undercut, of which the legs lose what it adds
    low = {"pull_side": CARPET, "push_side": CARPET, "rough_opening": {"height": "81 in"}}
    for undercut in ("1 in", "2 in"):
        advice = advised(door(**low, frame={"undercut": undercut}))
        assert advice["clearance"]["pull_side"]["nominal"]["text"] == "-1/4 in"
        assert "undercut" not in " ".join(way["text"] for c in advice["conflicts"] for way in c["ways_out"])
        # one carpet runs through: there is no piece to choose a flatter one for
        assert "piece" not in " ".join(way["text"] for c in advice["conflicts"] for way in c["ways_out"])
    barred = advised(door(**low | {"push_side": PLANK}, frame={"undercut": "1 in"}))
    assert "Choose a flatter piece." in {way["text"] for c in barred["conflicts"] for way in c["ways_out"]}


def test_a_threshold_too_high_is_not_mended_by_a_bevel_which_it_has() -> None:
    # apartment: 3/4 in of wood beside 1/8 in of vinyl, bevelled 1:2 above 1/4 in: 5/8 in where 1/2 in is the most
    wood, vinyl = floor("solid_wood 3/4 in"), floor("vinyl_tile 1/8 in")
    advice = advised(door(pull_side=wood, push_side=vinyl, building={"use": "apartment"}))
    (conflict,) = [c for c in advice["conflicts"] if c["rules"][0] == "us-ibc-threshold"]
    told = [way["text"] for way in conflict["ways_out"]]
    assert told == ["Lower the threshold, or bring the two finishes closer together."]
    closer = door(pull_side=floor("engineered_wood 5/8 in"), push_side=vinyl, building={"use": "apartment"})
    assert "us-ibc-threshold" not in {c["rules"][0] for c in advised(closer)["conflicts"]}


def test_no_other_undercut_is_spoken_of_where_none_helps() -> None:
    # rated steel between wood 3/4 and vinyl 1/8: 3/4 over the one is 1/8 over the other, whatever the undercut
    rated = {"core": "steel", "fire_minutes": 60}
    sides = {"pull_side": floor("solid_wood 3/4 in"), "push_side": floor("vinyl_tile 1/8 in")}
    advice = advised(door(**sides, leaf=rated, duties=["fire_label"]))
    conflict = next(c for c in advice["conflicts"] if c["rules"][0] == "leaf.hard.accepted")
    assert [way["text"] for way in conflict["ways_out"]] == ["Lay a thinner floor."]


@pytest.mark.parametrize(("wanted", "mended"), [("3/4 in", True), ("13/16 in", False)])
def test_a_thinner_floor_mends_what_is_wanted_as_wide_as_a_label_allows_and_no_wider(
    wanted: str, *, mended: bool
) -> None:
    """NFPA 80: 3/4 in at most below a labelled leaf. The floors as above, 5/8 in apart; of one height, both have it."""
    sides = {"pull_side": floor("solid_wood 3/4 in"), "push_side": floor("vinyl_tile 1/8 in")}
    rated: Wire = {"leaf": {"core": "steel", "fire_minutes": 60}, "duties": ["fire_label"]}
    advice = advised(door(**sides, **rated, project_rules={"hard_floor_clearance": wanted}))
    conflict = next(c for c in advice["conflicts"] if c["rules"][0] == "project.hard_floor_clearance")
    assert conflict["rules"][1] == "us-fire-bottom-gap"
    assert [way["text"] for way in conflict.get("ways_out", [])] == mended * ["Lay a thinner floor."]


def test_legs_that_end_too_high_are_set_no_higher_for_it() -> None:
    """Loop 1/4 in, leaf wanted 1 1/4 in up: of 5/16 in undercut and 1/2 in that a hollow leaf gives, 7/16 in legs."""
    loop = floor(LOOP)
    (conflict,) = advised(door(pull_side=loop, push_side=loop, frame={"undercut": "5/16 in"}))["conflicts"]
    assert conflict["rules"] == ["leg.carpet.pile", "leaf.carpet.height.accepted", "trim.hollow"]
    assert [way.get("rule") for way in conflict["ways_out"] if way["kind"] == "instead"] == ["leg.carpet.pile"]


@pytest.mark.parametrize(("header", "helps"), [("81 1/4 in", False), ("82 in", True)])
def test_no_unit_is_set_again_where_it_can_stand_no_higher(header: str, *, helps: bool) -> None:
    """80 13/16 in and an undercut of 1/4 in: 81 1/16 in, which stands 3/16 in up already. Steel isn't cut."""
    wood = floor("solid_wood 3/4 in")
    frame = {"state": "set", "foot": "3/16 in", "undercut": "1/4 in"}
    request = door(pull_side=wood, push_side=wood, leaf={"core": "steel"}, frame=frame)
    advice = advised(door(request, rough_opening={"height": header}))
    (floors,) = [c for c in advice["conflicts"] if c["rules"] == ["fit.leaf.floor", "as_set"]]
    assert [way["kind"] for way in floors["ways_out"]] == ["instead", *helps * ["set_again"]]


@pytest.mark.parametrize("frame", [{}, {"state": "to_order", "undercut": None}])
def test_nobody_is_sent_to_order_what_misses_rules_too(frame: Wire) -> None:
    # England: 14 mm of wood against 12 mm of tile and a moulding between; 3 mm for smoke, which no undercut leaves open
    sides = {"pull_side": floor("engineered_wood 14 mm"), "push_side": floor("ceramic_tile 12 mm")}
    smoke = door(**sides, jurisdiction="GB-ENG", duties=["smoke_control"], frame={"undercut": "10 mm"})
    assert "still miss rules" in advised(door(smoke, frame=frame))["order"]["why"]
    assert "missed" not in advised(door(smoke, frame=frame, duties=[]))["order"]["why"]


@pytest.mark.parametrize("hall", [PLANK, {}])
def test_a_frame_that_is_set_stands_against_a_rule_on_its_legs_whatever_is_known_of_the_other_floor(
    hall: Wire,
) -> None:
    """Under carpet legs end 1/2 in up at most (common practice, no source); these end 9/16 in up."""
    as_set = {"frame": {"state": "set", "foot": "9/16 in", "undercut": "1 5/8 in"}, "leaf": {"core": "steel"}}
    conflicts = advised(door(pull_side=CARPET, push_side=hall, **as_set))["conflicts"]
    assert ["leg.carpet.foot", "as_set"] in [conflict["rules"] for conflict in conflicts]


def test_no_header_is_raised_for_what_it_does_not_stand_against() -> None:
    # steel isn't cut: the unit is lifted for the carpet, and its leg shows over the vinyl
    advice = advised(door(pull_side=CARPET, push_side=floor("sheet_vinyl 1/8 in"), leaf={"core": "steel"}))
    assert advice["conflicts"]
    kinds = {way["kind"] for c in advice["conflicts"] for way in c["ways_out"] if "rough_opening" not in c["rules"]}
    assert "raise_header" not in kinds


def test_a_setting_chosen_for_floors_that_may_change_is_named_where_it_stands_against_a_rule() -> None:
    # plank four times in five becomes carpet on both sides: the unit stands for that, and its legs show over plank
    may = floor("vinyl_plank 1/4 in") | {"could_become": [CARPET | {"weight": 0.8}]}
    advice = advised(door(pull_side=may, push_side=CARPET, frame={"undercut": "1 in"}))
    texts = {c["rules"][0]: c["text"] for c in advice["conflicts"]}
    assert texts["leg.hard.accepted"].endswith("it conflicts with: the setting for floors that may change.")


def test_a_leg_that_shows_is_told_by_how_much_though_the_gap_is_too_small_for_the_air_as_well() -> None:
    airy: Wire = {"duties": ["transfer_air"], "air": {"supply_flow": "60 cfm", "pressure_limit": "3 Pa"}}
    both = door(pull_side=CARPET, push_side=floor("sheet_vinyl 1/8 in"), leaf={"core": "steel"}, **airy)
    texts = {c["quantity"]: c["text"] for c in advised(both)["conflicts"]}
    assert " is missed by 3/8 in; it conflicts with: " in texts["leg_cover"]
    assert "The gap alone would have to be " in texts["room_pressure"]


@pytest.mark.parametrize(("rated", "against"), [(False, False), (True, True)])
def test_air_that_next_to_no_gap_carries_is_told_the_gap_that_would(rated: bool, against: bool) -> None:
    # 200 cfm below a leaf that is 3/16 in above what lies under it: no orifice passes that at a pressure to be told
    airy: Wire = {"duties": ["transfer_air"], "air": {"supply_flow": "200 cfm", "pressure_limit": "3 Pa"}}
    leaf: Wire = {"core": "steel"} | ({"fire_minutes": 20} if rated else {})
    told = advised(door(pull_side=CARPET, push_side=PLANK, leaf=leaf, frame={"undercut": "1/2 in"}, **airy))
    (text,) = (c["text"] for c in told["conflicts"] if c["rules"][0] == "project.pressure_limit")
    assert f"The gap alone would have to be {told['air']['gap_needed']['text']}" in text
    assert "the gap under the closed leaf is too small" in text
    assert ("it conflicts with: " in text) == against


def test_what_is_forbidden_and_what_has_no_amount_are_told_apart() -> None:
    # the rows us-garage-air (a return through a garage door) and us-garage-leaf (its construction)
    garage = door(pull_side=PLANK, push_side=PLANK, duties=["garage_to_house", "transfer_air"], leaf={"core": "hollow"})
    texts = [c["text"] for c in advised(garage)["conflicts"]]
    assert sum("isn't allowed" in text for text in texts) == 1
    assert sum("isn't met by this opening" in text for text in texts) == 1


@pytest.mark.parametrize(
    ("leaf", "complies"),
    [
        ({"core": "solid", "thickness": "1 3/8 in"}, True),
        ({"core": "solid", "thickness": "1 1/4 in"}, False),
        ({"core": "steel", "thickness": "1 1/4 in"}, False),
        ({"core": "hollow", "thickness": "1 3/4 in"}, False),
        ({"core": "hollow", "thickness": "1 3/8 in", "fire_minutes": 20}, True),
    ],
)
def test_the_leaf_to_a_garage_is_held_to_its_build_and_its_thickness(leaf: Wire, complies: bool) -> None:
    # the row us-garage-leaf: solid, or steel, at least 1 3/8 in thick, or rated 20 minutes
    checks = assessed(door(pull_side=PLANK, push_side=PLANK, duties=["garage_to_house"], leaf=leaf)).checks
    assert [check.status for check in checks if check.rule == "us-garage-leaf"] == ["pass" if complies else "fail"]


@pytest.mark.parametrize(
    ("core", "minutes", "asked", "verdict"),
    [
        ("stile_and_rail", None, "us-garage-panels", "hold"),
        ("stile_and_rail", 19, "us-garage-panels", "hold"),
        ("stile_and_rail", 20, None, "go"),
        ("solid", None, "us-garage-core", "go"),
        ("solid", 20, None, "go"),
        ("steel", None, None, "go"),
    ],
)
def test_what_the_code_leaves_open_of_a_wood_leaf_to_a_garage_is_asked(
    core: str, minutes: int | None, asked: str | None, verdict: str
) -> None:
    # IRC R302.5.1 as quoted: solid wood at least 1 3/8 in thick, or 20 minutes. Panels are thinner than their frame
    # (the row of this core in cores.toml: 85 % of its volume), and a core of particleboard is solid, not solid wood
    leaf: Wire = {"core": core} | ({} if minutes is None else {"fire_minutes": minutes})
    garage = door(pull_side=PLANK, push_side=PLANK, duties=["garage_to_house"], leaf=leaf, frame={"undercut": "5/8 in"})
    garage["answered"] = [{"code": "frame_label", "by": "door supplier"}]  # of one that is rated, and undercut
    told = advised(garage)
    assert {q["code"] for q in told["questions"]} & {"us-garage-panels", "us-garage-core"} == {asked} - {None}
    assert told["verdict"] == verdict


def test_what_construction_asks_is_in_conflict_also_where_nothing_is_moved_for_it() -> None:
    common = tuple(replace(rule, drives=rule.drives and not rule.binding) for rule in catalogue().rules[""])
    held = replace(catalogue(), rules={**catalogue().rules, "": common})
    tile = floor("ceramic_tile 1/2 in")
    steel = door(leaf={"core": "steel"}, frame={"undercut": "0 in", "state": "set", "foot": "0 in"})
    found = assess(read(door(steel, pull_side=tile, push_side=tile)), held)
    assert {check.rule for check in found.checks if check.status == "fail"} == {"trim.steel"}
    assert [conflict.rules for conflict in found.conflicts] == [("trim.steel",)]


def test_floors_of_one_name_are_told_apart_by_their_height() -> None:
    other = {**floor("solid_wood 1/2 in"), "weight": 0.3}
    told = advised(door(pull_side={**floor("solid_wood 3/4 in"), "could_become": [other]}, push_side=PLANK))
    (asked,) = (question["text"] for question in told["questions"] if question["code"] == "floor_may_change")
    assert "Solid wood strip or plank, 3/4 in in all; Solid wood strip or plank, 1/2 in in all?" in asked


def test_a_header_is_left_as_it_is_for_no_conflict_but_its_own() -> None:
    """A leaf of MDF towards a garage is the wrong leaf, with whatever undercut it goes in under 81 3/8 in."""
    tile = floor("ceramic_tile 1/2 in")
    request = door(
        leaf={"core": "mdf"},
        duties=["garage_to_house"],
        frame={"state": "to_order", "undercut": None},
        rough_opening={"height": "81 3/8 in"},
        pull_side=tile,
        push_side=tile,
    )
    ways = {one["rules"][0]: [way["kind"] for way in one["ways_out"]] for one in advised(request)["conflicts"]}
    assert ways["us-garage-leaf"] == ["instead"]
    assert any("cut_leaf" in kinds for kinds in ways.values())


def test_what_nobody_else_decides_is_for_the_superintendent() -> None:
    """Steel, 1/2 in of undercut, a header as low: who runs the site accepts what is left over plank."""
    plank = floor("vinyl_plank 1/4 in")
    request = door(
        leaf={"core": "steel"},
        frame={"undercut": "1/2 in"},
        rough_opening={"height": "81 5/16 in"},
        pull_side=plank,
        push_side=plank,
    )
    decides = {one["rules"][0]: one["decides"] for one in advised(request)["conflicts"]}
    assert decides["leaf.hard.accepted"] == "superintendent"
