"""Contradictions between parts of a request, each found by a small function that takes these parts alone.

So a body of which only some parts can be read is told the faults between those too.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

from msgspec import UNSET, UnsetType

from jambset.errors import FieldError
from jambset.model.advice import WHOLE
from jambset.model.request import Certainty, FrameState
from jambset.quantity.ticks import Area, Length, metres
from jambset.rules.schema import Catalogue
from jambset.rules.select import first_day

REPEATED = "Name each item once."


def is_repeated(items: Sequence[object]) -> bool:
    """Whether a list names an item twice; of any values, also those that can't be hashed."""
    return len(items) > 1 and any(item in items[:place] for place, item in enumerate(items))


def day_faults(as_of: datetime.date | UnsetType, catalogue: Catalogue) -> tuple[FieldError, ...]:
    """A permit date before any known rule: nothing would be checked. What is unset isn't known."""
    if as_of is UNSET or as_of >= (first := first_day(catalogue)):
        return ()
    detail = f"No rule here is older than {first}; write the permit date, its year in four digits, or leave it out."
    return (FieldError("#/as_of", "implausible", detail),)


def foot_faults(foot: Length | UnsetType, state: FrameState | UnsetType) -> tuple[FieldError, ...]:
    """A foot stated of a frame that isn't fixed; what is unset isn't known."""
    if foot is UNSET or state in (FrameState.SET, UNSET):
        return ()
    detail = 'A foot is stated only for a frame that is fixed already: with "state": "set", or leave it out.'
    return (FieldError("#/frame/foot", "not_set", detail),)


def height_faults(*, hole: Length | UnsetType, leaf: Length | UnsetType) -> tuple[FieldError, ...]:
    """A rough opening lower than its leaf; what is unset isn't known."""
    if hole is UNSET or leaf is UNSET or hole >= leaf:
        return ()
    detail = "The rough opening is lower than the leaf; no setting of the frame can fix that. Check both heights."
    return (FieldError("#/rough_opening/height", "implausible", detail),)


def angle_faults(*, cut_angle: float | UnsetType, opening_angle: float | UnsetType) -> tuple[FieldError, ...]:
    """A leaf held farther open than it opens; what is unset isn't known."""
    if cut_angle is UNSET or opening_angle is UNSET or cut_angle <= opening_angle:
        return ()
    return (FieldError("#/leaf/cut_angle", "out_of_range", "The leaf can't be held farther open than opening_angle."),)


SURELY = 1 + 1e-9
"""Ratio of free area to face beyond which it isn't rounding."""


def grille_faults(
    pointer: str, *, width: Length | UnsetType, height: Length | UnsetType, free_area: Area | UnsetType
) -> Iterator[FieldError]:
    """A grille with more free area than face; what is unset isn't known. pointer: the grille's."""
    if width is UNSET or height is UNSET or free_area is UNSET:
        return
    if free_area > metres(width) * metres(height) * SURELY:
        detail = "This grille's free area is larger than its face. Check the area's unit, and both sides."
        yield FieldError(f"{pointer}/free_area", "contradiction", detail)


def certainty_faults(
    pointer: str, certainty: Certainty | UnsetType, *, named: bool, weights: Sequence[float | UnsetType]
) -> Iterator[FieldError]:
    """A certainty that its side contradicts. pointer: the side's. weights: of the floors it could become."""
    if certainty in (Certainty.ASSUMED, Certainty.UNDECIDED) and 1 in weights:
        detail = "A floor of weight 1 is certain: leave certainty out, or give it less."
        yield FieldError(f"{pointer}/certainty", "contradiction", detail)
    elif certainty is Certainty.CONFIRMED and weights:
        detail = "A confirmed floor can't become another: leave could_become out, or say assumed."
        yield FieldError(f"{pointer}/certainty", "contradiction", detail)
    elif not named and certainty in (Certainty.CONFIRMED, Certainty.ASSUMED):
        detail = "There is no build_up for this to apply to: add one, or say undecided."
        yield FieldError(f"{pointer}/certainty", "contradiction", detail)


def weight_faults(pointer: str, weights: Sequence[float | UnsetType], *, named: bool) -> Iterator[FieldError]:
    """Likelihoods that can't be shared out. pointer: the side's. weights: those of the floors it could become."""
    given = sum([parts_of(weight) for weight in weights if weight is not UNSET])
    sharing = UNSET in weights
    if given > WHOLE or (given == WHOLE and sharing):
        left = "leaves nothing for those without one" if given == WHOLE else "is above 1"
        detail = f"The sum of the weights {left}; what they leave of 1 is shared by the floors without a weight."
        yield FieldError(f"{pointer}/could_become", "weights", detail)
    elif not named and weights and not sharing and given < WHOLE:
        detail = "Without a build_up the weights must sum to 1, or leave one of them out to take the rest."
        yield FieldError(f"{pointer}/could_become", "weights", detail)


def parts_of(weight: float) -> int:
    """Parts of a likelihood; what may come at all has one at least."""
    return max(1, round(weight * WHOLE))
