from __future__ import annotations

import ast
import hashlib
import json
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
SERVICE = ROOT / "service" / "jambset"
HEADER = "| package | what for | what else was considered |"
BY_NAME = {"uvloop"}  # the server is told its name and imports it itself

PERMISSIVE = {"Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "Bitstream-Vera", "MIT", "MIT-CMU", "PSF-2.0"}
# Its copyleft reaches its own files alone, and we change none of them.
KEPT_APART = {"MPL-2.0": {"certifi", "pathspec"}}
# What the text of a licence says and no other's does.
SAYS = {
    "Apache-2.0": r"Apache License",
    "BSD-2-Clause": r"Redistributions in binary form(?!.*endorse or promote)",
    "BSD-3-Clause": r"Redistributions in binary form.*endorse or promote",
    "Bitstream-Vera": r"Bitstream Vera",
    "MIT": r"Permission is hereby granted, free of charge.*including without limitation",
    "MIT-CMU": r"Permission to use, copy, modify",
    "MPL-2.0": r"Mozilla Public License",
    "PSF-2.0": r"PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2",
}


def _declared() -> list[str]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    return [re.split(r"[<>=; ]", requirement)[0] for requirement in project["dependencies"]]


def _table() -> list[list[str]]:
    section = (ROOT / "DEVELOPERS.md").read_text("utf-8").split("\n## Dependencies\n", 1)[1].split("\n## ", 1)[0]
    rows = section.split(HEADER + "\n", 1)[1].split("\n\n", 1)[0].splitlines()[1:]
    return [[cell.strip() for cell in row.strip("|").split("|")] for row in rows]


def _imported() -> set[str]:
    """The first names of all modules that the service imports, from the standard library or from others."""
    trees = (ast.parse(file.read_text("utf-8")) for file in SERVICE.rglob("*.py"))
    return {name.split(".")[0] for tree in trees for node in ast.walk(tree) for name in _names(node)}


def _names(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    if isinstance(node, ast.ImportFrom) and node.module and not node.level:
        yield node.module


def _served_by() -> set[str]:
    """What the server is told by name: the loop in `main.server_options`, the parser of whose protocol ours is one."""
    tree = ast.parse((SERVICE / "main.py").read_text("utf-8"))
    (options,) = (n for n in tree.body if isinstance(n, ast.FunctionDef) and n.name == "server_options")
    texts = {n.value for n in ast.walk(options) if isinstance(n, ast.Constant) and isinstance(n.value, str)}
    protocol = ast.parse((SERVICE / "http" / "connection.py").read_text("utf-8"))
    modules = {n.module or "" for n in ast.walk(protocol) if isinstance(n, ast.ImportFrom)}
    return texts | {module.rpartition(".")[2].removesuffix("_impl") for module in modules}


def test_the_table_names_every_dependency_once_and_justifies_it() -> None:
    rows = _table()
    assert sorted(row[0] for row in rows) == sorted(_declared())
    assert [row for row in rows if len(row) != 3 or not all(row)] == []


def test_every_dependency_is_used_and_nothing_else_is_imported() -> None:
    modules = {name.replace("-", "_") for name in _declared()}
    assert _imported() - sys.stdlib_module_names - {"jambset"} == modules - BY_NAME
    assert modules & _served_by() >= BY_NAME


@pytest.fixture(scope="module")
def components(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """What the bill of materials says of this environment."""
    file = tmp_path_factory.mktemp("bill") / "bill.json"
    command = [sys.executable, "-B", str(ROOT / ".ci" / "sbom.py"), str(file)]
    subprocess.run(command, env={**os.environ, "SOURCE_DATE_EPOCH": "0"}, check=True)
    listed: list[dict[str, Any]] = json.loads(file.read_text("utf-8"))["components"]
    return listed


@pytest.fixture(scope="module")
def licences(tmp_path_factory: pytest.TempPathFactory) -> str:
    file = tmp_path_factory.mktemp("licences") / "LICENCES.txt"
    subprocess.run([sys.executable, "-B", str(ROOT / ".ci" / "licences.py"), str(file)], check=True)
    return file.read_text("utf-8")


def _licences_of(component: dict[str, Any]) -> set[str]:
    (choice,) = component["licenses"]
    text = choice["expression"] if "expression" in choice else choice["license"]["id"]
    return set(re.split(r" (?:AND|OR|WITH) |[()]", text)) - {""}


def test_every_package_of_the_runtime_lock_is_in_the_bill_with_a_hash(
    components: list[dict[str, Any]],
) -> None:
    lock = (ROOT / ".ci" / "lock" / "runtime.txt").read_text("utf-8")
    locked = [part for part in components if part.get("purl", "").startswith("pkg:pypi/")]
    assert sorted(f"{part['name']}=={part['version']}" for part in locked) == sorted(
        re.findall(r"^\S+==\S+", lock, re.MULTILINE)
    )
    assert [part["name"] for part in locked if not part["hashes"]] == []


def test_every_licence_is_permissive_or_kept_to_files_of_its_own(components: list[dict[str, Any]]) -> None:
    others: dict[str, set[str]] = {}
    for part in components:
        for licence in _licences_of(part) - PERMISSIVE:
            others.setdefault(licence, set()).add(part["name"])
    assert others == KEPT_APART


def test_the_list_of_licences_agrees_with_the_bill(components: list[dict[str, Any]], licences: str) -> None:
    head = licences.split("=" * 80, 1)[0]
    assert set(re.findall(r"^(\S+) (\d\S*) {2,}", head, re.MULTILINE)) == {
        (part["name"], part["version"]) for part in components if "version" in part
    }


def test_each_licence_text_says_what_its_licence_is_known_by(licences: str) -> None:
    sections = re.findall(
        r"^={80}\n(\S+) (\S+): ([^\n]+)\n={80}\n(.+?)(?=^={80}$|\Z)", licences, re.MULTILINE | re.DOTALL
    )
    without = {name for name, _, _, text in sections if text.strip() == "No text is installed with it here."}
    assert without <= {"colorama"}
    assert len(sections) > 60
    wrong = [
        (name, licence)
        for name, _, expression, text in sections
        for licence in re.split(" AND | OR ", expression)
        if name not in without and not re.search(SAYS[licence], " ".join(text.split()), re.IGNORECASE)
    ]
    assert wrong == [("prometheus-client", "BSD-2-Clause")]  # for one file, which has the text at its head


def _wheel(folder: Path, requires: str = "") -> Path:
    """The smallest package that can be installed."""
    wheel = folder / "demo-1-py3-none-any.whl"
    with zipfile.ZipFile(wheel, "w") as archive:
        archive.writestr("demo-1.dist-info/METADATA", f"Metadata-Version: 2.1\nName: demo\nVersion: 1\n{requires}")
        archive.writestr("demo-1.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        archive.writestr("demo-1.dist-info/RECORD", "")
    return wheel


def _refused(folder: Path, lock: str) -> str:
    """What is said of a lock that can't be installed; its environment doesn't count as one."""
    (folder / ".ci").mkdir()
    (folder / ".ci" / "env.sh").write_bytes((ROOT / ".ci" / "env.sh").read_bytes())
    (folder / "pyproject.toml").touch()
    (folder / "lock.txt").write_text(lock, "utf-8")
    run = subprocess.run(
        ["bash", "-c", ". .ci/env.sh; use_environment .venv lock.txt"],
        cwd=folder,
        env={**os.environ, "PYTHON": sys.executable, "PIP_NO_INDEX": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 1
    assert not (folder / ".venv" / "locked").exists()
    return run.stderr


@pytest.mark.parametrize(
    ("pinned", "said"),
    [
        ("", "Hashes are required in --require-hashes mode"),
        (f" --hash=sha256:{'0' * 64}", "THESE PACKAGES DO NOT MATCH THE HASHES"),
    ],
)
def test_what_has_no_hash_in_the_lock_or_another_is_not_installed(tmp_path: Path, pinned: str, said: str) -> None:
    assert said in _refused(tmp_path, f"{_wheel(tmp_path)}{pinned}\n")
    assert not any((tmp_path / ".venv").rglob("demo-1.dist-info"))


def test_what_the_lock_leaves_out_is_looked_for_nowhere(tmp_path: Path) -> None:
    """Whatever was released since it was made: what it names is installed, and that has to be all there is to it."""
    wheel = _wheel(tmp_path, "Requires-Dist: other>=1\n")
    pinned = f"{wheel} --hash=sha256:{hashlib.sha256(wheel.read_bytes()).hexdigest()}\n"
    assert "demo 1 requires other, which is not installed" in _refused(tmp_path, pinned)
