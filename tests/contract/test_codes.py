"""Codes of answers against the contract: lists are open, but what is answered today is named there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from tests.openings import Wire, advised, catalogue, door, floor
from tests.strategies import openings

from jambset.http.addresses import ADVICE, HOUSE, RECHECK
from jambset.http.sandbox import Scenario
from jambset.rules.schema import Relation

ANSWERS = {ADVICE: "Advice", RECHECK: "RecheckAdvice", HOUSE: "HouseAdvice"}
PLANK = floor("vinyl_plank 1/4 in")
RULES = {rule.id for place in catalogue().rules.values() for rule in place}
UNMEASURED = door(pull_side=PLANK, push_side=PLANK, frame={"undercut": None})


@pytest.fixture(scope="module")
def schemas(contract: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = contract["components"]["schemas"]
    return found


def unnamed(value: Any, form: Wire, schemas: dict[str, Any]) -> Iterator[tuple[str, str]]:
    """Codes of a value that the list of its field doesn't have, with the field's description."""
    form = schemas[form["$ref"].rpartition("/")[2]] if "$ref" in form else form
    if isinstance(value, dict):
        for name in value.keys() & form.get("properties", {}).keys():
            yield from unnamed(value[name], form["properties"][name], schemas)
    elif isinstance(value, list):
        for one in value:
            yield from unnamed(one, form["items"], schemas)
    elif isinstance(value, str) and value not in form.get("examples", [value]):
        about = form.get("description", "")
        if not (about.endswith("or the id of the rule that asks.") and value in RULES):
            yield value, about


def test_every_code_of_the_sandbox_is_named(schemas: dict[str, Any], sandbox: tuple[Scenario, ...]) -> None:
    for one in sandbox:
        assert list(unnamed(one.response, schemas[ANSWERS[one.call]], schemas)) == []


@settings(max_examples=100)
@given(opening=openings())
def test_every_code_of_any_opening_is_named(opening: Wire, schemas: dict[str, Any]) -> None:
    assert list(unnamed(advised(opening), schemas["Advice"], schemas)) == []


@pytest.mark.parametrize(
    ("schema", "field", "codes"),
    [
        ("WayOut", "kind", 10),
        ("Conflict", "code", 2),
        ("Question", "code", 16),
        ("Task", "phase", 5),
        ("HouseTask", "phase", 5),
    ],
)
def test_what_a_program_switches_on_has_a_list(schema: str, field: str, codes: int, schemas: dict[str, Any]) -> None:
    assert len(schemas[schema]["properties"][field]["examples"]) == codes
    assert "trade" not in schemas[schema]["properties"] or schemas[schema]["properties"]["trade"]["examples"]


def test_when_the_leaf_is_cut_is_named_also_where_nobody_measured_its_undercut(schemas: dict[str, Any]) -> None:
    advice = advised(UNMEASURED)
    assert advice["leaf"]["when"] == "unknown"
    assert list(unnamed(advice, schemas["Advice"], schemas)) == []


def test_a_relation_of_a_rule_is_no_relation_of_tasks(schemas: dict[str, Any]) -> None:
    assert schemas["RuleView"]["properties"]["relation"]["examples"] == list(Relation)
    assert "examples" not in schemas["Link"]["properties"]["relation"]
