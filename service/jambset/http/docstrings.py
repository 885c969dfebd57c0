"""Words that stand below an attribute in its class, so that the contract says them too."""

from __future__ import annotations

import ast
import inspect
from types import ModuleType


def attribute_docs(module: ModuleType) -> dict[str, dict[str, str]]:
    """Docstrings below annotated attributes, by class and attribute, of the classes a module defines.

    Raises OSError when the module's source isn't there; a wheel has it.
    """
    body = ast.parse(inspect.getsource(module)).body
    return {node.name: dict(_documented(node)) for node in body if isinstance(node, ast.ClassDef)}


def _documented(node: ast.ClassDef) -> list[tuple[str, str]]:
    return [
        (field.target.id, " ".join(str(below.value.value).split()))
        for field, below in zip(node.body, node.body[1:], strict=False)
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name)
        if isinstance(below, ast.Expr) and isinstance(below.value, ast.Constant)
    ]
