"""Parts of a written step that say how it is done: each is found anywhere in the text, read, and taken out of it."""

import re
from dataclasses import dataclass, field

from washline.quantity.amount_text import ParseProblem
from washline.quantity.formatting import ENGLISH_STYLE, NumberStyle
from washline.quantity.number import NumberProblem, read_number
from washline.quantity.step_text import parse_duration, parse_temperature

_GLYPHS = "\u00bc-\u00be\u2150-\u215e"
NUMBER = rf"(?:\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,'\u2019\u066b\u00a0\u202f]\d+)*(?:\s?[{_GLYPHS}])?|[.,]\d+|[{_GLYPHS}])"
"""A number as it is typed, for use in longer patterns; ``Clauses.number`` reads what it found."""

RANGE_MARK = r"\s*(?:-|\u2010|\u2011|\u2012|\u2013|\u2014|\bto\b)\s*"
GRAMS = r"(?:kilograms?|kilos?|kg|grams?|grammes?|gr?|gms?)(?![\w/])"
BRIX = r"(?:°|º|deg(?:rees?)?)?\s*(?:bx|brix)\b"
PERCENT = r"(?:%|\uff05|per\s?cent\b|pct\b)"
BY_VOLUME = rf"(?:{PERCENT}\s*(?:\(?\s*vol\b\.?(?:ume)?\s*\)?|abv\b|alc\b\.?(?:\s*vol\b\.?)?|by\s+vol(?:ume)?\b)|abv\b)"

_START = r"(?<![\w.,/:°-])"
SIGNED = rf"[-\u2212\u2013]?\s?{NUMBER}"
"""A number that may lie below zero."""
DEGREES = (
    r"\s*(?:(?:°|º|˚|\bdeg\.?|\bdegrees?)\s*(?:c|f|celsius|centigrade|fahrenheit)?|℃|℉|(?-i:[CF])|celsius|fahrenheit)"
    r"(?![\w])"
)
"""°C or °F behind a number."""
_TEMPERATURE = re.compile(
    rf"(?:\bat\s+|@\s*)?{_START}(?P<degrees>{SIGNED}(?:{DEGREES})?(?:{RANGE_MARK}{SIGNED})?{DEGREES})(?!\s*(?:bx|brix))",
    re.IGNORECASE,
)
_AT_DEGREES = re.compile(
    rf"\bat\s+(?P<degrees>{SIGNED}(?:{RANGE_MARK}{SIGNED})?\s*[cf])(?!\w)", re.IGNORECASE
)
_TIME_UNIT = r"(?:s|secs?|seconds?|min|mins|minutes?|h|hrs?|hours?|d|days?|wks?|weeks?)(?![\w])\.?"
_TIME = re.compile(
    rf"(?:\bfor\s+|\babout\s+)?{_START}(?P<time>{NUMBER}(?:{RANGE_MARK}{NUMBER})?\s*{_TIME_UNIT}"
    rf"(?:\s*{NUMBER}\s*{_TIME_UNIT})*(?:(?<=h)\s+\d{{1,2}}(?=\s*$|\s*[,;)]))?)",
    re.IGNORECASE,
)
_SPREAD = re.compile(rf"(?:±|\+\s?/\s?[-\u2212]|\+\s?[-\u2212])\s*(?P<number>{NUMBER})", re.IGNORECASE)
PH = re.compile(rf"(?:\bto\s+)?\bph\s*(?:of\s+|=\s*|:\s*)?(?P<number>{NUMBER})", re.IGNORECASE)
"""A pH, for ``Clauses.take_number``."""

_EDGES = " \t\r\n\u00a0\u202f,;:.()"


@dataclass(slots=True)
class Clauses:
    """A text from which parts are taken one by one; what is left of it is ``words``.

    ``reads_other`` takes a number such as ``1,333`` in its other reading, and ``is_ambiguous`` says that there was one.
    """

    text: str
    style: NumberStyle = ENGLISH_STYLE
    reads_other: bool = False
    is_ambiguous: bool = field(default=False, init=False)

    @property
    def words(self) -> str:
        """What has not been taken, on one line."""
        return re.sub(r"(?: ?[,;])+(?= ?[,;])| (?=[,;])", "", " ".join(self.text.split())).strip(_EDGES)

    @property
    def has_number(self) -> bool:
        """Whether a number is left that nothing took."""
        return re.search(rf"\d|[{_GLYPHS}]", self.text) is not None

    def take(self, pattern: re.Pattern[str]) -> re.Match[str] | None:
        """The first place where ``pattern`` fits, taken out of the text."""
        found = pattern.search(self.text)
        if found is not None:
            self.text = f"{self.text[: found.start()].rstrip()} {self.text[found.end() :].lstrip()}"
        return found

    def number(self, text: str) -> float:
        """The number that ``text`` is; nan where it is none."""
        found = read_number(text, self.style.decimal, self.style.grouping or None)
        if isinstance(found, NumberProblem) or found.rest.strip():
            return float("nan")
        if found.alternative is None:
            return found.value
        self.is_ambiguous = True
        return found.alternative if self.reads_other else found.value

    def grams(self, number: str, unit: str) -> float:
        """Grams from a number and a unit that ``GRAMS`` found."""
        return self.number(number) * (1000.0 if unit.casefold().startswith("k") else 1.0)

    def take_number(self, pattern: re.Pattern[str]) -> float | None:
        """The group *number* of ``pattern``, taken out of the text; ``None`` where it does not fit."""
        found = self.take(pattern)
        return self.number(found["number"]) if found is not None else None

    def take_time(self) -> float | None:
        """Seconds; a range is read by its longer end, so that a paper does not promise too early."""
        found = _TIME.search(self.text)
        time = parse_duration(found["time"], self.style) if found is not None else None
        if found is None or time is None or isinstance(time, ParseProblem):
            return None
        self.take(_TIME)
        return time.high_s

    def take_temperature(self) -> tuple[float, float] | None:
        """Both ends in °C, from °C or °F; the same twice where one was typed."""
        for pattern in (_TEMPERATURE, _AT_DEGREES):
            found = pattern.search(self.text)
            degrees = parse_temperature(found["degrees"], self.style) if found is not None else None
            if degrees is not None and not isinstance(degrees, ParseProblem):
                self.take(pattern)
                return degrees.low_c, degrees.high_c
        return None

    def take_spread(self) -> float | None:
        """What stands behind ±."""
        return self.take_number(_SPREAD)
