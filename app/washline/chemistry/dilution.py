"""Water that ice gives to a stirred or a shaken drink: the published regressions of bench data."""

from functools import cache

from washline.chemistry.arrays import Number, horner
from washline.chemistry.coefficients import series


@cache
def _terms(method: str) -> tuple[float, ...]:
    return series("dilution", method)


def stirred_water_ml_per_ml(strength_fraction: Number) -> Number:
    """Water taken up by a drink stirred on ice, per volume before ice, the water that clings to bar ice included.

    Arguments:
        strength_fraction: strength before ice as a fraction, % vol / 100 (1), float or array (n,)
    Returns: mL water per mL of drink before ice, float or array (n,)
    Valid: 0.10 to 0.35, ordinary wet ice, drink near room temperature; flagged outside
    Error: 0.05 mL per mL is the honest spread of ice, time and hand
    Source: D. Arnold 2014, Liquid Intelligence (from memory): -1.21 A2 + 1.246 A + 0.145

    >>> round(stirred_water_ml_per_ml(0.25), 3)
    0.381
    """
    return horner(_terms("stirred"), strength_fraction)


def shaken_water_ml_per_ml(strength_fraction: Number) -> Number:
    """Water taken up by a drink shaken on ice, per volume before ice, the water that clings to bar ice included.

    Arguments:
        strength_fraction: strength before ice as a fraction, % vol / 100 (1), float or array (n,)
    Returns: mL water per mL of drink before ice, float or array (n,)
    Valid: 0.10 to 0.35, ordinary wet ice, drink near room temperature; flagged outside
    Error: 0.05 mL per mL is the honest spread of ice, time and hand
    Source: D. Arnold 2014, Liquid Intelligence (from memory): -1.567 A2 + 1.742 A + 0.203

    >>> round(shaken_water_ml_per_ml(0.20), 3)
    0.489
    """
    return horner(_terms("shaken"), strength_fraction)


def strength_after_dilution(strength_pct_vol: Number, water_ml_per_ml: Number) -> Number:
    """Strength of a drink after it took up water, by volumes as the regressions' source counts.

    Arguments:
        strength_pct_vol: % vol before ice, float or array (n,)
        water_ml_per_ml: mL water per mL of drink before ice, float or array (n,)
    Returns: % vol, float or array (n,)
    Valid: any strength; a quick figure, for a build use the masses (``mixture.strength_pct_vol``)
    Error: 0.03 % vol for ethanol and water to 40 % vol, since the contraction of the mix is left out
    Source: D. Arnold 2014, Liquid Intelligence (from memory): table of classic drinks

    >>> round(strength_after_dilution(22.9, shaken_water_ml_per_ml(0.229)), 1)
    15.1
    """
    return strength_pct_vol / (water_ml_per_ml + 1.0)
