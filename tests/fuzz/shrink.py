"""Makes an input that fails smaller, as long as it fails in the same place.

    python -m tests.fuzz.shrink TARGET FILE

writes the smallest input it comes to into FILE.small: a header less, a line less, a member or an item of the JSON less.
"""

from __future__ import annotations

import json
import sys
import traceback
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.fuzz.messages import read, write
from tests.fuzz.targets import TARGETS, Target


def complaint(target: Target, data: bytes) -> str:
    """Where and as what an input fails; empty where it doesn't."""
    try:
        target.check(data)
    except Exception as fault:  # noqa: BLE001 (whatever it is, it is what is looked for)
        last = traceback.extract_tb(fault.__traceback__)[-1]
        return f"{type(fault).__name__} at {last.filename}:{last.lineno}"
    return ""


def shrunk(target: Target, data: bytes) -> bytes:
    """The smallest input that fails as this one does."""
    wanted, smaller = complaint(target, data), smaller_bodies if target.name != "route" else smaller_messages
    assert wanted, "it doesn't fail"
    while found := next((one for one in smaller(data) if complaint(target, one) == wanted), None):
        data = found
    return data


def smaller_messages(data: bytes) -> Iterator[bytes]:
    """Requests with something less."""
    message = read(data)
    for place in range(len(message.headers)):
        yield write(message._replace(headers=message.headers[:place] + message.headers[place + 1 :]))
    if "?" in message.target:
        yield write(message._replace(target=message.path))
    yield from (write(message._replace(body=body)) for body in smaller_bodies(message.body))


def smaller_bodies(data: bytes) -> Iterator[bytes]:
    """Bodies with something less: of JSON a member or an item, else a line or a half."""
    try:
        document = json.loads(data)
    except (ValueError, RecursionError):
        lines = data.split(b"\n")
        yield from (b"\n".join(lines[:place] + lines[place + 1 :]) for place in range(len(lines)) if len(lines) > 1)
        yield from (data[: len(data) // 2], data[len(data) // 2 :], data[1:], data[:-1]) if data else ()
        return
    for smaller in _less(document):
        yield json.dumps(smaller, ensure_ascii=False).encode("utf-8", "surrogatepass")


def _less(value: Any) -> Iterator[Any]:
    if isinstance(value, dict):
        for key in value:
            yield {name: part for name, part in value.items() if name != key}
        for key, part in value.items():
            yield from ({**value, key: less} for less in _less(part))
    elif isinstance(value, list):
        for place in range(len(value)):
            yield value[:place] + value[place + 1 :]
        for place, part in enumerate(value):
            yield from ([*value[:place], less, *value[place + 1 :]] for less in _less(part))


if __name__ == "__main__":
    name, file = sys.argv[1:]
    Path(f"{file}.small").write_bytes(shrunk(TARGETS[name], Path(file).read_bytes()))
