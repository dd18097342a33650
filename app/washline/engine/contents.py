"""What a build holds besides its masses: allergens, unknowns and cautions, which no step takes out again."""

from dataclasses import dataclass

from washline.model.book import HouseBook
from washline.model.graph import closure_of, raws_below
from washline.model.item import UNKNOWN


@dataclass(frozen=True, slots=True)
class Contents:
    """Allergen and caution keys, each with the raw ingredients that bring it; the raw ingredients whose allergens nobody
    knows; and the allergens that the house added by hand to this build or to a part below it."""

    allergens: tuple[tuple[str, tuple[int, ...]], ...]
    unknown: tuple[int, ...]
    cautions: tuple[tuple[str, tuple[int, ...]], ...]
    added: tuple[str, ...]


def contents(book: HouseBook, item_id: int) -> Contents:
    """The contents of a build or a leftover's maker, through every part, or of one raw ingredient.

    A name that is missing from the book counts as unknown: nobody knows what it held.
    """
    if item_id in book.raws:
        raws: tuple[int, ...] = (item_id,)
        added: tuple[str, ...] = ()
    else:
        leftover = book.leftovers.get(item_id)
        build_id = leftover.build_id if leftover is not None else item_id
        raws = raws_below(book, build_id)
        members = [book.builds[member] for member in closure_of(book, build_id)]
        added = tuple(dict.fromkeys(key for build in members for key in build.added_allergens))
    allergens: dict[str, list[int]] = {}
    cautions: dict[str, list[int]] = {}
    unknown: list[int] = []
    for raw_id in raws:
        raw = book.raws[raw_id]
        for key in raw.allergens:
            if key == UNKNOWN:
                unknown.append(raw_id)
            else:
                allergens.setdefault(key, []).append(raw_id)
        for key in raw.cautions:
            cautions.setdefault(key, []).append(raw_id)
    return Contents(_sorted(allergens), tuple(unknown), _sorted(cautions), added)


def _sorted(found: dict[str, list[int]]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    return tuple((key, tuple(ids)) for key, ids in sorted(found.items()))
