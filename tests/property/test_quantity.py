"""What must hold of any quantity: exactness, the same ticks in every notation, the safe side, no crash."""

from __future__ import annotations

import re
from fractions import Fraction
from math import isfinite
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from jambset.errors import QuantityError
from jambset.quantity.grid import GRIDS, Grid
from jambset.quantity.parse import LENGTH_PATTERN, LONGEST_TEXT, PATTERNS, UNITS, read_quantity
from jambset.quantity.text import ABOUT, inch_text, length_form, mm_text
from jambset.quantity.ticks import INCH, METRE, MM, Length, ceil_to, floor_to, least_ticks

SIXTY_FOURTH = INCH // 64

sixty_fourths = st.integers(0, 999 * 64 + 63)
any_length = st.integers(-900 * INCH, 900 * INCH)


def _mixed(n: int, separator: str, mark: str) -> str:
    """n sixty-fourths as whole and fraction in lowest terms."""
    whole, rest = divmod(n, 64)
    part = str(Fraction(rest, 64)) if rest else ""
    return separator.join(p for p in (str(whole) if whole or not part else "", part) if p) + mark


@given(n=sixty_fourths, separator=st.sampled_from([" ", "-"]), mark=st.sampled_from([" in", '"', "″", "in"]))
def test_every_sixty_fourth_as_a_mixed_number(n: int, separator: str, mark: str) -> None:
    assert read_quantity(Length, _mixed(n, separator, mark)) == n * SIXTY_FOURTH


def test_every_sixty_fourth_below_an_inch_unreduced() -> None:
    for n in range(1, 64):
        assert read_quantity(Length, f"{n}/64 in") == n * SIXTY_FOURTH


@given(
    feet=st.integers(0, 99),
    n=st.integers(0, 12 * 64 - 1),
    between=st.sampled_from(["", " ", "-"]),
    foot=st.sampled_from([" ft", "'", "′"]),
)
def test_every_sixty_fourth_in_feet_and_inches(feet: int, n: int, between: str, foot: str) -> None:
    text = f"{feet}{foot}{between}{_mixed(n, ' ', ' in')}"
    assert read_quantity(Length, text) == (feet * 12 * 64 + n) * SIXTY_FOURTH


@given(n=st.integers(-999 * 64, 999 * 64))
def test_every_sixty_fourth_as_an_object_in_any_unit(n: int) -> None:
    inches = n / 64
    for value, unit in (
        (inches, "in"),
        (inches * 25.4, "mm"),
        (inches * 2.54, "cm"),
        (inches * 0.0254, "m"),
        (inches / 12, "ft"),
    ):
        assert read_quantity(Length, {"value": value, "unit": unit}) == n * SIXTY_FOURTH


@given(micrometres=st.integers(0, 99_999_999))
def test_every_micrometre_as_text(micrometres: int) -> None:
    whole, rest = divmod(micrometres, 1_000)
    assert read_quantity(Length, f"{whole}.{rest:03} mm") == micrometres * 8


@given(text=st.sampled_from(["1 5/8 in", "41 mm", "6 ft 8 in", "0.4 in"]))
def test_a_minus_turns_the_sign_and_nothing_else(text: str) -> None:
    assert read_quantity(Length, f"-{text}") == -read_quantity(Length, text)


@given(length=any_length)
def test_inch_text_reads_back(length: int) -> None:
    text = inch_text(length)
    back = read_quantity(Length, text.removeprefix("about "))
    assert (back == length) is not text.startswith("about ")
    assert abs(back - length) <= SIXTY_FOURTH // 2


@given(length=any_length)
def test_millimetre_text_reads_back(length: int) -> None:
    text = mm_text(length)
    back = read_quantity(Length, text.removeprefix("about "))
    assert (back == length) is not text.startswith("about ")
    assert abs(back - length) <= MM // 20


@given(n=st.integers(-999 * 64, 999 * 64))
def test_a_sixty_fourth_is_never_about(n: int) -> None:
    assert not inch_text(n * SIXTY_FOURTH).startswith("about")


@given(length=any_length, grid=st.sampled_from(list(GRIDS.values())))
def test_the_numbers_of_an_answer_read_back(length: int, grid: Grid) -> None:
    form = length_form(length, grid)
    assert read_quantity(Length, {"value": form.mm, "unit": "mm"}) == length
    assert read_quantity(Length, {"value": form.inch, "unit": "in"}) == length


@given(length=any_length, grid=st.sampled_from(list(GRIDS.values())))
def test_rounding_to_a_grid_is_exact_in_its_text(length: int, grid: Grid) -> None:
    step = grid.step
    for rounded in (floor_to(length, step=step), ceil_to(length, step=step)):
        assert not length_form(rounded, grid).text.startswith("about")


@given(length=any_length, grid=st.sampled_from(list(GRIDS.values())))
def test_at_least_rounds_up_and_at_most_down(length: int, grid: Grid) -> None:
    step = grid.step
    assert floor_to(length, step=step) <= length <= ceil_to(length, step=step)
    assert ceil_to(length, step=step) - floor_to(length, step=step) in {0, step}


@given(gap=st.floats(0, 1))
def test_ticks_of_an_air_gap_are_enough(gap: float) -> None:
    ticks = least_ticks(gap)
    assert ticks >= gap * METRE - 1e-6
    assert ticks - 1 < gap * METRE


def _read(kind: type[Any], raw: object) -> Any:
    """The value, or the code of the refusal; any other exception is a fault."""
    try:
        return read_quantity(kind, raw)
    except QuantityError as refusal:
        return refusal.code


look_alikes = st.text(alphabet="0123456789 ./-+'\"″′½¼⅞ftincmhHLPaseO2CF٣\n", max_size=30)


@settings(max_examples=400)
@given(text=st.one_of(st.text(max_size=40), look_alikes, st.from_regex(LENGTH_PATTERN, fullmatch=True)))
def test_any_text_reads_or_is_refused(text: str) -> None:
    for kind, pattern in PATTERNS.items():
        readable = bool(re.fullmatch(pattern, text)) and len(text) <= LONGEST_TEXT
        value = _read(kind, text)
        if isinstance(value, str):
            assert value == ("implausible" if readable else "unreadable")
        else:
            assert readable
            assert kind.LEAST <= value <= kind.GREATEST


@settings(max_examples=300)
@given(length=st.integers(-4 * METRE, 4 * METRE), grid=st.sampled_from(list(GRIDS.values())))
def test_a_length_pasted_back_from_an_answer_is_that_length(length: int, grid: Grid) -> None:
    """In either unit, as text or in its parts; and as the answer's own text, where that doesn't say "about"."""
    form = length_form(length, grid)
    for unit, value in (("mm", form.mm), ("in", form.inch)):
        plain = f"{value:.6f}"
        assert _read(Length, f"{plain} {unit}") == _read(Length, {"value": value, "unit": unit}) == length
    if not form.text.startswith(ABOUT):
        assert _read(Length, form.text) == length


json_values = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=10)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(["value", "unit", "x"]), inner, max_size=3)
    ),
    max_leaves=5,
)
all_units = sorted({unit for units in UNITS.values() for unit in units})
objects = st.fixed_dictionaries(
    {"value": st.one_of(st.integers(), st.floats(), st.floats(-1e4, 1e4)), "unit": st.sampled_from(all_units)}
)


@settings(max_examples=300)
@given(raw=st.one_of(json_values, objects))
def test_any_json_value_reads_or_is_refused(raw: object) -> None:
    for kind in PATTERNS:
        value = _read(kind, raw)
        if isinstance(value, str):
            assert value in {"wrong_type", "wrong_members", "unknown_unit", "out_of_range", "implausible", "unreadable"}
        else:
            assert kind.LEAST <= value <= kind.GREATEST
            assert isfinite(value)
