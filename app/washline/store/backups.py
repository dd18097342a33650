"""Copies of a house book through SQLite's own backup, whole even while somebody writes; the last few are kept."""

import os
import sqlite3
import zlib
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from washline.store.connection import raw_connection
from washline.store.problem import damaged, told

KEPT = 5
SUFFIX = ".housebook"


@dataclass(frozen=True, slots=True)
class Point:
    """A point in the life of a house book: when it was made, and its newest and its newest standing entry."""

    made: str
    newest: int
    position: int

    @property
    def name(self) -> str:
        """The name of the backup made at this point: names of one house book sort by age."""
        return f"{self.made} {self.newest:08d} {self.position:08d}{SUFFIX}"


def folder_of(path: Path, backups: Path | None) -> Path:
    """Where the backups of the house book at ``path`` are: below ``backups``, else in a folder beside it."""
    if backups is None:
        return path.with_name(f"{path.stem} backups")
    place = zlib.crc32(str(path.resolve()).encode())
    return backups / f"{path.stem} {place:08x}"


def point_of(connection: sqlite3.Connection) -> Point:
    """The point at which a house book is."""
    made = connection.execute("SELECT min(made_at) FROM journal WHERE number = 1").fetchone()[0] or "unknown"
    newest, position = connection.execute(
        "SELECT coalesce(max(number), 0), coalesce(max(CASE WHEN is_undone THEN 0 ELSE number END), 0) FROM journal"
    ).fetchone()
    words = "".join(letter for letter in made.partition(".")[0] if letter.isdigit())
    return Point(words, newest, position)


def back_up(path: Path, folder: Path, connection: sqlite3.Connection, *, kept: int = KEPT) -> Path:
    """Makes a backup unless there is one of this very point, and removes the oldest beyond ``kept``.

    Raises DamagedHouseBook, and keeps all older ones, if the copy is not sound.
    """
    with told(path):
        folder.mkdir(parents=True, exist_ok=True)
        point = point_of(connection)
        target = folder / point.name
        if not target.exists():
            copy(path, connection, target)
            for old in of_same_book(folder, point.made)[:-kept]:
                old.unlink(missing_ok=True)
    return target


def copy(path: Path, connection: sqlite3.Connection, target: Path) -> None:
    """Copies a house book to ``target``, whole or not at all; what was there is replaced."""
    part = target.with_name(f".{target.name}.part")
    part.unlink(missing_ok=True)
    try:
        with closing(raw_connection(part, "rwc")) as other:
            # A half-made copy is thrown away: it needs no journal, and is synced once when it is whole.
            other.execute("PRAGMA journal_mode=OFF")
            other.execute("PRAGMA synchronous=OFF")
            connection.backup(other)
            fault = fault_of(other)
        if fault:
            raise damaged(path, fault)
        sync(part)
        os.replace(part, target)
        sync_folder(target.parent)
    finally:
        part.unlink(missing_ok=True)


def fault_of(connection: sqlite3.Connection) -> str:
    """What is wrong with the pages of a file; empty where they are sound. The rules of the tables are not gone through:
    that takes ten times as long, and ``HouseBookFile.check`` does it."""
    connection.execute("PRAGMA ignore_check_constraints=ON")
    words = str(connection.execute("PRAGMA quick_check(1)").fetchone()[0])
    return "" if words == "ok" else words.splitlines()[-1]


def of_same_book(folder: Path, made: str) -> list[Path]:
    """The backups of the house book that was made then, oldest first."""
    return sorted(file for file in folder.glob(f"*{SUFFIX}") if file.name.split(" ")[0] == made)


def all_in(folder: Path) -> list[Path]:
    """All backups in a folder, the one written last at the end."""
    return sorted(folder.glob(f"*{SUFFIX}"), key=lambda file: (file.stat().st_mtime_ns, file.name))


def sync(file: Path) -> None:
    """Has the system write a file to its disk now."""
    with file.open("rb+") as opened:
        os.fsync(opened.fileno())


def sync_folder(folder: Path) -> None:
    """Has the system write a folder's list of names to its disk now; Windows does so by itself."""
    if os.name == "nt":
        return
    number = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(number)
    finally:
        os.close(number)
