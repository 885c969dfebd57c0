"""The solver for parallel paths against scipy's root finder, which knows nothing of our method."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from jambset.engine.parallel import Path, flow_at, pressure_at

CFM = 0.3048**3 / 60


def _ours_and_scipys(paths: list[Path], flow: float) -> tuple[float, float]:
    """scipy brackets the root between nothing and what the best single path would need alone."""
    alone = min((flow / path.coefficient) ** (1 / path.exponent) for path in paths)

    def excess(pressure: float) -> float:
        total: float = sum(c * pressure**n for c, n in paths)
        return total / flow - 1

    found: float = brentq(excess, 0.0, alone * (1 + 1e-9), xtol=1e-300, rtol=1e-14, maxiter=500)
    return pressure_at(paths, flow), found


coefficients = st.floats(1e-6, 0.5)
exponents = st.one_of(st.just(0.5), st.just(0.65), st.floats(0.5, 1))
path_sets = st.lists(st.builds(Path, coefficients, exponents), min_size=1, max_size=10)
flows = st.floats(4e-4, 0.5)


@settings(max_examples=300, deadline=None)
@given(paths=path_sets, flow=flows)
def test_any_set_of_paths(paths: list[Path], flow: float) -> None:
    ours, scipys = _ours_and_scipys(paths, flow)
    assert ours == pytest.approx(scipys, rel=1e-11)


@settings(max_examples=300, deadline=None)
@given(paths=path_sets, flow=flows)
def test_the_pressure_found_gives_back_the_flow(paths: list[Path], flow: float) -> None:
    assert flow_at(paths, pressure_at(paths, flow)) == pytest.approx(flow, rel=1e-12)


@settings(max_examples=200, deadline=None)
@given(paths=st.lists(st.builds(Path, coefficients, st.just(0.5)), min_size=1, max_size=10), flow=flows)
def test_closed_form_for_openings_alone(paths: list[Path], flow: float) -> None:
    ours, scipys = _ours_and_scipys(paths, flow)
    assert ours == pytest.approx(scipys, rel=1e-11)


@pytest.mark.parametrize("magnitude", [1e-12, 1e-30, 1e-100, 1e12])
def test_coefficients_of_any_size(magnitude: float) -> None:
    # Scaling every coefficient and the flow alike leaves the pressure where it is
    paths = [Path(0.015, 0.5), Path(0.002, 0.65), Path(1e-4, 0.9)]
    scaled = [Path(c * magnitude, n) for c, n in paths]
    _, scipys = _ours_and_scipys(paths, 0.03)
    assert pressure_at(scaled, 0.03 * magnitude) == pytest.approx(scipys, rel=1e-12)


@pytest.mark.parametrize(("supply", "pressure"), [(75, 1.06263), (100, 1.88912), (150, 4.25053)])
def test_scipy_finds_the_worked_example_too(supply: float, pressure: float) -> None:
    # Worked beforehand: 30 in² undercut and 38 in² grille, discharge 0.6073, air of 1.2041 kg/m³
    per_in2 = 0.6073 * 0.0254**2 * (2 / 1.2041) ** 0.5
    ours, scipys = _ours_and_scipys([Path(30 * per_in2, 0.5), Path(38 * per_in2, 0.5)], supply * CFM)
    assert scipys == pytest.approx(pressure, abs=1e-5)
    assert ours == pytest.approx(pressure, abs=1e-5)
