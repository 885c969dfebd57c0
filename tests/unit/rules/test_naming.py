"""What is likely meant by a name that isn't known, as the shipped catalogue has its words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from jambset.errors import FEW, Known, evened, nearest
from jambset.model import request
from jambset.rules import naming
from jambset.rules.load import load_catalogue

CATALOGUE = load_catalogue()
CORES = naming.codes(CATALOGUE)["Core"]
DUTIES = naming.codes(CATALOGUE)["Duty"]
MATERIALS = naming.materials(CATALOGUE)


def _rows() -> Iterator[tuple[Known, str, str]]:
    """Every other word of the catalogue, with the name it stands for."""
    pieces = {row.id: row for row in CATALOGUE.pieces}
    of_rows: list[tuple[Known, Any]] = [(MATERIALS, CATALOGUE.materials), (naming.pieces(CATALOGUE), pieces)]
    for known, rows in [*of_rows, (naming.places(CATALOGUE), CATALOGUE.jurisdictions)]:
        yield from ((known, word, name) for name, row in rows.items() for word in row.also_called)
    for enum, known in naming.codes(CATALOGUE).items():
        field = next(f for f in CATALOGUE.codes.__struct_fields__ if evened(f) == evened(enum))
        words = getattr(CATALOGUE.codes, field)
        yield from ((known, word, code) for code, called in words.items() for word in called)


@pytest.mark.parametrize(("known", "word", "name"), [*_rows()])
def test_every_word_finds_its_name_however_it_is_written(known: Known, word: str, name: str) -> None:
    for written in (word, word.upper(), word.replace(" ", "_"), word.replace(" ", "-"), word.title().replace(" ", "")):
        assert f'"{name}"' in known.meant(written), written


@pytest.mark.parametrize("known", [MATERIALS, *naming.codes(CATALOGUE).values(), naming.GRID_NAMES])
def test_every_name_finds_itself_in_any_case_and_misspelt(known: Known) -> None:
    for name in known.names:
        assert known.meant(name.upper()) == f' Did you mean "{name}"?'
        if len(name) > 7 and known is not naming.GRID_NAMES:
            assert known.meant(name[:3] + name[4:]) == f' Did you mean "{name}"?'


def test_the_codes_with_words_are_those_of_the_request() -> None:
    for enum, known in naming.codes(CATALOGUE).items():
        assert known.names == tuple(sorted(getattr(request, enum)))


@pytest.mark.parametrize(
    ("known", "given"),
    [
        (DUTIES, "non_fire_rated"),
        (DUTIES, "not fire rated"),
        (MATERIALS, "no_carpet"),
        (MATERIALS, "granola"),
        (CORES, ""),
    ],
)
def test_what_is_said_not_to_be_so_or_is_like_nothing_is_told_no_name(known: Known, given: str) -> None:
    assert known.meant(given) == ""


def test_a_likelier_longer_name_goes_before_a_less_likely_misspelling() -> None:
    known = Known(["hall", "hallow"], also={"hall": ["way"]})
    assert known.meant("the_way_out") == ' Did you mean "hall"?'
    assert Known(["wax", "abcdef"], also={"wax": ["abc"]}).meant("abc_dxyf") == ' Did you mean "wax"?'


def test_few_names_are_listed_and_many_are_told_where_they_are() -> None:
    few, many = ([f"n{i}" for i in range(count)] for count in (FEW, FEW + 1))
    assert Known(few, listed="GET /x").brief() == f"one of: {', '.join(sorted(few))}"
    assert Known(many, listed="GET /x").brief() == f"one of the {FEW + 1} that GET /x lists"
    assert Known(many).brief() == f"one of: {', '.join(sorted(many))}"


def test_a_mark_is_compared_as_it_is_written() -> None:
    assert nearest("D009", ["D003", "X"]) == ' Did you mean "D003"?'
