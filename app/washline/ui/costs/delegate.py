"""Paints the cells of a table of costs, and opens the field of one that can be typed into."""

from collections.abc import Callable

from PySide6.QtCore import QAbstractItemModel, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from washline.presentation.costs import PartCost
from washline.presentation.costs_table import Cell, Row
from washline.ui.appearance import Appearance
from washline.ui.build.editors import CellEditor
from washline.ui.build.look import Look
from washline.ui.costs.header import CELL_GAP, NAME_LEFT
from washline.ui.costs.model import CELL_ROLE, ROW_ROLE, CostModel, Index
from washline.ui.draw.marks import draw_current_bar, draw_focus_ring
from washline.ui.draw.pens import hairline, on_pixel, square

Write = Callable[[Index, str], str]
"""Takes what was typed into a cell; says why it was refused, or nothing."""


class CostDelegate(QStyledItemDelegate):
    """``write`` takes what was typed; what it refuses stays in the field, and ``refused`` carries the reason."""

    refused = Signal(str)

    def __init__(self, look: Appearance, write: Write, parent: QObject) -> None:
        super().__init__(parent)
        self._look, self._write = look, write

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look

    @property
    def row_height(self) -> int:
        """The height of every row."""
        return round(self._look.measures.build_row)

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._look.px(60), self.row_height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell, row = index.data(CELL_ROLE), index.data(ROW_ROLE)
        if not isinstance(cell, Cell):
            return
        painter.save()
        rect = QRectF(option.rect)
        self._paint_ground(painter, rect, option, index)
        if index.column() == 0:
            self._paint_name(painter, rect, cell, row)
        else:
            self._paint_figure(painter, rect, cell, row, index)
        painter.setPen(square(self._look.theme.rule, hairline(painter)))
        y = on_pixel(painter, rect.bottom() - 0.5)
        painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
        if option.state & QStyle.StateFlag.State_HasFocus:
            draw_focus_ring(painter, rect.adjusted(1, 1, -1, -1), self._look.theme, self._look.unit)
        painter.restore()

    def _paint_ground(
        self, painter: QPainter, rect: QRectF, option: QStyleOptionViewItem, index: Index
    ) -> None:
        theme = self._look.theme
        if option.state & QStyle.StateFlag.State_Selected:
            if index.column() == 0:
                draw_current_bar(painter, rect, theme, self._look.unit)
            elif not theme.is_high_contrast:
                painter.fillRect(rect, theme.select)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, theme.hover)

    def _paint_name(self, painter: QPainter, rect: QRectF, cell: Cell, row: Row) -> None:
        look, fonts = self._look, self._look.fonts
        note = "left over" if isinstance(row, PartCost) and row.is_leftover else ""
        left = rect.left() + look.px(NAME_LEFT)
        room = rect.right() - look.px(6) - left
        note_width = fonts.width(fonts.header, note) + look.px(8) if note else 0.0
        name = fonts.metrics(fonts.row).elidedText(cell.text, Qt.TextElideMode.ElideRight, room - note_width)
        self._text(painter, QRectF(left, rect.top(), room, rect.height()), name, look.theme.ink, is_left=True)
        if note:
            painter.setFont(fonts.header)
            painter.setPen(look.theme.ink3)
            x = left + fonts.metrics(fonts.row).horizontalAdvance(name) + look.px(8)
            flags = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine
            painter.drawText(QRectF(x, rect.top(), note_width, rect.height()), flags, note)

    def _paint_figure(self, painter: QPainter, rect: QRectF, cell: Cell, row: Row, index: Index) -> None:
        look, theme = self._look, self._look.theme
        model = index.model()
        is_typed = isinstance(model, CostModel) and model.columns[index.column()].is_editable
        ink = theme.ink3 if cell.is_quiet or row.is_stale else theme.ink
        box = rect.adjusted(0, 0, -look.px(CELL_GAP), 0)
        self._text(painter, box, cell.text, ink, is_strong=is_typed)

    def _text(
        self,
        painter: QPainter,
        box: QRectF,
        text: str,
        ink: QColor,
        *,
        is_left: bool = False,
        is_strong: bool = False,
    ) -> None:
        fonts = self._look.fonts
        painter.setFont(fonts.row if is_left else fonts.figure_strong if is_strong else fonts.figure)
        painter.setPen(ink)
        side = Qt.AlignmentFlag.AlignLeft if is_left else Qt.AlignmentFlag.AlignRight
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, text)

    # Typing

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        look = self._look
        field = CellEditor(Look(look.theme, look.fonts, look.measures), parent)
        field.setFont(look.fonts.figure_strong)
        field.setAlignment(Qt.AlignmentFlag.AlignRight)
        field.setTextMargins(2, 0, max(look.px(CELL_GAP) - 4, 2), 0)
        field.setAccessibleName(str(index.data(Qt.ItemDataRole.AccessibleTextRole)))
        return field

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        # Figures that come in while somebody types do not touch what is being typed.
        if isinstance(editor, CellEditor) and not editor.isModified() and not editor.has_error:
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole)))
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        if not isinstance(editor, CellEditor):
            return
        is_new = editor.isModified() or editor.text() != index.data(Qt.ItemDataRole.EditRole)
        problem = self._write(index, editor.text()) if is_new else ""
        editor.has_error = bool(problem)
        if problem:
            self.refused.emit(problem)
        else:
            editor.setModified(False)

    def updateEditorGeometry(self, editor: QWidget, option: QStyleOptionViewItem, index: Index) -> None:
        rect, look = option.rect, self._look
        # A narrow column leaves no room to type a figure and its unit.
        width = max(rect.width(), look.px(88))
        editor.setGeometry(rect.right() - width + 1, rect.top(), width, rect.height())
