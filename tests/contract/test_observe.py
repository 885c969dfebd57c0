from __future__ import annotations

import gzip
import io
import re
from typing import Any

import msgspec
import pytest
from litestar import Litestar
from prometheus_client import generate_latest
from prometheus_client.parser import text_string_to_metric_families
from tests.contract.asgi import ADVICE, HOUSE, JSON_BODY, POSTS, Reply, ask
from tests.contract.conftest import Ask

from jambset.http.addresses import BULK
from jambset.http.app import create_app
from jambset.http.bulk import NDJSON
from jambset.http.observe import Metrics, Observer, json_log
from jambset.http.settings import Settings
from jambset.rules.schema import Catalogue

TRACE = "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01"


class Watched:
    """An application of its own with its log at hand."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.lines = io.BytesIO()
        self.app = create_app(catalogue=catalogue, settings=Settings(), sandbox=(), log=json_log(self.lines))

    def ask(self, method: str, target: str, **more: Any) -> Reply:
        return ask(self.app, method, target, **more)

    def log(self) -> list[dict[str, Any]]:
        return [msgspec.json.decode(line) for line in self.lines.getvalue().splitlines()]


@pytest.fixture
def watched(catalogue: Catalogue) -> Watched:
    return Watched(catalogue)


def _samples(text: bytes) -> dict[tuple[str, ...], float]:
    families = text_string_to_metric_families(text.decode())
    return {
        (sample.name, *(sample.labels.get(k, "") for k in ("method", "route", "status"))): sample.value
        for family in families
        for sample in family.samples
        if "le" not in sample.labels
    }


def test_one_line_for_each_request(watched: Watched, opening: dict[str, Any]) -> None:
    body = msgspec.json.encode(opening)
    reply = watched.ask("POST", ADVICE, headers={**JSON_BODY, "traceparent": TRACE}, body=body)
    (line,) = watched.log()
    assert line.pop("duration_ms") > 0
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d+Z", line.pop("timestamp"))
    assert line == {
        "event": "request",
        "level": "info",
        "method": "POST",
        "route": ADVICE,
        "status": 200,
        "bytes": len(reply.body),
        "request_id": reply.headers["x-request-id"],
        "trace_id": "0af7651916cd43dd8448eb211c80319c",
    }


def test_nothing_of_a_payload_query_or_name_reaches_the_log(watched: Watched, opening: dict[str, Any]) -> None:
    opening |= {"mark": "SECRET-MARK", "external_id": "SECRET-ID"}
    opening["pull_side"]["room"] = "SECRET-ROOM"
    watched.ask("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(opening))
    watched.ask("POST", ADVICE, headers=JSON_BODY, body=b'{"SECRET-KEY": "SECRET-VALUE"}')
    watched.ask("GET", "/v1/rules/SECRET-RULE?x=SECRET-QUERY")
    watched.ask("GET", "/SECRET-PATH")
    watched.ask("SECRET", "/")
    assert [line["status"] for line in watched.log()] == [200, 422, 422, 404, 405]
    assert b"SECRET" not in watched.lines.getvalue()


def test_routes_are_templates_and_what_has_none_is_unmatched(watched: Watched) -> None:
    for target in ("/v1/rules/us-dryer-closet", "/v1/rules/nothing", "/nowhere", "/docs"):
        watched.ask("GET", target)
    assert [(line["route"], line["status"]) for line in watched.log()] == [
        ("/v1/rules/{rule_id}", 200),
        ("/v1/rules/{rule_id}", 404),
        ("unmatched", 404),
        ("/docs", 200),
    ]


@pytest.mark.parametrize("given", ["a", "7f2c-11.x_y:z@Q", "0" * 128])
def test_a_sane_request_id_is_taken_over(given: str, watched: Watched) -> None:
    reply = watched.ask("GET", "/nowhere", headers={"X-Request-ID": given})
    assert reply.headers["x-request-id"] == given
    assert reply.json()["instance"] == f"urn:request-id:{given}"
    assert watched.log()[0]["request_id"] == given


@pytest.mark.parametrize("given", ["", " ", "a b", "a\tb", "x" * 129, "é", "a,b", "<x>", "a\n"])
def test_any_other_is_replaced_by_one_of_ours(given: str, watched: Watched) -> None:
    replies = [watched.ask("GET", "/health/live", headers={"X-Request-ID": given}) for _ in range(2)]
    minted = [reply.headers["x-request-id"] for reply in replies]
    assert all(re.fullmatch("[0-9a-f]{32}", one) for one in minted)
    assert minted[0] != minted[1]


def test_two_request_ids_are_none(watched: Watched) -> None:
    reply = watched.ask("GET", "/health/live", headers=[("X-Request-ID", "one"), ("X-Request-ID", "two")])
    assert re.fullmatch("[0-9a-f]{32}", reply.headers["x-request-id"])


def test_lines_of_a_trace_state_are_one_and_two_parents_none(watched: Watched) -> None:
    """The state is a list as HTTP has lists (W3C Trace Context, section 3.3), a parent stands once."""
    states = [("tracestate", "a=1"), ("tracestate", "b=2")]
    reply = watched.ask("GET", "/health/live", headers=[("traceparent", TRACE), *states])
    assert (reply.headers["traceparent"], reply.headers["tracestate"]) == (TRACE, "a=1, b=2")
    twice = watched.ask("GET", "/health/live", headers=[("traceparent", TRACE), ("traceparent", TRACE)])
    assert "traceparent" not in twice.headers


def test_a_trace_context_is_sent_back(watched: Watched) -> None:
    reply = watched.ask("GET", "/health/live", headers={"traceparent": TRACE, "tracestate": "a=1,b=2"})
    assert (reply.headers["traceparent"], reply.headers["tracestate"]) == (TRACE, "a=1,b=2")


@pytest.mark.parametrize(
    "trace",
    [
        "",
        "x",
        TRACE + "-extra",
        TRACE.upper(),
        "ff" + TRACE[2:],
        "00-" + "0" * 32 + TRACE[35:],
        TRACE[:36] + "0" * 16 + "-01",
    ],
)
def test_a_malformed_trace_context_is_dropped(trace: str, watched: Watched) -> None:
    reply = watched.ask("GET", "/health/live", headers={"traceparent": trace, "tracestate": "a=1"})
    assert not {"traceparent", "tracestate"} & reply.headers.keys()
    assert "trace_id" not in watched.log()[0]


def test_requests_are_counted_by_method_route_and_status(watched: Watched) -> None:
    watched.ask("GET", "/v1/rules")
    watched.ask("GET", "/v1/rules")
    watched.ask("POST", ADVICE, headers=JSON_BODY, body=b"{}")
    watched.ask("BREW", "/nowhere")
    reply = watched.ask("GET", "/metrics")
    assert reply.headers["content-type"] == "text/plain; version=0.0.4; charset=utf-8"
    found = _samples(reply.body)
    assert found["jambset_requests_total", "GET", "/v1/rules", "200"] == 2
    assert found["jambset_requests_total", "POST", ADVICE, "422"] == 1
    assert found["jambset_requests_total", "OTHER", "unmatched", "404"] == 1
    assert found["jambset_request_seconds_count", "GET", "/v1/rules", ""] == 2
    assert 0 < found["jambset_request_seconds_sum", "GET", "/v1/rules", ""] < 2


def test_how_long_the_longest_house_took_can_be_told() -> None:
    """Two of the heaviest take 20 to 26 s side by side, as docker/README.md has it."""
    metrics = Metrics()
    for seconds in (3.0, 21.0, 26.0, 59.0):
        metrics.observe("POST", HOUSE, 200, seconds)
    text = generate_latest(metrics.registry).decode()
    counted = dict(re.findall(r'^jambset_request_seconds_bucket\{le="([^"]+)",.*\} (\S+)$', text, re.MULTILINE))
    assert [counted[edge] for edge in ("2.5", "5.0", "10.0", "30.0", "60.0", "+Inf")] == [
        "0.0", "1.0", "1.0", "3.0", "4.0", "4.0",
    ]  # fmt: skip


def test_what_became_of_the_lines_of_a_stream_is_counted_and_told_in_its_log_line(
    watched: Watched, opening: dict[str, Any]
) -> None:
    """Of four lines one is blank, two are no openings; the next stream breaks off after one that was answered."""
    good = msgspec.json.encode(opening)
    _stream(watched, good + b"\n\n{}\n{SECRET")
    _stream(watched, gzip.compress(good + b"\n{}")[:-8], **{"Content-Encoding": "gzip"})
    assert [(line["status"], line["lines"], line["end"]) for line in watched.log()] == [
        (200, {"answered": 1, "refused": 2, "failed": 0}, "whole"),
        (200, {"answered": 1, "refused": 0, "failed": 0}, "unreadable_body"),
    ]
    assert b"SECRET" not in watched.lines.getvalue()
    text = watched.ask("GET", "/metrics").body.decode()
    assert re.findall(r"^(jambset_bulk_\w+_total\S* \S+)$", text, re.MULTILINE) == [
        'jambset_bulk_lines_total{outcome="answered"} 2.0',
        'jambset_bulk_lines_total{outcome="refused"} 2.0',
        'jambset_bulk_lines_total{outcome="failed"} 0.0',
        'jambset_bulk_streams_total{end="whole"} 1.0',
        'jambset_bulk_streams_total{end="unreadable_body"} 1.0',
    ]


def _stream(watched: Watched, body: bytes, **headers: str) -> Reply:
    return watched.ask("POST", BULK, headers={"Content-Type": NDJSON, **headers}, body=body)


def test_a_stream_that_is_refused_before_it_begins_has_no_lines_to_tell_of(watched: Watched) -> None:
    assert _stream(watched, b"{}", Accept="text/csv").status == 406
    (line,) = watched.log()
    assert not {"lines", "end"} & line.keys()
    assert b"jambset_bulk_streams_total{" not in watched.ask("GET", "/metrics").body


def test_each_application_counts_for_itself(catalogue: Catalogue) -> None:
    first, second = Watched(catalogue), Watched(catalogue)
    first.ask("GET", "/docs")
    assert ("jambset_requests_total", "GET", "/docs", "200") in _samples(first.ask("GET", "/metrics").body)
    assert ("jambset_requests_total", "GET", "/docs", "200") not in _samples(second.ask("GET", "/metrics").body)


def test_metrics_and_log_hold_no_caller_text_as_label(watched: Watched) -> None:
    for number in range(20):
        watched.ask("GET", f"/nowhere/{number}")
        watched.ask("GET", f"/v1/rules/none-{number}")
    text = watched.ask("GET", "/metrics").body
    routes = {key[2] for key in _samples(text) if not key[0].startswith("jambset_bulk_")}
    assert routes == {"unmatched", "/v1/rules/{rule_id}"}


def test_what_is_not_http_passes_unseen() -> None:
    import asyncio

    seen: list[str] = []

    async def inner(scope: Any, receive: Any, send: Any) -> None:
        seen.append(scope["type"])

    lines = io.BytesIO()
    observer = Observer(inner, metrics=Metrics(), log=json_log(lines))
    asyncio.run(observer({"type": "websocket"}, None, None))  # type: ignore[arg-type]
    assert (seen, lines.getvalue()) == (["websocket"], b"")


def test_a_fault_after_the_answer_began_is_still_logged() -> None:
    import asyncio

    async def inner(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 200, "headers": []})
        await send({"type": "http.response.trailers", "headers": []})
        raise RuntimeError("late")

    async def send(message: Any) -> None:
        pass

    lines = io.BytesIO()
    observer = Observer(inner, metrics=Metrics(), log=json_log(lines))
    scope: Any = {"type": "http", "method": "GET", "headers": [], "state": {}}
    with pytest.raises(RuntimeError, match="late"):
        asyncio.run(observer(scope, None, send))  # type: ignore[arg-type]
    line = msgspec.json.decode(lines.getvalue())
    assert (line["route"], line["status"], line["bytes"]) == ("unmatched", 200, 0)


def test_the_log_of_a_service_goes_to_standard_output_unless_told(
    catalogue: Catalogue, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    app: Litestar = create_app(catalogue=catalogue, settings=Settings(), sandbox=())
    ask(app, "GET", "/health/live")
    assert msgspec.json.decode(capfdbinary.readouterr().out)["route"] == "/health/live"


def test_the_index_and_health_say_what_runs(asked: Ask, catalogue: Catalogue) -> None:
    ready, live, index = (asked("GET", target) for target in ("/health/ready", "/health/live", "/"))
    assert ready.media_type == live.media_type == "application/health+json"
    assert ready.json()["status"] == live.json()["status"] == "pass"
    assert (ready.json()["rule_set"], ready.json()["rule_set_digest"]) == (catalogue.version, catalogue.digest)
    assert "rule_set" not in live.json()
    assert asked("GET", "/health/ready", headers={"Accept": "application/json"}).media_type == "application/json"
    for target in index.json()["links"].values():
        assert asked("GET", target).status == (405 if target in (*POSTS, BULK) else 200)
