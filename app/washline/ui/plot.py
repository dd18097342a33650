"""The only door to pyqtgraph, with types: a plot that stands still, and curves that keep their thickness.

Importing this module imports pyqtgraph and NumPy; the window does so after its first paint.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

import pyqtgraph as pg
from PySide6.QtCore import QEvent, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPen, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QGraphicsObject, QGraphicsView, QWidget

from washline.ui.theme import Theme

if TYPE_CHECKING:
    # pyqtgraph has no type information; these are the Qt classes that its own derive from.
    _GraphicsView = QGraphicsView
    _GraphicsObject = QGraphicsObject
else:
    _GraphicsView = pg.GraphicsView
    _GraphicsObject = pg.GraphicsObject


class StillPlot(_GraphicsView):
    """A plot without axes that neither pans nor zooms: its coordinates are its own pixels, y down.

    The wheel is left to the page, and keys to the widget that holds the plot. Items are repainted after
    ``pixels_changed``.
    """

    pixels_changed = Signal()

    def __init__(self, theme: Theme, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # A bare view box: a plot item would bring axes and menus that nobody sees.
        self._box: Any = pg.ViewBox(enableMouse=False, enableMenu=False, invertY=True, lockAspect=True)
        self._box.setDefaultPadding(0)
        self._box.disableAutoRange()
        cast(Any, self).setCentralItem(self._box)
        cast(Any, self).setAntialiasing(True)
        self.setFrameShape(QGraphicsView.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.set_theme(theme)

    def set_theme(self, theme: Theme) -> None:
        """Take the ground of a theme; items are restyled by their owner."""
        cast(Any, self).setBackground(theme.sheet)

    def add(self, item: "PlotItemBase | ValueCurve", z: float = 0.0) -> None:
        """Put an item on the plot once; change it with its own methods afterwards."""
        drawn = item.item if isinstance(item, ValueCurve) else item
        drawn.setZValue(z)
        self._box.addItem(drawn, ignoreBounds=True)

    @property
    def pixel_rect(self) -> QRectF:
        """The plot's own coordinates: its size in device-independent pixels."""
        return QRectF(0, 0, self.width(), self.height())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Keep one unit one pixel; pyqtgraph calls this without an event before the plot is whole."""
        cast(Any, super()).resizeEvent(event)
        if event is not None and self.width() > 0 and self.height() > 0:
            self._box.setRange(self.pixel_rect, padding=0, disableAutoRange=True)
            self.pixels_changed.emit()

    def close(self) -> bool:
        """Close as any widget does; pyqtgraph would destroy the scene under its items and crash."""
        return QGraphicsView.close(self)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave the wheel to the page around."""
        event.ignore()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave keys to the widget around; the plot itself would zoom with some of them."""
        event.ignore()

    def changeEvent(self, event: QEvent) -> None:
        """Repaint everything when the widget comes to a screen of another scale."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.DevicePixelRatioChange:
            self.pixels_changed.emit()


class PlotItemBase(_GraphicsObject):
    """The base of the program's own items on a ``StillPlot``; override ``boundingRect`` and ``paint``."""


@dataclass(frozen=True)
class CurveStyle:
    """The line of a curve: colour, width in pixels of 100 %, dashes and gaps in the same pixels (none: solid)."""

    colour: QColor
    width: float
    pattern: tuple[float, ...] = ()

    def pen(self, device_pixel_ratio: float) -> QPen:
        """The pen for a screen: widths of plots are in device pixels, so that they are multiplied by its scale."""
        pen = QPen(self.colour, self.width * device_pixel_ratio)
        pen.setCosmetic(True)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        if self.pattern:
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            pen.setDashPattern([length / self.width for length in self.pattern])
        return pen


class ValueCurve:
    """One curve that lives as long as its plot: new values go in by ``set_values``, a new look by ``set_style``."""

    def __init__(self, style: CurveStyle, *, mark_size: float = 5.0, device_pixel_ratio: float = 1.0) -> None:
        self.item: Any = pg.PlotDataItem(connect="finite")
        self._mark_size = mark_size
        self.set_style(style, device_pixel_ratio)

    def set_style(self, style: CurveStyle, device_pixel_ratio: float) -> None:
        """Take another line; call it on a change of theme and of screen."""
        self.item.setPen(style.pen(device_pixel_ratio))
        self.item.setSymbol("o" if self._mark_size else None)
        self.item.setSymbolSize(self._mark_size)
        self.item.setSymbolBrush(style.colour)
        self.item.setSymbolPen(None)

    def set_values(self, x: Sequence[float], y: Sequence[float | None]) -> None:
        """Show points in the plot's pixels; a ``None`` leaves a gap."""
        heights = [float("nan") if value is None else value for value in y]
        self.item.setData(x=list(x), y=heights)
