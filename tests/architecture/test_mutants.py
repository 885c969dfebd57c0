"""What the figures of the mutation tests are worth: a report of nothing, and a ledger that is out of date, are told."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path
from typing import Any

import pytest
from tests.mutation import __main__ as mutation
from tests.mutation import kept
from tests.mutation.report import Ledger, tallies
from tests.mutation.trial import KILLED, SURVIVED, Verdict

ENTRY = """
[[survivor]]
module = "engine.air"
function = "gap"
was = "a < b"
now = "a <= b"
why = "Alike where they are equal."
"""
MUTANT = {"module": "engine.air", "function": "gap", "was": "a < b", "now": "a <= b"}


@pytest.fixture
def ledger(tmp_path: Path) -> Ledger:
    file = tmp_path / "ledger.toml"
    file.write_text(ENTRY, "utf-8")
    return Ledger(file)


def test_a_report_of_nothing_ends_as_one_of_survivors_does(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(kept, "FOUND", tmp_path / "none.jsonl")
    monkeypatch.setattr(mutation, "CODE", [])
    monkeypatch.setattr(mutation, "values", list)
    with pytest.raises(SystemExit) as ended:
        mutation.report(Namespace())
    assert ended.value.code == 1
    assert capsys.readouterr().out.strip() == "Of code and data as they stand nothing was tried."


@pytest.mark.parametrize(("outcome", "idle"), [(SURVIVED, 0), (KILLED, 1)])
def test_a_line_of_the_ledger_whose_mutant_is_noticed_now_is_idle(outcome: str, idle: int, ledger: Ledger) -> None:
    tallies([{**MUTANT, "outcome": outcome}], {"engine.air": 1}, ledger)
    assert len(ledger.idle(["engine.air"])) == idle


class Site:
    function, part = "gap", "text"


class Mutant:
    path, number, operator, site = Path("service/jambset/engine/air.py"), 0, "operator", Site


@pytest.mark.parametrize(("again", "outcome"), [(False, SURVIVED), (True, KILLED)])
def test_what_is_in_the_ledger_is_tried_again_when_survivors_are(
    again: bool, outcome: str, ledger: Ledger, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So that a line can be found out of date; it never was, as long as nothing in it was tried."""
    monkeypatch.setattr(kept, "FOUND", tmp_path / "found.jsonl")
    loop: Any = mutation.Loop.__new__(mutation.Loop)
    loop.options, loop.ledger = Namespace(again=again), ledger
    loop._verdict = lambda *_: Verdict(KILLED, "a test", 1, 0.0)
    loop._one(Mutant, "", MUTANT["was"], MUTANT["now"])
    (row,) = map(json.loads, kept.FOUND.read_text("utf-8").splitlines())
    assert {name: row[name] for name in MUTANT} == MUTANT
    assert row["outcome"] == outcome
