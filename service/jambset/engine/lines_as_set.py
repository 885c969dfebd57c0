"""Head lines of doors that are set: how their heads stand, at what height they are set again together, which leave.

Floors that change differ by little from door to door, and so do the heights at which each unit would be set again.
Where all of a line are, they are set at one height if each can stand there with no firm rule missed. Where some would
leave the line and others stay, what keeps all together is told, and done if the line is to be kept.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

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
from jambset.model.request import LineAsSet
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


class Together(NamedTuple):
    """The doors of a line with the work that sets all heads at one height; none where they stand so, or can't.

    planned: whether it is done in place of the first remedies.
    """

    doors: Doors
    planned: bool


def setting_together(line: LineAsSet, alone: Doors, catalogue: Catalogue) -> Steps[Together]:
    """What sets all heads of a line at one height, where each by itself would come to another.

    Of the height at which most stand, and of those that most, the lowest and the highest would come to, the one that
    takes least work; where several do, that at which least is missed, of those the lowest.
    """
    heads = _heads(line, alone)
    all_move = all(head.then != head.found for head in heads)
    best: tuple[Chain, ...] = ()
    for height in _heights_to_try(heads) if all_move or _leaving(heads) else ():
        way = yield from _all_at(height, heads, catalogue)
        if way and (not best or _toll(way, heads) < _toll(best, heads)):
            best = way
    ways = zip(heads, best, strict=True) if best else ()
    doors = {head.mark: _planning(chain, head.door, catalogue) for head, chain in ways}
    return Together(doors, planned=all_move or line.keep)


def _heights_to_try(heads: list[Head]) -> list[int]:
    """None where all heads come to one height anyway."""
    then = [head.then for head in heads]
    if len(set(then)) < 2:
        return []
    return sorted({*_commonest([head.found for head in heads]), *_commonest(then), min(then), max(then)})


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
    """The least work that leaves a unit with its head at a height and mends all; None where there is none."""
    if head.then == height:
        return head.door.planned
    found, up = head.door.found, height - head.found
    if not found.facts.decided:
        return None
    shop = Shop(catalogue, work_of(found.facts, catalogue), foot=found.unit.foot + up)
    ways = (*head.door.mending, *remedies.setting_again(found, shop))
    suited = [way for way in ways if remedies.suits_line(way, found)]
    there = [way for way in suited if head_of(way[-1].after) == head_of(found) + up]
    return min(there, key=remedies.minutes, default=None)


def _planning(chain: Chain, door: Rechecked, catalogue: Catalogue) -> Rechecked:
    """A door of which a chain is planned."""
    if chain is door.planned:
        return door
    return answer(door.request, door.found, (chain, *door.mending), catalogue, for_line=True)


def _toll(way: tuple[Chain, ...], heads: list[Head]) -> tuple[int, int]:
    """Minutes, and rules still missed."""
    left = [chain[-1].after if chain else head.door.found for chain, head in zip(way, heads, strict=True)]
    return sum(map(remedies.minutes, way)), sum([len(judged.missed) for judged in left])


def _minutes(doors: Iterable[Rechecked]) -> int:
    return sum([remedies.minutes(door.planned) for door in doors])


def _heads(line: LineAsSet, doors: Doors) -> list[Head]:
    return [_head(doors[mark]) for mark in sorted(line.marks, key=natural) if mark in doors]


def line_of(line: LineAsSet, alone: Doors, together: Together) -> HeadLineAsSet:
    """How the heads of a line stand, and what becomes of them. alone: as each would be worked on by itself."""
    marks = sorted(line.marks, key=natural)
    own, kept = _heads(line, alone), _heads(line, together.doors)
    heads = kept if kept and together.planned else own
    whole = _together(kept, own) if kept else UNSET
    left_out = tuple([LeftOut(mark=mark, why=Phrase("line.refused")) for mark in marks if mark not in alone])
    found, then = {head.found for head in heads}, {head.then for head in heads}
    height = _commonest([head.found for head in heads])
    off = tuple([_off(head, *height) for head in _leaving(heads)])
    return HeadLineAsSet(
        name=line.name,
        level=len(found) == 1,
        level_then=len(then) == 1,
        head_height=Length(*height) if height else UNSET,
        heads=tuple([HeadAsSet(mark=h.mark, found=Length(h.found), then=Length(h.then)) for h in heads]),
        left_out=left_out,
        off=off,
        together=whole if together.planned else UNSET,
        keeping=UNSET if together.planned else whole,
        text=_told(heads, off, whole, together),
    )


def _together(heads: list[Head], alone: list[Head]) -> SetTogether:
    """What it takes to set heads together, which by themselves would stand apart."""
    marks = tuple([one.mark for one, other in zip(heads, alone, strict=True) if one.then != other.then])
    apart = [head.then for head in alone]
    return SetTogether(
        head_height=Length(heads[0].then),
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


def _commonest(heights: list[int]) -> list[int]:
    """The height that most heads have, of as many the lowest; of no heads none."""
    counted = Counter(heights)
    return sorted(counted, key=lambda height: (-counted[height], height))[:1]


def _leaving(heads: list[Head]) -> list[Head]:
    """Heads that a remedy moves further off the line; none where each then stands as near to most of them as before.

    So a line whose doors all go down alike is kept, if at another height.
    """
    lines = zip(_commonest([head.found for head in heads]), _commonest([head.then for head in heads]), strict=True)
    for height, moved in lines:
        if any(abs(head.then - moved) > abs(head.found - height) for head in heads):
            return [head for head in heads if abs(head.then - height) > abs(head.found - height)]
    return []


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


def _told(heads: list[Head], off: tuple[HeadOff, ...], whole: SetTogether | UnsetType, together: Together) -> Phrase:
    """How the heads stand as found, and after what is planned; where some then leave the line, what would keep it."""
    if not heads:
        return Phrase("line.as_set.none")
    found = _heights("found", [head.found for head in heads])
    if whole is not UNSET and together.planned:
        all_move = all(head.found != head.then for head in heads)
        return Phrase("line.together" if all_move else "line.kept", found=found, **_toll_told(whole))
    if all(head.found == head.then for head in heads):
        return Phrase("line.as_set.stays", found=found)
    told = Phrase("outcome.and", first=found, then=_heights("then", [head.then for head in heads]))
    if whole is not UNSET:
        return Phrase("line.keeping", told=told, **_toll_told(whole))
    return Phrase("line.no_keeping", told=told) if off else told


def _toll_told(whole: SetTogether) -> dict[str, Any]:
    count = len(whole.marks)
    return {
        "height": whole.head_height,
        "least": whole.least,
        "most": whole.greatest,
        "minutes": str(whole.minutes),
        "alone": str(whole.minutes_alone),
        "openings": Phrase("part.opening" if count == 1 else "part.openings", count=str(count)),
    }


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
            text = Phrase("ask.head_line", line=line.name, heads=offs)
            if line.keeping is not UNSET:
                text = Phrase("ask.head_line.keeping", ask=text, **_toll_told(line.keeping))
            yield HouseQuestion(
                code=HEAD_LINE_LEFT,
                ask=Asked.ARCHITECT,
                text=text,
                marks=marks,
                holds=tuple(dict.fromkeys([task.phase for task in waiting if task.mark in marks])),
            )
