"""Who may call, how often, by which name, from which pages; each limit at its edge and past it."""

from __future__ import annotations

import asyncio
import hashlib
import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from litestar import Litestar
from tests.contract.asgi import ADVICE, JSON_BODY, POSTS, Reply, ask, run
from tests.contract.conftest import Ask

from jambset.errors import SlowBody
from jambset.http.addresses import BULK
from jambset.http.app import create_app
from jambset.http.calls import Limit, read_body
from jambset.http.connection import ARRIVED
from jambset.http.guard import LONGEST_ADDRESS, Guard
from jambset.http.incoming import reading
from jambset.http.keys import entry_of, new_key
from jambset.http.observe import json_log
from jambset.http.rate import SECOND
from jambset.http.room import Room
from jambset.http.settings import Settings, SettingsError
from jambset.rules.schema import Catalogue

KEY = new_key()
PUBLIC = ["/", "/docs", "/docs/assets/docs.js", "/page/assets/page.js", "/openapi.json"]
PUBLIC += ["/problems/missing-key", "/health/live", "/health/ready"]
KEYED = ["/v1/rules", "/v1/limits", "/v1/sandbox", "/metrics", "/nowhere", "//v1/limits", "//metrics", "//"]
PAGE = "https://plans.example"


class Service:
    """An application of its own, its log and a clock to turn."""

    def __init__(self, catalogue: Catalogue, settings: Settings) -> None:
        self.lines = io.BytesIO()
        self.now = 0
        self.app: Litestar = create_app(
            catalogue=catalogue, settings=settings, sandbox=(), log=json_log(self.lines), clock=lambda: self.now
        )

    def ask(self, method: str, target: str, *, key: str | None = None, **more: Any) -> Reply:
        headers = {**more.pop("headers", {}), **({"Authorization": f"Bearer {key}"} if key is not None else {})}
        return ask(self.app, method, target, headers=headers, **more)

    def pass_(self, seconds: float) -> None:
        self.now += round(seconds * SECOND)

    def log(self) -> list[dict[str, Any]]:
        return [msgspec.json.decode(line) for line in self.lines.getvalue().splitlines()]


Serve = Callable[..., Service]


@pytest.fixture(scope="module")
def serve(catalogue: Catalogue) -> Serve:
    return lambda **settings: Service(catalogue, Settings(**settings))


@pytest.fixture(scope="module")
def keyed(serve: Serve) -> Service:
    return serve(auth="on", keys=entry_of("ci", KEY))


def _is_problem(reply: Reply, status: int, code: str) -> bool:
    assert reply.media_type == "application/problem+json"
    assert reply.headers["cache-control"] == "no-store"
    assert reply.headers["x-content-type-options"] == "nosniff"
    assert len(reply.body) == int(reply.headers["content-length"])
    problem = reply.json()
    assert problem["instance"] == f"urn:request-id:{reply.headers['x-request-id']}"
    return (reply.status, problem["status"], problem["code"]) == (status, status, code)


# --- keys


@pytest.mark.parametrize("target", PUBLIC)
def test_what_says_how_to_call_needs_no_key(target: str, keyed: Service) -> None:
    assert keyed.ask("GET", target).status == 200


@pytest.mark.parametrize("target", KEYED)
@pytest.mark.parametrize("method", ["GET", "HEAD", "OPTIONS", "BREW"])
def test_everything_else_needs_one_however_it_is_written(method: str, target: str, keyed: Service) -> None:
    reply = keyed.ask(method, target)
    assert (reply.status, reply.headers["www-authenticate"]) == (401, 'Bearer realm="jambset"')
    assert method == "HEAD" or _is_problem(reply, 401, "missing_key")


@pytest.mark.parametrize(
    "target", ["/docs/../v1/limits", "/docs//../v1/limits", "/health/./../metrics", "/docsv1/limits"]
)
def test_no_way_leads_past_the_guard_through_a_public_address(target: str, keyed: Service) -> None:
    assert _is_problem(keyed.ask("GET", target), 404, "unknown_resource")


def test_with_its_key_a_caller_gets_what_there_is(keyed: Service, opening: dict[str, Any], asked: Ask) -> None:
    body = msgspec.json.encode(opening)
    answer = keyed.ask("POST", ADVICE, key=KEY, headers=JSON_BODY, body=body)
    assert answer.status == 200
    assert answer.body == asked("POST", ADVICE, headers=JSON_BODY, body=body).body
    assert keyed.ask("GET", "/nowhere", key=KEY).status == 404
    for scheme in ("bearer", "BEARER", "Bearer "):
        assert keyed.ask("GET", "/v1/rule-sets", headers={"Authorization": f"{scheme} {KEY}"}).status == 200


@pytest.mark.parametrize("header", ["Basic Y2k6eA==", "Bearer", "Bearer ", "bare-key", "Bearer\u00a0x", ""])
def test_a_header_that_brings_no_bearer_key_counts_as_none(header: str, keyed: Service) -> None:
    reply = keyed.ask("GET", "/v1/rules", headers={"Authorization": header})
    assert _is_problem(reply, 401, "missing_key")
    assert reply.headers["www-authenticate"] == 'Bearer realm="jambset"'


WRONG: dict[str, str] = {
    "shorter": KEY[:-1],
    "longer": f"{KEY}x",
    "other case": KEY.swapcase(),
    "another": new_key(),
    "its digest": hashlib.sha256(KEY.encode()).hexdigest(),
    "not ASCII": "ü",
}


@pytest.mark.parametrize("how", WRONG)
def test_a_key_that_isnt_known_is_told_from_none(how: str, keyed: Service) -> None:
    wrong = WRONG[how]
    reply = keyed.ask("GET", "/v1/rules", key=wrong)
    assert _is_problem(reply, 401, "missing_key")
    assert reply.headers["www-authenticate"] == 'Bearer realm="jambset", error="invalid_token"'
    assert wrong not in reply.body.decode()


@pytest.mark.parametrize("other", [KEY, "x"], ids=["the same", "another"])
def test_of_two_keys_neither_counts(other: str, keyed: Service) -> None:
    twice = [("Authorization", f"Bearer {KEY}"), ("Authorization", f"Bearer {other}")]
    for lines in (twice, twice[::-1]):
        assert _is_problem(ask(keyed.app, "GET", "/v1/rules", headers=lines), 401, "missing_key")


def test_an_answer_to_a_key_is_for_no_shared_store(keyed: Service, asked: Ask) -> None:
    assert asked("GET", "/v1/rules").headers["cache-control"].startswith("public, ")
    assert keyed.ask("GET", "/v1/rules", key=KEY).headers["cache-control"] == "private, max-age=300, must-revalidate"
    assert keyed.ask("GET", "/openapi.json").headers["cache-control"].startswith("public, ")


def test_the_log_has_the_keys_name_and_neither_key_nor_digest(serve: Serve) -> None:
    service = serve(auth="on", keys=entry_of("ci", KEY))
    wrong = new_key()
    for key in (KEY, wrong, None):
        service.ask("GET", "/v1/rules", key=key)
    service.ask("GET", "/docs", key=KEY)
    assert [line.get("caller") for line in service.log()] == ["ci", None, None, None]
    assert [line["status"] for line in service.log()] == [200, 401, 401, 200]
    text = service.lines.getvalue().decode().lower()
    for secret in (KEY, wrong):
        assert secret.lower() not in text
        assert hashlib.sha256(secret.encode()).hexdigest() not in text
    assert b"caller" not in service.ask("GET", "/metrics", key=KEY).body


def test_keys_change_without_a_restart_and_a_damaged_file_changes_nothing(serve: Serve, tmp_path: Path) -> None:
    file = tmp_path / "keys.txt"
    old, new = new_key(), new_key()
    file.write_text(entry_of("ci", old), "utf-8")
    service = serve(auth="on", keys_file=str(file))

    def statuses() -> list[int]:
        service.pass_(1)
        return [service.ask("GET", "/v1/rule-sets", key=key).status for key in (old, new)]

    assert statuses() == [200, 401]
    file.write_text(f"{entry_of('ci', old)}\n{entry_of('ci', new)}\n", "utf-8")
    assert statuses() == [200, 200]
    file.write_text(entry_of("ci", new), "utf-8")
    assert statuses() == [401, 200]
    file.write_text(f"ci {old}", "utf-8")
    assert statuses() == statuses() == [401, 200]
    (told,) = [line for line in service.log() if line["event"] == "keys"]
    assert told["level"] == "error"
    assert told["detail"].startswith("JAMBSET_KEYS_FILE, keys.txt, line 1: ")
    assert not [secret for secret in (old, new) if secret.encode() in service.lines.getvalue()]


def test_an_application_for_another_address_than_loopback_isnt_made_without_a_key(serve: Serve) -> None:
    with pytest.raises(SettingsError, match=r"^No key is set"):
        serve(host="0.0.0.0")
    assert serve(host="0.0.0.0", auth="off").ask("GET", "/v1/limits").status == 200
    assert serve(host="0.0.0.0", keys=entry_of("ci", KEY)).ask("GET", "/v1/limits").status == 401
    assert serve(host="127.0.0.1").ask("GET", "/v1/limits").status == 200
    assert serve(host="127.0.0.1", keys=entry_of("ci", KEY)).ask("GET", "/v1/limits").status == 401


# --- rate


def test_what_is_left_is_told_in_every_answer_and_beyond_it_comes_429(serve: Serve) -> None:
    service = serve(rate="3/60")  # one more every 20 s
    replies = [service.ask("GET", "/v1/limits") for _ in range(4)]
    assert [reply.status for reply in replies] == [200, 200, 200, 429]
    assert {reply.headers["ratelimit-policy"] for reply in replies} == {'"default";q=3;w=60'}
    assert [reply.headers["ratelimit"] for reply in replies] == [
        '"default";r=2;t=20',
        '"default";r=1;t=20',
        '"default";r=0;t=20',
        '"default";r=0;t=20',
    ]
    assert _is_problem(replies[3], 429, "too_many_requests")
    assert replies[3].headers["retry-after"] == "20"
    assert not [reply for reply in replies[:3] if "retry-after" in reply.headers]
    assert "3 requests in 60 s; one more is allowed in 20 s" in replies[3].json()["detail"]
    service.pass_(19)
    assert service.ask("GET", "/v1/limits").headers["retry-after"] == "1"
    service.pass_(1)
    assert service.ask("GET", "/v1/limits").status == 200
    assert service.ask("GET", "/v1/limits").status == 429


def test_refused_and_unknown_requests_count_and_public_ones_dont(serve: Serve) -> None:
    service = serve(rate="2/60")
    for target in PUBLIC:
        reply = service.ask("GET", target)
        assert (reply.status, "ratelimit" in reply.headers) == (200, False)
    assert service.ask("POST", ADVICE, headers=JSON_BODY, body=b"{").headers["ratelimit"] == '"default";r=1;t=30'
    assert service.ask("GET", "/nowhere").headers["ratelimit"] == '"default";r=0;t=30'
    assert service.ask("GET", "/v1/limits").status == 429
    assert service.ask("GET", "/health/live").status == 200


def test_each_key_has_a_rate_of_its_own_and_one_that_isnt_known_spends_none(serve: Serve) -> None:
    first, second = new_key(), new_key()
    service = serve(auth="on", keys=f"{entry_of('a', first)};{entry_of('b', second)}", rate="1/60")
    assert service.ask("GET", "/v1/limits", key=new_key()).status == 401
    assert [service.ask("GET", "/v1/limits", key=first).status for _ in range(2)] == [200, 429]
    assert [service.ask("GET", "/v1/limits", key=second).status for _ in range(2)] == [200, 429]
    assert [line.get("caller") for line in service.log()] == [None, "a", "a", "b", "b"]


def test_without_keys_each_address_has_a_rate_of_its_own() -> None:
    async def inner(scope: Any, receive: Any, send: Any) -> None:
        await send({"type": "http.response.start", "status": 204, "headers": []})

    guard = Guard(inner, settings=Settings(rate="1/60"), log=None, clock=lambda: 0)

    def status(client: tuple[str, int] | None) -> int:
        sent: list[Any] = []

        async def send(message: Any) -> None:
            sent.append(message)

        scope: Any = {
            "type": "http",
            "method": "GET",
            "path": "/v1/x",
            "query_string": b"",
            "headers": [],
            "client": client,
        }
        asyncio.run(guard({**scope, "state": {"request_id": "r"}}, None, send))  # type: ignore[arg-type]
        return int(sent[0]["status"])

    clients = [("10.0.0.1", 1), ("10.0.0.1", 2), ("10.0.0.2", 1), None, None]
    assert [status(client) for client in clients] == [204, 429, 204, 204, 429]
    home = [("2001:db8::1", 1), ("2001:db8::2", 1), ("2001:db8:0:1::1", 1)]  # two of one network, one of the next
    assert [status(client) for client in home] == [204, 429, 204]
    long = "x" * LONGEST_ADDRESS  # said to be one by a proxy; no more of it is kept
    assert [status(client) for client in [(f"{long}1", 1), (f"{long}2", 1)]] == [204, 429]


def test_by_default_nobody_is_limited(asked: Ask) -> None:
    reply = asked("GET", "/v1/limits")
    assert not {"ratelimit", "ratelimit-policy"} & reply.headers.keys()
    assert "rate" not in reply.json()


# --- where it is counted


def test_a_refusal_is_counted_under_the_route_it_would_have_come_to(serve: Serve) -> None:
    service = serve(auth="on", keys=entry_of("ci", KEY), rate="1/60", allowed_hosts="test")
    for target in ("/v1/rules", "/v1/rules/us-dryer-closet", "//v1/limits/", "/nowhere", "/v1/rules/a/b"):
        service.ask("GET", target)
    service.ask("POST", BULK)
    service.ask("BREW", "/v1/rules")
    service.ask("GET", "/v1/rules", headers={"Host": "other"})
    service.ask("GET", "/v1/labour", key=KEY)
    service.ask("GET", "/v1/labour", key=KEY)
    assert [(line["status"], line["route"]) for line in service.log()] == [
        (401, "/v1/rules"),
        (401, "/v1/rules/{rule_id}"),
        (401, "/v1/limits"),
        (401, "unmatched"),
        (401, "unmatched"),
        (401, BULK),
        (401, "unmatched"),
        (421, "/v1/rules"),
        (200, "/v1/labour"),
        (429, "/v1/labour"),
    ]


# --- hosts


@pytest.fixture(scope="module")
def named(serve: Serve) -> Service:
    return serve(allowed_hosts="Doors.Example, *.site.example,[::1]")


@pytest.mark.parametrize(
    "host",
    [
        "doors.example",
        "DOORS.example",
        "doors.example:8080",
        "doors.example.",
        "doors.example.:80",
        "a.site.example",
        "a.b.SITE.example:1",
        "doors.example:",
        "[::1]",
        "[::1]:8080",
    ],
)
def test_a_known_name_is_answered_with_a_port_or_without(host: str, named: Service) -> None:
    assert named.ask("GET", "/health/live", headers={"Host": host}).status == 200


@pytest.mark.parametrize(
    "host",
    [
        "",
        "test",
        "doors.example.org",
        "evildoors.example",
        "x.doors.example",
        "site.example",
        ".site.example",
        "evilsite.example",
        "[::2]",
        ":80",
    ],
)
def test_any_other_is_misdirected_whatever_it_asks_for(host: str, named: Service) -> None:
    for target in ("/v1/limits", "/health/live", "/"):
        assert _is_problem(named.ask("GET", target, headers={"Host": host}), 421, "wrong_host")


@pytest.mark.parametrize(
    "host",
    [
        "doors.example:80:80",
        "doors.example:x",
        "doors.example:\xb2",
        "doors.example@evil.example",
        "evil.example:80@x.site.example",
        "evil.example/x.site.example",
        "evil.example#.site.example",
        "doors.example, doors.example",
        "doors.example,x.site.example",
        "doors example",
        "d\xf6rs.example",
        "[::1",
        "[::1].",
        "::1",
    ],
)
def test_what_names_no_host_is_refused_whichever_are_allowed(host: str, named: Service, serve: Serve) -> None:
    for service in (named, serve()):
        for target in ("/v1/limits", "/health/live", "/"):
            assert _is_problem(service.ask("GET", target, headers={"Host": host}), 400, "bad_request")


def test_a_request_without_a_host_is_misdirected_too() -> None:
    guard = Guard(None, settings=Settings(allowed_hosts="a.example"), log=None, clock=lambda: 0)  # type: ignore[arg-type]
    sent: list[Any] = []

    async def send(message: Any) -> None:
        sent.append(message)

    scope: Any = {
        "type": "http",
        "method": "GET",
        "path": "/",
        "query_string": b"",
        "headers": [],
        "state": {"request_id": "r"},
    }
    asyncio.run(guard(scope, None, send))  # type: ignore[arg-type]
    assert sent[0]["status"] == 421


# --- pages of other origins


@pytest.fixture(scope="module")
def shared(serve: Serve) -> Service:
    return serve(cors_origins=f"{PAGE}, http://localhost:3000", auth="on", keys=entry_of("ci", KEY), rate="9999/60")


def _cors(reply: Reply) -> dict[str, str]:
    return {name: value for name, value in reply.headers.items() if name.startswith("access-control-")}


def test_a_page_of_a_named_origin_may_read_answers_and_refusals(shared: Service) -> None:
    for key, status in ((KEY, 200), (None, 401)):
        reply = shared.ask("GET", "/v1/limits", key=key, headers={"Origin": PAGE})
        assert (reply.status, reply.headers["access-control-allow-origin"]) == (status, PAGE)
        assert {"RateLimit", "Retry-After", "ETag"} <= set(reply.headers["access-control-expose-headers"].split(", "))
        assert "access-control-allow-credentials" not in reply.headers


@pytest.mark.parametrize("origin", ["https://evil.example", f"{PAGE}:443", "http://plans.example", "null", "*", ""])
def test_a_page_of_another_origin_may_not(origin: str, shared: Service) -> None:
    reply = shared.ask("GET", "/v1/limits", key=KEY, headers={"Origin": origin})
    assert (reply.status, _cors(reply)) == (200, {})
    assert reply.headers["vary"] == "Accept, Origin"


def test_every_answer_says_that_it_varies_by_origin_in_one_field(shared: Service, opening: dict[str, Any]) -> None:
    assert shared.ask("GET", "/health/live").headers["vary"] == "Accept, Origin"
    assert shared.ask("GET", "/nowhere").headers["vary"] == "Origin"
    body = msgspec.json.encode(opening)
    advice = shared.ask("POST", ADVICE, key=KEY, headers={**JSON_BODY, "Origin": PAGE}, body=body)
    assert (advice.status, advice.headers["vary"]) == (200, "Accept, Accept-Language, Origin")


def test_a_preflight_is_answered_without_a_key(shared: Service) -> None:
    asked = {"Origin": PAGE, "Access-Control-Request-Method": "POST", "Access-Control-Request-Headers": "authorization"}
    reply = shared.ask("OPTIONS", ADVICE, headers=asked)
    assert (reply.status, reply.body) == (204, b"")
    assert reply.headers["access-control-allow-origin"] == PAGE
    assert reply.headers["access-control-allow-methods"] == "GET, HEAD, POST"
    assert {"Authorization", "Content-Type"} <= set(reply.headers["access-control-allow-headers"].split(", "))
    assert reply.headers["access-control-max-age"] == "600"
    assert reply.headers["vary"] == "Origin"
    assert "ratelimit" not in reply.headers
    refused = shared.ask("OPTIONS", ADVICE, headers={**asked, "Origin": "https://evil.example"})
    assert (refused.status, _cors(refused)) == (204, {})


def test_options_that_are_no_preflight_need_a_key_like_any_other(shared: Service) -> None:
    assert shared.ask("OPTIONS", ADVICE, headers={"Origin": PAGE}).status == 401
    assert shared.ask("OPTIONS", ADVICE, key=KEY, headers={"Origin": PAGE}).headers["allow"] == "OPTIONS, POST"


def test_by_default_no_page_of_another_origin_may_read_anything(asked: Ask) -> None:
    asks = {"Origin": PAGE, "Access-Control-Request-Method": "POST"}
    for reply in (asked("GET", "/v1/limits", headers=asks), asked("OPTIONS", ADVICE, headers=asks)):
        assert _cors(reply) == {}
        assert "origin" not in reply.headers.get("vary", "").lower()
        assert reply.headers["cross-origin-resource-policy"] == "same-origin"


# --- ports


def test_metrics_with_a_port_of_their_own_are_there_alone_and_nothing_else_is(serve: Serve) -> None:
    service = serve(metrics_port=80)  # the port the tests' server has
    assert service.ask("GET", "/metrics").status == service.ask("GET", "//metrics/").status == 200
    for target in ("/", "/v1/limits", "/health/live", "/metrics/x", "/nowhere"):
        assert _is_problem(service.ask("GET", target), 404, "unknown_resource")
    elsewhere = serve(metrics_port=81)
    for target in ("/metrics", "/metrics/", "//metrics", "///metrics//"):
        assert _is_problem(elsewhere.ask("GET", target), 404, "unknown_resource")
    assert elsewhere.ask("GET", "/v1/limits").status == 200
    assert "metrics" not in elsewhere.ask("GET", "/").json()["links"]


def test_metrics_need_a_key_at_their_own_port_too(serve: Serve) -> None:
    service = serve(metrics_port=80, auth="on", keys=entry_of("scraper", KEY))
    assert service.ask("GET", "/metrics").status == 401
    assert service.ask("GET", "/metrics", key=KEY).status == 200


# --- sizes and times


def _padded(size: int, target: str) -> dict[str, str]:
    """Headers that make a head of this size, with host and content-length as the tests' server sends them."""
    own = len(target) + len("host") + len("test") + 4 + len("content-length") + len("0") + 4
    return {"X-Pad": "x" * (size - own - len("x-pad") - 4)}


@pytest.mark.parametrize("target", ["/v1/limits", "/v1/rules?topic=air", "/v1/rules?"])
def test_a_head_of_just_the_limit_passes_and_one_byte_more_doesnt(target: str, serve: Serve) -> None:
    service = serve(max_header_bytes=1_024)
    size = len(target.removesuffix("?"))  # a server tells no empty query from none
    assert service.ask("GET", target, headers=_padded(1_024, target[:size])).status == 200
    refused = service.ask("GET", target, headers=_padded(1_025, target[:size]))
    assert _is_problem(refused, 431, "headers_too_large")
    expected = "Target and header section together may have 1024 bytes; these have 1025."
    assert refused.json()["detail"] == expected
    many = {f"X-{number}": "" for number in range(200)}
    assert _is_problem(service.ask("GET", "/health/live", headers=many), 431, "headers_too_large")


def test_a_target_longer_than_a_head_is_told_from_long_headers(serve: Serve) -> None:
    service = serve(max_header_bytes=1_024)
    refused = service.ask("GET", "/" + "x" * 1_024)
    assert _is_problem(refused, 414, "target_too_long")
    assert refused.json()["detail"] == "A target may have 1024 bytes; this one has 1025."
    assert service.ask("GET", "/" + "x" * 1_023).status == 431
    assert service.ask("GET", "/" + "x" * 900).status == 404
    assert [line["status"] for line in service.log()] == [414, 431, 404]


LONGEST = 4_096
"""As GET /v1/limits has it: below."""


def _query(size: int) -> str:
    """A query of this size whose last parameter counts."""
    first, last = "topic=air", "jurisdiction=GB-ENG"
    return first + "&" * (size - len(first) - len(last)) + last


def test_all_of_a_query_counts_or_none_of_it(asked: Ask) -> None:
    """RFC 9110 section 15.5.15: what is longer than is read is refused, not cut."""
    short, long = (asked("GET", f"/v1/rules?{_query(size)}") for size in (29, LONGEST))
    assert 0 < short.json()["count"] < asked("GET", "/v1/rules?topic=air").json()["count"]
    assert long.body == short.body
    refused = asked("GET", f"/v1/rules?{_query(LONGEST + 1)}")
    assert _is_problem(refused, 414, "target_too_long")
    assert refused.json()["detail"] == f"The query of a target may have {LONGEST} bytes; this one has {LONGEST + 1}."
    assert asked("GET", "/v1/limits").json()["query_bytes"] == LONGEST


@pytest.mark.parametrize("path", [*POSTS, BULK, "/", "/nowhere"])
def test_no_address_reads_a_longer_one(path: str, asked: Ask) -> None:
    assert asked("POST", f"{path}?{'&' * (LONGEST + 1)}", headers=JSON_BODY, body=b"{}").status == 414


SCOPE: Any = {"state": {}}
COMPLETE: Any = {"state": {ARRIVED: True}}


def _read(parts: list[tuple[float, bytes]], seconds: float, scope: Any = SCOPE) -> bytes:
    """What is read of a body whose parts come after so many seconds each, and which then stands still."""
    waiting = iter(parts)

    async def receive() -> Any:
        seconds, part = next(waiting, (60, b""))
        await asyncio.sleep(seconds)
        return {"type": "http.request", "body": part, "more_body": not part.endswith(b"}")}

    room = Room(1_024)
    with room.share() as take:
        return run(read_body(scope, receive, take, length=None, limit=Limit(1_024, seconds, room)))


def test_a_body_that_dribbles_in_is_cut_off_though_something_always_comes() -> None:
    with pytest.raises(SlowBody, match=r"may take 0\.05 s to arrive"):
        _read([(0.02, b" ")] * 50, 0.05)
    assert _read([(0.0, b"{"), (0.01, b"}")], 5) == b"{}"


def test_no_timer_is_set_for_a_body_that_is_there() -> None:
    assert _read([(0.02, b"{}")], 0.01, COMPLETE) == b"{}"


def test_a_slow_body_is_408_and_the_connection_is_closed(serve: Serve) -> None:
    service = serve(body_seconds=1)
    reply = service.ask("POST", ADVICE, headers=JSON_BODY, chunks=[])
    assert _is_problem(reply, 408, "slow_body")
    assert reply.headers["connection"] == "close"


@pytest.mark.parametrize(("pause", "ends"), [(60, False), (0.01, True)])
def test_a_stream_ends_where_its_next_part_doesnt_come(pause: float, *, ends: bool) -> None:
    waiting = iter([(0.0, b"1\n", True), (0.03, b"2\n", True), (0.03, b"3\n", True), (pause, b"4\n", False)])

    async def receive() -> Any:
        seconds, part, more = next(waiting, (60, b"", False))
        await asyncio.sleep(seconds)
        return {"type": "http.request", "body": part, "more_body": more}

    async def read() -> tuple[bytes, bool]:
        got = b""
        async with reading({"state": {}}, receive, 0.05) as body:  # each part in time, all of them not
            try:
                async for part in body.parts():
                    got += part
            except SlowBody:
                return got, False
        return got, True

    assert run(read()) == (b"1\n2\n3\n4\n" if ends else b"1\n2\n3\n", ends)


def test_a_stream_that_stands_still_says_so_in_its_last_line(serve: Serve) -> None:
    lines = {"Content-Type": "application/x-ndjson"}
    reply = serve(body_seconds=1).ask("POST", BULK, headers=lines, chunks=[])
    assert reply.status == 200  # which had been sent by then
    assert (reply.json()["status"], reply.json()["code"]) == (408, "slow_body")


def test_the_limits_are_published(serve: Serve, conforms: Callable[[str, Any], list[str]]) -> None:
    service = serve(
        max_header_bytes=2_048,
        max_header_fields=50,
        max_held_bytes=5_000_000,
        body_seconds=7,
        max_connections=9,
        drain_seconds=5,
        rate="60/30",
    )
    limits = service.ask("GET", "/v1/limits").json()
    assert (limits["header_bytes"], limits["header_fields"], limits["body_seconds"]) == (2_048, 50, 7)
    assert (limits["held_bytes"], limits["connections"], limits["drain_seconds"]) == (5_000_000, 9, 5)
    assert limits["rate"] == {"requests": 60, "seconds": 30}
    assert conforms("Limits", limits) == []


def test_refusals_are_counted_and_logged_like_any_answer(serve: Serve) -> None:
    service = serve(allowed_hosts="a.example")
    service.ask("GET", "/v1/limits")
    (line,) = service.log()
    assert (line["route"], line["status"], line["method"]) == ("/v1/limits", 421, "GET")
    told = service.ask("GET", "/metrics", headers={"Host": "a.example"}).body
    assert b'jambset_requests_total{method="GET",route="/v1/limits",status="421"} 1.0' in told


def test_what_is_not_http_passes() -> None:
    seen: list[str] = []

    async def inner(scope: Any, receive: Any, send: Any) -> None:
        seen.append(scope["type"])

    guard = Guard(inner, settings=Settings(allowed_hosts="a.example"), log=None, clock=lambda: 0)
    asyncio.run(guard({"type": "lifespan"}, None, None))  # type: ignore[arg-type]
    assert seen == ["lifespan"]
