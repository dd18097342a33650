"""Cautions that follow from what an ingredient is called, so that a house's own ingredients bring them, too."""

import csv
import re
from collections.abc import Mapping
from functools import cache, lru_cache

from washline.assets import resource


@lru_cache(maxsize=8192)
def named_hazards(slug: str, name: str) -> tuple[str, ...]:
    """The keys of the cautions that the words of a slug and a name stand for, in the order of their table."""
    words = f"{slug} {name}".casefold().replace("-", " ")
    keys = _keys()
    found = {match.group(0) for match in _pattern().finditer(words)}
    return tuple(dict.fromkeys(key for phrase, key in keys.items() if phrase in found))


@cache
def _keys() -> Mapping[str, str]:
    with resource("texts", "hazard_names.csv").open(encoding="utf-8", newline="") as file:
        return {row["words"]: row["key"] for row in csv.DictReader(file)}


@cache
def _pattern() -> re.Pattern[str]:
    longest_first = sorted(_keys(), key=len, reverse=True)
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})\b")
