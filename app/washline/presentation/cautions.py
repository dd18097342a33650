"""The texts of cautions and allergens: short, the same in the window and on every paper."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from washline.assets import resource

DEFERRAL = (
    "Information from published sources; not legal or safety advice. Rules change and differ by country: "
    "follow your local food code and ask a qualified person."
)
"""What every caution ends with; it is printed once behind all that stand together."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution: its key in the pantry, a short title, a sentence for the bar and its guests, one for the bench."""

    key: str
    title: str
    bar: str
    bench: str


@dataclass(frozen=True, slots=True)
class Allergen:
    """One of the fourteen groups of Regulation (EU) No 1169/2011, Annex II: its key, our word, the whole group."""

    key: str
    word: str
    group: str


@cache
def cautions() -> Mapping[str, Caution]:
    """All cautions by key, in the order of their table."""
    rows = _table("cautions.csv")
    return MappingProxyType(
        {row["key"]: Caution(row["key"], row["title"], row["bar"], row["bench"]) for row in rows}
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
