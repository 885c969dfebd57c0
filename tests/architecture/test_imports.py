from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from importlinter.cli import lint_imports

ROOT = Path(__file__).parents[2]
SERVICE = ROOT / "service" / "jambset"
HEAVY = ("pint", "litestar", "structlog")
PURE = ("engine", "render", "model")


def _pure_modules() -> list[str]:
    files = [file for room in PURE for file in sorted((SERVICE / room).glob("*.py")) if file.stem != "__init__"]
    names = [f"jambset.{file.parent.name}.{file.stem}" for file in files]
    return [*names, "jambset.rules.schema", "jambset.rules.select"]


def _loaded_after(modules: list[str]) -> set[str]:
    code = f"import sys, {', '.join(modules)}\nprint(*set({HEAVY!r}) & sys.modules.keys())"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(run.stdout.split())


def test_the_import_contracts_hold(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    assert lint_imports(config_filename="pyproject.toml", no_cache=True, no_logo=True) == 0


def test_a_fresh_interpreter_loads_the_core_without_unit_library_framework_or_log() -> None:
    modules = _pure_modules()
    assert "jambset.engine.assess" in modules
    assert _loaded_after(modules) == set()


def test_the_same_look_finds_the_unit_library_where_it_is_used() -> None:
    assert _loaded_after(["jambset.quantity.parse"]) == {"pint"}


def test_package_files_are_empty() -> None:
    packages = sorted(SERVICE.rglob("__init__.py"))
    assert len(packages) == 7
    assert [file for file in packages if file.stat().st_size] == []
