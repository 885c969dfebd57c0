"""Programs that some tests drive, and what it means where one isn't there."""

from __future__ import annotations

import os

import pytest

NEEDED = "JAMBSET_NEEDS_PROGRAMS"
"""Set where nothing may be left out for want of a program: .ci/run says so."""


def required(found: str | None, missing: str) -> str:
    """Where a program is. Where it isn't, the test is skipped, or fails where programs are needed."""
    if found is not None:
        return found
    if os.environ.get(NEEDED):
        pytest.fail(missing)
    pytest.skip(missing)
