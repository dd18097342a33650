"""A sheet on the small house, with a model tester that ends the run at the first broken rule of Qt's models."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.document.fakes import MemoryFile
from tests.presentation.small_house import SIGNAL, house
from washline.document.document import Document
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.model.amount import Amount
from washline.model.book import HouseBook
from washline.model.step import AnyStep
from washline.presentation.build_rows import BuildRow, Key
from washline.ui.bridge import Bridge
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.editors import CellEditor
from washline.ui.build.look import Look
from washline.ui.build.model import NEW_LINE_KEY
from washline.ui.build.sheet import BuildSheet
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.session import Session
from washline.ui.theme import light_theme


@dataclass
class Bench:
    """A shown sheet and ways to work on it as a person does."""

    qtbot: QtBot
    file: MemoryFile
    document: Document
    session: Session
    sheet: BuildSheet

    @property
    def book(self) -> HouseBook:
        return self.document.book

    @property
    def editor(self) -> CellEditor:
        editor = self.sheet.tree.editor
        assert editor is not None
        return editor

    def row(self, *key: int) -> BuildRow:
        row = self.sheet.model.row_at(self.sheet.model.index_of(key))
        assert row is not None
        return row

    def names(self) -> list[str]:
        return [row.name for row in self.sheet.model.rows() if not row.depth]

    def step(self, build_id: int, step_id: int) -> AnyStep:
        step = self.book.step(build_id, step_id)
        assert step is not None
        return step

    def amount(self, step_id: int, build_id: int = SIGNAL) -> Amount:
        amount = self.step(build_id, step_id).amount  # type: ignore[union-attr]
        assert isinstance(amount, Amount)
        return amount

    def go(self, key: Key, column: int = AMOUNT) -> None:
        assert self.sheet.tree.go_to(key, column)
        self.sheet.tree.setFocus()

    def type(self, text: str) -> None:
        """Types on whatever has the focus: the tree at first, then the field that has opened."""
        for letter in text:
            target = self.sheet.tree.editor or self.sheet.tree
            QTest.keyClicks(target, letter)
        QApplication.processEvents()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        QTest.keyClick(self.sheet.tree.editor or self.sheet.tree, key, held)
        QApplication.processEvents()
        QApplication.processEvents()

    def type_new_line(self, text: str) -> None:
        self.go(NEW_LINE_KEY, NAME)
        self.type(text)
        popup = self.editor.popup if hasattr(self.editor, "popup") else None
        if popup is not None and popup.isVisible():
            QTest.keyClick(popup, Qt.Key.Key_Escape)

    def click(self, key: Key, column: int) -> None:
        tree = self.sheet.tree
        rect = tree.visualRect(self.sheet.model.index_of(key, column))
        QTest.mouseClick(
            tree.viewport(),
            Qt.MouseButton.LeftButton,
            Qt.KeyboardModifier.NoModifier,
            rect.center() + QPoint(0, 0),
        )

    def labels(self) -> list[str]:
        return [entry.label for entry in self.document.history()]


@pytest.fixture
def make_bench(qtbot: QtBot) -> Iterator[Callable[..., Bench]]:
    """Makes a bench on a house book; the small house where none is given."""
    load_fonts()
    made: list[tuple[Bench, Bridge, QAbstractItemModelTester]] = []

    def make(
        book: HouseBook | None = None, build_id: int | None = SIGNAL, *, is_read_only: bool = False
    ) -> Bench:
        file = MemoryFile(book or house(), is_read_only=is_read_only)
        workings = Workings(file.book)
        results = StoredResults(file, workings, "test")
        document = Document(
            file, file.book, workings, results, lambda: datetime(2026, 11, 21, 12, tzinfo=UTC)
        )
        bridge = Bridge(document)
        session = Session(document, bridge)
        sheet = BuildSheet(session, Look(light_theme(), application_fonts(), Measures()))
        tester = QAbstractItemModelTester(
            sheet.model, QAbstractItemModelTester.FailureReportingMode.Fatal, sheet
        )
        qtbot.addWidget(sheet)
        sheet.resize(780, 720)
        session.show(build_id)
        with qtbot.waitExposed(sheet):
            sheet.show()
        sheet.tree.setFocus()
        QApplication.processEvents()
        bench = Bench(qtbot, file, document, session, sheet)
        made.append((bench, bridge, tester))
        return bench

    yield make
    for bench, bridge, _ in made:
        bridge.close()
        bench.sheet.close()
        QApplication.processEvents()


@pytest.fixture
def bench(make_bench: Callable[..., Bench]) -> Bench:
    """The sheet on *Pear Signal*."""
    return make_bench()
