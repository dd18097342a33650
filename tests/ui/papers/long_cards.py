"""Cards that are longer than any bar would like: what must not be clipped is asked of these."""

from dataclasses import replace

from msgspec import structs

from tests.presentation.cards import card_of, drink_with, signal_card
from tests.presentation.small_house import CORDIAL, GIN, LEAF, OTHER, VERJUS
from washline.model.amount import Amount, millilitres
from washline.model.book import HouseBook
from washline.model.house import Shared
from washline.model.item import Sign
from washline.model.step import Add, AnyStep, Ferment, Garnish, Infuse, Note
from washline.presentation.card import Card
from washline.presentation.cautions import allergens, cautions

LONG_NAME = (
    "Gin & Tonic <b>with %1</b> of a wholly unreasonable length that nobody could say in one breath, "
    "served at the tide’s turn"
)
ONE_WORD = "Unbreakable" * 11


def with_name(name: str) -> Card:
    """A card of a drink with that name."""
    return signal_card(name=name)


def with_lines(count: int) -> Card:
    """A card of a drink with many lines, and as many steps that are notes."""
    return card_of(book_with_lines(count), OTHER)


def book_with_lines(count: int) -> HouseBook:
    """The small house, its other drink with many lines and notes."""
    lines: list[AnyStep] = [
        Add(
            id=500 + n,
            build_id=OTHER,
            place=float(n),
            item_id=GIN,
            amount=millilitres(1234.5),
            words="a note " * (n % 5),
        )
        for n in range(count)
    ]
    notes = [
        Note(id=700 + n, build_id=OTHER, place=100.0 + n, words=f"sentence number {n}") for n in range(count)
    ]
    garnish = Garnish(id=900, build_id=OTHER, place=900.0, item_id=LEAF, amount=Amount(1.0, "leaf"))
    return drink_with([*lines, *notes, garnish])


def with_all_cautions() -> Card:
    """A card of a drink whose one ingredient brings every allergen and every caution, unknowns and all."""
    return card_of(_dangerous(), OTHER)


def with_all_of_a_part() -> Card:
    """A card of a part with every caution, everything that may get in, and a date that is cut."""
    book = _dangerous()
    raw = book.raws[VERJUS]
    book = book.with_raw(
        structs.replace(raw, category="juice-fresh", house_days=2, vegan="no", vegetarian="no")
    )
    places = ("freezer", "fridge", "room", "ice_well", "oven", "tins")
    shared = tuple(Shared(place, ("lupin", "molluscs")) for place in places)
    book = book.with_settings(structs.replace(book.settings, shared=shared))
    steps: list[AnyStep] = [
        Add(id=600 + n, build_id=CORDIAL, place=float(n), item_id=VERJUS, amount=millilitres(900.0))
        for n in range(12)
    ]
    steps += [
        Infuse(
            id=620,
            build_id=CORDIAL,
            place=20.0,
            item_id=LEAF,
            amount=Amount(20.0, "g"),
            words="in a sealed bag",
        ),
        Ferment(id=621, build_id=CORDIAL, place=21.0, gas_lost_g=1.0, final_ph=3.4, discard_above_ph=4.2),
    ]
    part = structs.replace(
        book.builds[CORDIAL], name=LONG_NAME, steps=tuple(steps), house_days=365, may_contain=("nuts",),
        note="a note " * 20,
    )  # fmt: skip
    return card_of(book.with_build(part), CORDIAL)


def everything_at_once() -> Card:
    """Long names, many lines, every caution, every word of the house."""
    card = with_lines(40)
    box = with_all_cautions().box
    signs = tuple((f"sign {n} " * 4, "do this and then that " * 8) for n in range(3))
    return replace(card, name=LONG_NAME, box=box, tastes_like="of everything at once " * 20, signs=signs)


def _dangerous() -> HouseBook:
    line = Add(id=500, build_id=OTHER, place=1.0, item_id=VERJUS, amount=millilitres(45.0))
    book = drink_with([line], if_off=(Sign("sharp", "less of it"),))
    raw = structs.replace(
        book.raws[VERJUS],
        name="verjus of a press whose name goes on and on, " * 2,
        allergens=(*allergens(), "unknown"),
        cautions=tuple(cautions()),
    )
    return book.with_raw(raw)
