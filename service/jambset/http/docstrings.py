"""Words that stand below an attribute or a member of an enum in its class, so that the contract says them too."""

from __future__ import annotations

import ast
import inspect
from enum import StrEnum
from types import ModuleType


def attribute_docs(module: ModuleType) -> dict[str, dict[str, str]]:
    """Docstrings below annotated attributes, by class and attribute, of the classes a module defines.

    Raises OSError when the module's source isn't there; a wheel has it.
    """
    body = ast.parse(inspect.getsource(module)).body
    return {node.name: dict(_documented(node)) for node in body if isinstance(node, ast.ClassDef)}


def member_docs(kind: type[StrEnum]) -> dict[str, str]:
    """Docstrings below the members of an enum, by the members' values."""
    module = inspect.getmodule(kind)
    assert module is not None  # a class is defined in some module
    docs = attribute_docs(module)[kind.__name__]
    return {member.value: docs[member.name] for member in kind if member.name in docs}


def _documented(node: ast.ClassDef) -> list[tuple[str, str]]:
    return [
        (name, " ".join(str(below.value.value).split()))
        for field, below in zip(node.body, node.body[1:], strict=False)
        if (name := _name(field)) is not None
        if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
    ]


def _name(field: ast.stmt) -> str | None:
    """What a class calls an attribute or a member of an enum; None for any other statement."""
    match field:
        case ast.AnnAssign(target=ast.Name(id=name)) | ast.Assign(targets=[ast.Name(id=name)]):
            return name
    return None
