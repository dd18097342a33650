"""The field that opens where one of a few is chosen: it completes what is typed, and the arrow keys go through them."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCompleter, QWidget

from washline.ui.build.editors import CellEditor
from washline.ui.build.look import Look


class ChoiceEditor(CellEditor):
    """``choices`` are the words to choose from."""

    def __init__(self, look: Look, choices: Sequence[str], parent: QWidget) -> None:
        super().__init__(look, parent)
        self.choices = tuple(choices)
        completer = QCompleter(list(choices), self)
        completer.setCompletionMode(QCompleter.CompletionMode.InlineCompletion)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setCompleter(completer)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()), 0)
        if step:
            self._go(step)
            event.accept()
            return
        super().keyPressEvent(event)

    def _go(self, step: int) -> None:
        now = self.choices.index(self.text()) if self.text() in self.choices else -1 if step > 0 else 0
        self.setText(self.choices[(now + step) % len(self.choices)])
        self.selectAll()
        self.setModified(True)
