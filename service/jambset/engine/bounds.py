"""The fixed heights of an opening, and from them and its rules the bounds on what is settled, strongest first."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from msgspec import Struct

from jambset.engine.air import AirFacts
from jambset.engine.facts import Facts
from jambset.engine.lines import Drive, Fixed
from jambset.engine.regime import Regime
from jambset.engine.settle import BOTTOM, FOOT, TOP, Bound
from jambset.engine.transition import Joint
from jambset.model.request import Duty
from jambset.quantity.ticks import least_ticks
from jambset.rules.schema import Measured
from jambset.rules.select import Applied

HEADER = "rough_opening"
"""Stands for a rule's id on a bound of the present header."""
AS_SET = "as_set"
"""The same, on the foot of a frame that is fixed already."""
FLOORS, HEAD_LINE, BLOCK_SIZES = "floors_may_change", "head_line", "block_sizes"
"""The same, on a foot chosen with a view to other floors, to other heads in line, to the blocks of the house."""
NOWHERE = 0
"""A fixed height that the opening lacks and no line of its regime reads."""

STANDING = frozenset({AS_SET, FLOORS, HEAD_LINE, BLOCK_SIZES})
"""Names of bounds on the foot that no rule sets."""
CHOSEN = STANDING - {AS_SET}
"""Of these, the ones that were chosen and are no limit of the opening's."""


class Situation(Struct, frozen=True, gc=False):
    """What the bounds are drawn from: facts, the rules in force, joint and air, and the fixed heights [ticks]."""

    facts: Facts
    regime: Regime
    joint: Joint | None
    air: AirFacts
    fixed: tuple[int, ...]


def fixed_heights(facts: Facts, joint: Joint | None) -> tuple[int, ...]:
    """The heights that rules are measured from, above the datum, in the order of Fixed."""
    ground = facts.ground
    low = lower_leg(facts)
    header = NOWHERE if facts.header is None else facts.header - facts.above_leaf
    piece = NOWHERE if joint is None else ground.closed_high + joint.greatest
    pull, push = facts.pull.floor, facts.push.floor
    return (
        0,
        low,
        max(ground.hinge_leg, ground.strike_leg),
        piece,
        NOWHERE if pull is None else ground.swing_high + pull.bed.greatest,
        NOWHERE if push is None else ground.closed_high + push.bed.greatest,
        NOWHERE if pull is None else ground.swing_high + pull.greatest + facts.pull.rug,
        NOWHERE if push is None else ground.closed_high + push.greatest + facts.push.rug,
        NOWHERE if pull is None else ground.closed_low + pull.least,
        NOWHERE if push is None else ground.closed_low + push.least,
        NOWHERE if pull is None else low + pull.least,
        NOWHERE if push is None else low + push.least,
        NOWHERE if pull is None else low + pull.bed.least,
        NOWHERE if push is None else low + push.bed.least,
        header,
        piece + facts.stop - facts.leaf_and_gap,
        piece - facts.leaf_and_gap,
    )


def lower_leg(facts: Facts) -> int:
    """Subfloor at the lower leg, where a lifted frame shows first [ticks]."""
    return min(facts.ground.hinge_leg, facts.ground.strike_leg)


def rooms_under(at: Situation, foot: int) -> tuple[int, int]:
    """Room between a frame's legs and their subfloor, the lesser first [ticks]; 0 under one that stands on it."""
    return max(0, foot - at.fixed[Fixed.HIGH_LEG]), max(0, foot - at.fixed[Fixed.LOW_LEG])


class Stand(NamedTuple):
    """Where a unit has to stand and its leaf to end, whatever the rules ask for, and why [ticks]."""

    foot: int
    why: str
    bottom: int | None = None


def names_header(rules: tuple[str, ...], at: Situation) -> bool:
    """Whether the header, or the space wanted over the head, is among what holds a height or stands against a rule."""
    return HEADER in rules or not at.regime.head_ids.isdisjoint(rules)


def draw(at: Situation, stand: Stand | None = None, *, last_choice: bool) -> list[Bound]:
    """Bounds of a situation, strongest first; where the unit has to stand, and the header, come before every rule.

    last_choice: also those that nothing is set or cut for in an advice, and that a recheck offers to meet last of all.
    """
    bounds = _standing(at, stand)
    draws = over_level if at.facts.ground.is_level else over_floors
    for drive, bound in draws(*drawn_from(at)):
        if bound is not None:
            bounds.append(bound)
        elif drive.on is None:
            bounds.extend(_open_to_air(drive.applied, at, last_choice=last_choice))
        else:
            bounds.append(Bound(drive.rule, drive.on, drive.lower, at.fixed[drive.fixed] + drive.shift))
    return bounds


Drawn = tuple[tuple[Drive, Bound | None], ...]
"""What moves the settings, strongest first, each with its bound; None where the unit's own heights or air draw it."""


def drawn_from(at: Situation) -> tuple[Regime, tuple[int, ...], frozenset[str]]:
    """What bounds over floors follow from: rules, fixed heights but the unit's own, and rules that say nothing here."""
    return at.regime, at.fixed[: Fixed.HEADER], without_piece(at)


def over_floors(regime: Regime, heights: tuple[int, ...], silent: frozenset[str]) -> Drawn:
    """What moves the settings, with the bounds that floors and subfloor alone draw."""
    low = heights[Fixed.LOW_LEG]
    drawn: list[tuple[Drive, Bound | None]] = []
    for drive in regime.driving:
        rule, on, lower, height, shift, cover, _ = drive
        if rule in silent:
            continue
        if on is None or height >= Fixed.HEADER:
            drawn.append((drive, None))
        else:
            limit = heights[height] + shift
            drawn.append((drive, Bound(rule, on, lower, low if cover and limit < low else limit)))
    return tuple(drawn)


@lru_cache(maxsize=1024)
def over_level(regime: Regime, heights: tuple[int, ...], silent: frozenset[str]) -> Drawn:
    """The same, found once for the same floors on a level subfloor: they meet under many doors."""
    return over_floors(regime, heights, silent)


def without_piece(at: Situation) -> frozenset[str]:
    """Rules that don't apply here, since one floor runs through and no piece is fitted."""
    return at.regime.over_piece if at.joint is not None and at.joint.runs_through else frozenset()


def _standing(at: Situation, stand: Stand | None) -> list[Bound]:
    fixed = at.facts.as_set
    if fixed is not None:
        bounds = [Bound(AS_SET, FOOT, lower, fixed) for lower in (True, False)]
    else:
        bounds = [] if at.facts.header is None else [Bound(HEADER, TOP, False, at.fixed[Fixed.HEADER])]
    if stand is not None:
        held = [] if fixed is not None else [(FOOT, stand.foot)]
        held += [] if stand.bottom is None else [(BOTTOM, stand.bottom)]
        bounds += [Bound(stand.why, on, lower, height) for on, height in held for lower in (True, False)]
    return bounds


def _open_to_air(applied: Applied, at: Situation, *, last_choice: bool) -> list[Bound]:
    floor = slot_floor(at)
    if floor is None:
        return []
    if applied.rule.measured is Measured.FREE_AREA:
        gap, whole = _gap_for_area(applied, at), False
    else:
        gap, whole = _gap_for_pressure(applied, at, last_choice=last_choice), True
    return [Bound(applied.rule.id, BOTTOM, True, floor + gap, whole)] if gap else []


def _gap_for_area(applied: Applied, at: Situation) -> int:
    there = at.facts.passes(applied.rule.when.finish)
    under = float(applied.limit or 0) - at.air.beside
    return least_ticks(under / at.air.width_m) if there and under > 0 else 0


def _gap_for_pressure(applied: Applied, at: Situation, *, last_choice: bool) -> int:
    """The gap that carries the air at the strictest limit; none where a grille has to, or where air is barred.

    Nor below a leaf that is to hold back smoke; and for a wish below one against fire only as the last choice.
    """
    gap, rules, duties = at.air.gap_needed or 0, at.regime, at.facts.duties
    spared = Duty.FIRE_LABEL in duties and applied.rule.id in rules.wishes and not last_choice
    passes = not (rules.barred or Duty.SMOKE_CONTROL in duties or spared)
    lifts = applied.limit == at.air.limit and gap <= rules.greatest_gap and passes
    return gap if lifts else 0


def slot_floor(at: Situation) -> int | None:
    """Top of the highest thing under the closed leaf, at its thickest, above the datum; None while undecided."""
    return None if at.joint is None else at.facts.ground.closed_mean + at.joint.greatest
