"""What the advice doesn't know and who must be asked, the cautions, and what waits for whom."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from math import inf
from typing import NamedTuple

from msgspec import UNSET

from jambset.engine.air import AirFacts, carried
from jambset.engine.asks_of_joint import joint_questions
from jambset.engine.bounds import HEAD_LINE, rooms_under
from jambset.engine.checks import MOVES_AIR, Result, missed, opens_wall
from jambset.engine.conflicts import another_unit_goes_in
from jambset.engine.facts import Facts, SideFacts, narrow_by
from jambset.engine.floors import SLAB
from jambset.engine.lines import FAIL
from jambset.engine.words import GUARDED, joined, labels, leaves, place_of, through_wall
from jambset.model.advice import Caution, Check, Conflict, Minutes, Phrase, Question, Term
from jambset.model.request import Duty, FrameState
from jambset.model.source import Asked
from jambset.quantity.ticks import INCH, Flow, Length, Pressure
from jambset.rules.schema import Measured, Phase

GO, GO_WITH_TRIM, HOLD, CONFLICT = "go", "go_with_trim", "hold", "conflict"
OF_UNIT = frozenset({Phase.SETTING, Phase.LEAF})
"""Phases of the work on the unit itself."""
FLOOR_MAY_CHANGE, FLOOR_UNCONFIRMED = "floor_may_change", "floor_unconfirmed"
UNDERCUT_TO_ORDER = "undercut_to_order"
"""Of a unit that is ordered with a stated undercut and then cut. The order waits for the answer, no work does."""
AIR_SHORT = "air_short"
AIR_UNLISTED = Question(
    code="air_duty_unlisted",
    ask=Asked.HVAC_CONTRACTOR,
    text=Phrase("ask.air_duty"),
    pointer="#/duties",
    holds=(Phase.AIR,),
)
"""Of an opening with a flow of air and no duty that says what it does there, so that no rule on air holds."""
OF_FLOORS = frozenset({FLOOR_MAY_CHANGE, FLOOR_UNCONFIRMED})
"""Questions that are open as long as a floor that is named isn't certain."""


def questions(
    result: Result, checks: tuple[Check, ...], stakes: Mapping[str, int], *, later: bool
) -> tuple[Question, ...]:
    """Everything asked, what holds the work first; also what somebody's word has answered.

    stakes: minutes that knowing a side's floor is worth, by side. later: whether the leaf may have to be cut once
    the floors lie.
    """
    asked = (
        *_floor_questions(result, stakes, later=later),
        *_thickness_questions(result),
        *_fixing_questions(result),
        *joint_questions(result.at.facts, result.at.joint),
        *_unit_questions(result),
        *_air_questions(result, checks),
        *rule_questions(result, checks),
    )
    return (*[q for q in asked if q.holds], *[q for q in asked if not q.holds])


def _floor_questions(result: Result, stakes: Mapping[str, int], *, later: bool) -> Iterator[Question]:
    for side in result.at.facts.sides:
        if side.certain:
            continue
        holds = (
            *((Phase.LEAF,) if later else ()),
            *((Phase.AIR,) if side.floor is None else ()),
            Phase.TRANSITION,
            Phase.FLOORING,
        )
        if side.others or (side.listed and not side.confirmed):
            yield _side_question(FLOOR_MAY_CHANGE, side, holds=holds, stakes=stakes)
        elif side.floor is None:
            yield _side_question("floor_undecided", side, holds=holds, stakes=stakes)
        else:
            yield _side_question(FLOOR_UNCONFIRMED, side, holds=holds, stakes=stakes)
    if result.at.facts.opening.subfloor is UNSET:
        yield Question(
            code="subfloor_unmeasured", ask=Asked.FINISH_CARPENTER, text=Phrase("ask.subfloor"), pointer="#/subfloor"
        )
    if result.decision.trim and not result.at.facts.gauge_known:
        yield Question(
            code="survey_far", ask=Asked.FINISH_CARPENTER, text=Phrase("ask.survey"), pointer="#/subfloor/points"
        )


THICKNESS_UNKNOWN = "layer_thickness_unknown"
NEAR = INCH // 8
"""Half of what lies between a wanted gap and an accepted one [ticks]: a cut that comes out so far off harms nobody."""


def _thickness_questions(result: Result) -> Iterator[Question]:
    """Typical thicknesses hold a cut, or an order, that they may be well off for; one hardly meant holds all work."""
    for_good = result.decision.trim or result.at.facts.undercut_free
    for side in result.at.facts.sides:
        holds = (Phase.LEAF,) if for_good and side.doubt > NEAR else ()
        for pointer, one in side.unusual:
            kind = one.material
            yield Question(
                code="thickness_unusual",
                ask=Asked.FLOORING_INSTALLER,
                text=Phrase(
                    "ask.unusual",
                    layer=Term(kind.id.replace("_", " ")),
                    given=Length(one.thickness),
                    least=kind.least,
                    greatest=kind.greatest,
                ),
                pointer=pointer,
                holds=(Phase.SETTING, Phase.LEAF),
            )
        for place, layer in enumerate(side.layers):
            if layer.thickness is UNSET:
                bare = side.floor is not None and side.floor.body == SLAB and layer is side.layers[-1]
                code = "ask.coating" if bare else "ask.thickness"
                yield Question(
                    code=THICKNESS_UNKNOWN,
                    ask=Asked.FLOORING_INSTALLER,
                    text=Phrase(code, layer=Term(layer.material.replace("_", " "))),
                    pointer=f"{side.pointer}/{place}/thickness",
                    holds=holds,
                )


def _fixing_questions(result: Result) -> Iterator[Question]:
    """A carpet without a cushion is mostly glued down; taken for stretched, it lifts the leaf by more than it needs."""
    for side in result.at.facts.sides:
        if side.loose:
            yield Question(
                code="carpet_fixing",
                ask=Asked.FLOORING_INSTALLER,
                text=Phrase("ask.fixing", place=place_of(side)),
                pointer=f"{side.pointer}/{len(side.layers) - 1}/fixing",
                holds=(Phase.LEAF,) if result.decision.trim else (),
            )


def _side_question(code: str, side: SideFacts, *, holds: tuple[str, ...], stakes: Mapping[str, int]) -> Question:
    floors = joined(labels(side), "part.floors_and") if side.floors else ""
    alike = ".alike" if code == FLOOR_MAY_CHANGE and not side.others else ""
    text = Phrase(f"ask.{code}{alike}", place=place_of(side), floors=floors)
    return Question(
        code=code,
        ask=Asked.SUPERINTENDENT,
        text=text,
        pointer=f"#/{side.name}/build_up",
        holds=holds,
        minutes_at_stake=Minutes(stakes[side.name]) if side.name in stakes else UNSET,
    )


HEADER_UNKNOWN = Question(
    code="rough_opening_unknown", ask=Asked.FRAMER, text=Phrase("ask.rough_opening"), pointer="#/rough_opening"
)


def _unit_questions(result: Result) -> Iterator[Question]:
    facts = result.at.facts
    is_set = facts.opening.frame.state is FrameState.SET
    if is_set and facts.as_set is None:
        yield Question(
            code="foot_unknown",
            ask=Asked.FINISH_CARPENTER,
            text=Phrase("ask.foot"),
            pointer="#/frame/foot",
            holds=(Phase.LEAF,),
        )
    yield from frame_questions(result)
    if facts.undercut is None and not facts.undercut_free:
        yield Question(
            code="undercut_unknown",
            ask=Asked.FINISH_CARPENTER,
            text=Phrase("ask.undercut"),
            pointer="#/frame/undercut",
            holds=(Phase.SETTING, Phase.LEAF),
        )
    elif _sawn_for_its_undercut(result):
        yield Question(
            code=UNDERCUT_TO_ORDER,
            ask=Asked.SUPERINTENDENT,
            text=Phrase(
                "ask.undercut_to_order",
                present=Length(result.decision.undercut or 0),
                undercut=Length(result.decision.to_order or 0),
                leaves=leaves(facts),
            ),
        )
    if facts.header is None and not is_set:
        yield HEADER_UNKNOWN
    if (narrow := narrow_by(facts)) and not is_set:
        yield Question(
            code="rough_opening_narrow",
            ask=Asked.FRAMER,
            text=Phrase("ask.narrow", short=Length(narrow), needed=Length(facts.width_needed)),
            pointer="#/rough_opening/width",
            holds=(Phase.SETTING,) if narrow > facts.defaults.side_shims else (),
        )
    if Duty.FIRE_LABEL in facts.duties and facts.opening.leaf.fire_minutes is UNSET:
        yield Question(
            code="fire_minutes_unknown",
            ask=Asked.DOOR_SUPPLIER,
            text=Phrase("ask.fire_minutes"),
            pointer="#/leaf/fire_minutes",
        )


def _sawn_for_its_undercut(result: Result) -> bool:
    """Whether a leaf that isn't bought yet is cut for the undercut that is stated, and with another needed no saw."""
    decision, to_order = result.decision, result.at.facts.opening.frame.state is FrameState.TO_ORDER
    lined = HEAD_LINE in decision.held_by
    meets = result.at.regime.wishes.issuperset(decision.order_lost)
    return to_order and bool(decision.trim) and not lined and meets and another_unit_goes_in(result)


def frame_questions(result: Result) -> Iterator[Question]:
    """Whether the legs of a labelled frame may be cut, to set it or for a floor."""
    facts = result.at.facts
    if Duty.FIRE_LABEL not in facts.duties:
        return
    shorter, (room, _) = result.decision.foot < 0, rooms_under(result.at, result.decision.foot)
    undercut = any(side.floor is not None and room < side.floor.solid for side in facts.sides)
    is_set = facts.opening.frame.state is FrameState.SET
    text = "" if shorter else ".set" if is_set else ".floor"
    of_unit = (Phase.SETTING, Phase.LEAF) if shorter or not is_set else ()
    if shorter or undercut:
        yield Question(
            code="frame_label",
            ask=Asked.DOOR_SUPPLIER,
            text=Phrase(f"ask.frame_label{text}"),
            holds=(*of_unit, *((Phase.FLOORING,) if undercut else ())),
        )


def _air_questions(result: Result, checks: tuple[Check, ...]) -> Iterator[Question]:
    air = result.at.air
    if MOVES_AIR.isdisjoint(result.at.facts.duties):
        if air.supply is not None:
            yield AIR_UNLISTED
        return
    if air.supply is None:
        yield Question(
            code="supply_flow_unknown",
            ask=Asked.HVAC_CONTRACTOR,
            text=Phrase("ask.supply_flow"),
            pointer="#/air/supply_flow",
            holds=(Phase.AIR,),
        )
    if air.limit is None:
        yield Question(
            code="pressure_limit_unknown",
            ask=Asked.HVAC_CONTRACTOR,
            text=_ask_limit(result),
            pointer="#/air/pressure_limit",
            holds=(Phase.AIR,),
        )
    if _wishes_air(result, checks):
        yield _air_short(air, result.slot or 0)


def _ask_limit(result: Result) -> Phrase:
    """What pressure is allowed, with what it comes to here: who designs the air sees where that is far too much."""
    supply, pressure = result.at.air.supply, result.pressure
    if supply is None or pressure is None:
        return Phrase("ask.pressure_limit")
    if pressure == inf:
        return Phrase("ask.pressure_limit.beyond", supply=Flow(supply), most=Pressure(Pressure.GREATEST))
    return Phrase("ask.pressure_limit.at", supply=Flow(supply), pressure=Pressure(pressure))


def _wishes_air(result: Result, checks: tuple[Check, ...]) -> bool:
    """Whether less air passes than is wished for: no conflict tells of it, and the room is short all the same."""
    wishes = result.at.regime.wishes
    return any(c.quantity == Measured.ROOM_PRESSURE and c.rule in wishes for c in missed(checks))


def _air_short(air: AirFacts, gap: int) -> Question:
    assert air.supply is not None  # a pressure is read at a supply
    assert air.limit is not None  # and missed against a limit
    passes = carried(air, air.slot, gap)
    return Question(
        code=AIR_SHORT,
        ask=Asked.HVAC_CONTRACTOR,
        text=Phrase(
            "ask.air_short",
            short=Flow(air.supply - passes),
            supply=Flow(air.supply),
            passes=Flow(passes),
            limit=Pressure(air.limit),
        ),
        pointer="#/air/other_paths",
        holds=(Phase.AIR,),
    )


def rule_questions(result: Result, checks: tuple[Check, ...]) -> tuple[Question, ...]:
    """What rules ask of this opening."""
    asked = result.at.regime.questions
    return tuple([asked[check.rule] for check in checks if check.rule in asked]) if asked else ()


def cautions(result: Result) -> tuple[Caution, ...]:
    """Dangers that go with what is advised here, and with the opening itself."""
    return result.at.regime.cautions[result.decision.trim != 0]


def wall_cautions(facts: Facts) -> tuple[Caution, ...]:
    """What to mind of a grille or duct that is there already, in the wall beside a door against fire or smoke."""
    if facts.duties.isdisjoint(GUARDED):
        return ()
    return _of_wall(facts.duties & GUARDED) if opens_wall(facts) else ()


@lru_cache(maxsize=4)
def _of_wall(duties: frozenset[Duty]) -> tuple[Caution, ...]:
    return (Caution(code="wall_opening", text=through_wall(Phrase("caution.wall_opening"), duties)),)


def is_on_unit(asked: Question | Conflict) -> bool:
    """Whether work on the unit itself waits for the answer or the decision."""
    return not OF_UNIT.isdisjoint(asked.holds)


def of_air(asked: Iterable[Question]) -> tuple[Phrase, ...]:
    """What is still to be asked about the air that passes a door, which waits for no work on it."""
    return tuple([question.text for question in asked if _is_of_air(question)])


def _is_of_air(question: Question) -> bool:
    return question.code in (AIR_SHORT, AIR_UNLISTED.code)


class Waits(NamedTuple):
    """What of the work on the unit waits for somebody, the first thing that it waits for, and how many there are.

    held: setting, leaf, both, or none: then it is something beside the door that waits.
    """

    held: frozenset[str]
    first: Phrase
    things: int


def waits(found: tuple[Conflict, ...], open_: tuple[Question, ...]) -> Waits | None:
    """What somebody has to decide or answer about the unit, else about its air; None where nobody is waited for."""
    asked: list[Conflict | Question] = [*found, *filter(is_on_unit, open_)]
    asked = asked or [question for question in open_ if _is_of_air(question)]
    if not asked:
        return None
    held = frozenset([phase for one in asked for phase in one.holds]) & OF_UNIT
    first = next(one for one in asked if not held or not held.isdisjoint(one.holds))
    return Waits(held, first.text, len(asked))


def verdict(result: Result, lost: tuple[Check, ...], found: tuple[Conflict, ...], open_: tuple[Question, ...]) -> str:
    """conflict: a rule that is never relaxed fails. hold: somebody must agree or answer first.

    lost: the checks that aren't met.
    """
    if FAIL in [check.status for check in lost]:
        return CONFLICT
    if found or any(map(is_on_unit, open_)):
        return HOLD
    return GO_WITH_TRIM if result.decision.trim or result.decision.foot < 0 else GO
