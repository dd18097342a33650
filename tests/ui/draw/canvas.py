"""A picture to paint on, and what can be asked of it afterwards."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QColor, QImage, QPainter

Paint = Callable[[QPainter], object]


class Canvas:
    """A picture of a size in device-independent pixels, filled with a ground, at a screen scale."""

    def __init__(self, width: int, height: int, ground: QColor, scale: float = 1.0) -> None:
        self.ground = ground
        self.scale = scale
        self.image = QImage(round(width * scale), round(height * scale), QImage.Format.Format_RGB32)
        self.image.setDevicePixelRatio(scale)
        self.image.fill(ground)

    def paint(self, paint: Paint) -> "Canvas":
        """Run a painting function on the picture."""
        painter = QPainter(self.image)
        paint(painter)
        painter.end()
        return self

    def colour(self, x: float, y: float) -> QColor:
        """The colour at a place in device-independent pixels."""
        return self.image.pixelColor(int(x * self.scale), int(y * self.scale))

    def pixels(self) -> NDArray[np.int16]:
        """The picture as (height, width, 3): red, green, blue."""
        width, height = self.image.width(), self.image.height()
        rows = np.frombuffer(self.image.constBits(), np.uint8).reshape(height, self.image.bytesPerLine())
        return rows[:, : 4 * width].reshape(height, width, 4)[:, :, 2::-1].astype(np.int16)

    def places(self, colour: QColor, tolerance: int = 12) -> list[tuple[int, int]]:
        """All device pixels of about a colour, as (x, y)."""
        away = np.abs(self.pixels() - _parts(colour)).max(axis=2)
        return [(int(x), int(y)) for y, x in np.argwhere(away <= tolerance)]

    def ink(self) -> QRect:
        """The smallest rectangle around everything that is not ground, in device pixels."""
        marked = np.argwhere((self.pixels() != _parts(self.ground)).any(axis=2))
        if not len(marked):
            return QRect()
        (top, left), (bottom, right) = marked.min(axis=0), marked.max(axis=0)
        return QRect(int(left), int(top), int(right - left) + 1, int(bottom - top) + 1)

    def grey(self) -> QImage:
        """The picture as a printer without colour shows it."""
        return self.image.convertToFormat(
            QImage.Format.Format_Grayscale8, Qt.ImageConversionFlag.ThresholdDither
        )


def _parts(colour: QColor) -> NDArray[np.int16]:
    return np.array([colour.red(), colour.green(), colour.blue()], dtype=np.int16)
