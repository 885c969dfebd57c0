"""What mends a unit, alone or together with something else, and in which order it is told.

A kind of remedy is one small function: it is told how the unit stands and offers changed units, each with its
minutes and what it needs. What a change does is never asserted: the changed unit is judged as the unit was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from jambset.engine import asks, handling
from jambset.engine.answers import is_open
from jambset.engine.checks import MOVES_AIR, short
from jambset.engine.lines import FAIL
from jambset.engine.remedies_of_room import change_piece, grille, raise_floor, seal
from jambset.engine.remedies_of_unit import cover, fill, other_leaf, other_unit, reset, trim
from jambset.engine.remedy_steps import (
    COVER,
    FILL,
    GRILLE,
    LEAF,
    PIECE,
    RAISE,
    RESET,
    SEAL,
    TRIM,
    UNIT,
    Shop,
    Step,
    weight,
)
from jambset.engine.standing import LAWFUL, Judged
from jambset.engine.words import GUARDED, joined
from jambset.model.advice import Caution, Check, Phrase
from jambset.model.recheck import Remedy
from jambset.rules.schema import Catalogue

Offer = Callable[[Judged, Shop], Iterable[Step]]

KINDS: dict[str, Offer] = {
    RAISE: raise_floor,
    PIECE: change_piece,
    UNIT: other_unit,
    RESET: reset,
    LEAF: other_leaf,
    TRIM: trim,
    FILL: fill,
    COVER: cover,
    SEAL: seal,
    GRILLE: grille,
}
"""Kinds of remedy in working order: those that come later are fitted to what the earlier ones leave."""
EXCLUDES: dict[str, frozenset[str]] = {
    UNIT: frozenset({RESET, LEAF, TRIM}),
    RESET: frozenset({TRIM}),
    LEAF: frozenset({TRIM}),
    FILL: frozenset({COVER}),
}
"""What isn't done besides a kind that comes before it. A unit set anew, and another leaf, are cut as they need,
and another unit is made as it needs; a unit may stand so high for one floor that its legs show over the other."""
EVERY = tuple(KINDS)
AT_HAND = tuple([kind for kind in EVERY if kind != UNIT])
"""Kinds that are looked for first: another unit costs money that no minutes count."""
MOST = 3
"""Steps that are combined at most."""

Chain = tuple[Step, ...]
"""Steps done together, each fitted to what those before it leave."""


def chains(found: Judged, shop: Shop) -> tuple[Chain, ...]:
    """What mends the unit: what leaves no firm rule missed, least minutes first; then the rest, least left first.

    Of a door that holds back fire or smoke, what opens the gap under its leaf for air comes after what leaves as
    little missed and doesn't: that gap is to be as small as practicable, and a wall can pass air with a damper.
    Nothing is told that leaves more missed than it mends, that misses a rule of law or standard met before, or that
    takes a room's air for a wish; what mends only if a listing says so is told last, its rule left as missed. Another
    unit is told only where none of the others leaves as little that is firm.
    """
    better = _better(found, shop, AT_HAND)
    if found.firm and not any(is_whole(chain) for chain in better):
        least = min([weight(judged)[:2] for judged in (found, *[chain[-1].after for chain in better])])
        bought = [chain for chain in _better(found, shop, EVERY) if _buys(chain)]
        better += [chain for chain in bought if weight(chain[-1].after)[:2] < least]
    return tuple(sorted(better, key=_rank))


def setting_again(found: Judged, shop: Shop) -> list[Chain]:
    """What mends a unit with its foot where its head line wants it, or only sets it there, whatever it misses.

    Nothing starves a room or sinks a gap; something firm may stay missed.
    """
    alone: list[Chain] = [(step,) for step in reset(found, shop)]
    again = [chain for chain in alone if is_whole(chain)] or _combined(alone, shop, AT_HAND, most=None)
    allowed = [c for c in again if _is_lawful(c, found) and not _sinks(c, found) and not _starves(c, found)]
    return [*chains(found, shop), *allowed]


def suits_line(chain: Chain, found: Judged) -> bool:
    """Whether it may be done for a head line's sake: nothing firm is missed after it.

    Nor is anything cut at a door that holds back fire or smoke, or the gap under it opened for air.
    """
    spared = not found.facts.duties.isdisjoint(GUARDED)
    return is_whole(chain) and not (spared and any(step.cuts or step.for_air for step in chain))


def _better(found: Judged, shop: Shop, kinds: tuple[str, ...]) -> list[Chain]:
    """What of some kinds mends, alone or combined; with another unit among them, what has it or leads to it."""
    alone: list[Chain] = [(step,) for step in _offers(found, shop, kinds)]
    better = [
        chain
        for chain in alone
        if _helps(chain, found) and _is_lawful(chain, found) and not _sinks(chain, found) and not _starves(chain, found)
    ]
    if found.firm:
        whole = [minutes(chain) for chain in better if is_whole(chain) and not opens_for_air(chain)]
        better += _combined(alone, shop, kinds, most=min(whole, default=None))
    return better


def _helps(chain: Chain, found: Judged) -> bool:
    """Whether less is missed after it, or no more and the listing may allow it besides."""
    after, before = weight(chain[-1].after), weight(found)
    return after < before or (after == before and bool(chain[-1].after.if_listed))


def _sinks(chain: Chain, found: Judged) -> bool:
    """Whether a rule of law or standard is missed by more after it, or the strongest never relaxed that it changes.

    A gap too wide for fire is made no wider, whatever else that mends, and no leaf is sunk into a floor to hide legs.
    """
    before, after = _lacking(found), _lacking(chain[-1].after)
    both = [(c.force, before.get(_place(c), 0), after.get(_place(c), 0)) for c in found.checks]
    changed = [(force, now > was) for force, was, now in both if now != was]
    return any(more and (not place or force in LAWFUL) for place, (force, more) in enumerate(changed))


def _starves(chain: Chain, found: Judged) -> bool:
    """Whether it narrows the gap that a room's air passes by, where nothing firmer than a wish is missed."""
    passes = found.result.at.air.supply is not None or not MOVES_AIR.isdisjoint(found.facts.duties)
    return passes and not found.firm and (chain[-1].after.result.slot or 0) < (found.result.slot or 0)


def _lacking(judged: Judged) -> dict[tuple[str, object], float]:
    """By how much each rule that is never relaxed is missed, on each side."""
    return {_place(check): float(short(check)) for check in judged.checks if check.status == FAIL}


def _place(check: Check) -> tuple[str, object]:
    return check.rule, check.side


def opens_for_air(chain: Chain) -> bool:
    """Whether it raises the leaf of a door that holds back fire or smoke for the air that is to pass below it."""
    return any(step.for_air for step in chain)


def waits(chain: Chain, found: Judged) -> bool:
    """Whether it cuts what nobody can put back while a floor isn't certain."""
    return not found.facts.certain and any(step.cuts for step in chain)


def _buys(chain: Chain) -> bool:
    """Whether another unit is set."""
    return any(step.kind == UNIT for step in chain)


def is_whole(chain: Chain) -> bool:
    """Whether no firm rule is missed after it."""
    return not chain[-1].after.firm


def _is_lawful(chain: Chain, found: Judged) -> bool:
    """Whether no rule of law or standard is missed after it that was met before."""
    return set(chain[-1].after.unlawful) <= set(found.unlawful)


def minutes(chain: Chain) -> int:
    """Work of all its steps."""
    return sum([step.minutes for step in chain])


def _rank(chain: Chain) -> tuple[int, int, bool, int]:
    return (*weight(chain[-1].after)[:2], opens_for_air(chain), minutes(chain))


def _combined(alone: list[Chain], shop: Shop, kinds: tuple[str, ...], *, most: int | None) -> list[Chain]:
    """Chains after which no firm rule is missed: of each number of steps those that take less than any shorter one.

    most: minutes of a step that leaves none by itself; what takes as long or longer is no way beside it.
    """
    found: list[Chain] = []
    longer: list[Chain] = alone
    for _ in range(1, MOST):
        shorter = [chain for chain in longer if not is_whole(chain) and _is_less(chain, most)]
        longer = [(*chain, step) for chain in shorter for step in _offers(chain[-1].after, shop, kinds, chain)]
        whole = [chain for chain in longer if is_whole(chain) and _is_less(chain, most)]
        most = min([minutes(chain) for chain in whole if not opens_for_air(chain)], default=most)
        found += whole
    return found


def _is_less(chain: Chain, most: int | None) -> bool:
    return most is None or minutes(chain) < most


def _offers(before: Judged, shop: Shop, kinds: tuple[str, ...], done: Chain = ()) -> Iterator[Step]:
    """Steps that mend something of what is missed most firmly, of those of the kinds that may follow what is done.

    None that raises a leaf for air where a rule in force cautions against that.
    """
    aim, kept = frozenset(before.firm or before.missed), before.result.at.regime.keeps_gap
    if UNIT in kinds and not _buys(done):
        kinds = kinds[: kinds.index(UNIT) + 1]
    barred = frozenset[str]().union(*[EXCLUDES.get(step.kind, ()) for step in done])
    for kind in kinds[kinds.index(done[-1].kind) + 1 if done else 0 :] if aim else ():
        if kind not in barred:
            offered = [step for step in KINDS[kind](before, shop) if _aims(step.after, aim)]
            yield from [step for step in offered if not (kept and step.for_air)]


def _aims(after: Judged, aim: frozenset[str]) -> bool:
    """Whether something of an aim is met, or would be if a listing said so."""
    return not aim <= frozenset(after.missed) or not aim.isdisjoint(after.if_listed)


def remedy(chain: Chain, found: Judged, cautioned: tuple[Caution, ...]) -> Remedy:
    """A chain as answered. cautioned: what goes with it."""
    after, opening = chain[-1].after, found.facts.opening
    told = {name: value for step in chain for name, value in step.told.items()}
    return Remedy(
        kind=chain[0].kind if len(chain) == 1 else "combination",
        steps=tuple([step.kind for step in chain]),
        minutes=minutes(chain),
        text=text_of(chain, found),
        fixes=tuple([rule for rule in found.missed if rule not in after.missed]),
        breaks=tuple([rule for rule in after.missed if rule not in found.missed]),
        leaves=after.firm,
        if_listed=after.if_listed,
        lawful=not after.unlawful,
        needs=tuple({need.code: need for step in chain for need in step.needs if is_open(need.code, opening)}.values()),
        cautions=tuple([caution.code for caution in cautioned]),
        **told,
    )


def text_of(chain: Chain, found: Judged) -> Phrase:
    """What is done, with what has to be read before it."""
    text = joined([step.text for step in chain])
    if opens_for_air(chain):
        text = Phrase("remedy.opens_for_air", text=text)
    return Phrase("remedy.when_certain", text=text) if waits(chain, found) else text


def cautions(chain: Chain, catalogue: Catalogue) -> tuple[Caution, ...]:
    """Dangers that go with a chain: of the saw where the leaf is cut, of lifting it, of cutting into a wall."""
    after = chain[-1].after.result
    rules, sawn = after.at.regime.by_id, any(step.saws for step in chain)
    found = [c for c in asks.cautions(after) if rules[c.code].rule.when.trimmed is True] if sawn else []
    if any(step.lifts for step in chain):
        found += handling.cautions(after.at.facts, catalogue, off=True)
    found += dict.fromkeys([_CAUTIONS[step.kind] for step in chain if step.kind in _CAUTIONS])
    return tuple(found)


_CUT_WALL = Caution(code="cut_wall", text=Phrase("caution.cut_wall"))
_SMALL_PARTS = Caution(code="small_parts", text=Phrase("caution.small_parts"))
_CAUTIONS = {GRILLE: _CUT_WALL, FILL: _SMALL_PARTS, COVER: _SMALL_PARTS, PIECE: _SMALL_PARTS}
"""What no rule of the catalogue cautions of."""
