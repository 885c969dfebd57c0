"""Two languages from one table: nothing missing, nothing left in English, and the same numbers in both."""

from __future__ import annotations

import ast
import re
import string
from pathlib import Path
from typing import Any

import msgspec
import pytest
from hypothesis import given
from tests.house_rechecks import paper, told_of
from tests.houses import house
from tests.openings import catalogue, door, floor, read
from tests.strategies import openings

from jambset.engine.assess import assess
from jambset.engine.conflicts import GIVEN_TITLES
from jambset.engine.facts import grid_of
from jambset.http.advise import house_adviser
from jambset.model.advice import Phrase, Ratio, Term
from jambset.model.request import Core
from jambset.model.source import Asked, Force, Verified
from jambset.quantity.grid import GRIDS
from jambset.quantity.ticks import INCH, Length
from jambset.render import page_words, sheet_words, spanish
from jambset.render.encode import writer
from jambset.render.language import ENGLISH, LANGUAGES, SPANISH, Language
from jambset.rules.schema import Catalogue, Phase

ROOT = Path(__file__).parents[3]
ENGINE = ROOT / "service" / "jambset" / "engine"
EXAMPLE = msgspec.json.decode((ROOT / "examples/sandbox/21-carpet-swapped-for-plank.json").read_bytes())["request"]
SIXTEENTHS = GRIDS["1/16 in"]
OTHERS = [language for language in LANGUAGES.values() if language is not ENGLISH]
each_other = pytest.mark.parametrize("language", OTHERS, ids=[language.code for language in OTHERS])


def fields(template: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(template) if name}


def test_every_sentence_is_there_in_every_language_with_the_same_blanks_to_fill() -> None:
    for language in LANGUAGES.values():
        assert language.sentences.keys() == ENGLISH.sentences.keys(), language.code
        unlike = [code for code, said in language.sentences.items() if fields(said) != fields(ENGLISH.sentences[code])]
        assert unlike == [], language.code


def test_the_tables_share_no_code() -> None:
    tables = (spanish.SENTENCES, page_words.PAGE, sheet_words.SHEET)
    codes = [code for table in tables for code in table]
    assert len(codes) == len(set(codes))


def catalogue_words(rows: Catalogue) -> set[str]:
    """Everything of the catalogue's own that an answer may say."""
    rules = [rule for found in rows.rules.values() for rule in found]
    titled: list[Any] = [*rules, *rows.materials.values(), *rows.pieces, *rows.lifts, *rows.cores.values()]
    told: list[Any] = [*rules, *rows.lifts]
    words = {one.title for one in titled} | {one.text for one in told}
    words |= {rule.way_out for rule in rules if isinstance(rule.way_out, str)}
    words |= {place.adoption for place in rows.jurisdictions.values()}
    return words | {name.replace("_", " ") for name in rows.materials} | set(GIVEN_TITLES.values())


@each_other
def test_every_word_of_the_catalogue_is_there_in_every_language(language: Language) -> None:
    assert catalogue_words(catalogue()) - language.terms.keys() == set()
    assert all(said.strip() for said in language.terms.values())


def test_nothing_before_a_number_agrees_with_some_units_only() -> None:
    """Inches and pounds are feminine, millimetres and kilograms are not, and half an inch is singular."""
    agrees = re.compile(r"\b(?:[lu]n?[oa]s|faltan|quedan|siguen siendo) \{|\} pueden\b")
    assert agrees.search("Pesa unos {mass}")
    assert agrees.search("bisele los {rise}")
    said = {code: text for code, text in SPANISH.sentences.items() if agrees.search(text)}
    assert said == {}


def test_a_height_is_not_said_as_a_size() -> None:
    """ "El marco más alto" is the taller of two frames as well, and "un piso más alto" a storey further up."""
    said = {**SPANISH.sentences, **SPANISH.terms}
    assert {word: text for word, text in said.items() if re.search(r"(?:el marco|un piso) más alto", text)} == {}


@each_other
def test_numbers_in_the_catalogues_words_are_the_same_in_every_language(language: Language) -> None:
    number = re.compile(r"\d+(?:[./]\d+)?")
    unlike = [
        word for word, said in language.terms.items() if sorted(number.findall(word)) != sorted(number.findall(said))
    ]
    assert unlike == []


CODES = {
    *map(str, (*Force, *Asked, *Core, *Phase)),
    *(f"verified_{how}" for how in Verified),
    *("go", "go_with_trim", "hold", "conflict", "none", "before_hanging", "before_floor", "after_floor"),
    *("bench", "in_place", "off_hinges", "only", "first", "second", "hinge_leg", "strike_leg", "second_hinge_leg"),
    *("pull_side", "push_side", "piece", "bevel", "ramp", "subfloor", "finish"),
}


def test_every_code_that_a_sheet_shows_has_words() -> None:
    assert {f"code.{code}" for code in CODES} - ENGLISH.sentences.keys() == set()


def test_every_code_that_the_engine_writes_out_whole_is_in_the_table() -> None:
    """Codes put together from parts are met by the property tests."""
    whole = {
        node.args[0].value
        for path in ENGINE.glob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Phrase"
        if node.args and isinstance(node.args[0], ast.Constant)
    }
    assert len(whole) > 50
    assert whole - ENGLISH.sentences.keys() == set()


GLOSSARY = re.findall(r"^ {4}([a-z][a-z -]+[a-z]) {2,}((?:[^\W\d_]|[ ])+)", spanish.__doc__ or "", re.MULTILINE)


@pytest.mark.parametrize(("term", "said"), GLOSSARY, ids=[term for term, _ in GLOSSARY])
def test_a_term_of_the_glossary_is_said_so_wherever_its_english_stands(term: str, said: str) -> None:
    """Terms without brackets, which say of what thing another one is meant."""
    words = {ENGLISH.sentences[code]: text for code, text in SPANISH.sentences.items()} | dict(SPANISH.terms)
    english = re.compile(rf"\b{term.replace('-', '[- ]')}s?\b", re.IGNORECASE)
    spanish_of_it = re.compile(r"\b" + said.replace(" ", r"\w* "), re.IGNORECASE)
    met = {word: text for word, text in words.items() if english.search(re.sub(r"{\w+}", "", word))}
    assert met
    assert {word: text for word, text in met.items() if not spanish_of_it.search(text)} == {}


# --- what is said


def test_a_term_is_translated_and_a_callers_own_word_is_not() -> None:
    room = Phrase("quote", text="Sheet vinyl")
    floor_title = Phrase("quote", text=Term("Sheet vinyl"))
    assert writer(SIXTEENTHS, SPANISH).sentence(room) == "Sheet vinyl"
    assert writer(SIXTEENTHS, SPANISH).sentence(floor_title) == SPANISH.terms["Sheet vinyl"] != "Sheet vinyl"
    assert writer(SIXTEENTHS).sentence(floor_title) == "Sheet vinyl"


def test_a_term_that_the_language_lacks_stays_as_it_is() -> None:
    assert writer(SIXTEENTHS, SPANISH).sentence(Phrase("quote", text=Term("A rule of ours"))) == "A rule of ours"


def test_several_things_are_parted_in_one_sentence() -> None:
    given_up = Phrase("outcome.wishes", rules=(Term("Sheet vinyl"), Term("Linoleum sheet")))
    assert writer(SIXTEENTHS).sentence(given_up) == "Given up: Sheet vinyl; Linoleum sheet."


def test_the_few_words_in_measures_are_said_in_the_language() -> None:
    about, level = Length(INCH // 3), Ratio(0.0)

    def said(value: Any, language: Any) -> str:
        text: str = msgspec.json.decode(writer(SIXTEENTHS, language).encode(value))["text"]
        return text

    assert (said(about, ENGLISH), said(about, SPANISH)) == ("about 21/64 in", "aprox. 21/64 in")
    assert (said(level, ENGLISH), said(level, SPANISH)) == ("level", "a nivel")
    assert said(Length(INCH), SPANISH) == "1 in"


def test_a_short_summary_in_spanish() -> None:
    """Read by its writers, not yet by a native speaker of the trade."""
    opening = read(
        door(
            frame={"undercut": "1 in"},
            pull_side=floor("carpet_cushion 7/16 in", "carpet 1/2 in"),
            push_side=floor("vinyl_plank 1/4 in"),
        )
    )
    assert writer(SIXTEENTHS, SPANISH).sentence(assess(opening, catalogue()).summary) == (
        "Apoye ambas jambas en el subpiso. Corte 1/2 in de la hoja en el banco, antes de colgar; el borde inferior "
        "queda a 1 1/2 in sobre el subpiso."
    )


PROSE = {
    "summary", "why", "text", "note", "title", "notice", "outcome", "floor", "pull_side", "push_side", "tie_rule",
    "planned", "document", "clause", "edition",
}  # fmt: skip
"""The last three are names, but for what stands in their place."""
LONG = 14


def compare(one: Any, other: Any, path: str = "") -> list[str]:
    """Where two answers differ in more than their prose."""
    if isinstance(one, dict) and isinstance(other, dict):
        keys = [f"{path}: members" for _ in [0] if one.keys() != other.keys()]
        return keys + [found for name in one for found in compare(one[name], other.get(name), f"{path}/{name}")]
    if isinstance(one, list) and isinstance(other, list):
        size = [f"{path}: length" for _ in [0] if len(one) != len(other)]
        return size + [found for pair in zip(one, other, strict=False) for found in compare(*pair, f"{path}/-")]
    return [] if one == other or path.rpartition("/")[2] in PROSE else [f"{path}: {one!r} != {other!r}"]


def english_in(said: Any, words: set[str]) -> list[str]:
    """Words of the catalogue that an answer still says in English."""
    if isinstance(said, dict):
        return [found for part in said.values() for found in english_in(part, words)]
    if isinstance(said, list):
        return [found for part in said for found in english_in(part, words)]
    return [word for word in words if isinstance(said, str) and word in said]


def stubborn(language: Language) -> set[str]:
    """Words of the catalogue long enough to be told from anything else, and not the same in another language."""
    words = {word for word in catalogue_words(catalogue()) if len(word) > LONG}
    return {word for word in words if language.terms.get(word) != word}


@each_other
@given(request=openings())
def test_any_answer_says_the_same_in_every_language_and_no_english_in_others(language: Language, request: Any) -> None:
    opening = read(request)
    advice = assess(opening, catalogue())
    grid = grid_of(opening, catalogue())
    english, said = (msgspec.json.decode(writer(grid, one).encode(advice)) for one in (ENGLISH, language))
    assert compare(english, said) == []
    assert english_in(said, stubborn(language)) == []


@each_other
def test_a_house_says_the_same_in_every_language_and_no_english_in_others(language: Language) -> None:
    give = house_adviser(catalogue())
    body = msgspec.json.encode(house(40, seed=5))
    english, said = (msgspec.json.decode(give(body, one)) for one in (ENGLISH, language))
    assert compare(english, said) == []
    assert english_in(said, stubborn(language)) == []
    assert said["summary"] != english["summary"]


@each_other
def test_a_house_whose_doors_are_set_says_the_same_too(language: Language) -> None:
    """Of every kind of line and remedy that a house of paper and the worked example have."""
    for body in (EXAMPLE, paper(40)):
        english, said = (told_of(body, one) for one in (ENGLISH, language))
        assert compare(english, said) == []
        assert english_in(said, stubborn(language)) == []
        assert said["summary"] != english["summary"]
        told = [line["text"] for line in english["fix_list"]]
        assert told
        assert not {*told} & {line["text"] for line in said["fix_list"]}


def test_a_source_is_named_alike_in_every_language_and_what_stands_for_a_name_is_translated() -> None:
    plank, rated = floor("vinyl_plank 1/4 in"), {"core": "solid", "fire_minutes": 20}
    request = door(leaf=rated, pull_side=plank, push_side=plank, project_rules={"greatest_gap": "3/4 in"})
    opening = read(request)
    answers = [writer(SIXTEENTHS, one).encode(assess(opening, catalogue())) for one in (ENGLISH, SPANISH)]
    english, said = ({s["rule"]: s for s in msgspec.json.decode(answer)["sources"]} for answer in answers)
    assert said["us-fire-bottom-gap"]["document"] == english["us-fire-bottom-gap"]["document"]
    assert [said["leaf.hard.accepted"][part] for part in ("document", "clause", "edition")] == [
        "Práctica común, sin fuente", "none", "none",
    ]  # fmt: skip
    assert [said["project.greatest_gap"][part] for part in ("document", "clause", "edition")] == [
        "Reglas propias del proyecto", "#/project_rules/greatest_gap", "como se envió",
    ]  # fmt: skip


def test_a_house_is_counted_in_spanish_words() -> None:
    said = msgspec.json.decode(house_adviser(catalogue())(msgspec.json.encode(house(3, seed=5)), SPANISH))
    assert said["summary"].startswith("3 vanos: ")


@pytest.mark.parametrize("code", sorted(page_words.PAGE))
def test_every_word_of_the_page_is_there_twice(code: str) -> None:
    assert code.startswith("page.")
    assert all(word.strip() for word in page_words.PAGE[code])
