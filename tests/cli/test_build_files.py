"""``export``, ``import`` and ``check``: a drink goes out and comes in whole, and a house book is looked through."""

import io
import json
import sys
from pathlib import Path

import pytest
from msgspec.structs import replace

from tests.cli.running import NOON, Runner, house_book_file, in_its_own_process
from washline.document.opening import open_document
from washline.document.places import Places
from washline.exchange.build_file import write_build
from washline.exchange.demo import demo_house
from washline.exchange.starter import starter_house
from washline.model.book import HouseBook


def book_in(path: Path) -> HouseBook:
    """The content of a house book."""
    document = open_document(path, clock=lambda: NOON, read_only=True)
    document.close()
    return document.book


@pytest.fixture
def own_book(tmp_path: Path) -> Path:
    """A house book with the pantry and no drinks."""
    return house_book_file(tmp_path / "own.housebook", starter_house("Ours"))


@pytest.fixture
def pear_file(tmp_path: Path, washline: Runner) -> Path:
    """The build file of Pear Signal."""
    path = tmp_path / "pear.build.json"
    assert washline("export", "Pear Signal", "--out", str(path)).code == 0
    return path


def test_what_is_exported_comes_in_with_all_it_depends_on(
    washline: Runner, own_book: Path, pear_file: Path
) -> None:
    said = washline("import", str(pear_file), "--book", str(own_book))
    assert said.code == 0, said.err
    names = {build.name for build in book_in(own_book).builds.values()}
    assert names == {"Pear Signal", "pear-sorrel cordial", "bay tincture"}
    assert washline("export", "Pear Signal", "--book", str(own_book), "--out", "-").code == 0


def test_readings_are_the_same_behind_export_and_import(
    washline: Runner, own_book: Path, pear_file: Path
) -> None:
    washline("import", str(pear_file), "--book", str(own_book))
    there = washline("compute", "Pear Signal", "--json", "--book", str(own_book)).json
    here = washline("compute", "Pear Signal", "--json").json
    assert [one["value"] for one in there["readings"]] == [one["value"] for one in here["readings"]]


def test_import_is_one_step_that_can_be_undone(washline: Runner, own_book: Path, pear_file: Path) -> None:
    before = book_in(own_book)
    washline("import", str(pear_file), "--book", str(own_book))
    document = open_document(own_book, clock=lambda: NOON)
    assert document.undo_label == "import of Pear Signal"
    document.undo()
    assert document.book.builds == before.builds
    document.close()


def test_dry_run_changes_nothing(washline: Runner, own_book: Path, pear_file: Path) -> None:
    before = own_book.read_bytes()
    said = washline("import", str(pear_file), "--book", str(own_book), "--dry-run")
    assert said.code == 0
    assert "new: Pear Signal" in said.out
    assert own_book.read_bytes() == before


def test_second_import_finds_everything_there(washline: Runner, own_book: Path, pear_file: Path) -> None:
    washline("import", str(pear_file), "--book", str(own_book))
    said = washline("import", str(pear_file), "--book", str(own_book))
    assert said.code == 0
    assert "is already in" in said.out


def test_doubt_is_listed_and_nothing_changes_until_it_is_settled(
    washline: Runner, tmp_path: Path, pear_file: Path
) -> None:
    book = demo_house()
    signal = next(build for build in book.drinks() if build.name == "Pear Signal")
    path = house_book_file(tmp_path / "b.housebook", book.with_build(replace(signal, note="stirred longer")))
    before = path.read_bytes()
    said = washline("import", str(pear_file), "--book", str(path))
    assert said.code == 1
    assert "in doubt: Drink “Pear Signal” is not the same here as in the file." in said.err
    assert "stirred longer" in said.err
    assert path.read_bytes() == before
    settled = washline("import", str(pear_file), "--book", str(path), "--on-doubt", "theirs")
    assert settled.code == 0, settled.err
    assert len([one for one in book_in(path).drinks() if one.name.startswith("Pear Signal")]) == 3


def test_import_into_nowhere_is_told(washline: Runner, pear_file: Path) -> None:
    said = washline("import", str(pear_file))
    assert said.code == 3
    assert "--book" in said.err


def test_import_goes_to_the_book_opened_last(
    washline: Runner, own_book: Path, pear_file: Path, own_places: Places
) -> None:
    own_places.recent.add(own_book)
    assert washline("import", str(pear_file)).code == 0
    assert "Pear Signal" in {build.name for build in book_in(own_book).builds.values()}


def test_book_that_is_open_in_a_window_is_not_written(
    washline: Runner, own_book: Path, pear_file: Path
) -> None:
    document = open_document(own_book, clock=lambda: NOON)
    said = washline("import", str(pear_file), "--book", str(own_book))
    document.close()
    assert said.code == 5
    assert "open in another window" in said.err


def test_import_reads_standard_input(
    washline: Runner, own_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = demo_house()
    drink = next(build for build in book.drinks() if build.name == "Quince Ferry")
    data = write_build(book, drink.id)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data)))
    assert washline("import", "-", "--book", str(own_book)).code == 0


def test_export_to_standard_output_is_the_build_file(own_home: dict[str, str]) -> None:
    assert own_home
    finished = in_its_own_process("export", "Pear Signal", "--out", "-")
    assert finished.returncode == 0
    assert json.loads(finished.stdout)["main"] == "pear-signal"


def test_export_replaces_a_file_whole_and_leaves_nothing_beside(washline: Runner, tmp_path: Path) -> None:
    path = tmp_path / "pear.build.json"
    path.write_text("old")
    washline("export", "Pear Signal", "--out", str(path))
    assert json.loads(path.read_bytes())["format"] == "washline-build"
    assert [one.name for one in tmp_path.iterdir() if "build" in one.name] == ["pear.build.json"]


def test_export_to_a_folder_that_is_not_there_is_told(washline: Runner, tmp_path: Path) -> None:
    said = washline("export", "Pear Signal", "--out", str(tmp_path / "none" / "x.build.json"))
    assert said.code == 1
    assert "could not be written" in said.err


def test_check_of_a_whole_book_says_so(washline: Runner, own_book: Path) -> None:
    said = washline("check", str(own_book))
    assert (said.code, said.out) == (0, "own.housebook: whole\n")


def test_check_of_a_damaged_book_fails(washline: Runner, own_book: Path) -> None:
    data = bytearray(own_book.read_bytes())
    middle = len(data) // 2
    data[middle : middle + 8192] = b"\x5a" * 8192
    own_book.write_bytes(data)
    said = washline("check", str(own_book))
    assert said.code == 1
    assert "amaged" in said.out + said.err


def test_check_without_any_book_is_told(washline: Runner) -> None:
    said = washline("check")
    assert said.code == 3
    assert "no house book to check" in said.err
