from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from tests.faults.served import ROOT, Served, served


@pytest.fixture(scope="package")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A process that all tests here ill-treat; afterwards it has nothing to tell and nothing holds it."""
    folder = tmp_path_factory.mktemp("served")
    log = folder / "log"
    with log.open("wb") as out, served(folder, out) as running:
        yield running
        assert running.left() == (0, "")
    lines = [json.loads(line) for line in log.read_bytes().splitlines()]
    assert lines
    assert [line for line in lines if line["event"] != "request" or line["status"] >= 500] == []


@pytest.fixture(scope="session")
def opening() -> bytes:
    """A request that is right in every way."""
    scenario = json.loads((ROOT / "examples" / "sandbox" / "01-carpet-bedroom.json").read_bytes())
    return json.dumps(scenario["request"]).encode()
