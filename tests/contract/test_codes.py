"""Codes of answers against the contract: lists are open, but what is answered today is named there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from tests.contract.conftest import Ask
from tests.openings import Wire, advised, catalogue, door, floor
from tests.property.test_recheck import settings_of
from tests.rechecks import answered
from tests.strategies import in_text, openings, written

from jambset.http.addresses import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.http.sandbox import Scenario
from jambset.rules.schema import Phase, Relation

ANSWERS = {ADVICE: "Advice", RECHECK: "RecheckAdvice", HOUSE: "HouseAdvice", HOUSE_RECHECK: "HouseRecheckAdvice"}
PLANK = floor("vinyl_plank 1/4 in")
RULES = {rule.id for place in catalogue().rules.values() for rule in place}
LIFTS = {lift.id for lift in catalogue().lifts}
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
            yield from unnamed(one, {"description": form.get("description", ""), **form["items"]}, schemas)
    elif isinstance(value, str) and value not in form.get("examples", [value]):
        about = form.get("description", "")
        lifts = LIFTS if "or of guidance on lifting" in about else set[str]()
        if not ("or the id of the rule that" in about and value in RULES | lifts):
            yield value, about


def test_every_code_of_the_sandbox_is_named(schemas: dict[str, Any], sandbox: tuple[Scenario, ...]) -> None:
    for one in sandbox:
        assert list(unnamed(one.response, schemas[ANSWERS[one.call]], schemas)) == []


@settings(max_examples=100)
@given(opening=openings())
def test_every_code_of_any_opening_is_named(opening: Wire, schemas: dict[str, Any]) -> None:
    assert list(unnamed(advised(opening), schemas["Advice"], schemas)) == []


@settings(max_examples=100)
@given(asked=settings_of())
def test_every_code_of_any_recheck_is_named(asked: Wire, schemas: dict[str, Any]) -> None:
    assert list(unnamed(answered(written(asked, in_text)), schemas["RecheckAdvice"], schemas)) == []


def test_what_a_remedy_needs_is_asked_by_a_code_that_is_named(schemas: dict[str, Any]) -> None:
    asked = {**UNMEASURED, "duties": ["fire_label"], "as_set": {"foot": "0 in", "leaf_bottom": "3/8 in"}}
    answer = answered(asked)
    assert {need["code"] for need in answer["remedies"][0]["needs"]} & {one["code"] for one in answer["questions"]}
    assert list(unnamed(answer, schemas["RecheckAdvice"], schemas)) == []


@pytest.mark.parametrize(
    ("schema", "field", "codes"),
    [
        ("WayOut", "kind", 12),
        ("Conflict", "code", 2),
        ("Question", "code", 29),
        ("Task", "phase", 6),
        ("HouseTask", "phase", 6),
        ("RecheckAdvice", "verdict", 5),
        ("Remedy", "kind", 11),
        ("FixLine", "kind", 10),
        ("VerdictCount", "verdict", 5),
        ("LeafCut", "where", 3),
        ("Notation", "quantity", 5),
        ("PlausibleRange", "quantity", 5),
    ],
)
def test_what_a_program_switches_on_has_a_list(schema: str, field: str, codes: int, schemas: dict[str, Any]) -> None:
    assert len(schemas[schema]["properties"][field]["examples"]) == codes
    assert "trade" not in schemas[schema]["properties"] or schemas[schema]["properties"]["trade"]["examples"]


@pytest.mark.parametrize(
    ("schema", "field"), [("Question", "holds"), ("HouseQuestion", "holds"), ("RuleView", "holds")]
)
def test_what_a_question_can_hold_is_a_phase_of_some_task(schema: str, field: str, schemas: dict[str, Any]) -> None:
    held = set(schemas[schema]["properties"][field]["items"]["examples"])
    assert held == set(Phase)
    assert held < set(schemas["Task"]["properties"]["phase"]["examples"])


def test_kinds_of_quantity_are_named_as_the_contract_names_them(schemas: dict[str, Any], asked: Ask) -> None:
    limits = asked("GET", "/v1/limits").json()
    assert list(unnamed(limits, schemas["Limits"], schemas)) == []
    assert {one["quantity"] for one in (*limits["notations"], *limits["plausible"])} <= schemas.keys()


def test_when_the_leaf_is_cut_is_named_also_where_nobody_measured_its_undercut(schemas: dict[str, Any]) -> None:
    advice = advised(UNMEASURED)
    assert advice["leaf"]["when"] == "unknown"
    assert list(unnamed(advice, schemas["Advice"], schemas)) == []


def test_a_relation_of_a_rule_is_no_relation_of_tasks(schemas: dict[str, Any]) -> None:
    assert schemas["RuleView"]["properties"]["relation"]["examples"] == list(Relation)
    assert "examples" not in schemas["Link"]["properties"]["relation"]
