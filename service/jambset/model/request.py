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

UNSHOWN = r"\x00-\x1f\x7f-\x9f" + "\u061c\u200e\u200f\u202d\u202e\u2028-\u202c\u2066-\u2069"
"""Control characters, line breaks and marks of text direction, as ranges of a pattern. Written so that every engine
reads them: those beyond a byte as they are, since RE2 knows no \\u; U+202C last of its range, since it ends U+202E."""
PLAIN = rf"^[^{UNSHOWN}]*(?![\s\S])"
"""Text that is shown as it is read. Its end is a look-ahead: in Python a dollar sign also stands before a last line
break."""
PUBLISHED = rf"^[^{UNSHOWN}]*$"
"""The same for readers of the contract: to ECMA-262, which JSON Schema names, a dollar sign is the very end."""
Mark = Annotated[
    str, Meta(min_length=1, max_length=64, pattern=PLAIN, description="Number of the opening on the door schedule.")
]
ExternalId = Annotated[str, Meta(min_length=1, max_length=128, pattern=PLAIN)]
Name = Annotated[str, Meta(min_length=1, max_length=80, pattern=PLAIN)]
Code = Annotated[str, Meta(min_length=1, max_length=40, pattern="^[a-z][a-z0-9_]*$")]
Weight = Annotated[float, Meta(gt=0, le=1, description="Likelihood of this alternative, 0 to 1.")]
Angle = Annotated[float, Meta(ge=1, le=180)]
"""Degrees from the closed position."""


class Duty(StrEnum):
    """What a rule may require of this opening; the caller states it, the service never guesses it."""

    FIRE_LABEL = "fire_label"
    """The door carries a fire label; so does any whose fire_minutes are stated."""
    SMOKE_CONTROL = "smoke_control"
    """The door has to hold smoke back."""
    ACCESSIBLE_ROUTE = "accessible_route"
    """The opening lies on an accessible route."""
    FAIR_HOUSING = "fair_housing"
    """The dwelling is held to the design rules of fair housing."""
    EGRESS_DOOR = "egress_door"
    """The door is a way out to which rules on egress apply."""
    GARAGE_TO_HOUSE = "garage_to_house"
    """The door separates a garage from the dwelling."""
    TRANSFER_AIR = "transfer_air"
    """Air supplied to the room returns by this door."""
    EXHAUST_MAKEUP = "exhaust_makeup"
    """Air that a fan draws out of the room comes in by this door."""
    FUEL_BURNING_ROOM = "fuel_burning_room"
    """A fuel-burning appliance stands in one of the rooms."""
    DRYER_CLOSET = "dryer_closet"
    """The opening is that of a closet with a clothes dryer."""
    RATED_HOME_PROGRAMME = "rated_home_programme"
    """The house takes part in a programme that rates homes."""


class Core(StrEnum):
    """How the leaf is built; decides how much may come off its bottom."""

    HOLLOW = "hollow"
    SOLID = "solid"
    STILE_AND_RAIL = "stile_and_rail"
    MDF = "mdf"
    STEEL = "steel"
    FIBREGLASS = "fibreglass"


class Hinges(StrEnum):
    """What a leaf hangs on, as far as it matters to taking it off: pins to drive out, lift-off hinges, or springs."""

    BUTT = "butt"
    """Pins to drive out."""
    LIFT_OFF = "lift_off"
    """The leaf is lifted off."""
    SPRING = "spring"
    """Spring hinges: their tension is let off first."""


class Certainty(StrEnum):
    """How sure a build-up is."""

    CONFIRMED = "confirmed"
    """Somebody has confirmed it."""
    ASSUMED = "assumed"
    """It is likely, and nobody has confirmed it yet."""
    UNDECIDED = "undecided"
    """It may still be any other floor."""


class FrameState(StrEnum):
    """How far the unit has come: not bought yet, delivered, or fixed in the opening with its leaf hung."""

    TO_ORDER = "to_order"
    """Not bought yet: its undercut may still be chosen."""
    ON_SITE = "on_site"
    """Bought, not fixed: its legs and leaf may still be cut on the bench."""
    SET = "set"
    """Fixed in the opening, its leaf hung."""


class Fixing(StrEnum):
    """How a layer is held."""

    FLOATING = "floating"
    GLUED = "glued"
    NAILED = "nailed"
    STRETCHED = "stretched"
    BEDDED = "bedded"


class ThicknessOf(StrEnum):
    """What a carpet's thickness measures: the whole carpet, or its pile alone as labels print it."""

    TOTAL = "total"
    """The whole carpet, with its backing."""
    PILE = "pile"
    """The pile alone, as labels print it."""


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
    """The volume that really passes."""
    STANDARD = "standard"
    """The volume it would have at standard density."""


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


class Wire(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True, cache_hash=True):
    """A part of a request: immutable, by keyword, no unknown field. Parts are keys of what follows from them alone."""


class RoughOpening(Wire, frozen=True, kw_only=True):
    """The framed hole the unit goes into."""

    height: m.OpeningHeight
    width: m.OpeningWidth | UnsetType = UNSET
    """Between the studs."""


class Frame(Wire, frozen=True, kw_only=True):
    """The jamb unit: its undercut and the parts above the leaf."""

    undercut: m.Undercut | UnsetType = UNSET
    head_gap: m.HeadGap | UnsetType = UNSET
    head_thickness: m.JambThickness | UnsetType = UNSET
    """Thickness of the head of the frame, over the leaf."""
    leg_thickness: m.JambThickness | UnsetType = UNSET
    """Thickness of a jamb leg."""
    stop_thickness: m.JambThickness | UnsetType = UNSET
    """Thickness of the stop at the head, where a clear height is measured to it."""
    state: FrameState = FrameState.ON_SITE
    foot: m.Foot | UnsetType = UNSET
    """Legs' bottom above the datum, of a frame already set: only with state set. In a recheck, see as_set."""


class Leaf(Wire, frozen=True, kw_only=True):
    """The leaf, or both leaves of a pair (count 2, each of this width)."""

    width: m.LeafWidth
    height: m.LeafHeight
    thickness: m.LeafThickness
    core: Core
    count: Annotated[int, Meta(ge=1, le=2)] = 1
    """Leaves of the opening: 2 are a pair."""
    opening_angle: Angle = 90.0
    """How far the leaf opens, in degrees from the closed position."""
    cut_angle: Angle | UnsetType = UNSET
    """Angle at which the hung leaf is held to be cut, in degrees from the closed position. Left out: 90, or as far as
    it opens."""
    fire_minutes: Annotated[int, Meta(ge=1, le=240)] | UnsetType = UNSET
    """Fire rating of the leaf in minutes; makes the door a labelled one."""
    hinges: Hinges = Hinges.BUTT


class Layer(Wire, frozen=True, kw_only=True):
    """One layer of a build-up above the subfloor. Without a thickness the catalogue's typical one is assumed."""

    material: Code
    thickness: m.LayerThickness | UnsetType = UNSET
    """Thickness of this layer as laid."""
    least: m.LayerThickness | UnsetType = UNSET
    """Least thickness of this layer. Left out: as the catalogue has it."""
    greatest: m.LayerThickness | UnsetType = UNSET
    """Greatest thickness of this layer. Left out: as the catalogue has it."""
    thickness_of: ThicknessOf | UnsetType = UNSET
    """Of a carpet: what its thickness measures. Left out: total."""
    fixing: Fixing | UnsetType = UNSET
    """How this layer is held; a floating one needs other transition pieces."""


BuildUp = Annotated[tuple[Layer, ...], Meta(min_length=1, max_length=8, description="Layers from the subfloor up.")]


class Alternative(Wire, frozen=True, kw_only=True):
    """A floor that a side could become."""

    build_up: BuildUp
    weight: Weight | UnsetType = UNSET


class Side(Wire, frozen=True, kw_only=True):
    """One side of the opening. Without a build-up its floor is undecided.

    The build-up has what the weights of could_become leave of 1; alternatives without a weight share that with it.
    """

    room: Name | UnsetType = UNSET
    """What the room on this side is called; openings of a house that name one room wait for one floor."""
    use: RoomUse | UnsetType = UNSET
    """What the room is for, where a rule asks."""
    build_up: BuildUp | UnsetType = UNSET
    certainty: Certainty | UnsetType = UNSET
    """Of the build-up. Left out: confirmed, or assumed where the floor could become another."""
    could_become: Annotated[tuple[Alternative, ...], Meta(max_length=8)] = ()
    """Other floors that may come instead of the build-up; one that is listed twice is as likely as both together."""
    rug: m.LayerThickness | UnsetType = UNSET
    """Thickness of a rug or mat on the floor that the leaf has to pass."""


class LevelSubfloor(Wire, tag="level", tag_field="kind", frozen=True, kw_only=True):
    """Measured and found level."""


class LegHeights(Wire, tag="legs", tag_field="kind", frozen=True, kw_only=True):
    """Subfloor measured at the two legs, above any one benchmark (a pair: its two hinge legs)."""

    hinge_leg: m.SubfloorHeight
    """Height of the subfloor at the hinge leg above any one benchmark."""
    strike_leg: m.SubfloorHeight
    """Height of the subfloor at the strike leg above the same benchmark; of a pair, at its second hinge leg."""


class Slope(Wire, tag="slope", tag_field="kind", frozen=True, kw_only=True):
    """A plane."""

    rise: m.SlopeRise
    run: m.SlopeRun
    direction: Annotated[float, Meta(ge=-180, le=180)]
    """Degrees of the uphill line from the line hinge to strike, towards the pull side."""


class SurveyPoint(Wire, frozen=True, kw_only=True):
    """Subfloor height at a distance from the hinge line and an angle from the closed leaf."""

    radius: m.SurveyRadius
    angle: Annotated[float, Meta(ge=0, le=180)]
    """Degrees from the closed leaf, the way it opens."""
    height: m.SubfloorHeight
    """Height of the subfloor there above the benchmark of the legs."""


class Survey(Wire, tag="survey", tag_field="kind", frozen=True, kw_only=True):
    """Points measured on the subfloor, with the two legs. A pair's points are polar about its first hinge leg."""

    hinge_leg: m.SubfloorHeight
    """Height of the subfloor at the hinge leg above any one benchmark."""
    strike_leg: m.SubfloorHeight
    """Height of the subfloor at the strike leg above the same benchmark; of a pair, at its second hinge leg."""
    points: Annotated[tuple[SurveyPoint, ...], Meta(min_length=1, max_length=64)]
    """Points measured within the swing."""


Subfloor = LevelSubfloor | LegHeights | Slope | Survey


class Transition(Wire, frozen=True, kw_only=True):
    """A transition piece already chosen, or its rise as measured."""

    piece: Code | UnsetType = UNSET
    """The piece to be fitted. Left out: the one that suits the two finishes."""
    rise: m.PieceRise | UnsetType = UNSET


class Grille(Wire, tag="grille", tag_field="kind", frozen=True, kw_only=True):
    """A transfer grille beside or in the door: its face and how much of it is free."""

    width: m.GrilleSide
    """Width of the grille's face."""
    height: m.GrilleSide
    """Height of the grille's face."""
    material: GrilleMaterial = GrilleMaterial.METAL
    free_area: m.FreeArea | UnsetType = UNSET
    """Free area as its maker states it, of no more than the face. Left out: a share of the face, by its material."""


class Duct(Wire, tag="duct", tag_field="kind", frozen=True, kw_only=True):
    """A jump duct: round, with a grille of the stated free area at each end."""

    diameter: m.DuctDiameter
    length: m.DuctLength
    grille_free_area: m.FreeArea
    """Free area of the grille at each end, as its maker states it."""
    roughness: m.Roughness | UnsetType = UNSET
    bend_loss: Annotated[float, Meta(ge=0, le=20, description="Sum of the loss coefficients of its bends.")] = 0.5


class Crack(Wire, tag="crack", tag_field="kind", frozen=True, kw_only=True):
    """The gaps at head and jambs together, as an effective leakage area at 4 Pa."""

    leakage_area: m.LeakageArea
    exponent: Annotated[float, Meta(ge=0.5, le=1)] = 0.65
    """Power of the pressure with which its flow grows."""


AirPath = Grille | Duct | Crack


class Air(Wire, frozen=True, kw_only=True):
    """The air that has to pass the closed door, and what else carries it."""

    supply_flow: m.SupplyFlow | UnsetType = UNSET
    flow_basis: FlowBasis = FlowBasis.ACTUAL
    pressure_limit: m.PressureLimit | UnsetType = UNSET
    altitude: m.Altitude | UnsetType = UNSET
    temperature: m.RoomTemperature | UnsetType = UNSET
    discharge_coefficient: Annotated[float, Meta(ge=0.5, le=0.85)] | UnsetType = UNSET
    """Share of the ideal flow that passes the gap. Left out: the catalogue's two values, for a thin and for a thick
    leaf."""
    other_paths: Annotated[tuple[AirPath, ...], Meta(max_length=8)] = ()
    """What carries air beside the undercut."""
    natural_draft_appliance: bool | UnsetType = UNSET
    """Whether a natural-draft appliance is near, where a rule asks."""


class Building(Wire, frozen=True, kw_only=True):
    """What the rules ask about the building."""

    use: BuildingUse | UnsetType = UNSET
    """Left out: rules for some kinds of building alone don't apply."""
    year_built: Annotated[int, Meta(ge=1700, le=2100)] | UnsetType = UNSET
    """Year the building was built in. Left out: rules on older buildings don't apply."""
    existing_threshold: bool = False
    """Whether the threshold was there before, where a rule is milder for it."""


class ProjectRules(Wire, frozen=True, kw_only=True):
    """The project's own values; each replaces the catalogue's practice and preference rows of that name."""

    hard_floor_clearance: m.Clearance | UnsetType = UNSET
    """Leaf above a hard finish, at least."""
    carpet_clearance: m.Clearance | UnsetType = UNSET
    """Leaf above the pile of a carpet, at least."""
    carpet_leaf_height: m.Clearance | UnsetType = UNSET
    """Leaf above the subfloor where carpet is to come, or above the topping or panel on it, at least."""
    piece_clearance: m.Clearance | UnsetType = UNSET
    """Closed leaf above the transition piece, at least."""
    greatest_gap: m.Clearance | UnsetType = UNSET
    """Gap above either finish, at most."""
    leg_below_hard_floor: m.Clearance | UnsetType = UNSET
    """Legs' bottom below the top of a hard floor, at least."""
    leg_below_pile: m.Clearance | UnsetType = UNSET
    """Legs' bottom below the top of the pile, at least."""
    leg_under_carpet: m.Clearance | UnsetType = UNSET
    """Legs' bottom above the subfloor under carpet, or above the topping or panel on it, at most."""
    head_shim: m.Clearance | UnsetType = UNSET
    """Space between head and header, at least."""
    trim_limit: m.Clearance | UnsetType = UNSET
    """What may come off the leaf, at most."""


Minutes = Annotated[int, Meta(ge=0, le=1440)]


class Labour(Wire, frozen=True, kw_only=True):
    """Working minutes of each step by this crew; what is left out is the catalogue's assumption (GET /v1/labour)."""

    set_unit: Minutes | UnsetType = UNSET
    """Set a pre-hung unit plumb and fix it."""
    block_legs: Minutes | UnsetType = UNSET
    """Cut blocks and stand both legs on them."""
    trim_legs: Minutes | UnsetType = UNSET
    """Mark and cut both legs before setting."""
    trim_on_bench: Minutes | UnsetType = UNSET
    """Trim a leaf on the bench before it is hung."""
    trim_in_place: Minutes | UnsetType = UNSET
    """Trim a hung leaf in place along a guide rail."""
    trim_off_hinges: Minutes | UnsetType = UNSET
    """Take a leaf off its hinges and trim it on the bench."""
    rehang_leaf: Minutes | UnsetType = UNSET
    """Hang a leaf on its pins again and check its gaps."""
    rehang_lift_off: Minutes | UnsetType = UNSET
    """Drop a leaf back on lift-off hinges and check its gaps."""
    tension_spring: Minutes | UnsetType = UNSET
    """Release the spring hinges of a leaf and tension them again."""
    second_person: Minutes | UnsetType = UNSET
    """A second person to lift a heavy or tall leaf off and on."""
    seal_edge: Minutes | UnsetType = UNSET
    """Seal a cut edge."""
    fit_leaf: Minutes | UnsetType = UNSET
    """Cut another leaf's hinge seats and lock bores to fit a frame that is set, beside hanging it."""
    reset_unit: Minutes | UnsetType = UNSET
    """Take a set unit out and set it again."""
    fill_legs: Minutes | UnsetType = UNSET
    """Scribe and fix fillers under both legs and their casing."""
    fit_piece: Minutes | UnsetType = UNSET
    """Cut and fix a transition piece."""
    cover_legs: Minutes | UnsetType = UNSET
    """Return a transition piece around both legs so that it covers the gap below them."""
    change_piece: Minutes | UnsetType = UNSET
    """Take a transition piece up and fit another."""
    raise_floor: Minutes | UnsetType = UNSET
    """Lay a thicker underlayment in one room while its floor is still to be laid."""
    fit_seal: Minutes | UnsetType = UNSET
    """Fit a seal to the bottom of a leaf."""
    fit_grille: Minutes | UnsetType = UNSET
    """Cut in and fix a transfer grille."""
    jamb_undercut_side: Minutes | UnsetType = UNSET
    """Undercut jamb and casing on one side for a floor to pass."""
    measure_floor: Minutes | UnsetType = UNSET
    """Measure floor and subfloor over the swing."""
    block_size: Annotated[int, Meta(ge=0, le=60)] | UnsetType = UNSET
    """Set up and keep one more size of block in a house."""


class Answered(Wire, frozen=True, kw_only=True):
    """That whoever a question asks has answered it and lets the work go on."""

    code: Annotated[str, Meta(min_length=1, max_length=64)]
    """Of a question that has no pointer. Where the answer forbids the work, leave it out and change what it forbids."""
    by: Annotated[str, Meta(min_length=1, max_length=128, pattern=PLAIN)]
    """Who said so, and where that is written. It is repeated in the answer as sent; nothing of it is checked."""


class Opening(Wire, frozen=True, kw_only=True):
    """One opening with its floor finishes."""

    mark: Mark
    jurisdiction: Annotated[str, Meta(min_length=2, max_length=8)]
    leaf: Leaf
    pull_side: Side
    """The side that the leaf opens to: it swings over this floor."""
    push_side: Side
    """The other side: the leaf only closes over this floor."""
    frame: Frame = Frame()
    rough_opening: RoughOpening | UnsetType = UNSET
    duties: Annotated[tuple[Duty, ...], Meta(max_length=len(Duty))] = ()
    """What rules may require of this opening; none is guessed."""
    grid: Annotated[str, Meta(max_length=8)] | UnsetType = UNSET
    """Step of the tape in which lengths are answered. Left out: the custom of the place."""
    subfloor: Subfloor | UnsetType = UNSET
    transition: Transition | UnsetType = UNSET
    air: Air = Air()
    building: Building = Building()
    project_rules: ProjectRules = ProjectRules()
    """The project's own values in place of the catalogue's."""
    labour: Labour = Labour()
    datum: m.SubfloorHeight | UnsetType = UNSET
    """This opening's datum above the house's; counts on a head line."""
    rule_set: Annotated[str, Meta(max_length=20)] | UnsetType = UNSET
    """Version of the catalogue to answer by; a service that uses another refuses. Left out: the one in use."""
    as_of: datetime.date | UnsetType = UNSET
    """Permit date: picks the editions then in force. Left out: the latest. Not before the oldest rule."""
    external_id: ExternalId | UnsetType = UNSET
    """The caller's own id of the opening, sent back as it came."""
    answered: Annotated[tuple[Answered, ...], Meta(max_length=32)] = ()
    """Questions that others have answered; they no longer hold anything, and the answer says on whose word."""


class MeasuredGaps(Wire, frozen=True, kw_only=True):
    """Gaps under the closed leaf to the top of the floors as they are now."""

    pull_side: m.MeasuredGap | UnsetType = UNSET
    """Gap measured between the closed leaf and the floor of the pull side."""
    push_side: m.MeasuredGap | UnsetType = UNSET
    """Gap measured between the closed leaf and the floor of the push side."""


class AsSet(Wire, frozen=True, kw_only=True):
    """A unit as it stands: foot, or hinge_foot and strike_foot, and leaf_bottom, or the gaps measured instead."""

    foot: m.Foot | UnsetType = UNSET
    """Legs' bottom above the datum, where both end at one height; else hinge_foot and strike_foot."""
    hinge_foot: m.LegFoot | UnsetType = UNSET
    """Bottom of the hinge leg above the datum, where the legs end at two heights; below 0 on the lower subfloor."""
    strike_foot: m.LegFoot | UnsetType = UNSET
    """Bottom of the strike leg above the datum, with hinge_foot; of a pair, that of its second hinge leg."""
    leaf_bottom: m.LeafBottom | UnsetType = UNSET
    gaps: MeasuredGaps = MeasuredGaps()
    """Where nobody measured leaf_bottom."""


class Recheck(Opening, frozen=True, kw_only=True):
    """An opening with its floors as they are now, and the unit as it was set.

    Leave foot out of its frame; state isn't to_order.
    """

    as_set: AsSet


class HeadLine(Wire, frozen=True, kw_only=True):
    """Openings whose heads keep one height."""

    name: Name
    """What the line is called."""
    marks: Annotated[tuple[Mark, ...], Meta(min_length=1, max_length=500)]
    """Marks of its openings."""


class LineAsSet(HeadLine, frozen=True, kw_only=True):
    """Openings that are set, whose heads keep one height."""

    keep: bool = False
    """Set other units of it again too, rather than let a head leave it; what that takes is answered as `keeping`."""


class House(Wire, frozen=True, kw_only=True):
    """Openings decided together. Members of `defaults` hold for every opening that doesn't say otherwise."""

    house: Name
    """What the house is called; keys of tasks in a calendar go by it."""
    openings: Annotated[tuple[Any, ...], Meta(min_length=1, max_length=500)]
    """Each a merge patch of the defaults."""
    defaults: dict[str, Any] = {}
    head_lines: Annotated[tuple[HeadLine, ...], Meta(max_length=100)] = ()
    """Lines of openings whose heads keep one height."""
    labour: Labour = Labour()


class HouseRecheck(House, frozen=True, kw_only=True):
    """Openings that are set, with their floors as they are now, rechecked together.

    Members of `defaults` hold for every opening that doesn't say otherwise, `as_set` too.
    """

    head_lines: Annotated[tuple[LineAsSet, ...], Meta(max_length=100)] = ()
    """Lines of openings whose heads are to keep one height: it is told which a remedy would take off."""
