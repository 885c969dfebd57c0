"""Houses whose doors are set, told in plain words: a story, how its numbers come about by hand, what must be answered.

Each is a TOML file that a carpenter can read and correct, written as those of plain_words_house/ are; as_set is how a
unit stands. A step is written "mark kind minutes", a cut "mark amount where height-after", what the flooring installer
cuts "mark side height", a head off its line "mark amount above", a question "who code marks"; "waits" ends what waits
for an answer.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from tests.houses import merged
from tests.openings import PLAIN, Wire, catalogue
from tests.scenarios.test_plain_words_house import _floors

from jambset.http.advise import house_rechecker

FOLDER = Path(__file__).parent / "plain_words_house_recheck"
FILES = sorted(FOLDER.glob("*.toml"))
each = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


@cache
def _scenario(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def _answered(path: Path) -> Any:
    house = _floors(_scenario(path)["house"])
    plain = {name: part for name, part in PLAIN.items() if name != "mark"}
    body = {**house, "defaults": merged({"defaults": plain, "openings": [house["defaults"]]})[0]}
    return json.loads(house_rechecker(catalogue())(json.dumps(body).encode()))


def _waits(row: Wire, *texts: str) -> str:
    return " ".join([*texts, *(["waits"] if row["hold"] else [])])


def _off(one: Wire) -> str:
    return f"{one['mark']} {one['off']['text']} {'above' if one['above'] else 'below'}"


FOUND: dict[str, Callable[[Any], Any]] = {
    "verdicts": lambda a: {one["verdict"]: one["marks"] for one in a["verdicts"] if one["count"]},
    "fixes": lambda a: [_waits(one, one["mark"], one["kind"], str(one["minutes"])) for one in a["fix_list"]],
    "cuts": lambda a: [
        _waits(one, one["mark"], one["trim"]["text"], one["where"], one["height_after"]["text"])
        for one in a["trim_list"]
    ],
    "feet": lambda a: {one["mark"]: one["foot"]["text"] for one in a["fix_list"] if "foot" in one},
    "line_as_found": lambda a: {one["name"]: one["head_height"]["text"] for one in a["head_lines"]},
    "off": lambda a: {one["name"]: [_off(head) for head in one["off"]] for one in a["head_lines"]},
    "pieces": lambda a: sorted(mark for lot in a["piece_list"] for mark in lot["marks"]),
    "undercuts": lambda a: [
        " ".join((one["mark"], one["side"], one["jamb_undercut"]["text"]))
        for one in sorted(a["undercut_list"], key=lambda one: (one["mark"], one["side"]))
        if "jamb_undercut" in one
    ],
    "by_trade": lambda a: {one["trade"]: one["minutes"] for one in a["totals"]["by_trade"]},
    "open_doors": lambda a: [one["mark"] for one in a["open_doors"]],
    "unlawful": lambda a: a["do_nothing"]["unlawful"],
    "leaves": lambda a: {" ".join(lot["marks"]): lot["leaves"] for lot in a["leaf_list"]},
    "units": lambda a: {" ".join(lot["marks"]): lot["undercut"]["text"] for lot in a["order_list"]},
}


@each
def test_a_superintendent_would_be_told_so(path: Path) -> None:
    expect, answer = _scenario(path)["expect"], _answered(path)
    found = {name: FOUND[name](answer) for name in expect.keys() & FOUND.keys()}
    assert found == {name: wanted for name, wanted in expect.items() if name in FOUND}
    asked = [f"{one['ask']} {one['code']} {' '.join(one['marks'])}" for one in answer["questions"]]
    assert [one for one in expect["asks"] if one not in asked] == []
    assert [text for text in expect["says"] if text not in json.dumps(answer, ensure_ascii=False)] == []


@each
def test_a_scenario_is_told_worked_and_expected(path: Path) -> None:
    scenario = _scenario(path)
    assert set(scenario) == {"story", "worked", "house", "expect"}
    assert len(scenario["worked"].split()) >= 10
    assert set(scenario["expect"]) <= FOUND.keys() | {"asks", "says"}


def test_the_scenarios_are_numbered() -> None:
    assert [int(path.stem[:2]) for path in FILES] == list(range(1, len(FILES) + 1))
    assert FILES
