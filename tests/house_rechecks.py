"""Houses whose doors are set, in tests: made of rechecks, answered by the engine or as the service answers."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

from tests.houses import house
from tests.openings import Wire, catalogue
from tests.rechecks import read

from jambset.engine.house_recheck import rechecking_house
from jambset.engine.steps import whole
from jambset.http.advise import Give, house_rechecker
from jambset.model.house_recheck import HouseRecheckAdvice
from jambset.model.request import HouseRecheck, LineAsSet
from jambset.render.language import ENGLISH, Language


def house_of(requests: Mapping[str, Wire], *, keep: bool = False, **lines: Sequence[str]) -> HouseRecheckAdvice:
    """A house with its numbers in ticks.

    requests: rechecks by the marks that they get. lines: marks of head lines. keep: whether those are to be kept.
    """
    openings = [read({**request, "mark": mark}) for mark, request in requests.items()]
    head_lines = tuple(LineAsSet(name=name, marks=tuple(marks), keep=keep) for name, marks in lines.items())
    asked = HouseRecheck(house="Lot 4", openings=tuple(openings), head_lines=head_lines)
    return whole(rechecking_house(asked, openings, catalogue()))


@cache
def _give() -> Give:
    return house_rechecker(catalogue())


def told_of(body: Wire, language: Language = ENGLISH) -> Any:
    """The answer to a body as a caller reads it."""
    return json.loads(_give()(json.dumps(body).encode(), language))


def body_of(requests: Mapping[str, Wire], **lines: Sequence[str]) -> Wire:
    """A body that sends rechecks whole, by the marks that they get."""
    return {
        "house": "Lot 4",
        "openings": [{**request, "mark": mark} for mark, request in requests.items()],
        "head_lines": [{"name": name, "marks": list(marks)} for name, marks in lines.items()],
    }


def keeping(body: Wire) -> Wire:
    """A body whose head lines are to be kept."""
    return {**body, "head_lines": [{**line, "keep": True} for line in body["head_lines"]]}


def paper(count: int, *, seed: int = 7) -> Wire:
    """A house of paper of so many doors, all set on the subfloor."""
    body = house(count, seed=seed)
    body["defaults"]["as_set"] = {"foot": "0 in", "leaf_bottom": "1 1/4 in"}
    del body["defaults"]["frame"]["undercut"]
    for opening in body["openings"]:
        opening["subfloor"] = {"kind": "level"}
        del opening["frame"]["undercut"]
    return body
