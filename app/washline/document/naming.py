"""What things are called in a sentence: items, steps, builds, and lists of them."""

from collections.abc import Iterable

from washline.model.book import HouseBook
from washline.model.step import (
    Adjust,
    AnyStep,
    BarStrain,
    BarStrainWay,
    Carbonate,
    Chill,
    Ferment,
    Garnish,
    GarnishWay,
    Line,
    Measurable,
    Measurement,
    Rinse,
    Top,
    Wash,
)

MOST_NAMES = 5
"""So many names are written out in a sentence; the rest are counted."""

_QUANTITIES = {
    Measurable.MASS: "mass",
    Measurable.VOLUME: "volume",
    Measurable.DENSITY: "density",
    Measurable.BRIX: "°Bx",
    Measurable.PH: "pH",
    Measurable.ACIDITY: "acidity",
    Measurable.STRENGTH: "strength",
}

_STRAINS = {
    BarStrainWay.STRAIN: "strain",
    BarStrainWay.FINE: "fine strain",
    BarStrainWay.UNSTRAINED: "unstrained pour",
}

NUMBER_WORDS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def item_name(book: HouseBook, item_id: int) -> str:
    """The name of an item, or words for one that is missing."""
    item = book.item(item_id)
    return item.name if item is not None else "an item that is no longer there"


def step_name(book: HouseBook, step: AnyStep) -> str:
    """What a step is called: a line by its item, a chill by its method, an adjustment by what it adds, a measurement by
    what it measures, any other by its kind."""
    if isinstance(step, Line):
        return _line_name(step, item_name(book, step.item_id))
    if isinstance(step, Adjust):
        added = listed(item_name(book, portion.item_id) for portion in step.portions)
        return f"adjustment with {added}" if added else "adjustment"
    if isinstance(step, Measurement):
        return f"measurement of {_QUANTITIES[step.quantity]}"
    if isinstance(step, Wash):
        return f"{step.kind.value} wash"
    if isinstance(step, Ferment):
        return f"{step.kind.value} ferment"
    if isinstance(step, Chill):
        method = book.methods.get(step.method)
        return method.name if method is not None else step.method
    if isinstance(step, BarStrain):
        return _STRAINS[step.way]
    return "carbonation" if isinstance(step, Carbonate) else type(step).__name__.lower()


def _line_name(step: Line, item: str) -> str:
    """A line by its item, and by what is done with it at the glass."""
    if isinstance(step, Rinse):
        return f"rinse with {item}"
    if isinstance(step, Top) and step.is_layer:
        return f"float of {item}"
    way = step.way if isinstance(step, Garnish) else GarnishWay.GARNISH
    return {GarnishWay.RIM: f"rim of {item}", GarnishWay.EXPRESS: f"expressed {item}"}.get(way, item)


def listed(names: Iterable[str]) -> str:
    """Names in a sentence: *a*, *a and b*, *a, b and c*; many end in a count."""
    shown = list(dict.fromkeys(names))
    if len(shown) > MOST_NAMES:
        shown = [*shown[: MOST_NAMES - 1], f"{len(shown) - MOST_NAMES + 1} more"]
    return " and ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)


def counted(count: int, one: str, many: str = "") -> str:
    """A count in words up to ten: *one line*, *three lines*, *12 lines*."""
    number = NUMBER_WORDS[count] if count < len(NUMBER_WORDS) else str(count)
    return f"{number} {one if count == 1 else many or one + 's'}"
