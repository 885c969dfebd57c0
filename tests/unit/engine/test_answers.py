"""Questions answered by somebody's word: what that lets go on, what is told of it, what is refused."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import UNSET
from tests.openings import Wire, advised, assessed, catalogue, door, floor, read
from tests.rechecks import rechecked
from tests.unit.engine.test_other_unit import labelled
from tests.unit.engine.test_recheck import was_set

from jambset.engine.answers import BY_WORD, answerable
from jambset.engine.assess import assess
from jambset.errors import InvalidRequest

PLANK = floor("vinyl_plank 1/4 in")
RATED: Wire = {"leaf": {"core": "solid", "fire_minutes": 20}, "frame": {"undercut": "1/4 in"}}
LETTER = "the door supplier, letter of 3 May"


def rated(*codes: str, **changes: Any) -> Wire:
    """A labelled leaf that has to be cut for the floors, and what was answered about it."""
    opening = door(pull_side=PLANK, push_side=PLANK, **RATED, **changes)
    return {**opening, "answered": [{"code": code, "by": LETTER} for code in codes]}


def test_an_answer_lets_what_it_held_go_on_and_the_advice_rests_on_it() -> None:
    """Two are asked of a leaf that is cut in a frame that is undercut; the first alone lets nothing go on."""
    codes = ("us-fire-trim-listing", "frame_label")
    held, one, free = assessed(rated()), assessed(rated(codes[0])), assessed(rated(*codes))
    assert (held.verdict, one.verdict, free.verdict) == ("hold", "hold", "go_with_trim")
    assert [task.hold for task in held.tasks if task.phase == "leaf"] == [True]
    assert [task.hold for task in free.tasks if task.phase == "leaf"] == [False]
    assert set(codes).isdisjoint({question.code for question in free.questions})
    told, _ = (one for one in advised(rated(*codes))["assumptions"] if "answered" in one["pointer"])
    assert told["pointer"] == "#/answered/0"
    assert (
        f"on the word of {LETTER}, so that work can go on; nothing of it was checked here: Does the listing"
        in told["text"]
    )
    assert free.leaf == held.leaf
    assert free.checks == held.checks


def test_an_answer_to_what_is_not_asked_changes_nothing_else() -> None:
    one, other = assessed(rated()), assessed(rated("gb-eng-fuel-door"))
    assert (one.verdict, one.questions, one.tasks) == (other.verdict, other.questions, other.tasks)
    assert one.assumptions == other.assumptions
    assert one.input_digest != other.input_digest


def test_each_question_is_answered_by_itself() -> None:
    """A header so low that legs of the labelled frame are cut as well."""
    low = {"rough_opening": {"height": "81 in"}}
    asked = {question.code for question in assessed(rated(**low)).questions if question.holds}
    assert asked >= {"us-fire-trim-listing", "frame_label"}
    for one, other in (("us-fire-trim-listing", "frame_label"), ("frame_label", "us-fire-trim-listing")):
        left = {question.code for question in assessed(rated(one, **low)).questions}
        assert (one in left, other in left) == (False, True)


@pytest.mark.parametrize("code", ["floor_undecided", "us-fire-bottom-gap", "us-fire-trim", "nobody_asks"])
def test_what_a_field_answers_or_nobody_asks_is_answered_by_no_word(code: str) -> None:
    with pytest.raises(InvalidRequest) as refused:
        assess(read(rated("frame_label", code)), catalogue())
    (fault,) = refused.value.errors
    assert (fault.pointer, fault.code) == ("#/answered/1/code", "unknown_name")
    assert "frame_label" in fault.detail


def test_a_question_is_answered_once() -> None:
    with pytest.raises(InvalidRequest) as refused:
        assess(read(rated("frame_label", "listing", "frame_label")), catalogue())
    (fault,) = refused.value.errors
    assert (fault.pointer, fault.code) == ("#/answered/2/code", "repeated")
    assert fault.detail == "Name each item once."


def test_a_remedy_waits_no_longer_for_what_was_answered() -> None:
    """Cut where it hangs, the leaf waits for its listing, which a rule asks for; once that is known, for nobody."""
    held = {**rated(), "as_set": {"foot": "0 in", "leaf_bottom": "1/4 in"}}
    before, after = rechecked(held), rechecked({**held, **rated("us-fire-trim-listing")})
    assert [need.code for need in before.remedies[0].needs] == ["us-fire-trim-listing"]
    assert [question.code for question in before.questions if "listing" in question.code] == ["us-fire-trim-listing"]
    assert (before.tasks[0].hold, after.tasks[0].hold) == (True, False)
    assert after.remedies[0].needs == ()
    assert "us-fire-trim-listing" not in [question.code for question in after.questions]
    assert [one.pointer for one in after.assumptions if "answered" in one.pointer] == ["#/answered/0"]


def test_a_set_door_that_a_rule_asks_about_is_held_until_somebody_answered() -> None:
    """From garage to bedroom: who allows it?"""
    leaf = {"core": "solid", "thickness": "1 3/8 in"}
    request = door(
        pull_side={**PLANK, "use": "bedroom"},
        push_side=PLANK,
        leaf=leaf,
        duties=["garage_to_house"],
        frame={"undercut": "1 in"},
        as_set={"foot": "0 in", "leaf_bottom": "1 in"},
    )
    word = {"answered": [{"code": "us-garage-bedroom", "by": "the building department"}]}
    assert [rechecked({**request, **more}).verdict for more in ({}, word)] == ["hold", "fine"]


def test_every_question_without_a_field_can_be_answered() -> None:
    """What rules ask, and what is asked of a remedy or of legs that are cut."""
    known = answerable(catalogue())
    assert set(BY_WORD) < set(known)
    for request in (rated(), rated(rough_opening={"height": "81 in"}), rated(duties=["smoke_control"])):
        asked = assessed(request).questions
        assert {question.code for question in asked if question.pointer is UNSET} <= set(known)


CUT_TOO_FAR = was_set(
    leaf={"core": "hollow"}, duties=["fire_label"], as_set={"foot": "0 in", "leaf_bottom": "1 3/4 in"}
)
"""3/4 in off a hollow leaf that gives 1/2 in: another, which bears the label of this opening."""


@pytest.mark.parametrize(
    ("door_as_set", "code"), [(CUT_TOO_FAR, "leaf_label"), (labelled(), "unit_label")], ids=["leaf", "unit"]
)
def test_whoever_names_the_leaf_or_unit_with_the_label_lets_it_be_ordered(door_as_set: Wire, code: str) -> None:
    asked = rechecked(door_as_set)
    assert code in {question.code for question in asked.questions if question.pointer is UNSET}
    told = rechecked({**door_as_set, "answered": [{"code": code, "by": LETTER}]})
    assert code not in {question.code for question in told.questions}
    assert code not in {need.code for remedy in told.remedies for need in remedy.needs}
    assert code not in {question for task in told.tasks for question in task.questions}
