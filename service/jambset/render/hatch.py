"""Hatches of cut materials, one for each body a layer can have.

Common practice of drafting, no source: fibres for carpet, a wave for foam, grain for wood, plies for panels, slanted
pairs for ceramics, dots for mortar, dots and triangles for concrete, a broken core line for sheets, close lines for
resilient floors. Strokes are worked out here, not left to a pattern, so that SVG and PDF show the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jambset.render.shapes import HAIR, INK, Point, Stroke

Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""
Run = tuple[Point, ...]


def hatched(body: str, box: Box) -> Stroke:
    """The hatch of a body inside a box. Raises KeyError for a body that has none."""
    return Stroke(tuple(HATCHES[body](box)), HAIR, INK)


def steps(start: float, end: float, step: float) -> Iterator[float]:
    """Places from start on, a step apart, before the end."""
    return (start + place * step for place in range(max(0, int((end - start) / step + 0.999))))


def slanted(box: Box, *, step: float, rise: float = 1.0) -> Iterator[Run]:
    """Parallel lines across a box, clipped to it. rise: 1 up to the right, -1 down."""
    left, top, right, bottom = box
    tall = bottom - top
    for x in steps(left - tall + step / 2, right, step):
        low, high = max(left, x), min(right, x + tall)
        if low < high:
            heights = (bottom - (low - x), bottom - (high - x))
            ends = heights if rise > 0 else tuple(top + bottom - y for y in heights)
            yield ((low, ends[0]), (high, ends[1]))


def _fibres(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    base = bottom - 0.22 * (bottom - top)
    yield ((left, base), (right, base))
    for place, x in enumerate(steps(left + 2, right, 3.2)):
        yield ((x, base), (min(right, x + (0.9 if place % 2 else -0.9)), top))


def _wave(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    inset = 0.15 * (bottom - top)
    places = [*steps(left, right, 4.5), right]
    yield tuple((x, (top + inset) if place % 2 else (bottom - inset)) for place, x in enumerate(places))


def _close(box: Box) -> Iterator[Run]:
    yield from slanted(box, step=3.4)


def _grain(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    for row, share in enumerate((0.3, 0.55, 0.8)):
        y = top + share * (bottom - top)
        for x in steps(left + 3 + 7 * row, right - 6, 24):
            yield ((x, y), (min(right, x + 9), y - 0.08 * (bottom - top)), (min(right, x + 17), y))


def _plies(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    for share in (1 / 3, 2 / 3):
        y = top + share * (bottom - top)
        yield ((left, y), (right, y))
    yield from slanted(box, step=16)


def _pairs(box: Box) -> Iterator[Run]:
    yield from slanted(box, step=11)
    left, top, right, bottom = box
    yield from slanted((left + 2.5, top, right, bottom), step=11)


def _dots(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    for row, y in enumerate(steps(top + 1.8, bottom - 0.6, 3.4)):
        for x in steps(left + 1.5 + 2.7 * (row % 2), right - 1, 5.4):
            yield ((x, y), (x + 0.7, y))


def _stones(box: Box) -> Iterator[Run]:
    yield from _dots(box)
    left, top, right, bottom = box
    size = min(4.0, 0.5 * (bottom - top))
    middle = (top + bottom) / 2
    for x in steps(left + 8, right - size, 22):
        yield ((x, middle), (x + size, middle), (x + size / 2, middle - size), (x, middle))


def _core(box: Box) -> Iterator[Run]:
    left, top, right, bottom = box
    middle = (top + bottom) / 2
    for start in steps(left, right, 10):
        yield ((start, middle), (min(right, start + 5), middle))


HATCHES: dict[str, Callable[[Box], Iterator[Run]]] = {
    "textile": _fibres,
    "foam": _wave,
    "resilient": _close,
    "wood": _grain,
    "panel": _plies,
    "ceramic": _pairs,
    "mortar": _dots,
    "membrane": _core,
    "concrete": _stones,
}
