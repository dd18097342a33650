"""The program, worked by a person who types one amount after another until it is killed. Run as a module.

It says on its output what is acknowledged: the history's length and the amount, as soon as the window shows it as kept.
"""

import itertools
import os
import sys
import time
import traceback
from collections.abc import Callable

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from tests.journeys.driver import Person
from tests.journeys.hands import SentEvents
from washline.document.places import user_places
from washline.ui.application import WashlineApplication, name_application

LINE = "Vermouth"


class Patience:
    """Waits as the tests' own helper does."""

    def waitUntil(self, callback: Callable[[], bool | None], *, timeout: int = 5_000) -> None:
        end = time.monotonic() + timeout / 1000
        while not callback():
            assert time.monotonic() < end, "waited too long"
            QApplication.processEvents()

    def wait(self, ms: int) -> None:
        time.sleep(ms / 1000)


def work() -> None:
    """Types until it is killed; where that fails the program ends, for nobody would be told otherwise."""
    try:
        type_on()
    finally:
        traceback.print_exc()
        sys.stderr.flush()
        os._exit(1)


def type_on() -> None:
    """One amount after another."""
    person = Person(Patience(), SentEvents(), user_places())
    person.start()
    person.find("pear signal")
    for number in itertools.count(len(person.labels)):
        amount = f"{20 + number % 50}.5 ml"
        person.type_amount(LINE, amount)
        person.keep()
        assert person.amount(LINE) == amount
        print(len(person.labels), amount, flush=True)


if __name__ == "__main__":
    application = WashlineApplication([sys.argv[0]])
    name_application(application)
    QTimer.singleShot(0, work)
    sys.exit(application.exec())
