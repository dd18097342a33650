"""Making the file of a new house book, whole or not at all."""

import os
from datetime import datetime
from importlib import import_module
from pathlib import Path

import sqlalchemy as sa

from washline.model.book import HouseBook
from washline.model.change import SETTINGS_KEY, Change, Table, difference
from washline.store import backups, connection
from washline.store.journal import FIRST
from washline.store.problem import FileFault, HouseBookExists, told
from washline.store.schema import METADATA
from washline.store.writing import RowWriter

_META = METADATA.tables["meta"]
_JOURNAL = METADATA.tables["journal"]


def create_file(path: Path, book: HouseBook, label: str, when: datetime) -> None:
    """Makes a file with a house book and the first entry of its journal.

    Raises HouseBookExists where there is a file already.
    """
    if path.exists():
        raise _exists(path)
    if not path.parent.is_dir():
        raise FileFault(
            f"“{path.name}” cannot be made.", f"There is no folder {path.parent}.", "Choose another folder."
        )
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with told(path):
            part.touch()
            part.unlink()
        # Loaded here only: most openings find a file and need no Alembic.
        import_module("washline.store.migration").migrate(part)
        with told(path):
            _fill(part, book, label, when)
            backups.sync(part)
            _put(part, path)
            backups.sync_folder(path.parent)
    finally:
        part.unlink(missing_ok=True)
        part.with_name(f"{part.name}-journal").unlink(missing_ok=True)


def _fill(part: Path, book: HouseBook, label: str, when: datetime) -> None:
    changes = [
        change for change in difference(HouseBook(), book).changes if change.table is not Table.SETTINGS
    ]
    settings = Change(Table.SETTINGS, SETTINGS_KEY, None, book.settings)
    top_id = max((change.key for change in changes if isinstance(change.key, int)), default=0)
    engine = connection.writer(part)
    try:
        with engine.connect() as connected:
            with connection.writing(connected):
                RowWriter(connected).write([settings, *changes])
                meta = {"id": 0, "top_id": max(top_id, book.top_id), "top_number": FIRST}
                connected.execute(sa.insert(_META), meta)
                entry = {"number": FIRST, "label": label, "made_at": when, "is_undone": False}
                connected.execute(sa.insert(_JOURNAL), entry)
            connection.remove_journal(connected)
    finally:
        engine.dispose()


def _put(part: Path, path: Path) -> None:
    """Gives the finished file its name without ever taking the place of another."""
    try:
        os.link(part, path)
    except FileExistsError as error:
        raise _exists(path) from error
    except OSError:
        # A file system without hard links.
        if path.exists():
            raise _exists(path) from None
        os.replace(part, path)


def _exists(path: Path) -> HouseBookExists:
    return HouseBookExists(
        f"There is a file “{path.name}” already.",
        "A new house book never takes the place of a file.",
        "Choose another name.",
    )
