"""What the figures of the mutation tests are worth: a report of nothing, and a ledger that is out of date, are told."""

from __future__ import annotations

import json
from argparse import Namespace
from pathlib import Path
from typing import Any

import pytest
from tests.mutation import __main__ as mutation
from tests.mutation import kept
from tests.mutation.mutants import mutants
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


@pytest.mark.parametrize(("explained", "outcome"), [(False, SURVIVED), (True, KILLED)])
def test_what_is_in_the_ledger_is_tried_where_that_is_asked_for(
    explained: bool, outcome: str, ledger: Ledger, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """So that a line can be found out of date; it never was, as long as nothing in it was tried."""
    monkeypatch.setattr(kept, "FOUND", tmp_path / "found.jsonl")
    loop: Any = mutation.Loop.__new__(mutation.Loop)
    loop.options, loop.ledger = Namespace(again=True, explained=explained), ledger
    loop._verdict = lambda *_: Verdict(KILLED, "a test", 1, 0.0)
    loop._one(Mutant, "", MUTANT["was"], MUTANT["now"])
    (row,) = map(json.loads, kept.FOUND.read_text("utf-8").splitlines())
    assert {name: row[name] for name in MUTANT} == MUTANT
    assert row["outcome"] == outcome


CODE = """
def first(a):
    return a + 1


def table():
    return [1]


TABLE = table()
"""


def test_a_mutant_is_known_by_its_own_function_whatever_changes_elsewhere(tmp_path: Path) -> None:
    known = []
    for name, code in (("before", CODE), ("after", CODE.replace("a + 1", "a - 1 + 2"))):
        file = tmp_path / f"{name}.py"
        file.write_text(code, "utf-8")
        known.append({(one.site.part, one.number, one.operator): one.site.function for one in mutants(file)[1]})
    before, after = known
    assert {function for key, function in before.items() if key not in after} == {"first"}
    assert set(before.values()) == {"first", "table", ""}


def test_what_runs_as_a_module_is_loaded_is_loaded_anew_with_its_change(tmp_path: Path) -> None:
    file = tmp_path / "code.py"
    file.write_text(CODE, "utf-8")
    assert {(one.site.function, one.site.body) for one in mutants(file)[1]} == {
        ("first", True),
        ("table", False),
        ("", False),
    }
