"""One opening, start to finish: the list of steps."""

from __future__ import annotations

import hashlib
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from jambset.engine import air, asks, report, transition
from jambset.engine.bounds import Situation, fixed_heights
from jambset.engine.checks import Result, check_all
from jambset.engine.decide import decide, plan_cut
from jambset.engine.facts import Facts, duties_of, gather
from jambset.engine.kinds import kind_of
from jambset.engine.regime import regime
from jambset.engine.tasks import tasks
from jambset.model.advice import Advice, AirAdvice, Check, Citation, Phrase
from jambset.model.request import Opening
from jambset.model.version import VERSION
from jambset.rules.schema import Catalogue, Measured
from jambset.rules.select import Selection, select

DIGEST_LENGTH = 32


def assess(opening: Opening, catalogue: Catalogue) -> Advice:
    """The whole advice for one opening; the same for the same opening and catalogue, byte for byte.

    Raises InvalidRequest, with every field that is wrong, for a readable opening that makes no sense.
    """
    facts = gather(opening, catalogue)
    selection = rules_for(opening, catalogue)
    result = settle_opening(facts, selection, catalogue)
    cut = plan_cut(result.at, result.decision)
    checks = check_all(result)
    air_advice = _air(result, checks)
    open_ = asks.questions(result, checks)
    conflicts = asks.conflicts(result, checks, air_advice)
    flooring = report.flooring(result)
    verdict = asks.verdict(result, checks, conflicts, open_)
    cautions = asks.cautions(result)
    joint = result.at.joint
    digest = input_digest(opening)
    return Advice(
        advice_id=_id(digest, catalogue),
        mark=opening.mark,
        external_id=opening.external_id,
        verdict=verdict,
        summary=report.summary(result, cut, verdict),
        jurisdiction=opening.jurisdiction,
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        input_digest=digest,
        as_of=UNSET if isinstance(opening.as_of, UnsetType) else opening.as_of.isoformat(),
        framing=report.framing(result),
        order=report.order(result),
        setting=report.setting(result),
        leaf=report.leaf(result, cut),
        clearance=report.clearance(result),
        air=air_advice,
        flooring=flooring,
        transition=UNSET if joint is None else transition.advise(joint, facts, governed_by=_on(checks, _EASING)),
        checks=checks,
        conflicts=conflicts,
        questions=open_,
        assumptions=(*facts.assumptions, *report.finer_tape(result)),
        cautions=cautions,
        tasks=tasks(result, cut, flooring, open_, conflicts, catalogue),
        sources=_sources(result, checks, {c.code for c in cautions}),
        notice=Phrase("notice", adoption=Phrase("quote", text=catalogue.jurisdictions[opening.jurisdiction].adoption)),
    )


def rules_for(opening: Opening, catalogue: Catalogue) -> Selection:
    """The rules in force for an opening's place, duties and permit date."""
    as_of = None if isinstance(opening.as_of, UnsetType) else opening.as_of
    return select(catalogue, jurisdiction=opening.jurisdiction, duties=duties_of(opening), as_of=as_of)


def settle_opening(facts: Facts, selection: Selection, catalogue: Catalogue) -> Result:
    """Facts and rules to a decision."""
    rules = regime(selection, kind_of(facts, selection))
    joint = transition.join(facts, rules, catalogue)
    at = Situation(facts, rules, joint, air.air_facts(facts, rules.pressure_limit), fixed_heights(facts, joint))
    return Result(at, decide(at, catalogue.labour))


_EASING = frozenset(
    {
        Measured.VERTICAL_EDGE,
        Measured.BEVEL_SLOPE,
        Measured.UNRAMPED_CHANGE,
        Measured.RAMP_SLOPE,
        Measured.THRESHOLD_HEIGHT,
    }
)
_AIR = frozenset({Measured.ROOM_PRESSURE, Measured.FREE_AREA})


def _air(result: Result, checks: tuple[Check, ...]) -> AirAdvice:
    slot = result.slot
    if slot is None:
        return AirAdvice(density_kg_m3=round(result.at.air.density, 4))
    return air.advise(
        result.at.facts,
        result.at.air,
        gap=slot,
        pressure=result.pressure,
        barred=result.at.regime.barred,
        prescribed=result.at.regime.prescribed,
        most=result.at.regime.greatest_gap if result.at.regime.gap_caps else None,
        rules=_on(checks, _AIR),
    )


def _on(checks: tuple[Check, ...], measured: frozenset[Measured]) -> tuple[str, ...]:
    return tuple(check.rule for check in checks if check.quantity in measured)


def _sources(result: Result, checks: tuple[Check, ...], cautioned: set[str]) -> tuple[Citation, ...]:
    used = {check.rule for check in checks} | cautioned
    return tuple([citation for rule, citation in result.at.regime.citations if rule in used])


def _plain(value: Any) -> Any:
    return int(value) if isinstance(value, int) else float(value)


_CANONICAL = msgspec.json.Encoder(enc_hook=_plain, order="deterministic")


def input_digest(opening: Opening) -> str:
    """Hash of what was asked: the same for the same opening in other units, spacing, order of fields or of duties."""
    if len(opening.duties) > 1:
        opening = replace(opening, duties=tuple(sorted(opening.duties)))
    return "sha256:" + hashlib.sha256(_CANONICAL.encode(opening)).hexdigest()


def _id(digest: str, catalogue: Catalogue) -> str:
    return hashlib.sha256(f"{digest} {catalogue.digest} {VERSION}".encode()).hexdigest()[:DIGEST_LENGTH]
