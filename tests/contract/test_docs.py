"""The page of the contract asks nobody but this service."""

from __future__ import annotations

import hashlib
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from tests.contract.conftest import Ask

from jambset.http import docs

ASSETS = Path(docs.__file__).parent / "assets"


class _Links(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self.inline: list[str] = []
        self._in_script = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in_script = tag == "script"
        self.found += [value or "" for name, value in attrs if name in {"src", "href"}]
        self.inline += [name for name, _ in attrs if name.startswith("on") or name == "style"]

    def handle_data(self, data: str) -> None:
        if self._in_script and data.strip():
            self.inline.append(data)


@pytest.fixture
def links(asked: Ask) -> _Links:
    reader = _Links()
    reader.feed(asked("GET", "/docs").body.decode())
    return reader


def test_the_page_names_only_addresses_of_this_service_and_each_answers(links: _Links, asked: Ask) -> None:
    own = [link for link in links.found if link != "data:,"]
    assert own == [
        "/docs/assets/swagger-ui.css",
        "/docs/assets/docs.css",
        "/openapi.json",
        "/docs/assets/swagger-ui-bundle.js",
        "/docs/assets/docs.js",
    ]
    assert [asked("GET", link).status for link in own] == [200] * 5


def test_the_page_has_no_inline_script_or_handler(links: _Links) -> None:
    assert links.inline == []


def test_the_policy_lets_nothing_in_from_elsewhere(asked: Ask) -> None:
    policy = asked("GET", "/docs").headers["content-security-policy"]
    rules = dict(rule.strip().split(" ", 1) for rule in policy.split(";"))
    assert rules == {
        "default-src": "'none'",
        "script-src": "'self'",
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data:",
        "connect-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
        "frame-ancestors": "'none'",
    }
    assert not re.search(r"https?:|\*|unsafe-eval", policy)


def test_our_own_script_names_no_host_and_sends_nothing_to_a_validator(asked: Ask) -> None:
    script = asked("GET", "/docs/assets/docs.js").body.decode()
    assert not re.search(r"//|https?:", script)
    assert 'url: "/openapi.json"' in script
    assert "validatorUrl: null" in script
    assert 'layout: "BaseLayout"' in script
    assert "queryConfigEnabled: false" in script


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("swagger-ui-bundle.js", "text/javascript"),
        ("docs.js", "text/javascript"),
        ("swagger-ui.css", "text/css"),
        ("docs.css", "text/css"),
    ],
)
def test_assets_are_served_as_they_stand_in_the_package(name: str, kind: str, asked: Ask) -> None:
    reply = asked("GET", f"/docs/assets/{name}")
    assert reply.media_type == kind
    assert reply.body == (ASSETS / name).read_bytes()


def test_third_party_files_are_the_ones_their_note_names() -> None:
    note = (ASSETS / "README.md").read_text("utf-8")
    sums = dict(re.findall(r"^\| (\S+) \| ([0-9a-f]{64}) \|$", note, re.MULTILINE))
    assert sums.keys() == {"swagger-ui-bundle.js", "swagger-ui.css"}
    for name, expected in sums.items():
        assert hashlib.sha256((ASSETS / name).read_bytes()).hexdigest() == expected
    assert (ASSETS / "LICENSE").read_text("utf-8").lstrip().startswith("Apache License")


def test_the_style_draws_nothing_from_elsewhere() -> None:
    style = (ASSETS / "swagger-ui.css").read_text("utf-8")
    assert "@import" not in style
    sources = re.findall(r"url\(\s*[\"']?([^\"')]{0,12})", style)
    assert sources
    assert all(source.startswith(("data:", "#")) for source in sources), sources
