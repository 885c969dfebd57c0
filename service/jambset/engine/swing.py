"""The subfloor under the legs, under the closed leaf and under its swing.

On plumb hinges a leaf's bottom sweeps a level sector of its own width up to the opening angle, so what
counts is how high the subfloor stands in that sector above the datum: the highest subfloor under the
legs. Plan coordinates in ticks: the first hinge leg at (0, 0), the other leg at (total_width, 0), the pull
side at y > 0. Highs and the mean round up to a tick, lows round down; a float counts as the tick it
stands for when it is within a millionth of a tick of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import atan2, ceil, cos, degrees, floor, hypot, radians, sin
from typing import NamedTuple

from msgspec import UNSET, UnsetType

from jambset.model.request import LegHeights, LevelSubfloor, Slope, Subfloor, Survey

NOISE = 1e-6
"""Part of a tick that is float noise."""

TOUCH = 1e-9
"""Relative reach by which a survey point may lie outside a sector and still count as on its edge."""

Ends = tuple[int, int]
"""What is true at a leaf's hinge end and at its free end [ticks]."""


class Ground(NamedTuple):
    """Heights of the subfloor above the datum [ticks], the datum being the highest subfloor under the legs.

    strike_leg is the second hinge leg of a pair. closed_*: along the line between the legs. swing_high: over
    all swept sectors and that line. gauge: under the hinge end and the free end of each leaf at its cut
    angle. gauge_distance: how far from there the survey point stands whose height was taken; 0 where the
    height is computed from a plane or the point stands right there.
    """

    hinge_leg: int
    strike_leg: int
    closed_high: int
    closed_mean: int
    closed_low: int
    swing_high: int
    gauge: tuple[Ends, ...]
    gauge_distance: tuple[Ends, ...]

    @property
    def is_level(self) -> bool:
        """Whether the subfloor is at the datum wherever the floors are looked at."""
        return not any(self[:6])


class _Swing(NamedTuple):
    width: int
    leaves: int
    opening: float
    cut: float
    total: int


class _Plane(NamedTuple):
    """Height at a leaf's hinge [ticks], and its rise along the closed leaf and square to it."""

    at_hinge: float
    along: float
    across: float

    def height(self, *, radius: float, angle: float) -> float:
        return self.at_hinge + radius * (self.along * cos(angle) + self.across * sin(angle))


class _Spot(NamedTuple):
    """A height known at a place in plan [ticks]."""

    x: float
    y: float
    z: int


def ground(
    subfloor: Subfloor | UnsetType,
    *,
    leaf_width: int,
    count: int,
    opening_angle: float,
    cut_angle: float,
    total_width: int,
) -> Ground:
    """What the subfloor is like under one opening.

    leaf_width: of one leaf [ticks]. count: leaves, 1 or 2. opening_angle, cut_angle: degrees from closed.
    total_width: between the legs [ticks]: leaves and gaps.
    Not measured counts as level. Two leg heights are taken as a straight slope from leg to leg, carried
    on beyond them and constant square to the wall, which nobody measured. A slope is a plane through the
    first hinge leg. Of a survey the legs and the points inside a swept sector count; others are ignored.
    >>> g = ground(Slope(rise=8_000, run=800_000, direction=90), leaf_width=6_000_000, count=1, opening_angle=90,
    ...            cut_angle=90, total_width=6_000_000)
    >>> g.closed_high, g.swing_high, g.gauge
    (0, 60000, ((0, 60000),))
    """
    if subfloor is UNSET or isinstance(subfloor, LevelSubfloor):
        return _LEVEL[count]
    swing = _Swing(leaf_width, count, opening_angle, cut_angle, total_width)
    if isinstance(subfloor, Survey):
        return _surveyed(subfloor, swing)
    return _planar(_plane(subfloor, total_width), swing)


_LEVEL = {count: Ground(0, 0, 0, 0, 0, 0, ((0, 0),) * count, ((0, 0),) * count) for count in (1, 2)}


def _plane(subfloor: LegHeights | Slope, total: int) -> _Plane:
    if isinstance(subfloor, LegHeights):
        return _Plane(subfloor.hinge_leg, (subfloor.strike_leg - subfloor.hinge_leg) / total, 0.0)
    grade, uphill = subfloor.rise / subfloor.run, radians(subfloor.direction)
    return _Plane(0.0, grade * cos(uphill), grade * sin(uphill))


def _planar(plane: _Plane, swing: _Swing) -> Ground:
    legs = (plane.at_hinge, plane.at_hinge + plane.along * swing.total)
    datum = max(legs)
    # in its own view, hinge to free end, the second leaf of a pair sees the rise along the wall reversed
    views = (plane, _Plane(legs[1], -plane.along, plane.across))[: swing.leaves]
    swept = [*legs, *(z for view in views for z in _highs(view, swing))]
    free_ends = [view.height(radius=swing.width, angle=radians(swing.cut)) for view in views]
    return Ground(
        hinge_leg=round(legs[0] - datum),
        strike_leg=round(legs[1] - datum),
        closed_high=0,
        closed_mean=_up(sum(legs) / 2 - datum),
        closed_low=_down(min(legs) - datum),
        swing_high=_up(max(swept) - datum),
        gauge=tuple((round(v.at_hinge - datum), round(z - datum)) for v, z in zip(views, free_ends, strict=True)),
        gauge_distance=((0, 0),) * swing.leaves,
    )


def _highs(plane: _Plane, swing: _Swing) -> Iterable[float]:
    """Heights among which a sector's highest is, but for its centre, which is a leg.

    A plane is highest on a sector there, at the ends of its arc, or where the arc points straight uphill.
    """
    end, uphill = radians(swing.opening), atan2(plane.across, plane.along)
    angles = (0.0, end, *((uphill,) if 0 <= uphill <= end else ()))
    return (plane.height(radius=swing.width, angle=angle) for angle in angles)


def _surveyed(survey: Survey, swing: _Swing) -> Ground:
    datum = max(survey.hinge_leg, survey.strike_leg)
    legs = [_Spot(0, 0, survey.hinge_leg - datum), _Spot(swing.total, 0, survey.strike_leg - datum)]
    points = [_spot(p.radius, p.angle, p.height - datum) for p in survey.points]
    line = [*legs, *(p for p in points if p.y == 0 and 0 <= p.x <= swing.total)]
    swept = [*(spot.z for spot in line), *(spot.z for spot in points if _is_swept(spot, swing))]
    gauges = [_gauge(hinge, free, [*legs, *points]) for hinge, free in zip(legs, _free_ends(swing), strict=False)]
    return Ground(
        hinge_leg=legs[0].z,
        strike_leg=legs[1].z,
        closed_high=max(spot.z for spot in line),
        closed_mean=_mean(line, swing.total),
        closed_low=min(spot.z for spot in line),
        swing_high=max(swept),
        gauge=tuple(heights for heights, _ in gauges),
        gauge_distance=tuple(distances for _, distances in gauges),
    )


def _spot(radius: int, angle: float, z: int) -> _Spot:
    """A survey point in plan; sin(180°) is no float zero, so the wall's line is set exactly."""
    if angle in {0, 180}:
        return _Spot(radius if angle == 0 else -radius, 0, z)
    return _Spot(radius * cos(radians(angle)), radius * sin(radians(angle)), z)


def _is_swept(spot: _Spot, swing: _Swing) -> bool:
    """Whether a leaf passes over the spot; each leaf sees it from its own hinge."""
    from_hinges = (spot.x, swing.total - spot.x)[: swing.leaves]
    return any(
        hypot(x, spot.y) <= swing.width * (1 + TOUCH) and degrees(atan2(spot.y, x)) <= swing.opening * (1 + TOUCH)
        for x in from_hinges
    )


def _free_ends(swing: _Swing) -> list[tuple[float, float]]:
    end = _spot(swing.width, swing.cut, 0)
    return [(end.x, end.y), (swing.total - end.x, end.y)][: swing.leaves]


def _gauge(hinge: _Spot, free: tuple[float, float], known: Iterable[_Spot]) -> tuple[Ends, Ends]:
    """Heights at a leaf's two ends and how far away they were measured; of two as near, the higher."""
    distance, lowered = min((hypot(spot.x - free[0], spot.y - free[1]), -spot.z) for spot in known)
    return (hinge.z, -lowered), (0, _up(distance))


def _mean(line: Sequence[_Spot], total: int) -> int:
    """Average height along the closed leaf, straight from spot to spot; of two at one place the higher counts."""
    profile = sorted({spot.x: spot.z for spot in sorted(line, key=lambda spot: spot.z)}.items())
    doubled = sum((x1 - x0) * (z0 + z1) for (x0, z0), (x1, z1) in pairwise(profile))
    return _up(doubled / (2 * total))


def _up(height: float) -> int:
    return ceil(height - NOISE)


def _down(height: float) -> int:
    return floor(height + NOISE)
