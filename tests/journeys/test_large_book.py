"""One change in a book of 10,000 drinks: what is on the screen follows in the same event, the rest in the background."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.bench.books import large_book
from tests.journeys.driver import Person
from washline.document.notice import Changed
from washline.store import HouseBookFile

PART = "peel sugar syrup"
"""A house-made part that a fifth of the drinks pour."""


@pytest.fixture(scope="module")
def large_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("large") / "Large.housebook"
    HouseBookFile.create(path, large_book(10_000), "making it").close()
    return path


def test_change_that_reaches_thousands_shows_at_once_and_the_rest_follows(
    make_person: Callable[[], Person], large_file: Path, tmp_path: Path
) -> None:
    shutil.copy(large_file, tmp_path / "Large.housebook")
    person = make_person()
    person.start(tmp_path / "Large.housebook")
    person.see(lambda: not person.document.workings.pending)
    person.find("sloe tide")
    before = person.readings()["sweetness"]
    seen: list[tuple[str, int]] = []

    def look(changed: Changed) -> None:
        # The session tells when the panels have been given the figures: still within the event of the key.
        if changed.kind in ("do", "undo"):
            seen.append((person.readings()["sweetness"], person.document.workings.pending))

    person.workspace.session.told.connect(look)
    person.open_part(PART)
    person.type_amount("Sugar, white", "150")
    person.hands.press("Return")
    person.see(person.sheet.strip.isVisible)
    person.hands.press("Return")
    person.see(lambda: seen)
    shown, pending = seen[0]
    assert float(shown) > float(before)
    assert pending > 1_000
    assert person.labels == ["change of Sugar, white, granulated"]
    person.see(lambda: not person.document.workings.pending)
    assert person.readings()["sweetness"] == shown

    person.hands.press("Ctrl+Z")
    person.see(lambda: len(seen) == 2)
    assert seen[1][0] == before
    assert seen[1][1] > 1_000
    person.see(lambda: not person.document.workings.pending)
