"""What must hold of any house whose doors are set: each answer is the door's own, and the lists add up."""

from __future__ import annotations

import json
from collections import Counter
from typing import Any

import pytest
from hypothesis import Phase, find, given, settings
from hypothesis import strategies as st
from tests.house_rechecks import body_of, keeping, told_of
from tests.openings import Wire, catalogue, floor
from tests.property.test_recheck import settings_of
from tests.strategies import Tape, in_text, written
from tests.unit.engine.test_recheck import was_set

from jambset.http.advise import rechecker
from jambset.quantity.ticks import INCH

SOME, MORE = settings(max_examples=25), settings(max_examples=60)
pytestmark = pytest.mark.covers
ALONE = rechecker(catalogue())


@st.composite
def houses(draw: st.DrawFn) -> tuple[dict[str, Wire], dict[str, list[str]]]:
    """Rechecks by mark, and the marks of a line or of none."""
    doors = draw(st.lists(settings_of().map(lambda door: written(door, in_text)), min_size=1, max_size=5))
    requests = {f"D{place}": door for place, door in enumerate(doors)}
    lined = draw(st.lists(st.sampled_from(sorted(requests)), unique=True))
    return requests, {"hall": lined} if lined else {}


def _advices(answer: Any) -> list[Any]:
    return [one["advice"] for one in answer["openings"] if "advice" in one]


@SOME
@given(houses())
def test_each_opening_is_answered_as_alone(house: tuple[dict[str, Wire], dict[str, list[str]]]) -> None:
    requests, lines = house
    answer = told_of(body_of(requests, **lines))
    for one in answer["openings"]:
        alone = json.loads(ALONE(json.dumps({**requests[one["mark"]], "mark": one["mark"]}).encode()))
        assert one["advice"] == alone


@SOME
@given(houses(), st.randoms(use_true_random=False))
def test_the_order_of_openings_changes_nothing_but_their_order(
    house: tuple[dict[str, Wire], dict[str, list[str]]], chance: Any
) -> None:
    requests, lines = house
    marks = list(requests)
    chance.shuffle(marks)
    one, other = told_of(body_of(requests, **lines)), told_of(body_of({m: requests[m] for m in marks}, **lines))
    assert {o["mark"]: o for o in one.pop("openings")} == {o["mark"]: o for o in other.pop("openings")}
    assert one == other


@SOME
@given(houses())
def test_the_lists_hold_all_the_work_of_the_doors_and_none_twice(
    house: tuple[dict[str, Wire], dict[str, list[str]]],
) -> None:
    answer = told_of(body_of(house[0], **house[1]))
    advices, totals = _advices(answer), answer["totals"]
    otherwise = {one["mark"] for one in answer["openings"] if "planned" in one}
    own = [(t["key"], t["minutes"], t["trade"]) for a in advices if a["mark"] not in otherwise for t in a["tasks"]]
    own += [(task["key"], task["minutes"], task["trade"]) for task in answer["tasks"] if task["mark"] in otherwise]
    assert sorted((t["key"], t["minutes"], t["trade"]) for t in answer["tasks"]) == sorted(own)
    assert sorted((f["task"], f["minutes"], f["trade"]) for f in answer["fix_list"]) == sorted(own)
    assert otherwise == {mark for line in answer["head_lines"] for mark in line.get("together", {}).get("marks", ())}
    assert totals["minutes"] == sum(minutes for _, minutes, _ in own)
    assert sum(one["minutes"] for one in totals["by_trade"]) == totals["minutes"]
    assert Counter(advice["verdict"] for advice in advices) == {
        one["verdict"]: one["count"] for one in answer["verdicts"] if one["count"]
    }
    assert totals["openings"] == totals["rechecked"] + totals["refused"] == len(house[0])
    assert totals["cuts"] == len(answer["trim_list"])
    listed = {line["mark"] for line in answer["fix_list"]} | {one["mark"] for one in answer["open_doors"]}
    assert listed == {advice["mark"] for advice in advices if advice["verdict"] not in ("fine", "live_with")}


@SOME
@given(houses())
def test_whatever_waits_waits_for_something_that_is_asked(
    house: tuple[dict[str, Wire], dict[str, list[str]]],
) -> None:
    answer = told_of(body_of(house[0], **house[1]))
    asked = {(question["code"], mark) for question in answer["questions"] for mark in question["marks"]}
    held = {task["key"]: task for task in answer["tasks"]}
    for task in answer["tasks"]:
        assert task["hold"] == bool(task["questions"])
        assert {(code, task["mark"]) for code in task["questions"]} <= asked
    for row in (*answer["fix_list"], *answer["trim_list"]):
        assert (row["hold"], row["questions"]) == (held[row["task"]]["hold"], held[row["task"]]["questions"])


@SOME
@given(houses())
def test_a_line_is_left_only_by_a_remedy_that_moves_a_head(
    house: tuple[dict[str, Wire], dict[str, list[str]]],
) -> None:
    for line in told_of(body_of(house[0], **house[1]))["head_lines"]:
        moved = {head["mark"] for head in line["heads"] if head["found"] != head["then"]}
        assert {off["mark"] for off in line["off"]} <= moved
        assert line["level_then"] or moved or not line["level"]
        assert line["off"] or line["level_then"] or not line["level"]


def _sixteenths(count: int) -> str:
    return in_text(Tape(count * INCH // 16))


@st.composite
def lines(draw: st.DrawFn) -> dict[str, Wire]:
    """Doors of one hall set alike, over tiles that differ by little; fillers take long, so that units are set again.

    One in four stands over a tile that its legs just end in.
    """
    undercut, stood = draw(st.sampled_from([10, 16, 24])), draw(st.integers(0, 16))
    one = was_set(
        leaf={"core": draw(st.sampled_from(["steel", "hollow", "solid"]))},
        frame={"undercut": _sixteenths(undercut)},
        as_set={"foot": _sixteenths(stood), "leaf_bottom": _sixteenths(stood + undercut)},
        labour={"fill_legs": 200, "cover_legs": 200, "trim_in_place": draw(st.sampled_from([20, 120]))},
        duties=draw(st.sampled_from([[], [], ["fire_label"]])),
    )
    middle, doors = draw(st.integers(4, 14)), {}
    for place in range(draw(st.integers(2, 4))):
        thick = max(stood, 4) if draw(st.integers(0, 3)) == 0 else middle + draw(st.integers(-2, 2))
        tile = floor(f"ceramic_tile {_sixteenths(thick)}")
        door = {**one, "pull_side": tile, "push_side": tile}
        if draw(st.integers(0, 3)) == 0:
            door["rough_opening"] = {"height": _sixteenths(draw(st.integers(1308, 1330)))}
        doors[f"D{place}"] = door
    return doors


def _stand_together(answer: Any) -> bool:
    return "together" in answer["head_lines"][0]


def _left(answer: Any, mark: str) -> Any:
    """What the list says is left to the flooring installer at an opening, as an opening's answer has it."""
    rows = [row for row in answer["undercut_list"] if row["mark"] == mark]
    return {row["side"]: {key: row[key] for key in row.keys() - {"mark", "side", "hold"}} for row in rows}


def _heights(told: Any) -> dict[str, float]:
    """Millimetres by field; lists are on the grid of the house, an answer on its own."""
    return {name: value["mm"] for name, value in told.items() if isinstance(value, dict)}


@SOME
@given(houses())
def test_the_flooring_installer_is_told_of_every_door_as_found_unless_it_is_worked_on(
    house: tuple[dict[str, Wire], dict[str, list[str]]],
) -> None:
    """Each side is told once, but for those of which somebody measured how high the floor lies."""
    answer = told_of(body_of(house[0], **house[1]))
    worked_on = {line["mark"] for line in answer["fix_list"]}
    for advice in _advices(answer):
        left, gaps = _left(answer, advice["mark"]), house[0][advice["mark"]]["as_set"].get("gaps", {})
        assert gaps or left.keys() == {"pull_side", "push_side"}
        assert left.keys().isdisjoint(gaps)
        for side, told in left.items() if advice["mark"] not in worked_on else ():
            assert told.keys() == advice["flooring"][side].keys()
            assert _heights(told) == _heights(advice["flooring"][side])
    asked = {mark for one in answer["questions"] if "flooring" in one.get("holds", ()) for mark in one["marks"]}
    raised = {mark for one in answer["cautions"] if one["code"] == "floor_raised" for mark in one["marks"]}
    assert {row["mark"] for row in answer["undercut_list"] if row["hold"]} <= asked | raised
    assert len(answer["undercut_list"]) == sum(len(_left(answer, advice["mark"])) for advice in _advices(answer))


@MORE
@given(lines(), st.booleans())
def test_doors_set_together_stand_at_one_height_and_miss_nothing_firm(doors: dict[str, Wire], keep: bool) -> None:
    """Each is rechecked as the lists leave it."""
    body = body_of(doors, hall=list(doors))
    answer = told_of(keeping(body) if keep else body)
    (line,), advices = answer["head_lines"], {one["mark"]: one for one in _advices(answer)}
    minutes = [task["minutes"] for task in answer["tasks"]]
    if not _stand_together(answer):
        assert not any("planned" in one for one in answer["openings"])
        assert not (keep and "keeping" in line)
        return
    assert "keeping" not in line
    together = line["together"]
    assert line["level_then"]
    assert line["off"] == []
    assert together["minutes"] == sum(minutes)
    assert together["minutes_alone"] == sum(t["minutes"] for a in advices.values() for t in a["tasks"])
    assert {head["then"]["mm"] for head in line["heads"]} == {together["head_height"]["mm"]}
    assert together["least"]["mm"] < together["greatest"]["mm"]
    for mark, request in doors.items():
        done = [fix for fix in answer["fix_list"] if fix["mark"] == mark]
        if [fix["kind"] for fix in done] == ["reset"] and done[0]["foot"]["mm"] >= 0:  # else its legs are cut
            placed = {name: {"value": done[0][name]["mm"], "unit": "mm"} for name in ("foot", "leaf_bottom")}
            after = told_of(body_of({mark: {**request, "as_set": placed}}))["openings"][0]["advice"]
            assert after["found"]["head_height"]["mm"] == pytest.approx(line["heads"][0]["then"]["mm"])
            assert {c["force"] for c in after["checks"] if c["status"] in ("fail", "relaxed")} <= {"preference"}
            assert _left(answer, mark) == after["flooring"]


@MORE
@given(lines())
def test_a_line_that_could_be_kept_is_if_that_is_asked_for_and_else_nothing_is_planned_otherwise(
    doors: dict[str, Wire],
) -> None:
    """What is offered is what is then done; the same where nothing leaves the line."""
    body = body_of(doors, hall=list(doors))
    free, kept = told_of(body), told_of(keeping(body))
    assert all(free.pop(name) != kept.pop(name) for name in ("input_digest", "advice_id"))
    (line,), (done,) = free["head_lines"], kept["head_lines"]
    if "keeping" not in line:
        assert free == kept
        return
    assert line["off"]
    assert not any("planned" in one for one in free["openings"])
    assert done["together"] == line["keeping"]
    assert kept["totals"]["minutes"] == line["keeping"]["minutes"]
    assert free["totals"]["minutes"] == line["keeping"]["minutes_alone"]
    assert [one["mark"] for one in kept["openings"] if "planned" in one] == line["keeping"]["marks"]
    assert not any(question["code"] == "head_line_left" for question in kept["questions"])


@pytest.mark.parametrize("together", [True, False])
def test_some_of_those_lines_stand_together_and_some_do_not(together: bool) -> None:
    """Else nothing would be said of them."""

    def stand_so(doors: dict[str, Wire]) -> bool:
        return _stand_together(told_of(body_of(doors, hall=list(doors)))) is together

    assert find(lines(), stand_so, settings=settings(max_examples=400, phases=(Phase.generate,)))


def test_some_of_those_lines_could_be_kept() -> None:
    """Else nothing would be said of them."""

    def could(doors: dict[str, Wire]) -> bool:
        return "keeping" in told_of(body_of(doors, hall=list(doors)))["head_lines"][0]

    assert find(lines(), could, settings=settings(max_examples=400, phases=(Phase.generate,)))


def test_some_of_those_houses_are_worked_on_and_leave_a_line() -> None:
    """Else nothing would be said of them."""

    def leaves(house: tuple[dict[str, Wire], dict[str, list[str]]]) -> bool:
        return any(line["off"] for line in told_of(body_of(house[0], **house[1]))["head_lines"])

    found = find(houses(), leaves, settings=settings(max_examples=400, phases=(Phase.generate,)))
    assert len(found[0]) > 1
