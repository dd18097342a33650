"""Draws what a method makes of a reference drink, second by second: water taken up, and the temperature."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from washline.presentation.house_data_melt import MeltCurve, at
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle, format_number, format_quantity
from washline.ui.appearance import Appearance
from washline.ui.draw.pens import dashed, hairline, solid

WIDTH, HEIGHT, NARROWEST = 470.0, 176.0, 290.0
_LEFT, _RIGHT, _FOOT, _TOP, _AIR = 96.0, 66.0, 24.0, 6.0, 9.0
_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0, 120.0, 300.0)
_MOST_TICKS = 7


class MeltPicture(QWidget):
    """Paints a ``MeltCurve``; nothing where there is none. Its words stand beside it."""

    def __init__(
        self, look: Appearance, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._look, self._style = look, style
        self._curve: MeltCurve | None = None
        self.setAccessibleName("Melt and temperature over time")
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)

    @property
    def curve(self) -> MeltCurve | None:
        """What is painted."""
        return self._curve

    def set_curve(self, curve: MeltCurve | None) -> None:
        """Shows another method."""
        self._curve = curve
        self.setAccessibleDescription("" if curve is None else curve.sentence)
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(WIDTH), self._look.px(HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(NARROWEST), self._look.px(HEIGHT))

    # Where all stands

    def _lane(self, number: int) -> QRectF:
        px = self._look.px
        high = (self.height() - px(_FOOT + _TOP)) / 2
        return QRectF(px(_LEFT), px(_TOP) + number * high, self.width() - px(_LEFT + _RIGHT), high)

    def _x(self, seconds: float, lane: QRectF) -> float:
        assert self._curve is not None
        return lane.left() + lane.width() * min(seconds / self._curve.seconds[-1], 1.0)

    def _y(self, value: float, span: tuple[float, float], lane: QRectF) -> float:
        low, high = span
        air = self._look.px(_AIR)
        return lane.bottom() - air - (value - low) / ((high - low) or 1.0) * (lane.height() - 2 * air)

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        curve = self._curve
        if curve is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        theme = self._look.theme
        self._paint_usual(painter, curve)
        self._paint_lane(painter, 0, "taken up", "g", curve.melted_g, theme.drink, is_dashed=False)
        self._paint_lane(painter, 1, "temperature", "°C", curve.end_c, theme.parent, is_dashed=True)
        self._paint_seconds(painter, curve)
        painter.end()

    def _paint_usual(self, painter: QPainter, curve: MeltCurve) -> None:
        """The usual time as a band behind both curves."""
        if curve.usual_s is None:
            return
        top, bottom = self._lane(0), self._lane(1)
        left, right = (self._x(time, top) for time in curve.usual_s)
        width = max(right - left, self._look.px(2))
        painter.fillRect(QRectF(left, top.top(), width, bottom.bottom() - top.top()), self._look.theme.select)

    def _paint_lane(
        self,
        painter: QPainter,
        number: int,
        name: str,
        unit: str,
        values: Sequence[float],
        colour: QColor,
        *,
        is_dashed: bool,
    ) -> None:
        curve, look, theme, fonts = self._curve, self._look, self._look.theme, self._look.fonts
        assert curve is not None
        lane = self._lane(number)
        rest = (curve.rest_g, curve.rest_c)[number]
        span = min(0.0, *values, rest), max(0.0, *values, rest)
        zero = self._y(0.0, span, lane)
        painter.fillRect(QRectF(lane.left(), zero, lane.width(), hairline(painter)), theme.rule2)
        self._text(painter, QPointF(0, lane.center().y() - look.px(8)), name, fonts.row, theme.ink)
        self._text(painter, QPointF(0, lane.center().y() + look.px(9)), unit, fonts.header, theme.ink2)
        decimals = number
        first = format_number(values[0], decimals, self._style)
        first_width = fonts.width(fonts.figure, first)
        place = QPointF(lane.left() - look.px(8) - first_width, self._y(values[0], span, lane))
        self._text(painter, place, first, fonts.figure, theme.ink2)
        points = [
            QPointF(self._x(second, lane), self._y(value, span, lane))
            for second, value in zip(curve.seconds, values, strict=True)
        ]
        width = 1.8 * look.unit
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(
            dashed(colour, width, (6 * look.unit, 3 * look.unit)) if is_dashed else solid(colour, width)
        )
        painter.drawPolyline(QPolygonF(points))
        last = format_number(values[-1], decimals, self._style)
        self._text(
            painter, QPointF(lane.right() + look.px(10), points[-1].y()), last, fonts.figure_strong, theme.ink
        )
        if curve.at_s is not None and curve.at_s <= curve.seconds[-1]:
            self._paint_mark(painter, lane, span, curve.at_s, values, colour)

    def _paint_mark(
        self,
        painter: QPainter,
        lane: QRectF,
        span: tuple[float, float],
        seconds: float,
        values: Sequence[float],
        colour: QColor,
    ) -> None:
        """Where the drink stands when nobody said how long."""
        assert self._curve is not None
        place = QPointF(self._x(seconds, lane), self._y(at(seconds, self._curve, values), span, lane))
        painter.setPen(solid(colour, 1.6 * self._look.unit))
        painter.setBrush(self._look.theme.sheet)
        painter.drawEllipse(place, self._look.px(4), self._look.px(4))

    def _paint_seconds(self, painter: QPainter, curve: MeltCurve) -> None:
        look, theme, lane = self._look, self._look.theme, self._lane(1)
        painter.fillRect(QRectF(lane.left(), lane.bottom(), lane.width(), hairline(painter)), theme.rule2)
        last = curve.seconds[-1]
        step = next((one for one in _STEPS if last / one <= _MOST_TICKS), _STEPS[-1])
        second = 0.0
        while second <= last + 1e-9:
            x = self._x(second, lane)
            painter.fillRect(QRectF(x, lane.bottom(), hairline(painter), look.px(4)), theme.rule2)
            text = format_quantity(second, 0, "s", self._style) if second == 0.0 else f"{second:.0f}"
            width = look.fonts.width(look.fonts.header, text)
            place = QPointF(x - width / 2, lane.bottom() + look.px(14))
            self._text(painter, place, text, look.fonts.header, theme.ink3)
            second += step

    def _text(self, painter: QPainter, place: QPointF, text: str, font: QFont, colour: QColor) -> None:
        """A text whose middle is at a height."""
        metrics = self._look.fonts.metrics(font)
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawText(QPointF(place.x(), place.y() + (metrics.ascent() - metrics.descent()) / 2), text)
