"""Limits of what one row may say: what equals a limit is within it, as the refusal words it."""

from __future__ import annotations

from typing import Any

import pytest
from msgspec.structs import replace
from tests.openings import catalogue

from jambset.model.request import Core, Duty
from jambset.quantity.ticks import INCH
from jambset.rules.faults import fault_of
from jambset.rules.schema import Row, Rule, When

TILE = catalogue().materials["ceramic_tile"]
PIECE = catalogue().pieces[0]
CORE = catalogue().cores[Core.SOLID]
LIFT = catalogue().lifts[0]


def rule_when(**when: Any) -> Rule:
    """A rule that holds everywhere but for these conditions."""
    (rule,) = (rule for rule in catalogue().rules[""] if rule.id == "leaf.hard.accepted")
    return replace(rule, when=When(**when))


@pytest.mark.parametrize(
    ("row", "changes", "wrong"),
    [
        # a published tolerance: above 0, at most 1/8 in
        (TILE, {"tolerance": INCH // 8}, ""),
        (TILE, {"tolerance": INCH // 8 + 1}, "tolerance"),
        (TILE, {"tolerance": 0}, "tolerance"),
        # a felt laid beneath is a textile and no carpet; what is no carpet and on top isn't
        (TILE, {"finish": "none", "body": "textile"}, ""),
        (TILE, {"body": "textile"}, "carpet"),
        # a piece as high as 1 in; one built on site from its least step on
        (PIECE, {"rise_greatest": INCH}, ""),
        (PIECE, {"rise_greatest": INCH + 1}, "at most 1 in"),
        (PIECE, {"step_least": 0, "step_greatest": INCH, "built_above": 0}, ""),
        (PIECE, {"step_least": 0, "step_greatest": INCH, "built_above": INCH}, "built_above"),
        # densities that rise or are alike, of a leaf from 100 to 2000 kg/m3
        (CORE, {"density_least": 100, "density": 100, "density_greatest": 100}, ""),
        (CORE, {"density_least": 2000, "density": 2000, "density_greatest": 2000}, ""),
        (CORE, {"density_least": 99, "density": 100, "density_greatest": 100}, "plausible"),
        (CORE, {"density_least": 2000, "density": 2000, "density_greatest": 2001}, "plausible"),
        (CORE, {"density_least": 401, "density": 400, "density_greatest": 500}, "must rise"),
        (CORE, {"density_least": 300, "density": 400, "density_greatest": 399}, "must rise"),
        # what one person lifts, 10 to 50 kg
        (LIFT, {"one_person_kg": 10}, ""),
        (LIFT, {"one_person_kg": 50}, ""),
        (LIFT, {"one_person_kg": 9.9}, "plausible"),
        (LIFT, {"one_person_kg": 50.1}, "plausible"),
    ],
)
def test_a_row_is_held_to_what_is_plausible(row: Row, changes: dict[str, Any], wrong: str) -> None:
    fault = fault_of(replace(row, **changes))
    if wrong:
        assert wrong in (fault or "")
    else:
        assert fault is None


def test_conditions_that_no_leaf_meets_are_refused() -> None:
    """Between more than 30 and fewer than 32 minutes lies a rating of 31; between 30 and 31 none."""
    assert fault_of(rule_when(fire_minutes_above=30, fire_minutes_below=32)) is None
    assert "no rating" in (fault_of(rule_when(fire_minutes_above=30, fire_minutes_below=31)) or "")


def test_duties_that_are_needed_and_excluded_are_listed() -> None:
    both = (Duty.FIRE_LABEL, Duty.SMOKE_CONTROL)
    assert (fault_of(rule_when(duties=both, without=both)) or "").endswith("fire_label, smoke_control")


def test_the_rows_that_are_changed_here_are_whole() -> None:
    assert [fault_of(row) for row in (TILE, PIECE, CORE, LIFT, rule_when())] == [None] * 5
