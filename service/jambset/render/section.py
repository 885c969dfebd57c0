"""A vertical cut through the bottom of the closed leaf: both floors, what joins them, and the leg seen behind.

Reads an advice as it is decoded from JSON. Widths are to scale from the leaf; heights are drawn larger, by a factor
that is stated. Leg and casing are seen beyond the cut; the depth of the wall is unknown, so they are drawn without it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, takewhile

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
from jambset.render.wire import SIDES, Wire, leaf_bottom, mm, step_of, text

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
    bottom: of the leaf, as near as it is known. known: whether the advice says so. before: of the leaf before it is
    cut.
    """

    advice: Wire
    ground: float
    stands: float
    foot: float
    bottom: float
    known: bool
    before: float
    thick: float

    @property
    def taken(self) -> Wire:
        """What the advice was worked out from."""
        found: Wire = self.advice["taken"]
        return found

    def top(self, side: str) -> float:
        """Top of the floor on a side; of an undecided one as it is drawn."""
        floor = self.taken[side]
        return self.ground + (float(floor["top"]["mm"]) if floor["layers"] else UNKNOWN)

    @property
    def leg_trim(self) -> str:
        """Code for a leg shorter than made: nobody cuts one of a frame that is set already."""
        steps = [step_of(task, self.advice) for task in self.advice["tasks"]]
        return "draw.leg_trim" if "set-frame" in steps else "draw.leg_shorter"

    @property
    def uneven(self) -> bool:
        """Whether the subfloor is at one height at the leg and at another under the leaf."""
        return self.ground != 0 or self.stands != 0

    @property
    def highest(self) -> float:
        """What the leaf has to pass: the higher floor, or the piece on it."""
        piece = mm(self.advice, "transition", "top")
        return max(*map(self.top, SIDES), *(() if piece is None else (self.ground + piece,)))


def subject(advice: Wire) -> Subject:
    """What there is to show. A leaf whose bottom isn't known is drawn clear of the floors."""
    taken, setting = advice["taken"], advice["setting"]
    stands = float(taken["subfloor"]["hinge_leg"]["mm"])
    bottom = leaf_bottom(advice)
    trim = mm(advice, "leaf", "trim") or 0.0
    it = Subject(
        advice=advice,
        ground=float(taken["subfloor"]["under_leaf"]["mm"]),
        stands=stands,
        foot=stands + float(setting["hinge_leg"]["block"]["mm"]),
        bottom=bottom,
        known="bottom" in advice["leaf"],
        before=bottom - trim,
        thick=float(taken["leaf_thickness"]["mm"]),
    )
    return it if it.known else replace(it, bottom=max(bottom, it.highest + 6), before=max(bottom, it.highest + 6))


def scale_of(it: Subject) -> Scale:
    """The largest scale at which everything that is dimensioned fits; heights no flatter than widths."""
    across = min(WIDE, WIDEST_LEAF / it.thick)
    highest = max(it.bottom, it.foot, it.highest, *_undercuts(it), 12.0)
    room = TALL / highest
    factor = next((factor for factor in FACTORS if factor * across <= room), 1.0)
    across = min(across, room / factor)
    return Scale(across=across, up=across * factor, face=MIDDLE - it.thick * across / 2, datum=TOP + STUB + TALL)


def _undercuts(it: Subject) -> Iterator[float]:
    for side in SIDES:
        if (cut := mm(it.advice["flooring"][side], "jamb_undercut")) is not None:
            yield it.stands + cut


def section(advice: Wire, language: Language, *, keyed: bool = True) -> Drawing:
    """The section of an opening with its dimensions.

    keyed: with the names of all layers, the rules and how such a drawing is read, which otherwise stand beside it.
    """
    it = subject(advice)
    scale = scale_of(it)
    says = language.sentences
    cut = tuple(_cut(it, scale))
    left, right = _dimensions(it, scale, says)
    between = (TOP + 8, scale.datum + SLAB)
    margins = (
        *labelled(left, x=4, anchor="start", width=MARGIN - 8, between=between),
        *labelled(right, x=WIDTH - 4, anchor="end", width=MARGIN - 8, between=between),
    )
    upper = (*_headings(advice, says), *cut, *margins)
    foot = max(lowest(cut), lowest(margins)) + 10
    scales = tuple(_scales(it, scale, says, foot, keyed=keyed))
    notes = (*scales, *(_key(it, says, lowest(scales) + 10) if keyed else ()))
    told = tuple(_rules(advice, language, lowest(notes) + 8)) if keyed else ()
    shapes = (*upper, *notes, *told)
    title = says["draw.section"].format(mark=advice["mark"])
    return Drawing(WIDTH, lowest(shapes) + 10, title, advice["summary"], shapes)


def _headings(advice: Wire, says: Mapping[str, str]) -> Iterator[Text]:
    for side, x, anchor in (("pull_side", 4.0, "start"), ("push_side", WIDTH - 4, "end")):
        yield Text(x, 15, says[f"draw.{side}"], 13, anchor, bold=True)
        if room := advice["flooring"][side].get("room"):
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
    if it.before < it.bottom:
        yield from _edge(it, scale, it.bottom, it.before)


def _edge(it: Subject, scale: Scale, high: float, low: float) -> Iterator[Shape]:
    """A dashed end of the leaf: hidden, or to be cut away."""
    left, right = scale.x(0), scale.x(it.thick)
    ends = ((left, scale.y(high)), (left, scale.y(low)), (right, scale.y(low)), (right, scale.y(high)))
    yield Stroke((ends,), MEDIUM, INK, HIDDEN)


def _joint(it: Subject, scale: Scale) -> float:
    piece = it.advice.get("transition")
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
    bed, height = _bed(floor["layers"]), 0.0
    for layer in floor["layers"]:
        left, right = whole if height < bed else ends
        low, high = scale.y(it.ground + height), scale.y(it.ground + height + float(layer["nominal"]["mm"]))
        if low > high:
            yield box(left, high, right, low, dash=() if floor["certain"] else HIDDEN)
            yield hatched(layer["body"], (left, high, right, low))
        height += float(layer["nominal"]["mm"])
    if not floor["layers"]:
        low, high = scale.y(it.ground), scale.y(it.ground + UNKNOWN)
        yield box(whole[0], high, whole[1], low, dash=HIDDEN)
        yield Text(sum(whole) / 2, (low + high) / 2 + 5, "?", 15, "middle", bold=True)


def _is_carpet(layers: Sequence[Wire]) -> bool:
    return bool(layers) and layers[-1]["body"] == "textile"


def _bed(layers: Sequence[Wire]) -> float:
    """Height of what carpet and cushion lie on [mm]; 0 for any other floor."""
    if not _is_carpet(layers):
        return 0.0
    under = takewhile(lambda layer: layer["body"] not in ("textile", "foam"), layers)
    return float(sum(layer["nominal"]["mm"] for layer in under))


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
    edges, foot = _edges(it, scale), scale.y(it.foot)
    for side, left, right in (("pull_side", edges[0], joint), ("push_side", joint, edges[-1])):
        top = scale.y(it.top(side))
        if top < foot:
            sides = (((x, top), (x, foot)) for x in edges if left <= x <= right)
            yield Stroke((((left, foot), (right, foot)), *sides), THIN, INK, HIDDEN)
        if (cut := mm(it.advice, "flooring", side, "jamb_undercut")) is not None:
            at = scale.y(it.stands + cut)
            yield line(
                (left - 4, at), (right, at) if side == "pull_side" else (right + 4, at), weight=MEDIUM, dash=CENTRE
            )
    _, left, right, _ = edges
    ground = scale.y(it.stands)
    if it.foot > it.stands:
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
    piece = it.advice.get("transition")
    if piece is None:
        return None
    soft = [side for side in SIDES if _is_carpet(it.taken[side]["layers"])]
    higher = piece["higher_side"]
    far = soft[0] if len(soft) == 1 else next(side for side in SIDES if side != higher)
    near = next(side for side in SIDES if side != far)
    layers = it.taken[far]["layers"]
    seat = Seat(
        near=it.top(near) - it.ground,
        far=it.top(far) - it.ground,
        top=float(piece["top"]["mm"]),
        bed=_bed(layers),
        skin=float(layers[-1]["nominal"]["mm"]) if layers else 0.0,
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
    yield Stroke((outline,), HEAVY, INK, () if it.known else HIDDEN, PAPER, closed=True)
    for share in (0.2, 0.8):
        x = pull + (push - pull) * share
        yield line((x, top + 8), (x, bottom - 3), weight=HAIR, ink=GREY)


# --- dimensions


def _dimensions(it: Subject, scale: Scale, says: Mapping[str, str]) -> tuple[list[Dimension], list[Dimension]]:
    """Those of the left margin and those of the right one."""
    pull, push = scale.x(0), scale.x(it.thick)
    casing = push + LEG + CASING
    left = [
        *_gap(it, scale, says, "pull_side", pull - CASING - 8, pull),
        *_bottom(it, scale, says, pull - CASING - 22, pull),
        *_undercut(it, scale, says, "pull_side", pull - CASING - 36, pull - CASING - 4),
        *_foot(it, scale, says, pull - CASING - 50),
    ]
    right = [
        *_trim(it, scale, says, push),
        *_air(it, scale, says),
        *_over_piece(it, scale, says, push + 25),
        *_gap(it, scale, says, "push_side", casing + 8, push),
        *_undercut(it, scale, says, "push_side", casing + 20, casing + 4),
        *_rise(it, scale, says),
    ]
    return left, right


def _up(of: str, name: str, value: str, x: float, low: float, high: float, *reach: float | None) -> Dimension:
    """A height at x, from low to high on the paper. reach: where extension lines begin, the high end's first."""
    above, below = (*reach, None, None)[:2]
    return Dimension(of, name, value, ((x, low), (x, high)), (below, above))


def _gap(it: Subject, scale: Scale, says: Mapping[str, str], side: str, x: float, reach: float) -> Iterator[Dimension]:
    if (gap := it.advice["clearance"].get(side)) is not None:
        low = it.bottom - float(gap["nominal"]["mm"])
        name, value = says["draw.gap"], gap["nominal"]["text"]
        yield _up(f"clearance.{side}", name, value, x, scale.y(low), scale.y(it.bottom), reach)


def _bottom(it: Subject, scale: Scale, says: Mapping[str, str], x: float, reach: float) -> Iterator[Dimension]:
    if it.known:
        value = text(it.advice, "leaf", "bottom")
        yield _up("leaf.bottom", says["draw.leaf_bottom"], value, x, scale.datum, scale.y(it.bottom), reach)


def _undercut(
    it: Subject, scale: Scale, says: Mapping[str, str], side: str, x: float, reach: float
) -> Iterator[Dimension]:
    if (cut := it.advice["flooring"][side].get("jamb_undercut")) is not None:
        low, high = scale.y(it.stands), scale.y(it.stands + float(cut["mm"]))
        yield _up(f"flooring.{side}.jamb_undercut", says["draw.jamb_undercut"], cut["text"], x, low, high, reach)


def _foot(it: Subject, scale: Scale, says: Mapping[str, str], x: float) -> Iterator[Dimension]:
    """How high the legs end, and what is done to the one that is seen where that is another number."""
    foot, leg = it.advice["setting"]["foot"], it.advice["setting"]["hinge_leg"]
    yield _up("setting.foot", says["draw.foot"], foot["text"], x, scale.datum, scale.y(float(foot["mm"])))
    at = scale.x(0) - CASING / 2
    if leg["trim"]["mm"]:
        name, ends = says[it.leg_trim].format(leg=says["draw.hinge_leg"]), ((at, scale.y(it.foot)),) * 2
        yield Dimension("setting.hinge_leg.trim", name, leg["trim"]["text"], ends, scaled=False)
    elif leg["block"]["mm"] != foot["mm"]:
        name = says["draw.block"].format(leg=says["draw.hinge_leg"])
        low, high = scale.y(it.stands), scale.y(it.foot)
        yield _up("setting.hinge_leg.block", name, leg["block"]["text"], at, low, high)


def _trim(it: Subject, scale: Scale, says: Mapping[str, str], push: float) -> Iterator[Dimension]:
    """What comes off the leaf, and of that what is cut first, where the rest waits."""
    leaf = it.advice["leaf"]
    if mm(leaf, "trim"):
        low, high = scale.y(it.before), scale.y(it.bottom)
        yield _up("leaf.trim", says["draw.trim"], text(leaf, "trim"), push + 9, low, high, push, push)
    if "trim_rest" in leaf:
        low, high = scale.y(it.before), scale.y(it.before + float(leaf["trim_now"]["mm"]))
        yield _up("leaf.trim_now", says["draw.trim_now"], text(leaf, "trim_now"), push + 17, low, high, push)


def _air(it: Subject, scale: Scale, says: Mapping[str, str]) -> Iterator[Dimension]:
    """The gap that counts for air, from the leaf's bottom down: less than over the nominal floor where that varies."""
    if (gap := it.advice["air"].get("gap")) is not None:
        x = scale.x(it.thick * 0.8)
        low = scale.y(it.bottom - float(gap["mm"]))
        yield _up("air.gap", says["draw.air_gap"], gap["text"], x, low, scale.y(it.bottom))


def _over_piece(it: Subject, scale: Scale, says: Mapping[str, str], x: float) -> Iterator[Dimension]:
    piece, over = it.advice.get("transition"), it.advice["clearance"].get("piece")
    if piece is not None and over is not None and piece["rise"]["mm"]:
        low, high = scale.y(it.bottom - float(over["nominal"]["mm"])), scale.y(it.bottom)
        value, push = over["nominal"]["text"], scale.x(it.thick)
        yield _up("clearance.piece", says["draw.over_piece"], value, x, low, high, push, _joint(it, scale))


def _rise(it: Subject, scale: Scale, says: Mapping[str, str]) -> Iterator[Dimension]:
    """How far the piece stands above the higher floor, measured there, beside the piece."""
    piece, fitted_in = it.advice.get("transition"), _fitted(it, scale)
    if piece is not None and fitted_in is not None and piece["rise"]["mm"]:
        top = it.ground + float(piece["top"]["mm"])
        away = 1 if fitted_in.higher == "push_side" else -1
        beside = _joint(it, scale) + away * fitted_in.at(fitted_in.higher, fitted_in.profile.wide)
        low, high = scale.y(top - float(piece["rise"]["mm"])), scale.y(top)
        x, inside = beside + 8 * away, beside - 8 * away
        yield _up("transition.rise", says["draw.rise"], piece["rise"]["text"], x, low, high, inside)


# --- what is written below


def _scales(it: Subject, scale: Scale, says: Mapping[str, str], top: float, *, keyed: bool) -> Iterator[Shape]:
    """A scale bar up and across, half as long where there is no key, and by how much heights are drawn larger."""
    inches = it.advice["setting"]["foot"]["text"].endswith("in")
    size, label = BARS[inches, keyed]
    x, y = 6.0, top + size * scale.up
    corner = ((x, top), (x, y), (x + size * scale.across, y))
    title = says["draw.scale"].format(length=label)
    bar = (line(*corner, weight=MEDIUM), Text(x + 6, y - 6, label, NAME))
    yield Group("scale", title, bar)
    told = says["draw.factor"].format(factor=f"{scale.factor:g}") if scale.factor != 1 else says["draw.true"]
    uneven = says["draw.uneven"] if it.uneven else ""
    beyond = says["draw.beyond"] if keyed else ""
    whole = " ".join(part for part in (told, beyond, uneven, *_unseen(it, says)) if part)
    lines = in_lines(whole, width=WIDTH - 84, size=NAME, most=9)
    yield from stacked(lines, x=78, y=top + NAME, size=NAME, step=14)


def _unseen(it: Subject, says: Mapping[str, str]) -> Iterator[str]:
    """What is done to the leg that isn't seen, where that is another number than the legs' height."""
    setting = it.advice["setting"]
    for name in ("strike_leg", "second_hinge_leg"):
        if name not in setting:
            continue
        leg, of = setting[name], says[f"draw.{name}"]
        if leg["trim"]["mm"]:
            yield says["draw.unseen"].format(what=says[it.leg_trim].format(leg=of), value=text(leg, "trim"))
        elif leg["block"]["mm"] != setting["foot"]["mm"]:
            yield says["draw.unseen"].format(what=says["draw.block"].format(leg=of), value=text(leg, "block"))


def _key(it: Subject, says: Mapping[str, str], top: float) -> Iterator[Shape]:
    """Both build-ups, layer by layer as they lie, with hatch, name and thickness."""
    for side, x in zip(SIDES, (4.0, WIDTH / 2 + 6), strict=True):
        floor = it.taken[side]
        heading = in_lines(says[f"draw.floor_{side}"], width=WIDTH / 2 - 10, size=13, most=2)
        for row, words in enumerate(heading):
            yield Text(x, top + 14 + 15 * row, words, 13, bold=True)
        y = top + 15 * len(heading) - 1
        layers = floor["layers"]
        if layers and not floor["certain"]:
            y += 16
            yield Text(x, y, says["draw.may_change"], NAME, ink=GREY)
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


def governed(advice: Wire, language: Language) -> Iterator[str]:
    """The rules that settled the leaf and the foot, by their titles."""
    says = language.sentences
    titles = {s["rule"]: f"{s['title']} ({says['code.' + s['force']]})" for s in advice["sources"]}
    for code, part in (("draw.leaf_by", "leaf"), ("draw.foot_by", "setting")):
        names = [titles.get(rule, says.get(f"standing.{rule}", rule)) for rule in advice[part]["governed_by"]]
        if names:
            yield says[code].format(rules="; ".join(names))


def _rules(advice: Wire, language: Language, top: float) -> Iterator[Shape]:
    for told in governed(advice, language):
        for words in in_lines(told, width=WIDTH - 8, size=NAME, most=3):
            top += 15
            yield Text(4, top, words, NAME)
        top += 3
