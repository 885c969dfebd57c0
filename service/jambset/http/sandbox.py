"""The sandbox's scenarios: a request in full, told in plain words, with the response it gives."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from jambset.http.addresses import ADVICE


class ScenarioError(ValueError):
    """A scenario file that can't be used; says which."""


class Scenario(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One worked example."""

    scenario: Annotated[str, Meta(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*\Z", max_length=64)]
    """Its id, a few words."""
    title: Annotated[str, Meta(min_length=4, max_length=120)]
    story: Annotated[str, Meta(min_length=8, max_length=2_000)]
    """What is going on at the site, in words a carpenter could correct."""
    call: Literal["/v1/openings/advice", "/v1/openings/recheck", "/v1/houses/advice", "/v1/houses/recheck"] = ADVICE
    """Address that the request is posted to."""
    request: dict[str, Any]
    """A whole body for it."""
    response: dict[str, Any]
    """What it is answered with."""


def read_scenario(data: bytes, *, name: str) -> Scenario:
    """A scenario from the bytes of its file. name: the file's, for the message. Raises ScenarioError.

    >>> read_scenario(b"{}", name="x.json")
    Traceback (most recent call last):
    jambset.http.sandbox.ScenarioError: x.json: Object missing required field `scenario`
    """
    try:
        return msgspec.json.decode(data, type=Scenario, strict=True)
    except msgspec.DecodeError as fault:
        message = f"{name}: {fault}"
        raise ScenarioError(message) from None


def by_id(sandbox: Iterable[Scenario]) -> dict[str, Scenario]:
    """The scenarios by id, in their order. Raises ScenarioError when an id stands twice."""
    found: dict[str, Scenario] = {}
    for scenario in sandbox:
        if found.setdefault(scenario.scenario, scenario) is not scenario:
            message = f"scenario {scenario.scenario} stands twice"
            raise ScenarioError(message)
    return found
