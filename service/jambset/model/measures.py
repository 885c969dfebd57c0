"""The measured fields of a request, each with the range that is plausible for it.

The ranges catch a wrong unit, they are no rule: a 12 in leaf is refused because somebody meant 12 ft
or 120 cm, not because it is forbidden.
"""

from __future__ import annotations

from jambset.quantity.ticks import FOOT, INCH, METRE, MM, Area, Flow, Length, Pressure, Temperature


class LeafWidth(Length):
    """Width of one leaf."""

    TITLE, LEAST, GREATEST = "leaf width", 12 * INCH, 60 * INCH


class LeafHeight(Length):
    """Height of the leaf as made, measured, not nominal."""

    TITLE, LEAST, GREATEST = "leaf height", 48 * INCH, 144 * INCH


class LeafThickness(Length):
    """Thickness of the leaf."""

    TITLE, LEAST, GREATEST = "leaf thickness", 3 * INCH // 4, 4 * INCH


class OpeningWidth(Length):
    """Width of the rough opening."""

    TITLE, LEAST, GREATEST = "rough-opening width", 14 * INCH, 144 * INCH


class OpeningHeight(Length):
    """Height of the rough opening, from the highest subfloor under the legs to the header."""

    TITLE, LEAST, GREATEST = "rough-opening height", 50 * INCH, 160 * INCH


class Undercut(Length):
    """Leaf bottom to frame bottom, as the unit was made."""

    TITLE, LEAST, GREATEST = "undercut", 0, 4 * INCH


class HeadGap(Length):
    """Gap between the leaf's top and the head of the frame."""

    TITLE, LEAST, GREATEST = "gap at the head", 0, INCH // 2


class JambThickness(Length):
    """Thickness of a jamb leg or of the head of the frame."""

    TITLE, LEAST, GREATEST = "jamb thickness", INCH // 4, 4 * INCH


class LayerThickness(Length):
    """Thickness of one layer of a build-up, or of a rug."""

    TITLE, LEAST, GREATEST = "layer thickness", 0, 6 * INCH


class SubfloorHeight(Length):
    """Height of the subfloor at a point above any one benchmark of the caller's."""

    TITLE, LEAST, GREATEST = "subfloor height", -4 * INCH, 4 * INCH


class SurveyRadius(Length):
    """Distance of a survey point from the hinge line."""

    TITLE, LEAST, GREATEST = "distance from the hinge", 0, 120 * INCH


class SlopeRise(Length):
    """Rise of a slope over its run."""

    TITLE, LEAST, GREATEST = "rise of a slope", 0, 6 * INCH


class SlopeRun(Length):
    """Run of a slope."""

    TITLE, LEAST, GREATEST = "run of a slope", 6 * INCH, 50 * FOOT


class PieceRise(Length):
    """Top of a transition piece above the higher finish."""

    TITLE, LEAST, GREATEST = "rise of a transition piece", 0, 3 * INCH


class Clearance(Length):
    """A clearance or height wanted by the project."""

    TITLE, LEAST, GREATEST = "clearance", 0, 4 * INCH


class Foot(Length):
    """Bottom of the legs above the datum."""

    TITLE, LEAST, GREATEST = "foot of the legs", 0, 4 * INCH


class LegFoot(Length):
    """Bottom of one leg above the datum; below 0 on the lower subfloor."""

    TITLE, LEAST, GREATEST = "foot of a leg", -4 * INCH, 4 * INCH


class LeafBottom(Length):
    """Bottom of the leaf above the datum."""

    TITLE, LEAST, GREATEST = "leaf bottom", 0, 6 * INCH


class MeasuredGap(Length):
    """Gap measured between the closed leaf and the floor."""

    TITLE, LEAST, GREATEST = "measured gap", 0, 4 * INCH


class Altitude(Length):
    """Height of the site above sea level."""

    TITLE, LEAST, GREATEST = "altitude", -500 * METRE, 5_000 * METRE


class GrilleSide(Length):
    """Width or height of a transfer grille."""

    TITLE, LEAST, GREATEST = "side of a grille", 2 * INCH, 60 * INCH


class DuctDiameter(Length):
    """Inside diameter of a round duct."""

    TITLE, LEAST, GREATEST = "duct diameter", 2 * INCH, 24 * INCH


class DuctLength(Length):
    """Length of a duct."""

    TITLE, LEAST, GREATEST = "duct length", 0, 100 * FOOT


class Roughness(Length):
    """Absolute roughness of a duct's wall."""

    TITLE, LEAST, GREATEST = "duct roughness", 0, 10 * MM


class SupplyFlow(Flow):
    """Air supplied to (or exhausted from) the room behind the door."""

    TITLE, LEAST, GREATEST = "supply flow", 0.0004, 0.5


class PressureLimit(Pressure):
    """Pressure difference allowed across the closed door."""

    TITLE = "pressure limit"


class RoomTemperature(Temperature):
    """Temperature of the air in the room."""

    TITLE = "room temperature"


class LeakageArea(Area):
    """Effective leakage area of a crack at 4 Pa."""

    TITLE, LEAST, GREATEST = "effective leakage area", 0.0, 0.1


class FreeArea(Area):
    """Free area of a grille, as its maker states it."""

    TITLE, LEAST, GREATEST = "free area", 1e-4, 1.0
