"""How sure a floor is: likelihoods shared out by hand, the facts under one pair of floors, and what is refused."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import msgspec
import pytest
from tests.openings import Wire, catalogue, door, floor, layer, read, ticks

from jambset.engine.facts import Facts, gather, under
from jambset.errors import InvalidRequest
from jambset.http.decode import opening_reader
from jambset.model.advice import WHOLE
from jambset.rules.schema import FinishKind

PLANK, WOOD, TILE = floor("vinyl_plank 1/4 in"), floor("solid_wood 3/4 in"), floor("ceramic_tile 3/8 in")
CARPET = floor("carpet_cushion 7/16 in", "carpet 1/2 in")


def facts(side: Wire, other: Wire = PLANK) -> Facts:
    return gather(read(door(pull_side=side, push_side=other)), catalogue())


def likely(up: Wire, weight: float | None = None) -> Wire:
    return up if weight is None else {**up, "weight": weight}


def shares(side: Wire) -> list[int]:
    return [weight for _, weight in facts(side).pull.floors]


# --- likelihoods, worked out by hand


@pytest.mark.parametrize(
    ("side", "wanted"),
    [
        (PLANK, [1]),
        ({}, []),
        ({**PLANK, "could_become": [likely(WOOD, 0.2)]}, [0.8, 0.2]),
        ({**PLANK, "could_become": [likely(WOOD)]}, [0.5, 0.5]),
        # 0.7 is left for two: the build-up and the one without a weight
        ({**PLANK, "could_become": [likely(WOOD, 0.3), likely(TILE)]}, [0.35, 0.3, 0.35]),
        # a third each
        ({**PLANK, "could_become": [likely(WOOD), likely(TILE)]}, [Fraction(1, 3)] * 3),
        ({"could_become": [likely(WOOD, 0.3), likely(TILE, 0.7)]}, [0.3, 0.7]),
        ({"could_become": [likely(WOOD, 0.3), likely(TILE)]}, [0.3, 0.7]),
        ({"could_become": [likely(WOOD), likely(TILE, 0.4), likely(CARPET)]}, [0.3, 0.4, 0.3]),
        ({**PLANK, "could_become": [likely(WOOD, 1)]}, [1]),
        ({**PLANK, "could_become": [likely(WOOD, 0.5), likely(TILE, 0.5)]}, [0.5, 0.5]),
    ],
)
def test_what_the_weights_leave_is_shared(side: Wire, wanted: list[float]) -> None:
    assert shares(side) == [WHOLE * Fraction(str(share)) for share in wanted]
    assert sum(shares(side)) in (0, WHOLE)


def test_no_part_is_lost_of_what_cannot_be_shared_evenly() -> None:
    """A third to six places leaves 3,360,002 of 5,040,000 parts for three floors: the first takes two more."""
    others = [TILE, CARPET, floor(layer("cork 1/4 in"))]
    side = {"could_become": [likely(WOOD, 0.333333), *map(likely, others)]}
    assert shares(side) == [1_679_998, 1_120_002, 1_120_000, 1_120_000]


def test_what_cant_be_shared_evenly_goes_to_the_first_that_shares() -> None:
    # 0.1234567 of 5,040,000 are 622,222 parts; 4,417,778 are left for three, 1,472,592 each and 2 more
    side = {**PLANK, "could_become": [likely(WOOD, 0.1234567), likely(TILE), likely(CARPET)]}
    assert shares(side) == [1_472_594, 622_222, 1_472_592, 1_472_592]


def test_a_build_up_that_can_not_stay_is_no_floor() -> None:
    pull = facts({**PLANK, "could_become": [likely(WOOD, 0.5), likely(TILE, 0.5)]}).pull
    assert pull.floor is None
    assert [up.nominal for up, _ in pull.floors] == [ticks("3/4 in"), ticks("3/8 in")]
    assert pull.kind is FinishKind.UNDECIDED


@pytest.mark.parametrize("named", [PLANK, {}])
def test_a_floor_that_surely_comes_is_the_floor(named: Wire) -> None:
    pull = facts({**named, "could_become": [likely(CARPET, 1)]}).pull
    assert pull.floor is not None
    assert (pull.floor.nominal, pull.kind, pull.others) == (ticks("15/16 in"), FinishKind.CARPET, ())
    assert pull.confirmed
    assert pull.pointer == "#/pull_side/could_become/0/build_up"
    assert [one.material for one in pull.layers] == ["carpet_cushion", "carpet"]


def test_the_only_one_listed_is_the_floor_but_nobody_answers_for_it() -> None:
    only = facts({"could_become": [likely(CARPET)]})
    assert only.pull.floor is not None
    assert only.decided
    assert not only.pull.confirmed
    assert only.weighed


@pytest.mark.parametrize(
    ("side", "wanted"),
    [
        ({**PLANK, "could_become": [likely(WOOD, 0.2), likely(WOOD, 0.1)]}, [0.7, 0.3]),
        ({**PLANK, "could_become": [likely(WOOD, 0.2), likely(PLANK, 0.1)]}, [0.8, 0.2]),
        ({"could_become": [likely(WOOD, 0.2), likely(TILE, 0.3), likely(WOOD, 0.5)]}, [0.7, 0.3]),
        ({**PLANK, "could_become": [likely(PLANK, 0.4)]}, [1]),
    ],
)
def test_a_floor_listed_twice_is_one_floor(side: Wire, wanted: list[float]) -> None:
    assert shares(side) == [WHOLE * Fraction(str(share)) for share in wanted]


@pytest.mark.parametrize("side", [{**PLANK, "could_become": [PLANK]}, {"could_become": [PLANK, likely(PLANK, 0.9)]}])
def test_a_floor_listed_twice_and_no_other_is_the_floor_but_nobody_answers_for_it(side: Wire) -> None:
    pull = facts(side).pull
    assert pull.floor is not None
    assert (pull.others, pull.confirmed, pull.listed) == ((), False, True)
    assert not facts({"could_become": [PLANK]}).pull.listed


SURE: dict[str, tuple[Wire, bool, bool, bool]] = {
    "said nothing": (PLANK, True, True, False),
    "confirmed": ({**PLANK, "certainty": "confirmed"}, True, True, False),
    "assumed": ({**PLANK, "certainty": "assumed"}, True, False, True),
    "undecided although drawn": ({**PLANK, "certainty": "undecided"}, False, False, False),
    "nothing known": ({}, False, False, False),
    "may change": ({**PLANK, "could_become": [likely(WOOD)]}, True, False, True),
    "undecided, all listed": ({"could_become": [likely(WOOD, 0.5), likely(TILE)]}, False, False, True),
    "surely another": ({**PLANK, "could_become": [likely(WOOD, 1)]}, True, True, False),
    # the weights leave the build-up nothing, yet nobody says that either of the others is sure
    "surely one of two": ({**PLANK, "could_become": [likely(WOOD, 0.5), likely(TILE, 0.5)]}, False, False, True),
}


@pytest.mark.parametrize("name", SURE)
def test_how_sure_a_floor_is(name: str) -> None:
    side, decided, certain, weighed = SURE[name]
    told = facts(side)
    assert (told.decided, told.certain, told.weighed) == (decided, certain, weighed)


def test_one_side_of_which_nothing_is_known_leaves_nothing_to_weigh() -> None:
    assert not facts({}, {**PLANK, "could_become": [likely(WOOD)]}).weighed


# --- one pair of floors, were it certain


def test_under_one_pair_of_floors_nothing_else_is_known() -> None:
    told = facts({**CARPET, "could_become": [likely(WOOD, 0.4)], "rug": "1/4 in"})
    wood = told.pull.others[0][0]
    sure = under(told, wood, told.push.floor)
    assert (sure.pull.floor, sure.pull.others, sure.certain) == (wood, (), True)
    assert sure.pull.rug == ticks("1/4 in")
    assert [over.side for over in sure.passes(FinishKind.HARD)] == ["pull_side", "push_side"]
    assert sure.passes(FinishKind.CARPET) == []
    assert [over.floor for over in told.passes(FinishKind.CARPET)] == [told.pull.floor]


def test_under_a_floor_that_is_not_known_the_other_one_is_passed_alone() -> None:
    told = under(facts(CARPET), None, facts(CARPET).push.floor)
    assert not told.decided
    assert [over.side for over in told.passes(FinishKind.HARD)] == ["push_side"]
    assert told.passes(FinishKind.UNDECIDED) == []


# --- what is refused


FAULTS: dict[str, tuple[Wire, str, str, str]] = {
    "above 1": (
        {**PLANK, "could_become": [likely(WOOD, 0.7), likely(TILE, 0.4)]},
        "could_become",
        "weights",
        "The sum of the weights is above 1; ",
    ),
    "nothing left to share": (
        {**PLANK, "could_become": [likely(WOOD, 1), likely(TILE)]},
        "could_become",
        "weights",
        "The sum of the weights leaves nothing for those without one; ",
    ),
    "surely coming and assumed": (
        {**PLANK, "certainty": "assumed", "could_become": [likely(WOOD, 1)]},
        "certainty",
        "contradiction",
        "A floor of weight 1 is certain: ",
    ),
    "short of 1 without a build-up": (
        {"could_become": [likely(WOOD, 0.5), likely(TILE, 0.3)]},
        "could_become",
        "weights",
        "must sum to 1",
    ),
    "confirmed and may change": (
        {**PLANK, "certainty": "confirmed", "could_become": [likely(WOOD)]},
        "certainty",
        "contradiction",
        "can't become another",
    ),
    "confirmed without a build-up": ({"certainty": "confirmed"}, "certainty", "contradiction", "no build_up"),
    "assumed without a build-up": (
        {"certainty": "assumed", "could_become": [likely(WOOD)]},
        "certainty",
        "contradiction",
        "no build_up",
    ),
}
SIDES = ("pull_side", "push_side")


def request(name: str, side: str) -> Wire:
    other = next(one for one in SIDES if one != side)
    return door(**{side: FAULTS[name][0], other: WOOD})


def told_of(refused: InvalidRequest) -> list[tuple[str, str]]:
    return [(error.pointer, error.code) for error in refused.errors]


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("name", FAULTS)
def test_floors_that_contradict_themselves_are_refused(name: str, side: str) -> None:
    _, member, code, says = FAULTS[name]
    with pytest.raises(InvalidRequest) as refused:
        gather(read(request(name, side)), catalogue())
    assert told_of(refused.value) == [(f"#/{side}/{member}", code)]
    assert says in refused.value.errors[0].detail
    assert re.fullmatch(r"[A-Z][^X]*\.", refused.value.errors[0].detail)


@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("name", FAULTS)
def test_a_body_refused_for_something_else_is_told_so_too(name: str, side: str) -> None:
    _, member, code, says = FAULTS[name]
    body = {**request(name, side), "leaf": {**request(name, side)["leaf"], "colour": "white"}}
    with pytest.raises(InvalidRequest) as refused:
        opening_reader(catalogue()).read(msgspec.json.encode(body))
    assert sorted(told_of(refused.value)) == sorted([(f"#/{side}/{member}", code), ("#/leaf/colour", "unknown_field")])
    assert any(says in error.detail for error in refused.value.errors)


@pytest.mark.parametrize("weight", [0, -0.5, 1.5, "0.5"])
def test_a_weight_that_is_none_hides_what_it_has_part_in_alone(weight: Any) -> None:
    side = {"certainty": "confirmed", "could_become": [{**WOOD, "weight": weight}, likely(TILE, 0.9)]}
    with pytest.raises(InvalidRequest) as refused:
        opening_reader(catalogue()).read(msgspec.json.encode(door(pull_side=side, push_side=PLANK)))
    pointers = {error.pointer for error in refused.value.errors}
    assert pointers == {"#/pull_side/could_become/0/weight", "#/pull_side/certainty"}


@pytest.mark.parametrize(
    "side",
    [
        {**PLANK, "could_become": [likely(WOOD, 0.6), likely(TILE, 0.4)]},
        {"could_become": [likely(WOOD, 0.6), likely(TILE, 0.4)]},
        {"could_become": [likely(WOOD, 1)]},
        {**PLANK, "certainty": "assumed", "could_become": [likely(WOOD)]},
        {"certainty": "undecided"},
        # a sum of binary fractions that misses 1 by a hair
        {"could_become": [likely(floor(layer("cork 1/4 in")), weight) for weight in (0.1, 0.1, 0.1, 0.7)]},
    ],
)
def test_weights_that_can_be_shared_out_are_taken(side: Wire) -> None:
    assert sum(shares(side)) in {0, WHOLE}
