"""One step of a remedy: how it is offered, priced and said, and what it needs of others first."""

from __future__ import annotations

from typing import Any, NamedTuple

from msgspec import Struct

from jambset.engine.labour import Work
from jambset.engine.lines import MISSED
from jambset.engine.standing import Judged
from jambset.model.advice import Check, Phrase
from jambset.model.recheck import Need
from jambset.model.request import Duty
from jambset.model.source import Asked
from jambset.rules.schema import Catalogue, Measured, Rule, Topic

TRIM, RESET, LEAF, UNIT, FILL, COVER, RAISE, PIECE, SEAL, GRILLE = (
    "trim",
    "reset",
    "other_leaf",
    "other_unit",
    "fill_legs",
    "cover_legs",
    "raise_floor",
    "change_piece",
    "bottom_seal",
    "transfer_grille",
)


class Shop(NamedTuple):
    """What remedies are made from: the catalogue and this crew's minutes.

    foot: where a unit set again is to stand, where its head line says so [ticks].
    """

    catalogue: Catalogue
    work: Work
    foot: int | None = None


class Step(Struct, frozen=True, eq=False):
    """One remedy: the unit as it leaves it, judged. told: what the answer says of it besides, by field.

    saws: whether the leaf is cut. lifts: whether it is taken off its hinges. cuts: whether leaf, legs or wall are
    cut, which nobody undoes. for_air: whether the leaf of a door that holds back fire or smoke is raised further than
    anything but air asks for.
    """

    kind: str
    minutes: int
    text: Phrase
    after: Judged
    needs: tuple[Need, ...]
    told: dict[str, Any] = {}
    saws: bool = False
    lifts: bool = False
    cuts: bool = False
    for_air: bool = False


FLOORS_CERTAIN = "floors_certain"


def weight(judged: Judged) -> tuple[int, int, int]:
    """How much a unit misses: rules never relaxed, firm rules, all."""
    return (len(judged.failing), len(judged.firm), len(judged.missed))


def missed(before: Judged, *measured: Measured) -> list[Check]:
    """The checks of some quantities that aren't met."""
    return [c for c in before.checks if c.status in MISSED and c.quantity in measured]


def need(code: str, ask: Asked, **values: Any) -> Need:
    """What somebody has to say before a remedy is begun. values: of its text."""
    return Need(code=code, ask=ask, text=Phrase(f"need.{code}", **values))


def for_labels(before: Judged, code: str, *duties: Duty) -> tuple[Need, ...]:
    """That the listing decides, where the opening has one of these duties."""
    return () if before.facts.duties.isdisjoint(duties) else (need(code, Asked.DOOR_SUPPLIER),)


def for_cut(before: Judged, after: Judged) -> tuple[Need, ...]:
    """What the listing of a labelled leaf that hangs allows to be cut off it; as a rule asks it, where one does."""
    regime = after.result.at.regime
    asked = [question for code, question in regime.questions.items() if _is_of_cut(regime.by_id[code].rule)]
    by_rule = tuple([Need(code=one.code, ask=one.ask, text=one.text) for one in asked])
    return by_rule or for_labels(before, "listing", Duty.FIRE_LABEL)


def _is_of_cut(rule: Rule) -> bool:
    return rule.topic is Topic.FIRE and rule.when.trimmed is True


def when_certain(before: Judged) -> tuple[Need, ...]:
    """That the floors must be certain before what can't be undone, or would be done in vain."""
    return () if before.facts.certain else (need(FLOORS_CERTAIN, Asked.SUPERINTENDENT),)
