"""Which rendition a caller accepts, and whether a body is of the kind this service reads (RFC 9110 section 12)."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from jambset.errors import NotAcceptable, WrongMediaType

JSON = "application/json"
PROBLEM_JSON = "application/problem+json"
HEALTH_JSON = "application/health+json"
HTML = "text/html"
TEXT = "text/plain"
CSV = "text/csv"
CALENDAR = "text/calendar"
SVG = "image/svg+xml"
PDF = "application/pdf"
JAVASCRIPT = "text/javascript"
CSS = "text/css"

_RANGE = re.compile(r"^([!#$%&'*+.^_`|~0-9A-Za-z-]+)/([!#$%&'*+.^_`|~0-9A-Za-z-]+)$")
_QUALITY = re.compile(r"^(?:0(?:\.[0-9]{0,3})?|1(?:\.0{0,3})?)$")


class MediaRange(NamedTuple):
    """One part of an Accept header: the types it covers, how exactly it names them, how welcome they are."""

    kind: str
    subtype: str
    quality: float

    @property
    def exactness(self) -> int:
        """2 for a full type, 1 for type/*, 0 for */*."""
        return (self.kind != "*") + (self.subtype != "*")

    def covers(self, offer: str) -> bool:
        """Whether an offered media type lies in this range."""
        kind, _, subtype = offer.partition("/")
        return self.kind in {"*", kind} and self.subtype in {"*", subtype}


@lru_cache(maxsize=512)
def choose(accept: str | None, offers: Sequence[str]) -> str:
    """The offered media type the caller likes best; among equals the one offered first.

    accept: the Accept header, None when there is none. offers: media types without parameters.
    Raises NotAcceptable when none is accepted; a part that can't be read accepts nothing.
    >>> choose("text/html;q=0.5, application/*", ("text/html", "application/json"))
    'application/json'
    """
    ranges = tuple(_ranges(accept)) if accept and accept.strip() else (MediaRange("*", "*", 1.0),)
    best = max(offers, key=lambda offer: _quality(offer, ranges))
    if _quality(best, ranges) > 0:
        return best
    raise NotAcceptable(f"This address answers {', '.join(offers)}; name one of them in Accept.")


def _ranges(accept: str) -> list[MediaRange]:
    return [found for part in weighted(accept) if (found := _range(*part)) is not None]


def weighted(header: str) -> Iterator[tuple[str, float]]:
    """The parts of a header of preferences, each with its quality; one whose quality can't be read is left out."""
    for part in header.split(","):
        name, *parameters = (piece.strip() for piece in part.split(";"))
        quality = next((p.partition("=")[2].strip() for p in parameters if p.lower().startswith("q=")), "1")
        if _QUALITY.match(quality):
            yield name, float(quality)


def _range(name: str, quality: float) -> MediaRange | None:
    match = _RANGE.match(name)
    if match is None or (match[1] == "*" and match[2] != "*"):
        return None
    return MediaRange(match[1].lower(), match[2].lower(), quality)


def _quality(offer: str, ranges: Sequence[MediaRange]) -> float:
    """What the most exact range that covers the offer says of it, 0 when none does."""
    covering = [r for r in ranges if r.covers(offer)]
    return max(covering, key=lambda r: (r.exactness, r.quality)).quality if covering else 0.0


@lru_cache(maxsize=128)
def require_json(content_type: str | None, content_encoding: str | None) -> None:
    """Let an uncompressed JSON body in UTF-8 pass.

    content_type, content_encoding: the headers, None where there is none.
    Raises WrongMediaType otherwise: a charset other than UTF-8, another parameter, a compressed body.
    """
    if (content_encoding or "identity").strip().lower() != "identity":
        raise WrongMediaType(f'Content-Encoding "{_shown(content_encoding)}" isn\'t read here; send the body as it is.')
    require_type(content_type, (JSON,))


def require_type(content_type: str | None, media: Sequence[str], encodings: Sequence[str] = ("identity",)) -> None:
    """Let a body in UTF-8 of one of some media types pass. encodings: the codings in which it is read.

    Raises WrongMediaType otherwise: a charset other than UTF-8, another parameter.
    """
    name, _, parameters = (content_type or "").partition(";")
    plain = parameters.strip().strip('"').lower()
    if name.strip().lower() not in media or plain.replace('"', "").replace(" ", "") not in {"", "charset=utf-8"}:
        detail = f'Content-Type must be {" or ".join(media)} in UTF-8, not "{_shown(content_type)}".'
        raise WrongMediaType(detail, media=media, encodings=encodings)


def _shown(value: str | None) -> str:
    return (value or "")[:60].encode("ascii", "replace").decode()
