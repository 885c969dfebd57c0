"""Promises of units towards block sizes, and the bound on the cost of a house that follows from them.

Units promise money for the sizes their choices need, together no more for one than its price. So an answer costs
at least the sum over units of the cheapest choice with its promises, whatever sizes are bought in the end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from functools import reduce
from operator import or_
from typing import NamedTuple

Unit = list[tuple[int, int]]
"""A unit's choices, cheapest first: cost, and a bit for each size it needs."""


class Found(NamedTuple):
    """An answer: what it costs with its sizes, and the sizes as bits."""

    value: int
    sizes: int


def places_of(sizes: int) -> list[int]:
    """The places of the bits that are set."""
    places = []
    while sizes:
        lowest = sizes & -sizes
        places.append(lowest.bit_length() - 1)
        sizes ^= lowest
    return places


def price_of(sizes: int, *, prices: Sequence[int]) -> int:
    """What sizes given as bits cost together."""
    return sum([prices[place] for place in places_of(sizes)])


def used(unit: Unit) -> int:
    """The sizes that any choice of a unit needs, as bits."""
    return reduce(or_, [sizes for _, sizes in unit])


def cost_without(unit: Unit, *, missing: int, otherwise: int = 0) -> int:
    """Of the cheapest choice that needs none of the sizes missing."""
    for cost, sizes in unit:
        if not sizes & missing:
            return cost
    return otherwise


class Promises:
    """What units promise towards sizes, and the bound that follows from it.

    places: of the sizes a choice needs. near: units that might use a size. slack: what nobody has promised of its
    price yet. paid: promises of a unit, by size. dear: costs of its choices with them. level: the least of those.
    """

    __slots__ = ("bound", "dear", "level", "near", "paid", "places", "slack", "units")

    def __init__(self, units: list[Unit], *, prices: Sequence[int]) -> None:
        self.units, self.slack = units, list(prices)
        self.places = [[places_of(sizes) for _, sizes in unit] for unit in units]
        self.dear = [[cost for cost, _ in unit] for unit in units]
        self.level = [unit[0][0] for unit in units]
        self.paid: list[dict[int, int]] = [{} for _ in units]
        self.near: dict[int, list[int]] = {}
        for who, unit in enumerate(units):
            for place in places_of(used(unit)):
                self.near.setdefault(place, []).append(who)
        self._fill(list(range(len(units))))
        self.bound = sum(self.level)

    @property
    def size(self) -> int:
        """Choices times the sizes each needs: what a bound takes."""
        return sum([len(needs) for choices in self.places for needs in choices])

    def _fill(self, who: list[int]) -> None:
        """Raise units in turn, a level each, until none can rise: each then has a choice at its level all paid."""
        while who:
            who = [one for one in who if self._raise(one)]

    def _raise(self, who: int) -> bool:
        """Raise a unit to the cost of its next choice, or as far as the slack of a choice below that lets it.

        What a choice's dearness and slack add up to stays as it is while its own unit pays, so the goal is reached
        at once and in any order of paying.
        """
        dear, slack, goal = self.dear[who], self.slack, self._goal(who)
        if goal == self.level[who]:
            return False
        for choice, needs in enumerate(self.places[who]):
            for place in sorted(needs, key=slack.__getitem__, reverse=True) if dear[choice] < goal else ():
                if (amount := min(goal - dear[choice], slack[place])) > 0:
                    self._pay(who, place=place, amount=amount)
        self.level[who] = goal
        return True

    def _goal(self, who: int) -> int:
        slack, level = self.slack, self.level[who]
        open_to = zip(self.dear[who], self.places[who], strict=True)
        reach = min([cost + sum([slack[place] for place in needs]) for cost, needs in open_to])
        return next((cost for cost, _ in self.units[who] if level < cost < reach), reach)

    def _pay(self, who: int, *, place: int, amount: int) -> None:
        self.slack[place] -= amount
        self.paid[who][place] = self.paid[who].get(place, 0) + amount
        dear = self.dear[who]
        for choice, needs in enumerate(self.places[who]):
            if place in needs:
                dear[choice] += amount

    def rearrange(self, answer: int, *, below: int) -> bool:
        """Let units that promise to two sizes of an answer go last, once each; whether the bound rose."""
        before = self.bound
        for who, unit in enumerate(self.units):
            if self.bound < below and any(_wasted(unit, paid=self.paid[who], answer=answer)):
                self._go_last(who)
        return self.bound > before

    def _go_last(self, who: int) -> None:
        """Take a unit's promises back, let the others near rise first, and undo it all if nothing is gained."""
        near = [*dict.fromkeys(other for place in self.paid[who] for other in self.near[place] if other != who), who]
        kept = [(one, self.dear[one][:], self.level[one], self.paid[one].copy()) for one in near]
        slack = self.slack[:]
        for place, amount in kept[-1][3].items():
            self._pay(who, place=place, amount=-amount)
        self.level[who] = self.units[who][0][0]
        self._fill(near[:-1])
        self._fill([who])
        gain = sum(self.level[one] for one in near) - sum(level for _, _, level, _ in kept)
        self.bound += max(0, gain)
        if gain <= 0:
            self.slack = slack
            for one, dear, level, paid in kept:
                self.dear[one], self.level[one], self.paid[one] = dear, level, paid

    def answer(self, *, prices: Sequence[int]) -> Found:
        """The sizes paid in full, less those that cost more than they save."""
        sizes = sum(1 << place for place in self.near if not self.slack[place])
        costs = [cost_without(unit, missing=~sizes) for unit in self.units]
        left = 0
        while left != sizes:
            left = sizes
            for place in [place for place in self.near if sizes >> place & 1]:
                most, missing = prices[place], ~sizes | 1 << place
                without = {
                    who: cost_without(self.units[who], missing=missing, otherwise=costs[who] + most + 1)
                    for who in self.near[place]
                }
                if sum([cost - costs[who] for who, cost in without.items()]) <= most:
                    sizes ^= 1 << place
                    for who, cost in without.items():
                        costs[who] = cost
        return Found(sum(costs) + price_of(sizes, prices=prices), sizes)

    def narrowed(self, gap: int) -> list[Unit]:
        """The units with the choices that can still be part of an answer less than `gap` above the bound."""
        slack, units = self.slack, []
        for unit, dear, level, places in zip(self.units, self.dear, self.level, self.places, strict=True):
            above = [
                cost - level + sum([slack[place] for place in needs]) for cost, needs in zip(dear, places, strict=True)
            ]
            units.append([choice for choice, much in zip(unit, above, strict=True) if much < gap])
        return units

    def contested(self, answer: int) -> int:
        """The place of the size of an answer that most was promised to without use."""
        score = Counter(self.near.keys())
        for unit, paid in zip(self.units, self.paid, strict=True):
            for place in _wasted(unit, paid=paid, answer=answer):
                score[place] += paid[place]
        return max(score, key=lambda place: (score[place], -place))


def _wasted(unit: Unit, *, paid: dict[int, int], answer: int) -> Iterator[int]:
    """Places of the sizes of an answer that a unit promises to and doesn't stand on."""
    own = next(sizes for _, sizes in unit if not sizes & ~answer)
    return (place for place, amount in paid.items() if amount and (answer & ~own) >> place & 1)
