"""What is told of a house as a whole: how many openings came out how, and its summary in words that fit."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from tests.houses import Wire, house
from tests.openings import catalogue, door, floor

from jambset.http.advise import house_adviser


def told(body: Wire) -> Any:
    return msgspec.json.decode(house_adviser(catalogue())(msgspec.json.encode(body)))


def test_every_opening_is_counted_once_by_what_became_of_it() -> None:
    body = house(6, lines=1, seed=5)
    body["openings"][0] |= {"leaf": {"core": "steel"}, "rough_opening": {"height": "80 1/4 in"}}
    body["openings"][1] |= {"jurisdiction": "Atlantis"}
    body["openings"][2] |= {"duties": ["transfer_air", "garage_separation"], "air": {"supply_flow": "60 cfm"}}
    body["openings"][3] |= {"push_side": {"room": "hall"}}
    answer = told(body)
    verdicts = [one["advice"]["verdict"] if "advice" in one else "refused" for one in answer["openings"]]
    assert {"conflict", "hold", "refused"} <= set(verdicts)
    counted = {name: answer["totals"][name] for name in ("go", "go_with_trim", "hold", "conflict", "refused")}
    assert counted == {name: verdicts.count(name) for name in counted}
    assert sum(counted.values()) == answer["totals"]["openings"] == 6


@pytest.mark.parametrize(
    ("count", "lines", "begins"), [(1, 0, "1 opening: "), (2, 0, "2 openings: "), (2, 1, "2 openings: ")]
)
def test_the_summary_of_a_house_names_lines_only_where_it_has_some(count: int, lines: int, begins: str) -> None:
    summary = told(house(count, lines=lines, on_line=1.0))["summary"]
    assert summary.startswith(begins)
    between = "Head lines kept: 1 of 1. " if lines else ""
    assert f"0 refused. {between}Block sizes: " in summary


def test_an_opening_that_stands_otherwise_for_the_house_is_not_said_to_take_the_least() -> None:
    """Its head keeps the line of one set on the subfloor: 28 on the bench, in place of 6 for blocks and a tenth of 87.

    Nor is anything told that would have to be likelier for another setting to win, since one wins as it is.
    """
    wood, vinyl = floor("solid_wood 3/4 in"), floor("sheet_vinyl 1/8 in")
    may = {**wood, "could_become": [{**vinyl, "weight": 0.1}]}
    solid = {"leaf": {"core": "solid"}, "frame": {"undercut": "1 in"}}
    free = door(mark="D1", pull_side=wood, push_side=may, **solid)
    there = door(mark="D2", pull_side=wood, push_side=wood, **solid)
    there["frame"] |= {"state": "set", "foot": "0 in"}
    body = {"house": "a", "openings": [free, there]}
    alone, lined = (
        told({**body, "head_lines": lines})["openings"][0]["advice"]["outlook"]
        for lines in ([], [{"name": "hall", "marks": ["D1", "D2"]}])
    )
    assert alone["why"].startswith("Legs 3/8 in above the highest subfloor under them: 10 min of expected work, ")
    assert "14.7 min counting each wish given up, the least of all settings." in alone["why"]
    assert alone["tips"]
    assert lined["why"] == (
        "Legs on the subfloor: 28 min of expected work, because of what the house shares; alone this opening would "
        "take 14.7 min. Cut 3/8 in off the leaf now: every possible floor needs that."
    )
    assert not lined["tips"]


def _of_blocks(thickness: str, datum: str, lines: list[Wire]) -> Any:
    """What is told of the blocks of two doors: one over 3/4 in of wood, the other over wood as thick as said."""
    one, other = (floor(f"engineered_wood {thick}") for thick in ("3/4 in", thickness))
    unit = {"leaf": {"core": "solid"}, "frame": {"undercut": "1 in"}}
    doors = [
        door(mark="D1", pull_side=one, push_side=one, **unit),
        door(mark="D2", pull_side=other, push_side=other, datum=datum, **unit),
    ]
    costs = told({"house": "a", "openings": doors, "head_lines": lines})["shared_costs"]
    (found,) = [cost for cost in costs if cost["kind"] == "block_sizes"]
    return found["minutes"], found["text"]


def test_whether_block_sizes_save_minutes_or_take_more_is_told() -> None:
    """By hand: 1 in of undercut wants 3/8 in blocks over 3/4 in of wood, 1/4 in over 5/8 in; a size takes 5.

    Both stand as well on 3/8 in. On a line, where the second subfloor lies 1/8 in higher, one needs another size.
    """
    line = [{"name": "hall", "marks": ["D1", "D2"]}]
    begins = "Block sizes: {}; if each opening were decided alone, {}. {}"
    assert _of_blocks("5/8 in", "0 in", []) == (-5, begins.format(1, 2, "That saves 5 min."))
    assert _of_blocks("3/4 in", "1/8 in", line) == (5, begins.format(2, 1, "That takes 5 min more."))
    assert _of_blocks("3/4 in", "1/8 in", []) == (0, begins.format(1, 1, "The minutes are the same."))


def test_an_opening_that_cant_be_read_is_called_what_its_caller_calls_it_and_nothing_else() -> None:
    body = house(2, lines=0, seed=5)
    for opening, names in zip(body["openings"], ({"mark": "A"}, {"mark": "B", "external_id": "7"}), strict=True):
        opening.clear()
        opening |= {**names, "leaf": "none"}
    named = [{name: one.get(name) for name in ("mark", "external_id") if name in one} for one in told(body)["openings"]]
    assert named == [{"mark": "A"}, {"mark": "B", "external_id": "7"}]


def test_a_unit_to_order_that_is_cut_for_its_line_is_not_asked_for_with_another_undercut() -> None:
    """1 1/2 in of undercut spare carpet the saw (common practice, no source); on the line its head would rise."""
    carpet = floor("carpet_cushion 7/16 in", "carpet 1/2 in")
    ordered = {"frame": {"state": "to_order", "undercut": "3/4 in"}, "pull_side": carpet, "push_side": carpet}
    plank = floor("vinyl_plank 1/4 in")
    beside = {"frame": {"undercut": "3/4 in"}, "pull_side": plank, "push_side": plank}
    defaults = {"jurisdiction": "US", "leaf": {**door()["leaf"], "core": "solid"}}
    body = {"house": "A", "defaults": defaults, "openings": [{"mark": "1", **ordered}, {"mark": "2", **beside}]}
    for lines, asked in (([], True), ([{"name": "hall", "marks": ["1", "2"]}], False)):
        first = told({**body, "head_lines": lines})["openings"][0]["advice"]
        assert first["leaf"]["trim"]["mm"] > 0
        assert ("undercut_to_order" in {question["code"] for question in first["questions"]}) is asked
