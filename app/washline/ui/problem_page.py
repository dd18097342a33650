"""What stands in the window where a house book could not be opened."""

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from washline.problem import UserError
from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words


class ProblemPage(QWidget):
    """What happened, why, what to do, and buttons that do it; ``pressed`` carries the words of the button."""

    pressed = Signal(str)

    def __init__(
        self, look: Appearance, problem: UserError, buttons: Sequence[str], parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAccessibleName(str(problem))
        self.words = [Words(look, problem.what, style="title_second", wraps=True)]
        self.words += [Words(look, text, wraps=True) for text in (problem.cause, problem.remedy) if text]
        self.words.append(Words(look, "The file was not changed.", token="ink2", wraps=True))
        self.buttons: list[QPushButton] = []
        row = QHBoxLayout()
        row.setSpacing(look.px(10))
        for number, text in enumerate(buttons):
            button = PlainButton(look, text, is_first=number == 0)
            button.clicked.connect(self._press)
            self.buttons.append(button)
            row.addWidget(button)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(look.px(40), look.px(60), look.px(40), look.px(40))
        layout.setSpacing(look.px(10))
        for words in self.words:
            words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            layout.addWidget(words)
        layout.addSpacing(look.px(10))
        layout.addLayout(row)
        layout.addStretch(1)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for words in self.words:
            words.set_appearance(look)
        for button in self.buttons:
            if isinstance(button, PlainButton):
                button.set_appearance(look)

    @Slot()
    def _press(self) -> None:
        sender = self.sender()
        if isinstance(sender, QPushButton):
            self.pressed.emit(sender.text())
