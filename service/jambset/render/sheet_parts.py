"""What a sheet is made of: tables, lists of sentences, and cards, each of texts alone."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jambset.render.language import Language
from jambset.render.shapes import Drawing
from jambset.render.wire import Wire, text

WARNING = frozenset(("hold", "conflict"))
"""Verdicts that ask for somebody's answer, before anything or before a later step."""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of texts under their heads. widths: of the columns, relative to each other."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Points:
    """Sentences, each a point of a list. numbered: where others name a point by its place."""

    items: tuple[str, ...]
    numbered: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One step of work: what is done, the numbers it needs, who does it in how long, and what it waits for.

    held: which words of `who` say that it waits for somebody's answer.
    """

    title: str
    numbers: tuple[tuple[str, str], ...]
    who: str
    held: str = ""

    @property
    def told(self) -> tuple[str, str, str]:
        """`who` before the words that hold it, these, and after them."""
        return self.who.partition(self.held) if self.held else (self.who, "", "")


@dataclass(frozen=True, slots=True)
class Card:
    """One opening at a glance: drawings beside its steps in working order.

    warns: whether somebody has to be asked. instead: what may be done in place of the cut, where the summary doesn't
    say so. below: layers of both sides and the rules, where the drawings don't name
    them.
    """

    mark: str
    rooms: str
    verdict: str
    warns: bool
    summary: str
    steps: tuple[Step, ...]
    drawings: tuple[Drawing, ...]
    instead: str = ""
    below: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ways:
    """Steps in their order, each with what is told of it in whole sentences, not in numbers."""

    items: tuple[Step, ...]


Block = Table | Points | Card | Ways


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a sheet under its heading."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet.

    lead: its first paragraph, if any. about: which answer it is, at its end. page: how a page is numbered.
    """

    title: str
    lead: str
    sections: tuple[Section, ...]
    notice: str
    about: str
    page: str
    language: str


class Words:
    """The words of a language as sheets use them."""

    def __init__(self, language: Language) -> None:
        self.language = language

    def __call__(self, code: str, **values: object) -> str:
        """A sentence or word by its code."""
        return self.language.sentences[f"sheet.{code}"].format_map(values)

    def heads(self, *names: str) -> tuple[str, ...]:
        """The heads of a table's columns."""
        return tuple(self(f"h.{name}") for name in names)

    def code(self, value: str) -> str:
        """A code of an answer in words; an unknown one as it is, for code lists are open."""
        return self.language.sentences.get(f"code.{value}", value.replace("_", " "))

    def term(self, word: str) -> str:
        """A word of the catalogue's in this language; one without a translation as it is."""
        return self.language.terms.get(word, word)


def points(items: Iterable[str]) -> tuple[Points, ...]:
    """A list of sentences, each once."""
    found = tuple(dict.fromkeys(items))
    return (Points(found),) if found else ()


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], widths: Sequence[float]) -> tuple[Table, ...]:
    """A table; nothing without rows."""
    found = tuple(tuple(row) for row in rows)
    return (Table(tuple(heads), found, tuple(widths)),) if found else ()


def ends_of(gauge: Wire, words: Words) -> str:
    """Heights of a gauge block at hinge and free end, once where they are equal; swapped, they would slope the cut."""
    hinge, free = text(gauge, "hinge_end"), text(gauge, "free_end")
    return hinge if hinge == free else words("gauge_ends", hinge=hinge, free=free)
