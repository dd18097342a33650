"""The sheet *Where the mass went*: the flow picture of what is open, its ledger under it, and its files."""

from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, QStandardPaths, Qt, Signal, Slot
from PySide6.QtGui import QAction, QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QScrollArea, QVBoxLayout, QWidget

from washline.presentation.flow import flow_of
from washline.presentation.flow_graph import Flow
from washline.presentation.ledger import Ledger, ledger_of
from washline.presentation.ledger_table import ledger_texts
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.names import safe_file_name
from washline.ui.appearance import Appearance
from washline.ui.balance.radar_place import page_area
from washline.ui.controls import CloseButton, NoticeStrip, PlainButton, ThinScrollBar, Words
from washline.ui.flow.across_bar import AcrossBar
from washline.ui.flow.export import FlowSheet, write
from washline.ui.flow.picture import FlowPicture
from washline.ui.flow.table import FlowTable
from washline.ui.measures import SHEET_MARGIN_PX
from washline.ui.papers.files import Asker, DialogAsker
from washline.ui.session import Session, View
from washline.ui.twist.view import TogglePlainButton

HEADING = "Where the mass went"
NOTHING_OPEN = "No drink or part is open."
KINDS = (("PDF", "pdf"), ("SVG", "svg"), ("PNG", "png"))
_LEAST_PICTURE_SHARE = 0.5


class FlowView(QWidget):
    """Follows the session while it is shown. ``closed``: the person is done; ``said`` carries a sentence for the status
    line; ``opened`` the id of an item (build, leftover or raw ingredient) that is to be shown."""

    closed = Signal()
    said = Signal(str)
    opened = Signal(int)

    def __init__(
        self,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
        *,
        asker: Asker | None = None,
    ) -> None:
        super().__init__(parent)
        self._session, self._look, self._style = session, look, style
        self._asker = asker or DialogAsker()
        self._folder = Path(
            QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        )
        self._ledger: Ledger | None = None
        self._flow: Flow | None = None
        self._make()
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    @property
    def ledger(self) -> Ledger | None:
        """What is shown; ``None`` where nothing is open."""
        return self._ledger

    def _make(self) -> None:
        look = self._look
        self.setAccessibleName(HEADING)
        self.title = Words(look, HEADING, style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.unit_button = TogglePlainButton(look, "Percent")
        self.follow_button = TogglePlainButton(look, "Follow leftovers")
        self.follow_button.setChecked(True)
        self.unit_button.setToolTip("Masses in percent of all that went in, instead of grams")
        self.follow_button.setToolTip("Show what becomes of the leftovers in the parts that take them")
        self.export_button = PlainButton(look, "Export…")
        self.export_button.setToolTip("The picture with its ledger, as PDF, SVG or PNG")
        self.close_button = CloseButton(look)
        self.picture = FlowPicture(look, self._style)
        self.table = FlowTable(look)
        self.empty = Words(look, "", token="ink2", wraps=True)
        self.build_button = PlainButton(look, "Go to the build", is_first=True)
        self.strip = NoticeStrip(look, self)
        self.menu = QMenu(self)
        self.exports: dict[str, QAction] = {}
        for kind, suffix in KINDS:
            action = self.exports[suffix] = self.menu.addAction(f"{kind}…")
            action.setData(suffix)
            action.triggered.connect(self._export_chosen)

    def _lay_out(self) -> None:
        look = self._look
        names = QHBoxLayout()
        names.addWidget(self.title, 1)
        buttons = (self.unit_button, self.follow_button, self.export_button, self.close_button)
        for button in buttons:
            names.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self._names = names
        self._head = QVBoxLayout()
        self._head.addLayout(names)
        self._head.addWidget(self.about)
        self._down_bar, self._across_bar = ThinScrollBar(look), AcrossBar(look)
        self._across = QScrollArea()
        self._across.setFrameShape(QFrame.Shape.NoFrame)
        self._across.setHorizontalScrollBar(self._across_bar)
        self._across.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._across.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._across.setWidget(self.picture)
        self._body = QWidget()
        body = QVBoxLayout(self._body)
        body.setContentsMargins(0, 0, 0, 0)
        body.setSpacing(0)
        body.addWidget(self.empty)
        self._way_out = QHBoxLayout()
        self._way_out.addWidget(self.build_button)
        self._way_out.addStretch(1)
        body.addLayout(self._way_out)
        body.addWidget(self._across)
        body.addWidget(self.table)
        body.addStretch(1)
        self._page = page_area(self._body, self._down_bar)
        self._page.viewport().installEventFilter(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        column.addWidget(self._page, 1)
        column.addWidget(self.strip)
        for before, after in pairwise((*buttons, self.build_button, self.picture, self.table)):
            self.setTabOrder(before, after)

    def _connect(self) -> None:
        self._session.view_changed.connect(self._take_view)
        self.unit_button.toggled.connect(self._refresh)
        self.follow_button.toggled.connect(self._refresh)
        self.export_button.clicked.connect(self._offer_kinds)
        self.close_button.clicked.connect(self.closed)
        self.build_button.clicked.connect(self.closed)
        self.picture.opened.connect(self.opened)
        self.table.opened.connect(self.opened)
        self.picture.current_changed.connect(self._show_band)
        self.table.current_changed.connect(self._show_row)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(8))
        self._head.setSpacing(look.px(2))
        self._names.setSpacing(look.px(10))
        self.empty.setContentsMargins(margin, look.px(24), margin, look.px(14))
        self._way_out.setContentsMargins(margin, 0, margin, 0)
        self.menu.setFont(look.fonts.row)
        parts = (self.title, self.about, self.empty, self.unit_button, self.follow_button, self.export_button)
        for part in (
            self.build_button,
            *parts,
            self.close_button,
            self.strip,
            self._down_bar,
            self._across_bar,
            self.picture,
            self.table,
        ):
            part.set_appearance(look)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        for ground in (self, self._body, self._page.viewport(), self._across.viewport()):
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)
        inner = QPalette(palette)
        inner.setColor(QPalette.ColorRole.Window, look.theme.inner)
        self.table.setPalette(inner)
        self.table.setAutoFillBackground(True)
        self._fit()

    def focus_first(self) -> None:
        """Puts the cursor on the picture, or on the way out where there is none."""
        empty_first = self.build_button if self._ledger is not None else self.close_button
        first = self.picture if self._flow is not None else empty_first
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refresh()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """The picture follows the room of its page, which is known only once the page itself has been laid out."""
        if event.type() == QEvent.Type.Resize and watched is self._page.viewport():
            self._fit()
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
        if view is None:
            self._ledger = self._flow = None
            self._show_words(NOTHING_OPEN, "")
            return
        self.follow_button.setVisible(not view.build.is_drink)
        workings, style = self._session.document.workings, self._style
        follows, is_percent = self.follow_button.isChecked(), self.unit_button.isChecked()
        self._ledger = ledger_of(view.trace, workings, style, follows=follows)
        if self._ledger.problem:
            self._flow = None
            self._show_words(self._ledger.problem, view.build.name)
            return
        self._flow = flow_of(view.trace, workings, style, follows=follows, is_percent=is_percent)
        self.about.setText(f"{view.build.name}: {self._flow.subtitle}")
        self.picture.set_flow(self._flow)
        self.table.set_texts(ledger_texts(self._ledger, style, is_percent=is_percent))
        self._show_parts(is_shown=True)
        self._fit()

    def _show_words(self, words: str, name: str) -> None:
        """The empty state: what is missing, and what to do first."""
        self.about.setText(name)
        self.empty.setText(words)
        self._show_parts(is_shown=False)

    def _show_parts(self, *, is_shown: bool) -> None:
        self.empty.setVisible(not is_shown)
        self.build_button.setVisible(not is_shown and self._ledger is not None)
        self._across.setVisible(is_shown)
        self.table.setVisible(is_shown)
        for button in (self.unit_button, self.follow_button, self.export_button):
            button.setEnabled(is_shown)

    def _fit(self) -> None:
        """The picture takes the height that the table leaves, and never less than it can be read at."""
        if self._flow is None:
            return
        room = self._page.viewport().size()
        table = self.table.heightForWidth(room.width())
        self.table.setFixedHeight(table)
        least = self.picture.height_for(room.width())
        bar = self._across.horizontalScrollBar().sizeHint().height()
        height = max(least, room.height() - table, round(_LEAST_PICTURE_SHARE * room.height()))
        self.picture.set_room(QSize(room.width(), height))
        is_wide = self.picture.width() > room.width()
        if is_wide and height > least:
            self.picture.set_room(QSize(room.width(), max(least, height - bar)))
        self._across.setFixedHeight(self.picture.height() + (bar if is_wide else 0))

    @Slot(QRect)
    def _show_band(self, rect: QRect) -> None:
        centre = rect.center()
        self._across.ensureVisible(centre.x(), centre.y(), rect.width() // 2 + 20, 0)
        self._show(self.picture.mapTo(self._body, rect.topLeft()), rect.height())

    @Slot(QRect)
    def _show_row(self, rect: QRect) -> None:
        self._show(self.table.mapTo(self._body, rect.topLeft()), rect.height())

    def _show(self, place: QPoint, height: int) -> None:
        self._page.ensureVisible(0, place.y() + height // 2, 0, height // 2 + self._look.px(8))

    # Files

    @Slot()
    def _offer_kinds(self) -> None:
        self.menu.popup(self.export_button.mapToGlobal(QPoint(0, self.export_button.height())))

    @Slot()
    def _export_chosen(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.export(str(action.data()))

    def export(self, suffix: str) -> None:
        """Writes picture and ledger to a file that the person chooses."""
        view, ledger, flow = self._session.view, self._ledger, self._flow
        if view is None or ledger is None or flow is None:
            return
        kind = suffix.upper()
        wish = self._folder / safe_file_name([view.build.name, "where the mass went"], f".{suffix}")
        path = self._asker.file(self, f"Export {kind}", wish, f"{kind} (*.{suffix})", suffix)
        if path is None:
            return
        self._folder = path.parent
        try:
            write(self._sheet(view, ledger, flow), path)
        except UserError as error:
            self.strip.say(str(error), is_alert=True)
            return
        self.said.emit(f"Picture written to {path}")

    def _sheet(self, view: View, ledger: Ledger, flow: Flow) -> FlowSheet:
        house = view.book.settings.house_name
        texts = ledger_texts(ledger, self._style, is_percent=self.unit_button.isChecked())
        foot = f"{house} · Figures are computed; measure your batch."
        return FlowSheet(f"{HEADING}: {view.build.name}", flow, texts, foot, house, self._style)
