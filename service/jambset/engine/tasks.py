"""The steps of one opening for scheduling software: trade, minutes, what each waits for and what holds it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from jambset.engine.checks import Result
from jambset.engine.decide import Cut
from jambset.model.advice import Phrase, Question, Task
from jambset.model.request import FrameState
from jambset.model.source import Asked
from jambset.rules.schema import FinishKind, Labour

DELIVERED, FRAMED, LAID = "external:unit-delivered", "external:opening-framed", "external:floor-laid."


TITLES = {
    step: Phrase(f"task.{step}")
    for step in ("trim-leaf", "set-frame", "undercut-jambs", "fit-piece", "check-clearances")
}


class _Step(NamedTuple):
    """One step: its name, who does it, the phase it is held by, its rows of the labour table, what it waits for."""

    name: str
    trade: Asked
    phase: str
    work: tuple[str, ...]
    after: tuple[str, ...]


def tasks(result: Result, cut: Cut, asked: tuple[Question, ...], labour: dict[str, Labour]) -> tuple[Task, ...]:
    """Steps in working order; keys are the mark and the step, so they stay the same from one call to the next."""
    mark = result.at.facts.opening.mark
    return tuple([_task(step, mark, asked, labour) for step in _steps(result, cut)])


def _task(step: _Step, mark: str, asked: tuple[Question, ...], labour: dict[str, Labour]) -> Task:
    held = tuple([question.code for question in asked if step.phase in question.holds])
    return Task(
        key=f"{mark}.{step.name}",
        title=TITLES[step.name],
        trade=step.trade,
        phase=step.phase,
        minutes=sum([labour[row].minutes for row in step.work]),
        waits_for=tuple([on if on.startswith("external:") else f"{mark}.{on}" for on in step.after]),
        hold=bool(held),
        questions=held,
    )


def _steps(result: Result, cut: Cut) -> Iterator[_Step]:
    last: tuple[str, ...] = ()
    for step in _before_floor(result, cut):
        yield step
        last = (step.name,)
    yield from _with_floor(result, last)
    laid = tuple(LAID + side.name for side in result.at.facts.sides)
    after: tuple[str, ...] = laid
    if result.at.joint is None or not result.at.joint.runs_through:
        yield _Step("fit-piece", Asked.FLOORING_INSTALLER, "transition", ("fit_piece",), laid)
        after = ("fit-piece",)
    if cut.when == "after_floor":
        yield _trim(f"trim_{cut.where or 'off_hinges'}", laid, _leaves(result))
        after = (*after, "trim-leaf")
    yield _Step("check-clearances", Asked.FINISH_CARPENTER, "handover", ("measure_floor",), after)


def _leaves(result: Result) -> int:
    return result.at.facts.opening.leaf.count


def _before_floor(result: Result, cut: Cut) -> Iterator[_Step]:
    bench = cut.when == "before_hanging"
    if bench:
        yield _trim("trim_on_bench", (DELIVERED,), _leaves(result))
    to_set = result.at.facts.opening.frame.state is not FrameState.SET
    if to_set:
        work = ("set_unit", *_leg_work(result))
        yield _Step("set-frame", Asked.FINISH_CARPENTER, "setting", work, (FRAMED, "trim-leaf" if bench else DELIVERED))
    if cut.when == "before_floor":
        yield _trim(f"trim_{cut.where}", (), _leaves(result))


def _leg_work(result: Result) -> Iterator[str]:
    ground, foot = result.at.facts.ground, result.decision.foot
    if foot > min(ground.hinge_leg, ground.strike_leg):
        yield "block_legs"
    if foot < 0:
        yield "trim_legs"


def _trim(work: str, after: tuple[str, ...], leaves: int) -> _Step:
    return _Step("trim-leaf", Asked.FINISH_CARPENTER, "leaf", (work, "seal_edge") * leaves, after)


def _with_floor(result: Result, last: tuple[str, ...]) -> Iterator[_Step]:
    hard = len(result.at.facts.passes[FinishKind.HARD])
    if hard:
        yield _Step("undercut-jambs", Asked.FLOORING_INSTALLER, "flooring", ("jamb_undercut_side",) * hard, last)
