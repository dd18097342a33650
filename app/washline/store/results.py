"""The readings as last computed, one row per build. The table can be emptied at any time: all is computed again."""

import math
import struct
from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any, NamedTuple

import sqlalchemy as sa

from washline.model.reading import READING_KEYS
from washline.store.schema import METADATA

_RESULT = METADATA.tables["result"]
_JOURNAL = METADATA.tables["journal"]
_BUILD = METADATA.tables["build"]
_COLUMNS = (*READING_KEYS, *(f"{key}_more" for key in READING_KEYS))
_DOUBLES = struct.Struct(f"<{len(_COLUMNS)}d")
_HALF = _DOUBLES.size // 2
_GREATEST = 1e15
"""A reading beyond it is kept in ``exact`` only: the columns take what can be."""

_AT_ONCE = 1000

_ROWS = (
    sa.select(_RESULT.c.item_id, _RESULT.c.journal_number, _RESULT.c.exact, _RESULT.c.flags)
    .where(
        _RESULT.c.stamp == sa.bindparam("wanted"),
        sa.or_(_RESULT.c.journal_number == 0, _RESULT.c.journal_number.in_(sa.select(_JOURNAL.c.number))),
    )
    .order_by(_RESULT.c.item_id)
)
_REMOVE = sa.delete(_RESULT).where(_RESULT.c.item_id == sa.bindparam("of"))
_ADD = sa.insert(_RESULT)
_CLEAR = sa.delete(_RESULT)
_BUILDS = sa.select(_BUILD.c.id)


class StoredResult(NamedTuple):
    """The readings of one build: what each is and how much more it may be, as doubles in the order of the readings, and
    the number of the journal entry at which they held."""

    item_id: int
    journal_number: int
    values: bytes
    more: bytes
    flags: int


def read_results(connection: sa.Connection, stamp: str) -> dict[int, StoredResult]:
    """The rows that an engine with this stamp computed, by build. Rows of entries that were dropped are passed over."""
    records = connection.execute(_ROWS, {"wanted": stamp})
    return {
        item_id: StoredResult(item_id, number, exact[:_HALF], exact[_HALF:], flags)
        for item_id, number, exact, flags in records
        if len(exact) == _DOUBLES.size
    }


def write_results(
    connection: sa.Connection,
    stamp: str,
    journal_number: int,
    rows: Iterable[tuple[int, int, bytes, bytes, int]],
) -> None:
    """Puts rows in the place of those of the same builds, all at one number; rows of builds that are gone are passed
    over."""
    builds = set(connection.execute(_BUILDS).scalars())
    wanted = (row for row in rows if row[0] in builds)
    for batch in _batches(wanted):
        connection.execute(_REMOVE, [{"of": row[0]} for row in batch])
        connection.execute(_ADD, [_record(stamp, journal_number, row) for row in batch])


def clear_results(connection: sa.Connection) -> None:
    """Empties the table."""
    connection.execute(_CLEAR)


def _batches(rows: Iterator[Any]) -> Iterator[list[Any]]:
    while batch := list(islice(rows, _AT_ONCE)):
        yield batch


def _record(stamp: str, journal_number: int, row: tuple[int, int, bytes, bytes, int]) -> dict[str, Any]:
    item_id, _, values, more, flags = row
    exact = bytes(values) + bytes(more)
    record: dict[str, Any] = dict(zip(_COLUMNS, map(_reading, _DOUBLES.unpack(exact)), strict=True))
    record.update(item_id=item_id, journal_number=journal_number, stamp=stamp, flags=flags, exact=exact)
    return record


def _reading(number: float) -> float | None:
    return number if math.isfinite(number) and abs(number) <= _GREATEST else None
