"""Painting the tables of a batch: the same on the page and on paper."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter

from washline.presentation.batch import AT_SERVICE, INTO_THE_VESSEL, BatchRow, BatchTable
from washline.quantity.formatting import UNKNOWN
from washline.ui.draw.pens import filled_bar, hairline, on_pixel, square
from washline.ui.flow.draw_flow import draw_text
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

ROW, HEAD_ROW, GAP = 25.0, 28.0, 16.0
FIGURE_WIDTH = 102.0
WIDEST = 960.0
_NAME_ROOM = 210.0
_BOX = 11.0
_FOLDS = {INTO_THE_VESSEL: (2, 1, 0), AT_SERVICE: (1, 0, 3)}
_STRONG = {INTO_THE_VESSEL: 3, AT_SERVICE: 2}


@dataclass(frozen=True)
class Columns:
    """Where the columns of a table stand: ``rights`` of those shown by their number, and the room of the names."""

    left: float
    right: float
    rights: dict[int, float]
    name_room: float


def columns_for(table: BatchTable, width: float, margin: float, unit: float) -> Columns:
    """The columns of a table in a width: what matters least folds first, and no table is wider than can be read."""
    right = min(width - margin, margin + WIDEST * unit)
    shown = list(range(len(table.heads)))
    for column in _FOLDS.get(table.name, ()):
        if right - margin - len(shown) * FIGURE_WIDTH * unit < _NAME_ROOM * unit:
            shown.remove(column)
    each = min(FIGURE_WIDTH * unit, (right - margin) * 0.7 / max(len(shown), 1))
    first = right - len(shown) * each
    rights = {column: first + (place + 1) * each for place, column in enumerate(shown)}
    return Columns(margin, right, rights, first - margin)


def table_height(table: BatchTable, unit: float) -> float:
    """How high a table is, with the gap under it."""
    return (HEAD_ROW + ROW * len(table.rows) + GAP) * unit


def row_rect(table: BatchTable, number: int, columns: Columns, top: float, unit: float) -> QRectF:
    """Where a row stands, in a table that begins at ``top``."""
    edge = 8 * unit
    y = top + (HEAD_ROW + ROW * number) * unit
    return QRectF(columns.left - edge, y, columns.right - columns.left + 2 * edge, ROW * unit)


class TablePainter:
    """Paints one table; ``has_boxes`` puts a box to tick before every weight."""

    def __init__(self, painter: QPainter, theme: Theme, fonts: Fonts, *, has_boxes: bool = False) -> None:
        self._painter, self._theme, self._fonts, self._has_boxes = painter, theme, fonts, has_boxes

    def draw_heads(self, table: BatchTable, columns: Columns, top: float) -> None:
        """The name of the table and of each of its columns."""
        fonts, theme, unit = self._fonts, self._theme, self._fonts.unit
        y = top + HEAD_ROW * unit / 2
        draw_text(self._painter, fonts, columns.left, y, table.name, fonts.label_strong, theme.ink)
        for number, right in columns.rights.items():
            self._right(right, y, table.heads[number], fonts.header, theme.ink3)
        filled_bar(
            self._painter,
            columns.left,
            top + (HEAD_ROW - 1) * unit,
            columns.right - columns.left,
            unit,
            theme.rule2,
        )

    def draw_row(self, table: BatchTable, row: BatchRow, columns: Columns, rect: QRectF) -> None:
        """One row: name, quiet note, figures."""
        theme, fonts = self._theme, self._fonts
        y = rect.center().y()
        if row.is_strong:
            filled_bar(
                self._painter,
                columns.left,
                rect.top(),
                columns.right - columns.left,
                1.6 * fonts.unit,
                theme.ink,
            )
        self._name(row, columns, y)
        for number, right in columns.rights.items():
            text = row.figures[number]
            is_strong = row.is_strong or _STRONG.get(table.name) == number
            font = fonts.figure_strong if is_strong else fonts.figure
            ink = theme.ink if is_strong or table.name not in _STRONG else theme.ink2
            self._right(right, y, text, font, theme.ink3 if text == UNKNOWN else ink)
        self._painter.setPen(square(theme.rule, hairline(self._painter)))
        line = on_pixel(self._painter, rect.bottom() - 0.5)
        self._painter.drawLine(QPointF(columns.left, line), QPointF(columns.right, line))

    def _name(self, row: BatchRow, columns: Columns, y: float) -> None:
        fonts, theme, unit = self._fonts, self._theme, self._fonts.unit
        left = columns.left
        if self._has_boxes and not row.is_strong:
            self._painter.setPen(square(theme.ink, max(unit, hairline(self._painter))))
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.drawRect(QRectF(left, y - _BOX * unit / 2, _BOX * unit, _BOX * unit))
            left += (_BOX + 8) * unit
        room = columns.left + columns.name_room - left - 8 * unit
        note = fonts.width(fonts.header, row.note) + 8 * unit if row.note else 0.0
        note = note if note < room / 2 else 0.0
        font = fonts.row_strong if row.is_strong else fonts.row
        name = fonts.metrics(font).elidedText(row.name, Qt.TextElideMode.ElideRight, room - note)
        draw_text(self._painter, fonts, left, y, name, font, theme.ink)
        if note:
            behind = left + fonts.metrics(font).horizontalAdvance(name) + 8 * unit
            draw_text(self._painter, fonts, behind, y, row.note, fonts.header, theme.ink3)

    def _right(self, right: float, y: float, text: str, font: QFont, ink: QColor) -> None:
        draw_text(self._painter, self._fonts, right - self._fonts.width(font, text), y, text, font, ink)
