"""What the quick finder finds: drinks, parts, leftovers, ingredients, targets, commands, best first, recent ones before."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from washline.model.book import HouseBook
from washline.presentation.book_list import folded

MOST_OF_A_KIND = 8
MOST_RECENT = 6


class FoundKind(StrEnum):
    """The groups of the finder, in order."""

    DRINK = "Drinks"
    PART = "House-made"
    LEFTOVER = "Leftovers"
    RAW = "Raw ingredients"
    TARGET = "Targets"
    COMMAND = "Commands"


@dataclass(frozen=True, slots=True)
class Candidate:
    """Something that can be found: ``key`` is an id, or the name of a command; ``aside`` stands at its right."""

    kind: FoundKind
    key: int | str
    name: str
    folded_name: str
    aside: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Found things under one head."""

    head: str
    found: tuple[Candidate, ...]


def candidate(kind: FoundKind, key: int | str, name: str, aside: str = "") -> Candidate:
    """A candidate, ready to be searched."""
    return Candidate(kind, key, name, folded(name), aside)


def candidates_of(book: HouseBook) -> list[Candidate]:
    """Everything of a house book that can be found by name."""
    found = [
        candidate(FoundKind.DRINK if build.is_drink else FoundKind.PART, build.id, build.name)
        for build in book.builds.values()
    ]
    found += [
        candidate(FoundKind.RAW, raw.id, raw.name, raw.category.replace("-", " "))
        for raw in book.raws.values()
    ]
    found += [
        candidate(FoundKind.LEFTOVER, leftover.id, leftover.name, f"of {book.builds[leftover.build_id].name}")
        for leftover in book.leftovers.values()
        if leftover.build_id in book.builds
    ]
    found += [candidate(FoundKind.TARGET, target.id, target.name) for target in book.targets.values()]
    return found


def score(name: str, words: Sequence[str], *, is_loose: bool = False) -> float | None:
    """How well a folded name answers to the words, larger is better; ``None``: not at all.

    Each word must be in it, best at the start of a word of the name. ``is_loose``: a word of three letters or more may
    also be spread over it in order.
    """
    total = 0.0
    for word in words:
        place = name.find(word)
        if place == 0:
            total += 3.0
        elif place > 0 and not name[place - 1].isalnum():
            total += 2.0
        elif place > 0:
            total += 1.0
        elif is_loose and len(word) >= 3 and _is_spread_over(word, name):
            total += 0.2
        else:
            return None
    return total - len(name) / 1000.0


def find(
    candidates: Iterable[Candidate], text: str, recent: Sequence[tuple[FoundKind, int | str]] = ()
) -> list[Group]:
    """What answers to a text, by groups; letters spread over a name count only where nothing else is found.

    With no text the recent ones, then the commands.
    """
    known = list(candidates)
    words = folded(text).split()
    if not words:
        return _without_words(known, recent)
    late = set(recent)
    scored = _scored(known, words, late, is_loose=False) or _scored(known, words, late, is_loose=True)
    return [
        Group(
            kind.value,
            tuple(one for _, one in sorted(scored[kind], key=_best_first)[:MOST_OF_A_KIND]),
        )
        for kind in FoundKind
        if kind in scored
    ]


def _scored(
    known: Iterable[Candidate],
    words: Sequence[str],
    late: set[tuple[FoundKind, int | str]],
    *,
    is_loose: bool,
) -> dict[FoundKind, list[tuple[float, Candidate]]]:
    scored: dict[FoundKind, list[tuple[float, Candidate]]] = {}
    for one in known:
        points = score(one.folded_name, words, is_loose=is_loose)
        if points is not None:
            points += 0.5 if (one.kind, one.key) in late else 0.0
            scored.setdefault(one.kind, []).append((points, one))
    return scored


def _best_first(scored: tuple[float, Candidate]) -> tuple[float, str]:
    return -scored[0], scored[1].folded_name


def _without_words(known: list[Candidate], recent: Sequence[tuple[FoundKind, int | str]]) -> list[Group]:
    by_key = {(one.kind, one.key): one for one in known}
    late = tuple(by_key[key] for key in recent if key in by_key)[:MOST_RECENT]
    commands = tuple(one for one in known if one.kind is FoundKind.COMMAND)
    groups = [Group("Recent", late)] if late else []
    return [*groups, Group(FoundKind.COMMAND.value, commands)] if commands else groups


def _is_spread_over(word: str, name: str) -> bool:
    letters = iter(name)
    return all(letter in letters for letter in word)
