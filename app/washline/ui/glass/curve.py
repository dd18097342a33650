"""Draws a drink on ice over the minutes: a lane for strength, sweetness, acidity and temperature, each with its own scale.

Importing this module imports pyqtgraph; the window does so after its first paint.
"""

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize, Slot
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import QSizePolicy, QStyleOptionGraphicsItem, QVBoxLayout, QWidget

from washline.presentation.serving import LANES, ServingCurves, ServingLane
from washline.ui.appearance import Appearance
from washline.ui.draw.pens import hairline
from washline.ui.flow.draw_flow import draw_text
from washline.ui.plot import CurveStyle, PlotItemBase, StillPlot, ValueCurve

LANE = 52.0
FOOT = 24.0
_LABEL_WIDTH = 110.0
_FIGURE_GAP = 8.0
_AIR = 9.0
_TICK_MINUTES = 5.0
_TOKENS: Mapping[str, str] = {
    "strength": "ethanol",
    "sweetness": "sugar",
    "acidity": "acid",
    "chill": "parent",
}
_PATTERNS: Mapping[str, tuple[float, ...]] = {
    "strength": (),
    "sweetness": (6.0, 3.0),
    "acidity": (2.0, 2.5),
    "chill": (8.0, 2.5, 2.0, 2.5),
}


class _Marks(PlotItemBase):
    """All that is not a curve: names, figures, rules and minutes."""

    def __init__(self, widget: "ServingCurve") -> None:
        super().__init__()
        self._widget = widget

    def boundingRect(self) -> QRectF:
        return QRectF(0, 0, self._widget.width(), self._widget.height())

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        self._widget.paint_marks(painter)
        painter.restore()


class ServingCurve(QWidget):
    """Shows ``ServingCurves``; the same figures stand in a table beside it."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._curves: ServingCurves | None = None
        self._ratio = 0.0
        self.setAccessibleName("Serving over time")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.plot = StillPlot(look.theme, self)
        self.plot.setAccessibleName("Curves over the minutes")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.plot)
        self._lines = {key: ValueCurve(self._style(key), mark_size=0) for key in LANES}
        for line in self._lines.values():
            self.plot.add(line, 2.0)
        self._marks = _Marks(self)
        self.plot.add(self._marks, 3.0)
        self.plot.pixels_changed.connect(self._lay_out)
        self.set_appearance(look)

    @property
    def curves(self) -> ServingCurves | None:
        """What is shown."""
        return self._curves

    def set_curves(self, curves: ServingCurves | None) -> None:
        """Shows other figures."""
        self._curves = curves
        self.setAccessibleDescription("" if curves is None else curves.sentence)
        self._lay_out()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.plot.set_theme(look.theme)
        self.setFixedHeight(look.px(LANE * len(LANES) + FOOT))
        self._restyle()
        self._lay_out()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(460), self.height())

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(280), self.height())

    def _style(self, key: str) -> CurveStyle:
        return CurveStyle(self._look.theme.colour(_TOKENS[key]), 1.8 * self._look.unit, _PATTERNS[key])

    def _restyle(self) -> None:
        self._ratio = self.devicePixelRatioF()
        for key, line in self._lines.items():
            line.set_style(self._style(key), self._ratio)

    @Slot()
    def _lay_out(self) -> None:
        if self._ratio != self.devicePixelRatioF():
            self._restyle()
        for number, key in enumerate(LANES):
            lane = self._lane(key)
            if self._curves is None or lane is None:
                self._lines[key].set_values((), ())
                continue
            xs = [self._x(minute) for minute in self._curves.minutes]
            self._lines[key].set_values(
                xs, [None if value is None else self._y(number, lane, value) for value in lane.values]
            )
        self._marks.prepareGeometryChange()
        self._marks.update()

    def _lane(self, key: str) -> ServingLane | None:
        lanes = self._curves.lanes if self._curves is not None else ()
        return next((lane for lane in lanes if lane.key == key), None)

    # Where all stands

    @property
    def _left(self) -> float:
        return self._look.px(_LABEL_WIDTH) + self._figure_width

    @property
    def _right(self) -> float:
        return self.width() - self._figure_width

    @property
    def _figure_width(self) -> float:
        """Room for the widest figure, before the curve and behind it."""
        fonts = self._look.fonts
        lanes = self._curves.lanes if self._curves is not None else ()
        texts = [fonts.width(fonts.figure_strong, text) for lane in lanes for text in (lane.first, lane.last)]
        return max(texts, default=0.0) + self._look.px(_FIGURE_GAP + 4)

    def _x(self, minute: float) -> float:
        last = self._curves.minutes[-1] if self._curves is not None and self._curves.minutes else 1.0
        return self._left + minute / (last or 1.0) * (self._right - self._left)

    def _y(self, number: int, lane: ServingLane, value: float) -> float:
        px = self._look.px
        bottom = px(LANE * (number + 1) - _AIR)
        room = px(LANE - 2 * _AIR)
        return bottom - (value - lane.low) / (lane.high - lane.low) * room

    # Painting

    def paint_marks(self, painter: QPainter) -> None:
        """Paints all but the curves."""
        if self._curves is None:
            return
        look, theme = self._look, self._look.theme
        for number, lane in enumerate(self._curves.lanes):
            self._paint_lane(painter, number, lane)
        foot = look.px(LANE * len(LANES))
        painter.fillRect(QRectF(0, foot, self.width(), hairline(painter)), theme.rule)
        minute = 0.0
        while self._curves.minutes and minute <= self._curves.minutes[-1] + 1e-9:
            x = self._x(minute)
            painter.fillRect(QRectF(x, foot, hairline(painter), look.px(4)), theme.rule2)
            text = f"{minute:.0f} min" if minute == 0.0 else f"{minute:.0f}"
            self._text(painter, x, foot + look.px(14), text, look.fonts.header, "ink3")
            minute += _TICK_MINUTES

    def _paint_lane(self, painter: QPainter, number: int, lane: ServingLane) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        top, middle = look.px(LANE * number), look.px(LANE * (number + 0.5))
        if number:
            painter.fillRect(QRectF(0, top, self.width(), hairline(painter)), theme.rule)
        draw_text(painter, fonts, 0, middle - look.px(8), lane.name, fonts.row, theme.ink)
        draw_text(painter, fonts, 0, middle + look.px(9), lane.unit, fonts.header, theme.ink2)
        if lane.low < 0.0 < lane.high:
            zero = self._y(number, lane, 0.0)
            painter.fillRect(
                QRectF(self._left, zero, self._right - self._left, hairline(painter)), theme.rule2
            )
        known = [value for value in lane.values if value is not None]
        if not known:
            draw_text(painter, fonts, self._left, middle, "not known", fonts.header, theme.ink3)
            return
        gap = look.px(_FIGURE_GAP)
        first, last = self._y(number, lane, known[0]), self._y(number, lane, known[-1])
        width = fonts.width(fonts.figure, lane.first)
        draw_text(painter, fonts, self._left - gap - width, first, lane.first, fonts.figure, theme.ink2)
        draw_text(painter, fonts, self._right + gap, last, lane.last, fonts.figure_strong, theme.ink)

    def _text(self, painter: QPainter, x: float, y: float, text: str, font: QFont, token: str) -> None:
        fonts = self._look.fonts
        width = fonts.width(font, text)
        draw_text(painter, fonts, x - width / 2, y, text, font, self._look.theme.colour(token))
