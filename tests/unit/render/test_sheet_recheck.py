"""The sheet of a recheck: what stands on it and in which order, in both languages, and as a page that loads nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from reportlab.lib.pagesizes import LETTER
from tests.openings import Wire, catalogue
from tests.property.test_recheck import settings_of
from tests.scenarios.test_plain_words_recheck import FILES, _request, _scenario
from tests.strategies import in_text, written
from tests.unit.render.test_drawing import HOSTILE
from tests.unit.render.test_language import english_in, stubborn
from tests.unit.render.test_sheet import cards, page, points, readable, table

from jambset.http.advise import rechecker
from jambset.render.language import ENGLISH, LANGUAGES, SPANISH, Language
from jambset.render.pages import recheck_page
from jambset.render.pdf import pdf_of
from jambset.render.sheet import recheck_sheet
from jambset.render.sheet_parts import Points, Sheet, Step, Ways

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
    """All that a reader of the page reads, in one line."""
    body = page(recheck_page(answer, language)).find("body")
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
    answer = answered(LABELLED)
    assert [question.get("holds") for question in answer["questions"]] == [["leaf"], None]
    rows = table(recheck_sheet(answer, ENGLISH), ASK).rows
    assert [(who, holds) for who, _, holds in rows] == [("door supplier", "leaf")] * 2


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
        assert not [at for at in root.iter() if at.tag in ("script", "img", "iframe", "object", "form", "svg")]
        assert [value for at in root.iter() for name, value in at.items() if name in ("href", "src")] == ["data:,"]
        ids = root.xpath("//@id")
        assert len(ids) == len(set(ids)) >= 5
        named = root.xpath("//@aria-labelledby")
        assert set(named) <= set(ids)
        assert len(named) == len(set(named)), "two regions of one name"
        assert not [at for at in root.iter("ol", "ul", "dl", "tbody") if not len(at)]


@pytest.mark.parametrize("text", HOSTILE)
def test_whatever_mark_and_rooms_say_a_page_holds_it_as_text(text: str) -> None:
    answer = answered(LABELLED)
    answer["mark"] = answer["summary"] = answer["flooring"]["pull_side"]["room"] = text
    answer["remedies"][0]["text"] = answer["findings"][0]["text"] = text
    root = page(recheck_page(answer, ENGLISH))
    assert len(list(root.iter("h2"))) == len(recheck_sheet(answer, ENGLISH).sections)
    assert not [at for at in root.iter() if at.tag in ("script", "iframe", "svg")]
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


def test_no_pdf_leaves_remedies_out_unsaid() -> None:
    sheet = sheet_of(LABELLED)
    ways = tuple(part for part in sheet.sections if part.title == FIXES)
    with pytest.raises(NotImplementedError):
        pdf_of(replace(sheet, sections=ways), paper=LETTER)
