"""The work on doors that are set, merged into lists: what is done, cut, ordered and fitted, and what it takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from msgspec import UNSET
from msgspec.structs import replace

from jambset.engine import lists, report
from jambset.engine.assess import rules_of, transition_of
from jambset.engine.facts import duties_of
from jambset.engine.labour import BENCH, IN_PLACE, OFF_HINGES
from jambset.engine.lists import GUARDS, Fitted, Ordered
from jambset.engine.recheck import Rechecked
from jambset.engine.remedies import KINDS, text_of
from jambset.engine.remedy_steps import LEAF, RAISE, UNIT, Step
from jambset.engine.standing import Unit, measured
from jambset.engine.tasks import key_of
from jambset.model.advice import Caution, Citation, Phrase
from jambset.model.house import HouseTask, OrderLot, PieceLot, UndercutLine
from jambset.model.house_recheck import FixLine, HouseCaution, LeafCut, LeafLot
from jambset.model.recheck import RecheckAdvice
from jambset.model.request import Core, Duty, FrameState, Hinges
from jambset.quantity.ticks import Length

Doors = Sequence[Rechecked]
"""Those of a house that could be rechecked, in the order of marks."""
Tasks = Mapping[str, HouseTask]
"""Their tasks by key."""


def tasks(doors: Doors, off_line: Mapping[str, str]) -> tuple[HouseTask, ...]:
    """Every step of the first remedies. off_line: question that holds all of a mark's, for its head's sake."""
    return tuple([_held(task, off_line) for task in lists.tasks([door.advice for door in doors])])


def _held(task: HouseTask, off_line: Mapping[str, str]) -> HouseTask:
    """A task that waits for a question as well: what is fitted to a unit set elsewhere is done in vain if it stays."""
    if task.mark not in off_line:
        return task
    return replace(task, hold=True, questions=(*task.questions, off_line[task.mark]))


def _steps(doors: Doors, tasks: Tasks) -> Iterator[tuple[Rechecked, Step, HouseTask]]:
    """Every step of the first remedies with its task."""
    for door in doors:
        for step in door.planned:
            yield door, step, tasks[key_of(door.advice.mark, step.kind)]


def fixes(doors: Doors, tasks: Tasks) -> tuple[FixLine, ...]:
    """Every step, those of a kind together in the order of the work."""
    kinds = list(KINDS)
    lines = [
        FixLine(
            task=task.key,
            mark=task.mark,
            kind=step.kind,
            trade=task.trade,
            minutes=task.minutes,
            text=text_of((step,), door.found),
            hold=task.hold,
            questions=task.questions,
            **step.told,
        )
        for door, step, task in _steps(doors, tasks)
    ]
    return tuple(sorted(lines, key=lambda line: kinds.index(line.kind)))


_WHERES = (IN_PLACE, OFF_HINGES, BENCH)


def cuts(doors: Doors, tasks: Tasks) -> tuple[LeafCut, ...]:
    """Leaves to be cut: hung, taken off, on the bench."""
    sawn = [
        (door, step, task, leaf)
        for door, step, task in _steps(doors, tasks)
        if "trim" in step.told
        for leaf in (("only",) if door.found.facts.opening.leaf.count == 1 else ("first", "second"))
    ]
    in_order = sorted(sawn, key=lambda cut: _WHERES.index(cut[1].told["where"]))
    return tuple([_cut(place, *cut) for place, cut in enumerate(in_order, start=1)])


def _cut(place: int, door: Rechecked, step: Step, task: HouseTask, leaf: str) -> LeafCut:
    return LeafCut(
        place=place,
        task=task.key,
        mark=task.mark,
        leaf=leaf,
        trim=step.told["trim"],
        where=step.told["where"],
        leaf_bottom=step.told["leaf_bottom"],
        height_after=Length(door.found.facts.opening.leaf.height - step.after.unit.trimmed),
        hold=task.hold,
        questions=task.questions,
    )


def units(doors: Doors, tasks: Tasks) -> tuple[OrderLot, ...]:
    """Units to order in place of those that are set, alike ones together."""
    lots: dict[Ordered, list[str]] = {}
    for door, step, task in _steps(doors, tasks):
        if step.kind == UNIT:
            opening, made = door.found.facts.opening, step.told["undercut"]
            unit = lists.ordered(opening, door.advice.taken, made, state=FrameState.TO_ORDER, waits=task.hold)
            lots.setdefault(unit, []).append(door.advice.mark)
    return tuple(lists.order_lots(lots))


class _Leaf(NamedTuple):
    """What leaves have in common that can be ordered alike [ticks, min], in the order in which it sorts lots."""

    waits: bool
    width: int
    height: int
    thickness: int
    core: Core
    hinges: Hinges
    fire_minutes: int
    """0 where they aren't stated."""
    duties: tuple[Duty, ...]


def leaves(doors: Doors, tasks: Tasks) -> tuple[LeafLot, ...]:
    """Leaves to order for frames that stay, alike ones together."""
    lots: dict[_Leaf, list[Rechecked]] = {}
    for door, step, task in _steps(doors, tasks):
        if step.kind == LEAF:
            opening = door.found.facts.opening
            leaf = opening.leaf
            made = _Leaf(
                waits=task.hold,
                width=leaf.width,
                height=leaf.height,
                thickness=leaf.thickness,
                core=leaf.core,
                hinges=leaf.hinges,
                fire_minutes=leaf.fire_minutes or 0,
                duties=tuple(sorted(duties_of(opening) & GUARDS)),
            )
            lots.setdefault(made, []).append(door)
    return tuple(
        [
            LeafLot(
                leaf_width=Length(leaf.width),
                leaf_height=Length(leaf.height),
                leaf_thickness=Length(leaf.thickness),
                core=leaf.core,
                hinges=leaf.hinges,
                fire_minutes=leaf.fire_minutes or UNSET,
                duties=leaf.duties,
                hold=leaf.waits,
                leaves=sum([door.found.facts.opening.leaf.count for door in lots[leaf]]),
                marks=tuple([door.advice.mark for door in lots[leaf]]),
            )
            for leaf in sorted(lots)
        ]
    )


def pieces(doors: Doors) -> tuple[PieceLot, ...]:
    """The pieces between the floors once the first remedies are done; none where one floor runs through."""
    fitted = [
        Fitted(door.advice.mark, transition_of(door.then.result, rules_of(door.then.checks)), door.advice.taken)
        for door in doors
        if (joint := door.then.result.at.joint) is None or not joint.runs_through
    ]
    return tuple(lists.piece_lots(fitted))


def undercuts(doors: Doors, raised: Iterable[Raised]) -> Iterator[UndercutLine]:
    """What is left to the flooring installer once the first remedies are done; nothing of a floor that lies.

    Such a floor is told by a gap that somebody measured down to it. raised: floors that are, for other doors' sake.
    """
    waits: dict[tuple[str, str], list[Raised]] = {}
    for one in raised:
        for mark in one.beside:
            waits.setdefault((one.key, mark), []).append(one)
    lying = {door.advice.mark: measured(door.found.facts, door.found.unit) for door in doors}
    told = [(door.advice, report.flooring(door.then.result, _hides(door.then.unit))) for door in doors]
    for line in lists.undercuts(told):
        if line.side not in lying[line.mark]:
            key = "" if line.room is UNSET else lists.slug(line.room)
            yield _over_raised(line, waits.get((key, line.mark), ()))


def _over_raised(line: UndercutLine, raised: Iterable[Raised]) -> UndercutLine:
    """A line that waits, as its opening's answer does, where its floor is raised for others."""
    for one in raised:
        note = Phrase("flooring.raised", layer=one.layer, marks=", ".join(one.wanting), text=line.note)
        line = replace(line, hold=True, note=note)
    return line


def _hides(unit: Unit) -> str:
    """What becomes of the space below the legs of a unit."""
    return report.FILLED if unit.extended else report.COVERED if unit.covered else report.SHOWS


def asking(advice: RecheckAdvice) -> RecheckAdvice:
    """An answer whose questions hold the phases of the tasks that wait for them as well."""
    questions = []
    for question in advice.questions:
        waiting = [task.phase for task in advice.tasks if question.code in task.questions]
        questions.append(replace(question, holds=tuple(dict.fromkeys((*question.holds, *waiting)))))
    return replace(advice, questions=tuple(questions))


def cautions(doors: Doors, raised: Iterable[Raised]) -> tuple[HouseCaution, ...]:
    """What raised floors do beside other doors; then dangers, of the first remedies and whatever is done. Each once."""
    found: dict[tuple[str, object], tuple[Caution, list[str]]] = {}
    for door in doors:
        for caution in _cautions(door):
            found.setdefault((caution.code, caution.text), (caution, []))[1].append(door.advice.mark)
    dangers = [HouseCaution(code=c.code, text=c.text, rule=c.rule, marks=tuple(marks)) for c, marks in found.values()]
    return (*map(_raised_caution, raised), *dangers)


class Raised(NamedTuple):
    """A floor that some doors want raised by a layer, and the room's others, which are answered as if it stayed."""

    key: str
    room: str
    layer: Length
    wanting: Sequence[str]
    beside: Sequence[str]


def _raised_caution(raised: Raised) -> HouseCaution:
    text = Phrase("caution.floor_raised", room=raised.room, layer=raised.layer, marks=", ".join(raised.wanting))
    return HouseCaution(code="floor_raised", text=text, marks=tuple(raised.beside))


def raised(doors: Doors) -> Iterator[Raised]:
    """Floors that are raised for some doors of a room and not for others."""
    added: dict[tuple[str, Length], list[str]] = {}
    beside: dict[str, dict[str, str]] = {}
    for door in doors:
        for key, name in _rooms(door):
            beside.setdefault(key, {})[door.advice.mark] = name
        for key, layer in _raises(door):
            added.setdefault((key, layer), []).append(door.advice.mark)
    for (key, layer), wanting in added.items():
        if marks := [mark for mark in beside[key] if mark not in wanting]:
            yield Raised(key, beside[key][wanting[0]], layer, wanting, marks)


def _rooms(door: Rechecked) -> Iterator[tuple[str, str]]:
    """Keys of an opening's rooms that have a name, each with the name."""
    for side in door.found.facts.sides:
        if side.room is not UNSET:
            yield lists.slug(side.room), side.room


def _raises(door: Rechecked) -> Iterator[tuple[str, Length]]:
    """Keys of rooms whose floor the first remedy raises, each with by how much."""
    raised = {step.told["side"]: step.told["layer"] for step in door.planned if step.kind == RAISE}
    for side in door.found.facts.sides:
        if side.name in raised and side.room is not UNSET:
            yield lists.slug(side.room), raised[side.name]


def _cautions(door: Rechecked) -> Iterator[Caution]:
    """Those of an opening's answer but for what only its other remedies bring."""
    told = {*door.always, *(door.advice.remedies[0].cautions if door.planned else ())}
    return (caution for caution in door.advice.cautions if caution.code in told)


def sources(answers: Iterable[RecheckAdvice]) -> tuple[Citation, ...]:
    """Where the rules come from, each once, in the order in which openings name them."""
    cited = {(one.rule, one.edition, one.clause): one for answer in answers for one in answer.sources}
    return tuple(cited.values())
