"""Reading a decoded answer."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Wire = Mapping[str, Any]
"""A decoded JSON object."""

NOTHING = "–"


def found(part: Wire, *path: str) -> Any:
    """What stands at a path, None where it is left out.

    >>> found({"leaf": {"trim": {"mm": 3.0}}}, "leaf", "trim", "mm"), found({"leaf": {}}, "leaf", "trim", "mm")
    (3.0, None)
    """
    at: Any = part
    for name in path:
        at = at.get(name) if isinstance(at, Mapping) else None
    return at


def mm(part: Wire, *path: str) -> float | None:
    """Millimetres of a length at a path, None where it is left out."""
    at = found(part, *path, "mm")
    return None if at is None else float(at)


def text(part: Wire, *path: str) -> str:
    """Text of a quantity at a path, NOTHING where it is left out.

    >>> text({"leaf": {"trim": {"text": "1/2 in"}}}, "leaf", "trim"), text({}, "leaf", "trim")
    ('1/2 in', '–')
    """
    at = found(part, *path, "text")
    return NOTHING if at is None else str(at)
