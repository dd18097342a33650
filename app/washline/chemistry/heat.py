"""Heat capacity of a liquid, its enthalpy, and the temperature that an enthalpy means."""

from functools import cache

import numpy as np

from washline.chemistry.arrays import Floats, Number, by_column, horner, ratio, share, weighted_totals
from washline.chemistry.coefficients import value
from washline.chemistry.components import (
    CO2,
    COMPONENT_COUNT,
    ETHANOL,
    FAT,
    NACL,
    OTHER_SOLIDS,
    WATER,
    indicator,
)

HIGHEST_ETHANOL_FRACTION = 0.6


@cache
def _solvent_terms() -> tuple[tuple[float, ...], tuple[float, ...]]:
    """J/gK at 0 degC and its rise per K, each a polynomial in the mass fraction of ethanol in ethanol and water."""
    constant = [value("cp_ethanol_water", key, str(i)) for i, key in enumerate(("1", "w", "w2", "w3", "w4"))]
    rise = [value("cp_ethanol_water", key, str(i + 5)) for i, key in enumerate(("t", "wt", "w2t", "w3t"))]
    return tuple(constant), tuple(rise)


@cache
def _weights() -> Floats:
    """Rows: solvent and ethanol in g; J/K at 0 degC and its rise per K of everything else; g without CO2.

    Fat and salts (minerals among them) have their own constants, all other solids that of sugars. CO2 carries no heat.
    """
    solvent = indicator((WATER, ETHANOL))
    everything = np.ones(COMPONENT_COUNT) - indicator((CO2,))
    organic = everything - solvent - indicator((FAT, NACL, OTHER_SOLIDS))
    constant = organic * value("cp_solute", "organic", "0") + indicator((FAT,)) * value(
        "cp_solute", "fat", "0"
    )
    constant = constant + indicator((NACL, OTHER_SOLIDS)) * value("cp_solute", "salt", "0")
    rise = organic * value("cp_solute", "organic", "1")
    return np.stack([solvent, indicator((ETHANOL,)), constant, rise, everything])


def _solvent_constant(mass_fraction: Number) -> Number:
    return horner(_solvent_terms()[0], mass_fraction)


def _solvent_rise(mass_fraction: Number) -> Number:
    return horner(_solvent_terms()[1], mass_fraction)


def _capacity_j_per_k(masses_g: Floats) -> tuple[Floats, Floats, Floats]:
    """J/K at 0 degC, its rise per K, and the mass that it belongs to, each an array (n,)."""
    solvent_g, ethanol_g, constant, rise, total_g = weighted_totals(_weights(), masses_g)
    fraction = np.minimum(share(ethanol_g, solvent_g), HIGHEST_ETHANOL_FRACTION)
    constant = solvent_g * by_column(_solvent_constant, fraction) + constant
    rise = solvent_g * by_column(_solvent_rise, fraction) + rise
    return constant, rise, total_g


def heat_capacity_j_per_g_k(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Specific heat capacity of a liquid.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J/gK, array (n,); NaN for nothing
    Valid: ethanol to 60 % of ethanol and water by mass (held there beyond), -10 to 30 degC; flagged outside
    Error: 0.04 J/gK at most against Perry and the sugar industry's formula; about 2 % too low for hot water
    Source: fit to the Melinder property set; 4.184 - 2.511 w + 0.0075 w t for syrups (Lyle; Llano 2005)

    >>> masses = np.zeros((24, 1)); masses[[0, 1], 0] = [80.0, 20.0]
    >>> round(heat_capacity_j_per_g_k(masses, 0.0).item(), 2)
    4.35
    """
    constant, rise, total_g = _capacity_j_per_k(masses_g)
    return ratio(constant + rise * temperature_c, total_g)


def enthalpy_j(masses_g: Floats, temperature_c: Floats | float) -> Floats:
    """Heat content of a liquid above 0 degC: m cp(T/2) T; the heat of mixing ethanol and water is not in it.

    Arguments:
        masses_g: g of each component, array (24, n)
        temperature_c: degC, float or array (n,)
    Returns: J, array (n,); negative below 0 degC
    Valid: as ``heat_capacity_j_per_g_k``
    Error: 1 % of the value to 30 degC; about 2 % for hot water
    Source: integral of the linear heat capacity from 0 degC

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(enthalpy_j(masses, 20.0).item() / 2000.0, 2)
    4.19
    """
    constant, rise, _ = _capacity_j_per_k(masses_g)
    return (constant + rise * 0.5 * temperature_c) * temperature_c


def temperature_from_enthalpy(masses_g: Floats, enthalpy_j: Floats) -> Floats:
    """Temperature of a liquid of a given heat content: the inverse of ``enthalpy_j`` in closed form.

    Arguments:
        masses_g: g of each component, array (24, n)
        enthalpy_j: J above 0 degC, array (n,)
    Returns: degC, array (n,); NaN for nothing, or for a heat that no temperature holds
    Valid: as ``heat_capacity_j_per_g_k``
    Error: none against ``enthalpy_j``
    Source: root of the quadratic (rise/2) T2 + constant T - H = 0 that is 0 at H = 0

    >>> masses = np.zeros((24, 1)); masses[0, 0] = 100.0
    >>> round(temperature_from_enthalpy(masses, np.array([8381.4])).item(), 2)
    20.0
    """
    constant, rise, _ = _capacity_j_per_k(masses_g)
    squared = constant * constant + rise * enthalpy_j * 2.0
    root = np.sqrt(np.maximum(squared, 0.0))
    temperature_c = ratio(enthalpy_j * 2.0, constant + root)
    return np.where(squared >= 0.0, temperature_c, np.nan)
