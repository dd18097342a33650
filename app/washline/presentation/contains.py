"""What a build contains, what may get in, what of that is not known, and the cautions that go with it, each in full."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from washline.engine.contents import Contents, Handling, contents
from washline.engine.step_cautions import StepCaution
from washline.model.book import HouseBook
from washline.model.graph import made_of
from washline.model.item import UNKNOWN, Build
from washline.model.step import AnyStep, items_of
from washline.presentation.cautions import (
    DEFERRAL,
    DueCaution,
    allergens,
    caution,
    detail_words,
    due_cautions,
)

NONE_RECORDED = "none recorded; check labels"
"""What stands where no allergen is recorded: it promises no absence."""

BY_THE_HOUSE = "added by the house"
MARKED_UNKNOWN = "what the house marked as unknown"
DELETED_ITEM = "an item that is no longer in the book"
ASK_BEFORE_SERVING = "ask before serving to an allergy"

_PLACES = {
    "freezer": "the freezer",
    "fridge": "the fridge",
    "room": "the shelf",
    "ice_well": "the ice well",
    "oven": "the oven",
    "tins": "the tins",
}


@dataclass(frozen=True, slots=True)
class ContainedAllergen:
    """One allergen and what brings it: *sulphites*, *from the vermouth*."""

    word: str
    origin: str
    group: str = ""


@dataclass(frozen=True, slots=True)
class MayContain:
    """Allergens that may get in the same way: their keys and words, and by what, *by the tins* or *with the oats*."""

    keys: tuple[str, ...]
    words: tuple[str, ...]
    ways: str

    @property
    def text(self) -> str:
        """Words and ways: *egg, milk by the tins*."""
        return f"{', '.join(self.words)} {self.ways}"


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
    may_contain: tuple[MayContain, ...] = ()
    diet: tuple[str, ...] = ()

    @property
    def contains_text(self) -> str:
        """What is contained, in one line."""
        return "; ".join(f"{one.word} {one.origin}".strip() for one in self.allergens) or NONE_RECORDED

    @property
    def may_contain_text(self) -> str:
        """What may get in, and by what, or an empty text."""
        return "; ".join(one.text for one in self.may_contain)

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
        if self.may_contain:
            parts.append(f"May contain: {self.may_contain_text}.")
        parts += (f"{one}." for one in self.diet)
        if self.cautions:
            parts.append(f"Cautions: {'; '.join(one.short for one in self.cautions)}.")
        return " ".join(parts)

    @property
    def full_text(self) -> str:
        """All that the box can show, cautions opened."""
        parts = [f"Contains {self.contains_text}"]
        if self.unknown:
            parts.append(f"Unknown: {self.unknown_text}")
        if self.may_contain:
            parts.append(f"May contain {self.may_contain_text}")
        return "\n".join((*parts, *self.diet, *(f"{one.short}\n{one.text}" for one in self.cautions)))


def what_goes_in(book: HouseBook, build_id: int) -> tuple[object, ...]:
    """All that the box depends on but computed figures: with an equal key it reads the same, whatever the amounts are."""
    builds = [book.builds[member] for member in made_of(book, build_id)]
    return book.raws, book.leftovers, book.settings, *(_skeleton(one) for one in builds)


def _skeleton(build: Build) -> tuple[object, ...]:
    """A build without its amounts."""
    steps = tuple(
        (type(step), items_of(step), step.words, getattr(step, "method", ""))
        for step in build.steps
        if not step.left_out
    )
    own = (build.added_allergens, build.may_contain, build.acts_as_id)
    return build.id, build.name, build.kept_at, *own, steps


def contains_box(book: HouseBook, item_id: int, steps: Iterable[StepCaution] = ()) -> ContainsBox:
    """The box of a build, through all its parts, or of one raw ingredient. ``steps`` are the cautions of what is done."""
    found = contents(book, item_id)
    due = due_cautions(found, steps)
    ids = {
        *found.unknown,
        *found.not_vegan,
        *found.not_vegetarian,
        *(raw_id for _key, raws in found.allergens for raw_id in raws),
        *(way.item_id for _key, ways in found.may_contain for way in ways),
        *(raw_id for one in due for raw_id in one.raw_ids),
        *(one_id for one in due for step in one.steps for one_id in (step.build_id, *step.item_ids)),
    }
    names = {one_id: item.name for one_id in sorted(ids) if (item := book.item(one_id)) is not None}
    short = short_names(names)
    missing = unknown_beside_labels(found)
    return ContainsBox(
        allergens=(*_recorded(found, short), *_added(found)),
        unknown=(*(short[raw_id] for raw_id in found.unknown), *missing),
        unknown_in_full=(*(book.raws[raw_id].name for raw_id in found.unknown), *missing),
        may_contain=may_contain(found, short),
        diet=diet_words(found, short),
        cautions=tuple(
            contained_caution(one.key, origins(book, item_id, one, short), details(item_id, one, short))
            for one in due
        ),
    )


def _recorded(found: Contents, short: Mapping[int, str]) -> list[ContainedAllergen]:
    known = allergens()
    return [
        ContainedAllergen(
            allergen_word(key),
            _from(short[raw_id] for raw_id in raw_ids),
            known[key].group if key in known else "",
        )
        for key, raw_ids in found.allergens
    ]


def _added(found: Contents) -> list[ContainedAllergen]:
    recorded = {UNKNOWN, *(key for key, _ids in found.allergens)}
    return [ContainedAllergen(allergen_word(key), BY_THE_HOUSE) for key in found.added if key not in recorded]


def allergen_word(key: str) -> str:
    """Our word for an allergen; a key that the table does not know speaks for itself."""
    found = allergens().get(key)
    return found.word if found is not None else key


def unknown_beside_labels(found: Contents) -> tuple[str, ...]:
    """What is unknown besides the labels that nobody has read: what the house marked so, and what is gone."""
    marked = (MARKED_UNKNOWN,) if UNKNOWN in found.added else ()
    return (*marked, DELETED_ITEM) if found.has_missing else marked


def may_contain(found: Contents, names: Mapping[int, str]) -> tuple[MayContain, ...]:
    """What may get in, together where it gets in the same way."""
    grouped: dict[str, list[str]] = {}
    for key, ways in found.may_contain:
        grouped.setdefault(_ways(ways, names), []).append(key)
    return tuple(
        MayContain(tuple(keys), tuple(allergen_word(key) for key in keys), ways)
        for ways, keys in grouped.items()
    )


def _ways(ways: Sequence[Handling], names: Mapping[int, str]) -> str:
    """How something may get in: *by the tins* and what comes *with the oats*."""
    places = dict.fromkeys(_PLACES.get(way.place, way.place) for way in ways if way.place)
    items = dict.fromkeys(names[way.item_id] for way in ways if not way.place)
    told = [f"by {listed(places)}"] if places else []
    return " and ".join((*told, f"with the {listed(items)}") if items else told)


def diet_words(found: Contents, names: Mapping[int, str]) -> tuple[str, ...]:
    """What is known to speak against a diet; nothing is ever said for one."""
    told = (("vegetarian", found.not_vegetarian), ("vegan", found.not_vegan))
    return tuple(
        f"Not {diet}: {listed(dict.fromkeys(names[one] for one in ids))}" for diet, ids in told if ids
    )


def origins(book: HouseBook, item_id: int, due: DueCaution, names: Mapping[int, str]) -> list[str]:
    """What brings a caution: ingredients, and the parts or steps in which it arises."""
    found = dict.fromkeys(names[raw_id] for raw_id in due.raw_ids)
    for step in due.steps:
        items = [names[one] for one in step.item_ids if one not in due.raw_ids and one in names]
        within = names.get(step.build_id, "") if step.build_id != item_id else ""
        if items:
            found[f"{listed(items)} in {within}" if within else listed(items)] = None
        elif not step.item_ids:
            found[within or _done(book.step(step.build_id, step.step_id or 0))] = None
    return [one for one in found if one]


def _done(step: AnyStep | None) -> str:
    return type(step).__name__.lower() if step is not None else ""


def details(item_id: int, due: DueCaution, names: Mapping[int, str]) -> tuple[str, ...]:
    """The computed figures of a caution in sentences, each with the part that it holds for."""
    found: dict[str, None] = {}
    for step in due.steps:
        words = detail_words(step)
        within = names.get(step.build_id, "") if step.build_id != item_id else ""
        if words:
            found[f"{within[:1].upper()}{within[1:]}: {words}" if within else words] = None
    return tuple(found)


def contained_caution(key: str, names: Sequence[str], figures: Sequence[str] = ()) -> ContainedCaution:
    """A caution with all that is to be said of it, for the guest and for the bench, its figures, and the deferral."""
    known = caution(key)
    sentences = dict.fromkeys((known.bar, known.bench, *figures))
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


def listed(names: Iterable[str]) -> str:
    """Names in a sentence: *pear, quince and lemon*."""
    known = list(names)
    return known[0] if len(known) == 1 else f"{', '.join(known[:-1])} and {known[-1]}" if known else ""


def _from(names: Iterable[str]) -> str:
    told = listed(names)
    return f"from the {told}" if told else ""


def joined_and_left(parent: ContainsBox, twist: ContainsBox) -> tuple[str, ...]:
    """What a twist holds more or less than its parent, in sentences."""
    sentences = []
    before = {one.word: one for one in parent.allergens}
    after = {one.word: one for one in twist.allergens}
    joined = [f"{word} ({one.origin})" for word, one in after.items() if word not in before]
    kept = [word for word in after if word in before]
    left = [word for word in before if word not in after]
    ways = [{word: one.ways for one in box.may_contain for word in one.words} for box in (parent, twist)]
    may_join = [f"{word} ({how})" for word, how in ways[1].items() if word not in ways[0]]
    titles = {one.title: one for one in parent.cautions}, {one.title: one for one in twist.cautions}
    new = [f"{title} ({one.origin})" for title, one in titles[1].items() if title not in titles[0]]
    gone = [title for title in titles[0] if title not in titles[1]]
    for before_words, names, after_words in (
        ("now contains", joined, ""),
        ("contains", kept, " as before"),
        ("no longer recorded:", left, ""),
        ("may now contain", may_join, ""),
        ("caution joins:", new, ""),
        ("caution leaves:", gone, ""),
    ):
        if names:
            sentences.append(f"{before_words} {', '.join(names)}{after_words}")
    return tuple(sentences) or (f"contains: {NONE_RECORDED}",)
