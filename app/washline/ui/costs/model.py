"""One table of costs as a model: a row is worked out when it is looked at, or when the table is sorted by its figures."""

from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from washline.presentation.costs import PartCost
from washline.presentation.costs_table import Cell, Column, CostTable, Row

Index = QModelIndex | QPersistentModelIndex
NO_INDEX = QModelIndex()
CELL_ROLE = int(Qt.ItemDataRole.UserRole)
ROW_ROLE = CELL_ROLE + 1
SortKey = Callable[[str], Any]


class CostModel(QAbstractTableModel):
    """The rows of ``keys`` in order. ``fill`` works out the row of a key and is asked once, and again after ``refresh``;
    ``sort_key`` is what names are ordered by."""

    def __init__(
        self,
        columns: Sequence[Column],
        table: CostTable,
        fill: Callable[[int], Row | None],
        sort_key: SortKey,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.table = table
        self.is_read_only = False
        self._fill, self._sort_key = fill, sort_key
        self._keys: list[int] = []
        self._rows: dict[int, Row] = {}
        self._names: dict[str, Any] = {}

    @property
    def keys(self) -> Sequence[int]:
        """The ids of the rows, in order."""
        return self._keys

    def set_keys(self, keys: Iterable[int]) -> None:
        """Shows these rows, in this order."""
        wanted = list(keys)
        if wanted != self._keys:
            self.beginResetModel()
            self._keys = wanted
            self.endResetModel()

    def refresh(self) -> None:
        """All figures are worked out anew when they are looked at; the rows stay where they are."""
        self._rows.clear()
        if self._keys:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._keys) - 1, len(self.columns) - 1))
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)

    def number_of(self, key: int | None) -> int:
        """Where a row stands; 0 where it is not shown."""
        return next((number for number, own in enumerate(self._keys) if own == key), 0)

    def row(self, number: int) -> Row | None:
        """What a row holds; ``None`` for one that is gone."""
        if not 0 <= number < len(self._keys):
            return None
        return self.row_of(self._keys[number])

    def row_of(self, key: int) -> Row | None:
        """What the row of an id holds."""
        row = self._rows.get(key)
        if row is None:
            row = self._fill(key)
            if row is not None:
                self._rows[key] = row
        return row

    def ordered(self, named: Iterable[tuple[str, int]], column: int, order: Qt.SortOrder) -> list[int]:
        """The ids of names in the order of a column: by name where it is equal; what is not known last, whichever way it
        sorts. Ordered by name, no figure is worked out."""
        is_falling = order == Qt.SortOrder.DescendingOrder
        by_name = sorted(named, key=lambda entry: (self._name_key(entry[0]), entry[1]))
        keys = [key for _, key in by_name]
        if column == 0:
            return keys[::-1] if is_falling else keys
        known: list[tuple[Any, int]] = []
        unknown: list[int] = []
        for key in keys:
            row = self.row_of(key)
            value = None if row is None else self.table.sort_value(self.columns[column], row)
            if value is None:
                unknown.append(key)
            else:
                known.append((value, key))
        known.sort(key=lambda entry: entry[0], reverse=is_falling)
        return [key for _, key in known] + unknown

    def _name_key(self, name: str) -> Any:
        if name not in self._names:
            self._names[name] = self._sort_key(name)
        return self._names[name]

    def cell(self, index: Index) -> Cell | None:
        """What stands in a cell."""
        row = self.row(index.row())
        return None if row is None else self.table.cell(self.columns[index.column()], row)

    def rowCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._keys)

    def columnCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self.columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self.row(index.row()) if index.isValid() else None
        if row is None:
            return None
        column = self.columns[index.column()]
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.EditRole:
            return self.table.typed(column, row) if column.is_editable else row.name
        cell = self.table.cell(column, row)
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == CELL_ROLE:
            return cell
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"<p>{escape(cell.tip).replace(chr(10), '<br>')}</p>" if cell.tip else None
        if role == Qt.ItemDataRole.AccessibleTextRole:
            text = {"?": "not known", "–": "not set"}.get(cell.text, cell.text)
            return row.name if index.column() == 0 else f"{row.name}, {self.table.head(column)}: {text}"
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return cell.tip
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return self.table.head(column)
        if role == Qt.ItemDataRole.ToolTipRole:
            typed = " Type into it." if column.is_editable else ""
            return f"<p>{escape(column.definition)}.{typed}<br>A click sorts by it.</p>"
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        return flags | Qt.ItemFlag.ItemIsEditable if self.is_typed(index) else flags

    def is_typed(self, index: Index) -> bool:
        """Whether something can be typed into a cell: labour and waste are those of a whole batch, not of a leftover."""
        if self.is_read_only or not index.isValid():
            return False
        column = self.columns[index.column()]
        row = self.row(index.row())
        is_of_leftover = isinstance(row, PartCost) and row.is_leftover
        return column.is_editable and not (is_of_leftover and column.field != "value_per_kg")
