from __future__ import annotations

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


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Begins with what takes minutes, so that no worker waits for another's at the end.

    Counts as covered what examples written by hand run, and properties marked as covering what none of them does: the
    others take half as long again. Not where it is asked which test runs which line, as tests.mutation does.
    """
    items.sort(key=lambda item: item.get_closest_marker("minutes") is None)
    for item in () if config.getoption("cov_context", None) else items:
        if is_hypothesis_test(getattr(item, "obj", None)) and not item.get_closest_marker("covers"):
            item.add_marker("no_cover")
