"""The credits that a file owes to the sources of its raw ingredients."""

import csv
from collections.abc import Iterable

from washline.assets import resource


def credits_for(sources: Iterable[str]) -> tuple[str, ...]:
    """The credits of ``resources/texts/credits.csv`` that the given source texts ask for, each once, in its order."""
    texts = tuple(sources)
    with resource("texts", "credits.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return tuple(
        row["text"]
        for row in rows
        if any(word in text for word in _words(row["named_in_source"]) for text in texts)
    )


def _words(cell: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in cell.split(";") if word.strip())
