"""A unit as it stands, and as a remedy would leave it, held against every rule.

A recheck and each of its remedies is a Unit: an opening whose frame is set, where its leaf ends, and what was
fitted below legs and leaf. All are judged the same way, so what a remedy is said to do was worked out.
"""

from __future__ import annotations

from msgspec import UNSET, Struct
from msgspec.structs import replace

from jambset.engine.assess import rules_for
from jambset.engine.bounds import Situation
from jambset.engine.checks import Result, check_all
from jambset.engine.decide import Decision
from jambset.engine.facts import PULL, PUSH, Facts, gather
from jambset.engine.floors import Floor, is_same, lying, raised
from jambset.engine.lines import FAIL, MISSED, Fixed, is_firm
from jambset.engine.scenarios import situation
from jambset.engine.swing import Ground
from jambset.model.advice import Check
from jambset.model.request import Opening
from jambset.model.source import Force
from jambset.quantity.ticks import Length
from jambset.rules.schema import Catalogue, FinishKind, Measured, Relation, Rule, Topic

LAWFUL = frozenset({Force.LAW, Force.STANDARD})
"""A rule of these forces that is missed makes a state unlawful, as far as the rules known here go."""


class Unit(Struct, frozen=True, gc=False):
    """A unit that is set [ticks, above the datum], and what was fitted to it since.

    opening: its frame is set, with its undercut and its foot, where the lower of its legs ends. hinge, strike: by
    how much each leg ends above that. pull_top, push_top: of a floor that lies, since somebody measured the gap down
    to it, as thick as that says. extended: fillers hide what showed below the legs; covered: the piece does, on hard
    floors. reach: what a seal closes of the gap under the leaf, never counted against fire. pull_raised, push_raised:
    what was added under a floor. again: whether it was taken out and set anew.
    """

    opening: Opening
    bottom: int
    hinge: int
    strike: int
    pull_top: int | None
    push_top: int | None
    extended: bool = False
    covered: bool = False
    reach: int = 0
    pull_raised: int = 0
    push_raised: int = 0
    again: bool = False

    @property
    def foot(self) -> int:
        """Where the lower leg ends; below 0 where the legs are cut shorter than made."""
        foot = self.opening.frame.foot
        return 0 if foot is UNSET else int(foot)

    @property
    def undercut(self) -> int:
        """Leaf bottom to frame bottom, as made."""
        undercut = self.opening.frame.undercut
        return 0 if undercut is UNSET else int(undercut)

    @property
    def gauged(self) -> frozenset[str]:
        """Sides on which somebody measured the gap."""
        tops = ((PULL, self.pull_top), (PUSH, self.push_top))
        return frozenset([side for side, top in tops if top is not None])

    @property
    def trimmed(self) -> int:
        """What is cut off the leaf."""
        return self.bottom - self.foot - self.undercut


class Judged(Struct, frozen=True, eq=False):
    """A unit held against every rule. missed: rules that are, strongest first; firm: those that aren't wishes."""

    unit: Unit
    result: Result
    checks: tuple[Check, ...]
    missed: tuple[str, ...]
    firm: tuple[str, ...]
    failing: tuple[str, ...]
    """Rules missed that are never relaxed."""
    unlawful: tuple[str, ...]
    """Rules of law or standard that are missed."""
    if_listed: tuple[str, ...]
    """Rules missed that a seal would meet were its reach counted: that is for the door's listing to say."""

    @property
    def facts(self) -> Facts:
        """The facts of the opening."""
        return self.result.at.facts


def judge(unit: Unit, catalogue: Catalogue) -> Judged:
    """A unit held against every rule in force for its opening.

    A seal counts where a rule on smoke names it as another way of meeting it (BS 8214: at most 3 mm, else a threshold
    seal), and for what is only wished. It never counts for a rule on fire: the gap under a labelled door goes down to
    the floor, and only a product's own listing allows a wider one (NFPA 80, 4.8.4).
    """
    facts = _as_laid(gather(unit.opening, catalogue), unit)
    bare = situation(facts, rules_for(unit.opening, catalogue), catalogue)
    at = replace(bare, fixed=_fixed(unit, bare))
    result = Result(at, decision_of(unit, at.facts), reach=unit.reach)
    checks, if_listed = _sealed(unit, bare, result) if unit.reach else (check_all(result), ())
    broken = _missed(checks)
    rules = {name: at.regime.by_id[name].rule for name in broken}
    return Judged(
        unit=unit,
        result=result,
        checks=checks,
        missed=tuple(broken),
        firm=tuple([name for name, rule in rules.items() if is_firm(rule) and _is_due(rule, unit)]),
        failing=tuple([name for name, status in broken.items() if status == FAIL]),
        unlawful=tuple([name for name, rule in rules.items() if rule.force in LAWFUL]),
        if_listed=if_listed,
    )


def _sealed(unit: Unit, bare: Situation, result: Result) -> tuple[tuple[Check, ...], tuple[str, ...]]:
    """The checks of a unit with a seal, those on fire as if it had none; and the rules that only this makes it miss."""
    unsealed = Result(replace(bare, fixed=_fixed(replace(unit, reach=0), bare)), result.decision)
    counted, rules = check_all(result), bare.regime.by_id
    checks = tuple(
        [
            plain if rules[plain.rule].rule.topic is Topic.FIRE else sealed
            for plain, sealed in zip(check_all(unsealed), counted, strict=True)
        ]
    )
    still = _missed(counted)
    return checks, tuple([name for name in _missed(checks) if name not in still])


def _missed(checks: tuple[Check, ...]) -> dict[str, str]:
    """The rules that some checks miss, each with what that is called."""
    return {check.rule: check.status for check in checks if check.status in MISSED}


def _as_laid(facts: Facts, unit: Unit) -> Facts:
    """The facts with the floors that the unit's remedies raised, and those that a gap was measured to."""
    more = (unit.pull_raised, unit.push_raised)
    if not any(more) and not unit.gauged:
        return facts
    floors = [floor and raised(floor, layer) for floor, layer in zip(_lying(facts, unit), more, strict=True)]
    sides = [replace(side, floor=floor) for side, floor in zip(facts.sides, floors, strict=True)]
    return replace(facts, pull=sides[0], push=sides[1])


def _lying(facts: Facts, unit: Unit) -> list[Floor | None]:
    """The floors of both sides, those that a gap was measured to as high as it says.

    One that runs through is as thick on either side; of two readings the one that leaves less below the leaf counts.
    """
    tops: tuple[int | None, ...] = (unit.pull_top, unit.push_top)
    if runs_through(facts):
        tops = (max([top for top in tops if top is not None], default=None),) * 2
    return [
        side.floor if side.floor is None or top is None else lying(side.floor, top)
        for side, top in zip(facts.sides, tops, strict=True)
    ]


def measured(facts: Facts, unit: Unit) -> frozenset[str]:
    """Sides whose gap is known from measuring: of a floor that runs through both, wherever that was."""
    return frozenset((PULL, PUSH)) if unit.gauged and runs_through(facts) else unit.gauged


def runs_through(facts: Facts) -> bool:
    """Whether one floor lies on both sides."""
    pull, push = facts.pull.floor, facts.push.floor
    return pull is not None and push is not None and is_same(pull, push)


def _is_due(rule: Rule, unit: Unit) -> bool:
    """Whether a unit is to be given what a rule asks: room to shim over its head only while it is out for more."""
    return unit.again or rule.measured is not Measured.HEAD_SHIM


def decision_of(unit: Unit, facts: Facts) -> Decision:
    """A unit as if it had been decided so."""
    return Decision(
        foot=unit.foot,
        undercut=unit.undercut,
        bottom=unit.bottom,
        trim=unit.trimmed,
        foot_wanted=unit.foot,
        tape=facts.grid,
    )


def rooms(unit: Unit, level: Ground) -> tuple[int, int]:
    """What is left between each leg and its subfloor [ticks]; nothing under a leg that is cut to stand on it."""
    legs = ((unit.hinge, level.hinge_leg), (unit.strike, level.strike_leg))
    hinge, strike = (max(0, unit.foot + above - under) for above, under in legs)
    return hinge, strike


def _fixed(unit: Unit, at: Situation) -> tuple[int, ...]:
    """The heights that rules are measured from, as the unit's legs and what is fitted below it change them.

    A leg that ends higher than the other counts as one that stands as much lower.
    """
    fixed, facts = list(at.fixed), at.facts
    level = facts.ground
    legs = (level.hinge_leg - unit.hinge, level.strike_leg - unit.strike)
    fixed[Fixed.LOW_LEG], fixed[Fixed.HIGH_LEG] = min(legs), max(legs)
    for place, side in enumerate(facts.sides):
        if side.floor is None:
            continue
        cover = fixed[Fixed.LOW_LEG] + side.floor.least
        soft = side.floor.kind is FinishKind.CARPET
        if unit.extended or (unit.covered and not soft):
            cover = max(cover, unit.foot + (_tucked(at, side.name) if soft else 0))
        fixed[Fixed.PULL_COVER + place] = cover
        bed = fixed[Fixed.LOW_LEG] + side.floor.bed.least
        fixed[Fixed.PULL_BED + place] = max(bed, unit.foot - _carpet_foot(at)) if unit.extended else bed
        top = fixed[Fixed.PULL_LEAST + place]
        fixed[Fixed.PULL_LEAST + place] = max(top, min(unit.bottom, top + unit.reach))
    return tuple(fixed)


def _tucked(at: Situation, side: str) -> int:
    """How far a filler has to reach below the pile of a side: as far as the rules there ask."""
    return max(_limits(at, Measured.LEG_COVER, Relation.AT_LEAST, side), default=0)


def _carpet_foot(at: Situation) -> int:
    """How high a filler's bottom may stand under carpet; as high as it will where no rule says."""
    either = [limit for side in (PULL, PUSH) for limit in _limits(at, Measured.FOOT, Relation.AT_MOST, side)]
    return min(either, default=Length.GREATEST)


def _limits(at: Situation, measured: Measured, relation: Relation, side: str) -> list[int]:
    rulings = [r for r in at.regime.checked if r.measured is measured and r.applied.rule.relation is relation]
    return [int(r.limit) for r in rulings if any(line.side == side for line in r.lines)]
