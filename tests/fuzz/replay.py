"""Judges inputs that are there already, and says what each is answered: the same answers have the same digest.

    python -m tests.fuzz.replay [TARGET FILE ...]

Without arguments the whole corpus: a line for each input, and one digest for all. So two versions of the service are
compared by comparing what this prints. With a target and files: what is wrong with each, or its answer.
"""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path

from tests.fuzz.targets import TARGETS, Target


def digests() -> list[str]:
    """A line for each input of the corpus: the hash of what came of it, and its name."""
    inputs = [(target, file) for target in TARGETS.values() for file in target.kept()]
    return [f"{_hash(target.check(file.read_bytes()))}  {target.name}/{file.name}" for target, file in inputs]


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:32]


def judge(target: Target, file: Path) -> None:
    """Prints what came of one input; fails as its check does."""
    sys.stdout.buffer.write(target.check(file.read_bytes()) + b"\n")


if __name__ == "__main__":
    if sys.argv[1:]:
        for name in sys.argv[2:]:
            judge(TARGETS[sys.argv[1]], Path(name))
    else:
        lines = digests()
        print(*lines, _hash("\n".join(lines).encode()), sep="\n")
