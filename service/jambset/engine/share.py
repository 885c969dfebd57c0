"""Chooses for every unit how it is set so that all together cost least, each block size bought once for all.

A unit is a door or a head line of doors that move together. Each of its choices has a cost and needs blocks of
some sizes; a size costs its price once, however many units stand on it. The answer is exact: integers only.

Like units count as one, choices that another replaces at no loss fall out, and units that share no size are
settled apart. The rest is bounded by promises: units promise money for sizes, together no more for one than
its price, so an answer costs at least the sum over units of the cheapest choice with its promises. They rise until
each unit has a choice whose sizes are paid in full. Those sizes are an answer; where it costs more than the bound,
choices that are farther above the bound fall out, and then a size is bought in one branch and left out in another.

Growth: a bound takes about the choices left times the sizes each needs; branches can double with every size, as
they must where set cover can be asked. Where the good heights of a door lie together, few bounds are worked out: 1 to
30, mostly under 10, for 33 heights a unit and a third of floors uneven. On one of two cores, Python 3.11, 500 units no
two alike then took 30 ms at the median and 40 to 70 ms at most, 500 units of 40 kinds 3 ms. Units that each ask for
one of three sizes drawn blindly took 1 s for 120 units and 40 sizes and would take 40 s for 200 and 50. No house we
know is like that, but anybody may send one: the search ends after EFFORT, and the answer then says that it may not be
the least. What it costs is counted, not timed, so that the same house always gets the same answer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from jambset.engine.promises import Found, Promises, Unit, places_of, price_of, used

EFFORT = 100_000
"""Choices times sizes, summed over the bounds worked out, after which the best answer so far is taken; houses as above
take less than a hundredth of it, and all of it takes one to two seconds."""
PASSES = 2
"""How often promises are rearranged before a size is branched on; more of it gained nothing where measured."""


class Choice(NamedTuple):
    """One way to set a unit: what it costs by itself, and the block sizes it needs [ticks], sorted and distinct."""

    cost: int
    sizes: tuple[int, ...] = ()


class Shared(NamedTuple):
    """The place of the choice to take in each unit, and whether nothing costs less for certain."""

    places: tuple[int, ...]
    least: bool


def share(units: Sequence[Sequence[Choice]], *, price: int, effort: int = EFFORT) -> Shared:
    """The choice to take in each unit, so that all costs and `price` for each distinct size are least.

    price: of one distinct size, at least 0, in the unit of the costs, which may be of any size. effort: what the search
    may take. ValueError if the price is negative or a unit has no choice.

    Of equal totals the answer has the fewest distinct sizes, then the set of sizes that comes first read in
    rising order. Within them each unit takes its cheapest choice, then the fewest sizes, then the sizes that come
    first in rising order, then the first. So nothing depends on the order of the units.

    >>> share([[Choice(0, (8,)), Choice(1, (9,))], [Choice(0, (9,)), Choice(7)]], price=5)
    Shared(places=(1, 0), least=True)
    """
    if price < 0:
        raise ValueError(f"a block size can't cost {price}; give a price of at least 0")
    kinds = [tuple(unit) for unit in units]
    if () in kinds:
        raise ValueError(f"unit {kinds.index(())} has no choice; give each unit at least one")
    counts = Counter(kinds)
    search = _Search(effort)
    bought = _bought(counts, price=price, search=search)
    places = {kind: _place(kind, bought=bought) for kind in counts}
    return Shared(tuple([places[kind] for kind in kinds]), not search.ended)


class _Search:
    """What one search may still take, and whether it was ended before all was looked through."""

    __slots__ = ("ended", "left")

    def __init__(self, effort: int) -> None:
        self.left, self.ended = effort, False


_Kind = tuple[Choice, ...]


def _place(kind: _Kind, *, bought: set[int]) -> int:
    return min((c.cost, len(c.sizes), c.sizes, i) for i, c in enumerate(kind) if bought.issuperset(c.sizes))[3]


def _bought(counts: Counter[_Kind], *, price: int, search: _Search) -> set[int]:
    """The sizes of the best answer found.

    The rule for equal totals is part of the prices: costs are spread farther than all sizes can add, each size
    adds one for itself less a binary fraction, the greater the smaller the size. No two sets cost the same.
    """
    hopeful = [_hopeful(kind, times=times, price=price) for kind, times in sorted(counts.items())]
    sizes = sorted({size for unit in hopeful for choice in unit for size in choice.sizes})
    count = len(sizes)
    bit = {size: 1 << place for place, size in enumerate(sizes)}
    prices = [(price * (count + 1) + 1 << count) - (1 << count - 1 - place) for place in range(count)]
    spread = count + 1 << count
    scaled = [sorted((c.cost * spread, sum(map(bit.__getitem__, c.sizes))) for c in unit) for unit in hopeful]
    above = sum(unit[-1][0] for unit in scaled) + sum(prices) + 1
    found = _least(_node(scaled, prices=prices), prices=prices, below=above, search=search)
    assert found  # every choice leads to less than what is above them all
    return {sizes[place] for place in places_of(found.sizes)}


def _hopeful(kind: _Kind, *, times: int, price: int) -> list[Choice]:
    """The choices of like units that cost no more than one that buys its sizes alone, their costs added up."""
    alone = min(cost * times + price * len(sizes) for cost, sizes in kind)
    return [Choice(cost * times, sizes) for cost, sizes in kind if cost * times <= alone]


class _Node(NamedTuple):
    """What is left to settle after some was spent and some sizes were bought; its parts share no size."""

    spent: int
    bought: int
    parts: list[Promises]


def _node(units: list[Unit], *, prices: Sequence[int], spent: int = 0, bought: int = 0) -> _Node:
    """Take what is certain: a size that a unit can't do without is free for all others, until nothing changes."""
    while True:
        left, must = [], 0
        for unit in units:
            kept = _undominated(sorted([(cost, sizes & ~bought) for cost, sizes in unit]), prices=prices)
            if len(kept) > 1:
                left.append(kept)
            else:
                spent += kept[0][0]
                must |= kept[0][1]
        if not must:
            return _Node(spent, bought, [Promises(part, prices=prices) for part in _parts(left)])
        units, spent, bought = left, spent + price_of(must, prices=prices), bought | must


def _undominated(unit: Unit, *, prices: Sequence[int]) -> Unit:
    """Choices that no cheaper one replaces, even if what it needs beyond their sizes were bought for it alone."""
    kept: Unit = []
    for cost, sizes in unit:
        for less, others in kept:
            if less + price_of(others & ~sizes, prices=prices) <= cost:
                break
        else:
            kept.append((cost, sizes))
    return kept


def _parts(units: list[Unit]) -> list[list[Unit]]:
    """Units together that share a size, directly or through others; first those with the fewest choices.

    The order settles nothing but the time it takes: measured, the fewest branches were left this way.
    """
    parts: list[tuple[int, list[Unit]]] = []
    for unit in units:
        sizes, mine, apart = used(unit), [unit], []
        for part in parts:
            if part[0] & sizes:
                sizes, mine = sizes | part[0], mine + part[1]
            else:
                apart.append(part)
        parts = [*apart, (sizes, mine)]
    return [sorted(part, key=lambda unit: (len(unit), unit)) for _, part in parts]


def _least(node: _Node, *, prices: Sequence[int], below: int, search: _Search) -> Found | None:
    """The best answer that costs less than `below`, if there is one; depth first, and the first node in any case."""
    best, nodes = None, [node]
    while nodes:
        node = nodes.pop()
        if len(node.parts) == 1:
            search.left -= node.parts[0].size
            found, more = _step(node, prices=prices, below=below)
            nodes += more
        else:
            found = _together(node, prices=prices, below=below, search=search)
        if found and found.value < below:
            best, below = found, found.value
        if nodes and search.left <= 0:
            search.ended = True
            break
    return best


def _together(node: _Node, *, prices: Sequence[int], below: int, search: _Search) -> Found | None:
    """Parts one after the other, each within what the bounds of those that follow leave it."""
    value, sizes, rest = node.spent, node.bought, sum(part.bound for part in node.parts)
    for part in node.parts:
        rest -= part.bound
        found = _least(_Node(0, 0, [part]), prices=prices, below=below - value - rest, search=search)
        if found is None:
            return None
        value, sizes = value + found.value, sizes | found.sizes
    return Found(value, sizes)


def _step(node: _Node, *, prices: Sequence[int], below: int) -> tuple[Found | None, list[_Node]]:
    """An answer to a node of one part, and the nodes in which a better one may be, the likeliest last."""
    spent, bought, (part,) = node
    below -= spent
    if part.bound >= below:
        return None, []
    best = last = part.answer(prices=prices)
    for _ in range(PASSES):
        if not part.rearrange(last.sizes, below=min(below, best.value)):
            break
        last = part.answer(prices=prices)
        best = min(best, last)
    found = Found(spent + best.value, bought | best.sizes)
    if (gap := min(below, best.value) - part.bound) <= 0:
        return found, []
    units = part.narrowed(gap)
    if sum(map(len, units)) < sum(map(len, part.units)):
        return found, [_node(units, prices=prices, spent=spent, bought=bought)]
    one = 1 << part.contested(last.sizes)
    spent_on = spent + price_of(one, prices=prices)
    nodes = [_node(units, prices=prices, spent=spent_on, bought=bought | one)]
    without = [[choice for choice in unit if not choice[1] & one] for unit in units]
    if all(without):
        nodes.insert(0, _node(without, prices=prices, spent=spent, bought=bought))
    return found, nodes
