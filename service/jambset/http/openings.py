"""POST /v1/openings/advice: one opening in, its advice out."""

from __future__ import annotations

from litestar.handlers import ASGIRouteHandler

from jambset.engine.assess import assess
from jambset.engine.facts import grid_of
from jambset.http.calls import json_call
from jambset.http.decode import opening_reader
from jambset.http.negotiate import JSON
from jambset.render.encode import encoder
from jambset.rules.schema import Catalogue


def opening_calls(catalogue: Catalogue, *, limit: int) -> list[ASGIRouteHandler]:
    """The calls on one opening. limit: longest body [bytes]."""
    read = opening_reader(catalogue).read

    def advise(body: bytes, _: str) -> bytes:
        opening = read(body)
        advice = assess(opening, catalogue)
        return encoder(grid_of(opening, catalogue)).encode(advice)

    return [json_call("/v1/openings/advice", advise, offers=(JSON,), limit=limit)]
