"""A house book to start with: the pantry, and nothing built yet."""

from dataclasses import replace

from msgspec import structs

from washline.assets import database_file
from washline.exchange.house_file import stocked, whole_pantry
from washline.model.book import HouseBook
from washline.model.house import Settings


def starter_house(name: str) -> HouseBook:
    """A house book with the pantry's ingredients, targets, glasses, methods, measures, ice and vessels, and no
    builds.

    The pantry's prices are invented for the demo, so a house of one's own starts without: a cost is not known until the
    house has typed what it pays. Raises ``UserError`` where the pantry cannot be read.
    """
    book = stocked(whole_pantry(database_file("seed", "pantry")), Settings(house_name=name))
    return replace(book, raws={key: structs.replace(raw, prices=()) for key, raw in book.raws.items()})
