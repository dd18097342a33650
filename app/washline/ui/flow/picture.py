"""The flow picture in the window: its bands by pointer and by key, each in words."""

from functools import cache

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPathStroker,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from washline.presentation.flow_graph import Band, Flow, Node
from washline.presentation.flow_layout import FlowPlaces, layout
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.readings_accessible import list_factory_for
from washline.ui.flow.draw_flow import band_path, draw_flow, measure_of, node_rect
from washline.ui.flow.tips import plain_tip

LEAST_HEIGHT = 300.0
_GRIP = 8.0


class FlowPicture(QWidget):
    """Paints a ``Flow`` in the room it is given, or in more where it needs more. ``opened`` carries the id of an item,
    ``current_changed`` the place of the band that the keys have come to."""

    opened = Signal(int)
    current_changed = Signal(QRect)

    def __init__(
        self, look: Appearance, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._look, self._style = look, style
        self._flow: Flow | None = None
        self._places: FlowPlaces | None = None
        self._room = QSize(800, 400)
        self._current = 0
        self._hovered: Band | None = None
        self.setAccessibleName("Flow picture")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @property
    def flow(self) -> Flow | None:
        """What is drawn."""
        return self._flow

    @property
    def places(self) -> FlowPlaces | None:
        """Where it is drawn."""
        return self._places

    def set_flow(self, flow: Flow) -> None:
        """Draws another picture."""
        self._flow = flow
        self._current = min(self._current, max(len(flow.bands) - 1, 0))
        self._hovered = None
        self._lay_out()

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        self._lay_out()

    def set_room(self, room: QSize) -> None:
        """Says how much room there is."""
        if room != self._room:
            self._room = room
            self._lay_out()

    def height_for(self, width: int) -> int:
        """The least height at a width at which it can be read."""
        if self._flow is None or not self._flow.groups:
            return 0
        least = self._look.px(LEAST_HEIGHT)
        return round(layout(self._flow, width, least, measure_of(self._look.fonts), self._look.unit).height)

    def _lay_out(self) -> None:
        if self._flow is None or not self._flow.groups:
            self._places = None
            self.setFixedSize(0, 0)
            return
        fonts, unit = self._look.fonts, self._look.unit
        self._places = layout(self._flow, self._room.width(), self._room.height(), measure_of(fonts), unit)
        self.setFixedSize(round(self._places.width), round(self._places.height))
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._places is None:
            return
        painter = QPainter(self)
        focused = self._band if self.hasFocus() else None
        draw_flow(
            painter, self._places, self._look.theme, self._look.fonts, self._style, focused=focused, hovered=self._hovered
        )  # fmt: skip
        painter.end()

    # Bands in reading order

    @property
    def bands(self) -> tuple[Band, ...]:
        """The bands from left to right, from top to bottom."""
        if self._flow is None:
            return ()
        place = {node.key: index for index, node in enumerate(self._flow.nodes)}
        return tuple(sorted(self._flow.bands, key=lambda band: (place[band.source], place[band.target])))

    @property
    def _band(self) -> Band | None:
        bands = self.bands
        return bands[self._current] if self._current < len(bands) else None

    def _node(self, key: str) -> Node:
        assert self._flow is not None
        return next(node for node in self._flow.nodes if node.key == key)

    def sentence(self, band: Band) -> str:
        """A band in words: what flows, where from, where to."""
        source, target = self._node(band.source), self._node(band.target)
        if source.is_source:
            return f"{source.sentence}, into {target.name or 'the vessel'}"
        return f"{target.sentence}, from {source.name or 'the vessel'}"

    def opens(self, band: Band) -> int | None:
        """The item that opens from a band: what flows in, or what it becomes."""
        source, target = self._node(band.source), self._node(band.target)
        return source.item_id if source.is_source else target.item_id

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrows, Home and End go from band to band, Enter opens what it is."""
        last = len(self.bands) - 1
        key = Qt.Key(event.key())
        moves = {
            Qt.Key.Key_Up: max(self._current - 1, 0),
            Qt.Key.Key_Left: max(self._current - 1, 0),
            Qt.Key.Key_Down: min(self._current + 1, last),
            Qt.Key.Key_Right: min(self._current + 1, last),
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        if key in moves and last >= 0:
            self._choose(moves[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._band is not None:
            self._open(self._band)
        else:
            super().keyPressEvent(event)

    def _open(self, band: Band) -> None:
        item_id = self.opens(band)
        if item_id is not None:
            self.opened.emit(item_id)

    def _choose(self, index: int) -> None:
        self._current = index
        self.setAccessibleDescription(self.sentence(self.bands[index]))
        self.update()
        self.current_changed.emit(self._rect(self.bands[index]).toAlignedRect())

    def _rect(self, band: Band) -> QRectF:
        assert self._places is not None
        placed = next(one for one in self._places.bands if one.band is band)
        end = band.source if self._node(band.source).is_source else band.target
        label = next(node_rect(one) for one in self._places.nodes if one.node.key == end)
        return band_path(placed).boundingRect().united(label)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    # Pointer

    def band_at(self, place: QPointF) -> Band | None:
        """The band under a place; at a bar or label the one that it belongs to. Of several the thinnest."""
        if self._places is None:
            return None
        for node in self._places.nodes:
            label = QRectF(node.label.x, node.label.y, node.label.width, node.label.height)
            if label.contains(place):
                return next((band for band in self.bands if node.node.key in (band.target, band.source)
                             and (band.target == node.node.key or node.node.is_source)), None)  # fmt: skip
        stroker = QPainterPathStroker()
        stroker.setWidth(_GRIP * self._look.unit)
        for placed in sorted(self._places.bands, key=lambda one: one.width):
            path = band_path(placed)
            if path.contains(place) or (placed.width < _GRIP and stroker.createStroke(path).contains(place)):
                return placed.band
        return None

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        hovered = self.band_at(event.position())
        if hovered is not self._hovered:
            self._hovered = hovered
            self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._hovered = None
        self.update()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        band = self.band_at(event.position())
        if band is not None:
            self._choose(self.bands.index(band))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        band = self.band_at(event.position())
        if band is not None:
            self._open(band)

    def event(self, event: QEvent) -> bool:
        """Tooltips: the band in words."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            band = self.band_at(QPointF(event.pos()))
            text = plain_tip(self.sentence(band)) if band is not None else ""
            QToolTip.showText(event.globalPos(), text, self)
            return True
        return super().event(event)

    # What a screen reader finds

    def axis_sentences(self) -> tuple[str, ...]:
        """Each band as it is read aloud."""
        return tuple(self.sentence(band) for band in self.bands)

    def chart_sentence(self) -> str:
        """What the picture is."""
        return f"{self._flow.title}: {self._flow.subtitle}" if self._flow is not None else ""

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a band stands on the screen."""
        rect = self._rect(self.bands[index]).toAlignedRect()
        return QRect(self.mapToGlobal(rect.topLeft()), rect.size())

    def current_axis(self) -> int | None:
        """The band with the keyboard focus."""
        return self._current if self.hasFocus() and self._band is not None else None


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(list_factory_for(FlowPicture))
