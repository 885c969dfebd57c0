"""What the service answers. Numbers are ticks and SI floats, prose is a Phrase (code and values).

`jambset.render.encode` turns them into the three-part forms of the caller's grid and into sentences
when the answer is written; nothing decides there. Code lists here are open: a client must survive a
new one. Empty lists are answered; what the payload can't tell is left out and asked for instead.
"""

from __future__ import annotations

from typing import Any, ClassVar

import msgspec
from msgspec import UNSET, UnsetType

from jambset.quantity.ticks import Area, Flow, Length, Pressure


class Phrase:
    """A sentence to be: the code of a template and the values that fill it."""

    __slots__ = ("code", "values")

    def __init__(self, code: str, **values: Any) -> None:
        self.code = code
        self.values = values

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Phrase) and (self.code, self.values) == (other.code, other.values)

    def __hash__(self) -> int:
        return hash((self.code, *self.values.items()))

    def __repr__(self) -> str:
        return f"Phrase({self.code!r}, {self.values!r})"


class Term(str):
    """Words of the catalogue's own, such as a rule's title; written in the reader's language where it has them.

    What a caller wrote stays a plain string and is written as it came.
    """

    __slots__ = ()


def quote(words: str) -> Phrase:
    """Words of the catalogue's own as they stand."""
    return Phrase("quote", text=Term(words))


WHOLE = 5_040_000
"""Parts that a likelihood is counted in, so that expected minutes are exact whole numbers.

What likelihoods of up to three decimals leave can be shared by as many floors as a side can list.
"""


class Minutes(int):
    """Working minutes, counted in whole parts of a minute so that what is expected of them is exact."""

    __slots__ = ()
    PARTS: ClassVar[int] = WHOLE**2
    """Parts of a minute: a likelihood for each side."""


class Ratio(float):
    """A slope as rise over run."""

    __slots__ = ()


Value = Any
"""A Length, Area, Flow, Pressure or Ratio; answered as a Measure."""


class Part(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, gc=False):
    """A part of an answer."""


class Framing(Part, frozen=True, kw_only=True):
    """For the superintendent: the rough opening this door needs over this floor."""

    rough_opening_needed: Length
    """Height above the highest subfloor under the legs."""
    short_by: Length
    """0 when the present opening is high enough or unknown."""
    spare: Length | UnsetType = UNSET
    """Space left between head and header; below 0 where the unit doesn't go in."""
    width_needed: Length
    """Width that leaves, frame and shims need."""
    width_short_by: Length | UnsetType = UNSET
    """0 when the present opening is wide enough."""
    governed_by: tuple[str, ...]


class Order(Part, frozen=True, kw_only=True):
    """For purchasing: the undercut to order so that nobody has to saw, or so that its head line is kept."""

    undercut_to_order: Length | UnsetType = UNSET
    """Undercut with which a unit needs no saw; left out until the floors are known."""
    why: Phrase


class LegSetting(Part, frozen=True, kw_only=True):
    """One leg: what it stands on, or what is cut off it."""

    block: Length
    """Height of the block under it; 0 where it stands on the subfloor."""
    trim: Length
    """What is cut off it; 0 where it stays whole."""


class Setting(Part, frozen=True, kw_only=True):
    """For the finish carpenter: how the frame is set."""

    foot: Length
    """Height of the legs' bottom above the datum."""
    method: str
    """on_subfloor, on_blocks, legs_trimmed. legs_trimmed: a leg is cut. on_blocks: none is, and one stands on a
    block."""
    hinge_leg: LegSetting
    strike_leg: LegSetting | UnsetType = UNSET
    second_hinge_leg: LegSetting | UnsetType = UNSET
    """Of a pair, in place of a strike leg."""
    head_height: Length | UnsetType = UNSET
    """Underside of the head above the datum."""
    head_spare: Length | UnsetType = UNSET
    """As spare in framing."""
    foot_limit: Length | UnsetType = UNSET
    """Highest foot at which every floor still covers the legs and the head fits; below 0 where legs must be cut."""
    grid: str
    governed_by: tuple[str, ...]
    """Ids of the rules that hold it there, each at GET /v1/rules/{id} but for project.*, the caller's own.

    A name without a full stop is no rule: rough_opening, the present header; as_set, a frame that is set;
    floors_may_change, head_line and block_sizes, what a setting was chosen for.
    """


class GaugeBlock(Part, frozen=True, kw_only=True):
    """Heights of the blocks that mark the cut at both ends of the leaf held open at the angle."""

    angle: float
    """Degrees from the closed position at which the leaf is held."""
    stands_on: str
    """subfloor, finish: what the block stands on."""
    hinge_end: Length
    """Height of the block at the hinge."""
    free_end: Length
    """Height of the block at the free edge."""


class GivenUp(Part, frozen=True, kw_only=True):
    """A preference that is missed."""

    rule: str
    """Its id, as in sources."""
    amount: Length
    """By how much more than with the leaf cut."""


class Uncut(Part, frozen=True, kw_only=True):
    """What it comes to where the leaf is left whole."""

    foot: Length
    """As of the setting."""
    bottom: Length
    """Of the leaf, above the datum."""
    given_up: tuple[GivenUp, ...]
    """Strongest first."""
    text: Phrase


class LeafAdvice(Part, frozen=True, kw_only=True):
    """For the finish carpenter: where the leaf's bottom ends and how it gets there."""

    bottom: Length | UnsetType = UNSET
    """Above the datum."""
    trim: Length | UnsetType = UNSET
    """What is cut off the leaf's bottom in total; 0 where it stays whole."""
    when: str
    """none, before_hanging, before_floor, after_floor, unknown. none: nothing is cut. before_floor: the unit is set and
    its leaf hangs. unknown: until the undercut is measured."""
    where: str | UnsetType = UNSET
    """bench, in_place, off_hinges: where the leaf is cut; left out where it isn't."""
    gauge_block: GaugeBlock | UnsetType = UNSET
    """Marks the cut; of a pair, that of its first leaf."""
    second_gauge_block: GaugeBlock | UnsetType = UNSET
    """Of the second leaf of a pair."""
    plunge_depth: Length | UnsetType = UNSET
    """How deep the saw is set: through the leaf and little more."""
    height_after: Length | UnsetType = UNSET
    """Height of the leaf once it is cut."""
    trim_limit: Length | UnsetType = UNSET
    """What may come off a leaf of this construction, at most."""
    trim_now: Length | UnsetType = UNSET
    """Of the trim, what is cut before hanging although a floor isn't certain: every possible floor needs it."""
    trim_rest: Length | UnsetType = UNSET
    """Of the trim, what is left to cut later where trim_now was cut first."""
    mass_kg: float | UnsetType = UNSET
    """Of one leaf as made, nominal for its construction."""
    uncut: Uncut | UnsetType = UNSET
    """The other choice, where the leaf is cut for no more than preferences."""
    why: Phrase
    governed_by: tuple[str, ...]
    """As in setting."""


class Spread(Part, frozen=True, kw_only=True):
    """A clearance: least over the whole swing at the thickest build-up, nominal and greatest with the leaf closed."""

    least: Length
    """At the thickest floor, over the whole swing on the pull side."""
    nominal: Length
    """At the nominal floor, leaf closed."""
    greatest: Length
    """At the thinnest floor, leaf closed."""


class ClearanceAdvice(Part, frozen=True, kw_only=True):
    """Leaf bottom to what lies beneath."""

    pull_side: Spread | UnsetType = UNSET
    """To the finish over which the leaf swings."""
    push_side: Spread | UnsetType = UNSET
    """To the finish over which it only closes."""
    piece: Spread | UnsetType = UNSET
    """To the top of the transition piece, leaf closed."""
    slope_room: Length | UnsetType = UNSET
    """Rise of the floor within the swing that would still leave the accepted clearance."""


class WayOut(Part, frozen=True, kw_only=True):
    """One way to carry the air that the door can't, or to end a conflict."""

    kind: str
    """transfer_grille, prescribed_grille, jump_duct, ducted_return, ducted_supply, instead, other_unit, change_piece,
    raise_header, cut_leaf, set_again, leave_line. instead: what the rule itself offers. change_piece: another one
    between the floors, which ends the conflict. cut_leaf: a unit to order that goes in under the present header, cut on
    the bench. leave_line: taken off its head line."""
    text: Phrase
    free_area: Area | UnsetType = UNSET
    """Of the grille."""
    diameter: Length | UnsetType = UNSET
    """Of the duct."""
    piece: str | UnsetType = UNSET
    """Id of the piece, as `transition` of a request takes it."""
    rule: str | UnsetType = UNSET
    """The rule that offers or sizes it."""


class AirAdvice(Part, frozen=True, kw_only=True):
    """For the HVAC contractor: what passes the closed door, worked out at the thickest floor."""

    gap: Length | UnsetType = UNSET
    """Least gap under the closed leaf, at the thickest floor or the piece."""
    free_area: Area | UnsetType = UNSET
    """What is open to air under the closed leaf."""
    flow_at_limit: Flow | UnsetType = UNSET
    """What passes through all paths together at the pressure limit."""
    flow_at_limit_high: Flow | UnsetType = UNSET
    """The same with the higher discharge coefficient of a thick leaf."""
    pressure_limit: Pressure | UnsetType = UNSET
    """Pressure difference allowed across the closed door: the least of the caller's and the rules'."""
    pressure_at_supply: Pressure | UnsetType = UNSET
    """Pressure difference across the closed door at the supply flow."""
    supply_flow: Flow | UnsetType = UNSET
    """Actual flow at the site's density."""
    shortfall: Flow | UnsetType = UNSET
    """Supply flow that doesn't pass at the pressure limit; 0 where all does."""
    gap_needed: Length | UnsetType = UNSET
    """Gap that alone would carry the supply flow beside the other paths."""
    density_kg_m3: float | UnsetType = UNSET
    """Density of the air at the site, in kilograms per cubic metre."""
    ways_out: tuple[WayOut, ...] = ()
    """What else would carry the air that doesn't pass."""
    governed_by: tuple[str, ...] = ()


class FlooringSide(Part, frozen=True, kw_only=True):
    """For the flooring installer, on one side; heights above the subfloor at the legs."""

    room: str | UnsetType = UNSET
    jamb_undercut: Length | UnsetType = UNSET
    """Height at which the legs are cut off for the floor to pass; left out where nothing is cut."""
    casing_undercut: Length | UnsetType = UNSET
    """The same of the casing."""
    base_height: Length | UnsetType = UNSET
    """Bottom of the base above the subfloor."""
    note: Phrase


class Flooring(Part, frozen=True, kw_only=True):
    """For the flooring installer."""

    pull_side: FlooringSide
    push_side: FlooringSide


class Bevel(Part, frozen=True, kw_only=True):
    """How a change in level is eased."""

    kind: str
    """bevel, ramp: how the edge is eased."""
    upright: Length | UnsetType = UNSET
    """What may stand upright below a bevel; left out where the whole change is bevelled or ramped."""
    rise: Length
    """How much of the change in level the bevel or ramp takes."""
    run: Length | UnsetType = UNSET
    """Its length, at least; left out where no rule says how steep a bevel may be."""


class TransitionAdvice(Part, frozen=True, kw_only=True):
    """What joins the two floors under the closed leaf."""

    piece: str
    """Id of the piece, as GET /v1/finishes has it."""
    title: Phrase
    step: Length
    """Difference of the two finishes."""
    rise: Length
    """Top of the piece above the higher finish."""
    top: Length
    """Top of the piece above the subfloor."""
    higher_side: str
    """pull_side, push_side."""
    bevel: Bevel | None
    """null where no rule asks for one."""
    joint_from_pull_face: Length
    """Where the finishes meet, from the face of the closed leaf on the pull side."""
    instead_of: str | UnsetType = UNSET
    """Id of the piece that is usual over such a step: left out unless it would cost a rule that this one keeps."""
    note: Phrase | UnsetType = UNSET
    """How it is made; left out where there is nothing to do or watch for."""
    governed_by: tuple[str, ...]


class ScenarioAdvice(Part, frozen=True, kw_only=True):
    """One possible pair of floors, and what it then takes."""

    pull_side: Phrase
    """The floor of the pull side, for people."""
    push_side: Phrase
    """The floor of the push side, for people."""
    weight: float
    """Likelihood, 0 to 1."""
    minutes: int
    """Work after the floors are laid, and each wish given up at its price."""
    work_minutes: int
    """Of these, work."""
    regret: int
    """Minutes more, in total, than if this pair had been certain from the start."""
    trim: Length
    """Cut off the hung leaf, once these floors are laid."""
    legs_show: Length
    """How far the legs end too high for these floors to hide them."""
    outcome: Phrase


class SettingPrice(Part, frozen=True, kw_only=True):
    """One setting on the tape and what it costs."""

    foot: Length | UnsetType = UNSET
    """Height of the legs' bottom above the datum; of a unit on site or set."""
    undercut: Length | UnsetType = UNSET
    """Of a unit still to be ordered."""
    trim_now: Length
    """Cut off the leaf before the floors are certain."""
    expected_minutes: Minutes
    """Work, and each wish given up at its price, by likelihood."""
    worst_minutes: int
    """Minutes for the pair of floors that takes most."""


class Tip(Part, frozen=True, kw_only=True):
    """A likelihood at which another setting wins, the side's other floors keeping their proportions."""

    side: str
    """pull_side, push_side: where the floor would lie."""
    floor: Phrase
    """The floor, for people."""
    weight_now: float
    """Its likelihood as sent."""
    weight: float
    """Its likelihood from which the other setting wins."""
    foot: Length | UnsetType = UNSET
    """The setting that then wins: of a unit on site."""
    undercut: Length | UnsetType = UNSET
    """The setting that then wins: of a unit still to be ordered."""
    text: Phrase


class Outlook(Part, frozen=True, kw_only=True):
    """The setting for floors that may change: least expected minutes over every possible pair of floors.

    In a house those of all its openings together, so that one of them may take more than it would alone.
    """

    foot: Length | UnsetType = UNSET
    """Of a unit on site or set: the height of its legs' bottom above the datum."""
    undercut: Length | UnsetType = UNSET
    """Of a unit still to be ordered, as the present header allows; order says what a higher one would allow."""
    trim_now: Length
    """Cut before the floors are certain: no more than every pair of floors asks for."""
    expected_minutes: Minutes
    """Work, and each wish given up at its price: now_minutes, and those of each pair of floors by its likelihood."""
    expected_work_minutes: Minutes
    """Of these, work."""
    now_minutes: int
    """Of these, what is done before the floors lie: blocks or cuts of legs, and a trim on the bench."""
    worst_minutes: int
    """Minutes for the pair of floors that takes most."""
    regret: int
    """Most minutes that this setting takes beyond the best one for the pair that comes."""
    least_worst_minutes: int
    """Worst minutes of the setting whose worst case is least."""
    wish_minutes: int
    """What each wish given up counts as."""
    why: Phrase
    settings: tuple[SettingPrice, ...]
    """Every setting on the tape that was weighed."""
    tips: tuple[Tip, ...]
    """What would have to be more likely for another setting to win; none where one wins as it is, but for the house."""


class Check(Part, frozen=True, kw_only=True, cache_hash=True):
    """One rule held against the result."""

    rule: str
    """Id of the rule."""
    force: str
    status: str
    """pass, fail, relaxed, not_checked. fail: missed, and never relaxed. relaxed: missed, and weak enough to give way;
    what covers a leg counts as missed from 1/32 in on. not_checked: a question, or not known from what was sent."""
    quantity: str
    """What it bounds."""
    side: str | UnsetType = UNSET
    """pull_side, push_side: left out where it concerns neither alone."""
    limit: Value | UnsetType = UNSET
    """What the rule allows."""
    actual: Value | UnsetType = UNSET
    """What was worked out."""
    margin: Value | UnsetType = UNSET
    """How far inside the limit; below 0 where it is missed."""
    governs: bool = False
    """Whether the setting or the leaf is where it is because of this rule."""


class Conflict(Part, frozen=True, kw_only=True):
    """Bounds that can't all hold."""

    code: str
    """bounds_conflict, rule_not_met. bounds_conflict: others conflict with it. rule_not_met: nothing does; it can't be
    met."""
    rules: tuple[str, ...]
    """The rule that isn't met, then what conflicts with it, named as in governed_by of setting."""
    quantity: str
    """What the first rule bounds."""
    amount: Value | UnsetType = UNSET
    """By how much the first rule is missed, where that is an amount."""
    decides: str
    text: Phrase
    ways_out: tuple[WayOut, ...] = ()
    """What else could be done."""
    holds: tuple[str, ...] = ()
    """setting, leaf, air: the phases of work that wait for the decision. air alone: all that can be done lies beside
    the door, which may be set as advised meanwhile."""


class Question(Part, frozen=True, kw_only=True):
    """What isn't known and who can say."""

    code: str
    """floor_undecided, floor_may_change, floor_unconfirmed, layer_thickness_unknown, thickness_unusual, carpet_fixing,
    subfloor_unmeasured, survey_far, foot_unknown, undercut_unknown, undercut_to_order, frame_label,
    rough_opening_unknown, rough_opening_narrow, fire_minutes_unknown, supply_flow_unknown, pressure_limit_unknown,
    air_duty_unlisted, air_short, ramp_needed, piece_unsuited, listing, leaf_label, unit_label, frame_instructions,
    seal_listing, smoke_seal, authority, floor_not_laid: or the id of the rule that asks. From listing on they are asked
    only in rechecks, for the first remedy."""
    ask: str
    text: Phrase
    pointer: str | UnsetType = UNSET
    """Place in the request where the answer belongs: a JSON Pointer as a URI fragment."""
    holds: tuple[str, ...] = ()
    """setting, leaf, air, transition, flooring: the phases of work that wait for the answer."""
    minutes_at_stake: Minutes | UnsetType = UNSET
    """Minutes it is expected to save to know the answer before anything is set."""


class Assumption(Part, frozen=True, kw_only=True, cache_hash=True):
    """A value assumed because the caller gave none."""

    pointer: str
    """Place in the request where the value would stand: a JSON Pointer as a URI fragment."""
    value: Value | UnsetType = UNSET
    """What was assumed, where it is an amount."""
    text: Phrase


class Caution(Part, frozen=True, kw_only=True, eq=False):
    """A danger that goes with the work advised."""

    # made once for each rule, so told apart by identity

    code: str
    """handling, small_parts, cut_wall, wall_opening: or the id of the rule that cautions, or of guidance on lifting
    (GET /v1/labour)."""
    text: Phrase
    rule: str | UnsetType = UNSET
    """Id of what it rests on, as in sources."""


class Task(Part, frozen=True, kw_only=True):
    """A step for scheduling software."""

    key: str
    """The mark, a full stop and the step; the same in every answer for this mark."""
    title: Phrase
    trade: str
    phase: str
    """setting, leaf, air, flooring, transition, handover."""
    minutes: int
    waits_for: tuple[str, ...] = ()
    """Task keys of this opening, or external:… events, which here are this opening's own: unit-delivered,
    opening-framed, floor-laid.pull_side, floor-laid.push_side. A house has one event for each room."""
    before: tuple[str, ...] = ()
    """Of these events those that wait for this step."""
    hold: bool = False
    """Whether it has to wait for the questions or conflicts named."""
    questions: tuple[str, ...] = ()
    """Codes of the questions that hold it."""
    conflicts: tuple[str, ...] = ()
    """Rules whose conflict holds it."""


class Citation(Part, frozen=True, kw_only=True, eq=False):
    """Where a rule used here comes from."""

    # made once for each rule, so told apart by identity

    rule: str
    """Id of the rule, at GET /v1/rules/{id} but for project.*, the caller's own.

    lift.* and mass.*, what one person lifts and what leaves weigh, are at GET /v1/labour.
    """
    title: Phrase
    """What the rule is called."""
    document: Phrase
    """What the document is called."""
    clause: Phrase
    edition: Phrase
    force: str
    verified: str


class LayerTaken(Part, frozen=True, kw_only=True):
    """One layer of a build-up as it was taken."""

    material: str
    """Id of the layer, as GET /v1/finishes has it."""
    title: Phrase
    """What the layer is called."""
    body: str
    """textile, foam, resilient, wood, panel, ceramic, mortar, membrane, concrete: what it is made of, for a drawing."""
    least: Length
    nominal: Length
    greatest: Length


class FloorTaken(Part, frozen=True, kw_only=True, cache_hash=True):
    """The floor of one side as it was taken: its layers from the subfloor up; none while it is undecided."""

    certain: bool
    """Whether it is confirmed and no other is possible."""
    layers: tuple[LayerTaken, ...]
    """From the subfloor up."""
    top: Length
    """Of the layers together, nominal; in a recheck as high as a gap measured down to it says."""


class SubfloorTaken(Part, frozen=True, kw_only=True):
    """Heights of the subfloor above the datum, the highest point under the legs. All 0 where it is level."""

    hinge_leg: Length
    """At the hinge leg."""
    strike_leg: Length
    """At the strike leg; of a pair, at its second hinge leg."""
    under_leaf: Length
    """Mean under the closed leaf."""


class Taken(Part, frozen=True, kw_only=True):
    """What an answer was worked out from, as read or assumed: all that a drawing of the opening needs besides it."""

    leaf_width: Length
    """Of one leaf."""
    leaf_height: Length
    """Of a leaf as made."""
    leaf_thickness: Length
    """Of a leaf."""
    leaves: int
    """1, or 2 of a pair."""
    core: str
    """How the leaf is built, as sent."""
    undercut: Length | UnsetType = UNSET
    """Of the unit as made; left out where nobody stated it."""
    head_gap: Length
    """Between leaf and head."""
    head_thickness: Length
    """Of the head of the frame."""
    leg_thickness: Length
    """Of a jamb leg."""
    rough_opening_height: Length | UnsetType = UNSET
    """As sent; left out where it wasn't."""
    rough_opening_width: Length | UnsetType = UNSET
    """As sent; left out where it wasn't."""
    subfloor: SubfloorTaken
    pull_side: FloorTaken
    push_side: FloorTaken


class Advice(Part, frozen=True, kw_only=True):
    """The whole advice for one opening."""

    advice_id: str
    """Name of this answer: the same for the same question, rules and version, and in a house for what it decided."""
    mark: str
    external_id: str | UnsetType = UNSET
    verdict: str
    """go, go_with_trim, hold, conflict. go: set it as advised, nothing is cut. go_with_trim: the same, and leaf or legs
    are cut. hold: someone has to answer or decide first; holds of questions and conflicts say what waits for it, and
    hold of tasks which steps. conflict: a rule of law, standard or programme, or of construction, can't be met; see
    conflicts for ways out."""
    summary: Phrase
    jurisdiction: str
    rule_set: str
    rule_set_digest: str
    input_digest: str
    """Hash of what was asked, whatever its units, its spacing, the order of its fields and the defaults it states."""
    as_of: str | UnsetType = UNSET
    taken: Taken
    framing: Framing | UnsetType = UNSET
    order: Order
    setting: Setting
    leaf: LeafAdvice
    clearance: ClearanceAdvice
    air: AirAdvice
    flooring: Flooring
    transition: TransitionAdvice | UnsetType = UNSET
    outlook: Outlook | UnsetType = UNSET
    """Where a floor isn't certain and every floor that may come is listed."""
    scenarios: tuple[ScenarioAdvice, ...] = ()
    checks: tuple[Check, ...]
    """Every rule that applies, including those met."""
    conflicts: tuple[Conflict, ...]
    """What can't be met; empty with go and go_with_trim."""
    questions: tuple[Question, ...]
    """Those that hold work first."""
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]
    tasks: tuple[Task, ...]
    """In working order."""
    sources: tuple[Citation, ...]
    """Of every rule that was checked or cautions."""
    notice: Phrase
