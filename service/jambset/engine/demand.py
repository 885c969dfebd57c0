"""What one pair of floors asks of a unit, and what it costs in minutes to give it that from any setting.

A setting is one number, how far up the unit stands: the foot of a unit whose undercut is given, the undercut
of one still to be ordered. The leaf's bottom, uncut, is the setting and a constant. What a pair of floors asks
for is what its own best setting keeps: every limit that setting meets, the others as nearly as it comes to them.

Once the floor lies, a setting that isn't its best one is lived with, or mended: the leaf trimmed where it
hangs, the legs filled or covered below, the unit set again. Wishes (force preference) may be given up, each
at its price; the rest has to be met. Heights in ticks above the datum, work in whole minutes.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence

from msgspec import Struct

from jambset.engine.bounds import HEADER, Situation
from jambset.engine.decide import Decision, Own, leg_minutes, saw_place
from jambset.engine.labour import BENCH, Work
from jambset.engine.settle import BOTTOM, CUT, FAR, FOOT, TOP, Bound
from jambset.quantity.grid import Grid, finer
from jambset.quantity.ticks import ceil_to, floor_to
from jambset.rules.schema import FinishKind


class Demand(Struct, frozen=True, gc=False):
    """What one pair of floors asks for [ticks]. Wishes are sorted; each is a limit on the setting or on the bottom.

    own: its own best setting. low, high: settings that it can be mended from without setting again. cover: the
    highest setting at which its floors hide the legs. bottom_low, bottom_high, trim_most: on the leaf.
    target: the lowest bottom that meets all that is asked. wish_cover: of the legs, as cover is; wish_high: of the
    unit's top. piece: gap below a leg that the piece can cover; tuck: the highest setting at which it can, since it
    hides nothing where a carpet is to reach under the leg.
    finish: top of the pull side's finish, where a hung leaf is marked from. step: of the tape that a cut is made on.
    """

    own: int
    low: int
    high: int
    cover: int
    bottom_low: int
    bottom_high: int
    trim_most: int
    target: int
    wish_low: tuple[int, ...]
    wish_cover: tuple[int, ...]
    wish_high: tuple[int, ...]
    wish_bottom_low: tuple[int, ...]
    wish_bottom_high: tuple[int, ...]
    piece: int
    tuck: int
    finish: int
    step: int


class Mended(Struct, frozen=True, gc=False):
    """How a setting is brought to what a pair of floors asks for, once they lie.

    work: minutes. wishes: given up. trim: off the hung leaf. legs: whether they are filled below or, where piece is
    set, covered by it. again: the setting the unit is set to anew, None while it stays.
    """

    minutes: int
    work: int
    wishes: int
    trim: int
    bottom: int
    legs: bool
    piece: bool
    again: int | None


def demand(at: Situation, decision: Decision | Own, bounds: Sequence[Bound], *, rise: int, ordered: bool) -> Demand:
    """What the floors of a situation ask for, from its bounds and its own decision.

    rise: from a setting to the uncut leaf's bottom [ticks]. ordered: the setting is the undercut; what bounds
    the foot alone is then met by the decision's own.
    """
    uncut = decision.foot + (decision.undercut or 0)
    piece = 0 if at.joint is None or at.joint.runs_through else at.joint.rise
    asked = _asked(at, bounds, heights(decision), rise)
    if ordered:
        asked |= {(wish, lower, FOOT): [] for wish in (True, False) for lower in (True, False)}
    lows, wish_lows = asked[_FIRM, _LOW, BOTTOM], asked[_WISH, _LOW, BOTTOM]
    highs = asked[_FIRM, _HIGH, BOTTOM], asked[_WISH, _HIGH, BOTTOM]
    target = max(lows + wish_lows, default=-FAR)
    pull = at.facts.pull.floor
    return Demand(
        own=uncut - rise,
        low=max(asked[_FIRM, _LOW, FOOT] + asked[_FIRM, _LOW, TOP], default=-FAR),
        high=min(asked[_FIRM, _HIGH, TOP], default=FAR),
        cover=min(asked[_FIRM, _HIGH, FOOT], default=FAR),
        bottom_low=max(lows, default=-FAR),
        bottom_high=min(highs[0], default=FAR),
        trim_most=min(asked[_FIRM, _HIGH, CUT], default=FAR),
        target=target,
        wish_low=tuple(sorted(asked[_WISH, _LOW, FOOT] + asked[_WISH, _LOW, TOP])),
        wish_cover=tuple(sorted(asked[_WISH, _HIGH, FOOT])),
        wish_high=tuple(sorted(asked[_WISH, _HIGH, TOP])),
        wish_bottom_low=tuple(sorted(wish_lows)),
        wish_bottom_high=tuple(sorted(highs[1])),
        piece=piece,
        tuck=_tuck(at, bounds, decision.foot) if piece and not ordered else FAR,
        finish=0 if pull is None else pull.nominal,
        step=cut_step(decision.tape, target, highs[0] + highs[1]),
    )


def cut_step(tape: Grid, target: int, highs: Sequence[int]) -> int:
    """Of the coarsest tape, the own setting's or a finer one, on which a cut to the target keeps what it can [ticks].

    An own setting may need no cut and no finer tape, where any other needs both.
    """
    room = min([high for high in highs if high >= target], default=FAR)
    return next(one.step for one in finer(tape) if ceil_to(target, step=one.step) <= room)


def _tuck(at: Situation, bounds: Sequence[Bound], foot: int) -> int:
    """The highest foot at which the carpets reach under the legs as they have to; FAR where there are none."""
    rules, wishes = at.regime.by_id, at.regime.wishes
    limits = [
        kept(b, foot)
        for b in bounds
        if b.on == FOOT and not b.lower and b.rule in rules and b.rule not in wishes
        if rules[b.rule].rule.when.finish is FinishKind.CARPET
    ]
    return min(limits, default=FAR)


def heights(decision: Decision | Own) -> dict[int, int]:
    """The heights of a decision by what a bound is on; a leaf nobody settled is uncut."""
    uncut = decision.foot + (decision.undercut or 0)
    bottom = uncut if decision.bottom is None else decision.bottom
    return {FOOT: decision.foot, BOTTOM: bottom, CUT: bottom - uncut, TOP: uncut}


def kept(bound: Bound, value: int) -> int:
    """A limit, or where a value that misses it comes nearest to it."""
    return min(bound.limit, value) if bound.lower else max(bound.limit, value)


def is_wish(bound: Bound, at: Situation) -> bool:
    """Whether a bound may be given up at a price: force preference, or room to shim that no unit is taken out for."""
    return bound.rule in at.regime.wishes or (bound.on == TOP and not bound.lower and bound.rule != HEADER)


_WISH, _FIRM = True, False
_LOW, _HIGH = True, False
_Limits = dict[tuple[bool, bool, int], list[int]]
"""Limits [ticks] by whether a wish, whether a least, and on what; one on the top of the unit as one on its setting."""


_KEYS = tuple((wish, low, on) for wish in (_WISH, _FIRM) for low in (_LOW, _HIGH) for on in (FOOT, BOTTOM, CUT, TOP))


def _asked(at: Situation, bounds: Sequence[Bound], values: dict[int, int], rise: int) -> _Limits:
    """Bounds as limits that the own setting keeps: those it misses moved to where it comes nearest to them."""
    found: _Limits = {key: [] for key in _KEYS}
    wishes = at.regime.wishes
    for bound in bounds:  # `kept` and `is_wish`, written out where every bound passes
        on, lower, limit = bound.on, bound.lower, bound.limit
        value = values[on]
        if value < limit if lower else value > limit:
            limit = value
        if on == TOP:
            wish = bound.rule in wishes or (not lower and bound.rule != HEADER)
            found[wish, lower, on].append(limit - rise)
        else:
            found[bound.rule in wishes, lower, on].append(limit)
    return found


class Pricing(Struct, frozen=True, gc=False):
    """What pricing needs besides a demand: the opening's minutes, and lengths in ticks.

    rise: from a setting to the uncut leaf's bottom. ordered: whether the setting is an undercut; foot: then the
    foot. low: the lower leg's subfloor. fixed: the unit is set already. saw_line: the lowest line, above the finish,
    along which a hung leaf can be cut in place. settings: where a unit can be set anew, sorted; off_tape: of these.
    """

    work: Work
    rise: int
    saw_line: int
    ordered: bool
    fixed: bool
    foot: int
    low: int
    settings: tuple[int, ...]
    off_tape: tuple[int, ...] = ()


def full_trim(d: Demand, setting: int, *, rise: int) -> int:
    """What comes off a leaf at this setting to meet all that can be met, its bottom on the tape [ticks]."""
    uncut = setting + rise
    if uncut >= d.target:
        return 0
    return max(0, min(ceil_to(d.target, step=d.step), _most(d, uncut)) - uncut)


def _most(d: Demand, uncut: int) -> int:
    """The highest bottom on the tape that a leaf may be cut to [ticks]."""
    return floor_to(min(uncut + d.trim_most, d.bottom_high), step=d.step)


def setting_minutes(p: Pricing, setting: int, trim: int) -> int:
    """What setting the unit takes: its legs, and a trim on the bench [min]."""
    return leg_minutes(p.foot if p.ordered else setting, p.low, p.work) + (p.work.saw[BENCH] if trim else 0)


def now_minutes(p: Pricing, setting: int, trim: int) -> int:
    """What is left of that to be done now: nothing of a unit that is set [min]."""
    return 0 if p.fixed else setting_minutes(p, setting, trim)


def hung_place(d: Demand, p: Pricing, bottom: int) -> str:
    """Where a hung leaf is cut to end at a height, over the finish it is marked from."""
    return saw_place(bottom - d.finish, least=p.saw_line)


def mend(d: Demand, p: Pricing, setting: int, trimmed: int, *, anew: Callable[[int], Mended]) -> Mended:
    """The cheapest way to what a pair of floors asks for, from a setting and what was trimmed off already.

    anew: `set_anew` for this pair, by what was trimmed.
    """
    best = stay(d, p, setting, trimmed)
    if best is None or best.minutes > p.work.set_again:
        again = anew(0 if p.ordered else trimmed)
        if best is None or again.minutes < best.minutes:
            return again
    return best


def fits(d: Demand, p: Pricing, setting: int, trimmed: int) -> bool:
    """Whether a setting can be mended without setting the unit again."""
    bottom = setting + p.rise + trimmed
    reached = d.bottom_low <= bottom or d.bottom_low <= _most(d, setting + p.rise)
    return d.low <= setting <= d.high and bottom <= d.bottom_high and reached


def stay(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended | None:
    """The better of living with the leaf as it is and of trimming it, the legs mended; None where neither will do."""
    if not fits(d, p, setting, trimmed):
        return None
    bottom = setting + p.rise + trimmed
    shows, piece, legs, lost = _legs(d, p.work, setting)
    live = None
    if bottom >= d.bottom_low:
        gone = lost + _lost(d, bottom)
        live = Mended(legs + p.work.wish * gone, legs, gone, 0, bottom, shows > 0, piece, None)
        if bottom >= d.target:
            return live
    trim = full_trim(d, setting, rise=p.rise)
    if trim <= trimmed:
        return live
    bottom = setting + p.rise + trim
    gone = lost + _lost(d, bottom)
    work = legs + p.work.saw[hung_place(d, p, bottom)]
    if live is not None and live.minutes <= work + p.work.wish * gone:
        return live
    return Mended(work + p.work.wish * gone, work, gone, trim - trimmed, bottom, shows > 0, piece, None)


def _legs(d: Demand, work: Work, setting: int) -> tuple[int, bool, int, int]:
    """What is to be mended below the legs and whether the piece does, minutes of that, wishes given up.

    Legs that are mended are hidden, and are one wish less whatever was wished of them.
    """
    lost = len(d.wish_low) - bisect_right(d.wish_low, setting) + bisect_left(d.wish_high, setting)
    shows = setting - d.cover
    if shows <= 0:
        return 0, False, 0, lost + bisect_left(d.wish_cover, setting)
    piece = shows <= d.piece and setting <= d.tuck and work.cover_legs <= work.fill_legs
    return shows, piece, work.cover_legs if piece else work.fill_legs, lost + 1


def _lost(d: Demand, bottom: int) -> int:
    """Wishes on the leaf's bottom that it doesn't meet at a height."""
    above = len(d.wish_bottom_low) - bisect_right(d.wish_bottom_low, bottom)
    return above + bisect_left(d.wish_bottom_high, bottom)


def set_anew(d: Demand, p: Pricing, trimmed: int) -> Mended:
    """The unit taken out and set anew as well as this pair of floors allows, with what was trimmed off already.

    One still to be ordered is exchanged for one with another undercut. Where more was trimmed than any setting
    can take, the leaf is a new one.
    """
    tried = _tried(d, p, trimmed) if trimmed else {d.own}  # of a whole leaf its own is the best
    found = [made for setting in tried if (made := _anew(d, p, setting, trimmed))]
    if not found:
        return set_anew(d, p, 0)
    return min(found, key=lambda made: (made.minutes, abs(made.again or 0), made.again))


def _tried(d: Demand, p: Pricing, trimmed: int) -> set[int]:
    """Settings of which one is the best to set a unit anew at, with what was trimmed off already.

    Between two settings at which anything asked for begins or ends to be met all come to the same: those beside each
    are enough, and the one nearest to 0. Those off the tape stand by themselves, since cuts end on it.
    """
    bottoms = (d.bottom_low, d.bottom_high, d.target, *d.wish_bottom_low, *d.wish_bottom_high)
    changes = {0, d.low, d.high, d.cover, *d.wish_low, *d.wish_cover, *d.wish_high}
    for bottom in bottoms:
        uncut = ceil_to(bottom, step=d.step) - p.rise
        changes |= {uncut - trimmed, uncut - d.trim_most}
    places = {place - back for place in [bisect_left(p.settings, at) for at in changes] for back in (0, 1)}
    return {d.own, *[p.settings[place] for place in places if 0 <= place < len(p.settings)], *p.off_tape}


def _anew(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended | None:
    trim = max(trimmed, full_trim(d, setting, rise=p.rise))
    if setting > d.cover or not fits(d, p, setting, trim):
        return None
    bottom = setting + p.rise + trim
    work = p.work.set_again + setting_minutes(p, setting, trim - trimmed)
    gone = _legs(d, p.work, setting)[3] + _lost(d, bottom)
    return Mended(work + p.work.wish * gone, work, gone, trim - trimmed, bottom, False, False, setting)
