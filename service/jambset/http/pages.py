"""What a GET answers: bytes with a strong ETag over their content, 304 for a caller that has them."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import NamedTuple
from urllib.parse import parse_qsl

from litestar import Request, Response
from litestar.datastructures import State
from litestar.enums import HttpMethod

from jambset.errors import FieldError, InvalidRequest, counted, listed
from jambset.http.fields import fields, text
from jambset.http.negotiate import choose
from jambset.http.problems import QUERY

Call = Request[None, None, State]
Answer = Response[bytes]

READ = (HttpMethod.GET, HttpMethod.HEAD)
"""HEAD wherever GET."""

REVALIDATE = "public, max-age=300, must-revalidate"
ASSET = "public, max-age=86400"
NO_STORE = "no-store"


class Page(NamedTuple):
    """A representation ready to send."""

    content: bytes
    media_type: str
    headers: dict[str, str]


def page(content: bytes, media_type: str, *, cache: str = REVALIDATE, headers: Mapping[str, str] | None = None) -> Page:
    """A representation; unless it may not be stored it has an ETag, the same for the same bytes."""
    etag = {} if cache == NO_STORE else {"ETag": f'"{hashlib.sha256(content).hexdigest()[:32]}"'}
    return Page(content, media_type, {**etag, "Cache-Control": cache, "Vary": "Accept", **(headers or {})})


def send(call: Call, *pages: Page) -> Answer:
    """The page, among the renditions of one resource, that the caller likes best, or 304. Raises NotAcceptable."""
    asked = fields(call.scope["headers"])
    by_type = {candidate.media_type.partition(";")[0]: candidate for candidate in pages}
    chosen = by_type[choose(text(asked, b"accept"), tuple(by_type))]
    if _known(text(asked, b"if-none-match"), chosen.headers.get("ETag")):
        return Response(b"", status_code=304, headers=chosen.headers, media_type=chosen.media_type)
    return Response(chosen.content, status_code=200, headers=chosen.headers, media_type=chosen.media_type)


def _known(if_none_match: str | None, etag: str | None) -> bool:
    """Whether the caller has this representation already (RFC 9110 section 13.1.2, weak comparison)."""
    if if_none_match is None or etag is None:
        return False
    return if_none_match.strip() == "*" or etag in {t.strip().removeprefix("W/") for t in if_none_match.split(",")}


def read_query(query_string: bytes, known: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """The query parameters of a call, each at most once.

    query_string: as long as the guard lets pass. known: names of the parameters the address takes, each with its
    allowed values.
    Raises InvalidRequest naming every parameter (at most MOST_ERRORS) that is unknown, repeated or not one of its
    values.
    """
    pairs = parse_qsl(query_string.decode("latin-1"), keep_blank_values=True)
    faults = (fault for place, pair in enumerate(pairs) if (fault := _query_fault(pair, pairs[:place], known)))
    told, more = listed(faults)
    if told:
        raise refused_query(told, more=more)
    return dict(pairs)


def refused_query(faults: tuple[FieldError, ...], *, more: str = "") -> InvalidRequest:
    """The refusal of a call for its query parameters. more: what else to say."""
    return InvalidRequest(
        f"{counted(len(faults), 'query parameter')} can't be accepted; errors says which.{more}", faults
    )


def _query_fault(
    pair: tuple[str, str], before: list[tuple[str, str]], known: Mapping[str, tuple[str, ...]]
) -> FieldError | None:
    name, value = pair
    where = f"{QUERY}{name[:40]}"
    if name not in known:
        detail = f"This address takes {', '.join(known) or 'no query parameter'}; leave this one out."
        return FieldError(where, "unknown_parameter", detail)
    if name in (earlier for earlier, _ in before):
        return FieldError(where, "repeated_parameter", "Write each query parameter once.")
    if value not in known[name]:
        return FieldError(where, "not_allowed", f"{name} must be one of: {', '.join(known[name])}.")
    return None
