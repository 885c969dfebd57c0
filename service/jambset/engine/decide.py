"""Chooses foot, trim and the way the cut is made from the settlements that the bounds allow."""

from __future__ import annotations

from functools import lru_cache

from msgspec import Struct

from jambset.engine.bounds import (
    CHOSEN,
    STANDING,
    Situation,
    Stand,
    draw,
    drawn_from,
    lower_leg,
    names_header,
    over_level,
)
from jambset.engine.facts import Facts, cut_angle
from jambset.engine.labour import BENCH, IN_PLACE, OFF_HINGES, Work
from jambset.engine.regime import Regime
from jambset.engine.settle import (
    FAR,
    FOOT,
    TOP,
    Bound,
    Given,
    Settlement,
    lead,
    less_given,
    on_tape,
    settle_cut,
    settle_order,
    settle_uncut,
    surely_ahead,
)
from jambset.model.advice import GaugeBlock
from jambset.model.request import FrameState
from jambset.quantity.grid import Grid
from jambset.quantity.ticks import Length

BEFORE_HANGING, BEFORE_FLOOR, AFTER_FLOOR = "before_hanging", "before_floor", "after_floor"
"""When a leaf is cut, in the order of the work."""


class Cut(Struct, frozen=True, gc=False):
    """How the leaf's bottom gets where it ends. when: one of these, or none, or unknown."""

    when: str
    where: str
    blocks: tuple[GaugeBlock, ...]


class Uncut(Struct, frozen=True, gc=False):
    """What a leaf would come to were it left whole [ticks]. wishes: what is missed then, each by how much more."""

    foot: int
    bottom: int
    wishes: tuple[tuple[str, int], ...]


class Decision(Struct, frozen=True, gc=False):
    """What is set and cut, in ticks above the datum; None where the payload doesn't tell, or nobody decided it.

    foot is negative when legs are trimmed. to_order: the undercut with which nobody has to saw, were the header no
    limit, unless one that goes in under it misses no more than wishes; order_foot: where that unit's legs then end;
    order_lost: rules that even it doesn't meet. foot_wanted: the foot if the header were no limit, and no lower than
    the foot. tape: the grid that was used.
    """

    foot: int
    undercut: int | None
    foot_wanted: int
    tape: Grid
    bottom: int | None = None
    trim: int | None = None
    to_order: int | None = None
    order_foot: int = 0
    order_lost: frozenset[str] = frozenset()
    foot_limit: int | None = None
    gave_way: tuple[Given, ...] = ()
    foot_held_by: tuple[str, ...] = ()
    leaf_held_by: tuple[str, ...] = ()
    uncut: Uncut | None = None
    """Where the leaf is cut for wishes alone."""
    cut_now: int = 0
    """Of the trim, what every floor that may come asks for."""
    cut_later: bool = False
    """Whether some floor that may come has more cut off the leaf, or the unit set again, once it lies."""

    @property
    def held_by(self) -> frozenset[str]:
        """What holds foot or leaf where they are."""
        return frozenset((*self.foot_held_by, *self.leaf_held_by))


def decide(at: Situation, work: Work, stand: Stand | None = None, *, bounds: list[Bound] | None = None) -> Decision:
    """The decision for one opening.

    stand: where it has to stand for the sake of more than the floors named. bounds: as `draw` gives them, where
    they are drawn already.
    """
    bounds = draw(at, stand, last_choice=False) if bounds is None else bounds
    order = _to_order(at, bounds) if at.facts.decided else None
    if at.facts.undercut is None:
        return _without_undercut(at, bounds, order, stand)
    if order is None:
        return _undecided(at, bounds, at.facts.undercut)
    return _known(at, bounds, order, work)


class Own(Struct, frozen=True, gc=False):
    """Of a decision, what other settings are priced against [ticks]."""

    foot: int
    undercut: int | None
    bottom: int | None
    tape: Grid
    gave_way: tuple[Given, ...]


def own_setting(at: Situation, work: Work, bounds: list[Bound]) -> Own:
    """Foot, undercut and leaf bottom as `decide` has them, and nothing else."""
    undercut = at.facts.undercut
    if undercut is None:
        found, tape = _order(bounds, at.facts.grid)
        return Own(found.foot, found.bottom - found.foot, found.bottom, tape, found.gave_way)
    if not at.facts.decided:
        decision = _undecided(at, bounds, undercut)
        return Own(decision.foot, undercut, None, decision.tape, decision.gave_way)
    found, tape, _ = _best(bounds, undercut=undercut, at=at, work=work)
    return Own(found.foot, undercut, found.bottom, tape, found.gave_way)


def _order(bounds: list[Bound], grid: Grid) -> tuple[Settlement, Grid]:
    """A unit near the subfloor with whatever undercut the floors ask for."""
    return on_tape(settle_order, bounds, undercut=0, grid=grid)


def _to_order(at: Situation, bounds: list[Bound]) -> Settlement:
    """The same under a header high enough, of a unit that isn't fixed.

    On a level subfloor it is found once for the same floors, unless air or the height of the unit ask for more.
    """
    if at.regime.by_floors and at.facts.ground.is_level:
        return _over_level(*drawn_from(at), at.facts.grid)
    return _order(_free(bounds), at.facts.grid)[0]


@lru_cache(maxsize=1024)
def _over_level(regime: Regime, heights: tuple[int, ...], silent: frozenset[str], grid: Grid) -> Settlement:
    drawn = [bound for _, bound in over_level(regime, heights, silent) if bound is not None]
    return _order(drawn, grid)[0]


def _free(bounds: list[Bound]) -> list[Bound]:
    """The bounds under a header high enough, of a unit that isn't fixed."""
    return [b for b in bounds if (b.on != TOP or b.lower) and b.rule not in STANDING]


def _under_any_header(bounds: list[Bound]) -> list[Bound]:
    return [b for b in bounds if b.on != TOP or b.lower]


def _without_undercut(at: Situation, bounds: list[Bound], order: Settlement | None, stand: Stand | None) -> Decision:
    """The unit is still to be ordered, or nobody measured it: it stands on the subfloor in either case."""
    if order is None:
        foot = at.facts.as_set or 0
        return Decision(foot=foot, undercut=None, foot_wanted=foot, tape=at.facts.grid)
    ordered = at.facts.undercut_free
    drawn = bounds if ordered else _under_any_header(bounds)  # one that is there can be cut
    under, tape = _order(drawn, at.facts.grid)
    if stand is not None or (ordered and at.regime.wishes.issuperset(_lost(under))):
        order = under  # chosen for more than the floors named, or all that isn't a wish: no header is raised for one
    return Decision(
        foot=under.foot,
        undercut=under.bottom - under.foot if ordered else None,
        bottom=under.bottom,
        trim=0 if ordered else None,
        to_order=order.bottom - order.foot,
        order_foot=order.foot,
        order_lost=_lost(order),
        foot_wanted=order.foot,
        gave_way=under.gave_way,
        foot_held_by=under.foot_held_by,
        leaf_held_by=under.bottom_held_by,
        tape=tape,
    )


def _undecided(at: Situation, bounds: list[Bound], undercut: int) -> Decision:
    """A floor is missing: feet on the subfloor, or lower where the header asks for it; the leaf stays long."""
    bounds = [b for b in bounds if b.on in (FOOT, TOP)]
    found, tape = on_tape(settle_uncut, bounds, undercut=undercut, grid=at.facts.grid)
    return Decision(
        foot=found.foot,
        undercut=undercut,
        foot_wanted=max(0, found.foot),
        gave_way=found.gave_way,
        foot_held_by=found.foot_held_by,
        tape=tape,
    )


def _known(at: Situation, bounds: list[Bound], order: Settlement, work: Work) -> Decision:
    undercut = at.facts.undercut or 0
    found, tape, plain = _best(bounds, undercut=undercut, at=at, work=work)
    cover, head = _caps(bounds, found, undercut)
    wanted = found.foot
    saws = found.bottom > found.foot + undercut
    lost = any(names_header(given.against, at) for given in found.gave_way)
    if lost or (head < cover and (found.gave_way or saws)):  # the header may take something away
        free = _best(_free(bounds), undercut=undercut, at=at, work=work)[0].foot
        wanted = max(wanted, free)
    return Decision(
        foot=found.foot,
        undercut=undercut,
        bottom=found.bottom,
        trim=found.bottom - found.foot - undercut,
        to_order=order.bottom - order.foot,
        order_foot=order.foot,
        order_lost=_lost(order),
        foot_wanted=wanted,
        foot_limit=None if _shows(found, at) else min(cover, head),
        gave_way=found.gave_way,
        foot_held_by=found.foot_held_by,
        leaf_held_by=found.bottom_held_by,
        tape=tape,
        uncut=_uncut(bounds, found, plain, at.regime.wishes) if saws and plain.foot >= 0 else None,
    )


def _uncut(bounds: list[Bound], cut: Settlement, plain: Settlement, wishes: frozenset[str]) -> Uncut | None:
    """The leaf left whole, where that gives up no more than wishes; None where it misses anything else by more."""
    lost: dict[str, int] = {}
    for bound, less in less_given(bounds, cut, plain):
        if less > 0:
            lost[bound.rule] = max(less, lost.get(bound.rule, 0))
    return Uncut(plain.foot, plain.bottom, tuple(lost.items())) if lost and wishes.issuperset(lost) else None


def _best(bounds: list[Bound], *, undercut: int, at: Situation, work: Work) -> tuple[Settlement, Grid, Settlement]:
    """Uncut unless cutting keeps a bound better, or keeps them as well for less work; its tape, and the leaf uncut.

    Where an uncut leaf keeps them all, one that is cut keeps none better, and takes the saw to have other legs.
    """
    facts, step = at.facts, at.facts.grid.step
    plain = settle_uncut(bounds, undercut=undercut, step=step)
    if not plain.gave_way and (plain.foot == 0 or _minutes(plain, facts, work) <= work.saw[BENCH]):
        return plain, facts.grid, plain
    cut, cut_tape = on_tape(settle_cut, bounds, undercut=undercut, grid=facts.grid)
    if surely_ahead(bounds, one=cut, other=plain, step=step):
        return cut, cut_tape, plain
    plain, plain_tape = on_tape(settle_uncut, bounds, undercut=undercut, grid=facts.grid, first=plain)
    ahead = lead(bounds, one=cut, other=plain, step=step, wishes=at.regime.wishes)
    cheap = _minutes(plain, facts, work) <= _minutes(cut, facts, work)
    whole = ahead < 0 or (ahead == 0 and cheap)
    return (plain, plain_tape, plain) if whole else (cut, cut_tape, plain)


def _minutes(found: Settlement, facts: Facts, work: Work) -> int:
    saws = found.bottom > found.foot + (facts.undercut or 0)
    return leg_minutes(found.foot, lower_leg(facts), work) + (work.saw[BENCH] if saws else 0)


def leg_minutes(foot: int, low: int, work: Work) -> int:
    """What it takes to set both legs at a foot [min]; those that stand on the subfloor take nothing.

    low: height of the lower leg's subfloor [ticks]. Legs that are cut are cut each to its own height.
    """
    return work.trim_legs if foot < 0 else work.block_legs if foot > low else 0


def _lost(found: Settlement) -> frozenset[str]:
    return frozenset([given.bound.rule for given in found.gave_way])


def _caps(bounds: list[Bound], found: Settlement, undercut: int) -> tuple[int, int]:
    """Highest foot that the floors allow, and the header; FAR without a bound that holds, as there is for every floor.

    Below 0 the legs must be cut.
    """
    lost = {id(given.bound) for given in found.gave_way}
    caps = [FAR, FAR, FAR, FAR]
    for bound in bounds:
        if not bound.lower and bound.limit < caps[bound.on] and id(bound) not in lost and bound.rule not in CHOSEN:
            caps[bound.on] = bound.limit
    return caps[FOOT], FAR if caps[TOP] == FAR else caps[TOP] - undercut


def _shows(found: Settlement, at: Situation) -> bool:
    """Whether the legs end higher than a rule on them, more than a wish, allows: no foot as high is within it."""
    if not found.gave_way:
        return False
    over = [given.bound for given in found.gave_way if given.bound.on == FOOT and not given.bound.lower]
    return any(bound.rule not in at.regime.wishes for bound in over)


def plan_cut(at: Situation, decision: Decision) -> Cut:
    """When, where and from which blocks the leaf is cut.

    On the bench while the unit is not set; hung, before the floor, once it is; and after the floor as
    long as one of the floors isn't certain, but for what every floor that may come asks for.
    """
    facts = at.facts
    if not decision.trim or decision.bottom is None:
        unknown = "unknown" if facts.decided else AFTER_FLOOR
        return Cut(unknown if decision.trim is None else "none", "", ())
    after = not facts.certain and decision.trim > decision.cut_now
    top = facts.pull.floor.nominal if after and facts.pull.floor else 0
    blocks = _gauge_blocks(facts, decision.bottom - top, stands_on="finish" if after else "subfloor")
    if not after and facts.opening.frame.state is not FrameState.SET:
        return Cut(BEFORE_HANGING, BENCH, blocks)
    where = saw_place(decision.bottom - top, least=saw_line(facts))
    return Cut(AFTER_FLOOR if after else BEFORE_FLOOR, where, blocks)


def saw_place(line: int, *, least: int) -> str:
    """Where a hung leaf is cut along a line [ticks]; least: the lowest along which it can be cut in place."""
    return IN_PLACE if line >= least else OFF_HINGES


def saw_line(facts: Facts) -> int:
    """Lowest line of a cut that leaves room for a saw on a guide rail, above the datum and any finish [ticks]."""
    ground = facts.ground
    high = max([max(ends) for ends in ground.gauge]) if facts.gauge_known else ground.swing_high
    return high + facts.defaults.room_to_cut


def _gauge_blocks(facts: Facts, line: int, *, stands_on: str) -> tuple[GaugeBlock, ...]:
    """Blocks under both ends of each leaf; none where no survey point stands near enough to tell their heights.

    None either where the line of the cut lies below what they would stand on, as it can while rules conflict.
    line: height of the cut above the datum, less that of what the blocks stand on [ticks].
    """
    if not facts.gauge_known or any(line < high for ends in facts.ground.gauge for high in ends):
        return ()
    return tuple(
        GaugeBlock(
            angle=cut_angle(facts.opening),
            stands_on=stands_on,
            hinge_end=Length(line - hinge),
            free_end=Length(line - free),
        )
        for hinge, free in facts.ground.gauge
    )
