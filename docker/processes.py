"""Processes of the service, and the proxy with its committed configuration, on this machine's loopback."""

from __future__ import annotations

import http.client
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import IO, Self

CONFIGURATION = Path(__file__).with_name("proxy") / "nginx.conf"
BACKENDS = ("172.30.64.4:8080", "172.30.64.5:8080")
LISTEN = "listen 8080"


def free_port() -> int:
    """A port that nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_until_ready(port: int, seconds: float = 120) -> None:
    """Returns once the service at a port says that it is ready. Raises TimeoutError."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if is_ready(port):
            return
        time.sleep(0.02)
    raise TimeoutError(f"nothing ready at port {port} after {seconds} s")


def is_ready(port: int) -> bool:
    """Whether the service at a port says that it is ready."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=2)
    try:
        connection.request("GET", "/health/ready")
        return connection.getresponse().status == 200
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()


class Running:
    """A process that is started on entering and ended on leaving."""

    def __init__(self, command: Sequence[str], log: IO[bytes]) -> None:
        self._command, self._log = command, log
        self._process: subprocess.Popen[bytes] | None = None

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        self.end(signal.SIGTERM)  # nginx ends its workers, which a killed one would leave behind

    def start(self) -> None:
        """Starts it; returns at once."""
        self._process = subprocess.Popen(self._command, stdout=self._log, stderr=self._log)  # noqa: S603

    def end(self, order: signal.Signals) -> None:
        """Sends a signal and waits for the end."""
        if self._process is not None:
            self._process.send_signal(order)
            self._process.wait(60)


def service(port: int, log: IO[bytes]) -> Running:
    """One process of the service."""
    return Running([sys.executable, "-m", "jambset.main", "serve", "--port", str(port)], log)


def proxy(configuration: Path, log: IO[bytes]) -> Running:
    """The proxy, in the folder of its configuration."""
    return Running([nginx() or "nginx", "-c", str(configuration), "-p", str(configuration.parent), "-e", "stderr"], log)


def nginx() -> str | None:
    """Where the proxy's program is, None where it isn't installed."""
    places = (*os.get_exec_path(), "/usr/sbin", "/usr/local/sbin")
    return next((found for place in places if os.access(found := f"{place}/nginx", os.X_OK)), None)


def configure(folder: Path, port: int, backends: Sequence[int], changes: Sequence[tuple[str, str]] = ()) -> Path:
    """Writes the committed configuration with this machine's ports and a folder of its own in place of /tmp.

    changes: more texts to replace. Raises ValueError for one that isn't there.
    """
    text = CONFIGURATION.read_text("utf-8")
    ours = zip(BACKENDS, (f"127.0.0.1:{each}" for each in backends), strict=True)
    for old, new in ((LISTEN, f"listen 127.0.0.1:{port}"), (" /tmp/", f" {folder}/"), *ours, *changes):
        if old not in text:
            raise ValueError(f"no {old!r} in {CONFIGURATION.name}")
        text = text.replace(old, new)
    place = folder / "nginx.conf"
    place.write_text(text, "utf-8")
    return place
