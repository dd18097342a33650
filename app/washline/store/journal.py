"""The journal of changes: what was done, in order, with every row before and after; taking back and doing again.

An entry's number is never given twice, also not after entries that had been taken back were dropped by a new change.
Entry 1 is the house book as it was made: nothing lies behind it.
"""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Union

import msgspec
import sqlalchemy as sa
from msgspec import Struct

from washline.model.change import Change, ChangeSet, Row, Table
from washline.model.item import Leftover
from washline.store.connection import driver_of
from washline.store.problem import HistoryRefused
from washline.store.reading import read_rows
from washline.store.rows import BY_TABLE
from washline.store.schema import METADATA
from washline.store.schema.history import moment_of, stored_time
from washline.store.statement import Statement, insertion
from washline.store.writing import RowWriter

FIRST = 1

_META = METADATA.tables["meta"]
_JOURNAL = METADATA.tables["journal"]
_CHANGES = METADATA.tables["journal_change"]
_BY_SLUG = {Table.GLASS, Table.METHOD, Table.MEASURE, Table.ICE, Table.VESSEL, Table.CALIBRATION}

_rows_as_json = msgspec.json.Encoder()
_decoders: dict[Table, msgspec.json.Decoder[Any]] = {
    table: msgspec.json.Decoder(Union[tuple(kind.struct for kind in kinds)])  # noqa: UP007  made at run time
    for table, kinds in BY_TABLE.items()
}

_newest = sa.select(sa.func.max(_JOURNAL.c.number)).scalar_subquery()
_standing = sa.select(sa.func.max(_JOURNAL.c.number)).where(_JOURNAL.c.is_undone.is_(False)).scalar_subquery()
_STATE = Statement(sa.select(_newest, _standing, _META.c.top_number, _META.c.top_id))
_ENTRY = sa.select(_JOURNAL.c.number, _JOURNAL.c.label, _JOURNAL.c.made_at, _JOURNAL.c.is_undone)
_SET_META = Statement(sa.update(_META).values(top_number=sa.bindparam("number"), top_id=sa.bindparam("top")))
_MARK = Statement(
    sa.update(_JOURNAL)
    .where(_JOURNAL.c.number == sa.bindparam("of"))
    .values(is_undone=sa.bindparam("undone"), moved_at=sa.bindparam("at"))
)
_DROP = Statement(sa.delete(_JOURNAL).where(_JOURNAL.c.number > sa.bindparam("after")))
_ADD_ENTRY = insertion(_JOURNAL, ("number", "label", "made_at", "is_undone"))
_ADD_CHANGES = insertion(
    _CHANGES, ("number", "position", "table_name", "row_key", "build_id", "row_before", "row_after")
)
_ONE = Statement(_ENTRY.where(_JOURNAL.c.number == sa.bindparam("of")))
_NEXT_UNDONE = _ENTRY.where(_JOURNAL.c.number > sa.bindparam("after")).order_by(_JOURNAL.c.number).limit(1)
_CHANGES_OF = Statement(
    sa.select(_CHANGES.c.table_name, _CHANGES.c.row_key, _CHANGES.c.row_before, _CHANGES.c.row_after)
    .where(_CHANGES.c.number == sa.bindparam("of"))
    .order_by(_CHANGES.c.position)
)
_LAST = (
    _ENTRY.join(_CHANGES, _CHANGES.c.number == _JOURNAL.c.number)
    .where(_JOURNAL.c.is_undone.is_(False))
    .order_by(_JOURNAL.c.number.desc())
    .limit(1)
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One step of the history: its number, what was done, when (UTC), and whether it is taken back."""

    number: int
    label: str
    when: datetime
    is_undone: bool = False


@dataclass(frozen=True, slots=True)
class _State:
    newest: int
    position: int
    top_number: int
    top_id: int


class Journal:
    """Reads and writes the journal on one connection, inside transactions that the caller has begun."""

    def __init__(self, connection: sa.Connection) -> None:
        self._connection = connection
        self._driver = driver_of(connection)
        self._writer = RowWriter(connection)

    def position(self) -> int:
        """The number of the newest entry that is not taken back."""
        return self._state().position

    def entries(self, most: int) -> list[Entry]:
        """The newest entries first, also those taken back."""
        query = _ENTRY.order_by(_JOURNAL.c.number.desc()).limit(most)
        return [Entry(*record) for record in self._connection.execute(query)]

    def oldest_first(self) -> list[Entry]:
        """All entries in the order in which they were made."""
        return [Entry(*record) for record in self._connection.execute(_ENTRY.order_by(_JOURNAL.c.number))]

    def undo_entry(self) -> Entry | None:
        """What would be taken back."""
        position = self._state().position
        return self._entry(position) if position > FIRST else None

    def redo_entry(self) -> Entry | None:
        """What would be done again."""
        record = self._connection.execute(_NEXT_UNDONE, {"after": self._state().position}).first()
        return Entry(*record) if record else None

    def last_change(self, table: Table, key: int | str) -> Entry | None:
        """The newest standing entry that changed a row; ``None`` where it is as it was when the file was made.

        Looks through the whole journal: an index for it would be written at every edit.
        """
        query = _LAST.where(_CHANGES.c.table_name == table.value, _CHANGES.c.row_key == str(key))
        return self._last(query)

    def last_change_of_build(self, build_id: int) -> Entry | None:
        """The newest standing entry that changed a build, its steps or its leftovers; ``None`` as for a row."""
        return self._last(_LAST.where(_CHANGES.c.build_id == build_id))

    def change_sets(self, after: int, up_to: int) -> list[tuple[Entry, ChangeSet]]:
        """The entries with ``after`` < number <= ``up_to`` and what they changed, oldest first, also those taken back."""
        query = _ENTRY.where(_JOURNAL.c.number > after, _JOURNAL.c.number <= up_to).order_by(
            _JOURNAL.c.number
        )
        entries = [Entry(*record) for record in self._connection.execute(query).all()]
        return [(entry, self.change_set_of(entry.number)) for entry in entries]

    def change_set_of(self, number: int) -> ChangeSet:
        """What one entry changed. Raises HistoryRefused where a row of it is no row of this model."""
        records = _CHANGES_OF.run(self._driver, of=number).fetchall()
        try:
            return ChangeSet(tuple(change_of(*record) for record in records))
        except msgspec.DecodeError as error:
            raise HistoryRefused.unreadable(number, str(error)) from error

    def write(
        self, change_set: ChangeSet, label: str, when: datetime, in_place_of: int | None = None
    ) -> Entry:
        """Writes rows and a new entry; what was taken back is dropped.

        With ``in_place_of`` the newest standing entry is taken back and dropped first, and ``change_set`` starts from
        the rows as they were before it: repeated steps of one value become one entry.
        """
        state = self._state()
        position = state.position
        if in_place_of is not None:
            position = self._take_out(in_place_of, state)
        if state.newest > position:
            _DROP.run(self._driver, after=position)
        number = max(state.newest, state.top_number) + 1
        self._writer.write(change_set.changes)
        entry = Entry(number, label, when)
        self._append(entry, change_set)
        self._set_meta(state, change_set, state.newest if state.newest > position else state.top_number)
        return entry

    def replay(self, entry: Entry, change_set: ChangeSet) -> None:
        """Writes an entry of another copy of this house book as it is, under its own number.

        Raises HistoryRefused if the rows are not as the entry found them.
        """
        state = self._state()
        refuse_if_other(self._connection, change_set, entry)
        if state.newest > state.position:
            _DROP.run(self._driver, after=state.position)
        self._writer.write(change_set.changes)
        self._append(entry, change_set)
        self._set_meta(state, change_set, max(state.newest, state.top_number))

    def undo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Takes the newest standing entry back; what was applied comes with it. ``None``: there is nothing.

        Raises HistoryRefused if the rows are not as the entry left them.
        """
        entry = self.undo_entry()
        if entry is None:
            return None
        applied = self.change_set_of(entry.number).reversed()
        self._apply(applied, entry, when, is_undone=True)
        return Entry(entry.number, entry.label, entry.when, is_undone=True), applied

    def redo(self, when: datetime) -> tuple[Entry, ChangeSet] | None:
        """Does the oldest entry that was taken back again. ``None``: there is nothing.

        Raises HistoryRefused if the rows are not as the entry found them.
        """
        entry = self.redo_entry()
        if entry is None:
            return None
        applied = self.change_set_of(entry.number)
        self._apply(applied, entry, when, is_undone=False)
        return Entry(entry.number, entry.label, entry.when), applied

    def _apply(self, applied: ChangeSet, entry: Entry, when: datetime, *, is_undone: bool) -> None:
        refuse_if_other(self._connection, applied, entry)
        self._writer.write(applied.changes)
        _MARK.run(self._driver, of=entry.number, undone=is_undone, at=stored_time(when))

    def _take_out(self, number: int, state: _State) -> int:
        if number != state.position or number <= FIRST:
            raise ValueError(f"entry {number} is not the newest standing one ({state.position})")
        entry = self._entry(number)
        taken_back = self.change_set_of(number).reversed()
        refuse_if_other(self._connection, taken_back, entry)
        self._writer.write(taken_back.changes)
        return number - 1

    def _append(self, entry: Entry, change_set: ChangeSet) -> None:
        made_at = stored_time(entry.when)
        _ADD_ENTRY.run(self._driver, number=entry.number, label=entry.label, made_at=made_at, is_undone=False)
        if change_set:
            records = [
                _record(entry.number, place, change) for place, change in enumerate(change_set.changes)
            ]
            _ADD_CHANGES.run_each(self._driver, records)

    def _set_meta(self, state: _State, change_set: ChangeSet, top_number: int) -> None:
        keys = (change.key for change in change_set.changes if isinstance(change.key, int))
        top_id = max(keys, default=0)
        if top_id > state.top_id or top_number > state.top_number:
            number, top = max(top_number, state.top_number), max(top_id, state.top_id)
            _SET_META.run(self._driver, number=number, top=top)

    def _state(self) -> _State:
        newest, position, top_number, top_id = _STATE.run(self._driver).fetchone()
        return _State(newest or 0, position or 0, top_number, top_id)

    def _entry(self, number: int) -> Entry:
        number, label, made_at, is_undone = _ONE.run(self._driver, of=number).fetchone()
        return Entry(number, label, moment_of(made_at), bool(is_undone))

    def _last(self, query: sa.Select[Any]) -> Entry | None:
        record = self._connection.execute(query).first()
        return Entry(*record) if record else None


def refuse_if_other(connection: sa.Connection, applied: ChangeSet, entry: Entry) -> None:
    """Raises HistoryRefused unless every row is as the change set expects to find it."""
    expected: dict[Table, dict[int | str, Row | None]] = {}
    for change in applied.changes:
        expected.setdefault(change.table, {})[change.key] = change.before
    found = {
        table: read_rows(connection, table, list(rows), _kinds_of(rows.values()))
        for table, rows in expected.items()
    }
    for change in applied.changes:
        if found[change.table].get(change.key) != change.before:
            raise HistoryRefused(
                f"“{entry.label}” of {entry.when:%Y-%m-%d %H:%M} UTC was left as it is.",
                f"A row of the table “{change.table.value}” ({change.key}) was changed by another program since.",
                "Change it by hand to what it should be.",
            )


def _kinds_of(rows: Collection[Row | None]) -> set[type[Struct]] | None:
    """The kinds of rows that are expected; ``None``, any, where there should be none."""
    return {type(row) for row in rows if row is not None} if None not in rows else None


def _record(number: int, position: int, change: Change) -> dict[str, Any]:
    return {
        "number": number,
        "position": position,
        "table_name": change.table.value,
        "row_key": str(change.key),
        "build_id": _build_of(change),
        "row_before": _json(change.before),
        "row_after": _json(change.after),
    }


def _build_of(change: Change) -> int | None:
    if change.table is Table.BUILD:
        return int(change.key)
    row = change.after if change.after is not None else change.before
    if change.table is Table.STEP or isinstance(row, Leftover):
        return row.build_id  # type: ignore[union-attr]  # every step and leftover has one
    return None


def _json(row: Row | None) -> str | None:
    return None if row is None else _rows_as_json.encode(row).decode()


def _row(table: Table, text: str | None) -> Row | None:
    return None if text is None else _decoders[table].decode(text)


def change_of(table_name: str, row_key: str, before: str | None, after: str | None) -> Change:
    """The change that a record of the journal says."""
    table = Table(table_name)
    return Change(
        table, row_key if table in _BY_SLUG else int(row_key), _row(table, before), _row(table, after)
    )
