"""The openings of a house, each priced on its own or refused, and what can be wrong with its lines."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine.assess import Prepared, prepare
from jambset.engine.scenarios import Choice, Table
from jambset.errors import FieldError, InvalidRequest, code_of, nearest, refusal, shown
from jambset.model.house import FieldFault, RefusedOpening
from jambset.model.request import House, Opening
from jambset.rules.schema import Catalogue

Asked = TypeVar("Asked", bound=Opening)
Worked = TypeVar("Worked")


class Door(Struct, frozen=True, eq=False):
    """An opening of the house that can be advised on. alone: what it would be given by itself, None without prices."""

    mark: str
    prepared: Prepared
    alone: Choice | None

    @property
    def table(self) -> Table:
        """Its prices."""
        assert self.prepared.table is not None, "asked only of a door that is priced"
        return self.prepared.table

    @property
    def above(self) -> int:
        """Height of its head above the datum of the house, less its setting [ticks]."""
        facts = self.prepared.facts
        datum = facts.opening.datum
        return (0 if datum is UNSET else datum) + self.table.plan.pricing.rise + facts.leaf_and_gap

    def blocks(self, setting: int) -> tuple[int, ...]:
        """Heights of the blocks under its two legs at a setting [ticks]; none under a frame that is fixed."""
        facts, pricing = self.prepared.facts, self.table.plan.pricing
        if facts.as_set is not None:
            return ()
        foot = pricing.foot if pricing.ordered else setting
        return tuple([foot - leg for leg in (facts.ground.hinge_leg, facts.ground.strike_leg) if foot > leg])


class Unread(Struct, frozen=True):
    """An opening of a request that can't be read, and what its caller calls it, where that can."""

    fault: InvalidRequest
    mark: str | UnsetType = UNSET
    external_id: str | UnsetType = UNSET


class Refused(Struct, frozen=True):
    """An opening that can't be advised on."""

    mark: str | UnsetType
    external_id: str | UnsetType
    problem: RefusedOpening


def doors_of(openings: Sequence[Opening | Unread], catalogue: Catalogue) -> list[Door | Refused]:
    """Each opening priced on its own, or refused, as are all but the first with the same mark."""
    tables: dict[object, Table] = {}
    return list(each_of(openings, lambda opening: _door(opening, tables, catalogue)))


def each_of(openings: Sequence[Asked | Unread], work: Callable[[Asked], Worked]) -> Iterator[Worked | Refused]:
    """What comes of each opening of a house, or why it is refused, as are all but the first with the same mark."""
    first: dict[str, int] = {}
    for place, opening in enumerate(openings):
        if isinstance(opening, Unread):
            yield _bad(opening.fault, place, opening)
        elif first.setdefault(opening.mark, place) != place:
            detail = "Another opening has this mark already; each mark stands once in a house."
            yield _bad(refusal([FieldError("#/mark", "repeated", detail)]), place, opening)
        else:
            try:
                yield work(opening)
            except InvalidRequest as fault:
                yield _bad(fault, place, opening)


def _door(opening: Opening, tables: dict[object, Table], catalogue: Catalogue) -> Door:
    prepared = prepare(opening, catalogue, price=True)
    if prepared.table is None:
        return Door(opening.mark, prepared, None)
    plan = prepared.table.plan  # priced once for all doors that are priced alike
    alike = tables.setdefault((plan.pairs, plan.pricing, plan.candidates, plan.highest, plan.may_cut), prepared.table)
    table = Table(plan, alike)
    return Door(opening.mark, replace(prepared, table=table), table.best())


def _bad(fault: InvalidRequest, place: int, opening: Opening | Unread) -> Refused:
    errors = tuple(
        [FieldFault(pointer=f"#/openings/{place}{e.pointer[1:]}", code=e.code, detail=e.detail) for e in fault.errors]
    )
    problem = RefusedOpening(code=code_of(fault.slug), title=fault.title, detail=str(fault), errors=errors)
    return Refused(opening.mark, opening.external_id, problem)


def refuse_lines(house: House, openings: Sequence[Opening | Unread]) -> None:
    """Refuse lines that name an opening that isn't there, or one opening twice. Raises InvalidRequest."""
    known = {one.mark for one in openings if one.mark is not UNSET}
    unreadable = any(one.mark is UNSET for one in openings)
    if found := list(line_faults(house, known, unreadable=unreadable)):
        raise refusal(found)


def line_faults(house: House, known: set[str], *, unreadable: bool) -> Iterator[FieldError]:
    """What is wrong with the lines of a house. known: marks of its openings.

    unreadable: an opening was refused whose mark may be the one that is named.
    """
    seen: set[str] = set()
    names: set[str] = set()
    for at, line in enumerate(house.head_lines):
        if line.name in names:
            detail = "Another line has this name; give each line a name of its own."
            yield FieldError(f"#/head_lines/{at}/name", "repeated", detail)
        names.add(line.name)
        for place, mark in enumerate(line.marks):
            pointer = f"#/head_lines/{at}/marks/{place}"
            if mark not in known and not unreadable:
                detail = f'No opening of this house has the mark "{shown(mark)}".{nearest(mark, known)}'
                yield FieldError(pointer, "unknown_mark", detail)
            if mark in seen:
                detail = "This opening stands on a line already; its head has one height, so name it in one line only."
                yield FieldError(pointer, "repeated", detail)
            seen.add(mark)
