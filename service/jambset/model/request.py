"""What a caller sends: one opening with its floors, as frozen structs that refuse unknown fields.

Field names and shapes are the contract; limits stand in the types. Quantities are decoded straight
into ticks and SI floats (jambset.quantity.parse.dec_hook). What is left out is unknown, never zero.
"""

from __future__ import annotations

import datetime
from enum import StrEnum
from typing import Annotated, Any

import msgspec
from msgspec import UNSET, Meta, UnsetType

from jambset.model import measures as m

UNSHOWN = r"\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069"
"""Control characters, line breaks and marks of text direction, as ranges of a pattern."""
PLAIN = rf"^[^{UNSHOWN}]*(?![\s\S])"
"""Text that is shown as it is read. Its end is a look-ahead: a dollar sign also stands before a last line break."""
Mark = Annotated[
    str, Meta(min_length=1, max_length=64, pattern=PLAIN, description="Number of the opening on the door schedule.")
]
Name = Annotated[str, Meta(min_length=1, max_length=80, pattern=PLAIN)]
Code = Annotated[str, Meta(min_length=1, max_length=40, pattern="^[a-z][a-z0-9_]*$")]
Weight = Annotated[float, Meta(gt=0, le=1, description="Likelihood of this alternative, 0 to 1.")]
Angle = Annotated[float, Meta(ge=1, le=180, description="Degrees from the closed position.")]


class Duty(StrEnum):
    """What a rule may require of this opening; the caller states it, the service never guesses it."""

    FIRE_LABEL = "fire_label"
    SMOKE_CONTROL = "smoke_control"
    ACCESSIBLE_ROUTE = "accessible_route"
    FAIR_HOUSING = "fair_housing"
    EGRESS_DOOR = "egress_door"
    GARAGE_TO_HOUSE = "garage_to_house"
    TRANSFER_AIR = "transfer_air"
    EXHAUST_MAKEUP = "exhaust_makeup"
    FUEL_BURNING_ROOM = "fuel_burning_room"
    DRYER_CLOSET = "dryer_closet"
    RATED_HOME_PROGRAMME = "rated_home_programme"


class Core(StrEnum):
    """How the leaf is built; decides how much may come off its bottom."""

    HOLLOW = "hollow"
    SOLID = "solid"
    STILE_AND_RAIL = "stile_and_rail"
    MDF = "mdf"
    STEEL = "steel"
    FIBREGLASS = "fibreglass"


class Hinges(StrEnum):
    """What a leaf hangs on, as far as it matters to taking it off: pins to drive out, lifted off, or under a spring."""

    BUTT = "butt"
    LIFT_OFF = "lift_off"
    SPRING = "spring"


class Certainty(StrEnum):
    """How sure a build-up is."""

    CONFIRMED = "confirmed"
    ASSUMED = "assumed"
    UNDECIDED = "undecided"


class FrameState(StrEnum):
    """How far the unit has come: not bought yet, delivered, or fixed in the opening with its leaf hung."""

    TO_ORDER = "to_order"
    ON_SITE = "on_site"
    SET = "set"


class Fixing(StrEnum):
    """How a layer is held."""

    FLOATING = "floating"
    GLUED = "glued"
    NAILED = "nailed"
    STRETCHED = "stretched"
    BEDDED = "bedded"


class ThicknessOf(StrEnum):
    """What a carpet's thickness names: the whole carpet, or its pile alone as labels print it."""

    TOTAL = "total"
    PILE = "pile"


class RoomUse(StrEnum):
    """What a room is for, where a rule on moving air asks."""

    BEDROOM = "bedroom"
    LIVING = "living"
    HALL = "hall"
    BATH = "bath"
    TOILET = "toilet"
    KITCHEN = "kitchen"
    LAUNDRY = "laundry"
    CLOSET = "closet"
    GARAGE = "garage"
    FURNACE_ROOM = "furnace_room"
    OTHER = "other"


class FlowBasis(StrEnum):
    """Whether a flow is the volume that really passes or the volume it would have at standard density."""

    ACTUAL = "actual"
    STANDARD = "standard"


class GrilleMaterial(StrEnum):
    """What a grille's louvres are made of."""

    METAL = "metal"
    WOOD = "wood"


class BuildingUse(StrEnum):
    """What kind of building the opening is in."""

    DETACHED_HOUSE = "detached_house"
    TOWNHOUSE = "townhouse"
    APARTMENT = "apartment"
    COMMERCIAL = "commercial"


class Wire(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """A part of a request: immutable, by keyword, no unknown field."""


class RoughOpening(Wire, frozen=True, kw_only=True):
    """The framed hole the unit goes into."""

    height: m.OpeningHeight
    width: m.OpeningWidth | UnsetType = UNSET


class Frame(Wire, frozen=True, kw_only=True):
    """The jamb unit: its undercut and the parts above the leaf."""

    undercut: m.Undercut | UnsetType = UNSET
    head_gap: m.HeadGap | UnsetType = UNSET
    head_thickness: m.JambThickness | UnsetType = UNSET
    leg_thickness: m.JambThickness | UnsetType = UNSET
    stop_thickness: m.JambThickness | UnsetType = UNSET
    state: FrameState = FrameState.ON_SITE
    foot: (
        Annotated[m.Clearance, Meta(description="Legs' bottom above the datum, of a frame already set.")] | UnsetType
    ) = UNSET


class Leaf(Wire, frozen=True, kw_only=True):
    """The leaf, or both leaves of a pair (count 2, each of this width)."""

    width: m.LeafWidth
    height: m.LeafHeight
    thickness: m.LeafThickness
    core: Core
    count: Annotated[int, Meta(ge=1, le=2)] = 1
    opening_angle: Angle = 90.0
    cut_angle: Annotated[Angle, Meta(description="Angle at which the hung leaf is held to be cut.")] | UnsetType = UNSET
    fire_minutes: Annotated[int, Meta(ge=1, le=240)] | UnsetType = UNSET
    hinges: Hinges = Hinges.BUTT


class Layer(Wire, frozen=True, kw_only=True):
    """One layer of a build-up above the subfloor. Without a thickness the catalogue's typical one is assumed."""

    material: Code
    thickness: m.LayerThickness | UnsetType = UNSET
    least: m.LayerThickness | UnsetType = UNSET
    greatest: m.LayerThickness | UnsetType = UNSET
    thickness_of: ThicknessOf | UnsetType = UNSET
    fixing: Fixing | UnsetType = UNSET


BuildUp = Annotated[tuple[Layer, ...], Meta(min_length=1, max_length=8, description="Layers from the subfloor up.")]


class Alternative(Wire, frozen=True, kw_only=True):
    """A floor that a side could become."""

    build_up: BuildUp
    weight: Weight | UnsetType = UNSET


class Side(Wire, frozen=True, kw_only=True):
    """One side of the opening. Without a build-up its floor is undecided.

    What the weights of could_become leave of 1 is the build-up's; alternatives without a weight share it with it.
    """

    room: Name | UnsetType = UNSET
    use: RoomUse | UnsetType = UNSET
    build_up: BuildUp | UnsetType = UNSET
    certainty: (
        Annotated[
            Certainty,
            Meta(description="Of the build-up. Left out: confirmed, or assumed where the floor could become another."),
        ]
        | UnsetType
    ) = UNSET
    could_become: Annotated[tuple[Alternative, ...], Meta(max_length=8)] = ()
    rug: m.LayerThickness | UnsetType = UNSET


class LevelSubfloor(Wire, tag="level", tag_field="kind", frozen=True, kw_only=True):
    """Measured and found level."""


class LegHeights(Wire, tag="legs", tag_field="kind", frozen=True, kw_only=True):
    """Subfloor measured at the two legs, above any one benchmark (a pair: its two hinge legs)."""

    hinge_leg: m.SubfloorHeight
    strike_leg: m.SubfloorHeight


class Slope(Wire, tag="slope", tag_field="kind", frozen=True, kw_only=True):
    """A plane. direction: degrees of its uphill line from the line hinge to strike, towards the pull side."""

    rise: m.SlopeRise
    run: m.SlopeRun
    direction: Annotated[float, Meta(ge=-180, le=180)]


class SurveyPoint(Wire, frozen=True, kw_only=True):
    """Subfloor height at a distance from the hinge line and an angle from the closed leaf."""

    radius: m.SurveyRadius
    angle: Annotated[float, Meta(ge=0, le=180)]
    height: m.SubfloorHeight


class Survey(Wire, tag="survey", tag_field="kind", frozen=True, kw_only=True):
    """Points measured on the subfloor, with the two legs. A pair's points are polar about its first hinge leg."""

    hinge_leg: m.SubfloorHeight
    strike_leg: m.SubfloorHeight
    points: Annotated[tuple[SurveyPoint, ...], Meta(min_length=1, max_length=64)]


Subfloor = LevelSubfloor | LegHeights | Slope | Survey


class Transition(Wire, frozen=True, kw_only=True):
    """A transition piece already chosen, or its rise as measured."""

    piece: Code | UnsetType = UNSET
    rise: m.PieceRise | UnsetType = UNSET


class Grille(Wire, tag="grille", tag_field="kind", frozen=True, kw_only=True):
    """A transfer grille beside or in the door: its face and how much of it is free."""

    width: m.GrilleSide
    height: m.GrilleSide
    material: GrilleMaterial = GrilleMaterial.METAL
    free_area: m.FreeArea | UnsetType = UNSET


class Duct(Wire, tag="duct", tag_field="kind", frozen=True, kw_only=True):
    """A jump duct: round, with a grille of the stated free area at each end."""

    diameter: m.DuctDiameter
    length: m.DuctLength
    grille_free_area: m.FreeArea
    roughness: m.Roughness | UnsetType = UNSET
    bend_loss: Annotated[float, Meta(ge=0, le=20, description="Sum of the loss coefficients of its bends.")] = 0.5


class Crack(Wire, tag="crack", tag_field="kind", frozen=True, kw_only=True):
    """The gaps at head and jambs together, as an effective leakage area at 4 Pa."""

    leakage_area: m.LeakageArea
    exponent: Annotated[float, Meta(ge=0.5, le=1)] = 0.65


AirPath = Grille | Duct | Crack


class Air(Wire, frozen=True, kw_only=True):
    """What air has to pass the closed door and what else carries it."""

    supply_flow: m.SupplyFlow | UnsetType = UNSET
    flow_basis: FlowBasis = FlowBasis.ACTUAL
    pressure_limit: m.PressureLimit | UnsetType = UNSET
    altitude: m.Altitude | UnsetType = UNSET
    temperature: m.RoomTemperature | UnsetType = UNSET
    discharge_coefficient: Annotated[float, Meta(ge=0.5, le=0.85)] | UnsetType = UNSET
    other_paths: Annotated[tuple[AirPath, ...], Meta(max_length=8)] = ()
    natural_draft_appliance: bool | UnsetType = UNSET


class Building(Wire, frozen=True, kw_only=True):
    """What the rules ask about the building."""

    use: BuildingUse | UnsetType = UNSET
    year_built: Annotated[int, Meta(ge=1700, le=2100)] | UnsetType = UNSET
    existing_threshold: bool = False


class ProjectRules(Wire, frozen=True, kw_only=True):
    """The project's own values; each replaces the catalogue's practice and preference rows of that name."""

    hard_floor_clearance: m.Clearance | UnsetType = UNSET
    carpet_clearance: m.Clearance | UnsetType = UNSET
    carpet_leaf_height: m.Clearance | UnsetType = UNSET
    piece_clearance: m.Clearance | UnsetType = UNSET
    greatest_gap: m.Clearance | UnsetType = UNSET
    leg_below_hard_floor: m.Clearance | UnsetType = UNSET
    leg_below_pile: m.Clearance | UnsetType = UNSET
    leg_under_carpet: m.Clearance | UnsetType = UNSET
    head_shim: m.Clearance | UnsetType = UNSET
    trim_limit: m.Clearance | UnsetType = UNSET


Minutes = Annotated[int, Meta(ge=0, le=1440)]


class Labour(Wire, frozen=True, kw_only=True):
    """Working minutes of each step by this crew; what is left out is the catalogue's assumption (GET /v1/labour)."""

    set_unit: Minutes | UnsetType = UNSET
    block_legs: Minutes | UnsetType = UNSET
    trim_legs: Minutes | UnsetType = UNSET
    trim_on_bench: Minutes | UnsetType = UNSET
    trim_in_place: Minutes | UnsetType = UNSET
    trim_off_hinges: Minutes | UnsetType = UNSET
    rehang_leaf: Minutes | UnsetType = UNSET
    rehang_lift_off: Minutes | UnsetType = UNSET
    tension_spring: Minutes | UnsetType = UNSET
    second_person: Minutes | UnsetType = UNSET
    seal_edge: Minutes | UnsetType = UNSET
    reset_unit: Minutes | UnsetType = UNSET
    fill_legs: Minutes | UnsetType = UNSET
    fit_piece: Minutes | UnsetType = UNSET
    cover_legs: Minutes | UnsetType = UNSET
    change_piece: Minutes | UnsetType = UNSET
    raise_floor: Minutes | UnsetType = UNSET
    fit_seal: Minutes | UnsetType = UNSET
    fit_grille: Minutes | UnsetType = UNSET
    jamb_undercut_side: Minutes | UnsetType = UNSET
    measure_floor: Minutes | UnsetType = UNSET
    block_size: Annotated[int, Meta(ge=0, le=60)] | UnsetType = UNSET


class Opening(Wire, frozen=True, kw_only=True):
    """One opening with its floor finishes."""

    mark: Mark
    jurisdiction: Annotated[str, Meta(min_length=2, max_length=8)]
    leaf: Leaf
    pull_side: Side
    push_side: Side
    frame: Frame = Frame()
    rough_opening: RoughOpening | UnsetType = UNSET
    duties: Annotated[tuple[Duty, ...], Meta(max_length=11)] = ()
    grid: Annotated[str, Meta(max_length=8)] | UnsetType = UNSET
    subfloor: Subfloor | UnsetType = UNSET
    transition: Transition | UnsetType = UNSET
    air: Air = Air()
    building: Building = Building()
    project_rules: ProjectRules = ProjectRules()
    labour: Labour = Labour()
    datum: (
        Annotated[m.SubfloorHeight, Meta(description="This opening's datum above the house's; counts on a head line.")]
        | UnsetType
    ) = UNSET
    rule_set: Annotated[str, Meta(max_length=20)] | UnsetType = UNSET
    as_of: (
        Annotated[
            datetime.date,
            Meta(description="Permit date: picks the editions then in force. No day before the oldest rule."),
        ]
        | UnsetType
    ) = UNSET
    external_id: Annotated[str, Meta(min_length=1, max_length=128, pattern=PLAIN)] | UnsetType = UNSET


class MeasuredGaps(Wire, frozen=True, kw_only=True):
    """Gaps under the closed leaf to the top of the floors as they are now."""

    pull_side: m.MeasuredGap | UnsetType = UNSET
    push_side: m.MeasuredGap | UnsetType = UNSET


class AsSet(Wire, frozen=True, kw_only=True):
    """A unit as it stands: its legs' bottoms and its leaf's bottom above the datum, or the gaps measured instead."""

    foot: m.Clearance | UnsetType = UNSET
    hinge_foot: (
        Annotated[
            m.SubfloorHeight,
            Meta(description="Where the legs end at two heights, with strike_foot; below 0 on the lower subfloor."),
        ]
        | UnsetType
    ) = UNSET
    strike_foot: m.SubfloorHeight | UnsetType = UNSET
    leaf_bottom: m.LeafBottom | UnsetType = UNSET
    gaps: MeasuredGaps = MeasuredGaps()


class Recheck(Opening, frozen=True, kw_only=True):
    """An opening with its floors as they are now, and the unit as it was set."""

    as_set: AsSet


class HeadLine(Wire, frozen=True, kw_only=True):
    """Openings whose heads keep one height."""

    name: Name
    marks: Annotated[tuple[Mark, ...], Meta(min_length=1, max_length=500)]


class House(Wire, frozen=True, kw_only=True):
    """Openings decided together. Members of `defaults` hold for every opening that doesn't say otherwise."""

    house: Name
    openings: Annotated[tuple[Any, ...], Meta(min_length=1, max_length=500)]
    defaults: dict[str, Any] = {}
    head_lines: Annotated[tuple[HeadLine, ...], Meta(max_length=100)] = ()
    labour: Labour = Labour()
