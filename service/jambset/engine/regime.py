"""The rules that hold for a kind of opening, sorted and digested once and shared by all openings of the kind.

A kind is everything the conditions of rules ask besides duties and date: the core, what the rooms are
for, the building, which finishes meet, the project's own values. No height is in it, so the doors of a
house share a handful of kinds.

A rule on a height becomes a line for each side it concerns: from which fixed height, to which of the
settled ones, in which sense. The same line draws the bound before the settings are known and takes the
reading after.
"""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterator
from enum import IntEnum, auto
from functools import lru_cache
from typing import Any, NamedTuple

import msgspec
from msgspec import UNSET, UnsetType

from jambset.engine.facts import PULL, PUSH, Facts
from jambset.engine.settle import BOTTOM, CUT, FOOT, TOP
from jambset.model.advice import Caution, Check, Citation, Phrase, Ratio
from jambset.model.request import Building, Core, ProjectRules, RoomUse
from jambset.model.source import NEVER_RELAXED, STRENGTH, Asked, Force, Verified
from jambset.quantity.ticks import Area, Length, Pressure
from jambset.rules.schema import LENGTHS, FinishKind, Measured, Relation, Rule, Topic, When
from jambset.rules.select import Applied, Selection, placed

OWN_SOURCE = "project."
"""Prefix of the ids under which the caller's own rules are answered."""
PRESSURE_KEY = "pressure_limit"
LEVELLED = frozenset({Relation.AT_LEAST, Relation.AT_MOST})
HEIGHTS = frozenset(
    {
        Measured.FOOT,
        Measured.LEG_COVER,
        Measured.LEAF_BOTTOM,
        Measured.FLOOR_CLEARANCE,
        Measured.PIECE_CLEARANCE,
        Measured.TRIM,
        Measured.HEAD_SHIM,
        Measured.CLEAR_HEIGHT,
    }
)
"""What is measured from a fixed height to the foot, the leaf bottom, the trim or the top of the unit."""
DRIVING = HEIGHTS | {Measured.FREE_AREA, Measured.ROOM_PRESSURE}
EASING = frozenset({Measured.VERTICAL_EDGE, Measured.BEVEL_SLOPE})
"""What rules on an eased edge bound; without one of them an edge is left as the piece is."""
AIR_ORDER = (True, STRENGTH[Force.PREFERENCE], 30, "")
"""Air can also be moved by a grille, so a pressure rule of any force lifts the leaf only as a preference does."""


class Fixed(IntEnum):
    """The fixed heights of an opening that rules are measured from; `jambset.engine.bounds` fills them in."""

    ZERO = 0
    LOW_LEG = auto()
    HEADER = auto()
    PIECE = auto()
    STOP = auto()
    PULL_UNDER = auto()
    PUSH_UNDER = auto()
    PULL_TOP = auto()
    PUSH_TOP = auto()
    PULL_LEAST = auto()
    PUSH_LEAST = auto()
    PULL_COVER = auto()
    PUSH_COVER = auto()
    PULL_HARD_COVER = auto()
    PUSH_HARD_COVER = auto()
    PULL_CARPET_COVER = auto()
    PUSH_CARPET_COVER = auto()


_COVER = {UNSET: Fixed.PULL_COVER, FinishKind.HARD: Fixed.PULL_HARD_COVER, FinishKind.CARPET: Fixed.PULL_CARPET_COVER}


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
    check that isn't met. trimmed: whether it holds only for leaves that are, or aren't, cut. asks: it is a question.
    """

    applied: Applied
    lines: tuple[Line, ...]
    unread: tuple[Check, ...]
    value: Callable[[Any], Any] | None
    limit: Any
    rule: str
    force: str
    measured: Measured
    at_least: bool
    broken: str
    trimmed: bool | None
    asks: bool


class Kind(NamedTuple):
    """What the conditions of rules ask of an opening. flow: [m³/s], None unless a rule asks for it.

    pull, push: the named finish; *_may: every finish that may come. header: whether its height is known.
    """

    pull: FinishKind
    push: FinishKind
    pull_may: frozenset[FinishKind]
    push_may: frozenset[FinishKind]
    header: bool
    core: Core
    pull_use: RoomUse | UnsetType
    push_use: RoomUse | UnsetType
    building: Building
    natural_draft: bool | UnsetType
    flow: float | None
    project_rules: ProjectRules
    pressure_limit: float | None

    @property
    def decided(self) -> bool:
        """Whether both floors are named."""
        return FinishKind.UNDECIDED not in (self.pull, self.push)


class Regime(msgspec.Struct, frozen=True, eq=False):
    """The rules in force for one kind, strongest first, and what the steps of the engine ask of them."""

    rules: tuple[Applied, ...]
    checked: tuple[Ruling, ...]
    """Those that are held against the result."""
    driving: tuple[Ruling, ...]
    """Those that move the settings, in the order in which they are held to."""
    by_id: dict[str, Applied]
    citations: tuple[tuple[str, Citation], ...]
    """One a rule id, strongest first."""
    cautions: tuple[tuple[Applied, Caution], ...]
    pressure_limit: float | None
    """The least room pressure allowed [Pa]."""
    greatest_gap: int
    """The widest gap above a finish that a leaf is lifted to for air's sake [ticks]; 0 without such a rule."""
    gap_caps: tuple[str, ...]
    """Rules never relaxed that set this widest gap."""
    barred: bool
    """Whether a rule forbids the air that this opening is asked to pass."""
    eased: bool
    head_space: int
    """Space wanted over the head [ticks]."""
    head_rules: tuple[Applied, ...]
    """The rules on the space over the head."""
    prescribed: tuple[Applied, ...]
    """The rules on a grille sized by the flow alone."""
    trim_limit: int | None
    accepted: dict[FinishKind, int]
    """Least clearance still accepted over a finish [ticks]."""

    def of(self, *measured: Measured) -> tuple[Applied, ...]:
        """The rules that bound any of some quantities."""
        return _of(self.rules, *measured)


def _of(rules: tuple[Applied, ...], *measured: Measured) -> tuple[Applied, ...]:
    return tuple(a for a in rules if a.rule.measured in measured)


def kind_of(facts: Facts, selection: Selection) -> Kind:
    """The kind of an opening, for rules selected for its place, duties and date."""
    opening = facts.opening
    air = opening.air
    flow = air.supply_flow
    return Kind(
        pull=facts.pull.kind,
        push=facts.push.kind,
        pull_may=frozenset([floor.kind for floor in facts.pull.floors]),
        push_may=frozenset([floor.kind for floor in facts.push.floors]),
        header=facts.header is not None,
        core=opening.leaf.core,
        pull_use=opening.pull_side.use,
        push_use=opening.push_side.use,
        building=opening.building,
        natural_draft=air.natural_draft_appliance,
        flow=None if flow is UNSET or not selection.asks_flow else float(flow),
        project_rules=opening.project_rules,
        pressure_limit=None if air.pressure_limit is UNSET else float(air.pressure_limit),
    )


@lru_cache(maxsize=512)
def regime(selection: Selection, kind: Kind) -> Regime:
    """Rules of a selection that apply to a kind, the project's own values in the place of practice and preference."""
    rules = tuple(sorted(_in_force(selection, kind), key=lambda a: a.order))
    clearances = [a for a in rules if a.rule.measured is Measured.FLOOR_CLEARANCE]
    rulings = [_ruling(a, kind) for a in rules]
    greatest_gap = int(min(_limits(clearances, Measured.FLOOR_CLEARANCE, Relation.AT_MOST), default=0))
    return Regime(
        rules=rules,
        checked=tuple(r for r in rulings if r.applied.rule.relation is not Relation.CAUTION),
        driving=tuple(sorted((r for r in rulings if _drives(r.applied)), key=lambda r: _turn(r.applied))),
        by_id={a.rule.id: a for a in rules},
        citations=tuple({a.rule.id: a.citation for a in rules}.items()),
        cautions=tuple((a, _caution(a.rule)) for a in rules if a.rule.relation is Relation.CAUTION),
        pressure_limit=min(_limits(rules, Measured.ROOM_PRESSURE), default=None),
        greatest_gap=greatest_gap,
        gap_caps=tuple(
            a.rule.id
            for a in clearances
            if a.rule.relation is Relation.AT_MOST and a.limit == greatest_gap and a.rule.force in NEVER_RELAXED
        ),
        barred=any(a.rule.relation is Relation.PROHIBITED for a in rules),
        eased=any(a.rule.measured in EASING for a in rules),
        head_rules=_of(rules, Measured.HEAD_SHIM),
        prescribed=_of(rules, Measured.GRILLE_AREA_PER_FLOW, Measured.GRILLE_UNDERCUT),
        head_space=int(max(_limits(rules, Measured.HEAD_SHIM), default=0)),
        trim_limit=min((int(limit) for limit in _limits(rules, Measured.TRIM)), default=None),
        accepted={finish: max(_accepted(clearances, finish), default=0) for finish in FinishKind},
    )


def _in_force(selection: Selection, kind: Kind) -> Iterator[Applied]:
    own = {name: value for name, value in msgspec.structs.asdict(kind.project_rules).items() if value is not UNSET}
    for applied in selection.rules:
        key = applied.rule.project_key
        if not meets(applied.rule.when, kind):
            continue
        if key not in own:
            yield applied
        elif applied.rule.grade != "accepted":
            yield _owned(applied.rule, own[str(key)])
    if kind.pressure_limit is not None:
        yield _own_pressure(kind.pressure_limit)


def meets(when: When, kind: Kind) -> bool:
    """Whether the conditions on building, leaf, rooms and air hold; duties were met when rules were selected."""
    building, use = kind.building, kind.building.use
    year = building.year_built
    return (
        (not when.cores or kind.core in when.cores)
        and (not when.uses or kind.pull_use in when.uses or kind.push_use in when.uses)
        and (not when.buildings or use in when.buildings)
        and use not in when.not_buildings
        and (isinstance(when.built_before, UnsetType) or (not isinstance(year, UnsetType) and year < when.built_before))
        and when.existing_threshold in (UNSET, building.existing_threshold)
        and when.natural_draft in (UNSET, kind.natural_draft)
        and _meets_flow(when, kind.flow)
    )


def _meets_flow(when: When, flow: float | None) -> bool:
    if flow is None:  # unknown: the rule for small flows is the stricter one
        return isinstance(when.flow_at_least, UnsetType)
    return (isinstance(when.flow_at_least, UnsetType) or flow >= when.flow_at_least) and (
        isinstance(when.flow_below, UnsetType) or flow < when.flow_below
    )


VALUES: dict[Measured, Callable[[Any], Any]] = {
    **dict.fromkeys(LENGTHS, Length),
    **dict.fromkeys((Measured.FREE_AREA, Measured.DISTURBED_AREA), Area),
    **dict.fromkeys((Measured.BEVEL_SLOPE, Measured.RAMP_SLOPE), Ratio),
    Measured.ROOM_PRESSURE: Pressure,
}
"""What the reading of each measured quantity is answered as; the others are answered by their status alone."""
FAIL, RELAXED, NOT_CHECKED = "fail", "relaxed", "not_checked"


def _ruling(applied: Applied, kind: Kind) -> Ruling:
    value = VALUES.get(applied.rule.measured)
    limit = UNSET if value is None or applied.limit is None else value(applied.limit)
    lines = tuple(_lines(applied, kind)) if applied.rule.measured in HEIGHTS and applied.limit is not None else ()
    unread = tuple(_unread(applied, side, limit) for side in _sides_unread(applied, kind, lines))
    rule = applied.rule
    return Ruling(
        applied=applied,
        lines=lines,
        unread=unread,
        value=value if limit is not UNSET else None,
        limit=limit,
        rule=rule.id,
        force=rule.force,
        measured=rule.measured,
        at_least=rule.relation is Relation.AT_LEAST,
        broken=FAIL if rule.force in NEVER_RELAXED or rule.binding else RELAXED,
        trimmed=None if isinstance(rule.when.trimmed, UnsetType) else rule.when.trimmed,
        asks=rule.relation is Relation.ASK,
    )


def _unread(applied: Applied, side: str, limit: Any) -> Check:
    rule = applied.rule
    return Check(
        rule=rule.id, force=rule.force, status=NOT_CHECKED, quantity=rule.measured, side=side or UNSET, limit=limit
    )


_ONE_SIDED = frozenset({Measured.TRIM, Measured.PIECE_CLEARANCE, Measured.HEAD_SHIM, Measured.CLEAR_HEIGHT})


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
        Measured.HEAD_SHIM: (TOP, Fixed.HEADER, -1, kind.header),
        Measured.PIECE_CLEARANCE: (BOTTOM, Fixed.PIECE, 1, kind.decided),
        Measured.CLEAR_HEIGHT: (TOP, Fixed.STOP, 1, kind.decided),
    }[measured]
    return iter([_line(applied, "", on, fixed, sense=sense)] if told else [])


def _leg_lines(applied: Applied, kind: Kind) -> Iterator[Line]:
    finish, cover = applied.rule.when.finish, applied.rule.measured is Measured.LEG_COVER
    for place, (side, may) in enumerate(((PULL, kind.pull_may), (PUSH, kind.push_may))):
        if may and (finish is UNSET or finish in may):
            fixed = _COVER[finish] + place if cover else Fixed.LOW_LEG
            yield _line(applied, side, FOOT, fixed, sense=-1 if cover else 1, cover=cover)


def _floor_lines(applied: Applied, kind: Kind) -> Iterator[Line]:
    rule = applied.rule
    most = rule.relation is Relation.AT_MOST and rule.measured is Measured.FLOOR_CLEARANCE
    first = Fixed.PULL_LEAST if most else _FLOORS[rule.measured]
    for place, (side, there) in enumerate(((PULL, kind.pull), (PUSH, kind.push))):
        if there is not FinishKind.UNDECIDED and rule.when.finish in (UNSET, there):
            yield _line(applied, side, BOTTOM, first + place)


_FLOORS = {Measured.LEAF_BOTTOM: Fixed.PULL_UNDER, Measured.FLOOR_CLEARANCE: Fixed.PULL_TOP}


def _line(applied: Applied, side: str, on: int, fixed: int, *, sense: int = 1, cover: bool = False) -> Line:
    at_least = applied.rule.relation is Relation.AT_LEAST
    return Line(side, on, at_least is (sense > 0), sense, int(fixed), sense * int(applied.limit or 0), cover)


def _drives(applied: Applied) -> bool:
    rule = applied.rule
    return rule.drives and rule.relation in LEVELLED and rule.measured in DRIVING


def _turn(applied: Applied) -> tuple[bool, int, int, str]:
    return AIR_ORDER if applied.rule.measured is Measured.ROOM_PRESSURE else applied.order


def _limits(
    rules: tuple[Applied, ...] | list[Applied], measured: Measured, relation: Relation | None = None
) -> Iterator[float]:
    for a in rules:
        if a.rule.measured is measured and a.limit is not None and relation in (None, a.rule.relation):
            yield a.limit


def _accepted(clearances: list[Applied], finish: FinishKind) -> Iterator[int]:
    for a in clearances:
        wish = a.rule.grade == "wanted" and not a.rule.id.startswith(OWN_SOURCE)
        if a.rule.relation is Relation.AT_LEAST and a.rule.when.finish in (UNSET, finish) and not wish:
            yield int(a.limit or 0)


def _caution(rule: Rule) -> Caution:
    return Caution(code=rule.id, text=Phrase("quote", text=rule.text), rule=rule.id)


def _owned(rule: Rule, value: Length) -> Applied:
    key = str(rule.project_key)
    own = msgspec.structs.replace(rule, id=OWN_SOURCE + key, force=Force.PROJECT, verified=Verified.NONE, length=value)
    return placed(own, _own_citation(own, f"#/project_rules/{key}"))


def _own_pressure(most: float) -> Applied:
    rule = Rule(
        id=OWN_SOURCE + PRESSURE_KEY,
        title="Pressure limit of the project",
        topic=Topic.AIR,
        force=Force.PROJECT,
        document="project",
        editions=(),
        verified=Verified.NONE,
        last_checked=datetime.date.min,
        text="The pressure across the closed door stays within what this project allows.",
        measured=Measured.ROOM_PRESSURE,
        relation=Relation.AT_MOST,
        pressure=Pressure(most),
        decides=Asked.HVAC_CONTRACTOR,
    )
    return placed(rule, _own_citation(rule, "#/air/pressure_limit"))


def _own_citation(rule: Rule, pointer: str) -> Citation:
    return Citation(
        rule=rule.id,
        document="The project's own rules",
        clause=pointer,
        edition="as sent",
        force=rule.force,
        verified=rule.verified,
    )
