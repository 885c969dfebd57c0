"""The steps of one opening for scheduling software: trade, minutes, what each waits for and what holds it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from msgspec import UNSET, Struct

from jambset.engine.asks import FLOOR_MAY_CHANGE
from jambset.engine.bounds import lower_leg
from jambset.engine.checks import Result
from jambset.engine.decide import AFTER_FLOOR, BEFORE_FLOOR, BEFORE_HANGING, Cut
from jambset.engine.facts import PULL, PUSH, SideFacts
from jambset.engine.labour import BENCH, OFF_HINGES, minutes_of, saw_steps
from jambset.model.advice import Conflict, Flooring, Phrase, Question, Task
from jambset.model.request import FrameState, Hinges, Labour
from jambset.model.source import Asked
from jambset.rules.schema import Catalogue, FinishKind, Phase

EXTERNAL = "external:"
DELIVERED, FRAMED, LAID = f"{EXTERNAL}unit-delivered", f"{EXTERNAL}opening-framed", f"{EXTERNAL}floor-laid."
TRIM, TRIM_NOW, SET, UNDERCUT, PIECE, CHECK = (
    "trim-leaf",
    "trim-leaf-first",
    "set-frame",
    "undercut-jambs",
    "fit-piece",
    "check-clearances",
)
HANDOVER = "handover"
"""The phase after those that a question may hold."""


class Course(Struct, frozen=True, gc=False):
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
    undercuts: tuple[str, ...]
    """Events that wait for jambs to be undercut."""
    piece: bool
    laid: tuple[str, ...]
    """Events that the floors lie; none of a bare slab, on which nothing is laid."""
    after_piece: tuple[str, ...]
    """Of these the carpet's, where the piece between it and a hard floor goes down first."""


class Step(NamedTuple):
    """One step: its name, who does it, the phase it is held by, its minutes, what it waits for and what for it."""

    name: str
    title: Phrase
    trade: Asked
    phase: str
    minutes: int
    events: tuple[str, ...]
    after: tuple[str, ...]
    before: tuple[str, ...]


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

    A conflict holds whatever of it is set or cut until it is decided.
    """
    mark = result.at.facts.opening.mark
    course = _course(result, cut, flooring, people)
    planned = steps(course, result.at.facts.opening.labour, catalogue)
    early = (TRIM_NOW, TRIM) if result.decision.cut_now and cut.when == BEFORE_HANGING else (TRIM_NOW,)
    held = _by_phase(asked)
    return tuple([_task(step, mark, held, conflicts, early=step.name in early) for step in planned])


def key_of(mark: str, step: str) -> str:
    """Key of a step at an opening."""
    return f"{mark}.{step}"


def _by_phase(asked: tuple[Question, ...]) -> dict[str, tuple[str, ...]]:
    """Codes of the questions that hold each phase, each once."""
    found: dict[str, dict[str, None]] = {}
    for question in asked:
        for phase in question.holds:
            found.setdefault(phase, {})[question.code] = None
    return {phase: tuple(codes) for phase, codes in found.items()}


def _task(
    step: Step, mark: str, held: dict[str, tuple[str, ...]], conflicts: tuple[Conflict, ...], *, early: bool
) -> Task:
    """held: the questions by phase. early: what every floor that may come asks for, which waits for no answer on it."""
    codes = held.get(step.phase, ())
    if early:
        codes = tuple([code for code in codes if code != FLOOR_MAY_CHANGE])
    broken = tuple([conflict.rules[0] for conflict in conflicts if step.phase in conflict.holds]) if conflicts else ()
    return Task(
        key=key_of(mark, step.name),
        title=step.title,
        trade=step.trade,
        phase=step.phase,
        minutes=step.minutes,
        waits_for=(*step.events, *[key_of(mark, name) for name in step.after]) if step.after else step.events,
        before=step.before,
        hold=bool(codes or broken),
        questions=codes,
        conflicts=broken,
    )


def _course(result: Result, cut: Cut, flooring: Flooring, people: int) -> Course:
    facts, foot, joint = result.at.facts, result.decision.foot, result.at.joint
    undercut = {PULL: flooring.pull_side.jamb_undercut, PUSH: flooring.push_side.jamb_undercut}
    laid = tuple([LAID + side.name for side in facts.sides if not _is_bare(side)])
    first = joint is not None and joint.piece.before_carpet
    carpets = [LAID + side.name for side in facts.sides if side.kind is FinishKind.CARPET] if first else []
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
        undercuts=tuple([LAID + name for name, height in undercut.items() if height is not UNSET]),
        piece=joint is None or not joint.runs_through,
        laid=laid,
        after_piece=tuple([name for name in laid if name in carpets]) if carpets else (),
    )


def _is_bare(side: SideFacts) -> bool:
    """Whether nothing will be laid on a side, for certain."""
    return side.floor is not None and side.floor.greatest == 0 and side.certain


@lru_cache(maxsize=512)
def steps(course: Course, labour: Labour, catalogue: Catalogue) -> tuple[Step, ...]:
    """The steps of a course with their minutes from the labour table, the caller's own in their place."""
    early, rows = tuple(_before_floor(course)), minutes_of(labour, catalogue)
    plans = (*early, *_from_floor(course, tuple([plan.name for plan in early[-1:]])))
    last = {name: _last_before(name, plans, course) for name in course.laid}
    titles = [f"{plan.name}{_EACH if course.leaves > 1 and plan.name in _ON_LEAVES else ''}" for plan in plans]
    return tuple(
        _priced(plan, rows, tuple([n for n in course.laid if plan.name in last[n]]), title)
        for plan, title in zip(plans, titles, strict=True)
    )


_EACH, _ON_LEAVES = ".each", frozenset({TRIM, TRIM_NOW, SET})
"""What ends the code of a title that names a pair's leaves, and the steps whose titles do."""


class _Plan(NamedTuple):
    """A step before it is priced; work: rows of the labour table."""

    name: str
    trade: Asked
    phase: str
    work: tuple[str, ...]
    events: tuple[str, ...] = ()
    after: tuple[str, ...] = ()


def _last_before(event: str, plans: tuple[_Plan, ...], course: Course) -> tuple[str, ...]:
    """The last steps that are done before a floor is laid.

    The undercut where that side has one, else what comes before it: setting the unit, or cutting its hung leaf. And the
    piece where it goes before that floor.
    """
    if event in course.undercuts:
        return (UNDERCUT,)
    late = {PIECE, UNDERCUT}
    for plan in plans:  # in working order, so that what waits for the floor by way of another step is found too
        if event in plan.events or not late.isdisjoint(plan.after):
            late.add(plan.name)
    early = [plan.name for plan in plans if plan.name not in late]
    return (*early[-1:], *((PIECE,) if event in course.after_piece else ()))


def _priced(plan: _Plan, rows: dict[str, int], before: tuple[str, ...], title: str) -> Step:
    minutes = sum(rows[row] for row in plan.work)
    return Step(plan.name, Phrase(f"task.{title}"), plan.trade, plan.phase, minutes, plan.events, plan.after, before)


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
        yield _Plan(SET, Asked.FINISH_CARPENTER, Phase.SETTING, ("set_unit", *legs), events, after)
    if course.when == BEFORE_FLOOR:
        yield _trim(course, course.where, ())


def _trim(course: Course, where: str, events: tuple[str, ...], *, name: str = TRIM) -> _Plan:
    work = saw_steps(where, course.hinges, course.people) * course.leaves
    return _Plan(name, Asked.FINISH_CARPENTER, Phase.LEAF, work, events)


def _from_floor(course: Course, last: tuple[str, ...]) -> Iterator[_Plan]:
    """last: the last step before the floors; where none will be laid, what comes then waits for it."""
    if course.undercuts:
        work = ("jamb_undercut_side",) * len(course.undercuts)
        yield _Plan(UNDERCUT, Asked.FLOORING_INSTALLER, Phase.FLOORING, work, after=last)
    after, laid = tuple[str, ...](), course.laid
    if course.piece:
        events = tuple([name for name in laid if name not in course.after_piece])
        yield _Plan(PIECE, Asked.FLOORING_INSTALLER, Phase.TRANSITION, ("fit_piece",), events, () if events else last)
        after, laid = (PIECE,), course.after_piece
    if course.when == AFTER_FLOOR:
        yield _trim(course, course.where or OFF_HINGES, course.laid)
        after, laid = (*after, TRIM), ()
    yield _Plan(CHECK, Asked.FINISH_CARPENTER, HANDOVER, ("measure_floor",), laid, after if after or laid else last)
