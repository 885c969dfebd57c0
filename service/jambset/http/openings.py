"""POST /v1/openings/advice: one opening in, its advice out."""

from __future__ import annotations

from litestar.handlers import ASGIRouteHandler

from jambset.http.advise import adviser
from jambset.http.calls import json_call
from jambset.http.negotiate import JSON
from jambset.rules.schema import Catalogue


def opening_calls(catalogue: Catalogue, *, limit: int) -> list[ASGIRouteHandler]:
    """The calls on one opening. limit: longest body [bytes]."""
    give = adviser(catalogue)

    def advise(body: bytes, _: str) -> bytes:
        return give(body)

    return [json_call("/v1/openings/advice", advise, offers=(JSON,), limit=limit)]
