"""What a file is, is told by its content."""

from pathlib import Path

import pytest

from tests.exchange.houses import build_named
from washline.assets import database_file
from washline.exchange.build_file import write_build
from washline.exchange.sniff import FileKind, sniff
from washline.model.book import HouseBook
from washline.problem import UserError


def test_a_build_file_is_known_whatever_its_name(demo: HouseBook, tmp_path: Path) -> None:
    path = tmp_path / "mail.txt"
    path.write_bytes(write_build(demo, build_named(demo, "cold tea").id))
    assert sniff(path) is FileKind.BUILD_FILE


def test_a_house_book_is_known_by_its_first_bytes(tmp_path: Path) -> None:
    """SQLite's header string: sqlite.org, Database File Format, section 1.3."""
    path = tmp_path / "book.json"
    path.write_bytes(b"SQLite format 3\x00" + b"\x00" * 100)
    assert sniff(path) is FileKind.HOUSE_BOOK


def test_a_house_file_is_known() -> None:
    assert sniff(database_file("seed", "saltmarsh.json")) is FileKind.HOUSE_FILE


@pytest.mark.parametrize("data", [b"", b"slug,name\r\n", b'{"format": "another"}', b"{}"])
def test_anything_else_is_a_clear_error(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "drink.build.json"
    path.write_bytes(data)
    with pytest.raises(UserError):
        sniff(path)


def test_a_file_that_is_not_there_is_a_clear_error(tmp_path: Path) -> None:
    with pytest.raises(UserError, match=r"gone\.build\.json cannot be read"):
        sniff(tmp_path / "gone.build.json")
