"""The three things that are fuzzed, each with how it is judged, how its inputs are changed, and the inputs it has."""

from __future__ import annotations

import json
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import NamedTuple

from tests.contract.asgi import ADVICE, JSON_BODY
from tests.fuzz import bodies, lengths, mutants, routes
from tests.fuzz.messages import Message, write
from tests.fuzz.relations import RELATIONS, SLOW
from tests.fuzz.service import sandbox, service

from jambset.http.addresses import BULK
from jambset.http.bulk import NDJSON
from jambset.quantity.parse import EXAMPLES

KEPT = Path(__file__).parent / "corpus"
"""A folder for each target: inputs that between them reach what was ever reached, and each that once failed."""
SELDOM = 8
"""Of so many turns a slow relation takes one."""


class Target(NamedTuple):
    """Something that is fuzzed.

    check: judges one input whole and returns what came of it. probe: the same, quicker, with one relation of several.
    mutant: changes an input. seeds: inputs to begin with.
    """

    name: str
    check: Callable[[bytes], bytes]
    probe: Callable[[bytes], bytes]
    mutant: Callable[[bytes, bytes, int, Random, mutants.Raw], bytes]
    seeds: Callable[[], Iterator[bytes]]

    def kept(self) -> list[Path]:
        """The files of its corpus."""
        return sorted((KEPT / self.name).iterdir())


def _lengths() -> Iterator[bytes]:
    for example in EXAMPLES.values():
        yield from (part.encode() for part in example.split('"')[1::2])


def _bodies() -> Iterator[bytes]:
    return (json.dumps(one.request).encode() for one in sandbox())


def _messages() -> Iterator[bytes]:
    for one in sandbox():
        request = json.dumps(one.request).encode()
        yield write(Message("POST", one.call, tuple(JSON_BODY.items()), request))
        if one.call == ADVICE:
            yield write(Message("POST", BULK, (("Content-Type", NDJSON),), request))
    yield from (write(Message("GET", address)) for address in mutants.addresses())


def _route(data: bytes) -> bytes:
    return routes.check(service(), data, RELATIONS)


def _probed_route(data: bytes) -> bytes:
    turn, place = divmod(zlib.crc32(data), len(RELATIONS))
    relation = RELATIONS[place]
    return routes.check(service(), data, [] if relation in SLOW and turn % SELDOM else [relation])


TARGETS = {
    target.name: target
    for target in (
        Target("length", lengths.check, lengths.check, mutants.length, _lengths),
        Target("body", bodies.check, bodies.check, mutants.body, _bodies),
        Target("route", _route, _probed_route, mutants.route, _messages),
    )
}
