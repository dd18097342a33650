"""Reads what brings a vessel to a reading: *sugar to 50 °Bx*, *citric + malic 2:3 to 6 % acidity*, *as sour as lime*."""

import math
import re

from washline.quantity.amount_text import ParseProblem
from washline.quantity.clauses import BRIX, BY_VOLUME, NUMBER, PERCENT, Clauses
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.typed_step import TypedAdjustment, TypedPortion

EXPECTED_GOAL = "Expected what is reached, such as to 50 °Bx, 60 % vol, 6 % acidity or 2 % salt."
EXPECTED_PORTIONS = "Expected as many parts as there are names, such as citric + malic 2:3 to 6 % acidity."

_LIKE = {"sour": "acidity", "strong": "strength", "salty": "salt", "sweet": "brix"}
_GOAL = re.compile(
    rf"^(?P<names>.*\S|)\s*(?:\b(?:up|down)\s+)?\bto\s+(?:a\s+)?(?P<number>{NUMBER})\s*"
    rf"(?:(?P<brix>{BRIX})|(?P<strength>{BY_VOLUME})|(?P<share>{PERCENT}|g\s*(?:/|per)\s*100\s*(?:g|ml)\b))"
    r"\s*(?:of\s+)?(?:titratable\s+)?(?P<word>acid(?:ity)?|salt|of\s+mass|of\s+(?:its|the)\s+mass)?\s*"
    r"(?:(?:by|of)\s+(?P<by>weight|mass|volume))?\s*$",
    re.IGNORECASE,
)
_AS_LIKE = re.compile(
    r"^(?P<names>.+?)?\s*\bas\s+(?P<how>sour|strong|salty|sweet)\s+as\s+(?:the\s+)?(?P<like>\S.*?)\s*$",
    re.IGNORECASE,
)
_IT = re.compile(r"(?:it|this|the\s+)?\s*(?:vessel|juice|liquid)?", re.IGNORECASE)
_RATIO = re.compile(rf"\s+(?P<ratio>{NUMBER}(?:\s*:\s*{NUMBER})+)\s*$")
_OWN_PARTS = re.compile(rf"^\s*(?P<number>{NUMBER})\s+(?:parts?\s+(?:of\s+)?)?(?=\D)", re.IGNORECASE)
_PLUS = re.compile(r"\s*\+\s*|\s+and\s+", re.IGNORECASE)


def begins_as_goal(text: str) -> bool:
    """Whether a line ends in a reading to be reached, or in an item to be like."""
    return _GOAL.match(text) is not None or _AS_LIKE.match(text) is not None


def parse_portions(text: str, locale: NumberStyle = ENGLISH_STYLE) -> tuple[TypedPortion, ...] | ParseProblem:
    """What is added in parts by weight: *citric + malic 2:3*, *2 citric + 3 malic*, *sugar*."""
    return _portions(Clauses("", locale), text)


def adjustment(clauses: Clauses, preset: str = "") -> TypedAdjustment | ParseProblem:
    """The adjustment that the text says; there is no word for it to preset."""
    whole = clauses.text
    text = whole.strip().removeprefix("with ")
    if like := _AS_LIKE.match(text):
        names = (like["names"] or "").strip()
        portions = () if _IT.fullmatch(names) else _portions(clauses, names)
        if isinstance(portions, ParseProblem):
            return portions
        return TypedAdjustment(
            kind="adjust", portions=portions, goal=_LIKE[like["how"].casefold()], like=like["like"]
        )
    found = _GOAL.match(text)
    goal = _goal(found) if found is not None else ""
    if found is None or not goal:
        return ParseProblem(whole, EXPECTED_GOAL)
    portions = _portions(clauses, found["names"])
    if isinstance(portions, ParseProblem):
        return portions
    is_by_volume = found["by"] == "volume" or "ml" in (found["share"] or "").casefold()
    value = clauses.number(found["number"])
    if not math.isfinite(value):
        return ParseProblem(whole, EXPECTED_GOAL)
    return TypedAdjustment(
        kind="adjust", portions=portions, goal=goal, value=value, is_by_volume=is_by_volume
    )


def _goal(found: re.Match[str]) -> str:
    """What is reached: a bare percentage is of salt where salt is added, else nobody can know of what it is."""
    if found["brix"]:
        return "brix"
    if found["strength"]:
        return "strength"
    word = (found["word"] or "").casefold()
    if word.startswith("acid"):
        return "acidity"
    is_salt = word == "salt" or re.search(r"\bsal(?:t|ine)\b", found["names"], re.IGNORECASE)
    return "salt" if is_salt else ""


def _portions(clauses: Clauses, text: str) -> tuple[TypedPortion, ...] | ParseProblem:
    ratio = _RATIO.search(text)
    parts = [clauses.number(part.strip()) for part in ratio["ratio"].split(":")] if ratio else []
    body = text[: ratio.start()] if ratio else text
    names = [name.strip(" ,;") for name in _PLUS.split(body.strip()) if name.strip(" ,;")]
    if not names:
        return ParseProblem(text, EXPECTED_GOAL)
    if parts and len(parts) != len(names):
        return ParseProblem(text, EXPECTED_PORTIONS)
    if parts:
        found = [TypedPortion(name, part) for name, part in zip(names, parts, strict=True)]
    else:
        found = [_own_parts(clauses, name) if len(names) > 1 else TypedPortion(name, 1.0) for name in names]
    if not all(math.isfinite(portion.parts) and portion.parts > 0.0 for portion in found):
        return ParseProblem(text, EXPECTED_PORTIONS)
    return tuple(found)


def _own_parts(clauses: Clauses, name: str) -> TypedPortion:
    own = _OWN_PARTS.match(name)
    return (
        TypedPortion(name[own.end() :].strip(), clauses.number(own["number"]))
        if own
        else TypedPortion(name, 1.0)
    )
