"""What the window tests of costs, details and makings stand on: a document in memory, at a fixed moment."""

from dataclasses import dataclass
from datetime import UTC, datetime

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.document.fakes import MemoryFile
from tests.presentation.costing import worked_out
from washline.document.document import Document
from washline.document.stored_results import StoredResults
from washline.model.book import HouseBook
from washline.ui.appearance import Appearance
from washline.ui.bridge import Bridge
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import light_theme


def settle() -> None:
    """Lets what waits for the event loop happen."""
    for _ in range(4):
        QApplication.processEvents()


def noon() -> datetime:
    """The moment at which these tests happen."""
    return datetime(2026, 11, 25, 12, tzinfo=UTC)


@dataclass
class Bench:
    """An open house book, and how everything is painted."""

    qtbot: QtBot
    document: Document
    bridge: Bridge
    look: Appearance

    @property
    def book(self) -> HouseBook:
        """The house book as it is."""
        return self.document.book

    def compute(self) -> None:
        """Lets the work that waits for idle moments be done."""
        while self.document.work_on():
            settle()
        settle()

    @property
    def labels(self) -> list[str]:
        """What was done, newest first."""
        return [entry.label for entry in self.document.history()]


class Opener:
    """Opens house books in memory; ``close`` ends the listening of all that were opened."""

    def __init__(self, qtbot: QtBot) -> None:
        load_fonts()
        self._qtbot = qtbot
        self._bridges: list[Bridge] = []

    def __call__(self, book: HouseBook, *, is_read_only: bool = False) -> Bench:
        """Opens a house book."""
        file = MemoryFile(book, is_read_only=is_read_only)
        workings = worked_out(file.book)
        document = Document(file, file.book, workings, StoredResults(file, workings, "test"), noon)
        bridge = Bridge(document)
        self._bridges.append(bridge)
        look = Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)
        return Bench(self._qtbot, document, bridge, look)

    def close(self) -> None:
        """Listens no more."""
        for bridge in self._bridges:
            bridge.close()
        settle()
