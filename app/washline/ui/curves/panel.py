"""Draws *through the build*: a lane of little vessels, and under it a lane for each reading with its own scale.

Importing this module imports pyqtgraph; the window does so after its first paint.
"""

from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer, Slot
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QHelpEvent, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QStyleOptionGraphicsItem, QToolTip, QVBoxLayout, QWidget

from washline.engine.trace import Trace
from washline.model.reading import BY_KEY
from washline.presentation.through_build import LANES, Lane, ThroughBuild, through_build
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.build.look import Look
from washline.ui.draw.glass import draw_level, draw_wash_line
from washline.ui.draw.pens import hairline
from washline.ui.draw.strip import draw_upright_strip
from washline.ui.plot import CurveStyle, PlotItemBase, StillPlot, ValueCurve
from washline.ui.session import Session, View

LOWEST_OPEN = 180.0
"""Below this height (at 100 %) only the lane of levels is left."""

FOLDED_HEIGHT = 86.0
_LABEL_WIDTH = 106.0
_STRIP_WIDTH = 52.0
_MARGIN = 20.0
_HEAD = 31.0
_LEVEL_LANE = 50.0
_VESSEL = 40.0
_NARROWEST_COLUMN = 92.0
_PATTERNS: dict[str, tuple[float, ...]] = {"strength": (), "sweetness": (6.0, 3.0), "acidity": (2.0, 2.5)}
_TOKENS = {"strength": "ethanol", "sweetness": "sugar", "acidity": "acid"}
_LINE_WIDTH = 1.8


@dataclass(frozen=True, slots=True)
class Places:
    """Where lanes and columns stand, in pixels of the panel."""

    xs: tuple[float, ...]
    level: QRectF
    lanes: tuple[QRectF, ...]

    def y(self, lane: int, value: float, top: float) -> float:
        """The height of a value in its lane, from zero at its foot."""
        box = self.lanes[lane]
        return box.bottom() - value / top * box.height()


def places_of(width: float, height: float, columns: int, look: Look) -> Places:
    """Lays out the panel; ``lanes`` is empty where there is room for the levels only."""
    px = look.px
    left, right = px(_MARGIN + _LABEL_WIDTH + 30), width - px(_MARGIN + _STRIP_WIDTH)
    step = (right - left) / max(1, columns - 1)
    xs = tuple(left + step * column for column in range(columns)) if columns > 1 else (left,)
    level = QRectF(px(_MARGIN), px(_HEAD), width - px(2 * _MARGIN), px(_LEVEL_LANE - 12))
    if height < px(LOWEST_OPEN):
        return Places(xs, level, ())
    top = px(_HEAD + _LEVEL_LANE)
    each = (height - top - px(6)) / len(LANES)
    # Above a curve there is room for its figures, below it a little air.
    lanes = tuple(
        QRectF(level.left(), top + each * lane + px(19), level.width(), each - px(26))
        for lane in range(len(LANES))
    )
    return Places(xs, level, lanes)


ONE_FRAME_MS = 16


class _Marks(PlotItemBase):
    """All that is not a curve: names of the steps, vessels, figures, rules and upright strips."""

    def __init__(self, panel: "ThroughBuildPanel") -> None:
        super().__init__()
        self._panel = panel

    def boundingRect(self) -> QRectF:
        return QRectF(0, 0, self._panel.width(), self._panel.height())

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None
    ) -> None:
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
        self._panel.paint_marks(painter)
        painter.restore()


class ThroughBuildPanel(QWidget):
    """The pane under the build. It follows the session, shows a preview with what was before it dotted, and folds to its
    lane of levels where it is low."""

    def __init__(
        self, session: Session, look: Look, style: NumberStyle = ENGLISH_STYLE, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._look = look
        self._style = style
        self._shown: ThroughBuild | None = None
        self._before: ThroughBuild | None = None
        self._trace: Trace | None = None
        self._ratio = 0.0
        self._places = Places((), QRectF(), ())
        self.setAccessibleName("Through the build")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(round(look.px(FOLDED_HEIGHT)))
        self.plot = StillPlot(look.theme, self)
        self.plot.setAccessibleName("Curves of the build")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.plot)
        self._old = {key: ValueCurve(self._old_style(), mark_size=0) for key in LANES}
        self._curves = {key: ValueCurve(self._curve_style(key)) for key in LANES}
        for key in LANES:
            self.plot.add(self._old[key], 1.0)
            self.plot.add(self._curves[key], 2.0)
        self._marks = _Marks(self)
        self.plot.add(self._marks, 3.0)
        self.plot.pixels_changed.connect(self._lay_out)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(ONE_FRAME_MS)
        self._later.timeout.connect(self._show_latest)
        session.view_changed.connect(self._follow)
        self._show(session.view)

    @property
    def shown(self) -> ThroughBuild | None:
        """What is drawn."""
        return self._shown

    @property
    def before(self) -> ThroughBuild | None:
        """What stands in the house book, while a preview is shown over it."""
        return self._before

    @property
    def is_folded(self) -> bool:
        """Whether only the lane of levels is drawn."""
        return not self._places.lanes

    def set_look(self, look: Look) -> None:
        """Takes another theme or text size."""
        self._look = look
        self.setMinimumHeight(round(look.px(FOLDED_HEIGHT)))
        self.plot.set_theme(look.theme)
        self._restyle()
        self._lay_out()

    def _old_style(self) -> CurveStyle:
        return CurveStyle(self._look.theme.ink3, 1.2 * self._look.unit, (1.2, 2.4))

    def _curve_style(self, key: str) -> CurveStyle:
        return CurveStyle(
            self._look.theme.colour(_TOKENS[key]), _LINE_WIDTH * self._look.unit, _PATTERNS[key]
        )

    def _restyle(self) -> None:
        ratio = self._ratio = self.devicePixelRatioF()
        for key in LANES:
            self._old[key].set_style(self._old_style(), ratio)
            self._curves[key].set_style(self._curve_style(key), ratio)

    @Slot(object)
    def _follow(self, view: View | None) -> None:
        """A view whose figures are the same, for only its spread came later, changes nothing here.

        New figures of the same build follow a frame behind the tree, the radar and the readings: an edit does not wait for
        them, and a burst of keys draws them once.
        """
        trace = None if view is None else view.trace
        if trace is not None and trace is self._trace:
            return
        is_same = view is not None and self._trace is not None and view.build.id == self._trace.build.id
        self._trace = trace
        if is_same and view is not None and not view.has_own_spread:
            self._later.start()
        else:
            self._later.stop()
            self._show(view)

    @Slot()
    def _show_latest(self) -> None:
        self._show(self._session.view)

    def _show(self, view: View | None) -> None:
        if view is None:
            self._shown = self._before = None
        else:
            kept = self._session.kept_view if view.is_preview else None
            self._shown = self._columns_of(view)
            self._before = None if kept is None else self._columns_of(kept)
            if self._before is not None and len(self._before.points) != len(self._shown.points):
                self._before = None
        self.setAccessibleDescription(self._shown.sentence if self._shown is not None else "")
        self._lay_out()

    def _columns_of(self, view: View) -> ThroughBuild:
        target = view.book.targets.get(view.build.target_id) if view.build.target_id is not None else None
        room = self.width() - self._look.px(2 * _MARGIN + _LABEL_WIDTH + _STRIP_WIDTH)
        most = max(2, int(room / self._look.px(_NARROWEST_COLUMN)) + 1)
        return through_build(view.trace, target.aims if target is not None else (), self._style, most)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._show(self._session.view)

    @Slot()
    def _lay_out(self) -> None:
        if self._ratio != self.devicePixelRatioF():
            self._restyle()
        shown = self._shown
        count = len(shown.points) if shown is not None else 0
        self._places = places_of(self.width(), self.height(), count, self._look)
        for lane, key in enumerate(LANES):
            self._curves[key].set_values(*self._heights(lane, shown, shown))
            self._old[key].set_values(*self._heights(lane, self._before, shown))
        self._marks.prepareGeometryChange()
        self._marks.update()

    def _heights(
        self, lane: int, of: ThroughBuild | None, scale: ThroughBuild | None
    ) -> tuple[tuple[float, ...], list[float | None]]:
        """The points of one curve in pixels; the curve from before stands on the scale of the one that is shown."""
        if of is None or scale is None or not self._places.lanes or not of.points:
            return (), []
        top = max(scale.lanes[lane].top, of.lanes[lane].top)
        values = of.lanes[lane].values
        return self._places.xs, [
            None if value is None else self._places.y(lane, value, top) for value in values
        ]

    def _top(self, lane: int) -> float:
        assert self._shown is not None
        tops = [self._shown.lanes[lane].top]
        if self._before is not None:
            tops.append(self._before.lanes[lane].top)
        return max(tops)

    # Painting

    def paint_marks(self, painter: QPainter) -> None:
        """Paints all but the curves."""
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        shown, places = self._shown, self._places
        self._text(painter, look.px(_MARGIN), look.px(18), "Through the build", fonts.label_strong, theme.ink)
        if shown is None or not shown.points:
            return
        self._paint_names(painter, shown, places)
        self._paint_levels(painter, shown, places)
        for lane, (reading, box) in enumerate(zip(shown.lanes, places.lanes, strict=False)):
            self._paint_lane(painter, lane, reading, box)

    def _paint_names(self, painter: QPainter, shown: ThroughBuild, places: Places) -> None:
        look, fonts = self._look, self._look.fonts
        gap = places.xs[1] - places.xs[0] if len(places.xs) > 1 else look.px(160)
        end = look.px(_MARGIN + 112)
        edge = self.width() - look.px(4)
        for column, (point, x) in enumerate(zip(shown.points, places.xs, strict=True)):
            is_last = column == len(shown.points) - 1
            font = fonts.header_strong if is_last else fonts.header
            room = edge - end if is_last else gap - look.px(8)
            text = _shortened(point.label, fonts.metrics(font), room)
            width = fonts.width(font, text)
            left = min(max(x - width / 2, end), edge - width)
            self._text(painter, left, look.px(18), text, font, look.theme.ink if is_last else look.theme.ink2)
            end = left + width + look.px(8)

    def _paint_levels(self, painter: QPainter, shown: ThroughBuild, places: Places) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        box, half = places.level, look.px(_VESSEL / 2)
        self._text(painter, box.left(), box.center().y() + look.px(10), "Level, ml", fonts.row, theme.ink)
        for point, x in zip(shown.points, places.xs, strict=True):
            vessel = QRectF(x - half, box.top(), 2 * half, box.height())
            draw_level(painter, vessel, (point.level_ml or 0.0) / shown.level_top_ml, theme, look.unit)
        self._paint_wash_line(painter, shown, places)
        for point, text, x in zip(shown.points, shown.level_texts, places.xs, strict=True):
            share = min(1.0, (point.level_ml or 0.0) / shown.level_top_ml)
            y = box.bottom() - share * box.height()
            baseline = min(max(y + look.px(4), box.top() + look.px(14)), box.bottom())
            is_moved = self._level_moved(point.level_ml, x)
            font = fonts.header_strong if is_moved else fonts.header
            left = x + half + look.px(5)
            # The wash line gives way to the figure.
            ground = QRectF(
                left - look.px(2), baseline - look.px(11), fonts.width(font, text) + look.px(4), look.px(14)
            )
            painter.fillRect(ground, theme.sheet)
            self._text(painter, left, baseline, text, font, theme.preview if is_moved else theme.ink2)

    def _level_moved(self, level_ml: float | None, x: float) -> bool:
        if self._before is None:
            return False
        column = self._places.xs.index(x)
        old = self._before.points[column].level_ml
        return (old is None) != (level_ml is None) or abs((old or 0.0) - (level_ml or 0.0)) >= 0.5

    def _paint_wash_line(self, painter: QPainter, shown: ThroughBuild, places: Places) -> None:
        if shown.wash_line_ml is None:
            return
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        box, half = places.level, look.px(_VESSEL / 2 + 2)
        y = box.bottom() - shown.wash_line_ml / shown.level_top_ml * box.height()
        text = f"wash line {shown.wash_line_ml:.0f}"
        width = fonts.width(fonts.header, text)
        left = places.xs[0] - half
        self._text(painter, left - look.px(5) - width, y + look.px(4), text, fonts.header, theme.target)
        edges = [left, *(edge for x in places.xs for edge in (x - half, x + half)), places.xs[-1] + half]
        for start, end in zip(edges[::2], edges[1::2], strict=False):
            draw_wash_line(painter, start, end, y, theme, look.unit)

    def _paint_lane(self, painter: QPainter, lane: int, reading: Lane, box: QRectF) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        top = box.top() - look.px(18)
        painter.fillRect(QRectF(box.left(), top, box.width(), hairline(painter)), theme.rule)
        self._text(painter, box.left(), top + look.px(19), reading.name, fonts.row, theme.ink)
        after = box.left() + fonts.width(fonts.row, reading.name) + look.px(8)
        self._text(painter, after, top + look.px(19), reading.unit, fonts.header, theme.ink2)
        self._paint_figures(painter, lane, reading)
        aim = reading.aim
        if aim is not None and reading.values:
            scale, value = self._top(lane), reading.values[-1]
            x = self.width() - look.px(_MARGIN + 12)
            low, ideal, high = (self._places.y(lane, one, scale) for one in (aim.low, aim.ideal, aim.high))
            y = None if value is None else self._places.y(lane, value, scale)
            draw_upright_strip(painter, x, low, ideal, high, y, theme, look.unit)

    def _paint_figures(self, painter: QPainter, lane: int, reading: Lane) -> None:
        look, theme, fonts = self._look, self._look.theme, self._look.fonts
        scale = self._top(lane)
        old = self._before.lanes[lane].texts if self._before is not None else reading.texts
        for column, (value, text, x) in enumerate(
            zip(reading.values, reading.texts, self._places.xs, strict=True)
        ):
            y = self._places.lanes[lane].bottom() if value is None else self._places.y(lane, value, scale)
            is_last, is_moved = column == len(reading.values) - 1, text != old[column]
            font = fonts.header_strong if is_last or is_moved else fonts.header
            colour = theme.preview if is_moved else theme.ink if is_last else theme.ink2
            width = fonts.width(font, text)
            self._text(painter, x - width / 2, y - look.px(6), text, font, colour)

    def _text(
        self, painter: QPainter, x: float, baseline: float, text: str, font: QFont, colour: QColor
    ) -> None:
        painter.setFont(font)
        painter.setPen(QPen(colour))
        painter.drawText(QPointF(x, baseline), text)

    # Tooltips

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            QToolTip.showText(event.globalPos(), self.tip_at(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def tip_at(self, place: QPointF) -> str:
        """What a place of the panel means: the step of its column, or the definition and unit of its lane."""
        shown = self._shown
        if shown is None or not shown.points:
            return ""
        for lane, box in enumerate(self._places.lanes):
            if box.top() <= place.y() <= box.bottom() and place.x() < self._places.xs[0] - self._look.px(20):
                reading = BY_KEY[LANES[lane]]
                return f"{reading.name}, {reading.unit}: {reading.definition}"
        column = min(range(len(shown.points)), key=lambda one: abs(self._places.xs[one] - place.x()))
        point = shown.points[column]
        lines = [", ".join(point.names), f"Level {shown.level_texts[column]} ml"]
        lines += [f"{lane.name} {lane.texts[column]} {lane.unit}" for lane in shown.lanes]
        return "\n".join(lines)


def _shortened(label: str, metrics: QFontMetricsF, room: float) -> str:
    """A label cut to its room; that something is served or bottled is said to the last."""
    name, mark, end = label.rpartition(", ")
    if end not in ("served", "bottled") or metrics.horizontalAdvance(label) <= room:
        return metrics.elidedText(label, Qt.TextElideMode.ElideRight, room)
    rest = room - metrics.horizontalAdvance(f"{mark}{end}")
    if rest < metrics.horizontalAdvance("+ abc\u2026"):
        return metrics.elidedText(end, Qt.TextElideMode.ElideRight, room)
    return f"{metrics.elidedText(name, Qt.TextElideMode.ElideRight, rest)}{mark}{end}"
