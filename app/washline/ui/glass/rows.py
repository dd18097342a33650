"""A table of figures, painted in one piece: names at the left, figures right-aligned under their heads."""

from collections.abc import Sequence
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

from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.draw.marks import draw_current_bar, draw_focus_ring
from washline.ui.draw.pens import hairline
from washline.ui.flow.draw_flow import draw_text
from washline.ui.flow.tips import plain_tip

ROW = 25.0
HEAD = 38.0
_COLUMN_GAP = 22.0
_SHORTEST_NAME = 90.0
_EDGE = 8.0


@dataclass(frozen=True, slots=True)
class TableRow:
    """A row: its name, its cells under the heads, and the whole of it as it is read aloud."""

    name: str
    cells: tuple[str, ...]
    spoken: str
    note: str = ""


class FigureTable(QWidget):
    """Paints rows of figures. Up, Down, Home and End choose one: ``chosen`` carries its number. The figures of the column
    ``strong`` are those that count; columns fold from ``fold_first`` on where there is no room."""

    chosen = Signal(int)
    current_changed = Signal(QRect)

    def __init__(
        self,
        look: Appearance,
        name: str,
        heads: Sequence[str] = (),
        tips: Sequence[str] = (),
        *,
        strong: int = -1,
        fold_first: Sequence[int] = (),
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look = look
        self._heads, self._tips = tuple(heads), tuple(tips)
        self._strong, self._fold_first = strong, tuple(fold_first)
        self._rows: tuple[TableRow, ...] = ()
        self._current = 0
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    @property
    def rows(self) -> tuple[TableRow, ...]:
        """What is shown."""
        return self._rows

    @property
    def current(self) -> int:
        """The number of the row that is chosen."""
        return self._current

    def set_rows(self, rows: Sequence[TableRow], heads: Sequence[str] | None = None) -> None:
        """Shows other rows; the chosen one stays where it is."""
        self._rows = tuple(rows)
        if heads is not None:
            self._heads = tuple(heads)
        self._current = max(min(self._current, len(self._rows) - 1), 0)
        self.updateGeometry()
        self.update()

    def choose(self, number: int, *, moves_page: bool = True) -> None:
        """Chooses a row; where the page is to stay as it is nothing says where the row stands."""
        if not 0 <= number < len(self._rows):
            return
        self._current = number
        self.setAccessibleDescription(self._rows[number].spoken)
        self.update()
        self.chosen.emit(number)
        if moves_page:
            self.current_changed.emit(self._row_rect(number).toAlignedRect())

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        look = self._look
        return QSize(look.px(480), look.px(HEAD + ROW * len(self._rows) + 4))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(260), self.sizeHint().height())

    # Where all stands

    def columns(self) -> dict[int, float]:
        """The columns that have room, each with its right edge; the last ones named to fold go first."""
        widths = {column: self._width(column) for column in range(len(self._heads))}
        names = [self._look.fonts.width(self._look.fonts.row, row.name) for row in self._rows]
        wanted = min(max([*names, self._look.px(_SHORTEST_NAME)]), self._look.px(2.2 * _SHORTEST_NAME))
        shown = list(widths)
        for column in self._fold_first:
            if sum(widths[one] for one in shown) + wanted <= self.width() - self._look.px(2 * _EDGE):
                break
            if column in shown:
                shown.remove(column)
        rights: dict[int, float] = {}
        right: float = self.width() - self._look.px(_EDGE)
        for column in reversed(shown):
            rights[column] = right
            right -= widths[column]
        return rights

    def _width(self, column: int) -> float:
        fonts = self._look.fonts
        cells = (fonts.width(fonts.figure_strong, row.cells[column]) for row in self._rows)
        head = max(fonts.width(fonts.header, words) for words in _lines(self._heads[column]))
        return max([head, *cells]) + self._look.px(_COLUMN_GAP)

    def _row_rect(self, number: int) -> QRectF:
        look = self._look
        return QRectF(0, look.px(HEAD) + number * look.px(ROW), self.width(), look.px(ROW))

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        rights = self.columns()
        for column, right in rights.items():
            for line, words in enumerate(_lines(self._heads[column])):
                y = look.px(10 + 15 * line)
                self._right(painter, right, y, words, fonts.header, theme.ink2 if line == 0 else theme.ink3)
        painter.fillRect(QRectF(0, look.px(HEAD) - 1, self.width(), hairline(painter)), theme.rule2)
        for number in range(len(self._rows)):
            self._paint_row(painter, number, rights)
        painter.end()

    def _paint_row(self, painter: QPainter, number: int, rights: dict[int, float]) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        row, rect = self._rows[number], self._row_rect(number)
        if number == self._current and len(self._rows) > 1:
            painter.fillRect(rect, theme.select)
            draw_current_bar(painter, rect, theme, look.unit)
        y, left = rect.center().y(), look.px(_EDGE)
        first = min(rights) if rights else None
        end = rights[first] - self._width(first) if first is not None else self.width() - left
        metrics = fonts.metrics(fonts.row)
        name = metrics.elidedText(row.name, Qt.TextElideMode.ElideRight, max(end - left, look.px(40)))
        draw_text(painter, fonts, left, y, name, fonts.row, theme.ink)
        behind = left + fonts.width(fonts.row, name) + look.px(8)
        if row.note and behind < end - look.px(30):
            note = fonts.metrics(fonts.header).elidedText(row.note, Qt.TextElideMode.ElideRight, end - behind)
            draw_text(painter, fonts, behind, y, note, fonts.header, theme.ink3)
        for column, right in rights.items():
            is_strong = column == self._strong
            font = fonts.figure_strong if is_strong else fonts.figure
            self._right(painter, right, y, row.cells[column], font, theme.ink if is_strong else theme.ink2)
        painter.fillRect(QRectF(0, rect.bottom() - 1, self.width(), hairline(painter)), theme.rule)
        if self.hasFocus() and number == self._current:
            draw_focus_ring(painter, rect.adjusted(1, 1, -1, -2), theme, look.unit)

    def _right(
        self, painter: QPainter, right: float, y: float, text: str, font: QFont, colour: QColor
    ) -> None:
        fonts = self._look.fonts
        draw_text(painter, fonts, right - fonts.width(font, text), y, text, font, colour)

    # Keys and pointer

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up, Down, Home and End choose a row."""
        last = len(self._rows) - 1
        moves = {
            Qt.Key.Key_Up: max(self._current - 1, 0),
            Qt.Key.Key_Down: min(self._current + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        key = Qt.Key(event.key())
        if key in moves and last >= 0:
            self.choose(moves[key])
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        number = self._number_at(event.position())
        if number is not None:
            self.choose(number)

    def _number_at(self, place: QPointF) -> int | None:
        return next((n for n in range(len(self._rows)) if self._row_rect(n).contains(place)), None)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self._rows:
            self.current_changed.emit(self._row_rect(self._current).toAlignedRect())
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
        number = self._number_at(place)
        if number is not None:
            return self._rows[number].spoken
        for column, right in self.columns().items():
            if right - self._width(column) < place.x() <= right and column < len(self._tips):
                return self._tips[column]
        return ""

    # What a screen reader finds

    def axis_sentences(self) -> tuple[str, ...]:
        """Each row as it is read aloud."""
        return tuple(row.spoken for row in self._rows)

    def chart_sentence(self) -> str:
        """How many rows there are."""
        return "1 row" if len(self._rows) == 1 else f"{len(self._rows)} rows"

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a row stands on the screen."""
        rect = self._row_rect(index).toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The row with the keyboard focus."""
        return self._current if self.hasFocus() and self._rows else None


def _lines(head: str) -> tuple[str, str]:
    """A head on two lines: what it is, and its unit."""
    name, _comma, unit = head.rpartition(", ")
    return (name, unit) if name else (unit, "")


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(FigureTable))
