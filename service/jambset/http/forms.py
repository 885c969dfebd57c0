"""The schema that refused bodies are walked by (see faults), with what its sentences say of each field.

Made once for each kind of request: what a field is, for where it is missing or of another type; where a name belongs
that stands at another place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby
from typing import Any

import msgspec

from jambset.errors import Known, evened
from jambset.http.addresses import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.model.request import House, HouseRecheck, Opening, Recheck
from jambset.quantity.parse import EXAMPLES, kind_of
from jambset.quantity.ticks import Area, Flow, Length, Pressure, SiFloat, Temperature

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


def places_of(schema: Mapping[str, Any], forms: Forms, at: str) -> dict[str, str]:
    """Where in a document members of each name belong, the least deep places alone; of a list in its first item.

    at: the place of the document.
    """
    found: dict[str, list[str]] = {}
    waiting = [(schema, at)]
    for part, above in waiting:  # which grows
        for name, field, place in _below(part, above, forms):
            if name:
                found.setdefault(name, []).append(place.removeprefix("/"))
            waiting.append((field, place))
    return {name: " or ".join(_least_deep(places)) for name, places in found.items()}


def _below(schema: Mapping[str, Any], at: str, forms: Forms) -> Iterator[tuple[str, Mapping[str, Any], str]]:
    """The parts of a schema: name where they have one, schema, place."""
    for ref in [schema["$ref"]] if "$ref" in schema else schema.get("x-union", {}).values():
        yield "", forms[ref.removeprefix(_DEFS)], at
    if schema.get("items"):
        yield "", schema["items"], f"{at}/0"
    for name, field in schema.get("properties", {}).items():
        yield name, field, f"{at}/{name}"


def _least_deep(places: list[str]) -> list[str]:
    least = min(place.count("/") for place in places)
    return [*dict.fromkeys(place for place in places if place.count("/") == least)][:2]


# --- the schema of a request

UNIQUE = ("Opening.duties", "Recheck.duties")
"""Lists whose items may not repeat, by "Struct.field"."""

Vocabulary = Mapping[str, Known]
"""The values a field may have: by "Struct.field" those that the catalogue knows, by the name of an enum its codes."""

Empty = Mapping[str, str]
"""What to do in place of an empty list, by "Struct.field"."""

_REF = "#/$defs/{name}"


def validation_schema(kind: type[Any], names: Vocabulary, empty: Empty) -> dict[str, Any]:
    """JSON Schema of a request struct in the dialect of the keywords below: x-quantity, x-union, x-names.

    What their sentences say of a field is worked out here and stands beside them: x-forms, x-holds, x-item, x-empty,
    x-elsewhere.
    """
    (root,), components = msgspec.json.schema_components((kind,), schema_hook=_quantity, ref_template=_REF)
    for place, known in names.items():
        if place in components:
            components[place]["x-codes"] = known
        elif field := field_of(components, place):
            field.clear()
            field.update({"type": "string", "x-names": known})
    for place in UNIQUE:
        field_of(components, place)["uniqueItems"] = True
    for place, detail in empty.items():
        field_of(components, place)["x-empty"] = detail
    forms = {name: _unions(schema) for name, schema in components.items()}
    twins, others, anywhere = _of_twin(kind), _of_other_calls(kind), _belongs(root, forms, "#")
    for name, schema in forms.items():
        nearer = {**others, **anywhere} if name == kind.__name__ else {**anywhere, **_belongs(schema, forms)}
        schema |= {**_told(schema, forms), "x-elsewhere": {**twins, **nearer}}
    return {**root, "$defs": forms}


def _belongs(schema: Mapping[str, Any], forms: Forms, at: str = "") -> dict[str, str]:
    return {evened(name): f" It belongs at {places}." for name, places in places_of(schema, forms, at).items()}


CALLS: dict[type[Any], str] = {Opening: ADVICE, Recheck: RECHECK, House: HOUSE, HouseRecheck: HOUSE_RECHECK}
"""What a request of each kind is sent to; of kinds that have a field of one name the earlier is told."""
_OF_HOUSES: dict[type[Any], type[Any]] = {House: Opening, HouseRecheck: Recheck}
"""What the openings of a house are."""
_TWINS: dict[type[Any], type[Any]] = {Opening: Recheck, Recheck: Opening, House: HouseRecheck, HouseRecheck: House}
"""What is asked of doors once they are set, and what before."""


def _of_twin(kind: type[Any]) -> dict[str, str]:
    """Of names anywhere in the other request on the same doors, set or not yet, which call takes them."""
    if kind not in _TWINS:
        return {}
    twin = _TWINS[kind]
    (root,), components = msgspec.json.schema_components((twin,), schema_hook=_quantity, ref_template=_REF)
    forms = {name: _unions(schema) for name, schema in components.items()}
    return dict.fromkeys(map(evened, places_of(root, forms, "#")), _sent_to(twin))


def _sent_to(kind: type[Any]) -> str:
    """Which call takes what a request of a kind has; of an opening's, which in a house as well."""
    house = next((CALLS[whole] for whole, part in _OF_HOUSES.items() if part is kind), "")
    return f" It belongs to POST {CALLS[kind]}{house and f', in a house to POST {house}'}."


def _of_other_calls(kind: type[Any]) -> dict[str, str]:
    """Of names that requests of other kinds have, which call takes them; of an opening's, where they are in a house."""
    told = {evened(name): _sent_to(other) for other in reversed(CALLS) for name in other.__struct_fields__}
    if kind in _OF_HOUSES:
        inner = _OF_HOUSES[kind].__struct_fields__
        told |= {evened(name): f" It belongs at #/openings/0/{name}." for name in inner}
    return told if kind in CALLS else {}


def _told(schema: Mapping[str, Any], forms: Forms) -> dict[str, Any]:
    """What is said of an object: what it holds, of its required fields what each is, and of its lists their items."""
    fields = schema.get("properties", {})
    for field in fields.values():
        if field.get("items"):
            field["x-item"] = form_of(field["items"], forms)
    required = {name: form_of(fields[name], forms) for name in schema.get("required", ()) if name in fields}
    return {"x-forms": required, "x-holds": members(schema, forms)}


def longest(kind: type[Any], *fields: str) -> int:
    """How many items the longest of these lists may have."""
    _, components = msgspec.json.schema_components((kind,), schema_hook=_quantity, ref_template=_REF)
    return max(int(field_of(components, f"{kind.__name__}.{field}")["maxItems"]) for field in fields)


def field_of(components: Mapping[str, Any], place: str) -> dict[str, Any]:
    """The schema of "Struct.field" among components, to be completed; an empty one when the struct isn't there."""
    struct, _, field = place.partition(".")
    found: dict[str, Any] = components[struct]["properties"][field] if field and struct in components else {}
    return found


def _quantity(cls: type[Any]) -> dict[str, Any]:
    if issubclass(cls, (Length, SiFloat)):
        return {"x-quantity": cls}
    raise NotImplementedError(cls)


def _unions(schema: Any) -> Any:
    """The schema with each union of structs as one keyword, so that only one branch is ever walked."""
    if isinstance(schema, list):
        return [_unions(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    if "discriminator" not in schema:
        return {key: _unions(part) for key, part in schema.items()}
    return {"x-union": schema["discriminator"]["mapping"]}
