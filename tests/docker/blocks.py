"""Reads the proxy's configuration into directives."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

_TOKEN = re.compile(r"#[^\n]*|'[^']*'|[{};]|[^\s{};']+")
_UNITS = {"": 1, "k": 1024, "m": 1024**2, "g": 1024**3}


class Directive(NamedTuple):
    """A directive by its words, with those inside it."""

    words: tuple[str, ...]
    inside: tuple[Directive, ...] = ()

    def all(self, *words: str) -> list[Directive]:
        """Those inside that begin with these words."""
        return [each for each in self.inside if each.words[: len(words)] == words]

    def one(self, *words: str) -> Directive:
        """The only one inside that begins with these words."""
        (found,) = self.all(*words)
        return found

    @property
    def size(self) -> int:
        """Its last word as bytes."""
        number, unit = re.fullmatch(r"(\d+)([kmg]?)", self.words[-1]).groups()  # type: ignore[union-attr]
        return int(number) * _UNITS[unit]

    @property
    def seconds(self) -> int:
        """Its last word as seconds."""
        return int(self.words[-1].removesuffix("s"))


def read(path: Path) -> Directive:
    """A configuration as the directive around all of it."""
    tokens = (token for token in _TOKEN.findall(path.read_text("utf-8")) if token[0] != "#")
    return Directive((), tuple(_inside(tokens)))


def _inside(tokens: Iterator[str]) -> Iterator[Directive]:
    words: list[str] = []
    for token in tokens:
        if token == "}":
            return
        if token == ";":
            yield Directive(tuple(words))
            words = []
        elif token == "{":
            yield Directive(tuple(words), tuple(_inside(tokens)))
            words = []
        else:
            words.append(token)
