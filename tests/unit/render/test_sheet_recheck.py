"""The sheet of a recheck: what stands on it and in which order, in both languages, and as a page that loads nothing."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from typing import Any

import msgspec
import pypdf
import pytest
from hypothesis import given, settings
from reportlab.lib.pagesizes import A4, LETTER
from tests.openings import Wire, catalogue
from tests.property.test_recheck import settings_of
from tests.scenarios.test_plain_words_recheck import FILES, _request, _scenario
from tests.strategies import in_text, written
from tests.unit.render.test_drawing import HOSTILE
from tests.unit.render.test_language import english_in, stubborn
from tests.unit.render.test_sheet import BROKEN, cards, outline, page, points, read_back, readable, table

from jambset.http.advise import rechecker
from jambset.render.language import ENGLISH, LANGUAGES, SPANISH, Language
from jambset.render.pages import recheck_page
from jambset.render.pdf import recheck_pdf
from jambset.render.section_recheck import recheck_section
from jambset.render.sheet import recheck_sheet
from jambset.render.sheet_parts import Card, Points, Sheet, Step, Table, Ways

REQUESTS = {path.stem[:2]: _request(_scenario(path)["opening"]) for path in FILES}
"""The scenarios in plain words, by number: every verdict, and most kinds of remedy."""
LISTED, LABELLED, AIR = REQUESTS["16"], REQUESTS["08"], REQUESTS["15"]
"""A fire door too high, which a seal helps if its listing says so; one that needs a cut; one that lacks air."""
each = pytest.mark.parametrize("number", REQUESTS)
in_each_language = pytest.mark.parametrize("language", LANGUAGES.values(), ids=LANGUAGES)


def answered(request: Wire, language: Language = ENGLISH) -> Any:
    return msgspec.json.decode(rechecker(catalogue())(msgspec.json.encode(request), language))


def sheet_of(request: Wire, language: Language = ENGLISH) -> Sheet:
    return recheck_sheet(answered(request, language), language)


def steps(sheet: Sheet, title: str) -> tuple[Step, ...]:
    (part,) = [part for part in sheet.sections if part.title == title]
    (found,) = [block for block in part.blocks if isinstance(block, Ways)]
    return found.items


FIXES, FIRST, ASK = (
    "What fixes it, in the order advised",
    "The first of these, step by step",
    "Ask before anything is cut",
)


def shown(answer: Any, language: Language) -> str:
    """All that a reader of the page sees, in one line: what drawings say to those who don't see them isn't in it."""
    body = page(recheck_page(answer, language)).find("body")
    for spoken in [*body.iter("title", "desc")]:
        spoken.text = None
    return " ".join(" ".join(body.itertext()).split())


# --- what stands on it


def test_the_parts_stand_in_working_order_what_is_asked_before_what_is_cut() -> None:
    sheet = sheet_of(LISTED)
    assert sheet.title == f"Recheck of opening {LISTED['mark']}"
    assert [part.title for part in sheet.sections] == [
        "Verdict", "How it stands now", ASK, FIXES, FIRST, "Cautions", "Heights and gaps it was judged by",
        "Air under the closed leaf", "For the flooring installer", "Assumed", "Rules and where they come from",
    ]  # fmt: skip


def told(part: Any, under: str = "") -> Iterator[str]:
    """The prose and the amounts of an answer, but for what isn't for a crew, or told in other words or none."""
    if isinstance(part, str) and under in {"text", "title", "note", "summary", "notice", "room", "mark"}:
        yield part
    members = (
        part.items() if isinstance(part, dict) else ((under, one) for one in part) if isinstance(part, list) else ()
    )
    for name, inner in members:
        below = name in {"foot", "trimmed"} and inner["mm"] <= 0  # legs that are cut, a leaf that wasn't
        if name not in {"taken", "checks", "slope_room", "flow_at_limit_high", "ways_out"} and not below:
            yield from told(inner, name)


@in_each_language
@each
def test_every_text_and_every_amount_of_an_answer_stands_on_its_sheet(number: str, language: Language) -> None:
    answer = answered(REQUESTS[number], language)
    said = shown(answer, language)
    piece = answer.pop("transition", {})
    if not piece.get("rise", {}).get("mm"):
        answer["clearance"].pop("piece", None)
    wanted = {" ".join(text.split()) for text in told(answer)} | {piece[at] for at in ("title", "note") if at in piece}
    wanted |= {way["text"] for way in answer["air"].get("ways_out", ()) if way["kind"] != "transfer_grille"}
    assert len(wanted) > 15
    assert [text for text in wanted if text not in said] == []


@each
def test_rules_are_called_by_their_titles(number: str) -> None:
    answer = answered(REQUESTS[number])
    said = shown(answer, ENGLISH)
    assert [check["rule"] for check in answer["checks"] if check["rule"] in said] == []
    assert not re.search(r"(?<![/\w])[a-z]+_[a-z_]+", said), "a code stands where a word should"


@each
def test_the_summary_stands_once(number: str) -> None:
    answer = answered(REQUESTS[number])
    assert shown(answer, ENGLISH).count(answer["summary"]) == 1
    (glance,) = cards(recheck_sheet(answer, ENGLISH))
    assert (glance.mark, glance.warns) == (answer["mark"], answer["verdict"] in ("hold", "conflict"))


@in_each_language
@each
def test_the_unit_is_drawn_as_found_with_its_floors_named_below(number: str, language: Language) -> None:
    answer = answered(REQUESTS[number], language)
    (glance,) = cards(recheck_sheet(answer, language))
    assert glance.drawings == (recheck_section(answer, language, keyed=False),)
    below = " ".join(glance.below)
    layers = [layer for side in ("pull_side", "push_side") for layer in answer["taken"][side]["layers"]]
    assert [one for one in layers if f"{one['title']} {one['nominal']['text']}" not in below] == []
    assert glance.below[-1] == language.sentences["draw.beyond"]


def test_a_floor_that_may_change_or_was_measured_says_so_below_the_drawing() -> None:
    (may_change,) = cards(sheet_of(REQUESTS["14"]))
    assert "7/16 in (not certain, may change)" in may_change.below[0]
    request = REQUESTS["02"]
    typical = {**request["pull_side"], "build_up": [{"material": "carpet_cushion"}, {"material": "carpet"}]}
    gaps = {"foot": "0 in", "leaf_bottom": "1 in", "gaps": {"pull_side": "1/8 in"}}
    (measured,) = cards(sheet_of({**request, "pull_side": typical, "frame": {}, "as_set": gaps}))
    assert measured.below[0].endswith("(measured: 7/8 in in all)")


def test_every_verdict_is_said_in_plain_words_and_a_new_one_as_it_is() -> None:
    found = {answered(request)["verdict"]: sheet_of(request) for request in REQUESTS.values()}
    assert {verdict: cards(sheet)[0].verdict for verdict, sheet in found.items()} == {
        "fine": "fine as it stands",
        "live_with": "may be left as it stands",
        "work": "needs work",
        "hold": "hold, ask first",
        "conflict": "conflict: a rule that never gives way stays missed, whatever is done",
    }
    unknown = {**answered(LISTED), "verdict": "wait_and_see"}
    assert cards(recheck_sheet(unknown, ENGLISH))[0].verdict == "wait and see"


def test_what_is_found_is_told_with_its_place_rule_and_force() -> None:
    """Scenario 1: legs 1/2 in up over plank of 1/4 in, and a leaf 1 1/4 in above it where an inch is wished."""
    rows = table(sheet_of(REQUESTS["01"]), "How it stands now").rows
    assert rows[0] == (
        "pull side",
        "The legs end 1/4 in above the finish on the “bedroom” side: daylight shows.",
        "Leg under a hard floor, accepted",
        "practice",
    )
    assert [row[3] for row in rows] == ["practice", "practice", "preference", "preference"]
    assert points(sheet_of(REQUESTS["01"]), "How it stands now") == (
        "Rules known here don't forbid leaving it as it is; one firmer than a wish stays missed.",
        "Missed besides: Leg under a hard floor, wanted (preference).",
    )


def test_a_remedy_is_told_with_what_it_needs_fixes_breaks_and_leaves() -> None:
    """Scenario 16: legs cut by 1/8 in mend the gap, if the listing lets them; a seal counts only by its listing."""
    answer = answered(LISTED)
    reset, seal = steps(recheck_sheet(answer, ENGLISH), FIXES)
    asked = {need["code"]: f"{need['text']} (door supplier)" for one in answer["remedies"] for need in one["needs"]}
    assert (reset.title, seal.title) == tuple(remedy["text"] for remedy in answer["remedies"])
    assert dict(reset.numbers) == {
        "Needs first": f"{asked['frame_label']} {asked['frame_instructions']}",
        "Fixes": "Gap under a fire door (standard)",
        "Newly missed": "Legs left whole (preference)",
        "Still missed": "nothing firmer than a wish",
        "Cautions": "no. 4, 5 below",
    }
    assert dict(seal.numbers) == {
        "Needs first": asked["seal_listing"],
        "Fixes": "nothing for certain",
        "Still missed": "Gap under a fire door (standard)",
        "Only by its listing": "Gap under a fire door (standard)",
    }
    lawful = "After it, no rule of law or standard known here is missed, if what it needs first is met."
    assert (reset.who, reset.held) == (f"102 min. {lawful}", "")
    assert seal.told == ("25 min. ", "After it, a rule of law or standard is still missed.", "")


def test_what_needs_nothing_first_is_lawful_as_it_is() -> None:
    (fill, _) = steps(sheet_of(REQUESTS["01"]), FIXES)
    assert fill.who == "40 min. After it, no rule of law or standard known here is missed."


@each
def test_the_numbers_of_cautions_lead_to_those_of_the_remedy(number: str) -> None:
    answer = answered(REQUESTS[number])
    sheet = recheck_sheet(answer, ENGLISH)
    if not answer["remedies"]:
        assert FIXES not in [part.title for part in sheet.sections]
        return
    listed = points(sheet, "Cautions") if answer["cautions"] else ()
    texts = {one["code"]: one["text"] for one in answer["cautions"]}
    for remedy, step in zip(answer["remedies"], steps(sheet, FIXES), strict=True):
        named = re.findall("[0-9]+", dict(step.numbers).get("Cautions", ""))
        assert {listed[int(at) - 1] for at in named} == {texts[code] for code in remedy.get("cautions", ())}


def test_cautions_are_numbered_as_a_page_shows_them() -> None:
    sheet, root = sheet_of(LABELLED), page(recheck_page(answered(LABELLED), ENGLISH))
    (part,) = [part for part in sheet.sections if part.title == "Cautions"]
    (listed,) = part.blocks
    assert isinstance(listed, Points)
    (heading,) = [at for at in root.iter("h2") if at.text == "Cautions"]
    shown_as = heading.getnext()
    assert shown_as.tag == "ol"
    assert tuple(item.text_content().replace("\xa0", " ") for item in shown_as) == listed.items


def test_a_question_that_a_step_waits_for_holds_its_phase() -> None:
    """What a remedy needs holds nothing by itself, but its task waits for the answer."""
    cut_too_far = {**LABELLED, "frame": {"undercut": "3/4 in"}, "as_set": {"foot": "0 in", "leaf_bottom": "2 1/2 in"}}
    answer = answered(cut_too_far)
    (another,) = [question for question in answer["questions"] if question["code"] == "leaf_label"]
    assert "holds" not in another
    rows = table(recheck_sheet(answer, ENGLISH), ASK).rows
    assert [(who, holds) for who, text, holds in rows if text == another["text"]] == [("door supplier", "leaf")]


def test_steps_of_the_first_remedy_say_who_works_how_long_and_that_they_wait() -> None:
    (trim,) = steps(sheet_of(LABELLED), FIRST)
    assert trim.title == "Trim the leaf and seal the cut edge"
    assert trim.told == ("finish carpenter, 38 min. ", "Wait: a question or conflict is open.", "")
    (fill,) = steps(sheet_of(REQUESTS["01"]), FIRST)
    assert fill.told == ("finish carpenter, 40 min.", "", "")


def test_where_nothing_is_to_be_cut_questions_are_only_asked() -> None:
    sheet = sheet_of(REQUESTS["10"])
    titles = [part.title for part in sheet.sections]
    assert "Questions to ask" in titles
    assert not {ASK, FIXES, FIRST} & set(titles)


def test_a_grille_that_mends_the_air_is_told_once_in_its_own_size() -> None:
    """Told beside the air too it would have another: what is missing there isn't rounded up as it is bought."""
    answer = answered(AIR)
    kinds = [way["kind"] for way in answer["air"]["ways_out"]]
    assert kinds[0] == "transfer_grille" != kinds[1]
    told_there = points(recheck_sheet(answer, ENGLISH), "Air under the closed leaf")
    assert list(told_there) == [way["text"] for way in answer["air"]["ways_out"][1:]]
    assert shown(answer, ENGLISH).count("free area in the wall") == 2  # in the summary and as a remedy
    without = {**answer, "remedies": []}
    assert len(points(recheck_sheet(without, ENGLISH), "Air under the closed leaf")) == len(kinds)


def heights(number: str) -> dict[str, str]:
    return {row[0]: row[1] for row in table(sheet_of(REQUESTS[number]), "Heights and gaps it was judged by").rows}


def test_heights_say_above_what_and_a_leg_by_itself_only_where_it_stands_apart() -> None:
    plain, apart = heights("12"), heights("09")
    assert plain["Leaf bottom above the highest subfloor under the legs"] == "1 1/4 in"
    assert plain["Foot of the legs above the highest subfloor under them"] == "1/2 in"
    assert plain["Gap, transition piece"] == "5/8 in; 5/8 in to 3/4 in"
    found = answered(REQUESTS["09"])["found"]
    assert apart["Foot of the hinge leg above the highest subfloor under the legs"] == found["hinge_foot"]["text"]
    assert found["strike_foot"]["text"] in apart.values()
    assert "Foot of the legs above the highest subfloor under them" not in apart


def test_what_was_cut_before_is_told_and_no_piece_where_a_floor_runs_through() -> None:
    cut, through = heights("03"), heights("04")
    assert cut["Cut off the leaf already"] == "1/2 in"
    assert "Cut off the leaf already" not in through
    assert "Gap, transition piece" in cut
    assert "Gap, transition piece" not in through


# --- as a page, in languages


@each
def test_in_spanish_a_sheet_says_no_english_of_ours(number: str) -> None:
    said = shown(answered(REQUESTS[number], SPANISH), SPANISH)
    assert english_in(said, stubborn(SPANISH)) == []
    english = {text for code, text in ENGLISH.sentences.items() if code.startswith("sheet.") and len(text) > 14}
    assert [text for text in english if "{" not in text and text in said] == []
    assert page(recheck_page(answered(REQUESTS[number], SPANISH), SPANISH)).get("lang") == "es"


def test_a_page_loads_nothing_runs_nothing_and_has_each_id_once() -> None:
    for request in REQUESTS.values():
        root = page(recheck_page(answered(request), ENGLISH))
        assert not [at for at in root.iter() if at.tag in ("script", "img", "iframe", "object", "form")]
        assert len([*root.iter("svg")]) == 1
        assert [value for at in root.iter() for name, value in at.items() if name in ("href", "src")] == ["data:,"]
        ids = root.xpath("//@id")
        assert len(ids) == len(set(ids)) >= 5
        named = root.xpath("//@aria-labelledby")
        assert {one for names in named for one in names.split()} <= set(ids)
        assert len(named) == len(set(named)), "two regions of one name"
        assert not [at for at in root.iter("ol", "ul", "dl", "tbody") if not len(at)]


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_mark_and_rooms_say_a_page_holds_it_as_text(text: str) -> None:
    answer = answered(LABELLED)
    answer["mark"] = answer["summary"] = answer["flooring"]["pull_side"]["room"] = text
    answer["remedies"][0]["text"] = answer["findings"][0]["text"] = text
    root = page(recheck_page(answer, ENGLISH))
    assert len(list(root.iter("h2"))) == len(recheck_sheet(answer, ENGLISH).sections)
    assert not [at for at in root.iter() if at.tag in ("script", "iframe")]
    assert len([*root.iter("svg")]) == 1
    assert not [name for at in root.iter() for name in at.attrib if name.startswith("on")]
    assert " ".join(readable(text).split()) in " ".join(root.findtext(".//h1").split())


@in_each_language
def test_no_line_of_a_sheet_breaks_within_a_quantity(language: Language) -> None:
    for request in REQUESTS.values():
        root = page(recheck_page(answered(request, language), language))
        texts = [text for at in root.iter("p", "li", "td", "dt", "dd", "strong") for text in at.itertext()]
        assert [text for text in texts if re.search("[0-9] (?:[0-9]+/[0-9]|in\\b|mm\\b)", text)] == []


@settings(max_examples=60)
@given(request=settings_of())
def test_any_recheck_has_a_sheet_with_all_that_mends_it(request: Wire) -> None:
    asked = written(request, in_text)
    for language in LANGUAGES.values():
        answer = answered(asked, language)
        said = shown(answer, language)
        texts = [one["text"] for name in ("findings", "remedies", "questions", "cautions") for one in answer[name]]
        texts += [need["text"] for remedy in answer["remedies"] for need in remedy.get("needs", ())]
        assert [text for text in texts if " ".join(text.split()) not in said] == []
        assert said.count(f"{answer['mark']}") > 1
        ids = {one["rule"] for one in answer["checks"]}
        assert [rule for rule in ids if rule in said] == []


# --- as a PDF


def read(answer: Any, language: Language = ENGLISH) -> tuple[str, ...]:
    """What its PDF says, page by page."""
    return _read(json.dumps(answer), language.code)


@cache
def _read(answer: str, code: str) -> tuple[str, ...]:
    pages = read_back(recheck_pdf(json.loads(answer), LANGUAGES[code])).pages
    return tuple(part.extract_text() for part in pages)


def printed(answer: Any, language: Language = ENGLISH) -> list[str]:
    """The same, each page in one line."""
    return [" ".join(page.split()) for page in read(answer, language)]


def parts_of(sheet: Sheet) -> Iterator[str]:
    """Every text of a sheet, of its drawings none."""
    for part in sheet.sections:
        yield part.title
        for block in part.blocks:
            match block:
                case Points():
                    yield from block.items
                case Table():
                    yield from (cell for row in (block.heads, *block.rows) for cell in row)
                case Card():
                    yield from (block.mark, block.rooms, block.verdict, block.summary, *block.below)
                case Ways():
                    for step in block.items:
                        yield from (step.title, *(piece.strip() for piece in step.told))
                        yield from (text for pair in step.numbers for text in pair)


@in_each_language
@each
def test_a_pdf_says_what_the_sheet_says(number: str, language: Language) -> None:
    answer = answered(REQUESTS[number], language)
    pages, sheet = printed(answer, language), recheck_sheet(answer, language)
    whole = " ".join(pages)
    wanted = [" ".join(text.split()) for text in parts_of(sheet)]
    assert [text for text in wanted if text not in whole] == []
    assert [sheet.page.format(page=at, pages=len(pages)) in text for at, text in enumerate(pages, start=1)] == [
        True
    ] * len(pages)


def test_a_pdf_numbers_what_others_name_by_number() -> None:
    """Cautions by the remedies; these and their steps in their order."""
    pages = printed(answered(LABELLED))
    whole = " ".join(pages)
    cautions = points(sheet_of(LABELLED), "Cautions")
    assert len(cautions) > 5
    assert [at for at, text in enumerate(cautions, start=1) if f"{at}. {text}" not in whole] == []
    for title in (FIXES, FIRST):
        ways = steps(sheet_of(LABELLED), title)
        assert [at for at, step in enumerate(ways, start=1) if f"{at}. {step.title}" not in whole] == []


@in_each_language
def test_no_line_of_a_pdf_breaks_within_a_quantity(language: Language) -> None:
    for request in REQUESTS.values():
        assert BROKEN.findall("\n".join(read(answered(request, language), language))) == []


def test_a_remedy_stands_on_one_page_and_the_first_below_its_heading() -> None:
    for request in REQUESTS.values():
        answer = answered(request)
        pages = printed(answer)
        for title in (FIXES, FIRST):
            ways = steps(recheck_sheet(answer, ENGLISH), title) if answer["remedies"] and answer["tasks"] else ()
            for step in ways:
                (at,) = {place for place, text in enumerate(pages) if f"{step.title} {step.who}" in text}
                assert all(value in pages[at] for _, value in step.numbers)
            assert all(any(title in text and ways[0].title in text for text in pages) for _ in ways[:1])


def test_the_notice_of_a_page_stands_clear_of_its_number_however_long_it_is() -> None:
    """In Spanish it has a line more than in English."""
    for language in LANGUAGES.values():
        answer = answered(LABELLED, language)
        for notice in (answer["notice"], answer["notice"] * 3):
            (first, *_) = read_back(recheck_pdf({**answer, "notice": notice}, language)).pages
            rows = heights_of(first)
            foot = [height for height, text in rows if text.startswith(recheck_sheet(answer, language).title)][-1]
            above = sorted(height for height, _ in rows if height > foot)
            gaps = [high - low for low, high in pairwise((foot, *above))][:2]
            assert min(gaps) >= 8.2


def heights_of(part: pypdf.PageObject) -> list[tuple[float, str]]:
    """Heights of the lines of a page from its bottom [points], each with what begins there."""
    found: list[tuple[float, str]] = []

    def visit(text: str, cm: Any, tm: Any, _font: Any, _size: Any) -> None:
        if text.strip():
            found.append((round(cm[5] + tm[5], 1), text.strip()))

    part.extract_text(visitor_text=visit)
    return found


def test_a_drawing_in_a_pdf_is_vectors_and_its_bytes_are_the_same_for_the_same_answer() -> None:
    answer = answered(LABELLED)
    pdf = recheck_pdf(answer, ENGLISH)
    reader = read_back(pdf)
    assert [image for part in reader.pages for image in part.images] == []
    contents: list[Any] = [part.get_contents() for part in reader.pages]
    assert contents[0].get_data().count(b" l ") > 100
    assert recheck_pdf(answer, ENGLISH) == pdf != recheck_pdf(answer, SPANISH)
    assert [title for depth, title, _ in outline(reader, reader.outline) if depth == 0] == [
        part.title for part in recheck_sheet(answer, ENGLISH).sections
    ]


def test_paper_goes_with_the_tape() -> None:
    """Scenario 6 is measured in millimetres."""
    sizes = [read_back(recheck_pdf(answered(REQUESTS[one]), ENGLISH)).pages[0].mediabox for one in ("08", "06")]
    for size, paper in zip(sizes, (LETTER, A4), strict=True):
        assert (float(size.width), float(size.height)) == pytest.approx(paper, abs=0.01)


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_mark_and_rooms_say_a_pdf_is_made(text: str) -> None:
    answer = answered(LABELLED)
    answer["mark"] = answer["summary"] = answer["flooring"]["pull_side"]["room"] = text
    answer["remedies"][0]["text"] = answer["findings"][0]["text"] = text
    reader = read_back(recheck_pdf(answer, ENGLISH))
    assert len(reader.pages) > 1
    if text.isascii() and " " not in text and len(text) < 100 and text.isprintable():
        assert text in reader.pages[0].extract_text()


@settings(max_examples=20)
@given(request=settings_of())
def test_any_recheck_has_a_pdf_with_all_that_mends_it(request: Wire) -> None:
    answer = answered(written(request, in_text))
    whole = " ".join(printed(answer))
    texts = [one["text"] for name in ("findings", "remedies", "questions", "cautions") for one in answer[name]]
    assert [text for text in texts if " ".join(text.split()) not in whole] == []
