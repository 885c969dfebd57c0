"""Every rule against a vector worked by hand from its source; figures of the catalogue are never read back."""

from __future__ import annotations

import datetime
import tomllib
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import msgspec
import pytest

from jambset.model.request import Duty
from jambset.model.source import Force, Verified
from jambset.quantity.parse import dec_hook, read_quantity
from jambset.quantity.ticks import Area, Flow, Length, Pressure
from jambset.rules.bounded import LENGTHS
from jambset.rules.load import load_catalogue
from jambset.rules.schema import Measured, Phase, Relation, Rule, When
from jambset.rules.select import limit_of, select, within

CATALOGUE = load_catalogue()
RULES = {rule.id: rule for rows in CATALOGUE.rules.values() for rule in rows}
FOLDERS = {rule.id: code.lower() or "common" for code, rows in CATALOGUE.rules.items() for rule in rows}
HEIRS = {"common": {"US", "US-FL", "GB-ENG"}, "us": {"US", "US-FL"}, "us-fl": {"US-FL"}, "gb-eng": {"GB-ENG"}}
"""By folder, the places where its rules hold."""
PLACES = HEIRS["common"]
COMPARED = (Relation.AT_LEAST, Relation.AT_MOST)
KINDS: dict[Measured, Any] = {
    **dict.fromkeys(LENGTHS, Length),
    Measured.FREE_AREA: Area,
    Measured.DISTURBED_AREA: Area,
    Measured.ROOM_PRESSURE: Pressure,
}

NAMES = {
    "2010 ADA Standards": "ada-2010",
    "29 CFR 1926": "osha-1926",
    "40 CFR 745": "us-epa-rrp",
    "Approved Document F": "approved-document-f",
    "Approved Document M": "approved-document-m",
    "BS 8214": "bs-8214",
    "EPA Region 6 list": "us-epa-asbestos-list",
    "FSEC-RR-140-06": "fsec-rr-140-06",
    "Fair Housing Accessibility Guidelines": "fha-guidelines",
    "Florida mechanical": "florida-building-code",
    "IBC": "ibc",
    "ICC A117.1": "a117-1",
    "IFGC": "ifgc",
    "IMC": "imc",
    "IRC": "irc",
    "NFPA 80": "nfpa-80",
    "NHBC Standards": "nhbc-standards",
    "US Department of Energy guide": "doe-undercut-doors",
    "common practice, no source": "common-practice",
    "fire door guidance": "gov-fire-door-guidance",
    "rater field checklist": "energy-star-homes",
    "required indoor volume": "us-required-volume",
    "textbook of 1916": "carpentry-1916",
}
"""What vectors call a document by."""


class Case(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    actual: str
    status: str


class Vector(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    rule: str
    source: str
    force: Force
    place: str
    first: datetime.date
    measured: Measured = Measured.STATEMENT
    binding: bool = False
    beside: bool = False
    holds: tuple[Phase, ...] = ()
    duties: frozenset[Duty] = frozenset()
    barred: frozenset[Duty] = frozenset()
    only: dict[str, Any] = {}
    limit: str = ""
    cases: tuple[Case, ...] = ()


def _vectors() -> list[Vector]:
    table = tomllib.loads((Path(__file__).parent / "vectors.toml").read_text("utf-8"))
    return msgspec.convert(table["vector"], list[Vector])


VECTORS = _vectors()
each = pytest.mark.parametrize("vector", VECTORS, ids=[vector.rule for vector in VECTORS])


def _value(rule: Rule, text: str) -> float:
    """What a vector states: a quantity, "1 in 12", "1/4 in over 1/2 in" or "50 in2 per 100 cfm"."""
    if rule.measured in KINDS:
        value: float = read_quantity(KINDS[rule.measured], text)
        return value
    if " per " in text:
        area, flow = text.split(" per ")
        return read_quantity(Area, area) / read_quantity(Flow, flow)
    if " over " in text:
        rise, run = (read_quantity(Length, part) for part in text.split(" over "))
        return rise / run
    rise_text, run_text = text.split(" in ")
    return float(Fraction(int(rise_text), int(run_text)))


def _in_force(place: str, duties: frozenset[Duty], as_of: datetime.date | None) -> set[str]:
    selection = select(CATALOGUE, jurisdiction=place, duties=duties, as_of=as_of)
    return {applied.rule.id for applied in selection.rules}


def test_every_rule_has_one_vector_and_every_vector_a_rule() -> None:
    assert Counter(vector.rule for vector in VECTORS) == Counter(RULES.keys())


def test_the_rules_of_every_place_hold_where_this_file_says() -> None:
    assert CATALOGUE.jurisdictions.keys() == PLACES
    assert {"common", *map(str.lower, PLACES)} == HEIRS.keys()


@each
def test_the_limit_is_what_the_source_states(vector: Vector) -> None:
    rule = RULES[vector.rule]
    limit = limit_of(rule)
    if not vector.limit:
        assert limit is None
        return
    stated = read_quantity(Length, vector.limit) if rule.formula else _value(rule, vector.limit)
    assert limit == (stated if rule.measured in LENGTHS else pytest.approx(stated, rel=1e-6))


@each
def test_it_is_as_strong_as_its_source_and_bounds_what_that_names(vector: Vector) -> None:
    rule = RULES[vector.rule]
    stated = (vector.force, vector.measured, vector.binding, vector.holds)
    assert (rule.force, rule.measured, rule.binding, rule.holds) == stated
    assert rule.drives is not vector.beside


@each
def test_it_cites_its_source_and_says_whether_that_was_read(vector: Vector) -> None:
    rule = RULES[vector.rule]
    assert rule.document in [known for name, known in NAMES.items() if vector.source.startswith(name)]
    seen = Verified.QUOTED if "as quoted" in vector.source else Verified.READ
    assert rule.verified is (Verified.NONE if rule.document == "common-practice" else seen)


@each
def test_what_must_pass_passes_and_what_must_fail_fails(vector: Vector) -> None:
    rule = RULES[vector.rule]
    limit = limit_of(rule) or 0  # without a value it has no cases
    met = {case: within(rule.relation, actual=_value(rule, case.actual), limit=limit) for case in vector.cases}
    found = {case: "pass" if met[case] else "fail" for case in vector.cases}
    assert found == {case: case.status for case in vector.cases}
    assert {case.status for case in vector.cases} == ({"pass", "fail"} if rule.relation in COMPARED else set())


@each
def test_it_holds_where_its_place_says_and_nowhere_else(vector: Vector) -> None:
    places = {place for place in PLACES if vector.rule in _in_force(place, vector.duties, None)}
    assert FOLDERS[vector.rule] == vector.place
    assert places == HEIRS[vector.place]


@each
def test_it_holds_from_its_first_day_on(vector: Vector) -> None:
    place = min(HEIRS[vector.place])
    assert vector.rule in _in_force(place, vector.duties, vector.first)
    assert vector.rule not in _in_force(place, vector.duties, vector.first - datetime.timedelta(days=1))


@each
def test_it_holds_for_its_duties_only(vector: Vector) -> None:
    place = min(HEIRS[vector.place])
    assert (vector.rule in _in_force(place, frozenset(), None)) is (not vector.duties)
    assert [duty for duty in vector.barred if vector.rule in _in_force(place, vector.duties | {duty}, None)] == []
    assert set(RULES[vector.rule].when.without) == vector.barred


@each
def test_its_other_conditions_are_those_of_the_source(vector: Vector) -> None:
    expected = msgspec.convert(vector.only, When, dec_hook=dec_hook)
    when = msgspec.structs.replace(RULES[vector.rule].when, duties=(), without=(), any_duty=())
    assert when == expected


@each
def test_the_rule_says_its_limit_in_words(vector: Vector) -> None:
    rule = RULES[vector.rule]
    if vector.limit and limit_of(rule):
        assert vector.limit in rule.text


def test_a_ratio_and_its_case_are_read_alike() -> None:
    ramp = RULES["us-ada-ramp"]
    assert _value(ramp, "1 in over 12 in") == _value(ramp, "1 in 12") == limit_of(ramp)
