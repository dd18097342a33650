"""Which drink a name means, which house book is read, and how a command speaks."""

import io
from dataclasses import replace as replaced
from pathlib import Path

import pytest
from msgspec.structs import replace

from tests.cli.running import FakePrinter
from tests.presentation.small_house import CORDIAL, LEATHER, OTHER, SIGNAL, house
from washline.cli.books import book_of_build_file, find_build, is_build_file, last_opened, open_book
from washline.cli.console import NOT_FOUND, CommandError, Console
from washline.document.places import Places
from washline.engine.workings import Workings
from washline.exchange.build_file import write_build
from washline.model.book import HouseBook
from washline.problem import UserError


class Terminal(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Always."""
        return True


@pytest.fixture
def console(own_places: Places) -> Console:
    """A console that keeps what is said."""
    return Console(FakePrinter(), io.StringIO(), io.StringIO(), own_places)


def said(console: Console) -> str:
    """What was said beside the result."""
    assert isinstance(console.err, io.StringIO)
    return console.err.getvalue()


def named(**names: str) -> HouseBook:
    """The small house with other names for its builds."""
    book = house()
    ids = {"cordial": CORDIAL, "leather": LEATHER, "signal": SIGNAL, "other": OTHER}
    for key, name in names.items():
        book = book.with_build(replace(book.builds[ids[key]], name=name))
    return book


@pytest.mark.parametrize(
    "words, build_id",
    [
        ("Pear Signal", SIGNAL),
        ("pear signal", SIGNAL),
        ("  PEAR   SIGNAL ", SIGNAL),
        ("Other", OTHER),
        ("leath", LEATHER),
        ("cordial", CORDIAL),
    ],
)
def test_name_means_one_build(words: str, build_id: int) -> None:
    assert find_build(house(), words, "here").id == build_id


def test_accents_and_dashes_do_not_matter() -> None:
    book = named(signal="Crème–Brûlée Sour")
    assert find_build(book, "creme-brulee sour", "here").id == SIGNAL


def test_name_in_full_wins_over_names_that_hold_it() -> None:
    book = named(signal="Ebb", other="Ebb and Flow")
    assert find_build(book, "ebb", "here").id == SIGNAL


def test_case_decides_between_names_that_differ_in_nothing_else() -> None:
    book = named(signal="Ebb", other="EBB")
    assert find_build(book, "EBB", "here").id == OTHER
    with pytest.raises(CommandError, match="any of 2: Ebb; EBB"):
        find_build(book, "ebb", "here")


def test_two_builds_of_one_name_cannot_be_told_apart() -> None:
    with pytest.raises(CommandError) as told:
        find_build(named(signal="Ebb", other="Ebb"), "Ebb", "here")
    assert told.value.exit_code == NOT_FOUND


@pytest.mark.parametrize("words", ["", "   ", "clouds", "%", "\u202e"])
def test_name_of_nothing_is_not_found(words: str) -> None:
    with pytest.raises(CommandError, match="no drink or part called"):
        find_build(house(), words, "here")


def test_long_list_of_candidates_is_cut_and_counted() -> None:
    book = house()
    for number in range(20):
        book = book.with_build(replace(book.builds[OTHER], id=1000 + number, name=f"Tide {number}"))
    with pytest.raises(CommandError, match="any of 20: Tide 0; .*; and 8 more"):
        find_build(book, "tide", "here")


@pytest.mark.parametrize(
    "word, is_file",
    [("a.build.json", True), ("A.BUILD.JSON", True), ("-", True), ("Pear Signal", False), ("json", False)],
)
def test_build_file_is_told_by_its_ending(word: str, is_file: bool) -> None:
    assert is_build_file(word) is is_file


def test_build_file_is_counted_as_it_counts_itself(console: Console) -> None:
    book = house()
    book = book.with_settings(replace(book.settings, oz_ml=29.5735, fizz_loss_pct=10.0, fridge_c=6.0))
    found, build_id = book_of_build_file(write_build(book, SIGNAL), console)
    assert (found.settings.oz_ml, found.settings.fizz_loss_pct, found.settings.fridge_c) == (
        29.5735,
        10.0,
        6.0,
    )
    here = Workings(book).result_now(SIGNAL)
    assert Workings(found).result_now(build_id).values.tolist() == pytest.approx(
        here.values.tolist(), nan_ok=True
    )


def test_build_file_whose_main_build_is_damaged_is_refused(console: Console) -> None:
    data = write_build(house(), SIGNAL).replace(b'"number": 60', b'"number": -60')
    with pytest.raises(UserError):
        book_of_build_file(data, console)


def test_demo_house_is_read_where_nothing_was_ever_opened(console: Console) -> None:
    with open_book(None, console) as opened:
        assert opened.book.settings.house_name == "The Saltmarsh Rooms"
        assert opened.path is None
        assert opened.last_change(next(opened.book.drinks()).id) is None


def test_last_book_is_forgotten_when_its_file_is_gone(console: Console, tmp_path: Path) -> None:
    console.places.recent.add(tmp_path / "gone.housebook")
    assert last_opened(console) is None
    assert "not there any more" in said(console)


def test_quiet_console_still_complains(console: Console) -> None:
    quiet = replaced(console, is_quiet=True)
    quiet.note("by the way")
    quiet.progress("1 of 2")
    quiet.complain(UserError("It is gone.", "Somebody took it.", "Ask them."))
    assert said(quiet) == "washline: It is gone. Somebody took it. Ask them.\n"


def test_progress_is_shown_on_a_terminal_only(console: Console) -> None:
    console.progress("1 of 2: Ebb")
    assert said(console) == ""
    shown = replaced(console, err=Terminal())
    shown.progress("1 of 2: Ebb")
    assert said(shown).endswith("1 of 2: Ebb")


def test_detail_is_said_where_it_was_asked_for(console: Console) -> None:
    console.detail("house book: here")
    assert said(console) == ""
    replaced(console, is_verbose=True).detail("house book: here")
    assert said(console) == "house book: here\n"
