"""Transition pieces in the section: each as high as it is told, by a shape of its own, on the right floors.

What each looks like is common practice, no source.
"""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import advised, catalogue, door, floor
from tests.unit.render.test_drawing import CARPET, PLANK, TILE, flat, parsed, units_per_mm

from jambset.render.language import ENGLISH
from jambset.render.profiles import PROFILES, Seat, profile
from jambset.render.section_advice import section
from jambset.render.shapes import HEAVY, MEDIUM, PALE, PAPER, Stroke
from jambset.render.svg import svg_of

LOOP, WOOD, ENGINEERED = ("carpet_loop 1/4 in",), ("solid_wood 3/4 in",), ("engineered_wood 1/2 in",)
FLOORS = {
    "t_moulding": (("engineered_wood 5/16 in",), PLANK),
    "t_moulding_low": (ENGINEERED, ("ceramic_tile 3/8 in",)),
    "flush_insert": (ENGINEERED, ("laminate 1/2 in",)),
    "reducer": (ENGINEERED, PLANK),
    "reducer_overlap": (TILE, PLANK),
    "saddle": (TILE, WOOD),
    "ramped_reducer": (WOOD, PLANK),
    "tuck_edge_hard": (ENGINEERED, LOOP),
    "tuck_edge": (LOOP, ("sheet_vinyl 1/8 in",)),
    "tuck_edge_full": (CARPET, ENGINEERED),
    "end_cap": (WOOD, LOOP),
    "tapered_pad": (WOOD, LOOP),
    "tapered_pad_cap": (WOOD, LOOP),
    "carpet_bar": (CARPET, PLANK),
    "carpet_ramp": (CARPET, PLANK),
    "carpet_ramp_cap": (CARPET, PLANK),
    "seam": (CARPET, CARPET),
    "seam_tapered": (CARPET, LOOP),
}
"""The two floors that each is drawn between, one of those it is made for."""
BOTH_WAYS = [(piece, turned) for piece in FLOORS for turned in (False, True)]


class Cut:
    """What a section shows of a piece, measured back: across from the joint to the push side, up above the subfloor."""

    def __init__(self, piece: str, *, turned: bool) -> None:
        pull, push = FLOORS[piece][:: -1 if turned else 1]
        fitted = {"pull_side": floor(*pull), "push_side": floor(*push), "transition": {"piece": piece}}
        self.advice: Any = advised(door(frame={"undercut": "1 1/2 in"}, **fitted))
        drawing = section(self.advice, ENGLISH)
        per_mm = units_per_mm(parsed(svg_of(drawing, language="en").encode()))
        strokes = [shape for shape in flat(drawing.shapes) if isinstance(shape, Stroke)]
        (subfloor,) = [one.lines[0][0][1] for one in strokes if one.weight == HEAVY and not one.closed]
        (leaf,) = [one.lines[0] for one in strokes if one.weight == HEAVY and one.closed]
        face, other = leaf[0][0], leaf[1][0]
        joint = face + self.mm("transition", "joint_from_pull_face") * (other - face) / self.mm(
            "taken", "leaf_thickness"
        )
        self.parts = [
            [(x - joint, (subfloor - y) / per_mm) for x, y in one.lines[0]] for one in strokes if one.fill == PALE
        ]
        boxes = [
            one.lines[0] for one in strokes if one.fill == PAPER and one.weight == MEDIUM and len(one.lines[0]) == 4
        ]
        self.boxes = [sorted({x - joint for x, _ in box}) for box in boxes]

    def mm(self, *path: str) -> float:
        """A length of the advice."""
        at = self.advice
        for name in path:
            at = at[name]
        return float(at["mm"])

    @property
    def higher_floor(self) -> float:
        """Height of the higher finish."""
        return max(self.mm("taken", side, "top") for side in ("pull_side", "push_side"))

    @property
    def top(self) -> float:
        """Height of the highest point of the piece."""
        return max(up for part in self.parts for _, up in part)


def test_every_piece_of_the_catalogue_is_drawn_by_a_profile_of_its_own() -> None:
    assert set(PROFILES) == {piece.id for piece in catalogue().pieces}
    assert set(FLOORS) | {"run_through", "run_through_carpet"} == set(PROFILES)


@pytest.mark.parametrize(("piece", "turned"), BOTH_WAYS)
def test_a_piece_is_drawn_as_high_as_it_is_told(piece: str, turned: bool) -> None:
    cut = Cut(piece, turned=turned)
    told = cut.mm("transition", "top")
    assert cut.parts
    if cut.mm("transition", "rise"):
        assert told > cut.higher_floor
        assert cut.top == pytest.approx(told, abs=0.01)
    else:
        assert cut.top <= told + 0.01


@pytest.mark.parametrize("piece", ["flush_insert", "reducer", "ramped_reducer"])
def test_a_flush_piece_between_hard_floors_reaches_the_higher_one(piece: str) -> None:
    cut = Cut(piece, turned=False)
    assert cut.top == pytest.approx(cut.higher_floor, abs=0.01)


@pytest.mark.parametrize("turned", [False, True])
def test_a_t_moulding_rests_on_both_floors_and_its_stem_hangs_between_them(turned: bool) -> None:
    """Plank of 1/4 in beside wood of 5/16 in."""
    cut = Cut("t_moulding", turned=turned)
    (outline,) = cut.parts
    tops = {side: cut.mm("taken", side, "top") for side in ("pull_side", "push_side")}
    ends = {
        side: [up for across, up in outline if (across < -10) == (side == "pull_side") and abs(across) > 10]
        for side in tops
    }
    assert {side: round(min(ups), 2) for side, ups in ends.items()} == {
        side: round(top, 2) for side, top in tops.items()
    }
    stem = [across for across, up in outline if up < min(tops.values()) - 0.5]
    assert 0 < min(up for _, up in outline) < min(tops.values())
    assert max(map(abs, stem)) < 5
    spaces = [across for box in cut.boxes for across in box if abs(across) < 15]
    assert min(map(abs, spaces)) > max(map(abs, stem))


@pytest.mark.parametrize("piece", ["tuck_edge", "tuck_edge_hard", "tuck_edge_full", "tapered_pad", "carpet_ramp"])
def test_a_carpet_is_turned_down_or_sloped_on_its_own_side(piece: str) -> None:
    for turned in (False, True):
        cut = Cut(piece, turned=turned)
        soft = [cut.advice["taken"][side]["layers"][-1]["body"] == "textile" for side in ("pull_side", "push_side")]
        assert sorted(soft) == [False, True]
        across = sum(x for part in cut.parts for x, _ in part)
        assert (across < 0) == soft[0]


def test_a_carpet_bar_holds_the_carpet_in_its_mouth() -> None:
    """Its back lies over the carpet's edge, its base below it; between them it is open."""
    cut = Cut("carpet_bar", turned=False)
    (outline,) = cut.parts
    over_carpet = sorted(up for across, up in outline if across < -1)
    carpet = cut.mm("taken", "pull_side", "top")
    assert [up for up in over_carpet if 2 < up < carpet - 0.01] == []
    assert over_carpet[0] == pytest.approx(0, abs=0.01)
    assert over_carpet[-1] > carpet


def test_no_two_kinds_of_piece_look_alike() -> None:
    seat = Seat(near=12.7, far=6.35, top=15.9, bed=0, skin=6.35, fine=0.25)
    alike: dict[Any, list[str]] = {}
    for name in PROFILES:
        alike.setdefault(profile(name, seat), []).append(name)
    assert sorted(names for names in alike.values() if len(names) > 1) == [
        ["run_through", "run_through_carpet"],
        ["t_moulding", "t_moulding_low"],
        ["tapered_pad", "carpet_ramp", "seam_tapered"],
        ["tuck_edge_hard", "tuck_edge", "tuck_edge_full"],
    ]


def test_a_floor_that_runs_through_is_drawn_without_a_joint() -> None:
    cut = section(advised(door(pull_side=floor(*TILE), push_side=floor(*TILE))), ENGLISH)
    strokes = [shape for shape in flat(cut.shapes) if isinstance(shape, Stroke)]
    (subfloor,) = [one.lines[0] for one in strokes if one.weight == HEAVY and not one.closed]
    layers = [one.lines[0] for one in strokes if one.fill == PAPER and one.weight == MEDIUM and len(one.lines[0]) == 4]
    ends = {(min(x for x, _ in box), max(x for x, _ in box)) for box in layers}
    assert len(layers) == len(TILE)
    assert ends == {(subfloor[0][0], subfloor[1][0])}


def test_what_a_carpet_lies_on_runs_to_the_joint() -> None:
    """A panel below cushion and carpet isn't cut back for the pad, which lies on it."""
    panel = ("plywood_underlay 1/4 in", *CARPET)
    sloped = door(pull_side=floor(*panel), push_side=floor(*PLANK), transition={"piece": "carpet_ramp"})
    cut = section(advised(sloped), ENGLISH)
    strokes = [shape for shape in flat(cut.shapes) if isinstance(shape, Stroke)]
    boxes = [one.lines[0] for one in strokes if one.fill == PAPER and one.weight == MEDIUM and len(one.lines[0]) == 4]
    below, cushion, carpet, plank = (max(x for x, _ in box) for box in boxes[:4])
    assert cushion == carpet < below == min(x for x, _ in boxes[3]) < plank
