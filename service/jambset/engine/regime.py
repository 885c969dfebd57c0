"""The rules in force for a kind of opening, sorted and digested once and shared by all openings of the kind."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from functools import lru_cache

import msgspec
from msgspec import UNSET

from jambset.engine.facts import Facts
from jambset.engine.kinds import Kind, called_for, kind_of
from jambset.engine.lines import AIR, HEIGHTS, Drive, Fixed, Place, Ruling, drives, places, ruling
from jambset.model.advice import Caution, Citation, Question, quote
from jambset.model.request import Duty
from jambset.model.source import NEVER_RELAXED, STRENGTH, Asked, Force, Verified
from jambset.quantity.ticks import Length, Pressure
from jambset.rules.schema import FinishKind, Measured, Relation, Rule, Topic
from jambset.rules.select import Applied, Selection, placed

OWN_SOURCE = "project."
"""Prefix of the ids under which the caller's own rules are answered."""
PRESSURE_KEY = "pressure_limit"
LEVELLED = frozenset({Relation.AT_LEAST, Relation.AT_MOST})
DRIVING = HEIGHTS | AIR
EASING = frozenset({Measured.VERTICAL_EDGE, Measured.BEVEL_SLOPE})
"""What rules on an eased edge bound; without one of them an edge is left as the piece is."""
AIR_ORDER = (True, STRENGTH[Force.PREFERENCE], 30, "")
"""Air can also be moved by a grille, so a pressure rule of any force lifts the leaf only as a preference does."""


class Regime(msgspec.Struct, frozen=True, eq=False):
    """The rules in force for one kind, strongest first, and what the steps of the engine ask of them."""

    rules: tuple[Applied, ...]
    checked: tuple[Ruling, ...]
    """Those that are held against the result."""
    places: dict[bool, tuple[Place, ...]]
    """Where these are read, by whether the leaf is cut."""
    driving: tuple[Drive, ...]
    """What moves the settings, in the order in which it is held to."""
    by_floors: bool
    """Whether that is all of the floors, but for what a header does."""
    over_piece: frozenset[str]
    """Ids of the project's rules on the room over a piece, which say nothing where none is fitted. Those of the
    catalogue ask for less than is asked for over any floor."""
    by_id: dict[str, Applied]
    wishes: frozenset[str]
    """Ids of the rules of force preference."""
    citations: tuple[tuple[str, Citation], ...]
    """One a rule id, strongest first."""
    cautions: dict[bool, tuple[Caution, ...]]
    """By whether the leaf may be cut."""
    questions: dict[str, Question]
    """What rules ask, by their ids."""
    pressures: tuple[Applied, ...]
    """The rules on the pressure of a room."""
    pressure_limit: float | None
    """The least room pressure allowed [Pa]."""
    greatest_gap: int
    """The widest gap above a finish that a leaf is lifted to for air's sake [ticks]; 0 without such a rule."""
    gap_cap: int | None
    """The widest gap that a rule never relaxed allows, also where the project wants less [ticks]."""
    gap_caps: tuple[str, ...]
    """The rules that set it."""
    barred: bool
    """Whether a rule forbids the air that this opening is asked to pass."""
    keeps_gap: bool
    """Whether a rule cautions against opening the gap below this labelled door for air."""
    eased: bool
    head_space: int
    """Space wanted over the head [ticks]."""
    head_rules: tuple[Applied, ...]
    """The rules on the space over the head."""
    head_ids: frozenset[str]
    """Their ids."""
    prescribed: tuple[Applied, ...]
    """The rules on a grille sized by the flow alone."""
    trim_limit: int | None
    accepted: dict[FinishKind, int]
    """Least clearance still accepted over a finish [ticks]."""
    below_pile: int
    """How far below a carpet's top legs have to end [ticks]."""

    def of(self, *measured: Measured) -> tuple[Applied, ...]:
        """The rules that bound any of some quantities."""
        return _of(self.rules, *measured)


def _of(rules: tuple[Applied, ...], *measured: Measured) -> tuple[Applied, ...]:
    return tuple(a for a in rules if a.rule.measured in measured)


def regime_of(facts: Facts, selection: Selection) -> Regime:
    """The rules in force for an opening, of those selected for its place, duties and date."""
    return _regime(called_for(facts, selection), kind_of(facts))


@lru_cache(maxsize=1024)
def _regime(called: tuple[Applied, ...], kind: Kind) -> Regime:
    """Rules as they are held for a kind, the project's own values in the place of practice and preference."""
    rules = tuple(sorted(_unless_said(tuple(_in_force(called, kind))), key=lambda a: a.order))
    clearances = [a for a in rules if a.rule.measured is Measured.FLOOR_CLEARANCE]
    rulings = [ruling(a, kind) for a in rules]
    checked = tuple([r for r in rulings if r.applied.rule.relation is not Relation.CAUTION])
    moving = sorted([r for r in rulings if _drives(r.applied)], key=lambda r: _turn(r.applied))
    driving = tuple([drive for r in moving for drive in drives(r)])
    caps = [a for a in clearances if a.rule.relation is Relation.AT_MOST and a.rule.force in NEVER_RELAXED]
    cap = min(_limits(caps, Measured.FLOOR_CLEARANCE), default=None)
    heads = _of(rules, Measured.HEAD_SHIM)
    return Regime(
        rules=rules,
        checked=checked,
        places={cut: tuple([place for r in checked for place in places(r, cut=cut)]) for cut in (True, False)},
        driving=driving,
        by_floors=all(drive.on is not None and drive.fixed not in (Fixed.STOP, Fixed.HEAD) for drive in driving),
        over_piece=frozenset(a.rule.id for a in _of(rules, Measured.PIECE_CLEARANCE) if _is_own(a.rule)),
        by_id={a.rule.id: a for a in rules},
        wishes=frozenset(a.rule.id for a in rules if a.rule.force is Force.PREFERENCE),
        citations=tuple({a.rule.id: a.citation for a in rules}.items()),
        cautions={cut: tuple(_cautions(rules, kind, cut=cut)) for cut in (True, False)},
        questions={a.rule.id: _question(a.rule) for a in rules if a.rule.relation is Relation.ASK},
        pressures=_of(rules, Measured.ROOM_PRESSURE),
        pressure_limit=min(_limits(rules, Measured.ROOM_PRESSURE), default=None),
        greatest_gap=int(min(_limits(clearances, Measured.FLOOR_CLEARANCE, Relation.AT_MOST), default=0)),
        gap_cap=None if cap is None else int(cap),
        gap_caps=tuple(a.rule.id for a in caps if a.limit == cap),
        barred=any(a.rule.relation is Relation.PROHIBITED for a in _of(rules, Measured.TRANSFER_AIR)),
        keeps_gap=any(
            a.rule.topic is Topic.AIR and a.rule.relation is Relation.CAUTION and Duty.FIRE_LABEL in a.rule.when.duties
            for a in rules
        ),
        eased=any(a.rule.measured in EASING for a in rules),
        head_rules=heads,
        head_ids=frozenset(a.rule.id for a in heads),
        prescribed=_of(rules, Measured.GRILLE_AREA_PER_FLOW, Measured.GRILLE_UNDERCUT),
        head_space=int(max(_limits(rules, Measured.HEAD_SHIM), default=0)),
        trim_limit=min((int(limit) for limit in _limits(rules, Measured.TRIM)), default=None),
        accepted={finish: max(_accepted(clearances, finish), default=0) for finish in FinishKind},
        below_pile=int(max(_limits(_over_carpet(rules), Measured.LEG_COVER), default=0)),
    )


def _unless_said(rules: tuple[Applied, ...]) -> Iterator[Applied]:
    """The rules, without the wish for a room pressure where another rule limits it."""
    said = any(a.rule.force is not Force.PREFERENCE for a in _of(rules, Measured.ROOM_PRESSURE))
    for applied in rules:
        wish = applied.rule.measured is Measured.ROOM_PRESSURE and applied.rule.force is Force.PREFERENCE
        if not (said and wish):
            yield applied


def _over_carpet(rules: tuple[Applied, ...]) -> list[Applied]:
    return [a for a in rules if a.rule.when.finish is FinishKind.CARPET]


def _in_force(called: tuple[Applied, ...], kind: Kind) -> Iterator[Applied]:
    own = {name: value for name, value in msgspec.structs.asdict(kind.project_rules).items() if value is not UNSET}
    wanted = {applied.rule.project_key for applied in called if applied.rule.grade != "accepted"}
    for applied in called:
        key = applied.rule.project_key
        if key not in own:
            yield applied
        elif applied.rule.grade != "accepted" or key not in wanted:  # of a pair one, also where nothing is wanted
            yield _owned(applied.rule, own[str(key)])
    if kind.pressure_limit is not None:
        yield _own_pressure(kind.pressure_limit)


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
        wish = a.rule.grade == "wanted" and not _is_own(a.rule)
        if a.rule.relation is Relation.AT_LEAST and a.rule.when.finish in (UNSET, finish) and not wish:
            yield int(a.limit or 0)


def _is_own(rule: Rule) -> bool:
    """Whether the project brought it, in place of one of the catalogue."""
    return rule.id.startswith(OWN_SOURCE)


def _cautions(rules: tuple[Applied, ...], kind: Kind, *, cut: bool) -> Iterator[Caution]:
    """Those that concern the named finishes, of a leaf that is, or isn't, cut."""
    for rule in [a.rule for a in rules if a.rule.relation is Relation.CAUTION]:
        if rule.when.trimmed in (UNSET, cut) and rule.when.finish in (UNSET, kind.pull, kind.push):
            yield Caution(code=rule.id, text=quote(rule.text), rule=rule.id)


def _question(rule: Rule) -> Question:
    return Question(code=rule.id, ask=rule.decides, text=quote(rule.text), holds=rule.holds)


def _owned(rule: Rule, value: Length) -> Applied:
    key = str(rule.project_key)
    when = msgspec.structs.replace(rule.when, not_glued=False)  # a project's own height is meant for all its carpet
    own = msgspec.structs.replace(
        rule, id=OWN_SOURCE + key, force=Force.PROJECT, verified=Verified.NONE, length=value, when=when
    )
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
        title=quote(rule.title),
        document=quote("The project's own rules"),
        clause=quote(pointer),
        edition=quote("as sent"),
        force=rule.force,
        verified=rule.verified,
    )
