"""The search itself: that it finds a fault that is there, and for so long as is asked for, that it finds none."""

from __future__ import annotations

import base64
import itertools
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from random import Random
from xml.etree.ElementTree import ParseError

import pytest
from msgspec.structs import replace
from tests import openings as openings_of_tests
from tests.contract.asgi import ADVICE, JSON_BODY, Reply
from tests.fuzz import relations, routes
from tests.fuzz.messages import Message, read, write
from tests.fuzz.sense import makes_sense
from tests.fuzz.service import ROOT, Service, catalogue, service
from tests.fuzz.shrink import shrunk
from tests.fuzz.targets import TARGETS, Target

from jambset.engine.assess import assess
from jambset.engine.steps import one_step
from jambset.http import advise, openings
from jambset.http.addresses import BULK
from jambset.http.bulk import NDJSON
from jambset.http.negotiate import SVG

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


WRONG: tuple[tuple[relations.Relation, Callable[[bytes, bytes], bytes]], ...] = (
    (relations.same_again, lambda answer, _: answer + b" " * next(COUNT)),
    (relations.same_turned, lambda answer, body: answer + b" " * body.index(b'"mark"')),
    (relations.same_in_millimetres, lambda answer, body: answer + b" " * body.count(b'"mm"')),
    (relations.as_the_schema_says, lambda answer, _: answer.replace(b'"verdict"', b'"verdikt"')),
    (relations.same_in_a_stream, lambda answer, _: answer.replace(b'"verdict"', b'"verdikt"')),
)


@pytest.mark.parametrize(("relation", "answer"), WRONG)
def test_a_relation_that_does_not_hold_is_found(
    relation: relations.Relation, answer: Callable[[bytes, bytes], bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    routes.check(service(), _request(), (relation,))
    with pytest.raises(AssertionError):
        routes.check(_with(answer, monkeypatch), _request(), (relation,))


class Spoilt(Service):
    """The service, of which some answers are spoilt on their way out."""

    def __init__(self, spoilt: Callable[[Message, Sequence[bytes] | None], bool]) -> None:
        super().__init__()
        self._spoilt = spoilt

    def ask(self, message: Message, chunks: Sequence[bytes] | None = None) -> Reply:
        """The answer, cut short where it is spoilt."""
        reply = super().ask(message, chunks)
        return reply._replace(body=reply.body[:-2] or b"a body") if self._spoilt(message, chunks) else reply


SEED = next(TARGETS["body"].seeds())
GET = Message("GET", "/v1/limits")
LINE = Message("POST", BULK, (("Content-Type", NDJSON),), SEED)
DRAWN = Message("POST", ADVICE, (*JSON_BODY.items(), ("Accept", SVG)), SEED)


SPOILT: tuple[tuple[relations.Relation, Message, Callable[[Message, Sequence[bytes] | None], bool]], ...] = (
    (relations.same_in_parts, LINE, lambda _, chunks: chunks is not None),
    (relations.same_coded, LINE, lambda message, _: bool(message.header("content-encoding"))),
    (relations.same_without_body, GET, lambda message, _: message.method == "HEAD"),
    (relations.in_good_form, DRAWN, lambda *_: True),
)


@pytest.mark.parametrize(("relation", "message", "spoilt"), SPOILT)
def test_an_answer_spoilt_on_one_way_is_found(
    relation: relations.Relation, message: Message, spoilt: Callable[[Message, Sequence[bytes] | None], bool]
) -> None:
    for there in (service(), Spoilt(lambda *_: False)):
        relation(there, message, there.ask(message))
    faulty = Spoilt(spoilt)
    with pytest.raises((AssertionError, ParseError)):
        relation(faulty, message, faulty.ask(message))


def test_work_beyond_what_a_length_allows_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    def slow(answer: bytes, _: bytes) -> bytes:
        for _turn in range(relations.CALLS + relations.CALLS_A_BYTE * len(SEED)):
            len_of(answer)
        return answer

    routes.check(service(), _request(), (relations.within_bounds,))
    with pytest.raises(AssertionError, match="calls for"):
        routes.check(_with(slow, monkeypatch), _request(), (relations.within_bounds,))


def len_of(answer: bytes) -> int:
    return len(answer)


def test_an_answer_that_makes_no_sense_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    opening = Message("POST", ADVICE, tuple(JSON_BODY.items()), SEED)
    makes_sense(service(), opening, service().ask(opening))
    monkeypatch.setattr(openings_of_tests, "assess", lambda *asked: replace(assess(*asked), verdict="conflict"))
    with pytest.raises(AssertionError):
        makes_sense(service(), opening, service().ask(opening))


def test_every_relation_has_a_fault_that_it_finds() -> None:
    """So that none is in the list that could pass over all."""
    planted = {case[0] for cases in (WRONG, SPOILT) for case in cases}
    assert planted | {relations.within_bounds, makes_sense} == {*relations.RELATIONS}


def test_what_fails_is_made_as_small_as_it_goes() -> None:
    def check(data: bytes) -> bytes:
        leaf = json.loads(read(data).body or b"{}").get("leaf", {})
        assert "core" not in leaf
        return b""

    target = TARGETS["route"]._replace(check=check)
    data = write(Message("POST", ADVICE, (("Accept", "*/*"),), next(TARGETS["body"].seeds())))
    assert shrunk(target, data) == write(Message("POST", ADVICE, (), b'{"leaf": {"core": "hollow"}}'))
