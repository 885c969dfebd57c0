"""Holds every rule in force against the decision. A failed rule is a result, never an exception."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from functools import lru_cache
from math import inf
from typing import Any

from msgspec import UNSET, UnsetType

from jambset.engine import formulas
from jambset.engine.air import clear_beside, pressure_over
from jambset.engine.bounds import Situation, slot_floor, without_piece
from jambset.engine.decide import Decision
from jambset.engine.facts import Facts
from jambset.engine.lines import AIR, MISSED, Fixed, Ruling, is_firm, is_never_relaxed
from jambset.engine.transition import Joint
from jambset.model.advice import Check
from jambset.model.request import Duct, Duty, Grille
from jambset.quantity.ticks import Pressure, metres
from jambset.rules.schema import FinishKind, Measured, Relation
from jambset.rules.select import Applied, within

MET = "pass"
MOVES_AIR = frozenset({Duty.TRANSFER_AIR, Duty.EXHAUST_MAKEUP})


class Result:
    """What was decided of a situation, and what follows for the air.

    reach: what a seal closes of the gap under the leaf [ticks].
    slot: least gap under the closed leaf [ticks], None while it can't be told. pressure: across the closed
    door at the supply flow [Pa]; infinite where air is supplied and next to nothing is open, so that the
    orifice equation no longer holds; None where nothing is supplied or the air is barred.
    """

    __slots__ = ("at", "decision", "pressure", "slot")

    def __init__(self, at: Situation, decision: Decision, *, reach: int = 0) -> None:
        self.at, self.decision = at, decision
        floor, bottom = slot_floor(at), decision.bottom
        gap = None if floor is None or bottom is None else bottom - floor
        self.slot = max(0, gap - reach) if gap is not None and reach else gap
        self.pressure = None
        if self.slot is not None and at.air.supply is not None and not at.regime.barred:
            over = pressure_over(at.air, max(0, self.slot))
            self.pressure = inf if over is None or over > Pressure.GREATEST else over


_AREA_DIGITS = 9
"""Of an area in m²: to a thousandth of a mm², so that a sum of floats isn't short of what it adds up to."""
Reading = tuple[str, Any]
"""A side's name or "", and the measured value (ticks, m², Pa, ratio) or None."""
ONE_SIDE = ""


def check_all(result: Result) -> tuple[Check, ...]:
    """One check a rule and side, strongest rule first."""
    held = result.decision.held_by
    heights, fixed = _heights(result), result.at.fixed
    low, silent = fixed[Fixed.LOW_LEG], without_piece(result.at)
    checks: list[Check] = []
    for ruling, rule, side, on, sense, height, cover, unread in result.at.regime.places[bool(result.decision.trim)]:
        if on is None:
            checks.extend(_by_itself(ruling, result, governs=rule in held))
        elif (settled := heights[on]) is None or (silent and rule in silent):
            checks.extend(unread)
        else:
            check = _check(ruling, side, sense * (settled - fixed[height]), rule in held)
            if cover and check.status != MET and settled <= low:
                checks.extend(unread)  # a leg on the subfloor can't stand lower under a floor that is thin
            else:
                checks.append(check)
    return tuple(checks)


def missed(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Those that aren't met."""
    return tuple([check for check in checks if check.status in MISSED])


def _by_itself(ruling: Ruling, result: Result, *, governs: bool) -> Iterable[Check]:
    read = _READERS.get(ruling.measured)
    if read is None or ruling.asks:
        return ruling.unread
    return [
        ruling.unread[0] if actual is None else _check(ruling, side, actual, governs)
        for side, actual in read(ruling.applied, result)
    ]


def missed_of(result: Result, measured: frozenset[Measured]) -> list[str]:
    """Rules on some quantities that no height is, more than wishes, that a result misses."""
    rulings = [r for r in result.at.regime.checked if r.measured in measured and is_firm(r.applied.rule)]
    return [r.rule for r in rulings if any(c.status in MISSED for c in _by_itself(r, result, governs=False))]


def breaks(lost: Collection[str], result: Result) -> bool:
    """Whether rules that would be missed have one among them that is met now and never relaxed.

    None on the air: that goes through a wall as well.
    """
    if not lost:
        return False
    known, now = result.at.regime.by_id, {given.bound.rule for given in result.decision.gave_way}
    anew = [known[name].rule for name in lost if name in known and name not in now]
    return any(is_never_relaxed(rule) and rule.measured not in AIR for rule in anew)


def _heights(result: Result) -> tuple[int | None, ...]:
    """The settled heights by what a line is on: foot, bottom, trim, top. A leg that is cut stands on the subfloor."""
    decision = result.decision
    top = None if decision.undercut is None else decision.foot + decision.undercut
    return (max(decision.foot, result.at.fixed[Fixed.LOW_LEG]), decision.bottom, decision.trim, top)


@lru_cache(maxsize=4096)
def _check(ruling: Ruling, side: str, actual: Any, governs: bool) -> Check:
    """The reading of a rule held against its limit; kept, since the same is read at many openings."""
    rule, limit, value = ruling.applied.rule, ruling.applied.limit, ruling.value
    held, shown, margin = actual, UNSET, UNSET
    if limit is not None and rule.relation not in _ANSWERS:
        spare = actual - limit if ruling.at_least else limit - actual
        held = spare >= -ruling.slack
        if value is not None and actual != inf:
            shown, margin = value(actual), value(spare)
    return Check(
        rule=rule.id,
        force=rule.force,
        status=MET if held else ruling.broken,
        quantity=rule.measured,
        side=side or UNSET,
        limit=ruling.limit,
        actual=shown,
        margin=margin,
        governs=governs,
    )


_ANSWERS = frozenset({Relation.PROHIBITED, Relation.FORMULA})
"""Relations whose reading says by itself whether the rule is met."""


def short(check: Check) -> Any:
    """By how much a check is missed; 0 where that is no amount, without end where a pressure is too high to be told."""
    if check.margin is UNSET:
        return inf if check.quantity is Measured.ROOM_PRESSURE else 0
    return -check.margin


def shortfall(check: Check) -> Any:
    """The same as it is answered; UNSET where that is no amount."""
    return UNSET if check.margin is UNSET else type(check.margin)(short(check))


def head_spare(result: Result) -> int | None:
    """Space between frame and header [ticks]; None when either is unknown."""
    facts, undercut = result.at.facts, result.decision.undercut
    if facts.header is None or undercut is None:
        return None
    return facts.header - result.decision.foot - undercut - facts.above_leaf


def wants_head(result: Result) -> bool:
    """Whether the present header leaves less space over the head than is wanted."""
    spare = head_spare(result)
    return spare is not None and spare < result.at.regime.head_space


def order_height(result: Result) -> int:
    """Height of the unit that needs no saw, as it would stand [ticks]: the lowest rough opening that it goes into."""
    decision = result.decision
    return decision.order_foot + (decision.to_order or 0) + result.at.facts.above_leaf


def least_shims(result: Result) -> int:
    """Room over the head that a unit needs; what else is wanted there is a wish [ticks]."""
    return max([int(a.limit or 0) for a in result.at.regime.head_rules if is_firm(a.rule)], default=0)


def _leg_trim(applied: Applied, result: Result) -> list[Reading]:
    return [(ONE_SIDE, max(0, result.at.fixed[Fixed.HIGH_LEG] - result.decision.foot))]


def _pile(applied: Applied, result: Result) -> list[Reading]:
    sides = ((side.name, side.floor) for side in result.at.facts.sides)
    return [(name, floor.pile) for name, floor in sides if floor is not None and floor.kind is FinishKind.CARPET]


def _of_joint(measure: Callable[[Joint], float]) -> Callable[[Applied, Result], list[Reading]]:
    def read(applied: Applied, result: Result) -> list[Reading]:
        return [(ONE_SIDE, None if result.at.joint is None else measure(result.at.joint))]

    return read


def _slope(joint: Joint, kind: str) -> float:
    bevel = joint.bevel
    return bevel.rise / bevel.run if bevel and bevel.kind == kind and bevel.run is not UNSET else 0.0


def _free_area(applied: Applied, result: Result) -> list[Reading]:
    if not finish_is_there(result.at.facts, applied.rule.when.finish):
        return []
    slot, air = result.slot, result.at.air
    if slot is None:
        return [(ONE_SIDE, None)]
    return [(ONE_SIDE, round(air.width_m * metres(max(0, slot)) + air.beside, _AREA_DIGITS))]


def _room_pressure(applied: Applied, result: Result) -> list[Reading]:
    return [(ONE_SIDE, None if _is_prescribed(applied, result) else result.pressure)]


def _is_prescribed(applied: Applied, result: Result) -> bool:
    """Whether grilles and gap are as large as what a rule's document prescribes in place of the pressure."""
    if not (there := _prescribed_parts(result)):
        return False
    rules = [a for a in result.at.regime.prescribed if a.rule.document == applied.rule.document]
    return {a.rule.measured for a in rules} == there.keys() and all(
        within(a.rule.relation, actual=there[a.rule.measured], limit=a.limit or 0) for a in rules
    )


def _prescribed_parts(result: Result) -> dict[Measured, float]:
    """What a rule may prescribe in place of a pressure, as it is here; nothing where air is barred or isn't known."""
    air = result.at.air
    if result.slot is None or not air.supply or result.at.regime.barred:
        return {}
    return {Measured.GRILLE_AREA_PER_FLOW: air.grilles / air.supply, Measured.GRILLE_UNDERCUT: result.slot}


def _prescribed(applied: Applied, result: Result) -> list[Reading]:
    """Read where it stands in place of the pressure; else the pressure counts, and nobody has to do both."""
    there = _prescribed_parts(result)[applied.rule.measured] if _is_prescribed(applied, result) else None
    return [(ONE_SIDE, there)]


def prescribed_ways(result: Result) -> tuple[Applied, ...]:
    """The rules on a grille sized by the flow that are a way out of too high a pressure.

    Not where it is there already, or where somebody else allows less; nor, for the gap beside it, below a leaf that is
    to hold back smoke, or that a rule never relaxed wants nearer to the floor.
    """
    at, cap = result.at, result.at.regime.gap_cap
    if Duty.SMOKE_CONTROL in at.facts.duties or not at.regime.prescribed:
        return ()
    strictest = {a.rule.document for a in at.regime.pressures if a.limit == at.air.limit}
    ways = [a for a in at.regime.prescribed if a.rule.document in strictest and not _is_prescribed(a, result)]
    return () if cap is not None and clear_beside(ways) > cap else tuple(ways)


def _transfer_air(applied: Applied, result: Result) -> list[Reading]:
    return [(ONE_SIDE, MOVES_AIR.isdisjoint(result.at.facts.duties))]


def _wall_opening(applied: Applied, result: Result) -> list[Reading]:
    return [(ONE_SIDE, not opens_wall(result.at.facts))]


def opens_wall(facts: Facts) -> bool:
    """Whether a grille or duct goes through the wall beside the door."""
    return any(isinstance(path, Grille | Duct) for path in facts.opening.air.other_paths)


def _leaf_construction(applied: Applied, result: Result) -> list[Reading]:
    leaf = result.at.facts.opening.leaf
    complies = formulas.garage_leaf_complies(
        core=leaf.core,
        thickness=leaf.thickness,
        least_thickness=int(applied.limit or 0),
        fire_minutes=leaf.fire_minutes,
    )
    return [(ONE_SIDE, complies)]


def _disturbed_area(applied: Applied, result: Result) -> list[Reading]:
    trim, width = result.decision.trim, metres(result.at.facts.slot_width)
    area = None if trim is None else formulas.rrp_disturbed_area_m2(trim_m=metres(trim), width_m=width)
    return [(ONE_SIDE, area)]


_READERS: dict[Measured, Callable[[Applied, Result], list[Reading]]] = {
    Measured.LEG_TRIM: _leg_trim,
    Measured.PILE: _pile,
    Measured.THRESHOLD_HEIGHT: _of_joint(lambda joint: joint.rise if joint.ramped else joint.drop),
    Measured.VERTICAL_EDGE: _of_joint(lambda joint: joint.vertical),
    Measured.BEVEL_SLOPE: _of_joint(lambda joint: _slope(joint, "bevel")),
    Measured.UNRAMPED_CHANGE: _of_joint(lambda joint: 0 if joint.ramped else joint.drop),
    Measured.RAMP_SLOPE: _of_joint(lambda joint: _slope(joint, "ramp")),
    Measured.FREE_AREA: _free_area,
    Measured.ROOM_PRESSURE: _room_pressure,
    Measured.GRILLE_AREA_PER_FLOW: _prescribed,
    Measured.GRILLE_UNDERCUT: _prescribed,
    Measured.TRANSFER_AIR: _transfer_air,
    Measured.WALL_OPENING: _wall_opening,
    Measured.LEAF_CONSTRUCTION: _leaf_construction,
    Measured.DISTURBED_AREA: _disturbed_area,
}


def finish_is_there(facts: Facts, finish: FinishKind | UnsetType) -> bool:
    """Whether one of the sides has a finish of the kind that a rule asks for."""
    return finish is UNSET or finish in (facts.pull.kind, facts.push.kind)
