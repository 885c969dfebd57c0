"""The drawing of an opening as one sheet: the section, and below it the elevation."""

from __future__ import annotations

from jambset.render.elevation import elevation
from jambset.render.language import Language
from jambset.render.section import section
from jambset.render.shapes import GREY, HAIR, Drawing, Shape, Text, fitted, line, moved
from jambset.render.svg import svg_of
from jambset.render.wire import Wire

HEADING = 46.0
MARK, VERDICT = 17.0, 14.0


def drawing_of(advice: Wire, language: Language) -> Drawing:
    """Section of a decoded advice, and below it the elevation, so that both are legible on a telephone."""
    above, below = section(advice, language), elevation(advice, language)
    says = language.sentences
    verdict = says[f"code.{advice['verdict']}"]
    mark = fitted(advice["mark"], width=above.width - 8, size=MARK)
    middle = HEADING + above.height
    shapes: tuple[Shape, ...] = (
        Text(4, 19, mark, MARK, bold=True),
        Text(4, 37, fitted(verdict, width=above.width - 8, size=VERDICT), VERDICT, bold=True),
        *moved(above.shapes, x=0, y=HEADING),
    )
    if below is not None:
        rule = line((0, middle), (above.width, middle), weight=HAIR, ink=GREY)
        shapes = (*shapes, rule, *moved(below.shapes, x=0, y=middle + 8))
        middle += 8 + below.height
    title = says["draw.opening"].format(mark=advice["mark"])
    return Drawing(above.width, middle, title, advice["summary"], shapes)


def drawing_svg(advice: Wire, language: Language) -> bytes:
    """The drawing of a decoded advice as a file; its ids are unique, so that a page may hold several."""
    key = f"drawing-{advice['advice_id']}-{language.code}"
    return svg_of(drawing_of(advice, language), language=language.code, key=key).encode()
