"""The tasks of a house as iCalendar: read back by the rules of RFC 5545 and 9253."""

from __future__ import annotations

import copy
import datetime
from typing import Any

import icalendar
import pytest

from jambset.render.calendar import calendar_of

DELIVERED = "external:unit-delivered.D,1;\\"
LAID = "external:floor-laid.den%2C-upper"
SIDES = {"pull_side": {"room": "den, upper"}, "push_side": {"room": "hall"}}
ADVICE: dict[str, Any] = {
    "mark": "D,1;\\",
    "summary": "Cut 1/2 in off the leaf; " + "é" * 90,
    "flooring": SIDES,
    "as_of": "2026-03-05",
    "questions": [{"code": "floor_undecided", "text": "Which floor?"}, {"code": "pressure", "text": "How much?"}],
    "conflicts": [{"rules": ["us-fire", "trim"], "text": "Too wide."}, {"rules": ["trim"], "text": "Too much."}],
}


def _task(name: str, *links: str, **more: Any) -> dict[str, Any]:
    held = {"hold": False, "questions": [], "conflicts": []}
    return {
        "key": f"D,1;\\.{name}",
        "mark": "D,1;\\",
        "title": name.capitalize(),
        "trade": "finish_carpenter",
        "phase": "leaf",
        "work": "PT1H5M",
        "links": [{"task": link, "relation": "FS"} for link in links],
        **held,
        **more,
    }


HOUSE: dict[str, Any] = {
    "advice_id": "a1",
    "house": "Lot 4",
    "rule_set": "2026-11",
    "openings": [
        {"mark": "D,1;\\", "advice": ADVICE},
        {
            "problem": {
                "title": "Fields of the request are invalid",
                "detail": "1 field.",
                "errors": [{"pointer": "#/openings/1/mark", "code": "missing_field", "detail": "Add it."}],
            }
        },
    ],
    "tasks": [
        _task("trim", DELIVERED),
        _task("set", "D,1;\\.trim", DELIVERED),
        _task("check", "D,1;\\.set", LAID, hold=True, questions=["floor_undecided"], conflicts=["us-fire"]),
    ],
    "events": [
        {"key": DELIVERED, "title": "D,1;\\: unit delivered", "mark": "D,1;\\", "follows": []},
        {
            "key": LAID,
            "title": "den, upper: floor laid",
            "room": "den, upper",
            "follows": [{"task": "D,1;\\.set", "relation": "FS"}],
        },
    ],
}


def _read(house: dict[str, Any] = HOUSE) -> dict[str, Any]:
    """Each VTODO by its summary, read by the library's own parser."""
    (calendar,) = icalendar.Calendar.from_ical(calendar_of(house), multiple=True)
    assert not calendar.errors
    return {str(todo["summary"]): todo for todo in calendar.walk("VTODO")}


def _uids(todo: Any, kind: str) -> list[str]:
    related = todo.get("related-to", [])
    each = related if isinstance(related, list) else [related]
    return [str(one) for one in each if one.params["RELTYPE"] == kind]


def test_there_is_one_todo_a_task_one_an_event_and_one_an_opening_to_mend() -> None:
    assert list(_read()) == [
        "D,1;\\: unit delivered",
        "den, upper: floor laid",
        "D,1;\\: Trim",
        "D,1;\\: Set",
        "D,1;\\: Check",
        "opening 1: Fields of the request are invalid",
    ]


def test_a_task_says_what_where_by_whom_and_how_long_and_when_nothing() -> None:
    todo = _read()["D,1;\\: Trim"]
    assert str(todo["description"]) == ADVICE["summary"]
    assert str(todo["location"]) == "den, upper / hall"
    assert todo["categories"].cats == ["finish_carpenter"]
    assert str(todo["status"]) == "NEEDS-ACTION"
    assert todo["x-jambset-work"].dt == datetime.timedelta(hours=1, minutes=5)
    assert b"X-JAMBSET-WORK;VALUE=DURATION:PT1H5M\r\n" in calendar_of(HOUSE)
    assert str(todo["x-jambset-advice"]) == "a1"
    assert not {"DUE", "DTSTART", "DURATION", "X-JAMBSET-HOLD"} & set(todo)


def test_what_comes_first_names_what_may_then_start_and_what_waits_names_what_it_depends_on() -> None:
    todos = _read()
    delivered, laid, trim, set_, check, _ = todos.values()
    assert _uids(delivered, "FINISHTOSTART") == [trim["uid"], set_["uid"]]
    assert _uids(delivered, "DEPENDS-ON") == []
    assert _uids(laid, "FINISHTOSTART") == [check["uid"]]
    assert _uids(laid, "DEPENDS-ON") == [set_["uid"]]
    assert _uids(set_, "FINISHTOSTART") == [laid["uid"], check["uid"]]
    assert _uids(trim, "FINISHTOSTART") == [set_["uid"]]
    assert _uids(trim, "DEPENDS-ON") == [delivered["uid"]]
    assert _uids(set_, "DEPENDS-ON") == [trim["uid"], delivered["uid"]]
    assert _uids(check, "DEPENDS-ON") == [set_["uid"], laid["uid"]]
    assert _uids(check, "FINISHTOSTART") == []


def test_a_hold_names_what_it_waits_for() -> None:
    assert str(_read()["D,1;\\: Check"]["x-jambset-hold"]) == "floor_undecided, us-fire"


def test_what_a_task_waits_for_is_read_first_in_any_calendar() -> None:
    assert str(_read()["D,1;\\: Check"]["description"]) == f"Which floor?\nToo wide.\n{ADVICE['summary']}"


def test_a_floor_is_laid_in_its_room() -> None:
    todos = _read()
    assert str(todos["den, upper: floor laid"]["location"]) == "den, upper"
    assert "location" not in todos["D,1;\\: unit delivered"]


def test_texts_are_escaped_in_properties_too_that_the_library_doesnt_know() -> None:
    """Expected bytes by RFC 5545 section 3.3.11: a backslash before commas, semicolons and backslashes."""
    name = 'Lot; 12, "A"\\ é'
    text = calendar_of(HOUSE | {"house": name, "advice_id": "a,1"})
    assert 'NAME:Lot\\; 12\\, "A"\\\\ é\r\n'.encode() in text
    assert b"X-JAMBSET-HOLD;VALUE=TEXT:floor_undecided\\, us-fire\r\n" in text
    assert b"X-JAMBSET-ADVICE:a\\,1\r\n" in text
    as_text = text.replace(b"\r\nNAME:", b"\r\nNAME;VALUE=TEXT:")  # so RFC 7986 has it; the library doesn't know NAME
    assert str(icalendar.Calendar.from_ical(as_text)["name"]) == name


def test_the_stamp_is_the_permit_date_or_the_month_of_the_rule_set() -> None:
    todos = _read()
    assert todos["D,1;\\: Trim"]["dtstamp"].to_ical() == b"20260305T000000Z"
    assert todos["den, upper: floor laid"]["dtstamp"].to_ical() == b"20260305T000000Z"
    without = copy.deepcopy(HOUSE)
    del without["openings"][0]["advice"]["as_of"]
    assert _read(without)["D,1;\\: Trim"]["dtstamp"].to_ical() == b"20261101T000000Z"


def test_an_opening_without_advice_says_how_to_mend_its_request() -> None:
    todo = _read()["opening 1: Fields of the request are invalid"]
    assert str(todo["description"]) == "1 field.\n#/openings/1/mark: Add it."
    assert "x-jambset-work" not in todo
    assert "categories" not in todo


def test_ids_stay_when_the_advice_changes_and_differ_between_houses_and_tasks() -> None:
    first = [todo["uid"] for todo in _read().values()]
    changed = copy.deepcopy(HOUSE) | {"advice_id": "b2"}
    changed["openings"][0]["advice"]["summary"] = "Leave it."
    assert [todo["uid"] for todo in _read(changed).values()] == first
    assert len(set(first)) == len(first)
    assert not set(first) & {todo["uid"] for todo in _read(HOUSE | {"house": "Lot 5"}).values()}


def test_an_opening_to_mend_keeps_its_id_wherever_it_stands_and_two_of_one_mark_have_two() -> None:
    bad = {"code": "invalid_fields", "title": "Fields", "detail": "1 field.", "errors": []}
    names = ("D7", "D8", "D7")
    uids = []
    for order in (names, names[::-1]):
        openings = [*HOUSE["openings"], *({"mark": name, "problem": bad} for name in order)]
        calendar = icalendar.Calendar.from_ical(calendar_of(HOUSE | {"openings": openings}))
        uids.append(sorted(str(todo["uid"]) for todo in calendar.walk("VTODO") if str(todo["summary"])[:2] in names))
    assert uids[0] == uids[1]
    assert len(set(uids[0])) == 3


def test_equal_answers_give_equal_bytes_in_lines_of_at_most_75_octets() -> None:
    text = calendar_of(HOUSE)
    assert calendar_of(copy.deepcopy(HOUSE)) == text
    lines = text.split(b"\r\n")
    assert b"\n" not in b"".join(lines)
    assert max(map(len, lines)) <= 75
    assert lines[:4] == [b"BEGIN:VCALENDAR", b"VERSION:2.0", lines[2], b"NAME:Lot 4"]
    assert lines[2].startswith(b"PRODID:-//jambset//")
    assert b"SUMMARY:D\\,1\\;\\\\: Trim" in lines


@pytest.mark.parametrize("rooms", [{}, {"pull_side": {"room": "hall"}}])
def test_a_place_is_told_as_far_as_it_has_names(rooms: dict[str, Any]) -> None:
    house = copy.deepcopy(HOUSE)
    house["openings"][0]["advice"]["flooring"] = {"pull_side": {}, "push_side": {}, **rooms}
    todo = _read(house)["D,1;\\: Trim"]
    assert str(todo.get("location", "")) == rooms.get("pull_side", {}).get("room", "")


def test_a_task_of_a_door_that_is_worked_on_for_its_head_line_says_so() -> None:
    """By itself it may be fine."""
    first, *rest = HOUSE["openings"]
    house = {**HOUSE, "openings": [{**first, "planned": "With its head line it is set otherwise."}, *rest]}
    todos = icalendar.Calendar.from_ical(calendar_of(house)).walk("VTODO")
    (told,) = (str(todo["description"]) for todo in todos if str(todo["summary"]).endswith(": Trim"))
    assert told == f"{ADVICE['summary']} With its head line it is set otherwise."
