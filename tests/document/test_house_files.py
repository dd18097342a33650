"""House books to start with, copies, and recovered ones."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from washline.document.commands.items import new_drink
from washline.document.house_files import make_demo, make_own, recovered, save_copy
from washline.document.opening import open_document
from washline.problem import UserError


def now() -> datetime:
    return datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


def test_demo_is_made_with_its_folder(tmp_path: Path) -> None:
    document = make_demo(tmp_path / "far/away/demo.housebook", clock=now)
    assert document.book.settings.is_demo
    assert len(list(document.book.drinks())) == 10
    document.close()


def test_own_house_is_no_demo_and_has_no_builds_nor_prices(tmp_path: Path) -> None:
    document = make_own(tmp_path / "own.housebook", "Reed House", clock=now)
    assert not document.book.settings.is_demo
    assert dict(document.book.builds) == {}
    assert not any(raw.prices for raw in document.book.raws.values())
    document.close()


def test_making_never_takes_the_place_of_a_file(tmp_path: Path) -> None:
    (tmp_path / "own.housebook").write_text("mine")
    with pytest.raises(UserError):
        make_own(tmp_path / "own.housebook", "Reed House", clock=now)
    assert (tmp_path / "own.housebook").read_text() == "mine"


def test_copy_of_an_open_book_holds_its_history(tmp_path: Path) -> None:
    document = make_own(tmp_path / "own.housebook", "Reed House", clock=now)
    document.do(new_drink("Ebb"), "making Ebb")
    save_copy(document.path, tmp_path / "copy.housebook")
    document.close()
    copy = open_document(tmp_path / "copy.housebook", clock=now)
    assert copy.undo_label == "making Ebb"
    assert [build.name for build in copy.book.drinks()] == ["Ebb"]
    copy.close()


def test_damaged_book_is_recovered_into_a_new_file(tmp_path: Path) -> None:
    document = make_own(tmp_path / "own.housebook", "Reed House", clock=now)
    document.do(new_drink("Ebb"), "making Ebb")
    while document.work_on():
        pass
    document.close()
    path = tmp_path / "own.housebook"
    whole = path.read_bytes()
    path.write_bytes(whole[:9000] + b"\xff" * 20_000 + whole[29_000:])
    made, words = recovered(path, clock=now)
    assert made != path
    assert words
    again = open_document(made, clock=now)
    assert again.book.settings.house_name == "Reed House"
    again.close()
