"""Any bytes as the text of a quantity: read or refused with a code, and what is read is what was written."""

from __future__ import annotations

import re
import unicodedata
from fractions import Fraction
from inspect import getmembers, isclass
from typing import Any

from jambset.errors import QuantityError
from jambset.http.problems import FIELD_CODES
from jambset.model import measures
from jambset.quantity.parse import LONGEST_TEXT, PATTERNS, UNITS, kind_of, read_quantity
from jambset.quantity.ticks import Length, SiFloat

KINDS: tuple[type[Any], ...] = (
    *UNITS,
    *(cls for _, cls in getmembers(measures, isclass) if issubclass(cls, (Length, SiFloat)) and cls not in UNITS),
)
"""The five kinds of quantity, then every field's own."""
_PART = re.compile(
    r"(?P<over>[0-9]+)/(?P<under>[0-9]+)|(?P<number>[0-9.]+)|(?P<vulgar>[½¼¾⅛⅜⅝⅞])|(?P<unit>[^- 0-9./½¼¾⅛⅜⅝⅞]+)"
)
_FEET, _INCHES = {"ft", "'", "′"}, {"in", '"', "″"}


def check(data: bytes) -> bytes:
    """Reads a text as every kind of quantity. Returns what came of it."""
    text = data.decode("utf-8", "replace")
    return repr([_checked(kind, text) for kind in KINDS]).encode("utf-8", "backslashreplace")


def _checked(kind: type[Any], text: str) -> object:
    try:
        value = read_quantity(kind, text)
    except QuantityError as refusal:
        return _refused(refusal, kind, text)
    assert len(text) <= LONGEST_TEXT
    assert re.search(PATTERNS[kind_of(kind)], text), f"{text!r} was read against the published pattern"
    assert kind.LEAST <= value <= kind.GREATEST
    assert abs(_worked_out(kind_of(kind), text) - Fraction(value)) <= _slack(kind, value), f"{text!r} as {kind}"
    return value


def _refused(refusal: QuantityError, kind: type[Any], text: str) -> str:
    """A refusal is for the pattern or for the value, and which it is is true."""
    (error,) = refusal.errors
    fits = len(text) <= LONGEST_TEXT and re.fullmatch(PATTERNS[kind_of(kind)], text) is not None
    assert error.code == ("implausible" if fits else "unreadable"), f"{text!r} as {kind}: {error}"
    assert error.code in FIELD_CODES
    assert error.detail.strip()
    return error.code


def _slack(kind: type[Any], value: float) -> Fraction:
    """Half a tick, or what a float can't hold."""
    return Fraction(1, 2) if issubclass(kind, Length) else Fraction(abs(value)) / 2**50 + Fraction(1, 2**60)


def _worked_out(kind: type[Any], text: str) -> Fraction:
    """The value of a text that was read, worked out once more without the patterns that read it."""
    if kind is Length:
        return _added_up(text)
    name = max((name for name in UNITS[kind] if text.endswith(name)), key=len)
    return Fraction(text.removesuffix(name).strip()) * UNITS[kind][name].factor + UNITS[kind][name].offset


def _added_up(text: str) -> Fraction:
    total, number = Fraction(0), Fraction(0)
    for part in _PART.finditer(text):
        if part["unit"]:
            name = "ft" if part["unit"] in _FEET else "in" if part["unit"] in _INCHES else part["unit"]
            total, number = total + number * UNITS[Length][name].factor, Fraction(0)
        else:
            number += _number(part)
    return -total if text.startswith("-") else total


def _number(part: re.Match[str]) -> Fraction:
    if part["over"]:
        return Fraction(int(part["over"]), int(part["under"]))
    return Fraction(part["number"]) if part["number"] else Fraction(unicodedata.numeric(part["vulgar"]))
