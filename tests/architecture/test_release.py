from __future__ import annotations

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from cyclonedx.schema import SchemaVersion
from cyclonedx.validation.json import JsonStrictValidator

ROOT = Path(__file__).parents[2]
BIN = Path(sys.executable).parent
COMMITTED = 1_700_000_000
VERSION: str = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["version"]
WHEEL, SDIST, BILL = (f"jambset-{VERSION}{end}" for end in ("-py3-none-any.whl", ".tar.gz", ".cdx.json"))
FILES = {WHEEL, SDIST, BILL, "LICENCES.txt", "SHA256SUMS"}
BUILDS_BY_CHANCE = """
import pathlib, uuid
from hatchling.builders.hooks.plugin.interface import BuildHookInterface
class Chance(BuildHookInterface):
    def initialize(self, version, build_data):
        pathlib.Path(self.root, "service", "jambset", "chance.txt").write_text(str(uuid.uuid4()))
"""


def _git(folder: Path, *arguments: str) -> str:
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        pytest.skip("not a git checkout: nothing says which files belong to the project")
    environment = {**os.environ, "GIT_COMMITTER_DATE": f"{COMMITTED} +0000"}
    somebody = ("-c", "user.name=test", "-c", "user.email=test@localhost", "-c", "commit.gpgsign=false")
    run = subprocess.run(
        [git, *somebody, *arguments], cwd=folder, env=environment, capture_output=True, text=True, check=True
    )
    return run.stdout


def _release(
    checkout: Path, *arguments: str, umask: int = 0o022, **environment: str
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", ".ci/release", *arguments],
        cwd=checkout,
        env={**os.environ, "RELEASE_BIN": str(BIN), **environment},
        umask=umask,
        capture_output=True,
        text=True,
        check=False,
    )


def _bill(checkout: Path, target: Path, epoch: int = COMMITTED) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "SOURCE_DATE_EPOCH": str(epoch)}
    command = [sys.executable, "-B", str(checkout / ".ci" / "sbom.py"), str(target)]
    return subprocess.run(command, env=environment, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The files of this project, all committed, in a repository of their own."""
    folder = tmp_path_factory.mktemp("release") / "checkout"
    for name in _git(ROOT, "ls-files", "--cached", "--others", "--exclude-standard").splitlines():
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    _git(folder, "init", "--quiet")
    _git(folder, "add", "--all")
    _git(folder, "commit", "--quiet", "--message", "All")
    return folder


@pytest.fixture(scope="module")
def release(checkout: Path) -> Path:
    run = _release(checkout)
    assert run.returncode == 0, run.stderr
    folder = checkout / "dist"
    assert run.stdout.splitlines()[0] == f"In {folder}, dated 2023-11-14T22:13:20+00:00:"
    assert {line.split()[1] for line in run.stdout.splitlines()[1:]} == FILES - {"SHA256SUMS"}
    return folder


@pytest.fixture(scope="module")
def bill(release: Path) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((release / BILL).read_text("utf-8"))
    return read


@pytest.fixture
def copy(checkout: Path, tmp_path: Path) -> Path:
    """A checkout to spoil."""
    return shutil.copytree(checkout, tmp_path / "copy", ignore=shutil.ignore_patterns("dist"))


def _by_ref(bill: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {component["bom-ref"]: component for component in bill["components"]}


def _hashes(component: dict[str, Any], algorithm: str = "SHA-256") -> list[str]:
    return sorted(entry["content"] for entry in component["hashes"] if entry["alg"] == algorithm)


def _needs(bill: dict[str, Any]) -> dict[str, set[str]]:
    return {entry["ref"]: set(entry.get("dependsOn", ())) for entry in bill["dependencies"]}


def _pins() -> dict[str, list[str]]:
    """The purl of each pin in the runtime lock with its hashes, read line by line."""
    pins: dict[str, list[str]] = {}
    for line in (ROOT / ".ci" / "lock" / "runtime.txt").read_text("utf-8").splitlines():
        if line[0] not in " #":
            name, _, version = line.split()[0].partition("==")
            pins[f"pkg:pypi/{name}@{version}"] = hashes = []
        elif line.strip().startswith("--hash=sha256:"):
            hashes.append(line.strip().removeprefix("--hash=sha256:").removesuffix(" \\"))
    return pins


def test_a_release_is_wheel_sdist_bill_and_licences_with_the_sum_of_each(release: Path) -> None:
    assert {file.name for file in release.iterdir()} == FILES
    lines = [line.split("  ") for line in (release / "SHA256SUMS").read_text("utf-8").splitlines()]
    sums = {name: value for value, name in lines}
    assert sums == {name: hashlib.sha256((release / name).read_bytes()).hexdigest() for name in FILES - {"SHA256SUMS"}}


def test_the_same_commit_gives_the_same_bytes_anywhere(release: Path, copy: Path, tmp_path: Path) -> None:
    for file in copy.rglob("*.py"):
        os.utime(file, (1, 1))
    run = _release(copy, str(tmp_path / "again"), umask=0o077, TZ="Asia/Tokyo", LC_ALL="C")
    assert run.returncode == 0, run.stderr
    assert {file.name: file.read_bytes() for file in (tmp_path / "again").iterdir()} == {
        name: (release / name).read_bytes() for name in FILES
    }


def test_the_wheel_is_dated_by_the_commit(release: Path) -> None:
    with zipfile.ZipFile(release / WHEEL) as wheel:
        assert {entry.date_time for entry in wheel.infolist()} == {(2023, 11, 14, 22, 13, 20)}


def test_a_build_that_comes_out_differently_is_refused_by_name_and_leaves_nothing(copy: Path, tmp_path: Path) -> None:
    (copy / "hatch_build.py").write_text(BUILDS_BY_CHANCE, "utf-8")
    with (copy / "pyproject.toml").open("a", encoding="utf-8") as file:
        file.write("\n[tool.hatch.build.targets.wheel.hooks.custom]\n")
    run = _release(copy, "--unclean", str(tmp_path / "out"))
    assert (run.returncode, run.stderr) == (
        1,
        f"{WHEEL} isn't reproducible: two builds of the same files differ.\n",
    )
    assert not (tmp_path / "out").exists()


def test_a_build_that_fails_says_why(copy: Path, tmp_path: Path) -> None:
    (copy / "README.md").unlink()
    run = _release(copy, "--unclean", str(tmp_path / "out"))
    assert run.returncode == 1
    assert run.stderr.startswith("The build failed: ")
    assert "README.md" in run.stderr
    assert not (tmp_path / "out").exists()


def test_files_not_committed_are_refused_unless_asked_for(copy: Path, tmp_path: Path) -> None:
    (copy / "note.md").write_text("New.", "utf-8")
    run = _release(copy, str(tmp_path / "out"))
    assert (run.returncode, run.stdout) == (1, "")
    assert run.stderr.startswith("Some files aren't committed.")
    assert not (tmp_path / "out").exists()

    (copy / ".venv").mkdir()
    (copy / ".venv" / "ignored.md").write_text("Nobody's.", "utf-8")
    run = _release(copy, str(tmp_path / "out"), "--unclean")
    assert run.returncode == 0, run.stderr
    with tarfile.open(tmp_path / "out" / SDIST) as sdist:
        names = set(sdist.getnames())
    assert f"jambset-{VERSION}/note.md" in names
    assert not any(".venv" in name for name in names)


def test_what_is_no_checkout_is_refused(copy: Path) -> None:
    shutil.rmtree(copy / ".git")
    run = _release(copy)
    assert (run.returncode, run.stdout) == (1, "")
    assert run.stderr.startswith("This isn't a git checkout:")


def test_an_unknown_option_is_refused(checkout: Path) -> None:
    run = _release(checkout, "--upload")
    assert (run.returncode, run.stdout) == (1, "")
    assert run.stderr.startswith("Unknown option --upload.")


def test_the_bill_is_cyclonedx_by_its_schema(release: Path) -> None:
    validator = JsonStrictValidator(SchemaVersion.V1_6)
    text = (release / BILL).read_text("utf-8")
    assert validator.validate_str(text) is None
    assert validator.validate_str(text.replace('"SHA-256"', '"SHA-257"', 1)) is not None


def test_the_bill_lists_every_pin_of_the_runtime_lock_with_its_hashes(bill: dict[str, Any]) -> None:
    pins = _pins()
    assert len(pins) > 40
    listed = {ref: part for ref, part in _by_ref(bill).items() if ref.startswith("pkg:pypi/")}
    assert {ref: _hashes(part) for ref, part in listed.items()} == {ref: sorted(sums) for ref, sums in pins.items()}
    assert {ref: f"pkg:pypi/{part['name']}@{part['version']}" for ref, part in listed.items()} == {
        ref: part["purl"] for ref, part in listed.items()
    }


def test_the_bill_tells_what_runs_from_what_only_builds(bill: dict[str, Any]) -> None:
    scopes = {part["name"]: part["scope"] for part in bill["components"]}
    assert {scopes[name] for name in ("hatchling", "editables", "pathspec")} == {"excluded"}
    assert {scopes[name] for name in ("litestar", "h11", "pint", "swagger-ui-dist", "crelt")} == {"required"}


def test_the_bill_says_where_a_pin_is_meant_for(bill: dict[str, Any]) -> None:
    parts = {part["name"]: part for part in bill["components"]}
    assert parts["colorama"]["properties"] == [{"name": "jambset:marker", "value": "sys_platform == 'win32'"}]
    assert "properties" not in parts["litestar"]


def test_the_bill_says_who_needs_whom(bill: dict[str, Any]) -> None:
    needs = _needs(bill)
    names = {ref: part["name"] for ref, part in _by_ref(bill).items()}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = {re.split(r"[<>=; ]", requirement)[0] for requirement in project["dependencies"]}
    direct = needs[bill["metadata"]["component"]["bom-ref"]]
    assert {names[ref] for ref in direct if ref.startswith("pkg:")} == wanted
    by_name = {names[ref]: {names[need] for need in needs[ref]} for ref in names}
    assert by_name["@lezer/json"] == {"@lezer/common", "@lezer/highlight", "@lezer/lr"}
    assert by_name["jsonschema"] >= {"attrs", "referencing"}
    assert by_name["jambset/http/assets/swagger-ui-bundle.js"] == {"swagger-ui-dist"}


def test_the_bill_lists_what_the_bundle_of_the_editor_holds(bill: dict[str, Any]) -> None:
    lock = json.loads((ROOT / "service" / "editor" / "package-lock.json").read_text("utf-8"))["packages"]
    shipped = {
        path.removeprefix("node_modules/"): entry["version"]
        for path, entry in lock.items()
        if path and not entry.get("dev")
    }
    listed = {part["name"]: part for ref, part in _by_ref(bill).items() if ref.startswith("pkg:npm/")}
    del listed["swagger-ui-dist"]
    assert {name: part["version"] for name, part in listed.items()} == shipped
    assert {len(bytes.fromhex(_hashes(part, "SHA-512")[0])) for part in listed.values()} == {64}


def test_each_bundled_file_in_the_bill_is_in_the_wheel_with_that_hash(bill: dict[str, Any], release: Path) -> None:
    files = {part["name"]: _hashes(part) for part in bill["components"] if part["type"] == "file"}
    assert len(files) == 5
    with zipfile.ZipFile(release / WHEEL) as wheel:
        assert files == {name: [hashlib.sha256(wheel.read(name)).hexdigest()] for name in files}
        fonts = {name for name in wheel.namelist() if name.endswith((".ttf", ".otf", ".woff2"))}
    assert fonts <= files.keys()


def test_the_bill_follows_from_files_and_date_alone(checkout: Path, bill: dict[str, Any], tmp_path: Path) -> None:
    assert bill["metadata"]["timestamp"] == datetime.fromtimestamp(COMMITTED, UTC).isoformat()
    assert UUID(bill["serialNumber"]).version == 5
    run = _bill(checkout, tmp_path / "later.json", COMMITTED + 1)
    assert run.returncode == 0, run.stderr
    later = json.loads((tmp_path / "later.json").read_text("utf-8"))
    assert later["components"] == bill["components"]
    assert later["serialNumber"] != bill["serialNumber"]


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        (".ci/lock/runtime.txt", r"\nlitestar==\S+", r"\nlitestar==0.0.1", "litestar 0.0.1 is locked, but "),
        (".ci/lock/runtime.txt", r"\nlitestar==", r"\nno-such-package==", "no-such-package "),
        (".ci/components.py", r'    "jinja2": .*\n', "", "The metadata of jinja2 names no licence for sure"),
        ("service/jambset/http/assets/README.md", "`swagger-ui-dist` ", "`swagger-ui-dist` about ", "service/jambset/"),
        ("service/jambset/http/assets/page/editor.js.LICENSE.txt", "^crelt .*", "crelt 0.0.1", "crelt 0.0.1 is in "),
    ],
)
def test_what_the_bill_can_not_know_for_sure_stops_it(
    copy: Path, tmp_path: Path, file: str, old: str, new: str, said: str
) -> None:
    text, found = re.subn(old, new, (copy / file).read_text("utf-8"), count=1, flags=re.MULTILINE)
    assert found == 1
    (copy / file).write_text(text, "utf-8")
    run = _bill(copy, tmp_path / "bill.json")
    assert run.returncode == 1
    assert run.stderr.startswith(said)
    assert not (tmp_path / "bill.json").exists()
