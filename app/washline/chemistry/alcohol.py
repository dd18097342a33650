"""Ethanol of a serve in grams and in the units of a country, and US proof."""

from dataclasses import dataclass
from functools import cache

from washline.chemistry.arrays import Number
from washline.chemistry.coefficients import value
from washline.chemistry.ethanol_water import ethanol_density_kg_per_m3
from washline.problem import UserError


@dataclass(frozen=True, slots=True)
class StandardDrink:
    """What one country or body counts as one unit.

    ``stated_g`` is the figure that it publishes; where the unit is defined by volume (``ethanol_ml``), the grams
    follow from that volume and the stated ones are a rounding.
    """

    key: str
    place: str
    unit_word: str
    stated_g: float
    ethanol_ml: float | None = None

    @property
    def grams(self) -> float:
        """Grams of ethanol in one unit."""
        if self.ethanol_ml is None:
            return self.stated_g
        return self.ethanol_ml * ethanol_density_kg_per_m3() * 0.001


def _drink(key: str, place: str, row: str) -> StandardDrink:
    return StandardDrink(key, place, "standard drink", value("standard_drink", row))


@cache
def standard_drinks() -> tuple[StandardDrink, ...]:
    """What each country or body counts as one unit, in a fixed order; the key is the country code.

    Arguments: none
    Returns: units, each with its grams (g)
    Valid: the countries of the table
    Error: compilations differ: France and Italy are given as 10 or 12 g
    Source: WHO and national guidance as compiled in public tables; UK unit 10 mL of ethanol

    >>> [drink.stated_g for drink in standard_drinks()[:3]]
    [8.0, 14.0, 10.0]
    """
    return (
        StandardDrink("uk", "United Kingdom", "unit", value("standard_drink", "UK unit"), ethanol_ml=10.0),
        _drink("us", "United States", "USA"),
        _drink("au", "Australia", "Australia"),
        _drink("ie", "Ireland", "Ireland"),
        _drink("nz", "New Zealand", "New Zealand"),
        _drink("ca", "Canada", "Canada"),
        _drink("who", "WHO (AUDIT questionnaire)", "WHO AUDIT"),
        _drink("nl", "Netherlands", "Netherlands"),
        _drink("es", "Spain", "Spain"),
        _drink("dk", "Denmark", "Denmark"),
        _drink("fi", "Finland", "Finland"),
        _drink("it", "Italy", "Italy"),
        _drink("pt", "Portugal", "Portugal"),
        _drink("ar", "Argentina", "Argentina"),
        _drink("at", "Austria", "Austria"),
        _drink("jp", "Japan", "Japan"),
    )


def standard_drink(country_key: str) -> StandardDrink:
    """The unit of a country.

    Arguments:
        country_key: key of ``standard_drinks`` such as ``uk`` (text, no unit)
    Returns: the unit with its grams (g). ``UserError`` for a country that is not listed
    Valid: the countries of the table
    Error: national guidance changes; compilations differ for some countries
    Source: WHO and national guidance as compiled in public tables; UK unit 10 mL of ethanol

    >>> round(standard_drink("uk").grams, 2)
    7.89
    """
    for drink in standard_drinks():
        if drink.key == country_key:
            return drink
    listed = ", ".join(drink.key for drink in standard_drinks())
    raise UserError(
        f"There is no unit of alcohol for the country '{country_key}'.", remedy=f"Choose one of: {listed}."
    )


def ethanol_g(volume_ml: Number, strength_pct_vol: Number | float) -> Number:
    """Grams of ethanol in a volume (at 20 degC) of a given strength.

    Arguments:
        volume_ml: mL at 20 degC, float or array (n,)
        strength_pct_vol: % vol at 20 degC, float or array (n,)
    Returns: g, float or array (n,)
    Valid: 0 to 100 % vol
    Error: none, a definition
    Source: OIML R 22 (1975): density of ethanol 789.24 kg/m3 at 20 degC

    >>> round(ethanol_g(50.0, 40.0), 2)
    15.78
    """
    return volume_ml * strength_pct_vol * (ethanol_density_kg_per_m3() * 1e-5)


def units(ethanol_g: Number, country_key: str) -> Number:
    """Units of alcohol as a country counts them; show them only with the grams of one unit.

    Arguments:
        ethanol_g: g, float or array (n,)
        country_key: key of ``standard_drinks`` such as ``us`` (text, no unit)
    Returns: units (1), float or array (n,). ``UserError`` for a country that is not listed
    Valid: the countries of the table
    Error: as ``standard_drink``
    Source: WHO and national guidance as compiled in public tables; UK unit 10 mL of ethanol

    >>> round(units(ethanol_g(25.0, 40.0), "uk"), 3)
    1.0
    """
    return ethanol_g * (1.0 / standard_drink(country_key).grams)


def us_proof(strength_pct_vol: Number) -> Number:
    """Degrees of US proof as a label states them: twice the percent by volume.

    Arguments:
        strength_pct_vol: % vol, float or array (n,)
    Returns: proof (1), float or array (n,)
    Valid: 0 to 100 % vol
    Error: the proof of gauging is at 60 degF; that of a strength at 20 degC lies within 0.2 of it (``gauging``)
    Source: 27 CFR 5.1: "twice the percent of ethyl alcohol by volume" (from memory)

    >>> us_proof(40.0)
    80.0
    """
    return strength_pct_vol * 2.0
