"""What a text that isn't in the notation would be in it: the same number and unit, spelt as the notation has them.

Only spelling is mended here, never a guess made: a word or sign of a unit, a case, a space, a decimal comma. What could
be meant by a number without a unit is listed by `readings`, for whoever wrote it to choose from.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from jambset.quantity.ticks import Area, Flow, Length, Pressure, Temperature

WORDS: dict[type[Any], dict[str, str]] = {
    Length: {
        "in": "in inch inches ins",
        "ft": "ft foot feet",
        "mm": "mm mms millimeter millimeters millimetre millimetres",
        "cm": "cm cms centimeter centimeters centimetre centimetres",
        "m": "m meter meters metre metres",
    },
    Area: {
        "in2": "in2 sqin sqinch sqinches squareinch squareinches inches2",
        "ft2": "ft2 sqft sqfoot sqfeet squarefoot squarefeet",
        "mm2": "mm2 sqmm squaremillimeters squaremillimetres",
        "cm2": "cm2 sqcm squarecentimeters squarecentimetres",
        "m2": "m2 sqm squaremeters squaremetres",
    },
    Flow: {
        "cfm": "cfm ft3/min cuft/min cubicfeetperminute",
        "m3/h": "m3/h m3/hr m3h cmh cubicmetersperhour cubicmetresperhour",
        "L/s": "l/s l/sec lps literspersecond litrespersecond",
    },
    Pressure: {"Pa": "pa pascal pascals", "inH2O": "inh2o inwc inwg inchesh2o incheswc incheswatercolumn iwc"},
    Temperature: {"C": "c degc celsius degreesc degreescelsius", "F": "f degf fahrenheit degreesf degreesfahrenheit"},
}
"""How units are written elsewhere: in small letters, without spaces and points, a power as a digit."""
_UNITS = {kind: {word: unit for unit, text in units.items() for word in text.split()} for kind, units in WORDS.items()}
ALIKE = (
    dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f", " ")
    | dict.fromkeys("\u200b\u2060\ufeff", "")
    | dict.fromkeys("\u2044\u2215\uff0f", "/")
    | dict.fromkeys("\u2010\u2011\u2012\u2013\u2212", "-")
)
"""Spaces, slashes, hyphens and signs that look like those of the notation, or like nothing, by what they stand for."""
_PLAIN = str.maketrans(ALIKE | {"\t": " "} | dict.fromkeys("\u2018\u2019", "'") | dict.fromkeys("\u201c\u201d", '"'))
_MARKS = {"''": "in", '"': "in", "″": "in", "'": "ft", "′": "ft"}
_NUMBER = re.compile(r"^([-+]?[0-9.,]+) ?(\D.*)$")
_WORD = re.compile(r"[- ]*([A-Za-z]+)\.?")
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9]{1,2}(?![0-9]))")
_SIZE = re.compile(r"^([2-9])[-/]?(1[01]|[0-9])$")
_PAIR = re.compile(r"^([2-9])([0-9])([6-9])([0-9])$")


def respelt(kind: type[Any], text: str) -> str:
    """The text as the notation would spell it, so far as it can be told; it may still not be in it.

    >>> respelt(Length, "6 Feet, 8 inches"), respelt(Length, "1,5 MM"), respelt(Pressure, "0.01 in. w.c.")
    ('6 ft 8 in', '1.5 mm', '0.01 inH2O')
    """
    plain = _DECIMAL_COMMA.sub(".", " ".join(text.translate(_PLAIN).split()).removeprefix("+"))
    plain = f"0{plain}" if plain.startswith(".") else plain
    return _length(plain) if kind is Length else _other(kind, plain)


def _length(plain: str) -> str:
    for mark, unit in _MARKS.items():
        plain = plain.replace(mark, f" {unit} ")
    spelt = _WORD.sub(lambda found: f" {_unit(Length, found[1])} ", plain)
    return " ".join(spelt.replace(",", " ").split()).replace("ft -", "ft ")


def _other(kind: type[Any], plain: str) -> str:
    found = _NUMBER.match(plain)
    return f"{found[1]} {_unit(kind, found[2])}" if found else plain


def unit_of(kind: type[Any], word: str) -> str:
    """The unit that a word stands for; nothing for one that isn't known.

    >>> unit_of(Length, "Inches"), unit_of(Area, "sq. in."), unit_of(Length, "parsec")
    ('in', 'in2', '')
    """
    plain = word.casefold().translate(str.maketrans("²³", "23", " .^°_"))
    return _UNITS[kind].get(plain, "")


def _unit(kind: type[Any], word: str) -> str:
    return unit_of(kind, word) or word


def readings(number: str, units: Iterable[str]) -> Iterator[str]:
    """What a number without a unit may stand for, each in the notation; sizes of doors in feet and inches too.

    Centimetres are no unit of the trade.

    >>> list(readings("2868", ["in"]))
    ['2868 in', '2 ft 8 in', '6 ft 8 in']
    """
    yield from (f"{number} {unit}" for unit in units if unit != "cm")
    if one := _SIZE.match(number):
        yield f"{one[1]} ft {one[2]} in"
    if pair := _PAIR.match(number):
        yield f"{pair[1]} ft {pair[2]} in"
        yield f"{pair[3]} ft {pair[4]} in"
