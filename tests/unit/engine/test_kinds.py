"""Doors that rules hold for alike share what is worked out from the rules."""

from __future__ import annotations

from typing import Any

import pytest
from tests.openings import advised, catalogue, door, floor, read

from jambset.engine.assess import rules_for
from jambset.engine.facts import gather
from jambset.engine.kinds import called_for
from jambset.engine.lines import is_firm
from jambset.engine.regime import Regime, regime_of
from jambset.model.source import Force
from jambset.rules.schema import Measured

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


def test_small_children_are_looked_after_in_commercial_buildings_too() -> None:
    # the same: child-occupied facilities, which no use that a request names tells from other commercial ones
    assert "us-lead-paint" in called(building={"use": "commercial", "year_built": 1977})


SILL = "us-fire-covering-sill"
NO_FUEL = {"pull_side": floor("ceramic_tile 3/8 in"), "push_side": floor("stone_tile 1/2 in")}


@pytest.mark.parametrize("side", ["pull_side", "push_side"])
@pytest.mark.parametrize(
    ("finish", "asks"),
    [
        # NFPA 80 4.8.2 as quoted: a noncombustible floor runs through without a sill, a combustible one or covering not
        ("solid_wood 3/4 in", True),
        ("laminate 3/8 in", True),
        ("vinyl_plank 1/4 in", True),
        ("linoleum 1/8 in", True),
        ("carpet 1/2 in", True),
        ("gauged_porcelain 1/4 in", False),
        ("sealed_concrete 0 in", False),
    ],
)
def test_a_sill_is_asked_for_under_any_finish_that_burns(side: str, finish: str, *, asks: bool) -> None:
    rated = {"duties": ["fire_label"], "leaf": {"core": "solid", "fire_minutes": 60}}
    assert (SILL in called(**rated, **NO_FUEL | {side: floor(finish)})) is asks


@pytest.mark.parametrize(("minutes", "asks"), [(20, False), (30, False), (31, True), (45, True), (None, True)])
def test_a_sill_is_not_asked_for_where_the_opening_can_need_no_more_than_30_minutes(
    minutes: int | None, *, asks: bool
) -> None:
    # the same: exempt are openings that need 1/2 h or 1/3 h; none that needs more may have such a leaf
    leaf = {"core": "solid"} if minutes is None else {"core": "solid", "fire_minutes": minutes}
    assert (SILL in called(duties=["fire_label"], leaf=leaf)) is asks


@pytest.mark.parametrize(("minutes", "asks"), [(20, False), (30, False), (45, True), (90, True), (None, True)])
@pytest.mark.parametrize("finish", ["carpet 1/2 in", "vinyl_plank 1/4 in", "laminate 3/8 in"])
def test_the_flux_of_a_covering_that_burns_is_asked_for_under_the_doors_that_the_clause_names(
    finish: str, minutes: int | None, *, asks: bool
) -> None:
    # NFPA 80 4.8.5 as quoted: combustible floor coverings, no carpets alone; doors of 3/4, 1 and 1 1/2 h, none of 3 h
    leaf = {"core": "solid"} if minutes is None else {"core": "solid", "fire_minutes": minutes}
    laid = NO_FUEL | {"pull_side": floor(finish)}
    assert ("us-fire-covering-flux" in called(duties=["fire_label"], leaf=leaf, **laid)) is asks


def test_no_flux_is_asked_for_of_stone() -> None:
    # the same: what doesn't burn is no combustible covering
    assert "us-fire-covering-flux" not in called(duties=["fire_label"], leaf={"core": "solid"}, **NO_FUEL)


def test_no_sill_is_asked_for_under_a_floor_that_nobody_named() -> None:
    assert SILL not in called(duties=["fire_label"], pull_side={"build_up": None}, push_side=NO_FUEL["push_side"])


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


# --- the order in which rules move a setting


def test_air_moves_a_leaf_after_all_that_is_more_than_a_wish() -> None:
    """By a grille it may pass elsewhere, whatever the force of the rule that asks for it."""
    held = regime(
        duties=["transfer_air", "rated_home_programme"],
        air={"supply_flow": "60 cfm", "pressure_limit": "3 Pa"},
        project_rules={"hard_floor_clearance": "1/2 in"},
    )
    driving = [one.applied.rule for one in held.driving]
    air = [place for place, rule in enumerate(driving) if rule.measured is Measured.ROOM_PRESSURE]
    firm = [place for place, rule in enumerate(driving) if is_firm(rule) and place not in air]
    assert {driving[place].force for place in air} >= {Force.PROGRAMME, Force.PROJECT}
    assert min(air) > max(firm)


def test_what_a_project_asks_is_cited_as_its_own_and_as_checked_by_nobody() -> None:
    told = advised(door(HALL, project_rules={"hard_floor_clearance": "1/2 in"}))
    (own,) = (source for source in told["sources"] if source["rule"] == "project.hard_floor_clearance")
    assert (own["clause"], own["force"], own["verified"]) == (
        "#/project_rules/hard_floor_clearance",
        "project",
        "none",
    )
