"""How many instructions the engine takes for one opening, by callgrind: the same on every run within 2 %.

    python tests/bench/bench_instructions.py

The openings are those of bench_server.py, each answered once before counting begins. Takes a minute.
"""

from __future__ import annotations

import gc
import os
import re
import subprocess
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.bench_server import OPENINGS, openings

from jambset.engine.assess import assess
from jambset.rules.load import load_catalogue

ROUNDS = 5


def answer(rounds: int) -> None:
    """Answer every opening once, and then so many times more."""
    catalogue, asked = load_catalogue(), openings()
    gc.disable()
    for opening in asked * (1 + rounds):
        assess(opening, catalogue)


def counted(rounds: int) -> int:
    """Instructions of a process that does so."""
    valgrind = ["valgrind", "--tool=callgrind", f"--callgrind-out-file={os.devnull}"]
    command = [*valgrind, sys.executable, __file__, str(rounds)]
    ran = subprocess.run(command, env={**os.environ, "PYTHONHASHSEED": "0"}, capture_output=True, text=True, check=True)
    found = re.search(r"Collected : (\d+)", ran.stderr)
    assert found is not None, ran.stderr
    return int(found[1])


if __name__ == "__main__":
    if sys.argv[1:]:
        answer(int(sys.argv[1]))
    else:
        print(f"{(counted(ROUNDS) - counted(0)) / ROUNDS / OPENINGS / 1_000:,.0f} thousand instructions an opening")
