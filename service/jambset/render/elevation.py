"""A small elevation of an opening: rough opening, head, leaf, and what is spare or short above.

Reads an advice as it is decoded from JSON; one scale in both directions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from jambset.render.dimension import NAME, Dimension, labelled, lowest
from jambset.render.hatch import slanted
from jambset.render.language import Language
from jambset.render.shapes import (
    CENTRE,
    HAIR,
    HEAVY,
    HIDDEN,
    INK,
    MEDIUM,
    PAPER,
    THIN,
    Drawing,
    Shape,
    Stroke,
    Text,
    box,
    line,
)
from jambset.render.wire import NOTHING, Wire, leaf_bottom, mm, text

WIDTH = 345.0
TOP = 42.0
TALL = 145.0
"""Height of the higher of the two rough openings on the paper."""
LEFT = 22.0
WIDEST = 118.0
LABELS = 112.0


@dataclass(frozen=True, slots=True)
class Hole:
    """Sizes in mm.

    head: underside of the frame's head; above it lie its thickness and the space to the header. stated: whether the
    width of the rough opening is known.
    """

    advice: Wire
    leaf: float
    leaves: int
    bottom: float
    head: float | None
    thick: float
    legs: float
    needed: float | None
    height: float | None
    wide: float
    stated: bool


def _hole(advice: Wire) -> Hole:
    taken = advice["taken"]
    width = float(taken["leaf_width"]["mm"]) * taken["leaves"]
    wide = mm(taken, "rough_opening_width")
    return Hole(
        advice=advice,
        leaf=width,
        leaves=taken["leaves"],
        bottom=leaf_bottom(advice),
        head=mm(advice, "setting", "head_height"),
        thick=float(taken["head_thickness"]["mm"]),
        legs=float(taken["leg_thickness"]["mm"]),
        needed=mm(advice, "framing", "rough_opening_needed"),
        height=mm(taken, "rough_opening_height"),
        wide=wide or mm(advice, "framing", "width_needed") or width + 2 * float(taken["leg_thickness"]["mm"]),
        stated=wide is not None,
    )


def elevation(advice: Wire, language: Language) -> Drawing | None:
    """The elevation of an opening with the heights that superintendent and carpenter need; None where none is known."""
    it, says = _hole(advice), language.sentences
    if it.head is None and it.needed is None and it.height is None:
        return None
    taken = advice["taken"]
    shown = it.head or it.bottom + float(taken["leaf_height"]["mm"]) + float(taken["head_gap"]["mm"])
    high = max(it.height or 0.0, it.needed or 0.0, shown + it.thick)
    scale = min(TALL / high, WIDEST / it.wide)
    floor, middle = TOP + high * scale, LEFT + WIDEST / 2
    seen = tuple(_seen(it, scale, floor, middle, shown))
    dimensions = list(_dimensions(it, scale, floor, middle + it.wide * scale / 2, says))
    margin = tuple(labelled(dimensions, x=WIDTH - 4, anchor="end", width=LABELS, between=(16, floor + 10)))
    heading = Text(4, 15, says["draw.elevation_short"], 13, bold=True)
    end = max(lowest(margin), floor)
    shapes: tuple[Shape, ...] = (heading, *seen, *margin, *_width(advice, says, end + 18))
    title = says["draw.elevation"].format(mark=advice["mark"])
    return Drawing(WIDTH, lowest(shapes) + 10, title, advice["summary"], shapes)


def _seen(it: Hole, scale: float, floor: float, middle: float, shown: float) -> Iterator[Shape]:
    half = it.wide * scale / 2
    left, right = middle - half, middle + half
    yield line((left - 16, floor), (right + 16, floor), weight=HEAVY)
    if it.height is not None:
        header = floor - it.height * scale
        yield Stroke(tuple(slanted((left - 12, header - 16, right + 12, header), step=7)), HAIR)
        yield Stroke((((left - 12, header), (right + 12, header)),), HEAVY)
        for x in (left, right):
            yield line((x, header), (x, floor), weight=MEDIUM, dash=() if it.stated else HIDDEN)
    yield from _frame(it, scale, floor, middle, shown)
    if it.needed is not None:
        needed = floor - it.needed * scale
        yield line((left - 16, needed), (right + 16, needed), weight=THIN, dash=CENTRE)


def _frame(it: Hole, scale: float, floor: float, middle: float, shown: float) -> Iterator[Shape]:
    """Legs and head of the frame, and the leaf or both leaves in it; its hand is unknown."""
    foot = floor - float(it.advice["setting"]["foot"]["mm"]) * scale
    half, legs = it.leaf * scale / 2 + 1, max(2.0, it.legs * scale)
    head, thick = floor - shown * scale, max(2.0, it.thick * scale)
    outline = (
        (middle - half - legs, foot),
        (middle - half - legs, head - thick),
        (middle + half + legs, head - thick),
        (middle + half + legs, foot),
        (middle + half, foot),
        (middle + half, head),
        (middle - half, head),
        (middle - half, foot),
    )
    yield Stroke((outline,), MEDIUM, INK, () if it.head is not None else HIDDEN, PAPER, closed=True)
    top = head + float(it.advice["taken"]["head_gap"]["mm"]) * scale
    bottom, each = floor - it.bottom * scale, it.leaf * scale / it.leaves
    for place in range(it.leaves):
        left = middle - it.leaf * scale / 2 + place * each
        yield box(left, top, left + each, bottom, weight=THIN)


def _width(advice: Wire, says: Mapping[str, str], y: float) -> Iterator[Text]:
    """Widths in words: at this scale they would be lines side by side."""
    lines = (
        ("draw.width_needed", text(advice, "framing", "width_needed")),
        ("draw.width_there", text(advice, "taken", "rough_opening_width")),
    )
    for code, value in lines:
        if value != NOTHING:
            yield Text(4, y, says[code].format(value=value), NAME)
            y += 15


def _dimensions(it: Hole, scale: float, floor: float, right: float, says: Mapping[str, str]) -> Iterator[Dimension]:
    def up(path: tuple[str, str], name: str, height: float, column: int, low: float = 0.0) -> Dimension:
        x = right + 22 + 12 * column
        ends = ((x, floor - low * scale), (x, floor - height * scale))
        return Dimension(".".join(path), says[name], text(it.advice, *path), ends, (None, right + 4))

    if it.height is not None:
        yield up(("taken", "rough_opening_height"), "draw.opening_there", it.height, 3)
    if it.needed is not None:
        yield up(("framing", "rough_opening_needed"), "draw.opening_needed", it.needed, 2)
    if it.head is not None:
        yield up(("setting", "head_height"), "draw.head", it.head, 1)
    spare, short = mm(it.advice, "setting", "head_spare"), mm(it.advice, "framing", "short_by")
    if spare is not None and it.height is not None:
        yield up(("setting", "head_spare"), "draw.head_spare", it.height, 0, it.height - spare)
    if short and it.height is not None:
        yield up(("framing", "short_by"), "draw.short", it.height + short, 4, it.height)
