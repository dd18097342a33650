"""Moving about the sheet: which cell comes next by keyboard, the way to a row, and which rows are chosen."""

from PySide6.QtCore import QModelIndex
from PySide6.QtWidgets import QTreeView

from washline.presentation.build_rows import BuildRow, Key
from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, NAME, UNIT
from washline.ui.build.look import Columns
from washline.ui.build.model import BuildTreeModel


def editable_from(view: QTreeView, model: BuildTreeModel, index: QModelIndex, direction: int) -> QModelIndex:
    """The next cell in reading order that can be typed in, forward (1) or back (-1); none at an end."""
    row = index.siblingAtColumn(NAME)
    column = index.column()
    while row.isValid():
        column += direction
        if not NAME <= column <= AMOUNT:
            row = view.indexBelow(row) if direction > 0 else view.indexAbove(row)
            column = NAME if direction > 0 else AMOUNT
        if row.isValid() and model.is_editable(row.siblingAtColumn(column)):
            return row.siblingAtColumn(column)
    return QModelIndex()


def shown_column(columns: Columns, column: int, direction: int) -> int | None:
    """The next column to the right (1) or left (-1) that can be gone to; ``None`` at an end."""
    column += direction
    while 0 <= column < COLUMN_COUNT:
        if column != UNIT and not columns.is_folded(column):
            return column
        column += direction
    return None


def open_way(view: QTreeView, model: BuildTreeModel, key: Key) -> None:
    """Opens the parts that lead to a row, as far as they are there."""
    for length in range(1, len(key)):
        index = model.index_of(key[:length])
        if not index.isValid():
            return
        model.open(index)
        view.setExpanded(index, True)


def selected_rows(view: QTreeView, model: BuildTreeModel) -> list[BuildRow]:
    """The selected rows from top to bottom; the current one where nothing is selected."""
    chosen = {index.internalId() for index in view.selectionModel().selectedIndexes()}
    if not chosen and view.currentIndex().isValid():
        chosen = {view.currentIndex().internalId()}
    rows = list(model.rows())
    keys = {row.key for row in rows if model.index_of(row.key).internalId() in chosen}
    return [row for row in rows if row.key in keys]
