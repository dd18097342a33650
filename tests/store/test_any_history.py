"""Whatever is done to a house book, in whatever order: the file is what the same acts in memory make of it."""

import shutil
import tempfile
from functools import cache
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from msgspec import structs

from tests.store.books import LIME, NOW, TWIST, new_amount, small_book
from washline.model.book import HouseBook
from washline.model.change import ChangeSet, apply, difference, without_steps
from washline.store import HouseBookFile, recover

LINES = st.sampled_from((101, 102, 200, 201))


@cache
def newly_made() -> bytes:
    """The file of the small book as it was made."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "House.housebook"
        HouseBookFile.create(path, small_book(), "Making", clock=lambda: NOW).close()
        return path.read_bytes()


class AnyHistory(RuleBasedStateMachine):
    """``past`` and ``future`` are the house books before and after, ``numbers`` those of the standing entries."""

    @initialize()
    def make(self) -> None:
        self.folder = Path(tempfile.mkdtemp())
        self.path = self.folder / "House.housebook"
        self.path.write_bytes(newly_made())
        self.file = HouseBookFile.open(self.path)
        self.book = small_book()
        self.past: list[HouseBook] = []
        self.future: list[HouseBook] = []
        self.given = [1]
        self.standing = [1]
        self.undone: list[int] = []

    def teardown(self) -> None:
        self.file.close()
        shutil.rmtree(self.folder)

    def _write(self, change_set: ChangeSet) -> None:
        self.past.append(self.book)
        self.future.clear()
        self.undone.clear()
        self.book = apply(self.book, change_set)
        entry = self.file.write(change_set, "change", NOW)
        assert entry.number not in self.given
        self.given.append(entry.number)
        self.standing.append(entry.number)

    @rule(line=LINES, number=st.floats(0.0, 1000.0).map(lambda number: number + 0.0))
    def change_an_amount(self, line: int, number: float) -> None:
        self._write(new_amount(self.book, number, line))

    @rule(name=st.sampled_from(("lime", "lime juice", "juice of limes")))
    def rename(self, name: str) -> None:
        lime = structs.replace(self.book.raws[LIME], name=name)
        self._write(difference(self.book, self.book.with_raw(lime)))

    @rule()
    def empty_the_twist(self) -> None:
        emptied = without_steps(self.book.builds[TWIST])
        self._write(difference(self.book, self.book.with_build(emptied)))

    @precondition(lambda self: self.past)
    @rule(line=LINES, number=st.floats(0.0, 1000.0).map(lambda number: number + 0.0))
    def change_in_place_of_the_last(self, line: int, number: float) -> None:
        before = self.past[-1]
        change_set = new_amount(before, number, line)
        entry = self.file.write(change_set, "change", NOW, in_place_of=self.standing.pop())
        self.book = apply(before, change_set)
        self.future.clear()
        self.undone.clear()
        assert entry.number not in self.given
        self.given.append(entry.number)
        self.standing.append(entry.number)

    @precondition(lambda self: self.past)
    @rule()
    def undo(self) -> None:
        self.future.append(self.book)
        self.book = self.past.pop()
        done = self.file.undo(NOW)
        assert done is not None
        assert done[0].number == self.standing[-1]
        assert apply(self.future[-1], done[1]) == self.book
        self.undone.append(self.standing.pop())

    @precondition(lambda self: self.future)
    @rule()
    def redo(self) -> None:
        self.past.append(self.book)
        self.book = self.future.pop()
        done = self.file.redo(NOW)
        assert done is not None
        assert done[0].number == self.undone[-1]
        self.standing.append(self.undone.pop())

    @rule()
    def close_and_open(self) -> None:
        self.file.close()
        self.file = HouseBookFile.open(self.path)

    @rule()
    def recover_a_copy_from_a_backup(self) -> None:
        self.file.backup()
        found = recover(self.path)
        with HouseBookFile.open(found.path) as copy:
            assert copy.load() == self.book
            assert copy.check() == []

    @invariant()
    def file_is_as_in_memory(self) -> None:
        assert self.file.load() == self.book
        assert self.file.position == self.standing[-1]
        assert [entry.number for entry in self.file.entries() if not entry.is_undone] == self.standing[::-1]
        assert [entry.number for entry in self.file.entries() if entry.is_undone] == self.undone

    @invariant()
    def file_is_whole(self) -> None:
        assert self.file.check() == []


TestAnyHistory = AnyHistory.TestCase
TestAnyHistory.settings = settings(max_examples=15, stateful_step_count=20)
