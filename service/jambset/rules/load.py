"""Reads the catalogue's files, cross-checks every row and freezes the whole. The only reader of files.

Layout of the folder: rule_set.toml names the version; common/ holds what every place shares; each
other folder is one jurisdiction, named after its code. Adding a country is adding a folder.

    rule_set.toml
    common/   documents  rules_*  finishes  pieces  labour  cores  handling  defaults
    us-fl/    jurisdiction  documents  rules_*

Whatever can't be trusted raises CatalogueError with the file, the row and what is wrong with it.
"""

from __future__ import annotations

import hashlib
import tomllib
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from itertools import pairwise, product
from pathlib import Path
from typing import Annotated, Any, Generic, NamedTuple, NoReturn, TypeVar

import msgspec
from msgspec import UNSET, Meta

from jambset.errors import CatalogueError
from jambset.model import request
from jambset.model.request import Core, ProjectRules
from jambset.model.source import Force, Verified
from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import dec_hook
from jambset.quantity.text import inch_text
from jambset.quantity.ticks import INCH
from jambset.rules.schema import (
    LENGTHS,
    Catalogue,
    CoreMass,
    Defaults,
    Document,
    FinishKind,
    Jurisdiction,
    Labour,
    Lift,
    Material,
    Measured,
    Piece,
    Relation,
    Row,
    Rule,
)

DATA = Path(__file__).parent / "data"
FORMULAS = frozenset({"garage_leaf"})
"""Named formulas the engine knows."""

_RULE_SET, _COMMON = "rule_set.toml", "common"
_VALUES = ("length", "area", "pressure", "ratio", "formula")
_FIELD: dict[Measured, str] = dict.fromkeys(LENGTHS, "length") | {
    Measured.FREE_AREA: "area",
    Measured.DISTURBED_AREA: "area",
    Measured.ROOM_PRESSURE: "pressure",
    Measured.BEVEL_SLOPE: "ratio",
    Measured.RAMP_SLOPE: "ratio",
    Measured.GRILLE_AREA_PER_FLOW: "ratio",
}
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
"""What is measured over a finish; a finish among the conditions of any other limit would be passed over."""
PLAUSIBLE: dict[Measured, tuple[float, float]] = {
    Measured.FOOT: (0, 4 * INCH),
    Measured.LEG_COVER: (0, 2 * INCH),
    Measured.LEAF_BOTTOM: (0, 4 * INCH),
    Measured.FLOOR_CLEARANCE: (0, 3 * INCH),
    Measured.PIECE_CLEARANCE: (0, 2 * INCH),
    Measured.LEG_TRIM: (0, 4 * INCH),
    Measured.TRIM: (0, 4 * INCH),
    Measured.HEAD_SHIM: (0, INCH),
    Measured.CLEAR_HEIGHT: (60 * INCH, 96 * INCH),
    Measured.PILE: (0, INCH),
    Measured.THRESHOLD_HEIGHT: (0, 8 * INCH),
    Measured.VERTICAL_EDGE: (0, INCH),
    Measured.UNRAMPED_CHANGE: (0, 2 * INCH),
    Measured.GRILLE_UNDERCUT: (0, 3 * INCH),
    Measured.FREE_AREA: (1e-3, 0.2),
    Measured.DISTURBED_AREA: (0.05, 3.0),
    Measured.ROOM_PRESSURE: (0.5, 15.0),
    Measured.BEVEL_SLOPE: (0.1, 1.0),
    Measured.RAMP_SLOPE: (0.02, 0.2),
    Measured.GRILLE_AREA_PER_FLOW: (0.1, 5.0),
}
"""Ranges that catch a wrong unit or a slipped digit, both ends allowed; ticks, m², Pa, ratios."""
_DEFAULT_RANGES: dict[str, tuple[float, float]] = {
    "head_gap": (INCH // 16, INCH // 4),
    "head_thickness": (INCH // 2, 2 * INCH),
    "leg_thickness": (INCH // 2, 2 * INCH),
    "stop_thickness": (INCH // 4, INCH),
    "side_gaps": (INCH // 16, INCH // 2),
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

R = TypeVar("R", bound=Row)


class _RuleSet(Row, frozen=True, kw_only=True):
    version: Annotated[str, Meta(pattern="^[0-9]{4}-[0-9]{2}$")]


class _Placed(NamedTuple, Generic[R]):
    """A row and the file it stands in."""

    file: str
    row: R

    def fail(self, detail: str) -> NoReturn:
        name = str(getattr(self.row, "id", getattr(self.row, "code", "whole file")))
        raise CatalogueError(file=self.file, row=name, detail=detail)


Files = Mapping[str, dict[str, Any]]


def load_catalogue(folder: Path | None = None) -> Catalogue:
    """The catalogue in a folder, checked and frozen; without a folder the package's own.

    Raises CatalogueError naming file, row and fault when anything in it can't be trusted.
    """
    raw = _read(folder or DATA)
    files = {name: _parse(name, data) for name, data in raw.items()}
    _know_every_file(files)
    places = _jurisdictions(files)
    documents = _unique(_rows(files, "documents", "document", Document))
    rules = _unique(_rows(files, "rules_", "rule", Rule))
    materials = _unique(_rows(files, "finishes", "material", Material))
    pieces = _unique(_rows(files, "pieces", "piece", Piece))
    cores = _unique(_rows(files, "cores", "core", CoreMass))
    labour = _unique(_rows(files, "labour", "labour", Labour))
    lifts = _unique(_rows(files, "handling", "lift", Lift))
    defaults = _single(files, f"{_COMMON}/defaults.toml", Defaults)
    _check(rules, _RULE_CHECKS)
    _check(materials, (_material_fault,))
    _check(pieces, (_piece_fault,))
    _check(labour, (_labour_fault,))
    _check(cores, (_core_fault,))
    _check(lifts, (_lift_fault,))
    _check_whole("labour", _STEPS, {placed.row.id for placed in labour})
    _check_whole("cores", Core, {placed.row.id for placed in cores})
    _check_whole("pieces", _JOINTS, {_joint(placed.row.higher, placed.row.lower) for placed in pieces})
    _check_every_place(lifts, {placed.row.code for placed in places})
    _check([defaults], (_defaults_fault,))
    _check_sources([*rules, *materials, *pieces, *cores, *lifts], {placed.row.id: placed.row for placed in documents})
    return Catalogue(
        version=_single(files, _RULE_SET, _RuleSet).row.version,
        digest=_digest(raw),
        jurisdictions={placed.row.code: placed.row for placed in places},
        documents={placed.row.id: placed.row for placed in documents},
        rules=_by_place(rules, [placed.row.code for placed in places]),
        materials={placed.row.id: placed.row for placed in materials},
        pieces=tuple(placed.row for placed in pieces),
        labour={placed.row.id: placed.row for placed in labour},
        cores={placed.row.id: placed.row for placed in cores},
        lifts=tuple(placed.row for placed in lifts),
        defaults=defaults.row,
    )


# --- reading


def _read(folder: Path) -> dict[str, bytes]:
    """Every TOML file below the folder by its relative path, sorted; line ends made one kind."""
    paths = sorted(folder.rglob("*.toml"), key=lambda path: path.relative_to(folder).as_posix())
    return {path.relative_to(folder).as_posix(): path.read_bytes().replace(b"\r\n", b"\n") for path in paths}


def _digest(raw: Mapping[str, bytes]) -> str:
    """sha256 over path and content of every file, in the order of their paths."""
    digest = hashlib.sha256()
    for name, data in raw.items():
        digest.update(b"%s\0%d\0%s\0" % (name.encode(), len(data), data))
    return f"sha256:{digest.hexdigest()}"


def _parse(name: str, data: bytes) -> dict[str, Any]:
    try:
        return tomllib.loads(data.decode())
    except (UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise CatalogueError(file=name, row="whole file", detail=f"not readable as TOML: {error}") from None


def _know_every_file(files: Files) -> None:
    """A file whose name means nothing here would be left out in silence."""
    for name in files:
        folder, _, stem = name.removesuffix(".toml").rpartition("/")
        known = _COMMON_FILES if folder == _COMMON else _PLACE_FILES
        if name != _RULE_SET and ("/" in folder or not folder or not (stem in known or stem.startswith("rules_"))):
            raise CatalogueError(file=name, row="whole file", detail="no file of this name is read here")


_COMMON_FILES = {"documents", "finishes", "pieces", "labour", "cores", "handling", "defaults"}
_PLACE_FILES = {"jurisdiction", "documents"}


def _single(files: Files, name: str, cls: type[R]) -> _Placed[R]:
    """A file that is one row."""
    if name not in files:
        raise CatalogueError(file=name, row="whole file", detail="the file is missing")
    return _Placed(name, _convert(files[name], cls, file=name, row="whole file"))


def _rows(files: Files, stem: str, key: str, cls: type[R]) -> Iterator[_Placed[R]]:
    """All rows in the files of one stem, in the order of paths; each file holds tables of one key only."""
    for name, table in files.items():
        if not name.rpartition("/")[2].startswith(stem):
            continue
        rows = table.get(key)
        if table.keys() != {key} or not isinstance(rows, list):
            raise CatalogueError(file=name, row="whole file", detail=f"must hold [[{key}]] tables and nothing else")
        for place, raw in enumerate(rows, start=1):
            label = raw.get("id") if isinstance(raw, dict) else None
            yield _Placed(name, _convert(raw, cls, file=name, row=label if isinstance(label, str) else f"row {place}"))


def _convert(raw: object, cls: type[R], *, file: str, row: str) -> R:
    try:
        return msgspec.convert(raw, cls, strict=True, dec_hook=dec_hook)
    except msgspec.ValidationError as error:
        raise CatalogueError(file=file, row=row, detail=str(error)) from None


def _unique(rows: Iterable[_Placed[Any]]) -> list[_Placed[Any]]:
    """The rows, when no id stands twice in the whole catalogue."""
    seen: dict[str, _Placed[Any]] = {}
    for placed in rows:
        if (first := seen.setdefault(placed.row.id, placed)) is not placed:
            placed.fail(f"the id stands already in {first.file}")
    return list(seen.values())


# --- places


def _jurisdictions(files: Files) -> list[_Placed[Jurisdiction]]:
    folders = sorted({name.partition("/")[0] for name in files if name != _RULE_SET} - {_COMMON})
    places = [_single(files, f"{folder}/jurisdiction.toml", Jurisdiction) for folder in folders]
    parents = {placed.row.code: placed.row.parent for placed in places}
    for placed in places:
        _check_place(placed, parents)
    return places


def _check_place(placed: _Placed[Jurisdiction], parents: Mapping[str, Any]) -> None:
    place = placed.row
    if placed.file != f"{place.code.lower()}/jurisdiction.toml":
        placed.fail(f"its folder must be named {place.code.lower()}")
    if place.grid not in GRIDS:
        placed.fail(f"grid {place.grid} is unknown; known are {', '.join(GRIDS)}")
    line: list[Any] = [place.code]
    while (parent := parents[line[-1]]) is not UNSET:
        if parent not in parents:
            placed.fail(f"parent {parent} is no jurisdiction of this catalogue")
        if parent in line:
            placed.fail(f"its parents go round in a circle: {' > '.join([*line, parent])}")
        line.append(parent)


def _by_place(rules: Iterable[_Placed[Rule]], codes: Iterable[str]) -> dict[str, tuple[Rule, ...]]:
    """Rules by jurisdiction code, "" for the common ones; every place has an entry."""
    by_code: dict[str, list[Rule]] = {code: [] for code in ("", *codes)}
    for placed in rules:
        folder = placed.file.partition("/")[0]
        by_code["" if folder == _COMMON else folder.upper()].append(placed.row)
    return {code: tuple(rows) for code, rows in by_code.items()}


# --- cross-checks: each names the fault of one row, or None

Fault = str | None


def _check(rows: Iterable[_Placed[Any]], checks: Iterable[Callable[[Any], Fault]]) -> None:
    checks = tuple(checks)
    for placed in rows:
        for fault in (check(placed.row) for check in checks):
            if fault:
                placed.fail(fault)


def _check_sources(rows: Iterable[_Placed[Any]], documents: Mapping[str, Document]) -> None:
    for placed in rows:
        if placed.row.document not in documents:
            placed.fail(f"document {placed.row.document} is not in the register")
        practice = documents[placed.row.document].kind == "practice"
        if practice != (placed.row.verified is Verified.NONE):
            placed.fail("verified is none exactly where the document is common practice")


def _check_whole(stem: str, wanted: Iterable[str], there: Container[str]) -> None:
    """What the engine takes for granted; without it every call would fail, and not at the start."""
    if missing := [name for name in wanted if name not in there]:
        detail = f"no row for {', '.join(missing)}"
        raise CatalogueError(file=f"{_COMMON}/{stem}.toml", row="whole file", detail=detail)


def _joint(higher: FinishKind, lower: FinishKind) -> str:
    return f"{higher} over {lower}"


_STEPS = request.Labour.__struct_fields__
_JOINTS = [_joint(*pair) for pair in product((FinishKind.HARD, FinishKind.CARPET), repeat=2)]


def _check_every_place(lifts: Iterable[_Placed[Lift]], codes: Container[str]) -> None:
    """One lift at most for a place, so that the order of rows decides nothing, and one for all others."""
    seen: dict[str, str] = {}
    for placed in lifts:
        for code in placed.row.jurisdictions:
            if code and code not in codes:
                placed.fail(f"{code} is no jurisdiction of this catalogue")
            if code in seen:
                placed.fail(f'jurisdiction "{code}" has a lift already: {seen[code]}')
            seen[code] = placed.row.id
    if "" not in seen:
        detail = 'no row for the places without one of their own: jurisdiction ""'
        raise CatalogueError(file=f"{_COMMON}/handling.toml", row="whole file", detail=detail)


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
        return () if rule.measured is Measured.TRANSFER_AIR else None
    if rule.relation is Relation.FORMULA:
        return ("length", "formula") if rule.measured is Measured.LEAF_CONSTRUCTION else None
    return (_FIELD[rule.measured],) if rule.measured in _FIELD else None


def _listed(names: tuple[str, ...]) -> str:
    return " and ".join(names) or "no value"


def _formula_fault(rule: Rule) -> Fault:
    if rule.formula is UNSET or rule.formula in FORMULAS:
        return None
    return f"formula {rule.formula} is unknown; known are {', '.join(sorted(FORMULAS))}"


def _range_fault(rule: Rule) -> Fault:
    if rule.relation not in (Relation.AT_LEAST, Relation.AT_MOST):
        return None
    field = _FIELD[rule.measured]
    least, greatest = PLAUSIBLE[rule.measured]
    value = getattr(rule, field)
    if least <= value <= greatest:
        return None
    shown, low, high = (inch_text(int(n)) if field == "length" else f"{n:g}" for n in (value, least, greatest))
    return f"{shown} is not plausible for {rule.measured}: {low} to {high}"


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
    if when.built_before is not UNSET and not 1700 <= when.built_before <= 2100:
        return f"built_before {when.built_before} is not a plausible year"
    return None


def _unheeded_fault(rule: Rule) -> Fault:
    """A condition that nobody looks at would let the rule hold where it says it doesn't."""
    if rule.relation in (Relation.ASK, Relation.CAUTION):
        return None
    if rule.when.finish is not UNSET and rule.measured not in _BY_FINISH:
        return f"{rule.measured} is not told apart by finish; leave finish out of when"
    if rule.when.trimmed is not UNSET and rule.drives:
        return "what only holds once a leaf is cut, or isn't, can't move the cut: drives = false"
    return None


_RULE_CHECKS = (
    _value_fault,
    _formula_fault,
    _range_fault,
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
    return None


def _piece_fault(piece: Piece) -> Fault:
    if FinishKind.UNDECIDED in (piece.higher, piece.lower):
        return "a piece joins hard and carpet, nothing undecided"
    if not 0 <= piece.step_least <= piece.step_greatest <= 3 * INCH:
        return "step_least and step_greatest must rise, from 0 to at most 3 in"
    if not 0 <= piece.rise_least <= piece.rise <= piece.rise_greatest <= INCH:
        return "rise_least, rise and rise_greatest must rise, from 0 to at most 1 in"
    return None


def _labour_fault(labour: Labour) -> Fault:
    return None if labour.id in _STEPS else f"there is no such step; known are {', '.join(_STEPS)}"


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
    low, high = _CARRIED_HEIGHTS
    if not low <= lift.two_person_height <= high:
        shown = (inch_text(length) for length in (lift.two_person_height, low, high))
        return "{} is not plausible for two_person_height: {} to {}".format(*shown)
    return None


def _defaults_fault(defaults: Defaults) -> Fault:
    for name, (least, greatest) in _DEFAULT_RANGES.items():
        if not least <= getattr(defaults, name) <= greatest:
            return f"{name} is not plausible"
    return None
