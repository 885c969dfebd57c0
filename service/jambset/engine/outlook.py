"""What an advice says of floors that may change: the setting chosen, each pair of floors, what would tip it."""

from __future__ import annotations

from jambset.engine.demand import Demand, Mended, Pricing, hung_place
from jambset.engine.facts import PULL, PUSH, WHOLE, Facts
from jambset.engine.scenarios import MINUTE, Choice, Table, Tip, tips
from jambset.model import advice
from jambset.model.advice import Minutes, Outlook, Phrase, ScenarioAdvice, SettingPrice
from jambset.quantity.ticks import Length

SIDES = (PULL, PUSH)


def outlook(table: Table, chosen: Choice) -> tuple[Outlook, tuple[ScenarioAdvice, ...]]:
    """The setting chosen, what every other one on the tape comes to, what would tip it, and each pair of floors."""
    regrets = _regrets(table, chosen)
    return _outlook(table, chosen, max(regrets)), _scenarios(table, chosen, regrets)


def _outlook(table: Table, chosen: Choice, regret: int) -> Outlook:
    plan = table.plan
    each = [table.at(setting) for setting in plan.candidates]
    ordered = plan.pricing.ordered
    return Outlook(
        **_setting(chosen.setting, ordered=ordered),
        trim_now=Length(chosen.trim),
        expected_minutes=Minutes(chosen.expected),
        worst_minutes=chosen.worst,
        regret=regret,
        least_worst_minutes=min([choice.worst for choice in table.every()]),
        wish_minutes=plan.pricing.work.wish,
        why=_why(plan.facts, chosen, ordered=ordered),
        settings=tuple([_priced(choice, ordered=ordered) for choice in each]),
        tips=tuple([_tip(tip, plan.facts, ordered=ordered) for tip in tips(table, chosen)]),
    )


def _setting(height: int, *, ordered: bool) -> dict[str, Length]:
    return {"undercut" if ordered else "foot": Length(height)}


def _priced(choice: Choice, *, ordered: bool) -> SettingPrice:
    return SettingPrice(
        **_setting(choice.setting, ordered=ordered),
        trim_now=Length(choice.trim),
        expected_minutes=Minutes(choice.expected),
        worst_minutes=choice.worst,
    )


def _why(facts: Facts, chosen: Choice, *, ordered: bool) -> Phrase:
    if facts.as_set is not None:
        code = "outlook.set"
    else:
        code = "outlook.ordered" if ordered else "outlook.cut" if chosen.setting < 0 else "outlook.foot"
    cut = Phrase("outlook.trim_now" if chosen.trim else "outlook.long", trim=Length(chosen.trim))
    return Phrase(code, height=Length(abs(chosen.setting)), minutes=Minutes(chosen.expected), cut=cut)


def _tip(tip: Tip, facts: Facts, *, ordered: bool) -> advice.Tip:
    floor, weight = facts.sides[tip.side].floors[tip.floor]
    values = {"floor": floor.title, "weight": f"{float(tip.weight):.2g}"}
    code = f"tip.{'above' if tip.above else 'below'}.{'undercut' if ordered else 'foot' if tip.setting >= 0 else 'cut'}"
    return advice.Tip(
        side=SIDES[tip.side],
        floor=floor.title,
        weight_now=weight / WHOLE,
        weight=round(float(tip.weight), 6),
        text=Phrase(code, height=Length(abs(tip.setting)), **values),
        **_setting(tip.setting, ordered=ordered),
    )


def _regrets(table: Table, chosen: Choice) -> list[int]:
    """Minutes more than the best choice for it alone, a pair of floors."""
    every = range(len(table.plan.pairs))
    return [table.from_start(place, chosen.setting, chosen.trim) - table.alone(place) for place in every]


def _scenarios(table: Table, chosen: Choice, regrets: list[int]) -> tuple[ScenarioAdvice, ...]:
    """Each pair of floors that may come and what it takes then, likeliest first."""
    facts = table.plan.facts
    found = [_scenario(table, place, chosen, regrets[place], facts) for place in range(len(table.plan.pairs))]
    return tuple(sorted(found, key=lambda one: -one.weight))


def _scenario(table: Table, place: int, chosen: Choice, regret: int, facts: Facts) -> ScenarioAdvice:
    pair = table.plan.pairs[place]
    made = table.mended(place, chosen.setting, chosen.trim)
    return ScenarioAdvice(
        pull_side=facts.pull.floors[pair.pull][0].title,
        push_side=facts.push.floors[pair.push][0].title,
        weight=pair.weight / MINUTE,
        minutes=made.minutes,
        work_minutes=made.work,
        regret=regret,
        trim=Length(made.trim),
        legs_show=Length(made.shows),
        outcome=_outcome(made, pair.demand, table.plan.pricing),
    )


def _outcome(made: Mended, asked: Demand, pricing: Pricing) -> Phrase:
    """What has to be done once a pair of floors lies, in words."""
    told = [
        part
        for part in (_again(made, ordered=pricing.ordered), _leaf(made, asked, pricing), _legs(made), _wishes(made))
        if part
    ]
    if not told:
        return Phrase("outcome.nothing")
    whole = told[-1]
    for part in reversed(told[:-1]):
        whole = Phrase("outcome.and", first=part, then=whole)
    return whole


def _again(made: Mended, *, ordered: bool) -> Phrase | None:
    if made.again is None:
        return None
    code = "outcome.exchange" if ordered else "outcome.again" if made.again >= 0 else "outcome.again_cut"
    return Phrase(code, height=Length(abs(made.again)))


def _leaf(made: Mended, asked: Demand, pricing: Pricing) -> Phrase | None:
    if not made.trim:
        return None
    if made.again is not None:
        return Phrase("outcome.trim.bench", trim=Length(made.trim))
    return Phrase(f"outcome.trim.{hung_place(asked, pricing, made.bottom)}", trim=Length(made.trim))


def _legs(made: Mended) -> Phrase | None:
    if not made.shows:
        return None
    return Phrase("outcome.covered" if made.piece else "outcome.filled", shows=Length(made.shows))


def _wishes(made: Mended) -> Phrase | None:
    given_up = made.wishes - bool(made.shows)  # filled legs are told as such
    if given_up <= 0:
        return None
    return Phrase("outcome.wish" if given_up == 1 else "outcome.wishes", count=str(given_up))
