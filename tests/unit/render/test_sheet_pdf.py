"""The sheet of one opening as PDF: all that the sheet says, on pages that number themselves."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import msgspec
import pytest
from reportlab.lib.pagesizes import A4, LETTER
from tests.openings import catalogue
from tests.unit.render.test_drawing import HOSTILE
from tests.unit.render.test_sheet import BROKEN, outline, read_back
from tests.unit.render.test_sheet_recheck import parts_of

from jambset.http.addresses import ADVICE
from jambset.http.advise import adviser
from jambset.http.sandbox import read_scenario
from jambset.render.language import ENGLISH, LANGUAGES, SPANISH, Language
from jambset.render.pdf import opening_pdf
from jambset.render.sheet import opening_sheet

SANDBOX = Path(__file__).parents[3] / "examples" / "sandbox"
SCENARIOS = [read_scenario(path.read_bytes(), name=path.name) for path in sorted(SANDBOX.glob("*.json"))]
REQUESTS = {one.scenario: one.request for one in SCENARIOS if one.call == ADVICE}
ENGLAND = "england-bedroom"
in_each_language = pytest.mark.parametrize("language", LANGUAGES.values(), ids=LANGUAGES)


def answered(name: str, language: Language = ENGLISH) -> Any:
    """The answer to a scenario of the sandbox, as a caller reads it."""
    give = adviser(catalogue())
    return msgspec.json.decode(give(msgspec.json.encode(REQUESTS[name]), language))


@cache
def read(name: str, code: str) -> tuple[str, ...]:
    """What the PDF of a scenario says in a language, page by page."""
    language = LANGUAGES[code]
    return tuple(part.extract_text() for part in read_back(opening_pdf(answered(name, language), language)).pages)


def printed(name: str, language: Language = ENGLISH) -> list[str]:
    """The same, each page in one line."""
    return [" ".join(page.split()) for page in read(name, language.code)]


@in_each_language
@pytest.mark.parametrize("name", REQUESTS)
def test_a_pdf_says_what_the_sheet_of_an_opening_says(name: str, language: Language) -> None:
    answer = answered(name, language)
    pages, sheet = printed(name, language), opening_sheet(answer, language, keyed=False)
    whole = " ".join(pages)
    titles = [task["title"] for task in answer["tasks"]]
    wanted = [" ".join(text.split()) for text in (*parts_of(sheet), *titles)]
    assert [text for text in wanted if text not in whole] == []
    numbers = [sheet.page.format(page=at, pages=len(pages)) for at in range(1, len(pages) + 1)]
    assert [number for number, text in zip(numbers, pages, strict=True) if number not in text] == []


@in_each_language
def test_no_line_of_a_pdf_breaks_within_a_quantity(language: Language) -> None:
    for name in REQUESTS:
        text = "\n".join(read(name, language.code)).replace("bath 2\n", "")  # a room, and beside it a height
        assert BROKEN.findall(text) == []


@pytest.mark.parametrize("name", REQUESTS)
def test_the_card_of_an_opening_stands_on_the_first_page_with_every_step(name: str) -> None:
    answer = answered(name)
    first = printed(name)[0]
    assert [task["title"] for task in answer["tasks"] if task["title"] not in first] == []
    assert answer["summary"] in first


def test_a_drawing_is_vectors_and_equal_answers_have_equal_bytes() -> None:
    answer = answered(ENGLAND)
    pdf = opening_pdf(answer, ENGLISH)
    reader = read_back(pdf)
    assert [image for part in reader.pages for image in part.images] == []
    contents: Any = reader.pages[0].get_contents()
    assert contents.get_data().count(b" l ") > 100
    assert opening_pdf(answer, ENGLISH) == pdf != opening_pdf(answer, SPANISH)
    titles = [title for depth, title, _ in outline(reader, reader.outline) if depth == 0]
    assert titles == [part.title for part in opening_sheet(answer, ENGLISH, keyed=False).sections]


@pytest.mark.parametrize(("name", "paper"), [(ENGLAND, A4), ("carpet-bedroom", LETTER)])
def test_paper_goes_with_the_tape(name: str, paper: tuple[float, float]) -> None:
    size = read_back(opening_pdf(answered(name), ENGLISH)).pages[0].mediabox
    assert (float(size.width), float(size.height)) == pytest.approx(paper, abs=0.01)


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_mark_and_rooms_say_a_pdf_is_made(text: str) -> None:
    answer = answered("rated-pair")
    answer["mark"] = answer["summary"] = answer["flooring"]["pull_side"]["room"] = text
    assert len(read_back(opening_pdf(answer, ENGLISH)).pages) > 1
