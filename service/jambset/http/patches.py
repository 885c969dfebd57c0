"""The openings of a house in the contract: merge patches (RFC 7396) of its defaults, as schemas that say so.

Every object an opening is made of has a twin that requires nothing and lets null take a default away. What stands in
lists has none: a list is replaced whole. A union's twin has the members of all its kinds: where the default is of
another kind than the opening's, those members of it stay that the opening doesn't name, as the RFC has it, and are
refused until null takes them away.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

Schema = dict[str, Any]

REF = "#/components/schemas/{name}"
_NULL: Schema = {"type": "null"}
_ABOUT = "Of {name}, what differs from the default: a merge patch (RFC 7396). null removes a default."
_ABOUT_UNION = (
    "{about} Merged member by member like any object: where the default is of another kind, remove the members that "
    "this kind lacks, each by null."
)
_ABOUT_PATCH = (
    "One opening of a house: a merge patch (RFC 7396) of the house's defaults. Objects merge member by member, those "
    "told apart by `kind` too, lists and single values are replaced whole, null removes a default; under a name that "
    "no opening has it is refused like any other value. The result is read as an Opening is. An opening with faults is "
    "reported in its place and affects no other."
)
_ABOUT_SET = (
    "One opening of a house whose doors are set: a merge patch (RFC 7396) of the house's defaults, as an OpeningPatch "
    "is, `as_set` too. The result is read as a Recheck is. An opening with faults is reported in its place and affects "
    "no other."
)
_ABOUT_DEFAULTS = "What holds for every opening of the house that doesn't say otherwise; null removes nothing yet."


def with_patches(schemas: Mapping[str, Schema]) -> dict[str, Schema]:
    """The schemas of the request with those of patches, and the houses made of them."""
    found = dict(schemas)
    for house, opening, about in (("House", "Opening", _ABOUT_PATCH), ("HouseRecheck", "Recheck", _ABOUT_SET)):
        found |= _with_house(house, opening, about, schemas)
    return found


def _with_house(house: str, opening: str, about: str, schemas: Mapping[str, Schema]) -> dict[str, Schema]:
    """A house with the patches that its openings are. opening: what they stand for. about: the words of a patch."""
    twins = dict(_twins(opening, schemas))
    whole = twins.pop(opening)
    fields = {name: form for name, form in whole["properties"].items() if name != "mark"}
    mark = {"mark": schemas[opening]["properties"]["mark"]}
    patch, defaults = f"{opening}Patch", f"{opening}Defaults"
    return {
        **{f"{name}Patch": twin for name, twin in twins.items()},
        patch: {
            **whole,
            "title": patch,
            "description": about,
            "properties": {**mark, **fields},
            "required": ["mark"],
        },
        defaults: {**whole, "title": defaults, "description": _ABOUT_DEFAULTS, "properties": fields},
        house: _house(schemas[house], patch, defaults),
    }


def _house(schema: Schema, patch: str, defaults: str) -> Schema:
    """patch, defaults: names of the schemas of its openings and of what they take over."""
    fields = schema["properties"]
    openings = {**fields["openings"], "items": {"$ref": REF.format(name=patch)}}
    return {
        **schema,
        "properties": {**fields, "openings": openings, "defaults": {"$ref": REF.format(name=defaults)}},
    }


def _twins(name: str, schemas: Mapping[str, Schema]) -> Iterator[tuple[str, Schema]]:
    """The twin of a struct and those of the structs it holds, by the names of the originals."""
    schema, about = schemas[name], _ABOUT.format(name=name)
    if "oneOf" in schema:
        schema, about = _of_all_kinds(schema, schemas), _ABOUT_UNION.format(about=about)
    fields = {field: _patched(form, schemas) for field, form in schema["properties"].items()}
    twin = {
        **schema,
        "title": f"{name}Patch",
        "description": about,
        "properties": fields,
    }
    twin.pop("required", None)
    yield name, twin
    for form in schema["properties"].values():
        if (held := _struct(form, schemas)) is not None:
            yield from _twins(held, schemas)


def _of_all_kinds(union: Schema, schemas: Mapping[str, Schema]) -> Schema:
    """One object with the members of all kinds of a union."""
    members: dict[str, Schema] = {}
    for ref in union["discriminator"]["mapping"].values():
        for field, form in schemas[_named(ref)]["properties"].items():
            if members.setdefault(field, form) != form and field != "kind":
                raise ValueError(f"{field} is one thing in one kind of {union['title']} and another in {ref}")
    kind = {"type": "string", "enum": list(union["discriminator"]["mapping"])}
    return {"type": "object", "properties": {**members, "kind": kind}, "additionalProperties": False}


def _patched(form: Schema, schemas: Mapping[str, Schema]) -> Schema:
    held = _struct(form, schemas)
    plain = {key: value for key, value in form.items() if key not in ("title", "description")}
    value = plain if held is None else {"$ref": REF.format(name=f"{held}Patch")}
    return {**{key: form[key] for key in ("title", "description") if key in form}, "anyOf": [value, _NULL]}


def _struct(form: Schema, schemas: Mapping[str, Schema]) -> str | None:
    """Name of the struct or union of structs that a field holds by itself, None for anything else."""
    name = _named(form.get("$ref", ""))
    return name if schemas.get(name, {}).keys() & {"properties", "oneOf"} else None


def _named(ref: str) -> str:
    return ref.rpartition("/")[2]
