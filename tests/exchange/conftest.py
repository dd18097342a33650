"""The demo house and the pantry, read once, and a copy of the pantry to spoil."""

from pathlib import Path

import pytest

from washline.assets import database_file
from washline.exchange.demo import demo_house
from washline.exchange.pantry import Pantry, read_pantry
from washline.exchange.starter import starter_house
from washline.model.book import HouseBook


@pytest.fixture(scope="session")
def pantry() -> Pantry:
    return read_pantry(database_file("seed", "pantry"))


@pytest.fixture(scope="session")
def demo() -> HouseBook:
    return demo_house()


@pytest.fixture(scope="session")
def starter() -> HouseBook:
    return starter_house("The Other Room")


@pytest.fixture
def pantry_copy(tmp_path: Path) -> Path:
    for source in database_file("seed", "pantry").glob("*.csv"):
        (tmp_path / source.name).write_bytes(source.read_bytes())
    return tmp_path
