"""A thin scroll bar that lies."""

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QScrollBar, QStyle, QStyleOptionSlider, QWidget

from washline.ui.appearance import Appearance


class LyingScrollBar(QScrollBar):
    """One quiet line under what is wider than its place."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFixedHeight(look.px(10))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        part = QStyle.SubControl.SC_ScrollBarSlider
        rect = self.style().subControlRect(QStyle.ComplexControl.CC_ScrollBar, option, part, self)
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.theme.sheet)
        if self.maximum() > self.minimum():
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            is_near = self.underMouse() or self.isSliderDown()
            height = self._look.px(6 if is_near else 3)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._look.theme.edge if is_near else self._look.theme.rule2)
            box = QRectF(rect.left(), self.height() - height - 1, rect.width(), height)
            painter.drawRoundedRect(box, height / 2, height / 2)
        painter.end()
