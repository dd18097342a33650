"""What can be saved of a damaged house book is saved, and the user is told what is in the new one."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.books import BREW, CORDIAL, DRINK, LIME, NOW, large_book, new_amount, small_book
from washline.model.book import HouseBook
from washline.model.item import UNKNOWN
from washline.model.step import Adjust
from washline.store import DamagedHouseBook, HouseBookFile, Recovered, recover


def edit(file: HouseBookFile, number: float) -> HouseBook:
    file.write(new_amount(file.load(), number), f"change to {number:g} ml", NOW)
    return file.load()


def spoil_table(path: Path, name: str) -> None:
    """Overwrites the first page of a table."""
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = ?", (name,)).fetchone()
    spoil_page(path, page)


def spoil_page(path: Path, page: int) -> None:
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\x55" * 4096
    path.write_bytes(content)


def recovered(path: Path) -> tuple[HouseBook, Recovered]:
    """The content of the new file, which is whole."""
    before = path.read_bytes()
    found = recover(path)
    assert path.read_bytes() == before
    with HouseBookFile.open(found.path) as file:
        assert file.check() == []
        return file.load(), found


def test_changes_since_the_backup_come_back_from_the_journal(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        edit(file, 50.0)
        file.backup()
        edit(file, 55.0)
        expected = edit(file, 60.0)
    spoil_table(path, "step")
    book, found = recovered(path)
    assert book == expected
    assert found.path.name == "House recovered.housebook"
    assert "All is kept up to change 4, “change to 60 ml”" in found.words
    assert "“House.housebook” is left as it is" in found.words
    with HouseBookFile.open(found.path) as file:
        assert [entry.label for entry in file.entries()][:2] == ["change to 60 ml", "change to 55 ml"]
        file.undo(NOW)
        file.undo(NOW)
        file.undo(NOW)
        assert file.load() == small_book()


def test_what_was_taken_back_or_dropped_since_the_backup_stays_so(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        edit(file, 50.0)
        edit(file, 55.0)
        file.backup()
        file.undo(NOW)
        file.undo(NOW)
        expected = edit(file, 60.0)
        assert file.position == 4
    spoil_table(path, "build")
    book, _ = recovered(path)
    assert book == expected


def test_entry_that_is_undone_in_the_damaged_file_is_undone_in_the_new_one(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        edit(file, 55.0)
        file.backup()
        file.undo(NOW)
    spoil_table(path, "build")
    book, _ = recovered(path)
    assert book == expected


def test_entry_that_was_done_again_since_the_backup_stands(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        file.undo(NOW)
        file.backup()
        file.redo(NOW)
    spoil_table(path, "build")
    assert recovered(path)[0] == expected


def test_unreadable_journal_leaves_the_backup_and_says_so(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        file.backup()
        edit(file, 55.0)
    spoil_table(path, "journal")
    book, found = recovered(path)
    assert book == expected
    assert "Parts of the journal could not be read" in found.words


def test_changes_of_an_entry_that_cannot_be_read_end_the_replay_and_are_counted(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        file.backup()
        edit(file, 55.0)
        edit(file, 60.0)
    spoil_table(path, "journal_change")
    book, found = recovered(path)
    assert book == expected
    assert "2 later changes could not be read and are lost." in found.words


def overwrite(path: Path) -> None:
    path.write_bytes(b"\x55" * 9000)


def cut_off(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:4096])


def take_away_content(path: Path) -> None:
    path.write_bytes(b"")


@pytest.mark.parametrize("spoil", [overwrite, cut_off, take_away_content])
def test_file_that_is_no_database_any_more_is_recovered_from_its_backup(
    path: Path, spoil: Callable[[Path], None]
) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        file.backup()
        edit(file, 55.0)
    spoil(path)
    book, found = recovered(path)
    assert book == expected
    assert found.words.startswith("Recovered from the backup of ")


def test_newest_backup_that_is_sound_is_taken(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        expected = edit(file, 50.0)
        file.backup()
        edit(file, 55.0)
        newest = file.backup()
    overwrite(path)
    spoil_page(newest, 3)
    assert recovered(path)[0] == expected


def test_backups_are_found_in_the_folder_that_was_given(path: Path, tmp_path: Path) -> None:
    with HouseBookFile.open(path, backups=tmp_path / "kept") as file:
        file.backup()
    overwrite(path)
    with HouseBookFile.open(recover(path, backups=tmp_path / "kept").path) as file:
        assert file.load() == small_book()


def test_second_recovery_takes_another_name(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        file.backup()
    assert [recover(path).path.name, recover(path).path.name] == [
        "House recovered.housebook",
        "House recovered 2.housebook",
    ]


def test_without_backup_all_other_tables_are_read(path: Path) -> None:
    spoil_table(path, "target_aim")
    book, found = recovered(path)
    expected = small_book()
    assert book.builds == expected.builds
    assert book.raws == expected.raws
    assert found.words.startswith(
        "There is no backup. Read from the damaged file: 5 builds, 38 steps, 4 raw ingredients."
    )
    assert "target_aim" in found.words
    assert "The history starts anew." in found.words


def test_without_backup_what_refers_to_lost_rows_is_left_out_and_told(path: Path) -> None:
    spoil_table(path, "glass")
    book, _ = recovered(path)
    assert book.builds[DRINK].glass is None
    spoil_table(path, "raw")
    book, found = recovered(path)
    assert book.raws == {}
    assert all(
        getattr(step, "item_id", CORDIAL) == CORDIAL for build in book.builds.values() for step in build.steps
    )
    assert "left out" in found.words


@pytest.mark.parametrize(
    "table",
    [
        "raw_allergen",
        "raw_may_contain",
        "build_allergen",
        "build_may_contain",
        "leftover_may_contain",
        "settings_shared",
    ],
)
def test_lost_allergens_become_unknown_and_never_none(path: Path, table: str) -> None:
    spoil_table(path, table)
    book, found = recovered(path)
    assert all(UNKNOWN in raw.allergens for raw in book.raws.values())
    assert book.raws[LIME].allergens == (UNKNOWN,)
    assert "count as unknown" in found.words


def test_adjustment_whose_likeness_is_lost_goes_with_its_portions(path: Path) -> None:
    spoil_table(path, "raw")
    book, _ = recovered(path)
    assert not any(isinstance(step, Adjust) and step.like_item_id for step in book.builds[BREW].steps)


def test_without_backup_a_bad_page_hides_only_its_own_rows(tmp_path: Path) -> None:
    path = tmp_path / "Large.housebook"
    HouseBookFile.create(path, large_book(300), "Making", clock=lambda: NOW).close()
    with closing(sqlite3.connect(path)) as connection:
        pages = connection.execute(
            "SELECT pageno FROM dbstat WHERE name = 'build' AND pagetype = 'leaf' ORDER BY path"
        ).fetchall()
    spoil_page(path, pages[len(pages) // 2][0])
    book, _ = recovered(path)
    assert 200 < len(book.builds) < 303


def test_nothing_to_read_and_no_backup_is_told(path: Path) -> None:
    overwrite(path)
    with pytest.raises(DamagedHouseBook, match="no backup"):
        recover(path)
    assert [one.name for one in path.parent.iterdir()] == ["House.housebook"]
