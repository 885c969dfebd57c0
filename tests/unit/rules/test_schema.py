"""What rows may hold."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from jambset.rules.schema import Body, Name, PlaceCode, PlaceOrAny, RowId, Sentence, Word

LONG = "a" * 64


@pytest.mark.parametrize(
    ("kind", "right", "wrong"),
    [
        (RowId, ["us-fire-gap", "leaf.hard.wanted", LONG], ["", "Us", "a_b", "a..b", "a-", LONG + "a"]),
        (Name, ["tile", "sheet_vinyl", "a" * 40], ["", "Tile", "2_tiles", "sheet-vinyl", "a" * 41]),
        (PlaceCode, ["US", "US-FL", "GB-ENG"], ["", "us", "USA", "US-", "US-FLOR"]),
        (PlaceOrAny, ["", "US", "US-FL"], ["us", "US-"]),
        (Body, ["wood", "concrete"], ["", "Wood", "woods", "hardwood"]),
        (Word, ["lvp", "2 in 1", "a" * 40], ["", "LVP", "two  words", " lvp", "a" * 41]),
        (Sentence, ["8 signs.", "a" * 600], ["7 signs", "a" * 601]),
    ],
)
def test_texts_of_rows_are_held_to_their_form(kind: Any, right: list[str], wrong: list[str]) -> None:
    """What a damaged row would say in an answer or an address; forms and lengths are our own."""
    assert [msgspec.convert(text, kind) for text in right] == right
    for text in wrong:
        with pytest.raises(msgspec.ValidationError):
            msgspec.convert(text, kind)
