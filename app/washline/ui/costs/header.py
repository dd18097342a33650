"""The heads of a table of costs: a click sorts, a small triangle says by what and which way."""

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPolygonF
from PySide6.QtWidgets import QHeaderView, QWidget

from washline.ui.appearance import Appearance
from washline.ui.draw.pens import hairline, on_pixel, square

CELL_GAP = 10.0
NAME_LEFT = 20.0


class CostHeader(QHeaderView):
    """Quiet words over a rule, each at the edge of its figures."""

    def __init__(self, look: Appearance, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._look = look
        self.setSectionsClickable(True)
        self.setSectionsMovable(False)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setSortIndicatorShown(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("Columns")
        self.viewport().setAttribute(Qt.WidgetAttribute.WA_Hover)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(
            super().sizeHint().width(), max(self._look.px(28), round(self._look.measures.smallest_target))
        )

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.fillRect(rect, theme.sheet)
        is_sorted = self.sortIndicatorSection() == logicalIndex
        text = str(self.model().headerData(logicalIndex, Qt.Orientation.Horizontal) or "")
        font = fonts.header_strong if is_sorted else fonts.header
        box = QRectF(rect)
        if logicalIndex == 0:
            box.setLeft(box.left() + look.px(NAME_LEFT))
            side = Qt.AlignmentFlag.AlignLeft
        else:
            box.setRight(box.right() - look.px(CELL_GAP))
            side = Qt.AlignmentFlag.AlignRight
        painter.setFont(font)
        painter.setPen(theme.ink if is_sorted else theme.ink3)
        painter.drawText(box, side | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, text)
        if is_sorted:
            width = fonts.width(font, text)
            x = box.left() + width + look.px(7) if logicalIndex == 0 else box.right() - width - look.px(7)
            self._paint_triangle(painter, QPointF(x, box.center().y()))
        painter.setPen(square(theme.rule2, hairline(painter)))
        y = on_pixel(painter, rect.bottom())
        painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right() + 1, y))
        painter.restore()

    def _paint_triangle(self, painter: QPainter, centre: QPointF) -> None:
        half = 3.2 * self._look.unit
        up = -1.0 if self.sortIndicatorOrder() == Qt.SortOrder.AscendingOrder else 1.0
        tip, foot = centre.y() + up * half, centre.y() - up * half * 0.7
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.theme.ink)
        painter.drawPolygon(
            QPolygonF(
                [QPointF(centre.x() - half, foot), QPointF(centre.x() + half, foot), QPointF(centre.x(), tip)]
            )
        )
