"""How long it takes to share block sizes among 10 to 500 units.

    python tests/bench/bench_share.py [repeats]

Buildings of made-up doors: 33 heights a 1/16 in apart, work in five or six costs, a third of the floors uneven by
one of five amounts, one unit in twenty a head line of up to eight doors. "all different": no two units are drawn
alike. "forty kinds": units are drawn from forty. Each time is the median over buildings of the median over repeats,
with its ratio to that of 10 units; the slowest building stands beside it. Bounds are how many were worked out.
"""

from __future__ import annotations

import cProfile
import random
import statistics
import sys
import time

from jambset.engine.share import Choice, share

GRID = 12_700
"""1/16 in [ticks]."""
MINUTE = 10**12
PRICE = 5 * MINUTE
STEPS = ((6, 12), (12, 28, 40), (6, 28), (12, 40), (28, 40))
"""Minutes of work farther and farther from the good heights of a door."""
BUILDINGS = 9


def door(draw: random.Random, odd: list[int]) -> list[Choice]:
    """Cost and sizes of each height, lower feet first among equals."""
    low, wide = draw.choice([0, 2, 4, 6, 8, 10, 12, 14, 16, 20, 24]), draw.choice([0, 1, 2, 3, 4, 6, 8])
    steps, uneven = draw.choice(STEPS), draw.choice(odd) if draw.random() < 1 / 3 else 0
    unit = []
    for height in range(33):
        off = max(low - height, height - low - wide, 0)
        minutes = steps[min(len(steps) - 1, (off - 1) // 3)] if off else 0
        foot = height * GRID
        unit.append(Choice(minutes * MINUTE + foot, tuple(sorted({foot, foot + uneven} - {0}))))
    return unit


def line(doors: list[list[Choice]]) -> list[Choice]:
    """Doors whose heads run through."""
    return [
        Choice(sum(c.cost for c in row), tuple(sorted({size for c in row for size in c.sizes})))
        for row in zip(*doors, strict=True)
    ]


def building(seed: int, count: int, kinds: int | None) -> list[list[Choice]]:
    draw = random.Random(seed)
    odd = [draw.randint(1, 8 * GRID) for _ in range(5)]
    units = []
    for _ in range(kinds or count):
        doors = [door(draw, odd) for _ in range(draw.choice([2, 3, 4, 8]) if draw.random() < 0.05 else 1)]
        units.append(line(doors) if len(doors) > 1 else doors[0])
    return [draw.choice(units) for _ in range(count)] if kinds else units


def median_ms(units: list[list[Choice]], repeats: int) -> float:
    times = []
    for _ in range(repeats):
        start = time.perf_counter_ns()
        share(units, price=PRICE)
        times.append(time.perf_counter_ns() - start)
    return statistics.median(times) / 1e6


def bounds(units: list[list[Choice]]) -> int:
    """How many bounds were worked out."""
    profile = cProfile.Profile()
    profile.runcall(share, units, price=PRICE)
    return sum(entry.callcount for entry in profile.getstats() if getattr(entry.code, "co_name", "") == "_step")


def print_family(title: str, repeats: int, kinds: int | None = None) -> None:
    print(f"\n{title:<16}{'median':>12}{'of 10 units':>14}{'slowest':>12}{'bounds':>9}{'at most':>9}")
    first = 0.0
    for count in (10, 50, 100, 200, 500):
        buildings = [building(seed, count, kinds) for seed in range(BUILDINGS)]
        times = [median_ms(units, repeats) for units in buildings]
        nodes = [bounds(units) for units in buildings]
        typical = statistics.median(times)
        first = first or typical
        print(
            f"{count:>4} units      {typical:>9.2f} ms{typical / first:>13.1f}x{max(times):>9.2f} ms"
            f"{statistics.median(nodes):>9.0f}{max(nodes):>9}"
        )


if __name__ == "__main__":
    given = int(sys.argv[1]) if len(sys.argv) > 1 else 9
    print(f"Python {sys.version.split()[0]}, {BUILDINGS} buildings a line, {given} repeats each")
    print_family("all different", given)
    print_family("forty kinds", given, kinds=40)
