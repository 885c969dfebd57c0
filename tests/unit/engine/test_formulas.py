from __future__ import annotations

from math import log, sqrt

import pytest
from msgspec import UNSET, UnsetType

from jambset.engine import formulas as f
from jambset.model.request import Core
from jambset.quantity.ticks import INCH, MM

# A hole, an air and a flow whose numbers are easy by hand: density 2 makes dP = (Q / (Cd A))².
AREA, FLOW, PRESSURE = 0.5, 0.6, 4.0


def test_orifice_coefficient_is_the_flow_at_1_pa() -> None:
    assert f.orifice_coefficient(area_m2=AREA, density_kg_m3=2, discharge=0.6) == pytest.approx(0.3, rel=1e-15)
    assert f.orifice_coefficient(area_m2=0, density_kg_m3=1.2, discharge=0.6) == 0


def test_orifice_area_by_hand() -> None:
    area = f.orifice_area_m2(flow_m3_s=FLOW, pressure_pa=PRESSURE, density_kg_m3=2, discharge=0.6)
    assert area == pytest.approx(AREA, rel=1e-15)


def test_lighter_air_flows_more() -> None:
    def coefficient(density: float) -> float:
        return f.orifice_coefficient(area_m2=0.02, density_kg_m3=density, discharge=0.6)

    assert coefficient(0.6) / coefficient(1.2) == pytest.approx(sqrt(2), rel=1e-14)


def test_sea_level_is_one_atmosphere() -> None:
    assert f.station_pressure_pa(0) == 101_325.0


def test_below_the_sea_air_is_heavier() -> None:
    assert f.station_pressure_pa(-500) > 101_325.0


def test_density_is_the_gas_law() -> None:
    # p = rho R T with the handbook's constant of dry air
    rho = f.air_density_kg_m3(altitude_m=1200, temperature_c=25)
    assert rho * 287.042 * 298.15 == pytest.approx(f.station_pressure_pa(1200), rel=1e-14)


def test_standard_density_is_0_075_pounds_per_cubic_foot() -> None:
    assert pytest.approx(1.20138, abs=5e-6) == f.STANDARD_DENSITY


def test_actual_flow_carries_the_mass_of_the_standard_flow() -> None:
    actual = f.actual_flow_m3_s(standard_flow_m3_s=0.03, density_kg_m3=0.9)
    assert actual * 0.9 == pytest.approx(0.03 * 1.20138, rel=1e-5)


@pytest.mark.parametrize("exponent", [0.5, 0.65, 1.0])
def test_crack_by_hand(exponent: float) -> None:
    # density 2: sqrt(2 * 4 / 2) = 2 m/s at 4 Pa
    coefficient = f.crack_coefficient(leakage_area_m2=0.01, exponent=exponent, density_kg_m3=2)
    assert log(0.02 / coefficient, 4) == pytest.approx(exponent, rel=1e-12)


def _duct(**changes: float) -> float:
    ends = {"bend_loss": 0.5, "grille_free_area_m2": 0.05, "discharge": 0.6, "density_kg_m3": 1.2}
    return f.duct_coefficient(**({"diameter_m": 0.2, "length_m": 3.0, "roughness_m": 0.001} | ends | changes))


def test_duct_without_length_by_hand() -> None:
    # density 2, section 1: 1 / sqrt(0.5 + 1.0 + 2.5 + 2 / (0.5 * sqrt(2))²) = 1 / sqrt(8)
    no_length = _duct(
        diameter_m=sqrt(4 / 3.141592653589793), length_m=0, bend_loss=2.5, grille_free_area_m2=sqrt(2),
        discharge=0.5, density_kg_m3=2,
    )  # fmt: skip
    assert no_length == pytest.approx(1 / sqrt(8), rel=1e-12)


@pytest.mark.parametrize(
    ("name", "more", "passes_more"),
    [
        ("diameter_m", 0.25, True),
        ("length_m", 6.0, False),
        ("roughness_m", 0.003, False),
        ("bend_loss", 2.0, False),
        ("grille_free_area_m2", 0.08, True),
        ("discharge", 0.7, True),
        ("density_kg_m3", 1.3, False),
    ],
)
def test_each_number_of_a_duct_moves_it_its_own_way(name: str, more: float, passes_more: bool) -> None:
    assert (_duct(**{name: more}) > _duct()) is passes_more


def test_a_duct_passes_less_than_either_grille() -> None:
    assert _duct() < f.orifice_coefficient(area_m2=0.05, density_kg_m3=1.2, discharge=0.6)


@pytest.mark.parametrize(
    ("doors", "square_feet", "minor_repair"), [(1, 0.25, True), (24, 6.0, True), (25, 6.25, False)]
)
def test_disturbed_paint_counts_one_face(doors: int, square_feet: float, minor_repair: bool) -> None:
    # EPA question 23002-14294: a 1 in strip off a 36 in door is 36 in², and 6 ft² a room is minor repair
    area = doors * f.rrp_disturbed_area_m2(trim_m=0.0254, width_m=0.9144)
    assert area == pytest.approx(square_feet * 0.3048**2, rel=1e-12)
    assert (area <= 6 * 0.3048**2 * (1 + 1e-12)) is minor_repair


THICK, THIN = 11 * INCH // 8, 11 * INCH // 8 - 1


@pytest.mark.parametrize("core", Core)
@pytest.mark.parametrize(
    ("thickness", "minutes", "thick_enough", "rated"),
    [
        (THICK, UNSET, True, False),
        (THIN, UNSET, False, False),
        (THIN, 19, False, False),
        (THIN, 20, False, True),
        (35 * MM, UNSET, True, False),  # 35 mm is more than 1 3/8 in
    ],
)
def test_leaf_between_garage_and_house(
    core: Core, thickness: int, minutes: int | UnsetType, thick_enough: bool, rated: bool
) -> None:
    # IRC R302.5.1 (2018): solid wood or steel of 1 3/8 in, or 20 minutes
    wood_or_steel = core in {Core.SOLID, Core.STILE_AND_RAIL, Core.STEEL}
    complies = f.garage_leaf_complies(core=core, thickness=thickness, least_thickness=THICK, fire_minutes=minutes)
    assert complies is (rated or (wood_or_steel and thick_enough))
