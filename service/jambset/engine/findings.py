"""What somebody would see, hear or measure of a unit that misses rules: each thing once, by the strongest rule."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import UNSET, UnsetType

from jambset.engine.checks import shortfall
from jambset.engine.facts import PULL, SideFacts
from jambset.engine.lines import AIR, BELOW, EDGES, MISSED, Fixed
from jambset.engine.standing import Judged, rooms
from jambset.engine.words import beside, leg_names
from jambset.model.advice import Check, Phrase, Term
from jambset.model.recheck import Finding
from jambset.model.source import NEVER_RELAXED
from jambset.quantity.ticks import Length
from jambset.rules.schema import Measured, Relation, Topic


def findings(judged: Judged) -> tuple[Finding, ...]:
    """Everything that is missed, what the strongest rule says first."""
    found: dict[tuple[object, ...], Finding] = {}
    for check in judged.checks:
        if check.status in MISSED:
            for key, finding in _findings(check, judged):
                found.setdefault(key, finding)
    return tuple(found.values())


def gap(judged: Judged, side: str | UnsetType) -> int:
    """What is left under the leaf at the thickest floor of a side, or over the piece [ticks]."""
    places = {PULL: Fixed.PULL_TOP, UNSET: Fixed.PIECE}
    return judged.unit.bottom - judged.result.at.fixed[places.get(side, Fixed.PUSH_TOP)]


def shown(judged: Judged, side: SideFacts) -> tuple[int, int]:
    """How far each leg ends above the least top of a side's floor [ticks]; below 0 where it is hidden."""
    top = 0 if side.floor is None else side.floor.least
    hinge, strike = rooms(judged.unit, judged.facts.ground)
    return hinge - top, strike - top


Keyed = tuple[tuple[object, ...], Finding]
"""A finding, and what two findings that tell the same thing have in common."""


def _findings(check: Check, judged: Judged) -> Iterator[Keyed]:
    rule = judged.result.at.regime.by_id[check.rule].rule
    if check.quantity in BELOW and rule.relation is Relation.AT_LEAST:
        yield _under(check, judged)
    elif check.quantity in BELOW:
        much = rule.topic in (Topic.FIRE, Topic.SMOKE) or rule.force in NEVER_RELAXED
        yield _told("much_air" if much else "wide", check, judged, check.side)
    elif check.quantity == Measured.LEG_COVER and isinstance(check.actual, Length) and check.actual < 0:
        yield from _legs(check, judged)
    elif check.quantity == Measured.TRIM:
        code = "overcut.listed" if rule.topic is Topic.FIRE else "overcut"
        yield _told("other", check, judged, check.rule, code=code)
    elif check.quantity in AIR:
        yield _told("little_air", check, judged, check.quantity)
    else:
        yield _told("edge" if check.quantity in EDGES else "other", check, judged, check.rule, check.side)


def _under(check: Check, judged: Judged) -> Keyed:
    """Too little under the leaf: it rubs where nothing is left."""
    left = gap(judged, check.side)
    if left > 0:
        return _told("tight", check, judged, check.side)
    code = "finding.rubs" if left else "finding.touches"
    text = Phrase(code, amount=Length(-left), top=_top(check, judged))
    return ("rubs", check.side), Finding(
        kind="rubs", side=check.side, rule=check.rule, force=check.force, amount=Length(-left), text=text
    )


def _told(kind: str, check: Check, judged: Judged, *same: object, code: str = "") -> Keyed:
    short = shortfall(check)
    rule = judged.result.at.regime.by_id[check.rule].rule
    text = Phrase(
        f"finding.{code or kind}" if short is not UNSET else "finding.unmet",
        rule=Term(rule.title),
        amount=short,
        actual=check.actual,
        gap=Length(gap(judged, check.side) if check.quantity in BELOW else 0),
        where=_where(check, judged),
    )
    return (kind, *same), Finding(
        kind=kind, side=check.side, rule=check.rule, force=check.force, amount=short, text=text
    )


def _legs(check: Check, judged: Judged) -> Iterator[Keyed]:
    """Legs that end above a finish: together where they show the same, else each that shows."""
    side = judged.facts.pull if check.side == PULL else judged.facts.push
    hinge, strike = shown(judged, side)
    legs = [("", hinge)] if hinge == strike else list(zip(leg_names(judged.facts), (hinge, strike), strict=True))
    for leg, shows in legs:
        if shows <= 0:
            continue
        text = Phrase(
            "finding.shows_leg" if leg else "finding.shows",
            leg=Phrase(f"leg.{leg or 'hinge'}"),
            amount=Length(shows),
            where=_where(check, judged),
        )
        yield (
            ("shows", check.side, leg),
            Finding(
                kind="shows",
                side=check.side,
                leg=f"{leg}_leg" if leg else UNSET,
                rule=check.rule,
                force=check.force,
                amount=Length(shows),
                text=text,
            ),
        )


def _top(check: Check, judged: Judged) -> Phrase:
    """What the leaf rubs on."""
    if check.side is UNSET:
        return Phrase(f"place.top.{_between(judged)}")
    return Phrase("place.top.floor", where=_where(check, judged))


def _where(check: Check, judged: Judged) -> Phrase:
    if check.side is UNSET:
        return Phrase(f"place.{_between(judged)}")
    return beside(judged.facts.pull if check.side == PULL else judged.facts.push)


def _between(judged: Judged) -> str:
    """What lies in the doorway: a piece, or the floor that runs through."""
    joint = judged.result.at.joint
    return "doorway" if joint is not None and joint.runs_through else "piece"
