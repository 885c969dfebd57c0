"""What can be wrong with one row of the catalogue by itself: each check is a small function that names the fault.

`load` runs them on every row and checks rows together.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import Any

from msgspec import UNSET

from jambset.model import request
from jambset.model.request import ProjectRules
from jambset.model.source import Force, Verified
from jambset.quantity.text import inch_text
from jambset.quantity.ticks import INCH, Length
from jambset.rules.bounded import BOUNDED, EITHER
from jambset.rules.schema import (
    TEXTILE,
    CoreMass,
    Defaults,
    FinishKind,
    Labour,
    Lift,
    Material,
    Measured,
    Piece,
    Relation,
    Row,
    Rule,
)

Fault = str | None

STEPS = request.Labour.__struct_fields__
"""Steps of work that the engine counts and a request may replace."""
FORMULAS = frozenset({"garage_leaf"})
"""Named formulas the engine knows."""

_VALUES = ("length", "area", "pressure", "ratio", "formula")
_BY_FINISH = frozenset(
    {
        Measured.FOOT,
        Measured.LEG_COVER,
        Measured.LEAF_BOTTOM,
        Measured.FLOOR_CLEARANCE,
        Measured.FREE_AREA,
        Measured.PILE,
    }
)
"""What is measured over a finish; on any other limit a condition on the finish would be ignored."""
DEFAULT_RANGES: dict[str, tuple[float, float]] = {
    "head_gap": (INCH // 16, INCH // 4),
    "head_thickness": (INCH // 2, 2 * INCH),
    "leg_thickness": (INCH // 2, 2 * INCH),
    "stop_thickness": (INCH // 4, INCH),
    "side_gaps": (INCH // 16, INCH // 2),
    "meeting_gap": (0, INCH // 4),
    "side_shims": (0, INCH),
    "carpet_backing": (0, INCH // 4),
    "saw_allowance": (0, INCH // 8),
    "base_over_carpet": (0, INCH),
    "plunge_beyond": (0, INCH // 2),
    "room_to_cut": (0, 2 * INCH),
    "survey_reach": (INCH, 36 * INCH),
    "tape_slack": (0, INCH // 4),
    "seal_reach": (INCH // 8, 2 * INCH),
    "temperature_c": (0, 35),
    "discharge_coefficient": (0.5, 0.85),
    "discharge_coefficient_high": (0.5, 0.85),
    "free_ratio_metal": (0.1, 1),
    "free_ratio_wood": (0.1, 1),
}
_LEAF_DENSITIES = (100, 2000)
"""Plausible densities over a whole leaf [kg/m³]: from honeycomb between thin skins to more than any wood."""
_LIFTS_KG = (10, 50)
_CARRIED_HEIGHTS = (72 * INCH, 120 * INCH)


def fault_of(row: Row) -> Fault:
    """What is wrong with a row; None where nothing is."""
    return next((fault for check in _CHECKS[type(row)] if (fault := check(row))), None)


def _value_fault(rule: Rule) -> Fault:
    given = tuple(name for name in _VALUES if getattr(rule, name) is not UNSET)
    wanted = _wanted_values(rule)
    if wanted is None:
        return f"{rule.measured} can't be {rule.relation}"
    if given != wanted:
        return f"{rule.measured} {rule.relation} takes {_listed(wanted)}, not {_listed(given)}"
    return None


def _wanted_values(rule: Rule) -> tuple[str, ...] | None:
    """Names of the value fields a rule must have; None where the relation makes no sense for what it measures."""
    if rule.relation in (Relation.ASK, Relation.CAUTION):
        return ()
    if rule.relation is Relation.PROHIBITED:
        return () if rule.measured in (Measured.TRANSFER_AIR, Measured.WALL_OPENING) else None
    if rule.relation is Relation.FORMULA:
        return ("length", "formula") if rule.measured is Measured.LEAF_CONSTRUCTION else None
    return (BOUNDED[rule.measured].field,) if rule.measured in BOUNDED else None


def _listed(names: tuple[str, ...]) -> str:
    return " and ".join(names) or "no value"


def _formula_fault(rule: Rule) -> Fault:
    if rule.formula is UNSET or rule.formula in FORMULAS:
        return None
    return f"formula {rule.formula} is unknown; known are {', '.join(sorted(FORMULAS))}"


def _range_fault(rule: Rule) -> Fault:
    if rule.relation not in (Relation.AT_LEAST, Relation.AT_MOST):
        return None
    field, _, least, greatest = BOUNDED[rule.measured]
    return _implausible(getattr(rule, field), least, greatest, of=rule.measured, length=field == "length")


def _implausible(value: float, least: float, greatest: float, *, of: str, length: bool) -> Fault:
    if least <= value <= greatest:
        return None
    shown, low, high = (inch_text(int(n)) if length else f"{n:g}" for n in (value, least, greatest))
    return f"{shown} is not plausible for {of}: {low} to {high}"


def _relation_fault(rule: Rule) -> Fault:
    if rule.relation not in EITHER or rule.relation in BOUNDED[rule.measured].relations:
        return None
    return f"{rule.measured} is read as a limit {_listed(BOUNDED[rule.measured].relations)} alone, not {rule.relation}"


def _edition_fault(rule: Rule) -> Fault:
    days = [edition.since for edition in rule.editions]
    ordered = all(earlier < later for earlier, later in pairwise(days))
    return None if ordered else "editions must stand in order of their dates, each date once"


def _force_fault(rule: Rule) -> Fault:
    soft = rule.force in (Force.PRACTICE, Force.PREFERENCE)
    if rule.force is Force.PROJECT:
        return "force project belongs to a request, not to the catalogue"
    if rule.verified is Verified.NONE and not soft:
        return f"force {rule.force} needs a source: verified none allows practice or preference"
    if rule.verified is Verified.MEMORY and rule.binding:
        return "a rule from memory can't be binding"
    if rule.project_key is not UNSET and not soft:
        return f"a project rule can't replace force {rule.force}"
    return None


def _project_fault(rule: Rule) -> Fault:
    if rule.project_key is UNSET or rule.project_key in ProjectRules.__struct_fields__:
        return None
    return f"project_key {rule.project_key} is not a field of project_rules"


def _grade_fault(rule: Rule) -> Fault:
    forces = {"wanted": Force.PREFERENCE, "accepted": Force.PRACTICE}
    if rule.grade is UNSET or rule.force is forces[str(rule.grade)]:
        return None
    return f"what is {rule.grade} has force {forces[str(rule.grade)]}, not {rule.force}"


def _holds_fault(rule: Rule) -> Fault:
    return "only a question holds a phase" if rule.holds and rule.relation is not Relation.ASK else None


def _when_fault(rule: Rule) -> Fault:
    when = rule.when
    if banned := {*when.duties, *when.any_duty} & {*when.without}:
        return f"it both needs and excludes {', '.join(sorted(banned))}"
    if {*when.buildings} & {*when.not_buildings}:
        return "it both needs and excludes one kind of building"
    if when.flow_at_least is not UNSET and when.flow_below is not UNSET and when.flow_below <= when.flow_at_least:
        return "no flow is at least flow_at_least and below flow_below"
    above, below = when.fire_minutes_above, when.fire_minutes_below
    if above is not UNSET and below is not UNSET and below <= above + 1:
        return "no rating is above fire_minutes_above and below fire_minutes_below"
    if when.built_before is not UNSET and not 1700 <= when.built_before <= 2100:
        return f"built_before {when.built_before} is not a plausible year"
    return None


def _unheeded_fault(rule: Rule) -> Fault:
    """A condition that the engine ignores: the rule would hold where it says it doesn't."""
    told = rule.relation in (Relation.ASK, Relation.CAUTION)
    if rule.when.not_glued and (told or rule.measured not in (Measured.LEAF_BOTTOM, Measured.FLOOR_CLEARANCE)):
        what = f"{rule.relation} of {rule.measured}" if told else rule.measured
        return f"{what} is not told apart by how a finish is fixed; leave not_glued out of when"
    if told:
        return None
    if rule.when.finish is not UNSET and rule.measured not in _BY_FINISH:
        return f"{rule.measured} is not told apart by finish; leave finish out of when"
    if rule.measured is Measured.PILE and rule.when.finish not in (UNSET, FinishKind.CARPET):
        return f"pile is that of a carpet; finish {rule.when.finish} has none"
    if rule.when.trimmed is not UNSET and rule.drives:
        return "what only holds once a leaf is cut, or isn't, can't move the cut: drives = false"
    return None


_RULE_CHECKS = (
    _value_fault,
    _formula_fault,
    _range_fault,
    _relation_fault,
    _edition_fault,
    _force_fault,
    _project_fault,
    _grade_fault,
    _holds_fault,
    _when_fault,
    _unheeded_fault,
)


def _material_fault(material: Material) -> Fault:
    if not 0 <= material.least <= material.nominal <= material.greatest:
        return "least, nominal and greatest must rise, from 0 on"
    if material.greatest > 3 * INCH:
        return f"{inch_text(material.greatest)} is not plausible for one layer: at most 3 in"
    if material.tolerance is not UNSET and not 0 < material.tolerance <= INCH // 8:
        return f"{inch_text(material.tolerance)} is not a plausible tolerance: above 0, at most 1/8 in"
    if material.finish != "none" and (material.finish == "carpet") is not (material.body == TEXTILE):
        return f"a {material.finish} finish can't be made of {material.body}: carpet is {TEXTILE}, nothing hard is"
    return None


def _piece_fault(piece: Piece) -> Fault:
    if FinishKind.UNDECIDED in (piece.higher, piece.lower):
        return "a piece joins hard and carpet, nothing undecided"
    if not 0 <= piece.step_least <= piece.step_greatest <= 3 * INCH:
        return "step_least and step_greatest must rise, from 0 to at most 3 in"
    if not 0 <= piece.rise_least <= piece.rise <= piece.rise_greatest <= INCH:
        return "rise_least, rise and rise_greatest must rise, from 0 to at most 1 in"
    if piece.built_above is not UNSET and not piece.step_least <= piece.built_above < piece.step_greatest:
        return "built_above must lie from step_least on and below step_greatest"
    if piece.before_carpet and piece.higher is piece.lower:
        return "before_carpet is for a piece where carpet meets a hard floor"
    return None


def _labour_fault(labour: Labour) -> Fault:
    return None if labour.id in STEPS else f"there is no such step; known are {', '.join(STEPS)}"


def _core_fault(core: CoreMass) -> Fault:
    densities = (core.density_least, core.density, core.density_greatest)
    if not densities[0] <= densities[1] <= densities[2]:
        return "density_least, density and density_greatest must rise"
    least, greatest = _LEAF_DENSITIES
    if wrong := [density for density in densities if not least <= density <= greatest]:
        return f"{wrong[0]:g} kg/m³ is not plausible for a leaf: {least} to {greatest}"
    return None


def _lift_fault(lift: Lift) -> Fault:
    least, greatest = _LIFTS_KG
    if not least <= lift.one_person_kg <= greatest:
        return f"{lift.one_person_kg:g} kg is not plausible for one person: {least} to {greatest}"
    return _implausible(lift.two_person_height, *_CARRIED_HEIGHTS, of="two_person_height", length=True)


def _defaults_fault(defaults: Defaults) -> Fault:
    for name, (least, greatest) in DEFAULT_RANGES.items():
        value = getattr(defaults, name)
        if fault := _implausible(value, least, greatest, of=name, length=isinstance(value, Length)):
            return fault
    return None


_CHECKS: dict[type[Row], tuple[Callable[[Any], Fault], ...]] = {
    Rule: _RULE_CHECKS,
    Material: (_material_fault,),
    Piece: (_piece_fault,),
    Labour: (_labour_fault,),
    CoreMass: (_core_fault,),
    Lift: (_lift_fault,),
    Defaults: (_defaults_fault,),
}
