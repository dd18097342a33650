"""What can go wrong with the file of a house book, told so that a person can act."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from washline.problem import UserError


class HouseBookProblem(UserError):  # noqa: N818  reads as the sentence that it is
    """Any fault of the file of a house book."""


class MissingHouseBook(HouseBookProblem):
    """There is no file at that place."""


class HouseBookExists(HouseBookProblem):
    """There is a file already where a new one should go."""


class NotAHouseBook(HouseBookProblem):
    """The file is something else."""


class NewerHouseBook(HouseBookProblem):
    """The file was written by a newer version."""


class DamagedHouseBook(HouseBookProblem):
    """The file is a house book, and parts of it cannot be read."""


class ReadOnlyHouseBook(HouseBookProblem):
    """The file, its folder or this opening of it cannot be written."""


class BusyHouseBook(HouseBookProblem):
    """Another program holds the file."""


class NoSpaceLeft(HouseBookProblem):
    """The disk is full, or the file may not grow."""


class FileFault(HouseBookProblem):
    """The system could not read or write the file."""


class HistoryRefused(HouseBookProblem):
    """The rows are not as the change or the journal says, so going on would destroy something."""

    @classmethod
    def row_gone(cls, table: str) -> "HistoryRefused":
        """For a row that should be changed or removed and is not there."""
        return cls(
            "The change was not kept.",
            f"A row of the table “{table}” was removed by another program since the house book was opened.",
            "Close the house book and open it again.",
        )

    @classmethod
    def unreadable(cls, number: int, words: str) -> "HistoryRefused":
        """For an entry of the journal whose rows cannot be read."""
        return cls(
            f"Journal entry {number} cannot be read, so it can neither be taken back nor done again.",
            f"It holds something else than rows ({words}).",
            "Recover the house book from its last backup if you need what lies behind it.",
        )


class RowRefused(HouseBookProblem):
    """A row breaks a rule that the tables hold themselves."""

    @classmethod
    def not_finite(cls, name: str, value: float) -> "RowRefused":
        """For a number that is infinite or none at all."""
        return cls(
            "The change was not kept.",
            f"“{name.replace('_', ' ')}” would be {value}, which is no number that can be kept.",
            "Enter another number.",
        )


NOTHING_CHANGED = "Nothing was changed."

_FULL = {sqlite3.SQLITE_FULL}
_BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
_DAMAGED = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_FORMAT}
_FILE = {sqlite3.SQLITE_IOERR, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH, sqlite3.SQLITE_CANTOPEN}
_NO_SPACE = {errno.ENOSPC, errno.EDQUOT, errno.EFBIG}
_NO_RIGHT = {errno.EACCES, errno.EPERM, errno.EROFS}


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turns faults of the world that the database or the system raises into problems of the house book at ``path``.

    What is left is a bug and passes unchanged.
    """
    try:
        yield
    except DBAPIError as error:
        raise _problem_of(error.orig, path) or error from error
    except sqlite3.Error as error:
        raise _problem_of(error, path) or error from error
    except OSError as error:
        raise _problem_of_system(error, path) from error
    except (UnicodeEncodeError, OverflowError) as error:
        raise RowRefused(
            "The change was not kept.",
            f"It holds a text or number that no file can hold ({error}).",
            NOTHING_CHANGED,
        ) from error


def _problem_of(error: BaseException | None, path: Path) -> UserError | None:
    code = getattr(error, "sqlite_errorcode", None)
    if code is None:
        return None
    primary = code & 0xFF
    words = str(error)
    if primary in _FULL:
        return no_space(path)
    if primary in _BUSY:
        return busy(path)
    if primary in _DAMAGED:
        return damaged(path, words)
    if primary == sqlite3.SQLITE_READONLY:
        return read_only(path)
    if primary == sqlite3.SQLITE_CONSTRAINT:
        return _refused(words)
    if primary in _FILE:
        return FileFault(f"“{path.name}” could not be read or written.", f"The system says: {words}.", _LOOK)
    return None


_LOOK = "Look whether the disk is still there and its folder may be written."


def _problem_of_system(error: OSError, path: Path) -> UserError:
    if error.errno in _NO_SPACE:
        return no_space(path)
    if error.errno in _NO_RIGHT:
        return read_only(path)
    return FileFault(
        f"“{path.name}” could not be read or written.", f"The system says: {error.strerror}.", _LOOK
    )


def _refused(words: str) -> RowRefused:
    if "FOREIGN KEY" in words:
        cause = "It would leave something that refers to an item, step, glass, method or target that is not there."
    elif "CHECK" in words:
        rule = words.rpartition(": ")[2].removeprefix("ck_").replace("_", " ")
        cause = f"A value lies outside of what can be ({rule})."
    else:
        cause = f"It breaks a rule of the tables ({words})."
    return RowRefused("The change was not kept.", cause, NOTHING_CHANGED)


def no_space(path: Path) -> NoSpaceLeft:
    """For a full disk."""
    return NoSpaceLeft(
        f"“{path.name}” could not be written: there is no space left.",
        NOTHING_CHANGED,
        "Free some space on the disk, then try again.",
    )


def busy(path: Path) -> BusyHouseBook:
    """For a file that another program holds."""
    return BusyHouseBook(
        f"“{path.name}” is being used by another program.",
        NOTHING_CHANGED,
        "Close the other program or wait a moment, then try again.",
    )


def read_only(path: Path) -> ReadOnlyHouseBook:
    """For a file that cannot be written."""
    return ReadOnlyHouseBook(
        f"“{path.name}” can only be read.",
        NOTHING_CHANGED,
        "Save a copy in a folder of your own and work in that.",
    )


def damaged(path: Path, words: str) -> DamagedHouseBook:
    """For a file with parts that cannot be read."""
    return DamagedHouseBook(
        f"The house book “{path.name}” is damaged.",
        f"Parts of the file cannot be read ({words}).",
        "Recover it from its last backup and its journal; the damaged file is kept beside.",
    )
