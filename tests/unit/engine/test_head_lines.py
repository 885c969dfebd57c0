"""Which head heights of a line are looked at: the cheapest of all is among them, whatever a block size costs."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import msgspec
import pytest
from tests.houses import Wire, house, merged
from tests.openings import catalogue, read

from jambset.engine.doors import Door, doors_of
from jambset.engine.head_lines import Group, choose_all, groups_of
from jambset.engine.scenarios import usable
from jambset.model.advice import Minutes
from jambset.model.request import House
from jambset.quantity.parse import dec_hook
from jambset.quantity.ticks import INCH

BEYOND = 3 * INCH
"""How far the search through all heights goes beyond the doors' own."""


def hall(seed: int, *datums: str) -> Wire:
    """A line of doors on landings apart, one of them a thirty-second off the tape of the others."""
    body = house(len(datums), seed=seed, lines=1, on_line=1.0, alternatives=1)
    for opening, datum in zip(body["openings"], datums, strict=True):
        opening |= {"datum": datum, "rough_opening": {"height": "85 in"}}
    body["openings"][0]["frame"] = {"undercut": "1 1/32 in"}
    return body


def line_of(body: Wire, size: Fraction | int) -> tuple[tuple[Door, ...], list[tuple[int, ...]]]:
    """Doors of a line, and the settings that are looked at for them. size: minutes of a block size."""
    doors = [door for door in doors_of([read(one) for one in merged(body)], catalogue()) if isinstance(door, Door)]
    (group,) = groups_of(msgspec.convert(body, House, dec_hook=dec_hook), doors, int(size * Minutes.PARTS))
    assert group.line is not None
    return group.doors, list(group.settings)


def tried(doors: tuple[Door, ...]) -> Iterable[tuple[int, ...]]:
    """Settings for every height on the tape of any of the doors, far beyond where any of them would stand alone."""
    own = [door.above + setting for door in doors for setting in door.table.plan.candidates]
    heights = set(own)
    for door in doors:
        step = door.table.plan.step
        first = min(own) - BEYOND
        first += (door.above - first) % step
        heights.update(range(first, max(own) + BEYOND, step))
    for height in heights:
        settings = tuple(height - door.above for door in doors)
        if all(usable(door.table.plan, setting) for door, setting in zip(doors, settings, strict=True)):
            yield settings


def cost(doors: tuple[Door, ...], settings: tuple[int, ...], size: int) -> int:
    """What settings come to with the block sizes they need, in parts of a minute."""
    work = sum(door.table.at(setting).expected for door, setting in zip(doors, settings, strict=True))
    blocks = {block for door, setting in zip(doors, settings, strict=True) for block in door.blocks(setting)}
    return work + size * Minutes.PARTS * len(blocks)


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("datums", [("0 in", "0 in"), ("0 in", "1 1/2 in"), ("1/2 in", "0 in", "-3/8 in")])
def test_no_height_on_any_doors_tape_is_cheaper_than_those_looked_at(seed: int, datums: tuple[str, ...]) -> None:
    for size in (0, 4, 25):
        doors, settings = line_of(hall(seed, *datums), size)
        assert all(len({door.above + n for door, n in zip(doors, one, strict=True)}) == 1 for one in settings)
        least = min(cost(doors, one, size) for one in tried(doors))
        assert min(cost(doors, one, size) for one in settings) == least


def test_a_height_above_all_own_is_looked_at_while_two_sizes_a_door_could_pay_for_it() -> None:
    """Blocks that the rest of the house has anyway save no more than a size for each leg."""
    body = hall(1, "0 in", "0 in")
    doors, settings = line_of(body, 0)
    above = tuple(setting + INCH // 16 for setting in max(settings))
    dearer = cost(doors, above, 0) - min(cost(doors, one, 0) for one in settings)
    pays = Fraction(dearer, 2 * len(doors) * Minutes.PARTS)
    assert above in line_of(body, pays)[1]
    assert above not in line_of(body, pays - Fraction(1, Minutes.PARTS))[1]


def test_a_frame_set_where_no_floor_leaves_it_stays_as_it_is_set() -> None:
    """Legs 3 in above plank, bathroom tile and carpet alike."""
    body = house(1, lines=0)
    body["openings"][0] |= {"frame": {"state": "set", "foot": "3 in", "undercut": "1 in"}}
    doors = [door for door in doors_of([read(one) for one in merged(body)], catalogue()) if isinstance(door, Door)]
    (group,) = groups_of(msgspec.convert(body, House, dec_hook=dec_hook), doors, 0)
    assert group.settings == ((3 * INCH,),)


def test_a_blocks_thickness_is_what_a_leg_stands_above_its_own_subfloor() -> None:
    """The hinge leg's is 3/16 in lower than the strike leg's: a frame at 0 stands on a block of that there alone."""
    body = house(1, lines=0, share=0.0)
    body["openings"][0]["subfloor"] = {"kind": "legs", "hinge_leg": "-3/16 in", "strike_leg": "0 in"}
    (door,) = doors_of([read(one) for one in merged(body)], catalogue())
    assert isinstance(door, Door)
    assert sorted(door.blocks(INCH // 2)) == [INCH // 2, INCH * 11 // 16]
    assert door.blocks(0) == (INCH * 3 // 16,)


@pytest.mark.parametrize("told", ["expected", "worst", "wishes", "cuts", "off"])
def test_of_choices_alike_in_what_comes_first_the_lesser_in_what_comes_next_is_taken(told: str) -> None:
    """What is expected, then the worst that may come, wishes given up, cuts, and how far a unit stands off 0."""
    names = ("expected", "worst", "wishes", "cuts", "off")
    less = dict.fromkeys(names, 3) | dict.fromkeys(names[names.index(told) + 1 :], 9)
    more = dict.fromkeys(names, 3) | {told: 4}
    for choices, place in (((less, more), 0), ((more, less), 1)):
        at = [SimpleNamespace(**choice) for choice in choices]
        door: Any = SimpleNamespace(table=SimpleNamespace(at=at.__getitem__), blocks=lambda _: ())
        assert choose_all((Group(None, (door,), ((0,), (1,))),), 8).places == (place,)
