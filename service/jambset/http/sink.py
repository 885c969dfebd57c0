"""Where the log goes: a line that can't be written fails no request and keeps nobody waiting.

While a disk is full, or nobody reads a pipe, lines are held, as many as there is room for, and written in their order
once they can be. One that doesn't fit is lost as a whole, and counted; the first of them is told on standard error.
Several processes may write to one pipe: at once go whole lines, and no more of them than the system keeps together.
"""

from __future__ import annotations

import io
import logging
import os
import select
import stat
import sys
from collections.abc import Callable
from typing import Any

HELD = 1_048_576
"""How much is held while it can't be written [bytes]: the lines of some 4,000 requests."""
TOGETHER = getattr(select, "PIPE_BUF", 512)
"""How much goes to a pipe as a whole or not at all [bytes]: PIPE_BUF of POSIX, which promises 512."""

_told = logging.getLogger(__name__)


class Sink(io.FileIO):
    """A file whose writes neither raise nor wait. lost: called for each line lost. most: held at most [bytes]."""

    def __init__(self, descriptor: int, *, lost: Callable[[], None], most: int = HELD) -> None:
        super().__init__(descriptor, "wb", closefd=False)
        never_wait(descriptor)
        self._lost, self._most = lost, most
        self._held = bytearray()
        self._why = ""
        self._losing = False

    def write(self, line: Any) -> int:
        """Write a line, or hold or lose it. Returns its length."""
        if len(self._held) + len(line) > self._most:
            self.flush()
        if len(self._held) + len(line) <= self._most:
            self._held += line
            self.flush()
        else:
            self._lose()
        return len(line)

    def flush(self) -> None:
        """Write as much as can be written now."""
        if not self._held:  # a logger asks after each line
            return
        try:
            while self._held and (written := super().write(self._next())) is not None:
                del self._held[:written]
            self._why = "nobody reads it"
        except OSError as fault:
            self._why = str(fault.strerror)
        self._losing = self._losing and bool(self._held)

    def _next(self) -> bytearray:
        """The lines that are written at once. A longer one goes alone; lines of others may come between its parts."""
        if len(self._held) <= TOGETHER:
            return self._held
        end = self._held.rfind(b"\n", 0, TOGETHER) + 1 or self._held.find(b"\n") + 1
        return self._held[:end] if end else self._held

    def _lose(self) -> None:
        self._lost()
        if not self._losing:
            self._losing = True
            _told.error("the log can't be written (%s): its lines are lost and counted from here on", self._why)


def never_wait(descriptor: int) -> None:
    """Make a write to a full pipe fail instead of wait; files and terminals stay as they are."""
    mode = os.fstat(descriptor).st_mode
    if stat.S_ISFIFO(mode) or stat.S_ISSOCK(mode):
        os.set_blocking(descriptor, False)


def fill_standard() -> None:
    """Put a device that keeps nothing in place of each standard stream that is closed.

    A connection would get its number, and the log with it; and the server's own log asks for both streams.
    """
    for descriptor in range(3):
        try:
            os.fstat(descriptor)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # the least number that is free is this one
            os.set_inheritable(descriptor, True)
    sys.stdout = sys.stdout or os.fdopen(1, "w", closefd=False)
    sys.stderr = sys.stderr or os.fdopen(2, "w", closefd=False)
