"""Strength in words: a figure that is never written as none, US proof, and the words that law keeps for low strengths.

A limit is held against the highest that a strength may be, and never against less than 0.05 % vol: juices, ferments and
extracts carry traces that no table counts. Words of law are information, not advice: each keeps its condition, its source,
and the request to check the local rule.
"""

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from math import ceil, isfinite
from types import MappingProxyType

from washline.assets import resource
from washline.chemistry.alcohol import us_proof
from washline.quantity.formatting import (
    ENGLISH_STYLE,
    UNIT_SPACE,
    UNKNOWN,
    NumberStyle,
    format_number,
    format_trimmed,
)

TRACE = 0.05
"""What is less than this, in % vol or in grams, is written *below 0.05*."""

STRICTEST = "strictest"
ALCOHOL_FREE = "alcohol-free"
CHECK_LOCAL_RULE = "Check your local rule."
MEASURE_FIRST = "It is computed: have it measured before a word is printed."
NEVER_NONE = ("strength", "ethanol")
"""The readings that are never written as none."""

_STANDARD_UNCERTAINTIES = 2.0
"""A claim before the law wants about 95 %: JCGM 100:2008, 6.3.3."""
_WORDS = (
    ALCOHOL_FREE,
    "non-alcoholic",
    "de-alcoholised",
    "low-alcohol",
    "reduced-alcohol",
    "partially de-alcoholised",
)
_ANY_DRINK = "any"
_LAST_OF_LOW = 1.2


@dataclass(frozen=True, slots=True)
class LegalRow:
    """One row of the table: a word (``kind`` *word*) or a line that is crossed (*line*), its limits in % vol, the drinks it
    is for, its condition in words and its source. ``highest_pct_vol`` is ``None`` where the rule gives no figure."""

    law: str
    law_name: str
    kind: str
    word: str
    drinks: str
    lowest_pct_vol: float
    is_lowest_in: bool
    highest_pct_vol: float | None
    is_highest_in: bool
    condition: str
    source: str
    is_from_memory: bool

    def holds(self, highest_pct_vol: float) -> bool:
        """Whether a drink that may have up to this strength keeps the limits."""
        if self.highest_pct_vol is None:
            return False
        is_under = highest_pct_vol < self.highest_pct_vol
        is_over = highest_pct_vol > self.lowest_pct_vol
        return (is_under or (self.is_highest_in and highest_pct_vol == self.highest_pct_vol)) and (
            is_over or (self.is_lowest_in and highest_pct_vol == self.lowest_pct_vol)
        )

    @property
    def limit(self) -> str:
        """The limit in words: *at most 1.2 % vol*."""
        if self.highest_pct_vol is None:
            return "no limit is given"
        if self.highest_pct_vol == 0.0:
            return "no alcohol at all"
        number = f"{format_trimmed(self.highest_pct_vol, 2)}{UNIT_SPACE}% vol"
        return f"at most {number}" if self.is_highest_in else f"below {number}"

    @property
    def text(self) -> str:
        """The word with its limit, law and condition: one line for a tooltip."""
        if self.kind == "line":
            return f"{self.law_name}: {self.word} ({self.condition})"
        return f"“{self.word}”: {self.limit}, {self.condition} ({self.law_name})"


@dataclass(frozen=True, slots=True)
class LegalWords:
    """What the chosen law says of a strength.

    ``word`` is the word that any drink of that strength may bear, or empty. ``allowed`` are all rows whose limits are kept,
    those for a kind of drink too; ``refused`` is the nearest word that is not allowed. ``lines`` are the lines that are
    crossed. ``is_known`` is false for a law that is not in the table.
    """

    law: str
    law_name: str
    highest_pct_vol: float | None
    word: str = ""
    allowed: tuple[LegalRow, ...] = ()
    refused: LegalRow | None = None
    lines: tuple[LegalRow, ...] = ()
    is_known: bool = True

    @property
    def text(self) -> str:
        """One or two sentences for a paper; empty where the strength is far from every word."""
        if self.highest_pct_vol is None or self.highest_pct_vol > _LAST_OF_LOW:
            return ""
        if not self.is_known:
            return f"no words for a low strength are known for this law. {CHECK_LOCAL_RULE}"
        if not self.word:
            return f"no word for a low strength in a mixed drink ({self.law_name}). {CHECK_LOCAL_RULE}"
        row = next(one for one in self.allowed if one.word == self.word)
        free = "" if any(one.word == ALCOHOL_FREE for one in self.allowed) else f", not {ALCOHOL_FREE}"
        return f"may be called {self.word}{free} ({self.law_name}: {row.limit}). {CHECK_LOCAL_RULE}"

    @property
    def explanation(self) -> str:
        """All that is to be said, a line each: for a tooltip."""
        told = [row.text for row in (*self.allowed, *self.lines)]
        if self.refused is not None:
            told.append(f"Not {self.refused.text}")
        return "\n".join((*told, *((MEASURE_FIRST,) if self.allowed else ()), CHECK_LOCAL_RULE))


def strength_number(
    value: float | None,
    style: NumberStyle = ENGLISH_STYLE,
    decimals: int = 1,
    more: float = 0.0,
) -> str:
    """A strength in % vol, or grams of ethanol, as a number without its unit: *6.7*, *below 0.05*, ``?``.

    ``more`` is how much higher it may be, because something in it is not known: then what reads as a trace is *below* the
    highest that it may be, or ``?`` where nobody knows. A figure below zero cannot be and is shown as it is.
    """
    if value is None or not isfinite(value):
        return UNKNOWN
    if not 0.0 <= value < TRACE:
        return format_number(value, max(decimals, 1), style)
    if not more < TRACE - value:
        highest = value + more
        return (
            f"below {format_number(ceil(highest * 10.0 + 1e-9) / 10.0, 1, style)}"
            if highest < 1.0
            else UNKNOWN
        )
    return f"below {format_trimmed(TRACE, 2, style)}"


def reading_number(key: str, value: float | None, decimals: int, style: NumberStyle = ENGLISH_STYLE) -> str:
    """Any reading as a number without its unit: those of ``NEVER_NONE`` as ``strength_number`` writes them."""
    if key in NEVER_NONE and is_trace(value):
        return strength_number(value, style)
    return format_number(value, decimals, style)


def is_trace(value: float | None) -> bool:
    """Whether a strength or grams of ethanol are written with *below*, so that no *at least* and no ± stands with them."""
    return value is not None and 0.0 <= value < TRACE


def highest_strength(value: float | None, more: float = 0.0, sigma: float | None = None) -> float | None:
    """The highest that a strength may be, for a limit of law: what is not known counts as ethanol, two standard
    uncertainties are added, and it is at least the trace that nobody counts. ``None`` where it is not known."""
    if value is None or not isfinite(value + more):
        return None
    return max(value + more + _STANDARD_UNCERTAINTIES * (sigma or 0.0), TRACE)


def proof_words(value: float | None, alcohol_units: str, style: NumberStyle = ENGLISH_STYLE) -> str:
    """US proof of a strength where the house counts as in the US: *80.0 proof*; empty elsewhere and for traces."""
    if alcohol_units != "us" or value is None or is_trace(value):
        return ""
    return f"{format_number(us_proof(value), 1, style)} proof"


def legal_words(law: str, highest_pct_vol: float | None) -> LegalWords:
    """What a law (a key of ``laws``, or ``STRICTEST``) says of a drink that may have up to this strength (% vol)."""
    names = laws()
    if law not in names:
        return LegalWords(law, law, highest_pct_vol, is_known=False)
    if highest_pct_vol is None:
        return LegalWords(law, names[law], None)
    known = _of(law)
    words = [row for row in known if row.kind == "word"]
    allowed = tuple(row for row in words if row.holds(highest_pct_vol))
    word = next((row.word for row in allowed if row.drinks == _ANY_DRINK), "")
    return LegalWords(
        law=law,
        law_name=names[law],
        highest_pct_vol=highest_pct_vol,
        word=word,
        allowed=allowed,
        refused=_refused(words, allowed, highest_pct_vol),
        lines=tuple(row for row in known if row.kind == "line" and row.holds(highest_pct_vol)),
    )


def _refused(words: Sequence[LegalRow], allowed: Sequence[LegalRow], highest: float) -> LegalRow | None:
    """Of what the strength is too high for, the word with the highest limit."""
    over = [
        row
        for row in words
        if row not in allowed and row.highest_pct_vol is not None and highest >= row.highest_pct_vol
    ]
    return max(over, key=lambda row: row.highest_pct_vol or 0.0, default=None)


@cache
def laws() -> Mapping[str, str]:
    """The laws that can be chosen, by key, with their names; the strictest of all that are known is first."""
    named = {row.law: row.law_name for row in legal_rows()}
    return MappingProxyType({STRICTEST: "the strictest known", **named})


@cache
def legal_rows() -> tuple[LegalRow, ...]:
    """The table of words and lines, as its file has them."""
    with resource("tables", "strength_words.csv").open(encoding="utf-8", newline="") as file:
        return tuple(_row(row) for row in csv.DictReader(file))


def _row(row: Mapping[str, str]) -> LegalRow:
    return LegalRow(
        law=row["law"],
        law_name=row["law_name"],
        kind=row["kind"],
        word=row["word"],
        drinks=row["drinks"],
        lowest_pct_vol=float(row["lowest_pct_vol"]),
        is_lowest_in=row["is_lowest_in"] == "yes",
        highest_pct_vol=float(row["highest_pct_vol"]) if row["highest_pct_vol"] else None,
        is_highest_in=row["is_highest_in"] == "yes",
        condition=row["condition"],
        source=row["source"],
        is_from_memory=row["from_memory"] == "yes",
    )


@cache
def _of(law: str) -> tuple[LegalRow, ...]:
    """The rows of a law, the strongest claim first; of the strictest, each word once with all its conditions."""
    rows = legal_rows()
    if law != STRICTEST:
        rows = tuple(row for row in rows if row.law == law)
        return tuple(sorted(rows, key=_rank))
    words = dict.fromkeys(row.word for row in rows if row.kind == "word")
    strict = [_strictest([row for row in rows if row.word == word]) for word in words]
    return (*sorted(strict, key=_rank), *(row for row in rows if row.kind == "line"))


def _rank(row: LegalRow) -> int:
    return _WORDS.index(row.word) if row.word in _WORDS else len(_WORDS)


def _strictest(rows: Sequence[LegalRow]) -> LegalRow:
    """A word under every law that knows it: the lowest limit, and all conditions. It is for any drink where a law has it
    so and no law with a lower limit narrows it."""
    limited = [row for row in rows if row.highest_pct_vol is not None]
    lowest = min(limited, key=lambda row: (row.highest_pct_vol or 0.0, row.is_highest_in))
    return replace(
        lowest,
        law=STRICTEST,
        law_name=_joined(row.law_name for row in rows),
        condition=_joined(row.condition for row in rows),
        source=_joined(row.source for row in rows),
        is_from_memory=any(row.is_from_memory for row in rows),
    )


def _joined(words: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(words))
