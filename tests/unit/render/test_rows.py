from __future__ import annotations

from typing import Any

import pytest

from jambset.render.rows import COLUMNS, row


def _length(text: str) -> dict[str, Any]:
    return {"mm": 0.0, "in": 0.0, "text": text}


def _advice(**parts: Any) -> dict[str, Any]:
    """An advice as answered, by hand, with the parts a table reads."""
    return {
        "mark": "D07",
        "verdict": "go_with_trim",
        "setting": {"foot": _length("1/8 in"), "method": "on_blocks", "governed_by": ["leg.a", "leg.b"]},
        "leaf": {"trim": _length("3/8 in"), "when": "before_hanging", "governed_by": ["leaf.c", "leg.b"]},
        "clearance": {"pull_side": {"nominal": _length("9/16 in")}, "push_side": {"nominal": _length("1 1/4 in")}},
        "air": {"flow_at_limit": {"text": "31.3 cfm"}, "supply_flow": {"text": "60.0 cfm"}},
        "transition": {"title": "End cap"},
        **parts,
    }


def _cell(column: str, **parts: Any) -> str:
    return row(_advice(**parts))[COLUMNS.index(column)]


def test_a_row_has_a_cell_for_each_column() -> None:
    assert row(_advice()) == (
        "D07",
        "go with trim",
        "1/8 in\non blocks",
        "3/8 in\nbefore hanging",
        "9/16 in / 1 1/4 in",
        "31.3 cfm of 60.0 cfm",
        "End cap",
        "leg.a\nleg.b\nleaf.c",
    )


@pytest.mark.parametrize(
    ("column", "parts", "shown"),
    [
        ("trim", {"leaf": {"trim": _length("0 in"), "when": "none", "governed_by": []}}, "-"),
        ("trim", {"leaf": {"when": "after_floor", "governed_by": []}}, "-\nafter floor"),
        ("gap pull / push", {"clearance": {"push_side": {"nominal": _length("7 mm")}}}, "- / 7 mm"),
        ("gap pull / push", {"clearance": {}}, "- / -"),
        ("air", {"air": {"flow_at_limit": {"text": "31.3 cfm"}}}, "31.3 cfm"),
        ("air", {"air": {}}, "-"),
    ],
)
def test_what_the_advice_leaves_out_is_a_dash(column: str, parts: dict[str, Any], shown: str) -> None:
    assert _cell(column, **parts) == shown


def test_without_a_joint_there_is_no_piece() -> None:
    advice = _advice()
    del advice["transition"]
    assert row(advice)[COLUMNS.index("transition")] == "-"


def test_without_a_governing_rule_the_cell_is_a_dash() -> None:
    bare = {"foot": _length("0 in"), "method": "on_subfloor", "governed_by": []}
    assert _cell("governed by", setting=bare, leaf={"when": "none", "governed_by": []}) == "-"
