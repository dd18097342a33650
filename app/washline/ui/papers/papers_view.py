"""The sheet *Papers*: the card of the drink or part that is open, with the house's words, its files and its print."""

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QKeyEvent, QPalette, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QProgressBar, QScrollArea, QVBoxLayout, QWidget

from washline.document.commands import labels
from washline.document.commands.command import Command
from washline.document.commands.items import set_build
from washline.document.document import Document
from washline.engine.contents import contents
from washline.presentation.card import Card, card_content
from washline.problem import UserError
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.ui.appearance import Appearance
from washline.ui.controls import CloseButton, PlainButton, QuietChoice, ThinScrollBar, Words
from washline.ui.papers.card_files import CardFiles
from washline.ui.papers.files import Asker, DialogAsker
from washline.ui.papers.page import PAGES, Page, page_of
from washline.ui.papers.preview import Preview
from washline.ui.papers.question import Question
from washline.ui.papers.words_fields import WordsFields
from washline.ui.session import Session, View

ZOOMS = ((1.0, "true size"), (1.5, "150 %"), (2.0, "200 %"))
NOTHING_OPEN = "No drink or house-made part is open."
_SIDE_WIDTH = 412
_BUTTONS = (
    ("pdf", "Export PDF…"),
    ("png", "Export PNG…"),
    ("print", "Print…"),
    ("all", "Export all cards…"),
    ("build", "Export build file…"),
)


class PapersView(QWidget):
    """Shows the card of the session's drink or part. ``closed``: the person is done; ``said`` carries a sentence for the
    status line. The words of the house are written through the document, each change one step that can be undone."""

    closed = Signal()
    said = Signal(str)

    def __init__(
        self,
        document: Document,
        session: Session,
        look: Appearance,
        style: NumberStyle = ENGLISH_STYLE,
        parent: QWidget | None = None,
        *,
        asker: Asker | None = None,
    ) -> None:
        super().__init__(parent)
        self._document, self._session, self._style = document, session, style
        self._look = look
        self._card: Card | None = None
        self._view: View | None = None
        self._make()
        self.files = CardFiles(document, style, self.strip, asker or DialogAsker(), self._chosen_page, self)
        self._lay_out()
        self._connect()
        self.set_appearance(look)
        self.fields.set_read_only(document.is_read_only)

    @property
    def card(self) -> Card | None:
        """The card that is shown."""
        return self._card

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme or text size."""
        self._look = look
        for part in (self.title, self.about, self.count, self.working, self.fields, self.strip, self.preview):
            part.set_appearance(look)
        for button in (*self.buttons.values(), self.previous, self.next, self.stop, self.close_button):
            button.set_appearance(look)
        for choice in (self.paper, self.zoom):
            choice.setFont(look.fonts.row)
        palette = QPalette(look.theme.palette())
        palette.setColor(QPalette.ColorRole.Window, look.theme.sheet)
        self.setPalette(palette)
        self.setAutoFillBackground(True)
        self._side.setFixedWidth(look.px(_SIDE_WIDTH))
        ground = QPalette(palette)
        ground.setColor(QPalette.ColorRole.Window, look.theme.ground)
        self._scroll.viewport().setPalette(ground)

    def focus_first(self) -> None:
        """Puts the cursor on the first thing to do."""
        self.buttons["pdf"].setFocus(Qt.FocusReason.OtherFocusReason)

    def _make(self) -> None:
        look = self._look
        self.title = Words(look, "Papers", style="title")
        self.about = Words(look, "", token="ink2", style="label", wraps=True)
        self.close_button = CloseButton(look)
        self.preview = Preview(look)
        self.paper, self.zoom = QuietChoice(), QuietChoice()
        for page in PAGES.values():
            self.paper.addItem(page.name, page.key)
        for factor, words in ZOOMS:
            self.zoom.addItem(words, factor)
        self.paper.setAccessibleName("Page of the card")
        self.zoom.setAccessibleName("Size of the preview")
        self.previous, self.next = PlainButton(look, "Previous page"), PlainButton(look, "Next page")
        self.count = Words(look, "", token="ink2", style="label")
        self.fields = WordsFields(look)
        self.buttons = {key: PlainButton(look, words, is_first=key == "pdf") for key, words in _BUTTONS}
        for key, button in self.buttons.items():
            button.setObjectName(f"papers_{key}")
        self.working = Words(look, "", token="ink2", style="label", wraps=True)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("Cards written")
        self.stop = PlainButton(look, "Stop")
        self.strip = Question(look, self)
        paper = page_of(self._document.book.settings.paper_size)
        self.paper.setCurrentIndex(list(PAGES).index(paper.key))

    def _lay_out(self) -> None:
        look = self._look
        self._scroll = QScrollArea()
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setWidget(self.preview)
        self._scroll.setAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        self._scroll.setVerticalScrollBar(ThinScrollBar(look, self._scroll))
        self._scroll.setAccessibleName("Preview")
        self._side = QWidget()
        side = QVBoxLayout(self._side)
        side.setContentsMargins(look.px(18), look.px(8), look.px(18), look.px(18))
        side.setSpacing(look.px(8))
        for widgets in (
            (self.paper, self.zoom),
            (self.previous, self.count, self.next),
            (self.buttons["pdf"], self.buttons["png"], self.buttons["print"]),
            (self.buttons["all"], self.buttons["build"]),
        ):
            side.addLayout(_line(*widgets))
        side.addWidget(self.working)
        side.addLayout(_line(self.bar, self.stop))
        side.addSpacing(look.px(14))
        side.addWidget(self.fields)
        side.addStretch(1)
        middle = QHBoxLayout()
        middle.setSpacing(0)
        middle.addWidget(self._scroll, 1)
        middle.addWidget(self._side)
        head = QHBoxLayout()
        head.setContentsMargins(look.px(20), look.px(12), look.px(12), look.px(8))
        head.setSpacing(look.px(12))
        head.addWidget(self.title)
        head.addWidget(self.about, 1, Qt.AlignmentFlag.AlignBottom)
        head.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(head)
        column.addLayout(middle, 1)
        column.addWidget(self.strip)
        self._show_work(False)

    def _connect(self) -> None:
        self._redraw = QTimer(self)
        self._redraw.setSingleShot(True)
        self._redraw.setInterval(0)
        self._redraw.timeout.connect(self._show_card)
        self._session.view_changed.connect(self._take_view)
        self.close_button.clicked.connect(self.closed)
        self.paper.activated.connect(self._show_card)
        self.zoom.activated.connect(self._show_card)
        self.previous.clicked.connect(self._turn_back)
        self.next.clicked.connect(self._turn_on)
        self.fields.typing.connect(self._preview_words)
        self.fields.left.connect(self._write_words)
        self.buttons["pdf"].clicked.connect(self._export_pdf)
        self.buttons["png"].clicked.connect(self._export_png)
        self.buttons["print"].clicked.connect(self._print)
        self.buttons["all"].clicked.connect(self._export_all)
        self.buttons["build"].clicked.connect(self._export_build)
        self.stop.clicked.connect(self.files.batch.stop)
        self.files.said.connect(self.said)
        self.files.working.connect(self._show_work)
        self.files.batch.moved_on.connect(self._show_progress)

    # What is shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._take_view(self._session.view)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
            return
        super().keyPressEvent(event)

    @Slot(object)
    def _take_view(self, view: View | None) -> None:
        if not self.isVisible():
            return
        self._view = view
        if view is not None and not view.is_preview:
            self.fields.show_build(view.build)
        self._redraw.start()

    @Slot()
    def _show_card(self) -> None:
        view = self._view
        self._card = self._content(view) if view is not None else None
        self.about.setText(
            NOTHING_OPEN if self._card is None else "The preview is the very drawing that is exported."
        )
        self.preview.show_card(self._card, self._chosen_page(), float(self.zoom.currentData()))
        self._show_number()
        for key in ("pdf", "png", "print"):
            self.buttons[key].setEnabled(self._card is not None)
        self.buttons["build"].setEnabled(view is not None)
        self.fields.setEnabled(self._card is not None)

    def _content(self, view: View) -> Card:
        held = contents(view.book, view.build.id)
        return card_content(view.trace, view.spread, held, self.files.last_change(view.build.id), self._style)

    def _chosen_page(self) -> Page:
        return page_of(str(self.paper.currentData()))

    def _show_number(self) -> None:
        count = self.preview.page_count
        self.count.setText(f"{self.preview.number} of {count}" if count else "")
        self.previous.setEnabled(self.preview.number > 1)
        self.next.setEnabled(self.preview.number < count)

    @Slot()
    def _turn_back(self) -> None:
        self.preview.show_number(self.preview.number - 1)
        self._show_number()

    @Slot()
    def _turn_on(self) -> None:
        self.preview.show_number(self.preview.number + 1)
        self._show_number()

    # The house's words

    def _words_command(self) -> Command | None:
        build_id = self._session.build_id
        if build_id is None:
            return None
        return set_build(build_id, tastes_like=self.fields.tastes_like, if_off=self.fields.signs)

    @Slot()
    def _preview_words(self) -> None:
        command = self._words_command()
        if command is not None and not self._document.is_read_only:
            self._session.set_preview(command)

    @Slot()
    def _write_words(self) -> None:
        command, build_id = self._words_command(), self._session.build_id
        if command is None or build_id is None:
            return
        try:
            self._session.commit(command, labels.change_of_item(self._document.book, build_id), self)
        except UserError as refusal:
            self.strip.say(str(refusal), is_alert=True)

    # What can be done with it

    @Slot()
    def _export_pdf(self) -> None:
        if self._card is not None:
            self.files.export(self._card, "PDF", "pdf")

    @Slot()
    def _export_png(self) -> None:
        if self._card is not None:
            self.files.export(self._card, "PNG picture", "png")

    @Slot()
    def _print(self) -> None:
        if self._card is not None:
            self.files.print_card(self._card)

    @Slot()
    def _export_all(self) -> None:
        self.files.export_all()

    @Slot()
    def _export_build(self) -> None:
        if self._view is not None:
            self.files.export_build(self._view.build.id)

    @Slot(bool)
    def _show_work(self, is_running: bool) -> None:
        for widget in (self.bar, self.stop, self.working):
            widget.setVisible(is_running)
        self.buttons["all"].setEnabled(not is_running)

    @Slot(int, int, str)
    def _show_progress(self, done: int, count: int, name: str) -> None:
        self.bar.setMaximum(count)
        self.bar.setValue(done)
        self.working.setText(f"{done + 1} of {count}: {name}")


def _line(*widgets: QWidget) -> QHBoxLayout:
    line = QHBoxLayout()
    line.setSpacing(8)
    for widget in widgets:
        line.addWidget(widget)
    line.addStretch(1)
    return line
