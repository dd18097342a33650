"""How a house book comes into a window: first the window as it was left, then what is needed to read the book, then it."""

import hashlib
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from washline.document.places import Places
from washline.presentation.book_rows import LastList, read_last_list, write_last_list
from washline.problem import UserError
from washline.ui.appearance import Appearance
from washline.ui.main_window import MainWindow
from washline.ui.problem_page import ProblemPage

if TYPE_CHECKING:
    from washline.document.document import Document
    from washline.ui.workspace import Workspace

LOADED_IN_TURN = ("numpy", "washline.document.house_files", "pyqtgraph", "washline.ui.book_commands")
"""What a house book needs and the first paint does not: loaded one after the other, with room for events between."""

RECOVER, ANOTHER, DEMO = "Recover it", "Open another…", "Open the demo house book"


def utc_now() -> datetime:
    """The present moment in UTC."""
    return datetime.now(UTC)


class Opening(QObject):
    """Opens one house book in one window. ``ready`` carries the workspace, ``failed`` the problem.

    With ``new_name`` the book is made there first.
    """

    ready = Signal(object)
    failed = Signal(object)
    another_asked = Signal()
    demo_asked = Signal()

    def __init__(
        self,
        window: MainWindow,
        path: Path,
        places: Places,
        *,
        new_name: str = "",
        clock: Callable[[], datetime] = utc_now,
    ) -> None:
        super().__init__(window)
        self.window = window
        self.path = path
        self.workspace: Workspace | None = None
        self._places = places
        self._new_name = new_name
        self._clock = clock
        self._to_load = list(LOADED_IN_TURN)
        self._imports: list[Path] = []
        self._is_closed = False
        self._page: ProblemPage | None = None
        self._show_last()
        window.painted.connect(self.go_on)
        window.leaving.connect(self.keep_state)

    @property
    def has_failed(self) -> bool:
        """Whether the window has no house book, and says why."""
        return self._page is not None

    def _show_last(self) -> None:
        """The list as it was left, if the file has not been touched since."""
        with suppress(OSError):
            last = read_last_list(self._cache.read_bytes())
            if last is not None and _stamp(self.path) == (last.size, last.modified_ns):
                self.window.show_last(last)

    @property
    def _cache(self) -> Path:
        mark = hashlib.sha1(str(self.path).encode(), usedforsecurity=False).hexdigest()[:16]
        return self._places.cache / f"list-{mark}"

    @Slot()
    def go_on(self) -> None:
        """Loads the next of what is needed, then opens the house book."""
        if self._is_closed:
            return
        if self._to_load:
            import_module(self._to_load.pop(0))
            QTimer.singleShot(0, self, self.go_on)
            return
        if self._is_to_make:
            self.window.status.set_kept("Making the house book…")
        QTimer.singleShot(0, self, self._open)

    @property
    def _is_to_make(self) -> bool:
        return bool(self._new_name) or (self.path == self._places.demo_book and not self.path.exists())

    @Slot()
    def _open(self) -> None:
        if self._is_closed:
            return
        try:
            document = self._document()
        except UserError as problem:
            self._show_problem(problem)
            return
        self._set_up(document)

    def _document(self) -> "Document":
        files: Any = import_module("washline.document.house_files")
        opening: Any = import_module("washline.document.opening")
        where = {"clock": self._clock, "backups": self._places.backups}
        document: Document
        if self._new_name:
            document = files.make_own(self.path, self._new_name, **where)
            self._new_name = ""
        elif self._is_to_make:
            document = files.make_demo(self.path, **where)
        else:
            document = opening.open_document(self.path, **where)
        return document

    def _set_up(self, document: "Document") -> None:
        desk: Any = import_module("washline.ui.book_commands")
        self._take_page_away()
        world = desk.Surroundings(self._clock, self._places)
        self.workspace = desk.furnish(self.window, document, world)
        self.workspace.demo_asked.connect(self.demo_asked)
        self._places.recent.add(self.path)
        self.ready.emit(self.workspace)
        for path in self._imports:
            self.workspace.import_file(path)
        self._imports.clear()

    def import_later(self, path: Path) -> None:
        """Takes a build file into the house book as soon as that is open."""
        if self.workspace is not None:
            self.workspace.import_file(path)
        else:
            self._imports.append(path)

    # Problems

    def _show_problem(self, problem: UserError) -> None:
        """Says in the window what is wrong and what can be done; the file is not touched."""
        self._take_page_away()
        is_damaged = type(problem).__name__ == "DamagedHouseBook"
        buttons = [RECOVER] if is_damaged else []
        buttons.append(ANOTHER)
        if self.path != self._places.demo_book:
            buttons.append(DEMO)
        self._page = ProblemPage(self.window.look, problem, buttons)
        self._page.pressed.connect(self._answer)
        self.window.regions.sheet.addWidget(self._page)
        self.window.regions.sheet.setCurrentWidget(self._page)
        self.window.regions.show_balance(False)
        self.window.status.set_kept("No house book is open", "alert")
        self.window.set_house("", is_demo=False)
        self.failed.emit(problem)

    def _take_page_away(self) -> None:
        if self._page is not None:
            self.window.regions.sheet.removeWidget(self._page)
            self._page.deleteLater()
            self._page = None

    @Slot(str)
    def _answer(self, button: str) -> None:
        if button == RECOVER:
            self._recover()
        elif button == ANOTHER:
            self.another_asked.emit()
        else:
            self.demo_asked.emit()

    def _recover(self) -> None:
        files: Any = import_module("washline.document.house_files")
        try:
            self.path, words = files.recovered(self.path, clock=self._clock, backups=self._places.backups)
        except UserError as problem:
            self._show_problem(problem)
            return
        self._open()
        self.window.banner.say(words)

    def turn_to(self, path: Path, new_name: str = "") -> None:
        """Opens another house book in this window, where none is open."""
        self.path, self._new_name = path, new_name
        self.go_on()

    # Look and end

    def set_appearance(self, look: Appearance) -> None:
        """Takes another theme, text size or density."""
        if self.workspace is not None:
            self.workspace.set_appearance(look)
        if self._page is not None:
            self._page.set_appearance(look)

    @Slot()
    def keep_state(self) -> None:
        """Writes down how the house book stands in its window, and the list for the next start."""
        if self.workspace is None:
            return
        self.workspace.keep_state()
        stamp = _stamp(self.path)
        if stamp is None:
            return
        settings = self.workspace.document.book.settings
        last = LastList(
            str(self.path),
            *stamp,
            settings.house_name,
            settings.is_demo,
            self.window.book.kept_sections(),
            self.workspace.shown,
        )
        # The next start can do without it.
        with suppress(OSError):
            self._cache.parent.mkdir(parents=True, exist_ok=True)
            self._cache.write_bytes(write_last_list(last))

    def close(self) -> None:
        """Lets go of the house book."""
        self._is_closed = True
        if self.workspace is not None:
            self.workspace.close()
            self.workspace = None


def _stamp(path: Path) -> tuple[int, int] | None:
    """Size and time of a file, by which a change is seen."""
    try:
        status = path.stat()
    except OSError:
        return None
    return status.st_size, status.st_mtime_ns
