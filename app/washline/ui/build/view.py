"""The tree of the build: paints whole rows, opens fields on a key press, and moves about by keys as a sheet does."""

import sys
from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QEvent,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    QRectF,
    Qt,
    QTimer,
    Signal,
    Slot,
)
from PySide6.QtGui import (
    QAccessible,
    QContextMenuEvent,
    QFocusEvent,
    QInputMethodEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QRegion,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QApplication,
    QFrame,
    QLineEdit,
    QStyleOptionViewItem,
    QTreeView,
    QWidget,
)

from washline.presentation.build_rows import BuildRow, Key
from washline.presentation.row_words import RowKind
from washline.ui.build.cell_walk import editable_from, open_way, selected_rows, shown_column
from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, FIRST_FIGURE, NAME, UNIT
from washline.ui.build.delegate import BuildDelegate
from washline.ui.build.editors import AmountEditor, Bubble, CellEditor, ChoiceEditor, NameEditor, Proposal
from washline.ui.build.header import BuildHeader
from washline.ui.build.look import Columns, Look, column_widths
from washline.ui.build.model import BuildTreeModel
from washline.ui.build.row_painter import RowPainter, RowState

Index = QModelIndex | QPersistentModelIndex
_EndEdit = QAbstractItemDelegate.EndEditHint


class BuildTreeView(QTreeView):
    """The build as a tree that is edited in place.

    It knows rows, cells and fields, and nothing of the house book: what is typed goes out by ``typed``, ``committed``
    and ``reverted`` (field and index), proposals are asked of ``propose``, the menu of ``menu_asked``.
    """

    typed = Signal(object, object)
    committed = Signal(object, object)
    reverted = Signal(object)
    closed = Signal(object, object)
    menu_asked = Signal(QPoint)
    row_opened = Signal(object)
    editing_changed = Signal(bool)
    lines_pasted = Signal()

    def __init__(self, look: Look, model: BuildTreeModel, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._painter = RowPainter(look)
        self._rows_model = model
        self._region = QRegion()
        self._hovered: int | None = None
        self._chosen: frozenset[int] = frozenset()
        self._draft_columns: dict[Key, int] = {}
        self._editor: CellEditor | None = None
        self._edited = QPersistentModelIndex()
        self._pressed_mark = QPersistentModelIndex()
        self._columns = Columns((0.0,) * COLUMN_COUNT, (0.0,) * COLUMN_COUNT)
        self.propose: Any = None
        self.commit_went_well = True
        self.setHeader(BuildHeader(look, self))
        self.setModel(model)
        model.places_on_screen = self.places_on_screen
        self._delegate = BuildDelegate(self, self)
        self.setItemDelegate(self._delegate)
        self._delegate.committed.connect(self.committed)
        self._set_up()
        self.bubble = Bubble(look, self.viewport())
        self.expanded.connect(self._listen_expanded)
        self.collapsed.connect(self._listen_collapsed)

    def _set_up(self) -> None:
        self.setAccessibleName("Build")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setIndentation(0)
        self.setRootIsDecorated(False)
        self.setUniformRowHeights(True)
        self.setAllColumnsShowFocus(False)
        self.setExpandsOnDoubleClick(False)
        self.setAnimated(False)
        self.setMouseTracking(True)
        self.setAutoExpandDelay(700)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.AnyKeyPressed | triggers.EditKeyPressed)
        self.setDragEnabled(True)
        self.setAcceptDrops(True)
        self.setDropIndicatorShown(False)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragDrop)
        self.setDefaultDropAction(Qt.DropAction.MoveAction)
        self.setDragDropOverwriteMode(False)

    # Look

    @property
    def look(self) -> Look:
        """What it is painted with."""
        return self._look

    def set_look(self, look: Look) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        self._painter = RowPainter(look)
        header = self.header()
        assert isinstance(header, BuildHeader)
        header.set_look(look)
        self.bubble.deleteLater()
        self.bubble = Bubble(look, self.viewport())
        self._lay_out_columns()
        self.scheduleDelayedItemsLayout()
        self.viewport().update()

    @property
    def row_height(self) -> int:
        """The height of every row."""
        return round(self._look.measures.build_row)

    @property
    def columns(self) -> Columns:
        """Where the columns stand."""
        return self._columns

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out_columns()

    def _lay_out_columns(self) -> None:
        widths = column_widths(self.viewport().width(), self._look.unit)
        header = self.header()
        for column, width in enumerate(widths):
            header.setSectionHidden(column, width == 0)
            if width:
                header.resizeSection(column, width)
        lefts, left = [], 0.0
        for width in widths:
            lefts.append(left)
            left += width
        rights = [left + width for left, width in zip(lefts, widths, strict=True)]
        self._columns = Columns(tuple(lefts), tuple(rights))
        if self._editor is not None:
            self.place_editor(self._editor, self._edited)

    # Painting

    def dataChanged(self, topLeft: Index, bottomRight: Index, roles: Sequence[int] = ()) -> None:
        """Contributions have no field and all rows are of one height: they are painted anew, and the rows between the first
        and the last are not asked for one by one."""
        if topLeft.column() < FIRST_FIGURE or QAccessible.isActive():
            super().dataChanged(topLeft, bottomRight, list(roles))
            return
        model = self._rows_model
        top = self.visualRect(model.sibling(topLeft.row(), NAME, topLeft)).top()
        bottom = self.visualRect(model.sibling(bottomRight.row(), NAME, bottomRight)).bottom()
        left = int(self._columns.lefts[topLeft.column()])
        self.viewport().update(left, top, self.viewport().width() - left, bottom - top + 1)

    def places_on_screen(self) -> range:
        """The places of the rows on the screen, counted over all that are listed; of all rows where a screen reader may ask
        for them."""
        if QAccessible.isActive():
            return range(sys.maxsize)
        top, height = self.verticalScrollBar().value(), self.row_height
        return range(top // height, (top + self.viewport().height()) // height + 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        self._region = event.region()
        self._chosen = frozenset(one.internalId() for one in self.selectionModel().selectedIndexes())
        self._draft_columns = {key: column for key, column in self._rows_model.drafts}  # noqa: C416 (keys only)
        super().paintEvent(event)
        self.paint_over()

    def paint_over(self) -> None:
        """For what lies over the rows."""

    def drawRow(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        node = self._rows_model.node(index)
        if node is None:
            return
        rect = QRectF(option.rect)
        rect.setLeft(0)
        rect.setWidth(self.viewport().width())
        shown = self._region.intersected(rect.toAlignedRect()).boundingRect()
        state = self._row_state(node.row, index, node.moved)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        self._painter.paint_row(painter, rect, node.row, state, self._columns, QRectF(shown))

    def drawBranches(self, painter: QPainter, rect: QRect, index: Index) -> None:
        """Spines and chevrons are painted with the row."""

    def _row_state(self, row: BuildRow, index: Index, moved: frozenset[int]) -> RowState:
        current = self.currentIndex()
        is_current = current.isValid() and current.internalId() == index.internalId()
        column = self._draft_columns.get(row.key, AMOUNT)
        edited = self._edited.column() if self._editor is not None and self._edited.isValid() else None
        is_edited = edited is not None and self._edited.internalId() == index.internalId()
        return RowState(
            is_current=is_current,
            is_selected=len(self._chosen) > 1 and index.internalId() in self._chosen,
            is_hovered=self._hovered == index.internalId(),
            is_first=index.row() == 0,
            is_open=row.opens and self.isExpanded(index),
            focus_column=current.column() if is_current and self.hasFocus() else None,
            editing_column=edited if is_edited else None,
            moved=moved,
            draft=self._rows_model.drafts.get((row.key, column)),
            draft_column=column,
        )

    def paint_cell(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, column: int
    ) -> None:
        """Paints one cell into ``rect``, for the picture that a drag carries."""
        painter.save()
        painter.translate(rect.left() - self._columns.lefts[column], 0.0)
        whole = QRectF(0.0, rect.top(), self.viewport().width(), rect.height())
        self._painter.paint_cell(painter, whole, row, state, self._columns, column)
        painter.restore()

    # Fields

    @property
    def is_editing(self) -> bool:
        """Whether a field is open."""
        return self._editor is not None

    @property
    def editor(self) -> CellEditor | None:
        """The field that is open."""
        return self._editor

    @property
    def edited_index(self) -> QPersistentModelIndex:
        """The cell whose field is open."""
        return self._edited

    def make_editor(self, parent: QWidget, index: Index) -> QLineEdit:
        """Makes the field for a cell, and tells what is typed in it."""
        row = self._rows_model.row_at(index)
        editor: CellEditor
        if index.column() == AMOUNT and row is not None and row.detail is not None and row.detail.is_wide:
            editor = ChoiceEditor(self._look, self._proposals, parent)
            editor.chosen.connect(self._commit_soon)
        elif index.column() == AMOUNT:
            editor = AmountEditor(self._look, self._columns.rights[AMOUNT] - self._look.px(6), parent)
        else:
            editor = NameEditor(self._look, self._proposals, parent)
            # The popup's own Enter only takes the proposal: commit once it has closed.
            editor.chosen.connect(self._commit_soon)
        if row is not None:
            editor.setAccessibleDescription(row.name)
        editor.has_error = self._rows_model.draft(index) is not None
        editor.textChanged.connect(self._listen_typed)
        editor.other_asked.connect(self._listen_typed)
        editor.lines_pasted.connect(self._listen_pasted)
        self._editor = editor
        self._edited = QPersistentModelIndex(index)
        editor.destroyed.connect(self._forget_editor)
        self.editing_changed.emit(True)
        QTimer.singleShot(0, editor, self._show_bubble)
        return editor

    def _proposals(self, text: str) -> list[Proposal]:
        return list(self.propose(self._edited, text)) if self.propose is not None else []

    @Slot()
    def _show_bubble(self) -> None:
        if self._editor is not None:
            self.typed.emit(self._editor, self._edited)

    @Slot()
    def _listen_typed(self) -> None:
        if self._editor is not None and self._editor.isModified():
            self._editor.has_error = False
            self.typed.emit(self._editor, self._edited)

    @Slot()
    def _listen_pasted(self) -> None:
        if self._editor is not None and self.is_new_line(self._edited):
            self.closeEditor(self._editor, _EndEdit.RevertModelCache)
            self.lines_pasted.emit()

    @Slot()
    def _forget_editor(self) -> None:
        self.viewport().update()

    @Slot()
    def _commit_soon(self) -> None:
        QTimer.singleShot(0, self, self._commit_chosen)

    @Slot()
    def _commit_chosen(self) -> None:
        editor = self._editor
        if editor is not None:
            self.commitData(editor)
            self.closeEditor(editor, _EndEdit.SubmitModelCache)

    def place_editor(self, editor: QWidget, index: Index) -> None:
        """Puts a field over its cell, on the baseline of the row."""
        row = self._rows_model.row_at(index)
        if row is None:
            return
        rect = QRectF(self.visualRect(self._index(index).siblingAtColumn(NAME)))
        box = self._painter.cell_box(rect, row, self._columns, index.column()).adjusted(0, -1, 0, 2)
        editor.setGeometry(box.toRect())
        if self.bubble.isVisible():
            self.bubble.stand_below(editor)

    def closeEditor(self, editor: QWidget, hint: _EndEdit) -> None:
        if editor is not self._editor:
            super().closeEditor(editor, _EndEdit.NoHint)
            return
        index = QPersistentModelIndex(self._edited)
        self._editor = None
        self.bubble.hide()
        if hint == _EndEdit.RevertModelCache:
            self.reverted.emit(index)
        super().closeEditor(editor, _EndEdit.NoHint)
        self.editing_changed.emit(False)
        self.viewport().update()
        self.closed.emit(index, hint)

    def move_on(self, index: Index, hint: _EndEdit) -> None:
        """After a field: Enter goes to the row below, Tab to the next cell that can be typed in, Shift+Tab back."""
        if hint == _EndEdit.SubmitModelCache:
            below = self.indexBelow(self._index(index).siblingAtColumn(NAME))
            if below.isValid():
                self.setCurrentIndex(below.siblingAtColumn(index.column()))
        elif hint in (_EndEdit.EditNextItem, _EndEdit.EditPreviousItem):
            following = editable_from(
                self, self._rows_model, self._index(index), 1 if hint == _EndEdit.EditNextItem else -1
            )
            if following.isValid():
                self.setCurrentIndex(following)
                self.edit(following)

    def _index(self, index: Index) -> QModelIndex:
        return (
            self._rows_model.index(index.row(), index.column(), index.parent())
            if index.isValid()
            else QModelIndex()
        )

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.is_editing:
            # Return in a field comes through here too, before the field has closed.
            event.ignore()
            return
        index = self.currentIndex()
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        key = Qt.Key(event.key())
        if index.isValid() and held == Qt.KeyboardModifier.NoModifier:
            if key in (Qt.Key.Key_Left, Qt.Key.Key_Right) and self._go_sideways(
                index, key == Qt.Key.Key_Right
            ):
                return
            if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._enter(index)
                return
            if key == Qt.Key.Key_F2:
                self.edit_cell(self._typed_into(index, ""))
                return
        is_text = bool(event.text()) and event.text().isprintable()
        if (
            index.isValid()
            and is_text
            and held in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier)
        ):
            self._type_into(index, event)
            return
        super().keyPressEvent(event)

    def _type_into(self, index: QModelIndex, event: QKeyEvent) -> None:
        cell = self._typed_into(index, event.text())
        if not self._rows_model.is_editable(cell):
            return
        if cell != index:
            self.setCurrentIndex(cell)
        # The tree's own handler would also open and close branches at + - and *.
        self.edit(cell, QAbstractItemView.EditTrigger.AnyKeyPressed, event)

    def _typed_into(self, index: QModelIndex, text: str) -> QModelIndex:
        """The cell that typing goes to: contributions are computed, what is typed there is an amount."""
        if index.column() in (NAME, AMOUNT):
            return index
        return index.siblingAtColumn(AMOUNT)

    def edit_cell(self, index: Index) -> None:
        """Opens the field of a cell, with all of its text selected."""
        target = self._index(index)
        if target.isValid() and self._rows_model.is_editable(target):
            self.setCurrentIndex(target)
            self.scrollTo(target)
            self.edit(target)

    def _enter(self, index: QModelIndex) -> None:
        row = self._rows_model.row_at(index)
        if row is not None and index.column() == NAME and row.can_open:
            self.setExpanded(index, not self.isExpanded(index))
        else:
            self.edit_cell(self._typed_into(index, ""))

    def _go_sideways(self, index: QModelIndex, is_right: bool) -> bool:
        row = self._rows_model.row_at(index)
        if index.column() == NAME and row is not None:
            if is_right and row.can_open and not self.isExpanded(index):
                self.expand(index)
                return True
            if not is_right:
                if row.opens and self.isExpanded(index):
                    self.collapse(index)
                elif index.parent().isValid():
                    self.setCurrentIndex(index.parent().siblingAtColumn(NAME))
                return True
        column = shown_column(self._columns, index.column(), 1 if is_right else -1)
        if column is not None:
            self.setCurrentIndex(index.siblingAtColumn(column))
        return True

    def inputMethodEvent(self, event: QInputMethodEvent) -> None:
        was_editing = self.is_editing
        super().inputMethodEvent(event)
        editor = self._editor
        # A method that commits at once opens the field and loses its text there.
        if event.commitString() and not was_editing and editor is not None:
            editor.selectAll()
            again = QInputMethodEvent()
            again.setCommitString(event.commitString())
            QApplication.sendEvent(editor, again)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self._rows_model.rowCount():
            self.setCurrentIndex(self._rows_model.index(0, AMOUNT))
        self.viewport().update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.viewport().update()

    # Pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        index = self.indexAt(event.position().toPoint()).siblingAtColumn(NAME)
        row = self._rows_model.row_at(index)
        is_left = event.button() == Qt.MouseButton.LeftButton
        self._pressed_mark = QPersistentModelIndex()
        if row is not None and is_left and self._is_on_chevron(event, index, row):
            if row.can_open:
                self.setCurrentIndex(index)
                self.setExpanded(index, not self.isExpanded(index))
                event.accept()
                return
            # A step is dragged by its mark too: its details unfold when the button comes up in the same place.
            self._pressed_mark = QPersistentModelIndex(index)
        super().mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed_mark = self._pressed_mark, QPersistentModelIndex()
        super().mouseReleaseEvent(event)
        index = self._index(pressed)
        row = self._rows_model.row_at(index)
        if row is not None and self._is_on_chevron(event, index, row):
            self.setExpanded(index, not self.isExpanded(index))

    def _is_on_chevron(self, event: QMouseEvent, index: QModelIndex, row: BuildRow) -> bool:
        rect = self.visualRect(index)
        return row.opens and self._painter.chevron_rect(row, rect.top(), rect.height()).contains(
            event.position()
        )

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        index = self.indexAt(event.position().toPoint())
        row = self._rows_model.row_at(index)
        if (
            row is None
            or event.button() != Qt.MouseButton.LeftButton
            or self._is_on_chevron(event, index, row)
        ):
            return
        # A double click does what Return does; on the unit it means the amount.
        self._enter(index.siblingAtColumn(AMOUNT) if index.column() == UNIT else index)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        super().mouseMoveEvent(event)
        index = self.indexAt(event.position().toPoint())
        self._hover(index.internalId() if index.isValid() else None)

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._hover(None)

    def _hover(self, node_id: int | None) -> None:
        if node_id != self._hovered:
            changed = (self._hovered, node_id)
            self._hovered = node_id
            for one in changed:
                index = self._rows_model.index_with_id(one)
                if index.isValid():
                    self._repaint_row(index)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if event.reason() == QContextMenuEvent.Reason.Mouse:
            self.menu_asked.emit(event.globalPos())
            return
        rect = self.visualRect(self.currentIndex())
        self.menu_asked.emit(self.viewport().mapToGlobal(rect.bottomLeft()))

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        # The bar of the current row reaches over all columns, the default repaints two cells.
        for index in (current, previous):
            if index.isValid():
                self._repaint_row(self._index(index).siblingAtColumn(NAME))

    def _repaint_row(self, index: QModelIndex) -> None:
        rect = self.visualRect(index)
        self.viewport().update(0, rect.top() - 1, self.viewport().width(), rect.height() + 2)

    def selectionChanged(self, selected: object, deselected: object) -> None:
        super().selectionChanged(selected, deselected)  # type: ignore[arg-type]
        self.viewport().update()

    # Branches, place and state

    @Slot(QModelIndex)
    def _listen_expanded(self, index: QModelIndex) -> None:
        self._rows_model.open(index)
        self.row_opened.emit(index)
        self.viewport().update()

    @Slot(QModelIndex)
    def _listen_collapsed(self, index: QModelIndex) -> None:
        self._rows_model.close(index)
        self.viewport().update()

    def open_way(self, key: Key) -> None:
        """Opens the parts that lead to a row."""
        open_way(self, self._rows_model, key)

    def go_to(self, key: Key, column: int = AMOUNT) -> bool:
        """Makes a row the current one, opening what it lies in; false where there is no such row."""
        self.open_way(key)
        index = self._rows_model.index_of(key, column)
        if not index.isValid():
            return False
        self.selectionModel().setCurrentIndex(index, QItemSelectionModel.SelectionFlag.ClearAndSelect)
        self.scrollTo(index)
        return True

    def current_row(self) -> BuildRow | None:
        """The row that the keyboard is on."""
        return self._rows_model.row_at(self.currentIndex())

    def selected_rows(self) -> list[BuildRow]:
        """The selected rows from top to bottom; the current one where nothing is selected."""
        return selected_rows(self, self._rows_model)

    def is_new_line(self, index: Index) -> bool:
        """Whether an index is of the line for adding."""
        row = self._rows_model.row_at(index)
        return row is not None and row.kind is RowKind.NEW_LINE
