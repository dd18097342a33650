"""A table of the house's data: typed into, sorted, gone through with the keyboard; the names stay in sight."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QPoint, QRect, Qt, Signal, Slot
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QInputMethodEvent,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QAbstractItemView,
    QFrame,
    QStyle,
    QStyleOptionViewItem,
    QTableView,
    QWidget,
)

from washline.ui.appearance import Appearance
from washline.ui.build.editors import Bubble, CellEditor
from washline.ui.build.look import Look
from washline.ui.controls import ThinScrollBar
from washline.ui.draw.pens import hairline
from washline.ui.house_data.delegate import HouseDelegate, Write
from washline.ui.house_data.editors import ChoiceEditor
from washline.ui.house_data.header import HouseHeader
from washline.ui.house_data.model import HouseModel, Index
from washline.ui.house_data.scroll_bar import LyingScrollBar

KEYS = "Enter down · Tab right · Esc as it was"
CHOICE_KEYS = "type, or ↑ ↓ · Enter down · Tab right · Esc as it was"
_Hint = QAbstractItemDelegate.EndEditHint
_Std = QKeySequence.StandardKey


class HouseTableView(QTableView):
    """``sort_asked`` carries column and order, ``typed_elsewhere`` what is typed where nothing can be typed (it finds),
    ``menu_asked`` where the menu opens, ``cleared`` the cell that Delete empties, ``added``, ``duplicated`` and ``removed``
    that a row is to be, and ``fixed`` the cell that cannot be typed into."""

    sort_asked = Signal(int, object)
    typed_elsewhere = Signal(str)
    menu_asked = Signal(QPoint)
    copy_asked = Signal()
    cleared = Signal(object)
    added = Signal()
    duplicated = Signal()
    removed = Signal()
    fixed = Signal(object)
    current_moved = Signal()

    def __init__(
        self, model: HouseModel, look: Appearance, write: Write, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._look = look
        self.rows = model
        self._delegate = HouseDelegate(look, write, self, has_glasses=model.table.key == "glass")
        self.heads = HouseHeader(look, self)
        self.setHorizontalHeader(self.heads)
        self.setModel(model)
        self.setItemDelegate(self._delegate)
        self._set_up(model.table.tab)
        self.bubble = self._new_bubble(look)
        self._delegate.refused.connect(self._say_refused)
        # A field has its place only once it is shown.
        self._delegate.opened.connect(self._say_choices, Qt.ConnectionType.QueuedConnection)
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
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollBar(ThinScrollBar(self._look, self))
        self.setHorizontalScrollBar(LyingScrollBar(self._look, self))
        self._corner = QWidget(self)
        self._corner.setAutoFillBackground(True)
        self.setCornerWidget(self._corner)
        self.horizontalScrollBar().valueChanged.connect(self._repaint_names)

    def _new_bubble(self, look: Appearance) -> Bubble:
        return Bubble(Look(look.theme, look.fonts, look.measures), self.viewport())

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        self._delegate.set_appearance(look)
        self.heads.set_appearance(look)
        self.bubble.deleteLater()
        self.bubble = self._new_bubble(look)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Base, look.theme.sheet)
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        self.setPalette(palette)
        self._corner.setPalette(palette)
        rows = self.verticalHeader()
        rows.setMinimumSectionSize(1)
        rows.setDefaultSectionSize(self._delegate.row_height)
        for bar in (self.verticalScrollBar(), self.horizontalScrollBar()):
            if isinstance(bar, ThinScrollBar | LyingScrollBar):
                bar.set_appearance(look)
        self._lay_out_columns()
        self.viewport().update()

    # Columns: name and last column share what the others leave

    def _lay_out_columns(self) -> None:
        columns, unit = self.rows.columns, self._look.unit
        taken = 0
        for number in range(1, len(columns)):
            width = round(columns[number].width * unit)
            self.setColumnWidth(number, width)
            taken += width
        least = round(columns[0].width * unit) + self._delegate.name_left - self._look.px(20)
        name = min(max(self.viewport().width() - taken, least), round(least * 1.3))
        self.setColumnWidth(0, name)
        rest = self.viewport().width() - taken - name
        if rest > 0:
            last = len(columns) - 1
            self.setColumnWidth(last, self.columnWidth(last) + rest)

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

    # The names stay where they are

    @property
    def _is_moved(self) -> bool:
        return self.horizontalScrollBar().value() > 0

    @Slot()
    def _repaint_names(self) -> None:
        self.heads.viewport().update()
        self.viewport().update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._is_moved:
            return
        painter = QPainter(self.viewport())
        first, last = self.rowAt(0), self.rowAt(self.viewport().height() - 1)
        last = last if last >= 0 else self.rows.rowCount() - 1
        for number in range(max(first, 0), last + 1):
            self._paint_name(painter, self.rows.index(number, 0))
        width = self.columnWidth(0)
        painter.fillRect(
            QRect(width - 1, 0, max(round(hairline(painter)), 1), self.viewport().height()),
            self._look.theme.rule2,
        )
        painter.end()

    def _paint_name(self, painter: QPainter, index: QModelIndex) -> None:
        option = QStyleOptionViewItem()
        self.initViewItemOption(option)
        option.rect = self.visualRect(index)
        if self.selectionModel().isSelected(index):
            option.state |= QStyle.StateFlag.State_Selected
        if self.hasFocus() and index == self.currentIndex():
            option.state |= QStyle.StateFlag.State_HasFocus
        else:
            option.state &= ~QStyle.StateFlag.State_HasFocus
        self._delegate.paint(painter, option, index)

    def visualRect(self, index: Index) -> QRect:
        rect = super().visualRect(index)
        if index.isValid() and index.column() == 0 and self._is_moved:
            rect.moveLeft(0)
        return rect

    def indexAt(self, pos: QPoint) -> QModelIndex:
        index = super().indexAt(pos)
        is_name = self._is_moved and index.isValid() and pos.x() < self.columnWidth(0)
        return index.siblingAtColumn(0) if is_name else index

    def scrollTo(
        self, index: Index, hint: QAbstractItemView.ScrollHint = QAbstractItemView.ScrollHint.EnsureVisible
    ) -> None:
        bar = self.horizontalScrollBar()
        before = bar.value()
        super().scrollTo(index, hint)
        if index.column() == 0:
            bar.setValue(before)
            return
        hidden = self.columnWidth(0) - self.visualRect(index).left()
        if self._is_moved and hidden > 0:
            bar.setValue(bar.value() - hidden)

    # Cursor

    def keep_place(self) -> tuple[str | int | None, int]:
        """Key and column of the current cell, to go back to after the rows were laid anew."""
        index, keys = self.currentIndex(), self.rows.keys
        return (keys[index.row()] if 0 <= index.row() < len(keys) else None), max(index.column(), 0)

    def go_to(self, key: str | int | None, column: int) -> None:
        """Makes a cell current; one of the first row where that row is not shown."""
        if self.rows.keys:
            index = self.rows.index(self.rows.number_of(key), column)
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

    @Slot()
    def _say_choices(self) -> None:
        """A field to choose in says what there is to choose from."""
        editor = self.editor
        if isinstance(editor, ChoiceEditor) and not editor.has_error:
            self.bubble.say(" · ".join(editor.choices), "", CHOICE_KEYS)
            self.bubble.stand_below(editor)

    def closeEditor(self, editor: QWidget, hint: _Hint) -> None:
        """What was refused stays open with its text; Esc lets it go. Enter goes down, Tab to the next cell to type in."""
        if hint != _Hint.RevertModelCache and isinstance(editor, CellEditor) and editor.has_error:
            return
        self.bubble.hide()
        index = self.currentIndex()
        super().closeEditor(editor, _Hint.NoHint)
        if hint == _Hint.SubmitModelCache and index.row() + 1 < self.rows.rowCount():
            self.setCurrentIndex(index.siblingAtRow(index.row() + 1))
        elif hint in (_Hint.EditNextItem, _Hint.EditPreviousItem):
            self._edit_beside(index, 1 if hint == _Hint.EditNextItem else -1)

    def _edit_beside(self, index: QModelIndex, step: int) -> None:
        column = index.column() + step
        while 0 <= column < self.rows.columnCount():
            beside = index.siblingAtColumn(column)
            if self.rows.is_typed(beside):
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

    def event(self, event: QEvent) -> bool:
        """Keys of the table are its own, whatever they do elsewhere in the window."""
        if (
            event.type() == QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and self.editor is None
            and _is_own(event)
        ):
            event.accept()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        editor = self.editor
        if editor is not None:
            self._key_beside_editor(event, editor)
        elif not self._acts(event):
            super().keyPressEvent(event)

    def _acts(self, event: QKeyEvent) -> bool:
        """Does what a key asks for; false where it is one of the view's own."""
        index = self.currentIndex()
        key, held = Qt.Key(event.key()), event.modifiers()
        is_control = bool(held & Qt.KeyboardModifier.ControlModifier)
        if event.matches(_Std.Copy):
            self.copy_asked.emit()
        elif key == Qt.Key.Key_Insert:
            self.added.emit()
        elif is_control and key == Qt.Key.Key_D:
            self.duplicated.emit()
        elif is_control and key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and index.isValid():
            falling = Qt.SortOrder.DescendingOrder
            self.sort_asked.emit(
                index.column(), Qt.SortOrder.AscendingOrder if key == Qt.Key.Key_Up else falling
            )
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and index.isValid():
            self._open(index)
        elif key == Qt.Key.Key_Delete and index.isValid():
            is_row = is_control or index.column() == 0
            (self.removed.emit() if is_row else self.cleared.emit(index))
        elif self._finds(event, index):
            self.typed_elsewhere.emit(event.text())
        else:
            return False
        return True

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
        """Whether a key is a letter typed on a name, or where nothing can be typed: it finds."""
        held = event.modifiers() & ~(Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier)
        text = event.text()
        is_letter = bool(text) and text.isprintable() and not text.isspace() and not held
        return is_letter and (index.column() == 0 or not self.rows.is_typed(index))

    @Slot(QModelIndex)
    def _open(self, index: QModelIndex) -> None:
        if self.rows.is_typed(index):
            self.edit(index)
        else:
            self.fixed.emit(index)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        where = event.globalPos()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            where = self.viewport().mapToGlobal(self.visualRect(self.currentIndex()).bottomLeft())
        else:
            index = self.indexAt(self.viewport().mapFromGlobal(where))
            if index.isValid():
                self.setCurrentIndex(index)
        self.menu_asked.emit(where)

    def dataChanged(self, topLeft: Index, bottomRight: Index, roles: Sequence[int] = ()) -> None:
        """Rows are all of one height: figures may change without the rows being laid out anew."""
        QAbstractItemView.dataChanged(self, topLeft, bottomRight, list(roles))


def _is_own(event: QKeyEvent) -> bool:
    """Whether a key adds, duplicates or removes a row, or empties a cell."""
    is_control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
    return event.key() in (Qt.Key.Key_Insert, Qt.Key.Key_Delete) or (
        is_control and event.key() == Qt.Key.Key_D
    )
