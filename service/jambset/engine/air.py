"""Air under the closed leaf and beside it: one pressure across all paths in parallel."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from math import inf, sqrt
from typing import NamedTuple

from msgspec import UNSET, Struct

from jambset.engine import formulas
from jambset.engine.facts import Facts
from jambset.engine.parallel import Path, flow_at, pressure_at
from jambset.engine.words import through_wall
from jambset.model.advice import AirAdvice, Phrase, WayOut
from jambset.model.request import AirPath, Crack, Duct, Duty, FlowBasis, Grille, GrilleMaterial, RoomUse
from jambset.quantity.text import IN2
from jambset.quantity.ticks import (
    FOOT,
    INCH,
    METRE,
    MM,
    Area,
    Flow,
    Length,
    Pressure,
    ceil_to,
    least_area,
    least_ticks,
    metres,
)
from jambset.rules.schema import Measured
from jambset.rules.select import Applied

JUMP_ROUGHNESS_M = 0.003
"""Roughness of a flexible duct where none is stated: the rough end of what is used [m]."""
JUMP_BENDS = 0.5
"""Loss coefficients of the bends of a jump duct as offered, summed [-]: as of one in a request by default."""
MM2 = 1e-6


class Jump(NamedTuple):
    """A jump duct as offered [ticks]: its length, the sizes it is sold in, and how far its square grilles exceed it."""

    length: int
    reach: str
    """The length as the trade says it."""
    sizes: tuple[int, ...]
    grille_beyond: int


JUMPS = {
    True: Jump(10 * FOOT, "10 ft", tuple(size * INCH for size in (6, 8, 10, 12, 14, 16)), 2 * INCH),
    False: Jump(3 * METRE, "3 m", tuple(size * MM for size in (150, 200, 250, 315, 355, 400)), 50 * MM),
}
"""By whether the caller counts in inches."""


class AirFacts(Struct, frozen=True, gc=False):
    """What passes, in SI. supply and limit are None when unknown; slot: flow per metre of gap at 1 Pa."""

    supply: float | None
    limit: float | None
    density: float
    slot: float
    slot_high: float
    width_m: float
    others: tuple[Path, ...]
    grilles: float
    """Free area of the grilles stated [m²]."""
    beside: float
    """The same, and of each duct the area of a sharp-edged opening that passes as much [m²]."""
    gap_needed: int | None
    """Gap [ticks] that carries, at the limit, what the other paths don't."""


def air_facts(facts: Facts, limit: float | None) -> AirFacts:
    """Air at the site's density. limit: the least room pressure that a rule allows here [Pa]."""
    air, d = facts.opening.air, facts.defaults
    altitude = 0.0 if air.altitude is UNSET else metres(air.altitude)
    warmth = d.temperature_c if air.temperature is UNSET else float(air.temperature)
    density = formulas.air_density_kg_m3(altitude_m=altitude, temperature_c=warmth)
    stated = air.discharge_coefficient
    low, high = (d.discharge_coefficient, d.discharge_coefficient_high) if stated is UNSET else (stated, stated)
    width = metres(facts.slot_width)
    supply = _supply(facts, density)
    others, grilles, beside = _beside(air.other_paths, density=density, facts=facts) if air.other_paths else _NOTHING
    slot = formulas.orifice_coefficient(area_m2=width, density_kg_m3=density, discharge=low)
    return AirFacts(
        supply=supply,
        limit=limit,
        density=density,
        slot=slot,
        slot_high=formulas.orifice_coefficient(area_m2=width, density_kg_m3=density, discharge=high),
        width_m=width,
        others=others,
        grilles=grilles,
        beside=beside,
        gap_needed=_gap_needed(supply, limit, slot=slot, others=others),
    )


_Beside = tuple[tuple[Path, ...], float, float]
_NOTHING: _Beside = ((), 0.0, 0.0)


def _beside(paths: Sequence[AirPath], *, density: float, facts: Facts) -> _Beside:
    """Other paths, the free area of their grilles, and that with a sharp-edged opening as free as their ducts [m²]."""
    others = tuple([_path(path, density=density, facts=facts) for path in paths])
    grilles = sum([_free_area(path, facts) for path in paths if isinstance(path, Grille)])
    ducts = [other.coefficient for path, other in zip(paths, others, strict=True) if isinstance(path, Duct)]
    opening = formulas.orifice_area_m2(
        flow_m3_s=sum(ducts), pressure_pa=1, density_kg_m3=density, discharge=facts.defaults.discharge_coefficient
    )
    return others, grilles, grilles + opening


def _supply(facts: Facts, density: float) -> float | None:
    air = facts.opening.air
    if air.supply_flow is UNSET:
        return None
    if air.flow_basis is FlowBasis.STANDARD:
        return formulas.actual_flow_m3_s(standard_flow_m3_s=air.supply_flow, density_kg_m3=density)
    return float(air.supply_flow)


def _path(path: AirPath, *, density: float, facts: Facts) -> Path:
    discharge = facts.defaults.discharge_coefficient
    if isinstance(path, Grille):
        area = _free_area(path, facts)
        return Path(formulas.orifice_coefficient(area_m2=area, density_kg_m3=density, discharge=discharge), 0.5)
    if isinstance(path, Crack):
        coefficient = formulas.crack_coefficient(
            leakage_area_m2=path.leakage_area, exponent=path.exponent, density_kg_m3=density
        )
        return Path(coefficient, path.exponent)
    return Path(_duct(path, density=density, discharge=discharge), 0.5)


def _free_area(grille: Grille, facts: Facts) -> float:
    if grille.free_area is not UNSET:
        return float(grille.free_area)
    d = facts.defaults
    ratio = d.free_ratio_metal if grille.material is GrilleMaterial.METAL else d.free_ratio_wood
    return ratio * metres(grille.width) * metres(grille.height)


def _duct(duct: Duct, *, density: float, discharge: float) -> float:
    return formulas.duct_coefficient(
        diameter_m=metres(duct.diameter),
        length_m=metres(duct.length),
        roughness_m=JUMP_ROUGHNESS_M if duct.roughness is UNSET else metres(duct.roughness),
        bend_loss=duct.bend_loss,
        grille_free_area_m2=duct.grille_free_area,
        discharge=discharge,
        density_kg_m3=density,
    )


def _gap_needed(supply: float | None, limit: float | None, *, slot: float, others: tuple[Path, ...]) -> int | None:
    if supply is None or limit is None:
        return None
    rest = supply - flow_at(others, limit)
    return least_ticks(rest / (slot * sqrt(limit))) if rest > 0 else 0


def pressure_over(air: AirFacts, gap: int) -> float | None:
    """Pressure across the closed door at the supply flow [Pa]; None when nothing is supplied or nothing is open."""
    paths = [path for path in (Path(air.slot * metres(gap), 0.5), *air.others) if path.coefficient > 0]
    return pressure_at(paths, air.supply) if air.supply is not None and paths else None


def carried(air: AirFacts, slot: float, gap: int) -> float:
    """What passes a gap and the paths beside it at the limit, a known one [m³/s]. slot: of a metre of gap at 1 Pa."""
    assert air.limit is not None
    return flow_at(air.others, air.limit) + slot * metres(max(0, gap)) * sqrt(air.limit)


def advise(
    facts: Facts,
    air: AirFacts,
    *,
    gap: int,
    pressure: float | None,
    barred: bool,
    prescribed: tuple[Applied, ...],
    rules: tuple[str, ...],
) -> AirAdvice:
    """What passes a gap of so many ticks under the closed leaf, what is short, and what else would carry it.

    pressure: across the closed door [Pa]. barred: the air mustn't pass between these rooms at all, so nothing
    is offered that would carry it. prescribed: rules on a grille sized by the flow that may be offered.
    """
    open_gap = max(0, gap)
    if barred:
        return AirAdvice(gap=Length(open_gap), free_area=Area(air.width_m * metres(open_gap)), governed_by=rules)
    limit, supply = air.limit, air.supply
    passes = high = short = None
    if limit is not None:
        passes, high = (carried(air, slot, gap) for slot in (air.slot, air.slot_high))
        short = None if supply is None else max(0.0, supply - passes)
    needed = air.gap_needed
    step = facts.grid.step
    return AirAdvice(
        gap=Length(open_gap),
        free_area=Area(air.width_m * metres(open_gap)),
        flow_at_limit=UNSET if passes is None else Flow(passes),
        flow_at_limit_high=UNSET if high is None else Flow(high),
        pressure_limit=UNSET if limit is None else Pressure(limit),
        pressure_at_supply=UNSET if pressure in (None, inf) else Pressure(pressure),
        supply_flow=UNSET if supply is None else Flow(supply),
        shortfall=UNSET if short is None else Flow(short),
        gap_needed=UNSET if needed is None else Length(ceil_to(needed, step=step)),
        density_kg_m3=round(air.density, 4),
        ways_out=_ways_out(facts, air, short, prescribed) if short else (),
        governed_by=rules,
    )


def _ways_out(facts: Facts, air: AirFacts, short: float, prescribed: tuple[Applied, ...]) -> tuple[WayOut, ...]:
    assert air.limit is not None  # a shortfall is counted against a limit
    least = formulas.orifice_area_m2(
        flow_m3_s=short,
        pressure_pa=air.limit,
        density_kg_m3=air.density,
        discharge=facts.defaults.discharge_coefficient,
    )
    free = _as_written(least, facts)
    face = free / facts.defaults.free_ratio_metal
    grille = through_wall(Phrase("way.grille", free=Area(free), face=Area(face)), facts.duties)
    ways = [WayOut(kind="transfer_grille", text=grille, free_area=Area(free))]
    ways += _prescribed(prescribed, facts, air)
    if size := _jump_size(facts, air, short):
        jump = JUMPS[facts.grid.inches]
        text = Phrase("way.jump_duct", size=Length(size), grille=Length(size + jump.grille_beyond), length=jump.reach)
        ways.append(WayOut(kind="jump_duct", text=through_wall(text, facts.duties), diameter=Length(size)))
    kind = "ducted_supply" if _is_drawn_out(facts) else "ducted_return"
    ways.append(WayOut(kind=kind, text=Phrase(f"way.{kind}")))
    return tuple(ways)


_DRAWN_OUT = frozenset({Duty.EXHAUST_MAKEUP, Duty.DRYER_CLOSET})
_NO_RETURN = frozenset(RoomUse) - {RoomUse.BEDROOM, RoomUse.LIVING, RoomUse.HALL, RoomUse.OTHER}
"""What a room is for that gives no return air."""


def _is_drawn_out(facts: Facts) -> bool:
    """Whether the air that passes the door is taken to be drawn out of the room by a fan: no return helps then."""
    if Duty.TRANSFER_AIR in facts.duties:
        return False
    sides = facts.opening.pull_side, facts.opening.push_side
    return not _DRAWN_OUT.isdisjoint(facts.duties) or any(side.use in _NO_RETURN for side in sides)


def _as_written(area: float, facts: Facts) -> float:
    """An area as it is written, and no less [m²]."""
    return least_area(area, step=IN2 / 10 if facts.grid.inches else MM2)


def _prescribed(rules: tuple[Applied, ...], facts: Facts, air: AirFacts) -> list[WayOut]:
    """The grilles that a rule sizes by the flow alone, with the clearance it asks for beside them."""
    clear = Length(clear_beside(rules))
    sized = [a for a in rules if a.rule.measured is Measured.GRILLE_AREA_PER_FLOW]
    areas = [(a, Area(_as_written((a.limit or 0) * (air.supply or 0), facts))) for a in sized]
    return [
        WayOut(
            kind="prescribed_grille",
            text=through_wall(Phrase("way.prescribed", area=area, clear=clear), facts.duties),
            free_area=area,
            rule=a.rule.id,
        )
        for a, area in areas
    ]


def clear_beside(rules: Iterable[Applied]) -> int:
    """The clearance that rules ask for beside a grille they size by the flow [ticks]."""
    return max([int(a.limit or 0) for a in rules if a.rule.measured is Measured.GRILLE_UNDERCUT], default=0)


def _jump_size(facts: Facts, air: AirFacts, short: float) -> int | None:
    assert air.limit is not None  # a shortfall is counted against a limit
    d = facts.defaults
    wanted = short / sqrt(air.limit)
    sizes = _jump_coefficients(JUMPS[facts.grid.inches], d.free_ratio_metal, d.discharge_coefficient, air.density)
    return next((size for size, coefficient in sizes if coefficient >= wanted), None)


@lru_cache(maxsize=256)
def _jump_coefficients(
    jump: Jump, free_ratio: float, discharge: float, density: float
) -> tuple[tuple[int, float], ...]:
    """Sizes of jump duct, each with what it passes at 1 Pa [m³/s] between its square grilles."""
    return tuple(
        (
            size,
            formulas.duct_coefficient(
                diameter_m=metres(size),
                length_m=metres(jump.length),
                roughness_m=JUMP_ROUGHNESS_M,
                bend_loss=JUMP_BENDS,
                grille_free_area_m2=free_ratio * metres(size + jump.grille_beyond) ** 2,
                discharge=discharge,
                density_kg_m3=density,
            ),
        )
        for size in jump.sizes
    )
