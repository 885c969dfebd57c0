"""What the service answers of an opening as it was set: what shows, what mends it, cheapest first.

Parts of an answer as in `jambset.model.advice`: ticks, SI floats and phrases; code lists are open.
"""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from jambset.model.advice import (
    AirAdvice,
    Assumption,
    Caution,
    Check,
    Citation,
    ClearanceAdvice,
    Flooring,
    Part,
    Phrase,
    Question,
    Taken,
    Task,
    TransitionAdvice,
    Value,
)
from jambset.quantity.ticks import Area, Length


class AsFound(Part, frozen=True, kw_only=True):
    """The unit as it stands; heights above the datum."""

    hinge_foot: Length
    """Bottom of the hinge leg."""
    strike_foot: Length
    """Bottom of the strike leg; of a pair, of its second hinge leg."""
    leaf_bottom: Length
    """Bottom of the leaf."""
    undercut: Length
    """Of the unit as made: as stated, else what its leaf and its lower leg now leave."""
    trimmed: Length
    """What was cut off the leaf already."""
    head_height: Length
    """Underside of the head."""


class Finding(Part, frozen=True, kw_only=True):
    """One thing that somebody would see, hear or measure, by the strongest rule it misses."""

    kind: str
    """rubs, tight, wide, shows, little_air, much_air, edge, other. rubs: the leaf touches. tight, wide: too little, too
    much under it. shows: daylight under a leg. little_air, much_air: what passes it. edge: the change in level in the
    doorway."""
    side: str | UnsetType = UNSET
    """pull_side, push_side: left out where it is about the doorway or neither."""
    leg: str | UnsetType = UNSET
    """hinge_leg, strike_leg (of a pair: first, second hinge leg) where the two differ."""
    rule: str
    """Id of the strongest rule it misses."""
    force: str
    amount: Value | UnsetType = UNSET
    """How deep it rubs, how far a leg shows, else by how much the rule is missed."""
    text: Phrase


class Need(Part, frozen=True, kw_only=True):
    """Who has to agree, or what has to be true, before a remedy is begun."""

    code: str
    """listing, leaf_label, unit_label, frame_label, frame_instructions, seal_listing, smoke_seal, authority,
    floors_certain, floor_not_laid, rough_opening_unknown: or the id of the rule that asks."""
    ask: str
    text: Phrase


class Remedy(Part, frozen=True, kw_only=True):
    """One way to fix what is missed, or several done together. Its effect was worked out, not assumed."""

    kind: str
    """trim, reset, other_leaf, other_unit, fill_legs, cover_legs, raise_floor, change_piece, bottom_seal,
    transfer_grille, combination. other_unit: only where no other way leaves as little missed."""
    steps: tuple[str, ...]
    """trim, reset, other_leaf, other_unit, fill_legs, cover_legs, raise_floor, change_piece, bottom_seal,
    transfer_grille: the kinds it is made of, in working order."""
    minutes: int
    """Working minutes. What is bought isn't in them."""
    text: Phrase
    fixes: tuple[str, ...]
    """Rules missed as found and met after it; none where only a listing can say so."""
    breaks: tuple[str, ...]
    """Rules missed after it and not before."""
    leaves: tuple[str, ...]
    """Firm rules (of a force above preference, or of construction) still missed after it."""
    if_listed: tuple[str, ...] = ()
    """Of what it leaves, rules on fire that a seal named in the door's listing may answer for: the listing says so or
    not, never this service."""
    lawful: bool
    """Whether no rule of law or standard is missed after it, as long as its needs are met."""
    needs: tuple[Need, ...] = ()
    """What has to be met before anything is begun."""
    cautions: tuple[str, ...] = ()
    """Codes of the cautions that go with it."""
    foot: Length | UnsetType = UNSET
    """Of a unit set again, or another set in its place: where its legs, the lower one, then stand."""
    undercut: Length | UnsetType = UNSET
    """Of another unit: leaf bottom to frame bottom, as it is made."""
    trim: Length | UnsetType = UNSET
    """Cut off the leaf, beyond what was trimmed already; of another leaf, off that as made."""
    where: str | UnsetType = UNSET
    """bench, in_place, off_hinges: where the leaf is cut."""
    leaf_bottom: Length | UnsetType = UNSET
    """Where the leaf's bottom then ends."""
    layer: Length | UnsetType = UNSET
    """Thickness added under a floor."""
    side: str | UnsetType = UNSET
    """Of the floor raised."""
    piece: str | UnsetType = UNSET
    """The transition piece then fitted."""
    free_area: Area | UnsetType = UNSET
    """Of the grille."""


class DoNothing(Part, frozen=True, kw_only=True):
    """What it means to leave all as it is."""

    lawful: bool
    """Whether no rule of law or standard is missed."""
    text: Phrase
    leaves: tuple[str, ...]
    """All rules missed, wishes too."""


class RecheckAdvice(Part, frozen=True, kw_only=True):
    """An opening as it was set, held against the floors as they are now."""

    advice_id: str
    """Name of this answer: the same for the same question, rules and version."""
    mark: str
    external_id: str | UnsetType = UNSET
    verdict: str
    """fine, live_with, work, conflict, hold. fine: every rule is met. live_with: nothing firmer than a wish is missed.
    work: something firmer is missed. conflict: a rule of law, standard or programme, or of construction, is missed, and
    after each remedy one still is. hold: a floor isn't named, so nothing can be told for certain; or the first remedy
    cuts what nobody can put back and waits for an answer, or for a floor that isn't certain; or no such rule is missed,
    but a question of one holds setting or leaf."""
    summary: Phrase
    jurisdiction: str
    rule_set: str
    rule_set_digest: str
    input_digest: str
    """Hash of what was asked, whatever its units, its spacing, the order of its fields and the defaults it states."""
    as_of: str | UnsetType = UNSET
    taken: Taken
    found: AsFound
    clearance: ClearanceAdvice
    air: AirAdvice
    flooring: Flooring
    transition: TransitionAdvice | UnsetType = UNSET
    checks: tuple[Check, ...]
    findings: tuple[Finding, ...]
    remedies: tuple[Remedy, ...]
    """Those that leave no firm rule missed, least minutes first; then the others, least left first. Under a labelled
    or smoke door, of those that leave as little, what raises the leaf for air comes after what doesn't. While a floor
    isn't certain, the text of each that cuts leaf, legs or wall begins with that."""
    do_nothing: DoNothing
    questions: tuple[Question, ...]
    assumptions: tuple[Assumption, ...]
    cautions: tuple[Caution, ...]
    tasks: tuple[Task, ...]
    """The steps of the first remedy, where firm rules are missed and it leaves none."""
    sources: tuple[Citation, ...]
    notice: Phrase
