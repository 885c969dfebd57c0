from __future__ import annotations

from typing import Any

import pytest

from jambset.http.patches import with_patches

REF = "#/components/schemas/{}"


def _kind(name: str, **members: Any) -> dict[str, Any]:
    properties = {"kind": {"type": "string", "const": name}, **members}
    return {"type": "object", "properties": properties, "required": ["kind"], "additionalProperties": False}


def _schemas(one: dict[str, Any], other: dict[str, Any]) -> dict[str, Any]:
    mapping = {"one": REF.format("One"), "other": REF.format("Other")}
    union = {
        "title": "Either",
        "oneOf": [{"$ref": ref} for ref in mapping.values()],
        "discriminator": {"propertyName": "kind", "mapping": mapping},
    }
    opening = {"properties": {"mark": {"type": "string"}, "either": {"$ref": REF.format("Either")}}}
    house: dict[str, Any] = {"properties": {"openings": {}, "defaults": {}}}
    houses = {"Opening": opening, "Recheck": opening, "House": house, "HouseRecheck": house}
    return {**houses, "Either": union, "One": one, "Other": other}


def test_a_union_is_patched_by_the_members_of_all_its_kinds() -> None:
    schemas = _schemas(_kind("one", a={"type": "integer"}), _kind("other", a={"type": "integer"}, b={"type": "string"}))
    patch = with_patches(schemas)["EitherPatch"]
    null = {"type": "null"}
    assert patch["properties"] == {
        "kind": {"anyOf": [{"type": "string", "enum": ["one", "other"]}, null]},
        "a": {"anyOf": [{"type": "integer"}, null]},
        "b": {"anyOf": [{"type": "string"}, null]},
    }
    assert patch["additionalProperties"] is False
    assert "required" not in patch


def test_kinds_that_mean_two_things_by_one_name_have_no_patch() -> None:
    schemas = _schemas(_kind("one", a={"type": "integer"}), _kind("other", a={"type": "string"}))
    with pytest.raises(ValueError, match="a is one thing in one kind of Either and another in"):
        with_patches(schemas)
