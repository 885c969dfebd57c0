"""The application, made from values: a catalogue, settings, scenarios and a logger."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from functools import partial
from typing import Any

from litestar import Litestar, Request, Response
from litestar.exceptions import HTTPException
from litestar.utils import normalize_path
from prometheus_client import Counter

from jambset.errors import RequestError
from jambset.http.bulk import bulk_calls
from jambset.http.calls import Limit
from jambset.http.catalogue import lookup_calls
from jambset.http.docs import docs_calls
from jambset.http.guard import Guard
from jambset.http.houses import house_calls
from jambset.http.negotiate import PROBLEM_JSON
from jambset.http.observe import REQUEST_ID, Log, Metrics, Observer, json_log
from jambset.http.openapi import build_document, encode_document
from jambset.http.openings import opening_calls
from jambset.http.operations import operation_calls
from jambset.http.pages import read_query
from jambset.http.problems import as_request_error, encode, headers_of, instance_of, problem_of
from jambset.http.rate import Clock
from jambset.http.room import Room
from jambset.http.sandbox import Scenario
from jambset.http.settings import Settings
from jambset.http.sink import Sink
from jambset.http.tally import Counters
from jambset.model.version import VERSION
from jambset.rules.schema import Catalogue

STDOUT = 1
"""Descriptor of standard output."""


def create_app(
    *,
    catalogue: Catalogue,
    settings: Settings,
    sandbox: Iterable[Scenario],
    log: Log | None = None,
    clock: Clock = time.monotonic_ns,
) -> Litestar:
    """The service as an ASGI application.

    log: a structlog logger; without one, JSON lines go to standard output. clock: times key reloads and rates.
    Raises ScenarioError when two scenarios share an id, SettingsError when callers need a key and there is none.
    """
    scenarios = tuple(sandbox)
    metrics = Metrics()
    lines = json_log(Sink(STDOUT, lost=_counter_of_lost_lines(metrics))) if log is None else log
    contract = encode_document(build_document(catalogue, scenarios, VERSION))
    app = Litestar(
        route_handlers=[
            *opening_calls(catalogue, limit=_limit(settings, settings.max_body_bytes)),
            *bulk_calls(catalogue, settings, lines, Counters(metrics.registry)),
            *house_calls(catalogue, limit=_limit(settings, settings.max_house_bytes), pairs=settings.max_house_pairs),
            *lookup_calls(catalogue, scenarios, settings),
            *operation_calls(catalogue, settings, metrics=metrics, contract=contract),
            *docs_calls(),
        ],
        exception_handlers=_Refusals(settings.problem_base, lines).handlers(),
        before_request=_check_query,
        openapi_config=None,
        logging_config=None,
    )
    guarded = Guard(app.asgi_handler, settings=settings, log=lines, clock=clock)
    app.asgi_handler = Observer(guarded, metrics=metrics, log=lines, route_of=partial(_route_of, app))
    return app


def _limit(settings: Settings, length: int) -> Limit:
    """Limits of one kind of body, which has room of its own. length: of the longest [bytes]."""
    return Limit(length, settings.body_seconds, Room(settings.max_held_bytes))


def _route_of(app: Litestar, scope: Any) -> str | None:
    """The template of the route that a request would have reached; None where there is none."""
    with suppress(HTTPException):
        return app.asgi_router.handle_routing(path=normalize_path(scope["path"]), method=scope["method"])[-1]
    return None


def _counter_of_lost_lines(metrics: Metrics) -> Callable[[], None]:
    about = "Lines of the log that couldn't be written."
    return Counter("jambset_log_lines_lost", about, registry=metrics.registry).inc


async def _check_query(request: Request[Any, Any, Any]) -> None:
    """Refuse a query parameter that the address doesn't take. Raises InvalidRequest."""
    if request.scope["query_string"]:
        read_query(request.scope["query_string"], request.route_handler.opt.get("query", {}))


class _Refusals:
    """Turns every exception into a problem response."""

    def __init__(self, base: str, log: Log) -> None:
        self._base = base
        self._log = log

    def handlers(self) -> dict[int | type[Exception], Any]:
        """The framework's table of exception handlers."""
        return {RequestError: self.refuse, HTTPException: self.translate, Exception: self.fail}

    def refuse(self, request: Request[Any, Any, Any], fault: RequestError) -> Response[bytes]:
        """A refusal from the error tree."""
        return self._response(request, fault)

    def translate(self, request: Request[Any, Any, Any], fault: HTTPException) -> Response[bytes]:
        """An error of the framework's as one of our tree; its Allow header is kept."""
        known = as_request_error(fault)
        if known is None:
            return self.fail(request, fault)
        return self._response(request, known, fault.headers)

    def fail(self, request: Request[Any, Any, Any], fault: Exception) -> Response[bytes]:
        """A fault of ours: the log gets the trace, the caller gets none of it."""
        self._log.error("fault", exc_info=fault, request_id=_request_id(request))
        return self._response(request, None)

    def _response(
        self, request: Request[Any, Any, Any], fault: RequestError | None, more: Mapping[str, str] | None = None
    ) -> Response[bytes]:
        problem = problem_of(fault, instance=instance_of(_request_id(request)), base=self._base)
        return Response(
            encode(problem),
            status_code=problem.status,
            media_type=PROBLEM_JSON,
            headers={**headers_of(fault), **(more or {})},
        )


def _request_id(request: Request[Any, Any, Any]) -> str:
    return str(request.scope["state"][REQUEST_ID])
