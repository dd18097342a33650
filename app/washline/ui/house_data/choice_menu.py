"""The choices of a cell as a menu, for those who do not type."""

from collections.abc import Callable

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from washline.presentation.house_data_columns import Kind
from washline.ui.house_data.model import ROW_ROLE, HouseModel, Index


def add_choices(menu: QMenu, model: HouseModel, index: Index, choose: Callable[[str], None]) -> None:
    """Adds what there is to choose from in a cell, below one entry; nothing where a cell is no choice. ``choose`` is called
    with the words of a choice."""
    column = model.columns[index.column()]
    if column.kind is not Kind.CHOICE:
        return
    below = menu.addMenu(f"Set {column.head}")
    now = model.texts.typed(column, index.data(ROW_ROLE))
    for _, words in model.texts.choices(column):
        action = below.addAction(words)
        action.setCheckable(True)
        action.setChecked(words == now)

    def tell(action: QAction) -> None:
        choose(action.text())

    below.triggered.connect(tell)
