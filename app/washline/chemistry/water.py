"""Density of water."""

from functools import cache

from washline.chemistry.arrays import Number, horner
from washline.chemistry.coefficients import series, value


@cache
def _numerator() -> tuple[float, ...]:
    return series("water_kell", "num")


@cache
def _denominator() -> tuple[float, float]:
    return (1.0, value("water_kell", "den", "1"))


def density_kg_per_m3(temperature_c: Number) -> Number:
    """Density of air-free water at 1 atm.

    Arguments:
        temperature_c: degC, float or array (n,)
    Returns: kg/m3, float or array (n,)
    Valid: 0 to 100 degC
    Error: 0.006 kg/m3 at most against IAPWS-95
    Source: Kell 1975, J. Chem. Eng. Data 20, 97-105, equation 16

    >>> round(density_kg_per_m3(25.0), 2)
    997.04
    """
    return horner(_numerator(), temperature_c) / horner(_denominator(), temperature_c)
