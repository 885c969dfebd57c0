"""Promises towards sizes: small houses by hand, and the accounts of drawn ones."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from jambset.engine.promises import Found, Promises, Unit

ONE, OTHER = 0b01, 0b10


def test_units_share_the_price_of_a_size_that_both_use() -> None:
    """Without it both cost 5: they promise no more than its 4, and are answered with it for 4 in all."""
    promises = Promises([[(0, ONE), (5, 0)], [(0, ONE), (5, 0)]], prices=[4])
    assert (promises.slack, promises.bound) == ([0], 4)
    assert promises.answer(prices=[4]) == Found(4, ONE)


def test_a_size_that_saves_no_more_than_it_costs_is_left_out() -> None:
    assert Promises([[(0, ONE), (4, 0)]], prices=[4]).answer(prices=[4]) == Found(4, 0)
    assert Promises([[(0, OTHER), (4, 0)]], prices=[9, 4]).answer(prices=[9, 4]) == Found(4, 0)
    assert Promises([[(0, OTHER), (5, 0)]], prices=[9, 4]).answer(prices=[9, 4]) == Found(4, OTHER)


def test_a_size_is_left_out_once_another_makes_it_idle() -> None:
    """Both are paid in full; without the one its unit takes the other for 1 more, where the one costs 3."""
    units: list[Unit] = [[(0, ONE), (1, OTHER), (9, 0)], [(0, OTHER), (9, 0)]]
    promises = Promises(units, prices=[3, 3])
    assert promises.answer(prices=[3, 3]) == Found(4, OTHER)


def test_nothing_rises_where_no_unit_promised_in_vain() -> None:
    promises = Promises([[(0, ONE), (5, 0)]], prices=[4])
    assert promises.rearrange(ONE, below=100) is False


UNITS = st.lists(
    st.lists(st.tuples(st.integers(0, 12), st.integers(0, 7)), min_size=1, max_size=4).map(
        lambda choices: sorted({sizes: cost for cost, sizes in [*choices, (12, 0)]}.items(), key=lambda one: one[1])
    ),
    min_size=1,
    max_size=4,
).map(lambda units: [[(cost, sizes) for sizes, cost in unit] for unit in units])
PRICES = st.lists(st.integers(1, 8), min_size=3, max_size=3)


@given(UNITS, PRICES, st.lists(st.integers(0, 7), max_size=4))
def test_what_is_promised_is_counted_once_and_never_too_much(
    units: list[Unit], prices: list[int], answers: list[int]
) -> None:
    """However often units go last: a size is promised no more than its price, and the bound is below every answer."""
    promises = Promises(units, prices=prices)
    least = min(
        sum(cost for cost, _ in chosen)
        + sum(prices[place] for place in range(3) if any(s >> place & 1 for _, s in chosen))
        for chosen in product(*units)
    )
    for answer in [0, *answers]:
        before = promises.bound
        rose = promises.rearrange(answer, below=10**6)
        assert rose is (promises.bound > before)
        assert promises.bound == sum(promises.level) <= least
        for place, price in enumerate(prices):
            assert promises.slack[place] == price - sum(paid.get(place, 0) for paid in promises.paid) >= 0
        for unit, dear, paid, level in zip(units, promises.dear, promises.paid, promises.level, strict=True):
            assert dear == [cost + sum(paid.get(p, 0) for p in range(3) if sizes >> p & 1) for cost, sizes in unit]
            assert level <= min(dear)
