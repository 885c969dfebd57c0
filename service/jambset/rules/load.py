"""Reads the catalogue's files, cross-checks every row and freezes the whole. The only reader of files.

Layout of the folder: rule_set.toml names the version; common/ holds what every place shares; each
other folder is one jurisdiction, named after its code. Adding a country is adding a folder.

    rule_set.toml
    common/   documents  rules_*  finishes  pieces  labour  cores  codes  handling  defaults
    us-fl/    jurisdiction  documents  rules_*

Whatever can't be trusted raises CatalogueError with the file, the row and what is wrong with it.
"""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Container, Iterable, Iterator, Mapping
from itertools import product
from pathlib import Path
from typing import Annotated, Any, Generic, NamedTuple, NoReturn, TypeVar, get_args

import msgspec
from msgspec import UNSET, Meta

from jambset.errors import CatalogueError, evened
from jambset.model.request import Core
from jambset.model.source import Verified
from jambset.quantity.grid import GRIDS
from jambset.quantity.parse import dec_hook
from jambset.rules.faults import STEPS, fault_of
from jambset.rules.schema import (
    Catalogue,
    Codes,
    CoreMass,
    Defaults,
    Document,
    FinishKind,
    Jurisdiction,
    Labour,
    Lift,
    Material,
    Piece,
    Row,
    Rule,
)
from jambset.rules.select import COMMON

DATA = Path(__file__).parent / "data"
_RULE_SET, _SHARED = "rule_set.toml", "common"
"""The file of the version, and the folder of what every place shares."""
R = TypeVar("R", bound=Row)


class _RuleSet(Row, frozen=True, kw_only=True):
    version: Annotated[str, Meta(pattern=r"^[0-9]{4}-[0-9]{2}\Z")]


class _Placed(NamedTuple, Generic[R]):
    """A row and the file it stands in."""

    file: str
    row: R

    def fail(self, detail: str) -> NoReturn:
        name = str(getattr(self.row, "id", getattr(self.row, "code", _WHOLE_FILE)))
        raise CatalogueError(file=self.file, row=name, detail=detail)


Files = Mapping[str, dict[str, Any]]
_WHOLE_FILE = "whole file"


def _fail(file: str, detail: str) -> NoReturn:
    raise CatalogueError(file=file, row=_WHOLE_FILE, detail=detail) from None


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
    defaults = _single(files, f"{_SHARED}/defaults.toml", Defaults)
    codes = _single(files, f"{_SHARED}/codes.toml", Codes)
    _check([*rules, *materials, *pieces, *labour, *cores, *lifts, defaults])
    _check_whole("labour", STEPS, {placed.row.id for placed in labour})
    _check_whole("cores", Core, {placed.row.id for placed in cores})
    _check_whole("pieces", _JOINTS, {_joint(placed.row.higher, placed.row.lower) for placed in pieces})
    _check_every_place(lifts, {placed.row.code for placed in places})
    _check_bodies(rules, {placed.row.body for placed in materials if placed.row.finish != "none"})
    for rows in (places, materials, pieces):
        _check_words(rows)
    _check_codes(codes)
    _check_sources([*rules, *materials, *pieces, *cores, *lifts], _by_id(documents))
    return Catalogue(
        version=_single(files, _RULE_SET, _RuleSet).row.version,
        digest=_digest(raw),
        jurisdictions={placed.row.code: placed.row for placed in places},
        documents=_by_id(documents),
        rules=_by_place(rules, [placed.row.code for placed in places]),
        materials=_by_id(materials),
        pieces=tuple(placed.row for placed in pieces),
        labour=_by_id(labour),
        cores=_by_id(cores),
        lifts=tuple(placed.row for placed in lifts),
        codes=codes.row,
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
        _fail(name, f"not readable as TOML: {error}")


def _know_every_file(files: Files) -> None:
    """A file with an unknown name would be silently left out."""
    for name in files:
        folder, _, stem = name.removesuffix(".toml").rpartition("/")
        known = _SHARED_FILES if folder == _SHARED else _PLACE_FILES
        if name != _RULE_SET and ("/" in folder or not folder or not (stem in known or stem.startswith("rules_"))):
            _fail(name, "no file of this name is read here")


_SHARED_FILES = {"documents", "finishes", "pieces", "labour", "cores", "codes", "handling", "defaults"}
_PLACE_FILES = {"jurisdiction", "documents"}


def _single(files: Files, name: str, cls: type[R]) -> _Placed[R]:
    """A file that is one row."""
    if name not in files:
        _fail(name, "the file is missing")
    return _Placed(name, _convert(files[name], cls, file=name, row=_WHOLE_FILE))


def _rows(files: Files, stem: str, key: str, cls: type[R]) -> Iterator[_Placed[R]]:
    """All rows in the files of one stem, in the order of paths; each file holds tables of one key only."""
    for name, table in files.items():
        if not name.rpartition("/")[2].startswith(stem):
            continue
        rows = table.get(key)
        if table.keys() != {key} or not isinstance(rows, list):
            _fail(name, f"must hold [[{key}]] tables and nothing else")
        for place, raw in enumerate(rows, start=1):
            label = raw.get("id") if isinstance(raw, dict) else None
            yield _Placed(name, _convert(raw, cls, file=name, row=label if isinstance(label, str) else f"row {place}"))


def _convert(raw: object, cls: type[R], *, file: str, row: str) -> R:
    try:
        return msgspec.convert(raw, cls, dec_hook=dec_hook)
    except msgspec.ValidationError as error:
        raise CatalogueError(file=file, row=row, detail=_with_codes(str(error), cls)) from None


def _with_codes(detail: str, cls: type[Row]) -> str:
    """What is wrong with a row; of an unknown code, with the known ones."""
    if not detail.startswith("Invalid enum value"):
        return detail
    at: Any = msgspec.inspect.type_info(cls)
    for name in re.findall("[a-z_]+", detail.rpartition("$")[2]):
        found = next(field.type for field in at.fields if field.name == name)
        at = getattr(found, "item_type", getattr(found, "key_type", found))
    return f"{detail}; known are {', '.join(at.cls)}"


def _unique(rows: Iterable[_Placed[Any]]) -> list[_Placed[Any]]:
    """The rows, when no id stands twice in the whole catalogue."""
    seen: dict[str, _Placed[Any]] = {}
    for placed in rows:
        if (first := seen.setdefault(placed.row.id, placed)) is not placed:
            placed.fail(f"the id stands already in {first.file}")
    return list(seen.values())


def _by_id(rows: Iterable[_Placed[Any]]) -> dict[str, Any]:
    return {placed.row.id: placed.row for placed in rows}


# --- places


def _jurisdictions(files: Files) -> list[_Placed[Jurisdiction]]:
    folders = sorted({name.partition("/")[0] for name in files if name != _RULE_SET} - {_SHARED})
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
    """Rules by jurisdiction code, COMMON for those every place shares; every place has an entry."""
    by_code: dict[str, list[Rule]] = {code: [] for code in (COMMON, *codes)}
    for placed in rules:
        folder = placed.file.partition("/")[0]
        by_code[COMMON if folder == _SHARED else folder.upper()].append(placed.row)
    return {code: tuple(rows) for code, rows in by_code.items()}


# --- checks of rows by themselves (see faults), and of rows together


def _check(rows: Iterable[_Placed[Any]]) -> None:
    for placed in rows:
        if fault := fault_of(placed.row):
            placed.fail(fault)


def _check_sources(rows: Iterable[_Placed[Any]], documents: Mapping[str, Document]) -> None:
    for placed in rows:
        if placed.row.document not in documents:
            placed.fail(f"document {placed.row.document} is not in the register")
        practice = documents[placed.row.document].kind == "practice"
        if practice != (placed.row.verified is Verified.NONE):
            placed.fail("verified is none exactly where the document is common practice")


def _check_bodies(rules: Iterable[_Placed[Rule]], finishes: Container[str]) -> None:
    """Rules look at what finishes are made of; one for a body that only layers beneath have would hold nowhere."""
    for placed in rules:
        if idle := [body for body in placed.row.when.bodies if body not in finishes]:
            placed.fail(f"no finish is made of {', '.join(idle)}; bodies are those of finishes, not of layers beneath")


def _check_words(rows: Iterable[_Placed[Any]]) -> None:
    """A word that is a name already would never be looked at."""
    told = [(placed, placed.row.id if hasattr(placed.row, "id") else placed.row.code) for placed in rows]
    for placed, _ in told:
        if fault := _word_fault(placed.row.also_called, [name for _, name in told]):
            placed.fail(fault)


def _check_codes(codes: _Placed[Codes]) -> None:
    for field in msgspec.structs.fields(Codes):
        words: Mapping[str, tuple[str, ...]] = getattr(codes.row, field.name)
        for code, called in words.items():
            if fault := _word_fault(called, [*get_args(field.type)[0]]):
                codes.fail(f"{field.name}, {code}: {fault}")


def _word_fault(words: Iterable[str], names: Iterable[str]) -> str | None:
    taken = {evened(name): f"it is the name {name}" for name in names}
    for word in words:
        if evened(word) in taken:
            return f'also_called "{word}" says nothing new: {taken[evened(word)]}'
        taken[evened(word)] = "it stands twice"
    return None


def _check_whole(stem: str, wanted: Iterable[str], there: Container[str]) -> None:
    """The engine relies on these rows: without one, calls would fail instead of the start."""
    if missing := [name for name in wanted if name not in there]:
        _fail(f"{_SHARED}/{stem}.toml", f"no row for {', '.join(missing)}")


def _joint(higher: FinishKind, lower: FinishKind) -> str:
    return f"{higher} over {lower}"


_JOINTS = [_joint(*pair) for pair in product((FinishKind.HARD, FinishKind.CARPET), repeat=2)]


def _check_every_place(lifts: Iterable[_Placed[Lift]], codes: Container[str]) -> None:
    """At most one lift for a place, so that the order of rows decides nothing, and one for all other places."""
    seen: dict[str, str] = {}
    for placed in lifts:
        for code in placed.row.jurisdictions:
            if code != COMMON and code not in codes:
                placed.fail(f"{code} is no jurisdiction of this catalogue")
            if code in seen:
                placed.fail(f'jurisdiction "{code}" has a lift already: {seen[code]}')
            seen[code] = placed.row.id
    if COMMON not in seen:
        _fail(f"{_SHARED}/handling.toml", 'no row for the places without one of their own: jurisdiction ""')
