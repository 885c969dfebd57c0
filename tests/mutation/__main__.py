"""Mutation tests of engine, rules and rule data.

    python -m tests.mutation cover               which tests run which line; once for a state of code and tests
    python -m tests.mutation code [options]      change the code, one place at a time
    python -m tests.mutation data [options]      change the rule data, one value at a time
    python -m tests.mutation report              figures; ends with 1 where ledger.toml doesn't explain a survivor,
                                                 a line of it explains none, or nothing was tried

from the root, with PYTHONPATH=service:. and mutmut installed. What was found is kept in .mutants/ and taken up again
where it was left; a function or class that has changed since is done anew. --only takes modules or data files by their
stem, --share a part of the mutants of those that aren't done whole, --again the survivors once more. Those in the
ledger count as live, untried, unless --explained asks for them too.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

import pytest
from tests.mutation import trial
from tests.mutation.covering import Covering
from tests.mutation.kept import COVERAGE, KEPT, KEY, TIMES, drawn, found, keep
from tests.mutation.kept import rows as kept_rows
from tests.mutation.mutants import CODE, Mutant, differing, module_of, mutants
from tests.mutation.report import Ledger, Tally, estimate, table, tallies, told
from tests.mutation.values import DATA, Value, values

PLAIN = ("", "_house", "_recheck")
LEFT_OUT = "--ignore=tests/contract/test_schemathesis.py"
TESTS = [
    "tests/unit",
    "tests/reference",
    "tests/rules",
    "tests/scenarios",
    "tests/property",
    "tests/contract",
    "service",
]
QUIET = ["-q", "-p", "no:cacheprovider", "-p", "tests.mutation.quick"]
QUICK = [*QUIET, LEFT_OUT, *TESTS]
RULE_TESTS = [f"tests/rules/test_{name}.py" for name in ("vectors", "catalogue", "layers")]
"""What data is held to first. Stored answers are no witness: each has the digest of the whole catalogue."""
OTHER_TESTS = ["tests/unit/engine", "tests/reference", *(f"tests/scenarios/test_plain_words{n}.py" for n in PLAIN)]
"""And again."""
WHOLE = {"formulas", "bounds", "select", "regime", "swing", "air", "kinds"}
"""The code whose numbers people get hurt by."""


def cover(_: argparse.Namespace) -> None:
    KEPT.mkdir(exist_ok=True)
    settings = KEPT / "coveragerc"
    parts = "\n  service/jambset/engine/*\n  service/jambset/rules/*"
    settings.write_text(f"[run]\ninclude ={parts}\ndata_file = {COVERAGE}\n", "utf-8")
    options = ["--cov", f"--cov-config={settings}", "--cov-context=test", "--cov-report="]
    environment = {**os.environ, "MUTATION_TIMES": str(TIMES)}
    subprocess.run([sys.executable, "-m", "pytest", *options, *QUICK], env=environment, check=False)


class Loop:
    """Goes through the mutants in place of pytest's own loop over tests."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.covering = Covering(COVERAGE, TIMES)
        self.patience = trial.Patience(options.budget, self.covering.seconds)
        self.killers = trial.Killers(self.covering.seconds)
        self.ledger = Ledger()
        self.items: dict[str, pytest.Item] = {}
        self.unmapped: list[str] = []
        """Tests that were written since it was recorded which test runs what: tried again on whatever lived."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        self.unmapped = [test for test in self.items if test not in self.covering.seconds]
        trial.settle()
        there = found()
        for path in CODE:
            if not self.options.only or path.stem in self.options.only:
                self._file(path, there)
        return True

    def _file(self, path: Path, there: dict[tuple[str, str, str], str]) -> None:
        tree, made = mutants(path)
        share = 1.0 if path.stem in WHOLE else self.options.share
        for mutant in made:
            name = (module_of(path), mutant.site.part, str(mutant.number))
            before = there.get(name, "")
            if drawn(" ".join(name)) < share and not _done(before, again=self.options.again):
                source = mutant.source(tree)
                self._one(mutant, source, *differing(tree.code, source))

    def _one(self, mutant: Mutant, source: str, was: str, now: str) -> None:
        name = f"{module_of(mutant.path)}.{mutant.site.function}"
        row = {"module": module_of(mutant.path), "function": mutant.site.function, "was": was, "now": now}
        if not self.options.explained and self.ledger.explains(row):
            verdict = trial.Verdict(trial.SURVIVED, "not tried: in the ledger", 0, 0.0)
        else:
            verdict = self._verdict(mutant, source, name)
        keep(part=mutant.site.part, number=str(mutant.number), operator=mutant.operator, verdict=verdict, **row)

    def _verdict(self, mutant: Mutant, source: str, name: str) -> trial.Verdict:
        """A test that fails with nothing changed is no witness, now or later."""
        likely = [*(self.unmapped if self.options.again else ()), *self.covering.tests(mutant)]
        tests = [test for test in self.killers.first(name, likely) if test in self.items]
        verdict = trial.forked(lambda: self._try(mutant, source, tests))
        if verdict.outcome != trial.KILLED or verdict.by not in self.items:
            return verdict
        if not self.killers.knows(verdict.by) and self._fails_anyhow(verdict.by):
            del self.items[verdict.by]
            return self._verdict(mutant, source, name)
        self.killers.add(name, verdict.by)
        return verdict

    def _fails_anyhow(self, test: str) -> bool:
        return trial.forked(lambda: trial.run([self.items[test]], self.patience)).outcome != trial.SURVIVED

    def _try(self, mutant: Mutant, source: str, tests: list[str]) -> trial.Verdict:
        module = f"jambset.{module_of(mutant.path)}"
        code = compile(source, str(mutant.path), "exec", dont_inherit=True)
        if mutant.site.body and trial.put(module, mutant.site.function, code):
            return trial.run([self.items[test] for test in tests], self.patience)
        return trial.afresh(module, code, tests, self.patience)


def _done(outcome: str, *, again: bool) -> bool:
    return outcome == trial.KILLED or bool(outcome and not again)


def change_code(options: argparse.Namespace) -> None:
    sys.exit(pytest.main(QUICK, plugins=[Loop(options)]))


def change_data(options: argparse.Namespace) -> None:
    tests = [*RULE_TESTS, *(OTHER_TESTS if options.again else ())]
    sys.exit(pytest.main([*QUIET, *tests], plugins=[DataLoop(options)]))


class DataLoop:
    """The same for values of the rule data."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.patience = trial.Patience(options.budget, {})
        self.ledger = Ledger()

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        trial.settle()
        there = found()
        for value in values():
            before = there.get((value.module, "", value.name), "")
            left = bool(self.options.only) and value.path.stem not in self.options.only
            if not left and drawn(value.name) < self.options.share and not _done(before, again=self.options.again):
                near = (value.row, f"test_{value.path.stem}")  # by name the likeliest to notice
                self._one(value, sorted(session.items, key=lambda item: [name not in item.nodeid for name in near]))
        return True

    def _one(self, value: Value, items: list[pytest.Item]) -> None:
        row = {"module": value.module, "function": value.row, "was": value.was, "now": value.now}
        if not self.options.explained and self.ledger.explains(row):
            verdict = trial.Verdict(trial.SURVIVED, "not tried: in the ledger", 0, 0.0)
        else:
            with tempfile.TemporaryDirectory() as folder:
                copied = Path(shutil.copytree(DATA, Path(folder) / "data"))
                (copied / value.file).write_text(value.source, "utf-8")
                verdict = trial.forked(lambda: trial.with_data(copied, items, self.patience))
        keep(part="", number=value.name, operator=value.key, verdict=verdict, **row)


def report(_: argparse.Namespace) -> None:
    made = [(module_of(path), one.site.part, str(one.number)) for path in CODE for one in mutants(path)[1]]
    made += [(value.module, "", value.name) for value in values()]
    code = Counter(module for module, part, _ in made if part)
    data = Counter(module for module, part, _ in made if not part)
    there = set(made)
    rows = [row for row in kept_rows() if tuple(row[name] for name in KEY) in there]
    ledger = Ledger()
    counted = {name: tallies(rows, made, ledger) for name, made in (("code", code), ("data", data))}
    for name, tallied in counted.items():
        _print(name, tallied)
    live = [row for row in rows if row["outcome"] not in trial.NOTICED and not ledger.explains(row)]
    idle = ledger.idle(one.module for tallied in counted.values() for one in tallied if one.tried == one.made)
    nothing = [] if rows else ["Of code and data as they stand nothing was tried."]
    sys.stdout.write("\n".join([told(live), *idle, *nothing, ""]))
    sys.exit(1 if live or idle or nothing else 0)


def _print(name: str, counted: list[Tally]) -> None:
    if counted:
        part, error = estimate(counted)
        sys.stdout.write(f"{table(counted)}\n{name}: {part:.1%} noticed, standard error {error:.1%}\n\n")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    tasks = {"cover": cover, "code": change_code, "data": change_data, "report": report}
    parser.add_argument("task", choices=tasks)
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--share", type=float, default=0.1)
    parser.add_argument("--budget", type=float, default=6.0, help="seconds of tests for one mutant")
    parser.add_argument("--again", action="store_true")
    parser.add_argument("--explained", action="store_true", help="with --again")
    options = parser.parse_args()
    tasks[options.task](options)


if __name__ == "__main__":
    main()
