"""The line at the foot of the window: whether all is kept, what was done last, what is still being computed."""

from PySide6.QtCore import QElapsedTimer, QRectF, QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QWidget

from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words

ALL_KEPT = "All changes kept"
TYPING = "Typing: nothing written yet"
SAID_FOR_MS = 8000
BAR_AFTER_MS = 500


class StatusLine(QWidget):
    """``stop_pressed``: the work in the background should rest, or go on."""

    stop_pressed = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("status")
        self._look = look
        self._last = ""
        self.kept = Words(look, "", style="header", parent=self)
        self.last = ElidedWords(look, token="ink2", style="header", parent=self)
        self.bar = ThinBar(look, self)
        self.stop = PlainButton(look, "Stop", self)
        self.stop.clicked.connect(self.stop_pressed)
        self.facts = ElidedWords(look, token="ink2", style="header", parent=self)
        self.facts.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self._row = layout = QHBoxLayout(self)
        layout.setSpacing(look.px(16))
        layout.addWidget(self.kept)
        layout.addWidget(self.last, 3)
        layout.addWidget(self.bar)
        layout.addWidget(self.stop)
        layout.addWidget(self.facts, 4)
        self.kept.setAccessibleName("State of the house book")
        self._said = QTimer(self)
        self._said.setSingleShot(True)
        self._said.setInterval(SAID_FOR_MS)
        self._said.timeout.connect(self._show_last)
        self._busy_for = QElapsedTimer()
        self.set_progress(0, 0)
        self.set_appearance(look)

    def set_kept(self, words: str, token: str = "ink2") -> None:
        """Says whether all is kept; at one place, always."""
        self.kept.setText(words)
        self.kept.set_token(token)

    def set_last(self, words: str) -> None:
        """Says what was done last and how it is taken back."""
        self._last = words
        if not self._said.isActive():
            self._show_last()

    def say(self, words: str) -> None:
        """Says something for a while in the place of what was done last."""
        self.last.setText(words)
        self._said.start()

    @Slot()
    def _show_last(self) -> None:
        self.last.setText(self._last)

    def set_facts(self, words: str) -> None:
        """Says how much there is, and in what units."""
        self.facts.setText(words)

    def set_progress(self, left: int, whole: int, *, is_resting: bool = False) -> None:
        """Shows how far the work in the background is; nothing while it is done within half a second."""
        if left <= 0:
            self._busy_for.invalidate()
        elif not self._busy_for.isValid():
            self._busy_for.start()
        is_long = self._busy_for.isValid() and self._busy_for.elapsed() > BAR_AFTER_MS
        is_shown = left > 0 and (is_long or is_resting)
        self.bar.set_share(1 - left / whole if whole else 0.0)
        self.bar.setVisible(is_shown)
        self.stop.setVisible(is_shown)
        self.stop.setText("Go on" if is_resting else "Stop")

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for widget in (self.kept, self.last, self.bar, self.stop, self.facts):
            widget.set_appearance(look)
        self.stop.setFont(look.fonts.header)
        self._row.setContentsMargins(look.px(15), 0, look.px(15), 0)
        self.setFixedHeight(look.px(27))
        self.stop.setMaximumHeight(look.px(24))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.ground)
        painter.setPen(self._look.theme.rule)
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()


class ElidedWords(Words):
    """One line of text that gives way to others: elided at its right, whole in its tooltip."""

    def __init__(self, look: Appearance, *, token: str, style: str, parent: QWidget | None = None) -> None:
        super().__init__(look, "", token=token, style=style, parent=parent)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(0)

    def minimumSizeHint(self) -> QSize:
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setPen(self.palette().windowText().color())
        words = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideRight, self.width())
        self.setToolTip("" if words == self.text() else self.text().replace("<", "&lt;"))
        painter.drawText(self.rect(), self.alignment() | Qt.AlignmentFlag.AlignVCenter, words)
        painter.end()


class ThinBar(QLabel):
    """How far long work has come, as a thin line."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._share = 0.0
        self.setAccessibleName("Being computed")
        self.set_appearance(look)

    def set_share(self, share: float) -> None:
        """The part that is done, 0 to 1."""
        self._share = min(max(share, 0.0), 1.0)
        self.setAccessibleDescription(f"{self._share:.0%}")
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFixedWidth(look.px(90))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        height = self._look.px(3)
        box = QRectF(0, (self.height() - height) / 2, self.width(), height)
        painter.fillRect(box, self._look.theme.rule2)
        box.setWidth(box.width() * self._share)
        painter.fillRect(box, self._look.theme.ink2)
        painter.end()
