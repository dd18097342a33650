"""The radar of the balance pane: the drawing in a plot, its legend, its travel after a commit, keys and tooltips."""

from dataclasses import replace
from functools import cache

from PySide6.QtCore import (
    QEasingCurve,
    QEvent,
    QObject,
    QPoint,
    QPointF,
    QRect,
    QRectF,
    QSize,
    Qt,
    QVariantAnimation,
    Signal,
    Slot,
)
from PySide6.QtGui import (
    QAccessible,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPixmap,
)
from PySide6.QtWidgets import QSizePolicy, QStyle, QStyleOptionGraphicsItem, QToolTip, QVBoxLayout, QWidget

from washline.presentation.radar import (
    LegendEntry,
    RadarCurves,
    RadarShape,
    Values,
    legend,
    radar_curves,
    shares_between,
)
from washline.presentation.radar_layout import RadarLayout
from washline.presentation.shape import IDEAL_RADIUS, Band
from washline.ui.balance.radar_accessible import factory_for
from washline.ui.draw.legend import draw_legend, legend_height
from washline.ui.draw.radar import draw_radar, radar_layout
from washline.ui.draw.radar_plate import plate_picture
from washline.ui.fonts import Fonts
from washline.ui.plot import PlotItemBase, StillPlot
from washline.ui.theme import Theme

TRAVEL_MS = 120
GRIP_PX = 24.0


class RadarItem(PlotItemBase):
    """The radar as an item of a ``StillPlot``; it fills the plot and keeps its own place in it."""

    def __init__(self, theme: Theme, fonts: Fonts) -> None:
        super().__init__()
        self._theme = theme
        self._fonts = fonts
        self._rect = QRectF()
        self._shape = RadarShape(())
        self._layout: RadarLayout | None = None
        self._curves: RadarCurves | None = None
        self._current_axis: int | None = None
        self._plate: QPixmap | None = None
        self._plate_bands: list[Band] = []

    @property
    def shape_shown(self) -> RadarShape:
        """What is drawn."""
        return self._shape

    @property
    def place(self) -> RadarLayout | None:
        """Where it stands; ``None`` when there is no radar or no room for one."""
        return self._layout

    @property
    def drink_radii(self) -> Values:
        """The radii drawn now, which differ from the values' own while the shape travels."""
        return self._curves.drink_radii if self._curves else ()

    def set_rect(self, rect: QRectF) -> None:
        """Fill another rectangle of the plot."""
        if rect == self._rect:
            return
        self.prepareGeometryChange()
        self._rect = QRectF(rect)
        self._solve(keep=None)

    def set_look(self, theme: Theme, fonts: Fonts) -> None:
        """Take other colours and sizes."""
        self._theme, self._fonts = theme, fonts
        self._plate = None
        self._solve(keep=None)

    def set_shape(
        self, shape: RadarShape, drink_radii: Values | None = None, *, is_first_sight: bool = False
    ) -> None:
        """Show a shape, its drink at its values or, while it travels, at ``drink_radii``.

        At first sight and on the way the soft edge is as coarse as while typing, and at first sight the labels keep the
        place that they have: an edit waits for neither.
        """
        is_other = shape is not self._shape
        is_coarse = is_first_sight or drink_radii is not None
        self._shape = shape
        self._curves = radar_curves(replace(shape, is_preview=True) if is_coarse else shape, drink_radii)
        if is_other:
            self._solve(keep=self._layout if shape.is_preview or is_first_sight else None)
        self.update()

    def set_current_axis(self, index: int | None) -> None:
        """Put the ring of the keyboard focus on an axis, or take it away."""
        self._current_axis = index
        self.update()

    def vertex(self, index: int) -> QPointF | None:
        """The place of a vertex in the plot; on the ideal where the reading is not known, ``None`` without a radar."""
        if self._layout is None or not 0 <= index < len(self._shape.axes):
            return None
        radii = self.drink_radii
        radius = radii[index] if index < len(radii) else None
        x, y = self._layout.axis_point(index, IDEAL_RADIUS if radius is None else radius)
        return QPointF(x + self._rect.left(), y + self._rect.top())

    def axis_at(self, point: QPointF) -> int | None:
        """The axis whose vertex or label is under a point of the plot."""
        if self._layout is None:
            return None
        grip = GRIP_PX / 2 * self._fonts.unit
        nearest: tuple[float, int] | None = None
        for index, label in enumerate(self._layout.labels):
            left, top, right, bottom = label.box
            if QRectF(left, top, right - left, bottom - top).translated(self._rect.topLeft()).contains(point):
                return index
            away = point - (self.vertex(index) or point)
            distance = (away.x() ** 2 + away.y() ** 2) ** 0.5
            if distance <= grip and (nearest is None or distance < nearest[0]):
                nearest = (distance, index)
        return nearest[1] if nearest else None

    def boundingRect(self) -> QRectF:
        """All that is drawn, labels included."""
        return QRectF(self._rect)

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        """Draw upright in pixels, whatever way the plot's coordinates run."""
        if self._layout is None or self._curves is None:
            return
        placed = painter.worldTransform().mapRect(self._rect)
        painter.save()
        painter.resetTransform()
        painter.translate(placed.topLeft())
        scale = placed.width() / self._rect.width() if self._rect.width() else 1.0
        if abs(scale - 1) > 1e-3:
            painter.scale(scale, scale)
        draw_radar(
            painter,
            QRectF(QPointF(0, 0), self._rect.size()),
            self._shape,
            self._theme,
            self._fonts,
            layout=self._layout,
            curves=self._curves,
            plate=self._plate_for(painter) if abs(scale - 1) <= 1e-3 else None,
            current_axis=self._current_axis,
        )
        painter.restore()

    def _solve(self, keep: RadarLayout | None) -> None:
        if self._curves is None:
            self._curves = radar_curves(self._shape)
        old, bands = self._layout, [axis.band for axis in self._shape.axes]
        has_room = self._rect.isValid()
        new = radar_layout(self._rect, self._shape, self._fonts, keep) if has_room else None
        if old is None or new is None or bands != self._plate_bands or not _same_plate(old, new):
            self._plate = None
        self._layout, self._plate_bands = new, bands
        self.update()

    def _plate_for(self, painter: QPainter) -> QPixmap | None:
        """The kept picture of the plate, made anew for another place, theme or screen."""
        ratio = painter.device().devicePixelRatioF()
        if self._layout is not None and (self._plate is None or self._plate.devicePixelRatio() != ratio):
            self._plate = plate_picture(
                self._rect.size(), ratio, self._layout, self._shape, self._theme, self._fonts.unit
            )
        return self._plate


def _same_plate(one: RadarLayout, other: RadarLayout) -> bool:
    return (one.radius, one.x, one.y) == (other.radius, other.x, other.y)


class _LegendRow(QWidget):
    """The legend beneath the radar."""

    def __init__(self, theme: Theme, fonts: Fonts) -> None:
        super().__init__()
        self.look = (theme, fonts)
        self.entries: tuple[LegendEntry, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_entries(self, entries: tuple[LegendEntry, ...]) -> None:
        """Show other keys; nothing happens when they are the same."""
        if entries != self.entries:
            self.entries = entries
            self.updateGeometry()
            self.update()

    def hasHeightForWidth(self) -> bool:
        """The rows depend on the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """One row, or more where names are long."""
        return round(legend_height(width, self.entries, self.look[1]))

    def sizeHint(self) -> QSize:
        """The height for the width it has."""
        return QSize(200, self.heightForWidth(max(self.width(), 1)))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the keys."""
        painter = QPainter(self)
        draw_legend(painter, QRectF(self.rect()), self.entries, *self.look)
        painter.end()


class RadarWidget(QWidget):
    """The radar with its legend. Give it shapes with ``set_shape``; nothing else moves it.

    After a commit the shape travels for 120 ms; while typing it jumps, so that the answer equals the keystroke. Tab
    enters, Left and Right choose an axis, Home and End the first and last, Return or a double click emits
    ``axis_activated`` with the reading's key.
    """

    axis_activated = Signal(str)
    current_axis_changed = Signal(str)

    def __init__(self, theme: Theme, fonts: Fonts, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        _install_accessibility()
        self._is_still = False
        self._index = 0
        self._plot = StillPlot(theme)
        self._item = RadarItem(theme, fonts)
        self._legend = _LegendRow(theme, fonts)
        self._plot.add(self._item)
        self._plot.pixels_changed.connect(self._fit)
        self._plot.viewport().installEventFilter(self)
        self._plot.setAccessibleName(self.tr("Radar drawing"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self._plot, 1)
        column.addWidget(self._legend)
        self.setAccessibleName(self.tr("Balance"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._travel = QVariantAnimation(self)
        self._travel.setDuration(TRAVEL_MS)
        self._travel.setEasingCurve(QEasingCurve.Type.OutCubic)
        self._travel.setStartValue(0.0)
        self._travel.setEndValue(1.0)
        self._travel.valueChanged.connect(self._travel_on)
        self._start: Values = ()
        self._end: Values = ()

    @property
    def shape_shown(self) -> RadarShape:
        """The shape that was set last."""
        return self._item.shape_shown

    @property
    def has_room(self) -> bool:
        """Whether the radar is drawn; when not, the readings table stands alone."""
        return self._item.place is not None

    @property
    def is_travelling(self) -> bool:
        """Whether the shape is on its way after a commit."""
        return self._travel.state() == QVariantAnimation.State.Running

    def set_shape(self, shape: RadarShape, *, is_first_sight: bool = False) -> None:
        """Show a shape: at once while typing, travelling after a commit, undo or choice of a proposal.

        ``is_first_sight``: the same shape comes again with its own spread, and is drawn in full then.
        """
        old, now = self.shape_shown, self._item.drink_radii
        self._travel.stop()
        target = shape.radii(shape.values)
        same_axes = [axis.key for axis in old.axes] == [axis.key for axis in shape.axes]
        can_travel = same_axes and not (shape.is_preview or shape.is_empty or old.is_empty)
        if can_travel and now != target and self._may_move():
            self._start, self._end = now, target
            self._item.set_shape(shape, now, is_first_sight=is_first_sight)
            self._travel.start()
        else:
            self._item.set_shape(shape, is_first_sight=is_first_sight)
        self._legend.show_entries(legend(shape))
        self._index = min(self._index, max(len(shape.axes) - 1, 0))
        if not shape.is_preview:
            self.setAccessibleDescription(shape.sentence)
        self._show_focus()

    def set_look(self, theme: Theme, fonts: Fonts) -> None:
        """Take other colours or sizes, at once."""
        self._plot.set_theme(theme)
        self._item.set_look(theme, fonts)
        self._legend.look = (theme, fonts)
        self._legend.updateGeometry()
        self._legend.update()

    def set_reduced_motion(self, is_still: bool) -> None:
        """Let the shape jump always, as the person or the system asks."""
        self._is_still = is_still

    def axis_sentences(self) -> tuple[str, ...]:
        """Each axis as it is read aloud."""
        return tuple(axis.sentence for axis in self.shape_shown.axes)

    def chart_sentence(self) -> str:
        """The chart in one sentence."""
        return self.shape_shown.sentence

    def current_axis(self) -> int | None:
        """The axis with the keyboard focus, ``None`` without focus or axes."""
        return self._index if self.hasFocus() and self.shape_shown.axes else None

    def axis_screen_rect(self, index: int) -> QRect:
        """Where a vertex stands on the screen, as large as what a pointer can hit."""
        vertex = self._item.vertex(index)
        if vertex is None:
            return QRect()
        corner = self._plot.viewport().mapToGlobal(vertex.toPoint())
        half = round(GRIP_PX / 2)
        return QRect(corner - QPoint(half, half), QSize(2 * half, 2 * half))

    def minimumSizeHint(self) -> QSize:
        """Small: where the radar does not fit, the table stands alone."""
        return QSize(120, 80)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose an axis by arrow keys, Home and End; Return asks for its explanation."""
        last = len(self.shape_shown.axes) - 1
        moves = {
            Qt.Key.Key_Left: (self._index - 1) % (last + 1) if last >= 0 else 0,
            Qt.Key.Key_Right: (self._index + 1) % (last + 1) if last >= 0 else 0,
            Qt.Key.Key_Home: 0,
            Qt.Key.Key_End: last,
        }
        key = Qt.Key(event.key())
        if last >= 0 and key in moves:
            self._choose(moves[key])
        elif last >= 0 and key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.axis_activated.emit(self.shape_shown.axes[self._index].key)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show which axis is current."""
        super().focusInEvent(event)
        self._show_focus()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the ring away."""
        super().focusOutEvent(event)
        self._show_focus()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tooltips and clicks of the plot's viewport."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            return self._show_tool_tip(event)
        if isinstance(event, QMouseEvent) and event.button() == Qt.MouseButton.LeftButton:
            index = self._item.axis_at(event.position())
            if index is not None and event.type() == QEvent.Type.MouseButtonPress:
                self.setFocus(Qt.FocusReason.MouseFocusReason)
                self._choose(index)
            if index is not None and event.type() == QEvent.Type.MouseButtonDblClick:
                self.axis_activated.emit(self.shape_shown.axes[index].key)
        return super().eventFilter(watched, event)

    def _show_tool_tip(self, event: QHelpEvent) -> bool:
        index = self._item.axis_at(QPointF(event.pos()))
        if index is None:
            QToolTip.hideText()
            return True
        axis = self.shape_shown.axes[index]
        QToolTip.showText(event.globalPos(), axis.tool_tip or axis.sentence, self._plot)
        return True

    def _choose(self, index: int) -> None:
        self._index = index
        self._show_focus()
        self.current_axis_changed.emit(self.shape_shown.axes[index].key)

    def _show_focus(self) -> None:
        self._item.set_current_axis(self.current_axis())

    def _may_move(self) -> bool:
        moves = self.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration, None, self) > 0
        return moves and not self._is_still and self.isVisible()

    @Slot()
    def _fit(self) -> None:
        self._item.set_rect(self._plot.pixel_rect)

    @Slot(object)
    def _travel_on(self, done: float) -> None:
        # The start is drawn already: Qt says it once more when the travel begins.
        if done > 0:
            radii = shares_between(self._start, self._end, done)
            self._item.set_shape(self.shape_shown, radii if done < 1 else None)


@cache
def _install_accessibility() -> None:
    QAccessible.installFactory(factory_for(RadarWidget))
