"""Minutes of an opening's steps, worked by hand from the assumed table and from a crew's own."""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import advised, catalogue, door, floor, read, ticks

from jambset.engine.decide import saw_line
from jambset.engine.facts import gather
from jambset.engine.labour import Work, hands, minutes_of, work_of
from jambset.model.request import Labour

PLANK = floor("vinyl_plank 1/4 in")


def work(**changes: Any) -> Work:
    return work_of(gather(read(door(pull_side=PLANK, push_side=PLANK, **changes)), catalogue()), catalogue())


def test_the_assumed_minutes_of_a_light_leaf() -> None:
    told = work()
    # 20 and 8 for the edge; 30 and 8; 35, 8 and 10 to hang it again
    assert told.saw == {"bench": 28, "in_place": 38, "off_hinges": 53}
    assert (told.block_legs, told.trim_legs, told.set_again, told.fill_legs, told.cover_legs) == (6, 12, 90, 40, 15)
    assert told.wish == 6 + 12 + 28 + 1
    assert told.people == 1


@pytest.mark.parametrize(
    ("minutes", "least"),
    [
        pytest.param({}, True, id="28 on the bench, as assumed"),
        pytest.param({"trim_in_place": 19}, False, id="27 in place"),
        pytest.param({"trim_off_hinges": 9}, False, id="27 off the hinges"),
        pytest.param({"reset_unit": 27}, False, id="27 to set the unit again"),
        pytest.param({"trim_in_place": 20, "trim_off_hinges": 10, "reset_unit": 28}, True, id="28 each"),
    ],
)
def test_the_bench_is_least_where_nothing_that_could_stand_for_it_takes_less(
    minutes: dict[str, int], least: bool
) -> None:
    assert work(labour=minutes).bench_is_least is least


def test_each_task_takes_what_is_assumed_of_its_steps() -> None:
    # set 60 and blocks 6; bench 20 and edge 8; either side's undercut 10; piece 25; both clearances 10
    told = advised(door(pull_side=floor("solid_wood 3/4 in"), push_side=PLANK))
    assert {task["key"].partition(".")[2]: task["minutes"] for task in told["tasks"]} == {
        "set-frame": 66,
        "trim-leaf": 28,
        "undercut-jambs": 2 * 10,
        "fit-piece": 25,
        "check-clearances": 10,
    }


WOOD = floor("solid_wood 3/4 in")


def minutes(**changes: Any) -> dict[str, int]:
    tasks = advised(door(frame={"undercut": "3/4 in", "state": "set", "foot": "0 in"}, **changes))["tasks"]
    return {task["key"].partition(".")[2]: task["minutes"] for task in tasks}


def test_a_unit_that_is_set_is_not_set_again_and_its_leaf_is_cut_in_place() -> None:
    # 5/8 in over wood 3/4 in is 1 3/8, with 3/4 in of undercut 5/8 off the leaf: 30 in place and 8 for the edge
    told = minutes(pull_side=WOOD, push_side=WOOD, leaf={"core": "stile_and_rail"})
    assert told == {"trim-leaf": 38, "undercut-jambs": 20, "check-clearances": 10}


@pytest.mark.parametrize(("hinges", "off"), [("butt", 10), ("lift_off", 4), ("spring", 18)])
def test_a_hung_leaf_comes_off_its_hinges_where_too_little_is_left_below_the_line_of_the_cut(
    hinges: str, off: int
) -> None:
    # a door to the garage: 3/8 in over wood that may still be plank, no room for a saw; 35, 8, and 15 for the second
    may = {**WOOD, "could_become": [{**PLANK, "weight": 0.1}]}
    leaf = {"core": "solid", "hinges": hinges}
    told = minutes(pull_side=may, push_side=WOOD, duties=["garage_to_house"], leaf=leaf)
    assert told == {"undercut-jambs": 20, "trim-leaf": 35 + 8 + 15 + off, "check-clearances": 10}


@pytest.mark.parametrize(
    ("hinges", "off"),
    [("butt", 35 + 8 + 10), ("lift_off", 35 + 8 + 4), ("spring", 35 + 8 + 10 + 8)],
)
def test_what_a_leaf_hangs_on_decides_how_long_it_takes_off(hinges: str, off: int) -> None:
    assert work(leaf={"hinges": hinges}).saw == {"bench": 28, "in_place": 38, "off_hinges": off}


def test_a_leaf_that_takes_two_costs_the_second_one_only_off_its_hinges() -> None:
    # 8 ft high takes two whatever it weighs
    told = work(leaf={"height": "96 in"}, rough_opening={"height": "100 in"})
    assert told.people == 2
    assert told.saw == {"bench": 28, "in_place": 38, "off_hinges": 53 + 15}


def test_both_leaves_of_a_pair_are_counted() -> None:
    told = work(leaf={"count": 2, "width": "24 in"})
    assert told.saw == {"bench": 56, "in_place": 76, "off_hinges": 106}
    assert told.wish == 6 + 12 + 56 + 1
    assert (told.block_legs, told.set_again) == (6, 90)


def test_a_crews_own_minutes_stand_in_the_place_of_those_assumed() -> None:
    told = work(labour={"trim_on_bench": 10, "reset_unit": 0, "fill_legs": 25})
    assert told.saw == {"bench": 18, "in_place": 38, "off_hinges": 53}
    assert (told.set_again, told.fill_legs, told.cover_legs) == (0, 25, 15)
    assert told.wish == 6 + 12 + 18 + 1


def test_what_the_crew_does_not_say_stays_assumed() -> None:
    own = minutes_of(Labour(set_unit=45), catalogue())
    assert own["set_unit"] == 45
    assumed = {name: row.minutes for name, row in catalogue().labour.items() if name != "set_unit"}
    assert {name: minutes for name, minutes in own.items() if name != "set_unit"} == assumed


@pytest.mark.parametrize(
    ("core", "people"),
    # 30 by 80 by 1 3/8 in is 0.054077 cubic metres: at most 17.3 kg hollow, 38.9 kg solid; one lifts 22.68 kg
    [("hollow", 1), ("solid", 2)],
)
def test_how_many_lift_a_leaf_goes_by_its_greatest_mass(core: str, people: int) -> None:
    facts = gather(read(door(pull_side=PLANK, push_side=PLANK, leaf={"core": core})), catalogue())
    assert hands(facts, catalogue()) == people


# --- the saw


def test_legs_are_blocked_where_a_cut_takes_no_less() -> None:
    # wood 3/4 in and 5/8 in over it ask for 3/8 in: blocks of that take 6 min, and so does the saw
    wood = {"pull_side": floor("solid_wood 3/4 in"), "push_side": floor("solid_wood 3/4 in")}
    unit: dict[str, Any] = {**wood, "leaf": {"core": "solid"}, "frame": {"undercut": "1 in"}}
    same, less = ({"trim_on_bench": 0, "seal_edge": minutes} for minutes in (6, 5))
    assert advised(door(**unit, labour=same))["setting"]["method"] == "on_blocks"
    assert advised(door(**unit, labour=less))["leaf"]["trim"]["text"] == "3/8 in"


@pytest.mark.parametrize(
    ("near", "line"),
    [
        pytest.param("1/4 in", "1/4 in", id="points by the cut tell what a saw stands on"),
        pytest.param(None, "1 in", id="else it is the highest that is known"),
    ],
)
def test_a_saw_has_room_over_what_lies_below_the_cut(near: str | None, line: str) -> None:
    # a hump of 1 in that the leaf passes on its way, and a floor 1/4 in higher where it stands open and is cut
    points = [{"radius": "15 in", "angle": 30, "height": "1 in"}]
    points += [{"radius": "30 in", "angle": 110, "height": near}] if near else []
    legs = {"hinge_leg": "0 in", "strike_leg": "0 in"}
    request = door(
        pull_side=PLANK,
        push_side=PLANK,
        leaf={"opening_angle": 110, "cut_angle": 110},
        subfloor={"kind": "survey", **legs, "points": points},
    )
    room = catalogue().defaults.room_to_cut
    assert saw_line(gather(read(request), catalogue())) == ticks(line) + room
