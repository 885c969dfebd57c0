from __future__ import annotations

import msgspec
import pytest

from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import UNITS
from jambset.quantity.text import (
    CFM,
    IN2,
    IN_H2O,
    area_form,
    flow_form,
    inch_text,
    length_form,
    mm_text,
    pressure_form,
)
from jambset.quantity.ticks import FOOT, INCH, METRE, MM, Area, Flow, Pressure

SIXTEENTHS, MILLIMETRES = GRIDS["1/16 in"], GRIDS["1 mm"]


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (0, "0 in"),
        (INCH, "1 in"),
        (INCH // 2, "1/2 in"),
        (3 * INCH // 2, "1 1/2 in"),
        (INCH // 64, "1/64 in"),
        (63 * INCH // 64, "63/64 in"),
        (80 * INCH, "80 in"),
        (10 * FOOT + 5 * INCH // 8, "120 5/8 in"),
        (-INCH // 8, "-1/8 in"),
        (-9 * INCH // 8, "-1 1/8 in"),
        (10 * MM, "about 25/64 in"),  # 25.197 sixty-fourths
        (-10 * MM, "about -25/64 in"),
        (20 * MM, "about 25/32 in"),  # 50.39
        (1, "about 0 in"),
        (-1, "about 0 in"),
        (INCH - 1, "about 1 in"),
        (INCH // 128, "about 0 in"),  # 1,587 of 3,175: just under half
        (INCH // 128 + 1, "about 1/64 in"),
    ],
)
def test_inches_as_a_carpenter_writes_them(length: int, text: str) -> None:
    assert inch_text(length) == text


@pytest.mark.parametrize(
    ("length", "text"),
    [
        (0, "0 mm"),
        (38 * MM, "38 mm"),
        (100 * MM, "100 mm"),
        (2_032 * MM, "2032 mm"),
        (INCH // 2, "12.7 mm"),
        (INCH // 4, "6.35 mm"),
        (-INCH // 4, "-6.35 mm"),
        (MM // 100, "0.01 mm"),
        (INCH // 64, "about 0.4 mm"),  # 0.396875
        (INCH // 8, "about 3.2 mm"),  # 3.175
        (-INCH // 8, "about -3.2 mm"),
        (1, "about 0 mm"),
        (-1, "about 0 mm"),
        (MM // 20 + 1, "about 0.1 mm"),
        (12_345 * MM + 67 * MM // 100, "12345.67 mm"),
        (5_000 * METRE, "5000000 mm"),
    ],
)
def test_millimetres(length: int, text: str) -> None:
    assert mm_text(length) == text


def test_what_hundredths_cant_say_goes_to_the_nearest_tenth() -> None:
    assert mm_text(15 * MM // 100) == "0.15 mm"
    between = 15 * MM // 100 + 1
    assert mm_text(between) == "about 0.2 mm"
    assert mm_text(-between) == "about -0.2 mm"


def test_a_length_in_three_parts() -> None:
    form = length_form(INCH // 2, SIXTEENTHS)
    assert msgspec.to_builtins(form) == {"mm": 12.7, "in": 0.5, "text": "1/2 in"}
    assert length_form(INCH // 2, MILLIMETRES).text == "12.7 mm"


def test_one_tick_shows_in_both_numbers() -> None:
    form = length_form(1, MILLIMETRES)
    assert (form.mm, form.inch) == (0.000125, 0.000005)


def test_an_area() -> None:
    # 30 in² are 19,354.8 mm²
    assert msgspec.to_builtins(area_form(30 * 0.00064516, SIXTEENTHS)) == {
        "mm2": 19354.8,
        "in2": 30.0,
        "text": "30.0 in²",
    }
    assert area_form(7600e-6, MILLIMETRES).text == "7600 mm²"


def test_a_flow() -> None:
    # 60 ft³/min are 28.3168 L/s and 101.9406 m³/h
    form = msgspec.to_builtins(flow_form(60 * 0.3048**3 / 60, SIXTEENTHS))
    assert form == {"L_s": 28.3168, "m3_h": 101.9406, "cfm": 60.0, "text": "60.0 cfm"}
    assert flow_form(0.028, MILLIMETRES).text == "28.0 L/s"


def test_a_pressure_is_said_in_pascals_under_every_grid() -> None:
    # 3 Pa are 0.012044 in of water
    form = msgspec.to_builtins(pressure_form(3.0, SIXTEENTHS))
    assert form == {"Pa": 3.0, "inH2O": 0.012044, "text": "3.0 Pa"}
    assert pressure_form(2.46, MILLIMETRES).text == "2.5 Pa"


@pytest.mark.parametrize(
    ("factor", "kind", "unit"), [(CFM, Flow, "cfm"), (IN_H2O, Pressure, "inH2O"), (IN2, Area, "in2")]
)
def test_factors_are_those_a_request_is_read_with(factor: float, kind: type, unit: str) -> None:
    assert factor == pytest.approx(float(UNITS[kind][unit].factor), rel=1e-12)
