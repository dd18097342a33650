"""Reads the temperatures and times of steps as people type them, one value or a range; never raises on any text."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from washline.quantity.amount_text import ParseProblem, problem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import BELOW_ZERO, NO_NUMBER, NumberProblem, read_number
from washline.quantity.units import celsius

COLDEST_C = -200.0
HOTTEST_C = 500.0
LONGEST_S = 100 * 366 * 86_400.0

EXPECTED_TEMPERATURE = "Expected a number and °C or °F, such as 4 °C."
EXPECTED_DURATION = "Expected a number and a unit of time, such as 90 s, 45 min, 2 h or 1 h 30."
TEMPERATURE_LIMITS = "A temperature lies between \u2212200 and 500 °C."
DURATION_LIMITS = "A time can be at most 100 years."
TIME_BELOW_ZERO = "A time cannot be below zero."
CLOCK = "1:30 can be minutes or hours; write 1 h 30 or 1 min 30."

_DEGREES = re.compile(
    r"\s*(?:(?:°|º|˚|deg\.?|degrees?)\s*)?(?P<scale>c|f|celsius|centigrade|fahrenheit|℃|℉)(?!\w)\.?",
    re.IGNORECASE,
)
_BARE_DEGREE = re.compile(r"\s*(?:°|º|˚|deg\.?|degrees?)(?!\w)", re.IGNORECASE)
_RANGE_MARK = re.compile(r"\s*(?:-|\u2010|\u2011|\u2012|\u2013|\u2014|\.\.+|\u2026|to\b)\s*", re.IGNORECASE)
_TIME = re.compile(r"\s*([^\W\d_]+|[\u2032\u2033])\.?")

_SECONDS: Mapping[str, float] = MappingProxyType(
    {
        **dict.fromkeys(("s", "sec", "secs", "second", "seconds", "\u2033"), 1.0),
        **dict.fromkeys(("m", "min", "mins", "minute", "minutes", "\u2032"), 60.0),
        **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), 3600.0),
        **dict.fromkeys(("d", "day", "days"), 86_400.0),
        **dict.fromkeys(("w", "wk", "wks", "week", "weeks"), 604_800.0),
    }
)
_NEXT_SMALLER: Mapping[float, float] = MappingProxyType(
    {604_800.0: 86_400.0, 86_400.0: 3600.0, 3600.0: 60.0, 60.0: 1.0}
)


@dataclass(frozen=True, slots=True)
class TypedTemperature:
    """A temperature, or a range of them, in °C; both ends are the same where one was typed."""

    low_c: float
    high_c: float
    typed: str


@dataclass(frozen=True, slots=True)
class TypedDuration:
    """A time, or a range of times, in seconds; both ends are the same where one was typed."""

    low_s: float
    high_s: float
    typed: str


def parse_temperature(
    text: str, locale: NumberStyle = ENGLISH_STYLE, scale: str = "°C"
) -> TypedTemperature | ParseProblem:
    """The temperature that ``text`` says: ``165 F``, ``4 °C``, ``35-40 °C``; a bare number is in ``scale``."""
    first = _degrees(text, locale)
    if isinstance(first, NumberProblem):
        return problem(text, _reason(first, EXPECTED_TEMPERATURE), "a temperature")
    last = first
    if mark := _RANGE_MARK.match(first.rest):
        second = _degrees(first.rest[mark.end() :], locale)
        if isinstance(second, NumberProblem):
            return problem(text, _reason(second, EXPECTED_TEMPERATURE), "a temperature")
        last = second
    if last.rest.strip(" \t.,;"):
        return problem(text, EXPECTED_TEMPERATURE, "a temperature")
    last_scale = last.unit or first.unit or scale
    ends = sorted((_in_celsius(first.value, first.unit or last_scale), _in_celsius(last.value, last_scale)))
    if ends[0] < COLDEST_C or ends[1] > HOTTEST_C:
        return problem(text, TEMPERATURE_LIMITS, "a temperature")
    return TypedTemperature(ends[0], ends[1], text.strip())


def parse_duration(text: str, locale: NumberStyle = ENGLISH_STYLE) -> TypedDuration | ParseProblem:
    """The time that ``text`` says: ``90 s``, ``45 min``, ``2 h``, ``1 h 30``, ``15-20 min``."""
    found = _duration(text, locale)
    if isinstance(found, str):
        return problem(text, found, "a time")
    low, high = sorted(found)
    if high > LONGEST_S:
        return problem(text, DURATION_LIMITS, "a time")
    return TypedDuration(low, high, text.strip())


@dataclass(frozen=True, slots=True)
class _Degrees:
    value: float
    unit: str | None
    rest: str


def _degrees(text: str, locale: NumberStyle) -> _Degrees | NumberProblem:
    found = read_number(text, locale.decimal, locale.grouping or None, signed=True)
    if isinstance(found, NumberProblem):
        return found
    if named := _DEGREES.match(found.rest):
        scale = "°F" if named["scale"].casefold() in ("f", "fahrenheit", "℉") else "°C"
        return _Degrees(found.value, scale, found.rest[named.end() :])
    bare = _BARE_DEGREE.match(found.rest)
    return _Degrees(found.value, None, found.rest[bare.end() :] if bare else found.rest)


def _in_celsius(value: float, scale: str) -> float:
    return celsius(value) if scale == "°F" else value


def _duration(text: str, locale: NumberStyle) -> tuple[float, float] | str:
    """Both ends in seconds, or the reason why there are none."""
    first = read_number(text, locale.decimal, locale.grouping or None)
    if isinstance(first, NumberProblem):
        return _reason(first, EXPECTED_DURATION)
    if re.match(r"\s*:\s*\d", first.rest):
        return CLOCK
    mark = _RANGE_MARK.match(first.rest)
    if mark is None:
        length = _length(text, locale)
        return length if isinstance(length, str) else (length, length)
    high_text = first.rest[mark.end() :]
    second = read_number(high_text, locale.decimal, locale.grouping or None)
    if isinstance(second, NumberProblem):
        return _reason(second, EXPECTED_DURATION)
    seconds = _seconds(second.rest)
    if seconds is None or seconds[1].strip(" \t.,;"):
        return EXPECTED_DURATION
    return first.value * seconds[0], second.value * seconds[0]


def _length(text: str, locale: NumberStyle) -> float | str:
    """A time made of parts, each in a smaller unit than the one before: ``1 h 30 min``, ``1h30``."""
    total, smallest, rest = 0.0, float("inf"), text
    while rest.strip(" \t.,;"):
        found = read_number(rest, locale.decimal, locale.grouping or None)
        if isinstance(found, NumberProblem):
            return _reason(found, EXPECTED_DURATION)
        seconds = _seconds(found.rest)
        if seconds is None and not found.rest.strip(" \t.,;") and smallest in _NEXT_SMALLER:
            seconds = _NEXT_SMALLER[smallest], ""
        if seconds is None or seconds[0] >= smallest:
            return EXPECTED_DURATION
        smallest, rest = seconds
        total += found.value * smallest
    return total


def _seconds(text: str) -> tuple[float, str] | None:
    """The seconds in the unit of time at the start of ``text``, and the text behind it."""
    found = _TIME.match(text)
    seconds = _SECONDS.get(found[1].casefold()) if found else None
    return (seconds, text[found.end() :]) if found and seconds else None


def _reason(found: NumberProblem, expected: str) -> str:
    """Temperatures may lie below zero, so that refusal is always about a time."""
    return {NO_NUMBER: expected, BELOW_ZERO: TIME_BELOW_ZERO}.get(found.reason, found.reason)
