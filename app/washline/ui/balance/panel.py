"""The balance pane: radar, readings, plain figures, and what is contained."""

from PySide6.QtCore import QEvent, QObject, QRect, QRectF, QSize, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QAccessibleAnnouncementEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.items import set_build
from washline.document.document import Document
from washline.engine.result import Result
from washline.engine.step_cautions import step_cautions
from washline.model.target import Target
from washline.presentation.contains import contains_box, what_goes_in
from washline.presentation.contributions import Unfolded, unfolded
from washline.presentation.keeping import HouseDate, house_date_of, keeping_of, unknown_buffers
from washline.presentation.part_composition import composition
from washline.presentation.radar_of import radar_shape
from washline.presentation.readings import Balance, Readings, balance, is_empty
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.balance.contains_box import ContainsView
from washline.ui.balance.keeping_box import KeepingView
from washline.ui.balance.radar_place import SMALLEST_RADAR_HEIGHT, RadarPlace, page_area
from washline.ui.balance.radar_widget import RadarWidget
from washline.ui.balance.readings_layout import INSET
from washline.ui.balance.readings_table import ReadingsTable
from washline.ui.balance.target_chooser import TargetChooser
from washline.ui.bridge import Bridge
from washline.ui.controls import PlainButton, ThinScrollBar, Words
from washline.ui.draw.marks import draw_tag
from washline.ui.draw.radar import radar_layout
from washline.ui.measures import BALANCE_MARGIN_PX
from washline.ui.session import Session, View

MOST_CONTAINS_SHARE = 0.45
"""The box of what is contained takes at most this share of the pane, then it scrolls by itself."""


class PreviewTag(QWidget):
    """The word *Preview* in a dotted frame: what is shown is not written."""

    def __init__(self, look: Appearance, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.look = look
        self.setAccessibleName("Preview: nothing is written yet")
        # The place is kept, so that the head does not move when it comes.
        policy = self.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.setSizePolicy(policy)

    def sizeHint(self) -> QSize:
        fonts = self.look.fonts
        return QSize(round(fonts.width(fonts.label_strong, "Preview")) + self.look.px(18), self.look.px(22))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        draw_tag(painter, QRectF(self.rect()), "Preview", self.look.theme, self.look.fonts)
        painter.end()


class BalancePanel(QWidget):
    """Everything about the balance of the build that the session shows.

    ``target_edit_asked`` carries the id of the target to open in the middle, ``new_target_asked`` nothing; ``said`` a
    sentence for the status line.
    """

    target_edit_asked = Signal(int)
    new_target_asked = Signal()
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        bridge: Bridge,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self._document = document
        self._session = session
        self._look = look
        self._style = style
        self._states: tuple[int, tuple[tuple[str, str], ...]] | None = None
        self._shown_decimals: dict[str, int] = {}
        self._box_of: tuple[object, ...] | None = None
        self._date: HouseDate | None = None
        self._buffers: tuple[str, ...] = ()
        self._radar_width: tuple[int, Appearance, int] | None = None
        self._make()
        self._lay_out()
        self.set_appearance(look)
        self.chooser.chosen.connect(self._choose_target)
        self.chooser.edit_asked.connect(self.target_edit_asked)
        self.chooser.new_asked.connect(self.new_target_asked)
        self.choose_button.clicked.connect(self.chooser.open_menu)
        self.radar.axis_activated.connect(self._unfold_axis)
        self.table.current_changed.connect(self._keep_in_sight)
        self.keeping.days_chosen.connect(self._set_days)
        self.contains.height_changed.connect(self._fit_contains)
        session.view_changed.connect(self._show)
        session.spread_changed.connect(self._show_spread)
        bridge.changed.connect(self._follow)
        self._show(session.view)

    def _make(self) -> None:
        look = self._look
        self._title = Words(look, "Balance", style="label_strong", parent=self)
        self.chooser = TargetChooser(look, self)
        self.tag = PreviewTag(look, self)
        self._empty = Words(look, "No drink is open.", token="ink2", wraps=True, parent=self)
        self.radar = RadarWidget(look.theme, look.fonts)
        self._radar_place = RadarPlace(look, self.radar)
        self._no_target = Words(
            look, "No target is chosen: the figures stand alone.", token="ink2", wraps=True
        )
        self.choose_button = PlainButton(look, "Choose a target")
        self.table = ReadingsTable(look, self._explain, self._style)
        self.keeping = KeepingView(look, self._style)
        self.contains = ContainsView(look)
        self._body = QWidget()
        self._bars = [ThinScrollBar(look), ThinScrollBar(look)]
        self._scroll = page_area(self._body, self._bars[0])
        self._contains_scroll = page_area(self.contains, self._bars[1])
        self._contains_scroll.installEventFilter(self)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(self._look.px(4))
        head.addWidget(self._title)
        head.addWidget(self.chooser, 1)
        head.addStretch(0)
        head.addWidget(self.tag)
        self._head = head
        chooser_row = QHBoxLayout()
        chooser_row.addWidget(self._no_target, 1)
        chooser_row.addWidget(self.choose_button)
        body = QVBoxLayout(self._body)
        body.setSpacing(0)
        body.addWidget(self._radar_place, 1)
        body.addLayout(chooser_row)
        body.addWidget(self.table)
        body.addWidget(self.keeping)
        body.addStretch(0)
        self._chooser_row = chooser_row
        outer = QVBoxLayout(self)
        outer.setSpacing(0)
        outer.addLayout(head)
        outer.addWidget(self._empty)
        outer.addWidget(self._scroll, 1)
        self._contains_row = QHBoxLayout()
        self._contains_row.addWidget(self._contains_scroll)
        outer.addLayout(self._contains_row)
        self._outer = outer
        self.setTabOrder(self.chooser, self.radar)
        self.setTabOrder(self.radar, self.choose_button)
        self.setTabOrder(self.choose_button, self.table)
        self.setTabOrder(self.table, self.keeping)
        self.setTabOrder(self.keeping, self.contains)
        self.setAccessibleName("Balance")

    def put_strips_first(self, is_wanted: bool) -> None:
        """Where the panel is low, the readings stand above the radar, so that they are seen without scrolling."""
        body = self._body.layout()
        assert isinstance(body, QVBoxLayout)
        place = body.indexOf(self.table) + 1 if is_wanted else 0
        if (body.indexOf(self._radar_place) > body.indexOf(self.table)) != is_wanted:
            body.removeWidget(self._radar_place)
            body.insertWidget(place - 1 if is_wanted else 0, self._radar_place, 1)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(BALANCE_MARGIN_PX)
        bar, inset = look.px(10), look.px(INSET)
        self._outer.setContentsMargins(margin - inset, look.px(8), margin - inset - bar, look.px(8))
        self._head.setContentsMargins(inset, 0, bar + inset, look.px(2))
        self._chooser_row.setContentsMargins(inset, 0, inset, look.px(4))
        self._contains_row.setContentsMargins(inset, look.px(10), 0, 0)
        inner = self._body.layout()
        if inner is not None:
            inner.setContentsMargins(0, 0, 0, look.px(6))
        for words in (self._title, self._empty, self._no_target):
            words.set_appearance(look)
        for bar_shown in self._bars:
            bar_shown.set_appearance(look)
        self.chooser.set_appearance(look)
        self.choose_button.set_appearance(look)
        self._radar_place.set_appearance(look)
        self.tag.look = look
        self.tag.updateGeometry()
        self.table.set_appearance(look)
        self.contains.set_appearance(look)
        self.keeping.set_appearance(look)
        for ground in (
            self,
            self._scroll.viewport(),
            self._contains_scroll.viewport(),
            self._body,
            self.contains,
            self.keeping,
        ):
            palette = QPalette(look.theme.palette())
            palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)
        self._fit_contains()

    # What is shown

    @Slot(object)
    def _show(self, view: View | None) -> None:
        has_view = view is not None
        for widget in (self._scroll, self._contains_scroll, self.chooser):
            widget.setVisible(has_view)
        self._empty.setVisible(not has_view)
        self.tag.setVisible(view is not None and view.is_preview)
        if view is None:
            self._states = None
            return
        book, build = view.book, view.build
        target = book.targets.get(build.target_id) if build.target_id is not None else None
        self.chooser.set_target(book, build.target_id, is_read_only=self._document.is_read_only)
        self._show_keeping(view)
        self._show_contains(view)
        found = self._show_figures(view, target)
        for one in (self._no_target, self.choose_button):
            one.setVisible(target is None and build.is_drink)
        self.choose_button.setEnabled(not self._document.is_read_only)
        self._announce(view, found)

    @Slot(object)
    def _show_spread(self, view: View) -> None:
        """The spread has come after its figures. Cautions that follow from computed states are looked at now, too: while
        only a number is typed they may wait for the paint."""
        build = view.build
        self._show_figures(
            view, view.book.targets.get(build.target_id) if build.target_id is not None else None
        )
        self._fill_contains(view)

    def _show_figures(self, view: View, target: Target | None) -> Balance:
        readings = self._readings(view)
        found = balance(readings, target)
        self._shown_decimals = {row.key: row.figure.decimals for row in found.rows}
        self._show_radar(view, readings, target, found)
        self.table.set_balance(found)
        return found

    def _readings(self, view: View) -> Readings:
        is_same = self._states is not None and self._states[0] == view.build.id
        return Readings(
            build=view.build,
            settings=view.book.settings,
            result=view.result,
            spread=view.spread,
            before=view.before,
            parent=self._parent(view),
            style=self._style,
            shown=self._shown_decimals if is_same else None,
            date=self._date,
            unknown_buffers=self._buffers,
        )

    def _parent(self, view: View) -> Result | None:
        parent_id = view.build.parent_id
        book = self._document.book
        if parent_id is None or parent_id not in book.builds or view.is_preview:
            return None
        return self._document.workings.result_now(parent_id)

    def _show_radar(self, view: View, readings: Readings, target: Target | None, found: Balance) -> None:
        if target is None:
            self._radar_place.setVisible(False)
            self._radar_width = None
            return
        parent_id = view.build.parent_id
        parent = view.book.builds.get(parent_id) if parent_id is not None else None
        self.radar.set_shape(
            radar_shape(
                readings,
                target,
                is_preview=view.is_preview,
                parent_name=parent.name if parent is not None else "parent",
                rows=found.rows,
            ),
            is_first_sight=not view.has_own_spread,
        )
        self._fit_radar()
        if is_empty(view.result):
            self.radar.setAccessibleDescription(f"Nothing poured yet; the ring shows {target.name}.")

    def _show_keeping(self, view: View) -> None:
        """A part's composition and keeping stand where a drink has its radar."""
        book, build = view.book, view.build
        self.keeping.setVisible(not build.is_drink)
        self._date = None if build.is_drink else house_date_of(book, build.id)
        if not build.is_drink:
            found = keeping_of(book, build, view.result, self._style)
            groups = composition(view.trace.final_state)
            self.keeping.show_part(found, groups, is_read_only=self._document.is_read_only)

    def _show_contains(self, view: View) -> None:
        """The box follows builds and ingredients at once, and amounts after the paint."""
        key = what_goes_in(view.book, view.build.id)
        if self._box_of != key:
            self._box_of = key
            self._buffers = unknown_buffers(view.book, view.build.id)
            self._fill_contains(view)

    def _fill_contains(self, view: View) -> None:
        self.contains.set_box(contains_box(view.book, view.build.id, step_cautions(view.trace)))

    def _announce(self, view: View, found: Balance) -> None:
        """Says a band state that changed, after a commit and never while typing."""
        if view.is_preview:
            return
        last, self._states = self._states, (view.build.id, found.spoken_states)
        if last is None or last[0] != view.build.id or last[1] == found.spoken_states:
            return
        before = dict(last[1])
        moved = [row for row in found.rows if before.get(row.key, row.state.words) != row.state.words]
        words = "; ".join(f"{row.figure.name} {row.state.long_words or row.state.words}" for row in moved)
        if words and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self.table, words))

    def _explain(self, key: str) -> Unfolded | None:
        view = self._session.view
        if view is None:
            return None
        return unfolded(self._document.workings, view.trace, key, self._style)

    # What is done

    @Slot(object)
    def _choose_target(self, target_id: int | None) -> None:
        view = self._session.kept_view
        if view is None or view.build.target_id == target_id:
            return
        target = view.book.targets.get(target_id) if target_id is not None else None
        label = f"choice of {target.name}" if target is not None else "choice of no target"
        try:
            self._session.commit(set_build(view.build.id, target_id=target_id), label, self)
        except UserError as problem:
            self.said.emit(str(problem))

    @Slot(int)
    def _set_days(self, days: int) -> None:
        """Proposed days become the house's own, as one step that can be undone."""
        view = self._session.kept_view
        if view is None or view.build.is_drink:
            return
        label = labels.change_of_item(view.book, view.build.id)
        try:
            self._session.commit(set_build(view.build.id, house_days=days), label, self)
        except UserError as problem:
            self.said.emit(str(problem))

    @Slot(str)
    def _unfold_axis(self, key: str) -> None:
        self.table.setFocus()
        self.table.unfold(key)

    @Slot(object)
    def _follow(self, changed: object) -> None:
        """Targets have names: the head follows when one is renamed, also with no build of it on the screen."""
        view = self._session.view
        if view is not None and not view.is_preview:
            self.chooser.set_target(
                self._document.book, view.build.target_id, is_read_only=self._document.is_read_only
            )

    @Slot(QRect)
    def _keep_in_sight(self, rect: QRect) -> None:
        placed = rect.translated(self.table.pos())
        self._scroll.ensureVisible(placed.center().x(), placed.bottom(), 0, self._look.px(8))
        self._scroll.ensureVisible(placed.center().x(), placed.top(), 0, self._look.px(8))

    @Slot()
    def _fit_contains(self) -> None:
        width = max(self._contains_scroll.viewport().width(), 1)
        wanted = self.contains.heightForWidth(width)
        most = round(self.height() * MOST_CONTAINS_SHARE)
        height = min(wanted, max(most, self._look.px(60))) + 2
        if height != self._contains_scroll.maximumHeight():
            self._contains_scroll.setFixedHeight(height)

    def _fit_radar(self) -> None:
        """Where the radar finds no room even at its smallest, the readings table stands alone."""
        shape, look = self.radar.shape_shown, self._look
        if not shape.axes or self._radar_width == (self.width(), look, len(shape.axes)):
            return
        self._radar_width = (self.width(), look, len(shape.axes))
        legend = look.px(30)
        room = QRectF(
            0, 0, self.width() - look.px(2 * BALANCE_MARGIN_PX), look.px(SMALLEST_RADAR_HEIGHT) - legend
        )
        self._radar_place.setVisible(radar_layout(room, shape, look.fonts) is not None)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_contains()
        view = self._session.view
        if view is not None and view.build.target_id in view.book.targets:
            self._fit_radar()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The rule between the figures and what is contained."""
        super().paintEvent(event)
        if self._contains_scroll.isVisible():
            painter = QPainter(self)
            painter.setPen(self._look.theme.rule2)
            y = self._contains_scroll.y() - self._look.px(6)
            painter.drawLine(0, y, self.width(), y)
            painter.end()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The rule above what is contained goes with it."""
        if watched is self._contains_scroll and event.type() == QEvent.Type.Move:
            self.update()
        return super().eventFilter(watched, event)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._fit_contains()
