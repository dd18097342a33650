"""A glass with what is in it: one tint, one level line, the ice as it floats, foam, and the wash line outside the walls."""

from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPolygonF

from washline.presentation.glass import Glass, IcePiece
from washline.ui.draw.marks import leaf_path
from washline.ui.draw.pens import dashed, filled_bar, on_pixel, solid, square
from washline.ui.fonts import Fonts
from washline.ui.theme import Theme

_WALL = 2.0
_GAP = 2.5
_DASH_REACH = 16.0
_LABEL_GAP = 8.0
_SAMPLES = 48
_BUBBLE = 2.1
_BUBBLE_STEP = 6.0


@dataclass(frozen=True)
class GlassTexts:
    """The texts beside a glass. The wash line is always labelled; ``volume`` and ``second`` stand at the level."""

    wash_line: str = "wash line"
    volume: str = ""
    second: str = ""


def draw_glass(
    painter: QPainter,
    rect: QRectF,
    glass: Glass,
    theme: Theme,
    fonts: Fonts,
    texts: GlassTexts | None = None,
    *,
    has_leaf: bool = False,
) -> QRectF:
    """Draw a glass true to volume into ``rect``, with its labels at the right; returns the rectangle of the glass alone.

    ``has_leaf`` lays a leaf on the ice or on the rim.
    """
    words = texts or GlassTexts()
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    sketch = _GlassSketch(painter, rect, glass, theme, fonts, words, has_leaf)
    sketch.liquid()
    sketch.foam()
    sketch.ice()
    sketch.level()
    sketch.floats()
    sketch.vessel()
    sketch.leaf()
    sketch.labels()
    painter.restore()
    return sketch.bounds


class _GlassSketch:
    """One drawing in progress. Millimetres of the glass become the painter's pixels; x runs from the axis."""

    def __init__(
        self,
        painter: QPainter,
        rect: QRectF,
        glass: Glass,
        theme: Theme,
        fonts: Fonts,
        texts: GlassTexts,
        has_leaf: bool,
    ) -> None:
        self._painter = painter
        self._glass = glass
        self._theme = theme
        self._fonts = fonts
        self._texts = texts
        self._has_leaf = has_leaf
        self._unit = fonts.unit
        self._place(rect)

    def _place(self, rect: QRectF) -> None:
        """Solve the scale and the axis so that glass, ice, leaf and labels all lie in ``rect``."""
        glass, form, unit = self._glass, self._glass.form, self._unit
        reach = (_DASH_REACH + _GAP + _WALL) * unit if glass.wash_line_mm is not None else _WALL * unit
        right = reach + _LABEL_GAP * unit + self._label_width() if self._label_width() else reach
        widest = max(glass.radius_mm(glass.height_mm * k / _SAMPLES) for k in range(_SAMPLES + 1))
        half_mm = max(widest, form.foot * glass.height_mm) * (1.25 if form.has_handle else 1.0)
        below_mm = glass.height_mm * (form.base + form.stem)
        above_mm = max(glass.ice_bottom_mm + glass.ice_height_mm - glass.height_mm, 0.0)
        leaf = 26.0 * unit if self._has_leaf else 0.0
        high = glass.height_mm + below_mm + above_mm
        room = rect.height() - 2 * _WALL * unit - leaf
        self._mm = max(min(room / high, (rect.width() - reach - right) / (2 * half_mm)), 0.01)
        self._x = rect.left() + reach + half_mm * self._mm
        drawn = high * self._mm + leaf
        self._floor = rect.top() + (rect.height() + drawn) / 2 - _WALL * unit - below_mm * self._mm
        self.bounds = QRectF(
            self._x - half_mm * self._mm,
            self._y(glass.height_mm),
            2 * half_mm * self._mm,
            (glass.height_mm + below_mm) * self._mm,
        )

    def _label_width(self) -> float:
        fonts, texts = self._fonts, self._texts
        widths = [fonts.width(fonts.reading, texts.volume), fonts.width(fonts.row, texts.second)]
        if self._glass.wash_line_mm is not None:
            widths.append(fonts.width(fonts.label_strong, texts.wash_line))
        return max(widths)

    def _y(self, height_mm: float) -> float:
        return self._floor - height_mm * self._mm

    def _inside(self, up_to_mm: float, inset: float) -> QPainterPath:
        """The inside of the glass from its bottom to a height, ``inset`` pixels within the walls."""
        heights = [up_to_mm * k / _SAMPLES for k in range(_SAMPLES + 1)]
        radii = [max(self._glass.radius_mm(h) * self._mm - inset, 0.0) for h in heights]
        right = [QPointF(self._x + r, self._y(h)) for r, h in zip(radii, heights, strict=True)]
        left = [QPointF(2 * self._x - point.x(), point.y()) for point in reversed(right)]
        path = QPainterPath()
        path.addPolygon(QPolygonF(right + left))
        path.closeSubpath()
        return path

    def liquid(self) -> None:
        """One tint: a mixed drink has no layers."""
        if self._glass.liquid_ml > 0:
            tint = self._theme.faded("drink", 0.26 if self._theme.is_dark else 0.145)
            self._painter.fillPath(self._inside(self._glass.surface_mm, self._inset), tint)

    def foam(self) -> None:
        """Bubbles between the level and the top of the foam, without a tint of their own."""
        glass, painter, unit = self._glass, self._painter, self._unit
        if glass.foam_ml <= 0 or glass.foam_top_mm <= glass.surface_mm:
            return
        painter.save()
        painter.setClipPath(self._inside(glass.foam_top_mm, self._inset), Qt.ClipOperation.IntersectClip)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(solid(self._theme.edge, 0.9 * unit))
        half = self.bounds.width() / 2
        top, step = self._y(glass.foam_top_mm), _BUBBLE_STEP * unit
        y, row = self._y(glass.surface_mm) - step / 2, 0
        while y > top - step:
            x = self._x - half + (step / 2 if row % 2 else 0.0)
            while x < self._x + half:
                painter.drawEllipse(QPointF(x, y), _BUBBLE * unit, _BUBBLE * unit)
                x += step
            y, row = y - step * 0.86, row + 1
        painter.restore()
        inner = glass.radius_mm(glass.foam_top_mm) * self._mm - self._inset
        painter.setPen(solid(self._theme.ink3, 1.2 * unit))
        painter.drawLine(QLineF(self._x - inner, top, self._x + inner, top))

    def floats(self) -> None:
        """A line under each layer that is floated: the layer itself has no colour of its own."""
        for height in self._glass.float_bottoms_mm:
            half = self._glass.radius_mm(height) * self._mm - self._inset
            y = on_pixel(self._painter, self._y(height))
            self._painter.setPen(
                dashed(self._theme.drink, 1.2 * self._unit, (2 * self._unit, 2 * self._unit))
            )
            self._painter.drawLine(QLineF(self._x - half, y, self._x + half, y))

    @property
    def _inset(self) -> float:
        return _GAP * self._unit * 0.5

    def level(self) -> None:
        """The level line, from wall to wall."""
        if self._glass.liquid_ml <= 0:
            return
        half = self._glass.radius_mm(self._glass.surface_mm) * self._mm - self._inset
        y = on_pixel(self._painter, self._y(self._glass.surface_mm))
        self._painter.setPen(square(self._theme.drink, 2.0 * self._unit))
        self._painter.drawLine(QLineF(self._x - half, y, self._x + half, y))

    def ice(self) -> None:
        """The pieces, open in front so that the tint shows through; nothing is drawn beyond the walls."""
        pieces = self._glass.pieces()
        if not pieces:
            return
        self._painter.save()
        self._painter.setClipPath(self._room_for_ice(), Qt.ClipOperation.IntersectClip)
        is_small = pieces[0].width_mm * self._mm < 9 * self._unit
        self._painter.setPen(solid(self._theme.ink2, (0.7 if is_small else 1.2) * self._unit))
        for piece in pieces:
            if len(pieces) == 1:
                self._solid_piece(piece)
            else:
                self._flat_piece(piece)
        self._painter.restore()

    def _room_for_ice(self) -> QPainterPath:
        path = self._inside(self._glass.height_mm, self._inset)
        half = self._glass.radius_mm(self._glass.height_mm) * self._mm - self._inset
        top = QPainterPath()
        top.addRect(QRectF(self._x - half, self._y(self._glass.height_mm) - 400, 2 * half, 401))
        return path.united(top)

    def _frost(self) -> QColor:
        colour = QColor(self._theme.sheet)
        colour.setAlphaF(0.66)
        return colour

    def _solid_piece(self, piece: IcePiece) -> None:
        """A single cube or spear with the two faces that are seen beside its front."""
        width, height = piece.width_mm * self._mm, piece.height_mm * self._mm
        depth = min(width, height) * 0.11
        left, top = self._x - width / 2 - depth / 2, self._y(piece.y_mm) - height / 2
        front = QRectF(left, top, width, height)
        back = QPointF(depth, -depth * 0.72)
        roof = QPolygonF([front.topLeft(), front.topLeft() + back, front.topRight() + back, front.topRight()])
        side = QPolygonF(
            [front.topRight(), front.topRight() + back, front.bottomRight() + back, front.bottomRight()]
        )
        self._painter.setBrush(self._frost())
        for face in (roof, side):
            self._painter.drawPolygon(face)
        self._painter.drawRoundedRect(front, 1.5 * self._unit, 1.5 * self._unit)

    def _flat_piece(self, piece: IcePiece) -> None:
        width, height = piece.width_mm * self._mm, piece.height_mm * self._mm
        corner = 1.5 * self._unit
        self._painter.save()
        self._painter.translate(self._x + piece.x_mm * self._mm, self._y(piece.y_mm))
        self._painter.rotate(piece.turn_deg)
        self._painter.setBrush(self._frost())
        self._painter.drawRoundedRect(QRectF(-width / 2, -height / 2, width, height), corner, corner)
        self._painter.restore()

    def vessel(self) -> None:
        """The walls in one ink line, the thick bottom or the stem and foot, a handle where there is one."""
        painter, theme, unit = self._painter, self._theme, self._unit
        painter.setBrush(Qt.BrushStyle.NoBrush)
        pen = solid(theme.ink, _WALL * unit)
        painter.setPen(pen)
        painter.drawPath(self._footed() if self._glass.form.stem else self._standing())
        if self._glass.form.has_handle:
            painter.drawPath(self._handle())
        if not self._glass.form.stem:
            half = self._glass.radius_mm(0) * self._mm - self._inset
            painter.setPen(solid(theme.ink3, 1.2 * unit))
            y = on_pixel(painter, self._floor)
            painter.drawLine(QLineF(self._x - half, y, self._x + half, y))

    def _walls(self) -> list[QPointF]:
        """The right wall from the brim down to the inner bottom, at the middle of its line."""
        out = _WALL * self._unit / 2
        form = self._glass.form
        samples = (
            [k / _SAMPLES for k in range(_SAMPLES + 1)] if form.is_smooth else [h for h, _ in form.profile]
        )
        heights = [self._glass.height_mm * share for share in reversed(samples)]
        return [QPointF(self._x + self._glass.radius_mm(h) * self._mm + out, self._y(h)) for h in heights]

    def _mirrored(self, points: list[QPointF]) -> list[QPointF]:
        return [QPointF(2 * self._x - point.x(), point.y()) for point in points]

    def _standing(self) -> QPainterPath:
        wall = self._walls()
        bottom = self._floor + self._glass.form.base * self._glass.height_mm * self._mm
        corner = min(7 * self._unit, (bottom - self._floor) or 1.0, wall[-1].x() - self._x)
        path = QPainterPath(wall[0])
        for point in wall[1:]:
            path.lineTo(point)
        edge = wall[-1].x()
        path.lineTo(edge, bottom - corner)
        path.quadTo(edge, bottom, edge - corner, bottom)
        path.lineTo(2 * self._x - edge + corner, bottom)
        path.quadTo(2 * self._x - edge, bottom, 2 * self._x - edge, bottom - corner)
        for point in reversed(self._mirrored(wall)):
            path.lineTo(point)
        return path

    def _footed(self) -> QPainterPath:
        wall = self._walls()
        form, height = self._glass.form, self._glass.height_mm * self._mm
        ground = self._floor + (form.base + form.stem) * height
        neck = max(1.6 * self._unit, 0.022 * height)
        foot = form.foot * height
        curve = min(0.30 * form.stem * height, foot)
        path = QPainterPath(wall[0])
        for point in wall[1:]:
            path.lineTo(point)
        path.quadTo(
            self._x + neck, self._floor + form.base * height, self._x + neck, self._floor + 2 * curve / 3
        )
        path.lineTo(self._x + neck, ground - curve)
        path.quadTo(self._x + neck, ground - 2.2 * self._unit, self._x + foot, ground)
        path.lineTo(self._x - foot, ground)
        path.quadTo(self._x - neck, ground - 2.2 * self._unit, self._x - neck, ground - curve)
        path.lineTo(self._x - neck, self._floor + 2 * curve / 3)
        left = self._mirrored(wall)
        path.quadTo(self._x - neck, self._floor + form.base * height, left[-1].x(), left[-1].y())
        for point in reversed(left):
            path.lineTo(point)
        return path

    def _handle(self) -> QPainterPath:
        top, bottom = self._glass.height_mm * 0.82, self._glass.height_mm * 0.22
        out = self._glass.height_mm * 0.30 * self._mm
        start = QPointF(self._x + self._glass.radius_mm(top) * self._mm + self._unit, self._y(top))
        end = QPointF(self._x + self._glass.radius_mm(bottom) * self._mm + self._unit, self._y(bottom))
        path = QPainterPath(start)
        path.cubicTo(start + QPointF(out, 0), end + QPointF(out, 0), end)
        return path

    def leaf(self) -> None:
        """The leaf lies on the ice where that stands out, else on the rim."""
        if not self._has_leaf:
            return
        top_mm = max(self._glass.ice_bottom_mm + self._glass.ice_height_mm, self._glass.surface_mm)
        scale = 3.0 * self._unit
        self._painter.save()
        self._painter.translate(self._x - 4 * self._unit, self._y(top_mm) - 3 * self._unit)
        self._painter.scale(scale, scale)
        self._painter.setBrush(self._theme.sheet)
        self._painter.setPen(solid(self._theme.ink, 1.5 * self._unit / scale))
        self._painter.drawPath(leaf_path())
        self._painter.restore()

    def labels(self) -> None:
        """The wash line outside the walls with its name, and the volume at the level."""
        glass, unit, fonts, theme = self._glass, self._unit, self._fonts, self._theme
        texts, wash = self._texts, glass.wash_line_mm
        text_x = self.bounds.right() + (_DASH_REACH + _GAP + _WALL + _LABEL_GAP) * unit
        next_top = self._y(glass.surface_mm) - fonts.metrics(fonts.reading).height() / 2
        if wash is not None:
            wash_y = on_pixel(self._painter, self._y(wash))
            self._wash_line(wash_y)
            label = fonts.metrics(fonts.label_strong)
            top = wash_y - label.height() * 0.92
            self._text(text_x, top + label.ascent(), texts.wash_line, "label_strong", theme.target)
            next_top = max(next_top, top + label.height() * 0.95)
        if texts.volume:
            metrics = fonts.metrics(fonts.reading)
            self._text(text_x, next_top + metrics.ascent(), texts.volume, "reading", theme.ink)
            next_top += metrics.height() * 0.95
        if texts.second:
            metrics = fonts.metrics(fonts.row)
            self._text(text_x, next_top + metrics.ascent(), texts.second, "row", theme.ink2)

    def _wash_line(self, y: float) -> None:
        unit = self._unit
        half = self._glass.radius_mm(self._glass.wash_line_mm or 0.0) * self._mm + (_WALL + _GAP) * unit
        self._painter.setPen(dashed(self._theme.target, 1.8 * unit, (5 * unit, 3 * unit)))
        far_right = self.bounds.right() + (_DASH_REACH + _GAP + _WALL) * unit
        far_left = self.bounds.left() - (_DASH_REACH + _GAP + _WALL) * unit
        self._painter.drawLine(QLineF(self._x + half, y, far_right, y))
        self._painter.drawLine(QLineF(self._x - half, y, far_left, y))

    def _text(self, x: float, baseline: float, text: str, font: str, colour: QColor) -> None:
        self._painter.setFont(
            {"reading": self._fonts.reading, "row": self._fonts.row}.get(font, self._fonts.label_strong)
        )
        self._painter.setPen(colour)
        self._painter.drawText(QPointF(x, baseline), text)


def draw_level(painter: QPainter, rect: QRectF, level_share: float, theme: Theme, unit: float = 1.0) -> None:
    """Draw the straight glass of the level lane: ``level_share`` is the level's height as a share of ``rect``, 0 to 1.

    What would overflow stands at the brim; the figure beside it says the rest.
    """
    share = min(max(level_share, 0.0), 1.0)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    left, right = on_pixel(painter, rect.left()), on_pixel(painter, rect.right())
    bottom = on_pixel(painter, rect.bottom())
    level = on_pixel(painter, bottom - share * rect.height())
    if share > 0:
        tint = theme.faded("drink", 0.26)
        filled_bar(painter, left, level, right - left, bottom - level, tint)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(square(theme.edge, 1.6 * unit))
    painter.drawPolyline(
        [QPointF(left, rect.top()), QPointF(left, bottom), QPointF(right, bottom), QPointF(right, rect.top())]
    )
    if share > 0:
        painter.setPen(square(theme.drink, 1.8 * unit))
        painter.drawLine(QLineF(left + unit, level, right - unit, level))
    painter.restore()


def draw_wash_line(
    painter: QPainter, left: float, right: float, y: float, theme: Theme, unit: float = 1.0
) -> None:
    """Draw one piece of the wash line, dashed 5-3; the caller leaves out what lies within a glass, and labels it."""
    painter.save()
    painter.setPen(dashed(theme.target, 1.3 * unit, (5 * unit, 3 * unit)))
    level = on_pixel(painter, y)
    painter.drawLine(QLineF(left, level, right, level))
    painter.restore()
