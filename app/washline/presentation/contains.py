"""What a build contains, what of that is not known, and the cautions that go with it, each with its whole text."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from washline.engine.contents import contents
from washline.model.book import HouseBook
from washline.model.graph import closure_of, inputs_of
from washline.presentation.cautions import DEFERRAL, allergens, caution

NONE_RECORDED = "none recorded; check labels"
"""What stands where no allergen is recorded: it promises no absence."""

BY_THE_HOUSE = "added by the house"
DELETED_ITEM = "an item that is no longer in the book"


@dataclass(frozen=True, slots=True)
class ContainedAllergen:
    """One allergen and what brings it: *sulphites*, *from the vermouth*."""

    word: str
    origin: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class ContainedCaution:
    """One caution: its key, its title, what brings it, and its sentences, which end with the deferral."""

    key: str
    title: str
    origin: str
    text: str

    @property
    def short(self) -> str:
        """Title and what brings it."""
        return f"{self.title}: {self.origin}" if self.origin else self.title


@dataclass(frozen=True, slots=True)
class ContainsBox:
    """The texts of the box. ``unknown`` are the names of what nobody has read the label of."""

    allergens: tuple[ContainedAllergen, ...] = ()
    unknown: tuple[str, ...] = ()
    unknown_in_full: tuple[str, ...] = ()
    cautions: tuple[ContainedCaution, ...] = ()

    @property
    def contains_text(self) -> str:
        """What is contained, in one line."""
        return "; ".join(f"{one.word} {one.origin}".strip() for one in self.allergens) or NONE_RECORDED

    @property
    def unknown_text(self) -> str:
        """What is not known and what to do, or an empty text."""
        return f"{', '.join(self.unknown)}; {self.what_to_do}" if self.unknown else ""

    @property
    def what_to_do(self) -> str:
        """What somebody has to do about the unknown."""
        return "read the label" if len(self.unknown) == 1 else "read the labels"

    @property
    def spoken(self) -> str:
        """The box as it is read aloud, cautions by their titles."""
        parts = [f"Contains: {self.contains_text}."]
        if self.unknown:
            parts.append(f"Allergens unknown: {self.unknown_text}.")
        if self.cautions:
            parts.append(f"Cautions: {'; '.join(one.short for one in self.cautions)}.")
        return " ".join(parts)

    @property
    def full_text(self) -> str:
        """All that the box can show, cautions opened."""
        parts = [f"Contains {self.contains_text}"]
        if self.unknown:
            parts.append(f"Unknown: {self.unknown_text}")
        return "\n".join((*parts, *(f"{one.short}\n{one.text}" for one in self.cautions)))


def what_goes_in(book: HouseBook, build_id: int) -> tuple[object, ...]:
    """All that the box depends on: with an equal key it reads the same, whatever the amounts are."""
    builds = [book.builds[member] for member in closure_of(book, build_id)]
    return book.raws, *((one.id, one.name, inputs_of(one), one.added_allergens) for one in builds)


def contains_box(book: HouseBook, item_id: int) -> ContainsBox:
    """The box of a build, through all its parts, or of one raw ingredient."""
    found = contents(book, item_id)
    missing = _has_missing(book, item_id)
    ids = {
        *found.unknown,
        *(raw_id for _key, raws in (*found.allergens, *found.cautions) for raw_id in raws),
    }
    short = short_names({raw_id: book.raws[raw_id].name for raw_id in sorted(ids)})
    known = allergens()
    recorded = [
        ContainedAllergen(
            known[key].word if key in known else key,
            _from(short[raw_id] for raw_id in raw_ids),
            known[key].group if key in known else "",
        )
        for key, raw_ids in found.allergens
    ]
    recorded_keys = {key for key, _ids in found.allergens}
    added = [
        ContainedAllergen(known[key].word if key in known else key, BY_THE_HOUSE)
        for key in found.added
        if key not in recorded_keys
    ]
    return ContainsBox(
        allergens=(*recorded, *added),
        unknown=(*(short[raw_id] for raw_id in found.unknown), *missing),
        unknown_in_full=(*(book.raws[raw_id].name for raw_id in found.unknown), *missing),
        cautions=tuple(
            contained_caution(key, [short[raw_id] for raw_id in raw_ids]) for key, raw_ids in found.cautions
        ),
    )


def contained_caution(key: str, names: Sequence[str]) -> ContainedCaution:
    """A caution with all that is to be said of it, for the guest and for the bench, and the deferral behind."""
    known = caution(key)
    sentences = dict.fromkeys((known.bar, known.bench))
    text = " ".join((*sentences, DEFERRAL))
    return ContainedCaution(key, known.title, ", ".join(names), text)


def short_names(names: dict[int, str]) -> dict[int, str]:
    """The names of ingredients as they are said in a sentence: without form, strength and what is in brackets, unless
    two would then be called the same."""
    short = {item_id: short_name(name) for item_id, name in names.items()}
    said = list(short.values())
    return {item_id: name if said.count(name) == 1 else names[item_id] for item_id, name in short.items()}


def short_name(name: str) -> str:
    """A name without what stands behind a comma or in brackets: *vermouth*, *egg white*."""
    bare = name.partition(",")[0].partition("(")[0].strip() or name
    return bare[:1].lower() + bare[1:] if bare[1:2].islower() else bare


def _from(names: Iterable[str]) -> str:
    listed = list(names)
    if not listed:
        return ""
    first, last = ", ".join(listed[:-1]), listed[-1]
    return f"from the {first} and {last}" if first else f"from the {last}"


def _has_missing(book: HouseBook, item_id: int) -> tuple[str, ...]:
    """Words for what a build takes in and the book does not know: nobody knows what it held."""
    leftover = book.leftovers.get(item_id)
    build_id = leftover.build_id if leftover is not None else item_id
    inputs = (one for member in closure_of(book, build_id) for one in inputs_of(book.builds[member]))
    return (DELETED_ITEM,) if any(book.item(one) is None for one in inputs) else ()


def joined_and_left(parent: ContainsBox, twist: ContainsBox) -> tuple[str, ...]:
    """What a twist holds more or less than its parent, in sentences."""
    sentences = []
    before = {one.word: one for one in parent.allergens}
    after = {one.word: one for one in twist.allergens}
    joined = [f"{word} ({one.origin})" for word, one in after.items() if word not in before]
    kept = [word for word in after if word in before]
    left = [word for word in before if word not in after]
    titles = {one.title: one for one in parent.cautions}, {one.title: one for one in twist.cautions}
    new = [f"{title} ({one.origin})" for title, one in titles[1].items() if title not in titles[0]]
    gone = [title for title in titles[0] if title not in titles[1]]
    for before_words, names, after_words in (
        ("now contains", joined, ""),
        ("contains", kept, " as before"),
        ("no longer recorded:", left, ""),
        ("caution joins:", new, ""),
        ("caution leaves:", gone, ""),
    ):
        if names:
            sentences.append(f"{before_words} {', '.join(names)}{after_words}")
    return tuple(sentences) or (f"contains: {NONE_RECORDED}",)
