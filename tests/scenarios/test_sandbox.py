from __future__ import annotations

import urllib.request
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
import pytest

from jambset import main
from jambset.http.addresses import ADVICE, HOUSE, RECHECK
from jambset.http.advise import Give, givers
from jambset.http.settings import Settings

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "examples" / "sandbox"
FILES = sorted(FOLDER.glob("*.json"))


@cache
def _givers() -> dict[str, Give]:
    return givers(main.catalogue_of(Settings()))


def _scenario(path: Path) -> Any:
    return {"call": ADVICE, **msgspec.json.decode(path.read_bytes())}


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_engine_gives_the_stored_answer_byte_for_byte(path: Path) -> None:
    scenario = _scenario(path)
    answer = _givers()[scenario["call"]](msgspec.json.encode(scenario["request"]))
    assert answer.decode() == msgspec.json.encode(scenario["response"]).decode()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_service_gives_the_stored_answer_byte_for_byte(path: Path, live: str) -> None:
    scenario = _scenario(path)
    call = urllib.request.Request(
        live + scenario["call"],
        msgspec.json.encode(scenario["request"]),
        {"Content-Type": "application/json", "Accept": "application/json"},
    )
    with urllib.request.urlopen(call, timeout=10) as answer:
        assert answer.read().decode() == msgspec.json.encode(scenario["response"]).decode()


def test_the_service_serves_the_scenarios_of_the_folder(live: str) -> None:
    with urllib.request.urlopen(f"{live}/v1/sandbox/{_scenario(FILES[0])['scenario']}", timeout=10) as answer:
        assert msgspec.json.decode(answer.read())["request"] == _scenario(FILES[0])["request"]


def test_files_are_numbered_and_named_after_their_scenarios() -> None:
    assert len(FILES) >= 12
    expected = [f"{place:02d}-{_scenario(path)['scenario']}" for place, path in enumerate(FILES, start=1)]
    assert [path.stem for path in FILES] == expected


def _of(call: str) -> list[Any]:
    return [scenario for path in FILES if (scenario := _scenario(path))["call"] == call]


def test_marks_of_openings_and_names_of_houses_differ() -> None:
    names = [scenario["request"].get("mark", scenario["request"].get("house")) for scenario in map(_scenario, FILES)]
    assert len(set(names)) == len(names)


def test_the_scenarios_show_every_verdict() -> None:
    assert {scenario["response"]["verdict"] for scenario in _of(ADVICE)} == {"go", "go_with_trim", "hold", "conflict"}


def test_rechecks_show_what_mends_them_cheapest_first() -> None:
    assert len(_of(RECHECK)) >= 2
    for scenario in _of(RECHECK):
        remedies = scenario["response"]["remedies"]
        assert scenario["response"]["findings"]
        mending = [remedy["minutes"] for remedy in remedies if not remedy["leaves"]]
        assert mending
        assert mending == sorted(mending)


def test_houses_show_a_line_that_costs_something_an_opening_refused_and_an_alternative() -> None:
    answers = [scenario["response"] for scenario in _of(HOUSE)]
    assert len(answers) >= 2
    assert any(line["held"] and line["minutes"] > 0 for answer in answers for line in answer["head_lines"])
    assert any("problem" in one for answer in answers for one in answer["openings"])
    assert any("scenarios" in one.get("advice", {}) for answer in answers for one in answer["openings"])
    assert all(answer["totals"]["advised"] > 1 for answer in answers)
