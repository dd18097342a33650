"""When the disk is full or another program is in the way, the change is refused and nothing is lost."""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest
from msgspec import structs

from tests.store.books import LIME, NOW, large_book, new_amount, small_book
from washline.model.change import Change, ChangeSet, Table, difference
from washline.store import (
    BusyHouseBook,
    FileFault,
    HistoryRefused,
    HouseBookFile,
    HouseBookProblem,
    NoSpaceLeft,
    ReadOnlyHouseBook,
    RowRefused,
)
from washline.store.connection import driver_of
from washline.store.problem import told


@pytest.fixture
def full(path: Path) -> Iterator[HouseBookFile]:
    """A house book whose file may not grow by one page."""
    with HouseBookFile.open(path) as file:
        driver = driver_of(file._connection)
        (pages,) = driver.execute("PRAGMA page_count").fetchone()
        driver.execute(f"PRAGMA max_page_count = {pages}")
        yield file


def test_full_disk_refuses_the_change_and_keeps_everything(full: HouseBookFile) -> None:
    with pytest.raises(NoSpaceLeft, match="no space left") as caught:
        full.write(difference(small_book(), large_book(200)), "adopting", NOW)
    assert "Nothing was changed" in caught.value.cause
    assert full.load() == small_book()
    assert full.undo_entry is None
    assert full.check() == []


def test_work_goes_on_when_there_is_space_again(full: HouseBookFile) -> None:
    with pytest.raises(NoSpaceLeft):
        full.write(difference(small_book(), large_book(200)), "adopting", NOW)
    driver_of(full._connection).execute("PRAGMA max_page_count = 1000000")
    full.write(difference(small_book(), large_book(200)), "adopting", NOW)
    assert full.load() == large_book(200)


def test_busy_file_refuses_the_change_and_work_goes_on(path: Path) -> None:
    with (
        HouseBookFile.open(path, wait_s=0.05) as file,
        closing(sqlite3.connect(path, isolation_level=None)) as other,
    ):
        change_set = new_amount(file.load(), 50.0)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(BusyHouseBook, match="another program"):
            file.write(change_set, "change", NOW)
        other.execute("ROLLBACK")
        assert file.write(change_set, "change", NOW).number == 2


def test_reader_in_the_middle_holds_the_change_back_only_so_long(path: Path) -> None:
    with (
        HouseBookFile.open(path, wait_s=0.05) as file,
        closing(sqlite3.connect(path, isolation_level=None)) as other,
    ):
        change_set = new_amount(file.load(), 50.0)
        other.execute("BEGIN")
        other.execute("SELECT count(*) FROM step").fetchone()
        with pytest.raises(BusyHouseBook):
            file.write(change_set, "change", NOW)
        other.execute("ROLLBACK")
        file.write(change_set, "change", NOW)
        assert file.check() == []


def test_number_out_of_range_is_told_in_words_and_nothing_is_kept(file: HouseBookFile) -> None:
    with pytest.raises(RowRefused, match="step amount number in range"):
        file.write(new_amount(file.load(), -1.0), "nonsense", NOW)
    assert file.load() == small_book()
    assert file.position == 1


def test_item_in_use_cannot_go(file: HouseBookFile) -> None:
    change_set = ChangeSet((Change(Table.RAW, LIME, file.load().raws[LIME], None),))
    with pytest.raises(RowRefused, match="refers to"):
        file.write(change_set, "removing lime juice", NOW)
    assert file.load() == small_book()
    assert file.check() == []


def test_glass_that_is_not_there_cannot_be_chosen(file: HouseBookFile) -> None:
    build = structs.replace(file.load().builds[20], steps=())
    change_set = ChangeSet((Change(Table.BUILD, 20, build, structs.replace(build, glass="boot")),))
    with pytest.raises(RowRefused):
        file.write(change_set, "boot", NOW)
    assert file.write(new_amount(file.load(), 50.0), "change", NOW).number == 2


def test_all_that_goes_wrong_has_a_cause_and_says_what_to_do(full: HouseBookFile) -> None:
    with pytest.raises(HouseBookProblem) as caught:
        full.write(difference(small_book(), large_book(200)), "adopting", NOW)
    assert caught.value.what
    assert caught.value.remedy.endswith("try again.")


@pytest.mark.parametrize(
    "number, kind",
    [
        (errno.ENOSPC, NoSpaceLeft),
        (errno.EDQUOT, NoSpaceLeft),
        (errno.EACCES, ReadOnlyHouseBook),
        (errno.EROFS, ReadOnlyHouseBook),
        (errno.EIO, FileFault),
    ],
)
def test_fault_of_the_system_becomes_a_problem_in_words(number: int, kind: type[HouseBookProblem]) -> None:
    with pytest.raises(kind, match="House"), told(Path("House.housebook")):
        raise OSError(number, "as the system says")


def test_mistake_of_the_program_stays_one() -> None:
    with (
        closing(sqlite3.connect(":memory:")) as connection,
        pytest.raises(sqlite3.OperationalError, match="syntax"),
        told(Path("House.housebook")),
    ):
        connection.execute("SELEKT")


def test_text_that_no_file_can_hold_is_refused_in_words(file: HouseBookFile) -> None:
    lime = file.load().raws[LIME]
    broken = structs.replace(lime, name="lime \udce9")
    with pytest.raises(RowRefused, match="no file can hold"):
        file.write(ChangeSet((Change(Table.RAW, LIME, lime, broken),)), "renaming", NOW)
    assert file.load() == small_book()


def test_journal_entry_that_is_spoilt_cannot_be_taken_back_and_says_so(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE journal_change SET row_before = '[]'")
    with HouseBookFile.open(path) as file:
        expected = file.load()
        with pytest.raises(HistoryRefused, match="Journal entry 2 cannot be read"):
            file.undo(NOW)
        assert file.load() == expected
