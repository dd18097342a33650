"""The commands that the tables of the house's data make: which row of which table, and what the history calls it."""

from collections.abc import Callable
from typing import Any

from msgspec import structs

from washline.document.commands import labels
from washline.document.commands.command import Command, in_turn
from washline.document.commands.house import (
    free_slug,
    put_glass,
    put_ice,
    put_measure,
    put_method,
    put_vessel,
    remove_glass,
    remove_ice,
    remove_method,
    remove_vessel,
)
from washline.document.commands.items import set_build
from washline.document.commands.weighings import forget_weighing, weigh
from washline.document.references import drinks_in_glass
from washline.model.book import HouseBook
from washline.model.house import Glass, Weighing
from washline.presentation.glass import like
from washline.presentation.house_data_columns import HouseRow, HouseTable, Key
from washline.presentation.house_data_glass import slug_start
from washline.presentation.house_data_rows import copied, copy_name, fresh

PUT: dict[str, Callable[[Any], Command]] = {
    "glass": put_glass,
    "method": put_method,
    "ice": put_ice,
    "vessel": put_vessel,
    "measure": put_measure,
    "weighing": weigh,
}
REMOVE: dict[str, Callable[[Any], Command]] = {
    "glass": remove_glass,
    "method": remove_method,
    "ice": remove_ice,
    "vessel": remove_vessel,
    "weighing": forget_weighing,
}

Edit = tuple[Command, str, Key]
"""A command, its name in the history, and the key of the row that it leaves."""


def put(book: HouseBook, table: HouseTable, row: HouseRow) -> Edit:
    """Keeps a row in the stead of the one with its key."""
    if isinstance(row, Weighing):
        return weigh(row), labels.weighing(book, row.method, row.ice), row.id
    return PUT[table.key](row), labels.change_of_entry(table.one, row.name), row.slug


def added(book: HouseBook, table: HouseTable) -> Edit:
    """A new row with usual figures. Raises ``KeyError`` for a table to which nothing is added."""
    entries = table.entries(book)
    taken = {row.name.casefold() for row in entries.values()}
    name, count = f"New {table.one}", 1
    while name.casefold() in taken:
        count += 1
        name = f"New {table.one} {count}"
    row = fresh(table.key, free_slug(name, entries), name)
    return PUT[table.key](row), labels.adding_entry(table.one, name), row.slug


def duplicated(book: HouseBook, table: HouseTable, row: HouseRow) -> Edit:
    """A copy of a row; that of a glass keeps its form."""
    assert not isinstance(row, Weighing)
    entries = table.entries(book)
    name = copy_name(row.name, {one.name.casefold() for one in entries.values()})
    stem = like(row.slug) if isinstance(row, Glass) else ""
    slug = free_slug(stem or row.slug, {*entries, stem} if stem else entries)
    return PUT[table.key](copied(row, slug, name)), labels.adding_entry(table.one, name), slug


def removed(book: HouseBook, table: HouseTable, row: HouseRow) -> Edit | None:
    """Takes a row out; ``None`` for a table that keeps all its rows. The command refuses a row that is in use."""
    if table.key not in REMOVE:
        return None
    if isinstance(row, Weighing):
        return forget_weighing(row.id), labels.forgetting_weighing(book, row.id), 0
    return REMOVE[table.key](row.slug), labels.removing_entry(table.one, row.name), ""


def reshaped(book: HouseBook, glass: Glass, form: str) -> Edit:
    """Has a glass of the house drawn like another: its key says its form, so that it gets another key wherever it is
    named."""
    stem = slug_start(form)
    slug = free_slug(stem, {*book.glasses, stem})
    moved = (set_build(build.id, glass=slug) for build in drinks_in_glass(book, glass.slug))
    command = in_turn(put_glass(structs.replace(glass, slug=slug)), *moved, remove_glass(glass.slug))
    return command, labels.change_of_entry("glass", glass.name), slug
