"""Which piece joins two floors, and how high it stands."""

from __future__ import annotations

import pytest
from tests.openings import advised, door, floor, judged, ticks

TILE, CARPET = floor("ceramic_tile 1/2 in"), floor("carpet 1/2 in")


def test_a_piece_is_held_to_what_it_usually_stands_above_the_floor() -> None:
    # saddles stand 1/8 to 5/8 in above, mostly 1/4; 2010 ADA Standards 404.2.5 allow a new threshold 1/2 in
    found = judged(door(pull_side=TILE, push_side=TILE, transition={"piece": "saddle"}, duties=["accessible_route"]))
    threshold = found.check("us-ada-threshold")
    assert (threshold.actual, threshold.status) == (ticks("1/4 in"), "pass")
    assert found.check("us-ada-vertical-edge").actual == ticks("1/4 in")
    assert [found.check(rule).actual for rule in ("us-ada-bevel", "us-ada-ramp")] == [0, 0]  # upright, 1/4 in


@pytest.mark.parametrize(("pull", "push"), [(TILE, CARPET), (CARPET, TILE)])
def test_of_two_level_floors_either_may_count_as_the_higher(pull: dict[str, object], push: dict[str, object]) -> None:
    told = advised(door(pull_side=pull, push_side=push, frame={"undercut": "1 1/2 in"}))["transition"]
    assert (told["piece"], told["step"]["in"]) == ("tuck_edge_hard", 0)
