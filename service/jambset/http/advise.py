"""From the JSON of a request to the JSON of its answer: what the service, the command line and the sandbox share."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol, TypeVar

import msgspec
from msgspec import UNSET, Raw, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine.assess import assessing
from jambset.engine.doors import Unread
from jambset.engine.facts import grid_of
from jambset.engine.house import advise_house
from jambset.engine.house_recheck import rechecking_house
from jambset.engine.recheck import recheck
from jambset.engine.steps import Steps, whole
from jambset.errors import FieldError, refusal
from jambset.http.addresses import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK
from jambset.http.decode import house_reader, house_recheck_reader, opening_reader, recheck_reader
from jambset.http.merge import taken_over
from jambset.model.house import FieldFault, HouseAdvice, OpeningResult
from jambset.model.house_recheck import HouseRecheckAdvice, RecheckResult
from jambset.model.request import House, Opening
from jambset.quantity.grid import Grid
from jambset.render.encode import encode_advice, encode_house
from jambset.render.language import ENGLISH, Language
from jambset.rules.schema import Catalogue


class Give(Protocol):
    """Turns a body into the JSON of its answer, with prose in a language. Raises RequestError."""

    def __call__(self, body: bytes, language: Language = ENGLISH, /) -> bytes:
        """The answer."""


Advised = TypeVar("Advised", HouseAdvice, HouseRecheckAdvice)
Result = TypeVar("Result", OpeningResult, RecheckResult)
GiveInSteps = Callable[[bytes, Language], Steps[bytes]]
"""The same, for several bodies to be answered together."""


def givers(catalogue: Catalogue) -> dict[str, Give]:
    """What answers each call that gives advice, by its address."""
    return {
        ADVICE: adviser(catalogue),
        RECHECK: rechecker(catalogue),
        HOUSE: house_adviser(catalogue),
        HOUSE_RECHECK: house_rechecker(catalogue),
    }


def adviser(catalogue: Catalogue) -> Give:
    """Gives advice on one opening, by the rules of a catalogue."""
    give = adviser_in_steps(catalogue)
    return lambda body, language=ENGLISH: whole(give(body, language))


def adviser_in_steps(catalogue: Catalogue) -> GiveInSteps:
    """The same in steps."""
    read = opening_reader(catalogue).read

    def advise(body: bytes, language: Language) -> Steps[bytes]:
        opening = read(body)
        yield
        advice = yield from assessing(opening, catalogue)
        yield
        return encode_advice(advice, grid_of(opening, catalogue), language)

    return advise


def answerer_in_steps(catalogue: Catalogue) -> GiveInSteps:
    """Advice on an opening, or how one stands that says how it was set, each as its own call answers it."""
    advise, judge = adviser_in_steps(catalogue), rechecker(catalogue)

    def answer(body: bytes, language: Language) -> Steps[bytes]:
        if not _says_how_set(body):
            return (yield from advise(body, language))
        yield
        return judge(body, language)

    return answer


class _Set(Struct):
    """What tells an opening that is set from one that is asked about before."""

    as_set: Raw | UnsetType = UNSET


_SET = msgspec.json.Decoder(_Set)


def _says_how_set(body: bytes) -> bool:
    """Whether an object has the member that a recheck has beyond an opening, however its name is written."""
    if b"as_set" not in body and b"\\u" not in body:
        return False
    try:
        return _SET.decode(body).as_set is not UNSET
    except (msgspec.DecodeError, RecursionError):
        return False


def rechecker(catalogue: Catalogue) -> Give:
    """Judges one opening as it was set, by the rules of a catalogue."""
    read = recheck_reader(catalogue).read

    def judge(body: bytes, language: Language = ENGLISH) -> bytes:
        request = read(body)
        found = recheck(request, catalogue)
        return encode_advice(found, grid_of(request, catalogue), language)

    return judge


def house_adviser(catalogue: Catalogue, *, pairs: int | None = None) -> Give:
    """Gives advice on the openings of a house together, by the rules of a catalogue. pairs: most pairs of floors."""
    reader = house_reader(catalogue)

    def advise(body: bytes, language: Language = ENGLISH) -> bytes:
        house, openings = reader.read(body)
        _refuse_many(openings, pairs)
        return _written(advise_house(house, openings, catalogue), house, openings, catalogue, language)

    return advise


def house_rechecker(catalogue: Catalogue) -> Give:
    """Judges the openings of a house as they were set, by the rules of a catalogue."""
    give = house_rechecker_in_steps(catalogue)
    return lambda body, language=ENGLISH: whole(give(body, language))


def house_rechecker_in_steps(catalogue: Catalogue) -> GiveInSteps:
    """The same in steps, one for each opening."""
    reader = house_recheck_reader(catalogue)

    def judge(body: bytes, language: Language) -> Steps[bytes]:
        house, openings = reader.read(body)
        yield
        found = yield from rechecking_house(house, openings, catalogue)
        return _written(found, house, openings, catalogue, language)

    return judge


def _written(
    advice: Advised,
    house: House,
    openings: Sequence[Opening | Unread],
    catalogue: Catalogue,
    language: Language,
) -> bytes:
    """The answer for a house as JSON, each opening's on its own grid."""
    grids = [_grid(*pair, catalogue) for pair in zip(advice.openings, openings, strict=True)]
    return encode_house(_as_sent(advice, house), grids, language)


def _refuse_many(openings: Iterable[Opening | Unread], most: int | None) -> None:
    """Refuse a house with more pairs of floors than there is time and memory for. Raises InvalidRequest."""
    found = sum(_pairs(opening) for opening in openings if isinstance(opening, Opening))
    if most is not None and found > most:
        detail = (
            f"The floors of these openings can come in {found:,} pairs, of the {most:,} that a house may have: name "
            "fewer in could_become, or send a part of the house at a time."
        )
        raise refusal([FieldError("#/openings", "too_many", detail)])


def _pairs(opening: Opening) -> int:
    pull, push = (
        (side.build_up is not UNSET) + len(side.could_become) for side in (opening.pull_side, opening.push_side)
    )
    return max(pull, 1) * max(push, 1)


def _grid(result: OpeningResult | RecheckResult, opening: Opening | Unread, catalogue: Catalogue) -> Grid | None:
    """The grid of an advice; None for a refused opening, which may name a grid or a place that there isn't."""
    if result.advice is UNSET or isinstance(opening, Unread):
        return None
    return grid_of(opening, catalogue)


def _as_sent(advice: Advised, house: House) -> Advised:
    """The answer, with each fault of a refused opening that came from the defaults pointed at there."""
    return replace(advice, openings=tuple([_refused_as_sent(*one, house) for one in enumerate(advice.openings)]))


def _refused_as_sent(place: int, one: Result, house: House) -> Result:
    if one.problem is UNSET:
        return one
    sent = house.openings[place]
    errors = tuple([_fault_as_sent(fault, f"#/openings/{place}", house.defaults, sent) for fault in one.problem.errors])
    return replace(one, problem=replace(one.problem, errors=errors))


def _fault_as_sent(fault: FieldFault, opening: str, defaults: object, sent: object) -> FieldFault:
    """A fault where the body has it. opening: pointer to the opening. sent: the opening as it was sent."""
    within = fault.pointer.removeprefix(opening)
    return replace(fault, pointer=f"#/defaults{within}") if taken_over(f"#{within}", defaults, sent) else fault
