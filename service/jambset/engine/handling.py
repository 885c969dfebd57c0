"""How heavy a leaf is and how many people lift it, from the catalogue's densities and published guidance."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from jambset.engine.facts import Facts
from jambset.model.advice import Caution, Citation, Phrase, quote
from jambset.model.request import FrameState, Leaf, Opening
from jambset.model.source import Force
from jambset.quantity.ticks import metres
from jambset.rules.schema import Catalogue, CoreMass, Lift
from jambset.rules.select import lineage


class MassRange(NamedTuple):
    """Mass of one leaf [kg]: the lightest and heaviest plausible, and what is expected."""

    least: float
    nominal: float
    greatest: float


def leaf_mass_kg(*, width_m: float, height_m: float, thickness_m: float, density_kg_m3: float) -> float:
    """Mass of a leaf [kg] from its outer size and the density of its construction as a whole.

    width_m, height_m, thickness_m: outer size [m], above 0. density_kg_m3: mean over the whole volume,
    voids and skins together [kg/m³], 100 to 2000.
    Source: mass is density times volume; the densities stand in the catalogue (cores.toml).
    >>> round(leaf_mass_kg(width_m=0.762, height_m=2.032, thickness_m=0.034925, density_kg_m3=560), 2)
    30.28
    """
    return width_m * height_m * thickness_m * density_kg_m3


def mass_range(leaf: Leaf, catalogue: Catalogue) -> MassRange:
    """Least, nominal and greatest mass of one leaf [kg]; of a pair too it is the mass of one of the two."""
    return _masses(leaf.width, leaf.height, leaf.thickness, catalogue.cores[leaf.core])


@lru_cache(maxsize=1024)
def _masses(width: int, height: int, thickness: int, core: CoreMass) -> MassRange:
    """Of a leaf of some size [ticks]; the leaves of a house share a handful of sizes."""
    least, nominal, greatest = (
        leaf_mass_kg(
            width_m=metres(width), height_m=metres(height), thickness_m=metres(thickness), density_kg_m3=density
        )
        for density in (core.density_least, core.density, core.density_greatest)
    )
    return MassRange(least, nominal, greatest)


@lru_cache(maxsize=256)
def lift_for(jurisdiction: str, catalogue: Catalogue) -> Lift:
    """The guidance on lifting that is closest to a place: its own, a parent's, or the common one.

    Raises KeyError for a jurisdiction the catalogue doesn't know.
    """
    lifts = {place: lift for lift in catalogue.lifts for place in lift.jurisdictions}
    return next(lifts[place] for place in reversed(lineage(catalogue, jurisdiction)) if place in lifts)


def cautions(facts: Facts, catalogue: Catalogue, *, off: bool) -> tuple[Caution, ...]:
    """What goes with lifting the leaf, into the opening or off its hinges to be cut: what it weighs, then the guidance.

    off: whether it is taken off. Nothing where it is set already and stays.
    """
    opening = facts.opening
    if opening.frame.state is FrameState.SET and not off:
        return ()
    lift, mass = lift_for(opening.jurisdiction, catalogue), mass_range(opening.leaf, catalogue)
    people = people_needed(mass.greatest, lift, opening.leaf.height)
    return _cautions(lift, mass.nominal, mass.greatest, people=people, off=off)


@lru_cache(maxsize=1024)
def _cautions(lift: Lift, mass: float, greatest: float, *, people: int, off: bool) -> tuple[Caution, ...]:
    """mass, greatest: [kg]; the leaves of a house share a handful."""
    text = Phrase(
        "caution.lift_two" if people > 1 else "caution.lift_one",
        mass=_both(mass),
        greatest=_both(greatest),
        off=Phrase("caution.rehang" if off else "caution.hang"),
    )
    weighs = Caution(code="handling", text=text, rule=lift.id)
    return weighs, Caution(code=lift.id, text=quote(lift.text), rule=lift.id)


def _both(kg: float) -> str:
    """A mass in both units.

    >>> _both(30.28)
    '30 kg (67 lb)'
    """
    return f"{kg:.0f} kg ({kg / 0.45359237:.0f} lb)"


def sources(opening: Opening, catalogue: Catalogue) -> tuple[Citation, ...]:
    """Where the guidance on lifting and the density behind a leaf's mass come from."""
    lift, core = lift_for(opening.jurisdiction, catalogue), catalogue.cores[opening.leaf.core]
    return _sources(lift, core, catalogue)


@lru_cache(maxsize=256)
def _sources(lift: Lift, core: CoreMass, catalogue: Catalogue) -> tuple[Citation, ...]:
    return tuple(
        [
            Citation(
                rule=name,
                title=quote(row.title),
                document=quote(catalogue.documents[row.document].title),
                clause=quote(row.clause),
                edition=quote(edition),
                force=Force.PRACTICE,
                verified=row.verified,
            )
            for name, row, edition in ((lift.id, lift, lift.edition), (f"mass.{core.id}", core, "see the document"))
        ]
    )


def people_needed(mass_kg: float, lift: Lift, height: int) -> int:
    """How many people lift a leaf, 1 or 2.

    mass_kg: the greatest plausible mass [kg]. height: of the leaf [ticks]. What equals the limit of mass
    is lifted by one; a leaf as high as the limit of height takes two.
    """
    return 2 if mass_kg > lift.one_person_kg or height >= lift.two_person_height else 1
