"""Two pairs of hands for one script: keys and pointer as Qt's test library makes them, or as an X server sends them."""

import subprocess
import time
from typing import Protocol

from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

QUIET_S = 0.025
"""What an X server sends has come in after so long."""


class Hands(Protocol):
    """Types, presses keys such as ``Ctrl+Z``, and clicks on a point of a widget."""

    def take_up(self, window: QWidget) -> None:
        """Gives the window the keyboard."""

    def type(self, text: str) -> None:
        """Types a text at the cursor."""

    def press(self, keys: str) -> None:
        """Presses one key, with those that are held."""

    def click(self, widget: QWidget, point: QPoint, times: int = 1) -> None:
        """Clicks once or twice."""


class SentEvents:
    """Hands that need no display. Keys go where they would: to the popup that is open, else to what has the focus."""

    def take_up(self, window: QWidget) -> None:
        window.activateWindow()

    def type(self, text: str) -> None:
        for letter in text:
            QTest.keyClicks(self._listener(), letter)
            QApplication.processEvents()

    def press(self, keys: str) -> None:
        combined = QKeySequence(keys)[0]  # type: ignore[index]
        QTest.keyClick(self._listener(), combined.key(), combined.keyboardModifiers())
        QApplication.processEvents()

    def click(self, widget: QWidget, point: QPoint, times: int = 1) -> None:
        window = widget.window().windowHandle()
        place = widget.mapTo(widget.window(), point)
        left, held = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
        QTest.mouseClick(window, left, held, place)
        if times == 2:
            QTest.mouseDClick(window, left, held, place)
        QApplication.processEvents()

    def _listener(self) -> QWidget:
        popup = QApplication.activePopupWidget()
        listener = (popup.focusWidget() or popup) if popup is not None else QApplication.focusWidget()
        assert listener is not None, "nothing has the keyboard"
        return listener


class RealEvents:
    """Hands outside the program: xdotool has the X server send keys and pointer."""

    _names = {"Esc": "Escape"}  # noqa: RUF012

    def take_up(self, window: QWidget) -> None:
        self._do("windowfocus", "--sync", str(int(window.winId())))

    def type(self, text: str) -> None:
        self._do("type", "--delay", "8", "--", text)

    def press(self, keys: str) -> None:
        *held, key = keys.split("+")
        name = self._names.get(key, key.lower() if len(key) == 1 else key)
        self._do("key", "+".join([*(word.lower() for word in held), name]))

    def click(self, widget: QWidget, point: QPoint, times: int = 1) -> None:
        # What has just been shown may still be on its way to its place.
        self._let_arrive()
        place, ratio = widget.mapToGlobal(point), widget.devicePixelRatioF()
        where = [str(round(place.x() * ratio)), str(round(place.y() * ratio))]
        self._do("mousemove", *where, "click", "--repeat", str(times), "--delay", "60", "1")

    def _do(self, *words: str) -> None:
        subprocess.run(["xdotool", *words], check=True, timeout=20)
        self._let_arrive()

    def _let_arrive(self) -> None:
        end = time.monotonic() + QUIET_S
        while time.monotonic() < end:
            QApplication.processEvents()
            time.sleep(0.002)
