"""Where the tables of the benches stand: in DEVELOPERS.md, between two comments that name the script."""

from __future__ import annotations

from pathlib import Path

FILE = Path(__file__).parents[2] / "DEVELOPERS.md"
END = "<!-- end -->"


def written(script: str, lines: str) -> None:
    """Puts what a script found in the place of what it had found. Raises ValueError where it has no place."""
    begin = f"<!-- written by tests/bench/{script} -->"
    before, mark, rest = FILE.read_text("utf-8").partition(begin)
    if not mark or END not in rest:
        raise ValueError(f"{FILE.name} has no place for {script}")
    FILE.write_text(f"{before}{begin}\n{lines}\n{END}{rest.partition(END)[2]}", "utf-8")
