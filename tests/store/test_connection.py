"""Every connection is durable and strict, and only the one that may write can."""

import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa
from sqlalchemy.exc import IntegrityError, OperationalError

from washline.store import connection as connections

FULL, TRUNCATE = 2, "truncate"


@pytest.fixture
def writer(path: Path) -> Iterator[sa.Connection]:
    engine = connections.writer(path)
    with engine.connect() as connection:
        yield connection
    engine.dispose()


@pytest.fixture
def reader(path: Path) -> Iterator[sa.Connection]:
    engine = connections.reader(path)
    with engine.connect() as connection:
        yield connection
    engine.dispose()


def setting(connection: sa.Connection, name: str) -> object:
    return connections.driver_of(connection).execute(f"PRAGMA {name}").fetchone()[0]


@pytest.mark.parametrize(
    "name, value",
    [
        ("foreign_keys", 1),
        ("journal_mode", TRUNCATE),
        ("synchronous", FULL),
        ("fullfsync", 1),
        ("trusted_schema", 0),
        ("cell_size_check", 1),
    ],
)
def test_writer_keeps_what_it_acknowledges(writer: sa.Connection, name: str, value: object) -> None:
    assert setting(writer, name) == value


def test_migration_does_not_follow_foreign_keys(path: Path) -> None:
    engine = connections.migrator(path)
    with engine.connect() as connection:
        assert setting(connection, "foreign_keys") == 0
        assert setting(connection, "synchronous") == FULL
    engine.dispose()


def test_write_ahead_log_that_another_tool_switched_on_is_switched_off(path: Path) -> None:
    plain = sqlite3.connect(path)
    plain.execute("PRAGMA journal_mode=WAL")
    plain.close()
    engine = connections.writer(path)
    with engine.connect() as connection:
        assert setting(connection, "journal_mode") == TRUNCATE
    engine.dispose()


def test_writer_holds_off_other_writers_from_the_start_of_its_transaction(
    writer: sa.Connection, path: Path
) -> None:
    other = sqlite3.connect(path, timeout=0, isolation_level=None)
    with connections.writing(writer):
        with pytest.raises(sqlite3.OperationalError, match="locked"):
            other.execute("BEGIN IMMEDIATE")
        assert other.execute("SELECT count(*) FROM build").fetchone() == (5,)
    other.execute("BEGIN IMMEDIATE")
    other.close()


def test_reading_holds_nobody_off_before_it_reads_and_after_it_ended(
    writer: sa.Connection, path: Path
) -> None:
    other = sqlite3.connect(path, timeout=0, isolation_level=None)
    with connections.reading(writer):
        other.execute("BEGIN IMMEDIATE")
        assert writer.exec_driver_sql("SELECT count(*) FROM build").scalar_one() == 5
        other.execute("ROLLBACK")
    other.execute("BEGIN EXCLUSIVE")
    other.close()


def test_reading_changes_nothing(writer: sa.Connection) -> None:
    with connections.reading(writer):
        writer.exec_driver_sql("UPDATE glass SET name = 'boot'")
    with connections.reading(writer):
        assert writer.exec_driver_sql("SELECT count(*) FROM glass WHERE name = 'boot'").scalar_one() == 0


def test_failure_in_the_middle_takes_everything_back(writer: sa.Connection) -> None:
    def fail() -> None:
        with connections.writing(writer):
            writer.exec_driver_sql("UPDATE glass SET name = 'boot'")
            raise RuntimeError("ice is out")

    with pytest.raises(RuntimeError, match="ice"):
        fail()
    with connections.reading(writer):
        assert writer.exec_driver_sql("SELECT count(*) FROM glass WHERE name = 'boot'").scalar_one() == 0


def test_failure_at_the_end_takes_everything_back_and_leaves_no_transaction_open(
    writer: sa.Connection,
) -> None:
    with pytest.raises(IntegrityError), connections.writing(writer):
        writer.exec_driver_sql("UPDATE build SET glass = 'boot'")
    assert not connections.driver_of(writer).in_transaction
    with connections.writing(writer):
        writer.exec_driver_sql("UPDATE glass SET name = 'Tall' WHERE slug = 'highball'")


def test_reader_cannot_write(reader: sa.Connection) -> None:
    with pytest.raises(OperationalError, match="readonly"), connections.writing(reader):
        reader.exec_driver_sql("UPDATE glass SET name = 'boot'")


def test_empty_journal_goes_when_it_is_asked_to(writer: sa.Connection, path: Path) -> None:
    with connections.writing(writer):
        writer.exec_driver_sql("UPDATE glass SET name = 'Tall' WHERE slug = 'highball'")
    journal = path.with_name("House.housebook-journal")
    assert journal.stat().st_size == 0
    connections.remove_journal(writer)
    assert not journal.exists()


def test_missing_file_is_not_made_by_opening_it(tmp_path: Path) -> None:
    for make in (connections.writer, connections.reader):
        engine = make(tmp_path / "none.housebook")
        with pytest.raises(OperationalError, match="unable to open"):
            engine.connect()
        engine.dispose()
    assert list(tmp_path.iterdir()) == []
