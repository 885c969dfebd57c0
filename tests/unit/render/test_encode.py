"""What an advice becomes on the wire: three parts for a quantity, a sentence for a phrase, nothing invented."""

from __future__ import annotations

import msgspec
import pytest

from jambset.model.advice import Phrase, Ratio
from jambset.quantity.grid import GRIDS
from jambset.quantity.ticks import INCH, MM, Area, Flow, Length, Pressure
from jambset.render.encode import schema_hook, writer
from jambset.render.sentences import ENGLISH

INCHES, METRIC = GRIDS["1/16 in"], GRIDS["1 mm"]


def written(value: object, grid: str = "1/16 in") -> object:
    return msgspec.json.decode(writer(GRIDS[grid]).encode(value))


def test_each_quantity_is_answered_in_its_parts() -> None:
    assert written(Length(INCH // 2)) == {"mm": 12.7, "in": 0.5, "text": "1/2 in"}
    assert written(Length(10 * MM), "1 mm") == {"mm": 10.0, "in": 0.393701, "text": "10 mm"}
    assert written(Area(0.0076), "1 mm") == {"mm2": 7600.0, "in2": 11.7800, "text": "7600 mm²"}
    assert written(Flow(0.001), "1 mm") == {"L_s": 1.0, "m3_h": 3.6, "cfm": 2.1189, "text": "1.0 L/s"}
    assert written(Pressure(3.0)) == {"Pa": 3.0, "inH2O": 0.012044, "text": "3.0 Pa"}
    assert written(Ratio(1 / 12)) == {"ratio": 0.083333, "text": "1:12"}


def test_a_phrase_is_answered_as_its_sentence_on_the_grid() -> None:
    level = Phrase("place.subfloor.level")
    phrase = Phrase("cut.none", leaves=Phrase("leaves.one"), bottom=Length(38 * MM), subfloor=level)
    assert written(phrase, "1 mm") == "Leave the leaf uncut; its bottom ends 38 mm above the subfloor."
    inner = Phrase("leg.block", leg=Phrase("leg.strike"), height=Length(3 * INCH // 8))
    outer = Phrase("set.uneven", one=Phrase("leg.stand", leg=Phrase("leg.hinge")), other=inner)
    assert (
        writer(INCHES).sentence(outer)
        == "Out of level: stand the hinge leg on the subfloor, block the strike leg up 3/8 in."
    )


def test_a_quoted_text_stands_as_it_is_braces_and_all() -> None:
    assert writer(METRIC).sentence(Phrase("quote", text="{not a field} at 50 %")) == "{not a field} at 50 %"


def test_a_value_left_out_leaves_its_place_empty() -> None:
    unmet = Phrase("conflict.unmet", rule="A rule", amount=msgspec.UNSET)
    assert writer(INCHES).sentence(unmet) == "“A rule” isn't met by this opening."


@pytest.mark.parametrize("values", [{}, {"listed": "another"}])
def test_a_sentence_is_never_told_with_a_blank_in_it(values: dict[str, object]) -> None:
    with pytest.raises(KeyError):
        writer(INCHES).sentence(Phrase("order.wanted", **values))


def test_an_unknown_code_or_type_is_a_fault() -> None:
    with pytest.raises(KeyError, match=r"no\.such\.code"):
        writer(INCHES).sentence(Phrase("no.such.code"))
    with pytest.raises(NotImplementedError, match="object"):
        writer(INCHES).encode(object())


def test_each_quantity_refers_to_its_form_in_the_contract() -> None:
    forms = [schema_hook(kind)["$ref"].rpartition("/")[2] for kind in (Length, Area, Flow, Pressure, Ratio)]
    assert forms == ["LengthForm", "AreaForm", "FlowForm", "PressureForm", "RatioForm"]
    assert schema_hook(Phrase) == {"type": "string"}


def test_every_sentence_ends_or_is_a_part_of_one() -> None:
    parts = (
        "part.",
        "leg.",
        "leaves.",
        "place.",
        "task.",
        "quote",
        "summary.",
        "event.",
        "measure.",
    )
    whole = {code: text for code, text in ENGLISH.items() if not code.startswith(parts)}
    assert {code for code, text in whole.items() if text.rstrip()[-1] not in ".?}"} == set()
