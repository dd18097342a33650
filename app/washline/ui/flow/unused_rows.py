"""How the rows and heads of the list of unused leftovers are painted."""

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QMouseEvent, QPainter, QPalette
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_current_bar

PADDING = 8.0
_UP, _DOWN = "▴", "▾"


class UnusedHeader(QHeaderView):
    """Quiet heads over a rule; a click sorts. ``sorted_by`` carries the column."""

    sorted_by = Signal(int)

    def __init__(self, look: Appearance, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._look = look
        self.column, self.is_falling = 0, False
        self.setHighlightSections(False)
        self.setStretchLastSection(False)
        self.setMinimumSectionSize(1)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("Columns of the list")

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.viewport().update()

    def set_order(self, column: int, *, is_falling: bool) -> None:
        """Marks the column that the rows are sorted by."""
        self.column, self.is_falling = column, is_falling
        self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self._look.px(27))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        column = self.logicalIndexAt(event.position().toPoint())
        if event.button() == Qt.MouseButton.LeftButton and column >= 0:
            self.sorted_by.emit(column)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        look, fonts = self._look, self._look.fonts
        painter.fillRect(rect, look.theme.sheet)
        text = str(self.model().headerData(logicalIndex, Qt.Orientation.Horizontal) or "")
        is_sorted = logicalIndex == self.column
        if is_sorted:
            text = f"{text} {_DOWN if self.is_falling else _UP}"
        wished = self.model().headerData(
            logicalIndex, Qt.Orientation.Horizontal, Qt.ItemDataRole.TextAlignmentRole
        )
        side = side_of(wished)
        painter.setFont(fonts.header)
        painter.setPen(look.theme.ink if is_sorted else look.theme.ink3)
        box = QRectF(rect).adjusted(look.px(PADDING), 0, -look.px(PADDING), 0)
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, text)
        painter.fillRect(QRectF(rect.left(), rect.bottom(), rect.width(), 1.0), look.theme.rule2)


class UnusedDelegate(QStyledItemDelegate):
    """Rows as everywhere in the window: tint and ink bar on the current one, figures at the right of their column."""

    def __init__(self, look: Appearance, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = look

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        look, theme = self.look, self.look.theme
        painter.save()
        rect = QRectF(option.rect)
        if option.state & QStyle.StateFlag.State_Selected:
            if index.column() == 0:
                draw_current_bar(painter, rect, theme, look.unit)
            else:
                painter.fillRect(rect, theme.sheet if theme.is_high_contrast else theme.select)
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(rect, theme.hover)
        is_top = not index.parent().isValid()
        font: QFont = look.fonts.row_strong if is_top and index.column() == 0 else look.fonts.row
        painter.setFont(font)
        painter.setPen(theme.ink if is_top else theme.ink2)
        box = rect.adjusted(look.px(PADDING), 0, -look.px(PADDING), 0)
        side = side_of(index.data(Qt.ItemDataRole.TextAlignmentRole))
        text = look.fonts.metrics(font).elidedText(
            str(index.data() or ""), Qt.TextElideMode.ElideRight, box.width()
        )
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter, text)
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(self.look.px(60), round(self.look.measures.build_row))


def side_of(alignment: object) -> Qt.AlignmentFlag:
    """At which side a column's texts stand."""
    is_right = isinstance(alignment, int) and bool(Qt.AlignmentFlag(alignment) & Qt.AlignmentFlag.AlignRight)
    return Qt.AlignmentFlag.AlignRight if is_right else Qt.AlignmentFlag.AlignLeft


def list_palette(look: Appearance) -> QPalette:
    """The palette of the list: the sheet's ground, branches in the current ink."""
    palette = QPalette(look.theme.palette())
    palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
    return palette
