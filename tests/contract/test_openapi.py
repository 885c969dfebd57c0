"""The contract is one thing: what is built, what is committed, what is served, what is done."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import jsonschema_rs
import pytest
from jsonschema import Draft202012Validator
from litestar import Litestar
from openapi_spec_validator import OpenAPIV31SpecValidator
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, POSTS, RECHECK
from tests.contract.conftest import ROOT, Ask

from jambset.http import openapi, problems
from jambset.http.addresses import BULK
from jambset.http.docstrings import attribute_docs
from jambset.http.known import REQUESTS, names
from jambset.http.openapi import build_document, encode_document
from jambset.http.sandbox import Scenario
from jambset.model import advice
from jambset.model.request import PLAIN, PUBLISHED, UNSHOWN, Duty
from jambset.model.version import VERSION
from jambset.quantity.parse import LONGEST_TEXT
from jambset.render.lists import LISTS
from jambset.rules.schema import Catalogue

COMMITTED = ROOT / "openapi" / "jambset.openapi.json"
Document = dict[str, Any]


def _operations(document: Document) -> Iterator[tuple[str, str, Document]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


def _parts(value: Any) -> Iterator[Document]:
    """Every object in the document."""
    if isinstance(value, dict):
        yield value
    for part in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from _parts(part)


def _resolve(document: Document, part: Document) -> Document:
    while "$ref" in part:
        found: Any = document
        for key in part["$ref"].removeprefix("#/").split("/"):
            found = found[key]
        part = found
    return part


def _requested(document: Document) -> dict[str, Document]:
    """Schemas that a request reaches."""
    seen: dict[str, Document] = {}
    waiting = [kind.__name__ for kind in REQUESTS]
    while waiting:
        name = waiting.pop()
        seen[name] = document["components"]["schemas"][name]
        refs = (part["$ref"] for part in _parts(seen[name]) if isinstance(part.get("$ref"), str))
        waiting += [ref.rpartition("/")[2] for ref in refs if ref.rpartition("/")[2] not in seen]
    return seen


def test_what_is_built_is_what_is_committed_and_served(
    catalogue: Catalogue, sandbox: tuple[Scenario, ...], asked: Ask
) -> None:
    built = encode_document(build_document(catalogue, sandbox, VERSION))
    assert asked("GET", "/openapi.json").body == built
    assert COMMITTED.read_bytes() == built, "write it anew: jambset openapi > openapi/jambset.openapi.json"


def test_building_it_twice_gives_the_same_bytes(catalogue: Catalogue, sandbox: tuple[Scenario, ...]) -> None:
    first, second = (encode_document(build_document(catalogue, sandbox, VERSION)) for _ in range(2))
    assert first == second


def test_it_is_valid_openapi(contract: Document) -> None:
    assert list(OpenAPIV31SpecValidator(contract).iter_errors()) == []


def test_it_has_the_version_of_the_package(contract: Document) -> None:
    package = (ROOT / "pyproject.toml").read_text("utf-8")
    assert f'version = "{contract["info"]["version"]}"' in package


def test_every_address_served_is_described_and_the_other_way_round(contract: Document, app: Litestar) -> None:
    served = {route.path.replace(":str}", "}") for route in app.routes if "/assets/" not in route.path}
    pages = {f"/problems/{slug}" for slug in problems.kinds()}
    assert served - pages == contract["paths"].keys() - {"/problems/{slug}"}
    assert pages <= served


def test_each_operation_has_an_id_one_tag_a_summary_and_a_described_answer(contract: Document) -> None:
    operations = [operation for _, _, operation in _operations(contract)]
    ids = [operation["operationId"] for operation in operations]
    tags = {tag["name"] for tag in contract["tags"]}
    assert len(set(ids)) == len(ids)
    assert all(re.fullmatch("[a-z]+([A-Z][a-z]+)+", one) for one in ids)
    for operation in operations:
        assert len(operation["tags"]) == 1
        assert set(operation["tags"]) <= tags
        assert operation["summary"]
        assert operation["responses"]["200"]["content"]
    assert {operation["tags"][0] for operation in operations} == tags


def test_each_operation_refers_to_problems_for_all_it_can_refuse(contract: Document) -> None:
    for path, method, operation in _operations(contract):
        needed = {"400", "406", "414", "421", "422", "431", "500", "503", "default"}
        needed |= {"401", "429"} if _may_need_a_key(path) else set()
        needed |= {"408", "413", "415"} if method == "post" else set()
        if path == BULK:  # what ends a stream that has begun is a line of it
            needed = needed - {"408", "413"}
        needed |= {"404"} if "{" in path or path == "/metrics" else set()
        answered = operation["responses"]
        assert answered.keys() - {"200", "304"} == needed, path
        for status in needed:
            found = _resolve(contract, answered[status])
            assert found["content"].keys() == {"application/problem+json"}
            assert found["content"]["application/problem+json"]["schema"] == {"$ref": "#/components/schemas/Problem"}


def _may_need_a_key(path: str) -> bool:
    return path.startswith("/v1/") or path == "/metrics"


def test_each_operation_that_may_be_limited_says_that_its_answer_tells_what_is_left(contract: Document) -> None:
    for path, _, operation in _operations(contract):
        limited = {"RateLimit", "RateLimit-Policy"} & operation["responses"]["200"]["headers"].keys()
        assert bool(limited) == _may_need_a_key(path), path


def test_each_operation_says_whether_it_may_need_a_key(contract: Document) -> None:
    assert contract["components"]["securitySchemes"]["key"].items() >= {("type", "http"), ("scheme", "bearer")}
    assert "security" not in contract
    for path, _, operation in _operations(contract):
        assert operation["security"] == ([{}, {"key": []}] if _may_need_a_key(path) else []), path


def test_head_is_left_to_the_reader(contract: Document) -> None:
    assert {method for _, method, _ in _operations(contract)} == {"get", "post"}


def test_every_example_conforms_to_its_schema(contract: Document, conforms: Callable[[str, Any], list[str]]) -> None:
    checked = 0
    for part in _parts(contract["paths"] | contract["components"]["responses"]):
        if "schema" in part and "examples" in part:
            schema = {**part["schema"], "components": contract["components"]}
            for example in part["examples"].values():
                assert list(Draft202012Validator(schema).iter_errors(example["value"])) == []
                checked += 1
    assert checked > 30


def test_every_scenario_is_an_example_of_a_request(contract: Document, sandbox: tuple[Scenario, ...]) -> None:
    for call in POSTS:
        body = contract["paths"][call]["post"]["requestBody"]["content"]["application/json"]
        assert {name: example["value"] for name, example in body["examples"].items()} == {
            scenario.scenario: scenario.request for scenario in sandbox if scenario.call == call
        }


SHAPES = {
    ADVICE: ("Opening", "Advice"),
    RECHECK: ("Recheck", "RecheckAdvice"),
    HOUSE: ("House", "HouseAdvice"),
    HOUSE_RECHECK: ("HouseRecheck", "HouseRecheckAdvice"),
}


def test_every_scenario_answer_conforms(
    sandbox: tuple[Scenario, ...], conforms: Callable[[str, Any], list[str]]
) -> None:
    for scenario in sandbox:
        asked, answered = SHAPES[scenario.call]
        assert conforms(asked, scenario.request) == []
        assert conforms(answered, scenario.response) == []
    assert {scenario.call for scenario in sandbox} == SHAPES.keys()


@pytest.mark.parametrize(
    "target", ["/", "/v1/rules", "/v1/rule-sets", "/v1/finishes", "/v1/labour", "/v1/limits", "/v1/sandbox"]
)
def test_every_get_answers_as_described(
    target: str, contract: Document, asked: Ask, conforms: Callable[[str, Any], list[str]]
) -> None:
    content = contract["paths"][target]["get"]["responses"]["200"]["content"]["application/json"]
    assert conforms(content["schema"]["$ref"].rpartition("/")[2], asked("GET", target).json()) == []


def test_requests_are_closed_and_without_defaults_or_null(contract: Document) -> None:
    for name, schema in _requested(contract).items():
        if "properties" in schema:
            assert schema["additionalProperties"] is False, name
        for part in _parts(schema):
            assert "default" not in part, name
            assert part.get("type") != "null" or name in _patches(contract), name


def _patches(contract: Document) -> set[str]:
    """Schemas of what is merged into something, where null means to take away."""
    defaults = {"OpeningDefaults", "RecheckDefaults"}
    return {name for name in contract["components"]["schemas"] if name.endswith("Patch")} | defaults


def test_all_duties_may_be_stated_at_once(contract: Document) -> None:
    schemas = contract["components"]["schemas"]
    assert schemas["Opening"]["properties"]["duties"]["maxItems"] == len(Duty)


@pytest.mark.parametrize(("house_name", "name_of"), [("House", "Opening"), ("HouseRecheck", "Recheck")])
def test_an_opening_of_a_house_is_an_opening_that_may_leave_to_the_defaults_what_they_say(
    house_name: str, name_of: str, contract: Document
) -> None:
    schemas = contract["components"]["schemas"]
    names = (f"{name_of}Patch", f"{name_of}Defaults", name_of)
    patch, defaults, whole = (schemas[name]["properties"] for name in names)
    assert patch.keys() == whole.keys()
    assert defaults.keys() == whole.keys() - {"mark"}
    assert schemas[f"{name_of}Patch"]["required"] == ["mark"]
    assert "required" not in schemas[f"{name_of}Defaults"]
    assert patch["mark"] == whole["mark"]
    for name in whole.keys() - {"mark"}:
        assert patch[name]["anyOf"][1] == {"type": "null"}
        assert defaults[name] == patch[name]
        assert patch[name].get("description") == whole[name].get("description")
    assert patch["duties"]["anyOf"][0]["maxItems"] == whole["duties"]["maxItems"]
    assert patch["leaf"]["anyOf"][0] == {"$ref": "#/components/schemas/LeafPatch"}
    assert schemas["LeafPatch"].keys() == schemas["Leaf"].keys() - {"required"}
    assert patch["subfloor"]["anyOf"][0] == {"$ref": "#/components/schemas/SubfloorPatch"}
    house = schemas[house_name]["properties"]
    assert house["openings"]["items"] == {"$ref": f"#/components/schemas/{name_of}Patch"}
    assert house["openings"]["maxItems"] == 500
    assert house["defaults"] == {"$ref": f"#/components/schemas/{name_of}Defaults"}


def test_a_patch_conforms_with_members_missing_or_null_and_with_no_other_member(
    conforms: Callable[[str, Any], list[str]],
) -> None:
    assert conforms("OpeningPatch", {"mark": "D1"}) == []
    assert conforms("OpeningPatch", {"mark": "D1", "leaf": {"width": "30 in", "fire_minutes": None}, "air": None}) == []
    level = {"kind": "level", "hinge_leg": None, "strike_leg": None}
    assert conforms("OpeningPatch", {"mark": "D1", "subfloor": level}) == []
    assert conforms("OpeningPatch", {"mark": "D1", "subfloor": {"strike_leg": "1/8 in"}}) == []
    assert conforms("OpeningPatch", {"mark": "D1", "subfloor": {"kind": "flat"}}) != []
    assert conforms("OpeningPatch", {"mark": "D1", "subfloor": {"kind": "level", "leg": None}}) != []
    assert conforms("OpeningPatch", {"leaf": None}) != []
    assert conforms("OpeningPatch", {"mark": "D1", "leaf": {"witdh": "30 in"}}) != []
    assert conforms("OpeningDefaults", {"mark": "D1"}) != []
    assert conforms("OpeningPatch", {"mark": "D1", "pull_side": {"build_up": [{"thickness": "1 in"}]}}) != []


def test_a_house_is_answered_as_json_as_lists_and_as_a_calendar(contract: Document) -> None:
    operation = contract["paths"][HOUSE]["post"]
    assert operation["responses"]["200"]["content"].keys() == {
        "application/json",
        "text/html",
        "application/pdf",
        "text/csv",
        "text/calendar",
    }
    chosen, language = operation["parameters"]
    assert chosen["schema"]["enum"] == list(LISTS)
    assert language == {"$ref": "#/components/parameters/AcceptLanguage"}


def test_an_opening_as_it_was_set_is_answered_as_json_as_a_drawing_and_as_sheets(contract: Document) -> None:
    answered = contract["paths"][RECHECK]["post"]["responses"]["200"]
    assert answered["content"].keys() == {"application/json", "image/svg+xml", "text/html", "application/pdf"}
    assert answered["headers"]["Content-Disposition"] == {"$ref": "#/components/headers/ContentDisposition"}


def test_answers_are_open_without_closed_code_lists(contract: Document) -> None:
    for name in contract["components"]["schemas"].keys() - _requested(contract).keys():
        for part in _parts(contract["components"]["schemas"][name]):
            assert not part.keys() & {"additionalProperties", "default", "const", "oneOf"}, name
            assert not isinstance(part.get("pattern"), str), name
            assert not isinstance(part.get("enum"), list), name


def test_what_is_required_is_described(contract: Document) -> None:
    schemas = contract["components"]["schemas"]
    for name, schema in schemas.items():
        assert set(schema.get("required", ())) <= schema.get("properties", {}).keys(), name
    assert schemas["Notation"]["properties"]["pattern"]["type"] == "string"


def test_unions_of_a_request_are_named_and_told_apart_by_kind(contract: Document) -> None:
    schemas = contract["components"]["schemas"]
    unions = {name: schema for name, schema in schemas.items() if "oneOf" in schema}
    assert unions.keys() == {"Subfloor", "AirPath"}
    for union in unions.values():
        assert union.keys() == {"title", "description", "oneOf", "discriminator"}
        mapping = union["discriminator"]["mapping"]
        assert union["discriminator"]["propertyName"] == "kind"
        assert [branch["$ref"] for branch in union["oneOf"]] == list(mapping.values())
        for tag, ref in mapping.items():
            branch = _resolve(contract, {"$ref": ref})
            assert branch["properties"]["kind"] == {"type": "string", "const": tag}
            assert "kind" in branch["required"]
    assert not [part for part in _parts(_requested(contract)) if "discriminator" in part and "oneOf" not in part]


def test_names_of_the_catalogue_are_closed_lists(contract: Document, catalogue: Catalogue) -> None:
    for place, known in names(catalogue).items():
        struct, _, field = place.partition(".")
        schema = _resolve(contract, contract["components"]["schemas"][struct]["properties"][field])
        assert schema["enum"] == list(known)


PORTABLE = re.compile(r"(?:[^\\(]|\((?:\?:|(?!\?))|\\(?:[.]|x[0-9a-f]{2}))*")
"""No look-around, no flag, no back-reference, and of escapes those that mean the same to every engine."""


def _patterns(document: Document) -> set[str]:
    return {part["pattern"] for part in _parts(document) if isinstance(part.get("pattern"), str)}


def test_every_published_pattern_is_one_that_any_engine_reads(contract: Document) -> None:
    """Go's engine and Rust's know no look-around and no back-reference, Go's no \\u: go.dev/s/re2syntax."""
    found = _patterns(contract)
    assert len(found) > 5
    assert [pattern for pattern in found if not PORTABLE.fullmatch(pattern)] == []
    for pattern in found:
        jsonschema_rs.validator_for({"pattern": pattern}, pattern_options=jsonschema_rs.RegexOptions())


@pytest.mark.parametrize("pattern", [r"a(?!b)", r"(?<=a)b", r"(a)\1", r"(?P<a>b)", r"\u0000", r"(?i)a", r"\p{Cc}"])
def test_a_pattern_that_some_engine_does_not_read_would_be_seen(pattern: str) -> None:
    assert not PORTABLE.fullmatch(pattern)


def test_the_published_pattern_of_a_text_takes_what_is_taken_and_refuses_what_is_refused() -> None:
    """Held to a reader in which the dollar sign is the very end, as it is to ECMA-262; Python's isn't."""
    published = jsonschema_rs.validator_for({"pattern": PUBLISHED}, pattern_options=jsonschema_rs.RegexOptions())
    for text in ["", "D7", "D7\n", "\n", "a\nb", "Tür ½", *(f"D{chr(code)}" for code in range(0x20_00, 0x20_80))]:
        assert published.is_valid(text) == bool(re.search(PLAIN, text)), repr(text)
    for code in (*range(0x100), 0x61B, 0x61C, 0x61D, 0x1F6AA):
        assert published.is_valid(chr(code)) == bool(re.search(PLAIN, chr(code))), hex(code)


def test_nothing_in_the_file_is_unseen_or_turns_its_text_round() -> None:
    assert re.findall(f"[{UNSHOWN}]", COMMITTED.read_text("utf-8").replace("\n", "")) == []


def test_quantities_are_text_in_a_notation_or_number_and_unit(contract: Document) -> None:
    written = {"Length": "1 1/2 in", "Area": "50 in2", "Flow": "60 cfm", "Pressure": "3 Pa", "Temperature": "-5 C"}
    for name, example in written.items():
        text, parts = contract["components"]["schemas"][name]["anyOf"]
        assert text["maxLength"] == LONGEST_TEXT
        assert re.search(text["pattern"], example)
        assert not re.search(text["pattern"], example.partition(" ")[0])
        assert parts["required"] == ["value", "unit"]
        assert parts["additionalProperties"] is False


def test_each_measured_field_says_what_is_plausible(contract: Document) -> None:
    leaf = contract["components"]["schemas"]["Leaf"]["properties"]["height"]
    assert leaf["$ref"] == "#/components/schemas/Length"
    assert leaf["title"] == "leaf height"
    assert leaf["x-plausible"] == {"least": {"value": 48, "unit": "in"}, "greatest": {"value": 144, "unit": "in"}}
    quantities = {f"#/components/schemas/{name}" for name in ("Length", "Area", "Flow", "Pressure", "Temperature")}
    fields = [
        field
        for schema in _requested(contract).values()
        for field in schema.get("properties", {}).values()
        if field.get("$ref") in quantities
    ]
    assert len(fields) > 30
    assert all(field["x-plausible"].keys() == {"least", "greatest"} for field in fields)


def test_nothing_in_the_components_is_unused(contract: Document) -> None:
    refs = {part["$ref"] for part in _parts(contract) if isinstance(part.get("$ref"), str)}
    refs |= {ref for part in _parts(contract) for ref in part.get("mapping", {}).values() if isinstance(ref, str)}
    refs |= {f"#/components/securitySchemes/{name}" for part in _parts(contract) for name in _schemes(part)}
    spare = {f"#/components/responses/{name}" for name in ("WrongMethod",)}
    for kind, members in contract["components"].items():
        assert {f"#/components/{kind}/{name}" for name in members} - refs <= spare


def _schemes(part: Document) -> Iterator[str]:
    for needed in part.get("security", ()):
        yield from needed


def test_words_below_an_attribute_become_its_description(contract: Document) -> None:
    assert attribute_docs(advice)["Setting"]["foot"] == "Height of the legs' bottom above the datum."
    setting = contract["components"]["schemas"]["Setting"]["properties"]
    assert setting["foot"]["description"] == "Height of the legs' bottom above the datum."
    assert setting["method"]["examples"] == ["on_subfloor", "on_blocks", "legs_trimmed"]
    assert "summary" not in attribute_docs(advice)["Advice"]


def test_a_name_shared_by_request_and_response_is_refused(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(openapi, "response_schemas", lambda: {"Opening": {}})
    with pytest.raises(ValueError, match=r"share the names \['Opening'\]"):
        build_document(catalogue, (), VERSION)
