from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, unpacked as an installer would."""
    folder = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    subprocess.run(build, cwd=ROOT, capture_output=True, check=True)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(folder / "site")
    return folder / "site"


def test_the_wheel_holds_every_rule_file_scenario_and_asset(unpacked: Path) -> None:
    package = ROOT / "service" / "jambset"
    wanted = {
        path.relative_to(package) for path in package.rglob("*") if path.suffix not in ("", ".pyc") and path.is_file()
    }
    wanted |= {Path("sandbox") / path.name for path in (ROOT / "examples" / "sandbox").glob("*.json")}
    held = {path.relative_to(unpacked / "jambset") for path in (unpacked / "jambset").rglob("*") if path.is_file()}
    assert wanted <= held


def test_the_unpacked_wheel_starts_with_its_own_scenarios_without_the_repository(unpacked: Path) -> None:
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}
    code = "from jambset import main; main.create(); print(main.sandbox_folder())"
    run = subprocess.run(
        [sys.executable, "-c", code], cwd=unpacked, env=environment, capture_output=True, text=True, check=False
    )
    assert (run.returncode, run.stdout) == (0, f"{unpacked / 'jambset' / 'sandbox'}\n"), run.stderr
