"""From the bytes of a body to a request struct, or to every error in it at once.

The strict decoder stops at its first error, so a refused body is walked a second time (see faults). A house is
read as a whole first, then each opening of it, with what it takes over (see merge), as if it had come alone.
"""

from __future__ import annotations

import json
from codecs import BOM_UTF8
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import chain, islice
from typing import Any, Generic, NamedTuple, NoReturn, TypeVar

import msgspec

from jambset.engine.doors import Unread
from jambset.errors import MOST_ERRORS, FieldError, InvalidRequest, UnreadableBody, listed, refusal, shown
from jambset.http.between import faults_between, house_faults, names_of, recheck_faults
from jambset.http.faults import decoder_fault, validator_of
from jambset.http.forms import Empty, Vocabulary
from jambset.http.known import empty, vocabulary
from jambset.http.members import MEMBERS, SET_MEMBERS, Members, is_member, lost_nulls
from jambset.http.merge import common_base, merge_patch, taken_over
from jambset.model.request import House, HouseRecheck, Opening, Recheck
from jambset.quantity.parse import dec_hook
from jambset.rules.schema import Catalogue

MOST_OF_A_HOUSE = 2_000
"""Errors listed of all openings of a house, at least one of each: one fault of its defaults may fail all 500."""
LONGEST_NAME = 200
"""Longest name of a member in a house: each opening that takes it over says it again."""
MOST_MEMBERS = 200
"""Members that an object in a house may have, several times as many as have a meaning: each opening copies them."""
MOST_MARKS = 300_000
"""Commas and opening brackets in the JSON of a house, about as many as it has values: other calls wait while they are
read. 500 openings have some 20,000, with a survey of 64 points at each 150,000; 4 MiB would have room for millions."""

Between = Callable[[object], Iterable[FieldError]]
T = TypeVar("T")


def _nothing(_: object) -> Iterable[FieldError]:
    return ()


class Reader(Generic[T]):
    """Reads bodies of one kind. Holds the decoder and the validator made from the same struct.

    between: finds what is wrong between the members of a refused body that can be read by themselves. empty: what to
    do in place of an empty list.
    """

    def __init__(
        self, kind: type[T], names: Vocabulary | None = None, between: Between = _nothing, empty: Empty | None = None
    ) -> None:
        self._kind = kind
        self._decoder = msgspec.json.Decoder(kind, strict=True, dec_hook=dec_hook)
        self._faults = validator_of(kind, names or {}, empty or {})
        self._between = between

    def read(self, body: bytes) -> T:
        """The struct a body stands for.

        Raises UnreadableBody when it isn't JSON in UTF-8 or a key stands twice in one object,
        InvalidRequest with all errors (at most MOST_ERRORS) when fields are wrong.
        """
        try:
            return self._read(body)
        except RecursionError:
            raise UnreadableBody(_TOO_DEEP) from None

    def _read(self, body: bytes) -> T:
        document = document_of(body)
        try:
            return self._decoder.decode(body)
        except msgspec.ValidationError:
            _refuse_lone_surrogates(body, document)
        except msgspec.DecodeError as fault:
            _refuse_lone_surrogates(body, document)
            _unreadable(fault)
        return self.of(document)  # by the schema a number without a fraction is whole however it is written

    def of(self, document: object, lost: Sequence[FieldError] = (), most: int = MOST_ERRORS) -> T:
        """The struct that a decoded body stands for, read as strictly as its bytes.

        document: as `document_of` has it, or a part of that. lost: faults that no longer show in it. most: errors
        listed. Raises InvalidRequest with all errors (at most so many) when fields are wrong.
        """
        message = ""
        try:
            found = msgspec.convert(document, self._kind, strict=True, dec_hook=dec_hook)
            if not lost:
                return found
        except msgspec.ValidationError as fault:
            message = str(fault)
        raise self._refusal(document, message, lost, most)

    def _refusal(
        self, document: object, message: str, lost: Sequence[FieldError] = (), most: int = MOST_ERRORS
    ) -> InvalidRequest:
        by_schema = list(islice(self._faults(document), most + 1))
        unseen = [] if by_schema or not message else [decoder_fault(message)]
        return _refusal(chain(lost, by_schema, unseen, self._between(document)), most)


def _refusal(errors: Iterable[FieldError], most: int = MOST_ERRORS) -> InvalidRequest:
    told, more = listed(_once_each(errors), most)
    return refusal(told, more=more)


def _once_each(errors: Iterable[FieldError]) -> Iterator[FieldError]:
    """Each code once for a field: the schema and the engine may find the same fault."""
    seen: set[tuple[str, str]] = set()
    for error in errors:
        if error[:2] not in seen:
            seen.add(error[:2])
            yield error


def opening_reader(catalogue: Catalogue) -> Reader[Opening]:
    """Reads one opening by the names of a catalogue, and tells all that is wrong with it by field."""
    return Reader(Opening, vocabulary(catalogue), partial(faults_between, catalogue=catalogue), empty(catalogue))


def recheck_reader(catalogue: Catalogue) -> Reader[Recheck]:
    """Reads one opening as it was set, as `opening_reader` does."""
    return Reader(Recheck, vocabulary(catalogue), partial(recheck_faults, catalogue=catalogue), empty(catalogue))


Read = TypeVar("Read", bound=Opening)
Whole = TypeVar("Whole", bound=House)


class ReadHouse(NamedTuple, Generic[Whole, Read]):
    """A house, and each of its openings with what it takes over: read, or refused with its errors."""

    house: Whole
    openings: tuple[Read | Unread, ...]


class HouseReader(Generic[Whole, Read]):
    """Reads bodies of houses of one kind. opening: reads what its openings stand for. members: those they may have."""

    def __init__(self, kind: type[Whole], opening: Reader[Read], members: Members, names: Vocabulary) -> None:
        self._between = partial(house_faults, members=members)
        self._house = Reader(kind, names, self._between)
        self._opening = opening
        self._members = members

    def read(self, body: bytes) -> ReadHouse[Whole, Read]:
        """The house a body stands for; an opening that can't be read fails no other.

        Raises UnreadableBody as for one opening, InvalidRequest with all errors of the house itself.
        """
        _refuse_crowded(body)
        try:
            document = _parse(body, _OF_A_HOUSE)
            _refuse_lone_surrogates(body, document)
            return self._read(document)
        except RecursionError:
            raise UnreadableBody(_TOO_DEEP) from None

    def _read(self, document: Any) -> ReadHouse[Whole, Read]:
        house = self._house.of(document)
        if next(iter(self._between(document)), None) is not None:
            raise _refusal(self._between(document))
        base = common_base(document)
        return ReadHouse(house, tuple(self._each(base, house.openings)))

    def _each(self, base: object, patches: Iterable[object]) -> Iterator[Read | Unread]:
        left = MOST_OF_A_HOUSE
        for patch in patches:
            one = self._one(base, patch, min(max(left, 1), MOST_ERRORS))
            left -= len(one.fault.errors) if isinstance(one, Unread) else 0
            yield one

    def _one(self, base: object, patch: object, most: int) -> Read | Unread:
        merged = merge_patch(base, patch)
        try:
            return self._opening.of(merged, tuple(lost_nulls(patch, self._members)), most)
        except InvalidRequest as refused:
            errors = tuple([self._told(error, base, patch) for error in refused.errors])
            return Unread(InvalidRequest(str(refused), errors), **names_of(merged))

    def _told(self, error: FieldError, base: object, patch: object) -> FieldError:
        """An error of an opening; of a member that its kind lacks and that was taken over, with how to remove it."""
        unknown = error.code == "unknown_field" and is_member(error.pointer, self._members)
        if not unknown or not taken_over(error.pointer, base, patch):
            return error
        return error._replace(detail=f"{error.detail} {TAKEN_OVER}")


TAKEN_OVER = "It comes from defaults: null in its place in the opening removes it."


def house_reader(catalogue: Catalogue) -> HouseReader[House, Opening]:
    """Reads a house by the names of a catalogue, each opening as `opening_reader` would."""
    return HouseReader(House, opening_reader(catalogue), MEMBERS, vocabulary(catalogue))


def house_recheck_reader(catalogue: Catalogue) -> HouseReader[HouseRecheck, Recheck]:
    """Reads a house whose doors are set, each opening as `recheck_reader` would."""
    return HouseReader(HouseRecheck, recheck_reader(catalogue), SET_MEMBERS, vocabulary(catalogue))


# --- reading

_TOO_DEEP = "The body is nested too deeply to be read."


def document_of(body: bytes) -> object:
    """The body as Python values, whole numbers as such however they are written. Raises UnreadableBody."""
    return _parse(body, _STRICT)


def _parse(body: bytes, decoder: json.JSONDecoder) -> object:
    """The body as Python values, when it is JSON in UTF-8 and no object has a key twice."""
    if not body or body.isspace():
        raise UnreadableBody("The body is empty; send one JSON object.")
    if body.startswith(BOM_UTF8):
        raise UnreadableBody("The body begins with a byte order mark (BOM); send UTF-8 without one.")
    try:
        return decoder.decode(body.decode("utf-8"))
    except UnicodeDecodeError as fault:
        raise UnreadableBody(f"The body isn't UTF-8: byte {fault.start} can't be decoded.") from None
    except ValueError as fault:
        _unreadable(fault)


def _refuse_crowded(body: bytes) -> None:
    """Raises UnreadableBody for JSON of more values than a house has, before any of it is parsed."""
    if (marks := sum(map(body.count, b",[{"))) > MOST_MARKS:
        raise UnreadableBody(f"A house may have {MOST_MARKS} commas and opening brackets; this one has {marks}.")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) == len(pairs):
        return found
    seen: set[str] = set()
    twice = next(key for key, _ in pairs if key in seen or seen.add(key))  # type: ignore[func-returns-value]
    raise UnreadableBody(f'The key "{shown(twice)}" is twice in one object; write it once.')


def _once_and_few(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if (longest := max([len(name) for name, _ in pairs], default=0)) > LONGEST_NAME:
        raise UnreadableBody(f"The name of a member may have {LONGEST_NAME} characters; one here has {longest}.")
    if len(pairs) > MOST_MEMBERS:
        raise UnreadableBody(f"An object may have {MOST_MEMBERS} members; one here has {len(pairs)}.")
    return _once(pairs)


def _no_constant(name: str) -> NoReturn:
    raise UnreadableBody(f"{name} is not JSON; a number must be finite.")


def _number(text: str) -> int | float:
    """A number with decimals or an exponent; a whole one, such as 2.0, as what it is to JSON Schema."""
    number = float(text)
    whole = number.is_integer() and abs(number) < _EXACT and (number or not text.startswith("-"))
    return int(number) if whole else number


_EXACT = 2**53
"""Below it a whole number written with decimals is that number and no other."""
_STRICT = json.JSONDecoder(object_pairs_hook=_once, parse_constant=_no_constant, parse_float=_number)
_OF_A_HOUSE = json.JSONDecoder(object_pairs_hook=_once_and_few, parse_constant=_no_constant, parse_float=_number)


def _unreadable(fault: Exception) -> NoReturn:
    raise UnreadableBody(_why(fault)) from None


def _why(fault: Exception) -> str:
    if isinstance(fault, json.JSONDecodeError):
        return f"The body isn't JSON: {fault.msg.removesuffix(' at')} at line {fault.lineno}, column {fault.colno}."
    if isinstance(fault, msgspec.DecodeError):
        return f"The body isn't JSON: {str(fault).removeprefix('JSON is malformed: ')}."
    return "The body isn't JSON that can be read: a number has too many digits."


def _refuse_lone_surrogates(body: bytes, document: object) -> None:
    """A surrogate escaped alone is no character; what holds one can't be answered either."""
    if b"\\ud" not in body.lower():
        return
    try:
        json.dumps(document, ensure_ascii=False).encode("utf-8")
    except UnicodeEncodeError:
        raise UnreadableBody("The body isn't Unicode: an escape names half a surrogate pair.") from None
