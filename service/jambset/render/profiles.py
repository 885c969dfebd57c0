"""Transition pieces in section, each by the profile that it is known by over the joint of two floors.

Heights are to scale; how wide a piece is no advice knows. What each looks like is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from jambset.render.shapes import PALE, PAPER, Point

LIP, CAP, SLOPE = 12.0, 22.0, 30.0
"""How far a lip, a cap and a tapered pad reach from the joint [units]."""
STEM = 3.0
STRIP = 6.35
"""Thickness at which a tack strip is drawn, where the carpet has room for it [mm]."""


@dataclass(frozen=True, slots=True)
class Seat:
    """Where a piece sits, heights in mm above the subfloor.

    near, far: of the finishes left and right of the joint, the far one carpet where one is, else the lower. top: of
    the piece. bed: of what the carpet of the far side and its cushion lie on. skin: thickness of the far side's top
    layer. fine: how high a unit of the drawing is [mm].
    """

    near: float
    far: float
    top: float
    bed: float
    skin: float
    fine: float


@dataclass(frozen=True, slots=True)
class Profile:
    """A piece as it is cut: across in units from the joint towards the far side, up in mm above the subfloor.

    parts: outlines, each with its fill. lines: thin ones. gaps: how far the near and the far floor end before the
    joint. wide: how far the piece lies over each.
    """

    parts: tuple[tuple[tuple[Point, ...], str], ...] = ()
    lines: tuple[tuple[Point, ...], ...] = ()
    gaps: tuple[float, float] = (0.0, 0.0)
    wide: tuple[float, float] = (0.0, 0.0)


def profile(piece: str, at: Seat) -> Profile:
    """The profile of a piece by its id; of one that isn't known an overlap reducer's."""
    return PROFILES.get(piece, _overlap)(at)


def _edge(x: float, low: float, top: float) -> tuple[Point, ...]:
    """A rounded edge to the left of 0 or the right of it, from the outside up."""
    inward = 1.0 if x < 0 else -1.0
    return ((x, low), (x + 1.5 * inward, low + 0.6 * (top - low)), (x + 5 * inward, top))


def _back(left: Point, right: Point, top: float) -> tuple[Point, ...]:
    """A rounded back from a left edge up to the top and down to a right one."""
    return (*_edge(*left, top), *reversed(_edge(*right, top)))


def _through(_: Seat) -> Profile:
    return Profile()


def _t_moulding(at: Seat) -> Profile:
    """A cap on both floors, its stem in the space between them."""
    foot = 0.25 * min(at.near, at.far)
    stem = ((STEM, at.far), (STEM, foot), (-STEM, foot), (-STEM, at.near))
    cap = (*_back((-CAP, at.near), (CAP, at.far), at.top), *stem)
    return Profile(((cap, PALE),), gaps=(STEM + 4, STEM + 4), wide=(CAP, CAP))


def _insert(at: Seat) -> Profile:
    """A strip let in between two floors."""
    strip = ((-10.0, 0.0), (-10.0, at.near), (-8.0, at.top), (8.0, at.top), (10.0, at.far), (10.0, 0.0))
    return Profile(((strip, PALE),), gaps=(10, 10), wide=(10, 10))


def _nose(at: Seat) -> tuple[Point, ...]:
    """The slope of a reducer, the lip over the lower floor and the body down to the subfloor."""
    blunt = at.far + min(1.5 * at.fine, 0.5 * (at.top - at.far))
    return ((CAP, blunt), (CAP, at.far), (9.0, at.far), (9.0, 0.0))


def _reducer(at: Seat) -> Profile:
    """Butted to the higher floor, sloping to a lip over the lower one."""
    body = ((0.0, 0.0), (0.0, at.top), (5.0, at.top), *_nose(at))
    return Profile(((body, PALE),), gaps=(0, 12), wide=(0, CAP))


def _overlap(at: Seat) -> Profile:
    """A reducer with a lip over the higher floor too."""
    body = (*_edge(-LIP, at.near, at.top), (3.0, at.top), *_nose(at), (2.0, 0.0), (2.0, at.near))
    return Profile(((body, PALE),), gaps=(1, 12), wide=(LIP, CAP))


def _saddle(at: Seat) -> Profile:
    """A board or slab on the subfloor, both its edges bevelled, the floors butted to it."""
    blunt = min(1.5 * at.fine, 0.5 * (at.top - max(at.near, at.far)))
    top = ((-CAP, at.near + blunt), (8 - CAP, at.top), (CAP - 8, at.top), (CAP, at.far + blunt))
    body = ((-CAP, 0.0), *top, (CAP, 0.0))
    return Profile(((body, PALE),), gaps=(CAP, CAP), wide=(CAP, CAP))


def _ramp(at: Seat) -> Profile:
    """A wedge on the lower floor."""
    wedge = ((0.0, at.top), (36.0, at.far), (0.0, at.far))
    return Profile(((wedge, PALE),), wide=(0, 36))


def _end_cap(at: Seat) -> Profile:
    """A lip over the hard floor and a square nose to which the carpet is butted."""
    body = (*_edge(-LIP, at.near, at.top), (8.0, at.top), (8.0, 0.0), (2.0, 0.0), (2.0, at.near))
    return Profile(((body, PALE),), gaps=(1, 8), wide=(LIP, 8))


def _tucked(at: Seat) -> Profile:
    """The carpet's edge turned down against the hard floor, held by the pins of a tack strip."""
    deep = at.far - at.bed
    down, foot = at.far - 0.6 * deep, at.bed + 0.12 * deep
    over = ((12.0, at.far), (6.0, at.far - 0.06 * deep), (2.5, at.far - 0.3 * deep), (1.5, down), (1.5, foot))
    under = ((5.0, foot), (5.5, down), (12.0, at.far - 0.5 * deep))
    top = at.bed + min(STRIP, 0.4 * deep)
    strip = ((15.0, at.bed), (15.0, top), (25.0, top), (25.0, at.bed))
    pins = tuple(((x, top), (x - 2.5, top + 0.2 * deep)) for x in (18.5, 23.0))
    return Profile((((*over, *under), PALE), (strip, PALE)), pins, gaps=(0, 12), wide=(0, 12))


def _sloped(at: Seat, start: float = 0.0) -> Profile:
    """Carpet on a tapered pad, from the level of the near floor to its own."""
    low, high = max(at.bed, at.near - at.skin), max(at.bed, at.far - at.skin)
    carpet = ((start, low), (start, at.near), (SLOPE, at.far), (SLOPE, high))
    pad = ((start, at.bed), (start, low), (SLOPE, high), (SLOPE, at.bed))
    shares = [place / 7 for place in range(1, 7)]
    pile = tuple(
        (
            (start + share * (SLOPE - start), low + share * (high - low)),
            (start + share * (SLOPE - start), at.near + share * (at.far - at.near)),
        )
        for share in shares
    )
    return Profile(((pad, PALE), (carpet, PAPER)), pile, gaps=(0, SLOPE), wide=(0, SLOPE))


def _sloped_to_cap(at: Seat) -> Profile:
    """Carpet on a tapered pad, raised to a low cap over the edge of the hard floor."""
    slope = _sloped(at, start=5.0)
    cap = (*_edge(-LIP, at.near, at.top), (3.0, at.top), (5.0, at.near), (5.0, 0.0), (2.0, 0.0), (2.0, at.near))
    return Profile((*slope.parts, (cap, PALE)), slope.lines, gaps=(1, SLOPE), wide=(LIP, SLOPE))


def _low_cap(at: Seat) -> Profile:
    """A cap whose lip holds the carpet down, sloping to the hard floor."""
    cap = ((-CAP, at.near), (-1.0, at.top), *reversed(_edge(LIP, at.far, at.top)))
    body = (*cap, (0.0, at.far), (0.0, 0.0), (-5.0, 0.0), (-5.0, at.near))
    return Profile(((body, PALE),), gaps=(6, 0), wide=(CAP, LIP))


def _bar(at: Seat) -> Profile:
    """A metal bar whose back is hammered down on the carpet's edge, its base nailed below it."""
    thick = 2 * at.fine
    base = ((-2.0, at.far), (-2.0, at.bed + thick), (20.0, at.bed + thick), (20.0, at.bed), (-6.0, at.bed))
    body = (*_back((-6.0, at.near), (LIP, at.far), at.top), *base)
    return Profile(((body, PALE),), gaps=(6, 0), wide=(6, LIP))


def _seam(at: Seat) -> Profile:
    """Two carpets edge to edge on a tape."""
    back = at.far - at.skin
    tape = ((-14.0, back), (14.0, back), (14.0, back - 2.5 * at.fine), (-14.0, back - 2.5 * at.fine))
    return Profile(((tape, PALE),))


PROFILES: dict[str, Callable[[Seat], Profile]] = {
    "run_through": _through,
    "run_through_carpet": _through,
    "t_moulding": _t_moulding,
    "t_moulding_low": _t_moulding,
    "flush_insert": _insert,
    "reducer": _reducer,
    "reducer_overlap": _overlap,
    "saddle": _saddle,
    "ramped_reducer": _ramp,
    "tuck_edge_hard": _tucked,
    "tuck_edge": _tucked,
    "tuck_edge_full": _tucked,
    "end_cap": _end_cap,
    "tapered_pad": _sloped,
    "carpet_ramp": _sloped,
    "seam_tapered": _sloped,
    "tapered_pad_cap": _sloped_to_cap,
    "carpet_ramp_cap": _low_cap,
    "carpet_bar": _bar,
    "seam": _seam,
}
"""The profile of each piece of the catalogue, by its id."""
