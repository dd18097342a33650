"""The sheet *In the glass*: level and layers to scale, what each chill melted, the drink over time, and its pressure.

Importing this module imports pyqtgraph; the window does so after its first paint.
"""

from collections.abc import Callable, Iterator
from datetime import datetime
from itertools import pairwise
from typing import Protocol

from PySide6.QtCore import QEvent, QObject, QRect, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QHideEvent, QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget

from washline.presentation.glass_foam import foam_of
from washline.presentation.glass_level import (
    Fill,
    GlassLevel,
    glass_level,
    served_of,
    why_no_glass,
)
from washline.presentation.pressure import Pressure, pressures
from washline.presentation.serving import NO_ICE, serving_curves
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.radar_place import page_area
from washline.ui.controls import CloseButton, PlainButton, ThinScrollBar, Words
from washline.ui.glass.chills import Chills
from washline.ui.glass.curve import ServingCurve
from washline.ui.glass.facts import FactGrid, PressureBox, SectionHead
from washline.ui.glass.fields import GlassFields
from washline.ui.glass.picture import GlassPicture
from washline.ui.glass.rows import FigureTable, TableRow
from washline.ui.measures import SHEET_MARGIN_PX
from washline.ui.session import Session, View

HEADING = "In the glass"
SERVING_MINUTES = 20.0
REST_MS = 120
FINDING = "It is being computed."
_STACKED_BELOW = 880.0


class _Part(Protocol):
    """Something that takes another look."""

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""


class GlassView(QWidget):
    """Follows the session while it is shown. ``closed``: the person is done; ``said`` carries a sentence for the status
    line."""

    closed = Signal()
    said = Signal(str)

    def __init__(
        self,
        session: Session,
        look: Appearance,
        clock: Callable[[], datetime],
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._look, self._style = session, look, style
        self._level: GlassLevel | None = None
        self._served_of: object = None
        self._make(clock)
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    @property
    def level(self) -> GlassLevel | None:
        """The glass that is shown; ``None`` where there is none."""
        return self._level

    def _make(self, clock: Callable[[], datetime]) -> None:
        look, style = self._look, self._style
        self.setAccessibleName(HEADING)
        self.title = Words(look, HEADING, style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.close_button = CloseButton(look)
        self.empty = Words(look, "", token="ink2", wraps=True)
        self.build_button = PlainButton(look, "Go to the build", is_first=True)
        self.picture = GlassPicture(look)
        self.verdict = Words(look, "", style="row_strong", wraps=True)
        self.sinks = Words(look, "", token="alert", wraps=True)
        self.facts = FactGrid(look)
        self.fields = GlassFields(self._session, look, style)
        self.chills = Chills(self._session, look, clock, style)
        self.serving_words = Words(look, "", token="ink2", style="label", wraps=True)
        self.curve = ServingCurve(look)
        self.serving_table = FigureTable(look, "Serving over time, in figures", fold_first=(4, 5))
        self.pressure_boxes: list[PressureBox] = []
        self._heads = {name: SectionHead(look, name) for name in ("Chill", "Serving over time", "Pressure")}

    def _lay_out(self) -> None:
        names = self._names = QHBoxLayout()
        names.addWidget(self.title, 1)
        names.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._head = QVBoxLayout()
        self._head.addLayout(names)
        self._head.addWidget(self.about)
        self._body = QWidget()
        page = self._column = QVBoxLayout(self._body)
        page.addWidget(self.empty)
        way = QHBoxLayout()
        way.addWidget(self.build_button)
        way.addStretch(1)
        page.addLayout(way)
        page.addLayout(self._lay_out_glass())
        page.addWidget(self._heads["Chill"])
        page.addWidget(self.chills)
        page.addWidget(self._heads["Serving over time"])
        page.addWidget(self.serving_words)
        serving = self._serving = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        serving.addWidget(self.curve, 1)
        serving.addWidget(self.serving_table, 1, Qt.AlignmentFlag.AlignTop)
        page.addLayout(serving)
        page.addWidget(self._heads["Pressure"])
        self._pressures = QVBoxLayout()
        page.addLayout(self._pressures)
        page.addStretch(1)
        self._bar = ThinScrollBar(self._look)
        self._page = page_area(self._body, self._bar)
        self._page.viewport().installEventFilter(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        column.addWidget(self._page, 1)
        order = [
            self.close_button,
            self.build_button,
            *(row.field for row in self.fields.rows),
            self.chills.table,
        ]
        for before, after in pairwise(order):
            self.setTabOrder(before, after)

    def _lay_out_glass(self) -> QBoxLayout:
        beside = QVBoxLayout()
        for part in (self.verdict, self.sinks, self.facts):
            beside.addWidget(part)
        beside.addSpacing(self._look.px(6))
        beside.addWidget(self.fields)
        beside.addStretch(1)
        self._beside = beside
        self._glass_line = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._glass_line.addWidget(self.picture, 0, Qt.AlignmentFlag.AlignTop)
        self._glass_line.addLayout(beside, 1)
        return self._glass_line

    def _connect(self) -> None:
        self._session.view_changed.connect(self._take_view)
        self._session.after_paint.passed.connect(self._serve)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(REST_MS)
        self._later.timeout.connect(self._serve_now)
        self.close_button.clicked.connect(self.closed)
        self.build_button.clicked.connect(self.closed)
        self.chills.said.connect(self.said)
        self.chills.focus_moved.connect(self._show_chill)
        self.serving_table.current_changed.connect(self._show_moment)

    def focus_first(self) -> None:
        """Puts the cursor on the first thing to do: the glass where none is chosen, else the way out or the chills."""
        view = self._session.view
        if view is None or not view.build.is_drink:
            (self.chills.table if self.chills.has_rows else self.close_button).setFocus()
        else:
            self.fields.glass.field.setFocus(Qt.FocusReason.OtherFocusReason)

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._later.stop()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The glass stands beside its facts where there is room."""
        if event.type() == QEvent.Type.Resize and watched is self._page.viewport():
            self._turn()
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    @Slot(object)
    def _take_view(self, view: View | None) -> None:
        if self.isVisible():
            self._refresh()

    @Slot()
    def _refresh(self) -> None:
        view = self._session.view
        build = view.build if view is not None else None
        why = why_no_glass(view.book if view is not None else self._session.document.book, build)
        self.empty.setText(why)
        self.empty.setVisible(bool(why))
        self.build_button.setVisible(view is not None and bool(why) and not view.build.is_drink)
        self._show_level(view)
        if view is None:
            self.about.setText("")
            self._show_chills(None)
            self._show_pressures(())
            self._show_serving(None)
            return
        self.about.setText(self._subtitle(view))
        self._show_chills(view)
        self._show_pressures(pressures(view.trace, self._style))
        self._show_serving(view)

    def _show_chills(self, view: View | None) -> None:
        """A part that nothing chills has no such section; a drink says what to do."""
        if view is not None:
            self.chills.show_view(view)
        is_shown = view is not None and (view.build.is_drink or self.chills.has_rows)
        self._heads["Chill"].setVisible(is_shown)
        self.chills.setVisible(is_shown)

    def _subtitle(self, view: View) -> str:
        glass = view.book.glass_of(view.build)
        preview = "preview, nothing is written" if view.is_preview else ""
        parts = (view.build.name, glass.name if glass is not None else "", preview)
        return " · ".join(part for part in parts if part)

    def _show_level(self, view: View | None) -> None:
        is_drink = view is not None and view.build.is_drink
        self.fields.setVisible(is_drink)
        self._level = None
        if view is not None and is_drink:
            served = served_of(view.trace)
            self._level = glass_level(view.book, view.build, served, self._style)
            self.fields.show_view(view, foam_of(view.book, view.build, served.length_ml, self._style))
        level = self._level
        self.picture.set_level(level)
        for part in (self.picture, self.verdict, self.facts):
            part.setVisible(level is not None)
        self.sinks.setVisible(level is not None and bool(level.sinks))
        if level is None:
            return
        self.verdict.setText(level.words)
        self.verdict.set_token("ink" if level.fill is Fill.RIGHT else "drink")
        self.sinks.setText("\n".join(level.sinks))
        self.facts.set_facts(level.facts)

    def _show_pressures(self, shown: tuple[Pressure, ...]) -> None:
        self._heads["Pressure"].setVisible(bool(shown))
        while len(self.pressure_boxes) < len(shown):
            box = PressureBox(self._look)
            self.pressure_boxes.append(box)
            self._pressures.addWidget(box)
        for number, box in enumerate(self.pressure_boxes):
            box.setVisible(number < len(shown))
            if number < len(shown):
                box.set_pressure(shown[number])

    # Over time

    def _show_serving(self, view: View | None) -> None:
        """The last curve stays until the new one is found, after the paint."""
        is_drink = view is not None and view.build.is_drink
        self._heads["Serving over time"].setVisible(is_drink)
        has_ice = is_drink and view is not None and view.trace.ice_left_g > 0.0
        self.serving_words.setVisible(is_drink)
        for part in (self.curve, self.serving_table):
            part.setVisible(has_ice)
        if not has_ice or view is None:
            self.serving_words.setText(NO_ICE)
            self._served_of = None
            self.curve.set_curves(None)
            return
        if view.trace is not self._served_of:
            if self.curve.curves is None:
                self.serving_words.setText(FINDING)
            self._session.after_paint.wait()

    @Slot()
    def _serve(self) -> None:
        """What is typed in a burst is followed once it rests; what is written at once."""
        view = self._session.view
        if view is not None and view.is_preview and self.isVisible():
            self._later.start()
        else:
            self._later.stop()
            self._serve_now()

    @Slot()
    def _serve_now(self) -> None:
        view = self._session.view
        if not self.isVisible() or view is None or not view.build.is_drink:
            return
        if view.trace is self._served_of or not view.trace.ice_left_g > 0.0:
            return
        self._served_of = view.trace
        workings = self._session.document.workings
        served = workings.serving(view.build.id, SERVING_MINUTES, view.book if view.is_preview else None)
        for part in (self.curve, self.serving_table):
            part.setVisible(served is not None)
        if served is None:
            self.curve.set_curves(None)
            self.serving_words.setText(NO_ICE)
            return
        curves = serving_curves(served, self._style)
        self.curve.set_curves(curves)
        self.serving_words.setText(" ".join((curves.sentence, *curves.assumptions)))
        self.serving_table.set_rows(
            [TableRow(row.name, row.cells, curves.spoken(row)) for row in curves.rows], curves.heads
        )

    # Look

    def _parts(self) -> Iterator[_Part]:
        """All that is painted by itself."""
        yield from (self.title, self.about, self.close_button, self.empty, self.build_button, self.picture)
        yield from (self.verdict, self.sinks, self.facts, self.fields, self.chills, self.serving_words)
        yield from (self.curve, self.serving_table, self._bar)
        yield from self._heads.values()
        yield from self.pressure_boxes

    def _turn(self) -> None:
        """Stacks what stands beside one another where it is narrow."""
        is_narrow = self._page.viewport().width() < self._look.px(_STACKED_BELOW)
        way = QBoxLayout.Direction.TopToBottom if is_narrow else QBoxLayout.Direction.LeftToRight
        for line in (self._glass_line, self._serving):
            if line.direction() != way:
                line.setDirection(way)

    @Slot(QRect)
    def _show_chill(self, rect: QRect) -> None:
        self._show(self.chills, rect)

    @Slot(QRect)
    def _show_moment(self, rect: QRect) -> None:
        self._show(self.serving_table, rect)

    def _show(self, of: QWidget, rect: QRect) -> None:
        place = of.mapTo(self._body, rect.topLeft())
        self._page.ensureVisible(0, place.y() + rect.height() // 2, 0, rect.height() + self._look.px(8))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(8))
        self._head.setSpacing(look.px(2))
        self._names.setSpacing(look.px(10))
        self._column.setContentsMargins(margin, look.px(10), margin, look.px(20))
        self._column.setSpacing(look.px(10))
        self._glass_line.setSpacing(look.px(20))
        self._beside.setSpacing(look.px(8))
        self._serving.setSpacing(look.px(36))
        self._pressures.setSpacing(look.px(18))
        for part in self._parts():
            part.set_appearance(look)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        for ground in (self, self._body, self._page.viewport()):
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)
        self._turn()
