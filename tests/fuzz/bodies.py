"""Any bytes as the body of a call: read or refused, never a fault, with errors that name what is there."""

from __future__ import annotations

import json
from functools import cache
from typing import Any, NamedTuple

import msgspec
from tests.fuzz.pointers import misplaced
from tests.fuzz.rewrite import turned
from tests.fuzz.service import catalogue
from tests.houses import merged

from jambset.engine.doors import Unread
from jambset.errors import MOST_ERRORS, FieldError, InvalidRequest, RequestError, UnreadableBody
from jambset.http.decode import (
    HouseReader,
    Reader,
    document_of,
    house_reader,
    house_recheck_reader,
    opening_reader,
    recheck_reader,
)
from jambset.http.problems import FIELD_CODES, encode, problem_of


class Refused(NamedTuple):
    """Why something wasn't read. errors: in the order of their places, since that of a body's members is free."""

    kind: type[RequestError]
    detail: str
    errors: tuple[FieldError, ...]


@cache
def _readers() -> tuple[Reader[Any], Reader[Any], HouseReader[Any, Any], HouseReader[Any, Any]]:
    rules = catalogue()
    return opening_reader(rules), recheck_reader(rules), house_reader(rules), house_recheck_reader(rules)


def reader_for(data: bytes) -> Reader[Any] | HouseReader[Any, Any]:
    """The reader of what a body looks like."""
    opening, recheck, house, house_recheck = _readers()
    whole, alone = (house_recheck, recheck) if b'"as_set"' in data else (house, opening)
    return whole if b'"openings"' in data else alone


def check(data: bytes) -> bytes:
    """Reads a body in every way it can be read. Returns what came of it."""
    reader = reader_for(data)
    result = _outcome(reader, data)
    assert _outcome(reader, data) == result, "read again, it is something else"
    if not (isinstance(result, Refused) and result.kind is UnreadableBody):
        document = document_of(data)
        _check_others(reader, document, result)
        _check_errors(result, document)
    return repr(result).encode("utf-8")


def _outcome(reader: Reader[Any] | HouseReader[Any, Any], data: bytes) -> Any:
    """What a body is read as, or why it isn't; of a house its openings too."""
    try:
        found: Any = reader.read(data)
    except (UnreadableBody, InvalidRequest) as refusal:
        return _refused(refusal)
    if isinstance(reader, Reader):
        return found
    house, openings = found
    return house, [
        (one.mark, one.external_id, _refused(one.fault)) if isinstance(one, Unread) else one for one in openings
    ]


def _refused(refusal: RequestError) -> Refused:
    encode(problem_of(refusal))  # it can be told
    return Refused(type(refusal), refusal.detail, tuple(sorted(refusal.errors)))


def _check_others(reader: Reader[Any] | HouseReader[Any, Any], document: Any, result: Any) -> None:
    """The same body written otherwise is the same; so are its decoded values, which a house is read from."""
    if isinstance(result, Refused) and len(result.errors) == MOST_ERRORS:
        return  # which hundred of them are told is a matter of order
    try:
        other = json.dumps(turned(document), indent=1, allow_nan=False).encode()
    except ValueError:
        return  # 2e308 is a number of JSON, and none that Python writes
    assert _outcome(reader, other) == result, "the order of its members matters"
    if isinstance(reader, Reader):
        assert _of(reader, document) == result, "its decoded values are read as something else than its bytes"


def _of(reader: Reader[Any], document: object) -> Any:
    try:
        return reader.of(document)
    except InvalidRequest as refusal:
        return _refused(refusal)


def _check_errors(result: Any, document: Any) -> None:
    if isinstance(result, Refused):
        _check_refusal(result, document)
    elif isinstance(result, tuple):
        for one, opening, sent in zip(result[1], merged(document), document["openings"], strict=True):
            if isinstance(one, tuple):
                _check_refusal(one[-1], opening, sent)


def _check_refusal(refused: Refused, *documents: Any) -> None:
    """documents: what the errors may name places of; of an opening also as it was sent, with its nulls."""
    assert 0 < len(refused.errors) <= MOST_ERRORS
    assert {error.code for error in refused.errors} <= FIELD_CODES.keys()
    assert all(error.detail.strip() for error in refused.errors)
    errors = [msgspec.to_builtins(error._asdict()) for error in refused.errors]
    for document in documents:
        errors = misplaced(errors, document)
    assert errors == []
