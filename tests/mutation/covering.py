"""Which tests run a line, the quickest first, those of one file not all before those of the next."""

from __future__ import annotations

import ast
import json
from collections import defaultdict
from collections.abc import Iterable, Iterator
from functools import cache, cached_property
from pathlib import Path

from coverage import CoverageData
from tests.mutation.mutants import CODE, Mutant

LATER = 0.002
"""What each test of the same file before it counts towards a test's time [s]."""


class Covering:
    """Tests of lines, as sets of bits: bit n is the nth test to try."""

    def __init__(self, data: Path, times: Path) -> None:
        self.seconds: dict[str, float] = json.loads(times.read_text("utf-8"))
        self.order = _interleaved(self.seconds)
        self._rank = {test: n for n, test in enumerate(self.order)}
        self._data = CoverageData(str(data))
        self._data.read()
        self._lines: dict[Path, dict[int, int]] = {}

    def lines(self, path: Path) -> dict[int, int]:
        if path not in self._lines:
            found = self._data.contexts_by_lineno(str(path))
            self._lines[path] = {line: self._bits(contexts) for line, contexts in found.items()}
        return self._lines[path]

    def _bits(self, contexts: Iterable[str]) -> int:
        bits = 0
        for test in {context.rpartition("|")[0] for context in contexts}:
            if test in self._rank:
                bits |= 1 << self._rank[test]
        return bits

    def tests(self, mutant: Mutant) -> list[str]:
        """Tests that run the change; of what runs as its module is loaded, those that run whatever names it."""
        lines = self.lines(mutant.path)
        near = (lines.get(line, 0) for line in mutant.site.lines)
        bits = next((found for found in near if found), 0) if mutant.site.body else self._of_names(mutant)
        return [self.order[n] for n in _ones(bits)]

    def _of_names(self, mutant: Mutant) -> int:
        """Follows names: from a statement to where what it names stands, and on where that runs at loading too."""
        places = [(mutant.path, line) for line in mutant.site.lines[:-1] or mutant.site.lines]
        seen: set[tuple[Path, int]] = set()
        bits = 0
        while places:
            place = places.pop()
            here = self.lines(place[0]).get(place[1], 0)
            bits |= here
            if place not in seen and not here:
                places += self._led_to(*place)
            seen.add(place)
        return bits or self._any(mutant.path)

    def _led_to(self, path: Path, line: int) -> Iterator[tuple[Path, int]]:
        for statement in _statements(path):
            if statement.lineno <= line <= (statement.end_lineno or 0):
                for name in _targets(statement):
                    yield from self._mentions[name]
                if isinstance(statement, ast.FunctionDef):  # its body, run by whoever calls it by whatever name
                    yield from ((path, n) for n in range(statement.lineno + 1, (statement.end_lineno or 0) + 1))

    def _any(self, path: Path) -> int:
        bits = 0
        for here in self.lines(path).values():
            bits |= here
        return bits

    @cached_property
    def _mentions(self) -> dict[str, list[tuple[Path, int]]]:
        found: dict[str, list[tuple[Path, int]]] = defaultdict(list)
        for path in CODE:
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.Name | ast.Attribute):
                    found[node.id if isinstance(node, ast.Name) else node.attr].append((path, node.lineno))
        return found


@cache
def _statements(path: Path) -> list[ast.stmt]:
    return [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.stmt)]


def _targets(node: ast.stmt) -> Iterator[str]:
    """Names that a statement gives a value."""
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        yield node.name
    targets = node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
    yield from (name.id for target in targets for name in ast.walk(target) if isinstance(name, ast.Name))


def _interleaved(seconds: dict[str, float]) -> list[str]:
    files: dict[str, int] = defaultdict(int)
    cost = {}
    for test in sorted(seconds, key=lambda test: seconds[test]):
        file = test.partition("::")[0]
        cost[test] = seconds[test] + LATER * files[file]
        files[file] += 1
    return sorted(seconds, key=lambda test: cost[test])


def _ones(bits: int) -> Iterator[int]:
    while bits:
        low = bits & -bits
        yield low.bit_length() - 1
        bits ^= low
