from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest
from tests.programs import NEEDED, required

ROOT = Path(__file__).parents[2]
SCRIPTS = (
    ".ci/env.sh",
    ".ci/run",
    ".ci/release",
    "examples/quickstart.sh",
    "examples/advise_one.sh",
    "examples/draw_one.sh",
    "service/editor/build.sh",
    "tests/run.sh",
)


def _bash(code: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "-c", code], cwd=cwd, env={**os.environ, **environment}, capture_output=True, text=True, check=False
    )


@pytest.mark.parametrize("script", SCRIPTS)
def test_each_script_is_sound_bash(script: str) -> None:
    run = subprocess.run(["bash", "-n", str(ROOT / script)], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stderr) == (0, "")


def _old_python(folder: Path, name: str) -> Path:
    """An interpreter that says it is too old."""
    fake = folder / name
    fake.write_text("#!/bin/sh\nexit 1\n", "utf-8")
    fake.chmod(0o755)
    return fake


def test_an_old_python_named_by_the_caller_is_refused_in_one_sentence(tmp_path: Path) -> None:
    old = _old_python(tmp_path, "python")
    run = _bash(f". {ROOT}/.ci/env.sh; use_environment .venv-none .ci/lock/runtime.txt", tmp_path, PYTHON=str(old))
    assert (run.returncode, run.stderr) == (1, f"PYTHON={old} isn't Python 3.11 or newer.\n")
    assert not (ROOT / ".venv-none").exists()


def test_where_no_python_is_new_enough_the_message_says_what_to_do(tmp_path: Path) -> None:
    for name in ("python3", "python", "python3.11", "python3.12", "python3.13"):
        _old_python(tmp_path, name)
    path = f"{tmp_path}:{os.environ['PATH']}"
    run = _bash(f". {ROOT}/.ci/env.sh; use_environment .venv-none .ci/lock/runtime.txt", tmp_path, PATH=path, PYTHON="")
    assert run.returncode == 1
    assert run.stderr.startswith("jambset needs Python 3.11 or newer, and none was found.")


def test_ci_runs_the_readme_test_command_and_nothing_else() -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    assert "\nbash tests/run.sh\n" in readme
    commands = [line for line in (ROOT / ".ci" / "run").read_text("utf-8").splitlines() if line and line[0] != "#"]
    settings = f"{NEEDED}=1 JAMBSET_FUZZ_SECONDS=300"
    assert commands == [f'{settings} exec bash "$(dirname "${{BASH_SOURCE[0]}}")/../tests/run.sh"']


def test_a_program_that_is_missing_fails_where_programs_are_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    assert required("/usr/bin/there", "not there") == "/usr/bin/there"
    monkeypatch.delenv(NEEDED, raising=False)
    with pytest.raises(pytest.skip.Exception, match="not there"):
        required(None, "not there")
    monkeypatch.setenv(NEEDED, "1")
    with pytest.raises(pytest.fail.Exception, match="not there"):
        required(None, "not there")


@pytest.mark.parametrize("lock", ["runtime", "dev"])
def test_each_lock_pins_every_package_by_hash_and_names_no_host(lock: str) -> None:
    text = (ROOT / ".ci" / "lock" / f"{lock}.txt").read_text("utf-8")
    pins = re.findall(r"^(\S+)==\S+.*?(?=^\S|\Z)", text, re.MULTILINE | re.DOTALL)
    hashed = re.findall(r"^(\S+)==\S+[^\n]*\\\n    --hash=sha256:[0-9a-f]{64}", text, re.MULTILINE)
    assert {"litestar", "msgspec", "pint", "hatchling"} <= set(pins)
    assert hashed == pins
    assert "://" not in text
