"""The calls on one opening: its advice, and the judgement of it as it was set."""

from __future__ import annotations

from litestar.handlers import ASGIRouteHandler

from jambset.http.addresses import ADVICE, RECHECK
from jambset.http.advise import Give, adviser, rechecker
from jambset.http.calls import Asked, Content, json_call
from jambset.http.negotiate import JSON
from jambset.rules.schema import Catalogue


def opening_calls(catalogue: Catalogue, *, limit: int) -> list[ASGIRouteHandler]:
    """POST /v1/openings/advice and /v1/openings/recheck. limit: longest body [bytes]."""
    givers = {ADVICE: adviser(catalogue), RECHECK: rechecker(catalogue)}
    return [_call(path, give, limit) for path, give in givers.items()]


def _call(path: str, give: Give, limit: int) -> ASGIRouteHandler:
    def work(body: bytes, asked: Asked) -> Content:
        return Content(give(body), asked.media_type)

    return json_call(path, work, offers=(JSON,), limit=limit)
