"""A house over HTTP: what openings take over, what is refused where, and the forms it is answered in."""

from __future__ import annotations

import asyncio
import csv
import io
import threading
from collections.abc import Callable
from typing import Any

import httpx
import icalendar
import msgspec
import pytest
from tests.contract.asgi import ADVICE, HOUSE, JSON_BODY, Reply, ask
from tests.contract.conftest import Ask

from jambset.errors import MOST_ERRORS, InvalidRequest, UnreadableBody
from jambset.http import houses
from jambset.http.app import create_app
from jambset.http.decode import LONGEST_NAME, MOST_MARKS, MOST_MEMBERS, MOST_OF_A_HOUSE, TAKEN_OVER, house_reader
from jambset.http.members import MEMBERS
from jambset.http.merge import merge_patch
from jambset.http.observe import json_log
from jambset.http.settings import Settings
from jambset.render.lists import LISTS
from jambset.rules.schema import Catalogue

Request = dict[str, Any]


def _post(asked: Ask, house: Any, accept: str = "application/json", query: str = "") -> Reply:
    return asked("POST", HOUSE + query, headers={**JSON_BODY, "Accept": accept}, body=msgspec.json.encode(house))


def _answer(asked: Ask, house: Request) -> Any:
    reply = _post(asked, house)
    assert reply.status == 200, reply.body
    return reply.json()


def _errors(reply: Reply) -> list[tuple[str, str]]:
    assert (reply.status, reply.json()["code"]) == (422, "invalid_request")
    return [(error["pointer"], error["code"]) for error in reply.json()["errors"]]


def test_a_right_house_is_answered_as_promised(
    house: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    assert conforms("House", house) == []
    answer = _answer(asked, house)
    assert conforms("HouseAdvice", answer) == []
    assert [one["mark"] for one in answer["openings"]] == ["D1", "D2", "D3"]
    assert answer["totals"]["advised"] == 3


@pytest.mark.parametrize(("pairs", "refused"), [(6, False), (5, True)])
def test_the_floors_of_a_house_may_come_in_so_many_pairs(
    pairs: int, refused: bool, house: Request, catalogue: Catalogue
) -> None:
    """D1 and D2 by one floor and one of three, D3's pull side with none named and none on the push side but carpet."""
    house["defaults"]["pull_side"] = {"build_up": [{"material": "carpet"}]}
    house["defaults"]["push_side"] = {"build_up": [{"material": "carpet"}]}
    other = [{"build_up": [{"material": name}], "weight": 0.2} for name in ("vinyl_plank", "ceramic_tile")]
    house["openings"] = [
        {"mark": "D1", "push_side": {"could_become": other}},
        {"mark": "D2", "pull_side": {"build_up": None, "could_become": other}},
        {"mark": "D3", "pull_side": {"build_up": None}},
    ]
    house["head_lines"] = []
    settings = Settings(max_house_pairs=pairs)
    app = create_app(catalogue=catalogue, settings=settings, sandbox=(), log=json_log(io.BytesIO()))
    reply = ask(app, "POST", HOUSE, headers=JSON_BODY, body=msgspec.json.encode(house))
    assert reply.status == (422 if refused else 200)
    if refused:
        assert _errors(reply) == [("#/openings", "too_many")]
        assert "6 pairs, of the 5" in reply.json()["errors"][0]["detail"]
        assert ask(app, "GET", "/v1/limits").json()["house_pairs"] == 5


# --- what openings take over


def test_an_opening_is_read_as_if_it_had_come_alone_with_what_it_takes_over(house: Request, asked: Ask) -> None:
    """D3's pull side is taken away, as if it had never been named."""
    house["openings"][2]["pull_side"] = None
    whole = {**house["defaults"], "mark": "D3", "labour": house["labour"]}
    whole["push_side"] = house["openings"][2]["push_side"]
    del whole["pull_side"]
    alone = asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(whole))
    assert alone.json()["errors"][0]["pointer"] == "#/pull_side"
    together = _answer(asked, house)["openings"][2]
    assert [error["pointer"] for error in together["problem"]["errors"]] == ["#/openings/2/pull_side"]


def test_each_opening_has_the_digest_of_the_whole_it_stands_for(house: Request, asked: Ask) -> None:
    first, second, _ = (one["advice"] for one in _answer(asked, house)["openings"])
    shared = house["defaults"]
    wholes = [
        shared
        | {"mark": "D1", "labour": {"set_unit": 45}}
        | {"pull_side": {**shared["pull_side"], "room": "den"}, "push_side": {**shared["push_side"], "room": "hall"}},
        shared
        | {"mark": "D2", "labour": {"set_unit": 45}}
        | {"leaf": {**shared["leaf"], "width": "28 in", "count": 2}},
    ]
    for advice, whole in zip((first, second), wholes, strict=True):
        alone = asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(whole)).json()
        assert advice["input_digest"] == alone["input_digest"]


def test_null_takes_a_default_away_and_a_list_is_replaced_whole(house: Request, asked: Ask) -> None:
    house["defaults"]["duties"] = ["egress_door"]
    house["defaults"]["grid"] = "1 mm"
    house["head_lines"] = []
    house["openings"][0] |= {"duties": [], "grid": None}
    first, second, _ = (one["advice"] for one in _answer(asked, house)["openings"])
    assert first["setting"]["grid"].endswith("in")
    assert second["setting"]["grid"].endswith("mm")


def test_each_advice_is_on_its_own_grid_and_the_lists_on_that_of_the_house(house: Request, asked: Ask) -> None:
    house["openings"][0]["grid"] = "1 mm"
    answer = _answer(asked, house)
    texts = [one["advice"]["leaf"]["bottom"]["text"] for one in answer["openings"]]
    assert [text.endswith("mm") for text in texts] == [True, False, False]
    assert answer["grid"] == "1 mm"
    assert all(lot["leaf_width"]["text"].endswith("mm") for lot in answer["order_list"])


# --- what is refused


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({"house": ""}, [("#/house", "too_short")]),
        ({"house": None}, [("#/house", "wrong_type")]),
        ({"openings": []}, [("#/openings", "too_few")]),
        ({"openings": {}}, [("#/openings", "wrong_type")]),
        ({"openings": [{}] * 501}, [("#/openings", "too_many")]),
        ({"defaults": None}, [("#/defaults", "wrong_type")]),
        ({"defaults": []}, [("#/defaults", "wrong_type")]),
        ({"labour": {"set_unit": -1}}, [("#/labour/set_unit", "too_small")]),
        ({"labour": {"set_up": 1}}, [("#/labour/set_up", "unknown_field")]),
        ({"head_lines": [{"name": "a", "marks": []}]}, [("#/head_lines/0/marks", "too_few")]),
        ({"head_lines": {}}, [("#/head_lines", "wrong_type")]),
        ({"headlines": []}, [("#/headlines", "unknown_field")]),
        ({"defaults": {"jurisdicton": "US"}}, [("#/defaults/jurisdicton", "unknown_field")]),
        (
            {"defaults": {"mark": "D1", "a/b": 1}},
            [("#/defaults/mark", "unknown_field"), ("#/defaults/a~1b", "unknown_field")],
        ),
        ({"defaults": {"as_set": {}}}, [("#/defaults/as_set", "unknown_field")]),
        ({"defaults": {"as_set": None}}, [("#/defaults/as_set", "unknown_field")]),
        ({"defaults": {"leaf": {"hieght": None, "width": None}}}, [("#/defaults/leaf/hieght", "unknown_field")]),
    ],
)
def test_a_fault_of_the_house_itself_is_422(
    changes: Request, expected: list[tuple[str, str]], house: Request, asked: Ask
) -> None:
    assert _errors(_post(asked, {**house, "head_lines": [], **changes})) == expected


def test_limits_of_one_are_told_in_the_singular(house: Request, asked: Ask) -> None:
    errors = _post(asked, house | {"house": "", "openings": [], "head_lines": []}).json()["errors"]
    assert {error["pointer"]: error["detail"] for error in errors} == {
        "#/house": "This must have at least 1 character.",
        "#/openings": "This must have at least 1 item.",
    }


def test_a_misspelt_default_is_told_the_name_it_may_have_meant(house: Request, asked: Ask) -> None:
    house["defaults"]["jurisdicton"] = "US"
    house["defaults"]["zzz"] = 1
    house["defaults"]["mark"] = "D"
    details = {error["pointer"]: error["detail"] for error in _post(asked, house).json()["errors"]}
    assert details["#/defaults/jurisdicton"].endswith('Did you mean "jurisdiction"?')
    assert "Known here: jurisdiction, leaf, " in details["#/defaults/zzz"]
    assert details["#/defaults/mark"] == "Every opening has a mark of its own; write it there."


def test_an_unknown_mark_on_a_line_is_told_like_any_other_fault_of_the_house(house: Request, asked: Ask) -> None:
    house["head_lines"][0]["marks"] = ["D1", "D9", "D1"]
    expected = [("#/head_lines/0/marks/1", "unknown_mark"), ("#/head_lines/0/marks/2", "repeated")]
    house["openings"][2]["pull_side"] = {}
    assert _errors(_post(asked, house)) == expected
    house["labour"] = {"set_unit": -1}
    house["defaults"]["grids"] = "1 mm"
    more = [("#/labour/set_unit", "too_small"), ("#/defaults/grids", "unknown_field"), *expected]
    assert _errors(_post(asked, house)) == more


def test_an_unknown_mark_is_told_although_an_opening_is_refused_whose_mark_can_be_read(
    house: Request, asked: Ask
) -> None:
    house["openings"].append({"mark": "D4", "leaf": {"height": "80 mm"}})
    house["head_lines"][0]["marks"] = ["D1", "D4"]
    assert _answer(asked, house)["head_lines"][0]["left_out"][0]["mark"] == "D4"
    house["head_lines"][0]["marks"] = ["D1", "D44"]
    assert _errors(_post(asked, house)) == [("#/head_lines/0/marks/1", "unknown_mark")]


def test_a_long_list_of_faults_is_cut_off_and_says_so(house: Request, asked: Ask) -> None:
    house["head_lines"] = [{"name": f"l{line}", "marks": [f"X{mark}" for mark in range(90)]} for line in range(2)]
    problem = _post(asked, house).json()
    assert len(problem["errors"]) == MOST_ERRORS
    assert f"Only the first {MOST_ERRORS} are listed" in problem["detail"]


def test_an_opening_refused_is_known_by_the_names_its_caller_gave_it(house: Request, asked: Ask) -> None:
    """One that can't be read, and one that makes no sense; each other name is another question."""
    house["head_lines"], ids = [], set()
    for wrong in ({"leaf": {"height": "80 mm"}}, {"jurisdiction": "Atlantis"}):
        for names in ({"mark": "D8"}, {"mark": "D9"}, {"mark": "D9", "external_id": "a-9"}):
            house["openings"][1] = names | wrong
            answer = _answer(asked, house)
            refused = answer["openings"][1]
            assert {name: refused.get(name) for name in names} == names
            assert "problem" in refused
            ids.add(answer["advice_id"])
    assert len(ids) == 6
    house["openings"][1] = {"mark": "", "external_id": 5, "leaf": None}
    assert _answer(asked, house)["openings"][1].keys() == {"problem"}


def test_faults_that_all_openings_take_over_are_told_of_each_but_not_without_end(house: Request, asked: Ask) -> None:
    house["defaults"]["frame"] = {f"x{place}": 1 for place in range(MOST_ERRORS + 1)}
    house["head_lines"], house["openings"] = [], [{"mark": f"D{place}"} for place in range(30)]
    problems = [one["problem"] for one in _answer(asked, house)["openings"]]
    told = [len(problem["errors"]) for problem in problems]
    assert told == [MOST_ERRORS] * (MOST_OF_A_HOUSE // MOST_ERRORS) + [1] * 10
    assert all(f"Only the first {count} are listed" in one["detail"] for one, count in zip(problems, told, strict=True))


def test_what_each_opening_would_say_or_copy_again_has_an_end(house: Request, asked: Ask) -> None:
    house["defaults"]["frame"] = {"x" * (LONGEST_NAME + 1): 1}
    assert f"may have {LONGEST_NAME} characters; one here has {LONGEST_NAME + 1}." in _unread(asked, house)
    house["defaults"]["frame"] = {f"x{place}": 1 for place in range(MOST_MEMBERS + 1)}
    assert f"may have {MOST_MEMBERS} members; one here has {MOST_MEMBERS + 1}." in _unread(asked, house)


@pytest.mark.parametrize("more", [b"0,", b"[],", b"{},"])
def test_a_house_of_more_values_than_any_has_is_refused_unread(
    more: bytes, house: Request, catalogue: Catalogue
) -> None:
    """While they are read, nobody else is answered."""
    valid = msgspec.json.encode(house).removesuffix(b"}") + b',"x":[%b0]}'
    marks, each = (sum(map(text.count, b",[{")) for text in (valid, more))
    within, read = (MOST_MARKS - marks) // each, house_reader(catalogue).read
    with pytest.raises(InvalidRequest):
        read(valid % (more * within))
    with pytest.raises(UnreadableBody, match=f"^A house may have {MOST_MARKS} commas and opening brackets; this one "):
        read(valid % (more * (within + 1)))


def _unread(asked: Ask, house: Request) -> str:
    reply = _post(asked, house)
    assert (reply.status, reply.json()["code"]) == (400, "unreadable_body")
    return str(reply.json()["detail"])


def test_lines_that_cant_be_read_hide_no_fault_of_the_others(house: Request, asked: Ask) -> None:
    house["head_lines"] = [5, {"name": "a", "marks": ["D1", "D9"]}, {"name": "a", "marks": ["D2"]}]
    house["openings"][1]["leaf"] = "wrong"
    assert _errors(_post(asked, house)) == [
        ("#/head_lines/0", "wrong_type"),
        ("#/head_lines/1/marks/1", "unknown_mark"),
        ("#/head_lines/2/name", "repeated"),
    ]


def test_a_mark_that_may_be_that_of_an_opening_without_one_is_not_called_unknown(house: Request, asked: Ask) -> None:
    house["openings"].append({"leaf": {}})
    house["head_lines"] = [{"name": "a", "marks": ["D9"]}, 5]
    assert _errors(_post(asked, house)) == [("#/head_lines/1", "wrong_type")]


@pytest.mark.parametrize("body", [b"null", b"[]", b"5", b'"x"'])
def test_a_body_that_is_no_object_is_422(body: bytes, asked: Ask) -> None:
    assert _errors(asked("POST", HOUSE, headers=JSON_BODY, body=body)) == [("#", "wrong_type")]


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "is empty"),
        (b'{"house": "a", "house": "b"}', '"house" is twice'),
        (b'{"house": "a", "openings": [{"leaf": {"width": "1 in", "width": "2 in"}}]}', '"width" is twice'),
        (b'{"house": "a", "openings": [{"mark": "\\ud800"}]}', "half a surrogate"),
        (b'{"house": "a", "defaults": {"\\udfff": 1}, "openings": [{}]}', "half a surrogate"),
        (b'{"house": "a", "openings": [NaN]}', "NaN is not JSON"),
        (b'{"house": "a", "openings": [' + b'{"air":' * 9_000 + b"1" + b"}" * 9_000 + b"]}", "nested too deeply"),
        (b"[" * 30_000, "nested too deeply"),
    ],
)
def test_what_cant_be_read_is_400_and_says_why(body: bytes, words: str, asked: Ask) -> None:
    reply = asked("POST", HOUSE, headers=JSON_BODY, body=body)
    assert (reply.status, reply.json()["code"]) == (400, "unreadable_body")
    assert words in reply.json()["detail"]


FAULTY: list[tuple[Any, list[tuple[str, str]]]] = [
    (5, [("", "wrong_type")]),
    (None, [("", "wrong_type")]),
    ({}, [("/mark", "missing_field")]),
    ({"mark": ""}, [("/mark", "too_short")]),
    ({"mark": "B", "leaf": {"height": "80 mm"}}, [("/leaf/height", "implausible")]),
    (
        {"mark": "B", "leaf": {"hieght": "80 in", "core": None}},
        [("/leaf/core", "missing_field"), ("/leaf/hieght", "unknown_field")],
    ),
    ({"mark": "B", "duties": ["egress_door"] * 2}, [("/duties", "repeated")]),
    ({"mark": "B", "air": {"discharge_coefficient": 10**400}}, [("/air/discharge_coefficient", "too_large")]),
    ({"mark": "B", "building": {"year_built": 1990.5}}, [("/building/year_built", "wrong_type")]),
    ({"mark": "B", "rough_opening": {"height": "79 in"}}, [("/rough_opening/height", "implausible")]),
    ({"mark": "B", "as_set": {}}, [("/as_set", "unknown_field")]),
    ({"mark": "D1"}, [("/mark", "repeated")]),
    ({"mark": "B", "rough_openning": None}, [("/rough_openning", "unknown_field")]),
    ({"mark": "B", "as_set": None}, [("/as_set", "unknown_field")]),
    ({"mark": "B", "leaf": {"hieght": None}}, [("/leaf/hieght", "unknown_field")]),
    ({"mark": "B", "subfloor": {"kind": "level", "leg": None}}, [("/subfloor/leg", "unknown_field")]),
    (  # what an object is merged with is an object afterwards, here one without members (RFC 7396 section 2)
        {"mark": "B", "rough_opening": {"height": {"unti": None}}},
        [("/rough_opening/height/unti", "unknown_field"), ("/rough_opening/height", "wrong_members")],
    ),
    (
        {"mark": "B", "leaf": {"hieght": None, "width": 30}, "grids": None},
        [("/leaf/hieght", "unknown_field"), ("/grids", "unknown_field"), ("/leaf/width", "wrong_type")],
    ),
]


@pytest.mark.parametrize(("faulty", "expected"), FAULTY)
def test_an_opening_with_faults_is_reported_in_its_place_and_fails_no_other(
    faulty: Any, expected: list[tuple[str, str]], house: Request, asked: Ask
) -> None:
    house["openings"].insert(1, faulty)
    answer = _answer(asked, house)
    assert ["advice" in one for one in answer["openings"]] == [True, False, True, True]
    refused = answer["openings"][1]
    assert [(e["pointer"], e["code"]) for e in refused["problem"]["errors"]] == [
        (f"#/openings/1{pointer}", code) for pointer, code in expected
    ]
    assert refused["problem"]["code"] == "invalid_request"
    named = isinstance(faulty, dict) and faulty.get("mark")
    assert refused.get("mark") == (named or None)
    assert answer["totals"]["refused"] == 1


def test_a_number_too_large_to_be_one_fails_its_opening_alone(house: Request, asked: Ask) -> None:
    body = msgspec.json.encode(house).replace(b'"28 in"', b'{"value": 1e400, "unit": "in"}')
    reply = asked("POST", HOUSE, headers=JSON_BODY, body=body)
    assert reply.status == 200
    assert reply.json()["openings"][1]["problem"]["errors"][0]["code"] == "out_of_range"


@pytest.mark.parametrize(("name", "value"), [("grid", "1/3 in"), ("jurisdiction", "XX"), ("rule_set", "1999-01")])
def test_an_opening_that_names_what_there_isnt_fails_no_other(
    name: str, value: str, house: Request, asked: Ask
) -> None:
    house["openings"][0][name] = value
    answer = _answer(asked, house)
    assert ["advice" in one for one in answer["openings"]] == [False, True, True]
    errors = answer["openings"][0]["problem"]["errors"]
    assert [(e["pointer"], e["code"]) for e in errors] == [(f"#/openings/0/{name}", "unknown_name")]


def test_a_misspelt_removal_is_told_the_name_it_may_have_meant(house: Request, asked: Ask) -> None:
    house["openings"][0]["leaf"] = {"hieght": None}
    (error,) = _answer(asked, house)["openings"][0]["problem"]["errors"]
    assert error["detail"].endswith('Did you mean "height"?')


def test_null_under_any_name_of_the_contract_is_a_removal_and_none_but_these(contract: Request) -> None:
    """The names that a patch may have, as the contract has them and as the reader knows them."""
    schemas = contract["components"]["schemas"]

    def known(schema: Request) -> Request:
        name = schema.get("$ref", "").rpartition("/")[2]
        members = schemas.get(name, schema).get("properties", {})
        parts = {field: form.get("anyOf", [form])[0] for field, form in members.items()}
        return {field: known(part) if "$ref" in part else {} for field, part in parts.items()}

    def without_quantities(members: Any) -> Request:
        return {name: {} if of.keys() == {"value", "unit"} else without_quantities(of) for name, of in members.items()}

    assert without_quantities(MEMBERS) == without_quantities(known({"$ref": "OpeningPatch"}))


def test_a_removal_of_what_isnt_there_is_none_and_fails_nothing(house: Request, asked: Ask) -> None:
    without = _answer(asked, house)["openings"][1]["advice"]
    house["openings"][1] |= {"air": None, "frame": {"foot": None}, "subfloor": {"hinge_leg": None, "kind": "level"}}
    assert _answer(asked, house)["openings"][1]["advice"]["checks"] == without["checks"]


LEGS = {"kind": "legs", "hinge_leg": "0 in", "strike_leg": "1/8 in"}


def test_what_another_kind_of_default_leaves_is_told_where_it_is_from_and_null_takes_it_away(
    house: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    house["defaults"]["subfloor"] = LEGS
    house["openings"][1]["subfloor"] = {"kind": "level", "hieght": "1 in"}
    house["openings"][2]["subfloor"] = {"kind": "level", "hinge_leg": None, "strike_leg": None}
    assert conforms("House", house) != []
    _, refused, advised = _answer(asked, house)["openings"]
    told = {error["pointer"]: error["detail"] for error in refused["problem"]["errors"]}
    assert {pointer: detail.endswith(TAKEN_OVER) for pointer, detail in told.items()} == {
        "#/defaults/subfloor/hinge_leg": True,
        "#/defaults/subfloor/strike_leg": True,
        "#/openings/1/subfloor/hieght": False,
    }
    assert "null" in TAKEN_OVER
    assert "advice" in advised
    del house["openings"][1]["subfloor"]
    assert conforms("House", house) == []


def test_a_default_of_the_same_kind_is_changed_member_by_member(house: Request, asked: Ask) -> None:
    house["defaults"]["subfloor"] = LEGS
    house["openings"][0]["subfloor"] = {"strike_leg": "1/4 in"}
    whole = {**house["defaults"], **house["openings"][0], "labour": house["labour"]}
    whole |= {side: {**house["defaults"][side], **whole[side]} for side in ("pull_side", "push_side")}
    whole["subfloor"] = {**LEGS, "strike_leg": "1/4 in"}
    alone = asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(whole)).json()
    assert _answer(asked, house)["openings"][0]["advice"]["input_digest"] == alone["input_digest"]


def test_a_default_that_cant_be_read_is_named_where_it_was_sent(house: Request, asked: Ask) -> None:
    house["defaults"]["leaf"]["height"] = "80 mm"
    answer = _answer(asked, house)
    alone = {**house["defaults"], "mark": "D1", "labour": house["labour"]}
    (told,) = asked("POST", ADVICE, headers=JSON_BODY, body=msgspec.json.encode(alone)).json()["errors"]
    for one in answer["openings"]:
        assert one["problem"]["errors"] == [told | {"pointer": "#/defaults/leaf/height"}]
    assert answer["totals"] | {"advised": 0, "refused": 3} == answer["totals"]
    assert answer["tasks"] == []


ELSEWHERE: dict[str, tuple[Any, Any, list[tuple[str, str]]]] = {
    "a member of its own": (
        {"leaf": {"height": "80 mm"}},
        {"leaf": {"height": "81 mm"}},
        [("#/openings/1/leaf/height", "implausible")],
    ),
    "a misspelt default": ({"leaf": {"hieght": 1}}, {}, [("#/defaults/leaf/hieght", "unknown_field")]),
    "a default of the wrong type": ({"leaf": 5}, {}, [("#/defaults/leaf", "wrong_type")]),
    "within a list": (
        {"pull_side": {"build_up": [{"material": "carpet"}, {"material": "carpett"}]}},
        {"pull_side": {"room": "den"}},
        [("#/defaults/pull_side/build_up/1/material", "unknown_name")],
    ),
    "what an item of a list lacks": (
        {"pull_side": {"build_up": [{}]}},
        {},
        [("#/defaults/pull_side/build_up/0/material", "missing_field")],
    ),
    "within a list of its own": (
        {"pull_side": {"build_up": [{"material": "carpet"}]}},
        {"pull_side": {"build_up": [{"material": "carpett"}]}},
        [("#/openings/1/pull_side/build_up/0/material", "unknown_name")],
    ),
    "what was taken away": ({}, {"leaf": {"core": None}}, [("#/openings/1/leaf/core", "missing_field")]),
    "what the engine finds of a default": (
        {"rough_opening": {"height": "79 in"}},
        {},
        [("#/defaults/rough_opening/height", "implausible")],
    ),
    "what it finds of a member of its own": (
        {"rough_opening": {"height": "79 in"}},
        {"rough_opening": {"height": "78 in"}},
        [("#/openings/1/rough_opening/height", "implausible")],
    ),
    "a name that the engine doesn't know": ({"grid": "1/3 in"}, {}, [("#/defaults/grid", "unknown_name")]),
    "a member called defaults": ({}, {"defaults": {"grid": "1 mm"}}, [("#/openings/1/defaults", "unknown_field")]),
}
"""Changes of the defaults, those of the opening at place 1, and where its faults stand."""


@pytest.mark.parametrize("what", ELSEWHERE)
def test_a_fault_is_told_at_the_place_where_it_was_sent(what: str, house: Request, asked: Ask) -> None:
    defaults, opening, expected = ELSEWHERE[what]
    house["defaults"] = merge_patch(house["defaults"], defaults)
    house["openings"][1] = {"mark": "D2", **opening}
    errors = _answer(asked, house)["openings"][1]["problem"]["errors"]
    assert [(error["pointer"], error["code"]) for error in errors] == expected


# --- renditions


@pytest.mark.parametrize("name", [None, *LISTS])
def test_a_list_is_csv_with_titles_in_a_file_of_its_name(name: str | None, house: Request, asked: Ask) -> None:
    house["openings"].append({"mark": "=SUM(A1)", "leaf": {"height": "80 mm"}})
    reply = _post(asked, house, "text/csv", "" if name is None else f"?list={name}")
    assert reply.status == 200
    assert reply.headers["content-type"] == "text/csv; charset=utf-8; header=present"
    assert reply.headers["content-disposition"] == f'attachment; filename="{name or "openings"}.csv"'
    assert reply.headers["vary"] == "Accept, Accept-Language"
    titles, *rows = csv.reader(io.StringIO(reply.body.decode(), newline=""), strict=True)
    assert titles == [title for column in LISTS[name or "openings"].columns for title in column.titles]
    assert all(len(row) == len(titles) for row in rows)
    assert not [cell for row in rows for cell in row if cell.startswith(("=", "@"))]


def test_the_lists_say_what_the_answer_says(house: Request, asked: Ask) -> None:
    house["openings"][2]["pull_side"] = None
    house["openings"].append({"mark": "=X", "external_id": "a-4", "leaf": {"height": "80 mm"}})
    answer = _answer(asked, house)

    def table(name: str) -> list[dict[str, str]]:
        return list(csv.DictReader(io.StringIO(_post(asked, house, "text/csv", f"?list={name}").body.decode())))

    assert [row["summary"] for row in table("openings")[:2]] == [
        one["advice"]["summary"] for one in answer["openings"][:2]
    ]
    assert [(row["mark"], row["verdict"]) for row in table("openings")[2:]] == [("D3", "refused"), ("'=X", "refused")]
    assert [row["key"] for row in table("tasks")] == [task["key"] for task in answer["tasks"]]
    assert [float(row["trim_mm"]) for row in table("trim")] == [line["trim"]["mm"] for line in answer["trim_list"]]
    assert [row["external_id"] for row in table("openings")[2:]] == ["", "a-4"]
    assert [(row["external_id"], row["pointer"]) for row in table("refused")] == [
        ("", "#/openings/2/pull_side"),
        ("a-4", "#/openings/3/leaf/height"),
    ]


def test_the_tasks_are_a_calendar_that_a_parser_reads(house: Request, asked: Ask) -> None:
    house["openings"][2]["pull_side"] = None
    answer, reply = _answer(asked, house), _post(asked, house, "text/calendar")
    assert (reply.status, reply.headers["content-type"]) == (200, "text/calendar; charset=utf-8")
    assert reply.headers["content-disposition"] == 'attachment; filename="tasks.ics"'
    assert reply.headers["vary"] == "Accept, Accept-Language"
    todos = icalendar.Calendar.from_ical(reply.body).walk("VTODO")
    summaries = [str(todo["summary"]) for todo in todos]
    assert {f"{task['mark']}: {task['title']}" for task in answer["tasks"]} <= set(summaries)
    assert summaries[-1] == "D3: Fields of the request are invalid"
    assert _post(asked, house, "text/calendar").body == reply.body


def test_a_calendar_of_nothing_but_faults_has_them_to_mend(house: Request, asked: Ask) -> None:
    house["openings"] = [{"mark": "X", "leaf": None}]
    house["head_lines"] = []
    todos = icalendar.Calendar.from_ical(_post(asked, house, "text/calendar").body).walk("VTODO")
    assert [str(todo["summary"]) for todo in todos] == ["X: Fields of the request are invalid"]


def test_a_house_of_any_name_is_called_so_by_its_calendar(house: Request, asked: Ask) -> None:
    house["house"] = 'Lot; 12, "A"\\ é'
    body = _post(asked, house, "text/calendar").body
    assert 'NAME:Lot\\; 12\\, "A"\\\\ é\r\n'.encode() in body
    as_text = body.replace(b"\r\nNAME:", b"\r\nNAME;VALUE=TEXT:")  # so RFC 7986 has it; the library doesn't know NAME
    assert str(icalendar.Calendar.from_ical(as_text)["name"]) == house["house"]


def test_events_are_answered_as_promised_and_listed(
    house: Request, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    events = _answer(asked, house)["events"]
    assert [conforms("HouseEvent", event) for event in events] == [[]] * len(events)
    rows = list(csv.DictReader(io.StringIO(_post(asked, house, "text/csv", "?list=events").body.decode())))
    assert [(row["key"], row["title"]) for row in rows] == [(event["key"], event["title"]) for event in events]
    assert ("external:floor-laid.den", "den: floor laid") in [(event["key"], event["title"]) for event in events]


@pytest.mark.parametrize("accept", ["application/json", "text/calendar", "*/*"])
def test_a_list_of_what_has_none_is_refused_by_name(accept: str, asked: Ask) -> None:
    reply = asked("POST", f"{HOUSE}?list=trim", headers={**JSON_BODY, "Accept": accept}, body=b"{")
    assert reply.status == 422
    assert [(e["parameter"], e["code"]) for e in reply.json()["errors"]] == [("list", "other_media_type")]
    assert "text/csv" in reply.json()["errors"][0]["detail"]
    assert reply.json()["detail"] == "1 query parameter can't be accepted; errors says which."


@pytest.mark.parametrize(
    ("query", "code"),
    [("list=doors", "not_allowed"), ("list=", "not_allowed"), ("list=trim&list=trim", "repeated_parameter")],
)
def test_an_unknown_list_is_refused_by_name(query: str, code: str, asked: Ask) -> None:
    reply = asked("POST", f"{HOUSE}?{query}", headers={**JSON_BODY, "Accept": "text/csv"}, body=b"{")
    assert reply.status == 422
    assert [(e["parameter"], e["code"]) for e in reply.json()["errors"]] == [("list", code)]


def test_query_parameters_that_cant_be_accepted_are_counted_in_words_that_fit(asked: Ask) -> None:
    details = [
        asked("POST", f"{HOUSE}?{query}", headers={**JSON_BODY, "Accept": "text/csv"}, body=b"{").json()["detail"]
        for query in ("list=doors", "list=doors&lists=trim")
    ]
    assert details == [
        "1 query parameter can't be accepted; errors says which.",
        "2 query parameters can't be accepted; errors says which.",
    ]


def test_a_refused_house_is_a_problem_whatever_form_was_asked_for(house: Request, asked: Ask) -> None:
    reply = _post(asked, house | {"house": ""}, "text/csv", "?list=trim")
    assert (reply.status, reply.media_type) == (422, "application/problem+json")


# --- others are answered meanwhile


def test_other_calls_are_answered_while_a_house_is_worked_on(
    house: Request, app: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The house waits until the other call has been answered: were both on one thread, neither would end."""
    answered = threading.Event()
    real = houses.RENDITIONS["application/json"]

    def slow(answer: bytes, asked: Any) -> Any:
        assert answered.wait(timeout=30), "nothing else was answered meanwhile"
        return real(answer, asked)

    monkeypatch.setitem(houses.RENDITIONS, "application/json", slow)

    async def both() -> tuple[int, int]:
        transport = httpx.ASGITransport(app=app)
        async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
            body = msgspec.json.encode(house)
            waiting = asyncio.create_task(client.post(HOUSE, content=body, headers=JSON_BODY))
            other = await client.get("/health/live")
            assert not waiting.done()
            answered.set()
            return (await waiting).status_code, other.status_code

    assert asyncio.run(both()) == (200, 200)


def test_houses_and_openings_at_once_are_answered_as_one_by_one(
    house: Request, opening: Request, app: Any, asked: Ask
) -> None:
    """Caches are shared between the threads; none of what they hold is a caller's."""
    calls = [(HOUSE, msgspec.json.encode(house | {"house": f"Lot {lot}"})) for lot in range(6)]
    calls += [(ADVICE, msgspec.json.encode(opening | {"mark": f"M{mark}"})) for mark in range(12)]
    expected = [asked("POST", path, headers=JSON_BODY, body=body).body for path, body in calls]

    async def all_at_once() -> list[bytes]:
        transport = httpx.ASGITransport(app=app)
        async with httpx.AsyncClient(transport=transport, base_url="http://test") as client:
            replies = await asyncio.gather(
                *(client.post(path, content=body, headers=JSON_BODY) for path, body in calls)
            )
            return [reply.content for reply in replies]

    assert asyncio.run(all_at_once()) == expected
