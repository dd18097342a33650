"""One line that brings alcohol, and what becomes of it: it gives way to something, is left out, or stays."""

from collections.abc import Mapping

from PySide6.QtCore import QStringListModel, Qt, Signal, Slot
from PySide6.QtWidgets import QCompleter, QHBoxLayout, QVBoxLayout, QWidget

from washline.model.house import Swap
from washline.presentation.alcohol_free import AlcoholLine
from washline.quantity.formatting import ENGLISH_STYLE, UNKNOWN, NumberStyle, format_trimmed
from washline.quantity.names import fold
from washline.quantity.number import NumberProblem, read_number
from washline.ui.appearance import Appearance
from washline.ui.controls import QuietChoice, Words
from washline.ui.form import PlainField

STAYS, GIVES_WAY, LEFT_OUT = "stays", "gives way to", "is left out"
FATES = (STAYS, GIVES_WAY, LEFT_OUT)
_NAME_WIDTH, _FACTOR_WIDTH, _CHOICE_WIDTH = 300, 64, 132
LARGEST_FACTOR = 100.0


class SwapRow(QWidget):
    """``changed``: another choice, or another text; ``swap`` is the rule that it stands for."""

    changed = Signal()

    def __init__(
        self,
        look: Appearance,
        line: AlcoholLine,
        names: Mapping[str, int],
        offered: QStringListModel,
        style: NumberStyle = ENGLISH_STYLE,
    ) -> None:
        super().__init__()
        self.line, self._look, self._style = line, look, style
        self._names = names
        self._folded = {fold(name): item_id for name, item_id in names.items()}
        self.heading = Words(look, line.name, style="row_strong", wraps=True)
        self.about = Words(look, about_words(line, style), token="ink2", style="label", wraps=True)
        self.fate = QuietChoice()
        self.fate.addItems(FATES)
        self.fate.setAccessibleName(f"What becomes of {line.name}")
        self.item = PlainField(look, f"What takes the place of {line.name}", _NAME_WIDTH)
        self.item.setPlaceholderText("from the house book")
        self.times = Words(look, "×", token="ink2", style="label")
        self.factor = PlainField(look, f"How many times as much by volume as {line.name}", _FACTOR_WIDTH)
        self.factor.setText("1")
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self._complete(offered)
        self._lay_out(look)
        self._show_fate()
        self.fate.currentIndexChanged.connect(self._take_fate)
        self.item.textEdited.connect(self.changed)
        self.factor.textEdited.connect(self.changed)
        self.set_appearance(look)

    def _complete(self, offered: QStringListModel) -> None:
        completer = QCompleter(offered, self)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setMaxVisibleItems(9)
        completer.activated.connect(self._take_offered)
        self.item.setCompleter(completer)

    def _lay_out(self, look: Appearance) -> None:
        choices = QHBoxLayout()
        choices.setSpacing(look.px(8))
        for widget in (self.fate, self.item, self.times, self.factor):
            choices.addWidget(widget)
        choices.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setSpacing(look.px(3))
        for part in (self.heading, self.about):
            self._column.addWidget(part)
        self._column.addLayout(choices)
        self._column.addWidget(self.problem)
        self.problem.hide()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for words in (self.heading, self.about, self.times, self.problem):
            words.set_appearance(look)
        for field in (self.item, self.factor):
            field.set_appearance(look)
        self.fate.setFont(look.fonts.row)
        self.fate.setFixedWidth(look.px(_CHOICE_WIDTH))
        self.fate.setMinimumHeight(look.px(26))
        self._column.setContentsMargins(0, look.px(8), 0, look.px(8))

    def show_rule(self, swap: Swap | None) -> None:
        """Shows a rule of the house; ``None``: the line stays."""
        self.blockSignals(True)
        if swap is None:
            self.fate.setCurrentText(STAYS)
        elif swap.to_id is None:
            self.fate.setCurrentText(LEFT_OUT)
        else:
            name = next((one for one, item_id in self._names.items() if item_id == swap.to_id), "")
            self.item.setText(name)
            self.factor.setText(format_trimmed(swap.factor, 3, self._style))
            self.fate.setCurrentText(GIVES_WAY if name else STAYS)
        self.blockSignals(False)

    @property
    def swap(self) -> Swap | None:
        """The rule that is chosen; ``None`` where the line stays, or where ``problem_words`` says what is missing."""
        fate = self.fate.currentText()
        if fate == LEFT_OUT:
            return Swap(self.line.item_id)
        if fate == STAYS or self.problem_words:
            return None
        return Swap(self.line.item_id, self._item_id(), self._factor() or 1.0)

    @property
    def problem_words(self) -> str:
        """What was expected of what is typed here; empty where all is understood."""
        if self.fate.currentText() != GIVES_WAY:
            return ""
        text = self.item.text().strip()
        if not text:
            return "Type what takes its place."
        if self._item_id() is None:
            return f"“{text[:40]}” is not in the house book. Choose one of its names."
        if self._factor() is None:
            return f"Expected a factor above 0 and up to {LARGEST_FACTOR:g}, such as 1 or 0.5."
        return ""

    def say_problem(self) -> None:
        """Shows what was expected, where something was typed."""
        words = self.problem_words if self.item.text().strip() else ""
        self.problem.setText(words)
        self.problem.setVisible(bool(words))
        is_item = bool(words) and self._item_id() is None
        for field, has_error in ((self.item, is_item), (self.factor, bool(words) and not is_item)):
            field.has_error = has_error
            # The ring has its sign at the left: the text makes room for it.
            field.setTextMargins(self._look.px(24 if has_error else 7), 0, self._look.px(7), 0)
            field.update()

    def _item_id(self) -> int | None:
        text = self.item.text().strip()
        found = self._names.get(text)
        return found if found is not None else self._folded.get(fold(text))

    def _factor(self) -> float | None:
        found = read_number(self.factor.text(), self._style.decimal, self._style.grouping or None)
        if isinstance(found, NumberProblem) or found.rest.strip() or not 0.0 < found.value <= LARGEST_FACTOR:
            return None
        return found.value

    @Slot()
    def _take_fate(self) -> None:
        self._show_fate()
        if self.fate.currentText() == GIVES_WAY and not self.item.text():
            self.item.setFocus(Qt.FocusReason.OtherFocusReason)
        self.changed.emit()

    @Slot(str)
    def _take_offered(self, name: str) -> None:
        self.item.setText(name)
        self.changed.emit()

    def _show_fate(self) -> None:
        gives_way = self.fate.currentText() == GIVES_WAY
        for widget in (self.item, self.times, self.factor):
            widget.setVisible(gives_way)


def about_words(line: AlcoholLine, style: NumberStyle = ENGLISH_STYLE) -> str:
    """*poured · 60 ml · 18.9 g of alcohol, by the vermouth*."""
    within = f", by the {' and '.join(line.within)}" if line.within else ""
    where = " on the glass" if line.is_on_glass else ""
    ethanol = line.ethanol_text(style)
    known = f"{ethanol} of alcohol" if ethanol != UNKNOWN else "alcohol not known"
    return " · ".join(part for part in (line.role, line.amount, f"{known}{where}{within}") if part)
