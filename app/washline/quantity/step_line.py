"""Reads a step that is written as one line: what is done, with what, how long, how warm, and how far.

*infuse 20 g bay leaf 48 h at 20 °C*, *sugar to 50 °Bx*, *stir 180 g cubes 30 s*, *rinse 5 ml absinthe*. The words may
stand in any order behind the one that says what is done. Nothing raises; a line that begins as a step and is not
understood comes back with what was expected, and one that is no step as ``None``.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

from washline.quantity.amount_text import AmountStart, ParseProblem, read_amount
from washline.quantity.bar_line import bar_strain, carbonation, floated, garnish, rinse, smoke
from washline.quantity.chill_line import begins_as_chill, chill, has_ice, speaks_of_chilling
from washline.quantity.clauses import BRIX, GRAMS, NUMBER, PERCENT, PH, Clauses
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.goal_line import adjustment, begins_as_goal
from washline.quantity.house_words import NO_HOUSE, HouseWords
from washline.quantity.line_text import LONGEST_LINE, TypedLine, parse_line
from washline.quantity.measure_line import measurement
from washline.quantity.strain_line import strain
from washline.quantity.typed_step import (
    TypedEvaporation,
    TypedFerment,
    TypedInfusion,
    TypedStep,
    TypedTake,
    TypedWash,
)

EXPECTED_INFUSION = "Expected how much of what, and how long, such as infuse 20 g bay leaf 48 h at 20 °C."
EXPECTED_EVAPORATION = "Expected how far, such as to 400 g, to 42 % or to 50 °Bx, and a time, such as 20 min."
EXPECTED_FERMENT = (
    "Expected what was measured, such as ferment lactic 6 days 18\u201320 °C to pH 3.5, or yeast 4 g gas."
)
EXPECTED_TAKE = "Expected how much, such as take 160 g lemon peel or take 10 %."
NOTHING_HELD = "Expected a fat wash or a milk wash."


GIVEN_GROUPS: Mapping[str, str] = MappingProxyType(
    {
        "water": "water",
        "sugar": "sugars",
        "sugars": "sugars",
        "acid": "acids",
        "acids": "acids",
        "salt": "salt",
        "solids": "solids",
    }
)
"""Words for what a solid gives to the liquid, and their keys."""


_VERBS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "infuse": ("infuse", ""),
        "infusion": ("infuse", ""),
        "steep": ("infuse", ""),
        "macerate": ("infuse", ""),
        "muddle": ("muddle", ""),
        "blend": ("blend", ""),
        "rest": ("rest", ""),
        "note": ("note", ""),
        "chill": ("chill", ""),
        "take": ("take", ""),
        "set aside": ("take", ""),
        "fat wash": ("wash", "fat"),
        "fat-wash": ("wash", "fat"),
        "wash fat": ("wash", "fat"),
        "wash with fat": ("wash", "fat"),
        "butter wash": ("wash", "fat"),
        "milk wash": ("wash", "milk"),
        "milk-wash": ("wash", "milk"),
        "wash milk": ("wash", "milk"),
        "wash with milk": ("wash", "milk"),
        "wash": ("wash", ""),
        "strain": ("strain", ""),
        "fine strain": ("strain", "fine"),
        "fine-strain": ("strain", "fine"),
        "filter": ("strain", "paper"),
        "clarify": ("strain", ""),
        "spin": ("strain", "spin"),
        "centrifuge": ("strain", "spin"),
        "press": ("strain", "press"),
        "skim": ("strain", "skim"),
        "freeze-thaw": ("strain", "freeze-thaw"),
        "heat": ("heat", ""),
        "simmer": ("heat", "simmer"),
        "boil": ("heat", "boil"),
        "reduce": ("reduce", ""),
        "boil down": ("reduce", ""),
        "dry": ("dry", ""),
        "dehydrate": ("dry", ""),
        "ferment": ("ferment", ""),
        "lacto-ferment": ("ferment", "lactic"),
        "adjust": ("adjust", ""),
        "measure": ("measure", ""),
        "measured": ("measure", ""),
        "titration": ("measure", "titration"),
        "titrate": ("measure", "titration"),
        "refractometer": ("measure", "refractometer"),
        "hydrometer": ("measure", "hydrometer"),
        "density": ("measure", "density"),
        "weigh": ("measure", "weigh"),
        "ph": ("measure", "ph"),
        "smoke": ("smoke", ""),
        "carbonate": ("carbonate", ""),
        "force-carbonate": ("carbonate", ""),
        "force carbonate": ("carbonate", ""),
    }
)
_BAR_VERBS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "strain": ("bar strain", ""),
        "fine strain": ("bar strain", "fine"),
        "fine-strain": ("bar strain", "fine"),
        "double strain": ("bar strain", "fine"),
        "double-strain": ("bar strain", "fine"),
        "unstrained": ("bar strain", "unstrained"),
        "pour unstrained": ("bar strain", "unstrained"),
        "rinse": ("rinse", ""),
        "float": ("float", ""),
        "rim": ("garnish", "rim"),
        "express": ("garnish", "express"),
        "garnish with": ("garnish", "garnish"),
        "garnish": ("garnish", "garnish"),
    }
)
"""What is done at the glass; these words are read in a drink only."""


def _verb_pattern(verbs: Mapping[str, tuple[str, str]]) -> re.Pattern[str]:
    longest = sorted(verbs, key=len, reverse=True)
    words = "|".join(re.escape(verb).replace(r"\ ", r"\s+") for verb in longest)
    return re.compile(rf"\s*(?P<verb>{words})(?![\w-])[\s:,]*", re.IGNORECASE)


_VERB, _BAR_VERB = _verb_pattern(_VERBS), _verb_pattern(_BAR_VERBS)
INFUSING = re.compile(r"\s*(?:infuse|steep|macerate)\s+", re.IGNORECASE)
"""The word before what is infused."""

_MANNER_OF_DRYING = re.compile(r"\s*(?:$|\d|at\b|to\b|in\b|on\b|for\b|until\b|about\b)", re.IGNORECASE)

_TO_GRAMS = re.compile(
    rf"(?:\b(?:up|down)\s+)?\bto\s+(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})", re.IGNORECASE
)
_TO_BRIX = re.compile(rf"(?:\bto\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*{BRIX}", re.IGNORECASE)
_TO_PERCENT = re.compile(
    rf"\bto\s+(?P<number>{NUMBER})\s*{PERCENT}(?:\s+of\s+its\s+(?:mass|weight))?", re.IGNORECASE
)
_ALCOHOL_KEPT = re.compile(
    rf"\b(?:keep(?:s|ing)?|retain(?:s|ing)?)\s+(?P<number>{NUMBER})\s*{PERCENT}\s*(?:of\s+(?:the\s+|its\s+)?)?"
    r"(?:alcohol|ethanol)\b",
    re.IGNORECASE,
)
_FERMENTS = re.compile(r"\b(?P<kind>lactic|lacto|lactobacillus|yeast)\b(?:\s+acid)?", re.IGNORECASE)
_GAS = re.compile(
    rf"(?<![\w.,])(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})\s*(?:of\s+)?(?:gas|co2|co₂|carbon\s+dioxide)\b(?:\s+lost\b)?",
    re.IGNORECASE,
)
_DISCARD = re.compile(
    rf"\bdiscard\s+(?:if\s+)?above\s+(?:ph\s*)?(?P<number>{NUMBER})(?:\s+(?:on|by)\s+day\s+(?P<day>{NUMBER}))?",
    re.IGNORECASE,
)
_ACIDITY = re.compile(
    rf"(?:\bto\s+)?(?<![\w.,])(?P<number>{NUMBER})\s*(?:{PERCENT}|g\s*(?:/|per)\s*100\s*g)\s*"
    r"(?:titratable\s+)?(?:acid(?:ity)?|ta)\b",
    re.IGNORECASE,
)


_GIVES = re.compile(r"\b(?:gives|giving)\s+(?P<shares>.+)$", re.IGNORECASE)
_ONE_GIVEN = re.compile(
    rf"(?P<number>{NUMBER})\s*{PERCENT}\s*(?:of\s+)?(?:its\s+|the\s+)?(?P<group>{'|'.join(GIVEN_GROUPS)})\b",
    re.IGNORECASE,
)
_HALF_OR_ALL = re.compile(
    rf"\b(?P<share>half|all|none)\s+(?:of\s+)?(?:its\s+|the\s+)?(?P<group>{'|'.join(GIVEN_GROUPS)})\b",
    re.IGNORECASE,
)
_SHARES = {"half": 50.0, "all": 100.0, "none": 0.0}


def parse_step(
    text: str, locale: NumberStyle = ENGLISH_STYLE, house: HouseWords = NO_HOUSE
) -> TypedStep | ParseProblem | None:
    """The step that one line says, in the words of a house; a ``ParseProblem`` where it begins as one and is not
    understood, ``None`` where it does not."""
    if len(text) > LONGEST_LINE or not text.strip():
        return None
    clauses = Clauses(text, locale)
    found = _step(clauses, house)
    if not clauses.is_ambiguous or not isinstance(found, TypedStep):
        return found
    other = _step(Clauses(text, locale, reads_other=True), house)
    return replace(found, alternative=other) if isinstance(other, TypedStep) and other != found else found


def parse_infusion(text: str, locale: NumberStyle = ENGLISH_STYLE) -> TypedInfusion | ParseProblem:
    """An infusion without the word for it: *20 g bay leaf 48 h at 20 °C*."""
    return _infusion(Clauses(text, locale), "")


def _step(clauses: Clauses, house: HouseWords) -> TypedStep | ParseProblem | None:
    text = clauses.text
    if house.is_drink:
        found = _bar_step(clauses, house)
        if found is not None:
            return found
        clauses.text = text
    verb = _VERB.match(text)
    # An adjustment is known by its end, whatever it begins with: salt to 2 %.
    if verb is None or _VERBS[_plain(verb["verb"])][0] not in _KINDS:
        return adjustment(clauses) if begins_as_goal(text) else None
    kind, preset = _VERBS[_plain(verb["verb"])]
    rest = text[verb.end() :]
    # "Dry" begins the name of many a wine and spirit: only a manner of drying may follow it.
    if kind == "dry" and not _MANNER_OF_DRYING.match(rest):
        return None
    clauses.text = rest
    if kind == "chill":
        return chill(clauses, house)
    if kind == "smoke":
        # With an amount behind it, it is the name of something that is poured.
        return None if isinstance(parse_line(text, clauses.style), TypedLine) else smoke(clauses)
    if kind == "carbonate":
        return carbonation(clauses, house)
    return _READERS[kind](clauses, preset or kind if kind in _WORKS or kind in _EVAPORATIONS else preset)


def _bar_step(clauses: Clauses, house: HouseWords) -> TypedStep | ParseProblem | None:
    """A step of the bar: by a method of the house, or by a word for what is done at the glass."""
    text = clauses.text
    if method := begins_as_chill(text, house):
        is_other_word = _plain(method["name"]) in _VERBS or _plain(method["name"]) in _BAR_VERBS
        if not is_other_word or has_ice(text[method.end() :], house):
            clauses.text = text[method.end() :]
            found = chill(clauses, house, method["name"])
            is_line = isinstance(found, ParseProblem) and isinstance(
                parse_line(text, clauses.style), TypedLine
            )
            return None if is_line and not speaks_of_chilling(text, house) else found
    verb = _BAR_VERB.match(text)
    if verb is None:
        return None
    kind, preset = _BAR_VERBS[_plain(verb["verb"])]
    clauses.text = text[verb.end() :]
    if kind == "bar strain":
        return bar_strain(clauses, house, preset)
    if kind == "garnish":
        return garnish(clauses, preset)
    return rinse(clauses) if kind == "rinse" else floated(clauses)


def _plain(words: str) -> str:
    return " ".join(words.casefold().split())


def _problem(clauses: Clauses, expected: str) -> ParseProblem:
    return ParseProblem(clauses.text, expected)


def _work(clauses: Clauses, kind: str) -> TypedStep:
    temperature, seconds = clauses.take_temperature(), clauses.take_time()
    low, high = temperature or (None, None)
    return TypedStep(kind=kind, duration_s=seconds, low_c=low, high_c=high, words=clauses.words)


def _words_only(clauses: Clauses, kind: str) -> TypedStep:
    return TypedStep(kind=kind, words=clauses.words)


def _infusion(clauses: Clauses, preset: str) -> TypedInfusion | ParseProblem:
    whole = clauses.text
    work = _work(clauses, "infuse")
    given = _given(clauses)
    line = parse_line(clauses.words, clauses.style)
    if isinstance(line, ParseProblem):
        return ParseProblem(whole, EXPECTED_INFUSION)
    if line.amount.alternative is not None:
        clauses.is_ambiguous = True
        if clauses.reads_other:
            line = replace(line, amount=line.amount.alternative)
    return TypedInfusion(
        kind="infuse",
        duration_s=work.duration_s,
        low_c=work.low_c,
        high_c=work.high_c,
        line=line,
        given_pct=given,
    )


def _given(clauses: Clauses) -> dict[str, float]:
    """*gives 60 % of its salt, half of its water*."""
    found = clauses.take(_GIVES)
    if found is None:
        return {}
    shares = {
        GIVEN_GROUPS[one["group"].casefold()]: clauses.number(one["number"])
        for one in _ONE_GIVEN.finditer(found["shares"])
    }
    return shares | {
        GIVEN_GROUPS[one["group"].casefold()]: _SHARES[one["share"].casefold()]
        for one in _HALF_OR_ALL.finditer(found["shares"])
    }


def _wash(clauses: Clauses, washes: str) -> TypedWash | ParseProblem:
    if not washes:
        return _problem(clauses, NOTHING_HELD)
    work = _work(clauses, "wash")
    return TypedWash(
        kind="wash",
        washes=washes,
        duration_s=work.duration_s,
        low_c=work.low_c,
        high_c=work.high_c,
        words=work.words,
    )


def _evaporation(clauses: Clauses, preset: str) -> TypedEvaporation | ParseProblem:
    whole = clauses.text
    kind = preset if preset in _EVAPORATIONS else "heat"
    kept = clauses.take_number(_ALCOHOL_KEPT)
    brix = clauses.take_number(_TO_BRIX)
    grams = clauses.take(_TO_GRAMS)
    percent = clauses.take_number(_TO_PERCENT)
    work = _work(clauses, kind)
    if clauses.has_number or sum(one is not None for one in (brix, grams, percent)) > 1:
        return ParseProblem(whole, EXPECTED_EVAPORATION)
    said = "" if preset == kind else preset
    return TypedEvaporation(
        kind=kind,
        duration_s=work.duration_s,
        low_c=work.low_c,
        high_c=work.high_c,
        words=" ".join(part for part in (said, work.words) if part),
        final_g=clauses.grams(grams["number"], grams["unit"]) if grams is not None else None,
        final_pct=percent,
        final_brix=brix,
        ethanol_kept_pct=kept,
    )


def _ferment(clauses: Clauses, preset: str) -> TypedFerment | ParseProblem:
    whole = clauses.text
    by = clauses.take(_FERMENTS)
    ferments = "yeast" if by is not None and by["kind"].casefold() == "yeast" else "lactic"
    discard = clauses.take(_DISCARD)
    gas = clauses.take(_GAS)
    ph = clauses.take_number(PH)
    brix = clauses.take_number(_TO_BRIX)
    acidity = clauses.take_number(_ACIDITY)
    work = _work(clauses, "ferment")
    if clauses.has_number:
        return ParseProblem(whole, EXPECTED_FERMENT)
    day = discard["day"] if discard is not None else None
    return TypedFerment(
        kind="ferment",
        ferments=preset or ferments,
        duration_s=work.duration_s,
        low_c=work.low_c,
        high_c=work.high_c,
        words=work.words.removeprefix("with ").strip(),
        gas_lost_g=clauses.grams(gas["number"], gas["unit"]) if gas is not None else None,
        final_acidity_pct=acidity,
        final_brix=brix,
        final_ph=ph,
        discard_above_ph=clauses.number(discard["number"]) if discard is not None else None,
        discard_on_day=clauses.number(day) if day else None,
    )


def _take(clauses: Clauses, preset: str) -> TypedTake | ParseProblem:
    start = read_amount(clauses.text, clauses.style)
    if not isinstance(start, AmountStart) or (
        start.amount.unit is None or start.amount.basis not in ("absolute", "percent")
    ):
        return _problem(clauses, EXPECTED_TAKE)
    name = start.rest.strip(" ,;:")
    typed = clauses.text[: len(clauses.text) - len(start.rest)].strip()
    amount = replace(start.amount, typed=typed, alternative=None)
    return TypedTake(kind="take", amount=amount, leftover=re.sub(r"^(?:of|as)\s+", "", name))


_WORKS = ("blend", "muddle", "rest", "note")
_EVAPORATIONS = ("heat", "reduce", "dry")

_READERS: Mapping[str, Callable[[Clauses, str], TypedStep | ParseProblem]] = MappingProxyType(
    {
        "infuse": _infusion,
        "muddle": _words_only,
        "note": _words_only,
        "blend": _work,
        "rest": _work,
        "wash": _wash,
        "strain": strain,
        "heat": _evaporation,
        "reduce": _evaporation,
        "dry": _evaporation,
        "ferment": _ferment,
        "adjust": adjustment,
        "measure": measurement,
        "take": _take,
    }
)
_KINDS = frozenset((*_READERS, "chill", "smoke", "carbonate"))
