"""The program's own icons: line drawings in a box of 14 px, tinted by a colour token when they are painted."""

from functools import lru_cache

from PySide6.QtCore import QByteArray, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtSvg import QSvgRenderer

from washline.assets import resource
from washline.ui.theme import Theme

ICON_PX = 14.0
_SCALES = (1.0, 2.0, 3.0)

STEP_ICONS = {
    "add": "pour",
    "blend": "blend",
    "rest": "rest",
    "note": "note",
    "strain": "strain",
    "heat": "heat",
    "reduce": "reduce",
    "dry": "dry",
    "take": "take",
    "chill": "block",
    "top": "top",
    "garnish": "leaf",
    "bottle": "bottle",
    "left over": "left-over",
    "cut": "cut",
    "stir": "stir",
    "shake": "shake",
    "build": "block",
    "measure": "measure",
}
"""The icon of each kind of step."""


@lru_cache(maxsize=128)
def _drawing(name: str) -> bytes:
    return resource("icons", f"{name}.svg").read_bytes()


@lru_cache(maxsize=256)
def _renderer(name: str, colour: str, opacity: float) -> QSvgRenderer:
    drawing = _drawing(name).replace(b"currentColor", colour.encode("ascii"))
    if opacity < 1:
        drawing = drawing.replace(b"<svg ", f'<svg opacity="{opacity:.3f}" '.encode("ascii"), 1)
    return QSvgRenderer(QByteArray(drawing))


def icon_names() -> tuple[str, ...]:
    """The names of all icons, in alphabetical order."""
    return tuple(sorted(path.stem for path in resource("icons").glob("*.svg")))


def draw_icon(painter: QPainter, rect: QRectF, name: str, colour: QColor) -> None:
    """Draw an icon into ``rect`` in one colour; raises ``FileNotFoundError`` for a name that is no icon."""
    _renderer(name, colour.name(), round(colour.alphaF(), 3)).render(painter, rect)


def icon_rect(centre_x: float, centre_y: float, unit: float = 1.0) -> QRectF:
    """The box of an icon around a point."""
    size = ICON_PX * unit
    return QRectF(centre_x - size / 2, centre_y - size / 2, size, size)


def icon(name: str, theme: Theme, token: str = "ink2", unit: float = 1.0) -> QIcon:
    """An icon for a button or an action, sharp up to 300 %; greyed where the control is off."""
    made = QIcon()
    for scale in _SCALES:
        made.addPixmap(_pixmap(name, theme.colour(token), unit, scale), QIcon.Mode.Normal)
        made.addPixmap(_pixmap(name, theme.edge, unit, scale), QIcon.Mode.Disabled)
    return made


def _pixmap(name: str, colour: QColor, unit: float, scale: float) -> QPixmap:
    side = round(ICON_PX * unit * scale)
    pixmap = QPixmap(QSize(side, side))
    pixmap.setDevicePixelRatio(scale)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    draw_icon(painter, QRectF(0, 0, side / scale, side / scale), name, colour)
    painter.end()
    return pixmap
