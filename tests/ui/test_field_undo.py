"""Undo in a field: its own while something was typed there, else the house book's."""

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLineEdit, QMainWindow
from pytestqt.qtbot import QtBot

from washline.ui.appearance import Appearance
from washline.ui.balance.aim_row import EdgeField
from washline.ui.balance.target_sheet import TargetName
from washline.ui.build.editors import CellEditor
from washline.ui.build.look import Look
from washline.ui.build.title import TitleEdit
from washline.ui.fonts import application_fonts, load_fonts
from washline.ui.measures import Measures
from washline.ui.theme import light_theme


@pytest.fixture
def window(qtbot: QtBot) -> Iterator[QMainWindow]:
    load_fonts()
    window = QMainWindow()
    qtbot.addWidget(window)
    yield window
    window.close()


def title(window: QMainWindow) -> QLineEdit:
    return TitleEdit(Look(light_theme(), application_fonts(), Measures()), window)


def cell(window: QMainWindow) -> QLineEdit:
    return CellEditor(Look(light_theme(), application_fonts(), Measures()), window)


def edge(window: QMainWindow) -> QLineEdit:
    return EdgeField(Appearance(light_theme(), application_fonts(), Measures()), window)


def target_name(window: QMainWindow) -> QLineEdit:
    return TargetName(window)


@pytest.mark.parametrize("make", [title, cell, edge, target_name])
def test_undo_is_the_books_until_something_is_typed_and_redo_too(
    qtbot: QtBot, window: QMainWindow, make: Callable[[QMainWindow], QLineEdit]
) -> None:
    asked: list[str] = []
    for name, standard in (("undo", QKeySequence.StandardKey.Undo), ("redo", QKeySequence.StandardKey.Redo)):
        action = QAction(name, window)
        action.setShortcuts(standard)
        action.triggered.connect(lambda _=False, name=name: asked.append(name))
        window.addAction(action)
    field = make(window)
    window.setCentralWidget(field)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    field.setFocus()
    QTest.keySequence(field, QKeySequence("Ctrl+Z"))
    QTest.keySequence(field, QKeySequence("Ctrl+Shift+Z"))
    assert asked == ["undo", "redo"]
    QTest.keyClicks(field, "7")
    QTest.keySequence(field, QKeySequence("Ctrl+Z"))
    QApplication.processEvents()
    assert (field.text(), asked) == ("", ["undo", "redo"])
