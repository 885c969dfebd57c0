"""What kind of opening one is: all that the conditions of rules ask besides duties and date, and no height.

The core, what the rooms are for, the building, which finishes meet, the project's own values: the doors of
a house share a handful of kinds.
"""

from __future__ import annotations

from typing import NamedTuple

from msgspec import UNSET, UnsetType

from jambset.engine.facts import Facts
from jambset.model.request import Building, Core, ProjectRules, RoomUse
from jambset.rules.schema import FinishKind, When
from jambset.rules.select import Selection


class Kind(NamedTuple):
    """What the conditions of rules ask of an opening. flow: [m³/s], None unless a rule asks for it.

    pull, push: the named finish. header: whether its height is known.
    """

    pull: FinishKind
    push: FinishKind
    header: bool
    core: Core
    pull_use: RoomUse | UnsetType
    push_use: RoomUse | UnsetType
    building: Building
    natural_draft: bool | UnsetType
    flow: float | None
    project_rules: ProjectRules
    pressure_limit: float | None

    @property
    def decided(self) -> bool:
        """Whether both floors are named."""
        return FinishKind.UNDECIDED not in (self.pull, self.push)


def kind_of(facts: Facts, selection: Selection) -> Kind:
    """The kind of an opening, for rules selected for its place, duties and date."""
    opening = facts.opening
    air = opening.air
    flow = air.supply_flow
    return Kind(
        pull=facts.pull.kind,
        push=facts.push.kind,
        header=facts.header is not None,
        core=opening.leaf.core,
        pull_use=opening.pull_side.use,
        push_use=opening.push_side.use,
        building=opening.building,
        natural_draft=air.natural_draft_appliance,
        flow=None if flow is UNSET or not selection.asks_flow else float(flow),
        project_rules=opening.project_rules,
        pressure_limit=None if air.pressure_limit is UNSET else float(air.pressure_limit),
    )


def meets(when: When, kind: Kind) -> bool:
    """Whether the conditions on building, leaf, rooms and air hold; duties were met when rules were selected."""
    building, use = kind.building, kind.building.use
    year = building.year_built
    return (
        (not when.cores or kind.core in when.cores)
        and (not when.uses or kind.pull_use in when.uses or kind.push_use in when.uses)
        and (not when.buildings or use in when.buildings)
        and use not in when.not_buildings
        and (when.built_before is UNSET or (year is not UNSET and year < when.built_before))
        and when.existing_threshold in (UNSET, building.existing_threshold)
        and when.natural_draft in (UNSET, kind.natural_draft)
        and _meets_flow(when, kind.flow)
    )


def _meets_flow(when: When, flow: float | None) -> bool:
    if flow is None:  # unknown: the rule for small flows is the stricter one
        return when.flow_at_least is UNSET
    return (when.flow_at_least is UNSET or flow >= when.flow_at_least) and (
        when.flow_below is UNSET or flow < when.flow_below
    )
