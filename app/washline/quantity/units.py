"""Conversions between units: fixed ones from one table, the bar's own as the house has set them.

pint does the algebra, from our own definitions (``resources/units.txt``); it takes 0.4 s to import, so it is loaded at
the first conversion that needs it. Multiples of a millilitre and a gram, asked for at every key press, come from a table
that a test holds equal to pint.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from washline.assets import resource
from washline.quantity.unit_names import UNITS, Dimension

if TYPE_CHECKING:
    from pint import UnitRegistry

_TEMPERATURE_DECIMALS = (
    9  # The way over kelvin leaves noise behind that: 75 °C would be 166.99999999999994 °F.
)

US_FLUID_OUNCE_ML = 29.5735295625
IMPERIAL_FLUID_OUNCE_ML = 28.4130625

MILLILITRES: Mapping[str, float] = MappingProxyType(
    {
        "ml": 1.0,
        "cl": 10.0,
        "dl": 100.0,
        "l": 1000.0,
        "US fl oz": US_FLUID_OUNCE_ML,
        "imp fl oz": IMPERIAL_FLUID_OUNCE_ML,
    }
)
"""Volumes that are the same in every house."""

GRAMS: Mapping[str, float] = MappingProxyType({"g": 1.0, "kg": 1000.0})

PINT_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "ml": "millilitre",
        "cl": "centilitre",
        "dl": "decilitre",
        "l": "litre",
        "US fl oz": "us_fluid_ounce",
        "imp fl oz": "imperial_fluid_ounce",
        "g": "gram",
        "kg": "kilogram",
        "°C": "degree_Celsius",
        "°F": "degree_Fahrenheit",
        "K": "kelvin",
        "s": "second",
        "min": "minute",
        "h": "hour",
        "d": "day",
        "week": "week",
        "kPa": "kilopascal",
        "bar": "bar",
        "psi": "pound_force_per_square_inch",
    }
)
"""Our unit names and those of ``resources/units.txt``."""


@dataclass(frozen=True, slots=True)
class BarUnits:
    """How much the bar's own units hold in this house.

    The defaults are common practice, no source, but for the teaspoon and tablespoon (metric, by definition): an ounce as
    poured is 30 ml, or 29.5735 ml where the house says so. A drop of a spirit is smaller than a drop of water.
    """

    oz_ml: float = 30.0
    dash_ml: float = 0.8
    drop_ml: float = 0.05
    spirit_drop_ml: float = 0.03
    barspoon_ml: float = 5.0
    teaspoon_ml: float = 5.0
    tablespoon_ml: float = 15.0
    splash_ml: float = 7.5
    spray_ml: float = 0.12
    pinch_g: float = 0.3

    def millilitres_per(self, unit: str, of_spirit: bool = False) -> float:
        """Millilitres in one ``unit``; raises ``ValueError`` if it is no volume."""
        if unit in MILLILITRES:
            return MILLILITRES[unit]
        own = {
            "oz": self.oz_ml,
            "dash": self.dash_ml,
            "drop": self.spirit_drop_ml if of_spirit else self.drop_ml,
            "barspoon": self.barspoon_ml,
            "teaspoon": self.teaspoon_ml,
            "tablespoon": self.tablespoon_ml,
            "splash": self.splash_ml,
            "spray": self.spray_ml,
        }
        if unit not in own:
            raise ValueError(f"{unit} is not a unit of volume")
        return own[unit]

    def grams_per(self, unit: str) -> float:
        """Grams in one ``unit``; raises ``ValueError`` if it is no mass."""
        if unit == "pinch":
            return self.pinch_g
        if unit not in GRAMS:
            raise ValueError(f"{unit} is not a unit of mass")
        return GRAMS[unit]


_MEASURE_FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "dash": "dash_ml",
        "drop-water": "drop_ml",
        "drop-spirit": "spirit_drop_ml",
        "barspoon": "barspoon_ml",
        "teaspoon-metric": "teaspoon_ml",
        "tablespoon-metric": "tablespoon_ml",
        "splash": "splash_ml",
        "spray": "spray_ml",
        "pinch": "pinch_g",
    }
)


def bar_units(oz_ml: float, measures: Mapping[str, float]) -> BarUnits:
    """The bar's units from the house's ounce and its measures by name (``dash``, ``drop-water`` …); what is not among
    them keeps its default."""
    known = {field: measures[slug] for slug, field in _MEASURE_FIELDS.items() if slug in measures}
    return replace(BarUnits(oz_ml=oz_ml), **known)


def convert(value: float, unit: str, to_unit: str, bar: BarUnits = BarUnits()) -> float:
    """``value`` of ``unit`` in ``to_unit``; raises ``ValueError`` between units that measure different things."""
    if unit == to_unit:
        return value
    kinds = {_kind(unit), _kind(to_unit)}
    if kinds == {"volume"}:
        return value * bar.millilitres_per(unit) / bar.millilitres_per(to_unit)
    if kinds == {"mass"}:
        return value * bar.grams_per(unit) / bar.grams_per(to_unit)
    if kinds != {None}:
        raise ValueError(f"{unit} cannot be converted to {to_unit}")
    return convert_with_pint(value, unit, to_unit)


def convert_with_pint(value: float, unit: str, to_unit: str) -> float:
    """``value`` of a fixed unit in another one, by pint; raises ``ValueError`` where that is not possible."""
    if unit not in PINT_NAMES or to_unit not in PINT_NAMES:
        raise ValueError(f"{unit} cannot be converted to {to_unit}")
    registry = _registry()
    source, target = registry.Quantity(value, PINT_NAMES[unit]), PINT_NAMES[to_unit]
    if not source.is_compatible_with(target):
        raise ValueError(f"{unit} cannot be converted to {to_unit}")
    return float(source.to(target).magnitude)


def fahrenheit(temperature_c: float) -> float:
    """A temperature in °F from °C (NIST Special Publication 811, appendix B)."""
    return round(convert_with_pint(temperature_c, "°C", "°F"), _TEMPERATURE_DECIMALS)


def celsius(temperature_f: float) -> float:
    """A temperature in °C from °F (NIST Special Publication 811, appendix B)."""
    return round(convert_with_pint(temperature_f, "°F", "°C"), _TEMPERATURE_DECIMALS)


def load_units() -> None:
    """Loads pint and the definitions ahead of need, for an idle moment after the first paint."""
    _registry()


def _kind(unit: str) -> Dimension | None:
    known = UNITS.get(unit)
    return known.dimension if known else None


@cache
def _registry() -> "UnitRegistry[Any]":
    # Imported here because the first paint must not wait 0.4 s for it.
    from pint import UnitRegistry

    return UnitRegistry(str(resource("units.txt")), autoconvert_offset_to_baseunit=False)
