"""The steps of one opening for scheduling software: trade, minutes, what each waits for and what holds it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from msgspec import UNSET

from jambset.engine.asks import OF_UNIT
from jambset.engine.bounds import lower_leg
from jambset.engine.checks import Result
from jambset.engine.decide import AFTER_FLOOR, BEFORE_FLOOR, BEFORE_HANGING, Cut
from jambset.engine.facts import SideFacts
from jambset.engine.labour import BENCH, OFF_HINGES, minutes_of, saw_steps
from jambset.model.advice import Conflict, Flooring, Phrase, Question, Task
from jambset.model.request import FrameState, Hinges, Labour
from jambset.model.source import Asked
from jambset.rules.schema import Catalogue

DELIVERED, FRAMED = "external:unit-delivered", "external:opening-framed"
LAID = "external:floor-laid."
TRIM, TRIM_NOW, SET, UNDERCUT, PIECE, CHECK = (
    "trim-leaf",
    "trim-leaf-first",
    "set-frame",
    "undercut-jambs",
    "fit-piece",
    "check-clearances",
)


class Course(NamedTuple):
    """All that decides which steps there are: the same for every door of a house that is set and cut alike."""

    when: str
    where: str
    now: bool
    """Whether a part of the trim is cut on the bench although the rest waits for the floors."""
    is_set: bool
    leaves: int
    hinges: Hinges
    people: int
    blocks: bool
    cuts_legs: bool
    undercuts: int
    piece: bool
    laid: tuple[str, ...]
    """Events that the floors lie; none of a bare slab, on which nothing is laid."""


class Step(NamedTuple):
    """One step: its name, who does it, the phase it is held by, its minutes, and what it waits for."""

    name: str
    title: Phrase
    trade: Asked
    phase: str
    minutes: int
    events: tuple[str, ...]
    after: tuple[str, ...]


def tasks(
    result: Result,
    cut: Cut,
    flooring: Flooring,
    asked: tuple[Question, ...],
    conflicts: tuple[Conflict, ...],
    people: int,
    catalogue: Catalogue,
) -> tuple[Task, ...]:
    """Steps in working order; keys are the mark and the step, so they stay the same from one call to the next.

    A conflict holds whatever is set or cut until it is decided.
    """
    mark = result.at.facts.opening.mark
    rules = tuple([conflict.rules[0] for conflict in conflicts])
    course = _course(result, cut, flooring, people)
    planned = steps(course, result.at.facts.opening.labour, catalogue)
    early = {TRIM_NOW, TRIM} if result.decision.cut_now and cut.when == BEFORE_HANGING else {TRIM_NOW}
    return tuple([_task(step, mark, asked, rules, early=step.name in early) for step in planned])


def _task(step: Step, mark: str, asked: tuple[Question, ...], rules: tuple[str, ...], *, early: bool) -> Task:
    """early: what every floor that may come asks for, which doesn't wait for the answer which it is."""
    waits = [q for q in asked if step.phase in q.holds and not (early and q.code == "floor_may_change")]
    held = tuple(dict.fromkeys([question.code for question in waits]))
    broken = rules if step.phase in OF_UNIT else ()
    return Task(
        key=f"{mark}.{step.name}",
        title=step.title,
        trade=step.trade,
        phase=step.phase,
        minutes=step.minutes,
        waits_for=(*step.events, *[f"{mark}.{name}" for name in step.after]),
        hold=bool(held or broken),
        questions=held,
        conflicts=broken,
    )


def _course(result: Result, cut: Cut, flooring: Flooring, people: int) -> Course:
    facts, foot = result.at.facts, result.decision.foot
    return Course(
        when=cut.when,
        where=cut.where,
        is_set=facts.opening.frame.state is FrameState.SET,
        now=cut.when == AFTER_FLOOR and result.decision.cut_now > 0,
        leaves=facts.opening.leaf.count,
        hinges=facts.opening.leaf.hinges,
        people=people,
        blocks=foot > lower_leg(facts),
        cuts_legs=foot < 0,
        undercuts=sum([side.jamb_undercut is not UNSET for side in (flooring.pull_side, flooring.push_side)]),
        piece=result.at.joint is None or not result.at.joint.runs_through,
        laid=tuple([LAID + side.name for side in facts.sides if not _is_bare(side)]),
    )


def _is_bare(side: SideFacts) -> bool:
    """Whether nothing will be laid on a side, for certain."""
    return side.floor is not None and side.floor.greatest == 0 and side.certain


@lru_cache(maxsize=512)
def steps(course: Course, labour: Labour, catalogue: Catalogue) -> tuple[Step, ...]:
    """The steps of a course with their minutes from the labour table, the caller's own in their place."""
    before, rows = tuple(_before_floor(course)), minutes_of(labour, catalogue)
    return tuple(
        _priced(step, rows) for step in (*before, *_from_floor(course, tuple([plan.name for plan in before[-1:]])))
    )


class _Plan(NamedTuple):
    """A step before it is priced; work: rows of the labour table."""

    name: str
    trade: Asked
    phase: str
    work: tuple[str, ...]
    events: tuple[str, ...] = ()
    after: tuple[str, ...] = ()


def _priced(plan: _Plan, rows: dict[str, int]) -> Step:
    minutes = sum(rows[row] for row in plan.work)
    return Step(plan.name, Phrase(f"task.{plan.name}"), plan.trade, plan.phase, minutes, plan.events, plan.after)


def _before_floor(course: Course) -> Iterator[_Plan]:
    bench = course.when == BEFORE_HANGING
    if bench:
        yield _trim(course, BENCH, (DELIVERED,))
    elif course.now:
        yield _trim(course, BENCH, (DELIVERED,), name=TRIM_NOW)
    if not course.is_set:
        legs = ("trim_legs",) if course.cuts_legs else ("block_legs",) if course.blocks else ()
        first = (TRIM,) if bench else (TRIM_NOW,) if course.now else ()
        events, after = ((FRAMED,), first) if first else ((DELIVERED, FRAMED), ())
        yield _Plan(SET, Asked.FINISH_CARPENTER, "setting", ("set_unit", *legs), events, after)
    if course.when == BEFORE_FLOOR:
        yield _trim(course, course.where, ())


def _trim(course: Course, where: str, events: tuple[str, ...], *, name: str = TRIM) -> _Plan:
    work = saw_steps(where, course.hinges, course.people) * course.leaves
    return _Plan(name, Asked.FINISH_CARPENTER, "leaf", work, events)


def _from_floor(course: Course, last: tuple[str, ...]) -> Iterator[_Plan]:
    """last: the last step before the floors; where none will be laid, what comes then waits for it."""
    if course.undercuts:
        work = ("jamb_undercut_side",) * course.undercuts
        yield _Plan(UNDERCUT, Asked.FLOORING_INSTALLER, "flooring", work, after=last)
    after: tuple[str, ...] = ()
    if course.piece:
        yield _Plan(PIECE, Asked.FLOORING_INSTALLER, "transition", ("fit_piece",), course.laid)
        after = (PIECE,)
    if course.when == AFTER_FLOOR:
        yield _trim(course, course.where or OFF_HINGES, course.laid)
        after = (*after, TRIM)
    events, after = (() if after else course.laid, after if after or course.laid else last)
    yield _Plan(CHECK, Asked.FINISH_CARPENTER, "handover", ("measure_floor",), events, after)
