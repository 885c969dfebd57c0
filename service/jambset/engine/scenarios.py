"""Floors that may change: every setting priced over every pair of floors that may come, and the best one chosen.

Two stages. Now the unit is set, and its leaf cut on the bench by no more than every pair of floors asks for;
the rest is done once the floors lie (jambset.engine.demand). Both sides are taken as independent of each other.
Likelihoods are whole parts and work is whole minutes, so that expected minutes are exact; they are counted in
parts of a minute (WHOLE a side).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from jambset.engine import air, transition
from jambset.engine.bounds import FLOORS, Situation, Stand, draw, fixed_heights, lower_leg
from jambset.engine.decide import Decision, Own, decide, own_setting, saw_line
from jambset.engine.demand import (
    Demand,
    Mended,
    Pricing,
    demand,
    fits,
    full_trim,
    mend,
    now_minutes,
    set_anew,
    setting_minutes,
    stay,
)
from jambset.engine.facts import Facts, under
from jambset.engine.floors import Floor
from jambset.engine.labour import Work
from jambset.engine.regime import Regime, regime_of
from jambset.engine.settle import FOOT, TOP, Bound
from jambset.model.advice import WHOLE, Minutes
from jambset.model.request import FrameState
from jambset.quantity.ticks import INCH, ceil_to, floor_to
from jambset.rules.schema import Catalogue, FinishKind
from jambset.rules.select import Selection

MINUTE = Minutes.PARTS
"""Parts of a minute in which expected minutes are counted."""


FINEST = INCH // 64
"""Finest tape on which settings are priced: on a finer one every so manieth mark, and what each pair would have."""


NO_UNDERCUT = 0
"""The least that a unit is made with: its leaf ends where its frame does [ticks]."""


class Pair(Struct, frozen=True, gc=False):
    """A floor on each side that may come together, how likely that is in parts of MINUTE, and what it asks for."""

    pull: int
    push: int
    weight: int
    demand: Demand


class Choice(Struct, frozen=True, gc=False, order=True):
    """What is done now and what it comes to: parts of a minute expected, minutes at worst; best first when sorted."""

    expected: int
    worst: int
    wishes: int
    cuts: bool
    off: int
    setting: int
    trim: int


class Asking(NamedTuple):
    """Where the demand of a pair comes from: its situation, what it comes to by itself, its bounds."""

    at: Situation
    own: Decision | Own
    bounds: list[Bound]


class Plan(Struct, frozen=True, eq=False):
    """An opening whose setting is still open: the pairs of floors that may come and how settings are priced.

    candidates: settings it may be given, of those on the tape that could be best. own: what certain floors
    come to while the unit isn't fixed.
    """

    facts: Facts
    own: tuple[Situation, Decision] | None
    askings: tuple[Asking, ...]
    pairs: tuple[Pair, ...]
    pricing: Pricing
    candidates: tuple[int, ...]
    step: int
    """Of the tape on which settings are priced [ticks]."""
    highest: int | None
    """The highest setting the present header allows."""
    may_cut: bool
    """Whether what every pair asks for may be cut before the floors are certain: all that may come are listed."""


def situation(facts: Facts, selection: Selection, catalogue: Catalogue) -> Situation:
    """Facts with the rules of their kind, the joint, the air and the fixed heights."""
    rules = regime_of(facts, selection)
    joint = transition.join(facts, rules, catalogue)
    return Situation(facts, rules, joint, air.air_facts(facts, rules.pressure_limit), fixed_heights(facts, joint))


def plan_of(facts: Facts, selection: Selection, catalogue: Catalogue, work: Work) -> Plan | None:
    """How the settings of an opening are priced; None where its undercut or its foot isn't known."""
    state = facts.opening.frame.state
    ordered = facts.undercut_free
    undecided = not all(side.floors for side in facts.sides)
    if (facts.undercut is None and (not ordered or undecided)) or (state is FrameState.SET and facts.as_set is None):
        return None
    coming = list(_coming(facts, selection, catalogue))
    askings = [_asking(at, work, whole=facts.certain) for *_, at in coming]
    foot = _likeliest_foot([weight for _, _, weight, _ in coming], askings) if ordered else 0
    rise = foot if ordered else facts.undercut or 0
    asked = [demand(*asking, rise=rise, ordered=ordered) for asking in askings]
    pairs = tuple([Pair(i, j, weight, one) for (i, j, weight, _), one in zip(coming, asked, strict=True)])
    at, own, _ = askings[0]
    highest = None if facts.header is None or facts.as_set is not None else facts.header - facts.above_leaf - rise
    if highest is not None and ordered:  # what comes nearest to a header too low for any
        highest = max(highest, min([pair.demand.own for pair in pairs]))
    step = ceil_to(FINEST, step=facts.grid.step)
    settings = _settings(pairs, highest, rise=rise, low=lower_leg(facts), step=step, ordered=ordered)
    return Plan(
        facts=facts,
        own=(at, own) if isinstance(own, Decision) else None,
        askings=tuple(askings),
        pairs=pairs,
        pricing=Pricing(
            work=work,
            rise=rise,
            saw_line=saw_line(facts),
            ordered=ordered,
            fixed=facts.as_set is not None,
            foot=foot,
            low=lower_leg(facts),
            settings=settings,
            off_tape=tuple([setting for setting in settings if setting % step]),
        ),
        candidates=settings if facts.as_set is None else (facts.as_set,),
        step=step,
        highest=highest,
        may_cut=facts.as_set is None and all(side.listed for side in facts.sides) and not undecided,
    )


def _coming(facts: Facts, selection: Selection, catalogue: Catalogue) -> Iterator[tuple[int, int, int, Situation]]:
    """Each pair of floors that may come: their places, how likely they are, and their situation, the unit not fixed.

    Pairs of the same finishes share their rules and their air.
    """
    free = replace(facts, as_set=None)
    known: dict[tuple[FinishKind, FinishKind], tuple[Regime, air.AirFacts]] = {}
    for i, (one, weight) in enumerate(facts.pull.floors or _ANY):
        for j, (other, chance) in enumerate(facts.push.floors or _ANY):
            pair = under(free, one, other)
            key = (pair.pull.kind, pair.push.kind)
            if key not in known:
                rules = regime_of(pair, selection)
                known[key] = (rules, air.air_facts(pair, rules.pressure_limit))
            rules, passing = known[key]
            joint = transition.join(pair, rules, catalogue)
            yield i, j, weight * chance, Situation(pair, rules, joint, passing, fixed_heights(pair, joint))


_ANY: tuple[tuple[Floor | None, int], ...] = ((None, WHOLE),)
"""Stands for the floors of a side of which none is listed."""


def _asking(at: Situation, work: Work, *, whole: bool) -> Asking:
    """Where the demand of a pair comes from; while a floor is undecided, the legs alone, which may not be lifted.

    whole: the whole decision will be asked for.
    """
    bounds = draw(at, last_choice=False)
    own = decide(at, work, bounds=bounds) if whole else own_setting(at, work, bounds)
    if not at.facts.decided:
        bounds = [*[b for b in bounds if b.on in (FOOT, TOP)], Bound(FLOORS, FOOT, False, own.foot)]
    return Asking(at, own, bounds)


def _likeliest_foot(weights: Iterable[int], askings: Iterable[Asking]) -> int:
    """The own foot of the likeliest pair, of several as likely the nearest to 0 [ticks]."""
    feet = [(weight, -abs(own.foot), own.foot) for weight, (_, own, _) in zip(weights, askings, strict=True)]
    return max(feet)[2]


def _settings(
    pairs: tuple[Pair, ...], highest: int | None, *, rise: int, low: int, step: int, ordered: bool
) -> tuple[int, ...]:
    """Settings on the tape between which the best one lies, and each pair's own.

    Below the least of the pairs' own, and below the lower leg's subfloor, more has to be cut and nothing is gained;
    above the one at which no leaf needs a cut, more shows and nothing is gained.
    """
    own = [pair.demand.own for pair in pairs]
    least = min(own) if ordered else min(low, *own)
    greatest = max([*own, *[pair.demand.target - rise for pair in pairs]])
    if highest is not None:
        greatest = min(greatest, highest)
        least = min(least, floor_to(highest, step=step))
    steps = range(floor_to(least, step=step), ceil_to(greatest, step=step) + 1, step)
    return tuple(sorted({n for n in (*steps, *own) if highest is None or n <= highest} | set(own)))


class _Known(NamedTuple):
    """Prices worked out so far, each by what it depends on."""

    mended: dict[tuple[int, int, int], Mended]
    """By pair, setting and cut now."""
    at: dict[int, list[Choice]]
    """By setting, the better first."""
    asked: dict[tuple[int, int], int]
    """By pair and setting."""
    anew: dict[tuple[int, int], Mended]
    """By pair and cut."""
    alone: dict[int, int]
    """By pair."""


class Table:
    """The prices of a plan, each worked out once."""

    __slots__ = ("_known", "plan")

    def __init__(self, plan: Plan, alike: Table | None = None) -> None:
        """alike: the prices of a plan that differs in nothing that is priced."""
        self.plan = plan
        self._known: _Known = _Known({}, {}, {}, {}, {}) if alike is None else alike._known

    def mended(self, place: int, setting: int, trim: int) -> Mended:
        """How the pair at a place is met from a setting and what was cut now."""
        key = (place, setting, trim)
        if (known := self._known.mended.get(key)) is None:
            asked = self.plan.pairs[place].demand
            known = mend(asked, self.plan.pricing, setting, trim, anew=lambda cut: self._anew(place, cut))
            self._known.mended[key] = known
        return known

    def _anew(self, place: int, trim: int) -> Mended:
        key = (place, trim)
        if (known := self._known.anew.get(key)) is None:
            known = self._known.anew[key] = set_anew(self.plan.pairs[place].demand, self.plan.pricing, trim)
        return known

    def asked(self, place: int, setting: int) -> int:
        """What the pair at a place has cut off a leaf at a setting, all told [ticks]."""
        key = (place, setting)
        if (known := self._known.asked.get(key)) is None:
            pair, pricing = self.plan.pairs[place], self.plan.pricing
            known = self._known.asked[key] = full_trim(pair.demand, setting, rise=pricing.rise)
        return known

    def choices(self, setting: int, places: Sequence[int], *, may_cut: bool) -> Iterator[Choice]:
        """The setting with a leaf left long, and with what every one of these pairs asks for cut now."""
        cut = min([self.asked(place, setting) for place in places]) if may_cut else 0
        if not cut or not self._is_better_cut(setting, cut, places):
            yield self._choice(setting, 0, places)
        if cut:
            yield self._choice(setting, cut, places)

    def _is_better_cut(self, setting: int, cut: int, places: Sequence[int]) -> bool:
        """Whether a cut now is surely better than none: for one pair, of which the bench keeps all that can be kept.

        Were the unit set again in the end, a whole leaf could come to less; but one pair is certain, and sets it once.
        """
        if len(places) > 1 or not self.plan.pricing.work.bench_is_least:
            return False
        asked, bottom = self.plan.pairs[places[0]].demand, setting + self.plan.pricing.rise + cut
        return asked.target <= bottom <= min(asked.wish_bottom_high, default=bottom)

    def _choice(self, setting: int, trim: int, places: Sequence[int]) -> Choice:
        pairs, known = self.plan.pairs, self._known.mended
        now = now_minutes(self.plan.pricing, setting, trim)
        expected = worst = wishes = cut = 0
        for place in places:
            weight, made = pairs[place].weight, known.get((place, setting, trim)) or self.mended(place, setting, trim)
            minutes = made.minutes
            expected += weight * (now + minutes)
            wishes += weight * made.wishes
            cut += weight * made.trim
            worst = max(worst, minutes)
        off = cut // MINUTE if self.plan.pricing.ordered else abs(setting)
        return Choice(expected, now + worst, wishes, trim > 0, off, setting, trim)

    def shares(self, choice: Choice) -> list[int]:
        """What each pair has part in a choice's expected minutes, in parts of a minute."""
        now = now_minutes(self.plan.pricing, choice.setting, choice.trim)
        return [
            pair.weight * (now + self.mended(place, choice.setting, choice.trim).minutes)
            for place, pair in enumerate(self.plan.pairs)
        ]

    def at(self, setting: int) -> Choice:
        """The better choice at a setting, over all pairs."""
        return self._both(setting)[0]

    def _both(self, setting: int) -> list[Choice]:
        if (known := self._known.at.get(setting)) is None:
            every = range(len(self.plan.pairs))
            known = sorted(self.choices(setting, every, may_cut=self.plan.may_cut))
            self._known.at[setting] = known
        return known

    def every(self) -> list[Choice]:
        """Every choice over all pairs."""
        return [choice for setting in self.plan.candidates for choice in self._both(setting)]

    def alone(self, place: int) -> int:
        """What one pair comes to, were it certain from the start and the unit not yet set [min].

        That is at its own setting: one that gives up a wish costs more than all bench work, see labour. Only where a
        unit is set again for less than that, or a hung leaf cut in less than on the bench, could it begin elsewhere;
        not to be set again, since it could begin there too.
        """
        if (known := self._known.alone.get(place)) is None:
            known = self._known.alone[place] = min(self._starts(place))
        return known

    def _starts(self, place: int) -> list[int]:
        """Minutes of each start that could be the best for one pair."""
        asked, p = self.plan.pairs[place].demand, self.plan.pricing
        own = [self.from_start(place, asked.own, cut) for cut in self.cuts(place, asked.own)]
        if p.work.set_again >= p.work.wish and p.work.bench_is_least:
            return own
        tried = [(n, cut) for n in p.settings for cut in self.cuts(place, n)]
        return own + [setting_minutes(p, n, cut) + made.minutes for n, cut in tried if (made := stay(asked, p, n, cut))]

    def cuts(self, place: int, setting: int) -> set[int]:
        """What may be cut off now for one pair alone: nothing, or all that it asks for."""
        return {0, self.asked(place, setting)}

    def from_start(self, place: int, setting: int, trim: int) -> int:
        """What one pair comes to with setting the unit and all that follows [min]."""
        return setting_minutes(self.plan.pricing, setting, trim) + self.mended(place, setting, trim).minutes

    def best(self, places: Sequence[int] | None = None, *, may_cut: bool | None = None) -> Choice:
        """The best choice over some pairs, or all.

        Least expected, then least at worst, then fewest wishes given up, then no cut, then nearest to the subfloor;
        of undercuts to order the one that least will be cut off for, then the smallest.
        """
        if places is None and may_cut is None:
            return min([self.at(n) for n in self.plan.candidates])
        over = range(len(self.plan.pairs)) if places is None else places
        cut = self.plan.may_cut if may_cut is None else may_cut
        return min([choice for n in self.plan.candidates for choice in self.choices(n, over, may_cut=cut)])


def usable(plan: Plan, setting: int) -> bool:
    """Whether a unit can be given a setting at all: below the header, and some floor may leave it so.

    None is ordered with less undercut than none.
    """
    if plan.highest is not None and setting > plan.highest:
        return False
    if plan.pricing.ordered and setting < NO_UNDERCUT:
        return False
    return any(fits(pair.demand, plan.pricing, setting, 0) for pair in plan.pairs)


def stand_of(table: Table, choice: Choice, why: str) -> Stand:
    """Where a choice puts the unit, and the leaf's bottom as the floors named leave it."""
    pricing = table.plan.pricing
    foot = pricing.foot if pricing.ordered else choice.setting
    if not table.plan.facts.decided:
        return Stand(foot, why)
    made = table.mended(0, choice.setting, choice.trim)
    return Stand(foot, why, None if made.again is not None else made.bottom)


def as_ordered(decision: Decision, table: Table, choice: Choice, *, why: str) -> Decision:
    """The decision of a unit still to be ordered, with the undercut that was chosen for it; its foot was chosen before.

    What its leaf then lacks under the floors named is cut off it, as far as it may be: where another unit would have
    to come for these floors, this one is still cut no further than it is built for.
    """
    foot = table.plan.pricing.foot
    uncut, most = foot + choice.setting, table.asked(0, choice.setting)
    bottom = None if decision.bottom is None else max(uncut, min(decision.bottom, uncut + most))
    trim = None if bottom is None else bottom - uncut
    held = decision.leaf_held_by if bottom == decision.bottom else ()
    order = choice.setting
    return replace(decision, undercut=order, to_order=order, bottom=bottom, trim=trim, leaf_held_by=held or (why,))


def as_wanted(decision: Decision, table: Table) -> Decision:
    """The decision of a unit still to be ordered, with what would be ordered by a table of no header."""
    foot = table.plan.pricing.foot
    return replace(decision, to_order=table.best().setting, order_foot=foot, foot_wanted=foot)


def cuts_later(table: Table, choice: Choice) -> bool:
    """Whether some pair of floors has the leaf cut, or the unit set again, once it lies."""
    made = [table.mended(place, choice.setting, choice.trim) for place in range(len(table.plan.pairs))]
    return any(one.trim or one.again is not None for one in made)
