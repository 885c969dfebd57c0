"""Every input that was ever kept, judged again: what failed once by all relations, what reached something by one."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.fuzz.keep import HASHED
from tests.fuzz.targets import TARGETS, Target

INPUTS = [(target, file) for target in TARGETS.values() for file in target.kept()]


@pytest.mark.parametrize(("target", "file"), [pytest.param(t, f, id=f"{t.name}-{f.name}") for t, f in INPUTS])
def test_an_input_of_the_corpus_is_answered_as_it_should_be(target: Target, file: Path) -> None:
    judge = target.probe if HASHED.fullmatch(file.name) else target.check
    assert judge(file.read_bytes())


@pytest.mark.parametrize("target", TARGETS.values(), ids=TARGETS)
def test_there_is_a_corpus_of_sensible_size(target: Target) -> None:
    sizes = [file.stat().st_size for file in target.kept()]
    assert 40 <= len(sizes) <= 400
    assert sum(sizes) <= 600_000
