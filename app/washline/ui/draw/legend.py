"""The legend beneath the radar: each line as it is drawn there, with its name."""

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from washline.presentation.radar import LegendEntry
from washline.ui.draw.pens import dashed, dotted, filled_bar, on_pixel, solid
from washline.ui.draw.radar import diamond
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

_KEY = 22.0
_KEY_GAP = 7.0
_ENTRY_GAP = 22.0
_ROW = 22.0
_INSET = 2.0


def legend_height(width: float, entries: Sequence[LegendEntry], fonts: Fonts) -> float:
    """The height that the legend takes in a width: one row, or more where it must break."""
    rows = 1 + max((row for row, _ in _places(width, entries, fonts)), default=0)
    return rows * _ROW * fonts.unit


def draw_legend(
    painter: QPainter, rect: QRectF, entries: Sequence[LegendEntry], theme: Theme, fonts: Fonts
) -> None:
    """Draw the legend from the left of ``rect``, broken into rows where needed; a name too long is cut with an ellipsis."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    metrics = fonts.metrics(fonts.header)
    for entry, (row, x) in zip(entries, _places(rect.width(), entries, fonts), strict=True):
        left = rect.left() + x
        y = on_pixel(painter, rect.top() + (row + 0.5) * _ROW * fonts.unit)
        _draw_key(painter, left, y, entry.kind, theme, fonts.unit)
        text_x = left + (_KEY + _KEY_GAP) * fonts.unit
        text = metrics.elidedText(entry.text, Qt.TextElideMode.ElideRight, rect.right() - text_x)
        painter.setFont(fonts.header)
        painter.setPen(theme.ink2)
        painter.drawText(QPointF(text_x, y + metrics.capHeight() / 2), text)
    painter.restore()


def _places(width: float, entries: Sequence[LegendEntry], fonts: Fonts) -> list[tuple[int, float]]:
    """Row and left edge of each entry."""
    places: list[tuple[int, float]] = []
    row, x = 0, _INSET * fonts.unit
    for entry in entries:
        needed = (_KEY + _KEY_GAP) * fonts.unit + fonts.width(fonts.header, entry.text)
        is_first = x == _INSET * fonts.unit
        if not is_first and x + needed > width:
            row, x = row + 1, _INSET * fonts.unit
        places.append((row, x))
        x += needed + _ENTRY_GAP * fonts.unit
    return places


def _draw_key(painter: QPainter, x: float, y: float, kind: str, theme: Theme, unit: float) -> None:
    end, middle = x + _KEY * unit, QPointF(x + _KEY / 2 * unit, y)
    line = QLineF(x, y, end, y)
    painter.setBrush(theme.sheet)
    if kind == "target":
        if not theme.is_high_contrast:
            filled_bar(painter, x, y - 4.5 * unit, _KEY * unit, 9 * unit, theme.band)
        painter.setPen(solid(theme.target, 1.5 * unit))
        painter.drawLine(line)
    elif kind == "parent":
        painter.setPen(dashed(theme.parent, 1.5 * unit, (7 * unit, 2 * unit)))
        painter.drawLine(line)
        painter.setPen(solid(theme.parent, 1.3 * unit))
        painter.drawPolygon(diamond(middle, 4 * unit))
    elif kind == "before":
        painter.setPen(dotted(theme.ink3, 1.6 * unit, 3.6 * unit))
        painter.drawLine(line)
        painter.setPen(solid(theme.ink3, 1.2 * unit))
        painter.drawEllipse(middle, 2.7 * unit, 2.7 * unit)
    elif kind == "proposal":
        painter.setPen(dotted(theme.preview, 2.2 * unit, 4.2 * unit))
        painter.drawLine(line)
        painter.setPen(solid(theme.preview, 1.5 * unit))
        painter.drawEllipse(middle, 3.3 * unit, 3.3 * unit)
    else:
        painter.setPen(solid(theme.drink, 2.2 * unit))
        painter.drawLine(line)
        painter.setPen(solid(theme.sheet, 1.2 * unit))
        painter.setBrush(theme.drink)
        painter.drawEllipse(middle, 3.8 * unit, 3.8 * unit)
