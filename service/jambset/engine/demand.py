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
from collections.abc import Sequence
from typing import NamedTuple

from msgspec import Struct

from jambset.engine.bounds import Situation
from jambset.engine.decide import Decision, leg_minutes, saw_place
from jambset.engine.facts import Facts
from jambset.engine.labour import BENCH, Work
from jambset.engine.settle import BOTTOM, CUT, FAR, FOOT, TOP, Bound
from jambset.quantity.ticks import ceil_to


class Demand(Struct, frozen=True, gc=False):
    """What one pair of floors asks for [ticks]. Wishes are sorted; each is a limit on the setting or on the bottom.

    own: its own best setting. low, high: settings that it can be mended from without setting again. cover: the
    highest setting at which its floors hide the legs. bottom_low, bottom_high, trim_most: on the leaf.
    target: the lowest bottom that meets all that is asked. piece: gap below a leg that the piece can cover.
    finish: top of the pull side's finish, where a hung leaf is marked from. step: of the tape of its own setting.
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
    wish_high: tuple[int, ...]
    wish_bottom_low: tuple[int, ...]
    wish_bottom_high: tuple[int, ...]
    piece: int
    finish: int
    step: int


class Mended(Struct, frozen=True, gc=False):
    """How a setting is brought to what a pair of floors asks for, once they lie.

    work: minutes. wishes: given up. trim: off the hung leaf. shows: gap left below the legs, filled or, where
    piece is set, covered by it. again: the setting the unit is set to anew, None while it stays.
    """

    minutes: int
    work: int
    wishes: int
    trim: int
    bottom: int
    shows: int
    piece: bool
    again: int | None


def demand(at: Situation, decision: Decision, bounds: Sequence[Bound], *, rise: int, ordered: bool) -> Demand:
    """What the floors of a situation ask for, from its bounds and its own decision.

    rise: from a setting to the uncut leaf's bottom [ticks]. ordered: the setting is the undercut; what bounds
    the foot alone is then met by the decision's own.
    """
    uncut = decision.foot + (decision.undercut or 0)
    bottom = uncut if decision.bottom is None else decision.bottom
    values = {FOOT: decision.foot, BOTTOM: bottom, CUT: bottom - uncut, TOP: uncut}
    wishes = at.regime.wishes
    asked = _Asked(
        [
            (b.rule in wishes, b.lower, b.on, min(b.limit, values[b.on]) if b.lower else max(b.limit, values[b.on]))
            for b in bounds
        ],
        rise,
    )
    on_foot = () if ordered else (FOOT,)
    lows, wish_lows = asked.of(BOTTOM, lower=True), asked.of(BOTTOM, lower=True, wish=True)
    pull = at.facts.pull.floor
    return Demand(
        own=uncut - rise,
        low=max(asked.of(*on_foot, TOP, lower=True), default=-FAR),
        high=min(asked.of(TOP, lower=False), default=FAR),
        cover=min(asked.of(*on_foot, lower=False), default=FAR),
        bottom_low=max(lows, default=-FAR),
        bottom_high=min(asked.of(BOTTOM, lower=False), default=FAR),
        trim_most=min(asked.of(CUT, lower=False), default=FAR),
        target=max([*lows, *wish_lows], default=-FAR),
        wish_low=tuple(sorted(asked.of(*on_foot, TOP, lower=True, wish=True))),
        wish_high=tuple(sorted(asked.of(*on_foot, TOP, lower=False, wish=True))),
        wish_bottom_low=tuple(sorted(wish_lows)),
        wish_bottom_high=tuple(sorted(asked.of(BOTTOM, lower=False, wish=True))),
        piece=0 if at.joint is None or at.joint.runs_through else at.joint.rise,
        finish=0 if pull is None else pull.nominal,
        step=decision.tape.step,
    )


class _Asked(NamedTuple):
    """Limits as nearly as they can be met: whether a wish, whether a least, on what, how much [ticks]."""

    limits: list[tuple[bool, bool, int, int]]
    rise: int

    def of(self, *on: int, lower: bool, wish: bool = False) -> list[int]:
        """Limits of one sense on some heights; one on the top of the unit as one on its setting."""
        return [
            limit - self.rise if height == TOP else limit
            for is_wish, is_lower, height, limit in self.limits
            if height in on and is_lower is lower and is_wish is wish
        ]


class Pricing(Struct, frozen=True, gc=False):
    """What pricing needs besides a demand: the opening's facts and its minutes, lengths in ticks.

    rise: from a setting to the uncut leaf's bottom. ordered: whether the setting is an undercut; foot: then the
    foot. settings: those tried where a unit is set anew.
    """

    facts: Facts
    work: Work
    rise: int
    ordered: bool
    foot: int
    settings: tuple[int, ...]


def full_trim(d: Demand, setting: int, *, rise: int) -> int:
    """What comes off a leaf at this setting to meet all that can be met [ticks]."""
    uncut = setting + rise
    if uncut >= d.target:
        return 0
    return max(0, min(ceil_to(d.target, step=d.step), uncut + d.trim_most, d.bottom_high) - uncut)


def now_minutes(p: Pricing, setting: int, trim: int) -> int:
    """What setting the unit takes: its legs, and a trim on the bench [min]."""
    return leg_minutes(p.foot if p.ordered else setting, p.work) + (p.work.saw[BENCH] if trim else 0)


def mend(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended:
    """The cheapest way to what a pair of floors asks for, from a setting and what was trimmed off already."""
    best = _stay(d, p, setting, trimmed)
    if best is None or best.minutes > p.work.set_again:
        again = _again(d, p, 0 if p.ordered else trimmed)
        if best is None or again.minutes < best.minutes:
            return again
    return best


def fits(d: Demand, p: Pricing, setting: int, trimmed: int) -> bool:
    """Whether a setting can be mended without setting the unit again."""
    bottom = setting + p.rise + trimmed
    most = setting + p.rise + d.trim_most
    return d.low <= setting <= d.high and bottom <= d.bottom_high and d.bottom_low <= max(bottom, most)


def _stay(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended | None:
    """The better of living with the leaf as it is and of trimming it, the legs mended; None where neither will do."""
    if not fits(d, p, setting, trimmed):
        return None
    bottom = setting + p.rise + trimmed
    shows, legs, lost = _legs(d, p.work, setting)
    live = None
    if bottom >= d.bottom_low:
        gone = lost + _lost(d, bottom)
        live = Mended(legs + p.work.wish * gone, legs, gone, 0, bottom, *shows, None)
        if bottom >= d.target:
            return live
    trim = full_trim(d, setting, rise=p.rise)
    if trim <= trimmed:
        return live
    bottom = setting + p.rise + trim
    gone = lost + _lost(d, bottom)
    work = legs + p.work.saw[saw_place(p.facts, bottom - d.finish)]
    if live is not None and live.minutes <= work + p.work.wish * gone:
        return live
    return Mended(work + p.work.wish * gone, work, gone, trim - trimmed, bottom, *shows, None)


def _legs(d: Demand, work: Work, setting: int) -> tuple[tuple[int, bool], int, int]:
    """What shows below the legs and whether the piece covers it, minutes of mending, wishes given up.

    Legs that are mended are hidden, and are one wish less whatever was wished of them.
    """
    lost = len(d.wish_low) - bisect_right(d.wish_low, setting)
    shows = setting - d.cover
    if shows <= 0:
        return (0, False), 0, lost + bisect_left(d.wish_high, setting)
    piece = shows <= d.piece and work.cover_legs <= work.fill_legs
    return (shows, piece), work.cover_legs if piece else work.fill_legs, lost + 1


def _lost(d: Demand, bottom: int) -> int:
    """Wishes on the leaf's bottom that it doesn't meet at a height."""
    above = len(d.wish_bottom_low) - bisect_right(d.wish_bottom_low, bottom)
    return above + bisect_left(d.wish_bottom_high, bottom)


def _again(d: Demand, p: Pricing, trimmed: int) -> Mended:
    """The unit taken out and set anew as well as this pair of floors allows, with what was trimmed off already.

    One still to be ordered is exchanged for one with another undercut. Where more was trimmed than any setting
    can take, the leaf is a new one.
    """
    found = [made for setting in dict.fromkeys((d.own, *p.settings)) if (made := _anew(d, p, setting, trimmed))]
    if not found:
        return _again(d, p, 0)
    return min(found, key=lambda made: (made.minutes, abs(made.again or 0), made.again))


def _anew(d: Demand, p: Pricing, setting: int, trimmed: int) -> Mended | None:
    trim = max(trimmed, full_trim(d, setting, rise=p.rise))
    if setting > d.cover or not fits(d, p, setting, trim):
        return None
    bottom = setting + p.rise + trim
    work = p.work.set_again + now_minutes(p, setting, trim - trimmed)
    gone = _legs(d, p.work, setting)[2] + _lost(d, bottom)
    return Mended(work + p.work.wish * gone, work, gone, trim - trimmed, bottom, 0, False, setting)
