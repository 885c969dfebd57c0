from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import UNSET, UnsetType

from jambset.engine.swing import Ground, ground
from jambset.model.measures import SlopeRise, SlopeRun, SubfloorHeight, SurveyRadius
from jambset.model.request import LegHeights, LevelSubfloor, Slope, Subfloor, Survey, SurveyPoint
from jambset.quantity.ticks import INCH, MM

WIDTH = 800 * MM
PAIR = 2 * WIDTH + 4 * MM


def legs(hinge: int, strike: int) -> LegHeights:
    return LegHeights(hinge_leg=SubfloorHeight(hinge), strike_leg=SubfloorHeight(strike))


def slope(rise: int, run: int, direction: float) -> Slope:
    return Slope(rise=SlopeRise(rise), run=SlopeRun(run), direction=direction)


def survey(*points: tuple[int, float, int], hinge: int = 0, strike: int = 0) -> Survey:
    """Points as radius [mm], angle [degrees], height [ticks]."""
    found = [
        SurveyPoint(radius=SurveyRadius(radius * MM), angle=angle, height=SubfloorHeight(height))
        for radius, angle, height in points
    ]
    return Survey(hinge_leg=SubfloorHeight(hinge), strike_leg=SubfloorHeight(strike), points=tuple(found))


def single(subfloor: Subfloor | UnsetType, *, opening: float = 90, cut: float = 90, total: int = WIDTH) -> Ground:
    return ground(subfloor, leaf_width=WIDTH, count=1, opening_angle=opening, cut_angle=cut, total_width=total)


def pair(subfloor: Subfloor | UnsetType, *, opening: float = 90, cut: float = 90) -> Ground:
    return ground(subfloor, leaf_width=WIDTH, count=2, opening_angle=opening, cut_angle=cut, total_width=PAIR)


@pytest.mark.parametrize("subfloor", [UNSET, LevelSubfloor(), legs(8 * MM, 8 * MM), slope(0, INCH * 12, 30)])
def test_level_is_all_zero(subfloor: Subfloor | UnsetType) -> None:
    assert single(subfloor) == Ground(0, 0, 0, 0, 0, 0, ((0, 0),), ((0, 0),))
    assert pair(subfloor) == Ground(0, 0, 0, 0, 0, 0, ((0, 0), (0, 0)), ((0, 0), (0, 0)))


def test_the_datum_is_the_higher_leg() -> None:
    g = single(legs(2 * MM, 6 * MM))
    assert (g.hinge_leg, g.strike_leg) == (-4 * MM, 0)
    assert (g.closed_high, g.closed_mean, g.closed_low) == (0, -2 * MM, -4 * MM)


def test_two_legs_say_nothing_square_to_the_wall() -> None:
    # opened square, the free end stands over the hinge's height again
    g = single(legs(0, -4 * MM))
    assert g.swing_high == 0
    assert g.gauge == ((0, 0),)


def test_two_legs_carry_on_behind_the_hinge() -> None:
    # opened flat on the wall the free end lies as far behind the hinge as the strike is before it
    g = single(legs(0, -4 * MM), opening=180, cut=180)
    assert g.swing_high == 4 * MM
    assert g.gauge == ((0, 4 * MM),)


def test_the_strike_leg_may_stand_beyond_the_leaf() -> None:
    g = single(legs(0, -4 * MM), cut=0, total=2 * WIDTH)
    assert g.strike_leg == -4 * MM
    assert g.closed_low == -4 * MM  # the closed line runs to the leg
    assert g.gauge[0][1] == -2 * MM  # the leaf ends half way


@pytest.mark.parametrize(("direction", "above"), [(30, 8_575), (45, 18_746)])
def test_straight_uphill_lies_inside_the_swing(direction: float, above: int) -> None:
    # 1 in 100 over 800 mm is 8 mm, 64,000 ticks, above the hinge; the other leg, the datum, stands 64,000 times the
    # cosine of 30° or 45° above it, 55,425.6 or 45,254.8
    assert single(slope(MM, 100 * MM, direction)).swing_high == above


@pytest.mark.parametrize("angle", [0, 1, 89, 90])
def test_a_point_of_a_survey_counts_all_through_the_swing(angle: float) -> None:
    assert single(survey((400, angle, 5))).swing_high == 5


def test_uphill_into_the_room() -> None:
    # 1 in 100 square to the wall: 8 mm under the free end when open
    g = single(slope(10 * MM, 1_000 * MM, 90))
    assert (g.hinge_leg, g.strike_leg, g.closed_mean) == (0, 0, 0)
    assert g.swing_high == 8 * MM
    assert g.gauge == ((0, 8 * MM),)


def test_downhill_into_the_room() -> None:
    g = single(slope(10 * MM, 1_000 * MM, -90))
    assert g.swing_high == 0
    assert g.gauge == ((0, -8 * MM),)


def test_straight_uphill_is_the_highest_on_the_way() -> None:
    # at 60 degrees the leaf points uphill; at 0 and 120 it stands half as high
    g = single(slope(10 * MM, 1_000 * MM, 60), opening=120, cut=120)
    assert g.strike_leg == 0
    assert g.hinge_leg == -4 * MM
    assert g.swing_high == 8 * MM - 4 * MM
    assert g.gauge == ((-4 * MM, 0),)


def test_highs_round_up_and_lows_down() -> None:
    # a rise of 1 in 3 over 800 mm isn't a whole number of ticks: 2,133,333.3
    g = single(slope(100 * MM, 300 * MM, 90))
    assert g.swing_high == 2_133_334
    assert single(slope(100 * MM, 300 * MM, 180)).closed_low == -2_133_334
    assert single(legs(0, -1)).closed_mean == 0  # up from half a tick below


def test_noise_is_no_tick() -> None:
    # cos(90°) is no float zero, nor is 0.1 times 3 three tenths; neither may lift the floor by a tick
    for rise in range(1, 60):
        g = single(slope(rise * MM, 600 * MM, 90))
        assert g.swing_high == -(-rise * MM * 800 // 600)
        assert g.closed_high == g.closed_mean == g.closed_low == 0


def test_second_leaf_of_a_pair_swings_from_the_other_leg() -> None:
    # floor rises along the wall: opened flat, the second leaf lies beyond its leg on the high side
    g = pair(slope(10 * MM, 1_000 * MM, 0), opening=180, cut=180)
    assert g.strike_leg == 0
    assert g.hinge_leg == -PAIR // 100
    assert g.swing_high == WIDTH // 100
    assert g.gauge == ((-PAIR // 100, -PAIR // 100 - WIDTH // 100), (0, WIDTH // 100))


def test_pair_uphill_into_the_room() -> None:
    g = pair(slope(10 * MM, 1_000 * MM, 90))
    assert g.swing_high == 8 * MM
    assert g.gauge == ((0, 8 * MM), (0, 8 * MM))


def test_survey_points_count_above_the_higher_leg() -> None:
    g = single(survey((400, 45, 7 * MM), (400, 0, 1 * MM), hinge=2 * MM, strike=-MM))
    assert (g.hinge_leg, g.strike_leg) == (0, -3 * MM)
    assert (g.closed_high, g.closed_low) == (0, -3 * MM)
    assert g.swing_high == 5 * MM


def test_a_hump_under_the_closed_leaf() -> None:
    # two straight pieces: 0 to 4 to 0 has the mean 2
    g = single(survey((400, 0, 4 * MM)))
    assert (g.closed_high, g.closed_mean, g.closed_low) == (4 * MM, 2 * MM, 0)
    assert g.swing_high == 4 * MM


def test_mean_weighs_by_length() -> None:
    # 200 mm of the rise, 600 mm of the fall, and 200 of level between two humps
    g = single(survey((200, 0, 4 * MM), (400, 0, 4 * MM)))
    assert g.closed_mean == (200 * 2 + 200 * 4 + 400 * 2) * MM // 800


def test_of_two_heights_at_one_place_the_higher_counts_in_the_mean() -> None:
    twice = single(survey((400, 0, 4 * MM), (400, 0, 2 * MM)))
    assert twice.closed_mean == single(survey((400, 0, 4 * MM))).closed_mean
    at_leg = single(survey((0, 0, 2 * MM), (800, 0, -2 * MM)))
    assert (at_leg.closed_mean, at_leg.closed_high, at_leg.closed_low) == (MM, 2 * MM, -2 * MM)


@pytest.mark.parametrize("outside", [(801, 45, 9 * MM), (400, 91, 9 * MM), (801, 0, 9 * MM), (400, 180, 9 * MM)])
def test_points_outside_the_sector_are_ignored(outside: tuple[int, float, int]) -> None:
    g = single(survey(outside))
    assert (g.closed_high, g.closed_low, g.swing_high) == (0, 0, 0)


# at the hinge itself an angle says nothing
@pytest.mark.parametrize(
    "edge", [(800, 45, 9 * MM), (800, 90, 9 * MM), (400, 90, 9 * MM), (800, 0, 9 * MM), (0, 170, 9 * MM)]
)
def test_points_on_the_edge_count(edge: tuple[int, float, int]) -> None:
    assert single(survey(edge)).swing_high == 9 * MM


def test_a_point_on_the_line_beyond_the_leaf_but_before_the_leg() -> None:
    g = single(survey((803, 0, 5 * MM)), total=WIDTH + 5 * MM)
    assert (g.closed_high, g.swing_high) == (5 * MM, 5 * MM)


def test_only_a_leaf_that_opens_flat_reaches_the_wall_behind() -> None:
    behind = survey((400, 180, 9 * MM))
    assert single(behind, opening=180).swing_high == 9 * MM
    assert single(behind, opening=179.9).swing_high == 0
    assert single(behind, opening=180).closed_high == 0


def test_a_pairs_points_are_polar_about_the_first_hinge() -> None:
    # 1600 mm out at a small angle: under the second leaf, out of reach of the first
    there = survey((1_500, 10, 6 * MM))
    assert pair(there).swing_high == 6 * MM
    assert single(there).swing_high == 0


def test_between_two_leaves_that_open_square_lies_floor_nobody_sweeps() -> None:
    # 802 mm along and 700 mm out: beyond 800 mm from either hinge
    assert pair(survey((1_065, 41, 6 * MM))).swing_high == 0


def test_gauge_stands_on_the_nearest_point() -> None:
    g = single(survey((790, 90, 3 * MM), (400, 45, 9 * MM)))
    assert g.gauge == ((0, 3 * MM),)
    assert g.gauge_distance == ((0, 10 * MM),)


def test_gauge_right_on_a_point_is_exact() -> None:
    assert single(survey((800, 90, 3 * MM))).gauge_distance == ((0, 0),)


def test_gauge_falls_back_on_a_leg() -> None:
    # nothing nearer than the hinge leg, a leaf's width away
    g = single(survey((100, 180, 3 * MM)))
    assert g.gauge == ((0, 0),)
    assert g.gauge_distance == ((0, WIDTH),)


def test_of_two_points_as_near_the_higher_carries_the_gauge() -> None:
    assert single(survey((700, 90, 2 * MM), (900, 90, 5 * MM))).gauge == ((0, 5 * MM),)


def test_each_leaf_of_a_pair_has_its_gauge() -> None:
    g = pair(survey((800, 90, 3 * MM), strike=-MM))
    assert g.gauge == ((0, 3 * MM), (-MM, -MM))
    assert g.gauge_distance == ((0, 0), (0, WIDTH))


def test_the_second_leaf_half_open_is_gauged_on_its_own_side() -> None:
    # cut at 60° the free ends stand 400 mm along from their hinges, 693 mm out: at 400 and at 1,204 mm from the first
    # hinge, the second 1,389 mm from it at 29.9°
    g = pair(survey((800, 60, 3 * MM), (1_389, 29.9175, 5 * MM)), cut=60)
    assert g.gauge == ((0, 3 * MM), (0, 5 * MM))
    assert max(g.gauge_distance[1]) < MM


def test_second_hinge_itself_is_known() -> None:
    g = pair(survey((100, 90, 0), strike=2 * MM), cut=180, opening=180)
    assert [hinge for hinge, _ in g.gauge] == [-2 * MM, 0]


swept_points = st.lists(
    st.tuples(st.integers(0, 1_000), st.sampled_from([0.0, 30.0, 90.0, 180.0]), st.integers(-MM, MM)),
    min_size=1,
    max_size=8,
)


@settings(max_examples=60, deadline=None)
@given(points=swept_points, data=st.data())
def test_order_of_survey_points_does_not_matter(points: list[tuple[int, float, int]], data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations(points))
    assert single(survey(*points)) == single(survey(*shuffled))
    assert pair(survey(*points)) == pair(survey(*shuffled))


@settings(max_examples=60, deadline=None)
@given(points=swept_points, lift=st.integers(-MM, MM))
def test_the_benchmark_does_not_matter(points: list[tuple[int, float, int]], lift: int) -> None:
    lifted = [(radius, angle, height + lift) for radius, angle, height in points]
    assert single(survey(*points)) == single(survey(*lifted, hinge=lift, strike=lift))


@settings(max_examples=60, deadline=None)
@given(points=swept_points, opening=st.integers(1, 179))
def test_a_wider_swing_never_meets_less(points: list[tuple[int, float, int]], opening: int) -> None:
    narrow, wide = (single(survey(*points), opening=angle) for angle in (opening, 180))
    assert narrow.swing_high <= wide.swing_high
    assert narrow.closed_high <= narrow.swing_high


@pytest.mark.parametrize("place", range(6))
def test_a_subfloor_is_level_only_where_no_height_of_it_leaves_the_datum(place: int) -> None:
    level, lower = single(UNSET), {Ground._fields[place]: -1}
    assert level.is_level
    assert not level._replace(**dict[str, Any](lower)).is_level
