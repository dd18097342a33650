"""One table of the house's data as a model: its rows are those of the book of the moment."""

from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from washline.model.book import HouseBook
from washline.presentation.house_data import Cell, HouseTexts
from washline.presentation.house_data_columns import NOT_SET, HouseRow, HouseTable, Key

Index = QModelIndex | QPersistentModelIndex
NO_INDEX = QModelIndex()
CELL_ROLE = int(Qt.ItemDataRole.UserRole)
ROW_ROLE = CELL_ROLE + 1
SortKey = Callable[[str], Any]


class HouseModel(QAbstractTableModel):
    """The rows of ``keys`` in order. ``book`` gives the book of the moment; ``sort_key`` is what names are ordered by."""

    def __init__(
        self,
        table: HouseTable,
        texts: HouseTexts,
        book: Callable[[], HouseBook],
        sort_key: SortKey,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.table, self.texts = table, texts
        self.columns = tuple(table.columns)
        self.is_read_only = False
        self._book, self._sort_key = book, sort_key
        self._keys: list[Key] = []
        self._cells: dict[tuple[Key, int], Cell] = {}

    @property
    def keys(self) -> Sequence[Key]:
        """The keys of the rows, in order."""
        return self._keys

    def set_keys(self, keys: Iterable[Key]) -> None:
        """Shows these rows, in this order."""
        wanted = list(keys)
        if wanted != self._keys:
            self.beginResetModel()
            self._keys = wanted
            self.endResetModel()

    def refresh(self) -> None:
        """All cells are written anew when they are looked at; the rows stay where they are."""
        self._cells.clear()
        if self._keys:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._keys) - 1, len(self.columns) - 1))

    def number_of(self, key: Key | None) -> int:
        """Where a row stands; 0 where it is not shown."""
        return next((number for number, own in enumerate(self._keys) if own == key), 0)

    def row(self, number: int) -> HouseRow | None:
        """What a row holds; ``None`` for one that is gone."""
        if not 0 <= number < len(self._keys):
            return None
        found: HouseRow | None = self.table.entries(self._book()).get(self._keys[number])
        return found

    def named(self) -> list[tuple[str, Key]]:
        """Name and key of all rows there are."""
        return [(self.texts.name(row), key) for key, row in self.table.entries(self._book()).items()]

    def ordered(self, named: Iterable[tuple[str, Key]], column: int, order: Qt.SortOrder) -> list[Key]:
        """The keys of names in the order of a column: by name where it is equal; what is not set last, whichever way it
        sorts."""
        is_falling = order == Qt.SortOrder.DescendingOrder
        entries = self.table.entries(self._book())
        by_name = sorted(named, key=lambda entry: (self._sort_key(entry[0]), str(entry[1])))
        keys = [key for _, key in by_name]
        if column == 0:
            return keys[::-1] if is_falling else keys
        values = {key: self.texts.sort_value(self.columns[column], entries[key]) for key in keys}
        known = [key for key in keys if values[key] is not None]
        known.sort(key=lambda key: values[key], reverse=is_falling)
        return known + [key for key in keys if values[key] is None]

    def rowCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._keys)

    def columnCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def cell(self, index: Index, row: HouseRow) -> Cell:
        """What stands in a cell."""
        place = self._keys[index.row()], index.column()
        if place not in self._cells:
            self._cells[place] = self.texts.cell(self.columns[index.column()], row)
        return self._cells[place]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self.row(index.row()) if index.isValid() else None
        if row is None:
            return None
        column = self.columns[index.column()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.EditRole:
            return self.texts.typed(column, row)
        if role not in (
            CELL_ROLE,
            Qt.ItemDataRole.DisplayRole,
            Qt.ItemDataRole.ToolTipRole,
            Qt.ItemDataRole.AccessibleTextRole,
            Qt.ItemDataRole.AccessibleDescriptionRole,
        ):
            return None
        cell = self.cell(index, row)
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"<p>{escape(cell.tip).replace(chr(10), '<br>')}</p>"
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return cell.tip
        name = self.texts.name(row)
        text = "not set" if cell.text == NOT_SET else cell.text
        return name if index.column() == 0 else f"{name}, {column.title}: {text}"

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return column.title
        if role == Qt.ItemDataRole.ToolTipRole:
            typed = " Type into it." if column.field else ""
            return f"<p>{escape(column.definition)}.{typed}<br>A click sorts by it.</p>"
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsEditable if self.is_typed(index) else flags

    def is_typed(self, index: Index) -> bool:
        """Whether something can be typed into a cell."""
        row = self.row(index.row()) if index.isValid() else None
        if row is None or self.is_read_only:
            return False
        return self.texts.is_typed(self.columns[index.column()], row)
