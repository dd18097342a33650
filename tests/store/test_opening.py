"""Opening looks at what the file is, who has it and whether it can be written, and leaves alone what is not ours."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from tests.store.books import NOW, new_amount, small_book
from tests.store.victims import ROOT, Victims
from washline.store import (
    BusyHouseBook,
    DamagedHouseBook,
    HouseBookExists,
    HouseBookFile,
    HouseBookProblem,
    MissingHouseBook,
    NewerHouseBook,
    NotAHouseBook,
    ReadOnlyHouseBook,
)
from washline.store.peek import Age, age_of


def change(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for statement in statements:
            connection.execute(statement)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def text(path: Path) -> None:
    path.write_text("45 ml lime juice\n" * 100)


def short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:60])


def database_of_another_program(path: Path) -> None:
    path.unlink()
    change(path, "CREATE TABLE drink (id INTEGER)")


def folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


@pytest.mark.parametrize("spoil", [empty, text, short, database_of_another_program, folder])
def test_something_else_is_no_house_book(path: Path, spoil: Callable[[Path], None]) -> None:
    spoil(path)
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(NotAHouseBook) as caught:
        HouseBookFile.open(path)
    assert str(caught.value).startswith("“House.housebook” is not a house book.")
    assert caught.value.cause
    assert caught.value.remedy
    assert (path.read_bytes() if path.is_file() else None) == before
    assert [file.name for file in path.parent.iterdir()] == ["House.housebook"]


def test_missing_file_is_said_to_be_missing(tmp_path: Path) -> None:
    with pytest.raises(MissingHouseBook, match=r"gone\.housebook"):
        HouseBookFile.open(tmp_path / "gone.housebook")
    assert list(tmp_path.iterdir()) == []


def test_newer_house_book_is_refused_and_left_untouched(path: Path) -> None:
    change(path, "PRAGMA user_version = 4", "UPDATE alembic_version SET version_num = '0004'")
    before = path.read_bytes()
    with pytest.raises(NewerHouseBook, match="newer version"):
        HouseBookFile.open(path)
    assert path.read_bytes() == before
    assert [file.name for file in path.parent.iterdir()] == ["House.housebook"]


def test_unknown_step_of_the_tables_is_refused_as_newer(path: Path) -> None:
    change(path, "PRAGMA user_version = 0", "UPDATE alembic_version SET version_num = 'a1b2c3'")
    with pytest.raises(NewerHouseBook):
        HouseBookFile.open(path)


def cut_off(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-5000])


def overwritten(path: Path) -> None:
    content = bytearray(path.read_bytes())
    content[100:] = b"\x55" * (len(content) - 100)
    path.write_bytes(content)


def without_version(path: Path) -> None:
    change(path, "DROP TABLE alembic_version")


def with_version_of_other_tables(path: Path) -> None:
    change(path, "UPDATE alembic_version SET version_num = '0000'")


def older_without_version(path: Path) -> None:
    change(path, "PRAGMA user_version = 0", "DROP TABLE alembic_version")


def older_with_empty_version(path: Path) -> None:
    change(path, "PRAGMA user_version = 0", "DELETE FROM alembic_version")


@pytest.mark.parametrize(
    "spoil",
    [
        cut_off,
        overwritten,
        without_version,
        with_version_of_other_tables,
        older_without_version,
        older_with_empty_version,
    ],
)
def test_damaged_house_book_is_said_to_be_damaged(path: Path, spoil: Callable[[Path], None]) -> None:
    spoil(path)
    with pytest.raises(DamagedHouseBook, match="damaged") as caught:
        HouseBookFile.open(path)
    assert "backup" in caught.value.remedy
    assert not (path.parent / "House.housebook.lock").exists()


def test_damaged_page_is_found_when_its_rows_are_read(path: Path) -> None:
    content = bytearray(path.read_bytes())
    with closing(sqlite3.connect(path)) as connection:
        (page,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'step'").fetchone()
    content[(page - 1) * 4096 : page * 4096] = b"\x55" * 4096
    path.write_bytes(content)
    with HouseBookFile.open(path) as file:
        with pytest.raises(DamagedHouseBook):
            file.load()
        assert any("damaged" in words for words in file.check())


def test_file_that_is_written_is_taken_as_it_is(path: Path) -> None:
    assert age_of(path) is Age.CURRENT


def test_second_window_reads_and_is_told_who_writes(path: Path) -> None:
    with HouseBookFile.open(path) as first, HouseBookFile.open(path) as second:
        assert not first.is_read_only
        assert first.held_by == ""
        assert second.is_read_only
        assert f"process {os.getpid()} on " in second.held_by
        assert second.held_by in second.why_read_only
        assert second.load() == small_book()
        with pytest.raises(ReadOnlyHouseBook):
            second.write(new_amount(second.load(), 50.0), "change", NOW)
        first.write(new_amount(first.load(), 50.0), "change", NOW)
        assert second.load() == first.load()


def test_closing_the_second_window_leaves_the_lock_to_the_first(path: Path) -> None:
    with HouseBookFile.open(path) as first:
        HouseBookFile.open(path).close()
        with HouseBookFile.open(path) as third:
            assert third.is_read_only
        assert not first.is_read_only


def test_window_after_the_last_one_closed_writes(path: Path) -> None:
    HouseBookFile.open(path).close()
    with HouseBookFile.open(path) as file:
        assert not file.is_read_only


def test_one_file_is_left_when_the_house_book_is_closed(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
        assert (path.parent / "House.housebook.lock").exists()
    assert [one.name for one in path.parent.iterdir()] == ["House.housebook"]


def test_copy_made_by_hand_while_it_is_open_is_whole(path: Path) -> None:
    with HouseBookFile.open(path) as file:
        file.write(new_amount(file.load(), 50.0), "change", NOW)
        shutil.copy(path, path.with_name("Copy.housebook"))
        expected = file.load()
    with HouseBookFile.open(path.with_name("Copy.housebook")) as copy:
        assert copy.load() == expected
        assert copy.check() == []


def test_other_process_is_told_who_writes_and_a_crash_frees_the_house_book(
    path: Path, victims: Victims
) -> None:
    victims.start("hold", path, until="holds")
    assert victims.last("holds") == [False, ""]
    with HouseBookFile.open(path) as second:
        assert second.is_read_only
        assert f"process {victims.process_id} on " in second.held_by
    victims.kill()
    assert (path.parent / "House.housebook.lock").exists()
    with HouseBookFile.open(path) as third:
        assert not third.is_read_only


def test_lock_file_says_who_has_the_house_book(path: Path) -> None:
    with HouseBookFile.open(path, clock=lambda: NOW):
        who = json.loads((path.parent / "House.housebook.lock").read_text())
    assert who["pid"] == os.getpid()
    assert who["since"] == "2026-03-01T18:40:05.250000+00:00"
    assert who.keys() == {"pid", "host", "user", "since"}


def test_unreadable_lock_file_of_a_killed_program_is_taken_over(path: Path) -> None:
    (path.parent / "House.housebook.lock").write_bytes(b"\xff\xfe{")
    with HouseBookFile.open(path) as file:
        assert not file.is_read_only


def test_opening_to_read_writes_nothing(path: Path) -> None:
    before = path.read_bytes()
    with HouseBookFile.open(path, read_only=True) as file:
        assert file.is_read_only
        assert file.held_by == ""
        assert file.load() == small_book()
        with pytest.raises(ReadOnlyHouseBook):
            file.undo(NOW)
        with pytest.raises(ReadOnlyHouseBook):
            file.write_results("stamp", 1, [])
        assert [one.name for one in path.parent.iterdir()] == ["House.housebook"]
    assert path.read_bytes() == before


def test_write_that_a_killed_program_left_half_done_is_finished_before_reading(
    path: Path, victims: Victims
) -> None:
    for seed in range(200):
        victims.start("adopt", path, seed=seed, until="tries")
        while not journal_bytes(path) and "gone" not in victims.words:
            pass
        victims.kill()
        if journal_bytes(path):
            break
    assert journal_bytes(path)
    with HouseBookFile.open(path, read_only=True) as file:
        assert file.check() == []


def journal_bytes(path: Path) -> int:
    journal = path.with_name("House.housebook-journal")
    return journal.stat().st_size if journal.exists() else 0


def test_file_held_by_another_program_is_said_to_be_busy(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(BusyHouseBook, match="another program"):
            HouseBookFile.open(path, wait_s=0.05)
    with HouseBookFile.open(path) as file:
        assert not file.is_read_only


def test_new_house_book_never_takes_the_place_of_a_file(path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(HouseBookExists):
        HouseBookFile.create(path, small_book(), "Making")
    assert path.read_bytes() == before
    assert [one.name for one in path.parent.iterdir()] == ["House.housebook"]


def test_house_book_in_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(HouseBookProblem, match="no folder"):
        HouseBookFile.create(tmp_path / "none" / "House.housebook", small_book(), "Making")


def test_house_book_is_made_where_the_disk_knows_no_links(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(source: Path, target: Path) -> None:
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    HouseBookFile.create(tmp_path / "House.housebook", small_book(), "Making").close()
    assert [one.name for one in tmp_path.iterdir()] == ["House.housebook"]
    with HouseBookFile.open(tmp_path / "House.housebook") as file:
        assert file.load() == small_book()


def test_name_may_hold_any_letters(tmp_path: Path) -> None:
    path = tmp_path / "Bär & 100 % #1? ½.housebook"
    HouseBookFile.create(path, small_book(), "Making").close()
    with HouseBookFile.open(path) as file:
        assert file.load() == small_book()
        assert file.backup().exists()


def test_closing_twice_is_no_mistake(path: Path) -> None:
    file = HouseBookFile.open(path)
    file.close()
    file.close()


def run(source: str, **options: str) -> str:
    """What a fresh interpreter prints."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join((str(ROOT / "app"), str(ROOT)))}
    done = subprocess.run(
        [sys.executable, "-c", source, *options.values()],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_opening_and_reading_needs_no_alembic_and_no_qt(path: Path) -> None:
    source = (
        "import sys; from pathlib import Path; from washline.store import HouseBookFile\n"
        "with HouseBookFile.open(Path(sys.argv[1])) as file: print(len(file.load().builds))\n"
        "print(sorted({name.partition('.')[0] for name in sys.modules} & {'alembic', 'mako', 'PySide6', 'pint'}))"
    )
    assert run(source, path=str(path)).split("\n")[:2] == ["5", "[]"]


ORDINARY = """
import json, os, sys, tempfile
from pathlib import Path
from washline.store import HouseBookFile, HouseBookProblem, migration
from tests.store.books import NOW, new_amount, small_book

if os.geteuid() == 0:
    os.setgroups([])
    os.setgid(65534)
    os.setuid(65534)
with tempfile.TemporaryDirectory() as folder:
    path = Path(folder, "House.housebook")
    with HouseBookFile.create(path, small_book(), "Making", clock=lambda: NOW) as file:
        change_set = new_amount(file.load(), 50.0)
    what = path if sys.argv[1] == "file" else path.parent
    what.chmod(0o444 if what is path else 0o555)
    said = {}
    with HouseBookFile.open(path) as file:
        said["why"] = file.why_read_only
        said["is_read_only"] = file.is_read_only
        said["is_equal"] = file.load() == small_book()
        for name, act in (("write", lambda: file.write(change_set, "change", NOW)), ("backup", file.backup)):
            try:
                act()
            except HouseBookProblem as problem:
                said[name] = type(problem).__name__
    try:
        HouseBookFile.create(path.with_name("Other.housebook"), small_book(), "Making")
    except HouseBookProblem as problem:
        said["create"] = type(problem).__name__
    said["files"] = sorted(one.name for one in path.parent.iterdir())
    what.chmod(0o755)
    print(json.dumps(said))
"""


def test_read_only_folder_opens_read_only_and_says_why() -> None:
    said = json.loads(run(ORDINARY, what="folder"))
    assert said == {
        "why": "The file or its folder cannot be written.",
        "is_read_only": True,
        "is_equal": True,
        "write": "ReadOnlyHouseBook",
        "backup": "ReadOnlyHouseBook",
        "create": "ReadOnlyHouseBook",
        "files": ["House.housebook"],
    }


def test_read_only_file_opens_read_only_and_says_why() -> None:
    said = json.loads(run(ORDINARY, what="file"))
    assert (said["is_read_only"], said["is_equal"], said["write"]) == (True, True, "ReadOnlyHouseBook")
    assert said["why"] == "The file or its folder cannot be written."
