"""The lists of a house, each from the advices on its openings in the order of marks."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from jambset.engine.asks import OF_FLOORS, UNDERCUT_TO_ORDER, is_on_unit
from jambset.engine.decide import AFTER_FLOOR, BEFORE_FLOOR, BEFORE_HANGING
from jambset.engine.facts import PULL, PUSH, Facts, duties_of
from jambset.engine.floors import floor_of
from jambset.engine.labour import BENCH
from jambset.engine.tasks import EXTERNAL, LAID, PIECE, TRIM, TRIM_NOW, key_of
from jambset.engine.words import joined, side_word
from jambset.model.advice import (
    Advice,
    Flooring,
    FlooringSide,
    GaugeBlock,
    LeafAdvice,
    LegSetting,
    Minutes,
    Phrase,
    Question,
    Taken,
    Term,
    TransitionAdvice,
)
from jambset.model.house import (
    BlockLot,
    HouseEvent,
    HouseQuestion,
    HouseTask,
    Link,
    OrderLot,
    PieceLot,
    TradeMinutes,
    TrimLine,
    UndercutLine,
)
from jambset.model.recheck import RecheckAdvice
from jambset.model.request import Core, Duty, FrameState, Hinges, Opening
from jambset.model.source import Asked
from jambset.quantity.ticks import Length
from jambset.rules.schema import TEXTILE, Catalogue, Phase

FINISH_TO_START = "FS"
Answer = Advice | RecheckAdvice
"""What is answered of one opening."""


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Key that sorts marks and rooms as people do.

    >>> sorted(["D10", "D2A", "D2", "A1"], key=natural)
    ['A1', 'D2', 'D2A', 'D10']
    """
    parts = re.findall(r"[0-9]+|[^0-9]+", name)
    key = [(0, int(part), "") if part.isascii() and part.isdigit() else (1, 0, part) for part in parts]
    return (*key, (-1, 0, name))


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
        if leg is not UNSET:
            yield leg


def orders(openings: Iterable[Opening], advices: Mapping[str, Advice]) -> Iterator[OrderLot]:
    """Units that can be ordered alike: those still to be ordered first, what waits after the rest, the most of a kind.

    Of what waits, last what is to be ordered once its floors are known, so that whoever counts units counts those too.
    A leaf that is rated, or has to guard against something, is another unit than one of its size that isn't; and so is
    one whose frame is made to other sizes, as they were stated or assumed.
    """
    lots: dict[Ordered, list[str]] = {}
    for opening in openings:
        advice, state = advices[opening.mark], opening.frame.state
        stated = opening.frame.undercut if state is FrameState.TO_ORDER else UNSET
        undercut = advice.order.undercut_to_order if stated is UNSET else stated  # all else was worked out with it
        if undercut is not UNSET or state is FrameState.TO_ORDER:
            waits = state is FrameState.TO_ORDER and (undercut is UNSET or _order_waits(advice))
            unit = ordered(opening, advice.taken, undercut, state=state, waits=waits)
            lots.setdefault(unit, []).append(opening.mark)
    return order_lots(lots)


def order_lots(lots: Mapping[Ordered, Sequence[str]]) -> Iterator[OrderLot]:
    """Lots of units, each with the marks it is for, as answered."""
    for unit, marks in sorted(lots.items(), key=_order_turn):
        yield OrderLot(
            undercut=UNSET if unit.unknown else Length(unit.undercut),
            leaf_width=Length(unit.width),
            leaf_height=Length(unit.height),
            leaf_thickness=Length(unit.thickness),
            head_gap=Length(unit.head_gap),
            head_thickness=Length(unit.head_thickness),
            leg_thickness=Length(unit.leg_thickness),
            core=unit.core,
            leaves=unit.leaves,
            hinges=unit.hinges,
            fire_minutes=unit.fire_minutes or UNSET,
            duties=unit.duties,
            state=unit.state,
            hold=unit.waits,
            units=len(marks),
            marks=tuple(marks),
        )


class Ordered(NamedTuple):
    """What units have in common that can be ordered alike [ticks, min], in the order in which it sorts lots."""

    waits: bool
    unknown: bool
    """Whether its undercut can't be told yet."""
    undercut: int
    width: int
    height: int
    thickness: int
    head_gap: int
    head_thickness: int
    leg_thickness: int
    core: Core
    hinges: Hinges
    fire_minutes: int
    """0 where they aren't stated."""
    duties: tuple[Duty, ...]
    leaves: int
    state: FrameState


def ordered(opening: Opening, taken: Taken, undercut: Length | UnsetType, *, state: FrameState, waits: bool) -> Ordered:
    """The unit of an opening as it is ordered. undercut: left out where it can't be told yet."""
    leaf = opening.leaf
    return Ordered(
        waits=waits,
        unknown=undercut is UNSET,
        undercut=0 if undercut is UNSET else undercut,
        width=leaf.width,
        height=leaf.height,
        thickness=leaf.thickness,
        head_gap=taken.head_gap,
        head_thickness=taken.head_thickness,
        leg_thickness=taken.leg_thickness,
        core=leaf.core,
        hinges=leaf.hinges,
        fire_minutes=leaf.fire_minutes or 0,
        duties=tuple(sorted(duties_of(opening) & GUARDS)),
        leaves=leaf.count,
        state=state,
    )


def _order_turn(lot: tuple[Ordered, Sequence[str]]) -> tuple[bool, bool, bool, int, Ordered]:
    unit, marks = lot
    return (unit.state is not FrameState.TO_ORDER, unit.waits, unit.unknown, -len(marks), unit)


GUARDS = frozenset({Duty.FIRE_LABEL, Duty.SMOKE_CONTROL, Duty.FUEL_BURNING_ROOM, Duty.GARAGE_TO_HOUSE})
"""Duties that the unit itself is made or listed for."""


def _order_waits(advice: Advice) -> bool:
    """Whether somebody answers before a unit is ordered: rules conflict, a question holds it.

    Not one about floors that aren't certain: with a view to those its undercut was chosen.
    """
    asked = [q for q in advice.questions if q.code == UNDERCUT_TO_ORDER or (q.code not in OF_FLOORS and is_on_unit(q))]
    return bool(asked or any(map(is_on_unit, advice.conflicts)))


_WHENS = (BEFORE_HANGING, BEFORE_FLOOR, AFTER_FLOOR)


def is_trimmed(advice: Advice) -> bool:
    """Whether something is cut off a leaf here, now or later."""
    return bool(_cut(advice.leaf) or _first_cut(advice.leaf))


def trims(advices: Iterable[Advice]) -> Iterator[TrimLine]:
    """Leaves in cutting order: on the bench, hung before the floors, after them; of one gauge block together."""
    lines = [line for advice in advices for line in _trims(advice)]
    for place, line in enumerate(sorted(lines, key=_turn), start=1):
        yield replace(line, place=place)


def _turn(line: TrimLine) -> tuple[int, int, int]:
    block = line.gauge_block
    ends = (0, 0) if block is UNSET else (int(block.hinge_end), int(block.free_end))
    return (_WHENS.index(line.when), *ends)


def _trims(advice: Advice) -> Iterator[TrimLine]:
    leaf = advice.leaf
    pair = advice.setting.second_hinge_leg is not UNSET
    gauges: list[GaugeBlock | UnsetType] = [leaf.gauge_block, leaf.second_gauge_block] if pair else [leaf.gauge_block]
    if first := _first_cut(leaf):
        yield from _lines(advice, [UNSET] * len(gauges), trim=first, when=BEFORE_HANGING, where=BENCH)
    if (trim := _cut(leaf)) and leaf.where is not UNSET:
        rest = trim if leaf.trim_rest is UNSET else leaf.trim_rest
        yield from _lines(advice, gauges, trim=rest, when=leaf.when, where=leaf.where)


def _lines(
    advice: Advice, gauges: Sequence[GaugeBlock | UnsetType], *, trim: int, when: str, where: str
) -> Iterator[TrimLine]:
    names = ("first", "second") if len(gauges) > 1 else ("only",)
    last = advice.leaf.when == when
    key = key_of(advice.mark, TRIM if last else TRIM_NOW)
    held = any(task.hold for task in advice.tasks if task.key == key)
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
    return 0 if leaf.trim is UNSET else leaf.trim


def _first_cut(leaf: LeafAdvice) -> int:
    """What comes off before the floors are certain, where more may follow."""
    return 0 if leaf.trim_now is UNSET or leaf.when != AFTER_FLOOR else leaf.trim_now


def undercuts(told: Iterable[tuple[Answer, Flooring]]) -> Iterator[UndercutLine]:
    """What is left to the flooring installer, room by room; sides whose room has no name come last.

    told: what is left at each opening.
    """
    lines = [
        UndercutLine(
            room=side.room,
            mark=answer.mark,
            side=name,
            jamb_undercut=side.jamb_undercut,
            casing_undercut=side.casing_undercut,
            base_height=side.base_height,
            hold=_floor_waits(name, answer),
            note=side.note,
        )
        for answer, flooring in told
        for name, side in ((PULL, flooring.pull_side), (PUSH, flooring.push_side))
    ]
    return iter(sorted(lines, key=lambda line: (line.room is UNSET, natural(_plain(line.room).casefold()))))


def _floor_waits(side: str, answer: Answer) -> bool:
    """Whether the flooring installer waits for an answer at a side: one on the other's floor holds nothing here."""
    asked = [question.pointer for question in answer.questions if Phase.FLOORING in question.holds]
    return any(pointer is UNSET or pointer.startswith(f"#/{side}/") for pointer in asked)


def pieces(advices: Iterable[Advice]) -> Iterator[PieceLot]:
    """Transition pieces that somebody fits, alike ones together; last what isn't known yet."""
    return piece_lots(
        Fitted(advice.mark, advice.transition, advice.taken)
        for advice in advices
        if key_of(advice.mark, PIECE) in [task.key for task in advice.tasks]
    )


class Fitted(NamedTuple):
    """A piece that somebody fits. joint: left out while a floor is undecided. taken: sizes of the opening."""

    mark: str
    joint: TransitionAdvice | UnsetType
    taken: Taken


def piece_lots(fitted: Iterable[Fitted]) -> Iterator[PieceLot]:
    """Pieces, alike ones together; last what isn't known yet."""
    lots: dict[_Fit, list[Fitted]] = {}
    for one in fitted:
        joint, taken = one.joint, one.taken
        piece, step, rise = ("", 0, 0) if joint is UNSET else (joint.piece, int(joint.step), int(joint.rise))
        fit = _Fit(joint is UNSET, piece, taken.leaves, taken.leaf_width, step, rise, _easing(joint))
        lots.setdefault(fit, []).append(one)
    for fit, alike in sorted(lots.items()):
        joint = alike[0].joint
        yield PieceLot(
            piece=UNSET if joint is UNSET else joint.piece,
            title=UNSET if joint is UNSET else joint.title,
            step=UNSET if joint is UNSET else joint.step,
            rise=UNSET if joint is UNSET else joint.rise,
            bevel=UNSET if joint is UNSET or joint.bevel is None else joint.bevel,
            leaf_width=Length(fit.width),
            leaves=fit.leaves,
            count=len(alike),
            marks=tuple([one.mark for one in alike]),
        )


class _Fit(NamedTuple):
    """What pieces have in common that can be bought and cut alike [ticks], in the order in which it sorts lots."""

    unknown: bool
    piece: str
    leaves: int
    width: int
    step: int
    rise: int
    easing: tuple[str, int, int]


def _easing(joint: TransitionAdvice | UnsetType) -> tuple[str, int, int]:
    """Kind, rise and run of a bevel or ramp [ticks], 0 what nobody can tell; what stands upright is the rest."""
    if joint is UNSET or joint.bevel is None:
        return ("", 0, 0)
    return (joint.bevel.kind, joint.bevel.rise, joint.bevel.run or 0)


def questions(advices: Iterable[Answer], also: Iterable[HouseQuestion]) -> Iterator[HouseQuestion]:
    """Each question once, with the marks that wait for it; the most minutes at stake first, then what holds most.

    also: what is asked of the house itself.
    """
    asked: dict[tuple[str, str, Phrase, str], list[tuple[str, Question]]] = {}
    for advice in advices:
        for question in advice.questions:
            asked.setdefault(_same(question, advice), []).append((advice.mark, question))
    return iter(sorted([*map(_merged, asked.values()), *also], key=question_turn))


def room_questions(openings: Iterable[Facts], catalogue: Catalogue) -> Iterator[HouseQuestion]:
    """Of each room whose openings name different floors, whether that is meant, or a change that some of them missed.

    A room is told by its name, as events are.
    """
    rooms: dict[str, tuple[str, dict[_InRoom, list[str]]]] = {}
    for facts in openings:
        for side in facts.sides:
            if side.room is not UNSET and side.layers:
                floor = floor_of(side.layers, catalogue)
                _, floors = rooms.setdefault(slug(side.room), (side.room, {}))
                floors.setdefault(_InRoom(floor.title, floor.nominal, floor.solid), []).append(facts.opening.mark)
    for room, floors in rooms.values():
        if len(floors) > 1:
            named = [_named(floor, marks) for floor, marks in floors.items()]
            yield HouseQuestion(
                code="room_floors_differ",
                ask=Asked.SUPERINTENDENT,
                text=Phrase("ask.room_floors", room=room, floors=joined(named, "part.floors_and")),
                marks=tuple(dict.fromkeys([mark for marks in floors.values() for mark in marks])),
            )


class _InRoom(NamedTuple):
    """What tells the floors of a room apart, as far as an answer goes by it [ticks]."""

    title: str
    nominal: int
    solid: int


def _named(floor: _InRoom, marks: Iterable[str]) -> Phrase:
    thick = Phrase("part.floor_thick", title=Term(floor.title), height=Length(floor.nominal))
    return Phrase("part.floor_at", floor=thick, marks=", ".join(dict.fromkeys(marks)))


def question_turn(question: HouseQuestion) -> tuple[int, int, int, str]:
    """Key that sorts questions: the most minutes at stake first, then what holds most, then what most wait for."""
    return (-(question.minutes_at_stake or 0), -len(question.holds), -len(question.marks), question.code)


def _same(question: Question, advice: Answer) -> tuple[str, str, Phrase, str]:
    """What makes two questions one: their words, and the opening where they are about a room that has no name."""
    place = question.text.values.get("place")
    own = advice.mark if place is not None and "room" not in place.values else ""
    return (question.code, question.ask, question.text, own)


def _merged(found: list[tuple[str, Question]]) -> HouseQuestion:
    first = found[0][1]
    stakes = [q.minutes_at_stake for _, q in found if q.minutes_at_stake is not UNSET]
    return HouseQuestion(
        code=first.code,
        ask=first.ask,
        text=first.text,
        marks=tuple(dict.fromkeys([mark for mark, _ in found])),
        holds=tuple(dict.fromkeys([phase for _, q in found for phase in q.holds])),
        minutes_at_stake=Minutes(sum(stakes)) if stakes else UNSET,
    )


def tasks(advices: Iterable[Answer]) -> Iterator[HouseTask]:
    """Every step of every opening, with its predecessors."""
    for advice in advices:
        outside = _outside(advice)
        for task in advice.tasks:
            links = _after(outside.get(key, key) for key in task.waits_for)
            yield HouseTask(
                key=task.key,
                mark=advice.mark,
                title=task.title,
                trade=task.trade,
                phase=task.phase,
                minutes=task.minutes,
                waits_for=tuple([link.task for link in links]),
                work=f"PT{task.minutes}M",
                links=links,
                hold=task.hold,
                questions=task.questions,
                conflicts=task.conflicts,
            )


def _after(keys: Iterable[str]) -> tuple[Link, ...]:
    return tuple([Link(task=key, relation=FINISH_TO_START) for key in dict.fromkeys(keys)])


def events(advices: Iterable[Advice]) -> Iterator[HouseEvent]:
    """What tasks wait for and no task brings about, each once, in the order in which tasks name it.

    A carpet is laid after the hard floors that it meets, and after the pieces that go before it. A room that isn't
    carpet at all its openings waits for no other's floor, so that nothing waits for itself.
    """
    found: dict[str, HouseEvent] = {}
    steps, floors = dict[str, list[str]](), dict[str, list[str]]()
    hard: set[str] = set()
    for advice in advices:
        outside = _outside(advice)
        for name, key in outside.items():
            found.setdefault(key, _event(name, key, advice))
            for task in advice.tasks:
                if name in task.before:
                    (floors if task.phase == Phase.TRANSITION else steps).setdefault(key, []).append(task.key)
        carpets, others = _by_finish(advice, outside)
        hard.update(others)
        for key in carpets:
            floors.setdefault(key, []).extend(others)
    for key, event in found.items():
        yield replace(event, follows=_after([*steps.get(key, ()), *(() if key in hard else floors.get(key, ()))]))


def _by_finish(advice: Advice, outside: dict[str, str]) -> tuple[list[str], list[str]]:
    """Keys of the events that lay a carpet at an opening, and of those that lay a hard floor."""
    carpets, others = list[str](), list[str]()
    for name, floor in ((LAID + PULL, advice.taken.pull_side), (LAID + PUSH, advice.taken.push_side)):
        if name in outside and floor.layers:
            (carpets if floor.layers[-1].body == TEXTILE else others).append(outside[name])
    return carpets, others


def _outside(advice: Answer) -> dict[str, str]:
    """Events that the tasks of an opening wait for: their names in its advice, and their keys in the house."""
    own = {task.key for task in advice.tasks}
    return {name: _key(name, advice) for task in advice.tasks for name in task.waits_for if name not in own}


def _key(name: str, advice: Answer) -> str:
    """Key of an event: by its room, so that it is one for all openings of it, or by the opening's mark."""
    side, (event, _, at) = _side(name, advice), name.partition(".")
    if side and (room := _plain(side.room)):
        return f"{event}.{slug(room)}"
    return f"{event}.{advice.mark}" + (f".{at}" if at else "")


def _side(name: str, advice: Answer) -> FlooringSide | None:
    """The side of an opening that an event is about; None where it is about the whole."""
    return {PULL: advice.flooring.pull_side, PUSH: advice.flooring.push_side}.get(name.partition(".")[2])


def _plain(room: str | UnsetType) -> str:
    """A room's name with single blanks in it; nothing where it has none."""
    return "" if room is UNSET else " ".join(room.split())


def slug(room: str) -> str:
    """A room's name as a part of keys: one for names alike but for case and blanks, another for any other name.

    Letters and digits of ASCII stay, a blank becomes a hyphen, all else is percent-encoded (UTF-8, RFC 3986
    section 2.1), a hyphen too.

    >>> slug("Bath  1"), slug("Bath-1"), slug("Büro")
    ('bath-1', 'bath%2D1', 'b%C3%BCro')
    """
    plain = _plain(room)
    folded = plain.lower() if plain.isascii() else unicodedata.normalize("NFD", plain).casefold()
    name = folded.encode() if plain.isascii() else unicodedata.normalize("NFC", folded).encode()
    return "".join([chr(byte) if byte in _KEPT else "-" if byte == _BLANK else f"%{byte:02X}" for byte in name])


_KEPT, _BLANK = frozenset(b"abcdefghijklmnopqrstuvwxyz0123456789"), ord(" ")


def _event(name: str, key: str, advice: Advice) -> HouseEvent:
    side, (event, _, at) = _side(name, advice), name.removeprefix(EXTERNAL).partition(".")
    room = _plain(side.room) if side else ""
    place = room or (Phrase("part.at_side", mark=advice.mark, side=side_word(at)) if at else advice.mark)
    return HouseEvent(
        key=key,
        title=Phrase(f"event.{event}", place=place),
        room=room or UNSET,
        mark=UNSET if room else advice.mark,
        follows=(),
    )


def by_trade(advices: Iterable[Answer]) -> Iterator[TradeMinutes]:
    """Minutes of all tasks by trade."""
    minutes: dict[str, int] = {}
    for advice in advices:
        for task in advice.tasks:
            minutes[task.trade] = minutes.get(task.trade, 0) + task.minutes
    for trade, total in sorted(minutes.items()):
        yield TradeMinutes(trade=trade, minutes=total)
