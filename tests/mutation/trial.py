"""One mutant, one forked process: the tests that run the change, the likeliest to notice first, until one fails.

A plugin for pytest that takes the place of its loop. What changes in the body of a function is put in place of the
loaded code; what runs as a module is loaded is loaded anew, with everything of ours that imports it. Changed data is
put into the rows that are loaded.
"""

from __future__ import annotations

import gc
import importlib
import importlib.machinery
import os
import pickle
import resource
import signal
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, NamedTuple

import pytest
from _pytest.outcomes import Skipped
from _pytest.tmpdir import tmppath_result_key
from msgspec.structs import force_setattr
from tests.mutation.mutants import CODE

from jambset.errors import CatalogueError
from jambset.rules import load
from jambset.rules.schema import Catalogue, Row

CACHE = type(lru_cache(len))
CACHES: list[Any] = []
CATALOGUES: list[Catalogue] = []
KILLED, SURVIVED, ENDLESS, UNCLEAR = "killed", "survived", "timed out", "unclear"
NOTICED = {KILLED, ENDLESS}
LIMIT_BYTES = 6 * 2**30
LIMIT_WALL = 900
"""Ends a process that waits for ever [s]; long, since a busy machine may halt us for minutes."""
LONG = 0.5
"""A test that takes longer comes last [s]."""
TRIED_FRESH = 1000
"""Tests tried at most for what is loaded anew."""


class Verdict(NamedTuple):
    outcome: str
    by: str
    tried: int
    seconds: float


class Patience(NamedTuple):
    """Processor time for the tests of one mutant [s], and what a test took when nothing was changed."""

    budget: float
    usual: dict[str, float]

    def begin(self, test: str) -> None:
        """Ends the process where a test takes many times what it took; by processor time, so that halts don't count."""
        signal.setitimer(signal.ITIMER_VIRTUAL, max(3.0, 20 * self.usual.get(test, 1)))


def forked(work: Callable[[], Verdict]) -> Verdict:
    """What work finds in a process of its own."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        _confine()
        try:
            verdict = work()
        except BaseException as error:  # noqa: BLE001
            verdict = Verdict(UNCLEAR, repr(error)[:300], 0, time.process_time())
        os.write(writing, pickle.dumps(verdict))
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        found = pipe.read()
    _, status = os.waitpid(child, 0)
    if found:
        verdict = pickle.loads(found)
        assert isinstance(verdict, Verdict)
        return verdict
    ended = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
    return Verdict(ENDLESS if ended == signal.SIGVTALRM else UNCLEAR, f"signal {ended}", 0, 0.0)


def _confine() -> None:
    nothing = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nothing, stream)
    resource.setrlimit(resource.RLIMIT_AS, (LIMIT_BYTES, LIMIT_BYTES))
    signal.alarm(LIMIT_WALL)


# --- in the body of a function


def put(module: str, function: str, code: CodeType) -> bool:
    """Give the loaded function its changed code; False where that can't be done."""
    held: Any = vars(sys.modules[module])
    for name in function.split("."):
        thing = _bare(held.get(name))
        inner = [const for const in code.co_consts if isinstance(const, CodeType) and const.co_name == name]
        if thing is None or len(inner) != 1:
            return False
        code = inner[0]
        if isinstance(thing, FunctionType):
            if len(thing.__code__.co_freevars) != len(code.co_freevars):
                return False
            thing.__code__ = code
            return True
        held = vars(thing)
    return False


def _bare(thing: Any) -> Any:
    thing = getattr(thing, "fget", None) or getattr(thing, "__func__", thing)
    return getattr(thing, "__wrapped__", thing)


def settle() -> None:
    """Before the first fork: remember caches and catalogues, and leave what is loaded out of the collector's rounds."""
    gc.collect()
    things = gc.get_objects()
    CACHES.extend(thing for thing in things if isinstance(thing, CACHE) and _is_ours(str(thing.__module__)))
    CATALOGUES.extend(thing for thing in things if isinstance(thing, Catalogue))
    gc.freeze()


def _is_ours(module: str) -> bool:
    return module.startswith(("jambset.", "tests."))


def run(items: list[pytest.Item], patience: Patience) -> Verdict:
    for cache in CACHES:
        cache.cache_clear()
    tried = 0
    for tried, (item, following) in enumerate(_pairs(items), 1):
        patience.begin(item.nodeid)
        if _fails(item, following):
            return Verdict(KILLED, item.nodeid, tried, time.process_time())
        if time.process_time() > patience.budget:
            break
    return Verdict(SURVIVED, "", tried, time.process_time())


def _pairs(items: list[pytest.Item]) -> Iterator[tuple[pytest.Item, pytest.Item | None]]:
    yield from zip(items, [*items[1:], None], strict=False)  # of no items none


def _fails(item: pytest.Item, following: pytest.Item | None) -> bool:
    item.stash.setdefault(tmppath_result_key, {})  # which pytest's own reports would bring, and tmp_path's end asks for
    try:
        item.ihook.pytest_runtest_setup(item=item)
        item.ihook.pytest_runtest_call(item=item)
        item.ihook.pytest_runtest_teardown(item=item, nextitem=following)
    except Skipped:
        item.ihook.pytest_runtest_teardown(item=item, nextitem=following)
    except BaseException:  # noqa: BLE001
        return True
    return False


# --- as a module is loaded


def afresh(module: str, code: CodeType, tests: list[str], patience: Patience) -> Verdict:
    """Load everything of ours anew with one module changed, and run the tests."""
    forget("jambset.", "tests.")
    loader = importlib.machinery.SourceFileLoader
    get_code = loader.get_code

    def get(self: Any, name: str) -> CodeType | None:
        return code if name == module else get_code(self, name)

    setattr(loader, "get_code", get)  # noqa: B010
    return rerun(tests, patience)


def forget(*beginnings: str) -> None:
    for name in list(sys.modules):
        if name.startswith(beginnings) and not name.startswith("tests.mutation"):
            del sys.modules[name]


def rerun(tests: list[str], patience: Patience) -> Verdict:
    patience.begin("")
    try:
        for path in CODE:
            importlib.import_module(f"jambset.{path.parent.name}.{path.stem}")
        sys.modules["jambset.rules.load"].load_catalogue()
    except Exception as error:  # noqa: BLE001
        return Verdict(KILLED, f"can't be loaded: {type(error).__name__}", 0, time.process_time())
    watch = _Watch(patience)
    options = ["-x", "-q", "--tb=no", "-p", "no:cacheprovider", "-p", "tests.mutation.quick"]
    ended = pytest.main([*options, *tests[:TRIED_FRESH]], plugins=[watch])
    outcome = {0: SURVIVED, 1: KILLED, 2: KILLED if watch.failed else SURVIVED}.get(int(ended), UNCLEAR)
    return Verdict(outcome, watch.failed or f"pytest ended with {ended}", watch.tried, time.process_time())


class _Watch:
    """Time counts from the first test on: to load and collect everything anew may take as long as the tests."""

    def __init__(self, patience: Patience) -> None:
        self.patience, self.failed, self.tried = patience, "", 0
        self.until = 0.0

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        if report.failed:
            self.failed = self.failed or report.nodeid

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        self.tried += 1
        self.until = self.until or time.process_time() + self.patience.budget
        self.patience.begin(nodeid)

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if report.failed:
            self.failed = self.failed or report.nodeid

    @pytest.hookimpl(trylast=True)
    def pytest_runtest_teardown(self, item: pytest.Item) -> None:
        if time.process_time() > self.until:
            item.session.shouldstop = "enough"


# --- rule data


def with_data(folder: Path, items: list[pytest.Item], patience: Patience) -> Verdict:
    """Give the rows of every loaded catalogue what stands in a folder, load others from there, and run the tests."""
    load.DATA = folder
    try:
        changed = load.load_catalogue()
    except CatalogueError as error:
        return Verdict(KILLED, f"can't be loaded: {error}"[:300], 0, time.process_time())
    for catalogue in CATALOGUES:
        for row, now in zip(_rows(catalogue), _rows(changed), strict=True):
            for field in row.__struct_fields__:
                force_setattr(row, field, getattr(now, field))
    return run(items, patience)


def _rows(catalogue: Catalogue) -> Iterator[Row]:
    """Every row; only what stands in rows is changed, never an id or how many there are."""
    yield catalogue.defaults
    for rows in (catalogue.pieces, catalogue.lifts, *catalogue.rules.values()):
        yield from rows
    for table in ("jurisdictions", "documents", "materials", "labour", "cores"):
        yield from getattr(catalogue, table).values()


class Killers:
    """Tests to be tried first: those that noticed a change of the function or notice most, and the module's own.

    Never those that take long: one that passes would leave no time for the others. seconds: what a test took.
    """

    def __init__(self, seconds: Mapping[str, float]) -> None:
        self._seconds = seconds
        self._of: dict[str, list[str]] = defaultdict(list)
        self._count: Counter[str] = Counter()

    def add(self, function: str, test: str) -> None:
        if test in self._of[function]:
            self._of[function].remove(test)
        self._of[function].insert(0, test)
        self._count[test] += 1

    def knows(self, test: str) -> bool:
        return test in self._count

    def first(self, function: str, tests: list[str]) -> list[str]:
        there = set(tests)
        known = [*self._of[function], *(test for test, _ in self._count.most_common(20))]
        named = (test for test in tests if function.split(".")[1] in test.partition("::")[0])
        found = dict.fromkeys([*(test for test in known if test in there), *named, *tests])
        return sorted(found, key=lambda test: self._seconds.get(test, 0.0) > LONG)
