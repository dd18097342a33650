"""The one object of the window that listens to the document, and tells the panels by a signal."""

from PySide6.QtCore import QObject, Signal

from washline.document.document import Document
from washline.document.notice import Changed


class Bridge(QObject):
    """Turns the document's notices into a signal; ``changed`` carries a ``Changed``.

    ``close`` ends the listening, after which the document may be closed.
    """

    changed = Signal(object)

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._unsubscribe = document.subscribe(self._pass_on)

    def _pass_on(self, changed: Changed) -> None:
        self.changed.emit(changed)

    def close(self) -> None:
        """Listens no more."""
        self._unsubscribe()
