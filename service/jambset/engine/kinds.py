"""The kind of an opening, and which rules its circumstances call for: all that conditions look at, and no height.

The core, what the rooms are for, the building and the air say which rules hold; which finishes meet and the project's
own values, how they are held. The doors of a house share a handful of kinds, those of a town some hundreds.
"""

from __future__ import annotations

from functools import lru_cache

from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine.facts import Facts
from jambset.model.request import Building, BuildingUse, Core, ProjectRules, RoomUse
from jambset.rules.schema import FinishKind, Relation, When
from jambset.rules.select import Applied, Selection


class Circumstances(Struct, frozen=True, gc=False, cache_hash=True):
    """What conditions of rules ask of an opening besides kinds of finish.

    bodies: what the named finishes are made of. flow: [m³/s]. heated: whether a floor that may come is. Left out
    unless a rule asks for them.
    """

    core: Core
    pull_use: RoomUse | UnsetType
    push_use: RoomUse | UnsetType
    building: Building
    natural_draft: bool | UnsetType
    flow: float | None
    bodies: tuple[str, ...]
    heated: bool
    fire_minutes: int | UnsetType


class Kind(Struct, frozen=True, gc=False):
    """How rules are held against an opening. pull, push: the named finish. header: whether its height is known.

    glued: sides whose finish is glued down.
    """

    pull: FinishKind
    push: FinishKind
    header: bool
    glued: tuple[str, ...]
    project_rules: ProjectRules
    pressure_limit: float | None

    @property
    def decided(self) -> bool:
        """Whether both floors are named."""
        return FinishKind.UNDECIDED not in (self.pull, self.push)


def kind_of(facts: Facts) -> Kind:
    """The kind of an opening."""
    most = facts.opening.air.pressure_limit
    return Kind(
        pull=facts.pull.kind,
        push=facts.push.kind,
        header=facts.header is not None,
        glued=tuple([side.name for side in facts.sides if side.floor is not None and side.floor.glued]),
        project_rules=facts.opening.project_rules,
        pressure_limit=None if most is UNSET else float(most),
    )


def called_for(facts: Facts, selection: Selection) -> tuple[Applied, ...]:
    """Of the rules selected for an opening's place, duties and date, those that its circumstances call for."""
    return _called_for(selection, circumstances(facts, selection))


def circumstances(facts: Facts, selection: Selection) -> Circumstances:
    """What the conditions of some rules ask of an opening."""
    opening = facts.opening
    flow = opening.air.supply_flow
    return Circumstances(
        core=opening.leaf.core,
        pull_use=opening.pull_side.use,
        push_use=opening.push_side.use,
        building=opening.building,
        natural_draft=opening.air.natural_draft_appliance,
        flow=None if flow is UNSET or not selection.asks_flow else float(flow),
        bodies=_bodies(facts) if selection.asks_bodies else (),
        heated=selection.asks_heated and True in [floor.heated for side in facts.sides for floor, _ in side.floors],
        fire_minutes=opening.leaf.fire_minutes,
    )


def _bodies(facts: Facts) -> tuple[str, ...]:
    return tuple([side.floor.body for side in facts.sides if side.floor is not None])


@lru_cache(maxsize=8192)
def _called_for(selection: Selection, asked: Circumstances) -> tuple[Applied, ...]:
    return _once(tuple([applied for applied in selection.rules if meets(applied.rule.when, asked)]))


@lru_cache(maxsize=2048)
def _once(rules: tuple[Applied, ...]) -> tuple[Applied, ...]:
    """The first equal tuple, so that what is made of it is found by identity."""
    return rules


def meets(when: When, asked: Circumstances) -> bool:
    """Whether the conditions on building, leaf, floors, rooms and air hold; on duties they did at the selection."""
    building, use = asked.building, asked.building.use
    year = building.year_built
    return (
        (not when.cores or asked.core in when.cores)
        and (not when.bodies or not {*when.bodies}.isdisjoint(asked.bodies))
        and not _exempt(when, asked.fire_minutes)
        and (not when.uses or asked.pull_use in when.uses or asked.push_use in when.uses)
        and (not when.buildings or use in when.buildings)
        and use not in when.not_buildings
        and (when.built_before is UNSET or (year is not UNSET and year < when.built_before))
        and when.existing_threshold in (UNSET, building.existing_threshold)
        and when.natural_draft in (UNSET, asked.natural_draft)
        and (not when.heated or asked.heated)
        and _meets_flow(when, asked.flow)
    )


def passed_over(selection: Selection, asked: Circumstances) -> tuple[Applied, ...]:
    """Rules that an older building would call for, where nobody states the building's year."""
    return _passed_over(selection, asked) if asked.building.year_built is UNSET else ()


@lru_cache(maxsize=1024)
def _passed_over(selection: Selection, asked: Circumstances) -> tuple[Applied, ...]:
    older = replace(asked, building=replace(asked.building, year_built=0))
    return _beyond(_called_for(selection, older), _called_for(selection, asked))


def by_use(selection: Selection, asked: Circumstances) -> tuple[Applied, ...]:
    """Rules that some kind of building would call for, where nobody states the kind and its duties hang on it."""
    return _by_use(selection, asked) if asked.building.use is UNSET else ()


@lru_cache(maxsize=1024)
def _by_use(selection: Selection, asked: Circumstances) -> tuple[Applied, ...]:
    held = _called_for(selection, asked)
    kinds = [replace(asked, building=replace(asked.building, use=use)) for use in BuildingUse]
    rules = {a.rule.id: a for kind in kinds for a in _beyond(_called_for(selection, kind), held)}
    firm = tuple([a for a in rules.values() if a.rule.relation is not Relation.CAUTION])
    return firm if any(a.rule.when.duties for a in firm) else ()


def not_yet(facts: Facts, selection: Selection, latest: Selection) -> tuple[Applied, ...]:
    """Rules other than cautions that are called for by the latest editions and not by those of a permit date."""
    rules = _beyond(called_for(facts, latest), called_for(facts, selection))
    return tuple([applied for applied in rules if applied.rule.relation is not Relation.CAUTION])


@lru_cache(maxsize=1024)
def _beyond(called: tuple[Applied, ...], held: tuple[Applied, ...]) -> tuple[Applied, ...]:
    """Of the rules called for those that aren't among those held."""
    known = {applied.rule.id for applied in held}
    return tuple([applied for applied in called if applied.rule.id not in known])


def _exempt(when: When, minutes: int | UnsetType) -> bool:
    """Whether a leaf's stated rating is too low or too high for the rule; one without a stated rating isn't exempt."""
    if minutes is UNSET:
        return False
    above, below = when.fire_minutes_above, when.fire_minutes_below
    return (above is not UNSET and minutes <= above) or (below is not UNSET and minutes >= below)


def _meets_flow(when: When, flow: float | None) -> bool:
    if flow is None:  # unknown: the rule for small flows is the stricter one
        return when.flow_at_least is UNSET
    return (when.flow_at_least is UNSET or flow >= when.flow_at_least) and (
        when.flow_below is UNSET or flow < when.flow_below
    )
