"""Rules that can't be kept together, what stands against each, and what else could be done."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache

from msgspec import UNSET
from msgspec.structs import replace

from jambset.engine.bounds import AS_SET, BLOCK_SIZES, CHOSEN, FLOORS, HEAD_LINE, HEADER, STANDING, names_header
from jambset.engine.checks import Result, breaks, least_shims, order_height, short, shortfall
from jambset.engine.decide import Decision
from jambset.engine.facts import Facts
from jambset.engine.lines import AIR, BELOW, is_firm, is_never_relaxed
from jambset.engine.settle import Given
from jambset.engine.transition import other_pieces, to_fit, with_piece
from jambset.engine.words import if_listed, leaves, subfloor, through_wall, title_of
from jambset.model.advice import AirAdvice, Check, Conflict, Phrase, Term, WayOut, quote
from jambset.model.request import Duty
from jambset.quantity.ticks import Length, floor_to
from jambset.rules.schema import Catalogue, Measured, Phase, Piece, Relation, Rule
from jambset.rules.select import Applied

GIVEN_TITLES = {
    HEADER: "the present rough opening",
    AS_SET: "the frame as it is set",
    FLOORS: "the setting for floors that may change",
    HEAD_LINE: "the head line",
    BLOCK_SIZES: "the block sizes of the house",
}
UNIT_QUANTITIES = BELOW | {Measured.FOOT, Measured.LEG_COVER}
"""What another undercut changes."""
AIR_QUANTITIES = AIR | {Measured.TRANSFER_AIR}
UNIT_WAYS = frozenset({"raise_header", "set_again"})
"""Ways out of too high a pressure that set the unit otherwise."""
CARRIED = AIR_QUANTITIES - {Measured.FREE_AREA}
"""What is mended by carrying another way the flow that is short; an area asked for takes more than that flow does."""

Decided = Callable[[Facts], Decision]
Without = Callable[[str], Decision]
"""What the floors named alone would come to with a limit of the facts, header or as_set, taken away."""
Others = Callable[[], tuple[tuple[Piece, Decision], ...]]
"""Pieces that may lie there instead, each with what the floors named would come to with it."""


def conflicts_of(
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
    def pieces() -> tuple[tuple[Piece, Decision], ...]:
        return tuple(_others(result, decided, catalogue))

    worst: dict[str, Check] = {}
    for check in broken:
        if check.rule not in worst or short(check) > short(worst[check.rule]):
            worst[check.rule] = check
    sawn = _sawn(result, decided)
    return tuple(
        _conflict(rules[rule], check, gave_way.get(rule), result, air, without, pieces, sawn)
        for rule, check in worst.items()
    )


def _sawn(result: Result, decided: Decided) -> tuple[WayOut, ...]:
    """A unit to order that goes in under a low header with room to shim, its leaf cut for floors that are certain.

    With the room that is wanted over the head, or else what a rule asks for. Nothing where that misses a rule too, its
    legs would end elsewhere, or the unit is ordered for its line.
    """
    facts, header, order = result.at.facts, result.at.facts.header, result.decision
    if not (facts.undercut_free and facts.certain) or header is None or not CHOSEN.isdisjoint(order.leaf_held_by):
        return ()
    for room in sorted({result.at.regime.head_space, least_shims(result)}, reverse=True):
        undercut = floor_to(header - facts.above_leaf - room, step=facts.grid.step)
        if undercut < 0:
            continue
        cut = decided(replace(facts, undercut=undercut))
        if cut.trim and cut.foot == order.order_foot and result.at.regime.wishes.issuperset(_most(cut)):
            return (_sawn_way(undercut, cut, facts),)
    return ()


def _sawn_way(undercut: int, cut: Decision, facts: Facts) -> WayOut:
    text = Phrase(
        "way.cut_leaf",
        undercut=Length(undercut),
        trim=Length(cut.trim or 0),
        leaves=leaves(facts),
        bottom=Length(cut.bottom or 0),
        subfloor=subfloor(facts),
    )
    return WayOut(kind="cut_leaf", text=if_listed(text, facts))


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
    pieces: Others,
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
        *_another_piece(given, pieces, result),
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


def _others(result: Result, decided: Decided, catalogue: Catalogue) -> Iterator[tuple[Piece, Decision]]:
    """See Others; in the order of the catalogue."""
    at = result.at
    assert at.joint is not None, "asked only where the room over a piece has part in a conflict"
    for piece in other_pieces(at.joint, at.regime, catalogue):
        yield piece, decided(replace(at.facts, opening=with_piece(at.facts.opening, piece)))


def _another_piece(given: Given | None, pieces: Others, result: Result) -> Iterator[WayOut]:
    """The first other piece that ends a conflict in which the room over the one that lies there has part."""
    if given is None:
        return
    known = result.at.regime.by_id
    names = (given.bound.rule, *given.against)
    if not any(name in known and known[name].rule.measured is Measured.PIECE_CLEARANCE for name in names):
        return
    met = ((piece, _most(other)) for piece, other in pieces())
    found = next((piece for piece, lost in met if given.bound.rule not in lost and not breaks(lost, result)), None)
    if found is not None:
        yield WayOut(kind="change_piece", text=to_fit(found), piece=found.id)


def _lessens(given: Given, other: Decision, result: Result) -> bool:
    """Whether a rule gives way by less in another decision, and for no other that is never relaxed."""
    rule, most = given.bound.rule, _most(other)
    return (rule not in most or most[rule].amount < given.amount) and not breaks(most, result)


_RAISE_HEADER = WayOut(kind="raise_header", text=Phrase("way.raise_header"))
_LEAVE_LINE = WayOut(kind="leave_line", text=Phrase("way.leave_line"))


def _quoted(rule: Rule, against: tuple[str, ...], result: Result) -> list[Rule]:
    """The rules whose ways out help where a rule is missed.

    For air, those of the never relaxed rules that keep the gap small, limits on trim aside; without any, the rule's
    own, unless it prescribes a gap and the leaf is to hold back smoke. Else the rule's own, unless no piece is flatter
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
    none = rule.measured is Measured.PIECE_CLEARANCE and joint is not None and joint.is_flat  # none is flatter
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
    return rule not in lost and not breaks(lost, result) and another_unit_goes_in(result)


def another_unit_goes_in(result: Result) -> bool:
    """Whether another undercut is the one to order, and the header leaves it the room that a rule asks for."""
    decision, header = result.decision, result.at.facts.header
    differs = decision.to_order not in (None, decision.undercut)
    return differs and (header is None or order_height(result) + least_shims(result) <= header)
