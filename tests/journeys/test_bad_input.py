"""What goes wrong is said in a clear sentence where it happened; nothing is lost, and the window goes on working."""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt

from tests.document.bytes import bytes_of
from tests.journeys.driver import Person, kept_rows
from washline.ui.build.columns import AMOUNT, NAME

NONSENSE = {
    "abc": "Expected a number and a unit, such as 45 ml.",
    "-5 ml": "An amount cannot be below zero.",
    "inf ml": "A number has to be finite.",
    "0/0 oz": "A fraction cannot have 0 below the line.",
    "7 cubits": "unit not known: ml, cl, oz, g, dash, drop, %",
    "9e99 ml": "unit not known: ml, cl, oz, g, dash, drop, %",
}


def said_in_cell(person: Person, name: str, column: int) -> tuple[str, str]:
    """The text that was left in a cell, and the line that says what was expected there."""
    index = person.sheet.model.index_of(person.row(name).key, column)
    draft = person.sheet.model.draft(index)
    assert draft is not None
    assert draft.expected in index.data(Qt.ItemDataRole.AccessibleDescriptionRole)
    return draft.text, draft.expected


def goes_on_working(person: Person) -> None:
    """A change can be made and taken back as ever."""
    person.find("pear signal")
    before = bytes_of(person.document.book)
    person.type_amount("Verjus", "20 ml")
    person.keep()
    assert person.amount("Verjus") == "20 ml"
    person.hands.press("Ctrl+Z")
    person.see(lambda: bytes_of(person.document.book) == before)


def test_nonsense_stays_in_its_cell_with_one_line_that_says_what_was_expected(person: Person) -> None:
    before = kept_rows(person.document.path)
    person.find("pear signal")
    figures = person.readings()
    for text, expected in NONSENSE.items():
        person.type_amount("Vermouth", text)
        person.keep()
        assert said_in_cell(person, "Vermouth", AMOUNT) == (text, expected)
        assert person.readings() == figures
        assert person.amount("Vermouth") == "60 ml"
    assert person.labels == []
    assert kept_rows(person.document.path) == before

    # Not lost by looking at another drink; Esc gives the amount back.
    person.find("sloe tide")
    person.find("pear signal")
    assert said_in_cell(person, "Vermouth", AMOUNT)[0] == "9e99 ml"
    person.walk_to("Vermouth")
    person.hands.press("F2")
    person.see(lambda: person.sheet.tree.is_editing and person.editor.text() == "9e99 ml")
    person.hands.press("Esc")
    person.see(lambda: not person.sheet.tree.is_editing and not person.sheet.model.drafts)
    goes_on_working(person)


def test_part_cannot_be_poured_into_itself_by_way_of_its_leftover(person: Person) -> None:
    before = kept_rows(person.document.path)
    person.find("pear-sorrel")
    person.walk_to("Malic acid", NAME)
    person.hands.type("pear leather")
    person.see(lambda: person.editor.text() == "pear leather")
    assert person.proposals == ["New ingredient “pear leather”"]
    person.keep()
    text, expected = said_in_cell(person, "Malic acid", NAME)
    assert text == "pear leather"
    assert expected == "This would make it of itself: pear leather → pear-sorrel cordial → pear leather."
    assert kept_rows(person.document.path) == before
    goes_on_working(person)


def test_item_in_use_is_not_removed_and_its_users_are_named(person: Person) -> None:
    before = kept_rows(person.document.path)
    person.find("bay tincture")
    person.choose("Build", "Delete drink or part")
    words = "bay tincture is used in Pear Signal and Pear Signal, bay twist. Take it out there first."
    person.see(lambda: words in person.texts())
    assert kept_rows(person.document.path) == before
    goes_on_working(person)


# Files


def open_file(person: Person, path: Path) -> None:
    """Opens a house book beside the one that is open."""
    count = len(person.programs[-1].windows)
    with person.answering_file_dialog(path):
        person.choose("House book", "Open…")
    person.see(lambda: len(person.programs[-1].windows) == count + 1)
    person.take_window()


def close_window(person: Person) -> None:
    count = len(person.programs[-1].windows)
    person.hands.press("Ctrl+W")
    person.see(lambda: len(person.programs[-1].windows) == count - 1)
    person.take_window()


def demo_bytes(person: Person) -> bytes:
    person.settle()
    return person.document.path.read_bytes()


def no_book(person: Person, path: Path) -> tuple[bytes, str]:
    return b"shopping: lemons, pears\n", "is not a house book"


def newer_book(person: Person, path: Path) -> tuple[bytes, str]:
    path.write_bytes(demo_bytes(person))
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA user_version = 99")
    connection.commit()
    connection.close()
    return path.read_bytes(), "newer version"


def damaged_book(person: Person, path: Path) -> tuple[bytes, str]:
    whole = demo_bytes(person)
    return whole[:9_000] + b"\xff" * 30_000 + whole[39_000:], "damaged"


@pytest.mark.parametrize("make", [no_book, newer_book, damaged_book])
def test_file_that_cannot_be_opened_is_told_and_left_as_it_is(
    person: Person, tmp_path: Path, make: Callable[[Person, Path], tuple[bytes, str]]
) -> None:
    path = tmp_path / "found.housebook"
    content, words = make(person, path)
    path.write_bytes(content)
    open_file(person, path)
    assert person.opening.has_failed
    assert words in person.texts()
    assert "No house book is open" in person.texts()
    assert path.read_bytes() == content
    close_window(person)
    assert path.read_bytes() == content
    goes_on_working(person)


def test_book_that_must_not_be_written_is_shown_and_says_so(
    person: Person, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "kept.housebook"
    path.write_bytes(demo_bytes(person))
    path.chmod(0o444)
    # Whoever runs the tests as root may write all the same: the system's answer is given here.
    ask = os.access
    monkeypatch.setattr(
        os,
        "access",
        lambda file, mode, **more: not (Path(file) == path and mode & os.W_OK) and ask(file, mode, **more),
    )
    content = path.read_bytes()
    open_file(person, path)
    assert "“kept.housebook” is open for reading only." in person.texts()
    assert "Read only: nothing is written" in person.texts()
    cannot_be_changed(person)
    close_window(person)
    assert path.read_bytes() == content
    goes_on_working(person)


def cannot_be_changed(person: Person) -> None:
    """Figures are shown, and typing opens no field."""
    person.find("pear signal")
    assert person.readings()["strength"] == "6.7"
    person.walk_to("Vermouth")
    person.hands.type("45")
    assert not person.sheet.tree.is_editing
    assert person.amount("Vermouth") == "60 ml"


@contextmanager
def held_by_another_process(path: Path) -> Iterator[int]:
    call = (
        "import sys; from pathlib import Path; from washline.store import HouseBookFile\n"
        "book = HouseBookFile.open(Path(sys.argv[1])); print(book.is_read_only, flush=True)\n"
        "sys.stdin.read(); book.close()\n"
    )
    pipes: dict[str, Any] = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
    with subprocess.Popen([sys.executable, "-c", call, str(path)], **pipes) as holder:
        assert holder.stdin is not None
        assert holder.stdout is not None
        assert holder.stdout.readline() == "False\n"
        yield holder.pid
        holder.stdin.close()


def test_book_that_another_process_has_is_shown_for_reading_with_who_has_it(
    person: Person, tmp_path: Path
) -> None:
    path = tmp_path / "shared.housebook"
    path.write_bytes(demo_bytes(person))
    with held_by_another_process(path) as process_id:
        open_file(person, path)
        assert "“shared.housebook” is open for reading only." in person.texts()
        assert f"process {process_id} on " in person.texts()
        cannot_be_changed(person)
        close_window(person)
    open_file(person, path)
    assert not person.document.is_read_only
    goes_on_working(person)
