from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ASSETS = ROOT / "service" / "jambset" / "http" / "assets"
REGISTRY = r"py[p]i\.org|pythonhoste[d]\.org|npmj[s]\.(?:org|com)|registry\.yarnpk[g]\.com|deb\.debia[n]\.org"
MACHINE = r"(?:^|[^A-Za-z0-9_.])/(?:wor[k]|roo[t]|Users)/\w"
SECRET = r"-----BEGI[N] [A-Z ]*PRIVATE KEY|\bgh[p]_[A-Za-z0-9]{20,}|\bAKI[A][0-9A-Z]{16}"
MEDIA = r"(?i)\b(?:vide[o]s?|recordin[g]s?|transcrip[t]s?)\b"


def _listed() -> list[Path]:
    """What is tracked, or would be if added."""
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        pytest.skip("not a git checkout: nothing says which files belong to the project")
    listed = subprocess.run(
        [git, "ls-files", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    return [ROOT / name for name in listed.stdout.splitlines()]


def _files() -> list[Path]:
    return [path for path in _listed() if path.is_file()]


def _hits(pattern: str, files: list[Path]) -> list[str]:
    found = re.compile(pattern, re.MULTILINE)
    texts = ((file, file.read_bytes().decode("utf-8", "replace")) for file in files)
    return [f"{file.relative_to(ROOT)}: {hit[0]!r}" for file, text in texts for hit in found.finditer(text)]


@pytest.mark.parametrize("pattern", [REGISTRY, MACHINE, SECRET])
def test_no_file_names_a_registry_a_machine_or_a_secret(pattern: str) -> None:
    files = _files()
    assert ROOT / "pyproject.toml" in files
    assert _hits(pattern, files) == []


def test_nothing_is_tracked_that_only_points_elsewhere() -> None:
    """A link to a folder is no file that the other checks would read."""
    assert [path for path in _listed() if path.is_symlink()] == []


def test_no_file_speaks_of_media_the_project_does_not_have() -> None:
    """Third-party assets keep their own words."""
    ours = [file for file in _files() if not file.is_relative_to(ASSETS)]
    assert _hits(MEDIA, ours) == []


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (REGISTRY, "see https://py" + "pi.org/simple"),
        (MACHINE, "cd /wor" + "k/main"),
        (SECRET, "-----BEGIN" + " RSA PRIVATE KEY-----"),
        (MEDIA, "as the Vid" + "eo shows"),
    ],
)
def test_each_pattern_finds_what_it_is_for(pattern: str, text: str) -> None:
    assert re.search(pattern, text)


def test_no_document_has_a_paragraph_of_one_name_twice() -> None:
    """What merging two edits of one paragraph leaves behind: both, and a reader who doesn't know which holds."""
    documents = [file for file in _files() if file.suffix == ".md"]
    assert ROOT / "DEVELOPERS.md" in documents
    for document in documents:
        names = re.findall(r"^(?:#+ .+|\*\*[^*]+\*\*(?=:))", document.read_text("utf-8"), re.MULTILINE)
        assert len(names) == len(set(names)), document.name
