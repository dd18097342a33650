"""A person at the program: looks at what is visible, and works it by keys and pointer alone."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol, TypeVar

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QFileDialog,
    QLabel,
    QLineEdit,
    QMenu,
    QMenuBar,
    QWidget,
)

from tests.document.bytes import bytes_of
from tests.journeys.hands import Hands
from washline.document.document import Document
from washline.document.places import Places
from washline.model.item import Build
from washline.presentation.build_rows import BuildRow
from washline.store import HouseBookFile
from washline.ui.application import Program
from washline.ui.build.columns import AMOUNT, NAME
from washline.ui.build.editors import CellEditor, NameEditor
from washline.ui.build.sheet import BuildSheet
from washline.ui.main_window import MainWindow
from washline.ui.opening import Opening
from washline.ui.session import View
from washline.ui.workspace import Workspace

W = TypeVar("W", bound=QWidget)
LONGEST_MS = 10_000
SIZE = (1380, 860)


class Waiter(Protocol):
    """Lets the program run meanwhile."""

    def waitUntil(self, callback: Callable[[], bool | None], *, timeout: int = ...) -> None:
        """Waits for a condition; raises after so many milliseconds."""

    def wait(self, ms: int) -> None:
        """Waits so long."""


@dataclass
class Person:
    """Starts the program, looks, types, clicks, leaves it again."""

    waiter: Waiter
    hands: Hands
    places: Places
    programs: list[Program] = field(default_factory=list)

    # Starting and leaving

    def start(self, *files: Path) -> None:
        """Starts the program and waits until a house book is open, or the window says why none is."""
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        program = Program(application, self.places)
        self.programs.append(program)
        program.open_first(list(files))
        self.take_window()

    def take_window(self) -> None:
        """Waits for the window that has come last, gives it room and the keyboard."""
        window = self.window
        # The screen of the platform without a display is so small that the list would be a rail.
        window.resize(*SIZE)
        self.see(lambda: self.opening.workspace is not None or self.opening.has_failed)
        self.see(lambda: window.windowHandle() is not None and window.windowHandle().isExposed())
        self.hands.take_up(window)
        self.see(window.isActiveWindow)

    def leave(self) -> None:
        """Quits by the menu's key, as a person does, and lets the program go."""
        self.hands.press("Ctrl+Q")
        self.see(lambda: not self.programs[-1].windows)
        self.drop_program()

    def drop_program(self) -> None:
        """Ends what is left of a program."""
        program = self.programs.pop()
        program.close()
        program.preferences.flush()
        program.deleteLater()
        self.waiter.wait(1)

    @property
    def window(self) -> MainWindow:
        """The window that was opened last."""
        return self.programs[-1].windows[-1]

    @property
    def opening(self) -> Opening:
        """How its house book came into it."""
        return self.programs[-1].opening_of(self.window)

    @property
    def workspace(self) -> Workspace:
        """The open house book in its window."""
        workspace = self.opening.workspace
        assert workspace is not None
        return workspace

    @property
    def document(self) -> Document:
        """The open house book."""
        return self.workspace.document

    @property
    def sheet(self) -> BuildSheet:
        """The build sheet."""
        return self.workspace.sheet

    # Looking

    def see(self, condition: Callable[[], object]) -> None:
        """Waits until something has happened, or fails."""
        self.waiter.waitUntil(lambda: bool(condition()), timeout=LONGEST_MS)

    def settle(self) -> None:
        """Waits until nothing is computed or written any more in the background."""
        self.see(
            lambda: not self.document.workings.pending and not self.workspace.background._timer.isActive()
        )

    def all_of(self, kind: type[W], ground: QWidget | None = None) -> list[W]:
        """The visible widgets of a kind."""
        return [one for one in (ground or self.window).findChildren(kind) if one.isVisible()]

    def texts(self) -> str:
        """All words that stand in visible labels and fields."""
        labels = [one.text() for one in self.all_of(QLabel)]
        return "\n".join([*labels, *(one.text() for one in self.all_of(QLineEdit))])

    @property
    def view(self) -> View:
        """What the panels show."""
        view = self.workspace.session.view
        assert view is not None
        return view

    @property
    def build(self) -> Build:
        """The drink or part on the sheet, as it is kept."""
        return self.document.book.builds[self.view.build.id]

    def row(self, name: str) -> BuildRow:
        """The row of the tree that begins with a name."""
        return next(row for row in self.sheet.model.rows() if row.name.lower().startswith(name.lower()))

    def amount(self, name: str) -> str:
        """The amount of a row as it is written there."""
        row = self.row(name)
        return f"{row.amount} {row.unit}".strip()

    def readings(self) -> dict[str, str]:
        """The figures of the balance pane by the key of the reading."""
        shown = self.workspace.balance.table.balance
        return {row.key: row.figure.number for row in shown.rows} | {
            row.key: row.number for row in shown.plain
        }

    @property
    def editor(self) -> CellEditor:
        """The field that is open in the tree."""
        editor = self.sheet.tree.editor
        assert editor is not None
        return editor

    @property
    def proposals(self) -> list[str]:
        """What is offered under the name that is being typed."""
        editor = self.editor
        assert isinstance(editor, NameEditor)
        return [proposal.text for proposal in editor.proposals] if editor.popup.isVisible() else []

    @property
    def labels(self) -> list[str]:
        """The history, newest first, without the entry that made the book."""
        return [entry.label for entry in self.document.history()][:-1]

    # Working

    def click(self, widget: QWidget) -> None:
        """Clicks on the middle of a widget."""
        self.hands.click(widget, widget.rect().center())

    def press_button(self, text: str) -> None:
        """Clicks on the visible button with this text."""
        self.see(lambda: self._buttons(text))
        button = self._buttons(text)[0]
        assert button.isEnabled(), text
        self.click(button)

    def _buttons(self, text: str) -> list[QAbstractButton]:
        return [one for one in self.all_of(QAbstractButton) if plain(one.text()) == text]

    def choose(self, *texts: str) -> None:
        """Clicks through the menu bar: the menu, then its entries by the beginning of their words."""
        bar: QMenuBar | QMenu = self.window.menuBar()
        for text in texts:
            action = next(one for one in bar.actions() if plain(one.text()).startswith(text))
            assert action.isEnabled(), text
            self.hands.click(bar, bar.actionGeometry(action).center())
            menu = action.menu()
            if isinstance(menu, QMenu):
                self.see(menu.isVisible)
                bar = menu

    def find(self, text: str) -> None:
        """Types into Find and opens the first that is found."""
        self.hands.press("Ctrl+F")
        self.see(self.window.book.field.hasFocus)
        self.hands.type(text)
        self.see(lambda: self.window.book.field.text() == text)
        self.hands.press("Return")
        self.see(self.sheet.tree.hasFocus)

    def clear_find(self) -> None:
        """Empties Find, as Esc does in it, and goes back to the sheet."""
        self.hands.press("Ctrl+F")
        self.see(self.window.book.field.hasFocus)
        self.hands.press("Esc")
        self.see(lambda: not self.window.book.field.text())
        self.hands.press("Esc")
        self.see(lambda: not self.window.book.field.hasFocus())

    def walk_to(self, name: str, column: int = AMOUNT) -> None:
        """Goes to a row of the tree with the arrow keys, from wherever the cursor stands."""
        tree = self.sheet.tree
        assert tree.hasFocus()
        rows = [row.key for row in self.sheet.model.rows()]
        current = tree.current_row()
        assert current is not None
        steps = rows.index(self.row(name).key) - rows.index(current.key)
        for _ in range(abs(steps)):
            self._press_arrow("Down" if steps > 0 else "Up")
        for _ in range(abs(column - tree.currentIndex().column())):
            self.hands.press("Right" if column > tree.currentIndex().column() else "Left")
        self.see(lambda: tree.currentIndex().column() == column)
        row = tree.current_row()
        assert row is not None
        assert row.name.lower().startswith(name.lower())

    def _press_arrow(self, key: str) -> None:
        before = self.sheet.tree.currentIndex()
        self.hands.press(key)
        self.see(lambda: self.sheet.tree.currentIndex() != before)

    def click_row(self, name: str, column: int = AMOUNT) -> None:
        """Clicks on a cell of the tree."""
        tree = self.sheet.tree
        index = self.sheet.model.index_of(self.row(name).key, column)
        self.hands.click(tree.viewport(), tree.visualRect(index).center())
        self.see(lambda: tree.hasFocus() and tree.currentIndex() == index)

    def open_part(self, name: str) -> None:
        """Opens a house-made part inside the drink, by the key Right on its name."""
        self.walk_to(name, NAME)
        self.hands.press("Right")
        self.see(lambda: self.sheet.tree.isExpanded(self.sheet.tree.currentIndex()))

    def type_amount(self, name: str, text: str) -> None:
        """Types over the amount of a row; nothing is kept before Enter."""
        self.walk_to(name)
        self.hands.type(text)
        self.see(lambda: self.sheet.tree.is_editing and self.editor.text() == text)

    def keep(self) -> None:
        """Presses Enter in the field of the tree."""
        self.hands.press("Return")
        self.see(lambda: not self.sheet.tree.is_editing)

    @contextmanager
    def answering_file_dialog(self, path: Path) -> Iterator[None]:
        """While something is done that asks for a file: types its path into the dialog, and presses Enter."""
        asked: list[str] = []
        timer = QTimer()
        timer.setInterval(30)

        def answer() -> None:
            dialog = QApplication.activeModalWidget()
            if isinstance(dialog, QFileDialog) and dialog.isActiveWindow() and not asked:
                asked.append(dialog.windowTitle())
                timer.stop()
                self.hands.press("Ctrl+A")
                self.hands.type(str(path))
                self.hands.press("Return")

        timer.timeout.connect(answer)
        timer.start()
        try:
            yield
            self.see(lambda: asked)
        finally:
            timer.stop()
        # What the desktop's window manager does when a dialog has closed.
        self.hands.take_up(self.window)
        self.see(self.window.isActiveWindow)


def plain(text: str) -> str:
    """A text without the marks of its keys."""
    return text.replace("&&", "\0").replace("&", "").replace("\0", "&")


def kept_rows(path: Path) -> bytes:
    """All rows that a house book holds on disk, in order."""
    file = HouseBookFile.open(path, read_only=True)
    try:
        return bytes_of(file.load())
    finally:
        file.close()
