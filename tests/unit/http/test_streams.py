"""Lines and content codings of a stream: the same whatever parts it comes in, bounded whatever it says."""

from __future__ import annotations

import gzip
import itertools
from collections.abc import Callable, Iterable

import pytest
import zstandard
from hypothesis import example, given
from hypothesis import strategies as st

from jambset.errors import UnreadableBody, WrongMediaType
from jambset.http.codings import CODINGS, GZIP, IDENTITY, PACKERS, PIECE, ZSTD, Opener, choose_coding, opener_for
from jambset.http.lines import Lines

LONGEST = 16


def parted(data: bytes, cuts: Iterable[int]) -> list[bytes]:
    places = sorted({0, len(data), *(cut % (len(data) + 1) for cut in cuts)})
    return [data[start:end] for start, end in itertools.pairwise(places)]


# --- lines


@given(st.lists(st.binary(max_size=LONGEST).filter(lambda line: not {10, 13} & set(line))), st.lists(st.integers(0)))
def test_lines_come_out_as_they_went_in_whatever_the_parts(texts: list[bytes], cuts: list[int]) -> None:
    lines = Lines(LONGEST)
    found = [line for part in parted(b"\r\n".join(texts), cuts) for line in lines.feed(part)]
    assert [*found, lines.finish()] == (texts or [b""])


@given(st.integers(0, 40), st.lists(st.integers(0)))
def test_a_line_is_refused_once_and_only_when_it_is_too_long(size: int, cuts: list[int]) -> None:
    lines = Lines(LONGEST)
    found = [line for part in parted(b"x" * size + b"\nnext\n", cuts) for line in lines.feed(part)]
    assert found == [b"x" * size if size <= LONGEST else None, b"next"]


@given(st.integers(0, 40), st.sampled_from([b"", b"\r"]), st.lists(st.integers(0)))
@example(LONGEST + 1, b"", [])
def test_so_is_the_last_one_that_has_no_end(size: int, end: bytes, cuts: list[int]) -> None:
    lines = Lines(LONGEST)
    found = [line for part in parted(b"x" * size + end, cuts) for line in lines.feed(part)]
    assert [one for one in (*found, lines.finish()) if one != b""] == (
        [b"x" * size if size <= LONGEST else None] if size else []
    )


def test_no_more_than_one_line_is_held() -> None:
    lines = Lines(LONGEST)
    found = [line for _ in range(1_000) for line in lines.feed(b"y" * 1_000)]
    assert found == [None]
    assert len(lines._held) <= LONGEST + 1
    assert lines.finish() == b""


# --- codings


def packed(name: str, data: bytes) -> bytes:
    """By the library's own one-shot calls."""
    packers: dict[str, Callable[[bytes], bytes]] = {IDENTITY: bytes, GZIP: gzip.compress, ZSTD: zstandard.compress}
    return packers[name](data)


def opened(opener: Opener, parts: Iterable[bytes]) -> bytes:
    data = b"".join(piece for part in parts for piece in opener.feed(part))
    opener.finish()
    return data


@given(st.sampled_from(CODINGS), st.binary(max_size=3_000), st.lists(st.integers(0)))
def test_a_coded_body_is_opened_whatever_the_parts(name: str, data: bytes, cuts: list[int]) -> None:
    assert opened(opener_for(name), parted(packed(name, data), cuts)) == data


@given(st.sampled_from(CODINGS), st.lists(st.binary(max_size=500), min_size=1))
def test_each_part_that_is_packed_can_be_opened_as_soon_as_it_comes(name: str, parts: list[bytes]) -> None:
    packer, opener, sent = PACKERS[name](), opener_for(name), b""
    for place, part in enumerate(parts):
        sent += b"".join(opener.feed(packer.pack(part, last=place == len(parts) - 1)))
        assert sent == b"".join(parts[: place + 1])
    opener.finish()


@pytest.mark.parametrize("name", [GZIP, ZSTD])
def test_several_members_one_after_the_other_are_one_body(name: str) -> None:
    assert opened(opener_for(name), [packed(name, b"one") + packed(name, b"two")]) == b"onetwo"


@pytest.mark.parametrize("name", [GZIP, ZSTD])
@pytest.mark.parametrize("kept", [1, 10, -1])
def test_a_body_that_ends_within_its_coding_is_unreadable(name: str, kept: int) -> None:
    with pytest.raises(UnreadableBody, match=f"ends within its {name} coding"):
        opened(opener_for(name), [packed(name, b"some text" * 100)[:kept]])


@pytest.mark.parametrize("name", [GZIP, ZSTD])
def test_what_is_no_such_coding_is_unreadable(name: str) -> None:
    with pytest.raises(UnreadableBody, match=f"isn't {name}"):
        opened(opener_for(name), [b'{"mark": "D1"}'])


def test_a_checksum_that_fails_is_found() -> None:
    damaged = bytearray(gzip.compress(b"some text"))
    damaged[-6] ^= 1
    with pytest.raises(UnreadableBody, match="damaged"):
        opened(opener_for(GZIP), [bytes(damaged)])


@pytest.mark.parametrize(("name", "most"), [(GZIP, PIECE), (ZSTD, 4 * 1024 * 1024)])
def test_a_bomb_comes_out_in_pieces_of_bounded_size(name: str, most: int) -> None:
    """256 MiB of zeros in a few hundred kB at most."""
    size = 256 * 1024 * 1024
    bomb = packed(name, bytes(size))
    assert len(bomb) < 300_000
    sizes = [len(piece) for piece in opener_for(name).feed(bomb)]
    assert sum(sizes) == size
    assert max(sizes) <= most


def test_a_window_beyond_what_a_content_coding_may_have_is_refused() -> None:
    parameters = zstandard.ZstdCompressionParameters(window_log=25, enable_ldm=True)
    maker = zstandard.ZstdCompressor(compression_params=parameters).compressobj()
    body = maker.compress(bytes(100)) + maker.flush()
    with pytest.raises(UnreadableBody, match="window of at most 8 MiB"):
        opened(opener_for(ZSTD), [body])


def test_gzip_is_read_by_its_old_name_too() -> None:
    """RFC 9110 section 8.4.1.3."""
    assert opened(opener_for("X-Gzip"), [packed(GZIP, b"text")]) == b"text"


@pytest.mark.parametrize("name", ["br", "gzip, zstd", "deflate", "x"])
def test_another_coding_is_refused_with_those_that_are_read(name: str) -> None:
    with pytest.raises(WrongMediaType, match="identity, zstd, gzip") as refused:
        opener_for(name)
    assert refused.value.encodings == CODINGS


@pytest.mark.parametrize(
    ("header", "coding"),
    [
        (None, IDENTITY),
        ("", IDENTITY),
        ("*", ZSTD),
        ("gzip, deflate, br", GZIP),
        ("gzip, deflate, br, zstd", ZSTD),
        ("ZSTD;q=0", IDENTITY),
        ("*;q=0.5, zstd;q=0.1", GZIP),
        ("identity", IDENTITY),
        ("identity;q=1, *;q=0.1", IDENTITY),
        ("identity, gzip;q=0.5", IDENTITY),
        ("gzip;q=0.5, identity;q=0.6, zstd;q=0.5", IDENTITY),
        ("identity, gzip", GZIP),  # liked alike: the shorter
        ("identity;q=0.5, gzip;q=0.6", GZIP),
        ("identity;q=0.5, *", ZSTD),
        ("gzip;q=0.001", GZIP),  # not named, identity is what is left
        ("*;q=0.1", ZSTD),
        ("*;q=0", IDENTITY),
        ("identity;q=0, br", IDENTITY),  # nothing else is left to send
        ("X-GZIP", GZIP),
        ("x-gzip;q=0, zstd;q=0", IDENTITY),
    ],
)
def test_the_coding_of_an_answer_is_chosen_as_http_has_it(header: str | None, coding: str) -> None:
    assert choose_coding(header) == coding
