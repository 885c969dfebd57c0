"""Writes an advice: quantities in three parts on the caller's grid, phrases as sentences. Decides nothing."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import msgspec
from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from jambset.model.advice import Advice, Minutes, Phrase, Ratio, Term
from jambset.model.house import HouseAdvice, OpeningResult
from jambset.model.house_recheck import HouseRecheckAdvice, RecheckResult
from jambset.model.recheck import RecheckAdvice
from jambset.quantity.grid import GRIDS, Grid
from jambset.quantity.text import (
    ABOUT,
    AreaForm,
    FlowForm,
    LengthForm,
    PressureForm,
    area_form,
    flow_form,
    length_form,
    pressure_form,
)
from jambset.quantity.ticks import Area, Flow, Length, Pressure
from jambset.render.language import ENGLISH, Language


class RatioForm(msgspec.Struct, frozen=True):
    """A slope as answered: rise over run, and as 1 in so many."""

    ratio: float
    text: str


FORMS: dict[type[Any], type[msgspec.Struct]] = {
    Length: LengthForm,
    Area: AreaForm,
    Flow: FlowForm,
    Pressure: PressureForm,
    Ratio: RatioForm,
}
"""What each quantity of an advice becomes on the wire."""

LEVEL = "level"
"""Text of a slope of 0."""
BETWEEN = "; "
"""Stands between several things in one sentence."""
Result = OpeningResult | RecheckResult

NUMBERS, PARTS = 2048, 4096
"""How many numbers and parts of answers a writer keeps as written."""

Maker = Callable[[Any, Grid], msgspec.Struct]


def ratio_form(ratio: float) -> RatioForm:
    """A slope in its two parts.

    >>> ratio_form(0.5).text, ratio_form(0.0).text
    ('1:2', 'level')
    """
    return RatioForm(round(ratio, 6), f"1:{1 / ratio:g}" if ratio else LEVEL)


_MAKERS: dict[type[Any], Maker] = {
    Length: length_form,
    Area: area_form,
    Flow: flow_form,
    Pressure: pressure_form,
    Ratio: lambda value, grid: ratio_form(value),
}


class Template(NamedTuple):
    """A sentence with blanks, %s for each, and what fills them in their order; without any, the sentence as it is.

    Blanks filled by their order take a third of the time of blanks filled by name.
    """

    words: str
    blanks: tuple[str, ...]


_BLANK = re.compile(r"\{(\w+)\}")


def template(text: str) -> Template:
    """A sentence of a language, its blanks in braces, as it is filled.

    >>> template("Cut {trim} off, 5 % of {leaf}."), template("5 % of it")
    (Template(words='Cut %s off, 5 %% of %s.', blanks=('trim', 'leaf')), Template(words='5 % of it', blanks=()))
    """
    blanks = tuple(_BLANK.findall(text))
    return Template(_BLANK.sub("%s", text.replace("%", "%%")) if blanks else text, blanks)


@lru_cache(maxsize=8)
def templates(language: Language) -> dict[str, Template]:
    """The sentences of a language by their codes; made once for all writers."""
    return {code: template(text) for code, text in language.sentences.items()}


class Writer:
    """Writes answers on one grid in one language; numbers, and parts that many answers have, are kept as written."""

    encode: Callable[[Any], bytes]
    """A value as JSON. Raises NotImplementedError for one it has no form for, else as `sentence` does."""
    kept: Callable[[Hashable], msgspec.Raw]
    """A part of an answer as JSON, from what is kept."""

    def __init__(self, grid: Grid, language: Language) -> None:
        self._grid, self._language = grid, language
        self._templates = templates(language)
        self._form = lru_cache(NUMBERS, typed=True)(self._form_of)
        self._number = lru_cache(NUMBERS, typed=True)(self._number_of)
        self.encode = msgspec.json.Encoder(enc_hook=self._write).encode
        self.kept = lru_cache(PARTS)(lambda part: msgspec.Raw(self.encode(part)))

    def sentence(self, phrase: Phrase) -> str:
        """A phrase as a sentence.

        Raises KeyError for a code that the language lacks, or a value that its template asks.
        """
        words, blanks = self._templates[phrase.code]
        if not blanks:
            return words
        values = phrase.values
        if phrase.code == "quote":  # every citation has three
            return self._text(values["text"])
        return words % tuple([self._text(values[name]) for name in blanks])

    def _text(self, value: Any) -> str:
        kind = type(value)
        if kind in _MAKERS:  # by far the most of what fills a sentence
            text: str = self._form(value).text
            return text
        if kind is Term:
            return str(self._language.terms.get(value, value))
        if kind is Phrase:
            return self.sentence(value)
        if kind is tuple:
            return BETWEEN.join([self._text(part) for part in value])
        if kind is Minutes:
            return f"{expected(value):g} min"
        if isinstance(value, str | UnsetType):
            return "" if value is UNSET else value
        raise NotImplementedError(kind)

    def _form_of(self, value: Any) -> Any:
        """A quantity in its parts; the words of its text in the language."""
        form: Any = _MAKERS[type(value)](value, self._grid)
        if self._language is ENGLISH or not form.text.startswith((ABOUT, LEVEL)):
            return form
        code = "measure.about" if form.text.startswith(ABOUT) else "measure.level"
        return replace(form, text=self._language.sentences[code].format(text=form.text.removeprefix(ABOUT)))

    def _write(self, value: Any) -> Any:
        return self.sentence(value) if type(value) is Phrase else self._number(value)

    def _number_of(self, value: Any) -> Any:
        if type(value) in _MAKERS:
            return msgspec.Raw(msgspec.json.encode(self._form(value)))
        if type(value) is Minutes:
            return expected(value)
        raise NotImplementedError(type(value))


@lru_cache(maxsize=32)
def writer(grid: Grid, language: Language = ENGLISH) -> Writer:
    """The writer for one grid and language; made once."""
    return Writer(grid, language)


def encode_advice(advice: Advice | RecheckAdvice, grid: Grid, language: Language = ENGLISH) -> bytes:
    """An advice as answered; parts that many advices share are written once."""
    own = writer(grid, language)
    kept = own.kept
    parts: dict[str, Any] = {
        "checks": [kept(check) for check in advice.checks],
        "assumptions": [kept(assumption) for assumption in advice.assumptions],
        "cautions": kept(advice.cautions),
        "sources": kept(advice.sources),
    }
    if isinstance(advice, Advice):
        taken = advice.taken
        parts["taken"] = replace(taken, pull_side=kept(taken.pull_side), push_side=kept(taken.push_side))
    return own.encode(replace(advice, **parts))


def encode_house(
    house: HouseAdvice | HouseRecheckAdvice, grids: Sequence[Grid | None], language: Language = ENGLISH
) -> bytes:
    """A house as answered: each advice on its own grid, the lists on that of the house.

    grids: of the openings in the order of the request, None where there is no advice.
    """
    results: tuple[Result, ...] = house.openings
    openings = [_written(*pair, language) for pair in zip(results, grids, strict=True)]
    return writer(GRIDS[house.grid], language).encode(replace(house, openings=tuple(openings)))


def _written(result: Result, grid: Grid | None, language: Language) -> Result:
    """The result of an opening with its advice as JSON."""
    if grid is None or result.advice is UNSET:
        return result
    return replace(result, advice=msgspec.Raw(encode_advice(result.advice, grid, language)))


def expected(minutes: int) -> float:
    """Expected minutes as answered, to the hundredth.

    >>> expected(Minutes(Minutes.PARTS * 123_456 // 10_000))
    12.35
    """
    return round(minutes / Minutes.PARTS, 2)


def schema_hook(kind: type[Any]) -> dict[str, Any]:
    """JSON Schema of the custom types of an advice, for msgspec; quantities by reference to their forms."""
    if kind is Minutes:
        return {"type": "number"}
    return {"type": "string"} if kind is Phrase else {"$ref": f"#/components/schemas/{FORMS[kind].__name__}"}
