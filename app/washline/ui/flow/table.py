"""The ledger under the picture: what went in at the left, what came out at the right, painted in one set of columns."""

from dataclasses import dataclass
from functools import cache

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QFocusEvent,
    QFont,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from washline.presentation.ledger_table import TIPS, LedgerRow, LedgerTexts
from washline.presentation.ledger_vessel import Fate
from washline.quantity.formatting import LESS_THAN_LAST_DIGIT
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.draw.pens import filled_bar
from washline.ui.flow.draw_flow import draw_text
from washline.ui.flow.tips import plain_tip
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

ROW = 23.0
HEAD_ROW = 30.0
TOTAL_ROW = 28.0
NOTE_ROW = 22.0
MARGIN = 20.0
BESIDE_FROM = 900.0
IN_SHARE = 0.30
GAP = 36.0
LONGEST_BAR = 84.0
_FIGURE_WIDTHS = (74.0, 96.0, 92.0, 78.0, 70.0)
_BAR_TOKENS = {
    Fate.MAIN: ("drink", 0.62),
    Fate.ON_GLASS: ("drink", 0.62),
    Fate.REUSED: ("acid", 0.55),
    Fate.KEPT: ("acid", 0.35),
}


@dataclass(frozen=True)
class TableColumns:
    """Where both halves stand, in px; beside one another where there is room, else one under the other."""

    in_left: float
    in_right: float
    out_left: float
    rights: tuple[float, ...]
    bar_left: float
    bar_room: float
    is_beside: bool

    @classmethod
    def for_width(cls, width: float, unit: float) -> "TableColumns":
        """The columns for a width; the bars fold first, then water, acids and sugars."""
        margin = MARGIN * unit
        is_beside = width >= BESIDE_FROM * unit
        in_right = margin + IN_SHARE * (width - 2 * margin) if is_beside else width - margin
        out_left = in_right + GAP * unit if is_beside else margin
        right = width - margin
        bar = min(LONGEST_BAR * unit, max(0.0, right - out_left - (sum(_FIGURE_WIDTHS) + 250) * unit))
        end = right - (bar + 12 * unit if bar >= 40 * unit else 0.0)
        shown = list(range(len(_FIGURE_WIDTHS)))
        for column in (3, 2, 1):
            if end - out_left - sum(_FIGURE_WIDTHS[one] for one in shown) * unit < 150 * unit:
                shown.remove(column)
        rights, place = [0.0] * len(_FIGURE_WIDTHS), end
        for column in reversed(shown):
            rights[column] = place
            place -= _FIGURE_WIDTHS[column] * unit
        return cls(margin, in_right, out_left, tuple(rights), end + 12 * unit, bar, is_beside)

    def name_room(self, unit: float) -> float:
        """Room for the names of what came out."""
        first = min(right for right in self.rights if right > 0.0)
        return first - _FIGURE_WIDTHS[0] * unit - self.out_left


def table_height(texts: LedgerTexts, width: float, unit: float) -> float:
    """How high the table is at a width."""
    ins, outs = len(texts.ins) * ROW, len(texts.outs) * ROW
    block = HEAD_ROW + TOTAL_ROW + 6
    rows = max(ins, outs) + block if width >= BESIDE_FROM * unit else ins + outs + 2 * block
    return (rows + 12 + NOTE_ROW * (len(texts.notes) + 1)) * unit


class FlowTable(QWidget):
    """Paints a ``LedgerTexts``. Up and Down choose a row, Enter opens its item: ``opened`` carries the id."""

    opened = Signal(int)
    current_changed = Signal(QRect)

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look = look
        self._texts: LedgerTexts | None = None
        self._current = 0
        self.setAccessibleName("Ledger, what went in and what came out")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def texts(self) -> LedgerTexts | None:
        """What is shown."""
        return self._texts

    def set_texts(self, texts: LedgerTexts) -> None:
        """Shows another ledger."""
        self._texts = texts
        self._current = min(self._current, max(len(self.rows()) - 1, 0))
        self.updateGeometry()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(table_height(self._texts, width, self._look.unit)) if self._texts is not None else 0

    def sizeHint(self) -> QSize:
        width = self._look.px(760)
        return QSize(width, self.heightForWidth(max(self.width(), width)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(360), 0)

    def rows(self) -> list[tuple[QRectF, LedgerRow]]:
        """Each row with its place."""
        return row_places(self._texts, self.width(), self._look.unit) if self._texts is not None else []

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._texts is None:
            return
        painter = QPainter(self)
        draw_table(painter, self._texts, self.width(), self._look.theme, self._look.fonts)
        rows = self.rows()
        if self.hasFocus() and self._current < len(rows):
            draw_focus_ring(painter, rows[self._current][0], self._look.theme, self._look.unit)
        painter.end()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up, Down, Home and End choose a row; Enter opens it."""
        last = len(self.rows()) - 1
        key = Qt.Key(event.key())
        moves = {
            Qt.Key.Key_Up: max(self._current - 1, 0),
            Qt.Key.Key_Down: min(self._current + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if key in moves and last >= 0:
            self._choose(moves[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and last >= 0:
            self._open(self._current)
        else:
            super().keyPressEvent(event)

    def _choose(self, index: int) -> None:
        self._current = index
        self.setAccessibleDescription(self.rows()[index][1].spoken)
        self.update()
        self.current_changed.emit(self.rows()[index][0].toAlignedRect())

    def _open(self, index: int) -> None:
        item_id = self.rows()[index][1].item_id
        if item_id is not None:
            self.opened.emit(item_id)

    def _index_at(self, place: QPointF) -> int | None:
        return next((index for index, (rect, _row) in enumerate(self.rows()) if rect.contains(place)), None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        index = self._index_at(event.position())
        if index is not None:
            self._choose(index)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        index = self._index_at(event.position())
        if index is not None:
            self._open(index)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def event(self, event: QEvent) -> bool:
        """Tooltips: the row in full, and what a column is."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos(), plain_tip(self.tip_at(QPointF(event.pos()))), self)
            return True
        return super().event(event)

    def tip_at(self, place: QPointF) -> str:
        """What a place of the table means."""
        index = self._index_at(place)
        if index is not None:
            return self.rows()[index][1].spoken
        columns, unit = TableColumns.for_width(self.width(), self._look.unit), self._look.unit
        for column, right in enumerate(columns.rights):
            if right - _FIGURE_WIDTHS[column] * unit < place.x() <= right:
                return TIPS[column]
        return self._texts.used_tip if self._texts is not None else ""

    # What a screen reader finds

    def axis_sentences(self) -> tuple[str, ...]:
        """Each row as it is read aloud."""
        return tuple(row.spoken for _rect, row in self.rows())

    def chart_sentence(self) -> str:
        """The totals."""
        texts = self._texts
        if texts is None:
            return ""
        words = f"All in {texts.all_in}, all out {texts.all_out[0]}, {texts.in_less_out}. {texts.used}"
        return " ".join([words, *texts.notes])

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a row stands on the screen."""
        rect = self.rows()[index][0].toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The row with the keyboard focus."""
        return self._current if self.hasFocus() and self.rows() else None


def row_places(texts: LedgerTexts, width: float, unit: float) -> list[tuple[QRectF, LedgerRow]]:
    """Where each row stands: all that went in, then all that came out."""
    columns = TableColumns.for_width(width, unit)
    edge = 8 * unit
    placed: list[tuple[QRectF, LedgerRow]] = []
    y = HEAD_ROW * unit
    for row in texts.ins:
        left = columns.in_left - edge
        placed.append((QRectF(left, y, columns.in_right - left + edge, ROW * unit), row))
        y += ROW * unit
    y = HEAD_ROW * unit if columns.is_beside else y + (TOTAL_ROW + HEAD_ROW + 6) * unit
    for row in texts.outs:
        left = columns.out_left - edge
        placed.append((QRectF(left, y, width - MARGIN * unit - left + edge, ROW * unit), row))
        y += ROW * unit
    return placed


def draw_table(painter: QPainter, texts: LedgerTexts, width: float, theme: Theme, fonts: Fonts) -> None:
    """Draws the table at the painter's origin, in a width."""
    painter.save()
    _Sketch(painter, texts, width, theme, fonts).draw()
    painter.restore()


class _Sketch:
    """One painting of the table."""

    def __init__(
        self, painter: QPainter, texts: LedgerTexts, width: float, theme: Theme, fonts: Fonts
    ) -> None:
        self._painter, self._texts, self._width = painter, texts, width
        self._theme, self._fonts, self._unit = theme, fonts, fonts.unit
        self._columns = TableColumns.for_width(width, fonts.unit)

    def draw(self) -> None:
        texts, unit, columns = self._texts, self._unit, self._columns
        places = row_places(texts, self._width, unit)
        ins, outs = places[: len(texts.ins)], places[len(texts.ins) :]
        foot = HEAD_ROW * unit + ROW * unit * max(len(ins), len(outs)) if columns.is_beside else 0.0
        self._heads(outs)
        for rect, row in ins:
            self._row_in(rect, row)
        for rect, row in outs:
            self._row_out(rect, row)
        in_foot = foot or ins[-1][0].bottom()
        out_foot = foot or outs[-1][0].bottom()
        self._totals(in_foot + 3 * unit, out_foot + 3 * unit)

    def _heads(self, outs: list[tuple[QRectF, LedgerRow]]) -> None:
        columns, fonts, theme, unit = self._columns, self._fonts, self._theme, self._unit
        y = HEAD_ROW * unit / 2
        self._left(columns.in_left, y, "In", fonts.label_strong, theme.ink)
        self._right(columns.in_right, y, self._texts.heads[0], fonts.header, theme.ink3)
        y = (outs[0][0].top() if outs else HEAD_ROW * unit) - HEAD_ROW * unit / 2
        self._left(columns.out_left, y, "Out", fonts.label_strong, theme.ink)
        for right, text in zip(columns.rights, self._texts.heads, strict=True):
            if right > 0.0:
                self._right(right, y, text, fonts.header, theme.ink3)

    def _row_in(self, rect: QRectF, row: LedgerRow) -> None:
        columns, fonts, theme, unit = self._columns, self._fonts, self._theme, self._unit
        room = columns.in_right - columns.in_left - 74 * unit
        self._name(columns.in_left, rect.center().y(), row, room)
        self._right(columns.in_right, rect.center().y(), row.figures[0], fonts.figure, theme.ink)

    def _row_out(self, rect: QRectF, row: LedgerRow) -> None:
        columns, fonts, theme, unit = self._columns, self._fonts, self._theme, self._unit
        y = rect.center().y()
        self._name(columns.out_left, y, row, columns.name_room(unit))
        for column, (right, text) in enumerate(zip(columns.rights, row.figures, strict=True)):
            if right > 0.0:
                is_main = column == 0
                self._right(right, y, text, fonts.figure, theme.ink if is_main else theme.ink2)
        if columns.bar_room >= 40 * unit:
            token, opacity = _BAR_TOKENS.get(Fate(row.group), ("ink3", 0.55))
            colour = theme.faded(token, opacity) if not theme.is_high_contrast else theme.ink
            length = columns.bar_room * max(0.0, min(row.share, 1.0))
            filled_bar(self._painter, columns.bar_left, y - 4 * unit, max(length, unit), 8 * unit, colour)

    def _name(self, x: float, y: float, row: LedgerRow, room: float) -> None:
        fonts, theme, unit = self._fonts, self._theme, self._unit
        metrics = fonts.metrics(fonts.figure)
        note = fonts.width(fonts.header, row.note) + 8 * unit if row.note else 0.0
        text = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, max(room - note, 0.0))
        self._left(x, y, text, fonts.figure, theme.ink)
        if row.note:
            behind = x + fonts.width(fonts.figure, text) + 8 * unit
            self._left(behind, y, row.note, fonts.header, theme.ink3)

    def _totals(self, in_top: float, out_top: float) -> None:
        columns, fonts, theme, unit = self._columns, self._fonts, self._theme, self._unit
        texts, right = self._texts, self._width - MARGIN * self._unit
        for left, end, top in (
            (columns.in_left, columns.in_right, in_top),
            (columns.out_left, right, out_top),
        ):
            filled_bar(self._painter, left, top, end - left, 1.6 * unit, theme.ink)
        y = in_top + TOTAL_ROW * unit / 2
        self._left(columns.in_left, y, "all in", fonts.figure_strong, theme.ink)
        self._right(columns.in_right, y, texts.all_in, fonts.figure_strong, theme.ink)
        y = out_top + TOTAL_ROW * unit / 2
        self._left(columns.out_left, y, "all out", fonts.figure_strong, theme.ink)
        for place, text in zip(columns.rights[:4], texts.all_out, strict=True):
            if place > 0.0:
                self._right(place, y, text, fonts.figure_strong, theme.ink)
        self._closing(max(in_top, out_top) + TOTAL_ROW * unit)

    def _closing(self, top: float) -> None:
        """Under the totals: used of bought at the left, in less out at the right, then what does not close."""
        columns, fonts, theme, unit = self._columns, self._fonts, self._theme, self._unit
        texts, y = self._texts, top + NOTE_ROW * unit / 2
        right = self._width - MARGIN * unit
        colour = theme.target if texts.closes else theme.alert
        self._right(right, y, texts.in_less_out, fonts.figure_strong, colour)
        room = right - fonts.width(fonts.figure_strong, texts.in_less_out) - 16 * unit - columns.in_left
        self._left(columns.in_left, y, texts.used, fonts.figure_strong, theme.ink, room)
        for note in texts.notes:
            y += NOTE_ROW * unit
            self._left(columns.in_left, y, note, fonts.header, theme.ink2, right - columns.in_left)

    def _left(
        self, x: float, y: float, text: str, font: QFont, colour: QColor, room: float | None = None
    ) -> None:
        if room is not None:
            text = self._fonts.metrics(font).elidedText(text, Qt.TextElideMode.ElideRight, room)
        draw_text(self._painter, self._fonts, x, y, text, font, colour)

    def _right(self, right: float, y: float, text: str, font: QFont, colour: QColor) -> None:
        shown = self._theme.ink3 if text == LESS_THAN_LAST_DIGIT else colour
        draw_text(self._painter, self._fonts, right - self._fonts.width(font, text), y, text, font, shown)


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(FlowTable))
