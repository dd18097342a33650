"""Drinks of a wanted strength and sweetness before ice, poured from spirit, water and sugar of the test kitchen."""

from dataclasses import replace

import numpy as np

from tests.engine.kitchen import SPIRIT, SUGAR, WATER, Vessel, pantry, raw
from washline.chemistry.components import SUCROSE
from washline.chemistry.mixture import composition_from_label
from washline.engine.trace import Trace
from washline.engine.workings import Workings
from washline.model.book import HouseBook
from washline.model.house import Method
from washline.model.item import Build, RawIngredient

SPIRIT_MASS_FRACTION = 0.333


def poured(strength: float, sugar_g_per_l: float = 0.0, ml: float = 100.0, **fields: object) -> Vessel:
    """A vessel with a drink of a strength (% vol) and its sucrose, poured from spirit, water and sugar: what they give off
    when they meet warms it by some 2 K."""
    solutes = np.zeros((24, 1))
    solutes[SUCROSE] = sugar_g_per_l
    water, ethanol, sucrose = (composition_from_label(strength, solutes) * (ml / 1000.0))[:3, 0].tolist()
    spirit = ethanol / SPIRIT_MASS_FRACTION
    vessel = Vessel(1001)
    for item_id, grams in ((WATER, water - (spirit - ethanol)), (SPIRIT, spirit), (SUGAR, sucrose)):
        if grams > 0.0:
            vessel.add(item_id, grams, **fields)
    return vessel


MIXED = 90


def mixed(strength: float, sugar_g_per_l: float, celsius: float = 20.0, ml: float = 100.0) -> Vessel:
    """The same as one line, a bottled mixture at a temperature: its heat of mixing is long gone."""
    solutes = np.zeros((24, 1))
    solutes[SUCROSE] = sugar_g_per_l
    litre = composition_from_label(strength, solutes)[:3, 0]
    whole = float(np.add.accumulate(litre)[-1])
    grams = dict(zip(("water", "ethanol", "sucrose"), (litre * 100.0 / whole).tolist(), strict=True))
    vessel = MixedVessel(1001)
    vessel.mixture = raw(MIXED, "mixture", grams)
    vessel.add(MIXED, whole * ml / 1000.0, temperature_c=celsius)
    return vessel


class MixedVessel(Vessel):
    """A vessel with a mixture that the pantry does not hold."""

    mixture: RawIngredient


def traced(drink: Vessel | Build, book: HouseBook | None = None) -> Trace:
    """The trace of a drink in the test kitchen."""
    build = drink.build() if isinstance(drink, Vessel) else drink
    book = book or pantry()
    if isinstance(drink, MixedVessel):
        book = book.with_raw(drink.mixture)
    return Workings(book.with_build(build)).trace(build.id)


def with_method(method: Method) -> HouseBook:
    """The test kitchen with a method put in or replaced."""
    book = pantry()
    return replace(book, methods={**book.methods, method.slug: method})
