"""Parts of sentences that several answers use: how legs stand, which leaf, which side, which floor."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import reduce

from jambset.engine.facts import PULL, Facts, SideFacts
from jambset.engine.floors import Floor
from jambset.model.advice import Phrase, Term, quote
from jambset.model.request import Duty
from jambset.quantity.ticks import Length
from jambset.rules.select import Applied


def stands(foot: int) -> Phrase:
    """How legs stand at a foot [ticks]: on the subfloor, above it, or cut."""
    return Phrase(
        "part.stands.on" if foot == 0 else "part.stands.above" if foot > 0 else "part.stands.cut",
        height=Length(abs(foot)),
    )


def leaves(facts: Facts) -> Phrase:
    """The leaf, or each of a pair."""
    return _LEAVES[facts.opening.leaf.count]


_LEAVES = {1: Phrase("leaves.one"), 2: Phrase("leaves.each")}


def subfloor(facts: Facts) -> Phrase:
    """What heights are counted from in words: the subfloor, or the datum where it isn't level from leg to leg."""
    level = facts.ground
    flat = level.hinge_leg == level.strike_leg == level.closed_high == level.closed_low
    return _SUBFLOORS[flat]


_SUBFLOORS = {True: Phrase("place.subfloor.level"), False: Phrase("place.subfloor.uneven")}


def leg_names(facts: Facts) -> tuple[str, str]:
    """What the two legs are called: those of a pair both carry hinges."""
    return ("first_hinge", "second_hinge") if facts.opening.leaf.count == 2 else ("hinge", "strike")


def quoted(rules: Iterable[Applied]) -> tuple[Phrase, ...]:
    """Rules by their titles."""
    return tuple([title_of(applied) for applied in rules])


def title_of(applied: Applied) -> Phrase:
    """A rule by its title."""
    return Phrase("part.quoted", text=Term(applied.rule.title))


def if_listed(text: Phrase, facts: Facts, how: str = "listed_only") -> Phrase:
    """A sentence on a cut, on condition that the listing allows it where the leaf, or else the frame, is labelled."""
    return Phrase(how, text=text) if Duty.FIRE_LABEL in facts.duties else text


def through_wall(text: Phrase, duties: frozenset[Duty]) -> Phrase:
    """A sentence on what opens the wall beside a door, with what fire or smoke then call for."""
    for duty, code in _DAMPERS:
        if duty in duties:
            text = Phrase(code, text=text)
    return text


_DAMPERS = ((Duty.FIRE_LABEL, "wall.fire"), (Duty.SMOKE_CONTROL, "wall.smoke"))
GUARDED = frozenset([duty for duty, _ in _DAMPERS])
"""Duties of a door that is to hold back fire or smoke."""


def place_of(side: SideFacts) -> Phrase:
    """A side by its room, or by what it is to the leaf."""
    return Phrase("place.room", room=side.room) if isinstance(side.room, str) else Phrase(f"place.{side.name}")


def side_word(name: str) -> Phrase:
    """What a side is called in a word. name: of the side in a request."""
    return Phrase("part.pull" if name == PULL else "part.push")


def beside(side: SideFacts) -> Phrase:
    """The same in a form that suits any room's name."""
    return Phrase("place.beside", room=side.room) if isinstance(side.room, str) else Phrase(f"place.{side.name}")


def labels(side: SideFacts) -> list[Phrase]:
    """The floors of a side by their titles, and where two have one title by what else tells them apart."""
    floors = [floor for floor, _ in side.floors]
    return [_label(floor, [other for other in floors if other.title == floor.title]) for floor in floors]


def _label(floor: Floor, namesakes: Sequence[Floor]) -> Phrase:
    """namesakes: floors of its title, itself among them."""
    if len(namesakes) == 1:
        return quote(floor.title)
    label = Phrase("part.floor_thick", title=Term(floor.title), height=Length(floor.nominal))
    alike = [other for other in namesakes if other.nominal == floor.nominal]
    for told, is_so in _MARKS.items():
        if is_so(floor) and not all(map(is_so, alike)):
            label = Phrase(f"part.floor_{told}", floor=label)
    for told, height in _HEIGHTS.items():
        if height(floor) and any(height(other) != height(floor) for other in alike):
            label = Phrase(f"part.floor_{told}", floor=label, height=Length(height(floor)))
    ends = (floor.least, floor.greatest)
    if floor.least < floor.greatest and any((other.least, other.greatest) != ends for other in alike):
        label = Phrase("part.floor_between", floor=label, least=Length(floor.least), greatest=Length(floor.greatest))
    return label


_MARKS: dict[str, Callable[[Floor], bool]] = {
    "floating": lambda floor: floor.floating,
    "glued": lambda floor: floor.glued,
    "heated": lambda floor: floor.heated,
}
_HEIGHTS: dict[str, Callable[[Floor], int]] = {
    "top": lambda floor: floor.top,
    "on": lambda floor: floor.bed.nominal,
}
"""What tells floors as thick as each other apart: what one is and another isn't, and heights within them."""


def joined(parts: Sequence[Phrase], how: str = "outcome.and") -> Phrase:
    """Phrases one after the other."""
    return reduce(lambda then, first: Phrase(how, first=first, then=then), reversed(parts[:-1]), parts[-1])
