"""The work that waits: results of the builds that are not on the screen, done in slices between two events."""

from time import perf_counter

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from washline.document.document import Document
from washline.document.notice import Changed
from washline.problem import UserError

SLICE_S = 0.008
FEWEST, MOST = 20, 5000
AFTER_A_FRAME_MS = 30
"""How long an edit waits for its frame before other work begins."""


class Background(QObject):
    """Calls ``Document.work_on`` while nobody types. ``progress`` carries how many are left and of how many."""

    progress = Signal(int, int)
    finished = Signal()

    def __init__(self, document: Document, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._most = 50
        self._whole = 0
        self._is_resting = False
        self._is_held = False
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._work)
        self._starter = QTimer(self)
        self._starter.setSingleShot(True)
        self._starter.setInterval(AFTER_A_FRAME_MS)
        self._starter.timeout.connect(self.start)

    @property
    def is_resting(self) -> bool:
        """Whether the person stopped it."""
        return self._is_resting

    @Slot()
    def start(self) -> None:
        """Goes on from now, until all is done."""
        if not self._is_resting and not self._is_held:
            self._timer.start()

    def hold(self, is_held: bool) -> None:
        """Waits while somebody types."""
        self._is_held = is_held
        if is_held:
            self._timer.stop()
        else:
            self.start()

    def toggle_rest(self) -> None:
        """Stops until asked to go on, or goes on. What is shown is computed all the same."""
        self._is_resting = not self._is_resting
        if self._is_resting:
            self._timer.stop()
        self.start()
        self._tell()

    def follow(self, changed: Changed) -> None:
        """A change brings new work, which waits until what is on the screen is painted, and ends a rest."""
        if changed.kind != "computed":
            self._is_resting = False
            self._whole = 0
            self._timer.stop()
            self._starter.start()

    def close(self) -> None:
        """Ends it."""
        self._starter.stop()
        self._timer.stop()

    @Slot()
    def _work(self) -> None:
        start = perf_counter()
        try:
            goes_on = self._document.work_on(self._most)
        except UserError:
            goes_on = False
        took = perf_counter() - start
        if took > 2 * SLICE_S:
            self._most = max(FEWEST, self._most // 2)
        elif took < SLICE_S / 2:
            self._most = min(MOST, self._most * 2)
        if not goes_on:
            self._timer.stop()
            self._whole = 0
            self.finished.emit()
        self._tell()

    def _tell(self) -> None:
        left = self._document.workings.pending
        self._whole = max(self._whole, left)
        self.progress.emit(left, self._whole)
