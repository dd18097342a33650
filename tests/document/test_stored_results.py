"""Results kept for the next opening: a row that is taken over is the row that a fresh computation would give."""

import logging

import pytest

from tests.document.fakes import MemoryFile
from tests.document.house import (
    CORDIAL,
    LEATHER,
    LIME,
    SIGNAL,
    SIGNAL_GIN,
    SIGNAL_LIME,
    TIDE,
    TIDE_GIN,
    Clock,
    house,
)
from washline.document.commands.house import set_settings
from washline.document.commands.items import remove_item
from washline.document.commands.lines import set_amount
from washline.document.commands.raws import set_component
from washline.document.document import Document
from washline.document.stored_results import MOST_ENTRIES, RENEW_AFTER, StoredResults
from washline.engine.workings import Workings
from washline.model.amount import Amount, millilitres
from washline.problem import UserError


def opened(file: MemoryFile, stamp: str = "engine 1") -> Document:
    """Opens the file as ``opening`` does."""
    workings = Workings(file.book)
    results = StoredResults(file, workings, stamp)
    results.adopt(file.position)
    return Document(file, file.book, workings, results, Clock())


def finish(document: Document) -> None:
    """All that waits, until nothing does."""
    while document.work_on():
        pass


def set_gin(document: Document, number: float) -> None:
    document.do(set_amount(TIDE, TIDE_GIN, millilitres(number)), "change of dry gin")


def rows_are_true(document: Document) -> bool:
    """Whether every row that counts as up to date equals one computed from nothing, to the byte."""
    fresh = Workings(document.book)
    fresh.evaluate_all()
    builds = [key for key in document.book.builds if not document.workings.is_stale(key)]
    return all(
        document.workings.result_now(key).values.tobytes() == fresh.result_now(key).values.tobytes()
        for key in builds
    )


@pytest.fixture
def file() -> MemoryFile:
    """A file whose results were all stored."""
    made = MemoryFile(house())
    finish(opened(made))
    made.calls.clear()
    return made


def test_rows_are_written_in_idle_moments_at_the_number_of_the_journal(file: MemoryFile) -> None:
    assert {key: row[1] for key, row in file.results.items()} == {CORDIAL: 1, LEATHER: 1, SIGNAL: 1, TIDE: 1}
    document = opened(file)
    set_gin(document, 50.0)
    finish(document)
    assert file.results[TIDE][1] == document.journal_number == 2
    assert file.results[SIGNAL][1] == 1


def test_the_next_opening_shows_every_row_before_anything_is_computed(file: MemoryFile) -> None:
    document = opened(file)
    fresh = Workings(file.book)
    for build_id in file.book.builds:
        row = document.workings.result(build_id)
        assert row is not None
        assert row.values.tobytes() == fresh.result_now(build_id).values.tobytes()


def test_nothing_is_written_again_that_is_stored_as_it_is(file: MemoryFile) -> None:
    finish(opened(file))
    assert "results" not in file.calls


def test_rows_of_another_engine_are_not_taken_over(file: MemoryFile) -> None:
    document = opened(file, "engine 2")
    assert document.workings.result(TIDE) is None
    finish(document)
    assert set(file.stamps.values()) == {"engine 2"}


def test_a_row_older_than_a_change_of_its_own_line_is_computed_again(file: MemoryFile) -> None:
    set_gin(opened(file), 60.0)
    document = opened(file)
    assert document.workings.is_stale(TIDE)
    assert not document.workings.is_stale(SIGNAL)
    assert rows_are_true(document)


def test_a_row_older_than_a_change_of_its_ingredient_is_computed_again(file: MemoryFile) -> None:
    opened(file).do(set_component(LIME, "citric", 5.0), "change of lime juice")
    document = opened(file)
    assert document.workings.is_stale(SIGNAL)
    assert not document.workings.is_stale(TIDE)
    assert rows_are_true(document)


def test_a_setting_of_the_house_touches_every_row(file: MemoryFile) -> None:
    opened(file).do(set_settings(fridge_c=2.0), "change of house settings")
    document = opened(file)
    assert all(document.workings.is_stale(build_id) for build_id in document.book.builds)


def test_a_row_of_a_change_that_was_undone_since_is_computed_again(file: MemoryFile) -> None:
    document = opened(file)
    set_gin(document, 60.0)
    finish(document)
    document.undo()
    later = opened(file)
    assert file.results[TIDE][1] == 2
    assert later.workings.is_stale(TIDE)
    assert not later.workings.is_stale(SIGNAL)
    assert rows_are_true(later)


def test_rows_of_several_numbers_on_both_sides_are_each_looked_after(file: MemoryFile) -> None:
    document = opened(file)
    for number in (60.0, 61.0):
        set_gin(document, number)
        finish(document)
        document.do(set_amount(SIGNAL, SIGNAL_LIME, millilitres(number)), "change of lime juice")
        finish(document)
    document.undo()
    document.undo()
    document.undo()
    later = opened(file)
    assert {row[1] for row in file.results.values()} == {1, 4, 5}
    assert later.workings.is_stale(SIGNAL)
    assert later.workings.is_stale(TIDE)
    assert rows_are_true(later)
    finish(later)
    assert rows_are_true(later)


def test_rows_far_behind_are_left_and_rows_somewhat_behind_are_renewed(file: MemoryFile) -> None:
    document = opened(file)
    for count in range(RENEW_AFTER + 1):
        set_gin(document, 20.0 + count)
    finish(document)
    assert {row[1] for row in file.results.values()} == {document.journal_number}
    file.results = {key: (row[0], 1, *row[2:]) for key, row in file.results.items()}
    for count in range(MOST_ENTRIES):
        set_gin(document, 20.0 + count)
    assert opened(file).workings.result(SIGNAL) is None


def test_a_build_with_a_line_that_cannot_be_computed_is_not_stored(file: MemoryFile) -> None:
    document = opened(file)
    document.do(set_amount(SIGNAL, SIGNAL_GIN, Amount(1.0, "bucket")), "change of dry gin")
    finish(document)
    assert file.results[SIGNAL][1] == 1
    later = opened(file)
    assert later.workings.is_stale(SIGNAL)
    assert later.workings.result_now(SIGNAL).problems


def test_builds_that_are_gone_do_not_come_back_from_the_table(file: MemoryFile) -> None:
    opened(file).do(remove_item(TIDE), "removing Sloe Tide")
    document = opened(file)
    finish(document)
    assert document.workings.result(TIDE) is None


def test_a_table_that_cannot_be_written_is_said_once_and_stops_nothing(
    file: MemoryFile, caplog: pytest.LogCaptureFixture
) -> None:
    document = opened(file)
    set_gin(document, 60.0)
    file.fault = UserError("The results could not be kept.", "The disk is full.")
    finish(document)
    finish(document)
    assert [record.getMessage() for record in caplog.records if record.levelno >= logging.WARNING] == [
        "results are not kept for the next opening: The results could not be kept. The disk is full."
    ]
    caplog.clear()
    assert document.workings.pending == 0
