"""What stands in the window while a house book has nothing built yet: the first thing to do."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.ui.appearance import Appearance
from washline.ui.controls import PlainButton, Words

NO_DRINKS = "No drinks yet. Start one, or open the demo house book."


class StartPage(QWidget):
    """One sentence and its buttons."""

    new_drink_asked = Signal()
    demo_asked = Signal()

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Words(look, NO_DRINKS, style="title_second", wraps=True)
        self.new_drink = PlainButton(look, "New drink", is_first=True)
        self.demo = PlainButton(look, "Open the demo house book")
        self.new_drink.clicked.connect(self.new_drink_asked)
        self.demo.clicked.connect(self.demo_asked)
        row = QHBoxLayout()
        row.setSpacing(look.px(10))
        row.addWidget(self.new_drink)
        row.addWidget(self.demo)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(look.px(40), look.px(60), look.px(40), look.px(40))
        layout.setSpacing(look.px(16))
        layout.addWidget(self.words)
        layout.addLayout(row)
        layout.addStretch(1)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        for part in (self.words, self.new_drink, self.demo):
            part.set_appearance(look)
