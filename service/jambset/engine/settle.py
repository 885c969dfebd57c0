"""Settles the two heights of an opening inside its bounds, weakest bound relaxed first.

Three numbers are bounded, all in ticks: the foot e (negative: legs are trimmed by that much), the leaf
bottom l, and their difference d = l - e (undercut plus trim). Bounds are taken strongest first; one that
doesn't fit any more is held to as nearly as the stronger ones allow, and the settlement says by how much
it gives way and to which rules. Nothing else is ever traded.

What is possible is three intervals closed under e + d - l = 0. With the sign of l turned the three
numbers sum to zero, and raising the least of one lowers the greatest of the two others by the same rule:
that is all the arithmetic there is, and on a grid of whole steps it stays exact. A leaf that isn't cut,
and a unit whose undercut is still free, leave one number to settle.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from jambset.quantity.grid import Grid, finer
from jambset.quantity.ticks import ceil_to

FAR = 10**12
"""Farther than any length: an open end of an interval."""
FOOT, BOTTOM, CUT, TOP = 0, 1, 2, 3
"""What a bound is on: foot, leaf bottom, trim alone, or the top of the unit less the height above its undercut."""
SURE = 3
"""Steps of the grid by which a bound must miss to miss without a grid too: its own rounding and two others'."""


class Bound(Struct, frozen=True, gc=False):
    """One limit [ticks], at least it or at most, on a height above the datum or on the trim.

    TOP is foot plus undercut: how far the unit stands up before its leaf begins. whole: it is of no use to
    meet it in part, so where it doesn't fit it is left alone (air that a grille has to carry anyway).
    """

    rule: str
    on: int
    lower: bool
    limit: int
    whole: bool = False


class Given(Struct, frozen=True, gc=False):
    """How far a bound had to give way [ticks], and the rules that stood against it."""

    bound: Bound
    amount: int
    against: tuple[str, ...]


class Settlement(Struct, frozen=True, gc=False):
    """Foot and leaf bottom in ticks, what gave way, and the rules that hold each of them where it is."""

    foot: int
    bottom: int
    gave_way: tuple[Given, ...]
    foot_held_by: tuple[str, ...]
    bottom_held_by: tuple[str, ...]


_Line = tuple[int, int, tuple[str, ...], tuple[str, ...], list[Given]]
"""What is possible of one number: least and greatest, the rules behind each end, and what gave way."""
Moves = tuple[int | None, int | None, int | None, int | None]
"""By what a bound on foot, bottom, trim and top is moved to bound the one number; None: it doesn't concern it."""


def _line(bounds: Sequence[Bound], moves: Moves, *, low: int, step: int) -> _Line:
    """Take bounds, strongest first, on one number that lies on the grid and not below `low`."""
    high = FAR
    low_by: tuple[str, ...] = ()
    high_by: tuple[str, ...] = ()
    gave_way: list[Given] = []
    for bound in bounds:
        if (move := moves[bound.on]) is None:
            continue
        limit = bound.limit + move
        if limit <= low if bound.lower else limit >= high:
            continue  # it holds already; both ends lie on the grid, so that is seen before anything is rounded
        if bound.lower:
            limit = -(-limit // step) * step  # ceil_to and floor_to, written out where every bound passes
            if limit > high:
                gave_way.append(Given(bound, limit - high, high_by))
                if bound.whole:
                    continue
                limit = high
            if limit > low:
                low, low_by = limit, (bound.rule,)
        else:
            limit = limit // step * step
            if limit < low:
                gave_way.append(Given(bound, low - limit, low_by))
                limit = low
            if limit < high:
                high, high_by = limit, (bound.rule,)
    return low, high, low_by, high_by, gave_way


def settle_uncut(bounds: Sequence[Bound], *, undercut: int, step: int) -> Settlement:
    """A leaf left as it is: its bottom is the foot, on a grid of `step` ticks, plus the undercut, on it or off.

    bounds: strongest first. undercut: ticks. The foot is as near the subfloor as the bounds allow. An uncut
    leaf is within every limit on the trim.
    """
    low, high, low_by, high_by, gave_way = _line(bounds, (0, -undercut, None, -undercut), low=-FAR, step=step)
    foot, held = _nearest_zero(low, high, low_by, high_by)
    held = _holding(held, gave_way)
    return Settlement(foot, foot + undercut, tuple(gave_way), held, held)


def settle_order(bounds: Sequence[Bound], *, undercut: int, step: int) -> Settlement:
    """A unit that is still to be ordered: near the subfloor, uncut, its undercut what the floors ask for.

    undercut: 0, the least there is. The foot and the bottom are settled each for itself, for the undercut
    between them is free; the top of the unit then stands where the leaf bottom is.
    """
    low, high, low_by, high_by, under_legs = _line(bounds, (0, None, None, None), low=-FAR, step=step)
    foot, held = _nearest_zero(low, high, low_by, high_by)
    low, high, low_by, high_by, under_leaf = _line(bounds, (None, 0, None, 0), low=undercut, step=step)
    by = _once(low_by + high_by) if low == high else low_by
    return Settlement(foot, low, (*under_legs, *under_leaf), _holding(held, under_legs), _holding(by, under_leaf))


def _room(bounds: Sequence[Bound], *, undercut: int, step: int) -> tuple[list[int], list[tuple[str, ...]], list[Given]]:
    """Take bounds, strongest first, on foot, cut and bottom together.

    Returns the least of each number by its place, the rules behind each, and what gave way. Places are those of foot,
    cut and turned leaf bottom, then of their negatives, so that the greatest of a number is a least as well.
    """
    least = [-FAR, ceil_to(undercut, step=step), -FAR, -FAR, -FAR, -FAR]
    by: list[tuple[str, ...]] = [()] * 6
    gave_way: list[Given] = []
    places = ((0, 3, 0), (5, 2, 0), (1, 4, undercut), (0, 3, -undercut))
    for bound in bounds:
        place, opposite, move = places[bound.on]
        limit = bound.limit + move
        if not bound.lower:
            place, opposite, limit = opposite, place, -limit
        if limit <= least[place]:
            continue  # most hold already, which is seen before anything is rounded
        limit = -(-limit // step) * step
        if limit > (most := -least[opposite]):
            gave_way.append(Given(bound, limit - most, _once(by[opposite])))
            if bound.whole or most == least[place]:
                continue
            limit = most
        least[place], by[place] = limit, (bound.rule,)
        for other, third in _RAISED[place]:
            if (sum_ := limit + least[third]) > least[other]:
                least[other], by[other] = sum_, (bound.rule, *by[third])
    return least, by, gave_way


_RAISED = (((4, 2), (5, 1)), ((3, 2), (5, 0)), ((3, 1), (4, 0)), ((1, 5), (2, 4)), ((0, 5), (2, 3)), ((0, 4), (1, 3)))
"""By the place of a number whose least is raised: the negatives of the two others, each with the third that it adds."""


def _once(rules: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(rules)) if len(rules) > 1 else rules


def settle_cut(bounds: Sequence[Bound], *, undercut: int, step: int) -> Settlement:
    """A leaf that may be cut: foot and leaf bottom both on the grid, the foot near the subfloor, the leaf low."""
    (low, least_cut, turned, high, _, bottom), by, gave_way = _room(bounds, undercut=undercut, step=step)
    foot, held = _nearest_zero(low, -high, by[0], by[3])
    leaf_by = by[5] + by[2] if turned == -bottom else by[5]
    if (lowest := foot + least_cut) > bottom:
        bottom, leaf_by = lowest, held + by[1]
    return Settlement(foot, bottom, tuple(gave_way), _holding(held, gave_way), _holding(_once(leaf_by), gave_way))


def _holding(rules: tuple[str, ...], gave_way: list[Given]) -> tuple[str, ...]:
    """Of the rules behind a height, those that were kept; where every one gave way, they all."""
    if not (gave_way and rules):
        return rules
    lost = {given.bound.rule for given in gave_way}
    return tuple([rule for rule in rules if rule not in lost]) or rules


def _nearest_zero(
    low: int, high: int, low_by: tuple[str, ...], high_by: tuple[str, ...]
) -> tuple[int, tuple[str, ...]]:
    """The value of an interval nearest 0 and the rules that hold it there; both sides' where it is pinned."""
    if low == high:
        return low, _once(low_by + high_by)
    if low <= 0 <= high:
        return 0, ()
    return (low, low_by) if low > 0 else (high, high_by)


Settle = Callable[..., Settlement]
"""settle_uncut, settle_cut or settle_order."""


def on_tape(
    settle: Settle, bounds: Sequence[Bound], *, undercut: int, grid: Grid, first: Settlement | None = None
) -> tuple[Settlement, Grid]:
    """Settle on the caller's grid, or on the coarsest finer one that lets hold whatever can hold at all.

    first: as it settles on the caller's grid, where that is known.
    """
    first = first or settle(bounds, undercut=undercut, step=grid.step)
    if not first.gave_way or all(given.amount >= SURE * grid.step for given in first.gave_way):
        return first, grid
    if not (undercut % grid.step or any(bound.limit % grid.step for bound in bounds)):
        return first, grid  # nothing was rounded, so a finer grid changes nothing
    lost = {given.bound for given in settle(bounds, undercut=undercut, step=1).gave_way}
    found, tape, finer_ones = first, grid, iter(finer(grid)[1:])
    while not lost.issuperset(given.bound for given in found.gave_way):
        tape = next(finer_ones)  # ends at the exact one at the latest
        found = settle(bounds, undercut=undercut, step=tape.step)
    return found, tape


def lead(bounds: Sequence[Bound], *, one: Settlement, other: Settlement, step: int, wishes: frozenset[str]) -> int:
    """By how much `one` keeps the strongest bound better that the two keep differently [ticks].

    Negative where it keeps it worse; 0 where they differ by less than a step of the tape everywhere. wishes: rules of
    which less than a step never counts. Any other that one of the two keeps and the other doesn't counts whatever the
    amount: on the tapes they were settled on, neither loses what could hold, and what is lost is told as missed.
    """
    lost = [{id(given.bound) for given in settlement.gave_way} for settlement in (one, other)]
    parted = lost[0] ^ lost[1]
    return next(
        (
            less
            for bound, less in less_given(bounds, one, other)
            if abs(less) >= step or (id(bound) in parted and not bound.whole and bound.rule not in wishes)
        ),
        0,
    )


def less_given(bounds: Sequence[Bound], one: Settlement, other: Settlement) -> list[tuple[Bound, int]]:
    """By how much less `one` lets each bound give way, strongest first; only of those the two keep differently.

    The settlements are of a leaf cut or uncut, which tell what gave way in the order of the bounds.
    """
    if not one.gave_way:
        return [(given.bound, given.amount) for given in other.gave_way]
    amounts = {id(given.bound): given.amount for given in other.gave_way}
    lost: Sequence[Bound] = [given.bound for given in other.gave_way]
    for given in one.gave_way:
        if id(given.bound) in amounts:
            amounts[id(given.bound)] -= given.amount
        else:
            amounts[id(given.bound)] = -given.amount
            lost = bounds  # these tell where it stands among those that the other loses
    return [(bound, less) for bound in lost if (less := amounts.get(id(bound)))]


def surely_ahead(bounds: Sequence[Bound], *, one: Settlement, other: Settlement, step: int) -> bool:
    """Whether `one` leads however fine a tape `other` would be settled on."""
    return next((less > 0 for _, less in less_given(bounds, one, other) if less < 0 or less >= SURE * step), False)
