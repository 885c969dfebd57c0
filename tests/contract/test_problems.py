from __future__ import annotations

import io
import re
from collections.abc import Callable
from html.parser import HTMLParser
from typing import Any

import msgspec
import pytest
from litestar import Litestar
from tests.contract.asgi import ADVICE, JSON_BODY, Reply, ask
from tests.contract.conftest import Ask

from jambset.errors import (
    BodyTooLarge,
    Busy,
    HeadersTooLarge,
    InvalidRequest,
    MissingKey,
    NotAcceptable,
    QuantityError,
    RequestError,
    SlowBody,
    TargetTooLong,
    TooManyRequests,
    UnknownResource,
    UnreadableBody,
    WrongHost,
    WrongMediaType,
    WrongMethod,
)
from jambset.http import advise
from jambset.http.addresses import BULK
from jambset.http.app import create_app
from jambset.http.keys import entry_of, new_key
from jambset.http.observe import json_log
from jambset.http.problems import FIELD_CODES, MEND, Problem, kind_of, kinds
from jambset.http.settings import Settings
from jambset.rules.schema import Catalogue

PROVOKED: dict[type[RequestError], tuple[str, str, dict[str, Any]]] = {
    RequestError: ("GET", "/", {"headers": {"Host": "a b"}}),
    UnreadableBody: ("POST", ADVICE, {"headers": JSON_BODY, "body": b"{"}),
    MissingKey: ("GET", "/v1/limits", {}),
    UnknownResource: ("GET", "/nowhere", {}),
    WrongMethod: ("DELETE", "/v1/rules", {}),
    NotAcceptable: ("GET", "/v1/rules", {"headers": {"Accept": "image/png"}}),
    SlowBody: ("POST", ADVICE, {"headers": JSON_BODY, "chunks": []}),
    BodyTooLarge: ("POST", ADVICE, {"headers": JSON_BODY, "body": b" " * 70_000}),
    TargetTooLong: ("GET", f"/v1/rules?{'&' * 5_000}", {}),
    WrongMediaType: ("POST", ADVICE, {"headers": {"Content-Type": "text/csv"}, "body": b"a;b"}),
    InvalidRequest: ("POST", ADVICE, {"headers": JSON_BODY, "body": b"{}"}),
    Busy: ("POST", BULK, {"headers": {"Content-Type": "application/x-ndjson"}}),
    QuantityError: ("POST", ADVICE, {"headers": JSON_BODY, "body": b'{"leaf": {"height": "3070"}}'}),
    WrongHost: ("GET", "/v1/limits", {}),
    TooManyRequests: ("GET", "/v1/limits", {}),
    HeadersTooLarge: ("GET", "/v1/limits", {"headers": {"X-Long": "x" * 20_000}}),
}
SETTINGS: dict[type[RequestError], dict[str, Any]] = {
    Busy: {"bulk_streams": 0},
    MissingKey: {"auth": "on", "keys": entry_of("ci", new_key())},
    SlowBody: {"body_seconds": 1},
    WrongHost: {"allowed_hosts": "doors.example"},
    TooManyRequests: {"rate": "1/60"},
}
"""What a service that refuses so is set to, besides the defaults."""
Provoke = Callable[[type[RequestError]], Reply]


def _tree(cls: type[RequestError]) -> set[type[RequestError]]:
    return {cls}.union(*(_tree(child) for child in cls.__subclasses__()))


@pytest.fixture(scope="session")
def provoke(app: Litestar, catalogue: Catalogue) -> Provoke:
    """The refusal of each class, provoked once."""
    seen: dict[type[RequestError], Reply] = {}

    def refused(cls: type[RequestError]) -> Reply:
        if cls not in seen:
            seen[cls] = provoked(cls)
        return seen[cls]

    def provoked(cls: type[RequestError]) -> Reply:
        method, target, more = PROVOKED[cls]
        asked = app
        if cls in SETTINGS:
            settings = Settings(**SETTINGS[cls])
            asked = create_app(catalogue=catalogue, settings=settings, sandbox=(), log=json_log(io.BytesIO()))
        if cls is TooManyRequests:
            assert ask(asked, method, target, **more).status == 200
        return ask(asked, method, target, **more)

    return refused


def test_every_class_of_the_error_tree_is_provoked_below() -> None:
    assert _tree(RequestError) == PROVOKED.keys()


@pytest.mark.parametrize("cls", PROVOKED)
def test_each_error_is_a_problem_with_type_title_status_code_and_instance(
    cls: type[RequestError], provoke: Provoke, conforms: Callable[[str, Any], list[str]]
) -> None:
    reply = provoke(cls)
    problem = reply.json()
    kind = kind_of(cls)
    assert reply.status == problem["status"] == cls.status
    assert reply.media_type == "application/problem+json"
    assert reply.headers["cache-control"] == "no-store"
    assert (problem["type"], problem["title"]) == (f"/problems/{kind.slug}", cls.title)
    assert problem["code"] == cls.slug.replace("-", "_")
    assert problem["instance"] == f"urn:request-id:{reply.headers['x-request-id']}"
    assert problem["detail"].endswith(".")
    assert conforms("Problem", problem) == []


@pytest.mark.parametrize("cls", PROVOKED)
def test_each_type_has_a_page_behind_its_address(cls: type[RequestError], provoke: Provoke, asked: Ask) -> None:
    address = provoke(cls).json()["type"]
    page = asked("GET", address)
    assert page.status == 200
    about = page.json()
    assert (about["type"], about["title"], about["status"]) == (address, cls.title, cls.status)
    assert about["how_to_mend"] == MEND[next(base for base in cls.__mro__ if base in MEND)]


def test_what_a_page_says_between_backticks_is_a_member_of_the_problem() -> None:
    named = {name for kind in kinds().values() for name in re.findall(r"`([^`]+)`", f"{kind.meaning} {kind.mend}")}
    assert named
    assert named <= {field.name for field in msgspec.structs.fields(Problem)}


@pytest.mark.parametrize("cls", PROVOKED)
def test_each_header_that_the_contract_promises_of_a_refusal_is_there(
    cls: type[RequestError], provoke: Provoke, contract: dict[str, Any]
) -> None:
    said = contract["components"]["responses"].get(cls.__name__, {"headers": {}})["headers"]
    sent = provoke(cls).headers.keys()
    assert {name.lower() for name, form in said.items() if form.get("required", "$ref" in form)} <= sent
    own = {"accept", "accept-encoding", "allow", "www-authenticate", "retry-after"} & sent
    assert own <= {name.lower() for name in said} or cls is QuantityError


def test_the_header_a_refusal_must_have_is_there(provoke: Provoke) -> None:
    assert set(provoke(WrongMethod).headers["allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}
    assert provoke(WrongMediaType).headers["accept"] == "application/json"
    assert provoke(WrongMediaType).headers["accept-encoding"] == "identity"
    assert provoke(NotAcceptable).headers["vary"] == "Accept"
    assert "application/json" in provoke(NotAcceptable).json()["detail"]
    assert provoke(MissingKey).headers["www-authenticate"] == 'Bearer realm="jambset"'
    assert provoke(SlowBody).headers["connection"] == "close"
    assert provoke(TooManyRequests).headers["retry-after"] == "60"
    assert "65536 bytes" in provoke(BodyTooLarge).json()["detail"]


def test_field_errors_of_a_body_have_a_pointer_and_those_of_a_query_a_parameter(provoke: Provoke, asked: Ask) -> None:
    body = provoke(InvalidRequest).json()["errors"]
    query = asked("GET", "/v1/rules?topik=air").json()["errors"]
    assert all(error.keys() == {"pointer", "code", "detail"} for error in body)
    assert [(error["parameter"], error["code"]) for error in query] == [("topik", "unknown_parameter")]


class _Text(HTMLParser):
    """Collects text and the tags that may not be there."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self.tags: set[str] = set()

    def handle_data(self, data: str) -> None:
        self.text.append(data)

    def handle_starttag(self, tag: str, _: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)


@pytest.mark.parametrize("slug", kinds())
def test_a_browser_gets_the_page_as_html_without_script(slug: str, asked: Ask) -> None:
    page = asked("GET", f"/problems/{slug}", headers={"Accept": "text/html,application/xhtml+xml,*/*;q=0.8"})
    about = asked("GET", f"/problems/{slug}").json()
    assert page.media_type == "text/html"
    assert page.headers["content-security-policy"].startswith("default-src 'none'")
    reader = _Text()
    reader.feed(page.body.decode())
    text = "".join(reader.text)
    assert {about["title"], about["meaning"], about["how_to_mend"]} <= set(reader.text)
    assert not reader.tags & {"script", "style", "img", "iframe", "link"}
    assert "http:" not in text
    assert "https:" not in text


def test_the_page_on_invalid_fields_explains_every_code(asked: Ask) -> None:
    listed = asked("GET", "/problems/invalid-request").json()["field_codes"]
    assert [row["code"] for row in listed] == list(FIELD_CODES)
    assert all(re.fullmatch("[a-z]+(_[a-z]+)*", code) for code in FIELD_CODES)


def test_an_unknown_type_is_404(asked: Ask) -> None:
    assert asked("GET", "/problems/nothing").status == 404


def test_a_fault_of_ours_is_500_without_internals_and_logged_with_its_trace(
    catalogue: Catalogue, opening: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("the inner wording")

    lines = io.BytesIO()
    app = create_app(catalogue=catalogue, settings=Settings(), sandbox=(), log=json_log(lines))
    monkeypatch.setattr(advise, "assessing", fail)
    import msgspec

    reply = ask(app, "POST", ADVICE, headers={**JSON_BODY, "X-Request-ID": "r-1"}, body=msgspec.json.encode(opening))
    assert reply.status == 500
    assert reply.media_type == "application/problem+json"
    assert reply.json()["type"] == "/problems/internal-error"
    assert b"inner wording" not in reply.body
    assert b"RuntimeError" not in reply.body
    fault, request = map(msgspec.json.decode, lines.getvalue().splitlines())
    assert fault["request_id"] == request["request_id"] == "r-1"
    assert fault["level"] == "error"
    assert "RuntimeError: the inner wording" in fault["exception"]
    assert request["status"] == 500


def test_a_fault_of_the_frameworks_own_kind_is_still_ours(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    from litestar.exceptions import ServiceUnavailableException

    def fail(*_: object) -> None:
        raise ServiceUnavailableException("inner wording")

    app = create_app(catalogue=catalogue, settings=Settings(), sandbox=(), log=json_log(io.BytesIO()))
    monkeypatch.setattr(advise, "encode_advice", fail)
    monkeypatch.setattr(advise, "assessing", fail)
    monkeypatch.setattr(advise, "grid_of", fail)
    body = b"""{"mark": "D", "jurisdiction": "US", "pull_side": {}, "push_side": {},
                "leaf": {"width": "30 in", "height": "80 in", "thickness": "35 mm", "core": "solid"}}"""
    reply = ask(app, "POST", ADVICE, headers=JSON_BODY, body=body)
    assert (reply.status, reply.json()["code"]) == (500, "internal_error")
    assert b"inner" not in reply.body


def test_the_address_of_the_types_can_be_set(catalogue: Catalogue) -> None:
    settings = Settings(problem_base="https://doors.example/jambset")
    app = create_app(catalogue=catalogue, settings=settings, sandbox=(), log=json_log(io.BytesIO()))
    reply = ask(app, "GET", "/nowhere")
    assert reply.json()["type"] == "https://doors.example/jambset/problems/unknown-resource"
    page = ask(app, "GET", "/problems/unknown-resource")
    assert page.json()["type"] == "https://doors.example/jambset/problems/unknown-resource"
