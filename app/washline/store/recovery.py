"""Recovers a damaged house book into a new file: from its last sound backup and its journal, else from what can be read.

The damaged file is only read; it stays where it is.
"""

import shutil
import sqlite3
import tempfile
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import msgspec

from washline.model.change import ChangeSet
from washline.store import backups as copies
from washline.store.connection import raw_connection
from washline.store.files import HouseBookFile, utc_now
from washline.store.journal import Entry, change_of
from washline.store.peek import age_of
from washline.store.problem import HistoryRefused, HouseBookProblem, damaged, told
from washline.store.salvage import salvage

_GAP = 1000
"""So many numbers without a readable entry end the search for later ones."""


class Recovered(NamedTuple):
    """The new file, and in sentences what is in it."""

    path: Path
    words: str


def recover(path: Path, *, backups: Path | None = None, clock: Callable[[], datetime] = utc_now) -> Recovered:
    """Makes a sound house book beside a damaged one. ``backups`` is the folder given when it was opened.

    Raises DamagedHouseBook where there is no backup and nothing can be read either.
    """
    target = _free_name(path)
    with told(path), tempfile.TemporaryDirectory(prefix="washline-") as folder:
        work = _working_copy(path, Path(folder))
        backup = _newest_sound(path, copies.folder_of(path, backups))
        if backup is None:
            return Recovered(target, _without_backup(path, work, target, clock()))
        with closing(raw_connection(backup, "ro")) as connection:
            copies.copy(backup, connection, target)
        words = _bring_forward(target, work, clock)
    when = datetime.fromtimestamp(backup.stat().st_mtime, UTC).astimezone()
    return Recovered(
        target, f"Recovered from the backup of {when:%Y-%m-%d %H:%M}. {words} {_kept_beside(path)}"
    )


def _without_backup(path: Path, work: Path, target: Path, now: datetime) -> str:
    words = salvage(work, target, now)
    if words is None:
        raise damaged(path, "there is no backup of it, and none of its rows can be read")
    return f"There is no backup. {words} {_kept_beside(path)}"


def _kept_beside(path: Path) -> str:
    return f"The damaged file “{path.name}” is left as it is."


def _free_name(path: Path) -> Path:
    for number in range(1, 1000):
        name = f"{path.stem} recovered{'' if number == 1 else f' {number}'}{path.suffix}"
        if not path.with_name(name).exists():
            return path.with_name(name)
    raise damaged(path, "there are too many recovered files beside it")


def _working_copy(path: Path, folder: Path) -> Path:
    """A copy to read from, with its journal: reading could want to write."""
    work = folder / "damaged"
    shutil.copyfile(path, work)
    journal = path.with_name(f"{path.name}-journal")
    if journal.exists():
        shutil.copyfile(journal, folder / "damaged-journal")
    return work


def _newest_sound(path: Path, folder: Path) -> Path | None:
    for backup in reversed(copies.all_in(folder)):
        try:
            age_of(backup)
            with closing(raw_connection(backup, "ro")) as connection:
                if not copies.fault_of(connection):
                    return backup
        except (HouseBookProblem, sqlite3.Error):
            continue
    return None


def _bring_forward(target: Path, work: Path, clock: Callable[[], datetime]) -> str:
    """Does to a copy of the backup what the damaged file's journal says was done since."""
    with (
        closing(raw_connection(work, "rw")) as connection,
        HouseBookFile.open(target, clock=clock) as file,
    ):
        journal = _DamagedJournal(connection)
        newest = file.entries(1)[0].number
        later = journal.numbers_after(newest)
        while (last := file.undo_entry) and journal.is_taken_back(last.number, bool(later)):
            file.undo(clock())
        while (next_ := file.redo_entry) and journal.stands(next_.number):
            file.redo(clock())
        return _replayed(file, journal, later)


def _replayed(file: HouseBookFile, journal: "_DamagedJournal", numbers: list[int]) -> str:
    standing = [number for number in numbers if not journal.is_taken_back(number, False)]
    done = 0
    for number in standing:
        try:
            file.replay(journal.entry(number), journal.change_set(number))
        except (sqlite3.Error, ValueError, TypeError, msgspec.DecodeError, HistoryRefused):
            break
        done += 1
    last = file.entries(1)[0]
    kept = (
        f"All is kept up to change {last.number}, “{last.label}”, of {last.when.astimezone():%Y-%m-%d %H:%M}."
    )
    lost = len(standing) - done
    if lost:
        kept += f" {lost} later changes could not be read and are lost."
    if not journal.is_whole:
        kept += " Parts of the journal could not be read: changes made after that may be lost."
    return kept


class _DamagedJournal:
    """The journal of a damaged file, read entry by entry: one bad page hides only what is on it."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self.is_whole = True

    def numbers_after(self, number: int) -> list[int]:
        """The numbers of the entries after one that can be read, in order."""
        found: list[int] = []
        current = number
        while current - (found[-1] if found else number) < _GAP:
            current += 1
            if self._record(current) is not None:
                found.append(current)
        return found

    def is_taken_back(self, number: int, has_later: bool) -> bool:
        """Whether an entry was undone, or dropped after that: then it is missing although later ones are there."""
        was_whole = self.is_whole
        self.is_whole = True
        record = self._record(number)
        is_readable = self.is_whole
        self.is_whole = was_whole and is_readable
        if record is None:
            return is_readable and has_later
        return bool(record[3])

    def stands(self, number: int) -> bool:
        """Whether an entry is there and not undone."""
        record = self._record(number)
        return record is not None and not record[3]

    def entry(self, number: int) -> Entry:
        """One entry. Raises TypeError where it cannot be read."""
        record = self._record(number)
        if record is None:
            raise TypeError(f"entry {number} cannot be read")
        return Entry(record[0], record[1], datetime.fromisoformat(record[2]).replace(tzinfo=UTC))

    def change_set(self, number: int) -> ChangeSet:
        """What one entry changed. Raises what reading raises."""
        records = self._connection.execute(
            "SELECT table_name, row_key, row_before, row_after, position FROM journal_change"
            " WHERE number = ? ORDER BY position",
            (number,),
        ).fetchall()
        if [record[4] for record in records] != list(range(len(records))):
            raise ValueError(f"changes of entry {number} are missing")
        return ChangeSet(tuple(change_of(*record[:4]) for record in records))

    def _record(self, number: int) -> tuple[int, str, str, int] | None:
        try:
            record: tuple[int, str, str, int] | None = self._connection.execute(
                "SELECT number, label, made_at, is_undone FROM journal WHERE number = ?", (number,)
            ).fetchone()
        except sqlite3.Error:
            self.is_whole = False
            return None
        return record
