from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jambset.quantity.ticks import FOOT, INCH, METRE, MM, Length, ceil_to, floor_to, least_area, least_ticks, metres

SIXTEENTH = INCH // 16


def test_a_tick_is_125_nanometres() -> None:
    assert Fraction(1, METRE) == Fraction(125, 10**9)


def test_the_international_inch_is_25_4_mm() -> None:
    assert INCH == 25.4 * MM
    assert FOOT == 304.8 * MM


@pytest.mark.parametrize("part", [2, 4, 8, 16, 32, 64])
def test_every_binary_part_of_an_inch_is_whole(part: int) -> None:
    assert INCH % part == 0


def test_a_micrometre_is_eight_ticks() -> None:
    assert MM // 1_000 == 8
    assert MM % 1_000 == 0


# Rounding to 1/16 in, worked by hand beforehand: millimetres, sixteenths up, sixteenths down.
@pytest.mark.parametrize(
    ("mm", "up", "down"),
    [(16, 11, 10), (19, 12, 11), (20, 13, 12), (10, 7, 6), (8.5, 6, 5), (15.875, 10, 10)],
)
def test_exact_vectors_of_a_sixteenth(mm: float, up: int, down: int) -> None:
    length = int(mm * MM)
    assert length == mm * MM
    assert ceil_to(length, step=SIXTEENTH) == up * SIXTEENTH
    assert floor_to(length, step=SIXTEENTH) == down * SIXTEENTH


# Nearest, from the same list: the nearer of the two.
@pytest.mark.parametrize(("mm", "nearest"), [(16, 10), (19, 12), (20, 13), (10, 6), (8.5, 5), (15.875, 10)])
def test_nearest_sixteenth_lies_between(mm: float, nearest: int) -> None:
    length = int(mm * MM)
    ends = (floor_to(length, step=SIXTEENTH), ceil_to(length, step=SIXTEENTH))
    assert min(ends, key=lambda end: abs(end - length)) == nearest * SIXTEENTH


@given(length=st.integers(-(10**9), 10**9), step=st.integers(1, INCH))
def test_rounding_is_to_the_safe_side_and_by_less_than_a_step(length: int, step: int) -> None:
    low, high = floor_to(length, step=step), ceil_to(length, step=step)
    assert low <= length <= high
    assert low % step == high % step == 0
    assert length - low < step
    assert high - length < step


@given(length=st.integers(-(10**6), 10**6), step=st.integers(1, INCH))
def test_rounding_again_changes_nothing(length: int, step: int) -> None:
    low, high = floor_to(length, step=step), ceil_to(length, step=step)
    assert floor_to(low, step=step) == ceil_to(low, step=step) == low
    assert ceil_to(high, step=step) == high


def test_negative_lengths_round_the_same_way() -> None:
    assert floor_to(-1, step=INCH) == -INCH
    assert ceil_to(-1, step=INCH) == 0


@given(st.integers(-(10**9), 10**9))
def test_metres_and_back(length: int) -> None:
    assert least_ticks(metres(length)) == length


@pytest.mark.parametrize(
    ("metres_", "ticks"),
    [
        (0.0, 0),
        (0.01, 10 * MM),
        (0.0254, INCH),
        (1e-9, 1),  # any gap that must be there needs a tick
        (125e-9 * 1.5, 2),
        (125e-9 * (1 + 1e-7), 1),  # noise on a whole tick
        (125e-9 * (1 + 1e-5), 2),  # not noise
        (-125e-9 * 1.5, -1),
    ],
)
def test_least_ticks(metres_: float, ticks: int) -> None:
    assert least_ticks(metres_) == ticks


def test_a_length_is_an_int() -> None:
    assert Length(INCH) + Length(MM) == INCH + MM
    assert not hasattr(Length(1), "__dict__")


def test_an_area_told_in_tenths_is_bought_in_as_many_whole_ones() -> None:
    """In square inches of 6.4516 cm2, as floats of square metres: what is whole in tenths is whole in ones."""
    inch = 0.0254**2
    for whole in range(1, 400):
        told = least_area((whole - 0.05) * inch, step=inch / 10)
        assert round(told / inch, 6) == whole
        assert round(least_area(told, step=inch) / inch, 6) == whole
        assert round(least_area(told + inch / 10, step=inch) / inch, 6) == whole + 1
