"""What became of the lines of streams, and how these ended: in the metrics at once, in the log with the request."""

from __future__ import annotations

from prometheus_client import CollectorRegistry, Counter

ANSWERED, REFUSED, FAILED = OUTCOMES = ("answered", "refused", "failed")
"""What becomes of a line; it failed where the fault was ours."""
WHOLE, GONE, NOT_TAKEN, CUT_OFF = "whole", "gone", "not_taken", "cut_off"
"""How a stream ends, unless by a problem, whose code says it: all was answered; the caller went away, or took no
answers; a fault of ours or the end of the service cut it off."""


class Counters:
    """Of all streams of one application."""

    def __init__(self, registry: CollectorRegistry) -> None:
        lines = Counter("jambset_bulk_lines", "Lines of streams answered.", ("outcome",), registry=registry)
        self.lines = {outcome: lines.labels(outcome) for outcome in OUTCOMES}
        self.streams = Counter("jambset_bulk_streams", "Streams by how they ended.", ("end",), registry=registry)


class Tally:
    """Of one stream."""

    def __init__(self, counters: Counters) -> None:
        self._counters = counters
        self._lines = dict.fromkeys(OUTCOMES, 0)
        self.told: dict[str, object] = {"lines": self._lines}
        """For the log."""

    def count(self, outcome: str) -> None:
        """One more line."""
        self._lines[outcome] += 1
        self._counters.lines[outcome].inc()

    def end(self, how: str) -> None:
        """The stream is over."""
        self.told["end"] = how
        self._counters.streams.labels(how).inc()
