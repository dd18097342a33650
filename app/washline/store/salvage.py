"""Reads what can be read of a damaged house book without a backup, and makes a new one of it."""

import sqlite3
from contextlib import closing
from datetime import datetime
from importlib import import_module
from pathlib import Path
from typing import Any

import sqlalchemy as sa

from washline.model.change import SETTINGS_KEY, Change, Table
from washline.model.house import Settings
from washline.model.item import UNKNOWN
from washline.store import connection as connections
from washline.store.journal import FIRST
from washline.store.peek import SCHEMA_VERSION
from washline.store.rows import KINDS
from washline.store.schema import METADATA
from washline.store.writing import RowWriter

_NOT_READ = {"meta", "journal", "journal_change", "result", "item"}
"""Made anew: a history with holes could not be taken back."""

_ITEM_TABLES = ("raw", "build", "leftover")
_NEEDED = {("step", "item_id"), ("step", "like_item_id"), ("step", "method"), ("settings_swap", "to_id")}
"""Columns that may be NULL and are not in the kinds of step that have them, or where NULL would say something else."""

_ALLERGENS = (
    "raw_allergen",
    "raw_may_contain",
    "build_allergen",
    "build_may_contain",
    "leftover_may_contain",
    "settings_shared",
)
"""Where rows of one of these are lost, nobody knows any more what is in a drink."""

_LABEL = "Recovery from a damaged file"

Records = list[dict[str, Any]]


def salvage(damaged: Path, target: Path, when: datetime) -> str | None:
    """Makes a house book at ``target`` of the rows that can be read; says in sentences what is missing, or ``None``
    if nothing can be read. The history starts anew."""
    tables = [table for table in METADATA.sorted_tables if table.name not in _NOT_READ]
    with closing(connections.raw_connection(damaged, "rw")) as source:
        version = _version(source)
        is_older = version < SCHEMA_VERSION
        read = {table.name: _read(source, table, is_older) for table in tables}
    if not any(records for records, _ in read.values()):
        return None
    rows = {name: records for name, (records, _) in read.items()}
    holed = sorted(name for name, (_, is_whole) in read.items() if not is_whole)
    are_allergens_whole = not set(_ALLERGENS).intersection(holed)
    import_module("washline.store.migration").migrate(target)
    dropped = _fill(target, rows, when, version, are_allergens_whole=are_allergens_whole)
    return _words(rows, holed, dropped, are_allergens_whole=are_allergens_whole)


def _version(source: sqlite3.Connection) -> int:
    try:
        return int(source.execute("PRAGMA user_version").fetchone()[0])
    except sqlite3.Error:
        return SCHEMA_VERSION


def _read(source: sqlite3.Connection, table: sa.Table, is_older: bool) -> tuple[Records, bool]:
    """The records from both ends of a table up to the first that cannot be read, and whether that is all.

    A file of an older version has fewer tables and columns: what it lacks has the usual value.
    """
    try:
        there = {record[1] for record in source.execute(f'PRAGMA table_info("{table.name}")')}
    except sqlite3.Error:
        return [], False
    if not there:
        return [], is_older
    names = [name for name in table.columns.keys() if name in there]  # noqa: SIM118  keys of columns, not columns
    columns = ", ".join(f'"{name}"' for name in names)
    query = f'SELECT rowid, {columns} FROM "{table.name}" NOT INDEXED ORDER BY rowid'
    found: dict[int, dict[str, Any]] = {}
    for direction in ("ASC", "DESC"):
        try:
            for rowid, *values in source.execute(f"{query} {direction}"):
                found[rowid] = dict(zip(names, values, strict=True))
        except sqlite3.Error:
            continue
        return _completed(table, _in_order(found)), direction == "ASC"
    return _completed(table, _in_order(found)), False


def _completed(table: sa.Table, records: Records) -> Records:
    kinds = {dict(kind.fixed).get("kind"): kind for kind in KINDS.values() if kind.sql is table}
    for record in records:
        kind = kinds.get(record.get("kind") if table.name == "step" else None)
        usual = kind.usual() if kind is not None else {}
        record.update((name, usual.get(name)) for name in table.columns.keys() if name not in record)  # noqa: SIM118
    return records


def _in_order(found: dict[int, dict[str, Any]]) -> Records:
    return [found[rowid] for rowid in sorted(found)]


def _fill(
    target: Path, rows: dict[str, Records], when: datetime, version: int, *, are_allergens_whole: bool
) -> int:
    engine = connections.migrator(target)
    try:
        with engine.connect() as connection:
            with connections.writing(connection):
                dropped = _put(connection, rows, are_allergens_whole=are_allergens_whole)
                dropped += _drop_dangling(connection)
                import_module("washline.store.migration").bring_in_what_is_usual(connection, version)
                _start_history(connection, rows, when)
            connections.remove_journal(connection)
    finally:
        engine.dispose()
    return dropped


def _put(connection: sa.Connection, rows: dict[str, Records], *, are_allergens_whole: bool) -> int:
    """Inserts the records; those that break a rule of the tables are damage, too, and are left out."""
    items = [{"id": record["id"], "kind": name} for name in _ITEM_TABLES for record in rows[name]]
    wanted = {**rows, "item": items}
    if not are_allergens_whole:
        wanted["raw_allergen"] = _with_unknown(rows["raw"], rows["raw_allergen"])
    dropped = 0
    for name, records in wanted.items():
        if records:
            result = connection.exec_driver_sql(
                _insertion(name, records[0]), [tuple(one.values()) for one in records]
            )
            dropped += len(records) - result.rowcount
    return dropped


def _insertion(table: str, record: dict[str, Any]) -> str:
    columns = ", ".join(f'"{name}"' for name in record)
    marks = ", ".join("?" * len(record))
    return f'INSERT OR IGNORE INTO "{table}" ({columns}) VALUES ({marks})'


def _with_unknown(raws: Records, allergens: Records) -> Records:
    """Where allergens may have been lost, every raw ingredient has unknown ones: a lost row must not read as none."""
    most = 1_000_000
    known = [record for record in allergens if record["allergen"] != UNKNOWN]
    return [*known, *({"raw_id": raw["id"], "position": most, "allergen": UNKNOWN} for raw in raws)]


def _drop_dangling(connection: sa.Connection) -> int:
    """Empties references to what is lost; a row that needs its reference goes, and so on until all is well."""
    dropped = 0
    while dangling := connection.exec_driver_sql("PRAGMA foreign_key_check").all():
        for table, rowid, _, key in dangling:
            column = _column(connection, table, key)
            if METADATA.tables[table].c[column].nullable and (table, column) not in _NEEDED:
                connection.exec_driver_sql(
                    f'UPDATE "{table}" SET "{column}" = NULL WHERE rowid = ?',
                    (rowid,),
                )
            else:
                dropped += connection.exec_driver_sql(
                    f'DELETE FROM "{table}" WHERE rowid = ?',
                    (rowid,),
                ).rowcount
    return dropped


def _column(connection: sa.Connection, table: str, key: int) -> str:
    records = connection.exec_driver_sql(f'PRAGMA foreign_key_list("{table}")').all()
    return next(str(record[3]) for record in records if record[0] == key)


def _start_history(connection: sa.Connection, rows: dict[str, Records], when: datetime) -> None:
    ids = [
        record["id"]
        for name in (*_ITEM_TABLES, "step", "target", "making", "weighing")
        for record in rows[name]
    ]
    connection.execute(
        sa.insert(METADATA.tables["meta"]), {"id": 0, "top_id": max(ids, default=0), "top_number": FIRST}
    )
    entry = {"number": FIRST, "label": _LABEL, "made_at": when, "is_undone": False}
    connection.execute(sa.insert(METADATA.tables["journal"]), entry)
    if not rows["settings"]:
        RowWriter(connection).write([Change(Table.SETTINGS, SETTINGS_KEY, None, Settings())])


def _words(rows: dict[str, Records], holed: list[str], dropped: int, *, are_allergens_whole: bool) -> str:
    counts = (("build", "builds"), ("step", "steps"), ("raw", "raw ingredients"))
    words = (
        "Read from the damaged file: " + ", ".join(f"{len(rows[name])} {what}" for name, what in counts) + "."
    )
    if holed:
        words += f" Parts could not be read of: {', '.join(holed)}."
    if dropped:
        words += f" {dropped} rows referred to something that is lost and were left out."
    if not are_allergens_whole:
        words += " The allergens of all raw ingredients count as unknown until somebody reads the labels."
    return f"{words} The history starts anew."
