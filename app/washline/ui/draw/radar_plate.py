"""The part of the radar that a figure does not move: band, spokes with their ticks, and the ideal circle."""

from PySide6.QtCore import QLineF, QPointF, QSizeF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPixmap

from washline.presentation.radar import RadarShape
from washline.presentation.radar_layout import RadarLayout
from washline.presentation.shape import (
    BAND_INNER_RADIUS,
    BAND_OUTER_RADIUS,
    FLOOR_RADIUS,
    IDEAL_RADIUS,
    RADIUS_PER_SHARE,
    axis_direction,
    share_radius,
)
from washline.presentation.strip import spaced_ticks
from washline.ui.draw.pens import hairline, on_pixel, solid
from washline.ui.theme import Theme

_TICK_HALF = 3.0
_CLOSEST_TICKS = 4.0
_UPRIGHT = 1e-9


def draw_plate(
    painter: QPainter, place: RadarLayout, shape: RadarShape, theme: Theme, unit: float = 1.0
) -> None:
    """Draw the plate at its place; the painter's antialiasing must be on."""
    sketch = _Plate(painter, place, unit)
    sketch.band(theme)
    sketch.spokes(shape, theme)
    sketch.ideal(theme)


def plate_picture(
    size: QSizeF,
    device_pixel_ratio: float,
    place: RadarLayout,
    shape: RadarShape,
    theme: Theme,
    unit: float = 1.0,
) -> QPixmap:
    """The plate as a picture on the sheet's colour, for a window that draws it again at every keystroke."""
    picture = QPixmap((size * device_pixel_ratio).toSize())
    picture.setDevicePixelRatio(device_pixel_ratio)
    picture.fill(theme.sheet)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    draw_plate(painter, place, shape, theme, unit)
    painter.end()
    return picture


class _Plate:
    def __init__(self, painter: QPainter, place: RadarLayout, unit: float) -> None:
        self._painter = painter
        self._place = place
        self._unit = unit
        self._centre = QPointF(place.x, place.y)

    def _px(self, radius: float) -> float:
        return radius * self._place.radius

    def band(self, theme: Theme) -> None:
        """The ring that the house allows, with its two edges."""
        painter = self._painter
        ring = QPainterPath()
        for radius in (BAND_OUTER_RADIUS, BAND_INNER_RADIUS):
            ring.addEllipse(self._centre, self._px(radius), self._px(radius))
        painter.fillPath(ring, theme.faded("band", 0.78))
        edge = QColor(theme.target)
        edge.setAlphaF(1.0 if theme.is_high_contrast else 0.42)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(solid(edge, hairline(painter)))
        painter.drawPath(ring)

    def spokes(self, shape: RadarShape, theme: Theme) -> None:
        """The spokes, and across them a tick at every house step, every second one where there are nine or ten."""
        painter, thin = self._painter, hairline(self._painter)
        places_per_px = 1 / (RADIUS_PER_SHARE * self._place.radius)
        closest = _CLOSEST_TICKS * self._unit
        every = 2 if shape.is_dense else 1
        spokes: list[QLineF] = []
        ticks: list[QLineF] = []
        for index, axis in enumerate(shape.axes):
            across, down = axis_direction(index, len(shape.axes))
            spokes.append(self._spoke(across, down))
            if not shape.words_only:
                shares = spaced_ticks(axis.band, places_per_px, every=every, closest_px=closest)
                ticks += [self._tick(across, down, share_radius(share)) for share in shares]
        painter.setPen(solid(theme.ink3 if theme.is_high_contrast else theme.faded("rule2", 0.85), thin))
        painter.drawLines(spokes)
        painter.setPen(solid(theme.rule2, thin))
        painter.drawLines(ticks)

    def ideal(self, theme: Theme) -> None:
        """The circle that a drink on target draws."""
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.setPen(solid(theme.target, 1.5 * self._unit))
        self._painter.drawEllipse(self._centre, self._px(IDEAL_RADIUS), self._px(IDEAL_RADIUS))

    def _spoke(self, across: float, down: float) -> QLineF:
        start, end = self._px(FLOOR_RADIUS), self._px(1.0)
        x, y = self._place.x, self._place.y
        if abs(across) < _UPRIGHT:
            x = on_pixel(self._painter, x)
        if abs(down) < _UPRIGHT:
            y = on_pixel(self._painter, y)
        return QLineF(x + across * start, y + down * start, x + across * end, y + down * end)

    def _tick(self, across: float, down: float, radius: float) -> QLineF:
        half = _TICK_HALF * self._unit
        x, y = self._place.x + across * self._px(radius), self._place.y + down * self._px(radius)
        if abs(across) < _UPRIGHT:
            y = on_pixel(self._painter, y)
        if abs(down) < _UPRIGHT:
            x = on_pixel(self._painter, x)
        return QLineF(x - down * half, y + across * half, x + down * half, y - across * half)
