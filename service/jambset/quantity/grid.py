"""The grids a carpenter's tape has, and the finer ones used when a grid leaves no room."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from jambset.quantity.ticks import INCH, MM


class Grid(NamedTuple):
    """A step of the tape [ticks] and whether it counts in inches."""

    step: int
    inches: bool
    name: str


GRIDS: dict[str, Grid] = {
    grid.name: grid
    for grid in (
        Grid(INCH // 8, True, "1/8 in"),
        Grid(INCH // 16, True, "1/16 in"),
        Grid(INCH // 32, True, "1/32 in"),
        Grid(INCH // 64, True, "1/64 in"),
        Grid(5 * MM, False, "5 mm"),
        Grid(2 * MM, False, "2 mm"),
        Grid(MM, False, "1 mm"),
        Grid(MM // 2, False, "0.5 mm"),
        Grid(MM // 10, False, "0.1 mm"),
    )
}


@lru_cache(maxsize=32)
def finer(grid: Grid) -> tuple[Grid, ...]:
    """The grid and the finer ones that have all its marks, coarsest first, ending at single ticks.

    >>> [g.name for g in finer(GRIDS["5 mm"])]
    ['5 mm', '1 mm', '0.5 mm', '0.1 mm', 'exact']
    """
    same = (g for g in GRIDS.values() if g.inches == grid.inches and grid.step % g.step == 0)
    return (*sorted(same, key=lambda g: -g.step), Grid(1, grid.inches, "exact"))
