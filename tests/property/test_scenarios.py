"""Floors that may change, against a decision tree that is searched whole.

The tree is written from the description alone: what a pair of floors asks is read off its raw bounds, held to as
nearly as its own setting holds to them; then every setting of the tape well beyond the engine's, every cut now that
no pair asks less than, and for every pair each way to mend it are tried. Only the bounds, the settlement of a pair
on its own (searched in test_settle) and the labour table are taken from the engine.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec import UNSET
from msgspec.structs import replace
from tests.openings import Wire, advised, answer, assessed, catalogue, door, read, told
from tests.strategies import (
    INCHES,
    PLACES,
    Tape,
    build_ups,
    in_millimetres,
    in_text,
    pick,
    project_rules,
    subfloors,
    tape,
    written,
)

from jambset.engine.assess import Prepared, prepare
from jambset.engine.bounds import Situation, draw
from jambset.engine.decide import Decision, decide
from jambset.engine.facts import under
from jambset.engine.outlook import outlook
from jambset.engine.scenarios import MINUTE, Choice, Table, plan_of, situation
from jambset.engine.settle import BOTTOM, CUT, FOOT, TOP
from jambset.engine.stakes import tips, worth_of_asking
from jambset.model.advice import WHOLE, ScenarioAdvice
from jambset.quantity.ticks import INCH

# --- openings of which a floor isn't certain

LABOUR = (
    "block_legs",
    "trim_legs",
    "trim_on_bench",
    "trim_in_place",
    "trim_off_hinges",
    "rehang_leaf",
    "second_person",
    "seal_edge",
    "reset_unit",
    "fill_legs",
    "cover_legs",
)
COARSE = {True: ["1/16 in", "1/8 in"], False: ["5 mm", "2 mm"]}
KINDS = ("carpet", "resilient", "floating", "wood", "tile")


SURENESS = st.sampled_from([(), (), (("certainty", "assumed"),)])


@cache
@st.composite
def _sides(draw: st.DrawFn, units: str, *, most: int) -> Wire:
    """A side with its floor, and what it could become."""
    side: Wire = {"build_up": draw(build_ups(units, KINDS))}
    others = draw(st.lists(build_ups(units, KINDS), max_size=most))
    weights = draw(st.lists(st.integers(1, 30), min_size=len(others), max_size=len(others)))
    if others:
        side["could_become"] = [
            {"build_up": up, **({"weight": weight / 100} if weight < 25 else {})}
            for up, weight in zip(others, weights, strict=True)
        ]
    else:
        side |= dict(draw(SURENESS))
    return side


_MINUTES = st.dictionaries(st.sampled_from(LABOUR), st.integers(0, 120), max_size=5)


@cache
def _subfloors(units: str) -> st.SearchStrategy[Wire]:
    """Level more often than not."""
    return st.one_of(st.fixed_dictionaries({"kind": st.just("level")}), subfloors(units))


STATES = ("on_site", "on_site", "set", "to_order")


@cache
@st.composite
def unwritten_unsure(
    draw: st.DrawFn, *, states: Sequence[str] = STATES, most: int = 2, places: Sequence[str] = ("US", "US", *PLACES)
) -> Wire:
    """An opening that can be priced: its undercut known or still to be ordered, its foot known where it is set.

    most: alternatives on a side at most. Lengths are still to be written.
    """
    place = draw(pick(*places))
    units = PLACES[place]
    height = draw(tape(78 * INCH, 96 * INCH, units, coarse=True))
    state = draw(pick(*states))
    frame: Wire = {"state": state, "head_gap": Tape(INCH // 8), "head_thickness": Tape(INCH * 11 // 16)}
    if state != "to_order":
        frame["undercut"] = draw(tape(0, 2 * INCH, units, coarse=True))
    if state == "set":
        frame["foot"] = draw(tape(0, INCH, units))
    opening: Wire = {
        "mark": "D01",
        "jurisdiction": place,
        "leaf": {
            "width": draw(tape(24 * INCH, 36 * INCH, units, coarse=True)),
            "height": height,
            "thickness": Tape(INCH * 11 // 8),
            "core": draw(pick("hollow", "hollow", "solid", "stile_and_rail", "mdf", "steel")),
            "count": draw(pick(1, 1, 1, 2)),
            "hinges": draw(pick("butt", "lift_off", "spring")),
        },
        "frame": frame,
        "pull_side": draw(_sides(units, most=most)),
        "push_side": draw(_sides(units, most=most)),
        "grid": draw(pick(*COARSE[units == INCHES])),
        "subfloor": draw(_subfloors(units)),
    }
    if draw(st.booleans()):
        opening["rough_opening"] = {"height": Tape(height + draw(tape(INCH // 2, 4 * INCH, units)))}
    if draw(st.integers(0, 3)) == 0:
        opening["project_rules"] = draw(project_rules(units))
    if draw(st.integers(0, 2)) == 0:
        opening["labour"] = draw(_MINUTES)
    return opening


def unsure(**more: Any) -> st.SearchStrategy[Wire]:
    """Requests as JSON values; more: as for unwritten_unsure."""
    return unwritten_unsure(**more).map(lambda opening: written(opening, in_text))


def priced(opening: Wire) -> Prepared:
    return prepare(read(opening), catalogue(), price=True)


def table_of(opening: Wire) -> Table:
    table = priced(opening).table
    assert table is not None
    return table


# --- the decision tree, written from the description


class Asked(NamedTuple):
    """One limit that a pair of floors asks for, as nearly as its own setting keeps it."""

    wish: bool
    on: int
    lower: bool
    limit: int
    carpet: bool = False
    """Whether a carpet asks for it."""


class Unit(NamedTuple):
    """A unit as it stands, in the order of FOOT, BOTTOM, CUT and TOP [ticks]."""

    foot: int
    bottom: int
    trim: int
    uncut: int


def stands(foot: int, undercut: int, trim: int) -> Unit:
    return Unit(foot, foot + undercut + trim, trim, foot + undercut)


def missed(asked: Asked, unit: Unit) -> bool:
    return unit[asked.on] < asked.limit if asked.lower else unit[asked.on] > asked.limit


class Tree:
    """Everything that may be done for an opening, and its minutes."""

    def __init__(self, prepared: Prepared) -> None:
        self.facts, self.prepared = prepared.facts, prepared
        self.rows = prepared.work.rows
        facts = prepared.facts
        leaf = facts.opening.leaf
        self.leaves = leaf.count
        self.ordered = facts.opening.frame.state == "to_order" and facts.undercut is None
        self.step = facts.grid.step
        self.pairs = [
            PairTree(self, self._settled(one, other), weight * chance)
            for one, weight in facts.pull.floors or ((None, 10**6),)
            for other, chance in facts.push.floors or ((None, 10**6),)
        ]
        most = max(pair.weight for pair in self.pairs)
        likeliest = [pair.own.foot for pair in self.pairs if pair.weight == most]
        self.foot = min(likeliest, key=lambda foot: (abs(foot), -foot)) if self.ordered else 0
        self.undercut = facts.undercut or 0
        listed = all(side.floors for side in facts.sides)
        answered = all(side.confirmed or side.listed for side in facts.sides)
        self.may_cut = facts.as_set is None and listed and answered
        for pair in self.pairs:
            pair.ask()
        self.settings = self._settings()

    def _settled(self, one: Any, other: Any) -> tuple[Situation, Decision]:
        free = replace(self.facts, as_set=None)
        at = situation(under(free, one, other), self.prepared.selection, catalogue())
        return at, decide(at, self.prepared.work)

    @property
    def wish(self) -> int:
        """What a wish given up counts as: the bench work that could have kept it, and a minute."""
        return self.rows["block_legs"] + self.rows["trim_legs"] + self.bench + 1

    @property
    def bench(self) -> int:
        return self.leaves * (self.rows["trim_on_bench"] + self.rows["seal_edge"])

    def unit(self, setting: int, trim: int) -> Unit:
        return stands(self.foot, setting, trim) if self.ordered else stands(setting, self.undercut, trim)

    def legs(self, setting: int) -> int:
        """Both legs cut where one has to be, else blocked where one hangs over its subfloor."""
        foot, ground = self.unit(setting, 0).foot, self.facts.ground
        hangs = foot > min(ground.hinge_leg, ground.strike_leg)
        return self.rows["trim_legs"] if foot < 0 else self.rows["block_legs"] if hangs else 0

    def setting_of(self, own: Decision) -> int:
        """The setting that gives a unit its own top."""
        top = own.foot + (own.undercut or 0)
        return top - (self.foot if self.ordered else self.undercut)

    @property
    def highest(self) -> int | None:
        facts = self.facts
        if facts.header is None or facts.as_set is not None:
            return None
        return facts.header - facts.above_leaf - (self.foot if self.ordered else self.undercut)

    def _settings(self) -> list[int]:
        """Settings of the tape well beyond any limit, and each pair's own; none above the header."""
        own = {self.setting_of(pair.own) for pair in self.pairs}
        wanted = [a.limit - self.unit(0, 0).uncut for p in self.pairs for a in p.asked if a.on == BOTTOM and a.lower]
        low, high = min(0, *own, *wanted), max([0, *own, *wanted])
        reach = 6
        steps = range(low // self.step - reach, high // self.step + reach + 1)
        top = self.highest
        return sorted(own | {n * self.step for n in steps if top is None or n * self.step <= top})

    def off_hinges(self) -> int:
        hinges = self.facts.opening.leaf.hinges
        work = self.rows["trim_off_hinges"] + self.rows["seal_edge"]
        work += self.rows["rehang_lift_off"] if hinges == "lift_off" else self.rows["rehang_leaf"]
        work += self.rows["tension_spring"] if hinges == "spring" else 0
        work += self.rows["second_person"] if self.prepared.work.people == 2 else 0
        return work * self.leaves

    def hung(self, line: int) -> int:
        """Minutes of trimming a hung leaf along a line so high above the finish."""
        ground = self.facts.ground
        high = max(h for ends in ground.gauge for h in ends) if self.facts.gauge_known else ground.swing_high
        if line - high >= self.facts.defaults.room_to_cut:
            return self.leaves * (self.rows["trim_in_place"] + self.rows["seal_edge"])
        return self.off_hinges()


class Way(NamedTuple):
    """What one pair takes: minutes with each wish given up at its price, how many are, and what is still cut off."""

    minutes: int
    wishes: int
    trim: int = 0


class PairTree:
    def __init__(self, tree: Tree, settled: tuple[Situation, Decision], weight: int) -> None:
        self.tree, (self.at, self.own), self.weight = tree, settled, weight
        self._anew: dict[int, list[Way]] = {}

    def ask(self) -> None:
        own = self.own
        uncut = own.foot + (own.undercut or 0)
        unit = stands(own.foot, own.undercut or 0, 0 if own.bottom is None else own.bottom - uncut)
        decided = self.at.facts.decided
        self.asked = [
            Asked(
                b.rule in self.at.regime.wishes or (b.on == TOP and not b.lower and b.rule != "rough_opening"),
                b.on,
                b.lower,
                min(b.limit, unit[b.on]) if b.lower else max(b.limit, unit[b.on]),
                b.rule in self.at.regime.by_id and self.at.regime.by_id[b.rule].rule.when.finish == "carpet",
            )
            for b in draw(self.at, last_choice=False)
            if (decided or b.on in (FOOT, TOP)) and not (self.tree.ordered and b.on == FOOT)
        ]
        if not decided:
            self.asked.append(Asked(False, FOOT, False, own.foot))

    def wants(self, setting: int) -> int:
        """What has to come off at a setting: to the tape's next height that meets all limits, or as far as may be.

        What may be at most is rounded down to the tape.
        """
        uncut = self.tree.unit(setting, 0).uncut
        lows = [a.limit for a in self.asked if a.on == BOTTOM and a.lower]
        if not lows or uncut >= max(lows):
            return 0
        step = self.own.tape.step
        bottom = -(-max(lows) // step) * step
        most = [a.limit for a in self.asked if a.on == BOTTOM and not a.lower and not a.wish]
        most += [uncut + a.limit for a in self.asked if a.on == CUT and not a.lower and not a.wish]
        return max(0, min([bottom, *[limit // step * step for limit in most]]) - uncut)

    def ways(self, setting: int, now: int) -> Iterator[Way]:
        """Every way to live with a unit so set and cut, once these floors lie."""
        yield from self.mended(setting, now, 0, later=0)
        if (trim := self.wants(setting)) > now:
            finish = self.at.facts.pull.floor
            line = self.tree.unit(setting, trim).bottom - (finish.nominal if finish else 0)
            yield from self.mended(setting, trim, self.tree.hung(line), later=trim - now)
        kept = 0 if self.tree.ordered else now
        yield from self.anew(kept)

    def mended(self, setting: int, trim: int, work: int, *, later: int) -> Iterator[Way]:
        """The legs left as they are where they are hidden; else filled, or covered by a piece that is high enough.

        A piece hides what shows over hard floors; under a carpet that doesn't reach below the legs, fillers do.
        """
        unit = self.tree.unit(setting, trim)
        lost = [a for a in self.asked if missed(a, unit)]
        on_legs = [a for a in lost if a.on == FOOT and not a.lower]
        if any(not a.wish for a in lost if a not in on_legs):
            return
        if all(a.wish for a in on_legs):
            yield self.way(work, len(lost), later)
            return
        gone = len(lost) - len(on_legs) + 1  # hidden by what is put there, which nobody wished for
        yield self.way(work + self.tree.rows["fill_legs"], gone, later)
        shows = max(unit.foot - a.limit for a in on_legs if not a.wish)
        joint = self.at.joint
        tucks = not any(a.carpet and not a.wish for a in on_legs)
        if joint is not None and not joint.runs_through and shows <= joint.rise and tucks:
            yield self.way(work + self.tree.rows["cover_legs"], gone, later)

    def way(self, work: int, wishes: int, trim: int) -> Way:
        return Way(work + self.tree.wish * wishes, wishes, trim)

    def anew(self, kept: int) -> list[Way]:
        """The unit taken out and set anew at every setting; a leaf that is too short for all of them, a new one."""
        if kept not in self._anew:
            found = []
            for setting in self.tree.settings:
                trim = max(kept, self.wants(setting))
                lost = [a for a in self.asked if missed(a, self.tree.unit(setting, trim))]
                if all(a.wish for a in lost):
                    work = self.tree.rows["reset_unit"] + self.tree.legs(setting)
                    found.append(self.way(work + (self.tree.bench if trim > kept else 0), len(lost), trim - kept))
            self._anew[kept] = found or self.anew(0)
        return self._anew[kept]

    def cheapest(self, setting: int, now: int) -> Way:
        """Of ways that take as long, the one that is listed first, which touches less."""
        return min(self.ways(setting, now), key=lambda way: way.minutes)


class Searched(NamedTuple):
    """A choice found, least expected minutes first, then as the engine says it breaks ties."""

    expected: int
    worst: int
    wishes: int
    cuts: bool
    off: int
    setting: int


def searched(tree: Tree, setting: int, now: int, places: Sequence[int] | None = None) -> Searched:
    """What a setting and a cut now come to over some pairs, or all."""
    before = 0 if tree.facts.as_set is not None else tree.legs(setting) + (tree.bench if now else 0)
    pairs = tree.pairs if places is None else [tree.pairs[place] for place in places]
    ways = [(pair.weight, pair.cheapest(setting, now)) for pair in pairs]
    return Searched(
        sum(weight * (before + way.minutes) for weight, way in ways),
        before + max(way.minutes for _, way in ways),
        sum(weight * way.wishes for weight, way in ways),
        now > 0,
        sum(weight * way.trim for weight, way in ways) // MINUTE if tree.ordered else abs(setting),
        setting,
    )


def cuts_now(tree: Tree, setting: int, places: Sequence[int] | None = None) -> list[int]:
    """Cuts on the tape that none of some pairs, or of all, asks less than."""
    if not tree.may_cut:
        return [0]
    most = min(tree.pairs[p].wants(setting) for p in (range(len(tree.pairs)) if places is None else places))
    return [*range(0, most, tree.step), most] if most else [0]


def search(tree: Tree) -> Searched:
    return min(searched(tree, setting, now) for setting in _tried(tree) for now in cuts_now(tree, setting))


def _tried(tree: Tree) -> list[int]:
    return tree.settings if tree.facts.as_set is None else [tree.facts.as_set]


def as_searched(choice: Choice) -> Searched:
    return Searched(choice.expected, choice.worst, choice.wishes, choice.cuts, choice.off, choice.setting)


@settings(max_examples=100)
@given(opening=unsure())
def test_the_setting_chosen_is_the_best_of_the_whole_tree(opening: Wire) -> None:
    prepared = priced(opening)
    assert prepared.table is not None
    assert as_searched(prepared.table.best()) == search(Tree(prepared))


@settings(max_examples=150)
@given(opening=unsure())
def test_every_pair_is_mended_by_the_cheapest_way_of_the_tree(opening: Wire) -> None:
    prepared = priced(opening)
    assert prepared.table is not None
    tree = Tree(prepared)
    for choice in offered(prepared.table):
        for place, pair in enumerate(tree.pairs):
            made = prepared.table.mended(place, choice.setting, choice.trim)
            cheapest = pair.cheapest(choice.setting, choice.trim)
            assert made.minutes == cheapest.minutes
            assert made.again is not None or made.wishes == cheapest.wishes
            assert made.minutes == made.work + made.wishes * tree.wish


def offered(table: Table, places: Sequence[int] | None = None) -> list[Choice]:
    """Every choice that the engine considers over some pairs, or all."""
    over = range(len(table.plan.pairs)) if places is None else places
    return [c for n in table.plan.candidates for c in table.choices(n, over, may_cut=table.plan.may_cut)]


# --- what is certain


def _certain(opening: Wire, side: str, others: list[Wire]) -> Wire:
    return {**opening, side: {**opening[side], "could_become": others}}


def _without_pointers(part: Any) -> Any:
    """An answer without where its request has what, and without its digests."""
    if isinstance(part, dict):
        left = {"pointer", "advice_id", "input_digest"}
        return {name: _without_pointers(value) for name, value in part.items() if name not in left}
    return [_without_pointers(value) for value in part] if isinstance(part, list) else part


@settings(max_examples=60)
@given(opening=unsure(most=0), floor=build_ups(INCHES, KINDS), side=st.sampled_from(["pull_side", "push_side"]))
def test_an_alternative_of_weight_1_is_a_confirmed_floor(opening: Wire, floor: list[Wire], side: str) -> None:
    up = written(floor, in_text)
    bare = {name: part for name, part in opening[side].items() if name != "certainty"}
    sure = {**opening, side: {**bare, "build_up": up, "certainty": "confirmed"}}
    likely = [{"build_up": up, "weight": 1}]
    named = {**opening, side: {**bare, "could_become": likely}}
    listed = {**opening, side: {"could_become": likely}}
    for other in (named, listed):
        assert _without_pointers(advised(other)) == _without_pointers(advised(sure))


@settings(max_examples=100)
@given(opening=unsure(most=0, states=("on_site", "on_site", "to_order")))
def test_certain_floors_are_priced_to_the_setting_that_their_bounds_decide(opening: Wire) -> None:
    for side in ("pull_side", "push_side"):
        opening[side].pop("certainty", None)
    prepared = priced(opening)
    assert prepared.table is not None
    assume(prepared.work.saw["bench"] <= min(prepared.work.saw.values()))  # else it is cut later, hung
    best, facts = prepared.table.best(), prepared.facts
    own = decide(situation(facts, prepared.selection, catalogue()), prepared.work)
    assume(own.tape == facts.grid)  # else the caller's tape may have a foot that the finer one hasn't
    setting = own.undercut if prepared.table.plan.pricing.ordered else own.foot
    assert (best.setting, best.trim) == (setting, own.trim)
    assert best.expected == best.worst * MINUTE


@settings(max_examples=100)
@given(opening=unsure())
def test_nothing_is_regretted_of_a_floor_that_was_certain(opening: Wire) -> None:
    table = table_of(opening)
    chosen = table.best()
    told_of, each = outlook(table, chosen)
    assert told_of.regret == max(one.regret for one in each)
    assert all(one.regret >= 0 for one in each)
    if len(each) == 1 and table.plan.may_cut:
        assert each[0].regret == 0


@settings(max_examples=60)
@given(opening=unsure(), reset=st.integers(0, 60))
def test_a_pair_that_is_certain_from_the_start_is_not_set_to_be_set_again(opening: Wire, reset: int) -> None:
    starts_best({**opening, "labour": {**opening.get("labour", {}), "reset_unit": reset}})


@settings(max_examples=60)
@given(
    opening=unsure(states=("on_site",)), legs=st.integers(20, 60), bench=st.integers(60, 120), hung=st.integers(0, 10)
)
def test_nor_on_blocks_where_a_hung_leaf_is_cut_in_less(opening: Wire, legs: int, bench: int, hung: int) -> None:
    saws = {"trim_on_bench": bench, "trim_in_place": hung, "trim_off_hinges": hung, "rehang_leaf": 0, "seal_edge": 0}
    starts_best({**opening, "labour": {"block_legs": legs, "reset_unit": 400, **saws}})


def starts_best(opening: Wire) -> None:
    """What each pair comes to, certain, is the least of every start, those included after which it is set again."""
    table = table_of(opening)
    for place, pair in enumerate(table.plan.pairs):
        starts = [(n, c) for n in (pair.demand.own, *table.plan.pricing.settings) for c in table.cuts(place, n)]
        assert table.alone(place) == min(table.from_start(place, n, cut) for n, cut in starts)


# --- floors come and go


def _removals(opening: Wire) -> list[Wire]:
    """The opening with one alternative less, as long as its side still has another."""
    found = []
    for side in ("pull_side", "push_side"):
        others = opening[side].get("could_become", [])
        places = range(len(others)) if len(others) > 1 else ()
        found += [_certain(opening, side, others[:gone] + others[gone + 1 :]) for gone in places]
    return found


def worst_at(table: Table, setting: int) -> int:
    """The least of the worst cases at a setting: the leaf left long, or cut by what every pair asks for."""
    every = range(len(table.plan.pairs))
    return min(c.worst for c in table.choices(setting, every, may_cut=table.plan.may_cut))


@settings(max_examples=100)
@given(opening=unsure(states=("on_site",)))
def test_a_floor_less_never_makes_the_worst_case_worse(opening: Wire) -> None:
    fewer = _removals(opening)
    assume(fewer)
    never_worse(opening, fewer)


def never_worse(opening: Wire, fewer: list[Wire]) -> None:
    table = table_of(opening)
    for one in map(table_of, fewer):
        both = {*table.plan.candidates} & {*one.plan.candidates}  # one off the tape goes with the pair whose own it is
        # a pair that is left alone is certain, so no setting is priced with setting the unit again in mind
        for setting in both if len(one.plan.pairs) > 1 else ():
            assert worst_at(one, setting) <= worst_at(table, setting)
        assert least_worst(one) <= min([worst_at(table, setting) for setting in both])


def test_nor_where_a_pair_that_needs_no_cut_by_itself_is_cut_for_another() -> None:
    """Carpet both sides stands on 5 mm uncut, 42 mm up. On the subfloor its cut ends there too, off the 5 mm tape."""
    plank, other = (
        [{"material": "plywood_underlay"}, {"material": "vinyl_plank", "fixing": "glued"}],
        [{"material": "vinyl_plank", "fixing": "glued"}],
    )
    opening = door(
        jurisdiction="GB-ENG",
        grid="5 mm",
        leaf={"width": "610 mm", "height": "1982 mm", "thickness": "1 3/8 in", "core": "hollow"},
        frame={"state": "on_site", "head_gap": "1/8 in", "head_thickness": "11/16 in", "undercut": "37 mm"},
        subfloor={"kind": "level"},
        pull_side={"build_up": [{"material": "carpet_cushion"}, {"material": "carpet"}]},
        push_side={
            "build_up": plank,
            "could_become": [
                {"build_up": [{"material": "carpet"}], "weight": 0.01},
                {"build_up": other, "weight": 0.01},
            ],
        },
    )
    never_worse(opening, _removals(opening))


def least_worst(table: Table) -> int:
    return outlook(table, table.best())[0].least_worst_minutes


# --- what an answer is worth


@settings(max_examples=60)
@given(opening=unsure())
def test_asking_is_worth_what_the_tree_says_it_saves(opening: Wire) -> None:
    prepared = priced(opening)
    assert prepared.table is not None
    table, tree = prepared.table, Tree(prepared)
    chosen = table.best()
    for side in (0, 1):
        worth = worth_of_asking(table, side)
        assert worth >= 0
        floors = {(pair.pull, pair.push)[side] for pair in table.plan.pairs}
        if len(floors) == 1:
            continue
        saved = 0
        for floor in floors:
            places = [n for n, pair in enumerate(table.plan.pairs) if (pair.pull, pair.push)[side] == floor]
            told = min(searched(tree, s, now, places) for s in _tried(tree) for now in cuts_now(tree, s, places))
            saved += searched(tree, chosen.setting, chosen.trim, places).expected - told.expected
        assert worth == saved


# --- likelihoods that tip the choice


def moved(table: Table, side: int, floor: int, weight: Fraction) -> Table:
    """The same floors, one of them so likely, the others of its side in their proportions."""
    plan = table.plan
    has = [(pair.pull, pair.push)[side] == floor for pair in plan.pairs]
    now = Fraction(sum(pair.weight for pair, it in zip(plan.pairs, has, strict=True) if it), MINUTE)
    pairs = [
        replace(pair, weight=pair.weight * (weight / now if it else (1 - weight) / (1 - now)))
        for pair, it in zip(plan.pairs, has, strict=True)
    ]
    return Table(replace(plan, pairs=tuple(pairs)))


HAIR = Fraction(1, 10**9)


def best_settings(table: Table) -> set[int]:
    """Settings of least expected minutes."""
    least = min(choice.expected for choice in offered(table))
    return {choice.setting for choice in offered(table) if choice.expected == least}


@settings(max_examples=140)
@given(opening=unsure(states=("on_site", "on_site", "to_order")))
def test_the_choice_tips_where_it_is_said_to_and_nowhere_before(opening: Wire) -> None:
    table = table_of(opening)
    chosen = table.best()
    found = tips(table, chosen)
    for tip in found:
        now, way = _likelihood(table, tip.side, tip.floor), 1 if tip.above else -1
        beyond = best_settings(moved(table, tip.side, tip.floor, tip.weight + way * HAIR))
        assert tip.setting in beyond
        assert chosen.setting not in beyond
        assert (tip.weight - now) * way >= 0
        before = moved(table, tip.side, tip.floor, now + (tip.weight - now) * (1 - HAIR))
        assert chosen.setting in best_settings(before)
    for side, floor in _movable(table):
        tipped = {tip.above for tip in found if (tip.side, tip.floor) == (side, floor)}
        for above, end in ((False, HAIR), (True, 1 - HAIR)):
            assert (above in tipped) == (chosen.setting not in best_settings(moved(table, side, floor, end)))


def _likelihood(table: Table, side: int, floor: int) -> Fraction:
    return Fraction(table.plan.facts.sides[side].floors[floor][1], WHOLE)


def _movable(table: Table) -> list[tuple[int, int]]:
    sides = table.plan.facts.sides
    return [
        (n, floor)
        for n, side in enumerate(sides)
        for floor in range(1 if len(side.floors) == 2 else 0, len(side.floors))
    ]


# --- what is told


@settings(max_examples=150)
@given(opening=unsure())
def test_expected_minutes_are_what_is_done_now_and_the_mean_of_what_may_come(opening: Wire) -> None:
    advice, prepared = assessed(opening), priced(opening)
    assert (advice.outlook is not UNSET) == prepared.facts.weighed
    if advice.outlook is UNSET:
        assert advice.scenarios == ()
        return
    outlook_, rows, ordered = advice.outlook, prepared.work.rows, prepared.facts.undercut is None
    assert prepared.table is not None
    foot = prepared.table.plan.pricing.foot if ordered else told(outlook_.foot)
    low = min(prepared.facts.ground.hinge_leg, prepared.facts.ground.strike_leg)
    done = rows["trim_legs"] if foot < 0 else rows["block_legs"] if foot > low else 0
    done += (rows["trim_on_bench"] + rows["seal_edge"]) * prepared.facts.opening.leaf.count if outlook_.trim_now else 0
    done = 0 if prepared.facts.as_set is not None else done
    weights = [round(one.weight * MINUTE) for one in advice.scenarios]
    assert sum(weights) == MINUTE
    mean = sum(weight * (done + one.minutes) for weight, one in zip(weights, advice.scenarios, strict=True))
    assert outlook_.now_minutes == done
    assert outlook_.expected_minutes == mean
    assert outlook_.worst_minutes == done + max(one.minutes for one in advice.scenarios)
    assert outlook_.least_worst_minutes <= outlook_.worst_minutes
    assert outlook_.expected_minutes <= outlook_.worst_minutes * MINUTE
    assert list(advice.scenarios) == sorted(advice.scenarios, key=lambda one: -one.weight)


@settings(max_examples=150)
@given(opening=unsure(states=("on_site", "to_order")))
def test_no_more_is_cut_on_floors_that_may_change_than_all_of_them_ask_for(opening: Wire) -> None:
    prepared, advice = priced(opening), assessed(opening)
    if not prepared.facts.weighed:
        return
    tree = Tree(prepared)
    assert advice.outlook is not UNSET
    height = advice.outlook.undercut if tree.ordered else advice.outlook.foot
    least = min(pair.wants(told(height)) for pair in tree.pairs)
    now = 0 if advice.leaf.trim_now is UNSET else told(advice.leaf.trim_now)
    assert now <= advice.outlook.trim_now <= least
    merely_assumed = any(not s.confirmed and not s.listed for s in prepared.facts.sides)
    if merely_assumed:
        assert advice.outlook.trim_now == 0
    if advice.leaf.when == "before_hanging":
        assert advice.leaf.trim == now > 0
    if advice.leaf.when == "none":
        assert all(one.trim == 0 or one.legs_show for one in advice.scenarios if one.weight == 1)
    cutting = [task for task in advice.tasks if task.key.endswith("trim-leaf-first")]
    assert len(cutting) == (now > 0 and advice.leaf.when == "after_floor")


# --- what doesn't count


def _turned(opening: Wire) -> Wire:
    """Alternatives in reverse order, and the members of a side too."""
    turned = dict(opening)
    for side in ("pull_side", "push_side"):
        members = dict(reversed(opening[side].items()))
        if "could_become" in members:
            members["could_become"] = members["could_become"][::-1]
        turned[side] = members
    return turned


@settings(max_examples=100)
@given(opening=unsure())
def test_the_order_of_alternatives_changes_no_minute(opening: Wire) -> None:
    one, other = assessed(opening), assessed(_turned(opening))
    assume(one.outlook is not UNSET)
    assert one.outlook is not UNSET
    assert other.outlook is not UNSET
    assert replace(one.outlook, tips=()) == replace(other.outlook, tips=())
    assert set(one.outlook.tips) == set(other.outlook.tips)
    assert sorted(map(_told, one.scenarios), key=repr) == sorted(map(_told, other.scenarios), key=repr)
    stakes = [[(q.pointer, q.minutes_at_stake) for q in advice.questions] for advice in (one, other)]
    assert stakes[0] == stakes[1]


def _told(one: ScenarioAdvice) -> tuple[Any, ...]:
    return (one.pull_side, one.push_side, one.weight, one.minutes, one.work_minutes, one.regret, one.trim)


def _halved(side: Wire) -> Wire:
    """A side with every floor that has a weight listed twice, half the weight each."""
    others = side.get("could_become", [])
    halves = [{**one, "weight": one["weight"] / 2} if "weight" in one else one for one in others]
    twice = [one for half in halves for one in ([half, half] if "weight" in half else [half])]
    return {**side, "could_become": twice} if others else side


@settings(max_examples=40)
@given(opening=unsure())
def test_a_floor_listed_twice_is_one_as_likely_as_both(opening: Wire) -> None:
    halved = {**opening, **{side: _halved(opening[side]) for side in ("pull_side", "push_side")}}
    assert _without_pointers(advised(halved)) == _without_pointers(advised(opening))


@settings(max_examples=60)
@given(opening=unsure(), step=st.sampled_from(LABOUR), more=st.integers(1, 90))
def test_slower_work_makes_no_setting_cheaper(opening: Wire, step: str, more: int) -> None:
    fast = priced(opening)
    labour = {**opening.get("labour", {}), step: fast.work.rows[step] + more}
    slow = priced({**opening, "labour": labour})
    assert fast.table is not None
    assert slow.table is not None
    prices = {choice.setting: choice.expected for choice in map(fast.table.at, fast.table.plan.candidates)}
    for choice in map(slow.table.at, slow.table.plan.candidates):
        assert choice.expected >= prices.get(choice.setting, 0)
    assert slow.table.best().expected >= fast.table.best().expected


@settings(max_examples=40)
@given(opening=unwritten_unsure(places=("US", "US-FL")))
def test_floors_that_may_change_are_the_same_in_millimetres(opening: Wire) -> None:
    assert answer(written(opening, in_millimetres)) == answer(written(opening, in_text))


@settings(max_examples=100)
@given(opening=unsure())
def test_a_crew_that_is_half_as_fast_sets_the_unit_alike(opening: Wire) -> None:
    prepared = priced(opening)
    work = prepared.work
    twice = replace(
        work,
        rows={name: 2 * minutes for name, minutes in work.rows.items()},
        saw={where: 2 * minutes for where, minutes in work.saw.items()},
        **{
            name: 2 * getattr(work, name)
            for name in ("block_legs", "trim_legs", "set_again", "fill_legs", "cover_legs", "wish")
        },
    )
    plan = plan_of(prepared.facts, prepared.selection, catalogue(), twice)
    assert plan is not None
    assert prepared.table is not None
    slow, chosen = Table(plan).best(), prepared.table.best()
    assert slow == replace(chosen, expected=2 * chosen.expected, worst=2 * chosen.worst)
