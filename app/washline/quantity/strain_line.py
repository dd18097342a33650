"""Reads how a vessel is strained and what it yields: *strain through paper 905 g*, *press 70 % 62-76*."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from washline.quantity.amount_text import ParseProblem
from washline.quantity.clauses import GRAMS, NUMBER, PERCENT, RANGE_MARK, Clauses
from washline.quantity.typed_step import TypedStrain

EXPECTED_STRAIN = (
    "Expected what was weighed or is expected, such as strain through paper 905 g or press 70 % 62\u201376."
)

STRAIN_WAYS: Mapping[str, str] = MappingProxyType(
    {
        "press": "press",
        "juice press": "press",
        "cloth": "cloth",
        "nut bag": "cloth",
        "bag": "cloth",
        "muslin": "cloth",
        "cheesecloth": "cloth",
        "paper": "paper",
        "filter paper": "paper",
        "paper filter": "paper",
        "coffee filter": "paper",
        "fine": "fine",
        "fine sieve": "fine",
        "fine strainer": "fine",
        "sieve": "fine",
        "spin": "spin",
        "spinning": "spin",
        "centrifuge": "spin",
        "enzyme": "enzyme",
        "pectinase": "enzyme",
        "agar": "agar",
        "freeze-thaw": "freeze-thaw",
        "freeze thaw": "freeze-thaw",
        "freezing": "freeze-thaw",
        "milk": "milk",
        "skim": "skim",
        "skimming": "skim",
    }
)
"""Words for the ways of straining, and their keys."""

_WAY = re.compile(
    r"(?:\b(?:through|with|by|in|via|over)\s+(?:a\s+|an\s+|the\s+)?)?(?<![\w-])(?P<way>"
    + "|".join(re.escape(way) for way in sorted(STRAIN_WAYS, key=len, reverse=True))
    + r")(?![\w-])",
    re.IGNORECASE,
)
_LEAVING = re.compile(
    rf"\b(?:leaving|leftover|left\s+over)\s*:?\s*(?P<name>[^\d,;]*?)\s*(?:(?P<number>{NUMBER})\s*(?P<unit>{GRAMS}))?\s*"
    r"(?=$|[,;])",
    re.IGNORECASE,
)
_EXPECTED = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s*{PERCENT}\s*[(,]?\s*(?P<low>{NUMBER}){RANGE_MARK}(?P<high>{NUMBER})\s*{PERCENT}?\s*\)?",
    re.IGNORECASE,
)
_EXPECTED_RANGE = re.compile(
    rf"(?<![\w.,])(?P<low>{NUMBER})\s*{PERCENT}?{RANGE_MARK}(?P<high>{NUMBER})\s*{PERCENT}", re.IGNORECASE
)
_EXPECTED_SHARE = re.compile(rf"(?:\babout\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*{PERCENT}", re.IGNORECASE)
_WEIGHED = re.compile(
    rf"(?:\bto\s+|\bweigh(?:ed|s)?\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})(?:\s+weighed\b)?",
    re.IGNORECASE,
)


def strain(clauses: Clauses, way: str = "") -> TypedStrain | ParseProblem:
    """The strain that the text says; ``way`` is the one that it began with."""
    whole = clauses.text
    leaving = clauses.take(_LEAVING)
    found_way = clauses.take(_WAY)
    if found_way is not None:
        way = STRAIN_WAYS[found_way["way"].casefold()]
    temperature, seconds = clauses.take_temperature(), clauses.take_time()
    expected = _expected_yield(clauses)
    weighed = clauses.take(_WEIGHED)
    if clauses.has_number or (expected is not None and not _is_yield(*expected)):
        return ParseProblem(whole, EXPECTED_STRAIN)
    share, low, high = expected or (None, None, None)
    low_c, high_c = temperature or (None, None)
    leftover_number = leaving["number"] if leaving is not None else None
    return TypedStrain(
        kind="strain",
        way=way,
        duration_s=seconds,
        low_c=low_c,
        high_c=high_c,
        words=clauses.words,
        weighed_g=clauses.grams(weighed["number"], weighed["unit"]) if weighed is not None else None,
        expected_pct=share,
        low_pct=low,
        high_pct=high,
        leftover=leaving["name"].strip(" ,;") if leaving is not None else "",
        leftover_g=clauses.grams(leftover_number, leaving["unit"]) if leaving and leftover_number else None,
    )


def _expected_yield(clauses: Clauses) -> tuple[float, float | None, float | None] | None:
    if found := clauses.take(_EXPECTED):
        return clauses.number(found["number"]), clauses.number(found["low"]), clauses.number(found["high"])
    if found := clauses.take(_EXPECTED_RANGE):
        low, high = clauses.number(found["low"]), clauses.number(found["high"])
        return (low + high) / 2.0, low, high
    share = clauses.take_number(_EXPECTED_SHARE)
    return None if share is None else (share, None, None)


def _is_yield(share: float, low: float | None, high: float | None) -> bool:
    first, last = (share if low is None else low), (share if high is None else high)
    return 0.0 <= first <= share <= last <= 100.0
