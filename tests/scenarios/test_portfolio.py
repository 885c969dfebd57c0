"""A portfolio rechecked under other rules: the same bytes by one process and by workers, also when one is killed."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import msgspec
import pytest
from tests.openings import catalogue

from jambset.http.advise import rechecker

ROOT = Path(__file__).parents[2]
MAKE, RECHECK = ROOT / "examples" / "make_portfolio.py", ROOT / "examples" / "portfolio_recheck.py"
PATIENT = {f"DASK_DISTRIBUTED__COMM__TIMEOUTS__{name}": "10 minutes" for name in ("CONNECT", "TCP")}
"""So that a machine that is busy with something else fails nothing."""
COUNT = 200
BLOCK = 4_096
BAD = {
    5: b'{"mark": "broken',
    6: b"",
    7: b'{"mark": "misspelt", "jurisdicton": "US"}',
    150: b'{"mark": "' + b"long" * 100_000 + b'"}',
}
"""Lines put in by their numbers; the empty one says nothing and is passed over."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("portfolio")


@pytest.fixture(scope="module")
def lines(folder: Path, environment: dict[str, str]) -> list[bytes]:
    """A portfolio with lines that can't be read, none of them ended by more than the next."""
    file = folder / "made.ndjson"
    subprocess.run([sys.executable, "-W", "error", str(MAKE), str(COUNT), str(file)], env=environment, check=True)
    made = file.read_bytes().splitlines()
    for number, line in BAD.items():
        made.insert(number - 1, line)
    (folder / "portfolio.ndjson").write_bytes(b"\n".join(made))
    return made


def _run(script: Path, folder: Path, name: str, environment: dict[str, str], *options: str) -> dict[str, bytes]:
    """All that a run writes, by name."""
    out = folder / name
    command = [sys.executable, "-W", "error", str(script), str(folder / "portfolio.ndjson"), str(out)]
    options = ("--block-bytes", str(BLOCK), *options)
    subprocess.run([*command, *options], env=environment | PATIENT, stdout=subprocess.DEVNULL, check=True)
    return {file.name: file.read_bytes() for file in out.iterdir() if file.is_file()}


@pytest.fixture(scope="module")
def alone(folder: Path, lines: list[bytes], environment: dict[str, str]) -> dict[str, bytes]:
    return _run(RECHECK, folder, "alone", environment, "--one-process")


@pytest.fixture(scope="module")
def records(alone: dict[str, bytes]) -> list[Any]:
    parts = [alone[name] for name in sorted(alone) if name.endswith(".ndjson")]
    return [msgspec.json.decode(line) for part in parts for line in part.splitlines()]


@pytest.fixture(scope="module")
def summary(alone: dict[str, bytes]) -> Any:
    return msgspec.json.decode(alone["summary.json"])


def test_two_workers_write_what_one_process_writes(
    folder: Path, alone: dict[str, bytes], environment: dict[str, str]
) -> None:
    assert len(alone) > 20
    assert _run(RECHECK, folder, "spread", environment, "--workers", "2") == alone


KILLED = """
import os, signal
from pathlib import Path
from jambset.http.lines import Lines

feed, killed = Lines.feed, Path({marker!r})

def once(self, data):
    for line in feed(self, data):
        if line and {mark!r} in line and not killed.exists():
            killed.touch()
            os.kill(os.getpid(), signal.SIGKILL)
        yield line

Lines.feed = once
"""
"""Put before the example, kills the first process that comes to a certain opening. Workers import that script too."""


def test_a_worker_killed_in_the_middle_of_a_block_changes_nothing(
    folder: Path, alone: dict[str, bytes], environment: dict[str, str]
) -> None:
    script, marker = folder / "killed.py", folder / "killed by"
    kill = KILLED.format(marker=str(marker), mark=b'"13-D3"')
    script.write_text(kill + RECHECK.read_text("utf-8"), "utf-8")
    assert _run(script, folder, "killed", environment, "--workers", "2") == alone
    assert marker.exists()


def test_each_line_is_told_in_its_place(lines: list[bytes], records: list[Any]) -> None:
    told = {record["line"]: record.get("mark") for record in records}
    marks = {number: None if number in BAD else _mark(line) for number, line in enumerate(lines, start=1) if line}
    assert list(told.items()) == list(marks.items())


def _mark(line: bytes) -> Any:
    return msgspec.json.decode(line)["mark"]


def test_a_bad_line_is_told_with_its_number_and_why(records: list[Any], summary: Any) -> None:
    refused = {record["line"]: record["refused"] for record in records if "refused" in record}
    assert list(refused) == [number for number, line in BAD.items() if line]
    assert refused[5].startswith("The body isn't JSON: ")
    assert "#/jurisdicton: There is no field of this name here" in refused[7]
    assert refused[150] == "A line may have 262144 bytes; this one has more."
    assert summary["first_refused"] == [{"line": number, "why": why} for number, why in refused.items()]


def test_a_verdict_is_that_of_the_service(lines: list[bytes], records: list[Any]) -> None:
    judge = rechecker(catalogue())
    for record in (one for one in records if "before" in one):
        assert msgspec.json.decode(judge(lines[record["line"] - 1]))["verdict"] == record["before"]


def test_verdicts_change_by_the_one_row_that_was_edited(records: list[Any], summary: Any) -> None:
    changed = [record for record in records if record.get("before") != record.get("after")]
    assert 0 < len(changed) < COUNT
    assert {tuple(record["rules"]) for record in changed} == {("leaf.hard.accepted",)}
    assert all(record["summary"] for record in changed)
    assert not any("rules" in record for record in records if record not in changed)
    assert summary["changed_by"] == {"leaf.hard.accepted": len(changed)} == {**summary["changed_by"]}


def test_the_summary_counts_what_the_parts_say(records: list[Any], summary: Any) -> None:
    pairs = Counter(f"{one['before']} > {one['after']}" for one in records if "before" in one)
    assert summary["verdicts"] == pairs
    assert {name.split(" > ")[0] for name in pairs} == {"fine", "live_with", "hold", "work", "conflict"}
    assert summary["openings"] == len(records) == COUNT + len(BAD) - 1
    assert (summary["refused"], summary["changed"]) == (3, sum("rules" in record for record in records))
    assert [rules["version"] for rules in summary["rule_sets"]] == [catalogue().version, "2099-01"]


def test_a_longer_portfolio_begins_with_a_shorter_one(
    folder: Path, lines: list[bytes], environment: dict[str, str]
) -> None:
    file = folder / "short.ndjson"
    subprocess.run([sys.executable, str(MAKE), "4", str(file)], env=environment, check=True)
    assert file.read_bytes().splitlines() == lines[:4]
    without_marks = {line.partition(b'"mark": ')[0] + line.partition(b', "leaf": ')[2] for line in lines}
    assert len(without_marks) > COUNT * 0.99
