"""Remedies of the unit: its leaf cut, its legs filled or covered, or the whole set again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from jambset.engine.bounds import draw
from jambset.engine.decide import leg_minutes, saw_line
from jambset.engine.findings import shown
from jambset.engine.labour import BENCH, IN_PLACE, OFF_HINGES
from jambset.engine.remedy_steps import COVER, FILL, RESET, TRIM, Shop, Step, for_labels, missed, weight, when_certain
from jambset.engine.settle import BOTTOM, CUT, TOP, Bound, on_tape, settle_cut, settle_uncut
from jambset.engine.standing import Judged, Unit, judge
from jambset.model.advice import Phrase
from jambset.model.request import Duty
from jambset.quantity.ticks import Length, ceil_to, floor_to
from jambset.rules.schema import FinishKind, Measured


def trim(before: Judged, shop: Shop) -> Iterable[Step]:
    """The hung leaf cut, as little as keeps most, within what its construction still allows."""
    unit, facts = before.unit, before.facts
    cuts = [replace(unit, bottom=unit.bottom + trim) for trim in _trims(before)]
    if not cuts:
        return
    after = min([judge(cut, shop.catalogue) for cut in cuts], key=lambda one: (*weight(one), one.unit.bottom))
    line = after.unit.bottom - (facts.pull.floor.nominal if facts.pull.floor else 0)
    where = IN_PLACE if line >= saw_line(facts) else OFF_HINGES
    lifts = where == OFF_HINGES
    trim, bottom = Length(after.unit.bottom - unit.bottom), Length(after.unit.bottom)
    code = f"remedy.trim.{where}" + ("_two" if lifts and shop.work.people > 1 else "")
    text = Phrase(code, trim=trim, bottom=bottom, leaves=_leaves(before))
    listing = for_labels(before, "listing", Duty.FIRE_LABEL)
    yield Step(
        kind=TRIM,
        minutes=shop.work.saw[where],
        text=Phrase("remedy.listed", text=text) if listing else text,
        after=after,
        needs=(*listing, *when_certain(before)),
        told={"trim": trim, "leaf_bottom": bottom},
        saws=True,
        lifts=lifts,
    )


def _trims(before: Judged) -> list[int]:
    """Trims on the tape that meet one more bound on the leaf's bottom, none beyond what may still come off."""
    unit, step = before.unit, before.facts.grid.step
    bounds = draw(before.result.at)
    most = min([bound.limit for bound in bounds if bound.on == CUT and not bound.lower], default=None)
    room = None if most is None else floor_to(most - unit.trimmed, step=step)
    short = [bound.limit - unit.bottom for bound in bounds if bound.on == BOTTOM and bound.lower]
    wanted = {ceil_to(amount, step=step) for amount in short if amount > 0}
    return sorted({trim for one in wanted if (trim := one if room is None else min(one, room)) > 0})


def _leaves(before: Judged) -> Phrase:
    return Phrase("leaves.each" if before.facts.opening.leaf.count == 2 else "leaves.one")


def reset(before: Judged, shop: Shop) -> Iterable[Step]:
    """The unit taken out and set where its floors are best met, the leaf cut on the bench where that takes it."""
    unit, work = before.unit, shop.work
    settled = dict.fromkeys(_settled(before))
    tried = [(judge(_moved(unit, foot, bottom), shop.catalogue), foot, bottom) for foot, bottom in settled]

    def minutes(foot: int, bottom: int) -> int:
        saw = work.saw[BENCH] if bottom > foot + unit.undercut + unit.trimmed else 0
        return work.set_again + leg_minutes(foot, work) + saw

    after, foot, bottom = min(tried, key=lambda one: (*weight(one[0]), minutes(one[1], one[2])))
    trim = bottom - foot - unit.undercut - unit.trimmed
    how = "cut" if foot < 0 else "block" if foot else "stand"
    text = Phrase(f"remedy.reset.{how}", foot=Length(abs(foot)), bottom=Length(bottom))
    if trim:
        text = Phrase("remedy.reset.and_trim", text=text, trim=Length(trim), leaves=_leaves(before))
    listing = for_labels(before, "listing", Duty.FIRE_LABEL) if trim else ()
    frame = for_labels(before, "frame_label", Duty.FIRE_LABEL) if foot < 0 else ()
    yield Step(
        kind=RESET,
        minutes=minutes(foot, bottom),
        text=Phrase("remedy.listed", text=text) if listing or frame else text,
        after=after,
        needs=(*listing, *frame, *when_certain(before)),
        told={"foot": Length(foot), "leaf_bottom": Length(bottom)} | ({"trim": Length(trim)} if trim else {}),
        saws=trim > 0,
        lifts=True,
    )


def _settled(before: Judged) -> Iterator[tuple[int, int]]:
    """Foot and leaf bottom of the unit set anew, uncut and cut, were it not fixed; what was trimmed stays off."""
    unit, facts, at = before.unit, before.facts, before.result.at
    free = replace(at, facts=replace(facts, as_set=None))
    moved = {CUT: -unit.trimmed, TOP: unit.trimmed}
    bounds = [Bound(b.rule, b.side, b.on, b.lower, b.limit + moved.get(b.on, 0), b.whole) for b in draw(free)]
    for settle in (settle_uncut, settle_cut):
        found, _ = on_tape(settle, bounds, undercut=unit.undercut + unit.trimmed, grid=facts.grid)
        yield found.foot, found.bottom


def _moved(unit: Unit, foot: int, bottom: int) -> Unit:
    frame = replace(unit.opening.frame, foot=Length(foot))
    opening = replace(unit.opening, frame=frame)
    return replace(unit, opening=opening, bottom=bottom, extended=False, covered=False)


# --- the legs


def fill(before: Judged, shop: Shop) -> Iterable[Step]:
    """Fillers under both legs, scribed to a hard floor and reaching under a carpet."""
    if not missed(before, Measured.LEG_COVER, Measured.FOOT):
        return
    shows = max([max(shown(before, side)) for side in before.facts.sides if side.floor])
    text = Phrase("remedy.fill_legs", shows=Length(shows)) if shows > 0 else Phrase("remedy.fill_legs.tuck")
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
    if joint is None or joint.runs_through:
        return
    hard = [side for side in before.facts.sides if side.floor and side.kind is FinishKind.HARD]
    shows = max([max(shown(before, side)) for side in hard], default=0)
    if 0 < shows <= joint.rise:
        yield Step(
            kind=COVER,
            minutes=shop.work.cover_legs,
            text=Phrase("remedy.cover_legs", piece=joint.piece.title, shows=Length(shows)),
            after=judge(replace(before.unit, covered=True), shop.catalogue),
            needs=when_certain(before),
        )
