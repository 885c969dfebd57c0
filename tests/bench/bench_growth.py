"""How the recheck of a portfolio grows with processes and with openings, and what the death of a worker costs.

    python tests/bench/bench_growth.py [openings]       measures up to so many (a million), and writes DEVELOPERS.md
    python tests/bench/bench_growth.py whole [openings] all of them by workers, one killed, and by a plain loop

examples/portfolio_recheck.py as it stands, over portfolios of examples/make_portfolio.py: a plain loop and 1 to 4
workers over 10,000 openings; 2 workers and a loop over 100,000; 2 workers, one killed in the middle, over as many and
over all. Time runs from when the processes are ready; processor time is that of all of them from start to end; memory
is the most that the client, or the largest worker, ever had resident. The answers of every run are held to those of
the longest loop, as far as both go, and a difference ends the script. Ratios and processor time are what to compare.
"""

from __future__ import annotations

import math
import os
import resource
import signal
import subprocess
import sys
import tempfile
import textwrap
import time
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from itertools import chain, islice
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.bench.report import written

EXAMPLES = Path(__file__).parents[2] / "examples"
LOOP = 0
"""Workers of a plain loop."""
PROCESSES = (LOOP, 1, 2, 3, 4)
FEW, MANY = 10_000, 100_000
"""Openings over which processes are compared; openings that one process answers too, to hold the others to."""
WORKERS = 2
BLOCK = 262_144
LOOK_SECONDS = 0.25
DWELLINGS, DOORS = 1_500_000, 10
"""Assumed, no source: what a large country completes in a year, and the interior openings of each."""
NIGHT_HOURS, DAYS, DAY_HOURS = 8, 250, 10


class Run(NamedTuple):
    """What one run came to. seconds: from ready to done; memory [MB]."""

    openings: int
    workers: int
    killed: bool
    seconds: float
    processor: float
    client: float
    worker: float

    @property
    def rate(self) -> float:
        """Openings a second."""
        return self.openings / self.seconds


# --- one run


def portfolio(folder: Path, openings: int) -> Path:
    """A portfolio of so many openings."""
    file = folder / f"{openings}.ndjson"
    if not file.exists():
        subprocess.run([sys.executable, str(EXAMPLES / "make_portfolio.py"), str(openings), str(file)], check=True)
    return file


def peaks(process: int, known: dict[int, float]) -> None:
    """Notes the most that a process and each of its children ever had resident [MB], for those that are there."""
    with suppress(OSError):
        own = Path(f"/proc/{process}")
        status = (own / "status").read_text("ascii")
        if "VmHWM:" in status:
            known[process] = int(status.partition("VmHWM:")[2].split()[0]) / 1e3
        for children in own.glob("task/*/children"):
            for child in children.read_text("ascii").split():
                peaks(int(child), known)


def measured(folder: Path, openings: int, workers: int, *, killed: bool = False) -> tuple[Run, Path]:
    """One run and the folder of its answers. killed: a worker, when half of the parts are there."""
    file, out = portfolio(folder, openings), Path(tempfile.mkdtemp(dir=folder)) / "out"
    how = ["--one-process"] if workers == LOOP else ["--workers", str(workers)]
    command = [sys.executable, str(EXAMPLES / "portfolio_recheck.py"), str(file), str(out), *how]
    half, known = file.stat().st_size // BLOCK // 2, dict[int, float]()
    before = _processor()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True) as run:
        assert run.stderr is not None
        victims = [int(process) for process in run.stderr.readline().split()[1:]] if killed else []
        start = time.perf_counter()
        while run.poll() is None:
            peaks(run.pid, known)
            if victims and len(list(out.glob("*.ndjson"))) >= half:
                os.kill(victims.pop(), signal.SIGKILL)
            time.sleep(LOOK_SECONDS)
        seconds = time.perf_counter() - start
    if run.returncode or victims:
        raise RuntimeError("the run failed, or was over before a worker could be killed")
    ours = known.pop(run.pid)
    return Run(openings, workers, killed, seconds, _processor() - before, ours, max(known.values(), default=ours)), out


def _processor() -> float:
    """Processor time of all children so far, and of theirs [s]."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def answers(out: Path, openings: int) -> str:
    """The digest of the first answers of a run."""
    lines = chain.from_iterable(_lines(part) for part in sorted(out.glob("*.ndjson")))
    digest = sha256()
    for line in islice(lines, openings):
        digest.update(line)
    return digest.hexdigest()


def _lines(part: Path) -> Iterator[bytes]:
    with part.open("rb") as lines:
        yield from lines


def equal(one: Path, other: Path, openings: int) -> None:
    """Raises ValueError where two runs differ in the answers to the openings that both have."""
    found = [answers(out, openings) for out in (one, other)]
    if found[0] != found[1]:
        raise ValueError(f"{one} and {other} differ within the first {openings} answers")
    print(f"  first {openings:,} answers equal, sha256 {found[0]}", flush=True)


# --- what is told


def row(run: Run, loop: Run) -> str:
    """One line of the table."""
    how = "plain loop" if run.workers == LOOP else f"{run.workers}{', one killed' * run.killed}"
    work = 1e3 * run.processor / run.openings
    memory = f"{run.client:.0f} | {'' if run.workers == LOOP else f'{run.worker:.0f}'}"
    return (
        f"| {run.openings:,} | {how} | {run.seconds:,.0f} | {run.rate:,.0f} | {run.rate / loop.rate:.2f} "
        f"| {work:.2f} | {memory} |"
    )


def paper(run: Run, size: float) -> str:
    """What a country's yearly output needs, from what a run took. size: bytes of an opening."""
    yearly, each = DWELLINGS * DOORS, run.processor / run.openings
    hours = yearly * each / 3600
    return textwrap.fill(
        f"On paper. Assumed, no source: a country completes {DWELLINGS:,} dwellings a year with {DOORS} interior "
        f"openings each. Measured: {run.openings:,} openings, each under two rule sets, took "
        f"{run.processor / 3600:.2f} hours of one core, client, scheduler and the killed worker included. All else is "
        f"arithmetic. A year is {yearly:,} openings and {hours:,.1f} core-hours: to recheck all of them in a night of "
        f"{NIGHT_HOURS} h takes {math.ceil(hours / NIGHT_HOURS)} cores, the openings of ten years "
        f"{math.ceil(10 * hours / NIGHT_HOURS)}, and files of {yearly * size / 1e9:.0f} GB or ten times that. Advising "
        f"on each once, as it is set, is {yearly / (DAYS * DAY_HOURS * 3600):.1f} calls a second over {DAYS} days of "
        f"{DAY_HOURS} h, which one process serves many times over. Not measured: cores of other machines. They share "
        f"nothing but the folder, from which each reads {size / each / 1e6:.1f} MB/s.",
        120,
    )


def runs(folder: Path, most: int) -> Iterator[tuple[Run, Path]]:
    """Every run of the table and the folder of its answers."""
    few = [(min(FEW, most), workers, False) for workers in PROCESSES]
    many = [(min(MANY, most), WORKERS, False), (min(MANY, most), LOOP, False), (min(MANY, most), WORKERS, True)]
    for openings, workers, killed in (*few, *many, (most, WORKERS, True)):
        run, out = measured(folder, openings, workers, killed=killed)
        print(run, flush=True)
        yield run, out


def main(most: int) -> None:
    """Runs all of it."""
    with tempfile.TemporaryDirectory() as name:
        found = list(runs(Path(name), most))
        longest, proof = max((pair for pair in found if pair[0].workers == LOOP), key=lambda pair: pair[0].openings)
        for run, out in found:
            equal(proof, out, min(longest.openings, run.openings))
        size = portfolio(Path(name), most).stat().st_size / most
    loop, largest = found[0][0], found[-1][0]
    head = (
        "| openings | workers | s | openings/s | of the first | ms of processor | client MB | worker MB |",
        "|---:|---|---:|---:|---:|---:|---:|---:|",
    )
    told = "\n".join((*head, *(row(run, loop) for run, _ in found), "", paper(largest, size)))
    print(told)
    written("bench_growth.py", told)


def whole(openings: int) -> None:
    """The proof at full size: the answers of workers, one of them killed, are those of a loop."""
    with tempfile.TemporaryDirectory() as name:
        spread, out = measured(Path(name), openings, 3, killed=True)
        loop, first = measured(Path(name), openings, LOOP)
        print(row(loop, loop), row(spread, loop), sep="\n")
        equal(first, out, openings)


if __name__ == "__main__":
    if sys.argv[1:2] == ["whole"]:
        whole(int(sys.argv[2]) if len(sys.argv) > 2 else 1_000_000)
    else:
        main(int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000)
