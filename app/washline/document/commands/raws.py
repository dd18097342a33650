"""Raw ingredients: what is bought, its composition, its label and its prices."""

import re
import unicodedata
from typing import Any

from msgspec import structs

from washline.chemistry.components import COMPONENT_COUNT, COMPONENTS
from washline.document.commands.command import Command, Refusal, next_id
from washline.document.commands.fields import plain_name, replaced
from washline.model.book import HouseBook
from washline.model.item import Price, RawIngredient

COMPONENT_INDEX = {key: index for index, key in enumerate(COMPONENTS)}
_FIXED = ("id", "slug")


def new_raw(name: str, **fields: Any) -> Command:
    """Makes a raw ingredient of which nothing is known yet; its id is ``next_id(book)``."""

    def command(book: HouseBook) -> HouseBook:
        raw = RawIngredient(
            id=next_id(book),
            slug=free_slug(book, name),
            name=plain_name(name),
            composition=(None,) * COMPONENT_COUNT,
        )
        return book.with_raw(replaced(raw, fields, _FIXED))

    return command


def set_raw(raw_id: int, **fields: Any) -> Command:
    """Changes fields of a raw ingredient: allergens, density, where it is kept, how sure its sugars are, today's fruit …"""
    return lambda book: book.with_raw(replaced(_raw(book, raw_id), fields, _FIXED))


def set_component(raw_id: int, component: str, grams_per_100g: float | None) -> Command:
    """Sets one component of the composition, by its key in ``chemistry.components.COMPONENTS``; ``None``: not known.

    Raises ``KeyError`` for a key that is no component: that is a fault of the caller.
    """
    index = COMPONENT_INDEX[component]

    def command(book: HouseBook) -> HouseBook:
        raw = _raw(book, raw_id)
        composition = (*raw.composition[:index], grams_per_100g, *raw.composition[index + 1 :])
        return book.with_raw(structs.replace(raw, composition=composition))

    return command


def add_price(raw_id: int, price: Price) -> Command:
    """Notes what was paid; the newest by date counts."""

    def command(book: HouseBook) -> HouseBook:
        raw = _raw(book, raw_id)
        return book.with_raw(structs.replace(raw, prices=(*raw.prices, price)))

    return command


def remove_price(raw_id: int, index: int) -> Command:
    """Removes one noted price by its position."""

    def command(book: HouseBook) -> HouseBook:
        raw = _raw(book, raw_id)
        if not 0 <= index < len(raw.prices):
            raise Refusal(f"This price of {raw.name} is no longer there.", remedy="Undo brings it back.")
        return book.with_raw(structs.replace(raw, prices=raw.prices[:index] + raw.prices[index + 1 :]))

    return command


def free_slug(book: HouseBook, name: str) -> str:
    """A slug for a name that no raw ingredient has: ``gin-dry``, else ``gin-dry-2`` …"""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    base = re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "ingredient"
    taken = {raw.slug for raw in book.raws.values()}
    slug, count = base, 1
    while slug in taken:
        count += 1
        slug = f"{base}-{count}"
    return slug


def _raw(book: HouseBook, raw_id: int) -> RawIngredient:
    raw = book.raws.get(raw_id)
    if raw is None:
        raise Refusal("This raw ingredient is no longer in the house book.", remedy="Undo brings it back.")
    return raw
