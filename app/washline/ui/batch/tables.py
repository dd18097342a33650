"""The tables of a batch as one list that can be walked by key and read aloud."""

from functools import cache

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from washline.presentation.batch import BatchRow, BatchTable
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.batch.draw import Columns, TablePainter, columns_for, row_rect, table_height
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.flow.tips import plain_tip
from washline.ui.measures import SHEET_MARGIN_PX

Placed = tuple[QRectF, BatchTable, BatchRow, Columns]


class BatchTables(QWidget):
    """Paints the tables under one another. Up and Down choose a row, Enter opens its item: ``opened`` carries the id."""

    opened = Signal(int)
    current_changed = Signal(QRect)

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look = look
        self._tables: tuple[BatchTable, ...] = ()
        self._current = 0
        self.setAccessibleName("Weigh-out of the batch")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setSizePolicy(policy)

    @property
    def tables(self) -> tuple[BatchTable, ...]:
        """What is shown."""
        return self._tables

    def set_tables(self, tables: tuple[BatchTable, ...]) -> None:
        """Shows other tables; the chosen row stays where it is."""
        self._tables = tables
        self._current = min(self._current, max(len(self._rows()) - 1, 0))
        self._fit()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._fit()
        self.update()

    def _fit(self) -> None:
        self.setFixedHeight(round(sum(table_height(table, self._look.unit) for table in self._tables)))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(340), 0)

    @property
    def _margin(self) -> float:
        return float(self._look.px(SHEET_MARGIN_PX))

    def placed(self) -> list[Placed]:
        """Each row with its place, its table and its columns."""
        unit, top, found = self._look.unit, 0.0, []
        for table in self._tables:
            columns = columns_for(table, self.width(), self._margin, unit)
            for number, row in enumerate(table.rows):
                found.append((row_rect(table, number, columns, top, unit), table, row, columns))
            top += table_height(table, unit)
        return found

    def _rows(self) -> list[BatchRow]:
        return [row for table in self._tables for row in table.rows]

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        look, top = self._look, 0.0
        sketch = TablePainter(painter, look.theme, look.fonts)
        for table in self._tables:
            sketch.draw_heads(table, columns_for(table, self.width(), self._margin, look.unit), top)
            top += table_height(table, look.unit)
        for number, (rect, table, row, columns) in enumerate(self.placed()):
            if self.hasFocus() and number == self._current:
                draw_focus_ring(painter, rect.adjusted(0, 1, 0, -1), look.theme, look.unit)
            sketch.draw_row(table, row, columns, rect)
        painter.end()

    # Keys and mouse

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up, Down, Home and End choose a row; Enter opens what it pours."""
        last, key = len(self._rows()) - 1, Qt.Key(event.key())
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

    def _choose(self, number: int) -> None:
        self._current = number
        self.setAccessibleDescription(self._rows()[number].spoken)
        self.update()
        self.current_changed.emit(self.placed()[number][0].toAlignedRect())

    def _open(self, number: int) -> None:
        item_id = self._rows()[number].item_id
        if item_id is not None:
            self.opened.emit(item_id)

    def _index_at(self, place: QPointF) -> int | None:
        found = (number for number, placed in enumerate(self.placed()) if placed[0].contains(place))
        return next(found, None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        number = self._index_at(event.position())
        if number is not None:
            self._choose(number)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        number = self._index_at(event.position())
        if number is not None:
            self._open(number)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def event(self, event: QEvent) -> bool:
        """Tooltips: the row in full, and why it is scaled as it is."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos(), plain_tip(self.tip_at(QPointF(event.pos()))), self)
            return True
        return super().event(event)

    def tip_at(self, place: QPointF) -> str:
        """What a place of the tables means."""
        number = self._index_at(place)
        if number is None:
            return ""
        row = self._rows()[number]
        return f"{row.spoken}. Scaled as {row.tip}." if row.tip else f"{row.spoken}."

    # What a screen reader finds

    def axis_sentences(self) -> tuple[str, ...]:
        """Each row as it is read aloud."""
        return tuple(row.spoken for row in self._rows())

    def chart_sentence(self) -> str:
        """How many tables there are, and their names."""
        return ", ".join(f"{table.name}: {len(table.rows)} rows" for table in self._tables)

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a row stands on the screen."""
        rect = self.placed()[index][0].toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The row with the keyboard focus."""
        return self._current if self.hasFocus() and self._rows() else None


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(BatchTables))
