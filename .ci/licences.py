"""Writes the licences of all that a user gets with jambset: a list, then each text that came with a package.

Run as `python .ci/licences.py LICENCES.txt`.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from components import Part, bundled, locked, project

RULE = "=" * 80


def main(target: str) -> None:
    """Write the file at `target`."""
    ours = project()
    packages = [part for part in (*locked(), *bundled()) if not part.is_file]
    lines = [
        f"What {ours.name} {ours.version} needs or bundles, and the licence of each.",
        "",
        *(f"{_title(part):<40} {part.licence}{_remark(part)}" for part in packages),
        *(line for part in packages for line in _section(part)),
    ]
    Path(target).write_text("\n".join(lines) + "\n", "utf-8", newline="\n")


def _title(part: Part) -> str:
    return f"{part.name} {part.version}"


def _remark(part: Part) -> str:
    build = "  (to build alone)" if part.build_only else ""
    return build + (f"  (where {part.marker})" if part.marker else "")


def _section(part: Part) -> Iterator[str]:
    yield from ("", RULE, f"{_title(part)}: {part.licence}", RULE)
    for name, text in part.texts:
        yield from ("", f"-- {name}", "", text.strip())
    if not part.texts:
        yield from ("", "No text is installed with it here.")


main(*sys.argv[1:])
