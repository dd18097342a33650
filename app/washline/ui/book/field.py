"""The field in which one types to find."""

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLineEdit, QWidget

from washline.ui.appearance import Appearance
from washline.ui.icons import draw_icon

_Key = QKeySequence.StandardKey
_PASSED_ON = (Qt.Key.Key_Down, Qt.Key.Key_Up, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp)


class FindField(QLineEdit):
    """A line to type into, with a lens at its left and its key at its right while it is empty.

    ``moved`` carries a key that is the list's (up, down, a page), ``taken`` says that Return was pressed, ``left`` that
    Esc was pressed when it was empty already, or at once without ``clears_first``.
    """

    moved = Signal(object)
    taken = Signal()
    left = Signal()

    def __init__(
        self,
        look: Appearance,
        hint: str,
        keys: str = "",
        parent: QWidget | None = None,
        *,
        clears_first: bool = True,
    ) -> None:
        super().__init__(parent)
        self._clears_first = clears_first
        self._hint, self._keys = hint, keys
        self.setAccessibleName(hint)
        self.setFrame(False)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.row)
        self.setTextMargins(look.px(26), 0, look.px(8), 0)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, Qt.GlobalColor.transparent)
        self.setPalette(palette)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        height = max(self._look.px(28), self.fontMetrics().height() + self._look.px(6))
        return QSize(self._look.px(160), height)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(40), self.sizeHint().height())

    def event(self, event: QEvent) -> bool:
        # A field that has nothing to take back leaves Undo and Redo to the house book.
        if event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent):
            is_undo, is_redo = event.matches(_Key.Undo), event.matches(_Key.Redo)
            if (is_undo and not self.isUndoAvailable()) or (is_redo and not self.isRedoAvailable()):
                event.ignore()
                return False
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _PASSED_ON:
            self.moved.emit(key)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.taken.emit()
        elif key == Qt.Key.Key_Escape:
            if self.text() and self._clears_first:
                self.clear()
            else:
                self.left.emit()
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme = self._look, self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        width = 2.0 * look.unit if self.hasFocus() else 1.0
        pen = painter.pen()
        pen.setColor(theme.focus if self.hasFocus() else theme.edge)
        pen.setWidthF(width)
        painter.setPen(pen)
        painter.setBrush(theme.raised)
        inset = width / 2
        box = QRectF(self.rect()).adjusted(inset, inset, -inset, -inset)
        painter.drawRoundedRect(box, look.px(3), look.px(3))
        side = look.px(14)
        draw_icon(painter, QRectF(look.px(8), (self.height() - side) / 2, side, side), "search", theme.ink2)
        if not self.text():
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
            painter.setPen(theme.ink3)
            painter.setFont(look.fonts.row)
            painter.drawText(QRectF(look.px(29), 0, self.width(), self.height()), flags, self._hint)
            painter.setFont(look.fonts.smallest)
            right = QRectF(0, 0, self.width() - look.px(9), self.height())
            painter.drawText(right, flags | Qt.AlignmentFlag.AlignRight, self._keys)
        painter.end()
        super().paintEvent(event)
