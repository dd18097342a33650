"""A quick look at a file before it is opened: is it a house book, and of which version. Standard library only."""

import sqlite3
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from washline.problem import UserError
from washline.store.problem import (
    MissingHouseBook,
    NewerHouseBook,
    NotAHouseBook,
    damaged,
    told,
)

APPLICATION_ID = int.from_bytes(b"WLHB")
"""At byte 68 of the file, for ``file`` and for desktops that look at content."""

SCHEMA_VERSION = 3
"""SQLite's ``user_version``: goes up with every migration."""

HEAD = "0003"
"""The newest migration."""

_MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100


class Age(Enum):
    """How the tables of a file relate to those that this version knows."""

    BEHIND = "behind"
    CURRENT = "current"
    NEWER = "newer"


@dataclass(frozen=True, slots=True)
class _Header:
    application_id: int
    user_version: int
    page_bytes: int
    pages: int


def age_of(path: Path, *, version: int = SCHEMA_VERSION) -> Age:
    """Whether a house book must be migrated before it is opened. Nothing is written.

    Raises MissingHouseBook, NotAHouseBook and DamagedHouseBook.
    """
    header = _header(path)
    if header.application_id != APPLICATION_ID:
        raise _not_ours(path, "It is a database of another program.")
    if header.user_version > version:
        return Age.NEWER
    _refuse_cut_off(path, header)
    return Age.CURRENT if header.user_version == version else Age.BEHIND


def refuse_newer(path: Path) -> None:
    """Raises NewerHouseBook."""
    raise NewerHouseBook(
        f"“{path.name}” was written by a newer version of Washline.",
        "This version does not know all of its tables, so it leaves the file untouched.",
        "Open it with the newer version.",
    )


def revision_of(path: Path) -> str:
    """The migration at which the tables of a house book are."""
    with told(path):
        connection = sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)
        try:
            record = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_ERROR:
                raise
            raise damaged(path, str(error)) from error
        finally:
            connection.close()
    if record is None:
        raise damaged(path, "its version is missing")
    return str(record[0])


def _header(path: Path) -> _Header:
    if not path.exists():
        raise MissingHouseBook(
            f"“{path.name}” is not there.",
            f"There is no file at {path}.",
            "Look whether it was moved or renamed, or whether its disk is connected.",
        )
    if not path.is_file():
        raise _not_ours(path, "It is not a file.")
    with told(path), path.open("rb") as file:
        head = file.read(_HEADER_BYTES)
    if not head:
        raise _not_ours(path, "It is empty.")
    if not head.startswith(_MAGIC) or len(head) < _HEADER_BYTES:
        raise _not_ours(path, "Its content is of another kind.")
    page_bytes = int.from_bytes(head[16:18])
    return _Header(
        int.from_bytes(head[68:72]),
        int.from_bytes(head[60:64]),
        65536 if page_bytes == 1 else page_bytes,
        int.from_bytes(head[28:32]),
    )


def _refuse_cut_off(path: Path, header: _Header) -> None:
    """A file that is shorter than it says was cut off by a copy or a full disk; with a journal it is being put right."""
    journal = path.with_name(f"{path.name}-journal")
    is_settled = not (journal.exists() and journal.stat().st_size)
    if is_settled and path.stat().st_size < header.page_bytes * header.pages:
        raise damaged(path, "the file is shorter than it says")


def _not_ours(path: Path, cause: str) -> UserError:
    return NotAHouseBook(f"“{path.name}” is not a house book.", cause, "Choose another file.")
