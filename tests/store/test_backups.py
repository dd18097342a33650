"""Copies are whole, the last few are kept, and a damaged file never pushes out a sound copy."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.books import NOW, new_amount, small_book
from washline.store import DamagedHouseBook, FileFault, HouseBookFile
from washline.store.backups import KEPT, folder_of


def test_backup_is_a_house_book_with_its_history(path: Path, tmp_path: Path) -> None:
    with HouseBookFile.open(path, backups=tmp_path / "kept") as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
        backup = file.backup()
        expected = file.load()
    with HouseBookFile.open(backup) as copy:
        assert copy.load() == expected
        assert copy.check() == []
        copy.undo(NOW)
        assert copy.load() == small_book()


def test_backup_lies_below_the_folder_that_is_given(path: Path, tmp_path: Path) -> None:
    with HouseBookFile.open(path, backups=tmp_path / "kept") as file:
        assert file.backup().parent.parent == tmp_path / "kept"


def test_backup_lies_beside_the_file_where_no_folder_is_given(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        assert file.backup().parent == path.parent / "House backups"


def test_houses_of_one_name_in_two_folders_have_backups_of_their_own(tmp_path: Path) -> None:
    places = [folder_of(tmp_path / name / "House.housebook", tmp_path) for name in ("first", "second")]
    assert places[0] != places[1]


def test_backup_is_named_by_when_the_book_was_made_and_by_its_journal(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        assert file.backup().name == "20260301184005 00000001 00000001.housebook"
        file.write(new_amount(file.load(), 50.0), "change", NOW)
        file.undo(NOW)
        assert file.backup().name == "20260301184005 00000002 00000001.housebook"


def test_state_that_is_kept_already_is_not_copied_again(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        first = file.backup()
        written = first.stat().st_mtime_ns
        file.write_results("stamp", 1, [])
        assert file.backup() == first
        assert first.stat().st_mtime_ns == written


def test_newest_few_are_kept(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        for number in range(KEPT + 3):
            file.write(new_amount(file.load(), 50.0 + number), "change", NOW)
            newest = file.backup()
    kept = sorted(one.name for one in newest.parent.iterdir())
    assert len(kept) == KEPT
    assert kept[-1] == newest.name
    assert kept[0].split(" ")[1] == "00000005"


def test_backups_of_an_earlier_house_book_of_that_name_stay(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        earlier = file.backup()
    path.unlink()
    with HouseBookFile.create(path, small_book(), "Making") as file:
        for number in range(KEPT + 2):
            file.write(new_amount(file.load(), 50.0 + number), "change", NOW)
            file.backup()
    assert earlier.exists()


def test_damaged_file_is_not_copied_over_sound_ones(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        sound = file.backup()
        file.write(new_amount(file.load(), 50.0), "change", NOW)
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'measure'").fetchone()
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\x55" * 4096
    path.write_bytes(content)
    with HouseBookFile.open(path) as file, pytest.raises(DamagedHouseBook):
        file.backup()
    assert list(sound.parent.iterdir()) == [sound]


def test_copy_is_saved_with_its_history_and_takes_the_place_of_what_was_there(
    path: Path, tmp_path: Path
) -> None:
    target = tmp_path / "Copy.housebook"
    target.write_text("something else")
    with HouseBookFile.open(path) as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
        file.save_copy(target)
        expected = (file.load(), file.entries())
    with HouseBookFile.open(target) as copy:
        assert (copy.load(), copy.entries()) == expected
    assert sorted(one.name for one in tmp_path.iterdir()) == ["Copy.housebook", "House.housebook"]


def test_copy_is_never_saved_over_the_house_book_itself(path: Path) -> None:
    with HouseBookFile.open(path) as file, pytest.raises(FileFault, match="take the place"):
        file.save_copy(path)


def test_copy_into_a_folder_that_is_not_there_is_told(path: Path, tmp_path: Path) -> None:
    with HouseBookFile.open(path) as file, pytest.raises(FileFault):
        file.save_copy(tmp_path / "none" / "Copy.housebook")


def test_copy_can_be_saved_of_a_house_book_that_is_read_only(path: Path, tmp_path: Path) -> None:
    with HouseBookFile.open(path, read_only=True) as file:
        file.save_copy(tmp_path / "Copy.housebook")
    with HouseBookFile.open(tmp_path / "Copy.housebook") as copy:
        assert copy.load() == small_book()
