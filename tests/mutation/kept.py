"""What was found, a line of JSON each in .mutants/: the last line on a mutant counts."""

from __future__ import annotations

import hashlib
import json
from typing import Any

from tests.mutation.mutants import ROOT
from tests.mutation.trial import Verdict

KEPT = ROOT / ".mutants"
COVERAGE, TIMES, FOUND = KEPT / "coverage", KEPT / "times.json", KEPT / "found.jsonl"
SEED = "2026"
KEY = ("module", "part", "number")


def drawn(name: str) -> float:
    """A number in [0, 1) for each mutant, the same on every run: a sample of a fifth is those below 0.2."""
    digest = hashlib.sha256(f"{SEED} {name}".encode()).digest()
    return int.from_bytes(digest[:8], "big") / 2**64


def keep(*, verdict: Verdict, **row: str) -> None:
    with FOUND.open("a", encoding="utf-8") as kept:
        kept.write(json.dumps({**row, **verdict._asdict()}, ensure_ascii=False) + "\n")


def rows() -> list[dict[str, Any]]:
    lines = FOUND.read_text("utf-8").splitlines() if FOUND.exists() else []
    return list({tuple(str(row[name]) for name in KEY): row for row in map(json.loads, lines)}.values())


def found() -> dict[tuple[str, str, str], str]:
    """Outcomes by module, part and number."""
    return {(row["module"], row["part"], str(row["number"])): row["outcome"] for row in rows()}
