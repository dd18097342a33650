"""Dissolved CO2 and the pressure that stands over it: at one temperature, and in a closed bottle at another."""

from functools import cache
from typing import Any

from washline.chemistry.arrays import Number, choose, exponential, natural_logarithm, square_root
from washline.chemistry.coefficients import keys, value

KPA_PER_ATM = 101.325
"""One standard atmosphere, kPa."""

_ZERO_K = 273.15
_LN_10 = 2.302585092994046
_NO_VALUE = float("nan")


@cache
def _vapour_terms() -> tuple[float, float, float, float]:
    slope, curve = value("water_vapour", "slope"), value("water_vapour", "curve")
    return value("water_vapour", "pressure"), slope, curve, value("water_vapour", "offset")


def water_vapour_kpa(temperature_c: Number) -> Number:
    """Vapour pressure of water; that of ethanol (1 kPa over a 12 % vol drink at 20 degC) is not counted.

    Arguments:
        temperature_c: degC, float or array (n,)
    Returns: kPa, float or array (n,)
    Valid: 0 to 50 degC
    Error: 0.1 % against IAPWS-95
    Source: Buck 1981, J. Appl. Meteorol. 20, constants of 1996 (from memory)

    >>> round(water_vapour_kpa(20.0), 2)
    2.34
    """
    pressure, slope, curve, offset = _vapour_terms()
    exponent: Number = (slope - temperature_c / curve) * (temperature_c / (temperature_c + offset))
    return exponential(exponent) * pressure


@cache
def _solubility_terms() -> tuple[float, float, float, float]:
    mass = value("molar_mass", "co2")
    return mass, value("co2_weiss", "A1"), value("co2_weiss", "A2"), value("co2_weiss", "A3")


@cache
def _drink_terms() -> tuple[float, float, float]:
    sugar = value("co2", "sugar_setschenow") * _LN_10
    return value("co2", "highest_pct_vol"), value("co2", "ethanol_slope"), sugar


@cache
def _fugacity_slope() -> float:
    return value("co2", "fugacity_slope")


def co2_solubility_g_per_l_atm(
    temperature_c: Number, strength_pct_vol: Number | float = 0.0, sugars_g_per_l: Number | float = 0.0
) -> Number:
    """CO2 that a drink dissolves for each atmosphere of CO2, at low pressure (Henry's constant).

    Arguments:
        temperature_c: degC, float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,); held at 20 beyond
        sugars_g_per_l: g/L of sugars, float or array (n,)
    Returns: g/L for each atm, float or array (n,)
    Valid: 0 to 30 degC, to 20 % vol; flagged outside
    Error: 2.5 % in water (published tables differ by as much), 5 % in beer and sparkling wine, 15 % above 20 % vol
    Source: Weiss 1974; ethanol fitted to Liger-Belair (PMC8047704); sugar Findlay and Shen 1912 (from memory)

    >>> round(co2_solubility_g_per_l_atm(20.0), 2)
    1.72
    """
    mass, first, second, third = _solubility_terms()
    highest_pct_vol, by_ethanol, by_sugar = _drink_terms()
    hundred_k: Number = (temperature_c + _ZERO_K) * 0.01
    logarithm: Number = second / hundred_k + first + third * natural_logarithm(hundred_k)
    held_pct_vol: Any = choose(strength_pct_vol < highest_pct_vol, strength_pct_vol, highest_pct_vol)
    in_drink: Number = exponential(logarithm + sugars_g_per_l * by_sugar)
    found: Number = in_drink * (held_pct_vol * by_ethanol + 1.0) * mass
    return found


def co2_g_per_l_under(
    temperature_c: Number,
    co2_kpa: Number | float,
    strength_pct_vol: Number | float = 0.0,
    sugars_g_per_l: Number | float = 0.0,
) -> Number:
    """CO2 that a drink holds in balance with a partial pressure of CO2.

    Arguments:
        temperature_c: degC, float or array (n,)
        co2_kpa: kPa of CO2 alone, 0 or more, float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,)
        sugars_g_per_l: g/L of sugars, float or array (n,)
    Returns: g/L, float or array (n,)
    Valid: 0 to 30 degC, to 600 kPa, to 20 % vol; flagged outside
    Error: as ``co2_solubility_g_per_l_atm``
    Source: as ``co2_solubility_g_per_l_atm``; CO2 presses 0.56 % less than an ideal gas for each atm

    >>> round(co2_g_per_l_under(10.0, 101.325), 2)
    2.35
    """
    atmospheres = co2_kpa * (1.0 / KPA_PER_ATM)
    solubility: Number = co2_solubility_g_per_l_atm(temperature_c, strength_pct_vol, sugars_g_per_l)
    return solubility * (atmospheres * (atmospheres * _fugacity_slope() + 1.0))


def co2_g_per_l(
    temperature_c: Number,
    absolute_kpa: Number | float,
    strength_pct_vol: Number | float = 0.0,
    sugars_g_per_l: Number | float = 0.0,
) -> Number:
    """CO2 that a drink holds in balance with a pressure of CO2 and water vapour, no air.

    Arguments:
        temperature_c: degC, float or array (n,)
        absolute_kpa: kPa absolute (gauge pressure and 101.325), float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,)
        sugars_g_per_l: g/L of sugars, float or array (n,)
    Returns: g/L, float or array (n,); 0 below the vapour pressure of water
    Valid: 0 to 30 degC, to 600 kPa, to 20 % vol; flagged outside
    Error: as ``co2_solubility_g_per_l_atm``
    Source: as ``co2_g_per_l_under``

    >>> round(co2_g_per_l(4.0, 300.0, 12.0, 20.0), 1)
    7.5
    """
    co2_kpa: Any = absolute_kpa - water_vapour_kpa(temperature_c)
    found: Number = co2_g_per_l_under(
        temperature_c, choose(co2_kpa > 0.0, co2_kpa, co2_kpa * 0.0), strength_pct_vol, sugars_g_per_l
    )
    return found


def absolute_kpa_for(
    temperature_c: Number,
    co2_g_per_l: Number | float,
    strength_pct_vol: Number | float = 0.0,
    sugars_g_per_l: Number | float = 0.0,
) -> Number:
    """Pressure of CO2 and water vapour that keeps a level of CO2 in a drink: the inverse of ``co2_g_per_l``.

    Arguments:
        temperature_c: degC, float or array (n,)
        co2_g_per_l: g/L, 0 or more, float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,)
        sugars_g_per_l: g/L of sugars, float or array (n,)
    Returns: kPa absolute, float or array (n,); NaN for a level that no pressure gives here
    Valid: 0 to 30 degC, to 600 kPa, to 20 % vol; flagged outside
    Error: 3 % of the pressure in water and wine; 7 % against beer charts at 18 degC
    Source: as ``co2_g_per_l_under``, a quadratic solved in closed form

    >>> round(absolute_kpa_for(4.0, 7.0) / 100.0, 2)
    2.47
    """
    return bottle_kpa(temperature_c, co2_g_per_l, 1000.0, 0.0, strength_pct_vol, sugars_g_per_l)


def volumes_from_g_per_l(co2_g_per_l: Number) -> Number:
    """CO2 in volumes: litres of gas at 0 degC and 1 atm in each litre of drink.

    Arguments:
        co2_g_per_l: g/L, float or array (n,)
    Returns: volumes (1), float or array (n,)
    Valid: everywhere
    Error: none, a definition; some texts count 1.96 or, at 15.6 degC, 1.87 g in a volume
    Source: 44.01 g/mol over 22.26 L/mol, the real gas: 1.977 g in a volume

    >>> round(volumes_from_g_per_l(8.5), 1)
    4.3
    """
    return co2_g_per_l * (1.0 / value("co2", "volume_g_per_l"))


def g_per_l_from_volumes(volumes: Number) -> Number:
    """CO2 in g/L from volumes: the inverse of ``volumes_from_g_per_l``.

    Arguments:
        volumes: volumes of gas in a volume of drink (1), float or array (n,)
    Returns: g/L, float or array (n,)
    Valid: everywhere
    Error: none, a definition
    Source: as ``volumes_from_g_per_l``

    >>> round(g_per_l_from_volumes(4.0), 2)
    7.91
    """
    return volumes * value("co2", "volume_g_per_l")


def _gas_g_per_l_atm(temperature_c: Number) -> Number:
    """CO2 in a litre of head space for each atmosphere of it, g, as an ideal gas."""
    per_kelvin = value("molar_mass", "co2") * KPA_PER_ATM / value("ice_line", "gas_constant")
    return per_kelvin / (temperature_c + _ZERO_K)


def bottle_co2_g(
    temperature_c: Number,
    absolute_kpa: Number | float,
    liquid_ml: Number | float,
    head_ml: Number | float,
    strength_pct_vol: Number | float = 0.0,
    sugars_g_per_l: Number | float = 0.0,
    air_kpa: Number | float = 0.0,
) -> Number:
    """CO2 in a closed bottle at rest, dissolved and in its head space: what stays the same when it is warmed.

    Arguments:
        temperature_c: degC, float or array (n,)
        absolute_kpa: kPa absolute, float or array (n,)
        liquid_ml: mL of drink, float or array (n,)
        head_ml: mL of head space, float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,)
        sugars_g_per_l: g/L of sugars, float or array (n,)
        air_kpa: kPa of air in the head space, part of ``absolute_kpa``, float or array (n,)
    Returns: g, float or array (n,)
    Valid: as ``co2_g_per_l``
    Error: as ``co2_g_per_l``; the gas of the head space is taken as ideal (3 % at 500 kPa)
    Source: conservation of mass; ideal gas law

    >>> round(bottle_co2_g(4.0, 247.0, 750.0, 0.0), 1)
    5.3
    """
    co2_kpa: Any = absolute_kpa - water_vapour_kpa(temperature_c) - air_kpa
    co2_kpa = choose(co2_kpa > 0.0, co2_kpa, co2_kpa * 0.0)
    dissolved: Number = co2_g_per_l_under(temperature_c, co2_kpa, strength_pct_vol, sugars_g_per_l)
    in_head: Number = _gas_g_per_l_atm(temperature_c) * (co2_kpa * (1.0 / KPA_PER_ATM))
    return (dissolved * liquid_ml + in_head * head_ml) * 0.001


def bottle_kpa(
    temperature_c: Number,
    co2_g: Number | float,
    liquid_ml: Number | float,
    head_ml: Number | float,
    strength_pct_vol: Number | float = 0.0,
    sugars_g_per_l: Number | float = 0.0,
    air_kpa: Number | float = 0.0,
) -> Number:
    """Pressure in a closed bottle that came to rest at a temperature: the inverse of ``bottle_co2_g``.

    Ask for it at the warmest place where the bottle may stand, with the volumes that drink and head space have there, and
    keep below what the vessel is rated for.

    Arguments:
        temperature_c: degC, float or array (n,)
        co2_g: g of CO2 in the bottle, 0 or more, float or array (n,)
        liquid_ml: mL of drink, float or array (n,)
        head_ml: mL of head space, float or array (n,)
        strength_pct_vol: % vol of the drink, float or array (n,)
        sugars_g_per_l: g/L of sugars, float or array (n,)
        air_kpa: kPa of air in the head space at this temperature, float or array (n,)
    Returns: kPa absolute, float or array (n,); NaN without drink and head space, or for more CO2 than any pressure gives
    Valid: 0 to 30 degC, to 600 kPa, to 20 % vol; flagged outside; no fermentation goes on
    Error: 5 % to 600 kPa in water and wine, up to 15 % above 20 % vol
    Source: conservation of mass; Weiss 1974 and the ideal gas law, a quadratic solved in closed form

    >>> round(bottle_kpa(25.0, bottle_co2_g(4.0, 247.1, 750.0, 20.0), 750.0, 20.0))
    485
    """
    held: Number = co2_solubility_g_per_l_atm(temperature_c, strength_pct_vol, sugars_g_per_l) * liquid_ml
    linear: Number = held + _gas_g_per_l_atm(temperature_c) * head_ml
    wanted = co2_g * 1000.0
    squared: Any = linear * linear + held * wanted * (_fugacity_slope() * 4.0)
    root: Any = square_root(choose(squared >= 0.0, squared, squared * 0.0))
    divisor: Any = choose((squared >= 0.0) & (linear > 0.0), linear + root, _NO_VALUE)
    atmospheres = wanted * 2.0 / divisor
    found: Number = water_vapour_kpa(temperature_c) + (atmospheres * KPA_PER_ATM + air_kpa)
    return found


def co2_left(co2: Number, loss: Number | float) -> Number:
    """CO2 that stays after opening, pouring or topping.

    Arguments:
        co2: g or g/L before, float or array (n,)
        loss: part that leaves (1), 0 to 1, float or array (n,)
    Returns: g or g/L, float or array (n,)
    Valid: everywhere; the loss is the house's own figure, ``usual_loss`` only where it has none
    Error: that of the loss, a factor of two
    Source: conservation of mass

    >>> round(co2_left(5.5, 0.05), 2)
    5.22
    """
    return co2 * (1.0 - loss)


def losses() -> tuple[str, ...]:
    """The ways of losing CO2 that have a usual figure.

    Arguments: none
    Returns: names for ``usual_loss`` (text, no unit)
    Valid: everywhere
    Error: none, a list
    Source: as ``usual_loss``

    >>> losses()[0]
    'poured_lager'
    """
    return keys("co2_loss")


def usual_loss(way: str) -> tuple[float, float]:
    """Part of the CO2 that usually leaves, low and high.

    Arguments:
        way: one of ``losses`` (text, no unit)
    Returns: parts (1), low and high. ``KeyError`` if unknown
    Valid: cold drinks in clean glasses
    Error: a factor of two between one hand and the next
    Source: Liger-Belair (PMC8047704) for pouring; common practice, no source, for topping

    >>> usual_loss("topped")
    (0.2, 0.3)
    """
    return value("co2_loss", way, "low"), value("co2_loss", way, "high")
