"""One opening, start to finish: the list of steps."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from functools import lru_cache, partial
from operator import attrgetter, pos

import msgspec
from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import fields, replace

from jambset.engine import air, asks, handling, report, transition
from jambset.engine.answers import by_word, unanswered
from jambset.engine.bounds import FLOORS
from jambset.engine.checks import Result, check_all, missed, prescribed_ways, wants_head
from jambset.engine.conflicts import conflicts_of
from jambset.engine.decide import Decision, decide, plan_cut
from jambset.engine.facts import Facts, duties_of, gather
from jambset.engine.kinds import by_use, circumstances, not_yet, passed_over
from jambset.engine.labour import OFF_HINGES, Work, work_of
from jambset.engine.lines import AIR, EDGES
from jambset.engine.outlook import outlook
from jambset.engine.regime import Regime
from jambset.engine.scenarios import Choice, Table, as_ordered, as_wanted, cuts_later, plan_of, situation, stand_of
from jambset.engine.stakes import stakes
from jambset.engine.steps import Steps, whole
from jambset.engine.taken import taken
from jambset.engine.tasks import tasks
from jambset.model import request
from jambset.model.advice import Advice, AirAdvice, Assumption, Check, Citation, TransitionAdvice
from jambset.model.request import Certainty, FrameState, Opening, Side
from jambset.model.version import VERSION
from jambset.rules.schema import Catalogue, Measured
from jambset.rules.select import Selection, select

DIGEST_LENGTH = 32


def assess(opening: Opening, catalogue: Catalogue) -> Advice:
    """The whole advice for one opening; the same for the same opening and catalogue, byte for byte.

    Raises InvalidRequest, with every field that is wrong, for a readable opening that makes no sense.
    """
    return whole(assessing(opening, catalogue))


def assessing(opening: Opening, catalogue: Catalogue) -> Steps[Advice]:
    """The same in steps, between which it rests."""
    prepared = prepare(opening, catalogue)
    yield
    yield from pricing(prepared)
    return (yield from advising(prepared, catalogue, choice=choose(prepared)))


class Prepared(Struct, frozen=True, eq=False):
    """An opening with its rules and its prices, before its setting is chosen.

    table: the prices of its settings, None where they aren't asked for or can't be told.
    """

    facts: Facts
    selection: Selection
    work: Work
    table: Table | None


def prepare(opening: Opening, catalogue: Catalogue, *, price: bool = False) -> Prepared:
    """All that can be told of an opening before its setting is chosen. price: also where its floors are certain.

    Raises InvalidRequest, with every field that is wrong, for a readable opening that makes no sense.
    """
    facts = gather(opening, catalogue)
    selection = rules_for(opening, catalogue)
    work = work_of(facts, catalogue)
    plan = plan_of(facts, selection, catalogue, work) if facts.weighed or price else None
    return Prepared(facts, selection, work, None if plan is None else Table(plan))


def pricing(prepared: Prepared) -> Steps[None]:
    """Every setting priced that an opening is chosen from, and a rest after each: on a fine tape they are hundreds."""
    if prepared.table is not None and prepared.facts.weighed:
        for setting in prepared.table.plan.candidates:
            prepared.table.at(setting)
            yield


def choose(prepared: Prepared) -> Choice | None:
    """The setting an opening is given on its own; None where the floors named decide it."""
    return prepared.table.best() if prepared.table is not None and prepared.facts.weighed else None


def advising(
    prepared: Prepared, catalogue: Catalogue, *, choice: Choice | None = None, why: str = FLOORS
) -> Steps[Advice]:
    """The advice for a prepared opening. choice: what was chosen for it, and why; None: what its floors decide."""
    facts = prepared.facts
    opening = facts.opening
    table = prepared.table if choice is not None and facts.weighed else None
    result = settle_opening(prepared, catalogue, choice=choice, why=why)
    yield
    if table is not None and table.plan.pricing.ordered and why == FLOORS and wants_head(result):
        result = Result(result.at, (yield from _under_any_header(result.decision, prepared, catalogue)))
    cut = plan_cut(result.at, result.decision)
    checks = check_all(result)
    lost = missed(checks)
    yield
    held = rules_of(checks)
    air_advice = air_of(result, held)
    worth = {} if table is None else stakes(table)
    asked = asks.questions(result, checks, worth, later=table is None or result.decision.cut_later)
    open_ = unanswered(asked, opening)
    conflicts = conflicts_of(result, lost, air_advice, partial(_decided, prepared, catalogue), catalogue)
    yield
    flooring = report.flooring(result)
    verdict = asks.verdict(result, lost, conflicts, open_)
    lifting = handling.cautions(facts, catalogue, off=cut.where == OFF_HINGES)
    cautions = (*asks.cautions(result), *asks.wall_cautions(facts), *lifting)
    digest = input_digest(opening)
    yield
    jobs = tasks(result, cut, flooring, open_, conflicts, prepared.work.people, catalogue)
    sources = sources_of(result, (*held, *[c.code for c in cautions]))
    if lifting:
        sources += handling.sources(facts.opening, catalogue)
    yield
    wanted = result.decision.to_order
    prospect, pairs = (UNSET, ()) if table is None or choice is None else outlook(table, choice, to_order=wanted)
    framing, order, setting = report.framing(result), report.order(result), report.setting(result)
    leaf, clearance = report.leaf(result, cut, catalogue), report.clearance(result)
    transition = transition_of(result, held)
    around = circumstances(facts, prepared.selection)
    yield
    return Advice(
        advice_id=advice_id(digest, catalogue, *_of_house(choice, why)),
        mark=opening.mark,
        external_id=opening.external_id,
        verdict=verdict,
        summary=report.summary(result, cut, verdict, asks.waits(conflicts, open_), leaf.uncut),
        jurisdiction=opening.jurisdiction,
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        input_digest=digest,
        as_of=UNSET if opening.as_of is UNSET else opening.as_of.isoformat(),
        taken=taken(facts, catalogue),
        framing=framing,
        order=order,
        setting=setting,
        leaf=leaf,
        clearance=clearance,
        air=air_advice,
        flooring=flooring,
        transition=transition,
        outlook=prospect,
        scenarios=pairs,
        checks=checks,
        conflicts=conflicts,
        questions=open_,
        assumptions=(
            *facts.assumptions,
            *by_word(asked, opening),
            *report.finer_tape(result),
            *report.labour(opening, priced=table is not None),
            *(
                report.age(passed_over(prepared.selection, around), flooring, cut=bool(cut.where))
                if cut.where or opening.frame.state is FrameState.SET
                else ()
            ),
            *report.use(by_use(prepared.selection, around)),
            *of_permit(facts, catalogue),
        ),
        cautions=cautions,
        tasks=jobs,
        sources=sources,
        notice=report.notice(opening, catalogue),
    )


def _decided(prepared: Prepared, catalogue: Catalogue, facts: Facts) -> Decision:
    """The decision for the named floors alone, by other facts of the frame and its header."""
    return decide(situation(facts, prepared.selection, catalogue), prepared.work)


def _under_any_header(decision: Decision, prepared: Prepared, catalogue: Catalogue) -> Steps[Decision]:
    """The decision of a unit still to be ordered, with the undercut it would have were its header no limit."""
    facts = replace(prepared.facts, header=None)
    plan = plan_of(facts, prepared.selection, catalogue, prepared.work)
    assert plan is not None  # as under the present header
    table = Table(plan)
    yield from pricing(replace(prepared, facts=facts, table=table))
    return as_wanted(decision, table)


def _of_house(choice: Choice | None, why: str) -> tuple[object, ...]:
    """What of an answer follows from the house: nothing where the opening is set as it would be alone."""
    return () if choice is None or why == FLOORS else (why, choice.setting, choice.trim)


def settle_opening(
    prepared: Prepared, catalogue: Catalogue, *, choice: Choice | None = None, why: str = FLOORS
) -> Result:
    """The decision for a prepared opening, held to a choice where one was made, and what follows for the air."""
    facts, table = prepared.facts, prepared.table
    if choice is None and table is not None and table.plan.own is not None and facts.as_set is None:
        return Result(*table.plan.own)
    at = situation(facts, prepared.selection, catalogue)
    if choice is None or table is None:
        return Result(at, decide(at, prepared.work))
    decision = decide(at, prepared.work, stand_of(table, choice, why))
    if table.plan.pricing.ordered:
        decision = as_ordered(decision, table, choice, why=why)
    if not facts.weighed:
        return Result(at, decision)
    later = cuts_later(table, choice)
    if decision.trim is None and decision.undercut is not None and not later:
        decision = replace(decision, trim=choice.trim, bottom=decision.foot + decision.undercut + choice.trim)
    return Result(at, replace(decision, cut_now=choice.trim, cut_later=later))


def rules_for(opening: Opening, catalogue: Catalogue) -> Selection:
    """The rules in force for an opening's place, duties and permit date."""
    as_of = None if opening.as_of is UNSET else opening.as_of
    return select(catalogue, jurisdiction=opening.jurisdiction, duties=duties_of(opening), as_of=as_of)


def of_permit(facts: Facts, catalogue: Catalogue) -> tuple[Assumption, ...]:
    """What is assumed for want of the rules that held at a permit date; nothing where none is stated."""
    opening = facts.opening
    if opening.as_of is UNSET:
        return ()
    latest = select(catalogue, jurisdiction=opening.jurisdiction, duties=facts.duties, as_of=None)
    return report.permit(not_yet(facts, rules_for(opening, catalogue), latest), opening.as_of.isoformat())


def rules_of(checks: Iterable[Check]) -> tuple[str, ...]:
    """The rules of checks, one for each check: what the rest of an advice rests on."""
    return tuple(map(_RULE, checks))


_RULE = attrgetter("rule")


def air_of(result: Result, held: tuple[str, ...]) -> AirAdvice:
    """What passes the closed door of a result, and the rules on it. held: the rules of its checks."""
    slot = result.slot
    if slot is None:
        return AirAdvice(density_kg_m3=round(result.at.air.density, 4))
    regime = result.at.regime
    return air.advise(
        result.at.facts,
        result.at.air,
        gap=slot,
        pressure=result.pressure,
        barred=regime.barred,
        prescribed=prescribed_ways(result),
        rules=_on(regime, held, AIR),
    )


def transition_of(result: Result, held: tuple[str, ...]) -> TransitionAdvice | UnsetType:
    """What joins the floors of a result, and the rules on its edge; nothing while one is undecided.

    held: the rules of its checks.
    """
    joint = result.at.joint
    if joint is None:
        return UNSET
    return transition.advise(joint, result.at.facts, governed_by=_on(result.at.regime, held, EDGES))


def sources_of(result: Result, rules: tuple[str, ...]) -> tuple[Citation, ...]:
    """Sources of some rules, strongest first; ids that are no rule in force, as of some cautions, have none here."""
    return _cited(result.at.regime, rules)


# Openings of a kind are held to the same rules, so these are found once.


@lru_cache(maxsize=1024)
def _on(regime: Regime, held: tuple[str, ...], measured: frozenset[Measured]) -> tuple[str, ...]:
    return tuple([rule for rule in held if regime.by_id[rule].rule.measured in measured])


@lru_cache(maxsize=1024)
def _cited(regime: Regime, rules: tuple[str, ...]) -> tuple[Citation, ...]:
    used = frozenset(rules)
    return tuple([citation for rule, citation in regime.citations if rule in used])


_CANONICAL = msgspec.json.Encoder(enc_hook=pos)
"""Writes quantities as plain numbers, in ticks and SI units: unary plus of a Length or SiFloat is an int or float."""


def _stated_default() -> re.Pattern[bytes]:
    """A member as good as left out: an object without members, or a float at its default.

    msgspec leaves out other defaults by itself.
    """
    kinds = [kind for kind in vars(request).values() if isinstance(kind, type) and issubclass(kind, Struct)]
    floats = [(f.name, f.default) for kind in kinds for f in fields(kind) if isinstance(f.default, float)]
    numbers = [f'{name}":{re.escape(repr(value))}' for name, value in floats]
    return re.compile(("," + '"(?:' + "|".join([r"\w+\":{}", *numbers]) + ")(?=[,}])").encode())


_STATED_DEFAULT = _stated_default()


def input_digest(opening: Opening) -> str:
    """Hash of what was asked: the same for the same opening in other units, spacing, order of fields or of duties.

    Nor does it matter whether a default is stated.
    """
    if len(opening.duties) > 1:
        opening = replace(opening, duties=tuple(sorted(opening.duties)))
    if opening.pull_side.certainty is not UNSET or opening.push_side.certainty is not UNSET:
        opening = replace(opening, pull_side=_plain(opening.pull_side), push_side=_plain(opening.push_side))
    asked = _STATED_DEFAULT.sub(b"", _CANONICAL.encode(opening))
    return "sha256:" + hashlib.sha256(asked).hexdigest()


def _plain(side: Side) -> Side:
    """A side without a certainty that it has by default."""
    default = Certainty.ASSUMED if side.could_become else Certainty.CONFIRMED
    return replace(side, certainty=UNSET) if side.certainty is default else side


def advice_id(digest: str, catalogue: Catalogue, *decided: object) -> str:
    """Name of an answer, from the hash of what was asked: the same for the same question, rules and version.

    decided: what else the answer follows from, such as a setting chosen for a house.
    """
    told = " ".join([digest, catalogue.digest, VERSION, *map(str, decided)])
    return hashlib.sha256(told.encode()).hexdigest()[:DIGEST_LENGTH]
