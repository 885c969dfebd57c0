"""The catalogue's rows as frozen structs: rules, documents, finishes, pieces, labour, cores, lifts.

A rule is data: which quantity it bounds, in which relation, by what value or named formula, when it
applies, and where it comes from. `load` reads rows from files and freezes them; `select` picks those
that apply to one opening's place, duties and permit date.
"""

from __future__ import annotations

import datetime
from enum import StrEnum
from typing import Annotated

import msgspec
from msgspec import UNSET, Meta, UnsetType

from jambset.model.request import (
    BuildingUse,
    Certainty,
    Core,
    Duty,
    Fixing,
    FlowBasis,
    FrameState,
    GrilleMaterial,
    Hinges,
    RoomUse,
    ThicknessOf,
)
from jambset.model.source import Asked, Force, Verified
from jambset.quantity.ticks import Area, Flow, Length, Pressure

# In patterns \Z is the end: in Python a dollar sign also stands before a last line break.
RowId = Annotated[str, Meta(pattern=r"^[a-z0-9]+([.-][a-z0-9]+)*\Z", max_length=64)]
Name = Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]*\Z", max_length=40)]
"""What a request calls a material, a piece or a step of work."""
_PLACE = "[A-Z]{2}(-[A-Z0-9]{1,3})?"
PlaceCode = Annotated[str, Meta(pattern=rf"^{_PLACE}\Z")]
PlaceOrAny = Annotated[str, Meta(pattern=rf"^({_PLACE})?\Z")]
Body = Annotated[str, Meta(pattern=r"^(textile|foam|resilient|wood|panel|ceramic|mortar|membrane|concrete)\Z")]
TEXTILE = "textile"
"""What carpets are made of and no hard floor is: by it a reader of an answer knows a carpet."""
Word = Annotated[str, Meta(pattern=r"^[a-z0-9]+( [a-z0-9]+)*\Z", max_length=40)]
"""What something is called in the trade, in small letters; no brand."""
Sentence = Annotated[str, Meta(min_length=8, max_length=600)]


class Measured(StrEnum):
    """What a rule bounds. Lengths unless said otherwise."""

    FOOT = "foot"
    """Height of the legs' bottom above the subfloor at the lower leg."""
    LEG_COVER = "leg_cover"
    """On each side: least top of the finish at the lower leg, less the foot. Negative: daylight shows."""
    LEAF_BOTTOM = "leaf_bottom"
    """On each side: leaf bottom above the subfloor it passes or closes over."""
    FLOOR_CLEARANCE = "floor_clearance"
    """On each side: leaf bottom to the top of the finish; over the whole swing on the pull side."""
    PIECE_CLEARANCE = "piece_clearance"
    """Closed leaf's bottom to the top of the transition piece."""
    LEG_TRIM = "leg_trim"
    """What is cut off the legs, at the higher subfloor."""
    TRIM = "trim"
    """What is cut off the leaf's bottom."""
    HEAD_SHIM = "head_shim"
    """Space left between the head of the frame and the header."""
    CLEAR_HEIGHT = "clear_height"
    """Top of the threshold or higher finish to the bottom of the stop at the head."""
    OPENING_HEIGHT = "opening_height"
    """Top of the threshold or higher finish to the underside of the head of the frame."""
    PILE = "pile"
    """Pile height of a carpet."""
    THRESHOLD_HEIGHT = "threshold_height"
    """Top of what lies in the doorway above the lower finish."""
    VERTICAL_EDGE = "vertical_edge"
    """Vertical part of a change in level, below any bevel."""
    BEVEL_SLOPE = "bevel_slope"
    """Ratio: rise over run of a bevelled edge."""
    UNRAMPED_CHANGE = "unramped_change"
    """Change in level made without a ramp."""
    RAMP_SLOPE = "ramp_slope"
    """Ratio: rise over run of a ramp."""
    FREE_AREA = "free_area"
    """Area: what is open to air under the closed leaf."""
    ROOM_PRESSURE = "room_pressure"
    """Pressure: across the closed door at the supply flow, all paths together."""
    GRILLE_AREA_PER_FLOW = "grille_area_per_flow"
    """Area per flow [m² per m³/s]: a prescribed transfer grille."""
    GRILLE_UNDERCUT = "grille_undercut"
    """Clearance that a prescribed transfer grille or duct needs beside it."""
    TRANSFER_AIR = "transfer_air"
    """Air moved under this door at all."""
    WALL_OPENING = "wall_opening"
    """A grille or duct that opens the wall beside this door."""
    LEAF_CONSTRUCTION = "leaf_construction"
    """How the leaf is made, by a named formula."""
    DISTURBED_AREA = "disturbed_area"
    """Area: painted surface that a trim disturbs."""
    STATEMENT = "statement"
    """Nothing this service can measure: the rule asks a question or cautions."""


class Relation(StrEnum):
    """How the measured thing must stand to the value."""

    AT_LEAST = "at_least"
    AT_MOST = "at_most"
    PROHIBITED = "prohibited"
    FORMULA = "formula"
    ASK = "ask"
    CAUTION = "caution"


class Topic(StrEnum):
    """What a rule is about."""

    CLEARANCE = "clearance"
    COVER = "cover"
    FRAME = "frame"
    TRIM = "trim"
    AIR = "air"
    FIRE = "fire"
    SMOKE = "smoke"
    ACCESS = "access"
    EGRESS = "egress"
    GARAGE = "garage"
    SAFETY = "safety"


class Phase(StrEnum):
    """The phases of a door's work that a question may hold."""

    SETTING = "setting"
    LEAF = "leaf"
    AIR = "air"
    TRANSITION = "transition"
    FLOORING = "flooring"


class FinishKind(StrEnum):
    """What the top of a build-up is, for the rules that tell them apart."""

    HARD = "hard"
    CARPET = "carpet"
    UNDECIDED = "undecided"


class Row(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, omit_defaults=True):
    """A row of a catalogue file; a field this schema doesn't know is an error."""


class Sourced(Row, frozen=True, kw_only=True):
    """A row with the place its numbers come from, and how that was checked."""

    document: RowId
    clause: Annotated[str, Meta(min_length=1, max_length=160)]
    verified: Verified
    last_checked: datetime.date


class Document(Row, frozen=True, kw_only=True):
    """One source, registered once and cited by id."""

    id: RowId
    title: Annotated[str, Meta(min_length=4, max_length=200)]
    kind: Annotated[str, Meta(pattern=r"^(law|code|standard|guidance|programme|handbook|practice)\Z")]
    reached: Sentence
    """How its text was consulted when the rows were written."""
    last_checked: datetime.date


class Edition(Row, frozen=True, kw_only=True):
    """An edition of a document, as far as a rule rests on it."""

    edition: Annotated[str, Meta(min_length=1, max_length=80)]
    clause: Annotated[str, Meta(min_length=1, max_length=160)]
    since: datetime.date
    """Permits from this day on may be held to it; 1 January of the edition's year where no day is known."""


class When(Row, frozen=True, kw_only=True):
    """Conditions under which a rule applies; all given ones must hold."""

    duties: tuple[Duty, ...] = ()
    """Of the opening, all of them."""
    without: tuple[Duty, ...] = ()
    """None of these duties."""
    any_duty: tuple[Duty, ...] = ()
    """At least one of these duties."""
    finish: FinishKind | UnsetType = UNSET
    """What the top layer of the side is."""
    bodies: tuple[Body, ...] = ()
    """textile, foam, resilient, wood, panel, ceramic, mortar, membrane, concrete: the finish of a side is made of one
    of these."""
    not_glued: bool = False
    """Not over a side whose finish is glued down: no cushion lies under a carpet there."""
    fire_minutes_above: Annotated[int, Meta(ge=1, le=240)] | UnsetType = UNSET
    """Not for a leaf stated to be rated for this many minutes or fewer."""
    fire_minutes_below: Annotated[int, Meta(ge=1, le=240)] | UnsetType = UNSET
    """Not for a leaf stated to be rated for this many minutes or more."""
    cores: tuple[Core, ...] = ()
    """The leaf is built in one of these ways."""
    uses: tuple[RoomUse, ...] = ()
    """A room is for one of these."""
    buildings: tuple[BuildingUse, ...] = ()
    """The building is one of these."""
    not_buildings: tuple[BuildingUse, ...] = ()
    """The building is none of these."""
    built_before: int | UnsetType = UNSET
    """The building is older than this year."""
    existing_threshold: bool | UnsetType = UNSET
    """The threshold was there before, or wasn't."""
    trimmed: bool | UnsetType = UNSET
    """Something is cut off the leaf here, or nothing."""
    flow_at_least: Flow | UnsetType = UNSET
    """This much air is supplied, or more."""
    flow_below: Flow | UnsetType = UNSET
    """Less air is supplied."""
    natural_draft: bool | UnsetType = UNSET
    """A natural-draft appliance is near, or none."""
    heated: bool = False
    """Pipes or cables of a heating lie in one of the floors, or in one that may come."""


class Rule(Row, frozen=True, kw_only=True):
    """One bound, ban, question or caution with its source.

    rank orders rules of one force, lower first. binding: a matter of construction, never relaxed
    whatever its force. drives: whether the settings are moved to meet it (else it is only checked).
    project_key: the project rule that replaces it. grade: of a pair of rows for one thing, what is
    wanted and what is accepted.
    """

    id: RowId
    title: Annotated[str, Meta(min_length=4, max_length=120)]
    topic: Topic
    force: Force
    document: RowId
    editions: Annotated[tuple[Edition, ...], Meta(min_length=1, max_length=8)]
    verified: Verified
    last_checked: datetime.date
    text: Sentence
    """The requirement in our own words."""
    measured: Measured
    relation: Relation
    length: Length | UnsetType = UNSET
    area: Area | UnsetType = UNSET
    pressure: Pressure | UnsetType = UNSET
    ratio: float | UnsetType = UNSET
    formula: Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]*\Z")] | UnsetType = UNSET
    when: When = When()
    rank: Annotated[int, Meta(ge=0, le=99)] = 50
    binding: bool = False
    drives: bool = True
    project_key: Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]*\Z")] | UnsetType = UNSET
    grade: Annotated[str, Meta(pattern=r"^(wanted|accepted)\Z")] | UnsetType = UNSET
    decides: Asked = Asked.SUPERINTENDENT
    holds: tuple[Phase, ...] = ()
    """Of a question: the phases that wait for its answer."""
    way_out: Sentence | UnsetType = UNSET
    """What can be done instead when it can't be met."""


class Material(Sourced, frozen=True, kw_only=True):
    """A typical layer of a build-up."""

    id: Name
    title: Annotated[str, Meta(min_length=3, max_length=120)]
    finish: Annotated[str, Meta(pattern=r"^(hard|carpet|none)\Z")]
    """What it is as a top layer; none: it must be covered."""
    body: Body
    """What it is made of, as drawings and rules tell materials apart."""
    least: Length
    nominal: Length
    greatest: Length
    tolerance: Length | UnsetType = UNSET
    """Published tolerance of a stated thickness, either way."""
    floats: bool = False
    """Laid floating where nobody states how it is fixed."""
    heated: bool = False
    """Pipes or cables of a heating lie in it."""
    note: Sentence | UnsetType = UNSET
    also_called: tuple[Word, ...] = ()
    """Other words for it, by which a refused name finds it: common practice, no source."""


class Piece(Sourced, frozen=True, kw_only=True):
    """A transition piece: which finishes it joins, over which step, and how high it stands."""

    id: Name
    title: Annotated[str, Meta(min_length=3, max_length=120)]
    higher: FinishKind
    lower: FinishKind
    step_least: Length
    step_greatest: Length
    built_above: Length | UnsetType = UNSET
    """Over a greater step it is built on site, not bought."""
    rise_least: Length
    rise: Length
    rise_greatest: Length
    floating: bool | UnsetType = UNSET
    """Only where a floating floor meets it (true), or only where none does (false)."""
    same: bool | UnsetType = UNSET
    """Only where one build-up runs through the doorway (true), or only where two differ (false)."""
    before_carpet: bool = False
    """Fastened before the carpet is laid that meets it, once the hard floor lies."""
    accessible: bool
    """Whether it may be chosen on an accessible route."""
    note: Sentence | UnsetType = UNSET
    also_called: tuple[Word, ...] = ()
    """Other words for it, by which a refused name finds it: common practice, no source."""


class Labour(Row, frozen=True, kw_only=True):
    """Working minutes of one step; a stated assumption that a caller may replace."""

    id: Name
    title: Annotated[str, Meta(min_length=3, max_length=120)]
    minutes: Annotated[int, Meta(ge=0, le=600)]


class CoreMass(Sourced, frozen=True, kw_only=True, eq=False):
    """How heavy a leaf of one core is: a density [kg/m³] over its whole volume, skins and voids together.

    document, clause and verified stand for the density it starts from; note says what was assumed to get
    from there to a leaf.
    """

    id: Core
    title: Annotated[str, Meta(min_length=3, max_length=120)]
    density_least: float
    density: float
    density_greatest: float
    note: Sentence


class Lift(Sourced, frozen=True, kw_only=True, eq=False):
    """Published guidance on what one person lifts; no law."""

    id: RowId
    title: Annotated[str, Meta(min_length=4, max_length=120)]
    jurisdictions: Annotated[tuple[PlaceOrAny, ...], Meta(min_length=1, max_length=40)]
    """Where it holds; "" wherever no closer row does."""
    one_person_kg: float
    """Greatest mass one person may lift under good conditions [kg]."""
    two_person_height: Length
    """Height of a leaf from which two carry it whatever its mass: common practice, no source."""
    edition: Annotated[str, Meta(min_length=1, max_length=80)]
    text: Sentence
    """What to do, in our own words."""
    note: Sentence


class Defaults(Row, frozen=True, kw_only=True):
    """Values assumed when the caller says nothing; each is named in the advice."""

    head_gap: Length
    head_thickness: Length
    leg_thickness: Length
    stop_thickness: Length
    side_gaps: Length
    """Gaps at hinge and strike together, of a pair at both hinges."""
    meeting_gap: Length
    """Gap where the two leaves of a pair meet."""
    side_shims: Length
    """Space for shims behind both legs together."""
    carpet_backing: Length
    saw_allowance: Length
    """What a flooring installer's undercut stands above the floor it takes."""
    base_over_carpet: Length
    plunge_beyond: Length
    """Blade below the leaf's far face when it is cut."""
    room_to_cut: Length
    """Least height of the cut line above what lies beneath for a saw on a guide rail."""
    survey_reach: Length
    """Farthest a survey point may be from a gauge block that relies on it."""
    tape_slack: Length
    """By how much two measurements of one height may differ and still be taken to agree."""
    seal_reach: Length
    """Greatest gap that a seal at the bottom of a leaf closes."""
    temperature_c: float
    discharge_coefficient: float
    discharge_coefficient_high: float
    free_ratio_metal: float
    free_ratio_wood: float


class Jurisdiction(Row, frozen=True, kw_only=True):
    """A place with rules of its own; it inherits those of its parent."""

    code: PlaceCode
    title: Annotated[str, Meta(min_length=3, max_length=120)]
    grid: str
    parent: PlaceCode | UnsetType = UNSET
    adoption: Sentence
    """What must be said of how its rules come into force."""
    also_called: tuple[Word, ...] = ()
    """Other words for it, by which a refused code finds it."""


class Codes(Row, frozen=True, kw_only=True):
    """Other words for the codes of a request, by which a refused one finds the right one.

    Common practice, no source.
    """

    duty: dict[Duty, tuple[Word, ...]] = {}
    core: dict[Core, tuple[Word, ...]] = {}
    hinges: dict[Hinges, tuple[Word, ...]] = {}
    certainty: dict[Certainty, tuple[Word, ...]] = {}
    frame_state: dict[FrameState, tuple[Word, ...]] = {}
    fixing: dict[Fixing, tuple[Word, ...]] = {}
    thickness_of: dict[ThicknessOf, tuple[Word, ...]] = {}
    room_use: dict[RoomUse, tuple[Word, ...]] = {}
    flow_basis: dict[FlowBasis, tuple[Word, ...]] = {}
    grille_material: dict[GrilleMaterial, tuple[Word, ...]] = {}
    building_use: dict[BuildingUse, tuple[Word, ...]] = {}


class Catalogue(Row, frozen=True, eq=False, kw_only=True):
    """Everything a rule set holds, frozen; one object a process, told apart by identity."""

    version: str
    digest: str
    jurisdictions: dict[str, Jurisdiction]
    documents: dict[str, Document]
    rules: dict[str, tuple[Rule, ...]]
    """Rows by the jurisdiction whose folder they stand in; "" holds the common ones."""
    materials: dict[str, Material]
    pieces: tuple[Piece, ...]
    labour: dict[str, Labour]
    cores: dict[str, CoreMass]
    """By core; every core has one."""
    lifts: tuple[Lift, ...]
    """At most one for each place, and one for all others."""
    codes: Codes
    defaults: Defaults
