"""The connections of one process: which of them rest, so that one may make room for another."""

from __future__ import annotations

from typing import Generic, TypeVar

T = TypeVar("T")


class Crowd(Generic[T]):
    """The connections of one process that rest, the one that has rested longest first. most: of all, resting or not."""

    def __init__(self, most: int) -> None:
        self.most = most
        self._resting: dict[T, None] = {}

    def rest(self, connection: T) -> None:
        """Nothing is asked of us on it for now."""
        self._resting[connection] = None

    def leave(self, connection: T) -> None:
        """It has work, or is no more."""
        self._resting.pop(connection, None)

    def longest(self) -> T | None:
        """The one that has rested longest; None where all have work."""
        return next(iter(self._resting), None)
