"""A whole window on a copy of the demo's house book, without an event loop of its own."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from washline.document.document import Document
from washline.document.house_files import make_demo
from washline.document.opening import open_document
from washline.document.places import Places
from washline.model.item import Build
from washline.presentation.book_rows import Section
from washline.ui.appearance import Appearance
from washline.ui.book_commands import Surroundings, furnish
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.main_window import MainWindow
from washline.ui.measures import Measures
from washline.ui.preferences import Preferences
from washline.ui.theme import light_theme
from washline.ui.workspace import Workspace


def now() -> datetime:
    return datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's house book, made once."""
    path = tmp_path_factory.mktemp("demo") / "demo.housebook"
    make_demo(path, clock=now, backups=path.parent / "backups").close()
    return path


@pytest.fixture(scope="session")
def look(qapp: QApplication) -> Appearance:
    load_fonts()
    return Appearance(light_theme(), application_fonts(), Measures(), is_calm=True)


@dataclass
class Room:
    """A shown window with its open house book."""

    qtbot: QtBot
    window: MainWindow
    workspace: Workspace
    places: Places

    @property
    def document(self) -> Document:
        return self.workspace.document

    def build(self, name: str) -> Build:
        return next(build for build in self.document.book.builds.values() if build.name == name)

    def names(self, section: Section) -> list[str]:
        rows = self.window.book.views[section].rows
        return [str(rows.index(number).data()) for number in range(rows.rowCount())]

    def trigger(self, name: str) -> None:
        action = self.window.menus.actions[name]
        assert action.isEnabled(), name
        action.trigger()

    def type(self, widget: QWidget, text: str) -> None:
        QTest.keyClicks(widget, text)

    def settle(self) -> None:
        """Lets what waits in the background come to its end."""
        self.qtbot.waitUntil(lambda: not self.document.workings.pending, timeout=10_000)


@pytest.fixture
def open_room(
    qtbot: QtBot, look: Appearance, demo_file: Path, tmp_path: Path
) -> Iterator[Callable[..., Room]]:
    rooms: list[Room] = []

    def make(path: Path | None = None) -> Room:
        if path is None:
            path = tmp_path / "The Saltmarsh Rooms.housebook"
            if not path.exists():
                shutil.copy(demo_file, path)
        places = Places(tmp_path / "data", tmp_path / "state", tmp_path / "cache")
        window = MainWindow(look, Preferences())
        document = open_document(path, clock=now, backups=places.backups)
        workspace = furnish(window, document, Surroundings(now, places))
        window.resize(1440, 900)
        window.show()
        qtbot.waitExposed(window)
        room = Room(qtbot, window, workspace, places)
        rooms.append(room)
        return room

    yield make
    for room in rooms:
        room.workspace.close()
        room.window.preferences.setParent(None)
        room.window.close()
        room.window.deleteLater()


@pytest.fixture
def room(open_room: Callable[..., Room]) -> Room:
    return open_room()
