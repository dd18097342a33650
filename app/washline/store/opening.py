"""Opening a file: is it ours and of our version, may it be written, does another window have it."""

import os
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from importlib import import_module
from pathlib import Path

import sqlalchemy as sa

from washline.store import backups, connection
from washline.store.lock import Lock, holder_of, take
from washline.store.peek import HEAD, Age, age_of, refuse_newer
from washline.store.problem import HouseBookProblem, ReadOnlyHouseBook, damaged, told

_FILE_IS_READ_ONLY = "The file or its folder cannot be written."
_ASKED_FOR = "It was opened to be read only."
_REVISION = sa.text("SELECT version_num FROM alembic_version")


@dataclass(slots=True)
class Opened:
    """A connection to a house book, and the lock where it may be written."""

    engine: sa.Engine
    connection: sa.Connection
    lock: Lock | None = None
    held_by: str = ""
    why_read_only: str = ""

    def close(self) -> None:
        """Ends the connection and lets go of the lock."""
        try:
            if self.lock is not None:
                # The journal stays behind, empty, if the disk is gone: that is no reason to fail here.
                with suppress(sa.exc.DBAPIError, OSError):
                    connection.remove_journal(self.connection)
            self.connection.close()
            self.engine.dispose()
        finally:
            if self.lock is not None:
                self.lock.release()


def open_file(path: Path, backup_folder: Path, now: datetime, *, read_only: bool, wait_s: float) -> Opened:
    """Opens a house book for writing if that is asked for and possible, else for reading.

    Raises MissingHouseBook, NotAHouseBook, NewerHouseBook, DamagedHouseBook, BusyHouseBook.
    """
    age = age_of(path)
    if age is Age.NEWER:
        refuse_newer(path)
    if read_only:
        return _for_reading(path, age, wait_s, why=_ASKED_FOR)
    if not os.access(path, os.W_OK):
        return _for_reading(path, age, wait_s, why=_FILE_IS_READ_ONLY)
    try:
        held = take(path, now)
    except OSError:
        return _for_reading(path, age, wait_s, why=_FILE_IS_READ_ONLY)
    if held is None:
        holder = holder_of(path)
        why = f"It is being edited in another window: {holder}."
        return _for_reading(path, age, wait_s, why=why, held_by=holder)
    try:
        if age is Age.BEHIND:
            _bring_up_to_date(path, backup_folder)
        return _for_writing(path, held, wait_s)
    except ReadOnlyHouseBook:
        held.release()
        return _for_reading(path, age, wait_s, why=_FILE_IS_READ_ONLY)
    except BaseException:
        held.release()
        raise


def _for_writing(path: Path, held: Lock, wait_s: float) -> Opened:
    opened = _connected(path, connection.writer(path, wait_s))
    opened.lock = held
    return opened


def _for_reading(path: Path, age: Age, wait_s: float, *, why: str, held_by: str = "") -> Opened:
    if age is Age.BEHIND:
        raise ReadOnlyHouseBook(
            f"“{path.name}” was written by an older version of Washline.",
            f"It must be brought up to date before it can be read, and that cannot be written. {why}",
            "Save a copy in a folder of your own and open that.",
        )
    if not held_by:
        _finish_interrupted_write(path, wait_s)
    opened = _connected(path, connection.reader(path, wait_s))
    opened.held_by = held_by
    opened.why_read_only = why
    return opened


def _connected(path: Path, engine: sa.Engine) -> Opened:
    try:
        with told(path):
            opened = Opened(engine, engine.connect())
            with connection.reading(opened.connection):
                revision = _revision(path, opened.connection)
        if revision != HEAD:
            raise damaged(path, f"its tables are of {revision} and not of {HEAD}")
    except BaseException:
        engine.dispose()
        raise
    return opened


def _revision(path: Path, connected: sa.Connection) -> str:
    try:
        return str(connected.execute(_REVISION).scalar_one())
    except (sa.exc.OperationalError, sa.exc.NoResultFound) as error:
        if getattr(getattr(error, "orig", None), "sqlite_errorcode", 1) != 1:
            raise
        raise damaged(path, "tables are missing") from error


def _bring_up_to_date(path: Path, backup_folder: Path) -> None:
    with told(path), closing(connection.raw_connection(path, "rw")) as plain:
        backups.back_up(path, backup_folder, plain)
    # Loaded here only: Alembic would take longer to import than a house book takes to open.
    import_module("washline.store.migration").migrate(path)


def _finish_interrupted_write(path: Path, wait_s: float) -> None:
    """A program that was killed while writing leaves a journal from which the next one puts the file right. Someone who
    may only read cannot do that, so it is done first; where the file cannot be written, opening says what is wrong."""
    journal = path.with_name(f"{path.name}-journal")
    if journal.exists() and journal.stat().st_size and os.access(path, os.W_OK):
        with (
            suppress(HouseBookProblem),
            told(path),
            closing(connection.raw_connection(path, "rw", wait_s)) as plain,
        ):
            plain.execute("SELECT count(*) FROM sqlite_master").fetchone()
