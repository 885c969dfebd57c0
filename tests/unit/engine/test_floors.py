"""Build-ups as floors, where they lie otherwise than is typical, and what a carpet's hold is known by."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from tests.openings import catalogue, ticks

from jambset.engine.contradictions import grille_faults
from jambset.engine.floors import Bed, Floor, doubt, floor_of, is_loose, lying, raised
from jambset.model.request import Layer
from jambset.quantity.parse import dec_hook
from jambset.quantity.ticks import Area, Length


def layers(*named: str, **last: Any) -> tuple[Layer, ...]:
    """Layers of typical thickness. last: what else is stated of the one on top."""
    raw = [{"material": name} for name in named]
    raw[-1] |= last
    return msgspec.convert(raw, tuple[Layer, ...], dec_hook=dec_hook)


def made(*named: str) -> Floor:
    return floor_of(layers(*named), catalogue())


@pytest.mark.parametrize(
    ("under", "off", "bed"),
    [
        # plywood 1/4 to 3/8 in under cushion and carpet: 5/16 in more in all, 1/8 of them the plywood's
        ("plywood_underlay", "5/32 in", "5/16 in"),
        ("plywood_underlay", "5/16 in", "3/8 in"),
        ("plywood_underlay", "0 in", "1/4 in"),
        ("plywood_underlay", "-3/16 in", "1/4 in"),  # which is its least too
        # a levelling layer 0 to 1/4 in below what is typical: 7/16 in less in all, 1/4 of them its own
        ("self_levelling", "-7/32 in", "1/8 in"),
        ("self_levelling", "-7/16 in", "0 in"),
    ],
)
def test_what_lies_under_a_carpet_has_its_share_of_how_high_it_lies(under: str, off: str, bed: str) -> None:
    """By the ranges of GET /v1/finishes; a share in proportion is our judgement."""
    floor = made(under, "carpet_cushion", "carpet")
    top = floor.nominal + (-ticks(off[1:]) if off.startswith("-") else ticks(off))
    lain = lying(floor, top)
    assert (lain.least, lain.nominal, lain.greatest) == (top, top, top)
    assert lain.bed == Bed(*[ticks(bed)] * 3)


def test_a_hard_floor_has_no_bed_wherever_it_lies_or_on_whatever() -> None:
    tile = made("thin_bed_mortar", "ceramic_tile")
    assert lying(tile, tile.greatest).bed == raised(tile, ticks("1/4 in")).bed == tile.bed == Bed()


def test_a_carpet_on_one_more_layer_has_it_in_its_bed() -> None:
    carpet = made("carpet_cushion", "carpet")
    assert raised(carpet, ticks("1/4 in")).bed == Bed(*[ticks("1/4 in")] * 3)


@pytest.mark.parametrize(
    ("build_up", "loose"),
    [
        (layers("carpet"), True),
        (layers("plywood_underlay", "carpet"), True),
        (layers("carpet_cushion", "carpet"), False),
        (layers("plywood_underlay", "carpet_cushion", "carpet"), False),
        (layers("carpet", fixing="glued"), False),
        (layers("carpet_cushion", "laminate"), False),
        (layers("laminate"), False),
    ],
)
def test_how_a_carpet_is_held_is_known_by_its_cushion_or_said(build_up: tuple[Layer, ...], loose: bool) -> None:
    """Without a cushion it is mostly glued down (common practice, no source)."""
    assert is_loose(build_up, catalogue()) is loose


def test_typical_thicknesses_may_be_off_by_all_their_layers_together() -> None:
    """3/32 in of thinset and 1/8 in of tile, as GET /v1/finishes has them; nothing of what is stated."""
    assert doubt(layers("thin_bed_mortar", "ceramic_tile"), catalogue()) == ticks("3/32 in") + ticks("1/8 in")
    assert doubt(layers("thin_bed_mortar", "ceramic_tile", thickness="3/8 in"), catalogue()) == ticks("3/32 in")
    assert doubt((), catalogue()) == 0


def test_a_grille_freer_than_its_face_is_told_what_to_check() -> None:
    """12 in by 12 in is 0.0929 m²."""
    foot = Length(ticks("12 in"))
    (fault,) = grille_faults("#/p", width=foot, height=foot, free_area=Area(0.26))
    assert (fault.pointer, fault.code) == ("#/p/free_area", "contradiction")
    assert fault.detail == "This grille's free area is larger than its face. Check the area's unit, and both sides."
    assert not [*grille_faults("#/p", width=foot, height=foot, free_area=Area(0.09))]
