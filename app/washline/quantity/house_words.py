"""The words of one house that a written step may hold: its methods, its ice, its bottles and kegs."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

Entries = tuple[tuple[str, str], ...]
"""Words in lower case, parted by single spaces, and what they stand for."""


@dataclass(frozen=True, slots=True)
class HouseWords:
    """What names mean in a house: ``methods`` and ``vessels`` stand for keys, ``ices`` for the name of the ice.

    In a drink the words of the bar go before those of the kitchen: to strain is to pour it into its glass.
    """

    methods: Entries = ()
    ices: Entries = ()
    vessels: Entries = ()
    is_drink: bool = False


NO_HOUSE = HouseWords()
"""Where no house is known: only the words of a kitchen are read."""


def plain_words(text: str) -> str:
    """``text`` as ``Entries`` has its words."""
    return " ".join(text.casefold().split())


def entries(pairs: Iterable[tuple[str, str]]) -> Entries:
    """The words of a house from names as they are written; what comes first keeps its words."""
    found: dict[str, str] = {}
    for words, key in pairs:
        if plain := plain_words(words):
            found.setdefault(plain, key)
    return tuple(found.items())


@lru_cache(maxsize=64)
def words_pattern(known: Entries, before: str = "", behind: str = "") -> re.Pattern[str]:
    """Finds the words of ``known``, the longest first, as the group *name*, between two further patterns."""
    if not known:
        return re.compile(r"(?!)(?P<name>)")
    longest = sorted((words for words, _ in known), key=lambda words: (-len(words), words))
    names = "|".join(re.escape(words).replace(r"\ ", r"\s+") for words in longest)
    return re.compile(rf"{before}(?<![\w-])(?P<name>{names})(?![\w-]){behind}", re.IGNORECASE)


def meaning(known: Entries, words: str) -> str:
    """What words of ``known`` stand for, empty where they are not among them."""
    plain = plain_words(words)
    return next((key for name, key in known if name == plain), "")
