"""A house book made by version 1 opens in this one with all that was in it, is backed up first, and can be recovered.

``files/version-1.sql`` is such a file as text: the first book, an amount changed, an ingredient with a leftover and a
setting, a note removed, and a change that was taken back.
"""

import random
import re
import shutil
import sqlite3
import time
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from tests.store.books import CORDIAL, LIME, NOW, PULP, first_book, new_amount
from tests.store.usual import with_what_is_usual
from tests.store.victims import Victims
from washline.model.book import HouseBook
from washline.model.change import apply
from washline.model.house import JointCost
from washline.model.step import Add, Heat, Strain, Weight
from washline.store import HouseBookFile, recover
from washline.store.peek import Age, age_of

TEXT = Path(__file__).parent / "files" / "version-1.sql"
NEW_TABLES = {
    "settings_shared",
    "raw_today",
    "raw_may_contain",
    "build_may_contain",
    "leftover_may_contain",
    "step_portion",
    "making",
    "making_yield",
    "settings_swap",
    "build_batch",
    "weighing",
    "calibration",
}
FILLED_TABLES = {"ice", "vessel"}


def made_by_version_1(path: Path, drinks: int = 0) -> Path:
    """The file, with so many more drinks in it."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(TEXT.read_text(encoding="utf-8"))
        for number in range(drinks):
            _copy_drink(connection, 1_000_000 + 1000 * number)
        connection.execute("UPDATE meta SET top_id = max(top_id, (SELECT max(id) FROM step))")
        connection.commit()
    return path


def _copy_drink(connection: sqlite3.Connection, first: int) -> None:
    connection.execute("INSERT INTO item VALUES (?, 'build')", (first,))
    for table, key, where in (("build", "id", "id = 20"), ("step", "id", "build_id = 20")):
        names = [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]
        values = {"id": f"{first} + id", "build_id": f"{first}"} if table == "step" else {key: f"{first}"}
        chosen = ", ".join(values.get(name, f'"{name}"') for name in names)
        connection.execute(f"INSERT INTO {table} SELECT {chosen} FROM {table} WHERE {where}")


@pytest.fixture
def old(tmp_path: Path) -> Path:
    return made_by_version_1(tmp_path / "House.housebook")


def book_in_it() -> HouseBook:
    """What version 1 had written, in the words of this version."""
    book = apply(first_book(), new_amount(first_book(), 50.0))
    cordial = book.builds[CORDIAL]
    book = book.with_build(
        structs.replace(
            cordial, note="two jars", steps=tuple(step for step in cordial.steps if step.id != 110)
        )
    )
    book = book.with_raw(structs.replace(book.raws[LIME], name="lime juice, pressed", house_days=2))
    book = book.with_leftover(structs.replace(book.leftovers[PULP], piece_g=2.5))
    book = with_what_is_usual(book)
    return replace(book.with_settings(structs.replace(book.settings, room_c=21.0)), top_id=30_000)


def records(path: Path) -> dict[str, list[dict[str, object]]]:
    """All rows by table, each by its columns."""
    with closing(sqlite3.connect(path)) as connection:
        connection.row_factory = sqlite3.Row
        names = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        return {name: [dict(row) for row in connection.execute(f"SELECT * FROM {name}")] for name in names}


def test_it_is_one_of_an_older_version(old: Path) -> None:
    assert age_of(old) is Age.BEHIND


def test_it_opens_with_all_that_was_in_it(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        assert not file.is_read_only
        assert file.load() == book_in_it()
        assert file.check() == []


def test_what_version_1_did_not_know_has_its_usual_value(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        book = file.load()
    assert (book.settings.joint_cost, book.settings.tax_pct, book.settings.shared) == (
        JointCost.MAIN,
        20.0,
        (),
    )
    assert (book.settings.service_ends, book.settings.labour_per_hour) == ("02:00", None)
    steps = {step.id: step for step in book.builds[CORDIAL].steps}
    add, heat, strain = steps[101], steps[105], steps[107]
    assert isinstance(add, Add)
    assert isinstance(heat, Heat)
    assert isinstance(strain, Strain)
    assert (add.weight, add.bought_g) == (Weight.USED, None)
    assert (heat.final_brix, heat.ethanol_way) == (None, "")
    assert (strain.way, strain.measured_brix) == ("", None)
    assert book.makings == {}


def test_every_row_keeps_every_value_that_it_had(old: Path) -> None:
    before = records(old)
    HouseBookFile.open(old).close()
    after = records(old)
    assert after.keys() - before.keys() == NEW_TABLES | FILLED_TABLES
    for table in before.keys() - {"alembic_version", "result"}:
        kept = [
            {name: row[name] for name in old_row}
            for old_row, row in zip(before[table], after[table], strict=True)
        ]
        assert kept == before[table], table
        assert before[table], table
    assert all(after[table] == [] for table in NEW_TABLES)
    assert all(after[table] for table in FILLED_TABLES)


def test_readings_of_the_older_engine_are_forgotten(old: Path) -> None:
    assert len(records(old)["result"]) == 1
    HouseBookFile.open(old).close()
    assert records(old)["result"] == []


def test_its_history_can_be_taken_back_and_done_again(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        assert [entry.label for entry in file.entries()][::-1] == [
            "Making of the house book",
            "change of grain spirit",
            "change of lime juice",
            "removing note",
            "change of Lime cordial",
        ]
        assert file.redo(NOW) is not None
        for _ in range(4):
            assert file.undo(NOW) is not None
        assert file.load() == with_what_is_usual(first_book())
        assert file.undo(NOW) is None
        for _ in range(3):
            file.redo(NOW)
        assert file.load() == book_in_it()
        assert file.check() == []


def test_it_is_copied_as_it_was_before_it_is_brought_up_to_date(old: Path, tmp_path: Path) -> None:
    before = records(old)
    HouseBookFile.open(old, backups=tmp_path / "kept").close()
    (backup,) = (tmp_path / "kept").rglob("*.housebook")
    assert records(backup) == before
    assert age_of(backup) is Age.BEHIND
    with HouseBookFile.open(backup) as file:
        assert file.load() == book_in_it()


def test_journal_is_still_kept_in_the_tree_of_its_key(old: Path) -> None:
    HouseBookFile.open(old).close()
    with closing(sqlite3.connect(old)) as connection, pytest.raises(sqlite3.OperationalError, match="rowid"):
        connection.execute("SELECT rowid FROM journal_change")


def test_references_lead_to_the_new_tables(old: Path) -> None:
    HouseBookFile.open(old).close()
    with closing(sqlite3.connect(old)) as connection:
        texts = [row[0] or "" for row in connection.execute("SELECT sql FROM sqlite_master")]
        assert not any(re.search(r"\bold_", text) for text in texts)
        connection.execute("PRAGMA foreign_keys=ON")
        connection.execute("DELETE FROM step WHERE id = 101")
        with pytest.raises(sqlite3.IntegrityError, match="FOREIGN KEY"):
            connection.commit()


def spoil(path: Path, table: str) -> None:
    """Overwrites the first page of a table."""
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (table,)).fetchone()
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\x55" * 4096
    path.write_bytes(content)


def test_damaged_one_is_recovered_from_its_backup_and_its_journal(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        file.write(new_amount(file.load(), 70.0), "change", NOW)
        expected = file.load()
    spoil(old, "step")
    with HouseBookFile.open(recover(old).path) as file:
        assert file.check() == []
        assert file.load() == expected


def test_damaged_one_without_a_backup_is_read_as_far_as_it_goes(old: Path) -> None:
    spoil(old, "journal")
    found = recover(old)
    assert "Parts could not be read" not in found.words
    with HouseBookFile.open(found.path) as file:
        assert file.check() == []
        assert replace(file.load(), top_id=30_000) == book_in_it()


def test_killed_while_it_is_brought_up_to_date_it_is_whole_or_as_it_was(
    tmp_path: Path, victims: Victims
) -> None:
    template = made_by_version_1(tmp_path / "template.housebook", drinks=300)
    before = records(template)
    chance = random.Random(5)
    path = tmp_path / "House.housebook"
    whole_s = _timed(template, path, victims)
    for kill in range(8):
        shutil.copy(template, path)
        victims.start("older", path, seed=kill, until="tries")
        time.sleep(chance.uniform(0.0, 1.2 * whole_s))
        victims.kill()
        with closing(sqlite3.connect(path)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        if "acknowledged" in victims.words or age_of(path) is Age.CURRENT:
            assert age_of(path) is Age.CURRENT
            assert len(records(path)["step"]) == len(before["step"])
        else:
            assert records(path) == before
        with HouseBookFile.open(path) as file:
            assert len(file.load().builds) == 303
            assert file.check() == []


def _timed(template: Path, path: Path, victims: Victims) -> float:
    shutil.copy(template, path)
    start = time.monotonic()
    victims.start("older", path, until="acknowledged")
    victims.wait()
    return time.monotonic() - start
