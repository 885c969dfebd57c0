"""Rechecks in tests: openings as they were set, read as the service reads them and answered as it answers."""

from __future__ import annotations

from functools import cache
from typing import Any

import msgspec
from tests.openings import Wire, catalogue

from jambset.engine.facts import grid_of
from jambset.engine.recheck import recheck
from jambset.http.decode import Reader, recheck_reader
from jambset.model.recheck import RecheckAdvice
from jambset.model.request import Recheck
from jambset.render.encode import writer


@cache
def _reader() -> Reader[Recheck]:
    return recheck_reader(catalogue())


def read(request: Wire) -> Recheck:
    """The recheck that a request stands for."""
    return _reader().read(msgspec.json.encode(request))


def rechecked(request: Wire) -> RecheckAdvice:
    """The answer with its numbers in ticks and SI units."""
    return recheck(read(request), catalogue())


def answered(request: Wire) -> Any:
    """The answer as a caller reads it."""
    asked = read(request)
    return msgspec.json.decode(writer(grid_of(asked, catalogue())).encode(recheck(asked, catalogue())))
