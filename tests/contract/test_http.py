"""Methods, media types, limits and validators, as HTTP has them."""

from __future__ import annotations

import io
from typing import Any

import msgspec
import pytest
from litestar import Litestar
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, JSON_BODY, POSTS, RECHECK, ask
from tests.contract.conftest import HOUSE_LIMIT, LIMIT, Ask

from jambset.errors import MOST_ERRORS
from jambset.http.addresses import BULK
from jambset.http.app import create_app
from jambset.http.observe import json_log
from jambset.http.problems import kinds
from jambset.http.sandbox_page import ASSETS
from jambset.http.settings import Settings
from jambset.rules.schema import Catalogue

STORED = [
    "/",
    "/v1/rules",
    "/v1/rules?topic=air",
    "/v1/rules/us-dryer-closet",
    "/v1/rule-sets",
    "/v1/finishes",
    "/v1/labour",
    "/v1/limits",
    "/v1/sandbox",
    "/v1/sandbox/carpet-bedroom",
    "/problems/invalid-request",
    "/openapi.json",
    "/docs",
    "/docs/assets/swagger-ui-bundle.js",
    "/docs/assets/swagger-ui.css",
    "/docs/assets/docs.js",
    "/docs/assets/docs.css",
    *(f"/page/assets/{name}" for name in ASSETS),
]
NOT_STORED = ["/health/live", "/health/ready", "/metrics"]
COMMON = {
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
}


def test_the_addresses_below_are_all_there_are(app: Litestar) -> None:
    one_of_many = {
        "/v1/rules/us-dryer-closet": "/v1/rules/{rule_id:str}",
        "/v1/sandbox/carpet-bedroom": "/v1/sandbox/{scenario:str}",
    }
    tried = {target.partition("?")[0] for target in STORED + NOT_STORED}
    templates = {one_of_many.get(target, target) for target in tried} | {f"/problems/{slug}" for slug in kinds()}
    assert {route.path for route in app.routes} == templates | {*POSTS, BULK}


@pytest.mark.parametrize("target", STORED + NOT_STORED)
def test_head_answers_as_get_without_the_body(target: str, asked: Ask) -> None:
    get, head = asked("GET", target), asked("HEAD", target)
    assert get.status == head.status == 200
    assert head.body == b""
    assert len(get.body) == int(get.headers["content-length"])
    own = {"x-request-id", *(["content-length"] if target == "/metrics" else [])}
    assert {k: v for k, v in get.headers.items() if k not in own} == {
        k: v for k, v in head.headers.items() if k not in own
    }


@pytest.mark.parametrize("target", STORED)
@pytest.mark.parametrize("form", ["{}", "W/{}", '"other", {}', "*"])
def test_a_caller_that_has_it_gets_304(target: str, form: str, asked: Ask) -> None:
    first = asked("GET", target)
    again = asked("GET", target, headers={"If-None-Match": form.format(first.headers["etag"])})
    assert (again.status, again.body) == (304, b"")
    for name in ("etag", "cache-control", "vary"):
        assert again.headers[name] == first.headers[name]
    assert "content-type" not in again.headers


@pytest.mark.parametrize("target", STORED)
def test_a_caller_that_has_another_gets_it_anew_with_the_same_etag(target: str, asked: Ask) -> None:
    first, again = asked("GET", target), asked("GET", target, headers={"If-None-Match": '"other"'})
    assert again.status == 200
    assert again.headers["etag"] == first.headers["etag"]
    assert again.headers["cache-control"].startswith("public, max-age=")
    assert again.body == first.body


@pytest.mark.parametrize("target", STORED)
def test_any_line_of_what_a_caller_has_counts_whichever_is_first(target: str, asked: Ask) -> None:
    """If-None-Match is a list (RFC 9110 section 13.1.2), so its lines are one (section 5.3)."""
    has = [("If-None-Match", '"other"'), ("If-None-Match", asked("GET", target).headers["etag"])]
    assert [asked("GET", target, headers=lines).status for lines in (has, has[::-1])] == [304, 304]


def test_different_content_has_different_etags(asked: Ask) -> None:
    etags = [asked("GET", target).headers["etag"] for target in STORED]
    assert len(set(etags)) == len(etags)
    html = asked("GET", "/problems/invalid-request", headers={"Accept": "text/html"})
    assert html.headers["etag"] not in etags


@pytest.mark.parametrize("target", NOT_STORED)
def test_the_state_of_the_service_is_never_stored(target: str, asked: Ask) -> None:
    reply = asked("GET", target, headers={"If-None-Match": "*"})
    assert reply.status == 200
    assert reply.headers["cache-control"] == "no-store"
    assert "etag" not in reply.headers


@pytest.mark.parametrize("target", [*STORED, *NOT_STORED, "/nowhere", "/v1/rules?x=1"])
def test_every_answer_has_the_common_headers(target: str, asked: Ask) -> None:
    reply = asked("GET", target)
    assert {name: reply.headers[name] for name in COMMON} == COMMON
    assert '</openapi.json>; rel="service-desc"' in reply.headers["link"]
    assert reply.headers["content-security-policy"].startswith("default-src 'none'")
    assert "access-control-allow-origin" not in reply.headers


@pytest.mark.parametrize("target", [*STORED, *NOT_STORED])
def test_what_is_negotiated_says_so_and_refuses_what_it_cant_be(target: str, asked: Ask) -> None:
    assert asked("GET", target).headers["vary"] == "Accept"
    refused = asked("GET", target, headers={"Accept": "audio/ogg"})
    assert (refused.status, refused.media_type) == (406, "application/problem+json")


@pytest.mark.parametrize("target", [*STORED[:-3], *NOT_STORED])
def test_an_unknown_query_parameter_is_named(target: str, asked: Ask) -> None:
    reply = asked("GET", f"{target}{'&' if '?' in target else '?'}colour=red")
    assert reply.status == 422
    assert [(e["parameter"], e["code"]) for e in reply.json()["errors"]] == [("colour", "unknown_parameter")]


def test_every_fault_of_a_query_is_named(asked: Ask) -> None:
    reply = asked("GET", "/v1/rules?topic=air&topic=fire&force=weak&%F0%9F=1&x&jurisdiction=US")
    assert [(e["parameter"], e["code"]) for e in reply.json()["errors"]] == [
        ("topic", "repeated_parameter"),
        ("force", "not_allowed"),
        ("\ufffd", "unknown_parameter"),
        ("x", "unknown_parameter"),
    ]


@pytest.mark.parametrize(("faults", "more"), [(MOST_ERRORS, False), (MOST_ERRORS + 1, True), (2_000, True)])
@pytest.mark.parametrize("target", ["/v1/rules", "/"])
def test_a_query_with_more_faults_than_are_listed_says_so(target: str, faults: int, *, more: bool, asked: Ask) -> None:
    problem = asked("GET", f"{target}?{'&'.join(['a'] * faults)}").json()
    assert [(error["parameter"], error["code"]) for error in problem["errors"]] == [
        ("a", "unknown_parameter")
    ] * MOST_ERRORS
    assert (f" Only the first {MOST_ERRORS} are listed." in problem["detail"]) is more


Bodies = dict[str, dict[str, Any]]
LIMITS = {ADVICE: LIMIT, RECHECK: LIMIT, HOUSE: HOUSE_LIMIT, HOUSE_RECHECK: HOUSE_LIMIT}


@pytest.mark.parametrize("target", POSTS)
def test_a_post_names_a_query_parameter_that_it_doesnt_take(target: str, bodies: Bodies, asked: Ask) -> None:
    body = msgspec.json.encode(bodies[target])
    reply = asked("POST", f"{target}?rule_set=2026-11", headers=JSON_BODY, body=body)
    assert (reply.status, reply.json()["errors"][0]["parameter"]) == (422, "rule_set")


@pytest.mark.parametrize("target", POSTS)
@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "PATCH", "DELETE", "TRACE"])
def test_the_posts_name_their_methods_to_others(method: str, target: str, asked: Ask) -> None:
    reply = asked(method, target)
    assert (reply.status, reply.headers["allow"]) == (405, "OPTIONS, POST")


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "TRACE", "QUERY", "BREW"])
def test_the_gets_name_their_methods_to_others(method: str, asked: Ask) -> None:
    reply = asked(method, "/v1/rules")
    assert reply.status == 405
    assert set(reply.headers["allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}


def test_options_name_the_methods(asked: Ask) -> None:
    posts = [(target, {"POST", "OPTIONS"}) for target in POSTS]
    for target, methods in [*posts, ("/v1/rules", {"GET", "HEAD", "OPTIONS"})]:
        reply = asked("OPTIONS", target)
        assert (reply.status, reply.body) == (204, b"")
        assert set(reply.headers["allow"].split(", ")) == methods


@pytest.mark.parametrize("target", POSTS)
def test_an_advice_is_json_that_is_not_stored(target: str, bodies: Bodies, asked: Ask) -> None:
    reply = asked("POST", target, headers=JSON_BODY, body=msgspec.json.encode(bodies[target]))
    assert (reply.status, reply.media_type) == (200, "application/json")
    assert reply.headers["cache-control"] == "no-store"
    assert reply.headers["vary"] == "Accept, Accept-Language"
    assert int(reply.headers["content-length"]) == len(reply.body)


@pytest.mark.parametrize("target", POSTS)
def test_equal_bodies_give_equal_bytes(target: str, bodies: Bodies, catalogue: Catalogue, asked: Ask) -> None:
    body = msgspec.json.encode(bodies[target])
    other = create_app(catalogue=catalogue, settings=Settings(), sandbox=(), log=json_log(io.BytesIO()))
    answers = [
        asked("POST", target, headers=JSON_BODY, body=body),
        ask(other, "POST", target, headers=JSON_BODY, body=body),
    ]
    assert answers[0].status == 200
    assert answers[0].body == answers[1].body
    assert answers[0].headers["x-request-id"] != answers[1].headers["x-request-id"]


def test_the_mind_is_not_changed_by_an_idempotency_key(opening: dict[str, Any], asked: Ask) -> None:
    body = msgspec.json.encode(opening)
    keyed = asked("POST", ADVICE, headers={**JSON_BODY, "Idempotency-Key": '"k"'}, body=body)
    assert keyed.body == asked("POST", ADVICE, headers=JSON_BODY, body=body).body


@pytest.mark.parametrize("target", POSTS)
@pytest.mark.parametrize("accept", ["audio/ogg", "application/xml", "image/png"])
def test_an_advice_in_another_form_is_406(target: str, accept: str, asked: Ask) -> None:
    reply = asked("POST", target, headers={**JSON_BODY, "Accept": accept}, body=b"{}")
    assert (reply.status, reply.json()["code"]) == (406, "not_acceptable")


ORDERS = {"as sent": 1, "the other way round": -1}


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize("target", POSTS)
def test_lines_of_one_list_are_one_list_whatever_their_order(
    order: str, target: str, bodies: Bodies, asked: Ask
) -> None:
    """RFC 9110 section 5.3: the same as one line with commas, so JSON may be had and Spanish is liked best."""
    lines = [
        ("Content-Type", "application/json"),
        ("Accept", "application/json"),
        ("Accept", "image/png"),
        ("Accept-Language", "es"),
        ("Accept-Language", "de;q=0.1"),
    ]
    reply = asked("POST", target, headers=lines[:: ORDERS[order]], body=msgspec.json.encode(bodies[target]))
    assert (reply.status, reply.media_type, reply.headers["content-language"]) == (200, "application/json", "es")


@pytest.mark.parametrize("order", ORDERS)
def test_the_same_holds_of_what_is_looked_up(order: str, asked: Ask) -> None:
    lines = [("Accept", "text/html"), ("Accept", "image/png"), ("Accept-Language", "es"), ("Accept-Language", "de")]
    reply = asked("GET", "/", headers=lines[:: ORDERS[order]])
    assert (reply.status, reply.media_type, reply.headers["content-language"]) == (200, "text/html", "es")


@pytest.mark.parametrize("order", ORDERS)
@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("Content-Type", ("application/json", "text/plain")),
        ("Content-Type", ("application/json", "application/json")),
        ("Content-Encoding", ("identity", "gzip")),
    ],
)
def test_a_type_or_coding_sent_twice_is_refused_whichever_is_first(
    order: str, name: str, values: tuple[str, str], opening: dict[str, Any], asked: Ask
) -> None:
    """RFC 9110 section 8.3: two types are no list, and whoever picks one picks another than the next recipient."""
    lines = [*(JSON_BODY.items() if name != "Content-Type" else ()), *((name, value) for value in values)]
    reply = asked("POST", ADVICE, headers=lines[:: ORDERS[order]], body=msgspec.json.encode(opening))
    assert (reply.status, reply.json()["code"]) == (415, "wrong_media_type")


@pytest.mark.parametrize("accept", ["text/csv", "text/calendar"])
def test_only_a_house_has_lists(accept: str, asked: Ask) -> None:
    for target in (ADVICE, RECHECK):
        assert asked("POST", target, headers={**JSON_BODY, "Accept": accept}, body=b"{}").status == 406


@pytest.mark.parametrize("target", POSTS)
@pytest.mark.parametrize("content_type", ["text/plain", "application/xml", "application/json; charset=utf-16"])
def test_a_body_of_another_type_is_415(target: str, content_type: str, asked: Ask) -> None:
    reply = asked("POST", target, headers={"Content-Type": content_type}, body=b"{}")
    assert (reply.status, reply.headers["accept"]) == (415, "application/json")


@pytest.mark.parametrize("target", POSTS)
def test_a_body_without_a_type_and_a_compressed_one_are_415(target: str, asked: Ask) -> None:
    assert asked("POST", target, body=b"{}").status == 415
    packed = asked("POST", target, headers={**JSON_BODY, "Content-Encoding": "gzip"}, body=b"\x1f\x8b")
    assert (packed.status, packed.headers["accept-encoding"]) == (415, "identity")


def _padded(request: dict[str, Any], size: int) -> bytes:
    body = msgspec.json.encode(request)
    return body + b" " * (size - len(body))


@pytest.mark.parametrize("target", POSTS)
def test_a_body_of_just_the_limit_is_read_and_one_byte_more_is_not(target: str, bodies: Bodies, asked: Ask) -> None:
    limit = LIMITS[target]
    assert asked("POST", target, headers=JSON_BODY, body=_padded(bodies[target], limit)).status == 200
    refused = asked("POST", target, headers=JSON_BODY, body=_padded(bodies[target], limit + 1))
    assert (refused.status, refused.json()["code"]) == (413, "body_too_large")
    assert f"{limit} bytes" in refused.json()["detail"]


@pytest.mark.parametrize("target", POSTS)
def test_the_limit_holds_for_chunks_and_for_a_length_that_lies(target: str, bodies: Bodies, asked: Ask) -> None:
    limit = LIMITS[target]

    def halves(size: int) -> list[bytes]:
        body = _padded(bodies[target], size)
        return [body[: size // 2], body[size // 2 :], b""]

    assert asked("POST", target, headers=JSON_BODY, chunks=halves(limit)).status == 200
    assert asked("POST", target, headers=JSON_BODY, chunks=halves(limit + 1)).status == 413
    lying = {**JSON_BODY, "Content-Length": "10"}
    assert asked("POST", target, headers=lying, chunks=halves(limit + 1)).status == 413


@pytest.mark.parametrize("length", [str(LIMIT + 1), "9" * 400])
def test_a_length_over_the_limit_is_refused_before_the_body_is_read(length: str, asked: Ask) -> None:
    assert asked("POST", ADVICE, headers={**JSON_BODY, "Content-Length": length}, chunks=[b"{}"]).status == 413


@pytest.mark.parametrize("length", ["-1", "x", "1_0", "²"])
def test_a_length_that_is_no_number_is_not_believed(length: str, opening: dict[str, Any], asked: Ask) -> None:
    body = msgspec.json.encode(opening)
    assert asked("POST", ADVICE, headers={**JSON_BODY, "Content-Length": length}, chunks=[body]).status == 200


@pytest.mark.parametrize("target", POSTS)
def test_a_caller_that_goes_away_is_no_fault_of_ours(target: str, asked: Ask) -> None:
    reply = asked("POST", target, headers=JSON_BODY, chunks=[], leaves=True)
    assert (reply.status, reply.json()["code"]) == (400, "unreadable_body")
