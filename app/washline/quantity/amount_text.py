"""Reads an amount as people type it: a number, a unit, and what the number is a share of.

Nothing here raises on any text. What is not understood comes back as a ``ParseProblem`` that says what was expected, so
that the text can stay where it was typed.
"""

import re
from dataclasses import dataclass, replace
from typing import Literal

from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import BELOW_ZERO, NO_NUMBER, NumberProblem, NumberReading, read_number
from washline.quantity.unit_names import COMMON_UNITS, UNITS, Unit, match_unit

Basis = Literal["absolute", "percent", "parts", "to_mark", "wash_line"]

LARGEST_AMOUNT = 1e6
LONGEST_TEXT = 200

EXPECTED_AMOUNT = "Expected a number and a unit, such as 45 ml."
EXPECTED_MARK = "Expected a mark, such as to 180 ml or to the wash line."
UNIT_NOT_KNOWN = f"unit not known: {COMMON_UNITS}"
NOT_BELOW_ZERO = "An amount cannot be below zero."
NOT_SO_LARGE = "An amount can be at most 1,000,000."
NO_RANGE = "An amount is one number, not a range."
HEFT_OF_A_VOLUME = "Scant and heavy are for what is poured in ml or oz, such as scant 3/4 oz."
STRENGTH = "That is a strength; an amount in percent is written 30 % or 42 % of line 1."

_TOP = r"(?:top|fill)(?:\s+up)?"
_WASH_LINE = re.compile(rf"\s*(?:{_TOP}\s+)?(?:(?:up\s+)?to\s+)?(?:the\s+)?wash[\s-]*line\b", re.IGNORECASE)
_TO_MARK = re.compile(rf"\s*(?:{_TOP}\s+)?(?:up\s+)?to\s+(?:the\s+)?(?=\S)", re.IGNORECASE)
_TOPPING = re.compile(rf"\s*(?:to\s+)?{_TOP}(?:\s+with)?(?!\w)[\s:]*", re.IGNORECASE)
_OF = re.compile(r"\s*(?:by\s+weight\s+)?of\s+(?:the\s+)?(?P<of>\S.*?)\s*", re.IGNORECASE | re.DOTALL)
_BY_WEIGHT = re.compile(r"\s*by\s+weight\s*", re.IGNORECASE)
_STRENGTH = re.compile(r"\s*(?:vol|abv|by\s+vol)\b", re.IGNORECASE)
_RANGE = re.compile(r"\s*(?:-|\u2013|\u2212|to\b)\s*\d", re.IGNORECASE)
_HEFT = re.compile(r"\s*(?:an?\s+)?(?P<heft>scant|heavy)\s+(?=\S)", re.IGNORECASE)
_NUMBER_WORD = re.compile(
    r"\s*(half\s+an?|half|an?|one|two|three|four|five|six|eight|ten|twelve)\s+", re.IGNORECASE
)
_NUMBER_WORDS = {
    "half": 0.5,
    "a": 1.0,
    "an": 1.0,
    "one": 1.0,
    "two": 2.0,
    "three": 3.0,
    "four": 4.0,
    "five": 5.0,
    "six": 6.0,
    "eight": 8.0,
    "ten": 10.0,
    "twelve": 12.0,
}


@dataclass(frozen=True, slots=True)
class TypedAmount:
    """An amount as it was understood.

    ``unit`` is a name of ``unit_names.UNITS``; ``None`` where only a number was typed (the line keeps its unit).
    ``basis`` is *absolute*; *percent* or *parts*, of what ``of`` says (``None``: of the vessel, of one part); *to_mark*,
    up to so many ml or g; or *wash_line*, where ``number`` is 0 and not used. ``alternative`` is the other way to read the
    same text, if there is one. ``tops`` says that the text began with *top*; ``heft`` is *scant* or *heavy* where that
    stood before the number.
    """

    number: float
    unit: str | None
    basis: Basis
    typed: str
    alternative: "TypedAmount | None" = None
    of: str | None = None
    tops: bool = False
    heft: str = ""


@dataclass(frozen=True, slots=True)
class ParseProblem:
    """A text that was not understood, as it was typed, and in one line what was expected."""

    text: str
    expected: str


@dataclass(frozen=True, slots=True)
class AmountStart:
    """An amount at the start of a text, and the text behind it."""

    amount: TypedAmount
    rest: str


def parse_amount(text: str, locale: NumberStyle = ENGLISH_STYLE) -> TypedAmount | ParseProblem:
    """The amount that ``text`` says, all of it; never raises."""
    if len(text) > LONGEST_TEXT:
        return problem(text, EXPECTED_AMOUNT)
    found = read_amount(text, locale)
    if isinstance(found, ParseProblem):
        return found
    amount, rest = found.amount, found.rest
    if amount.basis in ("percent", "parts"):
        return _share(amount, rest)
    if not rest.strip(" \t.,;:"):
        return amount
    if amount.basis == "to_mark":
        return problem(text, EXPECTED_MARK)
    if _RANGE.match(rest):
        return problem(text, NO_RANGE)
    is_unit_missing = amount.unit is None and amount.basis == "absolute"
    if is_unit_missing and rest.lstrip()[:1].isalpha():
        return ParseProblem(text, UNIT_NOT_KNOWN)
    return problem(text, EXPECTED_AMOUNT)


def read_amount(
    text: str, locale: NumberStyle = ENGLISH_STYLE, *, spaces_group: bool = True
) -> AmountStart | ParseProblem:
    """The amount at the start of ``text``; what a share refers to stays in the rest.

    ``spaces_group`` says whether ``1 200`` is one number.
    """
    typed = text.strip()
    if wash_line := _WASH_LINE.match(text):
        return _to_the_wash_line(typed, text[wash_line.end() :])
    if mark := _TO_MARK.match(text):
        return _mark(text, text[mark.end() :], locale)
    topping = _TOPPING.match(text)
    start = topping.end() if topping else 0
    heft = _HEFT.match(text, start)
    start = heft.end() if heft else start
    found = _number_and_unit(text[start:], locale, spaces_group)
    if isinstance(found, NumberProblem):
        if topping and not heft and not re.match(r"[-\u2212\u2013+\d]", text[start:]):
            return _to_the_wash_line(typed, text[start:])
        return problem(text, _amount_reason(found))
    reading, unit, rest = found
    amount = _amount(reading, unit, _basis(unit), typed)
    if amount is None:
        return problem(text, NOT_SO_LARGE)
    if heft is not None:
        if unit is not None and not has_heft(unit):
            return problem(text, HEFT_OF_A_VOLUME)
        amount = _with_heft(amount, heft["heft"].casefold())
    return AmountStart(_topped(amount) if topping else amount, rest)


def has_heft(unit: Unit) -> bool:
    """Whether so much of it can be poured scant or heavy: volumes, but no dashes, drops and spoons."""
    return unit.dimension == "volume" and not unit.measure


def problem(text: str, reason: str, kind: str = "an amount") -> ParseProblem:
    """``text`` with the sentence that it is not ``kind``, and why."""
    shown = " ".join(text.split())
    shown = shown if len(shown) <= 40 else f"{shown[:39]}\u2026"
    if not shown:
        return ParseProblem(text, reason)
    return ParseProblem(text, f"\u201c{shown}\u201d is not {kind}. {reason}")


def _number_and_unit(
    text: str, locale: NumberStyle, spaces_group: bool
) -> tuple[NumberReading, Unit | None, str] | NumberProblem:
    if in_words := _number_in_words(text):
        return in_words
    reading = read_number(text, locale.decimal, locale.grouping or None, spaces_group=spaces_group)
    if isinstance(reading, NumberProblem):
        return reading
    unit = match_unit(reading.rest)
    return (reading, unit[0], unit[1]) if unit else (reading, None, reading.rest)


def _number_in_words(text: str) -> tuple[NumberReading, Unit, str] | None:
    """*A dash*, *half oz*, *two leaves*: a number word counts only before a unit."""
    found = _NUMBER_WORD.match(text)
    unit = match_unit(text[found.end() :]) if found else None
    if found is None or unit is None:
        return None
    value = _NUMBER_WORDS[found[1].split()[0].lower()]
    return NumberReading(value, None, unit[1]), unit[0], unit[1]


def _amount_reason(found: NumberProblem) -> str:
    if found.reason == BELOW_ZERO:
        return NOT_BELOW_ZERO
    return EXPECTED_AMOUNT if found.reason == NO_NUMBER else found.reason


def _basis(unit: Unit | None) -> Basis:
    if unit is None or unit.dimension != "ratio":
        return "absolute"
    return "percent" if unit.name == "%" else "parts"


def _amount(reading: NumberReading, unit: Unit | None, basis: Basis, typed: str) -> TypedAmount | None:
    """The amount of a number that was read, or ``None`` if it is too large."""
    if reading.value > LARGEST_AMOUNT:
        return None
    amount = TypedAmount(reading.value, unit.name if unit else None, basis, typed)
    if reading.alternative is None:
        return amount
    return replace(amount, alternative=replace(amount, number=reading.alternative))


def _topped(amount: TypedAmount) -> TypedAmount:
    """*top 45* adds 45; up to a mark of 45 is its other reading."""
    topped = replace(amount, tops=True)
    if amount.basis != "absolute" or amount.alternative is not None:
        return topped
    return replace(topped, alternative=replace(topped, basis="to_mark", heft=""))


def _with_heft(amount: TypedAmount, heft: str) -> TypedAmount:
    other = amount.alternative
    return replace(amount, heft=heft, alternative=replace(other, heft=heft) if other else None)


def _to_the_wash_line(typed: str, rest: str) -> AmountStart:
    tops = re.match(_TOP, typed, re.IGNORECASE) is not None
    return AmountStart(TypedAmount(0.0, None, "wash_line", typed, tops=tops), rest)


def _mark(text: str, mark: str, locale: NumberStyle) -> AmountStart | ParseProblem:
    found = _number_and_unit(mark, locale, spaces_group=True)
    if isinstance(found, NumberProblem):
        is_number_wrong = found.reason != NO_NUMBER
        return problem(text, _amount_reason(found) if is_number_wrong else EXPECTED_MARK)
    reading, unit, rest = found
    if unit is not None and not _can_mark(unit):
        return problem(text, EXPECTED_MARK)
    amount = _amount(reading, unit, "to_mark", text.strip())
    if amount is None:
        return problem(text, NOT_SO_LARGE)
    return AmountStart(replace(amount, tops=re.match(_TOP, amount.typed, re.IGNORECASE) is not None), rest)


def _can_mark(unit: Unit) -> bool:
    """Whether a level can be given in ``unit``: fixed volumes and masses, ounces, and percent of what there was."""
    return unit.name == "%" or (unit.dimension in ("volume", "mass") and not unit.measure)


def _share(amount: TypedAmount, rest: str) -> TypedAmount | ParseProblem:
    if not rest.strip(" \t.,;:") or _BY_WEIGHT.fullmatch(rest):
        return amount
    if amount.unit == "%" and _STRENGTH.match(rest):
        return problem(amount.typed, STRENGTH)
    found = _OF.fullmatch(rest)
    if found is None:
        return problem(amount.typed, "Expected a share, such as 30 %, 42 % of line 1 or 3 parts.")
    of = found["of"]
    other = amount.alternative
    return replace(amount, of=of, alternative=replace(other, of=of) if other else None)


def unit_of(amount: TypedAmount) -> Unit | None:
    """The unit of an amount, with its words and what it measures; ``None`` where none was typed."""
    return UNITS[amount.unit] if amount.unit is not None else None
