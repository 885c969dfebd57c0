"""Sheets as pages for a browser, to be read there or printed: one file that loads nothing else."""

from __future__ import annotations

from markupsafe import Markup

from jambset.render.language import Language
from jambset.render.shapes import Drawing
from jambset.render.sheet import house_recheck_sheet, house_sheet, opening_sheet, recheck_sheet
from jambset.render.sheet_parts import Card, Sheet
from jambset.render.svg import readable, svg_of
from jambset.render.templates import template
from jambset.render.wire import Wire


def opening_page(advice: Wire, language: Language) -> bytes:
    """The sheet of a decoded advice as HTML."""
    return _page(opening_sheet(advice, language), language)


def recheck_page(answer: Wire, language: Language) -> bytes:
    """The sheet of a decoded recheck as HTML."""
    return _page(recheck_sheet(answer, language), language)


def house_page(house: Wire, language: Language) -> bytes:
    """The sheet of a decoded house as HTML."""
    return _page(house_sheet(house, language), language)


def house_recheck_page(house: Wire, language: Language) -> bytes:
    """The sheet of a decoded house whose doors are set as HTML."""
    return _page(house_recheck_sheet(house, language), language)


def _page(sheet: Sheet, language: Language) -> bytes:
    drawings = {
        id(drawing): Markup(svg_of(drawing, language=language.code, key=f"drawing-{place}"))  # noqa: S704 (escaped there)
        for place, drawing in enumerate(_drawings(sheet))
    }
    page = template("sheet.html.j2").render(
        sheet=sheet, says=language.sentences, svg=lambda drawing: drawings[id(drawing)]
    )
    return readable(page).encode()


def _drawings(sheet: Sheet) -> list[Drawing]:
    cards = (block for part in sheet.sections for block in part.blocks if isinstance(block, Card))
    return [drawing for card in cards for drawing in card.drawings]
