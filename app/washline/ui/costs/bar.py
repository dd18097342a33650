"""What stands above the tables of costs: which table, what to find, and the figures of the house that all rows rest on."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_trimmed
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, QuietChoice, Words
from washline.ui.form import PlainField

Taken = float | None


def read_typed(text: str, units: Sequence[str], style: NumberStyle, expected: str) -> tuple[Taken, str]:
    """The number typed and why it is none; an empty text is no number. One of ``units`` may stand behind it."""
    words = text.strip()
    if words in ("", "?", "–"):
        return None, ""
    reading = read_number(words, style.decimal, style.grouping or None)
    if isinstance(reading, NumberProblem):
        return None, f"“{words[:30]}” is not a number. Expected {expected}."
    rest = reading.rest.strip().casefold()
    if rest and rest not in (unit.casefold() for unit in units):
        return None, f"“{rest[:20]}” was not understood. Expected {expected}."
    return reading.value, ""


class TabButton(PlainButton):
    """A button that says which table is shown: it stays down, and a line stands under it."""

    def __init__(self, look: Appearance, text: str) -> None:
        super().__init__(look, text)
        self.setCheckable(True)

    def set_words(self, text: str) -> None:
        """Takes another text."""
        self.setText(text)
        self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.isChecked():
            painter = QPainter(self)
            inset = self._look.px(6)
            y = self.height() - self._look.px(4)
            painter.fillRect(
                inset, y, self.width() - 2 * inset, max(self._look.px(2), 2), self._look.theme.ink
            )
            painter.end()


class HouseNumber(QWidget):
    """A figure of the house: label, field, unit, and under them why a text was refused.

    ``write`` takes the number (``None``: the field was emptied) and says why it was refused, or nothing.
    """

    refused = Signal(str)

    def __init__(
        self,
        look: Appearance,
        label: str,
        unit: str,
        write: Callable[[Taken], str],
        style: NumberStyle = ENGLISH_STYLE,
        *,
        unset: str = "",
    ) -> None:
        super().__init__()
        self._write, self._style, self._unit_text, self._unset = write, style, unit, unset
        self.field = PlainField(look, label, 64)
        self.field.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.field.setPlaceholderText(unset)
        self._label = Words(look, label, token="ink2", style="label")
        self._label.setBuddy(self.field)
        self._unit = Words(look, unit, token="ink2", style="label")
        line = self._line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        for widget in (self._label, self.field, self._unit):
            line.addWidget(widget)
        self.field.left_with.connect(self._take)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._line.setSpacing(look.px(6))
        for widget in (self._label, self._unit, self.field):
            widget.set_appearance(look)
        self.field.setFixedWidth(look.px(84 if self._unset else 58))

    def set_unit(self, unit: str) -> None:
        """Takes another unit: the house has another currency."""
        self._unit_text = unit
        self._unit.setText(unit)

    def show_value(self, value: Taken) -> None:
        """Shows what is kept."""
        self.field.set_kept("" if value is None else format_trimmed(value, 4, self._style))

    @Slot(str)
    def _take(self, text: str) -> None:
        value, problem = read_typed(
            text, (self._unit_text, "%"), self._style, f"a number in {self._unit_text}"
        )
        if not problem and value is None and not self._unset:
            problem = f"Expected a number in {self._unit_text}."
        problem = problem or self._write(value)
        self.field.has_error = bool(problem)
        self.field.update()
        self.refused.emit(problem)


class LabelledChoice(QWidget):
    """A label and a choice of a few."""

    chosen = Signal(object)

    def __init__(self, look: Appearance, label: str, choices: Sequence[tuple[Any, str]]) -> None:
        super().__init__()
        self._keys = [key for key, _ in choices]
        self.field = QuietChoice()
        self.field.setAccessibleName(label)
        for _, words in choices:
            self.field.addItem(words)
        self._label = Words(look, label, token="ink2", style="label")
        self._label.setBuddy(self.field)
        line = self._line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self._label)
        line.addWidget(self.field)
        self.field.activated.connect(self._tell)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._line.setSpacing(look.px(6))
        self._label.set_appearance(look)
        self.field.setFont(look.fonts.row)

    @property
    def key(self) -> Any:
        """What is chosen."""
        return self._keys[self.field.currentIndex()]

    def choose(self, key: Any) -> None:
        """Chooses; a key that is not offered changes nothing."""
        if key in self._keys:
            self.field.setCurrentIndex(self._keys.index(key))

    @Slot()
    def _tell(self) -> None:
        self.chosen.emit(self.key)


class RowFoot(QWidget):
    """What the current row rests on, in sentences, with the ways to it: the drink or part, and what has no price.

    ``asked`` carries the id of the item to go to.
    """

    asked = Signal(object)

    def __init__(self, look: Appearance) -> None:
        super().__init__()
        self._name = Words(look, style="row_strong")
        self._words = Words(look, token="ink2", style="label", wraps=True)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._buttons: list[PlainButton] = []
        self._keys: list[int] = []
        head = self._head = QHBoxLayout()
        head.addWidget(self._name, 1)
        layout = self._layout = QVBoxLayout(self)
        layout.addLayout(head)
        layout.addWidget(self._words, 1)
        self._look = look
        self.set_appearance(look)

    @property
    def text(self) -> str:
        """What it says."""
        return self._words.text()

    @property
    def buttons(self) -> Sequence[PlainButton]:
        """The ways that lead on from here, in order."""
        return [button for button in self._buttons if button.isVisibleTo(self)]

    def say(self, name: str, sentences: Sequence[str], ways: Sequence[tuple[int, str]]) -> None:
        """Tells of another row. ``ways`` are ids of items with the words of their buttons."""
        self._name.setText(name)
        self._words.setText(" ".join(sentences))
        self._keys = [key for key, _ in ways]
        while len(self._buttons) < len(ways):
            button = PlainButton(self._look, "", self)
            button.clicked.connect(self._press)
            self._buttons.append(button)
            self._head.addWidget(button)
        for number, button in enumerate(self._buttons):
            button.setVisible(number < len(ways))
            if number < len(ways):
                button.setText(ways[number][1].replace("&", "&&"))
                button.updateGeometry()

    @Slot()
    def _press(self) -> None:
        number = next((at for at, button in enumerate(self._buttons) if button is self.sender()), -1)
        if 0 <= number < len(self._keys):
            self.asked.emit(self._keys[number])

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._layout.setContentsMargins(look.px(20), look.px(8), look.px(20), look.px(10))
        self._layout.setSpacing(look.px(4))
        self._head.setSpacing(look.px(8))
        self._name.set_appearance(look)
        self._words.set_appearance(look)
        for button in self._buttons:
            button.set_appearance(look)
        # Four lines always: nothing above moves when another row has more to say.
        self._words.setFixedHeight(self._words.fontMetrics().lineSpacing() * 4)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        painter.setPen(self._look.theme.rule2)
        painter.drawLine(0, 0, self.width(), 0)
        painter.end()
