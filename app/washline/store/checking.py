"""Looks whether a house book is whole: the file, its references, its numbers, and that its journal leads to its rows."""

import sqlite3
from collections.abc import Iterator
from functools import cache
from typing import Any

import sqlalchemy as sa
from sqlalchemy.exc import DBAPIError

from washline.model.change import Change, Row, Table
from washline.store.connection import driver_of
from washline.store.journal import Journal
from washline.store.problem import HistoryRefused
from washline.store.reading import all_rows
from washline.store.schema import METADATA
from washline.store.statement import Statement

_MOST = 20
"""So many faults of one kind are told: more say no more."""

_TOLD_BY_RULES = ("CHECK constraint failed", "NULL value in")
"""SQLite looks for these only in files that it may write, and does not say which rule."""

_ITEM = METADATA.tables["item"]
_ITEM_TABLES = (Table.RAW, Table.BUILD, Table.LEFTOVER)
_TOP_ID = sa.select(METADATA.tables["meta"].c.top_id)

State = dict[tuple[Table, int | str], Row]


def faults_of(connection: sa.Connection) -> list[str]:
    """What is wrong, one sentence each; empty where all is well."""
    damage = [*_damage(connection), *_dangling(connection)] or _broken(connection)
    if damage:
        return damage
    try:
        state = {(table, key): row for table in Table for key, row in all_rows(connection, table)}
        return [*_items(connection, state), *_history(connection, state)]
    except HistoryRefused as problem:
        return [str(problem)]
    except (DBAPIError, ValueError, KeyError) as error:
        return [f"A row cannot be read: {error}."]


def _broken(connection: sa.Connection) -> list[str]:
    try:
        return list(_rules(connection))
    except sqlite3.Error as error:
        return [f"The file is damaged: {error}."]


def _damage(connection: sa.Connection) -> Iterator[str]:
    try:
        records = connection.exec_driver_sql(f"PRAGMA integrity_check({_MOST})").scalars().all()
    except DBAPIError as error:
        yield f"The file is damaged: {error.orig}."
        return
    for words in records:
        if words != "ok" and not str(words).startswith(_TOLD_BY_RULES):
            yield f"The file is damaged: {' '.join(str(words).split())}."


def _dangling(connection: sa.Connection) -> Iterator[str]:
    try:
        records = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    except DBAPIError as error:
        yield f"The file is damaged: {error.orig}."
        return
    for table, row, target, _ in records[:_MOST]:
        yield f"Row {row} of the table “{table}” refers to a row of “{target}” that is not there."


def _items(connection: sa.Connection, state: State) -> Iterator[str]:
    records = connection.execute(sa.select(_ITEM.c.id, _ITEM.c.kind))
    kinds: dict[int | str, str] = {key: kind for key, kind in records}  # noqa: C416  mypy knows no pairs in rows
    own: dict[int | str, str] = {key: table.value for table, key in state if table in _ITEM_TABLES}
    for key in sorted(kinds.keys() | own.keys(), key=str):
        if kinds.get(key) != own.get(key):
            yield f"Item {key} is listed as “{kinds.get(key)}” and is “{own.get(key)}”."
    top_id = connection.execute(_TOP_ID).scalar_one()
    highest = max((key for _, key in state if isinstance(key, int)), default=0)
    if highest > top_id:
        yield f"The highest id is {highest}, and {top_id} is noted as the highest."


def _rules(connection: sa.Connection) -> Iterator[str]:
    """Rows that the tables would refuse: a tool may have switched the rules off or rebuilt a table without them."""
    for table in METADATA.sorted_tables:
        names, statement = _rules_of(table)
        counts = statement.run(driver_of(connection)).fetchone()
        for name, count in zip(names, counts, strict=True):
            if count:
                yield f"{count} rows of the table “{table.name}” break the rule “{name.replace('_', ' ')}”."


@cache
def _rules_of(table: sa.Table) -> tuple[tuple[str, ...], Statement]:
    """The rules of a table, and a statement that counts the rows that break each."""
    rules = {
        str(rule.name).removeprefix("ck_"): f"NOT ({rule.sqltext})"
        for rule in table.constraints
        if isinstance(rule, sa.CheckConstraint)
    }
    needed = {
        f"{table.name}_{column.name}_is_needed": f"{column.name} IS NULL"
        for column in table.columns
        if not column.nullable
    }
    broken = {**rules, **needed}
    counts: list[sa.ColumnElement[int]] = [
        sa.literal_column(f"count(CASE WHEN {rule} THEN 1 END)") for rule in broken.values()
    ]
    return tuple(broken), Statement(sa.select(*counts).select_from(table))


def _history(connection: sa.Connection, state: State) -> Iterator[str]:
    """Follows each row from change to change: every one must start where the one before ended, and the last one that
    stands must end at the row as it is; those taken back must start there."""
    journal = Journal(connection)
    seen: dict[tuple[Table, Any], Row | None] = {}
    is_behind_undone = False
    present_is_checked = False
    for entry in journal.oldest_first():
        if entry.is_undone and not present_is_checked:
            present_is_checked = True
            yield from _differing(seen, state)
        if is_behind_undone and not entry.is_undone:
            yield f"Journal entry {entry.number} stands, and one before it is taken back."
        is_behind_undone = is_behind_undone or entry.is_undone
        for change in journal.change_set_of(entry.number).changes:
            yield from _broken_link(entry.number, change, seen, state if entry.is_undone else None)
            seen[change.table, change.key] = change.after
    if not present_is_checked:
        yield from _differing(seen, state)


def _broken_link(
    number: int, change: Change, seen: dict[tuple[Table, Any], Row | None], state: State | None
) -> Iterator[str]:
    key = (change.table, change.key)
    if key in seen:
        expected = seen[key]
    elif state is not None:
        expected = state.get(key)
    else:
        return
    if change.before != expected:
        yield f"Journal entry {number} does not start where the one before left “{change.table.value}” {change.key}."


def _differing(seen: dict[tuple[Table, Any], Row | None], state: State) -> Iterator[str]:
    for key, row in seen.items():
        if state.get(key) != row:
            yield f"“{key[0].value}” {key[1]} is not as the journal says."
