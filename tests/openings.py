"""Openings in tests: written briefly, advised as the service answers them, or judged as somebody set them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import msgspec
from msgspec.structs import replace

from jambset.engine import report
from jambset.engine.assess import assess, prepare, settle_opening
from jambset.engine.checks import Result, check_all
from jambset.engine.facts import grid_of
from jambset.http.decode import Reader, opening_reader
from jambset.model.advice import Advice, Bevel, Check, ClearanceAdvice, Flooring, Framing, Setting, Spread
from jambset.model.request import Opening
from jambset.quantity.parse import read_quantity
from jambset.quantity.ticks import Length
from jambset.render.encode import writer
from jambset.rules.load import load_catalogue
from jambset.rules.schema import Catalogue

Wire = dict[str, Any]
"""A decoded JSON object."""

PLAIN: Wire = {
    "mark": "D01",
    "jurisdiction": "US",
    "leaf": {"width": "30 in", "height": "80 in", "thickness": "1 3/8 in", "core": "hollow"},
    "frame": {"undercut": "3/4 in", "head_gap": "1/8 in", "head_thickness": "11/16 in"},
    "rough_opening": {"height": "84 in"},
    "subfloor": {"kind": "level"},
}
"""A US interior door over a level subfloor, under a header that is no limit; its floors are to be added."""


@cache
def catalogue() -> Catalogue:
    return load_catalogue()


@cache
def _reader() -> Reader[Opening]:
    return opening_reader(catalogue())


def ticks(text: str) -> int:
    """A length in the notation of a request, in ticks."""
    return int(read_quantity(Length, text))


def told(value: Any) -> int:
    """A length of an advice that must have been answered, in ticks."""
    assert isinstance(value, int), "the advice leaves it out"
    return int(value)


def layer(text: str, **more: str) -> Wire:
    """One layer, "material thickness": exactly so thick, whatever is usual for the material, if more doesn't say."""
    material, _, thickness = text.partition(" ")
    exact = {"thickness": thickness, "least": thickness, "greatest": thickness} if thickness else {}
    return {"material": material, **exact, **more}


def floor(*layers: str | Wire) -> Wire:
    """A side with its build-up from the subfloor up."""
    return {"build_up": [layer(one) if isinstance(one, str) else one for one in layers]}


def door(base: Mapping[str, Any] = PLAIN, **changes: Any) -> Wire:
    """The base with members replaced; members of an object are replaced one by one, and None takes one away."""
    return _merged(base, changes)


def _merged(base: Mapping[str, Any], changes: Mapping[str, Any]) -> Wire:
    merged = dict(base)
    for name, new in changes.items():
        old = merged.get(name)
        both = isinstance(old, Mapping) and isinstance(new, Mapping) and "kind" not in new
        merged[name] = _merged(old, new) if both and old is not None else new
    return {name: value for name, value in merged.items() if value is not None}


def read(request: Wire) -> Opening:
    """The opening that a request stands for, as the service reads it."""
    return _reader().read(msgspec.json.encode(request))


def assessed(request: Wire) -> Advice:
    """The advice with its numbers in ticks and SI units."""
    return assess(read(request), catalogue())


def answer(request: Wire) -> bytes:
    """The advice as the service writes it."""
    opening = read(request)
    return writer(grid_of(opening, catalogue())).encode(assess(opening, catalogue()))


def advised(request: Wire) -> Any:
    """The advice as a caller reads it."""
    return msgspec.json.decode(answer(request))


class Judged(NamedTuple):
    """What the engine says of a door that was set and cut by somebody else."""

    checks: tuple[Check, ...]
    clearance: ClearanceAdvice
    setting: Setting
    framing: Framing
    flooring: Flooring

    def check(self, rule: str, side: str = "") -> Check:
        """The one check of a rule, on one side where it has two."""
        (found,) = (c for c in self.checks if c.rule == rule and side in ("", c.side))
        return found

    def status(self, rule: str, side: str = "") -> str:
        return self.check(rule, side).status

    @property
    def failed(self) -> set[str]:
        """Rules that fail and are never relaxed."""
        return {c.rule for c in self.checks if c.status == "fail"}

    def gap(self, where: str) -> int:
        """Nominal clearance over pull_side, push_side or piece [ticks]."""
        spread = getattr(self.clearance, where)
        assert isinstance(spread, Spread)
        return int(spread.nominal)


def judged(
    request: Wire, *, foot: str = "0 in", trim: str = "0 in", edge: tuple[str, Bevel | None] | None = None
) -> Judged:
    """Checks and sections for a given foot and trim, and for a given easing: its vertical part and its bevel."""
    opening = read(request)
    prepared = prepare(opening, catalogue())
    found, facts = settle_opening(prepared, catalogue()), prepared.facts
    height, cut = ticks(foot), ticks(trim)
    assert facts.undercut is not None
    as_set = replace(found.decision, foot=height, foot_wanted=height, trim=cut, bottom=height + facts.undercut + cut)
    at = found.at
    if edge is not None:
        assert at.joint is not None
        at = replace(at, joint=replace(at.joint, vertical=ticks(edge[0]), bevel=edge[1]))
    result = Result(at, as_set)
    framing = report.framing(result)
    assert isinstance(framing, Framing)
    return Judged(check_all(result), report.clearance(result), report.setting(result), framing, report.flooring(result))
