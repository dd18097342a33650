"""The readings table: each axis with figure, ± and strip, gates, plain figures; every one unfolds into its lines."""

from collections.abc import Callable
from functools import cache

from PySide6.QtCore import QEvent, QPointF, QRect, QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from washline.presentation.contributions import ADDITIVE, Contribution, Unfolded
from washline.presentation.readings import Balance, GateRow, PlainRow, ReadingRow
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.balance.readings_layout import INSET, Arrangement, Cell
from washline.ui.balance.readings_painter import ReadingsPainter
from washline.ui.draw.texts import Texts

Explain = Callable[[str], Unfolded | None]
REST_MS = 150
"""A reading whose lines are differences is taken apart again when typing rests so long."""

_CANNOT_UNFOLD = ("house_date",)


class ReadingsTable(QWidget):
    """Shows a ``Balance``. Arrows move, Return or a click unfolds a reading beneath it, Esc folds it, F1 explains.

    ``explain`` takes a reading apart when it is unfolded. ``unfolded_changed`` carries the key that is unfolded, or an
    empty text; ``current_changed`` the rectangle to keep in sight.
    """

    unfolded_changed = Signal(str)
    current_changed = Signal(QRect)

    def __init__(
        self,
        look: Appearance,
        explain: Explain,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look = look
        self._texts = Texts(look.fonts)
        self._explain = explain
        self._style = style
        self._balance = Balance((), (), ())
        self._unfolded: Unfolded | None = None
        self._current = 0
        self._hovered: tuple[str, str] | None = None
        self._arrangement = Arrangement(self._balance, 376, look, style, None)
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self._take_apart_again)
        self.setAccessibleName("Readings")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    @property
    def balance(self) -> Balance:
        """What is shown."""
        return self._balance

    @property
    def unfolded(self) -> Unfolded | None:
        """The reading that is taken apart."""
        return self._unfolded

    @property
    def cells(self) -> list[Cell]:
        """What is painted, in reading order."""
        return self._arrangement.cells

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._texts = Texts(look.fonts)
        self._arrange()

    def set_balance(self, balance: Balance) -> None:
        """Shows other figures; only the cells that differ are painted again."""
        if balance == self._balance and self._unfolded is None:
            return
        self._balance = balance
        if self._unfolded is not None:
            self._follow_unfolded(self._unfolded.key)
        self._arrange_changed()

    def fold(self) -> None:
        """Folds what is unfolded."""
        if self._unfolded is not None:
            self._unfolded = None
            self._rest.stop()
            self._arrange()
            self.unfolded_changed.emit("")

    def unfold(self, key: str) -> None:
        """Takes a reading apart beneath it, in the stead of another."""
        if key in _CANNOT_UNFOLD:
            return
        found = self._explain(key)
        if found is None:
            return
        self._unfolded = found
        self._arrange()
        self._current = next(
            (index for index, cell in enumerate(self.cells) if cell.key == key and cell.kind != "words"), 0
        )
        self.unfolded_changed.emit(key)
        last = [cell for cell in self.cells if cell.key == key][-1]
        self.current_changed.emit(last.rect.toAlignedRect())
        self.current_changed.emit(self.cells[self._current].rect.toAlignedRect())

    def _follow_unfolded(self, key: str) -> None:
        """Keeps what is unfolded true: at once where lines are shares, after a rest where they are differences."""
        if key in ADDITIVE:
            self._unfolded = self._explain(key)
        else:
            self._rest.start()

    @Slot()
    def _take_apart_again(self) -> None:
        if self._unfolded is not None:
            self._unfolded = self._explain(self._unfolded.key)
            self._arrange()

    # Layout

    def _arrange(self) -> None:
        self._arrangement = self._arranged(max(self.width(), 120))
        able = [index for index, cell in enumerate(self.cells) if cell.is_current_able]
        if able and self._current not in able:
            self._current = min(able, key=lambda index: abs(index - self._current))
        self.setMinimumHeight(0)
        self.updateGeometry()
        self.update()

    def _arranged(self, width: float) -> Arrangement:
        return Arrangement(
            self._balance, width, self._look, self._style, self._unfolded, self._balance.reasons
        )

    def _arrange_changed(self) -> None:
        """Lays out anew and repaints what moved or changed only."""
        old = self._arrangement
        new = self._arranged(max(self.width(), 120))
        is_same_place = new.height == old.height and len(new.cells) == len(old.cells)
        if not is_same_place or new.columns != old.columns:
            self._arrange()
            return
        self._arrangement = new
        for before, after in zip(old.cells, new.cells, strict=True):
            if before != after:
                self.update(
                    after.rect.adjusted(-self._look.px(INSET), 0, self._look.px(INSET), 1).toAlignedRect()
                )

    def resizeEvent(self, event: QResizeEvent) -> None:
        if event.size().width() != event.oldSize().width():
            self._arrange()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        if width == self.width():
            return round(self._arrangement.height + 0.5)
        return round(self._arranged(width).height + 0.5)

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(376), round(self._arrangement.height + 0.5))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(220), round(self._arrangement.height + 0.5))

    # Paint

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        sketch = ReadingsPainter(painter, self._look, self._texts, self._arrangement, self._unfolded)
        for index, cell in enumerate(self.cells):
            if event.rect().intersects(cell.rect.toAlignedRect()):
                sketch.draw(
                    cell,
                    is_current=index == self._current,
                    is_hovered=(cell.kind, cell.key) == self._hovered and cell.kind != "line",
                    has_focus=self.hasFocus(),
                )
        painter.end()

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows, Home, End, Return, Space, Esc and F1."""
        key = event.key()
        moves = {
            Qt.Key.Key_Up: (0, -1),
            Qt.Key.Key_Down: (0, 1),
            Qt.Key.Key_Left: (-1, 0),
            Qt.Key.Key_Right: (1, 0),
        }
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            super().keyPressEvent(event)
        elif Qt.Key(key) in moves and self.cells:
            self._move(*moves[Qt.Key(key)])
        elif key in (Qt.Key.Key_Home, Qt.Key.Key_End) and self.cells:
            able = [index for index, cell in enumerate(self.cells) if cell.is_current_able]
            self._choose(able[0] if key == Qt.Key.Key_Home else able[-1])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self.cells:
            self._toggle(self.cells[self._current].key)
        elif key == Qt.Key.Key_F1 and self.cells:
            self.unfold(self.cells[self._current].key)
        elif key == Qt.Key.Key_Escape and self._unfolded is not None:
            self.fold()
        else:
            super().keyPressEvent(event)

    def _toggle(self, key: str) -> None:
        if self._unfolded is not None and self._unfolded.key == key:
            self.fold()
        else:
            self.unfold(key)

    def _move(self, across: int, down: int) -> None:
        here = self.cells[self._current].rect
        found: list[tuple[float, float, int]] = []
        for index, cell in enumerate(self.cells):
            if not cell.is_current_able or index == self._current:
                continue
            away_y = cell.rect.center().y() - here.center().y()
            away_x = cell.rect.left() - here.left()
            if down and away_y * down > 1:
                found.append((abs(away_y), abs(away_x), index))
            if across and abs(away_y) < 2 and away_x * across > 0:
                found.append((abs(away_x), 0.0, index))
        if found:
            self._choose(min(found)[2])

    def _choose(self, index: int) -> None:
        self._current = index
        self.update()
        self.current_changed.emit(self.cells[index].rect.toAlignedRect())

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    # Pointer

    def _cell_at(self, point: QPointF) -> int | None:
        return next((index for index, cell in enumerate(self.cells) if cell.rect.contains(point)), None)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        index = self._cell_at(event.position())
        if index is not None and event.button() == Qt.MouseButton.LeftButton:
            cell = self.cells[index]
            if cell.kind in ("row", "gate", "plain"):
                self._current = index
                self._toggle(cell.key)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        index = self._cell_at(event.position())
        self._hover(None if index is None else (self.cells[index].kind, self.cells[index].key))

    def leaveEvent(self, event: QEvent) -> None:
        self._hover(None)

    def _hover(self, hovered: tuple[str, str] | None) -> None:
        if hovered != self._hovered:
            self._hovered = hovered
            self.update()

    def event(self, event: QEvent) -> bool:
        """Tooltips: definition, unit, band."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            index = self._cell_at(QPointF(event.pos()))
            text = self._tool_tip(self.cells[index]) if index is not None else ""
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)

    def _tool_tip(self, cell: Cell) -> str:
        payload = cell.payload
        if isinstance(payload, ReadingRow | GateRow | PlainRow):
            return payload.explanation
        return payload.name if isinstance(payload, Contribution) else ""

    # What a screen reader finds

    def axis_sentences(self) -> tuple[str, ...]:
        """Each cell as it is read aloud."""
        return tuple(self._sentence(cell) for cell in self.cells)

    def _sentence(self, cell: Cell) -> str:
        payload = cell.payload
        if isinstance(payload, Contribution):
            return f"{payload.name} {self._arrangement.line_text(cell.key, payload.value)}"
        if isinstance(payload, str):
            return payload
        is_open = self._unfolded is not None and self._unfolded.key == cell.key
        return f"{payload.spoken}{', unfolded' if is_open else ''}"

    def chart_sentence(self) -> str:
        """What the table is for."""
        return "Return unfolds a reading into its lines, Escape folds it, F1 explains."

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a cell stands on the screen."""
        rect = self.cells[index].rect.toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The cell with the keyboard focus."""
        return self._current if self.hasFocus() and self.cells else None


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(ReadingsTable))
