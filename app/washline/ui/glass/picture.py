"""The glass drawn to scale, with every level named at its right."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from washline.presentation.glass_level import GlassLevel
from washline.ui.appearance import Appearance
from washline.ui.draw.glass import GlassTexts, draw_glass
from washline.ui.draw.pens import hairline, solid

WIDTH = 440.0
HEIGHT = 390.0
_LABELS_WIDTH = 165.0
_LEADER = 24.0
_SLANT = 26.0
_GAP = 6.0
_NO_LABELS = GlassTexts(wash_line="")


@dataclass(frozen=True)
class _Label:
    """A text that belongs to a height of the glass."""

    height_mm: float
    text: str
    font: QFont
    colour: QColor


class GlassPicture(QWidget):
    """Paints a ``GlassLevel``; nothing where there is none."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._level: GlassLevel | None = None
        self.setAccessibleName("The glass")
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @property
    def level(self) -> GlassLevel | None:
        """What is painted."""
        return self._level

    def set_level(self, level: GlassLevel | None) -> None:
        """Shows another glass."""
        self._level = level
        self.setAccessibleDescription("" if level is None else level.spoken)
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(WIDTH), self._look.px(HEIGHT))

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._level is None:
            return
        look = self._look
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        room = QRectF(0, 0, self.width() - look.px(_LABELS_WIDTH + _SLANT), self.height())
        top = look.px(26)
        room.adjust(0, top, 0, -look.px(4))
        glass = draw_glass(painter, room, self._level.drawn, look.theme, look.fonts, _NO_LABELS)
        self._paint_labels(painter, glass, room.right() + look.px(_SLANT))
        painter.end()

    def _paint_labels(self, painter: QPainter, glass: QRectF, left: float) -> None:
        labels = self._labels()
        places = self._apart(labels, glass)
        look, fonts = self._look, self._look.fonts
        for label, y in zip(labels, places, strict=True):
            level = self._y(glass, label.height_mm)
            edge = glass.center().x() + self._half(glass, label.height_mm) + look.px(_LEADER)
            start = QPointF(max(edge, left - look.px(_SLANT)), level)
            painter.setPen(solid(look.theme.rule2, hairline(painter)))
            painter.drawLine(QLineF(QPointF(edge, level), start))
            painter.drawLine(QLineF(start, QPointF(left, y)))
            painter.setFont(label.font)
            painter.setPen(label.colour)
            metrics = fonts.metrics(label.font)
            text = metrics.elidedText(
                label.text, Qt.TextElideMode.ElideRight, self.width() - left - look.px(_GAP)
            )
            baseline = y + (metrics.ascent() - metrics.descent()) / 2
            painter.drawText(QPointF(left + look.px(_GAP), baseline), text)

    def _labels(self) -> list[_Label]:
        """The levels from the top down."""
        level = self._level
        assert level is not None
        theme, fonts, drawn = self._look.theme, self._look.fonts, level.drawn
        found = [_Label(drawn.height_mm, level.brim_label, fonts.label, theme.ink2)]
        if drawn.wash_line_mm is not None and level.wash_label:
            found.append(_Label(drawn.wash_line_mm, level.wash_label, fonts.label_strong, theme.target))
        if level.foam_label:
            found.append(_Label(drawn.foam_top_mm, level.foam_label, fonts.label, theme.ink2))
        found.append(_Label(drawn.surface_mm, level.level_label, fonts.reading, theme.ink))
        for height, name in zip(drawn.float_bottoms_mm, level.layer_names, strict=False):
            found.append(_Label(height, f"under {name}", fonts.label, theme.ink2))
        return sorted(found, key=lambda label: -label.height_mm)

    def _apart(self, labels: Sequence[_Label], glass: QRectF) -> list[float]:
        """Where the texts stand so that none touches the next: as near to their levels as the others leave room."""
        heights = [self._look.fonts.metrics(label.font).height() for label in labels]
        wanted = [self._y(glass, label.height_mm) for label in labels]
        places: list[float] = []
        floor = 0.0
        for want, height in zip(wanted, heights, strict=True):
            place = max(want, floor + height / 2)
            places.append(place)
            floor = place + height / 2
        over = floor - self.height()
        if over > 0.0:
            places = [place - over for place in places]
        return places

    def _y(self, glass: QRectF, height_mm: float) -> float:
        return glass.bottom() - self._below(glass) - height_mm * self._scale(glass)

    def _below(self, glass: QRectF) -> float:
        """What stands under the inner bottom: base and stem."""
        return glass.height() - self._scale(glass) * self._drawn_height

    def _half(self, glass: QRectF, height_mm: float) -> float:
        assert self._level is not None
        return self._level.drawn.radius_mm(height_mm) * self._scale(glass)

    def _scale(self, glass: QRectF) -> float:
        """Pixels of a millimetre: what ``draw_glass`` gives back is the glass from brim to foot."""
        assert self._level is not None
        form = self._level.drawn.form
        return glass.height() / (self._drawn_height * (1.0 + form.base + form.stem))

    @property
    def _drawn_height(self) -> float:
        assert self._level is not None
        return self._level.drawn.height_mm
