"""Houses told in plain words: a story, how its numbers come about by hand, the house, what must be advised.

Each is a TOML file that a carpenter can read and correct. `floor` is a build-up from the subfloor up, each layer
exactly as thick as written. What the story doesn't mention is plain, as in test_plain_words.py: a hollow leaf of
30 by 80 in, 1 3/8 in thick, 1/8 in over it, a head of 11/16 in, a level subfloor, a header that is no limit. Labour
is the catalogue's: 6 minutes to block legs, 12 to cut them, 20 to trim on the bench and 8 to seal the edge.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
import pytest
from tests.houses import merged
from tests.openings import PLAIN, Wire, catalogue, layer, read

from jambset.engine.house import advise_house
from jambset.model.request import House
from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import dec_hook
from jambset.render.encode import writer

FOLDER = Path(__file__).parent / "plain_words_house"
FILES = sorted(FOLDER.glob("*.toml"))
each = pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)


@cache
def _scenario(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text("utf-8"))


def _floors(value: Any) -> Any:
    """The same with each `floor` as the build-up it stands for."""
    if isinstance(value, list):
        return [_floors(part) for part in value]
    if not isinstance(value, dict):
        return value
    told = {name: _floors(part) for name, part in value.items() if name != "floor"}
    return told | ({"build_up": [layer(text) for text in value["floor"]]} if "floor" in value else {})


def _body(scenario: Wire) -> Wire:
    plain = {name: part for name, part in PLAIN.items() if name != "mark"}
    house = _floors(scenario["house"])
    return {**house, "defaults": merged({"defaults": plain, "openings": [house.get("defaults", {})]})[0]}


def _advised(body: Wire) -> Any:
    answer = advise_house(msgspec.convert(body, House, dec_hook=dec_hook), [read(o) for o in merged(body)], catalogue())
    return msgspec.json.decode(writer(GRIDS[answer.grid]).encode(answer))


def _found(answer: Any, name: str) -> Any:
    advices = {one["mark"]: one["advice"] for one in answer["openings"]}
    of_each: dict[str, Any] = {
        "feet": lambda a: a["setting"]["foot"]["text"],
        "governed_by": lambda a: a["setting"]["governed_by"],
        "legs_cut": lambda a: a["setting"]["hinge_leg"]["trim"]["text"],
        "trims": lambda a: a["leaf"].get("trim", {}).get("text"),
        "bottoms": lambda a: a["leaf"].get("bottom", {}).get("text"),
        "verdicts": lambda a: a["verdict"],
    }
    if name in of_each:
        return {mark: of_each[name](advice) for mark, advice in advices.items()}
    return {
        "head_heights": {line["name"]: line.get("head_height", {}).get("text") for line in answer["head_lines"]},
        "held": {line["name"]: line["held"] for line in answer["head_lines"]},
        "line_minutes": {line["name"]: line["minutes"] for line in answer["head_lines"]},
        "strained": {line["name"]: line["strained"] for line in answer["head_lines"]},
        "blocks": {lot["size"]["text"]: lot["count"] for lot in answer["blocks"]},
        "orders": {f"{lot['undercut']['text']}, {lot['leaves']} leaf": lot["marks"] for lot in answer["order_list"]},
        "cutting_order": [line["mark"] for line in answer["trim_list"]],
        "expected_minutes": answer["totals"]["expected_minutes"],
        "expected_minutes_alone": answer["totals"]["expected_minutes_alone"],
        "first_question": answer["questions"][0]["code"] if answer["questions"] else None,
        "first_question_marks": answer["questions"][0]["marks"] if answer["questions"] else None,
        "first_question_minutes": answer["questions"][0].get("minutes_at_stake") if answer["questions"] else None,
        "rooms": list(dict.fromkeys(line["room"] for line in answer["undercut_list"])),
        "waits_for": sorted({link["task"] for task in answer["tasks"] for link in task["links"]}),
        "follows": {
            event["title"]: [link["task"] for link in event["follows"]]
            for event in answer["events"]
            if "floor-laid" in event["key"]
        },
        "works": {task["key"]: task["work"] for task in answer["tasks"]},
    }[name]


def _unmet(found: Any, wanted: Any) -> Any:
    """Of an expectation by name only what it names counts; where it names nothing, nothing may be there."""
    if isinstance(wanted, dict) and wanted:
        return {name: found.get(name) for name, value in wanted.items() if found.get(name) != value}
    return [] if found == wanted else found


@each
def test_a_builder_would_be_advised_so(path: Path) -> None:
    scenario = _scenario(path)
    answer = _advised(_body(scenario))
    unmet = {name: left for name, want in scenario["expect"].items() if (left := _unmet(_found(answer, name), want))}
    assert unmet == {}, f"{scenario['story']}\n{answer['summary']}"


@each
def test_a_house_is_told_worked_and_expected(path: Path) -> None:
    scenario = _scenario(path)
    assert set(scenario) == {"story", "worked", "house", "expect"}
    assert len(scenario["story"].split()) >= 10
    assert len(scenario["worked"].split()) >= 10
    assert len(scenario["expect"]) >= 3


def test_the_houses_are_numbered() -> None:
    assert [int(path.stem[:2]) for path in FILES] == list(range(1, len(FILES) + 1))
    assert len(FILES) >= 6
