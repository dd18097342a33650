"""The sheet of an alcohol-free version: what brings alcohol, what takes its place, what is left, and the shape beside the
parent's."""

from PySide6.QtCore import QStringListModel, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.document.commands.alcohol_free import make_alcohol_free
from washline.document.commands.command import Command, next_id
from washline.document.commands.twisting import free_name
from washline.document.document import Document
from washline.engine.spread import Spread
from washline.engine.trace import Trace
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.item import Build
from washline.model.target import Target
from washline.presentation.alcohol_free import (
    AlcoholLine,
    Remainder,
    alcohol_lines,
    is_called_alcohol_free,
    may_replace,
    remainder,
    remembered,
    version_name,
)
from washline.presentation.cautions import DEFERRAL
from washline.presentation.radar_of import compared, radar_shape
from washline.presentation.readings import Readings
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.after_paint import AfterPaint
from washline.ui.alcohol_free.rows import SwapRow
from washline.ui.appearance import Appearance
from washline.ui.balance.radar_place import RadarPlace, page_area
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.controls import CloseButton, PlainButton, ThinScrollBar, Tick, Words
from washline.ui.form import PlainField
from washline.ui.measures import BALANCE_MARGIN_PX, SHEET_MARGIN_PX
from washline.ui.session import Session, View

SIDE_WIDTH = 412.0
NOTHING_OPEN = "No drink is open."
NO_ALCOHOL = "No line of this drink brings alcohol."
NOT_SO_CALLED = (
    "The name says alcohol-free: the law that the house chose does not allow it here. Check your local rule."
)
NOTHING_CHOSEN = "Nothing gives way yet: choose what takes the place of a line, or leave it out."
UNCLEAR = "A line does not say yet what takes its place."
_NAME_WIDTH = 360


class AlcoholFreeView(QWidget):
    """``closed``: the person is done; ``made`` carries the id of the version, a twist; ``said`` a sentence for the status
    line. Nothing is written before *Make it*, which is one step that can be undone."""

    closed = Signal()
    made = Signal(object)
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._session = document, session
        self._look, self._style = look, style
        self._trace: Trace | None = None
        self._version: Trace | None = None
        self._shown: object = None
        self._has_own_name = False
        self.rows: list[SwapRow] = []
        self._make()
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    # Making

    def _make(self) -> None:
        look = self._look
        self.title = Words(look, "Alcohol-free version", style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.close_button = CloseButton(look)
        self.none = Words(look, "", token="ink2", style="row", wraps=True)
        self.left_head = Words(look, "What is left", style="label_strong")
        self.left = Words(look, "", style="row", wraps=True)
        self.legal = Words(look, "", token="alert", style="label", wraps=True)
        self.deferral = Words(look, DEFERRAL, token="ink3", style="header", wraps=True)
        self.name_label = Words(look, "Name", style="row")
        self.name = PlainField(look, "Name of the version", _NAME_WIDTH)
        self.name_label.setBuddy(self.name)
        self.remember = Tick("Keep these choices as rules of the house")
        self.remember.setChecked(True)
        self.make_button = PlainButton(look, "Make it", is_first=True)
        self.undo_words = Words(look, "One step back with Ctrl+Z.", token="ink2", style="label")
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self.side_head = Words(look, "Two shapes", style="label_strong")
        self.side_target = Words(look, "", token="ink2", style="label")
        self.radar = RadarWidget(look.theme, look.fonts)
        self._radar_place = RadarPlace(look, self.radar)
        self._bar = ThinScrollBar(look)
        self._offered = QStringListModel(self)
        self._after_paint = AfterPaint(self)
        self._redraw = QTimer(self)
        self._redraw.setSingleShot(True)
        self._redraw.setInterval(0)

    def _lay_out(self) -> None:
        self._head = QHBoxLayout()
        words = QVBoxLayout()
        words.addWidget(self.title)
        words.addWidget(self.about)
        self._head.addLayout(words, 1)
        self._head.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        self._foot = QVBoxLayout()
        naming, making = QHBoxLayout(), QHBoxLayout()
        naming.addWidget(self.name_label)
        naming.addWidget(self.name, 1)
        naming.addStretch(1)
        for widget in (self.make_button, self.remember, self.undo_words):
            making.addWidget(widget)
        making.addStretch(1)
        for part in (self.left_head, self.left, self.legal, self.deferral, self.problem):
            self._foot.addWidget(part)
        self._foot.addLayout(naming)
        self._foot.addLayout(making)
        self.problem.hide()
        sheet = QVBoxLayout()
        sheet.setSpacing(0)
        sheet.addLayout(self._head)
        sheet.addWidget(self._laid_out_body(), 1)
        sheet.addLayout(self._foot)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(0)
        outer.addLayout(sheet, 1)
        outer.addWidget(self._laid_out_side())
        # The shapes give way below a width, so that they must not be part of the smallest one.
        outer.setSizeConstraint(QHBoxLayout.SizeConstraint.SetNoConstraint)
        self.setAccessibleName("Alcohol-free version")

    def _laid_out_body(self) -> QWidget:
        self._body = QWidget()
        self._lines = QVBoxLayout(self._body)
        self._lines.setSpacing(0)
        self._lines.addWidget(self.none)
        self._lines.addStretch(1)
        self._scroll = page_area(self._body, self._bar)
        return self._scroll

    def _laid_out_side(self) -> QWidget:
        self._side = QWidget()
        self._side_column = QVBoxLayout(self._side)
        head = QHBoxLayout()
        head.addWidget(self.side_head)
        head.addWidget(self.side_target, 1)
        self._side_column.addLayout(head)
        self._side_column.addWidget(self._radar_place, 1)
        self._side_column.addStretch(0)
        return self._side

    def _connect(self) -> None:
        self._session.view_changed.connect(self._take_view)
        self._redraw.timeout.connect(self._refresh)
        self._after_paint.passed.connect(self._show_left_with_spread)
        self.close_button.clicked.connect(self.closed)
        self.make_button.clicked.connect(self._make_it)
        self.name.textEdited.connect(self._take_name)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        margin, side = look.px(SHEET_MARGIN_PX), look.px(BALANCE_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(6))
        self._lines.setContentsMargins(margin, 0, margin, look.px(8))
        self._foot.setContentsMargins(margin, look.px(10), margin, look.px(12))
        self._foot.setSpacing(look.px(6))
        self._side_column.setContentsMargins(side, look.px(12), side, look.px(10))
        self._side.setFixedWidth(look.px(SIDE_WIDTH))
        for words in self.findChildren(Words):
            words.set_appearance(look)
        for button in self.findChildren(PlainButton):
            button.set_appearance(look)
        for row in self.rows:
            row.set_appearance(look)
        self.name.set_appearance(look)
        self._bar.set_appearance(look)
        self._radar_place.set_appearance(look)
        self.remember.setFont(look.fonts.row)
        for ground in (self, self._body, self._side, self._scroll.viewport()):
            palette = QPalette(look.theme.palette())
            palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)

    def focus_first(self) -> None:
        """Puts the cursor on the first choice."""
        first = self.rows[0].fate if self.rows else self.close_button
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    # What is shown

    @property
    def _book(self) -> HouseBook:
        return self._document.book

    @property
    def swaps(self) -> tuple[Swap, ...]:
        """The rules that are chosen."""
        return tuple(swap for row in self.rows if (swap := row.swap) is not None)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._take_view(self._session.view)

    @Slot(object)
    def _take_view(self, view: View | None) -> None:
        if not self.isVisible() or (view is not None and view.is_preview):
            return
        shown = (view.build, self._book.raws, self._book.settings) if view is not None else None
        if shown == self._shown and self._trace is not None:
            return
        self._shown = shown
        self._trace = view.trace if view is not None else None
        self._has_own_name = False
        self._fill()
        self._refresh()

    def _fill(self) -> None:
        """A row for every line that brings alcohol, with the house's rules for it."""
        for row in self.rows:
            self._lines.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.rows = []
        trace = self._trace
        lines = alcohol_lines(trace, self._style) if trace is not None else ()
        names = self._names(trace.build) if trace is not None else {}
        rules = remembered(self._book.settings.swaps, lines)
        for place, line in enumerate(lines):
            row = self._row(line, names, rules.get(line.item_id))
            self.rows.append(row)
            self._lines.insertWidget(place, row)
        self.none.setText(NOTHING_OPEN if trace is None else NO_ALCOHOL)
        self.none.setVisible(not lines)

    def _names(self, build: Build) -> dict[str, int]:
        """What can take a place, by name."""
        names = {item.name: item.id for item in may_replace(self._book, build.id)}
        self._offered.setStringList(list(names))
        return names

    def _row(self, line: AlcoholLine, names: dict[str, int], rule: Swap | None) -> SwapRow:
        row = SwapRow(self._look, line, names, self._offered, self._style)
        row.show_rule(rule)
        row.setEnabled(not self._document.is_read_only)
        row.changed.connect(self._redraw.start)
        return row

    @Slot()
    def _refresh(self) -> None:
        trace = self._trace
        self.about.setText("" if trace is None else self._about(trace.build))
        for row in self.rows:
            row.say_problem()
        self._say("")
        version = self._version = self._previewed() if trace is not None and self.swaps else None
        self._show_left(version if version is not None else trace, None)
        if version is not None:
            self._after_paint.wait()
        self._show_radar(version)
        may_make = version is not None and not self._document.is_read_only
        is_clear = not any(row.problem_words for row in self.rows)
        self.make_button.setEnabled(may_make and is_clear)
        self.make_button.setToolTip("" if is_clear or not may_make else UNCLEAR)
        self.remember.setEnabled(may_make)
        self.name.setEnabled(may_make)

    def _about(self, build: Build) -> str:
        name = build.name
        return (
            f"From {name}: all that brings alcohol, garnish, rinse and bitters too. The version is a twist; {name} stays "
            "as it is."
        )

    def _previewed(self) -> Trace | None:
        """The version as it would be; ``None`` with words where it is refused."""
        try:
            book = self._document.preview(self._command(self.name.text() or "version"))
        except UserError as refusal:
            self._say(str(refusal))
            return None
        return self._document.workings.trace(next_id(self._book), book)

    def _command(self, name: str) -> Command:
        trace = self._trace
        assert trace is not None
        volumes = {
            step.id: found
            for step in trace.build.steps
            if (found := trace.step(step.id).found_ml) is not None
        }
        swaps, remembers = self.swaps, self.remember.isChecked()
        return make_alcohol_free(trace.build.id, swaps, name, volumes, remembers=remembers)

    @Slot()
    def _show_left_with_spread(self) -> None:
        """The words of the law again, once the figures are painted: they ask for the spread, which takes longer."""
        version = self._version
        if version is not None:
            self._show_left(version, self._document.workings.spread(version.build.id, version.book))

    def _show_left(self, trace: Trace | None, spread: Spread | None) -> None:
        is_version = trace is not None and trace is self._version
        if trace is None:
            self.left.setText("")
            self.legal.setText("")
            return
        left = remainder(trace, spread, self._style)
        self.left.setText(left.text(self._style) if is_version else f"{NOTHING_CHOSEN} Now {left.strength}.")
        self.left.setAccessibleName(self.left.text())
        self._show_name(left, is_version=is_version)

    def _show_name(self, left: Remainder, *, is_version: bool) -> None:
        assert self._trace is not None
        if not self._has_own_name:
            self.name.set_kept(free_name(self._book, version_name(self._trace.build.name, left.legal)))
        is_wrong = is_version and is_called_alcohol_free(self.name.text(), left.legal)
        self.legal.setText(NOT_SO_CALLED if is_wrong else "")
        self.legal.setVisible(is_wrong)
        self.left.setToolTip(left.legal.explanation if is_version else "")

    def _target(self, build: Build) -> Target | None:
        return self._book.targets.get(build.target_id) if build.target_id is not None else None

    def _show_radar(self, version: Trace | None) -> None:
        """The version's shape over its parent's; the parent's alone until something is chosen."""
        trace = self._trace
        target = self._target(trace.build) if trace is not None else None
        self.side_target.setText(f"against {target.name}" if target is not None else "no target is chosen")
        self._radar_place.setVisible(target is not None and trace is not None)
        if target is None or trace is None:
            return
        settings = self._book.settings
        before = Readings(trace.build, settings, trace.result, style=self._style)
        if version is None:
            self.radar.set_shape(radar_shape(before, target, drink_name=trace.build.name))
            return
        after = Readings(version.build, settings, version.result, parent=trace.result, style=self._style)
        shape = radar_shape(after, target, parent_name=trace.build.name, drink_name=version.build.name)
        self.radar.set_shape(compared(shape, tuple(before.figure(aim.reading).text for aim in target.axes)))

    def _say(self, words: str) -> None:
        self.problem.setText(words)
        self.problem.setVisible(bool(words))

    # What is done

    @Slot()
    def _take_name(self) -> None:
        self._has_own_name = bool(self.name.text().strip())
        self._redraw.start()

    @Slot()
    def _make_it(self) -> None:
        trace = self._trace
        if trace is None or not self.swaps:
            return
        name = self.name.text().strip() or f"{trace.build.name}, version"
        version_id = next_id(self._book)
        try:
            self._document.do(self._command(name), f"alcohol-free version of {trace.build.name}", self)
        except UserError as refusal:
            self._say(str(refusal))
            return
        self.said.emit(f"{name} is made. Ctrl+Z takes it back.")
        self.made.emit(version_id)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc closes the sheet: nothing was written."""
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The rules beside the shapes and above what is left."""
        painter = QPainter(self)
        painter.setPen(self._look.theme.rule2)
        right = self.width()
        if self._side.isVisible():
            right = self._side.x() - 1
            painter.drawLine(right, 0, right, self.height())
        y = self._scroll.geometry().bottom() + 1
        painter.drawLine(0, y, right, y)
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """The shapes give way where the window is narrow."""
        self._side.setVisible(self.width() >= self._look.px(SIDE_WIDTH + 440))
