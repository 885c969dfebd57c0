"""At which likelihood of a floor another setting wins, of costs written down by hand."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Any

import pytest

from jambset.engine.scenarios import MINUTE
from jambset.engine.stakes import tips

Costs = dict[int, tuple[int, ...]]
"""By setting, the minutes it takes under each floor that may come on the pull side."""


def told(costs: Costs, *likely: Fraction) -> list[tuple[int, Fraction, bool, int]]:
    """Floor, likelihood, above or below it, and setting of every tip, the cheapest setting chosen, the first of equals.

    likely: of each floor; one floor lies on the push side.
    """
    weights = [int(one * MINUTE) for one in likely]
    assert sum(weights) == MINUTE
    pairs = [SimpleNamespace(pull=n, push=0, weight=weight) for n, weight in enumerate(weights)]
    shares = {n: [weight * minutes for weight, minutes in zip(weights, row, strict=True)] for n, row in costs.items()}
    every = [SimpleNamespace(setting=n, expected=sum(row)) for n, row in shares.items()]
    table: Any = SimpleNamespace(
        plan=SimpleNamespace(pairs=pairs),
        best=lambda: min(every, key=lambda one: one.expected),
        every=lambda: every,
        shares=lambda choice: shares[choice.setting],
    )
    return [(tip.floor, tip.weight, tip.above, tip.setting) for tip in tips(table, table.best())]


def test_a_setting_wins_from_where_it_takes_less() -> None:
    """100 p and 20 (1 - p) + 30 p are alike at p = 20/90."""
    costs: Costs = {0: (0, 100), 8: (20, 30)}
    assert told(costs, Fraction(9, 10), Fraction(1, 10)) == [(1, Fraction(2, 9), True, 8)]
    assert told(costs, Fraction(1, 2), Fraction(1, 2)) == [(1, Fraction(2, 9), False, 0)]


def test_settings_that_take_as_long_tip_at_the_likelihood_there_is() -> None:
    """40 p against 20: alike at 1/2, where the first is chosen; from there up the other takes less."""
    assert told({0: (0, 40), 8: (20, 20)}, Fraction(1, 2), Fraction(1, 2)) == [(1, Fraction(1, 2), True, 8)]


@pytest.mark.parametrize(
    ("chosen", "likely", "above"),
    [((0, 40), Fraction(1, 4), True), ((40, 0), Fraction(3, 4), False)],
)
def test_of_settings_that_win_at_one_likelihood_the_one_counts_that_takes_less_beyond(
    chosen: tuple[int, int], likely: Fraction, above: bool
) -> None:
    """All take 20 at 1/2. Beyond, 20 whatever comes is less than what goes on as the chosen one does, half as steep."""
    costs: Costs = {0: chosen, 8: ((chosen[0] + 20) // 2, (chosen[1] + 20) // 2), 12: (20, 20)}
    assert told(costs, 1 - likely, likely) == [(1, Fraction(1, 2), above, 12)]


def test_the_nearest_likelihood_is_told_on_either_hand() -> None:
    """40 - 40 p meets 20 at 1/2 and 30 at 1/4; 40 p meets them at 1/2 and 3/4."""
    assert told({0: (40, 0), 8: (20, 20), 12: (30, 30)}, Fraction(1, 4), Fraction(3, 4)) == [
        (1, Fraction(1, 2), False, 8)
    ]
    assert told({0: (0, 40), 8: (20, 20), 12: (30, 30)}, Fraction(3, 4), Fraction(1, 4)) == [
        (1, Fraction(1, 2), True, 8)
    ]


def test_of_three_floors_each_ones_likelihood_is_moved() -> None:
    """The others keep their proportions: 0 at first, and 40 under each of the others, against 20 whatever comes.

    The first tips it at 1/2. Beside either other the first has 4 of 5 parts of what that leaves: 40 (p + (1 - p) / 5)
    is 20 at 3/8.
    """
    found = told({0: (0, 40, 40), 8: (20, 20, 20)}, Fraction(2, 3), Fraction(1, 6), Fraction(1, 6))
    assert found == [(0, Fraction(1, 2), False, 8), (1, Fraction(3, 8), True, 8), (2, Fraction(3, 8), True, 8)]
