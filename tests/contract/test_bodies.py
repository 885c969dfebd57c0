"""Bodies that can't be read, bodies that are wrong, and bodies nobody would send."""

from __future__ import annotations

import asyncio
import copy
import gc
import io
import json
import re
import sys
import time
from collections.abc import Callable, Iterator
from typing import Any

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from litestar import Litestar
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, JSON_BODY, POSTS, RECHECK, Reply, ask, run
from tests.contract.conftest import Ask

from jambset.errors import MOST_ERRORS, InvalidRequest, RequestError
from jambset.http.addresses import BULK
from jambset.http.app import create_app
from jambset.http.bulk import NDJSON
from jambset.http.decode import Reader, opening_reader
from jambset.http.faults import pointer
from jambset.http.known import vocabulary
from jambset.http.merge import merge_patch
from jambset.http.observe import json_log
from jambset.http.problems import FIELD_CODES
from jambset.http.settings import Settings
from jambset.model.request import Opening
from jambset.rules.schema import Catalogue

HEAD = b'{"mark": "D", "jurisdiction": "US", "pull_side": {}, "push_side": {}, '
LEAF = b'"leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"}}'
WHOLE = HEAD + LEAF
POINT = b'{"radius": "20 in", "angle": 45, "height": "3 mm"}'
SURVEY = b'"subfloor": {"kind": "survey", "hinge_leg": "0 mm", "strike_leg": "0 mm", "points": [%s]}'

read_opening = Reader(Opening).read
"""Reads by the struct alone, without the names of a catalogue."""


def _post(asked: Ask, body: bytes) -> Reply:
    return asked("POST", ADVICE, headers=JSON_BODY, body=body)


def test_the_whole_body_used_below_is_right(asked: Ask) -> None:
    assert _post(asked, WHOLE).status == 200


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "is empty"),
        (b" \n\t", "is empty"),
        (b"{", "isn't JSON"),
        (WHOLE[:-1], "isn't JSON"),
        (WHOLE + b"x", "Extra data at line 1"),
        (WHOLE + WHOLE, "Extra data"),
        (b"mark=D", "isn't JSON"),
        (b"{'mark': 1}", "isn't JSON"),
        (b'{"mark": "D",}', "isn't JSON"),
        (b'{"mark": 01}', "isn't JSON"),
        (b'{"mark": "a\nb"}', "Invalid control character at line 1, column 12."),
        (b'{"mark": "a', "Unterminated string starting at line 1, column 10."),
        (b"\xef\xbb\xbf" + WHOLE, "begins with a byte order mark (BOM); send UTF-8 without one."),
        (b"\xff\xfe{\x00}\x00", "byte 0 can't be decoded"),
        ('{"mark": "½"}'.encode("latin-1"), "isn't UTF-8"),
        (b'{"mark": "\\ud800"}', "half a surrogate"),
        (b'{"mark": 1, "no\\udfff": 1}', "half a surrogate"),
        (b'{"\\ud800\\u0041": 1, "x": 2}', "half a surrogate"),
        (b'{"mark": NaN}', "NaN is not JSON"),
        (b'{"mark": Infinity}', "Infinity is not JSON"),
        (b'{"leaf": {"opening_angle": -Infinity}}', "-Infinity is not JSON"),
        (b'{"mark": ' + b"9" * 5_000 + b"}", "too many digits"),
        (b"[" * 30_000, "nested too deeply"),
        (b'{"a":' * 10_000, "nested too deeply"),
        (HEAD + b'"leaf": ' + b"[" * 20_000 + b"]" * 20_000 + b"}", "nested too deeply"),
        (b'{"mark": "A", "mark": "B"}', '"mark" is twice'),
        (HEAD + b'"leaf": {"width": "30 in", "width": "32 in"}}', '"width" is twice'),
        (b'{"mark": "A", "\\u006dark": "B"}', '"mark" is twice'),
        (b'{"' + b"k" * 500 + b'": 1, "' + b"k" * 500 + b'": 2}', "k" * 40 + '…" is twice'),
    ],
)
def test_what_cant_be_read_is_400_and_says_why(body: bytes, words: str, asked: Ask) -> None:
    reply = _post(asked, body)
    assert (reply.status, reply.json()["code"]) == (400, "unreadable_body")
    assert words in reply.json()["detail"]


def _found(reply: Reply) -> list[tuple[str, str]]:
    assert (reply.status, reply.json()["code"]) == (422, "invalid_request")
    return [(error["pointer"], error["code"]) for error in reply.json()["errors"]]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        (b"null", ("#", "wrong_type")),
        (b"[]", ("#", "wrong_type")),
        (b'"D"', ("#", "wrong_type")),
        (b"1e400", ("#", "wrong_type")),
        (HEAD + b'"leaf": null}', ("#/leaf", "wrong_type")),
        (HEAD + b'"leaf": ' + b"[" * 200 + b"]" * 200 + b"}", ("#/leaf", "wrong_type")),
    ],
)
def test_a_value_that_is_no_object_is_422(body: bytes, expected: tuple[str, str], asked: Ask) -> None:
    assert _found(_post(asked, body)) == [expected]


HEIGHT = "#/rough_opening/height"


@pytest.mark.parametrize(
    ("member", "expected"),
    [
        (b'"as_of": "2026-02-30"', ("#/as_of", "wrong_date")),
        (b'"as_of": "20260301"', ("#/as_of", "wrong_date")),
        (b'"as_of": 1e400', ("#/as_of", "wrong_type")),
        (b'"air": {"discharge_coefficient": 1e400}', ("#/air/discharge_coefficient", "too_large")),
        (b'"building": {"year_built": ' + b"1" * 4_000 + b"}", ("#/building/year_built", "too_large")),
        (b'"building": {"year_built": -' + b"1" * 30 + b"}", ("#/building/year_built", "too_small")),
        (b'"building": {"year_built": 1990.5}', ("#/building/year_built", "wrong_type")),
        (b'"building": {"existing_threshold": "true"}', ("#/building/existing_threshold", "wrong_type")),
        (b'"building": {"existing_threshold": 1}', ("#/building/existing_threshold", "wrong_type")),
        (b'"subfloor": {"kind": "level", "x": 1}', ("#/subfloor/x", "unknown_field")),
        (b'"subfloor": {"kind": ["level"]}', ("#/subfloor/kind", "unknown_kind")),
        (b'"subfloor": "level"', ("#/subfloor", "wrong_type")),
        (b'"subfloor": {}', ("#/subfloor/kind", "missing_field")),
        (b'"subfloor": {"kind": "legs", "hinge_leg": "0 mm"}', ("#/subfloor/strike_leg", "missing_field")),
        (SURVEY % b"", ("#/subfloor/points", "too_few")),
        (SURVEY % b",".join([POINT] * 65), ("#/subfloor/points", "too_many")),
        (b'"duties": ["egress_door", "egress_door"]', ("#/duties", "repeated")),
        (b'"duties": [{"kind": "egress_door"}]', ("#/duties/0", "not_allowed")),
        (b'"rough_opening": {"height": {"value": 1e400, "unit": "in"}}', (HEIGHT, "out_of_range")),
        (b'"rough_opening": {"height": {"value": true, "unit": "in"}}', (HEIGHT, "wrong_type")),
        (b'"rough_opening": {"height": {"value": 82}}', (HEIGHT, "wrong_members")),
        (b'"rough_opening": {"height": {"value": 82, "unit": "px"}}', (HEIGHT, "unknown_unit")),
        (b'"rough_opening": {"height": {"value": 82, "unit": ["in"]}}', (HEIGHT, "unknown_unit")),
        (b'"rough_opening": {"height": 82}', (HEIGHT, "wrong_type")),
        (b'"rough_opening": {"height": "2/8"}', (HEIGHT, "unreadable")),
        (b'"rough_opening": {"height": "82 mm"}', (HEIGHT, "implausible")),
        (b'"rough_opening": {"height": "' + b"9" * 9_000 + b' in"}', (HEIGHT, "unreadable")),
        (b'"external_id": ""', ("#/external_id", "too_short")),
        (b'"external_id": "' + b"x" * 129 + b'"', ("#/external_id", "too_long")),
        (b'"grid": "1/3 in"', ("#/grid", "unknown_name")),
        (b'"rule_set": "1999-01"', ("#/rule_set", "unknown_name")),
        (b'"transition": {"piece": "z_bar"}', ("#/transition/piece", "unknown_name")),
        (b'"\\u0000": 1', ("#/%00", "unknown_field")),
        (b'"a/b~c": 1', ("#/a~1b~0c", "unknown_field")),
        (b'"": 1', ("#/", "unknown_field")),
    ],
)
def test_one_wrong_member_is_422_with_its_pointer_and_code(
    member: bytes, expected: tuple[str, str], asked: Ask
) -> None:
    assert _found(_post(asked, HEAD + member + b", " + LEAF)) == [expected]


@pytest.mark.parametrize(
    "member",
    [
        b'"external_id": "' + b"x" * 128 + b'"',
        SURVEY % b",".join([POINT] * 64),
        b'"building": {"year_built": 1700}',
        b'"building": {"year_built": 2100}',
        b'"transition": {"rise": "3 in"}',
    ],
)
def test_what_is_just_within_its_limit_is_answered(member: bytes, asked: Ask) -> None:
    assert _post(asked, HEAD + member + b", " + LEAF).status == 200


WRONG: dict[str, Any] = {
    "mark": "",
    "jurisdiktion": "US",
    "leaf": {
        "width": 30,
        "height": "80 mm",
        "thickness": {"value": "1", "unit": "in"},
        "core": "hollw",
        "count": 3,
        "opening_angle": True,
    },
    "pull_side": {"build_up": [{"materal": "carpet"}, {"material": "carpett"}, 5], "room": "x" * 81},
    "push_side": None,
    "duties": ["transfer_air", "transfer_air", "fly"],
    "subfloor": {"kind": "slop"},
    "air": {
        "supply_flow": "60",
        "other_paths": [{"kind": "crack"}, {}, {"kind": "grille", "width": "10 in", "height": "6 in", "depth": 1}],
    },
    "building": {"year_built": 1500},
    "as_of": "2026-13-01",
}
FAULTS = {
    ("#/mark", "too_short"),
    ("#/jurisdiction", "missing_field"),
    ("#/jurisdiktion", "unknown_field"),
    ("#/leaf/width", "wrong_type"),
    ("#/leaf/height", "implausible"),
    ("#/leaf/thickness", "wrong_type"),
    ("#/leaf/core", "not_allowed"),
    ("#/leaf/count", "too_large"),
    ("#/leaf/opening_angle", "wrong_type"),
    ("#/pull_side/build_up/0/material", "missing_field"),
    ("#/pull_side/build_up/0/materal", "unknown_field"),
    ("#/pull_side/build_up/1/material", "unknown_name"),
    ("#/pull_side/build_up/2", "wrong_type"),
    ("#/pull_side/room", "too_long"),
    ("#/push_side", "wrong_type"),
    ("#/duties", "repeated"),
    ("#/duties/2", "not_allowed"),
    ("#/subfloor/kind", "unknown_kind"),
    ("#/air/supply_flow", "unreadable"),
    ("#/air/other_paths/0/leakage_area", "missing_field"),
    ("#/air/other_paths/1/kind", "missing_field"),
    ("#/air/other_paths/2/depth", "unknown_field"),
    ("#/building/year_built", "too_small"),
    ("#/as_of", "wrong_date"),
}


@pytest.mark.parametrize("count", ["2.0", "2e0", "0.2e1"])
def test_a_whole_number_is_whole_however_it_is_written(asked: Ask, count: str) -> None:
    """JSON Schema 2020-12, validation 6.1.1 with core 4.2.3: an integer is a number without a fraction, so 2.0 too."""
    leaf = WHOLE.decode().replace('"core"', f'"count": {count}, "core"')
    house = f'{{"house": "one", "openings": [{leaf}]}}'
    digits = leaf.replace(count, "2"), house.replace(count, "2")
    for call, body, same in zip((ADVICE, HOUSE), (leaf, house), digits, strict=True):
        told, expected = (asked("POST", call, headers=JSON_BODY, body=one.encode()) for one in (body, same))
        assert (told.status, told.body) == (200, expected.body)


@pytest.mark.parametrize(
    ("count", "code"),
    [("1.5", "wrong_type"), ("3.0", "too_large"), ("-1.0", "too_small")],
)
def test_a_number_with_a_fraction_or_out_of_range_is_none(asked: Ask, count: str, code: str) -> None:
    body = WHOLE.decode().replace('"core"', f'"count": {count}, "core"')
    (error,) = _post(asked, body.encode()).json()["errors"]
    assert (error["pointer"], error["code"]) == ("#/leaf/count", code)


def test_all_faults_come_in_one_answer_and_only_those(asked: Ask) -> None:
    errors = _post(asked, msgspec.json.encode(WRONG)).json()["errors"]
    found = [(error["pointer"], error["code"]) for error in errors]
    assert set(found) == FAULTS
    assert len(found) == len(FAULTS)


def test_each_detail_says_how_to_mend_it(asked: Ask) -> None:
    errors = _post(asked, msgspec.json.encode(WRONG)).json()["errors"]
    detail = {error["pointer"]: error["detail"] for error in errors}
    assert detail["#/leaf/height"].endswith("80 in would be.")
    assert 'Did you mean "jurisdiction"?' in detail["#/jurisdiktion"]
    assert 'Did you mean "material"?' in detail["#/pull_side/build_up/0/materal"]
    assert 'Did you mean "carpet"?' in detail["#/pull_side/build_up/1/material"]
    assert "level, legs, slope, survey" in detail["#/subfloor/kind"]
    assert "grille, duct, crack" in detail["#/air/other_paths/1/kind"]
    assert "fibreglass, hollow, mdf, solid, steel, stile_and_rail" in detail["#/leaf/core"]
    assert "Known here: kind, width, height, material, free_area" in detail["#/air/other_paths/2/depth"]
    assert "Leave out what isn't known" in detail["#/push_side"]
    assert '{"value": 28, "unit": "L/s"}' in detail["#/air/supply_flow"]


def _details(asked: Ask, request: object, call: str = ADVICE) -> dict[str, str]:
    errors = asked("POST", call, headers=JSON_BODY, body=msgspec.json.encode(request)).json()["errors"]
    return {error["pointer"]: error["detail"] for error in errors}


MEANT = [
    ({"jurisdiction": "usa"}, "#/jurisdiction", "US"),
    ({"jurisdiction": "us_fl"}, "#/jurisdiction", "US-FL"),
    ({"duties": ["fire_rated"]}, "#/duties/0", "fire_label"),
    ({"duties": ["fireLabel"]}, "#/duties/0", "fire_label"),
    ({"leaf": {"core": "hollow core"}}, "#/leaf/core", "hollow"),
    ({"leaf": {"core": "Stile-and-Rail"}}, "#/leaf/core", "stile_and_rail"),
    ({"leaf": {"core": "hollw"}}, "#/leaf/core", "hollow"),
    ({"frame": {"state": "installed"}}, "#/frame/state", "set"),
    ({"grid": "1/16"}, "#/grid", "1/16 in"),
    ({"transition": {"piece": "T-molding"}}, "#/transition/piece", "t_moulding"),
    ({"pull_side": {"use": "bathroom"}}, "#/pull_side/use", "bath"),
    ({"building": {"use": "single_family"}}, "#/building/use", "detached_house"),
    ({"subfloor": {"kind": "Level"}}, "#/subfloor/kind", "level"),
    *(
        ({"push_side": {"build_up": [{"material": given}]}}, "#/push_side/build_up/0/material", meant)
        for given, meant in [
            ("porcelain_tile", "ceramic_tile"),
            ("laminate_flooring", "laminate"),
            ("lvp", "vinyl_plank"),
            ("CeramicTile", "ceramic_tile"),
            ("luxury_vinyl_plank_floor", "vinyl_plank"),
        ]
    ),
]


@pytest.mark.parametrize(("change", "place", "meant"), MEANT)
def test_a_value_by_another_word_or_spelling_is_told_the_one_that_is_meant(
    change: dict[str, Any], place: str, meant: str, opening: dict[str, Any], asked: Ask
) -> None:
    """Common practice, no source: the words. First what is meant, then the few there are or where the many are."""
    wrong = merge_patch(opening, change)
    alone, beside = _details(asked, wrong), _details(asked, {**wrong, "mark": ""})  # by the engine, and by the schema
    assert alone == {place: beside[place]}
    hint, _, rest = alone[place].partition(f' Did you mean "{meant}"? Use one of')
    assert hint.endswith((" is not known here.", " is not allowed here.", " is no kind of this."))
    assert re.fullmatch(r": .*\b" + re.escape(meant) + r"\b.*\.| the \d\d that GET /v1/finishes lists\.", rest)


@pytest.mark.parametrize(
    ("given", "meant"),
    [("hardwood", ["engineered_wood", "solid_wood"]), ("LVT", ["vinyl_glue_down", "vinyl_plank"])],
)
def test_a_word_for_several_is_told_with_each(
    given: str, meant: list[str], opening: dict[str, Any], asked: Ask
) -> None:
    opening["push_side"] = {"build_up": [{"material": given.lower()}]}
    (detail,) = _details(asked, opening).values()
    assert " Did you mean {} or {}? ".format(*(f'"{name}"' for name in meant)) in detail


LENGTH = 'a length, as in "1 1/2 in", "6 ft 8 in", "38 mm"'
CORES = "fibreglass, hollow, mdf, solid, steel, stile_and_rail"
LEAF_HOLDS = f"an object with width, height and thickness (each {LENGTH}) and core (one of: {CORES})"
SIDE_HOLDS = "an object that holds any of room, use, build_up, certainty, could_become, rug"


def test_what_is_missing_is_told_with_what_it_is(asked: Ask) -> None:
    told = {
        "#/mark": "a string",
        "#/jurisdiction": "one of: GB-ENG, US, US-FL",
        "#/leaf": LEAF_HOLDS,
        "#/pull_side": SIDE_HOLDS,
        "#/push_side": SIDE_HOLDS,
    }
    expected = {at: f"{at[2:]} is required here and is missing; add it. It is {form}." for at, form in told.items()}
    assert _details(asked, {}) == expected
    set_ = _details(asked, {}, RECHECK)["#/as_set"]
    assert set_.endswith("an object that holds any of foot, hinge_foot, strike_foot, leaf_bottom, gaps.")


def test_who_follows_the_answers_to_an_empty_request_has_a_right_one_at_once(asked: Ask) -> None:
    leaf = {"width": "1 1/2 in", "height": "6 ft 8 in", "thickness": "38 mm", "core": CORES.split(", ", maxsplit=1)[0]}
    request = {"mark": "a", "jurisdiction": "GB-ENG", "leaf": leaf, "pull_side": {}, "push_side": {}}
    assert _details(asked, request).keys() == {"#/leaf/width"}  # which is read, and no width of a door
    leaf["width"] = "30 in"
    assert _post(asked, msgspec.json.encode(request)).status == 200


def test_what_an_object_holds_is_told_where_something_else_stands(asked: Ask, opening: dict[str, Any]) -> None:
    wrong = opening | {"leaf": "hollow", "pull_side": [], "transition": "reducer", "frame": {"foot": ["1 in"]}}
    told = _details(asked, wrong | {"subfloor": {"kind": "survey", "hinge_leg": "0 in", "strike_leg": "0 in"}})
    assert told["#/leaf"] == f"This must be {LEAF_HOLDS}, not a string."
    assert told["#/pull_side"] == f"This must be {SIDE_HOLDS}, not an array."
    assert told["#/transition"] == "This must be an object that holds any of piece, rise, not a string."
    assert told["#/subfloor/points"].endswith(
        f"It is an array; each item is an object with radius ({LENGTH}), angle (a number) and height ({LENGTH})."
    )
    assert _details(asked, wrong | {"push_side": None})["#/push_side"].endswith(
        "Leave out what isn't known, or write {}."
    )
    assert _details(asked, wrong | {"leaf": None})["#/leaf"].endswith("isn't known, unless it is required.")
    whole = "mark (a string), jurisdiction (one of: GB-ENG, US, US-FL) and leaf, pull_side and push_side"
    assert _details(asked, []) == {"#": f"This must be an object with {whole}, not an array."}


LAYER_HOLDS = "an object with material (one of the 42 that GET /v1/finishes lists)"
AWAY = "There is no field of this name here; "


@pytest.mark.parametrize(
    ("change", "place", "said"),
    [
        ({"core": "hollow"}, "#/core", f"{AWAY}remove it. It belongs at #/leaf/core."),
        ({"width": "30 in"}, "#/width", f"{AWAY}remove it. It belongs at #/leaf/width or #/rough_opening/width."),
        ({"fireMinutes": 20}, "#/fireMinutes", f"{AWAY}remove it. It belongs at #/leaf/fire_minutes."),
        ({"frame": {"roughOpening": 1}}, "#/frame/roughOpening", f"{AWAY}remove it. It belongs at #/rough_opening."),
        (
            {"pull_side": {"material": "x"}},
            "#/pull_side/material",
            f"{AWAY}remove it. It belongs at build_up/0/material.",
        ),
        (
            {"as_set": {}},
            "#/as_set",
            f"{AWAY}remove it. It belongs to POST {RECHECK}, in a house to POST {HOUSE_RECHECK}.",
        ),
        (
            {"frame": {"gaps": {}}},
            "#/frame/gaps",
            f"{AWAY}remove it. It belongs to POST {RECHECK}, in a house to POST {HOUSE_RECHECK}.",
        ),
        ({"openings": []}, "#/openings", f"{AWAY}remove it. It belongs to POST {HOUSE}."),
        ({"pullSide": {}}, "#/pullSide", f'{AWAY}remove it. Did you mean "pull_side"?'),
        ({"opening": {"mark": 1, "leaf": 2}}, "#/opening", f"{AWAY}its members belong here themselves."),
        ({"mark": 101}, "#/mark", 'This must be a string, not a number. Write "101".'),
        ({"leaf": {"count": "2"}}, "#/leaf/count", "This must be a whole number, not a string. Write 2."),
        ({"leaf": {"count": "2.5"}}, "#/leaf/count", "This must be a whole number, not a string."),
        (
            {"leaf": {"opening_angle": "92.5"}},
            "#/leaf/opening_angle",
            "This must be a number, not a string. Write 92.5.",
        ),
        ({"leaf": {"opening_angle": "90 deg"}}, "#/leaf/opening_angle", "This must be a number, not a string."),
        ({"as_of": 2026}, "#/as_of", "This must be a string, not a number."),
        (
            {"jurisdiction": ["US"]},
            "#/jurisdiction",
            "This must be a string, not an array. Use one of: GB-ENG, US, US-FL.",
        ),
        (
            {"pull_side": {"build_up": "carpet"}},
            "#/pull_side/build_up",
            f"This must be an array, not a string. Each item is {LAYER_HOLDS}.",
        ),
        (
            {"subfloor": "level"},
            "#/subfloor",
            "This must be an object with kind, one of: level, legs, slope, survey, not a string.",
        ),
    ],
)
def test_what_stands_at_another_place_or_in_another_type_is_told_where_and_how(
    change: dict[str, Any], place: str, said: str, opening: dict[str, Any], asked: Ask
) -> None:
    assert _details(asked, merge_patch(opening, change)) == {place: said}


def test_a_member_of_an_opening_that_stands_in_the_house_is_told_so(asked: Ask) -> None:
    told = _details(asked, {"house": "x", "openings": [{"mark": "a"}], "leaf": {}}, HOUSE)
    assert told == {"#/leaf": f"{AWAY}remove it. It belongs at #/openings/0/leaf."}


def test_an_empty_build_up_is_told_how_a_bare_slab_and_an_open_floor_are_written(
    asked: Ask, opening: dict[str, Any]
) -> None:
    opening["pull_side"] = {"build_up": [], "could_become": [{"build_up": []}]}
    told = _details(asked, opening)
    bare = "This must have at least 1 item. A bare slab is a layer too: sealed_concrete."
    assert told["#/pull_side/build_up"] == f"{bare} Where the floor isn't decided yet, leave build_up out."
    assert told["#/pull_side/could_become/0/build_up"] == bare
    opening["pull_side"] = {"build_up": [{"material": "sealed_concrete"}], "could_become": []}
    assert _post(asked, msgspec.json.encode(opening)).status == 200
    opening["pull_side"] = {}
    assert _post(asked, msgspec.json.encode(opening)).status == 200


FIELDS_OF_TEXT = ("mark", "external_id", "room")
UNSHOWN = [*range(0x20), *range(0x7F, 0xA0), 0x61C, 0x200E, 0x200F, *range(0x2028, 0x202F), *range(0x2066, 0x206A)]


def _with_text(opening: dict[str, Any], field: str, text: str) -> bytes:
    (opening["pull_side"] if field == "room" else opening)[field] = text
    return json.dumps(opening).encode()


@pytest.mark.parametrize("field", FIELDS_OF_TEXT)
def test_a_text_with_a_character_that_cant_be_shown_is_refused(field: str, opening: dict[str, Any], asked: Ask) -> None:
    place = "#/pull_side/room" if field == "room" else f"#/{field}"
    for code in UNSHOWN:
        for text in (f"D{chr(code)}7", f"D7{chr(code)}", chr(code)):
            reply = _post(asked, _with_text(opening, field, text))
            assert _found(reply) == [(place, "wrong_pattern")], text
            assert reply.json()["errors"][0]["detail"].startswith(f"Leave out U+{code:04X}: control characters, ")


@pytest.mark.parametrize("field", FIELDS_OF_TEXT)
@pytest.mark.parametrize("text", [" ", "D-07/b (½)", "Tür 門", "é e\u0301", "\u00a0\u00ad\u200b\u2030\u206a\U0001f6aa"])
def test_any_other_text_is_taken(field: str, text: str, opening: dict[str, Any], asked: Ask) -> None:
    assert _post(asked, _with_text(opening, field, text)).status == 200


def _loose(opening: dict[str, Any]) -> dict[str, Any]:
    """Faults between fields, and in other fields of the same structs faults of their own."""
    opening["mark"] = ""
    opening["rough_opening"] = {"height": "79 in", "width": 32}
    opening["frame"] = {"foot": "1/2 in", "undercut": "1"}
    opening["leaf"] |= {"width": "30", "opening_angle": 80, "cut_angle": 85}
    grille = {"kind": "grille", "width": "6 in", "height": "6 in", "free_area": "36.1 in2"}
    opening["air"] = {"supply_flow": "60", "other_paths": [grille, {**grille, "width": "6"}]}
    opening["pull_side"]["build_up"][1] |= {"least": "2 in", "greatest": "3 in", "fixing": "sewn"}
    opening["push_side"] = {
        "build_up": [{"material": "vinyl_plank", "thickness": "1/4"}, {"material": "carpet_cushion", "thickness": 1}],
        "could_become": [{"weight": 2, "build_up": [7, {"material": "backer_bord"}, {"material": "backer_board"}]}],
    }
    return opening


OF_THEIR_OWN = {
    ("#/mark", "too_short"),
    ("#/rough_opening/width", "wrong_type"),
    ("#/frame/undercut", "unreadable"),
    ("#/leaf/width", "unreadable"),
    ("#/air/supply_flow", "unreadable"),
    ("#/air/other_paths/1/width", "unreadable"),
    ("#/pull_side/build_up/1/fixing", "not_allowed"),
    ("#/push_side/build_up/0/thickness", "unreadable"),
    ("#/push_side/build_up/1/thickness", "wrong_type"),
    ("#/push_side/could_become/0/weight", "too_large"),
    ("#/push_side/could_become/0/build_up/0", "wrong_type"),
    ("#/push_side/could_become/0/build_up/1/material", "unknown_name"),
}
BETWEEN_FIELDS = {
    ("#/rough_opening/height", "implausible"),
    ("#/frame/foot", "not_set"),
    ("#/leaf/cut_angle", "out_of_range"),
    ("#/air/other_paths/0/free_area", "contradiction"),
    ("#/pull_side/build_up/1/thickness", "out_of_order"),
    ("#/push_side/build_up/1/material", "not_a_finish"),
    ("#/push_side/could_become/0/build_up/2/material", "not_a_finish"),
}


def test_faults_of_fields_and_between_them_come_in_one_answer_each_once(opening: dict[str, Any], asked: Ask) -> None:
    reply = _post(asked, msgspec.json.encode(_loose(opening)))
    found = _found(reply)
    assert set(found) == OF_THEIR_OWN | BETWEEN_FIELDS
    assert len(found) == len(set(found))
    assert reply.json()["detail"].startswith(f"{len(found)} fields can't be accepted; errors says which and how")


def test_a_field_that_cant_be_read_is_held_against_no_other(opening: dict[str, Any], asked: Ask) -> None:
    opening["rough_opening"] = {"height": "79"}
    opening["frame"] = {"foot": "1/2 in", "state": "loose"}
    opening["leaf"] |= {"opening_angle": "80", "cut_angle": 85}
    opening["pull_side"]["build_up"][1] |= {"least": "2 in", "thickness": "x", "greatest": "3 in"}
    assert set(_found(_post(asked, msgspec.json.encode(opening)))) == {
        ("#/rough_opening/height", "unreadable"),
        ("#/frame/state", "not_allowed"),
        ("#/leaf/opening_angle", "wrong_type"),
        ("#/pull_side/build_up/1/thickness", "unreadable"),
    }


def test_rim_and_engine_tell_the_same_fault_in_the_same_words(opening: dict[str, Any], asked: Ask) -> None:
    opening |= {"jurisdiction": "USA", "duties": ["egress_door", "egress_door"]}
    opening["push_side"]["build_up"][0]["material"] = "vinyl_plankk"
    by_engine = _post(asked, msgspec.json.encode(opening)).json()
    by_rim = _post(asked, msgspec.json.encode({**opening, "mark": ""})).json()
    assert by_engine["detail"].startswith("3 fields can't be accepted; errors says which and how to fix each.")
    told = [{error["pointer"]: error["detail"] for error in answer["errors"]} for answer in (by_engine, by_rim)]
    assert told[1].pop("#/mark")
    assert told[0] == told[1]
    assert 'Did you mean "vinyl_plank"?' in told[0]["#/push_side/build_up/0/material"]


def test_a_finish_that_must_be_covered_is_told_the_order_of_layers(opening: dict[str, Any], asked: Ask) -> None:
    opening["pull_side"]["build_up"].reverse()
    (error,) = _post(asked, msgspec.json.encode(opening)).json()["errors"]
    assert error["pointer"] == "#/pull_side/build_up/1/material"
    assert error["detail"].startswith("Layers are listed from the subfloor up and the last must be a finish")


def test_faults_between_fields_come_all_at_once_too(opening: dict[str, Any], asked: Ask) -> None:
    opening["rough_opening"] = {"height": "79 in"}
    opening["pull_side"]["build_up"][1] |= {"least": "2 in", "greatest": "1 in"}
    opening["push_side"]["build_up"][0]["material"] = "carpet_cushion"
    opening["leaf"] |= {"opening_angle": 80, "cut_angle": 85}
    reply = _post(asked, msgspec.json.encode(opening))
    assert reply.status == 422
    assert {error["pointer"] for error in reply.json()["errors"]} == {
        "#/rough_opening/height",
        "#/pull_side/build_up/1/thickness",
        "#/push_side/build_up/0/material",
        "#/leaf/cut_angle",
    }


def test_a_long_list_of_faults_is_cut_off_and_says_so(asked: Ask) -> None:
    reply = _post(asked, HEAD + b"".join(b'"x%d": 1, ' % place for place in range(500)) + LEAF)
    assert len(reply.json()["errors"]) == MOST_ERRORS
    assert f"Only the first {MOST_ERRORS} are listed" in reply.json()["detail"]


def test_of_a_text_too_long_only_what_could_be_kept_is_looked_at(asked: Ask) -> None:
    body = HEAD + b'"external_id": "\\u0001%b\\u0002", ' % (b"x" * 128) + LEAF
    details = {error["code"]: error["detail"] for error in _post(asked, body).json()["errors"]}
    assert details["wrong_pattern"].startswith("Leave out U+0001: ")
    assert details["too_long"] == "This has 130 characters and may have 128."


def test_of_a_list_that_is_too_long_no_more_is_looked_at_than_it_may_have(asked: Ask) -> None:
    reply = _post(asked, HEAD + b'"duties": [' + b",".join([b"1"] * 5_000) + b"], " + LEAF)
    assert _found(reply) == [*((f"#/duties/{place}", "not_allowed") for place in range(11)), *_ABOUT_THE_LIST]
    assert "This has 5000 items and may have 11; no others were looked at." in reply.body.decode()


_ABOUT_THE_LIST = [("#/duties", "too_many"), ("#/duties", "repeated")]


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ([], "#"),
        (["leaf", "height"], "#/leaf/height"),
        (["a/b", "c~d", 0], "#/a~1b/c~0d/0"),
        (["é", "a b", '"', "%"], "#/%C3%A9/a%20b/%22/%25"),
    ],
)
def test_pointers_are_escaped_for_json_pointer_and_then_for_a_fragment(path: list[str | int], expected: str) -> None:
    assert pointer(path) == expected


def test_without_a_catalogue_its_names_are_left_to_the_engine() -> None:
    assert read_opening(WHOLE.replace(b'"US"', b'"ATLANTIS"')).jurisdiction == "ATLANTIS"


class _Other:
    """No quantity."""


class _Holder(msgspec.Struct):
    other: _Other


class _Narrow(msgspec.Struct, forbid_unknown_fields=True):
    """A struct with a limit the second pass knows nothing of."""

    ratio: float
    parts: list[list[int]]

    def __post_init__(self) -> None:
        if self.ratio == 7:
            raise ValueError("Not seven")


def test_what_only_the_decoder_minds_is_told_in_its_words() -> None:
    with pytest.raises(InvalidRequest) as refusal:
        Reader(_Narrow).read(b'{"ratio": 7, "parts": []}')
    assert [tuple(error) for error in refusal.value.errors] == [("#", "invalid", "Not seven.")]


def test_without_a_catalogue_names_must_still_look_like_names() -> None:
    body = WHOLE.replace(
        b'"push_side": {}', b'"push_side": {"build_up": [{"material": "oak"}, {"material": "Oak 3/4"}]}'
    )
    with pytest.raises(InvalidRequest) as refusal:
        read_opening(body)
    assert [(e.pointer, e.code) for e in refusal.value.errors] == [("#/push_side/build_up/1/material", "wrong_pattern")]


def test_a_type_that_is_no_quantity_has_no_reader() -> None:
    with pytest.raises(TypeError, match=r"_Other.* is not supported"):
        Reader(_Holder)


@pytest.mark.parametrize("deep", [b"[%s]", b'{"a":%s}'])
def test_no_depth_is_too_much_for_the_second_pass(deep: bytes, app: Litestar) -> None:
    """Depths around the one at which reading, comparing or writing begins to fail."""
    for depth in range(900, 1_000, 4):
        opening, closing = deep.split(b"%s")
        value = opening * depth + b"1" + closing * depth
        for member in (b'"duties": [' + value + b", " + value + b"]", b'"x": "\\ud800", "y": ' + value):
            _fair(ask(app, "POST", ADVICE, headers=JSON_BODY, body=HEAD + member + b", " + LEAF))
        for member in (b'"defaults": ' + value, b'"defaults": {"leaf": ' + value + b"}", b'"head_lines": ' + value):
            body = b'{"house": "a", "openings": [' + value + b', {"leaf": ' + value + b"}], " + member + b"}"
            _fair(ask(app, "POST", HOUSE, headers=JSON_BODY, body=body))


# --- fuzz

_KEYS = st.text(max_size=8) | st.sampled_from(
    sorted({*Opening.__struct_fields__, "kind", "value", "unit", "width", "height", "build_up", "material", "points"})
)
JSON_VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.integers(min_value=10**18, max_value=10**320)
    | st.floats(allow_nan=False)
    | st.text(max_size=12)
    | st.sampled_from(["1 in", "30 in", "80 in", "US", "level", "grille", "carpet", "2026-01-01", "½ in", "-1 mm"]),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_KEYS, inner, max_size=5),
    max_leaves=20,
)


def _fair_advice(answer: Any) -> None:
    """An answer that says something; of a house each opening's advice, or its faults, each with a published code."""
    assert answer["summary"]
    for result in answer.get("openings", ()):
        assert ("advice" in result) != ("problem" in result)
        for error in result["problem"]["errors"] if "problem" in result else ():
            assert error["code"] in FIELD_CODES
            assert error["pointer"].startswith(("#/openings/", "#/defaults/"))


def _fair(reply: Reply) -> None:
    """Whatever was sent: an advice, or a problem whose every entry is in the published list."""
    if reply.status == 200:
        _fair_advice(reply.json())
        return
    problem = reply.json()
    assert reply.media_type == "application/problem+json"
    assert problem["status"] == reply.status
    assert reply.status in (400, 422)
    for error in problem.get("errors", ()):
        assert error["code"] in FIELD_CODES
        assert error["pointer"].startswith("#")
    if reply.status == 422:
        assert problem["errors"]


@pytest.mark.parametrize("target", POSTS)
@settings(max_examples=150, deadline=None)
@given(body=st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_any_bytes_are_answered_fairly(body: bytes, target: str, app: Litestar) -> None:
    _fair(ask(app, "POST", target, headers=JSON_BODY, body=body))


@pytest.mark.parametrize("target", POSTS)
@settings(max_examples=100, deadline=None)
@given(value=JSON_VALUES)
def test_any_json_is_answered_fairly(value: Any, target: str, app: Litestar) -> None:
    _fair(ask(app, "POST", target, headers=JSON_BODY, body=json.dumps(value).encode()))


FULL: dict[str, Any] = {
    **json.loads(WHOLE),
    "external_id": "x",
    "grid": "1/16 in",
    "as_of": "2026-01-01",
    "duties": ["transfer_air"],
    "rough_opening": {"height": "83 in", "width": "32 in"},
    "frame": {"undercut": "1 in", "head_gap": "1/8 in", "head_thickness": "11/16 in", "state": "on_site"},
    "pull_side": {
        "room": "den",
        "use": "living",
        "build_up": [{"material": "carpet", "thickness": {"value": 12, "unit": "mm"}, "thickness_of": "total"}],
        "could_become": [{"build_up": [{"material": "vinyl_plank"}], "weight": 0.5}],
        "rug": "1/4 in",
    },
    "subfloor": {
        "kind": "survey",
        "hinge_leg": "0 mm",
        "strike_leg": "2 mm",
        "points": [{"radius": "20 in", "angle": 45, "height": "3 mm"}],
    },
    "transition": {"rise": "1/8 in"},
    "air": {
        "supply_flow": "60 cfm",
        "pressure_limit": "3 Pa",
        "altitude": "0 m",
        "temperature": "20 C",
        "other_paths": [
            {"kind": "grille", "width": "10 in", "height": "6 in"},
            {"kind": "duct", "diameter": "6 in", "length": "6 ft", "grille_free_area": "50 in2"},
            {"kind": "crack", "leakage_area": "10 cm2"},
        ],
    },
    "building": {"use": "detached_house", "year_built": 1990},
    "project_rules": {"hard_floor_clearance": "5/8 in"},
}


def _places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(place for key, part in inner for place in _places(part, (*path, key)))]


def _mutated(place: tuple[Any, ...], action: str, value: Any, base: Any = None) -> Any:
    whole = copy.deepcopy(FULL if base is None else base)
    if not place:
        return value
    target = whole
    for key in place[:-1]:
        target = target[key]
    if action == "remove" and isinstance(target, dict):
        del target[place[-1]]
    elif action == "rename" and isinstance(target, dict):
        target[f"{place[-1]}x"] = target.pop(place[-1])
    else:
        target[place[-1]] = value
    return whole


def test_the_full_request_that_is_mutated_below_is_right(asked: Ask) -> None:
    reply = _post(asked, msgspec.json.encode(FULL))
    assert reply.status == 200, reply.body


@settings(max_examples=150, deadline=None)
@given(place=st.sampled_from(_places(FULL)), action=st.sampled_from(["replace", "remove", "rename"]), value=JSON_VALUES)
def test_a_right_request_made_wrong_anywhere_is_answered_fairly(
    place: tuple[Any, ...], action: str, value: Any, app: Litestar
) -> None:
    _fair(ask(app, "POST", ADVICE, headers=JSON_BODY, body=json.dumps(_mutated(place, action, value)).encode()))


RECHECKED: dict[str, Any] = {
    **{name: value for name, value in FULL.items() if name != "subfloor"},
    "pull_side": {"build_up": [{"material": "carpet", "thickness": "1/2 in"}]},
    "as_set": {"hinge_foot": "1/2 in", "strike_foot": "1/2 in", "gaps": {"pull_side": "1 in"}},
}
HOUSEFUL: dict[str, Any] = {
    "house": "Lot 4",
    "defaults": {name: value for name, value in FULL.items() if name not in ("mark", "push_side")},
    "openings": [
        {"mark": "D1", "push_side": {"build_up": [{"material": "vinyl_plank"}]}, "external_id": None},
        {"mark": "D2", "push_side": {"room": "hall"}, "leaf": {"count": 2, "core": "solid"}},
    ],
    "head_lines": [{"name": "hall", "marks": ["D1", "D2"]}],
    "labour": {"set_unit": 45},
}
HOUSE_SET: dict[str, Any] = {
    **HOUSEFUL,
    "defaults": {name: value for name, value in RECHECKED.items() if name not in ("mark", "push_side")},
}
OTHERS = [(RECHECK, RECHECKED), (HOUSE, HOUSEFUL), (HOUSE_RECHECK, HOUSE_SET)]


@pytest.mark.parametrize(("target", "base"), OTHERS)
def test_the_other_requests_that_are_mutated_are_right(target: str, base: Any, asked: Ask) -> None:
    reply = asked("POST", target, headers=JSON_BODY, body=msgspec.json.encode(base))
    assert reply.status == 200, reply.body
    assert all("advice" in one for one in reply.json().get("openings", ()))


@settings(max_examples=125, deadline=None)
@given(data=st.data())
@pytest.mark.parametrize(("target", "base"), OTHERS)
def test_a_right_recheck_or_house_made_wrong_anywhere_is_answered_fairly(
    data: st.DataObject, target: str, base: Any, app: Litestar
) -> None:
    place = data.draw(st.sampled_from(_places(base)))
    action = data.draw(st.sampled_from(["replace", "remove", "rename"]))
    body = json.dumps(_mutated(place, action, data.draw(JSON_VALUES), base)).encode()
    _fair(ask(app, "POST", target, headers=JSON_BODY, body=body))


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"as_set": None}, {("#/as_set", "wrong_type")}),
        ({"as_set": {}}, {("#/as_set/foot", "missing_field"), ("#/as_set/leaf_bottom", "missing_field")}),
        (
            {"as_set": {"foot": "1/2 in", "hinge_foot": "1/2 in", "leaf_bottom": "1 in"}},
            {("#/as_set/foot", "contradiction")},
        ),
        ({"as_set": {"foot": "1/2", "leaf_bottom": "1 in"}}, {("#/as_set/foot", "unreadable")}),
        ({"as_set": {"foot": "1/2 in", "leaf_botom": "1 in"}}, {("#/as_set/leaf_botom", "unknown_field")}),
        (
            {"frame": {"foot": "1/2 in", "state": "to_order"}},
            {("#/frame/foot", "contradiction"), ("#/frame/state", "contradiction")},
        ),
        (
            {"push_side": {}, "as_set": {"foot": "0 in", "gaps": {"push_side": "1 in"}}},
            {("#/as_set/gaps/push_side", "contradiction")},
        ),
    ],
)
def test_faults_of_a_setting_are_told_beside_any_others(
    changes: dict[str, Any], expected: set[tuple[str, str]], as_set: dict[str, Any], asked: Ask
) -> None:
    def found(request: dict[str, Any]) -> set[tuple[str, str]]:
        return set(_found(asked("POST", RECHECK, headers=JSON_BODY, body=msgspec.json.encode(request))))

    assert found(as_set | changes) == expected
    assert found(as_set | changes | {"mark": ""}) == expected | {("#/mark", "too_short")}


def test_a_recheck_without_a_setting_and_one_that_is_no_object_are_told_so(opening: dict[str, Any], asked: Ask) -> None:
    missing = asked("POST", RECHECK, headers=JSON_BODY, body=msgspec.json.encode(opening))
    assert _found(missing) == [("#/as_set", "missing_field")]
    assert _found(asked("POST", RECHECK, headers=JSON_BODY, body=b"[]")) == [("#", "wrong_type")]


@pytest.fixture(scope="module")
def by_schema(catalogue: Catalogue) -> Reader[Opening]:
    """Finds what the schema forbids, and nothing between fields."""
    return Reader(Opening, vocabulary(catalogue))


@pytest.fixture(scope="module")
def reader(catalogue: Catalogue) -> Reader[Opening]:
    return opening_reader(catalogue)


def _codes(reader: Reader[Opening], body: bytes) -> set[str]:
    try:
        reader.read(body)
    except RequestError as refusal:
        return {error.code for error in refusal.errors}
    return set()


@settings(max_examples=150, deadline=None)
@given(place=st.sampled_from(_places(FULL)), action=st.sampled_from(["replace", "remove", "rename"]), value=JSON_VALUES)
def test_the_second_pass_finds_a_fault_wherever_the_decoder_does(
    place: tuple[Any, ...], action: str, value: Any, by_schema: Reader[Opening]
) -> None:
    body = json.dumps(_mutated(place, action, value)).encode()
    assert "invalid" not in _codes(by_schema, body)


@settings(max_examples=150, deadline=None)
@given(place=st.sampled_from(_places(FULL)), action=st.sampled_from(["replace", "remove", "rename"]), value=JSON_VALUES)
def test_a_decoded_opening_is_read_as_strictly_as_its_bytes(
    place: tuple[Any, ...], action: str, value: Any, reader: Reader[Opening]
) -> None:
    body = json.dumps(_mutated(place, action, value)).replace("Infinity", "1e400").encode()
    assert _outcome(lambda: reader.of(json.loads(body))) == _outcome(lambda: reader.read(body))


def _outcome(read: Callable[[], Opening]) -> Any:
    try:
        return read()
    except InvalidRequest as refused:
        return refused.errors


@settings(max_examples=100, deadline=None)
@given(cut=st.integers(0, len(WHOLE)), noise=st.binary(max_size=4), skip=st.integers(0, 6))
def test_a_damaged_text_is_answered_fairly(cut: int, noise: bytes, skip: int, app: Litestar) -> None:
    _fair(ask(app, "POST", ADVICE, headers=JSON_BODY, body=WHOLE[:cut] + noise + WHOLE[cut + skip :]))


def test_answers_to_the_other_requests_conform_too(asked: Ask, conforms: Callable[[str, Any], list[str]]) -> None:
    for target, base in OTHERS:
        reply = asked("POST", target, headers=JSON_BODY, body=msgspec.json.encode(base))
        assert conforms(SHAPES[target], base) == []
        assert conforms(f"{SHAPES[target]}Advice", reply.json()) == []


SHAPES = {RECHECK: "Recheck", HOUSE: "House", HOUSE_RECHECK: "HouseRecheck"}


def test_answers_conform_to_the_contract(asked: Ask, conforms: Callable[[str, Any], list[str]]) -> None:
    assert conforms("Opening", FULL) == []
    assert conforms("Advice", _post(asked, msgspec.json.encode(FULL)).json()) == []
    assert conforms("Problem", _post(asked, msgspec.json.encode(WRONG)).json()) == []
    assert conforms("Opening", WRONG) != []


@pytest.fixture
def uncollected() -> Iterator[None]:
    """Nothing is freed but what nobody holds any more."""
    gc.collect()
    gc.disable()
    yield
    gc.enable()


SIGN = "a value that is in no other body"
PATIENCE = 60
"""How long a busy machine may take to end what is answered [s]."""


@pytest.mark.usefixtures("uncollected")
@pytest.mark.parametrize("body", ['{"mark": ["%s"]}', '["%s"]x', '[["%s"], NaN]'])
@pytest.mark.parametrize(("path", "media"), [*((path, "application/json") for path in POSTS), (BULK, NDJSON)])
def test_of_a_refused_body_nothing_is_left_once_it_is_answered(path: str, media: str, body: str, asked: Ask) -> None:
    """Neither its bytes nor what was read of it; the collector comes by too seldom for bodies of megabytes."""
    sent = (body % SIGN).encode()
    before = sys.getrefcount(sent)
    reply = asked("POST", path, headers={"Content-Type": media}, body=sent)
    assert b'"code":"' in reply.body or b"/problems/unreadable-body" in reply.body
    end = time.monotonic() + PATIENCE  # a thread that has answered may be about to let go
    while sys.getrefcount(sent) > before and time.monotonic() < end:
        time.sleep(0.01)
    assert sys.getrefcount(sent) == before
    assert [one for one in gc.get_objects() if isinstance(one, list) and one[:1] == [SIGN]] == []


@pytest.mark.parametrize("path", [ADVICE, HOUSE, HOUSE_RECHECK])
def test_no_more_of_bodies_is_held_than_there_is_room_for(path: str, catalogue: Catalogue) -> None:
    """Of those that are read and of those that wait, whoever sends them; one who goes makes room."""
    few = Settings(max_body_bytes=1_024, max_house_bytes=1_024, max_held_bytes=8_192)
    app = create_app(catalogue=catalogue, settings=few, sandbox=(), log=json_log(io.BytesIO()))

    async def talk() -> None:
        open_ = [Caller(app, path) for _ in range(8)]
        for one in open_:
            one.say(b" " * 1_024)
        await asyncio.sleep(0.1)
        refused = Caller(app, path)
        refused.say(b" ")
        await refused.task
        assert (refused.status, refused.headers[b"retry-after"]) == (503, b"1")
        assert msgspec.json.decode(refused.body)["code"] == "busy"
        open_[0].inward.put_nowait({"type": "http.disconnect"})
        await open_[0].task
        after = Caller(app, path)
        after.say(b"{}", more=False)
        await after.task
        assert after.status == 422
        for one in open_[1:]:
            one.task.cancel()

    run(talk())


class Caller:
    """One whose body comes as the test says."""

    def __init__(self, app: Litestar, path: str) -> None:
        self.inward: asyncio.Queue[Any] = asyncio.Queue()
        self.status, self.headers, self.body = 0, dict[bytes, bytes](), b""
        scope = {
            "type": "http", "asgi": {"version": "3.0"}, "http_version": "1.1", "method": "POST", "scheme": "http",
            "path": path, "raw_path": path.encode(), "root_path": "", "query_string": b"",
            "headers": [(b"host", b"test"), (b"content-type", b"application/json")],
            "client": ("127.0.0.1", 1), "server": ("127.0.0.1", 80),
        }  # fmt: skip
        self.task = asyncio.create_task(app(scope, self.inward.get, self._send))  # type: ignore[arg-type]

    def say(self, part: bytes, *, more: bool = True) -> None:
        self.inward.put_nowait({"type": "http.request", "body": part, "more_body": more})

    async def _send(self, message: Any) -> None:
        if message["type"] == "http.response.start":
            self.status, self.headers = message["status"], dict(message["headers"])
        else:
            self.body += message["body"]
