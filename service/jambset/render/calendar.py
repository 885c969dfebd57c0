"""The tasks of a house as iCalendar (RFC 5545): one VTODO a task, linked as RFC 9253 has it, without dates.

Reads the answer as it is decoded from JSON and decides nothing. Equal answers give equal bytes:

- UID: a hash of the house's name and the task's key, so that a new answer for the same house, with another floor,
  updates the tasks already there. X-JAMBSET-ADVICE names the answer it comes from.
- DTSTAMP: the permit date of the opening (as_of) where there is one, else the first day of the month that the
  rule set is named after. No clock.
- Order: RELATED-TO;RELTYPE=FINISHTOSTART stands in the predecessor and names what may then start;
  RELATED-TO;RELTYPE=DEPENDS-ON stands in the one that waits. An event that tasks wait for and none brings about is a
  VTODO of its own, to be set to completed by whoever sees it happen; it too names what has to be done before it.
- X-JAMBSET-WORK;VALUE=DURATION: working time. DURATION would need a DTSTART and mean elapsed time.
- X-JAMBSET-HOLD: the questions and rules that a task waits for; DESCRIPTION begins with their words. As in NAME and in
  the other texts, commas, semicolons and backslashes are escaped (RFC 5545 section 3.3.11); the library only does so
  where it knows the property.
- An opening without advice is a VTODO too: its request has to be mended.
"""

from __future__ import annotations

import datetime
import hashlib
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from icalendar import Calendar, Todo, vText

from jambset.model.version import VERSION
from jambset.render.wire import Wire, in_short, rooms

_UID_LENGTH = 32


class _Entry(NamedTuple):
    """One VTODO to be. trade: its category, empty for none. links: keys of its predecessors."""

    key: str
    title: str
    about: str
    trade: str
    rooms: str
    day: datetime.date
    work: str = ""
    links: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()


def calendar_of(house: Wire) -> bytes:
    """The tasks of a decoded house as a VCALENDAR."""
    entries = tuple(_entries(house))
    follow: dict[str, list[str]] = {}
    for entry in entries:
        for before in entry.links:
            follow.setdefault(before, []).append(entry.key)
    calendar = Calendar()
    calendar.add("prodid", f"-//jambset//{VERSION}//EN")
    calendar.add("version", "2.0")
    calendar.add("name", vText(house["house"]))
    for entry in entries:
        calendar.add_component(_todo(entry, house, follow.get(entry.key, ())))
    return bytes(calendar.to_ical())


# --- what there is to do


def _entries(house: Wire) -> Iterator[_Entry]:
    results = {one["advice"]["mark"]: one for one in house["openings"] if "advice" in one}
    tasks = [_task(task, results[task["mark"]], house) for task in house["tasks"]]
    yield from _events(house, tasks)
    yield from tasks
    yield from _to_mend(house)


def _task(task: Wire, result: Wire, house: Wire) -> _Entry:
    advice = result["advice"]
    return _Entry(
        key=task["key"],
        title=f"{task['mark']}: {task['title']}",
        about="\n".join((*_awaited(task, advice, house), in_short(result))),
        trade=task["trade"],
        rooms=rooms(advice),
        day=_day(advice.get("as_of", house["rule_set"])),
        work=task["work"],
        links=tuple(link["task"] for link in task["links"]),
        holds=(*task["questions"], *task["conflicts"]) if task["hold"] else (),
    )


def _awaited(task: Wire, advice: Wire, house: Wire) -> Iterator[str]:
    """What a task waits for, in words: calendars show these, but no property that they don't know."""
    if task["hold"]:
        own = [asked for asked in advice["questions"] if asked["code"] in task["questions"]]
        yield from (asked["text"] for asked in own)
        if others := {*task["questions"]} - {asked["code"] for asked in own}:
            yield from (q["text"] for q in house["questions"] if q["code"] in others and task["mark"] in q["marks"])
        yield from (found["text"] for found in advice.get("conflicts", ()) if found["rules"][0] in task["conflicts"])


def _day(text: str) -> datetime.date:
    """A date, or the first day of the month that a rule set is named after.

    >>> _day("2026-11"), _day("2026-03-05")
    (datetime.date(2026, 11, 1), datetime.date(2026, 3, 5))
    """
    return datetime.date.fromisoformat(text if text.count("-") > 1 else f"{text[:7]}-01")


def _events(house: Wire, tasks: Iterable[_Entry]) -> Iterator[_Entry]:
    """What tasks wait for and none brings about; each has the day of the first task that waits for it."""
    days: dict[str, datetime.date] = {}
    for task in tasks:
        for key in task.links:
            days.setdefault(key, task.day)
    for event in house.get("events", ()):
        yield _Entry(
            key=event["key"],
            title=event["title"],
            about="",
            trade="",
            rooms=event.get("room", ""),
            day=days[event["key"]],
            links=tuple(link["task"] for link in event["follows"]),
        )


def _to_mend(house: Wire) -> Iterator[_Entry]:
    """Openings without advice; each is known by its mark, and those of one mark by their order."""
    known: Counter[str] = Counter()
    for place, result in enumerate(house["openings"]):
        if "problem" in result:
            problem, name = result["problem"], result.get("mark", f"opening {place}")
            faults = (f"{fault['pointer']}: {fault['detail']}" for fault in problem["errors"])
            known[name] += 1
            yield _Entry(
                key=f"mend\0{name}\0{known[name]}",
                title=f"{name}: {problem['title']}",
                about="\n".join((problem["detail"], *faults)),
                trade="",
                rooms="",
                day=_day(house["rule_set"]),
            )


# --- how it is written


def _todo(entry: _Entry, house: Wire, follow: Iterable[str]) -> Todo:
    todo = Todo()
    todo.add("uid", _uid(house, entry.key))
    todo.add("dtstamp", datetime.datetime.combine(entry.day, datetime.time(), datetime.UTC))
    todo.add("summary", entry.title)
    todo.add("status", "NEEDS-ACTION")
    for name, text in (("description", entry.about), ("location", entry.rooms)):
        if text:
            todo.add(name, text)
    if entry.trade:
        todo.add("categories", [entry.trade])
    for kind, keys in (("FINISHTOSTART", follow), ("DEPENDS-ON", entry.links)):
        for key in keys:
            todo.add("related-to", vText(_uid(house, key)), parameters={"RELTYPE": kind})
    if entry.work:
        todo.add("x-jambset-work", vText(entry.work, params={"VALUE": "DURATION"}))
    if entry.holds:
        todo.add("x-jambset-hold", vText(", ".join(entry.holds), params={"VALUE": "TEXT"}))
    todo.add("x-jambset-advice", vText(house["advice_id"]))
    return todo


def _uid(house: Wire, key: str) -> str:
    """Id of a task, the same in every answer for this house."""
    name = f"{house['house']}\0{key}"
    return f"{hashlib.sha256(name.encode()).hexdigest()[:_UID_LENGTH]}@jambset"
