"""Which rules hold where and when."""

from __future__ import annotations

import datetime

import pytest
from msgspec.structs import replace
from tests.openings import catalogue

from jambset.model.advice import quote
from jambset.model.request import Duty
from jambset.quantity.ticks import Flow
from jambset.rules.schema import Rule, When
from jambset.rules.select import edition_at, lineage, select


def rule(name: str) -> Rule:
    return next(row for rows in catalogue().rules.values() for row in rows if row.id == name)


def test_a_state_inherits_from_its_country_and_all_from_what_is_common() -> None:
    assert lineage(catalogue(), "US-FL") == ("", "US", "US-FL")
    assert lineage(catalogue(), "GB-ENG") == ("", "GB-ENG")
    with pytest.raises(KeyError, match="FR"):
        lineage(catalogue(), "FR")


def test_a_permit_is_held_to_the_edition_of_its_day() -> None:
    # NFPA 80's list of site work stood in 4.1.3 until 2016 and in 5.1.5.2 in 2022, as quoted
    trim = rule("us-fire-trim-wood")
    clauses = [edition_at(trim, datetime.date(year, 6, 1)) for year in (2000, 2010, 2023)]
    assert clauses[0] is None
    assert clauses[1] is not None
    assert clauses[2] is not None
    assert "4.1.3" in clauses[1].clause
    assert "5.1.5.2" in clauses[2].clause
    assert edition_at(trim, None) == clauses[2]


def test_the_strongest_rules_come_first() -> None:
    found = select(catalogue(), jurisdiction="US", duties=frozenset(), as_of=None).rules
    assert [a.order for a in found] == sorted(a.order for a in found)
    assert [a.rule.binding for a in found] == sorted((a.rule.binding for a in found), reverse=True)


def test_each_day_has_the_editions_that_were_out_and_no_other() -> None:
    """Days around every one on which an edition took effect; only those, for nothing changes in between."""
    rules = [row for rows in catalogue().rules.values() for row in rows]
    days = {edition.since for row in rules for edition in row.editions}
    duties = frozenset({Duty.FIRE_LABEL})
    everywhere = {row.id for place in lineage(catalogue(), "US-FL") for row in catalogue().rules[place]}
    for day in sorted(days):
        for shift in (-1, 0, 1):
            on = day + datetime.timedelta(shift)
            found = select(catalogue(), jurisdiction="US-FL", duties=duties, as_of=on).rules
            told = {a.rule.id: (a.citation.edition, a.citation.clause) for a in found}
            out = {row.id: edition_at(row, on) for row in rules if row.id in everywhere and _for(row, duties)}
            named = {name: (one.edition, one.clause) for name, one in out.items() if one is not None}
            assert told == {name: (quote(edition), quote(clause)) for name, (edition, clause) in named.items()}, on


def _for(row: Rule, duties: frozenset[Duty]) -> bool:
    when = row.when
    return (
        duties >= {*when.duties}
        and not duties & {*when.without}
        and (not when.any_duty or bool(duties & {*when.any_duty}))
    )


def test_one_of_several_duties_is_enough_where_a_rule_says_so() -> None:
    any_of = When(any_duty=(Duty.FIRE_LABEL, Duty.SMOKE_CONTROL))
    rated = replace(rule("gap.most"), id="rated", when=any_of)
    held = replace(catalogue(), rules={**catalogue().rules, "": (rated,), "US": ()})
    for duties in (set(), {Duty.TRANSFER_AIR}, {Duty.FIRE_LABEL}, {Duty.SMOKE_CONTROL, Duty.TRANSFER_AIR}):
        found = select(held, jurisdiction="US", duties=frozenset(duties), as_of=None).rules
        assert [a.rule.id for a in found] == ["rated"] * bool(duties & {*any_of.any_duty})


@pytest.mark.parametrize(
    ("when", "asks"),
    [(When(), False), (When(flow_at_least=Flow(1.0)), True), (When(flow_below=Flow(1.0)), True)],
)
def test_the_flow_is_asked_where_a_rule_goes_by_it(when: When, *, asks: bool) -> None:
    one = replace(rule("gap.most"), when=when)
    held = replace(catalogue(), rules={**catalogue().rules, "": (one,), "US": ()})
    assert select(held, jurisdiction="US", duties=frozenset(), as_of=None).asks_flow is asks


@pytest.mark.parametrize(("when", "asks"), [(When(), False), (When(bodies=("wood",)), True)])
def test_what_finishes_are_made_of_is_asked_where_a_rule_goes_by_it(when: When, *, asks: bool) -> None:
    one = replace(rule("gap.most"), when=when)
    held = replace(catalogue(), rules={**catalogue().rules, "": (one,), "US": ()})
    assert select(held, jurisdiction="US", duties=frozenset(), as_of=None).asks_bodies is asks


def test_days_between_which_nothing_changes_share_a_selection() -> None:
    first, second = (datetime.date(2200, 1, day) for day in (1, 31))
    of_day = [select(catalogue(), jurisdiction="US", duties=frozenset(), as_of=day) for day in (first, second, None)]
    assert of_day[0] is of_day[1] is of_day[2]
