"""Reading a decoded answer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

Wire = Mapping[str, Any]
"""A decoded JSON object."""

SIDES = ("pull_side", "push_side")
"""Names of an opening's sides, wherever an answer says something for each."""
NOTHING = "–"
TO_ORDER = "to_order"
"""State of units that are still to be ordered."""


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


def leaf_bottom(advice: Wire) -> float:
    """Height of the leaf's bottom above the datum [mm]; where it isn't known, where the undercut alone would put it."""
    known = mm(advice, "leaf", "bottom")
    return float(advice["setting"]["foot"]["mm"]) + (mm(advice, "taken", "undercut") or 0.0) if known is None else known


def is_in_inches(answer: Wire) -> bool:
    """Whether the tape of an advice or a recheck is in inches.

    >>> is_in_inches({"taken": {"leaf_thickness": {"text": "1 3/8 in"}}})
    True
    """
    return text(answer, "taken", "leaf_thickness").endswith("in")


def slope(bevel: Wire) -> str:
    """Rise and run of a bevel or ramp; the rise alone where no rule says how steep it may be.

    >>> slope({"rise": {"text": "1/4 in"}, "run": {"text": "1/2 in"}}), slope({"rise": {"text": "1/4 in"}})
    ('1/4 in : 1/2 in', '1/4 in')
    """
    rise = text(bevel, "rise")
    return f"{rise} : {text(bevel, 'run')}" if "run" in bevel else rise


def rooms(advice: Wire) -> str:
    """The named rooms on both sides of an opening; one that is on both sides once.

    >>> rooms({"flooring": {"pull_side": {"room": "Hall"}, "push_side": {"room": "Hall"}}})
    'Hall'
    """
    named = (found(advice, "flooring", side, "room") for side in SIDES)
    return " / ".join(dict.fromkeys(room for room in named if room))


def in_short(result: Wire) -> str:
    """What an opening of a house comes to by itself, and what is done in place of that for its head line.

    >>> in_short({"advice": {"summary": "Fine."}}), in_short({"advice": {"summary": "Fine."}, "planned": "Set again."})
    ('Fine.', 'Fine. Set again.')
    """
    return " ".join(filter(None, (result["advice"]["summary"], result.get("planned"))))


def step_of(task: Wire, advice: Wire) -> str:
    """Which step of its opening a task is, by the last part of its key.

    >>> step_of({"key": "2.07.set-frame"}, {"mark": "2.07"})
    'set-frame'
    """
    return str(task["key"]).removeprefix(f"{advice['mark']}.")


def left_out(line: Wire) -> Iterator[str]:
    """The openings that couldn't be put on a head line, each with its reason."""
    return (f"{one['mark']}: {one['why']}" for one in line["left_out"])
