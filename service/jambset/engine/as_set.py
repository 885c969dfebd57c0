"""Reads a recheck: the unit as somebody measured it, or everything that is wrong with what was measured."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from jambset.engine.facts import PULL, PUSH, faults, ground_of
from jambset.engine.floors import build_up_faults, floor_of
from jambset.engine.standing import Unit
from jambset.engine.swing import Ground
from jambset.errors import FieldError, refusal
from jambset.model.request import Certainty, FrameState, Opening, Recheck, Side
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue


def read(request: Recheck, catalogue: Catalogue) -> Unit:
    """The unit that a recheck describes. Raises InvalidRequest with every fault when there is one."""
    if found := (*faults(_set(request), catalogue), *_faults(request, catalogue)):
        raise refusal(found)
    hinge, strike = _legs(request)
    low, bottom = min(hinge, strike), _counting(tuple(_bottoms(request, catalogue))).likely
    pull, push = (_top(bottom, side, gap, request, catalogue) for _, side, gap in _gaps(request))
    opening, undercut = _set(request), request.frame.undercut
    made = Length(bottom - low) if undercut is UNSET else undercut
    frame = replace(opening.frame, foot=Length(low), undercut=made)
    return Unit(replace(opening, frame=frame), bottom, hinge - low, strike - low, pull_top=pull, push_top=push)


def _set(request: Recheck) -> Opening:
    """The opening of a recheck, its frame set, its foot not given yet."""
    members = {name: getattr(request, name) for name in Opening.__struct_fields__}
    return Opening(**members | {"frame": replace(request.frame, state=FrameState.SET, foot=UNSET)})


def _legs(request: Recheck) -> tuple[int, int]:
    """Where hinge leg and strike leg end [ticks]: as given for each, or for both together."""
    both = request.as_set.foot
    hinge, strike = _told(request.as_set.hinge_foot, request.as_set.strike_foot) if both is UNSET else (both, both)
    return int(hinge), int(strike)


def _told(*values: Length | UnsetType) -> list[Length]:
    return [value for value in values if value is not UNSET]


LEAF_BOTTOM = "#/as_set/leaf_bottom"


class Bottom(NamedTuple):
    """What one measurement says of the leaf's bottom [ticks]. pointer: where the request has it.

    least, greatest: wherever the gap was measured; thin, thick: in the middle, the floor as thin or thick as it may be.
    """

    pointer: str
    least: int
    likely: int
    greatest: int
    thin: int
    thick: int


def _bottoms(request: Recheck, catalogue: Catalogue) -> Iterator[Bottom]:
    """The leaf's bottom as given; then as it follows from each gap and the floor that it was measured to."""
    told, level = request.as_set.leaf_bottom, ground_of(request, catalogue)
    if told is not UNSET:
        yield Bottom(LEAF_BOTTOM, *[int(told)] * 5)
    for name, side, gap in _gaps(request):
        if gap is UNSET or side.build_up is UNSET or _is_undecided(side):
            continue
        if build_up_faults(f"#/{name}/build_up", side.build_up, catalogue):
            continue
        floor = floor_of(side.build_up, catalogue)
        yield Bottom(
            f"#/as_set/gaps/{name}",
            least=gap + level.closed_low + floor.least,
            likely=gap + level.closed_mean + floor.nominal,
            greatest=gap + level.closed_high + floor.greatest,
            thin=gap + level.closed_mean + floor.least,
            thick=gap + level.closed_mean + floor.greatest,
        )


def _counting(bottoms: tuple[Bottom, ...]) -> Bottom:
    """The leaf's bottom as given; else, of two gaps, the one that has it lower, as far up as the other asks at least.

    So a floor whose thickness is only typical gives way to what was measured over it.
    """
    if bottoms[0].pointer == LEAF_BOTTOM:
        return bottoms[0]
    lower = min(bottoms, key=lambda one: one.likely)
    asked = max([one.thin for one in bottoms])
    return lower._replace(likely=max(lower.likely, min(asked, lower.thick)))


def _top(bottom: int, side: Side, gap: Length | UnsetType, request: Recheck, catalogue: Catalogue) -> int | None:
    """How high a floor lies above its subfloor by the gap measured to it, within what it may [ticks]."""
    if gap is UNSET or side.build_up is UNSET:
        return None
    floor = floor_of(side.build_up, catalogue)
    return min(max(bottom - gap - ground_of(request, catalogue).closed_mean, floor.least), floor.greatest)


def _gaps(request: Recheck) -> tuple[tuple[str, Side, Length | UnsetType], ...]:
    gaps = request.as_set.gaps
    return ((PULL, request.pull_side, gaps.pull_side), (PUSH, request.push_side, gaps.push_side))


def _is_undecided(side: Side) -> bool:
    return side.build_up is UNSET or side.certainty is Certainty.UNDECIDED


def _faults(request: Recheck, catalogue: Catalogue) -> tuple[FieldError, ...]:
    """What is wrong with a setting, besides what is wrong with its opening."""
    feet, bottoms = tuple(foot_faults(request)), tuple(_bottoms(request, catalogue))
    legs = () if feet else _stand_faults(request, ground_of(request, catalogue))
    hangs = () if feet or legs or not bottoms else _hang_faults(request, _counting(bottoms))
    told = (*frame_faults(request), *feet, *leaf_faults(request))
    return (*told, *legs, *_agree_faults(bottoms, catalogue), *hangs)


def frame_faults(request: Recheck) -> Iterator[FieldError]:
    """What of the frame as_set contradicts."""
    if request.frame.foot is not UNSET:
        detail = "as_set says where the legs stand; leave this out."
        yield FieldError("#/frame/foot", "contradiction", detail)
    if request.frame.state is FrameState.TO_ORDER:
        detail = "A unit still to be ordered isn't set; leave this out, or ask for advice instead of a recheck."
        yield FieldError("#/frame/state", "contradiction", detail)


def foot_faults(request: Recheck) -> Iterator[FieldError]:
    """Feet that aren't given, or are given in two ways."""
    foot, hinge, strike = request.as_set.foot, request.as_set.hinge_foot, request.as_set.strike_foot
    apart = _told(hinge, strike)
    if foot is UNSET and not apart:
        detail = "How high do the legs stand? Give foot, or hinge_foot and strike_foot where they end at two heights."
        yield FieldError("#/as_set/foot", "missing_field", detail)
    elif foot is not UNSET and apart:
        detail = "Give foot where both legs end at one height, or hinge_foot and strike_foot, not both ways."
        yield FieldError("#/as_set/foot", "contradiction", detail)
    elif len(apart) == 1:
        missing = "strike_foot" if strike is UNSET else "hinge_foot"
        detail = "Only one leg's height is given; give the other's too."
        yield FieldError(f"#/as_set/{missing}", "missing_field", detail)


def leaf_faults(request: Recheck) -> Iterator[FieldError]:
    """A leaf bottom that isn't given, or a gap to a floor that nobody named."""
    gaps = [(name, side) for name, side, gap in _gaps(request) if gap is not UNSET]
    if request.as_set.leaf_bottom is UNSET and not gaps:
        detail = "Where does the leaf end? Give leaf_bottom, or the gap measured to the floor of a side."
        yield FieldError(LEAF_BOTTOM, "missing_field", detail)
    for name, side in gaps:
        if _is_undecided(side):
            detail = (
                f"A gap is measured to a floor that is laid: name it in {name}.build_up, or give leaf_bottom instead."
            )
            yield FieldError(f"#/as_set/gaps/{name}", "contradiction", detail)


def _stand_faults(request: Recheck, level: Ground) -> tuple[FieldError, ...]:
    hinge, strike = _legs(request)
    legs = (("hinge_foot", hinge - level.hinge_leg), ("strike_foot", strike - level.strike_leg))
    detail = "A leg can't end below the subfloor it stands on; measure from the highest subfloor under the legs."
    return tuple([FieldError(f"#/as_set/{name}", "implausible", detail) for name, over in legs if over < 0])


def _agree_faults(bottoms: tuple[Bottom, ...], catalogue: Catalogue) -> Iterator[FieldError]:
    slack = catalogue.defaults.tape_slack
    for other in bottoms[1:]:
        first = bottoms[0]
        place = first.pointer.removeprefix("#/").replace("/", ".")
        if other.least - first.greatest > slack or first.least - other.greatest > slack:
            detail = (
                f"This and {place} give different heights for the leaf's bottom, by more than "
                "floors and tape allow; measure again, or give one of them."
            )
            yield FieldError(other.pointer, "contradiction", detail)


def _hang_faults(request: Recheck, bottom: Bottom) -> Iterator[FieldError]:
    low, undercut = min(_legs(request)), request.frame.undercut
    if bottom.likely < low:
        detail = "The leaf would hang below the legs of its frame; check both heights and their units."
        yield FieldError(bottom.pointer, "implausible", detail)
    elif undercut is not UNSET and bottom.likely - low < undercut:
        detail = (
            "The leaf ends less than this above the legs as they stand. Where the legs were cut, give what they leave "
            "of the undercut, or leave it out."
        )
        yield FieldError("#/frame/undercut", "contradiction", detail)
