from __future__ import annotations

import json
import re
from fractions import Fraction
from typing import Any

import msgspec
import pint
import pytest

from jambset.errors import FieldError, InvalidRequest, QuantityError
from jambset.model import measures as m
from jambset.quantity.parse import (
    EXAMPLES,
    LENGTH_PATTERN,
    LONGEST_TEXT,
    PATTERNS,
    UNITS,
    dec_hook,
    kind_of,
    read_quantity,
)
from jambset.quantity.spelling import WORDS, unit_of
from jambset.quantity.ticks import FOOT, INCH, METRE, MM, Area, Flow, Length, Pressure, SiFloat, Temperature

READ = [
    # the trade's notation, as the design lists it
    ("1 1/2 in", 3 * INCH // 2),
    ('1-1/2"', 3 * INCH // 2),
    ("6 ft 8 in", 80 * INCH),
    ("38 mm", 38 * MM),
    # whole, decimal, fraction
    ("80 in", 80 * INCH),
    ("0 in", 0),
    ("0.5 in", INCH // 2),
    ("1.375 in", 11 * INCH // 8),
    ("5/8 in", 5 * INCH // 8),
    ("15/16 in", 15 * INCH // 16),
    ("31/32 in", 31 * INCH // 32),
    ("63/64 in", 63 * INCH // 64),
    ("1 5/8 in", 13 * INCH // 8),  # a unit library reads 5/8 in
    ("1 1/2in", 3 * INCH // 2),
    # inch marks and vulgar fractions
    ('5/8"', 5 * INCH // 8),
    ("5/8″", 5 * INCH // 8),
    ('32 "', 32 * INCH),
    ("½ in", INCH // 2),
    ("1½ in", 3 * INCH // 2),
    ("1 ½″", 3 * INCH // 2),
    ("¼ in", INCH // 4),
    ("¾ in", 3 * INCH // 4),
    ("⅛ in", INCH // 8),
    ("⅜ in", 3 * INCH // 8),
    ("⅝ in", 5 * INCH // 8),
    ("⅞ in", 7 * INCH // 8),
    # feet and inches
    ("6 ft", 6 * FOOT),
    ("6'", 6 * FOOT),
    ("6′", 6 * FOOT),
    ("100 ft", 100 * FOOT),  # a duct
    ("3280 ft", 3_280 * FOOT),  # an altitude
    ("-1640'", -1_640 * FOOT),
    ("2 ft 8 in", 32 * INCH),  # a unit library reads an area
    ("6'8\"", 80 * INCH),
    ("6' 8\"", 80 * INCH),
    ("6'-8\"", 80 * INCH),
    ("2'-8\"", 32 * INCH),  # a unit library reads -6
    ("6′ 8″", 80 * INCH),
    ("6 ft 8 1/2 in", 161 * INCH // 2),
    ("6'-8 1/2\"", 161 * INCH // 2),
    ("5' 3/4\"", 60 * INCH + 3 * INCH // 4),  # another library reads 3/4 in
    ("60 ft 1 in", 60 * FOOT + INCH),  # another library loses the inch
    ("6 ft 11 15/16 in", 83 * INCH + 15 * INCH // 16),
    ("6 ft ½ in", 6 * FOOT + INCH // 2),
    ("6 ft 8½ in", 161 * INCH // 2),
    # metric
    ("38mm", 38 * MM),
    ("12.7 mm", INCH // 2),
    ("3.8 cm", 38 * MM),
    ("1.5 m", 1_500 * MM),
    ("0.001 mm", 8),
    # below the benchmark
    ("-1/8 in", -INCH // 8),
    ("-1 1/8 in", -9 * INCH // 8),
    ("-3 mm", -3 * MM),
    ("-6 ft 8 in", -80 * INCH),
]


@pytest.mark.parametrize(("text", "length"), READ)
def test_lengths_as_the_trade_writes_them(text: str, length: int) -> None:
    value = read_quantity(Length, text)
    assert value == length
    assert type(value) is Length


REFUSED = [
    # size shorthand and missing units
    "2/8", "6/8", "3070", "2868", "5/8", "16", "1 1/2", "80", "6'8", "6 ft 8",
    # fractions nobody's tape has, or not below one
    "1/3 in", "3/7 in", "5/4 in", "0/8 in", "1/0 in", "16/16 in", "64/64 in", "1/128 in", "2/4 in",
    # feet with more than 11 inches, parts of feet, another order
    "5 ft 12 in", "2.5 ft", "8 in 6 ft", "6 ft 8 mm", "6 ft - 8 in", "6 ft -8 in", "6'' 8\"", "6' 08\"",
    # two values, arithmetic, exponents, words
    "1 2 in", "1 in 2 in", "1.5 1/2 in", "1..5 in", ".5 in", "5. in", "1e3 mm", "1e9999 mm", "6^800000 mm",
    "2 * 3 mm", "1,5 mm", "1 500 mm", "inf mm", "nan in", "one in", "±3 mm", "+3 mm", "--3 mm", "- 3 mm",
    # units: unknown, doubled, in another case, alone
    "38", "38 km", "38 MM", "38 mm mm", "38 inch", "38 inches", "mm", "in", '"', "", " ", "-",
    # spaces and signs that look alike
    " 38 mm", "38 mm ", "38  mm", "38\tmm", "38 mm\n", "38\u00a0mm", "١٢ mm", "１２ mm", "1⁄2 in", "1-½ in", "⅓ in",
    # longer than any length is written
    "0" * LONGEST_TEXT + " mm", "123456 mm", "1234 in", "123456 ft", "100 ft 1 in", "0.0000001 mm",
]  # fmt: skip


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_ambiguous_or_foreign_is_refused(text: str) -> None:
    with pytest.raises(QuantityError, match="can't be read without guessing") as caught:
        read_quantity(Length, text)
    assert caught.value.code == "unreadable"


@pytest.mark.parametrize("text", [text for text, _ in READ])
def test_the_published_pattern_takes_what_is_read(text: str) -> None:
    assert re.search(LENGTH_PATTERN, text)
    assert len(text) <= LONGEST_TEXT


@pytest.mark.parametrize("text", [text for text in REFUSED if len(text) <= LONGEST_TEXT and "\n" not in text])
def test_the_published_pattern_refuses_what_is_refused(text: str) -> None:
    assert not re.search(LENGTH_PATTERN, text)


@pytest.mark.parametrize(
    ("text", "named"),
    [
        ("1\u00a01/2\u00a0in", "U+00A0"),  # as sheets keep a quantity on one line
        ("38\u202fmm", "U+202F"),
        ("1\u20441/2 in\ufeff", "U+2044, U+FEFF"),
        ("\u22121/2 in", "U+2212"),
    ],
)
def test_a_sign_that_only_looks_like_one_of_the_notation_is_named(text: str, named: str) -> None:
    with pytest.raises(QuantityError, match=re.escape(f"can't be read without guessing: it holds {named}; write")):
        read_quantity(Length, text)


SPELT: list[tuple[type[Length | SiFloat], str, str]] = [
    # words of units, their plurals and points, in any case
    (m.LeafWidth, "30 inches", "30 in"),
    (m.LeafWidth, "30 inch", "30 in"),
    (m.LeafWidth, "30in.", "30 in"),
    (m.LeafWidth, "30 IN", "30 in"),
    (m.LeafWidth, "1-3/8-inch", "1-3/8 in"),
    (m.LeafWidth, "2 feet 8 inches", "2 ft 8 in"),
    (m.LeafWidth, "2 foot, 8 in.", "2 ft 8 in"),
    (m.LeafWidth, "762 millimeters", "762 mm"),
    (m.LeafWidth, "762 millimetre", "762 mm"),
    (m.LeafWidth, "76.2 centimetres", "76.2 cm"),
    (m.LeafWidth, "0.762 Meter", "0.762 m"),
    # marks and spaces as word processors and other keyboards set them, a decimal comma, half a number
    (m.LeafWidth, "2\u20198\u201d", "2 ft 8 in"),
    (m.LeafWidth, "32''", "32 in"),
    (m.LeafWidth, " 30  in ", "30 in"),
    (m.LeafWidth, "1\u00a01/2\u00a0in", "1 1/2 in"),
    (m.LeafWidth, "762,5 mm", "762.5 mm"),
    (m.Undercut, ".75 in", "0.75 in"),
    (m.FreeArea, "50 sq. in.", "50 in2"),
    (m.FreeArea, "50 in²", "50 in2"),
    (m.FreeArea, "320 cm^2", "320 cm2"),
    (m.SupplyFlow, "60 CFM", "60 cfm"),
    (m.SupplyFlow, "100 m³/hr", "100 m3/h"),
    (m.SupplyFlow, "28 l/s", "28 L/s"),
    (m.PressureLimit, "0.012 in. w.c.", "0.012 inH2O"),
    (m.PressureLimit, "3 pascals", "3 Pa"),
    (m.RoomTemperature, "68°F", "68 F"),
    (m.RoomTemperature, "-5 deg C", "-5 C"),
]


@pytest.mark.parametrize(("kind", "text", "spelt"), SPELT)
def test_what_is_only_spelt_otherwise_is_refused_with_the_spelling_to_use(
    kind: type[Length | SiFloat], text: str, spelt: str
) -> None:
    with pytest.raises(QuantityError, match=f'without guessing.*; write "{re.escape(spelt)}"\\.$') as caught:
        read_quantity(kind, text)
    assert caught.value.code == "unreadable"
    assert re.search(PATTERNS[kind_of(kind)], spelt)


@pytest.mark.parametrize(
    "text", ["1,200 mm", "1,200.5 mm", "8 in 6 ft", "6 ft 8 mm", "- 3 mm", "38 km", "3' of 8'", "x"]
)
def test_what_would_have_to_be_guessed_is_proposed_in_no_spelling(text: str) -> None:
    with pytest.raises(QuantityError, match="; write number and unit, as in "):
        read_quantity(m.LeafWidth, text)


@pytest.mark.parametrize(
    ("kind", "raw", "meant"),
    [
        # common practice, no source: a door of 2/8, 2-8 or 2868 is 2 ft 8 in wide, one of 2868 6 ft 8 in high
        (m.LeafWidth, "2/8", '"2 ft 8 in" would'),
        (m.LeafWidth, "2-8", '"2 ft 8 in" would'),
        (m.LeafWidth, "2868", '"2 ft 8 in" would'),
        (m.LeafHeight, "2868", '"2868 mm" or "6 ft 8 in" would'),
        (m.LeafHeight, "6'8", '"6 ft 8 in" would'),
        (m.LeafWidth, "30", '"30 in" or "3 ft 0 in" would'),  # which of the two is why it isn't read
        (m.LeafWidth, 30, '"30 in" or "3 ft 0 in" would'),
        (m.LeafWidth, "762", '"762 mm" would'),
        (m.LeafHeight, 2032, '"2032 mm" would'),
        (m.LeafThickness, 1.375, '"1.375 in" would'),
        (m.Undercut, "3/4", '"3/4 in" would'),
        (m.SupplyFlow, 60, '"60 cfm", "60 m3/h" or "60 L/s" would'),
        (m.PressureLimit, "3", '"3 Pa" would'),
    ],
)
def test_of_a_number_without_a_unit_all_is_named_that_is_plausible(
    kind: type[Length | SiFloat], raw: object, meant: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(kind, raw)
    assert re.search(r"(write number and unit|bare value is refused).*\. " + re.escape(meant), caught.value.detail)
    for text in re.findall('"([^"]+)"', meant):
        assert read_quantity(kind, text)


@pytest.mark.parametrize("raw", [True, [30], 1e300, "2/8/6", "999"])
def test_where_nothing_is_plausible_nothing_is_named(raw: object) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(m.Undercut, raw)
    assert "would be" not in caught.value.detail


@pytest.mark.parametrize("kind", UNITS)
def test_every_unit_is_found_by_its_own_name_and_words_by_one_unit(kind: type[Any]) -> None:
    assert {unit: unit_of(kind, unit) for unit in UNITS[kind]} == {unit: unit for unit in UNITS[kind]}
    words = [word for text in WORDS[kind].values() for word in text.split()]
    assert len(words) == len(set(words))


def test_a_unit_of_an_object_is_named_as_it_is_written_here() -> None:
    with pytest.raises(QuantityError, match=r'^Write "in" for "Inches": unit must be one of mm, cm, m, in, ft\.$'):
        read_quantity(m.LeafWidth, {"value": 30, "unit": "Inches"})


def test_a_long_text_is_shown_cut() -> None:
    with pytest.raises(QuantityError, match=r'^"x{24}…" can\'t be read'):
        read_quantity(Length, "x" * 10_000)


# Worked by hand from the definitions of the units.
FACTORS: dict[type, dict[str, Fraction]] = {
    Length: {
        "mm": Fraction(8_000),
        "cm": Fraction(80_000),
        "m": Fraction(8_000_000),
        "in": Fraction(203_200),
        "ft": Fraction(2_438_400),
    },
    Area: {
        "mm2": Fraction(1, 10**6),
        "cm2": Fraction(1, 10**4),
        "m2": Fraction(1),
        "in2": Fraction(64_516, 10**8),
        "ft2": Fraction(9_290_304, 10**8),
    },
    Flow: {"cfm": Fraction(3_048, 10_000) ** 3 / 60, "m3/h": Fraction(1, 3_600), "L/s": Fraction(1, 1_000)},
    Pressure: {"Pa": Fraction(1), "inH2O": Fraction(254, 10_000) * 1_000 * Fraction(980_665, 100_000)},
    Temperature: {"C": Fraction(1), "F": Fraction(5, 9)},
}  # fmt: skip


@pytest.mark.parametrize("kind", UNITS)
def test_factors_are_exact(kind: type) -> None:
    assert {name: unit.factor for name, unit in UNITS[kind].items()} == FACTORS[kind]


def test_only_fahrenheit_has_an_offset() -> None:
    offsets = {name: unit.offset for units in UNITS.values() for name, unit in units.items() if unit.offset}
    assert offsets == {"F": Fraction(-160, 9)}


@pytest.fixture(scope="module")
def registry() -> Any:
    return pint.UnitRegistry()


@pytest.mark.parametrize(
    ("ours", "theirs", "kind", "base"),
    [
        ("in", "inch", Length, "meter"),
        ("ft", "foot", Length, "meter"),
        ("mm", "millimeter", Length, "meter"),
        ("cm", "centimeter", Length, "meter"),
        ("in2", "inch**2", Area, "meter**2"),
        ("ft2", "foot**2", Area, "meter**2"),
        ("cfm", "foot**3/minute", Flow, "meter**3/second"),
        ("m3/h", "meter**3/hour", Flow, "meter**3/second"),
        ("L/s", "liter/second", Flow, "meter**3/second"),
        ("inH2O", "inch_H2O", Pressure, "pascal"),
        ("F", "delta_degF", Temperature, "delta_degC"),
    ],
)
def test_a_fresh_unit_library_agrees(registry: Any, ours: str, theirs: str, kind: type, base: str) -> None:
    ticks = METRE if kind is Length else 1
    factor = registry.Quantity(1.0, theirs).to(base).magnitude * ticks
    assert float(UNITS[kind][ours].factor) == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(
    ("kind", "text", "value"),
    [
        (Area, "50 in2", 0.032258),
        (Area, "7600 mm2", 0.0076),
        (Area, "1.75 ft2", 0.16258032),
        (Flow, "60 cfm", 0.0283168466),
        (Flow, "100 m3/h", 0.0277777778),
        (Flow, "28.5L/s", 0.0285),
        (Pressure, "3 Pa", 3.0),
        (Pressure, "0.012 inH2O", 2.98906692),
        (Temperature, "68 F", 20.0),
        (Temperature, "-10 C", -10.0),
        (Temperature, "14 F", -10.0),
    ],
)
def test_other_quantities(kind: type[SiFloat], text: str, value: float) -> None:
    read = read_quantity(kind, text)
    assert read == pytest.approx(value, rel=1e-8)
    assert type(read) is kind


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        (Area, "50"), (Area, "-50 in2"), (Area, "1/2 in2"), (Area, "50 in"), (Area, "50 sq in"),
        (Flow, "60"), (Flow, "60 CFM"), (Flow, "-60 cfm"), (Flow, "60 l/s"), (Flow, "60 cfm 3"),
        (Pressure, "3"), (Pressure, "3 pa"), (Pressure, "-3 Pa"), (Pressure, "0.012 inwc"), (Pressure, "1/4 inH2O"),
        (Temperature, "20"), (Temperature, "20 °C"), (Temperature, "293 K"), (Temperature, "68f"),
    ],
)  # fmt: skip
def test_other_quantities_refused(kind: type[SiFloat], text: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(kind, text)
    assert caught.value.code == "unreadable"


@pytest.mark.parametrize(
    ("raw", "length"),
    [
        ({"value": 38, "unit": "mm"}, 38 * MM),
        ({"unit": "in", "value": 1.625}, 13 * INCH // 8),
        ({"value": -2.5, "unit": "ft"}, -30 * INCH),
        ({"value": 0.015625, "unit": "in"}, INCH // 64),
        ({"value": 1e-3, "unit": "m"}, MM),
        ({"value": 0.0000625, "unit": "mm"}, 1),  # half a tick, up
    ],
)
def test_objects_of_value_and_unit(raw: dict[str, object], length: int) -> None:
    assert read_quantity(Length, raw) == length


@pytest.mark.parametrize(
    ("raw", "code", "message"),
    [
        (38, "wrong_type", "a bare value is refused"),
        (38.0, "wrong_type", "a bare value is refused"),
        (None, "wrong_type", "a bare value is refused"),
        (True, "wrong_type", "a bare value is refused"),
        ([38, "mm"], "wrong_type", "a bare value is refused"),
        ({}, "wrong_members", "exactly the members value and unit"),
        ({"value": 38}, "wrong_members", "exactly the members value and unit"),
        ({"unit": "mm"}, "wrong_members", "exactly the members value and unit"),
        ({"value": 38, "unit": "mm", "note": 1}, "wrong_members", "exactly the members value and unit"),
        ({"value": 38, "units": "mm"}, "wrong_members", "exactly the members value and unit"),
        ({"value": "38", "unit": "mm"}, "wrong_type", "value must be a number"),
        ({"value": True, "unit": "mm"}, "wrong_type", "value must be a number"),
        ({"value": None, "unit": "mm"}, "wrong_type", "value must be a number"),
        ({"value": float("nan"), "unit": "mm"}, "out_of_range", "between -1e7 and 1e7"),
        ({"value": float("inf"), "unit": "mm"}, "out_of_range", "between -1e7 and 1e7"),
        ({"value": float("-inf"), "unit": "mm"}, "out_of_range", "between -1e7 and 1e7"),
        ({"value": 10**400, "unit": "mm"}, "out_of_range", "between -1e7 and 1e7"),
        ({"value": 1.1e7, "unit": "mm"}, "out_of_range", "between -1e7 and 1e7"),
        ({"value": 38, "unit": "inch"}, "unknown_unit", "one of mm, cm, m, in, ft"),
        ({"value": 38, "unit": "MM"}, "unknown_unit", "one of mm, cm, m, in, ft"),
        ({"value": 38, "unit": None}, "unknown_unit", "one of mm, cm, m, in, ft"),
        ({"value": 38, "unit": ["mm"]}, "unknown_unit", "one of mm, cm, m, in, ft"),
        ({"value": 38, "unit": "cfm"}, "unknown_unit", "one of mm, cm, m, in, ft"),
    ],
)  # fmt: skip
def test_objects_refused(raw: object, code: str, message: str) -> None:
    with pytest.raises(QuantityError, match=message) as caught:
        read_quantity(Length, raw)
    assert caught.value.code == code


@pytest.mark.parametrize("kind", UNITS)
def test_every_example_reads(kind: type[Any]) -> None:
    texts = re.findall(r'"([^":{}]+)"(?=,| or)', EXAMPLES[kind].split(" or ")[0] + " or")
    objects = re.findall(r"\{.*\}", EXAMPLES[kind])
    assert texts
    assert len(objects) == 1
    for raw in (*texts, json.loads(objects[0])):
        assert type(read_quantity(kind, raw)) is kind


@pytest.mark.parametrize("kind", UNITS)
def test_every_unit_of_an_object_can_be_written_as_text(kind: type[Any]) -> None:
    for unit in UNITS[kind]:
        assert re.fullmatch(PATTERNS[kind], f"7 {unit}")
        assert re.fullmatch(PATTERNS[kind], f"7{unit}")


# What is said of a value out of range: "<raw> is not a plausible <what>. <another unit> would be."
IMPLAUSIBLE: list[tuple[type[Length | SiFloat], object, str]] = [
    (m.LeafHeight, "80 mm", "80 mm leaf height, 1219.2 mm to 3657.6 mm; 80 in"),
    (m.LeafHeight, {"value": 80, "unit": "mm"}, "80 mm leaf height, 1219.2 mm to 3657.6 mm; 80 in"),
    (m.LeafWidth, "2/8 in", "2/8 in leaf width, 12 in to 60 in; none"),
    (m.LeafWidth, "6 ft 8 in", "6 ft 8 in leaf width, 12 in to 60 in; none"),
    (m.Undercut, "1 ft 2 in", "1 ft 2 in undercut, 0 in to 4 in; none"),
    (m.Undercut, "1 ft", "1 ft undercut, 0 ft to 0.333333 ft; 1 mm"),
    (m.Undercut, "3'", "3' undercut, 0 ft to 0.333333 ft; 3 mm"),
    (m.Undercut, "-1/8 in", "-1/8 in undercut, 0 in to 4 in; none"),
    (m.Altitude, {"value": 6000, "unit": "m"}, "6000 m altitude, -500 m to 5000 m; 6000 mm"),
    (m.SupplyFlow, "6000 cfm", "6000 cfm supply flow, 0.847552 cfm to 1059.44 cfm; none"),
    (m.SupplyFlow, "1500 cfm", "1500 cfm supply flow, 0.847552 cfm to 1059.44 cfm; 1500 m3/h"),
    (m.PressureLimit, "3 inH2O", "3 inH2O pressure limit, 0.000401463 inH2O to 0.200732 inH2O; 3 Pa"),
    (m.RoomTemperature, "68 C", "68 C room temperature, -30 C to 50 C; 68 F"),
    (m.RoomTemperature, "-30 F", "-30 F room temperature, -22 F to 122 F; -30 C"),
]


@pytest.mark.parametrize(("kind", "raw", "said"), IMPLAUSIBLE)
def test_an_implausible_value_names_range_and_unit_meant(kind: type[Length | SiFloat], raw: object, said: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(kind, raw)
    head, hint = said.split("; ")
    subject, least, greatest = re.split(r", | to ", head)
    subject = subject.replace(f" {kind.TITLE}", f" is not a plausible {kind.TITLE}")
    expected = f"{subject} (it lies between {least} and {greatest})."
    assert caught.value.detail == expected + ("" if hint == "none" else f" {hint} would be.")
    assert caught.value.code == "implausible"


LENGTHS = [kind for kind in vars(m).values() if isinstance(kind, type) and issubclass(kind, Length)]


@pytest.mark.parametrize("kind", LENGTHS)
def test_every_length_that_a_field_takes_can_be_written_in_feet_and_in_metres(kind: type[Length]) -> None:
    for unit, worth in (("ft", FOOT), ("m", 1_000 * MM)):
        for most in (kind.GREATEST // worth, -(-kind.LEAST // worth)):
            if kind.LEAST <= most * worth <= kind.GREATEST:
                assert read_quantity(kind, f"{most} {unit}") == most * worth


def test_both_ends_of_a_range_belong_to_it() -> None:
    assert read_quantity(m.LeafHeight, "48 in") == m.LeafHeight.LEAST
    assert read_quantity(m.LeafHeight, "12 ft") == m.LeafHeight.GREATEST
    assert read_quantity(m.PressureLimit, "50 Pa") == 50.0
    for raw in ("47 63/64 in", "12 ft 1/64 in"):
        with pytest.raises(QuantityError, match="not a plausible leaf height"):
            read_quantity(m.LeafHeight, raw)


def test_the_value_has_the_class_of_its_field() -> None:
    assert type(read_quantity(m.Undercut, "1 in")) is m.Undercut
    assert type(read_quantity(m.LeafHeight, "80 in")) is m.LeafHeight


def test_kinds_of_fields() -> None:
    fields = (m.Undercut, m.FreeArea, m.SupplyFlow, m.PressureLimit, m.RoomTemperature)
    assert [kind_of(field) for field in fields] == [Length, Area, Flow, Pressure, Temperature]


class _Gap(msgspec.Struct, forbid_unknown_fields=True):
    gap: m.Clearance


def test_decoding_reads_quantities_and_adds_the_fields_path() -> None:
    decoder = msgspec.json.Decoder(_Gap, dec_hook=dec_hook)
    assert decoder.decode(b'{"gap": "5/8 in"}').gap == 5 * INCH // 8
    with pytest.raises(
        msgspec.ValidationError, match=r'a bare value is refused\. "16 mm" would be plausible\. - at `\$\.gap`'
    ):
        decoder.decode(b'{"gap": 16}')


def test_the_hook_knows_no_other_type() -> None:
    with pytest.raises(NotImplementedError):
        dec_hook(complex, "1 in")


def test_an_error_is_a_request_error_about_one_field() -> None:
    error = QuantityError("unreadable", "because")
    assert isinstance(error, InvalidRequest)
    assert error.errors == (FieldError("#", "unreadable", "because"),)
    assert error.status == 422
