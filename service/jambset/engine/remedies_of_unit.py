"""Remedies of the unit: its leaf cut or another hung, its legs filled or covered, the whole set again, or another."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from msgspec.structs import replace

from jambset.engine.asks import HEADER_UNKNOWN
from jambset.engine.bounds import AS_SET, HEAD_LINE, Stand, draw
from jambset.engine.checks import short
from jambset.engine.decide import leg_minutes, saw_line, saw_place
from jambset.engine.findings import shown
from jambset.engine.labour import BENCH, OFF_HINGES, Work
from jambset.engine.lines import BELOW, is_firm
from jambset.engine.remedy_steps import (
    COVER,
    FILL,
    LEAF,
    RESET,
    TRIM,
    UNIT,
    Shop,
    Step,
    for_cut,
    for_labels,
    missed,
    weight,
    when_certain,
)
from jambset.engine.settle import BOTTOM, CUT, FOOT, TOP, Bound, on_tape, settle_cut, settle_order, settle_uncut
from jambset.engine.standing import Judged, Unit, judge
from jambset.engine.words import GUARDED, leaves, leg_names, subfloor
from jambset.model.advice import Phrase, Term
from jambset.model.recheck import Need
from jambset.model.request import Duty
from jambset.quantity.ticks import Length, ceil_to, floor_to
from jambset.rules.schema import FinishKind, Measured, Topic


def trim(before: Judged, shop: Shop) -> Iterable[Step]:
    """The hung leaf cut, as little as keeps most, within what its construction still allows.

    Where that raises the leaf of a door against fire or smoke for air, also the cut without: the wall may pass air.
    """
    cuts = [judge(replace(before.unit, bottom=before.unit.bottom + trim), shop.catalogue) for trim in _trims(before)]
    if not cuts:
        return
    after = _least(cuts, shop)
    yield _cut(before, after, shop)
    if _for_air(before, after) and (close := [cut for cut in cuts if not _for_air(before, cut)]):
        yield _cut(before, _least(close, shop), shop)


def _least(cuts: list[Judged], shop: Shop) -> Judged:
    """The cut that leaves least missed, firm rules by as little as can be, of those the least work, the shallowest.

    A deeper one may be sawn in place. Under a door against fire or smoke it is the shallowest whatever it takes.
    """
    if not cuts[0].facts.duties.isdisjoint(GUARDED):
        return min(cuts, key=lambda one: (*weight(one), one.unit.bottom))

    def rank(one: Judged) -> tuple[int, ...]:
        failing, firm, all_missed = weight(one)
        return (failing, firm, _lacks(one), all_missed, shop.work.saw[_sawn(one)], one.unit.bottom)

    return min(cuts, key=rank)


def _lacks(judged: Judged) -> int:
    """By how much what lies under the leaf misses firm rules in all [ticks]."""
    return sum([short(check) for check in missed(judged, *BELOW) if check.rule in judged.firm])


def _sawn(after: Judged) -> str:
    """Where the hung leaf is cut to end as it then does."""
    pull = after.facts.pull.floor
    return saw_place(after.unit.bottom - (pull.nominal if pull else 0), least=saw_line(after.facts))


def _for_air(before: Judged, after: Judged) -> bool:
    """Whether the leaf of a door against fire or smoke ends further up than anything firm but air asks for."""
    if before.facts.duties.isdisjoint(GUARDED) or before.unit.bottom >= after.unit.bottom:
        return False
    rules = {name: applied.rule for name, applied in before.result.at.regime.by_id.items()}
    mended = [name for name in before.missed if name not in after.missed and rules[name].topic is Topic.AIR]
    asked = [
        bound.limit
        for bound in draw(before.result.at, last_choice=False)
        if bound.on == BOTTOM and bound.lower and bound.rule in rules
        if is_firm(rules[bound.rule]) and rules[bound.rule].topic is not Topic.AIR
    ]
    beyond = after.unit.bottom - max([before.unit.bottom, *asked])
    return bool(mended) and beyond >= before.facts.grid.step


def _cut(before: Judged, after: Judged, shop: Shop) -> Step:
    unit, where = before.unit, _sawn(after)
    lifts = where == OFF_HINGES
    trim, bottom = Length(after.unit.bottom - unit.bottom), Length(after.unit.bottom)
    code = f"remedy.trim.{where}" + ("_two" if lifts and shop.work.people > 1 else "")
    text = Phrase(code, trim=trim, bottom=bottom, leaves=leaves(before.facts), subfloor=subfloor(before.facts))
    listing = for_cut(before, after)
    return Step(
        kind=TRIM,
        minutes=shop.work.saw[where],
        text=Phrase("remedy.listed", text=text) if listing else text,
        after=after,
        needs=(*listing, *when_certain(before)),
        told={"trim": trim, "where": where, "leaf_bottom": bottom},
        saws=True,
        lifts=lifts,
        cuts=True,
        for_air=_for_air(before, after),
    )


def _trims(before: Judged) -> list[int]:
    """Trims on the tape that meet one more bound on the leaf's bottom, none beyond what may still come off."""
    unit, step = before.unit, before.facts.grid.step
    bounds = draw(before.result.at, last_choice=True)
    most = min([bound.limit for bound in bounds if bound.on == CUT and not bound.lower], default=None)
    room = None if most is None else floor_to(most - unit.trimmed, step=step)
    short = [bound.limit - unit.bottom for bound in bounds if bound.on == BOTTOM and bound.lower]
    wanted = {ceil_to(amount, step=step) for amount in short if amount > 0}
    return sorted({trim for one in wanted if (trim := one if room is None else min(one, room)) > 0})


def reset(before: Judged, shop: Shop) -> Iterable[Step]:
    """The unit taken out and set where its floors are best met, the leaf cut on the bench where that takes it.

    Not where that is where it stands: its leaf is cut without taking it out. Nor where it can't stand as its line says.
    """
    unit, work, lain = before.unit, shop.work, _lain(before, before.unit)
    settled = dict.fromkeys(_settled(before, lain, shop.foot))
    tried = [
        (judge(_moved(unit, foot, bottom, unit.undercut), shop.catalogue), foot, bottom)
        for foot, bottom in settled
        if shop.foot in (None, foot)
    ]
    if not tried:
        return

    def minutes(foot: int, bottom: int) -> int:
        saw = work.saw[BENCH] if bottom > foot + unit.undercut + unit.trimmed else 0
        return work.set_again + _leg_minutes(before, foot, lain, work) + saw

    after, foot, bottom = min(tried, key=lambda one: (*weight(one[0]), minutes(one[1], one[2])))
    if foot == unit.foot:
        return
    trim = bottom - foot - unit.undercut - unit.trimmed
    shorter = min(_over(before, foot)) < 0
    text = _again("reset", before, foot, bottom, lain)
    if trim:
        text = Phrase("remedy.reset.and_trim", text=text, trim=Length(trim), leaves=leaves(before.facts))
    listing = for_cut(before, after) if trim else ()
    frame = for_labels(before, "frame_label", Duty.FIRE_LABEL) if shorter else ()
    instructions = for_labels(before, "frame_instructions", Duty.FIRE_LABEL)
    if instructions:
        text = Phrase("remedy.reset.labelled", text=text)
    yield Step(
        kind=RESET,
        minutes=minutes(foot, bottom),
        text=Phrase("remedy.listed", text=text) if listing or frame else text,
        after=after,
        needs=(*listing, *frame, *instructions, *_for_header(before, after), *when_certain(before)),
        told={"foot": Length(foot), "leaf_bottom": Length(bottom)} | _on_bench(trim),
        saws=trim > 0,
        lifts=True,
        cuts=trim > 0 or shorter,
        for_air=_for_air(before, after),
    )


def _on_bench(trim: int) -> dict[str, Any]:
    """What is told of a cut off a leaf that doesn't hang [ticks]; nothing where there is none."""
    return {"trim": Length(trim), "where": BENCH} if trim else {}


def other_unit(before: Judged, shop: Shop) -> Iterable[Step]:
    """The unit taken out and another set in its place, near the subfloor, made with the undercut that the floors want.

    Its legs are both as made and its leaf is left whole. None where it would be made as the one that is there.
    """
    grid, made = before.facts.grid, judge(replace(before.unit, hinge=0, strike=0), shop.catalogue)
    lain = _lain(before, made.unit)
    free = replace(made.result.at, facts=replace(made.facts, as_set=None))
    found, _ = on_tape(settle_order, [*_on_laid(lain), *draw(free, last_choice=False)], undercut=0, grid=grid)
    foot, bottom, undercut = found.foot, found.bottom, found.bottom - found.foot
    if undercut < 0 or abs(undercut - before.unit.undercut) < grid.step:
        return
    after = judge(_moved(made.unit, foot, bottom, undercut), shop.catalogue)
    shorter = min(_over(made, foot)) < 0
    text = _again("other_unit", made, foot, bottom, lain, undercut=Length(undercut))
    label = for_labels(before, "unit_label", Duty.FIRE_LABEL, Duty.SMOKE_CONTROL)
    frame = for_labels(before, "frame_label", Duty.FIRE_LABEL) if shorter else ()
    instructions = for_labels(before, "frame_instructions", Duty.FIRE_LABEL)
    if label:
        text = Phrase("remedy.other_unit.labelled", text=text)
    if instructions:
        text = Phrase("remedy.reset.labelled", text=text)
    text = Phrase("remedy.other_unit", text=text)
    yield Step(
        kind=UNIT,
        minutes=shop.work.set_again + _leg_minutes(made, foot, lain, shop.work),
        text=Phrase("remedy.listed", text=text) if frame else text,
        after=after,
        needs=(*label, *frame, *instructions, *_for_header(before, after), *when_certain(before)),
        told={"undercut": Length(undercut), "foot": Length(foot), "leaf_bottom": Length(bottom)},
        lifts=True,
        cuts=shorter,
        for_air=_for_air(before, after),
    )


def _leg_minutes(before: Judged, foot: int, lain: int | None, work: Work) -> int:
    """What it takes to block or cut the legs of a unit that is set at a foot; none on a floor that lies."""
    legs = _over(before, foot)
    return 0 if foot == lain else leg_minutes(min(legs), min(legs) - max(legs), work)


def _for_header(before: Judged, after: Judged) -> tuple[Need, ...]:
    """That somebody measures how high the header is, where the head goes up to it and nobody has."""
    now, then = before.unit, after.unit
    if before.facts.header is not None or then.foot + then.undercut <= now.foot + now.undercut:
        return ()
    return (Need(code=HEADER_UNKNOWN.code, ask=HEADER_UNKNOWN.ask, text=HEADER_UNKNOWN.text),)


def _over(before: Judged, foot: int) -> tuple[int, int]:
    """How high each leg then ends above its own subfloor [ticks]; below 0 what is cut off it."""
    unit, level = before.unit, before.facts.ground
    return foot + unit.hinge - level.hinge_leg, foot + unit.strike - level.strike_leg


def _again(kind: str, before: Judged, foot: int, bottom: int, lain: int | None, **more: Length) -> Phrase:
    """Where a unit is set: for both legs together where they come out alike, else leg by leg.

    kind: of the remedy. lain: the foot at which its legs stand on a floor that lies. more: what is told besides.
    """
    hinge, strike = _over(before, foot)
    on_floor = foot == lain
    told = {"bottom": Length(bottom), "leaves": leaves(before.facts), "subfloor": subfloor(before.facts), **more}
    if hinge == strike:
        return Phrase(f"remedy.{kind}.{'floor' if on_floor else _how(hinge)}", amount=Length(abs(hinge)), **told)
    legs = [
        Phrase(f"leg.again.{_how(over)}", leg=Phrase(f"leg.{name}"), amount=Length(abs(over)))
        for name, over in zip(leg_names(before.facts), (hinge, strike), strict=True)
    ]
    return Phrase(f"remedy.{kind}.apart", first=legs[0], second=legs[1], **told)


def _how(over: int) -> str:
    return "cut" if over < 0 else "block" if over else "stand"


def _settled(before: Judged, lain: int | None, foot: int | None) -> Iterator[tuple[int, int]]:
    """Foot and leaf bottom of the unit set anew, uncut and cut, were it not fixed; what was trimmed stays off.

    foot: where it is to stand, if the header and the floors that lie leave it room.
    """
    unit, facts, at = before.unit, before.facts, before.result.at
    free = replace(at, facts=replace(facts, as_set=None))
    stand = None if foot is None else Stand(foot, HEAD_LINE)
    moved = {CUT: -unit.trimmed, TOP: unit.trimmed}
    drawn = draw(free, stand, last_choice=True)
    bounds = [Bound(b.rule, b.on, b.lower, b.limit + moved.get(b.on, 0), b.whole) for b in drawn]
    bounds = [*_on_laid(lain), *bounds]
    for settle in (settle_uncut, settle_cut):
        found, _ = on_tape(settle, bounds, undercut=unit.undercut + unit.trimmed, grid=facts.grid)
        yield found.foot, found.bottom


def _on_laid(lain: int | None) -> list[Bound]:
    """What keeps legs from going down into a floor that lies below them, as a bound that comes before all others."""
    return [] if lain is None else [Bound(AS_SET, FOOT, True, lain)]


def _lain(before: Judged, then: Unit) -> int | None:
    """The foot at which a unit's legs stand on a hard floor that lies below those there now; None where none does.

    On the tape. A gap was measured down to it. A floor that ends against a leg leaves that leg its place.
    """
    unit, level, step = before.unit, before.facts.ground, before.facts.grid.step
    legs = ((unit.hinge, then.hinge, level.hinge_leg), (unit.strike, then.strike, level.strike_leg))
    tops = [
        floor_to(side.floor.nominal, step=step)
        for side in before.facts.sides
        if side.floor and side.name in unit.gauged and side.kind is FinishKind.HARD
    ]
    stands = [top + under - own for top in tops for above, own, under in legs if 0 < top <= unit.foot + above - under]
    return floor_to(max(stands), step=step) if stands else None


def _moved(unit: Unit, foot: int, bottom: int, undercut: int) -> Unit:
    frame = replace(unit.opening.frame, foot=Length(foot), undercut=Length(undercut))
    opening = replace(unit.opening, frame=frame)
    return replace(unit, opening=opening, bottom=bottom, again=True)


def other_leaf(before: Judged, shop: Shop) -> Iterable[Step]:
    """Another leaf as made in place of one that was cut, its frame left as it stands; cut on the bench if need be.

    Nobody hangs one for a wish.
    """
    unit, at = before.unit, before.result.at
    if unit.trimmed <= 0 or not before.firm:
        return
    bounds = draw(at, last_choice=True)
    settled = [
        on_tape(settle, bounds, undercut=unit.undercut, grid=at.facts.grid)[0] for settle in (settle_uncut, settle_cut)
    ]
    lower = [one.bottom for one in settled if one.bottom < unit.bottom]  # left whole it always is
    tried = [judge(replace(unit, bottom=bottom), shop.catalogue) for bottom in lower]
    after = min(tried, key=lambda one: (*weight(one), one.unit.bottom))
    trim = after.unit.trimmed
    told = {"bottom": Length(after.unit.bottom), "leaves": leaves(before.facts), "subfloor": subfloor(before.facts)}
    text = Phrase(f"remedy.other_leaf.{'cut' if trim else 'whole'}", trim=Length(trim), **told)
    listing = for_labels(before, "listing", Duty.FIRE_LABEL) if trim else ()
    label = for_labels(before, "leaf_label", Duty.FIRE_LABEL, Duty.SMOKE_CONTROL)
    if label:
        text = Phrase(f"remedy.other_leaf.{'cut_labelled' if trim else 'labelled'}", text=text)
    yield Step(
        kind=LEAF,
        minutes=shop.work.other_leaf + (shop.work.saw[BENCH] if trim else 0),
        text=text,
        after=after,
        needs=(*label, *listing, *when_certain(before)),
        told={"leaf_bottom": Length(after.unit.bottom)} | _on_bench(trim),
        saws=trim > 0,
        lifts=True,
        cuts=trim > 0,
    )


# --- the legs


def fill(before: Judged, shop: Shop) -> Iterable[Step]:
    """Fillers under both legs, scribed to a hard floor and reaching under a carpet."""
    if not missed(before, Measured.LEG_COVER, Measured.FOOT):
        return
    legs = [shown(before, side) for side in before.facts.sides if side.floor]
    shows = max([max(pair) for pair in legs])
    how = ".tuck" if shows <= 0 else _apart(legs)
    text = Phrase(f"remedy.fill_legs{how}", shows=Length(shows))
    yield Step(
        kind=FILL,
        minutes=shop.work.fill_legs,
        text=text,
        after=judge(replace(before.unit, extended=True), shop.catalogue),
        needs=(*for_labels(before, "frame_label", Duty.FIRE_LABEL), *when_certain(before)),
    )


def cover(before: Judged, shop: Shop) -> Iterable[Step]:
    """The transition piece returned round the legs, where it stands high enough to hide what shows on hard floors."""
    joint = before.result.at.joint
    assert joint is not None  # remedies are looked for once both floors are named
    hard = [side for side in before.facts.sides if side.floor and side.kind is FinishKind.HARD]
    legs = [shown(before, side) for side in hard]
    shows = max([max(pair) for pair in legs], default=0)
    if 0 < shows <= joint.rise:
        yield Step(
            kind=COVER,
            minutes=shop.work.cover_legs,
            text=Phrase(f"remedy.cover_legs{_apart(legs)}", piece=Term(joint.piece.title), shows=Length(shows)),
            after=judge(replace(before.unit, covered=True), shop.catalogue),
            needs=when_certain(before),
        )


def _apart(legs: list[tuple[int, int]]) -> str:
    """Whether one leg shows more than the other, as a part of a code."""
    return ".apart" if any(hinge != strike for hinge, strike in legs) else ""
