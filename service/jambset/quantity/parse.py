"""Reads quantities as people write them. The only module that imports the unit library.

Strings are matched whole against the patterns below, which are published in the contract; what is
ambiguous in the trade ("2/8", "3070", "5/8" without a unit, a bare number) is refused. Pint supplies
the unit factors once, at import, and never sees a caller's text: it reads "1 5/8 in" as 5/8 in.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from math import floor, isfinite
from typing import Any, NamedTuple, TypeVar

import pint

from jambset.errors import QuantityError, shown
from jambset.quantity.spelling import ALIKE, readings, respelt, unit_of
from jambset.quantity.ticks import Area, Flow, Length, Pressure, SiFloat, Temperature

LONGEST_TEXT = 24
LARGEST_NUMBER = 1e7

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PART = r"(?:1/2|[13]/4|[1-7]/8|(?:[1-9]|1[0-5])/16|(?:[1-9]|[12][0-9]|3[01])/32|(?:[1-9]|[1-5][0-9]|6[0-3])/64)"
_VULGAR_PART = "[½¼¾⅛⅜⅝⅞]"
_INCH_MARK = ' ?(?:in|"|″)'


def _inch_pattern(whole: str) -> str:
    return rf"(?:{whole}(?:\.[0-9]{{1,6}})?|{_PART}|{whole}[ -]{_PART}|(?:{whole} ?)?{_VULGAR_PART}){_INCH_MARK}"


LENGTH_PATTERN = (
    r"^-?(?:[0-9]{1,5}(?:\.[0-9]{1,6})? ?(?:mm|cm|m)"
    rf"|{_inch_pattern('[0-9]{1,3}')}"
    r"|[0-9]{1,5} ?(?:ft|'|′)"
    rf"|[0-9]{{1,2}} ?(?:ft|'|′)[ -]?{_inch_pattern('(?:1[01]|[0-9])')})$"
)
_FEET = re.compile(r"^([0-9]{1,5}) ?(?:ft|'|′)[ -]?")
_METRIC = re.compile(r"^([0-9.]+) ?(mm|cm|m)$")
_INCH_PARTS = re.compile(r'^(?:([0-9.]+)(?![/0-9]))?[ -]?(?:([0-9]{1,2})/([0-9]{1,2}))? ?(?:in|"|″)$')


class Unit(NamedTuple):
    """What one unit is worth: value in base = number * factor + offset."""

    factor: Fraction
    offset: Fraction


def _units() -> dict[type[Any], dict[str, Unit]]:
    """Unit factors from pint, checked against our own tick. Base units: tick, m², m³/s, Pa, °C."""
    registry: Any = pint.UnitRegistry(non_int_type=Fraction)
    registry.define("tick = 125e-9 * metre")

    def unit(name: str, base: str) -> Unit:
        zero, one = (registry.Quantity(Fraction(n), name).to(base).magnitude for n in (0, 1))
        return Unit(Fraction(one) - Fraction(zero), Fraction(zero))

    table: dict[type[Any], tuple[str, dict[str, str]]] = {
        Length: ("tick", {"mm": "mm", "cm": "cm", "m": "m", "in": "inch", "ft": "foot"}),
        Area: ("m**2", {"mm2": "mm**2", "cm2": "cm**2", "m2": "m**2", "in2": "inch**2", "ft2": "foot**2"}),
        Flow: ("m**3/s", {"cfm": "foot**3/minute", "m3/h": "m**3/hour", "L/s": "liter/second"}),
        Pressure: ("Pa", {"Pa": "Pa", "inH2O": "inch * kilogram / liter * standard_gravity"}),
        Temperature: ("degC", {"C": "degC", "F": "degF"}),
    }
    return {kind: {ours: unit(theirs, base) for ours, theirs in names.items()} for kind, (base, names) in table.items()}


UNITS = _units()
PATTERNS: dict[type[Any], str] = {
    Length: LENGTH_PATTERN,
    Area: r"^[0-9]{1,7}(?:\.[0-9]{1,4})? ?(?:mm2|cm2|m2|in2|ft2)$",
    Flow: r"^[0-9]{1,5}(?:\.[0-9]{1,4})? ?(?:cfm|m3/h|L/s)$",
    Pressure: r"^[0-9]{1,4}(?:\.[0-9]{1,4})? ?(?:Pa|inH2O)$",
    Temperature: r"^-?[0-9]{1,3}(?:\.[0-9]{1,2})? ?(?:C|F)$",
}
_READERS = {kind: re.compile(pattern) for kind, pattern in PATTERNS.items()}
_NUMBER_UNIT = re.compile(r"^(-?[0-9.]+) ?(.+)$")
EXAMPLES: dict[type[Any], str] = {
    Length: '"1 1/2 in", "6 ft 8 in", "38 mm" or {"value": 38, "unit": "mm"}',
    Area: '"50 in2" or {"value": 7600, "unit": "mm2"}',
    Flow: '"60 cfm" or {"value": 28, "unit": "L/s"}',
    Pressure: '"3 Pa" or {"value": 0.012, "unit": "inH2O"}',
    Temperature: '"20 C" or {"value": 68, "unit": "F"}',
}

Q = TypeVar("Q", bound=Length | SiFloat)


def kind_of(cls: type[Any]) -> type[Any]:
    """The measured kind (Length, Area, Flow, Pressure, Temperature) that a field's class belongs to."""
    return next(kind for kind in UNITS if issubclass(cls, kind))


def read_quantity(cls: type[Q], raw: object) -> Q:
    """A quantity from its wire form: a string in the notation, or an object of value and unit.

    Returns ticks for a length, the SI unit of the class otherwise.
    Raises QuantityError when it can't be read or isn't plausible for the field.
    >>> int(read_quantity(Length, "1 5/8 in")) == 13 * 203_200 // 8
    True
    """
    if isinstance(raw, str):
        value: Q = _from_text(cls, raw)  # type: ignore[arg-type]  # mypy takes the class for its instance here
        return value
    if isinstance(raw, dict):
        number, unit = _members(cls, raw)
        return _plausible(cls, Fraction(number), unit, f"{number:g} {unit}")
    raise QuantityError("wrong_type", f"Write a quantity with its unit: {_example(cls)}; {_bare(cls, raw)}")


def dec_hook(cls: type[Any], raw: object) -> Any:
    """What msgspec calls for every quantity field; knows no other custom type."""
    if issubclass(cls, (Length, SiFloat)):
        return read_quantity(cls, raw)
    raise NotImplementedError(cls)


def _example(cls: type[Any]) -> str:
    return EXAMPLES[kind_of(cls)]


def _bare(cls: type[Any], raw: object) -> str:
    """Why a value that is neither text nor object isn't read, and what it may stand for."""
    refused = "a bare value is refused."
    if raw is None:
        return f"{refused} Leave out what isn't known, unless it is required."
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not abs(raw) <= LARGEST_NUMBER:
        return refused
    return f"{refused}{_meant(cls, f'{raw:.6g}')}"


def _meant(cls: type[Any], number: str) -> str:
    """What a number without a unit may stand for, as far as that is plausible; which it is, is its writer's to say."""
    kind = kind_of(cls)
    texts = dict.fromkeys(readings(number, UNITS[kind]))
    found = [f'"{text}"' for text in texts if _READERS[kind].fullmatch(text) and _is_plausible(cls, text)]
    return f" {_either(found)} would be plausible." if found else ""


def _either(texts: list[str]) -> str:
    return " or ".join(filter(None, [", ".join(texts[:-1]), texts[-1]]))


def _is_plausible(cls: type[Any], text: str) -> bool:
    try:
        read_quantity(cls, text)
    except QuantityError:
        return False
    return True


def _members(cls: type[Q], raw: dict[Any, Any]) -> tuple[float, str]:
    example = _example(cls)
    if raw.keys() != {"value", "unit"}:
        raise QuantityError("wrong_members", f"A quantity has exactly the members value and unit: {example}.")
    number, unit = raw["value"], raw["unit"]
    if isinstance(number, bool) or not isinstance(number, int | float):
        raise QuantityError("wrong_type", f"value must be a number: {example}.")
    if not (-LARGEST_NUMBER <= number <= LARGEST_NUMBER and isfinite(number)):
        raise QuantityError("out_of_range", f"value must lie between -1e7 and 1e7: {example}.")
    known = UNITS[kind_of(cls)]
    if not isinstance(unit, str) or unit not in known:
        raise QuantityError("unknown_unit", f"{_unit_meant(cls, unit)}unit must be one of {', '.join(known)}.")
    return number, unit


def _unit_meant(cls: type[Any], unit: object) -> str:
    meant = unit_of(kind_of(cls), unit) if isinstance(unit, str) and len(unit) <= LONGEST_TEXT else ""
    return f'Write "{meant}" for "{unit}": ' if meant else ""


@lru_cache(maxsize=8192)
def _from_text(cls: type[Any], text: str) -> Any:
    kind = kind_of(cls)
    if len(text) > LONGEST_TEXT or not _READERS[kind].fullmatch(text):
        raise QuantityError("unreadable", _unreadable(cls, text))
    number, unit, alone = _length_parts(text) if kind is Length else (*_number_and_unit(text), True)
    return _plausible(cls, number, unit, text, alone=alone)


def _number_and_unit(text: str) -> tuple[Fraction, str]:
    match = _NUMBER_UNIT.match(text)
    assert match is not None  # the pattern of the kind matched before
    return Fraction(match[1]), match[2]


def _length_parts(text: str) -> tuple[Fraction, str, bool]:
    """Number, unit, and whether they are all that was written: feet and inches are one number of inches."""
    sign, body = (-1, text[1:]) if text.startswith("-") else (1, text)
    if metric := _METRIC.match(body):
        return sign * Fraction(metric[1]), metric[2], True
    if (match := _FEET.match(body)) is None:
        return sign * _inches(body), "in", True
    feet, body = Fraction(match[1]), body[match.end() :]
    return (sign * (feet * 12 + _inches(body)), "in", False) if body else (sign * feet, "ft", True)


def _inches(body: str) -> Fraction:
    for sign, plain in _VULGAR.items():
        body = body.replace(sign, f" {plain}")
    match = _INCH_PARTS.match(" ".join(body.split()))
    assert match is not None  # LENGTH_PATTERN matched before
    part = Fraction(int(match[2]), int(match[3])) if match[2] else Fraction(0)
    return Fraction(match[1] or 0) + part


def _unreadable(cls: type[Any], text: str) -> str:
    """What is wrong with a text; lookalikes of the notation's signs are named, since nobody sees them."""
    kind = kind_of(cls)
    signs = dict.fromkeys(f"U+{ord(sign):04X}" for sign in text[:LONGEST_TEXT] if sign in ALIKE)
    holds = f": it holds {', '.join(signs)}" if signs else ""
    refused = f'"{shown(text, LONGEST_TEXT)}" can\'t be read without guessing{holds}; write'
    spelt = respelt(kind, text) if len(text) <= 2 * LONGEST_TEXT else ""
    if len(spelt) <= LONGEST_TEXT and _READERS[kind].fullmatch(spelt):
        return f'{refused} "{spelt}".'
    return f"{refused} number and unit, as in {EXAMPLES[kind]}.{_meant(cls, spelt)}"


def _plausible(cls: type[Q], number: Fraction, unit: str, given: str, *, alone: bool = True) -> Q:
    """The quantity, if it is plausible. alone: whether number and unit are all that was written."""
    value = _base(cls, number, unit)
    if cls.LEAST <= value <= cls.GREATEST:
        return value
    others = (u for u in UNITS[kind_of(cls)] if alone and cls.LEAST <= _base(cls, number, u) <= cls.GREATEST)
    hint = next((f" {float(number):g} {u} would be." for u in others), "")
    raise QuantityError("implausible", _implausible(cls, unit, given, hint))


def _base(cls: type[Q], number: Fraction, unit: str) -> Q:
    factor, offset = UNITS[kind_of(cls)][unit]
    exact = number * factor + offset
    return cls(floor(exact + Fraction(1, 2)) if issubclass(cls, Length) else float(exact))


def _implausible(cls: type[Any], unit: str, given: str, hint: str) -> str:
    factor, offset = UNITS[kind_of(cls)][unit]
    least, greatest = (f"{float((Fraction(limit) - offset) / factor):g}" for limit in (cls.LEAST, cls.GREATEST))
    return f"{given} is not a plausible {cls.TITLE} (it lies between {least} {unit} and {greatest} {unit}).{hint}"
