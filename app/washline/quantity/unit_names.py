"""The units of the bar: their names, the words that people type for them, and what they measure.

This table is the list of what is understood; no text reaches the unit library that was not found here first.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Dimension = Literal["volume", "mass", "count", "ratio"]

COMMON_UNITS = "ml, cl, oz, g, dash, drop, %"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its one name, as written for one and for several, with the words that people type for it.

    ``words`` are parted by commas. ``measure`` names the row of the house's measures that says how much one of it
    holds, where a house sets that.
    """

    name: str
    plural: str
    dimension: Dimension
    words: str = ""
    measure: str = ""

    def all_words(self) -> tuple[str, ...]:
        """Every word that stands for this unit."""
        further = self.words.split(", ") if self.words else []
        return (self.name, self.plural, *further)


PIECE_WORDS: tuple[Unit, ...] = (
    Unit("piece", "pieces", "count", "pc, pcs, pce, pces, ea, each"),
    Unit("leaf", "leaves", "count", "leafs"),
    Unit("strip", "strips", "count"),
    Unit("cube", "cubes", "count"),
    Unit("slice", "slices", "count"),
    Unit("sprig", "sprigs", "count"),
    Unit("wedge", "wedges", "count"),
    Unit("wheel", "wheels", "count"),
    Unit("twist", "twists", "count"),
    Unit("tip", "tips", "count"),
    Unit("pick", "picks", "count"),
    Unit("die", "dice", "count"),
)
"""Words for a piece; what one weighs is said by the item."""

_ALL_UNITS: tuple[Unit, ...] = (
    Unit("ml", "ml", "volume", "millilitre, millilitres, milliliter, milliliters, mls, mil, mils, cc, ㎖"),
    Unit("cl", "cl", "volume", "centilitre, centilitres, centiliter, centiliters, cls"),
    Unit("dl", "dl", "volume", "decilitre, decilitres, deciliter, deciliters, ㎗"),
    Unit("l", "l", "volume", "litre, litres, liter, liters, ltr, ltrs, ℓ"),
    Unit(
        "oz",
        "oz",
        "volume",
        "ozs, ounce, ounces, fl oz, fluid oz, fluid ounce, fluid ounces, bar oz, bar ounce, bar ounces",
    ),
    Unit(
        "US fl oz",
        "US fl oz",
        "volume",
        "us oz, us ounce, us ounces, us fluid oz, us fluid ounce, us fluid ounces, oz us",
    ),
    Unit(
        "imp fl oz",
        "imp fl oz",
        "volume",
        "imp oz, imperial oz, imperial fl oz, imperial ounce, imperial ounces, imperial fluid ounce, "
        "imperial fluid ounces, uk fl oz, uk oz",
    ),
    Unit("dash", "dashes", "volume", "dashs, dsh", "dash"),
    Unit("drop", "drops", "volume", "gtt, gtts", "drop-water"),
    Unit("barspoon", "barspoons", "volume", "bsp, bsps, bspn, bs, bar spoon, bar spoons", "barspoon"),
    Unit("teaspoon", "teaspoons", "volume", "tsp, tsps, tea spoon, tea spoons", "teaspoon-metric"),
    Unit(
        "tablespoon",
        "tablespoons",
        "volume",
        "tbsp, tbsps, tbs, table spoon, table spoons",
        "tablespoon-metric",
    ),
    Unit("splash", "splashes", "volume", "", "splash"),
    Unit("spray", "sprays", "volume", "", "spray"),
    Unit("g", "g", "mass", "gram, grams, gramme, grammes, gr, grs, gm, gms"),
    Unit("kg", "kg", "mass", "kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes, kgs, ㎏"),
    Unit("pinch", "pinches", "mass", "", "pinch"),
    *PIECE_WORDS,
    Unit("parts", "parts", "ratio", "part"),
    Unit("%", "%", "ratio", "percent, per cent, pct, \uff05, \u066a, \ufe6a"),
)

UNITS: Mapping[str, Unit] = MappingProxyType({unit.name: unit for unit in _ALL_UNITS})
"""Every unit by its name."""

MEASURE_WORDS = ("dash", "splash", "pinch", "barspoon", "bar spoon")
"""Units of which one is meant where a written line names no number: *dash bay tincture*."""

REFUSED_WORDS = frozenset(
    word + ending
    for word in ("cup", "pint", "quart", "gallon", "lb", "pound", "jigger", "shot", "handful", "bottle", "mg")
    for ending in ("", "s")
)
"""Words for measures that stand for no one amount here; a line that uses one is refused, not read as a name."""


def dimension(unit: str) -> Dimension:
    """What a unit measures; raises ``KeyError`` for a name that is not in ``UNITS``."""
    return UNITS[unit].dimension


def unit_word(unit: str, number: float) -> str:
    """The unit as it is written behind a number: *1 dash*, *2 dashes*, *½ dash*."""
    known = UNITS[unit]
    if unit == "parts":
        return "part" if number == 1.0 else "parts"
    return known.name if 0.0 < number <= 1.0 else known.plural


def _key(words: str) -> str:
    return re.sub(r"[\s.]", "", words).casefold()


_BY_WORD: Mapping[str, Unit] = MappingProxyType(
    {_key(word): unit for unit in UNITS.values() for word in unit.all_words()}
)


def _pattern() -> re.Pattern[str]:
    words = {word for unit in UNITS.values() for word in unit.all_words()}
    longest_first = sorted(words, key=lambda word: (-len(word), word))
    alternatives = "|".join(re.escape(word).replace(r"\ ", r"\.?\s*") for word in longest_first)
    # A word ends where no letter or digit follows; a percent sign ends by itself.
    return re.compile(rf"\s*({alternatives})(?:(?<=[%\uff05\u066a\ufe6a])|(?![^\W_]))\.?", re.IGNORECASE)


_UNIT = _pattern()


def match_unit(text: str) -> tuple[Unit, str] | None:
    """The unit at the start of ``text`` and the text behind it, or ``None`` if no known unit stands there."""
    for form in (text, unicodedata.normalize("NFKC", text)):
        found = _UNIT.match(form)
        unit = _BY_WORD.get(_key(found[1])) if found else None
        if found and unit:
            return unit, form[found.end() :]
    return None


def is_misspelt_unit(word: str) -> bool:
    """Whether ``word`` is a unit with a letter struck twice (*mll*, *ozz*), or names a measure that is refused."""
    once = re.sub(r"(.)\1+", r"\1", word.casefold())
    return _key(word) in REFUSED_WORDS or (_key(word) not in _BY_WORD and once in _BY_WORD)
