"""A house book that version 2 made is opened, backed up and brought up to date with every value that it had.

``files/version-2.sql`` is the text of one that it wrote: the second book of ``books.py`` with a shake, a paddle and egg
white, six changes (four to a method or a raw ingredient) and one of them taken back.
"""

import random
import shutil
import sqlite3
import time
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from msgspec import structs

from tests.store.books import DRINK, NOW, new_amount, raw, second_book
from tests.store.test_version_1 import records, spoil
from tests.store.usual import METHODS, PANTRY, with_what_is_usual
from tests.store.victims import Victims
from washline.model.amount import Heft
from washline.model.book import HouseBook
from washline.model.change import apply
from washline.model.house import Method, MethodKind
from washline.model.step import Add, Chill, ChillBy, Garnish, GarnishWay, IceState, Top
from washline.store import HouseBookFile, recover
from washline.store.peek import Age, age_of

TEXT = Path(__file__).parent / "files" / "version-2.sql"
EGG = 5
NEW_TABLES = {"settings_swap", "build_batch", "weighing", "calibration"}
FILLED_TABLES = {"ice", "vessel"}


def made_by_version_2(path: Path, drinks: int = 0) -> Path:
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
    return made_by_version_2(tmp_path / "House.housebook")


def first_of_all() -> HouseBook:
    """What version 2 had made before any change, in the words of this version."""
    egg = structs.replace(
        raw(EGG, "egg white"), name="egg white of the day", note="pasteurised — “Eier”", foams=True
    )
    shake = Method(
        slug="shake", name="Shake", ice="cubes 30 mm", ice_g=200.0, time_low_s=10.0, time_high_s=15.0,
        dilution_low_pct=48.0, dilution_high_pct=62.0, end_low_c=-8.0, end_high_c=-3.0, source="a book",
    )  # fmt: skip
    paddle = Method(
        slug="paddle", name="Paddle", dilution_low_pct=10.0, dilution_high_pct=20.0, end_low_c=-1.0, end_high_c=3.0
    )  # fmt: skip
    book = second_book().with_raw(egg)
    return with_what_is_usual(replace(book, methods={**book.methods, "shake": shake, "paddle": paddle}))


def book_in_it() -> HouseBook:
    """What version 2 had written, in the words of this version."""
    book = first_of_all()
    shake = structs.replace(book.methods["shake"], dilution_low_pct=0.1 + 0.2, note="our own — ‘as we shake’")
    book = replace(book, methods={"stir": book.methods["stir"], "shake": shake})
    book = book.with_raw(structs.replace(book.raws[EGG], house_days=2))
    return apply(book, new_amount(book, 50.0))


def test_it_is_one_of_an_older_version(old: Path) -> None:
    assert age_of(old) is Age.BEHIND


def test_it_opens_with_all_that_was_in_it(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        assert not file.is_read_only
        assert file.load() == book_in_it()
        assert file.check() == []


def test_method_that_the_pantry_knows_gets_its_heat_and_keeps_what_the_house_typed(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        shake = file.load().methods["shake"]
    assert (shake.kind, shake.published) == (MethodKind.ON_ICE, "shaken")
    assert (shake.approach, shake.tau_s, shake.core) == (1.0, 4.5, 1.0)
    assert (shake.surface_water_pct, shake.vessel_j_per_k, shake.vessel_is_cold) == (3.0, 100.0, True)
    assert (shake.dilution_low_pct, shake.note) == (0.1 + 0.2, "our own — ‘as we shake’")


def test_usual_ices_and_vessels_are_put_in(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        book = file.load()
    assert tuple(book.ices.values()) == PANTRY.ices
    assert tuple(book.vessels.values()) == PANTRY.vessels
    assert book.vessels["still-wine-bottle-750"].rated_kpa is None


def test_every_method_of_the_pantry_is_known_to_the_migration(tmp_path: Path) -> None:
    path = made_by_version_2(tmp_path / "All.housebook")
    with closing(sqlite3.connect(path)) as connection:
        for slug in METHODS:
            connection.execute(
                "INSERT OR IGNORE INTO method SELECT ?, name, ice, ice_g, time_low_s, time_high_s, dilution_low_pct,"
                " dilution_high_pct, end_low_c, end_high_c, source, source_kind, note FROM method WHERE slug = 'stir'",
                (slug,),
            )
        connection.commit()
    with HouseBookFile.open(path) as file:
        book = file.load()
    assert book.methods.keys() >= METHODS.keys()
    assert book == with_what_is_usual(book)


def test_weighed_melts_and_all_else_of_a_step_stay_as_they_are(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        steps = file.load().builds[DRINK].steps
    line, chill, top, garnish = steps[1], steps[2], steps[3], steps[4]
    assert isinstance(line, Add)
    assert isinstance(chill, Chill)
    assert isinstance(top, Top)
    assert isinstance(garnish, Garnish)
    assert line.amount.heft is Heft.EVEN
    assert (chill.melted_g, chill.count, chill.ice_state, chill.by) == (
        18.25,
        10.0,
        IceState.USUAL,
        ChillBy.USUAL,
    )
    assert (top.is_layer, garnish.way, garnish.stays_g) == (False, GarnishWay.GARNISH, None)


def test_every_row_keeps_every_value_that_it_had(old: Path) -> None:
    before = records(old)
    HouseBookFile.open(old).close()
    after = records(old)
    assert after.keys() - before.keys() == NEW_TABLES | FILLED_TABLES
    for table in before.keys() - {"alembic_version", "result", "journal_change"}:
        kept = [
            {name: row[name] for name in old_row}
            for old_row, row in zip(before[table], after[table], strict=True)
        ]
        assert kept == before[table], table
        assert before[table], table
    assert all(after[table] == [] for table in NEW_TABLES)
    assert all(after[table] for table in FILLED_TABLES)


def test_journal_changes_only_where_a_row_got_something_of_the_pantry(old: Path) -> None:
    before = records(old)["journal_change"]
    HouseBookFile.open(old).close()
    after = records(old)["journal_change"]
    moved = [
        (one["table_name"], one["row_key"]) for one, other in zip(before, after, strict=True) if one != other
    ]
    assert moved == [("method", "shake"), ("raw", "5")]


def test_readings_of_the_older_engine_are_forgotten(old: Path) -> None:
    assert len(records(old)["result"]) == 1
    HouseBookFile.open(old).close()
    assert records(old)["result"] == []


def test_its_history_can_be_taken_back_and_done_again(old: Path) -> None:
    with HouseBookFile.open(old) as file:
        assert [entry.label for entry in file.entries()][::-1] == [
            "Making of the house book",
            "change of Shake",
            "change of egg white",
            "removing Paddle",
            "change of grain spirit",
            "weighed melt",
        ]
        assert file.redo(NOW) is not None
        for _ in range(5):
            assert file.undo(NOW) is not None
        assert file.load() == first_of_all()
        assert file.undo(NOW) is None
        for _ in range(4):
            file.redo(NOW)
        assert file.load() == book_in_it()
        assert file.check() == []


def test_it_is_copied_as_it_was_before_it_is_brought_up_to_date(old: Path, tmp_path: Path) -> None:
    before = records(old)
    HouseBookFile.open(old, backups=tmp_path / "kept").close()
    (backup,) = (tmp_path / "kept").rglob("*.housebook")
    assert records(backup) == before
    assert age_of(backup) is Age.BEHIND


def test_damaged_one_without_a_backup_gets_what_is_usual_too(old: Path) -> None:
    spoil(old, "journal")
    found = recover(old)
    with HouseBookFile.open(found.path) as file:
        assert file.check() == []
        assert replace(file.load(), top_id=30_000) == book_in_it()


def test_killed_while_it_is_brought_up_to_date_it_is_whole_or_as_it_was(
    tmp_path: Path, victims: Victims
) -> None:
    template = made_by_version_2(tmp_path / "template.housebook", drinks=300)
    before = records(template)
    chance = random.Random(6)
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
            assert len(file.load().builds) == 304
            assert file.check() == []


def _timed(template: Path, path: Path, victims: Victims) -> float:
    shutil.copy(template, path)
    start = time.monotonic()
    victims.start("older", path, until="acknowledged")
    victims.wait()
    return time.monotonic() - start
