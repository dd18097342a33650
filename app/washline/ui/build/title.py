"""The head of the sheet: the name of the build, which can be edited where it stands, and a line about it."""

from html import escape

from PySide6.QtCore import QEvent, QRectF, Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent, QKeyEvent, QPainter, QPaintEvent, QPalette
from PySide6.QtWidgets import QLabel, QLineEdit, QSizePolicy, QWidget

from washline.ui.build.look import Look
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.field_undo import leaves_to_the_book

INSET = 7.0
"""How far the ring of the title reaches out of its text, at 100 %."""


class TitleEdit(QLineEdit):
    """A title that becomes a field when it has the focus. Enter or leaving it gives the new name, Esc the old one back."""

    renamed = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._kept = ""
        self.setFrame(False)
        self.setAccessibleName("Name")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.editingFinished.connect(self._finish)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.title)
        # A field insets its text by 2 px of its own; the ring stands outside the text.
        inset = round(look.px(INSET)) - 2
        self.setTextMargins(inset, 0, inset, 0)
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Base, look.theme.raised if self.hasFocus() else look.theme.sheet)
        palette.setColor(QPalette.ColorRole.Text, look.theme.ink)
        self.setPalette(palette)

    def set_name(self, name: str) -> None:
        """Shows a name; what is being typed is left alone."""
        self._kept = name
        is_left_alone = self.isModified() and self.hasFocus()
        if not is_left_alone and (self.isModified() or self.text() != name):
            self.setText(name)
            self.setCursorPosition(0)
            self.setModified(False)
        is_cut = self.fontMetrics().horizontalAdvance(name) > self.width() - 2 * self._look.px(INSET)
        self.setToolTip(escape(name) if is_cut else "")

    @Slot()
    def _finish(self) -> None:
        name = " ".join(self.text().split())
        self.setModified(False)
        if name and name != self._kept:
            self._kept = name
            self.renamed.emit(name)
        self.setText(self._kept)
        self.setCursorPosition(0)

    def event(self, event: QEvent) -> bool:
        return False if leaves_to_the_book(self, event) else super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.text() != self._kept:
            self.setText(self._kept)
            self.setModified(False)
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.set_look(self._look)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.set_look(self._look)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        if self.hasFocus():
            painter.end()
            super().paintEvent(event)
            painter.begin(self)
            draw_focus_ring(painter, QRectF(self.rect()), self._look.theme, self._look.unit)
        else:
            painter.fillRect(self.rect(), self._look.theme.sheet)
            painter.setFont(self.font())
            painter.setPen(self._look.theme.ink)
            box = QRectF(self.rect()).adjusted(self._look.px(INSET), 0, -self._look.px(INSET), 0)
            text = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, round(box.width()))
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
        painter.end()


class QuietLine(QLabel):
    """One line of quiet words that are elided at the right, with all of them in the tooltip where they are."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.set_look(look)

    def set_look(self, look: Look) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.label)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(self._look.theme.ink2)
        metrics = self.fontMetrics()
        text = metrics.elidedText(
            self.text(), Qt.TextElideMode.ElideRight, self.width() - round(self._look.px(INSET))
        )
        box = self.rect().adjusted(round(self._look.px(INSET)), 0, 0, 0)
        painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
        painter.end()
