"""Every change can be taken back and done again, after any time, and nothing else is touched by that."""

import random
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, timedelta, timezone
from pathlib import Path

import pytest
from msgspec import structs

from tests.store.books import CORDIAL, DRINK, LIME, NOW, TWIST, new_amount, small_book, tables_of
from washline.model.book import HouseBook
from washline.model.change import Change, ChangeSet, Table, apply, difference, without_steps
from washline.model.step import Add, Top
from washline.store import Entry, HistoryRefused, HouseBookFile


def write_amount(file: HouseBookFile, number: float, label: str = "change of spirit") -> Entry:
    return file.write(new_amount(file.load(), number), label, NOW)


def amount(file: HouseBookFile) -> float:
    step = next(step for step in file.load().builds[DRINK].steps if step.id == 201)
    return step.amount.number  # type: ignore[union-attr]


def without_drink(book: HouseBook, build_id: int) -> HouseBook:
    return replace(book, builds={key: build for key, build in book.builds.items() if key != build_id})


def test_new_house_book_has_nothing_to_take_back(file: HouseBookFile) -> None:
    assert file.undo_entry is None
    assert file.undo(NOW) is None
    assert file.redo(NOW) is None
    assert [entry.label for entry in file.entries()] == ["Making of the house book"]
    assert file.position == 1


def test_entry_tells_number_label_and_time(file: HouseBookFile) -> None:
    assert write_amount(file, 50.0) == Entry(2, "change of spirit", NOW, is_undone=False)
    assert file.undo_entry == Entry(2, "change of spirit", NOW, is_undone=False)
    assert file.position == 2


def test_undo_gives_back_every_byte_of_every_row(path: Path) -> None:
    before = tables_of(path)
    with HouseBookFile.open(path) as file:
        old = file.load()
        new = without_drink(old, TWIST)
        file.write(difference(old, new), "removing the twist", NOW)
        assert file.load() == new
        file.undo(NOW)
        assert file.load() == old
    assert tables_of(path) == before


def test_undo_returns_what_it_applied(file: HouseBookFile) -> None:
    change_set = new_amount(file.load(), 50.0)
    file.write(change_set, "change of spirit", NOW)
    done = file.undo(NOW)
    assert done is not None
    assert done == (Entry(2, "change of spirit", NOW, is_undone=True), change_set.reversed())
    again = file.redo(NOW)
    assert again == (Entry(2, "change of spirit", NOW, is_undone=False), change_set)


def test_history_survives_closing_at_any_depth(path: Path) -> None:
    numbers = [46.0 + step for step in range(25)]
    with HouseBookFile.open(path) as file:
        for number in numbers:
            write_amount(file, number)
    for expected in [*reversed(numbers[:-1]), 45.0]:
        with HouseBookFile.open(path) as file:
            file.undo(NOW)
            assert amount(file) == expected
    with HouseBookFile.open(path) as file:
        while file.redo(NOW):
            pass
        assert amount(file) == numbers[-1]


def test_undone_entries_are_listed_and_come_back_in_order(file: HouseBookFile) -> None:
    for number in (50.0, 55.0):
        write_amount(file, number)
    file.undo(NOW)
    file.undo(NOW)
    assert [(entry.number, entry.is_undone) for entry in file.entries()] == [(3, True), (2, True), (1, False)]
    redo = file.redo_entry
    assert redo is not None
    assert redo.number == 2
    assert file.position == 1


def test_new_change_drops_what_was_undone_and_gives_no_number_twice(file: HouseBookFile) -> None:
    for number in (50.0, 55.0):
        write_amount(file, number)
    file.undo(NOW)
    file.undo(NOW)
    assert write_amount(file, 60.0).number == 4
    assert file.redo(NOW) is None
    assert [entry.number for entry in file.entries()] == [4, 1]
    file.undo(NOW)
    assert write_amount(file, 65.0).number == 5


def test_number_of_a_dropped_entry_is_not_given_again_after_opening(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        for number in (50.0, 55.0):
            write_amount(file, number)
        file.undo(NOW)
        write_amount(file, 60.0)
        file.undo(NOW)
    with HouseBookFile.open(path) as file:
        assert write_amount(file, 65.0).number == 5


def test_change_in_place_of_the_last_becomes_one_entry(file: HouseBookFile) -> None:
    start = file.load()
    first = file.write(new_amount(start, 46.0), "change of spirit", NOW)
    second = file.write(new_amount(start, 47.0), "change of spirit", NOW, in_place_of=first.number)
    assert (first.number, second.number) == (2, 3)
    assert [entry.number for entry in file.entries()] == [3, 1]
    assert amount(file) == 47.0
    assert file.check() == []
    file.undo(NOW)
    assert file.load() == start


def test_change_in_place_of_an_older_entry_is_a_mistake_of_the_program(file: HouseBookFile) -> None:
    first = write_amount(file, 46.0)
    write_amount(file, 47.0)
    with pytest.raises(ValueError, match="not the newest"):
        file.write(new_amount(file.load(), 48.0), "change", NOW, in_place_of=first.number)
    assert amount(file) == 47.0


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE step SET amount_number = 99 WHERE id = 201",
        "DELETE FROM step WHERE id = 201",
        "PRAGMA ignore_check_constraints=ON; UPDATE step SET kind = 'top' WHERE id = 201",
        "PRAGMA ignore_check_constraints=ON; UPDATE step SET kind = 'adjust' WHERE id = 201",
    ],
)
def test_undo_refuses_where_another_program_changed_the_row(path: Path, statement: str) -> None:
    with HouseBookFile.open(path) as file:
        write_amount(file, 50.0)
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(statement)
    before = tables_of(path, without=())
    with HouseBookFile.open(path) as file, pytest.raises(HistoryRefused, match="another program"):
        file.undo(NOW)
    assert tables_of(path, without=()) == before


def test_redo_refuses_where_another_program_changed_the_row(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        write_amount(file, 50.0)
        file.undo(NOW)
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("UPDATE step SET amount_number = 99 WHERE id = 201")
    with HouseBookFile.open(path) as file, pytest.raises(HistoryRefused):
        file.redo(NOW)


def test_write_refuses_where_the_row_is_gone(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        change_set = new_amount(file.load(), 50.0)
    with closing(sqlite3.connect(path)) as connection, connection:
        connection.execute("DELETE FROM step WHERE id = 201")
    with HouseBookFile.open(path) as file:
        with pytest.raises(HistoryRefused, match="another program"):
            file.write(change_set, "change of spirit", NOW)
        assert file.position == 1


def test_last_change_of_a_row_and_of_a_build(file: HouseBookFile) -> None:
    assert file.last_change_of_build(DRINK) is None
    write_amount(file, 50.0)
    lime = file.load().raws[LIME]
    renamed = structs.replace(lime, name="lime juice, fresh")
    file.write(ChangeSet((Change(Table.RAW, LIME, lime, renamed),)), "renaming of lime juice", NOW)
    assert [entry and entry.number for entry in (
        file.last_change_of_build(DRINK), file.last_change_of_build(TWIST), file.last_change(Table.RAW, LIME),
        file.last_change(Table.STEP, 201), file.last_change(Table.GLASS, "coupe"),
    )] == [2, None, 3, 2, None]  # fmt: skip
    file.undo(NOW)
    assert file.last_change(Table.RAW, LIME) is None


def test_change_of_a_leftover_is_a_change_of_its_build(file: HouseBookFile) -> None:
    pulp = file.load().leftovers[11]
    file.write(
        ChangeSet((Change(Table.LEFTOVER, 11, pulp, structs.replace(pulp, house_days=3)),)), "days", NOW
    )
    entry = file.last_change_of_build(CORDIAL)
    assert entry is not None
    assert entry.number == 2


def test_change_sets_between_two_numbers_come_oldest_first_with_undone_ones(file: HouseBookFile) -> None:
    sets = []
    for number in (50.0, 55.0, 60.0):
        sets.append(new_amount(file.load(), number))
        file.write(sets[-1], "change", NOW)
    file.undo(NOW)
    between = file.change_sets(2, 4)
    assert [(entry.number, entry.is_undone) for entry, _ in between] == [(3, False), (4, True)]
    assert [change_set for _, change_set in between] == sets[1:]


def test_step_may_become_another_kind_and_back(file: HouseBookFile) -> None:
    line = file.load().step(DRINK, 201)
    assert isinstance(line, Add)
    fields = {"place": line.place, "item_id": line.item_id, "amount": line.amount}
    top = Top(id=201, build_id=DRINK, temperature_c=4.0, **fields)  # type: ignore[arg-type]
    file.write(ChangeSet((Change(Table.STEP, 201, line, top),)), "lengthening", NOW)
    assert top in file.load().builds[DRINK].steps
    file.undo(NOW)
    assert file.load() == small_book()


def test_highest_id_given_is_remembered_after_its_row_is_gone(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        book = file.load()
        added = structs.replace(without_steps(book.builds[DRINK]), id=40_000, name="New")
        file.write(ChangeSet((Change(Table.BUILD, 40_000, None, added),)), "adding New", NOW)
        file.undo(NOW)
    with HouseBookFile.open(path) as file:
        assert file.load().top_id == 40_000


def test_entries_come_newest_first_and_at_most_as_many_as_asked_for(file: HouseBookFile) -> None:
    for step in range(5):
        file.write(new_amount(file.load(), 50.0 + step), f"step {step}", NOW + timedelta(minutes=step))
    assert [entry.label for entry in file.entries(2)] == ["step 4", "step 3"]
    assert file.entries(1)[0].when == NOW + timedelta(minutes=4)


def test_random_changes_undone_and_redone_equal_the_same_in_memory(path: Path) -> None:
    chance = random.Random(11)
    with HouseBookFile.open(path) as file:
        book = small_book()
        past: list[HouseBook] = []
        future: list[HouseBook] = []
        for turn in range(150):
            act = chance.choice(("write", "write", "undo", "redo"))
            if act == "write":
                change_set = new_amount(book, float(turn), chance.choice((101, 102, 200, 201)))
                past.append(book)
                future.clear()
                book = apply(book, change_set)
                file.write(change_set, f"turn {turn}", NOW)
            elif act == "undo" and past:
                future.append(book)
                book = past.pop()
                file.undo(NOW)
            elif act == "redo" and future:
                past.append(book)
                book = future.pop()
                file.redo(NOW)
            if turn % 10 == 0:
                assert file.load() == book
        assert file.load() == book
        assert file.check() == []


def test_moments_are_stored_alike_whoever_writes_them(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        write_amount(file, 50.0)
        file.undo(NOW + timedelta(hours=1))
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT made_at, moved_at FROM journal").fetchall() == [
            ("2026-03-01 18:40:05.250000", None),
            ("2026-03-01 18:40:05.250000", "2026-03-01 19:40:05.250000"),
        ]


def test_moment_of_another_zone_is_kept_in_utc(file: HouseBookFile) -> None:
    local = NOW.astimezone(timezone(timedelta(hours=-7)))
    file.write(new_amount(file.load(), 50.0), "change", local)
    assert file.entries(1)[0].when == NOW
    assert file.entries(1)[0].when.tzinfo is UTC
