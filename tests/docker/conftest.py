from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import NamedTuple

import pytest
from docker.processes import Running, configure, free_port, nginx, proxy, service, wait_until_ready
from tests.programs import required

HOST = "127.0.3.1"
"""Stands for the gateway by which this host comes in."""


class Served(NamedTuple):
    """The proxy's port, its processes and theirs."""

    port: int
    ports: tuple[int, int]
    processes: tuple[Running, Running]


@pytest.fixture(scope="package")
def served() -> Iterator[Served]:
    """Two processes of the service behind the proxy, whose slow callers are given 1 s."""
    required(nginx(), "nginx isn't installed, so the proxy's configuration can't be tried")
    port, ports = free_port(), (free_port(), free_port())
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        folder.chmod(0o755)  # the proxy's workers are another user where it is started by root
        log = stack.enter_context((folder / "log").open("wb"))
        first, second = (stack.enter_context(service(each, log)) for each in ports)
        changes = [
            ("client_header_timeout 5s", "client_header_timeout 1s"),
            ("set_real_ip_from 172.30.65.1", f"set_real_ip_from {HOST}"),
        ]
        stack.enter_context(proxy(configure(folder, port, ports, changes), log))
        for each in (*ports, port):
            wait_until_ready(each)
        yield Served(port, ports, (first, second))
