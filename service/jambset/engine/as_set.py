"""Reads a recheck: the unit as somebody measured it, or everything that is wrong with what was measured."""

from __future__ import annotations

from collections.abc import Iterator

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
    low, (hinge, strike) = _feet(request)
    bottom = _bottom(request, catalogue)
    opening, undercut = _set(request), request.frame.undercut
    made = Length(bottom - low) if undercut is UNSET else undercut
    frame = replace(opening.frame, foot=Length(low), undercut=made)
    return Unit(replace(opening, frame=frame), bottom, hinge, strike)


def _set(request: Recheck) -> Opening:
    """The opening of a recheck, its frame set and its foot still to be told."""
    members = {name: getattr(request, name) for name in Opening.__struct_fields__}
    return Opening(**members | {"frame": replace(request.frame, state=FrameState.SET, foot=UNSET)})


def _feet(request: Recheck) -> tuple[int, tuple[int, int]]:
    """Where the lower leg ends, and how much higher than that each of them does; both told, or the one of both."""
    legs = [int(foot) for foot in _told(request.as_set.hinge_foot, request.as_set.strike_foot)]
    if isinstance(request.as_set.foot, Length):
        legs = [int(request.as_set.foot)] * 2
    return min(legs), (legs[0] - min(legs), legs[1] - min(legs))


def _told(*values: Length | UnsetType) -> list[Length]:
    return [value for value in values if value is not UNSET]


Bottom = tuple[str, int, int, int]
"""Where the request tells the leaf's bottom, and at least, at all likelihood and at most how high [ticks]."""


def _bottoms(request: Recheck, catalogue: Catalogue) -> Iterator[Bottom]:
    """What each measurement says of the leaf's bottom; a gap, by the floor that it was measured to."""
    told, level = request.as_set.leaf_bottom, ground_of(request, catalogue)
    if told is not UNSET:
        yield "#/as_set/leaf_bottom", int(told), int(told), int(told)
    for name, side, gap in _gaps(request):
        if gap is UNSET or side.build_up is UNSET or _is_undecided(side):
            continue
        if build_up_faults(f"#/{name}/build_up", side.build_up, catalogue):
            continue
        floor = floor_of(side.build_up, catalogue)
        least, likely, most = level.closed_low + floor.least, level.closed_mean, level.closed_high + floor.greatest
        yield (f"#/as_set/gaps/{name}", gap + least, gap + likely + floor.nominal, gap + most)


def _bottom(request: Recheck, catalogue: Catalogue) -> int:
    """The leaf's bottom as measured; of two gaps the one that has it lower, which leaves less under it."""
    told = request.as_set.leaf_bottom
    return min([at for _, _, at, _ in _bottoms(request, catalogue)]) if told is UNSET else int(told)


def _gaps(request: Recheck) -> tuple[tuple[str, Side, Length | UnsetType], ...]:
    gaps = request.as_set.gaps
    return ((PULL, request.pull_side, gaps.pull_side), (PUSH, request.push_side, gaps.push_side))


def _is_undecided(side: Side) -> bool:
    return side.build_up is UNSET or side.certainty is Certainty.UNDECIDED


def _faults(request: Recheck, catalogue: Catalogue) -> tuple[FieldError, ...]:
    """What is wrong with a setting, besides what is wrong with its opening."""
    told = (*frame_faults(request), *foot_faults(request), *leaf_faults(request))
    bottoms = tuple(_bottoms(request, catalogue))
    level = ground_of(request, catalogue)
    feet = () if any(fault.pointer.startswith(_FEET) for fault in told) else _stand_faults(request, level)
    legs = bool(feet) or any(fault.pointer.startswith(_FEET) for fault in told)
    hangs = () if legs or not bottoms else _hang_faults(request, bottoms)
    return (*told, *feet, *_agree_faults(bottoms, catalogue), *hangs)


_FEET = ("#/as_set/foot", "#/as_set/hinge_foot", "#/as_set/strike_foot")


def frame_faults(request: Recheck) -> Iterator[FieldError]:
    """What of the frame as_set contradicts."""
    if request.frame.foot is not UNSET:
        detail = "as_set says where the legs stand; leave this out."
        yield FieldError("#/frame/foot", "contradiction", detail)
    if request.frame.state is FrameState.TO_ORDER:
        detail = "A unit still to be ordered isn't set; leave this out, or ask for advice instead of a recheck."
        yield FieldError("#/frame/state", "contradiction", detail)


def foot_faults(request: Recheck) -> Iterator[FieldError]:
    """Feet that aren't told, or told in two ways."""
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
        detail = "One leg's height is given apart; give the other's too."
        yield FieldError(f"#/as_set/{missing}", "missing_field", detail)


def leaf_faults(request: Recheck) -> Iterator[FieldError]:
    """A leaf bottom that isn't told, or a gap to a floor that nobody named."""
    gaps = [(name, side) for name, side, gap in _gaps(request) if gap is not UNSET]
    if request.as_set.leaf_bottom is UNSET and not gaps:
        detail = "Where does the leaf end? Give leaf_bottom, or the gap measured to the floor of a side."
        yield FieldError("#/as_set/leaf_bottom", "missing_field", detail)
    for name, side in gaps:
        if _is_undecided(side):
            detail = f"A gap is measured to a floor that lies: name it in {name}.build_up, or give leaf_bottom instead."
            yield FieldError(f"#/as_set/gaps/{name}", "contradiction", detail)


def _stand_faults(request: Recheck, level: Ground) -> tuple[FieldError, ...]:
    low, (hinge, strike) = _feet(request)
    legs = (("hinge_foot", low + hinge - level.hinge_leg), ("strike_foot", low + strike - level.strike_leg))
    detail = "A leg can't end below the subfloor it stands on; measure from the highest subfloor under the legs."
    return tuple([FieldError(f"#/as_set/{name}", "implausible", detail) for name, over in legs if over < 0])


def _agree_faults(bottoms: tuple[Bottom, ...], catalogue: Catalogue) -> Iterator[FieldError]:
    if not bottoms:
        return
    first, slack = bottoms[0], catalogue.defaults.tape_slack
    for pointer, least, _, most in bottoms[1:]:
        if least - first[3] > slack or first[1] - most > slack:
            detail = (
                f"This and {first[0][2:].replace('/', '.')} say different heights of the leaf's bottom, by more than "
                "floors and tape allow; measure again, or give one of them."
            )
            yield FieldError(pointer, "contradiction", detail)


def _hang_faults(request: Recheck, bottoms: tuple[Bottom, ...]) -> Iterator[FieldError]:
    low, undercut = _feet(request)[0], request.frame.undercut
    pointer, bottom = bottoms[0][0], bottoms[0][2]
    if not pointer.endswith("leaf_bottom"):
        pointer, bottom = min([(name, at) for name, _, at, _ in bottoms], key=lambda told: told[1])
    if bottom < low:
        detail = "The leaf would hang below the legs of its frame; check both heights and their units."
        yield FieldError(pointer, "implausible", detail)
    elif undercut is not UNSET and bottom - low < undercut:
        detail = (
            "The leaf ends less than this above the legs as they stand. Where the legs were cut, give what they leave "
            "of the undercut, or leave it out."
        )
        yield FieldError("#/frame/undercut", "contradiction", detail)
