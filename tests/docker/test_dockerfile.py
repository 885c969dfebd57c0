from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import tempfile
import tomllib
from importlib.metadata import requires
from pathlib import Path

import pytest
from docker.dockerfile import health_command, instructions, stages
from docker.processes import free_port, service, wait_until_ready
from packaging.requirements import Requirement

from jambset.http.settings import PREFIX, Settings
from jambset.model.version import VERSION

ROOT = Path(__file__).parents[2]
BUILDER, FINAL = stages()
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
LOCK = ROOT / ".ci" / "lock" / "runtime.txt"


def _commands(text: str) -> list[str]:
    return [command.strip() for command in text.split("&&")]


def _copied() -> set[str]:
    return {source for each in BUILDER.all("COPY") for source in each.words[:-1]}


def test_instructions_are_read_across_lines_and_comments() -> None:
    read = instructions('# a\nFROM x AS y\nRUN --mount=type=z one && \\\n    # b\n    two\nENV A=1 B="2 3"\n')
    assert [tuple(each) for each in read] == [
        ("FROM", (), "x AS y"),
        ("RUN", ("--mount=type=z",), "one && two"),
        ("ENV", (), 'A=1 B="2 3"'),
    ]
    assert read[2].pairs == {"A": "1", "B": "2 3"}


def test_both_stages_stand_on_one_base_pinned_by_tag() -> None:
    assert BUILDER.base == FINAL.base == "${BASE}"
    head = next(
        each for each in instructions((ROOT / "docker" / "Dockerfile").read_text("utf-8")) if each.name == "ARG"
    )
    assert re.fullmatch(r"BASE=python:3\.\d+-slim-\w+", head.text)


def test_every_download_is_a_wheel_held_to_a_hash() -> None:
    installs = [each for run in BUILDER.all("RUN") for each in _commands(run.text) if " install " in each]
    fetching = [each for each in installs if "--no-index" not in each]
    assert len(installs) == 2
    assert len(fetching) == 1
    assert "--no-deps --require-hashes -r runtime.txt" in fetching[0]
    assert "--only-binary :all:" in fetching[0]


def test_what_is_copied_exists_and_nothing_else_is_sent_to_the_builder() -> None:
    assert all((ROOT / source).exists() for source in _copied())
    ignore = (ROOT / "docker" / "Dockerfile.dockerignore").read_text("utf-8").splitlines()
    patterns = [line for line in ignore if line and line[0] != "#"]
    assert patterns[0] == "*"
    assert {line[1:] for line in patterns if line[0] == "!"} == _copied()


def test_what_the_wheel_is_made_of_is_copied() -> None:
    wheel = PROJECT["tool"]["hatch"]["build"]["targets"]["wheel"]
    assert {PROJECT["project"]["readme"], *wheel["packages"], *wheel["force-include"]} <= _copied()


def test_of_the_lock_exactly_what_the_service_never_asks_for_is_uninstalled() -> None:
    locked = {_plain(name) for name in _locked()}
    needed: set[str] = set()
    for line in PROJECT["project"]["dependencies"]:
        _need(Requirement(line), needed)
    (uninstall,) = [each for run in BUILDER.all("RUN") for each in _commands(run.text) if " uninstall " in each]
    assert needed <= locked
    assert set(uninstall.partition("--yes")[2].split()) == locked - needed


def _locked() -> list[str]:
    lines = [line.rstrip(" \\") for line in LOCK.read_text("utf-8").splitlines() if line[0] not in " #"]
    pins = map(Requirement, lines)
    return [pin.name for pin in pins if pin.marker is None or pin.marker.evaluate()]


def _need(asked: Requirement, seen: set[str]) -> None:
    """Adds what is asked for, and what that asks for."""
    here = asked.marker is None or asked.marker.evaluate({"extra": ""})
    if here and (name := _plain(asked.name)) not in seen:
        seen.add(name)
        for line in requires(name) or ():
            _need(Requirement(line), seen)


def _plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def test_the_image_takes_the_environment_alone_and_installs_nothing() -> None:
    (copy,) = FINAL.all("COPY")
    assert (copy.flags, copy.words) == ((f"--from={BUILDER.name}",), ["/opt/jambset", "/opt/jambset"])
    assert not FINAL.all("ADD")
    commands = [each for run in FINAL.all("RUN") for each in _commands(run.text)]
    assert [each.split()[:4] for each in commands] == [
        ["python", "-m", "pip", "uninstall"],
        ["rm", "-r", "/usr/local/lib/python3.*/ensurepip"],
    ]


def test_the_user_is_a_number_other_than_root_and_nothing_follows_as_root() -> None:
    user, group = FINAL.one("USER").text.split(":")
    assert int(user) > 0
    assert int(group) > 0
    names = [each.name for each in FINAL.instructions]
    assert not {"RUN", "COPY"} & set(names[names.index("USER") :])


def test_nothing_is_compiled_at_run_time() -> None:
    assert FINAL.pairs("ENV")["PYTHONDONTWRITEBYTECODE"] == "1"
    assert _commands(BUILDER.all("RUN")[-1].text)[-1].startswith("python -m compileall ")


def test_port_and_address_are_settings_and_the_port_is_their_default() -> None:
    env = FINAL.pairs("ENV")
    settings = Settings.from_env(env)
    assert {name for name in env if name.startswith(PREFIX)} == {"JAMBSET_HOST", "JAMBSET_PORT"}
    assert (settings.host, settings.port) == ("0.0.0.0", Settings().port)
    assert FINAL.one("EXPOSE").words == [str(Settings().port)]


def test_it_is_ended_by_the_signal_that_the_server_waits_for() -> None:
    assert FINAL.one("STOPSIGNAL").text == "SIGTERM"
    assert [*FINAL.one("ENTRYPOINT").words, *FINAL.one("CMD").words] == ["jambset", "serve"]


def test_labels_are_those_of_the_image_specification_and_name_this_version() -> None:
    labels = FINAL.pairs("LABEL")
    assert {name.removeprefix("org.opencontainers.image.") for name in labels} == {
        *("title", "description", "version", "revision", "created", "base.name"),
    }
    assert labels["org.opencontainers.image.version"] == VERSION


@pytest.mark.parametrize("alive", [True, False])
def test_the_health_check_tells_a_service_from_none(*, alive: bool) -> None:
    port = free_port()
    python, *words = health_command(FINAL)
    assert python == "python"
    with tempfile.TemporaryFile() as log, service(port, log) as process:
        if alive:
            wait_until_ready(port)
        else:
            process.end(signal.SIGKILL)
        env = {**os.environ, "JAMBSET_PORT": str(port)}
        check = subprocess.run([sys.executable, *words], env=env, capture_output=True, check=False)
    assert (check.returncode == 0) is alive
