"""The small shape of a row in the house book: band, circle and line, nothing else."""

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath

from washline.presentation.shape import BAND_INNER_RADIUS, BAND_OUTER_RADIUS, IDEAL_RADIUS, SmallShape
from washline.ui.draw.pens import hairline, run_path, solid
from washline.ui.theme import Theme

RING_PX = 21.0
"""The diameter of the ideal's circle at 100 %."""

SMALL_SHAPE_PX = RING_PX / IDEAL_RADIUS
"""The diameter of the whole plate at 100 %: the room that a row keeps for it."""


def draw_small_shape(
    painter: QPainter,
    rect: QRectF,
    shape: SmallShape,
    theme: Theme,
    unit: float = 1.0,
    colour: QColor | None = None,
) -> None:
    """Draw a small shape in the middle of ``rect``; ``colour`` replaces that of the drink's line (an older version's).

    With no axes, or fewer than three, the ring stands alone.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    centre = rect.center()
    radius = SMALL_SHAPE_PX / 2 * unit
    ring = QPainterPath()
    for share in (BAND_OUTER_RADIUS, BAND_INNER_RADIUS):
        ring.addEllipse(centre, share * radius, share * radius)
    painter.fillPath(ring, theme.faded("band", 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if theme.is_high_contrast:
        painter.setPen(solid(theme.ink3, hairline(painter)))
        painter.drawPath(ring)
    painter.setPen(solid(theme.target, 1.1 * unit))
    painter.drawEllipse(QPointF(centre), IDEAL_RADIUS * radius, IDEAL_RADIUS * radius)
    painter.setPen(solid(colour or theme.drink, 1.6 * unit))
    painter.drawPath(run_path(shape.runs, centre.x(), centre.y(), radius))
    painter.restore()
