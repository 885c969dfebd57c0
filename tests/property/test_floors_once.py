"""What is found once for the same floors on a level subfloor is what would be found for each opening anew."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from tests.openings import Wire, catalogue, door, floor, read
from tests.strategies import openings

from jambset.engine.assess import prepare
from jambset.engine.bounds import STANDING, draw, drawn_from, over_floors, over_level
from jambset.engine.decide import decide
from jambset.engine.scenarios import situation
from jambset.engine.settle import TOP, on_tape, settle_order
from jambset.quantity.ticks import INCH

pytestmark = pytest.mark.covers

UNITS: list[dict[str, Any]] = [
    {},
    {"header": None},
    {"as_set": 0},
    {"leaf_and_gap": 90 * INCH, "above_leaf": 91 * INCH},
    {"undercut": INCH // 4},
]
"""What may differ between units over the same floors."""
UNEVEN: Wire = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/8 in"}


@settings(max_examples=60)
@given(openings(decided=True), st.permutations(UNITS))
def test_a_unit_to_order_follows_from_all_its_bounds_whatever_stood_over_its_floors_before(
    opening: Wire, units: list[dict[str, Any]]
) -> None:
    prepared = prepare(read(opening), catalogue())
    for unit in units:
        at = situation(replace(prepared.facts, **unit), prepared.selection, catalogue())
        bounds = [
            bound
            for bound in draw(at, last_choice=False)
            if (bound.on != TOP or bound.lower) and bound.rule not in STANDING
        ]
        order, _ = on_tape(settle_order, bounds, undercut=0, grid=at.facts.grid)
        found = decide(at, prepared.work)
        assert (found.to_order, found.order_foot) == (order.bottom - order.foot, order.foot)
        assert found.order_lost == {given.bound.rule for given in order.gave_way}


@settings(max_examples=60)
@given(openings())
def test_bounds_over_floors_are_kept_as_they_are_drawn(opening: Wire) -> None:
    prepared = prepare(read(opening), catalogue())
    at = situation(prepared.facts, prepared.selection, catalogue())
    assert over_level(*drawn_from(at)) == over_floors(*drawn_from(at))


@pytest.mark.parametrize(("subfloor", "kept"), [({"kind": "level"}, True), (None, True), (UNEVEN, False)])
def test_only_over_a_level_subfloor_is_anything_kept(subfloor: Wire | None, kept: bool) -> None:
    asked = door(subfloor=subfloor, pull_side=floor("vinyl_plank 17/64 in"), push_side=floor("laminate 23/64 in"))
    prepared = prepare(read(asked), catalogue())
    at = situation(prepared.facts, prepared.selection, catalogue())
    over_level.cache_clear()
    draw(at, last_choice=False)
    assert over_level.cache_info().currsize == kept
