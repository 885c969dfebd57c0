"""What an advice says of floors that may change: the setting chosen, each pair of floors, what would tip it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from jambset.engine.asks_of_joint import ramp_wanted
from jambset.engine.bounds import STANDING
from jambset.engine.checks import Result, missed_of
from jambset.engine.decide import Decision
from jambset.engine.demand import Mended, heights, hung_place, is_wish, kept, now_minutes
from jambset.engine.facts import Facts
from jambset.engine.labour import BENCH
from jambset.engine.lines import AIR, OF_FLOORS
from jambset.engine.scenarios import MINUTE, Choice, Plan, Table
from jambset.engine.settle import BOTTOM, CUT, FOOT, TOP, Bound
from jambset.engine.stakes import Tip, tips
from jambset.engine.words import if_listed, joined, labels, leaves, place_of, quoted, stands
from jambset.model import advice
from jambset.model.advice import WHOLE, Minutes, Outlook, Phrase, ScenarioAdvice, SettingPrice
from jambset.quantity.ticks import Length


def outlook(table: Table, chosen: Choice, *, to_order: int | None = None) -> tuple[Outlook, tuple[ScenarioAdvice, ...]]:
    """The setting chosen, what every other one on the tape comes to, what would tip it, and each pair of floors.

    to_order: the undercut that a unit is to be ordered with, the header raised where it has to be.
    """
    regrets = _regrets(table, chosen)
    return _outlook(table, chosen, max(regrets), to_order), _scenarios(table, chosen, regrets)


def _outlook(table: Table, chosen: Choice, regret: int, to_order: int | None) -> Outlook:
    plan = table.plan
    each = [table.at(setting) for setting in plan.candidates]
    ordered = plan.pricing.ordered
    work = _work(table, chosen)
    return Outlook(
        **_setting(chosen.setting, ordered=ordered),
        trim_now=Length(chosen.trim),
        expected_minutes=Minutes(chosen.expected),
        expected_work_minutes=Minutes(work),
        now_minutes=now_minutes(plan.pricing, chosen.setting, chosen.trim),
        worst_minutes=chosen.worst,
        regret=regret,
        least_worst_minutes=min([choice.worst for choice in table.every()]),
        wish_minutes=plan.pricing.work.wish,
        why=_why(table, chosen, work, to_order),
        settings=tuple([_priced(choice, ordered=ordered) for choice in each]),
        tips=tuple([_tip(tip, plan.facts, ordered=ordered) for tip in tips(table, chosen)]),
    )


def _work(table: Table, chosen: Choice) -> int:
    """Of the minutes expected of a choice, those of work, in parts of a minute."""
    plan, now = table.plan, now_minutes(table.plan.pricing, chosen.setting, chosen.trim)
    made = [(pair.weight, table.mended(n, chosen.setting, chosen.trim).work) for n, pair in enumerate(plan.pairs)]
    return sum([weight * (now + work) for weight, work in made])


def _setting(height: int, *, ordered: bool) -> dict[str, Length]:
    return {"undercut" if ordered else "foot": Length(height)}


def _priced(choice: Choice, *, ordered: bool) -> SettingPrice:
    return SettingPrice(
        **_setting(choice.setting, ordered=ordered),
        trim_now=Length(choice.trim),
        expected_minutes=Minutes(choice.expected),
        worst_minutes=choice.worst,
    )


def _why(table: Table, chosen: Choice, work: int, to_order: int | None) -> Phrase:
    facts = table.plan.facts
    where = "set" if facts.as_set is not None else "ordered" if table.plan.pricing.ordered else "foot"
    if where == "ordered" and to_order not in (None, chosen.setting):
        where = "let_in"
    cut = Phrase("outlook.trim_now" if chosen.trim else "outlook.long", trim=Length(chosen.trim), leaves=leaves(facts))
    return Phrase(
        f"outlook.{where}",
        stands=stands(chosen.setting),
        undercut=Length(chosen.setting),
        cost=_cost(chosen.expected, work, least=table.best().expected),
        cut=if_listed(cut, facts) if chosen.trim else cut,
    )


def _cost(expected: int, work: int, *, least: int) -> Phrase:
    """What a choice comes to, and whether nothing comes to less: what a house shares may take more of one opening."""
    code = "outlook.work" if work == expected else "outlook.counted"
    held = ".shared" if expected > least else ""
    return Phrase(f"{code}{held}", work=Minutes(work), minutes=Minutes(expected), least=Minutes(least))


def _tip(tip: Tip, facts: Facts, *, ordered: bool) -> advice.Tip:
    side = facts.sides[tip.side]
    weight = side.floors[tip.floor][1]
    label = labels(side)[tip.floor]
    then = (
        Phrase("tip.undercut", undercut=Length(tip.setting))
        if ordered
        else Phrase("tip.legs", stands=stands(tip.setting))
    )
    return advice.Tip(
        side=side.name,
        floor=label,
        weight_now=weight / WHOLE,
        weight=round(float(tip.weight), 6),
        text=Phrase(
            "tip.above" if tip.above else "tip.below",
            floor=label,
            place=place_of(side),
            weight=written(tip.weight),
            then=then,
        ),
        **_setting(tip.setting, ordered=ordered),
    )


def written(likelihood: Fraction) -> str:
    """A likelihood as a percentage of four digits, as people write it: 0.002%, not 2e-05."""
    return f"{Decimal(f'{float(100 * likelihood):.4g}'):f}%"


def _regrets(table: Table, chosen: Choice) -> list[int]:
    """Minutes more than the best choice for it alone, a pair of floors."""
    every = range(len(table.plan.pairs))
    return [table.from_start(place, chosen.setting, chosen.trim) - table.alone(place) for place in every]


def _scenarios(table: Table, chosen: Choice, regrets: list[int]) -> tuple[ScenarioAdvice, ...]:
    """Each pair of floors that may come and what it takes then, likeliest first."""
    names = [labels(side) for side in table.plan.facts.sides]
    found = [_scenario(table, place, chosen, regret, names) for place, regret in enumerate(regrets)]
    return tuple(sorted(found, key=lambda one: -one.weight))


def _scenario(
    table: Table, place: int, chosen: Choice, regret: int, names: Sequence[Sequence[Phrase]]
) -> ScenarioAdvice:
    """names: of the floors of both sides."""
    pair = table.plan.pairs[place]
    made = table.mended(place, chosen.setting, chosen.trim)
    setting = chosen.setting if made.again is None else made.again
    shows = max(0, _foot(table.plan, place, setting, made) - _hides(table.plan, place))
    return ScenarioAdvice(
        pull_side=names[0][pair.pull],
        push_side=names[1][pair.push],
        weight=pair.weight / MINUTE,
        minutes=made.minutes,
        work_minutes=made.work,
        regret=regret,
        trim=Length(made.trim),
        legs_show=Length(shows),
        outcome=_outcome(table.plan, place, made, setting, shows),
    )


def _foot(plan: Plan, place: int, setting: int, made: Mended) -> int:
    """Where the legs end: of a unit to order as the likeliest floors have them, of one exchanged as these have."""
    if not plan.pricing.ordered:
        return setting
    return plan.pricing.foot if made.again is None else plan.askings[place].own.foot


def _hides(plan: Plan, place: int) -> int:
    """The highest foot at which a pair's floors hide the legs."""
    at, _, bounds = plan.askings[place]
    wishes = at.regime.wishes
    limits = [
        b.limit for b in bounds if b.on == FOOT and not b.lower and b.rule not in wishes and b.rule not in STANDING
    ]
    return min(limits, default=Length.GREATEST)


def _outcome(plan: Plan, place: int, made: Mended, setting: int, shows: int) -> Phrase:
    """What has to be done once a pair of floors lies, in words."""
    told = [
        *_again(plan, made),
        *_leaf(plan, place, made),
        *_legs(plan, made, shows),
        *(_given_up(plan, place, made, setting) if made.wishes else ()),
        *_missed(plan, place, made),
        *_ramp(plan, place),
    ]
    return joined(told) if told else Phrase("outcome.nothing")


def _again(plan: Plan, made: Mended) -> Iterator[Phrase]:
    if made.again is not None and plan.pricing.ordered:
        yield Phrase("outcome.exchange", height=Length(made.again))
    elif made.again is not None:
        yield Phrase("outcome.again", stands=stands(made.again))


def _leaf(plan: Plan, place: int, made: Mended) -> Iterator[Phrase]:
    if made.trim:
        where = BENCH if made.again is not None else hung_place(plan.pairs[place].demand, plan.pricing, made.bottom)
        text = Phrase(f"outcome.trim.{where}", trim=Length(made.trim), leaves=leaves(plan.facts))
        yield if_listed(text, plan.facts)


def _legs(plan: Plan, made: Mended, shows: int) -> Iterator[Phrase]:
    """What becomes of legs that show. Those of a unit to order cost nothing here: it isn't set, and may stand lower."""
    if made.legs:
        yield Phrase("outcome.covered" if made.piece else "outcome.filled", shows=Length(shows))
    elif shows:
        yield Phrase("outcome.lower" if plan.pricing.ordered else "outcome.shows", shows=Length(shows))


def _given_up(plan: Plan, place: int, made: Mended, setting: int) -> Iterator[Phrase]:
    """What its own setting would keep and this one doesn't; legs that are mended are told as such.

    Of a unit to order the setting is an undercut and its foot no question.
    """
    at, own, bounds = plan.askings[place]
    values, rise = heights(own), plan.pricing.rise
    now = {FOOT: setting, BOTTOM: made.bottom, CUT: made.bottom - setting - rise, TOP: setting + rise}
    lost = [
        b.rule
        for b in bounds
        if is_wish(b, at)
        and not (made.legs and b.on == FOOT and not b.lower)
        and not (plan.pricing.ordered and b.on == FOOT)
        and _fails(b, kept(b, values[b.on]), now[b.on])
    ]
    yield from _titled("outcome.wishes", lost, plan, place)


def _fails(bound: Bound, limit: int, value: int) -> bool:
    return value < limit if bound.lower else value > limit


def _missed(plan: Plan, place: int, made: Mended) -> Iterator[Phrase]:
    """What isn't a wish and not even the pair's own setting meets; and the air, which no leaf is lifted for in vain."""
    at, own, bounds = plan.askings[place]
    hung = Result(at, Decision(foot=0, undercut=None, foot_wanted=0, tape=at.facts.grid, bottom=made.bottom))
    lost: list[str] = []
    if own.gave_way:
        values, rules = heights(own), at.regime.by_id
        lost = [b.rule for b in bounds if b.rule in rules and not is_wish(b, at) and kept(b, values[b.on]) != b.limit]
    yield from _titled("outcome.missed", [*lost, *missed_of(hung, OF_FLOORS)], plan, place)
    air = [rule for rule in missed_of(hung, AIR) if rule not in lost]
    yield from _titled("outcome.little_air", air, plan, place)


def _ramp(plan: Plan, place: int) -> Iterator[Phrase]:
    """The ramp that somebody has to build and agree to first, as it is asked about where these floors are named."""
    at = plan.askings[place].at
    assert at.joint is not None  # both floors of a pair are named
    yield from ramp_wanted(at.facts, at.joint, "outcome")


def _titled(code: str, lost: Sequence[str], plan: Plan, place: int) -> Iterator[Phrase]:
    """A sentence on rules by their titles, where there are any."""
    rules = plan.askings[place].at.regime.by_id
    if lost:
        yield Phrase(code, rules=quoted(rules[rule] for rule in dict.fromkeys(lost)))
