"""The moment after a paint."""

import pytest
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from washline.ui.after_paint import AfterPaint


class Sheet(QWidget):
    def __init__(self, said: list[str]) -> None:
        super().__init__()
        self.said = said

    def paintEvent(self, event: QPaintEvent) -> None:
        self.said.append("painted")


@pytest.fixture
def said() -> list[str]:
    return []


@pytest.fixture
def sheet(qtbot: QtBot, said: list[str]) -> Sheet:
    sheet = Sheet(said)
    qtbot.addWidget(sheet)
    sheet.show()
    qtbot.waitExposed(sheet)
    QApplication.processEvents()
    said.clear()
    return sheet


@pytest.fixture
def moment(qapp: QApplication, said: list[str]) -> AfterPaint:
    moment = AfterPaint()
    moment.passed.connect(lambda: said.append("passed"))
    return moment


def test_what_was_to_be_painted_is_painted_before(sheet: Sheet, moment: AfterPaint, said: list[str]) -> None:
    moment.wait()
    sheet.update()
    QApplication.processEvents()
    assert said == ["painted", "passed"]


def test_nothing_is_said_in_the_event_that_asks(moment: AfterPaint, said: list[str]) -> None:
    moment.wait()
    assert said == []
    QApplication.processEvents()
    assert said == ["passed"]


def test_it_is_said_once_however_often_it_was_asked_for(moment: AfterPaint, said: list[str]) -> None:
    moment.wait()
    moment.wait()
    QApplication.processEvents()
    assert said == ["passed"]


def test_it_can_be_asked_for_again(moment: AfterPaint, said: list[str]) -> None:
    for _ in range(2):
        moment.wait()
        QApplication.processEvents()
    assert said == ["passed", "passed"]


def test_nothing_is_said_after_the_end(moment: AfterPaint, said: list[str]) -> None:
    moment.wait()
    moment.close()
    QApplication.processEvents()
    moment.wait()
    QApplication.processEvents()
    assert said == []
