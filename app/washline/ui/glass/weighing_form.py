"""A weighing is typed in: what melted, or what the whole drink weighed after the chill."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, QuietChoice, Words
from washline.ui.form import PlainField

MELTED, FINAL = 0, 1
_KINDS = ("Water from ice, weighed", "The whole drink after the chill")


class WeighingForm(QWidget):
    """One line that opens under the table. ``given`` carries the grams and whether they are of the whole drink;
    ``left`` says that nothing is to be kept."""

    given = Signal(float, bool)
    left = Signal()

    def __init__(
        self, look: Appearance, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._style = style
        self.kind = QuietChoice()
        self.kind.setAccessibleName("What was weighed")
        self.kind.addItems(_KINDS)
        self.field = PlainField(look, "Weighed, g", 90)
        self._unit = Words(look, "g", token="ink2", style="label")
        self.keep_button = PlainButton(look, "Keep the weighing", is_first=True)
        self.cancel_button = PlainButton(look, "Cancel")
        self._problem = Words(look, "", token="alert", style="label", wraps=True)
        line = self._line = QHBoxLayout()
        for widget in (self.kind, self.field, self._unit, self.keep_button, self.cancel_button):
            line.addWidget(widget)
        line.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.addLayout(line)
        self._column.addWidget(self._problem)
        self._problem.hide()
        self.keep_button.clicked.connect(self._keep)
        self.field.returnPressed.connect(self._keep)
        self.cancel_button.clicked.connect(self.left)
        self.set_appearance(look)

    @property
    def problem(self) -> str:
        """What was expected, if anything."""
        return self._problem.text()

    def start(self) -> None:
        """Opens it, empty."""
        self.field.has_error = False
        self.field.set_kept("")
        self.say("")
        self.show()
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def say(self, problem: str) -> None:
        """Shows why nothing was kept; the text stays."""
        self._problem.setText(problem)
        self._problem.setVisible(bool(problem))
        self.field.has_error = bool(problem)
        self.field.update()

    @Slot()
    def _keep(self) -> None:
        words = self.field.text().strip()
        reading = read_number(words, self._style.decimal, self._style.grouping or None)
        if isinstance(reading, NumberProblem) or reading.rest.strip() not in ("", "g"):
            self.say(f"“{words[:30]}” is not a mass. Expected a number in g, such as 31.8.")
            return
        self.given.emit(reading.value, self.kind.currentIndex() == FINAL)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leaves it, and nothing is kept."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
            return
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            return
        super().keyPressEvent(event)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._line.setSpacing(look.px(8))
        self._column.setSpacing(look.px(2))
        self.kind.setFont(look.fonts.row)
        for part in (self.field, self._unit, self.keep_button, self.cancel_button, self._problem):
            part.set_appearance(look)
