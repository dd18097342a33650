"""How an amount's unit turns into grams of an item: a kind that the item knows, and a factor that the house knows."""

from washline.engine.state import DASH, DROP, MASS, PIECE, VOLUME
from washline.model.book import HouseBook
from washline.quantity.unit_names import PIECE_WORDS
from washline.quantity.units import GRAMS, MILLILITRES

_FIXED = {unit: (VOLUME, factor) for unit, factor in MILLILITRES.items()} | {
    unit: (MASS, factor) for unit, factor in GRAMS.items()
}
_OWN = {"dash": DASH, "drop": DROP}
PIECES = frozenset(unit.name for unit in PIECE_WORDS)
"""Words for one of something; all weigh what the item says that one weighs."""
MEASURES = {
    "teaspoon": "teaspoon-metric",
    "tablespoon": "tablespoon-metric",
    "barspoon": "barspoon",
    "splash": "splash",
    "float": "float",
    "spray": "spray",
    "pinch": "pinch",
    "part": "part",
}
"""The measure in the house book that a unit's name stands for."""


def kind_and_factor(book: HouseBook, unit: str) -> tuple[int, float] | None:
    """The kind of a unit and how many of that kind it is; ``None`` where nobody knows the unit."""
    if unit in _FIXED:
        return _FIXED[unit]
    if unit == "oz":
        return VOLUME, book.settings.oz_ml
    if unit in _OWN:
        return _OWN[unit], 1.0
    if unit in PIECES:
        return PIECE, 1.0
    measure = book.measures.get(MEASURES.get(unit, unit))
    if measure is None:
        return None
    return (MASS if measure.unit == "g" else VOLUME), measure.value


def measure_slug(book: HouseBook, unit: str) -> str | None:
    """The measure of the house book whose range is the doubt about a unit; ``None`` for exact units. A dash and a drop
    also depend on the item: see ``items.own_measure``."""
    slug = MEASURES.get(unit, unit)
    return slug if slug in book.measures and unit not in _FIXED and unit != "oz" else None
