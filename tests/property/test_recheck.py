"""What must hold of any recheck: it agrees with the advice it follows, and each remedy with the door it would leave."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any

import msgspec
import pytest
from hypothesis import Phase, assume, find, given, settings
from hypothesis import strategies as st
from msgspec import UNSET
from tests.openings import Wire, advised, assessed, catalogue, told
from tests.openings import read as read_opening
from tests.property.test_engine import content
from tests.rechecks import answered, read, rechecked
from tests.strategies import PLACES, Tape, in_inches, in_millimetres, in_text, tape, unwritten, written

from jambset.engine.facts import gather, grid_of, ground_of
from jambset.engine.remedies import EXCLUDES, KINDS
from jambset.model.advice import Advice, LegSetting, Phrase
from jambset.model.recheck import RecheckAdvice, Remedy
from jambset.quantity.ticks import INCH

SOME, MANY = settings(max_examples=50), settings(max_examples=90)
LOOK = settings(max_examples=120, phases=(Phase.generate,))
pytestmark = pytest.mark.covers

MISSED = ("fail", "relaxed")


@cache
@st.composite
def settings_of(draw: st.DrawFn, *, decided: bool | None = None, places: Sequence[str] = tuple(PLACES)) -> Wire:
    """A recheck whose lengths are still to be written: any opening, its unit set somewhere plausible."""
    opening = draw(unwritten(measured=True, decided=decided, places=places))
    units = PLACES[opening["jurisdiction"]]
    opening["frame"].pop("foot", None)
    opening["frame"]["state"] = "set"
    foot = draw(tape(0, INCH, units, coarse=True))
    trimmed = draw(st.one_of(st.just(0), tape(0, INCH * 3 // 4, units, coarse=True)))
    opening["as_set"] = {"foot": foot, "leaf_bottom": Tape(foot + opening["frame"]["undercut"] + trimmed)}
    if draw(st.integers(0, 4)) == 0:
        del opening["as_set"]["foot"]
        higher = Tape(foot + draw(tape(0, INCH // 4, units, coarse=True)))
        legs = draw(st.permutations([foot, higher]))
        opening["as_set"] |= {"hinge_foot": legs[0], "strike_foot": legs[1]}
        opening.pop("subfloor", None)
    return opening


def in_ticks(length: int) -> Wire:
    """A length of the engine as a caller would write it, exactly."""
    return {"value": length / 8_000, "unit": "mm"}


def missed(answer: RecheckAdvice | Advice) -> set[str]:
    return {check.rule for check in answer.checks if check.status in MISSED}


def firm(rules: set[str], answer: RecheckAdvice) -> set[str]:
    """Of some rules, those of a force above preference that the answer's checks know."""
    forces = {check.rule: check.force for check in answer.checks}
    return {rule for rule in rules if forces[rule] != "preference"}


@st.composite
def certain(draw: st.DrawFn) -> Wire:
    """An opening whose floors are named and stay, as it comes or where little has to give way."""
    opening: Wire = written(draw(unwritten(decided=True, measured=True) | content()), in_text)
    for side in ("pull_side", "push_side"):
        opening[side].pop("could_become", None)
        opening[side].pop("certainty", None)
    return opening


@MANY
@given(certain())
def test_a_door_set_and_cut_as_advised_misses_nothing_firmer_than_its_advice_did(opening: Wire) -> None:
    advice = assessed(opening)
    request = _as_advised(opening, advice)
    answer = rechecked(request)
    assert firm(missed(answer), answer) <= missed(advice)
    assert answer.found.head_height == told(advice.setting.head_height)
    if advice.verdict == "go" and not missed(advice):
        assert answer.verdict == "fine"


@SOME
@given(settings_of())
def test_a_recheck_was_worked_out_from_what_an_advice_over_the_same_floors_is(request: Wire) -> None:
    asked = written(request, in_text)
    opening = {name: member for name, member in asked.items() if name != "as_set"}
    assert answered(asked)["taken"] == advised(opening)["taken"]


def test_some_of_those_doors_are_good_as_they_come() -> None:
    """Else nothing would be said of them."""

    def good(opening: Wire) -> bool:
        advice = assessed(opening)
        return advice.verdict == "go" and not missed(advice)

    assert good(find(certain(), good, settings=LOOK))


def _as_advised(opening: Wire, advice: Advice) -> Wire:
    level = gather(read_opening(opening), catalogue()).ground
    hinge, strike = advice.setting.hinge_leg, advice.setting.strike_leg
    other = advice.setting.second_hinge_leg if strike is UNSET else strike
    assert isinstance(other, LegSetting)
    feet = (hinge.block + level.hinge_leg, other.block + level.strike_leg)
    bottom, trim = told(advice.leaf.bottom), told(advice.leaf.trim)
    undercut = bottom - min(feet) - trim
    assume(0 <= undercut <= 4 * INCH and 0 <= bottom <= 6 * INCH)
    frame = {name: value for name, value in opening["frame"].items() if name not in {"foot", "state"}}
    as_set = {"hinge_foot": in_ticks(feet[0]), "strike_foot": in_ticks(feet[1]), "leaf_bottom": in_ticks(bottom)}
    return {**opening, "frame": {**frame, "undercut": in_ticks(undercut)}, "as_set": as_set}


@MANY
@given(settings_of(decided=True).map(lambda request: written(request, in_text)))
def test_each_remedy_does_what_a_recheck_of_the_mended_door_says(request: Wire) -> None:
    answer = rechecked(request)
    before = missed(answer)
    assert set(answer.do_nothing.leaves) == before
    for remedy in answer.remedies:
        assert set(remedy.fixes).isdisjoint(remedy.breaks)
        assert set(remedy.fixes) <= before
        assert not {rule for rule in remedy.breaks if _force(rule, answer) in ("law", "standard")}
        assert before.isdisjoint(remedy.breaks)
        assert set(remedy.leaves) <= (before - set(remedy.fixes)) | set(remedy.breaks)
        if (mended := _mended(request, answer, remedy)) is not None:
            after = rechecked(mended)
            assert missed(after) == (before - set(remedy.fixes)) | set(remedy.breaks), remedy.steps
            assert after.do_nothing.lawful is remedy.lawful
            assert not _more_unlawful(answer, after)


def _more_unlawful(before: RecheckAdvice, after: RecheckAdvice) -> list[tuple[str, Any]]:
    """Rules of law and standard, by side, that are missed by more than before."""
    margins = {(check.rule, check.side): check.margin for check in before.checks if check.margin is not UNSET}
    return [
        (check.rule, check.side)
        for check in after.checks
        if check.force in ("law", "standard") and check.margin is not UNSET
        if check.margin < min(0, margins.get((check.rule, check.side), 0))
    ]


def _force(rule: str, answer: RecheckAdvice) -> str:
    return next(source.force for source in answer.sources if source.rule == rule)


def _mended(request: Wire, answer: RecheckAdvice, remedy: Remedy) -> Wire | None:
    """The request for the door that a remedy leaves, where a request can say it."""
    as_set = dict(request["as_set"])
    if remedy.kind == "trim":
        return {**request, "as_set": as_set | {"leaf_bottom": in_ticks(told(remedy.leaf_bottom))}}
    if remedy.kind == "reset" and told(remedy.foot) >= 0 and "foot" in as_set:
        placed = {"foot": in_ticks(told(remedy.foot)), "leaf_bottom": in_ticks(told(remedy.leaf_bottom))}
        return {**request, "as_set": placed}
    if remedy.kind == "change_piece":
        return {**request, "transition": {"piece": remedy.piece}}
    side = str(remedy.side)
    if remedy.kind == "raise_floor" and "build_up" in request[side]:
        exact = dict.fromkeys(("thickness", "least", "greatest"), in_ticks(told(remedy.layer)))
        layers = [{"material": "plywood_underlay", **exact}, *request[side]["build_up"]]
        return {**request, side: {**request[side], "build_up": layers}}
    if remedy.kind == "transfer_grille" and not any(check.quantity == "free_area" for check in answer.checks):
        assert isinstance(remedy.free_area, float)
        free = {"value": float(remedy.free_area), "unit": "m2"}
        grille = {"kind": "grille", "width": "24 in", "height": "24 in", "free_area": free}
        air = request.get("air", {})
        return {**request, "air": {**air, "other_paths": [*air.get("other_paths", []), grille]}}
    return None


def _with_another_unit(request: Wire, remedy: Remedy) -> Wire:
    """The request for a door whose unit was exchanged: a leg that is cut stands on its subfloor."""
    level = ground_of(read(request), catalogue())
    hinge, strike = (max(told(remedy.foot), ground) for ground in (level.hinge_leg, level.strike_leg))
    bottom = told(remedy.leaf_bottom)
    assert told(remedy.undercut) == bottom - told(remedy.foot)
    frame = {**request["frame"], "undercut": in_ticks(bottom - min(hinge, strike))}
    as_set = {"hinge_foot": in_ticks(hinge), "strike_foot": in_ticks(strike), "leaf_bottom": in_ticks(bottom)}
    return {**request, "frame": frame, "as_set": as_set}


@st.composite
def badly_bought(draw: st.DrawFn) -> Wire:
    """A recheck of a hollow leaf that was cut further than it bears, over floors that are named."""
    request = draw(settings_of(decided=True))
    request["leaf"] |= {"core": "hollow"}
    foot = min(request["as_set"][leg] for leg in ("foot", "hinge_foot", "strike_foot") if leg in request["as_set"])
    bottom = foot + request["frame"]["undercut"] + draw(st.integers(INCH * 5 // 8, INCH))
    request["as_set"]["leaf_bottom"] = Tape(bottom)
    anyhow: Wire = written(request, in_text)
    return anyhow


def _buys(remedy: Remedy) -> bool:
    return "other_unit" in remedy.steps


@MANY
@given(badly_bought())
def test_another_unit_is_the_last_resort_and_does_what_it_is_told_to(request: Wire) -> None:
    """Judged as a door of its own it stands as told and misses what was told; nothing else leaves as little."""
    answer = rechecked(request)
    bought = [remedy for remedy in answer.remedies if _buys(remedy)]
    others = [remedy for remedy in answer.remedies if not _buys(remedy)]
    if bought:
        assert firm(missed(answer), answer), "nobody buys one for a wish"
        assert all(remedy.leaves for remedy in others)
    for remedy in bought:
        assert abs(told(remedy.undercut) - told(answer.found.undercut)) >= grid_of(read(request), catalogue()).step
        if remedy.kind != "other_unit":
            continue
        after = rechecked(_with_another_unit(request, remedy))
        assert after.found.leaf_bottom == remedy.leaf_bottom
        assert after.found.trimmed == 0
        assert min(after.found.hinge_foot, after.found.strike_foot) >= told(remedy.foot)
        unsaid = {"leg.whole"} if told(remedy.foot) < 0 else set()  # no request tells that a leg was cut
        assert missed(after) == ((missed(answer) - set(remedy.fixes)) | set(remedy.breaks)) - unsaid
        assert after.do_nothing.lawful is remedy.lawful
        assert not _more_unlawful(answer, after)


def test_another_unit_is_offered_for_some_of_those() -> None:
    """Else nothing would be said of them."""

    def offered(request: Wire) -> bool:
        return any(remedy.kind == "other_unit" for remedy in rechecked(request).remedies)

    assert offered(find(badly_bought(), offered, settings=LOOK))


@MANY
@given(certain())
def test_another_unit_is_the_one_that_would_be_ordered(opening: Wire) -> None:
    """Over floors that stay its leaf and its legs end where an advice on a unit to order has them."""
    frame = {name: value for name, value in opening["frame"].items() if name not in {"foot", "state", "undercut"}}
    leaf = {**opening["leaf"], "core": "hollow"}
    order = assessed({**opening, "leaf": leaf, "frame": {**frame, "state": "to_order"}})
    as_set = {"foot": "1 in", "leaf_bottom": "2 1/8 in"}
    request = {**opening, "leaf": leaf, "frame": {**frame, "undercut": "1/8 in"}, "as_set": as_set}
    leg, ground = order.setting.hinge_leg, ground_of(read(request), catalogue()).hinge_leg
    for remedy in rechecked(request).remedies:
        if remedy.kind == "other_unit":
            assert (remedy.foot, remedy.leaf_bottom) == (ground + leg.block - leg.trim, order.leaf.bottom)


@MANY
@given(settings_of().map(lambda request: written(request, in_text)))
def test_remedies_stand_in_the_order_stated(request: Wire) -> None:
    answer = rechecked(request)
    order = list(KINDS)
    whole = [not remedy.leaves for remedy in answer.remedies]
    assert whole == sorted(whole, reverse=True)
    minutes = [("remedy.opens_for_air" in _codes(r.text), r.minutes) for r in answer.remedies if not r.leaves]
    assert minutes == sorted(minutes)
    for remedy in answer.remedies:
        places = [order.index(step) for step in remedy.steps]
        assert places == sorted(set(places))
        assert 1 <= len(places) <= 3
        assert remedy.fixes or remedy.if_listed
        barred = {kind for step in remedy.steps for kind in EXCLUDES.get(step, ())}
        assert barred.isdisjoint(remedy.steps)
        if len(places) > 1:
            assert not remedy.leaves
    if answer.remedies:
        assert answer.verdict != "fine"


def _codes(phrase: Phrase) -> set[str]:
    """The code of a phrase and of all inside it."""
    return {phrase.code}.union(*[_codes(value) for value in phrase.values.values() if isinstance(value, Phrase)])


@MANY
@given(settings_of(decided=True).map(lambda request: written(request, in_text)))
def test_what_nobody_can_undo_waits_for_certain_floors_and_says_so_first(request: Wire) -> None:
    sure = all(
        request[side].get("certainty", "confirmed") == "confirmed" and not request[side].get("could_become")
        for side in ("pull_side", "push_side")
    )
    answer = rechecked(request)
    for remedy in answer.remedies:
        shorter = {"remedy.reset.cut", "leg.again.cut"} & _codes(remedy.text)
        cuts = remedy.trim is not UNSET or remedy.free_area is not UNSET or bool(shorter)
        waits = remedy.text.code == "remedy.when_certain"
        assert not (waits and sure)
        assert waits or sure or not cuts
        if remedy is answer.remedies[0] and waits and not remedy.leaves:
            assert answer.verdict in ("hold", "live_with")
    codes = [question.code for question in answer.questions]
    assert "floors_certain" not in codes
    assert sure or {"floor_may_change", "floor_unconfirmed"} & set(codes)


@MANY
@given(settings_of(decided=True).map(lambda request: written(request, in_text)))
def test_no_seal_answers_to_a_rule_on_fire(request: Wire) -> None:
    answer = rechecked(request)
    fire = {rule.id for rules in catalogue().rules.values() for rule in rules if rule.topic == "fire"}
    for remedy in answer.remedies:
        if remedy.steps == ("bottom_seal",):
            assert fire.isdisjoint(remedy.fixes)
        assert set(remedy.if_listed) <= fire & set(remedy.leaves)
        assert not (remedy.if_listed and remedy.lawful)


@st.composite
def judged(draw: st.DrawFn) -> Wire:
    """A recheck of a unit that was set somewhere, or as it was advised."""
    if draw(st.booleans()):
        anyhow: Wire = written(draw(settings_of()), in_text)
        return anyhow
    opening = draw(certain())
    return _as_advised(opening, assessed(opening))


@pytest.mark.parametrize("verdict", ["fine", "live_with", "work", "hold", "conflict"])
def test_the_units_judged_come_to_every_verdict(verdict: str) -> None:
    assert find(judged(), lambda request: rechecked(request).verdict == verdict, settings=LOOK)


@MANY
@given(judged())
def test_the_verdict_says_what_the_checks_say(request: Wire) -> None:
    answer = rechecked(request)
    named = all("build_up" in request[side] for side in ("pull_side", "push_side"))
    if answer.verdict == "fine":
        assert not missed(answer)
        assert not answer.findings
    if answer.verdict == "live_with":
        assert answer.do_nothing.lawful
        assert not any(finding.kind == "rubs" for finding in answer.findings)
        assert {check.status for check in answer.checks} <= {"pass", "relaxed", "not_checked"}
    if answer.verdict == "conflict":
        assert "fail" in {check.status for check in answer.checks}
        assert all(remedy.leaves for remedy in answer.remedies)
    if answer.verdict != "hold":
        assert bool(missed(answer)) is bool(answer.findings)
        assert named or any("could_become" in request[side] for side in ("pull_side", "push_side"))
    if missed(answer):
        assert {finding.rule for finding in answer.findings} <= missed(answer)


@SOME
@given(settings_of(places=("US",)))
def test_millimetres_and_inches_give_the_same_answer(request: Wire) -> None:
    answers = {_canonical(answered(written(request, way))) for way in (in_text, in_inches, in_millimetres)}
    assert len(answers) == 1


@SOME
@given(settings_of().map(lambda request: written(request, in_text)), st.randoms(use_true_random=False))
def test_the_order_of_members_changes_nothing(request: Wire, shuffler: random.Random) -> None:
    assert _canonical(answered(_shuffled(request, shuffler))) == _canonical(answered(request))


def _canonical(answer: Any) -> str:
    return json.dumps(answer, sort_keys=True)


def _shuffled(value: Any, shuffler: random.Random) -> Any:
    if isinstance(value, dict):
        names = list(value)
        shuffler.shuffle(names)
        return {name: _shuffled(value[name], shuffler) for name in names}
    return [_shuffled(part, shuffler) for part in value] if isinstance(value, list) else value


@SOME
@given(settings_of().map(lambda request: written(request, in_text)))
def test_an_answer_can_be_written_and_names_only_rules_it_sources(request: Wire) -> None:
    answer = answered(request)
    sourced = {source["rule"] for source in answer["sources"]}
    for rules in _rules(answer):
        assert sourced >= set(rules)
    assert "\n" not in answer["summary"]
    assert "{" not in msgspec.json.encode([answer["summary"], answer["do_nothing"]["text"]]).decode()
    codes = {caution["code"] for caution in answer["cautions"]}
    assert all(codes >= set(remedy.get("cautions", ())) for remedy in answer["remedies"])
    asked = {question["code"] for question in answer["questions"]}
    assert all(asked >= set(task.get("questions", ())) for task in answer["tasks"])


def _rules(answer: Any) -> Iterator[list[str]]:
    yield [finding["rule"] for finding in answer["findings"]]
    yield answer["do_nothing"]["leaves"]
    for remedy in answer["remedies"]:
        yield from (remedy["fixes"], remedy["breaks"], remedy["leaves"])
