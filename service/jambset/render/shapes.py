"""What a drawing is made of, before it is SVG or a page of a PDF: strokes, texts and named groups on a sheet of paper.

Units are those of the drawing, x to the right, y down. Black ink on white, told apart by weight, dash and hatch alone,
so that a print without colour loses nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rich.cells import cell_len, set_cell_size

from jambset.render.joined import JOINED, joined

Point = tuple[float, float]

INK, GREY, PALE, PAPER = "#111111", "#555555", "#d9d9d9", "#ffffff"
HEAVY, MEDIUM, THIN, HAIR = 2.2, 1.3, 0.8, 0.5
"""Weights of lines: of what is cut, of what is seen, of dimensions, of hatches."""
HIDDEN, CENTRE = (5.0, 3.0), (9.0, 2.5, 2.0, 2.5)
"""Dashes of what is hidden or was there before, and of a datum."""
CELL = 0.56
"""Width of a character over the size of its text: the average of the wider common fonts."""
CAPITAL = 0.3
"""How much wider a capital is, as a part of CELL."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """Lines drawn alike. lines: each a run of points. fill: of a closed shape, empty for none."""

    lines: tuple[tuple[Point, ...], ...]
    weight: float = THIN
    ink: str = INK
    dash: tuple[float, ...] = ()
    fill: str = ""
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text. anchor: start, middle, end."""

    x: float
    y: float
    text: str
    size: float
    anchor: str = "start"
    bold: bool = False
    ink: str = INK


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that belong together. kind: its class on a page. title: its text alternative."""

    kind: str
    title: str
    shapes: tuple[Shape, ...]


Shape = Stroke | Text | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A sheet of paper with shapes. title, about: its text alternative."""

    width: float
    height: float
    title: str
    about: str
    shapes: tuple[Shape, ...]


def line(*points: Point, weight: float = THIN, ink: str = INK, dash: tuple[float, ...] = ()) -> Stroke:
    """One run of points."""
    return Stroke((points,), weight, ink, dash)


def box(
    left: float,
    top: float,
    right: float,
    bottom: float,
    *,
    weight: float = MEDIUM,
    ink: str = INK,
    dash: tuple[float, ...] = (),
) -> Stroke:
    """A rectangle, filled with paper so that it covers what lies behind it."""
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Stroke((corners,), weight, ink, dash, PAPER, closed=True)


def moved(shapes: Iterable[Shape], *, x: float, y: float) -> Iterator[Shape]:
    """The shapes, moved on the paper."""
    for shape in shapes:
        match shape:
            case Stroke():
                lines = tuple(tuple((px + x, py + y) for px, py in run) for run in shape.lines)
                yield Stroke(lines, shape.weight, shape.ink, shape.dash, shape.fill, shape.closed)
            case Text():
                yield Text(shape.x + x, shape.y + y, shape.text, shape.size, shape.anchor, shape.bold, shape.ink)
            case Group():
                yield Group(shape.kind, shape.title, tuple(moved(shape.shapes, x=x, y=y)))


def extent(text: str, *, size: float) -> float:
    """How wide a text is at most, estimated without its font.

    >>> round(extent("1/2 in", size=10), 1), round(extent("D07", size=10), 1)
    (33.6, 18.5)
    """
    return (cell_len(text) + CAPITAL * sum(map(str.isupper, text))) * CELL * size


def fitted(text: str, *, width: float, size: float) -> str:
    """A text no wider than a width, cut short where it must be.

    >>> fitted("a long name", width=30, size=10)
    'a lo…'
    """
    if extent(text, size=size) <= width:
        return text
    share = width / extent(text, size=size)
    return f"{set_cell_size(text, max(1, int(cell_len(text) * share) - 1)).rstrip()}…"


def in_lines(text: str, *, width: float, size: float, most: int) -> list[str]:
    """A text in lines, `most` of them at most, none of which breaks a quantity; what doesn't fit is cut short.

    >>> in_lines("a few more words", width=40, size=10, most=2)
    ['a few', 'more w…']
    >>> in_lines("cut 1 9/16 in", width=60, size=10, most=2)
    ['cut', '1 9/16 in']
    """
    lines = [""]
    for word in joined(text).split(" "):
        longer = f"{lines[-1]} {word}".lstrip()
        if extent(longer, size=size) > width and lines[-1] and len(lines) < most:
            lines.append(word)
        else:
            lines[-1] = longer
    return [fitted(one.replace(JOINED, " "), width=width, size=size) for one in lines]


def stacked(lines: Sequence[str], *, x: float, y: float, size: float, step: float) -> list[Text]:
    """Lines of text below each other, the first with its foot at y."""
    return [Text(x, y + place * step, text, size) for place, text in enumerate(lines)]
