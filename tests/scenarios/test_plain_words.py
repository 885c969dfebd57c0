"""The scenarios of plain_words/: a story, how its numbers come about by hand, the opening, what must be advised.

Each is a TOML file that a carpenter can read and correct. `floor` is a build-up from the subfloor up, each
layer exactly as thick as written; `undercut = "none"` means that nobody measured it. Minutes are working minutes,
by the assumptions of the labour table where the crew's own aren't given. What the story doesn't mention is plain: a
30 by 80 in leaf, 1 3/8 in thick, 1/8 in over it, a head of 11/16 in, a level subfloor.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.openings import Wire, advised, door, layer

FOLDER = Path(__file__).parent / "plain_words"
FILES = sorted(FOLDER.glob("*.toml"))
each = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)

TEXTS: dict[str, str] = {
    "verdict": "verdict",
    "method": "setting.method",
    "foot": "setting.foot.text",
    "hinge_block": "setting.hinge_leg.block.text",
    "second_hinge_block": "setting.second_hinge_leg.block.text",
    "legs_cut": "setting.hinge_leg.trim.text",
    "leaf_bottom": "leaf.bottom.text",
    "trim": "leaf.trim.text",
    "when": "leaf.when",
    "where": "leaf.where",
    "gauge_hinge_end": "leaf.gauge_block.hinge_end.text",
    "second_gauge_hinge_end": "leaf.second_gauge_block.hinge_end.text",
    "order": "order.undercut_to_order.text",
    "rough_opening_needed": "framing.rough_opening_needed.text",
    "short_by": "framing.short_by.text",
    "gap_pull": "clearance.pull_side.nominal.text",
    "gap_push": "clearance.push_side.nominal.text",
    "least_pull": "clearance.pull_side.least.text",
    "least_push": "clearance.push_side.least.text",
    "gap_piece": "clearance.piece.nominal.text",
    "air_gap_needed": "air.gap_needed.text",
    "jamb_cut_pull": "flooring.pull_side.jamb_undercut.text",
    "jamb_cut_push": "flooring.push_side.jamb_undercut.text",
    "base_pull": "flooring.pull_side.base_height.text",
    "piece": "transition.piece",
    "step": "transition.step.text",
    "ramp_run": "transition.bevel.run.text",
    "undercut": "outlook.undercut.text",
    "trim_now": "outlook.trim_now.text",
    "expected_minutes": "outlook.expected_minutes",
    "worst_minutes": "outlook.worst_minutes",
    "least_worst_minutes": "outlook.least_worst_minutes",
    "regret": "outlook.regret",
    "wish_minutes": "outlook.wish_minutes",
}
"""Expectations that are one text or number, by where the answer has it."""


def _at(answer: Any, path: str) -> Any:
    for name in path.split("."):
        answer = answer.get(name) if isinstance(answer, dict) else None
    return answer


def _statuses(advice: Any, *wanted: str) -> set[str]:
    return {check["rule"] for check in advice["checks"] if check["status"] in wanted}


def _missing(found: set[str]) -> Callable[[list[str]], list[str]]:
    return lambda wanted: [name for name in wanted if name not in found]


def _sentences(part: Any) -> Iterator[str]:
    if isinstance(part, str):
        yield part
    for inner in part.values() if isinstance(part, dict) else part if isinstance(part, list) else ():
        yield from _sentences(inner)


def _unmet(advice: Any, name: str, wanted: Any) -> Any:
    """What of an expectation isn't so; empty when all is."""
    if name in TEXTS:
        found = _at(advice, TEXTS[name])
        return "" if found == wanted else f"{name}: {found!r}, not {wanted!r}"
    return _LISTS[name](advice, wanted)


def _never_missed(advice: Any, wanted: list[str]) -> list[str]:
    passed, missed = _statuses(advice, "pass"), _statuses(advice, "fail", "relaxed")
    return [rule for rule in wanted if rule not in passed or rule in missed]


_LISTS: dict[str, Callable[[Any, list[str]], list[str]]] = {
    "passes": _never_missed,
    "misses": lambda advice, wanted: _missing(_statuses(advice, "fail", "relaxed"))(wanted),
    "asks": lambda advice, wanted: _missing({q["code"] for q in advice["questions"]})(wanted),
    "cautions": lambda advice, wanted: _missing({c["code"] for c in advice["cautions"]})(wanted),
    "ways_out": lambda advice, wanted: _missing({way["kind"] for way in advice["air"]["ways_out"]})(wanted),
    "conflict": lambda advice, wanted: [] if wanted in [c["rules"] for c in advice["conflicts"]] else wanted,
    "absent": lambda advice, wanted: [path for path in wanted if _at(advice, path) is not None],
    "says": lambda advice, wanted: [text for text in wanted if text not in "\n".join(_sentences(advice))],
    "never_says": lambda advice, wanted: [text for text in wanted if text in "\n".join(_sentences(advice))],
}
"""Expectations that are a list, by what of the list isn't so."""


@cache
def _scenario(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def _request(opening: Wire) -> Wire:
    sides = {name: _side(opening[name]) for name in ("pull_side", "push_side")}
    unit = dict(opening.get("frame", {}))
    if unit.get("state") == "to_order" or unit.get("undercut") == "none":
        unit["undercut"] = None
    return door(**{**opening, **sides, "frame": unit})


def _side(side: Wire) -> Wire:
    """A side with its floors as build-ups."""
    told = {name: value for name, value in side.items() if name not in {"floor", "could_become"}}
    if "floor" in side:
        told["build_up"] = [layer(text) for text in side["floor"]]
    if "could_become" in side:
        told["could_become"] = [_side(other) for other in side["could_become"]]
    return told


@each
def test_a_carpenter_would_be_advised_so(path: Path) -> None:
    scenario = _scenario(path)
    advice = advised(_request(scenario["opening"]))
    unmet = {name: left for name, wanted in scenario["expect"].items() if (left := _unmet(advice, name, wanted))}
    assert unmet == {}, f"{scenario['story']}\n{advice['summary']}"


@each
def test_a_scenario_is_told_worked_and_expected(path: Path) -> None:
    scenario = _scenario(path)
    assert set(scenario) == {"story", "worked", "opening", "expect"}
    assert set(scenario["expect"]) <= TEXTS.keys() | _LISTS.keys()
    assert len(scenario["story"].split()) >= 10
    assert len(scenario["worked"].split()) >= 10
    assert len(scenario["expect"]) >= 3


def test_the_scenarios_are_numbered_and_cover_every_verdict() -> None:
    assert [int(path.stem[:2]) for path in FILES] == list(range(1, len(FILES) + 1))
    assert len(FILES) >= 15
    verdicts = {_scenario(path)["expect"].get("verdict") for path in FILES}
    assert verdicts >= {"go", "go_with_trim", "hold", "conflict"}
