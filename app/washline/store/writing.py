"""Writes the rows that differ, and only those: each kind of statement once, with all its rows."""

from collections.abc import Iterable
from typing import Any

import sqlalchemy as sa
from msgspec import Struct

from washline.model.change import Change, Table
from washline.store.connection import driver_of
from washline.store.problem import HistoryRefused
from washline.store.rows import ChildKind, RowKind, kind_of
from washline.store.schema import METADATA
from washline.store.statement import Statement, insertion

ITEMS = METADATA.tables["item"]
_ITEM_TABLES = {Table.RAW, Table.BUILD, Table.LEFTOVER}
_MAIN = {table.value for table in Table}
_KEY = "key_"


class RowWriter:
    """Turns changes into statements on one connection and remembers the statements."""

    def __init__(self, connection: sa.Connection) -> None:
        self._driver = driver_of(connection)
        self._statements: dict[Any, Statement] = {}

    def write(self, changes: Iterable[Change]) -> None:
        """Writes changes of different rows, inside the transaction that the caller has begun.

        What is deleted goes first. Foreign keys are looked at when the transaction ends, so no other order matters.
        Raises HistoryRefused where a row that should be there is not.
        """
        batches = _Batches()
        for change in changes:
            _plan(change, batches)
        for batch in (batches.deletes, batches.inserts, batches.updates):
            for key, rows in batch.items():
                statement = self._statements.get(key)
                if statement is None:
                    statement = self._statements[key] = _statement(key)
                count = statement.run_each(self._driver, rows)
                if batch is not batches.inserts and key[1].name in _MAIN and count != len(rows):
                    raise HistoryRefused.row_gone(key[1].name)


class _Batches:
    """Rows by statement. A statement is named by its table and columns."""

    def __init__(self) -> None:
        self.deletes: dict[Any, list[dict[str, Any]]] = {}
        self.inserts: dict[Any, list[dict[str, Any]]] = {}
        self.updates: dict[Any, list[dict[str, Any]]] = {}

    def delete(self, table: sa.Table, column: str, key: Any) -> None:
        self.deletes.setdefault(("delete", table, column), []).append({_KEY: key})

    def insert(self, table: sa.Table, values: dict[str, Any]) -> None:
        self.inserts.setdefault(("insert", table, tuple(values)), []).append(values)

    def update(self, table: sa.Table, column: str, key: Any, values: dict[str, Any]) -> None:
        name = ("update", table, column, tuple(values))
        self.updates.setdefault(name, []).append({**values, _KEY: key})


def _statement(name: tuple[Any, ...]) -> Statement:
    action, table, *rest = name
    if action == "insert":
        return insertion(table, rest[0])
    where = table.c[rest[0]] == sa.bindparam(_KEY)
    if action == "delete":
        return Statement(sa.delete(table).where(where))
    return Statement(
        sa.update(table).where(where).values({column: sa.bindparam(column) for column in rest[1]})
    )


def _plan(change: Change, batches: _Batches) -> None:
    if change.before is None and change.after is not None:
        _plan_insert(change.key, change.after, batches)
    elif change.after is None and change.before is not None:
        _plan_delete(change.key, change.before, batches)
    elif change.before is not None and change.after is not None:
        _plan_update(change.key, change.before, change.after, batches)


def _plan_insert(key: int | str, row: Struct, batches: _Batches) -> None:
    kind = kind_of(row)
    if kind.table in _ITEM_TABLES:
        batches.insert(ITEMS, {"id": key, "kind": kind.table.value})
    batches.insert(kind.sql, kind.columns(row))
    for child, elements in kind.child_values(row).items():
        _plan_children(child, key, elements, batches)


def _plan_delete(key: int | str, row: Struct, batches: _Batches) -> None:
    kind = kind_of(row)
    for child, elements in kind.child_values(row).items():
        if elements:
            batches.delete(child.sql, child.parent, key)
    batches.delete(kind.sql, kind.key, key)
    if kind.table in _ITEM_TABLES:
        batches.delete(ITEMS, "id", key)


def _plan_update(key: int | str, before: Struct, after: Struct, batches: _Batches) -> None:
    kind = kind_of(after)
    changed = _changed(kind_of(before), before, kind, after)
    if changed:
        batches.update(kind.sql, kind.key, key, changed)
    old = kind_of(before).child_values(before)
    new = kind.child_values(after)
    for child in dict.fromkeys((*old, *new)):
        if old.get(child, []) != new.get(child, []):
            if old.get(child):
                batches.delete(child.sql, child.parent, key)
            _plan_children(child, key, new.get(child, []), batches)


def _changed(old_kind: RowKind, before: Struct, new_kind: RowKind, after: Struct) -> dict[str, Any]:
    old = old_kind.columns(before)
    new = new_kind.columns(after)
    return {
        name: new.get(name)
        for name in dict.fromkeys((*old, *new))
        if name not in old or old[name] != new.get(name)
    }


def _plan_children(
    child: ChildKind, key: int | str, elements: list[tuple[Any, ...]], batches: _Batches
) -> None:
    for position, values in enumerate(elements):
        own = dict(zip(child.columns, values, strict=True))
        place = {"position": position} if child.is_ordered else {}
        batches.insert(child.sql, {child.parent: key, **place, **own})
