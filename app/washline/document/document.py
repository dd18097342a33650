"""The open house book: every change passes this one door, and one notice per change goes out."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Literal

from washline.document.commands.command import Command, Refusal
from washline.document.notice import Changed, Listener, Notices
from washline.document.storage import Entry, Storage
from washline.document.stored_results import StoredResults
from washline.document.validation import validate
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.change import ChangeSet, apply, difference
from washline.problem import UserError

Clock = Callable[[], datetime]
"""The present moment in UTC."""

_NOTHING = ChangeSet()


MERGE_WITHIN = timedelta(seconds=1)
"""Repeated steps of one value that follow one another faster than this are one entry of the history."""


@dataclass(frozen=True, slots=True)
class _Made:
    """What a command made of a house book, checked."""

    command: Command
    before: HouseBook
    book: HouseBook
    change_set: ChangeSet


@dataclass(frozen=True, slots=True)
class _Last:
    """The last change of this opening: under which key it may go on, its entry, and the house book before it."""

    merge_key: object
    number: int
    when: datetime
    before: HouseBook


class Document:
    """An open house book. Made by ``document.opening``.

    ``book`` is the house book as it is, ``workings`` its results; ``revision`` counts the changes since opening.
    ``backup_problem`` says why the copy that is made at opening could not be made; ``None`` where it could.
    """

    def __init__(
        self, storage: Storage, book: HouseBook, workings: Workings, results: StoredResults, clock: Clock
    ) -> None:
        self.book = book
        self.workings = workings
        self.revision = 0
        self.backup_problem: UserError | None = None
        self._storage = storage
        self._results = results
        self._clock = clock
        self._notices = Notices()
        self._shown: tuple[int, ...] = ()
        self._is_backed_up = storage.is_read_only
        self._is_closed = False
        self._last: _Last | None = None
        self._previewed: _Made | None = None
        self._undo_entry: tuple[int, Entry | None] | None = None
        self._opened_at = storage.position

    @property
    def path(self) -> Path:
        """Where the file is."""
        return self._storage.path

    @property
    def is_read_only(self) -> bool:
        """Whether the house book can only be looked at."""
        return self._storage.is_read_only

    @property
    def held_by(self) -> str:
        """Who has the house book open for writing, if somebody else has; else empty."""
        return self._storage.held_by

    @property
    def why_read_only(self) -> str:
        """Why the house book can only be looked at, in a sentence; empty where it can be changed."""
        return self._storage.why_read_only

    def do(
        self, command: Command, label: str, origin: object | None = None, merge_key: object | None = None
    ) -> Changed | None:
        """Makes a change: checked, written, entered in the history under its label, computed, told. One undo step.

        A change with the ``merge_key`` of the one just before it, made within a second, becomes one entry with it: for
        stepping a value up and down. Returns ``None`` where nothing differs. Raises ``Refusal`` for what cannot be and
        another ``UserError`` for what could not be written; then nothing has changed.
        """
        self._check_writable()
        made = self._made(command)
        if not made.change_set:
            return None
        self._back_up()
        self._write(made.book, made.change_set, label, merge_key)
        return self._take_over(made.book, made.change_set, label, origin, "do")

    def preview(self, command: Command) -> HouseBook:
        """The house book as a change would make it; nothing is kept. Raises ``Refusal`` as ``do`` would."""
        self._previewed = self._made(command)
        return self._previewed.book

    def undo(self, origin: object | None = None) -> Changed | None:
        """Takes the last change back, however long ago it was made. ``None`` where there is none."""
        return self._step(self._storage.undo, "undo", origin)

    def redo(self, origin: object | None = None) -> Changed | None:
        """Makes the last undone change again. ``None`` where there is none."""
        return self._step(self._storage.redo, "redo", origin)

    @property
    def undo_entry(self) -> Entry | None:
        """The change that the next undo takes back."""
        if self._undo_entry is None or self._undo_entry[0] != self.revision:
            self._undo_entry = self.revision, self._storage.undo_entry
        return self._undo_entry[1]

    @property
    def redo_entry(self) -> Entry | None:
        """The change that the next redo makes again."""
        return self._storage.redo_entry

    @property
    def undo_label(self) -> str:
        """What the next undo takes back: *change of lime juice*; empty where there is nothing."""
        entry = self.undo_entry
        return entry.label if entry is not None else ""

    @property
    def redo_label(self) -> str:
        """What the next redo makes again; empty where there is nothing."""
        entry = self.redo_entry
        return entry.label if entry is not None else ""

    def is_from_before(self, entry: Entry) -> bool:
        """Whether a change was made before this opening, so that taking it back should say when it was."""
        return entry.number <= self._opened_at

    def history(self, most: int = 200) -> list[Entry]:
        """The changes, newest first; those that are undone too."""
        return list(self._storage.entries(most))

    def last_change(self, build_id: int) -> Entry | None:
        """The last change of a drink or part itself; ``None`` where it is as it was made."""
        return self._storage.last_change_of_build(build_id)

    @property
    def journal_number(self) -> int:
        """The number of the last entry of the history that is not undone; the first one is how the book was made."""
        return self._storage.position

    def subscribe(self, listener: Listener) -> Callable[[], None]:
        """Has a function told of every change; the function returned ends it."""
        return self._notices.subscribe(listener)

    def shown(self, build_ids: Iterable[int]) -> None:
        """Says which builds are on the screen: they are computed first."""
        self._shown = tuple(build_ids)

    def work_on(self, most: int = 2000) -> bool:
        """Does some of what can wait, for idle moments: first the builds on the screen, then the others, then what is
        kept of results for the next opening. Whether there is more to do.
        """
        self._notices.check_quiet()
        if self._is_closed:
            return False
        self._back_up()
        if self.workings.pending:
            self._compute_some(most)
            return True
        return self._results.write_some(most, self.journal_number)

    def close(self) -> None:
        """Lets go of the house book. All changes are kept already; no more can be made."""
        if not self._is_closed:
            self._is_closed = True
            self._storage.close()

    def _made(self, command: Command) -> _Made:
        """What a command makes of the house book as it is. That of the last preview is known: it was shown, and so it is
        written, and its results are taken over."""
        known = self._previewed
        if known is not None and known.command is command and known.before is self.book:
            return known
        book = command(self.book)
        change_set = difference(self.book, book)
        validate(book, change_set)
        return _Made(command, self.book, book, change_set)

    def _write(self, book: HouseBook, change_set: ChangeSet, label: str, merge_key: object | None) -> None:
        now = self._clock()
        last = self._last if merge_key is not None else None
        if last is not None and last.merge_key == merge_key and now - last.when < MERGE_WITHIN:
            whole = difference(last.before, book)
            if whole:
                entry = self._storage.write(whole, label, now, in_place_of=last.number)
                self._last = _Last(merge_key, entry.number, now, last.before)
                return
        entry = self._storage.write(change_set, label, now)
        self._last = _Last(merge_key, entry.number, now, self.book)

    def _step(
        self,
        step: Callable[[datetime], tuple[Entry, ChangeSet] | None],
        kind: Literal["undo", "redo"],
        origin: object | None,
    ) -> Changed | None:
        self._check_writable()
        self._back_up()
        done = step(self._clock())
        if done is None:
            return None
        entry, change_set = done
        self._last = None
        return self._take_over(apply(self.book, change_set), change_set, entry.label, origin, kind)

    def _take_over(
        self,
        book: HouseBook,
        change_set: ChangeSet,
        label: str,
        origin: object | None,
        kind: Literal["do", "undo", "redo"],
    ) -> Changed:
        """After the write: memory follows, the screen's builds are computed, one notice goes out."""
        self.book = book
        self.revision += 1
        self._previewed = None
        items = self.workings.update(book, change_set, self._shown_now())
        changed = Changed(change_set, items, self.revision, origin, label, kind)
        self._notices.publish(changed)
        return changed

    def _compute_some(self, most: int) -> None:
        first = self._stale_shown()
        items = (
            self.workings.update(self.book, _NOTHING, first) if first else self.workings.evaluate_some(most)
        )
        if items:
            self._notices.publish(Changed(_NOTHING, items, self.revision, None, "", "computed"))

    def _shown_now(self) -> Sequence[int]:
        return [build_id for build_id in self._shown if build_id in self.book.builds]

    def _stale_shown(self) -> Sequence[int]:
        return [build_id for build_id in self._shown_now() if self.workings.is_stale(build_id)]

    def _check_writable(self) -> None:
        self._notices.check_quiet()
        if self._is_closed:
            raise RuntimeError("the document is closed")
        if self.is_read_only:
            raise Refusal(
                f"“{self.path.name}” is open for reading only.",
                self._storage.why_read_only,
                "Close it where it is being edited and open it again here."
                if self.held_by
                else "Save a copy in a folder of your own and work in that.",
            )

    def _back_up(self) -> None:
        """Copies the file as it was opened, before the first change or in the first idle moment."""
        if self._is_backed_up:
            return
        self._is_backed_up = True
        try:
            self._storage.backup()
        except UserError as problem:
            self.backup_problem = problem
