"""The credits that a paper owes to the sources of the figures on it."""

import csv
from collections.abc import Iterable
from functools import cache

from washline.assets import resource

_ASKS_FOR_NOTHING = ("public domain", "facts and figures")


def credits_owed(sources: Iterable[str]) -> tuple[str, ...]:
    """The credits that the licences behind the given source texts ask for, each once, in the order of their table."""
    texts = tuple(sources)
    return tuple(
        text for words, text in _table() if any(word in source for word in words for source in texts)
    )


@cache
def _table() -> tuple[tuple[tuple[str, ...], str], ...]:
    with resource("texts", "credits.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["licence"] not in _ASKS_FOR_NOTHING]
    return tuple(
        (tuple(word.strip() for word in row["named_in_source"].split(";") if word.strip()), row["text"])
        for row in rows
    )
