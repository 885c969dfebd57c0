from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _ready(address: str) -> bool:
    try:
        with urllib.request.urlopen(f"{address}/health/ready", timeout=1) as answer:
            return bool(answer.status == 200)
    except OSError:
        return False


@pytest.fixture(scope="session")
def environment() -> dict[str, str]:
    """For child processes: this environment, finding the same jambset, without settings of our own."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith(("JAMBSET_", "QUICKSTART_"))}
    return {**clean, "PYTHONPATH": str(ROOT / "service")}


@pytest.fixture(scope="session")
def live(environment: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a service of our own, started from the command line."""
    address = f"http://127.0.0.1:{(port := _free_port())}"
    log = tmp_path_factory.mktemp("live") / "log"
    command = [sys.executable, "-m", "jambset.main", "serve", "--host", "127.0.0.1", "--port", str(port)]
    with log.open("wb") as out:
        server = subprocess.Popen(command, stdout=out, stderr=out, env=environment)
    try:
        for _ in range(600):
            if _ready(address):
                break
            assert server.poll() is None, log.read_text("utf-8")
            time.sleep(0.05)
        else:
            pytest.fail(f"not ready after 30 s: {log.read_text('utf-8')}")
        yield address
    finally:
        server.terminate()
        server.wait(timeout=10)
