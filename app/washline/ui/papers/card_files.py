"""What can be done with cards: files, print, all of them, build files. It asks and complains in the strip of the sheet."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, QStandardPaths, Signal, Slot
from PySide6.QtPrintSupport import QPrintDialog, QPrinter, QPrinterInfo
from PySide6.QtWidgets import QWidget

from washline.document.document import Document
from washline.engine.contents import contents
from washline.exchange.build_file import write_build
from washline.presentation.card import Card, LastChange, card_content, day_words
from washline.problem import UserError
from washline.quantity.formatting import NumberStyle
from washline.quantity.names import safe_file_name
from washline.ui.papers.batch import Batch, Job, Outcome, jobs_for
from washline.ui.papers.files import Asker, write_bytes
from washline.ui.papers.page import Page
from washline.ui.papers.printing import card_file_name, print_on, write
from washline.ui.papers.question import CLOSE, FIRST, SECOND, Question

NO_PRINTER = "No printer is set up on this computer. Keep the card as a PDF and print it elsewhere."


class CardFiles(QObject):
    """Exports and prints for the sheet *Papers*. ``page`` says which page is chosen; ``said`` carries a sentence for the
    status line; ``working`` says whether many cards are being written."""

    said = Signal(str)
    working = Signal(bool)

    def __init__(
        self,
        document: Document,
        style: NumberStyle,
        strip: Question,
        asker: Asker,
        page: Callable[[], Page],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self._document, self._style, self._strip, self._asker = document, style, strip, asker
        self._window, self._page = parent, page
        self._folder = Path(
            QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        )
        self._card: Card | None = None
        self._waiting: list[Job] = []
        self._offers_pdf = False
        self.batch = Batch(self.card_of, self)
        self.batch.finished.connect(self._finish)
        strip.answered.connect(self._answer)

    def card_of(self, build_id: int) -> Card | None:
        """The card of a drink or part as it stands in the house book; ``None`` where it is gone."""
        book = self._document.book
        if build_id not in book.builds:
            return None
        trace, spread = self._document.workings.trace(build_id), self._document.workings.spread(build_id)
        return card_content(trace, spread, contents(book, build_id), self.last_change(build_id), self._style)

    def last_change(self, build_id: int) -> LastChange | None:
        """The last change of a drink, its day as the clock on the wall has it."""
        entry = self._document.last_change(build_id)
        return LastChange(entry.number, entry.when.astimezone().date()) if entry is not None else None

    def export(self, card: Card, kind: str, suffix: str) -> None:
        """Writes a card to a file that the person chooses."""
        self._card = card
        wish = self._folder / card_file_name(card, f".{suffix}")
        path = self._asker.file(self._window, f"Export {kind}", wish, f"{kind} (*.{suffix})", suffix)
        if path is None:
            return
        self._folder = path.parent
        try:
            pages = write(card, path, self._page())
        except UserError as error:
            self._strip.say(str(error), is_alert=True)
            return
        more = f", {pages} pages" if pages > 1 else ""
        self.said.emit(f"Card written to {path}{more}")

    def export_build(self, build_id: int) -> None:
        """Writes the build file of a drink or part."""
        name = self._document.book.builds[build_id].name
        wish = self._folder / safe_file_name([name], ".build.json")
        path = self._asker.file(
            self._window, "Export a build file", wish, "Build files (*.build.json)", "build.json"
        )
        if path is None:
            return
        self._folder = path.parent
        try:
            write_bytes(path, write_build(self._document.book, build_id))
        except UserError as error:
            self._strip.say(str(error), is_alert=True)
            return
        self.said.emit(f"Build file written to {path}")

    def print_card(self, card: Card) -> None:
        """Prints a card; where there is no printer it says so and offers a PDF."""
        self._card = card
        if not QPrinterInfo.availablePrinterNames():
            self._offers_pdf = True
            self._strip.say(NO_PRINTER, "Export PDF…")
            return
        page = self._page()
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setPageLayout(page.layout())
        printer.setFullPage(True)
        printer.setDocName(card.name)
        dialog = QPrintDialog(printer, self._window)
        if dialog.exec():
            try:
                print_on(printer, card, page, printer.resolution())
            except UserError as error:
                self._strip.say(str(error), is_alert=True)
        dialog.deleteLater()

    def export_all(self) -> None:
        """Writes the cards of all drinks into a folder; asks once where some are there already."""
        folder = self._asker.folder(self._window, "Export all cards", self._folder)
        if folder is None:
            return
        self._folder = folder
        names = []
        for build in self._document.book.drinks():
            change = self.last_change(build.id)
            names.append((build.id, build.name, day_words(change.day) if change is not None else ""))
        jobs = jobs_for(names, folder)
        there = sum(job.path.exists() for job in jobs)
        if there:
            self._waiting = jobs
            verb = "is" if there == 1 else "are"
            words = f"{there} of the {len(jobs)} cards {verb} in this folder already."
            self._strip.say(words, "Replace them", "Keep them")
        else:
            self._begin(jobs)

    def _begin(self, jobs: list[Job], skipped: int = 0) -> None:
        self.working.emit(True)
        self.batch.start(jobs, self._page(), skipped)

    @Slot(str)
    def _answer(self, answer: str) -> None:
        jobs, self._waiting = self._waiting, []
        offers_pdf, self._offers_pdf = self._offers_pdf, False
        if answer == CLOSE:
            return
        if jobs and answer == FIRST:
            self._begin(jobs)
        elif jobs and answer == SECOND:
            new = [job for job in jobs if not job.path.exists()]
            self._begin(new, len(jobs) - len(new))
        elif offers_pdf and self._card is not None:
            self.export(self._card, "PDF", "pdf")

    @Slot(object)
    def _finish(self, outcome: Outcome) -> None:
        self.working.emit(False)
        if outcome.problems:
            self._strip.say(outcome.words, is_alert=True)
        else:
            self.said.emit(outcome.words)
