"""What a user gets with jambset: the packages of the runtime lock, and what others made that the wheel bundles.

Licences are read from the installed packages, so the environment has to be the one that the lock makes.
"""

from __future__ import annotations

import base64
import hashlib
import json
import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path
from typing import Any

from cyclonedx.spdx import is_expression
from packaging.markers import Marker

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "service" / "jambset"
DOCS = PACKAGE / "http" / "assets"
PAGE = DOCS / "page"
FONTS = PACKAGE / "render" / "assets"
US = "jambset (pyproject.toml)"  # how the lock calls us where it says who needs a package to run

# How metadata older than licence expressions words what it means without doubt.
WORDED = {
    "MIT License": "MIT",
    "Apache Software License": "Apache-2.0",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}

# Where metadata says too little, such as "BSD": read by us in the licence that the package carries.
READ = {
    "colorama": "BSD-3-Clause",  # for Windows alone, so elsewhere there is no metadata to read
    "flexcache": "BSD-3-Clause",
    "jinja2": "BSD-3-Clause",
    "pint": "BSD-3-Clause",
    "reportlab": "BSD-3-Clause",
    "uvloop": "MIT OR Apache-2.0",
}

PIN = re.compile(
    r"^(?P<name>[\w.-]+)==(?P<version>\S+)(?: ; (?P<marker>.+?))? \\\n(?P<rest>(?:[ ]+.*\n)+)", re.MULTILINE
)


@dataclass(frozen=True)
class Part:
    """A package, or a file in the wheel that others made; `ref` is its purl or its place in the wheel."""

    ref: str
    name: str
    version: str | None
    licence: str | None = None
    hashes: tuple[tuple[str, str], ...] = ()
    texts: tuple[tuple[str, str], ...] = ()
    needs: frozenset[str] = frozenset()
    marker: str | None = None
    build_only: bool = False

    @property
    def is_file(self) -> bool:
        """Whether it is one file and no package; only packages have versions."""
        return self.version is None


@dataclass(frozen=True)
class Pin:
    """A package in a lock; `via` names who needs it, as the lock says."""

    name: str
    version: str
    marker: str | None
    hashes: tuple[str, ...]
    via: frozenset[str]

    @property
    def ref(self) -> str:
        """Its purl."""
        return f"pkg:pypi/{self.name}@{self.version}"


def project() -> Part:
    """Jambset itself, with all that it needs directly."""
    table = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    name, version = table["name"], table["version"]
    direct = {pin.ref for pin in _pins() if US in pin.via}
    files = {part.ref for part in bundled() if part.is_file}
    return Part(f"pkg:pypi/{name}@{version}", name, version, needs=frozenset(direct | files))


def locked() -> list[Part]:
    """Every package of the runtime lock; those that only building needs say so."""
    pins = _pins()
    used = _used(pins)
    return [_locked_part(pin, pins, build_only=pin.name not in used) for pin in pins]


def bundled() -> list[Part]:
    """What others made that is in the wheel: packages, and the files they became."""
    return [*_editor(), *_documentation(), *_fonts()]


def _pins() -> list[Pin]:
    text = (ROOT / ".ci" / "lock" / "runtime.txt").read_text("utf-8")
    return [
        Pin(
            hit["name"],
            hit["version"],
            hit["marker"],
            tuple(re.findall(r"--hash=sha256:([0-9a-f]{64})", hit["rest"])),
            frozenset(re.findall(r"^ +# +(?:via )?(?!via$)(.+)$", hit["rest"], re.MULTILINE)),
        )
        for hit in PIN.finditer(text)
    ]


def _used(pins: list[Pin]) -> set[str]:
    """Names that jambset needs to run, directly or through others."""
    used = {US}
    while found := {pin.name for pin in pins if pin.via & used} - used:
        used |= found
    return used


def _locked_part(pin: Pin, pins: list[Pin], *, build_only: bool) -> Part:
    installed = _installed(pin)
    return Part(
        pin.ref,
        pin.name,
        pin.version,
        _licence(pin.name, installed),
        tuple(("SHA-256", value) for value in pin.hashes),
        () if installed is None else tuple(_texts(installed)),
        frozenset(other.ref for other in pins if pin.name in other.via),
        pin.marker,
        build_only,
    )


def _installed(pin: Pin) -> Distribution | None:
    """The package as installed; of a pin for other machines, whichever version of it is here, if any."""
    meant_for_here = pin.marker is None or Marker(pin.marker).evaluate()
    try:
        found = distribution(pin.name)
    except PackageNotFoundError:
        if meant_for_here:
            raise SystemExit(f"{pin.name} {pin.version} is locked, but not installed here.") from None
        return None
    if meant_for_here and found.version != pin.version:
        raise SystemExit(f"{pin.name} {pin.version} is locked, but {found.version} is installed here.")
    return found


def _licence(name: str, installed: Distribution | None) -> str:
    """What we read ourselves goes before what metadata says."""
    says = () if installed is None else _says(installed)
    licence = READ.get(name) or next((text for text in says if is_expression(text)), None)
    if licence is None:
        raise SystemExit(f"The metadata of {name} names no licence for sure: read it, and add it to READ.")
    return licence


def _says(installed: Distribution) -> Iterator[str]:
    """All that metadata says on its licence, the surest first, as SPDX expressions where we know how."""
    fields = [text for field in ("License-Expression", "License") for text in installed.metadata.get_all(field, [])]
    classifiers = [text for text in installed.metadata.get_all("Classifier", []) if text.startswith("License :: ")]
    for text in (*fields, *(text.split(" :: ")[-1] for text in classifiers)):
        first_line = text.partition("\n")[0].strip()
        yield WORDED.get(first_line, first_line)


def _texts(installed: Distribution) -> Iterator[tuple[str, str]]:
    """The licences and notices installed with a package, by file name."""
    for file in sorted(installed.files or [], key=str):
        if re.search(r"\.dist-info/(?:.*/)?(?:LICEN[CS]E|COPYING|NOTICE)[^/]*$", file.as_posix(), re.IGNORECASE):
            yield file.name, Path(str(file.locate())).read_text("utf-8", "replace")


def _editor() -> list[Part]:
    """The packages in the bundle of the page's editor, as its build wrote them down, and the bundle."""
    lock: dict[str, Any] = json.loads((ROOT / "service" / "editor" / "package-lock.json").read_text("utf-8"))
    entries = (PAGE / "editor.js.LICENSE.txt").read_text("utf-8").split("\n\n---\n\n")
    heads = [entry.split("\n", 1) for entry in entries if entry.strip()]
    packages = [_npm(head, text.strip(), lock["packages"]) for head, text in heads]
    return [*packages, _file(PAGE / "editor.js", "MIT", {part.ref for part in packages})]


def _npm(head: str, text: str, lock: dict[str, Any]) -> Part:
    name, version = head.split(" ")
    entry = lock[f"node_modules/{name}"]
    if entry["version"] != version:
        raise SystemExit(f"{name} {version} is in the editor's bundle, but {entry['version']} in its lock.")
    algorithm, _, digest = entry["integrity"].partition("-")
    needs = {_npm_ref(need, lock[f"node_modules/{need}"]["version"]) for need in entry.get("dependencies", ())}
    return Part(
        _npm_ref(name, version),
        name,
        version,
        entry["license"],
        ((algorithm.upper().replace("SHA", "SHA-"), base64.b64decode(digest).hex()),),
        (("LICENSE", text),),
        frozenset(needs),
    )


def _npm_ref(name: str, version: str) -> str:
    return f"pkg:npm/{name.replace('@', '%40')}@{version}"


def _documentation() -> list[Part]:
    name = "swagger-ui-dist"
    version, licence = _stated(DOCS, rf"`{name}` ([\d.]+), licence ([\w.-]+)")
    texts = _read(DOCS, "LICENSE", "NOTICE", "swagger-ui-bundle.js.LICENSE.txt")
    package = Part(_npm_ref(name, version), name, version, licence, texts=texts)
    files = (_file(DOCS / file, licence, {package.ref}) for file in ("swagger-ui-bundle.js", "swagger-ui.css"))
    return [package, *files]


def _fonts() -> list[Part]:
    (version,) = _stated(FONTS, r"fonts of the PDF, version ([\d.]+\d)")
    licence, texts = "Bitstream-Vera", _read(FONTS, "LICENSE-DejaVu.txt")
    package = Part(f"pkg:generic/dejavu-fonts@{version}", "dejavu-fonts", version, licence, texts=texts)
    return [package, *(_file(font, licence, {package.ref}) for font in sorted(FONTS.glob("*.ttf")))]


def _stated(folder: Path, pattern: str) -> tuple[str, ...]:
    """What the README beside bundled files says of them."""
    hit = re.search(pattern, (folder / "README.md").read_text("utf-8"))
    if hit is None:
        raise SystemExit(f"{folder.relative_to(ROOT)}/README.md no longer says {pattern}.")
    return hit.groups()


def _read(folder: Path, *names: str) -> tuple[tuple[str, str], ...]:
    return tuple((name, (folder / name).read_text("utf-8")) for name in names)


def _file(path: Path, licence: str, needs: set[str]) -> Part:
    """A file of the wheel, with the packages that it was made from or came in."""
    place = path.relative_to(PACKAGE.parent).as_posix()
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    return Part(place, place, None, licence, (("SHA-256", digest),), needs=frozenset(needs))
