"""What a house sets: its ways of counting, its glasses, methods, measures, ice and vessels."""

import re
import unicodedata
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from typing import Any, TypeVar

from msgspec import structs

from washline.document.commands.command import Command, Refusal
from washline.document.naming import listed
from washline.document.references import (
    users_of_glass,
    users_of_ice,
    users_of_measure,
    users_of_method,
    users_of_vessel,
)
from washline.model.book import HouseBook
from washline.model.house import Glass, Ice, Measure, Method, Vessel

Row = TypeVar("Row")


def set_settings(**fields: Any) -> Command:
    """Changes how the house counts: ounces, currency, units of alcohol, temperatures, tax, what is shared, swaps …"""
    return lambda book: book.with_settings(structs.replace(book.settings, **fields))


def put_measure(measure: Measure) -> Command:
    """Puts in a measure, or another of the same slug in its stead."""
    return lambda book: replace(book, measures={**book.measures, measure.slug: measure})


def put_glass(glass: Glass) -> Command:
    """Puts in a glass, or another of the same slug in its stead."""
    return lambda book: replace(book, glasses={**book.glasses, glass.slug: glass})


def put_method(method: Method) -> Command:
    """Puts in a way to chill, or another of the same slug in its stead."""
    return lambda book: replace(book, methods={**book.methods, method.slug: method})


def put_ice(ice: Ice) -> Command:
    """Puts in a kind of ice, or another of the same slug in its stead."""
    return lambda book: replace(book, ices={**book.ices, ice.slug: ice})


def put_vessel(vessel: Vessel) -> Command:
    """Puts in a vessel, or another of the same slug in its stead."""
    return lambda book: replace(book, vessels={**book.vessels, vessel.slug: vessel})


def remove_measure(slug: str) -> Command:
    """Removes a measure; refused where an amount is told in it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.measures:
            _refuse_if_any(f"The measure {book.measures[slug].name}", users_of_measure(book, slug))
        return replace(book, measures=_without(book.measures, slug))

    return command


def remove_glass(slug: str) -> Command:
    """Removes a glass; refused where a drink is served in it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.glasses:
            _refuse_if_any(f"The glass {book.glasses[slug].name}", users_of_glass(book, slug))
        return replace(book, glasses=_without(book.glasses, slug))

    return command


def remove_method(slug: str) -> Command:
    """Removes a way to chill; refused where a drink is chilled by it, or something was weighed with it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.methods:
            _refuse_if_any(f"The method {book.methods[slug].name}", users_of_method(book, slug))
        return replace(book, methods=_without(book.methods, slug))

    return command


def remove_ice(slug: str) -> Command:
    """Removes a kind of ice; refused where a step, a drink, a glass or a method names it, or something was weighed on
    it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.ices:
            _refuse_if_any(f"The ice {book.ices[slug].name}", users_of_ice(book, slug))
        return replace(book, ices=_without(book.ices, slug))

    return command


def remove_vessel(slug: str) -> Command:
    """Removes a vessel; refused where a drink is carbonated in it, or its batch is filled into it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.vessels:
            _refuse_if_any(f"The vessel {book.vessels[slug].name}", users_of_vessel(book, slug))
        return replace(book, vessels=_without(book.vessels, slug))

    return command


def free_slug(name: str, taken: Collection[str]) -> str:
    """The slug of a new row of that name: *Big cube* is ``big-cube``, the next one ``big-cube-2``."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode("ascii").lower()
    wish = re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "new"
    slug, count = wish, 1
    while slug in taken:
        count += 1
        slug = f"{wish}-{count}"
    return slug


def _without(rows: Mapping[str, Row], slug: str) -> dict[str, Row]:
    return {key: row for key, row in rows.items() if key != slug}


def _refuse_if_any(what: str, users: Iterable[str]) -> None:
    names = listed(users)
    if names:
        raise Refusal(
            f"{what} cannot be removed.", f"It is used by {names}.", "Choose another one there first."
        )
