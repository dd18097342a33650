"""A sentence at the foot of the papers, with up to two answers; it asks in place instead of in a box."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget

from washline.ui.appearance import Appearance
from washline.ui.controls import CloseButton, PlainButton, Words

FIRST, SECOND, CLOSE = "first", "second", "close"


class Question(QWidget):
    """Says or asks something. ``answered`` carries first, second or close; Esc closes."""

    answered = Signal(str)

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._is_alert = False
        self.words = Words(look, wraps=True, style="label", parent=self)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.first, self.second = PlainButton(look, "", self), PlainButton(look, "", self)
        self.close_button = CloseButton(look, self)
        self.first.clicked.connect(self._take_first)
        self.second.clicked.connect(self._take_second)
        self.close_button.clicked.connect(self._take_close)
        row = QHBoxLayout(self)
        row.setContentsMargins(look.px(16), look.px(6), look.px(10), look.px(6))
        row.setSpacing(look.px(8))
        row.addWidget(self.words, 1)
        for button in (self.first, self.second, self.close_button):
            row.addWidget(button)
        self.hide()

    def say(self, text: str, first: str = "", second: str = "", *, is_alert: bool = False) -> None:
        """Shows a sentence with the answers that have words; the last of them, which changes less, gets the focus."""
        self._is_alert = is_alert
        self.words.setText(text)
        for button, words in ((self.first, first), (self.second, second)):
            button.setText(words)
            button.setVisible(bool(words))
            button.updateGeometry()
        self.setAccessibleName(text)
        self.show()
        if first:
            (self.second if second else self.first).setFocus(Qt.FocusReason.OtherFocusReason)
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for widget in (self.words, self.first, self.second, self.close_button):
            widget.set_appearance(look)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self._answer(CLOSE)
            return
        super().keyPressEvent(event)

    @Slot()
    def _take_first(self) -> None:
        self._answer(FIRST)

    @Slot()
    def _take_second(self) -> None:
        self._answer(SECOND)

    @Slot()
    def _take_close(self) -> None:
        self._answer(CLOSE)

    def _answer(self, which: str) -> None:
        self.hide()
        self.answered.emit(which)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        theme = self._look.theme
        painter.fillRect(self.rect(), theme.raised)
        painter.fillRect(0, 0, self._look.px(3), self.height(), theme.alert if self._is_alert else theme.ink)
        painter.setPen(theme.rule2)
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()
