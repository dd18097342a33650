"""A scroll bar from left to right as one quiet line; it widens under the pointer."""

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollBar, QStyle, QStyleOptionSlider, QWidget

from washline.ui.appearance import Appearance


class AcrossBar(QScrollBar):
    """The thin scroll bar of the window, lying down."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFixedHeight(look.px(10))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(60), self._look.px(10))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self.maximum() <= self.minimum():
            return
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ScrollBarSlider
        rect = self.style().subControlRect(QStyle.ComplexControl.CC_ScrollBar, option, part, self)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        is_near = self.underMouse() or self.isSliderDown()
        height = self._look.px(6 if is_near else 3)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.theme.edge if is_near else self._look.theme.rule2)
        box = QRectF(rect.left(), self.height() - height - 1, rect.width(), height)
        painter.drawRoundedRect(box, height / 2, height / 2)
        painter.end()
