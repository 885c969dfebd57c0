"""How many requests a caller may send: a bucket for each, filled evenly, emptied by one for each request."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

Clock = Callable[[], int]
"""A monotonic clock [ns]."""

SECOND = 1_000_000_000
"""One second on a clock [ns]."""
MOST_CALLERS = 10_000
"""Callers remembered; beyond it the one that asked longest ago is forgotten, and has a full bucket again."""


class Quota(NamedTuple):
    """So many requests in so many seconds; as many may come at once."""

    requests: int
    seconds: int

    @classmethod
    def of(cls, text: str) -> Quota | None:
        """As an operator writes it, already checked; None for an empty text.

        >>> Quota.of("60/30")
        Quota(requests=60, seconds=30)
        """
        requests, _, seconds = text.partition("/")
        return cls(int(requests), int(seconds)) if text else None


class Standing(NamedTuple):
    """What a caller has left, this request counted."""

    allowed: bool
    remaining: int
    """Requests that may come at once now."""
    more: int
    """Seconds until one more may come at once, rounded up."""
    retry: int
    """Seconds until one more request is allowed, rounded up; 0 when one is."""


class Buckets:
    """One bucket for each caller. Of a bucket only the time is kept at which it will be full.

    Times are whole nanoseconds, so the last request of a quota isn't lost to rounding. A clock that jumps ahead fills
    buckets; one that jumps back empties them at most, for no longer than the seconds of the quota.
    """

    def __init__(self, quota: Quota, *, clock: Clock, most: int = MOST_CALLERS) -> None:
        self.quota, self._clock, self._most = quota, clock, most
        self._whole = quota.seconds * SECOND
        self._each = self._whole // quota.requests
        self._full_at: dict[str, int] = {}

    def take(self, caller: str) -> Standing:
        """Count one request of a caller, unless it is one too many."""
        now = self._clock()
        missing = min(max(self._full_at.pop(caller, now) - now, 0), self._whole)
        allowed = missing + self._each <= self._whole
        missing += self._each if allowed else 0
        self._full_at[caller] = now + missing
        if len(self._full_at) > self._most:
            del self._full_at[next(iter(self._full_at))]
        wait = max(missing + self._each - self._whole, 0)
        remaining = (self._whole - missing) // self._each
        more = missing + (remaining + 1) * self._each - self._whole
        return Standing(allowed, remaining, _seconds(more), _seconds(wait))


def _seconds(span: int) -> int:
    return -(-span // SECOND)
