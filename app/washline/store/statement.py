"""Statements that every saved edit runs: made by SQLAlchemy once, then handed to the driver as they are.

Measured: a statement takes 4 µs this way and 18 µs through the connection, of five in a saved edit of about 1 ms.
"""

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.dialects import sqlite

_DIALECT = sqlite.dialect(paramstyle="qmark")


class Statement:
    """A statement with named values. Values go to the driver unchanged, so moments come as text."""

    def __init__(self, statement: sa.sql.ClauseElement) -> None:
        compiled = statement.compile(dialect=_DIALECT)
        assert isinstance(compiled, sa.sql.compiler.SQLCompiler)
        self._text = str(compiled)
        self._names = tuple(compiled.positiontup or ())

    def run(self, driver: sqlite3.Connection, **values: Any) -> sqlite3.Cursor:
        """Runs it once."""
        return driver.execute(self._text, [values[name] for name in self._names])

    def run_each(self, driver: sqlite3.Connection, rows: Sequence[Mapping[str, Any]]) -> int:
        """Runs it once per row; how many records it changed in all."""
        names = self._names
        if len(rows) == 1:
            return driver.execute(self._text, [rows[0][name] for name in names]).rowcount
        return driver.executemany(self._text, ([row[name] for name in names] for row in rows)).rowcount


def insertion(table: sa.Table, columns: Sequence[str]) -> Statement:
    """An insertion into these columns, each named like its value."""
    return Statement(sa.insert(table).values({name: sa.bindparam(name) for name in columns}))
