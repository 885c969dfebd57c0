"""Rechecks a portfolio of openings under a new rule set, on Dask's distributed scheduler: which verdicts change, why.

python examples/make_portfolio.py 10000 portfolio.ndjson
python examples/portfolio_recheck.py portfolio.ndjson answers --workers 4

Needs jambset and the package distributed. PORTFOLIO has an opening as it was set on each line, as the body of POST
/v1/openings/recheck. It is cut into blocks as they are needed; each is a task, judged under the rules --before and
--after (folders; before, the package's own; after, an INVENTED set with one value changed, for demonstration) and
written to a part of OUT under the number of its first line. The parts in the order of their names have a line for each
opening: both verdicts, what changed them, and a digest of the two whole answers; summary.json counts them. All of it
is the same bytes for any number of workers, also when one is killed (what it had is judged again), and --one-process.
A refused line, such as one that pins another rule_set, is reported with its number and stops nothing.

With --scheduler the workers are those of an existing cluster. Each must see PORTFOLIO, OUT and the folders under
the same paths; one that has other rules or another jambset ends the run. Several runs may share a cluster.
"""

import heapq
import os
import shutil
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from hashlib import sha256
from itertools import islice
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import IO, Any, NamedTuple

import click
import msgspec
from distributed import Client, Worker, WorkerPlugin, as_completed, get_worker

from jambset.errors import RequestError
from jambset.http.advise import rechecker
from jambset.http.lines import Lines
from jambset.main import calm_collector
from jambset.model import version
from jambset.rules.load import DATA, load_catalogue

Found = dict[str, Any]
"""What is written of a line."""

LONGEST = 262_144
"""Bytes that a line may have."""
AHEAD = 3
"""Tasks for each thread of a worker: one runs, the next are there when it is done, and no more are known."""
TOLD = 20
"""Refused lines that the summary tells; the parts have all."""
NO_RULE = "another row than a rule"


# --- one opening


def asked(answer: Any) -> set[tuple[str, ...]]:
    """What each rule asks in an answer, and how firmly."""
    return {(check["rule"], check["force"], str(check.get("limit"))) for check in answer["checks"]}


def changed_by(before: Any, after: Any) -> list[str]:
    """The rules that one answer misses and the other doesn't; without any, those that ask something else."""
    missed = set(before["do_nothing"]["leaves"]) ^ set(after["do_nothing"]["leaves"])
    return sorted(missed or {rule for rule, *_ in asked(before) ^ asked(after)} or {NO_RULE})


class Judge:
    """Two rule sets, loaded once in a process."""

    def __init__(self, folders: tuple[Path, Path]) -> None:
        catalogues = [load_catalogue(folder) for folder in folders]
        rule_sets = [{"version": one.version, "digest": one.digest} for one in catalogues]
        self.basis = {"jambset": version.VERSION, "rule_sets": rule_sets}
        self._gives = [rechecker(one) for one in catalogues]
        calm_collector()

    def judged(self, body: bytes | None) -> Found:
        """Both verdicts and what changed them, or why the line is refused. body: None for one that was too long."""
        if body is None:
            return {"refused": f"A line may have {LONGEST} bytes; this one has more."}
        try:
            answers = [give(body) for give in self._gives]
        except RequestError as refusal:
            return {"refused": " ".join([str(refusal), *(f"{e.pointer}: {e.detail}" for e in refusal.errors)])}
        except Exception as fault:  # noqa: BLE001 (a fault of ours in one line ends no other, as in a stream)
            return {"refused": f"The engine failed: {fault!r}"}
        before, after = map(msgspec.json.decode, answers)
        found = {name: after[name] for name in ("mark", "external_id") if name in after}
        found |= {"before": before["verdict"], "after": after["verdict"]}
        if before["verdict"] != after["verdict"]:
            found |= {"rules": changed_by(before, after), "summary": after["summary"]}
        return {**found, "answers": sha256(b"\n".join(answers)).hexdigest()}


# --- one block


class Block(NamedTuple):
    """A stretch of the portfolio that begins and ends with a line, and the number of its first line."""

    start: int
    length: int
    line: int


def blocks(portfolio: Path, size: int) -> Iterator[Block]:
    """The portfolio in stretches of about a size. It is read as they are asked for, to find where lines end."""
    start, length, line = 0, 0, 1
    with portfolio.open("rb") as file:
        while part := file.read(size):
            if end := part.rfind(b"\n") + 1:
                yield Block(start, length + end, line)
                start, length, line = start + length + end, -end, line + part.count(b"\n")
            length += len(part)
    if length:
        yield Block(start, length, line)


def lines_of(portfolio: Path, block: Block) -> Iterator[bytes | None]:
    """The lines of a block; None for one that is too long, of which no more is held."""
    lines = Lines(LONGEST)
    with portfolio.open("rb") as file:
        file.seek(block.start)
        left = block.length
        while part := file.read(min(left, LONGEST)):
            left -= len(part)
            yield from lines.feed(part)
    yield lines.finish()


@dataclass
class Tally:
    """What was found in some blocks."""

    verdicts: Counter[tuple[str, str]] = field(default_factory=Counter)
    """Openings by verdict before and after."""
    rules: Counter[str] = field(default_factory=Counter)
    """Changed openings by rule."""
    processes: Counter[int] = field(default_factory=Counter)
    """Lines by the process that judged them. Nothing else differs from run to run."""
    refused: int = 0
    first_refused: list[tuple[int, str]] = field(default_factory=list)

    def count(self, line: int, found: Found) -> None:
        """Takes in one line."""
        self.processes[os.getpid()] += 1
        if "refused" in found:
            self.take(Tally(refused=1, first_refused=[(line, found["refused"])]))
        else:
            self.verdicts[found["before"], found["after"]] += 1
            self.rules.update(found.get("rules", ()))

    def take(self, other: "Tally") -> None:
        """Takes in another tally."""
        self.verdicts.update(other.verdicts)
        self.rules.update(other.rules)
        self.processes.update(other.processes)
        self.refused += other.refused
        self.first_refused = heapq.nsmallest(TOLD, [*self.first_refused, *other.first_refused])

    def summary(self, basis: dict[str, Any]) -> dict[str, Any]:
        """All that doesn't differ from run to run. basis: what it was judged by."""
        verdicts = sorted(self.verdicts.items())
        return {
            **basis,
            "openings": self.verdicts.total() + self.refused,
            "refused": self.refused,
            "changed": sum(count for (before, after), count in verdicts if before != after),
            "verdicts": {f"{before} > {after}": count for (before, after), count in verdicts},
            "changed_by": dict(sorted(self.rules.items())),
            "first_refused": [{"line": line, "why": why} for line, why in self.first_refused],
        }


@contextmanager
def written(part: Path) -> Iterator[IO[bytes]]:
    """A file that is there whole or not at all, whoever is killed while it is written."""
    with NamedTemporaryFile(dir=part.parent, suffix=".unfinished", delete=False) as file:
        yield file
    Path(file.name).replace(part)


def judge_block(judge: Judge, portfolio: Path, out: Path, block: Block) -> Tally:
    """Judges a block and writes its part; done twice, the same part."""
    tally = Tally()
    with written(out / f"{block.line:012}.ndjson") as part:
        for line, body in enumerate(lines_of(portfolio, block), start=block.line):
            if body is None or body.strip():
                found = judge.judged(body)
                tally.count(line, found)
                part.write(msgspec.json.encode({"line": line, **found}) + b"\n")
    return tally


# --- all blocks


class Judging(WorkerPlugin):
    """Gives each worker its judge when it starts, also one that takes the place of another."""

    idempotent = True

    def __init__(self, folders: tuple[Path, Path], basis: dict[str, Any]) -> None:
        self.folders, self.basis, self.name = folders, basis, f"judging by {basis}"

    def setup(self, worker: Worker) -> None:
        """Called on the worker. Raises ValueError where it would judge otherwise than the process that asks."""
        self.judge = Judge(self.folders)
        if self.judge.basis != self.basis:
            raise ValueError(f"{worker.address} would judge by {self.judge.basis}, not by {self.basis}.")


def task(judging: str, portfolio: Path, out: Path, block: Block) -> Tally:
    """What a worker does."""
    return judge_block(get_worker().plugins[judging].judge, portfolio, out, block)


def spread(client: Client, plugin: Judging, portfolio: Path, out: Path, queue: Iterator[Block]) -> Iterator[Tally]:
    """What each block gives, in the order in which they are done; a bounded number of tasks is known at once."""
    client.wait_for_workers(1)
    client.register_plugin(plugin)
    begin(client.run(os.getpid).values())
    submit = partial(client.submit, task, plugin.name, portfolio, out, pure=False)
    most = AHEAD * sum(client.nthreads().values())
    running = as_completed([submit(block) for block in islice(queue, most)])
    for done in running:
        for block in islice(queue, 1):
            running.add(submit(block))
        yield done.result()


def begin(processes: Iterable[int]) -> None:
    """Tells who works, for whoever wants to watch a worker, or to kill it."""
    print("processes:", *sorted(processes), file=sys.stderr, flush=True)


def invented_rules(folder: Path) -> Path:
    """The package's rules with one value changed, for demonstration: nobody published it."""
    shutil.copytree(DATA, folder)
    file = folder / "common" / "rules_clearance.toml"
    before, row, after = file.read_text("utf-8").partition('id = "leaf.hard.accepted"')
    file.write_text(before + row + after.replace("3/8 in", "1/2 in", 2), "utf-8")
    (folder / "rule_set.toml").write_text('version = "2099-01"\n', "utf-8")
    return folder


FOLDER = click.Path(exists=True, file_okay=False, resolve_path=True, path_type=Path)


@click.command()
@click.argument("portfolio", type=click.Path(exists=True, dir_okay=False, resolve_path=True, path_type=Path))
@click.argument("out", type=click.Path(resolve_path=True, path_type=Path))
@click.option("--before", type=FOLDER, default=DATA, help="Folder of the old rules; the package's own.")
@click.option("--after", type=FOLDER, help="Folder of the new rules; an invented set, written into OUT.")
@click.option("--workers", type=click.IntRange(1), default=os.cpu_count(), help="Processes of a cluster of our own.")
@click.option("--scheduler", help="Address of a cluster that is there, such as tcp://10.0.0.7:8786.")
@click.option("--one-process", is_flag=True, help="No cluster, a plain loop.")
@click.option("--block-bytes", type=click.IntRange(1), default=262_144, help="How much a task has to read.")
def main(portfolio: Path, out: Path, before: Path, after: Path | None, block_bytes: int, **cluster: Any) -> None:
    """Rechecks PORTFOLIO under two rule sets into OUT, a folder that isn't there yet."""
    out.mkdir(parents=True)
    folders = before, after or invented_rules(out / "invented_rules")
    judge, queue, total = Judge(folders), blocks(portfolio, block_bytes), Tally()
    if cluster["one_process"]:
        begin([os.getpid()])
        for block in queue:
            total.take(judge_block(judge, portfolio, out, block))
    else:
        ours = {"n_workers": cluster["workers"], "threads_per_worker": 1, "dashboard_address": "127.0.0.1:0"}
        with Client(cluster["scheduler"], **({} if cluster["scheduler"] else ours)) as client:
            for tally in spread(client, Judging(folders, judge.basis), portfolio, out, queue):
                total.take(tally)
    for left in out.glob("*.unfinished"):
        left.unlink()
    print("lines by process:", dict(sorted(total.processes.items())), file=sys.stderr)
    text = msgspec.json.format(msgspec.json.encode(total.summary(judge.basis)))
    (out / "summary.json").write_bytes(text + b"\n")
    print(text.decode())


if __name__ == "__main__":
    main()
