"""The contract's links, followed from answer to answer on walks that schemathesis draws."""

from __future__ import annotations

import io
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, settings
from litestar import Litestar
from schemathesis.config import SchemathesisConfig
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK, ask

from jambset.http.app import create_app
from jambset.http.observe import json_log
from jambset.http.sandbox import Scenario
from jambset.http.settings import Settings
from jambset.rules.schema import Catalogue

CONFIG = {
    "generation": {"mode": "positive", "deterministic": True, "database": "none"},
    # What fits the schema may still not be plausible, and not every rule that was checked is of the catalogue.
    "checks": {"positive_data_acceptance": {"expected-statuses": ["200", "304", "404", "406", "422"]}},
}
SANDBOX = ("/v1/sandbox", "/v1/sandbox/{scenario}", "/v1/rules/{rule_id}")
WALKS = {call: (*SANDBOX, call) for call in (ADVICE, RECHECK, HOUSE, HOUSE_RECHECK)} | {
    "": ("/v1/rule-sets", "/v1/rules", "/v1/rules/{rule_id}")
}
"""Addresses walked between, by the call whose examples are in the sandbox then."""

Judge = Callable[[str, Any], None]


def links(document: dict[str, Any], between: tuple[str, ...]) -> Iterator[tuple[str, dict[str, Any]]]:
    """The links between addresses of the contract, named as schemathesis names them."""
    found = [(path, how.upper(), call) for path, calls in document["paths"].items() for how, call in calls.items()]
    places = {call["operationId"]: (path, f"{how} {path}") for path, how, call in found}
    for path, how, call in found:
        for name, link in call["responses"].get("200", {}).get("links", {}).items():
            target, label = places[link["operationId"]]
            if {path, target} <= {*between}:
                yield f"{how} {path} -> [200] {name} -> {label}", link


def walk(app: Litestar, document: dict[str, Any], between: tuple[str, ...], judge: Judge, *, times: int) -> None:
    """Walks between the addresses along their links, so often. judge: looks at each answer that a link led to."""
    for _, link in links(document, between):
        link["x-schemathesis"] = {"merge_body": False}  # the body is what the link says, with nothing put in
    schema = schemathesis.openapi.from_dict(document, config=SchemathesisConfig.from_dict(CONFIG))
    schema.app = app
    machine: Any = schema.include(path=list(between)).as_state_machine()

    class Walk(machine):  # type: ignore[misc]  # it is made while it runs
        def step(self, taken: Any) -> Any:
            output = super().step(taken)
            if taken.transition is not None and taken.is_applied:
                judge(taken.transition.id, output)
            return output

    Walk.run(
        settings=settings(
            max_examples=times,
            stateful_step_count=6,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
            phases=(Phase.generate,),
        )
    )


@pytest.mark.parametrize("call", WALKS)
def test_every_link_leads_where_it_says(call: str, catalogue: Catalogue, sandbox: tuple[Scenario, ...]) -> None:
    of_call = [one for one in sandbox if one.call == call]
    app = create_app(catalogue=catalogue, settings=Settings(), sandbox=of_call, log=json_log(io.BytesIO()))
    document = ask(app, "GET", "/openapi.json").json()
    arrived: Counter[str] = Counter()

    def judge(link: str, output: Any) -> None:
        """The link's own values were taken: an answer, nothing new, or a refusal of what the walk drew besides."""
        assert output.response.status_code in {200, 304, 406, 422}, output.response.text
        if output.response.status_code == 200:
            arrived[link] += 1
            _check_rules(output)
            _check_example(output, of_call)

    walk(app, document, WALKS[call], judge, times=12 if call else 40)
    assert arrived.keys() == {name for name, _ in links(document, WALKS[call]) if _suits(name, call)}


def _check_rules(output: Any) -> None:
    """A rule is the one that was asked for, a list of rules is of those asked for."""
    found = output.response.json()
    if "rule_id" in output.case.path_parameters:
        assert found["id"] == output.case.path_parameters["rule_id"]
    if "topic" in output.case.query:  # and of what else the walk drew
        assert {rule["topic"] for rule in found["rules"]} <= {output.case.query["topic"]}


def _check_example(output: Any, examples: list[Scenario]) -> None:
    """An example sent again has the answer that stands beside it."""
    if output.case.method == "POST" and _plain(output.response):
        (answer,) = (one.response for one in examples if one.request == output.case.body)
        assert output.response.json() == answer


def _plain(response: Any) -> bool:
    return [response.headers[name][0] for name in ("content-type", "content-language")] == ["application/json", "en"]


def _suits(link: str, call: str) -> bool:
    """Whether the examples of a call can be sent where a link leads: those of one call are none of another's."""
    return " -> POST " not in link or link.endswith(call)


def test_each_link_of_the_contract_is_on_a_walk(contract: dict[str, Any]) -> None:
    walked = {name for between in WALKS.values() for name, _ in links(contract, between)}
    assert walked == {name for name, _ in links(contract, tuple(contract["paths"]))}
    assert len(walked) == 12
