"""The lists of a house as CSV: what another program reads back is what the answer says."""

from __future__ import annotations

import csv
import io
from typing import Any

import msgspec
import pytest
from tests.houses import Wire, house
from tests.openings import catalogue

from jambset.http.advise import house_adviser
from jambset.render.language import ENGLISH
from jambset.render.lists import LISTS, csv_of, safe


def _length(mm: float, text: str) -> dict[str, Any]:
    return {"mm": mm, "in": round(mm / 25.4, 6), "text": text}


def _lot(state: str, units: int) -> dict[str, Any]:
    sizes = {f"leaf_{name}": _length(762.0, "30 in") for name in ("width", "height", "thickness")}
    sizes |= {name: _length(17.4625, "11/16 in") for name in ("head_gap", "head_thickness", "leg_thickness")}
    marks = [f"{state}{unit}" for unit in range(units)]
    return {
        "undercut": _length(38.1, "1 1/2 in"),
        **sizes,
        "core": "hollow",
        "leaves": 1,
        "hinges": "butt",
        "duties": [],
        "state": state,
        "hold": False,
        "units": units,
        "marks": marks,
    }


ADVICE: dict[str, Any] = {
    "mark": "=D1",
    "verdict": "go_with_trim",
    "setting": {"foot": _length(-3.175, "-1/8 in"), "head_height": _length(2060.0, "81 1/8 in")},
    "order": {},
    "leaf": {"trim": _length(12.7, "1/2 in"), "when": "before_hanging", "bottom": _length(38.1, "1 1/2 in")},
    "clearance": {"pull_side": {"nominal": _length(14.2875, "9/16 in")}},
    "transition": {"title": "Carpet bar, clamped"},
    "summary": 'Say "cut", then\tcut.',
}
HOUSE: dict[str, Any] = {
    "openings": [
        {"mark": "=D1", "advice": ADVICE},
        {
            "problem": {
                "detail": "2 fields can't be accepted.",
                "errors": [
                    {"pointer": "#/openings/1/mark", "code": "missing_field", "detail": "mark is required."},
                    {"pointer": "#/openings/1/x", "code": "unknown_field", "detail": "Remove it."},
                ],
            }
        },
        {"mark": "D3", "problem": {"detail": "1 field.", "errors": [{"pointer": "#", "code": "c", "detail": "d"}]}},
    ],
    "head_lines": [
        {
            "name": "hall",
            "held": False,
            "marks": ["=D1", "D3"],
            "left_out": [{"mark": "D3", "why": "Its request was refused."}],
            "minutes": 0.0,
            "strained": [],
            "text": "None.",
        }
    ],
    "blocks": [{"size": _length(9.525, "3/8 in"), "count": 4, "marks": ["=D1", "D2"]}],
    "order_list": [_lot("to_order", 3), _lot("on_site", 2), _lot("set", 1)],
    "trim_list": [
        {
            "place": 1,
            "mark": "=D1",
            "leaf": "only",
            "trim": _length(12.7, "1/2 in"),
            "when": "before_hanging",
            "where": "bench",
            "hold": True,
        }
    ],
    "tasks": [
        {
            "key": "=D1.trim-leaf",
            "mark": "=D1",
            "title": "Trim",
            "trade": "finish_carpenter",
            "phase": "leaf",
            "work": "PT28M",
            "links": [{"task": "external:unit-delivered.=D1", "relation": "FS"}],
            "hold": False,
            "questions": [],
            "conflicts": [],
        }
    ],
    "events": [
        {
            "key": "external:floor-laid.den",
            "title": "=den: floor laid",
            "room": "=den",
            "follows": [{"task": f"D{door}.undercut-jambs", "relation": "FS"} for door in (1, 2)],
        }
    ],
    "shared_costs": [],
}


def _table(name: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(csv_of(HOUSE, name).decode(), newline=""), strict=True))


def test_an_opening_is_a_row_with_its_lengths_as_number_and_text() -> None:
    first, *_ = _table("openings")
    assert first == {
        "mark": "'=D1",
        "external_id": "",
        "verdict": "go_with_trim",
        "foot_mm": "-3.175",
        "foot": "'-1/8 in",
        "head_height_mm": "2060.0",
        "head_height": "81 1/8 in",
        "undercut_to_order_mm": "",
        "undercut_to_order": "",
        "trim_mm": "12.7",
        "trim": "1/2 in",
        "when": "before_hanging",
        "leaf_bottom_mm": "38.1",
        "leaf_bottom": "1 1/2 in",
        "pull_gap_mm": "14.2875",
        "pull_gap": "9/16 in",
        "push_gap_mm": "",
        "push_gap": "",
        "piece": "Carpet bar, clamped",
        "summary": 'Say "cut", then\tcut.',
    }


def test_an_opening_without_advice_keeps_its_row_and_says_so() -> None:
    _, second, third = _table("openings")
    assert (second["mark"], second["verdict"], second["foot"]) == ("", "refused", "")
    assert second["summary"] == "2 fields can't be accepted."
    assert third["mark"] == "D3"


def test_each_fault_of_a_refused_opening_is_a_row() -> None:
    assert [(row["place"], row["mark"], row["pointer"]) for row in _table("refused")] == [
        ("1", "", "#/openings/1/mark"),
        ("1", "", "#/openings/1/x"),
        ("2", "D3", "#"),
    ]


def test_units_to_order_have_a_column_that_no_unit_that_is_there_stands_in() -> None:
    assert csv_of(HOUSE, "order").decode().startswith("state,units_to_order,units_there,undercut_mm,undercut,")
    rows = [(row["state"], row["units_to_order"], row["units_there"]) for row in _table("order")]
    assert rows == [("to_order", "3", ""), ("on_site", "", "2"), ("set", "", "1")]


def test_an_event_says_what_has_to_be_done_before() -> None:
    (event,) = _table("events")
    assert event == {
        "key": "external:floor-laid.den",
        "title": "'=den: floor laid",
        "room": "'=den",
        "mark": "",
        "follows": "D1.undercut-jambs FS; D2.undercut-jambs FS",
    }


def test_several_items_share_a_cell() -> None:
    assert _table("blocks") == [{"size_mm": "9.525", "size": "3/8 in", "count": "4", "marks": "'=D1; D2"}]
    (line,) = _table("head_lines")
    assert (line["held"], line["marks"], line["left_out"]) == ("no", "'=D1; D3", "D3: Its request was refused.")
    (task,) = _table("tasks")
    assert (task["waits_for"], task["work"], task["hold"]) == ("external:unit-delivered.=D1 FS", "PT28M", "no")


def test_what_is_left_out_of_the_answer_leaves_its_cells_empty() -> None:
    (trim,) = _table("trim")
    assert {name for name, cell in trim.items() if not cell} == {
        "gauge_stands_on",
        "gauge_angle",
        "gauge_hinge_end_mm",
        "gauge_hinge_end",
        "gauge_free_end_mm",
        "gauge_free_end",
        "height_after_mm",
        "height_after",
    }
    assert trim["hold"] == "yes"


def test_lines_end_as_the_standard_has_it_and_a_list_without_rows_has_its_titles() -> None:
    text = csv_of(HOUSE, "shared_costs").decode()
    assert text.startswith("kind,name,minutes,text\r\n")
    assert text.endswith("\r\n")
    assert text.count("\n") == text.count("\r\n") == 1
    assert csv_of(HOUSE, "openings").decode().count("\r\n") == 4
    assert '"Say ""cut"", then' in csv_of(HOUSE, "openings").decode()


@pytest.mark.parametrize("name", LISTS)
def test_titles_of_a_list_differ(name: str) -> None:
    titles = [title for column in LISTS[name].columns for title in column.titles]
    assert len(set(titles)) == len(titles)


@pytest.fixture(scope="module")
def mixed() -> Wire:
    """The answer for a house in which every list has rows: a unit is to be ordered, a door on a head line refused.

    One leaf is rated against fire, and the house is of a use that has changes in level eased.
    """
    asked = house(40, seed=5)
    asked["defaults"]["building"] = {"use": "apartment"}
    asked["openings"][1]["leaf"]["fire_minutes"] = 20
    asked["openings"][0] |= {"external_id": "A-1", "frame": {"state": "to_order", "undercut": None}}
    on_line = asked["head_lines"][0]["marks"][0]
    wrong = next(opening for opening in asked["openings"] if opening["mark"] == on_line)
    wrong |= {"external_id": "A-2", "leaf": {**wrong["leaf"], "height": "80 mm"}}
    answered: Wire = msgspec.json.decode(house_adviser(catalogue())(msgspec.json.encode(asked), ENGLISH))
    return answered


@pytest.mark.parametrize("name", LISTS)
def test_every_column_is_filled_for_some_door_of_a_mixed_house(name: str, mixed: Wire) -> None:
    """A column at a place where answers have nothing would stay empty, and nobody be told."""
    titles, *rows = csv.reader(io.StringIO(csv_of(mixed, name).decode(), newline=""))
    filled = {title for row in rows for title, cell in zip(titles, row, strict=True) if cell}
    assert [title for title in titles if title not in filled] == []


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠"])
@pytest.mark.parametrize("before", ["", " ", "\u00a0 ", "\u3000"])
def test_a_text_that_a_spreadsheet_would_work_out_gets_an_apostrophe(sign: str, before: str) -> None:
    text = f"{before}{sign}1+1"
    expected = text if before and sign in "\t\r" else f"'{text}"
    assert safe(text) == expected


@pytest.mark.parametrize("cell", ["", " ", "D-07", "1=1", "a@b", "'=1", -3.175, 0, 12])
def test_any_other_cell_is_left_as_it_is(cell: str | float) -> None:
    assert safe(cell) == cell
