"""Drinks written by hand on the parts of the demo house, for the tests of batches."""

from dataclasses import replace
from functools import cache
from typing import Any

from msgspec import structs

from tests.presentation.demo import demo
from washline.document.commands.batched import batched
from washline.engine.workings import Workings
from washline.model.amount import Amount, grams, millilitres
from washline.model.book import HouseBook
from washline.model.house import Vessel
from washline.model.item import Batch, Build, BuildKind
from washline.model.step import Add, AnyStep, Carbonate, Chill, Garnish, Rinse, Smoke, Top
from washline.presentation.batch_plan import Batched

DRINK = 900_000
BOTTLE, GROWLER = "test-bottle-200", "test-bottle-700"


@cache
def base() -> HouseBook:
    """The demo house with two vessels of our own; nobody changes it."""
    vessels = {
        BOTTLE: Vessel(slug=BOTTLE, name="bottle 200 ml", volume_ml=200.0, fill_ml=180.0, rated_kpa=1000.0),
        GROWLER: Vessel(slug=GROWLER, name="bottle 700 ml", volume_ml=720.0, fill_ml=700.0),
    }
    return replace(demo(), vessels={**demo().vessels, **vessels})


def item(name: str) -> int:
    """The id of an item, a raw ingredient by its slug and a part by its name."""
    book = base()
    for raw in book.raws.values():
        if raw.slug == name:
            return raw.id
    return next(one.id for rows in (book.builds, book.leftovers) for one in rows.values() if one.name == name)


class Pen:
    """Writes the steps of one drink."""

    def __init__(self) -> None:
        self.steps: list[AnyStep] = []

    def _place(self) -> dict[str, Any]:
        number = len(self.steps) + 1
        return {"id": DRINK + number, "build_id": DRINK, "place": float(number)}

    def add(self, name: str, amount: Amount, **fields: Any) -> "Pen":
        """A line."""
        self.steps.append(Add(item_id=item(name), amount=amount, **fields, **self._place()))
        return self

    def top(self, name: str, amount: Amount, **fields: Any) -> "Pen":
        """A topping or a float."""
        self.steps.append(Top(item_id=item(name), amount=amount, **fields, **self._place()))
        return self

    def rinse(self, name: str, amount: Amount) -> "Pen":
        """A rinse."""
        self.steps.append(Rinse(item_id=item(name), amount=amount, **self._place()))
        return self

    def garnish(self, name: str, amount: Amount) -> "Pen":
        """A garnish."""
        self.steps.append(Garnish(item_id=item(name), amount=amount, **self._place()))
        return self

    def chill(self, method: str, **fields: Any) -> "Pen":
        """A chill."""
        self.steps.append(Chill(method=method, **fields, **self._place()))
        return self

    def carbonate(self, **fields: Any) -> "Pen":
        """A carbonation."""
        self.steps.append(Carbonate(**fields, **self._place()))
        return self

    def smoke(self) -> "Pen":
        """Smoke."""
        self.steps.append(Smoke(words="applewood", **self._place()))
        return self

    def build(self, **fields: Any) -> Build:
        """The drink."""
        return Build(id=DRINK, kind=BuildKind.DRINK, name="Test Drink", steps=tuple(self.steps), **fields)


def saltings() -> Build:
    """DEMO 2.8, one serve."""
    pen = Pen().add("gin-dry-47", millilitres(60)).add("samphire vermouth", millilitres(15))
    pen.add("water-still", millilitres(10)).add("saline 20 %, ours", Amount(2.0, "drop"))
    return pen.chill("freezer-batch", melted_g=0.0).build(glass="coupe-small", ice_g=0.0)


def ebb(vessel: str = BOTTLE) -> Build:
    """DEMO 2.10, one bottle of twenty; the carbonating as it is there."""
    pen = Pen().add("barley cream punch base", millilitres(80)).add("rosehip syrup", millilitres(7.5))
    pen.add("sharp apple", millilitres(5.25)).add("saline 20 %, ours", millilitres(0.225))
    pen.add("water-still", grams(87)).carbonate(vessel=vessel, co2_g_per_l=7.0, at_c=2.0)
    return pen.build(glass="tumbler-small", ice_g=0.0)


def stirred() -> Build:
    """A stirred drink with salt and bitters, its melt weighed."""
    pen = Pen().add("brown-butter rye", millilitres(45)).add("vermouth-rosso-16", millilitres(22.5))
    pen.add("bitters-aromatic-45", Amount(2.0, "dash")).add("saline 20 %, ours", Amount(3.0, "drop"))
    return pen.chill("stir", melted_g=27.6).build(glass="rocks-double", ice_g=0.0)


def sour() -> Build:
    """A shaken sour on fresh lemon, topped with soda, rinsed and garnished."""
    pen = Pen().rinse("absinthe-65", millilitres(5)).add("gin-dry-47", millilitres(45))
    pen.add("lemon juice, ours (breakdown)", millilitres(22.5)).add("peel sugar syrup", millilitres(15))
    pen.chill("shake", melted_g=40.0).top("soda-water", millilitres(30)).garnish("sorrel-leaf", grams(0.6))
    return pen.smoke().build(glass="coupe-large", ice_g=0.0)


@cache
def workings() -> Workings:
    """The engine on the demo house, evaluated once."""
    return Workings(base())


def batch_of(drink: Build, book: HouseBook | None = None, **fields: Any) -> Batched:
    """A drink made ahead, in the demo house: as a preview, so that the house is evaluated once for all tests."""
    full = (base() if book is None else book).with_build(drink)
    return batched(workings(), drink.id, Batch(**fields), full)


def renamed(book: HouseBook, item_id: int, **fields: Any) -> HouseBook:
    """The book with fields of a raw ingredient changed."""
    return book.with_raw(structs.replace(book.raws[item_id], **fields))
