"""The sheet *Batch*: the drink that is open, made ahead."""

from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, QSize, QStandardPaths, Qt, Signal, Slot
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.batched import batched
from washline.document.commands.command import Command
from washline.document.commands.house import put_vessel
from washline.document.commands.items import set_batch
from washline.model.graph import inputs_of
from washline.model.house import Vessel
from washline.model.item import Batch, Build
from washline.presentation.batch import BatchSheet, batch_sheet
from washline.presentation.batch_plan import Batched
from washline.presentation.batch_table import tab_separated
from washline.presentation.batch_words import Told
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, FILE_STYLE, NumberStyle
from washline.quantity.names import safe_file_name
from washline.ui.appearance import Appearance
from washline.ui.balance.radar_place import page_area
from washline.ui.batch.controls import BatchControls
from washline.ui.batch.export import BatchPaper, write
from washline.ui.batch.tables import BatchTables
from washline.ui.controls import CloseButton, NoticeStrip, PlainButton, ThinScrollBar, Words
from washline.ui.measures import SHEET_MARGIN_PX
from washline.ui.papers.files import Asker, DialogAsker
from washline.ui.session import Session, View

HEADING = "Batch"
NOTHING_OPEN = "No drink or part is open."
OF_A_PART = (
    "A batch is made of a drink. A house-made part is a batch already: open one of the drinks that pour it."
)
NOTHING_POURED = "Nothing is poured yet. Add a line to the build, and its batch stands here."
KINDS = (("PDF", "pdf"), ("CSV", "csv"))
BESIDE_FROM = 1080.0
_SIDE = 380.0


class ToldList(QWidget):
    """What to know, a heading and its sentences each."""

    def __init__(self, look: Appearance) -> None:
        super().__init__()
        self._look = look
        self._blocks: list[tuple[Words, Words]] = []
        self._column = QVBoxLayout(self)
        self._column.addStretch(1)
        self.setAccessibleName("What to know about the batch")

    @property
    def text(self) -> str:
        """All that is said."""
        shown = [block for block in self._blocks if not block[0].isHidden()]
        return "\n".join(f"{title.text()}: {words.text()}" for title, words in shown)

    def tell(self, told: tuple[Told, ...]) -> None:
        """Says other things."""
        while len(self._blocks) < len(told):
            self._add_block()
        for number, (title, words) in enumerate(self._blocks):
            is_shown = number < len(told)
            title.setVisible(is_shown)
            words.setVisible(is_shown)
            if is_shown:
                title.setText(told[number].title)
                title.set_token("alert" if told[number].is_alert else "ink")
                words.setText(told[number].text)

    def _add_block(self) -> None:
        look = self._look
        title = Words(look, style="label_strong", wraps=True)
        title.setContentsMargins(0, look.px(7), 0, 0)
        words = Words(look, token="ink2", style="label", wraps=True)
        words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        words.setAlignment(Qt.AlignmentFlag.AlignTop)
        for part in (title, words):
            self._column.insertWidget(self._column.count() - 1, part)
        self._blocks.append((title, words))

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._column.setContentsMargins(margin, look.px(6), margin, look.px(14))
        self._column.setSpacing(look.px(3))
        for title, words in self._blocks:
            title.set_appearance(look)
            title.setContentsMargins(0, look.px(7), 0, 0)
            words.set_appearance(look)


class BatchView(QWidget):
    """Follows the session while it is shown. ``closed``: the person is done; ``said`` carries a sentence for the status
    line; ``opened`` the id of an item that is to be shown."""

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
        self._batched: Batched | None = None
        self._sheet: BatchSheet | None = None
        self._make()
        self._lay_out()
        self._connect()
        self.set_appearance(look)

    @property
    def sheet(self) -> BatchSheet | None:
        """What is shown; ``None`` where there is no batch."""
        return self._sheet

    def _make(self) -> None:
        look, style = self._look, self._style
        self.setAccessibleName(HEADING)
        self.title = Words(look, HEADING, style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.copy_button = PlainButton(look, "Copy as table")
        self.copy_button.setToolTip("The tables as cells, to paste elsewhere")
        self.export_button = PlainButton(look, "Export…")
        self.export_button.setToolTip("The weigh-out as PDF to tick off, or as CSV")
        self.close_button = CloseButton(look)
        self.controls = BatchControls(look, style)
        self.problem = Words(look, "", token="alert", style="label", wraps=True)
        self.tables = BatchTables(look)
        self.told = ToldList(look)
        self.empty = Words(look, "", token="ink2", wraps=True)
        self.build_button = PlainButton(look, "Go to the build", is_first=True)
        self.strip = NoticeStrip(look, self)
        self.menu = QMenu(self)
        for kind, suffix in KINDS:
            action = self.menu.addAction(f"{kind}…")
            action.setData(suffix)
            action.triggered.connect(self._export_chosen)

    def _lay_out(self) -> None:
        look = self._look
        self._names = QHBoxLayout()
        self._names.addWidget(self.title, 1)
        buttons = (self.copy_button, self.export_button, self.close_button)
        for button in buttons:
            self._names.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
        self._head = QVBoxLayout()
        self._head.addLayout(self._names)
        for part in (self.about, self.controls, self.problem):
            self._head.addWidget(part)
        self._bar = ThinScrollBar(look)
        self._body = QWidget()
        self._sides = QBoxLayout(QBoxLayout.Direction.TopToBottom, self._body)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.setSpacing(0)
        self._sides.addWidget(self.tables, 1, Qt.AlignmentFlag.AlignTop)
        self._sides.addWidget(self.told)
        self._page = page_area(self._body, self._bar)
        self._page.viewport().installEventFilter(self)
        self._way_out = QHBoxLayout()
        self._way_out.addWidget(self.build_button)
        self._way_out.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(self._head)
        column.addWidget(self.empty)
        column.addLayout(self._way_out)
        column.addWidget(self._page, 1)
        column.addStretch(0)
        column.addWidget(self.strip)
        order = (*self.controls.fields, self.tables, self.build_button, *buttons)
        for before, after in pairwise(order):
            self.setTabOrder(before, after)
        self.problem.hide()

    def _connect(self) -> None:
        self._session.view_changed.connect(self._take_view)
        self.controls.changed.connect(self._keep)
        self.controls.fill_changed.connect(self._keep_fill)
        self.controls.refused.connect(self._say_problem)
        self.copy_button.clicked.connect(self.copy)
        self.export_button.clicked.connect(self._offer_kinds)
        self.close_button.clicked.connect(self.closed)
        self.build_button.clicked.connect(self.closed)
        self.tables.opened.connect(self.opened)
        self.tables.current_changed.connect(self._show_row)

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        self._look = look
        margin = look.px(SHEET_MARGIN_PX)
        self._head.setContentsMargins(margin, look.px(12), margin, look.px(10))
        self._head.setSpacing(look.px(6))
        self._names.setSpacing(look.px(10))
        self.empty.setContentsMargins(margin, look.px(24), margin, look.px(14))
        self._way_out.setContentsMargins(margin, 0, margin, 0)
        self.menu.setFont(look.fonts.row)
        for part in (
            self.title, self.about, self.controls, self.problem, self.copy_button, self.export_button,
            self.close_button, self.tables, self.told, self.empty, self.build_button, self.strip, self._bar,
        ):  # fmt: skip
            part.set_appearance(look)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        for ground in (self, self._body, self._page.viewport()):
            ground.setPalette(palette)
            ground.setAutoFillBackground(True)
        self._arrange()

    def focus_first(self) -> None:
        """Puts the cursor on the first answer, or on the way out where there is no batch."""
        if self._sheet is not None or self._is_drink():
            first: QWidget = next(
                (field for field in self.controls.fields if field.isEnabled() and not field.isHidden()),
                self.tables,
            )
        else:
            first = self.build_button if self._session.view is not None else self.close_button
        first.setFocus(Qt.FocusReason.OtherFocusReason)

    def minimumSizeHint(self) -> QSize:
        return QSize(self._look.px(420), self._look.px(320))

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._refresh()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """What to know stands beside the tables where there is room."""
        if event.type() == QEvent.Type.Resize and watched is self._page.viewport():
            self._arrange()
        return super().eventFilter(watched, event)

    def _arrange(self) -> None:
        is_wide = self._page.viewport().width() >= self._look.px(BESIDE_FROM)
        ways = QBoxLayout.Direction
        self._sides.setDirection(ways.LeftToRight if is_wide else ways.TopToBottom)
        self.told.setMaximumWidth(self._look.px(_SIDE) if is_wide else 16_777_215)
        self.told.setMinimumWidth(self._look.px(_SIDE) if is_wide else 0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    def _is_drink(self) -> bool:
        view = self._session.view
        return view is not None and view.build.is_drink and bool(inputs_of(view.build))

    @Slot(object)
    def _take_view(self, _view: View | None) -> None:
        if self.isVisible():
            self._refresh()

    def _refresh(self) -> None:
        view = self._session.view
        self._batched = self._sheet = None
        if view is None or not self._is_drink():
            self._show_empty(view)
            return
        batch = view.build.batch or Batch()
        self.controls.show_batch(batch, view.book, is_read_only=self._session.document.is_read_only)
        try:
            self._compute(view, batch)
        except UserError as refusal:
            self._show_refusal(view.build, str(refusal))

    def _compute(self, view: View, batch: Batch) -> None:
        workings = self._session.document.workings
        self._batched = batched(workings, view.build.id, batch, view.book if view.is_preview else None)
        self._sheet = batch_sheet(self._batched, self._style)
        self.about.setText(f"{view.build.name}: {self._sheet.subtitle}")
        self.tables.set_tables(self._sheet.tables)
        self.told.tell(self._sheet.told)
        self._show_parts(has_controls=True, has_sheet=True)

    def _show_refusal(self, build: Build, words: str) -> None:
        self.about.setText(build.name)
        self.empty.setText(words)
        self._show_parts(has_controls=True, has_sheet=False)

    def _show_empty(self, view: View | None) -> None:
        """The empty state: what is missing, and what to do first."""
        self.about.setText("" if view is None else view.build.name)
        is_part = view is not None and not view.build.is_drink
        self.empty.setText(NOTHING_OPEN if view is None else OF_A_PART if is_part else NOTHING_POURED)
        self._show_parts(has_controls=False, has_sheet=False)

    def _show_parts(self, *, has_controls: bool, has_sheet: bool) -> None:
        self.controls.setVisible(has_controls)
        self.empty.setVisible(not has_sheet)
        self.build_button.setVisible(not has_sheet and self._session.view is not None)
        self._page.setVisible(has_sheet)
        for button in (self.copy_button, self.export_button):
            button.setEnabled(has_sheet)
        if not has_controls:
            self._say_problem("")

    @Slot(QRect)
    def _show_row(self, rect: QRect) -> None:
        place = self.tables.mapTo(self._body, rect.topLeft())
        half = rect.height() // 2
        self._page.ensureVisible(0, place.y() + half, 0, half + self._look.px(8))

    # What is changed

    @Slot(object)
    def _keep(self, batch: Batch) -> None:
        view = self._session.view
        if view is not None:
            label = labels.change_of_batch(self._session.document.book, view.build.id)
            self._commit(set_batch(view.build.id, batch), label)

    @Slot(object)
    def _keep_fill(self, vessel: Vessel) -> None:
        self._commit(put_vessel(vessel), labels.change_of_entry("vessel", vessel.name))

    def _commit(self, command: Command, label: str) -> None:
        try:
            changed = self._session.commit(command, label, self)
        except UserError as refusal:
            self._refresh()
            self._say_problem(str(refusal))
            return
        self._say_problem("")
        if changed is None:
            self._refresh()

    @Slot(str)
    def _say_problem(self, words: str) -> None:
        self.problem.setText(words)
        self.problem.setVisible(bool(words))

    # Tables and files

    @Slot()
    def copy(self) -> None:
        """Puts the tables on the clipboard."""
        if self._sheet is not None:
            QGuiApplication.clipboard().setText(tab_separated(self._sheet))
            self.said.emit("The weigh-out was copied.")

    @Slot()
    def _offer_kinds(self) -> None:
        self.menu.popup(self.export_button.mapToGlobal(QPoint(0, self.export_button.height())))

    @Slot()
    def _export_chosen(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.export(str(action.data()))

    def export(self, suffix: str) -> None:
        """Writes the weigh-out to a file that the person chooses."""
        shown, sheet = self._batched, self._sheet
        if shown is None or sheet is None:
            return
        kind = suffix.upper()
        wish = self._folder / safe_file_name([shown.drink.build.name, "batch"], f".{suffix}")
        path = self._asker.file(self, f"Export {kind}", wish, f"{kind} (*.{suffix})", suffix)
        if path is None:
            return
        self._folder = path.parent
        house = shown.book.settings.house_name
        foot = f"{house} · Figures are computed; measure your batch."
        try:
            write(BatchPaper(sheet, batch_sheet(shown, FILE_STYLE), house, foot), path)
        except UserError as error:
            self.strip.say(str(error), is_alert=True)
            return
        self.said.emit(f"Weigh-out written to {path}")
