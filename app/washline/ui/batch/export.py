"""The weigh-out as a file: PDF to print and tick off, or CSV."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QRectF, Qt
from PySide6.QtGui import QFont, QPageLayout, QPageSize, QPainter, QPdfWriter

from washline import __version__
from washline.presentation.batch import INTO_THE_VESSEL, BatchSheet, BatchTable
from washline.presentation.batch_table import comma_separated
from washline.presentation.batch_words import Told
from washline.problem import UserError
from washline.ui.batch.draw import HEAD_ROW, ROW, TablePainter, columns_for, row_rect
from washline.ui.flow.draw_flow import draw_text
from washline.ui.fonts import Fonts
from washline.ui.papers.files import write_bytes
from washline.ui.theme import paper_theme

PAGE_WIDTH, PAGE_HEIGHT, MARGIN = 794.0, 1123.0, 48.0
"""A4 at 96 px to the inch."""
DPI = 1200
_PX_PER_INCH = 96.0
_FOOT, _HEAD, _GAP = 26.0, 76.0, 10.0
_BYTE_ORDER_MARK = "\ufeff"


@dataclass(frozen=True)
class BatchPaper:
    """What goes on paper, and who made it. ``plain`` is the sheet with numbers as files have them."""

    sheet: BatchSheet
    plain: BatchSheet
    house: str
    foot: str


def write(paper: BatchPaper, path: Path) -> None:
    """Writes the file in the format that the name ends in: pdf or csv. Raises ``UserError``; no file is left half
    written."""
    makers: dict[str, Callable[[BatchPaper], bytes]] = {".pdf": pdf_bytes, ".csv": csv_bytes}
    make = makers.get(path.suffix.lower())
    if make is None:
        raise UserError(
            f"“{path.name}” is no name for a weigh-out.",
            "The ending of the name says which kind of file it is.",
            "Let the name end in .pdf or .csv.",
        )
    write_bytes(path, make(paper))


def csv_bytes(paper: BatchPaper) -> bytes:
    """The tables as CSV in UTF-8, with a mark by which spreadsheets know it."""
    return (_BYTE_ORDER_MARK + comma_separated(paper.plain)).encode()


def pdf_bytes(paper: BatchPaper) -> bytes:
    """The sheet on as many pages of A4 as it takes."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    page = QPageSize(QPageSize.PageSizeId.A4)
    writer.setPageLayout(QPageLayout(page, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0)))
    writer.setResolution(DPI)
    writer.setTitle(paper.sheet.title)
    writer.setAuthor(paper.house)
    writer.setCreator(f"Washline {__version__}")
    painter = QPainter(writer)
    painter.scale(DPI / _PX_PER_INCH, DPI / _PX_PER_INCH)
    _Pages(painter, writer, paper, Fonts.for_device(writer)).draw()
    painter.end()
    buffer.close()
    return bytes(buffer.data().data())


class _Pages:
    """The sheet, block by block; what does not fit goes on the next page."""

    def __init__(self, painter: QPainter, writer: QPdfWriter, paper: BatchPaper, fonts: Fonts) -> None:
        self._painter, self._writer, self._paper, self._fonts = painter, writer, paper, fonts
        self._theme = paper_theme()
        self._y = MARGIN

    def draw(self) -> None:
        """Draws all pages."""
        sheet = self._paper.sheet
        self._line(MARGIN + 16, sheet.title, self._fonts.title)
        self._line(MARGIN + 46, sheet.subtitle, self._fonts.label)
        self._y = MARGIN + _HEAD
        for table in sheet.tables:
            self._table(table)
        for told in sheet.told:
            self._told(told)
        self._foot()

    def _line(self, y: float, text: str, font: QFont) -> None:
        ink = self._theme.ink if font == self._fonts.title else self._theme.ink2
        draw_text(self._painter, self._fonts, MARGIN, y, text, font, ink)

    def _room(self, height: float) -> None:
        """Turns the page where a block does not fit."""
        if self._y + height > PAGE_HEIGHT - MARGIN - _FOOT:
            self._foot()
            self._writer.newPage()
            self._y = MARGIN

    def _table(self, table: BatchTable) -> None:
        columns = columns_for(table, PAGE_WIDTH, MARGIN, 1.0)
        sketch = TablePainter(
            self._painter, self._theme, self._fonts, has_boxes=table.name == INTO_THE_VESSEL
        )
        self._room(HEAD_ROW + 2 * ROW)
        sketch.draw_heads(table, columns, self._y)
        self._y += HEAD_ROW
        for row in table.rows:
            self._room(ROW)
            rect = row_rect(table, 0, columns, self._y - HEAD_ROW, 1.0)
            sketch.draw_row(table, row, columns, rect)
            self._y += ROW
        self._y += _GAP

    def _told(self, told: Told) -> None:
        text, font = told.text, self._fonts.label
        width = PAGE_WIDTH - 2 * MARGIN
        flags = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
        metrics = self._fonts.metrics(font)
        height = metrics.boundingRect(QRectF(0, 0, width, 10_000.0), flags, text).height()
        self._room(height + 22.0)
        ink = self._theme.alert if told.is_alert else self._theme.ink
        draw_text(self._painter, self._fonts, MARGIN, self._y + 9, told.title, self._fonts.label_strong, ink)
        self._painter.setFont(font)
        self._painter.setPen(self._theme.ink)
        self._painter.drawText(QRectF(MARGIN, self._y + 20.0, width, height + 2.0), flags, text)
        self._y += height + 20.0 + _GAP

    def _foot(self) -> None:
        y = PAGE_HEIGHT - MARGIN
        draw_text(
            self._painter, self._fonts, MARGIN, y, self._paper.foot, self._fonts.smallest, self._theme.ink3
        )
