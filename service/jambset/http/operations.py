"""The calls for those who run the service: index, health, metrics, contract and problem types."""

from __future__ import annotations

from litestar import route
from litestar.handlers import HTTPRouteHandler
from msgspec import UNSET, UnsetType
from prometheus_client import generate_latest

from jambset.http.addresses import ADVICE, BULK, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.http.catalogue import constant, json_page
from jambset.http.guard import METRICS
from jambset.http.negotiate import HEALTH_JSON, HTML, JSON, TEXT
from jambset.http.observe import Metrics
from jambset.http.pages import NO_STORE, READ, Answer, Call, Page, page, send
from jambset.http.problems import encode, explain, explain_html, kinds
from jambset.http.sandbox_page import page_calls
from jambset.http.settings import Settings
from jambset.http.views import Health, Links, ServiceIndex
from jambset.model.version import VERSION
from jambset.rules.schema import Catalogue

API_VERSION = "1"


def operation_calls(
    catalogue: Catalogue, settings: Settings, *, metrics: Metrics, contract: bytes
) -> list[HTTPRouteHandler]:
    """Index with the sandbox page, health, metrics, contract and the pages of the problem types."""
    live = Health(status="pass", version=API_VERSION, release=VERSION)
    ready = Health(
        status="pass",
        version=API_VERSION,
        release=VERSION,
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
    )
    return [
        *page_calls(json_page(index(catalogue, metrics=UNSET if settings.metrics_port else METRICS))),
        constant("/health/live", *_health_pages(live)),
        constant("/health/ready", *_health_pages(ready)),
        constant("/openapi.json", page(contract, JSON)),
        _metrics_call(metrics),
        *_problem_calls(settings.problem_base),
    ]


def index(catalogue: Catalogue, *, metrics: str | UnsetType = METRICS) -> ServiceIndex:
    """Where to start. metrics: their address; UNSET where they have a port of their own."""
    links = Links(
        advice=ADVICE,
        bulk=BULK,
        recheck=RECHECK,
        house=HOUSE,
        house_recheck=HOUSE_RECHECK,
        rules="/v1/rules",
        rule_sets="/v1/rule-sets",
        finishes="/v1/finishes",
        labour="/v1/labour",
        limits="/v1/limits",
        sandbox="/v1/sandbox",
        contract="/openapi.json",
        documentation="/docs",
        live="/health/live",
        ready="/health/ready",
        metrics=metrics,
    )
    return ServiceIndex(
        service="jambset",
        release=VERSION,
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        links=links,
    )


def _health_pages(health: Health) -> tuple[Page, Page]:
    content = encode(health)
    return page(content, HEALTH_JSON, cache=NO_STORE), page(content, JSON, cache=NO_STORE)


def _metrics_call(metrics: Metrics) -> HTTPRouteHandler:
    @route(METRICS, http_method=READ)
    async def get(request: Call) -> Answer:
        return send(request, page(generate_latest(metrics.registry), f"{TEXT}; version=0.0.4", cache=NO_STORE))

    return get


def _problem_calls(base: str) -> list[HTTPRouteHandler]:
    """One page for each type of problem, as JSON and for a browser."""
    pages = [(slug, explain(kind, base=base)) for slug, kind in kinds().items()]
    return [
        constant(
            f"/problems/{slug}",
            page(encode(about), JSON),
            page(explain_html(about).encode(), HTML),
        )
        for slug, about in pages
    ]
