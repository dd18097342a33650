"""The choice in the head of the sheet: what poured lines are shown in."""

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QAction, QActionGroup
from PySide6.QtWidgets import QMenu, QWidget

from washline.presentation.pour_view import PourUnit
from washline.ui.build.look import Look
from washline.ui.build.strips import OutlineButton

_TITLES = {
    PourUnit.AS_TYPED: "As &typed",
    PourUnit.ML: "&Millilitres",
    PourUnit.OZ: "&Ounces",
    PourUnit.PARTS: "&Parts",
}
_BUTTON_WORDS = {
    PourUnit.AS_TYPED: "As typed",
    PourUnit.ML: "ml",
    PourUnit.OZ: "oz",
    PourUnit.PARTS: "Parts",
}


class PourChoice(OutlineButton):
    """A button with the four units in its menu; ``chosen`` carries the one that was chosen."""

    chosen = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(look, _BUTTON_WORDS[PourUnit.AS_TYPED], parent)
        self.setAccessibleName("Amounts shown in")
        self.setToolTip("What poured lines are shown in. Dashes, drops and grams stay as they are")
        self.unit = PourUnit.AS_TYPED
        self._group = QActionGroup(self)
        self.choices: dict[PourUnit, QAction] = {}
        menu = QMenu(self)
        for unit, title in _TITLES.items():
            action = menu.addAction(title)
            action.setCheckable(True)
            action.setData(unit.value)
            self._group.addAction(action)
            self.choices[unit] = action
        self.choices[self.unit].setChecked(True)
        self._group.triggered.connect(self._choose)
        self._menu = menu
        self.clicked.connect(self._open)

    def show_unit(self, unit: PourUnit) -> None:
        """Shows what is chosen, without telling anyone."""
        self.unit = unit
        self.choices[unit].setChecked(True)
        self.setText(_BUTTON_WORDS[unit])
        self.setAccessibleDescription(_TITLES[unit].replace("&", ""))
        self.updateGeometry()

    @Slot()
    def _open(self) -> None:
        self._menu.popup(self.mapToGlobal(self.rect().bottomLeft()))
        self._menu.setActiveAction(self.choices[self.unit])
        self._menu.setFocus(Qt.FocusReason.PopupFocusReason)

    @Slot(QAction)
    def _choose(self, action: QAction) -> None:
        unit = PourUnit(action.data())
        if unit is not self.unit:
            self.show_unit(unit)
            self.chosen.emit(unit)
