"""A limit on the bytes of all bodies held at once; a body beyond it is refused for now."""

from __future__ import annotations

from collections.abc import Callable

from jambset.errors import Busy

Take = Callable[[int], None]
"""Reserves a number of bytes more. Raises Busy where there is no room for them."""


class Room:
    """The room of one process for bodies of one kind. most: bytes held at once. left: of these, bytes still free."""

    def __init__(self, most: int) -> None:
        self.left = most

    def share(self) -> Share:
        """Room for one caller's body as it arrives, free again when the call is over."""
        return Share(self)


class Share:
    """What one caller holds of a room while its context lasts."""

    __slots__ = ("_room", "_taken")

    def __init__(self, room: Room) -> None:
        self._room, self._taken = room, 0

    def __enter__(self) -> Take:
        return self._take

    def __exit__(self, *_: object) -> None:
        self._room.left += self._taken

    def _take(self, size: int) -> None:
        if size > self._room.left:
            raise Busy("Bodies of as many bytes as may be are read, wait or are worked on; try again soon.")
        self._room.left -= size
        self._taken += size
