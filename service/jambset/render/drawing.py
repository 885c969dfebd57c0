"""The drawing of an opening as one sheet: the section, and of an advice the elevation below it."""

from __future__ import annotations

from jambset.render.elevation import elevation
from jambset.render.language import Language
from jambset.render.section_advice import section
from jambset.render.section_recheck import recheck_section
from jambset.render.shapes import GREY, HAIR, Drawing, Shape, Text, fitted, in_lines, line, moved
from jambset.render.sheet_parts import Words
from jambset.render.sheet_recheck import verdict_in_words
from jambset.render.svg import svg_of
from jambset.render.wire import Wire

HEADING = 46.0
MARK, VERDICT = 17.0, 14.0


def drawing_of(advice: Wire, language: Language) -> Drawing:
    """Section of a decoded advice, and below it the elevation, so that both are legible on a telephone."""
    says = language.sentences
    title, verdict = says["draw.opening"].format(mark=advice["mark"]), says[f"code.{advice['verdict']}"]
    return _headed(advice, title, verdict, section(advice, language), elevation(advice, language))


def recheck_drawing(answer: Wire, language: Language) -> Drawing:
    """Section of a decoded recheck: whether its elevation still holds, nobody measured."""
    above = recheck_section(answer, language)
    return _headed(answer, above.title, verdict_in_words(answer, Words(language)), above, None)


def _headed(answer: Wire, title: str, verdict: str, above: Drawing, below: Drawing | None) -> Drawing:
    """Drawings one below the other, under the opening's mark and what to make of it."""
    width = above.width - 8
    lines = in_lines(verdict, width=width, size=VERDICT, most=2)
    heading = HEADING + VERDICT * 1.2 * (len(lines) - 1)
    shapes: tuple[Shape, ...] = (
        Text(4, 19, fitted(answer["mark"], width=width, size=MARK), MARK, bold=True),
        *(Text(4, 37 + VERDICT * 1.2 * row, words, VERDICT, bold=True) for row, words in enumerate(lines)),
        *moved(above.shapes, x=0, y=heading),
    )
    middle = heading + above.height
    if below is not None:
        rule = line((0, middle), (above.width, middle), weight=HAIR, ink=GREY)
        shapes = (*shapes, rule, *moved(below.shapes, x=0, y=middle + 8))
        middle += 8 + below.height
    return Drawing(above.width, middle, title, answer["summary"], shapes)


def drawing_svg(advice: Wire, language: Language) -> bytes:
    """The drawing of a decoded advice as a file."""
    return _file(advice, drawing_of(advice, language), language)


def recheck_svg(answer: Wire, language: Language) -> bytes:
    """The drawing of a decoded recheck as a file."""
    return _file(answer, recheck_drawing(answer, language), language)


def _file(answer: Wire, drawing: Drawing, language: Language) -> bytes:
    """A drawing whose ids are unique, so that a page may hold several."""
    return svg_of(drawing, language=language.code, key=f"drawing-{answer['advice_id']}-{language.code}").encode()
