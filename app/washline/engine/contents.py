"""What a build holds besides its masses: allergens, what may get in, unknowns, cautions. No step takes them out again."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from washline.engine.hazard_names import named_hazards
from washline.model.book import HouseBook
from washline.model.graph import inputs_of, made_of, maker_of, raws_below
from washline.model.house import MethodKind
from washline.model.item import UNKNOWN, Build, KeptAt, Leftover, RawIngredient
from washline.model.step import AnyStep, Chill, Dry, Heat

OVEN, TINS, FREEZER = "oven", "tins", "freezer"
"""Places of ``Settings.shared`` that are no place to keep something in, and the one that also freezes batches."""

IN_TINS = ("shake", "stir", "throw", "roll")
"""What the names of the methods begin or end with that work in tins and mixing glasses which are shared."""

FREEZER_METHOD = "freezer-batch"


@dataclass(frozen=True, slots=True)
class Handling:
    """One way in for an allergen: an item's own *may contain* (``place`` is empty), or a shared place with the item that
    is kept or worked there."""

    item_id: int
    place: str = ""


@dataclass(frozen=True, slots=True)
class Contents:
    """Allergen and caution keys, each with the raw ingredients that bring it; the raw ingredients whose allergens nobody
    knows; the allergens that the house added by hand to this build or to a part below it; those that may get in without
    being an ingredient, each with its ways in, none of them contained; whether something that was taken in is no longer in
    the book; and the raw ingredients that are known not to be vegan or vegetarian."""

    allergens: tuple[tuple[str, tuple[int, ...]], ...]
    unknown: tuple[int, ...]
    cautions: tuple[tuple[str, tuple[int, ...]], ...]
    added: tuple[str, ...]
    may_contain: tuple[tuple[str, tuple[Handling, ...]], ...] = ()
    has_missing: bool = False
    not_vegan: tuple[int, ...] = ()
    not_vegetarian: tuple[int, ...] = ()


def contents(book: HouseBook, item_id: int) -> Contents:
    """The contents of a build or a leftover, through every part and every step, or of one raw ingredient.

    What was strained off still counts. An item that acts as a raw ingredient brings what that one brings, too. A name that
    is missing from the book counts as unknown: nobody knows what it held.
    """
    raws = [book.raws[raw_id] for raw_id in brought_raws(book, item_id)]
    members = members_of(book, item_id)
    added = tuple(dict.fromkeys(key for build in members for key in build.added_allergens))
    allergens: dict[str, list[int]] = {}
    cautions: dict[str, list[int]] = {}
    for raw in raws:
        for key in raw.allergens:
            if key != UNKNOWN:
                allergens.setdefault(key, []).append(raw.id)
        for key in dict.fromkeys((*raw.cautions, *named_hazards(raw.slug, raw.name))):
            cautions.setdefault(key, []).append(raw.id)
    return Contents(
        allergens=_sorted(allergens),
        unknown=tuple(raw.id for raw in raws if UNKNOWN in raw.allergens),
        cautions=_sorted(cautions),
        added=added,
        may_contain=_may_contain(book, item_id, raws, members, {*allergens, *added}),
        has_missing=_has_missing(book, item_id, members),
        not_vegan=tuple(raw.id for raw in raws if raw.vegan == "no"),
        not_vegetarian=tuple(raw.id for raw in raws if raw.vegetarian == "no"),
    )


def members_of(book: HouseBook, item_id: int) -> tuple[Build, ...]:
    """The builds of which something is in an item, the item's own maker last; none for a raw ingredient."""
    maker = maker_of(book, item_id)
    return tuple(book.builds[member] for member in made_of(book, maker.id)) if maker is not None else ()


def items_within(book: HouseBook, item_id: int) -> tuple[int, ...]:
    """Every item that is in an item: what its builds take in, and itself last; those missing from the book too."""
    members = members_of(book, item_id)
    taken = (one for build in members for one in inputs_of(build))
    return tuple(dict.fromkeys((*(one for one in taken if one != item_id), item_id)))


def brought_raws(book: HouseBook, item_id: int) -> tuple[int, ...]:
    """The raw ingredients that an item brings: those it is made of through every part, and those that it or a part of it
    acts as."""
    if item_id in book.raws:
        return (item_id,)
    maker = maker_of(book, item_id)
    below = raws_below(book, maker.id) if maker is not None else ()
    acted = (raw_id for raw_id in _acted(book, item_id) if raw_id in book.raws)
    return tuple(dict.fromkeys((*below, *acted)))


def _acted(book: HouseBook, item_id: int) -> Iterator[int]:
    """What the items within an item act as."""
    for one in items_within(book, item_id):
        item = book.item(one)
        if isinstance(item, Build | Leftover) and item.acts_as_id is not None:
            yield item.acts_as_id


def _has_missing(book: HouseBook, item_id: int, members: Sequence[Build]) -> bool:
    inputs = (one for build in members for one in inputs_of(build))
    return any(book.item(one) is None for one in (*inputs, *_acted(book, item_id)))


def _may_contain(
    book: HouseBook,
    item_id: int,
    raws: Sequence[RawIngredient],
    members: Sequence[Build],
    contained: set[str],
) -> tuple[tuple[str, tuple[Handling, ...]], ...]:
    """What may get in, and by what: what is contained anyway is not said again."""
    found: dict[str, dict[Handling, None]] = {}
    within = (book.item(one) for one in items_within(book, item_id))
    for item in (*raws, *(one for one in within if isinstance(one, Build | Leftover))):
        for key in item.may_contain:
            found.setdefault(key, {})[Handling(item.id)] = None
    for shared in book.settings.shared:
        handled = tuple(_handled_at(book, shared.place, raws, members, item_id))
        for key in shared.allergens if handled else ():
            found.setdefault(key, {}).update(dict.fromkeys(handled))
    return tuple((key, tuple(ways)) for key, ways in sorted(found.items()) if key not in contained)


def _handled_at(
    book: HouseBook, place: str, raws: Iterable[RawIngredient], members: Sequence[Build], item_id: int
) -> Iterator[Handling]:
    """What of an item is kept or worked at a shared place."""
    if place in (OVEN, TINS):
        for build in members:
            if any(not step.left_out and _is_worked(book, step, place) for step in build.steps):
                yield Handling(build.id, place)
        return
    within = (book.item(one) for one in items_within(book, item_id))
    kept = (
        one for one in within if isinstance(one, Leftover) or (isinstance(one, Build) and not one.is_drink)
    )
    for item in (*raws, *kept):
        if item.kept_at.value == place:
            yield Handling(item.id, place)
    for build in members if place == FREEZER else ():
        if build.is_drink and any(is_frozen_batch(book, step) for step in build.steps):
            yield Handling(build.id, place)


def _is_worked(book: HouseBook, step: AnyStep, place: str) -> bool:
    if place == OVEN:
        return isinstance(step, Heat | Dry)
    if not isinstance(step, Chill):
        return False
    method = book.methods.get(step.method)
    is_whipped = method is not None and method.kind is MethodKind.ALL_IN
    return is_whipped or any(word in step.method.split("-") for word in IN_TINS)


def is_frozen_batch(book: HouseBook, step: AnyStep) -> bool:
    """Whether a step freezes a batch, so that it is poured straight from the freezer."""
    if not isinstance(step, Chill) or step.left_out:
        return False
    method = book.methods.get(step.method)
    is_stored = method is not None and method.kind is MethodKind.COLD_STORE
    is_frozen = is_stored and method is not None and method.kept_at is KeptAt.FREEZER
    return is_frozen or step.method == FREEZER_METHOD


def _sorted(found: dict[str, list[int]]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    return tuple((key, tuple(ids)) for key, ids in sorted(found.items()))
