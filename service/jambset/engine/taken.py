"""What an answer was worked out from, as read or assumed: sizes of the unit, subfloor, and each layer as counted."""

from __future__ import annotations

from functools import lru_cache

from msgspec import UNSET

from jambset.engine.facts import Facts, SideFacts
from jambset.engine.floors import layer_spread
from jambset.model.advice import FloorTaken, LayerTaken, SubfloorTaken, Taken, quote
from jambset.model.request import Layer
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue


def taken(facts: Facts, catalogue: Catalogue) -> Taken:
    """The sizes behind an answer; what nobody stated is left out."""
    leaf, hole, ground = facts.opening.leaf, facts.opening.rough_opening, facts.ground
    return Taken(
        leaf_width=Length(leaf.width),
        leaf_height=Length(leaf.height),
        leaf_thickness=Length(leaf.thickness),
        leaves=leaf.count,
        core=leaf.core,
        undercut=UNSET if facts.undercut is None else Length(facts.undercut),
        head_gap=Length(facts.leaf_and_gap - leaf.height),
        head_thickness=Length(facts.above_leaf - facts.leaf_and_gap),
        leg_thickness=Length(facts.legs),
        rough_opening_height=UNSET if hole is UNSET else Length(hole.height),
        rough_opening_width=UNSET if hole is UNSET or hole.width is UNSET else Length(hole.width),
        subfloor=SubfloorTaken(
            hinge_leg=Length(ground.hinge_leg),
            strike_leg=Length(ground.strike_leg),
            under_leaf=Length(ground.closed_mean),
        ),
        pull_side=_floor(facts.pull, catalogue),
        push_side=_floor(facts.push, catalogue),
    )


def _floor(side: SideFacts, catalogue: Catalogue) -> FloorTaken:
    top = 0 if side.floor is None else side.floor.nominal
    return _counted(side.layers, top, side.certain, catalogue)


@lru_cache(maxsize=1024)
def _counted(layers: tuple[Layer, ...], top: int, certain: bool, catalogue: Catalogue) -> FloorTaken:
    """The same floor lies at many openings."""
    return FloorTaken(certain=certain, layers=tuple([_layer(layer, catalogue) for layer in layers]), top=Length(top))


def _layer(layer: Layer, catalogue: Catalogue) -> LayerTaken:
    material = catalogue.materials[layer.material]
    least, nominal, greatest = layer_spread(layer, catalogue)
    return LayerTaken(
        material=material.id,
        title=quote(material.title),
        body=material.body,
        least=Length(least),
        nominal=Length(nominal),
        greatest=Length(greatest),
    )
