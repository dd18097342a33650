"""J1: open the program, find a drink, change a pour by keyboard, see every figure move at once, undo, redo."""

from hashlib import sha256
from pathlib import Path

from tests.journeys.driver import Person, kept_rows
from washline.presentation.row_words import RowKind
from washline.ui.build.columns import AMOUNT, MASS
from washline.ui.status_line import ALL_KEPT, TYPING

VERMOUTH = "Vermouth"
CHANGE = "change of Vermouth, dry, 18 %"


def served(person: Person) -> tuple[str, ...]:
    row = next(row for row in person.sheet.model.rows() if row.kind is RowKind.SERVED)
    return row.amount, *(figure.text for figure in row.figures)


def line(person: Person) -> tuple[str, ...]:
    return tuple(figure.text for figure in person.row(VERMOUTH).figures)


def axes(person: Person) -> tuple[float | None, ...]:
    return person.workspace.balance.radar.shape_shown.values


def all_figures(person: Person) -> tuple[object, ...]:
    return person.amount(VERMOUTH), line(person), served(person), person.readings(), axes(person)


def digest(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def test_first_start_opens_the_demo_house_on_its_first_drink(newcomer: Person) -> None:
    assert newcomer.places.demo_book.is_file()
    assert "The Saltmarsh Rooms · demo house book" in newcomer.texts()
    assert newcomer.sheet.title.text() == "Pear Signal"
    assert ALL_KEPT in newcomer.texts()


def test_every_figure_moves_while_an_amount_is_typed_and_nothing_is_written(person: Person) -> None:
    person.find("pear sig")
    before, file_before = all_figures(person), digest(person.document.path)
    assert line(person) == ("59.6", "1.80", "0.241", "8.5", "0.66")
    person.type_amount(VERMOUTH, "1 1/4 oz")

    # 1 1/4 oz of 30 ml are 37.5 ml, which is 0.625 of the 60 ml of before; all else in the glass stays.
    assert line(person) == ("37.2", "1.12", "0.150", "5.3", "0.41")
    assert (served(person)[0], before[2][0]) == ("145", "169")  # type: ignore[index]
    assert all(now != then for now, then in zip(served(person), before[2], strict=True))  # type: ignore[call-overload]
    assert (person.readings()["strength"], person.readings()["ethanol"]) == ("5.0", "5.7")
    axes_before = before[4]
    assert all(now != then for now, then in zip(axes(person), axes_before, strict=True))  # type: ignore[call-overload]

    # All of it says that it is a preview.
    assert TYPING in person.texts()
    assert ALL_KEPT not in person.texts()
    radar, balance = person.workspace.balance.radar.shape_shown, person.workspace.balance
    assert radar.is_preview
    assert radar.before == axes_before
    assert all(row.has_moved for row in balance.table.balance.rows)
    assert balance.tag.isVisible()
    node = person.sheet.model.node(person.sheet.model.index_of(person.row(VERMOUTH).key))
    assert node is not None
    assert MASS in node.moved

    # Nothing of it is in the file.
    assert digest(person.document.path) == file_before
    assert person.labels == []
    person.hands.press("Esc")
    person.see(lambda: not person.sheet.tree.is_editing)
    assert all_figures(person) == before
    assert ALL_KEPT in person.texts()
    assert not balance.tag.isVisible()
    assert digest(person.document.path) == file_before


def test_enter_keeps_the_change_which_is_undone_and_done_again_by_keys(person: Person) -> None:
    path = person.document.path
    rows_before = kept_rows(path)
    person.find("pear sig")
    before = all_figures(person)
    person.type_amount(VERMOUTH, "1 1/4 oz")
    typed = all_figures(person)
    person.keep()
    assert all_figures(person) == typed
    assert person.labels == [CHANGE]
    assert ALL_KEPT in person.texts()
    assert not person.workspace.balance.tag.isVisible()
    rows_after = kept_rows(path)
    assert b'"typed":"1 1/4 oz"' in rows_after

    person.hands.press("Ctrl+Z")
    person.see(lambda: all_figures(person) == before)
    assert kept_rows(path) == rows_before
    person.hands.press("Ctrl+Shift+Z")
    person.see(lambda: all_figures(person) == typed)
    assert kept_rows(path) == rows_after
    person.choose("Edit", f"Undo {CHANGE}")
    person.see(lambda: all_figures(person) == before)
    person.choose("Edit", f"Redo {CHANGE}")
    person.see(lambda: all_figures(person) == typed)


def test_change_is_there_after_a_restart_and_can_still_be_undone(newcomer: Person) -> None:
    person = newcomer
    person.find("pear sig")
    rows_before = kept_rows(person.document.path)
    before = all_figures(person)
    person.type_amount(VERMOUTH, "1 1/4 oz")
    person.keep()
    typed = all_figures(person)
    person.leave()

    person.start()
    assert person.sheet.title.text() == "Pear Signal"
    assert all_figures(person) == typed
    assert person.labels == [CHANGE]
    person.hands.press("Ctrl+Z")
    person.see(lambda: all_figures(person) == before)
    assert f"Undone: {CHANGE}" in person.texts()
    person.leave()

    assert kept_rows(person.places.demo_book) == rows_before
    person.start()
    person.hands.press("Ctrl+Shift+Z")
    person.see(lambda: all_figures(person) == typed)


def test_amount_that_is_being_typed_when_the_program_is_left_is_kept(person: Person) -> None:
    person.find("pear sig")
    person.type_amount(VERMOUTH, "52.5 ml")
    person.leave()
    person.start()
    assert person.amount(VERMOUTH) == "52.5 ml"
    assert person.labels == [CHANGE]


def test_text_that_is_not_understood_yet_is_still_in_its_cell_at_the_next_start(person: Person) -> None:
    person.find("pear sig")
    person.type_amount(VERMOUTH, "two and a bit")
    person.leave()
    person.start()
    index = person.sheet.model.index_of(person.row(VERMOUTH).key, AMOUNT)
    draft = person.sheet.model.draft(index)
    assert draft is not None
    assert draft.text == "two and a bit"
    assert person.labels == []
