from __future__ import annotations

import pytest

from jambset.engine.parallel import Path, flow_at, pressure_at

UNDERCUT = Path(0.015, 0.5)
CRACK = Path(0.002, 0.65)


def test_no_path_passes_nothing() -> None:
    assert flow_at([], 3.0) == 0.0


def test_flows_add() -> None:
    # 0.015 * 2 + 0.001 * 4, by hand
    assert flow_at([UNDERCUT, Path(0.001, 1.0)], 4.0) == pytest.approx(0.034, rel=1e-15)


def test_openings_have_a_closed_form() -> None:
    # (0.06 / (0.015 + 0.005))² = 9, by hand
    assert pressure_at([UNDERCUT, Path(0.005, 0.5)], 0.06) == pytest.approx(9.0, rel=1e-15)


def test_a_crack_alone() -> None:
    # Q = C dP^n turned round
    assert pressure_at([CRACK], 0.004) == pytest.approx(2 ** (1 / 0.65), rel=1e-14)


def test_an_opening_and_a_linear_path() -> None:
    # x = sqrt(dP) solves 0.001 x² + 0.015 x = 0.034: x = 2, by hand
    assert pressure_at([UNDERCUT, Path(0.001, 1.0)], 0.034) == pytest.approx(4.0, rel=1e-13)


def test_two_equal_cracks_are_one_twice_as_long() -> None:
    # 0.006 * 16^0.75 = 0.048, by hand
    assert pressure_at([Path(0.003, 0.75), Path(0.003, 0.75)], 0.048) == pytest.approx(16.0, rel=1e-13)


@pytest.mark.parametrize("paths", [[UNDERCUT], [CRACK], [UNDERCUT, CRACK], [Path(0.0, 0.5), CRACK]])
def test_no_flow_needs_no_pressure(paths: list[Path]) -> None:
    assert pressure_at(paths, 0.0) == 0.0


@pytest.mark.parametrize("paths", [[], [Path(0.0, 0.5)], [Path(0.0, 0.65), Path(0.0, 0.5)]])
@pytest.mark.parametrize("flow", [0.0, 0.03])
def test_nothing_open_is_refused(paths: list[Path], flow: float) -> None:
    with pytest.raises(ValueError, match=r"^no open path for the air$"):
        pressure_at(paths, flow)


def test_a_shut_path_changes_nothing() -> None:
    assert pressure_at([UNDERCUT, CRACK, Path(0.0, 0.7)], 0.03) == pressure_at([UNDERCUT, CRACK], 0.03)
    assert pressure_at([UNDERCUT, Path(0.0, 0.65)], 0.03) == pressure_at([UNDERCUT], 0.03)


@pytest.mark.parametrize("small", [1e-9, 1e-15, 1e-300])
def test_a_tiny_crack_beside_an_undercut_changes_almost_nothing(small: float) -> None:
    alone = pressure_at([UNDERCUT], 0.03)
    assert pressure_at([UNDERCUT, Path(small, 0.65)], 0.03) == pytest.approx(alone, rel=1e-6)


def test_order_of_paths_does_not_matter() -> None:
    paths = [UNDERCUT, CRACK, Path(0.004, 0.8)]
    assert pressure_at(paths, 0.03) == pytest.approx(pressure_at(paths[::-1], 0.03), rel=1e-13)
