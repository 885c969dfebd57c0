"""What is wrong with the fields of a refused body: a walk by the schema of the structs that decode it.

Each keyword of the schema is a small function that says in a sentence how to mend the field. Of a union
only the branch that `kind` names is walked, so that no other branch's errors appear.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any
from urllib.parse import quote

import msgspec
from jsonschema import Draft202012Validator, ValidationError, validators

from jambset.engine.contradictions import REPEATED, is_repeated
from jambset.errors import FieldError, Known, QuantityError, counted, evened, shown, unknown
from jambset.http.forms import JSON_NAMES, Empty, Vocabulary, validation_schema
from jambset.model.request import PLAIN
from jambset.quantity.parse import read_quantity

Keyword = Callable[[Any, Any, Any, Any], Iterator[ValidationError]]

_PLACE = re.compile(r"^(.*) - at `\$?(.*?)`$", re.DOTALL)
_TOKEN = re.compile(r"\.([A-Za-z_][A-Za-z0-9_]*)|\[([0-9]+)\]")


def validator_of(kind: type[Any], names: Vocabulary, empty: Empty) -> Callable[[object], Iterator[FieldError]]:
    """A function that finds the faults of a document of this kind, in the order of its schema."""
    validator = _Validator(validation_schema(kind, names, empty))
    return lambda document: map(_field_error, validator.iter_errors(document))


def pointer(path: Sequence[str | int]) -> str:
    """A JSON Pointer to a place in the body, as a URI fragment (RFC 6901 section 6).

    >>> pointer(["pull_side", "build_up", 0, "a/b~c d"])
    '#/pull_side/build_up/0/a~1b~0c%20d'
    """
    tokens = (str(token).replace("~", "~0").replace("/", "~1") for token in path)
    return "".join(["#", *(f"/{quote(token, safe=_SAFE)}" for token in tokens)])


_SAFE = "~!$&'()*+,;=:@"


def _error(code: str, detail: str, *path: str | int) -> ValidationError:
    return ValidationError(detail, validator=code, path=path)


def _type(validator: Any, wanted: str, instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    if not validator.is_type(instance, wanted):
        held = f" {schema['x-holds']}" if schema.get("x-holds") else ""
        instead = _null_hint(schema) if instance is None else _instead(wanted, instance, schema)
        yield _error("wrong_type", f"This must be {JSON_NAMES[wanted]}{held}, not {_named(instance)}.{instead}")


def _named(instance: object) -> str:
    if instance is None:
        return "null"
    if isinstance(instance, bool):
        return "true" if instance else "false"
    names = {dict: "an object", list: "an array", str: "a string", float: "a number with decimals or an exponent"}
    return names.get(type(instance), "a number")


def _instead(wanted: str, instance: object, schema: dict[str, Any]) -> str:
    """What to write in place of a value of another type."""
    if "x-names" in schema:
        return f" Use {schema['x-names'].brief()}."
    if "x-item" in schema:
        return f" Each item is {schema['x-item']}."
    if wanted == "string" and type(instance) is int and "format" not in schema and abs(instance) < _LONG:
        return f' Write "{instance}".'
    if wanted in _NUMBERS and isinstance(instance, str) and _NUMBERS[wanted].fullmatch(instance):
        return f" Write {instance}."
    return ""


_LONG = 10**15
_NUMBERS = {
    "integer": re.compile("-?(?:0|[1-9][0-9]{0,8})"),
    "number": re.compile("-?(?:0|[1-9][0-9]{0,8})([.][0-9]{1,9})?"),
}
"""Numbers of JSON that stand in a text, by the type that is wanted."""


def _null_hint(schema: dict[str, Any]) -> str:
    nothing_required = schema.get("x-holds", "").startswith("that")
    return " Leave out what isn't known, or write {}." if nothing_required else LEAVE_OUT


LEAVE_OUT = " Leave out what isn't known, unless it is required."


def _enum(_: Any, allowed: list[str], instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    if not isinstance(instance, str) or instance not in allowed:
        known: Known = schema.get("x-codes") or Known(allowed)
        instead = known.instead(instance if isinstance(instance, str) else "")
        instead += LEAVE_OUT if instance is None else ""
        yield _error("not_allowed", f"{_given(instance)} is not allowed here.{instead}")


def _names(_: Any, known: Known, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, str) and instance not in known.names:
        fault = unknown("", instance, known)
        yield _error(fault.code, fault.detail)


def _given(instance: object) -> str:
    return f'"{shown(instance)}"' if isinstance(instance, str) else _named(instance).capitalize()


def _required(_: Any, names: list[str], instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, dict):
        for name in names:
            if name not in instance:
                detail = f"{name} is required here and is missing; add it. It is {schema['x-forms'][name]}."
                yield _error("missing_field", detail, name)


def _additional(_: Any, __: bool, instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    known = list(schema["properties"])
    for name, value in instance.items() if isinstance(instance, dict) else ():
        if name in known:
            continue
        if isinstance(value, dict) and len(value.keys() & schema["properties"].keys()) >= _SEVERAL:
            detail = "There is no field of this name here; its members belong here themselves."
            yield _error("unknown_field", detail, name)
        else:
            yield _error("unknown_field", no_such_field(name, known, schema["x-elsewhere"]), name)


_SEVERAL = 2
"""Known members by which an object is taken for one that was wrapped in another."""


def no_such_field(name: str, known: Sequence[str], elsewhere: Mapping[str, str] = MappingProxyType({})) -> str:
    """What is said of a member whose name isn't known. elsewhere: where names that stand elsewhere belong."""
    names, even = Known(known), evened(name)
    place = elsewhere.get(even, "") if even not in map(evened, known) else ""
    hint = place or names.meant(name) or f" Known here: {', '.join(known) or 'none'}."
    return f"There is no field of this name here; remove it.{hint}"


def _least(_: Any, limit: float, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if _is_number(instance) and instance < limit:
        yield _error("too_small", f"This must be at least {limit:g}.")


def _greatest(_: Any, limit: float, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if _is_number(instance) and instance > limit:
        yield _error("too_large", f"This must be at most {limit:g}.")


def _above(_: Any, limit: float, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if _is_number(instance) and instance <= limit:
        yield _error("too_small", f"This must be above {limit:g}.")


def _is_number(instance: object) -> bool:
    return isinstance(instance, int | float) and not isinstance(instance, bool)


def _shortest(_: Any, limit: int, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, str) and len(instance) < limit:
        yield _error("too_short", f"This must have at least {counted(limit, 'character')}.")


def _longest(_: Any, limit: int, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, str) and len(instance) > limit:
        yield _error("too_long", f"This has {len(instance)} characters and may have {limit}.")


def _pattern(_: Any, pattern: str, instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    """Looks at no more characters than are allowed: a body may be longer than a pattern should be tried on."""
    text = instance[: schema.get("maxLength")] if isinstance(instance, str) else None
    if text is not None and not re.search(pattern, text):
        yield _error("wrong_pattern", _leave_out(text) if pattern == PLAIN else f"This must match {pattern}.")


def _leave_out(text: str) -> str:
    """Names the characters to leave out by their code points: printed as they are, they would do their harm here."""
    found = ", ".join(f"U+{ord(letter):04X}" for letter in dict.fromkeys(text) if not re.search(PLAIN, letter))
    return f"Leave out {found}: control characters, line breaks and marks of text direction have no place in a text."


def _fewest(_: Any, limit: int, instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, list) and len(instance) < limit:
        yield _error("too_few", f"This must have at least {counted(limit, 'item')}.{schema.get('x-empty', '')}")


def _most(_: Any, limit: int, instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    if isinstance(instance, list) and len(instance) > limit:
        yield _error("too_many", f"This has {len(instance)} items and may have {limit}; no others were looked at.")


def _items(validator: Any, form: dict[str, Any], instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    """Looks at no more items than are allowed: a longer list is refused for its length."""
    for place, item in enumerate(instance[: schema.get("maxItems")] if isinstance(instance, list) else ()):
        yield from validator.descend(item, form, path=place)


def _unique(_: Any, __: bool, instance: Any, schema: dict[str, Any]) -> Iterator[ValidationError]:
    """Looks at no more items than are allowed: comparing each of thousands with each takes too long."""
    if isinstance(instance, list) and is_repeated(instance[: schema.get("maxItems")]):
        yield _error("repeated", REPEATED)


def _format(_: Any, __: str, instance: Any, ___: dict[str, Any]) -> Iterator[ValidationError]:
    """The only format in a request is a date; the decoder's own reading decides."""
    try:
        msgspec.convert(instance, datetime.date, strict=True)
    except msgspec.ValidationError:
        if isinstance(instance, str):
            yield _error("wrong_date", 'This must be a date of the calendar, written as in "2026-03-01".')


def _read(_: Any, cls: type[Any], instance: Any, __: dict[str, Any]) -> Iterator[ValidationError]:
    try:
        read_quantity(cls, instance)
    except QuantityError as fault:
        yield _error(fault.code, fault.detail)


def _union(validator: Any, branches: dict[str, str], instance: Any, _: dict[str, Any]) -> Iterator[ValidationError]:
    if not isinstance(instance, dict):
        yield from _type(validator, "object", instance, {"x-holds": f"with kind, one of: {', '.join(branches)}"})
    elif "kind" not in instance:
        yield _error("missing_field", f"kind is required here; it is one of: {', '.join(branches)}.", "kind")
    elif not isinstance(kind := instance["kind"], str) or kind not in branches:
        meant = Known(branches).meant(kind) if isinstance(kind, str) else ""
        detail = f"{_given(kind)} is no kind of this.{meant} Use one of: {', '.join(branches)}."
        yield _error("unknown_kind", detail, "kind")
    else:
        yield from validator.descend(instance, {"$ref": branches[kind]})


_WALK = ("$ref", "properties")
_KEYWORDS: dict[str, Keyword] = {word: Draft202012Validator.VALIDATORS[word] for word in _WALK} | {
    "items": _items,
    "type": _type,
    "enum": _enum,
    "required": _required,
    "additionalProperties": _additional,
    "minimum": _least,
    "maximum": _greatest,
    "exclusiveMinimum": _above,
    "minLength": _shortest,
    "maxLength": _longest,
    "pattern": _pattern,
    "minItems": _fewest,
    "maxItems": _most,
    "uniqueItems": _unique,
    "format": _format,
    "x-quantity": _read,
    "x-union": _union,
    "x-names": _names,
}
_TYPES = Draft202012Validator.TYPE_CHECKER.redefine(
    "integer", lambda _, value: isinstance(value, int) and not isinstance(value, bool)
)
_Validator = validators.create(Draft202012Validator.META_SCHEMA, validators=_KEYWORDS, type_checker=_TYPES)


def _field_error(error: ValidationError) -> FieldError:
    return FieldError(pointer(error.absolute_path), str(error.validator), error.message)


def decoder_fault(message: str) -> FieldError:
    """The decoder's own words, for what only the decoder refuses."""
    match = _PLACE.match(message)
    text, path = (match[1], match[2]) if match else (message, "")
    tokens = [name or int(place) for name, place in _TOKEN.findall(path.partition("[...]")[0])]
    return FieldError(pointer(tokens), "invalid", f"{text}.")
