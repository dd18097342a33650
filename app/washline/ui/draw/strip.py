"""Band strips: flat beside a reading, upright at the end of a curve."""

from functools import lru_cache

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from washline.presentation.shape import Band
from washline.presentation.strip import BandStrip, spaced_ticks, spread_places, strip_place, value_place
from washline.ui.draw.pens import device_ratio, filled_bar, hairline, is_raster, on_pixel, solid, square
from washline.ui.draw.radar import diamond
from washline.ui.theme import Theme

BRACKET_HEIGHT = 12.0
TICK_HEIGHT = 16.0
TICK_WIDTH = 2.4
BRACKET_WIDTH = 1.3
IDEAL_WIDTH = 1.2
FOOT = 3.0
NARROWEST_WITH_TICKS = 90.0


def draw_strip(painter: QPainter, rect: QRectF, strip: BandStrip, theme: Theme, unit: float = 1.0) -> None:
    """Draw a strip over the whole width of ``rect``, centred on its height; ``unit`` is 1 at 100 %.

    An unknown value draws no tick: the band then stands alone, and the words beside it say ``?``.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    sketch = _FlatStrip(painter, rect, strip, theme, unit)
    sketch.scale()
    sketch.band()
    sketch.marks()
    painter.restore()


class _FlatStrip:
    def __init__(self, painter: QPainter, rect: QRectF, strip: BandStrip, theme: Theme, unit: float) -> None:
        self._painter = painter
        self._rect = rect
        self._strip = strip
        self._theme = theme
        self._unit = unit
        self._y = on_pixel(painter, rect.center().y())

    def scale(self) -> None:
        """The hairline, with a short tick at every house step."""
        painter, thin = self._painter, hairline(self._painter)
        painter.setPen(square(self._theme.rule2, thin))
        painter.drawLine(QLineF(self._rect.left(), self._y, self._rect.right(), self._y))
        if self._rect.width() < NARROWEST_WITH_TICKS * self._unit:
            return
        half = 1.5 * self._unit
        ratio = device_ratio(painter) if is_raster(painter) else None
        centre = self._rect.center().x()
        ticks = _tick_places(self._strip.band, centre, self._rect.width(), self._unit, ratio)
        painter.drawLines([QLineF(x, self._y - half, x, self._y + half) for x in ticks])

    def band(self) -> None:
        """The brackets on the band's edges and the thin mark of the ideal, always at the same three places."""
        painter, unit = self._painter, self._unit
        half = BRACKET_HEIGHT / 2 * unit
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(square(self._theme.target, IDEAL_WIDTH * unit))
        middle = on_pixel(painter, self._x(0.0))
        painter.drawLine(QLineF(middle, self._y - half, middle, self._y + half))
        painter.setPen(square(self._theme.target, BRACKET_WIDTH * unit))
        for share, inward in ((-1.0, 1.0), (1.0, -1.0)):
            x = on_pixel(painter, self._x(strip_place(share)))
            painter.drawPath(_bracket(x, self._y - half, self._y + half, inward * FOOT * unit))

    def marks(self) -> None:
        """What moves: the value before typing, the parent, a proposal, and this drink above all."""
        strip, unit, theme, painter = self._strip, self._unit, self._theme, self._painter
        before, parent = value_place(strip.band, strip.before), value_place(strip.band, strip.parent)
        if before is not None:
            painter.setPen(solid(theme.ink3, 1.2 * unit))
            painter.setBrush(theme.sheet)
            painter.drawEllipse(QPointF(self._x(before), self._y), 2.8 * unit, 2.8 * unit)
        if parent is not None:
            painter.setPen(solid(theme.parent, 1.2 * unit))
            painter.setBrush(theme.sheet)
            painter.drawPolygon(diamond(QPointF(self._x(parent), self._y), 3.8 * unit))
        self._spread()
        self._tick(value_place(strip.band, strip.value), theme.drink)
        self._tick(value_place(strip.band, strip.proposal), theme.preview)

    def _spread(self) -> None:
        ends = spread_places(self._strip)
        if ends is None:
            return
        left, right = (self._x(place) for place in ends)
        colour = QColor(self._theme.drink)
        colour.setAlphaF(0.62)
        height = 2.0 * self._unit
        filled_bar(self._painter, left, self._y - height / 2, right - left, height, colour)

    def _tick(self, place: float | None, colour: QColor) -> None:
        if place is None:
            return
        width, height = TICK_WIDTH * self._unit, TICK_HEIGHT * self._unit
        left = min(max(self._x(place) - width / 2, self._rect.left()), self._rect.right() - width)
        filled_bar(self._painter, left, self._y - height / 2, width, height, colour)

    def _x(self, place: float) -> float:
        return self._rect.center().x() + place * self._rect.width() / 2


@lru_cache(maxsize=512)
def _tick_places(
    band: Band, centre: float, width: float, unit: float, ratio: float | None
) -> tuple[float, ...]:
    """Where the house steps stand, on device pixels where there are any: the same at every key, so they are kept."""
    places_per_px = 2 / (strip_place(1.0) * width)
    shares = spaced_ticks(band, places_per_px, closest_px=4.0 * unit)
    places = [centre + strip_place(share) * width / 2 for share in shares]
    return tuple(places if ratio is None else ((int(x * ratio // 1) + 0.5) / ratio for x in places))


def _bracket(x: float, top: float, bottom: float, foot: float) -> QPainterPath:
    path = QPainterPath(QPointF(x + foot, top))
    path.lineTo(x, top)
    path.lineTo(x, bottom)
    path.lineTo(x + foot, bottom)
    return path


def draw_upright_strip(
    painter: QPainter,
    x: float,
    low_y: float,
    ideal_y: float,
    high_y: float,
    value_y: float | None,
    theme: Theme,
    unit: float = 1.0,
) -> None:
    """Draw the strip at the end of a curve, upright, in the curve's own scale.

    ``low_y``, ``ideal_y``, ``high_y`` and ``value_y`` are heights of the lane in the painter's coordinates; ``x`` is the
    strip's middle. A band too narrow for its scale is drawn two pixels high, so that both brackets stay two.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    half = 8.5 * unit
    lower, upper = on_pixel(painter, low_y), on_pixel(painter, high_y)
    if lower - upper < 2 / device_ratio(painter):
        upper = lower - 2 / device_ratio(painter)
    painter.setPen(square(theme.target, IDEAL_WIDTH * unit))
    middle = on_pixel(painter, ideal_y)
    painter.drawLine(QLineF(x - half * 0.6, middle, x + half * 0.6, middle))
    painter.setPen(square(theme.target, BRACKET_WIDTH * unit))
    for y, inward in ((lower, -1.0), (upper, 1.0)):
        foot = min(FOOT * unit, (lower - upper) / 2.4)
        path = QPainterPath(QPointF(x - half, y + inward * foot))
        path.lineTo(x - half, y)
        path.lineTo(x + half, y)
        path.lineTo(x + half, y + inward * foot)
        painter.drawPath(path)
    if value_y is not None:
        width, height = 22.0 * unit, TICK_WIDTH * unit
        filled_bar(painter, x - width / 2, value_y - height / 2, width, height, theme.drink)
    painter.restore()
