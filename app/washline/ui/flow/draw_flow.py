"""Paints a flow picture that is laid out: bands, bars, labels, heads, the scale bar. For window and files."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPainterPath, QPen

from washline.presentation.flow_graph import Band, Tint
from washline.presentation.flow_layout import HEAD, FlowPlaces, Measure, PlacedBand, PlacedNode
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed
from washline.ui.draw.pens import dashed, filled_bar, hairline, solid, square
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

_FILLS: dict[Tint, tuple[str, float]] = {
    Tint.RAW: ("ink3", 0.26),
    Tint.SUGAR: ("sugar", 0.32),
    Tint.MAIN: ("drink", 0.26),
    Tint.LEFTOVER: ("acid", 0.30),
    Tint.AWAY: ("ink3", 0.13),
}
_THINNEST = 1.0
_EDGE = (2.6, 1.8)


def measure_of(fonts: Fonts) -> Measure:
    """How wide labels are in a type scale."""

    def measure(text: str, is_strong: bool) -> float:
        return fonts.width(_font(fonts, is_strong=is_strong), text)

    return measure


def _font(fonts: Fonts, *, is_strong: bool, is_quiet: bool = False) -> QFont:
    if is_strong:
        return fonts.row_strong
    return fonts.label if is_quiet else fonts.figure


def band_path(placed: PlacedBand) -> QPainterPath:
    """The outline of a band, closed."""
    path = _edge(placed, 0.0)
    lower = _edge(placed, placed.width).toReversed()
    path.connectPath(lower)
    path.closeSubpath()
    return path


def _edge(placed: PlacedBand, down: float) -> QPainterPath:
    path = QPainterPath(QPointF(placed.x0, placed.y0 + down))
    middle = (placed.x0 + placed.x1) / 2
    path.cubicTo(
        QPointF(middle, placed.y0 + down),
        QPointF(middle, placed.y1 + down),
        QPointF(placed.x1, placed.y1 + down),
    )
    return path


def draw_flow(
    painter: QPainter,
    places: FlowPlaces,
    theme: Theme,
    fonts: Fonts,
    style: NumberStyle = ENGLISH_STYLE,
    *,
    focused: Band | None = None,
    hovered: Band | None = None,
) -> None:
    """Draws the picture at the painter's origin; the focused band gets the ring of the keyboard."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    for placed in sorted(places.bands, key=lambda one: -one.width):
        _draw_band(painter, placed, theme, fonts.unit, is_near=placed.band is hovered)
    for placed in places.bands:
        if placed.band is focused:
            _draw_focus(painter, placed, theme, fonts.unit)
    going_on = {placed.band.source for placed in places.bands}
    for node in places.nodes:
        _draw_node(painter, node, theme, fonts, is_end=node.node.key not in going_on)
    for head in places.heads:
        draw_text(
            painter,
            fonts,
            head.x - fonts.width(fonts.header, head.text) / 2,
            HEAD * fonts.unit / 2,
            head.text,
            fonts.header,
            theme.ink3,
        )
    _draw_scale(painter, places, theme, fonts, style)
    painter.restore()


def _draw_band(painter: QPainter, placed: PlacedBand, theme: Theme, unit: float, *, is_near: bool) -> None:
    token, opacity = _FILLS[placed.band.tint]
    thin = max(hairline(painter), _THINNEST * unit) if placed.width < _THINNEST * unit else 0.0
    if thin:
        middle = _edge(placed, placed.width / 2)
        colour = theme.colour(token)
        colour = QColor(colour.red(), colour.green(), colour.blue(), 170)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        is_away = placed.band.is_away
        painter.setPen(dashed(theme.colour(token), thin, _scaled(unit)) if is_away else solid(colour, thin))
        painter.drawPath(middle)
        return
    fill = theme.faded(token, min(1.0, opacity + (0.12 if is_near else 0.0)))
    painter.fillPath(band_path(placed), fill)
    if placed.band.is_away or theme.is_high_contrast:
        width = max(hairline(painter), 0.9 * unit)
        pen = (
            dashed(theme.colour(token), width, _scaled(unit))
            if placed.band.is_away
            else solid(theme.ink, width)
        )
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPath(_edge(placed, 0.0))
        painter.drawPath(_edge(placed, placed.width))


def _scaled(unit: float) -> tuple[float, float]:
    return _EDGE[0] * unit, _EDGE[1] * unit


def _draw_focus(painter: QPainter, placed: PlacedBand, theme: Theme, unit: float) -> None:
    painter.setPen(solid(theme.focus, 2 * unit))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(band_path(placed))


def _draw_node(painter: QPainter, placed: PlacedNode, theme: Theme, fonts: Fonts, *, is_end: bool) -> None:
    bar = placed.bar
    least = max(hairline(painter), 1.4 * fonts.unit)
    height = max(bar.height, least)
    filled_bar(painter, bar.x, bar.y + (bar.height - height) / 2, bar.width, height, theme.ink)
    is_thin = 1.4 * bar.height <= placed.label.height
    if (is_thin or is_end) and not placed.node.is_source:
        # Bands that bend away from a thin bar, or pass an end, run under its label: they are dimmed there.
        ground = theme.faded("sheet", 0.72)
        box = placed.label
        painter.fillRect(
            QRectF(box.x - 3 * fonts.unit, box.y, box.width + 6 * fonts.unit, box.height), ground
        )
    for piece in placed.pieces:
        font = _font(fonts, is_strong=piece.is_strong, is_quiet=piece.is_quiet)
        colour = theme.ink2 if piece.is_quiet or not (piece.is_strong or placed.node.is_strong) else theme.ink
        draw_text(painter, fonts, piece.x, piece.y, piece.text, font, colour)


def _draw_scale(
    painter: QPainter, places: FlowPlaces, theme: Theme, fonts: Fonts, style: NumberStyle
) -> None:
    bar = places.scale_bar
    if bar.height <= 0.0:
        return
    painter.setPen(square(theme.ink2, 1.2 * fonts.unit))
    x = bar.x + bar.width / 2
    painter.drawLine(QLineF(x, bar.y, x, bar.bottom))
    for y in (bar.y, bar.bottom):
        painter.drawLine(QLineF(bar.x, y, bar.right, y))
    words = f"{format_trimmed(places.scale_g, 2, style)}{UNIT_SPACE}g"
    draw_text(
        painter, fonts, bar.right + 6 * fonts.unit, bar.y + bar.height / 2, words, fonts.header, theme.ink2
    )


def draw_text(
    painter: QPainter, fonts: Fonts, x: float, y: float, text: str, font: QFont, colour: QColor
) -> None:
    """A text whose capitals are centred on ``y``."""
    painter.setFont(font)
    painter.setPen(QPen(colour))
    painter.drawText(QPointF(x, y + fonts.metrics(font).capHeight() / 2), text)


def node_rect(placed: PlacedNode) -> QRectF:
    """Bar and label of a node together."""
    bar = QRectF(placed.bar.x, placed.bar.y, placed.bar.width, max(placed.bar.height, 4.0))
    label = QRectF(placed.label.x, placed.label.y, placed.label.width, placed.label.height)
    return bar.united(label)
