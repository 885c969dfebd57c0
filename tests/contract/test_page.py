"""The sandbox page: one address for machines and browsers, and nothing in it from elsewhere."""

from __future__ import annotations

import hashlib
import re
from html.parser import HTMLParser
from pathlib import Path

import msgspec
import pytest
from tests.contract.conftest import Ask

from jambset.http import sandbox_page as page
from jambset.render.language import LANGUAGES
from jambset.render.page_words import PAGE

ASSETS = Path(page.__file__).parent / "assets" / "page"
BROWSER = {"Accept": "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,image/webp,*/*;q=0.8"}
FAMILIES = (
    "verdict",
    "who",
    "side",
    "number",
    "force",
    "verified",
    "status",
    "copy",
    "call",
    "rule",
    "sheet",
    "what_if",
)
"""Words whose codes the scripts put together from a code of the service's."""


class _Reader(HTMLParser):
    """What a page names and holds: addresses, handlers and styles in attributes, texts of its scripts, ids, labels."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self.inline: list[str] = []
        self.scripts: list[tuple[str | None, str]] = []
        self.ids: list[str] = []
        self.labelled: list[str] = []
        self._script: str | None = None
        self._in_script = False
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = {name: value or "" for name, value in attrs}
        self._in_script = tag == "script"
        self._script = named.get("type")
        self.addresses += [named[name] for name in ("src", "href") if name in named]
        self.inline += [name for name in named if name.startswith("on") or name == "style"]
        self.ids += [named["id"]] if "id" in named else []
        for name in ("for", "aria-labelledby", "aria-describedby", "data-copies"):
            self.labelled += named.get(name, "").split()

    def handle_endtag(self, tag: str) -> None:
        self._in_script = self._in_script and tag != "script"

    def handle_data(self, data: str) -> None:
        if self._in_script:
            self.scripts.append((self._script, data))


@pytest.fixture(params=list(LANGUAGES))
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture
def read(language: str, asked: Ask) -> _Reader:
    return _Reader(asked("GET", f"/?lang={language}", headers=BROWSER).body.decode())


# --- one address


@pytest.mark.parametrize(
    "accept", [None, "*/*", "application/json", "text/html;q=0.9, application/json", "text/html, application/json"]
)
def test_who_does_not_ask_for_a_page_gets_the_index(accept: str | None, asked: Ask) -> None:
    reply = asked("GET", "/", headers={} if accept is None else {"Accept": accept})
    assert (reply.status, reply.media_type) == (200, "application/json")
    assert reply.json()["service"] == "jambset"


def test_a_browser_gets_the_page(asked: Ask) -> None:
    reply = asked("GET", "/", headers=BROWSER)
    assert (reply.status, reply.media_type) == (200, "text/html")
    assert reply.headers["vary"] == "Accept, Accept-Language"


@pytest.mark.parametrize(
    ("target", "accepted", "expected"),
    [
        ("/", None, "en"),
        ("/", "es-MX, en;q=0.5", "es"),
        ("/", "de", "en"),
        ("/?lang=es", "en", "es"),
        ("/?lang=en", "es", "en"),
    ],
)
def test_the_parameter_chooses_the_language_before_the_header(
    target: str, accepted: str | None, expected: str, asked: Ask
) -> None:
    reply = asked("GET", target, headers=BROWSER | ({"Accept-Language": accepted} if accepted else {}))
    assert reply.headers["content-language"] == expected
    assert f'<html lang="{expected}">' in reply.body.decode()


def test_a_language_there_is_not_is_refused_with_those_there_are(asked: Ask) -> None:
    reply = asked("GET", "/?lang=de", headers=BROWSER)
    assert reply.status == 422
    (fault,) = reply.json()["errors"]
    assert (fault["code"], fault["detail"]) == ("not_allowed", "lang must be one of: en, es.")


def test_each_language_has_an_etag_of_its_own(asked: Ask) -> None:
    tags = {asked("GET", f"/?lang={code}", headers=BROWSER).headers["etag"] for code in LANGUAGES}
    tags.add(asked("GET", "/").headers["etag"])
    assert len(tags) == len(LANGUAGES) + 1


def test_a_browser_that_has_the_page_gets_304(asked: Ask) -> None:
    first = asked("GET", "/", headers=BROWSER)
    again = asked("GET", "/", headers={**BROWSER, "If-None-Match": first.headers["etag"]})
    assert (again.status, again.body) == (304, b"")


# --- nothing from elsewhere


def test_the_policy_lets_nothing_in_from_elsewhere(asked: Ask) -> None:
    policy = asked("GET", "/", headers=BROWSER).headers["content-security-policy"]
    assert dict(rule.strip().split(" ", 1) for rule in policy.split(";")) == {
        "default-src": "'none'",
        "script-src": "'self'",
        "style-src": "'self' 'unsafe-inline'",
        "img-src": "'self' data: blob:",
        "connect-src": "'self'",
        "base-uri": "'none'",
        "form-action": "'none'",
        "frame-ancestors": "'none'",
    }


def test_every_address_in_the_page_answers(read: _Reader, asked: Ask) -> None:
    own = {address for address in read.addresses if address.startswith("/")}
    assert {"/page/assets/page.js", "/page/assets/page.css", "/docs", "/?lang=en", "/?lang=es"} <= own
    assert set(read.addresses) - own == {"data:,", "#request", "#answer"}
    assert {address: asked("GET", address).status for address in own} == dict.fromkeys(own, 200)


def test_the_one_inline_script_is_the_table_of_words(read: _Reader, language: str) -> None:
    assert read.inline == []
    ((kind, text),) = read.scripts
    assert kind == "application/json"
    place = list(LANGUAGES).index(language)
    assert msgspec.json.decode(text) == {code: both[place] for code, both in PAGE.items()}


def test_every_label_and_description_names_something_in_the_page(read: _Reader) -> None:
    assert read.labelled
    assert set(read.labelled) <= set(read.ids)
    assert len(set(read.ids)) == len(read.ids)


# --- assets


@pytest.mark.parametrize("name", page.ASSETS)
def test_assets_are_served_as_they_stand_in_the_package(name: str, asked: Ask) -> None:
    reply = asked("GET", f"/page/assets/{name}")
    assert (reply.status, reply.media_type) == (200, page.ASSETS[name])
    assert reply.body == (ASSETS / name).read_bytes()
    again = asked("GET", f"/page/assets/{name}", headers={"If-None-Match": reply.headers["etag"]})
    assert again.status == 304


def test_no_file_of_the_page_is_left_out() -> None:
    unserved = {"README.md", "page.html.j2"}
    assert {file.name for file in ASSETS.iterdir()} == set(page.ASSETS) | unserved


def test_scripts_import_only_one_another_and_each_is_used() -> None:
    imports = {
        name: set(re.findall(r'from "\./([\w.]+)"', (ASSETS / name).read_text("utf-8"))) for name in page.SCRIPTS
    }
    used = set().union(*imports.values())
    assert used == (set(page.SCRIPTS) | {page.BUNDLE}) - {"page.js"}


def test_no_file_of_ours_names_another_host() -> None:
    ours = [ASSETS / name for name in (*page.SCRIPTS, "page.css", "page.html.j2")]
    found = {hit for file in ours for hit in re.findall(r"\b(?:https?:)?//[\w.]+", file.read_text("utf-8"))}
    assert found == {"http://www.w3.org"}  # the name of SVG, asked for by nobody


def test_the_bundle_is_the_one_its_note_names() -> None:
    note = (ASSETS / "README.md").read_text("utf-8")
    sums = dict(re.findall(r"^\| (\S+) \| ([0-9a-f]{64}) \|$", note, re.MULTILINE))
    assert sums == {page.BUNDLE: hashlib.sha256((ASSETS / page.BUNDLE).read_bytes()).hexdigest()}


def test_the_note_names_the_versions_the_bundle_was_made_from() -> None:
    note = (ASSETS / "README.md").read_text("utf-8")
    made_from = msgspec.json.decode((ASSETS.parents[3] / "editor" / "package.json").read_bytes())["dependencies"]
    licences = (ASSETS / f"{page.BUNDLE}.LICENSE.txt").read_text("utf-8")
    for name, version in made_from.items():
        assert f"`{name}` {version}" in note
        assert f"{name} {version}\n\nMIT License" in licences


# --- words


def _codes_used() -> set[str]:
    template = (ASSETS / "page.html.j2").read_text("utf-8")
    scripts = "\n".join((ASSETS / name).read_text("utf-8") for name in page.SCRIPTS)
    said = re.findall(r"""say\("([\w.]+)"\s*[,)]""", template + scripts)
    return {f"page.{code}" for code in said}


def test_every_word_that_is_said_is_in_the_table() -> None:
    used = _codes_used()
    assert len(used) > 50
    assert used <= set(PAGE)


def test_every_word_in_the_table_is_said_or_belongs_to_a_family() -> None:
    scripts = "\n".join((ASSETS / name).read_text("utf-8") for name in page.SCRIPTS)
    left = {
        code
        for code in set(PAGE) - _codes_used()
        if code.split(".")[1] not in FAMILIES and f'"{code.removeprefix("page.")}"' not in scripts
    }
    assert {code for code in left if not code.startswith("page.answer.")} == set()
    assert {f'"{code.removeprefix("page.answer.")}"' in scripts for code in left} <= {True}


def test_both_languages_fill_the_same_places() -> None:
    places = {code: [re.findall(r"\{(\w+)\}", text) for text in both] for code, both in PAGE.items()}
    assert {code for code, (english, spanish) in places.items() if sorted(english) != sorted(spanish)} == set()


def test_every_code_of_the_service_that_the_page_shows_has_words() -> None:
    from jambset.model.source import Asked, Force, Verified

    wanted = {f"page.who.{code}" for code in Asked}
    wanted |= {f"page.force.{code}" for code in Force} | {f"page.verified.{code}" for code in Verified}
    assert wanted <= set(PAGE)


def test_a_word_with_markup_in_it_stays_a_word(monkeypatch: pytest.MonkeyPatch) -> None:
    bad = "</script><img onerror=x>"
    words = {**page.words_in("en"), "page.heading": bad}
    monkeypatch.setattr(page, "words_in", lambda _: words)
    read = _Reader(page.html_page("en").content.decode())
    assert read.inline == []
    ((_, text),) = read.scripts
    assert msgspec.json.decode(text)["page.heading"] == bad
