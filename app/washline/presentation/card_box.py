"""The box of a card that must never be missed: what is contained, what may get in, what is unknown, alcohol, cautions."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from washline.engine.contents import Contents, brought_raws, items_within, members_of
from washline.engine.step_cautions import StepCaution
from washline.model.book import HouseBook
from washline.model.graph import inputs_of
from washline.model.item import UNKNOWN as UNKNOWN_KEY
from washline.model.item import Build
from washline.presentation.card_words import short_names
from washline.presentation.cautions import DEFERRAL, DueCaution, caution, detail_words, due_cautions
from washline.presentation.contains import (
    ASK_BEFORE_SERVING,
    BY_THE_HOUSE,
    NONE_RECORDED,
    MayContain,
    allergen_word,
    details,
    diet_words,
    listed,
    may_contain,
    unknown_beside_labels,
)

READ_THE_LABELS = "Read the labels."


@dataclass(frozen=True, slots=True)
class Contained:
    """An allergen that is in the drink: its key and word, and what brings it, as *from the vermouth*."""

    key: str
    word: str
    source: str


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution that is due: its key, the sentence for the bar and that for the bench, the names of what brings it, its
    computed figures in sentences, and the steps that it follows from."""

    key: str
    text: str
    sources: tuple[str, ...]
    bench: str = ""
    details: tuple[str, ...] = ()
    steps: tuple[StepCaution, ...] = ()


@dataclass(frozen=True, slots=True)
class ContainsBox:
    """What the box says. ``contained`` may be empty: then *none recorded; check labels*, which promises nothing.

    ``unknown`` names everything of which nobody knows the allergens. ``deferral`` ends the box.
    """

    contained: tuple[Contained, ...]
    unknown: tuple[str, ...]
    alcohol: str
    cautions: tuple[CautionLine, ...]
    may_contain: tuple[MayContain, ...] = ()
    diet: tuple[str, ...] = ()
    deferral: str = DEFERRAL

    @property
    def groups(self) -> tuple[tuple[tuple[str, ...], str], ...]:
        """The allergens that come from the same together: their words, and what brings them."""
        found: dict[str, list[str]] = {}
        for one in self.contained:
            found.setdefault(one.source, []).append(one.word)
        return tuple((tuple(words), source) for source, words in found.items())

    @property
    def contained_text(self) -> str:
        """All that is contained in one text."""
        return "; ".join(f"{', '.join(words)} {source}" for words, source in self.groups) or NONE_RECORDED

    @property
    def unknown_text(self) -> str:
        """All that is unknown in one text, and what to do; empty where nothing is."""
        return f"Unknown: {'; '.join(self.unknown)}. {READ_THE_LABELS}" if self.unknown else ""

    @property
    def may_contain_text(self) -> str:
        """What may get in and what to do; empty where nothing is known to."""
        told = "; ".join(one.text for one in self.may_contain)
        return f"{told}: {ASK_BEFORE_SERVING}." if told else ""


def contains_box(
    book: HouseBook, build: Build, contents: Contents, alcohol: str, steps: Iterable[StepCaution] = ()
) -> ContainsBox:
    """The box of a build; ``alcohol`` is its line of strength, grams and units, ``steps`` the cautions of what is done."""
    poured = poured_with(book, build, short_names(book, build))
    found = [
        Contained(key, allergen_word(key), f"from the {listed(_bringing(ids, poured))}")
        for key, ids in contents.allergens
    ]
    known = {one.key for one in found}
    added = [key for key in contents.added if key != UNKNOWN_KEY and key not in known]
    found += [Contained(key, allergen_word(key), BY_THE_HOUSE) for key in added]
    names = _names(book, build)
    return ContainsBox(
        tuple(found),
        unknown_names(book, build, contents),
        alcohol,
        tuple(_line(build, one, poured, names) for one in due_cautions(contents, steps)),
        may_contain(contents, names),
        diet_words(contents, {one: listed(lines) for one, lines in poured.items()}),
    )


def on_card(box: ContainsBox, build: Build) -> ContainsBox:
    """The box as it stands on paper: a drink's cautions as the bar says them, with the figures of its own steps; a part's
    as the bench needs them, with all their figures."""
    return replace(box, cautions=tuple(_on_card(line, build) for line in box.cautions))


def _on_card(line: CautionLine, build: Build) -> CautionLine:
    if not build.is_drink:
        return replace(line, text=" ".join(dict.fromkeys((line.bench, *line.details))))
    own = (detail_words(step) for step in line.steps if step.build_id == build.id)
    return replace(line, text=" ".join(dict.fromkeys((line.text, *(words for words in own if words)))))


def unknown_names(book: HouseBook, build: Build, contents: Contents) -> tuple[str, ...]:
    """Everything of which nobody knows the allergens: labels not read, what the house marked, what is gone."""
    poured = poured_with(book, build, {})
    names = [_in_its_part(book.raws[raw_id].name, poured.get(raw_id, ())) for raw_id in contents.unknown]
    return (*names, *unknown_beside_labels(contents))


def poured_with(book: HouseBook, build: Build, short: Mapping[int, str]) -> Mapping[int, tuple[str, ...]]:
    """For everything that is in a build the names of the lines that bring it, in the order of pouring; ``short`` holds
    the names by which items are called where their own is long. A build's own id has its own name."""
    found: dict[int, dict[str, None]] = {}
    for item_id in inputs_of(build):
        item = book.item(item_id)
        if item is None:
            continue
        makers = (maker.id for maker in members_of(book, item_id))
        for one in (*brought_raws(book, item_id), *items_within(book, item_id), *makers):
            found.setdefault(one, {})[short.get(item_id, item.name)] = None
    for raw_id in brought_raws(book, build.id):
        found.setdefault(raw_id, {build.name: None})
    return {one: tuple(names) for one, names in found.items()}


def _line(
    build: Build, due: DueCaution, poured: Mapping[int, tuple[str, ...]], names: Mapping[int, str]
) -> CautionLine:
    known = caution(due.key)
    ids = [*due.raw_ids]
    for step in due.steps:
        ids += step.item_ids if step.build_id == build.id else (step.build_id,)
    return CautionLine(
        due.key,
        known.bar,
        tuple(_bringing(ids, poured)),
        known.bench,
        details(build.id, due, names),
        due.steps,
    )


def _names(book: HouseBook, build: Build) -> Mapping[int, str]:
    """What everything in a build is called in a sentence."""
    ids = (*brought_raws(book, build.id), *items_within(book, build.id))
    makers = (maker.id for maker in members_of(book, build.id))
    own = {one: item.name for one in (*ids, *makers) if (item := book.item(one)) is not None}
    return {**own, **short_names(book, build)}


def _bringing(ids: Iterable[int], poured: Mapping[int, tuple[str, ...]]) -> list[str]:
    return list(dict.fromkeys(name for one in ids for name in poured.get(one, ())))


def _in_its_part(name: str, lines: Iterable[str]) -> str:
    parts = [line for line in lines if line != name]
    return f"{name} (in {listed(parts)})" if parts else name
