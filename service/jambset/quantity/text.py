"""The three-part form of a quantity in a response: SI, customary, and text in the unit of the caller's grid.

Text is exact where 1/64 in or 0.01 mm can say the value; otherwise it is the nearest 1/64 in or 0.1 mm,
halves away from zero, marked "about".
"""

from __future__ import annotations

from fractions import Fraction

import msgspec

from jambset.quantity.grid import Grid
from jambset.quantity.ticks import INCH, MM

CFM = 4.719474432e-4
IN_H2O = 249.08891
IN2 = 6.4516e-4
ABOUT = "about "
"""Stands before a text that its grid can't say exactly."""


class LengthForm(msgspec.Struct, frozen=True, rename={"inch": "in"}):
    """A length as answered: millimetres, inches, and text in the unit of the caller's grid."""

    mm: float
    inch: float
    text: str


class AreaForm(msgspec.Struct, frozen=True):
    """An area as answered."""

    mm2: float
    in2: float
    text: str


class FlowForm(msgspec.Struct, frozen=True, rename={"l_s": "L_s"}):
    """An air flow as answered: litres per second, cubic metres per hour, cubic feet per minute."""

    l_s: float
    m3_h: float
    cfm: float
    text: str


class PressureForm(msgspec.Struct, frozen=True, rename={"pa": "Pa", "in_h2o": "inH2O"}):
    """A pressure difference as answered: pascals and inches of water."""

    pa: float
    in_h2o: float
    text: str


def inch_text(length: int) -> str:
    """Inches as a carpenter writes them, to 1/64.

    length: ticks.
    >>> inch_text(203_200 * 3 // 2), inch_text(-203_200 // 8), inch_text(10 * 8_000)
    ('1 1/2 in', '-1/8 in', 'about 25/64 in')
    """
    sixty_fourths, exact = _nearest(length, step=INCH // 64)
    sign = "-" if sixty_fourths < 0 else ""
    whole, rest = divmod(abs(sixty_fourths), 64)
    part = str(Fraction(rest, 64)) if rest else ""
    number = " ".join(p for p in (str(whole) if whole or not part else "", part) if p)
    return f"{'' if exact else ABOUT}{sign}{number} in"


def mm_text(length: int) -> str:
    """Millimetres to 0.01, or to 0.1 where that doesn't say it exactly.

    length: ticks.
    >>> mm_text(38 * 8_000), mm_text(203_200 // 2), mm_text(203_200 // 64), mm_text(1_234_567 * 80)
    ('38 mm', '12.7 mm', 'about 0.4 mm', '12345.67 mm')
    """
    hundredths, exact = _nearest(length, step=MM // 100)
    if not exact:
        hundredths = 10 * _nearest(length, step=MM // 10)[0]
    sign = "-" if hundredths < 0 else ""
    whole, rest = divmod(abs(hundredths), 100)
    return f"{'' if exact else ABOUT}{sign}{f'{whole}.{rest:02}'.rstrip('0').rstrip('.')} mm"


def _nearest(length: int, *, step: int) -> tuple[int, bool]:
    size, rest = divmod(abs(length), step)
    size += 2 * rest >= step
    return (-size if length < 0 else size), rest == 0


def length_form(length: int, grid: Grid) -> LengthForm:
    """A length in its three parts. length: ticks."""
    text = inch_text(length) if grid.inches else mm_text(length)
    return LengthForm(round(length / MM, 6), round(length / INCH, 6), text)


def area_form(area_m2: float, grid: Grid) -> AreaForm:
    """An area [m²] in its three parts."""
    mm2, in2 = round(area_m2 * 1e6, 3), round(area_m2 / IN2, 4)
    return AreaForm(mm2, in2, f"{in2:.1f} in²" if grid.inches else f"{mm2:.0f} mm²")


def flow_form(flow_m3_s: float, grid: Grid) -> FlowForm:
    """An air flow [m³/s] in its parts."""
    l_s, cfm = round(flow_m3_s * 1e3, 4), round(flow_m3_s / CFM, 4)
    return FlowForm(l_s, round(flow_m3_s * 3600, 4), cfm, f"{cfm:.1f} cfm" if grid.inches else f"{l_s:.1f} L/s")


def pressure_form(pressure_pa: float, grid: Grid) -> PressureForm:
    """A pressure difference [Pa] in its parts; the text is in pascals under every grid."""
    return PressureForm(round(pressure_pa, 4), round(pressure_pa / IN_H2O, 6), f"{pressure_pa:.1f} Pa")
