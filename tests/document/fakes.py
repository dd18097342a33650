"""A house book file in memory: the journal as the store keeps it, and ways to let it fail."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from washline.document.stored_results import StoredRow
from washline.model.book import HouseBook
from washline.model.change import ChangeSet, apply
from washline.problem import UserError


@dataclass(frozen=True, slots=True)
class MemoryEntry:
    number: int
    label: str
    when: datetime
    is_undone: bool
    change_set: ChangeSet


class MemoryFile:
    """Keeps rows and journal in memory; ``book`` is what a fresh opening would find."""

    def __init__(self, book: HouseBook, *, is_read_only: bool = False, held_by: str = "") -> None:
        self.book = book
        self.path = Path("saltmarsh.housebook")
        self.is_read_only = is_read_only
        self.held_by = held_by
        self.why_read_only = f"It is being edited by {held_by}." if held_by else "Its file cannot be written."
        self.journal: list[MemoryEntry] = []
        self.top_number = 1
        self.fault: UserError | None = None
        self.backup_fault: UserError | None = None
        self.calls: list[str] = []
        self.results: dict[int, StoredRow] = {}
        self.stamps: dict[int, str] = {}

    @property
    def position(self) -> int:
        return max((entry.number for entry in self.journal if not entry.is_undone), default=1)

    @property
    def undo_entry(self) -> MemoryEntry | None:
        return next((entry for entry in reversed(self.journal) if not entry.is_undone), None)

    @property
    def redo_entry(self) -> MemoryEntry | None:
        return next((entry for entry in self.journal if entry.is_undone), None)

    def write(
        self, change_set: ChangeSet, label: str, when: datetime, *, in_place_of: int | None = None
    ) -> MemoryEntry:
        self.calls.append("write")
        if self.fault:
            raise self.fault
        self.journal = [entry for entry in self.journal if not entry.is_undone]
        if in_place_of is not None:
            last = self.journal.pop()
            assert last.number == in_place_of
            self.book = apply(self.book, last.change_set.reversed())
        self.top_number += 1
        self.book = apply(self.book, change_set)
        entry = MemoryEntry(self.top_number, label, when, False, change_set)
        self.journal.append(entry)
        return entry

    def undo(self, when: datetime) -> tuple[MemoryEntry, ChangeSet] | None:
        return self._step(self.undo_entry, True, lambda entry: entry.change_set.reversed())

    def redo(self, when: datetime) -> tuple[MemoryEntry, ChangeSet] | None:
        return self._step(self.redo_entry, False, lambda entry: entry.change_set)

    def _step(
        self, entry: MemoryEntry | None, is_undone: bool, applied: Callable[[MemoryEntry], ChangeSet]
    ) -> tuple[MemoryEntry, ChangeSet] | None:
        self.calls.append("undo" if is_undone else "redo")
        if self.fault:
            raise self.fault
        if entry is None:
            return None
        self.book = apply(self.book, applied(entry))
        marked = replace(entry, is_undone=is_undone)
        self.journal[self.journal.index(entry)] = marked
        return marked, applied(entry)

    def entries(self, most: int = 200) -> list[MemoryEntry]:
        return list(reversed(self.journal))[:most]

    def last_change_of_build(self, build_id: int) -> MemoryEntry | None:
        touching = (entry for entry in self.entries() if build_id in entry.change_set.build_ids())
        return next((entry for entry in touching if not entry.is_undone), None)

    def change_sets(self, after: int, up_to: int) -> list[tuple[MemoryEntry, ChangeSet]]:
        return [(entry, entry.change_set) for entry in self.journal if after < entry.number <= up_to]

    def read_results(self, stamp: str) -> dict[int, StoredRow]:
        known = {entry.number for entry in self.journal} | {1}
        return {
            key: row for key, row in self.results.items() if self.stamps[key] == stamp and row[1] in known
        }

    def write_results(self, stamp: str, journal_number: int, rows: list[StoredRow]) -> None:
        self.calls.append("results")
        if self.fault:
            raise self.fault
        self.results.update({row[0]: (row[0], journal_number, *row[2:]) for row in rows})
        self.stamps.update({row[0]: stamp for row in rows})

    def backup(self) -> Path:
        self.calls.append("backup")
        if self.backup_fault:
            raise self.backup_fault
        return Path("saltmarsh.backup")

    def close(self) -> None:
        self.calls.append("close")
