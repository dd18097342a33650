"""The cards of all drinks, one after another between other work, so that the window stays alive and can stop it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from washline.presentation.card import Card
from washline.problem import UserError
from washline.quantity.names import safe_file_name
from washline.ui.papers.page import Page
from washline.ui.papers.printing import write_pdf

CardOf = Callable[[int], Card | None]
"""The card of a drink by its id; ``None`` for one that is gone."""


@dataclass
class Outcome:
    """What came of a batch: files written, names left as they were, what could not be written, and whether it was
    stopped."""

    written: int = 0
    skipped: int = 0
    problems: list[str] = field(default_factory=list)
    is_stopped: bool = False

    @property
    def words(self) -> str:
        """The outcome in sentences."""
        parts = [f"{self.written} {'card' if self.written == 1 else 'cards'} written."]
        if self.skipped:
            parts.append(f"{self.skipped} left as they were.")
        if self.is_stopped:
            parts.append("Stopped; every file is whole.")
        return " ".join([*parts, *self.problems])


@dataclass(frozen=True, slots=True)
class Job:
    """A drink and the file of its card."""

    build_id: int
    name: str
    path: Path


def jobs_for(names: Sequence[tuple[int, str, str]], folder: Path) -> list[Job]:
    """The files of drinks, each given by id, name and day of its last change; no two have the same name."""
    taken: set[str] = set()
    jobs = []
    for build_id, name, day in names:
        file_name, number = safe_file_name([name, day, "spec card"], ".pdf"), 1
        while file_name.casefold() in taken:
            number += 1
            file_name = safe_file_name([name, day, f"spec card {number}"], ".pdf")
        taken.add(file_name.casefold())
        jobs.append(Job(build_id, name, folder / file_name))
    return jobs


class Batch(QObject):
    """Writes cards one by one. ``moved_on`` carries how many are done, of how many, and the name of the next;
    ``finished`` an ``Outcome``."""

    moved_on = Signal(int, int, str)
    finished = Signal(object)

    def __init__(self, card_of: CardOf, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._card_of = card_of
        self._jobs: list[Job] = []
        self._done = 0
        self._outcome = Outcome()
        self._page: Page | None = None
        self._timer = QTimer(self)
        self._timer.setInterval(0)
        self._timer.timeout.connect(self._step)

    @property
    def is_running(self) -> bool:
        """Whether cards are being written."""
        return self._timer.isActive()

    def start(self, jobs: Sequence[Job], page: Page, skipped: int = 0) -> None:
        """Begins; ``skipped`` files were left out because they are there."""
        self._jobs, self._page, self._done = list(jobs), page, 0
        self._outcome = Outcome(skipped=skipped)
        self._timer.start()

    def stop(self) -> None:
        """Leaves the rest; what is written stays, and is whole."""
        if self.is_running:
            self._outcome.is_stopped = True
            self._finish()

    @Slot()
    def _step(self) -> None:
        if self._done >= len(self._jobs) or self._page is None:
            self._finish()
            return
        job = self._jobs[self._done]
        self.moved_on.emit(self._done, len(self._jobs), job.name)
        self._done += 1
        try:
            card = self._card_of(job.build_id)
            if card is not None:
                write_pdf(card, job.path, self._page)
                self._outcome.written += 1
        except UserError as error:
            self._outcome.problems.append(str(error))

    def _finish(self) -> None:
        self._timer.stop()
        self.finished.emit(self._outcome)
