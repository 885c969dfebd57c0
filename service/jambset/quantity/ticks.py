"""Quantities inside the engine: a length is an integer count of 125 nm ticks, all else SI floats.

1 in = 203,200 ticks, 1/64 in = 3,175, 1 mm = 8,000, all exact: equality, rounding and hashing never
meet float noise. Each wire field has a class of its own with the range that is plausible for it, so
that 80 mm for the height of a leaf is caught as the wrong unit. Nothing here reads text or knows a
unit library.
"""

from __future__ import annotations

from math import ceil
from typing import ClassVar

MM = 8_000
INCH = 203_200
FOOT = 12 * INCH
METRE = 1_000 * MM


class Length(int):
    """A length [ticks of 125 nm]."""

    __slots__ = ()
    TITLE: ClassVar[str] = "length"
    LEAST: ClassVar[int] = -1_000 * METRE
    GREATEST: ClassVar[int] = 1_000 * METRE


class SiFloat(float):
    """A quantity in one SI unit, named by the subclass."""

    __slots__ = ()
    TITLE: ClassVar[str]
    LEAST: ClassVar[float]
    GREATEST: ClassVar[float]


class Area(SiFloat):
    """An area [m²]."""

    __slots__ = ()
    TITLE = "area"
    LEAST = 0.0
    GREATEST = 10.0


class Flow(SiFloat):
    """A volume flow of air [m³/s]."""

    __slots__ = ()
    TITLE = "air flow"
    LEAST = 0.0
    GREATEST = 0.5


class Pressure(SiFloat):
    """A pressure difference [Pa]."""

    __slots__ = ()
    TITLE = "pressure difference"
    LEAST = 0.1
    GREATEST = 50.0


class Temperature(SiFloat):
    """An air temperature [°C]."""

    __slots__ = ()
    TITLE = "air temperature"
    LEAST = -30.0
    GREATEST = 50.0


def metres(length: int) -> float:
    """Length in metres, as the air formulas take it.

    length: ticks.
    >>> metres(1_000 * MM)
    1.0
    """
    return length / METRE


def floor_to(length: int, *, step: int) -> int:
    """Greatest multiple of step not above length. Both in ticks; step above 0.

    >>> floor_to(MM * 19, step=INCH // 16) == INCH * 11 // 16
    True
    """
    return length // step * step


def ceil_to(length: int, *, step: int) -> int:
    """Least multiple of step not below length. Both in ticks; step above 0.

    >>> ceil_to(MM * 10, step=INCH // 16) == INCH * 7 // 16
    True
    """
    return -(-length // step) * step


def least_ticks(metres_: float) -> int:
    """Least whole number of ticks not below a length in metres (an air gap that must be reached).

    A float is taken for the tick it stands for when it is within a millionth of a tick of it.
    >>> least_ticks(0.01) == 10 * MM
    True
    """
    return _least_whole(metres_ * METRE)


def least_area(area: float, *, step: float) -> float:
    """Least multiple of a step not below an area, both in one unit: the area to state, or to buy.

    One that is a multiple already stays so, whatever a float makes of it.
    >>> least_area(0.31, step=0.1) == 4 * 0.1, least_area(330 * 0.1, step=1.0)
    (True, 33.0)
    """
    return _least_whole(area / step) * step


def _least_whole(exact: float) -> int:
    nearest = round(exact)
    return nearest if abs(exact - nearest) < 1e-6 else ceil(exact)
