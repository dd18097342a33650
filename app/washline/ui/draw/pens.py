"""Pens and places that look the same at every scale: hairlines of one device pixel, lines set on pixel centres."""

import struct
from collections.abc import Iterable, Sequence

from PySide6.QtCore import QByteArray, QDataStream, Qt
from PySide6.QtGui import QColor, QPaintEngine, QPainter, QPainterPath, QPen, QPolygonF

from washline.presentation.shape import Run

_VECTOR_HAIRLINE = 0.7
_RASTER_ENGINES = (QPaintEngine.Type.Raster, QPaintEngine.Type.OpenGL2)


def device_ratio(painter: QPainter) -> float:
    """Device pixels for one unit of the painter's coordinates: screen scale times the painter's own."""
    transform = painter.worldTransform()
    own = (abs(transform.determinant())) ** 0.5
    return float(painter.device().devicePixelRatioF() * own)


def is_raster(painter: QPainter) -> bool:
    """Whether the painter fills pixels; on paper and in vector files there are none to align to."""
    return painter.paintEngine().type() in _RASTER_ENGINES


def hairline(painter: QPainter) -> float:
    """The width of a hairline: one device pixel in a window; 0.7 on paper and in a picture drawn enlarged."""
    own = abs(painter.worldTransform().determinant()) ** 0.5
    if not is_raster(painter) or own > 1.01:
        return _VECTOR_HAIRLINE
    return 1 / device_ratio(painter)


def on_pixel(painter: QPainter, place: float) -> float:
    """``place`` moved to the nearest centre of a device pixel, for a line of odd device width that must be sharp."""
    if not is_raster(painter):
        return place
    ratio = device_ratio(painter)
    return (int(place * ratio // 1) + 0.5) / ratio


def on_edge(painter: QPainter, place: float) -> float:
    """``place`` moved to the nearest edge between device pixels, for the side of a filled bar."""
    if not is_raster(painter):
        return place
    ratio = device_ratio(painter)
    return round(place * ratio) / ratio


def whole_pixels(painter: QPainter, length: float) -> float:
    """``length`` rounded to whole device pixels, one at least."""
    if not is_raster(painter):
        return length
    ratio = device_ratio(painter)
    return max(round(length * ratio), 1) / ratio


def solid(colour: QColor, width: float) -> QPen:
    """A solid line with round ends and joins."""
    return QPen(colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)


def square(colour: QColor, width: float) -> QPen:
    """A solid line with square corners and flat ends: brackets, ticks, walls."""
    return QPen(colour, width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.MiterJoin)


def dashed(colour: QColor, width: float, pattern: Sequence[float]) -> QPen:
    """A dashed line; ``pattern`` gives dash and gap in the painter's units, not in line widths as Qt has it."""
    pen = QPen(colour, width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin)
    pen.setDashPattern([length / width for length in pattern])
    return pen


def dotted(colour: QColor, width: float, spacing: float) -> QPen:
    """A line of round dots ``spacing`` apart from centre to centre."""
    pen = QPen(colour, width, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin)
    pen.setDashPattern([0.01, spacing / width - 0.01])
    return pen


def filled_bar(painter: QPainter, x: float, y: float, width: float, height: float, colour: QColor) -> None:
    """A bar without outline, its sides on device pixels; equal bars stay equal wherever they stand."""
    left, top = on_edge(painter, x), on_edge(painter, y)
    across, down = whole_pixels(painter, width), whole_pixels(painter, height)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    path = QPainterPath()
    path.addRect(left, top, across, down)
    painter.fillPath(path, colour)
    painter.restore()


def run_path(runs: Iterable[Run], x: float, y: float, radius: float) -> QPainterPath:
    """The runs of an outline as a path around a centre."""
    path = QPainterPath()
    for run in runs:
        path.addPolygon(run_polygon(run, x, y, radius))
        if run.is_closed:
            path.closeSubpath()
    return path


def run_polygon(run: Run, x: float, y: float, radius: float) -> QPolygonF:
    """One run as a polygon around a centre.

    The points go over as bytes, a quarter of the time that as many point objects take.
    """
    count = len(run.points)
    numbers = (number for px, py in run.points for number in (x + px * radius, y + py * radius))
    stream = QDataStream(QByteArray(struct.pack(f">I{2 * count}d", count, *numbers)))
    polygon = QPolygonF()
    stream >> polygon
    return polygon
