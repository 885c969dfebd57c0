"""A house decided as a whole: the optimum against an independent solver, and what must hold of any house.

The reference is a mixed-integer program of its own making (a binary for each setting of each door, for each
height of each line, for each block size), solved by HiGHS through scipy.optimize.milp. It knows nothing of the
engine's grouping and looks farther up and down than the engine does. Prices of one door's settings come from
the engine's table; those are held against a brute-force decision tree in test_scenarios.py.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable
from typing import Any

import msgspec
import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_array
from tests.houses import CARPET, PLANK, WOOD, Wire, house, merged
from tests.openings import catalogue, read, told

from jambset.engine import head_lines
from jambset.engine.assess import assess, prepare
from jambset.engine.doors import Unread
from jambset.engine.house import advise_house
from jambset.engine.lists import natural
from jambset.engine.scenarios import Table, usable
from jambset.engine.share import share
from jambset.errors import FieldError, InvalidRequest, refusal
from jambset.model.advice import Advice, Minutes, Phrase
from jambset.model.house import HouseAdvice, LineWithout
from jambset.model.request import HeadLine, House, Opening
from jambset.quantity.parse import dec_hook
from jambset.quantity.ticks import INCH

TOLERANCE = 1e-6
"""Minutes: what floats of the reference leave of an exact sum."""
STEP = INCH // 16
BEYOND = 6
"""Sixteenths by which the reference looks beyond the engine's settings."""


def advised(body: Wire) -> HouseAdvice:
    return advise_house(msgspec.convert(body, House, dec_hook=dec_hook), [read(o) for o in merged(body)], catalogue())


def expected(body: Wire) -> float:
    return advised(body).totals.expected_minutes / Minutes.PARTS


def _datum(opening: Opening) -> int:
    return 0 if isinstance(opening.datum, msgspec.UnsetType) else int(opening.datum)


class Priced:
    """A door for the reference: its settings and what each costs [min], from its own table."""

    def __init__(self, opening: Opening) -> None:
        self.opening = opening
        table = prepare(opening, catalogue(), price=True).table
        assert table is not None
        self.table: Table = table
        facts = table.plan.facts
        self.above = _datum(opening) + table.plan.pricing.rise + facts.leaf_and_gap
        self.legs = (facts.ground.hinge_leg, facts.ground.strike_leg)

    def settings(self) -> set[int]:
        own = self.table.plan.candidates
        beyond = range(1, BEYOND + 1)
        return {*own, *(own[0] - STEP * n for n in beyond), *(own[-1] + STEP * n for n in beyond)}

    def cost(self, setting: int) -> float | None:
        """None where the unit can't be given the setting."""
        if not usable(self.table.plan, setting):
            return None
        return self.table.at(setting).expected / Minutes.PARTS

    def sizes(self, setting: int) -> set[int]:
        return {setting - leg for leg in self.legs if setting > leg}


def reference(body: Wire, price: float) -> float:
    """Least expected minutes of a house by HiGHS [min]; lines that no height suits are left out, as documented."""
    doors = {o.mark: Priced(o) for o in (read(one) for one in merged(body))}
    columns: list[tuple[Any, ...]] = []
    costs: list[float] = []
    rows: list[tuple[dict[int, float], float, float]] = []

    def column(name: tuple[Any, ...], cost: float) -> int:
        columns.append(name)
        costs.append(cost)
        return len(columns) - 1

    heights = {line["name"]: _heights([doors[mark] for mark in line["marks"]]) for line in body["head_lines"]}
    line_of = {mark: line["name"] for line in body["head_lines"] for mark in line["marks"] if heights[line["name"]]}
    chosen: dict[tuple[str, int], int] = {}
    for name in set(line_of.values()):
        for height in heights[name]:
            chosen[name, height] = column(("line", name, height), 0.0)
        rows.append(({chosen[name, height]: 1.0 for height in heights[name]}, 1, 1))
    used: dict[int, list[int]] = {}
    for mark, door in doors.items():
        on_line = line_of.get(mark)
        settings = {h - door.above for h in heights[on_line]} if on_line else door.settings()
        picks: dict[int, float] = {}
        for setting in sorted(settings):
            cost = door.cost(setting)
            if cost is None:
                continue
            at = column(("door", mark, setting), cost)
            picks[at] = 1.0
            for size in door.sizes(setting):
                used.setdefault(size, []).append(at)
            if on_line:
                rows.append(({at: 1.0, chosen[on_line, setting + door.above]: -1.0}, 0, 0))
        rows.append((picks, 1, 1))
    for size, places in used.items():
        bought = column(("size", size), price)
        rows.extend([({place: 1.0, bought: -1.0}, -1, 0) for place in places])
    return _solve(costs, rows)


def _heights(doors: list[Priced]) -> list[int]:
    heights = {door.above + n for door in doors for n in door.settings()}
    return sorted(h for h in heights if all(door.cost(h - door.above) is not None for door in doors))


def _solve(costs: list[float], rows: list[tuple[dict[int, float], float, float]]) -> float:
    matrix = lil_array((len(rows), len(costs)))
    for at, (row, _, _) in enumerate(rows):
        for place, value in row.items():
            matrix[at, place] = value
    limits = LinearConstraint(matrix.tocsr(), np.array([r[1] for r in rows]), np.array([r[2] for r in rows]))
    found = milp(
        np.array(costs),
        constraints=limits,
        integrality=np.ones(len(costs), dtype=np.int64),
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": 0.0},
    )
    assert found.success, found.message
    return float(found.fun)


def _houses(count: int, sizes: Iterable[int]) -> Iterable[tuple[int, Wire]]:
    for seed, size in zip(range(count), itertools.cycle(sizes), strict=False):
        yield seed, house(size, seed=seed, lines=seed % 4, share=0.3, alternatives=1 + seed % 2, on_line=0.6)


def test_the_optimum_equals_highs_on_many_houses() -> None:
    off = []
    for seed, body in _houses(120, (2, 3, 5, 8, 12, 20)):
        price = 5 if seed % 3 else 30
        body["labour"] = {"block_size": price}
        found, wanted = expected(body), reference(body, price)
        if abs(found - wanted) > TOLERANCE:
            off.append((seed, found, wanted))
    assert off == []


def test_the_optimum_equals_brute_force_on_small_houses() -> None:
    for seed in range(40):
        body = house(3, seed=1000 + seed, lines=1, share=0.3, alternatives=1, on_line=0.7)
        body["labour"] = {"block_size": 7}
        doors = [Priced(o) for o in (read(one) for one in merged(body))]
        on_line = {mark for line in body["head_lines"] for mark in line["marks"]}
        least = min(_brute(doors, on_line, price=7))
        assert expected(body) == pytest.approx(least, abs=TOLERANCE), seed


def _brute(doors: list[Priced], on_line: set[str], *, price: int) -> Iterable[float]:
    """Every combination of settings in which the heads of the line agree."""
    line = [door for door in doors if door.opening.mark in on_line]
    shared = bool(line) and bool(_heights(line))
    heights = _heights(line) if shared else [0]
    for height in heights:
        choices = [
            [height - door.above]
            if shared and door in line
            else sorted(n for n in door.settings() if door.cost(n) is not None)
            for door in doors
        ]
        for picked in itertools.product(*choices):
            costs = [door.cost(n) for door, n in zip(doors, picked, strict=True)]
            if None not in costs:
                sizes = set().union(*(door.sizes(n) for door, n in zip(doors, picked, strict=True)))
                yield sum(cost for cost in costs if cost is not None) + price * len(sizes)


# --- properties

SEEDS = range(12)
each_seed = pytest.mark.parametrize("seed", SEEDS)


def _without(body: Wire, **more: Any) -> Wire:
    return {**body, **more}


@each_seed
def test_a_line_more_never_lowers_the_cost(seed: int) -> None:
    body = house(14, seed=seed, lines=3, on_line=0.7)
    lines = body["head_lines"]
    costs = [expected(_without(body, head_lines=lines[:count])) for count in range(len(lines) + 1)]
    assert costs == sorted(costs)  # a line that no height suits costs nothing


@each_seed
def test_a_dearer_block_size_never_lowers_the_cost_nor_adds_a_size(seed: int) -> None:
    body = house(14, seed=seed, lines=2)
    answers = [advised(_without(body, labour={"block_size": price})) for price in (0, 5, 20, 60)]
    costs = [answer.totals.expected_minutes for answer in answers]
    sizes = [answer.totals.block_sizes for answer in answers]
    assert costs == sorted(costs)
    assert sizes[1:] == sorted(sizes[1:], reverse=True)


@each_seed
def test_a_house_of_unrelated_openings_equals_the_openings_alone(seed: int) -> None:
    body = _without(house(20, seed=seed, lines=0), labour={"block_size": 0})
    answer = advised(body)
    for result, opening in zip(answer.openings, merged(body), strict=True):
        alone = assess(read(opening), catalogue())
        assert isinstance(result.advice, Advice)
        assert result.advice == alone
    assert answer.totals.expected_minutes == answer.totals.expected_minutes_alone
    assert [cost.minutes for cost in answer.shared_costs] == [0]


def _to_order_under_low_headers(body: Wire, seed: int) -> Wire:
    """The house with its units still to be ordered, most of them for headers that let in none or next to none."""
    draw = random.Random(seed)
    for opening in body["openings"]:
        opening["frame"] = {"state": "to_order", "undercut": None}
        opening["rough_opening"] = {"height": draw.choice(["80 1/2 in", "80 3/4 in", "80 7/8 in", "81 in", "83 in"])}
    return body


@each_seed
def test_no_unit_is_ordered_with_less_undercut_than_none(seed: int) -> None:
    # 80 in of leaf, 1/8 in of gap and 11/16 in of head: below 80 13/16 in no unit goes in, whatever is cut off it
    body = _to_order_under_low_headers(house(12, seed=seed, lines=2, share=0.4), seed)
    answer = advised(body)
    assert all(told(lot.undercut) >= 0 for lot in answer.order_list)
    for advice in _by_mark(answer).values():
        if not isinstance(advice.outlook, msgspec.UnsetType):
            assert min(price.undercut for price in advice.outlook.settings) >= 0


@each_seed
def test_units_to_order_that_share_nothing_are_ordered_as_alone(seed: int) -> None:
    body = _without(house(12, seed=seed, lines=0, share=0.4), labour={"block_size": 0})
    answer = advised(_to_order_under_low_headers(body, seed))
    alone = [assess(read(opening), catalogue()) for opening in merged(body)]
    assert [result.advice for result in answer.openings] == alone


@each_seed
def test_the_order_of_openings_and_lines_changes_no_list(seed: int) -> None:
    body = house(16, seed=seed, lines=3)
    turned = _without(body, openings=_shuffled(body["openings"], seed), head_lines=_shuffled(body["head_lines"], seed))
    one, other = advised(body), advised(turned)
    for name in HouseAdvice.__struct_fields__:
        if name not in {"openings", "head_lines", "shared_costs"}:
            assert getattr(one, name) == getattr(other, name), name
    assert _by_mark(one) == _by_mark(other)
    assert {line.name: line for line in one.head_lines} == {line.name: line for line in other.head_lines}


def _shuffled(items: list[Any], seed: int) -> list[Any]:
    return random.Random(seed).sample(items, len(items))


def _by_mark(answer: HouseAdvice) -> dict[Any, Any]:
    return {result.mark: result.advice for result in answer.openings}


@each_seed
def test_the_heads_of_a_line_have_one_height_and_the_costs_add_up(seed: int) -> None:
    body = house(18, seed=seed, lines=3, on_line=0.8)
    answer = advised(body)
    advices = _by_mark(answer)
    data = {o["mark"]: read(o) for o in merged(body)}
    for line in answer.head_lines:
        if line.held:
            heads = {int(advices[mark].setting.head_height) + _datum(data[mark]) for mark in line.marks}
            assert heads == {line.head_height}
    together = answer.totals.expected_minutes_alone + sum(cost.minutes for cost in answer.shared_costs)
    assert together == answer.totals.expected_minutes
    assert all(line.minutes >= 0 for line in answer.head_lines)


@each_seed
def test_only_the_setting_of_least_minutes_is_said_to_take_the_least(seed: int) -> None:
    body = house(8, seed=seed, lines=2, share=0.6, alternatives=2, on_line=0.8)
    for mark, advice in _by_mark(advised(body)).items():
        if isinstance(advice.outlook, msgspec.UnsetType):
            continue
        outlook = advice.outlook
        shared = outlook.expected_minutes > min(one.expected_minutes for one in outlook.settings)
        assert outlook.why.values["cost"].code.endswith(".shared") == shared, mark
        assert not (shared and outlook.tips), mark
        for tip in outlook.tips:
            assert (tip.weight >= tip.weight_now) == (tip.text.code == "tip.above"), mark


@each_seed
def test_the_door_that_a_line_is_dear_for_is_the_one_without_which_the_others_cost_least(seed: int) -> None:
    """Held against the house with each of its doors off the line; block sizes cost nothing."""
    body = _without(house(5, seed=seed, lines=1, on_line=1.0), labour={"block_size": 0})
    (line,) = advised(body).head_lines
    eased = []
    for opening in merged(body) if line.held else ():
        door, others = Priced(read(opening)), [mark for mark in line.marks if mark != opening["mark"]]
        (rest,) = advised(_without(body, head_lines=[{"name": "rest", "marks": others}])).head_lines
        own = door.table.at(told(line.head_height) - door.above).expected - door.table.best().expected
        if rest.held and rest.minutes < line.minutes - own:
            eased.append((rest.minutes, opening["mark"]))
    found = () if isinstance(line.without, msgspec.UnsetType) else ((line.without.minutes, line.without.mark),)
    assert found == tuple(sorted(eased)[:1])


def test_a_line_that_one_door_lifts_is_told_by_its_name() -> None:
    """D1 stands 1/2 in up over wood 1 1/4 in high, plank elsewhere 1/4 in: alone the others stand on the subfloor."""
    body = house(3, lines=1, on_line=1.0, share=0.0, seed=4)
    for opening in body["openings"]:
        opening.update({"subfloor": {"kind": "level"}, "datum": "0 in", "rough_opening": {"height": "83 in"}})
        opening.update({"pull_side": {"build_up": PLANK}, "push_side": {"build_up": PLANK}})
        opening["frame"] = {"undercut": "1 in"}
    lift = {"build_up": [{"material": "solid_wood", "thickness": "3/4 in"}] * 2}
    for raised in ({"pull_side": lift, "push_side": lift}, {"frame": {"state": "set", "foot": "1/2 in"}}):
        openings = [{**body["openings"][0], **raised}, *body["openings"][1:]]
        (line,) = advised(_without(body, openings=openings)).head_lines
        assert line.strained == ("D002", "D003")
        assert line.minutes > 0
        assert line.without == LineWithout(mark="D001", minutes=Minutes(0))
        assert line.text.code == "line.without"
    (pair,) = advised(
        _without(body, openings=openings[:2], head_lines=[{"name": "a", "marks": ["D001", "D002"]}])
    ).head_lines
    assert (pair.strained, pair.without) == (("D002",), msgspec.UNSET), "one door is no line"


@pytest.mark.parametrize("first", [{}, {"frame": {"state": "set", "foot": "0 in"}}], ids=["header", "set"])
def test_a_line_that_two_doors_hold_down_is_dear_for_the_sake_of_neither(first: Wire) -> None:
    """D2 fits below its header 1/4 in up at most, and so does D1, or it is set; D3 and D4 stand 1/2 in up alone."""
    body = house(4, lines=1, on_line=1.0, share=0.0, seed=4)
    low, high = {"build_up": PLANK}, {"build_up": [{"material": "ceramic_tile", "thickness": "7/8 in"}]}
    for place, opening in enumerate(body["openings"]):
        floor = low if place < 2 else high
        opening.update({"subfloor": {"kind": "level"}, "datum": "0 in", "pull_side": floor, "push_side": floor})
        opening["rough_opening"] = {"height": "82 1/16 in" if place < 2 else "84 in"}
        opening["frame"] = {"undercut": "1 in"}
    body["openings"][0].update(first)
    answer = advised(_without(body, labour={"block_size": 0}))
    (line,) = answer.head_lines
    assert (line.held, line.strained, line.without) == (True, ("D003", "D004"), msgspec.UNSET)
    assert line.minutes > 0


@pytest.mark.parametrize("seed", range(12))
def test_a_rough_opening_as_high_as_is_said_to_be_needed_holds_the_unit_on_its_line(seed: int) -> None:
    body = house(12, seed=seed, lines=2, on_line=1.0)
    for opening in body["openings"][::4]:
        opening["pull_side"] = {"room": "not decided"}
    for mark, advice in _by_mark(advised(body)).items():
        assert not isinstance(advice.framing, msgspec.UnsetType)
        top = advice.setting.head_height + advice.taken.head_thickness
        assert advice.framing.rough_opening_needed >= top, mark


def test_a_mark_twice_is_refused_in_its_place_and_the_rest_is_answered() -> None:
    body = house(3, lines=0)
    body["openings"].append({**body["openings"][1]})
    answer = advised(body)
    assert answer.totals.refused == 1
    problem = answer.openings[3].problem
    assert not isinstance(problem, msgspec.UnsetType)
    assert [(e.pointer, e.code) for e in problem.errors] == [("#/openings/3/mark", "repeated")]


def test_where_a_mark_stands_a_second_time_changes_no_digest() -> None:
    body = house(3, lines=0)
    one, two, three = body["openings"]
    digests = {
        advised({**body, "openings": openings}).input_digest
        for openings in ([one, two, three, one], [three, one, one, two])
    }
    assert len(digests) == 1


@pytest.mark.parametrize(
    ("lines", "pointer", "code"),
    [
        ([{"name": "a", "marks": ["D001", "D009"]}], "#/head_lines/0/marks/1", "unknown_mark"),
        ([{"name": "a", "marks": ["D001"]}, {"name": "b", "marks": ["D001"]}], "#/head_lines/1/marks/0", "repeated"),
        ([{"name": "a", "marks": ["D001"]}, {"name": "a", "marks": ["D002"]}], "#/head_lines/1/name", "repeated"),
    ],
)
def test_a_line_that_makes_no_sense_is_refused(lines: list[Wire], pointer: str, code: str) -> None:
    with pytest.raises(InvalidRequest) as refused:
        advised({**house(3, lines=0), "head_lines": lines})
    assert [(e.pointer, e.code) for e in refused.value.errors] == [(pointer, code)]
    assert refused.value.errors[0].detail in {
        'No opening of this house has the mark "D009". Did you mean "D003"?',
        "This opening stands on a line already; its head has one height, so name it in one line only.",
        "Another line has this name; give each line a name of its own.",
    }


def test_marks_sort_as_people_sort_them() -> None:
    ordered = ["2", "2-D01", "2a", "10-D01", "D", "D02", "D2", "D2-1", "D2A", "D2B", "D10", "d2"]
    assert sorted(random.Random(1).sample(ordered, len(ordered)), key=natural) == ordered


# --- what can't be decided


def test_an_opening_that_makes_no_sense_is_reported_in_its_place_and_the_rest_is_answered() -> None:
    body = house(4, lines=0)
    body["openings"][2]["jurisdiction"] = "XX"
    body["openings"][0]["pull_side"] = {"build_up": [{"material": "plywood_underlay"}]}
    answer = advised(body)
    assert [result.mark for result in answer.openings] == ["D001", "D002", "D003", "D004"]
    told = [
        [(e.pointer, e.code) for e in result.problem.errors]
        for result in answer.openings
        if not isinstance(result.problem, msgspec.UnsetType)
    ]
    assert told == [
        [("#/openings/0/pull_side/build_up/0/material", "not_a_finish")],
        [("#/openings/2/jurisdiction", "unknown_name")],
    ]
    assert (answer.totals.advised, answer.totals.refused) == (2, 2)


def test_a_house_of_nothing_but_faults_is_answered_too() -> None:
    fault = refusal([FieldError("#/leaf", "missing_field", "leaf is required here and is missing; add it.")])
    asked = House(house="empty", openings=({},), head_lines=(HeadLine(name="hall", marks=("D1",)),))
    answer = advise_house(asked, [Unread(fault)], catalogue())
    assert (answer.totals.refused, answer.tasks, answer.grid) == (1, (), "1/16 in")
    problem = answer.openings[0].problem
    assert not isinstance(problem, msgspec.UnsetType)
    assert [e.pointer for e in problem.errors] == ["#/openings/0/leaf"]
    (line,) = answer.head_lines
    assert (line.held, line.marks) == (False, ())
    assert [(left.mark, left.why.code) for left in line.left_out] == [("D1", "line.refused")]
    assert line.text.code == "line.empty"


@pytest.mark.parametrize(("datum", "code"), [("0 in", "line.free"), ("4 in", "line.none")])
def test_the_doors_of_a_line_are_named_as_people_sort_them(datum: str, code: str) -> None:
    """Alike and level any height suits both; on a landing 4 in higher, under a header as low, none does."""
    first = house(1, lines=0, share=0.0)["openings"][0]
    level = {"subfloor": {"kind": "level"}, "frame": {"undercut": "1 in"}, "datum": "0 in"}
    level |= {"rough_opening": {"height": "82 in"}}
    doors = [{**first, **level, "mark": "D10"}, {**first, **level, "mark": "D2", "datum": datum}]
    body = {**house(2, lines=0), "openings": doors, "head_lines": [{"name": "hall", "marks": ["D10", "D2"]}]}
    (line,) = advised(body).head_lines
    assert (line.text.code, line.marks) == (code, ("D2", "D10"))
    if code == "line.none":
        assert line.text.values["marks"] == "D2, D10"


def test_houses_that_differ_in_the_mark_of_an_opening_refused_have_ids_of_their_own() -> None:
    ids = set()
    for mark in ("D002", "D009"):
        body = house(2, lines=0)
        body["openings"][1] |= {"mark": mark, "jurisdiction": "Atlantis"}
        found = advised(body)
        assert [one.mark for one in found.openings] == ["D001", mark]
        ids.add(found.advice_id)
    assert len(ids) == 2


def test_a_door_whose_undercut_nobody_measured_is_left_off_its_line_and_told_so() -> None:
    body = house(4, lines=1, on_line=1.0)
    body["openings"][1]["frame"] = {"undercut": None}
    (line,) = advised(body).head_lines
    assert line.held
    assert [(left.mark, left.why.code) for left in line.left_out] == [("D002", "line.unpriced")]
    assert line.marks == ("D001", "D003", "D004")


def test_a_floor_nobody_knows_keeps_its_door_where_it_cannot_be_regretted() -> None:
    body = house(3, lines=1, on_line=1.0, share=0.0, seed=4)
    for opening in body["openings"]:
        opening.update({"frame": {"undercut": "1 in"}, "subfloor": {"kind": "level"}, "datum": "0 in"})
        opening["rough_opening"] = {"height": "83 in"}
    body["openings"][0]["pull_side"] = {"room": "bath"}
    answer = advised(body)
    (line,) = answer.head_lines
    undecided = _by_mark(answer)["D001"]
    assert line.held
    assert undecided.setting.foot == 0
    assert "D001" not in line.strained
    assert isinstance(undecided.leaf.trim, msgspec.UnsetType)


def test_a_frame_that_is_set_needs_no_blocks_and_gives_its_line_the_height() -> None:
    body = house(3, lines=1, on_line=1.0, share=0.0, seed=4)
    for opening in body["openings"]:
        opening.update({"frame": {"undercut": "1 in"}, "subfloor": {"kind": "level"}, "datum": "0 in"})
        opening["rough_opening"] = {"height": "83 in"}
    body["openings"][0]["frame"] = {"undercut": "1 in", "state": "set", "foot": "1/4 in"}
    answer = advised(body)
    (line,) = answer.head_lines
    assert line.held
    assert {int(advice.setting.foot) for advice in _by_mark(answer).values()} == {INCH // 4}
    assert [(lot.size, lot.count, lot.marks) for lot in answer.blocks] == [(INCH // 4, 4, ("D002", "D003"))]


def _lined(*, header: str, foot: str) -> Wire:
    """Two doors on one line over plank, 3/4 in of undercut each; the first is set and gives the line its height."""
    body = house(2, lines=1, on_line=1.0, share=0.0, seed=4)
    for opening in body["openings"]:
        opening.update({"subfloor": {"kind": "level"}, "datum": "0 in", "rough_opening": {"height": header}})
        opening.update({"pull_side": {"build_up": PLANK}, "push_side": {"build_up": PLANK}})
    body["openings"][0]["frame"] = {"undercut": "3/4 in", "state": "set", "foot": foot}
    body["openings"][1]["frame"] = {"undercut": "3/4 in"}
    return body


def test_a_leg_that_its_line_lifts_out_of_the_floor_may_leave_the_line() -> None:
    body = _lined(header="83 in", foot="1/2 in")
    ways = {
        mark: {(c.rules[0], way.kind) for c in advice.conflicts for way in c.ways_out}
        for mark, advice in _by_mark(advised(body)).items()
    }
    assert {kind for rule, kind in ways["D002"] if rule == "leg.hard.accepted"} == {"instead", "leave_line"}, (
        "the unit that would suit it alone, legs on the subfloor, keeps its head no more in line"
    )
    assert {kind for _, kind in ways["D001"]}.isdisjoint({"leave_line"})


def test_what_a_unit_misses_for_its_line_is_not_laid_to_its_undercut() -> None:
    """Plank 1/4 in high leaves 1/2 in below 3/4 in of undercut, which is accepted: the line alone lifts the legs."""
    body = _lined(header="83 in", foot="1/2 in")
    codes = {mark: advice.order.why.code for mark, advice in _by_mark(advised(body)).items()}
    assert codes == {"D001": "order.lacks", "D002": "order.on_line"}


def test_a_head_that_its_line_takes_up_to_the_header_may_leave_the_line() -> None:
    """82 in hold 80 7/8 in of door with a head of 11/16 in and 7/16 in to shim; at 81 1/4 in 1/16 in is left."""
    body = _lined(header="82 in", foot="3/8 in")
    conflicts = {c.rules[0]: c for c in _by_mark(advised(body))["D002"].conflicts}
    shim = conflicts["head.shim.accepted"]
    assert (shim.rules[1:], shim.amount) == (("head_line",), INCH // 16)
    assert [way.kind for way in shim.ways_out] == ["leave_line", "raise_header"]


def test_a_unit_ordered_for_its_line_is_cut_no_further_than_it_is_built_for() -> None:
    """D2 is set with 3/4 in undercut: D1 gets as much where 1 1/2 in is asked for, and a hollow leaf gives 1/2 in."""
    body = house(1, lines=0) | {"head_lines": [{"name": "hall", "marks": ["D1", "D2"]}]}
    ordered = {"frame": {"state": "to_order", "undercut": None}, "pull_side": {"build_up": CARPET}}
    standing = {"frame": {"state": "set", "undercut": "3/4 in", "foot": "0 in"}, "pull_side": {"build_up": PLANK}}
    body["openings"] = [
        {"mark": "D1", **ordered, "push_side": {"build_up": WOOD}},
        {"mark": "D2", **standing, "push_side": {"build_up": PLANK}},
    ]
    answer = advised(body)
    (line,), advice = answer.head_lines, answer.openings[0].advice
    assert isinstance(advice, Advice)
    assert line.held
    assert (advice.verdict, advice.conflicts) == ("go_with_trim", ())
    assert (advice.order.undercut_to_order, advice.leaf.trim) == (INCH * 3 // 4, INCH // 2)
    assert advice.leaf.governed_by == ("head_line",)


def test_heads_that_no_height_suits_stand_each_for_itself() -> None:
    body = house(2, lines=1, on_line=1.0, share=0.0, seed=4)
    for opening, datum in zip(body["openings"], ("0 in", "3 in"), strict=True):
        opening.update({"frame": {"undercut": "1 in"}, "subfloor": {"kind": "level"}, "datum": datum})
        opening["rough_opening"] = {"height": "82 in"}
    answer = advised(body)
    (line,) = answer.head_lines
    alone = {o["mark"]: assess(read(o), catalogue()) for o in merged(body)}
    assert (line.held, line.minutes, line.text.code) == (False, 0, "line.none")
    assert {mark: advice.setting for mark, advice in _by_mark(answer).items()} == {
        mark: advice.setting for mark, advice in alone.items()
    }


def test_a_search_that_was_ended_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    body = house(8, lines=1)
    proven = advised(body)
    monkeypatch.setattr(head_lines, "share", lambda units, *, price: share(units, price=price)._replace(least=False))
    ended = advised(body)
    assert (proven.proven_least, ended.proven_least) == (True, False)
    assert ended.summary == Phrase("house.unproven", summary=proven.summary)
    assert ended.openings == proven.openings
