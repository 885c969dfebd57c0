"""The sections of the advice, each from the decision alone."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from msgspec import UNSET, UnsetType

from jambset.engine.asks import Waits
from jambset.engine.bounds import FLOORS, HEAD_LINE, names_header, rooms_under
from jambset.engine.checks import Result, breaks, head_spare, least_shims, order_height
from jambset.engine.decide import AFTER_FLOOR, Cut, Decision
from jambset.engine.facts import Facts, Pass, SideFacts, narrow_by
from jambset.engine.floors import Floor
from jambset.engine.handling import mass_range
from jambset.engine.lines import HAIR
from jambset.engine.swing import Ground
from jambset.engine.words import if_listed, joined, leaves, leg_names, quoted, side_word, stands, subfloor
from jambset.model.advice import (
    Assumption,
    ClearanceAdvice,
    Flooring,
    FlooringSide,
    Framing,
    GivenUp,
    LeafAdvice,
    LegSetting,
    Order,
    Phrase,
    Setting,
    Spread,
    Term,
    Uncut,
    quote,
)
from jambset.model.request import Duty, FrameState, Labour, Opening
from jambset.quantity.ticks import Length, ceil_to, floor_to
from jambset.rules.schema import Catalogue, FinishKind, Measured, Relation
from jambset.rules.select import Applied


def framing(result: Result) -> Framing | UnsetType:
    """Rough opening this door needs: the unit on its foot, with the space wanted over a head that may still move."""
    facts, decision = result.at.facts, result.decision
    undercut = decision.to_order if facts.undercut_free else decision.undercut
    if undercut is None:
        return UNSET
    space = result.at.regime.head_space if facts.as_set is None else 0
    least = decision.foot_wanted + undercut + facts.above_leaf + space
    needed = ceil_to(least, step=facts.grid.step)
    spare = head_spare(result)
    hole = facts.opening.rough_opening
    width = UNSET if hole is UNSET or hole.width is UNSET else hole.width
    return Framing(
        rough_opening_needed=Length(needed),
        short_by=Length(0 if facts.header is None or facts.header >= least else needed - facts.header),
        spare=UNSET if spare is None else Length(spare),
        width_needed=Length(ceil_to(facts.width_needed, step=facts.grid.step)),
        width_short_by=UNSET if width is UNSET else Length(narrow_by(facts)),
        governed_by=tuple([a.rule.id for a in result.at.regime.head_rules if a.limit == space]),
    )


def order(result: Result) -> Order:
    """The undercut with which this door, standing on the subfloor, needs no saw, and what stands in its way."""
    facts, decision = result.at.facts, result.decision
    needed = decision.to_order
    if needed is None:
        return Order(why=Phrase("order.undecided"))
    why = Phrase(
        _order_code(result, given=not facts.undercut_free),
        undercut=Length(needed),
        present=Length(decision.undercut or 0),
        leaves=leaves(facts),
        hole=Length(ceil_to(order_height(result) + result.at.regime.head_space, step=facts.grid.step)),
        room=Length(0 if facts.header is None else facts.header - order_height(result)),
    )
    return Order(undercut_to_order=Length(needed), why=why)


def _order_code(result: Result, *, given: bool) -> str:
    """The sentence on the unit that needs no saw: whether it goes in, whether it meets the rules, what it is for."""
    decision, header = result.decision, result.at.facts.header
    differs = decision.undercut is not None and decision.undercut != decision.to_order
    if breaks(decision.order_lost, result):
        return "order.lost"
    if header is not None and header < order_height(result) + result.at.regime.head_space:
        weighed = "" if given or not result.at.facts.weighed else ".weighed"
        if not given and differs:
            return f"order.lower{weighed}"
        return f"order.{'tight' if header >= order_height(result) + least_shims(result) else 'short'}{weighed}"
    if any(_is_missed(rule, result) for rule in decision.order_lost):
        return "order.lost"
    return _present_code(result) if given and differs else _wanted_code(decision, given=given)


def _wanted_code(decision: Decision, *, given: bool) -> str:
    """Why the undercut is the one to order."""
    held = decision.held_by
    if given:
        return "order.wanted"
    return "order.weighed" if FLOORS in held else "order.lined" if HEAD_LINE in held else "order.wanted"


def _present_code(result: Result) -> str:
    """How a unit that is there compares with another undercut's."""
    decision = result.decision
    shortened = decision.foot < 0 <= decision.order_foot  # below 0 where legs are scribed to an uneven subfloor
    if decision.trim:
        return "order.shortened" if shortened else "order.sawn"
    if missed := [given for given in decision.gave_way if _is_missed(given.bound.rule, result)]:
        return "order.on_line" if all(HEAD_LINE in given.against for given in missed) else "order.lacks"
    if shortened:
        return "order.shortened"
    if decision.foot > 0:
        return "order.blocked"
    return "order.open" if _gapes(result) else "order.will_do"


def _gapes(result: Result) -> bool:
    """Whether a greater undercut than is to be ordered leaves a gap wider than is wanted."""
    decision, known = result.decision, result.at.regime.by_id
    wide = [
        given
        for given in decision.gave_way
        if (applied := known.get(given.bound.rule)) is not None
        and applied.rule.measured is Measured.FLOOR_CLEARANCE
        and applied.rule.relation is Relation.AT_MOST
    ]
    return bool(wide) and (decision.undercut or 0) > (decision.to_order or 0)


def _is_missed(rule: str, result: Result) -> bool:
    """Whether a rule that gave way is more than a wish."""
    known = result.at.regime
    return rule in known.by_id and rule not in known.wishes


def setting(result: Result) -> Setting:
    """How the legs stand: each on its own block, or each cut where the header is too low."""
    facts, decision = result.at.facts, result.decision
    hinge, strike = _leg(decision.foot, facts.ground.hinge_leg), _leg(decision.foot, facts.ground.strike_leg)
    pair = facts.opening.leaf.count == 2
    head = UNSET if decision.undercut is None else Length(decision.foot + decision.undercut + facts.leaf_and_gap)
    spare = head_spare(result)
    return Setting(
        foot=Length(max(0, decision.foot)),
        method=method(hinge, strike),
        hinge_leg=hinge,
        strike_leg=UNSET if pair else strike,
        second_hinge_leg=strike if pair else UNSET,
        head_height=head,
        head_spare=UNSET if spare is None else Length(spare),
        foot_limit=UNSET if decision.foot_limit is None else Length(decision.foot_limit),
        grid=decision.tape.name,
        governed_by=decision.foot_held_by,
    )


def method(one: LegSetting, other: LegSetting) -> str:
    """What is done to the legs: cut where one is, blocked where one is, else stood on the subfloor."""
    if one.trim or other.trim:
        return "legs_trimmed"
    return "on_blocks" if one.block or other.block else "on_subfloor"


def _leg(foot: int, subfloor: int) -> LegSetting:
    return LegSetting(block=Length(max(0, foot - subfloor)), trim=Length(max(0, subfloor - foot)))


def leaf(result: Result, cut: Cut, catalogue: Catalogue) -> LeafAdvice:
    """Where the leaf's bottom ends, what comes off it, and how."""
    facts, decision = result.at.facts, result.decision
    limit = result.at.regime.trim_limit
    trim = decision.trim
    return LeafAdvice(
        bottom=UNSET if decision.bottom is None else Length(decision.bottom),
        trim=UNSET if trim is None else Length(trim),
        when=cut.when,
        where=cut.where or UNSET,
        gauge_block=cut.blocks[0] if cut.blocks else UNSET,
        second_gauge_block=cut.blocks[1] if len(cut.blocks) > 1 else UNSET,
        plunge_depth=_plunge(facts) if trim else UNSET,
        height_after=UNSET if trim is None else Length(facts.opening.leaf.height - trim),
        trim_limit=UNSET if limit is None else Length(limit),
        trim_now=Length(decision.cut_now) if decision.cut_now else UNSET,
        trim_rest=Length(trim - decision.cut_now) if trim and decision.cut_now and cut.when == AFTER_FLOOR else UNSET,
        mass_kg=round(mass_range(facts.opening.leaf, catalogue).nominal, 1),
        uncut=_left_whole(result),
        why=_leaf_why(result, cut),
        governed_by=decision.leaf_held_by,
    )


def _left_whole(result: Result) -> Uncut | UnsetType:
    """The leaf left uncut, where that gives up no more than wishes; not while other floors may come."""
    whole, at = result.decision.uncut, result.at
    if whole is None or not at.facts.certain:
        return UNSET
    return Uncut(
        foot=Length(whole.foot),
        bottom=Length(whole.bottom),
        given_up=tuple([GivenUp(rule=rule, amount=Length(amount)) for rule, amount in whole.wishes]),
        text=Phrase(
            "leaf.left_whole",
            leaves=leaves(at.facts),
            stands=stands(whole.foot),
            bottom=Length(whole.bottom),
            subfloor=subfloor(at.facts),
            wishes=tuple([_missed_by(at.regime.by_id[rule], amount) for rule, amount in whole.wishes]),
        ),
    )


def _missed_by(applied: Applied, amount: int) -> Phrase:
    return Phrase("part.missed_by", text=Term(applied.rule.title), amount=Length(amount))


def _plunge(facts: Facts) -> Length:
    """Leaf thickness and a little, to the next step of the tape: deep enough to part the leaf and no more."""
    return Length(ceil_to(facts.opening.leaf.thickness + facts.defaults.plunge_beyond, step=facts.grid.step))


def _leaf_why(result: Result, cut: Cut) -> Phrase:
    trim, now = result.decision.trim, result.decision.cut_now
    if now and (cut.when == AFTER_FLOOR or now == trim):
        return if_listed(Phrase(_now_code(result, cut), trim=Length(now)), result.at.facts)
    if trim is None:
        return Phrase(f"leaf.{cut.when}", leaves=leaves(result.at.facts))
    if result.decision.bottom is not None and result.decision.bottom < 0:
        return _below(result.decision.bottom)
    if trim and Duty.FIRE_LABEL in result.at.facts.duties:
        return Phrase("leaf.listed", **_ends(result))
    return Phrase(f"leaf.{cut.when}.{cut.where}" if trim else "leaf.uncut", **_ends(result))


def _ends(result: Result) -> dict[str, Any]:
    """What sentences on leaves say of them: what is cut off, where their bottom then ends, and above what that is."""
    decision = result.decision
    return {
        "leaves": leaves(result.at.facts),
        "trim": Length(decision.trim or 0),
        "bottom": Length(decision.bottom or 0),
        "subfloor": subfloor(result.at.facts),
    }


def _below(bottom: int) -> Phrase:
    """Of a leaf that would end below the subfloor; what is cut off it is of no use."""
    return Phrase("cut.below", below=Length(-bottom))


def _now_code(result: Result, cut: Cut) -> str:
    """The sentence on a cut that every floor asks for: what follows for the floor named, for another, or nothing."""
    if cut.when == AFTER_FLOOR:
        return "leaf.now_and_later"
    return "leaf.now_at_least" if result.decision.cut_later else "leaf.now"


def clearance(result: Result) -> ClearanceAdvice:
    """Leaf bottom to what lies beneath, on both sides and over the piece."""
    facts, bottom, joint = result.at.facts, result.decision.bottom, result.at.joint
    if bottom is None or joint is None:
        return ClearanceAdvice()
    ground = facts.ground
    over_pull, over_push = facts.passes()
    pull, push = _spread(over_pull, bottom, ground), _spread(over_push, bottom, ground)
    piece = Spread(
        least=Length(bottom - ground.closed_high - joint.greatest),
        nominal=Length(bottom - ground.closed_mean - joint.nominal),
        greatest=Length(bottom - ground.closed_low - joint.least),
    )
    return ClearanceAdvice(pull_side=pull, push_side=push, piece=piece, slope_room=_slope_room(result, pull.least))


def _spread(over: Pass, bottom: int, ground: Ground) -> Spread:
    return Spread(
        least=Length(bottom - over.under - over.floor.greatest - over.rug),
        nominal=Length(bottom - ground.closed_mean - over.floor.nominal),
        greatest=Length(bottom - ground.closed_low - over.floor.least),
    )


def _slope_room(result: Result, least: int) -> Length:
    """How much more the floor may rise inside the swing before the accepted clearance is lost."""
    return Length(max(0, least - result.at.regime.accepted[result.at.facts.pull.kind]))


SHOWS, FILLED, COVERED = "shows", "filled", "covered"
"""What becomes of the space between legs and finish: nothing, fillers hide it, or the piece does on hard floors."""
LABELLED = "flooring.labelled"
"""Code of a note on legs that are cut, of a labelled frame."""


def flooring(result: Result, hides: str = SHOWS) -> Flooring:
    """What is left to the flooring installer on each side. hides: what becomes of a space that legs leave open."""
    pull, push = result.at.facts.sides
    return Flooring(pull_side=_flooring_side(pull, result, hides), push_side=_flooring_side(push, result, hides))


def _flooring_side(side: SideFacts, result: Result, hides: str) -> FlooringSide:
    floor = side.floor
    if floor is None:
        return FlooringSide(room=side.room, note=Phrase("flooring.undecided", side=side_word(side.name)))
    if floor.kind is FinishKind.CARPET:
        return FlooringSide(
            room=side.room, base_height=_base_over_carpet(floor, result), note=_carpet(floor, result, hides)
        )
    return _under_hard(side, floor, result, hides)


def _base_over_carpet(floor: Floor, result: Result) -> Length:
    """Bottom of the base: held up for the carpet's edge, and as far below a low carpet's top as legs have to be."""
    facts, covered = result.at.facts, max(0, floor.least - floor.bed.least - result.at.regime.below_pile)
    room = floor_to(min(facts.defaults.base_over_carpet, covered), step=facts.grid.step)
    return Length(floor.bed.nominal + room)


def _carpet(floor: Floor, result: Result, hides: str) -> Phrase:
    """What becomes of a carpet's edge at the legs, and of what the carpet lies on.

    Out of level, there is more room below one leg than below the other: daylight shows there first, and only what fits
    under the other goes under both.
    """
    (least, most), bed = rooms_under(result.at, result.decision.foot), floor.solid
    if most > floor.least + HAIR:
        return Phrase(f"flooring.{FILLED if hides == FILLED else SHOWS}", shows=Length(most - floor.least))
    if least < bed:
        below = Phrase("flooring.carpet_in", below=Length(bed - least), bed=Length(bed))
        return if_listed(below, result.at.facts, LABELLED)
    room = Length(least - bed)
    if room >= result.at.facts.defaults.base_over_carpet:
        return Phrase("flooring.carpet", room=room)
    if least < most:
        code = "flooring.carpet_apart.bed" if bed else "flooring.carpet_apart"
        return Phrase(code, room=room, most=Length(most - bed))
    if not room:
        return Phrase("flooring.carpet_level" if bed else "flooring.carpet_down")
    return Phrase("flooring.carpet_low.bed" if bed else "flooring.carpet_low", room=room)


def _under_hard(side: SideFacts, floor: Floor, result: Result, hides: str) -> FlooringSide:
    facts, (least, most) = result.at.facts, rooms_under(result.at, result.decision.foot)
    cut = Length(ceil_to(floor.solid + facts.defaults.saw_allowance, step=facts.grid.step))
    buried, shows = least < floor.solid, most > floor.least + HAIR
    if not floor.solid and not shows:
        return FlooringSide(room=side.room, base_height=Length(0), note=Phrase("flooring.bare"))
    code = f"undercut_one.{hides}" if buried and shows else "undercut" if buried else hides if shows else "clear"
    note = Phrase(f"flooring.{code}", cut=cut, shows=Length(max(0, most - floor.least)))
    return FlooringSide(
        room=side.room,
        jamb_undercut=cut if buried else UNSET,
        casing_undercut=cut if buried else UNSET,
        base_height=Length(floor.solid),
        note=if_listed(note, facts, LABELLED) if buried else note,
    )


def labour(opening: Opening, *, priced: bool) -> tuple[Assumption, ...]:
    """Says that the minutes behind a setting are assumed, where it was chosen by them."""
    assumed = priced and opening.labour == Labour()
    return (Assumption(pointer="#/labour", text=Phrase("assumed.labour")),) if assumed else ()


def age(rules: tuple[Applied, ...], flooring: Flooring, *, cut: bool) -> tuple[Assumption, ...]:
    """The rules of older buildings that weren't looked at: where the leaf is cut all, for a painted casing the others.

    rules: passed over since nobody states the year. flooring: of a frame that stands, whose casing is painted.
    """
    sides = (flooring.pull_side, flooring.push_side)
    if cut:
        return _age(rules)
    if all(side.casing_undercut is UNSET for side in sides):
        return ()
    return _age(tuple([applied for applied in rules if applied.rule.when.trimmed is UNSET]))


@lru_cache(maxsize=256)
def _age(rules: tuple[Applied, ...]) -> tuple[Assumption, ...]:
    """Says from which year on a building was taken to be, and the rules on a cut that weren't looked at for that."""
    if not rules:
        return ()
    year = str(max([applied.rule.when.built_before or 0 for applied in rules]))
    text = Phrase("assumed.year_built", year=year, rules=quoted(rules))
    return (Assumption(pointer="#/building/year_built", text=text),)


@lru_cache(maxsize=256)
def use(rules: tuple[Applied, ...]) -> tuple[Assumption, ...]:
    """Says which rules weren't looked at, since they hold in some kinds of building and nobody says which this is."""
    if not rules:
        return ()
    return (Assumption(pointer="#/building/use", text=Phrase("assumed.building_use", rules=quoted(rules))),)


def permit(rules: tuple[Applied, ...], as_of: str) -> tuple[Assumption, ...]:
    """Says which rules weren't in force yet by the permit date. What held then in their place isn't known."""
    if not rules:
        return ()
    return (Assumption(pointer="#/as_of", text=Phrase("assumed.as_of", day=as_of, rules=quoted(rules))),)


def notice(opening: Opening, catalogue: Catalogue) -> Phrase:
    """That an advice is no permission, and how the rules of its place come into force."""
    return Phrase("notice", adoption=quote(catalogue.jurisdictions[opening.jurisdiction].adoption))


def finer_tape(result: Result) -> tuple[Assumption, ...]:
    """Says that the caller's grid left no room between two bounds, when it didn't."""
    asked, used = result.at.facts.grid, result.decision.tape
    if used == asked:
        return ()
    told = Phrase("part.exact") if used.step == 1 else used.name
    return (Assumption(pointer="#/grid", text=Phrase("assumed.finer_grid", asked=asked.name, used=told)),)


def summary(result: Result, cut: Cut, verdict: str, waits: Waits | None, whole: Uncut | UnsetType) -> Phrase:
    """A few sentences a carpenter can act on: what waits and for what, how the unit is set and its leaf cut.

    whole: the leaf left uncut, where that is the other choice.
    """
    setting, order, present = _how_set(result), result.decision.to_order, result.decision.undercut
    if order is not None and present is not None and result.at.facts.undercut_free:
        lost = breaks(result.decision.order_lost, result)
        code = "set.ordered" if order == present else f"set.ordered.{'lost' if lost else 'low_header'}"
        setting = Phrase(code, undercut=Length(order), present=Length(present), setting=setting)
    told = {"setting": setting, "leaf": joined([_how_cut(result, cut), *_or_whole(whole)])}
    if waits is None:
        return Phrase(f"summary.{verdict}", **told)
    held = "".join([f".{phase}" for phase in sorted(waits.held)]) or ".beside"
    first = waits.first if waits.things == 1 else Phrase("waits.first", first=waits.first, count=str(waits.things))
    return Phrase(f"summary.{verdict}{held}", **told, first=first)


def _or_whole(whole: Uncut | UnsetType) -> tuple[Phrase, ...]:
    """The other choice, told with the first where it gives up one thing; who gives up several reads of each first."""
    return () if whole is UNSET or len(whole.given_up) > 1 else (whole.text,)


def _how_set(result: Result) -> Phrase:
    facts, foot = result.at.facts, result.decision.foot
    hinge, strike = foot - facts.ground.hinge_leg, foot - facts.ground.strike_leg
    low = ".low_header" if _header_holds(result) else ""
    fixed = ".as_set" if facts.opening.frame.state is FrameState.SET else ""
    told = fixed or low
    if hinge == strike:
        does = "block" if foot > 0 else "cut" if foot < 0 else "stand"
        why = told or (".head_line" if foot < 0 and HEAD_LINE in result.decision.foot_held_by else "")
        setting = Phrase(f"set.{does}{why}", height=Length(abs(hinge)))
    else:
        one, other = (_one_leg(*leg, fixed) for leg in zip(leg_names(facts), (hinge, strike), strict=True))
        setting = Phrase(f"set.uneven{told}", one=one, other=other)
    if fixed and facts.as_set is None:
        return Phrase("set.taken", setting=setting)
    labelled = Duty.FIRE_LABEL in facts.duties
    return Phrase("set.listed", setting=setting) if labelled and foot < 0 else setting


def _header_holds(result: Result) -> bool:
    """Whether legs are cut because of the header: it holds them there, or the unit wouldn't go in with whole ones."""
    facts, decision = result.at.facts, result.decision
    if decision.foot >= 0:
        return False
    low = facts.header is not None and facts.header < (decision.undercut or 0) + facts.above_leaf
    return low or names_header(decision.foot_held_by, result.at)


def _one_leg(name: str, height: int, fixed: str) -> Phrase:
    does = "block" if height > 0 else "cut" if height < 0 else "stand"
    return Phrase(f"leg.{does}{fixed}", leg=Phrase(f"leg.{name}"), height=Length(abs(height)))


def _how_cut(result: Result, cut: Cut) -> Phrase:
    decision, facts = result.decision, result.at.facts
    if decision.cut_now and cut.when == AFTER_FLOOR:
        return if_listed(Phrase("cut.now_and_later", trim=Length(decision.cut_now), leaves=leaves(facts)), facts)
    listed = decision.trim and Duty.FIRE_LABEL in facts.duties
    if decision.bottom is not None and decision.bottom < 0:
        return _below(decision.bottom)
    return Phrase("cut.listed" if listed else f"cut.{cut.when}", **_ends(result))
