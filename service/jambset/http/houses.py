"""The calls on a house: its openings advised on together, or rechecked, as JSON, a sheet, a list, or a calendar."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import msgspec
from litestar.handlers import ASGIRouteHandler

from jambset.engine.steps import Steps, one_step
from jambset.errors import FieldError
from jambset.http.addresses import HOUSE, HOUSE_RECHECK
from jambset.http.advise import GiveInSteps, house_adviser, house_rechecker_in_steps
from jambset.http.calls import DRAWN, Content, Limit, Negotiated, json_call, saved
from jambset.http.negotiate import CALENDAR, CSV, HTML, JSON, PDF
from jambset.http.pages import refused_query
from jambset.http.pool import Pool
from jambset.http.problems import QUERY
from jambset.render.calendar import calendar_of
from jambset.render.lists import LISTS, Listing, table_of
from jambset.render.lists_recheck import RECHECK_LISTS
from jambset.render.pages import house_page, house_recheck_page
from jambset.render.pdf import house_pdf, house_recheck_pdf
from jambset.rules.schema import Catalogue

LIST = "list"
"""The query parameter that chooses a list of the house."""
DEFAULT_LIST = next(iter(LISTS))
"""Of either call."""
AT_ONCE = 2
"""Houses worked on at one time; each takes its share of the interpreter from the calls on one opening."""

Renditions = Mapping[str, Callable[[bytes, Negotiated], Content]]


def house_calls(catalogue: Catalogue, *, limit: Limit, pairs: int) -> list[ASGIRouteHandler]:
    """POST /v1/houses/advice and /v1/houses/recheck, worked on by the same threads. pairs: most pairs of floors."""
    advise, judge = one_step(house_adviser(catalogue, pairs=pairs)), house_rechecker_in_steps(catalogue)
    pool: Pool[Content] = Pool(AT_ONCE, "house")
    return [
        _call(HOUSE, advise, RENDITIONS, tuple(LISTS), limit, pool),
        _call(HOUSE_RECHECK, judge, RECHECK_RENDITIONS, tuple(RECHECK_LISTS), limit, pool),
    ]


def _call(
    path: str, give: GiveInSteps, forms: Renditions, lists: tuple[str, ...], limit: Limit, pool: Pool[Content]
) -> ASGIRouteHandler:
    """A call on a house. forms: what it is answered as. lists: names of its lists."""

    def work(body: bytes, asked: Negotiated) -> Steps[Content]:
        _refuse_list(asked)
        answer = yield from give(body, asked.language)
        return forms[asked.media_type](answer, asked)

    return json_call(path, work, offers=tuple(forms), limit=limit, query={LIST: lists}, pool=pool)


def _refuse_list(asked: Negotiated) -> None:
    """Raises InvalidRequest where a list is chosen and the answer isn't CSV."""
    if LIST in asked.query and asked.media_type != CSV:
        detail = f"{LIST} chooses what {CSV} shows; name {CSV} in Accept, or leave this out."
        fault = FieldError(f"{QUERY}{LIST}", "other_media_type", detail)
        raise refused_query((fault,))


# --- renditions


def _json(answer: bytes, _: Negotiated) -> Content:
    return Content(answer, JSON)


def _csv(lists: Mapping[str, Listing]) -> Callable[[bytes, Negotiated], Content]:
    def one(answer: bytes, asked: Negotiated) -> Content:
        name = asked.query.get(LIST, DEFAULT_LIST)
        return saved(table_of(_decoded(answer), lists[name]), f"{CSV}; charset=utf-8; header=present", f"{name}.csv")

    return one


def _calendar(answer: bytes, _: Negotiated) -> Content:
    return saved(calendar_of(_decoded(answer)), f"{CALENDAR}; charset=utf-8", "tasks.ics")


def _html(answer: bytes, asked: Negotiated) -> Content:
    return Content(house_page(_decoded(answer), asked.language), f"{HTML}; charset=utf-8", DRAWN)


def _pdf(answer: bytes, asked: Negotiated) -> Content:
    return saved(house_pdf(_decoded(answer), asked.language), PDF, "house.pdf")


def _recheck_html(answer: bytes, asked: Negotiated) -> Content:
    return Content(house_recheck_page(_decoded(answer), asked.language), f"{HTML}; charset=utf-8", DRAWN)


def _recheck_pdf(answer: bytes, asked: Negotiated) -> Content:
    return saved(house_recheck_pdf(_decoded(answer), asked.language), PDF, "house.pdf")


def _decoded(answer: bytes) -> dict[str, Any]:
    return msgspec.json.decode(answer, type=dict[str, Any])


RENDITIONS: Renditions = {
    JSON: _json,
    HTML: _html,
    PDF: _pdf,
    CSV: _csv(LISTS),
    CALENDAR: _calendar,
}
"""What a house is answered as, by media type; the first where the caller has no preference."""
RECHECK_RENDITIONS: Renditions = {
    JSON: _json,
    HTML: _recheck_html,
    PDF: _recheck_pdf,
    CSV: _csv(RECHECK_LISTS),
    CALENDAR: _calendar,
}
"""The same of one whose doors are set."""
