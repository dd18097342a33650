"""The end of today's fruit: what was shifted until a time falls back to the table, also while the window is open."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from washline.document.commands.today import expire_today, over, over_label
from washline.document.document import Document
from washline.problem import UserError

EVERY_MS = 60_000
"""A look a minute finds the end also after the machine has slept."""


class TodayWatch(QObject):
    """Drops the shifts that are over, as a change that can be undone. ``said`` tells of it, ``failed`` why it could not be
    written."""

    said = Signal(str)
    failed = Signal(str)

    def __init__(
        self, document: Document, clock: Callable[[], datetime], parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._document, self._clock = document, clock
        self._timer = QTimer(self)
        self._timer.setInterval(EVERY_MS)
        self._timer.timeout.connect(self.look)

    def start(self) -> None:
        """Looks now, and each minute from now on."""
        self._timer.start()
        self.look()

    def close(self) -> None:
        """Ends it."""
        self._timer.stop()

    @Slot()
    def look(self) -> None:
        """Drops what is over."""
        now = self._clock()
        gone = () if self._document.is_read_only else over(self._document.book, now)
        if not gone:
            return
        label = over_label(gone)
        try:
            self._document.do(expire_today(now), label, self)
        except UserError as problem:
            self._timer.stop()
            self.failed.emit(problem.what)
            return
        self.said.emit(f"{label[:1].upper()}{label[1:]}: the table holds again.")
