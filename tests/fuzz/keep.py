"""Takes what a search has found into the corpus, and leaves as little there as reaches as much.

    python -m tests.fuzz.keep TARGET FOLDER ...

What an input reaches is every branch it takes in the service, and what its answer says. From the shortest on, each
input stays that reaches something which none before it reached. A few short ones all stay. A file whose name is no
hash is there for something that failed once, and stays too.
"""

from __future__ import annotations

import hashlib
import itertools
import re
import sys
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import coverage
from tests.fuzz.service import SERVICE
from tests.fuzz.targets import KEPT, TARGETS, Target

Reached = set[tuple[object, ...]]
HASHED = re.compile(r"[0-9a-f]{12}")
"""Names of inputs that are there for what they reach alone."""
SAID = (
    re.compile(rb"""\A(\d{3}) """),
    re.compile(rb"""["']?(code|verdict|kind|method|phase|where)["']?[:=] ?["'](\w+)["']"""),
    re.compile(rb"""pointer["']?[:=] ?["'][^"']*?([^"'/]*)["'], ?["']?code["']?[:=] ?["']((?!unknown_field)\w+)"""),
    re.compile(rb"""["']rule["']:["']([^"']*)["'],["']force["']:["']\w+["'],["']status["']:["'](\w+)["']"""),
)
"""What an answer says that few answers say: its status, codes, which member had which, which rule came out how."""
FEW, SHORT = 100, 64
"""So many inputs of no more than so many bytes all stay."""


def reached(target: Target, data: bytes) -> Reached:
    """The branches that an input takes and what its answer says; none where it fails: that is to be mended."""
    measured = coverage.Coverage(branch=True, data_file=None, config_file=False, include=[f"{SERVICE}/*"])
    with measured.collect():
        try:
            answer = target.probe(data)
        except AssertionError:
            return set()
    found = measured.get_data()
    branches = {(file, *arc) for file in found.measured_files() for arc in found.arcs(file) or ()}
    return branches.union(*(pattern.findall(answer) for pattern in SAID))


def fewest(target: Target, inputs: Iterable[bytes], there: Reached) -> list[bytes]:
    """The inputs that between them reach all that any reaches and that isn't there already."""
    found = {data: reached(target, data) for data in sorted(inputs, key=lambda data: (len(data), data))}
    kept, seen = [], set(there)
    for data, reach in found.items():
        if reach - seen:
            kept.append(data)
            seen |= reach
    return _needed(kept, found, there)


def _needed(kept: list[bytes], found: dict[bytes, Reached], there: Reached) -> list[bytes]:
    """Those of them without which something isn't reached, the shortest tried first."""
    times = Counter(itertools.chain(there, *(found[data] for data in kept)))
    needed = []
    for data in kept:
        if all(times[one] > 1 for one in found[data]):
            times.subtract(found[data])
        else:
            needed.append(data)
    return needed


def keep(target: Target, folders: Iterable[Path]) -> None:
    """Writes the corpus anew from itself and the folders."""
    place = KEPT / target.name
    place.mkdir(parents=True, exist_ok=True)
    named = [file for file in place.iterdir() if not HASHED.fullmatch(file.name)]
    hashed = [file for file in place.iterdir() if HASHED.fullmatch(file.name)]
    found = {file.read_bytes() for folder in folders for file in folder.iterdir()}
    inputs = found.union(file.read_bytes() for file in hashed)
    target.probe(next(target.seeds()))  # what is made once is made before anything is measured
    there: Reached = set().union(*(reached(target, file.read_bytes()) for file in named))
    few = len(inputs) <= FEW and max(map(len, inputs), default=0) <= SHORT
    chosen = [*inputs] if few else fewest(target, inputs, there)
    for file in hashed:
        file.unlink()
    for data in chosen:
        (place / hashlib.sha256(data).hexdigest()[:12]).write_bytes(data)
    print(f"{target.name}: {len(inputs)} inputs, {len(chosen)} kept beside {len(named)} with a name")


if __name__ == "__main__":
    keep(TARGETS[sys.argv[1]], map(Path, sys.argv[2:]))
