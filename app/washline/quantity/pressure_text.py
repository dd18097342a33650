"""Reads pressures as people type them, in bar, kPa or psi, over the atmosphere; one unit, bar, is shown."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from washline.quantity.amount_text import ParseProblem, problem
from washline.quantity.clauses import NUMBER, Clauses
from washline.quantity.formatting import ENGLISH_STYLE, UNIT_SPACE, NumberStyle, format_trimmed

KILOPASCALS: Mapping[str, float] = MappingProxyType({"kPa": 1.0, "bar": 100.0, "psi": 6.894757293168361})
"""kPa in one of each unit: NIST Special Publication 811, appendix B.8; a test holds them equal to pint's."""

ATMOSPHERE_KPA = 101.325
"""The standard atmosphere (NIST Special Publication 811, appendix B.8)."""

HIGHEST_KPA = 10_000.0
EXPECTED_PRESSURE = "Expected a pressure over the atmosphere, such as 2.2 bar, 220 kPa or 32 psi."

_UNITS = {"kpa": "kPa", "bar": "bar", "bars": "bar", "psi": "psi"}
PRESSURE = re.compile(
    rf"(?:\bat\s+|@\s*)?(?<![\w.,])(?P<number>{NUMBER})\s*(?:(?P<absolute_unit>psia|bara)|(?P<unit>kpa|bars?|psi)g?)(?!\w)"
    r"(?:\s*\(?\b(?:(?P<absolute>abs(?:olute)?)|(?:over|gauge)(?:\s*-?\s*pressure|\s+(?:the\s+)?atmosphere)?)\b\)?)?",
    re.IGNORECASE,
)
"""A pressure, for ``take_pressure``."""


def take_pressure(clauses: Clauses) -> float | None:
    """kPa over the atmosphere, taken out of a text; ``None`` where it says no pressure."""
    found = clauses.take(PRESSURE)
    if found is None:
        return None
    is_absolute = found["absolute_unit"] is not None or found["absolute"] is not None
    unit = (found["unit"] or found["absolute_unit"][:3]).casefold()
    kpa = clauses.number(found["number"]) * KILOPASCALS[_UNITS[unit]]
    return kpa - ATMOSPHERE_KPA if is_absolute else kpa


def parse_pressure(text: str, locale: NumberStyle = ENGLISH_STYLE) -> float | ParseProblem:
    """The pressure that ``text`` says, in kPa over the atmosphere; a bare number is in bar."""
    for words in (text, f"{text} bar"):
        clauses = Clauses(words, locale)
        kpa = take_pressure(clauses)
        if kpa is not None and not clauses.words and 0.0 <= kpa <= HIGHEST_KPA:
            return kpa
    return problem(text, EXPECTED_PRESSURE, "a pressure")


def bar_text(kpa: float | None, locale: NumberStyle = ENGLISH_STYLE, most_decimals: int = 2) -> str:
    """A pressure as it is shown: *2.2 bar*."""
    number = format_trimmed(None if kpa is None else kpa / KILOPASCALS["bar"], most_decimals, locale)
    return f"{number}{UNIT_SPACE}bar"
