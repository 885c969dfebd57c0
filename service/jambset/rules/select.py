"""Which rules hold for a place, duties and a permit date. Pure; worked out once for each such triple."""

from __future__ import annotations

import datetime
from bisect import bisect_right
from functools import lru_cache

import msgspec
from msgspec import UNSET

from jambset.model.advice import Citation, quote
from jambset.model.request import Duty
from jambset.model.source import STRENGTH
from jambset.rules.schema import Catalogue, Edition, Relation, Rule

COMMON = ""
"""Key of the rules that hold everywhere."""


class Applied(msgspec.Struct, frozen=True, eq=False):
    """A rule in force here, the value it sets, its citation, and its place: construction, force, rank, id."""

    rule: Rule
    limit: int | float | None
    citation: Citation
    order: tuple[bool, int, int, str]


def placed(rule: Rule, citation: Citation) -> Applied:
    """A rule with the place it takes among others, strongest first."""
    order = (not rule.binding, STRENGTH[rule.force], rule.rank, rule.id)
    return Applied(rule, limit_of(rule), citation, order)


class Selection(msgspec.Struct, frozen=True, eq=False):
    """The rules in force for an opening's place and duties, strongest first, and whether any asks for more facts.

    asks_flow: for the air supplied. asks_bodies: for what finishes are made of. asks_heated: for floors with a heating.
    """

    rules: tuple[Applied, ...]
    asks_flow: bool
    asks_bodies: bool
    asks_heated: bool


def lineage(catalogue: Catalogue, code: str) -> tuple[str, ...]:
    """Folders whose rules hold in a jurisdiction: the common ones, its parents, itself. Raises KeyError."""
    place = catalogue.jurisdictions[code]
    above = (COMMON,) if place.parent is UNSET else lineage(catalogue, place.parent)
    return (*above, code)


def edition_at(rule: Rule, as_of: datetime.date | None) -> Edition | None:
    """The edition a permit of that day is held to: the latest one not after it; without a day, the latest."""
    known = [e for e in rule.editions if as_of is None or e.since <= as_of]
    return known[-1] if known else None


def limit_of(rule: Rule) -> int | float | None:
    """The value a rule sets: ticks for lengths, m², Pa or a ratio; None where it sets none."""
    for value in (rule.length, rule.area, rule.pressure, rule.ratio):
        if value is not UNSET:
            return value
    return None


def within(relation: Relation, *, actual: float, limit: float) -> bool:
    """Whether a value stands in the relation to the limit, the limit included; lengths compare as exact ticks."""
    return actual >= limit if relation is Relation.AT_LEAST else actual <= limit


def select(
    catalogue: Catalogue, *, jurisdiction: str, duties: frozenset[Duty], as_of: datetime.date | None
) -> Selection:
    """Rules in force. Raises KeyError for a jurisdiction the catalogue doesn't know."""
    days = _days(catalogue)
    latest = days[-1] if as_of is None else days[max(0, bisect_right(days, as_of) - 1)]
    return _select(catalogue, jurisdiction, duties, latest)


def first_day(catalogue: Catalogue) -> datetime.date:
    """The first day on which a rule of the catalogue holds."""
    return next(iter(_days(catalogue)[1:]), datetime.date.min)


@lru_cache(maxsize=16)
def _days(catalogue: Catalogue) -> list[datetime.date]:
    """The days on which an edition takes effect, after one before them all: between two of them nothing changes."""
    rules = (rule for place in catalogue.rules.values() for rule in place)
    return sorted({datetime.date.min, *[edition.since for rule in rules for edition in rule.editions]})


@lru_cache(maxsize=1024)
def _select(catalogue: Catalogue, jurisdiction: str, duties: frozenset[Duty], as_of: datetime.date) -> Selection:
    found = (
        placed(rule, _cite(catalogue, rule, edition))
        for place in lineage(catalogue, jurisdiction)
        for rule in catalogue.rules.get(place, ())
        if _for_duties(rule, duties) and (edition := edition_at(rule, as_of)) is not None
    )
    rules = tuple(sorted(found, key=lambda a: a.order))
    whens = [a.rule.when for a in rules]
    return Selection(
        rules,
        asks_flow=any(when.flow_at_least is not UNSET or when.flow_below is not UNSET for when in whens),
        asks_bodies=any(when.bodies for when in whens),
        asks_heated=any(when.heated for when in whens),
    )


def _for_duties(rule: Rule, duties: frozenset[Duty]) -> bool:
    when = rule.when
    return (
        duties.issuperset(when.duties)
        and duties.isdisjoint(when.without)
        and (not when.any_duty or not duties.isdisjoint(when.any_duty))
    )


def _cite(catalogue: Catalogue, rule: Rule, edition: Edition) -> Citation:
    return Citation(
        rule=rule.id,
        title=quote(rule.title),
        document=quote(catalogue.documents[rule.document].title),
        clause=quote(edition.clause),
        edition=quote(edition.edition),
        force=rule.force,
        verified=rule.verified,
    )
