"""An opening as it was set, with the floors as they are now: what fails, and what mends it, cheapest first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from jambset.engine import asks, handling, report
from jambset.engine.answers import by_word, unanswered
from jambset.engine.as_set import LEAF_BOTTOM, read
from jambset.engine.asks import CONFLICT, HOLD
from jambset.engine.asks_of_joint import joint_questions
from jambset.engine.assess import (
    advice_id,
    air_of,
    input_digest,
    of_permit,
    rules_for,
    rules_of,
    sources_of,
    transition_of,
)
from jambset.engine.checks import Result
from jambset.engine.findings import findings
from jambset.engine.kinds import by_use, circumstances, passed_over
from jambset.engine.labour import work_of
from jambset.engine.remedies import Chain, cautions, chains, is_whole, remedy
from jambset.engine.remedy_steps import (
    COVER,
    FILL,
    FLOORS_CERTAIN,
    GRILLE,
    LEAF,
    PIECE,
    RAISE,
    RESET,
    SEAL,
    TRIM,
    UNIT,
    Shop,
)
from jambset.engine.standing import Judged, judge, measured, rooms
from jambset.engine.taken import taken
from jambset.engine.tasks import key_of
from jambset.engine.words import beside, joined, subfloor
from jambset.model.advice import Assumption, Caution, Citation, Phrase, Question, Spread, Taken, Task, Term
from jambset.model.recheck import AsFound, DoNothing, Finding, RecheckAdvice, Remedy
from jambset.model.request import Recheck
from jambset.model.source import Asked
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue, FinishKind, Phase

FINE, LIVE_WITH, WORK = "fine", "live_with", "work"
"""Verdicts besides conflict and hold, which advice has too."""


class Rechecked(NamedTuple):
    """What is answered of an opening, and what that was worked out from: how it stands, and all that mends it.

    always: codes of the cautions that hold whatever is done.
    """

    request: Recheck
    advice: RecheckAdvice
    found: Judged
    mending: tuple[Chain, ...]
    always: frozenset[str]

    @property
    def planned(self) -> Chain:
        """The steps that its tasks are, one each; none where nothing is to be done, or nothing mends all of it."""
        return self.mending[0] if self.advice.tasks else ()

    @property
    def then(self) -> Judged:
        """The unit once that is done."""
        return self.planned[-1].after if self.planned else self.found


def recheck(request: Recheck, catalogue: Catalogue) -> RecheckAdvice:
    """What an opening as set misses over its floors as they are now; the same for the same request and catalogue.

    Raises InvalidRequest, with every field that is wrong, for a readable request that makes no sense.
    """
    return rechecked(request, catalogue).advice


def rechecked(request: Recheck, catalogue: Catalogue) -> Rechecked:
    """The same with what it was worked out from. Raises InvalidRequest as `recheck` does."""
    found = judge(read(request, catalogue), catalogue)
    shop = Shop(catalogue, work_of(found.facts, catalogue))
    return answer(request, found, chains(found, shop) if found.facts.decided else (), catalogue)


def answer(
    request: Recheck, found: Judged, mending: tuple[Chain, ...], catalogue: Catalogue, *, for_line: bool = False
) -> Rechecked:
    """What is answered of a unit as found and what mends it, the work that is planned first.

    for_line: whether that is done for the sake of a head line, be nothing firm missed as found.
    """
    first = _first_answered(found)
    shown = findings(found)
    careful = [cautions(chain, catalogue) for chain in mending]
    every = _questions(found, mending)
    asked = unanswered(every, request)
    planned = tuple(_tasks(found, mending, asked)) if found.firm or for_line else ()
    known = _verdict(found, mending, planned)
    digest, held = input_digest(request), rules_of(found.checks)
    remedies = tuple([remedy(chain, found, few) for chain, few in zip(mending, careful, strict=True)])
    cuts, flooring = any(one.trim is not UNSET for one in remedies), report.flooring(found.result)
    selection = rules_for(request, catalogue)
    around = circumstances(found.facts, selection)
    always = (*asks.cautions(_untouched(found)), *asks.wall_cautions(found.facts))
    warned = {c.code: c for few in (always, *careful) for c in few}
    advice = RecheckAdvice(
        advice_id=advice_id(digest, catalogue),
        mark=request.mark,
        external_id=request.external_id,
        verdict=HOLD if first and not found.failing else known,
        summary=_summary(_in_short(known, found, shown, remedies), found, first=first, beside=asks.of_air(asked)),
        jurisdiction=request.jurisdiction,
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        input_digest=digest,
        as_of=UNSET if request.as_of is UNSET else request.as_of.isoformat(),
        taken=_taken(request, found, catalogue),
        found=_as_found(found),
        clearance=report.clearance(found.result),
        air=air_of(found.result, held),
        flooring=flooring,
        transition=transition_of(found.result, held),
        checks=found.checks,
        findings=shown,
        remedies=remedies,
        do_nothing=DoNothing(lawful=not found.unlawful, text=_left_so(found, shown, first), leaves=found.missed),
        questions=asked,
        assumptions=(
            *found.facts.assumptions,
            *by_word(every, request),
            *_assumptions(request, found),
            *report.labour(request, priced=bool(mending)),
            *report.age(passed_over(selection, around), flooring, cut=cuts),
            *report.use(by_use(selection, around)),
            *of_permit(found.facts, catalogue),
        ),
        cautions=tuple(warned.values()),
        tasks=planned,
        sources=_sources(found, mending, warned, catalogue),
        notice=report.notice(request, catalogue),
    )
    return Rechecked(request, advice, found, mending, always=frozenset([caution.code for caution in always]))


def _first_answered(found: Judged) -> tuple[Phrase, ...]:
    """What rules ask about the setting or the leaf as they stand, and who builds a ramp that the floors need.

    What is asked about a cut to come isn't among it.
    """
    ramps = joint_questions(found.facts, found.result.at.joint)
    asked = unanswered((*ramps, *asks.rule_questions(found.result, found.checks)), found.facts.opening)
    return tuple([question.text for question in asked if asks.is_on_unit(question)])


def _verdict(found: Judged, mending: tuple[Chain, ...], planned: tuple[Task, ...]) -> str:
    """What to make of a unit as found, but for what rules ask first where it may stay so. planned: its tasks.

    hold: a floor isn't named, so that half the rules can't be read; or the least work that leaves no firm rule missed
    cuts leaf, legs or wall, which nobody undoes, and waits for an answer. fine: every rule is met. live_with: nothing
    firmer than a wish is missed. conflict: a rule never relaxed is missed, and after each remedy one still is. work:
    the rest; where a floor isn't certain, what comes first can be undone.
    """
    if not found.facts.decided:
        return HOLD
    if not found.firm:
        return LIVE_WITH if found.missed else FINE
    if found.failing and all(chain[-1].after.failing for chain in mending):
        return CONFLICT
    steps = mending[0] if planned else ()
    return HOLD if any(step.cuts and task.hold for step, task in zip(steps, planned, strict=True)) else WORK


def _summary(text: Phrase, found: Judged, *, first: tuple[Phrase, ...], beside: tuple[Phrase, ...]) -> Phrase:
    """What is known in short, with what rules ask about setting or leaf, and what is asked about air."""
    if not found.facts.decided:
        return text
    if first:
        code = "asked_too" if found.failing else "asked"
        text = Phrase(f"summary.recheck.{code}", ask=joined(first), text=text)
    return Phrase("summary.recheck.beside", text=text, ask=joined(beside)) if beside else text


def _in_short(verdict: str, found: Judged, shown: tuple[Finding, ...], remedies: tuple[Remedy, ...]) -> Phrase:
    """The numbers that a carpenter checks, or what is worst and what mends it."""
    if not found.facts.decided:
        return Phrase("summary.recheck.hold", first=shown[0].text if shown else Phrase("summary.recheck.nothing_yet"))
    if not found.missed:
        return Phrase("summary.recheck.fine", stands=_stands(found))
    if not found.firm:
        one = ".one" if len(found.missed) == 1 else ""
        return Phrase(
            f"summary.recheck.live_with{one}",
            count=str(len(found.missed)),
            wish=shown[0].text,
            stands=_stands(found),
        )
    best = remedies[0] if remedies else None
    if best is None or best.leaves:
        left = "_unmended" if best is None and verdict == WORK else "_open"
        return Phrase(f"summary.recheck.{verdict}{left}", first=shown[0].text, count=str(len(found.firm)))
    code = "work" if verdict != HOLD else "hold_asked" if found.facts.certain else "hold_cut"
    return Phrase(f"summary.recheck.{code}", first=shown[0].text, remedy=best.text, minutes=str(best.minutes))


def _stands(found: Judged) -> Phrase:
    """The numbers of a unit that needs nothing: what is under its leaf on both sides, and its legs."""
    clear, (pull, push) = report.clearance(found.result), found.facts.sides
    low, high = sorted(rooms(found.unit, found.facts.ground))
    legs = "stand" if not high else "alike" if low == high else "apart" if low else "one_stands"
    return Phrase(
        "summary.recheck.stands",
        pull=_nominal(clear.pull_side),
        push=_nominal(clear.push_side),
        pull_floor=beside(pull),
        push_floor=beside(push),
        legs=Phrase(f"summary.recheck.legs.{legs}", low=Length(low), high=Length(high)),
    )


def _nominal(clear: Spread | UnsetType) -> Length | UnsetType:
    """The clearance expected, where it can be told."""
    return UNSET if clear is UNSET else clear.nominal


def _left_so(found: Judged, shown: tuple[Finding, ...], first: tuple[Phrase, ...]) -> Phrase:
    """What it means to do nothing."""
    rubs = any(finding.kind == "rubs" for finding in shown)
    barred = found.unlawful or (found.failing if found.facts.decided and not rubs else ())
    if barred:
        return Phrase("nothing.unlawful", rule=Term(found.result.at.regime.by_id[barred[0]].rule.title))
    if rubs:
        return Phrase("nothing.rubs")
    if not found.facts.decided:
        return Phrase("nothing.undecided")
    if found.firm:
        text = Phrase("nothing.firm.one" if len(found.firm) == 1 else "nothing.firm", count=str(len(found.firm)))
        return Phrase("nothing.asked_too", text=text, ask=joined(first)) if first else text
    if first:
        return Phrase("nothing.asked", ask=joined(first))
    return Phrase(("nothing.fine", "nothing.wish", "nothing.wishes")[min(2, len(found.missed))])


def _taken(request: Recheck, found: Judged, catalogue: Catalogue) -> Taken:
    """What it was worked out from; an undercut that follows from where the leaf ends was stated by nobody."""
    told = taken(found.facts, catalogue)
    return replace(told, undercut=UNSET) if request.frame.undercut is UNSET else told


def _as_found(found: Judged) -> AsFound:
    unit = found.unit
    return AsFound(
        hinge_foot=Length(unit.foot + unit.hinge),
        strike_foot=Length(unit.foot + unit.strike),
        leaf_bottom=Length(unit.bottom),
        undercut=Length(unit.undercut),
        trimmed=Length(unit.trimmed),
        head_height=Length(unit.foot + unit.undercut + found.facts.leaf_and_gap),
    )


def _untouched(found: Judged) -> Result:
    """The unit as if nothing were cut: what was trimmed long ago asks and cautions of no saw now."""
    return Result(found.result.at, replace(found.result.decision, trim=0))


def _questions(found: Judged, mending: tuple[Chain, ...]) -> tuple[Question, ...]:
    """Everything asked, also what the remedies ask for, what holds the work first; nothing twice.

    That the floors must be certain is what the questions about them ask already.
    """
    sawn = [chain[-1].after for chain in mending if any(step.saws for step in chain)]
    rounds = [asks.questions(_untouched(found), found.checks, {}, later=False)]
    rounds += [asks.questions(after.result, after.checks, {}, later=True) for after in sawn]
    rounds += [tuple(asks.frame_questions(chain[-1].after.result)) for chain in mending[:1]]
    asked: dict[tuple[str, object], Question] = {}
    for question in (question for questions in rounds for question in questions):
        key = (question.code, question.pointer)
        if key not in asked or len(question.holds) > len(asked[key].holds):
            asked[key] = question
    needs = {need.code: need for step in (mending[0] if mending else ()) for need in step.needs}
    known = {FLOORS_CERTAIN, *[code for code, _ in asked]}
    also = [
        asks.HEADER_UNKNOWN
        if need.code == asks.HEADER_UNKNOWN.code
        else Question(code=need.code, ask=need.ask, text=need.text)
        for need in needs.values()
        if need.code not in known
    ]
    sized = not _gaps_tell(found)
    told = [q if sized or q.code != asks.THICKNESS_UNKNOWN else replace(q, holds=()) for q in asked.values()]
    return tuple(sorted((*told, *also), key=lambda question: not question.holds))


def _gaps_tell(found: Judged) -> bool:
    """Whether what comes off the leaf follows from gaps over hard floors that lie, however thick those are."""
    hard = all(side.kind is FinishKind.HARD for side in found.facts.sides)
    return hard and len(measured(found.facts, found.unit)) == len(found.facts.sides)


def _assumptions(request: Recheck, found: Judged) -> Iterator[Assumption]:
    if request.frame.undercut is UNSET:
        value = Length(found.unit.undercut)
        yield Assumption(pointer="#/frame/undercut", value=value, text=Phrase("assumed.untrimmed", value=value))
    if request.as_set.leaf_bottom is UNSET:
        value = Length(found.unit.bottom)
        yield Assumption(
            pointer=LEAF_BOTTOM,
            value=value,
            text=Phrase("assumed.leaf_bottom", value=value, subfloor=subfloor(found.facts)),
        )


PLANNED: dict[str, tuple[Asked, Phase]] = {
    TRIM: (Asked.FINISH_CARPENTER, Phase.LEAF),
    UNIT: (Asked.FINISH_CARPENTER, Phase.SETTING),
    RESET: (Asked.FINISH_CARPENTER, Phase.SETTING),
    LEAF: (Asked.FINISH_CARPENTER, Phase.LEAF),
    FILL: (Asked.FINISH_CARPENTER, Phase.SETTING),
    COVER: (Asked.FLOORING_INSTALLER, Phase.TRANSITION),
    RAISE: (Asked.FLOORING_INSTALLER, Phase.FLOORING),
    PIECE: (Asked.FLOORING_INSTALLER, Phase.TRANSITION),
    SEAL: (Asked.FINISH_CARPENTER, Phase.LEAF),
    GRILLE: (Asked.HVAC_CONTRACTOR, Phase.AIR),
}
"""Who does a kind of remedy, and the phase it is held by."""
_ON_LEAVES = frozenset({LEAF, TRIM, SEAL})
"""What is done to each leaf of a pair."""


def _tasks(found: Judged, mending: tuple[Chain, ...], asked: tuple[Question, ...]) -> Iterator[Task]:
    """The steps of the first remedy where it leaves no firm rule missed."""
    if not mending or not is_whole(mending[0]):
        return
    mark = found.facts.opening.mark
    before: tuple[str, ...] = ()
    for step in mending[0]:
        trade, phase = PLANNED[step.kind]
        key = key_of(mark, step.kind)
        needs = {need.code for need in step.needs}
        floors = asks.OF_FLOORS if FLOORS_CERTAIN in needs else frozenset()
        held = [q.code for q in asked if phase in q.holds or q.code in needs or q.code in floors]
        each = ".each" if step.kind in _ON_LEAVES and found.facts.opening.leaf.count == 2 else ""
        yield Task(
            key=key,
            title=Phrase(f"task.{step.kind}{each}"),
            trade=trade,
            phase=phase,
            minutes=step.minutes,
            waits_for=before,
            hold=bool(held),
            questions=tuple(dict.fromkeys(held)),
        )
        before = (key,)


def _sources(
    found: Judged, mending: tuple[Chain, ...], warned: Mapping[str, Caution], catalogue: Catalogue
) -> tuple[Citation, ...]:
    """Where every rule comes from that the unit, as found or mended, was held to, and what cautions rest on."""
    mended = [rule for chain in mending for rule in rules_of(chain[-1].after.checks)]
    lifting = handling.sources(found.facts.opening, catalogue) if "handling" in warned else ()
    return sources_of(found.result, (*rules_of(found.checks), *mended, *warned)) + lifting
