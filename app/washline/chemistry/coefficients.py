"""Reads the tables of constants once: ``coefficients.csv`` and ``supplement.csv`` of resources/tables."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from washline.assets import resource

TABLES = ("coefficients.csv", "supplement.csv")


@dataclass(frozen=True, slots=True)
class Coefficient:
    """One constant: its value as written, its unit, where it is from, and whether that is from memory."""

    group: str
    key: str
    index: str
    value: str
    unit: str
    source: str
    from_memory: bool


@cache
def table() -> Mapping[tuple[str, str], tuple[Coefficient, ...]]:
    """Every constant by (group, key), in the order of the files."""
    found: dict[tuple[str, str], list[Coefficient]] = {}
    for name in TABLES:
        with resource("tables", name).open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                coefficient = Coefficient(
                    row["group"],
                    row["key"],
                    row["index"],
                    row["value"],
                    row["unit"],
                    row["source"],
                    row["from_memory"] == "yes",
                )
                found.setdefault((coefficient.group, coefficient.key), []).append(coefficient)
    return {place: tuple(rows) for place, rows in found.items()}


def keys(group: str) -> tuple[str, ...]:
    """The keys of a group, in the order of the file.

    >>> keys("water_kell")
    ('num', 'den')
    """
    return tuple(key for found, key in table() if found == group)


@cache
def series(group: str, key: str) -> tuple[float, ...]:
    """The values of one key in rising index: usually the coefficients of a polynomial. ``KeyError`` if unknown.

    >>> series("phi", "sucrose")
    (0.6161, 0.00706, 0.02008)
    """
    return tuple(
        float(row.value) for row in sorted(table()[group, key], key=lambda row: float(row.index or 0))
    )


def value(group: str, key: str, index: str = "") -> float:
    """The one constant of a group, key and index. ``KeyError`` if unknown.

    >>> value("energy", "alcohol", "kJ/g")
    29.0
    """
    for row in table()[group, key]:
        if row.index == index:
            return float(row.value)
    raise KeyError((group, key, index))


def word(group: str, key: str) -> str:
    """The text of a constant that is a word and not a number, such as a solute's class.

    >>> word("solute_class", "nacl")
    'e'
    """
    return table()[group, key][0].value
