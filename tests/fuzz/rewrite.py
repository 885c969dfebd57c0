"""The same request written otherwise: it has to have the same answer."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from jambset.errors import QuantityError
from jambset.quantity.parse import read_quantity
from jambset.quantity.ticks import MM, Length

NAMES = frozenset({"mark", "marks", "room", "name", "house", "grid", "external_id", "rule_set"})
"""Members that hold names, even where they look like a length."""


def rewritten(body: bytes, change: Callable[[Any], Any]) -> bytes | None:
    """A body with its value changed; None for one that isn't JSON as it is read here."""
    try:
        return json.dumps(change(json.loads(body)), ensure_ascii=False).encode("utf-8")
    except (ValueError, RecursionError):
        return None


def turned(value: Any) -> Any:
    """The same JSON with the members of each object in reverse order."""
    if isinstance(value, dict):
        return {key: turned(part) for key, part in reversed(value.items())}
    return [turned(part) for part in value] if isinstance(value, list) else value


def in_millimetres(value: Any) -> Any:
    """The same JSON with each length that is a text as a number of millimetres."""
    if isinstance(value, dict):
        return {key: part if key in NAMES else in_millimetres(part) for key, part in value.items()}
    if isinstance(value, list):
        return [in_millimetres(part) for part in value]
    return _length(value) if isinstance(value, str) else value


def _length(text: str) -> Any:
    try:
        return {"value": read_quantity(Length, text) / MM, "unit": "mm"}
    except QuantityError:
        return text
