"""Requests as files: a line with method and target, a line for each header, a blank line, then the body as it is sent.

What a server would never pass on is taken out when a file is read, so that any bytes are some request: `read` gives a
Message for all of them, and `write` of it is read as the same.
"""

from __future__ import annotations

import re
from typing import NamedTuple

MOST_HEADERS = 12
_NO_METHOD = re.compile(r"[^A-Z]")
_NO_TARGET = re.compile(r"[^\x21-\x7e]|#.*")
_NO_NAME = re.compile(r"[^A-Za-z0-9-]")
_NO_VALUE = re.compile(r"[^\x20-\x7e\x80-\xff]")

Header = tuple[str, str]


class Message(NamedTuple):
    """A request. headers: in the order sent, a name as often as it is sent."""

    method: str
    target: str
    headers: tuple[Header, ...] = ()
    body: bytes = b""

    @property
    def path(self) -> str:
        """The target without its query."""
        return self.target.partition("?")[0]

    def header(self, name: str) -> str:
        """All headers of a name as one, empty where there is none."""
        return ", ".join(value for key, value in self.headers if key.lower() == name.lower())

    def with_header(self, name: str, value: str) -> Message:
        """The message with one header in place of all of its name."""
        others = (header for header in self.headers if header[0].lower() != name.lower())
        return self._replace(headers=(*others, (name, value)))


def read(data: bytes) -> Message:
    """The request that a file stands for.

    >>> read(b"POST /v1/x\\nAccept: text/html\\n\\n{}")
    Message(method='POST', target='/v1/x', headers=(('Accept', 'text/html'),), body=b'{}')
    """
    head, _, body = data.partition(b"\n\n")
    first, *rest = head.decode("latin-1").split("\n")
    method, _, target = first.partition(" ")
    fields = (line.partition(":") for line in rest[:MOST_HEADERS])
    headers = ((_NO_NAME.sub("", name), _NO_VALUE.sub("", value).strip()) for name, _, value in fields)
    return Message(
        method=_NO_METHOD.sub("", method) or "GET",
        target=f"/{_NO_TARGET.sub('', target).removeprefix('/')}",
        headers=tuple((name, value) for name, value in headers if name),
        body=body,
    )


def write(message: Message) -> bytes:
    """The file of a request."""
    lines = [f"{message.method} {message.target}", *(f"{name}: {value}" for name, value in message.headers)]
    return "\n".join(lines).encode("latin-1", "replace") + b"\n\n" + message.body
