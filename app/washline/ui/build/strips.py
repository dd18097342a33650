"""A question that opens under a row: what it is about, and its answers as buttons. Esc is neither."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QEnterEvent, QKeyEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from washline.ui.build.look import Look
from washline.ui.draw.marks import draw_focus_ring


class OutlineButton(QPushButton):
    """A button as a word in a thin frame."""

    def __init__(self, look: Look, text: str, parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self._look = look
        self._is_hovered = False
        self.setAutoDefault(False)
        self.setFont(look.fonts.row)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def set_look(self, look: Look) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFont(look.fonts.row)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        look = self._look
        width = look.fonts.width(look.fonts.row, self.text().replace("&", "")) + look.px(24)
        return QSize(round(width), round(max(look.px(26), look.measures.smallest_target)))

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def enterEvent(self, event: QEnterEvent) -> None:
        self._is_hovered = True
        self.update()
        super().enterEvent(event)

    def leaveEvent(self, event: object) -> None:
        self._is_hovered = False
        self.update()
        super().leaveEvent(event)  # type: ignore[arg-type]

    def paintEvent(self, event: QPaintEvent) -> None:
        look, theme = self._look, self._look.theme
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(theme.edge)
        is_pressed = self.isDown() or self.isChecked()
        painter.setBrush(theme.select if is_pressed else theme.hover if self._is_hovered else theme.sheet)
        box = QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5)
        painter.drawRoundedRect(box, look.px(3), look.px(3))
        painter.setPen(theme.ink if self.isEnabled() else theme.edge)
        painter.setFont(self.font())
        flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextShowMnemonic
        painter.drawText(self.rect(), flags, self.text())
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()


class QuestionStrip(QFrame):
    """A strip under a row with a sentence and a button for each answer; ``answered`` carries the answer's name, or an
    empty text when it is closed without one."""

    answered = Signal(str)

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look
        self._ground = parent
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        outer = self._outer = QVBoxLayout(self)
        outer.setContentsMargins(round(look.px(12)), round(look.px(7)), round(look.px(12)), round(look.px(8)))
        outer.setSpacing(round(look.px(6)))
        self._words = QLabel(self)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setFont(look.fonts.label)
        self._words.setWordWrap(True)
        outer.addWidget(self._words)
        self._buttons = QHBoxLayout()
        self._buttons.setSpacing(round(look.px(8)))
        outer.addLayout(self._buttons)
        self.hide()

    @property
    def words(self) -> str:
        """What it asks."""
        return self._words.text()

    @property
    def buttons(self) -> list[QPushButton]:
        """Its answers, in order."""
        return self.findChildren(QPushButton)

    def ask(self, words: str, answers: Sequence[tuple[str, str]], left: int, bottom_of_row: int) -> None:
        """Opens under a row: ``answers`` are names and the words of their buttons; the first one gets the focus."""
        self._words.setText(words)
        self.setAccessibleName(words)
        while (item := self._buttons.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        for name, text in answers:
            button = OutlineButton(self._look, text, self)
            button.setObjectName(name)
            button.clicked.connect(self._answer)
            self._buttons.addWidget(button)
        hint = QLabel("Esc: neither" if len(answers) > 1 else "Esc: no", self)
        hint.setFont(self._look.fonts.header)
        self._buttons.addWidget(hint)
        self._buttons.addStretch(1)
        self.place(left, bottom_of_row)
        self.show()
        self.raise_()
        if self.buttons:
            self.buttons[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def place(self, left: int, bottom_of_row: int) -> None:
        """Stands under a row, or above it where there is no room."""
        width = min(round(self._look.px(470)), self._ground.width() - left - 8)
        has_own = self._outer.hasHeightForWidth()
        height = self._outer.heightForWidth(width) if has_own else self.sizeHint().height()
        row = round(self._look.measures.build_row)
        is_room = bottom_of_row + height <= self._ground.height()
        top = bottom_of_row if is_room else max(0, bottom_of_row - row - height)
        self.setGeometry(left, top, width, height)

    @Slot()
    def _answer(self) -> None:
        sender = self.sender()
        if sender is not None:
            self.hide()
            self.answered.emit(sender.objectName())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
            self.answered.emit("")
            return
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            focused = self.focusWidget()
            if isinstance(focused, QPushButton):
                focused.click()
            return
        # Other keys must not reach the tree behind and start a field there.
        event.accept()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.setPen(self._look.theme.preview)
        painter.setBrush(self._look.theme.raised)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 2, 2)
        painter.end()
