"""A slider in percent about the table: a hairline with a mark for the table and a tick that moves, by pointer and keys."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QSizePolicy, QSlider, QStyle, QStyleOptionSlider, QWidget

from washline.ui.appearance import Appearance
from washline.ui.draw.marks import draw_focus_ring
from washline.ui.draw.pens import filled_bar, hairline, on_pixel, square

MOST_PCT = 50
EDGE = 10.0


class ShiftSlider(QSlider):
    """From −50 to +50 %; the arrows move by one, with PageUp and PageDown by ten, Home and End to the ends, 0 to the table.

    The wheel moves it only when it has the focus.
    """

    def __init__(self, look: Appearance, name: str, parent: QWidget | None = None) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.setRange(-MOST_PCT, MOST_PCT)
        self.setSingleStep(1)
        self.setPageStep(10)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setFixedHeight(max(look.px(26), round(look.measures.smallest_target)))
        self.setMaximumWidth(look.px(280))
        self.setMinimumWidth(look.px(120))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(240), self.height())

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self.setSliderDown(True)
            self.setSliderPosition(self._value_at(event.position().x()))
            event.accept()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self.isSliderDown():
            self.setSliderPosition(self._value_at(event.position().x()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self.isSliderDown():
            self.setSliderDown(False)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        self.setValue(0)

    def _value_at(self, x: float) -> int:
        edge = self._look.px(EDGE)
        place = (x - edge) / max(1.0, self.width() - 2.0 * edge)
        return round(self.minimum() + place * (self.maximum() - self.minimum()))

    def _x(self, value: float) -> float:
        edge = self._look.px(EDGE)
        share = (value - self.minimum()) / (self.maximum() - self.minimum())
        return edge + share * (self.width() - 2 * edge)

    def paintEvent(self, event: QPaintEvent) -> None:
        option = QStyleOptionSlider()
        self.initStyleOption(option)
        painter = QPainter(self)
        look, theme = self._look, self._look.theme
        y = on_pixel(painter, self.height() / 2)
        painter.setPen(square(theme.edge, hairline(painter)))
        painter.drawLine(QPointF(self._x(self.minimum()), y), QPointF(self._x(self.maximum()), y))
        for percent in range(self.minimum(), self.maximum() + 1, 10):
            half = look.px(6 if percent == 0 else 2)
            x = on_pixel(painter, self._x(percent))
            painter.drawLine(QPointF(x, y - half), QPointF(x, y + half))
        is_on = bool(option.state & QStyle.StateFlag.State_Enabled)
        ink = theme.ink if is_on else theme.edge
        start, end = sorted((self._x(0), self._x(self.sliderPosition())))
        filled_bar(painter, start, y - look.px(1.5), end - start, look.px(3), ink)
        width, height = look.px(5), look.px(18)
        filled_bar(painter, self._x(self.sliderPosition()) - width / 2, y - height / 2, width, height, ink)
        if self.hasFocus():
            draw_focus_ring(painter, QRectF(self.rect()), theme, look.unit)
        painter.end()
