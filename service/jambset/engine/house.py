"""A house: its openings decided together, at least total cost, exactly.

Openings share head lines (one head height a line) and block sizes (a price for each distinct one). Every
opening prices its settings as it does alone (jambset.engine.scenarios); a line's choices are the heights that
every one of its openings can be given, and `share` picks one choice for each line and each other opening.
Nothing else ties openings to each other, so those on no line whose blocks nobody shares stand as they would alone.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence

import msgspec
from msgspec import UNSET

from jambset.engine import lists
from jambset.engine.asks import CONFLICT, GO, GO_WITH_TRIM, HOLD
from jambset.engine.assess import advice_id, advising, input_digest
from jambset.engine.bounds import BLOCK_SIZES, HEAD_LINE
from jambset.engine.doors import Door, Refused, Unread, doors_of, refuse_lines
from jambset.engine.facts import grid_of
from jambset.engine.head_lines import Settled, choices_of, choose_all, dearest, groups_of
from jambset.engine.labour import minutes_of
from jambset.engine.scenarios import Choice
from jambset.engine.steps import Steps, all_of
from jambset.model.advice import Advice, Minutes, Phrase
from jambset.model.house import (
    HeadLineAdvice,
    HouseAdvice,
    LeftOut,
    LineWithout,
    OpeningResult,
    SharedCost,
    Totals,
)
from jambset.model.request import HeadLine, House, Opening
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue

TOGETHER = 16
"""Openings that take each step of their advice together."""


def advise_house(house: House, openings: Sequence[Opening | Unread], catalogue: Catalogue) -> HouseAdvice:
    """The whole answer for a house.

    openings: those of the request in its order, each read or refused. Raises InvalidRequest for what is wrong
    with the house itself; an opening that makes no sense is reported in its place.
    """
    refuse_lines(house, openings)
    read = doors_of(openings, catalogue)
    doors = sorted([one for one in read if isinstance(one, Door)], key=lambda door: lists.natural(door.mark))
    price = minutes_of(house.labour, catalogue)["block_size"]
    groups = tuple(groups_of(house, doors, price * Minutes.PARTS))
    shared = choose_all(groups, price)
    given = choices_of(groups, shared.places)
    settled = Settled(tuple(doors), groups, given, price, shared.least)
    return answer_of(house, read, settled, advise_doors(settled, catalogue), catalogue)


def advise_doors(settled: Settled, catalogue: Catalogue) -> dict[str, Advice]:
    """The advice for each door, by its mark."""
    lined = {door.mark for group in settled.groups if group.line is not None for door in group.doors}
    works = [_advising(door, settled.given.get(door.mark), lined, catalogue) for door in settled.doors]
    return dict(zip([door.mark for door in settled.doors], all_of(works, together=TOGETHER), strict=True))


def _advising(door: Door, choice: Choice | None, lined: set[str], catalogue: Catalogue) -> Steps[Advice]:
    """The advice at what was chosen for the house; where that is what the door would be given alone, its own."""
    if choice is None or choice == door.alone:
        return advising(door.prepared, catalogue, choice=door.alone if door.prepared.facts.weighed else None)
    why = HEAD_LINE if door.mark in lined else BLOCK_SIZES
    return advising(door.prepared, catalogue, choice=choice, why=why)


# --- answering

NO_GRID = "1/16 in"
"""Named where no opening could be read, and so no list has a length."""


def answer_of(
    house: House, read: Sequence[Door | Refused], settled: Settled, advices: dict[str, Advice], catalogue: Catalogue
) -> HouseAdvice:
    """The lists of a house from what was chosen for its doors, and their advices by mark."""
    ordered = tuple([advices[door.mark] for door in settled.doors])
    openings = [door.prepared.facts.opening for door in settled.doors]
    rooms = lists.room_questions([door.prepared.facts for door in settled.doors], catalogue)
    blocks = tuple(lists.blocks(openings, advices))
    lines = tuple([_line(line, settled) for line in house.head_lines])
    digest = house_digest(house, map(_told, read))
    totals = _totals(read, ordered, settled, blocks=len(blocks))
    return HouseAdvice(
        advice_id=advice_id(digest, catalogue),
        house=house.house,
        summary=_summary(totals, lines, proven=settled.least),
        rule_set=catalogue.version,
        rule_set_digest=catalogue.digest,
        input_digest=digest,
        grid=grid_of(openings[0], catalogue).name if openings else NO_GRID,
        openings=tuple([_result(one, advices) for one in read]),
        head_lines=lines,
        blocks=blocks,
        order_list=tuple(lists.orders(openings, advices)),
        trim_list=tuple(lists.trims(ordered)),
        undercut_list=tuple(lists.undercuts((one, one.flooring) for one in ordered)),
        piece_list=tuple(lists.pieces(ordered)),
        questions=tuple(lists.questions(ordered, rooms)),
        tasks=tuple(lists.tasks(ordered)),
        events=tuple(lists.events(ordered)),
        shared_costs=tuple(_shared_costs(lines, settled)),
        totals=totals,
        proven_least=settled.least,
        tie_rule=Phrase("house.ties"),
        notice=Phrase("house.notice"),
    )


def _result(one: Door | Refused, advices: dict[str, Advice]) -> OpeningResult:
    if isinstance(one, Door):
        return OpeningResult(mark=one.mark, advice=advices[one.mark])
    return OpeningResult(mark=one.mark, external_id=one.external_id, problem=one.problem)


def _line(line: HeadLine, settled: Settled) -> HeadLineAdvice:
    group = next((g for g in settled.groups if g.line is line), None)
    marks = sorted(line.marks, key=lists.natural)
    priced = {door.mark for door in settled.doors if door.alone is not None}
    there = {door.mark for door in settled.doors}
    left_out = [
        LeftOut(mark=m, why=Phrase("line.unpriced" if m in there else "line.refused")) for m in marks if m not in priced
    ]
    on_it = tuple([mark for mark in marks if mark in priced])
    if group is None:
        text = Phrase("line.none" if on_it else "line.empty", marks=", ".join(on_it))
        return HeadLineAdvice(
            name=line.name,
            held=False,
            marks=on_it,
            left_out=tuple(left_out),
            minutes=Minutes(0),
            strained=(),
            text=text,
        )
    height = Length(group.doors[0].above + settled.given[group.doors[0].mark].setting)
    strained = tuple(
        [d.mark for d in group.doors if d.alone is not None and settled.given[d.mark].setting != d.alone.setting]
    )
    cost = Minutes(settled.line_cost(line.name))
    text = Phrase("line.strained" if strained else "line.free", height=height, minutes=cost, marks=", ".join(strained))
    dear = dearest(group, settled.given) if strained else None
    if dear is not None:
        text = Phrase("line.without", text=text, mark=dear.mark, minutes=Minutes(dear.cost))
    return HeadLineAdvice(
        name=line.name,
        held=True,
        head_height=height,
        marks=on_it,
        left_out=tuple(left_out),
        minutes=cost,
        strained=strained,
        without=UNSET if dear is None else LineWithout(mark=dear.mark, minutes=Minutes(dear.cost)),
        text=text,
    )


def _shared_costs(lines: tuple[HeadLineAdvice, ...], settled: Settled) -> Iterator[SharedCost]:
    """What each shared constraint costs; together they are the difference to deciding each opening alone."""
    rest = settled.minutes(settled.given) - settled.minutes(settled.alone)
    for line in lines:
        rest -= line.minutes
        yield SharedCost(kind="head_line", name=line.name, minutes=line.minutes, text=line.text)
    sizes, alone = len(settled.sizes(settled.given)), len(settled.sizes(settled.alone))
    told = "house.blocks.saves" if rest < 0 else "house.blocks.takes" if rest else "house.blocks"
    text = Phrase(told, sizes=str(sizes), alone=str(alone), minutes=Minutes(abs(rest)))
    yield SharedCost(kind="block_sizes", minutes=Minutes(rest), text=text)


def _totals(read: Sequence[Door | Refused], advices: tuple[Advice, ...], settled: Settled, *, blocks: int) -> Totals:
    verdicts = [advice.verdict for advice in advices]
    by_trade = tuple(lists.by_trade(advices))
    return Totals(
        openings=len(read),
        advised=len(advices),
        refused=len(read) - len(advices),
        go=verdicts.count(GO),
        go_with_trim=verdicts.count(GO_WITH_TRIM),
        hold=verdicts.count(HOLD),
        conflict=verdicts.count(CONFLICT),
        block_sizes=blocks,
        trims=sum([1 for advice in advices if lists.is_trimmed(advice)]),
        minutes=sum([trade.minutes for trade in by_trade]),
        by_trade=by_trade,
        expected_minutes=Minutes(settled.minutes(settled.given)),
        expected_minutes_alone=Minutes(settled.minutes(settled.alone)),
    )


def _summary(totals: Totals, lines: tuple[HeadLineAdvice, ...], *, proven: bool) -> Phrase:
    ready, held = totals.go + totals.go_with_trim, sum([line.held for line in lines])
    count = Phrase("part.opening" if totals.openings == 1 else "part.openings", count=str(totals.openings))
    told = Phrase("house.lines", held=str(held), lines=str(len(lines))) if lines else ""
    summary = Phrase(
        "house.summary",
        openings=count,
        lines=told,
        minutes=totals.expected_minutes,
        ready=str(ready),
        hold=str(totals.hold),
        conflict=str(totals.conflict),
        refused=str(totals.refused),
        sizes=str(totals.block_sizes),
    )
    return summary if proven else Phrase("house.unproven", summary=summary)


def _told(one: Door | Refused) -> str:
    return input_digest(one.prepared.facts.opening) if isinstance(one, Door) else refused_told(one)


def house_digest(house: House, told: Iterable[str], kept: Iterable[str] = ()) -> str:
    """Hash of a house, the same whatever the order of openings and lines.

    told: of each opening what was asked. kept: names of the lines that are to be kept.
    """
    lines = sorted([[line.name, *sorted(line.marks)] for line in house.head_lines])
    asked = msgspec.json.encode([house.house, sorted(told), lines, house.labour, *sorted(kept)])
    return "sha256:" + hashlib.sha256(asked).hexdigest()


def refused_told(one: Refused) -> str:
    """What was asked of an opening that can't be read, as far as it is known: its names and its faults."""
    errors = [(e.pointer.partition("/openings/")[2].partition("/")[2], e.code, e.detail) for e in one.problem.errors]
    names = [None if name is UNSET else name for name in (one.mark, one.external_id)]
    return msgspec.json.encode([*names, errors]).decode()
