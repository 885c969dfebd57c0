"""The shipped rows: honest about their sources, plausible, ordered among their neighbours, total where they must be."""

from __future__ import annotations

import datetime
import itertools
import re
from math import sqrt
from typing import Any

import msgspec
import pytest

from jambset.engine.checks import MOVES_AIR
from jambset.engine.floors import Bed, Floor
from jambset.engine.transition import fits, joins_kinds
from jambset.model.request import Duty, Labour, ProjectRules
from jambset.model.source import Force, Verified
from jambset.quantity.text import CFM, IN2
from jambset.quantity.ticks import INCH, MM, Area, Flow, Length, Pressure
from jambset.rules.load import DATA, load_catalogue
from jambset.rules.schema import FinishKind, Material, Measured, Piece, Relation, Rule
from jambset.rules.select import limit_of, select

CATALOGUE = load_catalogue()
RULES = {rule.id: rule for rows in CATALOGUE.rules.values() for rule in rows}
MATERIALS, PIECES, DEFAULTS = CATALOGUE.materials, CATALOGUE.pieces, CATALOGUE.defaults
HARD, CARPET = FinishKind.HARD, FinishKind.CARPET
KINDS_OF_FORCE = {
    Force.LAW: {"law"},
    Force.STANDARD: {"standard", "code", "guidance"},
    Force.PROGRAMME: {"programme"},
    Force.PRACTICE: {"practice", "guidance", "handbook"},
    Force.PREFERENCE: {"practice"},
}
FIRST_CHECKED = datetime.date(2026, 11, 25)
each_rule = pytest.mark.parametrize("rule", RULES.values(), ids=list(RULES))
each_material = pytest.mark.parametrize("material", MATERIALS.values(), ids=list(MATERIALS))
each_piece = pytest.mark.parametrize("piece", PIECES, ids=[piece.id for piece in PIECES])


# --- sources


@each_rule
def test_a_rule_is_as_strong_as_its_document_and_no_memory(rule: Rule) -> None:
    assert CATALOGUE.documents[rule.document].kind in KINDS_OF_FORCE[rule.force]
    assert rule.verified is not Verified.MEMORY
    assert (rule.verified is Verified.NONE) == (CATALOGUE.documents[rule.document].kind == "practice")


@each_rule
def test_a_rule_names_editions_that_were_out_when_it_was_checked(rule: Rule) -> None:
    assert all(datetime.date(1900, 1, 1) <= edition.since <= rule.last_checked for edition in rule.editions)
    stated = [(re.match(r"(19|20)\d\d", edition.edition), edition.since.year) for edition in rule.editions]
    assert [(year[0], since) for year, since in stated if year and int(year[0]) != since] == []


def test_no_row_was_checked_before_the_first_or_after_the_month_of_its_rule_set() -> None:
    """A row that is changed is checked anew; rule_set.toml goes on to the month in which that was."""
    rows = [*CATALOGUE.documents.values(), *RULES.values(), *MATERIALS.values(), *PIECES]
    dated: list[Any] = [*rows, *CATALOGUE.cores.values(), *CATALOGUE.lifts]
    wrong = {
        row.id: str(row.last_checked)
        for row in dated
        if row.last_checked < FIRST_CHECKED or f"{row.last_checked:%Y-%m}" > CATALOGUE.version
    }
    assert wrong == {}


def test_no_rule_or_row_goes_by_a_document_that_is_not_registered_and_none_is_idle() -> None:
    cited = {row.document for row in RULES.values()} | {row.document for row in MATERIALS.values()}
    cited |= {piece.document for piece in PIECES}
    cited |= {core.document for core in CATALOGUE.cores.values()} | {lift.document for lift in CATALOGUE.lifts}
    named = {"nfpa-54": (DATA / "common" / "defaults.toml").read_text("utf-8"), "en-13329": _note("laminate")}
    assert cited | named.keys() == CATALOGUE.documents.keys()
    assert ["NFPA 54" in named["nfpa-54"], "EN 13329" in named["en-13329"]] == [True, True]


def test_documents_say_how_far_they_were_reached_and_name_no_page_or_person() -> None:
    for document in CATALOGUE.documents.values():
        said = f"{document.title} {document.reached}"
        assert not re.search(r"https?:|www\.|\.com|\.org|forum|blog|Griffith", said, re.IGNORECASE), document.id


@each_material
def test_what_was_not_opened_is_not_called_read(material: Material) -> None:
    unopened = "was not opened" in CATALOGUE.documents[material.document].reached
    assert not (unopened and material.verified is Verified.READ)
    if material.verified is Verified.MEMORY:
        assert material.clause == "clause not checked"
    assert material.note is msgspec.UNSET or material.note.endswith(".")
    if material.tolerance is not msgspec.UNSET:
        assert material.verified is Verified.READ or "EN 13329" in _note(material.id)


def test_standards_that_were_not_opened_are_quoted_or_remembered() -> None:
    unopened = {d.id for d in CATALOGUE.documents.values() if "itself was not opened" in d.reached}
    read = {rule.id for rule in RULES.values() if rule.document in unopened and rule.verified is Verified.READ}
    assert read == {"us-natural-draft"}  # its abstract was read, and the row cites the abstract


def _note(material: str) -> str:
    return str(MATERIALS[material].note)


# --- rules


@each_rule
def test_a_rule_that_bounds_or_bans_says_what_else_can_be_done(rule: Rule) -> None:
    soft = (
        rule.force is Force.PREFERENCE and rule.measured is not Measured.ROOM_PRESSURE
    )  # which a gap alone can't meet
    assert soft or rule.relation in (Relation.ASK, Relation.CAUTION) or rule.way_out is not msgspec.UNSET


@each_rule
def test_a_question_ends_in_a_question(rule: Rule) -> None:
    assert ("?" in rule.text) == (rule.relation is Relation.ASK)


def test_every_duty_moves_air_or_calls_for_some_rule() -> None:
    """One that nobody looks at would be taken from a caller and mean nothing."""
    called = {duty for rule in RULES.values() for duty in (*rule.when.duties, *rule.when.any_duty)}
    assert called | MOVES_AIR == set(Duty)


def test_each_project_rule_has_a_row_to_replace() -> None:
    assert {rule.project_key for rule in RULES.values()} - {msgspec.UNSET} == set(ProjectRules.__struct_fields__)


def test_wanted_asks_no_less_than_accepted_of_the_same_thing() -> None:
    pairs = {(rule.project_key, rule.measured): rule for rule in RULES.values() if rule.grade == "accepted"}
    wanted = [rule for rule in RULES.values() if rule.grade == "wanted"]
    assert {(rule.project_key, rule.measured) for rule in wanted} == pairs.keys()
    for rule in wanted:
        accepted = pairs[rule.project_key, rule.measured]
        assert _limit(rule) > _limit(accepted)
        # where a gap is no good in itself only what is accepted counts
        assert msgspec.structs.replace(rule.when, without=()) == accepted.when


def _limit(rule: Rule) -> float:
    limit = limit_of(rule)
    assert limit is not None
    return limit


def test_every_core_has_one_trim_limit_that_is_never_relaxed() -> None:
    rows = [rule for rule in RULES.values() if rule.project_key == "trim_limit"]
    assert sorted(core for rule in rows for core in rule.when.cores) == sorted(
        ["hollow", "solid", "stile_and_rail", "mdf", "steel", "fibreglass"]
    )
    assert all(rule.binding and rule.measured is Measured.TRIM for rule in rows)


def test_each_place_sets_by_its_own_tape() -> None:
    """Common practice, no source: inch tapes are read to the sixteenth, metric ones to the millimetre."""
    tapes = {code: place.grid for code, place in CATALOGUE.jurisdictions.items()}
    assert tapes == {"US": "1/16 in", "US-FL": "1/16 in", "GB-ENG": "1 mm"}


def test_a_part_of_a_country_keeps_the_rules_of_the_whole() -> None:
    def held(place: str) -> set[str]:
        duties = frozenset({Duty.TRANSFER_AIR})
        return {applied.rule.id for applied in select(CATALOGUE, jurisdiction=place, duties=duties, as_of=None).rules}

    assert held("US-FL") - held("US") == {rule.id for rule in CATALOGUE.rules["US-FL"]}
    assert held("US") < held("US-FL")


# --- finishes


def test_finishes_and_layers_asked_for_by_name_are_there() -> None:
    asked = (
        "carpet_cushion carpet carpet_loop carpet_plush vinyl_plank sheet_vinyl vinyl_tile laminate foam_underlay "
        "engineered_wood solid_wood ceramic_tile stone_tile thin_bed_mortar medium_bed_mortar backer_board "
        "uncoupling_mat plywood_underlay self_levelling acoustic_mat heating_mat hydronic_panel gypsum_topping "
        "mud_bed sealed_concrete cork rubber linoleum"
    )
    assert set(asked.split()) <= MATERIALS.keys()


RANGES = {
    "cushion": (INCH // 5, INCH // 2),  # the cushion council's ceiling for any cushion
    "carpet": (INCH // 8, 3 * INCH // 2),
    "hard": (0, 34 * MM),
    "none": (0, 2 * INCH),
}


@each_material
def test_a_layer_is_as_thick_as_its_kind(material: Material) -> None:
    least, greatest = RANGES["cushion" if "cushion" in material.id else material.finish]
    assert least <= material.least <= material.nominal <= material.greatest <= greatest
    assert material.greatest <= 3 * max(material.nominal, INCH // 16) or material.id == "self_levelling"


@pytest.mark.parametrize(
    "row",
    [
        "carpet_loop carpet carpet_plush carpet_shag",
        "cushion_frothed cushion_fibre carpet_cushion",
        "sealed_concrete sheet_vinyl vinyl_glue_down vinyl_plank laminate cork_floating engineered_wood solid_wood",
        "sheet_vinyl vinyl_tile rubber cork cork_floating",
        "gauged_porcelain ceramic_tile stone_tile",
        "thin_bed_mortar medium_bed_mortar mud_bed",
        "felt_paper foam_underlay acoustic_mat heating_mat plywood_underlay hydronic_panel gypsum_topping",
    ],
)
def test_neighbours_stand_in_order_of_thickness(row: str) -> None:
    nominal = [MATERIALS[name].nominal for name in row.split()]
    assert nominal == sorted(set(nominal))


@pytest.mark.parametrize(
    ("layers", "total"),
    [
        ("carpet_cushion carpet", 15 * INCH // 16),  # worked vectors 2 and 4
        ("thin_bed_mortar ceramic_tile", 9 * INCH // 16),  # tile on a slab
        ("backer_board thin_bed_mortar ceramic_tile", 13 * INCH // 16),  # vector 4, less 3/32 in beneath
        ("foam_underlay laminate", 10 * MM),  # vector 13
        ("vinyl_plank", 13 * MM // 2),  # vector 13
        ("solid_wood", 3 * INCH // 4),  # vector 1
    ],
)
def test_typical_build_ups_add_up_to_the_worked_vectors(layers: str, total: int) -> None:
    assert sum(MATERIALS[name].nominal for name in layers.split()) == total


def test_every_finish_either_burns_or_is_of_stone() -> None:
    """A new body of a finish is to be thought of by the rule on what runs through under a fire door."""
    bodies = {material.body for material in CATALOGUE.materials.values() if material.finish != "none"}
    assert bodies == {*RULES["us-fire-covering-sill"].when.bodies, "ceramic", "concrete"}


# --- transition pieces

STEPS = sorted(
    {i * INCH // 64 for i in range(129)}
    | {end + near for piece in PIECES for end in (piece.step_least, piece.step_greatest) for near in (-1, 0, 1)}
)
STEPS = [step for step in STEPS if 0 <= step <= 2 * INCH]


def _fitting(
    high: FinishKind, low: FinishKind, step: int, *, floating: bool, accessible: bool, same: bool = False
) -> list[str]:
    """Pieces that the engine finds to fit between two floors, the first of them the one it takes."""
    upper = Floor(high, "", step, step, step, 0, 0, Bed(), floating, glued=False, heated=False, title="", unusual=())
    lower = (
        upper
        if same
        else Floor(
            low,
            "",
            0,
            0,
            0,
            0,
            0,
            Bed(),
            floating=False,
            glued=False,
            heated=False,
            title="another",
            unusual=(),
        )
    )
    return [
        piece.id
        for piece in PIECES
        if joins_kinds(piece, high, low, level=step == 0)
        and fits(piece, upper, lower)
        and (piece.accessible or not accessible)
    ]


@pytest.mark.parametrize("accessible", [False, True])
@pytest.mark.parametrize("floating", [False, True])
@pytest.mark.parametrize(("high", "low"), list(itertools.product((HARD, CARPET), repeat=2)))
def test_some_piece_fits_every_step(high: FinishKind, low: FinishKind, *, floating: bool, accessible: bool) -> None:
    assert {0, 2 * INCH} <= set(STEPS)
    unmet = [step for step in STEPS if not _fitting(high, low, step, floating=floating, accessible=accessible)]
    assert unmet == []


@pytest.mark.parametrize(
    ("high", "low", "step", "floating", "accessible", "piece"),
    [
        (HARD, HARD, 0, True, False, "t_moulding"),
        (HARD, HARD, INCH // 8, False, False, "t_moulding"),
        (HARD, HARD, 0, False, True, "flush_insert"),
        (HARD, HARD, INCH // 8, True, True, "t_moulding_low"),
        (HARD, HARD, 3 * INCH // 8, False, False, "reducer"),
        (HARD, HARD, 3 * INCH // 8, True, False, "reducer_overlap"),
        (HARD, HARD, 3 * INCH // 4 - 6 * MM, False, False, "reducer_overlap"),  # worked vector 6: no T-moulding
        (HARD, HARD, 3 * INCH // 4 - 6 * MM, False, True, "ramped_reducer"),  # worked vector 6: ramp
        (HARD, HARD, 11 * INCH // 16, False, False, "saddle"),
        (CARPET, HARD, INCH // 16, False, False, "tuck_edge"),  # of two that are level either may be the higher
        (CARPET, HARD, 3 * INCH // 8, False, False, "tuck_edge_full"),
        (CARPET, HARD, 3 * INCH // 8, True, False, "carpet_bar"),
        (CARPET, HARD, 3 * INCH // 8, False, True, "carpet_ramp"),
        (HARD, CARPET, 0, False, False, "tuck_edge_hard"),
        (HARD, CARPET, INCH // 4, True, False, "end_cap"),
        (HARD, CARPET, INCH // 2, True, True, "tapered_pad_cap"),
        (CARPET, CARPET, INCH // 8, False, False, "seam"),
        (CARPET, CARPET, INCH, False, True, "seam_tapered"),
    ],
)
def test_the_first_piece_is_the_one_a_crew_would_reach_for(
    high: FinishKind, low: FinishKind, step: int, *, floating: bool, accessible: bool, piece: str
) -> None:
    assert _fitting(high, low, step, floating=floating, accessible=accessible)[0] == piece


def test_every_piece_is_the_first_that_fits_somewhere() -> None:
    """One that stands behind others which fit wherever it does is taken for nobody who names neither it nor a rise."""
    joints = itertools.product((HARD, CARPET), (HARD, CARPET), STEPS, (False, True), (False, True), (False, True))
    taken = {
        found[0]
        for high, low, step, floating, accessible, same in joints
        if (found := _fitting(high, low, step, floating=floating, accessible=accessible, same=same and high is low))
    }
    assert [piece.id for piece in PIECES if piece.id not in taken] == []


@pytest.mark.parametrize("accessible", [False, True])
@pytest.mark.parametrize("floating", [False, True])
@pytest.mark.parametrize(("kind", "piece"), [(HARD, "run_through"), (CARPET, "run_through_carpet")])
def test_one_floor_on_both_sides_needs_no_piece(
    kind: FinishKind, piece: str, *, floating: bool, accessible: bool
) -> None:
    assert _fitting(kind, kind, 0, floating=floating, accessible=accessible, same=True)[0] == piece
    assert piece not in _fitting(kind, kind, 0, floating=floating, accessible=accessible)


@each_piece
def test_an_accessible_piece_is_low_or_sloped(piece: Piece) -> None:
    """Up to 1/4 in upright, up to 1/2 in bevelled; what is higher must be a ramp, and its edge still low."""
    sloped = piece.step_greatest > INCH // 2
    height = piece.rise_greatest + (0 if sloped else piece.step_greatest)
    if piece.accessible:
        assert height <= INCH // 2
        assert (not sloped) or any(word in f"{piece.title} {piece.note}" for word in ("ramp", "Ramp"))
        assert piece.rise_greatest <= INCH // 8


# --- labour and defaults


def test_every_step_that_is_priced_has_its_minutes() -> None:
    steps = (
        "set_unit block_legs trim_legs trim_on_bench trim_in_place trim_off_hinges jamb_undercut_side fit_piece "
        "measure_floor rehang_leaf reset_unit fit_grille seal_edge rehang_lift_off tension_spring second_person "
        "fit_leaf fill_legs cover_legs change_piece raise_floor fit_seal block_size"
    )
    assert set(CATALOGUE.labour) == set(steps.split()) == set(Labour.__struct_fields__)
    assert all(row.minutes > 0 for row in CATALOGUE.labour.values())


@pytest.mark.parametrize(
    ("less", "more"),
    [
        ("block_legs", "trim_legs"),
        ("trim_on_bench", "trim_in_place"),
        ("trim_in_place", "trim_off_hinges"),
        ("trim_off_hinges", "reset_unit"),
        ("set_unit", "reset_unit"),
        ("rehang_leaf", "fit_leaf"),
        ("fit_leaf", "reset_unit"),
    ],
)
def test_a_harder_step_takes_longer(less: str, more: str) -> None:
    assert CATALOGUE.labour[less].minutes < CATALOGUE.labour[more].minutes


def test_defaults_give_the_header_that_a_worked_vector_needs() -> None:
    """Leaf 80 in, undercut 3/4 in, block 3/4 in, shim 1/4 in: rough opening 82 9/16 in."""
    above = DEFAULTS.head_gap + DEFAULTS.head_thickness + _limit(RULES["head.shim.wanted"])
    assert 80 * INCH + 2 * (3 * INCH // 4) + above == 82 * INCH + 9 * INCH // 16


def test_the_default_discharge_is_that_of_published_sizing_practice() -> None:
    """k = 1.07 cfm per in2 and root pascal at 1.2041 kg/m3."""
    assert DEFAULTS.discharge_coefficient * IN2 * sqrt(2 / 1.2041) / CFM == pytest.approx(1.07, abs=1e-3)
    assert DEFAULTS.discharge_coefficient < DEFAULTS.discharge_coefficient_high


def test_a_metal_grille_is_freer_than_a_wooden_one() -> None:
    """Published: 75 % for metal, 25 % for wood."""
    assert (DEFAULTS.free_ratio_metal, DEFAULTS.free_ratio_wood) == (0.75, 0.25)


def test_the_saw_stands_above_the_floor_as_in_the_worked_vectors() -> None:
    """Plank of 6.5 mm: jamb cut at 0.318 in; tile of 29/32 in: at 31/32 in."""
    assert (13 * MM // 2 + DEFAULTS.saw_allowance) / INCH == pytest.approx(0.318, abs=5e-4)
    assert 29 * INCH // 32 + DEFAULTS.saw_allowance == 31 * INCH // 32


def test_values_are_of_the_kind_their_field_says() -> None:
    kinds = {type(getattr(rule, name)) for rule in RULES.values() for name in ("length", "area", "pressure")}
    assert kinds == {Length, Area, Pressure, msgspec.UnsetType}
    flows = {type(flow) for rule in RULES.values() for flow in (rule.when.flow_below, rule.when.flow_at_least)}
    assert flows == {Flow, msgspec.UnsetType}
