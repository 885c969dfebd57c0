"""The scenarios of plain_words_recheck/: a door as it was set, the floors that came, what must be said of it.

Each is a TOML file that a carpenter can read and correct, written as those of plain_words/ are; as_set is how the
unit stands. A finding is written "kind side amount" ("-" where it concerns no side), a remedy "kind minutes".
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.openings import Wire, door, floor
from tests.rechecks import answered

FOLDER = Path(__file__).parent / "plain_words_recheck"
FILES = sorted(FOLDER.glob("*.toml"))
each = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


def _remedies(answer: Any) -> list[str]:
    return [f"{remedy['kind']} {remedy['minutes']}" for remedy in answer["remedies"]]


def _found(answer: Any) -> list[str]:
    return [f"{f['kind']} {f.get('side', '-')} {f['amount']['text']}" for f in answer["findings"]]


def _of_first(name: str) -> Callable[[Any], Any]:
    return lambda answer: answer["remedies"][0][name]


def _text_of_first(name: str) -> Callable[[Any], Any]:
    return lambda answer: answer["remedies"][0][name]["text"]


EXACT: dict[str, Callable[[Any], Any]] = {
    "verdict": lambda answer: answer["verdict"],
    "summary": lambda answer: answer["summary"],
    "trimmed": lambda answer: answer["found"]["trimmed"]["text"],
    "gap_pull": lambda answer: answer["clearance"]["pull_side"]["nominal"]["text"],
    "gap_push": lambda answer: answer["clearance"]["push_side"]["nominal"]["text"],
    "found": _found,
    "found_first": lambda answer: _found(answer)[0],
    "remedies": _remedies,
    "first": lambda answer: _remedies(answer)[0],
    "trim": _text_of_first("trim"),
    "undercut": _text_of_first("undercut"),
    "foot": _text_of_first("foot"),
    "leaf_bottom": _text_of_first("leaf_bottom"),
    "piece": _of_first("piece"),
    "fixes": _of_first("fixes"),
    "needs": lambda answer: [need["code"] for need in answer["remedies"][0].get("needs", [])],
    "held": lambda answer: [task["key"].split(".")[1] for task in answer["tasks"] if task.get("hold")],
}
"""Expectations that must be met exactly, by what of the answer they are of."""


def _statuses(answer: Any, *wanted: str) -> set[str]:
    return {check["rule"] for check in answer["checks"] if check["status"] in wanted}


def _sentences(part: Any) -> Iterator[str]:
    if isinstance(part, str):
        yield part
    for inner in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        yield from _sentences(inner)


AMONG: dict[str, Callable[[Any], Any]] = {
    "remedies_among": _remedies,
    "found_kinds": lambda answer: [finding["kind"] for finding in answer["findings"]],
    "passes": lambda answer: _statuses(answer, "pass") - _statuses(answer, "fail", "relaxed"),
    "misses": lambda answer: _statuses(answer, "fail", "relaxed"),
    "asks": lambda answer: [question["code"] for question in answer["questions"]],
    "cautions": lambda answer: [caution["code"] for caution in answer["cautions"]],
    "says": lambda answer: "\n".join(_sentences(answer)),
}
"""Expectations each of whose items must be among something."""


def _unmet(answer: Any, name: str, wanted: Any) -> Any:
    """What of an expectation isn't so; None when all is."""
    if name in EXACT:
        found = EXACT[name](answer)
        return None if found == wanted else f"{found!r}, not {wanted!r}"
    if name == "never_says":
        return [text for text in wanted if text in "\n".join(_sentences(answer))] or None
    there = AMONG[name](answer)
    return [item for item in wanted if item not in there] or None


@cache
def _scenario(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def _request(opening: Wire) -> Wire:
    sides = {name: _side(opening[name]) for name in ("pull_side", "push_side")}
    return door(**{**opening, **sides})


def _side(side: Wire) -> Wire:
    told = {name: value for name, value in side.items() if name != "floor"}
    return told | (floor(*side["floor"]) if "floor" in side else {})


@each
def test_a_carpenter_would_be_told_so(path: Path) -> None:
    scenario = _scenario(path)
    answer = answered(_request(scenario["opening"]))
    unmet = {
        name: left for name, want in scenario["expect"].items() if (left := _unmet(answer, name, want)) is not None
    }
    assert unmet == {}, f"{scenario['story']}\n{answer['summary']}"


@each
def test_a_summary_is_one_line(path: Path) -> None:
    summary = answered(_request(_scenario(path)["opening"]))["summary"]
    assert summary
    assert "\n" not in summary
    assert "{" not in summary


@each
def test_a_scenario_is_told_worked_and_expected(path: Path) -> None:
    scenario = _scenario(path)
    assert set(scenario) == {"story", "worked", "opening", "expect"}
    assert set(scenario["expect"]) <= EXACT.keys() | AMONG.keys() | {"never_says"}
    assert len(scenario["story"].split()) >= 10
    assert len(scenario["worked"].split()) >= 10
    assert len(scenario["expect"]) >= 3


def test_the_scenarios_are_numbered_and_cover_every_verdict() -> None:
    assert [int(path.stem[:2]) for path in FILES] == list(range(1, len(FILES) + 1))
    verdicts = {_scenario(path)["expect"]["verdict"] for path in FILES}
    assert verdicts == {"fine", "live_with", "work", "conflict", "hold"}
