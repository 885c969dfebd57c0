"""Sheets and drawings as a browser shows and prints them."""

from __future__ import annotations

import io
import json
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from unicodedata import normalize

import pypdf
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import BrowserContext, Page
from tests.house_rechecks import paper
from tests.houses import house, merged

PHONE, DESKTOP = {"width": 320, "height": 640}, {"width": 1100, "height": 900}
OPENING = merged(house(4, seed=1, lines=0))[0]
RECHECK = "/v1/openings/recheck"


def as_set(opening: dict[str, Any]) -> dict[str, Any]:
    """The opening with its unit set so high that its legs show, and its leaf as it was made."""
    return {**opening, "as_set": {"foot": "1 in", "leaf_bottom": "2 1/4 in"}}


HOUSE_RECHECK = "/v1/houses/recheck"
BODIES = {
    "/v1/openings/advice": OPENING,
    RECHECK: as_set(OPENING),
    "/v1/houses/advice": house(12, seed=4),
    HOUSE_RECHECK: paper(12, seed=4),
}
WORDS_BROKEN = r"""all => all.filter((one) => [...one.textContent.matchAll(/\S+/g)].some(({ 0: word, index }) => {
  const range = document.createRange();
  range.setStart(one.firstChild, index);
  range.setEnd(one.firstChild, index + word.length);
  return range.getClientRects().length > 1;
})).map((one) => one.textContent)"""
"""Heads that a line breaks within a word of."""


def fetched(origin: str, path: str, accept: str, language: str = "en", request: Any = None) -> str:
    headers = {"Content-Type": "application/json", "Accept": accept, "Accept-Language": language}
    body = json.dumps(request or BODIES[path]).encode()
    with urllib.request.urlopen(urllib.request.Request(origin + path, body, headers), timeout=30) as reply:
        found: str = reply.read().decode()
    return found


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    opened = context.new_page()
    yield opened
    opened.close()


@pytest.mark.parametrize("path", BODIES)
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_sheet_can_be_used_by_all_and_fits_a_telephone(path: str, language: str, origin: str, page: Page) -> None:
    page.set_content(fetched(origin, path, "text/html", language))
    for size in (PHONE, DESKTOP):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        wide = page.evaluate("document.documentElement.scrollWidth")
        assert wide <= size["width"]
    page.set_viewport_size({"en": PHONE, "es": DESKTOP}[language])  # type: ignore[arg-type]
    found = Axe().run(page).response["violations"]
    assert [(v["id"], v["nodes"][0]["html"]) for v in found if v["impact"] in ("serious", "critical")] == []


def test_a_printed_sheet_numbers_its_pages_and_repeats_the_heads_of_its_tables(origin: str, page: Page) -> None:
    page.set_content(fetched(origin, "/v1/houses/advice", "text/html", request=house(24, seed=4)))
    printed = [part.extract_text() for part in pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True))).pages]
    assert len(printed) > 3
    assert [f"{place} / {len(printed)}" in text for place, text in enumerate(printed, start=1)] == [True] * len(printed)
    undercuts = [text for text in printed if "a little for the saw" in " ".join(text.split())]
    assert len(undercuts) > 1
    assert all("Base above" in " ".join(text.split()) for text in undercuts)


def test_a_printed_heading_stands_on_the_page_of_the_first_opening_below_it(origin: str, page: Page) -> None:
    """Between them stands how the drawings are read."""
    for count in range(1, 9):
        page.set_content(fetched(origin, "/v1/houses/advice", "text/html", request=house(count, seed=4)))
        pages = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True))).pages
        begun = next(text for text in (part.extract_text() for part in pages) if "Each opening" in text)
        assert "Set the frame and hang the leaf" in begun, count


def test_a_printed_opening_has_its_mark_on_the_page_of_its_last_step(origin: str, page: Page) -> None:
    page.set_content(fetched(origin, "/v1/houses/advice", "text/html"))
    rooms = page.locator(".card h3 .rooms").all_inner_texts()
    pages = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True))).pages
    printed = [" ".join(part.extract_text().split()) for part in pages]
    begun = [sum(text.count(name) for name in set(rooms)) for text in printed]
    assert begun == [text.count("Measure both clearances") for text in printed]
    assert sum(begun) == len(rooms) > 4


def long_names() -> dict[str, Any]:
    """A house whose marks and rooms are as long as they may be and hold no blank, as exports of models have them."""
    named = house(12, seed=4, lines=0)
    for place, opening in enumerate(named["openings"]):
        opening["mark"] = f"{place:02}-" + "INTERIOR_SINGLE_" * 3 + "0762X2032-LH"
        for side in ("pull_side", "push_side"):
            opening[side]["room"] = f"{place:02}-" + "LEVEL_02_APARTMENT_14_BEDROOM_" * 2 + "NORTH_WEST_CORNER"
    return named


@pytest.mark.parametrize("width", [703, 725], ids=["A4", "Letter"])
@pytest.mark.parametrize("path", BODIES)
def test_long_names_leave_every_column_of_a_printed_sheet_on_the_paper(
    path: str, width: int, origin: str, page: Page
) -> None:
    """The width that the margins leave of the paper, in px of 1/96 in: 186 mm of A4, 191.9 mm of Letter."""
    named = long_names()
    first = merged(named)[0]
    named_as_set = {**named, "openings": [as_set(opening) for opening in merged(named)]}
    request = {RECHECK: as_set(first), "/v1/houses/advice": named, HOUSE_RECHECK: named_as_set}.get(path, first)
    page.set_content(fetched(origin, path, "text/html", request=request))
    page.emulate_media(media="print")
    page.set_viewport_size({"width": width, "height": 900})
    tables = page.locator("table").evaluate_all("all => all.map(one => one.getBoundingClientRect().right)")
    assert len(tables) > 3
    assert max(tables) <= width
    broken = page.locator("th").evaluate_all(WORDS_BROKEN)
    assert broken == []


LABELLED = {
    **OPENING,
    "mark": "D-20",
    "leaf": {**OPENING["leaf"], "core": "solid", "fire_minutes": 20},
    "frame": {**OPENING["frame"], "undercut": "3/4 in"},
    "as_set": {"foot": "0 in", "leaf_bottom": "3/4 in"},
    **{
        side: {"room": room, "build_up": [{"material": "carpet", "thickness": "3/4 in"}]}
        for side, room in (("pull_side", "office"), ("push_side", "hall"))
    },
}
"""A labelled leaf that lies on its carpet: what would fix it waits for the listing, and cautions are many."""


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_printed_recheck_asks_before_it_tells_what_fixes_the_door(language: str, origin: str, page: Page) -> None:
    page.set_content(fetched(origin, RECHECK, "text/html", language, LABELLED))
    answer = json.loads(fetched(origin, RECHECK, "application/json", language, LABELLED))
    assert answer["verdict"] == "hold"
    pages = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True))).pages
    texts = [" ".join(normalize("NFKC", part.extract_text()).split()) for part in pages]  # without ligatures
    printed, first = " ".join(texts), answer["remedies"][0]
    places = [printed.index(text) for text in (answer["questions"][0]["text"], f"{first['minutes']} min. ")]
    assert places[0] < places[1] < printed.index(answer["cautions"][-1]["text"])
    assert f"1 / {len(pages)}" in texts[0]
    short = page.locator(".whole tbody").evaluate_all("all => all.map((one) => [...one.rows].map((r) => r.innerText))")
    assert len(short) > 3
    rows = [[" ".join(normalize("NFKC", row).split()) for row in table] for table in short]
    assert [table for table in rows if not any(all(row in text for row in table) for text in texts)] == []
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    found = Axe().run(page).response["violations"]
    assert [(v["id"], v["nodes"][0]["html"]) for v in found] == []


DRAWN = [("/v1/openings/advice", OPENING), (RECHECK, as_set(OPENING)), (RECHECK, LABELLED)]


@pytest.mark.parametrize(("path", "request_"), DRAWN, ids=["advice", "recheck", "recheck-labelled"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_a_drawing_is_shown_whole_with_texts_that_can_be_read_on_a_telephone(
    path: str, request_: Any, language: str, origin: str, page: Page, tmp_path: Path
) -> None:
    file = tmp_path / "drawing.svg"
    file.write_text(fetched(origin, path, "image/svg+xml", language, request_), "utf-8")
    page.set_viewport_size({"width": 320, "height": 640})
    page.set_content("<style>body { margin: 0 } svg { width: 100%; height: auto }</style>" + file.read_text("utf-8"))
    texts: list[dict[str, Any]] = page.evaluate(
        """[...document.querySelectorAll("svg text")].map((text) => {
          const { left, right, height } = text.getBoundingClientRect();
          return { text: text.textContent, left, right, height };
        })"""
    )
    assert len(texts) > 20
    assert [text for text in texts if text["left"] < 0 or text["right"] > 320] == []
    assert min(text["height"] for text in texts) >= 9


@pytest.mark.parametrize(("path", "request_"), DRAWN, ids=["advice", "recheck", "recheck-labelled"])
@pytest.mark.parametrize("language", ["en", "es"])
def test_labels_of_a_drawing_do_not_touch_each_other(
    path: str, request_: Any, language: str, origin: str, page: Page
) -> None:
    page.set_viewport_size({"width": 640, "height": 900})
    page.set_content(fetched(origin, path, "image/svg+xml", language, request_))
    touching = page.evaluate(
        """(() => {
          const boxes = [...document.querySelectorAll("g.dimension, g.note")].map((group) =>
            [...group.querySelectorAll("text")].map((text) => text.getBoundingClientRect()));
          const meet = (a, b) => a.left < b.right && b.left < a.right && a.top + 3 < b.bottom && b.top + 3 < a.bottom;
          return boxes.flatMap((one, n) => boxes.slice(n + 1).filter((other) =>
            one.some((a) => other.some((b) => meet(a, b))))).length;
        })()"""
    )
    assert touching == 0
