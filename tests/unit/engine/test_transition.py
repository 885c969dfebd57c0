"""Which piece joins two floors, how high it stands, how its edge is eased, and what is asked about it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest
from msgspec import UNSET
from msgspec.structs import replace
from tests.openings import Wire, advised, assessed, catalogue, door, floor, judged, layer, read, ticks

from jambset.engine.assess import prepare, settle_opening
from jambset.engine.facts import grid_of
from jambset.engine.transition import advise, other_pieces
from jambset.model.advice import Bevel
from jambset.quantity.ticks import INCH, Length
from jambset.render.encode import writer
from jambset.render.language import LANGUAGES, Language

TILE, CARPET = floor("ceramic_tile 1/2 in"), floor("carpet 1/2 in")


def test_a_piece_is_held_to_what_it_usually_stands_above_the_floor() -> None:
    # saddles stand 1/8 to 5/8 in above, mostly 1/4; 2010 ADA Standards 404.2.5 allow a new threshold 1/2 in
    found = judged(door(pull_side=TILE, push_side=TILE, transition={"piece": "saddle"}, duties=["accessible_route"]))
    threshold = found.check("us-ada-threshold")
    assert (threshold.actual, threshold.status) == (ticks("1/4 in"), "pass")
    assert found.check("us-ada-vertical-edge").actual == ticks("1/4 in")
    assert [found.check(rule).actual for rule in ("us-ada-bevel", "us-ada-ramp")] == [0, 0]  # upright, 1/4 in


@pytest.mark.parametrize(("pull", "push"), [(TILE, CARPET), (CARPET, TILE)])
def test_of_two_level_floors_either_may_count_as_the_higher(pull: dict[str, object], push: dict[str, object]) -> None:
    told = advised(door(pull_side=pull, push_side=push, frame={"undercut": "1 1/2 in"}))["transition"]
    assert (told["piece"], told["step"]["in"]) == ("tuck_edge_hard", 0)


@pytest.mark.parametrize(
    ("pull", "push", "piece"),
    [
        (("engineered_wood 3/4 in",), ("plywood_underlay 1/4 in", "engineered_wood 1/2 in"), "t_moulding"),
        (
            ("thin_bed_mortar 3/16 in", "ceramic_tile 3/8 in"),
            ("thin_bed_mortar 1/4 in", "ceramic_tile 5/16 in"),
            "t_moulding",
        ),
        (
            ("heating_mat 3/16 in", "ceramic_tile 3/8 in"),
            ("thin_bed_mortar 3/16 in", "ceramic_tile 3/8 in"),
            "run_through",
        ),
        (
            ("carpet_cushion 7/16 in", "carpet 1/2 in"),
            ("plywood_underlay 1/16 in", "cushion_fibre 3/8 in", "carpet 1/2 in"),
            "run_through_carpet",
        ),
    ],
)
def test_one_floor_runs_through_only_where_its_finish_is_as_thick(
    pull: tuple[str, ...], push: tuple[str, ...], piece: str
) -> None:
    """Boards of two thicknesses that lie level are two floors; what they lie on makes no difference."""
    request = door(pull_side=floor(*pull), push_side=floor(*push), frame={"undercut": "1 1/2 in"})
    assert advised(request)["transition"]["piece"] == piece


# --- a piece in place of the usual one


def joint(wood: str, **changes: Any) -> Any:
    """What joins wood to floating plank of 1/4 in below a labelled leaf, which ends 1 in up at most: NFPA 80, 4.8.4.

    Usual is an overlap reducer, which stands up to 1/4 in above the wood; another is ramped and level with it. 1/8 in
    over either is accepted (common practice, no source).
    """
    rated: Wire = {"leaf": {"core": "solid", "fire_minutes": 20}, "frame": {"undercut": "1 in"}}
    sides = {"pull_side": floor(f"solid_wood {wood}"), "push_side": floor("vinyl_plank 1/4 in")}
    return advised(door(**sides, **{**rated, **changes}))["transition"]


def test_the_usual_piece_lies_where_a_labelled_leaf_passes_it_within_its_gap() -> None:
    # 5/8 + 1/4 + 1/8 in are the inch that the leaf may end up
    told = joint("5/8 in")
    assert (told["piece"], told.get("instead_of"), told["governed_by"]) == ("reducer_overlap", None, [])


def test_another_piece_lies_where_the_usual_one_would_lift_a_labelled_leaf_too_far() -> None:
    told = joint("11/16 in")
    assert (told["piece"], told["instead_of"]) == ("ramped_reducer", "reducer_overlap")
    assert told["governed_by"] == ["us-fire-bottom-gap"]
    assert told["note"] == (
        "Ramped reducer over a step of 7/16 in. It takes the place of the usual piece here (Overlap reducer): with "
        "room for the leaf to close over that one, its gap would be wider than allowed by “Gap under a fire door”."
    )


@pytest.mark.parametrize(
    "spared",
    [
        {"leaf": {"core": "solid"}},
        {"transition": {"piece": "reducer_overlap"}},
        {"transition": {"rise": "1/4 in"}},
        {"jurisdiction": "GB-ENG"},  # Approved Document B limits the gap of smoke doors alone
    ],
    ids=["unlabelled", "named", "rise", "england"],
)
def test_the_usual_piece_lies_where_no_rule_on_the_gap_is_in_force_or_the_caller_says_so(spared: Wire) -> None:
    told = joint("11/16 in", **spared)
    assert (told["piece"], told.get("instead_of")) == ("reducer_overlap", None)


def test_a_higher_subfloor_under_the_leaf_takes_room_from_the_piece_too() -> None:
    # the leaf ends an inch above the lower end of the subfloor, 1/16 in below 5/8 + 1/4 + 1/8 above the higher
    sloping = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/16 in"}
    assert joint("5/8 in", subfloor=sloping)["instead_of"] == "reducer_overlap"
    assert "instead_of" not in joint("9/16 in", subfloor=sloping)


def test_a_projects_own_greatest_gap_is_kept_by_another_piece_too() -> None:
    # 1/2 + 1/4 in is 1/2 in above the plank already
    told = joint("1/2 in", leaf={"core": "solid"}, project_rules={"greatest_gap": "1/2 in"})
    assert (told["piece"], told["governed_by"]) == ("ramped_reducer", ["project.greatest_gap"])


def test_no_other_piece_lies_there_for_a_wish() -> None:
    # 1/8 in is left over the usual one within the project's gap, where 1/4 in is wished for
    told = joint("5/8 in", leaf={"core": "solid", "fire_minutes": None}, project_rules={"greatest_gap": "3/4 in"})
    assert (told["piece"], told.get("instead_of")) == ("reducer_overlap", None)


@pytest.mark.parametrize(
    ("sides", "others"),
    [
        (("solid_wood 3/4 in", "vinyl_plank 1/4 in"), ["saddle", "ramped_reducer"]),
        (("solid_wood 3/4 in", "carpet 1/2 in"), ["end_cap", "tapered_pad"]),  # of hard floor above carpet alone
        (
            ("ceramic_tile 1/2 in", "carpet 1/2 in"),
            ["end_cap", "tapered_pad", "tuck_edge", "carpet_bar", "carpet_ramp"],
        ),
        (("ceramic_tile 1/2 in", "ceramic_tile 1/2 in"), ["t_moulding", "flush_insert", "t_moulding_low", "saddle"]),
    ],
    ids=["hard", "hard-higher", "level", "same"],
)
def test_other_pieces_are_those_of_the_catalogue_for_these_floors(sides: tuple[str, str], others: list[str]) -> None:
    """As the rows of pieces.toml have them; common practice, no source."""
    assert others_of(sides) == others


def test_nothing_is_no_other_piece_and_on_an_accessible_route_they_are_eased() -> None:
    same = ("ceramic_tile 1/2 in", "ceramic_tile 1/2 in")
    assert others_of(same, transition={"piece": "saddle"}) == ["t_moulding", "flush_insert", "t_moulding_low"]
    assert others_of(same, duties=["accessible_route"]) == ["flush_insert", "t_moulding_low"]
    assert others_of(("solid_wood 3/4 in", "vinyl_plank 1/4 in"), duties=["accessible_route"]) == []


def others_of(sides: tuple[str, str], **changes: Any) -> list[str]:
    pull, push = (floor(side) for side in sides)
    found = settle_opening(prepare(read(door(pull_side=pull, push_side=push, **changes)), catalogue()), catalogue()).at
    assert found.joint is not None
    return [piece.id for piece in other_pieces(found.joint, found.regime, catalogue())]


def test_where_no_piece_keeps_every_rule_the_one_that_costs_fewest_lies_there() -> None:
    # over 15/16 in the leaf closes within an inch, 1/16 in short of what is accepted; over 1 1/16 in it can't
    assert joint("15/16 in")["instead_of"] == "saddle"
    told = joint("1 1/16 in")
    assert (told["piece"], told.get("instead_of")) == ("ramped_reducer", None)


def test_floors_that_may_come_are_joined_by_a_piece_that_costs_no_rule_too() -> None:
    """Wood of 3/4 in that may come leaves 1/4 in below a leaf 1 in up, over it and the piece, of 3/8 in over floors."""
    plank, wood = floor("vinyl_plank 1/4 in"), floor("solid_wood 3/4 in")
    rated: Wire = {"leaf": {"core": "solid", "fire_minutes": 20}, "frame": {"undercut": "15/16 in"}}
    _, may = advised(door(pull_side={**plank, "could_become": [wood]}, push_side=plank, **rated))["scenarios"]
    assert may["outcome"] == "Not met by any setting: “Leaf over a hard finish, accepted”."


SOLID = [floor(f"solid_wood {inches} in") for inches in ("3/8", "9/16", "11/16", "13/16", "1")]
LAID = [floor(layer("vinyl_plank 1/4 in", fixing=fixing)) for fixing in ("glued", "floating")]
SOFT = [floor("carpet_cushion 3/8 in", "carpet 1/2 in"), floor("carpet_loop 1/4 in")]
OVER = {"fit.leaf.piece", "leaf.piece.accepted", "fit.leaf.floor"}
"""On the room over a piece; over the floor itself too, which a piece level with it lets count in place of its own."""


def lost_below_the_leaf(request: Wire) -> int:
    """How many rules on the room below a labelled leaf are lost to that on its gap, or cost it."""
    rules = [set(conflict["rules"]) for conflict in advised(request)["conflicts"]]
    return sum("us-fire-bottom-gap" in named and not OVER.isdisjoint(named) for named in rules)


@pytest.mark.parametrize("strike", ["0 in", "1/8 in"])
@pytest.mark.parametrize("pull", [*SOLID, *LAID, *SOFT])
def test_no_other_piece_costs_fewer_rules_than_the_one_that_is_chosen(pull: Wire, strike: str) -> None:
    rated: Wire = {"leaf": {"core": "solid", "fire_minutes": 20}, "frame": {"undercut": "3/4 in"}}
    for push in (*SOLID, *LAID, *SOFT):
        subfloor = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": strike}
        request = door(pull_side=pull, push_side=push, subfloor=subfloor, **rated)
        found = settle_opening(prepare(read(request), catalogue()), catalogue()).at
        assert found.joint is not None
        chosen = lost_below_the_leaf(request)
        lost = [
            lost_below_the_leaf({**request, "transition": {"piece": piece.id}})
            for piece in other_pieces(found.joint, found.regime, catalogue())
        ]
        assert all(chosen <= other for other in lost)
        assert not found.joint.spared or chosen < lost_below_the_leaf(
            {**request, "transition": {"piece": found.joint.usual.id}}
        )


# --- what is upright, what is bevelled


def inches(text: str) -> list[Fraction]:
    """The lengths in inches that a sentence tells, in its order."""
    found = re.findall(r"(?:(\d+) )?(\d+)(?:/(\d+))? in\b", text)
    return [int(whole or 0) + Fraction(int(part), int(of or 1)) for whole, part, of in found]


def note_of(request: Wire, language: Language) -> str:
    advice = assessed(request)
    assert advice.transition is not UNSET
    assert advice.transition.note is not UNSET
    return writer(grid_of(read(request), catalogue()), language).sentence(advice.transition.note)


def threshold(height: Fraction, **changes: Any) -> Wire:
    """A saddle of this height [in] between two floors of one thickness, on an accessible route."""
    piece = {"piece": "saddle", "rise": f"{height.numerator}/{height.denominator} in"}
    return door(pull_side=TILE, push_side=TILE, transition=piece, duties=["accessible_route"], **changes)


@pytest.mark.parametrize("language", LANGUAGES.values(), ids=LANGUAGES)
@pytest.mark.parametrize("height", [Fraction(n, 64) for n in range(17, 33)], ids=str)
def test_a_bevel_is_told_as_the_standard_has_it(height: Fraction, language: Language) -> None:
    # 2010 ADA Standards 303.2, 303.3: 1/4 in may stand upright, the rest up to 1/2 in is no steeper than 1:2
    change, upright, upper, length = inches(note_of(threshold(height), language))
    assert (change, upright, upper) == (height, Fraction(1, 4), height - Fraction(1, 4))
    assert length == 2 * upper


def test_a_slope_is_checked_as_it_is_told() -> None:
    # 303.3: 1:2 above 1/4 in; 405.2: 1:12, for 9/16 in of wood beside plank
    bevelled = judged(threshold(Fraction(3, 8)))
    assert [bevelled.check(rule).actual for rule in ("us-ada-bevel", "us-ada-ramp")] == [0.5, 0]
    wood, plank = floor("solid_wood 3/4 in"), floor("vinyl_plank 3/16 in")
    ramped = judged(door(pull_side=wood, push_side=plank, duties=["accessible_route"]))
    assert [ramped.check(rule).actual for rule in ("us-ada-bevel", "us-ada-ramp")] == [0, pytest.approx(1 / 12)]


def test_a_bevel_of_an_existing_threshold_is_longer_still() -> None:
    # 404.2.5: 3/4 in; above 1/4 in it is bevelled 1:2 (A117.1 404.2.4), so 1/2 in over 1 in
    note = note_of(threshold(Fraction(3, 4), building={"existing_threshold": True}), LANGUAGES["en"])
    assert inches(note) == [Fraction(3, 4), Fraction(1, 4), Fraction(1, 2), Fraction(1)]


def test_the_installer_of_a_step_is_told_the_upper_part() -> None:
    # 1/4 mortar and 1/2 stone beside 1/4 plank: a step of 1/2 in, of which the upper 1/4 runs out over 1/2 in
    stone, plank = floor("medium_bed_mortar 1/4 in", "stone_tile 1/2 in"), floor("vinyl_plank 1/4 in")
    piece = advised(door(pull_side=stone, push_side=plank, duties=["accessible_route"]))["transition"]
    assert {name: piece["bevel"][name]["text"] for name in ("upright", "rise", "run")} == {
        "upright": "1/4 in",
        "rise": "1/4 in",
        "run": "1/2 in",
    }
    assert piece["note"].endswith(
        ": of the 1/2 in change in level 1/4 in may stand upright; bevel the upper 1/4 in over a length of at least "
        "1/2 in."
    )


@pytest.mark.parametrize(
    ("language", "ends"), [("en", "no rule here says how steep."), ("es", "no lo dice aquí ninguna regla.")]
)
def test_a_bevel_has_no_length_where_no_rule_says_how_steep_it_may_be(language: str, ends: str) -> None:
    # Approved Document M (2015), accessible threshold, as quoted: over 5 mm is chamfered, and how is not said
    tile, bare = floor("ceramic_tile 8 mm"), floor("sealed_concrete 0 in")
    place: Wire = {"jurisdiction": "GB-ENG", "grid": "1 mm", "duties": ["accessible_route"]}
    request = door(pull_side=tile, push_side=bare, transition={"rise": "2 mm"}, **place)
    piece = advised(request)["transition"]
    assert {name: value if name == "kind" else value["text"] for name, value in piece["bevel"].items()} == {
        "kind": "bevel",
        "upright": "5 mm",
        "rise": "5 mm",
    }
    note = note_of(request, LANGUAGES[language])
    assert note.endswith(ends)


def test_where_nothing_may_stand_upright_the_whole_change_is_bevelled() -> None:
    settled = settle_opening(prepare(read(threshold(Fraction(3, 8))), catalogue()), catalogue())
    assert settled.at.joint is not None
    whole = Bevel(kind="bevel", rise=Length(3 * INCH // 8), run=Length(3 * INCH // 4))
    joint = replace(settled.at.joint, vertical=0, bevel=whole)
    told = advise(joint, settled.at.facts, governed_by=()).note
    assert told is not UNSET
    note = writer(settled.at.facts.grid).sentence(told)
    assert note.endswith(": bevel the whole 3/8 in change in level over a length of at least 3/4 in.")


# --- what is fitted where somebody says so

WOOD, LAMINATE = (
    floor("solid_wood 3/4 in"),
    floor({"material": "laminate", "thickness": "3/8 in", "fixing": "floating"}),
)


def test_a_rise_that_is_stated_is_that_of_a_piece_which_is_fitted_though_one_floor_runs_through() -> None:
    # of what joins two level floors only a saddle stands anywhere near 3/4 in above them
    advice = advised(door(pull_side=WOOD, push_side=WOOD, transition={"rise": "3/4 in"}, frame={"undercut": "2 in"}))
    assert (advice["transition"]["piece"], advice["transition"]["rise"]["text"]) == ("saddle", "3/4 in")
    assert "D01.fit-piece" in [task["key"] for task in advice["tasks"]]


def test_a_rise_of_nothing_is_no_piece() -> None:
    advice = advised(door(pull_side=WOOD, push_side=WOOD, transition={"rise": "0 in"}))
    assert advice["transition"]["piece"] == "run_through"
    assert "D01.fit-piece" not in [task["key"] for task in advice["tasks"]]


@pytest.mark.parametrize(
    ("pull", "push", "rise", "duties", "piece"),
    [
        (WOOD, WOOD, "1/16 in", [], "flush_insert"),  # 0 to 1/16 in above
        (WOOD, floor("ceramic_tile 3/4 in"), "0 in", [], "flush_insert"),  # a T-moulding is never flush
        (floor("carpet 7/8 in"), floor("cork 1/4 in"), "0 in", [], "carpet_ramp"),  # a bar stands 1/8 in above
        (WOOD, WOOD, "3/16 in", [], "t_moulding"),  # 1/8 to 1/4 in
        (WOOD, WOOD, "1/4 in", [], "t_moulding"),  # its very end, though a saddle is made lower and higher
        (WOOD, WOOD, "1/8 in", ["accessible_route"], "t_moulding_low"),  # the low one, where both are 1/8 in high
        (LAMINATE, LAMINATE, "1/16 in", [], "t_moulding"),  # no insert beside a floating floor
        (CARPET, CARPET, "1/8 in", [], "seam"),  # nothing else joins two level carpets
        (TILE, floor("vinyl_plank 1/4 in"), "1/2 in", [], "saddle"),  # a reducer is flush, or 3/16 to 1/4 in above
    ],
)
def test_the_piece_is_the_one_whose_rises_are_nearest(
    pull: Wire, push: Wire, rise: str, duties: list[str], piece: str
) -> None:
    request = door(pull_side=pull, push_side=push, transition={"rise": rise}, duties=duties, frame={"undercut": "2 in"})
    assert advised(request)["transition"]["piece"] == piece


def questions(request: Wire) -> list[Any]:
    return [q for q in advised(request)["questions"] if q["code"] == "piece_unsuited"]


@pytest.mark.parametrize(
    ("piece", "pull", "push", "says"),
    [
        (
            "carpet_bar",
            TILE,
            TILE,
            "it doesn't join Ceramic or porcelain tile and Ceramic or porcelain tile.",
        ),  # carpet to a hard floor
        (
            "run_through",
            TILE,
            floor("vinyl_plank 1/4 in"),
            "it doesn't join Ceramic or porcelain tile and ",
        ),  # two floors
        (
            "tuck_edge",
            TILE,
            floor("carpet 1/4 in"),
            "it doesn't join Ceramic or porcelain tile and ",
        ),  # the carpet lies lower
        ("t_moulding", TILE, floor("ceramic_tile 1/4 in"), "it doesn't take a step of 1/4 in between "),  # to 1/8
        ("reducer", TILE, LAMINATE, "it doesn't go with a floating floor, and Ceramic or porcelain tile or "),
    ],
)
def test_a_named_piece_that_is_not_for_these_floors_is_asked_about_and_fitted_all_the_same(
    piece: str, pull: Wire, push: Wire, says: str
) -> None:
    request = door(pull_side=pull, push_side=push, transition={"piece": piece}, frame={"undercut": "2 in"})
    (question,) = questions(request)
    assert says in question["text"]
    assert question["text"].endswith("Which piece will be fitted?")
    assert question["ask"] == "flooring_installer"
    assert (question["pointer"], question["holds"]) == ("#/transition/piece", ["transition"])
    advice = advised(request)
    assert question["text"].startswith(f"{advice['transition']['title']}: ")
    assert (advice["transition"]["piece"], advice["verdict"]) == (piece, "go")
    (fit,) = [task for task in advice["tasks"] if task["key"] == "D01.fit-piece"]
    assert (fit["hold"], fit["questions"]) == (True, ["piece_unsuited"])


@pytest.mark.parametrize(
    ("piece", "rise", "asked"),
    [
        ("t_moulding", "1/2 in", False),
        ("t_moulding", "9/16 in", True),
        ("saddle", "7/8 in", False),
        (None, "1 in", True),
    ],
)
def test_a_rise_far_from_those_of_its_piece_is_asked_about(piece: str | None, rise: str, *, asked: bool) -> None:
    """A T-moulding stands 1/4 in high at most, a saddle 5/8; from 1/4 in beyond on it is more likely another piece."""
    named = {"rise": rise} if piece is None else {"piece": piece, "rise": rise}
    found = questions(door(pull_side=TILE, push_side=TILE, transition=named, frame={"undercut": "2 in"}))
    assert [f"stand {rise} above the floor" in question["text"] for question in found] == asked * [True]


def test_no_piece_and_a_rise_contradict_each_other() -> None:
    named = door(pull_side=TILE, push_side=TILE, transition={"piece": "run_through", "rise": "1/4 in"})
    (question,) = questions(named)
    assert "is said to stand 1/4 in above the floor" in question["text"]
    assert "D01.fit-piece" in [task["key"] for task in advised(named)["tasks"]]


@pytest.mark.parametrize(
    ("piece", "pull", "push"),
    [
        (None, TILE, floor("vinyl_plank 1/4 in")),
        ("run_through", TILE, TILE),
        ("t_moulding", LAMINATE, LAMINATE),  # a break in one floor
        ("tuck_edge", TILE, CARPET),  # of two level floors either is the higher
        ("t_moulding", TILE, floor("ceramic_tile 3/8 in")),  # a step of 1/8 in is within it
        ("tapered_pad_cap", TILE, floor("carpet 1/4 in")),  # a cap that no floating floor needs does no harm
    ],
)
def test_a_piece_for_these_floors_is_not_asked_about(piece: str | None, pull: Wire, push: Wire) -> None:
    named = {"transition": {"piece": piece}} if piece else {}
    assert questions(door(pull_side=pull, push_side=push, frame={"undercut": "2 in"}, **named)) == []


LOOP = floor("carpet 1/4 in")


def test_a_projects_room_over_a_piece_is_no_rule_where_none_is_fitted() -> None:
    # 14 mm of wood that runs through, 8 mm above it: nothing lies there that the 15 mm would be over
    wood, project = floor("engineered_wood 14 mm"), {"hard_floor_clearance": "8 mm", "piece_clearance": "15 mm"}
    one = door(pull_side=wood, push_side=wood, project_rules=project, grid="1 mm", frame={"undercut": "6 mm"})
    told = advised(one)
    assert told["leaf"]["bottom"]["mm"] == 14 + 8
    statuses = {check["rule"]: check["status"] for check in told["checks"]}
    assert statuses["project.piece_clearance"] == "not_checked"
    assert statuses["fit.leaf.piece"] == "pass"
    fitted = judged(door(one, push_side=floor("ceramic_tile 14 mm")), trim="1/2 in")
    assert fitted.status("project.piece_clearance") == "relaxed"


@pytest.mark.parametrize(
    ("pull", "push", "code"),
    [
        (floor("ceramic_tile 3/8 in"), floor("ceramic_tile 3/8 in"), None),
        (LOOP, LOOP, None),
        (floor("laminate 3/8 in"), floor("laminate 3/8 in"), "transition.floating"),
        (floor("ceramic_tile 3/8 in"), floor("solid_wood 3/8 in"), "transition.plain"),
    ],
)
def test_of_one_floor_that_runs_through_nothing_is_told_but_that_it_floats(
    pull: Wire, push: Wire, code: str | None
) -> None:
    told = assessed(door(pull_side=pull, push_side=push)).transition
    assert told is not UNSET
    assert (None if told.note is UNSET else told.note.code) == code


def test_a_change_in_level_that_is_neither_bevelled_nor_ramped_is_read_as_it_stands() -> None:
    # 2010 ADA Standards 303.4: 1/2 in without a ramp at most; 3/4 in of wood beside 1/8 in of vinyl is 5/8 in
    request = door(
        pull_side=floor("solid_wood 3/4 in"), push_side=floor("vinyl_tile 1/8 in"), duties=["accessible_route"]
    )
    check = judged(request, edge=("5/8 in", None)).check("us-ada-unramped")
    assert (check.actual, check.status) == (ticks("5/8 in"), "fail")
    slope = Bevel(kind="ramp", rise=Length(ticks("5/8 in")), run=Length(ticks("7 1/2 in")))
    check = judged(request, edge=("0 in", slope)).check("us-ada-unramped")
    assert (check.actual, check.status) == (0, "pass")


def test_a_leg_on_the_subfloor_is_too_high_for_no_floor_however_thin() -> None:
    # practice wants legs 1/4 in below the pile; a loop of 3/16 in on the subfloor leaves them no lower place
    thin = floor("carpet_loop 3/16 in")
    request = door(pull_side=thin, push_side=thin)
    assert [judged(request, foot=foot).status("leg.carpet.pile", "pull_side") for foot in ("0 in", "1/16 in")] == [
        "not_checked",
        "relaxed",
    ]
