"""House books on disk, for commands: opened to read only, or to take a build file in."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from washline.cli.books import OpenBook
from washline.cli.console import IN_USE, NEWER_VERSION, CommandError
from washline.document.document import Clock, Document
from washline.document.opening import open_document
from washline.presentation.card import LastChange
from washline.problem import UserError
from washline.store import BusyHouseBook, HouseBookFile, NewerHouseBook


@contextmanager
def reading(path: Path, clock: Clock) -> Iterator[OpenBook]:
    """A house book that is read and left as it is. Raises ``UserError`` where that cannot be."""
    with _told():
        document = open_document(path, clock=clock, read_only=True)
    try:
        yield OpenBook(
            document.book, document.workings, path.name, path, lambda build_id: _change(document, build_id)
        )
    finally:
        document.close()


@contextmanager
def writing(path: Path, clock: Clock, backups: Path) -> Iterator[Document]:
    """A house book that a command changes. Raises ``UserError`` where it cannot be written."""
    with _told():
        document = open_document(path, clock=clock, backups=backups)
    try:
        if document.held_by:
            raise CommandError(
                IN_USE,
                f"“{path.name}” is open in another window.",
                f"It is being edited: {document.held_by}.",
                "Close it there first.",
            )
        yield document
    finally:
        document.close()


def faults(path: Path, clock: Clock) -> list[str]:
    """What is wrong with a house book, one sentence each. Raises ``UserError`` where it cannot be opened at all."""
    with _told():
        file = HouseBookFile.open(path, read_only=True, clock=clock)
    try:
        return file.check()
    finally:
        file.close()


@contextmanager
def _told() -> Iterator[None]:
    try:
        yield
    except NewerHouseBook as error:
        raise CommandError(NEWER_VERSION, error.what, error.cause, error.remedy) from error
    except BusyHouseBook as error:
        raise CommandError(IN_USE, error.what, error.cause, error.remedy) from error
    except UserError:
        raise


def _change(document: Document, build_id: int) -> LastChange | None:
    entry = document.last_change(build_id)
    return LastChange(entry.number, entry.when.astimezone().date()) if entry is not None else None
