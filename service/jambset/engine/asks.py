"""What the advice doesn't know and who must be asked, what is in conflict, and the cautions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache, lru_cache
from math import inf
from typing import NamedTuple

from msgspec import UNSET
from msgspec.structs import replace

from jambset.engine.air import AirFacts, carried
from jambset.engine.asks_of_joint import joint_questions
from jambset.engine.bounds import (
    AS_SET,
    BLOCK_SIZES,
    CHOSEN,
    FLOORS,
    HEAD_LINE,
    HEADER,
    STANDING,
    names_header,
    rooms_under,
)
from jambset.engine.checks import (
    MOVES_AIR,
    Result,
    breaks,
    missed,
    opens_wall,
    order_height,
    short,
    shortfall,
)
from jambset.engine.decide import Decision
from jambset.engine.facts import Facts, SideFacts, narrow_by
from jambset.engine.floors import SLAB
from jambset.engine.lines import AIR, BELOW, FAIL, is_firm, is_never_relaxed
from jambset.engine.settle import Given
from jambset.engine.transition import others, with_piece
from jambset.engine.words import GUARDED, if_listed, joined, labels, leaves, place_of, subfloor, through_wall, title_of
from jambset.model.advice import AirAdvice, Caution, Check, Conflict, Minutes, Phrase, Question, Term, WayOut, quote
from jambset.model.request import Duty, FrameState
from jambset.model.source import Asked
from jambset.quantity.ticks import INCH, Flow, Length, Pressure, floor_to
from jambset.rules.schema import Catalogue, Measured, Phase, Piece, Relation, Rule
from jambset.rules.select import Applied

GO, GO_WITH_TRIM, HOLD, CONFLICT = "go", "go_with_trim", "hold", "conflict"
GIVEN_TITLES = {
    HEADER: "the present rough opening",
    AS_SET: "the frame as it is set",
    FLOORS: "the setting for floors that may change",
    HEAD_LINE: "the head line",
    BLOCK_SIZES: "the block sizes of the house",
}
UNIT_QUANTITIES = BELOW | {Measured.FOOT, Measured.LEG_COVER}
"""What another undercut changes."""
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
AIR_QUANTITIES = AIR | {Measured.TRANSFER_AIR}
UNIT_WAYS = frozenset({"raise_header", "set_again"})
"""Ways out of too high a pressure that set the unit otherwise."""
CARRIED = AIR_QUANTITIES - {Measured.FREE_AREA}
"""What is mended by carrying another way the flow that is short; an area asked for takes more than that flow does."""


Decided = Callable[[Facts], Decision]
Without = Callable[[str], Decision]
"""What the floors named alone would come to with a limit of the facts, header or as_set, taken away."""
Flatter = Callable[[], tuple[tuple[Piece, Decision], ...]]
"""Pieces that stand lower than the one that lies there, each with what the floors named would come to with it."""


def conflicts(
    result: Result, lost: tuple[Check, ...], air: AirAdvice, decided: Decided, catalogue: Catalogue
) -> tuple[Conflict, ...]:
    """Bounds that gave way and rules that fail, each on the side where it misses most, and what else could be done.

    lost: the checks that aren't met. decided: what the floors named alone would come to by such facts.
    """
    rules = result.at.regime.by_id
    broken = [c for c in lost if _weighs(rules[c.rule].rule, result)]
    if not broken:
        return ()
    gave_way = _most(result.decision)
    if any(not CHOSEN.isdisjoint(given.against) for given in gave_way.values()):
        gave_way |= _most(decided(result.at.facts))

    @cache
    def without(limit: str) -> Decision:
        return decided(replace(result.at.facts, **{limit: None}))

    @cache
    def flatter() -> tuple[tuple[Piece, Decision], ...]:
        return tuple(_flatter(result, decided, catalogue))

    worst: dict[str, Check] = {}
    for check in broken:
        if check.rule not in worst or short(check) > short(worst[check.rule]):
            worst[check.rule] = check
    sawn = _sawn(result, decided)
    return tuple(
        _conflict(rules[rule], check, gave_way.get(rule), result, air, without, flatter, sawn)
        for rule, check in worst.items()
    )


def _sawn(result: Result, decided: Decided) -> tuple[WayOut, ...]:
    """A unit to order that goes in under a low header with room to shim, its leaf cut for floors that are certain.

    Nothing where that misses a rule too, its legs would end elsewhere, or the unit is ordered for its line.
    """
    facts, regime, order = result.at.facts, result.at.regime, result.decision
    if not (facts.undercut_free and facts.certain) or facts.header is None or not CHOSEN.isdisjoint(order.leaf_held_by):
        return ()
    undercut = floor_to(facts.header - facts.above_leaf - regime.head_space, step=facts.grid.step)
    if undercut < 0:
        return ()
    cut = decided(replace(facts, undercut=undercut))
    if not cut.trim or cut.foot != order.order_foot or not regime.wishes.issuperset(_most(cut)):
        return ()
    text = Phrase(
        "way.cut_leaf",
        undercut=Length(undercut),
        trim=Length(cut.trim),
        leaves=leaves(facts),
        bottom=Length(cut.bottom or 0),
        subfloor=subfloor(facts),
    )
    return (WayOut(kind="cut_leaf", text=if_listed(text, facts)),)


def _most(decision: Decision) -> dict[str, Given]:
    """Of each rule that gave way the bound that did so most."""
    return {given.bound.rule: given for given in sorted(decision.gave_way, key=lambda given: given.amount)}


def _weighs(rule: Rule, result: Result) -> bool:
    """Whether a missed rule is a conflict: a wish isn't one, nor is room to shim over the head of a fixed frame."""
    shims = rule.measured is Measured.HEAD_SHIM and result.at.facts.as_set is not None
    return is_firm(rule) and (not shims or is_never_relaxed(rule))


def _conflict(
    applied: Applied,
    check: Check,
    given: Given | None,
    result: Result,
    air: AirAdvice,
    without: Without,
    flatter: Flatter,
    sawn: tuple[WayOut, ...],
) -> Conflict:
    rule = applied.rule
    against = _against(applied, given, result)
    amount = shortfall(check)
    code = "conflict.against" if against else "conflict.alone"
    values = {"rule": Term(rule.title), "against": _titles(against, result), "amount": amount}
    if rule.measured is Measured.ROOM_PRESSURE and air.gap_needed is not UNSET:
        code = "conflict.pressure_capped" if against else "conflict.pressure"
        code += ".beyond" if amount is UNSET else ""  # so little is open that no pressure can be told
        values["gap"] = air.gap_needed
    elif amount is UNSET:
        code = "conflict.prohibited" if rule.relation is Relation.PROHIBITED else "conflict.unmet"
    ways = (
        *_ways_out(applied, against, result, air),
        *_another_piece(given, flatter, result),
        *_anew(given, without, result),
        *(sawn if HEADER in against or rule.measured is Measured.HEAD_SHIM else ()),
    )
    return Conflict(
        code="bounds_conflict" if against else "rule_not_met",
        rules=(rule.id, *against),
        quantity=rule.measured,
        amount=amount,
        decides=rule.decides,
        text=Phrase(code, **values),
        ways_out=ways,
        holds=(Phase.AIR,) if _lies_beside(rule, ways) else (Phase.SETTING, Phase.LEAF),
    )


def _lies_beside(rule: Rule, ways: tuple[WayOut, ...]) -> bool:
    """Whether the air goes another way whoever decides: no leaf is lifted part of the way for it, so the door stays.

    Not where no air may pass at all: then what the door is for has to be decided first.
    """
    return rule.measured is Measured.ROOM_PRESSURE and UNIT_WAYS.isdisjoint([way.kind for way in ways])


def _against(applied: Applied, given: Given | None, result: Result) -> tuple[str, ...]:
    if applied.rule.measured is Measured.ROOM_PRESSURE:
        return result.at.regime.gap_caps
    return () if given is None else tuple(rule for rule in given.against if rule != applied.rule.id)


def _titles(rules: tuple[str, ...], result: Result) -> tuple[Term | Phrase, ...]:
    """What stands against a rule: other rules by their titles, and what is there in plain words."""
    known = result.at.regime.by_id
    return tuple([title_of(known[rule]) if rule in known else Term(GIVEN_TITLES[rule]) for rule in rules])


def _ways_out(applied: Applied, against: tuple[str, ...], result: Result, air: AirAdvice) -> tuple[WayOut, ...]:
    """What can be done instead; never what would break the rules that stand against it."""
    rule = applied.rule
    off_line = (_LEAVE_LINE,) if HEAD_LINE in against else ()
    if rule.measured is Measured.HEAD_SHIM:
        return (*off_line, _RAISE_HEADER)  # a header that is high enough for the door alone is raised last
    ways = [
        WayOut(kind="instead", text=_in_words(other, result), rule=other.id)
        for other in _quoted(rule, against, result)
        if other.way_out is not UNSET
    ]
    if rule.measured in CARRIED:
        ways.extend(air.ways_out)
    elif rule.measured in UNIT_QUANTITIES and not off_line and _another_unit_helps(rule.id, result):
        undercut = Length(result.decision.to_order or 0)
        ways.append(WayOut(kind="other_unit", text=Phrase("way.other_unit", undercut=undercut)))
    return (*ways, *off_line)


def _in_words(rule: Rule, result: Result) -> Phrase:
    """A rule's own words on what to do instead; of an opening that no other way tells, with what the wall takes."""
    text = quote(str(rule.way_out))
    return through_wall(text, result.at.facts.duties) if rule.measured is Measured.FREE_AREA else text


def _anew(given: Given | None, without: Without, result: Result) -> Iterator[WayOut]:
    """Header raised or unit set again, where either stands against a rule and brings it nearer."""
    if given is None:
        return
    if names_header(given.against, result.at) and _lessens(given, without("header"), result):
        yield _RAISE_HEADER
    if AS_SET in given.against and _lessens(given, without("as_set"), result):
        yield WayOut(kind="set_again", text=Phrase("way.set_again"))


def _flatter(result: Result, decided: Decided, catalogue: Catalogue) -> Iterator[tuple[Piece, Decision]]:
    """See Flatter; in the order of the catalogue."""
    at = result.at
    if at.joint is None:
        return
    for piece in others(at.joint, at.regime, catalogue):
        if piece.rise < at.joint.rise:
            yield piece, decided(replace(at.facts, opening=with_piece(at.facts.opening, piece)))


def _another_piece(given: Given | None, flatter: Flatter, result: Result) -> Iterator[WayOut]:
    """The first flatter piece that ends a conflict in which the room over the one that lies there has part."""
    known = result.at.regime.by_id
    names = () if given is None else (given.bound.rule, *given.against)
    if given is None or not any(r in known and known[r].rule.measured is Measured.PIECE_CLEARANCE for r in names):
        return
    met = ((piece, _most(other)) for piece, other in flatter())
    found = next((piece for piece, lost in met if given.bound.rule not in lost and not breaks(lost, result)), None)
    if found is not None:
        code = "remedy.change_piece" if found.rise else "remedy.change_piece.level"
        yield WayOut(kind="change_piece", text=Phrase(code, piece=Term(found.title), rise=found.rise), piece=found.id)


def _lessens(given: Given, other: Decision, result: Result) -> bool:
    """Whether a rule gives way by less in another decision, and for no other that is never relaxed."""
    rule, most = given.bound.rule, _most(other)
    return (rule not in most or most[rule].amount < given.amount) and not breaks(most, result)


_RAISE_HEADER = WayOut(kind="raise_header", text=Phrase("way.raise_header"))
_LEAVE_LINE = WayOut(kind="leave_line", text=Phrase("way.leave_line"))


def _quoted(rule: Rule, against: tuple[str, ...], result: Result) -> list[Rule]:
    """The rules whose ways out help where a rule is missed.

    For air, those of the never relaxed rules that keep the gap small, limits on trim aside; without any, the rule's
    own, unless it prescribes a gap and the leaf is to hold back smoke. Else the rule's own, unless no piece lies there
    or another rule allows less below the leaf than it asks for, which no other floor mends; and those of never relaxed
    rules that stand against it: on trim, where the leaf has to end higher and the unit may, and on the height of the
    opening.
    """
    known = result.at.regime.by_id
    others = [known[name] for name in against if name in known]
    held = [one.rule for one in others if is_never_relaxed(one.rule)]
    if rule.measured in AIR_QUANTITIES:
        opens = Duty.SMOKE_CONTROL in result.at.facts.duties and rule.document in {
            a.rule.document for a in result.at.regime.prescribed
        }
        below = [one for one in held if one.measured is not Measured.TRIM]
        return below or ([] if opens else [rule])
    joint = result.at.joint
    none = rule.measured is Measured.PIECE_CLEARANCE and joint is not None and joint.runs_through  # no piece lies there
    lifts = rule.measured in BELOW and rule.relation is Relation.AT_LEAST
    free = lifts and STANDING.isdisjoint(against) and HEADER not in against
    helping = {Measured.OPENING_HEIGHT} | ({Measured.TRIM} if free else set())
    shut = lifts and any(_shuts(one, known[rule.id]) for one in others)
    return [*([] if none or shut else [rule]), *[one for one in held if one.measured in helping]]


def _shuts(other: Applied, asked: Applied) -> bool:
    """Whether a rule allows less below the leaf than another asks for over the same floor, whatever lies there."""
    most, least = other.rule, asked.rule
    return (
        most.measured is least.measured is Measured.FLOOR_CLEARANCE
        and most.relation is Relation.AT_MOST
        and most.when.finish in (UNSET, least.when.finish)
        and (other.limit or 0) < (asked.limit or 0)
    )


def _another_unit_helps(rule: str, result: Result) -> bool:
    """Whether a unit with another undercut would meet the rule and break no other, and goes in under the header."""
    lost = result.decision.order_lost
    return rule not in lost and not breaks(lost, result) and _another_unit_goes_in(result)


def _another_unit_goes_in(result: Result) -> bool:
    """Whether another undercut is the one to order, and the header is high enough for it."""
    decision, header = result.decision, result.at.facts.header
    differs = decision.to_order not in (None, decision.undercut)
    return differs and (header is None or order_height(result) <= header)


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
    if Duty.FIRE_LABEL in facts.duties:
        yield from _frame_questions(result)
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
    lined = HEAD_LINE in {*decision.foot_held_by, *decision.leaf_held_by}
    meets = result.at.regime.wishes.issuperset(decision.order_lost)
    return to_order and bool(decision.trim) and not lined and meets and _another_unit_goes_in(result)


def _frame_questions(result: Result) -> Iterator[Question]:
    """Whether the legs of a labelled frame may be cut, to set it or for a floor."""
    shorter, (room, _) = result.decision.foot < 0, rooms_under(result.at, result.decision.foot)
    undercut = any(side.floor is not None and room < side.floor.solid for side in result.at.facts.sides)
    if shorter or undercut:
        yield Question(
            code="frame_label",
            ask=Asked.DOOR_SUPPLIER,
            text=Phrase("ask.frame_label" if shorter else "ask.frame_label.floor"),
            holds=(*((Phase.SETTING, Phase.LEAF) if shorter else ()), *((Phase.FLOORING,) if undercut else ())),
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
    asked = asked or [question for question in open_ if question.code in (AIR_SHORT, AIR_UNLISTED.code)]
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
