"""Texts that were not understood: kept in their cells, also over a restart."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from washline.presentation.build_rows import Key


@dataclass(frozen=True, slots=True)
class Draft:
    """A text that was not understood: it stays in its cell until it is put right or let go."""

    text: str
    expected: str


def drafts_as_json(drafts: Mapping[tuple[Key, int], Draft]) -> list[dict[str, Any]]:
    """The drafts of a build for the state that is kept over a restart."""
    return [
        {"key": list(key), "column": column, "text": draft.text, "expected": draft.expected}
        for (key, column), draft in drafts.items()
    ]


def drafts_from_json(entries: Iterable[Mapping[str, Any]]) -> dict[tuple[Key, int], Draft]:
    """The drafts of ``drafts_as_json``; entries of another shape are passed over."""
    drafts: dict[tuple[Key, int], Draft] = {}
    for entry in entries:
        key, column, text = entry.get("key"), entry.get("column"), entry.get("text")
        if isinstance(key, list) and isinstance(column, int) and isinstance(text, str):
            drafts[tuple(int(part) for part in key), column] = Draft(text, str(entry.get("expected", "")))
    return drafts
