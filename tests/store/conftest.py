"""House books on disk for the tests of the store."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.books import NOW, small_book
from tests.store.victims import Victims
from washline.store import HouseBookFile


@pytest.fixture(scope="session")
def template(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """The small house book as a file."""
    path = tmp_path_factory.mktemp("template") / "template.housebook"
    HouseBookFile.create(path, small_book(), "Making of the house book", clock=lambda: NOW).close()
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path, template: bytes) -> Path:
    """A file of its own with the small house book in it."""
    path = tmp_path / "House.housebook"
    path.write_bytes(template)
    return path


@pytest.fixture
def file(path: Path) -> Iterator[HouseBookFile]:
    """The small house book, open."""
    with HouseBookFile.open(path) as file:
        yield file


@pytest.fixture(scope="module")
def victims() -> Iterator[Victims]:
    """Programs to be killed."""
    victims = Victims()
    yield victims
    victims.close()
