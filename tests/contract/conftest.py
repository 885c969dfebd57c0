from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec
import pytest
from jsonschema import Draft202012Validator
from litestar import Litestar
from tests.contract.asgi import ADVICE, HOUSE, HOUSE_RECHECK, RECHECK, Reply, ask

from jambset.http.app import create_app
from jambset.http.observe import json_log
from jambset.http.sandbox import Scenario, read_scenario
from jambset.http.settings import Settings
from jambset.rules.load import load_catalogue
from jambset.rules.schema import Catalogue

ROOT = Path(__file__).parents[2]
LIMIT = 65_536
HOUSE_LIMIT = 131_072

Ask = Callable[..., Reply]


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    return load_catalogue()


@pytest.fixture(scope="session")
def sandbox() -> tuple[Scenario, ...]:
    files = sorted((ROOT / "examples" / "sandbox").glob("*.json"))
    return tuple(read_scenario(file.read_bytes(), name=file.name) for file in files)


@pytest.fixture(scope="session")
def log() -> io.BytesIO:
    return io.BytesIO()


@pytest.fixture(scope="session")
def app(catalogue: Catalogue, sandbox: tuple[Scenario, ...], log: io.BytesIO) -> Litestar:
    settings = Settings(max_body_bytes=LIMIT, max_house_bytes=HOUSE_LIMIT)
    return create_app(catalogue=catalogue, settings=settings, sandbox=sandbox, log=json_log(log))


@pytest.fixture(scope="session")
def asked(app: Litestar) -> Ask:
    """Asks the application."""

    def call(method: str, target: str, **more: Any) -> Reply:
        return ask(app, method, target, **more)

    return call


@pytest.fixture(scope="session")
def contract(asked: Ask) -> dict[str, Any]:
    """The document as served."""
    served: dict[str, Any] = asked("GET", "/openapi.json").json()
    return served


@pytest.fixture(scope="session")
def conforms(contract: dict[str, Any]) -> Callable[[str, Any], list[str]]:
    """What is wrong with a value against a named schema of the contract."""

    def check(name: str, value: Any) -> list[str]:
        schema = {"$ref": f"#/components/schemas/{name}", "components": contract["components"]}
        found = Draft202012Validator(schema).iter_errors(value)
        return [f"{error.json_path}: {error.message[:200]}" for error in found]

    return check


@pytest.fixture
def opening() -> dict[str, Any]:
    """A request that is right in every way."""
    request: dict[str, Any] = msgspec.json.decode(
        b"""{"mark": "D07", "jurisdiction": "US",
             "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
             "pull_side": {"build_up": [{"material": "carpet_cushion", "thickness": "7/16 in"},
                                        {"material": "carpet", "thickness": "1/2 in"}]},
             "push_side": {"build_up": [{"material": "vinyl_plank", "thickness": "1/4 in"}]}}"""
    )
    return request


@pytest.fixture
def as_set(opening: dict[str, Any]) -> dict[str, Any]:
    """A recheck that is right in every way."""
    return {**opening, "as_set": {"foot": "1/2 in", "leaf_bottom": "1 1/2 in"}}


@pytest.fixture
def house(opening: dict[str, Any]) -> dict[str, Any]:
    """A house of three openings that is right in every way: what they share stands in the defaults."""
    shared = {name: part for name, part in opening.items() if name != "mark"}
    frame = {"undercut": "1 in", "head_gap": "1/8 in", "head_thickness": "11/16 in"}
    return {
        "house": "Lot 4",
        "defaults": {**shared, "frame": frame, "rough_opening": {"height": "83 in"}},
        "openings": [
            {"mark": "D1", "pull_side": {"room": "den"}, "push_side": {"room": "hall"}},
            {"mark": "D2", "leaf": {"width": "28 in", "count": 2}},
            {"mark": "D3", "pull_side": {"room": "bath"}, "push_side": {"build_up": [{"material": "carpet"}]}},
        ],
        "head_lines": [{"name": "hall", "marks": ["D1", "D2"]}],
        "labour": {"set_unit": 45},
    }


@pytest.fixture
def house_as_set(house: dict[str, Any], as_set: dict[str, Any]) -> dict[str, Any]:
    """The same house with its doors set, one of them otherwise than the others."""
    first, *others = house["openings"]
    set_apart = {**first, "as_set": {"foot": "0 in", "leaf_bottom": "1 in"}}
    return {
        **house,
        "defaults": {**house["defaults"], "as_set": as_set["as_set"]},
        "openings": [set_apart, *others],
    }


@pytest.fixture
def bodies(
    opening: dict[str, Any], as_set: dict[str, Any], house: dict[str, Any], house_as_set: dict[str, Any]
) -> dict[str, dict[str, Any]]:
    """A right body for each POST, by its address."""
    return {ADVICE: opening, RECHECK: as_set, HOUSE: house, HOUSE_RECHECK: house_as_set}
