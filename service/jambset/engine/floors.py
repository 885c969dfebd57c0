"""Build-ups as floors: how high their top stands above the subfloor, what it is, and what can be wrong with one."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import chain
from typing import NamedTuple

from msgspec import UNSET, Struct
from msgspec.structs import replace

from jambset.errors import FieldError, unknown
from jambset.model.request import Fixing, Layer, ThicknessOf
from jambset.rules import naming
from jambset.rules.schema import Catalogue, FinishKind, Material

SLAB = "concrete"
"""What a bare slab is made of."""
COATINGS = 16
"""A stated thickness beyond this many times the thickest coating of a bare slab must be the slab's own."""

CUSHIONING = "foam"
"""What a cushion is made of: a carpet with it closes against legs, what lies beneath both does not."""

FAR = 2
"""How many times the greatest thickness of its kind, or what part of the least, is far from usual: our judgement."""


class Unusual(Struct, frozen=True, gc=False):
    """A layer stated far thicker or thinner than its kind is laid [ticks]; often another unit was meant."""

    place: int
    """In its build-up, from the subfloor up, from 0."""
    thickness: int
    material: Material


class Bed(NamedTuple):
    """How high the top of what lies on the subfloor under carpet and cushion stands [ticks]."""

    least: int = 0
    nominal: int = 0
    greatest: int = 0


class Floor(Struct, frozen=True, gc=False, cache_hash=True):
    """One build-up: what its top is and how high it stands above the subfloor [ticks].

    It is shared by all openings that have it, and a key of what follows from it alone.
    """

    kind: FinishKind
    body: str
    """What the top is made of."""
    least: int
    nominal: int
    greatest: int
    top: int
    """Nominal thickness of the layer on top."""
    pile: int
    """Of the carpet on top, nominal; 0 for a hard finish."""
    bed: Bed
    """What a carpet and its cushion lie on; nothing for a hard finish."""
    floating: bool
    glued: bool
    """Whether the top is glued down."""
    heated: bool
    """Whether pipes or cables of a heating lie in it."""
    title: str
    unusual: tuple[Unusual, ...]

    @property
    def solid(self) -> int:
        """How high what isn't tucked lies [ticks]: all of a hard floor, of a carpet what it and its cushion lie on."""
        return self.nominal if self.kind is FinishKind.HARD else self.bed.nominal


@lru_cache(maxsize=1024)
def floor_of(layers: tuple[Layer, ...], catalogue: Catalogue) -> Floor:
    """A build-up as one floor: the sums of its layers' thicknesses and what its top is."""
    least, nominal, greatest = _sum(layers, catalogue)
    finish = catalogue.materials[layers[-1].material]
    soft = finish.finish == "carpet"
    top = layer_spread(layers[-1], catalogue)[1]
    pile = max(0, top - catalogue.defaults.carpet_backing)
    return Floor(
        kind=FinishKind.CARPET if soft else FinishKind.HARD,
        body=finish.body,
        least=least,
        nominal=nominal,
        greatest=greatest,
        top=top,
        pile=pile if soft else 0,
        bed=_bed(layers, catalogue) if soft else Bed(),
        floating=any(_floats(layer, catalogue) for layer in layers),
        glued=layers[-1].fixing is Fixing.GLUED,
        heated=any(catalogue.materials[layer.material].heated for layer in layers),
        title=finish.title,
        unusual=tuple(_unusual(layers, catalogue)),
    )


def _sum(layers: tuple[Layer, ...], catalogue: Catalogue) -> Bed:
    least, nominal, greatest = zip(Bed(), *(layer_spread(layer, catalogue) for layer in layers), strict=True)
    return Bed(sum(least), sum(nominal), sum(greatest))


def lying(floor: Floor, top: int) -> Floor:
    """A floor that lies as high as that [ticks], within what it may; what is under a carpet has its share of it."""
    off, bed = top - floor.nominal, floor.bed
    room = (floor.greatest - floor.nominal, bed.greatest - bed.nominal)
    if off < 0:
        room = (floor.nominal - floor.least, bed.nominal - bed.least)
    under = bed.nominal + (off * room[1] // room[0] if off else 0)
    return replace(floor, least=top, nominal=top, greatest=top, bed=Bed(under, under, under))


def is_same(one: Floor, other: Floor) -> bool:
    """Whether two floors are one that runs through: what its finish is, how thick, how fixed, and how high it lies."""
    return one == replace(other, bed=one.bed, heated=one.heated)


def raised(floor: Floor, layer: int) -> Floor:
    """A floor on one more layer [ticks]."""
    bed = Bed(*[height + layer for height in floor.bed]) if floor.kind is FinishKind.CARPET else floor.bed
    return replace(
        floor, least=floor.least + layer, nominal=floor.nominal + layer, greatest=floor.greatest + layer, bed=bed
    )


def is_loose(layers: tuple[Layer, ...], catalogue: Catalogue) -> bool:
    """Whether a build-up ends in a carpet of which neither a cushion nor how it is held is stated."""
    top = layers[-1]
    if top.fixing is not UNSET or catalogue.materials[top.material].finish != "carpet":
        return False
    return all(catalogue.materials[layer.material].body != CUSHIONING for layer in layers[:-1])


@lru_cache(maxsize=1024)
def doubt(layers: tuple[Layer, ...], catalogue: Catalogue) -> int:
    """By how much the layers whose thickness nobody states may lie off the typical one, all together [ticks]."""
    typical = [spread(layer, catalogue.materials[layer.material]) for layer in layers if layer.thickness is UNSET]
    return sum([max(nominal - least, greatest - nominal) for least, nominal, greatest in typical])


def _bed(layers: tuple[Layer, ...], catalogue: Catalogue) -> Bed:
    """What lies beneath a carpet and the cushion under it."""
    below = layers[:-1]
    while below and catalogue.materials[below[-1].material].body == CUSHIONING:
        below = below[:-1]
    return _sum(below, catalogue)


def _unusual(layers: tuple[Layer, ...], catalogue: Catalogue) -> Iterator[Unusual]:
    """Layers stated far thicker or thinner than their kind, and without a whole range: who states one means it."""
    for place, layer in enumerate(layers):
        if layer.thickness is not UNSET and UNSET in (layer.least, layer.greatest):
            _, thickness, _ = layer_spread(layer, catalogue)
            material = catalogue.materials[layer.material]
            if not material.least <= thickness * FAR <= material.greatest * FAR * FAR:
                yield Unusual(place, thickness, material)


def _floats(layer: Layer, catalogue: Catalogue) -> bool:
    """Whether a layer floats: as it is said to be fixed, else as it is commonly laid."""
    return layer.fixing is Fixing.FLOATING or (layer.fixing is UNSET and catalogue.materials[layer.material].floats)


def layer_spread(layer: Layer, catalogue: Catalogue) -> tuple[int, int, int]:
    """Least, nominal and greatest thickness of a layer as it lies [ticks]; its backing is added to a stated pile."""
    more = catalogue.defaults.carpet_backing if layer.thickness_of is ThicknessOf.PILE else 0
    least, nominal, greatest = spread(layer, catalogue.materials[layer.material])
    return least + more, nominal + more, greatest + more


def spread(layer: Layer, material: Material) -> tuple[int, int, int]:
    """Least, nominal and greatest thickness of a layer [ticks]: stated, else by published tolerance, else typical."""
    if layer.thickness is UNSET:
        least, nominal, greatest = int(material.least), int(material.nominal), int(material.greatest)
    else:
        off = 0 if material.tolerance is UNSET else int(material.tolerance)
        nominal = int(layer.thickness)
        least, greatest = max(0, nominal - off), nominal + off
    return (
        least if layer.least is UNSET else int(layer.least),
        nominal,
        greatest if layer.greatest is UNSET else int(layer.greatest),
    )


@lru_cache(maxsize=1024)
def build_up_faults(pointer: str, layers: tuple[Layer, ...], catalogue: Catalogue) -> tuple[FieldError, ...]:
    """What is wrong with the layers of a build-up; the same few stand in every opening of a house."""
    last = len(layers) - 1
    found = (
        layer_faults(f"{pointer}/{place}", layer, catalogue, top=place == last) for place, layer in enumerate(layers)
    )
    return tuple(chain.from_iterable(found))


def layer_faults(pointer: str, layer: Layer, catalogue: Catalogue, *, top: bool) -> Iterator[FieldError]:
    """What is wrong with one layer of a build-up. pointer: the layer's. top: whether it is the last."""
    material = catalogue.materials.get(layer.material)
    if material is None:
        yield unknown(f"{pointer}/material", layer.material, naming.materials(catalogue))
        return
    if top and material.finish == "none":
        detail = (
            f'Layers are listed from the subfloor up and the last must be a finish, which "{layer.material}" is not; '
            "list it earlier, or add the layer that lies on top of it."
        )
        yield FieldError(f"{pointer}/material", "not_a_finish", detail)
    least, nominal, greatest = spread(layer, material)
    if material.nominal == 0 and nominal > COATINGS * material.greatest:
        detail = (
            f'"{layer.material}" is the slab itself, which is the subfloor: heights are counted from its top. Give '
            "what a coating on it adds, or 0 in."
        )
        yield FieldError(f"{pointer}/thickness", "implausible", detail)
    if not least <= nominal <= greatest:
        given = [name for name in ("thickness", "least", "greatest") if getattr(layer, name) is not UNSET]
        detail = "least, thickness and greatest must stand in that order."
        if len(given) < 3:
            detail += " For those not stated, the material's own count (see GET /v1/finishes); state them as well."
        yield FieldError(f"{pointer}/{given[0]}", "out_of_order", detail)
