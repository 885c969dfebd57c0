"""Faults between the fields of a refused body: those the engine would find, as far as the fields can be read.

Each member is read by itself, so that one that can't be read hides only the faults it has a part in.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from typing import Any, NamedTuple, TypeVar

import msgspec
from msgspec import UNSET, UnsetType

from jambset.engine import as_set as setting
from jambset.engine.contradictions import (
    angle_faults,
    certainty_faults,
    day_faults,
    foot_faults,
    grille_faults,
    height_faults,
    weight_faults,
)
from jambset.engine.doors import line_faults
from jambset.engine.facts import PULL, PUSH
from jambset.engine.floors import layer_faults
from jambset.errors import FieldError, Known
from jambset.http.addresses import HOUSE_RECHECK
from jambset.http.faults import pointer
from jambset.http.forms import longest
from jambset.http.members import MEMBERS, SET_MEMBERS, Members, lost_nulls
from jambset.model import measures as m
from jambset.model.request import (
    Angle,
    AsSet,
    Certainty,
    ExternalId,
    Frame,
    FrameState,
    Grille,
    House,
    Layer,
    Leaf,
    LineAsSet,
    Mark,
    Side,
    Weight,
)
from jambset.quantity.parse import dec_hook
from jambset.rules.schema import Catalogue

T = TypeVar("T")

_OF_LAYER = {field.name: field.type for field in msgspec.structs.fields(Layer)}
_SIZES = {"least", "thickness", "greatest"}
_MOST = longest(Side, "build_up", "could_become")
"""Items looked at in a list; one with more is refused for its length."""


def faults_between(document: object, catalogue: Catalogue) -> Iterator[FieldError]:
    """What is wrong between those members of a decoded opening that can be read."""
    frame = _member(document, "frame", {})
    yield from foot_faults(_at(m.Foot, frame, "foot"), _at(FrameState, frame, "state", Frame().state))
    yield from _opening_faults(document, catalogue)


def recheck_faults(document: object, catalogue: Catalogue) -> Iterator[FieldError]:
    """What is wrong between those members of a decoded recheck that can be read."""
    yield from _opening_faults(document, catalogue)
    yield from _setting_faults(document)


def _opening_faults(document: object, catalogue: Catalogue) -> Iterator[FieldError]:
    yield from day_faults(_at(datetime.date, document, "as_of"), catalogue)
    leaf, hole = (_member(document, name, {}) for name in ("leaf", "rough_opening"))
    yield from height_faults(hole=_at(m.OpeningHeight, hole, "height"), leaf=_at(m.LeafHeight, leaf, "height"))
    yield from angle_faults(
        cut_angle=_at(Angle, leaf, "cut_angle"), opening_angle=_at(Angle, leaf, "opening_angle", _OPENS)
    )
    for place, path in enumerate(_items(_member(document, "air", {}), "other_paths")):
        if _member(path, "kind", "") == GRILLE:
            yield from grille_faults(
                f"#/air/other_paths/{place}",
                width=_at(m.GrilleSide, path, "width"),
                height=_at(m.GrilleSide, path, "height"),
                free_area=_at(m.FreeArea, path, "free_area"),
            )
    for name in (PULL, PUSH):
        yield from _side_faults(f"#/{name}", _member(document, name, {}), catalogue)


GRILLE = Grille.__struct_config__.tag
_OPENS = next(field.default for field in msgspec.structs.fields(Leaf) if field.name == "opening_angle")


def _side_faults(pointer: str, side: object, catalogue: Catalogue) -> Iterator[FieldError]:
    yield from _floor_faults(pointer, side, catalogue)
    others, named = _items(side, "could_become"), _member(side, "build_up", UNSET) is not UNSET
    for place, other in enumerate(others):
        yield from _floor_faults(f"{pointer}/could_become/{place}", other, catalogue)
    weights = [_at(Weight, other, "weight") for other in others]
    yield from certainty_faults(pointer, _at(Certainty, side, "certainty"), named=named, weights=weights)
    if all(_can(Weight, _member(other, "weight", 1.0)) for other in others):
        yield from weight_faults(pointer, weights, named=named)


def _floor_faults(pointer: str, floor: object, catalogue: Catalogue) -> Iterator[FieldError]:
    layers = _items(floor, "build_up")
    for place, raw in enumerate(layers):
        layer = _layer(raw)
        if layer is not UNSET:
            top = place == len(layers) - 1
            yield from layer_faults(f"{pointer}/build_up/{place}", layer, catalogue, top=top)


def _layer(raw: object) -> Layer | UnsetType:
    """A layer of the members that can be read; of its sizes all or none, since each is held against the others."""
    given = raw if isinstance(raw, dict) else {}
    good = {name: value for name, value in given.items() if name in _OF_LAYER and _can(_OF_LAYER[name], value)}
    if not _SIZES & given.keys() <= good.keys():
        good = {name: value for name, value in good.items() if name not in _SIZES}
    return _read(Layer, good)


def _member(of: object, name: str, otherwise: object) -> object:
    return of.get(name, otherwise) if isinstance(of, dict) else otherwise


def _items(of: object, name: str) -> list[Any]:
    found = _member(of, name, [])
    return found[:_MOST] if isinstance(found, list) else []


def _at(kind: Any, of: object, name: str, otherwise: Any = UNSET) -> Any:
    """A member as its kind; what stands for it when it is left out, UNSET when it can't be read."""
    found = _member(of, name, UNSET)
    return otherwise if found is UNSET else _read(kind, found)


def _can(kind: Any, raw: object) -> bool:
    return not isinstance(_read(kind, raw), UnsetType)


def _read(kind: type[T], raw: object) -> T | UnsetType:
    try:
        return msgspec.convert(raw, kind, strict=True, dec_hook=dec_hook)
    except msgspec.ValidationError:
        return UNSET


# --- a recheck


def _setting_faults(document: object) -> Iterator[FieldError]:
    """Faults between the members of a setting, each as far as what it is held against can be read."""
    kinds: dict[str, Any] = {"as_set": AsSet, "frame": Frame, PULL: Side, PUSH: Side}
    parts = {name: _read(kind, _member(document, name, {})) for name, kind in kinds.items()}
    read = {name for name, part in parts.items() if part is not UNSET}
    unit: Any = Setting(**parts)
    if "frame" in read:
        yield from setting.frame_faults(unit)
    if "as_set" in read and "as_set" in (document if isinstance(document, dict) else ()):
        yield from setting.foot_faults(unit)
        if {PULL, PUSH} <= read:
            yield from setting.leaf_faults(unit)


class Setting(NamedTuple):
    """The parts of a recheck in which faults are found."""

    as_set: object
    frame: object
    pull_side: object
    push_side: object


# --- a house


def house_faults(document: object, members: Members = MEMBERS) -> Iterator[FieldError]:
    """What is wrong between those members of a decoded house that can be read. members: those of its openings."""
    yield from default_faults(document, members)
    yield from _line_faults(document)


def _of_set_doors(name: str) -> str:
    """Which call takes a default that only openings have that are set; "" of any other."""
    return f" It belongs to POST {HOUSE_RECHECK}." if name in SET_MEMBERS and name not in MEMBERS else ""


def default_faults(document: object, members: Members = MEMBERS) -> Iterator[FieldError]:
    """Defaults of a decoded house that no opening could take over, misspelt ones above all."""
    known = tuple(name for name in members if name != "mark")
    defaults = _member(document, "defaults", {})
    for name, given in defaults.items() if isinstance(defaults, dict) else ():
        if name == "mark":
            detail = "Every opening has a mark of its own; write it there."
            yield FieldError(pointer(["defaults", name]), "unknown_field", detail)
        elif name not in known:
            hint = _of_set_doors(name) or Known(known).meant(name) or f" Known here: {', '.join(known)}."
            detail = f"No opening has a field of this name; remove it.{hint}"
            yield FieldError(pointer(["defaults", name]), "unknown_field", detail)
        else:
            yield from lost_nulls(given, members[name], ["defaults", name])


def _line_faults(document: object) -> Iterator[FieldError]:
    """Marks and names of the head lines that can be read, held against the marks of the openings that can be read."""
    lines, openings = _member(document, "head_lines", []), _member(document, "openings", [])
    if not isinstance(lines, list) or not isinstance(openings, list):
        return
    marks = [names_of(opening).get("mark", UNSET) for opening in openings[:_OPENINGS]]
    read = [_read(LineAsSet, line) for line in lines[:_LINES]]
    blank = [LineAsSet(name=f"\0{place}", marks=()) for place in range(len(read))]
    head_lines = [new if line is UNSET else line for line, new in zip(read, blank, strict=True)]
    known = {mark for mark in marks if mark is not UNSET}
    house = House(house="", openings=(), head_lines=tuple(head_lines))
    yield from line_faults(house, known, unreadable=UNSET in marks)


_OPENINGS, _LINES = longest(House, "openings"), longest(House, "head_lines")


def names_of(opening: object) -> dict[str, str]:
    """What its caller calls a decoded opening, mark and external_id, as far as they can be read."""
    read = {name: _at(kind, opening, name) for name, kind in _NAMES.items()}
    return {name: given for name, given in read.items() if given is not UNSET}


_NAMES = {"mark": Mark, "external_id": ExternalId}
