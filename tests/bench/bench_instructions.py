"""How many instructions the engine takes for one opening, counted by valgrind's callgrind: alike on every run.

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

import msgspec

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.bench_server import OPENINGS, bodies

from jambset.engine.assess import assess
from jambset.model.request import Opening
from jambset.quantity.parse import dec_hook
from jambset.rules.load import load_catalogue

ROUNDS = 5


def answer(rounds: int) -> None:
    """Answer every opening once, and then so many times more."""
    read, catalogue = msgspec.json.Decoder(Opening, strict=True, dec_hook=dec_hook).decode, load_catalogue()
    openings = [read(body) for body in bodies()]
    gc.disable()
    for opening in openings * (1 + rounds):
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
