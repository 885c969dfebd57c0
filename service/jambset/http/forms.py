"""What the value of a field is, in words: what is said where one is missing or is of another type.

Read once from the schema that refused bodies are walked by (see faults).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from typing import Any

from jambset.errors import Known
from jambset.quantity.parse import EXAMPLES, kind_of
from jambset.quantity.ticks import Area, Flow, Length, Pressure, Temperature

JSON_NAMES = {
    "object": "an object",
    "array": "an array",
    "string": "a string",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
}
_KINDS: dict[type[Any], str] = {
    Length: "a length",
    Area: "an area",
    Flow: "a flow",
    Pressure: "a pressure",
    Temperature: "a temperature",
}
_DEFS = "#/$defs/"
Forms = Mapping[str, Mapping[str, Any]]


def form_of(schema: Mapping[str, Any], forms: Forms, *, within: bool = False) -> str:
    """What a value of a schema is. forms: schemas by the name that a reference has. within: in few words.

    >>> form_of({"type": "array"}, {}), form_of({"enum": ["hollow", "solid"]}, {})
    ('an array', 'one of: hollow, solid')
    """
    if "$ref" in schema:
        return form_of(forms[schema["$ref"].removeprefix(_DEFS)], forms, within=within)
    if "x-quantity" in schema:
        kind = kind_of(schema["x-quantity"])
        return f"{_KINDS[kind]}, as in {EXAMPLES[kind].partition(' or {')[0]}"
    if "enum" in schema:
        return f"one of: {', '.join(schema['enum'])}"
    if "x-names" in schema:
        known: Known = schema["x-names"]
        return known.brief()
    if "x-union" in schema:
        return f"an object with kind, one of: {', '.join(schema['x-union'])}"
    return JSON_NAMES[schema["type"]] if within else _whole(schema, forms)


def _whole(schema: Mapping[str, Any], forms: Forms) -> str:
    if item := schema.get("items"):
        return f"an array; each item is {form_of(item, forms)}"
    return f"{JSON_NAMES[schema['type']]} {members(schema, forms)}".rstrip()


def members(schema: Mapping[str, Any], forms: Forms) -> str:
    """What an object has to hold, or else what it may hold; nothing where it may hold anything."""
    fields = schema.get("properties", {})
    if not schema.get("required"):
        return f"that holds any of {', '.join(fields)}" if fields else ""
    described = ((name, form_of(fields[name], forms, within=True)) for name in schema["required"])
    return f"with {_listed(_grouped(described))}"


def _grouped(described: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Names with what they are, told once for several of one kind."""
    for form, group in groupby(described, key=lambda one: one[1]):
        names = [name for name, _ in group]
        yield _listed(names) if form == "an object" else f"{_listed(names)} ({'each ' * (len(names) > 1)}{form})"


def _listed(texts: Iterable[str]) -> str:
    *others, last = texts
    return f"{', '.join(others)} and {last}" if others else last
