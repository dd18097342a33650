"""Where a twist comes from: each drink of the line with its small shape, and what changed between them."""

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from washline.presentation.shape import SmallShape
from washline.ui.appearance import Appearance
from washline.ui.draw.pens import hairline, square
from washline.ui.draw.small_shape import draw_small_shape

_SHAPE = 38.0
_TEXT_X = 54.0
_HEAD = 40.0
_WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


@dataclass(frozen=True)
class Ancestor:
    """One drink of the line: name, a quiet note, its state and figures, what changed after it; ``token`` is its colour."""

    name: str
    note: str
    state: str
    figures: str
    shape: SmallShape
    changes: str = ""
    token: str = "ink2"


class Lineage(QWidget):
    """Paints the line from the first drink to the twist; as high as its words need."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._ancestors: tuple[Ancestor, ...] = ()
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("Lineage")

    def set_ancestors(self, ancestors: tuple[Ancestor, ...]) -> None:
        """Shows another line."""
        self._ancestors = ancestors
        said = [f"{one.name}, {one.state}, {one.figures}. {one.changes}" for one in ancestors]
        self.setAccessibleDescription(" Then ".join(said))
        self.updateGeometry()
        self.update()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return round(sum(self._heights(width)) + 1)

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(300), self.heightForWidth(max(self.width(), self._look.px(300))))

    def _heights(self, width: int) -> list[float]:
        return [_HEAD * self._look.unit + self._changes_height(one, width) for one in self._ancestors]

    def _changes_height(self, one: Ancestor, width: int) -> float:
        if not one.changes:
            return 4 * self._look.unit
        fonts = self._look.fonts
        room = QRectF(0, 0, width - _TEXT_X * self._look.unit, 1e5)
        box = fonts.metrics(fonts.header).boundingRect(room, int(_WRAP), one.changes)
        return float(box.height()) + 12 * self._look.unit

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        theme, fonts, unit = self._look.theme, self._look.fonts, self._look.unit
        y = 0.0
        for index, (one, height) in enumerate(zip(self._ancestors, self._heights(self.width()), strict=True)):
            shape = QRectF(0, y, _SHAPE * unit, _SHAPE * unit)
            if index + 1 < len(self._ancestors):
                painter.setPen(square(theme.rule2, hairline(painter)))
                x = shape.center().x()
                painter.drawLine(QPointF(x, shape.bottom() + 3 * unit), QPointF(x, y + height - 2 * unit))
            draw_small_shape(painter, shape, one.shape, theme, unit, theme.colour(one.token))
            left = _TEXT_X * unit
            top, below = y + 12 * unit, y + 29 * unit
            right = self.width()
            state = fonts.width(fonts.header, one.state)
            name = fonts.metrics(fonts.row_strong).elidedText(
                one.name, Qt.TextElideMode.ElideRight, right - left - state - 10 * unit
            )
            for x, line, text, font, token in (
                (left, top, name, fonts.row_strong, "ink"),
                (right - state, top, one.state, fonts.header, "ink2"),
                (left, below, one.note, fonts.header, "ink2"),
                (right - fonts.width(fonts.header, one.figures), below, one.figures, fonts.header, "ink2"),
            ):
                painter.setFont(font)
                painter.setPen(theme.colour(token))
                painter.drawText(QPointF(x, line + fonts.metrics(font).capHeight() / 2), text)
            if one.changes:
                painter.setFont(fonts.header)
                painter.setPen(theme.ink2)
                box = QRectF(left, y + _HEAD * unit, right - left, height - _HEAD * unit)
                painter.drawText(box, int(_WRAP), one.changes)
            y += height
        painter.end()
