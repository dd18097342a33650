"""The texts of cautions and allergens: short, the same in the window and on every paper."""

import csv
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from washline.assets import resource
from washline.engine.contents import Contents
from washline.engine.step_cautions import StepCaution
from washline.presentation.strength_words import is_trace, strength_number
from washline.quantity.formatting import ENGLISH_STYLE, UNKNOWN, NumberStyle, format_trimmed

DEFERRAL = (
    "Information from published sources; not legal or safety advice. Rules change and differ by country: "
    "follow your local food code and ask a qualified person."
)
"""What every caution ends with; it is printed once behind all that stand together."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution: its key, a short title, a sentence for the bar and its guests, one for the bench, and sentences in which
    computed figures stand in braces, by name."""

    key: str
    title: str
    bar: str
    bench: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class Allergen:
    """One of the fourteen groups of Regulation (EU) No 1169/2011, Annex II: its key, our word, the whole group."""

    key: str
    word: str
    group: str


@dataclass(frozen=True, slots=True)
class DueCaution:
    """A caution that is due: the raw ingredients that bring it by what they are, and the steps that bring it by what is
    done."""

    key: str
    raw_ids: tuple[int, ...]
    steps: tuple[StepCaution, ...]


def due_cautions(held: Contents, steps: Iterable[StepCaution]) -> tuple[DueCaution, ...]:
    """The cautions of what is held and of what is done, each key once, in the order of the keys."""
    by_raw = dict(held.cautions)
    by_step: dict[str, list[StepCaution]] = {}
    for step in steps:
        by_step.setdefault(step.key, []).append(step)
    keys = sorted({*by_raw, *by_step})
    return tuple(DueCaution(key, by_raw.get(key, ()), tuple(by_step.get(key, ()))) for key in keys)


_DECIMALS = {
    "ph": 2,
    "final_ph": 2,
    "discard_above_ph": 2,
    "strength_pct_vol": 1,
    "salt_pct": 1,
    "discard_on_day": 1,
}


def detail_words(step: StepCaution, style: NumberStyle = ENGLISH_STYLE) -> str:
    """The figures of a step's caution in words: *2 % salt of all that ferments.* A sentence of which no figure is known is
    left out; in the others what is not known is ``?``."""
    figures = dict(step.figures)
    written = {name: _figure(name, value, style) for name, value in figures.items()}
    sentences = re.split(r"(?<=\.) ", caution(step.key).detail)
    known = (one for one in sentences if _is_known(one, figures))
    return " ".join(one.format_map(written) for one in known)


def _figure(name: str, value: float, style: NumberStyle) -> str:
    if value != value:
        return UNKNOWN
    if name == "strength_pct_vol" and is_trace(value):
        return strength_number(value, style)
    return format_trimmed(value, _DECIMALS.get(name, 0), style)


def _is_known(sentence: str, figures: Mapping[str, float]) -> bool:
    names: Sequence[str] = re.findall(r"\{(\w+)\}", sentence)
    return any(figures.get(name, float("nan")) == figures.get(name) for name in names)


@cache
def cautions() -> Mapping[str, Caution]:
    """All cautions by key, in the order of their table."""
    rows = _table("cautions.csv")
    return MappingProxyType(
        {
            row["key"]: Caution(**{name: row[name] for name in ("key", "title", "bar", "bench", "detail")})
            for row in rows
        }
    )


def caution(key: str) -> Caution:
    """The caution of a key. A key without a text is still told, by its own name: it is never dropped."""
    found = cautions().get(key)
    if found is not None:
        return found
    title = key.replace("-", " ")
    words = f"Caution: {title}. Nothing more is recorded here: ask before serving."
    return Caution(key, title, words, words)


@cache
def allergens() -> Mapping[str, Allergen]:
    """The fourteen allergens by key, in the order of the Annex."""
    rows = _table("allergens.csv")
    return MappingProxyType({row["key"]: Allergen(row["key"], row["word"], row["group"]) for row in rows})


def _table(name: str) -> list[dict[str, str]]:
    with resource("texts", name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
