"""Which piece joins two floors, how high it stands, how its edge is eased, and what is asked about it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest
from msgspec import UNSET
from msgspec.structs import replace
from tests.openings import Wire, advised, assessed, catalogue, door, floor, judged, read, ticks

from jambset.engine.assess import prepare, settle_opening
from jambset.engine.facts import grid_of
from jambset.engine.transition import advise
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


# --- what is upright, what is bevelled


def inches(text: str) -> list[Fraction]:
    """The lengths in inches that a sentence tells, in its order."""
    found = re.findall(r"(?:(\d+) )?(\d+)(?:/(\d+))? in\b", text)
    return [int(whole or 0) + Fraction(int(part), int(of or 1)) for whole, part, of in found]


def note_of(request: Wire, language: Language) -> str:
    advice = assessed(request)
    assert advice.transition is not UNSET
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


def test_where_nothing_may_stand_upright_the_whole_change_is_bevelled() -> None:
    settled = settle_opening(prepare(read(threshold(Fraction(3, 8))), catalogue()), catalogue())
    assert settled.at.joint is not None
    whole = Bevel(kind="bevel", rise=Length(3 * INCH // 8), run=Length(3 * INCH // 4))
    joint = replace(settled.at.joint, vertical=0, bevel=whole)
    note = writer(settled.at.facts.grid).sentence(advise(joint, settled.at.facts, governed_by=()).note)
    assert note.endswith(": bevel the whole 3/8 in change in level over a length of at least 3/4 in.")
