"""What the service answers for a house: each opening's advice, and the lists that a crew, a shop and a scheduler use.

Lists are in the order of marks unless they say otherwise, so that the order of the request's openings changes
none of them. Lengths of the lists are on the grid of the house, those of an advice on its own.
"""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from jambset.model.advice import Advice, Bevel, GaugeBlock, Minutes, Part, Phrase
from jambset.quantity.ticks import Length


class FieldFault(Part, frozen=True, kw_only=True):
    """One field that is wrong."""

    pointer: str
    """Place in the body: in the defaults for what they gave the opening, in the opening for what it says or lacks."""
    code: str
    """As in an entry of a problem's errors."""
    detail: str
    """How to fix it."""


class RefusedOpening(Part, frozen=True, kw_only=True):
    """Why one opening couldn't be advised on; the others are."""

    code: str
    """As in a problem."""
    title: str
    detail: str
    """What is wrong with this opening."""
    errors: tuple[FieldFault, ...]
    """Every field that is wrong."""


class OpeningResult(Part, frozen=True, kw_only=True):
    """One opening of the request: its advice, or what is wrong with it."""

    mark: str | UnsetType = UNSET
    """Left out where it can't be read."""
    external_id: str | UnsetType = UNSET
    """Of an opening that couldn't be advised on, where it can be read; else it is in the advice."""
    advice: Advice | UnsetType = UNSET
    """Where it could be advised on."""
    problem: RefusedOpening | UnsetType = UNSET
    """Where it couldn't."""


class LeftOut(Part, frozen=True, kw_only=True):
    """An opening that couldn't be put on its line."""

    mark: str
    why: Phrase


class LineWithout(Part, frozen=True, kw_only=True):
    """A line without one of its doors."""

    mark: str
    """The door that is taken off the line."""
    minutes: Minutes
    """Expected minutes that the line then costs the others beyond deciding each alone, block sizes aside."""


class HeadLineAdvice(Part, frozen=True, kw_only=True):
    """One height for the heads of a line."""

    name: str
    """As the request calls it."""
    held: bool
    """Whether the openings that were put on it have one height; where no height suits all, each is set on its own."""
    head_height: Length | UnsetType = UNSET
    """Underside of the heads above the datum of the house."""
    marks: tuple[str, ...]
    """Those that were put on it."""
    left_out: tuple[LeftOut, ...]
    minutes: Minutes
    """Expected minutes more than if each opening were decided alone."""
    strained: tuple[str, ...]
    """Marks that are set differently than they would be alone."""
    without: LineWithout | UnsetType = UNSET
    """The door for whose sake others are set differently: taken off the line, or with another unit or another floor, it
    eases them most. Left out where no one door does, and of fewer than three doors."""
    text: Phrase


class BlockLot(Part, frozen=True, kw_only=True):
    """Blocks of one size."""

    size: Length
    """Height of the block."""
    count: int
    """How many blocks of that size: one a leg."""
    marks: tuple[str, ...]


class OrderLot(Part, frozen=True, kw_only=True):
    """Units that can be ordered alike: the undercut with which nobody has to saw, or which keeps a head line.

    One that the request states for a unit to order is listed as stated: that unit is what is cut and set. Order only
    those whose state is to_order; they come first. For a unit on site or set the row only says which undercut another
    unit would have had. Which hand a leaf hangs on, how deep its jambs are and how it looks isn't known here: count a
    lot's units by those before they are ordered.
    """

    undercut: Length | UnsetType = UNSET
    """Undercut of the unit; left out of one to order whose floors aren't known yet."""
    leaf_width: Length
    """Of one leaf."""
    leaf_height: Length
    """Of a leaf as made."""
    leaf_thickness: Length
    """Of a leaf."""
    head_gap: Length
    """Between leaf and head, as stated or assumed; so are the next two."""
    head_thickness: Length
    """Of the head of the frame."""
    leg_thickness: Length
    """Of a jamb leg."""
    core: str
    """How the leaf is built."""
    leaves: int
    """Leaves a unit."""
    hinges: str
    """butt, lift_off, spring: what the leaf hangs on."""
    fire_minutes: int | UnsetType = UNSET
    """Minutes for which the leaf is rated against fire, where they are stated."""
    duties: tuple[str, ...]
    """fire_label, fuel_burning_room, garage_to_house, smoke_control: what the unit itself is made or listed for."""
    state: str
    """to_order, on_site, set: whether to order them, or that they are there and nothing is to be ordered."""
    hold: bool
    """Whether someone must answer before they are ordered: a floor isn't named, rules conflict, the header is too low
    for them, what is asked holds setting or leaf, or another undercut would need no saw. Of units to order only."""
    units: int
    """How many units."""
    marks: tuple[str, ...]


class TrimLine(Part, frozen=True, kw_only=True):
    """One leaf to be cut."""

    place: int
    """Place in the cutting order: on the bench first, then hung; leaves of one gauge block after each other."""
    mark: str
    leaf: str
    """only, first, second: which leaf of the opening."""
    trim: Length
    """What comes off in this cut."""
    when: str
    """before_hanging, before_floor, after_floor."""
    where: str
    """bench, in_place, off_hinges."""
    gauge_block: GaugeBlock | UnsetType = UNSET
    height_after: Length | UnsetType = UNSET
    """Height of the leaf after its last cut; left out where another follows."""
    hold: bool


class UndercutLine(Part, frozen=True, kw_only=True):
    """What the flooring installer cuts at one side of one opening; in the order of rooms, then marks."""

    room: str | UnsetType = UNSET
    mark: str
    side: str
    """pull_side, push_side."""
    jamb_undercut: Length | UnsetType = UNSET
    """Height above the subfloor at which the legs are cut off; left out where nothing is cut."""
    casing_undercut: Length | UnsetType = UNSET
    """The same of the casing."""
    base_height: Length | UnsetType = UNSET
    """Bottom of the base above the subfloor."""
    hold: bool
    """Whether somebody answers first: on this side's floor, which another opening may want raised, or on the legs of a
    labelled frame."""
    note: Phrase


class PieceLot(Part, frozen=True, kw_only=True):
    """Transition pieces that can be bought and cut alike; none where a floor runs through a doorway."""

    piece: str | UnsetType = UNSET
    """Id of the piece, as GET /v1/finishes has it; left out while a floor is undecided."""
    title: Phrase | UnsetType = UNSET
    step: Length | UnsetType = UNSET
    """Difference of the two finishes."""
    rise: Length | UnsetType = UNSET
    """Top of the piece above the higher finish."""
    bevel: Bevel | UnsetType = UNSET
    """Left out where no rule asks for one."""
    leaf_width: Length
    """Of one leaf."""
    leaves: int
    """Leaves that the piece lies under, side by side."""
    count: int
    """How many pieces."""
    marks: tuple[str, ...]


class HouseQuestion(Part, frozen=True, kw_only=True):
    """One question for all openings that wait for it; the most minutes at stake first."""

    code: str
    """One of those that questions of an opening have; of a house also room_floors_differ, and where its doors are set
    head_line_left."""
    ask: str
    text: Phrase
    marks: tuple[str, ...]
    holds: tuple[str, ...] = ()
    """setting, leaf, air, transition, flooring: the phases that wait for the answer at one of the marks."""
    minutes_at_stake: Minutes | UnsetType = UNSET
    """Minutes it is expected to save, all these openings together, to know the answer before anything is set."""


class Link(Part, frozen=True, kw_only=True):
    """A predecessor of a task."""

    task: str
    """Key of a task of this answer, or of one of its events (external:…)."""
    relation: str
    """FS: it ends before this begins."""


class HouseTask(Part, frozen=True, kw_only=True):
    """A step for scheduling software."""

    key: str
    """The mark, a full stop and the step; the same in every answer for this mark."""
    mark: str
    title: Phrase
    trade: str
    phase: str
    """setting, leaf, air, flooring, transition, handover."""
    minutes: int
    """Working time, as in the task of an opening; so is the next."""
    waits_for: tuple[str, ...]
    """Keys of tasks of this answer, or of its events (external:…)."""
    work: str
    """The minutes as an ISO 8601 duration, such as PT43M, for what is handed over to scheduling software."""
    links: tuple[Link, ...]
    """What it waits for, each with its relation, for the same."""
    hold: bool
    """Whether it has to wait for the questions or conflicts named."""
    questions: tuple[str, ...]
    """Codes of the questions that hold it."""
    conflicts: tuple[str, ...]
    """Rules whose conflict holds it."""


class HouseEvent(Part, frozen=True, kw_only=True):
    """Something that tasks wait for and no task of this answer brings about; whoever sees it tells the scheduler."""

    key: str
    """external:… with the room it happens to, in lower case, a blank as a hyphen and all else percent-encoded, or else
    with the opening's mark."""
    title: Phrase
    room: str | UnsetType = UNSET
    """As the first opening writes it; names that differ in case or blanks alone are one room."""
    mark: str | UnsetType = UNSET
    """The opening it is about, where it isn't about a room that has a name."""
    follows: tuple[Link, ...]
    """What has to be done before: a floor is laid when units are set, and jambs undercut that it passes under; a carpet
    when the hard floors lie that it meets, and the pieces between that go first."""


class SharedCost(Part, frozen=True, kw_only=True):
    """What a constraint that openings share costs against deciding each alone."""

    kind: str
    """head_line, block_sizes: what is shared."""
    name: str | UnsetType = UNSET
    """Of the head line."""
    minutes: Minutes
    """Negative where sharing saves."""
    text: Phrase


class TradeMinutes(Part, frozen=True, kw_only=True):
    """Work of one trade."""

    trade: str
    minutes: int


class Totals(Part, frozen=True, kw_only=True):
    """The house in numbers."""

    openings: int
    """Of the request."""
    advised: int
    """Those with an advice."""
    refused: int
    """Those with faults."""
    go: int
    """Advices with this verdict."""
    go_with_trim: int
    """Advices with this verdict."""
    hold: int
    """Advices with this verdict."""
    conflict: int
    """Advices with this verdict."""
    block_sizes: int
    """Distinct sizes of blocks."""
    trims: int
    """Openings whose leaves are cut."""
    minutes: int
    """Working minutes of all tasks."""
    by_trade: tuple[TradeMinutes, ...]
    expected_minutes: Minutes
    """What the settings cost: legs, trims, fixes once floors are laid, wishes given up, and the block sizes."""
    expected_minutes_alone: Minutes
    """The same if each opening were decided alone."""


class HouseAdvice(Part, frozen=True, kw_only=True):
    """The whole answer for a house."""

    advice_id: str
    """Name of this answer: the same for the same question, rules and version."""
    house: str
    """As the request calls it."""
    summary: Phrase
    rule_set: str
    rule_set_digest: str
    input_digest: str
    """Hash of what was asked, whatever its units, its spacing, the order of its fields and the defaults it states."""
    grid: str
    """Grid of the lists: that of the first opening in the order of marks."""
    openings: tuple[OpeningResult, ...]
    """In the order of the request."""
    head_lines: tuple[HeadLineAdvice, ...]
    blocks: tuple[BlockLot, ...]
    """In the order of sizes."""
    order_list: tuple[OrderLot, ...]
    """Those still to be ordered first, all of them; of these last what waits for its floors."""
    trim_list: tuple[TrimLine, ...]
    """In cutting order."""
    undercut_list: tuple[UndercutLine, ...]
    """In the order of rooms, then marks."""
    piece_list: tuple[PieceLot, ...]
    """By piece, width, step, rise and bevel; those not known yet last."""
    questions: tuple[HouseQuestion, ...]
    """The most minutes at stake first."""
    tasks: tuple[HouseTask, ...]
    """In the order of marks, those of one opening in working order."""
    events: tuple[HouseEvent, ...]
    """In the order in which tasks name them."""
    shared_costs: tuple[SharedCost, ...]
    """Of head lines and of block sizes."""
    totals: Totals
    proven_least: bool
    """Whether it is certain that no other settings cost fewer minutes; false where the search was cut short, as may
    happen where each opening needs block sizes of its own. The settings are just as sound, and the summary says so."""
    tie_rule: Phrase
    """How ties between settings were broken."""
    notice: Phrase
