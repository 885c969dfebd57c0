"""Every rule is told of somewhere: an opening made from its own conditions is asked, warned or held by it."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest
from msgspec import UNSET
from tests.openings import Wire, advised, catalogue, door, floor

from jambset.rules.schema import FinishKind, Measured, Rule

FINISHES: dict[Any, Wire] = {
    UNSET: floor("solid_wood 3/4 in"),
    FinishKind.HARD: floor("solid_wood 3/4 in"),
    FinishKind.CARPET: floor("carpet_cushion 7/16 in", "carpet 1/2 in"),
    FinishKind.UNDECIDED: {},
}
HEATED = floor("heating_mat 3/16 in", "ceramic_tile 3/8 in")
UNDERCUTS = ("0 in", "2 in")
"""Of a leaf that has to be cut, and of one that hasn't."""
ROWS = [(place or "US", rule) for place, rules in catalogue().rules.items() for rule in rules]


def _given(**values: Any) -> Wire:
    return {name: value for name, value in values.items() if value is not None and value is not UNSET}


def _opening(place: str, rule: Rule, *, undercut: str, pull: FinishKind) -> Wire:
    when = rule.when
    flow = "60 cfm" if when.flow_at_least is UNSET else {"value": 1000 * float(when.flow_at_least), "unit": "L/s"}
    return door(
        jurisdiction=place,
        duties=[*when.duties, *when.any_duty[:1]],
        leaf=_given(core=next(iter(when.cores), None)),
        frame={"undercut": undercut},
        pull_side=_given(**FINISHES[pull], use=next(iter(when.uses), None)),
        push_side=HEATED if when.heated else FINISHES[when.finish],
        building=_given(
            use=next(iter(when.buildings), None),
            year_built=None if when.built_before is UNSET else when.built_before - 1,
            existing_threshold=when.existing_threshold,
        ),
        air=_given(supply_flow=flow, natural_draft_appliance=when.natural_draft),
    )


def _is_only_told(rule: Rule) -> bool:
    """Whether nobody can say what it is held against: a floor that isn't named, a grille that nobody describes."""
    grille = (Measured.GRILLE_AREA_PER_FLOW, Measured.GRILLE_UNDERCUT)
    return rule.when.finish is FinishKind.UNDECIDED or rule.measured in grille


def _told(answer: Any, *, unread: bool) -> set[str]:
    """Rules that an answer is held to, asks of or warns of. unread: those too that nothing is read for."""
    checks = {check["rule"] for check in answer["checks"] if unread or check["status"] != "not_checked"}
    return checks | {one["code"] for part in ("cautions", "questions") for one in answer[part]}


@pytest.mark.parametrize(("place", "rule"), ROWS, ids=[rule.id for _, rule in ROWS])
def test_a_rule_is_told_of_where_its_conditions_hold(place: str, rule: Rule) -> None:
    openings = (
        _opening(place, rule, undercut=undercut, pull=pull)
        for undercut, pull in product(UNDERCUTS, (FinishKind.HARD, FinishKind.CARPET))
    )
    unread = _is_only_told(rule)
    assert any(rule.id in _told(advised(opening), unread=unread) for opening in openings)
