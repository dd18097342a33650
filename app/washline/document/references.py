"""Who uses what: the lines that pour an item, and what else names a glass, a method or a target."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from washline.document.naming import listed
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import Add, AnyStep, Chill, Garnish, Take, Top


@dataclass(frozen=True, slots=True)
class Use:
    """A build and those of its lines that take in something. Lines that are left out count: they keep their item."""

    build_id: int
    step_ids: tuple[int, ...]


def uses(book: HouseBook, item_id: int) -> tuple[Use, ...]:
    """The builds that have a line of an item, in the order of the book."""
    return uses_of_any(book, {item_id})


def uses_of_any(book: HouseBook, item_ids: Collection[int], but: int = 0) -> tuple[Use, ...]:
    """The builds, save ``but``, that have a line of any of the items."""
    found = (
        Use(
            build.id,
            tuple(step.id for step in build.steps if taken_item(step) in item_ids),
        )
        for build in book.builds.values()
        if build.id != but
    )
    return tuple(use for use in found if use.step_ids)


def taken_item(step: AnyStep) -> int | None:
    """The item that a step takes in; ``None`` where it takes in none."""
    return step.item_id if isinstance(step, Add | Top | Garnish) else None


def named_users(book: HouseBook, found: tuple[Use, ...]) -> str:
    """The names of builds, for a sentence."""
    return listed(book.builds[use.build_id].name for use in found)


def referring(build: Build, step_ids: Collection[int]) -> tuple[Add | Top | Garnish | Take, ...]:
    """The steps whose amount is a share of one of the given steps, without these themselves."""
    return tuple(
        step
        for step in build.steps
        if isinstance(step, Add | Top | Garnish | Take)
        and step.id not in step_ids
        and any(base in step_ids for base in step.amount.of)
    )


def drinks_in_glass(book: HouseBook, slug: str) -> Iterator[Build]:
    """The builds served in a glass."""
    return (build for build in book.builds.values() if build.glass == slug)


def builds_with_method(book: HouseBook, slug: str) -> Iterator[Build]:
    """The builds that are chilled by a method."""
    return (
        build
        for build in book.builds.values()
        if any(isinstance(step, Chill) and step.method == slug for step in build.steps)
    )


def builds_with_target(book: HouseBook, target_id: int) -> Iterator[Build]:
    """The builds that are judged by a target."""
    return (build for build in book.builds.values() if build.target_id == target_id)
