"""Room for bodies: so many bytes of them are held at one time, and what comes beyond is refused for now."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from jambset.errors import Busy

Take = Callable[[int], None]
"""Takes room for so many more bytes. Raises Busy where there is none."""


class Room:
    """The room of one process for bodies of one kind. most: bytes that are held at one time."""

    def __init__(self, most: int) -> None:
        self._left = most

    @contextmanager
    def share(self) -> Iterator[Take]:
        """What one caller takes for his body as it comes; it is free again when his call is over."""
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
