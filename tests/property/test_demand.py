"""Where a unit is set anew, against every setting tried one by one."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from tests.pricing import NOTHING, PRICING, WORK

from jambset.engine.demand import Demand, Mended, Pricing, _anew, set_anew
from jambset.engine.labour import BENCH
from jambset.engine.settle import FAR

HEIGHTS = st.integers(-8, 16)
BOTTOMS = st.integers(0, 24)
MINUTES = st.sampled_from([0, 1, 3, 20])


def wishes(heights: st.SearchStrategy[int]) -> st.SearchStrategy[tuple[int, ...]]:
    return st.lists(heights, max_size=3).map(sorted).map(tuple)


def some(heights: st.SearchStrategy[int], otherwise: int) -> st.SearchStrategy[int]:
    """A limit, or more often none."""
    return st.just(otherwise) | st.just(otherwise) | heights


@st.composite
def demands(draw: Any, step: int) -> Demand:
    """What a floor may ask for, lengths in small numbers of ticks so that limits often meet."""
    bottom_low, lows = draw(some(BOTTOMS, -FAR)), draw(wishes(BOTTOMS))
    return replace(
        NOTHING,
        own=draw(st.integers(-6, 12)),
        low=draw(some(HEIGHTS, -FAR)),
        high=draw(some(HEIGHTS, FAR)),
        cover=draw(some(HEIGHTS, FAR)),
        bottom_low=bottom_low,
        bottom_high=draw(some(BOTTOMS, FAR)),
        trim_most=draw(st.integers(1, 12)),
        target=max(bottom_low, *lows, -FAR),
        wish_low=draw(wishes(HEIGHTS)),
        wish_cover=draw(wishes(HEIGHTS)),
        wish_high=draw(wishes(HEIGHTS)),
        wish_bottom_low=lows,
        wish_bottom_high=draw(wishes(BOTTOMS)),
        step=step,
    )


@st.composite
def pricings(draw: Any, step: int) -> Pricing:
    """How settings are priced, on a tape that begins anywhere, with settings of other floors beside its marks."""
    first, count = draw(st.integers(-3, 3)), draw(st.integers(1, 16))
    off = [n for n in draw(st.lists(st.integers(-8, 20), max_size=3)) if n % step]
    block, trim, bench = draw(MINUTES), draw(MINUTES), draw(MINUTES)
    wish = draw(st.sampled_from([1, 7, block + trim + bench + 1]))
    saw = {**WORK.saw, BENCH: bench}
    return replace(
        PRICING,
        work=replace(WORK, saw=saw, block_legs=block, trim_legs=trim, wish=wish),
        rise=draw(st.integers(0, 9)),
        ordered=draw(st.booleans()),
        foot=draw(st.integers(-2, 4)),
        low=draw(st.integers(-4, 0)),
        settings=tuple(sorted({*range(first * step, (first + count) * step, step), *off})),
        off_tape=tuple(sorted(set(off))),
    )


ASKED = st.integers(1, 4).flatmap(lambda step: st.tuples(demands(step), pricings(step)))


def one_by_one(d: Demand, p: Pricing, trimmed: int) -> Mended:
    """The best of all settings; a new leaf where none takes what was trimmed."""
    found = [made for setting in {d.own, *p.settings} if (made := _anew(d, p, setting, trimmed))]
    if not found:
        return set_anew(d, p, 0)
    return min(found, key=lambda made: (made.minutes, abs(made.again or 0), made.again))


def takes_a_whole_leaf(asked: tuple[Demand, Pricing]) -> bool:
    """At its own setting, as every pair of floors' does."""
    return _anew(asked[0], asked[1], asked[0].own, 0) is not None


@settings(max_examples=400)
@given(ASKED.filter(takes_a_whole_leaf), st.integers(1, 14))
def test_a_unit_is_set_anew_where_the_best_of_all_settings_is(asked: tuple[Demand, Pricing], trimmed: int) -> None:
    assert set_anew(*asked, trimmed) == one_by_one(*asked, trimmed)
