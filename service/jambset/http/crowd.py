"""Which connections of a process are idle, so that one of them can make room for another."""

from __future__ import annotations

from typing import Generic, TypeVar

T = TypeVar("T")


class Crowd(Generic[T]):
    """The idle connections of one process, the longest idle first. most: connections, idle or not."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._resting: dict[T, None] = {}

    def rest(self, connection: T) -> None:
        """It has become idle."""
        self._resting[connection] = None

    def leave(self, connection: T) -> None:
        """It is busy, or closed."""
        self._resting.pop(connection, None)

    def longest(self) -> T | None:
        """The one that has been idle longest; None where all are busy."""
        return next(iter(self._resting), None)
