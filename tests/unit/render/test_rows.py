from __future__ import annotations

import unicodedata
from typing import Any

import pytest
from rich.cells import cell_len

from jambset.render.rows import (
    BETWEEN,
    COLUMNS,
    LEAST_MARK,
    explained,
    fitted,
    house_told,
    plain,
    row,
    rule_row,
    warned,
    wrapped,
)


def _length(text: str) -> dict[str, Any]:
    return {"mm": 0.0, "in": 0.0, "text": text}


def _advice(**parts: Any) -> dict[str, Any]:
    """An advice as answered, by hand, with the parts a table reads."""
    return {
        "mark": "D07",
        "verdict": "go_with_trim",
        "summary": "Stand both legs on 1 1/8 in blocks.",
        "setting": {"foot": _length("1 1/8 in"), "method": "on_blocks", "governed_by": ["leg.a", "leg.b"]},
        "leaf": {"trim": _length("3/8 in"), "when": "before_hanging", "governed_by": ["leaf.c", "leg.b"]},
        "clearance": {"pull_side": {"nominal": _length("9/16 in")}, "push_side": {"nominal": _length("1 1/4 in")}},
        "air": {"flow_at_limit": {"text": "31.3 cfm"}, "supply_flow": {"text": "60.0 cfm"}},
        "transition": {"title": "Carpet raised to the hard edge on a tapered pad"},
        "sources": [{"rule": "leg.a", "force": "project"}, {"rule": "leaf.c", "force": "law"}],
        **parts,
    }


RULES: dict[str, Any] = {"leg.a": {"title": "Leg under a hard floor"}, "leaf.c": {"title": "Leaf over the pile"}}


def _cell(column: str, **parts: Any) -> str:
    return _spaced(row(_advice(**parts))[COLUMNS.index(column)])


def _spaced(cell: str) -> str:
    return cell.replace("\N{NO-BREAK SPACE}", " ")


def test_a_row_has_a_cell_for_each_column() -> None:
    assert tuple(map(_spaced, row(_advice()))) == (
        "D07",
        "go with trim",
        "1 1/8 in\non blocks",
        "3/8 in\nbefore hanging",
        "pull 9/16 in\npush 1 1/4 in",
        "31.3 cfm\nof 60.0 cfm",
        "Carpet raised to the hard edge on a tapered pad",
    )


@pytest.mark.parametrize(
    ("column", "parts", "shown"),
    [
        ("trim", {"leaf": {"trim": _length("0 in"), "when": "none", "governed_by": []}}, "-"),
        ("trim", {"leaf": {"when": "after_floor", "governed_by": []}}, "-\nafter floor"),
        ("gaps", {"clearance": {"push_side": {"nominal": _length("7 mm")}}}, "pull -\npush 7 mm"),
        ("gaps", {"clearance": {}}, "pull -\npush -"),
        ("air", {"air": {"flow_at_limit": {"text": "31.3 cfm"}}}, "31.3 cfm"),
        ("air", {"air": {}}, "-"),
        ("transition", {"transition": {}}, "-"),
    ],
)
def test_what_the_advice_leaves_out_is_a_dash(column: str, parts: dict[str, Any], shown: str) -> None:
    assert _cell(column, **parts) == shown


def test_without_a_joint_there_is_no_piece() -> None:
    advice = _advice()
    del advice["transition"]
    assert row(advice)[COLUMNS.index("transition")] == "-"


# --- widths

WORDS = {_word for _text in (*row(_advice()), *COLUMNS) for _word in _text.split()}


@pytest.mark.parametrize("width", [80, 100, 120])
def test_a_table_fits_and_breaks_between_words_only(width: int) -> None:
    widths, lines = fitted([COLUMNS, row(_advice())], width)
    assert sum(widths) + BETWEEN * (len(widths) - 1) <= width
    assert {word for cells in lines for cell in cells for word in cell.split()} == WORDS
    assert all(
        cell_len(line) <= wide
        for cells in lines
        for cell, wide in zip(cells, widths, strict=True)
        for line in cell.split("\n")
    )


@pytest.mark.parametrize("width", [80, 100, 120])
def test_a_quantity_stays_on_one_line(width: int) -> None:
    _, (_, cells) = fitted([COLUMNS, row(_advice())], width)
    shown = [line for cell in cells for line in cell.split("\n")]
    assert {"1 1/8 in", "3/8 in", "pull 9/16 in", "push 1 1/4 in"} <= set(shown)
    assert any(line.endswith("60.0 cfm") for line in shown)


def test_a_long_mark_is_cut_short_rather_than_the_table_widened() -> None:
    widths, (_, cells) = fitted([COLUMNS, row(_advice(mark="D" * 64))], 80)
    assert sum(widths) + BETWEEN * (len(widths) - 1) <= 80
    assert cells[0] == "D" * (widths[0] - 1) + "…"


def test_wide_letters_count_twice() -> None:
    widths, (_, cells) = fitted([("mark", "x"), ("門" * 8, "y")], 12)
    assert widths == [9, 1]
    assert cell_len(cells[0]) <= 9
    assert cells[0].endswith("…")


def test_where_there_is_no_room_at_all_the_words_stay_whole() -> None:
    widths, (_, cells) = fitted([COLUMNS, row(_advice())], 10)
    assert widths[0] == LEAST_MARK
    assert "subfloor" not in cells[2]
    assert {word for cell in cells[1:] for word in cell.split()} <= WORDS


def test_lines_break_between_words_only() -> None:
    assert wrapped("a bb ccc\ndddd e", 4) == "a bb\nccc\ndddd\ne"
    assert wrapped("unbreakable", 4) == "unbreakable"


# --- what is said below the table


def test_the_rules_that_settled_foot_and_leaf_are_told_by_title_and_force() -> None:
    assert explained(_advice(), RULES, heading="A bedroom", width=80).split("\n") == [
        "D07  A bedroom",
        "  Stand both legs on 1 1/8 in blocks.",
        "  Foot by: Leg under a hard floor (project)",
        "  Foot and leaf by: leg.b",
        "  Leaf by: Leaf over the pile (law)",
    ]


def test_a_projects_own_rule_is_told_by_the_name_of_its_value() -> None:
    setting = {"foot": _length("0 in"), "method": "on_subfloor", "governed_by": ["project.hard_floor_clearance"]}
    sources = [{"rule": "project.hard_floor_clearance", "force": "project"}]
    told = explained(_advice(setting=setting, sources=sources), RULES)
    assert "  Foot by: hard floor clearance (project)" in told.split("\n")


def test_below_the_table_a_quantity_stays_on_one_line_too() -> None:
    lines = explained(_advice(), RULES, width=30).split("\n")
    assert lines[:3] == ["D07", "  Stand both legs on", "    1 1/8 in blocks."]


def _with_cautions(mark: str, *texts: str) -> dict[str, Any]:
    return {"mark": mark, "cautions": [{"text": text} for text in texts], "notice": "Advice, not permission."}


def test_each_danger_is_told_once_with_its_marks_unless_it_is_for_all_and_the_notice_once() -> None:
    answers = [_with_cautions("D1", "Protect eyes.", "Lift it with two."), _with_cautions("D2", "Protect eyes.")]
    assert warned(answers).split("\n") == [
        "Cautions",
        "  Protect eyes.",
        "  D1: Lift it with two.",
        "  Advice, not permission.",
    ]
    assert warned([]) == ""


def test_a_house_that_has_merged_its_cautions_is_told_as_it_has_and_with_its_own_notice() -> None:
    answers = [_with_cautions("D1", "Protect eyes."), _with_cautions("D2", "Cut the wall with care.")]
    house = {"notice": "Of the house.", "cautions": [{"text": "The hall is raised.", "marks": ["D2"]}]}
    assert warned(answers, house).split("\n") == ["Cautions", "  D2: The hall is raised.", "  Of the house."]
    assert warned(answers, {"notice": "Of the house."}).split("\n")[1:] == [
        "  D1: Protect eyes.",
        "  D2: Cut the wall with care.",
        "  Of the house.",
    ]


# --- what a terminal would obey

HOSTILE = "D\x1b[31m\x9b2J\u202e\n\u2028\x7f7"


def test_nothing_that_a_terminal_obeys_comes_through() -> None:
    assert plain(HOSTILE) == "D�[31m�2J����7"
    assert plain("Tür ½ 門 7") == "Tür ½ 門 7"


def test_the_texts_of_an_advice_are_made_plain() -> None:
    advice = _advice(mark=HOSTILE, summary=HOSTILE, transition={"title": HOSTILE}, verdict=HOSTILE)
    shown = "".join(row(advice)) + explained(advice, {"leg.a": {"title": HOSTILE}}, heading=HOSTILE)
    shown += warned([_with_cautions(HOSTILE, HOSTILE), _with_cautions("D2")])
    assert {unicodedata.category(letter) for letter in shown.replace("\n", "")}.isdisjoint({"Cc", "Cf", "Zl"})


# --- a rule


def test_a_rule_is_told_with_its_latest_source() -> None:
    rule = {
        "id": "xx-fire",
        "force": "law",
        "topic": "fire",
        "text": "At most 3/4 in.",
        "document": {"title": "A code"},
        "editions": [{"edition": "2001", "clause": "1"}, {"edition": "2004", "clause": "2"}],
        "verified": "read",
    }
    told = "At most 3/4 in.\nA code, 2004, 2; verified: read"
    assert rule_row(rule) == ("xx-fire\neverywhere\nlaw, fire", told)
    assert rule_row({**rule, "jurisdiction": "XX"})[0] == "xx-fire\nXX\nlaw, fire"


def test_a_rule_that_is_practice_alone_is_told_without_edition_and_clause() -> None:
    rule = {
        "id": "leaf.some",
        "force": "practice",
        "topic": "clearance",
        "text": "About 3/8 in.",
        "document": {"title": "Common practice, no source"},
        "editions": [{"edition": "none", "clause": "none"}],
        "verified": "none",
    }
    assert rule_row(rule)[1] == "About 3/8 in.\nCommon practice, no source; verified: none"


def test_what_stands_for_a_rule_and_is_none_is_told_in_words() -> None:
    settled = {"foot": _length("1/2 in"), "method": "on_blocks", "governed_by": ["head_line"]}
    told = explained(_advice(setting=settled, leaf={"when": "none", "governed_by": []}), RULES)
    assert told.splitlines()[-1] == "  Foot by: The head line"


def test_an_opening_left_off_its_line_is_told_with_the_line() -> None:
    line = {"name": "hall", "text": "All heads at 81 in.", "left_out": [{"mark": "D3", "why": "It was refused."}]}
    house = {"house": "one", "summary": "", "openings": (), "head_lines": [line], "questions": ()}
    assert "  hall: All heads at 81 in. D3: It was refused." in house_told(house)
