"""Paints one cell of the readings table at a time."""

from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QColor, QFont, QPainter

from washline.presentation.contributions import Contribution, Unfolded
from washline.presentation.readings import AT_LEAST, GateRow, PlainRow, ReadingRow
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_layout import INSET, UNIT_GAP, WORDS_FLAGS, Arrangement, Cell
from washline.ui.draw.marks import draw_focus_ring, draw_moved_line
from washline.ui.draw.pens import filled_bar, hairline, on_pixel, square
from washline.ui.draw.strip import draw_strip
from washline.ui.draw.texts import Texts
from washline.ui.icons import draw_icon

_BAR = 4.0
_LINE_TOKENS = {
    "sweetness": "sugar",
    "acidity": "acid",
    "strength": "ethanol",
    "ethanol": "ethanol",
}
"""The colour of a contribution's bar; where there is none it is in the second ink."""


class ReadingsPainter:
    """One painting of the table; the bars of what is unfolded share one scale."""

    def __init__(
        self,
        painter: QPainter,
        look: Appearance,
        texts: Texts,
        arrangement: Arrangement,
        unfolded: Unfolded | None,
    ) -> None:
        self._painter = painter
        self._look = look
        self._texts = texts
        self._arrangement = arrangement
        lines = unfolded.lines if unfolded is not None else ()
        self._highest = max((line.value or 0.0 for line in lines), default=0.0)
        self._lowest = min(0.0, min((line.value or 0.0 for line in lines), default=0.0))
        self._edges = arrangement.plain_edges()

    def draw(self, cell: Cell, *, is_current: bool, is_hovered: bool, has_focus: bool) -> None:
        """Draws one cell with its state."""
        look, painter = self._look, self._painter
        if is_hovered and cell.is_current_able:
            painter.fillRect(self._around(cell.rect), look.theme.hover)
        payload = cell.payload
        if isinstance(payload, ReadingRow):
            self._row(cell.rect, payload)
        elif isinstance(payload, GateRow):
            self._gate(cell.rect, payload)
        elif isinstance(payload, PlainRow):
            self._plain(cell.rect, payload)
        elif isinstance(payload, Contribution):
            self._line(cell, payload)
        else:
            font = self._arrangement.words_font(is_strong=cell.is_strong)
            self._words(cell.rect, payload, font)
        if is_current and has_focus:
            draw_focus_ring(painter, self._around(cell.rect), look.theme, look.unit)

    def _around(self, rect: QRectF) -> QRectF:
        inset = INSET * self._look.unit
        return rect.adjusted(-inset, 0, inset, 0)

    def _text(self, x: float, y: float, text: str, font: QFont, colour: QColor) -> float:
        """Draws a text with its digits centred on ``y``; its width."""
        baseline = y + self._texts.metrics(font).capHeight() / 2
        return self._texts.draw(self._painter, x, baseline, text, font, colour)

    def _right(self, right: float, y: float, text: str, font: QFont, colour: QColor) -> float:
        """Draws a text that ends on ``right``; its left edge."""
        left = right - self._texts.laid_out(text, font).width
        self._text(left, y, text, font, colour)
        return left

    def _hairline(self, rect: QRectF) -> None:
        self._painter.setPen(square(self._look.theme.rule, hairline(self._painter)))
        y = on_pixel(self._painter, rect.bottom() - 0.5)
        self._painter.drawLine(QLineF(rect.left(), y, rect.right(), y))

    def _row(self, rect: QRectF, row: ReadingRow) -> None:
        look, theme, fonts, columns = (
            self._look,
            self._look.theme,
            self._look.fonts,
            self._arrangement.columns,
        )
        self._hairline(rect)
        y, left = rect.center().y(), rect.left()
        shown = row.figure
        number = theme.ink3 if shown.is_greyed else theme.preview if row.has_moved else theme.ink
        below = self._below(row)
        if below:
            self._text(left, y - 7 * look.unit, shown.name, fonts.row, theme.ink)
            is_out = row.state.is_out and columns.is_state_below
            self._text(left, y + 8 * look.unit, below, fonts.smallest, theme.drink if is_out else theme.ink2)
        else:
            self._text(left, y, shown.name, fonts.row, theme.ink)
        start = self._right(left + columns.number_right, y, shown.number, fonts.reading, number)
        if row.has_moved:
            line = y + self._texts.metrics(fonts.reading).capHeight() / 2 + 3 * look.unit
            draw_moved_line(self._painter, start, left + columns.number_right, line, theme, look.unit)
        if not shown.is_unknown:
            self._text(left + columns.unit_x, y, shown.unit, fonts.header, theme.ink2)
            if columns.spread_x is not None:
                self._text(left + columns.spread_x, y, shown.spread, fonts.header, theme.ink3)
        if row.strip is not None:
            strip = QRectF(left + columns.strip_x, rect.top(), columns.strip_width, rect.height())
            draw_strip(self._painter, strip, row.strip, theme, look.unit)
            if not columns.is_state_below:
                self._state(rect, row)

    def _below(self, row: ReadingRow) -> str:
        """What stands under the name: *at least*, and the state where it finds no other place."""
        words = [AT_LEAST] if row.figure.is_at_least else []
        if self._arrangement.columns.is_state_below and row.strip is not None:
            words.append(row.state.words)
        return ", ".join(words)

    def _state(self, rect: QRectF, row: ReadingRow) -> None:
        fonts, theme, unit = self._look.fonts, self._look.theme, self._look.unit
        is_out = row.state.is_out
        font = fonts.header_strong if is_out else fonts.header
        colour = theme.drink if is_out else theme.ink2
        y = rect.center().y()
        if rect.height() < 30 * unit:
            self._right(rect.right(), y, row.state.words, font, colour)
            return
        self._right(rect.right(), y - 6.5 * unit, row.state.words, font, colour)
        self._right(rect.right(), y + 8 * unit, row.band, fonts.smallest, theme.ink2)

    def _gate(self, rect: QRectF, gate: GateRow) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        self._hairline(rect)
        y = rect.center().y()
        x = rect.left() + self._text(rect.left(), y, "Gate ", fonts.row_strong, theme.ink)
        colour = theme.alert if gate.is_broken else theme.ink if gate.is_unsure else theme.target
        font = fonts.header_strong
        end = self._right(rect.right(), y, gate.verdict, font, colour)
        if gate.is_broken or gate.is_unsure:
            size = 14 * look.unit
            name = "alert" if gate.is_broken else "unknown"
            end -= size + 5 * look.unit
            draw_icon(self._painter, QRectF(end, y - size / 2, size, size), name, colour)
        limit = self._texts.elided(gate.limit, fonts.row, end - x - 8)
        self._text(x, y, limit, fonts.row, theme.ink2)

    def _plain(self, rect: QRectF, row: PlainRow) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        y = rect.center().y()
        name_end = rect.left() + self._text(rect.left(), y, row.shown_name, fonts.figure, theme.ink2)
        edge = rect.left() + self._edges[rect.left()]
        colour = theme.ink3 if row.is_greyed else theme.preview if row.has_moved else theme.ink
        start = self._right(edge, y, row.number, fonts.figure_strong, colour)
        self._text(edge + UNIT_GAP * look.unit, y, row.tail, fonts.header, theme.ink2)
        if row.has_moved and start > name_end:
            below = y + self._texts.metrics(fonts.figure).capHeight() / 2 + 3 * look.unit
            draw_moved_line(self._painter, start, edge, below, theme, look.unit)

    def _line(self, cell: Cell, line: Contribution) -> None:
        look, theme, fonts, rect = self._look, self._look.theme, self._look.fonts, cell.rect
        y = rect.center().y()
        number = self._arrangement.line_text(cell.key, line.value)
        half = rect.left() + rect.width() * 0.52
        name = self._texts.elided(line.name, fonts.figure, half - rect.left() - 8)
        self._text(rect.left(), y, name, fonts.figure, theme.ink)
        number_left = rect.right() - fonts.width(fonts.figure, "−000.000")
        self._right(rect.right(), y, number, fonts.figure, theme.ink)
        reach = max(self._highest, 0.0) - self._lowest
        if line.value is None or reach <= 0.0:
            return
        room = number_left - half - 8 * look.unit
        zero = half - room * self._lowest / reach
        length = room * abs(line.value) / reach
        token = _LINE_TOKENS.get(cell.key, "ink2")
        self._painter.setPen(square(theme.rule2, hairline(self._painter)))
        x = on_pixel(self._painter, zero)
        self._painter.drawLine(QLineF(x, rect.top() + 4, x, rect.bottom() - 4))
        left = zero if line.value > 0 else zero - length
        filled_bar(
            self._painter, left, y - _BAR / 2 * look.unit, length, _BAR * look.unit, theme.colour(token)
        )

    def _words(self, rect: QRectF, text: str, font: QFont) -> None:
        self._painter.setFont(font)
        self._painter.setPen(self._look.theme.ink2)
        self._painter.drawText(rect, int(WORDS_FLAGS), text)
