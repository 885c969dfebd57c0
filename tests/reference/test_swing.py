"""The swing's geometry against worked numbers and against plane geometry done another way.

Worked numbers: the loss of gap over a sloping floor, loss(a) = s w (cos(a - phi) - cos(phi)), and the
check values derived from it beforehand by geometry; they have no published source. Another way: shapely's
polygons say which points lie in the swept area, dense sampling says how high a plane gets in it.
"""

from __future__ import annotations

from itertools import pairwise
from math import cos, hypot, radians, sin

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import UNSET
from scipy.optimize import minimize_scalar
from shapely.geometry import Point, Polygon
from shapely.ops import unary_union

from jambset.engine.swing import Ground, ground
from jambset.model.measures import SlopeRise, SlopeRun, SubfloorHeight, SurveyRadius
from jambset.model.request import LegHeights, Slope, Subfloor, Survey, SurveyPoint
from jambset.quantity.ticks import INCH, MM

TICK_IN = 1 / INCH


def slope(rise: int, run: int, direction: float) -> Slope:
    return Slope(rise=SlopeRise(rise), run=SlopeRun(run), direction=direction)


def one_leaf(subfloor: Subfloor, *, width_in: float = 30, opening: float = 90) -> Ground:
    """A leaf as wide as its opening, as the worked numbers have it."""
    width = round(width_in * INCH)
    return ground(subfloor, leaf_width=width, count=1, opening_angle=opening, cut_angle=opening, total_width=width)


def greatest_loss_in(subfloor: Slope, *, width_in: float = 30, opening: float = 90) -> float:
    """Inches of gap lost, against the strike side of the closed leaf."""
    g = one_leaf(subfloor, width_in=width_in, opening=opening)
    return (g.swing_high - g.strike_leg) / INCH


# Worked beforehand: leaf 30 in, slope 1 in 144.
@pytest.mark.parametrize(
    ("direction", "opening", "loss"),
    [(0, 90, 0.0), (90, 90, 0.208), (135, 90, 0.295), (180, 90, 0.208), (180, 180, 0.417)],
)
def test_worked_losses(direction: float, opening: float, loss: float) -> None:
    assert greatest_loss_in(slope(INCH, 144 * INCH, direction), opening=opening) == pytest.approx(loss, abs=5e-4)


def test_loss_can_reach_twice_the_rise() -> None:
    rise = 30 / 144
    twice = greatest_loss_in(slope(INCH, 144 * INCH, 180), opening=180)
    assert twice == pytest.approx(2 * rise, abs=2 * TICK_IN)


# Worked beforehand: what a slope leaves of a carpet gap of 1/4 in.
@pytest.mark.parametrize(("run_in", "direction", "left"), [(144, 90, 0.042), (144, 135, -0.045), (480, 90, 0.1875)])
def test_what_is_left_of_a_carpet_gap(run_in: int, direction: float, left: float) -> None:
    # -0.045: it rubs. 480 in is 1 in 480 with a rise of 1 in
    lost = greatest_loss_in(slope(INCH, run_in * INCH, direction))
    assert 0.25 - lost == pytest.approx(left, abs=5e-4)


# Worked beforehand: rise across one leaf width in the worst direction.
@pytest.mark.parametrize(
    ("width", "rises"),
    [
        (28, (0.058, 0.194, 0.146, 0.219, 0.112)),
        (30, (0.063, 0.208, 0.156, 0.234, 0.120)),
        (32, (0.067, 0.222, 0.167, 0.250, 0.128)),
        (36, (0.075, 0.250, 0.188, 0.281, 0.144)),
    ],
)
def test_rise_across_one_leaf(width: int, rises: tuple[float, ...]) -> None:
    grades = (
        (INCH // 2, 240 * INCH),
        (INCH, 144 * INCH),
        (INCH // 16, 12 * INCH),
        (INCH // 4, 32 * INCH),
        (4 * MM, 1_000 * MM),
    )
    for (rise, run), printed in zip(grades, rises, strict=True):
        g = one_leaf(slope(rise, run, 90), width_in=width)
        assert g.swing_high / INCH == pytest.approx(printed, abs=5.1e-4)


# Worked beforehand: hinge line out of plumb by 1/8 in over 80 in, leaf 30 in. To the leaf's
# own plane that is a floor that slopes 1/8 in 80: square to the opening, or falling away along it.
@pytest.mark.parametrize(("direction", "opening", "rise"), [(90, 90, 0.047), (180, 90, 0.047), (180, 180, 0.094)])
def test_a_hinge_line_out_of_plumb_is_like_a_slope(direction: float, opening: float, rise: float) -> None:
    assert greatest_loss_in(slope(INCH // 8, 80 * INCH, direction), opening=opening) == pytest.approx(rise, abs=5e-4)


def test_no_slope_loses_nothing() -> None:
    assert one_leaf(slope(0, 144 * INCH, 45)) == ground(
        UNSET, leaf_width=30 * INCH, count=1, opening_angle=90, cut_angle=90, total_width=30 * INCH
    )


widths = st.integers(20 * INCH, 48 * INCH)
gaps = st.integers(0, INCH)
openings = st.floats(30, 180)
slopes = st.builds(slope, st.integers(0, 6 * INCH), st.integers(60 * INCH, 600 * INCH), st.floats(-180, 180))
heights = st.integers(-4 * INCH, 4 * INCH).map(SubfloorHeight)
counts = st.sampled_from([1, 2])


def _plane(subfloor: Slope | LegHeights, total: int) -> tuple[float, float]:
    if isinstance(subfloor, Slope):
        grade = subfloor.rise / subfloor.run
        return grade * cos(radians(subfloor.direction)), grade * sin(radians(subfloor.direction))
    return (subfloor.strike_leg - subfloor.hinge_leg) / total, 0.0


@settings(max_examples=120, deadline=None)
@given(
    subfloor=st.one_of(slopes, st.builds(LegHeights, hinge_leg=heights, strike_leg=heights)),
    width=widths, gap=gaps, count=counts, opening=openings,
)  # fmt: skip
def test_a_plane_over_densely_sampled_sectors(
    subfloor: Slope | LegHeights, width: int, gap: int, count: int, opening: float
) -> None:
    total = count * width + gap
    g = ground(subfloor, leaf_width=width, count=count, opening_angle=opening, cut_angle=opening, total_width=total)
    along, across = _plane(subfloor, total)
    angles = np.radians(np.linspace(0, opening, 721))
    radii = np.linspace(0, width, 5)[:, None]
    x, y = radii * np.cos(angles), radii * np.sin(angles)
    sampled = [along * x + across * y]
    if count == 2:
        sampled.append(along * (total - x) + across * y)
    datum = max(0.0, along * total)
    highest = max(0.0, along * total, *(float(z.max()) for z in sampled)) - datum
    # between two samples an arc hides at most w s (1 - cos(step / 2))
    hidden = width * hypot(along, across) * (1 - cos(radians(opening / 720 / 2))) + 1.001
    assert highest - 1e-3 <= g.swing_high <= highest + hidden


@settings(max_examples=60, deadline=None)
@given(subfloor=slopes, width=widths, opening=openings)
def test_greatest_loss_by_scipy(subfloor: Slope, width: int, opening: float) -> None:
    """loss(a) = s w (cos(a - phi) - cos(phi)), its greatest value over the swing found numerically."""
    grade, uphill = subfloor.rise / subfloor.run, radians(subfloor.direction)

    def gain(angle: float) -> float:
        return -grade * width * (cos(angle - uphill) - cos(uphill))

    # cosine is unimodal on each half turn, so each piece between its extremes is searched by itself
    breaks = sorted(
        {0.0, radians(opening), *(a for a in (uphill, uphill - np.pi, uphill + np.pi) if 0 < a < radians(opening))}
    )
    inner = [minimize_scalar(gain, bounds=pair, method="bounded").fun for pair in pairwise(breaks)]
    loss = -min(*inner, *(gain(a) for a in breaks))
    g = ground(subfloor, leaf_width=width, count=1, opening_angle=opening, cut_angle=opening, total_width=width)
    hinge_loss = -grade * width * cos(uphill)  # the hinge itself, where the floor doesn't move
    assert g.swing_high - g.strike_leg == pytest.approx(max(loss, hinge_loss), abs=1.51)  # up, and to the nearest


@settings(max_examples=60, deadline=None)
@given(subfloor=slopes, width=widths, gap=gaps, count=counts, cut=openings)
def test_gauge_heights_on_a_plane(subfloor: Slope, width: int, gap: int, count: int, cut: float) -> None:
    total = count * width + gap
    g = ground(subfloor, leaf_width=width, count=count, opening_angle=180, cut_angle=cut, total_width=total)
    along, across = _plane(subfloor, total)
    datum = max(0.0, along * total)
    tips = [(width * cos(radians(cut)), 0), (total - width * cos(radians(cut)), total)]
    expected = [(along * hinge, along * x + across * width * sin(radians(cut))) for x, hinge in tips[:count]]
    assert len(g.gauge) == count
    for ends, (hinge, free) in zip(g.gauge, expected, strict=True):
        assert ends[0] == pytest.approx(hinge - datum, abs=0.501)
        assert ends[1] == pytest.approx(free - datum, abs=0.501)
    assert g.gauge_distance == ((0, 0),) * count


def _sector(centre: float, width: int, start: float, end: float) -> Polygon:
    """Edges outside the arc by less than 1e-6 of the radius."""
    arc = np.radians(np.linspace(start, end, 2_000))
    return Polygon([(centre, 0), *zip(centre + width * np.cos(arc), width * np.sin(arc), strict=True)])


points = st.lists(
    st.builds(
        SurveyPoint,
        radius=st.integers(0, 100 * INCH).map(SurveyRadius),
        angle=st.one_of(st.just(0.0), st.just(90.0), st.floats(0.001, 180)),
        height=heights,
    ),
    min_size=1,
    max_size=20,
)


@settings(max_examples=150, deadline=None)
@given(legs=st.tuples(heights, heights), surveyed=points, width=widths, gap=gaps, count=counts, opening=openings)
def test_a_survey_against_polygons(
    legs: tuple[SubfloorHeight, SubfloorHeight],
    surveyed: list[SurveyPoint],
    width: int,
    gap: int,
    count: int,
    opening: float,
) -> None:
    total = count * width + gap
    swept = _sector(0, width, 0, opening)
    if count == 2:
        swept = unary_union([swept, _sector(total, width, 180 - opening, 180)])
    datum = max(legs)
    line, inside = [(0.0, legs[0] - datum), (float(total), legs[1] - datum)], []
    for p in surveyed:
        spot = Point(p.radius * cos(radians(p.angle)), p.radius * sin(radians(p.angle)))
        if p.angle == 0 and p.radius <= total:
            line.append((p.radius, p.height - datum))
        elif p.angle == 0:
            continue
        else:
            assume(abs(swept.boundary.distance(spot)) > 1e-5 * width)  # shapely's arc is a polygon
            if swept.contains(spot):
                inside.append(p.height - datum)
    g = ground(
        Survey(hinge_leg=legs[0], strike_leg=legs[1], points=tuple(surveyed)),
        leaf_width=width, count=count, opening_angle=opening, cut_angle=opening, total_width=total,
    )  # fmt: skip
    on_line = [z for _, z in line]
    assert (g.hinge_leg, g.strike_leg) == (legs[0] - datum, legs[1] - datum)
    assert (g.closed_low, g.closed_high) == (min(on_line), max(on_line))
    assert g.swing_high == max(on_line + inside)


@settings(max_examples=100, deadline=None)
@given(legs=st.tuples(heights, heights), surveyed=points, total=widths)
def test_mean_along_the_closed_leaf_by_numpy(
    legs: tuple[SubfloorHeight, SubfloorHeight], surveyed: list[SurveyPoint], total: int
) -> None:
    on_line = [p for p in surveyed if p.angle == 0 and 0 < p.radius < total]
    assume(len({p.radius for p in on_line}) == len(on_line))
    kept = tuple(p for p in surveyed if p in on_line or (p.angle and p.radius))  # at radius 0 an angle says nothing
    assume(kept)
    profile = sorted([(0, legs[0]), (total, legs[1]), *((p.radius, p.height) for p in on_line)])
    x, z = np.array(profile, dtype=float).T
    mean = float(np.trapezoid(z, x)) / total - max(legs)
    g = ground(
        Survey(hinge_leg=legs[0], strike_leg=legs[1], points=kept),
        leaf_width=total, count=1, opening_angle=90, cut_angle=90, total_width=total,
    )  # fmt: skip
    assert mean - 1e-3 <= g.closed_mean < mean + 1.001


@settings(max_examples=100, deadline=None)
@given(surveyed=points, width=widths, gap=gaps, count=counts, cut=openings)
def test_gauges_take_the_nearest_point(
    surveyed: list[SurveyPoint], width: int, gap: int, count: int, cut: float
) -> None:
    total = count * width + gap
    g = ground(
        Survey(hinge_leg=SubfloorHeight(0), strike_leg=SubfloorHeight(-MM), points=tuple(surveyed)),
        leaf_width=width, count=count, opening_angle=180, cut_angle=cut, total_width=total,
    )  # fmt: skip
    known = [(Point(0, 0), 0), (Point(total, 0), -MM)]
    known += [
        (Point(p.radius * cos(radians(p.angle)), p.radius * sin(radians(p.angle))), int(p.height)) for p in surveyed
    ]
    reach = width * cos(radians(cut))
    tips = [Point(x, width * sin(radians(cut))) for x in (reach, total - reach)][:count]
    assert len(g.gauge) == len(g.gauge_distance) == count
    for tip, (_, height), (at_hinge, distance) in zip(tips, g.gauge, g.gauge_distance, strict=True):
        nearest = min(tip.distance(spot) for spot, _ in known)
        assert at_hinge == 0
        assert nearest - 1e-3 <= distance <= nearest + 1.001
        assert height in {z for spot, z in known if tip.distance(spot) <= nearest + 1e-3}
