from __future__ import annotations

import urllib.request
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
import pytest

from jambset import main
from jambset.http.advise import adviser
from jambset.http.settings import Settings

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "examples" / "sandbox"
FILES = sorted(FOLDER.glob("*.json"))


@cache
def _adviser() -> Callable[[bytes], bytes]:
    return adviser(main.catalogue_of(Settings()))


def _scenario(path: Path) -> Any:
    return msgspec.json.decode(path.read_bytes())


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_engine_gives_the_stored_answer_byte_for_byte(path: Path) -> None:
    scenario = _scenario(path)
    answer = _adviser()(msgspec.json.encode(scenario["request"]))
    assert answer.decode() == msgspec.json.encode(scenario["response"]).decode()


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_the_service_gives_the_stored_answer_byte_for_byte(path: Path, live: str) -> None:
    scenario = _scenario(path)
    call = urllib.request.Request(
        f"{live}/v1/openings/advice",
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


def test_marks_differ() -> None:
    marks = [_scenario(path)["request"]["mark"] for path in FILES]
    assert len(set(marks)) == len(marks)


def _seen(name: str) -> set[str]:
    return {_scenario(path)["response"][name] for path in FILES}


def test_the_scenarios_show_every_verdict() -> None:
    assert _seen("verdict") == {"go", "go_with_trim", "hold", "conflict"}
