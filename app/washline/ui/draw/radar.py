"""The radar, drawn with a QPainter alone: the same for the window, a picture and paper."""

from collections.abc import Callable, Iterable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from washline.presentation.radar import RadarCurves, RadarShape, SoftBand, radar_curves
from washline.presentation.radar_layout import Pane, RadarLayout, solve_layout
from washline.presentation.shape import IDEAL_RADIUS, Run
from washline.ui.draw.pens import dashed, dotted, run_path, solid
from washline.ui.draw.radar_labels import draw_labels, label_line_height, measure_labels
from washline.ui.draw.radar_plate import draw_plate
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme


def radar_layout(
    rect: QRectF, shape: RadarShape, fonts: Fonts, keep: RadarLayout | None = None
) -> RadarLayout | None:
    """The place of the radar in ``rect``, from the measured labels; ``None`` when it does not fit or has too few axes.

    Coordinates are relative to the top left of ``rect``. ``keep`` is the place held so far while a figure is typed.
    """
    if not shape.has_radar:
        return None
    pane = Pane(rect.width(), rect.height(), fonts.unit, label_line_height(fonts), shape.words_only)
    return solve_layout(pane, measure_labels(shape, fonts), keep)


def draw_radar(
    painter: QPainter,
    rect: QRectF,
    shape: RadarShape,
    theme: Theme,
    fonts: Fonts,
    *,
    layout: RadarLayout | None = None,
    curves: RadarCurves | None = None,
    plate: QPixmap | None = None,
    current_axis: int | None = None,
) -> bool:
    """Draw the radar into ``rect``; False when it does not fit there, and then nothing is drawn.

    ``layout`` and ``curves`` may be handed in when they are known already (``radar_layout``, ``radar_curves``),
    ``plate`` when a picture of it was kept (``plate_picture``), which spares a window a third of the time.
    ``current_axis`` is the axis with the keyboard focus. The painter is left as it was found.
    """
    place = layout or radar_layout(rect, shape, fonts)
    if place is None:
        return False
    known = curves or radar_curves(shape)
    painter.save()
    painter.translate(rect.topLeft())
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    if plate is None:
        draw_plate(painter, place, shape, theme, fonts.unit)
    else:
        painter.drawPixmap(QPointF(0, 0), plate)
    sketch = _Sketch(painter, shape, theme, place, known, fonts.unit)
    sketch.fill()
    sketch.shapes()
    sketch.vertices()
    if current_axis is not None:
        sketch.focus(current_axis)
    draw_labels(painter, place, shape, theme, fonts)
    painter.restore()
    return True


class _Sketch:
    """One drawing in progress, in pixels with the origin at the top left of its pane."""

    def __init__(
        self,
        painter: QPainter,
        shape: RadarShape,
        theme: Theme,
        place: RadarLayout,
        curves: RadarCurves,
        unit: float,
    ) -> None:
        self._painter = painter
        self._shape = shape
        self._theme = theme
        self._place = place
        self._curves = curves
        self._unit = unit

    def fill(self) -> None:
        """The inside of the drink's shape, and of a proposal's."""
        if self._curves.drink:
            self._painter.fillPath(self._wedges(self._curves.drink), self._theme.faded("drink", 0.055))
        if self._curves.proposal:
            self._painter.fillPath(self._wedges(self._curves.proposal), self._theme.faded("preview", 0.10))

    def shapes(self) -> None:
        """Soft edge, then the lines from the faintest to the drink's own."""
        unit, theme, curves = self._unit, self._theme, self._curves
        for band in curves.soft_edge:
            self._painter.fillPath(self._soft_path(band), theme.faded("drink", band.opacity))
        self._line(curves.before, "ink3", lambda colour: dotted(colour, 1.6 * unit, 3.6 * unit))
        self._line(curves.parent, "parent", lambda colour: dashed(colour, 1.5 * unit, (7 * unit, 4 * unit)))
        self._line(curves.drink, "drink", lambda colour: solid(colour, 2.2 * unit))
        self._line(curves.proposal, "preview", lambda colour: dotted(colour, 2.2 * unit, 4.2 * unit))

    def vertices(self) -> None:
        """The marks on the axes: only these are data."""
        shape, unit = self._shape, self._unit
        small = 0.85 if shape.is_dense or shape.words_only else 1.0
        for point in self._points(shape.before):
            self._ring(point, 2.7 * unit * small, "ink3", 1.2 * unit)
        for point in self._points(shape.parent):
            self._diamond(point, 4.0 * unit * small)
        if not shape.is_empty:
            self._dots(3.8 * unit * small)
        for point in self._points(shape.proposal):
            self._ring(point, 3.3 * unit * small, "preview", 1.5 * unit)

    def focus(self, index: int) -> None:
        """The ring of the keyboard focus round a vertex, or on the ideal where the reading is not known."""
        radius = self._curves.drink_radii[index]
        point = QPointF(*self._place.axis_point(index, IDEAL_RADIUS if radius is None else radius))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.setPen(solid(self._theme.focus, 2 * self._unit))
        self._painter.drawEllipse(point, 11 * self._unit, 11 * self._unit)

    def _points(self, values: Sequence[float | None] | None) -> list[QPointF]:
        radii = self._shape.radii(values)
        return [
            QPointF(*self._place.axis_point(index, radius))
            for index, radius in enumerate(radii)
            if radius is not None
        ]

    def _wedges(self, runs: Iterable[Run]) -> QPainterPath:
        """The inside of an outline; an open run is closed over the centre, so that a gap stays a gap."""
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.WindingFill)
        for run in runs:
            piece = run_path((run,), *self._at)
            if not run.is_closed:
                piece.lineTo(self._place.x, self._place.y)
            piece.closeSubpath()
            path.addPath(piece)
        return path

    @property
    def _at(self) -> tuple[float, float, float]:
        return self._place.x, self._place.y, self._place.radius

    def _soft_path(self, band: SoftBand) -> QPainterPath:
        path = QPainterPath()
        path.setFillRule(Qt.FillRule.OddEvenFill)
        for outer, inner in zip(band.outer, band.inner, strict=True):
            if outer.is_closed:
                path.addPath(run_path((outer, inner), *self._at))
                continue
            there_and_back = Run(outer.points + tuple(reversed(inner.points)), is_closed=True)
            path.addPath(run_path((there_and_back,), *self._at))
        return path

    def _line(self, runs: tuple[Run, ...], token: str, pen: Callable[[QColor], QPen]) -> None:
        if not runs:
            return
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.setPen(pen(self._theme.colour(token)))
        self._painter.drawPath(run_path(runs, *self._at))

    def _dots(self, size: float) -> None:
        painter, theme, unit = self._painter, self._theme, self._unit
        for index, radius in enumerate(self._curves.drink_radii):
            if radius is None:
                continue
            point = QPointF(*self._place.axis_point(index, radius))
            if self._shape.axes[index].is_out and not self._shape.words_only:
                self._ring(
                    point, (6.2 if self._shape.is_dense else 7.2) * unit, "drink", 1.4 * unit, is_filled=False
                )
            painter.setPen(solid(theme.sheet, 1.2 * unit))
            painter.setBrush(theme.drink)
            painter.drawEllipse(point, size, size)

    def _ring(self, point: QPointF, size: float, token: str, width: float, *, is_filled: bool = True) -> None:
        self._painter.setPen(solid(self._theme.colour(token), width))
        self._painter.setBrush(self._theme.sheet if is_filled else Qt.BrushStyle.NoBrush)
        self._painter.drawEllipse(point, size, size)

    def _diamond(self, point: QPointF, half: float) -> None:
        self._painter.setPen(solid(self._theme.parent, 1.3 * self._unit))
        self._painter.setBrush(self._theme.sheet)
        self._painter.drawPolygon(diamond(point, half))


def diamond(point: QPointF, half: float) -> QPolygonF:
    """The diamond that marks a parent, ``half`` from centre to corner."""
    corners = ((0.0, -half), (half, 0.0), (0.0, half), (-half, 0.0))
    return QPolygonF([QPointF(point.x() + x, point.y() + y) for x, y in corners])
