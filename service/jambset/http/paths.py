"""The operations of the contract, written by hand: what each takes, answers and refuses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from jambset.errors import (
    BodyTooLarge,
    InvalidRequest,
    NotAcceptable,
    RequestError,
    UnknownResource,
    UnreadableBody,
    WrongMediaType,
)
from jambset.http import catalogue as lookups
from jambset.http.negotiate import HEALTH_JSON, HTML, JSON, TEXT
from jambset.http.operations import index
from jambset.http.problems import explain, kind_of, kinds
from jambset.http.sandbox import Scenario
from jambset.http.schemas import REF
from jambset.rules.schema import Catalogue

Schema = dict[str, Any]

TAGS = {
    "advice": "Advice on openings. A pure function of the body: sending it again is always safe, nothing is stored.",
    "catalogue": "The rules, materials and limits behind the advice, each with its source.",
    "sandbox": "Worked examples: requests with the responses they give.",
    "operations": "For those who run the service.",
    "problems": "What each type of problem means and how to mend it.",
}
FULL_EXAMPLES = 3
"""Scenarios whose whole response stands in the contract; the others are under /v1/sandbox."""


def paths(catalogue: Catalogue, sandbox: tuple[Scenario, ...]) -> dict[str, Schema]:
    """All operations by address."""
    return {
        "/v1/openings/advice": {"post": _advise(sandbox)},
        **_rule_paths(catalogue),
        **_lookup_paths(catalogue, sandbox),
        **_operation_paths(catalogue),
        "/problems/{slug}": {"get": _problem_page()},
    }


# --- parts


def _ref(name: str) -> Schema:
    return {"$ref": REF.format(name=name)}


def _plain(view: Any) -> Any:
    """A view as its JSON decodes."""
    return msgspec.json.decode(lookups.json_page(view).content)


def _content(schema: str, examples: Mapping[str, Schema] | None = None, *, media: str = JSON) -> Schema:
    return {media: {"schema": _ref(schema), **({"examples": dict(examples)} if examples else {})}}


def _example(value: Any, summary: str) -> Schema:
    return {"summary": summary, "value": value}


def refusals(*classes: type[RequestError]) -> Schema:
    """Problem responses by status, the service's own fault and any other included."""
    listed = {str(cls.status): f"#/components/responses/{cls.__name__}" for cls in classes}
    own = {"500": "#/components/responses/InternalError", "default": "#/components/responses/AnyProblem"}
    return {status: {"$ref": ref} for status, ref in {**listed, **own}.items()}


def _read(operation: str, tag: str, summary: str, content: Schema, **more: Any) -> Schema:
    """A GET that may be stored: ETag and 304."""
    answered = {"description": "Found.", "headers": _headers("ETag", "CacheControl"), "content": content}
    condition = {"$ref": "#/components/parameters/IfNoneMatch"}
    refused = refusals(RequestError, *more.pop("refused", ()), NotAcceptable, InvalidRequest)
    return {
        "operationId": operation,
        "tags": [tag],
        "summary": summary,
        "parameters": [*more.pop("parameters", ()), condition],
        "responses": {"200": answered, "304": {"$ref": "#/components/responses/NotModified"}, **refused},
        **more,
    }


def _probe(operation: str, summary: str, content: Schema) -> Schema:
    """A GET that is never stored."""
    answered = {"description": "The state now.", "headers": _headers("CacheControl"), "content": content}
    return {
        "operationId": operation,
        "tags": ["operations"],
        "summary": summary,
        "responses": {"200": answered, **refusals(RequestError, NotAcceptable, InvalidRequest)},
    }


def _headers(*names: str) -> Schema:
    spelled = {"CacheControl": "Cache-Control", "ETag": "ETag"}
    common = {"X-Request-ID": {"$ref": "#/components/headers/RequestId"}}
    return {**{spelled[name]: {"$ref": f"#/components/headers/{name}"} for name in names}, **common}


# --- advice


def _advise(sandbox: tuple[Scenario, ...]) -> Schema:
    asked = {s.scenario: _example(s.request, s.title) for s in sandbox}
    answered = {s.scenario: _example(s.response, s.title) for s in sandbox[:FULL_EXAMPLES] if s.response}
    return {
        "operationId": "adviseOpening",
        "tags": ["advice"],
        "summary": "Advise on one opening",
        "description": (
            "How to set the frame, what to cut off the leaf and when, what air passes the closed door, and what joins "
            "the floors, each with the rules it follows. Equal bodies give equal bytes. That no lawful setting exists, "
            "or that a fact is missing, is an answer (see verdict), not an error. Beyond this schema, quantities must "
            "be plausible for their field (x-plausible) and fields must agree with each other; otherwise 422 lists "
            "every fault."
        ),
        "requestBody": {"required": True, "content": _content("Opening", asked)},
        "responses": {
            "200": {
                "description": "The advice.",
                "headers": _headers("CacheControl"),
                "content": _content("Advice", answered),
            },
            **refusals(UnreadableBody, NotAcceptable, BodyTooLarge, WrongMediaType, InvalidRequest),
        },
    }


# --- catalogue and sandbox


def _rule_paths(catalogue: Catalogue) -> dict[str, Schema]:
    wires = lookups.rule_wires(catalogue)
    first = _example(wires[0], wires[0]["title"])
    listed = _read(
        "listRules",
        "catalogue",
        "List the rules of the catalogue",
        _content("RuleList"),
        parameters=list(_filters(catalogue)),
        description="All rules, or those that match every filter given.",
    )
    one = _read(
        "getRule",
        "catalogue",
        "Get one rule with its source",
        _content("RuleView", {"first": first}),
        parameters=[_name_parameter("rule_id", "Id of a rule as GET /v1/rules lists it.", (wires[0]["id"],))],
        refused=(UnknownResource,),
    )
    return {"/v1/rules": {"get": listed}, "/v1/rules/{rule_id}": {"get": one}}


_FILTERS = {
    "jurisdiction": "Only rules that hold in this place, those it inherits included.",
    "topic": "Only rules about this topic.",
    "force": "Only rules of this force.",
    "verified": "Only rules whose wording was checked in this way.",
}


def _filters(catalogue: Catalogue) -> Iterable[Schema]:
    for name, values in lookups.rule_filters(catalogue).items():
        schema = {"type": "string", "enum": [str(value) for value in values]}
        yield {"name": name, "in": "query", "required": False, "description": _FILTERS[name], "schema": schema}


def _name_parameter(name: str, about: str, examples: Iterable[str]) -> Schema:
    shown = {example: {"value": example} for example in examples}
    schema = {"type": "string", "minLength": 1}
    listed = {"examples": shown} if shown else {}
    return {"name": name, "in": "path", "required": True, "description": about, "schema": schema, **listed}


def _lookup_paths(catalogue: Catalogue, sandbox: tuple[Scenario, ...]) -> dict[str, Schema]:
    sets = {"rule-sets": _example(_plain(lookups.rule_sets(catalogue)), "The rule set of this release")}
    scenario = _name_parameter(
        "scenario", "Id of a scenario as GET /v1/sandbox lists it.", [s.scenario for s in sandbox[:FULL_EXAMPLES]]
    )
    one = _read(
        "getScenario",
        "sandbox",
        "Get one worked example",
        _content("ScenarioView"),
        parameters=[scenario],
        refused=(UnknownResource,),
    )
    reads = {
        "/v1/rule-sets": (
            "listRuleSets",
            "catalogue",
            "List the rule sets that can be pinned",
            _content("RuleSetList", sets),
        ),
        "/v1/finishes": (
            "listFinishes",
            "catalogue",
            "List typical layers and transition pieces",
            _content("FinishList"),
        ),
        "/v1/limits": ("getLimits", "catalogue", "Limits, units and notations of requests", _content("Limits")),
        "/v1/sandbox": ("listScenarios", "sandbox", "List the worked examples", _content("ScenarioList")),
    }
    return {path: {"get": _read(*parts)} for path, parts in reads.items()} | {"/v1/sandbox/{scenario}": {"get": one}}


# --- operations


def _operation_paths(catalogue: Catalogue) -> dict[str, Schema]:
    start = {"index": _example(_plain(index(catalogue)), "This release")}
    health = {**_content("Health", media=HEALTH_JSON), **_content("Health")}
    metrics = {TEXT: {"schema": {"type": "string"}}}
    contract = {JSON: {"schema": {"type": "object"}}}
    page = {HTML: {"schema": {"type": "string"}}}
    return {
        "/": {"get": _read("getServiceIndex", "operations", "Where everything is", _content("ServiceIndex", start))},
        "/health/live": {"get": _probe("getLiveness", "Whether the process answers", health)},
        "/health/ready": {"get": _probe("getReadiness", "Whether the rules are loaded, and which", health)},
        "/metrics": {
            "get": _probe("getMetrics", "Counts and durations of the process that answers, for Prometheus", metrics)
        },
        "/openapi.json": {"get": _read("getContract", "operations", "This document", contract)},
        "/docs": {"get": _read("getDocumentation", "operations", "This document as a page", page)},
    }


def _problem_page() -> Schema:
    slugs = list(kinds())
    slug = {
        "name": "slug",
        "in": "path",
        "required": True,
        "description": "Last part of a problem's type.",
        "schema": {"type": "string", "enum": slugs},
    }
    about = explain(kind_of(UnreadableBody))
    example = {about.code: _example(_plain(about), about.title)}
    content = {**_content("ProblemType", example), HTML: {"schema": {"type": "string"}}}
    return _read(
        "getProblemType",
        "problems",
        "Explain a type of problem",
        content,
        parameters=[slug],
        refused=(UnknownResource,),
    )
