"""POST /v1/houses/advice: the openings of a house together, as JSON, as one of its lists, or as a calendar."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec
from litestar.handlers import ASGIRouteHandler

from jambset.engine.steps import one_step
from jambset.errors import FieldError
from jambset.http.addresses import HOUSE
from jambset.http.advise import house_adviser
from jambset.http.calls import DRAWN, Content, Limit, Negotiated, json_call, saved
from jambset.http.negotiate import CALENDAR, CSV, HTML, JSON, PDF
from jambset.http.pages import refused_query
from jambset.http.pool import Pool
from jambset.http.problems import QUERY
from jambset.render.calendar import calendar_of
from jambset.render.lists import LISTS, csv_of
from jambset.render.pages import house_page
from jambset.render.pdf import house_pdf
from jambset.rules.schema import Catalogue

LIST = "list"
"""The query parameter that chooses a list of the house."""
DEFAULT_LIST = next(iter(LISTS))
AT_ONCE = 2
"""Houses worked on at one time; each takes its share of the interpreter from the calls on one opening."""


def house_calls(catalogue: Catalogue, *, limit: Limit, pairs: int) -> list[ASGIRouteHandler]:
    """The call on a house. pairs: most pairs of floors."""
    give = house_adviser(catalogue, pairs=pairs)
    pool: Pool[Content] = Pool(AT_ONCE, "house")

    @one_step
    def work(body: bytes, asked: Negotiated) -> Content:
        _refuse_list(asked)
        return RENDITIONS[asked.media_type](give(body, asked.language), asked)

    return [json_call(HOUSE, work, offers=tuple(RENDITIONS), limit=limit, query={LIST: tuple(LISTS)}, pool=pool)]


def _refuse_list(asked: Negotiated) -> None:
    """Raises InvalidRequest where a list is chosen and the answer isn't CSV."""
    if LIST in asked.query and asked.media_type != CSV:
        detail = f"{LIST} chooses what {CSV} shows; name {CSV} in Accept, or leave this out."
        fault = FieldError(f"{QUERY}{LIST}", "other_media_type", detail)
        raise refused_query((fault,))


# --- renditions


def _json(answer: bytes, _: Negotiated) -> Content:
    return Content(answer, JSON)


def _csv(answer: bytes, asked: Negotiated) -> Content:
    name = asked.query.get(LIST, DEFAULT_LIST)
    return saved(csv_of(_decoded(answer), name), f"{CSV}; charset=utf-8; header=present", f"{name}.csv")


def _calendar(answer: bytes, _: Negotiated) -> Content:
    return saved(calendar_of(_decoded(answer)), f"{CALENDAR}; charset=utf-8", "tasks.ics")


def _html(answer: bytes, asked: Negotiated) -> Content:
    return Content(house_page(_decoded(answer), asked.language), f"{HTML}; charset=utf-8", DRAWN)


def _pdf(answer: bytes, asked: Negotiated) -> Content:
    return saved(house_pdf(_decoded(answer), asked.language), PDF, "house.pdf")


def _decoded(answer: bytes) -> dict[str, Any]:
    return msgspec.json.decode(answer, type=dict[str, Any])


RENDITIONS: dict[str, Callable[[bytes, Negotiated], Content]] = {
    JSON: _json,
    HTML: _html,
    PDF: _pdf,
    CSV: _csv,
    CALENDAR: _calendar,
}
"""What a house is answered as, by media type; the first where the caller has no preference."""
