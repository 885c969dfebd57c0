"""Where an answer leads: which part of it is a parameter or the body of another call, as links of OpenAPI.

Operations are named by their ids; tests follow every link.
"""

from __future__ import annotations

from typing import Any

from jambset.http.addresses import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK

Schema = dict[str, Any]

RULE = "Look up a rule that was checked, with its source. One whose id begins with project. is the caller's own."


def _to(operation: str, about: str, *, body: str = "", **parameters: str) -> Schema:
    """A link. body, parameters: runtime expressions for what the other call takes."""
    taken: Schema = {"parameters": parameters} if parameters else {}
    return {"operationId": operation, **taken, **({"requestBody": body} if body else {}), "description": about}


def _rule(place: str) -> Schema:
    return {"rule": _to("getRule", RULE, rule_id=f"$response.body#{place}")}


def _worked(operation: str, call: str) -> Schema:
    return _to(operation, f"Send the example again, where its call is {call}.", body="$response.body#/request")


_LINKS: dict[str, Schema] = {
    "adviseOpening": _rule("/checks/0/rule"),
    "recheckOpening": _rule("/checks/0/rule"),
    "adviseHouse": _rule("/openings/0/advice/checks/0/rule"),
    "recheckHouse": _rule("/openings/0/advice/checks/0/rule"),
    "listRules": {"rule": _to("getRule", "Look up one of them.", rule_id="$response.body#/rules/0/id")},
    "getRule": {"topic": _to("listRules", "List the rules about the same topic.", topic="$response.body#/topic")},
    "listRuleSets": {
        "rules": _to(
            "listRules",
            "List the rules that hold in one of its places.",
            jurisdiction="$response.body#/rule_sets/0/jurisdictions/0/code",
        )
    },
    "listScenarios": {
        "scenario": _to("getScenario", "Get one of them whole.", scenario="$response.body#/scenarios/0/scenario")
    },
    "getScenario": {
        "advice": _worked("adviseOpening", ADVICE),
        "recheck": _worked("recheckOpening", RECHECK),
        "house": _worked("adviseHouse", HOUSE),
        "house_recheck": _worked("recheckHouse", HOUSE_RECHECK),
    },
}


def links_of(operation: str) -> Schema:
    """The links of an operation's answer, by name."""
    return _LINKS.get(operation, {})
