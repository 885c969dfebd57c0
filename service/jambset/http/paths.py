"""The operations of the contract, written by hand: what each takes, answers and refuses."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from jambset.errors import (
    BodyTooLarge,
    Busy,
    HeadersTooLarge,
    InvalidRequest,
    MissingKey,
    NotAcceptable,
    RequestError,
    SlowBody,
    TargetTooLong,
    TooManyRequests,
    UnknownResource,
    UnreadableBody,
    WrongHost,
    WrongMediaType,
)
from jambset.http import catalogue as lookups
from jambset.http.addresses import ADVICE, BULK, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.http.bulk import FORMS
from jambset.http.guard import METRICS, is_public
from jambset.http.houses import DEFAULT_LIST, LIST
from jambset.http.links import links_of
from jambset.http.negotiate import CALENDAR, CSV, HEALTH_JSON, HTML, JSON, PDF, SVG, TEXT
from jambset.http.operations import index
from jambset.http.patches import REF
from jambset.http.problems import explain, kind_of, kinds
from jambset.http.sandbox import Scenario
from jambset.http.sandbox_page import LANG
from jambset.render.calendar import calendar_of
from jambset.render.language import LANGUAGES
from jambset.render.lists import LISTS, Listing, table_of
from jambset.render.lists_recheck import RECHECK_LISTS
from jambset.rules.schema import Catalogue

Schema = dict[str, Any]

TAGS = {
    "advice": "Advice on openings and houses. Pure functions of the body: sending it again is always safe.",
    "catalogue": "The rules, materials and limits behind the advice, each with its source.",
    "sandbox": "Worked examples: requests with the responses they give.",
    "operations": "For those who run the service.",
    "problems": "What each type of problem means and how to fix it.",
}
KEY = "key"
"""Name of the security scheme."""
FULL_EXAMPLES = 3
"""Scenarios of one opening whose whole response stands in the contract; the others are under /v1/sandbox."""
ONE_EXAMPLE = 1
"""The same of a recheck or a house."""


def paths(catalogue: Catalogue, sandbox: tuple[Scenario, ...]) -> dict[str, Schema]:
    """All operations by address."""
    found = {
        ADVICE: {"post": _advise(_of(sandbox, ADVICE))},
        BULK: {"post": _bulk(_of(sandbox, ADVICE))},
        RECHECK: {"post": _recheck(_of(sandbox, RECHECK))},
        HOUSE: {"post": _house(_of(sandbox, HOUSE))},
        HOUSE_RECHECK: {"post": _house_recheck(_of(sandbox, HOUSE_RECHECK))},
        **_rule_paths(catalogue),
        **_lookup_paths(catalogue, sandbox),
        **_operation_paths(catalogue),
        "/problems/{slug}": {"get": _problem_page()},
    }
    return {path: {how: _linked(_guarded(path, call)) for how, call in calls.items()} for path, calls in found.items()}


def _linked(operation: Schema) -> Schema:
    """An operation with where its answer leads."""
    if not (links := links_of(operation["operationId"])):
        return operation
    responses = operation["responses"]
    return {**operation, "responses": {**responses, "200": {**responses["200"], "links": links}}}


def _guarded(path: str, operation: Schema) -> Schema:
    """An operation with what is refused before its address is looked up, and whether it may need a key."""
    responses = {**operation["responses"], **refusals(TargetTooLong, WrongHost, HeadersTooLarge, Busy)}
    if is_public(path):
        return {**operation, "security": [], "responses": dict(sorted(responses.items()))}
    responses |= refusals(MissingKey, TooManyRequests)
    headers = responses["200"]["headers"] | _headers("RateLimit", "RateLimitPolicy")
    responses["200"] = {**responses["200"], "headers": headers}
    return {**operation, "security": [{}, {KEY: []}], "responses": dict(sorted(responses.items()))}


# --- parts


def _ref(name: str) -> Schema:
    return {"$ref": REF.format(name=name)}


def _plain(view: Any) -> Any:
    """A view as its JSON decodes."""
    return msgspec.json.decode(lookups.json_page(view).content)


def _content(schema: str, examples: Mapping[str, Schema] | None = None, *, media: str = JSON) -> Schema:
    return {media: {"schema": _ref(schema), **({"examples": dict(examples)} if examples else {})}}


_TEXT: Schema = {"schema": {"type": "string"}}
_FILE: Schema = {"schema": {"type": "string", "contentMediaType": PDF, "format": "binary"}}
_SAVED: Schema = {"Content-Disposition": {"$ref": "#/components/headers/ContentDisposition"}}


def _example(value: Any, summary: str) -> Schema:
    return {"summary": summary, "value": value}


def _query_parameter(name: str, about: str, values: Iterable[str]) -> Schema:
    schema = {"type": "string", "enum": [str(value) for value in values]}
    return {"name": name, "in": "query", "required": False, "description": about, "schema": schema}


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


def _probe(operation: str, summary: str, content: Schema, *refused: type[RequestError]) -> Schema:
    """A GET that is never stored."""
    answered = {"description": "The state now.", "headers": _headers("CacheControl"), "content": content}
    return {
        "operationId": operation,
        "tags": ["operations"],
        "summary": summary,
        "responses": {"200": answered, **refusals(RequestError, *refused, NotAcceptable, InvalidRequest)},
    }


def _headers(*names: str) -> Schema:
    spelled = {
        "CacheControl": "Cache-Control",
        "ContentLanguage": "Content-Language",
        "ETag": "ETag",
        "RateLimit": "RateLimit",
        "RateLimitPolicy": "RateLimit-Policy",
    }
    common = {"X-Request-ID": {"$ref": "#/components/headers/RequestId"}}
    return {**{spelled[name]: {"$ref": f"#/components/headers/{name}"} for name in names}, **common}


# --- advice


def _of(sandbox: tuple[Scenario, ...], call: str) -> tuple[Scenario, ...]:
    return tuple(scenario for scenario in sandbox if scenario.call == call)


def _asked(sandbox: tuple[Scenario, ...]) -> dict[str, Schema]:
    return {s.scenario: _example(s.request, s.title) for s in sandbox}


def _answers(sandbox: tuple[Scenario, ...]) -> dict[str, Schema]:
    return {s.scenario: _example(s.response, s.title) for s in sandbox if s.response}


def _post(operation: str, summary: str, about: str, asked: Schema, answered: Schema, **more: Any) -> Schema:
    """A POST that gives advice. asked, answered: contents of request and response."""
    headers = _headers("CacheControl", "ContentLanguage") | more.pop("headers", {})
    language = {"$ref": "#/components/parameters/AcceptLanguage"}
    return {
        "operationId": operation,
        "tags": ["advice"],
        "summary": summary,
        "description": about,
        "parameters": [*more.pop("parameters", ()), language],
        **more,
        "requestBody": {"required": True, "content": asked},
        "responses": {
            "200": {"description": "The advice.", "headers": headers, "content": answered},
            **refusals(UnreadableBody, NotAcceptable, SlowBody, BodyTooLarge, WrongMediaType, InvalidRequest),
        },
    }


_BEYOND = (
    "Beyond this schema, quantities must be plausible for their field (x-plausible) and fields must agree with each "
    "other; otherwise 422 lists every fault."
)


_FONTS = (
    "The fonts of the PDF are for Latin, Greek and Cyrillic script: another letter or an emoji in a mark or a room "
    "stands there as its code point, [U+540D], in drawings as a box, and Hebrew and Arabic stand in the wrong order; "
    "HTML shows what the browser can."
)


def _advise(sandbox: tuple[Scenario, ...]) -> Schema:
    about = (
        "How to set the frame, what to cut off the leaf and when, what air passes the closed door, and what joins "
        "the floors, each with the rules it follows. Equal bodies give equal bytes. That no lawful setting exists, "
        f"or that a fact is missing, is an answer (see verdict), not an error. {_BEYOND}\n\n"
        f"As {SVG} a section through the bottom of the closed leaf and a small elevation. Each dimension is a group "
        "of class `dimension` and `of-` with its place in the advice, as `of-leaf-bottom`; its title says it in words. "
        f"As {HTML} and {PDF} a sheet to read or print. {_FONTS}"
    )
    asked = _content("Opening", _asked(sandbox))
    answered = {**_content("Advice", _answers(sandbox[:FULL_EXAMPLES])), SVG: _TEXT, HTML: _TEXT, PDF: _FILE}
    return _post("adviseOpening", "Advise on one opening", about, asked, answered, headers=_SAVED)


def _bulk(sandbox: tuple[Scenario, ...]) -> Schema:
    about = (
        "A stream of openings, one a line (NDJSON in UTF-8: each line an Opening as JSON), answered by a stream of "
        "lines in the same order: an Advice for each, or a LineProblem in its place, which has `line` and `status` "
        "where an Advice has `advice_id`. A line with `as_set` is a Recheck and gets a RecheckAdvice, which has "
        "`remedies`: so any number of doors that are set can be held against other floors in one call. A line that "
        "can't be answered affects no other; blank lines are skipped. "
        "Answers begin before the request has ended and flow as fast as the caller takes them, so read while you "
        "write. A caller that sends `Expect: 100-continue` is let through or refused before any of the body is read. "
        "The status is 200 once the stream has begun: what ends it early, a limit or a damaged coding, is a last "
        "LineProblem with `ends`. It answers no line: its `line` is the first that has no answer. Bodies may be coded "
        "in gzip or zstd, and answers are on request (Accept-Encoding), unless identity is preferred there. Where a "
        "stream breaks off, send again what has no answer yet, after an end with `ends` from its `line` on: answers "
        "are in order and a POST changes nothing. Count them: not every client can tell a broken connection from the "
        "end of the answer. After an end of code `unreadable_body` send all of it again: a coding shows only at its "
        "end that it was damaged, and lines before that may have been misread."
    )
    lines = [msgspec.json.encode(one.request).decode() for one in sandbox[:FULL_EXAMPLES]]
    some = {"openings": _example("\n".join(lines), "Some openings")}
    asked = {**_TEXT, "examples": some, "x-line": {"anyOf": [_ref("Opening"), _ref("Recheck")]}}
    answered = {**_TEXT, "x-line": {"anyOf": [_ref("Advice"), _ref("RecheckAdvice"), _ref("LineProblem")]}}
    operation = _post(
        "adviseOpenings",
        "Advise on a stream of openings",
        about,
        dict.fromkeys(FORMS, asked),
        dict.fromkeys(FORMS, answered),
    )
    coded = {"Content-Encoding": {"$ref": "#/components/headers/ContentEncoding"}}
    operation["responses"]["200"]["headers"] |= coded
    refused = refusals(RequestError, NotAcceptable, WrongMediaType, InvalidRequest)
    operation["responses"] = {"200": operation["responses"]["200"], **refused}
    return operation


def _recheck(sandbox: tuple[Scenario, ...]) -> Schema:
    about = (
        "An opening with its floors as they are now, and the unit as it stands (as_set): which rules are missed, what "
        "someone would see of it, and what fixes it, cheapest first, each remedy with what it fixes, breaks and needs. "
        f"That nothing can be fixed is an answer (see verdict), not an error. {_BEYOND}\n\n"
        f"As {SVG} the section of the unit as found, its dimensions named as those of an advice; class `missed` is for "
        "what misses a rule, which its title says too. Dashed is where the first remedy leaves leaf and legs. "
        f"As {HTML} and {PDF} a sheet to read or print. {_FONTS}"
    )
    asked = _content("Recheck", _asked(sandbox))
    answered = {**_content("RecheckAdvice", _answers(sandbox[:ONE_EXAMPLE])), SVG: _TEXT, HTML: _TEXT, PDF: _FILE}
    return _post("recheckOpening", "Recheck an opening as it was set", about, asked, answered, headers=_SAVED)


def _house(sandbox: tuple[Scenario, ...]) -> Schema:
    about = (
        "The openings of a house together: one height for the heads of each line, block sizes, the lists for shop, "
        "crew and flooring installer, the questions by who can answer them, and the tasks for a schedule. Each "
        "opening is a merge patch (RFC 7396) of `defaults`, below which lies the `labour` of the house, and is then "
        "read as one opening is. An opening with faults is reported in its place (openings/…/problem) and affects no "
        "other; 422 is for faults of the house itself. The order of openings changes none of the lists. Whole answers "
        "are among the worked examples (GET /v1/sandbox).\n\n"
        f"As {CSV} one list, chosen by `{LIST}`: a row of titles, CRLF, lengths in millimetres and as text on the "
        "grid, an apostrophe before what a spreadsheet would take for a formula. UTF-8 without a byte order mark: say "
        "so when a spreadsheet imports it, and have it take marks as text, or 1-04 becomes a date. In the list `order` "
        "only units_to_order is for purchasing; units_there counts those on site or set.\n\n"
        f"As {CALENDAR} the tasks (RFC 5545), one VTODO each and one for each event they wait for. UID: a hash of "
        "the house's name and the task's key, the same in every answer for this house. "
        "RELATED-TO;RELTYPE=FINISHTOSTART stands in the predecessor, DEPENDS-ON in the one that waits (RFC 9253); a "
        "floor waits too, for the units to be set and the jambs undercut that it passes under, carpet also for the "
        "hard floors that it meets and the pieces that go first. "
        "X-JAMBSET-WORK: working time as a DURATION, since DURATION itself would need a start. DTSTAMP: the "
        "opening's as_of, else the first day of the month that the rule set is named after; there is no clock.\n\n"
        f"As {HTML} and {PDF} a sheet for the crew: what to cut and set in working order, each opening at a glance, "
        f"then order, air, flooring, pieces, questions, cautions and sources. {_FONTS}"
    )
    return _of_house(
        "adviseHouse", "Advise on the openings of a house together", about, ("House", "HouseAdvice"), sandbox, LISTS
    )


def _house_recheck(sandbox: tuple[Scenario, ...]) -> Schema:
    about = (
        "The doors of a house that are set, with its floors as they are now: each opening as the call on it alone "
        "answers, and the work merged. Lists have the steps of each opening's first remedy, where that leaves no firm "
        "rule missed: leaves to cut, units and leaves to order, pieces, fillers, floors, seals and grilles; what "
        "isn't right and has no such remedy is in `open_doors`. Where all units of a head line are set again, and "
        "each by itself would come to another height, they are set at one if each can stand there "
        "(`head_lines[n].together`). With the lists come questions by who can answer them, tasks with their minutes, "
        "cautions and sources once, what may not be left so, and the head lines: a remedy that takes a head off its "
        "line is told, asked about (`head_line_left`) and held, with what it would take to keep the line by setting "
        "other units again too (`head_lines[n].keeping`), which is planned where the line says `keep`. Each opening "
        "is a merge patch (RFC 7396) of `defaults`, `as_set` too, below which lies the `labour` of the house. An "
        "opening with faults is reported in its place (openings/…/problem) and affects no other; 422 is for faults "
        "of the house itself. The order of openings changes none of the lists. Whole answers are among the worked "
        "examples (GET /v1/sandbox).\n\n"
        f"As {CSV}, {CALENDAR}, {HTML} and {PDF} as POST {HOUSE} answers, with lists, tasks and a sheet of its own."
    )
    return _of_house(
        "recheckHouse",
        "Recheck the openings of a house as they were set",
        about,
        ("HouseRecheck", "HouseRecheckAdvice"),
        sandbox,
        RECHECK_LISTS,
    )


def _of_house(
    operation: str,
    summary: str,
    about: str,
    schemas: tuple[str, str],
    sandbox: tuple[Scenario, ...],
    lists: Mapping[str, Listing],
) -> Schema:
    """A call on a house. schemas: of request and answer. lists: what it is answered as in CSV, by name."""
    listed = f"The list that {CSV} shows, {DEFAULT_LIST} when left out; with another media type it is refused."
    asked, answered = schemas
    return _post(
        operation,
        summary,
        about,
        _content(asked, _asked(sandbox)),
        _house_content(answered, sandbox[:ONE_EXAMPLE], lists[DEFAULT_LIST]),
        parameters=[_query_parameter(LIST, listed, lists)],
        headers=_SAVED,
    )


def _house_content(schema: str, sandbox: tuple[Scenario, ...], listing: Listing) -> Schema:
    """Renditions of a house. A whole answer as JSON is longer than the rest of the contract: it is in the sandbox."""
    lists = {s.scenario: _example(table_of(s.response, listing).decode(), s.title) for s in sandbox if s.response}
    tasks = {s.scenario: _example(calendar_of(s.response).decode(), s.title) for s in sandbox if s.response}
    return {
        **_content(schema),
        HTML: _TEXT,
        PDF: _FILE,
        CSV: {**_TEXT, **({"examples": lists} if lists else {})},
        CALENDAR: {**_TEXT, **({"examples": tasks} if tasks else {})},
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
        parameters=[
            _query_parameter(name, _FILTERS[name], values) for name, values in lookups.rule_filters(catalogue).items()
        ],
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
        "/v1/labour": (
            "listLabour",
            "catalogue",
            "List the minutes that work is assumed to take, and what leaves weigh",
            _content("LabourList"),
        ),
        "/v1/limits": ("getLimits", "catalogue", "Limits, units and notations of requests", _content("Limits")),
        "/v1/sandbox": ("listScenarios", "sandbox", "List the worked examples", _content("ScenarioList")),
    }
    return {path: {"get": _read(*parts)} for path, parts in reads.items()} | {"/v1/sandbox/{scenario}": {"get": one}}


# --- operations


def _operation_paths(catalogue: Catalogue) -> dict[str, Schema]:
    start = {"index": _example(_plain(index(catalogue)), "This release")}
    health = {**_content("Health", media=HEALTH_JSON), **_content("Health")}
    contract = {JSON: {"schema": {"type": "object"}}}
    page = {HTML: _TEXT}
    return {
        "/": {"get": _start({**_content("ServiceIndex", start), **page})},
        "/health/live": {"get": _probe("getLiveness", "Whether the process answers", health)},
        "/health/ready": {"get": _probe("getReadiness", "Whether the rules are loaded, and which", health)},
        METRICS: {
            "get": _probe(
                "getMetrics",
                "Counts and durations of the process that answers, for Prometheus; they may have a port of their own",
                {TEXT: _TEXT},
                UnknownResource,
            )
        },
        "/openapi.json": {"get": _read("getContract", "operations", "This document", contract)},
        "/docs": {"get": _read("getDocumentation", "operations", "This document as a page", page)},
    }


def _start(content: Schema) -> Schema:
    """The index, and the sandbox page for a browser."""
    about = f"For {HTML}: the sandbox page, in the language of `{LANG}`, else of Accept-Language. JSON where both suit."
    lang = _query_parameter(LANG, "Language of the page; the index has none.", LANGUAGES)
    summary = "Where everything is"
    return _read("getServiceIndex", "operations", summary, content, parameters=[lang], description=about)


def _problem_page() -> Schema:
    slug = {
        "name": "slug",
        "in": "path",
        "required": True,
        "description": "Last part of a problem's type.",
        "schema": {"type": "string", "enum": list(kinds())},
    }
    about = explain(kind_of(UnreadableBody))
    example = {about.code: _example(_plain(about), about.title)}
    content = {**_content("ProblemType", example), HTML: _TEXT}
    return _read(
        "getProblemType",
        "problems",
        "Explain a type of problem",
        content,
        parameters=[slug],
        refused=(UnknownResource,),
    )
