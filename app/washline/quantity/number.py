"""Reads a number as people type it: fractions, decimal comma or point, any digits, without ever guessing in silence.

Python's ``float`` and the usual number readers of window libraries take ``1,234`` for 1234 or refuse ``1½``; a slip of a
factor of 1000 is the worst error here, so a text with two readings carries both.
"""

import math
import re
import unicodedata
from dataclasses import dataclass

LARGEST_NUMBER = 1e9

NO_NUMBER = "Expected a number."
BELOW_ZERO = "A number cannot be below zero here."
NOT_FINITE = "A number has to be finite."
TOO_LARGE = "A number can be at most 1,000,000,000."
ZERO_BELOW = "A fraction cannot have 0 below the line."
FRACTION_FORM = "A fraction has two whole numbers, such as 3/4 or 1 1/2."
GROUPS_OF_THREE = "Thousands are marked every three digits, such as 1,234.5."
RAISED_DIGIT = "A raised or lowered digit is not read as a number."

_MINUS_SIGNS = "\u2212\uff0d\ufe63\u2010\u2011"
_FRACTION_BARS = "\u2044\u2215\uff0f"
_ARABIC_DECIMAL_MARK = "\u066b"
_BREAKABLE_SPACES = " \t\n\r\v\f\u3000\u1680\u2028\u2029"
_GROUPING_SPACE = "\u00a0"

_REPLACED = {
    **dict.fromkeys(_MINUS_SIGNS, "-"),
    **dict.fromkeys(_FRACTION_BARS, "/"),
    **dict.fromkeys(_BREAKABLE_SPACES, " "),
    "\u2019": "'",
    "\uff07": "'",
    "\uff0c": ",",
    "\uff0e": ".",
    "\uff0b": "+",
}

_FRACTION = re.compile(r"(?:(\d+)(?:[ \u00a0]+|-))?(\d+) ?/ ?(\d+)(?!\d|[.,]\d|/)")
_GROUPED = re.compile(r"[1-9]\d{0,2}([\u00a0'\u066c ])\d{3}(?:\1\d{3})*(?!\d)(?:[.,\u066b]\d*)?")
_POINTED = re.compile(r"\d+(?:[.,\u066b]\d+)*[.,]?|[.,\u066b]\d+")
_LEFT_OVER_DIGITS = re.compile(r"[.,'\u066b\u066c]?\d| ?/")
_NOT_A_QUANTITY = re.compile(r"(?:inf(?:inity)?|nan)\b|\u221e", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class NumberReading:
    """A number at the start of a text, its other possible reading if there is one, and the text behind it.

    ``alternative`` is set where one separator has exactly three digits behind it (``1,200``): then the other reading is
    a thousand times larger or smaller.
    """

    value: float
    alternative: float | None
    rest: str


@dataclass(frozen=True, slots=True)
class NumberProblem:
    """Why no number could be read; ``reason`` is one sentence."""

    reason: str


def read_number(
    text: str,
    decimal_mark: str = ".",
    grouping_mark: str | None = None,
    *,
    signed: bool = False,
    spaces_group: bool = True,
) -> NumberReading | NumberProblem:
    """The number at the start of ``text``; never raises.

    A single separator with exactly three digits behind it is read as the marks of the person's locale say; without
    ``grouping_mark`` the other one of point and comma groups. Below zero is refused unless ``signed``. ``spaces_group``
    says whether an ordinary space may mark thousands (``1 200``); a no-break space always may.
    """
    plain, sources = _plain(text)
    start = len(plain) - len(plain.lstrip(" \u00a0"))
    sign, start = _sign(plain, start)
    if sign < 0 and not signed:
        return NumberProblem(BELOW_ZERO)
    if _NOT_A_QUANTITY.match(plain, start):
        return NumberProblem(NOT_FINITE)
    found = _magnitude(plain, start, _Marks(decimal_mark, grouping_mark, spaces_group))
    if isinstance(found, NumberProblem):
        return found
    if not math.isfinite(found.value) or found.value > LARGEST_NUMBER:
        return NumberProblem(TOO_LARGE)
    behind = plain[found.end :]
    if _LEFT_OVER_DIGITS.match(behind):
        return NumberProblem(FRACTION_FORM if behind.lstrip().startswith("/") else GROUPS_OF_THREE)
    if behind[:1].isdigit():
        return NumberProblem(RAISED_DIGIT)
    other = found.alternative  # At most six digits, so never too large.
    rest = text[sources[found.end] :] if found.end < len(plain) else ""
    return NumberReading(sign * found.value + 0.0, None if other is None else sign * other, rest)


@dataclass(frozen=True, slots=True)
class _Marks:
    decimal: str
    grouping: str | None
    spaces_group: bool


@dataclass(frozen=True, slots=True)
class _Magnitude:
    value: float
    alternative: float | None
    end: int


def _plain(text: str) -> tuple[str, list[int]]:
    """The text in ASCII digits and signs, and for each of its characters where the original goes on."""
    characters: list[str] = []
    sources: list[int] = []
    for index, character in enumerate(text):
        for position, replacement in enumerate(_replacement(character)):
            characters.append(replacement)
            sources.append(index if position == 0 else index + 1)
    return "".join(characters), sources


def _replacement(character: str) -> str:
    if character.isascii():
        return _REPLACED.get(character, character)
    if character in _REPLACED:
        return _REPLACED[character]
    if character.isdecimal():
        return str(unicodedata.decimal(character))
    category = unicodedata.category(character)
    if category == "Zs":
        return _GROUPING_SPACE
    if category == "Cf":
        return ""
    kind, *parts = unicodedata.decomposition(character).split() or [""]
    if kind == "<fraction>":
        # Spaces keep "1½" from becoming 11/2 and "½2" from becoming 1/22.
        fraction = "".join("/" if part == "2044" else chr(int(part, 16)) for part in parts)
        return f" {fraction}" if fraction.endswith("/") else f" {fraction} "
    return character


def _sign(plain: str, start: int) -> tuple[int, int]:
    mark = plain[start : start + 1]
    if mark not in ("-", "+", "\u2013"):
        return 1, start
    behind = start + 1
    while plain[behind : behind + 1] in (" ", "\u00a0"):
        behind += 1
    return (1 if mark == "+" else -1), behind


def _magnitude(plain: str, start: int, marks: _Marks) -> _Magnitude | NumberProblem:
    if fraction := _FRACTION.match(plain, start):
        return _fraction(fraction)
    grouped = _GROUPED.match(plain, start)
    if grouped and (marks.spaces_group or grouped[1] != " "):
        return _grouped(grouped)
    if pointed := _POINTED.match(plain, start):
        return _pointed(pointed, marks)
    raised = plain[start : start + 1].isdigit()
    return NumberProblem(RAISED_DIGIT if raised else NO_NUMBER)


def _fraction(found: re.Match[str]) -> _Magnitude | NumberProblem:
    whole, above, below = (float(part or "0") for part in found.groups())
    if below == 0.0:
        return NumberProblem(ZERO_BELOW)
    if found[1] is not None and above >= below:
        return NumberProblem(FRACTION_FORM)
    if not math.isfinite(above) or not math.isfinite(below):
        return NumberProblem(TOO_LARGE)
    return _Magnitude(whole + above / below, None, found.end())


def _grouped(found: re.Match[str]) -> _Magnitude:
    digits = found[0].replace(found[1], "").replace(",", ".").replace(_ARABIC_DECIMAL_MARK, ".")
    return _Magnitude(float(digits), None, found.end())


def _pointed(found: re.Match[str], marks: _Marks) -> _Magnitude | NumberProblem:
    text = found[0].rstrip(".,")
    groups = re.split(r"[.,\u066b]", text)
    separators = re.findall(r"[.,\u066b]", text)
    if not separators:
        return _Magnitude(float(text), None, found.end())
    if len(separators) == 1:
        return _one_separator(groups[0], groups[1], separators[0], marks, found.end())
    return _many_separators(groups, separators, found.end())


def _one_separator(whole: str, behind: str, separator: str, marks: _Marks, end: int) -> _Magnitude:
    as_decimal = float(f"{whole or '0'}.{behind}")
    is_certain = separator == _ARABIC_DECIMAL_MARK or len(behind) != 3 or not _can_lead(whole)
    if is_certain:
        return _Magnitude(as_decimal, None, end)
    as_thousands = float(whole + behind)
    grouping = marks.grouping or ("," if marks.decimal == "." else ".")
    if separator == grouping and separator != marks.decimal:
        return _Magnitude(as_thousands, as_decimal, end)
    return _Magnitude(as_decimal, as_thousands, end)


def _many_separators(groups: list[str], separators: list[str], end: int) -> _Magnitude | NumberProblem:
    """Several separators: the last is decimal if it differs from the others, which then mark thousands."""
    has_decimals = separators[-1] != separators[0]
    thousands = groups[:-1] if has_decimals else groups
    inner = separators[:-1] if has_decimals else separators
    is_grouped = _can_lead(thousands[0]) and all(len(group) == 3 for group in thousands[1:])
    if not is_grouped or len(set(inner)) != 1 or inner[0] == _ARABIC_DECIMAL_MARK:
        return NumberProblem(GROUPS_OF_THREE)
    decimals = groups[-1] if has_decimals else "0"
    return _Magnitude(float(f"{''.join(thousands)}.{decimals}"), None, end)


def _can_lead(group: str) -> bool:
    """Whether digits can stand before the first mark of thousands: one to three of them, not beginning with 0."""
    return 1 <= len(group) <= 3 and group[0] != "0"
