"""House books in real files: opened, edited, closed, opened again."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.document.bytes import bytes_of
from tests.document.house import (
    CORDIAL,
    LEATHER,
    SIGNAL,
    SIGNAL_LIME,
    SIGNAL_SODA,
    TIDE,
    TIDE_GIN,
    TOP_ID,
    Clock,
    amount_of,
    house,
)
from tests.document.soundness import assert_sound
from washline.document.commands.command import Refusal, in_turn
from washline.document.commands.items import remove_item, rename
from washline.document.commands.lines import set_amount, set_kind
from washline.document.commands.twisting import make_twist, take_parents_place, twist_part_for
from washline.document.document import Document
from washline.document.opening import create_document, open_document
from washline.model.amount import grams, millilitres
from washline.model.step import Add
from washline.problem import UserError
from washline.store import HouseBookExists, HouseBookFile, NotAHouseBook


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "saltmarsh.housebook"


@pytest.fixture
def document(path: Path, clock: Clock) -> Iterator[Document]:
    made = create_document(path, house(), "the Saltmarsh Rooms", clock=clock)
    yield made
    made.close()


def set_lime(document: Document, number: float, merge_key: object | None = None) -> None:
    command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(number))
    document.do(command, "change of lime juice", merge_key=merge_key)


def test_a_new_house_book_holds_what_it_was_made_of_and_has_nothing_to_undo(document: Document) -> None:
    assert bytes_of(document.book) == bytes_of(house())
    assert document.undo_label == ""
    assert document.undo() is None
    assert [entry.label for entry in document.history()] == ["the Saltmarsh Rooms"]


def test_edits_and_their_history_are_there_after_opening_again(
    document: Document, path: Path, clock: Clock
) -> None:
    set_lime(document, 20.0)
    document.do(rename(TIDE, "Ebb"), "renaming Sloe Tide to Ebb")
    document.undo()
    edited = bytes_of(document.book)
    document.close()
    clock.pass_seconds(86_400.0)
    again = open_document(path, clock=clock)
    try:
        assert bytes_of(again.book) == edited
        assert (again.undo_label, again.redo_label) == ("change of lime juice", "renaming Sloe Tide to Ebb")
        entry = again.undo_entry
        assert entry is not None
        assert again.is_from_before(entry)
        again.redo()
        assert again.book.builds[TIDE].name == "Ebb"
        again.undo()
        again.undo()
        assert bytes_of(again.book) == bytes_of(house())
    finally:
        again.close()


def test_the_readings_of_the_last_opening_stand_in_the_first_frame(
    document: Document, path: Path, clock: Clock
) -> None:
    while document.work_on():
        pass
    set_lime(document, 20.0)
    rows = {key: document.workings.result_now(key).values.tobytes() for key in document.book.builds}
    document.close()
    again = open_document(path, clock=clock)
    try:
        kept = again.workings.result(TIDE)
        assert kept is not None
        assert kept.values.tobytes() == rows[TIDE]
        assert again.workings.is_stale(SIGNAL)
        assert again.workings.result_now(SIGNAL).values.tobytes() == rows[SIGNAL]
    finally:
        again.close()


def test_quick_steps_are_one_entry_on_disk(document: Document, path: Path, clock: Clock) -> None:
    for number in (16.0, 17.0, 18.0):
        set_lime(document, number, merge_key="lime")
    document.close()
    again = open_document(path, clock=clock)
    try:
        assert amount_of(again.book, SIGNAL, SIGNAL_LIME) == millilitres(18.0)
        assert len(again.history()) == 2
        again.undo()
        assert bytes_of(again.book) == bytes_of(house())
    finally:
        again.close()


def test_every_kind_of_edit_reaches_the_file_and_comes_back_from_it(
    document: Document, path: Path, clock: Clock
) -> None:
    twist = TOP_ID + 1
    document.do(make_twist(SIGNAL, "bay twist"), "twist of Pear Signal")
    document.do(set_amount(twist, twist + 3, millilitres(7.5)), "change of lime juice")
    document.do(take_parents_place(twist), "bay twist taking the place of Pear Signal")
    document.do(set_kind(SIGNAL, SIGNAL_SODA, Add), "change of soda water")
    document.do(twist_part_for(TIDE, [CORDIAL], set_amount(CORDIAL, 43, grams(300.0))), "change for one")
    document.do(in_turn(remove_item(LEATHER), remove_item(SIGNAL)), "removing two")
    edited = bytes_of(document.book)
    document.close()
    again = open_document(path, clock=clock)
    try:
        assert bytes_of(again.book) == edited
        assert_sound(again.book)
        while again.undo():
            assert_sound(again.book)
        assert bytes_of(again.book) == bytes_of(house())
        while again.redo():
            pass
        assert bytes_of(again.book) == edited
    finally:
        again.close()


def test_new_ids_are_new_after_opening_again_too(document: Document, path: Path, clock: Clock) -> None:
    document.do(make_twist(SIGNAL, "bay twist"), "twist of Pear Signal")
    top_id = document.book.top_id
    document.undo()
    document.close()
    again = open_document(path, clock=clock)
    try:
        assert again.book.top_id == top_id
    finally:
        again.close()


def test_a_second_window_may_only_look(document: Document, path: Path, clock: Clock) -> None:
    second = open_document(path, clock=clock)
    try:
        assert second.is_read_only
        assert second.held_by
        with pytest.raises(Refusal, match="is open for reading only"):
            set_lime(second, 20.0)
        while second.work_on():
            pass
        assert second.workings.result(TIDE) is not None
    finally:
        second.close()


def test_the_state_at_opening_is_backed_up_before_the_first_edit(
    document: Document, tmp_path: Path, clock: Clock
) -> None:
    set_lime(document, 20.0)
    assert document.backup_problem is None
    backups = [found for found in tmp_path.rglob("*.housebook") if found != document.path]
    assert len(backups) == 1
    with HouseBookFile.open(backups[0], read_only=True) as copy:
        assert bytes_of(copy.load()) == bytes_of(house())


def test_a_file_that_is_there_is_not_written_over(document: Document, path: Path, clock: Clock) -> None:
    with pytest.raises(HouseBookExists):
        create_document(path, house(), "again", clock=clock)
    set_lime(document, 20.0)


def test_what_is_no_house_book_is_not_opened(path: Path, clock: Clock) -> None:
    path.write_text("lime juice 15 ml", encoding="utf-8")
    with pytest.raises(NotAHouseBook) as refused:
        open_document(path, clock=clock)
    assert isinstance(refused.value, UserError)
    assert path.read_text(encoding="utf-8") == "lime juice 15 ml"


def test_a_file_made_read_only_is_opened_to_look_at(document: Document, path: Path, clock: Clock) -> None:
    document.close()
    again = open_document(path, clock=clock, read_only=True)
    try:
        assert again.is_read_only
        assert amount_of(again.book, TIDE, TIDE_GIN) == millilitres(45.0)
    finally:
        again.close()


def test_a_file_whose_content_cannot_be_read_is_let_go_of(
    document: Document, path: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    document.close()

    def fail(_: HouseBookFile) -> None:
        raise UserError("Parts of the file cannot be read.")

    with monkeypatch.context() as patched:
        patched.setattr(HouseBookFile, "load", fail)
        with pytest.raises(UserError, match="Parts of the file"):
            open_document(path, clock=clock)
    again = open_document(path, clock=clock)
    try:
        assert not again.is_read_only
    finally:
        again.close()
