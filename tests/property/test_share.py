"""Shared block sizes against everything that could have been chosen, and against an independent solver.

Small instances are compared choice by choice with brute force, which tries every combination and orders them by
the stated rule. Larger ones are compared in what they cost with HiGHS, a solver of mixed integer programmes that
shares neither code nor method with the engine: one variable a choice and one a size, a size bought wherever a
choice of any unit needs it. Their costs are small integers, so that its floats are exact once rounded.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from jambset.engine import share as engine
from jambset.engine.share import Choice, share

Unit = list[Choice]
PRICE = 50
"""Of a size in the larger instances: five minutes in tenths."""
STEPS = ((60, 120), (120, 280, 400), (60, 280), (280, 400))
"""What a door's work costs farther and farther from its good heights [tenths of a minute]."""


def total(units: Sequence[Unit], taken: Sequence[int], *, price: int) -> int:
    choices = [unit[place] for unit, place in zip(units, taken, strict=True)]
    return sum(choice.cost for choice in choices) + price * len(bought(choices))


def bought(choices: Sequence[Choice]) -> list[int]:
    return sorted({size for choice in choices for size in choice.sizes})


def rank(units: Sequence[Unit], taken: Sequence[int], *, price: int) -> tuple[object, ...]:
    """The stated rule, word by word: total, number of sizes, the sizes, then each unit for itself."""
    choices = [unit[place] for unit, place in zip(units, taken, strict=True)]
    sizes = bought(choices)
    each = [(c.cost, len(c.sizes), c.sizes, place) for c, place in zip(choices, taken, strict=True)]
    return total(units, taken, price=price), len(sizes), sizes, each


def small(seed: int) -> tuple[list[Unit], int]:
    """Up to five units and six sizes, costs so few that ties abound."""
    draw = random.Random(seed)
    reach, most = draw.randint(1, 6), draw.choice([1, 3, 9])

    def choice() -> Choice:
        return Choice(draw.randint(0, most), tuple(sorted(draw.sample(range(reach), draw.randint(0, min(reach, 3))))))

    units = [[choice() for _ in range(draw.randint(1, 4))] for _ in range(draw.randint(0, 5))]
    return units + units[: draw.randint(0, 1)], draw.choice([0, 1, 2, 3, 5])


def door(draw: random.Random, *, odd: Sequence[int], foot: int) -> Unit:
    """Heights of 0 to 24 sixteenths; some cost nothing, others the more the farther off; some floors uneven."""
    low, wide, steps = draw.choice([0, 2, 4, 6, 8, 10, 12, 14, 16]), draw.choice([0, 1, 2, 3, 4, 6]), draw.choice(STEPS)
    uneven = draw.choice(odd) if draw.random() < 0.4 else 0
    unit = []
    for height in range(25):
        off = max(low - height, height - low - wide, 0)
        work = steps[min(len(steps) - 1, (off - 1) // 3)] if off else 0
        sizes = {height * 16, height * 16 + uneven} - {0}
        unit.append(Choice(work + foot * height, tuple(sorted(sizes))))
    return unit


def line(doors: Sequence[Unit]) -> Unit:
    """Doors that move together: each height costs what it costs all of them, and needs the sizes of all."""
    return [Choice(sum(c.cost for c in row), tuple(bought(row))) for row in zip(*doors, strict=True)]


def scattered(draw: random.Random) -> Unit:
    """Choices without any order: one or two sizes out of twelve, or a dear one without."""
    some = [tuple(sorted(draw.sample(range(12), draw.randint(1, 2)))) for _ in range(draw.randint(1, 5))]
    return [Choice(draw.choice([120, 280]), ()), *[Choice(draw.choice([0, 60, 120]), sizes) for sizes in some]]


def house(seed: int) -> list[Unit]:
    """Doors and head lines of a house, or now and then of a block of flats of more than 60."""
    draw = random.Random(seed)
    odd, foot = [draw.randint(1, 100) for _ in range(4)], draw.choice([0, 1])
    count = draw.randint(60, 90) if seed % 10 == 0 else draw.randint(2, 25)
    if seed % 4 == 1:
        return [scattered(draw) for _ in range(count)]
    units = [door(draw, odd=odd, foot=foot) for _ in range(count)]
    units.append(line([door(draw, odd=odd, foot=foot) for _ in range(draw.choice([2, 3, 8]))]))
    return units + units[: draw.randint(0, 3)]


def least_by_highs(units: Sequence[Unit], *, price: int) -> int:
    """The least total as HiGHS finds it: sizes first, then choices; a choice is taken only with its sizes bought."""
    sizes = bought([choice for unit in units for choice in unit])
    flat = [(who, choice) for who, unit in enumerate(units) for choice in unit]
    column = {size: place for place, size in enumerate(sizes)}
    entries, low, high = [], [1.0] * len(units), [1.0] * len(units)
    rows: dict[tuple[int, int], int] = {}
    for place, (who, choice) in enumerate(flat):
        entries.append((who, len(sizes) + place, 1.0))
        for size in choice.sizes:
            if (who, size) not in rows:
                rows[who, size] = len(low)
                entries.append((len(low), column[size], 1.0))
                low.append(0.0)
                high.append(np.inf)
            entries.append((rows[who, size], len(sizes) + place, -1.0))
    row, col, value = zip(*entries, strict=True)
    count = len(sizes) + len(flat)
    matrix = csr_array((value, (row, col)), shape=(len(low), count))
    found = milp(
        [float(price)] * len(sizes) + [float(choice.cost) for _, choice in flat],
        integrality=np.ones(count, dtype=np.int64),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix, low, high),
        options={"mip_rel_gap": 0},
    )
    assert found.success, found.message
    return round(found.fun)


@pytest.mark.parametrize("start", range(0, 1500, 500))
def test_small_instances_are_settled_as_brute_force_settles_them(start: int) -> None:
    for seed in range(start, start + 500):
        units, price = small(seed)
        every = product(*[range(len(unit)) for unit in units])
        best = min(every, key=lambda taken: rank(units, taken, price=price))
        assert share(units, price=price) == (best, True), seed


@pytest.mark.parametrize("start", range(0, 320, 80))
def test_houses_cost_what_highs_says_is_the_least(start: int) -> None:
    """HiGHS, through scipy, is the independent solver; the totals are integers and compared exactly."""
    for seed in range(start, start + 80):
        units = house(seed)
        taken = share(units, price=PRICE).places
        assert total(units, taken, price=PRICE) == least_by_highs(units, price=PRICE), seed


def test_the_order_of_units_changes_nothing() -> None:
    for seed in range(200):
        units, price = (house(seed), PRICE) if seed % 4 else small(seed)
        order = random.Random(seed).sample(range(len(units)), len(units))
        taken = share(units, price=price).places
        assert share([units[who] for who in order], price=price).places == tuple(taken[who] for who in order), seed


def test_a_search_that_is_ended_says_so_and_answers_alike_in_any_order() -> None:
    ended = 0
    for seed in range(60):
        draw = random.Random(seed)
        units = [[Choice(0, (draw.randrange(1, 21),)) for _ in range(3)] for _ in range(40)]
        whole, short = share(units, price=PRICE), share(units, price=PRICE, effort=1)
        dear, least = total(units, short.places, price=PRICE), total(units, whole.places, price=PRICE)
        assert whole.least, seed
        assert least <= dear <= 20 * PRICE, seed  # every size bought
        assert not short.least or dear == least, seed
        order = draw.sample(range(len(units)), len(units))
        assert share([units[who] for who in order], price=PRICE, effort=1) == (
            tuple(short.places[who] for who in order),
            short.least,
        ), seed
        ended += not short.least
    assert ended > 10


def test_no_house_however_contrived_takes_more_than_the_effort_allows(monkeypatch: pytest.MonkeyPatch) -> None:
    spent, step = 0, engine._step

    def counted(node: Any, **more: Any) -> Any:
        nonlocal spent
        spent += node.parts[0].size
        return step(node, **more)

    monkeypatch.setattr(engine, "_step", counted)
    draw = random.Random(1)
    units = [[Choice(0, (draw.randrange(1, 51),)) for _ in range(3)] for _ in range(200)]
    assert not share(units, price=PRICE, effort=5_000).least
    assert 5_000 <= spent < 5_000 + 3 * len(units)


def test_another_choice_never_costs_more_a_dearer_size_or_another_unit_never_less() -> None:
    for seed in range(150):
        units, draw = house(seed), random.Random(seed)
        least = total(units, share(units, price=PRICE).places, price=PRICE)
        who = draw.randrange(len(units))
        more = [[*unit, scattered(draw)[-1]] if at == who else unit for at, unit in enumerate(units)]
        assert total(more, share(more, price=PRICE).places, price=PRICE) <= least, seed
        assert total(units, share(units, price=PRICE + 7).places, price=PRICE + 7) >= least, seed
        another = [*units, scattered(draw)]
        assert total(another, share(another, price=PRICE).places, price=PRICE) >= least, seed
