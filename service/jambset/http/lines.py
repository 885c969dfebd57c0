"""Lines of a stream, each no longer than may be, whatever comes."""

from __future__ import annotations

from collections.abc import Iterator


class Lines:
    """Parts a stream into lines; holds no more than one of them.

    longest: bytes that a line may have, its end left aside. A longer one comes out as None, once, and is dropped.
    """

    def __init__(self, longest: int) -> None:
        self._longest = longest
        self._held = bytearray()
        self._dropping = False

    def feed(self, data: bytes) -> Iterator[bytes | None]:
        r"""The lines that end in the next part of the stream.

        >>> lines = Lines(4)
        >>> [*lines.feed(b"one\ntw"), *lines.feed(b"o\r\nmuch too long"), *lines.feed(b"er\nfour")], lines.finish()
        ([b'one', b'two', None], b'four')
        """
        start = 0
        while (end := data.find(b"\n", start)) >= 0:
            yield from self._ended(data[start:end])
            start = end + 1
        yield from self._grown(data[start:])

    def finish(self) -> bytes | None:
        """The last line, which needs no end; None where it is too long, empty where it was dropped or there is none."""
        rest, self._held = bytes(self._held), bytearray()
        return self._bounded(rest)

    def _ended(self, rest: bytes) -> Iterator[bytes | None]:
        if self._dropping:
            self._dropping = False
            return
        line = bytes(self._held) + rest if self._held else rest
        self._held.clear()
        yield self._bounded(line)

    def _bounded(self, line: bytes) -> bytes | None:
        line = line.removesuffix(b"\r")
        return line if len(line) <= self._longest else None

    def _grown(self, rest: bytes) -> Iterator[None]:
        if self._dropping:
            return
        self._held += rest
        if len(self._held) > self._longest + 1:  # a carriage return may still end it
            self._held.clear()
            self._dropping = True
            yield None
