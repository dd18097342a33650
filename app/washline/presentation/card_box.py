"""The box of a spec card that must never be missed: what is contained, what is unknown, alcohol, cautions."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from washline.engine.contents import Contents
from washline.model.book import HouseBook
from washline.model.graph import closure_of, inputs_of, maker_of, raws_below
from washline.model.item import UNKNOWN as UNKNOWN_KEY
from washline.model.item import Build
from washline.presentation.card_words import short_names
from washline.presentation.cautions import DEFERRAL, allergens, caution
from washline.presentation.contains import BY_THE_HOUSE, DELETED_ITEM, NONE_RECORDED

READ_THE_LABELS = "Read the labels."


@dataclass(frozen=True, slots=True)
class Contained:
    """An allergen that is in the drink: its key and word, and what brings it, as *from the vermouth*."""

    key: str
    word: str
    source: str


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution that is due: its key, the sentence, and the names of what brings it."""

    key: str
    text: str
    sources: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ContainsBox:
    """What the box says. ``contained`` may be empty: then *none recorded; check labels*, which promises nothing.

    ``unknown`` names everything of which nobody knows the allergens. ``deferral`` ends the box.
    """

    contained: tuple[Contained, ...]
    unknown: tuple[str, ...]
    alcohol: str
    cautions: tuple[CautionLine, ...]
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


def contains_box(book: HouseBook, build: Build, contents: Contents, alcohol: str) -> ContainsBox:
    """The box of a drink; ``alcohol`` is its line of strength, grams and units."""
    poured = poured_with(book, build, short_names(book, build))
    found = [
        Contained(key, allergen_word(key), f"from the {_listed(_bringing(ids, poured))}")
        for key, ids in contents.allergens
    ]
    known = {one.key for one in found}
    added = [key for key in contents.added if key != UNKNOWN_KEY and key not in known]
    found += [Contained(key, allergen_word(key), BY_THE_HOUSE) for key in added]
    cautions = tuple(
        CautionLine(key, caution(key).bar, tuple(_bringing(ids, poured))) for key, ids in contents.cautions
    )
    return ContainsBox(tuple(found), unknown_names(book, build, contents), alcohol, cautions)


def unknown_names(book: HouseBook, build: Build, contents: Contents) -> tuple[str, ...]:
    """Everything of which nobody knows the allergens: labels not read, what the house marked, what is gone."""
    poured = poured_with(book, build, {})
    names = [_in_its_part(book.raws[raw_id].name, poured.get(raw_id, ())) for raw_id in contents.unknown]
    if UNKNOWN_KEY in contents.added:
        names.append("what the house marked as unknown")
    members = (book.builds[member] for member in closure_of(book, build.id))
    if any(book.item(item_id) is None for member in members for item_id in inputs_of(member)):
        names.append(DELETED_ITEM)
    return tuple(names)


def allergen_word(key: str) -> str:
    """Our word for an allergen; a key that the table does not know speaks for itself."""
    found = allergens().get(key)
    return found.word if found is not None else key


def poured_with(book: HouseBook, build: Build, short: Mapping[int, str]) -> Mapping[int, tuple[str, ...]]:
    """For every raw ingredient of a drink the names of the lines that bring it, in the order of pouring; ``short`` holds
    the names by which items are called where their own is long."""
    found: dict[int, dict[str, None]] = {}
    for item_id in inputs_of(build):
        item = book.item(item_id)
        if item is None:
            continue
        maker = maker_of(book, item_id)
        raws = raws_below(book, maker.id) if maker is not None else (item_id,)
        for raw_id in raws:
            found.setdefault(raw_id, {})[short.get(item_id, item.name)] = None
    return {raw_id: tuple(names) for raw_id, names in found.items()}


def _bringing(raw_ids: Iterable[int], poured: Mapping[int, tuple[str, ...]]) -> list[str]:
    return list(dict.fromkeys(name for raw_id in raw_ids for name in poured.get(raw_id, ())))


def _in_its_part(name: str, lines: Iterable[str]) -> str:
    parts = [line for line in lines if line != name]
    return f"{name} (in {_listed(parts)})" if parts else name


def _listed(names: Iterable[str]) -> str:
    known = list(names)
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}" if known else ""
