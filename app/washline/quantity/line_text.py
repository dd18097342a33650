"""Reads lines of a recipe as people paste them: an amount and a name, in either order, one line each.

Understood around them: bullets and list numbers, cells parted by tabs or semicolons, *of*, a second amount in brackets
or behind a slash, *x 2*; which weight of produce is meant (*as bought*, *trimmed*), and how warm it is poured. Nothing
raises; a line that is not understood comes back with its text.
"""

import re
from dataclasses import dataclass, replace

from washline.quantity.amount_text import (
    UNIT_NOT_KNOWN,
    AmountStart,
    ParseProblem,
    TypedAmount,
    parse_amount,
    problem,
    read_amount,
)
from washline.quantity.clauses import GRAMS, NUMBER, Clauses
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.unit_names import MEASURE_WORDS, is_misspelt_unit, match_unit

EXPECTED_LINE = "Expected an amount and a name, such as 45 ml dry gin."
LARGEST_MULTIPLIER = 10_000.0
LONGEST_LINE = 500

_LONGEST_AMOUNT_WORDS = 8
_BULLET = re.compile(
    r"\s*(?:(?:[-\u2010-\u2015\u2022\u2023\u25e6\u2043\u25aa\u25ab\u25cf\u25cb\u25a0\u25a1\u2610\u2611\u2713\u00b7*+>]"
    r"|\[[ xX]?\]|\d{1,2}[.)])\s+)+"
)
_TIMES_BEHIND = re.compile(r"[\s(\[]+[x\u00d7*]\s*(?P<number>\d[^\s)\]]*)[)\]]?\s*$", re.IGNORECASE)
_TIMES_BEFORE = re.compile(
    r"\s*(?P<number>\d+)\s*[x\u00d7*]\s+(?=\S)|\s*(?P<tight>\d+)\s*[x\u00d7*](?=\d)", re.IGNORECASE
)
_SECOND_AMOUNT = re.compile(r"\s*(?P<open>[/|(\[=\u2248~])\s*(?=\S)")
_KNOWN_SHARE = re.compile(
    r"\s*of\s+(?:the\s+)?(?P<of>lines?\s+\d+(?:\s*[-\u2013,]\s*\d+)*|vessel|(?:weighed\s+)?yield|strained)\b",
    re.IGNORECASE,
)
_OF = re.compile(r"(?:by\s+weight\s+)?of\s+(?:the\s+)?(?=\S)", re.IGNORECASE)
_SPACES = "".join(character for character in map(chr, range(0x3001)) if character.isspace())
_AROUND_A_NAME = _SPACES + ",;:=|-\u2013\u2014\u2026\u00b7"


_BUY = re.compile(r"^\s*buy\s+(?=\S)", re.IGNORECASE)
_BOUGHT_FOR_IT = re.compile(
    rf"[\s,(]+(?:from|buy|buying|bought)\s+(?P<number>{NUMBER})\s*(?P<unit>{GRAMS})(?:\s+bought)?\s*\)?\s*$",
    re.IGNORECASE,
)
_WEIGHT_BEHIND = re.compile(
    r"(?:[\s,(]+as\s+(?P<as>bought|trimmed|used)|[\s,(]+(?P<weight>bought|trimmed))\s*\)?\s*$", re.IGNORECASE
)
_AT_THE_END = re.compile(r"\s+at\s+(?P<degrees>\S.*)$", re.IGNORECASE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class TypedLine:
    """A line as it was understood: so much of something, so many times; ``typed`` is its text as it was given.

    ``weight`` is *used*, *trimmed* or *bought*, empty where nothing was said; ``bought_g`` is what was bought for it, and
    ``temperature_c`` how warm it goes in.
    """

    amount: TypedAmount
    name: str
    multiplied_by: float
    typed: str
    weight: str = ""
    bought_g: float | None = None
    temperature_c: float | None = None


@dataclass(frozen=True, slots=True)
class _Manner:
    weight: str = ""
    bought_g: float | None = None
    temperature_c: float | None = None


def parse_lines(text: str, locale: NumberStyle = ENGLISH_STYLE) -> list[TypedLine | ParseProblem]:
    """Each line of ``text`` that is not blank, understood or not, in order."""
    return [parse_line(line, locale) for line in text.splitlines() if line.strip()]


def parse_line(text: str, locale: NumberStyle = ENGLISH_STYLE) -> TypedLine | ParseProblem:
    """The amount and the name that one line says; never raises."""
    if len(text) > LONGEST_LINE:
        return problem(text, EXPECTED_LINE, "a line")
    bullet = _BULLET.match(text)
    body = text[bullet.end() :] if bullet else text
    cells = [cell.strip() for cell in re.split(r"[\t;]", body) if cell.strip()]
    if len(cells) > 1 and (line := _from_cells(cells, text, locale)):
        return line
    body, manner = _without_manner(" ".join(cells), locale)
    body, times = _without_multiplier(body)
    before = _amount_before(body, locale)
    behind = _amount_behind(body, locale)
    line = _better(before, behind)
    if line is None or isinstance(parse_amount(line.name, locale), TypedAmount):
        return _line_problem(text, body, locale)
    return replace(
        line,
        multiplied_by=times,
        typed=text,
        weight=manner.weight,
        bought_g=manner.bought_g,
        temperature_c=manner.temperature_c,
    )


def _without_manner(body: str, locale: NumberStyle) -> tuple[str, _Manner]:
    """The line without *buy* before it or *as bought*, *trimmed*, *at 80 °C* behind it, and what they say."""
    rest, temperature_c = _without_temperature(body, locale)
    if bought := _BOUGHT_FOR_IT.search(rest):
        grams = Clauses("", locale).grams(bought["number"], bought["unit"])
        before, manner = _without_manner(rest[: bought.start()], locale)
        return before, replace(manner, bought_g=grams, temperature_c=temperature_c or manner.temperature_c)
    if behind := _WEIGHT_BEHIND.search(rest):
        weight = (behind["as"] or behind["weight"]).casefold()
        return _BUY.sub("", rest[: behind.start()]), _Manner(weight, None, temperature_c)
    if buy := _BUY.match(rest):
        return rest[buy.end() :], _Manner("bought", None, temperature_c)
    return rest, _Manner("", None, temperature_c)


def _without_temperature(body: str, locale: NumberStyle) -> tuple[str, float | None]:
    found = _AT_THE_END.search(body)
    if found is None:
        return body, None
    clauses = Clauses(found[0], locale)
    degrees = clauses.take_temperature()
    if degrees is None or clauses.words or degrees[0] != degrees[1]:
        return body, None
    return body[: found.start()], degrees[0]


def _better(before: TypedLine | None, behind: TypedLine | None) -> TypedLine | None:
    """Of the two readings the one whose amount has a unit; else the amount that stands first.

    *12 year rum 45 ml* is 45 ml, and *2 vodka, 40 %* is two of a vodka that has a strength in its name.
    """
    if before is None or behind is None:
        return before or behind
    is_before_bare = before.amount.unit is None and before.amount.basis == "absolute"
    return behind if is_before_bare and behind.amount.unit not in (None, "%") else before


def _amount_before(body: str, locale: NumberStyle) -> TypedLine | None:
    start = read_amount(body, locale)
    found = start if isinstance(start, AmountStart) else _one_measure(body)
    if found is None:
        return None
    amount, rest = found.amount, found.rest
    typed = body[: len(body) - len(rest)]
    if amount.unit is None and amount.basis == "absolute" and rest[:1] and not rest[:1].isspace():
        return None  # The number belongs to a name: 7-up, 4711.
    rest = _behind_second_amount(rest, locale)
    if amount.basis == "percent" and (share := _KNOWN_SHARE.match(rest)):
        amount, rest, typed = replace(amount, of=share["of"]), rest[share.end() :], typed + share[0]
    name = rest.strip(_AROUND_A_NAME)
    if preposition := _OF.match(name):
        name = name[preposition.end() :]
    if amount.tops and amount.basis == "wash_line" and (within := _amount_behind(name, locale)):
        return replace(within, amount=replace(within.amount, tops=True))
    if not name or _begins_with_wrong_unit(amount, name):
        return None
    return TypedLine(_as_typed(amount, typed.strip()), name, 1.0, body)


def _as_typed(amount: TypedAmount, typed: str) -> TypedAmount:
    other = amount.alternative
    return replace(amount, typed=typed, alternative=replace(other, typed=typed) if other else None)


def _amount_behind(body: str, locale: NumberStyle) -> TypedLine | None:
    """The longest amount at the end of the line, with the name before it: *verjus 1 1/2 oz*."""
    words = list(re.finditer(r"\S+", body))
    for word in words[1:][-_LONGEST_AMOUNT_WORDS:]:
        name = body[: word.start()].strip(_AROUND_A_NAME + ".")
        text = body[word.start() :].strip(_AROUND_A_NAME + "()[]")
        # A space does not mark thousands here: in "spirit 96 160 g" the first number belongs to the name.
        start = read_amount(text, locale, spaces_group=False)
        if not name or isinstance(start, ParseProblem) or re.match(r"\s*\d", start.rest):
            continue
        amount = parse_amount(text, locale)
        if isinstance(amount, TypedAmount):
            return TypedLine(amount, name, 1.0, body)
    return None


def _one_measure(body: str) -> AmountStart | None:
    """*Dash bay tincture* is one dash."""
    found = match_unit(body)
    word = re.sub(r"\s+", " ", body[: len(body) - len(found[1])].strip().casefold()) if found else ""
    if found is None or word not in MEASURE_WORDS:
        return None
    return AmountStart(TypedAmount(1.0, found[0].name, "absolute", word), found[1])


def _behind_second_amount(rest: str, locale: NumberStyle) -> str:
    """The text behind the same amount in another unit: *45 ml (1½ oz) gin*, *45 ml / 1½ oz gin*."""
    mark = _SECOND_AMOUNT.match(rest)
    second = read_amount(rest[mark.end() :], locale) if mark else None
    if mark is None or not isinstance(second, AmountStart) or second.amount.unit is None:
        return rest
    behind = second.rest.lstrip()
    if mark["open"] in "([":
        return behind[1:] if behind[:1] in (")", "]") else rest
    return behind


def _begins_with_wrong_unit(amount: TypedAmount, name: str) -> bool:
    return amount.unit is None and amount.basis == "absolute" and is_misspelt_unit(name.split()[0])


def _without_multiplier(body: str) -> tuple[str, float]:
    """The line without its *x 2* at the end or *2 x* at the start, and the number of times."""
    behind = _TIMES_BEHIND.search(body)
    if behind and (times := _times(behind["number"])):
        return body[: behind.start()], times
    before = _TIMES_BEFORE.match(body)
    if before and (times := _times(before["number"] or before["tight"])):
        return body[before.end() :], times
    return body, 1.0


def _times(number: str) -> float | None:
    found = read_number(number)
    if isinstance(found, NumberProblem) or found.rest or not 0.0 < found.value <= LARGEST_MULTIPLIER:
        return None
    return found.value


def _from_cells(cells: list[str], text: str, locale: NumberStyle) -> TypedLine | None:
    """A row of a table: the first cell that is an amount (with its unit in it or in the next cell) and the first name."""
    for index, cell in enumerate(cells):
        amount = parse_amount(cell, locale)
        if isinstance(amount, ParseProblem):
            continue
        following = cells[index + 1] if index + 1 < len(cells) else ""
        unit = match_unit(following)
        rest = cells[:index] + cells[index + 1 :]
        joined = parse_amount(f"{cell} {following}", locale) if unit and not unit[1].strip() else None
        if amount.unit is None and amount.basis == "absolute" and isinstance(joined, TypedAmount):
            amount, rest = joined, cells[:index] + cells[index + 2 :]
        name = next((other for other in rest if isinstance(read_number(other), NumberProblem)), None)
        if name:
            body, times = _without_multiplier(name)
            return TypedLine(amount, body.strip(_AROUND_A_NAME), times, text)
    return None


def _line_problem(text: str, body: str, locale: NumberStyle) -> ParseProblem:
    found = read_amount(body, locale)
    if isinstance(found, AmountStart) and found.amount.unit is None:
        words = found.rest.split()
        if words and is_misspelt_unit(words[0]):
            return ParseProblem(text, UNIT_NOT_KNOWN)
    has_number = re.match(r"\s*[-+\u2212]?[.,]?\d", body) is not None
    if isinstance(found, ParseProblem) and has_number:
        return ParseProblem(text, found.expected)
    return problem(text, EXPECTED_LINE, "a line")
