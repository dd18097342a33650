"""Reads how a drink is chilled: *stir 180 g cubes, wet, 30 s*, *shake 12 s, tin at 20 °C, 24 g melted, ends at −4 °C*."""

import re

from washline.quantity.amount_text import ParseProblem
from washline.quantity.clauses import DEGREES, GRAMS, NUMBER, SIGNED, Clauses
from washline.quantity.house_words import HouseWords, meaning, plain_words, words_pattern
from washline.quantity.step_text import parse_temperature
from washline.quantity.typed_step import TypedChill
from washline.quantity.unit_names import match_unit

EXPECTED_CHILL_LINE = (
    "Expected ice, its weight, a time, or what was weighed, such as stir 180 g cubes wet 30 s, 24 g melted."
)
ICE_NOT_KNOWN = "Expected ice of this house: {}."

_DEGREES_GROUP = rf"(?P<degrees>{SIGNED}{DEGREES})"
_ICE_AT = re.compile(
    rf"(?:\bice\s+(?:is\s+|was\s+)?(?:at\s+)?{_DEGREES_GROUP}|{_DEGREES_GROUP.replace('degrees', 'before')}\s+ice\b)",
    re.IGNORECASE,
)
_VESSEL_AT = re.compile(
    rf"\b(?:tins?|mixing\s+glass|glass|shaker|vessel|jug|beaker)\s+(?:is\s+|was\s+)?(?:at\s+)?{_DEGREES_GROUP}",
    re.IGNORECASE,
)
_ENDS_AT = re.compile(
    rf"\b(?:(?:ends?|ended|ending)(?:\s+at)?|(?:down\s+)?to)\s+{_DEGREES_GROUP}", re.IGNORECASE
)
_MELTED = re.compile(
    rf"(?:\bmelt(?:ed|s)?\s+(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})"
    rf"|(?<![\w.,])(?P<before>{NUMBER})\s*(?P<before_unit>{GRAMS})\s+(?:of\s+)?melt(?:ed|s)?\b)",
    re.IGNORECASE,
)
_TO_GRAMS = re.compile(rf"\bto\s+(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})(?:\s+in\s+all)?", re.IGNORECASE)
_TO_VOLUME = re.compile(rf"\bto\s+(?P<number>{NUMBER})\s*(?P<unit>ml|cl)\b(?:\s+in\s+all)?", re.IGNORECASE)
_BY_BALANCE = re.compile(r"\bby\s+(?:the\s+)?(?:heat\s+balance|balance(?:\s+of\s+heat)?)\b", re.IGNORECASE)
_AS_PUBLISHED = re.compile(r"\b(?:as|by(?:\s+the)?)\s+published(?:\s+dilution)?\b", re.IGNORECASE)
_ICE_GRAMS = re.compile(
    rf"(?:\b(?:on|over|with|in)\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})(?:\s+of\b)?(?:\s+ice\b)?",
    re.IGNORECASE,
)
_STATE = re.compile(r"(?<![\w-])(?P<state>wet|dry)(?![\w-])(?:\s+ice\b)?", re.IGNORECASE)
_BARE_ICE = re.compile(r"(?:\b(?:on|over|with|in|of)\s+)?(?:\b(?:the|some)\s+)?\bice\b", re.IGNORECASE)
_COUNT = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s+(?P<unit>[^\W\d_]+(?:\s+[^\W\d_]+)?)(?=\s*(?:$|[,;]))"
)
_OTHER_ICE = re.compile(
    r"\b(?!(?:of|the|some|with|on|over|in|wet|dry|fresh|more|kg|grams?)\b)[^\W\d_]{3,}\s+ice\b(?!\s+at\b)",
    re.IGNORECASE,
)
_WEIGHED = re.compile(r"\bmelt(?:ed|s)?\b|\bends?\s+at\b|\bto\s+\d", re.IGNORECASE)
_LOOSE_ICE = re.compile(r"\b(?:ice|cubes?|block|pebbles?|spear)\b", re.IGNORECASE)
_BEFORE_ICE = r"(?:\b(?:on|over|with|in|of)\s+)?(?:\b(?:one|a|an|the|fresh|some)\s+)*"
_BEHIND_ICE = r"(?:\s+\d+\s?mm\b)?(?:\s+ice\b)?"


def begins_as_chill(text: str, house: HouseWords) -> re.Match[str] | None:
    """The method at the start of a text, if it begins with one of the house's."""
    return words_pattern(house.methods, r"\s*", r"[\s:,]*").match(text)


def has_ice(text: str, house: HouseWords) -> bool:
    """Whether a text speaks of ice."""
    return _BARE_ICE.search(text) is not None or words_pattern(house.ices).search(text) is not None


def speaks_of_chilling(text: str, house: HouseWords) -> bool:
    """Whether a text can be nothing but a chill: it speaks of ice, or of what was weighed after it."""
    return has_ice(text, house) or _WEIGHED.search(text) is not None


def chill(clauses: Clauses, house: HouseWords, said: str = "") -> TypedChill | ParseProblem:
    """The chill that the text says; ``said`` is the method that it began with."""
    whole = clauses.text
    if not said and (found := words_pattern(house.methods).match(whole.strip())):
        said, clauses.text = found["name"], whole.strip()[found.end() :]
    ice_c, vessel_c = take_degrees(clauses, _ICE_AT), take_degrees(clauses, _VESSEL_AT)
    end_c = take_degrees(clauses, _ENDS_AT)
    measured = _measured(clauses)
    by = "balance" if clauses.take(_BY_BALANCE) else "published" if clauses.take(_AS_PUBLISHED) else "usual"
    seconds = clauses.take_time()
    ice = take_ice(clauses, house)
    if house.ices and not ice and _OTHER_ICE.search(clauses.text):
        return ParseProblem(whole, ices_expected(house))
    grams = clauses.take(_ICE_GRAMS)
    state = clauses.take(_STATE)
    clauses.take(_BARE_ICE)
    count, count_unit = _count(clauses)
    low, high = clauses.take_temperature() or (None, None)
    if house.ices and not ice and _LOOSE_ICE.search(clauses.words):
        return ParseProblem(whole, ices_expected(house))
    if clauses.has_number or len(measured) > 1:
        return ParseProblem(whole, EXPECTED_CHILL_LINE)
    return TypedChill(
        kind="chill",
        duration_s=seconds,
        low_c=low,
        high_c=high,
        words=clauses.words,
        method=meaning(house.methods, said) if said else "",
        said=plain_words(said),
        ice=ice,
        ice_g=clauses.grams(grams["number"], grams["unit"]) if grams else None,
        ice_state=state["state"].casefold() if state else "usual",
        ice_c=ice_c,
        vessel_c=vessel_c,
        by=by,
        count=count,
        count_unit=count_unit,
        end_c=end_c,
        melted_g=measured.get("melted_g"),
        final_g=measured.get("final_g"),
        final_ml=measured.get("final_ml"),
    )


def take_degrees(clauses: Clauses, pattern: re.Pattern[str]) -> float | None:
    """°C from the group *degrees* (or *before*) of a pattern, taken out of a text."""
    found = pattern.search(clauses.text)
    if found is None:
        return None
    groups = found.groupdict()
    degrees = parse_temperature(groups.get("degrees") or groups.get("before") or "", clauses.style)
    if isinstance(degrees, ParseProblem) or degrees.low_c != degrees.high_c:
        return None
    clauses.take(pattern)
    return degrees.low_c


def take_ice(clauses: Clauses, house: HouseWords) -> str:
    """The name of the house's ice that a text speaks of, taken out of it; empty where it names none."""
    found = clauses.take(words_pattern(house.ices, _BEFORE_ICE, _BEHIND_ICE))
    return meaning(house.ices, found["name"]) if found else ""


def ices_expected(house: HouseWords) -> str:
    """What to type for ice, with the names that the house has."""
    names = list(dict.fromkeys(name for _, name in house.ices))
    return ICE_NOT_KNOWN.format(", ".join(names))


def _measured(clauses: Clauses) -> dict[str, float]:
    found: dict[str, float] = {}
    if melted := clauses.take(_MELTED):
        number, unit = melted["number"] or melted["before"], melted["unit"] or melted["before_unit"]
        found["melted_g"] = clauses.grams(number, unit)
    if final := clauses.take(_TO_GRAMS):
        found["final_g"] = clauses.grams(final["number"], final["unit"])
    if final := clauses.take(_TO_VOLUME):
        found["final_ml"] = clauses.number(final["number"]) * (
            10.0 if final["unit"].casefold() == "cl" else 1.0
        )
    return found


def _count(clauses: Clauses) -> tuple[float | None, str]:
    found = _COUNT.search(clauses.text)
    if found is None or match_unit(found["unit"]) is not None:
        return None, ""
    clauses.take(_COUNT)
    return clauses.number(found["number"]), plain_words(found["unit"])
