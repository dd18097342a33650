"""A table of costs: sorted by its heads, typed into, copied, and left towards what a row is about."""

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, Qt, Signal, Slot
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QInputMethodEvent,
    QKeyEvent,
    QKeySequence,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractItemDelegate, QAbstractItemView, QFrame, QTableView, QWidget

from washline.ui.appearance import Appearance
from washline.ui.build.editors import Bubble, CellEditor
from washline.ui.build.look import Look
from washline.ui.controls import ThinScrollBar
from washline.ui.costs.delegate import CostDelegate, Write
from washline.ui.costs.header import CostHeader
from washline.ui.costs.model import CostModel, Index

NARROWEST_NAME = 140.0
KEYS = "Enter down · Tab right · Esc as it was · empty: not set"
_Hint = QAbstractItemDelegate.EndEditHint
_Std = QKeySequence.StandardKey


class CostTableView(QTableView):
    """``opened`` carries the id of the row that Return or a double click opens, ``sort_asked`` column and order,
    ``typed_elsewhere`` what is typed where nothing can be typed (it finds), ``menu_asked`` where the menu opens, and
    ``cleared`` the cell that Delete empties."""

    opened = Signal(object)
    sort_asked = Signal(int, object)
    typed_elsewhere = Signal(str)
    menu_asked = Signal(QPoint)
    copy_asked = Signal()
    cleared = Signal(object)
    current_moved = Signal()

    def __init__(
        self, model: CostModel, look: Appearance, write: Write, name: str, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._look = look
        self.costs = model
        self._delegate = CostDelegate(look, write, self)
        self.heads = CostHeader(look, self)
        self.setHorizontalHeader(self.heads)
        self.setModel(model)
        self.setItemDelegate(self._delegate)
        self._set_up(name)
        self.bubble = self._new_bubble(look)
        self._delegate.refused.connect(self._say_refused)
        self.heads.sectionClicked.connect(self._sort_by)
        self.doubleClicked.connect(self._open)
        self.set_appearance(look)

    def _set_up(self, name: str) -> None:
        self.setAccessibleName(name)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setMouseTracking(True)
        self.setTabKeyNavigation(False)
        self.setCornerButtonEnabled(False)
        self.verticalHeader().hide()
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.AnyKeyPressed | triggers.EditKeyPressed)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBar(ThinScrollBar(self._look, self))

    def _new_bubble(self, look: Appearance) -> Bubble:
        return Bubble(Look(look.theme, look.fonts, look.measures), self.viewport())

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        self._delegate.set_appearance(look)
        self.heads.set_appearance(look)
        self.bubble.deleteLater()
        self.bubble = self._new_bubble(look)
        self.setPalette(look.theme.palette())
        rows = self.verticalHeader()
        rows.setMinimumSectionSize(1)
        rows.setDefaultSectionSize(self._delegate.row_height)
        bar = self.verticalScrollBar()
        if isinstance(bar, ThinScrollBar):
            bar.set_appearance(look)
        self._lay_out_columns()
        self.viewport().update()

    # Columns

    def _lay_out_columns(self) -> None:
        """Columns fold in their order until the others have room; the name takes what is left."""
        columns, unit = self.costs.columns, self._look.unit
        room = self.viewport().width() / unit - NARROWEST_NAME
        shown = list(range(1, len(columns)))
        for number in sorted(shown, key=lambda one: -columns[one].folds):
            if columns[number].folds and sum(columns[one].width for one in shown) > room:
                shown.remove(number)
        taken = 0
        for number in range(1, len(columns)):
            is_shown = number in shown
            self.setColumnHidden(number, not is_shown)
            if is_shown:
                width = round(columns[number].width * unit)
                self.setColumnWidth(number, width)
                taken += width
        self.setColumnWidth(0, max(self.viewport().width() - taken, round(90 * unit)))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._lay_out_columns()

    def show_sorted(self, column: int, order: Qt.SortOrder) -> None:
        """Says by what the rows are sorted."""
        self.heads.setSortIndicator(column, order)

    @Slot(int)
    def _sort_by(self, column: int) -> None:
        is_same = self.heads.sortIndicatorSection() == column
        # Qt has turned the mark already when the click arrives here.
        order = self.heads.sortIndicatorOrder() if is_same else Qt.SortOrder.AscendingOrder
        self.sort_asked.emit(column, order)

    # Cursor

    def keep_place(self) -> tuple[int | None, int]:
        """Id and column of the current cell, to go back to after the rows were laid anew."""
        index = self.currentIndex()
        number = index.row()
        keys = self.costs.keys
        return (keys[number] if 0 <= number < len(keys) else None), max(index.column(), 0)

    def go_to(self, key: int | None, column: int) -> None:
        """Makes a cell current; the first where that row is not shown."""
        if not self.costs.keys:
            return
        number = self.costs.number_of(key)
        index = self.costs.index(number, column)
        # Whatever keys are still held, nothing else stays chosen.
        chosen = QItemSelectionModel.SelectionFlag.ClearAndSelect | QItemSelectionModel.SelectionFlag.Rows
        self.selectionModel().setCurrentIndex(index, chosen)
        self.scrollTo(index)

    @property
    def chosen(self) -> list[int]:
        """The numbers of the rows that are selected, in order."""
        return sorted(index.row() for index in self.selectionModel().selectedRows())

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        self.current_moved.emit()

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if not self.currentIndex().isValid():
            self.go_to(None, 0)

    # Typing

    @property
    def editor(self) -> CellEditor | None:
        """The field that is open."""
        return next((one for one in self.viewport().findChildren(CellEditor) if one.isVisible()), None)

    @Slot(str)
    def _say_refused(self, problem: str) -> None:
        editor = self.editor
        if editor is not None:
            self.bubble.say(problem, "", KEYS, is_error=True)
            self.bubble.stand_below(editor)

    def closeEditor(self, editor: QWidget, hint: _Hint) -> None:
        """What was refused stays open with its text; Esc lets it go. Enter goes down, Tab to the next cell to type in."""
        if hint != _Hint.RevertModelCache and isinstance(editor, CellEditor) and editor.has_error:
            return
        self.bubble.hide()
        index = self.currentIndex()
        super().closeEditor(editor, _Hint.NoHint)
        if hint == _Hint.SubmitModelCache and index.row() + 1 < self.costs.rowCount():
            self.setCurrentIndex(index.siblingAtRow(index.row() + 1))
        elif hint in (_Hint.EditNextItem, _Hint.EditPreviousItem):
            self._edit_beside(index, 1 if hint == _Hint.EditNextItem else -1)

    def _edit_beside(self, index: QModelIndex, step: int) -> None:
        column = index.column() + step
        while 0 <= column < self.costs.columnCount():
            beside = index.siblingAtColumn(column)
            if not self.isColumnHidden(column) and self.costs.is_typed(beside):
                self.setCurrentIndex(beside)
                self.edit(beside)
                return
            column += step

    def inputMethodEvent(self, event: QInputMethodEvent) -> None:
        """An input method that commits at once opens the field, which then has to hear it again."""
        was_open = self.editor is not None
        super().inputMethodEvent(event)
        editor = self.editor
        if event.commitString() and editor is not None and not was_open:
            editor.selectAll()
            editor.insert(event.commitString())

    # Keys and menu

    def keyPressEvent(self, event: QKeyEvent) -> None:
        editor = self.editor
        if editor is not None:
            self._key_beside_editor(event, editor)
            return
        index = self.currentIndex()
        key, held = Qt.Key(event.key()), event.modifiers()
        is_control = bool(held & Qt.KeyboardModifier.ControlModifier)
        if event.matches(_Std.Copy):
            self.copy_asked.emit()
        elif is_control and key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and index.isValid():
            rising = Qt.SortOrder.AscendingOrder
            order = rising if key == Qt.Key.Key_Up else Qt.SortOrder.DescendingOrder
            self.sort_asked.emit(index.column(), order)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and index.isValid():
            self._open(index)
        elif key == Qt.Key.Key_Delete and self.costs.is_typed(index):
            self.cleared.emit(index)
        elif self._finds(event, index):
            self.typed_elsewhere.emit(event.text())
        else:
            super().keyPressEvent(event)

    def _key_beside_editor(self, event: QKeyEvent, editor: CellEditor) -> None:
        """What an open field does not take itself: nothing acts behind its back."""
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Escape:
            self.closeEditor(editor, _Hint.RevertModelCache)
        elif key in (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            super().keyPressEvent(event)
        elif not editor.hasFocus():
            editor.setFocus(Qt.FocusReason.OtherFocusReason)

    def _finds(self, event: QKeyEvent, index: QModelIndex) -> bool:
        """Whether a key is a letter typed where nothing can be typed."""
        held = event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
        text = event.text()
        return (
            bool(text)
            and text.isprintable()
            and not text.isspace()
            and not held
            and not self.costs.is_typed(index)
        )

    @Slot(QModelIndex)
    def _open(self, index: QModelIndex) -> None:
        if self.costs.is_typed(index):
            self.edit(index)
        elif 0 <= index.row() < len(self.costs.keys):
            self.opened.emit(self.costs.keys[index.row()])

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        where = event.globalPos()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            rect = self.visualRect(self.currentIndex())
            where = self.viewport().mapToGlobal(rect.bottomLeft())
        elif self.indexAt(self.viewport().mapFromGlobal(where)).row() not in self.chosen:
            self.setCurrentIndex(self.indexAt(self.viewport().mapFromGlobal(where)))
        self.menu_asked.emit(where)

    def dataChanged(self, topLeft: Index, bottomRight: Index, roles: Sequence[int] = ()) -> None:
        """Rows are all of one height: figures may change without ten thousand rows being laid out anew."""
        QAbstractItemView.dataChanged(self, topLeft, bottomRight, list(roles))
