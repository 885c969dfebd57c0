"""What is changed, one place at a time: the operators of mutmut, and the turning round of a condition.

Annotations, imports, docstrings and what mypy alone sees stay as they are. Of a text one change is enough.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import libcst as cst
import libcst.matchers as m
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.mutators import mutation_operators, operator_string

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "service" / "jambset"
CODE = [
    *sorted(path for path in (PACKAGE / "engine").glob("*.py") if path.stat().st_size),
    *(PACKAGE / "rules" / f"{name}.py" for name in ("schema", "select", "faults", "load")),
]
LEFT = (cst.Annotation, cst.Import, cst.ImportFrom)
CALLS_LEFT = {"len", "isinstance", "cast", "TypeVar"}


def module_of(path: Path) -> str:
    return f"{path.parent.name}.{path.stem}"


class Site(NamedTuple):
    """A node that may be changed, the lines it and what is round it begin on (nearest first), and where it stands.

    body: it runs when its function is called, and not when the module is loaded. part: digest of the function, class
    or other statement of the module that it stands in.
    """

    node: cst.CSTNode
    lines: tuple[int, ...]
    function: str
    body: bool
    part: str


class Mutant(NamedTuple):
    """One change: its place, its operator, its number among those of its part, and how to write it."""

    path: Path
    number: int
    operator: str
    site: Site
    changed: cst.CSTNode

    def source(self, tree: cst.Module) -> str:
        changed = tree.deep_replace(self.site.node, self.changed)
        assert isinstance(changed, cst.Module)
        return changed.code


def condition_turned(node: cst.If | cst.CompIf) -> Iterable[cst.CSTNode]:
    """Turn `if x` into `if not x`; comparisons and `not` have operators of their own."""
    if not m.matches(node.test, m.Comparison() | m.UnaryOperation(operator=m.Not())):
        test = node.test.with_changes(lpar=[cst.LeftParen()], rpar=[cst.RightParen()])
        yield node.with_changes(test=cst.UnaryOperation(cst.Not(), test))


def _one_text(node: cst.BaseString) -> Iterable[cst.CSTNode]:
    return list(operator_string(node))[:1]


OPERATORS: list[tuple[Any, Callable[[Any], Iterable[cst.CSTNode]]]] = [
    *((kind, change) for kind, change in mutation_operators if change is not operator_string),
    (cst.BaseString, _one_text),
    ((cst.If, cst.CompIf), condition_turned),
]


class _Sites(cst.CSTVisitor):
    METADATA_DEPENDENCIES = (PositionProvider,)

    def __init__(self, module: cst.Module) -> None:
        super().__init__()
        self.sites: list[Site] = []
        self.called_at_load: set[str] = set()
        self._module = module
        self._part = ""
        self._names: list[str] = []
        self._lines: list[int] = []
        self._bodies = 0

    def on_visit(self, node: cst.CSTNode) -> bool:
        if isinstance(node, LEFT) or _left_alone(node):
            return False
        position = self.get_metadata(PositionProvider, node, None)
        if len(self._lines) == 1:
            self._part = _digest(self._module.code_for_node(node))
        self._lines.append(position.start.line if position else 0)
        lines = tuple(dict.fromkeys(reversed(self._lines)))
        self.sites.append(Site(node, lines, ".".join(self._names), self._in_body, self._part))
        if isinstance(node, cst.FunctionDef | cst.ClassDef):
            self._names.append(node.name.value)
        if isinstance(node, cst.Call) and isinstance(node.func, cst.Name) and not self._in_body:
            self.called_at_load.add(node.func.value)
        return True

    def on_leave(self, original_node: cst.CSTNode) -> None:
        if isinstance(original_node, LEFT) or _left_alone(original_node):
            return
        self._lines.pop()
        if isinstance(original_node, cst.FunctionDef | cst.ClassDef):
            self._names.pop()

    def visit_FunctionDef_body(self, _: cst.FunctionDef) -> None:  # noqa: N802
        self._bodies += 1

    def leave_FunctionDef_body(self, _: cst.FunctionDef) -> None:  # noqa: N802
        self._bodies -= 1

    @property
    def _in_body(self) -> bool:
        return self._bodies > 0


def _digest(text: str) -> str:
    return hashlib.sha256(text.strip().encode()).hexdigest()[:12]


def _left_alone(node: cst.CSTNode) -> bool:
    if isinstance(node, cst.If):
        return m.matches(node.test, m.Name("TYPE_CHECKING"))
    return isinstance(node, cst.Call) and isinstance(node.func, cst.Name) and node.func.value in CALLS_LEFT


def sites(code: str) -> tuple[cst.Module, list[Site]]:
    wrapper = MetadataWrapper(cst.parse_module(code))
    visitor = _Sites(wrapper.module)
    wrapper.visit(visitor)
    late = [site._replace(body=site.body and site.function not in visitor.called_at_load) for site in visitor.sites]
    return wrapper.module, late


def mutants(path: Path) -> tuple[cst.Module, list[Mutant]]:
    """The tree of a file and every change of it, in the order of the file."""
    tree, found = sites(path.read_text("utf-8"))
    made, counted = [], Counter[str]()
    for site in found:
        for change, changed in _changes(site.node):
            made.append(Mutant(path, counted[site.part], change.__name__.strip("_"), site, changed))
            counted[site.part] += 1
    return tree, made


def _changes(node: cst.CSTNode) -> Iterator[tuple[Callable[[Any], Iterable[cst.CSTNode]], cst.CSTNode]]:
    for kind, change in OPERATORS:
        if isinstance(node, kind):
            for changed in change(node):
                yield change, changed


def differing(old: str, new: str) -> tuple[str, str]:
    """The lines that differ, spaces joined: what the change is called in the ledger, whatever line it stands on."""
    before, after = old.splitlines(), new.splitlines()
    while before and after and before[0] == after[0]:
        before, after = before[1:], after[1:]
    while before and after and before[-1] == after[-1]:
        before, after = before[:-1], after[:-1]
    return _joined(before), _joined(after)


def _joined(lines: list[str]) -> str:
    return " ".join(" ".join(lines).split())
