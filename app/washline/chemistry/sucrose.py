"""Sucrose and water: density, degrees Brix and refractive index."""

from functools import cache

import numpy as np

from washline.chemistry import water
from washline.chemistry.arrays import Number, bisect_rising, by_column, horner
from washline.chemistry.coefficients import series

HIGHEST_MASS_FRACTION = 0.85
_DENSITY_SLACK_KG_PER_M3 = 0.05
_INDEX_SLACK = 1.4e-4
# From the straight line through water the error at 85 % falls as 0.1, 4e-3, 5e-6, 1e-11, 0; one pass more is safe.
_INDEX_PASSES = 6


@cache
def _density_terms() -> tuple[tuple[float, ...], ...]:
    """For each power of (t - 20) / 100 the polynomial in the mass fraction; it has no constant term."""
    return tuple((0.0, *series("sucrose_density", f"T{power}")) for power in range(5))


@cache
def _index_terms() -> tuple[float, ...]:
    return series("sucrose_refractive_index", "n")


def density_kg_per_m3(mass_fraction: Number, temperature_c: Number | float) -> Number:
    """Density of a sucrose-water solution.

    Arguments:
        mass_fraction: g sucrose per g of solution, 0 to 0.85, float or array (n,)
        temperature_c: degC, float or array (n,)
    Returns: kg/m3, float or array (n,)
    Valid: 0 to 0.85, 0 to 80 degC
    Error: 0.09 kg/m3 (rms), 0.3 at most to 70 % against CRC; Plato and CRC lie 0.8 lower at 84 %
    Source: ICUMSA SPS-4; Bubnik, Kadlec, Urban and Bruhns 1995, Sugar Technologists Manual

    >>> round(density_kg_per_m3(0.5, 20.0), 2)
    1229.65
    """
    warmer = (temperature_c - 20.0) * 0.01
    terms = _density_terms()
    effect = horner(terms[4], mass_fraction)
    for term in terms[3::-1]:
        effect = effect * warmer + horner(term, mass_fraction)
    # The coefficient tables put the water on Kell's formula; a number times 0 keeps the shape of the mass fraction.
    return effect + water.density_kg_per_m3(temperature_c + mass_fraction * 0.0)


def sugar_g_per_l(mass_fraction: Number, temperature_c: Number | float = 20.0) -> Number:
    """Sucrose in a litre of solution.

    Arguments:
        mass_fraction: g sucrose per g of solution, 0 to 0.85, float or array (n,)
        temperature_c: degC, float or array (n,)
    Returns: g/L, float or array (n,)
    Valid: 0 to 0.85, 0 to 80 degC
    Error: 0.05 % against the g/L column of the CRC Handbook
    Source: ICUMSA SPS-4; Bubnik et al. 1995: mass fraction times density

    >>> round(sugar_g_per_l(0.5) / 10, 2)
    61.48
    """
    return mass_fraction * density_kg_per_m3(mass_fraction, temperature_c)


def brix_from_density(density_kg_per_m3: Number, temperature_c: Number | float = 20.0) -> Number:
    """Degrees Brix (% sucrose by mass) of a sucrose-water solution of a measured density.

    Arguments:
        density_kg_per_m3: kg/m3, float or array (n,)
        temperature_c: degC at which it was measured, float or array (n,)
    Returns: % by mass, float or array (n,); NaN for a density below water or above 85 %
    Valid: 0 to 85 %, 0 to 80 degC; with ethanol or acids present it is no sugar content
    Error: 0.017 % (rms), 0.04 % at most against CRC
    Source: ICUMSA SPS-4; Bubnik et al. 1995, inverted by bisection with a fixed count

    >>> round(brix_from_density(1176.52), 2)
    40.0
    """
    if isinstance(density_kg_per_m3, np.ndarray):
        return by_column(_brix_from_density, density_kg_per_m3, temperature_c)
    return _brix_from_density(density_kg_per_m3, temperature_c)


def _brix_from_density(density: Number, temperature_c: Number | float) -> Number:
    fraction = bisect_rising(
        lambda trial: density_kg_per_m3(trial, temperature_c),
        density,
        0.0,
        HIGHEST_MASS_FRACTION,
        slack=_DENSITY_SLACK_KG_PER_M3,
    )
    return fraction * 100.0


def refractive_index(mass_fraction: Number) -> Number:
    """Refractive index of a sucrose-water solution at 20 degC and 589 nm (sodium D), relative to air.

    Arguments:
        mass_fraction: g sucrose per g of solution, 0 to 0.85, float or array (n,)
    Returns: refractive index (1), float or array (n,)
    Valid: 0 to 0.85 at 20 degC
    Error: 2e-5 against OIV-MA-AS2-02 table II, which is 0.014 degBx
    Source: fit to the ICUMSA 20 degC, 589 nm values (OIV-MA-AS2-02)

    >>> round(refractive_index(0.3), 5)
    1.38115
    """
    return horner(_index_terms(), mass_fraction)


def mass_fraction_from_refractive_index(index: Number) -> Number:
    """Mass fraction of sucrose that a refractometer reads off a refractive index at 20 degC.

    Arguments:
        index: refractive index at 20 degC, 589 nm (1), float or array (n,)
    Returns: g sucrose per g of solution, float or array (n,); NaN below water or above 85 %
    Valid: 0 to 0.85 at 20 degC
    Error: 0.00014, or 0.014 degBx, against OIV-MA-AS2-02 table II
    Source: fit to the ICUMSA 20 degC, 589 nm values, inverted by Newton's method with a fixed count

    >>> round(mass_fraction_from_refractive_index(1.37233), 4)
    0.25
    """
    if isinstance(index, np.ndarray):
        return by_column(_mass_fraction_from_index, index)
    return _mass_fraction_from_index(index)


def _mass_fraction_from_index(index: Number) -> Number:
    terms = _index_terms()
    slopes = tuple(power * term for power, term in enumerate(terms))[1:]
    fraction = (index - terms[0]) * (1.0 / 0.18)
    for _ in range(_INDEX_PASSES):
        fraction = fraction - (horner(terms, fraction) - index) / horner(slopes, fraction)
    if isinstance(fraction, np.ndarray):
        inside = (fraction >= -_INDEX_SLACK) & (fraction <= HIGHEST_MASS_FRACTION + _INDEX_SLACK)
        return np.where(inside, np.clip(fraction, 0.0, HIGHEST_MASS_FRACTION), np.nan)
    if not -_INDEX_SLACK <= fraction <= HIGHEST_MASS_FRACTION + _INDEX_SLACK:
        return float("nan")
    return min(max(fraction, 0.0), HIGHEST_MASS_FRACTION)
