"""The heads of the columns: quiet words over a rule, each at the edge of its figures."""

from PySide6.QtCore import QRect, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QHeaderView, QWidget

from washline.ui.build.columns import AMOUNT, COLUMN_COUNT, FIRST_FIGURE, NAME
from washline.ui.build.look import NAME_X, UNIT_GAP, Look
from washline.ui.measures import SHEET_MARGIN_PX


class BuildHeader(QHeaderView):
    """Headings that neither sort nor move: a build is an order of steps."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._look = look
        self.setSectionsMovable(False)
        self.setSectionsClickable(False)
        self.setHighlightSections(False)
        self.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.setMinimumSectionSize(1)
        self.setStretchLastSection(False)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("Columns of the build")

    def set_look(self, look: Look) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.viewport().update()

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), round(self._look.px(27)))

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        look, fonts = self._look, self._look.fonts
        painter.fillRect(rect, look.theme.sheet)
        text = self.model().headerData(logicalIndex, Qt.Orientation.Horizontal) or ""
        painter.setFont(fonts.header)
        painter.setPen(look.theme.ink3)
        box = QRectF(rect)
        if logicalIndex == NAME:
            box.setLeft(look.px(NAME_X))
            alignment = Qt.AlignmentFlag.AlignLeft
        else:
            right = UNIT_GAP if logicalIndex == AMOUNT else 0.0
            if logicalIndex >= FIRST_FIGURE and self._is_last(logicalIndex):
                right = SHEET_MARGIN_PX
            box.setRight(box.right() - look.px(right))
            box.setLeft(box.left() - look.px(20))
            alignment = Qt.AlignmentFlag.AlignRight
        painter.drawText(box, alignment | Qt.AlignmentFlag.AlignVCenter, text)
        painter.fillRect(QRectF(rect.left(), rect.bottom(), rect.width(), 1.0), look.theme.rule2)

    def _is_last(self, column: int) -> bool:
        return all(self.isSectionHidden(later) for later in range(column + 1, COLUMN_COUNT))
