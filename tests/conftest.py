from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from hypothesis import Phase, is_hypothesis_test, settings

# The same examples on every run and every machine, and no clock: a slow machine fails no test. Without the phase
# that explains a failure, which takes minutes over openings of this size and hides the values.
settings.register_profile(
    "ci",
    derandomize=True,
    deadline=None,
    print_blob=True,
    phases=(Phase.explicit, Phase.generate, Phase.target, Phase.shrink),
)
settings.load_profile("ci")


COUNTED = tuple(
    Path(__file__).parent / part
    for part in ("reference", "rules", "scenarios", "unit/engine", "unit/quantity", "unit/rules", "property")
)
"""Whose tests count as covering what they run."""


@pytest.hookimpl(tryfirst=True)
def pytest_sessionstart(session: pytest.Session) -> None:
    """Ends what pytest-cov 7 measures from the start of a worker, before it begins anew with what it will keep.

    Whenever the second was paused, the first would go on, for nothing.
    """
    measuring = session.config.pluginmanager.getplugin("_cov")
    if hasattr(session.config, "workerinput") and measuring and measuring.cov_controller:
        measuring.cov_controller.cov.stop()


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Begins with what takes minutes, so that no worker waits for another's at the end.

    Of the tests of the core, counts as covered what examples written by hand run, and properties marked as covering
    what none of them does: traced, a test takes two to three times as long. Not where it is asked which test runs
    which line, as tests.mutation does.
    """
    items.sort(key=lambda item: item.get_closest_marker("minutes") is None)
    for item in () if config.getoption("cov_context", None) else items:
        drawn = is_hypothesis_test(getattr(item, "obj", None)) and not item.get_closest_marker("covers")
        if drawn or not _counts(item.path):
            item.add_marker("no_cover")


@cache
def _counts(path: Path) -> bool:
    return any(path.is_relative_to(part) for part in COUNTED)
