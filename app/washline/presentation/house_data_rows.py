"""Rows of the house's data as they are added, duplicated and changed: usual figures to start from, and their source."""

from typing import Any, TypeVar

from msgspec import structs

from washline.model.house import Glass, Ice, Method, Vessel
from washline.presentation.house_data_columns import NO_SOURCE, WORDY, Column, HouseRow, Kind

THIS_HOUSE = "this house"
_OWN = f": {THIS_HOUSE}"
_REST = "; else "

Row = TypeVar("Row", bound=HouseRow)


def fresh(table: str, slug: str, name: str) -> Glass | Method | Ice | Vessel:
    """A new row with the usual figures of its kind, to be corrected. Raises ``KeyError`` for a table to which nothing is
    added."""
    rows: dict[str, Glass | Method | Ice | Vessel] = {
        "glass": Glass(slug=slug, name=name, brim_ml=300.0, source=NO_SOURCE),
        "method": Method(
            slug=slug, name=name, ice="cubes", time_low_s=20.0, time_high_s=40.0, dilution_low_pct=35.0,
            dilution_high_pct=50.0, end_low_c=-5.0, end_high_c=0.0, core=0.5, vessel_j_per_k=100.0, source=NO_SOURCE,
        ),
        "ice": Ice(slug=slug, name=name, source=NO_SOURCE),
        "vessel": Vessel(slug=slug, name=name, volume_ml=750.0, fill_ml=700.0, source=NO_SOURCE),
    }  # fmt: skip
    return rows[table]


def copied(row: Row, slug: str, name: str) -> Row:
    """The same row under another key and name."""
    return structs.replace(row, slug=slug, name=name)


def copy_name(name: str, taken: set[str]) -> str:
    """The name of a copy: *Coupe, copy*, then *Coupe, copy 2*."""
    wish, count = f"{name}, copy", 1
    while wish.casefold() in taken:
        count += 1
        wish = f"{name}, copy {count}"
    return wish


def changed(row: Row, column: Column, fields: dict[str, Any]) -> Row:
    """The row with other fields. A figure that the house types is from then on its own, and its source says so; where the
    rest comes from is kept."""
    if column.kind is Kind.TEXT or "source" in fields or not hasattr(row, "source"):
        return structs.replace(row, **fields)
    return structs.replace(row, **fields, source=_own_source(row.source, column))


def _own_source(source: str, column: Column) -> str:
    head, mark, rest = source.partition(_OWN)
    own = head.split(", ") if mark else []
    name = column.head if column.kind in WORDY or not column.unit else f"{column.head} ({column.unit})"
    if name not in own:
        own.append(name)
    before = rest.removeprefix(_REST) if mark else source
    return f"{', '.join(own)}{_OWN}{_REST if before else ''}{before}"
