"""The commands that concern files and the program: new, open, recent, quit, about. They work before a book is open."""

import os
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QObject, QStandardPaths, Slot
from PySide6.QtWidgets import QApplication, QFileDialog

from washline.document.places import Places
from washline.ui.main_window import MainWindow
from washline.ui.opening import Opening

HOUSE_BOOKS = "House books (*.housebook)"
CLEAR = ""
_NO_QUESTION = QFileDialog.Option.DontConfirmOverwrite


class Windows(Protocol):
    """Who opens windows."""

    @property
    def places(self) -> Places:
        """Where things of the user are kept."""

    def open_window(self, path: Path, new_name: str = "") -> MainWindow:
        """A window on a house book."""


class WindowCommands(QObject):
    """Connects the commands of one window's House book and Help menus."""

    def __init__(self, windows: Windows, window: MainWindow, opening: Opening) -> None:
        super().__init__(window)
        self._windows = windows
        self._window = window
        self._opening = opening
        actions = window.menus.actions
        actions["new_book"].triggered.connect(self._new)
        actions["open_book"].triggered.connect(self._open)
        actions["quit"].triggered.connect(self._quit)
        window.menus.recent_asked.connect(self._open_recent)
        window.menus.recent.aboutToShow.connect(self.refresh_recent)
        window.files_dropped.connect(self._drop)
        opening.another_asked.connect(self._open)
        opening.demo_asked.connect(self._open_demo)

    @Slot()
    def refresh_recent(self) -> None:
        """The house books opened last; those of the same name are told apart by their folder. Whether a file is there
        is not looked at before it is chosen: a lost network folder would hold up the menu."""
        paths = self._windows.places.recent.paths()
        names = [path.stem for path in paths]
        entries = []
        for path in paths:
            is_double = names.count(path.stem) > 1
            entries.append((f"{path.stem} – {path.parent.name}" if is_double else path.stem, str(path)))
        if entries:
            entries.append(("Forget these", CLEAR))
        self._window.menus.set_recent(entries)

    @Slot(str)
    def _open_recent(self, path: str) -> None:
        recent = self._windows.places.recent
        if not path:
            recent.clear()
            self.refresh_recent()
            return
        if not os.path.exists(path):
            recent.remove(Path(path))
            self._window.say_problem(f"“{Path(path).name}” is not there any more. It was taken off the list.")
            return
        self._windows.open_window(Path(path))

    @Slot()
    def _open(self) -> None:
        path, _ = QFileDialog.getOpenFileName(
            self._window, "Open a house book", self._folder(), f"{HOUSE_BOOKS};;All files (*)"
        )
        if path:
            self._windows.open_window(Path(path).resolve())

    @Slot()
    def _open_demo(self) -> None:
        self._windows.open_window(self._windows.places.demo_book)

    @Slot()
    def _new(self) -> None:
        wish = str(Path(self._folder()) / "My house.housebook")
        chosen, _ = QFileDialog.getSaveFileName(
            self._window, "New house book", wish, HOUSE_BOOKS, options=_NO_QUESTION
        )
        if not chosen:
            return
        path = Path(chosen)
        if path.suffix != ".housebook":
            path = path.with_name(f"{path.name}.housebook")
        self.make_new(path)

    def make_new(self, path: Path) -> None:
        """Makes a house book of one's own and opens it; a file that is there is never overwritten."""
        if path.exists():
            self._window.say_problem(
                f"“{path.name}” is there already. Choose another name for the new house book."
            )
            return
        self._windows.open_window(path.resolve(), new_name=path.stem)

    def _folder(self) -> str:
        return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)

    @Slot(object)
    def _drop(self, paths: list[Path]) -> None:
        for path in paths:
            if path.name.lower().endswith(".json"):
                self._opening.import_later(path)
            else:
                self._windows.open_window(path.resolve())

    @Slot()
    def _quit(self) -> None:
        QApplication.closeAllWindows()
