"""A house whose doors are set, with its floors as they are now: each door rechecked, and the work merged.

Nothing ties the doors to each other but their head lines and the floors of their rooms. Each is answered as it is
alone. Where all units of a line are set again, the lists set them at one height if they can stand there. What a first
remedy else does to a line is told, and its work waits for whoever lets the head leave it; where one raises a floor, the
other doors of that room are named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from msgspec import UNSET

from jambset.engine import fixes, lists
from jambset.engine.asks import CONFLICT, HOLD
from jambset.engine.assess import advice_id
from jambset.engine.doors import Refused, Unread, each_of, refuse_lines
from jambset.engine.facts import grid_of
from jambset.engine.house import NO_GRID, house_digest, refused_told
from jambset.engine.lines_as_set import HEAD_LINE_LEFT, Doors, Together, line_of, line_questions, setting_together
from jambset.engine.recheck import FINE, LIVE_WITH, WORK, Rechecked, rechecked
from jambset.engine.remedies import text_of
from jambset.engine.steps import Steps
from jambset.engine.words import joined
from jambset.model.advice import Phrase
from jambset.model.house import HouseQuestion, HouseTask
from jambset.model.house_recheck import (
    HeadLineAsSet,
    HouseDoNothing,
    HouseRecheckAdvice,
    LeafCut,
    OpenDoor,
    RecheckResult,
    RecheckTotals,
    VerdictCount,
)
from jambset.model.request import HouseRecheck, Recheck
from jambset.rules.schema import Catalogue

VERDICTS = (FINE, LIVE_WITH, WORK, HOLD, CONFLICT)
"""Of an opening, in the order in which a house counts them."""


def rechecking_house(
    house: HouseRecheck, openings: Sequence[Recheck | Unread], catalogue: Catalogue
) -> Steps[HouseRecheckAdvice]:
    """The whole answer for a house, a step for each opening.

    openings: those of the request in its order, each read or refused. Raises InvalidRequest for what is wrong with the
    house itself; an opening that makes no sense is reported in its place.
    """
    refuse_lines(house, openings)
    read: list[Rechecked | Refused] = []
    for one in each_of(openings, lambda opening: rechecked(opening, catalogue)):
        read.append(one)
        yield
    alone = {one.advice.mark: one for one in read if isinstance(one, Rechecked)}
    ways: dict[str, Together] = {}
    for line in house.head_lines:
        ways[line.name] = yield from setting_together(line, alone, catalogue)
    return _answer(house, read, alone, ways, catalogue)


def _answer(
    house: HouseRecheck,
    read: Sequence[Rechecked | Refused],
    alone: Doors,
    ways: Mapping[str, Together],
    catalogue: Catalogue,
) -> HouseRecheckAdvice:
    """alone: doors by mark as each is answered by itself. ways: what sets the heads of a line at one height."""
    known = dict(alone)  # with what is planned of each in this house
    for way in ways.values():
        known.update(way.doors if way.planned else {})
    marks = sorted(known, key=lists.natural)
    doors, own = [known[mark] for mark in marks], [alone[mark] for mark in marks]
    lines = tuple([line_of(line, alone, ways[line.name]) for line in house.head_lines])
    planned = fixes.tasks(doors, {off.mark: HEAD_LINE_LEFT for line in lines for off in line.off if off.hold})
    by_key = {task.key: task for task in planned}
    cuts = fixes.cuts(doors, by_key)
    verdicts = tuple([_verdict(name, own) for name in VERDICTS])
    totals = _totals(read, doors, planned, cuts)
    open_doors = tuple(_open(own))
    raised = tuple(fixes.raised(doors))
    digest = house_digest(house, map(_told, read), [line.name for line in house.head_lines if line.keep])
    return HouseRecheckAdvice(
        advice_id=advice_id(digest, catalogue, "recheck"),
        house=house.house,
        summary=_summary(verdicts, totals, open_doors, lines),
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        input_digest=digest,
        grid=grid_of(doors[0].found.facts.opening, catalogue).name if doors else NO_GRID,
        verdicts=verdicts,
        openings=tuple([_result(one, known) for one in read]),
        open_doors=open_doors,
        head_lines=lines,
        fix_list=fixes.fixes(doors, by_key),
        trim_list=cuts,
        order_list=fixes.units(doors, by_key),
        leaf_list=fixes.leaves(doors, by_key),
        undercut_list=tuple(fixes.undercuts(doors, raised)),
        piece_list=fixes.pieces(doors),
        questions=tuple(_questions(doors, lines, planned, catalogue)),
        tasks=planned,
        cautions=fixes.cautions(doors, raised),
        do_nothing=_left_so(own),
        totals=totals,
        sources=fixes.sources([door.advice for door in (*own, *doors)]),
        notice=Phrase("house.notice"),
    )


def _told(one: Rechecked | Refused) -> str:
    return refused_told(one) if isinstance(one, Refused) else one.advice.input_digest


def _result(one: Rechecked | Refused, known: Doors) -> RecheckResult:
    if isinstance(one, Refused):
        return RecheckResult(mark=one.mark, external_id=one.external_id, problem=one.problem)
    planned = known[one.advice.mark].planned
    other = Phrase("house.planned", work=text_of(planned, one.found)) if planned != one.planned else UNSET
    return RecheckResult(mark=one.advice.mark, advice=one.advice, planned=other)


def _verdict(name: str, doors: Sequence[Rechecked]) -> VerdictCount:
    marks = tuple([door.advice.mark for door in doors if door.advice.verdict == name])
    return VerdictCount(verdict=name, count=len(marks), marks=marks)


def _open(doors: Sequence[Rechecked]) -> Iterator[OpenDoor]:
    """Openings that aren't right and of which nothing is planned."""
    for door in doors:
        advice = door.advice
        if advice.verdict not in (FINE, LIVE_WITH) and not door.planned:
            yield OpenDoor(mark=advice.mark, verdict=advice.verdict, text=advice.summary)


def _questions(
    doors: Sequence[Rechecked], lines: tuple[HeadLineAsSet, ...], tasks: tuple[HouseTask, ...], catalogue: Catalogue
) -> Iterator[HouseQuestion]:
    rooms = lists.room_questions([door.found.facts for door in doors], catalogue)
    return lists.questions([fixes.asking(door.advice) for door in doors], (*line_questions(lines, tasks), *rooms))


def _left_so(doors: Sequence[Rechecked]) -> HouseDoNothing:
    """Which doors may not be left as they are, at which something else is to be seen to, and which are fine."""
    told: dict[str, list[str]] = {"unlawful": [], "rest": [], LIVE_WITH: [], FINE: []}
    for advice in [door.advice for door in doors]:
        name = advice.verdict if advice.verdict in (LIVE_WITH, FINE) else "rest"
        told[name if advice.do_nothing.lawful else "unlawful"].append(advice.mark)
    parts = [Phrase(f"left.{name}", marks=", ".join(marks)) for name, marks in told.items() if marks]
    return HouseDoNothing(
        lawful=not told["unlawful"],
        unlawful=tuple(told["unlawful"]),
        text=joined(parts) if parts else Phrase("left.none"),
    )


def _totals(
    read: Sequence[Rechecked | Refused],
    doors: Sequence[Rechecked],
    tasks: tuple[HouseTask, ...],
    cuts: tuple[LeafCut, ...],
) -> RecheckTotals:
    by_trade = tuple(lists.by_trade([door.advice for door in doors]))
    return RecheckTotals(
        openings=len(read),
        rechecked=len(doors),
        refused=len(read) - len(doors),
        mended=len({task.mark for task in tasks}),
        held=len({task.mark for task in tasks if task.hold}),
        cuts=len(cuts),
        minutes=sum([trade.minutes for trade in by_trade]),
        by_trade=by_trade,
    )


def _summary(
    verdicts: tuple[VerdictCount, ...],
    totals: RecheckTotals,
    open_doors: tuple[OpenDoor, ...],
    lines: tuple[HeadLineAsSet, ...],
) -> Phrase:
    left = [line for line in lines if line.off]
    return Phrase(
        "house.rechecked" if totals.mended else "house.rechecked.nothing",
        openings=Phrase("part.opening" if totals.openings == 1 else "part.openings", count=str(totals.openings)),
        refused=str(totals.refused),
        mended=str(totals.mended),
        minutes=str(totals.minutes),
        held=str(totals.held),
        open=Phrase("house.rechecked.open", count=str(len(open_doors))) if open_doors else "",
        lines=Phrase("house.rechecked.lines", left=str(len(left)), lines=str(len(lines))) if left else "",
        **{one.verdict: str(one.count) for one in verdicts},
    )
