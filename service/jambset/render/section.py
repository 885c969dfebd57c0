"""A vertical cut through the bottom of the closed leaf: both floors, what joins them, and the leg seen behind.

Reads an answer as it is decoded from JSON: what an advice and a recheck both show is here, what one of them shows alone
in `section_advice` and `section_recheck`. Widths are to scale from the leaf; heights are drawn larger, by a factor that
is stated. Leg and casing are seen beyond the cut; the depth of the wall is unknown, so they are drawn without it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, takewhile
from math import isclose

from jambset.render.dimension import NAME, Dimension, labelled, lowest
from jambset.render.hatch import hatched, slanted
from jambset.render.language import Language
from jambset.render.profiles import Profile, Seat, profile
from jambset.render.shapes import (
    CENTRE,
    GREY,
    HAIR,
    HEAVY,
    HIDDEN,
    INK,
    MEDIUM,
    PAPER,
    THIN,
    Drawing,
    Group,
    Point,
    Shape,
    Stroke,
    Text,
    box,
    fitted,
    in_lines,
    line,
    stacked,
)
from jambset.render.wire import SIDES, Wire, is_in_inches, mm, text

WIDTH = 440.0
MARGIN = 118.0
LEFT, RIGHT, MIDDLE = MARGIN + 6, WIDTH - MARGIN - 6, WIDTH / 2
TOP = 48.0
TALL = 165.0
"""Room for the heights that matter, from the datum up [units]."""
STUB = 40.0
"""How much of the leaf is shown above what is dimensioned."""
UNKNOWN = 12.0
"""Height at which an undecided floor is drawn [mm]."""
SLAB = 20.0
"""Thickness at which the subfloor is drawn: its own is unknown."""
WIDE = 1.42
"""Scale of widths [units/mm], less for a thick leaf."""
WIDEST_LEAF = 66.0
FACTORS = (4.0, 3.0, 2.5, 2.0, 1.5)
"""How much larger than widths heights may be drawn; the first for which there is room is taken."""
BARS = {
    (True, True): (12.7, "1/2 in"),
    (True, False): (6.35, "1/4 in"),
    (False, True): (10.0, "10 mm"),
    (False, False): (5.0, "5 mm"),
}
"""Length and name of the scale bar, in inches or not, with a key or without."""
LEG = 34.0
CASING = 9.0


@dataclass(frozen=True, slots=True)
class Scale:
    """From millimetres to places on the paper: across from the pull face of the leaf, up from the datum."""

    across: float
    up: float
    face: float
    datum: float

    def x(self, across: float) -> float:
        """A place across."""
        return self.face + across * self.across

    def y(self, height: float) -> float:
        """A height."""
        return self.datum - height * self.up

    @property
    def factor(self) -> float:
        """By how much heights are larger than widths."""
        return self.up / self.across


@dataclass(frozen=True, slots=True)
class Subject:
    """What the section shows, heights in mm above the datum.

    ground: of the subfloor under the leaf. stands: of the subfloor at the hinge leg. foot: of that leg's bottom.
    bottom: of the leaf, as near as it is known. ends: where the answer says it, if it does. blocked: whether a leg
    above its subfloor stands on a block. then: where the leaf ends otherwise, before it is cut or once it is mended.
    legs_then: the same of the leg that is seen, where it ends otherwise.
    """

    answer: Wire
    ground: float
    stands: float
    foot: float
    bottom: float
    ends: tuple[str, str] | None
    blocked: bool
    then: float
    thick: float
    legs_then: float | None = None

    @property
    def taken(self) -> Wire:
        """What the answer was worked out from."""
        found: Wire = self.answer["taken"]
        return found

    def top(self, side: str) -> float:
        """Top of the floor on a side; of an undecided one as it is drawn."""
        floor = self.taken[side]
        return self.ground + (float(floor["top"]["mm"]) if floor["layers"] else UNKNOWN)

    @property
    def uneven(self) -> bool:
        """Whether the subfloor is at one height at the leg and at another under the leaf."""
        return self.ground != 0 or self.stands != 0

    @property
    def highest(self) -> float:
        """What the leaf has to pass: the higher floor, or the piece on it."""
        piece = mm(self.answer, "transition", "top")
        return max(*map(self.top, SIDES), *(() if piece is None else (self.ground + piece,)))


Says = Mapping[str, str]
"""The words of a language, by code."""


@dataclass(frozen=True, slots=True)
class Own:
    """What the section of one kind of answer shows besides what all show.

    title: of the drawing. left, right: dimensions of either margin. notes: sentences beside the scale, after those on
    how the drawing is read. below: paragraphs under the key. missed: what is said of a dimension that misses a rule, by
    where the answer has it.
    """

    title: str
    left: Callable[[Subject, Scale, Says], Iterable[Dimension]]
    right: Callable[[Subject, Scale, Says], Iterable[Dimension]]
    notes: Callable[[Subject, Says], Iterable[str]]
    below: Callable[[Wire, Language], Iterable[str]]
    missed: Mapping[str, str]


def scale_of(it: Subject) -> Scale:
    """The largest scale at which everything that is dimensioned fits; heights no flatter than widths."""
    across = min(WIDE, WIDEST_LEAF / it.thick)
    highest = max(it.bottom, it.then, it.foot, it.legs_then or 0.0, it.highest, *_undercuts(it), 12.0)
    room = TALL / highest
    factor = next((factor for factor in FACTORS if factor * across <= room), 1.0)
    across = min(across, room / factor)
    return Scale(across=across, up=across * factor, face=MIDDLE - it.thick * across / 2, datum=TOP + STUB + TALL)


def _undercuts(it: Subject) -> Iterator[float]:
    for side in SIDES:
        if (cut := mm(it.answer["flooring"][side], "jamb_undercut")) is not None:
            yield it.stands + cut


def drawn(it: Subject, own: Own, language: Language, *, keyed: bool) -> Drawing:
    """The section of an opening with its dimensions.

    keyed: with the names of all layers, the rules and how such a drawing is read, which otherwise stand beside it.
    """
    scale = scale_of(it)
    says = language.sentences
    cut = tuple(_cut(it, scale))
    left, right = ([_marked(one, own) for one in margin] for margin in _dimensions(it, scale, says, own))
    between = (TOP + 8, scale.datum + SLAB)
    margins = (
        *labelled(left, x=4, anchor="start", width=MARGIN - 8, between=between),
        *labelled(right, x=WIDTH - 4, anchor="end", width=MARGIN - 8, between=between),
    )
    upper = (*_headings(it.answer, says), *cut, *margins)
    foot = max(lowest(cut), lowest(margins)) + 10
    scales = tuple(_scales(it, scale, says, foot, own.notes(it, says), keyed=keyed))
    notes = (*scales, *(_key(it, says, lowest(scales) + 10) if keyed else ()))
    told = tuple(_paragraphs(own.below(it.answer, language), lowest(notes) + 8)) if keyed else ()
    shapes = (*upper, *notes, *told)
    return Drawing(WIDTH, lowest(shapes) + 10, own.title, it.answer["summary"], shapes)


def _marked(dimension: Dimension, own: Own) -> Dimension:
    """A dimension with what is said of it where it misses a rule."""
    return replace(dimension, missed=own.missed.get(dimension.of, ""))


def _headings(answer: Wire, says: Says) -> Iterator[Text]:
    for side, x, anchor in (("pull_side", 4.0, "start"), ("push_side", WIDTH - 4, "end")):
        yield Text(x, 15, says[f"draw.{side}"], 13, anchor, bold=True)
        if room := answer["flooring"][side].get("room"):
            yield Text(x, 30, fitted(room, width=WIDTH / 2 - 40, size=13), 13, anchor)


# --- what is cut and what is seen


def _cut(it: Subject, scale: Scale) -> Iterator[Shape]:
    """From back to front; a leaf that would reach into a floor is drawn behind it, with a dashed outline there."""
    passes, joint = it.bottom >= it.highest, _joint(it, scale)
    piece = _fitted(it, scale)
    yield from _leg(it, scale)
    if not passes:
        yield from _leaf(it, scale)
    yield from _subfloor(it, scale)
    yield from _floors(it, scale, joint, piece)
    yield from _datum(it, scale)
    yield from _hidden(it, scale, joint)
    if piece is not None:
        yield from _piece(it, scale, joint, piece)
    yield from _leaf(it, scale) if passes else _edge(it, scale, it.highest, it.bottom)
    yield from _then(it, scale)


def _then(it: Subject, scale: Scale) -> Iterator[Shape]:
    """Dashed, where leaf and leg end otherwise than they are drawn."""
    if it.then < it.bottom:
        yield from _edge(it, scale, it.bottom, it.then)
    elif it.then > it.bottom:
        yield line((scale.x(0), scale.y(it.then)), (scale.x(it.thick), scale.y(it.then)), weight=MEDIUM, dash=HIDDEN)
    if it.legs_then is not None:
        left, *_, right = _edges(it, scale)
        at = scale.y(it.legs_then)
        yield line((left, at), (scale.x(0), at), weight=MEDIUM, dash=HIDDEN)
        yield line((scale.x(it.thick), at), (right, at), weight=MEDIUM, dash=HIDDEN)


def _edge(it: Subject, scale: Scale, high: float, low: float) -> Iterator[Shape]:
    """A dashed end of the leaf: hidden, cut away, or to come."""
    left, right = scale.x(0), scale.x(it.thick)
    ends = ((left, scale.y(high)), (left, scale.y(low)), (right, scale.y(low)), (right, scale.y(high)))
    yield Stroke((ends,), MEDIUM, INK, HIDDEN)


def _joint(it: Subject, scale: Scale) -> float:
    piece = it.answer.get("transition")
    return scale.x(float(piece["joint_from_pull_face"]["mm"]) if piece else it.thick / 2)


def _subfloor(it: Subject, scale: Scale) -> Iterator[Shape]:
    top = scale.y(it.ground)
    yield Stroke(tuple(slanted((LEFT, top, RIGHT, top + SLAB), step=12, rise=-1)), HAIR)
    yield line((LEFT, top), (RIGHT, top), weight=HEAVY)


def _datum(it: Subject, scale: Scale) -> Iterator[Shape]:
    """The datum, drawn over the floors: these begin at the mean under the leaf, which is mostly lower."""
    if it.uneven:
        yield line((LEFT, scale.datum), (RIGHT, scale.datum), weight=THIN, dash=CENTRE)


def _floors(it: Subject, scale: Scale, joint: float, piece: Fitted | None) -> Iterator[Shape]:
    """Both floors up to the joint or to the piece between them; one that runs through in one piece."""
    pull, push = (it.taken[side]["layers"] for side in SIDES)
    if piece is not None and not piece.profile.parts and pull == push:
        yield from _floor(it, scale, "pull_side", (LEFT, RIGHT), (LEFT, RIGHT))
        return
    for side, left, right in (("pull_side", LEFT, joint), ("push_side", joint, RIGHT)):
        gap = piece.at(side, piece.profile.gaps) if piece is not None else 0.0
        ends = (left, right - gap) if side == "pull_side" else (left + gap, right)
        yield from _floor(it, scale, side, (left, right), ends)


def _floor(
    it: Subject, scale: Scale, side: str, whole: tuple[float, float], ends: tuple[float, float]
) -> Iterator[Shape]:
    """The layers of a side, dashed where another floor may come in their place.

    whole: from where to where it lies; ends: the same for what is cut back for a piece. What a carpet lies on isn't.
    """
    floor = it.taken[side]
    bed, height = _bed(floor), 0.0
    for layer, thick in zip(floor["layers"], _lying(floor), strict=True):
        left, right = whole if height < bed else ends
        low, high = scale.y(it.ground + height), scale.y(it.ground + height + thick)
        if low > high:
            yield box(left, high, right, low, dash=() if floor["certain"] else HIDDEN)
            yield hatched(layer["body"], (left, high, right, low))
        height += thick
    if not floor["layers"]:
        low, high = scale.y(it.ground), scale.y(it.ground + UNKNOWN)
        yield box(whole[0], high, whole[1], low, dash=HIDDEN)
        yield Text(sum(whole) / 2, (low + high) / 2 + 5, "?", 15, "middle", bold=True)


def _is_carpet(layers: Sequence[Wire]) -> bool:
    return bool(layers) and layers[-1]["body"] == "textile"


def _lying(floor: Wire) -> list[float]:
    """Thickness of each layer as it lies [mm], from the subfloor up.

    Where the floor was measured to lie higher or lower than its layers together, each has its share of that, by how
    much thicker or thinner it may be.
    """
    counted = _counted(floor)
    off = float(floor["top"]["mm"]) - sum(counted)
    most = [float(layer["greatest" if off > 0 else "least"]["mm"]) for layer in floor["layers"]]
    room = sum(most) - sum(counted)
    share = off / room if room else 0.0
    return [thick + share * (limit - thick) for thick, limit in zip(counted, most, strict=True)]


def _counted(floor: Wire) -> list[float]:
    return [float(layer["nominal"]["mm"]) for layer in floor["layers"]]


def is_measured(floor: Wire) -> bool:
    """Whether a floor lies higher or lower than its layers together."""
    return not isclose(float(floor["top"]["mm"]), sum(_counted(floor)), abs_tol=1e-6)


def _bed(floor: Wire) -> float:
    """Height of what carpet and cushion lie on [mm]; 0 for any other floor."""
    layers = floor["layers"]
    if not _is_carpet(layers):
        return 0.0
    soft = [*takewhile(lambda layer: layer["body"] not in ("textile", "foam"), layers)]
    return sum(_lying(floor)[: len(soft)])


def _edges(it: Subject, scale: Scale) -> tuple[float, float, float, float]:
    """Edges of what is seen behind: casing, leg, casing, from the pull side on."""
    pull, push = scale.x(0), scale.x(it.thick) + LEG
    return (pull - CASING, pull, push, push + CASING)


def _leg(it: Subject, scale: Scale) -> Iterator[Shape]:
    """Leg and casing down to their bottom; floors lie before them."""
    for left, right in pairwise(_edges(it, scale)):
        yield box(left, TOP - 8, right, scale.y(it.foot), weight=THIN, ink=GREY)


def _hidden(it: Subject, scale: Scale, joint: float) -> Iterator[Shape]:
    """Where the leg ends behind a floor, the block it stands on, and where it will be cut for the floor."""
    behind, foot = _edges(it, scale), scale.y(it.foot)
    for side, left, right in (("pull_side", behind[0], joint), ("push_side", joint, behind[-1])):
        top = scale.y(it.top(side))
        if top < foot:
            sides = (((x, top), (x, foot)) for x in behind if left <= x <= right)
            yield Stroke((((left, foot), (right, foot)), *sides), THIN, INK, HIDDEN)
        if (cut := mm(it.answer, "flooring", side, "jamb_undercut")) is not None:
            at = scale.y(it.stands + cut)
            yield line(
                (left - 4, at), (right, at) if side == "pull_side" else (right + 4, at), weight=MEDIUM, dash=CENTRE
            )
    _, left, right, _ = behind
    ground = scale.y(it.stands)
    if it.blocked and it.foot > it.stands:
        crossed = (((left, foot), (right, ground)), ((left, ground), (right, foot)))
        around = ((left, foot), (right, foot), (right, ground), (left, ground), (left, foot))
        yield Stroke((around, *crossed), THIN, INK, HIDDEN)
    if it.stands != it.ground:
        yield line((left - 20, ground), (right + 20, ground), weight=MEDIUM, dash=HIDDEN)


@dataclass(frozen=True, slots=True)
class Fitted:
    """A piece over the joint. far: side its profile counts across to; higher: side of the higher finish."""

    profile: Profile
    far: str
    higher: str

    @property
    def way(self) -> int:
        """Which way on the paper the far side lies."""
        return 1 if self.far == "push_side" else -1

    def at(self, side: str, pair: tuple[float, float]) -> float:
        """What a side has of a pair for the near and the far one."""
        return pair[side == self.far]


def _fitted(it: Subject, scale: Scale) -> Fitted | None:
    """The piece between two named floors; its profile counts towards the carpet, else towards the lower floor."""
    piece = it.answer.get("transition")
    if piece is None:
        return None
    soft = [side for side in SIDES if _is_carpet(it.taken[side]["layers"])]
    higher = piece["higher_side"]
    far = soft[0] if len(soft) == 1 else next(side for side in SIDES if side != higher)
    near = next(side for side in SIDES if side != far)
    floor = it.taken[far]
    seat = Seat(
        near=it.top(near) - it.ground,
        far=it.top(far) - it.ground,
        top=float(piece["top"]["mm"]),
        bed=_bed(floor),
        skin=_lying(floor)[-1] if floor["layers"] else 0.0,
        fine=1 / scale.up,
    )
    return Fitted(profile(piece["piece"], seat), far, higher)


def _piece(it: Subject, scale: Scale, joint: float, piece: Fitted) -> Iterator[Shape]:
    """What joins the floors, by the profile that it is known by."""

    def placed(run: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((joint + piece.way * across, scale.y(it.ground + up)) for across, up in run)

    for outline, fill in piece.profile.parts:
        yield Stroke((placed(outline),), MEDIUM, INK, (), fill, closed=True)
    if piece.profile.lines:
        yield Stroke(tuple(map(placed, piece.profile.lines)), HAIR)


def _leaf(it: Subject, scale: Scale) -> Iterator[Shape]:
    pull, push, bottom = scale.x(0), scale.x(it.thick), scale.y(it.bottom)
    top, wave = TOP - 14, 4
    broken = (
        (push, top),
        (push - (push - pull) * 0.4, top + wave),
        (pull + (push - pull) * 0.4, top - wave),
        (pull, top),
    )
    outline = ((pull, bottom), (push, bottom), *broken)
    yield Stroke((outline,), HEAVY, INK, HIDDEN if it.ends is None else (), PAPER, closed=True)
    for share in (0.2, 0.8):
        x = pull + (push - pull) * share
        yield line((x, top + 8), (x, bottom - 3), weight=HAIR, ink=GREY)


# --- dimensions


def _dimensions(it: Subject, scale: Scale, says: Says, own: Own) -> tuple[list[Dimension], list[Dimension]]:
    """Those of the left margin and those of the right one."""
    pull, push = scale.x(0), scale.x(it.thick)
    casing = push + LEG + CASING
    left = [
        *_gap(it, scale, says, "pull_side", pull - CASING - 8, pull),
        *_bottom(it, scale, says, pull - CASING - 22, pull),
        *_undercut(it, scale, says, "pull_side", pull - CASING - 36, pull - CASING - 4),
        *own.left(it, scale, says),
    ]
    right = [
        *own.right(it, scale, says),
        *_air(it, scale, says),
        *_over_piece(it, scale, says, push + 25),
        *_gap(it, scale, says, "push_side", casing + 8, push),
        *_undercut(it, scale, says, "push_side", casing + 20, casing + 4),
        *_rise(it, scale, says),
    ]
    return left, right


def upright(of: str, name: str, value: str, x: float, low: float, high: float, *reach: float | None) -> Dimension:
    """A height at x, from low to high on the paper. reach: where extension lines begin, the high end's first."""
    above, below = (*reach, None, None)[:2]
    return Dimension(of, name, value, ((x, low), (x, high)), (below, above))


def _gap(it: Subject, scale: Scale, says: Says, side: str, x: float, reach: float) -> Iterator[Dimension]:
    if (gap := it.answer["clearance"].get(side)) is not None:
        low = it.bottom - float(gap["nominal"]["mm"])
        name, value = says["draw.gap"], gap["nominal"]["text"]
        yield upright(f"clearance.{side}", name, value, x, scale.y(low), scale.y(it.bottom), reach)


def _bottom(it: Subject, scale: Scale, says: Says, x: float, reach: float) -> Iterator[Dimension]:
    if it.ends is not None:
        value, of = text(it.answer, *it.ends), ".".join(it.ends)
        yield upright(of, says["draw.leaf_bottom"], value, x, scale.datum, scale.y(it.bottom), reach)


def _undercut(it: Subject, scale: Scale, says: Says, side: str, x: float, reach: float) -> Iterator[Dimension]:
    if (cut := it.answer["flooring"][side].get("jamb_undercut")) is not None:
        low, high = scale.y(it.stands), scale.y(it.stands + float(cut["mm"]))
        yield upright(f"flooring.{side}.jamb_undercut", says["draw.jamb_undercut"], cut["text"], x, low, high, reach)


def _air(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """The gap that counts for air, from the leaf's bottom down: less than over the nominal floor where that varies."""
    if (gap := it.answer["air"].get("gap")) is not None:
        x = scale.x(it.thick * 0.8)
        low = scale.y(it.bottom - float(gap["mm"]))
        yield upright("air.gap", says["draw.air_gap"], gap["text"], x, low, scale.y(it.bottom))


def _over_piece(it: Subject, scale: Scale, says: Says, x: float) -> Iterator[Dimension]:
    piece, over = it.answer.get("transition"), it.answer["clearance"].get("piece")
    if piece is not None and over is not None and piece["rise"]["mm"]:
        low, high = scale.y(it.bottom - float(over["nominal"]["mm"])), scale.y(it.bottom)
        value, push = over["nominal"]["text"], scale.x(it.thick)
        yield upright("clearance.piece", says["draw.over_piece"], value, x, low, high, push, _joint(it, scale))


def _rise(it: Subject, scale: Scale, says: Says) -> Iterator[Dimension]:
    """How far the piece stands above the higher floor, measured there, beside the piece."""
    piece, fitted_in = it.answer.get("transition"), _fitted(it, scale)
    if piece is not None and fitted_in is not None and piece["rise"]["mm"]:
        top = it.ground + float(piece["top"]["mm"])
        away = 1 if fitted_in.higher == "push_side" else -1
        beside = _joint(it, scale) + away * fitted_in.at(fitted_in.higher, fitted_in.profile.wide)
        low, high = scale.y(top - float(piece["rise"]["mm"])), scale.y(top)
        x, inside = beside + 8 * away, beside - 8 * away
        yield upright("transition.rise", says["draw.rise"], piece["rise"]["text"], x, low, high, inside)


# --- what is written below


def _scales(it: Subject, scale: Scale, says: Says, top: float, more: Iterable[str], *, keyed: bool) -> Iterator[Shape]:
    """A scale bar up and across, half as long where there is no key, and by how much heights are drawn larger.

    more: what is told beside it of this drawing alone.
    """
    size, label = BARS[is_in_inches(it.answer), keyed]
    x, y = 6.0, top + size * scale.up
    corner = ((x, top), (x, y), (x + size * scale.across, y))
    title = says["draw.scale"].format(length=label)
    bar = (line(*corner, weight=MEDIUM), Text(x + 6, y - 6, label, NAME))
    yield Group("scale", title, bar)
    told = says["draw.factor"].format(factor=f"{scale.factor:g}") if scale.factor != 1 else says["draw.true"]
    uneven = says["draw.uneven"] if it.uneven else ""
    beyond = says["draw.beyond"] if keyed else ""
    whole = " ".join(part for part in (told, beyond, uneven, *more) if part)
    lines = in_lines(whole, width=WIDTH - 84, size=NAME, most=14)
    yield from stacked(lines, x=78, y=top + NAME, size=NAME, step=14)


def _key(it: Subject, says: Says, top: float) -> Iterator[Shape]:
    """Both build-ups, layer by layer as they lie, with hatch, name and thickness."""
    for side, x in zip(SIDES, (4.0, WIDTH / 2 + 6), strict=True):
        floor = it.taken[side]
        heading = in_lines(says[f"draw.floor_{side}"], width=WIDTH / 2 - 10, size=13, most=2)
        for row, words in enumerate(heading):
            yield Text(x, top + 14 + 15 * row, words, 13, bold=True)
        y = top + 15 * len(heading) - 1
        layers = floor["layers"]
        for told in of_floor(floor, says):
            for words in in_lines(told, width=WIDTH / 2 - 10, size=NAME, most=2):
                y += 16
                yield Text(x, y, words, NAME, ink=GREY)
        if not layers:
            yield Text(x, y + 18, says["draw.undecided"], NAME, ink=GREY)
        for layer in reversed(layers):
            lines = in_lines(layer["title"], width=WIDTH / 2 - 40, size=NAME, most=3)
            yield box(x, y + 8, x + 24, y + 24, weight=THIN)
            yield hatched(layer["body"], (x, y + 8, x + 24, y + 24))
            for row, words in enumerate(lines):
                yield Text(x + 31, y + 18 + 14 * row, words, NAME)
            y += 18 + 14 * len(lines)
            yield Text(x + 31, y, layer["nominal"]["text"], 13, bold=True)
            y += 4


def of_floor(floor: Wire, says: Says) -> Iterator[str]:
    """What is said of a floor as a whole."""
    if floor["layers"] and not floor["certain"]:
        yield says["draw.may_change"]
    if is_measured(floor):
        yield says["draw.measured"].format(value=floor["top"]["text"])


def _paragraphs(told: Iterable[str], top: float) -> Iterator[Shape]:
    for paragraph in told:
        for words in in_lines(paragraph, width=WIDTH - 8, size=NAME, most=9):
            top += 15
            yield Text(4, top, words, NAME)
        top += 3
