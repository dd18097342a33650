"""Paints a spec card that is laid out: the same drawing for a PDF, a picture, a printer and the preview."""

from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter

from washline.presentation.card import Card
from washline.ui.draw.glass import GlassTexts, draw_glass
from washline.ui.draw.pens import solid, square
from washline.ui.draw.radar import draw_radar
from washline.ui.fonts import Fonts
from washline.ui.papers.marks import FrameMark, Mark, PictureMark, RuleMark
from washline.ui.papers.setting import Setter, TextMark
from washline.ui.theme import Theme

_GLASS_UNIT = 1.25
_SHAPE_UNIT = 1.08
_SIGN_PX = 15.0


def draw_page(painter: QPainter, marks: tuple[Mark, ...], card: Card, fonts: Fonts, theme: Theme) -> None:
    """Paint the marks of one page; the painter's coordinates are the pixels of the design. It is left as it was."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
    painter.setRenderHint(QPainter.RenderHint.TextAntialiasing, True)
    setter = Setter(fonts)
    for mark in marks:
        if isinstance(mark, TextMark):
            _text(painter, mark, setter, theme)
        elif isinstance(mark, RuleMark):
            _rule(painter, mark, theme)
        elif isinstance(mark, FrameMark):
            _frame(painter, mark, fonts, theme)
        else:
            _picture(painter, mark, card, fonts, theme)
    painter.restore()


def _text(painter: QPainter, mark: TextMark, setter: Setter, theme: Theme) -> None:
    painter.setFont(setter.font(mark.style))
    painter.setPen(theme.colour(mark.style.token))
    painter.drawText(QPointF(mark.rect.left(), mark.baseline), mark.text)


def _rule(painter: QPainter, mark: RuleMark, theme: Theme) -> None:
    painter.setPen(square(theme.colour(mark.token), mark.thickness))
    painter.drawLine(mark.rect.topLeft(), QPointF(mark.rect.right(), mark.rect.bottom()))


def _frame(painter: QPainter, mark: FrameMark, fonts: Fonts, theme: Theme) -> None:
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(solid(theme.ink, mark.thickness))
    inset = mark.thickness / 2
    rect = mark.rect.adjusted(inset, inset, -inset, -inset)
    painter.drawRoundedRect(rect, 2.5, 2.5)
    if mark.sign:
        font = fonts.sans(_SIGN_PX)
        font.setBold(True)
        metrics = fonts.metrics(font)
        x = mark.rect.center().x() - metrics.horizontalAdvance(mark.sign) / 2
        painter.setFont(font)
        painter.drawText(QPointF(x, mark.rect.center().y() + metrics.capHeight() / 2), mark.sign)


def _picture(painter: QPainter, mark: PictureMark, card: Card, fonts: Fonts, theme: Theme) -> None:
    if mark.kind == "glass" and card.served is not None:
        texts = GlassTexts("wash line", card.served.volume, card.served.ounces)
        larger = replace(fonts, unit=_GLASS_UNIT)
        rect = QRectF(mark.rect)
        draw_glass(painter, rect, card.served.glass, theme, larger, texts, has_leaf=card.served.has_leaf)
    elif mark.kind == "shape" and card.shape is not None:
        draw_radar(painter, mark.rect, card.shape, theme, replace(fonts, unit=_SHAPE_UNIT))
