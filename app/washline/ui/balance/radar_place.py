"""Where a radar stands in a page: it takes what height is left over, and the page scrolls rather than squeeze it."""

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QFrame, QScrollArea, QVBoxLayout, QWidget

from washline.ui.appearance import Appearance
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.balance.readings_layout import INSET
from washline.ui.controls import ThinScrollBar

SMALLEST_RADAR_HEIGHT = 300.0


class RadarPlace(QWidget):
    """Holds the radar: it takes what height is left, and never asks for more than the smallest."""

    def __init__(self, look: Appearance, radar: RadarWidget) -> None:
        super().__init__()
        self.radar = radar
        self._column = QVBoxLayout(self)
        self._column.addWidget(radar)
        # The radar itself takes the keys; what it is drawn on is no place to stop at.
        for drawing in radar.findChildren(QAbstractScrollArea):
            drawing.viewport().setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.set_appearance(look)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        inset = look.px(INSET)
        self._column.setContentsMargins(inset, 0, inset, look.px(4))
        self.radar.set_look(look.theme, look.fonts)
        self.radar.set_reduced_motion(look.is_calm)
        self.setMinimumHeight(look.px(SMALLEST_RADAR_HEIGHT))

    def hasHeightForWidth(self) -> bool:
        return False

    def sizeHint(self) -> QSize:
        return QSize(self._look.px(376), self._look.px(SMALLEST_RADAR_HEIGHT))

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(160), self._look.px(SMALLEST_RADAR_HEIGHT))


def page_area(body: QWidget, bar: ThinScrollBar) -> QScrollArea:
    """A page that scrolls up and down only. The room of its bar is always kept, so that no width depends on a height."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
    area.setVerticalScrollBar(bar)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    area.setWidget(body)
    return area
