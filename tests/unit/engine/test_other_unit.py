"""Another unit in place of one that is set: with what undercut it is made, how it stands, and that it comes last."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec import UNSET
from tests.openings import Wire, catalogue, floor, layer, ticks
from tests.rechecks import answered, read, rechecked
from tests.unit.engine.test_recheck import CARPET, PLANK, kinds, was_set

from jambset.engine import as_set
from jambset.engine.labour import work_of
from jambset.engine.remedies_of_unit import other_unit
from jambset.engine.remedy_steps import Shop, Step
from jambset.engine.standing import judge

KIND = "other_unit"
STEEL: Wire = {"core": "steel"}
LAID: Wire = {"foot": "1/4 in", "leaf_bottom": None, "gaps": {"push_side": "1 in"}}
"""Legs on plank 1/4 in thick that lies, an inch of gap: the leaf ends 1 1/4 in up."""


def too_short(**changes: Any) -> Wire:
    """Carpet 15/16 in high against plank 1/4 in, a unit made with 3/8 in, 5/8 in off its hollow leaf, which gives 1/2.

    The leaf ends an inch up. Nothing puts back what is off it; another as made, less 1/2 in, would end 7/8 in up, where
    1 1/4 in is the least that is accepted over the subfloor beside carpet and 1 1/2 in is wished (common practice, no
    source). Set again higher, it keeps the leaf that is cut too far.
    """
    base = was_set(frame={"undercut": "3/8 in"}, pull_side=CARPET, as_set={"foot": "0 in", "leaf_bottom": "1 in"})
    return was_set(**{**base, **changes})


def labelled(**changes: Any) -> Wire:
    """A labelled steel leaf over plank that lies: an inch is left where 3/4 in is the most (NFPA 80, 4.8.4)."""
    return was_set(**{"leaf": STEEL, "duties": ["fire_label"], "rough_opening": None, "as_set": LAID, **changes})


def made(request: Wire) -> list[Step]:
    """Another unit for a door, whatever else would mend it."""
    asked, rules = read(request), catalogue()
    found = judge(as_set.read(asked, rules), rules)
    return list(other_unit(found, Shop(rules, work_of(found.facts, rules))))


def test_a_unit_bought_for_another_floor_gives_way_to_one_made_for_this() -> None:
    """US: 1 1/2 in over the subfloor, legs on it, below the plank. 90 minutes to take one out and set another."""
    answer = rechecked(too_short())
    best = answer.remedies[0]
    assert (best.kind, best.steps, best.minutes, best.leaves) == (KIND, (KIND,), 90, ())
    assert (best.undercut, best.foot, best.leaf_bottom) == (ticks("1 1/2 in"), 0, ticks("1 1/2 in"))
    assert (best.trim, best.needs, best.lawful) == (UNSET, (), True)
    assert {"trim.hollow", "fit.leaf.piece", "leaf.carpet.height.accepted"} <= set(best.fixes)
    assert best.cautions == ("handling", "lift.us")
    assert (answer.verdict, answer.summary.code) == ("work", "summary.recheck.work")
    assert [(t.key, t.trade, t.phase, t.minutes, t.hold) for t in answer.tasks] == [
        ("D01.other_unit", "finish_carpenter", "setting", 90, False)
    ]
    assert [remedy.undercut for remedy in answer.remedies[1:]] == [UNSET] * (len(answer.remedies) - 1)


def test_it_is_told_in_plain_words_and_without_its_price() -> None:
    (best, *_) = answered(too_short())["remedies"]
    assert best["text"] == (
        "Take the unit out and set another in its place, made with 1 1/2 in undercut, its legs on the subfloor; the "
        "leaf ends 1 1/2 in above the subfloor. What the unit costs isn't counted in the minutes."
    )
    assert best["undercut"] == {"mm": 38.1, "in": 1.5, "text": "1 1/2 in"}
    assert answered(too_short())["tasks"][0]["title"] == "Take the unit out and set another in its place"


def test_an_english_unit_is_made_on_the_metric_tape() -> None:
    """Carpet 22 mm against laminate 8 mm, 10 mm undercut, 15 mm off: 38.1 mm are wished beside carpet, so 39 on a tape
    of 1 mm. 39 mm stand 17 over the carpet and 31 over the laminate, legs 8 below its top."""
    english = too_short(
        jurisdiction="GB-ENG",
        frame={"undercut": "10 mm"},
        as_set={"foot": "0 mm", "leaf_bottom": "25 mm"},
        pull_side=floor("carpet 22 mm"),
        push_side=floor("laminate 8 mm"),
    )
    answer = rechecked(english)
    assert (answer.verdict, answer.remedies[0].steps, answer.remedies[0].leaves) == ("work", (KIND,), ())
    best = answer.remedies[0]
    assert (best.undercut, best.foot, best.leaf_bottom) == (ticks("39 mm"), 0, ticks("39 mm"))
    assert {"gb-eng-air-carpet", "gb-eng-air-hard"} <= set(best.fixes)
    assert [(one.kind, one.leaves != ()) for one in answer.remedies[1:]] == [
        ("reset", True),
        ("transfer_grille", True),
        ("other_leaf", True),
    ]


@pytest.mark.parametrize(
    ("request_", "steps"),
    [
        # plank 5/16 in below a leaf 3/8 in up: 1/4 in comes off
        (was_set(frame={"undercut": "3/8 in"}, as_set={"foot": "0 in", "leaf_bottom": "3/8 in"}), ("trim",)),
        # steel isn't cut: its unit goes up, below carpets that hide its legs
        (
            was_set(leaf=STEEL, pull_side=CARPET, push_side=CARPET),
            ("reset",),
        ),
        # 3/4 in off a hollow leaf that gives 1/2 in, over floors that leave a leaf as made its room
        (was_set(as_set={"foot": "0 in", "leaf_bottom": "1 3/4 in"}), ("other_leaf",)),
        # 1/2 in off brings it to 7/8 in alone, with 3/8 in of blocks to 1 1/4 in; the piece hides 1/8 in of the legs
        (too_short(as_set={"foot": "0 in", "leaf_bottom": "7/8 in"}), ("reset", "cover_legs")),
    ],
)
def test_none_is_bought_where_something_else_leaves_nothing_firm(request_: Wire, steps: tuple[str, ...]) -> None:
    """Though it would mend the door too: a unit costs more than any of these."""
    answer = rechecked(request_)
    assert (answer.remedies[0].steps, answer.remedies[0].leaves) == (steps, ())
    assert KIND not in {step for remedy in answer.remedies for step in remedy.steps}
    assert [step.after.firm for step in made(request_)] == [()]


def test_none_is_bought_where_something_else_leaves_as_little() -> None:
    """A bath gives no return air, which no door mends; 1/2 in off its leaf mends the rest, as another unit would."""
    bath = was_set(
        duties=["transfer_air"],
        push_side={**PLANK, "use": "bath"},
        frame={"undercut": "1/8 in"},
        as_set={"foot": "0 in", "leaf_bottom": "1/8 in"},
    )
    assert {remedy.leaves for remedy in rechecked(bath).remedies} == {("us-return-openings",)}
    assert kinds(rechecked(bath))[0] == "trim"
    assert KIND not in kinds(rechecked(bath))
    assert [step.after.firm for step in made(bath)] == [("us-return-openings",)]


def test_none_is_bought_for_a_wish() -> None:
    """1 3/8 in leaves 1 1/8 in over plank, an inch at most being wished; steel isn't cut and its legs stand."""
    wished = was_set(leaf=STEEL, frame={"undercut": "1 3/8 in"}, as_set={"foot": "0 in", "leaf_bottom": "1 3/8 in"})
    answer = rechecked(wished)
    assert (answer.verdict, answer.do_nothing.leaves) == ("live_with", ("gap.most",))
    assert KIND not in kinds(answer)
    assert [step.after.missed for step in made(wished)] == [()]


def test_none_is_made_as_the_one_that_is_there() -> None:
    """Over plank 1/4 in 5/8 in is wished: 7/8 in. A step of the tape more or less is another unit."""
    for undercut, other in (("13/16 in", True), ("7/8 in", False), ("15/16 in", True)):
        as_it_is = was_set(frame={"undercut": undercut}, as_set={"leaf_bottom": undercut})
        assert [step.told["undercut"] for step in made(as_it_is)] == [ticks("7/8 in")] * other


@pytest.mark.parametrize(
    ("hole", "undercut", "leaves"),
    [
        # 80 in of leaf, 1/8 in and a head of 11/16 in over its bottom: 80 13/16 in; over the head 1/4 in is wished
        ("82 9/16 in", "1 1/2 in", ()),
        # 1/8 in over the head is accepted: 1 5/16 in
        ("82 1/4 in", "1 5/16 in", ()),
        # 1 1/4 in beside carpet is accepted before that: 1/16 in is left over the head
        ("82 1/8 in", "1 1/4 in", ("head.shim.accepted",)),
        # 1 3/16 in, 1/16 in over the bar of 15/16 + 3/16 in, where 1/8 in is accepted: less is missed than as it is
        ("82 in", "1 3/16 in", ("leaf.carpet.height.accepted", "leaf.piece.accepted", "head.shim.accepted")),
        # 11/16 in: such a leaf would rub on the carpet
        ("81 1/2 in", None, ()),
    ],
)
def test_it_is_made_to_go_in_under_the_header(hole: str, undercut: str | None, leaves: tuple[str, ...]) -> None:
    offered = [one for one in rechecked(too_short(rough_opening={"height": hole})).remedies if one.kind == KIND]
    told = [(one.undercut, one.leaf_bottom, one.leaves) for one in offered]
    assert told == ([] if undercut is None else [(ticks(undercut), ticks(undercut), leaves)])


def test_it_goes_higher_only_after_the_header_was_measured() -> None:
    """Its head is set 1 1/8 in higher than the one there, whose legs stand as low."""
    answer = rechecked(too_short(rough_opening=None))
    assert [need.code for need in answer.remedies[0].needs] == ["rough_opening_unknown"]
    assert [(task.hold, task.questions) for task in answer.tasks] == [(True, ("rough_opening_unknown",))]
    blocked = too_short(rough_opening=None, as_set={"foot": "1 1/8 in", "leaf_bottom": "2 1/8 in"})
    assert [step.needs for step in made(blocked)] == [()]


def test_no_leaf_is_made_to_end_above_the_legs() -> None:
    """A header said to lie lower than the head there leaves a leaf 1/8 in up, its legs on a floor of 1/4 in."""
    assert made(labelled(rough_opening={"height": "80 15/16 in"})) == []


def test_of_a_labelled_door_label_and_instructions_are_asked_first() -> None:
    """Nothing is measured lower than its legs: on the plank, 3/8 in over it, as the least that is accepted.

    A labelled leaf is made no shorter for the 5/8 in that is wished.
    """
    answer = rechecked(labelled())
    best, seal = answer.remedies
    assert (best.kind, best.minutes, best.leaves, seal.leaves) == (KIND, 90, (), ("us-fire-bottom-gap",))
    assert (best.undercut, best.foot, best.leaf_bottom) == (ticks("3/8 in"), ticks("1/4 in"), ticks("5/8 in"))
    assert [(need.code, need.ask) for need in best.needs] == [
        ("unit_label", "door_supplier"),
        ("frame_instructions", "door_supplier"),
    ]
    assert answer.verdict == "work"
    assert [(task.hold, task.questions) for task in answer.tasks] == [(True, ("unit_label", "frame_instructions"))]
    assert {"unit_label", "frame_instructions"} <= {question.code for question in answer.questions}
    said = answered(labelled())["remedies"][0]["text"]
    assert "its legs on the floor already laid; the leaf ends 5/8 in above" in said
    assert "It must bear the label or certificate that this opening needs. Fix it and fill around it as the" in said


def test_a_smoke_door_without_a_label_needs_its_certificate_alone() -> None:
    answer = answered(too_short(duties=["smoke_control"]))
    best = answer["remedies"][0]
    assert (best["kind"], [need["code"] for need in best["needs"]]) == (KIND, ["unit_label"])
    assert "It must bear the label or certificate" in best["text"]
    assert "labelled frame" not in best["text"]


def test_legs_as_made_stand_on_a_laid_floor_though_one_there_stands_in_it() -> None:
    """The hinge leg ends 1/16 in below the top of the plank, the strike leg 1/16 in above it: both go to its top."""
    apart = labelled(
        as_set={
            **LAID,
            "foot": None,
            "hinge_foot": "3/16 in",
            "strike_foot": "5/16 in",
            "gaps": {"push_side": "15/16 in"},
        }
    )
    best = rechecked(apart).remedies[0]
    assert (best.kind, best.foot, best.undercut) == (KIND, ticks("1/4 in"), ticks("3/8 in"))
    (step,) = made(apart)
    assert (step.after.unit.hinge, step.after.unit.strike) == (0, 0)


@pytest.mark.parametrize(
    ("strike", "foot", "undercut", "minutes", "said"),
    [
        # legs hide in plank 1/4 in: 1/8 in lower the strike leg stands on a block of 6 minutes
        ("-1/8 in", "0 in", "1 1/2 in", 96, "the hinge leg on its subfloor and the strike leg 1/8 in above its"),
        # 1/2 in lower it may end 1/4 in up, so 12 minutes take 1/4 in off the hinge leg; the leaf ends where it did
        ("-1/2 in", "-1/4 in", "1 3/4 in", 102, "the hinge leg cut 1/4 in shorter and the strike leg 1/4 in above its"),
    ],
)
def test_its_legs_are_told_one_by_one_over_a_subfloor_out_of_level(
    strike: str, foot: str, undercut: str, minutes: int, said: str
) -> None:
    sloping = too_short(subfloor={"kind": "legs", "hinge_leg": "0 in", "strike_leg": strike})
    best = rechecked(sloping).remedies[0]
    assert (best.kind, best.minutes, best.leaf_bottom) == (KIND, minutes, ticks("1 1/2 in"))
    assert (best.foot, best.undercut) == (ticks(foot), ticks(undercut))
    assert said in answered(sloping)["remedies"][0]["text"]


def test_legs_of_a_labelled_frame_are_cut_only_by_its_listing() -> None:
    """The same over a subfloor 1/2 in lower at the strike leg, of a labelled steel door that ends an inch up."""
    sloping = too_short(
        leaf=STEEL, duties=["fire_label"], frame={"undercut": "1 in"}, transition={"piece": "carpet_bar"}
    )
    (step,) = made({**sloping, "subfloor": {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "-1/2 in"}})
    assert [need.code for need in step.needs] == ["unit_label", "frame_label", "frame_instructions"]
    assert (step.cuts, step.text.code) == (True, "remedy.listed")
    assert step.text.values["text"].code == "remedy.other_unit"
    (level,) = made(sloping)
    assert [need.code for need in level.needs] == ["unit_label", "frame_instructions"]
    assert (level.cuts, level.text.code) == (False, "remedy.other_unit")


def test_no_unit_is_bought_before_the_floors_are_certain() -> None:
    answer = rechecked(too_short(pull_side={**CARPET, "certainty": "assumed"}))
    assert (answer.remedies[0].kind, [need.code for need in answer.remedies[0].needs]) == (KIND, ["floors_certain"])
    assert [(task.hold, task.questions) for task in answer.tasks] == [(True, ("floor_unconfirmed",))]


def test_a_pair_is_one_unit() -> None:
    answer = answered(too_short(leaf={"count": 2}))
    best, (task,) = answer["remedies"][0], answer["tasks"]
    assert (best["kind"], best["minutes"]) == (KIND, 90)
    assert "each leaf ends 1 1/2 in above" in best["text"]
    assert task["title"] == "Take the unit out and set another in its place"


def test_what_another_unit_leaves_is_mended_beside_it() -> None:
    """A dryer closet wants 100 in2 (us-dryer-closet), which no gap gives: a grille as well, 90 and 75 minutes."""
    best = rechecked(too_short(duties=["dryer_closet"])).remedies[0]
    assert (best.steps, best.kind, best.leaves, best.minutes) == ((KIND, "transfer_grille"), "combination", (), 165)
    assert best.undercut == best.leaf_bottom
    assert best.free_area is not UNSET


def test_it_is_made_for_what_is_laid_or_fitted_before() -> None:
    """A threshold an inch over carpet of 3/8 in is too high for an accessible route; a flush piece comes first.

    Over the one 1/4 in more is wished, 1 5/8 in; over the other the 1 1/2 in beside carpet.
    """
    route = too_short(
        duties=["accessible_route"],
        leaf={"width": "36 in"},
        pull_side=floor(layer("carpet 3/8 in")),
        push_side=PLANK,
        transition={"piece": "saddle", "rise": "1 in"},
    )
    both, alone = [remedy for remedy in rechecked(route).remedies if KIND in remedy.steps]
    assert (both.steps, both.leaves, both.undercut) == (("change_piece", KIND), (), ticks("1 1/2 in"))
    assert (alone.leaves, alone.undercut) == (("us-ada-threshold",), ticks("1 5/8 in"))


def test_its_legs_are_both_as_made_however_those_were_cut_that_stand_there() -> None:
    """On a level subfloor it needs no block, 90 minutes, and none of its legs is told apart."""
    cut = too_short(as_set={"foot": None, "hinge_foot": "1/4 in", "strike_foot": "0 in", "leaf_bottom": "1 in"})
    (step,) = made(cut)
    assert (step.minutes, step.told["foot"], step.told["undercut"]) == (90, 0, ticks("1 1/2 in"))


def test_under_the_lowest_header_it_is_made_with_no_undercut() -> None:
    """80 in, 1/8 in and 11/16 in end at the header."""
    (step,) = made(was_set(leaf=STEEL, rough_opening={"height": "80 13/16 in"}))
    assert (step.told["undercut"], step.told["leaf_bottom"]) == (0, 0)


AIR: Wire = {"duties": ["fire_label", "transfer_air"], "air": {"supply_flow": "30 cfm"}}


def test_a_labelled_one_is_made_for_the_floor_and_not_for_air_that_is_wished_for() -> None:
    """3/8 in accepted over plank 1/4 in; 9/16 in would carry 30 cfm at 3 Pa."""
    low: Wire = {"frame": {"undercut": "1/4 in"}, "as_set": {"foot": "0 in", "leaf_bottom": "1/4 in"}}
    (step,) = made(was_set(leaf={"core": "solid", "fire_minutes": 20}, **AIR, **low))
    assert (step.told["undercut"], step.for_air) == (ticks("5/8 in"), False)


def test_one_that_law_wants_higher_for_air_says_so() -> None:
    """Florida, 2.5 Pa: 30 cfm / (1.07 x 1.58) = 17.7 in2, 0.59 in under 30 in: 5/8 in over plank 1/4 in."""
    low: Wire = {"frame": {"undercut": "3/8 in"}, "as_set": {"foot": "0 in", "leaf_bottom": "3/8 in"}}
    (step,) = made(was_set(jurisdiction="US-FL", leaf={**STEEL, "fire_minutes": 20}, **AIR, **low))
    assert (step.told["undercut"], step.for_air) == (ticks("7/8 in"), True)
