"""Codes of answers against the contract: lists are open, but what is answered today is named there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from tests.openings import Wire, advised, door, floor

from jambset.http.addresses import ADVICE, HOUSE, RECHECK
from jambset.http.sandbox import Scenario
from jambset.rules.schema import Relation

ANSWERS = {ADVICE: "Advice", RECHECK: "RecheckAdvice", HOUSE: "HouseAdvice"}
PLANK = floor("vinyl_plank 1/4 in")
UNMEASURED = door(pull_side=PLANK, push_side=PLANK, frame={"undercut": None})


@pytest.fixture
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
        yield value, form.get("description", "")


def test_every_code_of_the_sandbox_is_named(schemas: dict[str, Any], sandbox: tuple[Scenario, ...]) -> None:
    for one in sandbox:
        assert list(unnamed(one.response, schemas[ANSWERS[one.call]], schemas)) == []


def test_when_the_leaf_is_cut_is_named_also_where_nobody_measured_its_undercut(schemas: dict[str, Any]) -> None:
    advice = advised(UNMEASURED)
    assert advice["leaf"]["when"] == "unknown"
    assert list(unnamed(advice, schemas["Advice"], schemas)) == []


def test_a_relation_of_a_rule_is_no_relation_of_tasks(schemas: dict[str, Any]) -> None:
    assert schemas["RuleView"]["properties"]["relation"]["examples"] == list(Relation)
    assert "examples" not in schemas["Link"]["properties"]["relation"]
