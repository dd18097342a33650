"""Connections to the file of a house book: fully durable, foreign keys on, transactions begun where the code says so.

Durability. The rollback journal is cut to nothing at each commit (``TRUNCATE``) with ``synchronous=FULL``, which syncs
the cut as well: what was acknowledged survives a loss of power, and the house book stays one file that a person can copy.
A write-ahead log would be faster and leave two more files; ``DELETE`` with ``EXTRA`` is as safe and was slower.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy.pool import StaticPool

WAIT_S = 5.0
"""How long to wait for another program that holds the file: a reader of a copy is done in less."""

_BEGIN = "begin"

_WRITER = (
    "PRAGMA foreign_keys=ON",
    "PRAGMA journal_mode=TRUNCATE",
    "PRAGMA synchronous=FULL",
    "PRAGMA fullfsync=ON",
)
_READER = ("PRAGMA query_only=ON",)
_BOTH = ("PRAGMA cell_size_check=ON", "PRAGMA trusted_schema=OFF", "PRAGMA temp_store=MEMORY")
_MIGRATION = ("PRAGMA foreign_keys=OFF", *_WRITER[1:])


def writer(path: Path, wait_s: float = WAIT_S) -> sa.Engine:
    """An engine of one connection that may write."""
    return _engine(path, "rw", (*_BOTH, *_WRITER), "BEGIN IMMEDIATE", wait_s)


def reader(path: Path, wait_s: float = WAIT_S) -> sa.Engine:
    """An engine of one connection that cannot write."""
    return _engine(path, "ro", (*_BOTH, *_READER), "BEGIN", wait_s)


def migrator(path: Path, wait_s: float = WAIT_S) -> sa.Engine:
    """An engine of one connection for changes of the schema.

    Foreign keys are off: a table that is rebuilt is dropped in between, and with them on the drop empties its children.
    """
    return _engine(path, "rwc", (*_BOTH, *_MIGRATION), "BEGIN EXCLUSIVE", wait_s)


def raw_connection(path: Path, mode: str, wait_s: float = WAIT_S) -> sqlite3.Connection:
    """A plain connection without any setting; ``mode`` is ``ro``, ``rw`` or ``rwc``."""
    return sqlite3.connect(
        f"{path.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None, timeout=wait_s
    )


def driver_of(connection: sa.Connection) -> sqlite3.Connection:
    """The driver's own connection, for what SQLAlchemy has no name for."""
    driver = connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    return driver


def _engine(path: Path, mode: str, pragmas: tuple[str, ...], begin: str, wait_s: float) -> sa.Engine:
    def connect() -> sqlite3.Connection:
        connection = raw_connection(path, mode, wait_s)
        try:
            for pragma in pragmas:
                connection.execute(pragma)
        except sqlite3.Error:
            connection.close()
            raise
        return connection

    engine = sa.create_engine("sqlite://", creator=connect, poolclass=StaticPool)

    @sa.event.listens_for(engine, "begin")
    def _begin(connection: sa.Connection) -> None:
        driver_of(connection).execute(connection.info.pop(_BEGIN, begin))

    return engine


@contextmanager
def writing(connection: sa.Connection) -> Iterator[None]:
    """A transaction that is whole or not at all."""
    try:
        with connection.begin():
            yield
    except BaseException:
        # After a commit that failed SQLAlchemy takes the transaction for ended, and SQLite keeps it open.
        driver = driver_of(connection)
        if driver.in_transaction:
            driver.rollback()
        raise


@contextmanager
def reading(connection: sa.Connection) -> Iterator[None]:
    """A transaction that sees one state of the file and changes nothing; others may write when it ends."""
    connection.info[_BEGIN] = "BEGIN"
    transaction = connection.begin()
    try:
        yield
    finally:
        transaction.rollback()


def remove_journal(connection: sa.Connection) -> None:
    """Removes the empty journal that stays beside the file while it is open; to be called outside of a transaction."""
    driver_of(connection).execute("PRAGMA journal_mode=DELETE")
