"""The file of a house book: opened by one window at a time, written change by change."""

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from washline.model.book import HouseBook
from washline.model.change import ChangeSet, Table
from washline.store import backups as copies
from washline.store import results
from washline.store.checking import faults_of
from washline.store.connection import WAIT_S, driver_of, reading, writing
from washline.store.creation import create_file
from washline.store.journal import Entry, Journal
from washline.store.opening import Opened, open_file
from washline.store.problem import FileFault, read_only, told
from washline.store.reading import read_book
from washline.store.results import StoredResult


def utc_now() -> datetime:
    """The present moment in UTC."""
    return datetime.now(UTC)


class HouseBookFile:
    """An open house book: made by ``create`` or ``open``, let go by ``close``.

    ``is_read_only`` says that nothing can be written, ``held_by`` who else has it (empty: nobody), ``why_read_only`` the
    reason in a sentence. Whatever cannot be done raises a ``HouseBookProblem`` and changes nothing. Belongs to the thread
    that opened it.
    """

    def __init__(self, path: Path, opened: Opened, backups: Path | None) -> None:
        self.path = path
        self.is_read_only = opened.lock is None
        self.held_by = opened.held_by
        self.why_read_only = opened.why_read_only
        self._opened: Opened | None = opened
        self._connection = opened.connection
        self._journal = Journal(opened.connection)
        self._backups = copies.folder_of(path, backups)

    @classmethod
    def create(
        cls,
        path: Path,
        book: HouseBook,
        label: str,
        *,
        backups: Path | None = None,
        clock: Callable[[], datetime] = utc_now,
    ) -> "HouseBookFile":
        """Makes a new file with a house book in it, whole or not at all, and opens it.

        ``label`` names entry 1 of the journal, behind which nothing can be taken back. Raises HouseBookExists where
        there is a file already.
        """
        create_file(path, book, label, clock())
        return cls.open(path, backups=backups, clock=clock)

    @classmethod
    def open(
        cls,
        path: Path,
        *,
        read_only: bool = False,
        backups: Path | None = None,
        wait_s: float = WAIT_S,
        clock: Callable[[], datetime] = utc_now,
    ) -> "HouseBookFile":
        """Opens a house book; one of an older version is backed up and brought up to date first.

        It is read-only where asked for, where another window has it, and where its file or folder cannot be written.
        ``backups`` is the folder below which its backups go (``None``: beside it); ``wait_s`` how long to wait for
        another program that holds the file.

        Raises MissingHouseBook, NotAHouseBook, NewerHouseBook, DamagedHouseBook, BusyHouseBook.
        """
        path = Path(path)
        folder = copies.folder_of(path, backups)
        opened = open_file(path, folder, clock(), read_only=read_only, wait_s=wait_s)
        return cls(path, opened, backups)

    def load(self) -> HouseBook:
        """The whole house book. Raises DamagedHouseBook where parts cannot be read."""
        with self._reading():
            return read_book(self._connection)

    def write(
        self, change_set: ChangeSet, label: str, when: datetime, *, in_place_of: int | None = None
    ) -> Entry:
        """Writes the rows that differ and an entry of the journal in one transaction; what was undone is dropped.

        With ``in_place_of``, the number of the newest standing entry, that entry is taken back and dropped in the same
        transaction, and ``change_set`` starts from the rows before it.
        """
        with self._writing():
            return self._journal.write(change_set, label, when, in_place_of)

    def replay(self, entry: Entry, change_set: ChangeSet) -> None:
        """Writes an entry of another copy of this house book under its own number, label and time.

        Raises HistoryRefused if a row is not as the entry found it.
        """
        with self._writing():
            self._journal.replay(entry, change_set)

    def undo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Takes the newest standing entry back; the entry and the changes that did so. ``None`` where there is none.

        Raises HistoryRefused if a row is not as the entry left it.
        """
        with self._writing():
            return self._journal.undo(when)

    def redo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Does the entry taken back last again; the entry and its changes. ``None`` where there is none."""
        with self._writing():
            return self._journal.redo(when)

    @property
    def position(self) -> int:
        """The number of the newest standing entry."""
        with self._reading():
            return self._journal.position()

    @property
    def undo_entry(self) -> Entry | None:
        """What the next undo takes back."""
        with self._reading():
            return self._journal.undo_entry()

    @property
    def redo_entry(self) -> Entry | None:
        """What the next redo does again."""
        with self._reading():
            return self._journal.redo_entry()

    def entries(self, most: int = 200) -> list[Entry]:
        """The newest entries first, also those that are undone."""
        with self._reading():
            return self._journal.entries(most)

    def change_sets(self, after: int, up_to: int) -> list[tuple[Entry, ChangeSet]]:
        """The entries with ``after`` < number <= ``up_to`` and what they changed, oldest first, also undone ones."""
        with self._reading():
            return self._journal.change_sets(after, up_to)

    def last_change(self, table: Table, key: int | str) -> Entry | None:
        """The newest standing entry that changed a row; ``None`` where it is as it was when the file was made."""
        with self._reading():
            return self._journal.last_change(table, key)

    def last_change_of_build(self, build_id: int) -> Entry | None:
        """The newest standing entry that changed a build, its steps or its leftovers; ``None`` as for a row."""
        with self._reading():
            return self._journal.last_change_of_build(build_id)

    def read_results(self, stamp: str) -> dict[int, StoredResult]:
        """The readings that an engine with this stamp computed, by build. The caller looks which of them still hold."""
        with self._reading():
            return results.read_results(self._connection, stamp)

    def write_results(
        self, stamp: str, journal_number: int, rows: Iterable[tuple[int, int, bytes, bytes, int]]
    ) -> None:
        """Puts readings in the place of those of the same builds; the second field of a row is not looked at."""
        with self._writing():
            results.write_results(self._connection, stamp, journal_number, rows)

    def clear_results(self) -> None:
        """Forgets all readings."""
        with self._writing():
            results.clear_results(self._connection)

    def backup(self) -> Path:
        """Copies the file to its backups, of which the newest few are kept; does nothing more if this state is there.

        Raises DamagedHouseBook, and keeps the older ones, if the copy is not sound.
        """
        return copies.back_up(self.path, self._backups, driver_of(self._connection))

    def save_copy(self, path: Path) -> None:
        """Copies the file with its history to another place, whole or not at all; a file that is there is replaced."""
        if path.resolve() == self.path.resolve():
            raise FileFault(
                "The copy would take the place of the house book itself.", "", "Choose another name."
            )
        with told(path):
            copies.copy(self.path, driver_of(self._connection), path)

    def check(self) -> list[str]:
        """What is wrong with the file, its references, its numbers or its journal, one sentence each."""
        with self._reading():
            return faults_of(self._connection)

    def close(self) -> None:
        """Lets go of the file; everything is written already."""
        if self._opened is not None:
            opened, self._opened = self._opened, None
            opened.close()

    def __enter__(self) -> "HouseBookFile":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @contextmanager
    def _reading(self) -> Iterator[None]:
        with told(self.path), reading(self._connection):
            yield

    @contextmanager
    def _writing(self) -> Iterator[None]:
        if self.is_read_only:
            raise read_only(self.path)
        with told(self.path), writing(self._connection):
            yield
