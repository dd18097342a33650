"""The build as a tree of rows for the view. It is never reset on an edit: rows are put in, taken out, moved, repainted."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import replace
from html import escape
from itertools import islice
from typing import Any

from PySide6.QtCore import (
    QAbstractItemModel,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)

from washline.presentation.build_rows import NEW_LINE_ROW, BuildRow, Key, Listed, RowMaker, RowMemory, UsersOf
from washline.presentation.pour_view import AS_TYPED, PourUnit, pour_view
from washline.presentation.row_words import RowKind
from washline.presentation.step_details import PORTION
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.build.columns import (
    AMOUNT,
    COLUMN_COUNT,
    COST,
    FIGURE_WORDS,
    FIRST_FIGURE,
    HEAD_TIPS,
    HEADS,
    IN_BOTTLE,
    MASS,
    NAME,
    ROWS_MIME,
    UNIT,
)
from washline.ui.build.drafts import Draft
from washline.ui.build.names import NEW_LINE_WORDS
from washline.ui.build.nodes import NewLine, Node, Shown, differences, joined, made
from washline.ui.build.row_differences import (
    accessible_text,
    figure_tip,
    runs,
)
from washline.ui.session import View

Index = QModelIndex | QPersistentModelIndex
_NO_INDEX = QModelIndex()
_ROOT = 0

NEW_LINE_KEY: Key = (NEW_LINE_ROW,)
MOST_SPANS = 4
"""More different runs of columns than this are told as one block of contributions: a signal costs more than a cell."""


class BuildTreeModel(QAbstractItemModel):
    """Rows of the build that is shown, by integer ids that stay with a row for as long as the model lives.

    The model shows what the session computed and changes nothing itself. ``dropped`` is emitted when rows or text were
    dropped on it, with the mime data, the key of the parent and the row.
    """

    dropped = Signal(object, object, int)

    def __init__(
        self, users_of: UsersOf, style: NumberStyle = ENGLISH_STYLE, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._users_of = users_of
        self._style = style
        self._ids: dict[Key, int] = {}
        self._nodes: dict[int, Node] = {}
        self._top: list[int] = []
        self._view: View | None = None
        self._maker: RowMaker | None = None
        self._opened: set[Key] = set()
        self._opened_parts: set[Key] = set()
        self.drafts: dict[tuple[Key, int], Draft] = {}
        self._new_line = NewLine()
        self._is_read_only = False
        self._currency = ""
        self._is_part = False
        self._kept_steps: frozenset[int] = frozenset()
        self._last_id = 0
        self.shows_new_rows = False
        self.places_on_screen: Callable[[], range] | None = None
        """Gives the places of the rows on the screen, counted over all that are listed; without it all are."""
        self._memory = RowMemory()
        self.pour = AS_TYPED
        self._taken: list[tuple[Node, Shown]] = []

    # What is shown

    @property
    def view(self) -> View | None:
        """What the rows were made from."""
        return self._view

    @property
    def is_read_only(self) -> bool:
        """Whether nothing can be typed."""
        return self._is_read_only

    @is_read_only.setter
    def is_read_only(self, is_read_only: bool) -> None:
        self._is_read_only = is_read_only

    @property
    def new_line(self) -> NewLine:
        """The state of the line for adding."""
        return self._new_line

    def set_new_line(self, new_line: NewLine) -> None:
        """Moves the line for adding, or says what is known of it."""
        self._new_line = new_line
        if self._view is not None:
            self._set_children(_ROOT, self._top_rows())
            self._tell()
            node = self._nodes[self._ids[NEW_LINE_KEY]]
            self._emit_row(node, NAME, COST)

    def show(self, view: View | None) -> None:
        """Takes over what the session computed. Another build empties the tree first; the same one changes row by row."""
        last = self._view
        if last is not None and (view is None or view.build.id != last.build.id):
            self._clear()
        self._view = view
        if view is None:
            return
        is_same = last is not None and view.trace is last.trace and view.is_preview == last.is_preview
        if is_same and self._maker is not None:
            return
        is_other = last is None or last.build.id != view.build.id
        # While a build is shown a part stays what it was: who types 3 must not read 1.
        if is_other or self.pour.unit is not PourUnit.PARTS:
            pour = pour_view(self.pour.unit, view.build, view.book)
            self._maker = self._maker if pour == self.pour else None
            self.pour = pour
        if not view.is_preview:
            self._kept_steps = frozenset(step.id for step in view.build.steps)
        if self._maker is None or last is None or view.book is not last.book:
            self._maker = RowMaker(view.book, self._users_of, self._style, self._memory, self.pour)
        self._set_children(_ROOT, self._top_rows())
        for key in sorted(self._opened, key=len):
            self._refresh(key)
        self._tell()

    def set_pour_unit(self, unit: PourUnit) -> None:
        """Shows poured lines as typed, in ml, ounces or parts; one part is found when they are chosen."""
        self.pour = replace(self.pour, unit=unit)
        if (view := self._view) is not None:
            self.pour, self._maker = pour_view(unit, view.build, view.book), None
            self.show(view)

    def _clear(self) -> None:
        if self._top:
            self.beginRemoveRows(_NO_INDEX, 0, len(self._top) - 1)
            self._top = []
            self._nodes = {}
            self.endRemoveRows()
        # An id must never mean another row, so they are counted on.
        self._ids = {}
        self._opened.clear()
        self.drafts = {}
        self._new_line = NewLine()
        self._maker = None
        self._memory.clear()

    # Opened parts

    def open(self, index: Index) -> None:
        """Lists the rows of a house-made part, and keeps them up to date."""
        node = self.node(index)
        if node is not None and node.row.opens and node.key not in self._opened:
            self._opened.add(node.key)
            if node.row.can_open:
                self._opened_parts.add(node.key)
            else:
                self._opened_parts.discard(node.key)
            self._refresh(node.key)
            self._tell()

    def close(self, index: Index) -> None:
        """Takes the rows of a closed part out, with all below them."""
        node = self.node(index)
        if node is None:
            return
        depth = len(node.key)
        self._opened = {key for key in self._opened if key[:depth] != node.key}
        self._set_children(node.id, ())

    def _refresh(self, key: Key) -> None:
        node = self._nodes.get(self._ids.get(key, -1))
        if node is None or self._maker is None or self._view is None:
            self._opened.discard(key)
            return
        # Another item in the line is not what was opened.
        if not node.row.opens or node.row.can_open != (key in self._opened_parts):
            self._opened.discard(key)
            self._set_children(node.id, ())
            return
        if node.row.can_open:
            self._set_children(node.id, self._maker.listed(self._view.trace, key))
        else:
            self._set_children(node.id, map(made, self._maker.details(self._view.trace, key)))

    # Rows

    def _top_rows(self) -> tuple[Listed, ...]:
        assert self._view is not None
        assert self._maker is not None
        rows = list(self._maker.listed(self._view.trace))
        pending: Listed | None = None
        if self._view.is_preview and not self.shows_new_rows:
            kept = self._kept_steps
            pending = next((row for row in rows if row.is_step and row.step_id not in kept), None)
            rows = [row for row in rows if row.step_id is None or row.step_id in kept]
        if not self._is_read_only:
            new_line = self._new_line_row(None if pending is None else pending.row)
            rows.insert(self._new_line_place(rows), made(new_line))
        return tuple(rows)

    def _new_line_place(self, rows: list[Listed]) -> int:
        after = self._new_line.after
        places = [place for place, row in enumerate(rows) if row.step_id == after and after is not None]
        return places[-1] + 1 if places else len(rows) - 1

    def _new_line_row(self, pending: BuildRow | None) -> BuildRow:
        assert self._view is not None
        build = self._view.build
        line = self._new_line
        if pending is not None:
            return replace(
                pending,
                key=NEW_LINE_KEY,
                step_id=None,
                kind=RowKind.NEW_LINE,
                can_open=False,
                has_details=False,
            )
        item = self._view.book.item(line.item_id) if line.item_id is not None else None
        name = item.name if item is not None else line.name
        words = NEW_LINE_WORDS.get(line.kind, "Add a line")
        return BuildRow(
            key=NEW_LINE_KEY,
            build_id=build.id,
            step_id=None,
            item_id=line.item_id,
            kind=RowKind.NEW_LINE,
            name=name or words,
            note="how much?" if item is not None else "",
        )

    def _set_children(self, parent: int, rows: Iterable[Listed]) -> None:
        """Brings the rows under a parent to ``rows`` with the fewest signals that Qt understands; ``_tell`` says after that
        what looks different."""
        rows = tuple(rows)
        wanted = {row.key for row in rows}
        ids = self._children(parent)
        for place in range(len(ids) - 1, -1, -1):
            if self._nodes[ids[place]].key not in wanted:
                self._remove(parent, place)
        for place, row in enumerate(rows):
            ids = self._children(parent)
            node_id = self._ids.get(row.key)
            if node_id is None or node_id not in self._nodes:
                self._insert(parent, place, row)
                continue
            if ids[place] != node_id:
                self._move(parent, ids.index(node_id), place)
            node = self._nodes[node_id]
            self._taken.append((node, node.shown))
            node.shown = self._shown(row, node.shown.kept_listed)

    def _children(self, parent: int) -> list[int]:
        return self._top if parent == _ROOT else self._nodes[parent].children

    def _parent_index(self, parent: int) -> QModelIndex:
        return _NO_INDEX if parent == _ROOT else self._index_of(self._nodes[parent], NAME)

    def _shown(self, row: Listed, kept: Listed | None) -> Shown:
        is_preview = self._view is not None and self._view.is_preview
        return Shown(row, kept if is_preview else row)

    def _insert(self, parent: int, place: int, row: Listed) -> None:
        self.beginInsertRows(self._parent_index(parent), place, place)
        self._last_id += 1
        node = Node(self._last_id, parent, self._shown(row, None))
        self._ids[row.key] = node.id
        self._nodes[node.id] = node
        self._children(parent).insert(place, node.id)
        self.endInsertRows()

    def _remove(self, parent: int, place: int) -> None:
        self.beginRemoveRows(self._parent_index(parent), place, place)
        node_id = self._children(parent).pop(place)
        self._forget(node_id)
        self.endRemoveRows()

    def _forget(self, node_id: int) -> None:
        node = self._nodes.pop(node_id)
        self._ids.pop(node.key, None)
        self._opened.discard(node.key)
        for child in node.children:
            self._forget(child)

    def _move(self, parent: int, at: int, place: int) -> None:
        index = self._parent_index(parent)
        # Qt counts the destination before the row is taken out.
        if self.beginMoveRows(index, at, at, index, place if place < at else place + 1):
            ids = self._children(parent)
            ids.insert(place, ids.pop(at))
            self.endMoveRows()

    def _tell(self) -> None:
        """Says of the rows on the screen what looks different; the others are painted when they come there."""
        on_screen = self._on_screen()
        changed: dict[int, list[tuple[int, int, int]]] = {}
        for node, before in self._taken:
            if node.id in on_screen:
                changed.setdefault(node.parent, []).extend(differences(node, before))
        self._taken.clear()
        for parent, spans in changed.items():
            self._emit(parent, spans)

    def _on_screen(self) -> Collection[int]:
        if self.places_on_screen is None:
            return self._nodes
        places = self.places_on_screen()
        return {node.id for node in islice(self._nodes_below(self._top), places.start, places.stop)}

    def _emit(self, parent: int, changed: list[tuple[int, int, int]]) -> None:
        """Rows one under the other whose same columns changed go in one signal."""
        places = {node_id: place for place, node_id in enumerate(self._children(parent))}
        spans: dict[tuple[int, int], list[int]] = {}
        for node_id, first, last in changed:
            spans.setdefault((first, last), []).append(places[node_id])
        ids = self._children(parent)
        if len(spans) > MOST_SPANS:
            spans = joined(spans)
        for (first, last), rows in spans.items():
            for top, bottom in runs(sorted(rows)):
                self.dataChanged.emit(
                    self.createIndex(top, first, ids[top]), self.createIndex(bottom, last, ids[bottom])
                )

    def _emit_row(self, node: Node, first: int, last: int) -> None:
        self.dataChanged.emit(self._index_of(node, first), self._index_of(node, last))

    # Drafts

    def draft(self, index: Index) -> Draft | None:
        """The text in a cell that was not understood."""
        node = self.node(index)
        return self.drafts.get((node.key, index.column())) if node is not None else None

    def set_draft(self, index: Index, draft: Draft | None) -> None:
        """Keeps a text that was not understood in its cell, or lets it go."""
        node = self.node(index)
        if node is None:
            return
        place = (node.key, index.column())
        if draft is None:
            self.drafts.pop(place, None)
        else:
            self.drafts[place] = draft
        self._emit_row(node, NAME, COST)

    # Finding rows

    def node(self, index: Index) -> Node | None:
        """The row behind an index."""
        return self._nodes.get(index.internalId()) if index.isValid() else None

    def row_at(self, index: Index) -> BuildRow | None:
        """The row data behind an index."""
        node = self.node(index)
        return node.row if node is not None else None

    def index_of(self, key: Key, column: int = NAME) -> QModelIndex:
        """The index of the row with a key; invalid where it is not listed."""
        node = self._nodes.get(self._ids.get(key, -1))
        return self._index_of(node, column) if node is not None else QModelIndex()

    def index_with_id(self, node_id: int | None) -> QModelIndex:
        """The index of the row with an id; invalid where it is no more."""
        node = self._nodes.get(node_id) if node_id is not None else None
        return self._index_of(node, NAME) if node is not None else QModelIndex()

    def _index_of(self, node: Node, column: int) -> QModelIndex:
        return self.createIndex(self._children(node.parent).index(node.id), column, node.id)

    def rows(self) -> Iterable[BuildRow]:
        """All rows that are listed, from top to bottom."""
        return (node.row for node in self._nodes_below(self._top))

    def _nodes_below(self, ids: Iterable[int]) -> Iterator[Node]:
        for node_id in ids:
            node = self._nodes[node_id]
            yield node
            yield from self._nodes_below(node.children)

    @property
    def opened(self) -> frozenset[Key]:
        """The keys of the lines whose part is open."""
        return frozenset(self._opened)

    # Qt's model

    def index(self, row: int, column: int, parent: Index = _NO_INDEX) -> QModelIndex:
        if not 0 <= column < COLUMN_COUNT or (parent.isValid() and parent.column() != NAME):
            return QModelIndex()
        node = self.node(parent)
        ids = node.children if node is not None else self._top
        if parent.isValid() and node is None:
            return QModelIndex()
        return self.createIndex(row, column, ids[row]) if 0 <= row < len(ids) else QModelIndex()

    def sibling(self, row: int, column: int, idx: Index) -> QModelIndex:
        """Asked for at every turn by the view: another cell of the same row is found without its parent."""
        if row == idx.row() and 0 <= column < COLUMN_COUNT and idx.internalId() in self._nodes:
            return self.createIndex(row, column, idx.internalId())
        return self.index(row, column, self.parent(idx))

    def parent(self, child: Index = _NO_INDEX) -> Any:
        """The row that a row hangs on; Qt's own parent object where no index is given."""
        node = self.node(child)
        if node is None or node.parent == _ROOT:
            return QModelIndex()
        return self._index_of(self._nodes[node.parent], NAME)

    def rowCount(self, parent: Index = _NO_INDEX) -> int:
        if not parent.isValid():
            return len(self._top)
        node = self.node(parent)
        return len(node.children) if node is not None and parent.column() == NAME else 0

    def columnCount(self, parent: Index = _NO_INDEX) -> int:
        return COLUMN_COUNT

    def hasChildren(self, parent: Index = _NO_INDEX) -> bool:
        if not parent.isValid():
            return bool(self._top)
        node = self.node(parent)
        return node is not None and parent.column() == NAME and bool(node.children)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        node = self.node(index)
        if node is None:
            return None
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return self._display(node, index.column())
            case Qt.ItemDataRole.EditRole:
                draft = self.drafts.get((node.key, index.column()))
                return draft.text if draft is not None else self._edit_text(node, index.column())
            case Qt.ItemDataRole.ToolTipRole:
                return self._tip(node, index.column())
            case Qt.ItemDataRole.AccessibleTextRole:
                return accessible_text(node.row, index.column())
            case Qt.ItemDataRole.AccessibleDescriptionRole:
                return self._description(node, index.column())
        return None

    def _display(self, node: Node, column: int) -> str:
        row = node.row
        if column == NAME:
            return row.name
        if column == AMOUNT:
            return row.amount
        if column == UNIT:
            return row.unit
        return row.figures[column - FIRST_FIGURE].text if row.figures else ""

    def _edit_text(self, node: Node, column: int) -> str:
        if column == AMOUNT:
            return node.row.edit_text
        if node.row.kind is RowKind.NEW_LINE:
            return self._new_line.name
        return node.row.name_text if column == NAME else ""

    def _tip(self, node: Node, column: int) -> str:
        row = node.row
        lines = [draft.expected for (key, _), draft in self.drafts.items() if key == row.key]
        lines += [row.problem] if row.problem else []
        if column == NAME:
            lines += [f"{row.name}, {row.note}" if row.note else row.name]
            lines += [
                f"{FIGURE_WORDS[place]}: {figure.text}"
                for place, figure in enumerate(row.figures)
                if figure.text
            ]
        elif column >= FIRST_FIGURE and row.figures and row.figures[column - FIRST_FIGURE].text:
            lines.append(figure_tip(row.figures[column - FIRST_FIGURE], column - FIRST_FIGURE))
        return "<br>".join(escape(line) for line in lines)

    def _description(self, node: Node, column: int) -> str:
        draft = self.drafts.get((node.key, column))
        if draft is not None:
            return f"not understood: {draft.text}. {draft.expected}"
        if node.row.problem:
            return node.row.problem
        if column >= FIRST_FIGURE and node.row.figures:
            return figure_tip(node.row.figures[column - FIRST_FIGURE], column - FIRST_FIGURE)
        return "left out, counted as nothing" if node.row.is_left_out else ""

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < COLUMN_COUNT:
            return None
        head = IN_BOTTLE if section == MASS and self._is_part else HEADS[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return f"cost, {self._currency}" if section == COST and self._currency else head
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return head or "unit"
        if role == Qt.ItemDataRole.ToolTipRole:
            return HEAD_TIPS[section]
        return None

    def set_currency(self, sign: str) -> None:
        """What stands in the heading of the cost."""
        if sign != self._currency:
            self._currency = sign
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, COST, COST)

    def set_part(self, is_part: bool) -> None:
        """Whether the lines end in a bottle and not in a glass."""
        if is_part != self._is_part:
            self._is_part = is_part
            self.headerDataChanged.emit(Qt.Orientation.Horizontal, MASS, MASS)

    def flags(self, index: Index) -> Qt.ItemFlag:
        node = self.node(index)
        if node is None:
            return Qt.ItemFlag.ItemIsDropEnabled
        flags = Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsEnabled
        if not node.children and not node.row.opens:
            flags |= Qt.ItemFlag.ItemNeverHasChildren
        if self.is_editable(index):
            flags |= Qt.ItemFlag.ItemIsEditable
        if node.row.is_step and not self._is_read_only:
            flags |= Qt.ItemFlag.ItemIsDragEnabled
        return flags

    def is_editable(self, index: Index) -> bool:
        """Whether a cell can be typed in."""
        node = self.node(index)
        if node is None or self._is_read_only:
            return False
        row = node.row
        if index.column() == NAME and row.detail is not None:
            return row.detail.key == PORTION
        if index.column() == NAME:
            return row.kind not in (RowKind.SERVED, RowKind.BOTTLE)
        if index.column() == AMOUNT:
            is_named = row.kind is not RowKind.NEW_LINE or row.item_id is not None
            return row.has_amount and is_named
        return False

    # Drag and drop

    def supportedDropActions(self) -> Qt.DropAction:
        return Qt.DropAction.MoveAction | Qt.DropAction.CopyAction

    def mimeTypes(self) -> list[str]:
        return [ROWS_MIME, "text/plain"]

    def canDropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        return not self._is_read_only and (data.hasFormat(ROWS_MIME) or data.hasText())

    def dropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        node = self.node(parent)
        place = row if row >= 0 else self.rowCount(parent)
        self.dropped.emit(data, node.key if node is not None else (), place)
        # True would make the view take the dragged rows out once more.
        return False
