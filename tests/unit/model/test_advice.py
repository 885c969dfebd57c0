"""A phrase is its code and its values."""

from __future__ import annotations

from jambset.model.advice import Phrase
from jambset.quantity.ticks import INCH, Length


def test_phrases_are_equal_by_code_and_values() -> None:
    half = Phrase("cut.none", bottom=Length(INCH // 2))
    assert half == Phrase("cut.none", bottom=Length(INCH // 2))
    assert half != Phrase("cut.none", bottom=Length(INCH))
    assert half != Phrase("cut.unknown", bottom=Length(INCH // 2))
    assert half != "cut.none"
    assert {half, Phrase("cut.none", bottom=Length(INCH // 2))} == {half}


def test_a_phrase_shows_what_it_would_say() -> None:
    assert repr(Phrase("cut.none", bottom=Length(5))) == "Phrase('cut.none', {'bottom': 5})"
