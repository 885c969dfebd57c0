"""Content codings of a stream: what comes in is opened bit by bit, what goes out is packed bit by bit.

Memory stays bounded whatever a body holds: each step gives a few megabytes at most, and the caller counts them.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Sequence
from typing import Protocol

import zstandard

from jambset.errors import UnreadableBody, WrongMediaType
from jambset.http.negotiate import weighted

IDENTITY, GZIP, ZSTD = "identity", "gzip", "zstd"
CODINGS = (IDENTITY, ZSTD, GZIP)
"""Those read and offered; of several that a caller likes alike the first, identity last."""
ALSO_CALLED = {"x-gzip": GZIP}
"""Old names (RFC 9110 section 8.4.1.3)."""
PIECE = 65_536
"""Most that one step of gzip gives [bytes]."""
BITE = 128
"""What zstd is fed at once [bytes]: 4 bytes may be a block of 128 KiB."""
WINDOW = 8 * 1024 * 1024
"""Largest window of zstd as a content coding [bytes] (RFC 9659)."""
SEND_ALL = " Answers before this may rest on what was damaged: send all of it again."
"""A checksum comes last, so a changed byte may have been read as another number long before it shows."""
_GZIP_BITS = 31


class Opener(Protocol):
    """Opens a coded stream."""

    def feed(self, data: bytes) -> Iterator[bytes]:
        """What the next part of the body stands for, in pieces. Raises UnreadableBody."""

    def finish(self) -> None:
        """Says that the body has ended. Raises UnreadableBody where the coding hasn't."""


class Packer(Protocol):
    """Packs a stream."""

    def pack(self, data: bytes, *, last: bool) -> bytes:
        """The next part of the body, to be sent at once."""


class Plain:
    """No coding, both ways."""

    def feed(self, data: bytes) -> Iterator[bytes]:
        """The data."""
        yield data

    def finish(self) -> None:
        """Nothing can be missing."""

    def pack(self, data: bytes, *, last: bool) -> bytes:  # noqa: ARG002 (as the others)
        """The data."""
        return data


class OpenGzip:
    """Opens gzip (RFC 1952), of one member or several."""

    def __init__(self) -> None:
        self._member = zlib.decompressobj(_GZIP_BITS)
        self._begun = False

    def feed(self, data: bytes) -> Iterator[bytes]:
        """What the next part stands for."""
        while data:
            self._begun = True
            try:
                yield self._member.decompress(data, PIECE)
            except zlib.error:
                raise UnreadableBody("The body isn't gzip, or is damaged." + SEND_ALL) from None
            data = self._member.unconsumed_tail
            if self._member.eof:
                data, self._member, self._begun = self._member.unused_data, zlib.decompressobj(_GZIP_BITS), False

    def finish(self) -> None:
        """Raises UnreadableBody where a member is incomplete."""
        if self._begun:
            raise UnreadableBody("The body ends within its gzip coding.")


class OpenZstd:
    """Opens zstd (RFC 8878), of one frame or several."""

    def __init__(self) -> None:
        self._opener = zstandard.ZstdDecompressor(max_window_size=WINDOW)
        self._frame = self._opener.decompressobj()
        self._begun = False

    def feed(self, data: bytes) -> Iterator[bytes]:
        """What the next part stands for."""
        for start in range(0, len(data), BITE):
            yield from self._bite(data[start : start + BITE])

    def _bite(self, data: bytes) -> Iterator[bytes]:
        while data:
            self._begun = True
            try:
                yield self._frame.decompress(data)
            except zstandard.ZstdError:
                raise UnreadableBody(
                    f"The body isn't zstd with a window of at most 8 MiB, or is damaged.{SEND_ALL}"
                ) from None
            data = self._frame.unused_data
            if self._frame.eof:
                self._frame, self._begun = self._opener.decompressobj(), False

    def finish(self) -> None:
        """Raises UnreadableBody where a frame is incomplete."""
        if self._begun:
            raise UnreadableBody("The body ends within its zstd coding.")


class PackGzip:
    """Packs as gzip."""

    def __init__(self) -> None:
        self._member = zlib.compressobj(level=5, wbits=_GZIP_BITS)

    def pack(self, data: bytes, *, last: bool) -> bytes:
        """The next part, whole."""
        return self._member.compress(data) + self._member.flush(zlib.Z_FINISH if last else zlib.Z_SYNC_FLUSH)


class PackZstd:
    """Packs as zstd."""

    def __init__(self) -> None:
        self._frame = zstandard.ZstdCompressor(level=3).compressobj()

    def pack(self, data: bytes, *, last: bool) -> bytes:
        """The next part, whole."""
        how = zstandard.COMPRESSOBJ_FLUSH_FINISH if last else zstandard.COMPRESSOBJ_FLUSH_BLOCK
        return self._frame.compress(data) + self._frame.flush(how)


OPENERS: dict[str, type[Opener]] = {IDENTITY: Plain, GZIP: OpenGzip, ZSTD: OpenZstd}
PACKERS: dict[str, type[Packer]] = {IDENTITY: Plain, GZIP: PackGzip, ZSTD: PackZstd}


def opener_for(content_encoding: str | None, *, media: Sequence[str] = ("application/json",)) -> Opener:
    """What opens a body of a coding. Raises WrongMediaType for one that isn't read here. media: the types that are."""
    name = _plain(content_encoding or IDENTITY)
    if name not in OPENERS:
        detail = f"Content-Encoding must be one of {', '.join(CODINGS)}, and one alone."
        raise WrongMediaType(detail, media=media, encodings=CODINGS)
    return OPENERS[name]()


def _plain(name: str) -> str:
    name = name.strip().lower()
    return ALSO_CALLED.get(name, name)


def choose_coding(accept_encoding: str | None) -> str:
    """The coding of an answer (RFC 9110 section 12.5.3).

    Identity where it is named and liked better than any other, or none of the others is asked for.

    >>> choose_coding("gzip, br"), choose_coding("gzip, zstd"), choose_coding("zstd;q=0.1, gzip"), choose_coding("br")
    ('gzip', 'zstd', 'gzip', 'identity')
    """
    asked = {_plain(name): quality for name, quality in weighted(accept_encoding or "")}
    liked = {name: asked.get(name, asked.get("*", 0.0)) for name in CODINGS if name != IDENTITY}
    best = max(liked, key=lambda name: liked[name])
    return best if liked[best] > 0 and liked[best] >= asked.get(IDENTITY, 0.0) else IDENTITY
