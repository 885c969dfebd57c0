"""Floors that may change: every setting priced over every pair of floors that may come, and the best one chosen.

Two stages. Now the unit is set, and its leaf cut on the bench by no more than every pair of floors asks for;
the rest is done once the floors lie (jambset.engine.demand). Both sides are taken as independent of each other.
Likelihoods are whole parts and work is whole minutes, so that expected minutes are exact; they are counted in
parts of a minute (WHOLE a side).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from jambset.engine import air, transition
from jambset.engine.bounds import FLOORS, Situation, Stand, draw, fixed_heights
from jambset.engine.decide import Decision, decide
from jambset.engine.demand import Demand, Mended, Pricing, demand, fits, full_trim, mend, now_minutes
from jambset.engine.facts import WHOLE, Facts, under
from jambset.engine.floors import Floor
from jambset.engine.kinds import kind_of
from jambset.engine.labour import Work
from jambset.engine.regime import regime
from jambset.engine.settle import FOOT, TOP, Bound
from jambset.model.advice import Minutes
from jambset.model.request import FrameState
from jambset.quantity.ticks import ceil_to, floor_to
from jambset.rules.schema import Catalogue
from jambset.rules.select import Selection

MINUTE = Minutes.PARTS
"""Parts of a minute in which expected minutes are counted: WHOLE for each side."""


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


class Plan(Struct, frozen=True, eq=False):
    """An opening whose setting is still open: the pairs of floors that may come and how settings are priced.

    candidates: settings it may be given, of those on the tape that could be best.
    """

    pairs: tuple[Pair, ...]
    pricing: Pricing
    candidates: tuple[int, ...]
    highest: int | None
    """The highest setting the present header allows."""
    may_cut: bool
    """Whether what every pair asks for may be cut before the floors are certain: all that may come are listed."""


def situation(facts: Facts, selection: Selection, catalogue: Catalogue) -> Situation:
    """Facts with the rules of their kind, the joint, the air and the fixed heights."""
    rules = regime(selection, kind_of(facts, selection))
    joint = transition.join(facts, rules, catalogue)
    return Situation(facts, rules, joint, air.air_facts(facts, rules.pressure_limit), fixed_heights(facts, joint))


def plan_of(facts: Facts, selection: Selection, catalogue: Catalogue, work: Work) -> Plan | None:
    """How the settings of an opening are priced; None where its undercut or its foot isn't known."""
    state = facts.opening.frame.state
    ordered = state is FrameState.TO_ORDER and facts.undercut is None
    undecided = not all(side.floors for side in facts.sides)
    if (facts.undercut is None and (not ordered or undecided)) or (state is FrameState.SET and facts.as_set is None):
        return None
    free = replace(facts, as_set=None)
    found = [
        (i, j, one[1] * other[1], *_own(under(free, one[0], other[0]), selection, catalogue, work))
        for i, one in enumerate(facts.pull.floors or _ANY)
        for j, other in enumerate(facts.push.floors or _ANY)
    ]
    foot = max(found, key=lambda pair: pair[2])[4].foot if ordered else 0
    rise = foot if ordered else facts.undercut or 0
    pairs = tuple(
        [
            Pair(i, j, weight, demand(at, own, _asking(at, own), rise=rise, ordered=ordered))
            for i, j, weight, at, own in found
        ]
    )
    highest = None if facts.header is None or facts.as_set is not None else facts.header - facts.above_leaf - rise
    settings = _settings(pairs, highest, rise=rise, step=facts.grid.step, ordered=ordered)
    return Plan(
        pairs=pairs,
        pricing=Pricing(facts, work, rise, ordered, foot, settings),
        candidates=settings if facts.as_set is None else (facts.as_set,),
        highest=highest,
        may_cut=facts.as_set is None and all(side.confirmed or side.others for side in facts.sides) and not undecided,
    )


_ANY: tuple[tuple[Floor | None, int], ...] = ((None, WHOLE),)
"""Stands for the floors of a side of which none is listed."""


def _own(facts: Facts, selection: Selection, catalogue: Catalogue, work: Work) -> tuple[Situation, Decision]:
    at = situation(facts, selection, catalogue)
    return at, decide(at, work)


def _asking(at: Situation, own: Decision) -> list[Bound]:
    """The bounds of a pair of floors; while one is undecided, only those on the legs, which may not be lifted."""
    bounds = draw(at)
    if at.facts.decided:
        return bounds
    return [*[b for b in bounds if b.on in (FOOT, TOP)], Bound(FLOORS, "", FOOT, False, own.foot)]


def _settings(pairs: tuple[Pair, ...], highest: int | None, *, rise: int, step: int, ordered: bool) -> tuple[int, ...]:
    """Settings on the tape between which the best one lies, and each pair's own.

    Below the least of the pairs' own, and below 0, more has to be cut and nothing is gained; above the one at
    which no leaf needs a cut, more shows and nothing is gained.
    """
    own = [pair.demand.own for pair in pairs]
    least = min(own) if ordered else min(0, *own)
    greatest = max([*own, *[pair.demand.target - rise for pair in pairs]])
    if highest is not None:
        greatest = min(greatest, highest)
        least = min(least, floor_to(highest, step=step))
    steps = range(floor_to(least, step=step), ceil_to(greatest, step=step) + 1, step)
    return tuple(sorted({n for n in (*steps, *own) if highest is None or n <= highest} | set(own)))


class Table:
    """The prices of a plan, each worked out once."""

    __slots__ = ("_known", "plan")

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._known: dict[tuple[int, int, int], Mended] = {}

    def mended(self, place: int, setting: int, trim: int) -> Mended:
        """How the pair at a place is met from a setting and what was cut now."""
        key = (place, setting, trim)
        if (known := self._known.get(key)) is None:
            known = self._known[key] = mend(self.plan.pairs[place].demand, self.plan.pricing, setting, trim)
        return known

    def choices(self, setting: int, places: Sequence[int], *, may_cut: bool) -> Iterable[Choice]:
        """The setting with a leaf left long, and with what every one of these pairs asks for cut now."""
        pairs, pricing = self.plan.pairs, self.plan.pricing
        cut = min([full_trim(pairs[p].demand, setting, rise=pricing.rise) for p in places]) if may_cut else 0
        for trim in (0, cut) if cut else (0,):
            now = now_minutes(pricing, setting, trim)
            made = [(pairs[p].weight, self.mended(p, setting, trim)) for p in places]
            yield Choice(
                expected=sum([weight * (now + m.minutes) for weight, m in made]),
                worst=now + max([m.minutes for _, m in made]),
                wishes=sum([weight * m.wishes for weight, m in made]),
                cuts=trim > 0,
                off=abs(setting),
                setting=setting,
                trim=trim,
            )

    def at(self, setting: int) -> Choice:
        """The better choice at a setting, over all pairs."""
        return min(self.choices(setting, range(len(self.plan.pairs)), may_cut=self.plan.may_cut))

    def alone(self, place: int) -> Choice:
        """The best choice of all settings for one pair, were it certain from the start and the unit not yet set."""
        settings = self.plan.pricing.settings
        return min([choice for n in settings for choice in self.choices(n, (place,), may_cut=True)])

    def best(self, places: Sequence[int] | None = None, *, may_cut: bool | None = None) -> Choice:
        """The best choice over some pairs, or all.

        Least expected, then least at worst, then fewest wishes given up, then no cut, then nearest to the subfloor.
        """
        over = range(len(self.plan.pairs)) if places is None else places
        cut = self.plan.may_cut if may_cut is None else may_cut
        return min([choice for n in self.plan.candidates for choice in self.choices(n, over, may_cut=cut)])


def usable(plan: Plan, setting: int) -> bool:
    """Whether a unit can be given a setting at all: below the header, and some floor may leave it so."""
    if plan.highest is not None and setting > plan.highest:
        return False
    return any(fits(pair.demand, plan.pricing, setting, 0) for pair in plan.pairs)


class Tip(Struct, frozen=True, gc=False):
    """At which likelihood of a floor another setting becomes the best. side: 0 pull, 1 push."""

    side: int
    floor: int
    weight: Fraction
    setting: int


def tips(table: Table, chosen: Choice) -> list[Tip]:
    """The likelihoods nearest to the present ones, up and down, at which another setting wins.

    The likelihood of one floor is moved and the other floors of its side keep their proportions, so what a
    setting is expected to cost is linear in it.
    """
    return [
        tip for side in (0, 1) for floor in _floors(table.plan, side)[1:] for tip in _tips(table, chosen, side, floor)
    ]


def _floors(plan: Plan, side: int) -> list[int]:
    """Floors of a side that may come, where there is more than one."""
    found = sorted({(pair.pull, pair.push)[side] for pair in plan.pairs})
    return found if len(found) > 1 else []


def _tips(table: Table, chosen: Choice, side: int, floor: int) -> Iterable[Tip]:
    plan = table.plan
    with_it = [n for n, pair in enumerate(plan.pairs) if (pair.pull, pair.push)[side] == floor]
    without = [n for n in range(len(plan.pairs)) if n not in with_it]
    now = Fraction(_weight(plan, with_it), MINUTE)
    lines = [(_mean(table, c, with_it), _mean(table, c, without), c.setting) for c in _all(table)]
    own = (_mean(table, chosen, with_it), _mean(table, chosen, without))
    crossings = []
    for it, rest, setting in lines:
        a, b = it - own[0], rest - own[1]  # what it costs more with the floor, and without it
        if a != b and setting != chosen.setting and 0 < (at := b / (b - a)) < 1:
            crossings.append((at, a < 0, setting))
    above = [c for c in crossings if c[1] and c[0] >= now]
    below = [c for c in crossings if not c[1] and c[0] <= now]
    for found in (min(above, default=None), max(below, default=None, key=lambda c: (c[0], -abs(c[2])))):
        if found is not None:
            yield Tip(side, floor, found[0], found[2])


def _all(table: Table) -> list[Choice]:
    plan = table.plan
    everywhere = range(len(plan.pairs))
    return [c for n in plan.candidates for c in table.choices(n, everywhere, may_cut=plan.may_cut)]


def _weight(plan: Plan, places: Sequence[int]) -> int:
    return sum([plan.pairs[place].weight for place in places])


def _mean(table: Table, choice: Choice, places: Sequence[int]) -> Fraction:
    """Minutes expected of a choice while one of these pairs comes."""
    plan = table.plan
    now = now_minutes(plan.pricing, choice.setting, choice.trim)
    made = sum([plan.pairs[p].weight * table.mended(p, choice.setting, choice.trim).minutes for p in places])
    return now + Fraction(made, _weight(plan, places))


def stand_of(table: Table, choice: Choice, why: str) -> Stand:
    """Where a choice puts the unit, and the leaf's bottom as the floors named leave it."""
    pricing = table.plan.pricing
    foot = pricing.foot if pricing.ordered else choice.setting
    if not pricing.facts.decided:
        return Stand(foot, why)
    made = table.mended(0, choice.setting, choice.trim)
    return Stand(foot, why, None if made.again is not None else made.bottom)


def cuts_later(table: Table, choice: Choice) -> bool:
    """Whether some pair of floors has the leaf cut, or the unit set again, once it lies."""
    made = [table.mended(place, choice.setting, choice.trim) for place in range(len(table.plan.pairs))]
    return any(one.trim or one.again is not None for one in made)


def stakes(table: Table) -> dict[str, int]:
    """What it is worth to know each side's floor, by side, in parts of a minute."""
    sides = table.plan.pricing.facts.sides
    return {side.name: worth_of_asking(table, place) for place, side in enumerate(sides)}


def worth_of_asking(table: Table, side: int) -> int:
    """What it is expected to save to know a side's floor before anything is set, in parts of a minute."""
    plan, now = table.plan, table.best().expected
    facts = plan.pricing.facts
    if not (floors := _floors(plan, side)):
        other = facts.sides[1 - side]
        cuts = facts.as_set is None and (other.confirmed or bool(other.others))
        return now - table.best(may_cut=cuts or plan.may_cut).expected
    apart = [[n for n, pair in enumerate(plan.pairs) if (pair.pull, pair.push)[side] == floor] for floor in floors]
    return now - sum([table.best(places).expected for places in apart])
