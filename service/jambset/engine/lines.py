"""Rules as they are held against one kind of opening: their lines, and what their checks have in common.

A rule on a height becomes a line for each side it concerns: from which fixed height, to which of the
settled ones, in which sense. The same line draws the bound before the settings are known and takes the
reading after.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from enum import IntEnum, auto
from typing import Any, NamedTuple

import msgspec
from msgspec import UNSET

from jambset.engine.facts import PULL, PUSH
from jambset.engine.kinds import Kind
from jambset.engine.settle import BOTTOM, CUT, FOOT, TOP
from jambset.model.advice import Check, Ratio
from jambset.model.source import NEVER_RELAXED, Force
from jambset.quantity.ticks import INCH, Area, Length, Pressure
from jambset.rules.bounded import LENGTHS
from jambset.rules.schema import FinishKind, Measured, Relation, Rule
from jambset.rules.select import Applied

HEIGHTS = frozenset(
    {
        Measured.FOOT,
        Measured.LEG_COVER,
        Measured.LEG_TRIM,
        Measured.LEAF_BOTTOM,
        Measured.FLOOR_CLEARANCE,
        Measured.PIECE_CLEARANCE,
        Measured.TRIM,
        Measured.HEAD_SHIM,
        Measured.CLEAR_HEIGHT,
        Measured.OPENING_HEIGHT,
    }
)
"""What is measured from a fixed height to the foot, the leaf bottom, the trim or the top of the unit."""


class Fixed(IntEnum):
    """The fixed heights of an opening that rules are measured from; `jambset.engine.bounds` fills them in.

    From the header on they are the unit's as well; those before follow from floors and subfloor alone.
    """

    ZERO = 0
    LOW_LEG = auto()
    HIGH_LEG = auto()
    PIECE = auto()
    PULL_UNDER = auto()
    PUSH_UNDER = auto()
    PULL_TOP = auto()
    PUSH_TOP = auto()
    PULL_LEAST = auto()
    PUSH_LEAST = auto()
    PULL_COVER = auto()
    PUSH_COVER = auto()
    PULL_BED = auto()
    PUSH_BED = auto()
    HEADER = auto()
    STOP = auto()
    HEAD = auto()


class Line(NamedTuple):
    """A rule on a height, on one side: sense * (settled height - fixed height) against the limit, in ticks.

    on: which height is settled. shift: what the fixed height moves by to give the bound. cover: the bound is
    never drawn below the lower leg's subfloor, for no leg can stand lower.
    """

    side: str
    on: int
    lower: bool
    sense: int
    fixed: int
    shift: int
    cover: bool


class Ruling(msgspec.Struct, frozen=True, eq=False):
    """A rule with its lines and all that its checks have in common.

    unread: its checks while nothing can be read. value: what a reading is answered as. broken: the status of a
    check that isn't met. asks: it is a question. slack: by how much a reading may miss it and count as met [ticks].
    """

    applied: Applied
    lines: tuple[Line, ...]
    unread: tuple[Check, ...]
    value: Callable[[Any], Any] | None
    limit: Any
    rule: str
    measured: Measured
    at_least: bool
    broken: str
    asks: bool
    slack: int


class Place(NamedTuple):
    """Where a rule is read: along one of its lines, or, with nothing as `on`, all of it by itself.

    unread: what is answered while nothing can be read.
    """

    ruling: Ruling
    rule: str
    side: str
    on: int | None
    sense: int
    fixed: int
    cover: bool
    unread: tuple[Check, ...]


class Drive(NamedTuple):
    """A bound to be: of a rule on a height along one of its lines, or, with nothing as `on`, on the air.

    The rest is as in Line.
    """

    rule: str
    on: int | None
    lower: bool
    fixed: int
    shift: int
    cover: bool
    applied: Applied


BELOW = frozenset({Measured.FLOOR_CLEARANCE, Measured.LEAF_BOTTOM, Measured.PIECE_CLEARANCE})
"""What is measured from the leaf's bottom down."""
AIR = frozenset({Measured.ROOM_PRESSURE, Measured.FREE_AREA})
"""What is measured of the air that passes the closed door."""
EDGES = frozenset(
    {
        Measured.VERTICAL_EDGE,
        Measured.BEVEL_SLOPE,
        Measured.UNRAMPED_CHANGE,
        Measured.RAMP_SLOPE,
        Measured.THRESHOLD_HEIGHT,
    }
)
"""What is measured of the change in level under the closed leaf."""
OF_FLOORS = EDGES | {Measured.PILE}
"""What two floors come to whatever the setting."""
VALUES: dict[Measured, Callable[[Any], Any]] = {
    **dict.fromkeys(LENGTHS, Length),
    **dict.fromkeys((Measured.FREE_AREA, Measured.DISTURBED_AREA), Area),
    **dict.fromkeys((Measured.BEVEL_SLOPE, Measured.RAMP_SLOPE), Ratio),
    Measured.ROOM_PRESSURE: Pressure,
}
"""What the reading of each measured quantity is answered as; the others are answered by their status alone."""
FAIL, RELAXED, NOT_CHECKED = "fail", "relaxed", "not_checked"
MISSED = frozenset({FAIL, RELAXED})
"""Statuses of a check that isn't met."""
HAIR = INCH // 32 - 1
"""What nobody scribes a leg for, less than 1/32 in [ticks]: 9 mm of floor under legs at 3/8 in. Legs that miss a rule
of practice, or a wish, by no more count as meeting it; common practice, no source."""


def is_never_relaxed(rule: Rule) -> bool:
    """Whether a rule that can't be met is for somebody to decide: by its force, or as a matter of construction."""
    return rule.binding or rule.force in NEVER_RELAXED


def is_firm(rule: Rule) -> bool:
    """Whether a rule is more than a wish; a row of practice that nothing is moved for is there to compare with."""
    return is_never_relaxed(rule) or (rule.force is not Force.PREFERENCE and rule.drives)


def ruling(applied: Applied, kind: Kind) -> Ruling:
    """A rule in force, with its lines and unread checks for a kind of opening."""
    value = VALUES.get(applied.rule.measured)
    limit = UNSET if value is None or applied.limit is None else value(applied.limit)
    lines = tuple(_lines(applied, kind)) if applied.rule.measured in HEIGHTS and applied.limit is not None else ()
    unread = tuple(_unread(applied, side, limit) for side in _sides_unread(applied, kind, lines))
    rule, relaxed = applied.rule, not is_never_relaxed(applied.rule)
    return Ruling(
        applied=applied,
        lines=lines,
        unread=unread,
        value=value if limit is not UNSET else None,
        limit=limit,
        rule=rule.id,
        measured=rule.measured,
        at_least=rule.relation is Relation.AT_LEAST,
        broken=RELAXED if relaxed else FAIL,
        asks=rule.relation is Relation.ASK,
        slack=HAIR if relaxed and rule.measured is Measured.LEG_COVER else 0,
    )


def places(ruling: Ruling, *, cut: bool) -> Iterator[Place]:
    """Where a rule is read of a leaf that is, or isn't, cut; what is cut off legs by itself, though it has a line."""
    rule = ruling.applied.rule
    if rule.when.trimmed not in (UNSET, cut):
        return
    if not ruling.lines or rule.measured is Measured.LEG_TRIM:
        yield Place(ruling, rule.id, "", None, 0, 0, False, ruling.unread)
        return
    for line, unread in zip(ruling.lines, ruling.unread, strict=True):
        side, on, _, sense, fixed, _, cover = line
        yield Place(ruling, rule.id, side, on, sense, fixed, cover, (unread,))


def drives(ruling: Ruling) -> Iterator[Drive]:
    """What a rule bounds: nothing where it is on a height that this kind of opening lacks."""
    for line in ruling.lines:
        yield Drive(ruling.rule, line.on, line.lower, line.fixed, line.shift, line.cover, ruling.applied)
    if ruling.measured in AIR:
        yield Drive(ruling.rule, None, True, 0, 0, False, ruling.applied)


def _unread(applied: Applied, side: str, limit: Any) -> Check:
    rule = applied.rule
    return Check(
        rule=rule.id, force=rule.force, status=NOT_CHECKED, quantity=rule.measured, side=side or UNSET, limit=limit
    )


_ONE_SIDED = HEIGHTS - {Measured.FOOT, Measured.LEG_COVER, Measured.LEAF_BOTTOM, Measured.FLOOR_CLEARANCE}


def _sides_unread(applied: Applied, kind: Kind, lines: tuple[Line, ...]) -> Iterator[str]:
    """Sides of the checks that a rule gives while nothing can be read; "" where it concerns the whole opening."""
    rule = applied.rule
    if lines:
        yield from (line.side for line in lines)
    elif rule.relation is Relation.ASK or rule.measured not in HEIGHTS:
        if rule.when.finish in (UNSET, kind.pull, kind.push):
            yield ""
    elif rule.measured in _ONE_SIDED:
        yield ""
    elif rule.when.finish is FinishKind.UNDECIDED:
        yield from (side for side, finish in ((PULL, kind.pull), (PUSH, kind.push)) if finish is FinishKind.UNDECIDED)


def _lines(applied: Applied, kind: Kind) -> Iterator[Line]:
    measured = applied.rule.measured
    if measured in (Measured.FOOT, Measured.LEG_COVER):
        return _leg_lines(applied, kind)
    if measured in _FLOORS:
        return _floor_lines(applied, kind)
    on, fixed, sense, told = {
        Measured.TRIM: (CUT, Fixed.ZERO, 1, True),
        Measured.LEG_TRIM: (FOOT, Fixed.ZERO, -1, True),
        Measured.HEAD_SHIM: (TOP, Fixed.HEADER, -1, kind.header),
        Measured.PIECE_CLEARANCE: (BOTTOM, Fixed.PIECE, 1, kind.decided),
        Measured.CLEAR_HEIGHT: (TOP, Fixed.STOP, 1, kind.decided),
        Measured.OPENING_HEIGHT: (TOP, Fixed.HEAD, 1, kind.decided),
    }[measured]
    return iter([_line(applied, "", on, fixed, sense=sense)] if told else [])


def _leg_lines(applied: Applied, kind: Kind) -> Iterator[Line]:
    finish, cover = applied.rule.when.finish, applied.rule.measured is Measured.LEG_COVER
    for place, (side, there) in enumerate(((PULL, kind.pull), (PUSH, kind.push))):
        if there is not FinishKind.UNDECIDED and finish in (UNSET, there):
            fixed = (Fixed.PULL_COVER if cover else Fixed.PULL_BED) + place
            yield _line(applied, side, FOOT, fixed, sense=-1 if cover else 1, cover=cover)


def _floor_lines(applied: Applied, kind: Kind) -> Iterator[Line]:
    rule = applied.rule
    most = rule.relation is Relation.AT_MOST and rule.measured is Measured.FLOOR_CLEARANCE
    first = Fixed.PULL_LEAST if most else _FLOORS[rule.measured]
    for place, (side, there) in enumerate(((PULL, kind.pull), (PUSH, kind.push))):
        spared = rule.when.not_glued and side in kind.glued
        if there is not FinishKind.UNDECIDED and rule.when.finish in (UNSET, there) and not spared:
            yield _line(applied, side, BOTTOM, first + place)


_FLOORS = {Measured.LEAF_BOTTOM: Fixed.PULL_UNDER, Measured.FLOOR_CLEARANCE: Fixed.PULL_TOP}


def _line(applied: Applied, side: str, on: int, fixed: int, *, sense: int = 1, cover: bool = False) -> Line:
    at_least = applied.rule.relation is Relation.AT_LEAST
    return Line(side, on, at_least is (sense > 0), sense, int(fixed), sense * int(applied.limit or 0), cover)
