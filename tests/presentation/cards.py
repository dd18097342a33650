"""Cards of the small house, for the tests of cards."""

from collections.abc import Iterable
from datetime import date

from msgspec.structs import replace

from tests.presentation.small_house import OTHER, SIGNAL, VERJUS, house
from washline.engine.contents import contents
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.item import Build
from washline.model.step import AnyStep
from washline.presentation.card import Card, LastChange, card_content

CHANGED = LastChange(12, date(2026, 11, 21))


def card_of(book: HouseBook, build_id: int = SIGNAL, last_change: LastChange | None = CHANGED) -> Card:
    """The card of a drink of a house book."""
    workings = Workings(book)
    trace, spread = workings.trace(build_id), workings.spread(build_id)
    return card_content(trace, spread, contents(book, build_id), last_change)


def signal_card(**fields: object) -> Card:
    """The card of the small house's Pear Signal, with other fields."""
    book = house()
    return card_of(book.with_build(replace(book.builds[SIGNAL], **fields)))


def card_with_steps(steps: Iterable[AnyStep], **fields: object) -> Card:
    """A card of a drink with these steps only."""
    return card_of(drink_with(steps, **fields), OTHER)


def drink_with(steps: Iterable[AnyStep], **fields: object) -> HouseBook:
    """The small house with its other drink made of these steps."""
    book = house()
    return book.with_build(replace(book.builds[OTHER], steps=tuple(steps), **fields))


def house_with_verjus(**fields: object) -> HouseBook:
    """The small house with something else known of its verjus, which the drink pours."""
    book = house()
    return book.with_raw(replace(book.raws[VERJUS], **fields))


def build_of(book: HouseBook, build_id: int = SIGNAL) -> Build:
    """A build of a house book."""
    return book.builds[build_id]
