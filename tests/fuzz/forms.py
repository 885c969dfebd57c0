"""Values that fit the contract's request schemas, and those just beside: drawn by chance, member by member."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from random import Random
from typing import Any

Schema = Mapping[str, Any]

TEXTS = ("D07", "hall", "bath 2", "ø 80 × 2″", "=1+1", "<b>&amp;", "x" * 41, "2/8", "é", "🚪")
DATES = ("2026-05-01", "2019-05-01", "2008-05-01", "0001-01-01", "9999-12-31")
BESIDE = (-0.01, 1.01, 2.0, -1.0)
"""Shares of a range that lie outside of it."""


class Forms:
    """The schemas of a contract by the place they hold at."""

    def __init__(self, contract: Schema, chance: Random) -> None:
        self._schemas: Schema = contract["components"]["schemas"]
        self._chance = chance
        self._known: dict[int, Schema] = {}

    def named(self, name: str) -> Schema:
        """A schema by its name."""
        return self._whole(self._schemas[name])

    def member(self, schema: Schema, key: str | int) -> Schema:
        """The schema of what stands at a key, or at any place of a list; empty where the contract has none."""
        for branch in self._branches(schema):
            if isinstance(key, int) and "items" in branch:
                return self._whole(branch["items"])
            if key in branch.get("properties", {}):
                return self._whole(branch["properties"][key])
        return {}

    def members(self, schema: Schema) -> list[str]:
        """The keys that an object may have here."""
        return [key for branch in self._branches(schema) for key in branch.get("properties", {})]

    def sample(self, schema: Schema) -> Any:
        """A value that fits, mostly."""
        chance, form = self._chance, self._whole(schema)
        if "x-plausible" in form:
            return self._quantity(form["x-plausible"], form["anyOf"][-1]["properties"]["unit"]["enum"])
        if "const" in form:
            return form["const"]
        if "enum" in form:
            return chance.choice(form["enum"])
        if choices := form.get("anyOf") or form.get("oneOf"):
            return self.sample(choices[0] if chance.random() < 0.3 else chance.choice(choices))
        return self._plain(form)

    def _plain(self, form: Schema) -> Any:
        match form.get("type"):
            case "object":
                return self._object(form)
            case "array":
                most = min(form.get("maxItems", 3), self._chance.choice((1, 1, 2, 3)))
                return [self.sample(form["items"]) for _ in range(most)]
            case "boolean":
                return self._chance.random() < 0.5
            case "integer" | "number" as kind:
                return self._number(form, whole=kind == "integer")
            case "null":
                return None
        return self._chance.choice(DATES if form.get("format") == "date" else TEXTS)

    def _object(self, form: Schema) -> dict[str, Any]:
        needed = form.get("required", ())
        share = self._chance.choice((0.1, 0.3, 0.8))
        parts: Schema = form.get("properties", {})
        return {key: self.sample(p) for key, p in parts.items() if key in needed or self._chance.random() < share}

    def _number(self, form: Schema, *, whole: bool) -> float:
        least = float(form.get("minimum", form.get("exclusiveMinimum", 0)))
        greatest = float(form.get("maximum", 1_000))
        value = least + (greatest - least) * self._share()
        return round(value) if whole else value

    def _share(self) -> float:
        """A place in a range, now and then an end of it or a little beside."""
        if self._chance.random() < 0.05:
            return self._chance.choice(BESIDE)
        return self._chance.choice((0.0, 1.0, 0.5, *(self._chance.random() for _ in range(5))))

    def _quantity(self, plausible: Schema, units: list[str]) -> Any:
        least, greatest = (float(plausible[end]["value"]) for end in ("least", "greatest"))
        unit, value = plausible["least"]["unit"], least + (greatest - least) * self._share() ** 2
        step = self._chance.choice((8, 16, 64, 1_000))
        exact = Fraction(round(value * step), step)
        if unit == "in" and self._chance.random() < 0.7:
            return in_text(exact) if step != 1_000 else f"{float(exact * Fraction(254, 10)):.2f} mm"
        if self._chance.random() < 0.5:
            return f"{float(exact):g} {unit}"
        return {"value": float(exact), "unit": self._chance.choice((unit, unit, unit, *units))}

    def _branches(self, schema: Schema) -> list[Schema]:
        form = self._whole(schema)
        choices = form.get("anyOf") or form.get("oneOf") or ()
        return [form, *(branch for choice in choices for branch in self._branches(choice))]

    def _whole(self, schema: Schema) -> Schema:
        """A schema with what it refers to; the same object each time."""
        if "$ref" not in schema:
            return schema
        if id(schema) not in self._known:
            named = self._whole(self._schemas[schema["$ref"].rpartition("/")[2]])
            own = {key: value for key, value in schema.items() if key != "$ref"}
            self._known[id(schema)] = {**named, **own}
        return self._known[id(schema)]


def in_text(inches: Fraction) -> str:
    """As on the tape.

    >>> in_text(Fraction(-25, 16))
    '-1 9/16 in'
    """
    whole, rest = divmod(abs(inches), 1)
    parts = [str(whole)] if whole or not rest else []
    return f"{'-' if inches < 0 else ''}{' '.join([*parts, *([str(rest)] if rest else [])])} in"
