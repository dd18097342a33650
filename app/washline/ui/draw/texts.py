"""Texts that are painted again and again: laid out once and kept."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QStaticText, QTransform

from washline.ui.fonts import Fonts

_MOST_TEXTS = 4000


@dataclass(frozen=True, slots=True)
class LaidOut:
    """A text laid out in a font, how wide it is, and how far its baseline lies below its top."""

    static: QStaticText
    width: float
    ascent: float


class Texts:
    """The texts of one type scale. Only its own fonts may be given, which live as long as it does."""

    def __init__(self, fonts: Fonts) -> None:
        self.fonts = fonts
        self._laid_out: dict[tuple[int, str], LaidOut] = {}
        self._metrics: dict[int, QFontMetricsF] = {}

    def metrics(self, font: QFont) -> QFontMetricsF:
        """The metrics of a font."""
        metrics = self._metrics.get(id(font))
        if metrics is None:
            metrics = self._metrics[id(font)] = self.fonts.metrics(font)
        return metrics

    def laid_out(self, text: str, font: QFont) -> LaidOut:
        """A text in a font."""
        key = (id(font), text)
        laid_out = self._laid_out.get(key)
        if laid_out is None:
            if len(self._laid_out) > _MOST_TEXTS:
                self._laid_out.clear()
            static = QStaticText(text)
            static.setTextFormat(Qt.TextFormat.PlainText)
            static.setPerformanceHint(QStaticText.PerformanceHint.AggressiveCaching)
            static.prepare(QTransform(), font)
            metrics = self.metrics(font)
            laid_out = self._laid_out[key] = LaidOut(
                static, metrics.horizontalAdvance(text), metrics.ascent()
            )
        return laid_out

    def elided(self, text: str, font: QFont, room: float) -> str:
        """A text, cut where it is wider than ``room``."""
        if self.laid_out(text, font).width <= room:
            return text
        return self.metrics(font).elidedText(text, Qt.TextElideMode.ElideRight, max(0.0, room))

    def draw(
        self, painter: QPainter, left: float, baseline: float, text: str, font: QFont, colour: QColor
    ) -> float:
        """Draws a text from ``left``; its width."""
        laid_out = self.laid_out(text, font)
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawStaticText(QPointF(left, baseline - laid_out.ascent), laid_out.static)
        return laid_out.width
