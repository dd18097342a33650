"""Reads rows: the whole house book at opening, or a few by their keys."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Any

import sqlalchemy as sa
from msgspec import Struct, structs

from washline.model.book import HouseBook
from washline.model.change import SETTINGS_KEY, Row, Table
from washline.model.house import Settings
from washline.model.step import AnyStep
from washline.store.rows import BY_TABLE, ChildKind, Children, RowKind, RowReader, Shared
from washline.store.schema import METADATA

_AT_ONCE = 500
_TOP_ID = sa.select(METADATA.tables["meta"].c.top_id)


def read_book(connection: sa.Connection) -> HouseBook:
    """The whole house book."""
    shared = Shared()

    def all_of(table: Table) -> dict[Any, Any]:
        return dict(_READERS[table].rows(connection, shared))

    return HouseBook(
        settings=all_of(Table.SETTINGS).get(SETTINGS_KEY, Settings()),
        raws=all_of(Table.RAW),
        builds=_builds(connection, shared),
        leftovers=all_of(Table.LEFTOVER),
        targets=all_of(Table.TARGET),
        glasses=all_of(Table.GLASS),
        methods=all_of(Table.METHOD),
        measures=all_of(Table.MEASURE),
        makings=all_of(Table.MAKING),
        ices=all_of(Table.ICE),
        vessels=all_of(Table.VESSEL),
        weighings=all_of(Table.WEIGHING),
        calibrations=all_of(Table.CALIBRATION),
        top_id=connection.execute(_TOP_ID).scalar_one(),
    )


def read_rows(
    connection: sa.Connection,
    table: Table,
    keys: Sequence[int | str],
    kinds: Collection[type[Struct]] | None = None,
) -> dict[int | str, Row]:
    """The rows of one table with these keys; a build comes without its steps. A key without a row is left out.

    With ``kinds`` only rows of these are whole: one of another kind is left out, or comes without what is its own.
    """
    found: dict[int | str, Row] = {}
    for start in range(0, len(keys), _AT_ONCE):
        found.update(_READERS[table].rows(connection, Shared(), keys[start : start + _AT_ONCE], kinds))
    return found


def all_rows(connection: sa.Connection, table: Table) -> Iterator[tuple[int | str, Row]]:
    """All rows of one table with their keys; a build comes without its steps."""
    return _READERS[table].rows(connection, Shared())


def _builds(connection: sa.Connection, shared: Shared) -> dict[int, Any]:
    steps: dict[int, list[AnyStep]] = {}
    for _, step in _READERS[Table.STEP].rows(connection, shared):
        steps.setdefault(step.build_id, []).append(step)
    for own in steps.values():
        own.sort(key=_place)
    return {
        key: structs.replace(build, steps=tuple(steps.pop(key, ())))
        for key, build in _READERS[Table.BUILD].rows(connection, shared)
    }


def _place(step: AnyStep) -> tuple[float, int]:
    return step.place, step.id


class _Query:
    """A query for all records of a table and the same for those with some keys."""

    def __init__(self, query: sa.Select[Any], key: sa.Column[Any]) -> None:
        self._all = query
        self._some = query.where(key.in_(sa.bindparam("keys", expanding=True)))

    def records(self, connection: sa.Connection, keys: Sequence[int | str] | None) -> Iterable[Any]:
        if keys is None:
            return connection.execute(self._all, execution_options={"yield_per": 1000})
        return connection.execute(self._some, {"keys": keys})


class _Part:
    """Rows of a table of some kinds, with the columns that these have and no others."""

    def __init__(self, kinds: Sequence[RowKind], *, is_all: bool) -> None:
        sql = kinds[0].sql
        wanted = dict.fromkeys(name for kind in kinds for name in (kind.key, *kind.column_names()))
        names = list(wanted)
        self._readers = {dict(kind.fixed).get("kind"): RowReader(kind, names) for kind in kinds}
        self.structs = frozenset(kind.struct for kind in kinds)
        self._kind = None if is_all else names.index("kind")
        self._key = names.index(kinds[0].key)
        query = sa.select(*(sql.c[name] for name in names)).order_by(sa.literal_column("rowid"))
        if not is_all:
            query = query.where(sql.c.kind.in_(list(self._readers)))
        self._query = _Query(query, sql.c[kinds[0].key])

    def rows(
        self,
        connection: sa.Connection,
        shared: Shared,
        children: Children,
        keys: Sequence[int | str] | None,
    ) -> Iterator[tuple[Any, Any]]:
        for record in self._query.records(connection, keys):
            reader = self._readers[None if self._kind is None else record[self._kind]]
            yield record[self._key], reader.row(record, children, shared)


class _TableReader:
    """Reads rows of one table with all that belongs to them.

    Most steps are lines, and have a few of the table's columns: they are read apart.
    """

    def __init__(self, table: Table) -> None:
        kinds = BY_TABLE[table]
        if table is Table.STEP:
            lines = [kind for kind in kinds if "amount" in kind.struct.__struct_fields__]
            others = [kind for kind in kinds if kind not in lines]
            self._parts = [_Part(lines, is_all=False), _Part(others, is_all=False)]
        else:
            self._parts = [_Part(kinds, is_all=True)]
        owners: dict[ChildKind, set[type[Struct]]] = {}
        for kind in kinds:
            for child in kind.children:
                owners.setdefault(child, set()).add(kind.struct)
        self._children = tuple((child, _child_query(child), own) for child, own in owners.items())

    def rows(
        self,
        connection: sa.Connection,
        shared: Shared,
        keys: Sequence[int | str] | None = None,
        kinds: Collection[type[Struct]] | None = None,
    ) -> Iterator[tuple[Any, Any]]:
        """Keys and rows: those of ``keys``, or all; of one kind in the order in which they came into the book. What
        rows of ``kinds`` have no part in is not looked at."""
        children: dict[str, dict[Any, Any]] = defaultdict(dict)
        for child, query, owners in self._children:
            if kinds is None or not owners.isdisjoint(kinds):
                children[child.sql.name] = _elements(child, query.records(connection, keys))
        for part in self._parts:
            if kinds is None or not part.structs.isdisjoint(kinds):
                yield from part.rows(connection, shared, children, keys)


def _child_query(child: ChildKind) -> _Query:
    columns = child.sql.c
    parent = columns[child.parent]
    wanted = (columns[name] for name in child.columns)
    order = (parent, columns.position) if child.is_ordered else (parent,)
    return _Query(sa.select(parent, *wanted).order_by(*order), parent)


def _elements(child: ChildKind, records: Iterable[Any]) -> dict[Any, Any]:
    found: dict[Any, list[Any]] = {}
    for parent, *values in records:
        found.setdefault(parent, []).append(values)
    return {parent: child.made(rows) for parent, rows in found.items()}


_READERS = {table: _TableReader(table) for table in Table}
