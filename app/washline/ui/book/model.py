"""One group of the house book's list as a model: rows are made when they are looked at."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Protocol

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt, Signal

from washline.presentation.book_rows import BookRow

Index = QModelIndex | QPersistentModelIndex
NO_INDEX = QModelIndex()
ROW_ROLE = int(Qt.ItemDataRole.UserRole)
MOST_ROWS_MOVED = 400
"""Where more rows than this come or go, the list is laid anew instead of row by row."""


class Placed(Protocol):
    """A row before it is filled."""

    @property
    def key(self) -> int:
        """The id of its item or target."""

    @property
    def depth(self) -> int:
        """1 for a twist under its parent."""


class SectionModel(QAbstractListModel):
    """The rows of one group. ``fill`` makes a row; it is asked once, and again after ``refresh``.

    ``renamed`` carries the id and the name that was typed.
    """

    renamed = Signal(object, str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._places: list[Any] = []
        self._rows: dict[int, BookRow] = {}
        self._last_shares: dict[int, tuple[float, float, float]] = {}
        self._fill: Callable[[Any], BookRow | None] | None = None
        self._name: Callable[[int], str] | None = None
        self.is_read_only = True

    def show_kept(self, rows: Sequence[BookRow]) -> None:
        """Shows rows that were kept, with nothing behind them."""
        self.beginResetModel()
        self._fill = None
        self._places = list(rows)
        self._rows = {row.key: row for row in rows}
        self.endResetModel()

    def set_fill(self, fill: Callable[[Any], BookRow | None], name: Callable[[int], str]) -> None:
        """Has rows made by ``fill`` from now on; those shown are made anew when they are looked at.

        ``name`` gives the name of an id without making its row.
        """
        self._fill, self._name = fill, name
        self._rows.clear()
        if self._places:
            self.dataChanged.emit(self.index(0), self.index(len(self._places) - 1))

    def set_places(self, places: Sequence[Placed]) -> None:
        """Shows these rows: what is new is put in and what is gone taken out, the rest stays as it is."""
        old, new = self._places, list(places)
        start = _common(old, new)
        end = _common(old[start:][::-1], new[start:][::-1])
        old_middle, new_middle = len(old) - start - end, len(new) - start - end
        if old_middle == new_middle == 0:
            return
        if max(old_middle, new_middle) > MOST_ROWS_MOVED:
            self.beginResetModel()
            self._places = new
            self.endResetModel()
            return
        if old_middle:
            self.beginRemoveRows(NO_INDEX, start, start + old_middle - 1)
            del self._places[start : start + old_middle]
            self.endRemoveRows()
        if new_middle:
            self.beginInsertRows(NO_INDEX, start, start + new_middle - 1)
            self._places[start:start] = new[start : start + new_middle]
            self.endInsertRows()

    def refresh(self, keys: Iterable[int] | None = None) -> None:
        """Has rows made anew: those of ``keys``, or all."""
        if self._fill is None:
            return
        wanted = set(self._rows) if keys is None else set(keys) & set(self._rows)
        if not wanted:
            return
        for key in wanted:
            self._forget(key)
        if len(wanted) > 50:
            self.dataChanged.emit(self.index(0), self.index(len(self._places) - 1))
            return
        for number, place in enumerate(self._places):
            if place.key in wanted:
                self.dataChanged.emit(self.index(number), self.index(number))

    def _forget(self, key: int) -> None:
        row = self._rows.pop(key)
        if row.shares is not None:
            self._last_shares[key] = row.shares

    def row_of(self, key: int) -> int:
        """Where an item stands; -1 where it is not shown."""
        return next((number for number, place in enumerate(self._places) if place.key == key), -1)

    def key_at(self, number: int) -> int | None:
        """The id of a row."""
        return self._places[number].key if 0 <= number < len(self._places) else None

    def book_row(self, number: int) -> BookRow | None:
        """What a row says."""
        if not 0 <= number < len(self._places):
            return None
        place = self._places[number]
        row = self._rows.get(place.key)
        if self._fill is not None and (row is None or row.depth != place.depth):
            row = self._fill(place)
            if row is not None:
                self._rows[place.key] = row
        return row

    def shares_of(self, row: BookRow) -> tuple[float, float, float] | None:
        """What a part is made of, or was when it was last known."""
        return row.shares if row.shares is not None else self._last_shares.get(row.key)

    def rowCount(self, parent: Index = NO_INDEX) -> int:
        return 0 if parent.isValid() else len(self._places)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self.book_row(index.row()) if index.isValid() else None
        if row is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return row.name
        if role == Qt.ItemDataRole.EditRole:
            return row.full_name
        if role == ROW_ROLE:
            return row
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return row.spoken or row.full_name
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return row.tip
        return None

    def match(
        self,
        start: Index,
        role: int,
        value: Any,
        hits: int = 1,
        flags: Qt.MatchFlag = Qt.MatchFlag.MatchStartsWith,
    ) -> list[QModelIndex]:
        """Finds the next name that begins with what was typed, without making the rows in between."""
        if self._name is None or role != Qt.ItemDataRole.DisplayRole:
            return super().match(start, role, value, hits, flags)
        typed, count = str(value).casefold(), len(self._places)
        for step in range(count):
            number = (start.row() + step) % count
            if self._name(self._places[number].key).casefold().startswith(typed):
                return [self.index(number)]
        return []

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        row = self.book_row(index.row())
        if row is None or role != Qt.ItemDataRole.EditRole:
            return False
        if str(value).strip() != row.full_name:
            self.renamed.emit(row.key, str(value))
        return True

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        return flags if self.is_read_only or not index.isValid() else flags | Qt.ItemFlag.ItemIsEditable


def _common(one: Sequence[Any], other: Sequence[Any]) -> int:
    """How many rows from the start are the same."""
    count = 0
    for a, b in zip(one, other, strict=False):
        if a.key != b.key or a.depth != b.depth:
            break
        count += 1
    return count
