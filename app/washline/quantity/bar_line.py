"""Reads what happens at and on the glass: straining, rinsing, floating, rim and peel, smoke, and carbonating."""

import re
from dataclasses import replace

from washline.quantity.amount_text import ParseProblem, TypedAmount
from washline.quantity.chill_line import ices_expected, take_degrees, take_ice
from washline.quantity.clauses import DEGREES, GRAMS, NUMBER, PERCENT, SIGNED, Clauses
from washline.quantity.house_words import HouseWords, meaning, words_pattern
from washline.quantity.line_text import TypedLine, parse_line
from washline.quantity.pressure_text import EXPECTED_PRESSURE, HIGHEST_KPA, take_pressure
from washline.quantity.strain_line import strain as kitchen_strain
from washline.quantity.typed_step import (
    TypedBarStrain,
    TypedCarbonation,
    TypedFloat,
    TypedGarnish,
    TypedRinse,
    TypedStep,
    TypedStrain,
)

EXPECTED_BAR_STRAIN = (
    "Expected fresh ice or what stays behind, such as strain over 50 mm cube, 3 ml held back."
)
EXPECTED_RINSE = "Expected how much of what, such as rinse 5 ml absinthe, 1.5 ml stays."
EXPECTED_FLOAT = "Expected how much of what, such as float 10 ml cream."
EXPECTED_RIM = "Expected how much of what, such as rim 2 g salt, 0.5 g stays."
EXPECTED_GARNISH = "Expected how much of what, such as garnish 1 leaf sorrel."
EXPECTED_EXPRESS = "Expected what is expressed, such as express 1 strip lemon peel, thrown away."
EXPECTED_CARBONATION = (
    "Expected a level or a pressure and a vessel, such as carbonate to 7 g/l at 2 °C in crown bottle 200 ml, "
    "3 fills."
)
VESSEL_NOT_KNOWN = "Expected a vessel of this house: {}."
MOST_VESSELS = 6

_STAYS_ML = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s*ml\s+(?:stays?|stay(?:ing)?\s+behind|left|film)\b(?:\s+as\s+(?:a\s+)?film\b)?",
    re.IGNORECASE,
)
_STAYS_G = re.compile(rf"(?<![\w.,])(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})\s+stays?\b", re.IGNORECASE)
_THROWN = re.compile(r"\b(?:and\s+)?(?:thrown\s+away|throw\s+(?:it\s+)?away|discard(?:ed)?)\b", re.IGNORECASE)
_POURED_OUT = re.compile(
    r"\b(?:and\s+)?(?:poured?\s+(?:it\s+)?(?:out|away)|the\s+glass\s+with)\b", re.IGNORECASE
)
_HELD_BACK = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s*ml\s+(?:(?:is\s+|are\s+)?held\s+back|stays?(?:\s+behind)?|left\s+behind)\b",
    re.IGNORECASE,
)
_OVER = re.compile(r"\b(?:over|onto|on)\b", re.IGNORECASE)
_GLASS_AT = re.compile(
    rf"\b(?:into\s+(?:the|its|a)\s+)?(?<!mixing\s)glass\s+(?:is\s+|was\s+)?(?:at\s+)?(?P<degrees>{SIGNED}{DEGREES})",
    re.IGNORECASE,
)
_INTO_SOMETHING_AT = re.compile(
    rf"(?P<into>\binto\s+[^,;]*?)\s+at\s+(?P<degrees>{SIGNED}{DEGREES})", re.IGNORECASE
)
_INTO_GLASS = re.compile(r"\binto\s+(?:the|its|a)\s+glass\b", re.IGNORECASE)
_ICE_GRAMS = re.compile(
    rf"(?:\b(?:over|onto|on|with)\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})(?:\s+of\b)?(?:\s+ice\b)?",
    re.IGNORECASE,
)
_KITCHEN_WORDS = re.compile(
    r"\b(?:through|paper|cloth|muslin|cheesecloth|press|leaving|leftover|weigh(?:ed|s)?)\b|%", re.IGNORECASE
)
_LEVEL = re.compile(
    rf"(?:\b(?:up\s+)?to\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*g\s*(?:/|per)\s*l(?:it(?:re|er))?\b(?:\s*(?:of\s+)?(?:co2|co₂))?",
    re.IGNORECASE,
)
_FILLS = re.compile(rf"(?<![\w.,])(?P<number>{NUMBER})\s*(?:fills?|fillings?|charges?)\b", re.IGNORECASE)
_REACHED = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s*{PERCENT}\s*(?:(?:is\s+)?reached|of\s+(?:the\s+)?equilibrium)\b",
    re.IGNORECASE,
)
_OPENING = re.compile(
    rf"(?:\bopening\s+loses\s+(?P<number>{NUMBER})\s*{PERCENT}"
    rf"|(?<![\w.,])(?P<before>{NUMBER})\s*{PERCENT}\s*(?:is\s+)?lost\s+on\s+opening\b)",
    re.IGNORECASE,
)
_WARMEST = re.compile(
    rf"\b(?:warmest(?:\s+at)?|stands\s+(?:at\s+)?up\s+to)\s+(?P<degrees>{SIGNED}{DEGREES})", re.IGNORECASE
)
_IN_A_VESSEL = re.compile(r"\bin\s+(?:a|an|the)?\s*(?P<name>[^,;]+)", re.IGNORECASE)


def bar_strain(clauses: Clauses, house: HouseWords, way: str) -> TypedStep | ParseProblem:
    """A drink poured into its glass; what speaks of cloth, paper or a weighed yield is the kitchen's strain."""
    whole = clauses.text
    if _KITCHEN_WORDS.search(whole):
        return kitchen_strain(clauses, "fine" if way == "fine" else "")
    held_back = clauses.take_number(_HELD_BACK)
    glass_c = _glass_at(clauses)
    low, high = clauses.take_temperature() or (None, None)
    ice = take_ice(clauses, house)
    grams = clauses.take(_ICE_GRAMS)
    clauses.take(_INTO_GLASS)
    over = clauses.take(_OVER)
    if grams is not None and not ice and over is None and "ice" not in grams[0].casefold():
        return _weighed(whole, clauses, way)
    if over is not None and not ice and house.ices and clauses.words not in ("ice", "fresh ice", ""):
        return ParseProblem(whole, ices_expected(house))
    seconds = clauses.take_time()
    if clauses.has_number:
        return ParseProblem(whole, EXPECTED_BAR_STRAIN)
    words = "" if clauses.words in ("ice", "fresh ice") else clauses.words
    return TypedBarStrain(
        kind="bar strain",
        duration_s=seconds,
        low_c=low,
        high_c=high,
        words=words,
        way=way or "strain",
        held_back_ml=held_back,
        fresh_ice=ice,
        fresh_ice_g=clauses.grams(grams["number"], grams["unit"]) if grams else None,
        vessel_c=glass_c,
    )


def _glass_at(clauses: Clauses) -> float | None:
    """How cold the glass is: *into a glass at 4 °C*, or whatever else it is poured into, whose name stays in the words."""
    degrees = take_degrees(clauses, _GLASS_AT)
    found = _INTO_SOMETHING_AT.search(clauses.text) if degrees is None else None
    if found is None:
        return degrees
    text, into = clauses.text, found["into"]
    degrees = take_degrees(clauses, _INTO_SOMETHING_AT)
    clauses.text = f"{text[: found.start()]}{into} {text[found.end() :].lstrip()}"
    return degrees


def _weighed(whole: str, clauses: Clauses, way: str) -> TypedStrain | ParseProblem:
    """Grams without ice are what was weighed of the liquid."""
    clauses.text = whole
    return kitchen_strain(clauses, "fine" if way == "fine" else "")


def rinse(clauses: Clauses) -> TypedRinse | ParseProblem:
    """*rinse 5 ml absinthe, 1.5 ml stays*."""
    whole = clauses.text
    film = clauses.take_number(_STAYS_ML)
    clauses.take(_POURED_OUT)
    clauses.take(_POURED_OUT)
    line = _line(clauses, whole, EXPECTED_RINSE)
    return line if isinstance(line, ParseProblem) else TypedRinse(kind="rinse", line=line, film_ml=film)


def floated(clauses: Clauses) -> TypedFloat | ParseProblem:
    """*float 10 ml cream*."""
    line = _line(clauses, clauses.text, EXPECTED_FLOAT)
    return line if isinstance(line, ParseProblem) else TypedFloat(kind="float", line=line)


def garnish(clauses: Clauses, way: str) -> TypedGarnish | ParseProblem:
    """*garnish 1 leaf sorrel*, *rim 2 g salt, 0.5 g stays*, *express 1 strip lemon peel, thrown away*."""
    whole = clauses.text
    stays = clauses.take(_STAYS_G)
    thrown = clauses.take(_THROWN)
    expected = {"rim": EXPECTED_RIM, "express": EXPECTED_EXPRESS}.get(way, EXPECTED_GARNISH)
    line = _line(clauses, whole, expected)
    # A peel or a leaf that is only named is one.
    if isinstance(line, ParseProblem) and way != "rim" and clauses.words and not clauses.has_number:
        line = TypedLine(TypedAmount(1.0, "piece", "absolute", ""), clauses.words, 1.0, whole)
    if isinstance(line, ParseProblem):
        return line
    stays_g = 0.0 if thrown else None
    stays_g = clauses.grams(stays["number"], stays["unit"]) if stays else stays_g
    return TypedGarnish(kind="garnish", line=line, way=way, stays_g=stays_g)


def smoke(clauses: Clauses) -> TypedStep:
    """*smoke oak 20 s*."""
    low, high = clauses.take_temperature() or (None, None)
    return TypedStep(
        kind="smoke", duration_s=clauses.take_time(), low_c=low, high_c=high, words=clauses.words
    )


def carbonation(clauses: Clauses, house: HouseWords) -> TypedCarbonation | ParseProblem:
    """*carbonate to 7 g/l at 2 °C in crown bottle 200 ml, 3 fills*."""
    whole = clauses.text
    vessel = clauses.take(words_pattern(house.vessels, r"(?:\bin\s+(?:(?:a|an|the)\s+)?)?"))
    opening = clauses.take(_OPENING)
    reached, fills = clauses.take_number(_REACHED), clauses.take_number(_FILLS)
    warmest = take_degrees(clauses, _WARMEST)
    level, pressure = clauses.take_number(_LEVEL), take_pressure(clauses)
    low, high = clauses.take_temperature() or (None, None)
    seconds = clauses.take_time()
    if vessel is None and (named := _IN_A_VESSEL.search(clauses.words)) and named["name"].strip():
        return ParseProblem(whole, vessels_expected(house))
    if pressure is not None and not 0.0 <= pressure <= HIGHEST_KPA:
        return ParseProblem(whole, EXPECTED_PRESSURE)
    if clauses.has_number or low != high:
        return ParseProblem(whole, EXPECTED_CARBONATION)
    lost = (opening["number"] or opening["before"]) if opening else None
    return TypedCarbonation(
        kind="carbonate",
        duration_s=seconds,
        words=clauses.words,
        vessel=meaning(house.vessels, vessel["name"]) if vessel else "",
        over_kpa=pressure,
        at_c=low,
        co2_g_per_l=level,
        reached_pct=reached,
        fills=fills,
        warmest_c=warmest,
        opening_loss_pct=clauses.number(lost) if lost else None,
    )


def vessels_expected(house: HouseWords) -> str:
    """What to type for a vessel, with names that the house has."""
    first: dict[str, str] = {}
    for words, key in house.vessels:
        first.setdefault(key, words)
    names = list(first.values())
    more = [] if len(names) <= MOST_VESSELS else ["…"]
    return VESSEL_NOT_KNOWN.format(", ".join([*names[:MOST_VESSELS], *more]))


def _line(clauses: Clauses, whole: str, expected: str) -> TypedLine | ParseProblem:
    line = parse_line(clauses.words, clauses.style)
    if isinstance(line, ParseProblem):
        return ParseProblem(whole, expected)
    if line.amount.alternative is not None:
        clauses.is_ambiguous = True
        amount = line.amount.alternative if clauses.reads_other else replace(line.amount, alternative=None)
        return replace(line, amount=amount)
    return line
