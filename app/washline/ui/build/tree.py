"""Dragging rows and dropping them, on top of the tree of the build."""

from typing import Any

from PySide6.QtCore import QMimeData, QModelIndex, QPersistentModelIndex, QPoint, Qt, Signal, Slot
from PySide6.QtGui import (
    QDrag,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QPainter,
    QPixmap,
)
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QWidget

from washline.presentation.build_rows import Key
from washline.presentation.row_words import RowKind
from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, NAME, ROWS_MIME
from washline.ui.build.editors import AmountEditor
from washline.ui.build.model import NEW_LINE_KEY
from washline.ui.build.view import BuildTreeView, Index


class BuildTree(BuildTreeView):
    """The tree with drag and drop: a line shows between which rows something goes, and nothing drops on a row.

    ``dropped`` carries the data, the key of the rows' parent, the place among its rows, and whether they are its own
    rows; ``drag_asked`` that a drag of the selected rows begins; ``stepped`` that an arrow key steps a field.
    """

    dropped = Signal(object, object, int, bool)
    drag_asked = Signal()
    stepped = Signal(object, int)

    def __init__(self, *arguments: object) -> None:
        super().__init__(*arguments)  # type: ignore[arg-type]
        self._drop: tuple[Key, int, int] | None = None
        self.copies_on_drop = False

    def make_editor(self, parent: QWidget, index: Index) -> QLineEdit:
        editor = super().make_editor(parent, index)
        if isinstance(editor, AmountEditor):
            editor.step_asked.connect(self._step)
        return editor

    @Slot(int)
    def _step(self, presses: int) -> None:
        if self._editor is not None:
            self.stepped.emit(self._editor, presses)

    def refresh_field(self) -> None:
        """Keeps the field and the words beneath it in their places after rows have moved."""
        if self._editor is not None and self._edited.isValid():
            self.place_editor(self._editor, self._edited)

    def startDrag(self, supportedActions: Qt.DropAction) -> None:
        self._pressed_mark = QPersistentModelIndex()
        self.drag_asked.emit()

    def run_drag(self, mime: QMimeData, count: int) -> None:
        """Drags the selected rows until they are dropped. The rows are moved by whoever hears ``dropped``: the default
        would take them out once more."""
        drag = QDrag(self)
        drag.setMimeData(mime)
        drag.setPixmap(self._drag_picture(count))
        drag.setHotSpot(QPoint(12, self.row_height // 2))
        drag.exec(Qt.DropAction.MoveAction | Qt.DropAction.CopyAction, Qt.DropAction.MoveAction)
        self._show_drop(None)

    def _drag_picture(self, count: int) -> QPixmap:
        row = self.current_row()
        name = row.name if row is not None and count == 1 else f"{count} steps"
        look = self._look
        width = round(min(look.fonts.width(look.fonts.row, name) + look.px(24), look.px(280)))
        ratio = self.devicePixelRatioF()
        pixmap = QPixmap(round(width * ratio), round(self.row_height * ratio))
        pixmap.setDevicePixelRatio(ratio)
        pixmap.fill(look.theme.raised)
        painter = QPainter(pixmap)
        painter.setPen(look.theme.edge)
        painter.drawRect(0, 0, width - 1, self.row_height - 1)
        painter.setPen(look.theme.ink)
        painter.setFont(look.fonts.row)
        box = pixmap.rect().adjusted(round(look.px(10)), 0, 0, 0)
        painter.drawText(box.x(), 0, width, self.row_height, Qt.AlignmentFlag.AlignVCenter, name)
        painter.end()
        return pixmap

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self._accepts(event.mimeData()):
            event.acceptProposedAction()
            self.setState(QAbstractItemView.State.DraggingState)
        else:
            event.ignore()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        # The default scrolls at the edges and opens what is hovered over.
        super().dragMoveEvent(event)
        place = self._place_at(event.position().toPoint())
        is_own = event.source() is self
        row = self.current_row()
        if is_own and place is not None and row is not None and place[0] != row.key[:-1]:
            place = None
        self._show_drop(place)
        if place is None or not self._accepts(event.mimeData()):
            event.ignore()
            return
        copies = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        event.setDropAction(Qt.DropAction.CopyAction if copies or not is_own else Qt.DropAction.MoveAction)
        event.accept()

    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        super().dragLeaveEvent(event)
        self._show_drop(None)

    def dropEvent(self, event: QDropEvent) -> None:
        place = self._place_at(event.position().toPoint())
        self._show_drop(None)
        self.stopAutoScroll()
        self.setState(QAbstractItemView.State.NoState)
        if place is None or not self._accepts(event.mimeData()):
            event.ignore()
            return
        is_own = event.source() is self
        self.copies_on_drop = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        event.setDropAction(Qt.DropAction.CopyAction if self.copies_on_drop else Qt.DropAction.MoveAction)
        event.accept()
        self.dropped.emit(event.mimeData(), place[0], place[1], is_own)

    def stopAutoScroll(self) -> None:
        """Ends the scrolling at the edges."""
        self.setAutoScroll(False)
        self.setAutoScroll(True)

    def _accepts(self, mime: QMimeData) -> bool:
        return not self._rows_model.is_read_only and (mime.hasFormat(ROWS_MIME) or mime.hasText())

    def _place_at(self, point: QPoint) -> tuple[Key, int, int] | None:
        """Between which rows a drop at a point goes: the parent's key, the place, and where the line stands."""
        index = self.indexAt(point).siblingAtColumn(NAME)
        if not index.isValid():
            return self._last_place()
        row = self._rows_model.row_at(index)
        if row is not None and row.detail is not None:
            # Between the details of a step nothing can stand: it goes behind them.
            index = index.parent()
            row = self._rows_model.row_at(index)
            point = QPoint(point.x(), self.visualRect(index).bottom())
        if row is None:
            return None
        rect = self.visualRect(index)
        parent_row = self._rows_model.row_at(index.parent())
        parent = parent_row.key if parent_row is not None else ()
        is_foot = row.kind in (RowKind.SERVED, RowKind.BOTTLE, RowKind.NEW_LINE)
        is_above = is_foot or point.y() < rect.center().y()
        if is_above and row.kind is not RowKind.LEFTOVER:
            return parent, index.row(), rect.top()
        bottom = rect.bottom() + 1
        if self.isExpanded(index) and row.opens:
            bottom = self._bottom_of(index)
        following = self._rows_model.row_at(index.siblingAtRow(index.row() + 1))
        place = index.row() + (2 if following is not None and following.kind is RowKind.LEFTOVER else 1)
        return parent, place, bottom

    def _bottom_of(self, index: QModelIndex) -> int:
        last = index
        while self.isExpanded(last) and self._rows_model.rowCount(last):
            last = self._rows_model.index(self._rows_model.rowCount(last) - 1, NAME, last)
        return self.visualRect(last).bottom() + 1

    def _last_place(self) -> tuple[Key, int, int] | None:
        count = self._rows_model.rowCount()
        if not count:
            return None
        foot = self._rows_model.index(count - 1, NAME)
        return (), count - 1, self.visualRect(foot).top()

    def _show_drop(self, place: tuple[Key, int, int] | None) -> None:
        if place != self._drop:
            self._drop = place
            self.viewport().update()

    def paint_over(self) -> None:
        """The line at which a drop goes in."""
        if self._drop is None:
            return
        parent, _, y = self._drop
        painter = QPainter(self.viewport())
        left = self._look.px(22 + 26 * len(parent))
        width = max(1.0, self._look.px(2))
        painter.fillRect(
            round(left),
            round(y - width / 2),
            self.viewport().width() - round(left),
            round(width),
            self._look.theme.focus,
        )
        painter.fillRect(round(left - 3), round(y - 4), 7, 8, self._look.theme.focus)
        painter.end()

    def top_place(self) -> tuple[Key, int] | None:
        """The first row that is shown, and how far its top is above the edge."""
        index = self.indexAt(QPoint(2, 1))
        row = self._rows_model.row_at(index)
        return (row.key, self.visualRect(index).top()) if row is not None else None

    def keep_place(self, place: tuple[Key, int] | None) -> None:
        """Scrolls so that a row is where it was."""
        if place is None:
            return
        index = self._rows_model.index_of(place[0])
        if index.isValid():
            bar = self.verticalScrollBar()
            moved = self.visualRect(index).top() - place[1]
            if moved:
                bar.setValue(bar.value() + moved)

    def place_state(self) -> dict[str, Any]:
        """Open branches, current cell and scroll of the build that is shown, for JSON."""
        row, top = self.current_row(), self.top_place()
        return {
            "open": [list(key) for key in sorted(self._rows_model.opened)],
            "current": list(row.key) if row is not None else None,
            "column": self.currentIndex().column(),
            "top": list(top[0]) if top is not None else None,
            "offset": top[1] if top is not None else 0,
        }

    def restore_place(self, state: dict[str, Any]) -> None:
        """Takes back what ``place_state`` gave; rows that are gone are passed over."""
        for entry in sorted(state.get("open") or [], key=len):
            key = tuple(entry)
            index = self._rows_model.index_of(key)
            if index.isValid():
                self._rows_model.open(index)
                self.setExpanded(index, True)
        current = state.get("current")
        column = state.get("column")
        if isinstance(current, list):
            self.go_to(
                tuple(current), column if isinstance(column, int) and 0 <= column < COLUMN_COUNT else AMOUNT
            )
        if isinstance(state.get("top"), list):
            self.keep_place((tuple(state["top"]), int(state.get("offset") or 0)))

    def new_line_index(self, column: int = NAME) -> QModelIndex:
        """The line for adding."""
        return self._rows_model.index_of(NEW_LINE_KEY, column)
