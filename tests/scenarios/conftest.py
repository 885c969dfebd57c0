from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.faults.served import served

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="session")
def environment() -> dict[str, str]:
    """For child processes: this environment, finding the same jambset, without settings of our own."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("JAMBSET_", "QUICKSTART_"))}
    return {**clean, "PYTHONPATH": str(ROOT / "service")}


@pytest.fixture(scope="session")
def live(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a service of our own, started from the command line."""
    with served(tmp_path_factory.mktemp("live")) as service:
        yield f"http://127.0.0.1:{service.port}"
