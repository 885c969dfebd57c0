"""What is changed in the rule data: every number by its smallest step both ways, every word of a set for another.

A word goes to the next that the catalogue uses in its place, a document or other reference to the next that is there,
and a line that may be left out is left out. Prose, titles, ids and dates of checking stay, since nothing is measured by
them; so do what a rule is sorted under (topic, rank), whom it names, how a drawing hatches, what kind a document is.
What else a name is called stays too: each such word is tried as it stands (tests/unit/rules/test_naming.py), and of one
that is gone nothing but a second list would know.
"""

from __future__ import annotations

import re
import tomllib
from collections import defaultdict
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

from tests.mutation.mutants import PACKAGE

DATA = PACKAGE / "rules" / "data"
LEFT = {"id", "title", "text", "note", "way_out", "reached", "last_checked", "clause", "edition", "adoption", "version"}
LEFT |= {"code", "topic", "decides", "rank", "body", "kind", "also_called"}
WORDS = "codes.toml"
"""File of nothing but what else names are called."""
OPTIONAL = {"when", "project_key", "grade", "way_out", "binding", "tolerance", "floating", "same", "drives", "holds"}
OPTIONAL |= {"trimmed", "existing_threshold", "formula", "parent"}
TOKEN = re.compile(r'([a-z_]+) = ("(?:[^"\\]|\\.)*"|\[[^\[\]{}]*\]|[0-9.]+(?:-\d\d-\d\d)?|true|false)')
LINE = re.compile(r"^([a-z_]+) = ")
NUMBER = re.compile(r"(\d+ )?(\d+/\d+)|\d+\.\d+|\d+")


class Value(NamedTuple):
    """One change of a data file: where it stands (row and key), and the lines before and after."""

    path: Path
    row: str
    key: str
    was: str
    now: str
    source: str

    @property
    def file(self) -> str:
        return self.path.relative_to(DATA).as_posix()

    @property
    def module(self) -> str:
        return f"data {self.file}"

    @property
    def name(self) -> str:
        return f"{self.file} {self.row} {self.key} {self.was} {self.now}"


def values() -> list[Value]:
    words = _words()
    return [value for path in sorted(DATA.rglob("*.toml")) if path.name != WORDS for value in _of_file(path, words)]


def _of_file(path: Path, words: dict[str, list[str]]) -> Iterator[Value]:
    lines = path.read_text("utf-8").splitlines(keepends=True)
    row = "whole file"
    for n, line in enumerate(lines):
        if found := re.match(r'(?:id|code) = "(.*)"', line):
            row = found[1]
        for key, changed in _changes(line, words):
            now = "(left out)" if not changed else changed.strip()
            yield Value(path, row, key, line.strip(), now, "".join([*lines[:n], changed, *lines[n + 1 :]]))


def _changes(line: str, words: dict[str, list[str]]) -> Iterator[tuple[str, str]]:
    if line.startswith("#"):
        return
    for found in TOKEN.finditer(line):
        key, text = found[1], found[2]
        for other in () if key in LEFT else _others(key, text, words):
            yield key, line[: found.start(2)] + other + line[found.end(2) :]
    if (start := LINE.match(line)) and start[1] in OPTIONAL:
        yield start[1], ""


def _others(key: str, text: str, words: dict[str, list[str]]) -> Iterable[str]:
    if text in {"true", "false"}:
        return ["false" if text == "true" else "true"]
    if text.startswith("["):
        return [f"[{other}]" for other in _without_one(text[1:-1])]
    if not text.startswith('"'):
        return _stepped(text)
    if re.search(r"\d", text) and " " in text:
        return _stepped(text)
    known = words[key]
    return [known[(known.index(text) + 1) % len(known)]] if len(known) > 1 else []


def _without_one(listed: str) -> list[str]:
    parts = [part.strip() for part in listed.split(",") if part.strip()]
    return [", ".join([*parts[:n], *parts[n + 1 :]]) for n in range(len(parts))]


def _stepped(text: str) -> list[str]:
    """The first number in a text, a step more and a step less: 1/64 of an inch, else one of its last digit."""
    if day := re.fullmatch(r"(\d+)(-\d\d-\d\d)", text):
        return [f"{int(day[1]) + by}{day[2]}" for by in (1, -1)]
    found = NUMBER.search(text)
    assert found is not None, text
    more = [_by(found[0], by, inches=text.endswith(' in"')) for by in (1, -1)]
    return [text[: found.start()] + number + text[found.end() :] for number in more if number]


def _by(number: str, by: int, *, inches: bool) -> str:
    if inches and "." not in number:
        whole, _, part = number.rpartition(" ") if "/" in number else (number, "", "0/64")
        above, below = map(int, part.split("/"))
        count = int(whole or 0) * 64 + above * 64 // below + by
        return f"{count // 64} {count % 64}/64" if count >= 0 else ""
    if "/" in number:
        above, below = map(int, number.split("/"))
        return f"{above + by}/{below}"
    places = len(number.partition(".")[2])
    value = round(float(number) + by * 10**-places, places)
    return f"{value:.{places}f}" if value >= 0 else ""


def _words() -> dict[str, list[str]]:
    """Of each key, the words that stand under it anywhere."""
    found: dict[str, set[str]] = defaultdict(set)
    for path in DATA.rglob("*.toml"):
        for key, text in _texts(tomllib.loads(path.read_text("utf-8"))):
            found[key].add(f'"{text}"')
    return defaultdict(list, {key: sorted(texts) for key, texts in found.items()})


def _texts(table: Any, key: str = "") -> Iterator[tuple[str, str]]:
    if isinstance(table, dict):
        for name, part in table.items():
            yield from _texts(part, name)
    elif isinstance(table, list):
        for part in table:
            yield from _texts(part, f"{key}[]")
    elif isinstance(table, str):
        yield key, table
