"""Opening and making house books: the one place where the document meets the store."""

from pathlib import Path

from washline.document.document import Clock, Document
from washline.document.stored_results import StoredResults
from washline.engine.stamp import engine_stamp
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.store import HouseBookFile


def open_document(
    path: Path, *, clock: Clock, read_only: bool = False, backups: Path | None = None
) -> Document:
    """Opens a house book. It is read-only where asked for, where the file cannot be written, and where another window
    has it. Raises ``UserError`` for what is no house book, comes from a newer version, or is damaged.
    """
    file = HouseBookFile.open(path, read_only=read_only, backups=backups, clock=clock)
    return _document(file, clock)


def create_document(
    path: Path, book: HouseBook, label: str, *, clock: Clock, backups: Path | None = None
) -> Document:
    """Makes a new file with a house book in it and opens it. Raises ``UserError`` where there is a file already."""
    return _document(HouseBookFile.create(path, book, label, backups=backups, clock=clock), clock)


def _document(file: HouseBookFile, clock: Clock) -> Document:
    try:
        book = file.load()
        workings = Workings(book)
        results = StoredResults(file, workings, engine_stamp())
        results.adopt(file.position)
        return Document(file, book, workings, results, clock)
    except BaseException:
        file.close()
        raise
