"""The air formulas against published numbers; where one doesn't reproduce, the test says which and why.

Published: printed by a document or site that was read, or quoted from it. Worked beforehand: calculated from
the same equations before this code was written, by other hands, so it tests arithmetic, not physics. Practitioner form:
Q [cfm] = 1.07 * A [in²] * sqrt(dP [Pa]). Tolerances are half of the last digit printed unless said. Missing,
since it couldn't be read: the one set of chamber measurements of doorway pathways at 2.5 Pa (FSEC).
"""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt

import fluids
import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI

from jambset.engine.formulas import (
    AIR_VISCOSITY,
    STANDARD_DENSITY,
    actual_flow_m3_s,
    air_density_kg_m3,
    crack_coefficient,
    duct_coefficient,
    duct_friction,
    orifice_area_m2,
    orifice_coefficient,
    station_pressure_pa,
)
from jambset.engine.parallel import Path, flow_at, pressure_at
from jambset.quantity.parse import UNITS
from jambset.quantity.ticks import Pressure

CFM = 0.3048**3 / 60
IN = 0.0254
IN2 = IN**2
IN_H2O = 249.0889
DENSITY = 1.2041
PRACTITIONER = 1.07 * CFM / (IN2 * sqrt(2 / DENSITY))
FPM = 0.3048 / 60


def pascals_read(inches_of_water: float) -> float:
    """As a request's are."""
    return inches_of_water * float(UNITS[Pressure]["inH2O"][0])


def one_opening(area_m2: float, density_kg_m3: float, discharge: float) -> list[Path]:
    """An opening alone, as the engine has it among others."""
    return [Path(orifice_coefficient(area_m2=area_m2, density_kg_m3=density_kg_m3, discharge=discharge), 0.5)]


def orifice_flow_m3_s(*, area_m2: float, pressure_pa: float, density_kg_m3: float, discharge: float) -> float:
    return flow_at(one_opening(area_m2, density_kg_m3, discharge), pressure_pa)


def orifice_pressure_pa(*, flow_m3_s: float, area_m2: float, density_kg_m3: float, discharge: float) -> float:
    return pressure_at(one_opening(area_m2, density_kg_m3, discharge), flow_m3_s)


def cfm(area_in2: float, pressure_pa: float, *, discharge: float = PRACTITIONER, density: float = DENSITY) -> float:
    flow = orifice_flow_m3_s(
        area_m2=area_in2 * IN2, pressure_pa=pressure_pa, density_kg_m3=density, discharge=discharge
    )
    return flow / CFM


def in2(flow_cfm: float, pressure_pa: float) -> float:
    area = orifice_area_m2(
        flow_m3_s=flow_cfm * CFM, pressure_pa=pressure_pa, density_kg_m3=DENSITY, discharge=PRACTITIONER
    )
    return area / IN2


def pascals(flow_cfm: float, area_in2: float) -> float:
    return orifice_pressure_pa(
        flow_m3_s=flow_cfm * CFM, area_m2=area_in2 * IN2, density_kg_m3=DENSITY, discharge=PRACTITIONER
    )


def pascals_at_speed(speed_m_s: float, *, discharge: float, density: float = DENSITY) -> float:
    return orifice_pressure_pa(flow_m3_s=speed_m_s, area_m2=1, density_kg_m3=density, discharge=discharge)


def opening(area_in2: float, discharge: float = 0.6073) -> Path:
    area = area_in2 * IN2
    return Path(orifice_coefficient(area_m2=area, density_kg_m3=DENSITY, discharge=discharge), 0.5)


def crack(area_cm2: float, exponent: float = 0.65) -> Path:
    area = area_cm2 * 1e-4
    return Path(crack_coefficient(leakage_area_m2=area, exponent=exponent, density_kg_m3=DENSITY), exponent)


def jump_duct(diameter_in: float, grille_side_in: float) -> Path:
    """3 m long, roughness 3 mm, bends 0.5, two square grilles, 75 % free."""
    coefficient = duct_coefficient(
        diameter_m=diameter_in * IN,
        length_m=3,
        roughness_m=0.003,
        bend_loss=0.5,
        grille_free_area_m2=0.75 * grille_side_in**2 * IN2,
        discharge=0.6073,
        density_kg_m3=DENSITY,
    )
    return Path(coefficient, 0.5)


# Transfer grille sizing, report RR-0005 (Building Science Corporation), read: 32 in x 1/2 in undercut, 3 Pa.
# Supply flow [cfm], transfer area in all [in²], after the undercut [in²], diameter of a jump duct [in].
RR_0005 = [
    (50, 27.0, 11.0, 3.7),
    (75, 40.5, 24.5, 5.6),
    (100, 54.0, 38.0, 7.0),
    (125, 67.4, 51.4, 8.1),
    (150, 80.9, 64.9, 9.1),
    (175, 94.4, 78.4, 10.0),
    (200, 107.9, 91.9, 10.8),
    (225, 121.4, 105.4, 11.6),
    (250, 134.9, 118.9, 12.3),
    (275, 148.4, 132.4, 13.0),  # printed 14.4 for 148.4: see the test of the slip
    (300, 161.9, 145.9, 13.6),
    (325, 175.4, 159.4, 14.2),
    (350, 188.9, 172.9, 14.8),
]


@pytest.mark.parametrize(("supply", "total", "rest", "diameter"), RR_0005)
def test_rr_0005_transfer_areas(supply: float, total: float, rest: float, diameter: float) -> None:
    after_undercut = in2(supply, 3) - 32 * 0.5
    assert in2(supply, 3) == pytest.approx(total, abs=0.0501)
    assert after_undercut == pytest.approx(rest, abs=0.0501)
    assert sqrt(4 * after_undercut / pi) == pytest.approx(diameter, abs=0.0501)


def test_rr_0005_row_of_275_cfm_has_a_printing_slip() -> None:
    # 14.4 in² is printed where its own next column (132.4 = total - 16) and its neighbours ask for 148.4
    printed = 14.4
    assert in2(275, 3) - printed > 130
    assert in2(275, 3) == pytest.approx(132.4 + 32 * 0.5, abs=0.0501)
    steps = [later[1] - earlier[1] for earlier, later in pairwise(RR_0005)]
    assert all(step == pytest.approx(in2(25, 3), abs=0.1001) for step in steps)


@pytest.mark.parametrize(("width", "height"), [(10, 12.3), (12, 10.2), (14, 8.8)])
def test_rr_0005_grille_heights_for_200_cfm(width: float, height: float) -> None:
    # 75 % free area; three of the 39 printed heights
    assert (in2(200, 3) - 32 * 0.5) / 0.75 / width == pytest.approx(height, abs=0.0501)


def test_editors_answer_of_47_cfm() -> None:
    # Green-building magazine, read: 30 in x 1 in at 2.5 Pa. 7 % below ours, inside 10 %
    assert cfm(30, 2.5) == pytest.approx(50.8, abs=0.05)
    assert 47 / cfm(30, 2.5) == pytest.approx(1 - 0.074, abs=0.0015)
    assert cfm(30, 2.5, discharge=0.562) == pytest.approx(47, abs=0.05)
    assert cfm(27.8, 2.5) == pytest.approx(47, abs=0.1)


def test_manual_t_60_cfm_per_inch() -> None:
    # As quoted in Home Energy, January 2006; the rule has neither width nor pressure
    assert 60 / cfm(30, 3) == pytest.approx(1.08, abs=0.005)
    assert pascals(60, 30) == pytest.approx(3.49, abs=0.005)
    assert 60 / cfm(30, 2.5) == pytest.approx(1.18, abs=0.005)


def test_manual_d_60_to_70_cfm_is_higher_than_3_pa_gives() -> None:
    # As a training site describes it: 30 to 32 in leaf, 1 in gap, pressure not stated; not reproduced within 5 %
    assert 60 / cfm(30, 3) == pytest.approx(1.08, abs=0.005)
    assert 70 / cfm(32, 3) == pytest.approx(1.18, abs=0.005)
    assert pascals(60, 30) == pytest.approx(3.5, abs=0.05)
    assert pascals(70, 32) == pytest.approx(4.2, abs=0.05)


def test_manual_t_grille_face_velocity_is_3_pa() -> None:
    # As quoted: 350 cfm through 1.75 ft² gross at 200 ft/min; 75 % of it is free
    assert pytest.approx(252) == 350 / 200 * 144
    assert pascals(350, 0.75 * 252) == pytest.approx(2.995, abs=0.0005)


def test_field_graph_of_80_cfm_is_not_an_undercut_alone() -> None:
    # A consultant's graph, caption read: rooms with only a 1/2 in undercut stay within 3 Pa up to about 80 cfm.
    # NOT reproduced, 2.9 times ours: real rooms leak at jambs, head and partitions, and thick leaves pass more
    undercut = 30 * 0.5
    assert 80 / cfm(undercut, 3) == pytest.approx(2.9, abs=0.05)
    thick_leaf = cfm(undercut, 3, discharge=0.785)
    assert thick_leaf == pytest.approx(35.9, abs=0.05)
    perimeter = cfm((2 * 80 + 30) / 8, 3, discharge=0.55)  # 1/8 in gap all round; 0.55 is remembered, an estimate
    assert thick_leaf + perimeter == pytest.approx(80, rel=0.06)


def test_seven_pascals_are_three_hundredths_of_an_inch_by_rounding() -> None:
    # Same article, read
    assert pascals_read(0.0281) == pytest.approx(7, abs=0.0125)
    assert round(7 / pascals_read(1), 2) == 0.03


def test_florida_houses_pressures_agree_with_each_other() -> None:
    # FSEC-RR-140-06, abstract read: rooms +6.2 Pa and central zone -2.9 Pa; 0.0249 and -0.0116 in of water
    assert pascals_read(0.0249) == pytest.approx(6.2, abs=0.05)
    assert pascals_read(0.0116) == pytest.approx(2.9, abs=0.05)


def test_austrian_slot_is_a_rule_of_speed_not_of_1_pa() -> None:
    # Comfort-ventilation information site, read: 30 m³/h, 80 cm leaf, 0.7 cm, at most 1.5 m/s
    speed = 30 / 3600 / (0.80 * 0.007)
    assert speed == pytest.approx(1.488, abs=0.0005)
    assert speed <= 1.5
    assert pascals_at_speed(speed, discharge=0.62) == pytest.approx(3.5, abs=0.05)
    assert pascals_at_speed(speed, discharge=0.775) == pytest.approx(2.2, abs=0.05)


def test_german_1_m_s_is_1_pa_only_for_a_thick_slot() -> None:
    # Trade encyclopaedias, read. NOT reproduced with a sharp edge (+63 %)
    assert pascals_at_speed(1, discharge=PRACTITIONER) == pytest.approx(1.63, abs=0.005)
    assert pascals_at_speed(1, discharge=0.775, density=1.2) == pytest.approx(1.00, abs=0.005)


def test_simple_overflow_element() -> None:
    # AIVC 2012, abstract read: 40 m³/h at no more than 2 Pa; plausible for 12 mm under 80 cm
    needed = orifice_area_m2(flow_m3_s=40 / 3600, pressure_pa=2, density_kg_m3=DENSITY, discharge=0.62)
    assert needed * 1e4 == pytest.approx(98, abs=0.5)
    assert pytest.approx(needed, rel=0.03) == 0.012 * 0.80


@pytest.mark.parametrize(("feet_per_minute", "speed", "pressure"), [(200, 1.016, 1.69), (300, 1.524, 3.79)])
def test_undercut_speed_of_200_to_300_feet_per_minute(feet_per_minute: float, speed: float, pressure: float) -> None:
    # ASHRAE guidance as a forum quotes it, weak: the same as 2.5 to 3 Pa practice, roughly
    assert feet_per_minute * FPM == pytest.approx(speed)
    assert pascals_at_speed(speed, discharge=0.607) == pytest.approx(pressure, abs=0.006)


def test_150_m3_h_through_150_cm2_breaks_every_pressure_limit() -> None:
    # German training course, read. NOT compatible with limits of 1 to 5 Pa
    assert pytest.approx(2.78, abs=0.005) == 150 / 3600 / 0.015
    assert pascals_at_speed(150 / 3600 / 0.015, discharge=0.61, density=1.2) == pytest.approx(12.4, abs=0.05)
    for pressure, carried in ((1, 43), (2.5, 67), (5, 95)):
        flow = orifice_flow_m3_s(area_m2=0.015, pressure_pa=pressure, density_kg_m3=1.2, discharge=0.61)
        assert flow * 3600 == pytest.approx(carried, abs=0.5)


def test_forum_guess_of_100_l_s_is_far_off() -> None:
    # Engineers' forum, a guess: 20 mm undercut. NOT reproduced: 63 Pa under a leaf of 0.8 m
    pressure = orifice_pressure_pa(flow_m3_s=0.1, area_m2=0.020 * 0.8, density_kg_m3=DENSITY, discharge=0.61)
    assert pressure == pytest.approx(63, abs=0.5)


def test_dutch_12_cm2_per_l_s_is_a_speed() -> None:
    # From memory, algebra only: 0.83 m/s is 12.05 cm² per dm³/s
    assert pytest.approx(12.05, abs=0.005) == 1e-3 / 0.83 * 1e4
    assert pascals_at_speed(1e-3 / 12e-4, discharge=PRACTITIONER) == pytest.approx(1.13, abs=0.005)


def test_one_square_inch_per_cfm_is_a_0_87_pa_design() -> None:
    # ENERGY STAR alternative, older revision, quoted; stricter than 3 Pa by 1.85 in area
    assert pascals(1, 1) == pytest.approx(0.873, abs=0.0005)
    assert 1 / in2(1, 3) == pytest.approx(1.85, abs=0.005)


def test_dryer_closet_opening() -> None:
    # IMC 504.6, quoted: 100 in², 200 cfm
    assert pascals(200, 100) == pytest.approx(3.49, abs=0.005)


@pytest.mark.parametrize(
    ("supply", "three_quarters_free", "all_free"), [(100, 1.92, 1.37), (200, 3.17, 2.07), (300, 3.87, 2.43)]
)
def test_florida_grille_exception(supply: float, three_quarters_free: float, all_free: float) -> None:
    # Florida exception, quoted: 50 in² per 100 cfm and a 1 in undercut, 30 in leaf; 2.5 Pa is intended.
    # From 200 cfm it exceeds 2.5 Pa if "grille area" is gross and 75 % of it is free. 1.37 is 1.3648 rounded twice
    grille = 50 * supply / 100
    assert pascals(supply, 30 + 0.75 * grille) == pytest.approx(three_quarters_free, abs=0.005)
    assert pascals(supply, 30 + grille) == pytest.approx(all_free, abs=0.0055)
    assert (pascals(supply, 30 + 0.75 * grille) > 2.5) == (supply >= 200)


@pytest.mark.parametrize(
    ("area_mm2", "flows_l_s"),
    [
        (7_600, {1: 6.0, 2.5: 9.5, 3: 10.4, 5: 13.4}),  # England, Approved Document F: 10 mm under 760 mm
        (14_000, {1: 11.0, 2.5: 17.4, 3: 19.1, 5: 24.7}),  # Australia, NCC 2022: 14,000 mm²
        (7_300, {5: 12.9}),  # France: 1 cm under 73 cm
        (14_600, {5: 25.7}),  # France: 2 cm under 73 cm
    ],
)
def test_flows_of_national_transfer_areas(area_mm2: float, flows_l_s: dict[float, float]) -> None:
    # Worked beforehand: discharge 0.61, air of 1.2 kg/m³
    for pressure, printed in flows_l_s.items():
        flow = orifice_flow_m3_s(area_m2=area_mm2 * 1e-6, pressure_pa=pressure, density_kg_m3=1.2, discharge=0.61)
        assert flow * 1e3 == pytest.approx(printed, abs=0.0501)


@pytest.mark.parametrize(("flow", "pressure"), [(50, 4.3), (80, 11.0), (110, 20.9)])
def test_bath_undercut_of_three_quarters(flow: float, pressure: float) -> None:
    # Worked beforehand for the 3/4 in asked for under a bath's door, 30 in leaf
    assert pascals(flow, 30 * 0.75) == pytest.approx(pressure, abs=0.05)


@pytest.mark.parametrize(("gap", "flow"), [(0.5, 25.5), (1.0, 51.0)])
def test_trade_figures_per_half_inch(gap: float, flow: float) -> None:
    # Worked beforehand: discharge 0.61, 30 in leaf, 2.5 Pa; "25 cfm per 1/2 in" is the trade's figure
    assert cfm(30 * gap, 2.5, discharge=0.61) == pytest.approx(flow, abs=0.05)


def test_return_air_of_75_cfm_needs_a_gap_nobody_wants() -> None:
    # Worked beforehand: 75 cfm, 30 in, 2.5 Pa, discharge 0.61 asks for 1.47 in
    area = orifice_area_m2(flow_m3_s=75 * CFM, pressure_pa=2.5, density_kg_m3=DENSITY, discharge=0.61)
    assert area / (30 * IN) / IN == pytest.approx(1.47, abs=0.005)


# Worked beforehand: k of Q [cfm] = k A [in²] sqrt(dP [Pa]) at three densities.
@pytest.mark.parametrize(
    ("discharge", "at_1_200", "at_1_2041", "at_1_225"),
    [
        (0.600, 1.0589, 1.0571, 1.0480),
        (0.610, 1.0765, 1.0747, 1.0655),
        (0.620, 1.0942, 1.0923, 1.0830),
        (0.650, 1.1471, 1.1452, 1.1354),
        (0.780, 1.3766, 1.3742, 1.3624),
    ],
)
def test_practitioner_factor(discharge: float, at_1_200: float, at_1_2041: float, at_1_225: float) -> None:
    for density, factor in ((1.200, at_1_200), (1.2041, at_1_2041), (1.225, at_1_225)):
        assert cfm(1, 1, discharge=discharge, density=density) == pytest.approx(factor, abs=5.1e-5)


@pytest.mark.parametrize(("density", "discharge"), [(1.200, 0.6063), (1.2041, 0.6073), (1.225, 0.6126)])
def test_discharge_that_the_practitioner_factor_means(density: float, discharge: float) -> None:
    assert cfm(1, 1, discharge=discharge, density=density) == pytest.approx(1.07, abs=1e-4)


def test_practitioner_factor_in_inches_of_water() -> None:
    # The classic 4005 Cd A [ft²] sqrt(in of water) agrees to 0.02 %
    assert cfm(1, IN_H2O) == pytest.approx(16.89, abs=0.005)
    assert cfm(144, IN_H2O) == pytest.approx(2431.8, abs=0.05)
    assert cfm(144, IN_H2O) == pytest.approx(4005 * 0.6073, rel=2.1e-4)


def test_practitioner_factor_in_metric() -> None:
    per_cm2 = orifice_flow_m3_s(area_m2=1e-4, pressure_pa=1, density_kg_m3=DENSITY, discharge=PRACTITIONER)
    assert per_cm2 * 1e3 == pytest.approx(0.0783, abs=5e-5)
    assert per_cm2 * 3600 == pytest.approx(0.2818, abs=5e-5)


# Worked beforehand: area per flow, and flow of 100 in².
@pytest.mark.parametrize(
    ("pressure", "area_per_cfm", "cfm_per_100"),
    [
        (1.0, 0.9346, 107.0),
        (1.5, 0.7631, 131.0),
        (2.0, 0.6608, 151.3),
        (2.5, 0.5911, 169.2),
        (3.0, 0.5396, 185.3),
        (5.0, 0.4180, 239.3),
        (0.8734, 1.0000, 100.0),
    ],
)
def test_area_per_cfm(pressure: float, area_per_cfm: float, cfm_per_100: float) -> None:
    assert in2(1, pressure) == pytest.approx(area_per_cfm, abs=5.1e-5)
    assert cfm(100, pressure) == pytest.approx(cfm_per_100, abs=0.051)


# NIST multizone library, appendix C2, read: 0.9 cm²/m of closet door, 25 cm² a frame, at 4 Pa; flows worked beforehand.
@pytest.mark.parametrize(("area_cm2", "flow"), [(0.9 * 4.826, 1.97), (25, 11.33)])
def test_closed_door_cracks_at_3_pa(area_cm2: float, flow: float) -> None:
    assert flow_at([crack(area_cm2)], 3) / CFM == pytest.approx(flow, abs=0.0051)


@pytest.mark.parametrize("exponent", [0.5, 0.65, 1.0])
def test_leakage_area_is_a_hole_of_discharge_1_at_4_pa(exponent: float) -> None:
    hole = orifice_flow_m3_s(area_m2=25e-4, pressure_pa=4, density_kg_m3=DENSITY, discharge=1)
    assert flow_at([crack(25, exponent)], 4) == pytest.approx(hole, rel=1e-12)


# Worked beforehand: cfm at 1, 2.5, 3 and 5 Pa for gaps of 1/2, 3/4, 1 and 1 1/2 in.
UNDERCUTS = {
    24: [(12.8, 20.3, 22.2, 28.7), (19.3, 30.5, 33.4, 43.1), (25.7, 40.6, 44.5, 57.4), (38.5, 60.9, 66.7, 86.1)],
    28: [(15.0, 23.7, 25.9, 33.5), (22.5, 35.5, 38.9, 50.2), (30.0, 47.4, 51.9, 67.0), (44.9, 71.1, 77.8, 100.5)],
    30: [(16.1, 25.4, 27.8, 35.9), (24.1, 38.1, 41.7, 53.8), (32.1, 50.8, 55.6, 71.8), (48.2, 76.1, 83.4, 107.7)],
    32: [(17.1, 27.1, 29.7, 38.3), (25.7, 40.6, 44.5, 57.4), (34.2, 54.1, 59.3, 76.6), (51.4, 81.2, 89.0, 114.8)],
    36: [(19.3, 30.5, 33.4, 43.1), (28.9, 45.7, 50.0, 64.6), (38.5, 60.9, 66.7, 86.1), (57.8, 91.4, 100.1, 129.2)],
}


@pytest.mark.parametrize("width", UNDERCUTS)
def test_flow_table(width: int) -> None:
    for gap, row in zip((0.5, 0.75, 1.0, 1.5), UNDERCUTS[width], strict=True):
        for pressure, printed in zip((1, 2.5, 3, 5), row, strict=True):
            assert cfm(width * gap, pressure) == pytest.approx(printed, abs=0.0501)


@pytest.mark.parametrize(("carpet", "flow"), [(0, 55.6), (0.25, 41.7), (0.5, 27.8)])
def test_carpet_takes_from_the_gap(carpet: float, flow: float) -> None:
    # Worked beforehand: 1 in to the slab, 30 in leaf, 3 Pa
    assert cfm(30 * (1 - carpet), 3) == pytest.approx(flow, abs=0.05)


# Run beforehand: altitude, pressure by PsychroLib and by fluids (as printed), dry density at 20 °C, flow factor.
ATMOSPHERE = [
    (0, 101325.00, 101325.00, 1.20415, 1.0000),
    (500, 95460.8, 95461.3, 1.13446, 1.0302),
    (1000, 89874.52, 89876.29, 1.06807, 1.0618),
    (1609.344, 83427.51, 83431.77, 0.99146, 1.1020),
    (2000, 79495.12, 79501.42, 0.94472, 1.1290),
    (2500, 74682.4, 74691.8, 0.88753, 1.1648),
    (3000, 70108.42, 70121.16, 0.83317, 1.2022),
]


@pytest.fixture
def si_units() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.usefixtures("si_units")
@pytest.mark.parametrize(("altitude", "by_psychrolib", "by_fluids", "density", "factor"), ATMOSPHERE)
def test_atmosphere(altitude: float, by_psychrolib: float, by_fluids: float, density: float, factor: float) -> None:
    pressure, rho = station_pressure_pa(altitude), air_density_kg_m3(altitude_m=altitude, temperature_c=20)
    assert pressure == pytest.approx(by_psychrolib, abs=0.051)
    assert pressure == pytest.approx(psychrolib.GetStandardAtmPressure(altitude), rel=1e-12)
    # another fit of the same atmosphere: 2e-5 apart at 1000 m, 1.8e-4 at 3000 m
    assert pytest.approx(by_fluids, abs=0.051) == fluids.atmosphere.ATMOSPHERE_1976(altitude).P
    assert pressure == pytest.approx(by_fluids, rel=5e-4)
    assert rho == pytest.approx(density, abs=5.1e-6)
    assert rho == pytest.approx(psychrolib.GetDryAirDensity(20, pressure), rel=1e-12)
    assert rho == pytest.approx(PropsSI("D", "T", 293.15, "P", pressure, "Air"), rel=5e-4)  # a real gas
    assert sqrt(DENSITY / rho) == pytest.approx(factor, abs=5.1e-5)  # headed 1.20415, worked with 1.2041


@pytest.mark.parametrize(
    ("altitude", "flow", "pressure"),
    [(0, 55.59, 3.00), (1609.344, 61.27, 2.47), (2500, 64.76, 2.21), (3000, 66.84, 2.08)],
)
def test_altitude_moves_flow_up_and_pressure_down(altitude: float, flow: float, pressure: float) -> None:
    # Worked beforehand: 30 in² with the discharge that 1.07 means at 1.2041; 55.6 cfm of actual air
    rho = air_density_kg_m3(altitude_m=altitude, temperature_c=20)
    assert cfm(30, 3, density=rho) == pytest.approx(flow, abs=0.0101)
    across = orifice_pressure_pa(flow_m3_s=55.6 * CFM, area_m2=30 * IN2, density_kg_m3=rho, discharge=PRACTITIONER)
    assert across == pytest.approx(pressure, abs=0.0051)


@pytest.mark.parametrize(
    ("temperature", "density", "flow"), [(0, 1.29232, 53.66), (20, 1.20415, 55.59), (35, 1.14554, 57.00)]
)
def test_temperature_matters_little(temperature: float, density: float, flow: float) -> None:
    rho = air_density_kg_m3(altitude_m=0, temperature_c=temperature)
    assert rho == pytest.approx(density, abs=5.1e-6)
    assert cfm(30, 3, density=rho) == pytest.approx(flow, abs=0.0101)


def test_indoor_temperature_not_the_standard_atmospheres() -> None:
    # A pitfall: outdoor air of the standard atmosphere at 1609 m is 5 % denser
    outdoors = fluids.atmosphere.ATMOSPHERE_1976(1609.344)
    assert outdoors.rho == pytest.approx(1.0467, abs=5e-5)
    assert pytest.approx(277.69, abs=0.005) == outdoors.T
    indoors = air_density_kg_m3(altitude_m=1609.344, temperature_c=20)
    assert outdoors.rho / indoors == pytest.approx(1.056, abs=0.001)


@pytest.mark.usefixtures("si_units")
def test_humidity_may_be_left_out() -> None:
    # 20 °C, 50 %: 0.4 % lighter by PsychroLib and by CoolProp
    dry = air_density_kg_m3(altitude_m=0, temperature_c=20)
    ratio = psychrolib.GetHumRatioFromRelHum(20, 0.5, 101_325)
    moist = psychrolib.GetMoistAirDensity(20, ratio, 101_325)
    real = (1 + ratio) / HAPropsSI("Vda", "T", 293.15, "P", 101_325, "R", 0.5)
    assert moist == pytest.approx(1.1989, abs=5e-5)
    assert real == pytest.approx(1.19936, abs=5e-5)
    assert dry / moist - 1 == pytest.approx(0.0044, abs=1e-4)


def test_pressure_of_a_mile_in_psi() -> None:
    # The same handbook's inch-pound equation, 5280 ft: 12.1002 psi by PsychroLib
    assert station_pressure_pa(1609.344) / 6894.757 == pytest.approx(12.1002, abs=1e-3)


def test_standard_flow_at_a_mile() -> None:
    # Worked beforehand: for the same mass dP is 21 % higher, for the same actual flow 18 % lower
    rho = air_density_kg_m3(altitude_m=1609.344, temperature_c=20)
    assert pytest.approx(1.20138, abs=5e-6) == STANDARD_DENSITY

    def pressure(flow: float, density: float) -> float:
        return orifice_pressure_pa(flow_m3_s=flow, area_m2=0.02, density_kg_m3=density, discharge=0.6073)

    sea_level = pressure(0.03, STANDARD_DENSITY)
    same_mass = pressure(actual_flow_m3_s(standard_flow_m3_s=0.03, density_kg_m3=rho), rho)
    assert same_mass / sea_level == pytest.approx(1.21, abs=0.005)
    assert pressure(0.03, rho) / pressure(0.03, 1.20415) == pytest.approx(0.82, abs=0.005)


# Worked beforehand by scipy and in closed form.
@pytest.mark.parametrize(("supply", "pressure"), [(75, 1.06263), (100, 1.88912), (150, 4.25053)])
def test_undercut_and_grille(supply: float, pressure: float) -> None:
    assert pressure_at([opening(30), opening(38)], supply * CFM) == pytest.approx(pressure, abs=1e-5)


def test_undercut_and_grille_share_the_flow() -> None:
    pressure = pressure_at([opening(30), opening(38)], 75 * CFM)
    assert flow_at([opening(30)], pressure) / CFM == pytest.approx(33.09, abs=0.005)
    assert flow_at([opening(38)], pressure) / CFM == pytest.approx(41.91, abs=0.005)


@pytest.mark.parametrize(("supply", "pressure"), [(75, 1.083), (100, 1.917), (125, 2.985), (150, 4.288)])
def test_undercut_crack_and_jump_duct(supply: float, pressure: float) -> None:
    # Computed beforehand with friction solved at each flow; ours fixes it, so 0.5 % is allowed
    paths = [opening(30), crack(4.34), jump_duct(8, 10)]
    assert pressure_at(paths, supply * CFM) == pytest.approx(pressure, rel=5e-3)


@pytest.mark.parametrize(
    ("diameter", "grille", "flow", "share"),
    [(6, 8, 39.0, 0.74), (8, 10, 67.7, 0.73), (10, 12, 103.3, 0.71), (12, 14, 145.7, 0.70)],
)
def test_jump_duct_is_no_hole_of_its_own_area(diameter: float, grille: float, flow: float, share: float) -> None:
    # RR-0005 sizes them as holes; worked beforehand: 70 to 74 % of that at 3 Pa
    through = flow_at([jump_duct(diameter, grille)], 3)
    hole = flow_at([opening(pi / 4 * diameter**2)], 3)
    assert through / CFM == pytest.approx(flow, rel=2e-3)
    assert through / hole == pytest.approx(share, abs=0.0051)


def _duct_solved(*, diameter: float, length: float, roughness: float, grille: float, pressure: float) -> float:
    """Flow through the duct with friction found at its own speed, by the library fluids."""
    section, flow, friction = pi / 4 * diameter**2, 0.0, 0.03
    for _ in range(60):
        losses = (fluids.exit_normal() + 0.5 + 0.5 + friction * length / diameter) / section**2
        flow = sqrt(2 * pressure / DENSITY / (losses + 2 / (0.6073 * grille) ** 2))
        reynolds = DENSITY * flow / section * diameter / AIR_VISCOSITY
        friction = fluids.friction_factor(Re=reynolds, eD=roughness / diameter)
    return flow


@pytest.mark.parametrize(
    ("diameter_in", "length", "roughness", "tolerance"),
    [(6, 3, 0.003, 5e-3), (8, 3, 0.003, 5e-3), (12, 3, 0.003, 5e-3), (4, 6, 0.0, 4e-2), (8, 6, 9e-5, 2e-2)],
)
@pytest.mark.parametrize("pressure", [1, 3, 10])
def test_fixed_friction_against_a_full_solution(
    diameter_in: float, length: float, roughness: float, tolerance: float, pressure: float
) -> None:
    diameter, grille = diameter_in * IN, 0.75 * (diameter_in + 2) ** 2 * IN2
    coefficient = duct_coefficient(
        diameter_m=diameter, length_m=length, roughness_m=roughness, bend_loss=0.5, grille_free_area_m2=grille,
        discharge=0.6073, density_kg_m3=DENSITY,
    )  # fmt: skip
    solved = _duct_solved(diameter=diameter, length=length, roughness=roughness, grille=grille, pressure=pressure)
    assert coefficient * sqrt(pressure) == pytest.approx(solved, rel=tolerance)


@pytest.mark.parametrize(("diameter", "roughness"), [(0.2032, 0.003), (0.1016, 0.0), (0.3048, 9e-5)])
def test_friction_factor_is_the_published_equation(diameter: float, roughness: float) -> None:
    ours = duct_friction(diameter_m=diameter, roughness_m=roughness, density_kg_m3=DENSITY)
    reynolds = DENSITY * diameter / AIR_VISCOSITY
    assert ours == pytest.approx(fluids.friction.Haaland(Re=reynolds, eD=roughness / diameter), rel=1e-12)


def test_two_equal_openings_in_series() -> None:
    # Worked beforehand: 108 in² twice is 76.4 in²; a duct so wide and short that only its grilles resist
    coefficient = duct_coefficient(
        diameter_m=1000, length_m=0, roughness_m=0, bend_loss=0, grille_free_area_m2=108 * IN2, discharge=0.6073,
        density_kg_m3=DENSITY,
    )  # fmt: skip
    assert coefficient == pytest.approx(opening(108 / sqrt(2)).coefficient, rel=1e-9)
    assert coefficient / opening(1).coefficient == pytest.approx(76.4, abs=0.05)


@pytest.mark.parametrize(
    ("gap", "cracks", "flow"),
    [(0.5, [], 27.8), (0.5, [4.34], 29.8), (0.5, [4.34, 25], 41.1), (0.75, [4.34, 25], 55.0)],
)
def test_half_inch_door_with_all_its_parts(gap: float, cracks: list[float], flow: float) -> None:
    paths = [opening(30 * gap), *(crack(area) for area in cracks)]
    assert flow_at(paths, 3) / CFM == pytest.approx(flow, abs=0.0501)


# Run beforehand: what fluids 1.3.1 gave.
@pytest.mark.parametrize(
    ("discharge", "pressure", "expected"),
    [(0.6073, 2.5, 0.0239522156), (0.6073, 3, 0.0262383376), (0.61, 3, 0.0263549908), (0.65, 3, 0.0280831870)],
)
def test_orifice_against_fluids_flow_meter(discharge: float, pressure: float, expected: float) -> None:
    area = 30 * IN2
    bore = sqrt(4 * area / pi)
    mass = fluids.flow_meter_discharge(  # type: ignore[no-untyped-call]  # only part of the library is typed
        D=1000 * bore, Do=bore, P1=101_325 + pressure, P2=101_325, rho=DENSITY, C=discharge
    )
    ours = orifice_flow_m3_s(area_m2=area, pressure_pa=pressure, density_kg_m3=DENSITY, discharge=discharge)
    assert ours == pytest.approx(mass / DENSITY, rel=1e-9)
    assert ours == pytest.approx(expected, abs=1e-10)


@pytest.mark.parametrize("pressure", [0.1, 2.5, 3, 50])
@pytest.mark.parametrize("discharge", [0.5, 0.6073, 0.85])
def test_orifice_as_a_loss_coefficient(pressure: float, discharge: float) -> None:
    speed = orifice_flow_m3_s(area_m2=1, pressure_pa=pressure, density_kg_m3=DENSITY, discharge=discharge)
    assert fluids.dP_from_K(K=1 / discharge**2, rho=DENSITY, V=speed) == pytest.approx(pressure, rel=1e-12)
    back = orifice_pressure_pa(flow_m3_s=speed, area_m2=1, density_kg_m3=DENSITY, discharge=discharge)
    assert back == pytest.approx(pressure, rel=1e-12)


def test_discharge_as_a_loss_coefficient() -> None:
    loss = fluids.discharge_coefficient_to_K(D=100, Do=1, C=0.61) / 100**4
    assert pascals_at_speed(1, discharge=0.61, density=2) == pytest.approx(loss, rel=2e-4)


def test_entrance_and_exit_losses_bound_the_discharge_from_above() -> None:
    # 0.5 to 0.57 for a sharp entrance, 1.0 for the exit: 0.80 to 0.82, above our default of 0.607
    assert fluids.exit_normal() == 1.0
    assert 1 / sqrt(fluids.entrance_sharp() + 1) == pytest.approx(0.798, abs=0.0005)
    assert 1 / sqrt(fluids.entrance_sharp(method="Swamee") + 1) == pytest.approx(0.816, abs=0.0005)
    assert 1 / sqrt(fluids.entrance_sharp() + 1) > PRACTITIONER


def test_viscosity_against_coolprop() -> None:
    assert pytest.approx(PropsSI("V", "T", 293.15, "P", 101_325, "Air"), rel=1e-4) == AIR_VISCOSITY
