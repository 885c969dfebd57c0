"""A house: its openings decided together, at least total cost, exactly.

Openings share head lines (one head height a line) and block sizes (a price for each distinct one). Every
opening prices its settings as it does alone (jambset.engine.scenarios); a line's choices are the heights that
every one of its openings can be given, and `share` picks one choice for each line and each other opening.
Nothing else ties openings to each other, so those on no line whose blocks nobody shares stand as they would alone.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence

import msgspec
from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine import lists
from jambset.engine.assess import Prepared, advice_id, advising, input_digest, prepare
from jambset.engine.bounds import BLOCK_SIZES, HEAD_LINE
from jambset.engine.facts import grid_of
from jambset.engine.labour import minutes_of
from jambset.engine.scenarios import Choice, Table, usable
from jambset.engine.share import Choice as Option
from jambset.engine.share import Shared, share
from jambset.engine.steps import Steps, all_of
from jambset.errors import FieldError, InvalidRequest, nearest, refusal, shown
from jambset.model.advice import Advice, Minutes, Phrase
from jambset.model.house import (
    FieldFault,
    HeadLineAdvice,
    HouseAdvice,
    LeftOut,
    OpeningResult,
    RefusedOpening,
    SharedCost,
    Totals,
)
from jambset.model.request import HeadLine, House, Opening
from jambset.quantity.ticks import INCH, Length
from jambset.rules.schema import Catalogue

TOGETHER = 16
"""Openings that take each step of their advice together."""


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


class Group(Struct, frozen=True, eq=False):
    """Doors that are set by one choice: those of a line, or one by itself. settings: of the doors, for each choice."""

    line: HeadLine | None
    doors: tuple[Door, ...]
    settings: tuple[tuple[int, ...], ...]


def advise_house(house: House, openings: Sequence[Opening | InvalidRequest], catalogue: Catalogue) -> HouseAdvice:
    """The whole answer for a house.

    openings: those of the request in its order, each read or refused. Raises InvalidRequest for what is wrong
    with the house itself; an opening that makes no sense is reported in its place.
    """
    _refuse_lines(house, openings)
    read = doors_of(openings, catalogue)
    doors = sorted([one for one in read if isinstance(one, Door)], key=lambda door: lists.natural(door.mark))
    price = minutes_of(house.labour, catalogue)["block_size"]
    groups = tuple(groups_of(house, doors, price * Minutes.PARTS))
    shared = choose_all(groups, price)
    given = choices_of(groups, shared.places)
    settled = Settled(tuple(doors), groups, given, price, shared.least)
    return answer_of(house, read, settled, advise_doors(settled, catalogue), catalogue)


# --- reading


class Refused(Struct, frozen=True):
    """An opening that can't be advised on."""

    mark: str | UnsetType
    problem: RefusedOpening


def doors_of(openings: Sequence[Opening | InvalidRequest], catalogue: Catalogue) -> list[Door | Refused]:
    """Each opening priced on its own, or refused; of openings with one mark the first."""
    tables: dict[object, Table] = {}
    first: dict[str, int] = {}
    found: list[Door | Refused] = []
    for place, opening in enumerate(openings):
        if isinstance(opening, InvalidRequest):
            found.append(_bad(opening, place, UNSET))
        elif first.setdefault(opening.mark, place) != place:
            detail = "Another opening has this mark already; each mark stands once in a house."
            found.append(_bad(refusal([FieldError("#/mark", "repeated", detail)]), place, opening.mark))
        else:
            found.append(_door(opening, place, tables, catalogue))
    return found


def _door(opening: Opening, place: int, tables: dict[object, Table], catalogue: Catalogue) -> Door | Refused:
    try:
        prepared = prepare(opening, catalogue, price=True)
    except InvalidRequest as fault:
        return _bad(fault, place, opening.mark)
    if prepared.table is None:
        return Door(opening.mark, prepared, None)
    plan = prepared.table.plan  # priced once for all doors that are priced alike
    alike = tables.setdefault((plan.pairs, plan.pricing, plan.candidates, plan.highest, plan.may_cut), prepared.table)
    table = Table(plan, alike)
    return Door(opening.mark, replace(prepared, table=table), table.best())


def _bad(fault: InvalidRequest, place: int, mark: str | UnsetType) -> Refused:
    errors = tuple(
        [FieldFault(pointer=f"#/openings/{place}{e.pointer[1:]}", code=e.code, detail=e.detail) for e in fault.errors]
    )
    problem = RefusedOpening(code=fault.slug.replace("-", "_"), title=fault.title, detail=str(fault), errors=errors)
    return Refused(mark, problem)


def _refuse_lines(house: House, openings: Sequence[Opening | InvalidRequest]) -> None:
    """Refuse lines that name an opening that isn't there, or one opening twice. Raises InvalidRequest."""
    unreadable = any(isinstance(one, InvalidRequest) for one in openings)
    known = {one.mark for one in openings if isinstance(one, Opening)}
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
            yield FieldError(f"#/head_lines/{at}/name", "repeated", "Another line has this name.")
        names.add(line.name)
        for place, mark in enumerate(line.marks):
            pointer = f"#/head_lines/{at}/marks/{place}"
            if mark not in known and not unreadable:
                detail = f'No opening of this house has the mark "{shown(mark)}".{nearest(mark, known)}'
                yield FieldError(pointer, "unknown_mark", detail)
            if mark in seen:
                yield FieldError(pointer, "repeated", "This opening stands on a line already; its head has one height.")
            seen.add(mark)


# --- choosing


def groups_of(house: House, doors: list[Door], size: int) -> Iterator[Group]:
    """Lines that one height suits, then the other doors one by one, in the order of marks.

    size: price of a block size, in parts of a minute.
    """
    by_mark = {door.mark: door for door in doors if door.alone is not None}
    for line in house.head_lines:
        members = tuple([by_mark[mark] for mark in sorted(line.marks, key=lists.natural) if mark in by_mark])
        if members and (settings := _settings(members, size)):
            yield Group(line, members, settings)
            for door in members:
                del by_mark[door.mark]
    for door in by_mark.values():
        own = door.table.best().setting  # where every floor would have it set again
        yield Group(None, (door,), _settings((door,), size) or ((own,),))


def _settings(doors: tuple[Door, ...], size: int) -> tuple[tuple[int, ...], ...]:
    """Settings of doors for every head height, on the tape of any of them, that may turn out the best one.

    The cheapest lies between the lowest and the highest of the doors' own candidates. Farther up or down nothing
    gets cheaper but blocks, two sizes a door: heights are added at both ends while they cost no more than that.
    """
    fixed = {door.above + door.prepared.facts.as_set for door in doors if door.prepared.facts.as_set is not None}
    if fixed:
        return tuple([_at(doors, height) for height in fixed if len(fixed) == 1 and _cost(doors, height) is not None])
    own = [door.above + setting for door in doors for setting in door.table.plan.candidates]
    tapes = {(door.prepared.facts.grid.step, door.above % door.prepared.facts.grid.step) for door in doors}
    between = {height for step, off in tapes for height in range(_from(min(own), step, off), max(own) + 1, step)}
    costs = {height: cost for height in between.union(own) if (cost := _cost(doors, height)) is not None}
    if not costs:
        return ()
    most = min(costs.values()) + 2 * size * len(doors)
    for step, off in tapes:
        for start, by in ((_from(max(own) + 1, step, off), step), (_from(min(own), step, off) - step, -step)):
            height = start
            while (cost := _cost(doors, height)) is not None and cost <= most and abs(height - start) < REACH:
                costs[height] = cost
                height += by
    return tuple([_at(doors, height) for height in sorted(costs)])


REACH = 6 * INCH
"""Farther than any unit is moved: what costs nothing however far would never end."""


def _from(least: int, step: int, off: int) -> int:
    """The lowest height on a tape, whose marks stand off from 0 by so much, that is not below `least`."""
    return least + (off - least) % step


def _at(doors: tuple[Door, ...], height: int) -> tuple[int, ...]:
    return tuple([height - door.above for door in doors])


def _cost(doors: tuple[Door, ...], height: int) -> int | None:
    """What a head height costs all doors, in parts of a minute; None where one of them can't be given it."""
    settings = _at(doors, height)
    if not all(usable(door.table.plan, setting) for door, setting in zip(doors, settings, strict=True)):
        return None
    return sum([door.table.at(setting).expected for door, setting in zip(doors, settings, strict=True)])


def choose_all(groups: tuple[Group, ...], price: int) -> Shared:
    """The place of the chosen settings of each group, and whether nothing costs less for certain."""
    units = [[_option(group, settings) for settings in group.settings] for group in groups]
    return share(units, price=price * Minutes.PARTS * _SCALE)


_CUTS, _OFF, _WISHES, _WORST = 10**3, 10**12, 10**18, 10**8
"""Each above what all openings of a house together can come to, so that what comes first decides first."""
_SCALE = _CUTS * _OFF * _WISHES * _WORST


def _option(group: Group, settings: tuple[int, ...]) -> Option:
    """What settings cost and which blocks they need; costs that are equal are told apart as a door alone tells them."""
    cost = 0
    sizes: set[int] = set()
    for door, setting in zip(group.doors, settings, strict=True):
        c = door.table.at(setting)
        cost += (((c.expected * _WORST + c.worst) * _WISHES + c.wishes) * _CUTS + c.cuts) * _OFF + c.off
        sizes.update(door.blocks(setting))
    return Option(cost, tuple(sorted(sizes)))


def choices_of(groups: tuple[Group, ...], places: tuple[int, ...]) -> dict[str, Choice]:
    """What each door is given, by its mark, when its group takes the settings at a place."""
    return {
        door.mark: door.table.at(setting)
        for group, place in zip(groups, places, strict=True)
        for door, setting in zip(group.doors, group.settings[place], strict=True)
    }


class Settled(Struct, frozen=True, eq=False):
    """What was chosen for the doors, the price of a block size [min], and whether nothing costs less for certain."""

    doors: tuple[Door, ...]
    groups: tuple[Group, ...]
    given: dict[str, Choice]
    price: int
    least: bool

    def sizes(self, given: dict[str, Choice]) -> set[int]:
        """Block sizes that settings need [ticks]."""
        return {n for door in self.doors if door.mark in given for n in door.blocks(given[door.mark].setting)}

    def minutes(self, given: dict[str, Choice]) -> int:
        """What settings come to, block sizes included, in parts of a minute."""
        work = sum([choice.expected for choice in given.values()])
        return work + self.price * Minutes.PARTS * len(self.sizes(given))

    @property
    def alone(self) -> dict[str, Choice]:
        """What each priced door would be given by itself."""
        return {door.mark: door.alone for door in self.doors if door.alone is not None}

    def line_cost(self, name: str) -> int:
        """What a line costs its doors beyond what they would cost alone, in parts of a minute."""
        doors = [door for group in self.groups if group.line and group.line.name == name for door in group.doors]
        pairs = [(self.given[door.mark], door.alone) for door in doors if door.alone is not None]
        return sum([given.expected - alone.expected for given, alone in pairs])


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
    blocks = tuple(lists.blocks(openings, advices))
    lines = tuple([_line(line, settled) for line in house.head_lines])
    digest = _digest(house, read)
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
        undercut_list=tuple(lists.undercuts(ordered)),
        questions=tuple(lists.questions(ordered)),
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
    return OpeningResult(mark=one.mark, problem=one.problem)


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
    code = "line.strained" if strained else "line.free"
    return HeadLineAdvice(
        name=line.name,
        held=True,
        head_height=height,
        marks=on_it,
        left_out=tuple(left_out),
        minutes=cost,
        strained=strained,
        text=Phrase(code, height=height, minutes=cost, marks=", ".join(strained)),
    )


def _shared_costs(lines: tuple[HeadLineAdvice, ...], settled: Settled) -> Iterator[SharedCost]:
    """What each shared constraint costs; together they are the difference to deciding each opening alone."""
    rest = settled.minutes(settled.given) - settled.minutes(settled.alone)
    for line in lines:
        rest -= line.minutes
        yield SharedCost(kind="head_line", name=line.name, minutes=line.minutes, text=line.text)
    sizes, alone = len(settled.sizes(settled.given)), len(settled.sizes(settled.alone))
    text = Phrase("house.blocks", sizes=str(sizes), alone=str(alone), minutes=Minutes(abs(rest)))
    yield SharedCost(kind="block_sizes", minutes=Minutes(rest), text=text)


def _totals(read: Sequence[Door | Refused], advices: tuple[Advice, ...], settled: Settled, *, blocks: int) -> Totals:
    verdicts = [advice.verdict for advice in advices]
    by_trade = tuple(lists.by_trade(advices))
    return Totals(
        openings=len(read),
        advised=len(advices),
        refused=len(read) - len(advices),
        go=verdicts.count("go"),
        go_with_trim=verdicts.count("go_with_trim"),
        hold=verdicts.count("hold"),
        conflict=verdicts.count("conflict"),
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


def _digest(house: House, read: Sequence[Door | Refused]) -> str:
    """Hash of what was asked, the same whatever the order of openings and lines."""
    openings = sorted([_told(one) for one in read])
    lines = sorted([[line.name, *sorted(line.marks)] for line in house.head_lines])
    asked = msgspec.json.encode([house.house, openings, lines, house.labour], order="deterministic")
    return "sha256:" + hashlib.sha256(asked).hexdigest()


def _told(one: Door | Refused) -> str:
    if isinstance(one, Door):
        return input_digest(one.prepared.facts.opening)
    errors = [(e.pointer.partition("/openings/")[2].partition("/")[2], e.code, e.detail) for e in one.problem.errors]
    return msgspec.json.encode([None if one.mark is UNSET else one.mark, errors]).decode()
