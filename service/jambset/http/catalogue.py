"""The catalogue, the limits and the sandbox: everything that can be looked up. Made once, sent as it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

import msgspec
from litestar import route
from litestar.handlers import HTTPRouteHandler
from msgspec import UNSET

from jambset.errors import UnknownResource, shown
from jambset.http.known import limits
from jambset.http.negotiate import JSON
from jambset.http.pages import READ, Answer, Call, Page, page, read_query, send
from jambset.http.sandbox import Scenario, by_id
from jambset.http.settings import Settings
from jambset.http.views import (
    CoreView,
    DocumentView,
    EditionView,
    FinishList,
    JurisdictionView,
    LabourList,
    LabourView,
    LiftView,
    MaterialView,
    PieceView,
    RuleSetList,
    RuleSetView,
    RuleView,
    ScenarioEntry,
    ScenarioList,
    ScenarioView,
)
from jambset.model.source import Force, Verified
from jambset.quantity.grid import GRIDS, Grid
from jambset.render.encode import writer
from jambset.rules.schema import Catalogue, Lift, Rule, Sourced, Topic
from jambset.rules.select import COMMON, lineage

DEFAULT_GRID = GRIDS["1/16 in"]
"""Grid of texts that belong to no one place."""

Wire = dict[str, Any]


def lookup_calls(catalogue: Catalogue, sandbox: Iterable[Scenario], settings: Settings) -> list[HTTPRouteHandler]:
    """All calls that look something up. settings: whose limits are published."""
    fixed = {
        "/v1/rule-sets": rule_sets(catalogue),
        "/v1/finishes": finishes(catalogue),
        "/v1/labour": labour(catalogue),
        "/v1/limits": limits(settings),
    }
    pages = [constant(path, json_page(view)) for path, view in fixed.items()]
    return [*rule_calls(catalogue), *pages, *sandbox_calls(by_id(sandbox))]


def json_page(view: Any, grid: Grid = DEFAULT_GRID) -> Page:
    """A view as a page; its texts in one grid."""
    return page(writer(grid).encode(view), JSON)


def constant(path: str, *pages: Page) -> HTTPRouteHandler:
    """A GET whose answer never changes while the process runs, in one or more renditions."""

    @route(path, http_method=READ)
    async def get(request: Call) -> Answer:
        return send(request, *pages)

    return get


def named(path: str, key: str, pages: Mapping[str, Page]) -> HTTPRouteHandler:
    """A GET of one of many by its name. key: the path parameter that holds the name."""

    @route(f"{path}/{{{key}:str}}", http_method=READ)
    async def get(request: Call) -> Answer:
        name = str(request.path_params[key])
        if name not in pages:
            raise UnknownResource(f'Nothing is called "{shown(name)}" here; GET {path} lists what there is.')
        return send(request, pages[name])

    return get


# --- rules


def rule_filters(catalogue: Catalogue) -> dict[str, tuple[str, ...]]:
    """Query parameters of GET /v1/rules with their values."""
    return {
        "jurisdiction": tuple(sorted(catalogue.jurisdictions)),
        "topic": tuple(Topic),
        "force": tuple(force for force in Force if force is not Force.PROJECT),
        "verified": tuple(Verified),
    }


def rule_calls(catalogue: Catalogue) -> list[HTTPRouteHandler]:
    """GET /v1/rules and /v1/rules/{rule_id}."""
    wires = rule_wires(catalogue)
    keep = rule_filter(catalogue)
    filters = rule_filters(catalogue)

    @route("/v1/rules", http_method=READ, query=filters)
    async def list_rules(request: Call) -> Answer:
        wanted = read_query(request.scope["query_string"], filters)
        found = [wire for wire in wires if keep(wire, wanted)]
        return send(request, page(msgspec.json.encode(_listed(catalogue, found)), JSON))

    each = {wire["id"]: page(msgspec.json.encode(wire), JSON) for wire in wires}
    return [list_rules, named("/v1/rules", "rule_id", each)]


def _listed(catalogue: Catalogue, rules: list[Wire]) -> Wire:
    return {
        "rule_set": catalogue.version,
        "rule_set_digest": catalogue.digest,
        "count": len(rules),
        "rules": rules,
    }


def rule_wires(catalogue: Catalogue, jurisdiction: str | None = None) -> list[Wire]:
    """Rules as answered, each with its texts in the grid of its place.

    jurisdiction: only those that hold there, its parents' and the common ones included.
    Raises KeyError for a jurisdiction the catalogue doesn't know.
    """
    places = tuple(catalogue.rules) if jurisdiction is None else lineage(catalogue, jurisdiction)
    return [
        msgspec.json.decode(writer(_grid(catalogue, place)).encode(_rule(catalogue, rule, place)))
        for place in places
        for rule in catalogue.rules.get(place, ())
    ]


def rule_filter(catalogue: Catalogue) -> Callable[[Wire, Mapping[str, str]], bool]:
    """Whether a rule as answered is among those asked for; a jurisdiction includes what it inherits."""
    lines = {code: lineage(catalogue, code) for code in catalogue.jurisdictions}

    def keep(wire: Wire, wanted: Mapping[str, str]) -> bool:
        same = all(wire[name] == value for name, value in wanted.items() if name != "jurisdiction")
        place = wanted.get("jurisdiction")
        return same and (place is None or wire.get("jurisdiction", COMMON) in lines[place])

    return keep


def _grid(catalogue: Catalogue, place: str) -> Grid:
    return DEFAULT_GRID if place == COMMON else GRIDS[catalogue.jurisdictions[place].grid]


def _rule(catalogue: Catalogue, rule: Rule, place: str) -> RuleView:
    editions = tuple(EditionView(edition=e.edition, clause=e.clause, since=e.since) for e in rule.editions)
    document = _document(catalogue, rule.document)
    return RuleView(
        **{**msgspec.structs.asdict(rule), "jurisdiction": place or UNSET, "document": document, "editions": editions}
    )


def _document(catalogue: Catalogue, name: str) -> DocumentView:
    return DocumentView(**msgspec.structs.asdict(catalogue.documents[name]))


# --- the rest of the catalogue


def rule_sets(catalogue: Catalogue) -> RuleSetList:
    """The one rule set in use."""
    places = tuple(JurisdictionView(**msgspec.structs.asdict(place)) for place in catalogue.jurisdictions.values())
    count = sum(map(len, catalogue.rules.values()))
    view = RuleSetView(version=catalogue.version, digest=catalogue.digest, rules=count, jurisdictions=places)
    return RuleSetList(rule_sets=(view,))


def finishes(catalogue: Catalogue) -> FinishList:
    """Typical layers and pieces with their sources."""
    return FinishList(
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        materials=tuple(MaterialView(**_sourced(catalogue, row)) for row in catalogue.materials.values()),
        pieces=tuple(PieceView(**_sourced(catalogue, row)) for row in catalogue.pieces),
    )


def labour(catalogue: Catalogue) -> LabourList:
    """What work is assumed to take, how heavy leaves are, and what one person lifts."""
    return LabourList(
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        labour=tuple(LabourView(**msgspec.structs.asdict(row)) for row in catalogue.labour.values()),
        cores=tuple(CoreView(**_sourced(catalogue, row)) for row in catalogue.cores.values()),
        lifts=tuple(_lift(catalogue, row) for row in catalogue.lifts),
    )


def _lift(catalogue: Catalogue, row: Lift) -> LiftView:
    places = tuple(code for code in row.jurisdictions if code != COMMON)
    where = {"jurisdictions": places, "everywhere_else": COMMON in row.jurisdictions}
    return LiftView(**{**_sourced(catalogue, row), **where})


def _sourced(catalogue: Catalogue, row: Sourced) -> dict[str, Any]:
    return {**msgspec.structs.asdict(row), "document": _document(catalogue, row.document)}


# --- sandbox


def sandbox_calls(sandbox: Mapping[str, Scenario]) -> list[HTTPRouteHandler]:
    """GET /v1/sandbox and /v1/sandbox/{scenario}."""
    entries = tuple(
        ScenarioEntry(scenario=s.scenario, title=s.title, story=s.story, call=s.call, href=f"/v1/sandbox/{s.scenario}")
        for s in sandbox.values()
    )
    views = {name: json_page(ScenarioView(**msgspec.structs.asdict(s))) for name, s in sandbox.items()}
    listed = constant("/v1/sandbox", json_page(ScenarioList(scenarios=entries)))
    return [listed, named("/v1/sandbox", "scenario", views)]
