"""Remedies of what lies beneath the leaf and of the air: a floor raised, another piece, a seal, a grille."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, sqrt

from msgspec.structs import replace

from jambset.engine.assess import air_of, rules_of
from jambset.engine.checks import short
from jambset.engine.facts import PULL, SideFacts
from jambset.engine.floors import SLAB
from jambset.engine.lines import AIR, EDGES
from jambset.engine.remedy_steps import (
    GRILLE,
    PIECE,
    RAISE,
    SEAL,
    Shop,
    Step,
    for_labels,
    missed,
    need,
    weight,
    when_certain,
)
from jambset.engine.standing import Judged, Unit, judge
from jambset.engine.transition import other_pieces, to_fit, with_piece
from jambset.engine.words import GUARDED, beside, leaves, through_wall
from jambset.model.advice import Check, Phrase
from jambset.model.measures import FreeArea, GrilleSide
from jambset.model.request import Duty, Grille
from jambset.model.source import Asked
from jambset.quantity.text import IN2
from jambset.quantity.ticks import METRE, Area, Length, ceil_to, least_area
from jambset.rules.schema import Measured, Relation

CM2 = 1e-4

_LIFTED = (
    Measured.FOOT,
    Measured.LEG_COVER,
    Measured.FLOOR_CLEARANCE,
    Measured.THRESHOLD_HEIGHT,
    Measured.VERTICAL_EDGE,
    Measured.UNRAMPED_CHANGE,
)
"""What a higher floor can mend."""


def raise_floor(before: Judged, shop: Shop) -> Iterable[Step]:
    """A thicker underlayment under one side's finish, as little as mends most; only while it isn't laid.

    None where the slab itself is the floor, since nothing is laid there that could lie higher; nor where somebody
    measured the gap down to the floor, which then lies.
    """
    layers = _layers(before)
    for side in before.facts.sides:
        if not layers or _is_slab(side) or side.name in before.unit.gauged:
            continue
        units = [_on(before.unit, side, layer) for layer in layers]
        after = min([judge(unit, shop.catalogue) for unit in units], key=lambda one: (*weight(one)[:2], _added(one)))
        layer = Length(_added(after))
        yield Step(
            kind=RAISE,
            minutes=shop.work.rows["raise_floor"],
            text=Phrase("remedy.raise_floor", layer=layer, where=beside(side)),
            after=after,
            needs=(need("floor_not_laid", Asked.SUPERINTENDENT, where=beside(side)), *when_certain(before)),
            told={"layer": layer, "side": side.name},
        )


def _is_slab(side: SideFacts) -> bool:
    return side.floor is not None and side.floor.body == SLAB and len(side.layers) == 1


def _layers(before: Judged) -> list[int]:
    """Thicknesses on the tape, each just what one rule is missed by, or what brings both floors level."""
    step, joint = before.facts.grid.step, before.result.at.joint
    lacks = [short(check) for check in missed(before, *_LIFTED) if not _wants_less(check, before)]
    level = [joint.step] if joint and lacks else []
    return sorted({ceil_to(amount, step=step) for amount in (*lacks, *level) if amount > 0})


def _wants_less(check: Check, before: Judged) -> bool:
    """Whether a higher floor makes it worse: a clearance that is too small."""
    rule = before.result.at.regime.by_id[check.rule].rule
    return check.quantity == Measured.FLOOR_CLEARANCE and rule.relation is Relation.AT_LEAST


def _on(unit: Unit, side: SideFacts, layer: int) -> Unit:
    if side.name == PULL:
        return replace(unit, pull_raised=unit.pull_raised + layer)
    return replace(unit, push_raised=unit.push_raised + layer)


def _added(judged: Judged) -> int:
    return judged.unit.pull_raised + judged.unit.push_raised


_OVER_PIECE = AIR | EDGES | {Measured.PIECE_CLEARANCE, Measured.CLEAR_HEIGHT, Measured.OPENING_HEIGHT}
"""What another piece can mend."""


def change_piece(before: Judged, shop: Shop) -> Iterable[Step]:
    """Another piece of the catalogue that joins these floors: of those that mend most, the first."""
    joint = before.result.at.joint
    if joint is None or not missed(before, *_OVER_PIECE):
        return
    units = [
        (replace(before.unit, opening=with_piece(before.unit.opening, piece)), piece)
        for piece in other_pieces(joint, before.result.at.regime, shop.catalogue)
    ]
    tried = [(judge(unit, shop.catalogue), piece) for unit, piece in units]
    if tried:
        after, piece = min(tried, key=lambda one: weight(one[0]))
        yield Step(
            kind=PIECE,
            minutes=shop.work.rows["change_piece"],
            text=to_fit(piece),
            after=after,
            needs=when_certain(before),
            told={"piece": piece.id},
        )


# --- the air


def seal(before: Judged, shop: Shop) -> Iterable[Step]:
    """A seal at the leaf's bottom, where the gap is too wide; it closes as much as it reaches, to air as well.

    Under a labelled door it is told as what the listing may allow: the rule on fire stays missed (see `judge`).
    """
    rules = before.result.at.regime.by_id
    wide = [c for c in missed(before, Measured.FLOOR_CLEARANCE) if rules[c.rule].rule.relation is Relation.AT_MOST]
    if not wide or before.unit.reach:
        return
    reach = shop.catalogue.defaults.seal_reach
    after = judge(replace(before.unit, reach=int(reach)), shop.catalogue)
    listed = (
        *for_labels(before, "seal_listing", Duty.FIRE_LABEL),
        *for_labels(before, "smoke_seal", Duty.SMOKE_CONTROL),
    )
    how = ".if_listed" if after.if_listed else ".listed" if listed else ""
    yield Step(
        kind=SEAL,
        minutes=shop.work.rows["fit_seal"] * before.facts.opening.leaf.count,
        text=Phrase(f"remedy.bottom_seal{how}", reach=reach, leaves=leaves(before.facts)),
        after=after,
        needs=listed,
    )


_NO_GRILLE = frozenset({Duty.FUEL_BURNING_ROOM, Duty.GARAGE_TO_HOUSE})
"""Between such rooms no air is let pass, whatever is missed."""


def grille(before: Judged, shop: Shop) -> Iterable[Step]:
    """A transfer grille in the wall for the air that the gap doesn't pass; never where the air is barred."""
    if before.result.at.regime.barred or not before.facts.duties.isdisjoint(_NO_GRILLE):
        return
    wanted = _area_short(before)
    if wanted <= 0:
        return
    area = least_area(wanted, step=IN2 if before.facts.grid.inches else CM2)
    face = area / shop.catalogue.defaults.free_ratio_metal
    side = GrilleSide(ceil_to(ceil(sqrt(face) * METRE), step=before.facts.grid.step))
    opening, air = before.unit.opening, before.unit.opening.air
    fitted = Grille(width=side, height=side, free_area=FreeArea(area))
    opening = replace(opening, air=replace(air, other_paths=(*air.other_paths, fitted)))
    guarded = not before.facts.duties.isdisjoint(GUARDED)
    yield Step(
        kind=GRILLE,
        minutes=shop.work.rows["fit_grille"],
        text=through_wall(Phrase("way.grille", free=Area(area), face=Area(face)), before.facts.duties),
        after=judge(replace(before.unit, opening=opening), shop.catalogue),
        needs=(*((need("authority", Asked.AUTHORITY),) if guarded else ()), *when_certain(before)),
        told={"free_area": Area(area)},
        cuts=True,
    )


def _area_short(before: Judged) -> float:
    """Free area that the air of this door still wants [m²]."""
    areas = [float(short(check)) for check in missed(before, Measured.FREE_AREA)]
    if missed(before, Measured.ROOM_PRESSURE):
        ways = air_of(before.result, rules_of(before.checks)).ways_out
        areas += [float(way.free_area) for way in ways if way.kind == GRILLE and isinstance(way.free_area, Area)]
    return max(areas, default=0.0)
