from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import msgspec
import pytest
from tests.contract.asgi import ADVICE, HOUSE, JSON_BODY
from tests.contract.conftest import HOUSE_LIMIT, LIMIT, Ask

from jambset.errors import QuantityError
from jambset.http.known import measured_fields, plausible
from jambset.http.sandbox import Scenario, ScenarioError, by_id, read_scenario
from jambset.model.request import Labour
from jambset.model.source import Force, Verified
from jambset.quantity.parse import read_quantity
from jambset.quantity.ticks import INCH
from jambset.rules.schema import Catalogue, Topic
from jambset.rules.select import lineage


def _ids(asked: Ask, query: str = "") -> list[str]:
    found = asked("GET", f"/v1/rules{query}").json()
    assert found["count"] == len(found["rules"])
    return [rule["id"] for rule in found["rules"]]


def test_all_rules_are_listed_with_the_rule_set_they_belong_to(asked: Ask, catalogue: Catalogue) -> None:
    assert sorted(_ids(asked)) == sorted(rule.id for rows in catalogue.rules.values() for rule in rows)
    found = asked("GET", "/v1/rules").json()
    assert (found["rule_set"], found["rule_set_digest"]) == (catalogue.version, catalogue.digest)


def test_a_place_has_the_rules_it_inherits_and_no_others(asked: Ask, catalogue: Catalogue) -> None:
    for code in catalogue.jurisdictions:
        expected = [rule.id for place in lineage(catalogue, code) for rule in catalogue.rules[place]]
        assert _ids(asked, f"?jurisdiction={code}") == expected
    assert set(_ids(asked, "?jurisdiction=US")) < set(_ids(asked, "?jurisdiction=US-FL"))


@pytest.mark.parametrize(("name", "values"), [("topic", Topic), ("force", Force), ("verified", Verified)])
def test_a_filter_keeps_the_rules_of_that_value_and_the_values_share_them_out(
    name: str, values: type[Topic], asked: Ask
) -> None:
    whole = asked("GET", "/v1/rules").json()["rules"]
    shares = {value: _ids(asked, f"?{name}={value}") for value in values if value != "project"}
    for value, ids in shares.items():
        assert ids == [rule["id"] for rule in whole if rule[name] == value]
    assert sum(map(len, shares.values())) == len(whole)
    assert name != "topic" or all(shares.values())  # a topic that no rule has is none to ask for


def test_filters_hold_together(asked: Ask) -> None:
    both = set(_ids(asked, "?jurisdiction=US&topic=air&verified=quoted"))
    assert both == set(_ids(asked, "?topic=air")) & set(_ids(asked, "?jurisdiction=US")) & set(
        _ids(asked, "?verified=quoted")
    )
    assert both


def test_each_rule_can_be_had_alone_and_conforms(asked: Ask, conforms: Callable[[str, Any], list[str]]) -> None:
    for rule in asked("GET", "/v1/rules").json()["rules"]:
        assert asked("GET", f"/v1/rules/{rule['id']}").json() == rule
        assert conforms("RuleView", rule) == []
        assert rule["document"]["title"]
        assert rule["editions"]


def test_lengths_of_a_rule_are_in_three_parts_in_the_grid_of_its_place(asked: Ask, catalogue: Catalogue) -> None:
    lengths = {
        rule.id: (place, rule.length)
        for place, rows in catalogue.rules.items()
        for rule in rows
        if rule.length is not msgspec.UNSET
    }
    assert len(lengths) > 20
    metric = {code for code, place in catalogue.jurisdictions.items() if place.grid.endswith("mm")}
    for rule_id, (place, length) in lengths.items():
        shown = asked("GET", f"/v1/rules/{rule_id}").json()["length"]
        assert shown["in"] == round(length / INCH, 6)
        assert shown["text"].endswith("mm" if place in metric else "in")


@pytest.mark.parametrize("target", ["/v1/rules/nothing", "/v1/rules/" + "x" * 300, "/v1/sandbox/99-nothing"])
def test_a_name_that_is_none_is_404_and_says_where_names_are(target: str, asked: Ask) -> None:
    reply = asked("GET", target)
    assert (reply.status, reply.json()["code"]) == (404, "unknown_resource")
    assert f"GET {target.rpartition('/')[0]} lists" in reply.json()["detail"]


def test_a_slash_in_a_name_parts_the_address_coded_or_not(asked: Ask) -> None:
    for target in ("/v1/rules/a%2Fb", "/v1/rules/a/b"):
        reply = asked("GET", target)
        assert (reply.status, reply.json()["code"]) == (404, "unknown_resource")
        assert "nothing at this address" in reply.json()["detail"]


def test_the_rule_set_names_its_places(asked: Ask, catalogue: Catalogue) -> None:
    (found,) = asked("GET", "/v1/rule-sets").json()["rule_sets"]
    assert (found["version"], found["digest"]) == (catalogue.version, catalogue.digest)
    assert found["rules"] == len(_ids(asked))
    assert [place["code"] for place in found["jurisdictions"]] == list(catalogue.jurisdictions)
    assert all(place["adoption"] for place in found["jurisdictions"])


def test_finishes_have_their_sources(
    asked: Ask, catalogue: Catalogue, conforms: Callable[[str, Any], list[str]]
) -> None:
    found = asked("GET", "/v1/finishes").json()
    assert [row["id"] for row in found["materials"]] == list(catalogue.materials)
    assert [row["id"] for row in found["pieces"]] == [piece.id for piece in catalogue.pieces]
    assert conforms("FinishList", found) == []
    for row in found["materials"]:
        assert row["least"]["mm"] <= row["nominal"]["mm"] <= row["greatest"]["mm"]
        assert row["document"]["id"] in catalogue.documents


def test_every_id_that_an_answer_rests_on_is_found_where_the_contract_says(
    asked: Ask, sandbox: tuple[Scenario, ...]
) -> None:
    told = {str(name) for scenario in sandbox for name in _rested_on(scenario.response)}
    labour = asked("GET", "/v1/labour").json()
    counted = {row["id"] for row in labour["lifts"]} | {f"mass.{row['id']}" for row in labour["cores"]}
    chosen = {"rough_opening", "as_set", "floors_may_change", "head_line", "block_sizes"}
    assert {name for name in told if "." not in name and "-" not in name} <= chosen
    for name in told - counted - chosen:
        assert name.startswith("project.") or asked("GET", f"/v1/rules/{name}").status == 200
    assert told & counted
    assert told & chosen


def _rested_on(value: Any) -> Iterator[Any]:
    if isinstance(value, dict):
        yield from value.get("governed_by", ())
        yield from [value["rule"]] if "rule" in value else []
        yield from (one for part in value.values() for one in _rested_on(part))
    elif isinstance(value, list):
        yield from (one for part in value for one in _rested_on(part))


def test_labour_and_masses_have_what_the_engine_works_with(
    asked: Ask, catalogue: Catalogue, conforms: Callable[[str, Any], list[str]]
) -> None:
    found = asked("GET", "/v1/labour").json()
    assert conforms("LabourList", found) == []
    assert {row["id"]: row["minutes"] for row in found["labour"]} == {
        row.id: row.minutes for row in catalogue.labour.values()
    }
    assert {row["id"] for row in found["labour"]} == set(Labour.__struct_fields__)
    assert [row["id"] for row in found["cores"]] == list(catalogue.cores)
    assert all(row["density_least"] <= row["density"] <= row["density_greatest"] for row in found["cores"])
    assert all(row["document"]["id"] in catalogue.documents for row in found["cores"] + found["lifts"])
    places = [code for row in found["lifts"] for code in row["jurisdictions"]]
    assert set(places) <= set(catalogue.jurisdictions)
    assert [row["id"] for row in found["lifts"] if row["everywhere_else"]] == ["lift.common"]


def test_limits_are_the_ones_that_hold(asked: Ask, conforms: Callable[[str, Any], list[str]]) -> None:
    found = asked("GET", "/v1/limits").json()
    assert conforms("Limits", found) == []
    assert (found["body_bytes"], found["house_bytes"]) == (LIMIT, HOUSE_LIMIT)
    assert {"field": "House.openings", "least": 1, "most": 500} in found["items"]
    assert {"field": "House.head_lines", "most": 100} in found["items"]
    assert {"field": "Survey.points", "least": 1, "most": 64} in found["items"]
    assert {"field": "Opening.mark", "least": 1, "most": 64} in found["characters"]
    assert [row["quantity"] for row in found["notations"]] == ["Length", "Area", "Flow", "Pressure", "Temperature"]


@pytest.mark.parametrize("cls", measured_fields())
def test_a_published_range_ends_where_it_says(cls: type[Any]) -> None:
    found = plausible(cls)
    for end, beyond in ((found.least, -1), (found.greatest, 1)):
        assert read_quantity(cls, {"value": end.value, "unit": end.unit}) in (cls.LEAST, cls.GREATEST)
        step = max(abs(end.value), 1.0) * 1e-4
        with pytest.raises(QuantityError, match="is not a plausible"):
            read_quantity(cls, {"value": end.value + beyond * step, "unit": end.unit})


def test_every_measured_field_of_a_request_is_published(asked: Ask) -> None:
    published = {row["measure"] for row in asked("GET", "/v1/limits").json()["plausible"]}
    assert published == {cls.__name__ for cls in measured_fields()}
    assert {"LeafHeight", "SupplyFlow", "PressureLimit", "RoomTemperature", "FreeArea"} <= published


def test_scenarios_are_listed_and_each_can_be_had(asked: Ask, sandbox: tuple[Scenario, ...]) -> None:
    listed = asked("GET", "/v1/sandbox").json()["scenarios"]
    assert [row["scenario"] for row in listed] == [s.scenario for s in sandbox]
    for row, scenario in zip(listed, sandbox, strict=True):
        assert asked("GET", row["href"]).json() == msgspec.to_builtins(scenario)


def test_each_scenario_is_answered_as_it_says(asked: Ask, sandbox: tuple[Scenario, ...]) -> None:
    for scenario in sandbox:
        body = msgspec.json.encode(scenario.request)
        answer = asked("POST", scenario.call, headers=JSON_BODY, body=body).body
        assert answer == msgspec.json.encode(scenario.response), (
            f"{scenario.scenario}: write it anew by jambset sandbox"
        )


GOOD = b'{"scenario": "a-b", "title": "Two floors", "story": "A bedroom and a hall.", "request": {}, "response": {}}'


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "x.json: Input data was truncated"),
        (GOOD.replace(b"a-b", b"A b"), r"x.json: Expected `str` matching regex.*scenario"),
        (GOOD.replace(b"a-b", rb"a-b\n"), r"x.json: Expected `str` matching regex.*scenario"),
        (GOOD.replace(b'"request": {}', b'"request": []'), r"x.json: Expected `object`.*request"),
        (GOOD.replace(b'"title"', b'"titel"'), "x.json: .*titel"),
        (GOOD.replace(b'"request": {}', b'"request": {}, "call": "/v1/rules"'), r"x.json: Invalid enum value.*call"),
    ],
)
def test_a_scenario_file_that_cant_be_used_is_named(data: bytes, words: str) -> None:
    with pytest.raises(ScenarioError, match=words):
        read_scenario(data, name="x.json")


def test_a_scenario_is_of_one_opening_unless_it_says_otherwise() -> None:
    assert read_scenario(GOOD, name="x.json").call == ADVICE
    of_a_house = GOOD.replace(b'"request": {}', b'"request": {}, "call": "/v1/houses/advice"')
    assert read_scenario(of_a_house, name="x.json").call == HOUSE


def test_a_scenario_may_stand_once() -> None:
    one = read_scenario(GOOD, name="x.json")
    assert by_id([one]) == {"a-b": one}
    with pytest.raises(ScenarioError, match="a-b stands twice"):
        by_id([one, read_scenario(GOOD, name="y.json")])
