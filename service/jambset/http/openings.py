"""The calls on one opening: its advice, and the judgement of it as set, as JSON, a drawing or a sheet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec
from litestar.handlers import ASGIRouteHandler

from jambset.engine.steps import Steps, one_step
from jambset.http.addresses import ADVICE, RECHECK
from jambset.http.advise import adviser_in_steps, rechecker
from jambset.http.calls import DRAWN, Content, Limit, Negotiated, json_call, saved
from jambset.http.negotiate import HTML, JSON, PDF, SVG
from jambset.http.pool import Pool
from jambset.render.drawing import drawing_svg, recheck_svg
from jambset.render.language import Language
from jambset.render.pages import opening_page, recheck_page
from jambset.render.pdf import opening_pdf, recheck_pdf
from jambset.rules.schema import Catalogue

Draw = Callable[[dict[str, Any], Language], bytes]

DRAWINGS: dict[str, Draw] = {SVG: drawing_svg, HTML: opening_page, PDF: opening_pdf}
"""What an advice is drawn as besides its JSON, by media type."""
RECHECKS: dict[str, Draw] = {SVG: recheck_svg, HTML: recheck_page, PDF: recheck_pdf}
"""The same of a recheck."""


def opening_calls(catalogue: Catalogue, *, limit: Limit) -> list[ASGIRouteHandler]:
    """POST /v1/openings/advice and /v1/openings/recheck; what they draw is drawn in one thread."""
    pool: Pool[Content] = Pool(1, "drawing")
    return [_advice(catalogue, limit, pool), _recheck(catalogue, limit, pool)]


def _advice(catalogue: Catalogue, limit: Limit, pool: Pool[Content]) -> ASGIRouteHandler:
    give = adviser_in_steps(catalogue)

    def work(body: bytes, asked: Negotiated) -> Steps[Content]:
        answer = yield from give(body, asked.language)
        return _content(answer, asked, DRAWINGS, "opening.pdf")

    return json_call(ADVICE, work, offers=(JSON, *DRAWINGS), limit=limit, pool=pool, at_once=frozenset((JSON,)))


def _recheck(catalogue: Catalogue, limit: Limit, pool: Pool[Content]) -> ASGIRouteHandler:
    give = rechecker(catalogue)

    @one_step
    def work(body: bytes, asked: Negotiated) -> Content:
        return _content(give(body, asked.language), asked, RECHECKS, "recheck.pdf")

    return json_call(RECHECK, work, offers=(JSON, *RECHECKS), limit=limit, pool=pool, at_once=frozenset((JSON,)))


def _content(answer: bytes, asked: Negotiated, forms: Mapping[str, Draw], file: str) -> Content:
    """The answer as it is, or as the form that was agreed on. file: name under which a PDF is saved."""
    draw = forms.get(asked.media_type)
    if draw is None:
        return Content(answer, JSON)
    drawn = draw(msgspec.json.decode(answer, type=dict[str, Any]), asked.language)
    if asked.media_type == PDF:
        return saved(drawn, PDF, file)
    return Content(drawn, f"{asked.media_type}; charset=utf-8", DRAWN)
