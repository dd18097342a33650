"""Share bars under contributions, the flat composition of a part's row, and the scale of a weighed yield."""

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QColor, QPainter

from washline.presentation.strip import WeightScale
from washline.ui.draw.pens import dashed, filled_bar, hairline, on_edge, on_pixel, square, whole_pixels
from washline.ui.theme import Theme

BAR_HEIGHT = 2.4
WHOLE_COLUMN_PX = 50.0


def draw_share_bar(
    painter: QPainter, right: float, bottom: float, share: float, colour: QColor, unit: float = 1.0
) -> None:
    """Draw the bar under a contribution: its right edge is the figure's, 50 px are the whole column's total.

    ``share`` is a part of that total; above 1 it is drawn whole, at 0 or below nothing is drawn.
    """
    if share <= 0:
        return
    width = whole_pixels(painter, WHOLE_COLUMN_PX * unit * min(share, 1.0))
    height = whole_pixels(painter, BAR_HEIGHT * unit)
    filled_bar(
        painter, on_edge(painter, right) - width, on_edge(painter, bottom) - height, width, height, colour
    )


def draw_composition(
    painter: QPainter, rect: QRectF, shares: Sequence[tuple[float, QColor]], theme: Theme, unit: float = 1.0
) -> None:
    """Draw what a part is made of as one small bar in an outline: water is left open, the rest stands at the right.

    ``shares`` are (part of the mass, colour) from left to right; they sum to 1 at most.
    """
    painter.save()
    total = sum(max(share, 0.0) for share, _ in shares)
    x = rect.right() - rect.width() * min(total, 1.0)
    for share, colour in shares:
        width = rect.width() * max(share, 0.0) / max(total, 1.0)
        if width > 0:
            filled_bar(painter, x, rect.top(), width, rect.height(), colour)
        x += width
    painter.setPen(square(theme.edge, hairline(painter)))
    left, top = on_pixel(painter, rect.left()), on_pixel(painter, rect.top())
    painter.drawRect(QRectF(left, top, rect.width(), rect.height()))
    painter.restore()


def draw_weight_scale(
    painter: QPainter, rect: QRectF, scale: WeightScale, theme: Theme, unit: float = 1.0
) -> None:
    """Draw a weighed yield against its estimate: the expected range as a bar, the estimate dashed, the weight in ink."""
    low, estimate, high, weighed = scale.places()
    y = on_pixel(painter, rect.center().y())
    left, width = rect.left(), rect.width()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(square(theme.edge, hairline(painter)))
    painter.drawLine(QLineF(left, y, rect.right(), y))
    bar = 5.0 * unit
    filled_bar(painter, left + low * width, y - bar / 2, (high - low) * width, bar, theme.rule)
    if theme.is_high_contrast:
        painter.drawRect(QRectF(left + low * width, y - bar / 2, (high - low) * width, bar))
    place = on_pixel(painter, left + estimate * width)
    painter.setPen(dashed(theme.ink3, 1.4 * unit, (2.4 * unit, 1.6 * unit)))
    painter.drawLine(QLineF(place, y - 5 * unit, place, y + 5 * unit))
    if weighed is not None:
        tick, height = 2.4 * unit, 14.0 * unit
        filled_bar(painter, left + weighed * width - tick / 2, y - height / 2, tick, height, theme.ink)
    painter.restore()
