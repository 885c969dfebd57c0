"""What the callers of soak.py ask: every kind of call, no two bodies alike, and some that are wrong."""

from __future__ import annotations

import gzip
import json
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

from tests.houses import house, merged

from jambset.http.addresses import ADVICE, BULK, HOUSE
from jambset.http.bulk import NDJSON
from jambset.http.keys import new_key
from jambset.http.negotiate import CALENDAR, CSV, HTML, JSON, PDF, SVG

KEY = new_key()
SCENARIOS = Path(__file__).parents[2] / "examples" / "sandbox"
KINDS = 1_000
"""Openings, all different, of which requests are made."""
LINES = 20


class Call(NamedTuple):
    """A request and what is to come of it; status 0 where nothing is. part: what the body has to have in it."""

    kind: str
    request: bytes
    status: int
    part: bytes = b""

    def fault(self, answer: tuple[int, bytes]) -> str:
        """What is wrong with an answer; nothing where it is right."""
        status, body = answer
        if status != self.status:
            return f"status {status}"
        return "" if self.part in body else "another answer"


class Mix:
    """Calls by chance."""

    def __init__(self, chance: random.Random) -> None:
        self._chance = chance
        self._openings = merged(house(KINDS, seed=chance.randrange(1_000_000), lines=0))
        self._scenarios = [json.loads(path.read_bytes()) for path in sorted(SCENARIOS.glob("*.json"))]
        self._number = 0
        shares: dict[Callable[[], Call], float] = {
            self._opening: 60, self._scenario: 15, self._look: 8, self._wrong: 6, self._drawing: 4, self._odd: 3,
            self._stream: 2, self._leaving: 1, self._house: 0.8, self._page: 0.2,
        }  # fmt: skip
        self._makers, self._weights = list(shares), list(shares.values())

    def call(self) -> Call:
        """The next."""
        (make,) = self._chance.choices(self._makers, self._weights)
        self._number += 1
        return make()

    # --- what is right

    def _opening(self) -> Call:
        mark, body = self._marked()
        return Call("opening", post(ADVICE, body), 200, mark)

    def _scenario(self) -> Call:
        kept = self._chance.choice(self._scenarios)
        return Call("worked example", post(kept.get("call", ADVICE), json.dumps(kept["request"]).encode()), 200)

    def _drawing(self) -> Call:
        mark, body = self._marked()
        return Call("drawing, sheet", post(ADVICE, body, accept=self._chance.choice([SVG, HTML])), 200, mark)

    def _house(self) -> Call:
        body = json.dumps(house(self._chance.randrange(2, 12), seed=self._number)).encode()
        return Call("house", post(HOUSE, body, accept=self._chance.choice([JSON, JSON, CSV, CALENDAR])), 200)

    def _page(self) -> Call:
        body = json.dumps(house(self._chance.randrange(2, 6), seed=self._number)).encode()
        return Call("sheet of a house", post(HOUSE, body, accept=self._chance.choice([HTML, PDF])), 200)

    def _stream(self) -> Call:
        marks, bodies = zip(*(self._marked() for _ in range(LINES)), strict=True)
        body = b"\n".join((*bodies, b"{}"))
        if self._chance.random() < 0.5:
            return Call("stream", post(BULK, gzip.compress(body, 1), media=NDJSON, coding="gzip"), 200, marks[-1])
        parts = (body[place : place + 4_000] for place in range(0, len(body), 4_000))
        chunked = b"".join(b"%x\r\n%b\r\n" % (len(part), part) for part in (*parts, b""))
        return Call("stream", head("POST", BULK, ("Content-Type", NDJSON), CHUNKED) + chunked, 200, marks[-1])

    def _look(self) -> Call:
        paths = ("/v1/rules", "/v1/finishes", "/v1/limits", "/v1/sandbox", "/health/ready", "/openapi.json", "/metrics")
        return Call("look-up", head("GET", self._chance.choice(paths)), 200)

    # --- what is wrong

    def _wrong(self) -> Call:
        _, body = self._marked()
        requests = (
            (422, post(ADVICE, body.replace(b'"leaf"', b'"leef"', 1))),
            (422, post(ADVICE, body.replace(b"30 in", b"%d mm" % self._number, 1).replace(b"80 in", b"3", 1))),
            (400, post(ADVICE, body[: self._chance.randrange(1, len(body))])),
            (404, head("GET", f"/nowhere/{self._number}")),
            (422, head("GET", f"/v1/rules?topic={self._number}")),
            (415, post(ADVICE, body, media="text/plain")),
            (413, post(ADVICE, b" " * 70_000)),
        )
        status, request = self._chance.choice(requests)
        return Call("wrong", request, status)

    def _odd(self) -> Call:
        """No HTTP, an offer of another protocol, or the last one on its connection."""
        mark, body = self._marked()
        requests = (
            (400, b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", b""),
            (401, b"GET /v1/limits HTTP/1.1\r\nHost: a\r\n\r\n", b""),
            (200, post(ADVICE, body, ("Connection", "Upgrade"), ("Upgrade", "h2c")), mark),
            (200, post(ADVICE, body, ("Connection", "close")), mark),
        )
        status, request, part = self._chance.choice(requests)
        return Call("odd", request, status, part)

    def _leaving(self) -> Call:
        """A caller who goes away before his answer, or before he has asked."""
        _, body = self._marked()
        whole = self._chance.choice([post(ADVICE, body), post(HOUSE, json.dumps(house(4)).encode(), accept=PDF)])
        return Call("going away", whole[: self._chance.randrange(1, 2 * len(whole))], 0)

    def _marked(self) -> tuple[bytes, bytes]:
        """An opening with a mark that no other has, and lengths that few have."""
        opening: dict[str, Any] = {
            **self._chance.choice(self._openings),
            "mark": f"D{self._number}-{self._chance.random()}",
        }
        width = f"{self._chance.randrange(24, 36)} {self._chance.randrange(1, 16)}/16 in"
        return opening["mark"].encode(), json.dumps({**opening, "leaf": {**opening["leaf"], "width": width}}).encode()


CHUNKED = ("Transfer-Encoding", "chunked")


def head(method: str, path: str, *fields: tuple[str, str]) -> bytes:
    """The head of a request, with the key."""
    named = (("Host", "a"), ("Authorization", f"Bearer {KEY}"), *fields)
    lines = (f"{method} {path} HTTP/1.1", *(f"{name}: {value}" for name, value in named), "", "")
    return "\r\n".join(lines).encode()


def post(
    path: str, body: bytes, *fields: tuple[str, str], media: str = JSON, accept: str = "*/*", coding: str = ""
) -> bytes:
    """A whole request."""
    coded = (("Content-Encoding", coding),) if coding else ()
    own = (("Content-Type", media), ("Accept", accept), ("Content-Length", str(len(body))))
    return head("POST", path, *own, *coded, *fields) + body
