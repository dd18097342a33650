"""How a house book comes into a window, and what stands there when it cannot."""

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.ui.window.conftest import now
from washline.document.house_files import make_demo
from washline.document.opening import open_document
from washline.document.places import Places
from washline.ui.appearance import Appearance
from washline.ui.main_window import MainWindow
from washline.ui.opening import ANOTHER, DEMO, RECOVER, Opening
from washline.ui.preferences import Preferences
from washline.ui.problem_page import ProblemPage
from washline.ui.window_commands import WindowCommands


class Desk:
    """Opens one window, and remembers what else was asked for."""

    def __init__(self, places: Places) -> None:
        self.places = places
        self.asked: list[tuple[Path, str]] = []

    def open_window(self, path: Path, new_name: str = "") -> MainWindow:
        self.asked.append((path, new_name))
        return self.window

    window: MainWindow


@pytest.fixture
def places(tmp_path: Path) -> Places:
    return Places(tmp_path / "data", tmp_path / "state", tmp_path / "cache")


@pytest.fixture
def start(qtbot: QtBot, look: Appearance, places: Places) -> Iterator[Callable[..., Opening]]:
    made: list[Opening] = []

    def begin(path: Path, new_name: str = "") -> Opening:
        window = MainWindow(look, Preferences())
        opening = Opening(window, path, places, new_name=new_name, clock=now)
        made.append(opening)
        window.show()
        qtbot.waitUntil(lambda: opening.workspace is not None or opening.has_failed, timeout=20_000)
        return opening

    yield begin
    for opening in made:
        opening.close()
        opening.window.close()
        opening.window.deleteLater()


def page_of(opening: Opening) -> ProblemPage:
    page = opening.window.regions.sheet.currentWidget()
    assert isinstance(page, ProblemPage)
    return page


def words_of(opening: Opening) -> str:
    return " ".join(words.text() for words in page_of(opening).words)


def press(opening: Opening, text: str) -> None:
    next(button for button in page_of(opening).buttons if button.text() == text).click()


def test_first_start_makes_the_demo_house_and_shows_it(start: Callable[..., Opening], places: Places) -> None:
    opening = start(places.demo_book)
    assert places.demo_book.is_file()
    assert opening.window.house.text() == "The Saltmarsh Rooms · demo house book"
    assert [path.name for path in places.demo_book.parent.iterdir() if path.suffix == ".housebook"] == [
        "The Saltmarsh Rooms.housebook"
    ]


def test_first_start_says_that_it_is_a_demo_with_one_click_to_an_own(
    start: Callable[..., Opening], places: Places
) -> None:
    opening = start(places.demo_book)
    assert "demo house" in opening.window.book.notice.text
    assert opening.window.book.notice.button.text() == "Start your own…"


def test_opened_book_is_the_first_of_the_recent_ones(start: Callable[..., Opening], places: Places) -> None:
    start(places.demo_book)
    assert places.recent.paths()[0] == places.demo_book


def test_own_house_book_is_made_empty_under_its_name(start: Callable[..., Opening], tmp_path: Path) -> None:
    opening = start(tmp_path / "Reed House.housebook", "Reed House")
    assert opening.workspace is not None
    assert opening.workspace.document.book.settings.house_name == "Reed House"
    assert list(opening.workspace.document.book.drinks()) == []
    assert len(opening.workspace.document.book.raws) == 324


def test_file_that_is_no_house_book_is_told_and_left_alone(
    start: Callable[..., Opening], tmp_path: Path
) -> None:
    path = tmp_path / "notes.housebook"
    path.write_text("not a book")
    opening = start(path)
    assert "is not a house book" in words_of(opening)
    assert path.read_text() == "not a book"
    assert [button.text() for button in page_of(opening).buttons] == [ANOTHER, DEMO]


def test_missing_file_is_told_with_its_place(start: Callable[..., Opening], tmp_path: Path) -> None:
    opening = start(tmp_path / "gone.housebook")
    assert "is not there" in words_of(opening)
    assert str(tmp_path) in words_of(opening)


def test_book_of_a_newer_version_is_told(
    start: Callable[..., Opening], tmp_path: Path, demo_file: Path
) -> None:
    path = tmp_path / "newer.housebook"
    path.write_bytes(demo_file.read_bytes())
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA user_version = 99")
    connection.commit()
    connection.close()
    opening = start(path)
    assert "newer version" in words_of(opening)


def test_damaged_book_is_recovered_beside_and_kept(
    start: Callable[..., Opening], tmp_path: Path, places: Places
) -> None:
    path = tmp_path / "book.housebook"
    make_demo(path, clock=now, backups=places.backups).close()
    document = open_document(path, clock=now, backups=places.backups)
    while document.work_on():
        pass
    document.close()
    whole = path.read_bytes()
    path.write_bytes(whole[:9000] + b"\xff" * 30_000 + whole[39_000:])
    damaged = path.read_bytes()
    opening = start(path)
    assert "damaged" in words_of(opening)
    press(opening, RECOVER)
    assert opening.workspace is not None
    assert opening.path.name == "book recovered.housebook"
    assert len(list(opening.workspace.document.book.drinks())) == 10
    assert path.read_bytes() == damaged


def test_problem_page_opens_the_demo_in_the_same_window(
    start: Callable[..., Opening], tmp_path: Path, places: Places, qtbot: QtBot
) -> None:
    opening = start(tmp_path / "gone.housebook")
    desk = Desk(places)
    desk.window = opening.window
    WindowCommands(desk, opening.window, opening)
    press(opening, DEMO)
    assert desk.asked == [(places.demo_book, "")]
    opening.turn_to(places.demo_book)
    qtbot.waitUntil(lambda: opening.workspace is not None, timeout=20_000)
    assert opening.window.regions.sheet.currentWidget() is not None
    assert not opening.has_failed


def test_new_book_never_takes_the_place_of_a_file(
    start: Callable[..., Opening], places: Places, tmp_path: Path
) -> None:
    opening = start(places.demo_book)
    desk = Desk(places)
    desk.window = opening.window
    commands = WindowCommands(desk, opening.window, opening)
    taken = tmp_path / "taken.housebook"
    taken.write_text("mine")
    commands.make_new(taken)
    assert desk.asked == []
    assert "is there already" in opening.window.banner.text
    assert taken.read_text() == "mine"


def test_recent_book_that_is_gone_is_taken_off_the_list(
    start: Callable[..., Opening], places: Places, tmp_path: Path
) -> None:
    opening = start(places.demo_book)
    desk = Desk(places)
    desk.window = opening.window
    WindowCommands(desk, opening.window, opening)
    lost = tmp_path / "lost.housebook"
    places.recent.add(lost)
    opening.window.menus.recent_asked.emit(str(lost))
    assert lost not in places.recent.paths()
    assert "is not there any more" in opening.window.banner.text


def test_recent_books_of_one_name_are_told_apart_by_folder(
    start: Callable[..., Opening], places: Places, tmp_path: Path
) -> None:
    opening = start(places.demo_book)
    desk = Desk(places)
    desk.window = opening.window
    for folder in ("north", "south"):
        places.recent.add(tmp_path / folder / "bar.housebook")
    WindowCommands(desk, opening.window, opening).refresh_recent()
    texts = [action.text() for action in opening.window.menus.recent.actions()]
    assert texts[:2] == ["bar – south", "bar – north"]


def test_list_of_the_last_closing_is_not_shown_for_a_file_that_was_changed_since(
    start: Callable[..., Opening], places: Places, look: Appearance, qapp: QApplication
) -> None:
    opening = start(places.demo_book)
    opening.keep_state()
    opening.close()
    places.demo_book.touch()
    window = MainWindow(look, Preferences())
    Opening(window, places.demo_book, places, clock=now)
    assert window.book.views[next(iter(window.book.views))].rows.rowCount() == 0
    window.deleteLater()
