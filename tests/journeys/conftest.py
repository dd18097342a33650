"""A person in front of a program that starts on a fresh home, with one of two pairs of hands."""

import gc
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QLocale
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from tests.journeys.driver import Person
from tests.journeys.hands import Hands, RealEvents, SentEvents
from washline.document.house_files import make_demo
from washline.document.places import Places
from washline.ui.opening import utc_now


@pytest.fixture(params=["sent", pytest.param("real", marks=pytest.mark.display)])
def hands(request: pytest.FixtureRequest) -> Hands:
    return SentEvents() if request.param == "sent" else RealEvents()


@pytest.fixture
def look_of_the_application(qapp: QApplication) -> Iterator[None]:
    """The program sets fonts and colours for the whole application; the next test finds those of before."""
    font, palette, style, locale = qapp.font(), qapp.palette(), qapp.style().name(), QLocale()
    yield
    qapp.setFont(font)
    qapp.setPalette(palette)
    qapp.setStyle(style)
    QLocale.setDefault(locale)
    QGuiApplication.styleHints().unsetColorScheme()
    gc.unfreeze()


@pytest.fixture
def make_person(
    qtbot: QtBot, hands: Hands, look_of_the_application: None, tmp_path: Path
) -> Iterator[Callable[[], Person]]:
    people: list[Person] = []

    def make() -> Person:
        home = tmp_path / "home"
        folders = (home / kind / "washline" for kind in ("data", "state", "cache"))
        person = Person(qtbot, hands, Places(*folders))
        people.append(person)
        return person

    yield make
    for person in people:
        while person.programs:
            person.drop_program()


@pytest.fixture
def newcomer(make_person: Callable[[], Person]) -> Person:
    """Has started the program for the first time: the demo's house book was made and is open."""
    one = make_person()
    one.start()
    one.settle()
    return one


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's house book, made once."""
    path = tmp_path_factory.mktemp("demo") / "demo.housebook"
    make_demo(path, clock=utc_now, backups=path.parent / "backups").close()
    return path


@pytest.fixture
def person(make_person: Callable[[], Person], demo_file: Path) -> Person:
    """Has started the program on the demo's house book, in which nothing was done yet."""
    one = make_person()
    one.places.demo_book.parent.mkdir(parents=True)
    shutil.copy(demo_file, one.places.demo_book)
    one.start()
    one.settle()
    return one
