"""Doors that rules hold for alike share what is worked out from the rules."""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import catalogue, door, floor, read

from jambset.engine.assess import rules_for
from jambset.engine.facts import gather
from jambset.engine.kinds import called_for
from jambset.engine.regime import Regime, regime_of

HALL = door(pull_side=floor("vinyl_plank 1/4 in"), push_side=floor("carpet_cushion 7/16 in", "carpet 1/2 in"))
AIR = {"duties": ["transfer_air"]}


def regime(**more: Any) -> Regime:
    opening = read(door(HALL, **more))
    return regime_of(gather(opening, catalogue()), rules_for(opening, catalogue()))


def called(**more: Any) -> set[str]:
    opening = read(door(HALL, **more))
    return {a.rule.id for a in called_for(gather(opening, catalogue()), rules_for(opening, catalogue()))}


@pytest.mark.parametrize("side", ["pull_side", "push_side"])
def test_a_room_calls_for_its_rules_on_either_side(side: str) -> None:
    # IMC 601.5 as quoted: no return air from a bath, wherever its door opens to
    rooms = {"pull_side": {"use": "hall"}, "push_side": {"use": "hall"}}
    assert "us-return-openings" not in called(**AIR, **rooms)
    assert "us-return-openings" in called(**AIR, **rooms | {side: {"use": "bath"}})


def test_an_appliance_that_draws_by_itself_calls_for_its_caution() -> None:
    assert "us-natural-draft" in called(**AIR, air={"natural_draft_appliance": True})
    assert "us-natural-draft" not in called(**AIR, air={"natural_draft_appliance": False})
    assert "us-natural-draft" not in called(**AIR)


def test_a_house_of_1978_was_not_built_before_1978() -> None:
    # 40 CFR 745: housing constructed prior to 1978
    assert "us-lead-paint" in called(building={"use": "detached_house", "year_built": 1977})
    assert "us-lead-paint" not in called(building={"use": "detached_house", "year_built": 1978})


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"building": {"use": "detached_house", "year_built": 1990}}, {"building": {"use": "detached_house"}}),
        ({"building": {"year_built": 1990}}, {"building": {"year_built": 2015}}),
        (AIR | {"air": {"supply_flow": "60 cfm"}}, AIR | {"air": {"supply_flow": "61 cfm"}}),
        ({"as_of": "2025-03-01"}, {"as_of": "2025-03-02"}),
        ({"leaf": {"width": "30 in"}}, {"leaf": {"width": "32 in"}}),
    ],
)
def test_doors_share_a_regime_where_the_same_rules_are_called_for(one: dict[str, Any], other: dict[str, Any]) -> None:
    assert regime(**one) is regime(**other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ({"building": {"year_built": 1970}}, {"building": {"year_built": 1990}}),  # 40 CFR 745: built before 1978
        (AIR, {}),
        ({"as_of": "2000-06-01", "duties": ["fire_label"]}, {"as_of": "2023-06-01", "duties": ["fire_label"]}),
        ({"pull_side": floor("ceramic_tile 3/8 in")}, {"pull_side": floor("carpet 1/2 in")}),
        ({"project_rules": {"hard_floor_clearance": "5/8 in"}}, {}),
    ],
)
def test_and_share_none_where_others_are(one: dict[str, Any], other: dict[str, Any]) -> None:
    assert regime(**one) is not regime(**other)
