"""Opens fields in cells and hands what was typed to the tree; paints cells for the picture that a drag carries."""

from typing import Protocol

from PySide6.QtCore import (
    QAbstractItemModel,
    QEvent,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QLineEdit, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from washline.presentation.build_rows import BuildRow
from washline.ui.build.editors import AmountEditor, CellEditor, ChoiceEditor, NameEditor
from washline.ui.build.model import BuildTreeModel
from washline.ui.build.row_painter import RowState

Index = QModelIndex | QPersistentModelIndex


class Tree(Protocol):
    """What the delegate needs of the view that it serves."""

    @property
    def row_height(self) -> int:
        """The height of every row."""

    def paint_cell(
        self, painter: QPainter, rect: QRectF, row: BuildRow, state: RowState, column: int
    ) -> None:
        """Paints one cell of a row."""

    def make_editor(self, parent: QWidget, index: Index) -> QLineEdit:
        """Makes the field for a cell."""

    def place_editor(self, editor: QWidget, index: Index) -> None:
        """Puts a field in its place."""


class BuildDelegate(QStyledItemDelegate):
    """The delegate of the build tree; ``tree`` paints whole rows itself and places the fields.

    ``committed`` carries the field and its index when what stands in it is to be taken over.
    """

    committed = Signal(object, object)

    def __init__(self, tree: Tree, parent: QObject) -> None:
        super().__init__(parent)
        self._tree = tree

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        model = index.model()
        row = model.row_at(index) if isinstance(model, BuildTreeModel) else None
        if row is not None:
            rect = QRectF(option.rect)
            self._tree.paint_cell(painter, rect, row, RowState(), index.column())

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(40, self._tree.row_height)

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        return self._tree.make_editor(parent, index)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        # A recompute reports the cell as changed while somebody types in it: what is typed stays.
        if not isinstance(editor, CellEditor) or editor.isModified():
            return
        text = index.data(Qt.ItemDataRole.EditRole)
        if editor.text() != text or not text:
            editor.setText(text or "")
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        self.committed.emit(editor, QPersistentModelIndex(index))

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        self._tree.place_editor(editor, index)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.KeyPress
            and isinstance(watched, CellEditor)
        ):
            keys = (Qt.Key.Key_Up, Qt.Key.Key_Down)
            # The field steps with these, or lists its choices; the default would commit and move on.
            if isinstance(watched, AmountEditor | ChoiceEditor) and event.key() in keys:
                return False
            if isinstance(watched, NameEditor) and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                watched.take_only_proposal()
        return super().eventFilter(watched, event)
