"""Reads what was measured: *measure 6.6 °Bx*, *pH 3.5 strip*, *titration 0.70*, *hydrometer 1.046 ± 0.001*."""

import math
import re

from washline.quantity.amount_text import ParseProblem
from washline.quantity.clauses import BRIX, BY_VOLUME, NUMBER, PERCENT, PH, Clauses
from washline.quantity.typed_step import TypedMeasurement

EXPECTED_MEASUREMENT = (
    "Expected a value and its unit, such as measure 6.6 °Bx, pH 3.5 strip or titration 0.70."
)
ACIDITY_BY_WEIGHT = (
    "A titration is kept as g of citric acid in 100 g: expected a value by weight, such as 0.70 %."
)

_WITH_UNIT: tuple[tuple[str, re.Pattern[str], float], ...] = tuple(
    (quantity, re.compile(rf"(?<![\w.,])(?P<number>{NUMBER})\s*(?:{unit})", re.IGNORECASE), factor)
    for quantity, unit, factor in (
        ("brix", BRIX, 1.0),
        ("strength", BY_VOLUME, 1.0),
        ("density", r"(?:g\s*/\s*(?:ml|cm3|cm³)|kg\s*/\s*l)(?!\w)", 1.0),
        ("density", r"(?:g\s*/\s*l|kg\s*/\s*m3|kg\s*/\s*m³)(?!\w)", 0.001),
        ("acidity", r"g\s*(?:/|per)\s*100\s*g(?!\w)", 1.0),
        ("acidity", PERCENT, 1.0),
        ("volume", r"(?:ml|millilit(?:re|er)s?)(?!\w)", 1.0),
        ("volume", r"cl(?!\w)", 10.0),
        ("volume", r"(?:l|lit(?:re|er)s?)(?!\w)", 1000.0),
        ("mass", r"(?:kilograms?|kilos?|kg)(?![\w/])", 1000.0),
        ("mass", r"(?:grams?|grammes?|g)(?![\w/])", 1.0),
    )
)
_QUANTITY_WORDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (quantity, re.compile(words, re.IGNORECASE))
    for quantity, words in (
        ("ph", r"\bph\b"),
        ("brix", rf"(?<![\w.,]){BRIX}|\brefractometer\b"),
        ("density", r"\bdensity\b|\bhydrometer\b"),
        ("acidity", r"\btitrat(?:ion|ed?)\b|\bacidity\b|\bacids?\b"),
        ("strength", r"\bstrength\b|\balcoholmeter\b"),
        ("volume", r"\bvolume\b"),
        ("mass", r"\bmass\b|\bweigh(?:t|ed)?\b|\bscales?\b"),
    )
)
_BARE = re.compile(rf"(?<![\w.,])(?P<number>{NUMBER})")
_INSTRUMENTS = ("refractometer", "hydrometer", "alcoholmeter", "strip", "meter", "titration", "scale")
_PER_VOLUME = re.compile(r"g\s*(?:/|per)\s*100\s*ml", re.IGNORECASE)


def measurement(clauses: Clauses, preset: str = "") -> TypedMeasurement | ParseProblem:
    """The measurement that the text says; ``preset`` is the instrument or quantity that it began with."""
    whole = clauses.text
    if _PER_VOLUME.search(whole):
        return ParseProblem(whole, ACIDITY_BY_WEIGHT)
    clauses.text = f"{preset} {whole}".strip()
    spread = clauses.take_spread()
    temperature = clauses.take_temperature()
    instrument = _instrument(clauses.text)
    found = _with_unit(clauses)
    named = [quantity for quantity, words in _QUANTITY_WORDS if clauses.take(words)]
    if found is None and named:
        value = clauses.take_number(_BARE)
        found = (named[0], value) if value is not None else None
    wrong_unit = found is not None and named and found[0] not in named and "strip" not in instrument
    if found is None or wrong_unit or clauses.has_number or not math.isfinite(found[1]):
        return ParseProblem(whole, EXPECTED_MEASUREMENT)
    words = " ".join(word for word in clauses.words.split() if word.casefold() not in _INSTRUMENTS)
    low, high = temperature or (None, None)
    return TypedMeasurement(
        kind="measure", quantity=found[0], value=found[1], instrument=instrument, uncertainty=spread,
        low_c=low, high_c=high, words=words.removeprefix("by ").removeprefix("with ").strip(),
    )  # fmt: skip


def _with_unit(clauses: Clauses) -> tuple[str, float] | None:
    for quantity, pattern, factor in _WITH_UNIT:
        value = clauses.take_number(pattern)
        if value is not None:
            return quantity, value * factor
    ph = clauses.take_number(PH)
    return None if ph is None else ("ph", ph)


def _instrument(text: str) -> str:
    folded = text.casefold()
    found = next((word for word in _INSTRUMENTS if re.search(rf"\b{word}s?\b", folded)), "")
    return {"meter": "pH meter" if re.search(r"\bph\b", folded) else "meter"}.get(found, found)
