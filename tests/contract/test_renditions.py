"""The forms an opening and a house are answered in besides JSON, and the language of their prose."""

from __future__ import annotations

import asyncio
import io
import threading
from typing import Any

import httpx
import msgspec
import pypdf
import pytest
from lxml import etree, html
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, JSON_BODY, POSTS, RECHECK, Reply
from tests.contract.conftest import Ask

from jambset.http import houses, openings
from jambset.http.languages import choose_language

Request = dict[str, Any]
SVG, HTML, PDF = "image/svg+xml", "text/html", "application/pdf"
CLOSED = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"


def post(asked: Ask, path: str, body: Any, accept: str, language: str | None = None) -> Reply:
    headers = {**JSON_BODY, "Accept": accept} | ({} if language is None else {"Accept-Language": language})
    return asked("POST", path, headers=headers, body=msgspec.json.encode(body))


# --- forms


def test_an_opening_is_answered_as_a_drawing(opening: Request, asked: Ask) -> None:
    reply = post(asked, ADVICE, opening, SVG)
    assert (reply.status, reply.headers["content-type"]) == (200, "image/svg+xml; charset=utf-8")
    root = etree.fromstring(reply.body)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    advice = post(asked, ADVICE, opening, "application/json").json()
    assert root.findtext("{*}desc") == advice["summary"]


def test_a_recheck_is_answered_as_a_drawing_of_the_unit_as_found(as_set: Request, asked: Ask) -> None:
    reply = post(asked, RECHECK, as_set, SVG)
    assert (reply.status, reply.headers["content-type"]) == (200, "image/svg+xml; charset=utf-8")
    root = etree.fromstring(reply.body)
    answer = post(asked, RECHECK, as_set, "application/json").json()
    assert root.findtext("{*}desc") == answer["summary"]
    assert f"{root.findtext('{*}title')}" == f"Opening {as_set['mark']}: section as found"


def test_openings_and_a_house_are_answered_as_sheets(bodies: dict[str, Request], asked: Ask) -> None:
    mark = bodies[ADVICE]["mark"]
    house = bodies[HOUSE]["house"]
    titles = {ADVICE: f"Opening {mark}", RECHECK: f"Recheck of opening {mark}", HOUSE: house, HOUSE_RECHECK: house}
    for path, title in titles.items():
        reply = post(asked, path, bodies[path], HTML)
        assert (reply.status, reply.headers["content-type"]) == (200, "text/html; charset=utf-8")
        assert html.document_fromstring(reply.body.decode()).findtext(".//h1") == title


def test_openings_and_houses_are_answered_as_a_pdf_to_keep(bodies: dict[str, Request], asked: Ask) -> None:
    mark, house = bodies[ADVICE]["mark"], bodies[HOUSE]["house"]
    titles = {ADVICE: f"Opening {mark}", RECHECK: f"Recheck of opening {mark}", HOUSE: house, HOUSE_RECHECK: house}
    for (path, title), name in zip(titles.items(), ("opening", "recheck", "house", "house"), strict=True):
        reply = post(asked, path, bodies[path], PDF)
        assert (reply.status, reply.headers["content-type"]) == (200, PDF)
        assert reply.headers["content-disposition"] == f'attachment; filename="{name}.pdf"'
        reader = pypdf.PdfReader(io.BytesIO(reply.body))
        assert reader.metadata is not None
        assert reader.metadata.title == title
        assert post(asked, path, bodies[path], PDF).body == reply.body
        spanish = post(asked, path, bodies[path], PDF, "es")
        assert spanish.headers["content-language"] == "es"
        assert "Página 1 de" in pypdf.PdfReader(io.BytesIO(spanish.body)).pages[0].extract_text()


@pytest.mark.parametrize(
    ("path", "accept"),
    [(ADVICE, SVG), (ADVICE, HTML), (RECHECK, SVG), (RECHECK, HTML), (HOUSE, HTML), (HOUSE_RECHECK, HTML)],
)
def test_what_a_browser_shows_runs_and_loads_nothing(
    path: str, accept: str, bodies: dict[str, Request], asked: Ask
) -> None:
    reply = post(asked, path, bodies[path], accept)
    assert reply.headers["content-security-policy"] == CLOSED
    assert reply.headers["x-content-type-options"] == "nosniff"
    assert reply.headers["vary"] == "Accept, Accept-Language"


@pytest.mark.parametrize(
    ("path", "accept"), [(ADVICE, "text/csv"), (RECHECK, "text/csv"), (HOUSE, SVG), (HOUSE_RECHECK, SVG)]
)
def test_a_form_that_an_address_lacks_is_not_acceptable(
    path: str, accept: str, bodies: dict[str, Request], asked: Ask
) -> None:
    reply = post(asked, path, bodies[path], accept)
    assert (reply.status, reply.json()["code"]) == (406, "not_acceptable")


def test_a_wrong_body_is_refused_in_json_whatever_form_is_asked_for(opening: Request, asked: Ask) -> None:
    reply = post(asked, ADVICE, {**opening, "leaf": {**opening["leaf"], "height": "80 mm"}}, SVG)
    assert (reply.status, reply.media_type) == (422, "application/problem+json")
    assert [error["pointer"] for error in reply.json()["errors"]] == ["#/leaf/height"]


def test_a_browser_that_names_pages_first_gets_a_page_and_a_program_json(
    opening: Request, as_set: Request, asked: Ask
) -> None:
    browser = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"
    for path, body in ((ADVICE, opening), (RECHECK, as_set)):
        assert post(asked, path, body, browser).media_type == HTML
        assert post(asked, path, body, "*/*").media_type == "application/json"


# --- language


@pytest.mark.parametrize("path", POSTS)
def test_prose_follows_the_language_asked_for_and_numbers_do_not(
    path: str, bodies: dict[str, Request], asked: Ask
) -> None:
    english, spanish = (post(asked, path, bodies[path], "application/json", language) for language in ("en", "es-MX"))
    assert (english.headers["content-language"], spanish.headers["content-language"]) == ("en", "es")
    assert english.json()["advice_id"] == spanish.json()["advice_id"]
    assert english.json()["summary"] != spanish.json()["summary"]
    assert post(asked, path, bodies[path], "application/json").body == english.body


def test_drawings_and_sheets_follow_the_language_too(bodies: dict[str, Request], asked: Ask) -> None:
    forms = ((ADVICE, SVG), (ADVICE, HTML), (RECHECK, SVG), (RECHECK, HTML), (HOUSE, HTML), (HOUSE_RECHECK, HTML))
    for path, accept in forms:
        reply = post(asked, path, bodies[path], accept, "es")
        assert "jambas" in reply.body.decode()
        assert reply.headers["content-language"] == "es"


@pytest.mark.parametrize(
    ("header", "language"),
    [
        (None, "en"),
        ("", "en"),
        ("es", "es"),
        ("ES-419", "es"),
        ("fr-CA, es;q=0.4", "es"),
        ("en-GB, es;q=0.9", "en"),
        ("es;q=0.9, en;q=0.8", "es"),
        ("fr", "en"),
        ("*", "en"),
        ("*;q=0.1, en;q=0", "es"),
        ("es;q=0", "en"),
        ("es;q=nonsense", "en"),
        (";;;,,,", "en"),
        ("estonian", "en"),
    ],
)
def test_the_language_is_chosen_as_http_has_it(header: str | None, language: str) -> None:
    assert choose_language(header) == language


# --- beside other requests


@pytest.mark.parametrize(
    ("module", "name", "path", "accept"),
    [
        (openings, "drawing_svg", ADVICE, SVG),
        (openings, "opening_pdf", ADVICE, PDF),
        (openings, "recheck_page", RECHECK, HTML),
        (openings, "recheck_pdf", RECHECK, PDF),
        (houses, "house_pdf", HOUSE, PDF),
        (houses, "house_recheck_pdf", HOUSE_RECHECK, PDF),
    ],
)
def test_while_something_heavy_is_made_other_requests_are_answered(
    module: Any,
    name: str,
    path: str,
    accept: str,
    bodies: dict[str, Request],
    app: Any,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The heavy one waits for an advice that is asked for later: were the loop blocked, neither would end."""
    begun, answered = threading.Event(), threading.Event()
    made = getattr(module, name)

    def slow(*parts: Any) -> Any:
        begun.set()
        assert answered.wait(timeout=20), "no other request was answered meanwhile"
        return made(*parts)

    table = {ADVICE: openings.DRAWINGS, RECHECK: openings.RECHECKS}.get(path)
    if table is None:
        monkeypatch.setattr(module, name, slow)
    else:
        monkeypatch.setitem(table, accept, slow)

    async def both() -> tuple[httpx.Response, httpx.Response]:
        async with httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://test") as client:
            heavy = asyncio.create_task(client.post(path, json=bodies[path], headers={"Accept": accept}))
            await asyncio.to_thread(begun.wait, 20)
            light = await client.post(ADVICE, json=bodies[ADVICE], headers={"Accept": "application/json"})
            answered.set()
            return await heavy, light

    heavy, light = asyncio.run(both())
    assert (heavy.status_code, light.status_code) == (200, 200)
    assert heavy.headers["content-type"].startswith(accept)
