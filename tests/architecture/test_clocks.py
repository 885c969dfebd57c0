"""The time of day may jump. So nothing of ours looks at it: what waits or measures goes by a clock that only runs."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SERVICE = Path(__file__).parents[2] / "service" / "jambset"
RUNNING = {"monotonic", "monotonic_ns", "perf_counter", "perf_counter_ns", "process_time", "thread_time", "sleep"}
"""What may be taken from the module time."""
OF_DAY = {"now", "utcnow", "today", "fromtimestamp", "utcfromtimestamp"}
"""What reads the time of day off datetime's classes, or is made from it."""
HIDDEN = {"time", "date", "datetime"}
"""What may have no other name here."""


def clocks(source: str) -> Iterator[str]:
    """Each look at the time of day in a module, and each name under which one could be hidden."""
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Attribute(value=ast.Name(id="time"), attr=name) if name not in RUNNING:
                yield f"time.{name}"
            case ast.Attribute(value=ast.Name(id=kind) | ast.Attribute(attr=kind), attr=name) if (
                kind in {"date", "datetime"} and name in OF_DAY
            ):
                yield f"{kind}.{name}"
            case ast.ImportFrom(module="time", names=names):
                yield from (f"time.{each.name}" for each in names if each.name not in RUNNING)
            case ast.Import(names=names) | ast.ImportFrom(module="datetime", names=names):
                yield from (f"{each.name} as {each.asname}" for each in names if each.name in HIDDEN and each.asname)


def has_a_clock(source: str) -> bool:
    """Whether a module can look at any clock, however it takes it from the module time."""
    nodes = [*ast.walk(ast.parse(source))]
    whole = {each.name for node in nodes if isinstance(node, ast.Import) for each in node.names}
    return "time" in whole | {node.module for node in nodes if isinstance(node, ast.ImportFrom)}


def test_nothing_looks_at_the_time_of_day() -> None:
    found = {file.name: [*clocks(file.read_text("utf-8"))] for file in SERVICE.rglob("*.py")}
    assert "app.py" in found
    assert {name: looks for name, looks in found.items() if looks} == {}


def test_no_clock_at_all_is_known_to_rules_engine_and_drawings() -> None:
    """An answer depends on what was asked and on the rules, never on when."""
    looking = {
        file.relative_to(SERVICE).parts[0] for file in SERVICE.rglob("*.py") if has_a_clock(file.read_text("utf-8"))
    }
    assert looking == {"http"}


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("import time\ntime.time()", ["time.time"]),
        ("from time import time_ns, monotonic", ["time.time_ns"]),
        ("import time as clock", ["time as clock"]),
        ("import datetime\ndatetime.datetime.now(datetime.UTC)", ["datetime.now"]),
        ("import datetime as d\nfrom datetime import datetime as day", ["datetime as d", "datetime as day"]),
        ("from datetime import date\ndate.today()", ["date.today"]),
        ("course.now", []),
        ("import time\ntime.monotonic() + time.perf_counter()", []),
    ],
)
def test_the_look_finds_what_it_is_for(source: str, found: list[str]) -> None:
    assert [*clocks(source)] == found


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ("import time", True),
        ("import json, time as clock", True),
        ("from time import monotonic", True),
        ("import datetime\ntime = datetime.time(7)", False),
    ],
)
def test_a_clock_is_found_however_it_is_imported(source: str, *, found: bool) -> None:
    assert has_a_clock(source) is found
