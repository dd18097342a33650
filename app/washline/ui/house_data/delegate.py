"""Paints the cells of the house's data, and opens the field of one that is typed into."""

from collections.abc import Callable
from functools import cache

from PySide6.QtCore import QAbstractItemModel, QObject, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from washline.model.house import Glass as HouseGlass
from washline.presentation.glass import Glass, glass_form
from washline.presentation.house_data import Cell
from washline.presentation.house_data_columns import Kind
from washline.presentation.house_data_glass import SMALLEST_ML
from washline.ui.appearance import Appearance
from washline.ui.build.editors import CellEditor
from washline.ui.build.look import Look
from washline.ui.costs.header import CELL_GAP, NAME_LEFT
from washline.ui.draw.glass import GlassTexts, draw_glass
from washline.ui.draw.marks import draw_current_bar, draw_focus_ring
from washline.ui.draw.pens import hairline, on_pixel, square
from washline.ui.fonts import Fonts, application_fonts
from washline.ui.house_data.editors import ChoiceEditor
from washline.ui.house_data.model import CELL_ROLE, ROW_ROLE, HouseModel, Index

Write = Callable[[Index, str], str]
"""Takes what was typed into a cell; says why it was refused, or nothing."""

GLASS_ROW = 52.0
GLASS_WIDTH = 46.0
TALLEST_MM = 190.0
"""A glass as tall as this, foot and all, fills its row; all glasses of the table are drawn to this one scale."""

SMALLEST_DRAWN = 14.0
_NO_TEXTS = GlassTexts(wash_line="")
_VERTICAL = Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine


@cache
def _fine_fonts(unit: float) -> Fonts:
    """Half the width of line for pictures as small as a row."""
    return application_fonts(unit * 0.5)


class HouseDelegate(QStyledItemDelegate):
    """``write`` takes what was typed; what it refuses stays in the field, and ``refused`` carries the reason.
    ``opened`` says that a field
    opens. With ``has_glasses`` each row begins with the picture of its glass."""

    refused = Signal(str)
    opened = Signal()

    def __init__(self, look: Appearance, write: Write, parent: QObject, *, has_glasses: bool) -> None:
        super().__init__(parent)
        self._look, self._write, self._has_glasses = look, write, has_glasses

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look

    @property
    def row_height(self) -> int:
        """The height of every row."""
        row = self._look.measures.build_row
        return round(max(row, self._look.px(GLASS_ROW)) if self._has_glasses else row)

    @property
    def name_left(self) -> int:
        """Where names begin."""
        return self._look.px(NAME_LEFT + (GLASS_WIDTH + 8.0 if self._has_glasses else 0.0))

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(self._look.px(60), self.row_height)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        cell = index.data(CELL_ROLE)
        if not isinstance(cell, Cell):
            return
        painter.save()
        rect = QRectF(option.rect)
        self._paint_ground(painter, rect, option, index)
        if index.column() == 0:
            self._paint_name(painter, rect, cell, index)
        else:
            self._paint_cell(painter, rect, cell, index)
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
        painter.fillRect(rect, theme.sheet)
        if option.state & QStyle.StateFlag.State_Selected:
            if index.column() == 0:
                draw_current_bar(painter, rect, theme, self._look.unit)
            elif not theme.is_high_contrast:
                painter.fillRect(rect, theme.select)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, theme.hover)

    def _paint_name(self, painter: QPainter, rect: QRectF, cell: Cell, index: Index) -> None:
        row = index.data(ROW_ROLE)
        if self._has_glasses and isinstance(row, HouseGlass):
            self._paint_glass(painter, rect, row)
        box = rect.adjusted(self.name_left, 0, -self._look.px(6), 0)
        self._text(painter, box, cell.text, is_left=True, is_strong=False, is_quiet=False)

    def _paint_glass(self, painter: QPainter, rect: QRectF, row: HouseGlass) -> None:
        """The empty glass, standing on the line of its row."""
        if not row.brim_ml >= SMALLEST_ML:
            return
        glass = Glass(glass_form(row.slug), row.brim_ml, 0.0)
        look = self._look
        tall_mm = glass.height_mm * (1.0 + glass.form.base + glass.form.stem)
        room = rect.height() - look.px(6)
        high = min(max(room * tall_mm / TALLEST_MM, look.px(SMALLEST_DRAWN)), room)
        wide_mm = 2.0 * max(
            glass.radius_mm(glass.height_mm),
            glass.radius_mm(glass.height_mm / 2),
            glass.form.foot * glass.height_mm,
        )
        free = look.px(GLASS_WIDTH) - wide_mm * high / tall_mm
        left = rect.left() + look.px(NAME_LEFT - 4) + max(free / 2.0, 0.0)
        box = QRectF(left, rect.bottom() - look.px(3) - high, look.px(GLASS_WIDTH), high)
        draw_glass(painter, box, glass, look.theme, _fine_fonts(look.fonts.unit), _NO_TEXTS)

    def _paint_cell(self, painter: QPainter, rect: QRectF, cell: Cell, index: Index) -> None:
        gap = self._look.px(CELL_GAP)
        box = rect.adjusted(gap if cell.is_left else 0, 0, 0 if cell.is_left else -gap, 0)
        model = index.model()
        is_typed = isinstance(model, HouseModel) and model.is_typed(index) and not cell.is_quiet
        self._text(painter, box, cell.text, is_left=cell.is_left, is_strong=is_typed, is_quiet=cell.is_quiet)

    def _text(
        self, painter: QPainter, box: QRectF, text: str, *, is_left: bool, is_strong: bool, is_quiet: bool
    ) -> None:
        fonts, theme = self._look.fonts, self._look.theme
        font = fonts.row if is_left else fonts.figure_strong if is_strong else fonts.figure
        painter.setFont(font)
        painter.setPen(theme.ink3 if is_quiet else theme.ink)
        side = Qt.AlignmentFlag.AlignLeft if is_left else Qt.AlignmentFlag.AlignRight
        shown = fonts.metrics(font).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
        painter.drawText(box, side | _VERTICAL, shown)

    # Typing

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        look = self._look
        field = self._field(Look(look.theme, look.fonts, look.measures), parent, index)
        cell = index.data(CELL_ROLE)
        is_left = isinstance(cell, Cell) and cell.is_left
        inset = max(look.px(CELL_GAP) - 4, 2)
        field.setFont(look.fonts.row if is_left else look.fonts.figure_strong)
        field.setAlignment(Qt.AlignmentFlag.AlignLeft if is_left else Qt.AlignmentFlag.AlignRight)
        field.setTextMargins(inset if is_left else 2, 0, 2 if is_left else inset, 0)
        field.setAccessibleName(str(index.data(Qt.ItemDataRole.AccessibleTextRole)))
        self.opened.emit()
        return field

    def _field(self, look: Look, parent: QWidget, index: Index) -> CellEditor:
        model = index.model()
        if isinstance(model, HouseModel):
            column = model.columns[index.column()]
            if column.kind is Kind.CHOICE:
                return ChoiceEditor(look, [words for _, words in model.texts.choices(column)], parent)
        return CellEditor(look, parent)

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        # What comes in while somebody types does not touch what is being typed.
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
        if index.column() == 0:
            left = self.name_left - look.px(CELL_GAP)
            editor.setGeometry(rect.left() + left, rect.top(), rect.width() - left, rect.height())
            return
        cell = index.data(CELL_ROLE)
        # A narrow column leaves no room to type a figure and its unit.
        width = max(rect.width(), look.px(104))
        is_left = isinstance(cell, Cell) and cell.is_left
        left = rect.left() if is_left else max(rect.right() - width + 1, 0)
        editor.setGeometry(left, rect.top(), width, rect.height())
