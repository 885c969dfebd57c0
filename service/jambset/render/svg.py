"""A drawing as SVG: no script, no style sheet, nothing from outside, every text escaped by the template engine."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from jambset.render.shapes import Drawing, Group, Shape, Stroke, Text
from jambset.render.templates import template

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""Characters that XML 1.0 can't hold (section 2.2), escaped or not."""


def svg_of(drawing: Drawing, *, language: str, key: str = "drawing") -> str:
    """The drawing as one svg element. language: code of its words. key: prefix of its ids, unique within a page."""
    return template("drawing.svg.j2").render(
        width=_number(drawing.width),
        height=_number(drawing.height),
        title=readable(drawing.title),
        about=readable(drawing.about),
        lang=language,
        key=key,
        marks=list(_marks(drawing.shapes)),
    )


def readable(text: str) -> str:
    r"""A text without what XML can't hold.

    >>> readable("D07\x00\ufffe")
    'D07��'
    """
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text)


def _number(value: float) -> str:
    """A length on the paper, to a hundredth.

    >>> _number(12.0), _number(0.126), _number(-0.001)
    ('12', '0.13', '0')
    """
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _marks(shapes: Iterable[Shape]) -> Iterator[dict[str, Any]]:
    """What the template writes, one after the other; a group opens and closes around its parts."""
    for shape in shapes:
        match shape:
            case Stroke():
                yield {
                    "what": "path",
                    "d": "".join(_run(run, closed=shape.closed) for run in shape.lines),
                    "fill": shape.fill or "none",
                    "ink": shape.ink,
                    "weight": _number(shape.weight),
                    "dash": " ".join(map(_number, shape.dash)),
                }
            case Text():
                yield {
                    "what": "text",
                    "x": _number(shape.x),
                    "y": _number(shape.y),
                    "size": _number(shape.size),
                    "ink": shape.ink,
                    "anchor": "" if shape.anchor == "start" else shape.anchor,
                    "bold": shape.bold,
                    "text": readable(shape.text),
                }
            case Group():
                yield {"what": "open", "kind": shape.kind, "title": readable(shape.title)}
                yield from _marks(shape.shapes)
                yield {"what": "close"}


def _run(run: tuple[tuple[float, float], ...], *, closed: bool) -> str:
    points = "L".join(f"{_number(x)} {_number(y)}" for x, y in run)
    return f"M{points}{'Z' if closed else ''}"
