"""Every layer, piece, leaf and default against what its source says; figures of the catalogue are never read back."""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import msgspec
import pytest
from msgspec import UNSET, UnsetType

from jambset.model.source import Verified
from jambset.quantity.parse import read_quantity
from jambset.quantity.ticks import Length
from jambset.rules.load import load_catalogue

CATALOGUE = load_catalogue()


class Layer(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    id: str
    source: str
    document: str
    seen: Verified
    thick: tuple[str, str, str]
    finish: str = "none"
    tolerance: str = ""
    floats: bool = False
    heated: bool = False


def _table(name: str) -> Any:
    return tomllib.loads((Path(__file__).parent / f"{name}.toml").read_text("utf-8"))


LAYERS = msgspec.convert(_table("layers")["layer"], list[Layer])
each_layer = pytest.mark.parametrize("layer", LAYERS, ids=[layer.id for layer in LAYERS])


def _length(text: str) -> int:
    """A length, or the middle of a span of two."""
    ends = [read_quantity(Length, end) for end in text.split(" to ")]
    return sum(ends) // len(ends)


# --- layers


def test_every_layer_has_one_vector_and_every_vector_a_layer() -> None:
    assert Counter(layer.id for layer in LAYERS) == Counter(CATALOGUE.materials.keys())


@each_layer
def test_a_layer_is_as_thick_as_its_source_says(layer: Layer) -> None:
    row = CATALOGUE.materials[layer.id]
    assert [row.least, row.nominal, row.greatest] == [_length(text) for text in layer.thick]
    assert row.tolerance == (_length(layer.tolerance) if layer.tolerance else UNSET)


@each_layer
def test_a_layer_is_what_its_name_says_and_cites_what_was_seen(layer: Layer) -> None:
    row = CATALOGUE.materials[layer.id]
    assert (row.finish, row.document, row.verified) == (layer.finish, layer.document, layer.seen)
    assert (row.floats, row.heated) == (layer.floats, layer.heated)


# --- transition pieces


class Joint(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    id: str
    source: str
    joins: tuple[str, str]
    step: tuple[str, str]
    rise: tuple[str, str, str]
    floating: bool | UnsetType = UNSET
    same: bool | UnsetType = UNSET
    route: bool = False
    first: bool = False
    built: str = ""


JOINTS = msgspec.convert(_table("pieces")["piece"], list[Joint])
ROWS = {piece.id: piece for piece in CATALOGUE.pieces}
each_joint = pytest.mark.parametrize("joint", JOINTS, ids=[joint.id for joint in JOINTS])


def test_every_piece_has_one_vector_and_every_vector_a_piece() -> None:
    assert Counter(joint.id for joint in JOINTS) == Counter(ROWS.keys())


@each_joint
def test_a_piece_is_as_high_and_spans_what_trades_say(joint: Joint) -> None:
    row = ROWS[joint.id]
    assert [row.step_least, row.step_greatest] == [_length(text) for text in joint.step]
    assert [row.rise_least, row.rise, row.rise_greatest] == [_length(text) for text in joint.rise]


@each_joint
def test_a_piece_lies_where_its_kind_is_used(joint: Joint) -> None:
    row = ROWS[joint.id]
    assert ((row.higher, row.lower), row.floating, row.same) == (joint.joins, joint.floating, joint.same)
    assert (row.accessible, row.before_carpet) == (joint.route, joint.first)
    assert row.built_above == (_length(joint.built) if joint.built else UNSET)
    assert (row.document, row.verified) == ("common-practice", Verified.NONE)


# --- leaves


def _sheet(*layers: tuple[float, float], edges: float = 0) -> float:
    """Density of layers of so many millimetres and kg/m³, and edges of so many kg to the square metre."""
    return (sum(mm * density for mm, density in layers) + 1000 * edges) / sum(mm for mm, _ in layers)


def _framed(width_in: float, *, skin: tuple[float, float], frame: tuple[float, float], blocks_kg: float) -> float:
    """Density of two skins and a wood frame round nothing, 80 in high and 1 3/8 in thick."""
    width, height, thick = (inches * 0.0254 for inches in (width_in, 80, 1.375))
    (skin_mm, skin_density), (frame_mm, frame_density) = skin, frame
    stile = frame_mm / 1000
    wood = (2 * (width + height) - 4 * stile) * stile * (thick - skin_mm / 500)
    mass = skin_mm / 500 * width * height * skin_density + wood * frame_density + blocks_kg
    return mass / (width * height * thick)


LB_FT3 = 0.45359237 / 0.3048**3
THIN, THICK = 1.375 * 25.4, 1.75 * 25.4
LEAVES = {
    "hollow": (  # hardboard from 900 kg/m3 on: panel guide, annex 2F; frame and skins assumed
        _framed(30, skin=(2.5, 600), frame=(28, 430), blocks_kg=1),
        _framed(30, skin=(3, 950), frame=(28, 430), blocks_kg=1),
        _framed(24, skin=(3.6, 1000), frame=(35, 650), blocks_kg=1.6),
    ),
    "solid": (  # ANSI A208.1, remembered: door cores of 28 and 32 lb/ft3; medium density from 640 kg/m3 on
        _sheet((6, 900), (THICK - 6, 28 * LB_FT3)),
        _sheet((6, 950), (THIN - 6, 30 * LB_FT3)),
        _sheet((6, 1000), (THIN - 6, 640)),
    ),
    "stile_and_rail": (0.85 * 400, 0.85 * 500, 750),  # USFS Bulletin 10: white pine, medium woods; oak 700 to 800
    "mdf": (0.9 * 673, 0.9 * 769, 833),  # Forest Products Laboratory: low, medium and high density; 90 % left
    "steel": (  # 7850 kg/m3, remembered from EN 1991-1-1; foam 35
        _sheet((0.9, 7850), (THICK - 0.9, 35), edges=2),
        _sheet((1.2, 7850), (THICK - 1.2, 35), edges=4),
        _sheet((2.4, 7850), (THICK - 2.4, 35), edges=8),
    ),
    "fibreglass": (  # common practice, no source: skins of 1800, foam of 35 kg/m3
        _sheet((3, 1800), (THICK - 3, 35), edges=2),
        _sheet((3.6, 1800), (THICK - 3.6, 35), edges=4),
        _sheet((5, 1800), (THICK - 5, 35), edges=7),
    ),
}
SEEN = {
    "hollow": ("panel-guide", Verified.READ),
    "solid": ("ansi-a208-1", Verified.MEMORY),
    "stile_and_rail": ("usfs-bulletin-10", Verified.QUOTED),
    "mdf": ("fpl-mdf-density", Verified.READ),
    "steel": ("en-1991-1-1", Verified.MEMORY),
    "fibreglass": ("common-practice", Verified.NONE),
}
"""Where the density that each leaf starts from was found."""


@pytest.mark.parametrize("core", LEAVES)
def test_a_leaf_is_as_dense_as_what_it_is_made_of(core: str) -> None:
    row = CATALOGUE.cores[core]
    densities = (row.density_least, row.density, row.density_greatest)
    assert densities == pytest.approx(LEAVES[core], rel=0.03)
    assert [density % 10 for density in densities] == [0, 0, 0]  # what was assumed carries no finer one
    assert (row.document, row.verified) == SEEN[core]


@pytest.mark.parametrize(
    ("lift", "places", "kg", "document", "seen"),
    [
        ("lift.common", ("",), 23, "niosh-94-110", "quoted"),  # load constant, 51 lb
        ("lift.us", ("US",), 50 * 0.45359237, "osha-heavy-lifting", "read"),  # about 50 lb
        ("lift.gb-eng", ("GB-ENG",), 25, "hse-indg143", "quoted"),  # the filter's figure for men, at the waist
    ],
)
def test_a_lift_is_what_its_guidance_says(
    lift: str, places: tuple[str, ...], kg: float, document: str, seen: str
) -> None:
    row = next(row for row in CATALOGUE.lifts if row.id == lift)
    assert (row.jurisdictions, row.document, row.verified) == (places, document, seen)
    assert row.one_person_kg == pytest.approx(kg, abs=5e-3)
    assert row.two_person_height == _length("96 in")  # common practice, no source: an 8 ft leaf takes two


# --- what is assumed where the caller says nothing


@pytest.mark.parametrize(
    ("name", "stated"),
    [
        ("head_gap", "1/8 in"),  # trade, and NFPA 80 as quoted for wood doors: 1/8 in at head and jambs
        ("head_thickness", "11/16 in"),  # jambs are 11/16 or 3/4 in: common practice, no source
        ("leg_thickness", "11/16 in"),  # the same stock
        ("stop_thickness", "7/16 in"),  # common practice, no source: stops of 7/16 in
        ("side_gaps", "3/16 in"),  # a method article: jambs stand 3/16 in wider than the leaf; hinge 1/16, strike 1/8
        ("meeting_gap", "1/8 in"),  # NFPA 80 as quoted for meeting edges of wood doors: at most 1/8 in
        ("side_shims", "1/4 in"),  # common practice, no source: 1/8 in behind either leg
        ("carpet_backing", "1/16 in to 1/8 in"),  # backings add 1/16 to 1/8 in to the pile on a label
        ("saw_allowance", "1/16 in"),  # a saw flat on a scrap of the floor cuts about 1/16 in above it
        ("base_over_carpet", "3/8 in"),  # the spacer is flat base stock, 3/8 in; pages say 1/4 to 1/2
        ("plunge_beyond", "1/8 in"),  # common practice, no source
        ("room_to_cut", "1/2 in"),  # common practice, no source
        ("survey_reach", "6 in"),  # common practice, no source
        ("tape_slack", "1/16 in"),  # one line of a tape: common practice, no source
        ("seal_reach", "5/8 in"),  # common practice, no source
    ],
)
def test_a_length_that_is_assumed_is_what_a_crew_would_take(name: str, stated: str) -> None:
    assert getattr(CATALOGUE.defaults, name) == _length(stated)


def test_air_is_taken_at_room_temperature_through_a_published_orifice() -> None:
    """1.07 cfm/in2 at 1 Pa is 0.607 at 20 °C (1.2041 kg/m3); 0.785 is where a thick gap tends, from memory."""
    held = CATALOGUE.defaults
    assert (held.temperature_c, held.discharge_coefficient, held.discharge_coefficient_high) == (20, 0.607, 0.785)
