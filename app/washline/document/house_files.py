"""House books as files: one to start with, a copy, a recovered one."""

from pathlib import Path

from washline.document.document import Clock, Document
from washline.document.opening import create_document
from washline.exchange.demo import demo_house
from washline.exchange.starter import starter_house
from washline.store import HouseBookFile, recover

MAKING_DEMO = "making the demo house book"
MAKING_OWN = "making the house book"


def make_demo(path: Path, *, clock: Clock, backups: Path | None = None) -> Document:
    """Makes the demo's house book, whole or not at all, with the folder that it lies in, and opens it.

    Raises ``UserError`` where there is a file already or none can be written.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    return create_document(path, demo_house(), MAKING_DEMO, clock=clock, backups=backups)


def make_own(path: Path, name: str, *, clock: Clock, backups: Path | None = None) -> Document:
    """Makes a house book with the starting ingredients, targets and glasses and no builds, and opens it.

    Raises ``UserError`` where there is a file already or none can be written.
    """
    return create_document(path, starter_house(name), MAKING_OWN, clock=clock, backups=backups)


def save_copy(path: Path, copy: Path) -> None:
    """Copies a house book with its history to another place, whole or not at all; a file that is there is replaced.

    It may be open meanwhile. Raises ``UserError`` where it cannot be read or the copy not written.
    """
    with HouseBookFile.open(path, read_only=True) as file:
        file.save_copy(copy)


def recovered(path: Path, *, clock: Clock, backups: Path | None = None) -> tuple[Path, str]:
    """Makes a sound house book beside a damaged one, which stays as it is: its path, and in words what is in it.

    Raises ``UserError`` where nothing is left to recover.
    """
    found = recover(path, backups=backups, clock=clock)
    return found.path, found.words
