"""A line of controls that goes on in the next line where there is no more room."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from washline.ui.appearance import Appearance


class WrapLine(QWidget):
    """Holds ``parts`` in order, each as wide as it likes to be; hidden ones take no room."""

    def __init__(self, look: Appearance, parts: Sequence[QWidget]) -> None:
        super().__init__()
        self._look, self._parts = look, parts
        for part in parts:
            part.setParent(self)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another text size."""
        self._look = look
        self._place(self.width())
        self.updateGeometry()

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._places(width)[1]

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(480), self.heightForWidth(max(self.width(), self._look.px(480))))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(240), self.heightForWidth(max(self.width(), self._look.px(240))))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place(self.width())

    def event(self, event: QEvent) -> bool:
        """A part that shows, hides or grows moves the others."""
        if event.type() == QEvent.Type.LayoutRequest:
            self._place(self.width())
            self.updateGeometry()
        return super().event(event)

    def _place(self, width: int) -> None:
        for part, place in zip(self._shown(), self._places(width)[0], strict=True):
            part.move(place)
            part.resize(part.sizeHint())
        self.setFixedHeight(self._places(width)[1])

    def _shown(self) -> list[QWidget]:
        return [part for part in self._parts if not part.isHidden()]

    def _places(self, width: int) -> tuple[list[QPoint], int]:
        """Where each shown part stands at a width, and how high they are together."""
        gap, line_gap = self._look.px(18), self._look.px(6)
        line_height = max((part.sizeHint().height() for part in self._shown()), default=0)
        places, x, y = [], 0, 0
        for part in self._shown():
            size = part.sizeHint()
            if x > 0 and x + size.width() > width:
                x, y = 0, y + line_height + line_gap
            places.append(QPoint(x, y + (line_height - size.height()) // 2))
            x += size.width() + gap
        return places, y + line_height
