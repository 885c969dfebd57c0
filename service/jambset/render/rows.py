"""Lines of the tables that the command line prints: plain strings from an advice or a rule as answered.

Reads decoded JSON, so that a table of answers fetched over HTTP and one of answers worked out here are
the same table.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

Wire = Mapping[str, Any]
"""A decoded JSON object."""

COLUMNS = ("mark", "verdict", "foot", "trim", "gap pull / push", "air", "transition", "governed by")
RULE_COLUMNS = ("rule", "place", "force", "topic", "what it asks", "source", "verified")
NOTHING = "-"


def row(advice: Wire) -> tuple[str, ...]:
    """One opening's line, a string for each of COLUMNS."""
    return (
        advice["mark"],
        advice["verdict"].replace("_", " "),
        _foot(advice["setting"]),
        _trim(advice["leaf"]),
        _gaps(advice["clearance"]),
        _air(advice["air"]),
        advice.get("transition", {}).get("title", NOTHING),
        "\n".join(_rules(advice)) or NOTHING,
    )


def _text(part: Wire, name: str) -> str:
    """Text of a quantity in the caller's grid.

    >>> _text({"trim": {"mm": 12.7, "in": 0.5, "text": "1/2 in"}}, "trim"), _text({}, "trim")
    ('1/2 in', '-')
    """
    found: str = part.get(name, {}).get("text", NOTHING)
    return found


def _foot(setting: Wire) -> str:
    return f"{_text(setting, 'foot')}\n{setting['method'].replace('_', ' ')}"


def _trim(leaf: Wire) -> str:
    when = leaf["when"].replace("_", " ")
    return NOTHING if when == "none" else f"{_text(leaf, 'trim')}\n{when}"


def _gaps(clearance: Wire) -> str:
    return " / ".join(_text(clearance.get(side, {}), "nominal") for side in ("pull_side", "push_side"))


def _air(air: Wire) -> str:
    """What passes at the pressure limit against what is supplied."""
    passes, supplied = _text(air, "flow_at_limit"), _text(air, "supply_flow")
    return passes if supplied == NOTHING else f"{passes} of {supplied}"


def _rules(advice: Wire) -> Iterable[str]:
    """Ids of the rules that settled foot and leaf, each once, in that order."""
    parts = (advice["setting"], advice["leaf"])
    return dict.fromkeys(rule for part in parts for rule in part.get("governed_by", ()))


def rule_row(rule: Wire) -> tuple[str, ...]:
    """One rule's line, a string for each of RULE_COLUMNS; the source in its latest edition."""
    latest = rule["editions"][-1]
    return (
        rule["id"],
        rule.get("jurisdiction", "everywhere"),
        rule["force"],
        rule["topic"],
        rule["text"],
        f"{rule['document']['title']}, {latest['edition']}, {latest['clause']}",
        rule["verified"],
    )
