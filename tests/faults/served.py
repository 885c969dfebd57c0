"""A served process, and callers who speak to it in bytes of their own."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO, NamedTuple

from docker.processes import free_port, wait_until_ready

ROOT = Path(__file__).parents[2]
PATIENCE = 300
"""How long anything that has to happen may take here before the test fails [s]; the machine may be busy."""


class Served(NamedTuple):
    """A process, its port, and the file of what it says on standard error."""

    port: int
    process: subprocess.Popen[bytes]
    errors: Path

    def call(self) -> socket.socket:
        """A connection."""
        return socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE)

    def said(self, *parts: bytes, ends: bool = False) -> bytes:
        """All that comes until the service closes. ends: whether the caller says that nothing more comes."""
        with self.call() as caller:
            for part in parts:
                caller.sendall(part)
            if ends:
                caller.shutdown(socket.SHUT_WR)
            return rest(caller)

    def left(self) -> tuple[int, str]:
        """How it ends once told to stop, and what it said on standard error."""
        self.process.terminate()
        return self.process.wait(PATIENCE), self.errors.read_text("utf-8")


@contextmanager
def served(
    folder: Path, out: IO[bytes] | int = subprocess.DEVNULL, *, before: Sequence[str] = (), **settings: str
) -> Iterator[Served]:
    """A process on a port of its own, which imports what is in the folder first.

    out: where its log goes. before: what its command is given to as arguments. settings: without JAMBSET_, in small
    letters.
    """
    port, errors = free_port(), folder / "errors"
    ours = {f"JAMBSET_{name.upper()}": value for name, value in settings.items()}
    plain = {name: value for name, value in os.environ.items() if not name.startswith("JAMBSET_")}
    environment = {**plain, "PYTHONPATH": f"{folder}:{ROOT / 'service'}", **ours}
    command = [*before, sys.executable, "-m", "jambset.main", "serve", "--port", str(port)]
    with (
        errors.open("wb") as file,
        subprocess.Popen(command, env=environment, stdout=out, stderr=file) as process,
    ):
        try:
            wait_until_ready(port, PATIENCE)
            yield Served(port, process, errors)
        finally:
            process.kill()


def rest(caller: socket.socket) -> bytes:
    """All that comes until the other side closes."""
    got = b""
    with suppress(ConnectionResetError):
        while part := caller.recv(65_536):
            got += part
    return got


def until(caller: socket.socket, end: bytes) -> bytes:
    """What comes, up to an end."""
    got = b""
    while not got.endswith(end):
        part = caller.recv(65_536)
        assert part, f"the connection ended after {got!r}"
        got += part
    return got


def statuses(said: bytes) -> list[int]:
    """Of the answers in what was said."""
    return [int(status) for status in re.findall(rb"HTTP/1\.1 (\d{3}) ", said)]


def post(path: str, body: bytes, *, media: str = "application/json", accept: str = "*/*") -> bytes:
    """A request as bytes."""
    head = f"POST {path} HTTP/1.1\r\nHost: a\r\nContent-Type: {media}\r\nAccept: {accept}\r\n"
    return f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body


def begin(path: str, *, media: str, more: str = "") -> bytes:
    """The head of a request whose body comes in chunks. more: header fields, each with its end."""
    head = f"POST {path} HTTP/1.1\r\nHost: a\r\nContent-Type: {media}\r\n"
    return f"{head}{more}Transfer-Encoding: chunked\r\n\r\n".encode()


def chunk(data: bytes) -> bytes:
    """A chunk; without data the last one."""
    return b"%x\r\n%b\r\n" % (len(data), data)
