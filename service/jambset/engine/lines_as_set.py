"""Head lines of doors that are set: how their heads stand, at what height they are set again together, which leave.

Floors that change differ by little from door to door, and so do the heights at which each unit would be set again.
Where all of a line are, they are set at one height if each can stand there with no firm rule missed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from msgspec import UNSET, UnsetType

from jambset.engine import remedies
from jambset.engine.labour import work_of
from jambset.engine.lists import natural
from jambset.engine.recheck import Rechecked, answer
from jambset.engine.remedies import Chain
from jambset.engine.remedy_steps import Shop
from jambset.engine.standing import Judged
from jambset.engine.steps import Steps
from jambset.model.advice import Phrase
from jambset.model.house import HouseQuestion, HouseTask, LeftOut
from jambset.model.house_recheck import HeadAsSet, HeadLineAsSet, HeadOff, SetTogether
from jambset.model.request import HeadLine
from jambset.model.source import Asked
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue

HEAD_LINE_LEFT = "head_line_left"
"""Asked where a first remedy takes a head off its line."""


class Head(NamedTuple):
    """The head of a door above the datum of the house [ticks], as found and after what is planned."""

    mark: str
    found: int
    then: int
    door: Rechecked


Doors = Mapping[str, Rechecked]
"""Those that could be rechecked, by mark."""


def setting_together(line: HeadLine, alone: Doors, catalogue: Catalogue) -> Steps[Doors]:
    """The doors of a line with the work that sets them all at one height; none where they stay, stand so, or can't.

    Of the heights that most, the lowest and the highest would come to, the one that takes least work; where several do,
    that at which least is missed, of those the lowest.
    """
    heads = _heads(line, alone)
    then = {head.then for head in heads}
    if len(then) < 2 or any(head.then == head.found for head in heads):
        return {}
    heights = sorted({_commonest([head.then for head in heads]) or 0, min(then), max(then)})
    best: tuple[Chain, ...] = ()
    for height in heights:
        way = yield from _all_at(height, heads, catalogue)
        if way and (not best or _toll(way) < _toll(best)):
            best = way
    if not best:
        return {}
    return {head.mark: _planning(chain, head.door, catalogue) for head, chain in zip(heads, best, strict=True)}


def _all_at(height: int, heads: Iterable[Head], catalogue: Catalogue) -> Steps[tuple[Chain, ...]]:
    """What sets the unit of each head at a height, a step for each; none where one of them can't be."""
    way: list[Chain] = []
    for head in heads:
        if (chain := _at(height, head, catalogue)) is None:
            return ()
        way.append(chain)
        yield
    return tuple(way)


def _at(height: int, head: Head, catalogue: Catalogue) -> Chain | None:
    """The least work that sets a unit again with its head at a height and mends all; None where there is none."""
    if head.then == height:
        return head.door.planned
    found, up = head.door.found, height - head.found
    shop = Shop(catalogue, work_of(found.facts, catalogue), foot=found.unit.foot + up)
    whole = filter(remedies.is_whole, remedies.chains(found, shop))
    return next((chain for chain in whole if head_of(chain[-1].after) == head_of(found) + up), None)


def _planning(chain: Chain, door: Rechecked, catalogue: Catalogue) -> Rechecked:
    """A door of which a chain is planned."""
    if chain is door.planned:
        return door
    shop = Shop(catalogue, work_of(door.found.facts, catalogue))
    return answer(door.request, door.found, (chain, *door.mending), shop)


def _toll(way: tuple[Chain, ...]) -> tuple[int, int]:
    """Minutes, and rules still missed, which are wishes."""
    return sum(map(remedies.minutes, way)), sum([len(chain[-1].after.missed) for chain in way])


def _minutes(doors: Iterable[Rechecked]) -> int:
    return sum([remedies.minutes(door.planned) for door in doors])


def _heads(line: HeadLine, doors: Doors) -> list[Head]:
    return [_head(doors[mark]) for mark in sorted(line.marks, key=natural) if mark in doors]


def line_of(line: HeadLine, doors: Doors, alone: Doors) -> HeadLineAsSet:
    """How the heads of a line stand, and what becomes of them. alone: as each would be worked on by itself."""
    marks = sorted(line.marks, key=natural)
    heads = _heads(line, doors)
    left_out = tuple([LeftOut(mark=mark, why=Phrase("line.refused")) for mark in marks if mark not in doors])
    found, then = {head.found for head in heads}, {head.then for head in heads}
    height = _commonest([head.found for head in heads])
    return HeadLineAsSet(
        name=line.name,
        level=len(found) == 1,
        level_then=len(then) == 1,
        head_height=UNSET if height is None else Length(height),
        heads=tuple([HeadAsSet(mark=h.mark, found=Length(h.found), then=Length(h.then)) for h in heads]),
        left_out=left_out,
        off=() if height is None else tuple([_off(head, height) for head in _leaving(heads, height)]),
        together=(together := _together(heads, _heads(line, alone))),
        text=_told(heads, together),
    )


def _together(heads: list[Head], alone: list[Head]) -> SetTogether | UnsetType:
    """What it takes to set them together; nothing where each is worked on as by itself."""
    marks = tuple([one.mark for one, other in zip(heads, alone, strict=True) if one.then != other.then])
    if not marks:
        return UNSET
    apart = [head.then for head in alone]
    return SetTogether(
        minutes=_minutes([head.door for head in heads]),
        minutes_alone=_minutes([head.door for head in alone]),
        least=Length(min(apart)),
        greatest=Length(max(apart)),
        marks=marks,
    )


def _head(door: Rechecked) -> Head:
    datum = door.found.facts.opening.datum
    base = 0 if datum is UNSET else int(datum)
    return Head(door.advice.mark, base + head_of(door.found), base + head_of(door.then), door)


def head_of(judged: Judged) -> int:
    """Underside of a unit's head above the datum of its opening [ticks]."""
    unit = judged.unit
    return unit.foot + unit.undercut + judged.facts.leaf_and_gap


def _commonest(heights: list[int]) -> int | None:
    """The height that most heads have, of as many the lowest; None of none."""
    counted = Counter(heights)
    return min(counted, key=lambda height: (-counted[height], height), default=None)


def _leaving(heads: list[Head], height: int) -> list[Head]:
    """Heads that a remedy moves further off the line; none where each then stands as near to most of them as before.

    So a line whose doors all go down alike is kept, if at another height.
    """
    moved = _commonest([head.then for head in heads]) or 0
    if all(abs(head.then - moved) <= abs(head.found - height) for head in heads):
        return []
    return [head for head in heads if abs(head.then - height) > abs(head.found - height)]


def _off(head: Head, height: int) -> HeadOff:
    kept, by = _kept(head.door), _word(head.door)
    told = "above" if head.then > height else "below"
    off = Length(abs(head.then - height))
    text = Phrase(f"line.off.{told}", mark=head.mark, off=off)
    if kept is None:
        text = Phrase("line.off.no_other", text=text)
    else:
        chain = head.door.mending[kept]
        minutes, other = remedies.minutes(chain), remedies.text_of(chain, head.door.found)
        text = Phrase("line.off.other", text=text, minutes=str(minutes), remedy=other)
    if by is not UNSET:
        text = Phrase("line.off.by_word", text=text, by=by)
    return HeadOff(
        mark=head.mark,
        off=off,
        above=head.then > height,
        hold=by is UNSET,
        remedy=UNSET if kept is None else kept,
        text=text,
    )


def _kept(door: Rechecked) -> int | None:
    """Place of the first remedy that mends all and leaves the head where it is; None where none does."""
    head = head_of(door.found)
    whole = [at for at, chain in enumerate(door.mending) if remedies.is_whole(chain)]
    return next((at for at in whole if head_of(door.mending[at][-1].after) == head), None)


def _word(door: Rechecked) -> str | UnsetType:
    """On whose word the head may leave its line."""
    answered = door.found.facts.opening.answered
    return next((one.by for one in answered if one.code == HEAD_LINE_LEFT), UNSET)


def _told(heads: list[Head], together: SetTogether | UnsetType) -> Phrase:
    """How the heads stand as found, and after what is planned."""
    if not heads:
        return Phrase("line.as_set.none")
    found = _heights("found", [head.found for head in heads])
    if all(head.found == head.then for head in heads):
        return Phrase("line.as_set.stays", found=found)
    if together is UNSET:
        return Phrase("outcome.and", first=found, then=_heights("then", [head.then for head in heads]))
    return Phrase(
        "line.together",
        found=found,
        height=Length(heads[0].then),
        least=together.least,
        most=together.greatest,
        minutes=str(together.minutes),
        alone=str(together.minutes_alone),
    )


def _heights(when: str, heights: list[int]) -> Phrase:
    least, most = min(heights), max(heights)
    if least == most:
        return Phrase(f"line.{when}.level", height=Length(least))
    return Phrase(f"line.{when}.apart", least=Length(least), most=Length(most))


def line_questions(lines: Iterable[HeadLineAsSet], tasks: Iterable[HouseTask]) -> Iterator[HouseQuestion]:
    """Who lets heads leave a line, asked once for each line. tasks: those of the house."""
    waiting = [task for task in tasks if HEAD_LINE_LEFT in task.questions]
    for line in lines:
        if held := [one for one in line.off if one.hold]:
            offs = tuple([Phrase(f"part.off.{'above' if o.above else 'below'}", mark=o.mark, off=o.off) for o in held])
            marks = tuple([one.mark for one in held])
            yield HouseQuestion(
                code=HEAD_LINE_LEFT,
                ask=Asked.ARCHITECT,
                text=Phrase("ask.head_line", line=line.name, heads=offs),
                marks=marks,
                holds=tuple(dict.fromkeys([task.phase for task in waiting if task.mark in marks])),
            )
