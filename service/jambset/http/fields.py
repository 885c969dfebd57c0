"""The header fields of a request by name: all lines of one name are one value (RFC 9110 sections 5.2 and 5.3).

So a list may come in as many lines as a caller or a proxy likes. A field that may occur only once has, sent twice, a
value with a comma, which its reader refuses or ignores: neither the first line nor the last is believed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


def fields(lines: Any) -> dict[bytes, bytes]:
    """The fields by name, in small letters as ASGI has them. lines: a sequence of name and value, in the order sent.

    >>> fields([(b"accept", b"text/html"), (b"host", b"a"), (b"accept", b"image/*")])
    {b'accept': b'text/html, image/*', b'host': b'a'}
    """
    found = dict(lines)
    return found if len(found) == len(lines) else _joined(lines)


def _joined(lines: Any) -> dict[bytes, bytes]:
    found: dict[bytes, list[bytes]] = {}
    for name, value in lines:
        found.setdefault(name, []).append(value)
    return {name: b", ".join(values) for name, values in found.items()}


def text(found: Mapping[bytes, bytes], name: bytes) -> str | None:
    """A field as text, None where there is none."""
    value = found.get(name)
    return None if value is None else value.decode("latin-1")
