"""Which piece joins the two floors under the closed leaf, how high it stands and how its edge is eased."""

from __future__ import annotations

from functools import lru_cache
from math import ceil

from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from jambset.engine.facts import PULL, PUSH, Facts
from jambset.engine.floors import Floor, is_same
from jambset.engine.lines import is_firm
from jambset.engine.regime import Regime
from jambset.engine.words import title_of
from jambset.model.advice import Bevel, Phrase, Term, TransitionAdvice, quote
from jambset.model.request import Opening, Transition
from jambset.quantity.ticks import INCH, Length
from jambset.rules.schema import Catalogue, FinishKind, Measured, Piece, Relation
from jambset.rules.select import Applied

FAR_OFF = INCH // 4
"""How far outside the rises of a piece a stated one is more likely another piece's: our judgement."""


class Joint(Struct, frozen=True, gc=False):
    """A piece in place. Heights in ticks above the subfloor; drop: its top above the lower finish."""

    piece: Piece
    usual: Piece
    """The piece that the request asks for, or else that is fitted over such a step where no rule is lost by it."""
    spared: tuple[Applied, ...]
    """Rules on the gap below the leaf that the usual piece would cost and this one doesn't."""
    high: Floor
    low: Floor
    step: int
    higher: str
    rise: int
    least: int
    nominal: int
    greatest: int
    drop: int
    vertical: int
    bevel: Bevel | None

    runs_through: bool
    """Whether one floor lies in the whole doorway and nothing is fitted."""
    misfit: str
    """What by the table its piece isn't made for: finishes, rise, step or floating; "" where it fits."""

    @property
    def is_flat(self) -> bool:
        """Whether nothing stands above the higher floor."""
        return self.greatest == max(self.high.greatest, self.low.greatest)

    @property
    def ramped(self) -> bool:
        """Whether the change in level needs a ramp."""
        return self.bevel is not None and self.bevel.kind == "ramp"


def join(facts: Facts, rules: Regime, catalogue: Catalogue) -> Joint | None:
    """The joint of two named floors under the rules in force; None while one is undecided."""
    pull, push = facts.pull.floor, facts.push.floor
    if pull is None or push is None:
        return None
    uneven = facts.ground.closed_high - facts.ground.closed_low
    return _join(pull, push, facts.piece, facts.piece_rise, uneven, rules, catalogue)


@lru_cache(maxsize=4096)
def _join(
    pull: Floor,
    push: Floor,
    named: str | UnsetType,
    rise: Length | UnsetType,
    uneven: int,
    rules: Regime,
    catalogue: Catalogue,
) -> Joint:
    """The same two floors meet under many doors. named, rise: the piece and its rise as the request has them.

    uneven: what the subfloor rises by under the closed leaf [ticks].
    """
    high, low = (pull, push) if pull.nominal >= push.nominal else (push, pull)
    usual = _usual(named, rise, catalogue, high=high, low=low, eased=rules.eased)
    piece: Piece = usual
    spared: tuple[Applied, ...] = ()
    if named is UNSET and rise is UNSET:
        piece, spared = _sparing(usual, rules, catalogue, high=high, low=low, uneven=uneven)
    step = high.nominal - low.nominal
    least, stands, most = (piece.rise_least, piece.rise, piece.rise_greatest) if rise is UNSET else (rise, rise, rise)
    drop = step + stands
    vertical, bevel = _ease(drop, rules) if rules.eased else (drop, None)
    return Joint(
        piece=piece,
        usual=usual,
        spared=spared,
        high=high,
        low=low,
        step=step,
        higher=PULL if high is pull else PUSH,
        rise=stands,
        least=max(pull.least, push.least) + least,
        nominal=high.nominal + stands,
        greatest=max(pull.greatest, push.greatest) + most,
        drop=drop,
        vertical=vertical,
        bevel=bevel,
        runs_through=piece.same is True and is_same(high, low) and not stands,
        misfit=_misfit(piece, high, low, stands),
    )


def _misfit(piece: Piece, high: Floor, low: Floor, rise: int) -> str:
    """What a piece isn't made for; see Joint."""
    step = high.nominal - low.nominal
    if not joins_kinds(piece, high.kind, low.kind, level=step == 0) or (piece.same is True and not is_same(high, low)):
        return "finishes"
    if (piece.same is True and rise) or _off(piece, rise) > FAR_OFF:
        return "rise"
    if not piece.step_least <= step <= piece.step_greatest:
        return "step"
    return "floating" if piece.floating is False and (high.floating or low.floating) else ""


def _usual(
    named: str | UnsetType, rise: Length | UnsetType, catalogue: Catalogue, *, high: Floor, low: Floor, eased: bool
) -> Piece:
    if named is not UNSET:
        return next(row for row in catalogue.pieces if row.id == named)
    joining = _joining(catalogue, high.kind, low.kind, level=high.nominal == low.nominal)
    fitting = [row for row in joining if fits(row, high, low)]
    fitting = fitting or [max(joining, key=lambda row: row.step_greatest)]  # a step beyond the table: what spans most
    if rise is not UNSET:  # so high a piece is fitted, where it is 0 none or a flush one
        pieces = [row for row in fitting if not rise or row.same is not True] or fitting
        return min(pieces, key=lambda row: (_off(row, rise), eased and not row.accessible))
    return next((row for row in fitting if row.accessible or not eased), fitting[0])


def _sparing(
    usual: Piece, rules: Regime, catalogue: Catalogue, *, high: Floor, low: Floor, uneven: int
) -> tuple[Piece, tuple[Applied, ...]]:
    """The first piece over which the fewest rules are lost, and what it spares of those that the usual one costs."""
    cost = _cost(usual, rules, high=high, low=low, uneven=uneven)
    if not cost:
        return usual, ()
    others = _others(usual, rules, catalogue, high=high, low=low)
    costs = [(piece, _cost(piece, rules, high=high, low=low, uneven=uneven)) for piece in others]
    piece, left = min([(usual, cost), *costs], key=lambda one: len(one[1]))
    spared = {cap.rule.id: cap for pair, cap in cost.items() if pair not in left}
    return piece, tuple(spared.values())


def _cost(piece: Piece, rules: Regime, *, high: Floor, low: Floor, uneven: int) -> dict[tuple[str, str], Applied]:
    """Rules on the room over a piece, each with one on how wide a gap may be that it can't be kept with."""
    top = uneven + max(high.greatest, low.greatest) + piece.rise_greatest
    over = [a for a in rules.of(Measured.PIECE_CLEARANCE) if a.rule.relation is Relation.AT_LEAST and is_firm(a.rule)]
    return {
        (room.rule.id, cap.rule.id): cap
        for room in over
        for cap in rules.of(Measured.FLOOR_CLEARANCE)
        if cap.rule.relation is Relation.AT_MOST and is_firm(cap.rule)
        for floor in (high, low)
        if cap.rule.when.finish in (UNSET, floor.kind) and top + (room.limit or 0) > floor.least + (cap.limit or 0)
    }


def _off(piece: Piece, rise: int) -> int:
    """How far a rise lies outside those that a piece is made with."""
    return max(piece.rise_least - rise, rise - piece.rise_greatest, 0)


@lru_cache(maxsize=64)
def _joining(catalogue: Catalogue, high: FinishKind, low: FinishKind, *, level: bool) -> tuple[Piece, ...]:
    """Pieces that join two kinds of finish."""
    return tuple(row for row in catalogue.pieces if joins_kinds(row, high, low, level=level))


def fits(piece: Piece, high: Floor, low: Floor) -> bool:
    """Whether a piece that joins the kinds of two floors is what is fitted over their step, floating or the same."""
    floating = high.floating or low.floating
    return (
        piece.step_least <= high.nominal - low.nominal <= piece.step_greatest
        and piece.floating in (UNSET, floating)
        and piece.same in (UNSET, is_same(high, low))
    )


def joins_kinds(piece: Piece, high: FinishKind, low: FinishKind, *, level: bool) -> bool:
    """Whether a piece is made for two kinds of finish; of two that are level either may count as the higher."""
    joined = (piece.higher, piece.lower)
    return joined == (high, low) or (level and joined == (low, high))


def other_pieces(joint: Joint, rules: Regime, catalogue: Catalogue) -> tuple[Piece, ...]:
    """Pieces that may join the two floors of a joint over their step, other than the one that is there."""
    return _others(joint.piece, rules, catalogue, high=joint.high, low=joint.low)


def _others(than: Piece, rules: Regime, catalogue: Catalogue, *, high: Floor, low: Floor) -> tuple[Piece, ...]:
    return tuple(
        piece
        for piece in _joining(catalogue, high.kind, low.kind, level=high.nominal == low.nominal)
        if piece.id != than.id
        and fits(piece, high, low)
        and (piece.accessible or not rules.eased)
        and piece.same is not True  # what is fitted isn't exchanged for nothing: nobody knows what lies below it
    )


def with_piece(opening: Opening, piece: Piece) -> Opening:
    """An opening whose floors that piece joins."""
    return replace(opening, transition=Transition(piece=piece.id))


def to_fit(piece: Piece) -> Phrase:
    """That a piece is fitted in place of the one that is there, and how high it stands."""
    code = "remedy.change_piece" if piece.rise else "remedy.change_piece.level"
    return Phrase(code, piece=Term(piece.title), rise=piece.rise)


def _strictest(rules: Regime, measured: Measured) -> float | None:
    return min((a.limit for a in rules.of(measured) if a.limit is not None), default=None)


def _ease(drop: int, rules: Regime) -> tuple[int, Bevel | None]:
    """Vertical part and bevel or ramp that meet the rules for a change in level."""
    edge = int(_strictest(rules, Measured.VERTICAL_EDGE) or 0)
    if drop <= edge:
        return drop, None
    most, ramp = (_strictest(rules, m) for m in (Measured.UNRAMPED_CHANGE, Measured.RAMP_SLOPE))
    if most is not None and ramp is not None and drop > most:
        return 0, Bevel(kind="ramp", rise=Length(drop), run=Length(ceil(drop / ramp)))
    slope = _strictest(rules, Measured.BEVEL_SLOPE)
    rise, upright = Length(drop - edge), Length(edge) if edge else UNSET
    run = UNSET if slope is None else Length(ceil(rise / slope))
    return edge, Bevel(kind="bevel", upright=upright, rise=rise, run=run)


def advise(joint: Joint, facts: Facts, *, governed_by: tuple[str, ...]) -> TransitionAdvice:
    """The joint as answered; it sits under the middle of the closed leaf, so that each room sees its own floor."""
    return TransitionAdvice(
        piece=joint.piece.id,
        title=quote(joint.piece.title),
        step=Length(joint.step),
        rise=Length(joint.rise),
        top=Length(joint.nominal),
        higher_side=joint.higher,
        bevel=joint.bevel,
        joint_from_pull_face=Length(facts.opening.leaf.thickness // 2),
        instead_of=joint.usual.id if joint.spared else UNSET,
        note=_note(joint),
        governed_by=(*governed_by, *[applied.rule.id for applied in joint.spared]),
    )


def _note(joint: Joint) -> Phrase | UnsetType:
    """How the piece is made, and for whose sake it isn't the usual one."""
    made = _made(joint)
    if not joint.spared:
        return made
    titles = tuple([title_of(applied) for applied in joint.spared])
    return Phrase("transition.spared", made=made, usual=Term(joint.usual.title), rules=titles)


def _made(joint: Joint) -> Phrase | UnsetType:
    title = Term(joint.piece.title)
    if joint.piece.same is True and joint.bevel is None:
        return Phrase("transition.floating", piece=title) if joint.high.floating else UNSET
    if joint.bevel is None:
        return Phrase("transition.plain", piece=title, step=Length(joint.step))
    upright, rise, run = joint.bevel.upright, joint.bevel.rise, joint.bevel.run
    if run is UNSET:
        return Phrase("transition.bevel.open", piece=title, drop=Length(joint.drop), rise=rise)
    if upright is not UNSET:
        return Phrase(
            "transition.bevel.upper", piece=title, drop=Length(joint.drop), upright=upright, rise=rise, run=run
        )
    return Phrase(f"transition.{joint.bevel.kind}", piece=title, drop=Length(joint.drop), run=run)
