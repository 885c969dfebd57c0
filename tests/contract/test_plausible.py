"""Whatever is plausible and agrees with itself is answered, in the shape the contract promises."""

from __future__ import annotations

import datetime
import io
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import msgspec
import msgspec.inspect as mi
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from litestar import Litestar
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, JSON_BODY, RECHECK, ask

from jambset.errors import QuantityError
from jambset.http.known import names
from jambset.model.request import Opening
from jambset.quantity.parse import UNITS, kind_of, read_quantity
from jambset.quantity.ticks import INCH, Length
from jambset.rules.load import load_catalogue

CATALOGUE = load_catalogue()
NAMES = names(CATALOGUE)
FINISHES = sorted(m.id for m in CATALOGUE.materials.values() if m.finish != "none")
DIRECTIONS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Marks of text direction: all that have the property Bidi_Control."""
SLABS = frozenset(m.id for m in CATALOGUE.materials.values() if m.nominal == 0)
"""What is the subfloor itself, and no floor's thickness may be stated of it."""
SHARES = sorted({Fraction(part, whole) for whole in range(1, 65) for part in range(whole + 1)})
"""Of a range. Drawn as fractions, by numerator and denominator, they were a quarter of these tests' time."""
Strategy = st.SearchStrategy[Any]


def _is_read(cls: type[Any], raw: object) -> bool:
    try:
        read_quantity(cls, raw)
    except QuantityError:
        return False
    return True


def quantity(cls: type[Any]) -> Strategy:
    """A plausible value in any unit and notation, both ends of the range included."""

    def raw(share: Fraction, unit: str, form: str) -> Any:
        factor, offset = UNITS[kind_of(cls)][unit]
        least, greatest = (Fraction(str(end + 0)) for end in (cls.LEAST, cls.GREATEST))
        number = float(round((least + share * (greatest - least) - offset) / factor, 3))
        if form == "sixteenths":
            whole, part = divmod(int(least + share * (greatest - least)) // (INCH // 16), 16)
            return f"{whole} {Fraction(part, 16)} in" if part else f"{whole} in"
        return {"value": number, "unit": unit} if form == "parts" else f"{number:.3f} {unit}"

    forms = ["parts", "text", *(["sixteenths"] if issubclass(cls, Length) else [])]
    made = st.builds(raw, st.sampled_from(SHARES), st.sampled_from(sorted(UNITS[kind_of(cls)])), st.sampled_from(forms))
    return made.filter(lambda value: _is_read(cls, value))


def value(kind: mi.Type, place: str) -> Strategy:
    """Any value a type of the request allows. place: "Struct.field"."""
    if place in NAMES:
        return st.sampled_from(NAMES[place])
    if isinstance(kind, mi.Metadata):
        return value(kind.type, place)
    if isinstance(kind, mi.UnionType):
        return st.one_of(*(value(branch, place) for branch in kind.types))
    if isinstance(kind, mi.VarTupleType):
        most = min(kind.max_length or MOST_ITEMS, MOST_ITEMS)
        return st.lists(value(kind.item_type, place), min_size=kind.min_length or 0, max_size=most)
    return MAKERS[type(kind)](kind)


def _text(kind: mi.StrType) -> Strategy:
    """No text of a request has characters that can't be shown; codes of a pattern are names, see above."""
    letters = st.characters(codec="utf-8", exclude_categories=["Cc", "Zl", "Zp"], exclude_characters=DIRECTIONS)
    return st.text(letters, min_size=kind.min_length or 0, max_size=kind.max_length)


def _number(kind: mi.FloatType) -> Strategy:
    low = kind.gt if kind.ge is None else kind.ge
    return st.floats(low, kind.le, exclude_min=kind.ge is None) | st.just(kind.le)


def struct(kind: mi.StructType) -> Strategy:
    tag = st.just({"kind": kind.tag} if kind.tag else {})
    fields = {field.name: value(field.type, f"{kind.cls.__name__}.{field.name}") for field in kind.fields}
    needed = {field.name: fields.pop(field.name) for field in kind.fields if field.required}
    return st.builds(lambda known, given: known | given, tag, st.fixed_dictionaries(needed, optional=fields))


MOST_ITEMS = 3
MAKERS: dict[type[mi.Type], Callable[[Any], Strategy]] = {
    mi.StructType: struct,
    mi.CustomType: lambda kind: quantity(kind.cls),
    mi.EnumType: lambda kind: st.sampled_from([member.value for member in kind.cls]),
    mi.BoolType: lambda _: st.booleans(),
    mi.DateType: lambda _: st.dates(datetime.date(1990, 1, 1), datetime.date(2099, 12, 31)).map(str),
    mi.StrType: _text,
    mi.IntType: lambda kind: st.integers(kind.ge, kind.le),
    mi.FloatType: _number,
}


def agree(request: dict[str, Any]) -> dict[str, Any]:
    """The request with its fields in agreement: what the engine asks beyond the schema."""
    leaf = request["leaf"]
    if leaf.get("cut_angle", 0) > leaf.get("opening_angle", 90):
        del leaf["cut_angle"]
    if "foot" in (frame := request.get("frame", {})):
        frame["state"] = "set"
    if "answered" in request:
        request["answered"] = list({one["code"]: one for one in request["answered"]}.values())
    if "duties" in request:
        request["duties"] = sorted(set(request["duties"]))
    if "rough_opening" in request:
        request["rough_opening"]["height"] = "160 in"
    _open_faces(request.get("air", {}).get("other_paths", []))
    for side in (request["pull_side"], request["push_side"]):
        for floor in (side, *side.get("could_become", [])):
            _settle(floor.get("build_up", []))
            floor.pop("weight", None)
        if "build_up" not in side or side.get("could_become"):
            side.pop("certainty", None)
    return request


def _open_faces(paths: list[dict[str, Any]]) -> None:
    """Faces as large as they come, of which any free area is a part."""
    for path in paths:
        if "free_area" in path:
            path["width"] = path["height"] = "60 in"


def _settle(layers: list[dict[str, Any]]) -> None:
    for layer in layers:
        layer.pop("least", None)
        layer.pop("greatest", None)
    if layers and layers[-1]["material"] not in FINISHES:
        layers[-1]["material"] = FINISHES[len(layers) % len(FINISHES)]
    for layer in layers:
        if layer["material"] in SLABS:
            layer.pop("thickness", None)


def as_set(request: dict[str, Any], setting: dict[str, Any]) -> dict[str, Any]:
    """The opening as it was set, on a subfloor that its legs don't end below."""
    request.pop("subfloor", None)
    frame = request.get("frame", {})
    for name in ("foot", "undercut"):
        frame.pop(name, None)
    if frame.get("state") == "to_order":
        del frame["state"]
    return request | {"as_set": setting}


OPENINGS = value(mi.type_info(Opening), "").map(agree)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(request=OPENINGS)
def test_a_plausible_opening_is_answered_as_promised(
    request: dict[str, Any], app: Litestar, log: io.BytesIO, conforms: Callable[[str, Any], list[str]]
) -> None:
    assert conforms("Opening", request) == []
    reply = ask(app, "POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(request))
    assert reply.status == 200, (reply.body, log.getvalue()[-3_000:].decode())
    assert conforms("Advice", reply.json()) == []
    assert reply.json()["mark"] == request["mark"]


SETTINGS = st.builds(
    lambda foot, above: {"foot": f"{foot} mm", "leaf_bottom": f"{foot + above} mm"},
    st.integers(0, 60),
    st.integers(0, 60),
)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(request=st.builds(as_set, OPENINGS, SETTINGS))
def test_a_plausible_recheck_is_answered_as_promised(
    request: dict[str, Any], app: Litestar, log: io.BytesIO, conforms: Callable[[str, Any], list[str]]
) -> None:
    assert conforms("Recheck", request) == []
    reply = ask(app, "POST", RECHECK, headers=JSON_BODY, body=msgspec.json.encode(request))
    assert reply.status == 200, (reply.body, log.getvalue()[-3_000:].decode())
    assert conforms("RecheckAdvice", reply.json()) == []


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(openings=st.lists(OPENINGS, min_size=1, max_size=4), shared=st.sampled_from(["leaf", "pull_side", "labour"]))
def test_a_plausible_house_is_answered_as_promised(
    openings: list[dict[str, Any]],
    shared: str,
    app: Litestar,
    log: io.BytesIO,
    conforms: Callable[[str, Any], list[str]],
) -> None:
    """What the first opening says of one member is the default of all, and of itself."""
    for place, opening in enumerate(openings):
        opening["mark"] = f"D{place}"
    defaults = {name: openings[0].pop(name) for name in (shared,) if name in openings[0]}
    lines = [{"name": "line", "marks": ["D0"]}]
    request = {"house": "h", "defaults": defaults, "openings": openings, "head_lines": lines}
    assert conforms("House", request) == []
    reply = ask(app, "POST", HOUSE, headers=JSON_BODY, body=msgspec.json.encode(request))
    assert reply.status == 200, (reply.body, log.getvalue()[-3_000:].decode())
    assert conforms("HouseAdvice", reply.json()) == []
    assert [one["mark"] for one in reply.json()["openings"]] == [f"D{place}" for place in range(len(openings))]
    assert "advice" in reply.json()["openings"][0]


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(openings=st.lists(st.builds(as_set, OPENINGS, SETTINGS), min_size=1, max_size=4))
def test_a_plausible_house_as_set_is_answered_as_promised(
    openings: list[dict[str, Any]], app: Litestar, log: io.BytesIO, conforms: Callable[[str, Any], list[str]]
) -> None:
    marks = [f"D{place}" for place in range(len(openings))]
    named = [{**opening, "mark": mark} for opening, mark in zip(openings, marks, strict=True)]
    shared = {"as_set": named[0].pop("as_set")}
    request = {"house": "h", "defaults": shared, "openings": named, "head_lines": [{"name": "line", "marks": marks}]}
    assert conforms("HouseRecheck", request) == []
    reply = ask(app, "POST", HOUSE_RECHECK, headers=JSON_BODY, body=msgspec.json.encode(request))
    assert reply.status == 200, (reply.body, log.getvalue()[-3_000:].decode())
    assert conforms("HouseRecheckAdvice", reply.json()) == []
    assert [one["mark"] for one in reply.json()["openings"]] == marks
