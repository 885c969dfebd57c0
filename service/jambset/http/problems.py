"""Every error as a problem (RFC 9457): the answer to the caller, and the page that explains its type.

The types are the classes of the error tree in jambset.errors plus one for a fault of the service
itself. An answer names its type by the address of its page.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape
from inspect import cleandoc
from typing import Any, NamedTuple

import msgspec
from litestar.exceptions import HTTPException
from msgspec import UNSET, UnsetType

from jambset.errors import (
    BodyTooLarge,
    Busy,
    FieldError,
    HeadersTooLarge,
    InvalidRequest,
    MissingKey,
    NotAcceptable,
    RequestError,
    SlowBody,
    TargetTooLong,
    TooManyRequests,
    UnknownResource,
    UnreadableBody,
    WrongHost,
    WrongMediaType,
    WrongMethod,
    code_of,
)

RETRY_SECONDS = 1
"""When to try again where the service was too busy [s]."""
CHALLENGE = 'Bearer realm="jambset"'
"""What a caller without a key is asked for; a parameter must stand in it (RFC 6750 section 3)."""
QUERY = "?"
"""A field error whose pointer starts with this names a query parameter, not a place in the body."""


class ProblemField(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One thing wrong with one field of the body, or with one query parameter."""

    pointer: str | UnsetType = UNSET
    """Place in the body: a JSON Pointer as a URI fragment (RFC 6901 section 6)."""
    parameter: str | UnsetType = UNSET
    """Name of the query parameter."""
    code: str
    """Stable code a program can switch on."""
    detail: str
    """How to fix it."""


class Problem(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A problem as answered, application/problem+json."""

    type: str
    """Address of the page that explains this type of problem."""
    title: str
    """The type's title; it never changes."""
    status: int
    """Status of HTTP, as of the answer; of a line, the one it would have had alone."""
    detail: str
    """What is wrong with this request."""
    code: str
    """Stable code of the type."""
    instance: str | UnsetType = UNSET
    """The request's id as a URN; the service's log has it too."""
    errors: tuple[ProblemField, ...] = ()
    """Every field that is wrong."""


class FieldCode(msgspec.Struct, frozen=True):
    """A code that an entry of errors may have, and what it means."""

    code: str
    """What a program switches on."""
    meaning: str
    """What is wrong then."""


class ProblemType(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A type of problem, explained."""

    type: str
    """Address of this page, as problems have it."""
    title: str
    """As problems have it."""
    status: int
    """Status of HTTP."""
    code: str
    """As problems have it."""
    meaning: str
    """What happened."""
    how_to_mend: str
    """What the caller can do."""
    field_codes: tuple[FieldCode, ...] = ()
    """Codes of the entries in errors, where the type has them."""


class Kind(NamedTuple):
    """What is fixed for a type of problem."""

    slug: str
    title: str
    status: int
    meaning: str
    mend: str

    @property
    def code(self) -> str:
        """The machine code."""
        return code_of(self.slug)


MEND: dict[type[RequestError], str] = {
    RequestError: "Read detail: it says which part of the request the service can't answer.",
    UnreadableBody: (
        "Send one JSON object in UTF-8 without a byte order mark. Write every key once. Numbers are finite: NaN, "
        "Infinity and numbers of thousands of digits are no JSON here. If a stream ends this way, send all of it again."
    ),
    MissingKey: "Send the header Authorization: Bearer and the key that this service's operator gave you.",
    SlowBody: "Send the body in one go, over a connection that can carry it; GET /v1/limits has the seconds.",
    UnknownResource: "Check the address against /openapi.json, and an id against the list it comes from.",
    WrongMethod: "Use one of the methods named in the response's Allow header.",
    NotAcceptable: "Name one of the media types listed in detail in the Accept header, or leave the header out.",
    BodyTooLarge: (
        "Send a shorter body; GET /v1/limits has the limits. Send openings one by one, or as a stream to "
        "/v1/openings/bulk."
    ),
    TargetTooLong: "Check the address, and leave out what its query doesn't take; GET /v1/limits has the limits.",
    WrongMediaType: (
        "Send the Content-Type that detail and the response's Accept name, and a coding that Accept-Encoding names; "
        "all bodies are read in UTF-8, and those of one opening or a house as application/json, uncompressed."
    ),
    WrongHost: "Use a host name that this service accepts; its operator can add one.",
    TooManyRequests: (
        "Send the same request again after the seconds in Retry-After. RateLimit in every answer says how many more "
        "may come at once, and a house or a stream of openings is one request."
    ),
    HeadersTooLarge: "Send fewer or shorter header fields; GET /v1/limits has the limit.",
    Busy: "Send the same request again after the seconds in Retry-After: a POST here changes nothing.",
    InvalidRequest: (
        "Go through errors: each entry names one field by a JSON Pointer (or one query parameter), has a stable code, "
        "and says how to fix it. All faults are listed at once; names and shapes are checked first, then how the "
        "fields agree with each other."
    ),
}
FIELD_CODES: dict[str, str] = {
    "missing_field": "A required field is not there.",
    "unknown_field": "No field here has this name; often a misspelling.",
    "wrong_type": "The value is of another JSON type, or a quantity was written without its unit.",
    "not_allowed": "The value is not one of those this field takes.",
    "unknown_name": "The catalogue in use has no such place, material, piece, grid or rule set.",
    "unknown_kind": "kind names no branch of this union.",
    "too_small": "The number is below its limit.",
    "too_large": "The number is above its limit.",
    "too_short": "The text has too few characters.",
    "too_long": "The text has too many characters.",
    "too_few": "The list has too few items.",
    "too_many": "The list has too many items.",
    "wrong_pattern": "The text doesn't have the form this field takes.",
    "wrong_date": "The text is not a calendar date as YYYY-MM-DD.",
    "unreadable": "A quantity's text can't be read without guessing.",
    "wrong_members": "A quantity's object has members other than value and unit.",
    "unknown_unit": "The unit isn't one that this quantity takes.",
    "out_of_range": "The number of a quantity is beyond anything that can be meant.",
    "implausible": "The quantity can be read but is not plausible for this field; often another unit was meant.",
    "unknown_parameter": "The address takes no query parameter of this name.",
    "repeated_parameter": "A query parameter is there twice.",
    "other_media_type": "The query parameter belongs to a media type other than the one that Accept chose.",
    "repeated": "The list has an item twice.",
    "not_a_finish": "The top layer of a build-up is one that must be covered.",
    "out_of_order": "Least, nominal and greatest don't rise.",
    "not_set": "A foot is stated for a frame that is not fixed yet.",
    "contradiction": "Two fields contradict each other.",
    "weights": "The likelihoods of a side's floors can't be shared out.",
    "unknown_mark": "No opening of the house has this mark.",
    "invalid": "The field was refused for another reason, given in detail.",
}
"""Every code an entry of errors can have: those of the rim, of quantities, and of fields that don't agree."""

INTERNAL = Kind(
    "internal-error",
    "The service failed",
    500,
    "The fault is the service's, not the caller's; its log has the trace under the id in instance.",
    "Send the same request again: a POST here changes nothing. If it fails again, report the instance.",
)


def tree(root: type[RequestError] = RequestError) -> Iterator[type[RequestError]]:
    """The class and all that derive from it."""
    yield root
    for branch in root.__subclasses__():
        yield from tree(branch)


def kind_of(cls: type[RequestError]) -> Kind:
    """What is fixed for a class of the tree. A class without a slug of its own has its parent's type."""
    owner = next(base for base in cls.__mro__ if issubclass(base, RequestError) and "slug" in vars(base))
    return Kind(owner.slug, owner.title, owner.status, cleandoc(owner.__doc__ or ""), MEND[owner])


def kinds() -> dict[str, Kind]:
    """Every type of problem by its slug."""
    return {kind.slug: kind for kind in (*map(kind_of, tree()), INTERNAL)}


_BY_STATUS: dict[int, type[RequestError]] = {
    cls.status: cls for cls in (RequestError, UnknownResource, WrongMethod, NotAcceptable, BodyTooLarge, WrongMediaType)
}
_DETAILS: dict[type[RequestError], str] = {
    UnknownResource: "There is nothing at this address; /openapi.json lists all there is.",
    WrongMethod: "This address doesn't take the method; the Allow header names those it takes.",
}


def as_request_error(fault: HTTPException) -> RequestError | None:
    """The framework's own refusal as an error of the tree; None for a fault of the service."""
    if not 400 <= fault.status_code < 500:
        return None
    cls = _BY_STATUS.get(fault.status_code, RequestError)
    return cls(_DETAILS.get(cls, f"{str(fault.detail).rstrip('.')}."))


def instance_of(request_id: str) -> str:
    """The URN of a request."""
    return f"urn:request-id:{request_id}"


def problem_of(fault: RequestError | None, *, instance: str | UnsetType = UNSET, base: str = "") -> Problem:
    """The answer to an error of the tree; without one, to a fault of the service.

    instance: URN of the request. base: what stands before /problems/{slug}.
    """
    kind = INTERNAL if fault is None else kind_of(type(fault))
    return Problem(
        type=f"{base}/problems/{kind.slug}",
        title=kind.title,
        status=kind.status,
        detail=_FAILED if fault is None else fault.detail,
        code=kind.code,
        instance=instance,
        errors=() if fault is None else tuple(map(_field, fault.errors)),
    )


_FAILED = "Something failed that is not your fault; try again or report it."


def _field(error: FieldError) -> ProblemField:
    if error.pointer.startswith(QUERY):
        return ProblemField(parameter=error.pointer.removeprefix(QUERY), code=error.code, detail=error.detail)
    return ProblemField(pointer=error.pointer, code=error.code, detail=error.detail)


def headers_of(fault: RequestError | None) -> dict[str, str]:
    """Headers of the answer to an error; without one, to a fault of the service. None is stored."""
    return {"Cache-Control": "no-store", **_own_headers(fault)}


def _own_headers(fault: RequestError | None) -> Mapping[str, str]:
    """Headers that a refusal must have (RFC 9110 sections 11.6.1, 12.5.3, 15.5.9 and 15.5.16; RFC 6585; RFC 6750)."""
    match fault:
        case WrongMediaType():
            return {"Accept": ", ".join(fault.media), "Accept-Encoding": ", ".join(fault.encodings)}
        case MissingKey():
            return {"WWW-Authenticate": CHALLENGE + (', error="invalid_token"' if fault.unknown else "")}
        case TooManyRequests():
            return {"Retry-After": str(fault.retry_seconds)}
    return _HEADERS.get(type(fault), {})


_HEADERS: dict[type, Mapping[str, str]] = {
    NotAcceptable: {"Vary": "Accept"},
    SlowBody: {"Connection": "close"},
    Busy: {"Retry-After": str(RETRY_SECONDS)},
}


# --- pages


def explain(kind: Kind, *, base: str = "") -> ProblemType:
    """The page of a type as data."""
    listed = kind.slug == InvalidRequest.slug
    return ProblemType(
        type=f"{base}/problems/{kind.slug}",
        title=kind.title,
        status=kind.status,
        code=kind.code,
        meaning=kind.meaning,
        how_to_mend=kind.mend,
        field_codes=tuple(FieldCode(code, meaning) for code, meaning in FIELD_CODES.items()) if listed else (),
    )


def explain_html(page: ProblemType) -> str:
    """The page of a type for a browser: no script, no style, nothing from elsewhere."""
    rows = "".join(f"<dt><code>{escape(c.code)}</code></dt><dd>{escape(c.meaning)}</dd>" for c in page.field_codes)
    codes = f"<h2>Codes of the entries in errors</h2><dl>{rows}</dl>" if rows else ""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(page.title)}</title>'
        f'<meta name="viewport" content="width=device-width"></head><body><main><h1>{escape(page.title)}</h1>'
        f"<p>Status {page.status}, code <code>{escape(page.code)}</code></p>"
        f"<h2>What it means</h2><p>{escape(page.meaning)}</p>"
        f"<h2>How to fix it</h2><p>{escape(page.how_to_mend)}</p>{codes}"
        f'<p><a href="/docs">All calls</a></p></main></body></html>'
    )


def encode(problem: Any) -> bytes:
    """A problem as bytes."""
    return msgspec.json.encode(problem)
