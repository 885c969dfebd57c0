from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jambset.http.merge import common_base, merge_patch, taken_over

RFC_7396 = [
    ('{"a":"b"}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"b"}', '{"b":"c"}', '{"a":"b","b":"c"}'),
    ('{"a":"b"}', '{"a":null}', "{}"),
    ('{"a":"b","b":"c"}', '{"a":null}', '{"b":"c"}'),
    ('{"a":["b"]}', '{"a":"c"}', '{"a":"c"}'),
    ('{"a":"c"}', '{"a":["b"]}', '{"a":["b"]}'),
    ('{"a":{"b":"c"}}', '{"a":{"b":"d","c":null}}', '{"a":{"b":"d"}}'),
    ('{"a":[{"b":"c"}]}', '{"a":[1]}', '{"a":[1]}'),
    ('["a","b"]', '["c","d"]', '["c","d"]'),
    ('{"a":"b"}', '["c"]', '["c"]'),
    ('{"a":"foo"}', "null", "null"),
    ('{"a":"foo"}', '"bar"', '"bar"'),
    ('{"e":null}', '{"a":1}', '{"e":null,"a":1}'),
    ("[1,2]", '{"a":"b","c":null}', '{"a":"b"}'),
    ("{}", '{"a":{"bb":{"ccc":null}}}', '{"a":{"bb":{}}}'),
]
"""The test cases of RFC 7396, appendix A: original, patch, result."""


@pytest.mark.parametrize(("target", "patch", "result"), RFC_7396)
def test_the_cases_of_the_standard_come_out_as_published(target: str, patch: str, result: str) -> None:
    assert merge_patch(json.loads(target), json.loads(patch)) == json.loads(result)


VALUES = st.recursive(
    st.none() | st.integers() | st.text(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from("abc"), inner, max_size=3),
    max_leaves=12,
)


@given(target=VALUES, patch=VALUES)
def test_neither_is_changed_and_patching_twice_is_patching_once(target: Any, patch: Any) -> None:
    before = copy.deepcopy((target, patch))
    once = merge_patch(target, patch)
    assert (target, patch) == before
    assert merge_patch(once, patch) == once


def test_what_a_patch_doesnt_touch_is_the_same_object() -> None:
    target = {"leaf": {"core": "hollow"}, "grid": "1 mm"}
    assert merge_patch(target, {"grid": "5 mm"})["leaf"] is target["leaf"]


def test_labour_lies_below_the_defaults_and_these_below_the_opening() -> None:
    house = {
        "labour": {"set_unit": 50, "fit_piece": 20},
        "defaults": {"labour": {"fit_piece": 30, "fit_seal": None}, "grid": "1 mm"},
    }
    base = common_base(house)
    assert base == {"labour": {"set_unit": 50, "fit_piece": 30}, "grid": "1 mm"}
    assert merge_patch(base, {"labour": {"set_unit": None}})["labour"] == {"fit_piece": 30}
    assert common_base({"defaults": {"labour": None, "grid": None}, "labour": {"set_unit": 50}}) == {}
    assert common_base({}) == {}


BASE = {"subfloor": {"kind": "legs", "a/b~c d": 1}, "grid": "1 mm", "side": {"layers": [{"x": 1}], "room": "den"}}


@pytest.mark.parametrize(
    ("pointer", "patch", "expected"),
    [
        ("#/grid", {}, True),
        ("#/grid", {"grid": "1 mm"}, False),
        ("#/grid", 5, False),
        ("#/mark", {}, False),
        ("#/subfloor/kind", {"subfloor": {"kind": "level"}}, False),
        ("#/subfloor/a~1b~0c%20d", {"subfloor": {"kind": "level"}}, True),
        ("#/subfloor/a~1b~0c%20d", {"subfloor": {"a/b~c d": 2}}, False),
        ("#/subfloor/kind", {}, True),
        ("#/subfloor/kind", {"subfloor": ["kind"]}, False),
        ("#/side/layers/0/x", {}, True),
        ("#/side/layers/0/y", {}, True),  # a list is taken over whole, with what its items lack
        ("#/side/layers/0/x", {"side": {"room": "hall"}}, True),
        ("#/side/layers/0/x", {"side": {"layers": [{}]}}, False),
        ("#/side/layers/0/x", {"side": None}, False),
        ("#/side/room", {"side": {"room": None}}, False),
        ("#/side", {"side": {"room": None}}, False),
        ("#/grid/value", {}, False),
        ("#", {}, False),
    ],
)
def test_taken_over_is_what_stands_in_the_base_and_not_in_the_patch(pointer: str, patch: Any, expected: bool) -> None:
    assert taken_over(pointer, BASE, patch) is expected
