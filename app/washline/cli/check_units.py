"""Units of the check files: how each way of writing one relates to the unit that an evaluator gives."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: ``factors`` turn a number in a unit (as ``plain_unit`` writes it) into the first unit."""

    name: str
    factors: Mapping[str, float]

    def factor(self, unit: str) -> float | None:
        """What turns a number in this unit into the dimension's first unit; None if it is no unit of this kind."""
        return self.factors.get(plain_unit(unit))


def plain_unit(unit: str) -> str:
    """A unit in one way of writing: lower case, no spaces, degree signs, brackets or dots, exponents on the line.

    >>> plain_unit("kg/m³"), plain_unit("% vol"), plain_unit("J/(g·K)")
    ('kg/m3', '%vol', 'j/gk')
    """
    plain = unit.strip().lower().replace("³", "3")
    for mark in (" ", "°", "deg", "(", ")", "·", "*", "^"):
        plain = plain.replace(mark, "")
    return plain


_ONE = {"1": 1.0, "": 1.0, "-": 1.0}
_PERCENT = {
    "%": 0.01,
    "%mass": 0.01,
    "%bymass": 0.01,
    "mass%": 0.01,
    "%w/w": 0.01,
    "%m/m": 0.01,
    "g/100g": 0.01,
}

DENSITY = Dimension(
    "density",
    {"kg/m3": 1.0, "g/l": 1.0, "kg/l": 1000.0, "g/ml": 1000.0, "g/cm3": 1000.0, "kg/dm3": 1000.0},
)
MASS_FRACTION = Dimension(
    "mass fraction",
    {**_ONE, "g/g": 1.0, "kg/kg": 1.0, "w": 1.0, "massfraction": 1.0, "fraction": 1.0, **_PERCENT},
)
BRIX = Dimension(
    "degrees Brix",
    {
        "%mass": 1.0,
        "bx": 1.0,
        "brix": 1.0,
        **{unit: 100.0 * part for unit, part in _PERCENT.items()},
        "g/g": 100.0,
    },
)
STRENGTH = Dimension(
    "strength", {"%vol": 1.0, "%": 1.0, "vol%": 1.0, "%v/v": 1.0, "%abv": 1.0, "ml/100ml": 1.0}
)
CONCENTRATION = Dimension(
    "concentration", {"g/l": 1.0, "kg/m3": 1.0, "mg/ml": 1.0, "g/100ml": 10.0, "g/dl": 10.0, "g/ml": 1000.0}
)
REFRACTIVE_INDEX = Dimension("refractive index", {"nd20": 1.0, "nd": 1.0, "n": 1.0, **_ONE})
KILOJOULE = Dimension("energy", {"kj": 1.0, "j": 0.001})
KILOCALORIE = Dimension("energy", {"kcal": 1.0, "cal": 0.001})
MASS = Dimension("mass", {"g": 1.0, "kg": 1000.0, "mg": 0.001})
VOLUME = Dimension("volume", {"ml": 1.0, "cl": 10.0, "l": 1000.0, "cm3": 1.0})
UNITS_OF_ALCOHOL = Dimension(
    "units of alcohol", {"unit": 1.0, "units": 1.0, "standarddrink": 1.0, "standarddrinks": 1.0, **_ONE}
)
HEAT_CAPACITY = Dimension(
    "heat capacity",
    {"j/gk": 1.0, "kj/kgk": 1.0, "j/g/k": 1.0, "kj/kg/k": 1.0, "j/gc": 1.0, "j/kgk": 0.001, "cal/gk": 4.184},
)
VOLUME_RATIO = Dimension(
    "volume ratio", {"vol/vol": 1.0, "ml/ml": 1.0, "l/l": 1.0, **_ONE, "%": 0.01, "ml/100ml": 0.01}
)
PH = Dimension("pH", {"ph": 1.0, **_ONE})
WATER_ACTIVITY = Dimension("water activity", {**_ONE, "aw": 1.0, "a_w": 1.0, "%": 0.01})
TEMPERATURE = Dimension("temperature", {"c": 1.0, "celsius": 1.0})
PERCENT_KEPT = Dimension("part kept", {"%": 1.0, "percent": 1.0, "1": 100.0})
_OF_A_HUNDRED = ("{0}/100{0}", "{0}per100{0}", "{0}per100", "{0}/100", "{0}")
_VOLUMES = (
    *("vol", "vols", "volume", "volumes", "part", "parts", "partsofwater", "volumesofwater", "partsbyvolume"),
    *("gal", "gallon", "gallons", "usgal", "winegallons", "l", "ml"),
)
PARTS_OF_A_HUNDRED = Dimension(
    "parts of a hundred by volume",
    {
        **{form.format(volume): 1.0 for volume in _VOLUMES for form in _OF_A_HUNDRED},
        **_ONE,
        "%": 1.0,
        "%vol": 1.0,
        "vol/vol": 100.0,
    },
)
GAUGED_MASS = Dimension(
    "mass in the unit of 'm'",
    {**_ONE, **dict.fromkeys(("lb", "lbs", "pound", "pounds", "kg", "g", "kilogram", "kilograms"), 1.0)},
)
MELT_PER_VOLUME = Dimension("melted ice per volume", {"gper100ml": 1.0, "g/100ml": 1.0, "g/ml": 100.0})
TEMPERATURE_RISE = Dimension("temperature difference", {"k": 1.0, "c": 1.0})
MOLE_FRACTION_IN_THOUSANDTHS = Dimension("mole fraction", {"1000x": 1.0, "1": 1000.0, "mol/mol": 1000.0})
GAS_VOLUMES = Dimension("volumes of gas", {"vol/vol": 1.0, "vol": 1.0, "volumes": 1.0, "1": 1.0})
GAUGE_PRESSURE = Dimension("gauge pressure", {"psig": 1.0, "barg": 14.503773773, "kpag": 0.14503773773})
ABSOLUTE_PRESSURE = Dimension(
    "absolute pressure", {"kpa": 1.0, "bar": 100.0, "atm": 101.325, "psi": 6.894757293}
)
SOLUBILITY_BY_PRESSURE = Dimension("solubility by pressure", {"g/l/bar": 1.0, "g/l/atm": 1.0 / 1.01325})
