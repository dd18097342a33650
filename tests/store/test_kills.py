"""Two hundred kills in the middle of real edits: nothing that was acknowledged is missing, and the book is whole."""

import random
import time
from pathlib import Path

import pytest

from tests.store.books import NOW, large_book
from tests.store.victim import digest
from tests.store.victims import Victims
from washline.store import HouseBookFile

EDITS, LARGE, MADE = 150, 40, 10


@pytest.mark.parametrize("round_", range(5))
def test_killed_while_editing(path: Path, victims: Victims, round_: int) -> None:
    """After each kill the file is as the last acknowledged act left it, or as the act under way would."""
    chance = random.Random(round_)
    for kill in range(EDITS // 5):
        victims.start("edit", path, seed=100 * round_ + kill, until="acknowledged")
        time.sleep(chance.uniform(0.0, 0.04))
        victims.kill()
        assert_as_said(path, victims)


@pytest.mark.parametrize("round_", range(4))
def test_killed_while_hundreds_of_rows_are_written(path: Path, victims: Victims, round_: int) -> None:
    chance = random.Random(50 + round_)
    for kill in range(LARGE // 4):
        victims.start("adopt", path, seed=10 * round_ + kill, until="acknowledged")
        time.sleep(chance.uniform(0.0, 0.25))
        victims.kill()
        assert_as_said(path, victims)


def assert_as_said(path: Path, victims: Victims) -> None:
    with HouseBookFile.open(path) as file:
        assert not file.is_read_only
        assert file.check() == []
        found = [file.entries(1)[0].number, file.position, digest(file.load())]
        said = [victims.last("acknowledged")]
        if "tries" in victims.words:
            said.append(victims.last("tries"))
        assert found in said
        if file.undo_entry:
            file.undo(NOW)
            file.redo(NOW)
            assert digest(file.load()) == found[2]


def test_killed_while_making_a_house_book(tmp_path: Path, victims: Victims) -> None:
    """The file is there whole or not at all, and making it again works."""
    chance = random.Random(99)
    start = time.monotonic()
    victims.start("make", tmp_path / "First.housebook", until="acknowledged")
    victims.wait()
    whole_s = time.monotonic() - start
    for kill in range(MADE):
        path = tmp_path / f"House {kill}.housebook"
        victims.start("make", path, seed=kill, until="tries")
        time.sleep(chance.uniform(0.0, 1.2 * whole_s))
        victims.kill()
        if not path.exists():
            assert "acknowledged" not in victims.words
            HouseBookFile.create(path, large_book(20 + kill), "Making", clock=lambda: NOW).close()
        with HouseBookFile.open(path) as file:
            assert file.load() == large_book(20 + kill)
            assert file.check() == []


def test_there_are_two_hundred_kills() -> None:
    assert EDITS + LARGE + MADE == 200
