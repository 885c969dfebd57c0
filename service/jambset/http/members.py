"""The names that members of an opening may have, at any depth, and the nulls of a patch under other names.

A null is gone once a patch is merged (see merge), so one under a misspelt name would silently do nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import msgspec
from msgspec import inspect

from jambset.errors import FieldError
from jambset.http.faults import no_such_field, pointer
from jambset.http.merge import tokens
from jambset.model.request import Opening, Recheck

Members = Mapping[str, Any]
"""Names, each with the names of the object it holds; none for a list, a number or a text."""


def members_of(kind: inspect.Type) -> dict[str, Any]:
    """The members of a kind as the decoder knows it; those of all kinds of a union, as a patch may name them."""
    match kind:
        case inspect.Metadata(type=inner):
            return members_of(inner)
        case inspect.UnionType(types=kinds):
            return {name: of for one in kinds for name, of in members_of(one).items()}
        case inspect.StructType(fields=fields, tag_field=tag):
            return {**{field.encode_name: members_of(field.type) for field in fields}, **({tag: {}} if tag else {})}
        case inspect.CustomType():  # a quantity
            return {"value": {}, "unit": {}}
    return {}


MEMBERS: Members = members_of(msgspec.inspect.type_info(Opening))
"""Those of an opening."""
SET_MEMBERS: Members = members_of(msgspec.inspect.type_info(Recheck))
"""Those of an opening that is set."""


def is_member(pointer: str, members: Members = MEMBERS) -> bool:
    """Whether an opening of some kind has a member at the place a pointer (RFC 6901) names.

    >>> is_member("#/leaf/width"), is_member("#/leaf/hieght"), is_member("#/pull_side/build_up/0/material")
    (True, False, False)
    """
    known: Members | None = members
    for token in tokens(pointer):
        known = known.get(token) if known is not None else None
    return known is not None


def lost_nulls(patch: object, known: Members = MEMBERS, path: Sequence[str] = ()) -> Iterator[FieldError]:
    """Nulls under unknown names. known: the names. path: where the patch stands."""
    for name, value in patch.items() if isinstance(patch, dict) and known else ():
        if value is None and name not in known:
            yield FieldError(pointer([*path, name]), "unknown_field", no_such_field(name, list(known)))
        elif isinstance(value, dict):
            yield from lost_nulls(value, known.get(name, {}), [*path, name])
