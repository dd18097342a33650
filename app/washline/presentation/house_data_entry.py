"""Reads what is typed into a cell of the house's data, in any unit of its kind; never raises on any text."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from washline.model.house import Measure
from washline.presentation.house_data_columns import Column, HouseRow, Kind
from washline.quantity.amount_text import ParseProblem, parse_amount
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.pressure_text import parse_pressure
from washline.quantity.step_text import parse_duration, parse_temperature
from washline.quantity.units import bar_units, convert

Reading = tuple[float, ...] | str
"""The figures that a text says, or why it says none."""

EXPECTED: dict[Kind, str] = {
    Kind.VOLUME: "Expected a volume, such as 300 ml, 30 cl or 10 oz.",
    Kind.MASS: "Expected a weight, such as 115 g.",
    Kind.LENGTH: "Expected a length, such as 30 mm or 3 cm.",
    Kind.DEGREES: "Expected a temperature, such as −5 °C or 23 °F.",
    Kind.DEGREES_RANGE: "Expected one or two temperatures, such as −5 to 0 °C.",
    Kind.SECONDS: "Expected a time, such as 13 s or 1 min.",
    Kind.SECONDS_RANGE: "Expected one or two times, such as 20-40 s or 1-3 min.",
    Kind.PRESSURE: "Expected a pressure over the atmosphere, such as 6 bar, 600 kPa or 87 psi.",
    Kind.PERCENT: "Expected a percentage, such as 3 %.",
    Kind.PERCENT_RANGE: "Expected one or two percentages, such as 35-50 %.",
    Kind.NUMBER: "Expected a number.",
    Kind.RANGE: "Expected one or two numbers, such as 0.4-1.1.",
}
_LENGTHS = {"": 1.0, "mm": 1.0, "cm": 10.0, "in": 25.4, "inch": 25.4, "inches": 25.4, "″": 25.4, '"': 25.4}
_DASH = re.compile(r"\s*(?:-|\u2010|\u2011|\u2012|\u2013|\u2014|\.\.+|\u2026|to\b)\s*")
_BARE = re.compile(r"[\d\s.,/'\u2019\u00a0\u202f\u00bc-\u00be\u2150-\u215e\u2010-\u2014-]+")
_EMPTY = ("", "?", "–", "-")


@dataclass(frozen=True, slots=True)
class Entry:
    """What was typed: the fields of the row that it changes, or the problem in one line."""

    fields: dict[str, Any]
    problem: str = ""


def read_entry(
    column: Column,
    row: HouseRow,
    text: str,
    choices: Sequence[tuple[Any, str]] = (),
    *,
    oz_ml: float = 30.0,
    style: NumberStyle = ENGLISH_STYLE,
) -> Entry:
    """What a text means in a cell. Nothing, a question mark or what stands there when nothing is set takes the value away
    where the column may be without one."""
    words = " ".join(text.split())
    if column.kind is Kind.TEXT:
        return _text(column, "" if words == column.unset else words)
    if column.kind is Kind.CHOICE:
        return _choice(column, words, choices)
    if words in _EMPTY or words == column.unset:
        if not column.unset:
            return Entry({}, _expected(column))
        return Entry(dict.fromkeys(filter(None, (column.field, column.upper))))
    reading = _Reader(column, row, oz_ml, style).read(words)
    if isinstance(reading, str):
        is_told = reading.startswith("“")
        return Entry({}, reading if is_told else f"“{words[:30]}” was not understood. {reading}")
    fields = (column.field, column.upper) if column.upper else (column.field,)
    return Entry(dict(zip(fields, reading, strict=True)))


def _text(column: Column, words: str) -> Entry:
    if not words and not column.unset:
        return Entry({}, "It needs a name.")
    return Entry({column.field: words})


def _choice(column: Column, words: str, choices: Sequence[tuple[Any, str]]) -> Entry:
    """The choice of that name, or the only one that begins so."""
    said = words.casefold()
    exact = [key for key, name in choices if name.casefold() == said or str(key).casefold() == said]
    begun = exact or [key for key, name in choices if said and name.casefold().startswith(said)]
    if len(begun) != 1:
        return Entry({}, f"Expected one of: {', '.join(name for _, name in choices)}.")
    return Entry({column.field: begun[0]})


def _expected(column: Column) -> str:
    return EXPECTED[column.kind]


class _Reader:
    """Reads one text for one cell."""

    def __init__(self, column: Column, row: HouseRow, oz_ml: float, style: NumberStyle) -> None:
        self._column, self._row, self._oz_ml, self._style = column, row, oz_ml, style

    def read(self, words: str) -> Reading:
        """Figures in the unit of the model."""
        kind = self._kind
        if kind in (Kind.VOLUME, Kind.MASS):
            return self._amount(words, "ml" if kind is Kind.VOLUME else "g")
        if kind in (Kind.DEGREES, Kind.DEGREES_RANGE):
            found = parse_temperature(words, self._style)
            return (
                found.expected if isinstance(found, ParseProblem) else self._ends(found.low_c, found.high_c)
            )
        if kind in (Kind.SECONDS, Kind.SECONDS_RANGE):
            return self._time(words)
        if kind is Kind.PRESSURE:
            kpa = parse_pressure(words, self._style)
            return kpa.expected if isinstance(kpa, ParseProblem) else (kpa,)
        if kind is Kind.LENGTH:
            return self._with_units(words, _LENGTHS)
        if kind in (Kind.PERCENT_RANGE, Kind.RANGE):
            return self._range(words, self._units)
        return self._with_units(words, dict.fromkeys(self._units, 1.0))

    @property
    def _kind(self) -> Kind:
        """A measure holds what its unit says."""
        if isinstance(self._row, Measure) and self._column.key == "value":
            return Kind.MASS if self._row.unit == "g" else Kind.VOLUME
        return self._column.kind

    @property
    def _units(self) -> tuple[str, ...]:
        if self._column.kind in (Kind.PERCENT, Kind.PERCENT_RANGE):
            return ("", "%", "percent", "per cent")
        own = self._row.unit if isinstance(self._row, Measure) else self._column.unit
        return ("", own.casefold())

    def _amount(self, words: str, unit: str) -> Reading:
        expected = EXPECTED[self._kind]
        found = parse_amount(words, self._style)
        if isinstance(found, ParseProblem) or found.basis != "absolute" or found.heft or found.tops:
            return expected
        try:
            return (convert(found.number, found.unit or unit, unit, bar_units(self._oz_ml, {})),)
        except ValueError:
            return expected

    def _time(self, words: str) -> Reading:
        text = f"{words} s" if _BARE.fullmatch(words) else words
        found = parse_duration(text, self._style)
        return found.expected if isinstance(found, ParseProblem) else self._ends(found.low_s, found.high_s)

    def _ends(self, low: float, high: float) -> Reading:
        """Two ends where the column has two; elsewhere both must be the same."""
        if self._column.upper:
            return low, high
        return (low,) if low == high else _expected(self._column)

    def _number(self, words: str) -> tuple[float, str] | None:
        found = read_number(words, self._style.decimal, self._style.grouping or None, signed=True)
        return None if isinstance(found, NumberProblem) else (found.value, found.rest)

    def _with_units(self, words: str, units: dict[str, float]) -> Reading:
        found = self._number(words)
        factor = units.get(found[1].strip().casefold()) if found is not None else None
        if found is None or factor is None:
            named = (
                f" in {self._column.unit}" if self._column.kind is Kind.NUMBER and self._column.unit else ""
            )
            return f"{_expected(self._column).rstrip('.')}{named}."
        return (found[0] * factor,)

    def _range(self, words: str, units: Sequence[str]) -> Reading:
        first = self._number(words)
        if first is None:
            return _expected(self._column)
        low, rest = first
        high = low
        mark = _DASH.match(_without(rest, units))
        if mark is not None:
            second = self._number(_without(rest, units)[mark.end() :])
            if second is None:
                return _expected(self._column)
            high, rest = second
        if rest.strip().casefold() not in units:
            return _expected(self._column)
        return (low, high) if low <= high else (high, low)


def _without(rest: str, units: Sequence[str]) -> str:
    """The text behind a unit that stands at its start."""
    text = rest.strip()
    unit = max((one for one in units if text.casefold().startswith(one)), key=len, default="")
    return text[len(unit) :].lstrip()
