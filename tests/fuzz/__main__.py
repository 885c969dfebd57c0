"""Looks for inputs that are answered wrongly: changes those it has, and goes on with each that reaches something new.

    python -m tests.fuzz TARGET SECONDS [FOLDER]

TARGET is length, body or route. FOLDER takes what is found; without one it is dist/fuzz/TARGET. The search begins with
the corpus kept under tests/fuzz/corpus and what is in the folder. It ends at the first input that fails, which then
stands beside the folder as FOLDER.failed-… for python -m tests.fuzz.replay. Needs atheris, which there is for Linux.
"""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import atheris

with atheris.instrument_imports(include=["jambset"]):
    from tests.fuzz.targets import KEPT, TARGETS, Target

LONGEST = 12_288
"""Of an input [bytes]."""
NO_CLOCK = {"timeout": 36_000, "report_slow_units": 36_000}
"""A machine may stand still; work is counted instead."""


def fuzz(target: Target, seconds: int, folder: Path) -> None:
    """Searches for so long, then ends the process: with 0, or with another code where something failed."""
    inputs = _inputs(target, folder)

    def change(data: bytes, most: int, seed: int) -> bytes:
        chance = Random(seed)
        return target.mutant(data, chance.choice(inputs), most, chance, lambda raw: bytes(atheris.Mutate(raw, most)))

    def judge(data: bytes) -> None:
        target.probe(data)

    options = {"max_total_time": seconds, "max_len": LONGEST, "print_final_stats": 1, "rss_limit_mb": 0, **NO_CLOCK}
    arguments = [f"-{name}={value}" for name, value in options.items()]
    folders = [str(folder), str(KEPT / target.name)]
    atheris.Setup(
        [sys.argv[0], *arguments, f"-artifact_prefix={folder}.failed-", *folders], judge, custom_mutator=change
    )
    atheris.Fuzz()


def _inputs(target: Target, folder: Path) -> list[bytes]:
    """All that is there to begin with; the target's seeds are put into an empty folder."""
    folder.mkdir(parents=True, exist_ok=True)
    if not any(folder.iterdir()):
        for number, seed in enumerate(target.seeds()):
            (folder / f"seed-{number:03}").write_bytes(seed)
    return [file.read_bytes() for file in [*folder.iterdir(), *target.kept()]]


if __name__ == "__main__":
    name, seconds, *rest = sys.argv[1:]
    fuzz(TARGETS[name], int(seconds), Path(rest[0] if rest else f"dist/fuzz/{name}"))
