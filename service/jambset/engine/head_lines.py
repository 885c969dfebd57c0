"""What the doors of a house are given together: the heads of a line at one height, few sizes of block.

A line's choices are the heights that every one of its openings can be given; any other opening's are its own settings.
`share` picks one choice for each.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from msgspec import Struct

from jambset.engine.doors import Door
from jambset.engine.scenarios import Choice, usable
from jambset.engine.share import Choice as Option
from jambset.engine.share import Shared, share
from jambset.model.advice import Minutes
from jambset.model.request import HeadLine, House
from jambset.quantity.ticks import INCH


class Group(Struct, frozen=True, eq=False):
    """Doors that are set by one choice: those of a line, or one by itself. settings: of the doors, for each choice."""

    line: HeadLine | None
    doors: tuple[Door, ...]
    settings: tuple[tuple[int, ...], ...]


def groups_of(house: House, doors: list[Door], size: int) -> Iterator[Group]:
    """Lines that one height suits, then the other doors one by one, in the order of marks.

    size: price of a block size, in parts of a minute.
    """
    by_mark = {door.mark: door for door in doors if door.alone is not None}
    for line in house.head_lines:
        members = tuple([by_mark[mark] for mark in line.marks if mark in by_mark])
        if members and (settings := _settings(members, size)):
            yield Group(line, members, settings)
            for door in members:
                del by_mark[door.mark]
    for door in by_mark.values():
        own = door.table.best().setting  # where every floor would have it set again
        yield Group(None, (door,), _settings((door,), size) or ((own,),))


def _settings(doors: tuple[Door, ...], size: int) -> tuple[tuple[int, ...], ...]:
    """Settings of doors for every head height, on the tape of any of them, that may turn out the best one.

    The cheapest lies between the lowest and the highest of the doors' own candidates. At the lowest nobody needs a
    block. Above the highest nothing gets cheaper but blocks, two sizes a door: heights are added there while they cost
    no more than that.
    """
    fixed = {door.above + door.prepared.facts.as_set for door in doors if door.prepared.facts.as_set is not None}
    if fixed:
        return tuple([_at(doors, height) for height in fixed if len(fixed) == 1 and _cost(doors, height) is not None])
    between = _between(doors)
    costs = {height: cost for height in between if (cost := _cost(doors, height)) is not None}
    if not costs:
        return ()
    most, heights = min(costs.values()) + 2 * size * len(doors), set(costs)
    for step, off in _tapes(doors):
        height = start = _from(max(between) + 1, step, off)
        while (cost := _cost(doors, height)) is not None and cost <= most and height - start < REACH:
            heights.add(height)
            height += step
    return tuple([_at(doors, height) for height in sorted(heights)])


def _between(doors: Sequence[Door]) -> set[int]:
    """The doors' own candidates, and all head heights between on the tape of any of them."""
    own = [door.above + setting for door in doors for setting in door.table.plan.candidates]
    least, most = min(own), max(own)
    return set(own).union(*[range(_from(least, step, off), most, step) for step, off in _tapes(doors)])


def _tapes(doors: Sequence[Door]) -> set[tuple[int, int]]:
    """Steps of the doors' tapes, each with what the marks stand off from 0 [ticks]."""
    return {(door.table.plan.step, door.above % door.table.plan.step) for door in doors}


REACH = 6 * INCH
"""Farther than any unit is moved [ticks]: where heights cost nothing however far, the search would never end."""


def _from(least: int, step: int, off: int) -> int:
    """The lowest height on a tape, whose marks stand off from 0 by so much, that is not below `least`."""
    return least + (off - least) % step


def _at(doors: tuple[Door, ...], height: int) -> tuple[int, ...]:
    return tuple([height - door.above for door in doors])


def _cost(doors: tuple[Door, ...], height: int) -> int | None:
    """What a head height costs all doors, in parts of a minute; None where one of them can't be given it."""
    settings = _at(doors, height)
    if not all(usable(door.table.plan, setting) for door, setting in zip(doors, settings, strict=True)):
        return None
    return sum([door.table.at(setting).expected for door, setting in zip(doors, settings, strict=True)])


def choose_all(groups: tuple[Group, ...], price: int) -> Shared:
    """The place of the chosen settings of each group, and whether nothing costs less for certain."""
    units = [[_option(group, settings) for settings in group.settings] for group in groups]
    return share(units, price=price * Minutes.PARTS * _SCALE)


_CUTS, _OFF, _WISHES, _WORST = 10**3, 10**12, 10**18, 10**8
"""Each above what all openings of a house together can come to, so that what comes first decides first."""
_SCALE = _CUTS * _OFF * _WISHES * _WORST


def _option(group: Group, settings: tuple[int, ...]) -> Option:
    """What settings cost and which blocks they need; costs that are equal are told apart as a door alone tells them."""
    cost = 0
    sizes: set[int] = set()
    for door, setting in zip(group.doors, settings, strict=True):
        c = door.table.at(setting)
        cost += (((c.expected * _WORST + c.worst) * _WISHES + c.wishes) * _CUTS + c.cuts) * _OFF + c.off
        sizes.update(door.blocks(setting))
    return Option(cost, tuple(sorted(sizes)))


def choices_of(groups: tuple[Group, ...], places: tuple[int, ...]) -> dict[str, Choice]:
    """What each door is given, by its mark, when its group takes the settings at a place."""
    return {
        door.mark: door.table.at(setting)
        for group, place in zip(groups, places, strict=True)
        for door, setting in zip(group.doors, group.settings[place], strict=True)
    }


class Without(NamedTuple):
    """A line without one of its doors, and what it then costs the others beyond deciding alone [parts of a minute]."""

    cost: int
    mark: str


LEAST_DOORS = 3
"""Of which two are still a line when one is taken off it."""


def dearest(group: Group, given: dict[str, Choice]) -> Without | None:
    """The line without the door for whose sake others cost more; None where they cost as much without any one door.

    A frame that is set gives its line the height, so that no other door's leaving eases anybody. Of doors that ease the
    others alike it is the first by its mark. Block sizes aside.
    """
    fixed = [door for door in group.doors if door.prepared.facts.as_set is not None]
    free = [door for door in group.doors if door.prepared.facts.as_set is None]
    if len(group.doors) < LEAST_DOORS or len(fixed) > 1:
        return None
    now = {door.mark: _beyond(door, given[door.mark]) for door in group.doors}
    least: dict[str, int] = {}
    for height in _between(free):
        barred = [door for door in free if not usable(door.table.plan, height - door.above)]
        if len(barred) > 1 - len(fixed):
            continue
        costs = {door.mark: _beyond(door, door.table.at(height - door.above)) for door in free if door not in barred}
        every = sum(costs.values())
        for door in fixed or barred or free:  # whichever may leave: the one that is set, or that can't stand so, or any
            least[door.mark] = min(least.get(door.mark, every), every - costs.get(door.mark, 0))
    line = sum(now.values())
    found = [Without(cost, mark) for mark, cost in least.items() if cost < line - now[mark]]
    return min(found, default=None)


def _beyond(door: Door, choice: Choice) -> int:
    """What a choice costs a door beyond the one it would be given alone, in parts of a minute."""
    assert door.alone is not None, "asked only of a door that is priced"
    return choice.expected - door.alone.expected


class Settled(Struct, frozen=True, eq=False):
    """What was chosen for the doors, the price of a block size [min], and whether nothing costs less for certain."""

    doors: tuple[Door, ...]
    groups: tuple[Group, ...]
    given: dict[str, Choice]
    price: int
    least: bool

    def sizes(self, given: dict[str, Choice]) -> set[int]:
        """Block sizes that settings need [ticks]."""
        return {n for door in self.doors if door.mark in given for n in door.blocks(given[door.mark].setting)}

    def minutes(self, given: dict[str, Choice]) -> int:
        """What settings come to, block sizes included, in parts of a minute."""
        work = sum([choice.expected for choice in given.values()])
        return work + self.price * Minutes.PARTS * len(self.sizes(given))

    @property
    def alone(self) -> dict[str, Choice]:
        """What each priced door would be given by itself."""
        return {door.mark: door.alone for door in self.doors if door.alone is not None}

    def line_cost(self, name: str) -> int:
        """What a line costs its doors beyond what they would cost alone, in parts of a minute."""
        doors = [door for group in self.groups if group.line and group.line.name == name for door in group.doors]
        return sum([_beyond(door, self.given[door.mark]) for door in doors])
