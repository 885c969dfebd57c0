"""The drawing of a recheck: the unit as found, what of it misses a rule, and where a first remedy leaves it."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tests.openings import Wire, floor
from tests.property.test_recheck import settings_of
from tests.strategies import in_text, written
from tests.unit.engine.test_recheck import AS_SET, was_set
from tests.unit.render.test_drawing import (
    ELEMENTS,
    HOSTILE,
    SVG,
    apart,
    boxed,
    check_dimensions,
    check_paper,
    conforms,
    dimensions,
    flat,
    floor_boxes,
    labels,
    parsed,
    said,
    shown,
    units_per_mm,
)
from tests.unit.render.test_sheet import cards
from tests.unit.render.test_sheet_recheck import REQUESTS, answered

from jambset.errors import InvalidRequest
from jambset.render.drawing import recheck_drawing, recheck_svg
from jambset.render.language import ENGLISH, LANGUAGES, SPANISH, Language
from jambset.render.section_recheck import recheck_section
from jambset.render.shapes import HIDDEN, MEDIUM, Drawing, Group, Stroke, Text
from jambset.render.sheet import recheck_sheet
from jambset.render.svg import svg_of

each = pytest.mark.parametrize("number", REQUESTS)
in_each_language = pytest.mark.parametrize("language", LANGUAGES.values(), ids=LANGUAGES)
RUBS, LABELLED, RESET, CUT_LEGS = (REQUESTS[number] for number in ("02", "08", "11", "16"))


def drawn(answer: Any, language: Language = ENGLISH) -> dict[str, Any]:
    """The dimensions of its section, by what they are of."""
    return dimensions(parsed(svg_of(recheck_section(answer, language), language="en").encode()))


def marked(answer: Any, language: Language = ENGLISH) -> dict[str, str]:
    """What is said of each dimension that misses a rule."""
    found = {}
    for group in recheck_section(answer, language).shapes:
        if isinstance(group, Group) and "missed" in group.kind.split():
            texts = [part for part in group.shapes if isinstance(part, Text)]
            last = max(place for place, text in enumerate(texts) if text.bold)
            found[group.kind.split()[1].removeprefix("of-")] = " ".join(text.text for text in texts[last + 1 :])
    return found


def dashes(answer: Any) -> list[float]:
    """Heights in mm above the datum of the level dashed lines of where leaf and legs then end, lowest first."""
    drawing = recheck_section(answer, ENGLISH)
    scale = units_per_mm(parsed(svg_of(drawing, language="en").encode()))
    strokes = [part for part in drawing.shapes if isinstance(part, Stroke)]
    (datum,) = {y for one in strokes if one.weight > MEDIUM and not one.closed for _, y in one.lines[0]}
    level = [one for one in strokes if one.dash == HIDDEN and one.weight == MEDIUM and not one.closed]
    runs = [run for one in level for run in one.lines if len({y for _, y in run}) == 1]
    return sorted({round((datum - run[0][1]) / scale, 2) for run in runs})


# --- the numbers


def test_each_dimension_is_as_long_as_its_number_says() -> None:
    """By hand: a leaf 1/2 in up over carpet of 15/16 in and sheet vinyl of 1/8 in; 3/4 in off it leaves 1 1/4 in."""
    answer = answered(RUBS)
    drawing = recheck_section(answer, ENGLISH)
    check_dimensions(answer, drawing, per_mm=units_per_mm(parsed(svg_of(drawing, language="en").encode())))
    assert {kind.removeprefix("of-"): shown(group) for kind, group in drawn(answer).items()} == {
        "clearance-pull-side": "-7/16 in",
        "found-leaf-bottom": "1/2 in",
        "found-hinge-foot": "0 in",
        "remedies-0-leaf-bottom": "1 1/4 in",
        "air-gap": "0 in",
        "clearance-push-side": "3/8 in",
        "flooring-push-side-jamb-undercut": "3/16 in",
    }


def test_legs_that_show_are_dimensioned_above_either_finish() -> None:
    """Scenario 12: legs 1/2 in up, over plank of 5/16 in and wood of 3/8 in."""
    found = drawn(answered(REQUESTS["12"]))
    assert [shown(found[f"of-findings-{place}-amount"]) for place in (0, 1)] == ["3/16 in", "1/8 in"]


def test_of_legs_at_two_heights_the_one_seen_is_drawn_and_the_other_told_in_words() -> None:
    apart_ = answered(REQUESTS["09"])
    assert shown(drawn(apart_)["of-found-hinge-foot"]) == "1/2 in"
    told = said(recheck_section(apart_, ENGLISH))
    assert "Not seen here: Ends above subfloor, strike leg 1/4 in." in told
    assert "Ends above subfloor, hinge leg" in told
    pair = {**REQUESTS["09"], "leaf": {**REQUESTS["09"]["leaf"], "count": 2}}
    told = said(recheck_section(answered(pair), ENGLISH))
    assert "Not seen here: Ends above subfloor, second hinge leg 1/4 in." in told
    assert "Ends above subfloor, first hinge leg" in told
    assert marked(answered(pair))["findings-0-amount"] == "daylight shows (practice)"


def test_a_leg_above_its_subfloor_stands_on_no_block() -> None:
    """What it stands on, nobody measured: an advice crosses its block out."""
    hidden = [part for part in recheck_section(answered(REQUESTS["01"]), ENGLISH).shapes if isinstance(part, Stroke)]
    assert [run for one in hidden if one.dash == HIDDEN for run in one.lines if run[0][0] != run[-1][0]] == []


# --- what is missed


@pytest.mark.parametrize(
    ("number", "marks"),
    [
        (
            "01",
            {
                "findings-0-amount": "daylight shows (practice)",
                "findings-1-amount": "daylight shows (practice)",
                "clearance-pull-side": "too much (preference)",
                "clearance-push-side": "too much (preference)",
            },
        ),
        ("02", {"clearance-pull-side": "rubs (practice)", "clearance-push-side": "too little (preference)"}),
        ("04", {}),
        ("05", {"clearance-piece": "rubs (practice)", "clearance-push-side": "too little (preference)"}),
        ("13", {}),
        ("15", {"air-gap": "too little air (project)"}),
        ("16", {"clearance-pull-side": "too much (standard)", "clearance-push-side": "too much (standard)"}),
    ],
)
def test_what_misses_a_rule_is_said_so_in_a_box(number: str, marks: dict[str, str]) -> None:
    answer = answered(REQUESTS[number])
    assert marked(answer) == marks
    drawing = recheck_section(answer, ENGLISH)
    groups = [group for group in drawing.shapes if isinstance(group, Group) and group.kind != "scale"]
    boxes = {group.kind.split()[1].removeprefix("of-") for group in groups if len(boxed(group)) == 1}
    assert boxes == set(marks)
    assert [group for group in groups if len(boxed(group)) > 1] == []
    assert ("In a box: misses a rule." in said(drawing)) == bool(marks)
    assert all(group.title.endswith(f", {marks[name]}") for group in groups for name in marks if name in group.kind)


def test_a_gap_that_misses_at_one_end_of_its_range_says_at_which() -> None:
    """By hand: 1 in less mortar of 1/8 to 1/4 in and tile of 3/8 in leaves 1/2 in at most, 3/8 in at least."""
    mortar = {"material": "thin_bed_mortar", "thickness": "3/16 in", "least": "1/8 in", "greatest": "1/4 in"}
    answer = answered(was_set(pull_side=floor(mortar, "ceramic_tile 3/8 in")))
    assert answer["clearance"]["pull_side"]["least"]["text"] == "3/8 in"
    assert shown(drawn(answer)["of-clearance-pull-side"]) == "7/16 in"
    assert marked(answer)["clearance-pull-side"] == "least 3/8 in: too little (preference)"


def test_without_a_gap_the_bottom_of_a_leaf_that_rubs_is_marked() -> None:
    """One floor isn't decided, so no gap is told; the leaf ends below the other all the same."""
    answer = answered(was_set(pull_side={"certainty": "undecided"}, push_side=floor("ceramic_tile 1 1/4 in")))
    assert not answer["clearance"]
    assert marked(answer) == {"found-leaf-bottom": "rubs (practice)"}


def test_a_leg_too_high_under_carpet_is_marked_where_it_is_the_one_seen() -> None:
    """Scenario 3's carpet, and legs 3/4 in up: common practice has them 1/2 in up at most, 1/4 in below the pile."""
    request = {**REQUESTS["03"], "as_set": {"hinge_foot": "3/4 in", "strike_foot": "1/2 in", "leaf_bottom": "2 in"}}
    assert marked(answered(request))["found-hinge-foot"] == "too high (practice)"
    request["as_set"] |= {"hinge_foot": "1/2 in", "strike_foot": "3/4 in"}
    assert "found-hinge-foot" not in marked(answered(request))


def test_a_leg_that_is_not_seen_is_told_in_words_alone() -> None:
    request = {**REQUESTS["09"], "as_set": {"hinge_foot": "1/8 in", "strike_foot": "1/2 in", "leaf_bottom": "1 1/8 in"}}
    answer = answered(request)
    assert {(one["kind"], one["leg"]) for one in answer["findings"] if "leg" in one} == {("shows", "strike_leg")}
    assert not [name for name in drawn(answer) if "findings" in name]
    assert "The strike leg ends 1/4 in above the finish" in said(recheck_section(answer, ENGLISH))


def test_what_no_drawing_here_knows_of_is_told_in_words() -> None:
    answer = answered(RUBS)
    answer["findings"] = [{**answer["findings"][0], "kind": "squeaks", "text": "It squeaks."}]
    assert marked(answer) == {}
    assert "Missed (practice): It squeaks." in said(recheck_section(answer, ENGLISH))


def test_a_piece_that_stands_too_high_is_marked_at_its_rise() -> None:
    """Scenario 12's saddle, 1/4 in above the wood: here a rule has it 1/8 in at most."""
    answer = answered(REQUESTS["12"])
    rise = answer["transition"]["rise"]
    check = {"rule": "made.up", "force": "standard", "status": "fail", "quantity": "threshold_height", "actual": rise}
    answer["checks"].append(check)
    answer["findings"] = [{"kind": "edge", "rule": "made.up", "force": "standard", "text": "Too high."}]
    assert marked(answer) == {"transition-rise": "too high (standard)"}
    check["actual"] = {**rise, "mm": rise["mm"] + 1}
    assert marked(answer) == {}


@each
@in_each_language
def test_all_that_is_found_stands_in_words(number: str, language: Language) -> None:
    answer = answered(REQUESTS[number], language)
    told = said(recheck_section(answer, language))
    assert [one["text"] for one in answer["findings"] if one["text"] not in told] == []


# --- what comes of it


@pytest.mark.parametrize(
    ("number", "heights"),
    [("01", []), ("02", [31.75]), ("04", []), ("11", [6.35, 38.1]), ("17", [39.0])],
)
def test_dashed_is_where_leaf_and_legs_end_after_the_first_remedy(number: str, heights: list[float]) -> None:
    """Trimmed to 1 1/4 in; set again with legs 1/4 in up and the leaf at 1 1/2; another unit, its legs no higher."""
    answer = answered(REQUESTS[number])
    assert dashes(answer) == heights
    assert ("Dashed too" in said(recheck_section(answer, ENGLISH))) == bool(heights)


def test_a_leaf_that_then_ends_lower_is_drawn_down_to_there_and_legs_cut_to_stand_have_no_height() -> None:
    """Scenario 16: legs cut by 1/8 in bring the leaf from 1 1/8 in down to 1 in."""
    answer = answered(CUT_LEGS)
    assert answer["remedies"][0]["foot"]["mm"] < 0
    assert shown(drawn(answer)["of-remedies-0-leaf-bottom"]) == "1 in"
    assert "of-remedies-0-foot" not in drawn(answer)
    assert dashes(answer) == []
    (outline,) = [
        part
        for part in recheck_section(answer, ENGLISH).shapes
        if isinstance(part, Stroke) and part.dash == HIDDEN and part.weight == MEDIUM
    ]
    assert len(outline.lines[0]) == 4


def test_where_the_leg_that_is_seen_is_not_the_lower_the_other_is_told_in_words() -> None:
    """The answer has the height of the lower leg alone."""
    answer = answered(RESET)
    assert shown(drawn(answer)["of-remedies-0-foot"]) == "1/4 in"
    answer["found"]["hinge_foot"] = {"mm": 3.175, "in": 0.125, "text": "1/8 in"}
    assert "of-remedies-0-foot" not in drawn(answer)
    assert "Not seen here: Legs end after first remedy, strike leg 1/4 in." in said(recheck_section(answer, ENGLISH))
    answer["remedies"][0]["steps"] = ["other_unit"]
    assert shown(drawn(answer)["of-remedies-0-foot"]) == "1/4 in"


def test_what_needs_somebodys_word_first_is_not_drawn_as_a_line_to_cut_by() -> None:
    told = said(recheck_section(answered(LABELLED), ENGLISH))
    assert "Leaf bottom after first remedy: ask first 1 1/4 in" in told
    assert "ask first 1 1/4 in" not in said(recheck_section(answered(RUBS), ENGLISH))
    assert "pregunte antes 1 1/4 in" in said(recheck_section(answered(LABELLED, SPANISH), SPANISH))


# --- floors


def test_a_floor_is_drawn_as_high_as_it_was_measured_and_says_so() -> None:
    """By hand: 1 in less a gap of 3/8 in is 5/8 in, of which the tile is 3/8 and the mortar what is left."""
    mortar = {"material": "thin_bed_mortar", "thickness": "3/16 in", "least": "1/8 in", "greatest": "1/4 in"}
    side = floor(mortar, "ceramic_tile 3/8 in")
    answer = answered(was_set(pull_side=side, as_set={**AS_SET, "gaps": {"pull_side": "3/8 in"}}))
    drawing = recheck_section(answer, ENGLISH)
    per_mm = units_per_mm(parsed(svg_of(drawing, language="en").encode()))
    thick = [round((bottom - top) / per_mm, 2) for _, top, _, bottom in floor_boxes(drawing, answer)]
    assert thick == [pytest.approx(each, abs=0.01) for each in (6.35, 9.525, 6.35)]
    assert "measured: 5/8 in in all" in said(drawing)
    assert "measured:" not in said(recheck_section(answered(was_set(pull_side=side)), ENGLISH))
    assert "of-clearance-pull-side" in drawn(answer)


def test_an_undecided_floor_is_a_question_mark_and_nothing_is_measured_to_it() -> None:
    answer = answered(REQUESTS["10"])
    assert "Floor undecided" in said(recheck_section(answer, ENGLISH))
    assert not {"of-clearance-pull-side", "of-air-gap"} & drawn(answer).keys()


# --- as a file


@each
@in_each_language
def test_mark_and_verdict_stand_in_full_above_the_section(number: str, language: Language) -> None:
    answer = answered(REQUESTS[number], language)
    verdict = cards(recheck_sheet(answer, language))[0].verdict
    assert said(recheck_drawing(answer, language)).startswith(f"{answer['mark']} {verdict} ")


def test_a_verdict_that_is_not_known_here_stands_as_it_is() -> None:
    unknown = {**answered(RUBS), "verdict": "wait_and_see"}
    assert "wait and see" in said(recheck_drawing(unknown, ENGLISH))


@pytest.mark.parametrize("text", HOSTILE)
@in_each_language
def test_whatever_marks_and_rooms_say_the_drawing_is_valid(text: str, language: Language) -> None:
    answer = answered(RUBS)
    answer["mark"] = answer["summary"] = answer["flooring"]["pull_side"]["room"] = text
    for one in answer["findings"]:
        one["text"] = text
    root = parsed(recheck_svg(answer, language))
    assert conforms(root) == []
    assert {element.tag for element in root.iter()} <= {f"{SVG}{name}" for name in ELEMENTS}
    assert not [name for element in root.iter() for name in element.attrib if name.startswith("on")]
    kept = re.sub("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]", "\ufffd", text)
    assert root.findtext(f"{SVG}desc") == kept


def test_the_drawing_says_in_words_what_it_shows() -> None:
    answer = answered(RUBS)
    root = parsed(recheck_svg(answer, ENGLISH))
    assert [root.findtext(f"{SVG}{name}") for name in ("title", "desc")] == [
        f"Opening {answer['mark']}: section as found",
        answer["summary"],
    ]
    titles = {g.get("class"): g.findtext(f"{SVG}title") for g in root.iter(f"{SVG}g")}
    assert titles["dimension of-clearance-pull-side missed"] == "Gap over floor: -7/16 in, rubs (practice)"
    assert titles["dimension of-remedies-0-leaf-bottom"] == "Leaf bottom after first remedy: 1 1/4 in"


def test_nothing_is_loaded_and_greys_are_all_its_colours() -> None:
    for request in REQUESTS.values():
        svg = recheck_svg(answered(request), ENGLISH).decode()
        assert not re.search(r"<script|<style|href|url\(|@import|data:|javascript:", svg)
        colours = set(re.findall(r"#[0-9a-f]{6}", svg))
        assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)
        assert recheck_svg(answered(request), ENGLISH).decode() == svg


def test_drawings_share_no_id_in_one_page_and_can_be_read_on_a_telephone() -> None:
    drawings = [(answered(request), language) for request in (RUBS, LABELLED) for language in (ENGLISH, SPANISH)]
    ids = [at.get("id") for answer, language in drawings for at in parsed(recheck_svg(answer, language)).iter()]
    assert len(set(filter(None, ids))) == len([*filter(None, ids)]) == 2 * len(drawings)
    drawing = recheck_drawing(answered(RUBS), ENGLISH)
    assert min(shape.size * 320 / drawing.width for shape in flat(drawing.shapes) if isinstance(shape, Text)) >= 9


# --- any recheck


@st.composite
def asked(draw: st.DrawFn) -> Wire:
    """Any recheck; in some a gap was measured, to a floor as thick as it may be."""
    request: Wire = written(draw(settings_of()), in_text)
    if draw(st.booleans()):
        clear = answered(request)["clearance"]
        gaps = {side: clear[side]["least"] for side in ("pull_side", "push_side") if side in clear}
        gaps = {side: {"value": gap["mm"], "unit": "mm"} for side, gap in gaps.items() if gap["mm"] >= 0}
        request["as_set"] |= {"gaps": gaps} if gaps else {}
    return request


@settings(max_examples=60)
@given(request=asked())
def test_any_recheck_is_drawn_true_within_the_paper_and_without_overlap(request: Wire) -> None:
    for language in (ENGLISH, SPANISH):
        try:
            answer = answered(request, language)
        except InvalidRequest:
            assume(False)
        for keyed in (True, False):
            upper = recheck_section(answer, language, keyed=keyed)
            assert apart(labels(upper, "start"))
            assert apart(labels(upper, "end"))
            check_paper(upper, language)
            check_dimensions(answer, upper, per_mm=units_per_mm(parsed(svg_of(upper, language="en").encode())))
        check_paper(recheck_drawing(answer, language), language)
        check_findings(answer, recheck_section(answer, language), language)


UNDER = ("rubs", "tight", "wide", "much_air")
"""Findings on what lies under the leaf."""


def check_findings(answer: Any, drawing: Drawing, language: Language) -> None:
    """Every finding stands in words, and each on what lies under the leaf on a side is marked there."""
    told, marks = said(drawing), marked(answer, language)
    assert [one["text"] for one in answer["findings"] if one["text"] not in told] == []
    gaps = [one["side"] for one in answer["findings"] if one["kind"] in UNDER and "side" in one]
    places = {
        f"clearance-{side.replace('_', '-')}" if side in answer["clearance"] else "found-leaf-bottom" for side in gaps
    }
    assert places <= marks.keys()
    assert (language.sentences["draw.boxed"] in told) == bool(marks)
    labelled = [part for group in drawing.shapes if isinstance(group, Group) for part in group.shapes]
    assert [text for text in labelled if isinstance(text, Text) and "…" in text.text] == []
