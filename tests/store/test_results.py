"""Readings are kept to the bit for the next start, and any SQL tool can read them."""

import math
import sqlite3
import struct
from contextlib import closing
from dataclasses import replace
from pathlib import Path

from tests.store.books import CORDIAL, DRINK, NOW, TWIST, new_amount, small_book
from washline.model.change import difference
from washline.model.reading import READING_KEYS
from washline.store import HouseBookFile, StoredResult

COUNT = len(READING_KEYS)


def doubles(*numbers: float) -> bytes:
    return struct.pack(f"<{COUNT}d", *numbers, *([0.0] * (COUNT - len(numbers))))


def row(
    item_id: int, *numbers: float, more: bytes = doubles(), flags: int = 0
) -> tuple[int, int, bytes, bytes, int]:
    return (item_id, 0, doubles(*numbers), more, flags)


def test_readings_come_back_to_the_bit(file: HouseBookFile) -> None:
    values = doubles(14.1, -0.0, math.nan, 5e-324, 1e300, math.inf)
    more = doubles(0.0, 0.1 + 0.2)
    file.write_results("engine 1", 1, [(DRINK, 0, values, more, 5)])
    assert file.read_results("engine 1") == {DRINK: StoredResult(DRINK, 1, values, more, 5)}


def test_readings_of_another_engine_are_passed_over(file: HouseBookFile) -> None:
    file.write_results("engine 1", 1, [row(DRINK, 14.1)])
    assert file.read_results("engine 2") == {}


def test_new_readings_take_the_place_of_old_ones(file: HouseBookFile) -> None:
    file.write_results("engine 1", 1, [row(DRINK, 14.1), row(TWIST, 12.0)])
    file.write_results("engine 2", 1, [row(DRINK, 15.0)])
    assert [file.read_results("engine 1").keys(), file.read_results("engine 2").keys()] == [{TWIST}, {DRINK}]


def test_any_tool_reads_them_by_name(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        more = doubles(0.0, 0.25)
        file.write_results("engine 1", 1, [row(DRINK, 14.1, 7.25, math.nan, more=more, flags=3)])
    with closing(sqlite3.connect(path)) as connection:
        query = (
            "SELECT name, strength, sweetness, sweetness_more, acidity, flags"
            " FROM result JOIN build ON build.id = item_id"
        )
        assert connection.execute(query).fetchall() == [("Tall lime", 14.1, 7.25, 0.25, None, 3)]


def test_readings_of_a_build_that_is_gone_are_passed_over_and_go_with_it(file: HouseBookFile) -> None:
    file.write_results("engine 1", 1, [row(DRINK, 14.1), row(TWIST, 12.0), row(999, 1.0)])
    assert file.read_results("engine 1").keys() == {DRINK, TWIST}
    book = file.load()
    builds = {key: build for key, build in book.builds.items() if key != TWIST}
    file.write(difference(book, replace(book, builds=builds)), "removing", NOW)
    assert file.read_results("engine 1").keys() == {DRINK}


def test_readings_of_an_entry_that_was_dropped_are_passed_over(file: HouseBookFile) -> None:
    file.write(new_amount(file.load(), 50.0), "change", NOW)
    file.write_results("engine 1", 2, [row(DRINK, 14.1)])
    file.write_results("engine 1", 0, [row(CORDIAL, 0.0)])
    file.undo(NOW)
    assert file.read_results("engine 1").keys() == {DRINK, CORDIAL}
    file.write(new_amount(file.load(), 55.0), "change", NOW)
    assert file.read_results("engine 1").keys() == {CORDIAL}


def test_clearing_forgets_all_and_loses_nothing_else(file: HouseBookFile) -> None:
    file.write_results("engine 1", 1, [row(DRINK, 14.1)])
    file.clear_results()
    assert file.read_results("engine 1") == {}
    assert file.load() == small_book()


def test_readings_are_no_entry_of_the_journal(file: HouseBookFile) -> None:
    file.write_results("engine 1", 1, [row(DRINK, 14.1)])
    assert file.position == 1
    assert file.check() == []
