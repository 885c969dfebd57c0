"""Faults between the fields of a refused body: those the engine would find, as far as the fields can be read.

Each member is read by itself, so that one that can't be read hides only the faults it has a part in.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeVar

import msgspec
from msgspec import UNSET, UnsetType

from jambset.engine.facts import PULL, PUSH, angle_faults, certainty_faults, foot_faults, height_faults, weight_faults
from jambset.engine.floors import layer_faults
from jambset.errors import FieldError
from jambset.model import measures as m
from jambset.model.request import Angle, Certainty, Frame, FrameState, Layer, Leaf, Weight
from jambset.quantity.parse import dec_hook
from jambset.rules.schema import Catalogue

T = TypeVar("T")

_OF_LAYER = {field.name: field.type for field in msgspec.structs.fields(Layer)}
_SIZES = {"least", "thickness", "greatest"}


def faults_between(document: object, catalogue: Catalogue) -> Iterator[FieldError]:
    """What is wrong between those members of a decoded opening that can be read."""
    leaf, frame, hole = (_member(document, name, {}) for name in ("leaf", "frame", "rough_opening"))
    yield from foot_faults(_at(m.Clearance, frame, "foot"), _at(FrameState, frame, "state", Frame().state))
    yield from height_faults(hole=_at(m.OpeningHeight, hole, "height"), leaf=_at(m.LeafHeight, leaf, "height"))
    yield from angle_faults(
        cut_angle=_at(Angle, leaf, "cut_angle"), opening_angle=_at(Angle, leaf, "opening_angle", _OPENS)
    )
    for name in (PULL, PUSH):
        yield from _side_faults(f"#/{name}", _member(document, name, {}), catalogue)


_OPENS = next(field.default for field in msgspec.structs.fields(Leaf) if field.name == "opening_angle")


def _side_faults(pointer: str, side: object, catalogue: Catalogue) -> Iterator[FieldError]:
    yield from _floor_faults(pointer, side, catalogue)
    others, named = _items(side, "could_become"), _member(side, "build_up", UNSET) is not UNSET
    for place, other in enumerate(others):
        yield from _floor_faults(f"{pointer}/could_become/{place}", other, catalogue)
    yield from certainty_faults(pointer, _at(Certainty, side, "certainty"), named=named, others=len(others))
    if all(_can(Weight, _member(other, "weight", 1.0)) for other in others):
        yield from weight_faults(pointer, [_member(other, "weight", UNSET) for other in others], named=named)


def _floor_faults(pointer: str, floor: object, catalogue: Catalogue) -> Iterator[FieldError]:
    layers = _items(floor, "build_up")
    for place, raw in enumerate(layers):
        layer = _layer(raw)
        if not isinstance(layer, UnsetType):
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
    return found if isinstance(found, list) else []


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
