"""Sheets as PDF: pages that number themselves, tables that repeat their heads, vector drawings, fonts in the file.

Equal sheets give equal bytes: no clock and no random id goes into the file.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache, lru_cache, partial
from itertools import takewhile
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    KeepTogether,
    PageTemplate,
    Paragraph,
    Spacer,
)
from reportlab.platypus import Table as Grid

from jambset.render.joined import joined
from jambset.render.language import Language
from jambset.render.shapes import GREY, INK, Drawing, Group, Shape, Stroke, Text
from jambset.render.sheet import house_recheck_sheet, house_sheet, opening_sheet, recheck_sheet
from jambset.render.sheet_parts import Block, Card, Points, Sheet, Step, Table, Ways
from jambset.render.svg import readable
from jambset.render.wire import is_in_inches

PLAIN, BOLD = "JambsetSans", "JambsetSans-Bold"
FONTS = {PLAIN: "DejaVuSansCondensed.ttf", BOLD: "DejaVuSansCondensed-Bold.ttf"}
ASSETS = Path(__file__).parent / "assets"
MARGIN, FOOT = 13 * mm, 19 * mm
"""The foot is higher where its notice goes over more lines than two."""
NUMBER, NOTICE = 7 * mm, 7 * mm + 9
"""Height of title and number of a page, and of the notice above them."""
GAP, PAD = 4 * mm, 2 * mm
WORDS = 0.59
"""Share of the page's width for the words of an opening; its drawings have the rest."""
FEW_WORDS = 0.45
"""The same where it has no steps."""
INDENT = 14.0
"""Of what belongs to a numbered step, from its number [points]."""
LEAST_PART = 30 * mm
"""Room without which a section begins on a new page."""
MOST_KEPT = 120 * mm
"""Height above which a row may go over pages: kept whole, it would leave as much of a page blank."""
BETWEEN = "\N{NO-BREAK SPACE}" * 2 + " "
"""Stands between two things on one line."""


def house_pdf(house: Mapping[str, Any], language: Language) -> bytes:
    """The sheet of a decoded house as PDF, on paper of the size its tape goes with."""
    return pdf_of(house_sheet(house, language), paper=_paper(house))


def house_recheck_pdf(house: Mapping[str, Any], language: Language) -> bytes:
    """The same of a house whose doors are set."""
    return pdf_of(house_recheck_sheet(house, language), paper=_paper(house))


def _paper(house: Mapping[str, Any]) -> tuple[float, float]:
    return LETTER if house["grid"].endswith("in") else A4


def opening_pdf(advice: Mapping[str, Any], language: Language) -> bytes:
    """The sheet of a decoded advice as PDF, on paper of the size its tape goes with."""
    return pdf_of(opening_sheet(advice, language, keyed=False), paper=LETTER if is_in_inches(advice) else A4)


def recheck_pdf(answer: Mapping[str, Any], language: Language) -> bytes:
    """The sheet of a decoded recheck as PDF, on paper of the size its tape goes with."""
    return pdf_of(recheck_sheet(answer, language), paper=LETTER if is_in_inches(answer) else A4)


def pdf_of(sheet: Sheet, *, paper: tuple[float, float]) -> bytes:
    """A sheet as PDF. paper: width and height [points]."""
    _register()
    out = io.BytesIO()
    width = paper[0] - 2 * MARGIN
    foot = max(FOOT, NOTICE + _notice(sheet, width).height + GAP / 2)
    document = BaseDocTemplate(
        out,
        pagesize=paper,
        leftMargin=MARGIN,
        rightMargin=MARGIN,
        topMargin=MARGIN,
        bottomMargin=foot,
        title=readable(sheet.title),
        author="jambset",
        lang=sheet.language,
        displayDocTitle=1,
        invariant=1,
    )
    frame = Frame(MARGIN, foot, width, paper[1] - MARGIN - foot, 0, 0, 0, 0)
    document.addPageTemplates(PageTemplate(frames=[frame]))
    document.build(list(_story(sheet, width)), canvasmaker=partial(Numbered, sheet=sheet, page_width=width))
    _take_apart(document)
    return out.getvalue()


def _take_apart(document: BaseDocTemplate) -> None:
    """Break the reference cycles of the library's document, which would keep it in memory until a collection."""
    canvas = document.canv
    for part in (canvas._doc, canvas, document):  # type: ignore[attr-defined]
        vars(part).clear()


@lru_cache(maxsize=1)
def _register() -> None:
    for name, file in FONTS.items():
        pdfmetrics.registerFont(TTFont(name, str(ASSETS / file)))
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)


def _style(
    size: float, *, bold: bool = False, before: float = 0, after: float = 0, indent: float = 0, ink: str = INK
) -> ParagraphStyle:
    return ParagraphStyle(
        "",
        fontName=BOLD if bold else PLAIN,
        fontSize=size,
        leading=size * 1.2,
        spaceBefore=before,
        spaceAfter=after,
        leftIndent=indent,
        bulletFontName=PLAIN,
        bulletFontSize=size,
        textColor=HexColor(ink),
        splitLongWords=1,
    )


TITLE, LEAD, PART = _style(17, bold=True, after=4), _style(10.5, after=4), _style(12.5, bold=True, before=10, after=4)
MARK, BODY, SMALL = _style(11.5, bold=True), _style(9, after=2), _style(8.2, ink=GREY)
HEAD, CELL, STEP = _style(8.2, bold=True), _style(8.2), _style(7.8, before=2)
WAY, OF_WAY = _style(9, bold=True, before=4, indent=INDENT), _style(8.2, before=1, indent=INDENT)
COMES_TO, SIDE = _style(8.5), _style(6.8, ink=GREY)


def _story(sheet: Sheet, width: float) -> Iterator[Flowable]:
    yield Paragraph(_safe(sheet.title), TITLE)
    if sheet.lead:
        yield Paragraph(_safe(sheet.lead), LEAD)
    for section in sheet.sections:
        heading = Heading(_safe(section.title), PART, entry=section.title, level=0)
        yield from _with_heading(heading, section.blocks, width)
    yield Spacer(0, GAP)
    yield Paragraph(_safe(sheet.about), SMALL)


def _with_heading(heading: Heading, blocks: Sequence[Block], width: float) -> Iterator[Flowable]:
    """A section: its heading on one page with the first card, or with the first row below the heads of its table."""
    lead = list(takewhile(lambda block: isinstance(block, Points), blocks))
    above = [heading, *(made for block in lead for made in _made(block, width))]
    first, *more = blocks[len(lead) :] or (None,)
    match first:
        case Card():
            yield KeepTogether([*above, *_made(first, width)])
        case Table():
            need = _height([*above, _grid(replace(first, rows=first.rows[:1]), width)], width)
            yield CondPageBreak(need if need < MOST_KEPT else LEAST_PART)
            yield from (*above, *_made(first, width))
        case Ways():
            begun, *rest = _ways(first)
            yield from map(KeepTogether, ([*above, *begun], *rest))
        case _:
            yield CondPageBreak(LEAST_PART)
            yield from (*above, *(() if first is None else _made(first, width)))
    for block in more:
        yield from [KeepTogether([*_made(block, width)])] if isinstance(block, Card) else _made(block, width)


def _height(flowables: Sequence[Flowable], width: float) -> float:
    """Height of flowables one below the other, the space between them included."""
    return sum(one.wrap(width, 1e6)[1] + one.getSpaceBefore() + one.getSpaceAfter() for one in flowables)


class Heading(Paragraph):
    """A heading that the outline of the file leads to. entry: what it is called there; level: 0 for a section."""

    def __init__(self, text: str, style: ParagraphStyle, *, entry: str = "", level: int = 0, **more: Any) -> None:
        super().__init__(text, style, **more)
        self._entry, self._level = readable(entry), level

    def split(self, width: float, height: float) -> list[Flowable]:
        """Its parts where it goes over pages, of which the first is listed; called by the library, which makes them."""
        parts: list[Flowable] = super().split(width, height)
        for part in parts[:1]:
            vars(part).update(_entry=self._entry, _level=self._level)
        return parts

    def draw(self) -> None:
        """Paint it and have it listed; called by the library with the canvas set."""
        canvas = self.canv
        if self._entry and isinstance(canvas, Numbered):
            canvas.list_heading(self._entry, level=self._level, height=self.height)
        super().draw()


def _made(block: Block, width: float) -> Iterator[Flowable]:
    match block:
        case Table():
            yield _grid(block, width)
        case Points():
            for place, item in enumerate(block.items, start=1):
                yield Paragraph(_safe(item), BODY, bulletText=f"{place}." if block.numbered else "•")
        case Card():
            yield from (_glance(block, width), Spacer(0, GAP / 3))
        case Ways():
            yield from map(KeepTogether, _ways(block))


def _ways(ways: Ways) -> Iterator[list[Flowable]]:
    """Steps, each to be kept on one page."""
    for place, step in enumerate(ways.items, start=1):
        told = (f"<font color='{GREY}'>{_safe(name)}:</font> {_safe(value)}" for name, value in step.numbers)
        lines = (Paragraph(one, OF_WAY) for one in (_who(step), *told))
        yield [Paragraph(_safe(step.title), WAY, bulletText=f"{place}."), *lines]


def _who(step: Step) -> str:
    """Who does a step in how long; what it waits for is bold."""
    before, held, after = map(_safe, step.told)
    return f"{before}<b>{held}</b>{after}"


def _safe(text: str) -> str:
    """A text without mark-up for the library, in which no line breaks within a quantity."""
    return escape(_printed(joined(text)))


def _printed(text: str) -> str:
    """A text with the code point of each character the fonts lack in its place, so that no two marks look alike."""
    known = _glyphs()
    return "".join([letter if ord(letter) in known else f"[U+{ord(letter):04X}]" for letter in readable(text)])


@cache
def _glyphs() -> frozenset[int]:
    """Code points that both fonts have a glyph for."""
    plain, bold = (pdfmetrics.getFont(name).face.charToGlyph for name in FONTS)  # type: ignore[attr-defined]
    return frozenset(plain) & frozenset(bold) | {ord("\n")}


class Rows(Grid):
    """A table whose rows go to the next page rather than over two, unless one is too tall for that."""

    def split(self, width: float, height: float) -> list[Flowable]:
        """Its parts where it goes over pages; called by the library, again for what is left below the first part."""
        self.splitInRow = int(height >= MOST_KEPT)
        parts: list[Flowable] = super().split(width, height)
        for part in (self, *parts):
            vars(part).update(splitInRow=1)
        return parts


def _grid(table: Table, width: float) -> Flowable:
    rows = [[Paragraph(_safe(head), HEAD) for head in table.heads]]
    rows += [[Paragraph(_safe(cell), CELL) for cell in row] for row in table.rows]
    whole = sum(table.widths)
    style: list[Any] = [
        ("FONTNAME", (0, 0), (-1, -1), PLAIN),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("LINEBELOW", (0, 0), (-1, 0), 1.2, HexColor(INK)),
        ("LINEBELOW", (0, 1), (-1, -1), 0.4, HexColor("#bbbbbb")),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 5),
        ("TOPPADDING", (0, 0), (-1, -1), 2),
        ("BOTTOMPADDING", (0, 0), (-1, -1), 2.5),
    ]
    return Rows(rows, [width * share / whole for share in table.widths], repeatRows=1, splitInRow=1, style=style)


# --- an opening at a glance


def _glance(card: Card, width: float) -> Flowable:
    """What it is and comes to, steps on the left, drawings on the right, floors and rules below, all in one frame."""
    words = (WORDS if card.steps else FEW_WORDS) * width
    rooms = f"  <font name='{PLAIN}' color='{GREY}'>{_safe(card.rooms)}</font>" if card.rooms else ""
    verdict = f"{BETWEEN}<font size='{HEAD.fontSize}'>{_safe(card.verdict)}</font>"
    head: list[Flowable] = [
        Heading(_safe(card.mark) + rooms + verdict, MARK, entry=f"{card.mark} {card.rooms}".strip(), level=1),
        *(Paragraph(_safe(told), COMES_TO) for told in (card.summary, card.instead) if told),
    ]
    room = words - 2 * PAD
    left: list[Flowable] = [
        Paragraph(_step(step, room), STEP, bulletText=f"{place}.") for place, step in enumerate(card.steps, start=1)
    ]
    below = [Paragraph(told, SIDE) for told in _flowing(map(_safe, card.below), SIDE, width - 2 * PAD)]
    scale = (width - words - 2 * PAD) / max(drawing.width for drawing in card.drawings)
    right = [Picture(drawing, scale) for drawing in card.drawings]
    style: list[Any] = [
        ("FONTNAME", (0, 0), (-1, -1), PLAIN),
        *([("SPAN", (0, 0), (-1, 0))] if card.steps else []),
        ("SPAN", (0, -1), (-1, -1)),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        ("BOX", (0, 0), (-1, -1), 1.6 if card.warns else 0.6, HexColor(INK)),
        ("LEFTPADDING", (0, 0), (-1, -1), PAD),
        ("RIGHTPADDING", (0, 0), (-1, -1), PAD),
        ("TOPPADDING", (0, 0), (-1, -1), PAD / 3),
        ("BOTTOMPADDING", (0, 0), (-1, -1), PAD / 3),
    ]
    beside = [[head, ""], [left, right]] if card.steps else [[head, right]]
    rows: list[list[Any]] = [*beside, [below, ""]]
    return Rows(rows, [words, width - words], style=style, splitInRow=1)


def _step(step: Step, width: float) -> str:
    before, held, after = map(_safe, step.told)
    who = f"<font size='{SIDE.fontSize}' color='{GREY}'>{before}<font color='{INK}'><b>{held}</b></font>{after}</font>"
    numbers = (f"{_safe(name)}: <b>{_safe(value)}</b>" for name, value in step.numbers)
    return "<br/>".join((f"<b>{_safe(step.title)}</b>{BETWEEN}{who}", *_flowing(numbers, STEP, width)))


def _flowing(told: Iterable[str], style: ParagraphStyle, width: float) -> list[str]:
    """Sentences with mark-up on as few lines as they go on, none broken that has room on a line of its own."""
    between = pdfmetrics.stringWidth(BETWEEN, PLAIN, style.fontSize)
    lines: list[tuple[str, float]] = []
    for one in told:
        wide = _wide(one, style)
        at = next((at for at, (_, used) in enumerate(lines) if used + between + wide <= width), None)
        if at is None:
            lines.append((one, wide))
        else:
            lines[at] = (f"{lines[at][0]}{BETWEEN}{one}", lines[at][1] + between + wide)
    return [line for line, _ in lines]


def _wide(marked: str, style: ParagraphStyle) -> float:
    """Width of a sentence with mark-up on one line."""
    line = Paragraph(marked, style)
    line.wrap(1e6, 1e6)
    return float(line.getActualLineWidths0()[0])


class Picture(Flowable):
    """A drawing as vectors. scale: points on the page for a unit of the drawing."""

    def __init__(self, drawing: Drawing, scale: float) -> None:
        super().__init__()
        self._drawing, self._scale = drawing, scale
        self.width, self.height = drawing.width * scale, drawing.height * scale

    def draw(self) -> None:
        """Paint it; called by the library with the canvas set."""
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.scale(self._scale, -self._scale)
        canvas.translate(0, -self._drawing.height)
        _paint(canvas, self._drawing.shapes)
        canvas.restoreState()


def _paint(canvas: Canvas, shapes: tuple[Shape, ...]) -> None:
    for shape in shapes:
        match shape:
            case Stroke():
                _stroke(canvas, shape)
            case Text():
                _text(canvas, shape)
            case Group():
                _paint(canvas, shape.shapes)


def _stroke(canvas: Canvas, stroke: Stroke) -> None:
    canvas.setStrokeColor(HexColor(stroke.ink))
    canvas.setLineWidth(stroke.weight)
    canvas.setDash(list(stroke.dash), 0)
    if stroke.fill:
        canvas.setFillColor(HexColor(stroke.fill))
    path = canvas.beginPath()
    for run in stroke.lines:
        path.moveTo(*run[0])
        for point in run[1:]:
            path.lineTo(*point)
        if stroke.closed:
            path.close()
    canvas.drawPath(path, stroke=1, fill=1 if stroke.fill else 0)


def _text(canvas: Canvas, text: Text) -> None:
    """A line of text, turned upright again on the flipped canvas."""
    canvas.saveState()
    canvas.translate(text.x, text.y)
    canvas.scale(1, -1)
    canvas.setFont(BOLD if text.bold else PLAIN, text.size)
    canvas.setFillColor(HexColor(text.ink))
    draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    draw[text.anchor](0, 0, readable(text.text))
    canvas.restoreState()


# --- page numbers


class Numbered(Canvas):
    """A canvas that keeps its pages until it knows how many there are, then writes the foot of each."""

    def __init__(self, *args: Any, sheet: Sheet, page_width: float, **more: Any) -> None:
        super().__init__(*args, **{**more, "initialFontName": PLAIN})
        self._sheet, self._page_width = sheet, page_width
        self._kept: list[dict[str, Any]] = []
        self._headings: dict[int, list[tuple[str, int, float]]] = {}

    def list_heading(self, entry: str, *, level: int, height: float) -> None:
        """Keep a heading of the page for the outline; its top is as high above the origin [points]."""
        _, top = self.absolutePosition(0, height)
        self._headings.setdefault(len(self._kept), []).append((entry, level, top))

    def showPage(self) -> None:  # noqa: N802 (the library's name)
        """Keep the page as it is; called by the library."""
        self._kept.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]

    def save(self) -> None:
        """Write all pages; called by the library, once."""
        kept, sheet = self._kept, self._sheet
        for place, state in enumerate(kept, start=1):
            self.__dict__.update(state)
            for number, (entry, level, top) in enumerate(self._headings.get(place - 1, ())):
                key = f"{place}.{number}"
                self.bookmarkHorizontalAbsolute(key, top)
                self.addOutlineEntry(entry, key, level)
            _foot(self, sheet, sheet.page.format(page=place, pages=len(kept)), self._page_width)
            super().showPage()
        super().save()
        kept.clear()


def _foot(canvas: Canvas, sheet: Sheet, number: str, width: float) -> None:
    """Notice, title and number of a page. width: between its margins."""
    canvas.saveState()
    _notice(sheet, width).drawOn(canvas, MARGIN, NOTICE)
    canvas.setFont(PLAIN, 8.2)
    canvas.setFillColor(HexColor(INK))
    canvas.drawString(MARGIN, NUMBER, shortened(_printed(sheet.title), width=0.8 * width, size=8.2))
    canvas.drawRightString(MARGIN + width, NUMBER, number)
    canvas.restoreState()


def _notice(sheet: Sheet, width: float) -> Paragraph:
    """The notice of a sheet, laid out."""
    notice = Paragraph(_safe(sheet.notice), SMALL)
    notice.wrap(width, 1e6)
    return notice


def shortened(text: str, *, width: float, size: float) -> str:
    """A text no wider than a width on the page, cut short where it must be."""
    if pdfmetrics.stringWidth(text, PLAIN, size) <= width:
        return text
    while text and pdfmetrics.stringWidth(f"{text}…", PLAIN, size) > width:
        text = text[:-1]
    return f"{text}…"
