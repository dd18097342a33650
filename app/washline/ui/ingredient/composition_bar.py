"""The composition of a raw ingredient as one bar of 100 g, every stretch with its own fill and its words under it."""

from collections.abc import Sequence

from PySide6.QtCore import QLineF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from washline.presentation.raw_facts import Segment, segment_words
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.draw.pens import hairline, on_edge, on_pixel, square

BAR_HEIGHT = 18.0
SWATCH = 12.0
THINNEST = 2.0
STRIPE = 4.0


class CompositionBar(QWidget):
    """Shows segments; the words stand in rows below, each behind a swatch of its fill. Read aloud as one sentence."""

    def __init__(
        self, look: Appearance, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._look, self._style = look, style
        self._segments: tuple[Segment, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Composition of 100 g")

    @property
    def words(self) -> list[str]:
        """What is written under the bar."""
        return [segment_words(segment, self._style) for segment in self._segments]

    def show_segments(self, segments: Sequence[Segment]) -> None:
        """Shows another composition."""
        self._segments = tuple(segments)
        self.setAccessibleDescription(", ".join(self.words) or "not known")
        self._fit()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._fit()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(320), self._height())

    def _fit(self) -> None:
        self.setFixedHeight(self._height())

    @property
    def _line_height(self) -> int:
        return round(self._look.fonts.metrics(self._look.fonts.label).height()) + self._look.px(3)

    def _height(self) -> int:
        rows = self._places()[-1][1] + 1 if self._segments else 0
        return self._look.px(BAR_HEIGHT + 8) + rows * self._line_height

    def _places(self) -> list[tuple[float, int]]:
        """Left edge and row of each label: as many in a row as fit."""
        look, fonts = self._look, self._look.fonts
        x, row, places = 0.0, 0, []
        for words in self.words:
            width = look.px(SWATCH + 6) + fonts.width(fonts.label, words)
            if x and x + width > self.width():
                x, row = 0.0, row + 1
            places.append((x, row))
            x += width + look.px(18)
        return places

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        look, theme = self._look, self._look.theme
        bar = QRectF(0.5, 0.5, self.width() - 1.0, look.px(BAR_HEIGHT))
        x = bar.left()
        whole = sum(segment.grams for segment in self._segments) or 1.0
        for segment, width in zip(self._segments, self._widths(bar.width(), whole), strict=True):
            left, right = on_edge(painter, x), on_edge(painter, x + width)
            self._paint_fill(painter, QRectF(left, bar.top(), right - left, bar.height()), segment)
            x += width
        painter.setPen(square(theme.edge, hairline(painter)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(
            QRectF(on_pixel(painter, bar.left()), on_pixel(painter, bar.top()), bar.width() - 1, bar.height())
        )
        self._paint_words(painter, bar.bottom() + look.px(7))
        painter.end()

    def _widths(self, width: float, whole: float) -> list[float]:
        """Widths to scale; what is there is seen, at the cost of the widest."""
        widths = [max(width * segment.grams / whole, self._look.px(THINNEST)) for segment in self._segments]
        if widths:
            widest = widths.index(max(widths))
            widths[widest] -= sum(widths) - width
        return widths

    def _paint_words(self, painter: QPainter, top: float) -> None:
        look, fonts, theme = self._look, self._look.fonts, self._look.theme
        painter.setFont(fonts.label)
        for segment, words, (x, row) in zip(self._segments, self.words, self._places(), strict=True):
            y = top + row * self._line_height
            side = look.px(SWATCH)
            swatch = QRectF(x + 0.5, y + (self._line_height - look.px(3) - side) / 2, side, side)
            self._paint_fill(painter, swatch, segment)
            painter.setPen(square(theme.edge, hairline(painter)))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(swatch)
            painter.setPen(theme.ink)
            box = QRectF(x + side + look.px(6), y, self.width(), self._line_height - look.px(3))
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.TextFlag.TextSingleLine, words)

    def _paint_fill(self, painter: QPainter, box: QRectF, segment: Segment) -> None:
        """Each group has a fill of its own, so that it is told apart without colour."""
        theme, look = self._look.theme, self._look
        colour: QColor = theme.colour(segment.token)
        if segment.fill == "open":
            return
        painter.save()
        painter.setClipRect(box)
        if segment.fill == "solid":
            painter.fillRect(box, colour)
        elif segment.fill == "dotted":
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(colour)
            self._dots(painter, box)
        else:
            painter.setPen(square(colour, 1.4 * look.unit))
            self._stripes(painter, box, is_crossed=segment.fill == "crossed")
        painter.restore()

    def _dots(self, painter: QPainter, box: QRectF) -> None:
        step, y, odd = self._look.px(STRIPE), box.top() + self._look.px(2), False
        while y < box.bottom():
            x = box.left() + (step / 2 if odd else 0.0) + self._look.px(1)
            while x < box.right() + step:
                painter.drawEllipse(QPointF(x, y), 1.3 * self._look.unit, 1.3 * self._look.unit)
                x += step
            y, odd = y + step * 0.8, not odd

    def _stripes(self, painter: QPainter, box: QRectF, *, is_crossed: bool) -> None:
        x, height = box.left() - box.height(), box.height()
        while x < box.right():
            painter.drawLine(QLineF(x, box.bottom(), x + height, box.top()))
            if is_crossed:
                painter.drawLine(QLineF(x, box.top(), x + height, box.bottom()))
            x += self._look.px(STRIPE if not is_crossed else STRIPE * 1.6)
