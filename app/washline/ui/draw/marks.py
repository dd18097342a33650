"""The marks of the build tree: the spine that runs through a vessel's steps, and what stands on it."""

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from washline.ui.draw.pens import dotted, filled_bar, on_pixel, solid, square
from washline.ui.fonts import Fonts
from washline.ui.icons import draw_icon, icon_rect
from washline.ui.theme import Theme

SPINE_WIDTH = 1.5
INNER_SPINE_WIDTH = 1.2
STEP_GAP = 9.0
SQUARE_GAP = 7.0


def draw_spine(
    painter: QPainter,
    x: float,
    top: float,
    bottom: float,
    theme: Theme,
    unit: float = 1.0,
    *,
    is_inner: bool = False,
) -> None:
    """Draw a piece of the spine; ``is_inner`` is the thinner one of an opened part."""
    width = (INNER_SPINE_WIDTH if is_inner else SPINE_WIDTH) * unit
    filled_bar(painter, x - width / 2, top, width, bottom - top, theme.ink2)


def draw_row_spine(
    painter: QPainter,
    x: float,
    row: QRectF,
    theme: Theme,
    unit: float = 1.0,
    *,
    is_first: bool,
    is_last: bool,
    gap: float,
    is_inner: bool = False,
) -> None:
    """Draw the spine of one row: from above unless it is the first, onward unless it is the last.

    ``gap`` is half the height left free for the mark: 0 for a dot, ``SQUARE_GAP`` for a part, ``STEP_GAP`` for a step.
    """
    y = row.center().y()
    if not is_first:
        draw_spine(painter, x, row.top(), y - gap * unit, theme, unit, is_inner=is_inner)
    if not is_last:
        draw_spine(painter, x, y + gap * unit, row.bottom(), theme, unit, is_inner=is_inner)


def draw_line_dot(
    painter: QPainter, x: float, y: float, theme: Theme, unit: float = 1.0, *, is_inner: bool = False
) -> None:
    """Draw the dot of a line on the spine."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(theme.ink2 if is_inner else theme.ink)
    painter.drawEllipse(QPointF(x, y), 3.1 * unit, 3.1 * unit)
    painter.restore()


def draw_part_square(painter: QPainter, x: float, y: float, theme: Theme, unit: float = 1.0) -> None:
    """Draw the open square of a house-made part on the spine."""
    half = 4.3 * unit
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(solid(theme.ink, 1.5 * unit))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(QRectF(x - half, y - half, 2 * half, 2 * half), 1.3 * unit, 1.3 * unit)
    painter.restore()


def draw_step_mark(
    painter: QPainter,
    x: float,
    y: float,
    icon_name: str,
    theme: Theme,
    unit: float = 1.0,
    *,
    is_inner: bool = False,
) -> None:
    """Draw the stroke mark of a step that is no line."""
    draw_icon(painter, icon_rect(x, y, unit), icon_name, theme.ink2 if is_inner else theme.ink)


def draw_served_foot(painter: QPainter, x: float, row: QRectF, theme: Theme, unit: float = 1.0) -> None:
    """Draw the foot on which the spine ends."""
    y = row.center().y()
    draw_spine(painter, x, row.top(), y, theme, unit)
    filled_bar(painter, x - 6 * unit, y - 1.1 * unit, 12 * unit, 2.2 * unit, theme.ink)


def draw_current_bar(painter: QPainter, row: QRectF, theme: Theme, unit: float = 1.0) -> None:
    """Draw the tint of the current row and the ink bar at its left."""
    if theme.is_high_contrast:
        painter.setPen(square(theme.focus, unit))
        painter.drawRect(row.adjusted(0.5, 0.5, -0.5, -0.5))
    else:
        painter.fillRect(row, theme.select)
    filled_bar(painter, row.left(), row.top(), 3 * unit, row.height(), theme.ink)


def draw_focus_ring(painter: QPainter, rect: QRectF, theme: Theme, unit: float = 1.0) -> None:
    """Draw the 2 px ring of the keyboard focus just inside ``rect``, which lies outside the text."""
    _ring(painter, rect, theme.focus, unit)


def draw_error_ring(painter: QPainter, rect: QRectF, theme: Theme, unit: float = 1.0) -> None:
    """Draw the ring of a cell whose text was not understood; the triangle stands at its left."""
    _ring(painter, rect, theme.alert, unit)
    draw_icon(painter, icon_rect(rect.left() + 13 * unit, rect.center().y(), unit), "alert", theme.alert)


def _ring(painter: QPainter, rect: QRectF, colour: QColor, unit: float) -> None:
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(solid(colour, 2 * unit))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(unit, unit, -unit, -unit), 2 * unit, 2 * unit)
    painter.restore()


def draw_moved_line(
    painter: QPainter, left: float, right: float, y: float, theme: Theme, unit: float = 1.0
) -> None:
    """Draw the dotted line under a figure that moved and is not written yet."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(dotted(theme.preview, 1.2 * unit, 2.6 * unit))
    place = on_pixel(painter, y)
    painter.drawLine(QLineF(left, place, right, place))
    painter.restore()


def draw_weighed_line(
    painter: QPainter, left: float, right: float, y: float, theme: Theme, unit: float = 1.0
) -> None:
    """Draw the rule under an amount that was weighed."""
    filled_bar(painter, left, y, right - left, 1.4 * unit, theme.ink)


def draw_tag(painter: QPainter, rect: QRectF, text: str, theme: Theme, fonts: Fonts) -> None:
    """Draw the *Preview* tag: the word in a dotted frame that fills ``rect``."""
    unit = fonts.unit
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setPen(dotted(theme.preview, 1.4 * unit, 3.2 * unit))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRoundedRect(rect.adjusted(unit, unit, -unit, -unit), 2 * unit, 2 * unit)
    painter.setPen(theme.preview)
    painter.setFont(fonts.label_strong)
    painter.drawText(rect, Qt.AlignmentFlag.AlignCenter, text)
    painter.restore()


def leaf_path() -> QPainterPath:
    """A leaf of about 15 by 8, its stem at the origin and its tip up to the right."""
    path = QPainterPath(QPointF(0.0, 0.0))
    path.cubicTo(1.4, -5.4, 7.6, -8.2, 13.6, -7.2)
    path.cubicTo(12.2, -1.6, 6.4, 2.0, 0.0, 0.0)
    path.moveTo(-2.4, 1.2)
    path.cubicTo(2.0, 0.0, 6.6, -2.2, 10.2, -5.2)
    path.moveTo(4.6, -1.4)
    path.lineTo(4.9, -4.2)
    path.moveTo(7.4, -2.9)
    path.lineTo(7.8, -5.6)
    return path
