"""The exception tree. A failed rule is a result, never an exception.

    JambsetError
    ├── CatalogueError            a rule file is damaged: the service refuses to start
    └── RequestError              the caller can mend it; carries a problem type and a status
        ├── UnreadableBody        400  not JSON, not UTF-8, a key written twice
        ├── MissingKey            401
        ├── UnknownResource       404
        ├── WrongMethod           405
        ├── NotAcceptable         406
        ├── SlowBody              408
        ├── BodyTooLarge          413
        ├── TargetTooLong         414
        ├── WrongMediaType        415
        ├── WrongHost             421
        ├── InvalidRequest        422  readable, but fields are wrong; lists every one of them
        │   └── QuantityError     422  one length, flow, pressure, area or temperature
        ├── TooManyRequests       429
        ├── HeadersTooLarge       431
        └── Busy                  503  as much of this kind is under way as may be, or the service stops

Each class of a request error has its status, slug and title; http.problems answers from them, and its docstring is
what callers read of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from difflib import SequenceMatcher, get_close_matches
from itertools import chain, islice
from typing import ClassVar, NamedTuple

MOST_ERRORS = 100
"""Errors listed in one answer; a body or a query with more is mended in rounds."""


class FieldError(NamedTuple):
    """One thing wrong with one field: where (URI-fragment JSON Pointer), a stable code, how to mend it."""

    pointer: str
    code: str
    detail: str


class JambsetError(Exception):
    """Root of all errors this package raises on purpose."""


class CatalogueError(JambsetError):
    """A rule file can't be trusted: names the file and the row."""

    def __init__(self, *, file: str, row: str, detail: str) -> None:
        super().__init__(f"{file}, {row}: {detail}")
        self.file = file
        self.row = row
        self.detail = detail


class RequestError(JambsetError):
    """A request the service can't answer; `errors` holds every field that is wrong."""

    status: ClassVar[int] = 400
    slug: ClassVar[str] = "bad-request"
    title: ClassVar[str] = "The request can't be answered"

    def __init__(self, detail: str, errors: tuple[FieldError, ...] = ()) -> None:
        super().__init__(detail)
        self.detail = detail
        self.errors = errors


class UnreadableBody(RequestError):
    """The body isn't JSON in UTF-8, a key stands twice in one object, or it ends early or its coding is damaged."""

    slug = "unreadable-body"
    title = "The body can't be read"


class MissingKey(RequestError):
    """This service answers callers with a key alone, and the request has none, or one that the service doesn't know."""

    status = 401
    slug = "missing-key"
    title = "A valid key is needed"

    def __init__(self, detail: str, errors: tuple[FieldError, ...] = (), *, unknown: bool = False) -> None:
        super().__init__(detail, errors)
        self.unknown = unknown
        """Whether one came."""


class UnknownResource(RequestError):
    """Nothing lives at this address."""

    status = 404
    slug = "unknown-resource"
    title = "Nothing lives at this address"


class WrongMethod(RequestError):
    """The address exists, the method doesn't."""

    status = 405
    slug = "wrong-method"
    title = "This address doesn't take that method"


class NotAcceptable(RequestError):
    """None of the offered media types is accepted by the caller."""

    status = 406
    slug = "not-acceptable"
    title = "No offered media type is acceptable"


class SlowBody(RequestError):
    """The body didn't arrive within the time allowed; the connection is closed."""

    status = 408
    slug = "slow-body"
    title = "The body took too long to arrive"


class BodyTooLarge(RequestError):
    """The body is longer than the published limit."""

    status = 413
    slug = "body-too-large"
    title = "The body is too large"


class TargetTooLong(RequestError):
    """The target of the request, or the query in it, is longer than the published limit."""

    status = 414
    slug = "target-too-long"
    title = "The target of the request is too long"


class WrongMediaType(RequestError):
    """The body's media type or content coding isn't one this call reads."""

    status = 415
    slug = "wrong-media-type"
    title = "The body has a media type this call doesn't read"

    def __init__(
        self,
        detail: str,
        errors: tuple[FieldError, ...] = (),
        *,
        media: Sequence[str] = ("application/json",),
        encodings: Sequence[str] = ("identity",),
    ) -> None:
        super().__init__(detail, errors)
        self.media, self.encodings = media, encodings
        """Those it reads."""


class WrongHost(RequestError):
    """The Host header names a host that this service doesn't answer for."""

    status = 421
    slug = "wrong-host"
    title = "This service doesn't answer for that host"


class TooManyRequests(RequestError):
    """The caller sent more requests than its rate allows; Retry-After says in how many seconds one more is allowed."""

    status = 429
    slug = "too-many-requests"
    title = "Too many requests for now"

    def __init__(self, detail: str, errors: tuple[FieldError, ...] = (), *, retry_seconds: int = 1) -> None:
        super().__init__(detail, errors)
        self.retry_seconds = retry_seconds


class HeadersTooLarge(RequestError):
    """Target and header section together are longer than the published limit, or have more fields."""

    status = 431
    slug = "headers-too-large"
    title = "The header section is too large"


class Busy(RequestError):
    """The service has as much of this kind of work under way as it takes on at one time, or it is stopping."""

    status = 503
    slug = "busy"
    title = "The service can't take this on for now"


class InvalidRequest(RequestError):
    """The body is JSON, but fields are missing, misspelt, of the wrong kind or not plausible."""

    status = 422
    slug = "invalid-request"
    title = "Fields of the request are invalid"


def code_of(slug: str) -> str:
    """The code of a type of problem, as programs read it.

    >>> code_of("invalid-request")
    'invalid_request'
    """
    return slug.replace("-", "_")


def shown(text: str, longest: int = 40) -> str:
    """A caller's text as a message quotes it, cut off when long."""
    return text if len(text) <= longest else f"{text[:longest]}…"


def counted(count: int, noun: str) -> str:
    """So many of something, in words that fit.

    >>> counted(1, "field"), counted(2, "field")
    ('1 field', '2 fields')
    """
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def nearest(given: str, known: Iterable[str]) -> str:
    """A question after the known name that is most like the given one; nothing when none is."""
    close = get_close_matches(shown(given), list(known), n=1, cutoff=0.7)
    return f' Did you mean "{close[0]}"?' if close else ""


FEW = 12
"""Names that a sentence lists; of more it says where they are listed."""
_NOT = frozenset({"no", "non", "not", "without"})
"""What stands before a name that isn't meant."""
_PARTS = re.compile(r"[a-z]+|[A-Z]+(?![a-z])|[A-Z][a-z]+|[0-9/]+")


class Known:
    """The names that a field takes, what else each is called, and where they are listed where they are many."""

    def __init__(
        self, names: Iterable[str], *, also: Mapping[str, Iterable[str]] | None = None, listed: str = ""
    ) -> None:
        self.names = tuple(sorted(names))
        self._listed = listed
        self._own = {evened(name): (name,) for name in self.names}
        self._by_word: dict[str, tuple[str, ...]] = dict(self._own)
        for name, words in (also or {}).items():
            for word in map(evened, words):
                self._by_word[word] = (*self._by_word.get(word, ()), name)

    def brief(self) -> str:
        """Which names there are.

        >>> Known(["solid", "hollow"]).brief(), Known(map(str, range(13)), listed="GET /v1/finishes").brief()
        ('one of: hollow, solid', 'one of the 13 that GET /v1/finishes lists')
        """
        if len(self.names) <= FEW or not self._listed:
            return f"one of: {', '.join(self.names)}"
        return f"one of the {len(self.names)} that {self._listed} lists"

    def instead(self, given: str) -> str:
        """What to write in place of a name that isn't known: what is likely meant, then which there are.

        >>> Known(["solid", "hollow"], also={"hollow": ["honeycomb"]}).instead("Honeycomb core")
        ' Did you mean "hollow"? Use one of: hollow, solid.'
        """
        return f"{self.meant(given)} Use {self.brief()}."

    def meant(self, given: str) -> str:
        """A question after what is likely meant: by case and spaces evened out, by another word, by likeness."""
        found = " or ".join(f'"{name}"' for name in self._likely(shown(given)))
        return f" Did you mean {found}?" if found else ""

    def _likely(self, given: str) -> tuple[str, ...]:
        plain = evened(given)
        if plain in self._by_word:
            return self._by_word[plain]
        parts = [part.casefold() for part in _PARTS.findall(given)]
        if not _NOT.isdisjoint(parts):
            return ()
        close = get_close_matches(plain, self._compared(plain), n=1, cutoff=0.7)
        if close and SequenceMatcher(None, plain, close[0]).ratio() >= _VERY_LIKE:
            return self._by_word[close[0]]
        return next((self._by_word[word] for word in chain(self._within(parts), close)), ())

    def _compared(self, plain: str) -> list[str]:
        """All names, and of the other words, which are many, those with the same first letter: comparing takes long."""
        return [word for word in self._by_word if word in self._own or word[:1] == plain[:1]]

    def _within(self, parts: list[str]) -> Iterator[str]:
        """Known words that stand in a longer name, the longest first."""
        for length in range(len(parts), 0, -1):
            runs = ("".join(parts[start : start + length]) for start in range(len(parts) - length + 1))
            yield from (run for run in runs if run in self._by_word)


_VERY_LIKE = 0.85
"""Likeness of a misspelling; less is likelier a longer name."""


def evened(text: str) -> str:
    """A name without what differs from one system to another: case, spaces, hyphens, underscores, points.

    >>> evened("Stile-and-Rail") == evened("stile_and_rail")
    True
    """
    return text.casefold().translate(_EVEN)


_EVEN = str.maketrans("", "", " \t-_.")


def unknown(pointer: str, given: str, known: Known) -> FieldError:
    """A name that the catalogue doesn't hold, with what is likely meant and those it does hold."""
    return FieldError(pointer, "unknown_name", f'"{shown(given)}" is not known here.{known.instead(given)}')


def listed(errors: Iterable[FieldError], most: int = MOST_ERRORS) -> tuple[tuple[FieldError, ...], str]:
    """At most so many errors, and what is said where there are more."""
    found = tuple(islice(errors, most + 1))
    return found[:most], f" Only the first {most} are listed." if len(found) > most else ""


def refusal(errors: Sequence[FieldError], *, more: str = "") -> InvalidRequest:
    """The refusal of a body for the errors in it. more: what else to say."""
    fields = len({error.pointer for error in errors})
    detail = f"{counted(fields, 'field')} can't be accepted; errors says which and how to fix each.{more}"
    return InvalidRequest(detail, tuple(errors))


class QuantityError(InvalidRequest, ValueError):
    """A quantity that can't be read or isn't plausible. A ValueError, so that msgspec adds the field's path."""

    def __init__(self, code: str, detail: str) -> None:
        super().__init__(detail, (FieldError("#", code, detail),))
        self.code = code
