"""What the service answers for a house whose doors are set: each opening's recheck, and the work merged into lists.

Lists come from the first remedy of each opening where that leaves nothing firm missed, or from what sets the units of a
head line together (`head_lines[n].together`); what nothing mends whole is told apart. They are in the order of marks
unless they say otherwise, so that the order of the request's openings changes none of them. Lengths of the lists are on
the grid of the house, those of an opening's answer on its own.
"""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from jambset.model.advice import Citation, Part, Phrase
from jambset.model.house import (
    HouseQuestion,
    HouseTask,
    LeftOut,
    OrderLot,
    PieceLot,
    RefusedOpening,
    TradeMinutes,
    UndercutLine,
)
from jambset.model.recheck import RecheckAdvice
from jambset.quantity.ticks import Area, Length


class RecheckResult(Part, frozen=True, kw_only=True):
    """One opening of the request: how it stands, or what is wrong with it."""

    mark: str | UnsetType = UNSET
    """Left out where it can't be read."""
    external_id: str | UnsetType = UNSET
    """Of an opening that couldn't be rechecked, where it can be read; else it is in the advice."""
    advice: RecheckAdvice | UnsetType = UNSET
    """Where it could be rechecked: the same as the call on this opening alone gives."""
    planned: Phrase | UnsetType = UNSET
    """The work on it in the lists, where that isn't the first remedy of its advice: it is set with its head line."""
    problem: RefusedOpening | UnsetType = UNSET
    """Where it couldn't."""


class VerdictCount(Part, frozen=True, kw_only=True):
    """Openings of one verdict."""

    verdict: str
    """fine, live_with, work, hold, conflict: as in the answer of an opening."""
    count: int
    """How many."""
    marks: tuple[str, ...]


class OpenDoor(Part, frozen=True, kw_only=True):
    """An opening that isn't right and has no work in the lists: somebody answers or decides before there is any."""

    mark: str
    verdict: str
    """work, hold, conflict: as in its answer."""
    text: Phrase
    """The summary of its answer, which says what is missed or asked."""


class FixLine(Part, frozen=True, kw_only=True):
    """One step of what is planned of an opening."""

    task: str
    """Key of its task."""
    mark: str
    kind: str
    """trim, reset, other_leaf, other_unit, fill_legs, cover_legs, raise_floor, change_piece, bottom_seal,
    transfer_grille."""
    trade: str
    minutes: int
    """Working minutes. What is bought isn't in them."""
    text: Phrase
    hold: bool
    """Whether it has to wait for the questions named."""
    questions: tuple[str, ...]
    """Codes of the questions that hold it."""
    foot: Length | UnsetType = UNSET
    """Of a unit set again, or another set in its place: where its legs, the lower one, then stand."""
    undercut: Length | UnsetType = UNSET
    """Of another unit: leaf bottom to frame bottom, as it is made."""
    trim: Length | UnsetType = UNSET
    """Cut off each leaf, beyond what was trimmed already; of another leaf, off that as made."""
    where: str | UnsetType = UNSET
    """bench, in_place, off_hinges: where the leaf is cut."""
    leaf_bottom: Length | UnsetType = UNSET
    """Where the leaf's bottom then ends, above the opening's datum."""
    layer: Length | UnsetType = UNSET
    """Thickness added under a floor."""
    side: str | UnsetType = UNSET
    """Of the floor raised."""
    piece: str | UnsetType = UNSET
    """The transition piece then fitted."""
    free_area: Area | UnsetType = UNSET
    """Of the grille."""


class LeafCut(Part, frozen=True, kw_only=True):
    """One leaf to be cut."""

    place: int
    """Place in the cutting order: hung and cut in place first, then taken off, then on the bench while a unit is out or
    another leaf is fitted."""
    task: str
    """Key of the task in which it is cut."""
    mark: str
    leaf: str
    """only, first, second: which leaf of the opening."""
    trim: Length
    """What comes off now; of another leaf, off that as made."""
    where: str
    """in_place, off_hinges, bench."""
    leaf_bottom: Length
    """Where its bottom then ends, above the opening's datum."""
    height_after: Length
    """Height of the leaf then."""
    hold: bool
    questions: tuple[str, ...]
    """Codes of the questions that hold it."""


class LeafLot(Part, frozen=True, kw_only=True):
    """Leaves that can be ordered alike, to be fitted to frames that stay.

    Which hand a leaf hangs on and how it looks isn't known here: count a lot's leaves by those before they are ordered.
    """

    leaf_width: Length
    """Of one leaf."""
    leaf_height: Length
    """Of a leaf as made."""
    leaf_thickness: Length
    """Of a leaf."""
    core: str
    """How the leaf is built."""
    hinges: str
    """butt, lift_off, spring: what the leaf hangs on."""
    fire_minutes: int | UnsetType = UNSET
    """Minutes for which the leaf is rated against fire, where they are stated."""
    duties: tuple[str, ...]
    """fire_label, fuel_burning_room, garage_to_house, smoke_control: what the leaf itself is made or listed for."""
    hold: bool
    """Whether someone must answer before they are ordered."""
    leaves: int
    """How many leaves: two of a pair."""
    marks: tuple[str, ...]


class HeadAsSet(Part, frozen=True, kw_only=True):
    """The head of one door of a line."""

    mark: str
    found: Length
    """Its underside above the datum of the house, as the unit stands."""
    then: Length
    """The same after the work in the lists."""


class HeadOff(Part, frozen=True, kw_only=True):
    """A door whose first remedy takes its head off the line, or further off."""

    mark: str
    off: Length
    """How far its head then stands from the line, up or down."""
    above: bool
    """Whether it then stands above the line."""
    hold: bool
    """Whether its tasks wait for an answer to that; false where somebody has given one, by whose word text says."""
    remedy: int | UnsetType = UNSET
    """Place, counted from 0, of the first of its remedies that leaves no firm rule missed and its head where it is;
    left out where none does."""
    text: Phrase


class SetTogether(Part, frozen=True, kw_only=True):
    """What it takes to set all heads of a line at one height, where each by itself would come to another."""

    head_height: Length
    """Where all then stand, above the datum of the house."""
    minutes: int
    """Working minutes of all their tasks."""
    minutes_alone: int
    """Those of the first remedies of their own answers."""
    least: Length
    """Where the lowest head would stand after those, above the datum of the house."""
    greatest: Length
    """Where the highest would."""
    marks: tuple[str, ...]
    """Doors whose work then is another than the first remedy of their own answer."""


class HeadLineAsSet(Part, frozen=True, kw_only=True):
    """A line of heads as found, and after the work in the lists."""

    name: str
    """As the request calls it."""
    level: bool
    """Whether all its heads stand at one height as found."""
    level_then: bool
    """Whether they do after the work in the lists."""
    head_height: Length | UnsetType = UNSET
    """The line: where most of its heads stand as found, of as many the lowest; underside above the datum of the house.
    Left out where none could be read."""
    heads: tuple[HeadAsSet, ...]
    left_out: tuple[LeftOut, ...]
    off: tuple[HeadOff, ...]
    """Those that first remedies take off it."""
    together: SetTogether | UnsetType = UNSET
    """Where all its units are set again, or it is to be kept (`keep`): at one height rather than each at its own."""
    keeping: SetTogether | UnsetType = UNSET
    """What it would take to keep it, where first remedies take heads off it and something does. The lists have it where
    the line says `keep`."""
    text: Phrase


class HouseCaution(Part, frozen=True, kw_only=True):
    """A danger that goes with the work, once for all openings it concerns."""

    code: str
    """As in the cautions of an opening; or floor_raised: a first remedy raises the floor of a room that these openings
    share, and their answers don't count that."""
    text: Phrase
    rule: str | UnsetType = UNSET
    """Id of what it rests on, as in sources."""
    marks: tuple[str, ...]


class HouseDoNothing(Part, frozen=True, kw_only=True):
    """What it means to leave all as it is."""

    lawful: bool
    """Whether no rule of law or standard is missed at any opening, as far as can be told."""
    unlawful: tuple[str, ...]
    """Marks of those where one is."""
    text: Phrase


class RecheckTotals(Part, frozen=True, kw_only=True):
    """The house in numbers."""

    openings: int
    """Of the request."""
    rechecked: int
    """Those with an advice."""
    refused: int
    """Those with faults."""
    mended: int
    """Those with work in the lists."""
    held: int
    """Of these, those where a step waits for an answer."""
    cuts: int
    """Leaves to be cut."""
    minutes: int
    """Working minutes of all tasks. What is bought isn't in them."""
    by_trade: tuple[TradeMinutes, ...]


class HouseRecheckAdvice(Part, frozen=True, kw_only=True):
    """A house whose doors are set, held against its floors as they are now."""

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
    verdicts: tuple[VerdictCount, ...]
    """Each verdict once, also where no opening has it."""
    openings: tuple[RecheckResult, ...]
    """In the order of the request."""
    open_doors: tuple[OpenDoor, ...]
    """What isn't right and has no work in the lists."""
    head_lines: tuple[HeadLineAsSet, ...]
    fix_list: tuple[FixLine, ...]
    """Every step of the work: by kind in the order of the work, then marks. Units and leaves to exchange, leaves to
    cut, fillers and covers, floors to raise, pieces to change, seals and grilles are each together."""
    trim_list: tuple[LeafCut, ...]
    """In cutting order."""
    order_list: tuple[OrderLot, ...]
    """Units to order in place of those that are set; those that wait for an answer last."""
    leaf_list: tuple[LeafLot, ...]
    """Leaves to order for frames that stay; those that wait for an answer last."""
    undercut_list: tuple[UndercutLine, ...]
    """Room by room, what is left to the flooring installer once the work is done, wherever no gap was measured down to
    a floor that lies."""
    piece_list: tuple[PieceLot, ...]
    """The pieces between the floors as they are now, once the work is done, also those that lie there already; by
    piece, width, step, rise and bevel, those not known yet last."""
    questions: tuple[HouseQuestion, ...]
    """What holds most first. holds: also the phases of tasks that wait for the answer."""
    tasks: tuple[HouseTask, ...]
    """In the order of marks, those of one opening in working order."""
    cautions: tuple[HouseCaution, ...]
    """Those that go with the work in the lists, and those that hold of an opening whatever is done."""
    do_nothing: HouseDoNothing
    totals: RecheckTotals
    sources: tuple[Citation, ...]
    """Of every rule that an opening was held to or is cautioned by, each once."""
    notice: Phrase
