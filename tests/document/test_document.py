"""The one door: order of an edit, failure, history, notices, previews, read-only books."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.document.bytes import bytes_of
from tests.document.fakes import MemoryFile
from tests.document.house import (
    CORDIAL,
    GIN,
    LEATHER,
    LIME,
    SIGNAL,
    SIGNAL_GIN,
    SIGNAL_LIME,
    TIDE,
    Clock,
    amount_of,
    house,
)
from washline.document.commands.command import Refusal
from washline.document.commands.items import rename
from washline.document.commands.lines import add_line, set_amount
from washline.document.document import Document
from washline.document.notice import Changed
from washline.document.stored_results import StoredResults
from washline.engine.workings import Workings
from washline.model.amount import grams, millilitres
from washline.model.change import Table
from washline.problem import UserError

DISK_FULL = UserError("The change could not be kept.", "The disk is full.", "Free some space.")


class Opened:
    """A document over a file in memory, with its clock and all notices that it sent."""

    def __init__(self, *, is_read_only: bool = False, held_by: str = "") -> None:
        self.file = MemoryFile(house(), is_read_only=is_read_only, held_by=held_by)
        self.clock = Clock()
        workings = Workings(self.file.book)
        results = StoredResults(self.file, workings, "stamp")
        self.document = Document(self.file, self.file.book, workings, results, self.clock)
        self.notices: list[Changed] = []
        self.document.subscribe(self.notices.append)

    def lime(self) -> float:
        return amount_of(self.document.book, SIGNAL, SIGNAL_LIME).number

    def set_lime(self, number: float, merge_key: object | None = None) -> Changed | None:
        command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(number))
        return self.document.do(command, "change of lime juice", merge_key=merge_key)


@pytest.fixture
def opened() -> Opened:
    return Opened()


def test_an_edit_is_written_and_told_once(opened: Opened) -> None:
    origin = object()
    command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(20.0))
    changed = opened.document.do(command, "change of lime juice", origin)
    assert opened.notices == [changed]
    assert changed is not None
    assert (changed.kind, changed.label, changed.origin, changed.revision) == (
        "do",
        "change of lime juice",
        origin,
        1,
    )
    assert [(change.table, change.key) for change in changed.change_set.changes] == [
        (Table.STEP, SIGNAL_LIME)
    ]
    assert bytes_of(opened.file.book) == bytes_of(opened.document.book)


def test_what_is_on_the_screen_is_computed_before_the_notice(opened: Opened) -> None:
    opened.document.shown([SIGNAL, 999])
    before = opened.document.workings.result_now(SIGNAL)
    changed = opened.set_lime(20.0)
    assert changed is not None
    assert changed.items == {SIGNAL}
    after = opened.document.workings.result(SIGNAL)
    assert after is not None
    assert not opened.document.workings.is_stale(SIGNAL)
    assert (after.value("acidity") or 0.0) > (before.value("acidity") or 0.0)


def test_an_edit_that_changes_nothing_leaves_no_trace(opened: Opened) -> None:
    assert opened.set_lime(15.0) is None
    assert opened.file.calls == []
    assert opened.notices == []
    assert opened.document.history() == []


def test_a_refused_edit_changes_nothing(opened: Opened) -> None:
    with pytest.raises(Refusal):
        opened.document.do(add_line(CORDIAL, LEATHER, grams(10.0)), "adding pear leather")
    assert bytes_of(opened.document.book) == bytes_of(house())
    assert opened.file.calls == []
    assert opened.notices == []


def test_an_edit_that_cannot_be_written_changes_nothing_in_memory(opened: Opened) -> None:
    opened.file.fault = DISK_FULL
    with pytest.raises(UserError, match="The disk is full"):
        opened.set_lime(20.0)
    assert opened.lime() == 15.0
    assert opened.notices == []
    assert opened.document.revision == 0
    opened.file.fault = None
    opened.set_lime(20.0)
    assert opened.document.undo_label == "change of lime juice"


def test_an_undo_that_cannot_be_written_changes_nothing_in_memory(opened: Opened) -> None:
    opened.set_lime(20.0)
    opened.file.fault = DISK_FULL
    with pytest.raises(UserError):
        opened.document.undo()
    assert opened.lime() == 20.0
    assert len(opened.notices) == 1


def test_undo_and_redo_go_back_and_forth_under_the_label_of_the_edit(opened: Opened) -> None:
    opened.set_lime(20.0)
    opened.document.do(rename(TIDE, "Ebb"), "renaming Sloe Tide to Ebb")
    assert opened.document.undo_label == "renaming Sloe Tide to Ebb"
    opened.document.undo()
    assert (opened.document.undo_label, opened.document.redo_label) == (
        "change of lime juice",
        "renaming Sloe Tide to Ebb",
    )
    opened.document.undo("menu")
    assert bytes_of(opened.document.book) == bytes_of(house())
    assert (opened.document.undo_label, opened.document.redo_label) == ("", "change of lime juice")
    opened.document.redo()
    assert opened.lime() == 20.0
    assert [notice.kind for notice in opened.notices] == ["do", "do", "undo", "undo", "redo"]
    assert opened.notices[3].origin == "menu"
    assert opened.notices[3].label == "change of lime juice"


def test_with_nothing_to_take_back_nothing_happens(opened: Opened) -> None:
    assert opened.document.undo() is None
    assert opened.document.redo() is None
    assert opened.notices == []


def test_a_new_edit_forgets_what_was_undone(opened: Opened) -> None:
    opened.set_lime(20.0)
    opened.document.undo()
    opened.set_lime(30.0)
    assert opened.document.redo_label == ""
    assert [entry.label for entry in opened.document.history()] == ["change of lime juice"]


def test_undo_of_a_notice_carries_the_reversed_rows(opened: Opened) -> None:
    done = opened.set_lime(20.0)
    undone = opened.document.undo()
    assert done is not None
    assert undone is not None
    assert undone.change_set == done.change_set.reversed()


def test_quick_steps_of_one_value_are_one_entry(opened: Opened) -> None:
    for number in (16.0, 17.0, 18.0):
        opened.set_lime(number, merge_key=("step", SIGNAL_LIME))
        opened.clock.pass_seconds(0.9)
    assert [entry.label for entry in opened.document.history()] == ["change of lime juice"]
    assert bytes_of(opened.file.book) == bytes_of(opened.document.book)
    opened.document.undo()
    assert opened.lime() == 15.0
    opened.document.redo()
    assert opened.lime() == 18.0


def test_each_quick_step_is_told_with_what_it_changed(opened: Opened) -> None:
    opened.set_lime(16.0, merge_key="lime")
    second = opened.set_lime(17.0, merge_key="lime")
    assert second is not None
    before = second.change_set.changes[0].before
    assert before is not None
    assert before.amount.number == 16.0  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "between",
    [
        pytest.param(lambda opened: opened.clock.pass_seconds(1.0), id="a second later"),
        pytest.param(
            lambda opened: opened.document.do(rename(TIDE, "Ebb"), "renaming"), id="after another edit"
        ),
        pytest.param(lambda opened: (opened.set_lime(20.0), opened.document.undo()), id="after an undo"),
    ],
)
def test_steps_that_are_not_one_gesture_stay_apart(
    opened: Opened, between: Callable[[Opened], object]
) -> None:
    opened.set_lime(16.0, merge_key="lime")
    between(opened)
    opened.set_lime(17.0, merge_key="lime")
    opened.document.undo()
    assert opened.lime() == 16.0


def test_other_values_and_edits_without_a_key_are_not_merged(opened: Opened) -> None:
    opened.set_lime(16.0, merge_key="lime")
    opened.document.do(
        set_amount(SIGNAL, SIGNAL_GIN, millilitres(31.0)), "change of dry gin", merge_key="gin"
    )
    opened.set_lime(17.0)
    opened.set_lime(18.0)
    assert len(opened.document.history()) == 4


def test_stepping_back_to_the_start_is_kept_as_a_step_of_its_own(opened: Opened) -> None:
    opened.set_lime(16.0, merge_key="lime")
    opened.set_lime(15.0, merge_key="lime")
    assert len(opened.document.history()) == 2
    opened.document.undo()
    assert opened.lime() == 16.0


def test_a_merged_step_that_cannot_be_written_leaves_the_one_before(opened: Opened) -> None:
    opened.set_lime(16.0, merge_key="lime")
    opened.file.fault = DISK_FULL
    with pytest.raises(UserError):
        opened.set_lime(17.0, merge_key="lime")
    assert opened.lime() == 16.0
    opened.file.fault = None
    opened.set_lime(18.0, merge_key="lime")
    opened.document.undo()
    assert opened.lime() == 15.0


def test_a_preview_keeps_nothing(opened: Opened) -> None:
    command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(60.0))
    book = opened.document.preview(command)
    trace = opened.document.workings.trace(SIGNAL, book)
    assert amount_of(book, SIGNAL, SIGNAL_LIME) == millilitres(60.0)
    assert (trace.result.value("acidity") or 0.0) > (
        opened.document.workings.result_now(SIGNAL).value("acidity") or 0.0
    )
    assert opened.lime() == 15.0
    assert opened.file.calls == []
    assert opened.notices == []


def test_a_preview_refuses_what_the_edit_would(opened: Opened) -> None:
    with pytest.raises(Refusal, match="made of itself"):
        opened.document.preview(add_line(CORDIAL, LEATHER, grams(10.0)))


def test_what_was_previewed_is_what_is_written(opened: Opened) -> None:
    command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(60.0))
    book = opened.document.preview(command)
    opened.document.do(command, "change of lime juice")
    assert opened.document.book is book
    assert opened.lime() == 60.0


def test_a_preview_of_an_older_state_is_made_anew(opened: Opened) -> None:
    command = set_amount(SIGNAL, SIGNAL_LIME, millilitres(60.0))
    opened.document.preview(command)
    opened.document.do(set_amount(SIGNAL, SIGNAL_GIN, millilitres(33.0)), "change of gin")
    opened.document.do(command, "change of lime juice")
    assert amount_of(opened.document.book, SIGNAL, SIGNAL_GIN) == millilitres(33.0)
    assert opened.lime() == 60.0


def test_another_command_than_the_previewed_one_is_carried_out_itself(opened: Opened) -> None:
    opened.document.preview(set_amount(SIGNAL, SIGNAL_LIME, millilitres(60.0)))
    opened.set_lime(20.0)
    assert opened.lime() == 20.0


def test_what_undo_takes_back_follows_every_change(opened: Opened) -> None:
    assert opened.document.undo_label == ""
    opened.set_lime(20.0)
    assert opened.document.undo_label == "change of lime juice"
    opened.document.undo()
    assert opened.document.undo_label == ""
    opened.document.redo()
    assert opened.document.undo_label == "change of lime juice"


def test_a_listener_may_not_change_the_document(opened: Opened) -> None:
    def change_back(_: Changed) -> None:
        opened.document.undo()

    opened.document.subscribe(change_back)
    with pytest.raises(RuntimeError, match="while being told of a change"):
        opened.set_lime(20.0)
    assert opened.lime() == 20.0
    assert len(opened.document.history()) == 1


def test_a_listener_may_not_work_in_the_background_either(opened: Opened) -> None:
    opened.document.subscribe(lambda _: opened.document.work_on() and None)
    with pytest.raises(RuntimeError, match="while being told of a change"):
        opened.set_lime(20.0)


def test_a_listener_that_fails_does_not_keep_the_others_from_hearing(opened: Opened) -> None:
    def fail(_: Changed) -> None:
        raise KeyError("a fault of a panel")

    heard: list[Changed] = []
    opened.document.subscribe(fail)
    opened.document.subscribe(heard.append)
    with pytest.raises(KeyError, match="a fault of a panel"):
        opened.set_lime(20.0)
    assert len(heard) == 1
    with pytest.raises(KeyError):
        opened.set_lime(21.0)
    assert len(heard) == 2


def test_listeners_hear_in_the_order_in_which_they_came_until_they_leave(opened: Opened) -> None:
    heard: list[str] = []
    leave = opened.document.subscribe(lambda _: heard.append("first"))
    opened.document.subscribe(lambda _: heard.append("second"))
    opened.set_lime(20.0)
    leave()
    leave()
    opened.set_lime(21.0)
    assert heard == ["first", "second", "second"]


def test_a_listener_may_leave_while_it_is_told(opened: Opened) -> None:
    heard: list[str] = []

    def once(_: Changed) -> None:
        heard.append("once")
        leave()

    leave = opened.document.subscribe(once)
    opened.document.subscribe(lambda _: heard.append("always"))
    opened.set_lime(20.0)
    opened.set_lime(21.0)
    assert heard == ["once", "always", "always"]


@pytest.mark.parametrize(
    ("held_by", "words"),
    [
        (
            "Ines, since 17:02, process 4711",
            "It is being edited by Ines, since 17:02, process 4711. Close it where",
        ),
        ("", "Its file cannot be written. Save a copy in a folder of your own"),
    ],
)
def test_a_book_that_is_only_read_refuses_to_change(held_by: str, words: str) -> None:
    opened = Opened(is_read_only=True, held_by=held_by)
    for change in (lambda: opened.set_lime(20.0), opened.document.undo, opened.document.redo):
        with pytest.raises(Refusal, match="“saltmarsh.housebook” is open for reading only") as refused:
            change()
        assert words in str(refused.value)
    assert opened.document.held_by == held_by
    assert words.startswith(opened.document.why_read_only)
    assert opened.document.is_read_only
    assert opened.lime() == 15.0


def test_a_book_that_is_only_read_is_computed_but_neither_backed_up_nor_written(opened: Opened) -> None:
    opened = Opened(is_read_only=True)
    while opened.document.work_on():
        pass
    assert opened.document.workings.pending == 0
    assert opened.file.calls == []


def test_the_file_is_copied_once_before_the_first_change(opened: Opened) -> None:
    opened.set_lime(20.0)
    opened.set_lime(21.0)
    opened.document.work_on()
    assert opened.file.calls[:3] == ["backup", "write", "write"]
    assert opened.file.calls.count("backup") == 1


def test_the_file_is_copied_in_the_first_idle_moment(opened: Opened) -> None:
    opened.document.work_on()
    assert opened.file.calls == ["backup"]


def test_a_copy_that_fails_is_told_and_stops_nothing(opened: Opened) -> None:
    opened.file.backup_fault = DISK_FULL
    opened.set_lime(20.0)
    assert opened.document.backup_problem is DISK_FULL
    assert opened.lime() == 20.0


def test_the_rest_is_computed_in_idle_moments_with_the_screen_first(opened: Opened) -> None:
    opened.document.shown([TIDE])
    assert opened.document.work_on()
    assert opened.notices[0].kind == "computed"
    assert opened.notices[0].items == {TIDE, CORDIAL}
    while opened.document.work_on():
        pass
    assert opened.document.workings.pending == 0
    computed = frozenset[int]().union(*(notice.items for notice in opened.notices))
    assert computed == {CORDIAL, LEATHER, SIGNAL, TIDE}
    assert not opened.document.work_on()


def test_a_changed_ingredient_reaches_the_users_of_its_parts_on_the_screen_at_once(opened: Opened) -> None:
    opened.document.workings.evaluate_all()
    opened.document.shown([SIGNAL])
    before = opened.document.workings.result_now(SIGNAL).value("sweetness") or 0.0
    changed = opened.document.do(set_amount(CORDIAL, 43, grams(600.0)), "change of white sugar")
    assert changed is not None
    assert changed.items >= {CORDIAL, SIGNAL}
    assert (opened.document.workings.result_now(SIGNAL).value("sweetness") or 0.0) > before


def test_the_last_change_of_a_drink_is_its_own(opened: Opened) -> None:
    opened.set_lime(20.0)
    opened.document.do(rename(GIN, "gin"), "renaming dry gin to gin")
    entry = opened.document.last_change(SIGNAL)
    assert entry is not None
    assert entry.label == "change of lime juice"
    assert opened.document.last_change(TIDE) is None
    assert opened.document.journal_number == entry.number + 1


def test_entries_from_before_this_opening_are_told_apart(opened: Opened) -> None:
    opened.set_lime(20.0)
    workings = Workings(opened.file.book)
    later = Document(
        opened.file, opened.file.book, workings, StoredResults(opened.file, workings, "stamp"), opened.clock
    )
    entry = later.undo_entry
    assert entry is not None
    assert later.is_from_before(entry)
    later.do(rename(TIDE, "Ebb"), "renaming")
    assert later.undo_entry is not None
    assert not later.is_from_before(later.undo_entry)


def test_a_closed_document_can_be_closed_again_and_not_changed(opened: Opened) -> None:
    opened.document.close()
    opened.document.close()
    assert opened.file.calls == ["close"]
    assert not opened.document.work_on()
    with pytest.raises(RuntimeError, match="closed"):
        opened.set_lime(20.0)


def test_the_document_knows_its_file(opened: Opened) -> None:
    assert opened.document.path == Path("saltmarsh.housebook")
    assert LIME in opened.document.book.raws
