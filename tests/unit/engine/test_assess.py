"""The same opening has one digest, however it is written."""

from __future__ import annotations

import pytest
from msgspec import UNSET
from msgspec.structs import replace
from tests.openings import Wire, advised, assessed, catalogue, door, floor, read

from jambset.engine.assess import assess
from jambset.rules.bounded import BOUNDED
from jambset.rules.schema import Measured, When

OAK = floor("solid_wood 3/4 in")
PLAIN = door(pull_side=OAK, push_side=OAK, duties=["transfer_air", "egress_door"], grid="1/16 in")


def test_units_and_the_order_of_duties_are_no_part_of_the_question() -> None:
    other = door(PLAIN, duties=["egress_door", "transfer_air"], leaf={"height": {"value": 2032, "unit": "mm"}})
    assert assessed(other).input_digest == assessed(PLAIN).input_digest
    assert assessed(other).advice_id == assessed(PLAIN).advice_id


def test_another_question_has_another_digest() -> None:
    digests = {
        assessed(door(PLAIN, **more)).input_digest for more in ({}, {"mark": "D02"}, {"duties": ["transfer_air"]})
    }
    assert len(digests) == 3


def test_an_answer_has_the_callers_own_id() -> None:
    assert assessed(door(PLAIN, external_id="a-7")).external_id == "a-7"
    assert assessed(PLAIN).external_id is UNSET


def test_an_answer_says_which_day_it_was_held_to() -> None:
    assert assessed(door(PLAIN, as_of="2023-06-01")).as_of == "2023-06-01"
    assert assessed(PLAIN).as_of is UNSET


@pytest.mark.parametrize("low", ["hinge_leg", "strike_leg"])
def test_a_unit_with_one_leg_on_a_block_stands_on_blocks(low: str) -> None:
    # plank 1/4 in and 5/8 in over it are the undercut of 7/8 in: the higher leg stands on its subfloor
    level = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "0 in"} | {low: "-1/4 in"}
    plank = floor("vinyl_plank 1/4 in")
    setting = advised(door(pull_side=plank, push_side=plank, subfloor=level, frame={"undercut": "7/8 in"}))["setting"]
    assert (setting["foot"]["in"], setting["method"]) == (0, "on_blocks")
    blocks = {leg: setting[leg]["block"]["in"] for leg in ("hinge_leg", "strike_leg")}
    assert blocks == {"hinge_leg": 0, "strike_leg": 0} | {low: 0.25}


@pytest.mark.parametrize(
    "stated",
    [
        {"air": {}},
        {"labour": {}, "building": {}, "project_rules": {}, "transition": {}},
        {"leaf": {"count": 1, "opening_angle": 90, "hinges": "butt"}},
        {"frame": {"state": "on_site"}},
        {"air": {"flow_basis": "actual"}, "building": {"existing_threshold": False}},
    ],
)
def test_a_default_is_the_same_stated_or_left_out(stated: Wire) -> None:
    assert assessed(door(PLAIN, **stated)).input_digest == assessed(PLAIN).input_digest


CRACK: Wire = {"kind": "crack", "leakage_area": {"value": 0.0025, "unit": "m2"}}
DUCT: Wire = {"kind": "duct", "diameter": "6 in", "length": "8 ft", "grille_free_area": {"value": 0.02, "unit": "m2"}}


@pytest.mark.parametrize(
    ("path", "field", "default"), [(CRACK, "exponent", 0.65), (DUCT, "bend_loss", 0.5)], ids=["exponent", "bend_loss"]
)
def test_a_number_that_begins_like_a_default_is_none(path: Wire, field: str, default: float) -> None:
    """Left out up to its last digit, it would make another number of the one before it."""
    area = next(name for name in path if "area" in name)
    longer = {"value": float(f"{path[area]['value']}5"), "unit": "m2"}
    paths = [path, {**path, field: default}, {**path, field: float(f"{default}5")}, {**path, area: longer}]
    left_out, stated, *others = [assessed(door(PLAIN, air={"other_paths": [one]})).input_digest for one in paths]
    assert left_out == stated
    assert len({stated, *others}) == 3


@pytest.mark.parametrize("side", ["pull_side", "push_side"])
def test_how_sure_a_floor_is_is_the_same_said_or_left_out(side: str) -> None:
    """By default a floor is confirmed, or assumed where it could become another."""
    sure = door(PLAIN, pull_side=OAK, push_side=OAK)
    open_ = door(sure, **{side: {**OAK, "could_become": [floor("vinyl_plank 1/4 in")]}})
    for base, default, other in ((sure, "confirmed", "assumed"), (open_, "assumed", None)):
        said = {name: door(base, **{side: {**base[side], "certainty": name}}) for name in (default, other) if name}
        assert assessed(said.pop(default)) == assessed(base)
        assert all(assessed(one).input_digest != assessed(base).input_digest for one in said.values())


def test_what_reads_like_a_default_in_a_text_is_none() -> None:
    marks = ['D","air":{}', "D"]
    assert len({assessed(door(PLAIN, mark=mark)).input_digest for mark in marks}) == 2


ALL_KNOWN = door(
    pull_side=floor("carpet_cushion 7/16 in", "carpet 1/2 in"),
    push_side=OAK,
    air={"supply_flow": "60 cfm"},
)
TOLD_OF_A_GRILLE = {Measured.GRILLE_AREA_PER_FLOW, Measured.GRILLE_UNDERCUT}
"""What a prescribed grille has to be is told and not checked, since nobody says what is fitted."""


@pytest.mark.parametrize("measured", [one for one in BOUNDED if one not in TOLD_OF_A_GRILLE])
def test_what_rules_may_bound_is_read_where_all_is_known(measured: Measured) -> None:
    field, relations, least, _ = BOUNDED[measured]
    like = next(rule for rows in catalogue().rules.values() for rule in rows if rule.measured is measured)
    value = type(getattr(like, field))(least)
    rule = replace(like, id="one-more", relation=relations[0], when=When(), project_key=UNSET, **{field: value})
    more = replace(catalogue(), rules={**catalogue().rules, "US": (*catalogue().rules["US"], rule)})
    statuses = {check.status for check in assess(read(ALL_KNOWN), more).checks if check.rule == "one-more"}
    assert statuses
    assert "not_checked" not in statuses
