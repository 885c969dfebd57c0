from __future__ import annotations

import pytest

from jambset.quantity.grid import GRIDS, Grid, finer
from jambset.quantity.ticks import INCH, MM

# Steps by hand.
STEPS = {
    "1/8 in": 25_400,
    "1/16 in": 12_700,
    "1/32 in": 6_350,
    "1/64 in": 3_175,
    "5 mm": 40_000,
    "2 mm": 16_000,
    "1 mm": 8_000,
    "0.5 mm": 4_000,
    "0.1 mm": 800,
}


def test_steps_of_every_grid() -> None:
    assert {name: grid.step for name, grid in GRIDS.items()} == STEPS


@pytest.mark.parametrize("grid", GRIDS.values(), ids=lambda grid: grid.name)
def test_a_grid_counts_in_the_unit_of_its_name(grid: Grid) -> None:
    assert grid.inches is grid.name.endswith(" in")
    assert (INCH if grid.inches else 10 * MM) % grid.step == 0


def test_finer_grids_of_the_inch_tape() -> None:
    assert [g.name for g in finer(GRIDS["1/8 in"])] == ["1/8 in", "1/16 in", "1/32 in", "1/64 in", "exact"]


def test_finer_grids_of_the_metric_tape() -> None:
    assert [g.name for g in finer(GRIDS["2 mm"])] == ["2 mm", "1 mm", "0.5 mm", "0.1 mm", "exact"]
    assert [g.name for g in finer(GRIDS["5 mm"])] == ["5 mm", "1 mm", "0.5 mm", "0.1 mm", "exact"]


@pytest.mark.parametrize("grid", GRIDS.values(), ids=lambda grid: grid.name)
def test_each_is_finer_than_the_last_and_the_end_is_one_tick(grid: Grid) -> None:
    steps = [g.step for g in finer(grid)]
    assert steps[0] == grid.step
    assert steps == sorted(steps, reverse=True)
    assert len(set(steps)) == len(steps)
    assert all(grid.step % step == 0 for step in steps)  # a finer tape has every mark of the coarser
    assert finer(grid)[-1] == Grid(1, grid.inches, "exact")


def test_finer_than_exact_is_exact() -> None:
    exact = Grid(1, True, "exact")
    assert finer(exact) == (exact,)
