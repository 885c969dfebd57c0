"""A limit on the bytes of all bodies held at once; a body beyond it is refused for now."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from jambset.errors import Busy

Take = Callable[[int], None]
"""Reserves a number of bytes more. Raises Busy where there is no room for them."""


class Room:
    """The room of one process for bodies of one kind. most: bytes held at once."""

    def __init__(self, most: int) -> None:
        self._left = most

    @contextmanager
    def share(self) -> Iterator[Take]:
        """Reserves room for one caller's body as it arrives, and frees it when the call is over."""
        taken = 0

        def take(size: int) -> None:
            nonlocal taken
            if size > self._left:
                raise Busy("Bodies of as many bytes as may be are read, wait or are worked on; try again soon.")
            self._left -= size
            taken += size

        try:
            yield take
        finally:
            self._left += taken
