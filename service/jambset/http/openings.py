"""The calls on one opening: its advice as JSON, a drawing or a sheet, and the judgement of it as it was set."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec
from litestar.handlers import ASGIRouteHandler

from jambset.engine.steps import Steps, one_step
from jambset.http.addresses import ADVICE, RECHECK
from jambset.http.advise import adviser_in_steps, rechecker
from jambset.http.calls import DRAWN, Content, Limit, Negotiated, json_call
from jambset.http.negotiate import HTML, JSON, SVG
from jambset.http.pool import Pool
from jambset.render.drawing import drawing_svg
from jambset.render.language import Language
from jambset.render.pages import opening_page
from jambset.rules.schema import Catalogue

Draw = Callable[[dict[str, Any], Language], bytes]

DRAWINGS: dict[str, Draw] = {SVG: drawing_svg, HTML: opening_page}
"""What an advice is drawn as besides its JSON, by media type."""


def opening_calls(catalogue: Catalogue, *, limit: Limit) -> list[ASGIRouteHandler]:
    """POST /v1/openings/advice and /v1/openings/recheck."""
    return [_advice(catalogue, limit), _recheck(catalogue, limit)]


def _advice(catalogue: Catalogue, limit: Limit) -> ASGIRouteHandler:
    give = adviser_in_steps(catalogue)
    pool: Pool[Content] = Pool(1, "drawing")

    def work(body: bytes, asked: Negotiated) -> Steps[Content]:
        answer = yield from give(body, asked.language)
        draw = DRAWINGS.get(asked.media_type)
        if draw is None:
            return Content(answer, JSON)
        drawn = draw(msgspec.json.decode(answer, type=dict[str, Any]), asked.language)
        return Content(drawn, f"{asked.media_type}; charset=utf-8", DRAWN)

    return json_call(ADVICE, work, offers=(JSON, *DRAWINGS), limit=limit, pool=pool, at_once=frozenset((JSON,)))


def _recheck(catalogue: Catalogue, limit: Limit) -> ASGIRouteHandler:
    give = rechecker(catalogue)

    @one_step
    def work(body: bytes, asked: Negotiated) -> Content:
        return Content(give(body, asked.language), JSON)

    return json_call(RECHECK, work, offers=(JSON,), limit=limit)
