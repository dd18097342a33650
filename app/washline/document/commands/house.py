"""What a house sets: its ways of counting, its glasses, methods and measures."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from msgspec import structs

from washline.document.commands.command import Command, Refusal
from washline.document.naming import listed
from washline.document.references import builds_with_method, drinks_in_glass
from washline.model.book import HouseBook
from washline.model.house import Glass, Measure, Method
from washline.model.item import Build


def set_settings(**fields: Any) -> Command:
    """Changes how the house counts: ounces, currency, units of alcohol, temperatures, tax, what is shared …"""
    return lambda book: book.with_settings(structs.replace(book.settings, **fields))


def set_measure(measure: Measure) -> Command:
    """Puts in a measure, or another of the same slug in its stead."""
    return lambda book: replace(book, measures={**book.measures, measure.slug: measure})


def set_glass(glass: Glass) -> Command:
    """Puts in a glass, or another of the same slug in its stead."""
    return lambda book: replace(book, glasses={**book.glasses, glass.slug: glass})


def set_method(method: Method) -> Command:
    """Puts in a way to chill, or another of the same slug in its stead."""
    return lambda book: replace(book, methods={**book.methods, method.slug: method})


def remove_glass(slug: str) -> Command:
    """Removes a glass; refused where a drink is served in it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.glasses:
            _refuse_if_any(
                f"The glass {book.glasses[slug].name}", drinks_in_glass(book, slug), "served in it"
            )
        return replace(book, glasses={key: row for key, row in book.glasses.items() if key != slug})

    return command


def remove_method(slug: str) -> Command:
    """Removes a way to chill; refused where a drink is chilled by it."""

    def command(book: HouseBook) -> HouseBook:
        if slug in book.methods:
            _refuse_if_any(
                f"The method {book.methods[slug].name}", builds_with_method(book, slug), "chilled by it"
            )
        return replace(book, methods={key: row for key, row in book.methods.items() if key != slug})

    return command


def _refuse_if_any(what: str, users: Iterable[Build], how: str) -> None:
    names = listed(build.name for build in users)
    if names:
        raise Refusal(f"{what} cannot be removed.", f"{names} is {how}.", "Choose another one there first.")
