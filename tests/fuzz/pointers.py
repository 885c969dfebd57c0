"""Places that answers name: whether they are there in what was sent."""

from __future__ import annotations

from typing import Any
from urllib.parse import unquote

ABSENT = {"missing_field", "out_of_order"}
"""Codes of faults whose place is where something should be."""
_NOTHING = object()


def found(pointer: str, document: Any, *, absent: bool = False) -> bool:
    """Whether a JSON Pointer as a URI fragment names a place. absent: whether the place may still be empty.

    >>> found("#/a/1/b~1c", {"a": [0, {"b/c": None}]}), found("#/a", {}), found("#/a", {}, absent=True)
    (True, False, True)
    """
    assert pointer.startswith("#"), pointer
    tokens = [unquote(token).replace("~1", "/").replace("~0", "~") for token in pointer[1:].split("/")[1:]]
    place = document
    for depth, token in enumerate(tokens, 1):
        parent, place = place, _member(place, token)
        if place is _NOTHING:
            return absent and depth == len(tokens) and isinstance(parent, dict)
    return True


def _member(value: Any, token: str) -> Any:
    if isinstance(value, dict):
        return value.get(token, _NOTHING)
    if isinstance(value, list) and token.isdecimal() and int(token) < len(value):
        return value[int(token)]
    return _NOTHING


def misplaced(errors: list[Any], document: Any) -> list[Any]:
    """Those errors that name no place of the document."""
    return [error for error in errors if not found(error["pointer"], document, absent=error["code"] in ABSENT)]
