"""JSON Schemas of the contract, made from the structs that decode and encode.

Request side: closed, with every limit the types hold, unions named and told apart by `kind`, the names
of the catalogue as enums. Response side: open, code lists as plain strings with their known values as
examples. Nothing has a default in the schema: generators make such fields required.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterable, Mapping
from enum import StrEnum
from typing import Any

import msgspec

from jambset.http import bulk, problems, views
from jambset.http.forms import UNIQUE, field_of
from jambset.http.known import REQUESTS, names, plausible
from jambset.http.patches import REF, with_patches
from jambset.http.words import anywhere, documented, explained
from jambset.model import advice, house, house_recheck, recheck, request
from jambset.model.source import Asked, Force, Verified
from jambset.quantity.parse import EXAMPLES, LARGEST_NUMBER, LONGEST_TEXT, PATTERNS, UNITS
from jambset.render import encode
from jambset.rules.schema import Catalogue, Measured, Topic

Schema = dict[str, Any]

UNIONS = {("level", "legs", "slope", "survey"): "Subfloor", ("grille", "duct", "crack"): "AirPath"}
"""Names of the unions by their tags; a new one has to be named here."""
UNION_TITLES = {
    "Subfloor": "The subfloor as measured; left out when it wasn't, and then taken as level.",
    "AirPath": "What carries air beside the undercut.",
}
_PLACE = ("JurisdictionCode", "A place whose rules the catalogue holds.")
_GRID = ("GridName", "Step of the tape in which lengths are answered.")
_RULE_SET = ("RuleSetVersion", "A dated version of the catalogue.")
NAME_SCHEMAS = {
    "Opening.jurisdiction": _PLACE,
    "Opening.grid": _GRID,
    "Opening.rule_set": _RULE_SET,
    "Recheck.jurisdiction": _PLACE,
    "Recheck.grid": _GRID,
    "Recheck.rule_set": _RULE_SET,
    "Answered.code": ("AnsweredCode", "A question that somebody's word answers, and no field of a request."),
    "Layer.material": ("MaterialCode", "A layer the catalogue knows; GET /v1/finishes describes them."),
    "Transition.piece": ("PieceCode", "A transition piece the catalogue knows; GET /v1/finishes describes them."),
}
MEASURE = "Measure"
_KNOWN: dict[str, type[StrEnum]] = {
    "force": Force,
    "verified": Verified,
    "topic": Topic,
    "measured": Measured,
    "quantity": Measured,
    "decides": Asked,
    "ask": Asked,
    "trade": Asked,
}
_CODES = re.compile(r"^[A-Za-z]+(?:_[a-z]+)*(?:, [A-Za-z]+(?:_[a-z]+)*)+(?=[.:])")
_ANSWERS: tuple[type[Any], ...] = (  # first those to requests, in their order
    advice.Advice,
    recheck.RecheckAdvice,
    house.HouseAdvice,
    house_recheck.HouseRecheckAdvice,
    views.RuleList,
    views.RuleSetList,
    views.FinishList,
    views.LabourList,
    views.Limits,
    views.ScenarioList,
    views.ScenarioView,
    views.Health,
    views.ServiceIndex,
    problems.Problem,
    problems.ProblemType,
    bulk.LineProblem,
    *encode.FORMS.values(),
)


# --- request side


def request_schemas(catalogue: Catalogue) -> dict[str, Schema]:
    """Components of everything a caller sends, by name."""
    _, found = msgspec.json.schema_components(REQUESTS, schema_hook=_measured_field, ref_template=REF)
    told = documented(found)
    _name_fields(told, names(catalogue))
    for place in UNIQUE:
        field_of(told, place)["uniqueItems"] = True
    unions: dict[str, Schema] = {}
    plain = {name: _requested(_told(name, schema), unions) for name, schema in told.items()}
    kinds = {kind.__name__: quantity_schema(kind) for kind in PATTERNS}
    whole = {**plain, **unions, **_name_schemas(names(catalogue)), **kinds}
    return {**whole, **with_patches(whole)}


def _measured_field(cls: type[Any]) -> Schema:
    """A measured field: its kind by reference, with the range that is plausible for it."""
    found = plausible(cls)
    about = (inspect.getdoc(cls) or "").strip()
    ends = {name: msgspec.to_builtins(getattr(found, name)) for name in ("least", "greatest")}
    return {"$ref": REF.format(name=found.quantity), "title": found.title, "description": about, "x-plausible": ends}


def _name_fields(components: dict[str, Schema], known: Mapping[str, Iterable[str]]) -> None:
    for place in known:
        struct, _, field = place.partition(".")
        about = components[struct]["properties"][field].get("description")
        described = {"description": about} if about else {}
        components[struct]["properties"][field] = {"$ref": REF.format(name=NAME_SCHEMAS[place][0]), **described}


def _name_schemas(known: Mapping[str, tuple[str, ...]]) -> dict[str, Schema]:
    return {
        NAME_SCHEMAS[place][0]: {
            "title": NAME_SCHEMAS[place][0],
            "description": NAME_SCHEMAS[place][1],
            "type": "string",
            "enum": list(values),
        }
        for place, values in known.items()
    }


def quantity_schema(kind: type[Any]) -> Schema:
    """A quantity as a request writes it: text in the published notation, or number and unit."""
    units = list(UNITS[kind])
    limit = int(LARGEST_NUMBER)
    number = {"type": "number", "minimum": -limit, "maximum": limit}
    return {
        "title": kind.__name__,
        "description": f"Written as {EXAMPLES[kind]}. A number without its unit is refused.",
        "anyOf": [
            {"type": "string", "pattern": PATTERNS[kind], "maxLength": LONGEST_TEXT},
            {
                "type": "object",
                "properties": {"value": number, "unit": {"type": "string", "enum": units}},
                "required": ["value", "unit"],
                "additionalProperties": False,
            },
        ],
    }


def _requested(schema: Any, unions: dict[str, Schema]) -> Any:
    """A schema of the request: tags as const, unions by name, defaults in words."""
    if isinstance(schema, list):
        return [_requested(part, unions) for part in schema]
    if not isinstance(schema, dict):
        return schema
    if "discriminator" in schema:
        return _named_union(schema, unions)
    plain = {key: _requested(part, unions) for key, part in schema.items()}
    if plain.get("pattern") == request.PLAIN:
        plain["pattern"] = request.PUBLISHED
    if plain.get("properties", {}).get("kind", {}).get("enum"):
        plain["properties"]["kind"] = {"type": "string", "const": plain["properties"]["kind"]["enum"][0]}
    return _typed(_without_default(plain, "When left out: {}."))


def _told(name: str, schema: Schema) -> Schema:
    """A schema; that of an enum with what each of its codes means."""
    kind = getattr(request, name, None)
    if "enum" not in schema or kind is None:
        return schema
    return {**schema, "description": explained(schema["description"], kind)}


def _named_union(schema: Schema, unions: dict[str, Schema]) -> Schema:
    mapping = schema["discriminator"]["mapping"]
    name = UNIONS[tuple(mapping)]
    unions[name] = {
        "title": name,
        "description": UNION_TITLES[name],
        "oneOf": [{"$ref": ref} for ref in mapping.values()],
        "discriminator": {"propertyName": "kind", "mapping": mapping},
    }
    return {"$ref": REF.format(name=name)}


def _typed(schema: Schema) -> Schema:
    """An enum says that it is one of strings."""
    return {**schema, "type": "string"} if isinstance(schema.get("enum"), list) else schema


def _without_default(schema: Schema, note: str) -> Schema:
    """The schema with a scalar default moved into its description."""
    default = schema.pop("default", None)
    if default is None or default in ((), [], {}):
        return schema
    shown = msgspec.json.encode(default).decode().strip('"')
    about = " ".join(part for part in (schema.get("description"), note.format(shown)) if part)
    return {**schema, "description": about}


# --- response side

CLOSING = frozenset({"additionalProperties", "pattern"})
"""Keywords that would forbid an answer new members, or codes that aren't known yet."""


def response_schemas() -> dict[str, Schema]:
    """Components of everything the service answers, by name."""
    _, found = msgspec.json.schema_components(_ANSWERS, schema_hook=encode.schema_hook, ref_template=REF)
    enums = {REF.format(name=name): schema["enum"] for name, schema in found.items() if "enum" in schema}
    structs = {name: schema for name, schema in documented(found).items() if "enum" not in schema}
    answered = {name: _answered(schema, enums) for name, schema in structs.items()}
    for side, names_ in (("request", REQUESTS), ("response", _ANSWERS[: len(REQUESTS)])):
        shapes = [{"$ref": REF.format(name=shape.__name__)} for shape in names_]
        answered["ScenarioView"]["properties"][side] |= {"type": "object", "anyOf": shapes}
    forms = [{"$ref": REF.format(name=form.__name__)} for form in encode.FORMS.values()]
    about = "A length, area, flow, pressure or slope; its members tell which."
    return {**answered, MEASURE: {"title": MEASURE, "description": about, "anyOf": forms}}


def _answered(schema: Any, enums: Mapping[str, list[str]]) -> Any:
    """A schema of a response: open, code lists as strings with examples, measures by reference."""
    if isinstance(schema, list):
        return [_answered(part, enums) for part in schema]
    if not isinstance(schema, dict):
        return schema
    if schema.get("$ref") in enums:
        said = {key: part for key, part in schema.items() if key != "$ref"}
        return {**said, "type": "string", "examples": enums[schema["$ref"]]}
    return {
        key: _fields(part, enums) if key == "properties" else _answered(part, enums)
        for key, part in schema.items()
        if key not in CLOSING
    }


def _fields(properties: Mapping[str, Schema], enums: Mapping[str, list[str]]) -> Schema:
    """The properties of an answer; their names aren't keywords of a schema."""
    return {name: _field(name, _answered(form, enums)) for name, form in properties.items()}


def _field(name: str, form: Schema) -> Schema:
    """One property: a measure, a code list, or anything else."""
    form = anywhere(name, _without_default(form, "Left out when {}."))
    if not form.keys() - {"description"}:
        return {"$ref": REF.format(name=MEASURE), **form}
    known = _known_codes(name, form)
    if name in _KNOWN and known == list(_KNOWN[name]):
        form = {**form, "description": explained(form["description"], _KNOWN[name])}
    if known and form.get("type") == "string" and "examples" not in form:
        return {**form, "examples": known}
    if known and form.get("items") == {"type": "string"}:
        return {**form, "items": {"type": "string", "examples": known}}
    return form


def _known_codes(name: str, form: Schema) -> list[str]:
    """Known values of a code list: those its description lists first, or its enum's."""
    if match := _CODES.match(form.get("description", "")):
        return match[0].split(", ")
    return list(_KNOWN.get(name, ()))
