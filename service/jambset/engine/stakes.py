"""What the likelihoods of floors decide: at which another setting wins, and what it is worth to know a floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from msgspec import Struct

from jambset.engine.scenarios import MINUTE, Choice, Plan, Table


class Tip(Struct, frozen=True, gc=False):
    """At which likelihood of a floor another setting becomes the best: above it, or below. side: 0 pull, 1 push."""

    side: int
    floor: int
    weight: Fraction
    above: bool
    setting: int


def tips(table: Table, chosen: Choice) -> list[Tip]:
    """The likelihoods nearest to the present ones, up and down, at which another setting wins.

    The likelihood of one floor is moved and the other floors of its side keep their proportions, so what a
    choice is expected to cost is linear in it. The same setting with another cut now is no other setting. Nothing tips
    a setting that isn't the best as it is, such as one chosen for what a house shares.
    """
    plan = table.plan
    moved = [(side, floor) for side in (0, 1) for floor in _moved(plan, side)]
    if not moved or chosen.expected > table.best().expected:
        return []
    priced = [(choice.setting, choice.expected, table.shares(choice)) for choice in table.every()]
    return [tip for side, floor in moved for tip in _tips(plan, chosen.setting, priced, side, floor)]


def _floors(plan: Plan, side: int) -> list[int]:
    """Floors of a side that may come, where there is more than one."""
    found = sorted({(pair.pull, pair.push)[side] for pair in plan.pairs})
    return found if len(found) > 1 else []


def _moved(plan: Plan, side: int) -> list[int]:
    """Floors of a side whose likelihoods are moved; of two the second, for the first has what it leaves."""
    found = _floors(plan, side)
    return found[1:] if len(found) < 3 else found


class _Line(NamedTuple):
    """The expected cost of a choice as one likelihood moves: its values at 1 and at 0, on one scale."""

    certain: int
    never: int
    setting: int

    def ahead_of(self, others: Sequence[_Line]) -> tuple[Fraction, Fraction] | None:
        """Between which likelihoods it costs less than each of the others; None where it never does."""
        low, low_of, high, high_of = 0, 1, 1, 1  # numerators and denominators: few of them become fractions
        for other in others:
            more, without = self.certain - other.certain, self.never - other.never
            if more >= 0 and without >= 0:
                return None
            if more < 0 <= without and without * low_of > low * (without - more):
                low, low_of = without, without - more
            elif without < 0 <= more and -without * high_of < high * (more - without):
                high, high_of = -without, more - without
        return (Fraction(low, low_of), Fraction(high, high_of)) if low * high_of < high * low_of else None


def _tips(plan: Plan, chosen: int, priced: list[tuple[int, int, list[int]]], side: int, floor: int) -> Iterator[Tip]:
    """chosen: the setting. priced: settings, with what each costs in all and under each pair, by its likelihood."""
    with_it = [n for n, pair in enumerate(plan.pairs) if (pair.pull, pair.push)[side] == floor]
    weight = sum([plan.pairs[n].weight for n in with_it])
    now, lines = Fraction(weight, MINUTE), []
    for setting, whole, shares in priced:
        certain = sum([shares[n] for n in with_it])
        lines.append(_Line(certain * (MINUTE - weight), (whole - certain) * weight, setting))
    own = [line for line in lines if line.setting == chosen]
    above: list[tuple[Fraction, int, int, int]] = []
    below: list[tuple[Fraction, int, int, int]] = []
    for line in lines:
        if line.setting != chosen and (ahead := line.ahead_of(own)):
            (low, high), slope = ahead, line.certain - line.never
            if low >= now:
                above.append((low, slope, abs(line.setting), line.setting))
            else:
                below.append((-high, -slope, abs(line.setting), line.setting))
    for found in (above, below):
        if found:
            at, _, _, setting = min(found)
            yield Tip(side, floor, abs(at), found is above, setting)


def stakes(table: Table) -> dict[str, int]:
    """What knowing each side's floor is worth, by side, in parts of a minute."""
    sides = table.plan.facts.sides
    return {side.name: worth_of_asking(table, place) for place, side in enumerate(sides)}


def worth_of_asking(table: Table, side: int) -> int:
    """What it is expected to save to know a side's floor before anything is set, in parts of a minute."""
    plan, now = table.plan, table.best().expected
    facts = plan.facts
    own, other = facts.sides[side], facts.sides[1 - side]
    if own.confirmed:
        return 0
    if not (floors := _floors(plan, side)):
        cuts = facts.as_set is None and other.listed
        return now - table.best(may_cut=cuts or plan.may_cut).expected
    apart = [[n for n, pair in enumerate(plan.pairs) if (pair.pull, pair.push)[side] == floor] for floor in floors]
    return now - sum([_known_to_come(table, places) for places in apart])


def _known_to_come(table: Table, places: Sequence[int]) -> int:
    """What it is expected to take when one of some pairs is known to come, by its likelihood."""
    if len(places) == 1 and table.plan.may_cut:
        return table.plan.pairs[places[0]].weight * table.alone(places[0])
    return table.best(places).expected
