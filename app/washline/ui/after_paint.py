"""The moment after a paint: what can wait for it does, so that an edit is on the screen first."""

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, Signal

_TURN = QEvent.Type(QEvent.registerEventType())
# Qt paints from a posted event of low priority; what is posted behind it finds the window painted.
_BEHIND_PAINTING = Qt.EventPriority.LowEventPriority.value - 1


class AfterPaint(QObject):
    """``passed`` is emitted once all that was to be painted when ``wait`` was called is painted.

    Any number of calls before that moment are answered once. ``close`` ends it: nothing is emitted any more.
    """

    passed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._is_waiting = False
        self._is_closed = False

    def wait(self) -> None:
        """Asks for the moment after the next paint."""
        if not self._is_waiting and not self._is_closed:
            self._is_waiting = True
            QCoreApplication.postEvent(self, QEvent(_TURN), _BEHIND_PAINTING)

    def close(self) -> None:
        """Ends it."""
        self._is_closed = True

    def customEvent(self, event: QEvent) -> None:
        self._is_waiting = False
        if not self._is_closed:
            self.passed.emit()
