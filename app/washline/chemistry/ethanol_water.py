"""Ethanol and water: density by mass and temperature, strength by volume, and the way back."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Number, bisect_rising, by_column, horner
from washline.chemistry.coefficients import series, value

# How far a typed density may lie beyond water or pure ethanol and still be taken as that end.
_DENSITY_SLACK_KG_PER_M3 = 0.05


@cache
def _mass_terms() -> tuple[float, ...]:
    return series("oiml_A", "A")


@cache
def _temperature_terms() -> tuple[tuple[float, ...], ...]:
    """For each power of (t - 20), from the first to the sixth, the polynomial in the mass fraction that it carries."""
    pure = series("oiml_B", "B")
    cross = [series("oiml_C", f"C{power}") for power in range(1, 6)]
    return tuple((pure[power], *(cross[power] if power < 5 else (0.0,))) for power in range(6))


@cache
def ethanol_density_kg_per_m3() -> float:
    """Density of pure ethanol at 20 degC: the constant in the definition of strength by volume.

    Arguments: none
    Returns: kg/m3, float
    Valid: 20 degC
    Error: none, a definition
    Source: OIML R 22 (1975), International alcoholometric tables

    >>> ethanol_density_kg_per_m3()
    789.24
    """
    return value("constant", "rho_ethanol_20")


def density_kg_per_m3(mass_fraction: Number, temperature_c: Number | float) -> Number:
    """Density of an ethanol-water mixture, with its contraction.

    Arguments:
        mass_fraction: g ethanol per g of mixture, 0 to 1, float or array (n,)
        temperature_c: degC, float or array (n,)
    Returns: kg/m3, float or array (n,)
    Valid: -20 to 40 degC, liquid only; beyond 40 degC the value is an extrapolation and is flagged
    Error: none against OIML R 22 (its own formula); 0.4 kg/m3 at most against Melinder, 0-30 degC
    Source: OIML R 22 (1975), general formula with 54 coefficients (Wagenbreth and Blanke), IPTS-68

    >>> round(density_kg_per_m3(0.73, 15.5), 4)
    864.2486
    """
    density = horner(_mass_terms(), mass_fraction)
    if not isinstance(temperature_c, np.ndarray) and temperature_c == 20.0:
        return density
    warmer_k = temperature_c - 20.0
    terms = _temperature_terms()
    effect = horner(terms[5], mass_fraction)
    for term in terms[4::-1]:
        effect = effect * warmer_k + horner(term, mass_fraction)
    return density + effect * warmer_k


def strength_pct_vol_from_mass_fraction(mass_fraction: Number) -> Number:
    """Strength by volume at 20 degC of an ethanol-water mixture.

    Arguments:
        mass_fraction: g ethanol per g of mixture, 0 to 1, float or array (n,)
    Returns: % vol at 20 degC, float or array (n,)
    Valid: 0 to 1
    Error: 0.011 % vol at most against the OIML and CRC tables
    Source: OIML R 22 (1975), definition: 100 p rho(p, 20) / 789.24

    >>> round(strength_pct_vol_from_mass_fraction(0.4243), 2)
    50.0
    """
    density = density_kg_per_m3(mass_fraction, 20.0)
    return mass_fraction * density * (100.0 / ethanol_density_kg_per_m3())


def mass_fraction_from_strength(strength_pct_vol: Number) -> Number:
    """Mass fraction of ethanol in an ethanol-water mixture of a given strength.

    Arguments:
        strength_pct_vol: % vol at 20 degC, 0 to 100, float or array (n,)
    Returns: g ethanol per g of mixture, float or array (n,); NaN outside 0 to 100 % vol
    Valid: 0 to 100 % vol
    Error: 0.01 % by mass against OIML R 22 table IVb
    Source: OIML R 22 (1975), the formula above inverted by bisection with a fixed count

    >>> round(100 * mass_fraction_from_strength(40.0), 2)
    33.3
    """
    if isinstance(strength_pct_vol, np.ndarray):
        return by_column(_mass_fraction_from_strength, strength_pct_vol)
    return _mass_fraction_from_strength(strength_pct_vol)


def _mass_fraction_from_strength(strength_pct_vol: Number) -> Number:
    # The formula gives pure ethanol 99.99989 and not quite 100 % vol.
    return bisect_rising(strength_pct_vol_from_mass_fraction, strength_pct_vol, 0.0, 1.0, slack=2e-4)


def mass_fraction_from_density(density_kg_per_m3: Number, temperature_c: Number | float) -> Number:
    """Mass fraction of ethanol in an ethanol-water mixture of a measured density; nothing else may be dissolved.

    Arguments:
        density_kg_per_m3: kg/m3, float or array (n,)
        temperature_c: degC at which it was measured, float or array (n,)
    Returns: g ethanol per g of mixture, float or array (n,); NaN for a density of no such mixture
    Valid: -20 to 40 degC
    Error: 0.001 kg/m3 of reading gives about 1e-6; 0.1 kg/m3 about 5e-5
    Source: OIML R 22 (1975), general formula inverted by bisection with a fixed count

    >>> round(mass_fraction_from_density(901.42, 15.5), 4)
    0.571
    """
    if isinstance(density_kg_per_m3, np.ndarray):
        return by_column(_mass_fraction_from_density, density_kg_per_m3, temperature_c)
    return _mass_fraction_from_density(density_kg_per_m3, temperature_c)


def _mass_fraction_from_density(density: Number, temperature_c: Number | float) -> Number:
    return bisect_rising(
        lambda fraction: -density_kg_per_m3(fraction, temperature_c),
        -density,
        0.0,
        1.0,
        slack=_DENSITY_SLACK_KG_PER_M3,
    )
