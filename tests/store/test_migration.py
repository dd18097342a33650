"""A house book of an older version is brought up to date with all its rows, whole or not at all."""

import random
import shutil
import sqlite3
import time
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.books import NOW, large_book, new_amount, tables_of
from tests.store.victims import Victims
from washline.store import (
    DamagedHouseBook,
    HouseBookFile,
    ReadOnlyHouseBook,
    migration,
    opening,
    peek,
)
from washline.store.migration import SCRIPTS, migrate

NEXT = '''
"""Rebuilds tables that have children."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"


def upgrade() -> None:
    for table in ("build", "raw", "step", "item"):
        with op.batch_alter_table(table) as batch:
            batch.add_column(sa.Column("colour", sa.String(), nullable=False, server_default="clear"))
'''

DANGLING = """
revision = "0004"
down_revision = "0003"

from alembic import op


def upgrade() -> None:
    op.execute("DELETE FROM glass")
"""


def scripts_with(folder: Path, following: str) -> Path:
    """The migrations there are and one more."""
    scripts = folder / "migrations"
    shutil.copytree(SCRIPTS, scripts, ignore=shutil.ignore_patterns("__pycache__"))
    (scripts / "versions" / "0004_next.py").write_text(following)
    return scripts


def counts(path: Path) -> dict[str, int]:
    return {name: len(rows) for name, rows in tables_of(path, without=("alembic_version",)).items()}


def version(path: Path) -> tuple[str, int]:
    with closing(sqlite3.connect(path)) as connection:
        (revision,) = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        (number,) = connection.execute("PRAGMA user_version").fetchone()
    return revision, number


@pytest.fixture
def filled(path: Path) -> Path:
    with HouseBookFile.open(path) as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
    return path


def test_migration_that_rebuilds_tables_keeps_every_row_of_their_children(
    filled: Path, tmp_path: Path
) -> None:
    before = counts(filled)
    assert min(before[name] for name in ("raw_price", "build_sign", "step_base", "journal_change")) > 0
    migrate(filled, scripts=scripts_with(tmp_path, NEXT), version=4)
    assert counts(filled) == before
    assert version(filled) == ("0004", 4)
    with closing(sqlite3.connect(filled)) as connection:
        assert connection.execute("SELECT DISTINCT colour FROM build").fetchall() == [("clear",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


def test_rules_of_rebuilt_tables_still_hold(filled: Path, tmp_path: Path) -> None:
    migrate(filled, scripts=scripts_with(tmp_path, NEXT), version=4)
    with closing(sqlite3.connect(filled)) as connection, pytest.raises(sqlite3.IntegrityError, match="CHECK"):
        connection.execute("UPDATE step SET amount_number = -1 WHERE id = 200")


def test_migration_that_leaves_references_to_nothing_is_taken_back(filled: Path, tmp_path: Path) -> None:
    before = tables_of(filled, without=())
    with pytest.raises(DamagedHouseBook, match="build"):
        migrate(filled, scripts=scripts_with(tmp_path, DANGLING), version=4)
    assert tables_of(filled, without=()) == before
    assert version(filled) == ("0003", 3)


def test_older_house_book_is_backed_up_and_brought_up_to_date_when_it_is_opened(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pretend_newer(monkeypatch, scripts_with(tmp_path, NEXT))
    with HouseBookFile.open(filled, backups=tmp_path / "kept") as file:
        assert not file.is_read_only
    assert version(filled) == ("0004", 4)
    (backup,) = (tmp_path / "kept").rglob("*.housebook")
    assert version(backup) == ("0003", 3)


def test_older_house_book_that_cannot_be_written_says_so(
    filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pretend_newer(monkeypatch, scripts_with(tmp_path, NEXT))
    with pytest.raises(ReadOnlyHouseBook, match="older version"):
        HouseBookFile.open(filled, read_only=True)
    assert version(filled) == ("0003", 3)


def pretend_newer(monkeypatch: pytest.MonkeyPatch, scripts: Path) -> None:
    """As if this version had one more migration."""
    monkeypatch.setattr(opening, "HEAD", "0004")
    monkeypatch.setattr(opening, "age_of", lambda path: peek.age_of(path, version=4))
    monkeypatch.setattr(migration, "migrate", lambda path: migrate(path, scripts=scripts, version=4))


def test_killed_migration_is_whole_or_not_at_all(tmp_path: Path, victims: Victims) -> None:
    scripts_with(tmp_path, NEXT)
    template = tmp_path / "template.housebook"
    HouseBookFile.create(template, large_book(30), "Making", clock=lambda: NOW).close()
    before = counts(template)
    chance = random.Random(3)
    path = tmp_path / "House.housebook"
    whole_s = timed(template, path, victims)
    for kill in range(8):
        shutil.copy(template, path)
        victims.start("migrate", path, seed=kill, until="tries")
        time.sleep(chance.uniform(0.0, 1.2 * whole_s))
        victims.kill()
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert counts(path) == before
        assert version(path) == ("0004", 4) or (
            "acknowledged" not in victims.words and version(path) == ("0003", 3)
        )


def timed(template: Path, path: Path, victims: Victims) -> float:
    """How long a migration takes that is not killed."""
    shutil.copy(template, path)
    start = time.monotonic()
    victims.start("migrate", path, until="acknowledged")
    victims.wait()
    return time.monotonic() - start
