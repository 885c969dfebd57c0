"""What an opening of a house takes over from the house: JSON Merge Patch (RFC 7396), and nothing else.

The opening is a patch of `defaults`, and `defaults` one of `{"labour": …}`, the labour of the house. So objects
merge member by member at any depth, lists and single values are replaced whole, and null takes a default away.
Neither is changed; what a patch doesn't touch is the same object afterwards.
"""

from __future__ import annotations

from typing import Any
from urllib.parse import unquote


def merge_patch(target: Any, patch: Any) -> Any:
    """The target as the patch changes it (RFC 7396 section 2). Raises RecursionError for what is nested too deeply.

    >>> merge_patch({"leaf": {"core": "hollow", "count": 2}, "grid": "1 mm"}, {"leaf": {"count": None}, "grid": "5 mm"})
    {'leaf': {'core': 'hollow'}, 'grid': '5 mm'}
    """
    if not isinstance(patch, dict):
        return patch
    merged = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            merged.pop(name, None)
        else:
            merged[name] = merge_patch(merged.get(name), value)
    return merged


def common_base(house: Any) -> Any:
    """What every opening of a decoded house starts from: its labour, patched by its defaults."""
    labour = {"labour": house["labour"]} if "labour" in house else {}
    return merge_patch(labour, house.get("defaults", {}))


def taken_over(pointer: str, base: Any, patch: Any) -> bool:
    """Whether what a pointer (RFC 6901) names in a merged object came from its base.

    What a list holds came with the list. A missing member counts as missing from the patch.

    >>> taken_over("#/leaf/count", {"leaf": {"count": 2}}, {"leaf": {"core": "hollow"}})
    True
    """
    for token in tokens(pointer):
        if isinstance(base, list):
            break
        if not isinstance(base, dict) or token not in base or not isinstance(patch, dict):
            return False
        base, patch = base[token], patch.get(token, _UNSAID)
    return patch is _UNSAID


_UNSAID: dict[str, Any] = {}
"""What a patch has where it says nothing."""


def tokens(pointer: str) -> list[str]:
    """The names and places along a pointer.

    >>> tokens("#/pull_side/build_up/0/a~1b~0c%20d")
    ['pull_side', 'build_up', '0', 'a/b~c d']
    """
    return [unquote(token).replace("~1", "/").replace("~0", "~") for token in pointer.split("/")[1:]]
