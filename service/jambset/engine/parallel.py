"""Air paths side by side under one pressure: each passes coefficient * pressure ** exponent.

Coefficients are in m³/s per Pa^n, at or above 0; a path of coefficient 0 is shut. Exponents run from
0.5 (an opening, a duct) to 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log
from typing import NamedTuple

SETTLED = 1e-9
"""Last step in the logarithm of pressure. Steps shrink as squares, so what is left is below rounding."""


class Path(NamedTuple):
    """One way for air round a closed door: flow [m³/s] = coefficient * pressure [Pa] ** exponent."""

    coefficient: float
    exponent: float


def flow_at(paths: Sequence[Path], pressure_pa: float) -> float:
    """Flow through all paths together [m³/s]. pressure_pa: at or above 0.

    >>> round(flow_at([Path(0.015, 0.5), Path(0.002, 0.65)], 4.0), 6)
    0.034925
    """
    total: float = sum(coefficient * pressure_pa**exponent for coefficient, exponent in paths)
    return total


def pressure_at(paths: Sequence[Path], flow_m3_s: float) -> float:
    """Pressure under which all paths together pass a flow [Pa]. flow_m3_s: at or above 0.

    In closed form where every path is an opening, else by Newton's method to 1e-12 of the result.
    Raises ValueError when no path is open.
    >>> pressure_at([Path(0.01, 0.5), Path(0.005, 0.5)], 0.03)
    4.0
    >>> round(pressure_at([Path(0.015, 0.5), Path(0.002, 0.65)], 0.034925), 3)
    4.0
    """
    openings = sum(coefficient for coefficient, exponent in paths if exponent == 0.5)
    others = [path for path in paths if path.exponent != 0.5 and path.coefficient > 0]
    if not (openings or others):
        raise ValueError("no open path for the air")
    if not others or not flow_m3_s:
        velocity = flow_m3_s / openings if openings else 0.0
        return velocity * velocity
    return _newton([Path(openings, 0.5), *others] if openings else others, log(flow_m3_s))


def _newton(paths: list[Path], log_flow: float) -> float:
    """Solves in the logarithm u of pressure, where log(flow) rises, bends upwards and has slope 0.5 to 1.

    It starts where one path alone would carry the flow, at or above the root. From there each tangent
    meets the axis between the root and the last point, so no step can leave the bracket.
    """
    shares = [(log(coefficient) - log_flow, exponent) for coefficient, exponent in paths]
    u = min(-share / exponent for share, exponent in shares)
    step = 1.0
    while step > SETTLED:
        parts = [(exp(share + exponent * u), exponent) for share, exponent in shares]
        total = sum(part for part, _ in parts)
        step = log(total) * total / sum(part * exponent for part, exponent in parts)
        u -= step
    return exp(u)
