"""Figures of what was found, and the survivors that no line of ledger.toml explains."""

from __future__ import annotations

import re
import tomllib
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from math import sqrt
from pathlib import Path
from typing import Any, NamedTuple

LEDGER = Path(__file__).parent / "ledger.toml"
Row = Mapping[str, Any]


class Tally(NamedTuple):
    """Of one module: mutants there are, tried, killed, that never ended, that may live, that nobody explains."""

    module: str
    made: int
    tried: int
    killed: int
    endless: int
    explained: int
    open: int

    @property
    def noticed(self) -> int:
        return self.killed + self.endless


class Ledger:
    """Survivors that may live: single ones by their text, and classes by a pattern over `was -> now`."""

    def __init__(self, path: Path = LEDGER) -> None:
        table = tomllib.loads(path.read_text("utf-8"))
        self.classes = [(entry.get("module", ""), re.compile(entry["change"])) for entry in table.get("class", [])]
        self.single = {(e["module"], e["function"], e["was"], e["now"]) for e in table.get("survivor", [])}
        self.used: set[tuple[str, str, str, str]] = set()

    def explains(self, row: Row) -> bool:
        key = (row["module"], row["function"], row["was"], row["now"])
        if key in self.single:
            self.used.add(key)
            return True
        change = f"{row['was']} -> {row['now']}"
        return any(row["module"].startswith(module) and pattern.search(change) for module, pattern in self.classes)

    def idle(self, whole: Iterable[str]) -> list[str]:
        """Lines that explain nothing that lives, of modules tried whole: killed now, or no change of the code."""
        modules = frozenset(whole)
        return [
            f"{module}.{function} (in the ledger, and nothing like it lives)\n  - {was}\n  + {now}"
            for module, function, was, now in sorted(self.single - self.used)
            if module in modules
        ]


def tallies(rows: Iterable[Row], made: Mapping[str, int], ledger: Ledger) -> list[Tally]:
    of: dict[str, Counter[str]] = defaultdict(Counter)
    for row in rows:
        outcome = row["outcome"]
        if outcome not in {"killed", "timed out"}:
            outcome = "explained" if ledger.explains(row) else "open"
        of[row["module"]][outcome] += 1
    return [
        Tally(module, made[module], sum(c.values()), c["killed"], c["timed out"], c["explained"], c["open"])
        for module in made
        if (c := of[module])
    ]


def estimate(found: list[Tally]) -> tuple[float, float]:
    """Part of all mutants that would be noticed, and its standard error, each module a stratum of its own.

    A module tried whole has no error; of one with all noticed the error is counted as if half a mutant had lived.
    """
    whole = sum(t.made for t in found)
    part = sum(t.made * t.noticed / t.tried for t in found) / whole
    variance = 0.0
    for t in found:
        lived = max(t.tried - t.noticed, 0.5)
        p = min(lived / t.tried, 0.5)
        variance += (t.made / whole) ** 2 * (1 - t.tried / t.made) * p * (1 - p) / max(t.tried - 1, 1)
    return part, sqrt(variance)


def table(found: list[Tally]) -> str:
    lines = [
        "| module | mutants | tried | killed | timed out | lived, explained | lived, open |",
        "|---|" + "---:|" * 6,
    ]
    lines += ["| " + " | ".join([t.module, *(f"{n:,}" for n in t[1:])]) + " |" for t in [*found, _sum(found)]]
    return "\n".join(lines)


def _sum(found: list[Tally]) -> Tally:
    return Tally("all", *(sum(column) for column in zip(*(t[1:] for t in found), strict=True)))


def told(rows: Iterable[Row]) -> str:
    return "\n".join(
        f"{row['module']}.{row['function']} ({row['operator']}, {row['outcome']}, {row['by']})\n"
        f"  - {row['was']}\n  + {row['now']}"
        for row in rows
    )
