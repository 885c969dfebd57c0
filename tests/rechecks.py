"""Rechecks in tests: openings as they were set, read as the service reads them and answered as it answers."""

from __future__ import annotations

from typing import Any

import msgspec
from tests.openings import Wire, catalogue

from jambset.engine.facts import grid_of
from jambset.engine.recheck import recheck
from jambset.model.recheck import RecheckAdvice
from jambset.model.request import Recheck
from jambset.quantity.parse import dec_hook
from jambset.render.encode import writer

_READ = msgspec.json.Decoder(Recheck, strict=True, dec_hook=dec_hook)


def read(request: Wire) -> Recheck:
    """The recheck that a request stands for."""
    return _READ.decode(msgspec.json.encode(request))


def rechecked(request: Wire) -> RecheckAdvice:
    """The answer with its numbers in ticks and SI units."""
    return recheck(read(request), catalogue())


def answered(request: Wire) -> Any:
    """The answer as a caller reads it."""
    asked = read(request)
    return msgspec.json.decode(writer(grid_of(asked, catalogue())).encode(recheck(asked, catalogue())))
