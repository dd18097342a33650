"""Drinks, house-made parts and items of every kind: made, named, changed, removed."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from msgspec import structs

from washline.document.commands.command import Command, Refusal, build_of, item_of, next_id
from washline.document.commands.fields import plain_name, replaced
from washline.document.commands.weighings import weighings_without_build
from washline.document.commands.yields import without_makings
from washline.document.naming import listed
from washline.document.references import named_users, swaps_with, uses_of_any
from washline.model.book import HouseBook
from washline.model.item import Batch, Build, BuildKind, Leftover, RawIngredient

_FIXED = ("id", "kind", "steps", "parent_id")


def new_drink(name: str, **fields: Any) -> Command:
    """Makes an empty drink; its id is ``next_id(book)``. ``fields`` are those of ``set_build``."""
    return _new_build(BuildKind.DRINK, name, fields)


def new_part(name: str, **fields: Any) -> Command:
    """Makes an empty house-made part; its id is ``next_id(book)``. ``fields`` are those of ``set_build``."""
    return _new_build(BuildKind.PART, name, fields)


def set_build(build_id: int, **fields: Any) -> Command:
    """Changes fields of a drink or part: glass, ice, target, note, what it tastes like, where it is kept, what it acts as,
    its price …"""

    def command(book: HouseBook) -> HouseBook:
        return book.with_build(replaced(build_of(book, build_id), fields, _FIXED))

    return command


def set_batch(build_id: int, batch: Batch | None) -> Command:
    """Says how a drink is made ahead, or that it is not."""
    return set_build(build_id, batch=batch)


def rename(item_id: int, name: str) -> Command:
    """Gives an item of any kind another name."""

    def command(book: HouseBook) -> HouseBook:
        item = item_of(book, item_id)
        put: dict[type, Callable[[Any], HouseBook]] = {
            RawIngredient: book.with_raw,
            Build: book.with_build,
            Leftover: book.with_leftover,
        }
        return put[type(item)](structs.replace(item, name=plain_name(name)))

    return command


def remove_item(item_id: int) -> Command:
    """Removes a raw ingredient, a drink or a part with its leftovers and makings; refused where it is used, naming every
    user.

    Twists of what is removed become twists of what it was twisted from. A leftover goes with the step that makes it.
    """

    def command(book: HouseBook) -> HouseBook:
        item = item_of(book, item_id)
        if isinstance(item, Leftover):
            maker = build_of(book, item.build_id)
            raise Refusal(
                f"{item.name} cannot be removed by itself.",
                f"It is what a step of {maker.name} leaves over.",
                "Remove it at that step.",
            )
        if isinstance(item, RawIngredient):
            refuse_if_used(book, item.name, {item_id})
            return replace(book, raws={key: raw for key, raw in book.raws.items() if key != item_id})
        refuse_if_used(book, item.name, {item_id, *outputs(book, item_id)}, but=item_id)
        return without_build(book, item)

    return command


def outputs(book: HouseBook, build_id: int) -> tuple[int, ...]:
    """The ids of the leftovers of a build."""
    return tuple(leftover.id for leftover in book.leftovers.values() if leftover.build_id == build_id)


def refuse_if_used(book: HouseBook, name: str, item_ids: set[int], but: int = 0) -> None:
    """Refuses the removal of what another build takes in, or a swap for an alcohol-free version names."""
    if swaps_with(book, item_ids):
        raise Refusal(
            f"{name} cannot be removed.",
            "A swap for alcohol-free versions names it.",
            "Take that swap out of the house's settings first.",
        )
    found = uses_of_any(book, item_ids, but)
    if not found:
        return
    poured = listed(
        item.name
        for item_id in sorted(item_ids)
        if (item := book.item(item_id)) is not None and uses_of_any(book, {item_id}, but)
    )
    raise Refusal(
        f"{name} cannot be removed.",
        f"{poured} is used in {named_users(book, found)}.",
        "Take it out there first.",
    )


def without_build(book: HouseBook, build: Build) -> HouseBook:
    """The book without a build that nobody uses, and without its leftovers and makings; its twists go to what it came
    from, and its weighings stand alone."""
    builds = {
        key: structs.replace(other, parent_id=build.parent_id) if other.parent_id == build.id else other
        for key, other in book.builds.items()
        if key != build.id
    }
    leftovers = {key: row for key, row in book.leftovers.items() if row.build_id != build.id}
    book = weighings_without_build(without_makings(book, build.id), build.id)
    return replace(book, builds=builds, leftovers=leftovers)


def _new_build(kind: BuildKind, name: str, fields: dict[str, Any]) -> Command:
    def command(book: HouseBook) -> HouseBook:
        build = Build(id=next_id(book), kind=kind, name=plain_name(name))
        return book.with_build(replaced(build, fields, _FIXED))

    return command
