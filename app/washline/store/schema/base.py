"""What all tables share: names of constraints, and the kinds of number with the range that the database itself holds.

A range is what could be true of anything, not what is usual: it keeps out nonsense (a negative weight, an infinity), and
what is merely odd is shown by the program.
"""

from typing import Annotated

from sqlalchemy import (
    Boolean,
    CheckConstraint,
    Column,
    Double,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
)
from sqlalchemy.orm import DeclarativeBase, MappedColumn, mapped_column

NAMES = {
    "ix": "ix_%(column_0_N_label)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
RANGE = "range"
LARGEST_ID = 2**53 - 1
"""Ids pass unharmed through every tool that holds numbers as doubles."""


class Base(DeclarativeBase):
    """Parent of all mapped rows."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {str: String(), bool: Boolean(), bytes: LargeBinary()}  # noqa: RUF012  as SQLAlchemy asks


def _real(low: float, high: float) -> MappedColumn[float]:
    return mapped_column(Double, info={RANGE: (low, high)})


def _whole(low: int, high: int) -> MappedColumn[int]:
    return mapped_column(Integer, autoincrement=False, info={RANGE: (low, high)})


Grams = Annotated[float, _real(0.0, 1e9)]
Millilitres = Annotated[float, _real(0.0, 1e9)]
Celsius = Annotated[float, _real(-273.15, 1000.0)]
Percent = Annotated[float, _real(0.0, 10000.0)]
Seconds = Annotated[float, _real(0.0, 1e9)]
GramsPer100Grams = Annotated[float, _real(0.0, 101.0)]
"""A little more than 100, for what rounding adds."""
GramsPerMillilitre = Annotated[float, _real(0.0, 25.0)]
Kilopascal = Annotated[float, _real(0.0, 1e6)]
HeatCapacity = Annotated[float, _real(0.0, 1e9)]
"""In J/K."""
GramsPerLitre = Annotated[float, _real(0.0, 1000.0)]
MillimolePer100Grams = Annotated[float, _real(-1e5, 1e5)]
Acidity = Annotated[float, _real(-2.0, 16.0)]
"""A pH."""
Brix = Annotated[float, _real(-100.0, 200.0)]
Gain = Annotated[float, _real(0.0, 1.0)]
Factor = Annotated[float, _real(0.0, 1e6)]
Offset = Annotated[float, _real(-1e6, 1e6)]
PercentMoreOrLess = Annotated[float, _real(-100.0, 10000.0)]
HouseScale = Annotated[float, _real(0.0, 100.0)]
Share = Annotated[float, _real(0.0, 10.0)]
Money = Annotated[float, _real(0.0, 1e9)]
AmountNumber = Annotated[float, _real(0.0, 1e12)]
Count = Annotated[float, _real(0.0, 1e9)]
Place = Annotated[float, _real(-1e12, 1e12)]
AnyReading = Annotated[float, _real(-1e15, 1e15)]

Id = Annotated[int, _whole(1, LARGEST_ID)]
Position = Annotated[int, _whole(0, 1_000_000)]
Days = Annotated[int, _whole(0, 1_000_000)]
Flags = Annotated[int, _whole(0, 2**63 - 1)]
Number = Annotated[int, _whole(1, LARGEST_ID)]
NumberOrNone = Annotated[int, _whole(0, LARGEST_ID)]


def refers_to(target: str, *, on_delete: str | None = None) -> ForeignKey:
    """A foreign key that is checked at the end of the transaction, so that rows may be written in any order."""
    return ForeignKey(target, ondelete=on_delete, deferrable=True, initially="DEFERRED")


def one_of(column: str, values: tuple[str, ...], name: str = "") -> CheckConstraint:
    """Limits a text to a list of words."""
    words = ", ".join(f"'{value}'" for value in values)
    return CheckConstraint(f"{column} IN ({words})", name=name or f"{column}_is_known")


def add_ranges(table: Table) -> None:
    """Gives every number of a table its two-sided CHECK, and every truth value its own."""
    for column in table.columns:
        rule = _rule(column)
        if rule is not None:
            table.append_constraint(CheckConstraint(rule, name=f"{column.name}_in_range"))


def _rule(column: Column[object]) -> str | None:
    if isinstance(column.type, Boolean):
        return f"{column.name} IN (FALSE, TRUE)"
    if isinstance(column.type, Double | Integer):
        low, high = column.info[RANGE]
        return f"{column.name} BETWEEN {low!r} AND {high!r}"
    return None
