"""Results kept for the next opening: which stored rows still hold, and writing new ones in idle moments.

The table can be lost at any time: what is missing or out of date is computed again.
"""

import logging
from collections.abc import Iterable, Mapping, Sequence
from itertools import chain, pairwise
from typing import Protocol

import numpy as np

from washline.document.storage import Entry
from washline.engine.result import Result
from washline.engine.workings import Workings
from washline.model.change import ChangeSet
from washline.problem import UserError

StoredRow = tuple[int, int, bytes, bytes, int]
"""Item id, number of the journal entry at which it held, values and more (float64 in the order of the readings), flags."""

MOST_ENTRIES = 200
"""A row that is more entries of the journal old is computed again instead of looked after."""

RENEW_AFTER = 100
"""When the oldest row is so many entries old, all are written anew in an idle moment."""

ROWS_AT_ONCE = 500

_log = logging.getLogger(__name__)


class ResultStorage(Protocol):
    """The part of a house book on disk that holds results."""

    @property
    def is_read_only(self) -> bool:
        """Whether it can only be looked at."""

    def read_results(self, stamp: str) -> Mapping[int, StoredRow]:
        """The rows of an engine, by item; without those of journal entries that were dropped."""

    def write_results(self, stamp: str, journal_number: int, rows: Sequence[StoredRow]) -> None:
        """Puts rows in, in the stead of those of the same items."""

    def change_sets(self, after: int, up_to: int) -> Sequence[tuple[Entry, ChangeSet]]:
        """The entries with after < number <= up_to and what they changed, oldest first; undone ones too."""


class StoredResults:
    """The results table of a house book, for one engine: ``stamp`` says which one computed a row."""

    def __init__(self, storage: ResultStorage, workings: Workings, stamp: str) -> None:
        self._storage = storage
        self._workings = workings
        self._stamp = stamp
        self._digests: dict[int, int] = {}
        self._numbers: dict[int, int] = {}
        self._unchecked: list[int] = []
        self._checked_at = -1
        self._renews_all = False
        self._can_write = not storage.is_read_only

    def adopt(self, position: int) -> None:
        """Hands stored rows to the workings; ``position`` is the journal number of the house book as it is.

        A row was true at its own number. All that was changed between there and ``position`` (or undone since) is
        marked as if it were changed now, so that what it touches is computed again.
        """
        rows = self._storage.read_results(self._stamp)
        recent = [row for row in rows.values() if abs(row[1] - position) <= MOST_ENTRIES]
        if not recent:
            return
        ends = {row[1] for row in recent} | {position}
        entries = self._storage.change_sets(min(ends), max(ends)) if len(ends) > 1 else ()
        changes = {entry.number: change_set for entry, change_set in entries}
        self._numbers = {row[0]: row[1] for row in recent}
        self._digests = {row[0]: _digest(row) for row in recent}
        by_number: dict[int, list[StoredRow]] = {}
        for row in recent:
            by_number.setdefault(row[1], []).append(row)
        before = sorted(number for number in by_number if number < position)
        after = sorted((number for number in by_number if number > position), reverse=True)
        for numbers in (before, after):
            self._adopt_towards(position, numbers, by_number, changes)
        self._hand_over(by_number.get(position, ()))

    def write_some(self, most: int, position: int) -> bool:
        """Looks through some builds and writes the rows that are not stored as they are, at the journal number of the
        house book as it is. Nothing may be pending in the workings. Whether there are more to look through.
        """
        if not self._can_write:
            return False
        if position != self._checked_at:
            self._start(position)
        count = min(most, ROWS_AT_ONCE)
        batch, self._unchecked = self._unchecked[:count], self._unchecked[count:]
        rows = [row for build_id in batch if (row := self._changed_row(build_id, position)) is not None]
        try:
            if rows:
                self._storage.write_results(self._stamp, position, rows)
        except UserError as problem:
            self._can_write = False
            _log.warning("results are not kept for the next opening: %s", problem)
            return False
        self._digests.update((row[0], _digest(row)) for row in rows)
        self._numbers.update((row[0], position) for row in rows)
        return bool(self._unchecked)

    def _start(self, position: int) -> None:
        """Begins a new round: the house book has changed since the last one."""
        builds = self._workings.book.builds
        self._checked_at = position
        self._unchecked = list(builds)
        self._numbers = {build_id: number for build_id, number in self._numbers.items() if build_id in builds}
        self._renews_all = position - min(self._numbers.values(), default=position) > RENEW_AFTER

    def _changed_row(self, build_id: int, position: int) -> StoredRow | None:
        """The row of a build if it is to be written. One with lines that could not be computed is not stored: what is
        wrong with them would be lost."""
        result = self._workings.result(build_id)
        if result is None or result.problems:
            self._numbers.pop(build_id, None)
            return None
        row = build_id, position, result.values.tobytes(), result.more.tobytes(), result.flags
        return row if self._renews_all or self._digests.get(build_id) != _digest(row) else None

    def _adopt_towards(
        self,
        position: int,
        numbers: Sequence[int],
        by_number: Mapping[int, Sequence[StoredRow]],
        changes: Mapping[int, ChangeSet],
    ) -> None:
        """Adopts rows from the farthest number to the nearest, and marks what lies between each and the next."""
        for number, nearer in pairwise(chain(numbers, [position])):
            self._hand_over(by_number[number])
            low, high = sorted((number, nearer))
            for between in range(low + 1, high + 1):
                if between in changes:
                    self._workings.update(self._workings.book, changes[between])

    def _hand_over(self, rows: Iterable[StoredRow]) -> None:
        self._workings.adopt({row[0]: _result(row) for row in rows})


def _digest(row: StoredRow) -> int:
    """What tells one row from another, whatever their numbers; kept instead of the row, for its size."""
    return hash((row[2], row[3], row[4]))


def _result(row: StoredRow) -> Result:
    item_id, _, values, more, flags = row
    return Result(item_id, np.frombuffer(values), np.frombuffer(more), flags)
