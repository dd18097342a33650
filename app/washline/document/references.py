"""Who uses what: the lines that pour an item, and what else names a glass, a method, an ice, a vessel or a target."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from msgspec import structs

from washline.document.naming import listed
from washline.engine.units import measure_slug
from washline.model.book import HouseBook
from washline.model.house import Swap
from washline.model.item import Build
from washline.model.step import Adjust, AnyStep, BarStrain, Carbonate, Chill, Line, Take, items_of


@dataclass(frozen=True, slots=True)
class Use:
    """A build and those of its steps that name something: lines, adjustments that add it or are to be like it. Steps that
    are left out count: they keep their item. Without any step the build, or a leftover of it, acts as the item."""

    build_id: int
    step_ids: tuple[int, ...]


def uses(book: HouseBook, item_id: int) -> tuple[Use, ...]:
    """The builds that name an item, in the order of the book."""
    return uses_of_any(book, {item_id})


def uses_of_any(book: HouseBook, item_ids: Collection[int], but: int = 0) -> tuple[Use, ...]:
    """The builds, save ``but``, that name any of the items."""
    acting = _acting_as(book, item_ids)
    found = (
        Use(
            build.id,
            tuple(step.id for step in build.steps if any(one in item_ids for one in named_items(step))),
        )
        for build in book.builds.values()
        if build.id != but
    )
    return tuple(use for use in found if use.step_ids or use.build_id in acting)


def _acting_as(book: HouseBook, item_ids: Collection[int]) -> set[int]:
    """The builds that act, or have a leftover that acts, as one of the items."""
    builds = {build.id for build in book.builds.values() if build.acts_as_id in item_ids}
    return builds | {row.build_id for row in book.leftovers.values() if row.acts_as_id in item_ids}


def taken_item(step: AnyStep) -> int | None:
    """The one item that a line takes in; ``None`` where a step is no line."""
    return step.item_id if isinstance(step, Line) else None


def named_items(step: AnyStep) -> tuple[int, ...]:
    """The items that a step names: what it takes in, and what it is to be like."""
    if isinstance(step, Adjust) and step.like_item_id is not None:
        return (*items_of(step), step.like_item_id)
    return items_of(step)


def with_items(step: AnyStep, instead: Mapping[int, int]) -> AnyStep:
    """The step with other items in the stead of those that it names."""
    if not any(item_id in instead for item_id in named_items(step)):
        return step
    if isinstance(step, Line):
        return structs.replace(step, item_id=instead[step.item_id])
    assert isinstance(step, Adjust)
    portions = tuple(
        structs.replace(portion, item_id=instead.get(portion.item_id, portion.item_id))
        for portion in step.portions
    )
    like = step.like_item_id
    return structs.replace(
        step, portions=portions, like_item_id=None if like is None else instead.get(like, like)
    )


def named_users(book: HouseBook, found: tuple[Use, ...]) -> str:
    """The names of builds, for a sentence."""
    return listed(book.builds[use.build_id].name for use in found)


def referring(build: Build, step_ids: Collection[int]) -> tuple[Line | Take, ...]:
    """The steps whose amount is a share of one of the given steps, without these themselves."""
    return tuple(
        step
        for step in build.steps
        if isinstance(step, Line | Take)
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


def swaps_with(book: HouseBook, item_ids: Collection[int]) -> tuple[Swap, ...]:
    """The swaps for alcohol-free versions that name any of the items."""
    return tuple(swap for swap in book.settings.swaps if swap.from_id in item_ids or swap.to_id in item_ids)


def users_of_glass(book: HouseBook, slug: str) -> Iterator[str]:
    """The names of the drinks that are served in a glass."""
    return (build.name for build in drinks_in_glass(book, slug))


def users_of_measure(book: HouseBook, slug: str) -> Iterator[str]:
    """The names of the builds with an amount that is told in a measure."""
    for build in book.builds.values():
        amounts = (step.amount for step in build.steps if isinstance(step, Line | Take))
        if any(slug in _measures_of(book, amount.unit) for amount in amounts):
            yield build.name


def _measures_of(book: HouseBook, unit: str) -> tuple[str, ...]:
    """The measures that say how much a unit holds; which kind of drop falls is the liquid's matter."""
    drops = (slug for slug in book.measures if unit == "drop" and slug.startswith("drop-"))
    return (*drops, measure_slug(book, unit) or "")


def users_of_method(book: HouseBook, slug: str) -> Iterator[str]:
    """The names of the builds that are chilled by a method, and what the house weighed with it."""
    yield from (build.name for build in builds_with_method(book, slug))
    yield from weighed_with(book, slug, "method")


def users_of_ice(book: HouseBook, slug: str) -> Iterator[str]:
    """The names of the builds, methods and glasses whose words for ice mean a kind of it, and what the house weighed."""
    for build in book.builds.values():
        if any(_means(book, words, slug) for words in _ice_words(build)):
            yield build.name
    words = [(row.name, row.ice) for row in book.methods.values()]
    words += [(row.name, row.ice) for row in book.glasses.values()]
    yield from (name for name, ice in words if _means(book, ice, slug))
    yield from weighed_with(book, slug, "ice")


def users_of_vessel(book: HouseBook, slug: str) -> Iterator[str]:
    """The names of the builds that are carbonated in a vessel, or whose batch is filled into it."""
    for build in book.builds.values():
        is_carbonated = any(isinstance(step, Carbonate) and step.vessel == slug for step in build.steps)
        if is_carbonated or (build.batch is not None and build.batch.vessel == slug):
            yield build.name


def _ice_words(build: Build) -> Iterator[str]:
    yield build.ice or ""
    for step in build.steps:
        if isinstance(step, Chill):
            yield step.ice
        elif isinstance(step, BarStrain):
            yield step.fresh_ice


def _means(book: HouseBook, words: str, slug: str) -> bool:
    ice = book.ice_named(words)
    return ice is not None and ice.slug == slug


def weighed_with(book: HouseBook, slug: str, field: str) -> Iterator[str]:
    """What the house weighed and fitted with a ``method``, or on an ``ice``, in words."""
    if any(getattr(row, field) == slug for row in book.weighings.values()):
        yield "what the house weighed with it"
    if any(getattr(row, field) == slug for row in book.calibrations.values()):
        yield "a calibration"
