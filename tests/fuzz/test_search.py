"""The search itself: that it finds a fault that is there, and for so long as is asked for, that it finds none."""

from __future__ import annotations

import base64
import itertools
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from tests.contract.asgi import ADVICE, JSON_BODY
from tests.fuzz import relations, routes
from tests.fuzz.messages import Message, read, write
from tests.fuzz.service import ROOT, Service, catalogue, service
from tests.fuzz.shrink import shrunk
from tests.fuzz.targets import TARGETS, Target

from jambset.engine.steps import one_step
from jambset.http import advise, openings

SECONDS = int(os.environ.get("JAMBSET_FUZZ_SECONDS", "0"))
"""How long new inputs are looked for, all searches together, on one core; .ci/run says so."""
SEARCHES = (("length", 0.05), ("body", 0.25), ("route", 0.35), ("route", 0.35))
"""Targets and their shares of that time; the longest in two, so that two workers have as much to do."""


@pytest.mark.minutes
@pytest.mark.skipif(not SECONDS, reason="JAMBSET_FUZZ_SECONDS doesn't say how long to look for new inputs")
@pytest.mark.parametrize(("name", "share"), SEARCHES)
def test_a_search_finds_nothing(name: str, share: float, tmp_path: Path) -> None:
    folder = tmp_path / name
    command = [sys.executable, "-m", "tests.fuzz", name, str(max(1, round(SECONDS * share))), str(folder)]
    environment = {**os.environ, "PYTHONPATH": f"{ROOT}{os.pathsep}{ROOT / 'service'}"}
    run = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert run.returncode == 0, f"{run.stdout[-4_000:]}\n{run.stderr[-4_000:]}\n{_found(tmp_path)}"
    tried = re.search(r"number_of_executed_units: (\d+)", run.stderr)
    assert tried is not None
    assert int(tried[1]) > len(TARGETS[name].kept())


def _found(folder: Path) -> str:
    """What failed, to be kept from the log alone."""
    inputs = (base64.b64encode(file.read_bytes()).decode() for file in folder.glob("*.failed-*"))
    return "".join(
        f"Keep it under tests/fuzz/corpus with a name that says what it is; base64:\n{one}\n" for one in inputs
    )


def _mutants(target: Target, count: int) -> list[bytes]:
    chance, seeds = Random(1), [*target.seeds()]
    return [
        target.mutant(chance.choice(seeds), chance.choice(seeds), 12_288, chance, lambda raw: raw[1:])
        for _ in range(count)
    ]


def test_mutants_stay_right_often_enough_to_reach_the_engine_and_go_wrong_in_many_ways() -> None:
    target = TARGETS["body"]
    results = [target.check(data) for data in _mutants(target, 300)]
    codes = {code for result in results for code in re.findall(rb"code='(\w+)'", result)}
    refused = sum(result.startswith(b"Refused") for result in results)
    assert 60 <= refused <= 240
    assert len(codes) >= 10


def test_mutants_of_requests_go_everywhere() -> None:
    target = TARGETS["route"]
    statuses = {target.probe(data)[:3] for data in _mutants(target, 300)}
    assert statuses >= {b"200", b"400", b"404", b"405", b"406", b"415", b"422"}


def test_the_same_seed_gives_the_same_mutants() -> None:
    target = TARGETS["route"]
    assert _mutants(target, 40) == _mutants(target, 40)


# --- faults planted


COUNT = itertools.count()


def _request() -> bytes:
    return write(Message("POST", ADVICE, tuple(JSON_BODY.items()), next(TARGETS["body"].seeds())))


def _with(answer: Callable[[bytes, bytes], bytes], monkeypatch: pytest.MonkeyPatch) -> Service:
    """The service with another answer to an opening, made of the right one and of its body."""
    made = advise.adviser(catalogue())
    given = one_step(lambda body, language: answer(made(body, language), body))
    monkeypatch.setattr(openings, "adviser_in_steps", lambda _: given)
    return Service()


def test_an_exception_is_found_with_its_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = _with(lambda answer, _: answer[len(answer) // 0 :], monkeypatch)
    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        routes.check(broken, _request(), ())


@pytest.mark.parametrize(
    ("relation", "answer"),
    [
        (relations.same_again, lambda answer, _: answer + b" " * next(COUNT)),
        (relations.same_turned, lambda answer, body: answer + b" " * body.index(b'"mark"')),
        (relations.same_in_millimetres, lambda answer, body: answer + b" " * body.count(b'"mm"')),
        (relations.as_the_schema_says, lambda answer, _: answer.replace(b'"verdict"', b'"verdikt"')),
        (relations.same_in_a_stream, lambda answer, _: answer.replace(b'"verdict"', b'"verdikt"')),
    ],
)
def test_a_relation_that_does_not_hold_is_found(
    relation: relations.Relation, answer: Callable[[bytes, bytes], bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    routes.check(service(), _request(), (relation,))
    with pytest.raises(AssertionError):
        routes.check(_with(answer, monkeypatch), _request(), (relation,))


def test_what_fails_is_made_as_small_as_it_goes() -> None:
    def check(data: bytes) -> bytes:
        leaf = json.loads(read(data).body or b"{}").get("leaf", {})
        assert "core" not in leaf
        return b""

    target = TARGETS["route"]._replace(check=check)
    data = write(Message("POST", ADVICE, (("Accept", "*/*"),), next(TARGETS["body"].seeds())))
    assert shrunk(target, data) == write(Message("POST", ADVICE, (), b'{"leaf": {"core": "hollow"}}'))
