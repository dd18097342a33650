"""Which item is made of which: a graph without cycles whose nodes are items and whose edges are lines."""

from collections.abc import Callable, Iterable, Mapping

from washline.model.book import HouseBook
from washline.model.item import Build, Leftover
from washline.model.step import Adjust, items_of


def inputs_of(build: Build) -> tuple[int, ...]:
    """The ids of the items that a build takes in, each once, in order; steps left out do not count."""
    return tuple(
        dict.fromkeys(item_id for step in build.steps if not step.left_out for item_id in items_of(step))
    )


def rests_on(book: HouseBook, build: Build) -> tuple[int, ...]:
    """The ids of the items whose composition a build needs to know: what it takes in, what it is adjusted to be like,
    and what its outputs act as."""
    liked = (step.like_item_id for step in build.steps if isinstance(step, Adjust) and not step.left_out)
    outputs = (book.item(item_id) for item_id in outputs_of(build)[1:])
    acted = (build.acts_as_id, *(item.acts_as_id for item in outputs if isinstance(item, Leftover)))
    return tuple(
        dict.fromkeys((*inputs_of(build), *(item_id for item_id in (*liked, *acted) if item_id is not None)))
    )


def outputs_of(build: Build) -> tuple[int, ...]:
    """The ids of the items that a build yields: itself, then its leftovers in order of their steps."""
    leftovers = (getattr(step, "leftover_id", None) for step in build.steps if not step.left_out)
    return (build.id, *(leftover for leftover in leftovers if leftover is not None))


def maker_of(book: HouseBook, item_id: int) -> Build | None:
    """The build that yields an item: itself, or the one whose leftover it is. ``None`` for raw ingredients."""
    item = book.item(item_id)
    if isinstance(item, Leftover):
        return book.builds.get(item.build_id)
    return item if isinstance(item, Build) else None


def closure_of(book: HouseBook, build_id: int) -> tuple[int, ...]:
    """The builds that a build rests on, itself last, every one after those it needs to know.

    An id that is missing from the book is passed over: the line that names it says so when it is computed. A loop, which
    only a damaged file can hold, is cut where it closes.
    """
    return _closure(book, build_id, lambda build: rests_on(book, build))


def made_of(book: HouseBook, build_id: int) -> tuple[int, ...]:
    """The builds of which something is in a build, itself last, every one after those it takes in."""
    return _closure(book, build_id, inputs_of)


def _closure(book: HouseBook, build_id: int, needs: Callable[[Build], tuple[int, ...]]) -> tuple[int, ...]:
    order: dict[int, None] = {}
    opened: set[int] = set()
    stack: list[tuple[int, bool]] = [(build_id, False)]
    while stack:
        current, is_done = stack.pop()
        if is_done:
            order[current] = None
            continue
        if current in opened or current not in book.builds:
            continue
        opened.add(current)
        stack.append((current, True))
        for item_id in reversed(needs(book.builds[current])):
            maker = maker_of(book, item_id)
            if maker is not None and maker.id not in order:
                stack.append((maker.id, False))
    return tuple(order)


def raws_below(book: HouseBook, build_id: int) -> tuple[int, ...]:
    """The raw ingredients that a build rests on, through all its parts, each once."""
    return tuple(
        dict.fromkeys(
            item_id
            for member in made_of(book, build_id)
            for item_id in inputs_of(book.builds[member])
            if item_id in book.raws
        )
    )


def path_between(book: HouseBook, from_build: int, to_build: int) -> tuple[int, ...]:
    """The builds from one that uses another down to it, both ends included; empty where there is no way."""
    seen = {from_build}
    trail: list[tuple[int, ...]] = [(from_build,)]
    while trail:
        path = trail.pop()
        if path[-1] == to_build:
            return path
        for item_id in rests_on(book, book.builds[path[-1]]) if path[-1] in book.builds else ():
            maker = maker_of(book, item_id)
            if maker is not None and maker.id not in seen:
                seen.add(maker.id)
                trail.append((*path, maker.id))
    return ()


def cycle_if_used(book: HouseBook, build_id: int, item_id: int) -> tuple[int, ...]:
    """The path that would close if ``build_id`` took in ``item_id``: from the item's maker back to the build, then the
    maker again. Empty where the line is allowed."""
    maker = maker_of(book, item_id)
    if maker is None:
        return ()
    path = path_between(book, maker.id, build_id)
    return (*path, maker.id) if path else ()


def users(book: HouseBook) -> Mapping[int, tuple[int, ...]]:
    """For every item that is used, the builds that use it."""
    result: dict[int, list[int]] = {}
    for build in book.builds.values():
        for item_id in inputs_of(build):
            result.setdefault(item_id, []).append(build.id)
    return {item_id: tuple(builds) for item_id, builds in result.items()}


def in_order(book: HouseBook, build_ids: Iterable[int]) -> tuple[int, ...]:
    """The given builds, each after those it rests on."""
    wanted = set(build_ids)
    order: dict[int, None] = {}
    for build_id in sorted(wanted):
        if build_id not in order:
            for member in closure_of(book, build_id):
                order[member] = None
    return tuple(build_id for build_id in order if build_id in wanted)
