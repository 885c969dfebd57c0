"""The languages that answers are written in: one table of sentences for each, and the catalogue's words in it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from jambset.render import page_words, sheet_words, spanish
from jambset.render.sentences import ENGLISH as SENTENCES


class Language(msgspec.Struct, frozen=True, eq=False):
    """One language, told apart by identity.

    code: as BCP 47 has it. name: what it calls itself. sentences: templates by code. terms: the catalogue's words by
    their English; a word that isn't there, as from an operator's own catalogue, stays as it is.
    """

    code: str
    name: str
    sentences: Mapping[str, str]
    terms: Mapping[str, str]


def _column(place: int) -> dict[str, str]:
    """One language of the tables that hold both side by side."""
    return {code: both[place] for table in (page_words.PAGE, sheet_words.SHEET) for code, both in table.items()}


ENGLISH = Language("en", "English", {**SENTENCES, **_column(0)}, {})
SPANISH = Language("es", "Español", {**spanish.SENTENCES, **_column(1)}, spanish.TERMS)
LANGUAGES = {language.code: language for language in (ENGLISH, SPANISH)}
"""By code; the first is for callers who ask for none of them."""
