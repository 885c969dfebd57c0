"""A plugin for pytest: properties try few examples, caches are emptied before each test, and times are written down.

Without the emptying, only the first test that asks would be seen to run what is cached.
"""

from __future__ import annotations

import gc
import json
import os
from functools import _lru_cache_wrapper
from pathlib import Path
from typing import Any

import pytest
from hypothesis import Phase, settings

EXAMPLES = 8
PHASES = (Phase.explicit, Phase.generate)
TIMES: dict[str, float] = {}
ROOMS = ("jambset.engine", "jambset.rules")
KEPT = os.environ.get("MUTATION_TIMES", "")
"""File for the times, where what each test runs is recorded."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        chosen = getattr(getattr(item, "obj", None), "_hypothesis_internal_use_settings", None)
        if chosen is not None:
            few = settings(chosen, max_examples=min(EXAMPLES, chosen.max_examples), database=None, phases=PHASES)
            item.obj._hypothesis_internal_use_settings = few  # type: ignore[attr-defined]


@pytest.fixture(scope="session")
def _caches() -> list[_lru_cache_wrapper[Any]]:
    return [
        thing
        for thing in gc.get_objects()
        if isinstance(thing, _lru_cache_wrapper) and str(thing.__module__).startswith(ROOMS)
    ]


@pytest.fixture(autouse=True)
def _nothing_cached(_caches: list[_lru_cache_wrapper[Any]]) -> None:
    for cached in _caches if KEPT else ():
        cached.cache_clear()


def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    TIMES[report.nodeid] = TIMES.get(report.nodeid, 0.0) + report.duration


def pytest_sessionfinish() -> None:
    if KEPT:
        Path(KEPT).write_text(json.dumps(TIMES), "utf-8")
