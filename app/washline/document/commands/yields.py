"""What becomes of the history of yields when builds and strains go or change hands."""

from collections.abc import Collection, Mapping
from dataclasses import replace

from msgspec import structs

from washline.model.book import HouseBook
from washline.model.item import Making


def without_makings(book: HouseBook, build_id: int) -> HouseBook:
    """The book without the makings of a build."""
    kept = {key: making for key, making in book.makings.items() if making.build_id != build_id}
    return book if len(kept) == len(book.makings) else replace(book, makings=kept)


def without_yields(book: HouseBook, build_id: int, step_ids: Collection[int]) -> HouseBook:
    """The book without the yields of some steps of a build; the makings stay, with what else was weighed then."""
    changed = {
        making.id: structs.replace(making, yields=left)
        for making in book.makings.values()
        if making.build_id == build_id
        and len(left := tuple(one for one in making.yields if one.step_id not in step_ids))
        < len(making.yields)
    }
    return replace(book, makings={**book.makings, **changed}) if changed else book


def with_makings_moved(
    book: HouseBook, from_build: int, to_build: int, steps: Mapping[int, int]
) -> HouseBook:
    """The book with the makings of one build made makings of another; ``steps`` leads from the old strains to the new."""
    moved = {
        making.id: _moved(making, to_build, steps)
        for making in book.makings.values()
        if making.build_id == from_build
    }
    return replace(book, makings={**book.makings, **moved}) if moved else book


def _moved(making: Making, build_id: int, steps: Mapping[int, int]) -> Making:
    yields = tuple(
        structs.replace(one, step_id=steps[one.step_id]) for one in making.yields if one.step_id in steps
    )
    return structs.replace(making, build_id=build_id, yields=yields)
