"""Dimensions of a drawing: a measured line with its ends, and a label in the margin that a leader joins to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from jambset.render.shapes import (
    GREY,
    HAIR,
    INK,
    MEDIUM,
    THIN,
    Group,
    Point,
    Shape,
    Stroke,
    Text,
    extent,
    in_lines,
    line,
)

NAME, VALUE = 12.5, 14.5
"""Sizes of a label's two parts."""
STEP = 14.0
SLASH = 3.0
"""Half of the stroke across the end of a dimension line."""
CLEAR = 4.0
"""How far a leader stays from the ends of a dimension line."""
DOT = 1.4
APART = 5.0
"""Least space between two labels."""
BOX = 3.0
"""How far the box around a label is drawn from it."""


@dataclass(frozen=True, slots=True)
class Dimension:
    """One height or width of an advice, as it is drawn.

    of: where the advice has it. name, value: its label. ends: of the measured line, equal for a height of 0.
    reach: where the extension lines start, one for each end, None for none. scaled: whether the line is drawn to
    scale; if not, the leader only points to where it belongs. missed: what is said of it where it misses a rule.
    """

    of: str
    name: str
    value: str
    ends: tuple[Point, Point]
    reach: tuple[float | None, float | None] = (None, None)
    scaled: bool = True
    missed: str = ""

    @property
    def middle(self) -> float:
        """Height of the middle of its line."""
        return (self.ends[0][1] + self.ends[1][1]) / 2

    def nearest(self, height: float) -> Point:
        """The point of its line nearest to a height, and not at its ends, where other lines begin."""
        (x, one), (_, other) = self.ends
        inset = min(CLEAR, abs(one - other) / 2)
        return (x, min(max(height, min(one, other) + inset), max(one, other) - inset))

    @property
    def kind(self) -> str:
        """Class of its group on a page.

        >>> Dimension("leaf.bottom", "", "", ((0, 0), (0, 9))).kind
        'dimension of-leaf-bottom'
        """
        path = self.of.replace(".", "-").replace("_", "-")
        return f"{'dimension' if self.scaled else 'note'} of-{path}{' missed' if self.missed else ''}"

    @property
    def title(self) -> str:
        """What it says, in one line."""
        return f"{self.name}: {self.value}{f', {self.missed}' if self.missed else ''}"


def measured(dimension: Dimension) -> Iterator[Stroke]:
    """The dimension line with a slash across each end, and its extension lines."""
    if not dimension.scaled:
        return
    yield line(*dimension.ends, weight=MEDIUM if dimension.missed else THIN)
    yield Stroke(tuple(((x - SLASH, y + SLASH), (x + SLASH, y - SLASH)) for x, y in dimension.ends), THIN)
    for end, start in zip(dimension.ends, dimension.reach, strict=True):
        if start is not None:
            yield line((start, end[1]), end, weight=HAIR, ink=GREY)


def labelled(
    dimensions: Sequence[Dimension], *, x: float, anchor: str, width: float, between: tuple[float, float]
) -> Iterator[Group]:
    """Dimensions with their labels one below the other in a margin; those that miss a rule in a box.

    x: the label's outer edge. anchor: start in the left margin, end in the right one. between: greatest extent of the
    labels, top and bottom; they grow beyond its bottom where there are many.
    """
    ordered = sorted(dimensions, key=lambda one: one.middle)
    labels = [_label(one, width) for one in ordered]
    tall = [label.height for label in labels]
    places = spread([one.middle for one in ordered], tall, top=between[0], bottom=between[1])
    inner = x + width + 4 if anchor == "start" else x - width - 4
    for dimension, label, top in zip(ordered, labels, places, strict=True):
        leader = _leader(dimension, inner, top + label.height / 2, anchor)
        drawn = label.shapes((x, inner), top, anchor)
        yield Group(dimension.kind, dimension.title, (*measured(dimension), *leader, *drawn))


@dataclass(frozen=True, slots=True)
class Label:
    """What is written of a dimension, line by line; in a box where it misses a rule."""

    name: list[str]
    value: list[str]
    missed: list[str]

    @property
    def pad(self) -> float:
        """How far its box, if it has one, stays from its texts."""
        return BOX if self.missed else 0.0

    @property
    def height(self) -> float:
        """From its top to its bottom."""
        return STEP * (len(self.name) + len(self.missed)) + VALUE * len(self.value) + 2 * self.pad

    def shapes(self, sides: tuple[float, float], top: float, anchor: str) -> Iterator[Shape]:
        """Its texts, and the box around them. sides: where texts begin, and where the leader does."""
        x, inner = sides
        if self.missed:
            left, right = sorted((x + (BOX if x > inner else -BOX), inner))
            bottom = top + self.height
            yield Stroke((((left, top), (right, top), (right, bottom), (left, bottom)),), MEDIUM, closed=True)
        foot = top + self.pad
        for row, words in enumerate(self.name):
            yield Text(x, foot + NAME + STEP * row, words, NAME, anchor, ink=GREY)
        foot += STEP * len(self.name) + VALUE - 2
        for row, words in enumerate(self.value):
            yield Text(x, foot + VALUE * row, words, VALUE, anchor, bold=True)
        foot += VALUE * (len(self.value) - 1) + STEP
        for row, words in enumerate(self.missed):
            yield Text(x, foot + STEP * row, words, NAME, anchor)


def _label(dimension: Dimension, width: float) -> Label:
    return Label(
        name=in_lines(dimension.name, width=width, size=NAME, most=5),
        value=value_lines(dimension.value, width=width - 2 * BOX),
        missed=in_lines(dimension.missed, width=width, size=NAME, most=4) if dimension.missed else [],
    )


def value_lines(value: str, *, width: float) -> list[str]:
    """A value in full: on two lines, broken before its number, where one is too narrow.

    >>> value_lines("1/2 in", width=100), value_lines("about 94 39/64 in", width=100)
    (['1/2 in'], ['about', '94 39/64 in'])
    """
    if extent(value, size=VALUE) <= width or value[:1].isdigit():
        return [value]
    word, _, number = value.partition(" ")
    return [word, number] if number and not word[-1].isdigit() else [value]


def _leader(dimension: Dimension, inner: float, middle: float, anchor: str) -> Iterator[Stroke]:
    """From a label to what it is about, with a dot there."""
    x, y = dimension.nearest(middle)
    elbow = (inner + (7 if anchor == "start" else -7), middle)
    yield line((inner, middle), elbow, (x, y), weight=HAIR, ink=GREY)
    yield Stroke((((x - DOT, y), (x, y - DOT), (x + DOT, y), (x, y + DOT)),), HAIR, INK, (), INK, closed=True)


def spread(wanted: Sequence[float], tall: Sequence[float], *, top: float, bottom: float) -> list[float]:
    """Tops of labels in their order, each as near to the height of what it labels as the others allow.

    wanted: heights of what they label, in order. tall: heights of the labels themselves.
    >>> spread([10, 12], [20, 20], top=0, bottom=100)
    [0.0, 25.0]
    """
    places: list[float] = []
    free = top
    for height, size in zip(wanted, tall, strict=True):
        places.append(max(free, height - size / 2))
        free = places[-1] + size + APART
    room = bottom
    for place in reversed(range(len(places))):
        places[place] = max(top, min(places[place], room - tall[place]))
        room = places[place] - APART
    free = top
    for place, size in enumerate(tall):
        places[place] = max(places[place], free)
        free = places[place] + size + APART
    return [float(place) for place in places]


def lowest(shapes: Iterable[Shape]) -> float:
    """The lowest point of some shapes, 0 for none."""
    found = 0.0
    for shape in shapes:
        match shape:
            case Stroke():
                found = max(found, *(y for run in shape.lines for _, y in run), 0.0)
            case Text():
                found = max(found, shape.y)
            case Group():
                found = max(found, lowest(shape.shapes))
    return found
