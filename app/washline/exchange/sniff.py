"""What kind of file a path leads to, told by what is in it and not by its name."""

from enum import StrEnum
from pathlib import Path

from washline.exchange import house_file
from washline.exchange.json_rows import read_object
from washline.exchange.rows import FORMAT
from washline.problem import UserError

_SQLITE = b"SQLite format 3\x00"
"""The first bytes of every SQLite file (sqlite.org, Database File Format, section 1.3)."""


class FileKind(StrEnum):
    """The kinds of file that hold a house's work."""

    HOUSE_BOOK = "house book"
    BUILD_FILE = "build file"
    HOUSE_FILE = "house file"


_FORMATS = {FORMAT: FileKind.BUILD_FILE, house_file.FORMAT: FileKind.HOUSE_FILE}


def sniff(path: Path) -> FileKind:
    """The kind of a file. Raises ``UserError`` where it cannot be read or is none of them."""
    try:
        with path.open("rb") as file:
            if file.read(len(_SQLITE)) == _SQLITE:
                return FileKind.HOUSE_BOOK
            file.seek(0)
            data = file.read()
    except OSError as error:
        raise UserError(f"{path.name} cannot be read.", f"The system says: {error.strerror}.") from error
    kind = _FORMATS.get(str(read_object(data, "build file").get("format")))
    if kind is None:
        raise UserError(
            f"{path.name} is no file of Washline.", "Its field “format” names no kind that is known."
        )
    return kind
