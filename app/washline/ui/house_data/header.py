"""The heads of a table of the house's data: each at the side of what stands under it, the names always in sight."""

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent

from washline.presentation.house_data_columns import WORDY
from washline.ui.costs.header import CELL_GAP, CostHeader
from washline.ui.draw.pens import hairline, on_pixel, square
from washline.ui.house_data.model import HouseModel


class HouseHeader(CostHeader):
    """Words from the left, figures from the right; the head of the names stays where the others are scrolled."""

    @property
    def _is_moved(self) -> bool:
        return self.offset() > 0

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self._is_moved:
            painter = QPainter(self.viewport())
            self.paintSection(painter, QRect(0, 0, self.sectionSize(0), self.height()), 0)
            painter.end()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """A click on the head of the names is none on what is scrolled behind it."""
        if self._is_moved and event.position().x() < self.sectionSize(0):
            is_same = self.sortIndicatorSection() == 0
            is_rising = self.sortIndicatorOrder() == Qt.SortOrder.AscendingOrder
            falling = Qt.SortOrder.DescendingOrder
            self.setSortIndicator(0, falling if is_same and is_rising else Qt.SortOrder.AscendingOrder)
            self.sectionClicked.emit(0)
            event.accept()
            return
        super().mouseReleaseEvent(event)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        model = self.model()
        if (
            not isinstance(model, HouseModel)
            or model.columns[logicalIndex].kind not in WORDY
            or not logicalIndex
        ):
            super().paintSection(painter, rect, logicalIndex)
            return
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        painter.fillRect(rect, theme.sheet)
        is_sorted = self.sortIndicatorSection() == logicalIndex
        text = model.columns[logicalIndex].title
        font = fonts.header_strong if is_sorted else fonts.header
        box = QRectF(rect).adjusted(look.px(CELL_GAP), 0, 0, 0)
        painter.setFont(font)
        painter.setPen(theme.ink if is_sorted else theme.ink3)
        painter.drawText(
            box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, text
        )
        if is_sorted:
            self._paint_triangle(
                painter, QPointF(box.left() + fonts.width(font, text) + look.px(7), box.center().y())
            )
        painter.setPen(square(theme.rule2, hairline(painter)))
        y = on_pixel(painter, rect.bottom())
        painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right() + 1, y))
        painter.restore()
