"""How long a house takes, and how that grows.

    python tests/bench/bench_house.py [repeats]

Houses of 10 to 500 openings from tests/houses.py: four head lines, three alternatives on a quarter of the
sides, a fifth of the legs out of level. Engine time only, in this process, as CPU time: least of the repeats.
Each step is timed by itself. "of n log n" divides a step's time by n log2 n and by the same of the smallest
house, so that a column that doesn't rise shows growth no worse than that. The shared step is the one that ties
openings to each other: heights of the lines, then `share`. "all changing" has three alternatives on every side.
"""

from __future__ import annotations

import gc
import os
import sys
import time
from math import log2
from pathlib import Path
from typing import Any

import msgspec

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.houses import house, merged

from jambset.engine.doors import Door, doors_of
from jambset.engine.head_lines import Settled, choices_of, choose_all, groups_of
from jambset.engine.house import advise_doors, advise_house, answer_of
from jambset.main import calm_collector
from jambset.model.advice import Minutes
from jambset.model.request import House, Opening
from jambset.quantity.parse import dec_hook
from jambset.rules.load import load_catalogue

COUNTS = (10, 20, 50, 100, 200, 500)
PRICE = 5
STEPS = ("price", "lines", "share", "advise", "lists")
CATALOGUE = load_catalogue()
READ = msgspec.json.Decoder(Opening, strict=True, dec_hook=dec_hook)


def read(body: dict[str, Any]) -> tuple[House, list[Opening]]:
    """A house as the service reads it."""
    openings = [READ.decode(msgspec.json.encode(opening)) for opening in merged(body)]
    return msgspec.convert(body, House, dec_hook=dec_hook), openings


def times(body: dict[str, Any]) -> dict[str, float]:
    """CPU time of each step [ms]."""
    asked, openings = read(body)
    marks = [time.process_time()]

    def mark() -> None:
        marks.append(time.process_time())

    found = doors_of(openings, CATALOGUE)
    mark()
    doors = [door for door in found if isinstance(door, Door)]
    groups = tuple(groups_of(asked, doors, PRICE * Minutes.PARTS))
    mark()
    shared = choose_all(groups, PRICE)
    given = choices_of(groups, shared.places)
    mark()
    settled = Settled(tuple(doors), groups, given, PRICE, shared.least)
    advices = advise_doors(settled, CATALOGUE)
    mark()
    answer_of(asked, found, settled, advices, CATALOGUE)
    mark()
    return {name: (end - start) * 1e3 for name, start, end in zip(STEPS, marks, marks[1:], strict=False)}


def whole(body: dict[str, Any]) -> float:
    """CPU time of a house [ms]."""
    asked, openings = read(body)
    start = time.process_time()
    advise_house(asked, openings, CATALOGUE)
    return (time.process_time() - start) * 1e3


def best(body: dict[str, Any], repeats: int) -> dict[str, float]:
    """Least time of each step and of the whole over the repeats [ms]."""
    runs = [times(body) for _ in range(repeats)]
    return {name: min(run[name] for run in runs) for name in STEPS} | {"all": min(whole(body) for _ in range(repeats))}


def print_growth(title: str, repeats: int, **more: Any) -> None:
    """A table of one kind of house, a line a size."""
    print(f"\n{title}")
    names = (*STEPS, "all")
    print(f"{'openings':>8}" + "".join(f"{name + ' [ms]':>13}{'of n log n':>11}" for name in names))
    first: dict[str, float] = {}
    for count in COUNTS:
        found = best(house(count, **more), repeats)
        unit = count * log2(count)
        first = first or {name: value / unit for name, value in found.items()}
        cells = "".join(f"{found[name]:>13.1f}{found[name] / unit / first[name]:>11.2f}" for name in names)
        print(f"{count:>8}{cells}")


if __name__ == "__main__":
    turns = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    print(f"Python {sys.version.split()[0]}, msgspec {msgspec.__version__}, {os.cpu_count()} CPUs, {turns} repeats")
    for warm in range(3):
        whole(house(50, seed=warm))
    calm_collector()
    gc.collect()
    print_growth("four head lines, three alternatives on a quarter of the sides", turns)
    print_growth("the same with no head line", turns, lines=0)
    print_growth("all changing: three alternatives on every side", max(1, turns // 3), share=1.0)
