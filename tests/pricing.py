"""Prices in tests: round minutes, and a floor that asks for nothing; what a test is about is put in their place."""

from __future__ import annotations

from jambset.engine.demand import Demand, Pricing
from jambset.engine.labour import BENCH, IN_PLACE, OFF_HINGES, Work
from jambset.engine.settle import FAR

WORK = Work(
    rows={},
    people=1,
    saw={BENCH: 20, IN_PLACE: 30, OFF_HINGES: 50},
    block_legs=5,
    trim_legs=10,
    set_again=80,
    other_leaf=70,
    fill_legs=40,
    cover_legs=15,
    wish=36,
    bench_is_least=True,
)
PRICING = Pricing(work=WORK, rise=100, saw_line=0, ordered=False, fixed=False, foot=0, low=0, settings=(0, 10))
NOTHING = Demand(
    own=0,
    low=-FAR,
    high=FAR,
    cover=FAR,
    bottom_low=-FAR,
    bottom_high=FAR,
    trim_most=FAR,
    target=-FAR,
    wish_low=(),
    wish_cover=(),
    wish_high=(),
    wish_bottom_low=(),
    wish_bottom_high=(),
    piece=0,
    tuck=FAR,
    finish=0,
    step=1,
)
