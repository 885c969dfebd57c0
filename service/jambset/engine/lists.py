"""The lists of a house, each from the advices on its openings in the order of marks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import UNSET, UnsetType

from jambset.engine.facts import PULL, PUSH
from jambset.model.advice import Advice, GaugeBlock, LeafAdvice, LegSetting, Minutes, Question, Task
from jambset.model.house import BlockLot, HouseQuestion, HouseTask, Link, OrderLot, TradeMinutes, TrimLine, UndercutLine
from jambset.model.request import FrameState, Opening
from jambset.quantity.ticks import Length

EXTERNAL = "external:"
FINISH_TO_START = "FS"


def blocks(openings: Iterable[Opening], advices: Mapping[str, Advice]) -> Iterator[BlockLot]:
    """Blocks by size: how many of each, and for which openings; none for frames that are set."""
    lots: dict[int, list[str]] = {}
    for opening in openings:
        for leg in _legs(advices[opening.mark]):
            if leg.block and opening.frame.state is not FrameState.SET:
                lots.setdefault(leg.block, []).append(opening.mark)
    for size, marks in sorted(lots.items()):
        yield BlockLot(size=Length(size), count=len(marks), marks=tuple(dict.fromkeys(marks)))


def _legs(advice: Advice) -> Iterator[LegSetting]:
    for leg in (advice.setting.hinge_leg, advice.setting.strike_leg, advice.setting.second_hinge_leg):
        if not isinstance(leg, UnsetType):
            yield leg


def orders(openings: Iterable[Opening], advices: Mapping[str, Advice]) -> Iterator[OrderLot]:
    """Units that can be ordered alike, the most of a kind first."""
    lots: dict[tuple[Any, ...], list[str]] = {}
    for opening in openings:
        undercut, leaf = advices[opening.mark].order.undercut_to_order, opening.leaf
        if not isinstance(undercut, UnsetType):
            key = (undercut, leaf.width, leaf.height, leaf.thickness, leaf.core, leaf.count, opening.frame.state)
            lots.setdefault(key, []).append(opening.mark)
    for (undercut, width, height, thickness, core, leaves, state), marks in sorted(
        lots.items(), key=lambda lot: (-len(lot[1]), lot[0])
    ):
        yield OrderLot(
            undercut=undercut,
            leaf_width=Length(width),
            leaf_height=Length(height),
            leaf_thickness=Length(thickness),
            core=core,
            leaves=leaves,
            state=state,
            units=len(marks),
            marks=tuple(marks),
        )


_WHENS = ("before_hanging", "before_floor", "after_floor")


def is_trimmed(advice: Advice) -> bool:
    """Whether something is cut off a leaf here, now or later."""
    return bool(_cut(advice.leaf) or _first_cut(advice.leaf))


def trims(advices: Iterable[Advice]) -> Iterator[TrimLine]:
    """Leaves in cutting order: on the bench, hung before the floors, after them; of one gauge block together."""
    lines = [line for advice in advices for line in _trims(advice)]
    for place, (_, found) in enumerate(sorted(enumerate(lines), key=lambda one: (*_turn(one[1]), one[0])), start=1):
        yield TrimLine(
            place=place,
            mark=found.mark,
            leaf=found.leaf,
            trim=found.trim,
            when=found.when,
            where=found.where,
            gauge_block=found.gauge_block,
            height_after=found.height_after,
            hold=found.hold,
        )


def _turn(line: TrimLine) -> tuple[int, int, int]:
    block = line.gauge_block
    ends = (0, 0) if isinstance(block, UnsetType) else (int(block.hinge_end), int(block.free_end))
    return (_WHENS.index(line.when), *ends)


def _trims(advice: Advice) -> Iterator[TrimLine]:
    leaf = advice.leaf
    pair = not isinstance(advice.setting.second_hinge_leg, UnsetType)
    gauges: list[GaugeBlock | UnsetType] = [leaf.gauge_block, leaf.second_gauge_block] if pair else [leaf.gauge_block]
    if first := _first_cut(leaf):
        yield from _lines(advice, [UNSET] * len(gauges), trim=first, when=_WHENS[0], where="bench")
    if (trim := _cut(leaf)) and not isinstance(leaf.where, UnsetType):
        yield from _lines(advice, gauges, trim=trim - first, when=leaf.when, where=leaf.where)


def _lines(
    advice: Advice, gauges: Sequence[GaugeBlock | UnsetType], *, trim: int, when: str, where: str
) -> Iterator[TrimLine]:
    names = ("first", "second") if len(gauges) > 1 else ("only",)
    step = "trim-leaf-first" if when == _WHENS[0] and advice.leaf.when != when else "trim-leaf"
    held = any(task.hold for task in advice.tasks if task.key == f"{advice.mark}.{step}")
    last = advice.leaf.when == when
    for name, gauge in zip(names, gauges, strict=True):
        yield TrimLine(
            place=0,
            mark=advice.mark,
            leaf=name,
            trim=Length(trim),
            when=when,
            where=where,
            gauge_block=gauge,
            height_after=advice.leaf.height_after if last else UNSET,
            hold=held,
        )


def _cut(leaf: LeafAdvice) -> int:
    return 0 if isinstance(leaf.trim, UnsetType) else leaf.trim


def _first_cut(leaf: LeafAdvice) -> int:
    """What comes off before the floors are certain, where more may follow."""
    return 0 if isinstance(leaf.trim_now, UnsetType) or leaf.when != _WHENS[2] else leaf.trim_now


def undercuts(advices: Iterable[Advice]) -> Iterator[UndercutLine]:
    """What is left to the flooring installer, room by room; sides whose room has no name come last."""
    lines = [
        UndercutLine(
            room=side.room,
            mark=advice.mark,
            side=name,
            jamb_undercut=side.jamb_undercut,
            casing_undercut=side.casing_undercut,
            base_height=side.base_height,
            note=side.note,
        )
        for advice in advices
        for name, side in ((PULL, advice.flooring.pull_side), (PUSH, advice.flooring.push_side))
    ]
    return iter(sorted(lines, key=lambda line: (isinstance(line.room, UnsetType), str(line.room))))


def questions(advices: Iterable[Advice]) -> Iterator[HouseQuestion]:
    """Each question once, with the marks that wait for it; the most minutes at stake first, then what holds most."""
    asked: dict[tuple[Any, ...], list[tuple[str, Question]]] = {}
    for advice in advices:
        for question in advice.questions:
            asked.setdefault(_same(question, advice), []).append((advice.mark, question))
    merged = [_merged(found) for found in asked.values()]
    return iter(sorted(merged, key=lambda q: (-(q.minutes_at_stake or 0), -len(q.holds), -len(q.marks), q.code)))


def _same(question: Question, advice: Advice) -> tuple[Any, ...]:
    """What makes two questions one: their words, and the opening where they are about a room that has no name."""
    place = question.text.values.get("place")
    own = advice.mark if place is not None and "room" not in place.values else ""
    return (question.code, question.ask, question.text, own)


def _merged(found: list[tuple[str, Question]]) -> HouseQuestion:
    first = found[0][1]
    stakes = [q.minutes_at_stake for _, q in found if not isinstance(q.minutes_at_stake, UnsetType)]
    return HouseQuestion(
        code=first.code,
        ask=first.ask,
        text=first.text,
        marks=tuple(dict.fromkeys([mark for mark, _ in found])),
        holds=tuple(dict.fromkeys([phase for _, q in found for phase in q.holds])),
        minutes_at_stake=Minutes(sum(stakes)) if stakes else UNSET,
    )


def tasks(advices: Iterable[Advice]) -> Iterator[HouseTask]:
    """Every step of every opening, with its predecessors."""
    for advice in advices:
        for task in advice.tasks:
            yield HouseTask(
                key=task.key,
                mark=advice.mark,
                title=task.title,
                trade=task.trade,
                phase=task.phase,
                work=f"PT{task.minutes}M",
                links=tuple([Link(task=_event(key, advice), relation=FINISH_TO_START) for key in task.waits_for]),
                hold=task.hold,
                questions=task.questions,
                conflicts=task.conflicts,
            )


def _event(key: str, advice: Advice) -> str:
    """An event outside, told apart from those of other openings: by its room, or by the opening's mark.

    >>> re.sub(r"[^a-z0-9]+", "-", "Bedroom 2".lower())
    'bedroom-2'
    """
    if not key.startswith(EXTERNAL):
        return key
    name, _, side = key.partition(".")
    room = UNSET if not side else getattr(advice.flooring, side).room
    if isinstance(room, UnsetType):
        return f"{name}.{advice.mark}" + (f".{side}" if side else "")
    return f"{name}.{re.sub(r'[^a-z0-9]+', '-', room.lower()).strip('-') or advice.mark}"


def by_trade(advices: Iterable[Advice]) -> Iterator[TradeMinutes]:
    """Minutes of all tasks by trade."""
    minutes: dict[str, int] = {}
    for task in _all_tasks(advices):
        minutes[task.trade] = minutes.get(task.trade, 0) + task.minutes
    for trade, total in sorted(minutes.items()):
        yield TradeMinutes(trade=trade, minutes=total)


def _all_tasks(advices: Iterable[Advice]) -> Iterator[Task]:
    for advice in advices:
        yield from advice.tasks
