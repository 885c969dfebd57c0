"""The openings of a house in the contract: merge patches (RFC 7396) of its defaults, as schemas that say so.

Every object an opening is made of has a twin that requires nothing and lets null take a default away. Unions
and what stands in lists have none: they are sent whole. (The service merges these too, by the letter of the
RFC; a client that sends them whole never has to know.)
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

Schema = dict[str, Any]

REF = "#/components/schemas/{name}"
PATCH, DEFAULTS = "OpeningPatch", "OpeningDefaults"
_NULL: Schema = {"type": "null"}
_ABOUT = "Of {name}, what differs from the default: a merge patch (RFC 7396). null takes a default away."
_ABOUT_PATCH = (
    "One opening of a house: a merge patch (RFC 7396) of the house's defaults. Objects merge member by member, lists "
    "and single values are replaced whole, null takes a default away. What comes of it is read as an Opening is, and "
    "an opening with faults is reported in its place: it fails no other."
)
_ABOUT_DEFAULTS = "What holds for every opening of the house that doesn't say otherwise; null takes nothing away yet."


def with_patches(schemas: Mapping[str, Schema]) -> dict[str, Schema]:
    """The schemas of the request with those of patches, and the house made of them."""
    twins = dict(_twins("Opening", schemas))
    whole = twins.pop("Opening")
    fields = {name: form for name, form in whole["properties"].items() if name != "mark"}
    mark = {"mark": schemas["Opening"]["properties"]["mark"]}
    patch = {
        **whole,
        "title": PATCH,
        "description": _ABOUT_PATCH,
        "properties": {**mark, **fields},
        "required": ["mark"],
    }
    defaults = {**whole, "title": DEFAULTS, "description": _ABOUT_DEFAULTS, "properties": fields}
    named = {f"{name}Patch": twin for name, twin in twins.items()}
    return {**schemas, **named, PATCH: patch, DEFAULTS: defaults, "House": _house(schemas["House"])}


def _house(schema: Schema) -> Schema:
    fields = schema["properties"]
    openings = {**fields["openings"], "items": {"$ref": REF.format(name=PATCH)}}
    return {
        **schema,
        "properties": {**fields, "openings": openings, "defaults": {"$ref": REF.format(name=DEFAULTS)}},
    }


def _twins(name: str, schemas: Mapping[str, Schema]) -> Iterator[tuple[str, Schema]]:
    """The twin of a struct and those of the structs it holds, by the names of the originals."""
    schema = schemas[name]
    fields = {field: _patched(form, schemas) for field, form in schema["properties"].items()}
    twin = {
        **schema,
        "title": f"{name}Patch",
        "description": _ABOUT.format(name=name),
        "properties": fields,
    }
    twin.pop("required", None)
    yield name, twin
    for form in schema["properties"].values():
        if (held := _struct(form, schemas)) is not None:
            yield from _twins(held, schemas)


def _patched(form: Schema, schemas: Mapping[str, Schema]) -> Schema:
    held = _struct(form, schemas)
    plain = {key: value for key, value in form.items() if key not in ("title", "description")}
    value = plain if held is None else {"$ref": REF.format(name=f"{held}Patch")}
    return {**{key: form[key] for key in ("title", "description") if key in form}, "anyOf": [value, _NULL]}


def _struct(form: Schema, schemas: Mapping[str, Schema]) -> str | None:
    """Name of the struct that a field holds by itself, None for anything else."""
    name = form.get("$ref", "").rpartition("/")[2]
    return name if "properties" in schemas.get(name, {}) else None
