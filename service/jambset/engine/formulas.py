"""Named formulas: numbers in, a number out, each with its unit, source and an example that runs.

Air quantities are SI floats, lengths of building parts are ticks. Discharge coefficients and limits are
arguments: their values stand in the catalogue with their sources.
"""

from __future__ import annotations

from math import log10, pi, sqrt

from msgspec import UNSET, UnsetType

from jambset.model.request import Core

STANDARD_DENSITY = 0.075 * 0.45359237 / 0.3048**3
"""Density of standard air [kg/m³]: 0.075 lb/ft³, 1.20138 kg/m³, on which a standard volume flow is based."""

AIR_VISCOSITY = 1.8206e-5
"""Dynamic viscosity of dry air at 20 °C [Pa s]; CoolProp gives this value, 4 % more or less from 5 to 35 °C."""

GARAGE_LEAF_MINUTES = 20
"""Fire rating [min] that may stand for thickness in a garage-to-house door: IRC R302.5.1 (2018)."""


def orifice_coefficient(*, area_m2: float, density_kg_m3: float, discharge: float) -> float:
    """What an opening passes at 1 Pa [m³/s per Pa^0.5], the C of Q = C dP^0.5.

    area_m2: free area [m²], at or above 0. discharge: coefficient [-], 0.5 to 0.85.
    Source: orifice equation; with 0.607 it is the 1.07 in² cfm Pa form of Building Science Corporation
    report RR-0005, Transfer Grille Sizing.
    >>> round(orifice_coefficient(area_m2=0.0193548, density_kg_m3=1.2041, discharge=0.6073), 6)
    0.015149
    """
    return discharge * area_m2 * sqrt(2 / density_kg_m3)


def orifice_area_m2(*, flow_m3_s: float, pressure_pa: float, density_kg_m3: float, discharge: float) -> float:
    """Free area that passes a flow at a pressure difference [m²].

    flow_m3_s: at or above 0. pressure_pa: above 0. Source: orifice equation, as in orifice_coefficient.
    >>> round(orifice_area_m2(flow_m3_s=0.0262383, pressure_pa=3, density_kg_m3=1.2041, discharge=0.6073), 6)
    0.019355
    """
    return flow_m3_s / (discharge * sqrt(2 * pressure_pa / density_kg_m3))


def station_pressure_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere [Pa]. altitude_m: above sea level [m], -5000 to 11000.

    Source: ASHRAE Handbook, Fundamentals (2017), chapter 1, equation 3, as PsychroLib quotes it; within
    2e-4 of the standard atmosphere itself (ISO 2533) up to 3000 m.
    >>> round(station_pressure_pa(1609.344), 2)
    83427.51
    """
    pressure: float = 101_325.0 * (1 - 2.25577e-5 * altitude_m) ** 5.2559
    return pressure


def air_density_kg_m3(*, altitude_m: float, temperature_c: float) -> float:
    """Density of dry air indoors [kg/m³]: pressure of the altitude, temperature of the room.

    altitude_m: -5000 to 11000. temperature_c: of the room, not the standard atmosphere's (5 % off at
    1600 m), -30 to 50. Humidity is left out: 0.4 % at 20 °C and 50 %.
    Source: ASHRAE Handbook, Fundamentals (2017), chapter 1, equations 1 and 14 (gas constant 287.042
    J/(kg K)), as PsychroLib quotes them.
    >>> round(air_density_kg_m3(altitude_m=1609.344, temperature_c=20), 5)
    0.99146
    """
    return station_pressure_pa(altitude_m) / (287.042 * (temperature_c + 273.15))


def actual_flow_m3_s(*, standard_flow_m3_s: float, density_kg_m3: float) -> float:
    """Volume flow that passes for a flow declared at standard density [m³/s]: the same mass of air.

    density_kg_m3: of the air in the room. Source: conservation of mass; standard air is 0.075 lb/ft³.
    >>> round(actual_flow_m3_s(standard_flow_m3_s=0.03, density_kg_m3=0.99146), 5)
    0.03635
    """
    return standard_flow_m3_s * STANDARD_DENSITY / density_kg_m3


def crack_coefficient(*, leakage_area_m2: float, exponent: float, density_kg_m3: float) -> float:
    """What a crack passes at 1 Pa [m³/s per Pa^n], the C of Q = C dP^n.

    leakage_area_m2: effective leakage area [m²], at or above 0, stated at 4 Pa with a discharge
    coefficient of 1. exponent: n [-], 0.5 to 1, about 0.65 for the crack round a closed door.
    Source: effective-leakage-area form of the power law as in the multizone package of the open
    Modelica libraries for buildings, and NIST's residential leakage table, which states areas so.
    >>> round(crack_coefficient(leakage_area_m2=25e-4, exponent=0.65, density_kg_m3=1.2041) * 3**0.65, 6)
    0.005345
    """
    return leakage_area_m2 * sqrt(2 * 4 / density_kg_m3) / 4**exponent


def duct_friction(*, diameter_m: float, roughness_m: float, density_kg_m3: float) -> float:
    """Friction factor of a jump duct's wall [-] (Darcy's), taken once, at an air speed of 1 m/s.

    1 m/s is what 3 Pa drives through such a duct (0.9 to 1.1 m/s for 6 to 12 in and 3 m), and with the
    friction fixed, flow stays in proportion to the root of pressure. Between 1 and 10 Pa the flow so found
    is within 0.5 % of a full solution for rough ducts of 6 to 12 in and 3 m, and within 4 % for smooth 4 in
    ducts of 6 m, the worst case. diameter_m: above 0. roughness_m: at or above 0; above 0.05 diameters the
    equation is stretched beyond its range.
    Source: explicit friction factor for turbulent pipe flow, Journal of Fluids
    Engineering 105 (1983), pages 89 to 90, as the library fluids quotes it.
    >>> round(duct_friction(diameter_m=0.2032, roughness_m=0.003, density_kg_m3=1.2041), 4)
    0.0467
    """
    reynolds = density_kg_m3 * 1.0 * diameter_m / AIR_VISCOSITY
    return (1.8 * log10((roughness_m / diameter_m / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2


def duct_coefficient(
    *,
    diameter_m: float,
    length_m: float,
    roughness_m: float,
    bend_loss: float,
    grille_free_area_m2: float,
    discharge: float,
    density_kg_m3: float,
) -> float:
    """What a jump duct with a grille at each end passes at 1 Pa [m³/s per Pa^0.5].

    Losses in series: 1/A² = sum K/A², with K = 1/discharge² on each grille's free area and, on the duct's
    section, 0.5 for its entrance, 1.0 for its exit, its bends and its wall (duct_friction).
    diameter_m, grille_free_area_m2: above 0. length_m, roughness_m, bend_loss: at or above 0.
    Source: series losses as in any duct handbook; computed, not measured.
    >>> ends = {"bend_loss": 0.5, "grille_free_area_m2": 0.048387, "discharge": 0.6073}
    >>> c = duct_coefficient(diameter_m=0.2032, length_m=3, roughness_m=0.003, density_kg_m3=1.2041, **ends)
    >>> round(c * 3**0.5 / 4.719474432e-4, 1)  # cfm at 3 Pa
    67.8
    """
    friction = duct_friction(diameter_m=diameter_m, roughness_m=roughness_m, density_kg_m3=density_kg_m3)
    section = pi / 4 * diameter_m**2
    duct = (0.5 + 1.0 + bend_loss + friction * length_m / diameter_m) / section**2
    grilles = 2 / (discharge * grille_free_area_m2) ** 2
    return sqrt(2 / density_kg_m3 / (duct + grilles))


def rrp_disturbed_area_m2(*, trim_m: float, width_m: float) -> float:
    """Painted surface that cutting a strip off a leaf disturbs [m²], one face, whatever the kerf.

    trim_m: height of the strip, at or above 0. width_m: of the leaf, above 0.
    Source: 40 CFR 745.83 as the EPA answers it in question 23002-14294: a 1 in strip off a 36 in door
    disturbs 36 in².
    >>> round(rrp_disturbed_area_m2(trim_m=0.0254, width_m=36 * 0.0254) / 0.0254**2, 9)
    36.0
    """
    return trim_m * width_m


def garage_leaf_complies(*, core: Core, thickness: int, least_thickness: int, fire_minutes: int | UnsetType) -> bool:
    """Whether a leaf may stand between garage and house: thick enough in wood or steel, or fire rated.

    thickness, least_thickness: ticks. fire_minutes: rating on its label, unset when it has none.
    A solid core and a stile-and-rail leaf count as wood; hollow, fibre-board and glass-fibre leaves need
    the rating. Thinner panels of a stile-and-rail leaf aren't seen: rows of their own ask about both.
    Source: IRC R302.5.1 (2018): 1 3/8 in of solid wood or solid or honeycomb-core steel, or 20 minutes.
    >>> limit = 11 * 203_200 // 8
    >>> garage_leaf_complies(core=Core.SOLID, thickness=limit, least_thickness=limit, fire_minutes=UNSET)
    True
    """
    if fire_minutes is not UNSET and fire_minutes >= GARAGE_LEAF_MINUTES:
        return True
    return core in {Core.SOLID, Core.STILE_AND_RAIL, Core.STEEL} and thickness >= least_thickness
